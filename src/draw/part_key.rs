//! What the lines of a part's drawing mean; only lines that are there.

use crate::covering::CoveredPart;

use super::block::Block;
use super::frame::line;
use super::ink::{Anchor, classed, group, path, text};
use super::lettering::text_width;

/// Length of a sample of a line, in letter sizes.
const SAMPLE: f64 = 6.0;

/// The key of a part's drawing.
pub(super) fn part_key(part: &CoveredPart, letters: f64) -> Block {
    let has = |test: fn(&crate::covering::Panel) -> bool| part.panels.iter().any(test);
    let rows = [
        (true, "cut", "cut line"),
        (true, "trim", "trimmed here in place: end of lap, wrap or fold; cloth beyond is to hold on to"),
        (true, "wrap", "end of the wrap: from here on cloth lies on cloth"),
        (true, "finished", "finished edge: outline of the frame"),
        (has(|panel| !panel.plan.marks.folds.is_empty()), "fold", "finished edge of a recess: folded down inside here"),
        (has(|panel| !panel.plan.marks.relief_cuts.is_empty()), "relief-cut", "cut at 45° in an inside corner"),
        (has(|panel| !panel.plan.members.is_empty()), "member", "member under the cloth"),
        (has(|panel| !panel.seams.is_empty()), "seam", "seam: the strips lie over each other here"),
        (part.hinge.is_some(), "hinge", "hinge line"),
    ];
    let mut drawing = group("key").add(classed("strong", text("Lines", (0.0, letters), letters, Anchor::Start)));
    let (mut y, mut widest) = (2.6 * letters, 0.0_f64);
    for (_, class, words) in rows.into_iter().filter(|(there, ..)| *there) {
        let middle = y - 0.35 * letters;
        drawing = drawing.add(path(class, line((0.0, middle), (SAMPLE * letters, middle)))).add(text(
            words,
            ((SAMPLE + 1.0) * letters, y),
            letters,
            Anchor::Start,
        ));
        widest = widest.max((SAMPLE + 1.0 + text_width(words)) * letters);
        y += 1.5 * letters;
    }
    Block { drawing, width: widest, height: y }
}
