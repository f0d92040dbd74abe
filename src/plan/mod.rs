//! The whole job worked out: pieces to cut, the lay, what to buy, and the file that records it.

mod account;
mod compare;
mod cutting_order;
mod lay_file;
mod lay_json;
pub mod ledger;
mod lies_over;
pub mod limits;
mod map_flags;
mod map_rows;
mod mark_out;
mod outputs;
mod own_files;
mod pieces;
mod record;
mod rest_lay;
mod take_off;
mod tapes;
mod task;
mod templates;
mod words;
mod work;

pub use account::{ClothAccount, Purchase, Totals, account, purchase, totals};
pub use compare::{
    Compared, ComparedTape, Comparison, LayerChoice, Range, Run, SeamSums, TapeSource, UnknownFace, Verdict, Way,
    WhatIfFault, Winners, compare, layer_choices, of_width, on_one_cloth, what_if, winners,
};
pub use cutting_order::cutting_order;
pub use lay_file::{LaidCloth, LaidPiece, LayFile, LayReadFault, RestOf, UnplacedPiece};
pub use lay_json::lay_json;
pub use lies_over::lies_over;
pub use map_flags::{MapFlag, map_flags};
pub use map_rows::{MapKind, MapRow, cut_after_shrinking, laces_apart, map_rows, part_rows};
pub use mark_out::{
    Crossing, Diagonal, MarkOut, MarkOutWish, MarkPoint, MarkRun, MarkedCloth, MarkedPiece, Offset, Rounding, Window,
    mark_out, marked_cloth,
};
pub use outputs::{OutputFault, Outputs, Replace, not_writing, writing};
pub use pieces::{PieceRow, piece_table, pieces_to_cut, pieces_with};
pub use record::{COORDINATE_STEP, record};
pub use rest_lay::{Change, Kept, RestLay, RestWish, is_worth_it, kept_lay, kept_of, lay_rest, to_buy};
pub use take_off::{Laid, TakeOffLine, TakeOffSection, TakeOffUnit, take_off};
pub use tapes::{
    ClothTape, TapeAccount, TapePiece, TapePlan, TapeRoll, UnplacedTape, cut_tapes, is_tape_strip, tape_pieces,
};
pub use task::task;
pub use templates::{
    Bearing, KeptMark, LineKind, Template, TemplateChoice, TemplateFault, TemplateLine, Use, each_template, kept_marks,
    templates,
};
pub use words::{
    PLANNING_AID, area, area_unit, edge_words, grain_words, mass, metres_and_yards, moment, percent, size, tape_measure,
};
pub use work::{PlanFault, WorkedLay, lay};
