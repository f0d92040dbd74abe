//! A good job is read into what the person meant, in millimetres; risky things are cautioned, and files that are none
//! are refused in plain words.

use std::path::{Path, PathBuf};

use clothwright::job::{self, Edge, Grain, GrainDirection, MemberClass, PartKind, Pinking, ReadError, Reading};
use clothwright::units::Units;

fn good(name: &str) -> Reading {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/good").join(format!("{name}.json"));
    job::read(&path).unwrap_or_else(|error| panic!("{error}"))
}

fn read(text: &str) -> Reading {
    job::read_text("x.json", text).unwrap_or_else(|faults| panic!("{faults}"))
}

/// A job of one roll and one piece with more keys.
fn with_piece(keys: &str) -> String {
    format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "roll", "width": 1780 }}],
             "pieces": [{{ "name": "patch", "outline": {{ "rect": [300, 200] }}, {keys} }}] }}"#
    )
}

#[test]
fn the_smallest_job_works() {
    let Reading { job, cautions } = good("smallest");
    assert_eq!((job.name.as_str(), job.units, job.gap), ("smallest", Units::Mm, 0.0));
    let roll = &job.cloth[0];
    assert_eq!((roll.name.as_str(), roll.width, roll.length, roll.count), ("roll", 1780.0, None, 1));
    assert_eq!((roll.selvage, roll.usable(), roll.faces_alike), ([0.0, 0.0], [0.0, 1780.0], false));
    let doily = &job.pieces[0];
    assert_eq!((doily.name.as_str(), doily.quantity, doily.flip), ("doily", 24, true));
    // From memory: shears have 3/16 to 1/4 in from tip to tip.
    assert_eq!(doily.edge, Edge::Pinked(Pinking { pitch: 5.0, depth: 2.5 }));
    assert!(cautions.is_empty());
}

/// AC 43.13-1B paragraph 2-8: warp or fill parallel to the line of flight, both are allowed.
#[test]
fn without_a_grain_warp_or_fill_may_run_along_the_piece() {
    let grain = good("smallest").job.pieces[0].grain;
    assert_eq!(grain, Grain { direction: GrainDirection::Either, tolerance: 0.0, one_way: false });
    assert_eq!(grain.turns(), Some(vec![0.0, 90.0, 180.0, 270.0]));
}

/// FAA-H-8083-31 chapter 3: a pinked edge is about 41 % longer than a straight one.
#[test]
fn teeth_without_figures_make_the_edge_41_percent_longer() {
    let Edge::Pinked(teeth) = good("smallest").job.pieces[0].edge else { panic!("pinked") };
    let longer = 2.0 * (teeth.pitch / 2.0).hypot(teeth.depth) / teeth.pitch - 1.0;
    assert!((longer - 0.41).abs() < 0.01, "{longer}");
}

#[test]
fn every_key_arrives() {
    let Reading { job, cautions } = good("every-key");
    assert_eq!((job.name.as_str(), job.gap), ("Dunlin tail patches", 3.0));
    assert_eq!(job.note.as_deref(), Some("Every key of the format once."));
    let roll = &job.cloth[0];
    assert_eq!((roll.width, roll.length, roll.count, roll.selvage), (1780.0, Some(20_000.0), 2, [10.0, 15.0]));
    assert_eq!(roll.usable(), [10.0, 1765.0]);
    assert_eq!((roll.mass, roll.price, roll.sold_by), (Some(92.0), Some(14.5), Some(500.0)));
    assert_eq!((roll.faces_alike, roll.note.as_deref()), (true, Some("ordered for the tail")));
    assert_eq!(roll.flaws[0].note.as_deref(), Some("oil stain"));
    let stain = roll.flaws[0].outline.flatten().unwrap().bounds();
    assert!((stain.center().x - 1200.0).abs() < 0.1 && (stain.center().y - 300.0).abs() < 0.1, "{stain:?}");
    assert_eq!(roll.flaws[1].outline.flatten().unwrap().bounds().min(), (5000.0, 0.0).into());
    // An offcut without a length is as long as its outline.
    assert_eq!(job.cloth[1].length, Some(1400.0));

    let side = &job.pieces[0];
    assert_eq!((side.quantity, side.flip, &side.cloth[..]), (2, false, &["roll".to_owned()][..]));
    assert_eq!(side.grain, Grain { direction: GrainDirection::Along, tolerance: 2.0, one_way: true });
    assert_eq!(side.goes.as_deref(), Some("rudder, both sides"));
    assert_eq!(side.source.as_deref(), Some("Dunlin drawing 7"));
    assert!(side.cut.area() > side.outline.flatten().unwrap().area());
    assert_eq!(job.pieces[1].grain.direction, GrainDirection::Free);
    assert_eq!(job.pieces[2].edge, Edge::Pinked(Pinking { pitch: 6.0, depth: 3.0 }));
    assert_eq!(job.pieces[2].cloth, ["roll", "wedge"]);
    // 120 x 80 and a quarter of an inch all round.
    assert!((job.pieces[5].cut.area() - 132.7 * 92.7).abs() < 1e-6);
    assert_eq!(job.pieces[6].cut.area(), 300.0 * 200.0 - 100.0 * 80.0);

    let PartKind::Truss(truss) = &job.airframe[4].kind else { panic!("a truss: {:?}", job.airframe[4]) };
    assert_eq!((truss.nodes[1].name.as_str(), truss.nodes[1].place), ("lower tail", [3000.0, 100.0, 120.0]));
    let tube = truss.tube([1, 0]).unwrap();
    assert_eq!((tube.diameter, tube.class), (19.05, MemberClass::Longeron));
    assert_eq!(truss.grain, GrainDirection::Along);
    let face = &truss.faces[0];
    assert_eq!((&face.ring[..], face.order, face.mirrored), (&[0, 1, 2, 3][..], 1, true));

    let places: Vec<_> = cautions.iter().map(|caution| caution.path.as_str()).collect();
    assert_eq!(places, ["pieces[4].grain"]);
}

#[test]
fn plain_numbers_are_in_the_units_of_the_job() {
    for (units, width) in [("mm", 2.0), ("cm", 20.0), ("m", 2000.0), ("in", 50.8), ("ft", 609.6)] {
        let text = format!(
            r#"{{ "pieces": [{{ "name": "p", "outline": {{ "path": "M0 0H1V1Z" }} }}],
                 "cloth": [{{ "name": "c", "width": 2 }}], "units": "{units}", "format": 1 }}"#
        );
        let job = read(&text).job;
        assert_eq!(job.cloth[0].width, width);
        // Path numbers too: half of a square whose side is half of the cloth's width.
        let area = job.pieces[0].cut.area();
        assert!((area - width * width / 8.0).abs() < 1e-6 * area, "{units}: {area}");
    }
}

#[test]
fn byte_order_mark_tabs_and_line_ends_of_other_systems_are_taken() {
    let job = good("saved-elsewhere").job;
    assert_eq!(job.cloth[0].name, "Flügel");
    assert_eq!(job.pieces[0].cut.area(), 300.0 * 200.0);
}

#[test]
fn every_good_fixture_reads() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/good");
    for entry in std::fs::read_dir(folder).unwrap() {
        job::read(&entry.unwrap().path()).unwrap_or_else(|error| panic!("{error}"));
    }
}

#[test]
fn grain_gives_the_turns_that_it_allows() {
    for (grain, turns) in [
        (r#""along""#, vec![0.0, 180.0]),
        (r#""across""#, vec![90.0, 270.0]),
        (r#""bias""#, vec![45.0, 135.0, 225.0, 315.0]),
        (r#"{ "direction": "along", "one_way": true }"#, vec![0.0]),
        (r#"{ "direction": "across", "one_way": true }"#, vec![90.0]),
        (r#"{ "one_way": true }"#, vec![0.0, 90.0]),
        (r#"{ "direction": "bias", "one_way": true }"#, vec![45.0, 315.0]),
    ] {
        let job = read(&with_piece(&format!("\"grain\": {grain}"))).job;
        assert_eq!(job.pieces[0].grain.turns(), Some(turns), "{grain}");
    }
    assert_eq!(read(&with_piece(r#""grain": "free""#)).job.pieces[0].grain.turns(), None);
}

#[test]
fn off_the_grain_is_cautioned() {
    for (grain, words) in [
        (r#""bias""#, "is cut on the bias"),
        (r#""free""#, "may be cut at any angle"),
        (r#"{ "direction": "along", "tolerance": 12 }"#, "may be cut 12° off the grain"),
    ] {
        let cautions = read(&with_piece(&format!("\"grain\": {grain}"))).cautions;
        assert_eq!(cautions.len(), 1, "{grain}");
        assert_eq!((cautions[0].path.as_str(), cautions[0].line), ("pieces[0].grain", 2));
        assert!(cautions[0].message.contains(words) && cautions[0].message.contains("approval"), "{}", cautions[0]);
    }
    for grain in [r#""along""#, r#""across""#, r#""either""#, r#"{ "tolerance": 3 }"#] {
        assert!(read(&with_piece(&format!("\"grain\": {grain}"))).cautions.is_empty(), "{grain}");
    }
}

#[test]
fn a_circle_has_no_angle_to_caution() {
    let text = |outline: &str| {
        format!(
            r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "c", "width": 1000 }}],
                 "pieces": [{{ "name": "p", "outline": {outline}, "grain": "free" }}] }}"#
        )
    };
    assert_eq!(read(&text(r#"{ "rect": [100, 100] }"#)).cautions.len(), 1);
    for round in [r#"{ "circle": 100 }"#, r#"{ "ring": [100, 60] }"#] {
        assert!(read(&text(round)).cautions.is_empty(), "{round}");
    }
}

#[test]
fn flaws_that_leave_no_room_are_cautioned() {
    let text = |length: &str, flaws: &str| {
        format!(
            r#"{{ "format": 1, "units": "mm", "pieces": [{{ "name": "p", "outline": {{ "circle": 100 }} }}],
                 "cloth": [{{ "name": "c", "width": 1000, "selvage": 10 {length}, "flaws": [{flaws}] }}] }}"#
        )
    };
    let rect = |size: &str, at: &str| format!(r#"{{ "outline": {{ "rect": {size}, "at": {at} }} }}"#);
    let across = rect("[50, 980]", "[700, 10]");
    let halves = format!("{}, {}", rect("[600, 1000]", "[0, 0]"), rect("[600, 1000]", "[500, 0]"));
    for (length, flaws, words) in [
        ("", &across, "the whole usable width from 700 mm to 750 mm"),
        (r#", "length": 1000"#, &halves, "its flaws leave nothing"),
    ] {
        let cautions = read(&text(length, flaws)).cautions;
        assert_eq!(cautions.len(), 1, "{flaws}");
        assert!(cautions[0].message.contains(words), "{}", cautions[0]);
    }
    for (length, flaws) in
        [("", &rect("[50, 970]", "[700, 10]")), (r#", "length": 1000"#, &across), (r#", "length": 1200"#, &halves)]
    {
        assert!(read(&text(length, flaws)).cautions.is_empty(), "{flaws}");
    }
}

#[test]
fn a_flaw_beside_the_cloth_is_cautioned() {
    let text = |at: &str| {
        format!(
            r#"{{ "format": 1, "units": "mm", "pieces": [{{ "name": "p", "outline": {{ "circle": 100 }} }}],
                 "cloth": [{{ "name": "c", "width": 1000, "length": 2000,
                              "flaws": [{{ "outline": {{ "rect": [100, 100], "at": {at} }} }}] }}] }}"#
        )
    };
    for beside in ["[2000, 0]", "[-100, 0]", "[0, 1000]", "[0, -150]"] {
        let cautions = read(&text(beside)).cautions;
        assert_eq!(cautions.len(), 1, "{beside}");
        assert_eq!(cautions[0].path, "cloth[0].flaws[0]");
    }
    for on in ["[1950, 0]", "[-50, 500]", "[500, 950]"] {
        assert!(read(&text(on)).cautions.is_empty(), "{on}");
    }
}

fn refusal(path: &Path) -> ReadError {
    job::read(path).expect_err("this is no job")
}

#[test]
fn what_is_no_readable_file_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, bytes: &[u8]| -> PathBuf {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    };
    let missing = refusal(&folder.path().join("none.json"));
    assert!(matches!(missing, ReadError::Missing { .. }) && missing.to_string().contains("there is no file"));
    let a_folder = refusal(folder.path());
    assert!(matches!(a_folder, ReadError::Folder { .. }) && a_folder.to_string().contains("is a folder"));
    let latin = refusal(&write("latin.json", b"{ \"name\": \"Fl\xfcgel\" }"));
    assert!(matches!(latin, ReadError::NotUtf8 { line: 1, .. }) && latin.to_string().contains("UTF-8"), "{latin}");
    let utf16 = refusal(&write("utf16.json", b"\xff\xfe{\0}\0"));
    assert!(matches!(utf16, ReadError::NotUtf8 { line: 1, .. }));
    let large = refusal(&write("large.json", &vec![b' '; job::limits::FILE_BYTES as usize + 1]));
    assert!(matches!(large, ReadError::TooLarge { .. }) && large.to_string().contains("16 MB"), "{large}");
}

#[test]
fn limits_are_kept_and_said() {
    let fault = |text: &str| job::read_text("x.json", text).expect_err("too much").faults.remove(0).message;
    let points: Vec<String> = (0..20_001).map(|n| format!("[{n},{}]", n % 2)).collect();
    let polygon = with_piece(r#""quantity": 1"#)
        .replace(r#""rect": [300, 200]"#, &format!(r#""polygon": [{}]"#, points.join(",")));
    assert!(fault(&polygon).contains("20000 entries"));
    let long = with_piece(&format!(r#""goes": "fin", "source": "{}""#, "x".repeat(500)));
    assert!(job::read_text("x.json", &long).is_ok());
    assert!(fault(&with_piece(r#""quantity": 1"#).replace("patch", &"x".repeat(201))).contains("201 characters"));
    let one = r#"{ "name": "p", "outline": { "circle": 0 } }"#;
    let many = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [{{ "name": "c", "width": 9 }}], "pieces": [{}] }}"#,
        vec![one; 300].join(", ")
    );
    let faults = job::read_text("x.json", &many).unwrap_err();
    assert_eq!((faults.faults.len(), faults.count()), (20, 599)); // 300 circles and 299 names used before
    assert!(faults.to_string().contains("\nand 290 more of this kind\n"), "{faults}");
}
