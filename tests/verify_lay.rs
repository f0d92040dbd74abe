//! A written lay is held against its job: every way of spoiling it is found and named.

mod support;

use clothwright::job::{self, Edge, Grain, GrainDirection, Job, Units};
use clothwright::plan::{LaidCloth, LaidPiece, LayFile, UnplacedPiece};
use clothwright::shape::{Curve, Outline, Pose};
use clothwright::verify::{Fault, verify_lay};
use support::{polygon, rect, ring};

fn piece(name: &str, cut: Outline, quantity: u32, direction: GrainDirection) -> job::Piece {
    job::Piece {
        name: name.into(),
        outline: Curve::rect(1.0, 1.0), // The check looks at the cut outline only.
        quantity,
        size: [cut.bounds().width(), cut.bounds().height()],
        cut,
        edge: Edge::Plain,
        grain: Grain { direction, tolerance: 0.0, one_way: false },
        flip: name == "patch",
        cloth: if name == "strip" { vec!["roll".into()] } else { Vec::new() },
        goes: None,
        source: None,
    }
}

fn cloth(name: &str, count: u32, length: Option<f64>) -> job::Cloth {
    job::Cloth {
        name: name.into(),
        width: 420.0,
        selvage: [10.0, 10.0],
        length,
        count,
        outline: None,
        flaws: Vec::new(),
        mass: None,
        price: None,
        sold_by: None,
        faces_alike: name == "offcut",
        note: None,
    }
}

fn job() -> Job {
    let patch = polygon(&[[0.0, 0.0], [120.0, 0.0], [120.0, 40.0], [0.0, 100.0]], &[]);
    Job {
        name: "tail".into(),
        note: None,
        units: Units::Mm,
        gap: 2.0,
        cloth: vec![cloth("offcut", 2, Some(250.0)), cloth("roll", 1, None)],
        pieces: vec![
            piece("patch", patch, 3, GrainDirection::Along),
            piece("washer", ring(100.0, 40.0, 36), 2, GrainDirection::Free),
            piece("strip", rect(600.0, 30.0), 1, GrainDirection::Along),
            piece("panel", rect(900.0, 500.0), 1, GrainDirection::Either),
        ],
        rules: None,
        parked: None,
        airframe: Vec::new(),
        repairs: Vec::new(),
        spares: Default::default(),
        prices: Default::default(),
        tape: Vec::new(),
        tape_cutting: Default::default(),
        rates: Default::default(),
    }
}

fn laid(job: &Job, name: &str, copy: u32, turn: f64, flipped: bool, at: [f64; 2]) -> LaidPiece {
    let cut = &job.pieces.iter().find(|piece| piece.name == name).expect("the job has it").cut;
    let lying = Pose { turn, flipped, at: at.into() }.apply_to(cut);
    let open = |ring: &geo_types::LineString<f64>| ring.0[1..].iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    LaidPiece {
        piece: name.into(),
        copy,
        turn,
        flipped,
        at,
        outline: open(lying.polygon().exterior()),
        holes: lying.polygon().interiors().iter().map(open).collect(),
    }
}

fn on_cloth(job: &Job, name: &str, number: u32, pieces: Vec<LaidPiece>) -> LaidCloth {
    let length_used = pieces.iter().flat_map(|piece| &piece.outline).map(|point| point[0]).fold(0.0, f64::max);
    let area_of = |laid: &LaidPiece| job.pieces.iter().find(|p| p.name == laid.piece).map_or(0.0, |p| p.cut.area());
    let area: f64 = pieces.iter().map(area_of).sum();
    LaidCloth {
        cloth: name.into(),
        number,
        width: 420.0,
        usable: [10.0, 410.0],
        length_used,
        waste: 1.0 - area / (420.0 * length_used),
        density: area / (400.0 * length_used),
        pieces,
    }
}

fn sound() -> LayFile {
    let job = job();
    let offcut = vec![
        laid(&job, "patch", 1, 0.0, false, [0.0, 10.0]),
        laid(&job, "patch", 2, 180.0, true, [120.0, 300.0]),
        laid(&job, "washer", 2, 33.3, false, [190.0, 360.0]),
    ];
    let roll = vec![
        laid(&job, "strip", 1, 180.0, false, [600.0, 40.0]),
        laid(&job, "patch", 3, 180.0, false, [120.0, 145.0]),
        laid(&job, "washer", 1, 0.0, false, [300.0, 92.0]),
    ];
    LayFile {
        format: 1,
        job: "tail.json".into(),
        seed: 1,
        effort: 10,
        cloths: vec![on_cloth(&job, "offcut", 2, offcut), on_cloth(&job, "roll", 1, roll)],
        unplaced: vec![UnplacedPiece { piece: "panel".into(), copy: 1, why: "wider than every cloth".into() }],
        tape: None,
        cautions: Vec::new(),
        rest: None,
        take_off: Vec::new(),
    }
}

/// The faults of the sound lay once it is spoiled.
fn spoil(spoil: impl FnOnce(&mut LayFile)) -> Vec<Fault> {
    let mut lay = sound();
    spoil(&mut lay);
    verify_lay(&lay, &job()).into_iter().map(|finding| finding.fault).collect()
}

/// Moves a piece together with its outline, and brings the figures up to date.
fn shift(lay: &mut LayFile, cloth: usize, piece: usize, by: [f64; 2]) {
    let moved = &mut lay.cloths[cloth].pieces[piece];
    let step = |point: &mut [f64; 2]| *point = [point[0] + by[0], point[1] + by[1]];
    step(&mut moved.at);
    moved.outline.iter_mut().for_each(step);
    moved.holes.iter_mut().flatten().for_each(step);
}

macro_rules! assert_faults {
    ($found:expr, $($expected:pat $(if $guard:expr)?),+) => {{
        let found = $found;
        let wanted = [$(stringify!($expected)),+].len();
        assert_eq!(found.len(), wanted, "{found:#?}");
        $(assert!(found.iter().any(|fault| matches!(fault, $expected $(if $guard)?)), "{found:#?}");)+
    }};
}

#[test]
fn a_sound_lay_has_no_faults() {
    assert_eq!(spoil(|_| ()), []);
}

#[test]
fn a_ring_may_start_anywhere_and_run_either_way() {
    assert_eq!(spoil(|lay| lay.cloths[0].pieces[0].outline.rotate_left(2)), []);
    assert_eq!(spoil(|lay| lay.cloths[1].pieces[2].holes[0].reverse()), []);
    let close = |lay: &mut LayFile| {
        let outline = &mut lay.cloths[0].pieces[0].outline;
        outline.push(outline[0]);
    };
    assert_eq!(spoil(close), []);
}

#[test]
fn a_shift_of_five_thousandths_passes_and_one_of_two_hundredths_does_not() {
    // The strip's upper edge is at y 40, the washer's lowest point at y 42: the gap of 2 mm is just kept.
    assert_eq!(spoil(|lay| shift(lay, 1, 2, [0.0, -0.005])), []);
    assert_faults!(
        spoil(|lay| shift(lay, 1, 2, [0.0, -0.02])),
        Fault::GapNotKept { one, other, distance, .. }
            if one.to_string() == "strip 1" && other.to_string() == "washer 1" && (distance - 1.98).abs() < 1e-6
    );
    assert_faults!(
        spoil(|lay| shift(lay, 1, 2, [0.0, -2.02])),
        Fault::Overlap { depth, .. } if (depth - 0.02).abs() < 0.002
    );
    assert_faults!(spoil(|lay| shift(lay, 0, 0, [-0.02, 0.0])), Fault::OverEnd { end: "start", .. });
}

#[test]
fn copies_are_counted() {
    assert_faults!(
        spoil(|lay| lay.cloths[0].pieces[1].copy = 3),
        Fault::Repeated { piece, times: 2 } if piece.to_string() == "patch 3",
        Fault::Missing { piece } if piece.to_string() == "patch 2"
    );
    assert_faults!(
        spoil(|lay| lay.cloths[0].pieces[1].copy = 4),
        Fault::TooMany { piece, quantity: 3 } if piece.number == 4,
        Fault::Missing { .. }
    );
    assert_faults!(spoil(|lay| lay.cloths[0].pieces[1].copy = 0), Fault::TooMany { .. }, Fault::Missing { .. });
    assert_faults!(spoil(|lay| lay.unplaced.clear()), Fault::Missing { piece } if piece.name == "panel");
    assert_faults!(
        spoil(|lay| lay.unplaced.push(UnplacedPiece { piece: "strip".into(), copy: 1, why: "lost".into() })),
        Fault::Repeated { .. }
    );
    assert_faults!(spoil(|lay| lay.unplaced[0].why = " ".into()), Fault::NoReason { .. });
    // Copies of one piece are alike, so their numbers may change places.
    let swap = |lay: &mut LayFile| {
        lay.cloths[0].pieces[0].copy = 2;
        lay.cloths[0].pieces[1].copy = 1;
    };
    assert_eq!(spoil(swap), []);
}

#[test]
fn names_and_cloths_are_those_of_the_job() {
    assert_faults!(
        spoil(|lay| lay.cloths[0].pieces[2].piece = "gasket".into()),
        Fault::UnknownPiece { .. },
        Fault::Missing { .. },
        Fault::WrongFigure { what: "the waste", .. },
        Fault::WrongFigure { what: "the density", .. }
    );
    assert_faults!(spoil(|lay| lay.cloths[0].cloth = "remnant".into()), Fault::UnknownCloth { .. });
    assert_faults!(spoil(|lay| lay.cloths[0].number = 3), Fault::NoSuchCloth { count: 2 });
    assert_faults!(spoil(|lay| lay.cloths[0].number = 0), Fault::NoSuchCloth { count: 2 });
    let twice = |lay: &mut LayFile| {
        let (job, again) = (job(), lay.cloths[0].pieces.pop());
        lay.cloths[0] = on_cloth(&job, "offcut", 2, lay.cloths[0].pieces.clone());
        lay.cloths.push(on_cloth(&job, "offcut", 2, again.into_iter().collect()));
    };
    assert_faults!(spoil(twice), Fault::ClothRepeated { times: 2 });
    let swap = |lay: &mut LayFile| {
        let job = job();
        let strip = lay.cloths[1].pieces.remove(0);
        lay.cloths[1] = on_cloth(&job, "roll", 1, lay.cloths[1].pieces.clone());
        lay.cloths.push(on_cloth(&job, "offcut", 1, vec![strip]));
    };
    assert_faults!(spoil(swap), Fault::WrongCloth { .. }, Fault::OverEnd { end: "end", .. });
}

#[test]
fn turns_and_flips_are_those_of_the_grain() {
    let replace = |cloth: usize, index: usize, turn: f64, flipped: bool, at: [f64; 2]| {
        move |lay: &mut LayFile| {
            let job = job();
            let mut pieces = lay.cloths[cloth].pieces.clone();
            let old = pieces[index].clone();
            pieces[index] = laid(&job, &old.piece, old.copy, turn, flipped, at);
            lay.cloths[cloth] = on_cloth(&job, &lay.cloths[cloth].cloth, lay.cloths[cloth].number, pieces);
        }
    };
    assert_faults!(spoil(replace(1, 1, 90.0, false, [820.0, 100.0])), Fault::WrongTurn { turn: 90.0, .. });
    assert_faults!(spoil(replace(1, 1, 0.0, true, [0.0, 200.0])), Fault::WrongFlip { .. });
    assert_faults!(spoil(replace(0, 2, 0.0, true, [190.0, 360.0])), Fault::WrongFlip { .. });
    assert_eq!(spoil(replace(0, 1, 0.0, true, [0.0, 300.0])), []);
}

#[test]
fn the_outline_is_the_one_that_the_entry_describes() {
    assert_faults!(spoil(|lay| lay.cloths[0].pieces[0].turn = 180.0), Fault::OtherOutline { .. });
    assert_faults!(spoil(|lay| lay.cloths[0].pieces[0].at[1] += 0.02), Fault::OtherOutline { .. });
    assert_eq!(spoil(|lay| lay.cloths[0].pieces[0].at[1] += 0.005), []);
    assert_faults!(spoil(|lay| lay.cloths[0].pieces[0].flipped = true), Fault::OtherOutline { .. });
    assert_faults!(
        spoil(|lay| lay.cloths[0].pieces[0].outline[1][0] -= 0.5),
        Fault::OtherOutline { how, .. } if how == "a point is 0.500 mm from where it should be"
    );
    assert_faults!(spoil(|lay| lay.cloths[0].pieces[0].outline.swap(1, 2)), Fault::OtherOutline { .. });
    assert_faults!(
        spoil(|lay| lay.cloths[1].pieces[2].holes.clear()),
        Fault::OtherOutline { how, .. } if how == "it has 0 holes and should have 1"
    );
    assert_faults!(
        spoil(|lay| { lay.cloths[0].pieces[0].outline.remove(1); }),
        Fault::OtherOutline { how, .. } if how == "it has 3 points and should have 4"
    );
    assert_faults!(spoil(|lay| lay.cloths[0].pieces[0].outline.clear()), Fault::OtherOutline { .. });
}

#[test]
fn figures_are_worked_out_again() {
    assert_faults!(spoil(|lay| lay.format = 2), Fault::Format { given: 2 });
    assert_faults!(spoil(|lay| lay.cloths[0].width = 430.0), Fault::WrongFigure { what: "the width", .. });
    assert_faults!(spoil(|lay| lay.cloths[0].usable[0] = 0.0), Fault::WrongFigure { .. });
    assert_faults!(spoil(|lay| lay.cloths[0].usable[1] = 420.0), Fault::WrongFigure { .. });
    assert_faults!(spoil(|lay| lay.cloths[0].length_used -= 0.02), Fault::WrongFigure { what: "the length used", .. });
    assert_faults!(spoil(|lay| lay.cloths[0].waste -= 0.001), Fault::WrongFigure { what: "the waste", .. });
    assert_faults!(spoil(|lay| lay.cloths[0].density += 0.001), Fault::WrongFigure { what: "the density", .. });
    assert_faults!(spoil(|lay| lay.cloths[1].density = f64::NAN), Fault::WrongFigure { .. });
    assert_faults!(spoil(|lay| lay.cloths[1].length_used = f64::INFINITY), Fault::WrongFigure { .. });
}

#[test]
fn numbers_that_are_none_are_named() {
    for spoiler in [
        |lay: &mut LayFile| lay.cloths[1].pieces[2].outline[3][1] = f64::NAN,
        |lay: &mut LayFile| lay.cloths[1].pieces[2].holes[0][3][1] = f64::INFINITY,
        |lay: &mut LayFile| lay.cloths[1].pieces[2].turn = f64::NAN,
        |lay: &mut LayFile| lay.cloths[1].pieces[2].at[0] = f64::NEG_INFINITY,
    ] {
        let faults = spoil(spoiler);
        assert!(faults.iter().any(|fault| fault.to_string() == "the place of washer 1 is not a finite number"));
    }
}

#[test]
fn the_file_reads_and_writes_without_loss() {
    let text = serde_json::to_string(&sound()).expect("a lay can be written");
    let again: LayFile = serde_json::from_str(&text).expect("a lay can be read");
    assert_eq!(again, sound());
    assert_eq!(verify_lay(&again, &job()), []);
}

#[test]
fn the_gap_of_the_job_holds() {
    let wide = Job { gap: 10.0, ..job() };
    let faults = verify_lay(&sound(), &wide);
    assert!(faults.iter().any(|finding| matches!(finding.fault, Fault::GapNotKept { gap: 10.0, .. })));
    let cloth = faults[0].cloth.as_ref().map(ToString::to_string);
    assert_eq!(cloth.as_deref(), Some("roll 1"), "{faults:?}");
}

#[test]
fn one_way_cloth_allows_no_half_turn() {
    let mut job = job();
    for piece in &mut job.pieces {
        piece.grain.one_way = true;
    }
    let findings = verify_lay(&sound(), &job);
    let turned: Vec<_> = findings
        .iter()
        .filter_map(|finding| match &finding.fault {
            Fault::WrongTurn { piece, .. } => Some(piece.to_string()),
            _ => None,
        })
        .collect();
    assert_eq!(turned, ["patch 2", "strip 1", "patch 3"]);
}

#[test]
fn flaws_and_the_outline_of_an_offcut_hold() {
    let with = |outline: Option<Curve>, flaw: Option<Curve>| {
        let mut job = job();
        job.cloth[0].outline = outline;
        job.cloth[0].flaws = flaw.into_iter().map(|outline| job::Flaw { outline, note: None }).collect();
        verify_lay(&sound(), &job).into_iter().map(|finding| finding.fault).collect::<Vec<_>>()
    };
    let corner_cut = Curve::polygon(&[[0.0, 0.0], [250.0, 0.0], [250.0, 420.0], [100.0, 420.0], [0.0, 250.0]], &[]);
    assert_faults!(
        with(Some(corner_cut), None),
        Fault::OffCloth { piece, .. } if piece.to_string() == "patch 2"
    );
    assert_eq!(with(Some(Curve::rect(250.0, 420.0)), None), []);
    let hole = Curve::polygon(&[[180.0, 350.0], [200.0, 350.0], [200.0, 370.0], [180.0, 370.0]], &[]);
    assert_eq!(with(None, Some(hole)), []);
    let stain = Curve::polygon(&[[180.0, 320.0], [200.0, 320.0], [200.0, 370.0], [180.0, 370.0]], &[]);
    assert_faults!(with(None, Some(stain)), Fault::OnFlaw { flaw: 1, .. });
    let bow_tie = Curve::polygon(&[[0.0, 0.0], [9.0, 9.0], [9.0, 0.0], [0.0, 8.0]], &[]);
    assert_faults!(with(None, Some(bow_tie)), Fault::BadCloth { .. });
}
