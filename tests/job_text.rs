//! How faults look to the person: each with its line, carets below what is meant, and what would be right.

use clothwright::job;
use proptest::prelude::*;

#[test]
fn a_fault_shows_its_line_and_what_would_be_right() {
    let text = "{ \"format\": 1, \"units\": \"mm\",\n  \"cloth\":  [ { \"name\": \"roll\", \"width\": 1780 } ],\n  \
                \"pieces\": [ { \"name\": \"doily\", \"outline\": { \"circle\": -165 } } ] }\n";
    let faults = job::read_text("tail.json", text).unwrap_err();
    assert_eq!(
        faults.to_string(),
        r#"tail.json:3:57: pieces[0].outline.circle: a diameter must be greater than 0, this is -165
   3 |   "pieces": [ { "name": "doily", "outline": { "circle": -165 } } ] }
     |                                                         ^^^^
     = write the diameter of the finished circle, for example "165 mm" or "6-1/2 in"
"#
    );
}

#[test]
fn a_name_used_twice_shows_both_lines() {
    let text = r#"{ "format": 1, "units": "mm", "cloth": [
{ "name": "roll", "width": 1780 },
{ "name": "roll", "width": 1600 } ],
"pieces": [ { "name": "doily", "outline": { "circle": 165 } } ] }"#;
    let faults = job::read_text("x.json", text).unwrap_err();
    let also = faults.faults[0].also.as_ref().unwrap();
    assert_eq!((faults.faults[0].line, also.line, also.column), (3, 2, 11));
    assert!(faults.to_string().contains("     = line 2, column 11: the first one of that name\n"), "{faults}");
}

#[test]
fn all_faults_of_a_file_come_at_once_and_in_its_order() {
    let text = r#"{ "format": 2, "units": "parsec", "gap": -1,
  "cloth": [ { "name": "", "width": 0, "selvage": [1], "count": 0, "mass": -1, "faces_alike": 1 } ],
  "pieces": [ { "name": "a", "outline": { "circle": "x" }, "quantity": 0, "grain": "sideways", "edge": "torn" },
              { "name": "a", "outline": { "rect": [1] }, "allowance": -1, "join": "welded", "cloth": [] } ] }"#;
    let faults = job::read_text("x.json", text).unwrap_err();
    let paths: Vec<_> = faults.faults.iter().map(|fault| fault.path.as_str()).collect();
    assert_eq!(
        paths,
        [
            "format",
            "units",
            "gap",
            "cloth[0].name",
            "cloth[0].width",
            "cloth[0].selvage",
            "cloth[0].count",
            "cloth[0].mass",
            "cloth[0].faces_alike",
            "pieces[0].outline.circle",
            "pieces[0].quantity",
            "pieces[0].grain",
            "pieces[0].edge",
            "pieces[1].name",
            "pieces[1].outline.rect",
            "pieces[1].allowance",
            "pieces[1].join",
            "pieces[1].cloth",
        ]
    );
    assert_eq!(faults.more, 0);
}

#[test]
fn one_slip_is_one_fault() {
    // A cloth that cannot be read is still known by its name, and says nothing about the size of pieces.
    let text = r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": -1 } ],
      "pieces": [ { "name": "panel", "outline": { "rect": [9000, 9000] }, "cloth": "roll" } ] }"#;
    assert_eq!(job::read_text("x.json", text).unwrap_err().faults.len(), 1);
    // Nor does a job whose units are unknown.
    let text = text.replace("-1", "1780").replace("\"mm\"", "\"m m\"");
    assert_eq!(job::read_text("x.json", &text).unwrap_err().faults.len(), 1);
}

#[test]
fn the_line_of_a_file_without_line_breaks_is_cut() {
    let pieces: Vec<_> = (0..500).map(|n| format!(r#"{{"name":"p{n}","outline":{{"circle":{}}}}}"#, 300 - n)).collect();
    let text = format!(
        r#"{{"format":1,"units":"mm","cloth":[{{"name":"roll","width":1780}}],"pieces":[{}]}}"#,
        pieces.join(",")
    );
    let faults = job::read_text("x.json", &text).unwrap_err();
    assert_eq!(faults.faults[0].path, "pieces[300].outline.circle");
    let shown = faults.to_string();
    assert!(shown.lines().all(|line| line.chars().count() < 140), "{shown}");
    let lines: Vec<_> = shown.lines().collect();
    let caret = lines[2].find('^').unwrap();
    assert_eq!(lines[1].chars().nth(caret), Some('0'), "{shown}");
}

#[test]
fn what_the_person_wrote_cannot_steer_the_terminal_or_flood_it() {
    let text = format!(
        r#"{{ "format": 1, "units": "\u001b[2J", "\u001b[31m": 1, "{}": 2, "name": "\u001b]0;x",
             "cloth": [{{ "name": "roll", "width": "{}" }}],
             "pieces": [{{ "name": "p", "outline": {{ "path": "M 0 0 \u001b" }} }}, {{ "name": "q", "outline": {{ "polygon": [
               [0, 0], [1,
                 0], [1, 0]] }} }}] }}"#,
        "x".repeat(5000),
        "9 ".repeat(5000)
    );
    let shown = job::read_text("x.json", &text).unwrap_err().to_string();
    assert!(shown.chars().all(|c| c == '\n' || !c.is_control()), "{shown:?}");
    assert!(shown.lines().all(|line| line.chars().count() < 300), "{shown}");
    assert!(shown.contains("the same as the one before it, [1, 0]"), "{shown}");
}

const GOOD: &str = include_str!("../fixtures/good/every-key.json");

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_damage_to_a_file_makes_it_panic(cuts in prop::collection::vec((0..GOOD.len(), any::<u8>()), 1..6)) {
        let mut bytes = GOOD.as_bytes().to_vec();
        for (at, byte) in cuts {
            bytes[at] = byte;
        }
        if let Err(faults) = job::read_text("x.json", &String::from_utf8_lossy(&bytes)) {
            prop_assert!(!faults.faults.is_empty());
            prop_assert!(!faults.to_string().is_empty());
        }
    }

    #[test]
    fn no_truncated_or_doubled_file_makes_it_panic(from in 0..GOOD.len(), to in 0..GOOD.len()) {
        let text = format!("{}{}", &GOOD[..from], &GOOD[to..]);
        let _ = job::read_text("x.json", &text).map_err(|faults| faults.to_string());
    }

    #[test]
    fn no_swap_of_values_makes_it_panic(at in 0..200_usize, with in 0..12_usize) {
        const VALUES: [&str; 12] =
            ["null", "true", "-1", "0", "1e300", "1e999", "\"\"", "[]", "{}", "[[],[]]", "\"5 ft\"", "[1, 2]"];
        // Every value of the file begins after a colon.
        let colons: Vec<_> = GOOD.match_indices(": ").map(|(at, _)| at + 2).collect();
        let start = colons[at % colons.len()];
        let end = start + GOOD[start..].find([',', '\n', '}']).unwrap();
        let text = format!("{}{}{}", &GOOD[..start], VALUES[with], &GOOD[end..]);
        let _ = job::read_text("x.json", &text).map_err(|faults| faults.to_string());
    }

    #[test]
    fn no_text_makes_it_panic(text in "\\PC{0,60}") {
        prop_assert!(job::read_text("x.json", &text).is_err());
    }

    #[test]
    fn deep_nesting_does_not_exhaust_the_stack(depth in 1..100_000_usize, brackets in 0..3_usize) {
        let open = ["[", "{\"a\":", "{\"a\":["][brackets];
        let faults = job::read_text("x.json", &open.repeat(depth)).unwrap_err();
        prop_assert_eq!(faults.faults.len(), 1);
    }
}

#[test]
fn a_slip_made_three_hundred_times_does_not_hide_the_others() {
    let slips: Vec<String> =
        (0..300).map(|n| format!(r#"{{ "name": "p{n}", "outline": {{ "circle": -{} }} }}"#, n + 1)).collect();
    let text = format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [ {{ "name": "roll", "width": 1780 }} ],
             "pieces": [ {}, {{ "name": "last", "outline": {{ "circle": 50 }}, "quantity": 0 }} ] }}"#,
        slips.join(", ")
    );
    let faults = job::read_text("job.json", &text).expect_err("301 faults");
    assert_eq!(faults.faults.len(), job::limits::FAULTS_OF_A_KIND + 1);
    assert_eq!(faults.count(), 301);
    assert!(faults.to_string().contains("and 290 more of this kind"), "{faults}");
    assert!(faults.faults.last().is_some_and(|last| last.path.ends_with("quantity")), "{faults}");
}
