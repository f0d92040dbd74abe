//! The title block: job, cloth, and the figures of the lay.

use crate::plan::{PLANNING_AID, Purchase, percent, size};

use super::block::Block;
use super::frame::line;
use super::ink::{Anchor, classed, group, path, text};
use super::lettering::text_width;
use super::measures::{LaySheet, Measures, NO_REST};

const WIDTH: f64 = 44.0;
const VALUES_AT: f64 = 11.0;
const ROW: f64 = 1.6;

/// The title block.
pub(super) fn title(sheet: &LaySheet, measures: &Measures) -> Block {
    let size = measures.lettering;
    let width = WIDTH * size;
    let mut y = 2.0 * size;
    let mut drawing = group("title-block");
    for line in wrapped(&sheet.job.name, WIDTH / 1.5 - 1.5) {
        drawing = drawing.add(classed("strong", text(&line, (0.8 * size, y), 1.4 * size, Anchor::Start)));
        y += 1.9 * size;
    }
    for (name, value) in rows(sheet) {
        drawing = drawing.add(path("rule", line((0.0, y - 1.15 * size), (width, y - 1.15 * size))));
        drawing = drawing.add(classed("faint", text(name, (0.8 * size, y), size, Anchor::Start)));
        for line in wrapped(&value, WIDTH - VALUES_AT - 1.0) {
            drawing = drawing.add(text(&line, (VALUES_AT * size, y), size, Anchor::Start));
            y += ROW * size;
        }
    }
    drawing = drawing.add(path("rule", line((0.0, y - 1.15 * size), (width, y - 1.15 * size))));
    for line in wrapped(PLANNING_AID, (WIDTH - 1.6) / 0.8) {
        drawing = drawing.add(text(&line, (0.8 * size, y), 0.8 * size, Anchor::Start));
        y += 1.1 * size;
    }
    let height = y - 0.4 * size;
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height), (0.0, 0.0)];
    let frame = corners.windows(2).map(|side| line(side[0], side[1])).collect();
    Block { drawing: drawing.add(path("frame", frame)), width, height }
}

fn rows(sheet: &LaySheet) -> Vec<(&'static str, String)> {
    let units = sheet.job.units;
    let (laid, account) = (sheet.laid, sheet.account);
    let mut rows = Vec::new();
    let number =
        if sheet.cloth.count > 1 { format!(", {} of {}", laid.number, sheet.cloth.count) } else { String::new() };
    rows.push(("Cloth", format!("{}{number}", laid.cloth)));
    let usable = units.show(laid.usable[1] - laid.usable[0]);
    rows.push(("Width", format!("{} in full, {usable} usable", units.show(laid.width))));
    rows.push(("Length used", units.show(laid.length_used)));
    rows.push(match account.purchase {
        Purchase::OnShelf => ("Cloth from", "the shelf".to_owned()),
        Purchase::Buy { length, .. } => ("To buy", units.show(length)),
    });
    rows.push(("Left over", left_over(sheet)));
    let outlined = if sheet.cloth.outline.is_some() { ", the rectangle round the offcut" } else { "" };
    rows.push(("Waste", format!("{} of full width × length used{outlined}", percent(laid.waste))));
    rows.push(("Density", format!("{} of usable width × length used", percent(laid.density))));
    rows.push(("Pieces", laid.pieces.len().to_string()));
    rows.push(("Gap", format!("{} between cut lines", units.show(sheet.job.gap))));
    let extent =
        sheet.cloth.outline.as_ref().and_then(|outline| outline.flatten().ok()).map(|outline| outline.bounds());
    if let Some(extent) = extent {
        rows.push(("Offcut", size([extent.width(), extent.height()], units)));
    }
    rows.push(("Drawn", "true to size".to_owned()));
    rows
}

fn left_over(sheet: &LaySheet) -> String {
    match (sheet.account.left < NO_REST, sheet.account.purchase) {
        (false, _) => format!("{} of the full width", sheet.job.units.show(sheet.account.left)),
        (true, Purchase::OnShelf) => "nothing: the whole cloth is used".to_owned(),
        (true, Purchase::Buy { .. }) => "nothing: all that is bought is used".to_owned(),
    }
}

/// Breaks a text at its spaces into lines no wider than `width` letter sizes; a word that is wider by itself is broken
/// where it must be.
pub(super) fn wrapped(words: &str, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in words.split_whitespace().flat_map(|word| parts(word, width)) {
        let Some(line) = lines.last_mut() else { continue };
        if line.is_empty() {
            line.push_str(&word);
        } else if text_width(line) + text_width(" ") + text_width(&word) <= width {
            line.push(' ');
            line.push_str(&word);
        } else {
            lines.push(word);
        }
    }
    lines
}

fn parts(word: &str, width: f64) -> Vec<String> {
    let mut parts = vec![String::new()];
    for letter in word.chars() {
        match parts.last_mut() {
            Some(part)
                if part.is_empty() || text_width(part) + text_width(letter.encode_utf8(&mut [0; 4])) <= width =>
            {
                part.push(letter);
            }
            _ => parts.push(letter.to_string()),
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_no_wider_than_asked_and_lose_no_word() {
        let lines = wrapped(PLANNING_AID, 40.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|line| text_width(line) <= 40.0), "{lines:?}");
        assert_eq!(lines.join(" "), PLANNING_AID);
    }

    #[test]
    fn a_word_without_end_is_broken_where_it_must_be() {
        let word = "n".repeat(100);
        let lines = wrapped(&word, 20.0);
        assert!(lines.iter().all(|line| text_width(line) <= 20.0), "{lines:?}");
        assert_eq!(lines.concat(), word);
    }
}
