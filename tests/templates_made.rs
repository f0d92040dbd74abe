//! What a template is made of: the lines of its piece, marks, words; pieces of one shape share it.

use clothwright::covering::cover;
use clothwright::job::read_text;
use clothwright::plan::{LineKind, Template, TemplateChoice, TemplateFault, kept_marks, templates};
use clothwright::units::Units;
use geo::Contains;
use geo_types::Point;

fn made(text: &str, choice: &TemplateChoice, mirrored: bool) -> Result<Vec<Template>, TemplateFault> {
    let job = read_text("job.json", text).expect("the test's own job is sound").job;
    templates(&job, &cover(&job).expect("it can be covered"), choice, mirrored)
}

fn of_pieces(pieces: &str) -> Vec<Template> {
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "name": "Dunlin", "cloth": [ {{ "name": "roll", "width": 1780 }} ], "pieces": [ {pieces} ] }}"#
    );
    made(&text, &TemplateChoice::default(), false).expect("templates")
}

const TAIL: &str = include_str!("../examples/dunlin/tail.json");

fn count(template: &Template, kind: LineKind) -> usize {
    template.lines.iter().filter(|line| line.kind == kind).count()
}

#[test]
fn pieces_of_one_shape_share_a_template_and_their_copies_are_added() {
    let made = of_pieces(
        r#"{ "name": "a", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] }, "quantity": 4, "grain": "along" },
           { "name": "moved", "outline": { "polygon": [[1000, 500], [1140, 500], [1000, 610]] }, "quantity": 3, "grain": "along" },
           { "name": "half turn", "outline": { "polygon": [[0, 0], [-140, 0], [0, -110]] }, "grain": "along" },
           { "name": "mirror image", "outline": { "polygon": [[0, 0], [140, 0], [0, -110]] }, "quantity": 2, "grain": "along" },
           { "name": "quarter turn", "outline": { "polygon": [[0, 0], [0, 140], [-110, 0]] }, "grain": "along" },
           { "name": "pinked", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] }, "grain": "along", "edge": "pinked" },
           { "name": "larger", "outline": { "polygon": [[0, 0], [140, 0], [0, 111]] }, "grain": "along" }"#,
    );
    let names: Vec<&str> = made.iter().map(Template::name).collect();
    // A quarter turn would lay the warp across where it must run along.
    assert_eq!(names, ["a", "quarter turn", "pinked", "larger"]);
    assert_eq!(made[0].copies(), 4 + 3 + 1 + 2);
    assert_eq!(made[0].copies_words(), "cut 10, 2 of them with the template turned over");
    let over: Vec<bool> = made[0].uses.iter().map(|one| one.turned_over).collect();
    assert_eq!(over, [false, false, false, true]);
    // A template has the number of the first piece that it serves.
    let numbers: Vec<usize> = made.iter().map(|template| template.number).collect();
    assert_eq!(numbers, [1, 5, 6, 7]);
}

#[test]
fn holes_are_cut_after_shrinking_and_symmetric_pieces_have_centre_lines() {
    let made = of_pieces(
        r#"{ "name": "ring", "outline": { "ring": [150, 90] }, "edge": "pinked" },
           { "name": "gusset", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] } },
           { "name": "kite", "outline": { "polygon": [[0, 0], [60, -40], [160, 0], [60, 40]] } },
           { "name": "lapped", "outline": { "circle": 100 }, "allowance": 20 }"#,
    );
    let counts = |kind: LineKind| made.iter().map(|template| count(template, kind)).collect::<Vec<_>>();
    assert_eq!(counts(LineKind::CutAfterShrinking), [1, 0, 0, 0]);
    assert_eq!(counts(LineKind::Teeth), [1, 0, 0, 0]);
    assert_eq!(counts(LineKind::Centre), [2, 0, 1, 2]);
    assert_eq!(counts(LineKind::Finished), [0, 0, 0, 1]);
}

#[test]
fn marks_on_the_cut_line_point_to_the_cloth_that_is_kept() {
    let made = of_pieces(
        r#"{ "name": "ring", "outline": { "ring": [150, 90] } },
           { "name": "clockwise", "outline": { "polygon": [[0, 0], [0, 700], [900, 700], [900, 0]] } }"#,
    );
    for template in &made {
        let marks = kept_marks(template);
        assert!(marks.len() >= 4, "{}: {}", template.name(), marks.len());
        for mark in marks {
            let there = mark.at + mark.towards;
            assert!(template.cut.polygon().contains(&Point(there)), "{}: {mark:?}", template.name());
        }
    }
}

#[test]
fn a_panel_has_its_laps_members_and_hinge() {
    let made = made(TAIL, &TemplateChoice { parts: vec!["rudder".into()], ..TemplateChoice::default() }, false);
    let made = made.expect("templates");
    assert_eq!(made.iter().map(Template::name).collect::<Vec<_>>(), ["rudder, first side", "rudder, second side"]);
    for template in &made {
        for kind in [LineKind::Cut, LineKind::Lap, LineKind::Finished, LineKind::Hinge] {
            assert_eq!(count(template, kind), 1, "{}: {kind:?}", template.name());
        }
        // Only the first side laps; what is beyond the wrap of the second is to hold on to.
        assert_eq!(count(template, LineKind::Wrap), usize::from(template.name() == "rudder, first side"));
        assert!(count(template, LineKind::Member) >= 2);
        let words = template.words(Units::Mm).join("\n");
        assert!(words.contains("part: rudder") && words.contains("cut 1"), "{words}");
        assert!(template.figures().iter().any(|figure| figure.contains("AC 2-7b") || figure.contains("p. ")));
    }
}

#[test]
fn a_mirrored_template_is_its_mirror_image() {
    let plain = made(TAIL, &TemplateChoice::default(), false).expect("templates");
    let mirrored = made(TAIL, &TemplateChoice::default(), true).expect("templates");
    for (one, other) in plain.iter().zip(&mirrored) {
        assert_eq!(one.name(), other.name());
        assert!((one.cut.area() - other.cut.area()).abs() < 1e-6 * one.cut.area());
        let (bounds, over) = (one.cut.bounds(), other.cut.bounds());
        assert!((bounds.max().y + over.min().y).abs() < 1e-9 && (bounds.max().x - over.max().x).abs() < 1e-9);
        assert!(other.words(Units::Mm).iter().any(|words| words.contains("mirrored")));
    }
}

#[test]
fn a_face_of_a_truss_knows_which_edge_is_forward() {
    let text = include_str!("../examples/dunlin/fuselage-truss.json");
    let made = made(text, &TemplateChoice::default(), false).expect("templates");
    let forward = |template: &&Template| template.bearings.iter().any(|bearing| bearing.towards == "forward");
    assert!(made.iter().filter(forward).count() >= 3);
    // x runs aft, so the front is at the left; on a mirror image too.
    for template in made.iter().filter(forward) {
        assert!(template.bearings.iter().all(|b| b.towards != "forward" || b.degrees == 180.0));
    }
}

#[test]
fn a_flat_part_whose_axes_are_said_knows_which_edges_are_forward_and_up() {
    let text = include_str!("../examples/dunlin/airframe.json");
    let made =
        made(text, &TemplateChoice { only: Vec::new(), parts: vec!["rudder".into()] }, false).expect("templates");
    // Its axes run aft and up.
    let bearing = |template: &Template, word: &str| {
        template.bearings.iter().find(|bearing| bearing.towards == word).map(|bearing| bearing.degrees)
    };
    assert!(!made.is_empty());
    for template in &made {
        assert_eq!(bearing(template, "forward").map(f64::abs), Some(180.0), "{}", template.name());
        assert_eq!(bearing(template, "up").map(|degrees| degrees.abs()), Some(90.0), "{}", template.name());
    }
}

/// What is forward on one of two pieces of one shape and aft on the other is written on each, so they share no template.
#[test]
fn pieces_of_one_shape_that_face_other_ways_have_templates_of_their_own() {
    let plate = |name: &str, axes: &str| {
        format!(
            r#"{{ "name": "{name}", "kind": "flat", "surface": "empennage", "axes": {axes}, "tube": 10, "sides": "one",
                "outline": {{ "rect": [300, 200] }} }}"#
        )
    };
    let count = |first: &str, second: &str| {
        let text = format!(
            r#"{{ "format": 1, "units": "mm", "name": "Dunlin", "cloth": [ {{ "name": "roll", "width": 1780 }} ],
                "rules": {{ "method": "doped", "vne": "135 mph", "wing_loading": "5.2 lb/ft2" }},
                "airframe": [ {}, {} ] }}"#,
            plate("one", first),
            plate("other", second)
        );
        made(&text, &TemplateChoice::default(), false).expect("templates").len()
    };
    assert_eq!(count(r#"["aft", "up"]"#, r#"["aft", "up"]"#), 1);
    assert_eq!(count(r#"["aft", "up"]"#, r#"["up", "aft"]"#), 2);
}

#[test]
fn what_is_not_there_cannot_be_chosen_and_the_message_helps() {
    let only = |name: &str| made(TAIL, &TemplateChoice { only: vec![name.into()], parts: Vec::new() }, false);
    let part = |name: &str| made(TAIL, &TemplateChoice { only: Vec::new(), parts: vec![name.into()] }, false);
    let told = |answer: Result<Vec<Template>, TemplateFault>| answer.expect_err("no such name").to_string();
    assert_eq!(
        told(only("rudder, frist side")),
        "the job has no piece named “rudder, frist side”; did you mean “rudder, first side”?"
    );
    assert_eq!(told(part("ruder")), "no part named “ruder” is covered; did you mean “rudder”?");
    assert!(told(part("propeller")).contains("\"airframe\""));
}
