//! The sheet of a lay is true to size, complete, and readable by any program that reads SVG.

#[path = "support/drawn.rs"]
mod drawn;

use drawn::{MIXED, MIXED_PLACES, job, laid, sheet};
use roxmltree::{Document, Node};

const NAMESPACE: &str = "http://www.w3.org/2000/svg";

fn mixed() -> String {
    let job = job(MIXED);
    sheet(&job, &laid(&job, &MIXED_PLACES))
}

fn of_class<'a>(node: Node<'a, 'a>, class: &'a str) -> impl Iterator<Item = Node<'a, 'a>> {
    node.descendants()
        .filter(move |node| node.attribute("class").is_some_and(|classes| classes.split(' ').any(|one| one == class)))
}

fn child<'a>(node: Node<'a, 'a>, class: &'a str) -> Node<'a, 'a> {
    of_class(node, class).next().unwrap_or_else(|| panic!("nothing of class {class}"))
}

/// The rings of path data, read by another library (kurbo) than the one that wrote it.
fn rings(path: Node) -> Vec<Vec<[f64; 2]>> {
    let data = kurbo::BezPath::from_svg(path.attribute("d").unwrap_or_default()).expect("path data");
    let mut rings: Vec<Vec<[f64; 2]>> = Vec::new();
    for element in data.elements() {
        match element {
            kurbo::PathEl::MoveTo(point) => rings.push(vec![[point.x, point.y]]),
            kurbo::PathEl::LineTo(point) => rings.last_mut().expect("a ring").push([point.x, point.y]),
            kurbo::PathEl::ClosePath => {}
            other => panic!("only straight lines are drawn, not {other:?}"),
        }
    }
    rings
}

/// The shoelace formula: outer ring less holes.
fn area(path: Node) -> f64 {
    let signed = |ring: &Vec<[f64; 2]>| -> f64 {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| (a[0] * b[1] - b[0] * a[1]) / 2.0).sum()
    };
    rings(path).iter().map(signed).sum::<f64>().abs()
}

fn bounds(path: Node) -> [f64; 4] {
    let start = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    rings(path).iter().flatten().fold(start, |b, p| [b[0].min(p[0]), b[1].min(p[1]), b[2].max(p[0]), b[3].max(p[1])])
}

#[test]
fn a_user_unit_is_a_millimetre() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let root = document.root_element();
    assert_eq!((root.tag_name().name(), root.tag_name().namespace()), ("svg", Some(NAMESPACE)));
    let view: Vec<&str> = root.attribute("viewBox").unwrap_or_default().split(' ').collect();
    assert_eq!(view[..2], ["0", "0"]);
    assert_eq!(root.attribute("width"), Some(format!("{}mm", view[2]).as_str()));
    assert_eq!(root.attribute("height"), Some(format!("{}mm", view[3]).as_str()));

    let [_, top, _, bottom] = bounds(child(document.root_element(), "cloth"));
    assert!((bottom - top - 1500.0).abs() < 1e-6, "the cloth is as wide as in the job");
    assert!(top > 0.0 && bottom < view[3].parse().expect("a number"), "the cloth is on the sheet");
}

#[test]
fn every_piece_is_drawn_with_the_area_that_it_has() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let job = job(MIXED);
    let pieces: Vec<Node> = of_class(document.root_element(), "piece").collect();
    assert_eq!(pieces.len(), MIXED_PLACES.len());
    for (drawn, place) in pieces.iter().zip(MIXED_PLACES) {
        let piece = job.pieces.iter().find(|piece| piece.name == place.0).expect("a piece of the job");
        let (found, cut) = (area(child(*drawn, "outline")), piece.cut.area());
        // Coordinates are written to a thousandth of a millimetre, so an edge is off by half of that at most.
        assert!((found - cut).abs() < 0.1 + cut * 1e-6, "{}: drawn {found}, cut {cut}", place.0);
        let title = drawn.children().find(|node| node.has_tag_name("title")).and_then(|node| node.text());
        assert!(title.is_some_and(|title| title.starts_with(place.0)), "{title:?}");
        assert_eq!(drawn.attribute("data-copy"), Some(place.1.to_string().as_str()));
    }
}

#[test]
fn the_lower_edge_of_the_cloth_is_at_the_bottom_and_the_roll_begins_on_the_left() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let cloth = bounds(child(document.root_element(), "cloth"));
    let first = of_class(document.root_element(), "piece").next().expect("a piece");
    let [left, top, right, bottom] = bounds(child(first, "outline"));
    // The first panel lies at (0, 10), is 1000 long and 400 wide.
    assert!((left - cloth[0]).abs() < 1e-6 && (right - left - 1000.0).abs() < 1e-6);
    assert!((cloth[3] - bottom - 10.0).abs() < 1e-6 && (bottom - top - 400.0).abs() < 1e-6);
}

#[test]
fn teeth_of_a_pinked_edge_stay_inside_the_cut_outline() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let doily = of_class(document.root_element(), "piece").nth(3).expect("the turned doily");
    let (outline, teeth) = (child(doily, "outline"), child(doily, "teeth"));
    let (outer, inner) = (bounds(outline), bounds(teeth));
    assert!(inner[0] >= outer[0] - 0.01 && inner[1] >= outer[1] - 0.01, "{inner:?} in {outer:?}");
    assert!(inner[2] <= outer[2] + 0.01 && inner[3] <= outer[3] + 0.01, "{inner:?} in {outer:?}");
    // A tooth of depth h takes away half the band of that depth, near enough.
    let band = std::f64::consts::PI * 165.0 * 2.5 / 2.0;
    let taken = area(outline) - area(teeth);
    assert!(taken > 0.8 * band && taken < 1.2 * band, "taken {taken}, expected about {band}");
    let panel = of_class(document.root_element(), "piece").next().expect("a panel");
    assert_eq!(of_class(panel, "teeth").count(), 0, "a plain edge has none");
}

#[test]
fn the_label_of_a_ring_is_on_the_ring() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let ring = of_class(document.root_element(), "piece").nth(2).expect("the ring");
    let [left, top, right, bottom] = bounds(child(ring, "outline"));
    let label = ring.descendants().find(|node| node.has_tag_name("text")).expect("a label");
    let number = |name: &str| -> f64 { label.attribute(name).and_then(|value| value.parse().ok()).expect("a number") };
    let away = (number("x") - (left + right) / 2.0).hypot(number("y") - (top + bottom) / 2.0);
    assert!(away > 55.0 && away < 90.0, "the ring reaches from 55 to 90 mm, the label is at {away}");
}

#[test]
fn a_name_that_does_not_fit_becomes_a_number_with_a_key() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let patch = of_class(document.root_element(), "piece").nth(5).expect("the drain patch");
    let label = patch.descendants().find(|node| node.has_tag_name("text")).and_then(|node| node.text());
    assert_eq!(label, Some("4·11"), "piece 4 of the job, copy 11");
    let key: Vec<&str> = of_class(document.root_element(), "key")
        .flat_map(|block| block.descendants().filter_map(|node| node.text()))
        .collect();
    assert!(key.iter().any(|line| line.starts_with("a very long name for a drain patch, 30")), "{key:?}");
}

#[test]
fn the_grain_arrow_points_along_the_x_axis_of_the_piece() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let arrows = of_class(document.root_element(), "piece").zip(MIXED_PLACES);
    let mut seen = 0;
    for (drawn, (name, _, turn, _, _)) in arrows {
        let Some(arrow) = of_class(drawn, "grain").next() else {
            assert!(name == "doily" || name.contains("drain patch"), "{name} has a grain and no arrow");
            continue;
        };
        let shaft = &rings(arrow)[0];
        let (dx, dy) = (shaft[1][0] - shaft[0][0], shaft[0][1] - shaft[1][1]);
        let angle = dy.atan2(dx).to_degrees().rem_euclid(360.0);
        assert!((angle - turn).abs() < 0.01, "{name}: arrow at {angle}, turned by {turn}");
        seen += 1;
    }
    assert_eq!(seen, 5);
}

#[test]
fn texts_are_escaped_and_come_back_as_they_were() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let all: Vec<&str> = document.descendants().filter(Node::is_text).filter_map(|node| node.text()).collect();
    let has = |wanted: &str| all.iter().any(|text| text.contains(wanted));
    assert!(has("Tail <left> & \"right\""), "{all:?}");
    assert!(has("panel <A>") && has("oil & <grease>") && has("roll & rest") && has("fin, left & right"));
}

#[test]
fn the_title_block_says_how_the_cloth_is_used() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let block = child(document.root_element(), "title-block");
    let words: Vec<&str> =
        block.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
    let all = words.join(" | ");
    for wanted in
        ["1500 mm in full, 1470 mm usable", "1000 mm", "25.0 % of full width", "80.0 % of usable", "Planning aid"]
    {
        assert!(all.contains(wanted), "{wanted} is missing: {all}");
    }
}

#[test]
fn a_face_down_piece_and_a_bias_piece_are_told_apart_without_colour() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let pieces: Vec<Node> = of_class(document.root_element(), "piece").collect();
    let marked = |class: &'static str| -> Vec<&str> {
        let with = pieces.iter().zip(MIXED_PLACES).filter(|(drawn, _)| of_class(**drawn, class).next().is_some());
        with.map(|(_, place)| place.0).collect()
    };
    assert_eq!(marked("laid-face-down"), ["panel <A>"]);
    assert_eq!(marked("on-bias"), ["bias tape"]);
    for pattern in ["face-down", "bias", "selvage", "no-cloth"] {
        assert!(document.descendants().any(|node| node.attribute("id") == Some(pattern)), "{pattern}");
    }
}

#[test]
fn inch_jobs_have_inch_rulers_and_inch_figures() {
    let job = job(r#"{ "format": 1, "units": "in", "gap": "1/8 in", "cloth": [ { "name": "roll", "width": 70 } ],
        "pieces": [ { "name": "patch", "outline": { "circle": "3-1/2 in" }, "grain": "free" } ] }"#);
    let text = sheet(&job, &laid(&job, &[("patch", 1, 0.0, false, [500.0, 100.0])]));
    let document = Document::parse(&text).expect("well-formed XML");
    let across = child(document.root_element(), "ruler-across");
    let numbers: Vec<&str> =
        across.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
    assert_eq!(numbers[..4], ["0", "6", "12", "18"], "a number every six inches");
    let block = child(document.root_element(), "title-block");
    assert!(block.descendants().any(|node| node.text() == Some("1/8 in between cut lines")));
}

#[test]
fn far_down_a_roll_the_drawing_keeps_its_thousandths() {
    let job = job(r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": 1780 } ],
        "pieces": [ { "name": "patch", "outline": { "rect": [100, 50] }, "grain": "along" } ] }"#);
    let text = sheet(&job, &laid(&job, &[("patch", 1, 0.0, false, [50_000.123, 100.0])]));
    let document = Document::parse(&text).expect("well-formed XML");
    let [left, _, right, _] = bounds(child(child(document.root_element(), "piece"), "outline"));
    let cloth = bounds(child(document.root_element(), "cloth"));
    assert!((left - cloth[0] - 50_000.123).abs() < 1e-6 && (right - left - 100.0).abs() < 1e-6);
}

#[test]
fn the_same_lay_is_drawn_with_the_same_bytes() {
    assert_eq!(mixed(), mixed());
}

#[test]
fn crosses_say_how_far_they_are_from_the_end_and_from_the_edge() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let cloth = bounds(child(document.root_element(), "cloth"));
    let layer = child(document.root_element(), "crosses");
    let lines = rings(child(layer, "cross"));
    let words: Vec<&str> =
        layer.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
    assert_eq!(lines.len(), 2 * words.len(), "two strokes a cross");
    for (words, strokes) in words.iter().zip(lines.chunks(2)) {
        let middle = |stroke: &Vec<[f64; 2]>, axis: usize| (stroke[0][axis] + stroke[1][axis]) / 2.0;
        let (along, across) = (middle(&strokes[0], 0) - cloth[0], cloth[3] - middle(&strokes[0], 1));
        assert_eq!(*words, format!("x {along:.0}, y {across:.0}"));
    }
    assert!(words.contains(&"x 800, y 600"), "{words:?}");
}

#[test]
fn a_long_piece_has_its_name_on_every_stretch_of_it() {
    let job = job(r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": 1780 } ],
        "pieces": [ { "name": "finishing tape", "outline": { "strip": [5000, 100] }, "quantity": 2, "grain": "along" } ] }"#);
    let text = sheet(&job, &laid(&job, &[("finishing tape", 2, 180.0, false, [5000.0, 500.0])]));
    let document = Document::parse(&text).expect("well-formed XML");
    let piece = child(document.root_element(), "piece");
    let names = piece.descendants().filter(|node| node.text() == Some("finishing tape, 1·2"));
    let mut places: Vec<f64> = names.filter_map(|node| node.attribute("x").and_then(|x| x.parse().ok())).collect();
    places.sort_by(f64::total_cmp);
    assert!(places.len() >= 8, "{places:?}");
    assert!(places.windows(2).all(|pair| pair[1] - pair[0] < 1200.0), "{places:?}");
}

#[test]
fn a_flaw_is_drawn_in_full_or_lies_beyond_the_drawing() {
    let job = job(r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": 1000, "flaws": [
            { "outline": { "circle": 60, "at": [300, 500] }, "note": "near" },
            { "outline": { "circle": 60, "at": [5000, 500] }, "note": "far" } ] } ],
        "pieces": [ { "name": "patch", "outline": { "rect": [100, 50] }, "grain": "along" } ] }"#);
    let text = sheet(&job, &laid(&job, &[("patch", 1, 0.0, false, [0.0, 0.0])]));
    let document = Document::parse(&text).expect("well-formed XML");
    let cloth = bounds(child(document.root_element(), "cloth"));
    let flaws: Vec<[f64; 4]> =
        of_class(document.root_element(), "flaw-area").map(|area| bounds(child(area, "flaw"))).collect();
    assert_eq!(flaws.len(), 1, "only the near one");
    assert!(flaws[0][2] < cloth[2], "the drawing breaks off after the flaw");
}

#[test]
fn crosses_stand_on_the_cloth_that_is_used_and_clear_of_all_cut_lines() {
    let text = mixed();
    let document = Document::parse(&text).expect("well-formed XML");
    let root = document.root_element();
    let crosses = child(root, "crosses");
    let cut_off = bounds(child(root, "cut-off"))[0];
    let outlines: Vec<Vec<[f64; 2]>> = of_class(root, "outline").flat_map(rings).collect();
    let mut seen = 0;
    for words in crosses.descendants().filter(|node| node.tag_name().name() == "text") {
        seen += 1;
        let at = |name: &str| words.attribute(name).and_then(|value| value.parse::<f64>().ok()).unwrap_or(f64::NAN);
        let (x, y, size) = (at("x"), at("y"), at("font-size"));
        assert!(x < cut_off, "{x} lies beyond {cut_off}");
        // Half a letter for each, which is narrow, from the base line up.
        let wide = words.text().unwrap_or_default().chars().count() as f64 * 0.45 * size;
        let inside = |p: &[f64; 2]| p[0] > x && p[0] < x + wide && p[1] < y && p[1] > y - 0.7 * size;
        assert!(!outlines.iter().flatten().any(inside), "a cut line runs through {:?}", words.text());
    }
    assert!(seen > 0, "a sheet has crosses");
}
