//! What the program answers in field cases, against what `docs/cases.md` expected beforehand.
//!
//! The expectations were taken from answers given in the field and from published rules before the engine
//! existed; `jobs/cases/expected.toml` (air), `jobs/cases/expected-dry.toml` (rooms, ducts and houses
//! through time) and `jobs/cases/expected-geometry.toml` (places, ways out, holes) hold them in a form that can be compared and explain their keys. A miss that is not on the
//! list fails, and so does a listed miss that has become a hit.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on must fail")]

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use dewpath_case::World;
use dewpath_engine::{evaluate, evaluate_through_year};
use dewpath_job::patch::{Patch, Set, apply};
use serde::Deserialize;
use serde_json::Value;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    id: String,
    sure: Sure,
    #[serde(default)]
    incomplete: bool,
    variant: Vec<Variant>,
}

#[derive(Deserialize, Clone, Copy, PartialEq, Debug)]
#[serde(rename_all = "snake_case")]
enum Sure {
    Firm,
    Fair,
    Weak,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Variant {
    name: String,
    job: String,
    #[serde(default)]
    set: Vec<(String, String)>,
    #[serde(default)]
    remove: Vec<String>,
    /// Whether the report of the year is asked for.
    #[serde(default)]
    year: bool,
    checks: Vec<Check>,
}

/// One expectation; which of the keys is there says what is compared.
#[expect(clippy::struct_excessive_bools, reason = "each is a key of the list, most often left out")]
#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
struct Check {
    finding: Option<OneOrMore>,
    subject: Vec<String>,
    verdict: Vec<String>,
    limit: Option<Range>,
    shows: Option<Range>,
    mentions: Option<String>,
    first: bool,
    all: bool,

    requirement: Option<String>,
    method: Option<String>,
    book: Option<String>,
    section: Option<String>,
    standing: Option<String>,
    or_absent: bool,

    delivered: Option<String>,
    of: Option<String>,

    loss: Option<String>,
    parts: Vec<String>,
    what: Vec<String>,
    pressure: Option<Range>,
    velocity: Option<Range>,
    largest: bool,

    fan_pressure: Option<String>,
    leaks: Option<String>,

    scenario: Option<String>,
    room: Option<String>,
    airflow: Option<Range>,

    clearing: Option<String>,
    or_never: bool,
    year: Option<String>,
    reachable: Option<String>,
    can: Vec<usize>,
    cannot_in: Vec<usize>,
    condensate: Option<OneOrMore>,
    insulation: Option<String>,
    or_none: bool,
    house: Option<String>,
    room_pressure: Option<String>,
    transfer: Option<String>,
    cause: Option<Cause>,
    not_first: bool,
    figure: Option<Range>,

    over: Option<String>,
    ratio: Option<[f64; 2]>,

    at: Option<String>,
    count: Option<[usize; 2]>,
    order: Vec<String>,
    no_limit: bool,
    ways: Vec<String>,

    look_next: Vec<String>,
    caution: Option<String>,
    none_fails: Option<String>,
    cannot: Option<String>,

    sure: Option<Sure>,
    why: String,
    miss: Option<String>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum OneOrMore {
    One(String),
    More(Vec<String>),
}

impl OneOrMore {
    fn list(&self) -> Vec<&str> {
        match self {
            Self::One(id) => vec![id],
            Self::More(ids) => ids.iter().map(String::as_str).collect(),
        }
    }
}

/// The four look-alikes of a drip.
#[derive(Deserialize, Clone, Copy, Debug)]
#[serde(rename_all = "kebab-case")]
enum Cause {
    Roof,
    Duct,
    Housing,
    OutdoorAir,
}

impl Cause {
    /// What the key of the finding's sentence says for it.
    fn word(self) -> &'static str {
        match self {
            Self::Roof => "roof",
            Self::Duct => "duct",
            Self::Housing => "housing",
            Self::OutdoorAir => "outdoor-air",
        }
    }
}

/// A least and a most in one unit: `{ cfm = [49.9, 50.1] }`.
type Range = BTreeMap<String, [f64; 2]>;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../jobs/cases")
}

fn page() -> String {
    std::fs::read_to_string(folder().join("../../docs/cases.md")).unwrap()
}

/// What is expected of the air.
const AIR: &str = "expected.toml";
/// What is expected of rooms, ducts and houses through time.
const THROUGH_TIME: &str = "expected-dry.toml";
/// What is expected of places, ways out, holes and clearances.
const GEOMETRY: &str = "expected-geometry.toml";

fn expected(name: &str) -> Expected {
    let text = std::fs::read_to_string(folder().join(name)).unwrap();
    toml::from_str(&text).unwrap_or_else(|wrong| panic!("{name}: {wrong}"))
}

/// The job files, by name without ending.
fn files() -> BTreeMap<String, String> {
    std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .map(|path| (path.file_stem().unwrap().to_str().unwrap().to_owned(), path))
        .filter(|(name, _)| !name.starts_with("expected"))
        .map(|(name, path)| (name, std::fs::read_to_string(path).unwrap()))
        .collect()
}

#[test]
fn every_case_file_reads() {
    let files = files();
    for (name, text) in &files {
        let read = dewpath_job::read(&format!("{name}.toml"), text)
            .unwrap_or_else(|wrong| panic!("{wrong}"));
        assert!(!read.job.name.is_empty(), "{name}");
        assert!(!read.job.rooms.is_empty(), "{name}: a case is about a room");
    }
    let used: BTreeSet<String> = [AIR, THROUGH_TIME, GEOMETRY]
        .into_iter()
        .flat_map(|name| expected(name).case)
        .flat_map(|case| case.variant.into_iter().map(|variant| variant.job))
        .collect();
    let there: BTreeSet<String> = files.into_keys().collect();
    assert_eq!(used, there, "every job file is compared, and every one that is named is there");
}

#[test]
fn every_variant_reads() {
    let files = files();
    for name in [AIR, THROUGH_TIME, GEOMETRY] {
        for case in expected(name).case {
            for variant in &case.variant {
                let text = patched(&files[&variant.job], variant);
                dewpath_job::read(&variant.job, &text)
                    .unwrap_or_else(|wrong| panic!("{}, {}: {wrong}", case.id, variant.name));
                let names: Vec<&str> = case.variant.iter().map(|v| v.name.as_str()).collect();
                for check in &variant.checks {
                    let of_year = check.year.is_some() || check.reachable.is_some();
                    assert!(variant.year || !of_year, "{}, {}: no year", case.id, variant.name);
                    let over = check.over.as_deref();
                    assert!(over.is_none_or(|over| names.contains(&over)), "{}: {over:?}", case.id);
                }
            }
        }
    }
}

/// The cases in the tables of a part of the page, with the sureness stated there.
fn stated(part: &str) -> BTreeMap<&str, (Sure, bool)> {
    part.lines()
        .filter_map(|line| {
            let cells: Vec<&str> = line.split('|').map(str::trim).collect();
            let [_, id, _, _, sure, _] = cells.as_slice() else { return None };
            let mut words = sure.split(", ");
            let word = match words.next()? {
                "firm" => Sure::Firm,
                "fair" => Sure::Fair,
                "weak" => Sure::Weak,
                _ => return None,
            };
            Some((*id, (word, words.next() == Some("incomplete"))))
        })
        .collect()
}

/// The page rules: every case of its tables is compared, with the sureness it states.
#[test]
fn every_case_of_the_page_is_compared() {
    let page = page();
    let (air, through_time) =
        page.split_once("\n## Rooms, ducts and houses through time\n").unwrap();
    let (through_time, geometry) = through_time.split_once("\n## Geometry\n").unwrap();
    let parts = [(air, AIR, 44), (through_time, THROUGH_TIME, 38), (geometry, GEOMETRY, 28)];
    for (part, name, least) in parts {
        let stated = stated(part);
        assert!(stated.len() >= least, "{name}: {}", stated.len());
        let list = expected(name);
        let compared: BTreeMap<&str, (Sure, bool)> =
            list.case.iter().map(|case| (case.id.as_str(), (case.sure, case.incomplete))).collect();
        assert_eq!(compared.len(), list.case.len(), "{name}: no case stands twice");
        assert_eq!(compared, stated, "{name}");
    }
}

/// Misses are told on the page, each under its case, and the page tells of no others.
#[test]
fn the_page_lists_the_known_misses() {
    let page = page();
    let (_, section) = page.split_once("\n## Misses\n").unwrap();
    let (air, through_time) = section.split_once("\n### Through time\n").unwrap();
    let (through_time, geometry) = through_time.split_once("\n### Of geometry\n").unwrap();
    for (part, name) in [(air, AIR), (through_time, THROUGH_TIME), (geometry, GEOMETRY)] {
        let told: BTreeSet<&str> = part
            .lines()
            .filter_map(|line| line.strip_prefix("| FC-"))
            .map(|rest| &rest[..3])
            .collect();
        let list = expected(name);
        let known: BTreeSet<&str> = list
            .case
            .iter()
            .filter(|case| {
                case.variant.iter().flat_map(|v| &v.checks).any(|check| check.miss.is_some())
            })
            .map(|case| &case.id[3..])
            .collect();
        assert_eq!(told, known, "{name}");
    }
}

#[test]
fn field_cases_are_answered_as_expected() {
    compare_all(AIR);
}

#[test]
fn cases_through_time_are_answered_as_expected() {
    compare_all(THROUGH_TIME);
}

#[test]
fn cases_of_geometry_are_answered_as_expected() {
    compare_all(GEOMETRY);
}

/// Compares every check of a list and prints the table.
#[expect(clippy::print_stdout, reason = "the table is what one reads the test for")]
fn compare_all(name: &str) {
    let files = files();
    let list = expected(name);
    let mut table = String::new();
    let mut wrong = Vec::new();
    let (mut hits, mut misses, mut whole) = (0, 0, 0);
    for case in &list.case {
        let reports: BTreeMap<&str, Result<Value, String>> = case
            .variant
            .iter()
            .map(|variant| (variant.name.as_str(), report(&files[&variant.job], variant)))
            .collect();
        let mut clean = true;
        for variant in &case.variant {
            for check in &variant.checks {
                let found = compare(check, &reports[variant.name.as_str()], &reports);
                clean &= found.is_ok();
                let word = if found.is_ok() { "hit" } else { "miss" };
                *(if found.is_ok() { &mut hits } else { &mut misses }) += 1;
                let came = found.as_ref().err().map(|came| format!(": {came}")).unwrap_or_default();
                let line = format!(
                    "{word:5}{} {:4} [{}] {}{came}",
                    case.id,
                    format!("{:?}", check.sure.unwrap_or(case.sure)).to_lowercase(),
                    variant.name,
                    asked(check)
                );
                writeln!(table, "{line}").unwrap();
                match (found, &check.miss) {
                    (Err(_), None) => wrong.push(format!("missed, and not on the list\n  {line}")),
                    (Ok(()), Some(reason)) => wrong
                        .push(format!("no longer a miss (\"{reason}\"): take it off\n  {line}")),
                    (Ok(()), None) | (Err(_), Some(_)) => {}
                }
            }
        }
        whole += u32::from(clean);
    }
    println!(
        "{table}\n{hits} hits, {misses} misses; {whole} of {} cases without a miss",
        list.case.len()
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The text of a job with what the variant lays over it.
fn patched(text: &str, variant: &Variant) -> String {
    let set = variant.set.iter().map(|(at, value)| Set { at: at.clone(), value: value.clone() });
    let patch = Patch { set: set.collect(), remove: variant.remove.clone() };
    apply(text, &patch).unwrap_or_else(|wrong| panic!("{}, {}: {wrong}", variant.job, variant.name))
}

/// The report of a variant as other programs see it, its sentences beside their keys, or why the job cannot be judged.
fn report(text: &str, variant: &Variant) -> Result<Value, String> {
    let text = patched(text, variant);
    let job = dewpath_job::read(&variant.job, &text)
        .unwrap_or_else(|wrong| panic!("{}: {wrong}", variant.name))
        .job;
    let book = |id: &String| dewpath_rulebook::load(id).map_err(|wrong| wrong.to_string());
    let world = World {
        rule_book: job.rule_book.as_ref().map(book).transpose()?,
        also_show: job.also_show.iter().map(book).collect::<Result<_, _>>()?,
        job_text: text,
        ..World::default()
    };
    let judge = if variant.year { evaluate_through_year } else { evaluate };
    let mut report = judge(&job, &world, job.settings.draws);
    dewpath_words::Speaker::us().put_into_words(&mut report);
    Ok(serde_json::to_value(report).unwrap())
}

type Reports<'a> = BTreeMap<&'a str, Result<Value, String>>;

/// Whether a check is met; if not, what came instead.
fn compare(check: &Check, report: &Result<Value, String>, all: &Reports<'_>) -> Result<(), String> {
    if check.cannot.is_some() {
        return Err("not told in the report, or not to be written in a job".to_owned());
    }
    let report = match report {
        Ok(report) => report,
        Err(_) if check.verdict.iter().any(|verdict| verdict == "bad input") => return Ok(()),
        Err(wrong) => return Err(format!("bad input: {wrong}")),
    };
    if let Some(ids) = &check.finding {
        return finding(check, &ids.list(), report);
    }
    if let Some(room) = &check.requirement {
        return requirement(check, room, report);
    }
    if let Some(room) = &check.delivered {
        return number(check, report, all, |report| {
            let delivered = &by_id(report, "rooms", room)?["delivered"]["airflow_l_s"];
            delivered[check.of.as_deref().unwrap_or("likely")].as_f64()
        });
    }
    if let Some(run) = &check.loss {
        return loss(check, run, report, all);
    }
    if let Some(fan) = &check.fan_pressure {
        return number(check, report, all, |report| {
            by_id(report, "fans", fan)?["operating_point"]["pressure_pa"]["likely"].as_f64()
        });
    }
    if let Some(found) = through_time(check, report, all) {
        return found;
    }
    if let Some(fan) = &check.leaks {
        return leaks(fan, report);
    }
    if let Some(scenario) = &check.scenario {
        return number(check, report, all, |report| {
            let rooms = &by_id(report, "scenarios", scenario)?["delivered"];
            let room =
                list(rooms).iter().find(|entry| entry["room"].as_str() == check.room.as_deref())?;
            room["airflow_l_s"]["likely"].as_f64()
        });
    }
    if let Some(at) = &check.at {
        return value_at(check, at, report);
    }
    if !check.ways.is_empty() {
        let found: Vec<&str> =
            list(&report["routes"]).iter().filter_map(|way| way["way_out"].as_str()).collect();
        let all = check.ways.iter().all(|way| found.contains(&way.as_str()));
        return all.then_some(()).ok_or(format!("ways {found:?}"));
    }
    if !check.look_next.is_empty() {
        let places: Vec<&str> =
            list(&report["look_next"]).iter().filter_map(|look| look["at"].as_str()).collect();
        let named =
            places.iter().any(|place| check.look_next.iter().any(|part| place.contains(part)));
        return named.then_some(()).ok_or(format!("look next: {places:?}"));
    }
    if let Some(id) = &check.caution {
        let ids: Vec<&str> =
            list(&report["cautions"]).iter().filter_map(|caution| caution["id"].as_str()).collect();
        return ids
            .iter()
            .any(|known| known.contains(id.as_str()))
            .then_some(())
            .ok_or(format!("{ids:?}"));
    }
    if let Some(start) = &check.none_fails {
        let fails: Vec<&str> = list(&report["findings"])
            .iter()
            .filter(|finding| finding["verdict"] == "fails")
            .filter_map(|finding| finding["id"].as_str())
            .filter(|id| id.starts_with(start.as_str()))
            .collect();
        return fails.is_empty().then_some(()).ok_or(format!("{fails:?}"));
    }
    panic!("a check in expected.toml says nothing that can be compared");
}

fn finding(check: &Check, ids: &[&str], report: &Value) -> Result<(), String> {
    let findings = list(&report["findings"]);
    let is = |finding: &Value| finding["id"].as_str().is_some_and(|id| ids.contains(&id));
    let found: Vec<&Value> = findings
        .iter()
        .filter(|finding| is(finding))
        .filter(|finding| {
            check.subject.is_empty() || check.subject.iter().any(|id| finding["subject"] == **id)
        })
        .collect();
    if found.is_empty() {
        let may = check.verdict.iter().any(|verdict| verdict == "absent");
        return may.then_some(()).ok_or("absent".to_owned());
    }
    let fits = |finding: &&Value| {
        let verdict = check.verdict.is_empty()
            || check.verdict.iter().any(|verdict| finding["verdict"] == **verdict);
        let limit = check.limit.as_ref().is_none_or(|range| shows(&finding["limit"], range));
        let shown = check.shows.as_ref().is_none_or(|range| shows(finding, range));
        let mentions = check
            .mentions
            .as_ref()
            .is_none_or(|text| finding.to_string().to_lowercase().contains(text.as_str()));
        let first = !check.first
            || findings
                .iter()
                .find(|other| is(other) && other["verdict"] == "fails")
                .is_some_and(|other| other == *finding);
        let limit = limit && (!check.no_limit || finding["limit"].is_null());
        let keys: Vec<&str> =
            list(&finding["todo"]).iter().filter_map(|todo| todo["key"].as_str()).collect();
        verdict && limit && shown && mentions && first && in_order(&check.order, &keys)
    };
    if if check.all { found.iter().all(fits) } else { found.iter().any(fits) } {
        return Ok(());
    }
    let came: Vec<String> = found
        .iter()
        .map(|finding| {
            format!(
                "{} {} {} figure {} limit {}",
                finding["id"],
                finding["subject"],
                finding["verdict"],
                finding["figure"],
                finding["limit"]
            )
        })
        .collect();
    Err(came.join("; "))
}

/// Whether all wanted keys stand there in this order.
fn in_order(wanted: &[String], keys: &[&str]) -> bool {
    let mut rest = keys.iter();
    wanted.iter().all(|wanted| rest.any(|key| key == wanted))
}

/// A value at a place of the report: a number in a range, the length of a list, or what it mentions.
fn value_at(check: &Check, at: &str, report: &Value) -> Result<(), String> {
    let value = report.pointer(at).unwrap_or(&Value::Null);
    if value.is_null() {
        return check.or_absent.then_some(()).ok_or(format!("nothing at {at}"));
    }
    let key = at.rsplit('/').find(|part| part.parse::<usize>().is_err()).unwrap_or_default();
    let unit = match key {
        "labour_h" => "time_h",
        "below_count" => "count",
        _ => "length_m",
    };
    let in_range = check.figure.is_none()
        || value.as_f64().is_some_and(|value| inside(value, unit, check.figure.as_ref()));
    let counted =
        check.count.is_none_or(|[least, most]| (least..=most).contains(&list(value).len()));
    let text = value.to_string().to_lowercase();
    let said = check.mentions.as_ref().is_none_or(|part| text.contains(part.as_str()));
    (in_range && counted && said).then_some(()).ok_or(format!("{at}: {text}"))
}

/// Rooms, ducts and houses through time; none when the check asks for something else.
fn through_time(check: &Check, report: &Value, all: &Reports<'_>) -> Option<Result<(), String>> {
    let of = check.of.as_deref().unwrap_or_default();
    let compared = |key: &str, of: &dyn Fn(&Value) -> Option<f64>| {
        let value = of(report).ok_or("no figure")?;
        in_range(check, all, value, key, of)
    };
    Some(if let Some(room) = &check.clearing {
        clearing(check, room, of, report, all)
    } else if let Some(room) = &check.year {
        let (name, key) = match of {
            "hours_above_80" => ("hours_above_80_h", "time_h"),
            "mould_peak" => ("mould_peak_ratio", "mould_ratio"),
            "fan" => ("fan_h", "time_h"),
            other => panic!("of the year of a room: {other:?}"),
        };
        compared(key, &|report| likely(&by_id(report, "rooms", room)?["year"][name]))
    } else if let Some(room) = &check.reachable {
        reachable(check, room, report)
    } else if let Some(runs) = &check.condensate {
        let name = format!("{of}_g");
        compared("mass_g", &|report| {
            let of_run = |run: &str| likely(&by_id(report, "runs", run)?["condensate"][&name]);
            runs.list().into_iter().map(of_run).sum()
        })
    } else if let Some(run) = &check.insulation {
        let need = by_id(report, "runs", run).map_or(&Value::Null, |run| &run["insulation"]);
        if need.is_object() && need["needed_rsi"].is_null() && check.or_none {
            return Some(Ok(()));
        }
        compared("insulation_rsi", &|report| {
            likely(&by_id(report, "runs", run)?["insulation"]["needed_rsi"])
        })
    } else if let Some(appliance) = &check.house {
        let place = |report: &Value| {
            let all = list(&report["dwelling"]["pressure"]);
            all.iter().find(|place| place["appliance"] == **appliance).cloned()
        };
        if let Some(range) = &check.limit {
            let limit = place(report).and_then(|place| place["limit_pa"].as_f64());
            if !limit.is_some_and(|limit| inside(limit, "pressure_pa", Some(range))) {
                return Some(Err(format!("limit {limit:?} Pa")));
            }
        }
        compared("pressure_pa", &|report| likely(&place(report)?["indoor_minus_outdoor_pa"]))
    } else if let Some(room) = &check.room_pressure {
        compared("pressure_pa", &|report| likely(&by_id(report, "rooms", room)?["pressure_pa"]))
    } else if let Some(room) = &check.transfer {
        compared("length_m", &|report| {
            let all = list(&report["dwelling"]["transfer"]);
            likely(&all.iter().find(|way| way["room"] == **room)?["gap_m"])
        })
    } else if let Some(wanted) = check.cause {
        cause(check, wanted, report)
    } else {
        return None;
    })
}

/// A number, or the likely one of three.
fn likely(value: &Value) -> Option<f64> {
    value.as_f64().or_else(|| value["likely"].as_f64())
}

/// The design shower of a room.
fn clearing(
    check: &Check,
    room: &str,
    of: &str,
    report: &Value,
    all: &Reports<'_>,
) -> Result<(), String> {
    let (section, name, key) = match of {
        "peak" => ("clearing", "peak_humidity_ratio", "humidity_ratio"),
        "mirror" => ("clearing", "mirror_time_s", "time_s"),
        "back" => ("clearing", "back_to_normal_time_s", "time_s"),
        "starts" => ("control", "starts_after_s", "time_s"),
        other => panic!("of a design shower: {other:?}"),
    };
    let of = |report: &Value| likely(&by_id(report, "rooms", room)?[section][name]);
    let value = of(report).ok_or("no figure")?;
    let followed = by_id(report, "rooms", room)
        .and_then(|room| room["clearing"]["followed_s"].as_f64())
        .unwrap_or(f64::INFINITY);
    if check.or_never && value >= followed {
        return Ok(());
    }
    in_range(check, all, value, key, &of)
}

/// Months in which a set-point can be reached, and in which it cannot.
fn reachable(check: &Check, room: &str, report: &Value) -> Result<(), String> {
    let months = by_id(report, "rooms", room)
        .map(|room| list(&room["control"]["reachable"]))
        .filter(|months| months.len() == 12)
        .ok_or("no twelve months")?;
    let is = |month: &usize, wanted: bool| months[month - 1] == wanted;
    let fits = check.can.iter().all(|month| is(month, true))
        && check.cannot_in.iter().all(|month| is(month, false));
    fits.then_some(()).ok_or(format!("{months:?}"))
}

/// What stands first among the causes of a drip.
fn cause(check: &Check, wanted: Cause, report: &Value) -> Result<(), String> {
    let first = list(&report["findings"])
        .iter()
        .find(|finding| finding["id"] == "drip.cause")
        .and_then(|finding| finding["message"]["key"].as_str())
        .ok_or("no cause is named")?;
    let is = first.ends_with(wanted.word());
    (is != check.not_first).then_some(()).ok_or(format!("first: {first}"))
}

/// A number in the range of its check, or its ratio to the same number of another variant.
fn in_range(
    check: &Check,
    all: &Reports<'_>,
    value: f64,
    key: &str,
    of: &dyn Fn(&Value) -> Option<f64>,
) -> Result<(), String> {
    let Some(over) = &check.over else {
        let fits = inside(value, key, check.figure.as_ref());
        return fits.then_some(()).ok_or(format!("{value:.3} ({key})"));
    };
    let [least, most] = check.ratio.unwrap();
    let other = all[over.as_str()].as_ref().ok().and_then(of).ok_or("the other has no figure")?;
    // Two zeros are alike; anything over nothing is more than any number.
    let ratio = if value == 0.0 && other == 0.0 { 1.0 } else { value / other };
    // Two rooms at 100 % differ in the seventh digit.
    let hair = 1e-6;
    (ratio >= least - hair && ratio <= most + hair)
        .then_some(())
        .ok_or(format!("{value:.3} over {other:.3} ({key}) is {ratio:.3}"))
}

fn requirement(check: &Check, room: &str, report: &Value) -> Result<(), String> {
    let within = |whole: &Value, part: &Option<String>| {
        part.as_ref()
            .is_none_or(|part| whole.as_str().is_some_and(|whole| whole.contains(part.as_str())))
    };
    let found: Vec<&Value> = list(&report["requirement"])
        .iter()
        .filter(|entry| entry["room"] == *room)
        .filter(|entry| within(&entry["method"], &check.method))
        .filter(|entry| within(&entry["source"]["book"], &check.book))
        .collect();
    let known: Vec<&&Value> =
        found.iter().filter(|entry| !entry["airflow_l_s"].is_null()).collect();
    if known.is_empty() {
        return check.or_absent.then_some(()).ok_or("no figure".to_owned());
    }
    let fits = |entry: &&&Value| {
        let likely = entry["airflow_l_s"]["likely"].as_f64().unwrap_or(f64::NAN);
        inside(likely, "airflow_l_s", check.airflow.as_ref())
            && within(&entry["source"]["section"], &check.section)
            && within(&entry["source"]["standing"], &check.standing)
    };
    if known.iter().any(fits) {
        return Ok(());
    }
    let came: Vec<String> = known
        .iter()
        .map(|entry| {
            format!(
                "{} {} L/s, {} {}",
                entry["method"],
                entry["airflow_l_s"]["likely"],
                entry["source"]["book"],
                entry["source"]["standing"]
            )
        })
        .collect();
    Err(came.join("; "))
}

/// Losses of the parts that are named, or of the kinds that are named, or of the whole run.
fn losses<'a>(check: &Check, run: &str, report: &'a Value) -> Option<Vec<&'a Value>> {
    let all = list(&by_id(report, "runs", run)?["losses"]);
    let named = |loss: &&Value| {
        let among = |words: &[String], key: &str| {
            words.is_empty() || words.iter().any(|word| loss[key] == **word)
        };
        among(&check.parts, "part") && among(&check.what, "what")
    };
    Some(all.iter().filter(named).collect())
}

fn loss(check: &Check, run: &str, report: &Value, all: &Reports<'_>) -> Result<(), String> {
    let likely = |loss: &Value| loss["pressure_pa"]["likely"].as_f64();
    if let Some(range) = &check.velocity {
        let speeds: Vec<f64> = losses(check, run, report)
            .unwrap_or_default()
            .iter()
            .filter_map(|loss| loss["velocity_m_s"]["likely"].as_f64())
            .collect();
        let fits = speeds.iter().any(|speed| inside(*speed, "velocity_m_s", Some(range)));
        return fits.then_some(()).ok_or(format!("{speeds:?} m/s"));
    }
    if check.largest {
        let largest = list(&by_id(report, "runs", run).ok_or("no such run")?["losses"])
            .iter()
            .max_by(|a, b| likely(a).unwrap_or(0.0).total_cmp(&likely(b).unwrap_or(0.0)))
            .ok_or("no losses")?;
        let is = check.parts.iter().any(|part| largest["part"] == **part);
        return is.then_some(()).ok_or(format!("{largest}"));
    }
    number(check, report, all, |report| {
        let found = losses(check, run, report)?;
        (!found.is_empty()).then(|| found.into_iter().filter_map(likely).sum())
    })
}

/// What the rooms give must be clearly less than what the fan moves.
fn leaks(fan: &str, report: &Value) -> Result<(), String> {
    let rooms: f64 = list(&report["rooms"])
        .iter()
        .filter_map(|room| room["delivered"]["airflow_l_s"]["likely"].as_f64())
        .sum();
    let moved = by_id(report, "fans", fan)
        .and_then(|fan| fan["operating_point"]["airflow_l_s"]["likely"].as_f64())
        .ok_or("the fan has no operating point")?;
    (rooms < 0.99 * moved).then_some(()).ok_or(format!("rooms {rooms:.2} L/s, fan {moved:.2} L/s"))
}

/// A number in its range, or its ratio to the same number of another variant.
fn number(
    check: &Check,
    report: &Value,
    all: &Reports<'_>,
    of: impl Fn(&Value) -> Option<f64>,
) -> Result<(), String> {
    let value = of(report).ok_or("no figure")?;
    let Some(over) = &check.over else {
        let fits = inside(value, "airflow_l_s", check.airflow.as_ref())
            && inside(value, "pressure_pa", check.pressure.as_ref());
        return fits.then_some(()).ok_or(format!("{value:.2} (L/s or Pa)"));
    };
    let [least, most] = check.ratio.unwrap();
    let other = all[over.as_str()].as_ref().ok().and_then(&of).ok_or("the other has no figure")?;
    let ratio = value / other;
    (ratio >= least && ratio <= most)
        .then_some(())
        .ok_or(format!("{value:.2} over {other:.2} is {ratio:.3}"))
}

/// Whether a figure of the kind that the unit belongs to lies in the range, anywhere in the value.
fn shows(value: &Value, range: &Range) -> bool {
    match value {
        Value::Object(entries) => entries.iter().any(|(key, inner)| {
            inner["likely"].as_f64().is_some_and(|likely| inside(likely, key, Some(range)))
                || shows(inner, range)
        }),
        Value::Array(items) => items.iter().any(|item| shows(item, range)),
        _ => false,
    }
}

/// Whether a number in the unit of a report key lies in a range; no range holds everything.
fn inside(value: f64, key: &str, range: Option<&Range>) -> bool {
    range.is_none_or(|range| {
        range.iter().all(|(unit, [least, most])| {
            size_of(unit, key).is_some_and(|size| value >= least * size && value <= most * size)
        })
    })
}

/// How much one of a unit is in the unit of a report key; none when they do not measure the same thing.
fn size_of(unit: &str, key: &str) -> Option<f64> {
    const INCH_M: f64 = 0.0254;
    match (unit, key) {
        ("cfm", "airflow_l_s") => Some(0.471_947_443),
        ("in_wc", "pressure_pa") => Some(249.088_9),
        ("fpm", "velocity_m_s") => Some(0.005_08),
        ("l_s", "airflow_l_s")
        | ("pa", "pressure_pa")
        | ("rsi", "insulation_rsi")
        | ("s", "time_s")
        | ("h", "time_h")
        | ("g", "mass_g")
        | ("index", "mould_ratio")
        | ("count", "count") => Some(1.0),
        ("min", "time_s") => Some(60.0),
        ("percent", "humidity_ratio") => Some(0.01),
        ("ft", "length_m") => Some(12.0 * INCH_M),
        ("in", "length_m") => Some(INCH_M),
        ("in", "diameter_mm" | "gap_mm") => Some(1000.0 * INCH_M),
        _ => None,
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map(Vec::as_slice).unwrap_or_default()
}

fn by_id<'a>(report: &'a Value, section: &str, id: &str) -> Option<&'a Value> {
    list(&report[section]).iter().find(|entry| entry["id"] == *id)
}

/// What a check asks, in short.
fn asked(check: &Check) -> String {
    let ranges = [
        &check.limit,
        &check.shows,
        &check.airflow,
        &check.pressure,
        &check.velocity,
        &check.figure,
    ];
    let range: Vec<String> = ranges
        .into_iter()
        .flatten()
        .flatten()
        .map(|(unit, [least, most])| format!("{least}..{most} {unit}"))
        .collect();
    let ratio = check
        .ratio
        .zip(check.over.as_ref())
        .map(|([a, b], over)| format!("{a}..{b} of \"{over}\""));
    let what = [
        check.finding.as_ref().map(|ids| ids.list().join(" or ")),
        check.requirement.as_ref().map(|room| format!("requirement {room}")),
        check
            .delivered
            .as_ref()
            .map(|room| format!("delivered {room} {}", check.of.as_deref().unwrap_or("likely"))),
        check.loss.as_ref().map(|run| format!("loss {run} {}", check.parts.join("+"))),
        check.fan_pressure.as_ref().map(|fan| format!("pressure of {fan}")),
        check.leaks.as_ref().map(|fan| format!("leaks before {fan}")),
        check.scenario.as_ref().map(|id| format!("scenario {id}")),
        check.at.clone(),
        (!check.ways.is_empty()).then(|| format!("ways {}", check.ways.join(" and "))),
        (!check.order.is_empty()).then(|| format!("in order {}", check.order.join(", "))),
        (!check.look_next.is_empty())
            .then(|| format!("look next {}", check.look_next.join(" or "))),
        check.clearing.as_ref().map(|room| format!("design shower of {room}")),
        check.year.as_ref().map(|room| format!("year of {room}")),
        check.reachable.as_ref().map(|room| {
            format!("set-point of {room} reached in {:?}, not in {:?}", check.can, check.cannot_in)
        }),
        check.condensate.as_ref().map(|runs| format!("water in {}", runs.list().join("+"))),
        check.insulation.as_ref().map(|run| format!("insulation of {run}")),
        check.house.as_ref().map(|place| format!("house at {place}")),
        check.transfer.as_ref().map(|room| format!("gap of {room}")),
        check.cause.map(|cause| {
            format!(
                "cause {}{}",
                cause.word(),
                if check.not_first { " not first" } else { " first" }
            )
        }),
        check.caution.as_ref().map(|id| format!("caution {id}")),
        check.none_fails.as_ref().map(|id| format!("no {id} fails")),
        check.cannot.clone(),
    ];
    let mut text: String = what.into_iter().flatten().collect();
    for more in [
        check.of.clone().filter(|_| check.delivered.is_none()),
        check.method.clone(),
        check.subject.first().cloned(),
        Some(check.verdict.join("/")),
        Some(range.join(", ")),
        ratio,
    ] {
        if let Some(more) = more.filter(|more| !more.is_empty()) {
            text = format!("{text} {more}");
        }
    }
    if check.why.is_empty() { text } else { format!("{text} ({})", check.why) }
}
