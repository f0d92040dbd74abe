//! No-fit polygons against exact integer predicates that know nothing of sums, windings or indices.

use proptest::prelude::*;

use super::minkowski::{GridPoint, GridRings, eroded, no_fit_rings};
use super::no_fit::NoFit;
use super::pairs::EASE;
use super::shapes::Shapes;
use super::test_pieces::piece;

/// Steps of the grid by which crossings of the no-fit polygon may be rounded.
const ROUNDING: i32 = 3;

type Wide = [i128; 2];

fn cross(o: Wide, a: Wide, b: Wide) -> i128 {
    (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
}

/// The edges of rings after a shift.
fn edges(rings: &GridRings, by: GridPoint) -> Vec<[Wide; 2]> {
    let shifted = |p: &GridPoint| [0, 1].map(|axis| i128::from(p[axis]) + i128::from(by[axis]));
    let of_ring = |ring: &Vec<GridPoint>| -> Vec<[Wide; 2]> {
        (0..ring.len()).map(|k| [shifted(&ring[k]), shifted(&ring[(k + 1) % ring.len()])]).collect()
    };
    rings.iter().flat_map(of_ring).collect()
}

/// Whether a point lies inside by the even-odd rule and on no edge.
fn strictly_inside(edges: &[[Wide; 2]], p: Wide) -> bool {
    let mut inside = false;
    for [a, b] in edges {
        let side = cross(*a, *b, p);
        let in_box = (0..2).all(|axis| a[axis].min(b[axis]) <= p[axis] && p[axis] <= a[axis].max(b[axis]));
        if side == 0 && in_box {
            return false;
        }
        if (a[1] > p[1]) != (b[1] > p[1]) && (side > 0) == (b[1] > a[1]) {
            inside = !inside;
        }
    }
    inside
}

/// How much finer the grid is on which points beside edges are looked at.
const FINER: i128 = 1_000_000;

/// Whether a point just inside an edge of one shape lies in both: that tells of edges that lie on each other and cross
/// nowhere.
fn edge_inside(walker: &[[Wide; 2]], of: &[[Wide; 2]]) -> bool {
    let finer = |edges: &[[Wide; 2]]| -> Vec<[Wide; 2]> {
        edges.iter().map(|edge| edge.map(|point| point.map(|value| 2 * FINER * value))).collect()
    };
    let (fine_walker, fine_of) = (finer(walker), finer(of));
    walker.iter().any(|[a, b]| {
        let way = [b[0] - a[0], b[1] - a[1]];
        // The inside is on the left of every edge, of holes too.
        let beside = [FINER * (a[0] + b[0]) - way[1], FINER * (a[1] + b[1]) + way[0]];
        strictly_inside(&fine_walker, beside) && strictly_inside(&fine_of, beside)
    })
}

/// Whether two shapes share more than border: edges that cross, a corner of one inside the other, or a place beside an edge
/// that lies in both.
fn overlap(one: &[[Wide; 2]], other: &[[Wide; 2]]) -> bool {
    let crosses = |[a, b]: &[Wide; 2], [c, d]: &[Wide; 2]| {
        let sides = [cross(*a, *b, *c), cross(*a, *b, *d), cross(*c, *d, *a), cross(*c, *d, *b)].map(i128::signum);
        sides[0] * sides[1] < 0 && sides[2] * sides[3] < 0
    };
    let corner_inside = |walker: &[[Wide; 2]], of: &[[Wide; 2]]| walker.iter().any(|[p, _]| strictly_inside(of, *p));
    one.iter().any(|e| other.iter().any(|f| crosses(e, f)))
        || corner_inside(one, other)
        || corner_inside(other, one)
        || edge_inside(one, other)
        || edge_inside(other, one)
}

/// Two frames that lie on each other, wholly or but for a step along a side: no edges cross, and no corner lies inside.
#[test]
fn shapes_whose_edges_lie_on_each_other_overlap() {
    let frame = vec![vec![[-10, -10], [10, -10], [10, 10], [-10, 10]], vec![[-2, -2], [-2, 2], [2, 2], [2, -2]]];
    let at = |x: i32, y: i32| overlap(&edges(&frame, [0, 0]), &edges(&frame, [x, y]));
    assert!(at(0, 0) && at(0, 19) && at(-19, 0));
    assert!(!at(0, 20) && !at(20, 20));
}

/// A simple polygon round the origin with arms of any length.
fn star(size: i32) -> impl Strategy<Value = Vec<GridPoint>> {
    proptest::collection::vec(0.2..1.0f64, 5..14).prop_map(move |arms| {
        let turn = 360.0 / arms.len() as f64;
        let point = |(k, arm): (usize, &f64)| {
            let (sin, cos) = crate::shape::sin_cos_degrees(turn * k as f64);
            [cos, sin].map(|share| (f64::from(size) * arm * share).round() as i32)
        };
        arms.iter().enumerate().map(point).collect()
    })
}

/// A star, or a square frame round a hole with arms.
fn shape() -> impl Strategy<Value = GridRings> {
    let frame = star(700).prop_map(|mut hole| {
        hole.reverse();
        vec![vec![[-1000, -1000], [1000, -1000], [1000, 1000], [-1000, 1000]], hole]
    });
    prop_oneof![3 => star(1000).prop_map(|ring| vec![ring]), 2 => star(300).prop_map(|ring| vec![ring]), 1 => frame]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn depth_is_above_zero_just_where_two_shapes_overlap(
        a in shape(), b in shape(), places in proptest::collection::vec((-2100..2100i32, -2100..2100i32), 60),
    ) {
        let no_fit = NoFit::new(&no_fit_rings(&a, &b), 1.0, 4096);
        let still = edges(&a, [0, 0]);
        for (x, y) in places {
            let depth = no_fit.depth([f64::from(x), f64::from(y)]);
            let overlap_at = |dx: i32, dy: i32| overlap(&still, &edges(&b, [x + dx, y + dy]));
            if depth > f64::from(ROUNDING) {
                prop_assert!(overlap_at(0, 0), "a depth of {depth} at {x} {y}, and no overlap");
            }
            let around = [-ROUNDING, 0, ROUNDING];
            if depth == 0.0 {
                let deep = around.iter().all(|dx| around.iter().all(|dy| overlap_at(*dx, *dy)));
                prop_assert!(!deep, "no depth at {x} {y}, and an overlap");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn shapes_touch_where_they_are_said_to(a in shape(), b in shape(), which in 0.0..1.0f64, share in 0.1..0.9f64) {
        let no_fit = NoFit::new(&no_fit_rings(&a, &b), 1.0, 4096);
        let t = no_fit.touching(which, share);
        prop_assert!(no_fit.depth(t) < 1e-6, "a depth of {}", no_fit.depth(t));
        let inwards = no_fit.slope_at(&no_fit.spot(t)).inwards;
        let nearer = [0, 1].map(|axis| t[axis] + 0.01 * inwards[axis]);
        prop_assert!(no_fit.depth(nearer) > 0.0, "{t:?} and {inwards:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn a_free_region_holds_its_displacement_and_no_overlap(
        a in shape(),
        b in shape(),
        (x, y) in (-2100..2100i32, -2100..2100i32),
        reach in 5.0..900.0f64,
        shares in proptest::collection::vec((-1.0..1.0f64, -1.0..1.0f64), 80),
    ) {
        let no_fit = NoFit::new(&no_fit_rings(&a, &b), 1.0, 4096);
        let t = [f64::from(x), f64::from(y)];
        prop_assume!(no_fit.depth(t) == 0.0);
        let touch = 0.5;
        let region = no_fit.free_region(t, reach, touch);
        prop_assert!(region.iter().all(|plane| plane.ahead(t) >= -1e-9), "{t:?} itself is cut off");
        for (along, across) in shares {
            let p = [t[0] + reach * along, t[1] + reach * across];
            if region.iter().all(|plane| plane.ahead(p) >= 0.0) {
                let depth = no_fit.depth(p);
                prop_assert!(depth <= 2.0 * touch, "an overlap of {depth} at {p:?} near {t:?}");
            }
        }
    }
}

/// An L that fills its own notch exactly, but for rounding: whether it finds room there must not depend on which of the
/// two is asked.
#[test]
fn a_slot_without_room_to_spare_is_the_same_both_ways() {
    let ell = vec![vec![
        [-25_247_873, 9_571_928],
        [7_837_973, 7_837_973],
        [6_104_017, -25_247_873],
        [22_646_940, -26_114_851],
        [25_247_873, 23_513_918],
        [-24_380_895, 26_114_851],
    ]];
    let eased = eroded(&ell, EASE);
    let no_fit = NoFit::new(&no_fit_rings(&eased, &eased), 1e-6, 4096);
    for (x, y) in (-45..45).flat_map(|x| (-45..45).map(move |y| (f64::from(x) * 1.01, f64::from(y) * 1.03))) {
        let (there, back) = (no_fit.depth([x, y]), no_fit.depth([-x, -y]));
        assert!(
            (there - back).abs() < 1e-4 && (there > 0.0) == (back > 0.0),
            "a shape lies as deep in itself both ways: {there} and {back} at {x} {y}"
        );
    }
}

/// A notch just as wide as a square is room for it, and a push from beside leads there.
#[test]
fn a_notch_as_wide_as_the_piece_is_room_for_it() {
    let notched = vec![vec![
        [-15_000, -15_000],
        [15_000, -15_000],
        [15_000, 15_000],
        [5_000, 15_000],
        [5_000, -5_000],
        [-5_000, -5_000],
        [-5_000, 15_000],
        [-15_000, 15_000],
    ]];
    let square = vec![vec![[-5_000, -5_000], [5_000, -5_000], [5_000, 5_000], [-5_000, 5_000]]];
    let no_fit = NoFit::new(&no_fit_rings(&eroded(&notched, EASE), &eroded(&square, EASE)), 1.0, 4096);
    assert_eq!(no_fit.depth([0.0, 5_000.0]), 0.0);
    assert_eq!(no_fit.depth([0.0, 0.0]), 0.0);
    let out = no_fit.way_out([400.0, 5_000.0]).expect("it overlaps the side of the notch");
    assert!((out.push[0] + 400.0).abs() < 5.0 && out.push[1].abs() < 5.0, "{out:?}");
}

/// An L with a gap round it and the same L turned by a quarter: where its arms go on from each other, the no-fit polygon has
/// corners that turn by the rounding of the grid only. What lies straight above such a corner is inside all the same.
#[test]
fn corners_that_are_all_but_straight_hide_nothing_of_the_inside() {
    let (arm, width) = (151.793_325_743_416_72, 50.597_775_247_805_57);
    let corners = [[0.0, 0.0], [arm, 0.0], [arm, width], [width, width], [width, arm], [0.0, arm]];
    let ell = piece(&corners, 2, &[45.0, 315.0]);
    let shapes = Shapes::new(&[ell], &[], false, 2.667_660_784_874).expect("the gap can be kept");
    let [a, b] = [0, 1].map(|shape| eroded(&shapes.shape(shape).rings, EASE));
    let rings = no_fit_rings(&a, &b);
    let no_fit = NoFit::new(&rings, shapes.unit(), 4096);
    let exact = edges(&rings, [0, 0]);
    let reach = rings.iter().flatten().map(|p| p[0].abs().max(p[1].abs())).max().expect("it has corners");
    for (i, j) in (-40..=40).flat_map(|i| (-40..=40).map(move |j| (i, j))) {
        let t = [reach / 40 * i, reach / 40 * j];
        let depth = no_fit.depth(t.map(|c| f64::from(c) * shapes.unit()));
        assert_eq!(depth > 0.0, strictly_inside(&exact, t.map(i128::from)), "{t:?}: {depth}");
    }
}
