//! How much a job may hold, said in one place: enough for any aircraft, and small enough that a slip of the keyboard
//! is found at the door and not after an hour of work.

/// Largest job file, in bytes.
pub const FILE_BYTES: u64 = 16 * 1024 * 1024;

/// Deepest nesting of lists and objects; a sound job needs 8.
pub const NESTING: usize = 32;

/// Most entries in the list of cloths.
pub const CLOTHS: usize = 1_000;

/// Most spares, in per cent of what is worked out.
pub const SPARES: f64 = 100.0;

/// Widest gap between cut lines, in millimetres.
pub const GAP: f64 = 1_000.0;

/// Highest price of one, a metre or a litre of goods.
pub const PRICE: f64 = 1e9;

/// Most hours for one piece or one metre.
pub const HOURS: f64 = 1_000.0;

/// Most entries in the list of pieces.
pub const PIECES: usize = 10_000;

/// Most parts of an airframe.
pub const PARTS: usize = 1_000;

/// Most sizes that patches are cut in.
pub const PATCH_SIZES: usize = 1_000;

/// Most members of one part.
pub const MEMBERS: usize = 10_000;

/// Most chords of one planform.
pub const CHORDS: usize = 100;

/// Most ribs of one part, and most spars.
pub const RIBS: usize = 1_000;

/// Recesses in a trailing edge.
pub const RECESSES: usize = 20;

/// Most fittings of one part, most openings and most controls.
pub const PLACES: usize = 10_000;

/// Most layers that one outline is picked from.
pub const DRAWING_LAYERS: usize = 100;

/// Most layers of a patch.
pub const LAYERS: u32 = 2;

/// Most nodes of one truss.
pub const NODES: usize = 1_000;

/// Most faces of one truss, and the highest number in their order.
pub const FACES: u32 = 200;

/// Most nodes round one face.
pub const RING: usize = 200;

/// Most figures that a job may give in place of the rules'.
pub const OWN_FIGURES: usize = 1_000;

/// Most kinds of rolls of tape.
pub const TAPES: usize = 100;

/// Most rolls of one tape.
pub const ROLLS_OF_TAPE: u32 = 1_000;

/// Most copies of all pieces together.
pub const COPIES: u32 = 100_000;

/// Most points in the polygon or path of one outline, holes included.
pub const POINTS: usize = 20_000;

/// Most bytes of path data in one outline.
pub const PATH_BYTES: usize = 1_000_000;

/// Most areas to avoid on one cloth.
pub const FLAWS: usize = 1_000;

/// Greatest length and greatest distance of a point from the origin, in millimetres: one kilometre.
pub const LENGTH: f64 = crate::shape::FAR_AWAY;

/// Smallest width, length or diameter, in millimetres: less than scissors can cut.
pub const SMALLEST: f64 = 0.1;

/// Most degrees that a piece may be off its grain before it needs another word for the grain.
pub const GRAIN_TOLERANCE: u32 = 45;

/// Most characters in a name.
pub const NAME_CHARACTERS: usize = 200;

/// Most faults that are shown; the others are counted.
pub const FAULTS_SHOWN: usize = 100;

/// Most faults of one kind that are shown, so that a slip made three hundred times does not hide the others.
pub const FAULTS_OF_A_KIND: usize = 10;
