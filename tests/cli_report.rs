//! `report.html` has all of a job on one page that needs nothing else, whatever things are called.

#[path = "support/run.rs"]
mod run;

use std::collections::BTreeSet;
use std::sync::OnceLock;

use run::{Bench, SMALL};

/// Lays a job and gives its report.
fn report(bench: &Bench) -> String {
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    bench.read("out/report.html")
}

/// The report of a tail, laid once for all tests.
fn rudder() -> &'static str {
    static PAGE: OnceLock<String> = OnceLock::new();
    PAGE.get_or_init(|| report(&Bench::with(RUDDER)))
}

/// The values of an attribute, in the order of the page.
fn values<'p>(page: &'p str, attribute: &str) -> Vec<&'p str> {
    let open = format!(" {attribute}=\"");
    page.split(&open).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

/// A rudder with tapes, patches, rings, drains and laces, so that every chapter but the comparison has something to say.
const RUDDER: &str = include_str!("../examples/dunlin/tail.json");

#[test]
fn every_link_leads_somewhere_and_no_id_is_there_twice() {
    let page = rudder();
    let ids = values(page, "id");
    let known: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), known.len(), "an id is there twice");
    let targets: Vec<&str> = values(page, "href").into_iter().filter_map(|link| link.strip_prefix('#')).collect();
    assert!(targets.len() > 20);
    for target in targets.into_iter().chain(values(page, "aria-labelledby")).chain(values(page, "data-piece")) {
        assert!(known.contains(target), "nothing has the id {target}");
    }
}

#[test]
fn nothing_is_asked_of_a_network_and_nothing_hangs_on_another_file() {
    let page = rudder();
    for outside in ["http:", "https:", "src=", "@import", "<link", "url("] {
        // Fills of the sheets name their own patterns, which the page does without.
        let found = page.match_indices(outside).filter(|(at, _)| !page[*at..].starts_with("url(#"));
        assert_eq!(found.count(), 0, "{outside}");
    }
    assert!(page.contains("default-src 'none'"));
}

#[test]
fn every_piece_has_its_line_in_the_cut_list_and_its_place_in_the_drawing() {
    let bench = Bench::with(SMALL);
    let page = report(&bench);
    assert_eq!(page.matches("type=\"checkbox\"").count(), 7);
    assert_eq!(page.matches("class=\"piece\"").count(), 7);
    for name in ["doily 3 is cut", "gusset, upper 4 is cut", "=rudder post"] {
        assert!(page.contains(name), "{name}");
    }
    // The same order as the table for a spreadsheet has.
    let table = bench.read("out/cut-list.csv");
    let mut table = csv::Reader::from_reader(table.as_bytes());
    let cut = table.headers().expect("a head").iter().position(|head| head == "cut").expect("the order of cutting");
    let mut steps: Vec<(usize, String)> = table
        .records()
        .map(|line| line.expect("a line"))
        .map(|line| (line[cut].parse().expect("a step"), line[0].to_owned()))
        .collect();
    steps.sort_unstable();
    let shown: Vec<&str> =
        page.split("<td class=\"num\">").skip(1).step_by(2).filter_map(|rest| rest.split('<').next()).collect();
    assert_eq!(steps.into_iter().map(|(_, number)| number).collect::<Vec<_>>(), shown);
}

#[test]
fn the_first_page_says_what_it_is_and_what_to_buy() {
    let page = report(&Bench::with(SMALL));
    let (first, _) = page.split_once("<section id=\"lays\"").expect("a chapter of lays");
    assert!(first.contains("a planning aid and not approved data"));
    assert!(first.contains("national rules and a licensed inspector decide"));
    assert!(first.contains("roll 1"));
    // What it takes is rounded up to half a metre, at 12.00 a metre.
    assert!(first.contains("<td class=\"fig\">0.50</td><td>m</td><td class=\"fig\">6.00</td>"), "{first}");
    for word in ["inspector", "Form 337", "14 CFR 43", "balance", "AC 2-5f"] {
        assert!(page.contains(word), "{word}");
    }
}

#[test]
fn chapters_are_there_only_where_they_have_something_to_say() {
    let small = report(&Bench::with(SMALL));
    let rudder = rudder();
    for chapter in ["lays", "cutting", "templates", "take-off", "heat"] {
        let open = format!("<section id=\"{chapter}\"");
        assert!(small.contains(&open) && rudder.contains(&open), "{chapter}");
    }
    for chapter in ["maps", "rules"] {
        let open = format!("<section id=\"{chapter}\"");
        assert!(!small.contains(&open) && rudder.contains(&open), "{chapter}");
    }
    assert!(!small.contains("id=\"comparison\"") && !rudder.contains("id=\"comparison\""));
    // The contents name what is there, in its order.
    let chapters: Vec<&str> = values(rudder, "href").into_iter().take(7).collect();
    assert_eq!(&chapters[..4], ["#plan", "#lays", "#maps", "#cutting"]);
}

#[test]
fn no_name_breaks_out_of_the_page() {
    let evil = "</style><script>alert(1)</script>\\\"'&<b>";
    let json = serde_json::to_string(evil).expect("a text");
    let job =
        SMALL.replace("\"Dunlin rudder\"", &json).replace("\"gusset, upper\"", &json).replace("\"roll 1\"", &json);
    let page = report(&Bench::with(&job));
    assert_eq!(page.matches("<script>").count(), 1);
    assert_eq!(page.matches("</style>").count(), 1);
    assert_eq!(page.matches("<b>").count(), 0);
    assert!(page.contains("alert(1)"), "it is shown as it is called");
}

#[test]
fn the_same_job_gives_the_same_bytes_and_another_lay_has_other_ticks() {
    let [one, two] = [Bench::with(SMALL), Bench::with(SMALL)];
    assert_eq!(report(&one), report(&two));
    let other = Bench::with(&SMALL.replace("\"gap\": 2", "\"gap\": 3"));
    assert_ne!(values(&report(&one), "data-ticks"), values(&report(&other), "data-ticks"));
}

#[test]
fn a_comparison_is_shown_where_it_is_of_this_job_and_else_told_of() {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["compare", "job.json", "--out", "out", "--widths", "600mm,700mm", "--seeds", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    let page = report(&bench);
    let chapter = page.split("<section id=\"comparison\"").nth(1).expect("a chapter of the comparison");
    assert!(chapter.contains("600 mm wide") && chapter.contains("700 mm wide"));
    assert!(chapter.contains("if the job has changed since, compare anew"));
    let other = bench.read("out/compare.json").replace("Dunlin rudder", "Dunlin fin");
    std::fs::write(bench.path("out/compare.json"), other).expect("written");
    assert!(report(&bench).contains("made for another job, “Dunlin fin”"));
    std::fs::write(bench.path("out/compare.json"), "[]").expect("written");
    assert!(report(&bench).contains("it is not one that this program wrote"));
}

#[test]
fn a_lay_of_the_rest_has_a_report_of_the_rest() {
    let bench = Bench::with(SMALL);
    report(&bench);
    for arguments in [vec!["lay", "out/lay.json"], vec!["cut", "doily"]] {
        let ran = bench.run(&[&["log", "job.json"], arguments.as_slice()].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.messages);
    }
    let ran = bench.run(&["lay", "job.json", "--rest", "--out", "rest", "--effort", "1"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    let page = bench.read("rest/report.html");
    assert!(page.contains("a lay of the rest, as the log stood after 2 lines"));
    assert_eq!(page.matches("type=\"checkbox\"").count(), 4, "four gussets are left");
}

#[test]
fn pieces_without_a_place_stand_on_the_first_page() {
    let job = SMALL.replace("\"price\": 12, \"sold_by\": 500, ", "\"length\": 200, ");
    let bench = Bench::with(&job);
    let ran = bench.run(&["lay", "job.json", "--out", "out", "--effort", "1"]);
    assert_eq!(ran.code, Some(3), "{}", ran.messages);
    let page = bench.read("out/report.html");
    let (first, _) = page.split_once("<section id=\"lays\"").expect("a chapter of lays");
    assert!(first.contains("Not everything is laid."), "{first}");
}

#[test]
fn a_comparison_that_is_far_too_large_is_not_read() {
    let bench = Bench::with(SMALL);
    std::fs::create_dir(bench.path("out")).expect("a folder");
    std::fs::write(bench.path("out/compare.json"), " ".repeat(17 * 1024 * 1024)).expect("written");
    assert!(report(&bench).contains("A compare.json lies in this folder, but it has more than 16 MB"));
}
