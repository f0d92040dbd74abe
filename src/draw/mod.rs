//! A plan turned into things to look at: the sheet of each cloth, the drawing of each part, the cut list, full-size
//! templates, the mark-out of large pieces, and the report that has all of it on one page.

mod block;
mod blocks;
mod cloth_layer;
mod compare_sheet;
mod crosses;
mod cut_list;
mod file_name;
mod flaw_marks;
mod frame;
mod geometry;
mod ink;
mod key;
mod label;
mod legend;
mod lettering;
mod map;
mod map_table;
mod mark_out;
mod mark_out_table;
mod measures;
mod paper;
mod part_key;
mod part_lines;
mod part_marks;
mod part_sheet;
mod part_style;
mod patterns;
mod pdf;
mod piece_layer;
mod piece_marks;
mod report;
mod ruler;
mod scale_bar;
mod sheet;
mod take_off_table;
mod tape_sheet;
mod templates;
mod title_block;
mod trace_sheet;

pub use compare_sheet::{CompareSheet, compare_sheet};
pub use cut_list::{NOT_PLACED, cut_list};
pub use file_name::{
    map_sheet_names, mark_out_names, part_sheet_names, sheet_names, tape_sheet_names, template_file_names,
};
pub use map::map_sheets;
pub use map_table::map_table;
pub use mark_out::{MarkOutSheets, mark_out_pdf};
pub use mark_out_table::mark_out_table;
pub use measures::LaySheet;
pub use paper::{DEFAULT_MARGIN, DEFAULT_OVERLAP, Margins, Orientation, Paper, PaperFault, PrintSheet, length_of};
pub use part_sheet::part_sheet;
pub use report::{KnownComparison, Report, report_html};
pub use sheet::lay_sheet;
pub use take_off_table::take_off_table;
pub use tape_sheet::tape_sheet;
pub use templates::{Book, Printed, book, large_pieces, template_dxf, template_svg};
pub use trace_sheet::{is_trace_sheet, trace_sheet};
