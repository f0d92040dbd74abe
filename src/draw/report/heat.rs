//! The heats of the iron: what each is for, and what it must never be used above.

/// A heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Heat {
    /// Degrees Fahrenheit, as the source has it.
    pub fahrenheit: &'static str,
    /// The same in degrees Celsius.
    pub celsius: &'static str,
    /// What it is for, or what it does.
    pub does: &'static str,
    /// What it is the limit of.
    pub limit: &'static str,
    /// Where that comes from.
    pub source: &'static str,
    /// Whether it is only there to be kept away from.
    pub never: bool,
}

const fn heat(
    fahrenheit: &'static str,
    celsius: &'static str,
    does: &'static str,
    limit: &'static str,
    source: &'static str,
) -> Heat {
    Heat { fahrenheit, celsius, does, limit, source, never: false }
}

const fn never(fahrenheit: &'static str, celsius: &'static str, does: &'static str, source: &'static str) -> Heat {
    Heat { fahrenheit, celsius, does, limit: "do not use", source, never: true }
}

/// Heats for polyester cloth, from low to high. Celsius is worked out from Fahrenheit and rounded.
pub(super) const HEATS: &[Heat] = &[
    heat(
        "225",
        "107",
        "smooths tapes, patches and folds; forms round edges",
        "never above it on a finishing tape: at 250 °F a tape shrinks by about 5 %, and turns narrow and wavy",
        "manual pp. 13, 46",
    ),
    heat(
        "250",
        "121",
        "first shrinking of the cloth, about 5 %",
        "never above it on a cemented seam, nor anywhere where dope is to follow",
        "manual pp. 13, 23; FAA-H-8083-31 chapter 3",
    ),
    heat("300", "149", "a step between, in some processes", "", "from memory"),
    heat(
        "350",
        "177",
        "last shrinking where no dope follows: about 10 % in all, the most tension there is",
        "never above it anywhere: beyond, tension is lost for good",
        "FAA-H-8083-31 chapter 3; AC 2-2b; manual p. 13",
    ),
    never("375", "191", "the threads soften and hold no tension", "manual p. 13"),
    never("415", "213", "the cloth melts", "manual p. 13"),
];

/// What goes with the heats.
pub(super) const WITH_HEATS: &[(&str, &str)] = &[
    ("Set the iron by a thermometer, to within 10 °F (6 °C), and again at each change of heat.", "manual pp. 2, 13"),
    ("Work from both ends by turns towards the middle, so that the frame is not drawn to one side.", "manual p. 24"),
    ("Stop when the cloth is as tight as the manual asks: tension bends light structure.", "manual pp. 13–14, 23"),
    ("No heat gun, where the approved manual forbids it.", "manual pp. 2, 13"),
    ("Cotton and linen are not shrunk by heat: water and dope draw them tight.", "common practice, no source"),
    (
        "Another cloth has other limits, one sold in Europe 356 °F (180 °C): its own approved manual comes first.",
        "a gliding inspector's note, not official",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// A Celsius degree is 1.8 Fahrenheit degrees, and water freezes at 32 °F (NIST Special Publication 811 (2008), 4.2.1.1
    /// and appendix B.8).
    #[test]
    fn both_scales_tell_the_same_heat() {
        for heat in HEATS {
            let [fahrenheit, celsius] =
                [heat.fahrenheit, heat.celsius].map(|degrees| degrees.parse::<f64>().unwrap_or(f64::NAN));
            assert!(((fahrenheit - 32.0) / 1.8 - celsius).abs() <= 0.5, "{heat:?}");
        }
    }
}
