//! A job sent the whole way, within a bound on time: read, pieces, lay, independent check.

use std::time::{Duration, Instant};

use clothwright::job::read_text;
use clothwright::nest::Budget;
use clothwright::plan;
use clothwright::verify::verify_lay;

/// How long a whole way may take without optimization; far less than a person takes for a hang.
const LONGEST: Duration = Duration::from_secs(20);

/// What a job came to.
pub struct Laid {
    /// Area of all outlines as they lie.
    pub area: f64,
    pub placed: usize,
    pub unplaced: usize,
}

/// A job with two copies of one piece and a roll that is wide enough.
pub fn job_of(outline: &str, more: &str) -> String {
    format!(
        r#"{{ "format": 1, "units": "mm", "cloth": [ {{ "name": "roll", "width": 1200 }} ],
            "pieces": [ {{ "name": "piece", "outline": {outline}, "quantity": 2{more} }} ] }}"#
    )
}

/// Sends a job the whole way; what is wrong with it comes back in words.
pub fn laid(job: &str) -> Result<Laid, String> {
    let begun = Instant::now();
    let answer = whole_way(job);
    assert!(begun.elapsed() < LONGEST, "it took {:?}: {}", begun.elapsed(), &job[..job.len().min(400)]);
    answer
}

fn whole_way(text: &str) -> Result<Laid, String> {
    let job = read_text("job.json", text).map_err(|faults| faults.to_string())?.job;
    let budget = Budget { seed: 1, effort: 1, time: None };
    let worked = plan::lay(&job, "job.json", &budget, &()).map_err(|fault| fault.to_string())?;
    let findings: Vec<String> = verify_lay(&worked.file, &job).iter().map(ToString::to_string).collect();
    assert!(findings.is_empty(), "the independent check refuses the lay: {findings:#?}");
    let laid = || worked.file.cloths.iter().flat_map(|cloth| &cloth.pieces);
    let area = |laid: &plan::LaidPiece| ring(&laid.outline) - laid.holes.iter().map(|hole| ring(hole)).sum::<f64>();
    Ok(Laid { area: laid().map(area).sum(), placed: laid().count(), unplaced: worked.file.unplaced.len() })
}

fn ring(points: &[[f64; 2]]) -> f64 {
    let Some([x, y]) = points.first() else { return 0.0 };
    // Seen from the first point, so that a piece far from the origin keeps its digits.
    let points: Vec<[f64; 2]> = points.iter().map(|point| [point[0] - x, point[1] - y]).collect();
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs() / 2.0
}
