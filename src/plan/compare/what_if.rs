//! A figure of the job changed, in a line of plain syntax.
//!
//! A key is a short word (`gap`, `vne`, `wing_loading`, `price`, `tilt`), a figure of the rules (`lap`, `tape`, … at every
//! place that the job uses, or at one: `lap@fuselage`), or a path through the job file, its keys joined by points; an entry
//! of a list is chosen by its name or by its number from 1: `cloth.roll.price`, `airframe.2.tube`.

use serde_json::{Map, Value, json};
use thiserror::Error;

use crate::covering::cover;
use crate::job::{self, Job, JobText, RuleFigure, Words, did_you_mean};

/// Why a figure cannot be changed.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{change:?}: {why}")]
pub struct WhatIfFault {
    change: String,
    why: String,
}

/// Short words for what is asked most, with the path that they stand for.
const SHORT: [(&str, &str); 3] = [("gap", "gap"), ("vne", "rules.vne"), ("wing_loading", "rules.wing_loading")];
/// Short words that change every cloth or every piece.
const EACH: [&str; 2] = ["price", "tilt"];

/// The job with one figure changed.
///
/// The job file has been read before and is sound.
///
/// # Errors
/// [`WhatIfFault`]: there is no such key, and which one was probably meant; or the job is wrong with such a value.
pub fn what_if(file: &JobText, change: &str) -> Result<Job, WhatIfFault> {
    let fault = |why: String| WhatIfFault { change: change.to_owned(), why };
    let (key, value) = change
        .split_once('=')
        .ok_or_else(|| fault("write KEY=VALUE, for example gap=5 mm or cloth.roll.price=16".to_owned()))?;
    let (key, value) = (key.trim(), value_of(value.trim()));
    let mut job: Value =
        serde_json::from_str(file.text.trim_start_matches('\u{feff}')).map_err(|error| fault(error.to_string()))?;
    let word = key.to_lowercase();
    let figure = word.split('@').next().unwrap_or_default();
    if let Some((_, path)) = SHORT.iter().find(|(short, _)| *short == word) {
        set(&mut job, path, value).map_err(fault)?;
    } else if EACH.contains(&word.as_str()) {
        set_each(&mut job, &word, &value).map_err(fault)?;
    } else if RuleFigure::words().contains(&figure) {
        set_figure(file, &mut job, key, &value).map_err(fault)?;
    } else {
        set(&mut job, key, value).map_err(fault)?;
    }
    let text = job.to_string();
    let changed = JobText { text: &text, ..*file };
    changed.read().map(|reading| reading.job).map_err(|faults| {
        let first = faults.faults.first();
        fault(first.map_or_else(|| faults.to_string(), |first| format!("{}; {}", first.message, first.hint)))
    })
}

/// Numbers, true, false, lists and objects are what they are; all else is a text.
fn value_of(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|_| json!(text))
}

/// A price for every cloth that has one, or a tolerance for every piece.
///
/// Fails where the job has neither.
fn set_each(job: &mut Value, word: &str, value: &Value) -> Result<(), String> {
    let list = if word == "price" { "cloth" } else { "pieces" };
    let entries = job.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten();
    let mut changed = false;
    for entry in entries.filter_map(Value::as_object_mut) {
        if word == "tilt" {
            tilt(entry, value);
        } else if entry.contains_key("price") {
            entry.insert("price".to_owned(), value.clone());
        } else {
            continue;
        }
        changed = true;
    }
    match (changed, word) {
        (true, _) => Ok(()),
        (false, "tilt") => Err("tilt is for \"pieces\" that a job gives, and this one gives none".to_owned()),
        (false, _) => Err("no cloth of this job has a price that could be changed".to_owned()),
    }
}

fn tilt(piece: &mut Map<String, Value>, value: &Value) {
    let mut grain = match piece.get("grain") {
        Some(Value::String(direction)) if direction == "free" => return,
        Some(Value::Object(grain)) if grain.get("direction") == Some(&json!("free")) => return,
        Some(Value::Object(grain)) => grain.clone(),
        Some(direction) => Map::from_iter([("direction".to_owned(), direction.clone())]),
        None => Map::new(),
    };
    grain.insert("tolerance".to_owned(), value.clone());
    piece.insert("grain".to_owned(), Value::Object(grain));
}

/// An own figure of the rules, at one place or at each that the job uses.
fn set_figure(file: &JobText, job: &mut Value, key: &str, value: &Value) -> Result<(), String> {
    let (word, place) = key.split_once('@').map_or((key, None), |(word, place)| (word, Some(place.trim())));
    let word = word.trim().to_lowercase();
    let read = file.read().map_err(|faults| faults.to_string())?.job;
    let used = cover(&read).map_err(|_| "the airframe cannot be covered as it is".to_owned())?.rules_used;
    let used = used.iter().filter(|rule| rule.figure.word() == word).map(|rule| rule.location.word());
    let known: Vec<&str> = used.collect();
    let places: Vec<&str> = match place {
        None => known.clone(),
        Some(place) if known.contains(&place) => vec![place],
        Some(place) => {
            let meant = did_you_mean(place, known.iter().copied());
            return Err(format!("the job has no {word} at {place:?}{meant}; it has one at {}", quoted(&known)));
        }
    };
    if places.is_empty() {
        return Err(format!("the rules of this job use no {word}"));
    }
    let Some(rules) = job["rules"].as_object_mut() else { return Err("the job has no rules".to_owned()) };
    let figures = rules.entry("figures").or_insert_with(|| json!([]));
    if let Some(list) = figures.as_array_mut() {
        list.retain(|own| !(own["figure"] == json!(word) && places.iter().any(|place| own["at"] == json!(place))));
        let own = |place: &&str| json!({ "figure": word, "at": place, "value": value, "why": "what if" });
        list.extend(places.iter().map(own));
    }
    Ok(())
}

/// Sets the value at a path, whose keys the job file knows.
fn set(job: &mut Value, path: &str, value: Value) -> Result<(), String> {
    let schema = job::schema();
    let mut allowed = alternatives(&schema, &schema);
    let mut at = job;
    let steps: Vec<&str> = path.split('.').map(str::trim).collect();
    for (depth, step) in steps.iter().enumerate() {
        let last = depth + 1 == steps.len();
        at = match at {
            Value::Array(list) => {
                let index = entry(list, step)?;
                allowed = below(&schema, &allowed, "items");
                &mut list[index]
            }
            Value::Object(object) => {
                let named: Vec<&Value> = allowed.iter().filter_map(|node| node.get("properties")).collect();
                let key = known_key(&named, step, depth == 0)?;
                let own: Vec<&Value> = named.iter().filter_map(|properties| properties.get(&key)).collect();
                allowed = own.iter().flat_map(|node| alternatives(&schema, node)).collect();
                if !last && !object.contains_key(&key) {
                    return Err(format!("the job has no {key:?} there"));
                }
                object.entry(key).or_insert(Value::Null)
            }
            _ => return Err(format!("{step:?} leads nowhere: what stands before it is a single value")),
        };
    }
    *at = value;
    Ok(())
}

/// The key as the job file has it, capitals aside, or the nearest right one.
fn known_key(properties: &[&Value], step: &str, first: bool) -> Result<String, String> {
    let mut known: Vec<&str> = properties
        .iter()
        .filter_map(|node| node.as_object())
        .flat_map(|node| node.keys().map(String::as_str))
        .collect();
    if let Some(key) = known.iter().find(|key| key.eq_ignore_ascii_case(step)) {
        return Ok((*key).to_owned());
    }
    if first {
        known.extend(SHORT.iter().map(|(short, _)| *short).chain(EACH).chain(RuleFigure::words()));
    }
    known.sort_unstable();
    known.dedup();
    let meant = did_you_mean(step, known.iter().copied());
    Err(format!("there is no key {step:?}{meant}; the keys there are {}", quoted(&known)))
}

/// An entry of a list by its name or by its number from 1.
fn entry(list: &[Value], step: &str) -> Result<usize, String> {
    let named = |entry: &Value| entry.get("name").and_then(Value::as_str).map(str::to_owned);
    let names: Vec<String> = list.iter().filter_map(named).collect();
    if let Some(index) = list.iter().position(|entry| named(entry).is_some_and(|name| name == step)) {
        return Ok(index);
    }
    if let Some(number) = step.parse::<usize>().ok().filter(|number| (1..=list.len()).contains(number)) {
        return Ok(number - 1);
    }
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let meant = did_you_mean(step, names.iter().copied());
    let count = list.len();
    Err(format!("no entry is called {step:?}{meant}; give a number from 1 to {count}, or one of {}", quoted(&names)))
}

fn quoted(words: &[&str]) -> String {
    words.iter().map(|word| format!("{word:?}")).collect::<Vec<_>>().join(", ")
}

/// What a node of the schema allows, references and choices followed.
fn alternatives<'s>(schema: &'s Value, node: &'s Value) -> Vec<&'s Value> {
    let mut all = vec![node];
    if let Some(name) = node.get("$ref").and_then(Value::as_str).and_then(|path| path.strip_prefix("#/$defs/")) {
        all.extend(alternatives(schema, &schema["$defs"][name]));
    }
    for choice in
        ["anyOf", "oneOf", "allOf"].iter().filter_map(|key| node.get(key)).filter_map(Value::as_array).flatten()
    {
        all.extend(alternatives(schema, choice));
    }
    all
}

fn below<'s>(schema: &'s Value, nodes: &[&'s Value], key: &str) -> Vec<&'s Value> {
    nodes.iter().filter_map(|node| node.get(key)).flat_map(|node| alternatives(schema, node)).collect()
}
