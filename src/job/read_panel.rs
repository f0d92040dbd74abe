//! Reads what is particular to a finished panel: outline, and what its edges meet.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::given_panel::{GivenPanel, PanelEdge, Round};
use super::keys_panel::PANEL_EDGE;
use super::kinds_airframe::edge_locations;
use super::kinds_panel::{NOTHING_ADDED, edge_words};
use super::model::GrainDirection;
use super::read_flat::{grain, hinge, members, without_holes};
use super::reader::{Fields, Reader, Sort};
use super::rule_figure::Location;
use super::words::Words;
use crate::shape::Curve;

const TUBE: Sort = Sort {
    what: "the diameter of a tube",
    hint: "write the outside diameter of the tube, for example \"3/4 in\"; leave it out where there is none",
};
const WRAP: Sort =
    Sort { what: "a wrap", hint: "write what the cloth follows before its lap begins, for example \"30 mm\"" };
const PLACE: &str = "a place that an edge meets";

/// What a finished panel has beyond the keys of every part.
pub(super) fn panel(reader: &mut Reader, fields: &Fields, path: &str) -> Option<GivenPanel> {
    let surface = fields.get("surface").and_then(|value| reader.choice(value, "a surface of a panel"));
    let outline = fields.get("outline").and_then(|value| without_holes(reader, value, "a panel"));
    let edges = fields.get("edges").and_then(|value| edges(reader, value, outline.as_ref()));
    let grain = fields.get("grain").map_or(Some(GrainDirection::Either), |value| grain(reader, value));
    let members = fields.get("members").map_or(Some(Vec::new()), |value| members(reader, value, path));
    let hinge = fields.get("hinge").map_or(Some(None), |value| hinge(reader, value).map(Some));
    Some(GivenPanel {
        surface: surface?,
        outline: outline?,
        edges: edges?,
        grain: grain?,
        members: members?,
        hinge: hinge?,
    })
}

fn edges(reader: &mut Reader, value: &Value, outline: Option<&Curve>) -> Option<Vec<PanelEdge>> {
    let Value::Array(list) = value else {
        let all_round = edge(reader, value)?;
        return Some(vec![all_round; outline?.edge_count()]);
    };
    let read: Vec<_> = list.elements.iter().map(|value| edge(reader, value)).collect();
    let count = outline?.edge_count();
    if read.len() != count {
        let message = format!("the outline has {count} edges, this list has {}", read.len());
        reader.fault(&value.range(), message, "write one for each edge in order, or one for all round");
        return None;
    }
    read.into_iter().collect()
}

fn edge(reader: &mut Reader, value: &Value) -> Option<PanelEdge> {
    let Value::Object(_) = value else {
        let word = reader.word(value, "a word for an edge of a panel", &edge_words())?;
        return if word == NOTHING_ADDED {
            Some(PanelEdge::NothingAdded)
        } else {
            Some(PanelEdge::Joined { at: location(word)?, round: Round::Nothing })
        };
    };
    let fields = reader.object(value, &PANEL_EDGE)?;
    let at = fields.get("at").and_then(|value| reader.word(value, PLACE, &edge_locations())).and_then(location);
    let tube = fields.get("tube").map_or(Some(None), |value| reader.size(value, TUBE).map(Some));
    let wrap = fields.get("wrap").map_or(Some(None), |value| reader.length_or_zero(value, WRAP).map(Some));
    let round = match (tube?, wrap?) {
        (Some(_), Some(_)) => {
            let hint = "keep \"tube\" for a quarter of its circumference, or \"wrap\" for what you measured";
            reader.fault(&value.range(), "this edge has both a \"tube\" and a \"wrap\"", hint);
            return None;
        }
        (Some(diameter), None) => Round::Tube(diameter),
        (None, Some(length)) => Round::Measured(length),
        (None, None) => Round::Nothing,
    };
    Some(PanelEdge::Joined { at: at?, round })
}

fn location(word: &str) -> Option<Location> {
    Location::ALL.iter().find(|(_, known)| *known == word).map(|(location, _)| *location)
}
