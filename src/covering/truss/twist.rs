//! What a face that no flat cloth fits asks of the cloth, against what heat can shrink.

use super::sheet::Sheet;
use crate::job::Truss;
use crate::shape::Distances;
use crate::units::Units;

/// What polyester takes up at 250 °F: FAA-H-8083-31 chapter 3; approved covering manual pp. 13, 23.
pub(super) const AT_250: f64 = 0.05;
/// What polyester takes up at 350 °F, the most there is: FAA-H-8083-31 chapter 3; AC 43.13-1B 2-2b.
pub(super) const AT_350: f64 = 0.10;
/// Cloth that is short by less than this, in millimetres, is not short: the threads settle. Common practice, no source.
const SETTLES: f64 = 0.5;
/// Less than this, in millimetres, is not worth a word: nobody builds a frame so true.
const NOTHING: f64 = 0.2;

/// What a face asks of the cloth.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Twist {
    /// Where heat has to take up most for the length of the cloth; `None` for a face that lies flat.
    pub most: Option<Place>,
    /// Where heat of 350 °F is needed, in words.
    pub hot: Vec<String>,
    /// Where no heat is enough, in words.
    pub beyond: Vec<String>,
    /// Where flat cloth is too short, in words.
    pub short: Vec<String>,
}

/// Two nodes of a bay between which the cloth has too much.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Place {
    /// Names of the nodes.
    pub nodes: [String; 2],
    /// Millimetres too many.
    pub give: f64,
    /// Too many for each hundred of the cloth there.
    pub percent: f64,
}

/// Measures a face.
pub(super) fn twist(truss: &Truss, sheet: &Sheet, units: Units) -> Twist {
    let mut ways: Vec<&Distances> = sheet.distances.iter().filter(|pair| pair.give().abs() > NOTHING).collect();
    ways.sort_by(|a, b| b.share().total_cmp(&a.share()));
    let place = |pair: &Distances| Place {
        nodes: sheet.names(truss, pair.nodes),
        give: pair.give(),
        percent: (pair.share() * 1000.0).round() / 10.0,
    };
    let told = |pair: &Distances| {
        let Place { nodes: [from, to], give, percent } = place(pair);
        format!("{} ({} %) between {from:?} and {to:?}", units.show(give.abs()), percent.abs())
    };
    let all = |wanted: &dyn Fn(&Distances) -> bool| {
        ways.iter().copied().filter(|pair| wanted(pair)).map(told).collect::<Vec<String>>()
    };
    Twist {
        most: ways.first().filter(|pair| pair.give() > 0.0).map(|pair| place(pair)),
        hot: all(&|pair| pair.share() > AT_250 && pair.share() <= AT_350),
        beyond: all(&|pair| pair.share() > AT_350),
        short: all(&|pair| pair.give() < -SETTLES),
    }
}
