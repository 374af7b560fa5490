//! The checked job: everything the contractor wrote down, parsed into quantities, with its origin.
//!
//! Nothing here is compulsory beyond what the types say: a value that was left out is `None`, one
//! that was written as `"unknown"` is `Some` of an unknown. The two are kept apart so that the
//! assumptions list can say "not written" or "said to be unknown".

use dewpath_message::slot::Reference;
use dewpath_units::Style;

use crate::category::category;
use crate::diagnostic::Diagnostic;
use crate::keys::Keys;
use crate::read::{Context, Reader};
use crate::say;

mod duct;
mod dwelling;
mod evidence;
mod existing;
mod fan;
mod framing;
mod library;
mod overlay;
mod part;
mod plan;
mod room;
mod run;
mod scenario;
mod site;
mod space;
mod terminal;
mod usage;
mod way_out;

pub use crate::value::*;
pub use duct::*;
pub use dwelling::*;
pub use evidence::*;
pub use existing::*;
pub use fan::*;
pub use framing::*;
pub use library::*;
pub use overlay::*;
pub use part::*;
pub use plan::*;
pub use room::*;
pub use run::*;
pub use scenario::*;
pub use site::*;
pub use space::*;
pub use terminal::*;
pub use usage::*;
pub use way_out::*;

/// A whole job, checked: ids are unique, references resolve, values are possible.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(
    name = "",
    written = "the top of the file",
    doc = "The keys at the top stand above the first [section]."
)]
pub struct Job {
    /// Version of the job-file format.
    #[key(format, example = 1)]
    pub format: u32,
    /// What you call the job; the file name when left out.
    #[key(example = "Hall bath, new fan")]
    pub name: String,
    /// The day of the job: it stands on every drawing. Year, month, day; with or without quotes. When left out
    /// the drawings say that it is not written: today is never taken for it.
    #[key(example = "2026-03-14")]
    pub date: Option<Day>,
    /// Units of the output. Input may mix both systems freely. When left out, the system of the named rule book's
    /// country is used, and that is said in a warning.
    #[key(example = "us", read = read_show)]
    pub show: Show,
    /// What kind of work this is: everything new, an old fan swapped, or a call-back about something built. New
    /// when left out.
    #[key(or = Work::New, example = "new")]
    pub work: Work,
    /// Id of the rule book that is in force. Local rules and the authority on site always go first.
    #[key(example = "us-irc-2021")]
    pub rule_book: Option<String>,
    /// Further rule books whose answers are shown beside.
    #[key(example = ["us-ashrae-62.2"])]
    pub also_show: Vec<String>,
    /// Files with local amendments, laid over the rule book in this order.
    #[key(example = ["town-amendment.toml"])]
    pub amendments: Vec<String>,
    /// Files with your own fans, terminals and ducts, relative to the job file.
    #[key(name = "library", example = ["library/demo.toml"])]
    pub libraries: Vec<String>,
    /// Free notes; printed, never interpreted.
    #[key(example = ["key is under the mat"])]
    pub notes: Vec<String>,
    /// What could not be seen at the survey; printed, never interpreted.
    #[key(example = ["duct above the closet"])]
    pub not_seen: Vec<String>,
    /// Where the job is.
    #[key(example = { altitude = "640 ft" })]
    pub site: Site,
    /// The dwelling around the rooms.
    #[key(example = { kind = "house" })]
    pub dwelling: Dwelling,
    /// A room that is served.
    #[key(name = "room", example = { kind = "bathroom" })]
    pub rooms: Vec<Room>,
    /// A grille that is connected by a run to a fan elsewhere.
    #[key(name = "grille", example = { id = "hall-grille", room = "hall-bath" })]
    pub grilles: Vec<Grille>,
    /// A fan.
    #[key(name = "fan", example = { rated = "80 cfm" })]
    pub fans: Vec<Fan>,
    /// A point where runs meet.
    #[key(name = "junction", example = { id = "wye", kind = "wye" })]
    pub junctions: Vec<Junction>,
    /// A run of duct, in the direction of the air.
    #[key(name = "run", example = { length = "12 ft" })]
    pub runs: Vec<Run>,
    /// Where air leaves.
    #[key(name = "terminal", example = { kind = "wall cap" })]
    pub terminals: Vec<Terminal>,
    /// A part of a floor or ceiling in which members run one way at one spacing.
    #[key(
        example = { id = "joists", kind = "sawn joist", size = "2x10", spacing = "16 in", direction = "y" },
    )]
    pub framing: Vec<Framing>,
    /// A space that a duct may pass through.
    #[key(name = "space", example = { id = "attic-space", kind = "attic" })]
    pub spaces: Vec<Space>,
    /// Something that is in the way.
    #[key(name = "obstacle", example = { id = "ceiling-light", kind = "light" })]
    pub obstacles: Vec<Obstacle>,
    /// A way outdoors: where a terminal may lie, and what is drilled through.
    #[key(name = "way_out", example = { id = "north-wall", kind = "wall", facing = "+y" })]
    pub ways_out: Vec<WayOut>,
    /// A measured flow or pressure.
    #[key(name = "reading", example = { id = "r1", at = "fan", airflow = "42 cfm" })]
    pub readings: Vec<Reading>,
    /// Something seen or told.
    #[key(name = "symptom", example = { id = "s1", kind = "drip" })]
    pub symptoms: Vec<Symptom>,
    /// What is there and may have to stay when an old fan is swapped.
    #[key(example = { collar = "3 in" })]
    pub existing: Existing,
    /// Weather and use other than the reference case (calm, doors shut, fans on).
    #[key(name = "scenario", example = { id = "gale", wind = "25 mph" })]
    pub scenarios: Vec<Scenario>,
    /// A finding that you override, with the reason that is printed beside it.
    #[key(
        name = "override",
        example = { finding = "duct.length.table", reason = "maker's duct sheet on file" },
    )]
    pub overrides: Vec<Override>,
    /// A value that was found different when built; laid over the design when the job is read as built.
    #[key(example = { at = "run.run.length", value = "14 ft" })]
    pub built: Vec<Built>,
    /// How verdicts are drawn.
    #[key(example = { draws = 1024 })]
    pub settings: Settings,
}

impl Job {
    /// The whole job as bytes for a hash: equal jobs give equal bytes, on every machine, whatever the
    /// comments and layout of their files. Two different jobs give different bytes. The form is that of
    /// `Debug` and means nothing by itself.
    pub fn bytes_for_hash(&self) -> Vec<u8> {
        format!("{self:?}").into_bytes()
    }
}

category! {
    /// Unit system of the output.
    pub enum Show {
        /// Feet, inches, cfm, in. w.c.
        Us = "us",
        /// Metres, L/s, Pa.
        Metric = "metric",
    }
}

category! {
    /// What kind of work this is.
    pub enum Work {
        /// Everything is new.
        New = "new",
        /// An old fan is replaced; opening, duct, wire and access may have to stay.
        Swap = "swap",
        /// Something built does not work and the reason is sought.
        CallBack = "call-back",
    }
}

/// Units of the output; by the rule book's country where they are not written. From here on limits are printed in
/// them.
fn read_show(context: &mut Context<'_>, top: &Reader<'_>, name: &'static str) -> Show {
    let written = top.word(context, name);
    let show = if top.has(name) {
        written.unwrap_or(Show::Us)
    } else {
        by_rule_book(context, top.peek("rule_book"))
    };
    context.style = match show {
        Show::Us => Style::US,
        Show::Metric => Style::METRIC,
    };
    show
}

fn by_rule_book(context: &mut Context<'_>, rule_book: Option<&str>) -> Show {
    let (show, why) = match rule_book {
        Some(book) if !book.starts_with("us-") => (Show::Metric, say::ShowLeftOutKey::OtherBook),
        Some(_) => (Show::Us, say::ShowLeftOutKey::UsBook),
        None => (Show::Us, say::ShowLeftOutKey::NoBook),
    };
    let word = match show {
        Show::Us => "us",
        Show::Metric => "metric",
    };
    context.tell(
        Diagnostic::warning("show", 0..0, why.of(word))
            .help(say::WriteShow { line: Reference::new(format!("show = \"{word}\"")) }),
    );
    show
}
