//! `clothwright templates`: paper to trace from, or files for a plotter.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::ValueEnum;

use crate::draw::{
    Book, DEFAULT_MARGIN, DEFAULT_OVERLAP, Margins, Orientation, Paper, PaperFault, PrintSheet, Printed, book,
    length_of, template_dxf, template_file_names, template_svg,
};
use crate::job::{Job, Reach};
use crate::plan::{Outputs, PLANNING_AID, Template, TemplateChoice, size, templates};
use crate::wording::counted;

use super::covered_job::{self, CoveredJob};
use super::exit::{Exit, Stop};
use super::force::Force;
use super::messages;
use super::table::{Align, Table};

/// Flags of `templates`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The job file.
    pub job: PathBuf,
    /// Folder for templates.pdf, or for template-NAME.svg or template-NAME.dxf; it is made where it is missing.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Paper to print on: A4 to A0, Letter, Legal, ANSI-A to ANSI-E, WxH (such as 600x900 or "24x36 in"), or the width of
    /// a roll of paper (such as "roll 610").
    #[arg(long, value_name = "PAPER", default_value = "A4", value_parser = Paper::parse)]
    pub paper: Paper,
    /// Whether sheets stand or lie [default: as the paper is named].
    #[arg(long, value_enum)]
    pub orientation: Option<Standing>,
    /// What the printer leaves white: one length, or four for top, right, bottom and left, with commas between them;
    /// millimetres where no unit is given.
    #[arg(long, value_name = "LENGTH", default_value_t = DEFAULT_MARGIN.to_string(), allow_hyphen_values = true)]
    pub margin: String,
    /// How far sheets that are glued together lie on each other.
    #[arg(long, value_name = "LENGTH", default_value_t = DEFAULT_OVERLAP.to_string(), allow_hyphen_values = true)]
    pub overlap: String,
    /// Only these pieces, by their names, however many sheets they take.
    #[arg(long, value_name = "NAME", num_args = 1..)]
    pub only: Vec<String>,
    /// Only the panels of this part, however many sheets they take; may be given several times.
    #[arg(long, value_name = "NAME")]
    pub part: Vec<String>,
    /// Draw every template as its mirror image: seen from inside, or for the other hand.
    #[arg(long)]
    pub mirror: bool,
    /// One PDF with all templates, or a file for each.
    #[arg(long, value_enum, default_value_t = Format::Pdf)]
    pub format: Format,
    /// Whether any file may be replaced.
    #[command(flatten)]
    pub force: Force,
}

/// How sheets come out of the printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Standing {
    /// Higher than wide.
    Portrait,
    /// Wider than high.
    Landscape,
}

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Sheets to print and glue.
    Pdf,
    /// One drawing a template.
    Svg,
    /// One drawing a template, for a plotter or a laser.
    Dxf,
}

/// Draws the templates of a job.
pub(super) fn run(args: &Args, reach: Reach) -> Result<Exit, Stop> {
    let sheet = print_sheet(args).map_err(|fault| Stop::fault(Exit::CommandWrong, fault))?;
    let CoveredJob { job, covering } = covered_job::read(&args.job, reach)?;
    let choice = TemplateChoice { only: args.only.clone(), parts: args.part.clone() };
    let templates =
        templates(&job, &covering, &choice, args.mirror).map_err(|fault| Stop::fault(Exit::CommandWrong, fault))?;
    Outputs::prepare(&args.out)?;
    let mut outputs = Outputs::default();
    let book = match args.format {
        Format::Pdf => {
            let book = book(&job, &templates, &sheet, choice.is_of_some())
                .map_err(|fault| Stop::fault(Exit::NoValidLay, format!("the templates cannot be laid out: {fault}")))?;
            left_out(&templates, &book);
            outputs.add("templates.pdf", book.file.clone());
            Some(book)
        }
        Format::Svg => {
            add_each(&mut outputs, &templates, "svg", |template| template_svg(&job, template));
            None
        }
        Format::Dxf => {
            add_each(&mut outputs, &templates, "dxf", |template| template_dxf(&job, template));
            None
        }
    };
    outputs.write(&args.out, args.force.into())?;
    match print(&job, &templates, book.as_ref(), &sheet, &args.out, &outputs) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(Exit::Done),
    }
}

fn print_sheet(args: &Args) -> Result<PrintSheet, PaperFault> {
    let orientation = args.orientation.map(|standing| match standing {
        Standing::Portrait => Orientation::Portrait,
        Standing::Landscape => Orientation::Landscape,
    });
    PrintSheet::new(args.paper.clone(), orientation, Margins::parse(&args.margin)?, length_of(&args.overlap)?)
}

fn add_each(outputs: &mut Outputs, templates: &[Template], extension: &str, draw: impl Fn(&Template) -> String) {
    let names = template_file_names(templates.iter().map(Template::name), extension);
    for (name, template) in names.into_iter().zip(templates) {
        outputs.add(name, draw(template));
    }
}

/// Says which templates are not printed, and how to have them.
fn left_out(templates: &[Template], book: &Book) {
    for (template, printed) in templates.iter().zip(&book.printed) {
        if let Printed::LeftOut { sheets } = printed {
            messages::say(&format!(
                "note: “{0}” would take {sheets} sheets and is not printed; mark it out by its dimensions, or ask for it: \
                 --only \"{0}\"",
                template.name()
            ));
        }
    }
}

fn print(
    job: &Job,
    templates: &[Template],
    book: Option<&Book>,
    sheet: &PrintSheet,
    folder: &Path,
    outputs: &Outputs,
) -> io::Result<()> {
    let mut out = io::BufWriter::new(io::stdout().lock());
    let mut table = Table::new(&[
        ("no.", Align::Right),
        ("template", Align::Left),
        ("copies", Align::Right),
        ("size", Align::Right),
        ("where", Align::Left),
    ]);
    let names: Vec<&str> = outputs.names().collect();
    for (index, template) in templates.iter().enumerate() {
        let place = match book {
            Some(book) => book.printed[index].words(),
            None => names[index].to_owned(),
        };
        let others = match template.uses.len() - 1 {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        table.line([
            template.number.to_string(),
            format!("{}{others}", template.name()),
            template.copies().to_string(),
            size(template.size, job.units),
            place,
        ]);
    }
    table.print(&mut out)?;
    if let Some(book) = book {
        writeln!(out, "\n{}", pages_words(book, sheet))?;
        writeln!(out, "wrote {}", folder.join("templates.pdf").display())?;
        writeln!(out, "print at 100 %, never fitted to the page, and measure the check lengths first")?;
    } else {
        writeln!(out, "\nwrote {} into {}", counted(names.len(), "file", "files"), folder.display())?;
    }
    writeln!(out, "{PLANNING_AID}")?;
    out.flush()
}

/// `21 pages of A4: 2 of contents, 10 with small templates, 9 of large ones`.
fn pages_words(book: &Book, sheet: &PrintSheet) -> String {
    let all = book.contents + book.together + book.tiled;
    format!(
        "{} of {}: {} of contents, {} with small templates together, {} of large ones",
        counted(all, "page", "pages"),
        sheet.name,
        book.contents,
        book.together,
        book.tiled
    )
}
