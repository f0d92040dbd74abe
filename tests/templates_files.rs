//! DXF and SVG files of templates, read back with general libraries (the dxf crate, roxmltree and kurbo): the same area,
//! the same extents, millimetres, a layer for each kind of line.

use std::f64::consts::PI;

use clothwright::covering::cover;
use clothwright::draw::{template_dxf, template_svg};
use clothwright::job::{Job, read_text};
use clothwright::plan::{Template, TemplateChoice, templates};
use dxf::Drawing;
use dxf::entities::{EntityType, Polyline};
use dxf::enums::Units;
use kurbo::{BezPath, ParamCurveArea, Shape};

const JOB: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin <patches>", "cloth": [ { "name": "roll", "width": 1780 } ],
  "pieces": [
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 24 },
    { "name": "tab", "outline": { "path": "M 10 5 H 210 A 50 50 0 0 1 210 105 H 10 Z" }, "goes": "⅜ in drain & vent" },
    { "name": "ring", "outline": { "ring": [150, 90] }, "edge": "pinked" },
    { "name": "wave", "outline": { "path": "M 0 0 C 60 -40 120 40 180 0 L 180 90 Q 90 130 0 90 Z" } },
    { "name": "lapped", "outline": { "rect": [300, 200] }, "allowance": 25 } ] }"#;

/// Areas from formulas: π/4 d²; rectangle and half disc; π/4 (D² − d²); by parts, see below; rectangle.
fn areas() -> [f64; 5] {
    // Cubic: the area under 3 s² t (−40) + 3 s t² (40) along x = 180 t is zero by symmetry. Quadratic over 180 mm, sagitta
    // 20 mm: two thirds of the box.
    let wave = 180.0 * 90.0 + 2.0 / 3.0 * 180.0 * 20.0;
    [
        PI / 4.0 * 165.0 * 165.0,
        200.0 * 100.0 + PI * 50.0 * 50.0 / 2.0,
        PI / 4.0 * (150.0 * 150.0 - 90.0 * 90.0),
        wave,
        350.0 * 250.0,
    ]
}

const EXTENTS: [[f64; 2]; 5] = [[165.0, 165.0], [250.0, 100.0], [150.0, 150.0], [180.0, 121.547], [350.0, 250.0]];

fn job() -> Job {
    read_text("job.json", JOB).expect("the test's own job is sound").job
}

fn all(job: &Job) -> Vec<Template> {
    templates(job, &cover(job).expect("nothing to cover"), &TemplateChoice::default(), false).expect("templates")
}

/// A corner and its bulge.
type Vertex = ([f64; 2], f64);

/// Area of a closed polyline by the shoelace formula, with the segments of circles that its bulges are.
fn area(polyline: &Polyline) -> f64 {
    let vertices: Vec<Vertex> =
        polyline.vertices().map(|vertex| ([vertex.location.x, vertex.location.y], vertex.bulge)).collect();
    let next = vertices.iter().cycle().skip(1);
    let part = |((a, bulge), (b, _)): (&Vertex, &Vertex)| {
        let chord = (b[0] - a[0]).hypot(b[1] - a[1]);
        let angle = 4.0 * bulge.atan();
        let segment = if *bulge == 0.0 {
            0.0
        } else {
            let radius = chord / 2.0 / (angle / 2.0).sin();
            radius * radius / 2.0 * (angle - angle.sin())
        };
        (a[0] * b[1] - b[0] * a[1]) / 2.0 + segment
    };
    vertices.iter().zip(next).map(part).sum::<f64>().abs()
}

fn polylines<'d>(drawing: &'d Drawing, layer: &'d str) -> Vec<&'d Polyline> {
    drawing
        .entities()
        .filter(|entity| entity.common.layer == layer)
        .filter_map(|entity| match &entity.specific {
            EntityType::Polyline(polyline) => Some(polyline),
            _ => None,
        })
        .collect()
}

#[test]
fn a_dxf_file_has_the_area_and_the_extents_of_the_piece_in_millimetres() {
    let job = job();
    for ((template, wanted), extent) in all(&job).iter().zip(areas()).zip(EXTENTS) {
        let text = template_dxf(&job, template);
        let drawing = Drawing::load(&mut text.as_bytes()).expect("a DXF file");
        assert_eq!(drawing.header.default_drawing_units, Units::Millimeters);
        let cut = polylines(&drawing, "CUT_LINE");
        let [cut] = cut[..] else { panic!("one cut line") };
        let holes: f64 = polylines(&drawing, "CUT_AFTER_SHRINKING").into_iter().map(area).sum();
        let found = area(cut) - holes;
        assert!((found - wanted).abs() < 2e-4 * wanted, "{}: {found} for {wanted}", template.name());
        let far = drawing.header.maximum_drawing_extents.clone();
        for (found, wanted) in [(far.x, extent[0]), (far.y, extent[1])] {
            assert!((found - wanted).abs() < 0.21, "{}: {found} for {wanted}", template.name());
        }
        assert!(cut.is_closed());
    }
}

#[test]
fn arcs_are_bulges_and_teeth_are_there() {
    let job = job();
    let templates = all(&job);
    let drawing =
        |index: usize| Drawing::load(&mut template_dxf(&job, &templates[index]).as_bytes()).expect("a DXF file");
    let tab = drawing(1);
    let bulges: Vec<f64> = polylines(&tab, "CUT_LINE")[0].vertices().map(|vertex| vertex.bulge).collect();
    // A half circle is one bulge of tan(180° / 4).
    assert_eq!(bulges.iter().filter(|bulge| (**bulge - 1.0).abs() < 1e-6).count(), 1, "{bulges:?}");
    assert_eq!(bulges.iter().filter(|bulge| **bulge == 0.0).count(), bulges.len() - 1);
    let ring = drawing(2);
    // Teeth of 5 mm round 150 mm: π · 150 / 5 = 94.2, so 94 of them, each with a tip and a nip.
    assert_eq!(polylines(&ring, "PINKED_EDGE")[0].vertices().count(), 2 * 94);
}

#[test]
fn an_svg_file_has_the_area_and_the_extents_of_the_piece_in_millimetres() {
    let job = job();
    for ((template, wanted), extent) in all(&job).iter().zip(areas()).zip(EXTENTS) {
        let text = template_svg(&job, template);
        let document = roxmltree::Document::parse(&text).expect("well-formed XML");
        let view: Vec<&str> = document.root_element().attribute("viewBox").expect("a view").split(' ').collect();
        assert_eq!(document.root_element().attribute("width"), Some(format!("{}mm", view[2]).as_str()));
        let of = |class: &str| -> Vec<BezPath> {
            let has =
                |node: &roxmltree::Node| node.attribute("class").is_some_and(|one| one.split(' ').any(|c| c == class));
            let paths = document.descendants().filter(has).filter_map(|node| node.attribute("d"));
            paths.map(|data| BezPath::from_svg(data).expect("path data")).collect()
        };
        let area = |path: &BezPath| path.segments().map(|segment| segment.signed_area()).sum::<f64>().abs();
        let cut = &of("cut")[0];
        let found = area(cut) - of("cut-after-shrinking").iter().map(area).sum::<f64>();
        // Kurbo takes an arc for cubic curves within 0.1 mm.
        assert!((found - wanted).abs() < 4e-4 * wanted, "{}: {found} for {wanted}", template.name());
        let bounds = cut.bounding_box();
        for (found, wanted) in [(bounds.width(), extent[0]), (bounds.height(), extent[1])] {
            assert!((found - wanted).abs() < 0.1, "{}: {found} for {wanted}", template.name());
        }
        assert!(text.contains("Planning aid, not approved data") && text.contains("Dunlin &lt;patches&gt;"));
    }
}
