//! What is used up beside cloth: each thing with its rule.

/// An amount of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// What it is, such as `lacing cord`.
    pub what: String,
    /// How much, in the unit.
    pub amount: f64,
    /// How it is counted.
    pub unit: Unit,
    /// Where the figure comes from.
    pub source: String,
}

/// How things are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// One by one.
    Pieces,
    /// In millimetres, shown as lengths.
    Length,
    /// In litres.
    Litres,
}
