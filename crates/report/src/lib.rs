//! The report: the contract that faces, other programs and tests rely on.
//!
//! Plain numbers carry their SI unit as a suffix from one closed list (`docs/nomenclature.md`). A field is always a plain
//! number or always a [`Triple`], never either. Sentences are carried as a [`Message`] (key and typed values); `text`
//! beside it is filled in by the `words` crate. Beside the report stand the courses and curves behind its figures, and
//! where a terminal lies under a hand, for faces that draw them.
//!
//! **Must never know**: how anything in it was worked out. It is data, with the schema of that data.
//!
//! Begin at [`Report`]; [`schema`] describes it to other programs.

mod brief;
mod building;
mod check;
mod courses;
mod curves;
mod dwelling;
mod fan;
mod finding;
mod outlet;
mod patch;
mod question;
mod room;
mod run;
pub mod say;

pub use dewpath_message::{Figure, Message, Triple, Value};
use schemars::{JsonSchema, Schema};
use serde::{Deserialize, Serialize};

pub use brief::{Answered, Brief, Outcome, Point, RoomAnswer, Task, TaskKind};
pub use building::{
    BlockPiece, Bore, ClearanceResult, Coursing, Elbow, Joint, Jointing, LowPoint, Penetration,
    Placement, RouteLeg, RouteResult, Supports,
};
pub use check::Check;
pub use courses::{Courses, FanLevel, ShowerCourse, ShowerPoint, YearCourse, YearHour};
pub use curves::{FanCurves, FanPoint, SystemPoint};
pub use dwelling::{
    DwellingResult, DwellingYear, PressureResult, TransferResult, WholeVentilation,
};
pub use fan::{
    Candidate, CandidateNote, CandidateRoom, Crossing, CurveOrigin, FanResult, OperatingPoint,
};
pub use finding::{Finding, Provenance, Source, Standing, Step, Verdict, WorkingInput};
pub use outlet::Outlet;
pub use patch::{PatchText, SetText};
pub use question::Question;
pub use room::{
    Clearing, ControlResult, Delivered, Money, Requirement, RoomMonth, RoomResult, RoomYear,
};
pub use run::{Condensate, InsulationNeed, Loss, PieceWater, RunResult};

/// JSON Schema (2020-12) of the report.
pub fn schema() -> Schema {
    schemars::schema_for!(Report)
}

/// Version of the report format.
pub const REPORT_FORMAT: u32 = 1;

/// A value that was not written and was taken from a default.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Assumption {
    /// Path of the value in the job, where it can be written.
    pub at: String,
    /// What it is.
    pub what: Message,
    /// Value taken.
    pub figure: Option<Figure>,
    /// Words taken, for categories.
    pub words: Vec<String>,
    /// Whether it was said to be unknown (rather than not written).
    pub said_unknown: bool,
    /// Source of the default.
    pub source: Source,
}

/// A thing worth looking at on site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LookNext {
    /// Path of the value in the job.
    pub at: String,
    /// What to measure or look at.
    pub what: Message,
    /// Share of the draws in which knowing it would settle the verdict.
    pub settles_ratio: f64,
    /// Time it takes, about (judgement).
    pub effort_h: f64,
    /// What it would settle.
    pub finding: Check,
    /// Subject of that finding.
    pub subject: String,
}

/// A result under weather or use other than the reference case.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ScenarioResult {
    /// Scenario id.
    pub id: String,
    /// Air delivered to each served room at the likely values; negative is air coming in.
    pub delivered: Vec<CandidateRoom>,
    /// The same at the likely values of the reference case, to compare with.
    pub calm: Vec<CandidateRoom>,
    /// What the scenario names and could not be taken into account, since something is not written.
    pub left_out: Vec<Message>,
}

/// A safety caution that the job touches.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SafetyCaution {
    /// Id, for example `combustion`.
    pub id: String,
    /// The caution.
    pub message: Message,
    /// Source.
    pub source: Source,
}

/// What the report was made from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorldHash {
    /// BLAKE3 of the job text.
    pub job: String,
    /// Rule book id and BLAKE3 of its resolved text with amendments.
    pub rule_book: Option<BookHash>,
    /// BLAKE3 of the library texts, in order.
    pub library: String,
    /// BLAKE3 of the hours of weather that the year was followed through, as they were read or made: temperature (°C), humidity
    /// ratio, pressure (Pa) and wind (m/s, -1 where there is none) of each hour in turn, as little-endian 64-bit numbers; absent
    /// where no year was asked for or no weather is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<String>,
}

/// A rule book and its hash.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BookHash {
    /// Book id.
    pub id: String,
    /// Title.
    pub title: String,
    /// Names of local amendments laid over it.
    pub amendments: Vec<String>,
    /// BLAKE3 of its resolved text.
    pub hash: String,
}

/// The overall answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Answer {
    /// Worst answer of the brief (cautions do not count).
    pub verdict: Verdict,
    /// One sentence a room: how much leaves, whether it is enough.
    pub messages: Vec<Message>,
}

/// The whole report.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Report {
    /// Version of the format.
    pub format: u32,
    /// Version of the engine.
    pub engine: String,
    /// Name of the job.
    pub name: String,
    /// `us` or `metric`: how texts show figures.
    pub show: String,
    /// Number of draws behind the triples; 0 is the likely values alone.
    pub draws_count: u32,
    /// What it was made from.
    pub world: WorldHash,
    /// What a person reads first.
    pub brief: Brief,
    /// The overall answer.
    pub answer: Answer,
    /// Required flows.
    pub requirement: Vec<Requirement>,
    /// Rooms.
    pub rooms: Vec<RoomResult>,
    /// Fans.
    pub fans: Vec<FanResult>,
    /// Runs.
    pub runs: Vec<RunResult>,
    /// The dwelling: pressures, ways in for air, ventilation.
    pub dwelling: Option<DwellingResult>,
    /// Places for each housing, best first.
    pub placements: Vec<Placement>,
    /// Ways outdoors for each fan, best first.
    pub routes: Vec<RouteResult>,
    /// Holes through members that the best ways bore, the worst of each zone; where no way is known, what crossing each zone would need.
    pub bores: Vec<Bore>,
    /// Holes through walls and roofs.
    pub penetrations: Vec<Penetration>,
    /// Distances at terminals and ways out.
    pub clearances: Vec<ClearanceResult>,
    /// Results under other weather or use.
    pub scenarios: Vec<ScenarioResult>,
    /// Fans of the library on this run.
    pub candidates: Vec<Candidate>,
    /// Checked points.
    pub findings: Vec<Finding>,
    /// Defaults that were used.
    pub assumptions: Vec<Assumption>,
    /// What to look at next, most useful first.
    pub look_next: Vec<LookNext>,
    /// Safety cautions.
    pub cautions: Vec<SafetyCaution>,
    /// Evidence recorded for later stages, by id.
    pub evidence: Vec<Message>,
    /// What could not be seen, as written.
    pub not_seen: Vec<String>,
    /// Notes of the job, as written.
    pub notes: Vec<String>,
}
