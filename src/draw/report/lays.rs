//! The lay of each cloth: its figures and its drawing.

use super::Report;
use super::cloth_drawing::{ClothDrawing, cloth_drawing};
use super::cut_order::cloth_names;
use crate::draw::frame::number;
use crate::draw::measures::LaySheet;
use crate::job::{Cloth, Edge, GrainDirection, Piece};
use crate::plan::{ClothAccount, LaidCloth, Purchase, TakeOffUnit, percent};

/// A cloth.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LayView {
    /// Which cloth of the page, from 1.
    pub number: usize,
    /// What it is called.
    pub name: String,
    /// Its figures.
    pub facts: Vec<(&'static str, String)>,
    /// The marks of the drawing.
    pub marks: String,
    /// The box of the whole drawing, as `viewBox` has it.
    pub all: String,
    /// The boxes of stretches for print.
    pub stretches: Vec<String>,
    /// Which marks need to be explained.
    pub key: LayKey,
}

/// Which kinds of pieces lie on a cloth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct LayKey {
    pub plain: bool,
    pub pinked: bool,
    pub bias: bool,
    pub face_down: bool,
    pub flaws: bool,
}

/// The lays of a report.
pub(super) fn lays(report: &Report) -> Vec<LayView> {
    let names = cloth_names(report);
    let cloths = report.lay.cloths.iter().zip(report.accounts).zip(names).enumerate();
    let view = |(index, ((laid, account), name))| {
        let cloth = report.job.cloth.iter().find(|cloth: &&Cloth| cloth.name == cloth_of(laid))?;
        Some(view(report, index + 1, name, LaySheet { job: report.job, pieces: report.pieces, cloth, laid, account }))
    };
    cloths.filter_map(view).collect()
}

fn cloth_of(laid: &LaidCloth) -> &str {
    &laid.cloth
}

fn view(report: &Report, index: usize, name: String, sheet: LaySheet) -> LayView {
    let ClothDrawing { marks, all, stretches } = cloth_drawing(&sheet, index);
    LayView {
        number: index,
        name,
        facts: facts(report, &sheet),
        marks,
        all: view_box(all),
        stretches: stretches.into_iter().map(view_box).collect(),
        key: key(&sheet),
    }
}

/// A box as the attribute `viewBox` has it.
pub(super) fn view_box(sides: [f64; 4]) -> String {
    sides.map(number).join(" ")
}

fn facts(report: &Report, sheet: &LaySheet) -> Vec<(&'static str, String)> {
    let units = report.job.units;
    let LaySheet { laid, account, .. } = sheet;
    let long = |mm: f64| TakeOffUnit::Length.amount(mm, units);
    let usable = units.show(laid.usable[1] - laid.usable[0]);
    vec![
        ("Width", format!("{}, {usable} usable", units.show(laid.width))),
        ("Length used", long(laid.length_used)),
        ("Buy", bought(account, long)),
        ("Left over", long(account.left)),
        ("Pieces", laid.pieces.len().to_string()),
        ("Waste", format!("{} of full width × length used", percent(laid.waste))),
    ]
}

fn bought(account: &ClothAccount, long: impl Fn(f64) -> String) -> String {
    match account.purchase {
        Purchase::OnShelf => "nothing: it is there".to_owned(),
        Purchase::Buy { length, cost, .. } => {
            let cost = cost.map_or(String::new(), |cost| format!(", costs {cost:.2}"));
            format!("{}{cost}", long(length))
        }
    }
}

fn key(sheet: &LaySheet) -> LayKey {
    let kind = |name: &str| sheet.pieces.iter().find(|piece| piece.name == name);
    let any = |test: fn(&Piece) -> bool| sheet.laid.pieces.iter().any(|laid| kind(&laid.piece).is_some_and(test));
    LayKey {
        plain: any(|piece| matches!(piece.edge, Edge::Plain)),
        pinked: any(|piece| matches!(piece.edge, Edge::Pinked(_))),
        bias: any(|piece| piece.grain.direction == GrainDirection::Bias),
        face_down: sheet.laid.pieces.iter().any(|laid| laid.flipped),
        flaws: !sheet.cloth.flaws.is_empty(),
    }
}
