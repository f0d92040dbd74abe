//! The JSON Schema (draft 2020-12) of the job file, so that editors can help while a job is written.
//!
//! It is made from the tables of keys, and says what a schema can say: kinds, ranges and words. That an outline does
//! not cross itself, or that a piece fits its cloth, only the reader knows.

use serde_json::{Map, Value, json};

use super::keys::{JOB, Key, OUTLINE, SHAPES, TABLES, Table};
use super::keys_repair::{OPENING, OPENINGS};
use super::keys_ribbed::SECTION;
use super::limits;

/// The JSON Schema of the job file.
///
/// ```
/// let schema = clothwright::job::schema();
/// assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
/// ```
pub fn schema() -> Value {
    let mut schema = object(&JOB);
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Covering job");
    let mut definitions: Map<String, Value> = TABLES
        .iter()
        .filter(|table| table.name != JOB.name)
        .map(|table| (table.name.to_owned(), object(table)))
        .collect();
    let mut outline = object(&OUTLINE);
    outline["oneOf"] = SHAPES.iter().map(|shape| json!({ "required": [shape] })).collect();
    outline["dependentRequired"] = json!({ "holes": ["polygon"] });
    definitions.insert(OUTLINE.name.to_owned(), outline);
    for (name, definition) in lengths() {
        definitions.insert(name.to_owned(), definition);
    }
    let one_of = ["digits", "ordinates"].map(|shape| json!({ "required": [shape] }));
    definitions[SECTION.name]["oneOf"] = json!(one_of);
    definitions[OPENING.name]["oneOf"] = OPENINGS.iter().map(|shape| json!({ "required": [shape] })).collect();
    schema["$defs"] = Value::Object(definitions);
    schema["anyOf"] = json!(["pieces", "airframe"].map(|key| json!({ "required": [key] })));
    schema["dependentRequired"] = json!({ "airframe": ["rules"] });
    schema
}

fn object(table: &Table) -> Value {
    let properties: Map<String, Value> = table.keys.iter().map(property).collect();
    let required: Vec<&str> = table.keys.iter().filter(|key| key.required).map(|key| key.name).collect();
    let mut schema = json!({
        "description": table.about,
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
    });
    if !required.is_empty() {
        schema["required"] = json!(required);
    }
    schema
}

fn property(key: &Key) -> (String, Value) {
    let mut schema = (key.schema)();
    schema["description"] = json!(key.about);
    (key.name.to_owned(), schema)
}

/// Texts with a unit are checked by their form only: a sign, digits, and something that may be a unit.
fn lengths() -> [(&'static str, Value); 3] {
    let with_unit = |sign: &str| {
        json!({
            "type": "string",
            "pattern": format!("^\\s*{sign}\\s*[0-9.¼½¾⅛⅜⅝⅞][0-9./¼½¾⅛⅜⅝⅞ -]*\\s*([a-zA-Z]+\\.?|[\"'″′”’]).*$"),
        })
    };
    let most = json!(limits::LENGTH);
    [
        (
            "size",
            json!({
                "description": "A length greater than 0: a number in the job's unit, or a text with a unit.",
                "anyOf": [{ "type": "number", "exclusiveMinimum": 0, "maximum": most }, with_unit("")],
                "examples": [1780, "90 cm", "3-1/2 in", "12'6\""],
            }),
        ),
        (
            "length_or_zero",
            json!({
                "description": "A length, 0 or greater: a number in the job's unit, or a text with a unit.",
                "anyOf": [{ "type": "number", "minimum": 0, "maximum": most }, with_unit("")],
                "examples": [0, 10, "1 in"],
            }),
        ),
        (
            "coordinate",
            json!({
                "description": "A place along x or y: a number in the job's unit, or a text with a unit; may be negative.",
                "anyOf": [{ "type": "number" }, with_unit("[-−]?")],
                "examples": [0, -12.5, "3/8 in"],
            }),
        ),
    ]
}
