//! Open data for checks and measurements: pieces to be laid on a strip of fixed width.
//!
//! The files come from the collection of the EURO working group on cutting and packing (ESICUP, CC0), each turned into
//! one plain JSON form: `name`, `roll_width`, `total_area`, sometimes `optimum_length`, and `pieces` with `name`,
//! `quantity`, `turns` (degrees; null for any) and `outline`. They are read from a folder and not copied into the project.

#![allow(dead_code)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use clothwright::nest::{Cloth, Lay, Piece, Task, Turns};
use clothwright::shape::{Outline, SAME_POINT};
use geo_types::{LineString, Polygon};
use serde::Deserialize;

/// The cloth-cutting jobs of the collection, which come from the clothing trade.
pub const CLOTH_JOBS: [&str; 7] = ["albano", "dagli", "mao", "marques", "shirts", "swim", "trousers"];

/// Strips narrower than this are magnified by powers of ten, so that a hundredth of a millimetre stays small beside
/// their pieces.
const LEAST_WIDTH: f64 = 1000.0;

/// One job of the collection as the engine is asked it.
pub struct Dataset {
    pub name: String,
    pub task: Task,
    /// Millimetres of the task in a unit of the file.
    pub magnified: f64,
    /// Length of the shortest layout, in units of the file, where it is known.
    pub optimum_length: Option<f64>,
    /// Area of all pieces, in square units of the file.
    pub area: f64,
    /// Width of the strip, in units of the file.
    pub width: f64,
}

#[derive(Deserialize)]
struct Written {
    name: String,
    roll_width: f64,
    optimum_length: Option<f64>,
    pieces: Vec<WrittenPiece>,
}

#[derive(Deserialize)]
struct WrittenPiece {
    quantity: u32,
    turns: Option<Vec<f64>>,
    outline: Vec<[f64; 2]>,
}

/// The folder that the environment names, or none; a test that cannot run says so.
pub fn folder() -> Option<PathBuf> {
    let folder = std::env::var_os("CLOTHWRIGHT_DATASETS").map(PathBuf::from);
    if folder.is_none() {
        let thread = std::thread::current();
        let skipped = thread.name().unwrap_or("a test");
        // Not `eprintln!`: the test harness would keep that to itself.
        let message = format!("\nSKIPPED {skipped}: CLOTHWRIGHT_DATASETS is not set; see README.md, open data\n");
        let _ = std::io::stderr().write_all(message.as_bytes());
    }
    folder
}

impl Dataset {
    /// Reads one job of the collection; says which file is at fault and why.
    pub fn read(folder: &Path, name: &str) -> Result<Self, String> {
        let path = folder.join(format!("{name}.json"));
        let said = |why: String| format!("{}: {why}", path.display());
        let text = fs::read_to_string(&path).map_err(|error| said(error.to_string()))?;
        let written: Written = serde_json::from_str(&text).map_err(|error| said(error.to_string()))?;
        Self::from_written(written).map_err(said)
    }

    fn from_written(written: Written) -> Result<Self, String> {
        let mut magnified = 1.0;
        while written.roll_width * magnified < LEAST_WIDTH {
            magnified *= 10.0;
        }
        let pieces: Vec<Piece> = written.pieces.iter().map(|piece| piece.asked(magnified)).collect::<Result<_, _>>()?;
        let area = pieces.iter().map(|piece| piece.outline.area() * f64::from(piece.quantity)).sum::<f64>();
        let roll = Cloth {
            usable: [0.0, written.roll_width * magnified],
            length: None,
            region: None,
            flaws: Vec::new(),
            count: 1,
            price: 1.0,
            faces_alike: false,
        };
        Ok(Self {
            name: written.name,
            task: Task { cloths: vec![roll], pieces, gap: 0.0 },
            magnified,
            optimum_length: written.optimum_length,
            area: area / (magnified * magnified),
            width: written.roll_width,
        })
    }

    /// Length of the strip that a lay uses, in units of the file.
    pub fn length(&self, lay: &Lay) -> f64 {
        lay.cloths.iter().map(|cloth| cloth.length_used).sum::<f64>() / self.magnified
    }

    /// Area of the pieces over area of the strip that is used, the figure that the papers print.
    pub fn density(&self, lay: &Lay) -> f64 {
        self.area / (self.width * self.length(lay))
    }
}

impl WrittenPiece {
    fn asked(&self, magnified: f64) -> Result<Piece, String> {
        let mut points: Vec<[f64; 2]> = self.outline.iter().map(|[x, y]| [x * magnified, y * magnified]).collect();
        // Some files say a point twice, to within the rounding of their own sums.
        points.dedup_by(|a, b| apart(*a, *b) < SAME_POINT);
        while points.len() > 1 && apart(points[0], points[points.len() - 1]) < SAME_POINT {
            points.pop();
        }
        let outline = Outline::new(Polygon::new(LineString::from(points), Vec::new()))
            .map_err(|fault| format!("an outline is unsound: {fault}"))?;
        let turns = match &self.turns {
            Some(angles) => Turns::These { angles: angles.clone(), tilt: 0.0 },
            None => Turns::Any,
        };
        Ok(Piece { outline, quantity: self.quantity, turns, flip: false, cloths: None })
    }
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
