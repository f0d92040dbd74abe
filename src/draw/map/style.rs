//! The look of a map: tints that differ in lightness, and lines that differ in width and dashes, so that all can be told
//! from each other in black and white.

use svg::node::element::Style;

use super::super::frame::number;
use super::pen::Pen;

/// A kind of line: class, colour, width, dashes; lengths in hundredths of a millimetre of paper.
type LineLook = (&'static str, &'static str, f64, &'static [f64]);

const INK: &str = "#1d2429";

const LOOKS: &[LineLook] = &[
    (".edge", INK, 50.0, &[]),
    (".under", "#6f7b82", 18.0, &[]),
    (".map-seam", INK, 35.0, &[220.0, 60.0, 60.0, 60.0]),
    (".bias-line", INK, 22.0, &[130.0, 90.0]),
    (".patch", INK, 35.0, &[]),
    (".least", INK, 18.0, &[70.0, 50.0]),
    (".ring", INK, 30.0, &[]),
    (".drain", INK, 20.0, &[]),
    (".drain-patch", INK, 18.0, &[30.0, 40.0]),
    (".lace", INK, 28.0, &[]),
    (".later", INK, 40.0, &[]),
    (".leader", INK, 18.0, &[]),
    (".tag", INK, 22.0, &[]),
    (".datum", INK, 60.0, &[]),
    (".grain", INK, 30.0, &[]),
];

/// The style of a map.
pub(super) fn map_style(pen: Pen) -> Style {
    let mut rules = "path{vector-effect:none}.band{stroke:#1d2429}.chordwise{stroke:#f4f4f0}.spanwise{stroke:#d3d7d1}\
                     .tip-bow{stroke:#aeb5ad}.band,.chordwise,.spanwise,.tip-bow{stroke-linejoin:round}"
        .to_owned();
    for (class, colour, width, dashes) in LOOKS {
        let length = |hundredths: f64| number(pen.mm(hundredths / 100.0));
        rules.push_str(&format!("{class}{{stroke:{colour};stroke-width:{}", length(*width)));
        if !dashes.is_empty() {
            let dashes: Vec<String> = dashes.iter().map(|dash| length(*dash)).collect();
            rules.push_str(&format!(";stroke-dasharray:{}", dashes.join(" ")));
        }
        rules.push('}');
    }
    rules.push_str(
        ".edge,.patch,.ring,.tag{fill:#ffffff}.ring-hole{fill:#ffffff}.drain,.flag,.datum-point{fill:#1d2429}\
         .leader-end{fill:#1d2429}.on-flag{fill:#ffffff}",
    );
    Style::new(rules)
}
