//! What `check` says of all that goes onto the panels: how many things on each part, and what is used up.

use std::io::{self, Write};

use crate::covering::{CoveredPart, Covering, Quantity, TapeRun, Unit};
use crate::job::Job;
use crate::plan::{TakeOffUnit, area, percent};
use crate::units::Units;
use crate::wording::counted;

use super::table::{Align, Table};

/// Prints what goes onto the panels of an airframe.
pub(super) fn print(out: &mut impl Write, job: &Job, covering: &Covering) -> io::Result<()> {
    if covering.parts.iter().all(|part| part.faces.is_empty()) {
        return Ok(());
    }
    writeln!(out)?;
    counts(job, &covering.parts).print(out)?;
    writeln!(out)?;
    quantities(job, covering).print(out)?;
    let choice = &covering.patch_choice;
    if choice.templates_saved > 0 {
        let share = percent(choice.extra / choice.wanted);
        writeln!(
            out,
            "patches are cut in few sizes: {} fewer, for {} more cloth, {share} of what they would take each in its own size",
            counted(choice.templates_saved, "template", "templates"),
            area(choice.extra, job.units)
        )?;
    }
    Ok(())
}

fn counts(job: &Job, parts: &[CoveredPart]) -> Table {
    let mut table = Table::new(&[
        ("part", Align::Left),
        ("tapes", Align::Right),
        ("length of tape", Align::Right),
        ("on the bias", Align::Right),
        ("patches", Align::Right),
        ("rings", Align::Right),
        ("bays", Align::Right),
        ("drains", Align::Right),
        ("ribs fastened", Align::Right),
    ]);
    for part in parts.iter().filter(|part| !part.faces.is_empty()) {
        let dressed = &part.dressed;
        let sum = |values: &mut dyn Iterator<Item = u32>| values.sum::<u32>().to_string();
        table.line([
            part.name.clone(),
            sum(&mut dressed.tapes.iter().map(|tape| tape.quantity)),
            length_of(dressed.tapes.iter(), job.units),
            length_of(dressed.tapes.iter().filter(|tape| tape.is_bias()), job.units),
            sum(&mut dressed.patches.iter().map(|patch| patch.hands * patch.layers)),
            sum(&mut dressed.rings.iter().map(|ring| ring.hands)),
            sum(&mut part.faces.iter().map(|face| face.hands * face.bays.len() as u32)),
            sum(&mut dressed.drains.iter().map(|drain| drain.hands)),
            sum(&mut dressed.ribs.iter().map(|rib| rib.hands)),
        ]);
    }
    table
}

fn length_of<'t>(tapes: impl Iterator<Item = &'t TapeRun>, units: Units) -> String {
    units.show_long(tapes.map(|tape| tape.length * f64::from(tape.quantity)).sum())
}

/// What all parts use up, each thing once.
fn quantities(job: &Job, covering: &Covering) -> Table {
    let mut table = Table::new(&[("used up", Align::Left), ("how much", Align::Right), ("source", Align::Left)]);
    for quantity in covering.quantities() {
        table.line([quantity.what.clone(), amount(&quantity, job.units), quantity.source]);
    }
    table
}

fn amount(quantity: &Quantity, units: Units) -> String {
    match quantity.unit {
        Unit::Pieces => format!("{:.0}", quantity.amount),
        Unit::Length => units.show_long(quantity.amount),
        Unit::Litres => TakeOffUnit::Litres.amount(quantity.amount, units),
    }
}
