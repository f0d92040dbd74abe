//! The cut list opens in a spreadsheet with every copy on a line of its own, and nothing in it runs as a formula.

#[path = "support/drawn.rs"]
mod drawn;

use clothwright::covering::Covering;
use clothwright::draw::{NOT_PLACED, cut_list};
use clothwright::job::Job;
use clothwright::plan::{LayFile, UnplacedPiece};
use drawn::{MIXED, MIXED_PLACES, job, laid};

fn lay(job: &Job, places: &[(&str, u32, f64, bool, [f64; 2])], unplaced: Vec<UnplacedPiece>) -> LayFile {
    LayFile {
        format: 1,
        job: "test.json".into(),
        seed: 1,
        effort: 1,
        cloths: vec![laid(job, places)],
        unplaced,
        tape: None,
        cautions: Vec::new(),
        rest: None,
        take_off: Vec::new(),
    }
}

fn read_back(bytes: &[u8]) -> (csv::StringRecord, Vec<csv::StringRecord>) {
    let mut reader = csv::Reader::from_reader(bytes);
    let head = reader.headers().expect("a head").clone();
    (head, reader.records().collect::<Result<_, _>>().expect("records"))
}

#[test]
fn every_copy_has_a_line_with_its_place() {
    let job = job(MIXED);
    let bytes =
        cut_list(&job, &Covering::default(), &job.pieces, &lay(&job, &MIXED_PLACES, Vec::new())).expect("a cut list");
    let (head, lines) = read_back(&bytes);
    assert_eq!(lines.len(), MIXED_PLACES.len());
    let column = |name: &str| head.iter().position(|cell| cell == name).unwrap_or_else(|| panic!("no column {name}"));
    let door = lines.last().expect("the door");
    assert_eq!(&door[column("piece")], "door");
    assert_eq!(&lines[1][column("number")], "1·2", "as the sheet has it");
    // 300 × 200, turned by 90° about (300, 1100): it reaches from x 100 to 300 and from y 1100 to 1400.
    assert_eq!(&door[column("from roll end (mm)")], "100");
    assert_eq!(&door[column("from lower edge (mm)")], "1100");
    assert_eq!(&door[column("turn (degrees)")], "90");
    assert_eq!(&door[column("length (mm)")], "300");
    assert_eq!(&door[column("area (m²)")], "0.06000");
    assert_eq!(&door[column("grain")], "across the roll");
    assert_eq!(&door[column("cloth")], "roll & rest");
    let mut cuts: Vec<usize> = lines.iter().map(|line| line[column("cut")].parse().expect("a number")).collect();
    cuts.sort_unstable();
    assert_eq!(cuts, (1..=lines.len()).collect::<Vec<_>>(), "each is cut once");
    let panel = &lines[1];
    assert_eq!((&panel[column("copy")], &panel[column("copies")], &panel[column("face down")]), ("2", "2", "yes"));
    assert_eq!(&panel[column("goes")], "fin, left & right");
}

#[test]
fn lines_end_as_rfc_4180_has_them() {
    // RFC 4180, section 2, rules 1, 4, 5 to 7: CRLF after each record, as many fields on every line, quotes round
    // fields with commas or quotes, quotes doubled.
    let text = r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": 900 } ],
        "pieces": [ { "name": "gusset, \"upper\"", "outline": { "rect": [100, 50] } } ] }"#;
    let job = job(text);
    let places = [("gusset, \"upper\"", 1, 0.0, false, [0.0, 0.0])];
    let bytes = cut_list(&job, &Covering::default(), &job.pieces, &lay(&job, &places, Vec::new())).expect("a cut list");
    let text = String::from_utf8(bytes).expect("UTF-8");
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    assert_eq!(lines.len(), 2);
    assert!(text.ends_with("\r\n") && !lines.iter().any(|line| line.contains('\n')));
    assert!(lines[1].starts_with(r#"1,"gusset, ""upper""",1,1,"#), "{}", lines[1]);
}

#[test]
fn names_that_look_like_formulas_are_defused_and_numbers_are_not() {
    for name in ["=1+1", "+sum", "-rib", "@here"] {
        let text = format!(
            r#"{{ "format": 1, "units": "mm", "cloth": [ {{ "name": "roll", "width": 900 }} ],
                "pieces": [ {{ "name": "{name}", "outline": {{ "polygon": [[10, 0], [60, 0], [60, 30]] }}, "grain": "along" }} ] }}"#
        );
        let job = job(&text);
        let places = [(name, 1, 0.0, false, [-5.0, 0.0])];
        let bytes =
            cut_list(&job, &Covering::default(), &job.pieces, &lay(&job, &places, Vec::new())).expect("a cut list");
        let (_, lines) = read_back(&bytes);
        assert_eq!(lines[0][1], format!("'{name}"));
        assert_eq!(&lines[0][12], "5", "a place is a number");
    }
}

#[test]
fn a_copy_without_a_place_is_in_the_list_and_says_why() {
    let job = job(MIXED);
    let unplaced = vec![UnplacedPiece { piece: "doily".into(), copy: 2, why: "the roll is too short".into() }];
    let bytes =
        cut_list(&job, &Covering::default(), &job.pieces, &lay(&job, &MIXED_PLACES, unplaced)).expect("a cut list");
    let (head, lines) = read_back(&bytes);
    let doilies: Vec<_> = lines.iter().filter(|line| &line[1] == "doily").collect();
    let copies: Vec<&str> = doilies.iter().map(|line| &line[2]).collect();
    assert_eq!(copies, ["1", "2", "3"], "in the order of their copies");
    let cloth = head.iter().position(|cell| cell == "cloth").expect("a column");
    assert_eq!(&doilies[1][cloth], NOT_PLACED);
    assert_eq!(doilies[1].iter().next_back(), Some("the roll is too short"));
}
