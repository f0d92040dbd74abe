//! The promise: the faces of a framework of tubes become panels that lie on it, lap where laps may lie, and fit the cloth.

use clothwright::covering::{CoveredPart, Covering, Panel, cover};
use clothwright::job::{self, MemberClass};
use clothwright::shape::Outline;
use geo::{Contains, Covers};
use geo_types::{Point, coord};
use proptest::prelude::*;
use std::f64::consts::PI;

/// An inch in millimetres; the lap and the handling of a slow doped fuselage are one inch each (AC 43.13-1B 2-7b(5);
/// common practice, no source).
const INCH: f64 = 25.4;
/// Diameter of the tubes of the box: a lap of an inch goes round half of it.
const TUBE: f64 = 20.0;

const LONG: f64 = 2000.0;
const WIDE: f64 = 600.0;
const HIGH: f64 = 700.0;

/// What is changed in the box, as pieces of a job file.
struct Frame<'t> {
    method: &'t str,
    cloth: &'t str,
    class_of_lower: &'t str,
    bottom_order: u32,
}

impl Default for Frame<'_> {
    fn default() -> Self {
        Self {
            method: "doped",
            cloth: r#"{ "name": "roll", "width": 1780, "faces_alike": true }"#,
            class_of_lower: "longeron",
            bottom_order: 1,
        }
    }
}

impl Frame<'_> {
    /// A box of tubes: A, B, C, D below, E and F above A and B; the bottom, and a side with its mirror image.
    fn job(&self) -> String {
        let y = WIDE / 2.0;
        format!(
            r#"{{ "format": 1, "units": "mm", "cloth": [{}],
            "rules": {{ "method": "{}", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
            "airframe": [{{ "name": "box", "kind": "truss",
                "nodes": {{ "A": [0, {y}, 0], "B": [{LONG}, {y}, 0], "C": [{LONG}, -{y}, 0], "D": [0, -{y}, 0],
                           "E": [0, {y}, {HIGH}], "F": [{LONG}, {y}, {HIGH}] }},
                "tubes": [{{ "from": "A", "to": "B", "diameter": {TUBE}, "class": "{}" }},
                    {{ "from": "B", "to": "C", "diameter": {TUBE}, "class": "cross tube" }},
                    {{ "from": "D", "to": "A", "diameter": {TUBE}, "class": "cross tube" }},
                    {{ "from": "B", "to": "F", "diameter": {TUBE}, "class": "cross tube" }},
                    {{ "from": "E", "to": "F", "diameter": {TUBE}, "class": "longeron" }},
                    {{ "from": "A", "to": "E", "diameter": {TUBE}, "class": "cross tube" }}],
                "faces": [{{ "name": "bottom", "ring": ["A", "B", "C", "D"], "order": {} }},
                          {{ "name": "side", "ring": ["A", "B", "F", "E"], "order": 2, "mirrored": true }}] }}] }}"#,
            self.cloth, self.method, self.class_of_lower, self.bottom_order
        )
    }

    fn covered(&self) -> Covering {
        covering(&self.job()).unwrap_or_else(|faults| panic!("{faults:?}"))
    }
}

fn covering(text: &str) -> Result<Covering, Vec<String>> {
    let job = job::read_text("box.json", text).unwrap_or_else(|faults| panic!("{faults:?}")).job;
    cover(&job).map_err(|faults| faults.iter().map(ToString::to_string).collect())
}

fn only_part(covering: &Covering) -> &CoveredPart {
    assert_eq!(covering.parts.len(), 1);
    &covering.parts[0]
}

fn panel<'c>(covering: &'c Covering, name: &str) -> &'c Panel {
    let mut panels = only_part(covering).panels.iter();
    panels.find(|panel| panel.plan.name == name).unwrap_or_else(|| panic!("no panel {name}"))
}

fn assert_bounds(outline: &Outline, min: [f64; 2], max: [f64; 2]) {
    let bounds = outline.bounds();
    let got = [bounds.min().x, bounds.min().y, bounds.max().x, bounds.max().y];
    for (got, wanted) in got.into_iter().zip([min, max].concat()) {
        assert!((got - wanted).abs() < 1e-6, "{outline:?} is not from {min:?} to {max:?}");
    }
}

/// The bottom is first: once round each of its tubes, which is π times the diameter, and an inch to hold on to.
#[test]
fn the_first_face_is_wrapped_round_its_tubes() {
    let covered = Frame::default().covered();
    let bottom = panel(&covered, "box, bottom");
    assert_bounds(&bottom.plan.finished.flatten().unwrap(), [0.0, 0.0], [LONG, WIDE]);
    let wrap = PI * TUBE;
    assert_bounds(&bottom.trimmed, [-wrap, -wrap], [LONG + wrap, WIDE + wrap]);
    let grown = wrap + INCH;
    assert_bounds(&bottom.cut, [-grown, -grown], [LONG + grown, WIDE + grown]);
    assert_eq!(bottom.plan.quantity, 1);
}

/// The side laps over the bottom by the rule's inch and is the first on its other tubes.
#[test]
fn a_later_face_laps_over_an_earlier_one() {
    let covered = Frame::default().covered();
    let side = panel(&covered, "box, side");
    let wrap = PI * TUBE;
    let laps: Vec<f64> = side.plan.edges.iter().map(|edge| edge.lap).collect();
    assert_eq!(laps.iter().filter(|lap| **lap == INCH).count(), 1);
    assert!(side.plan.edges.iter().all(|edge| (edge.wrap == wrap) != (edge.lap == INCH)));
    let bounds = side.trimmed.bounds();
    assert!((bounds.width() - (LONG + 2.0 * wrap)).abs() < 1e-6, "{bounds:?}");
    assert!((bounds.height() - (HIGH + INCH + wrap)).abs() < 1e-6, "{bounds:?}");
    assert_eq!(side.plan.quantity, 2);
    assert!(side.plan.goes.contains("laps over bottom"), "{}", side.plan.goes);
}

#[test]
fn faces_in_another_order_lap_the_other_way() {
    let covered = Frame { bottom_order: 3, ..Frame::default() }.covered();
    let [bottom, side] = ["box, bottom", "box, side"].map(|name| panel(&covered, name));
    assert_eq!(bottom.plan.edges.iter().filter(|edge| edge.lap == INCH).count(), 2);
    assert!(side.plan.edges.iter().all(|edge| edge.lap == 0.0 && edge.wrap == PI * TUBE));
}

#[test]
fn sewn_faces_meet_with_their_margins() {
    let covered = Frame { method: "sewn", ..Frame::default() }.covered();
    let bottom = panel(&covered, "box, bottom");
    // Approved covering manual p. 81: a quarter of an inch past a closing seam.
    assert!(bottom.plan.edges.iter().all(|edge| edge.lap == INCH / 4.0));
    assert_eq!(bottom.plan.edges.iter().filter(|edge| edge.wrap == 0.0).count(), 2);
}

#[test]
fn cloth_with_two_faces_needs_a_panel_for_each_hand() {
    let cloth = r#"{ "name": "roll", "width": 1780 }"#;
    let covered = Frame { cloth, ..Frame::default() }.covered();
    let [left, right] = ["box, side", "box, side, mirror image"].map(|name| panel(&covered, name));
    assert_eq!([left.plan.quantity, right.plan.quantity], [1, 1]);
    let flip = |outline: &Outline| -> Vec<(f64, f64)> {
        let mut points: Vec<(f64, f64)> = outline.polygon().exterior().0.iter().map(|p| (-p.x, p.y)).collect();
        points.reverse();
        points
    };
    let same = |outline: &Outline| outline.polygon().exterior().0.iter().map(|p| (p.x, p.y)).collect::<Vec<_>>();
    let mut wanted = flip(&left.cut);
    let mut got = same(&right.cut);
    for ring in [&mut wanted, &mut got] {
        ring.pop();
        ring.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    }
    assert!(got.iter().zip(&wanted).all(|(a, b)| (a.0 - b.0).abs() + (a.1 - b.1).abs() < 1e-9));
}

#[test]
fn the_area_counts_both_hands() {
    let covered = Frame::default().covered();
    let area: f64 = only_part(&covered).panels.iter().map(|p| p.trimmed.area() * f64::from(p.plan.quantity)).sum();
    assert!((only_part(&covered).balance.unwrap().area - area).abs() < 1e-6);
}

/// Trade rule: stringers and formers are not structure (approved covering manual pp. 16, 53; AC 43.13-1B 2-8 NOTE).
#[test]
fn a_face_may_end_at_a_stringer_where_it_is_sewn() {
    // That a lap is refused is in `covering_faults`.
    Frame { class_of_lower: "stringer", method: "sewn", ..Frame::default() }.covered();
}

/// A square of side a with two opposite corners raised by h. Laid flat its diagonals are √(1 + h²/a²) times as long as in
/// space, so that heat has to take up 1 − 1/√(1 + h²/a²) of the cloth.
fn saddle(raised: f64, more_tubes: &str) -> String {
    let tube =
        |from: &str, to: &str| format!(r#"{{ "from": "{from}", "to": "{to}", "diameter": 20, "class": "longeron" }}"#);
    let tubes = [tube("A", "B"), tube("B", "C"), tube("C", "D"), tube("D", "A")].join(", ");
    format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780 }}],
        "rules": {{ "method": "cemented", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
        "airframe": [{{ "name": "saddle", "kind": "truss",
            "nodes": {{ "A": [0, 0, 0], "B": [1000, 0, {raised}], "C": [1000, 1000, 0], "D": [0, 1000, {raised}] }},
            "tubes": [{tubes}{more_tubes}], "faces": [{{ "name": "top", "ring": ["A", "B", "C", "D"], "order": 1 }}] }}] }}"#
    )
}

/// 5 % at 250 °F and 10 % at 350 °F: FAA-H-8083-31 chapter 3; AC 43.13-1B 2-2b.
#[test]
fn a_twist_is_measured_against_what_heat_takes_up() {
    let told = |covered: &Covering| {
        let figures = panel(covered, "saddle, top").plan.figures.clone();
        figures.into_iter().find(|figure| figure.what.starts_with("twist for heat to take up"))
    };
    let gentle = covering(&saddle(100.0, "")).unwrap();
    let figure = told(&gentle).expect("the twist is told");
    let closed_form = 2.0_f64.sqrt() * (1000.0_f64.hypot(100.0) - 1000.0);
    assert!((figure.value - closed_form).abs() < 1e-3, "{figure:?}");
    assert!(figure.source.starts_with("0.5 % of the cloth"), "{figure:?}");
    assert!(gentle.cautions.iter().all(|caution| !caution.contains("°F")), "{:?}", gentle.cautions);
    assert_eq!(told(&covering(&saddle(0.0, "")).unwrap()), None);

    // 1 − 1/√1.16 is 7.2 %.
    let strong = covering(&saddle(400.0, "")).unwrap();
    let caution = strong.cautions.iter().find(|caution| caution.contains("350 °F")).expect("a caution");
    assert!(caution.contains("108.9 mm (7.2 %) between \"A\" and \"C\""), "{caution}");

    // 1 − 1/√1.36 is 14.3 %, more than cloth can do: see `covering_faults`.
    assert!(covering(&saddle(600.0, "")).is_err());

    // A tube along the diagonal takes the twist out.
    let brace = r#", { "from": "A", "to": "C", "diameter": 20, "class": "cross tube" }"#;
    assert_eq!(told(&covering(&saddle(600.0, brace)).unwrap()), None);
}

/// A ladder of two bays, too wide for the cloth either way until it is divided at the rung.
fn ladder(rung: &str, width: f64) -> String {
    format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": {width} }}],
        "rules": {{ "method": "cemented", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
        "airframe": [{{ "name": "deck", "kind": "truss",
            "nodes": {{ "A": [0, 0, 0], "B": [1500, 0, 0], "C": [3000, 0, 0], "D": [3000, 1900, 0], "E": [1500, 1900, 0], "F": [0, 1900, 0], "G": [0, 0, -500] }},
            "tubes": [{{ "from": "A", "to": "B", "diameter": 20, "class": "longeron" }}, {{ "from": "B", "to": "C", "diameter": 20, "class": "longeron" }},
                {{ "from": "C", "to": "D", "diameter": 20, "class": "cross tube" }}, {{ "from": "D", "to": "E", "diameter": 20, "class": "longeron" }},
                {{ "from": "E", "to": "F", "diameter": 20, "class": "longeron" }}, {{ "from": "F", "to": "A", "diameter": 20, "class": "cross tube" }},
                {{ "from": "B", "to": "E", "diameter": 20, "class": "{rung}" }}],
            "faces": [{{ "name": "top", "ring": ["A", "B", "C", "D", "E", "F"], "order": 1 }}] }}] }}"#
    )
}

#[test]
fn a_face_wider_than_the_cloth_is_divided_over_structure_or_sewn() {
    let covered = covering(&ladder("cross tube", 1780.0)).unwrap();
    let top = panel(&covered, "deck, top");
    assert_eq!(top.strips.len(), 2);
    assert_eq!(top.seams.len(), 1);
    let words = top.figure_lines(clothwright::units::Units::Mm).join("; ");
    assert!(words.contains("seam lapped over a cross tube"), "{words}");
    let xs = top.seams[0].ends.map(|end| end.x);
    assert!((xs[0] - 1500.0).abs() < 1e-6 && (xs[1] - 1500.0).abs() < 1e-6);

    let covered = covering(&ladder("stringer", 1780.0)).unwrap();
    let words = panel(&covered, "deck, top").figure_lines(clothwright::units::Units::Mm).join("; ");
    assert!(words.contains("seam sewn"), "{words}");
}

#[test]
fn members_lie_under_the_panel_where_the_tubes_are() {
    let covered = covering(&ladder("stringer", 2200.0)).unwrap();
    let top = panel(&covered, "deck, top");
    assert_eq!(top.strips.len(), 1);
    let [rung] = &top.plan.members[..] else { panic!("one rung: {:?}", top.plan.members) };
    assert_eq!(rung.class, MemberClass::Stringer);
    let mut ends = rung.ends;
    ends.sort_by(|a, b| a.y.total_cmp(&b.y));
    for (end, y) in ends.into_iter().zip([0.0, 1900.0]) {
        assert!((end.x - 1500.0).abs() < 1e-6 && (end.y - y).abs() < 1e-6, "{ends:?}");
    }
}

/// A sheet folded square over a tube of 20 mm runs a quarter of its circumference farther, π·20/4 = 15.7 mm.
#[test]
fn a_bend_over_a_tube_is_told() {
    let folded = |height: f64| {
        let tube = |from: &str, to: &str| {
            format!(r#"{{ "from": "{from}", "to": "{to}", "diameter": 20, "class": "longeron" }}"#)
        };
        let tubes = [("A", "B"), ("B", "C"), ("C", "D"), ("D", "E"), ("E", "F"), ("F", "A"), ("B", "E"), ("A", "G")];
        format!(
            r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780 }}],
            "rules": {{ "method": "cemented", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
            "airframe": [{{ "name": "deck", "kind": "truss",
                "nodes": {{ "A": [0, 0, 0], "B": [0, 400, 0], "C": [0, 400, {height}], "D": [900, 400, {height}],
                           "E": [900, 400, 0], "F": [900, 0, 0], "G": [0, 0, -2000] }},
                "tubes": [{}],
                "faces": [{{ "name": "top", "ring": ["A", "B", "C", "D", "E", "F"], "order": 1 }}] }}] }}"#,
            tubes.map(|(from, to)| tube(from, to)).join(", ")
        )
    };
    let outwards = covering(&folded(-300.0)).unwrap().cautions.join("\n");
    assert!(
        outwards.contains(r#"bent by 90° over the tube from "B" to "E"; the cloth runs 15.7 mm farther"#),
        "{outwards}"
    );
    let inwards = covering(&folded(300.0)).unwrap().cautions.join("\n");
    assert!(inwards.contains("bent by 90°") && inwards.contains("inwards"), "{inwards}");
}

/// The demonstration job: the sides of its fuselage are about 5 m long and 0.9 m high, and laps lie as the order says.
#[test]
fn the_fuselage_of_the_dunlin_is_covered() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/dunlin/fuselage-truss.json");
    let job = job::read(&path).unwrap().job;
    let covered = cover(&job).unwrap();
    let names: Vec<&str> = only_part(&covered).panels.iter().map(|panel| panel.plan.name.as_str()).collect();
    assert_eq!(names, ["fuselage, bottom", "fuselage, side", "fuselage, turtledeck"]);
    let side = panel(&covered, "fuselage, side");
    let bounds = side.plan.finished.flatten().unwrap().bounds();
    assert!((4850.0..5000.0).contains(&bounds.width()) && (850.0..950.0).contains(&bounds.height()), "{bounds:?}");
    // Six edges of the lower longeron lie over the bottom; nose, upper longeron and stern post are wrapped.
    let lapped = side.plan.edges.iter().filter(|edge| edge.wrap == 0.0).count();
    assert_eq!((lapped, side.plan.edges.len()), (6, 14));
    assert!(covered.cautions.is_empty(), "{:?}", covered.cautions);
}

fn convex_ring() -> impl Strategy<Value = Vec<[f64; 2]>> {
    (prop::collection::vec(0.35..1.0_f64, 3..8), 300.0..700.0_f64, 200.0..400.0_f64).prop_map(|(steps, a, b)| {
        let whole: f64 = steps.iter().sum();
        let mut turn = 0.0;
        let mut points = Vec::new();
        for step in steps {
            turn += step / whole * 2.0 * PI;
            points.push([a * turn.cos(), b * turn.sin()]);
        }
        points
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Every point as far from the face as its lap says lies in the cut panel.
    #[test]
    fn a_convex_face_is_covered_with_its_laps(ring in convex_ring(), diameter in 8.0..40.0_f64) {
        let name = |i: usize| format!("N{i}");
        let nodes: Vec<String> = ring.iter().enumerate().map(|(i, [x, y])| format!(r#""{}": [{x}, {y}, 50]"#, name(i))).collect();
        let count = ring.len();
        let tubes: Vec<String> = (0..count)
            .map(|i| format!(r#"{{ "from": "{}", "to": "{}", "diameter": {diameter}, "class": "longeron" }}"#, name(i), name((i + 1) % count)))
            .collect();
        let names: Vec<String> = (0..count).map(|i| format!("{:?}", name(i))).collect();
        let text = format!(
            r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 2000 }}],
            "rules": {{ "method": "cemented", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
            "airframe": [{{ "name": "lid", "kind": "truss", "nodes": {{ {} }}, "tubes": [{}],
                "faces": [{{ "name": "top", "ring": [{}], "order": 1 }}] }}] }}"#,
            nodes.join(", "), tubes.join(", "), names.join(", ")
        );
        let covered = covering(&text).map_err(|faults| TestCaseError::fail(faults.join("\n")))?;
        let top = panel(&covered, "lid, top");
        let finished = top.plan.finished.flatten().unwrap();
        prop_assert!(top.cut.polygon().covers(finished.polygon()));
        let reach = (PI * diameter).max(INCH) + INCH - 1e-6;
        let corners = finished.polygon().exterior().0.clone();
        for pair in corners.windows(2) {
            let along = pair[1] - pair[0];
            let length = along.x.hypot(along.y);
            let out = coord! { x: along.y / length * reach, y: -along.x / length * reach };
            for share in [0.0, 0.3, 0.5, 0.9, 1.0] {
                let at = pair[0] + along * share + out;
                prop_assert!(top.cut.polygon().contains(&Point::from(at)), "{:?}", at);
            }
        }
    }
}

/// A box whose side is written on the left or on the right hand, of cloth with a right and a wrong face.
fn side_on(hand: f64, ring: &str, mirrored: bool) -> Vec<Panel> {
    let y = hand * WIDE / 2.0;
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780 }}],
        "rules": {{ "method": "doped", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
        "airframe": [{{ "name": "box", "kind": "truss",
            "nodes": {{ "A": [0, {y}, 0], "B": [{LONG}, {y}, 100], "E": [0, {y}, {HIGH}], "F": [{LONG}, {y}, 500], "M": [0, {}, 0] }},
            "tubes": [{{ "from": "A", "to": "B", "diameter": {TUBE}, "class": "longeron" }},
                {{ "from": "B", "to": "F", "diameter": {TUBE}, "class": "cross tube" }},
                {{ "from": "E", "to": "F", "diameter": {TUBE}, "class": "longeron" }},
                {{ "from": "A", "to": "E", "diameter": {TUBE}, "class": "cross tube" }},
                {{ "from": "A", "to": "M", "diameter": {TUBE}, "class": "cross tube" }}],
            "faces": [{{ "name": "side", "ring": {ring}, "order": 1, "mirrored": {mirrored} }}] }}] }}"#,
        -y
    );
    only_part(&covering(&text).unwrap()).panels.clone()
}

/// Where the nodes of a panel are drawn, by name.
fn nodes(panel: &Panel) -> Vec<(String, [f64; 2])> {
    let corners = panel.plan.marks.corners.iter();
    let mut nodes: Vec<_> = corners.map(|corner| (corner.words.clone(), [corner.at.x, corner.at.y])).collect();
    nodes.sort_by(|one, other| one.0.cmp(&other.0));
    nodes
}

/// Seen from outside, the front of an aircraft is to the left on its left side and to the right on its right side: closed
/// form. Either way the top of a side is up.
#[test]
fn a_side_has_its_top_up_and_says_where_its_front_is() {
    for (hand, ring) in
        [(-1.0, r#"["A", "B", "F", "E"]"#), (1.0, r#"["A", "E", "F", "B"]"#), (1.0, r#"["A", "B", "F", "E"]"#)]
    {
        let panel = &side_on(hand, ring, false)[0];
        let found = nodes(panel);
        let [a, b, e] = [0, 1, 2].map(|node| found[node].1);
        assert!(e[1] - a[1] > 0.99 * HIGH, "the upper node is not above: {found:?}");
        assert_eq!(a[0] < b[0], hand < 0.0, "{found:?}");
        let words = if hand < 0.0 { "drawn with its front to the left" } else { "drawn with its front to the right" };
        assert!(panel.plan.goes.ends_with(words), "{}", panel.plan.goes);
        let way = |word: &str| panel.plan.marks.ways.iter().find(|way| way.word == word).unwrap().towards;
        assert!((way("front").x - hand).abs() < 1e-9 && way("top").y > 0.999, "{:?}", panel.plan.marks.ways);
    }
}

/// Mirrored faces have mirrored panels, and the mirror image that is worked out is the one that would be written.
#[test]
fn the_two_hands_are_mirror_images_of_each_other() {
    let ring = r#"["A", "B", "F", "E"]"#;
    let [left, right] = [-1.0, 1.0].map(|hand| side_on(hand, ring, false).remove(0));
    let image = side_on(-1.0, ring, true).remove(1);
    assert_eq!(image.plan.goes.split("; ").last(), right.plan.goes.split("; ").last());
    for ((l, r), i) in nodes(&left).iter().zip(nodes(&right)).zip(nodes(&image)) {
        // A panel on the right begins at its own left edge, the image of one on the left ends at 0.
        assert!((l.1[0] + i.1[0]).abs() < 1e-6 && (l.1[1] - i.1[1]).abs() < 1e-6, "{l:?} {i:?}");
        assert!((LONG - l.1[0] - r.1[0]).abs() < 1e-3 && (l.1[1] - r.1[1]).abs() < 1e-3, "{l:?} {r:?}");
    }
    assert!((image.cut.area() - right.cut.area()).abs() < 1e-6 * right.cut.area());
    assert!((left.cut.area() - right.cut.area()).abs() < 1e-6 * right.cut.area());
}
