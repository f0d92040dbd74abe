//! Paper: the sizes that it is sold in, what a printer leaves white, and how sheets are glued together.

use geo_types::{Coord, Rect};
use thiserror::Error;

use super::pdf::LONGEST_PAGE;
use crate::units::{Units, parse_length};

/// Sheets by name, width × height in millimetres when they stand: ISO 216 (A series), ASME Y14.1 (letters of the ANSI
/// series, in inches there; A is Letter), and Legal, 8.5 × 14 in.
const SHEETS: [(&str, [f64; 2]); 12] = [
    ("A4", [210.0, 297.0]),
    ("A3", [297.0, 420.0]),
    ("A2", [420.0, 594.0]),
    ("A1", [594.0, 841.0]),
    ("A0", [841.0, 1189.0]),
    ("Letter", [8.5 * 25.4, 11.0 * 25.4]),
    ("Legal", [8.5 * 25.4, 14.0 * 25.4]),
    ("ANSI-A", [8.5 * 25.4, 11.0 * 25.4]),
    ("ANSI-B", [11.0 * 25.4, 17.0 * 25.4]),
    ("ANSI-C", [17.0 * 25.4, 22.0 * 25.4]),
    ("ANSI-D", [22.0 * 25.4, 34.0 * 25.4]),
    ("ANSI-E", [34.0 * 25.4, 44.0 * 25.4]),
];

/// The longest stretch of a roll that is printed as one page.
const LONGEST_STRETCH: f64 = 5000.0;

/// Margin and overlap where none is asked for, in millimetres: what most printers leave white, and enough for glue.
pub const DEFAULT_MARGIN: f64 = 6.0;
/// See [`DEFAULT_MARGIN`].
pub const DEFAULT_OVERLAP: f64 = 10.0;

/// Room that a sheet needs inside its margins for check lengths of 100 mm and 4 in and what is written beside them.
const LEAST_ROOM: [f64; 2] = [132.0, 140.0];

/// What is printed on.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// What it is called.
    pub name: String,
    /// Width and height as it is named; of a roll, its width and the longest stretch of it.
    pub size: [f64; 2],
    /// Whether it is cut off a roll where the drawing ends.
    pub roll: bool,
}

/// Which side of a sheet is the longer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Orientation {
    /// The sheet stands: it is higher than wide.
    Portrait,
    /// The sheet lies: it is wider than high.
    Landscape,
}

/// What a printer leaves white, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// At the upper edge.
    pub top: f64,
    /// At the right edge.
    pub right: f64,
    /// At the lower edge.
    pub bottom: f64,
    /// At the left edge.
    pub left: f64,
}

/// A sheet that can be printed on.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintSheet {
    /// What it is called.
    pub name: String,
    /// Width and height as it comes out of the printer; of a roll, the height is the longest.
    pub size: [f64; 2],
    /// Whether it is cut off a roll where the drawing ends.
    pub roll: bool,
    /// What the printer leaves white.
    pub margins: Margins,
    /// How far sheets that are glued together lie on each other, in millimetres.
    pub overlap: f64,
}

/// What is wrong with a choice of paper.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{0}")]
pub struct PaperFault(String);

fn fault<T>(message: impl Into<String>) -> Result<T, PaperFault> {
    Err(PaperFault(message.into()))
}

impl Paper {
    /// Reads `a4`, `letter`, `ansi-c`, `600x900`, `24x36 in` or `roll 610`. Numbers without a unit are millimetres.
    ///
    /// ```
    /// use clothwright::draw::Paper;
    /// assert_eq!(Paper::parse("a4")?.size, [210.0, 297.0]);
    /// assert_eq!(Paper::parse("24x36 in")?.size, [609.6, 914.4]);
    /// assert!(Paper::parse("roll 36 in")?.roll);
    /// assert!(Paper::parse("foolscap").is_err());
    /// # Ok::<(), clothwright::draw::PaperFault>(())
    /// ```
    ///
    /// # Errors
    /// [`PaperFault`] says what would be right.
    pub fn parse(text: &str) -> Result<Self, PaperFault> {
        let plain = text.trim().to_lowercase();
        let named = plain.replace([' ', '_'], "-");
        if let Some((name, size)) = SHEETS.iter().find(|(name, _)| name.to_lowercase() == named) {
            return Ok(Self { name: (*name).to_owned(), size: *size, roll: false });
        }
        if let Some(width) = plain.strip_prefix("roll") {
            let width = side(width.trim_start_matches([' ', ':', '=', '-']), text)?;
            let name = format!("roll {}", Units::Mm.show(width));
            return Ok(Self { name, size: [width, LONGEST_STRETCH], roll: true });
        }
        let Some((width, height)) = plain.split_once(['x', '×']) else { return fault(unknown(text)) };
        let height_has_unit = height.contains(|letter: char| letter.is_alphabetic() || "\"'″′".contains(letter));
        let width_is_bare = width.trim().parse::<f64>().is_ok();
        // In `24x36 in` the unit is that of both.
        let unit = height.trim_start_matches(|letter: char| letter.is_ascii_digit() || " .-/".contains(letter));
        let width =
            if width_is_bare && height_has_unit { side(&format!("{width} {unit}"), text)? } else { side(width, text)? };
        let size = [width, side(height, text)?];
        let name = format!("{} × {}", Units::Mm.show_number(size[0]), Units::Mm.show(size[1]));
        Ok(Self { name, size, roll: false })
    }
}

fn unknown(text: &str) -> String {
    let names: Vec<&str> = SHEETS.iter().map(|(name, _)| *name).collect();
    format!(
        "“{text}” is no paper that is known; name {}, or give a width and a height such as 600x900 or \"24x36 in\", or \
         the width of a roll such as \"roll 610\"",
        names.join(", ")
    )
}

/// One side of a sheet: a length with its unit, or a number of millimetres.
fn side(text: &str, all: &str) -> Result<f64, PaperFault> {
    let length = match length_of(text) {
        Ok(length) => length,
        Err(PaperFault(why)) => return fault(format!("the paper “{all}” cannot be used: {why}")),
    };
    if !(length > 0.0 && length <= LONGEST_PAGE) {
        return fault(format!(
            "the paper “{all}” cannot be used: a side must be greater than 0 and no more than {}, the longest page of a \
             PDF",
            Units::Mm.show(LONGEST_PAGE)
        ));
    }
    Ok(length)
}

/// A length with its unit, or a number of millimetres.
///
/// # Errors
/// [`PaperFault`] says what would be right.
pub fn length_of(text: &str) -> Result<f64, PaperFault> {
    let text = text.trim();
    let with_unit = if text.parse::<f64>().is_ok() { format!("{text} mm") } else { text.to_owned() };
    parse_length(&with_unit).map_err(|fault| PaperFault(format!("{fault}; {}", fault.hint)))
}

impl Margins {
    /// The same on every side.
    pub fn all(margin: f64) -> Self {
        Self { top: margin, right: margin, bottom: margin, left: margin }
    }

    /// Reads one length for every side, or four with commas between them: top, right, bottom, left.
    ///
    /// # Errors
    /// [`PaperFault`] where there are neither one nor four, or one is no length of zero or more.
    pub fn parse(text: &str) -> Result<Self, PaperFault> {
        let lengths = text.split(',').map(length_of).collect::<Result<Vec<f64>, _>>()?;
        if lengths.iter().any(|length| *length < 0.0) {
            return fault(format!("a margin must be zero or more, not “{text}”"));
        }
        match lengths[..] {
            [all] => Ok(Self::all(all)),
            [top, right, bottom, left] => Ok(Self { top, right, bottom, left }),
            _ => fault(format!(
                "give one margin for all sides or four with commas between them (top, right, bottom, left), not “{text}”"
            )),
        }
    }
}

impl PrintSheet {
    /// A sheet with its margins.
    ///
    /// # Errors
    /// [`PaperFault`] where margins or overlap leave too little of the sheet, or a roll is to stand or lie.
    pub fn new(
        paper: Paper,
        orientation: Option<Orientation>,
        margins: Margins,
        overlap: f64,
    ) -> Result<Self, PaperFault> {
        let [width, height] = paper.size;
        let size = match orientation {
            None => paper.size,
            Some(_) if paper.roll => return fault("a roll is as wide as it is: it neither stands nor lies"),
            Some(Orientation::Portrait) => [width.min(height), width.max(height)],
            Some(Orientation::Landscape) => [width.max(height), width.min(height)],
        };
        let sheet = Self { name: paper.name, size, roll: paper.roll, margins, overlap };
        sheet.check()?;
        Ok(sheet)
    }

    fn check(&self) -> Result<(), PaperFault> {
        let show = |length: f64| Units::Mm.show(length);
        let margins = [self.margins.left + self.margins.right, self.margins.top + self.margins.bottom];
        for (index, (across, side)) in [("left and right", "wide"), ("top and bottom", "high")].into_iter().enumerate()
        {
            let (size, room) = (self.size[index], self.size[index] - margins[index]);
            if room <= 0.0 {
                return fault(format!(
                    "margins of {} in all at {across} are larger than the sheet, which is {} {side}",
                    show(margins[index]),
                    show(size)
                ));
            }
            if room < LEAST_ROOM[index] {
                return fault(format!(
                    "the sheet is {} {side}, of which margins at {across} leave {}; check lengths of 100 mm and 4 in need \
                     {}",
                    show(size),
                    show(room),
                    show(LEAST_ROOM[index])
                ));
            }
        }
        let most = LEAST_ROOM[0] / 2.0;
        if !(self.overlap >= 0.0 && self.overlap <= most) {
            return fault(format!(
                "sheets that are glued together may overlap by 0 to {}, not by {}",
                show(most),
                show(self.overlap)
            ));
        }
        Ok(())
    }

    /// What can be printed on, in page coordinates: x to the right, y up from the lower left corner.
    pub fn printable(&self) -> Rect<f64> {
        let [width, height] = self.size;
        Rect::new(
            Coord { x: self.margins.left, y: self.margins.bottom },
            Coord { x: width - self.margins.right, y: height - self.margins.top },
        )
    }
}
