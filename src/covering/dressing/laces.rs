//! Where the attachments of a rib sit, and what cord they take.

use crate::covering::RuleBook;
use crate::job::{Attachment, Words};
use crate::units::inches;

/// Added to the cord of a rib for its first and last knots: common practice, no source.
const KNOTS: f64 = inches(24.0);

/// The attachments along one rib, seen on one face. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Laces {
    /// Each one's distance from the aft edge of the nose sheet, or from where the laced length begins.
    pub at: Vec<f64>,
    /// Greatest distance between two.
    pub spacing: f64,
    /// From the last one to the trailing edge.
    pub to_trailing_edge: f64,
}

/// The cord of one rib. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RibCord {
    /// Length of cord.
    pub length: f64,
    /// How it was found.
    pub source: &'static str,
}

/// The attachments of a rib that is laced over `length`, from the aft edge of the nose sheet to the trailing edge.
///
/// The first sits half a spacing behind the sheet (AC 43.13-1B 2-10 NOTE), the last no farther than one spacing from the
/// trailing edge (approved covering manual p. 28). That gives ceil(length / spacing − 1/2) of them: derived. A rib shorter
/// than half a spacing has one, in its middle.
pub fn laces(length: f64, spacing: f64) -> Laces {
    let count = libm::ceil(length / spacing - 0.5 - 1e-9).max(1.0) as u32;
    let first = (spacing / 2.0).min(length / 2.0);
    let at: Vec<f64> = (0..count).map(|nth| first + f64::from(nth) * spacing).collect();
    let last = first + f64::from(count - 1) * spacing;
    Laces { at, spacing, to_trailing_edge: length - last }
}

impl Laces {
    /// From the first to the last one, in millimetres.
    pub fn first_to_last(&self) -> f64 {
        match (self.at.first(), self.at.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }
}

/// The cord of a rib with `laces`, a cap `cap` wide and a greatest `depth`: count × (2 caps + 2 depths + spacing) + 24 in.
/// `None` where the cloth is not laced.
///
/// Common practice, no source. Working lengths of 6 to 8 ft fray less (approved covering manual p. 31).
pub fn cord_of_rib(attachment: Attachment, laces: &Laces, cap: f64, depth: f64) -> Option<RibCord> {
    (attachment == Attachment::Lacing).then_some(RibCord {
        length: laces.at.len() as f64 * (2.0 * cap + 2.0 * depth + laces.spacing) + KNOTS,
        source: "number of laces × (2 × cap width + 2 × greatest depth + spacing) + 24 in: common practice, no source",
    })
}

/// What the person should know about the way in which the cloth is held to the ribs; `None` for lacing.
pub fn attachment_caution(book: &RuleBook) -> Option<String> {
    match book.attachment() {
        Attachment::Lacing => None,
        Attachment::None => Some(
            "nothing but dope or cement is to hold the cloth to the ribs: only where the maker's manual has it so. Cement \
             resists shear, not peel, and for amateur-built aircraft a mechanical attachment is strongly advised (manual \
             pp. 26-27); to leave out what the maker had is a major alteration (AC 2-10a)"
                .to_owned(),
        ),
        other => Some(format!(
            "the cloth is to be held to the ribs by {}: where the maker had another way, this is a major alteration that \
             needs approved data (AC 2-10a)",
            other.word()
        )),
    }
}
