//! A framework of tubes in space, as the person describes it, and the faces between them that are to be covered.

use super::airframe::{MemberClass, Spot};
use super::model::GrainDirection;
use crate::shape::SpacePoint;

/// Nodes closer to each other than this, in millimetres, are one place: nobody builds a frame truer.
pub const SAME_NODE: f64 = 0.1;

/// A framework of tubes, such as a fuselage. Its x runs aft along the line of flight, y to the right, z up.
#[derive(Clone, Debug, PartialEq)]
pub struct Truss {
    /// The nodes, in the order of the job.
    pub nodes: Vec<Node>,
    /// The tubes between them.
    pub tubes: Vec<Tube>,
    /// Which way the line of flight lies on the roll.
    pub grain: GrainDirection,
    /// The faces to be covered.
    pub faces: Vec<Face>,
}

/// A named place where tubes meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Unique among the nodes.
    pub name: String,
    /// Where it is: the crossing of the tubes' centre lines.
    pub place: SpacePoint,
}

/// A tube from node to node.
#[derive(Clone, Debug, PartialEq)]
pub struct Tube {
    /// The nodes that it joins, as places in [`Truss::nodes`].
    pub ends: [usize; 2],
    /// Its outside diameter.
    pub diameter: f64,
    /// What it is; one of [`TUBE_CLASSES`].
    pub class: MemberClass,
    /// Where it is written.
    pub at: Spot,
}

/// A face to be covered.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Unique among the faces of the truss.
    pub name: String,
    /// Its nodes in order, as places in [`Truss::nodes`].
    pub ring: Vec<usize>,
    /// When it is covered: 1 first. A later face laps over an earlier one.
    pub order: u32,
    /// Whether the same face is there on the other side of the plane y = 0 too.
    pub mirrored: bool,
    /// Where it is written.
    pub at: Spot,
}

/// What a tube of a truss may be.
pub(super) const TUBE_CLASSES: [MemberClass; 5] =
    [MemberClass::Longeron, MemberClass::CrossTube, MemberClass::Diagonal, MemberClass::Stringer, MemberClass::Former];

impl Truss {
    /// The tube between two nodes, whichever way it was written.
    pub fn tube(&self, ends: [usize; 2]) -> Option<&Tube> {
        self.tubes.iter().find(|tube| tube.ends == ends || tube.ends == [ends[1], ends[0]])
    }

    /// The node in the mirror image of a node's place across the plane y = 0: itself where it lies in that plane.
    pub fn mirror_image(&self, node: usize) -> Option<usize> {
        let [x, y, z] = self.nodes[node].place;
        if y.abs() <= SAME_NODE {
            return Some(node);
        }
        let near = |other: &Node| {
            let wanted = [x, -y, z];
            (0..3).all(|k| (other.place[k] - wanted[k]).abs() <= SAME_NODE)
        };
        self.nodes.iter().position(near)
    }

    /// Whether any face stands for its mirror image as well.
    pub fn has_mirrored_faces(&self) -> bool {
        self.faces.iter().any(|face| face.mirrored)
    }
}
