//! The promise: a stranger can tell from a part's drawing which edge is which, how the panel lies, and what each line is.

use std::collections::BTreeSet;

use clothwright::covering::cover;
use clothwright::draw::part_sheet;
use clothwright::job::read_text;

/// The words of a part of the Dunlin's drawing, and the drawing.
fn drawn(part: &str) -> (Vec<String>, String) {
    let job = read_text("airframe.json", include_str!("../examples/dunlin/airframe.json")).expect("a sound job").job;
    let covering = cover(&job).expect("it can be covered");
    let part = covering.parts.iter().find(|covered| covered.name == part).expect("a part");
    let svg = part_sheet(&job, part);
    let sheet = roxmltree::Document::parse(&svg).expect("well-formed XML");
    let texts = sheet.descendants().filter(|node| node.has_tag_name("text"));
    (texts.filter_map(|node| node.text().map(str::to_owned)).collect(), svg)
}

fn count(words: &[String], word: &str) -> usize {
    words.iter().filter(|found| found.as_str() == word).count()
}

#[test]
fn a_wing_has_its_edges_named_and_its_ways_shown() {
    let (words, svg) = drawn("wing");
    for word in ["leading edge", "butt", "recess", "warp", "front"] {
        assert_eq!(count(&words, word), 2, "{word}: top and bottom each have it once");
    }
    // The recess parts the trailing edge in two; the tip is an edge and a way.
    assert_eq!([count(&words, "trailing edge"), count(&words, "tip")], [4, 4]);
    assert_eq!(svg.matches("class=\"relief-cut\"").count(), 5, "two in each panel, one in the key");
}

#[test]
fn a_fuselage_names_its_nodes_and_what_each_face_laps_over() {
    let (words, _) = drawn("fuselage");
    for (node, faces) in [("LL1", 2), ("LR4", 1), ("UL1", 1), ("UL5", 2), ("S6", 1)] {
        assert_eq!(count(&words, node), faces, "{node}");
    }
    for edge in ["longeron: laps over bottom", "longeron: laps over side"] {
        assert_eq!(count(&words, edge), 1, "{edge}");
    }
    // What is too long for its edge has a letter there.
    assert!(words.iter().any(|line| line == "edge B: longeron: meets its mirror image, one laps over the other"));
    assert_eq!([count(&words, "front"), count(&words, "top")], [3, 2]);
}

#[test]
fn a_flat_part_names_tube_and_hinge() {
    let (words, _) = drawn("rudder");
    assert_eq!([count(&words, "19 mm tube"), count(&words, "hinge")], [2, 2]);
    let (words, _) = drawn("fin");
    assert_eq!([count(&words, "22 mm tube"), count(&words, "19 mm tube")], [1, 1]);
    assert_eq!(
        [count(&words, "front"), count(&words, "top")],
        [1, 1],
        "its axes say which edge is forward and which is up"
    );
}

/// In print without colours lines differ by width and dashes alone.
#[test]
fn no_two_lines_look_alike_in_black_and_white() {
    let (_, svg) = drawn("wing");
    let style = svg.rsplit("<style>").next().and_then(|rest| rest.split("</style>").next()).expect("a style");
    let look = |class: &str| {
        let rule = style.split('}').find(|rule| rule.trim().starts_with(class)).unwrap_or_else(|| panic!("{class}"));
        rule.split(';').filter(|part| part.contains("width") || part.contains("dash")).collect::<Vec<_>>().join(";")
    };
    let classes = [".cut", ".trim", ".wrap", ".finished", ".fold", ".relief-cut", ".member", ".seam", ".hinge"];
    let looks: BTreeSet<String> = classes.iter().map(|class| look(class)).collect();
    assert_eq!(looks.len(), classes.len(), "{looks:?}");
}

/// ISO 3098-1:2015: the smallest letters that a drawing has are 1.8 mm high. The sheet is printed on A3 (ISO 216).
#[test]
fn names_can_be_read_on_a3() {
    for part in ["fuselage", "fin", "rudder", "tailplane", "elevator", "wing", "aileron"] {
        let (_, svg) = drawn(part);
        let sheet = roxmltree::Document::parse(&svg).expect("well-formed XML");
        let length = |name: &str| -> f64 {
            let text = sheet.root_element().attribute(name).expect("a size");
            text.trim_end_matches("mm").parse().expect("a number")
        };
        let [short, long] = [length("width").min(length("height")), length("width").max(length("height"))];
        let scale = (297.0 / short).min(420.0 / long);
        let sizes = sheet.descendants().filter_map(|node| node.attribute("font-size")?.parse::<f64>().ok());
        let smallest = sizes.fold(f64::INFINITY, f64::min) * scale;
        assert!(smallest >= 1.8, "{part}: {smallest} mm");
    }
}
