//! Reads the spares, the prices of goods and the rates of work.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::keys::Table;
use super::keys_spares::{PRICES, RATES, SPARES};
use super::limits;
use super::reader::Reader;
use super::spares::{Prices, Rates, Spares};
use super::words::Words;

/// What numbers of a table mean, for messages.
struct Number {
    what: &'static str,
    most: f64,
    hint: &'static str,
}

const SHARE: Number =
    Number { what: "a share of spares", most: limits::SPARES, hint: "write per cent, for example 10 for a tenth more" };
const RATE: Number = Number {
    what: "a rate of work",
    most: limits::HOURS,
    hint: "write hours, for example 0.25 for a quarter of an hour",
};

const PRICE: Number = Number {
    what: "a price",
    most: limits::PRICE,
    hint: "write what one, a metre or a litre costs, a plain number, for example 1.20",
};

pub(super) fn spares(reader: &mut Reader, value: &Value) -> Option<Spares> {
    numbers(reader, value, &SPARES, &SHARE).map(Spares)
}

pub(super) fn prices(reader: &mut Reader, value: &Value) -> Option<Prices> {
    numbers(reader, value, &PRICES, &PRICE).map(Prices)
}

pub(super) fn rates(reader: &mut Reader, value: &Value) -> Option<Rates> {
    numbers(reader, value, &RATES, &RATE).map(Rates)
}

/// The numbers of a table, each at the choice that its key names; a table may leave choices out.
fn numbers<T: Words>(
    reader: &mut Reader,
    value: &Value,
    table: &'static Table,
    sort: &Number,
) -> Option<Vec<(T, f64)>> {
    let fields = reader.object(value, table)?;
    let known = T::ALL.iter().filter(|(_, word)| table.keys.iter().any(|key| key.name == *word));
    let given = known.filter_map(|(choice, word)| Some((*choice, fields.get(word)?)));
    let read: Vec<_> = given.map(|(choice, value)| Some((choice, within(reader, value, sort)?))).collect();
    read.into_iter().collect()
}

fn within(reader: &mut Reader, value: &Value, sort: &Number) -> Option<f64> {
    let number = reader.number(value, sort.what, sort.hint)?;
    if (0.0..=sort.most).contains(&number) {
        return Some(number);
    }
    let message = format!("{} lies between 0 and {}, this is {}", sort.what, sort.most, reader.seen(value));
    reader.fault(&value.range(), message, sort.hint);
    None
}
