//! One sheet: a cloth with its lay, true to size, with all that a cutter needs to read it.

use svg::Document;
use svg::node::element::Rectangle;

use crate::plan::LaidCloth;

use super::frame::number;
use super::ink::{group, style, tooltip};
use super::measures::{LaySheet, Measures};
use super::{blocks, cloth_layer, crosses, flaw_marks, patterns, piece_layer, piece_marks, ruler};

/// Draws a cloth and its lay as an SVG document in true size: one user unit is one millimetre.
pub fn lay_sheet(sheet: &LaySheet) -> String {
    let measures = Measures::of(sheet);
    let marks = piece_marks::marks(sheet, &measures);
    let below = measures.frame.top + sheet.laid.width + 4.5 * measures.lettering;
    let room = measures.drawn.max(75.0 * measures.lettering);
    let flaws = flaw_marks::flaw_marks(sheet, &measures);
    let beneath = blocks::beneath(sheet, &measures, &marks, &flaws, (measures.frame.left, below), room);
    let margin = 2.0 * measures.lettering;
    let above = cloth_layer::over(sheet, &measures, &flaws);
    let width = beneath.right.max(measures.frame.x(measures.drawn)).max(above.right) + margin;
    let height = beneath.bottom + margin;
    let document = Document::new()
        .set("width", format!("{}mm", number(width)))
        .set("height", format!("{}mm", number(height)))
        .set("viewBox", format!("0 0 {} {}", number(width), number(height)))
        .add(tooltip(&format!("{}: lay on {}", sheet.job.name, sheet.laid.cloth)))
        .add(style())
        .add(patterns::patterns(measures.lettering, narrowest_selvage(sheet.laid)))
        .add(Rectangle::new().set("fill", "#ffffff").set("width", number(width)).set("height", number(height)))
        .add(cloth_layer::cloth(sheet, &measures))
        .add(piece_layer::pieces(sheet, &measures, &marks))
        .add(crosses::crosses(sheet, &measures, &marks, &flaws))
        .add(above.drawing)
        .add(group("rulers").add(ruler::along(&measures)).add(ruler::across(&measures)))
        .add(beneath.drawing);
    format!("{document}\n")
}

/// The narrower of the selvages that there are.
fn narrowest_selvage(laid: &LaidCloth) -> f64 {
    let selvages = [laid.usable[0], laid.width - laid.usable[1]];
    selvages.into_iter().filter(|selvage| *selvage > 0.0).fold(f64::INFINITY, f64::min)
}
