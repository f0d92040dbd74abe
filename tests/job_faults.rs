//! Every fixture of a bad job is refused with its own message, at the line and the character that are wrong.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use clothwright::job::{self, Fault, ReadError};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad")
}

fn faults(name: &str) -> Vec<Fault> {
    match job::read(&folder().join(format!("{name}.json"))) {
        Err(ReadError::Faults(faults)) => faults.faults,
        other => panic!("{name} should have faults: {other:?}"),
    }
}

/// Fixture, line, column in characters, what stands there, path, message. Several rows for several faults.
type Row = (&'static str, usize, usize, &'static str, &'static str, &'static str);

#[test]
fn each_bad_fixture_is_refused_in_its_own_words() {
    let names: BTreeSet<_> = TABLE.iter().map(|row| row.0).collect();
    for name in names {
        let wanted: Vec<_> = TABLE.iter().filter(|row| row.0 == name).collect();
        let got = faults(name);
        let got: Vec<_> = got.iter().map(|f| (f.line, f.column, f.path.as_str(), f.message.as_str())).collect();
        let wanted: Vec<_> = wanted.iter().map(|row| (row.1, row.2, row.4, row.5)).collect();
        assert_eq!(got, wanted, "{name}");
    }
}

#[test]
fn what_is_meant_stands_at_the_line_and_column() {
    for (name, line, column, wanted, ..) in TABLE {
        let text = std::fs::read_to_string(folder().join(format!("{name}.json"))).unwrap();
        let line = text.trim_start_matches('\u{feff}').split('\n').nth(line - 1).unwrap();
        let found: String = line.chars().skip(column - 1).collect();
        assert!(found.starts_with(wanted), "{name}: {found:?} does not start with {wanted:?}");
    }
}

#[test]
fn every_bad_fixture_is_in_the_table() {
    let files: BTreeSet<String> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    assert_eq!(files, TABLE.iter().map(|row| row.0.to_owned()).collect());
}

#[test]
fn every_fault_says_what_would_be_right() {
    for fault in TABLE.iter().flat_map(|row| faults(row.0)) {
        assert!(fault.hint.len() > 10, "{fault:?}");
    }
}

#[rustfmt::skip]
const TABLE: &[Row] = &[
    ("airframe-empty", 4, 15, "[", "airframe", "the list of parts may not be empty"),
    ("airframe-without-rules", 1, 1, "{ \"format\": 1", "", "a job with an \"airframe\" needs the key \"rules\""),
    ("allowance-negative", 8, 20, "-10", "pieces[0].allowance", "an allowance must be 0 or more, this is -10"),
    ("allowance-wrong-count", 8, 20, "[25, 25, 0]", "pieces[0].allowance", "the outline has 4 edges, this list has 3 allowances"),
    ("cloth-list-empty", 2, 12, "[", "cloth", "the list of cloths may not be empty"),
    ("cloth-unknown", 8, 16, "\"rol\"", "pieces[0].cloth", "no cloth is called \"rol\""),
    ("cloth-unknown-in-list", 8, 25, "\"offcut\"", "pieces[0].cloth[1]", "no cloth is called \"offcut\""),
    ("count-zero", 4, 16, "0", "cloth[0].count", "a count of cloths must be 1 or more, this is 0"),
    ("edge-teeth-too-large", 8, 15, "{ \"pinked\": { ", "pieces[0].edge", "teeth of 6 mm by 4 mm do not fit a piece that is 8 mm across"),
    ("edge-unknown", 8, 15, "\"pinkd\"", "pieces[0].edge", "\"pinkd\" is not an edge"),
    ("figure-blank-why", 3, 149, "\" \" }] },", "rules.figures[0].why", "the reason is empty"),
    ("figure-negative", 3, 138, "-30, \"why\": \"", "rules.figures[0].value", "a figure must be 0 or more, this is -30"),
    ("figure-place-unknown", 3, 116, "\"tail\", \"valu", "rules.figures[0].at", "\"tail\" is not a place that rules know"),
    ("figure-twice", 5, 7, "{ \"figure\": \"", "rules.figures[1]", "the lap at \"empennage\" is given twice"),
    ("figure-without-why", 3, 91, "{ \"figure\": \"", "rules.figures[0]", "a figure of your own needs the key \"why\""),
    ("fit-allowance", 7, 18, "{ \"rect\": [176", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"roll\", where it comes nearest, it needs 1790 mm across the cloth, where 1780 mm can be used: 10 mm too wide"),
    ("fit-bias", 7, 18, "{ \"rect\": [178", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"roll\", where it comes nearest, it needs 1965.8 mm across the cloth, where 1780 mm can be used: 185.8 mm too wide"),
    ("fit-grain", 7, 18, "{ \"rect\": [300", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"roll\", where it comes nearest, it needs 1800 mm across the cloth, where 1780 mm can be used: 20 mm too wide"),
    ("fit-named-cloth", 8, 18, "{ \"circle\": 60", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"offcut\", where it comes nearest, it needs 600.2 mm across the cloth, where 500 mm can be used: 100.2 mm too wide and it needs 600 mm along the cloth, where there is 500 mm: 100 mm too long"),
    ("fit-selvage", 7, 18, "{ \"circle\": 17", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"roll\", where it comes nearest, it needs 1760.1 mm across the cloth, where 1740 mm can be used: 20.1 mm too wide"),
    ("fit-too-long", 7, 18, "{ \"rect\": [110", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"offcut\", where it comes nearest, it needs 1000 mm along the cloth, where there is 900 mm: 100 mm too long"),
    ("fit-too-wide", 7, 18, "{ \"rect\": [200", "pieces[0].outline", "piece \"doily\" fits no cloth at any turn that its grain allows; on \"roll\", where it comes nearest, it needs 1800 mm across the cloth, where 1780 mm can be used: 20 mm too wide"),
    ("flat-hole", 8, 18, "{ \"ring\": [60", "airframe[0].outline", "the outline of a flat part has a hole"),
    ("flat-surface-fuselage", 6, 18, "\"fuselage\",", "airframe[0].surface", "a flat part does not belong to the fuselage"),
    ("flat-surface-missing", 5, 5, "{ \"name\": \"ru", "airframe[0]", "a flat part needs the key \"surface\""),
    ("flat-tube-count", 7, 15, "[19, 19, 22],", "airframe[0].tube", "the outline has 4 edges, this list has 3 tubes"),
    ("flat-tube-zero", 7, 15, "0,", "airframe[0].tube", "the diameter of a tube must be greater than 0, this is 0"),
    ("flat-wrap-unknown", 7, 27, "\"second side\"", "airframe[0].wrap", "\"second side\" is not a way to share the lap"),
    ("format-unknown", 1, 13, "2", "format", "format 2 is not known, this program reads format 1"),
    ("gap-negative", 1, 38, "-1", "gap", "the gap must be 0 or more, this is -1"),
    ("gap-too-long", 1, 37, "5000", "gap", "the gap may be 1000 m at most, this is 5000"),
    ("gap-too-long", 3, 32, "1780", "cloth[0].width", "the width of a cloth may be 1000 m at most, this is 1780"),
    ("grain-free-one-way", 8, 16, "{ \"direction\":", "pieces[0].grain", "a piece whose grain is \"free\" has neither a tolerance nor one way"),
    ("grain-tolerance", 8, 53, "60", "pieces[0].grain.tolerance", "a tolerance is 0 to 45 degrees, this is 60"),
    ("grain-unknown", 8, 16, "\"warp\"", "pieces[0].grain", "\"warp\" is not a direction of the grain"),
    ("hinge-no-length", 7, 28, "[[0, 0], [0, ", "airframe[0].hinge", "this hinge line has no length"),
    ("hole-crossing", 8, 19, "[[250, 50], [3", "pieces[0].outline.holes[0]", "hole 1 crosses the outer ring at x = 300 mm, y = 50 mm"),
    ("hole-outside", 8, 19, "[[400, 50], [4", "pieces[0].outline.holes[0]", "hole 1, at x = 400 mm, y = 50 mm, lies outside the piece"),
    ("holes-overlapping", 8, 53, "[[100, 40], [2", "pieces[0].outline.holes[1]", "hole 2 crosses hole 1 at x = 106.2 mm, y = 50 mm"),
    ("join-unknown", 8, 15, "\"mitered\"", "pieces[0].join", "\"mitered\" is not a way to turn a corner"),
    ("key-missing-name", 6, 5, "{", "pieces[0]", "a piece needs the key \"name\""),
    ("key-missing-pieces", 1, 1, "{ \"format\": 1", "", "a job needs the key \"pieces\", \"airframe\" or \"repairs\""),
    ("key-missing-units", 1, 1, "{", "", "a job needs the key \"units\""),
    ("key-twice", 4, 7, "\"width\"", "cloth[0].width", "the key \"width\" is written twice in the same object"),
    ("key-unknown-elsewhere", 8, 7, "\"selvage\"", "pieces[0].selvage", "a piece has no key \"selvage\""),
    ("key-unknown-far", 8, 7, "\"colour\"", "pieces[0].colour", "a piece has no key \"colour\""),
    ("key-unknown-near", 8, 7, "\"quantty\"", "pieces[0].quantty", "a piece has no key \"quantty\""),
    ("key-unknown-umlaut", 2, 51, "\"widht\"", "cloth[0].widht", "a cloth has no key \"widht\""),
    ("length-comma", 7, 30, "\"16,5 cm\"", "pieces[0].outline.circle", "\"16,5 cm\" has a comma; decimals are written with a point"),
    ("length-divided-by-zero", 7, 30, "\"1/0 in\"", "pieces[0].outline.circle", "the fraction in \"1/0 in\" divides by zero"),
    ("length-infinite", 7, 30, "1e999", "pieces[0].outline.circle", "a diameter must be finite, 1e999 is too large"),
    ("length-nan-text", 7, 30, "\"NaN\"", "pieces[0].outline.circle", "\"NaN\" is not a finite number"),
    ("length-negative", 7, 30, "-165", "pieces[0].outline.circle", "a diameter must be greater than 0, this is -165"),
    ("length-no-unit", 7, 30, "\"165\"", "pieces[0].outline.circle", "\"165\" has no unit"),
    ("length-tiny", 7, 30, "0.01", "pieces[0].outline.circle", "a diameter must be 0.1 mm or more, this is 0.01"),
    ("length-unknown-unit", 7, 30, "\"6.5 furlongs\"", "pieces[0].outline.circle", "\"furlongs\" in \"6.5 furlongs\" is not a unit of length"),
    ("length-wrong-order", 7, 30, "\"6 in 1 ft\"", "pieces[0].outline.circle", "the parts of \"6 in 1 ft\" do not go from a large unit to a smaller one"),
    ("length-zero", 7, 30, "0", "pieces[0].outline.circle", "a diameter must be greater than 0, this is 0"),
    ("many-at-once", 1, 31, "\"gpa\"", "gpa", "a job has no key \"gpa\""),
    ("many-at-once", 2, 41, "-1780", "cloth[0].width", "the width of a cloth must be greater than 0, this is -1780"),
    ("many-at-once", 4, 45, "0", "pieces[0].outline.circle", "a diameter must be greater than 0, this is 0"),
    ("many-at-once", 4, 62, "2.5", "pieces[0].quantity", "a quantity must be a whole number, this is 2.5"),
    ("many-at-once", 5, 13, "\"Dübel\"", "pieces[1].name", "two pieces are called \"Dübel\""),
    ("many-at-once", 5, 46, "[", "pieces[1].outline.polygon", "a polygon needs 3 corners or more, this one has 2"),
    ("many-at-once", 5, 74, "\"pinkt\"", "pieces[1].edge", "\"pinkt\" is not an edge"),
    ("mass-zero", 4, 15, "0", "cloth[0].mass", "a mass must be greater than 0, this is 0"),
    ("member-class-unknown", 7, 42, "\"ribb\", \"from", "airframe[0].members[0].class", "\"ribb\" is not a class of member"),
    ("member-no-length", 7, 31, "{ \"class\": \"r", "airframe[0].members[0]", "this member has no length"),
    ("name-blank", 6, 15, "\"  \"", "pieces[0].name", "the name is empty"),
    ("name-line-break", 6, 15, "\"left\\nside\"", "pieces[0].name", "a name must fit on one line"),
    ("name-twice-cloth", 4, 15, "\"roll \"", "cloth[1].name", "two cloths are called \"roll\""),
    ("name-twice-piece", 8, 15, "\"doily\"", "pieces[1].name", "two pieces are called \"doily\""),
    ("not-json-backslash", 8, 20, "\\", "", "a backslash in a text is followed by something that JSON does not know"),
    ("not-json-bare-point", 7, 30, ".", "", "a digit must stand on both sides of the decimal point"),
    ("not-json-comment", 1, 31, "// millimetres", "", "comments are not allowed in JSON"),
    ("not-json-empty", 1, 1, "", "", "the file is empty"),
    ("not-json-inch-sign", 7, 37, "\"", "", "this text has no closing double quote"),
    ("not-json-line-break-in-text", 8, 15, "\"", "", "this text has no closing double quote"),
    ("not-json-minus-infinity", 3, 57, "-Infinity", "", "JSON has no NaN and no Infinity"),
    ("not-json-missing-comma", 1, 14, " ", "", "a comma is missing here"),
    ("not-json-nan", 7, 30, "NaN", "", "JSON has no NaN and no Infinity"),
    ("not-json-open-text", 1, 25, "\"", "", "this text has no closing double quote"),
    ("not-json-plus", 7, 30, "+", "", "a number may not begin with a plus"),
    ("not-json-prose", 1, 1, "D", "", "this is not JSON: a job begins with {, this begins with D"),
    ("not-json-single-quotes", 1, 25, "'", "", "single quotes are not allowed in JSON"),
    ("not-json-stray-comma", 7, 37, ",", "", "a comma too many: nothing follows it"),
    ("not-json-tab-in-text", 2, 27, "o", "", "a tab or another control character stands in this text"),
    ("not-json-too-deep", 1, 71, "[", "", "nested more than 32 deep"),
    ("not-json-truncated", 5, 3, "\"", "", "this text has no closing double quote"),
    ("not-json-truncated-list", 3, 15, "{", "", "this { is never closed: the file ends too early"),
    ("not-json-truncated-object", 1, 1, "{", "", "this { is never closed: the file ends too early"),
    ("not-json-two-jobs", 8, 1, "{", "", "the job is over, and something follows it"),
    ("not-json-word", 3, 88, "pinked", "", "\"pinked\" is neither a number, a text in double quotes, true, false nor null"),
    ("offcut-before-zero", 4, 18, "{ \"circle\": 90", "cloth[0].outline", "the outline of the cloth reaches 450 mm before the end of the cloth, x = 0"),
    ("offcut-before-zero", 4, 18, "{ \"circle\": 90", "cloth[0].outline", "the outline of the cloth reaches 450.1 mm below its lower edge, y = 0"),
    ("offcut-outside-length", 4, 33, "{ \"polygon\": [", "cloth[0].outline", "the outline of the cloth reaches 50 mm beyond its length"),
    ("offcut-outside-width", 4, 33, "{ \"rect\": [900", "cloth[0].outline", "the outline of the cloth reaches 20 mm above its width"),
    ("outline-holes-without-polygon", 7, 49, "[]", "pieces[0].outline.holes", "only a polygon has \"holes\""),
    ("outline-misspelt", 3, 47, "\"cirle\"", "pieces[0].outline.cirle", "an outline has no key \"cirle\""),
    ("outline-none", 7, 18, "{", "pieces[0].outline", "this outline has no shape"),
    ("outline-rect-one-length", 7, 28, "[", "pieces[0].outline.rect", "a pair of lengths has 2 entries, this one has 1"),
    ("outline-ring-inside-out", 7, 28, "[95, 130]", "pieces[0].outline.ring", "the inner diameter of the ring, 130 mm, must be less than the outer one, 95 mm"),
    ("outline-two", 7, 30, "165", "pieces[0].outline.circle", "this outline has two shapes, \"rect\" and \"circle\""),
    ("panel-edge-at-seam", 8, 24, "\"panel seam\"", "airframe[0].edges.at", "\"panel seam\" is not a place that an edge meets"),
    ("panel-edge-count", 8, 16, "[\"fuselage\", ", "airframe[0].edges", "the outline has 4 edges, this list has 3"),
    ("panel-edge-key-unknown", 8, 36, "\"tub\"", "airframe[0].edges.tub", "an edge of a panel has no key \"tub\""),
    ("panel-edge-number", 8, 17, "19,", "airframe[0].edges[0]", "a word for an edge of a panel was expected here, this is a number"),
    ("panel-edge-of-two-wraps", 8, 16, "{ \"at\"", "airframe[0].edges", "this edge has both a \"tube\" and a \"wrap\""),
    ("panel-edge-unknown", 8, 41, "\"nothing\"", "airframe[0].edges[2]", "\"nothing\" is not a word for an edge of a panel"),
    ("panel-edge-without-place", 8, 16, "{ \"tube\"", "airframe[0].edges", "an edge of a panel needs the key \"at\""),
    ("panel-edges-missing", 5, 5, "{ \"name\"", "airframe[0]", "a panel needs the key \"edges\""),
    ("panel-hole", 7, 18, "{ \"ring\"", "airframe[0].outline", "the outline of a panel has a hole"),
    ("panel-surface-missing", 5, 5, "{ \"name\"", "airframe[0]", "a panel needs the key \"surface\""),
    ("panel-surface-unknown", 6, 18, "\"door\"", "airframe[0].surface", "\"door\" is not a surface of a panel"),
    ("panel-edge-no-seam", 8, 16, "\"rib\"", "airframe[0].edges", "\"rib\" is not a word for an edge of a panel"),
    ("panel-tube-zero", 8, 44, "0", "airframe[0].edges.tube", "the diameter of a tube must be greater than 0, this is 0"),
    ("panel-wrap-negative", 8, 44, "-12", "airframe[0].edges.wrap", "a wrap must be 0 or more, this is -12"),
    ("part-cloth-unknown", 7, 28, "\"bolt\",", "airframe[0].cloth", "no cloth is called \"bolt\""),
    ("part-grain-bias", 7, 28, "\"bias\"", "airframe[0].grain", "\"bias\" is not a direction of the grain of a part"),
    ("part-key-unknown", 7, 7, "\"tub\": 19,", "airframe[0].tub", "a flat part has no key \"tub\""),
    ("part-kind-missing", 5, 5, "{ \"name\": \"ru", "airframe[0]", "a part needs the key \"kind\""),
    ("part-kind-unknown", 5, 33, "\"flap\",", "airframe[0].kind", "\"flap\" is not a kind of part"),
    ("part-name-twice", 9, 15, "\"rudder\", \"ki", "airframe[1].name", "two parts are called \"rudder\""),
    ("part-not-object", 5, 5, "\"rudder\" ] }", "airframe[0]", "a flat part was expected here, this is a text"),
    ("path-empty", 7, 29, "\"", "pieces[0].outline.path", "the path data are wrong: the path draws nothing; it needs M, some lines or curves, and Z"),
    ("path-not-path", 7, 41, "z", "pieces[0].outline.path", "the path data are wrong: “zero” stands where a finite number such as 12.5 or -3e2 should be"),
    ("path-open", 7, 29, "M", "pieces[0].outline.path", "the path data are wrong: the outline that begins here is open: it starts at (0, 0) and ends at (300, 200); close it with Z"),
    ("path-self-crossing", 7, 28, "\"M 0 0 L 300 2", "pieces[0].outline.path", "the outer ring crosses itself at x = 150 mm, y = 100 mm, where edge 1 meets edge 3"),
    ("pieces-list-empty", 3, 13, "[", "pieces", "the list of pieces may not be empty"),
    ("polygon-empty", 7, 31, "[", "pieces[0].outline.polygon", "a polygon may not be empty"),
    ("polygon-no-area", 7, 31, "[[0, 0], [100,", "pieces[0].outline.polygon", "the outer ring has no area: its points lie on one line"),
    ("polygon-point-of-three", 7, 32, "[", "pieces[0].outline.polygon[0]", "a point has 2 entries, this one has 3"),
    ("polygon-repeated-point", 7, 50, "[300, 0]", "pieces[0].outline.polygon[2]", "this point is the same as the one before it, [300, 0]"),
    ("polygon-self-crossing", 7, 52, "[300, 0], [0, ", "pieces[0].outline.polygon[2]", "the outer ring crosses itself at x = 150 mm, y = 100 mm, where edge 1 meets edge 3"),
    ("polygon-too-few", 7, 31, "[", "pieces[0].outline.polygon", "a polygon needs 3 corners or more, this one has 2"),
    ("polygon-touching-itself", 7, 74, "[0, 200], [100", "pieces[0].outline.polygon[4]", "the outer ring touches itself at x = 100 mm, y = 100 mm, where edge 2 meets edge 5"),
    ("price-negative", 4, 16, "-2", "cloth[0].price", "a price must be 0 or more, this is -2"),
    ("quantity-fraction", 8, 19, "2.5", "pieces[0].quantity", "a quantity must be a whole number, this is 2.5"),
    ("quantity-huge", 8, 19, "100001", "pieces[0].quantity", "a quantity may be 100000 at most, this is 100001"),
    ("quantity-huge-together", 5, 13, "[", "pieces", "the pieces come to 120000 copies, 100000 is the most"),
    ("quantity-negative", 8, 19, "-3", "pieces[0].quantity", "a quantity must be 1 or more, this is -3"),
    ("quantity-zero", 8, 19, "0", "pieces[0].quantity", "a quantity must be 1 or more, this is 0"),
    ("repair-cloth-unknown", 8, 16, "\"rol\",", "repairs[0].cloth", "no cloth is called \"rol\""),
    ("repair-distance-negative", 9, 49, "-1 }] } ] }", "repairs[0].members[0].distance", "the distance to a member must be 0 or more, this is -1"),
    ("repair-kind-unknown", 6, 15, "\"glued patch\",", "repairs[0].kind", "\"glued patch\" is not a kind of repair"),
    ("repair-list-empty", 4, 14, "[] }", "repairs", "the list of repairs may not be empty"),
    ("repair-member-of-circle", 9, 18, "[{ \"side\": \"le", "repairs[0].members", "only a \"rect\" has sides that members can lie along"),
    ("repair-member-side-unknown", 9, 29, "\"inboard\", \"di", "repairs[0].members[0].side", "\"inboard\" is not a side of an opening"),
    ("repair-member-twice", 10, 19, "{ \"side\": \"lef", "repairs[0].members[1]", "the left side has two members"),
    ("repair-name-twice", 6, 15, "\"hole\", \"kind\"", "repairs[1].name", "two repairs are called \"hole\""),
    ("repair-opening-none", 7, 18, "{},", "repairs[0].opening", "this opening has no shape"),
    ("repair-opening-two", 7, 46, "6 },", "repairs[0].opening.circle", "this opening has two shapes, \"rect\" and \"circle\""),
    ("repair-opening-zero", 7, 30, "0 },", "repairs[0].opening.circle", "the diameter of an opening must be greater than 0, this is 0"),
    ("repair-place-unknown", 8, 13, "\"belly\" } ] }", "repairs[0].at", "\"belly\" is not a place of repairs"),
    ("repair-sewn-circle", 7, 18, "{ \"circle\": 10", "repairs[0].opening", "a sewn patch has four straight sides"),
    ("repair-tear-patched", 7, 18, "{ \"tear\": 10 }", "repairs[0].opening", "a doped patch closes an opening, not a tear"),
    ("repair-tear-without-length", 7, 18, "{ \"rect\": [10,", "repairs[0].opening", "a sewn tear has a \"tear\" for its opening"),
    ("repair-without-rules", 1, 1, "{ \"format\": 1,", "", "a job with \"repairs\" needs the key \"rules\""),
    ("ribbed-chord-key-unknown", 6, 62, "\"length\": 1000", "airframe[0].planform[1].length", "a chord of a planform has no key \"length\""),
    ("ribbed-chord-zero", 6, 71, "0 }],", "airframe[0].planform[1].chord", "a chord must be greater than 0, this is 0"),
    ("ribbed-cover-unknown", 8, 16, "\"envelope\" } ]", "airframe[0].cover", "\"envelope\" is not a way to cover a section"),
    ("ribbed-hinge-in-millimetres", 8, 16, "1050 } ] }", "airframe[0].hinge", "the place of a hinge line is more than 0 and less than 100 per cent of the chord, this is 1050"),
    ("ribbed-nose-sheet-zero", 8, 21, "0 } ] }", "airframe[0].nose_sheet", "the place of the edge of a nose sheet is more than 0 and less than 100 per cent of the chord, this is 0"),
    ("ribbed-ordinates-few", 7, 33, "[[0, 0, 0], [5", "airframe[0].section.ordinates", "a table of ordinates has 4 to 20000 entries, this one has 3"),
    ("ribbed-ordinates-inside-out", 7, 45, "[10, -3, 5], [", "airframe[0].section.ordinates[1]", "in row 2, station 10, the upper ordinate lies below the lower one; a row is [station, upper, lower]"),
    ("ribbed-ordinates-not-to-trailing-edge", 7, 71, "[95, 1, 0]] } ", "airframe[0].section.ordinates[3]", "the last row is station 95; end at the trailing edge, station 100"),
    ("ribbed-ordinates-row-of-two", 7, 45, "[10, 5], [50, ", "airframe[0].section.ordinates[1]", "a row of ordinates has 3 entries, this one has 2"),
    ("ribbed-planform-backwards", 6, 51, "{ \"at\": 0, \"ch", "airframe[0].planform[1]", "this chord does not lie beyond the one before it"),
    ("ribbed-planform-missing", 5, 5, "{ \"name\": \"win", "airframe[0]", "a ribbed part needs the key \"planform\""),
    ("ribbed-planform-one-chord", 6, 19, "[{ \"at\": 0, \"c", "airframe[0].planform", "a planform has 2 to 100 entries, this one has 1"),
    ("parked-nose-missing", 3, 13, "{ \"wing_down\"", "parked", "the parked attitude needs the key \"nose_up\""),
    ("parked-nose-steep", 3, 26, "90", "parked.nose_up", "how far the nose is up cannot be 90°"),
    ("drains-grommet-unknown", 7, 30, "\"brass\"", "airframe[0].drains.grommet", "\"brass\" is not a kind of grommet"),
    ("flat-axes-on-one-line", 7, 15, "[\"aft\"", "airframe[0].axes", "the two axes of an outline lie on one line"),
    ("flat-axes-unknown", 7, 16, "\"back\"", "airframe[0].axes[0]", "\"back\" is not a direction"),
    ("ribbed-dihedral-steep", 7, 52, "60", "airframe[0].dihedral", "a dihedral cannot be 60°"),
    ("fitting-face-unknown", 7, 47, "\"botom\"", "airframe[0].fittings[0].face", "no face of this part is called \"botom\""),
    ("fitting-name-twice", 8, 30, "\"strut\"", "airframe[0].fittings[1].name", "two fittings are called \"strut\""),
    ("fitting-place-in-millimetres", 7, 66, "260", "airframe[0].fittings[0].at[1]", "a place on the chord is 0 to 100 per cent of it, this is 260"),
    ("fitting-three-layers", 7, 118, "3", "airframe[0].fittings[0].layers", "the number of layers may be 2 at most, this is 3"),
    ("opening-ring-inside-out", 7, 20, "{ \"name\"", "airframe[0].openings[0]", "the ring is 114 mm wide inside, which must be less than outside, 90 mm"),
    ("slipstream-beyond-tip", 7, 21, "[5000", "airframe[0].slipstream", "this slipstream misses the planform, which goes from 0 mm to 4000 mm"),
    ("slipstream-without-width", 7, 21, "[900", "airframe[0].slipstream", "this slipstream has no width"),
    ("ribbed-recess-backwards", 8, 20, "{ \"from\": 3500", "airframe[0].recesses[0]", "this recess does not end beyond where it begins"),
    ("ribbed-recess-before-nose-sheet", 8, 57, "70 }", "airframe[0].recesses[0].front", "the front of this recess, at 70 per cent, stands before the edge of the nose sheet, at 80"),
    ("ribbed-recess-before-spar", 8, 57, "60 }", "airframe[0].recesses[0].front", "the front of this recess, at 60 per cent, stands before the last spar, at 65"),
    ("ribbed-recess-beyond-tip", 8, 42, "4200", "airframe[0].recesses[0].to", "this end of the recess lies beyond the planform, which goes from 0 mm to 4000 mm"),
    ("ribbed-recess-front-in-millimetres", 8, 57, "1050 }", "airframe[0].recesses[0].front", "the place of the front of a recess is more than 0 and less than 100 per cent of the chord, this is 1050"),
    ("ribbed-recess-overlapping", 8, 62, "{ \"from\": 1900", "airframe[0].recesses[1]", "this recess does not begin beyond the end of the one before it"),
    ("ribbed-recess-without-front", 8, 20, "{ \"from\": 2500", "airframe[0].recesses[0]", "a recess needs the key \"front\""),
    ("ribbed-rib-beyond-tip", 8, 25, "4200] } ] }", "airframe[0].ribs[2]", "this rib lies beyond the planform, which goes from 0 mm to 4000 mm"),
    ("ribbed-ribs-out-of-order", 8, 25, "1500] } ] }", "airframe[0].ribs[2]", "this rib does not lie beyond the one before it"),
    ("ribbed-roll-unknown", 8, 15, "\"spanwize\" } ]", "airframe[0].roll", "\"spanwize\" is not a way for the roll to run"),
    ("ribbed-section-camber-without-place", 7, 30, "\"2012\" } } ] }", "airframe[0].section.digits", "the section 2012 has camber without its place, or a place without camber: the first two digits are both 0, or neither is"),
    ("ribbed-section-no-thickness", 7, 30, "\"2400\" } } ] }", "airframe[0].section.digits", "the section 2400 has no thickness: its last two digits say how thick it is, in hundredths of the chord"),
    ("ribbed-section-of-two-shapes", 7, 51, "[[0, 0, 0], [1", "airframe[0].section.ordinates", "this section has two shapes, \"digits\" and \"ordinates\""),
    ("ribbed-section-three-digits", 7, 30, "\"241\" } } ] }", "airframe[0].section.digits", "a four-digit section has four digits such as 2412, this is \"241\""),
    ("ribbed-section-without-shape", 7, 18, "{} } ] }", "airframe[0].section", "this section has no shape"),
    ("ribbed-spar-beyond-chord", 8, 21, "650] } ] }", "airframe[0].spars[1]", "the place of a spar is more than 0 and less than 100 per cent of the chord, this is 650"),
    ("ribbed-spars-out-of-order", 8, 21, "15] } ] }", "airframe[0].spars[1]", "this spar does not lie aft of the one before it"),
    ("ribbed-surface-fuselage", 8, 18, "\"fuselage\" } ]", "airframe[0].surface", "a ribbed part does not belong to the fuselage"),
    ("ribbed-tip-bow-beyond-taper", 8, 18, "10500 } ] }", "airframe[0].tip_bow", "10500 mm beyond its last chord the taper has come to nothing"),
    ("rules-attachment-unknown", 4, 19, "\"staples\" },", "rules.attachment", "\"staples\" is not a way to hold cloth to ribs"),
    ("rules-class-unknown", 3, 94, "\"heavy\" },", "rules.cloth_class", "\"heavy\" is not a class of cloth"),
    ("rules-coats-zero", 3, 88, "0 },", "rules.coats", "the mass of the coats must be greater than 0, this is 0"),
    ("rules-loading-missing", 3, 12, "{ \"method\": \"", "rules", "the set of rules needs the key \"wing_loading\""),
    ("rules-loading-unit-unknown", 3, 67, "\"5 lb\" },", "rules.wing_loading", "\"lb\" in \"5 lb\" is not a unit of a wing loading"),
    ("rules-method-unknown", 3, 24, "\"glued\", \"vne", "rules.method", "\"glued\" is not a way to join cloth"),
    ("rules-vne-no-unit", 3, 40, "\"135\", \"wing_", "rules.vne", "\"135\" has no unit"),
    ("rules-vne-number", 3, 40, "135, \"wing_lo", "rules.vne", "a speed needs its unit, this is a plain number"),
    ("rules-vne-unit-unknown", 3, 40, "\"70 m/s\", \"wi", "rules.vne", "\"m/s\" in \"70 m/s\" is not a unit of a speed"),
    ("rules-vne-zero", 3, 40, "\"0 mph\", \"win", "rules.vne", "\"0 mph\" is not a speed greater than 0"),
    ("selvage-eats-all", 4, 18, "[900, 900]", "cloth[0].selvage", "the selvages, 1800 mm together, leave nothing of the width of 1780 mm"),
    ("selvage-negative", 4, 18, "-10", "cloth[0].selvage", "a selvage must be 0 or more, this is -10"),
    ("truss-face-name-twice", 19, 19, "\"side\"", "airframe[0].faces[1].name", "two faces are called \"side\""),
    ("truss-node-name-twice", 11, 9, "\"wing\"", "airframe[0].nodes.wing", "two nodes are called \"wing\""),
    ("truss-node-of-two", 10, 17, "[", "airframe[0].nodes.tail", "the place of a node has 3 entries, this one has 2"),
    ("truss-node-unknown", 13, 33, "\"wign\"", "airframe[0].tubes[0].to", "no node is called \"wign\""),
    ("truss-node-unknown-in-ring", 18, 52, "\"fin\"", "airframe[0].faces[0].ring[2]", "no node is called \"fin\""),
    ("truss-nodes-in-one-place", 10, 9, "\"tail\"", "airframe[0].nodes.tail", "node \"tail\" lies in the same place as node \"wing\""),
    ("truss-nodes-list", 7, 16, "[", "airframe[0].nodes", "the nodes are an object in { } with a name for each"),
    ("truss-nodes-too-few", 7, 16, "{", "airframe[0].nodes", "a truss has 3 to 1000 nodes, this one has 1"),
    ("truss-order-zero", 18, 70, "0", "airframe[0].faces[0].order", "the order must be 1 or more, this is 0"),
    ("truss-ring-too-few", 18, 35, "[", "airframe[0].faces[0].ring", "a face needs three nodes or more, this ring has 2"),
    ("truss-ring-twice", 18, 60, "\"wing\"", "airframe[0].faces[0].ring[3]", "the ring comes to node \"wing\" a second time"),
    ("truss-tube-class", 14, 66, "\"rib\"", "airframe[0].tubes[1].class", "\"rib\" is not a class of tube"),
    ("truss-tube-diameter-zero", 14, 53, "0", "airframe[0].tubes[1].diameter", "the diameter of a tube must be greater than 0, this is 0"),
    ("truss-tube-to-itself", 14, 9, "{ \"from\": \"wing\"", "airframe[0].tubes[1]", "this tube ends at the node where it begins"),
    ("truss-tube-twice", 15, 9, "{ \"from\": \"wing\"", "airframe[0].tubes[2]", "this tube joins the same two nodes as an earlier one"),
    ("units-near", 1, 25, "\"MM\"", "units", "\"MM\" is not a unit that a job can be written in"),
    ("units-unknown", 1, 25, "\"millimetres\"", "units", "\"millimetres\" is not a unit that a job can be written in"),
    ("width-misspelt", 2, 33, "\"widht\"", "cloth[0].widht", "a cloth has no key \"widht\""),
    ("wrong-kind-cloth", 3, 5, "\"roll\"", "cloth[0]", "a cloth was expected here, this is a text"),
    ("wrong-kind-flip", 8, 15, "\"yes\"", "pieces[0].flip", "true or false was expected here, this is a text"),
    ("wrong-kind-job", 1, 1, "[", "", "a job was expected here, this is a list in [ ]"),
    ("wrong-kind-name", 6, 15, "7", "pieces[0].name", "a name was expected here, this is a number"),
    ("wrong-kind-null", 4, 17, "null", "cloth[0].length", "the length of a cloth was expected here, this is null"),
    ("wrong-kind-pieces", 3, 13, "{", "pieces", "the list of pieces was expected here, this is an object in { }"),
    ("wrong-kind-quantity", 8, 19, "\"24\"", "pieces[0].quantity", "a quantity was expected here, this is a text"),
    ("wrong-kind-width", 3, 32, "[", "cloth[0].width", "the width of a cloth was expected here, this is a list in [ ]"),
];
