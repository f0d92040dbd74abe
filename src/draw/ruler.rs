//! Rulers along the roll and across it, in the job's unit.

use svg::node::element::Group;

use crate::units::Units;

use super::frame::line;
use super::ink::{Anchor, group, path, text};
use super::lettering::text_width;
use super::measures::Measures;

/// Steps of a ruler in millimetres: ticks without a number, longer ticks, ticks with a number.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Steps {
    fine: f64,
    middle: f64,
    numbered: f64,
}

const INCH: f64 = 25.4;

/// Metric rulers, finest first.
const METRIC: [Steps; 5] = [
    Steps { fine: 1.0, middle: 5.0, numbered: 10.0 },
    Steps { fine: 5.0, middle: 10.0, numbered: 50.0 },
    Steps { fine: 10.0, middle: 50.0, numbered: 100.0 },
    Steps { fine: 10.0, middle: 100.0, numbered: 500.0 },
    Steps { fine: 50.0, middle: 500.0, numbered: 1000.0 },
];

/// Inch and foot rulers, finest first.
const IMPERIAL: [Steps; 5] = [
    Steps { fine: INCH / 8.0, middle: INCH / 2.0, numbered: INCH },
    Steps { fine: INCH / 2.0, middle: INCH, numbered: 6.0 * INCH },
    Steps { fine: INCH, middle: 6.0 * INCH, numbered: 12.0 * INCH },
    Steps { fine: INCH, middle: 12.0 * INCH, numbered: 36.0 * INCH },
    Steps { fine: 3.0 * INCH, middle: 12.0 * INCH, numbered: 60.0 * INCH },
];

/// Distance between the numbers of the coarser of a sheet's two rulers.
pub(super) fn numbered_step(measures: &Measures) -> f64 {
    let step = |length: f64| steps(measures.units, length, measures.lettering).numbered;
    step(measures.drawn).max(step(measures.frame.width))
}

/// The finest ruler on which numbers keep clear of each other.
fn steps(units: Units, length: f64, lettering: f64) -> Steps {
    let scale = match units {
        Units::Mm | Units::Cm | Units::M => METRIC,
        Units::In | Units::Ft => IMPERIAL,
    };
    let widest = text_width(&units.show_number(length)) + 1.5;
    let fits = |steps: &Steps| steps.numbered >= widest * lettering && steps.fine >= lettering / 8.0;
    scale.iter().copied().find(fits).unwrap_or(scale[scale.len() - 1])
}

/// A mark of a ruler: how long its tick is, and whether it is numbered.
fn marks(length: f64, steps: Steps) -> Vec<(f64, f64, bool)> {
    let count = libm::floor(length / steps.fine + 1e-9) as u64;
    let divides = |step: f64, mark: u64| mark.is_multiple_of(libm::round(step / steps.fine) as u64);
    (0..=count)
        .map(|mark| {
            let place = mark as f64 * steps.fine;
            if divides(steps.numbered, mark) {
                (place, 1.0, true)
            } else if divides(steps.middle, mark) {
                (place, 0.65, false)
            } else {
                (place, 0.35, false)
            }
        })
        .collect()
}

/// The ruler along the roll, beneath its lower edge.
pub(super) fn along(measures: &Measures) -> Group {
    let size = measures.lettering;
    let edge = measures.frame.y(0.0) + 0.2 * size;
    let (mut fine, mut major) = (String::new(), String::new());
    let mut ruler = group("ruler-along");
    let steps = steps(measures.units, measures.drawn, size);
    for (place, long, numbered) in marks(measures.drawn, steps) {
        let x = measures.frame.x(place);
        let tick = line((x, edge), (x, edge + long * size));
        if numbered {
            major.push_str(&tick);
            let label = number_with_unit(measures.units, place, place < steps.numbered);
            ruler = ruler.add(text(&label, (x, edge + 2.1 * size), size, Anchor::Middle));
        } else {
            fine.push_str(&tick);
        }
    }
    ruler.add(path("tick", fine)).add(path("tick-major", major))
}

/// The ruler across the cloth, before the roll's end, counted from the lower edge.
pub(super) fn across(measures: &Measures) -> Group {
    let size = measures.lettering;
    let edge = measures.frame.left - 0.2 * size;
    let (mut fine, mut major) = (String::new(), String::new());
    let mut ruler = group("ruler-across");
    let steps = steps(measures.units, measures.frame.width, size);
    for (place, long, numbered) in marks(measures.frame.width, steps) {
        let y = measures.frame.y(place);
        let tick = line((edge, y), (edge - long * size, y));
        if numbered {
            major.push_str(&tick);
            let label = number_with_unit(measures.units, place, false);
            let at = (edge - 1.3 * size, y + 0.35 * size);
            ruler = ruler.add(text(&label, at, size, Anchor::End));
        } else {
            fine.push_str(&tick);
        }
    }
    ruler.add(path("tick", fine)).add(path("tick-major", major))
}

fn number_with_unit(units: Units, place: f64, with_unit: bool) -> String {
    let number = units.show_number(place);
    if with_unit { format!("{number} {}", units.symbol()) } else { number }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ruler_step_divides_into_the_finer_one() {
        for steps in METRIC.iter().chain(&IMPERIAL) {
            for coarse in [steps.middle, steps.numbered] {
                let ratio = coarse / steps.fine;
                assert!((ratio - ratio.round()).abs() < 1e-9, "{steps:?}");
            }
        }
    }

    #[test]
    fn numbers_stand_at_whole_steps_of_the_unit() {
        let numbered: Vec<f64> = marks(2000.0, METRIC[3]).iter().filter(|mark| mark.2).map(|mark| mark.0).collect();
        assert_eq!(numbered, [0.0, 500.0, 1000.0, 1500.0, 2000.0]);
        let feet = marks(1000.0, IMPERIAL[2]).iter().filter(|mark| mark.2).count();
        assert_eq!(feet, 4, "0, 1, 2 and 3 ft in a metre");
    }
}
