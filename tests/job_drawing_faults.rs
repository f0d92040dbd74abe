//! Outlines from drawings that cannot be had: each fixture is refused in its own words, at the file's name or at the key
//! that is wrong, and says what would be right.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use clothwright::job::{self, ReadError};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad-drawings")
}

/// Fixture, what stands at the place that is shown, message.
type Row = (&'static str, &'static str, &'static str);

#[test]
fn each_is_refused_in_its_own_words() {
    for (name, wanted, message) in TABLE {
        let path = folder().join(format!("{name}.json"));
        let faults = match job::read(&path) {
            Err(ReadError::Faults(faults)) => faults.faults,
            other => panic!("{name} should have a fault: {other:?}"),
        };
        let said: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(said, [message], "{name}");
        assert!(faults[0].hint.len() > 10, "{name}: {}", faults[0].hint);
        let text = std::fs::read_to_string(&path).expect("a fixture");
        let line = text.lines().nth(faults[0].line - 1).expect("a line");
        let there: String = line.chars().skip(faults[0].column - 1).collect();
        assert!(there.starts_with(wanted), "{name}: {there:?} does not start with {wanted:?}");
    }
}

#[test]
fn every_fixture_is_in_the_table() {
    let files: BTreeSet<String> = std::fs::read_dir(folder())
        .expect("the fixtures")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "json"))
        .map(|path| path.file_stem().unwrap_or_default().to_string_lossy().into_owned())
        .collect();
    assert_eq!(files, TABLE.iter().map(|row| row.0.to_owned()).collect());
}

#[rustfmt::skip]
const TABLE: [Row; 36] = [
    ("file-and-circle", "\"plates.svg\"", "this outline has two shapes, \"circle\" and \"file\""),
    ("file-binary-dxf", "\"binary.dxf\"", "the drawing is a binary DXF"),
    ("file-broken-dxf", "\"broken.dxf\"", "line 28: “thirty” stands where a number should be"),
    ("file-crossing", "\"plates.svg\"", "the shape “bow” in \"plates.svg\" cannot be cut: the outer ring crosses itself at (165, -15), where edge 1 meets edge 3"),
    ("file-cut-off", "\"cut-off.svg\"", "the drawing is no sound XML: unexpected end of stream"),
    ("file-empty", "\"empty.svg\"", "the drawing has no lines"),
    ("file-ending", "\"notes.txt\"", "the name of a drawing ends in .svg or .dxf"),
    ("file-entities", "\"entities.svg\"", "the drawing declares entities that would swell it"),
    ("file-entities-outside", "\"outside.svg\"", "the drawing declares entities that lie outside it, and nothing outside is read"),
    ("file-folder", "\"sheets\"", "\"sheets\" is no file"),
    ("file-frozen", "\"frozen.dxf\"", "all that was asked for is hidden in the drawing: 1 hidden line in the layer “OLD”, which is frozen"),
    ("file-hidden", "\"plates.svg\"", "all that was asked for is hidden in the drawing: 1 hidden line in the group “frame”"),
    ("file-id-and-layer", "\"frame\"", "this outline has both \"id\" and \"layer\""),
    ("file-id-unknown", "\"plates.svg\"", "nothing in the drawing has the id “doors”"),
    ("file-join-negative", "-1", "a distance to join must be 0 or more, this is -1"),
    ("file-keys-without-file", "\"door\"", "only a \"file\" has \"id\""),
    ("file-layer-unknown", "\"frozen.dxf\"", "nothing in the drawing has the layer “NEW”"),
    ("file-layers-empty", "[]", "a list of layers may not be empty"),
    ("file-layers-number", "3", "a layer was expected here, this is a number"),
    ("file-layers-one-unknown", "\"frozen.dxf\"", "nothing in the drawing has the layer “NEW”"),
    ("file-missing", "\"platse.svg\"", "there is no file \"platse.svg\""),
    ("file-no-name", "\"\"", "\"\" is no file"),
    ("file-no-size", "\"no-size.svg\"", "the drawing does not say how large it is: it has no physical unit, and what is asked for is 60 × 40 units"),
    ("file-no-svg", "\"no-svg.svg\"", "the drawing begins with <html>"),
    ("file-not-utf8", "\"latin.svg\"", "the drawing is not UTF-8 text"),
    ("file-number", "3", "the name of a file was expected here, this is a number"),
    ("file-open", "\"plates.svg\"", "\"plates.svg\" has no closed shape there; left out: 1 open line, which closes nowhere within 0.1 mm; the first begins at x = 0, y = -60"),
    ("file-outside", "\"../drawings", "\"../drawings/gussets.svg\" lies outside the job's folder"),
    ("file-path-wrong", "\"path-wrong.svg\"", "line 2, path “door”: the path data are wrong: “O0H0Z” stands where a command letter (M L H V C S Q T A Z) or a number should be (character 10 of the path)"),
    ("file-root", "\"/\"", "\"/\" lies outside the job's folder"),
    ("file-several", "\"pair.svg\"", "\"pair.svg\" has 2 shapes there: “door” 60 mm × 40 mm (2.36 in × 1.57 in), “disc” 40 mm × 40 mm (1.57 in × 1.57 in)"),
    ("file-unit-and-width", "60", "this outline has both \"unit\" and \"width\""),
    ("file-unit-huge", "\"1 km\"", "\"km\" in \"1 km\" is not a unit of length"),
    ("file-unit-too-long", "\"no-size.svg\"", "the drawing reaches farther than a kilometre from its origin"),
    ("file-unit-zero", "0", "a unit must be greater than 0, this is 0"),
    ("file-width-zero", "0", "a width must be greater than 0, this is 0"),
];
