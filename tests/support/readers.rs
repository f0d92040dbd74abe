//! Each reader of the program, fed with any bytes and followed as far as a sound file would go. Whoever calls these
//! looks at two things: that nothing panics, and that each ends soon. What is wrong must come back in words.

use std::sync::LazyLock;

use clothwright::covering::cover;
use clothwright::job::{Job, read_text};
use clothwright::plan::ledger::{counted_pieces, fold, misfits, read_lines, rest, status};
use clothwright::plan::{LayFile, pieces_to_cut};
use clothwright::shape::Curve;
use clothwright::shape::drawing::{Drawing, DrawingFault, Pick, Size, USUAL_JOIN, Wish};
use clothwright::verify::verify_lay;

/// A reader and the folder of its sound files.
pub type Reader = (&'static str, fn(&[u8]) -> Result<(), String>);

/// All readers, by the names of their fuzz targets.
#[allow(dead_code)]
pub const READERS: [Reader; 6] =
    [("job", job), ("svg_path", svg_path), ("svg", svg), ("dxf", dxf), ("log", log), ("lay", lay)];

/// The job that logs and lays are held against.
static JOB: LazyLock<Job> = LazyLock::new(|| {
    let text = include_str!("../../fixtures/readers/job.json");
    read_text("job.json", text).expect("the fixture is sound").job
});

/// A job: every fault has its place.
pub fn job(bytes: &[u8]) -> Result<(), String> {
    let text = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
    match read_text("job.json", text) {
        // Working out a whole airframe takes seconds, which is no fault of a reader.
        Ok(reading) if reading.job.airframe.is_empty() => {
            pieces_to_cut(&reading.job).map(drop).map_err(|fault| fault.to_string())
        }
        Ok(_) => Ok(()),
        Err(faults) => {
            assert!(
                !faults.faults.is_empty() && faults.faults.iter().all(|fault| fault.line >= 1 && fault.column >= 1)
            );
            Err(faults.to_string())
        }
    }
}

/// Path data: what is taken can be written, and reads back as large as it was.
pub fn svg_path(bytes: &[u8]) -> Result<(), String> {
    let data = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
    let curve = Curve::from_svg_path(data, 1.0).map_err(|fault| fault.to_string())?;
    curve.flatten().map_err(|fault| fault.to_string())?;
    reads_back(&curve);
    Ok(())
}

/// An SVG file.
pub fn svg(bytes: &[u8]) -> Result<(), String> {
    drawing("drawing.svg", bytes)
}

/// A DXF file.
pub fn dxf(bytes: &[u8]) -> Result<(), String> {
    drawing("drawing.dxf", bytes)
}

fn drawing(name: &str, bytes: &[u8]) -> Result<(), String> {
    let wish = Wish { pick: Pick::All, size: Size::Unit(1.0), join: USUAL_JOIN, hidden: true };
    let taken = Drawing::read(name, bytes).and_then(|drawing| drawing.take(&wish));
    let taken = taken.map_err(|fault: DrawingFault| {
        assert!(!fault.message.is_empty() && !fault.hint.is_empty());
        fault.to_string()
    })?;
    taken.shapes.iter().for_each(|shape| reads_back(&shape.curve));
    Ok(())
}

fn reads_back(curve: &Curve) {
    let again = Curve::from_svg_path(&curve.to_svg_path_data(), 1.0).expect("what we write reads back");
    let (area, before) = (again.area(), curve.area());
    assert!((area - before).abs() <= 1e-6 * (1.0 + before.abs() + reach(curve)), "{area} for {before}");
}

/// What the area of a curve may be off by in its last digits, for its distance from the origin.
fn reach(curve: &Curve) -> f64 {
    let bounds = curve.bounds();
    let far = [bounds.min().x, bounds.min().y, bounds.max().x, bounds.max().y];
    let far = far.into_iter().fold(0.0, |far: f64, value| far.max(value.abs()));
    far * far
}

/// A log: lines that cannot be read are set aside, whatever is left makes a standing.
pub fn log(bytes: &[u8]) -> Result<(), String> {
    let log = read_lines(bytes);
    let standing = fold(&log.entries);
    let covering = cover(&JOB).expect("the fixture can be covered");
    let pieces = counted_pieces(&JOB, &covering);
    status(&JOB, &covering, &pieces, &standing);
    misfits(&JOB, &covering, &pieces, &standing);
    rest(&JOB, &pieces, &standing).map_err(|fault| fault.to_string())?;
    match log.set_aside.first() {
        Some(line) => {
            assert!(line.line >= 1 && line.line <= log.lines && !line.why.is_empty());
            Err(line.why.clone())
        }
        None => Ok(()),
    }
}

/// A written lay: it can be read and checked, or the place is named.
pub fn lay(bytes: &[u8]) -> Result<(), String> {
    let lay = LayFile::from_json(bytes).map_err(|error| {
        assert!(error.line() >= 1 || error.is_eof());
        error.to_string()
    })?;
    let findings = verify_lay(&lay, &JOB);
    findings.first().map_or(Ok(()), |finding| Err(finding.told(JOB.units)))
}
