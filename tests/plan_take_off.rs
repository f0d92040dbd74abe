//! What to buy: steps of a shop, areas and masses by hand, spares on lines of their own, the figures beside it.

use std::path::Path;

use clothwright::covering::{Covering, cover};
use clothwright::draw::take_off_table;
use clothwright::job::{self, Goods, Job, Prices, read_text};
use clothwright::nest::Budget;
use clothwright::plan::{
    Purchase, TakeOffLine, TakeOffSection, TakeOffUnit, WorkedLay, lay, pieces_with, purchase, take_off,
};
use clothwright::units::Units;

/// Two panels 1 m × 0.8 m on a roll 1 m wide, and fifteen patches that fit beside them: 2 m are used.
const HAND: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin doors",
  "cloth": [ { "name": "roll", "width": 1000, "mass": 100, "price": 10, "sold_by": "1 m" } ],
  "spares": { "patches": 10, "cloth": 10 },
  "pieces": [
    { "name": "door", "outline": { "rect": [1000, 800] }, "quantity": 2, "grain": "along" },
    { "name": "patch", "outline": { "rect": [100, 100] }, "quantity": 15, "edge": "pinked" } ] }"#;

fn job_of(text: &str) -> Job {
    read_text("job.json", text).unwrap_or_else(|faults| panic!("{faults}")).job
}

fn laid(text: &str) -> (Job, WorkedLay) {
    let job = job_of(text);
    let worked = lay(&job, "job.json", &Budget { seed: 1, effort: 1, time: None }, &()).expect("it can be laid");
    (job, worked)
}

fn line<'l>(lines: &'l [TakeOffLine], section: TakeOffSection, what: &str) -> &'l TakeOffLine {
    let found = lines.iter().find(|line| line.section == section && line.what.contains(what));
    found.unwrap_or_else(|| panic!("no {what} in {lines:#?}"))
}

fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() <= 1e-9 * wanted.abs().max(1.0), "{got} is not {wanted}");
}

#[test]
fn lengths_are_rounded_up_at_the_edge_of_a_step() {
    let bought = |sold_by: &str, length: f64| {
        let job = job_of(&HAND.replace("\"1 m\"", &format!("{sold_by:?}")));
        match purchase(&job.cloth[0], length) {
            Purchase::Buy { length, .. } => length,
            Purchase::OnShelf => panic!("a roll is bought"),
        }
    };
    assert_eq!(bought("1 m", 10_000.0), 10_000.0);
    assert_eq!(bought("1 m", 10_001.0), 11_000.0, "a millimetre over buys another metre");
    // Tenths do not add up in binary: three steps of 0.1 m.
    near(bought("0.1 m", 100.0 + 200.0), 300.0);
    // NIST Special Publication 811 (2008), appendix B.8: 1 yd = 0.9144 m.
    near(bought("1 yd", 9.0 * 914.4), 9.0 * 914.4);
    near(bought("1 yd", 9.0 * 914.4 + 1.0), 10.0 * 914.4);
}

#[test]
fn a_small_job_by_hand() {
    let (_, worked) = laid(HAND);
    let lines = &worked.file.take_off;
    let cloth = line(lines, TakeOffSection::Cloth, "roll");
    assert!((cloth.needed - 2000.0).abs() < 0.01, "{cloth:?}");
    assert_eq!((cloth.buy, cloth.cost), (Some(2000.0), Some(20.0)));
    assert!(cloth.left.is_some_and(|left| left < 0.01));
    // 2 m × 1 m at 100 g/m² are bought.
    near(cloth.mass.expect("a mass"), 200.0);
    // 2 × 1 × 0.8 m² + 15 × 0.01 m² = 1.75 m², so 175 g, and all the money.
    let part = line(lines, TakeOffSection::EachPart, "pieces of the job");
    near(part.needed, 1.75e6);
    near(part.mass.expect("a mass"), 175.0);
    near(part.cost.expect("money"), 20.0);
    // 1.75 ÷ 0.85 = 2.059 m² are 2.059 m of this roll: three metres by the step.
    let thumb = line(lines, TakeOffSection::WithoutPlan, "0.85");
    near(thumb.needed, 1.75e6 / 0.85);
    assert_eq!((thumb.buy, thumb.cost), (Some(3e6), Some(30.0)));
    assert!(lines.iter().all(|line| !line.source.is_empty()), "every line has its source");
}

#[test]
fn spares_stand_on_lines_of_their_own_and_in_no_other_figure() {
    let (_, with) = laid(HAND);
    let (_, without) = laid(&HAND.replace(r#""spares": { "patches": 10, "cloth": 10 },"#, ""));
    let lines = &with.file.take_off;
    // A tenth of 15 patches, rounded up; panels with plain edges have none.
    near(line(lines, TakeOffSection::Spares, "spare patches").needed, 2.0);
    // A tenth of 2 m: the 2 m bought hold none of it, so another metre is bought.
    let cloth = line(lines, TakeOffSection::Spares, "spare roll");
    assert!((cloth.needed - 200.0).abs() < 0.01);
    assert_eq!((cloth.buy, cloth.cost), (Some(1000.0), Some(10.0)));
    let rest = |worked: &WorkedLay| -> Vec<TakeOffLine> {
        let other = |line: &&TakeOffLine| !matches!(line.section, TakeOffSection::Spares | TakeOffSection::Total);
        worked.file.take_off.iter().filter(other).cloned().collect()
    };
    assert_eq!(rest(&with), rest(&without));
    near(line(lines, TakeOffSection::Total, "money").cost.expect("money"), 30.0);
}

#[test]
fn goods_have_the_prices_of_the_job_and_the_sum_says_what_has_none() {
    let (mut job, covering) = dunlin();
    job.prices = Prices(vec![(Goods::Rings, 1.5), (Goods::LacingCord, 0.2), (Goods::Coats, 30.0)]);
    let lines = take_off(&job, &covering, &pieces_with(&job, &covering), None);
    let of = |section, what: &str| line(&lines, section, what);
    let rings = of(TakeOffSection::SmallParts, "inspection rings");
    assert!(rings.needed >= 24.0);
    near(rings.cost.expect("a price"), 1.5 * rings.needed);
    let cord = of(TakeOffSection::SmallParts, "lacing cord");
    near(cord.cost.expect("a price"), 0.2 * cord.needed / 1000.0);
    let dope = of(TakeOffSection::Liquids, "dope");
    near(dope.cost.expect("a price"), 30.0 * dope.needed);
    let money = of(TakeOffSection::Total, "money");
    let sections = [TakeOffSection::Cloth, TakeOffSection::Tape, TakeOffSection::SmallParts, TakeOffSection::Liquids];
    let priced = lines.iter().filter(|line| sections.contains(&line.section) || line.section == TakeOffSection::Spares);
    near(money.cost.expect("money"), priced.filter_map(|line| line.cost).sum());
    assert!(money.rule.contains("for small parts") && money.rule.contains("lines have no price"), "{}", money.rule);
}

#[test]
fn units_of_a_shop_have_the_factors_of_nist() {
    // NIST Special Publication 811 (2008), appendix B.8: 1 yd = 0.9144 m, 1 ft² = 0.092 903 04 m².
    assert_eq!(TakeOffUnit::Length.shown(Units::In), ("yd", 914.4, 3));
    assert_eq!(TakeOffUnit::Length.amount(9144.0, Units::Ft), "10.00 yd");
    assert_eq!(TakeOffUnit::Area.amount(92_903.04, Units::In), "1.00 sq ft");
    assert_eq!(TakeOffUnit::Length.amount(1500.0, Units::Mm), "1.50 m");
}

fn dunlin() -> (Job, Covering) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/dunlin/airframe.json");
    let job = job::read(&path).expect("the example is sound").job;
    let covering = cover(&job).expect("it can be covered");
    (job, covering)
}

#[test]
fn tapes_are_summed_by_kind_and_the_published_allowance_stands_beside() {
    let (job, covering) = dunlin();
    let lines = take_off(&job, &covering, &pieces_with(&job, &covering), None);
    let tapes: f64 = lines.iter().filter(|line| line.section == TakeOffSection::Tape).map(|line| line.needed).sum();
    let runs = covering.parts.iter().flat_map(|part| &part.dressed.tapes);
    near(tapes, runs.map(|run| run.length * f64::from(run.quantity)).sum());
    // Approved covering manual p. 127: 25 + 11 + 9 = 45 yd of 70 in, 73.16 m².
    let published = line(&lines, TakeOffSection::WithoutPlan, "published");
    assert!((published.needed * 1e-6 - 73.16).abs() < 0.005, "{published:?}");
    // Manual pp. 98-115: 200 ft² a US gallon (3.785 411 784 l, NIST SP 811), on the panels as trimmed.
    let panels = covering.parts.iter().flat_map(|part| &part.panels);
    let area: f64 = panels.map(|panel| panel.trimmed.area() * f64::from(panel.plan.quantity)).sum();
    let dope = line(&lines, TakeOffSection::Liquids, "dope").needed;
    assert!((dope - area / 92_903.04 / 200.0 * 3.785_411_784).abs() < 1e-6, "{dope}");
}

#[test]
fn the_areas_of_the_parts_are_those_of_all_pieces() {
    let (job, covering) = dunlin();
    let pieces = pieces_with(&job, &covering);
    let lines = take_off(&job, &covering, &pieces, None);
    let of_parts = lines.iter().filter(|line| line.what.starts_with("cloth: ")).map(|line| line.needed).sum();
    near(of_parts, pieces.iter().map(|piece| piece.cut.area() * f64::from(piece.quantity)).sum());
    assert_eq!(lines.iter().filter(|line| line.what.starts_with("cloth: ")).count(), job.airframe.len());
}

#[test]
fn the_table_for_a_spreadsheet_has_every_line() {
    let (job, worked) = laid(HAND);
    let table = take_off_table(&job, &worked.file.take_off).expect("a table");
    let mut reader = csv::Reader::from_reader(table.as_slice());
    let records: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("records");
    assert_eq!(records.len(), worked.file.take_off.len());
    assert_eq!(
        records[0].iter().take(8).collect::<Vec<_>>(),
        ["cloth", "roll", "m", "2.000", "2.000", "0.000", "", "20.00"]
    );
}
