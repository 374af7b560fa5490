//! What may be typed on the command line.

use std::path::PathBuf;
use std::sync::Arc;

use clap::builder::{PossibleValuesParser, TypedValueParser as _};
use clap::{Args, Parser, Subcommand, ValueEnum};
use dewpath_words::{Catalogue, LANGUAGES, Speaker};

/// Will the air really leave the house? Plans and checks the exhaust of a bathroom, from a job file
/// to delivered air, with a verdict and its working.
#[derive(Debug, Parser)]
#[command(name = "dewpath", version, max_term_width = 100)]
#[command(
    after_help = "Exit codes of `check` and of `diff` (for its second job): 0 everything holds, 1 something \
fails, 3 nothing fails but something is unknown, 2 bad input. `year`: 0, or 3 where the year cannot be followed, 2 for bad \
input. Other commands: 0, or 2 for bad input. \
NO_COLOR turns colours off; COLUMNS sets the width."
)]
pub(crate) struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What the program can do.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Check a job: the answer, the findings, what was assumed and what to look at next
    Check(Check),
    /// Follow the rooms that are showered in through a year of weather, month by month
    Year(Year),
    /// Show the working behind a finding: equations, inputs, where they come from, source
    Why(Why),
    /// Write a commented starter job that asks for little
    New(New),
    /// Print the JSON Schema of the job file or of the report
    Schema(Schema),
    /// Draw a job: sections, plans and charts as SVG, to scale where they can be
    Draw(Draw),
    /// Compare two jobs: what was changed, and what it does to the answer
    Diff(Diff),
    /// Hand out the page and the job files of a folder, to this machine alone
    #[cfg(feature = "office")]
    Serve(Serve),
    /// Print a completion script for a shell
    Completions(Completions),
    /// Print the manual page (roff)
    Manual,
}

impl Command {
    /// What is spoken; English where nothing was asked for.
    pub(crate) fn spoken(&self) -> Spoken {
        let asked = match self {
            Self::Check(check) => Some(&check.judge.spoken),
            Self::Year(year) => Some(&year.judge.spoken),
            Self::Why(why) => Some(&why.judge.spoken),
            Self::New(new) => Some(&new.spoken),
            Self::Draw(draw) => Some(&draw.judge.spoken),
            Self::Diff(diff) => Some(&diff.judge.spoken),
            _ => None,
        };
        asked.cloned().unwrap_or_else(|| Spoken { language: "en".to_owned() })
    }
}

/// `serve`.
#[cfg(feature = "office")]
#[derive(Debug, Args)]
pub(crate) struct Serve {
    /// Folder of job files to open
    #[arg(default_value = "jobs", value_name = "FOLDER")]
    pub jobs: PathBuf,
    /// Port; 0 takes any that is free
    #[arg(long, default_value_t = 4180)]
    pub port: u16,
    /// Folder of the built page
    #[arg(long, default_value = "page/dist", value_name = "FOLDER")]
    pub page: PathBuf,
    /// Address to listen at; anything but this machine's own lets others on the network read the folder
    #[arg(long, default_value = "127.0.0.1")]
    pub address: std::net::IpAddr,
}

/// Fewest draws, as of the key `settings.draws`.
const FEWEST: u32 = 16;

/// No draws, or as many as a job may ask for.
fn none_or_enough(draws: u32) -> Result<u32, String> {
    if draws == 0 || draws >= FEWEST { Ok(draws) } else { Err(format!("0, or {FEWEST}..=65536")) }
}

/// Options that several commands share.
#[derive(Debug, Args)]
pub(crate) struct Judge {
    /// Draws over what is not known, 16 or more (else what the job says, else 1024); 0 takes the
    /// likely values alone
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(0..=65_536).try_map(none_or_enough))]
    pub draws: Option<u32>,
    /// Fan, terminal and duct library to use besides those the job names (TOML or CSV; repeatable)
    #[arg(long = "library", value_name = "FILE")]
    pub libraries: Vec<PathBuf>,
    /// Judge the design as first written, without the values found when it was built
    #[arg(long)]
    pub as_designed: bool,
    #[command(flatten)]
    pub spoken: Spoken,
}

/// What is spoken.
#[derive(Debug, Clone, Args)]
pub(crate) struct Spoken {
    /// Language of what is printed; what it has no words for yet is said in English
    #[arg(long, value_name = "CODE", default_value = "en", value_parser = PossibleValuesParser::new(LANGUAGES))]
    pub language: String,
}

impl Spoken {
    /// The speaker of the language, in the units of a report.
    pub(crate) fn speaker(&self, show: &str) -> Speaker {
        let language = Catalogue::built_in(&self.language).unwrap_or_else(Catalogue::english);
        Speaker::new(Arc::new(language), show)
    }
}

/// `check`.
#[derive(Debug, Args)]
pub(crate) struct Check {
    /// The job file
    pub job: PathBuf,
    /// Print the report as JSON (see `schema report`)
    #[arg(long)]
    pub json: bool,
    /// Show every finding in full, also those that hold, and every candidate
    #[arg(long)]
    pub all: bool,
    /// Follow the rooms through a year too (see `year`)
    #[arg(long)]
    pub year: bool,
    /// Write the course of each room through its design shower, and with `--year` through the year, into this
    /// folder: ROOM-shower.csv, ROOM-year.csv
    #[arg(long, value_name = "FOLDER")]
    pub csv: Option<PathBuf>,
    #[command(flatten)]
    pub judge: Judge,
}

/// `year`.
#[derive(Debug, Args)]
pub(crate) struct Year {
    /// The job file; it names the weather (`site.weather`, `site.climate` or `site.months`)
    pub job: PathBuf,
    /// Print the whole report as JSON, the year included (see `schema report`)
    #[arg(long)]
    pub json: bool,
    /// Write the course of each room through its design shower and through the year into this folder:
    /// ROOM-shower.csv, ROOM-year.csv. A file that is there already is replaced only if an earlier run wrote it
    #[arg(long, value_name = "FOLDER")]
    pub csv: Option<PathBuf>,
    #[command(flatten)]
    pub judge: Judge,
}

/// `why`.
#[derive(Debug, Args)]
pub(crate) struct Why {
    /// The job file
    pub job: PathBuf,
    /// The finding, for example `airflow.delivered`; `airflow.delivered/hall-bath` for one subject; a figure of a year
    /// by its place in the report too, for example `rooms.hall-bath.year.fan_h`
    pub finding: String,
    #[command(flatten)]
    pub judge: Judge,
}

/// `new`.
#[derive(Debug, Args)]
pub(crate) struct New {
    /// Where to write it; printed when left out. With `--sheet`, the job that the sheet is for
    pub file: Option<PathBuf>,
    /// Print a survey sheet instead: what to measure and photograph, made from what the job still lacks
    /// (of the starter job when none is named)
    #[arg(long)]
    pub sheet: bool,
    /// Rule book in force, written into the starter; one from outside the United States makes it answer in metric
    #[arg(long, conflicts_with = "sheet", value_parser = PossibleValuesParser::new(dewpath_rulebook::builtin_ids()))]
    pub book: Option<String>,
    #[command(flatten)]
    pub spoken: Spoken,
}

/// `schema`.
#[derive(Debug, Args)]
pub(crate) struct Schema {
    /// Which schema
    pub of: SchemaOf,
    /// As a page to read instead of JSON (job only)
    #[arg(long)]
    pub markdown: bool,
}

/// Which schema.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum SchemaOf {
    /// The job file
    Job,
    /// The report of `check --json`
    Report,
}

/// `draw`.
#[derive(Debug, Args)]
pub(crate) struct Draw {
    /// The job file
    pub job: PathBuf,
    /// Folder to write the sheets to; it is made if need be, and sheets of an earlier time are replaced
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Write each sheet as DXF as well, in true millimetres
    #[arg(long)]
    pub dxf: bool,
    /// Follow the rooms through the year of the job's weather, and draw it month by month
    #[arg(long)]
    pub year: bool,
    /// Make sheets as wide as a phone held upright
    #[arg(long)]
    pub phone: bool,
    #[command(flatten)]
    pub judge: Judge,
}

/// `diff`.
#[derive(Debug, Args)]
pub(crate) struct Diff {
    /// The job as it was
    pub before: PathBuf,
    /// The job as it is
    pub after: PathBuf,
    #[command(flatten)]
    pub judge: Judge,
}

/// `completions`.
#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell
    pub shell: clap_complete::Shell,
}

/// Reads the command line; prints help or a message and ends the program where clap says so.
pub(crate) fn parse() -> Arguments {
    Arguments::parse()
}
