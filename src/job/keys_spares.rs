//! The keys of spares, of prices and of rates of work: see [`super::keys`].

use super::keys::{Table, may};
use super::kinds;

pub(super) static SPARES: Table = Table {
    what: "a list of spares",
    name: "spares",
    about: "What to buy beyond what is worked out, in per cent of it. Spares stand on lines of their own.",
    keys: &[
        may("cloth", kinds::share, "Cloth off the roll, per cent of the length used."),
        may("patches", kinds::share, "Small pieces with a pinked edge, per cent of each kind, rounded up."),
        may("tape", kinds::share, "Finishing tape, per cent of the length of each kind."),
        may("rings", kinds::share, "Inspection rings, per cent, rounded up."),
        may("covers", kinds::share, "Inspection covers, per cent, rounded up."),
        may("grommets", kinds::share, "Drain grommets, per cent, rounded up."),
        may("attachments", kinds::share, "Screws, rivets, clips or laces, per cent, rounded up."),
        may("lacing_cord", kinds::share, "Lacing cord, per cent of its length."),
        may("reinforcing_tape", kinds::share, "Reinforcing tape, per cent of its length."),
        may("chafe_tape", kinds::share, "Anti-chafe tape, per cent of its length."),
        may("rib_to_rib_tape", kinds::share, "Tape from rib to rib, per cent of its length."),
        may("cement", kinds::share, "Cement, per cent of its litres."),
        may("coats", kinds::share, "Dope and other coats, per cent of their litres."),
    ],
};

pub(super) static PRICES: Table = Table {
    what: "a list of prices",
    name: "prices",
    about: "What goods cost, in your own money. Cloth and finishing tape have their prices where they stand.",
    keys: &[
        may("rings", kinds::zero_or_more, "An inspection ring."),
        may("covers", kinds::zero_or_more, "An inspection cover."),
        may("grommets", kinds::zero_or_more, "A drain grommet."),
        may("attachments", kinds::zero_or_more, "A screw, a rivet or a clip."),
        may("lacing_cord", kinds::zero_or_more, "A metre of lacing cord."),
        may("reinforcing_tape", kinds::zero_or_more, "A metre of reinforcing tape."),
        may("chafe_tape", kinds::zero_or_more, "A metre of anti-chafe tape."),
        may("rib_to_rib_tape", kinds::zero_or_more, "A metre of tape from rib to rib."),
        may("cement", kinds::zero_or_more, "A litre of cement."),
        may("coats", kinds::zero_or_more, "A litre of dope or of another coat."),
    ],
};

pub(super) static RATES: Table = Table {
    what: "a list of rates",
    name: "rates",
    about: "How long work takes you, in hours. Without a rate, common practice is taken, which is no norm.",
    keys: &[
        may("panel", kinds::zero_or_more, "Putting one panel on: fit, hold, trim, shrink. Without it, 4 hours."),
        may("patch", kinds::zero_or_more, "Putting one small piece on. Without it, 0.2 hours."),
        may("cut_edge", kinds::zero_or_more, "Marking and cutting a metre of straight edge. Without it, 0.05 hours."),
        may("pinked_edge", kinds::zero_or_more, "Cutting a metre with pinking shears. Without it, 0.08 hours."),
        may("glued_edge", kinds::zero_or_more, "Gluing a metre of edge down. Without it, 0.2 hours."),
        may("seam", kinds::zero_or_more, "A metre of seam with its tape. Without it, 0.5 hours."),
    ],
};
