//! What can be wrong with a face that is to be laid out flat.

use thiserror::Error;

/// Why a face cannot be unrolled. Nodes are given by their place in the ring, counted from 0; the messages count from 1.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum UnrollFault {
    /// A face needs three nodes.
    #[error("a face needs three nodes or more, here are {nodes}")]
    TooFewNodes {
        /// How many there are.
        nodes: usize,
    },
    /// A coordinate is not finite, or beyond [`FAR_AWAY`](crate::shape::FAR_AWAY).
    #[error("node {} of the ring is no place within a kilometre of the origin; is the unit right?", .node + 1)]
    TooFar {
        /// The node.
        node: usize,
    },
    /// Two nodes lie in the same place.
    #[error("nodes {} and {} of the ring lie in the same place; leave one of them out", .nodes[0] + 1, .nodes[1] + 1)]
    SamePlace {
        /// The two.
        nodes: [usize; 2],
    },
    /// The end of a member is no node of the ring.
    #[error("a member across the face ends at node {}, the ring has {nodes}", .end + 1)]
    EndNotInRing {
        /// The end given.
        end: usize,
        /// How many nodes the ring has.
        nodes: usize,
    },
    /// Two members cross inside the face.
    #[error(
        "the member from node {} to node {} crosses another one across the face; members may meet only at nodes",
        .member[0] + 1, .member[1] + 1
    )]
    Crossing {
        /// The later of the two.
        member: [usize; 2],
    },
    /// The nodes of a bay lie on one line.
    #[error("the bay between nodes {} has no area: they lie on one line", counted(.bay))]
    NoArea {
        /// Its nodes.
        bay: Vec<usize>,
    },
    /// The two chains of a strip do not have the same number of nodes.
    #[error("one side of the strip has {lower} nodes, the other {upper}; each needs its opposite")]
    UnlikeChains {
        /// Nodes of the lower chain.
        lower: usize,
        /// Nodes of the upper chain.
        upper: usize,
    },
}

fn counted(nodes: &[usize]) -> String {
    let numbers: Vec<String> = nodes.iter().map(|node| (node + 1).to_string()).collect();
    numbers.join(", ")
}
