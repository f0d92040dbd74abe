//! Areas under curves of one variable, by adaptive quadrature.

/// Halvings after which a part is taken as it is: parts are then a millionth of the whole.
const HALVINGS: u32 = 20;
/// Halvings that are made in any case, so that no wave is missed since it happens to agree at its few points.
const FIRST_HALVINGS: u32 = 4;

/// The integral of a function from `from` to `to`, within about `tolerance`, by Simpson's rule on ever smaller parts.
///
/// A part is halved until both ways to see it agree; where they do, what they differ by is used up too (Richardson).
/// Bends of the function cost parts, not truth. With `to` before `from` the sign turns.
pub(super) fn integral(function: &impl Fn(f64) -> f64, from: f64, to: f64, tolerance: f64) -> f64 {
    let middle = f64::midpoint(from, to);
    let part = Part::new([from, to], [function(from), function(middle), function(to)]);
    part.refined(function, tolerance, HALVINGS)
}

/// A part of the range with the function's values at its ends and in its middle.
struct Part {
    ends: [f64; 2],
    values: [f64; 3],
    simpson: f64,
}

impl Part {
    fn new(ends: [f64; 2], values: [f64; 3]) -> Self {
        let simpson = (ends[1] - ends[0]) / 6.0 * (values[0] + 4.0 * values[1] + values[2]);
        Self { ends, values, simpson }
    }

    fn refined(&self, function: &impl Fn(f64) -> f64, tolerance: f64, halvings: u32) -> f64 {
        let [from, to] = self.ends;
        let [start, centre, end] = self.values;
        let middle = f64::midpoint(from, to);
        let first = Part::new([from, middle], [start, function(f64::midpoint(from, middle)), centre]);
        let second = Part::new([middle, to], [centre, function(f64::midpoint(middle, to)), end]);
        let both = first.simpson + second.simpson;
        let differ = both - self.simpson;
        let agreed = differ.abs() <= 15.0 * tolerance && halvings <= HALVINGS - FIRST_HALVINGS;
        if halvings == 0 || agreed {
            return both + differ / 15.0;
        }
        let half = tolerance / 2.0;
        first.refined(function, half, halvings - 1) + second.refined(function, half, halvings - 1)
    }
}

#[cfg(test)]
mod tests {
    use super::integral;

    #[test]
    fn known_integrals() {
        // The quarter circle, whose slope has no bound at its end.
        let quarter = integral(&|x: f64| (1.0 - x * x).max(0.0).sqrt(), 0.0, 1.0, 1e-12);
        assert!((quarter - std::f64::consts::FRAC_PI_4).abs() < 1e-9, "{quarter}");
        let cubic = integral(&|x: f64| x * x * x, 2.0, 0.0, 1e-12);
        assert!((cubic + 4.0).abs() < 1e-12, "{cubic}");
        let corner = integral(&|x: f64| (x - 0.3).abs(), 0.0, 1.0, 1e-12);
        assert!((corner - (0.09 + 0.49) / 2.0).abs() < 1e-10, "{corner}");
    }
}
