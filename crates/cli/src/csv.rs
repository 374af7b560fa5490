//! Writes courses as tables for a spreadsheet: one file a room and course, units in the head.
//!
//! A file that is there already is replaced only if its first line is the head that this module writes; anything else is
//! somebody's own and is left alone.

use std::fmt::Write as _;
use std::fs::OpenOptions;
use std::io::{BufRead as _, BufReader, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use dewpath_report::{Courses, FanLevel, ShowerPoint, YearHour};

use crate::files::{Trouble, cannot, name};
use crate::say::{CannotKey, Hint, NotOurs};

const SHOWER: &str = "time_s,room_c,room_relative_humidity_percent,room_vapour_g_per_kg_dry_air,mirror_film_g_per_m2,fan,shower,door";
const YEAR: &str = "hour_of_year,month,day,hour_begins_h,outdoor_c,outdoor_relative_humidity_percent,house_c,house_relative_humidity_percent,room_c,room_relative_humidity_percent,coldest_surface_c,mirror_film_most_g_per_m2,fan_s";
const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Writes every course into a folder, which is made where it is not there, and names the files that were written.
pub(crate) fn write(folder: &Path, courses: &Courses) -> Result<Vec<PathBuf>, Trouble> {
    let mut tables: Vec<(PathBuf, &str, String)> = Vec::new();
    for course in &courses.showers {
        let path = folder.join(format!("{}-shower.csv", file_name(&course.room)));
        tables.push((path, SHOWER, table(SHOWER, course.points.iter().map(shower_row))));
    }
    for course in &courses.years {
        let path = folder.join(format!("{}-year.csv", file_name(&course.room)));
        let rows = course.hours.iter().enumerate().map(|(place, hour)| year_row(place, hour));
        tables.push((path, YEAR, table(YEAR, rows)));
    }
    std::fs::create_dir_all(folder)
        .map_err(|error| cannot(CannotKey::MakeFolder, folder, &error, Hint::NameFolder))?;
    // All are looked at before any is written.
    for (path, head, _) in &tables {
        is_free_or_ours(path, head)?;
    }
    tables.into_iter().map(|(path, _, text)| write_one(path, &text)).collect()
}

/// Ids may hold what a file name may not.
fn file_name(id: &str) -> String {
    let kept = |c: char| if c.is_alphanumeric() || c == '-' || c == '_' { c } else { '-' };
    id.chars().map(kept).collect()
}

fn is_free_or_ours(path: &Path, head: &str) -> Result<(), Trouble> {
    let file = match std::fs::File::open(path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(cannot_write(path, &error)),
    };
    let mut first = String::new();
    let mut start = BufReader::new(std::io::Read::take(file, 4096));
    // What is not text is not ours either.
    let ours = start.read_line(&mut first).is_ok() && first.trim_end() == head;
    if ours { Ok(()) } else { Err(not_ours(path)) }
}

fn not_ours(path: &Path) -> Trouble {
    let message = NotOurs { path: name(path) };
    Trouble::Other { message: message.into(), hint: Hint::MoveAway.into() }
}

fn cannot_write(path: &Path, error: &std::io::Error) -> Trouble {
    cannot(CannotKey::Write, path, error, Hint::NameFolder)
}

fn write_one(path: PathBuf, text: &str) -> Result<PathBuf, Trouble> {
    let put = || -> std::io::Result<()> {
        let mut file = OpenOptions::new().write(true).create(true).truncate(true).open(&path)?;
        file.write_all(text.as_bytes())
    };
    match put() {
        Ok(()) => Ok(path),
        Err(error) => Err(cannot_write(&path, &error)),
    }
}

fn table(head: &str, rows: impl Iterator<Item = String>) -> String {
    let mut text = format!("{head}\n");
    for row in rows {
        // Writing into a String cannot fail.
        let _ = writeln!(text, "{row}");
    }
    text
}

fn shower_row(p: &ShowerPoint) -> String {
    let fan = match p.fan {
        FanLevel::Off => "off",
        FanLevel::Low => "low",
        FanLevel::Full => "full",
    };
    let shower = if p.shower { "on" } else { "off" };
    let door = if p.door_open { "open" } else { "shut" };
    let mirror = p.mirror_g_m2.map_or_else(String::new, |film| format!("{film:.3}"));
    format!(
        "{:.0},{:.3},{:.2},{:.4},{mirror},{fan},{shower},{door}",
        p.time_s,
        p.room_c,
        100.0 * p.humidity_ratio,
        p.vapour_g_kg,
    )
}

fn year_row(place: usize, h: &YearHour) -> String {
    let (month, day) = date(place / 24);
    format!(
        "{place},{month},{day},{},{:.2},{:.1},{:.2},{:.1},{:.2},{:.1},{:.2},{:.2},{:.0}",
        place % 24,
        h.outdoor_c,
        100.0 * h.outdoor_humidity_ratio,
        h.dwelling_c,
        100.0 * h.dwelling_humidity_ratio,
        h.room_c,
        100.0 * h.humidity_ratio,
        h.coldest_surface_c,
        h.mirror_most_g_m2,
        h.fan_s,
    )
}

/// Month and day of the month of a day of the year, from 1.
fn date(mut day: usize) -> (usize, usize) {
    for (month, days) in DAYS.iter().enumerate() {
        if day < *days {
            return (month + 1, day + 1);
        }
        day -= days;
    }
    (12, 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_year_have_dates() {
        assert_eq!(date(0), (1, 1));
        assert_eq!(date(31), (2, 1));
        assert_eq!(date(58), (2, 28));
        assert_eq!(date(59), (3, 1));
        assert_eq!(date(364), (12, 31));
    }

    #[test]
    fn a_head_has_a_name_for_each_value() {
        let hour = YearHour {
            outdoor_c: 1.0,
            outdoor_humidity_ratio: 0.5,
            dwelling_c: 20.0,
            dwelling_humidity_ratio: 0.4,
            room_c: 21.0,
            humidity_ratio: 0.6,
            coldest_surface_c: 15.0,
            mirror_most_g_m2: 0.0,
            fan_s: 1800.0,
        };
        assert_eq!(year_row(0, &hour).split(',').count(), YEAR.split(',').count());
        let point = ShowerPoint {
            time_s: -300.0,
            room_c: 21.0,
            humidity_ratio: 0.5,
            vapour_g_kg: 8.0,
            mirror_g_m2: None,
            fan: FanLevel::Off,
            shower: false,
            door_open: true,
        };
        assert_eq!(shower_row(&point).split(',').count(), SHOWER.split(',').count());
    }
}
