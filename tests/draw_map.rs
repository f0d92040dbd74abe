//! The promise: everything that goes onto a face is on its map under its number, tags can be read and never lie on each
//! other, and the table has a line for each thing with the place where a tape measure finds it.

#[path = "support/run.rs"]
mod run;

use std::collections::BTreeMap;

use clothwright::covering::dressing::{TapeCut, WantedShape};
use clothwright::covering::{
    CoveredPart, Covering, DrainHole, Dressed, LacedRib, LacesOnFace, Leg, Patch, Ring, TapeOrder, TapeRun, cover,
};
use clothwright::draw::{map_sheets, map_table};
use clothwright::job::{Job, read_text};
use clothwright::plan::{MapKind, map_rows};
use geo_types::{Coord, coord};
use run::Bench;

/// A fin of 600 by 1200 mm with one rib, its hinge line up the left edge.
const FIN: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin fin", "cloth": [{ "name": "roll", "width": 1780, "faces_alike": true }],
  "rules": { "method": "doped", "vne": "120 mph", "wing_loading": "6 lb/ft2" },
  "airframe": [ { "name": "fin", "kind": "flat", "surface": "empennage", "outline": { "rect": [600, 1200] }, "tube": 19,
    "axes": ["aft", "up"], "hinge": [[0, 0], [0, 1200]],
    "members": [ { "class": "rib", "from": [0, 400], "to": [600, 400] } ] } ] }"#;

fn dunlin() -> (Job, Covering) {
    covered(include_str!("../examples/dunlin/airframe.json"))
}

fn covered(text: &str) -> (Job, Covering) {
    let job = read_text("job.json", text).unwrap_or_else(|fault| panic!("{fault}")).job;
    let covering = cover(&job).unwrap_or_else(|faults| panic!("{faults:?}"));
    (job, covering)
}

/// One thing of each kind on the first side, made by hand.
fn dressed() -> Dressed {
    let run = vec![coord! { x: 0.0, y: 400.0 }, coord! { x: 600.0, y: 400.0 }];
    Dressed {
        tapes: vec![TapeRun {
            number: "T1".to_owned(),
            over: "rib".to_owned(),
            order: TapeOrder::Chordwise,
            width: 50.0,
            cut: TapeCut::Straight,
            length: 650.0,
            quantity: 1,
            legs: vec![
                Leg { face: 0, run: run.clone() },
                Leg { face: 1, run: run.iter().map(|p| coord! { x: p.x, y: -p.y }).collect() },
            ],
            round: Vec::new(),
            joined: false,
            source: String::new(),
            notes: Vec::new(),
        }],
        patches: vec![Patch {
            number: "7·1–4".to_owned(),
            over: "rudder cable".to_owned(),
            face: 0,
            at: coord! { x: 120.0, y: 410.0 },
            shape: WantedShape::Rect([60.0, 90.0]),
            least: WantedShape::Rect([50.0, 80.0]),
            piece: "patch".to_owned(),
            hands: 2,
            layers: 2,
            notes: vec!["cut after shrinking (AC 2-8d)".to_owned()],
        }],
        rings: vec![Ring {
            number: "8".to_owned(),
            name: "pulley".to_owned(),
            face: 0,
            at: coord! { x: 125.0, y: 420.0 },
            inside: 89.0,
            outside: 114.0,
            doily: 165.0,
            piece: "doily".to_owned(),
            hands: 1,
            notes: Vec::new(),
        }],
        drains: vec![DrainHole {
            number: "D1".to_owned(),
            patch_number: None,
            face: 0,
            at: coord! { x: 580.0, y: 20.0 },
            hole: 6.0,
            piece: None,
            patch: 0.0,
            hands: 1,
        }],
        ribs: vec![LacedRib {
            anti_tear: None,
            rib: "rib".to_owned(),
            at: vec![0.0, 60.0, 120.0],
            spacing: 63.5,
            cord: None,
            cap: (12.7, false),
            reinforcing: 0.0,
            reinforcing_strip: (170.8, 12.7, 1),
            places: vec![LacesOnFace {
                face: 0,
                along: vec![0.0, 60.0, 120.0],
                at: vec![coord! { x: 60.0, y: 400.0 }, coord! { x: 120.0, y: 400.0 }, coord! { x: 180.0, y: 400.0 }],
            }],
            hands: 2,
            source: String::new(),
        }],
        quantities: Vec::new(),
    }
}

fn fin() -> (Job, Covering) {
    let (job, mut covering) = covered(FIN);
    covering.parts[0].dressed = dressed();
    (job, covering)
}

/// A rectangle of a sheet with what is written on it.
#[derive(Debug)]
struct Tag {
    words: String,
    size: f64,
    min: Coord<f64>,
    max: Coord<f64>,
}

struct Sheet {
    svg: String,
    /// Millimetres of the face in a millimetre of A3.
    scale: f64,
    /// Of each face on it.
    tags: Vec<Vec<Tag>>,
}

fn sheets(job: &Job, part: &CoveredPart) -> Vec<Sheet> {
    map_sheets(job, part).into_iter().map(read).collect()
}

fn read(svg: String) -> Sheet {
    let document = roxmltree::Document::parse(&svg).expect("well-formed XML");
    let root = document.root_element();
    assert_eq!([root.attribute("width"), root.attribute("height")], [Some("420mm"), Some("297mm")], "A3 of ISO 216");
    let view: Vec<f64> =
        root.attribute("viewBox").expect("a view box").split(' ').map(|n| n.parse().expect("a number")).collect();
    assert!((view[2] / view[3] - 420.0 / 297.0).abs() < 1e-4);
    let groups = document.descendants().filter(|node| node.attribute("class") == Some("tags"));
    let tags = groups.map(|group| {
        let plates = group.children().filter(|node| node.has_tag_name("rect"));
        let words = group.children().filter(|node| node.has_tag_name("text"));
        plates.zip(words).map(|(plate, words)| {
            let number = |name: &str| plate.attribute(name).expect("a side").parse::<f64>().expect("a number");
            let min = coord! { x: number("x"), y: number("y") };
            Tag {
                words: words.text().unwrap_or_default().to_owned(),
                size: words.attribute("font-size").and_then(|size| size.parse().ok()).expect("a size"),
                min,
                max: min + coord! { x: number("width"), y: number("height") },
            }
        })
    });
    let tags = tags.map(Iterator::collect).collect();
    Sheet { scale: view[3] / 297.0, tags, svg }
}

/// How often each number must be on each face.
fn numbers(part: &CoveredPart, face: usize) -> BTreeMap<String, usize> {
    let dressed = &part.dressed;
    let tapes = dressed.tapes.iter().filter(|tape| tape.lines().any(|leg| leg.face == face)).map(|tape| &tape.number);
    let patches = dressed.patches.iter().filter(|patch| patch.face == face).map(|patch| &patch.number);
    let rings = dressed.rings.iter().filter(|ring| ring.face == face).map(|ring| &ring.number);
    let drains = dressed.drains.iter().filter(|drain| drain.face == face).map(|drain| &drain.number);
    let mut counts = BTreeMap::new();
    for number in tapes.chain(patches).chain(rings).chain(drains) {
        *counts.entry(number.clone()).or_insert(0) += 1;
    }
    counts
}

fn assert_tagged(job: &Job, part: &CoveredPart) {
    let sheets = sheets(job, part);
    let faces: Vec<&Vec<Tag>> = sheets.iter().flat_map(|sheet| &sheet.tags).collect();
    assert_eq!(faces.len(), part.faces.len(), "{}: each face once", part.name);
    for (face, tags) in faces.into_iter().enumerate() {
        for (number, count) in numbers(part, face) {
            assert_eq!(count, 1, "{}: two things have the number {number}", part.name);
            let found = tags.iter().filter(|tag| tag.words == number).count();
            assert_eq!(found, 1, "{}, {}: {number}", part.name, part.faces[face].name);
        }
    }
    sheets.iter().for_each(|sheet| assert_apart(part, sheet));
}

fn assert_apart(part: &CoveredPart, sheet: &Sheet) {
    let all: Vec<&Tag> = sheet.tags.iter().flatten().collect();
    for (index, one) in all.iter().enumerate() {
        // Half a millimetre of paper at least is free between two tags.
        let free = 0.5 * sheet.scale;
        for other in &all[index + 1..] {
            let apart = one.max.x + free < other.min.x
                || other.max.x + free < one.min.x
                || one.max.y + free < other.min.y
                || other.max.y + free < one.min.y;
            assert!(apart, "{}: {one:?} and {other:?}", part.name);
        }
        let [right, foot] = [420.0, 297.0].map(|side| side * sheet.scale);
        assert!(one.min.x > 0.0 && one.min.y > 0.0 && one.max.x < right && one.max.y < foot, "{one:?}");
    }
}

#[test]
fn everything_on_the_dunlin_has_its_tag_once_and_no_tag_lies_on_another() {
    let (job, covering) = dunlin();
    let dressed = covering.parts.iter().filter(|part| !part.faces.is_empty());
    let count = dressed.clone().map(|part| numbers(part, 0).len()).filter(|count| *count > 0).count();
    assert_eq!(count, 7, "seven parts have something on their first face");
    dressed.for_each(|part| assert_tagged(&job, part));
}

#[test]
fn things_that_crowd_one_place_still_have_their_tags() {
    let (job, mut covering) = fin();
    assert_tagged(&job, &covering.parts[0]);
    let patch = covering.parts[0].dressed.patches[0].clone();
    for copy in 0..12 {
        let at = patch.at + coord! { x: f64::from(copy), y: 0.0 };
        covering.parts[0].dressed.patches.push(Patch { number: format!("9·{copy}"), at, ..patch.clone() });
    }
    assert_tagged(&job, &covering.parts[0]);
}

/// Nothing of the Dunlin is hidden, and every line of its tables stands on a sheet: the wing's bottom, with its rings and some
/// sixty drains, has a sheet of its own.
#[test]
fn no_tag_hides_a_mark_and_no_line_is_lost() {
    let (job, covering) = dunlin();
    let rows = map_rows(&job, &covering);
    for part in covering.parts.iter().filter(|part| !part.faces.is_empty()) {
        let sheets = sheets(&job, part);
        if part.name == "wing" {
            assert_eq!(sheets.len(), 2, "a sheet for each face");
        }
        let texts: Vec<String> = sheets.iter().flat_map(|sheet| figures(&sheet.svg)).collect();
        for row in rows.iter().filter(|row| row.part == part.name && !row.number.is_empty()) {
            let found = texts.iter().filter(|text| **text == row.number).count();
            assert!(found >= 1, "{}: no sheet has a line for {}", part.name, row.number);
        }
        let laces = rows.iter().filter(|row| row.part == part.name && row.kind == MapKind::Laces).count();
        let lines = texts.iter().filter(|text| text.starts_with("rib ") && !text.contains("wide")).count();
        assert!(lines >= laces, "{}: {lines} lines for {laces} ribs", part.name);
        for sheet in &sheets {
            for tag in sheet.tags.iter().flatten() {
                let on = |ring: &(Coord<f64>, f64)| {
                    let nearest =
                        coord! { x: ring.0.x.clamp(tag.min.x, tag.max.x), y: ring.0.y.clamp(tag.min.y, tag.max.y) };
                    (nearest - ring.0).x.hypot((nearest - ring.0).y) < ring.1
                };
                assert!(!rings(&sheet.svg).iter().any(on), "{}: {} lies on a ring", part.name, tag.words);
            }
        }
    }
}

/// What is written in the figures of a sheet.
fn figures(svg: &str) -> Vec<String> {
    let document = roxmltree::Document::parse(svg).expect("well-formed XML");
    let groups = document.descendants().filter(|node| node.attribute("class") == Some("figures"));
    let texts = groups.flat_map(|group| group.descendants()).filter(|node| node.has_tag_name("text"));
    texts.filter_map(|node| node.text().map(str::to_owned)).collect()
}

/// Middle and radius of every doily on the faces of a sheet.
fn rings(svg: &str) -> Vec<(Coord<f64>, f64)> {
    let document = roxmltree::Document::parse(svg).expect("well-formed XML");
    let faces = document.descendants().filter(|node| node.attribute("class") == Some("faces"));
    let circles = faces.flat_map(|face| face.descendants()).filter(|node| node.attribute("class") == Some("ring"));
    let number = |node: &roxmltree::Node, name: &str| node.attribute(name).and_then(|n| n.parse().ok()).unwrap_or(0.0);
    circles.map(|node| (coord! { x: number(&node, "cx"), y: number(&node, "cy") }, number(&node, "r"))).collect()
}

/// Numbers on tags have capitals of 2.2 mm at least: in the usual sans-serif fonts these are 0.7 of the letters' size or
/// more. Words are as high as the sizes of ISO 3098-1:2015 from 2.5 mm up, printed on A3 (ISO 216).
#[test]
fn a_map_can_be_read_on_a3() {
    let (job, covering) = dunlin();
    let parts = covering.parts.iter().filter(|part| !part.faces.is_empty());
    for (part, sheet) in parts.flat_map(|part| sheets(&job, part).into_iter().map(move |sheet| (part, sheet))) {
        let tags = sheet.tags.iter().flatten().map(|tag| tag.size / sheet.scale * 0.7);
        assert!(tags.fold(f64::INFINITY, f64::min) >= 2.2, "{}", part.name);
        let document = roxmltree::Document::parse(&sheet.svg).expect("well-formed XML");
        let words = document.descendants().filter(|node| node.has_tag_name("text"));
        for node in words.filter(|node| node.text().is_some()) {
            let number = |name: &str| node.attribute(name).and_then(|value| value.parse::<f64>().ok()).expect(name);
            assert!(number("font-size") / sheet.scale > 2.49, "{}: {:?}", part.name, node.text());
            let high = number("y") / sheet.scale;
            assert!(high < 297.0 - 5.0, "{}: {:?} stands {high} mm down", part.name, node.text());
        }
    }
}

/// Closed form: on a rectangle with its hinge up the left edge, a place is its own two coordinates from the lower corner.
#[test]
fn the_table_says_where_a_tape_measure_finds_each_thing() {
    let (job, covering) = fin();
    let rows = map_rows(&job, &covering);
    let place = |kind: MapKind| {
        let row = rows.iter().find(|row| row.kind == kind).expect("a row");
        (row.along, row.square, row.quantity, row.flag.as_deref())
    };
    assert_eq!(place(MapKind::Patch), (Some(410.0), Some(120.0), 4, Some("A")), "two layers, two hands");
    assert_eq!(place(MapKind::Ring), (Some(420.0), Some(125.0), 1, Some("A")));
    assert_eq!(place(MapKind::Drain), (Some(20.0), Some(580.0), 1, Some("A")));
    assert_eq!(place(MapKind::Laces), (Some(400.0), Some(60.0), 6, Some("A")));
    let tape = rows.iter().find(|row| row.kind == MapKind::Tape).expect("a row");
    assert_eq!((tape.face.as_str(), tape.length, tape.width), ("first side and second side", Some(650.0), Some(50.0)));
    // It is measured up the edge: the side of the patch along that comes first.
    let patch = &rows[0];
    assert_eq!((patch.length, patch.width, patch.cut_after_shrinking), (Some(90.0), Some(60.0), true));
    assert_eq!(patch.corner.as_deref(), Some("the lower end"), "its y axis points up");
}

#[test]
fn the_sheet_says_the_same_as_the_table() {
    let (job, covering) = fin();
    let sheets = sheets(&job, &covering.parts[0]);
    let documents: Vec<_> =
        sheets.iter().map(|sheet| roxmltree::Document::parse(&sheet.svg).expect("well-formed XML")).collect();
    let nodes = documents.iter().flat_map(|document| document.descendants());
    let words: Vec<&str> = nodes.filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
    let count = |class: &str| sheets.iter().map(|sheet| sheet.svg.matches(class).count()).sum::<usize>();
    for wanted in
        ["410 mm", "120 mm", "420 mm", "125 mm", "20 mm", "580 mm", "90 × 60 mm, rudder cable", "cut after shrinking"]
    {
        assert!(words.contains(&wanted), "{wanted} is not among {words:?}");
    }
    assert_eq!(count("class=\"lace\""), 3 + 7, "three laces, seven in the key");
    assert_eq!(count("class=\"later\""), 1 + 1, "one patch, one in the key");
}

/// Two edges of the Dunlin's wing go by one name: without letters of their own a place would be measured from the wrong one.
#[test]
fn corners_of_one_name_have_letters_of_their_own() {
    let (job, covering) = dunlin();
    let rows = map_rows(&job, &covering);
    let wing = covering.parts.iter().find(|part| part.name == "wing").expect("a wing");
    for row in rows.iter().filter(|row| row.part == "wing" && row.flag.is_some()) {
        let flags = clothwright::plan::map_flags(wing);
        let flag = flags.iter().find(|flag| Some(&flag.letter) == row.flag.as_ref()).expect("a flag");
        let (face, number) = (&wing.faces[flag.face], &row.number);
        assert_eq!(face.name, row.face);
        let patch = wing.dressed.patches.iter().find(|patch| patch.number == *number && !number.is_empty());
        if let Some(patch) = patch {
            let measure = face.datums[flag.datum].measure(patch.at);
            assert_eq!((Some(measure.along), Some(measure.across)), (row.along, row.square), "{number}");
        }
    }
}

#[test]
fn the_table_has_a_line_for_each_thing() -> Result<(), Box<dyn std::error::Error>> {
    let (job, covering) = dunlin();
    let table = map_table(&job, &covering)?;
    let mut lines: BTreeMap<(String, String), usize> = BTreeMap::new();
    let mut reader = csv::Reader::from_reader(table.as_slice());
    assert_eq!(reader.headers()?.get(2), Some("number"));
    for record in reader.records() {
        let record = record?;
        *lines.entry((record[0].to_owned(), record[3].to_owned())).or_insert(0) += 1;
    }
    for part in &covering.parts {
        let dressed = &part.dressed;
        let laces = dressed.ribs.iter().map(|rib| rib.places.len()).sum();
        let counts = [
            ("patch", dressed.patches.len()),
            ("ring", dressed.rings.len()),
            ("drain", dressed.drains.len()),
            ("tape", dressed.tapes.len()),
            ("laces", laces),
        ];
        for (kind, count) in counts {
            let found = lines.get(&(part.name.clone(), kind.to_owned())).copied().unwrap_or(0);
            assert_eq!(found, count, "{}: {kind}", part.name);
        }
    }
    Ok(())
}

#[test]
fn places_prints_the_table_and_lay_writes_the_maps() {
    let bench = Bench::with(FIN);
    let table = bench.run(&["places", "job.json"]);
    assert_eq!(table.code, Some(0), "{}", table.messages);
    let tape = table.results.lines().find(|line| line.contains("T1 ")).expect("the first tape");
    assert!(tape.starts_with("fin"), "{tape}");
    let json = bench.run(&["places", "job.json", "--json"]);
    let list: serde_json::Value = serde_json::from_str(&json.results).expect("JSON");
    let places = list["places"].as_array().expect("a list").len();
    assert_eq!(bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]).code, Some(0));
    assert!(bench.names("out").contains(&"map-fin.svg".to_owned()));
    assert_eq!(bench.read("out/map.csv").lines().count(), places + 1, "a line each, and the head line");
}

/// A part with more figures than a sheet holds beside a face: the face is still drawn, once, and every line stands on a sheet.
#[test]
fn four_hundred_fittings_on_one_part_leave_no_sheet_blank() {
    let (job, mut covering) = fin();
    let patch = covering.parts[0].dressed.patches[0].clone();
    covering.parts[0].dressed.patches = (0..400)
        .map(|copy| {
            let at = coord! { x: 20.0 + 28.0 * f64::from(copy % 20), y: 30.0 + 58.0 * f64::from(copy / 20) };
            Patch { number: format!("9·{copy}"), at, ..patch.clone() }
        })
        .collect();
    let part = &covering.parts[0];
    let sheets = sheets(&job, part);
    let faces: usize = sheets.iter().map(|sheet| sheet.tags.len()).sum();
    assert_eq!(faces, part.faces.len(), "each face once");
    let texts: Vec<String> = sheets.iter().flat_map(|sheet| figures(&sheet.svg)).collect();
    for patch in &part.dressed.patches {
        assert_eq!(texts.iter().filter(|text| **text == patch.number).count(), 1, "{}", patch.number);
    }
    assert!(sheets.iter().all(|sheet| !figures(&sheet.svg).is_empty()), "a sheet without a word");
}

/// A face with so many corners to measure from that these alone fill a sheet has one sheet for itself and its figures on others.
#[test]
fn a_face_with_three_hundred_corners_is_drawn() {
    const CORNERS: u32 = 320;
    let at = |corner: u32, radius: f64| {
        let angle = std::f64::consts::TAU * f64::from(corner) / f64::from(CORNERS);
        format!("[{:.2}, {:.2}]", 700.0 + radius * angle.cos(), 700.0 + radius * angle.sin())
    };
    let all = |one: &dyn Fn(u32) -> String| (0..CORNERS).map(one).collect::<Vec<_>>().join(",");
    let corners = all(&|corner| at(corner, if corner % 2 == 0 { 600.0 } else { 570.0 }));
    let fittings = all(&|corner| {
        let at = at(corner, 560.0);
        format!(r#"{{ "name": "f{corner}", "face": "first side", "at": {at}, "kind": "fitting", "size": [2, 2] }}"#)
    });
    let (job, covering) = covered(&format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780, "faces_alike": true }}],
            "rules": {{ "method": "doped", "vne": "120 mph", "wing_loading": "6 lb/ft2" }},
            "airframe": [ {{ "name": "disc", "kind": "flat", "surface": "empennage", "tube": 3,
                "outline": {{ "polygon": [{corners}] }}, "fittings": [{fittings}] }} ] }}"#
    ));
    let part = &covering.parts[0];
    let sheets = sheets(&job, part);
    assert_eq!(sheets.iter().map(|sheet| sheet.tags.len()).sum::<usize>(), part.faces.len(), "each face once");
    assert!(figures(&sheets[0].svg).is_empty() && !sheets[0].tags.is_empty(), "the face alone");
    let texts: Vec<String> = sheets.iter().flat_map(|sheet| figures(&sheet.svg)).collect();
    for patch in &part.dressed.patches {
        assert_eq!(texts.iter().filter(|text| **text == patch.number).count(), 1, "{}", patch.number);
    }
}
