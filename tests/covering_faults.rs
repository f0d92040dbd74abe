//! Every job that reads well and whose airframe cannot be covered is refused in its own words, at its place in the file.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use clothwright::covering::{CoveringFault, cover};
use clothwright::job;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad-covering")
}

fn faults(name: &str) -> Vec<CoveringFault> {
    let reading = job::read(&folder().join(format!("{name}.json"))).unwrap_or_else(|fault| panic!("{name}: {fault}"));
    cover(&reading.job).expect_err(name)
}

/// Fixture, path, line, column, message. Several rows for several faults.
type Row = (&'static str, &'static str, usize, usize, &'static str);

#[test]
fn each_airframe_that_cannot_be_covered_is_refused_in_its_own_words() {
    let names: BTreeSet<_> = TABLE.iter().map(|row| row.0).collect();
    for name in names {
        let faults = faults(name);
        let got: Vec<_> =
            faults.iter().map(|f| (name, f.at.path.as_str(), f.at.line, f.at.column, f.message.as_str())).collect();
        let wanted: Vec<Row> = TABLE.iter().filter(|row| row.0 == name).copied().collect();
        assert_eq!(got, wanted, "{name}");
        assert!(faults.iter().all(|fault| fault.hint.len() > 10), "{faults:?}");
    }
}

#[test]
fn every_fixture_is_in_the_table() {
    let files: BTreeSet<String> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    assert_eq!(files, TABLE.iter().map(|row| row.0.to_owned()).collect());
}

/// Sources of the rules behind the refusals: approved covering manual pp. 16, 53 and AC 43.13-1B 2-8 NOTE (stringers are no
/// structure); FAA-H-8083-31 chapter 3 (polyester takes up 10 % at most; the twist itself is a closed form, see
/// `covering_truss`).
#[rustfmt::skip]
const TABLE: &[Row] = &[
    ("flat-first-side-sewn", "airframe[0]", 5, 5, "part \"rudder\": a sewn seam has no lap for the first side to hold"),
    ("panel-fits-no-cloth", "airframe[0]", 5, 5, "panel \"cabin roof\" fits no cloth: on \"roll\", where it comes nearest, it needs 2701.6 mm across the cloth, where 1780 mm can be used; no seam divides it so that every strip fits; a lapped seam may not lie on a former of the fuselage: it gives shape and is not structure; sew the seam or move it (manual pp. 16, 53; AC 2-8 NOTE)"),
    ("panel-piece-of-same-name", "airframe[0]", 5, 5, "two pieces are called \"baggage door\", one of them a panel of this part"),
    ("truss-edge-on-stringer", "airframe[0].faces[0]", 20, 9, "face \"bottom\" ends at the tube from \"A\" to \"B\": a lapped seam may not lie on a stringer of the fuselage: it gives shape and is not structure; sew the seam or move it (manual pp. 16, 53; AC 2-8 NOTE)"),
    ("truss-edge-on-stringer", "airframe[0].faces[0]", 20, 9, "face \"bottom\" ends at the tube from \"C\" to \"D\": a lapped seam may not lie on a stringer of the fuselage: it gives shape and is not structure; sew the seam or move it (manual pp. 16, 53; AC 2-8 NOTE)"),
    ("truss-edge-on-stringer", "airframe[0].faces[1]", 21, 9, "face \"side\" ends at the tube from \"B\" to \"A\": a lapped seam may not lie on a stringer of the fuselage: it gives shape and is not structure; sew the seam or move it (manual pp. 16, 53; AC 2-8 NOTE)"),
    ("truss-face-covered-twice", "airframe[0].faces[1]", 21, 9, "face \"side\" lies where face \"bottom\" or its mirror image lies"),
    ("truss-face-covered-twice", "airframe[0].faces[1]", 21, 9, "face \"side\" is its own mirror image"),
    ("truss-nodes-on-a-line", "airframe[0].faces[1]", 21, 9, "face \"side\" cannot be laid out flat: nodes \"A\", \"B\", \"E\" lie on one line"),
    ("truss-orders-alike", "airframe[0].faces[1]", 21, 9, "faces \"bottom\" and \"side\" meet at a tube and both have order 2: neither laps over the other"),
    ("truss-ring-without-tube", "airframe[0].faces[1]", 21, 9, "the ring of face \"side\" is not closed: no tube runs from \"B\" to \"E\""),
    ("truss-ring-without-tube", "airframe[0].faces[1]", 21, 9, "the ring of face \"side\" is not closed: no tube runs from \"F\" to \"A\""),
    ("truss-twist-too-strong", "airframe[0].faces[0]", 15, 9, "face \"top\" is twisted so far that no flat cloth covers it: heat would have to take up 235 mm (14.3 %) between \"A\" and \"C\", 235 mm (14.3 %) between \"B\" and \"D\", and polyester takes up 10 % at most"),
];
