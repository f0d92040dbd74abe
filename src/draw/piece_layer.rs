//! The pieces of a lay: outlines, teeth, gap, grain, labels, tooltips.

use geo_types::Polygon;
use svg::node::element::Group;

use crate::job::{GrainDirection, Piece};
use crate::plan::{LaidPiece, edge_words, grain_words, size};
use crate::shape::sin_cos_degrees;

use super::frame::{line, number};
use super::geometry::{carried, laid_polygon, toothed};
use super::ink::{Anchor, classed, group, path, text, tooltip};
use super::label::Spot;
use super::lettering::LINE_STEP;
use super::measures::{LaySheet, Measures};
use super::piece_marks::{ARROW, DETAIL, Label, Marks, PieceMark, full_name, key_number, numbered_name};

/// Draws every piece of the lay.
pub(super) fn pieces(sheet: &LaySheet, measures: &Measures, marks: &Marks) -> Group {
    let teeth: Vec<Option<Polygon<f64>>> = sheet.pieces.iter().map(toothed).collect();
    let mut layer = group("pieces");
    for laid in &sheet.laid.pieces {
        let Some(index) = marks.piece_index(laid) else { continue };
        let piece = &sheet.pieces[index];
        let mut drawing = outlines(sheet, measures, laid, piece, teeth[index].as_ref())
            .set("data-piece", index)
            .set("data-copy", laid.copy);
        if let Some(mark) = marks.of(laid) {
            drawing = written(drawing, measures, laid, piece, mark, marks.number(index));
        }
        layer = layer.add(drawing);
    }
    layer
}

fn outlines(
    sheet: &LaySheet,
    measures: &Measures,
    laid: &LaidPiece,
    piece: &Piece,
    teeth: Option<&Polygon<f64>>,
) -> Group {
    let frame = &measures.frame;
    let cut = frame.path(&laid_polygon(laid));
    let mut drawing = group("piece").add(tooltip(&told(sheet, laid, piece)));
    if sheet.job.gap > 0.0 {
        drawing = drawing.add(path("gap", cut.clone()).set("stroke-width", number(sheet.job.gap)));
    }
    let visible = match teeth {
        Some(teeth) => {
            let toothed = frame.path(&carried(teeth, laid));
            drawing = drawing.add(path("outline nominal", cut)).add(path("teeth", toothed.clone()));
            toothed
        }
        None => {
            drawing = drawing.add(path("outline plain", cut.clone()));
            cut
        }
    };
    if piece.grain.direction == GrainDirection::Bias {
        drawing = drawing.add(path("on-bias", visible.clone()).set("style", "fill:url(#bias)"));
    }
    if laid.flipped {
        drawing = drawing.add(path("laid-face-down", visible).set("style", "fill:url(#face-down)"));
    }
    drawing
}

/// Adds what is written on a piece.
pub(super) fn written(
    drawing: Group,
    measures: &Measures,
    laid: &LaidPiece,
    piece: &Piece,
    mark: &PieceMark,
    key: usize,
) -> Group {
    let mut drawing = drawing;
    if let Some(spot) = mark.arrow {
        drawing = drawing.add(path("grain", arrow(measures, laid, spot)));
    }
    for spot in &mark.again {
        let name = block(measures, laid, *spot, &[(&numbered_name(key, piece, laid.copy), 1.0)], false);
        drawing = drawing.add(name.set("class", "again"));
    }
    let on_hatching = laid.flipped || piece.grain.direction == GrainDirection::Bias;
    match &mark.label {
        Some(Label::Named { spot, lines, details }) => {
            let name_lines = with_copy(lines, piece, laid.copy);
            let name = name_lines.iter().map(|line| (line.as_str(), 1.0));
            let lines: Vec<_> = name.chain(details.iter().map(|line| (line.as_str(), DETAIL))).collect();
            drawing.add(block(measures, laid, *spot, &lines, on_hatching))
        }
        Some(Label::Numbered { spot }) => {
            drawing.add(block(measures, laid, *spot, &[(&key_number(key, piece, laid.copy), 1.0)], on_hatching))
        }
        None => drawing,
    }
}

/// The lines were broken with the highest copy number at their end; puts the true one there.
fn with_copy(lines: &[String], piece: &Piece, copy: u32) -> Vec<String> {
    let mut lines = lines.to_vec();
    if piece.quantity > 1
        && let Some(last) = lines.last_mut()
    {
        let name = last.len() - piece.quantity.to_string().len();
        last.replace_range(name.., &copy.to_string());
    }
    lines
}

/// Lines of text round a spot, each with its size in sizes of the first.
fn block(measures: &Measures, laid: &LaidPiece, spot: Spot, lines: &[(&str, f64)], on_hatching: bool) -> Group {
    let (x, y) = on_sheet(measures, laid, spot);
    let size = spot.size;
    let high: f64 = lines.iter().map(|(_, scale)| scale * LINE_STEP * size).sum();
    let mut label = group(if on_hatching { "label on-hatching" } else { "label" });
    if spot.angle != 0.0 {
        label = label.set("transform", format!("rotate({} {} {})", number(-spot.angle), number(x), number(y)));
    }
    let mut top = y - high / 2.0;
    for (line, scale) in lines {
        let step = scale * LINE_STEP * size;
        let base = top + step / 2.0 + 0.36 * scale * size;
        let mut drawn = text(line, (x, base), scale * size, Anchor::Middle);
        if *scale == 1.0 {
            drawn = classed("name", drawn);
        }
        label = label.add(drawn);
        top += step;
    }
    label
}

fn arrow(measures: &Measures, laid: &LaidPiece, spot: Spot) -> String {
    let (x, y) = on_sheet(measures, laid, spot);
    let (sin, cos) = sin_cos_degrees(spot.angle);
    let along = |ahead: f64, aside: f64| {
        let (ahead, aside) = (ahead * spot.size, aside * spot.size);
        (x + ahead * cos - aside * sin, y - ahead * sin - aside * cos)
    };
    let end = ARROW.width / 2.0 - 0.2;
    let head = 0.8;
    [
        line(along(-end, 0.0), along(end, 0.0)),
        line(along(end - head, 0.3), along(end, 0.0)),
        line(along(end - head, -0.3), along(end, 0.0)),
    ]
    .concat()
}

fn on_sheet(measures: &Measures, laid: &LaidPiece, spot: Spot) -> (f64, f64) {
    (measures.frame.x(laid.at[0] + spot.at.x), measures.frame.y(laid.at[1] + spot.at.y))
}

/// All that is known of a laid piece, for the tooltip.
fn told(sheet: &LaySheet, laid: &LaidPiece, piece: &Piece) -> String {
    let units = sheet.job.units;
    let mut lines = vec![
        full_name(piece, laid.copy),
        format!("{} of {}", laid.copy, piece.quantity),
        format!("size {}", size(piece.size, units)),
        format!("edge {}", edge_words(piece.edge, units)),
        format!("grain {}", grain_words(piece.grain)),
        format!("turned {}°{}", number(laid.turn), if laid.flipped { ", face down" } else { "" }),
    ];
    let reach = |axis: usize, pick: fn(f64, f64) -> f64, from: f64| {
        units.show(laid.outline.iter().map(|point| point[axis]).fold(from, pick))
    };
    lines.push(format!(
        "from the roll's end {} to {}",
        reach(0, f64::min, f64::INFINITY),
        reach(0, f64::max, f64::NEG_INFINITY)
    ));
    lines.push(format!(
        "from the lower edge {} to {}",
        reach(1, f64::min, f64::INFINITY),
        reach(1, f64::max, f64::NEG_INFINITY)
    ));
    lines.extend(piece.goes.as_ref().map(|goes| format!("goes: {goes}")));
    lines.join("; ")
}
