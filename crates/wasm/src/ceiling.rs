//! Drawings of a job, and the housing under a finger.

use std::cell::RefCell;
use std::rc::Rc;

use dewpath_drawing::{Page, Sheet, Subject};
use dewpath_folder::Opened;
use dewpath_job::model::Show;
use dewpath_propose::drag::Drag;
use dewpath_report::{Clearing, Figure, Finding, Outlet, Placement, Triple, Verdict};
use dewpath_words::Speaker;
use serde::{Deserialize, Serialize};

use crate::language::speaker;

/// How wide drawings are.
#[derive(Debug, Clone, Copy, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// 180 mm.
    Paper,
    /// 96 mm, for a phone held upright.
    Phone,
}

impl From<Paper> for Page {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::Paper => Self::Paper,
            Paper::Phone => Self::Phone,
        }
    }
}

/// A drawing.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Drawing {
    /// Name: small letters, figures and hyphens. It begins with what is drawn: `plan`, `section`, `pressure` and so on.
    pub name: String,
    /// Title.
    pub title: String,
    /// What it shows, for who can't see it.
    pub describes: String,
    /// SVG that takes its style sheet from the page.
    pub svg: String,
    /// Width and height of the paper, mm.
    pub size_mm: [f64; 2],
    /// Of a plan: where the origin of the dwelling lies, mm from the left and from the top.
    pub origin_mm: Option<[f64; 2]>,
    /// Of a plan: paper for a metre, mm.
    pub mm_per_m: Option<f64>,
}

impl From<Sheet> for Drawing {
    fn from(sheet: Sheet) -> Self {
        Self {
            svg: sheet.svg_for_page(),
            size_mm: [sheet.scene.width, sheet.scene.height],
            origin_mm: sheet.ground.map(|ground| ground.origin_mm),
            mm_per_m: sheet.ground.map(|ground| ground.mm_per_m),
            name: sheet.name,
            title: sheet.title,
            describes: sheet.describes,
        }
    }
}

/// The place nearest to a finger.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Seat {
    /// The place, with the patch that takes it.
    pub placement: Placement,
    /// How far it is off its wish along x and along y, and altogether, in the reader's units.
    pub off: [String; 3],
    /// The way outdoors from there, at the likely values; none where none leads to the way out that is held to, or too little is
    /// known.
    pub way: Option<Followed>,
}

/// A way outdoors that follows the housing under a finger: what is shown of it while it moves.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Followed {
    /// Way out that it takes.
    pub way_out: String,
    /// Corners of its centre line, x, y and z in metres.
    pub line_m: Vec<[f64; 3]>,
    /// Number of its elbows.
    pub elbows: usize,
    /// Whether it gives enough air, breaking nothing.
    pub verdict: Verdict,
    /// The room through its design shower with it.
    pub clearing: Option<Clearing>,
    /// What that leaves in its duct and at the housings, without workings.
    pub water: Vec<Finding>,
    /// Its length, in the reader's units.
    pub length: String,
    /// Air that it delivers, in the reader's units.
    pub air: Option<String>,
}

/// The spot of a terminal nearest to a hand.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Spot {
    /// The spot, with the patch that takes it.
    pub outlet: Outlet,
    /// How far it is from the least corner of its window along x and along y, in the reader's units.
    pub along: [String; 2],
}

/// Draws everything that can be drawn, the curves of fans with the bands of so many draws.
pub(crate) fn draw(opened: &Opened, draws: u32, paper: Paper) -> Vec<Drawing> {
    let Opened { job, world, .. } = opened;
    let mut report = dewpath_engine::evaluate(job, world, draws);
    let speaker = speaker(&report.show);
    speaker.put_into_words(&mut report);
    let courses = dewpath_engine::courses(job, world, false);
    let curves =
        dewpath_engine::fan_curves(job, world, draws.min(dewpath_propose::select::SELECT_DRAWS));
    let subject =
        Subject { report: &report, job: Some(job), courses: Some(&courses), curves: &curves };
    dewpath_drawing::sheets(&speaker, &subject, paper.into())
        .into_iter()
        .map(Drawing::from)
        .collect()
}

/// What a finger holds: the housing of a fan, and the way outdoors that it is held to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Grip {
    pub fan: String,
    pub way_out: Option<String>,
    pub duct: Option<String>,
}

/// What was taken in hand last, and of which job.
struct Kept {
    opened: Rc<Opened>,
    grip: Grip,
    hand: Option<Drag>,
}

thread_local! {
    /// At every step of a finger the same housing is asked for, and taking it in hand costs more than the step.
    static LAST: RefCell<Option<Kept>> = const { RefCell::new(None) };
}

/// The legal place of a housing nearest to a spot, and the way outdoors from there; none where it hangs nowhere or too little is
/// known.
pub(crate) fn near(opened: &Rc<Opened>, grip: Grip, at_m: [f64; 2]) -> Option<Seat> {
    let Opened { job, world, .. } = &**opened;
    let held = LAST.with_borrow_mut(|last| {
        let is_same = |kept: &Kept| Rc::ptr_eq(&kept.opened, opened) && kept.grip == grip;
        if !last.as_ref().is_some_and(is_same) {
            let [way_out, duct] = [&grip.way_out, &grip.duct].map(Option::as_deref);
            let hand = Drag::new(job, world, &grip.fan, way_out, duct);
            *last = Some(Kept { opened: Rc::clone(opened), grip, hand });
        }
        last.as_ref()?.hand.as_ref()?.at(job, world, at_m)
    })?;
    let metric = job.show == Show::Metric;
    let speaker = speaker(if metric { "metric" } else { "us" });
    let mut placement = held.placement;
    for message in placement.why.iter_mut().chain(&mut placement.fastening) {
        message.text = speaker.message(message);
    }
    let [x, y] = placement.offset_xy_m;
    let off = [x, y, placement.offset_m].map(|metres| on_tape(&speaker, metric, metres));
    let (clearing, water) = (held.clearing, held.water);
    let way = held.way.map(|route| Followed {
        length: on_tape(&speaker, metric, route.length_m),
        air: route.delivered.as_ref().map(|air| speaker.likely(Figure::AirflowLS(air.airflow_l_s))),
        elbows: route.elbows.len(),
        way_out: route.way_out,
        line_m: route.line_m,
        verdict: route.verdict,
        clearing,
        water: water.into_iter().map(|finding| brief(&speaker, finding)).collect(),
    });
    Some(Seat { placement, off, way })
}

/// A finding as a moving hand shows it: a page reads it some twenty times a second.
fn brief(speaker: &Speaker, mut finding: Finding) -> Finding {
    finding.working.clear();
    finding.todo.clear();
    speaker.put_finding(&mut finding);
    finding
}

/// The spot of a terminal nearest to a hand; none where the window of the way out is not known.
pub(crate) fn spot(
    Opened { job, world, .. }: &Opened,
    way: &str,
    at_m: Option<[f64; 2]>,
    level_m: Option<f64>,
) -> Option<Spot> {
    let mut outlet = dewpath_propose::outlet::near_outlet(job, world, way, at_m, level_m)?;
    let metric = job.show == Show::Metric;
    let speaker = speaker(if metric { "metric" } else { "us" });
    for finding in &mut outlet.short {
        finding.message.text = speaker.message(&finding.message);
        speaker.put_source(&mut finding.source);
    }
    for source in outlet.clearances.iter_mut().flat_map(|near| &mut near.source) {
        speaker.put_source(source);
    }
    let corner = outlet.window_m[0];
    let along = [0, 1].map(|i| on_tape(&speaker, metric, outlet.at_m[i] - corner[i]));
    Some(Spot { outlet, along })
}

/// What is read off a tape held to ceiling or wall: sixteenths or millimetres.
fn on_tape(speaker: &Speaker, metric: bool, metres: f64) -> String {
    speaker.likely(if metric {
        Figure::GapMm(Triple::exact(1000.0 * metres))
    } else {
        Figure::LengthM(Triple::exact(metres))
    })
}
