//! Drawings that mean no good: small files that would swell, repeat themselves or keep a program busy. Each is refused or
//! read within two seconds, and nothing but the file itself is looked at.

use std::fmt::Write;
use std::time::{Duration, Instant};

use clothwright::shape::drawing::{Drawing, DrawingFault, Pick, Size, Taken, USUAL_JOIN, Wish, limits};

const SOON: Duration = Duration::from_secs(2);
const ALL: Wish = Wish { pick: Pick::All, size: Size::Unit(1.0), join: USUAL_JOIN, hidden: false };

fn taken(name: &str, text: &str) -> Result<Taken, DrawingFault> {
    let begun = Instant::now();
    let answer = Drawing::read(name, text.as_bytes()).and_then(|drawing| drawing.take(&ALL));
    assert!(begun.elapsed() < SOON, "it took {:?}: {}", begun.elapsed(), &text[..text.len().min(200)]);
    answer
}

fn svg(head: &str, body: &str) -> String {
    format!("{head}<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\">{body}</svg>")
}

/// The file is refused in these words.
fn refused(what: &str, name: &str, text: &str, words: &str) {
    match taken(name, text) {
        Ok(taken) => panic!("{what} was taken: {} shapes", taken.shapes.len()),
        Err(fault) => assert!(fault.message.contains(words), "{what}: {fault}"),
    }
}

fn refused_svg(what: &str, head: &str, body: &str, words: &str) {
    refused(what, "a.svg", &svg(head, body), words);
}

/// Groups code and value by code and value.
fn groups(pairs: &[(i32, &str)]) -> String {
    pairs.iter().fold(String::new(), |mut text, (code, value)| {
        writeln!(text, "{code}\n{value}").expect("a text can be written");
        text
    })
}

fn entities(inner: &str) -> String {
    groups(&[(0, "SECTION"), (2, "ENTITIES")]) + inner + &groups(&[(0, "ENDSEC"), (0, "EOF")])
}

/// A block with something in it, and what inserts it.
fn with_blocks(blocks: &[(&str, &str)], inner: &str) -> String {
    let block = |(name, inner): &(&str, &str)| {
        groups(&[(0, "BLOCK"), (8, "0"), (2, name), (70, "0"), (10, "0"), (20, "0")])
            + inner
            + &groups(&[(0, "ENDBLK")])
    };
    let blocks: String = blocks.iter().map(block).collect();
    groups(&[(0, "SECTION"), (2, "BLOCKS")]) + &blocks + &groups(&[(0, "ENDSEC")]) + &entities(inner)
}

fn insert(name: &str, columns: &str, rows: &str) -> String {
    groups(&[(0, "INSERT"), (8, "0"), (2, name), (10, "0"), (20, "0"), (70, columns), (71, rows), (44, "1"), (45, "1")])
}

fn circle() -> String {
    groups(&[(0, "CIRCLE"), (8, "0"), (10, "0"), (20, "0"), (40, "5")])
}

#[test]
fn entities_that_swell() {
    let laughs =
        (1..20).map(|n| format!("<!ENTITY l{n} \"{}\">", format!("&l{};", n - 1).repeat(10))).collect::<String>();
    let laughs = format!("<!DOCTYPE svg [<!ENTITY l0 \"lol\">{laughs}]>");
    refused_svg("entities of entities", &laughs, "<text>&l19;</text>", "would swell");
    let wide = format!("<!DOCTYPE svg [<!ENTITY a \"{}\">]>", "x".repeat(100_000));
    refused_svg("a long entity", &wide, &format!("<text>{}</text>", "&a;".repeat(10_000)), "would swell");
    let hidden = "<!DOCTYPE svg [<!ENTITY z \"]>\"><!ENTITY a \"xxxxxxxxxx\"><!ENTITY b \"&a;&a;&a;\">]>";
    refused_svg("a false end of the declarations", hidden, "<text>&b;</text>", "would swell");
    let markup = "<!DOCTYPE svg [<!ENTITY a \"<g><g><g/></g></g>\">]>";
    refused_svg("an entity of elements", markup, &"&a;".repeat(3_000), "would swell");
    let short = "<!DOCTYPE svg [<!ENTITY a \"xxxxxxxx\">]>";
    refused_svg(
        "an entity used very often",
        short,
        &format!("<text>{}</text>", "&a;".repeat(100_000)),
        "more than 4096 times",
    );
    // Inkscape and Illustrator declare namespaces so; that must stay readable.
    let honest = "<!DOCTYPE svg [<!ENTITY ns_svg \"http://www.w3.org/2000/svg\">]>";
    assert_eq!(
        taken("a.svg", &svg(honest, "<rect width=\"30\" height=\"20\"/>")).expect("a rectangle").shapes.len(),
        1
    );
}

#[test]
fn references_to_the_outside() {
    for system in ["file:///etc/passwd", "http://example.org/a.svg", "other.svg"] {
        let head = format!("<!DOCTYPE svg [<!ENTITY a SYSTEM \"{system}\">]>");
        refused_svg("an entity of another file", &head, "<text>&a;</text>", "nothing outside is read");
    }
    for body in [
        "<use href=\"other.svg#a\"/>",
        "<use xlink:href=\"file:///etc/passwd#a\"/>",
        "<image href=\"file:///etc/passwd\" width=\"9\" height=\"9\"/>",
        "<style>@import url(file:///etc/passwd);</style><image xlink:href=\"http://example.org/a.png\"/>",
    ] {
        let with = format!("{body}<rect width=\"30\" height=\"20\"/>");
        let taken = taken("a.svg", &svg("", &with)).expect("the rectangle");
        assert_eq!((taken.shapes.len(), taken.left_out.len()), (1, 1), "{body}: {:?}", taken.left_out);
    }
    let block = groups(&[
        (0, "BLOCK"),
        (8, "0"),
        (2, "X"),
        (70, "4"),
        (10, "0"),
        (20, "0"),
        (1, "../../secret.dxf"),
        (0, "ENDBLK"),
    ]);
    let text = groups(&[(0, "SECTION"), (2, "BLOCKS")])
        + &block
        + &groups(&[(0, "ENDSEC")])
        + &entities(&(insert("X", "1", "1") + &circle()));
    let taken = taken("a.dxf", &text).expect("the circle");
    assert_eq!(taken.left_out, ["reference to another file ×1 on layer “0”"]);
}

#[test]
fn references_that_multiply() {
    let uses = (1..30).map(|n| format!("<g id=\"g{n}\">{}</g>", format!("<use href=\"#g{}\"/>", n - 1).repeat(10)));
    let uses = uses.collect::<String>() + "<rect id=\"g0\" width=\"1\" height=\"1\"/>";
    refused_svg("ten to the thirtieth", "", &uses, "more than");
    refused_svg("a group in itself", "", "<g id=\"a\"><use href=\"#a\"/><use href=\"#a\"/></g>", "");
    let far = format!("{}<rect id=\"last\" width=\"1\" height=\"1\"/>", "<use href=\"#last\"/>".repeat(90_000));
    refused_svg("very many uses of what stands last", "", &far, "lines");
    let empty = format!("<path id=\"a\" d=\"{}\"/>{}", "M0 0".repeat(1_000_000), "<use href=\"#a\"/>".repeat(90_000));
    refused_svg("very many uses of long data that draw nothing", "", &empty, "MB, repetitions counted");
    let texts = format!("<g id=\"a\">{}</g>{}", "<!---->".repeat(300_000), "<use href=\"#a\"/>".repeat(90_000));
    refused_svg("very many uses of comments", "", &texts, "MB, repetitions counted");
    let styled =
        format!("<g id=\"a\"><style>{}</style></g>{}", "x".repeat(3_000_000), "<use href=\"#a\"/>".repeat(90_000));
    refused_svg("very many uses of a style sheet", "", &styled, "MB, repetitions counted");
}

#[test]
fn elements_without_end() {
    let deep = |open: &str, close: &str| format!("{}{}", open.repeat(90_000), close.repeat(90_000));
    refused_svg("deep groups", "", &deep("<g>", "</g>"), "deep");
    refused_svg("deep groups beside comments", "", &deep("<g><!--</g>-->", "</g>"), "deep");
    refused_svg("very many paths", "", &"<path d=\"M0 0h1v1z\"/>".repeat(300_000), "lines");
    refused_svg("a very long path", "", &format!("<path d=\"{}\"/>", "M0 0h1v1z".repeat(200_000)), "lines");
    let attributes: String = (0..400_000).map(|n| format!(" a{n}=\"\"")).collect();
    refused_svg("very many attributes", "", &format!("<rect{attributes}/>"), "more than 200 attributes");
    let wide: String = (0..190).map(|n| format!(" a{n}=\"\"")).collect();
    refused_svg("many attributes, many times", "", &format!("<rect{wide}/>").repeat(4_500), "no lines");
    let spaces: String = (0..100_000).map(|n| format!(" xmlns:a{n}=\"b\"")).collect();
    refused_svg("very many namespaces", "", &format!("<g{spaces}/>"), "more than 1000 namespaces");
    let classes = format!("<g id=\"{}\" class=\"{}\">", "i".repeat(1_000_000), "c ".repeat(1_000_000));
    let named = format!("{classes}{}</g>", "<path d=\"M0 0h1v1z\"/>".repeat(15_000));
    assert_eq!(taken("a.svg", &svg("", &named)).expect("one piece, drawn very often").shapes.len(), 1);
    refused("a very long line of nothing", "a.svg", &" ".repeat(9_000_000), "more than 8 MB");
}

#[test]
fn numbers_that_are_none() {
    for body in [
        "<path d=\"M0 0h1e400v1z\"/>",
        "<rect width=\"1e400\" height=\"1\"/>",
        "<g transform=\"scale(1e300)\"><rect width=\"1e300\" height=\"1\"/></g>",
        "<g transform=\"scale(nan)\"><rect width=\"1\" height=\"1\"/></g>",
    ] {
        let answer = taken("a.svg", &svg("", body));
        assert!(answer.as_ref().map_or(true, |taken| taken.shapes.is_empty()), "{body}: {answer:?}");
    }
    for number in ["nan", "1e999", "-1e999", "1e300", "x", ""] {
        let text = entities(&groups(&[(0, "CIRCLE"), (8, "0"), (10, number), (20, "0"), (40, "5")]));
        assert!(taken("a.dxf", &text).map_or(true, |taken| taken.shapes.is_empty()), "{number}");
    }
}

#[test]
fn insertions_that_multiply() {
    for (columns, rows) in [("32767", "32767"), ("-1", "-1"), ("32767", "1"), ("999999999", "999999999")] {
        for inner in [circle(), String::new()] {
            let text = with_blocks(&[("A", &inner)], &insert("A", columns, rows));
            let answer = taken("a.dxf", &text);
            assert!(answer.as_ref().map_or(true, |taken| taken.shapes.len() <= 1), "{columns} by {rows}: {answer:?}");
        }
    }
    let itself = with_blocks(&[("A", &(insert("A", "1", "1") + &circle()))], &insert("A", "1", "1"));
    refused("a block in itself", "a.dxf", &itself, "deep");
    let pair = with_blocks(&[("A", &insert("B", "9", "9")), ("B", &insert("A", "9", "9"))], &insert("A", "1", "1"));
    refused("two blocks in each other", "a.dxf", &pair, "");
    let names: Vec<String> = (0..31).map(|n| format!("B{n}")).collect();
    let bodies: Vec<String> =
        (0..31).map(|n| if n == 0 { circle() } else { insert(&names[n - 1], "1", "1").repeat(10) }).collect();
    let blocks: Vec<(&str, &str)> =
        names.iter().zip(&bodies).map(|(name, body)| (name.as_str(), body.as_str())).collect();
    refused("ten to the thirtieth", "a.dxf", &with_blocks(&blocks, &insert("B30", "1", "1")), "more than");
    let nothing = groups(&[(0, "LWPOLYLINE"), (8, "0"), (90, "100000"), (70, "1")])
        + &groups(&[(10, "1"), (20, "1")]).repeat(100_000);
    let text = with_blocks(&[("A", &nothing)], &insert("A", "300", "300"));
    refused("a hundred thousand points in one place, ninety thousand times", "a.dxf", &text, "entities");
}

#[test]
fn entities_as_large_as_files() {
    let knots = groups(&[(40, "0")]).repeat(3)
        + &(0..60_000).fold(String::new(), |text, n| text + &groups(&[(40, &n.to_string())]));
    let points: String =
        (0..59_999).map(|n| groups(&[(10, &(n % 977).to_string()), (20, &(n % 613).to_string()), (41, "2")])).collect();
    let spline =
        groups(&[(0, "SPLINE"), (8, "0"), (70, "4"), (71, "3"), (72, "60003"), (73, "59999")]) + &knots + &points;
    assert!(taken("a.dxf", &entities(&spline)).is_err() || limits::STRETCHES > 0);
    let text =
        groups(&[(0, "MTEXT"), (8, "0"), (10, "0"), (20, "0")]) + &groups(&[(3, &"x".repeat(250))]).repeat(10_000);
    let block = with_blocks(&[("A", &text)], &(insert("A", "300", "300") + &circle()));
    taken("a.dxf", &block)
        .map_or_else(|fault| assert!(fault.message.contains("entities")), |taken| assert_eq!(taken.shapes.len(), 1));
    let layers: String =
        (0..60_000).map(|n| groups(&[(0, "LAYER"), (2, &format!("off {n}")), (70, "1"), (62, "-7")])).collect();
    let table = groups(&[(0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LAYER")])
        + &layers
        + &groups(&[(0, "ENDTAB"), (0, "ENDSEC")]);
    taken("a.dxf", &(table + &entities(&circle()))).expect("the circle");
    for note in [groups(&[(102, "{A")]), groups(&[(1001, "A"), (1002, "{")])] {
        let noted = entities(&(circle() + &note.repeat(300_000)));
        taken("a.dxf", &noted).expect("the circle, whatever other programs note beside it");
    }
    refused(
        "entities without end",
        "a.dxf",
        &entities(&groups(&[(0, "LINE")]).repeat(900_000)),
        "entities and vertices",
    );
    let unknown = entities(
        &(groups(&[(0, "HATCH"), (8, "FILLS"), (10, "x")]) + &circle() + &groups(&[(0, "WHATEVER"), (8, "0")])),
    );
    assert_eq!(
        taken("a.dxf", &unknown).expect("the circle").left_out,
        ["HATCH ×1 on layer “FILLS”", "WHATEVER ×1 on layer “0”"]
    );
    refused(
        "a word for a number",
        "a.dxf",
        &entities(&(circle() + &groups(&[(0, "CIRCLE"), (40, "thirty")]))),
        "line 18: “thirty”",
    );
    refused("sections without end", "a.dxf", &"0\nSECTION\n".repeat(100_000), "");
    refused("no DXF", "a.dxf", &"lorem\n".repeat(100_000), "");
    refused("binary", "a.dxf", "AutoCAD Binary DXF\r\n\u{1a}\0", "binary");
    refused("neither of the two", "a.txt", "x", "ends in .svg or .dxf");
}

#[test]
fn lines_over_each_other() {
    let star: String = (0..15_000).fold(String::new(), |text, n| text + &format!("M0 0L{} {}", 50 + n % 100, n));
    refused_svg("a star of fifteen thousand rays", "", &format!("<path d=\"{star}\"/>"), "end near");
    let wiggle = |n: usize| format!("<path d=\"M0 0L100 {}L50 {}L0 100L100 100\"/>", n % 97, n % 89);
    refused_svg("very many lines in one box", "", &(0..19_000).map(wiggle).collect::<String>(), "");
    let rings: String = (1..900).fold(String::new(), |text, n| text + &format!("<circle r=\"{n}\"/>"));
    assert!(taken("a.svg", &svg("", &rings)).is_ok(), "rings in rings");
    let namesakes: String =
        (0..900).fold(String::new(), |text, n| text + &format!("<circle id=\"a\" cx=\"{}\" r=\"2\"/>", 9 * n));
    assert_eq!(taken("a.svg", &svg("", &namesakes)).expect("shapes of one name").shapes[899].name, "a 900");
    let comb: String =
        (0..45_000).fold("M0 0".to_owned(), |text, n| text + &format!("L{n} {}", 100 + n + 50 * (n % 2)));
    let _ = taken("a.svg", &svg("", &format!("<path d=\"{comb}L45000 0Z\"/>")));
    let huge = "C900000 0 900000 900000 0 900000S-900000 1 1 1".repeat(5_000);
    let answer = taken("a.svg", &svg("", &format!("<path d=\"M0 0{huge}Z\"/>"))).expect("an answer");
    assert!(answer.shapes.is_empty() && answer.refused[0].1.to_string().contains("corners"), "{:?}", answer.refused);
}

/// Names come out as somebody can read them: a terminal takes no orders from a drawing.
#[test]
fn names_that_are_orders_to_a_terminal() {
    // As it is, and as a DXF writes it (DXF reference, control characters in strings).
    for escape in ["\u{1b}[2J", "^[[2J"] {
        let layer = format!("NO{escape}TES");
        let unread = groups(&[(0, &format!("WHAT{escape}EVER")), (8, &layer)]);
        let named =
            with_blocks(&[(&format!("A{escape}B"), &circle())], &(insert(&format!("A{escape}B"), "1", "1") + &unread));
        let nothing = insert(&format!("NO{escape}NE"), "1", "1") + &groups(&[(0, &"LONG".repeat(50)), (8, "0")]);
        for text in [named, entities(&(circle() + &nothing))] {
            let taken = taken("a.dxf", &text).expect("the circle");
            let names = taken.shapes.iter().map(|shape| shape.name.clone()).chain(taken.left_out.iter().cloned());
            let names: Vec<String> = names.collect();
            assert!(!names.iter().any(|name| name.contains(|c: char| c.is_control())), "{names:?}");
            assert!(names.iter().all(|name| name.chars().count() <= 110), "{names:?}");
        }
    }
}

/// Long lines that lie over each other but for one corner: each two of them take millions of comparisons.
#[test]
fn long_lines_over_each_other() {
    let line = |number: usize| {
        let corners = (0..2_000).fold("M0 0".to_owned(), |text, n| {
            let lift = if n == 1_000 { number * 3 } else { 0 };
            text + &format!("L{} {}", n + 1, 700 * (n % 2) + lift)
        });
        format!("<path d=\"{corners}\"/>")
    };
    refused_svg(
        "long lines, nearly alike",
        "",
        &(0..50).map(line).collect::<String>(),
        "very many lines lie over each other",
    );
}
