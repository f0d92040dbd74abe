//! The look of the lines on a part's drawing.
//!
//! Their widths and dashes grow with the lettering, so that each can be told from the others wherever the words can be
//! read: on a screen, or printed in black and white on one small sheet.

use svg::node::element::Style;

use super::frame::number;

/// A kind of line: class, colour, width, dashes, whether its ends are round; lengths in hundredths of a letter size.
type LineLook = (&'static str, &'static str, f64, &'static [f64], bool);

const INK: &str = "#1d2429";

const LOOKS: &[LineLook] = &[
    (".cut,.panel .plain", INK, 10.0, &[], false),
    (".beneath", "#cfdfe6", 9.0, &[], false),
    (".trim", INK, 6.0, &[45.0, 18.0], false),
    (".wrap", "#8a4b12", 9.0, &[0.1, 22.0], true),
    (".finished", "#565f66", 4.0, &[], false),
    (".fold", INK, 7.0, &[45.0, 12.0, 7.0, 12.0, 7.0, 12.0], false),
    (".relief-cut", INK, 7.0, &[], false),
    (".member", "#7f9aa8", 14.0, &[], true),
    (".seam", "#8a1c1c", 10.0, &[55.0, 16.0, 16.0, 16.0], false),
    (".hinge", INK, 6.0, &[80.0, 16.0, 10.0, 16.0], false),
    (".grain", INK, 7.0, &[], true),
];

/// The style of a sheet with letters of a size.
pub(super) fn part_style(letters: f64) -> Style {
    let mut rules = "path{vector-effect:none}".to_owned();
    for (class, colour, width, dashes, round) in LOOKS {
        let length = |hundredths: f64| number(hundredths * letters / 100.0);
        rules.push_str(&format!("{class}{{stroke:{colour};stroke-width:{}", length(*width)));
        if !dashes.is_empty() {
            let dashes: Vec<String> = dashes.iter().map(|dash| length(*dash)).collect();
            rules.push_str(&format!(";stroke-dasharray:{}", dashes.join(" ")));
        }
        rules.push_str(if *round { ";stroke-linecap:round}" } else { "}" });
    }
    Style::new(rules)
}
