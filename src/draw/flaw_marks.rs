//! What is written on the flaws of a cloth: the note where it fits inside, else a letter that a key explains.

use geo_types::Polygon;

use crate::shape::Outline;

use super::label::{BoxShape, Room, Spot};
use super::lettering::{block_width, size_within};
use super::measures::{LaySheet, Measures};

/// What a flaw without a note is called.
const NO_NOTE: &str = "flaw";
/// A note smaller than this share of the sheet's lettering is worse than a letter.
const SMALLEST_NOTE: f64 = 0.5;

/// A flaw that is drawn, and what is written on it.
pub(super) struct FlawMark {
    /// The flaw.
    pub outline: Outline,
    /// What it is.
    pub note: String,
    /// What is written on it: the note, or a letter of the key.
    pub words: String,
    /// Where, in the cloth's coordinates, and how large; nowhere where nothing fits.
    pub spot: Option<Spot>,
    /// Whether the words are a letter that the key must explain.
    pub keyed: bool,
}

impl FlawMark {
    /// What the words cover.
    pub fn taken(&self) -> Option<Polygon<f64>> {
        self.spot.map(|spot| spot.covers(text_shape(&self.words)))
    }
}

/// The flaws on the drawn part of a cloth, in the order of the job.
pub(super) fn flaw_marks(sheet: &LaySheet, measures: &Measures) -> Vec<FlawMark> {
    let mut keyed = 0;
    let mut marks = Vec::new();
    for flaw in &sheet.cloth.flaws {
        let Ok(outline) = flaw.outline.flatten() else { continue };
        if outline.bounds().min().x >= measures.drawn {
            continue;
        }
        let note = flaw.note.clone().unwrap_or_else(|| NO_NOTE.to_owned());
        let room = Room::new(outline.polygon());
        let spot = fitting(&room, &note, measures).filter(|spot| spot.size >= SMALLEST_NOTE * measures.lettering);
        let mark = match spot {
            Some(spot) => {
                FlawMark { words: note.clone(), spot: Some(spot), keyed: false, outline: outline.clone(), note }
            }
            None => {
                keyed += 1;
                let words = letters(keyed);
                // A letter may stand out of a narrow flaw rather than be a speck.
                let smallest = size_within(SMALLEST_NOTE * measures.lettering);
                let spot = fitting(&room, &words, measures).map(|spot| Spot { size: spot.size.max(smallest), ..spot });
                FlawMark { words, spot, keyed: true, outline: outline.clone(), note }
            }
        };
        marks.push(mark);
    }
    marks
}

fn fitting(room: &Room, words: &str, measures: &Measures) -> Option<Spot> {
    let spot = room.for_text(text_shape(words), measures.lettering)?;
    let size = size_within(spot.size);
    // The smallest letters of the series may still be too large.
    Some(Spot { size: size.min(spot.size), ..spot })
}

fn text_shape(words: &str) -> BoxShape {
    BoxShape { width: block_width(&[words.to_owned()]) + 0.4, height: 1.3 }
}

/// A, B, … Z, AA, AB, …: unlike the numbers of the pieces.
fn letters(mut number: usize) -> String {
    let mut letters = String::new();
    while number > 0 {
        letters.insert(0, char::from(b'A' + ((number - 1) % 26) as u8));
        number = (number - 1) / 26;
    }
    letters
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([1, 26, 27, 53].map(letters), ["A", "Z", "AA", "BA"]);
    }
}
