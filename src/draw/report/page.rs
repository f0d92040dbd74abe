//! The page as it is shown: chapters, tables, drawings, in plain words.

use askama::Template;

use super::Report;
use super::cautions::{CAUTIONS, CautionGroup, NOT_APPROVED};
use super::comparison::{ComparisonChapter, comparison};
use super::cut_order::{CutTable, cut_tables};
use super::digest::digest;
use super::front::{Front, front};
use super::heat::{HEATS, Heat, WITH_HEATS};
use super::lays::{LayView, lays};
use super::maps::{MapsChapter, maps};
use super::rules::{RulesChapter, rules};
use super::shopping::take_off_tables;
use super::table::Table;
use super::tapes::{TapesChapter, tapes};
use super::templates_index::{TemplatesChapter, templates_index};

/// The whole page.
#[derive(Template)]
#[template(path = "report.html", config = "src/draw/report/askama.toml")]
pub(super) struct Page {
    /// What the job is called.
    pub job: String,
    /// The foot of each printed page, as the text of a CSS string.
    pub foot: String,
    /// Under which key the browser keeps ticks.
    pub ticks: String,
    pub not_approved: &'static str,
    pub caution_groups: &'static [CautionGroup],
    pub chapters: Vec<Chapter>,
    pub front: Front,
    pub lays: Vec<LayView>,
    pub maps: Option<MapsChapter>,
    pub cuts: Vec<CutTable>,
    pub templates: TemplatesChapter,
    pub tapes: Option<TapesChapter>,
    pub take_off: Vec<Table>,
    pub comparison: Option<ComparisonChapter>,
    pub heats: &'static [Heat],
    pub with_heats: &'static [(&'static str, &'static str)],
    pub rules: Option<RulesChapter>,
    pub cautions: Vec<String>,
    pub style: &'static str,
    pub script: &'static str,
}

/// A chapter, as the contents name it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Chapter {
    /// Its place on the page.
    pub id: &'static str,
    /// What it is called.
    pub title: &'static str,
}

impl Page {
    /// Works out everything that is shown.
    pub fn of(report: &Report) -> Self {
        let mut page = Self {
            job: report.job.name.clone(),
            foot: css_string(&report.job.name),
            ticks: format!("clothwright ticks {} {}", report.job.name, digest(report.lay)),
            not_approved: NOT_APPROVED,
            caution_groups: CAUTIONS,
            chapters: Vec::new(),
            front: front(report),
            lays: lays(report),
            maps: maps(report),
            cuts: cut_tables(report),
            templates: templates_index(report),
            tapes: tapes(report),
            take_off: take_off_tables(report),
            comparison: comparison(report),
            heats: HEATS,
            with_heats: WITH_HEATS,
            rules: rules(report),
            cautions: report.lay.cautions.clone(),
            style: include_str!("style.css"),
            script: include_str!("script.js"),
        };
        page.chapters = page.named();
        page
    }

    /// The chapters that have something to say, in their order.
    fn named(&self) -> Vec<Chapter> {
        let all = [
            ("lays", "Lays", !self.lays.is_empty()),
            ("maps", "Covering maps", self.maps.is_some()),
            ("cutting", "Cut list", !self.cuts.is_empty()),
            ("templates", "Templates", !self.templates.table.rows.is_empty()),
            ("tapes", "Tapes", self.tapes.is_some()),
            ("take-off", "Take-off", !self.take_off.is_empty()),
            ("comparison", "Comparison", self.comparison.is_some()),
            ("heat", "Heat of the iron", true),
            ("rules", "Rules used", self.rules.is_some()),
            ("cautions", "Cautions of this plan", !self.cautions.is_empty()),
        ];
        all.into_iter().filter(|(.., there)| *there).map(|(id, title, _)| Chapter { id, title }).collect()
    }

    /// The number of a chapter.
    fn number(&self, id: &str) -> usize {
        self.chapters.iter().position(|chapter| chapter.id == id).map_or(0, |place| place + 1)
    }
}

/// The inside of a CSS string: all but plain letters, digits and spaces as code points, so that no text can end the string or
/// the style sheet (CSS Syntax Module Level 3, 4.3.7).
fn css_string(text: &str) -> String {
    let letter = |letter: char| match letter {
        'a'..='z' | 'A'..='Z' | '0'..='9' | ' ' => letter.to_string(),
        _ => format!("\\{:06x}", u32::from(letter)),
    };
    text.chars().map(letter).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_ends_the_style_sheet() {
        assert_eq!(css_string("a\"</style>é"), "a\\000022\\00003c\\00002fstyle\\00003e\\0000e9");
    }
}
