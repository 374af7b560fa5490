//! A changed job and the text that its patch makes are one: over every job of the repository, and over random changes.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests stand outside of test functions"
)]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use dewpath_job::category::Category as _;
use dewpath_job::edit::Edit;
use dewpath_job::model::{
    Built, Day, DuctGiven, DuctKind, Fan, FanData, Jacket, Job, Override, Part, PartKind,
    RatedPoint, Room, Run, RunShape, Section, SlopeTo, Work,
};
use dewpath_job::{diff, patch, read};
use dewpath_units::{Airflow, Angle, Choice, Length, Origin, Pressure, Ratio, Stated, Uncertain};
use proptest::prelude::*;

/// Every text of a job in the repository, by name.
fn texts() -> Vec<(String, String)> {
    let jobs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../jobs");
    let folders = [jobs.clone(), jobs.join("cases"), jobs.join("../crates/cli/tests/practice")];
    let mut files: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    let named = files.into_iter().map(|path| {
        (
            path.file_name().unwrap().to_string_lossy().into_owned(),
            std::fs::read_to_string(path).unwrap(),
        )
    });
    named.filter(|(name, text)| read(name, text).is_ok()).collect()
}

fn job(text: &str) -> Job {
    read("job.toml", text).unwrap_or_else(|told| panic!("{text}\n{told}")).job
}

fn written(text: &str) -> BTreeMap<String, String> {
    diff::values("job.toml", text).unwrap()
}

/// Changes a job and its text, and compares the two.
#[track_caller]
fn changed(text: &str, change: impl FnOnce(&mut Job)) -> (Edit, String) {
    let edit = Edit::of(&job(text), &written(text), change);
    let after = patch::apply(text, &edit.patch)
        .unwrap_or_else(|wrong| panic!("{wrong}\n{:#?}\n{text}", edit.patch));
    assert_eq!(job(&after), edit.job, "{:#?}\n{after}", edit.patch);
    (edit, after)
}

/// Everything that a job says is written into an empty one, and read again.
#[test]
fn every_job_is_written_as_it_is_read() {
    let texts = texts();
    assert!(texts.len() > 80, "{}", texts.len());
    for (name, text) in texts {
        let whole = job(&text);
        let show = whole.show.word();
        let empty = format!("format = 1\nshow = \"{show}\"\n");
        let edit = Edit::of(&job(&empty), &written(&empty), |job| *job = whole.clone());
        let after = patch::apply(&empty, &edit.patch)
            .unwrap_or_else(|wrong| panic!("{name}: {wrong}\n{:#?}", edit.patch));
        assert_eq!(job(&after), whole, "{name}\n{after}");
    }
}

fn known<T>(value: T) -> Stated<Choice<T>> {
    Stated::new(Choice::Known(value), Origin::Written)
}

fn exact<T>(value: T, origin: Origin) -> Stated<Uncertain<T>> {
    Stated::new(Uncertain::Exact(value), origin)
}

fn piece(id: &str, length: Length, duct: DuctGiven) -> Part {
    let length = Some(exact(length, Origin::Written));
    Part { id: id.to_owned(), kind: PartKind::Piece { duct, length } }
}

const RUN: &str = r#"
format = 1
show = "us"
[[room]]
id = "bath"
kind = "bathroom"
[[fan]]
id = "fan"
rated = "80 cfm at 0.1 inWC"
[[run]] # from the fan
id = "duct"
duct = "flex"
pulled = "slack"
size = "4 in"
jacket = "foil" # looked at
length = "8..10 ft"
elbows = 2
[terminal]
id = "cap"
kind = "wall cap"
[[built]]
at = "run.duct.length"
value = "9 ft"
[[built]]
at = "run.duct.elbows"
value = 3
[[built]]
at = "fan.fan.loudness"
value = "2 sones"
"#;

#[test]
fn a_run_by_its_sum_becomes_parts_and_parts_become_others() {
    let smooth = DuctGiven {
        kind: Some(known(DuctKind::SmoothMetal)),
        size: Some(known(Section::Round(Length::from_inches(4.0)))),
        jacket: Some(Stated {
            note: Some("looked at".to_owned()),
            ..Stated::new(Choice::Known(Jacket::Foil), Origin::Measured)
        }),
        slope: Some(known(SlopeTo::Out)),
        ..DuctGiven::default()
    };
    let (_, text) = changed(RUN, |job| {
        let parts = vec![piece("a", Length::from_mm(2345.6), smooth.clone())];
        job.runs[0].shape = RunShape::Parts(parts);
    });
    assert!(text.contains("[[run]] # from the fan") && !text.contains("pulled"), "{text}");
    assert!(text.contains(r#"origin = "measured", note = "looked at""#), "{text}");
    // What the run says of its duct goes with the last part that it stood for.
    let of_run = RUN.replace(
        "length = \"8..10 ft\"\nelbows = 2\n",
        "part = [{ id = \"p\", piece = { length = \"9 ft\" } }]\n",
    );
    let (edit, text) = changed(&of_run, |job| {
        job.runs[0].shape =
            RunShape::Parts(vec![piece("a", Length::from_mm(50.0), smooth.clone())]);
    });
    assert!(edit.patch.remove.contains(&"run.duct.pulled".to_owned()), "{edit:#?}");
    // Another kind of part takes its place, one is added, and the run is told by its sum again.
    let (_, text) = changed(&text, |job| {
        let RunShape::Parts(parts) = &mut job.runs[0].shape else { panic!("parts") };
        let angle = Some(exact(Angle::from_deg(45.0), Origin::Assumed));
        parts[0].kind = PartKind::Elbow { make: None, angle, radius: None, size: None };
        parts.push(Part { id: "low".to_owned(), kind: PartKind::Trap });
    });
    let sum = job(RUN).runs[0].shape.clone();
    let (_, text) = changed(&text, |job| job.runs[0].shape = sum);
    assert_eq!(job(&text), job(RUN));
}

#[test]
fn elements_without_an_id_are_taken_out_from_the_last() {
    let (edit, _) = changed(RUN, |job| job.built.retain(|built| built.at.starts_with("fan")));
    assert_eq!(edit.patch.remove, ["built.3", "built.2"]);
    changed(RUN, |job| job.built.clear());
    changed(RUN, |job| {
        job.built[1].photo = Some("IMG \"1\".jpg".to_owned());
        job.built.push(Built {
            at: "name".to_owned(),
            value: "7".to_owned(),
            date: None,
            photo: None,
        });
    });
}

/// A change of one thing wherever a job has it.
fn change(job: &mut Job, which: u32, size: f64, digits: u32) {
    let (length, text) = (Length::from_m(size), digits.to_string());
    match which {
        0 => job.name = text,
        1 => job.notes.push(text),
        2 => job.work = Work::CallBack,
        3 => job.date = Day::new(2026, 1 + (digits % 12) as u8, 7),
        4 => job.built.clear(),
        5 => job.settings.holds_at = 0.5 + 0.5 / (1.0 + size),
        6 => job.framing.clear(),
        7 => job.site.altitude = None,
        8 => job.dwelling.appliances.clear(),
        9 => {
            job.overrides.push(Override { finding: "air".to_owned(), subject: None, reason: text });
        }
        10 => job.ways_out.iter_mut().for_each(|way| way.near.truncate(1)),
        11 => job.terminals.iter_mut().for_each(|end| end.flap = None),
        12 | 13 => job.rooms.iter_mut().for_each(|room| change_room(room, which, length)),
        14 | 15 => job.runs.iter_mut().for_each(|run| change_run(run, which, length)),
        _ => job.fans.iter_mut().for_each(|fan| change_fan(fan, which, size)),
    }
}

fn change_room(room: &mut Room, which: u32, length: Length) {
    if which == 12 {
        room.length = Some(exact(length, Origin::Measured));
    } else {
        room.door.gap = None;
    }
}

fn change_run(run: &mut Run, which: u32, length: Length) {
    if which == 14 {
        let rise = Uncertain::Range { low: -length, high: length };
        run.rise = Some(Stated::new(rise, Origin::Assumed));
    } else {
        let section = Section::Oval(Length::from_mm(150.0 + length.m()), Length::from_mm(100.0));
        let duct = DuctGiven { size: Some(known(section)), ..DuctGiven::default() };
        run.shape = RunShape::Parts(vec![piece("new", length, duct)]);
    }
}

fn change_fan(fan: &mut Fan, which: u32, size: f64) {
    let length = Length::from_m(size);
    match which {
        16 => fan.data = FanData::default(),
        17 => {
            let pressure = Uncertain::Range {
                low: Pressure::from_pa(size),
                high: Pressure::from_pa(size + 1.0),
            };
            fan.data.rated = vec![RatedPoint {
                airflow: exact(Airflow::from_m3_s(size / 100.0), Origin::Label),
                pressure: Some(Stated::new(pressure, Origin::Label)),
            }];
            fan.data.curve.clear();
        }
        18 => {
            fan.at = Some(known([-length, length]));
            fan.rotation = Some(exact(Angle::from_rad(size.min(6.0)), Origin::Written));
        }
        _ => {
            let speed = exact(Ratio::from_ratio((0.1 + size / 20.0).min(1.0)), Origin::Assumed);
            fan.data.speed = Some(Stated { date: Some("2026-03-01".to_owned()), ..speed });
        }
    }
}

thread_local! {
    static TEXTS: Vec<(String, String)> = texts();
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases / 2, ..ProptestConfig::default() })]

    /// Whatever is changed, in whichever job: the text that was patched reads as the job that was changed.
    #[test]
    fn any_change_of_a_job_is_that_of_its_text(
        which in any::<prop::sample::Index>(),
        changes in prop::collection::vec((0..20_u32, 0.7..9.0_f64, 0..2000_u32), 1..5),
    ) {
        let (name, text) = TEXTS.with(|texts| which.get(texts).clone());
        let edit = Edit::of(&job(&text), &written(&text), |job| {
            for (which, size, digits) in &changes {
                change(job, *which, *size, *digits);
            }
        });
        let after = patch::apply(&text, &edit.patch)
            .unwrap_or_else(|wrong| panic!("{name}: {wrong}\n{:#?}\n{text}", edit.patch));
        // Some make a job that can't be.
        let read = read("job.toml", &after);
        prop_assume!(read.is_ok());
        prop_assert_eq!(read.unwrap().job, edit.job, "{} {:?}\n{}", name, changes, after);
    }
}
