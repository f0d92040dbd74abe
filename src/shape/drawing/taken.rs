//! What is taken from a drawing: closed shapes in millimetres, and in words what was left and what was mended.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use geo_types::Coord;
use kurbo::{Affine, Rect};

use super::chain::{Chained, chain};
use super::names::Names;
use super::nest::{Nested, nest};
use super::{Drawing, DrawingFault, DrawnLine, Pick, Size, Wish, limits};
use crate::shape::{Curve, OutlineFault};
use crate::units::trimmed;
use crate::wording::counted;

/// The shapes that were taken.
#[derive(Clone, Debug)]
pub struct Taken {
    /// In the order of the drawing, no two with the same name.
    pub shapes: Vec<TakenShape>,
    /// Closed lines that cannot be cut, by name, and why.
    pub refused: Vec<(String, OutlineFault)>,
    /// Millimetres in one unit of the drawing.
    pub unit: f64,
    /// What was mended, one sentence each.
    pub mended: Vec<String>,
    /// What was left out, one phrase each.
    pub left_out: Vec<String>,
}

/// One closed shape.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenShape {
    /// Its id, or the drawing's name and a number.
    pub name: String,
    /// The layer that it is on.
    pub layer: Option<String>,
    /// The outline, its lower left corner at the origin.
    pub curve: Curve,
    /// Where that corner lies in the drawing, y up.
    pub at: Coord<f64>,
    /// Length and width in millimetres.
    pub size: [f64; 2],
    /// How many holes it has.
    pub holes: usize,
}

impl Drawing {
    /// Takes the closed shapes that are wished for.
    ///
    /// # Errors
    /// [`DrawingFault`] where nothing has the wished name, where the drawing does not say how large it is, and where it
    /// goes beyond the [`limits`].
    pub fn take(&self, wish: &Wish) -> Result<Taken, DrawingFault> {
        if let Some(fault) = self.unknown(&wish.pick) {
            return Err(fault);
        }
        let named: Vec<&DrawnLine> = self.lines.iter().filter(|line| wish.pick.takes(line)).collect();
        let (seen, hidden): (Vec<&DrawnLine>, Vec<&DrawnLine>) =
            named.iter().partition(|line| wish.hidden || line.hidden.is_none());
        let hidden = hidden_words(&hidden);
        if seen.is_empty() {
            return Err(DrawingFault::new(
                format!("all that was asked for is hidden in the drawing: {}", hidden.join(", ")),
                "show it there and save the drawing again; `trace --hidden` tells what it is",
            ));
        }
        let unit = self.unit_of(wish.size, &seen)?;
        let lines: Vec<DrawnLine> = seen.into_iter().map(|line| scaled(line, unit)).collect();
        if lines.iter().filter_map(DrawnLine::bounds).any(|bounds| !within(bounds)) {
            return Err(DrawingFault::new(
                "the drawing reaches farther than a kilometre from its origin",
                "look at the unit, and move the pieces near the origin",
            ));
        }
        let chained = chain(lines, wish.join)?;
        if chained.loops.len() > limits::SHAPES {
            let count = chained.loops.len();
            return Err(DrawingFault::new(
                format!("the drawing has {count} closed lines, {} is the most", limits::SHAPES),
                "pick one layer or one group",
            ));
        }
        Ok(self.sorted(chained, unit, hidden, wish.join))
    }

    fn unit_of(&self, size: Size, lines: &[&DrawnLine]) -> Result<f64, DrawingFault> {
        let unit = match size {
            Size::Unit(unit) => unit,
            Size::AsDrawn => self.unit.ok_or_else(|| {
                let bounds = lines.iter().filter_map(|line| line.bounds()).reduce(|all, next| all.union(next));
                let [width, height] = bounds.map_or([0.0; 2], |bounds| [bounds.width(), bounds.height()]);
                DrawingFault::new(
                    format!(
                        "the drawing does not say how large it is: it has no physical unit, and what is asked for is {} × \
                         {} units",
                        rounded(width),
                        rounded(height)
                    ),
                    "give the length of one unit (\"1 mm\" or \"1 in\"; 0.264583 mm, 0.282222 mm or 0.352778 mm for 96, 90 or \
                     72 to the inch) as the unit, or a width that you know",
                )
            })?,
            Size::Width(width) => {
                let bounds = lines.iter().filter_map(|line| line.bounds()).reduce(|all, next| all.union(next));
                width / bounds.map_or(0.0, |bounds| bounds.width())
            }
        };
        if unit.is_finite() && unit > 0.0 {
            return Ok(unit);
        }
        Err(DrawingFault::new("what was asked for has no width, so it tells no scale", "give the length of one unit"))
    }

    /// A name that nothing has; for layers, each of them must be there.
    fn unknown(&self, pick: &Pick) -> Option<DrawingFault> {
        let known = |names: fn(&DrawnLine) -> &Names| -> BTreeSet<&str> {
            self.lines.iter().flat_map(|line| names(line).iter()).collect()
        };
        let (what, name, known) = match pick {
            Pick::All if self.lines.is_empty() => {
                return Some(DrawingFault::new("the drawing has no lines", "look at what was saved"));
            }
            Pick::All => return None,
            Pick::Id(id) => ("id", Some(id), known(|line| &line.ids)),
            Pick::Layers(layers) => {
                let known = known(|line| &line.layers);
                ("layer", layers.iter().find(|layer| !known.contains(layer.as_str())), known)
            }
        };
        let name = name.filter(|name| !known.contains(name.as_str()))?;
        let count = known.len();
        let known: Vec<&str> = known.into_iter().take(10).collect();
        let hint = match known[..] {
            [] => format!("nothing in it has an {what}"),
            [only] => format!("there is “{only}”"),
            _ => format!("there are “{}”{}", known.join("”, “"), if count > 10 { " and others" } else { "" }),
        };
        Some(DrawingFault::new(format!("nothing in the drawing has the {what} “{name}”"), hint))
    }

    fn sorted(&self, chained: Chained, unit: f64, hidden: Vec<String>, join: f64) -> Taken {
        let mut mended = self.remarks.clone();
        let mut left_out = self.left_out.words();
        if chained.doubled > 0 {
            left_out.push(counted(chained.doubled as u64, "line drawn twice", "lines drawn twice"));
        }
        left_out.extend(hidden);
        if let Some(open) = chained.open.first() {
            let from =
                open.segments.first().map_or((0.0, 0.0), |first| (rounded(first.start().x), rounded(first.start().y)));
            let count = counted(chained.open.len() as u64, "open line", "open lines");
            left_out.push(format!(
                "{count}, which closes nowhere within {}; the first begins at x = {}, y = {}",
                fine(join),
                from.0,
                from.1
            ));
        }
        if chained.chained > 0 {
            mended.push(format!("{} chained into loops", counted(chained.chained as u64, "loose line", "loose lines")));
        }
        if let Some(widest) = chained.gaps.iter().copied().reduce(f64::max) {
            let count = counted(chained.gaps.len() as u64, "gap", "gaps");
            mended.push(format!("{count} closed, the widest {}", fine(widest.max(0.001))));
        }
        let mut taken = Taken { shapes: Vec::new(), refused: Vec::new(), unit, mended, left_out };
        let mut names = BTreeMap::new();
        let mut specks = 0;
        for (index, nested) in nest(chained.loops).into_iter().enumerate() {
            let bounds = nested.outer.bounds().unwrap_or(Rect::ZERO);
            if bounds.width().min(bounds.height()) < limits::SMALLEST {
                specks += 1;
                continue;
            }
            let name = self.name_of(&nested, index, &mut names);
            let (shape, fault) = shape(nested, name, bounds);
            match fault {
                None => taken.shapes.push(shape),
                Some(fault) => taken.refused.push((shape.name, fault)),
            }
        }
        if specks > 0 {
            taken.left_out.push(counted(specks as u64, "speck less than 0.1 mm wide", "specks less than 0.1 mm wide"));
        }
        taken
    }

    /// The name of a shape: its own, else that of the drawing with a number. `used` has every name that is given away, with
    /// the number that is to be tried next after it.
    fn name_of(&self, nested: &Nested, index: usize, used: &mut BTreeMap<String, usize>) -> String {
        let stem =
            self.name.rsplit(['/', '\\']).next().unwrap_or("").rsplit_once('.').map_or("shape", |(stem, _)| stem);
        let printable = |name: &Arc<str>| {
            let name: String = name.chars().filter(|c| !c.is_control()).take(100).collect();
            name.trim().to_owned()
        };
        let own = nested.outer.name.as_ref().map(printable).filter(|name| !name.is_empty());
        let name = own.unwrap_or_else(|| format!("{stem} {}", index + 1));
        let first = used.get(&name).copied();
        let numbered = |number: usize| format!("{name} {number}");
        let number =
            first.map(|first| (first..).find(|number| !used.contains_key(&numbered(*number))).unwrap_or(first));
        used.insert(name.clone(), number.map_or(2, |number| number + 1));
        let Some(number) = number else { return name };
        used.insert(numbered(number), 2);
        numbered(number)
    }
}

fn shape(nested: Nested, name: String, bounds: Rect) -> (TakenShape, Option<OutlineFault>) {
    let holes: Vec<_> = nested.holes.into_iter().map(|hole| hole.segments).collect();
    let at = Coord { x: bounds.x0, y: bounds.y0 };
    let count = holes.len();
    let curve = Curve::from_rings(nested.outer.segments, holes);
    let fault = curve.flatten().err();
    let curve = curve.shifted(Coord { x: 0.0, y: 0.0 } - at);
    let size = [bounds.width(), bounds.height()];
    (
        TakenShape { name, layer: nested.outer.layers.iter().next().map(str::to_owned), curve, at, size, holes: count },
        fault,
    )
}

/// How many lines are hidden, by what hides them.
fn hidden_words(lines: &[&DrawnLine]) -> Vec<String> {
    let mut counts: BTreeMap<&str, u64> = BTreeMap::new();
    for by in lines.iter().filter_map(|line| line.hidden.as_deref()) {
        *counts.entry(by).or_default() += 1;
    }
    let words = |(by, count): (&&str, &u64)| format!("{} in {by}", counted(*count, "hidden line", "hidden lines"));
    counts.iter().map(words).collect()
}

impl Pick {
    fn takes(&self, line: &DrawnLine) -> bool {
        match self {
            Self::All => true,
            Self::Id(id) => line.ids.contain(id),
            Self::Layers(layers) => layers.iter().any(|layer| line.layers.contain(layer)),
        }
    }
}

fn scaled(line: &DrawnLine, unit: f64) -> DrawnLine {
    let map = Affine::scale(unit);
    DrawnLine { segments: line.segments.iter().map(|segment| segment.carried(map)).collect(), ..line.clone() }
}

fn within(bounds: Rect) -> bool {
    [bounds.x0, bounds.y0, bounds.x1, bounds.y1].into_iter().all(|value| value.abs() <= limits::LENGTH)
}

/// A distance to a thousandth: gaps are finer than what is cut.
fn fine(mm: f64) -> String {
    format!("{} mm", trimmed(mm, 3))
}

fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0 + 0.0
}
