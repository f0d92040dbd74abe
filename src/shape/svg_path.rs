//! SVG path data (W3C SVG 1.1 §8.3) into rings of segments and back.

use kurbo::{CubicBez, Point, QuadBez, Vec2};
use svgtypes::{PathParser, PathSegment};

use super::fault::PathFault;
use super::segment::{Arc, Segment};
use super::svg_arc::{arc_between, radii_and_turn};

/// Reads path data into closed rings, in the units of the path. Points nearer than `same` count as one.
pub(super) fn read(data: &str, same: f64) -> Result<Vec<Vec<Segment>>, PathFault> {
    let mut pen = Pen::new(data, same);
    for segment in PathParser::from(data) {
        pen.follow(segment.map_err(|error| parse_fault(data, &error))?)?;
    }
    pen.finish_subpath()?;
    if pen.rings.is_empty() {
        return Err(PathFault {
            at: 0,
            message: "the path draws nothing; it needs M, some lines or curves, and Z".into(),
        });
    }
    Ok(pen.rings)
}

/// Reads path data into lines, open ones too, in the units of the path.
pub(super) fn read_lines(data: &str, same: f64) -> Result<Vec<Vec<Segment>>, PathFault> {
    let mut pen = Pen { open_too: true, ..Pen::new(data, same) };
    for segment in PathParser::from(data) {
        pen.follow(segment.map_err(|error| parse_fault(data, &error))?)?;
    }
    pen.finish_subpath()?;
    Ok(pen.rings)
}

/// Draws what the commands say and remembers what later commands refer to.
struct Pen<'a> {
    rings: Vec<Vec<Segment>>,
    ring: Vec<Segment>,
    start: Point,
    here: Point,
    /// The last control point of the command before, where that was a cubic or a quadratic.
    cubic_control: Option<Point>,
    quadratic_control: Option<Point>,
    same: f64,
    /// Offsets of the commands that begin or close a subpath, those already followed left out.
    marks: Box<dyn Iterator<Item = usize> + 'a>,
    begun_at: usize,
    /// Whether a subpath may be left open.
    open_too: bool,
}

impl<'a> Pen<'a> {
    fn new(data: &'a str, same: f64) -> Self {
        let marks = data.chars().enumerate().filter(|(_, letter)| "MmZz".contains(*letter)).map(|(at, _)| at);
        Self {
            rings: Vec::new(),
            ring: Vec::new(),
            start: Point::ZERO,
            here: Point::ZERO,
            cubic_control: None,
            quadratic_control: None,
            same,
            marks: Box::new(marks),
            begun_at: 0,
            open_too: false,
        }
    }

    fn follow(&mut self, command: PathSegment) -> Result<(), PathFault> {
        let origin = if command.is_abs() { Vec2::ZERO } else { self.here.to_vec2() };
        let point = |x: f64, y: f64| Point::new(x, y) + origin;
        let (cubic_control, quadratic_control) = (self.cubic_control.take(), self.quadratic_control.take());
        match command {
            PathSegment::MoveTo { x, y, .. } => {
                self.finish_subpath()?;
                self.begun_at = self.marks.next().unwrap_or(0);
                (self.start, self.here) = (point(x, y), point(x, y));
            }
            PathSegment::LineTo { x, y, .. } => self.line_to(point(x, y)),
            PathSegment::HorizontalLineTo { x, .. } => self.line_to(Point::new(x + origin.x, self.here.y)),
            PathSegment::VerticalLineTo { y, .. } => self.line_to(Point::new(self.here.x, y + origin.y)),
            PathSegment::CurveTo { x1, y1, x2, y2, x, y, .. } => {
                self.cubic_to(point(x1, y1), point(x2, y2), point(x, y));
            }
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => {
                self.cubic_to(self.reflected(cubic_control), point(x2, y2), point(x, y));
            }
            PathSegment::Quadratic { x1, y1, x, y, .. } => self.quadratic_to(point(x1, y1), point(x, y)),
            PathSegment::SmoothQuadratic { x, y, .. } => {
                self.quadratic_to(self.reflected(quadratic_control), point(x, y));
            }
            PathSegment::EllipticalArc { rx, ry, x_axis_rotation, large_arc, sweep, x, y, .. } => {
                let to = point(x, y);
                let arc = arc_between(self.here, to, Vec2::new(rx, ry), x_axis_rotation, large_arc, sweep);
                self.draw(arc.map_or(Segment::line(self.here, to), Segment::Arc), to);
            }
            PathSegment::ClosePath { .. } => {
                self.line_to(self.start);
                self.finish_subpath()?;
                self.begun_at = self.marks.next().unwrap_or(0);
            }
        }
        Ok(())
    }

    /// Ends the subpath and keeps it as a ring; an open one is a fault.
    fn finish_subpath(&mut self) -> Result<(), PathFault> {
        let ring = std::mem::take(&mut self.ring);
        if !ring.is_empty() {
            if !self.open_too && !self.is_same(self.here, self.start) {
                let (from, to) = (self.start, self.here);
                let message = format!(
                    "the outline that begins here is open: it starts at ({}, {}) and ends at ({}, {}); close it with Z",
                    from.x, from.y, to.x, to.y
                );
                return Err(PathFault { at: self.begun_at, message });
            }
            self.rings.push(ring);
        }
        self.here = self.start;
        Ok(())
    }

    fn reflected(&self, control: Option<Point>) -> Point {
        control.map_or(self.here, |control| self.here + (self.here - control))
    }

    fn line_to(&mut self, to: Point) {
        self.draw(Segment::line(self.here, to), to);
    }

    fn cubic_to(&mut self, first: Point, second: Point, to: Point) {
        self.draw(Segment::Cubic(CubicBez::new(self.here, first, second, to)), to);
        self.cubic_control = Some(second);
    }

    fn quadratic_to(&mut self, control: Point, to: Point) {
        self.draw(Segment::Cubic(QuadBez::new(self.here, control, to).raise()), to);
        self.quadratic_control = Some(control);
    }

    /// Adds a segment, unless it has no length.
    fn draw(&mut self, segment: Segment, to: Point) {
        let points = segment.defining_points();
        if !points.iter().all(|point| self.is_same(*point, self.here)) {
            self.ring.push(segment);
        }
        self.here = to;
    }

    fn is_same(&self, a: Point, b: Point) -> bool {
        (a - b).hypot() <= self.same
    }
}

fn parse_fault(data: &str, error: &svgtypes::Error) -> PathFault {
    // The parser counts characters from 1.
    let (at, what) = match error {
        svgtypes::Error::UnexpectedData(position) => {
            (position - 1, "a command letter (M L H V C S Q T A Z) or a number")
        }
        svgtypes::Error::InvalidNumber(position) => (position - 1, "a finite number such as 12.5 or -3e2"),
        _ => (data.chars().count(), "more numbers for the last command"),
    };
    let rest: String = data.chars().skip(at).take_while(|c| !c.is_whitespace() && *c != ',').take(20).collect();
    let begins = data.chars().take(at).all(char::is_whitespace);
    let message = match (rest.is_empty(), begins) {
        (true, _) => format!("the path ends too early: {what} should follow"),
        (false, true) => format!("a path begins with M or m, not with “{rest}”"),
        (false, false) => format!("“{rest}” stands where {what} should be"),
    };
    PathFault { at, message }
}

/// A ring as path data that any SVG reader understands; arcs stay arcs.
pub(super) fn write(ring: &[Segment]) -> String {
    let mut data = ring.first().map_or(String::new(), |first| format!("M {}", pair(first.start())));
    for segment in ring {
        data.push_str(&match segment {
            Segment::Line(line) => format!(" L {}", pair(line.p1)),
            Segment::Cubic(c) => format!(" C {} {} {}", pair(c.p1), pair(c.p2), pair(c.p3)),
            Segment::Arc(arc) => arc_data(arc),
        });
    }
    data + " Z"
}

/// An arc in pieces of less than half a turn, whose flags are never in doubt.
fn arc_data(arc: &Arc) -> String {
    let pieces = (arc.sweep.abs() / 3.0).ceil().max(1.0) as usize;
    let (radii, degrees) = radii_and_turn(arc);
    let sweep_flag = u8::from((arc.sweep > 0.0) == (arc.across.cross(arc.along) > 0.0));
    let whole = Segment::Arc(*arc);
    let end = |piece: usize| if piece == pieces { arc.ends[1] } else { whole.at(piece as f64 / pieces as f64) };
    (1..=pieces)
        .map(|piece| format!(" A {} {} {degrees} 0 {sweep_flag} {}", radii.x, radii.y, pair(end(piece))))
        .collect()
}

/// Two numbers in the shortest form that reads back the same; no minus before zero.
fn pair(point: Point) -> String {
    format!("{} {}", point.x + 0.0, point.y + 0.0)
}
