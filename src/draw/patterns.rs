//! Hatchings that carry meaning without colour.

use svg::node::element::{Definitions, Path, Pattern};

use super::frame::number;

/// The hatchings of a sheet; their spacing follows its lettering, so that they are neither mush nor bars. The selvage is
/// hatched more closely where it is narrow.
pub(super) fn patterns(lettering: f64, narrowest_selvage: f64) -> Definitions {
    let step = lettering * 0.45;
    let selvage = step.min(narrowest_selvage * 0.6);
    Definitions::new()
        .add(hatch("selvage", selvage, 45.0, &slash(selvage), ("#6b6458", 0.16)))
        .add(hatch("selvage-sample", step, 45.0, &slash(step), ("#6b6458", 0.16)))
        .add(hatch("no-cloth", step, 45.0, &format!("{}{}", slash(step), upright(step)), ("#1d2429", 0.08)))
        .add(hatch("bias", step, 0.0, &slash(step), ("#3c6e86", 0.08)))
        .add(hatch("face-down", step, 0.0, &dot(step), ("#1d2429", 0.16)))
}

/// A pattern that repeats its marks at every step; the pen has a colour and a width in steps.
fn hatch(id: &str, step: f64, turn: f64, marks: &str, (colour, width): (&str, f64)) -> Pattern {
    let mark = Path::new()
        .set("d", marks)
        .set("style", format!("fill:none;stroke:{colour};stroke-width:{};vector-effect:none", number(step * width)))
        .set("stroke-linecap", "round");
    Pattern::new()
        .set("id", id)
        .set("width", number(step))
        .set("height", number(step))
        .set("patternUnits", "userSpaceOnUse")
        .set("patternTransform", format!("rotate({})", number(turn)))
        .add(mark)
}

fn slash(step: f64) -> String {
    format!("M0 {0}L{1} {0}", number(step / 2.0), number(step))
}

fn upright(step: f64) -> String {
    format!("M{0} 0L{0} {1}", number(step / 2.0), number(step))
}

fn dot(step: f64) -> String {
    let middle = step / 2.0;
    format!("M{0} {0}L{1} {0}", number(middle), number(middle + step * 0.01))
}
