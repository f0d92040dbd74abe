//! Lengths: millimetres inside, `"3-1/2 in"` or `"90 cm"` at the door; and the speeds and wing loadings of the rules.
//!
//! Each unit is a whole number of millimetres over a whole number, so that `"3-1/2 in"` is exactly 88.9 mm and no
//! rounding creeps in on the way. Factors: NIST Special Publication 811 (2008), appendix B.8 (inch 25.4 mm, foot
//! 304.8 mm, yard 914.4 mm, all exact).

mod quantities;

use thiserror::Error;

pub use quantities::{Speed, WingLoading};

/// The unit of plain numbers in the job, and of lengths shown to the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres.
    M,
    /// Inches.
    In,
    /// Feet.
    Ft,
}

/// What is wrong with a text that should have been a length or another quantity.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{message}")]
pub struct LengthFault {
    /// What was seen and why it is no length.
    pub message: String,
    /// What would be right, with an example.
    pub hint: String,
}

/// One unit as people write it.
struct Spelling {
    words: &'static [&'static str],
    /// Millimetres, as a whole number over a whole number.
    millimetres: (f64, f64),
    metric: bool,
}

const MM: Spelling = Spelling { words: &["mm"], millimetres: (1.0, 1.0), metric: true };
const CM: Spelling = Spelling { words: &["cm"], millimetres: (10.0, 1.0), metric: true };
const M: Spelling = Spelling { words: &["m"], millimetres: (1000.0, 1.0), metric: true };
const IN: Spelling =
    Spelling { words: &["in", "inch", "inches", "\"", "″", "”"], millimetres: (254.0, 10.0), metric: false };
const FT: Spelling =
    Spelling { words: &["ft", "foot", "feet", "'", "′", "’"], millimetres: (3048.0, 10.0), metric: false };
const YD: Spelling = Spelling { words: &["yd", "yard", "yards"], millimetres: (9144.0, 10.0), metric: false };

/// Longest text that is read as a length, in bytes.
const LONGEST_TEXT: usize = 100;

/// Fractions that have a character of their own.
const FRACTION_SIGNS: [(char, f64, f64); 7] = [
    ('¼', 1.0, 4.0),
    ('½', 1.0, 2.0),
    ('¾', 3.0, 4.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
];

impl Units {
    /// Every unit that a job may be written in.
    pub const ALL: [Units; 5] = [Units::Mm, Units::Cm, Units::M, Units::In, Units::Ft];

    /// The unit's short name, as a job and a table write it.
    pub fn symbol(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::Cm => "cm",
            Units::M => "m",
            Units::In => "in",
            Units::Ft => "ft",
        }
    }

    /// The unit of that short name.
    pub fn from_symbol(symbol: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|unit| unit.symbol() == symbol)
    }

    /// Millimetres in a plain number of this unit.
    pub fn to_mm(self, number: f64) -> f64 {
        let (times, over) = self.spelling().millimetres;
        number * times / over
    }

    /// This unit's number for a length in millimetres.
    pub fn from_mm(self, mm: f64) -> f64 {
        let (times, over) = self.spelling().millimetres;
        mm * over / times
    }

    /// A length in millimetres, written in this unit with its symbol: `165 mm`, `1.2 m`, `3-1/2 in`, `12 ft 6-1/2 in`.
    ///
    /// Millimetres keep one decimal, below ten two, centimetres two, metres three. Inches are written as sixteenths where that is
    /// the length to 0.01 mm, else with two decimals. Every text that it writes can be read by [`parse_length`].
    pub fn show(self, mm: f64) -> String {
        match self {
            Units::Ft => show_feet(mm),
            _ => format!("{} {}", self.show_number(mm), self.symbol()),
        }
    }

    /// A length of tape, cord or roll: metres to the hundredth, or yards of 3 ft to the tenth where the job is in inches or
    /// feet.
    pub fn show_long(self, mm: f64) -> String {
        match self {
            Units::Mm | Units::Cm | Units::M => format!("{} m", trimmed(Units::M.from_mm(mm), 2)),
            Units::In | Units::Ft => format!("{} yd", trimmed(Units::Ft.from_mm(mm) / 3.0, 1)),
        }
    }

    /// As [`Units::show`], without the symbol and, for feet, as a decimal: for table columns whose head has the unit.
    pub fn show_number(self, mm: f64) -> String {
        let number = self.from_mm(mm);
        match self {
            // Holes and margins of a few millimetres are fractions of an inch, and no smaller than those.
            Units::Mm => trimmed(number, if number.abs() < 10.0 { 2 } else { 1 }),
            Units::Cm => trimmed(number, 2),
            Units::M => trimmed(number, 3),
            Units::In => sixteenths(number).unwrap_or_else(|| trimmed(number, 2)),
            Units::Ft => trimmed(number, 3),
        }
    }

    /// The unit of the other system in which a length may be told besides, so that an inch taken for a millimetre is seen.
    pub fn other(self) -> Self {
        match self {
            Units::Mm | Units::Cm | Units::M => Units::In,
            Units::In | Units::Ft => Units::Mm,
        }
    }

    fn spelling(self) -> Spelling {
        match self {
            Units::Mm => MM,
            Units::Cm => CM,
            Units::M => M,
            Units::In => IN,
            Units::Ft => FT,
        }
    }
}

/// Millimetres in some inches; multiplied first, tenths come out as they are written.
pub const fn inches(number: f64) -> f64 {
    number * 254.0 / 10.0
}

/// A number with at most `decimals` decimals, no trailing zeros, and never `-0`.
pub fn trimmed(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Whole inches and sixteenths in lowest terms, where the number is one to 0.01 mm.
fn sixteenths(inches: f64) -> Option<String> {
    const NEAR: f64 = 0.01 / 25.4;
    let parts = (inches * 16.0).round();
    if (parts / 16.0 - inches).abs() > NEAR || parts.abs() > 1e9 {
        return None;
    }
    let sign = if parts < 0.0 { "-" } else { "" };
    let parts = parts.abs() as u64;
    let (whole, mut top, mut bottom) = (parts / 16, parts % 16, 16);
    while top != 0 && top % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    Some(match (whole, top) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{top}/{bottom}"),
        _ => format!("{sign}{whole}-{top}/{bottom}"),
    })
}

fn show_feet(mm: f64) -> String {
    let sign = if mm < 0.0 { "-" } else { "" };
    let feet = Units::Ft.from_mm(mm.abs());
    let mut whole = feet.floor();
    let mut inches = Units::In.show_number(mm.abs() - Units::Ft.to_mm(whole));
    if inches == "12" {
        (whole, inches) = (whole + 1.0, "0".to_owned());
    }
    match (whole == 0.0, inches == "0") {
        (true, true) => "0 ft".to_owned(),
        (true, false) => format!("{sign}{inches} in"),
        (false, true) => format!("{sign}{whole} ft"),
        (false, false) => format!("{sign}{whole} ft {inches} in"),
    }
}

/// Reads a length with its unit, such as `3-1/2 in`, `3/8 in`, `90 cm`, `1.2 m`, `12'6"`, `12 ft 6-1/2 in` or `2 yd`.
///
/// Answers in millimetres. A minus before the whole is allowed, since places may be negative; who needs a size checks
/// that it is greater than zero.
///
/// # Errors
/// [`LengthFault`] says what was seen and shows a length that is right.
///
/// ```
/// use clothwright::units::parse_length;
/// assert_eq!(parse_length("3-1/2 in"), Ok(88.9));
/// assert_eq!(parse_length("12' 6-1/2\""), Ok(3822.7));
/// assert!(parse_length("3 furlongs").is_err());
/// ```
pub fn parse_length(text: &str) -> Result<f64, LengthFault> {
    parse_length_in(Units::Mm, text)
}

/// A length as it is typed beside a job: a plain number counts in the job's unit, all else as in [`parse_length`].
///
/// # Errors
/// As [`parse_length_in`].
pub fn typed_length(job: Units, text: &str) -> Result<f64, LengthFault> {
    match text.trim().parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(job.to_mm(number)),
        _ => parse_length_in(job, text),
    }
}

/// As [`parse_length`]; where a unit is missing, the advice names that of the job.
///
/// # Errors
/// [`LengthFault`] says what was seen and shows a length that is right.
///
/// ```
/// use clothwright::units::{Units, parse_length_in};
/// let fault = parse_length_in(Units::In, "1/8").unwrap_err();
/// assert_eq!(fault.hint, "write \"1/8 in\"");
/// ```
pub fn parse_length_in(job: Units, text: &str) -> Result<f64, LengthFault> {
    let whole = text.trim();
    let (negative, mut rest) = match whole.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, whole),
    };
    if rest.is_empty() {
        return Err(fault(format!("{text:?} is not a length")));
    }
    if rest.len() > LONGEST_TEXT {
        return Err(fault("this text is too long for a length".to_owned()));
    }
    if ["nan", "inf", "infinity"].iter().any(|word| rest.eq_ignore_ascii_case(word)) {
        return Err(fault(format!("{text:?} is not a finite number")));
    }
    let mut sum = 0.0;
    let mut last: Option<Spelling> = None;
    loop {
        let (top, bottom, after) = number(rest, text)?;
        let (unit, after) = unit(after, text, job)?;
        let (times, over) = unit.millimetres;
        if last
            .is_some_and(|last| unit.metric != last.metric || times / over >= last.millimetres.0 / last.millimetres.1)
        {
            return Err(fault(format!("the parts of {text:?} do not go from a large unit to a smaller one")));
        }
        sum += top * times / (bottom * over);
        last = Some(unit);
        rest = after.trim_start();
        if rest.is_empty() {
            break;
        }
        rest = rest.strip_prefix('-').unwrap_or(rest).trim_start();
    }
    Ok(if negative { -sum } else { sum })
}

/// A number at the start: decimal, whole and fraction, or fraction alone; as top over bottom, and what follows.
fn number<'t>(text: &'t str, all: &str) -> Result<(f64, f64, &'t str), LengthFault> {
    let (first, rest) = digits(text);
    if first.is_empty() {
        return match fraction_sign(rest) {
            Some((top, bottom, rest)) => Ok((top, bottom, rest)),
            None => Err(fault(format!("{all:?} is not a length: a number is missing before {rest:?}"))),
        };
    }
    let value = decimal(first, all)?;
    if rest.starts_with(',') {
        return Err(fault(format!("{all:?} has a comma; decimals are written with a point")));
    }
    if let Some(after) = rest.strip_prefix('/') {
        let (bottom, rest) = digits(after);
        return Ok((value, denominator(bottom, all)?, rest));
    }
    if let Some((top, bottom, rest)) = fraction_sign(rest.trim_start_matches([' ', '-'])) {
        return Ok((value * bottom + top, bottom, rest));
    }
    // "3-1/2" and "3 1/2": only a fraction may follow a whole number, so anything else is left to the unit.
    let (second, after) = digits(rest.trim_start_matches([' ', '-']));
    match after.strip_prefix('/') {
        Some(after) if !second.is_empty() => {
            let (bottom, rest) = digits(after);
            let bottom = denominator(bottom, all)?;
            Ok((value * bottom + decimal(second, all)?, bottom, rest))
        }
        _ => Ok((value, 1.0, rest)),
    }
}

fn digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len()))
}

fn fraction_sign(text: &str) -> Option<(f64, f64, &str)> {
    let first = text.chars().next()?;
    let (_, top, bottom) = FRACTION_SIGNS.into_iter().find(|(sign, ..)| *sign == first)?;
    Some((top, bottom, &text[first.len_utf8()..]))
}

fn decimal(digits: &str, all: &str) -> Result<f64, LengthFault> {
    digits.parse().map_err(|_| fault(format!("{digits:?} in {all:?} is not a number")))
}

fn denominator(digits: &str, all: &str) -> Result<f64, LengthFault> {
    match decimal(digits, all)? {
        0.0 => Err(fault(format!("the fraction in {all:?} divides by zero"))),
        bottom => Ok(bottom),
    }
}

/// The unit at the start, and what follows.
fn unit<'t>(text: &'t str, all: &str, job: Units) -> Result<(Spelling, &'t str), LengthFault> {
    let text = text.trim_start();
    let Some(first) = text.chars().next() else {
        let all = all.trim();
        // A text of two parts has a unit already, and lacks a smaller one.
        if all.contains(|c: char| c.is_alphabetic() || "'′’".contains(c)) {
            let hint = "write a unit after each number, for example \"12 ft 6 in\" or \"1 m 20 mm\"".to_owned();
            return Err(LengthFault { message: format!("{all:?} has no unit at its end"), hint });
        }
        // Only a plain number can stand without quotes.
        let bare = if all.parse::<f64>().is_ok() { format!(", or {all} without quotes") } else { String::new() };
        return Err(LengthFault {
            message: format!("{all:?} has no unit"),
            hint: format!("write \"{all} {}\"{bare}", job.symbol()),
        });
    };
    let end = if first.is_alphabetic() {
        text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len())
    } else {
        first.len_utf8()
    };
    let (word, rest) = text.split_at(end);
    let spelt = |unit: &Spelling| unit.words.iter().any(|spelling| spelling.eq_ignore_ascii_case(word));
    match [MM, CM, M, IN, FT, YD].into_iter().find(spelt) {
        Some(unit) => Ok((unit, rest.strip_prefix('.').unwrap_or(rest))),
        None => Err(fault(format!("{word:?} in {all:?} is not a unit of length"))),
    }
}

fn fault(message: String) -> LengthFault {
    let hint = "write a number and a unit (mm, cm, m, in, ft, yd), for example \"90 cm\" or \"3-1/2 in\"".to_owned();
    LengthFault { message, hint }
}
