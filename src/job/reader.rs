//! The hands of the reader: take a text, a number, a length, a list, an object from the syntax tree, or say in plain
//! words why that is not what stands there.
//!
//! Each answers `None` after it has noted a fault; who asks goes on with the rest of the file, so that all faults come
//! at once.

use jsonc_parser::ast::{ObjectProp, Value};
use jsonc_parser::common::{Range, Ranged};

use super::airframe::Spot;
use super::fault::Findings;
use super::keys::{Key, TABLES, Table};
use super::limits;
use super::nearest::{nearest, one_of, quoted};
use super::read_drawing::Drawings;
use super::source::Source;
use super::words::Words;
use crate::units::{Units, parse_length_in};

/// Reads one file.
pub(super) struct Reader<'s> {
    pub source: &'s Source<'s>,
    pub findings: Findings,
    /// The unit of plain numbers.
    pub units: Units,
    /// The drawings that outlines come from.
    pub drawings: Drawings,
}

/// The entries of an object whose keys have been checked.
pub(super) struct Fields<'t> {
    table: &'static Table,
    entries: Vec<&'t ObjectProp<'t>>,
    /// Whether there are keys besides that nobody knows, and that may have been meant for one that is lacking.
    pub strangers: bool,
}

impl<'t> Fields<'t> {
    /// The value of a key of the object's table.
    pub fn get(&self, name: &str) -> Option<&'t Value<'t>> {
        debug_assert!(self.table.keys.iter().any(|key| key.name == name), "{name} is in no table");
        self.entries.iter().find(|entry| entry.name.as_str() == name).map(|entry| &entry.value)
    }
}

/// A length that is asked for, for messages.
#[derive(Clone, Copy)]
pub(super) struct Sort {
    /// What it is, with its article: "a diameter".
    pub what: &'static str,
    /// What to write.
    pub hint: &'static str,
}

impl Reader<'_> {
    /// Notes a fault.
    pub fn fault(&mut self, at: &impl Ranged, message: impl Into<String>, hint: impl Into<String>) {
        self.findings.fault(at.range(), message.into(), hint.into(), None);
    }

    /// Notes a fault that has to do with another place too.
    pub fn fault_with(&mut self, at: Range, message: String, hint: &str, also: (Range, &str)) {
        self.findings.fault(at, message, hint.to_owned(), Some((also.0, also.1.to_owned())));
    }

    /// What the person wrote there, cut short.
    pub fn seen(&self, at: &impl Ranged) -> String {
        const MOST: usize = 40;
        let Range { start, end } = at.range();
        let text = self.source.slice(start, end.min(start + 1000));
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        match text.char_indices().nth(MOST) {
            Some((cut, _)) => format!("{}…", &text[..cut]),
            None => text,
        }
    }

    fn wrong_kind(&mut self, value: &Value, wanted: &str, hint: &str) {
        let kind = match value {
            Value::StringLit(_) => "a text",
            Value::NumberLit(_) => "a number",
            Value::BooleanLit(_) => "true or false",
            Value::Object(_) => "an object in { }",
            Value::Array(_) => "a list in [ ]",
            Value::NullKeyword(_) => "null",
        };
        let range = match value {
            Value::Object(_) | Value::Array(_) => Range { start: value.start(), end: value.start() + 1 },
            _ => value.range(),
        };
        let hint = match value {
            Value::NullKeyword(_) => "leave the key out where there is nothing to say",
            _ => hint,
        };
        self.fault(&range, format!("{wanted} was expected here, this is {kind}"), hint);
    }

    /// The entries of an object, after a look at its keys: unknown, written twice, missing.
    pub fn object<'t>(&mut self, value: &'t Value<'t>, table: &'static Table) -> Option<Fields<'t>> {
        let Value::Object(object) = value else {
            self.wrong_kind(
                value,
                table.what,
                &format!("{} is an object in {{ }} with {}", table.what, keys_of(table)),
            );
            return None;
        };
        let mut entries: Vec<&ObjectProp> = Vec::new();
        let mut strangers: Vec<&ObjectProp> = Vec::new();
        for entry in &object.properties {
            let name = entry.name.as_str();
            if let Some(first) = entries.iter().find(|earlier| earlier.name.as_str() == name) {
                let message = format!("the key {} is written twice in the same object", quoted(name));
                self.fault_with(
                    entry.name.range(),
                    message,
                    "keep one of the two",
                    (first.name.range(), "the first one"),
                );
            } else if table.keys.iter().any(|key| key.name == name) {
                entries.push(entry);
            } else {
                strangers.push(entry);
            }
        }
        let lacking: Vec<&Key> =
            table.keys.iter().filter(|key| !entries.iter().any(|entry| entry.name.as_str() == key.name)).collect();
        let meant: Vec<_> = strangers.iter().map(|entry| self.unknown_key(entry, table, &lacking)).collect();
        let brace = Range { start: object.range.start, end: object.range.start + 1 };
        for key in lacking.iter().filter(|key| key.required && !meant.contains(&Some(key.name))) {
            let message = format!("{} needs the key {:?}", table.what, key.name);
            self.fault(&brace, message, format!("write for example {}", key.example));
        }
        Some(Fields { table, entries, strangers: !strangers.is_empty() })
    }

    /// Notes a key that is not in the table, and answers the one that was probably meant: a lacking one, if it can be.
    fn unknown_key(&mut self, entry: &ObjectProp, table: &Table, lacking: &[&Key]) -> Option<&'static str> {
        let name = entry.name.as_str();
        if self.findings.is_full() {
            self.fault(&entry.name.range(), "", "");
            return None;
        }
        let known = table.keys.iter().map(|key| key.name);
        let meant = nearest(name, lacking.iter().map(|key| key.name)).or_else(|| nearest(name, known));
        let hint = match meant {
            Some(right) => format!("did you mean {right:?}?"),
            None => {
                let elsewhere = TABLES.iter().find(|other| other.keys.iter().any(|key| key.name == name));
                let home = elsewhere.map(|other| format!("{name:?} belongs to {}; ", other.what)).unwrap_or_default();
                format!("{home}the keys here are {}", keys_of(table))
            }
        };
        self.fault(&entry.name.range(), format!("{} has no key {}", table.what, quoted(name)), hint);
        meant
    }

    /// The elements of a list of `least` to `most`.
    pub fn list<'t>(
        &mut self,
        value: &'t Value<'t>,
        what: &str,
        (least, most): (usize, usize),
        hint: &str,
    ) -> Option<&'t [Value<'t>]> {
        let Value::Array(list) = value else {
            self.wrong_kind(value, what, hint);
            return None;
        };
        let count = list.elements.len();
        let bracket = Range { start: value.start(), end: value.start() + 1 };
        if count < least && count == 0 {
            self.fault(&bracket, format!("{what} may not be empty"), hint);
            return None;
        }
        if count < least || count > most {
            let wanted = if least == most { format!("{least}") } else { format!("{least} to {most}") };
            self.fault(&bracket, format!("{what} has {wanted} entries, this one has {count}"), hint);
            return None;
        }
        Some(&list.elements)
    }

    /// A text, as it is.
    pub fn text<'t>(&mut self, value: &'t Value<'t>, what: &str) -> Option<&'t str> {
        match value {
            Value::StringLit(text) => Some(&text.value),
            _ => {
                self.wrong_kind(value, what, "write a text in double quotes");
                None
            }
        }
    }

    /// A name: a text that is not blank, without the space around it.
    pub fn name(&mut self, value: &Value) -> Option<String> {
        let name = self.text(value, "a name")?.trim();
        if name.is_empty() {
            self.fault(&value.range(), "the name is empty", "write a name that you will know in the hangar");
            return None;
        }
        if name.chars().any(char::is_control) {
            self.fault(&value.range(), "a name must fit on one line", "leave out line breaks and tabs");
            return None;
        }
        let count = name.chars().count();
        if count > limits::NAME_CHARACTERS {
            let message = format!("this name has {count} characters, {} is the most", limits::NAME_CHARACTERS);
            self.fault(&value.range(), message, "put the details into \"goes\", \"source\" or \"note\"");
            return None;
        }
        Some(name.to_owned())
    }

    /// One of some words.
    pub fn word(&mut self, value: &Value, what: &str, words: &[&'static str]) -> Option<&'static str> {
        let text = self.text(value, what)?;
        let found = words.iter().find(|word| **word == text);
        if found.is_none() {
            let hint = match nearest(text, words.iter().copied()) {
                Some(word) => format!("did you mean {word:?}? The choice is {}", one_of(words.iter().copied())),
                None => format!("write {}", one_of(words.iter().copied())),
            };
            self.fault(&value.range(), format!("{} is not {what}", quoted(text)), hint);
        }
        found.copied()
    }

    /// One of the words of a choice.
    pub fn choice<T: Words>(&mut self, value: &Value, what: &str) -> Option<T> {
        let word = self.word(value, what, &T::words())?;
        T::ALL.iter().find(|(_, known)| *known == word).map(|(choice, _)| *choice)
    }

    /// Where a value stands, for what is found wrong with it later.
    pub fn spot(&self, at: &impl Ranged, path: String) -> Spot {
        let place = self.source.place(at.range().start);
        Spot { path, line: place.line, column: place.column }
    }

    /// `true` or `false`.
    pub fn yes_or_no(&mut self, value: &Value) -> Option<bool> {
        match value {
            Value::BooleanLit(answer) => Some(answer.value),
            _ => {
                self.wrong_kind(value, "true or false", "write true or false, without quotes");
                None
            }
        }
    }

    /// A finite number.
    pub fn number(&mut self, value: &Value, what: &str, hint: &str) -> Option<f64> {
        let Value::NumberLit(number) = value else {
            self.wrong_kind(value, what, hint);
            return None;
        };
        match number.value.parse::<f64>() {
            Ok(number) if number.is_finite() => Some(number),
            _ => {
                self.fault(&value.range(), format!("{what} must be finite, {} is too large", self.seen(value)), hint);
                None
            }
        }
    }

    /// A whole number from 1 to `most`.
    pub fn quantity(&mut self, value: &Value, what: &str, most: u32) -> Option<u32> {
        let hint = format!("write a whole number from 1 to {most}");
        let number = self.number(value, what, &hint)?;
        let problem = if number.fract() != 0.0 {
            "must be a whole number"
        } else if number < 1.0 {
            "must be 1 or more"
        } else if number > f64::from(most) {
            let seen = self.seen(value);
            self.fault(&value.range(), format!("{what} may be {most} at most, this is {seen}"), hint);
            return None;
        } else {
            return Some(number as u32);
        };
        self.fault(&value.range(), format!("{what} {problem}, this is {}", self.seen(value)), hint);
        None
    }

    /// A length of either sign, in millimetres.
    pub fn length(&mut self, value: &Value, sort: Sort) -> Option<f64> {
        let mm = match value {
            Value::NumberLit(_) => self.units.to_mm(self.number(value, sort.what, sort.hint)?),
            Value::StringLit(text) => match parse_length_in(self.units, &text.value) {
                Ok(mm) => mm,
                Err(fault) => {
                    self.fault(&value.range(), fault.message, fault.hint);
                    return None;
                }
            },
            _ => {
                self.wrong_kind(value, sort.what, sort.hint);
                return None;
            }
        };
        if mm.abs() > limits::LENGTH {
            let most = self.units.show(limits::LENGTH);
            let message = format!("{} may be {most} at most, this is {}", sort.what, self.seen(value));
            self.fault(&value.range(), message, "look at \"units\" and at the decimal point");
            return None;
        }
        Some(mm)
    }

    /// A length greater than zero, in millimetres.
    pub fn size(&mut self, value: &Value, sort: Sort) -> Option<f64> {
        let mm = self.length(value, sort)?;
        if mm >= limits::SMALLEST {
            return Some(mm);
        }
        let seen = self.seen(value);
        let bound = if mm <= 0.0 { "greater than 0".to_owned() } else { format!("{} mm or more", limits::SMALLEST) };
        self.fault(&value.range(), format!("{} must be {bound}, this is {seen}", sort.what), sort.hint);
        None
    }

    /// A length of zero or more, in millimetres.
    pub fn length_or_zero(&mut self, value: &Value, sort: Sort) -> Option<f64> {
        let mm = self.length(value, sort)?;
        if mm >= 0.0 {
            return Some(mm);
        }
        self.fault(&value.range(), format!("{} must be 0 or more, this is {}", sort.what, self.seen(value)), sort.hint);
        None
    }
}

fn keys_of(table: &Table) -> String {
    let names: Vec<_> = table.keys.iter().map(|key| format!("{:?}", key.name)).collect();
    names.join(", ")
}
