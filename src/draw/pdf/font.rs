//! The font that travels with each file: only the letters that are used.
//!
//! A letter is named in the pages by its number in the whole font, so that pages can be made before it is known which
//! letters all of them need; a map leads from there to the part of the font that is embedded.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;
use ttf_parser::Face;

/// DejaVu Sans; its licence lies beside it.
const FILE: &[u8] = include_bytes!("font/DejaVuSans.ttf");

/// The name under which a part of the font is embedded: six letters and a plus sign before its own (ISO 32000-1:2008,
/// 9.6.4).
const NAME: Name = Name(b"CWRGHT+DejaVuSans");

/// How hard streams are packed, from 0 to 10.
pub(super) const PACKING: u8 = 7;

/// Advance of a letter that the font does not have, in letter sizes.
const UNKNOWN_ADVANCE: f64 = 0.6;

static FACE: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(FILE, 0).ok());

/// The numbers of the objects that a font takes.
pub(super) struct FontRefs {
    /// What pages refer to.
    pub font: Ref,
    pub part: Ref,
    pub descriptor: Ref,
    pub file: Ref,
    pub letters: Ref,
    pub map: Ref,
}

/// The number of a letter in the whole font; zero for one that it does not have.
pub(super) fn glyph(letter: char) -> u16 {
    FACE.as_ref().and_then(|face| face.glyph_index(letter)).map_or(0, |glyph| glyph.0)
}

/// Width of a text in letter sizes.
pub(in crate::draw) fn text_width(text: &str) -> f64 {
    text.chars().map(|letter| advance(glyph(letter))).sum()
}

fn advance(glyph: u16) -> f64 {
    let advance = |face: &Face| {
        let advance = face.glyph_hor_advance(ttf_parser::GlyphId(glyph))?;
        Some(f64::from(advance) / f64::from(face.units_per_em()))
    };
    FACE.as_ref().and_then(advance).unwrap_or(UNKNOWN_ADVANCE)
}

/// Writes the font with the letters that are used.
pub(super) fn embed(pdf: &mut Pdf, refs: &FontRefs, used: &BTreeSet<char>) {
    let mut part = GlyphRemapper::new();
    let mut map: Vec<u8> = Vec::new();
    let mut names = UnicodeCmap::new(Name(b"CWRGHT-Unicode"), identity());
    let mut glyphs: Vec<(u16, char)> = used.iter().map(|letter| (glyph(*letter), *letter)).collect();
    glyphs.sort_unstable();
    glyphs.dedup_by_key(|(glyph, _)| *glyph);
    for (glyph, letter) in &glyphs {
        let place = part.remap(*glyph).to_be_bytes();
        let at = 2 * usize::from(*glyph);
        map.resize(map.len().max(at + 2), 0);
        map[at..at + 2].copy_from_slice(&place);
        names.pair(*glyph, *letter);
    }
    // A part of a font that is in the program cannot fail; the whole font would do as well.
    let file = subsetter::subset(FILE, 0, &part).unwrap_or_else(|_| FILE.to_vec());

    pdf.type0_font(refs.font)
        .base_font(NAME)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(refs.part)
        .to_unicode(refs.letters);
    let mut font = pdf.cid_font(refs.part);
    font.subtype(CidFontType::Type2)
        .base_font(NAME)
        .system_info(identity())
        .font_descriptor(refs.descriptor)
        .default_width(0.0)
        .cid_to_gid_map_stream(refs.map);
    let mut widths = font.widths();
    for (glyph, _) in &glyphs {
        widths.consecutive(*glyph, [(1000.0 * advance(*glyph)) as f32]);
    }
    widths.finish();
    font.finish();
    describe(pdf, refs);
    let packed = compress_to_vec_zlib(&file, PACKING);
    pdf.stream(refs.file, &packed).filter(Filter::FlateDecode).pair(Name(b"Length1"), file.len() as i32);
    let packed = compress_to_vec_zlib(&map, PACKING);
    pdf.stream(refs.map, &packed).filter(Filter::FlateDecode);
    let names = names.finish();
    let packed = compress_to_vec_zlib(names.as_slice(), PACKING);
    pdf.cmap(refs.letters, &packed).filter(Filter::FlateDecode);
}

fn identity() -> SystemInfo<'static> {
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 }
}

fn describe(pdf: &mut Pdf, refs: &FontRefs) {
    let scaled = |units: i16| {
        let em = FACE.as_ref().map_or(1000.0, |face| f32::from(face.units_per_em()));
        f32::from(units) * 1000.0 / em
    };
    let face = FACE.as_ref();
    let bounds = face.map(Face::global_bounding_box);
    let bounds = bounds.map_or([0; 4], |bounds| [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max]).map(scaled);
    pdf.font_descriptor(refs.descriptor)
        .name(NAME)
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(bounds[0], bounds[1], bounds[2], bounds[3]))
        .italic_angle(0.0)
        .ascent(face.map_or(0.0, |face| scaled(face.ascender())))
        .descent(face.map_or(0.0, |face| scaled(face.descender())))
        .cap_height(face.and_then(Face::capital_height).map_or(0.0, scaled))
        .stem_v(80.0)
        .font_file2(refs.file);
}
