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
    begins_like_a_job(source, findings)?;
    let open_text = open_text(source.text);
    let tree = match parse_to_ast(source.text, &CollectOptions::default(), &STRICT) {
        Err(error) if open_text.is_none_or(|start| error.range().start < start) => {
            let range = error.range();
            let (message, hint) = explain(error.kind(), source.slice(range.start, range.end));
            findings.fault(narrow(range, error.kind()), message, hint, None);
            return None;
        }
        parsed => parsed.ok(),
    };
    if let Some(start) = open_text {
        let range = Range { start, end: start + 1 };
        findings.fault(range, OPEN_TEXT.0.to_owned(), OPEN_TEXT.1.to_owned(), None);
        return None;
    }
    let tree = tree?.value?;
    if let Some(range) = too_deep(&tree, 0) {
        findings.fault(range, format!("nested more than {} deep", limits::NESTING), too_deep_hint(), None);
        return None;
    }
    is_strict(source, findings)?;
    Some(tree)
}

fn begins_like_a_job(source: &Source, findings: &mut Findings) -> Option<()> {
    let start = source.text.len() - source.text.trim_start().len();
    let first = source.text[start..].chars().next();
    let message = match first {
        Some('{' | '[') => return Some(()),
        Some(first) => format!("this is not JSON: a job begins with {{, this begins with {first}"),
        None => "the file is empty".to_owned(),
    };
    let end = start + first.map_or(0, char::len_utf8);
    findings.fault(Range { start, end }, message, BEGINNING.to_owned(), None);
    None
}

/// A second look by the stricter parser.
fn is_strict(source: &Source, findings: &mut Findings) -> Option<()> {
    let Err(error) = serde_json::from_str::<serde::de::IgnoredAny>(source.text) else { return Some(()) };
    let start = source.offset(error.line(), error.column());
    let text = error.to_string();
    let what = text.split(" at line ").next().unwrap_or_default();
    let (message, hint) = if what.starts_with("control character") {
        ("a tab or another control character stands in this text".to_owned(), "write \\t for a tab")
    } else {
        (format!("this is not JSON: {what}"), "see RFC 8259 for how JSON is written")
    };
    findings.fault(Range { start, end: start }, message, hint.to_owned(), None);
    None
}

const BEGINNING: &str = "a job begins with { \"format\": 1, \"units\": \"mm\", …";

const NOT_FINITE: (&str, &str) =
    ("JSON has no NaN and no Infinity", "write a number such as 165, or leave the key out where you have none");

const OPEN_TEXT: (&str, &str) = (
    "this text has no closing double quote",
    "a text ends with \" on the same line; a double quote in it, as for inches, is written \\\"",
);

/// Where a text begins that is not closed on its line, which JSON does not allow; the parser would go on to the next
/// double quote and complain far away from the slip.
fn open_text(text: &str) -> Option<usize> {
    let mut open = None;
    let mut escaped = false;
    for (at, byte) in text.bytes().enumerate() {
        match (open, byte) {
            (Some(start), b'\n' | b'\r') => return Some(start),
            (Some(_), _) if escaped => escaped = false,
            (Some(_), b'\\') => escaped = true,
            (Some(_), b'"') => open = None,
            (None, b'"') => open = Some(at),
            _ => {}
        }
    }
    open
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
        Kind::NonFiniteNumbersNotAllowed => NOT_FINITE,
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
        Kind::UnexpectedWord if ["nan", "inf", "infinity"].iter().any(|word| seen.eq_ignore_ascii_case(word)) => {
            NOT_FINITE
        }
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
        Text::UnterminatedStringLiteral => (OPEN_TEXT.0.to_owned(), OPEN_TEXT.1.to_owned()),
        _ => (
            "a backslash in a text is followed by something that JSON does not know".to_owned(),
            "write \\\" for a double quote (12'6\\\") and \\\\ for a backslash".to_owned(),
        ),
    }
}
