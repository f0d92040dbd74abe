//! Reads what is particular to a truss: nodes, tubes, faces, and that they name each other rightly.

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};

use super::airframe::MemberClass;
use super::keys_truss::{FACE, TUBE};
use super::limits;
use super::model::GrainDirection;
use super::nearest::{nearest, one_of, quoted};
use super::read_flat::grain;
use super::read_job::{names, unlike_names};
use super::reader::{Fields, Reader, Sort};
use super::truss::{Face, Node, SAME_NODE, TUBE_CLASSES, Truss, Tube};
use super::words::Words;
use crate::shape::SpacePoint;

const PLACE: Sort =
    Sort { what: "a coordinate of a node", hint: "write the three of them, for example [1200, 310, -20]" };
const PLACE_HINT: &str =
    "write where the node is: [x, y, z]; x runs aft along the line of flight, y to the right, z up";
const DIAMETER: Sort = Sort {
    what: "the diameter of a tube",
    hint: "write the outside diameter of the tube, for example \"3/4 in\" or \"20 mm\"",
};
const NODES_HINT: &str = "write for example { \"A\": [0, 300, 0], \"B\": [900, 320, 0], \"C\": [900, 320, 700] }";
const TUBES_HINT: &str =
    "write for example [{ \"from\": \"A\", \"to\": \"B\", \"diameter\": \"3/4 in\", \"class\": \"longeron\" }]";
const FACES_HINT: &str = "write for example [{ \"name\": \"bottom\", \"ring\": [\"A\", \"B\", \"C\"], \"order\": 1 }]";
const RING_HINT: &str = "write the names of the nodes in order, for example [\"A\", \"B\", \"C\", \"D\"]";

/// The nodes as far as they could be read.
struct Nodes {
    read: Vec<Option<Node>>,
    names: Vec<String>,
}

/// What a truss has beyond the keys of every part.
pub(super) fn truss(reader: &mut Reader, fields: &Fields, path: &str) -> Option<Truss> {
    let nodes = fields.get("nodes").and_then(|value| nodes(reader, value));
    let tubes = fields.get("tubes").and_then(|value| {
        let list = reader.list(value, "the list of tubes", (3, limits::MEMBERS), TUBES_HINT)?;
        let tube_at = |(index, value)| tube(reader, value, nodes.as_ref(), format!("{path}.tubes[{index}]"));
        let tubes: Vec<_> = list.iter().enumerate().map(tube_at).collect();
        given_once(reader, list, &tubes);
        tubes.into_iter().collect::<Option<Vec<_>>>()
    });
    let faces = fields.get("faces").and_then(|value| {
        let list = reader.list(value, "the list of faces", (1, limits::FACES as usize), FACES_HINT)?;
        let face_at = |(index, value)| face(reader, value, nodes.as_ref(), format!("{path}.faces[{index}]"));
        let faces: Vec<_> = list.iter().enumerate().map(face_at).collect();
        unlike_names(reader, &names(list), "face", "give each its own name");
        faces.into_iter().collect::<Option<Vec<_>>>()
    });
    let grain = fields.get("grain").map_or(Some(GrainDirection::Either), |value| grain(reader, value));
    Some(Truss { grain: grain?, nodes: nodes?.read.into_iter().collect::<Option<_>>()?, tubes: tubes?, faces: faces? })
}

fn nodes(reader: &mut Reader, value: &Value) -> Option<Nodes> {
    let opening = Range { start: value.start(), end: value.start() + 1 };
    let Value::Object(object) = value else {
        reader.fault(&opening, "the nodes are an object in { } with a name for each", NODES_HINT);
        return None;
    };
    let count = object.properties.len();
    if !(3..=limits::NODES).contains(&count) {
        let message = format!("a truss has 3 to {} nodes, this one has {count}", limits::NODES);
        reader.fault(&opening, message, NODES_HINT);
        return None;
    }
    let mut nodes = Nodes { read: Vec::new(), names: Vec::new() };
    for entry in &object.properties {
        let name = entry.name.as_str().trim();
        if name.is_empty() || name.chars().any(char::is_control) {
            reader.fault(&entry.name.range(), "a node needs a name on one line", NODES_HINT);
        } else if nodes.names.iter().any(|earlier| earlier == name) {
            let message = format!("two nodes are called {}", quoted(name));
            reader.fault(&entry.name.range(), message, "give each node its own name");
        }
        let node = place(reader, &entry.value).map(|place| Node { name: name.to_owned(), place });
        if let Some(node) = &node {
            apart_from_others(reader, &entry.name.range(), node, &nodes);
        }
        nodes.names.push(name.to_owned());
        nodes.read.push(node);
    }
    Some(nodes)
}

fn apart_from_others(reader: &mut Reader, at: &Range, node: &Node, earlier: &Nodes) {
    let near = |other: &&Node| (0..3).all(|k| (other.place[k] - node.place[k]).abs() <= SAME_NODE);
    if let Some(other) = earlier.read.iter().flatten().find(near) {
        let message = format!("node {} lies in the same place as node {}", quoted(&node.name), quoted(&other.name));
        reader.fault(at, message, "use one node where tubes meet, or put the place right");
    }
}

fn place(reader: &mut Reader, value: &Value) -> Option<SpacePoint> {
    let list = reader.list(value, "the place of a node", (3, 3), PLACE_HINT)?;
    let read: Vec<_> = list.iter().map(|value| reader.length(value, PLACE)).collect();
    Some([read[0]?, read[1]?, read[2]?])
}

/// The place of a node in the list, by its name.
fn node(reader: &mut Reader, value: &Value, nodes: Option<&Nodes>) -> Option<usize> {
    let name = reader.name(value)?;
    let nodes = nodes?;
    let found = nodes.names.iter().position(|known| *known == name);
    if found.is_none() {
        let known = || nodes.names.iter().map(String::as_str);
        let hint = match nearest(&name, known()) {
            Some(right) => format!("did you mean {right:?}?"),
            None if nodes.names.len() <= 12 => {
                format!("the nodes are {}", one_of(known()).replace(" or ", " and "))
            }
            None => "add it to \"nodes\", or write the name as it stands there".to_owned(),
        };
        reader.fault(&value.range(), format!("no node is called {}", quoted(&name)), hint);
    }
    found
}

fn tube(reader: &mut Reader, value: &Value, nodes: Option<&Nodes>, path: String) -> Option<Tube> {
    let fields = reader.object(value, &TUBE)?;
    let from = fields.get("from").and_then(|value| node(reader, value, nodes));
    let to = fields.get("to").and_then(|value| node(reader, value, nodes));
    let diameter = fields.get("diameter").and_then(|value| reader.size(value, DIAMETER));
    let class = fields.get("class").and_then(|value| class(reader, value));
    let ends = [from?, to?];
    if ends[0] == ends[1] {
        reader.fault(&value.range(), "this tube ends at the node where it begins", "write two nodes");
        return None;
    }
    Some(Tube { ends, diameter: diameter?, class: class?, at: reader.spot(value, path) })
}

fn class(reader: &mut Reader, value: &Value) -> Option<MemberClass> {
    let word = reader.word(value, "a class of tube", &TUBE_CLASSES.map(Words::word))?;
    TUBE_CLASSES.into_iter().find(|class| class.word() == word)
}

fn given_once(reader: &mut Reader, list: &[Value], tubes: &[Option<Tube>]) {
    let mut seen = std::collections::BTreeMap::new();
    for (value, tube) in list.iter().zip(tubes) {
        let Some(tube) = tube else { continue };
        let [a, b] = tube.ends;
        if let Some(first) = seen.insert([a.min(b), a.max(b)], value.range()) {
            let message = "this tube joins the same two nodes as an earlier one".to_owned();
            reader.fault_with(value.range(), message, "keep one of the two", (first, "the first one"));
        }
    }
}

fn face(reader: &mut Reader, value: &Value, nodes: Option<&Nodes>, path: String) -> Option<Face> {
    let fields = reader.object(value, &FACE)?;
    let name = fields.get("name").and_then(|value| reader.name(value));
    let ring = fields.get("ring").and_then(|value| ring(reader, value, nodes));
    let order = fields.get("order").and_then(|value| reader.quantity(value, "the order", limits::FACES));
    let mirrored = fields.get("mirrored").map_or(Some(false), |value| reader.yes_or_no(value));
    Some(Face { name: name?, ring: ring?, order: order?, mirrored: mirrored?, at: reader.spot(value, path) })
}

fn ring(reader: &mut Reader, value: &Value, nodes: Option<&Nodes>) -> Option<Vec<usize>> {
    let list = reader.list(value, "the ring of a face", (3, limits::RING + 1), RING_HINT)?;
    let ring: Vec<_> = list.iter().map(|value| node(reader, value, nodes)).collect();
    let mut ring = ring.into_iter().collect::<Option<Vec<usize>>>()?;
    if ring.first() == ring.last() {
        // Written closed, as some do.
        ring.pop();
    }
    if ring.len() < 3 {
        let message = format!("a face needs three nodes or more, this ring has {}", ring.len());
        reader.fault(&value.range(), message, RING_HINT);
        return None;
    }
    let twice = (1..ring.len()).find(|later| ring[..*later].contains(&ring[*later]));
    if let Some(later) = twice {
        let message = format!("the ring comes to node {} a second time", reader.seen(&list[later]));
        reader.fault(&list[later].range(), message, "name each node once; divide the face in two if it meets itself");
        return None;
    }
    Some(ring)
}
