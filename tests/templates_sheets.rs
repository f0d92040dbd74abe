//! How many sheets of paper templates take, and what is left out.

use clothwright::covering::cover;
use clothwright::draw::{Margins, Paper, PrintSheet, Printed, book};
use clothwright::job::read_text;
use clothwright::plan::{TemplateChoice, templates};

#[test]
fn the_patches_of_the_dunlin_take_few_sheets() {
    let text = include_str!("../examples/dunlin/fuselage.json");
    let job = read_text("fuselage.json", text).expect("a sound job").job;
    // Patches, gussets and doilies: what is neither a panel nor a tape nor a binding.
    let panels = ["side", "belly", "turtledeck", "nose deck", "seat-back deck"];
    let patch = |name: &str| !panels.contains(&name) && !name.contains("tape") && !name.contains("binding");
    let only: Vec<String> = job.pieces.iter().map(|piece| piece.name.clone()).filter(|name| patch(name)).collect();
    assert_eq!(only.len(), 32);
    let choice = TemplateChoice { only, parts: Vec::new() };
    let templates = templates(&job, &cover(&job).expect("nothing to cover"), &choice, false).expect("templates");
    let sheet = PrintSheet::new(Paper::parse("a4").expect("A4"), None, Margins::all(6.0), 10.0).expect("a sheet");
    let book = book(&job, &templates, &sheet, true).expect("a book");
    assert!(book.printed.iter().all(|printed| !matches!(printed, Printed::LeftOut { .. })));

    let area: f64 = templates.iter().map(|template| template.cut.area()).sum();
    let printable = (210.0 - 12.0) * (297.0 - 12.0);
    let most = (1.15 * area / (0.70 * printable)).ceil() as usize;
    let sheets = book.together + book.tiled;
    assert!(sheets <= most, "{sheets} sheets, {most} at most");
}

#[test]
fn what_takes_many_sheets_is_left_out_unless_it_is_asked_for() {
    let text = r#"{ "format": 1, "units": "mm", "name": "Dunlin", "cloth": [ { "name": "roll", "width": 1780 } ],
      "pieces": [
        { "name": "side", "outline": { "polygon": [[0, 0], [3000, 100], [3000, 800], [0, 900]] } },
        { "name": "tape", "outline": { "strip": [560, 75] } },
        { "name": "crescent", "outline": { "path": "M 0 0 A 300 300 0 0 1 400 0 L 380 60 A 260 260 0 0 0 20 60 Z" } } ] }"#;
    let job = read_text("job.json", text).expect("a sound job").job;
    let sheet = PrintSheet::new(Paper::parse("a4").expect("A4"), None, Margins::all(6.0), 10.0).expect("a sheet");
    let of = |choice: &TemplateChoice| templates(&job, &cover(&job).expect("nothing to cover"), choice, false);
    let all = of(&TemplateChoice::default()).expect("templates");
    let some = book(&job, &all, &sheet, false).expect("a book");
    // A rectangle is sooner marked out with a straightedge than glued from several sheets.
    let left_out: Vec<bool> = some.printed.iter().map(|p| matches!(p, Printed::LeftOut { .. })).collect();
    assert_eq!(left_out, [true, true, false]);
    let whole = book(&job, &all, &sheet, true).expect("a book");
    let Printed::LeftOut { sheets } = some.printed[0] else { panic!("left out") };
    let Printed::Tiled { pages: [first, last], grid } = whole.printed[0] else { panic!("on several sheets") };
    assert_eq!(last + 1 - first, sheets);
    assert!(sheets < grid[0] * grid[1], "sheets without a line are not printed: {sheets} of {grid:?}");
}
