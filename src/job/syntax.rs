//! From the text of a job to its syntax tree, in which everything knows where it stands; and what is wrong with a text
//! that is no JSON, in words for somebody who does not know JSON.
//!
//! `jsonc-parser` gives the ranges. `serde_json` reads the text once more, since it is the stricter of the two
//! (RFC 8259) and an editor that checks the file will be strict as well.

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};
use jsonc_parser::errors::ParseErrorKind as Kind;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};

use super::fault::Findings;
use super::limits;
use super::source::Source;

const STRICT: ParseOptions = ParseOptions {
    allow_comments: false,
    allow_loose_object_property_names: false,
    allow_trailing_commas: false,
    allow_missing_commas: false,
    allow_single_quoted_strings: false,
    allow_hexadecimal_numbers: false,
    allow_unary_plus_numbers: false,
    allow_bare_decimal_point_numbers: false,
    allow_non_finite_numbers: false,
    allow_extended_string_escapes: false,
};

/// The tree, or nothing and a fault.
pub(super) fn parse<'t>(source: &Source<'t>, findings: &mut Findings) -> Option<Value<'t>> {
    let tree = match parse_to_ast(source.text, &CollectOptions::default(), &STRICT) {
        Ok(result) => result.value,
        Err(error) => {
            let range = error.range();
            let (message, hint) = explain(error.kind(), source.slice(range.start, range.end));
            findings.fault(narrow(range, error.kind()), message, hint, None);
            return None;
        }
    };
    let Some(tree) = tree else {
        let hint = "a job begins with { \"format\": 1, \"units\": \"mm\", …".to_owned();
        findings.fault(Range { start: 0, end: 0 }, "the file is empty".to_owned(), hint, None);
        return None;
    };
    if let Some(range) = too_deep(&tree, 0) {
        findings.fault(range, format!("nested more than {} deep", limits::NESTING), too_deep_hint(), None);
        return None;
    }
    if let Err(error) = serde_json::from_str::<serde::de::IgnoredAny>(source.text) {
        let start = source.offset(error.line(), error.column());
        let text = error.to_string();
        let what = text.split(" at line ").next().unwrap_or_default();
        let message = format!("this is not JSON: {what}");
        findings.fault(Range { start, end: start }, message, "see json.org for how JSON is written".to_owned(), None);
        return None;
    }
    Some(tree)
}

/// Where the carets go: an opening bracket, not everything after it.
fn narrow(range: Range, kind: &Kind) -> Range {
    match kind {
        Kind::UnterminatedArray | Kind::UnterminatedObject | Kind::String(_) | Kind::NestingDepthExceeded => {
            Range { start: range.start, end: range.start + 1 }
        }
        _ => range,
    }
}

fn too_deep(value: &Value, depth: usize) -> Option<Range> {
    if depth > limits::NESTING {
        return Some(Range { start: value.start(), end: value.start() + 1 });
    }
    match value {
        Value::Object(object) => object.properties.iter().find_map(|entry| too_deep(&entry.value, depth + 1)),
        Value::Array(list) => list.elements.iter().find_map(|value| too_deep(value, depth + 1)),
        _ => None,
    }
}

fn too_deep_hint() -> String {
    "a job needs no more than 8 levels of lists and objects".to_owned()
}

/// What is wrong, and what would be right.
fn explain(kind: &Kind, seen: &str) -> (String, String) {
    let (message, hint) = match kind {
        Kind::UnterminatedObject => ("this { is never closed: the file ends too early", "add the missing } at the end"),
        Kind::UnterminatedArray => ("this [ is never closed: the file ends too early", "add the missing ] at the end"),
        Kind::TrailingCommasNotAllowed => ("a comma too many: nothing follows it", "take the comma away"),
        Kind::ExpectedComma => ("a comma is missing here", "entries are parted by commas"),
        Kind::UnexpectedComma => ("a comma too many", "take the comma away, or write the entry that is missing"),
        Kind::CommentsNotAllowed | Kind::UnterminatedCommentBlock => {
            ("comments are not allowed in JSON", "put the text into a \"note\"")
        }
        Kind::ExpectedColonAfterObjectKey => {
            ("a colon is missing after the key", "write a key, a colon, a value: \"width\": 1780")
        }
        Kind::ExpectedObjectValue => ("a value is missing after the colon", "write for example \"width\": 1780"),
        Kind::ExpectedStringObjectProperty => {
            ("a key must stand in double quotes", "write for example \"width\": 1780")
        }
        Kind::SingleQuotedStringsNotAllowed => ("single quotes are not allowed in JSON", "use double quotes: \"mm\""),
        Kind::NonFiniteNumbersNotAllowed => {
            ("NaN and Infinity are not numbers in JSON", "write a finite number such as 165")
        }
        Kind::BareDecimalPointNumbersNotAllowed | Kind::ExpectedDigit => {
            ("a digit must stand on both sides of the decimal point", "write 0.5, not .5, and 5, not 5.")
        }
        Kind::UnaryPlusNumbersNotAllowed => ("a number may not begin with a plus", "leave the plus out"),
        Kind::HexadecimalNumbersNotAllowed => ("hexadecimal numbers are not allowed", "write the number in tens"),
        Kind::ExpectedDigitFollowingNegativeSign | Kind::ExpectedPlusMinusOrDigitInNumberLiteral => {
            ("this is not a number", "write a number such as 165 or -12.5")
        }
        Kind::MultipleRootJsonValues => {
            ("the job is over, and something follows it", "a file holds one job, from the first { to its }")
        }
        Kind::UnexpectedCloseBrace => ("a } too many, or a value is missing before it", "each } needs its { before it"),
        Kind::UnexpectedCloseBracket => ("a ] too many, or one that has no [", "each ] needs its [ before it"),
        Kind::UnexpectedTokenInObject => {
            ("a key in double quotes or a } was expected here", "write for example \"width\": 1780")
        }
        Kind::UnexpectedColon => ("a colon was not expected here", "a colon stands only between a key and its value"),
        Kind::String(problem) => return explain_text(problem),
        Kind::NestingDepthExceeded => return (format!("nested more than {} deep", limits::NESTING), too_deep_hint()),
        Kind::UnexpectedWord | Kind::UnexpectedToken => {
            let message = format!("{seen:?} is neither a number, a text in double quotes, true, false nor null");
            return (message, "a text must stand in double quotes, for example \"mm\"".to_owned());
        }
    };
    (message.to_owned(), hint.to_owned())
}

fn explain_text(problem: &jsonc_parser::ParseStringErrorKind) -> (String, String) {
    use jsonc_parser::ParseStringErrorKind as Text;
    match problem {
        Text::UnterminatedStringLiteral => {
            ("this text has no closing double quote".to_owned(), "a text ends with \" on the same line".to_owned())
        }
        _ => (
            "a backslash in a text is followed by something that JSON does not know".to_owned(),
            "write \\\" for a double quote (12'6\\\") and \\\\ for a backslash".to_owned(),
        ),
    }
}
