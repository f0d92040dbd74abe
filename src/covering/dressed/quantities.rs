//! What is used up beside cloth: each thing with its rule.

use super::Dressed;
use crate::covering::CoveredPart;
use crate::covering::desk::Desk;
use crate::covering::dressing::{Liquid, anti_chafe_length, cement_for_cloth, inter_rib_bracing, litres};
use crate::job::{Grommet, MemberClass, Method, Part};
use crate::units::inches;

/// Once round a rib's cap of 1/2 in by 1/4 in. Common practice, no source.
const CAP_GIRTH: f64 = inches(1.5);

/// An amount of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// What it is, such as `lacing cord`.
    pub what: String,
    /// How much, in the unit.
    pub amount: f64,
    /// How it is counted.
    pub unit: Unit,
    /// Where the figure comes from.
    pub source: String,
}

/// How things are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// One by one.
    Pieces,
    /// In millimetres, shown as lengths.
    Length,
    /// In litres.
    Litres,
}

/// What a part takes, for all its hands.
pub(super) fn quantities(desk: &Desk, part: &Part, covered: &CoveredPart, dressed: &Dressed) -> Vec<Quantity> {
    let mut all = Vec::new();
    let mut add = |what: &str, amount: f64, unit: Unit, source: &str| {
        if amount > 0.0 {
            all.push(Quantity { what: what.to_owned(), amount, unit, source: source.to_owned() });
        }
    };
    let rings: u32 = dressed.rings.iter().map(|ring| ring.hands).sum();
    add("inspection rings", f64::from(rings), Unit::Pieces, "one for each opening, AC 2-14a");
    add("inspection covers", f64::from(2 * rings), Unit::Pieces, "about twice as many as rings, manual p. 41");
    let drains: u32 = dressed.drains.iter().map(|drain| drain.hands).sum();
    match part.places.drains.map(|style| style.grommet) {
        Some(Grommet::Flat) => add("flat drain grommets", f64::from(drains), Unit::Pieces, "AC 2-14b"),
        Some(Grommet::Hooded) => {
            add("hooded drain grommets", f64::from(drains), Unit::Pieces, "opening aft, AC 2-14b(1), manual p. 49");
        }
        _ => {}
    }
    let per_rib = |figure: fn(&super::LacedRib) -> f64| -> f64 {
        dressed.ribs.iter().map(|rib| figure(rib) * f64::from(rib.hands)).sum()
    };
    let cord = per_rib(|rib| rib.cord.unwrap_or(0.0));
    add(
        "lacing cord",
        cord,
        Unit::Length,
        "laces × (2 × cap + 2 × depth + spacing) + 24 in a rib: common practice, no source",
    );
    add(
        "reinforcing tape",
        per_rib(|rib| rib.reinforcing),
        Unit::Length,
        "1 in past the last attachment, both sides, AC 2-9a",
    );
    add("attachments", per_rib(|rib| rib.at.len() as f64), Unit::Pieces, "AC figure 2-12 or the maker's spacing");
    let ribs = |face: &crate::covering::Face| -> Vec<f64> {
        let ribs = face.members.iter().filter(|member| matches!(member.class, MemberClass::Rib | MemberClass::ButtRib));
        ribs.map(|rib| rib.length() * f64::from(face.hands)).collect()
    };
    let edges: Vec<f64> = covered.faces.iter().flat_map(ribs).collect();
    add(
        "anti-chafe tape over rib caps",
        anti_chafe_length(&edges, 0),
        Unit::Length,
        "AC 2-6e, manual p. 12; not where cloth is cemented to a cap",
    );
    add(
        "tape from rib to rib, one run",
        bracing(covered),
        Unit::Length,
        "AC 2-6f, manual p. 11; as many runs as the maker had",
    );
    let cloth: f64 = covered.panels.iter().map(|panel| panel.cut.area() * f64::from(panel.plan.quantity)).sum();
    if desk.book.method() == Method::Cemented {
        let cement = cement_for_cloth(cloth);
        add("cement", cement.litres, Unit::Litres, cement.source);
    }
    let finished: f64 = covered.panels.iter().map(|panel| panel.trimmed.area() * f64::from(panel.plan.quantity)).sum();
    if let Ok(dope) = litres(Liquid::Dope, finished, 1) {
        add("dope, a coat", dope.litres, Unit::Litres, dope.source);
    }
    all
}

/// One tape from rib to rib, where ribs have a depth.
fn bracing(covered: &CoveredPart) -> f64 {
    let Some(face) = covered.faces.first() else { return 0.0 };
    let ribs: Vec<_> = face.members.iter().filter_map(|member| member.rib).collect();
    if ribs.len() < 2 {
        return 0.0;
    }
    let stations: Vec<f64> = ribs.iter().map(|rib| rib.span).collect();
    let depth = ribs.iter().map(|rib| rib.depth).fold(0.0, f64::max);
    inter_rib_bracing(&stations, depth, CAP_GIRTH) * f64::from(face.hands)
}
