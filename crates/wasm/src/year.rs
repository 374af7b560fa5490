//! The year of a job: its report, its tables and its drawings, from one pass through the weather.

use dewpath_drawing::Subject;
use dewpath_folder::Opened;
use dewpath_report::{Report, RoomYear};
use serde::Serialize;

use crate::ceiling::{Drawing, Paper};
use crate::language::speaker;

/// Drawings that show months, by the beginning of their name.
const OF_MONTHS: [&str; 2] = ["year-", "water-"];

/// A year, as a page shows it.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Year {
    /// The report with the year in it, at the likely values, put into words.
    pub report: Box<Report>,
    /// A table for each room that was followed, months down and a last row for the year.
    pub rooms: Vec<RoomTable>,
    /// Water left in each duct, a column each; none where none was followed.
    pub ducts: Option<Table>,
    /// The drawings that show months.
    pub sheets: Vec<Drawing>,
}

/// Months of a room.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RoomTable {
    /// Room, by its id.
    pub room: String,
    /// Name for people.
    pub name: String,
    /// Its months.
    pub table: Table,
    /// What the year costs; none where a price is not written.
    pub cost: Option<String>,
}

/// A table as text, in the reader's units.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Table {
    /// What each column shows, and its unit.
    pub head: Vec<[String; 2]>,
    /// Cells, row by row; empty where nothing is known.
    pub rows: Vec<Vec<String>>,
}

impl From<dewpath_words::Table> for Table {
    fn from(dewpath_words::Table { head, rows }: dewpath_words::Table) -> Self {
        Self { head, rows }
    }
}

/// Follows a job through its year; `told` hears how much of it is over, above 0 to 1.
pub(crate) fn year(opened: &Opened, paper: Paper, told: &dyn Fn(f64)) -> Year {
    let Opened { job, world, .. } = opened;
    let mut report = dewpath_engine::evaluate_through_year_telling(job, world, 0, told);
    let speaker = speaker(&report.show);
    speaker.put_into_words(&mut report);
    let subject = Subject { report: &report, job: Some(job), courses: None, curves: &[] };
    let sheets = dewpath_drawing::sheets(&speaker, &subject, paper.into())
        .into_iter()
        .filter(|sheet| OF_MONTHS.iter().any(|begin| sheet.name.starts_with(begin)))
        .map(Drawing::from)
        .collect();
    let table = |year: &RoomYear| speaker.year_table(year).into();
    let rooms = report.rooms.iter().filter_map(|room| {
        let year = room.year.as_ref()?;
        let cost = year.cost.as_ref().map(|money| speaker.money(money));
        Some(RoomTable { room: room.id.clone(), name: room.name.clone(), table: table(year), cost })
    });
    let rooms = rooms.collect();
    let ducts = speaker.duct_table(&report.runs).map(Table::from);
    Year { report: Box::new(report), rooms, ducts, sheets }
}
