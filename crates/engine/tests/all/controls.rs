//! What a humidity control does about a shower: it starts, and it lets go.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test")]

use crate::common::{report, verdict};
use dewpath_report::{ControlResult, Report, Verdict};

/// A bathroom with its fan on a humidity control; `settings` is the inside of their table.
fn with(settings: &str) -> Report {
    let text = format!(
        "format = 1\nshow = \"us\"\nrule_book = \"us-irc-2021\"\n\
         site = {{ indoor = \"70 F\", outdoor = \"30 F\", humidity = \"45 %\" }}\n\
         [room]\nkind = \"bathroom\"\nlength = \"8 ft\"\nwidth = \"5 ft\"\nheight = \"8 ft\"\n\
         door = {{ width = \"28 in\", gap = \"3/4 in\" }}\n\
         use = {{ showers = 1, minutes = \"10 min\", at = [\"06:45\"], door = \"shut\", fan = \"never\" }}\n\
         [fan]\nrated = \"50 cfm at 0.25 inWC\"\nholds_flow = \"50 cfm\"\n\
         curve = [\"200 cfm at 0 Pa\", \"150 cfm at 600 Pa\", \"0 cfm at 1000 Pa\"]\n\
         control = \"humidity control\"\nsettings = {{ {settings} }}\n\
         [run]\nduct = \"smooth metal\"\nsize = \"4 in\"\nlength = \"6 ft\"\nelbows = 0\n\
         [terminal]\nkind = \"wall cap\"\n"
    );
    report(&text, 16)
}

fn control(report: &Report) -> &ControlResult {
    report.rooms[0].control.as_ref().unwrap()
}

/// Common practice, no source: a control that feels the rise runs through the shower and its run-on, and stops.
#[test]
fn a_rise_starts_the_fan_and_its_run_on_ends() {
    for run_on in [10.0, 30.0] {
        let settings = format!(
            "rise = \"3.5 %\", sampling = \"30 s\", lag = \"30 s\", sensor = \"wall\", run_on = \"{run_on} min\""
        );
        let report = with(&settings);
        let told = control(&report);
        assert!(told.starts_after_s.unwrap() <= 180.0, "{told:?}");
        let stops = told.stops_after_s.unwrap() / 60.0;
        assert!(stops >= run_on && stops <= run_on + 60.0, "{stops} min after {run_on} of run-on");
        assert_eq!(verdict(&report, "room.control.never-stops"), Verdict::Holds);
    }
}

/// 30 % is not to be had in a house at 45 %.
#[test]
fn a_set_point_below_the_house_never_lets_go() {
    let settings =
        "on_at = \"30 %\", band = \"5 %\", sampling = \"30 s\", lag = \"60 s\", sensor = \"wall\"";
    let report = with(settings);
    assert_eq!(control(&report).stops_after_s, None);
    assert_eq!(verdict(&report, "room.control.never-stops"), Verdict::Caution);
}

/// The longest run ends the fan whatever the sensor says.
#[test]
fn the_longest_run_is_kept() {
    let settings = "on_at = \"60 %\", band = \"5 %\", sampling = \"30 s\", lag = \"30 s\", \
                    sensor = \"wall\", max_run = \"25 min\"";
    let report = with(settings);
    let told = control(&report);
    let ran = told.stops_after_s.unwrap() + 600.0 - told.starts_after_s.unwrap();
    assert!((ran - 1500.0).abs() <= 61.0, "{ran} s of 1,500");
}
