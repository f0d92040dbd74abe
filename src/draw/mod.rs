//! A plan turned into things to look at: the sheet of each cloth, the drawing of each part and the cut list.

mod block;
mod blocks;
mod cloth_layer;
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
mod mark_out_table;
mod measures;
mod part_key;
mod part_lines;
mod part_marks;
mod part_sheet;
mod part_style;
mod patterns;
mod piece_layer;
mod piece_marks;
mod ruler;
mod scale_bar;
mod sheet;
mod title_block;

pub use cut_list::{NOT_PLACED, cut_list};
pub use file_name::{part_sheet_names, sheet_names};
pub use mark_out_table::mark_out_table;
pub use measures::LaySheet;
pub use part_sheet::part_sheet;
pub use sheet::lay_sheet;
