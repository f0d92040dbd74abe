//! What the program draws, it reads back as the same pieces, to a hundredth of a millimetre: templates as SVG and DXF, and
//! the sheet of a lay.

use std::path::Path;

use clothwright::covering::cover;
use clothwright::draw::{LaySheet, lay_sheet, template_dxf, template_svg, trace_sheet};
use clothwright::job::{Job, read, read_text};
use clothwright::nest::Budget;
use clothwright::plan::{self, LineKind, Template, TemplateChoice, templates};
use clothwright::shape::drawing::{Drawing, Pick, Size, Taken, USUAL_JOIN, Wish};
use clothwright::shape::{Curve, TOLERANCE};
use clothwright::units::Units;
use geo_types::Coord;

/// How finely curves are compared, in millimetres.
const FINE: f64 = 0.0005;

/// Every kind of outline, plain, pinked and with allowance; sizes that no thousandth of a millimetre divides.
const KINDS: &str = r#"{ "format": 1, "units": "mm", "name": "round trip", "cloth": [ { "name": "roll", "width": 7000 } ],
  "pieces": [
    { "name": "circle", "outline": { "circle": 163.3337 } },
    { "name": "ring", "outline": { "ring": [151.7773, 90.1119] } },
    { "name": "pinked ring", "outline": { "ring": [151.7773, 90.1119] }, "edge": "pinked" },
    { "name": "strip", "outline": { "strip": [1000, 33.3333] } },
    { "name": "frame", "outline": { "polygon": [[0, 0], [300.123, 10.456], [290.789, 200.321], [5, 180]], "holes": [[[50, 50], [100, 60], [70, 120]], [[150, 50], [200, 50], [200, 99.999], [150, 100]]] } },
    { "name": "tab", "outline": { "path": "M 10 5 H 210 A 50.4321 50.4321 0 0 1 210 105.8642 H 10 Z" } },
    { "name": "three quarters", "outline": { "path": "M 77.77 0 A 77.77 77.77 0 1 1 0 -77.77 L 0 0 Z" } },
    { "name": "wave", "outline": { "path": "M 0 0 C 60 -40 120 40 180 0 L 180 90 Q 90 130 0 90 Z" } },
    { "name": "bow", "outline": { "path": "M 0 0 A 3000 900 20 0 1 5500 1200 L 0 1200 Z" } },
    { "name": "small ellipse", "outline": { "path": "M 0 0 A 40 25 15 0 1 70 10 A 40 25 15 0 1 0 0 Z" } },
    { "name": "shallow", "outline": { "path": "M 0 0 A 90000 90000 0 0 1 2000 0 V 50 H 0 Z" } },
    { "name": "lapped", "outline": { "path": "M 0 0 H 200 A 50 50 0 0 1 200 100 H 0 Z" }, "allowance": 25.5 },
    { "name": "lapped disc", "outline": { "circle": 123.4567 }, "allowance": 12.3456 } ] }"#;

fn wish(layers: &[&str]) -> Wish {
    let layers = layers.iter().map(|layer| (*layer).to_owned()).collect();
    Wish { pick: Pick::Layers(layers), size: Size::AsDrawn, join: USUAL_JOIN, hidden: false }
}

fn read_back(name: &str, text: &str, layers: &[&str]) -> Taken {
    let taken = Drawing::read(name, text.as_bytes()).and_then(|drawing| drawing.take(&wish(layers)));
    let taken = taken.unwrap_or_else(|fault| panic!("{name}: {fault}"));
    assert!(taken.refused.is_empty(), "{name}: {:?}", taken.refused);
    taken
}

type Ring = Vec<Coord<f64>>;

/// The rings, the lower left corner of the first at the origin.
fn placed(mut rings: Vec<Ring>) -> Vec<Ring> {
    let least = |axis: fn(&Coord<f64>) -> f64| rings[0].iter().map(axis).fold(f64::INFINITY, f64::min);
    let low = Coord { x: least(|at| at.x), y: least(|at| at.y) };
    rings.iter_mut().flatten().for_each(|point| *point = *point - low);
    rings
}

fn of_curve(curve: &Curve) -> Vec<Ring> {
    placed(curve.paths().iter().map(|path| path.points(FINE)).collect())
}

fn of_template(template: &Template) -> Vec<Ring> {
    let of = |kind: LineKind| template.lines.iter().filter(move |line| line.kind == kind);
    let lines = of(LineKind::Cut).chain(of(LineKind::CutAfterShrinking));
    placed(lines.map(|line| line.path.points(FINE)).collect())
}

/// The greatest distance from a point of one ring to the other ring.
fn farthest(one: &Ring, other: &Ring) -> f64 {
    let closed = |ring: &Ring| {
        let mut ring = ring.clone();
        ring.push(ring[0]);
        ring
    };
    let (one, other) = (closed(one), closed(other));
    one.iter()
        .map(|point| other.windows(2).map(|edge| off(*point, edge)).fold(f64::INFINITY, f64::min))
        .fold(0.0, f64::max)
}

fn off(point: Coord<f64>, edge: &[Coord<f64>]) -> f64 {
    let (along, to) = (edge[1] - edge[0], point - edge[0]);
    let long = along.x * along.x + along.y * along.y;
    let share = if long > 0.0 { ((to.x * along.x + to.y * along.y) / long).clamp(0.0, 1.0) } else { 0.0 };
    let gap = to - along * share;
    gap.x.hypot(gap.y)
}

/// Both have as many rings, and each ring of one lies on one of the other.
fn same(name: &str, one: &[Ring], other: &[Ring]) {
    assert_eq!(one.len(), other.len(), "{name}: rings");
    for ring in one {
        let apart = |there: &Ring| farthest(ring, there).max(farthest(there, ring));
        let best = other.iter().map(apart).fold(f64::INFINITY, f64::min);
        assert!(best <= TOLERANCE, "{name}: a ring is {best} mm off");
    }
}

fn all_templates(job: &Job) -> Vec<Template> {
    templates(job, &cover(job).expect("it can be covered"), &TemplateChoice::default(), false).expect("templates")
}

fn templates_come_back(job: &Job, count: usize) {
    let templates = all_templates(job);
    assert!(templates.len() >= count, "{} templates", templates.len());
    for template in &templates {
        for (name, text, layers) in [
            ("a.svg", template_svg(job, template), ["cut-line", "cut-after-shrinking"]),
            ("a.dxf", template_dxf(job, template), ["CUT_LINE", "CUT_AFTER_SHRINKING"]),
        ] {
            let whole = of_template(template);
            let layers = if whole.len() > 1 { &layers[..] } else { &layers[..1] };
            let taken = read_back(name, &text, layers);
            let what = format!("{} as {name}", template.name());
            let [shape] = &taken.shapes[..] else { panic!("{what}: {} shapes", taken.shapes.len()) };
            same(&what, &whole, &of_curve(&shape.curve));
        }
    }
}

#[test]
fn templates_of_every_kind_of_piece() {
    let job = read_text("job.json", KINDS).expect("the test's own job is sound").job;
    templates_come_back(&job, 13);
}

#[test]
fn templates_of_panels() {
    for (file, count) in [("examples/dunlin/tail.json", 5), ("examples/dunlin/repair.json", 1)] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
        templates_come_back(&read(&path).expect("the example is sound").job, count);
    }
}

#[test]
fn a_whole_template_is_traced_without_its_marks() {
    let job = read_text("job.json", KINDS).expect("the test's own job is sound").job;
    let template = all_templates(&job).into_iter().find(|template| template.name() == "tab").expect("a tab");
    let by_class = read_back("a.svg", &template_svg(&job, &template), &["cut"]);
    same("by class", &of_template(&template), &of_curve(&by_class.shapes[0].curve));
}

#[test]
fn pieces_of_a_lay() {
    let text = r#"{ "format": 1, "units": "mm", "gap": 3, "cloth": [ { "name": "roll", "width": 900, "selvage": 10 } ],
      "pieces": [ { "name": "ring", "outline": { "ring": [301.777, 250.333] }, "quantity": 2 },
        { "name": "disc", "outline": { "circle": 111.111 }, "quantity": 3, "edge": "pinked" },
        { "name": "gusset", "outline": { "polygon": [[0, 0], [140.321, 0], [0, 110.987]] }, "quantity": 4, "grain": "bias" } ] }"#;
    let job = read_text("job.json", text).expect("the test's own job is sound").job;
    let worked = plan::lay(&job, "job.json", &Budget { seed: 1, effort: 1, time: None }, &()).expect("a lay");
    let laid = &worked.file.cloths[0];
    let sheet = lay_sheet(&LaySheet {
        job: &job,
        pieces: &worked.pieces,
        cloth: &job.cloth[0],
        laid,
        account: &worked.accounts[0],
    });
    let taken = read_back("lay-roll.svg", &sheet, &["outline"]);
    assert_eq!(taken.shapes.len(), laid.pieces.len());
    let ring = |points: &Vec<[f64; 2]>| -> Ring { points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect() };
    for (shape, piece) in taken.shapes.iter().zip(&laid.pieces) {
        let rings = std::iter::once(&piece.outline).chain(&piece.holes).map(ring).collect();
        same(&piece.piece, &placed(rings), &of_curve(&shape.curve));
    }
    let preview = trace_sheet("lay-roll.svg", &taken, Units::Mm);
    assert_eq!(read_back("seen.svg", &preview, &["plain"]).shapes.len(), taken.shapes.len());
}
