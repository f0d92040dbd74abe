//! Reads what a PDF draws with a general library (lopdf) and no code of the program: strokes in millimetres with the
//! layer they are on, cut off where the page cuts them off.

#![allow(dead_code)]

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object};

/// Points in a millimetre (ISO 32000-1:2008, 8.3.2.3).
const POINTS: f64 = 72.0 / 25.4;

/// Straight pieces that stand for a curve.
const STEPS: usize = 64;

pub type Point = [f64; 2];

/// A drawn line.
#[derive(Clone, Debug)]
pub struct Stroke {
    pub layer: String,
    /// Straight pieces, each from point to point, in millimetres from the lower left corner.
    pub pieces: Vec<[Point; 2]>,
    /// Width of the line.
    pub width: f64,
    pub dashed: bool,
}

/// A page.
#[derive(Clone, Debug)]
pub struct ReadPage {
    /// Width and height of media, crop and trim box.
    pub boxes: [[f64; 2]; 3],
    pub strokes: Vec<Stroke>,
    pub texts: Vec<String>,
}

impl ReadPage {
    pub fn on<'p>(&'p self, layer: &'p str) -> impl Iterator<Item = &'p Stroke> {
        self.strokes.iter().filter(move |stroke| stroke.layer == layer)
    }

    pub fn says(&self, words: &str) -> bool {
        self.texts.iter().any(|text| text.contains(words))
    }
}

pub fn read(file: &[u8]) -> Vec<ReadPage> {
    let document = Document::load_mem(file).expect("a PDF");
    document.get_pages().values().map(|id| read_page(&document, *id)).collect()
}

/// Names of the layers that the file has.
pub fn layers(file: &[u8]) -> Vec<String> {
    let document = Document::load_mem(file).expect("a PDF");
    let groups = dictionary(&document, document.catalog().expect("a catalog").get(b"OCProperties").expect("layers"));
    let groups = groups.get(b"OCGs").and_then(Object::as_array).expect("a list");
    groups.iter().map(|group| text_of(dictionary(&document, group).get(b"Name").expect("a name"))).collect()
}

/// Embedded font files: the lengths that they say they have.
pub fn font_files(file: &[u8]) -> Vec<i64> {
    let document = Document::load_mem(file).expect("a PDF");
    let descriptors = document.objects.values().filter_map(|object| object.as_dict().ok());
    let files = descriptors.filter_map(|descriptor| descriptor.get(b"FontFile2").ok());
    files
        .map(|file| {
            let (_, stream) = document.dereference(file).expect("a font file");
            let stream = stream.as_stream().expect("a stream");
            stream.dict.get(b"Length1").and_then(Object::as_i64).expect("its length")
        })
        .collect()
}

fn text_of(object: &Object) -> String {
    String::from_utf8_lossy(object.as_str().expect("a text")).into_owned()
}

fn dictionary<'d>(document: &'d Document, object: &'d Object) -> &'d Dictionary {
    document.dereference(object).expect("an object").1.as_dict().expect("a dictionary")
}

fn read_page(document: &Document, id: lopdf::ObjectId) -> ReadPage {
    let page = document.get_dictionary(id).expect("a page");
    let size = |name: &[u8]| {
        let corners: Vec<f64> = page.get(name).and_then(Object::as_array).expect("a box").iter().map(number).collect();
        [(corners[2] - corners[0]) / POINTS, (corners[3] - corners[1]) / POINTS]
    };
    let resources = dictionary(document, page.get(b"Resources").expect("resources"));
    let content = Content::decode(&document.get_page_content(id).expect("content")).expect("operators");
    let mut reader = Reader::new(layer_names(document, resources), letters(document, resources));
    for operation in &content.operations {
        reader.take(&operation.operator, &operation.operands);
    }
    ReadPage {
        boxes: [size(b"MediaBox"), size(b"CropBox"), size(b"TrimBox")],
        strokes: reader.strokes,
        texts: reader.texts,
    }
}

fn layer_names(document: &Document, resources: &Dictionary) -> Vec<(Vec<u8>, String)> {
    let properties = resources.get(b"Properties").and_then(Object::as_dict).expect("layers");
    let name = |group: &Object| text_of(dictionary(document, group).get(b"Name").expect("a name"));
    properties.iter().map(|(key, group)| (key.clone(), name(group))).collect()
}

/// The letters of the font by their numbers, from its ToUnicode map (ISO 32000-1:2008, 9.10.3).
fn letters(document: &Document, resources: &Dictionary) -> Vec<(u16, char)> {
    let fonts = dictionary(document, resources.get(b"Font").expect("fonts"));
    let (_, font) = fonts.iter().next().expect("a font");
    let map = dictionary(document, font).get(b"ToUnicode").expect("a map");
    let map = document.dereference(map).expect("a map").1.as_stream().expect("a stream");
    let text = String::from_utf8(map.decompressed_content().expect("a map")).expect("ASCII");
    let hex = |word: &str| u32::from_str_radix(word.trim_matches(['<', '>']), 16).ok();
    text.lines()
        .filter_map(|line| {
            let mut words = line.split_whitespace();
            let (glyph, letter) = (hex(words.next()?)?, hex(words.next()?)?);
            words.next().is_none().then_some((u16::try_from(glyph).ok()?, char::from_u32(letter)?))
        })
        .collect()
}

fn number(object: &Object) -> f64 {
    object.as_float().map(f64::from).or_else(|_| object.as_i64().map(|value| value as f64)).expect("a number")
}

#[derive(Clone)]
struct State {
    matrix: [f64; 6],
    clip: [f64; 4],
    width: f64,
    dashed: bool,
}

struct Reader {
    layers: Vec<(Vec<u8>, String)>,
    letters: Vec<(u16, char)>,
    stack: Vec<State>,
    state: State,
    marked: Vec<String>,
    path: Vec<[Point; 2]>,
    start: Point,
    at: Point,
    strokes: Vec<Stroke>,
    texts: Vec<String>,
}

impl Reader {
    fn new(layers: Vec<(Vec<u8>, String)>, letters: Vec<(u16, char)>) -> Self {
        let state = State {
            matrix: [1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
            clip: [f64::NEG_INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::INFINITY],
            width: 1.0,
            dashed: false,
        };
        Self {
            layers,
            letters,
            stack: Vec::new(),
            state,
            marked: Vec::new(),
            path: Vec::new(),
            start: [0.0; 2],
            at: [0.0; 2],
            strokes: Vec::new(),
            texts: Vec::new(),
        }
    }

    fn take(&mut self, operator: &str, operands: &[Object]) {
        let numbers = || operands.iter().map(number).collect::<Vec<f64>>();
        match operator {
            "q" => self.stack.push(self.state.clone()),
            "Q" => self.state = self.stack.pop().expect("a state to go back to"),
            "cm" => {
                let [a, b, c, d, e, f] = numbers()[..] else { panic!("a matrix") };
                let m = self.state.matrix;
                self.state.matrix = [
                    a * m[0] + b * m[2],
                    a * m[1] + b * m[3],
                    c * m[0] + d * m[2],
                    c * m[1] + d * m[3],
                    e * m[0] + f * m[2] + m[4],
                    e * m[1] + f * m[3] + m[5],
                ];
            }
            "w" => self.state.width = numbers()[0],
            "d" => self.state.dashed = !operands[0].as_array().expect("dashes").is_empty(),
            "BDC" => {
                let name = operands[1].as_name().expect("a layer");
                let (_, layer) = self.layers.iter().find(|(key, _)| key == name).expect("a layer of the page");
                self.marked.push(layer.clone());
            }
            "EMC" => {
                self.marked.pop().expect("an open layer");
            }
            "m" => {
                self.at = self.carried(&numbers());
                self.start = self.at;
            }
            "l" => {
                let to = self.carried(&numbers());
                self.line(to);
            }
            "c" => {
                let values = numbers();
                let [one, two, to] = [0, 2, 4].map(|k| self.carried(&values[k..k + 2]));
                let from = self.at;
                for step in 1..=STEPS {
                    let t = step as f64 / STEPS as f64;
                    let s = 1.0 - t;
                    self.line([0, 1].map(|k| {
                        s * s * s * from[k] + 3.0 * s * s * t * one[k] + 3.0 * s * t * t * two[k] + t * t * t * to[k]
                    }));
                }
            }
            "h" => self.line(self.start),
            "re" => {
                let [x, y, width, height] = numbers()[..] else { panic!("a rectangle") };
                let (low, high) = (self.carried(&[x, y]), self.carried(&[x + width, y + height]));
                self.path = vec![[low, high]];
            }
            "W" => {
                let [[low, high]] = self.path[..] else { panic!("only rectangles cut off") };
                let clip = self.state.clip;
                self.state.clip =
                    [clip[0].max(low[0]), clip[1].max(low[1]), clip[2].min(high[0]), clip[3].min(high[1])];
            }
            "S" => {
                let clip = self.state.clip;
                let pieces = std::mem::take(&mut self.path).into_iter().filter_map(|piece| clipped(piece, clip));
                let stroke = Stroke {
                    layer: self.marked.last().cloned().unwrap_or_default(),
                    pieces: pieces.collect(),
                    width: self.state.width,
                    dashed: self.state.dashed,
                };
                self.strokes.push(stroke);
            }
            "n" | "f" | "f*" => self.path.clear(),
            "Tj" => {
                let bytes = operands[0].as_str().expect("a text");
                let letter = |pair: &[u8]| {
                    let glyph = u16::from_be_bytes([pair[0], pair[1]]);
                    self.letters.iter().find(|(known, _)| *known == glyph).map_or('?', |(_, letter)| *letter)
                };
                self.texts.push(bytes.chunks(2).map(letter).collect());
            }
            _ => {}
        }
    }

    fn carried(&self, point: &[f64]) -> Point {
        let m = self.state.matrix;
        [0, 1].map(|k| (point[0] * m[k] + point[1] * m[2 + k] + m[4 + k]) / POINTS)
    }

    fn line(&mut self, to: Point) {
        self.path.push([self.at, to]);
        self.at = to;
    }
}

/// What of a straight piece is within a box.
fn clipped([from, to]: [Point; 2], clip: [f64; 4]) -> Option<[Point; 2]> {
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let run = to[axis] - from[axis];
        let (low, high) = (clip[axis] - from[axis], clip[axis + 2] - from[axis]);
        if run == 0.0 {
            if low > 0.0 || high < 0.0 {
                return None;
            }
        } else {
            first = first.max((low / run).min(high / run));
            last = last.min((low / run).max(high / run));
        }
    }
    let at = |t: f64| [0, 1].map(|k| from[k] + t * (to[k] - from[k]));
    (first < last).then(|| [at(first), at(last)])
}
