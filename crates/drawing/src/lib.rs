//! Drawings and charts of a job, to scale, as SVG and DXF.
//!
//! Each kind of drawing is a function that takes a plain
//! description and gives a [`Sheet`]. [`scene`] holds what a sheet shows, in millimetres of
//! paper; [`svg`] and [`dxf`] write it down.
//!
//! Labels never lie on each other: where there is no room beside a thing, a line leads to its label, and where
//! there is no room at all the label becomes a note below.
//!
//! **Must never know**: files, screens, how anything was worked out.

mod board;
mod chart;
pub mod dxf;
pub mod font;
mod hatch;
mod paper;
pub mod pen;
mod place;
mod rect;
mod rows;
pub mod scale;
pub mod scene;
mod sheet;
mod stamp;
mod survey;
pub mod svg;
mod voice;

pub use paper::{Ground, Page, Sheet};
pub use sheet::bore::bore;
pub use sheet::fan::{FanView, fan};
pub use sheet::outside::{Near, OutsideView, outside};
pub use sheet::plan::{Plan, PlanBlock, PlanHousing, PlanView, PlanWay, plan};
pub use sheet::pressure::pressure;
pub use sheet::room::{RoomTrace, trace, year};
pub use sheet::section::{Fall, Jacket, SectionView, Stretch, section};
pub use sheet::water::water;
pub use voice::Voice;

use std::collections::BTreeSet;

use dewpath_job::model::Job;
use dewpath_report::{Courses, FanCurves, Report};
use dewpath_words::Speaker;

/// What sheets are drawn from. What is left out leaves out the sheets that need it.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// What was judged.
    pub report: &'a Report,
    /// The job: ceiling plans, sections along the runs as they are written, directions at outlets.
    pub job: Option<&'a Job>,
    /// The rooms through their shower.
    pub courses: Option<&'a Courses>,
    /// The curves of the fans.
    pub curves: &'a [FanCurves],
}

/// Every sheet that can be drawn, in the order in which they are read, each with its title block.
pub fn sheets(speaker: &Speaker, subject: &Subject<'_>, page: Page) -> Vec<Sheet> {
    let Subject { report, job, courses, curves } = *subject;
    let voice = &Voice::new(speaker);
    let mut all = Vec::new();
    let plans = job.map(|job| survey::plans(job, report)).unwrap_or_default();
    all.extend(plans.iter().filter_map(|view| plan(voice, page, view)));
    for run in &report.runs {
        let written = job.and_then(|job| {
            let run = job.runs.iter().find(|written| written.id == run.id)?;
            section(voice, page, &SectionView::of_job(voice, job, run))
        });
        all.extend(written);
        all.extend(pressure(voice, page, run));
        all.extend(water(voice, page, run));
    }
    let ways = survey::ways(voice, job, report);
    all.extend(ways.iter().filter_map(|view| section(voice, page, view)));
    all.extend(
        curves
            .iter()
            .filter_map(|curves| fan(voice, page, &FanView::of_curves(curves, report, job))),
    );
    let showers = courses.map(|courses| courses.showers.as_slice()).unwrap_or_default();
    all.extend(showers.iter().filter_map(|course| {
        let room = report.rooms.iter().find(|room| room.id == course.room)?;
        trace(voice, page, &RoomTrace::of_course(course, room))
    }));
    all.extend(report.rooms.iter().filter_map(|room| year(voice, page, room)));
    all.extend(report.bores.iter().filter_map(|hole| bore(voice, page, hole)));
    let outlets = survey::outlets(voice, job, report);
    all.extend(outlets.iter().filter_map(|view| outside(voice, page, view)));
    distinct(&mut all);
    let count = all.len();
    for (place, sheet) in all.iter_mut().enumerate() {
        let written = stamp::Stamp {
            job: job.map(|job| job.name.as_str()),
            date: job.and_then(|job| job.date),
            sheet: [place + 1, count],
        };
        stamp::stamp(sheet, voice, written);
    }
    all
}

/// Gives every sheet a name of its own.
fn distinct(sheets: &mut [Sheet]) {
    let mut used: BTreeSet<String> = BTreeSet::new();
    for sheet in sheets {
        let mut name = sheet.name.clone();
        let mut count = 1;
        while !used.insert(name.clone()) {
            count += 1;
            name = format!("{}-{count}", sheet.name);
        }
        sheet.name = name;
    }
}
