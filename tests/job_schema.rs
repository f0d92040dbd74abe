//! The JSON Schema that editors use agrees with the reader, and the committed copy agrees with the program.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use clothwright::job;
use serde_json::{Value, json};

fn fixtures(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures").join(folder);
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

fn text(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap().trim_start_matches('\u{feff}').to_owned()
}

fn read(value: &Value) -> Result<job::Reading, job::Faults> {
    job::read_text("x.json", &value.to_string())
}

/// Beginnings of the names of fixtures whose fault no schema can say: crossings, names, fit, what a text means.
const SAID_BY_THE_READER_ONLY: [&str; 78] = [
    "allowance-wrong-count",
    "cloth-unknown",
    "edge-teeth",
    "figure-blank",
    "figure-twice",
    "flat-axes-on-one-line",
    "fit-",
    "fitting-face-unknown",
    "fitting-name-twice",
    "fitting-place-in",
    "flat-hole",
    "flat-tube-count",
    "gap-too-long", // in metres; the schema's greatest length is in millimetres
    "grain-free",
    "hinge-no-length",
    "hole-",
    "holes-",
    "key-twice", // lost when the text becomes a value
    "length-divided",
    "length-tiny",
    "length-unknown-unit",
    "length-wrong-order",
    "member-no-length",
    "name-line-break",
    "name-twice",
    "offcut-",
    "opening-ring-inside",
    "outline-ring-inside",
    "part-cloth-unknown",
    "panel-edge-count",
    "panel-edge-of-two",
    "panel-hole",
    "part-name-twice",
    "path-not-path",
    "path-open",
    "path-self",
    "polygon-no-area",
    "polygon-repeated",
    "polygon-self",
    "quantity-huge-together",
    "repair-cloth-unknown",
    "repair-member-of",
    "repair-member-twice",
    "repair-name-twice",
    "repair-sewn-circle",
    "repair-tear",
    "ribbed-ordinates-inside",
    "ribbed-ordinates-not-to",
    "ribbed-planform-backwards",
    "ribbed-recess-backwards",
    "ribbed-recess-before-",
    "ribbed-recess-beyond",
    "ribbed-recess-overlapping",
    "ribbed-rib-beyond",
    "ribbed-ribs-out",
    "ribbed-section-camber",
    "ribbed-section-no-thickness",
    "ribbed-spars-out",
    "ribbed-tip-bow",
    "rules-loading-unit",
    "rules-vne-unit",
    "rules-vne-zero",
    "selvage-eats",
    "tape-cloth-unknown",
    "tape-free-without",
    "tape-name-twice",
    "gap-too-wide",
    "piece-called-as-a-strip",
    "tape-shortest-under",
    "tape-without-price",
    "slipstream-",
    "truss-face-name-twice",
    "truss-node-name-twice",
    "truss-node-unknown",
    "truss-nodes-in-one-place",
    "truss-ring-",
    "truss-tube-to-itself",
    "truss-tube-twice",
];

fn is_structural(name: &str) -> bool {
    // Places are two or three numbers, by the kind of part. "polygon-too-few" has three points of which the last repeats the first.
    let others = ["polygon-too-few", "polygon-touching", "truss-place-of-two"];
    !SAID_BY_THE_READER_ONLY.iter().chain(&others).any(|start| name.starts_with(start))
}

#[test]
fn the_committed_schema_is_the_programs_own() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/job.schema.json");
    let own = format!("{:#}\n", job::schema());
    if std::env::var_os("CLOTHWRIGHT_UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, &own).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap().replace('\r', "");
    assert_eq!(committed, own, "run the test with CLOTHWRIGHT_UPDATE_SCHEMA=1 and look at the difference");
}

#[test]
fn it_is_a_schema_of_draft_2020_12() {
    assert!(jsonschema::draft202012::meta::is_valid(&job::schema()));
}

#[test]
fn it_takes_every_good_job() {
    let validator = jsonschema::draft202012::new(&job::schema()).unwrap();
    for path in fixtures("good") {
        let value: Value = serde_json::from_str(&text(&path)).unwrap();
        let problems: Vec<_> = validator.iter_errors(&value).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(problems.is_empty(), "{}: {problems:?}", path.display());
    }
}

#[test]
fn it_refuses_what_is_wrong_in_structure() {
    let validator = jsonschema::draft202012::new(&job::schema()).unwrap();
    let mut refused = 0;
    for path in fixtures("bad") {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let Ok(value) = serde_json::from_str::<Value>(&text(&path)) else { continue };
        if is_structural(&name) {
            assert!(!validator.is_valid(&value), "the schema takes {name}");
            refused += 1;
        }
    }
    assert!(refused > 40, "only {refused}");
}

#[test]
fn it_refuses_lengths_that_are_none() {
    let validator = jsonschema::draft202012::new(&job::schema()).unwrap();
    let with = |circle: Value| {
        json!({ "format": 1, "units": "mm", "cloth": [{ "name": "roll", "width": 1780 }],
            "pieces": [{ "name": "doily", "outline": { "circle": circle } }] })
    };
    for bad in [json!(0), json!(-165), json!("NaN"), json!("165"), json!("wide"), json!(""), json!(null), json!([1])] {
        assert!(!validator.is_valid(&with(bad.clone())), "the schema takes {bad}");
        assert!(read(&with(bad.clone())).is_err(), "the reader takes {bad}");
    }
    for good in ["90 cm", "3-1/2 in", "3 1/2 in", "3½ in", "3/8\"", "2'6\"", "2' 6-1/2\"", "1 ft 2 in", ".5 m", "5 FT."]
    {
        assert!(validator.is_valid(&with(json!(good))), "the schema refuses {good}");
        assert!(read(&with(json!(good))).is_ok(), "the reader refuses {good}");
    }
}

/// Every object of the schema, by its name, with its keys.
fn objects(schema: &Value) -> Vec<(String, BTreeSet<String>)> {
    let keys = |object: &Value| object["properties"].as_object().map(|keys| keys.keys().cloned().collect());
    let mut objects = vec![("job".to_owned(), keys(schema).unwrap())];
    for (name, definition) in schema["$defs"].as_object().unwrap() {
        objects.extend(keys(definition).map(|keys| (name.clone(), keys)));
    }
    objects
}

/// Every object in a job, by its JSON pointer.
fn pointers(value: &Value, here: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(entries) => {
            // The keys of "nodes" are names that the person gives.
            if !here.ends_with("/nodes") {
                found.push(here.to_owned());
            }
            entries.iter().for_each(|(key, value)| pointers(value, &format!("{here}/{key}"), found));
        }
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(index, value)| pointers(value, &format!("{here}/{index}"), found));
        }
        _ => {}
    }
}

fn every_key() -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/good/every-key.json");
    serde_json::from_str(&text(&path)).unwrap()
}

#[test]
fn the_reader_takes_every_key_that_the_schema_has() {
    let job = every_key();
    assert!(read(&job).is_ok());
    let mut found = Vec::new();
    pointers(&job, "", &mut found);
    let keys_of = |job: &Value, at: &String| job.pointer(at).unwrap().as_object().unwrap().keys().cloned().collect();
    let mut used: Vec<BTreeSet<String>> = found.iter().map(|at| keys_of(&job, at)).collect();
    // Outlines from drawings stand beside the drawings.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/drawings/plates.json");
    assert!(job::read(&path).is_ok());
    let drawn: Value = serde_json::from_str(&text(&path)).unwrap();
    let mut found = Vec::new();
    pointers(&drawn, "", &mut found);
    used.extend(found.iter().map(|at| keys_of(&drawn, at)));
    for (name, keys) in objects(&job::schema()) {
        let written: BTreeSet<_> = used.iter().filter(|used| used.is_subset(&keys)).flatten().cloned().collect();
        assert_eq!(written, keys, "every-key.json does not show every key of {name}");
    }
}

#[test]
fn reader_and_schema_refuse_the_same_keys() {
    let validator = jsonschema::draft202012::new(&job::schema()).unwrap();
    let job = every_key();
    let mut found = Vec::new();
    pointers(&job, "", &mut found);
    assert!(found.len() > 20);
    for at in found {
        let mut strange = job.clone();
        strange.pointer_mut(&at).unwrap()["zzz"] = json!(1);
        assert!(!validator.is_valid(&strange), "the schema takes a strange key in {at}");
        let faults = read(&strange).unwrap_err().faults;
        assert!(faults.iter().any(|fault| fault.message.contains("has no key \"zzz\"")), "{at}: {faults:?}");
    }
}

#[test]
fn reader_and_schema_need_the_same_keys() {
    let validator = jsonschema::draft202012::new(&job::schema()).unwrap();
    let job = every_key();
    let mut found = Vec::new();
    pointers(&job, "", &mut found);
    for at in found {
        let keys: Vec<String> = job.pointer(&at).unwrap().as_object().unwrap().keys().cloned().collect();
        for key in keys {
            let mut without = job.clone();
            without.pointer_mut(&at).unwrap().as_object_mut().unwrap().remove(&key);
            let taken = validator.is_valid(&without);
            let missing = read(&without).err().is_some_and(|faults| {
                let words = ["needs the key", "has no shape", "only a polygon"];
                faults.faults.iter().any(|fault| words.iter().any(|words| fault.message.contains(words)))
            });
            assert_eq!(taken, !missing, "without {at}/{key}");
        }
    }
}
