//! What fans were measured to move, against the band that the program tells of them when it knows as little as was told.
//!
//! `DEWPATH_WRITE=1` writes `docs/measured.md` anew.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on must fail")]

use std::fmt::Write as _;
use std::path::Path;

use dewpath_units::Airflow;
use serde::Deserialize;
use serde_json::Value;

use crate::common::{dewpath, jobs, run};

/// A band from the 5th to the 95th percentile leaves out a tenth.
const LEFT_OUT: f64 = 0.10;
/// With fewer pairs than this no share of hits is told.
const ENOUGH_PAIRS: usize = 20;

#[derive(Deserialize)]
struct Pairs {
    pair: Vec<Pair>,
}

#[derive(Deserialize)]
struct Pair {
    case: String,
    job: String,
    room: String,
    rated: f64,
    measured: f64,
    known: String,
    before: [f64; 2],
    miss: Option<String>,
}

fn pairs() -> Vec<Pair> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/measured.toml");
    toml::from_str::<Pairs>(&std::fs::read_to_string(path).unwrap()).unwrap().pair
}

/// Interval score: the width of the band, and twenty times what the figure lies outside of it; less is better.
///
/// Source: Gneiting and Raftery 2007, Strictly proper scoring rules, Journal of the American Statistical Association 102,
/// equation 43 (from memory).
fn score([low, high]: [f64; 2], measured: f64) -> f64 {
    let outside = (low - measured).max(measured - high).max(0.0);
    high - low + 2.0 / LEFT_OUT * outside
}

/// The band of a job without its readings, cfm.
fn band(pair: &Pair) -> [f64; 2] {
    let text = std::fs::read_to_string(jobs().join("cases").join(&pair.job)).unwrap();
    let mut job: toml::Table = toml::from_str(&text).unwrap();
    job.remove("reading");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.toml");
    std::fs::write(&path, toml::to_string(&job).unwrap()).unwrap();
    let ran = run(dewpath().arg("check").arg(&path).arg("--json"));
    let report: Value = serde_json::from_str(&ran.out).unwrap();
    let rooms = report["rooms"].as_array().unwrap();
    let room = rooms.iter().find(|room| room["id"] == *pair.room).unwrap();
    ["low", "high"].map(|end| {
        let flow = room["delivered"]["airflow_l_s"][end].as_f64().unwrap();
        (Airflow::from_l_s(flow).cfm() * 10.0).round() / 10.0
    })
}

fn mean(scores: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = scores.len() as f64;
    scores.sum::<f64>() / count
}

fn page(pairs: &[Pair], bands: &[[f64; 2]]) -> String {
    let mut page = String::from(
        "# Measured against told\n\n\
         Fans of the field cases of which both the rating and a measured flow are told, and the band (5th to 95th percentile, 1,024 draws) \
         that the program tells of them when it knows as little as was told. cfm. The score is the width of the band and twenty times what \
         the measured flow lies outside of it (interval score, Gneiting and Raftery 2007): less is better. *Before*: as it was told before \
         doors, flaps and outlets were calibrated. Generated: `DEWPATH_WRITE=1 cargo nextest run -p dewpath-cli measured`.\n\n\
         | Case | Rated | Measured | Known | Before | Score | Now | Score | Why it misses |\n\
         | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    let told = |[low, high]: [f64; 2]| format!("{low:.0} to {high:.0}");
    for (pair, &now) in pairs.iter().zip(bands) {
        let Pair { case, rated, measured, known, before, miss, .. } = pair;
        let why = miss.as_deref().unwrap_or_default();
        let (was, is) = (score(*before, *measured), score(now, *measured));
        let (before, now) = (told(*before), told(now));
        writeln!(page, "| {case} | {rated} | {measured} | {known} | {before} | {was:.0} | {now} | {is:.0} | {why} |").unwrap();
    }
    let was = mean(pairs.iter().map(|pair| score(pair.before, pair.measured)));
    let is = mean(pairs.iter().zip(bands).map(|(pair, band)| score(*band, pair.measured)));
    writeln!(page, "\nMean score {was:.0} before, {is:.0} now.").unwrap();
    if pairs.len() < ENOUGH_PAIRS {
        writeln!(
            page,
            "{} pairs are too few to tell a share of hits: those that were measured are those that were doubted.",
            pairs.len()
        )
        .unwrap();
    }
    page
}

#[test]
fn measured_flows_lie_in_the_band_or_have_their_reason() {
    let pairs = pairs();
    let bands: Vec<[f64; 2]> = pairs.iter().map(band).collect();
    for (pair, band) in pairs.iter().zip(&bands) {
        let is_inside = band[0] <= pair.measured && pair.measured <= band[1];
        assert_eq!(is_inside, pair.miss.is_none(), "{}: {band:?}", pair.case);
    }
    let fresh = page(&pairs, &bands);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/measured.md");
    if std::env::var_os("DEWPATH_WRITE").is_some() {
        std::fs::write(&path, &fresh).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(kept, fresh, "docs/measured.md is not current: DEWPATH_WRITE=1 writes it anew");
}

#[test]
fn a_figure_outside_the_band_costs_twenty_times_what_it_lies_outside() {
    assert!((score([30.0, 50.0], 40.0) - 20.0).abs() < 1e-12);
    assert!((score([30.0, 50.0], 28.0) - 60.0).abs() < 1e-12);
    assert!((score([30.0, 50.0], 51.0) - 40.0).abs() < 1e-12);
}
