//! What the person wrote: the model, reading it, and what is wrong with it.
//!
//! A job file is JSON. [`read`] answers a [`Job`] in which everything is sound and in millimetres, or every fault of the
//! file at once, each with its line under carets. [`schema`] is for editors, and describes every key.
//!
//! What a job need not say, and what is taken then:
//!
//! | key | taken | why |
//! |---|---|---|
//! | `gap` | 0 | cut lines may touch; one cut parts two pieces |
//! | cloth `length` | as much as is needed | rolls; an offcut with an `outline` is as long as that |
//! | cloth `selvage` | 0 | pieces may reach the very edge; trim it where it is thick and would show |
//! | piece `grain` | `either` | warp or fill parallel to the line of flight, AC 43.13-1B paragraph 2-8 |
//! | piece `flip` | true | matters only on cloth with `faces_alike` |
//! | `pinked` `pitch` | 5 mm | from memory: shears have 3/16 to 1/4 in |
//! | part `grain` | `either` | as for a piece |
//! | part `mirrored` | false | a part is built once |
//! | part `measured_to` | `tube outside` | what a tape over the frame measures |
//! | part `cover`, `roll` | `top and bottom`, `better` | blankets, the roll running as has fewer seams and takes less of it |
//! | part `sides`, `wrap` | `both`, `shared` | each side has half of the lap round the tube |
//! | rules `attachment` | `lacing` | the usual way to hold cloth to ribs, AC 43.13-1B paragraph 2-10 |
//! | tape `pinked`, `weave` | true, `straight` | what most finishing tape is |
//! | `tape_cutting` | joints along the span, 2 in over each other | see [`TapeCutting`] |
//! | repair `members`, `spans_two_ribs` | none, false | the person says what lies near |
//! | `pinked` `depth` | half the pitch | makes the edge about 41 % longer, FAA-H-8083-31 chapter 3 |
//!
//! A piece that may lie on the bias or at any angle is taken with a caution, since off-grain cutting needs the maker's
//! plans or approval, bias tape round curves apart.

mod airframe;
mod attachment;
mod fault;
mod fits;
mod given_panel;
mod keys;
mod keys_airframe;
mod keys_panel;
mod keys_parked;
mod keys_places;
mod keys_repair;
mod keys_ribbed;
mod keys_spares;
mod keys_tape;
mod keys_truss;
mod kinds;
mod kinds_airframe;
mod kinds_panel;
mod kinds_parked;
mod kinds_places;
mod kinds_repair;
mod kinds_ribbed;
mod kinds_tape;
mod kinds_truss;
pub mod limits;
mod model;
mod nearest;
mod outline_fault;
mod parked;
mod places;
mod read;
mod read_airframe;
mod read_cloth;
mod read_drawing;
mod read_flat;
mod read_job;
mod read_outline;
mod read_panel;
mod read_parked;
mod read_piece;
mod read_places;
mod read_recess;
mod read_repair;
mod read_ribbed;
mod read_rules;
mod read_spares;
mod read_tape;
mod read_truss;
mod reader;
mod repair;
mod ribbed;
mod rule_figure;
mod schema;
mod source;
mod spares;
mod syntax;
mod tape;
mod truss;
mod words;
mod words_places;
mod words_tape;

pub use airframe::{
    ClothClass, FlatPart, MeasuredTo, Member, MemberClass, Method, OwnFigure, Part, PartKind, PatchSizeWish, Rules,
    Sides, Spot, Surface, Wrap,
};
pub use attachment::Attachment;
pub use fault::{Also, Caution, Fault, Faults};
pub use fits::{Miss, least_miss};
pub use given_panel::{GivenPanel, PanelEdge, Round};
pub use model::{Cloth, Edge, Flaw, Grain, GrainDirection, Job, Piece, Pinking, Units};
pub(crate) use nearest::{did_you_mean, nearest};
pub use parked::{Direction, Parked};
pub use places::{
    Control, ControlKind, DrainStyle, Fitting, FittingKind, FittingSize, Grommet, Hand, InspectionOpening, JobPlace,
    OneHand, PlaceAt, Places, RingKind,
};
pub(crate) use read::read_up_to;
pub use read::{JobText, ReadError, Reading, read, read_file, read_reaching, read_text};
pub use read_drawing::{Reach, read_drawing_file};
pub use repair::{NearMember, Opening, Repair, RepairKind, RepairPlace, Side};
pub use ribbed::{Recess, RibbedCover, RibbedPart, Roll};
pub use rule_figure::{Location, RuleFigure};
pub use schema::schema;
pub use spares::{Goods, Prices, Rates, Spares, Work};
pub use tape::{TapeCutting, TapeFromCloth, TapeJoins, TapeStock, TapeWeave};
pub use truss::{Face, Node, SAME_NODE, Truss, Tube};
pub use words::Words;
