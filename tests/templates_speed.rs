//! Many templates are quick to print: nobody waits long for paper.

use std::time::{Duration, Instant};

use clothwright::covering::cover;
use clothwright::draw::{Margins, Paper, PrintSheet, book};
use clothwright::job::read_text;
use clothwright::plan::{TemplateChoice, templates};

/// What 300 templates on A4 may take: five seconds as released. As built for tests the program is some times slower, and
/// the other tests run beside this one.
const MOST: Duration = Duration::from_secs(if cfg!(debug_assertions) { 60 } else { 5 });

#[test]
fn three_hundred_templates_are_laid_and_drawn_in_time() {
    let piece = |index: usize| {
        let size = 40 + index % 150;
        format!(
            r#"{{ "name": "patch {index}", "edge": "pinked",
                "outline": {{ "polygon": [[0, 0], [{}, 3], [{}, {}], [10, {}]] }} }}"#,
            size + index,
            size,
            30 + index / 3,
            50 + index % 7
        )
    };
    let pieces: Vec<String> = (0..300).map(piece).collect();
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "name": "Dunlin patches", "cloth": [ {{ "name": "roll", "width": 1780 }} ],
            "pieces": [ {} ] }}"#,
        pieces.join(", ")
    );
    let job = read_text("job.json", &text).expect("the test's own job is sound").job;
    let sheet = PrintSheet::new(Paper::parse("a4").expect("A4"), None, Margins::all(6.0), 10.0).expect("a sheet");
    let begun = Instant::now();
    let made = templates(&job, &cover(&job).expect("nothing to cover"), &TemplateChoice::default(), false);
    let made = made.expect("templates");
    let book = book(&job, &made, &sheet, true).expect("a book");
    let taken = begun.elapsed();
    assert_eq!((made.len(), book.printed.len()), (300, 300));
    assert!(taken < MOST, "{taken:?}");
}
