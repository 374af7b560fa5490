//! Every key that the engine uses has a sentence, every sentence gets the values it asks for, and no sentence
//! is left over.
//!
//! Checked by common practice of translation catalogues (no source): keys are collected from the engine's
//! source text, values from the reports of every example and case job.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use dewpath_case::World;
use dewpath_report::{Figure, Message, Report, Step, Triple, Value};
use dewpath_words::{Catalogue, Speaker};

/// Families of keys that are words, not sentences, beside the sentences of the same family.
const WORD_FAMILIES: &[&str] = &["loss", "method"];

/// What looks like the key of a sentence and is none: places in a job file, and ids of findings whose
/// sentences have other names.
const NO_SENTENCE: &[&str] = &[
    "dwelling.humidity",
    "dwelling.idle_door",
    "dwelling.idle_duct",
    "dwelling.moisture",
    "dwelling.open_door",
    "dwelling.air_changes",
    "dwelling.floor_area",
    "dwelling.leakage",
    "dwelling.storey_height",
    "dwelling.volume",
    "scenario.wind",
    "house.inlet-through-fan",
    "dwelling.ventilation.airflow",
    "dwelling.storeys",
    "dwelling.cooling",
    "dwelling.airing",
    "dwelling.prices",
    "dwelling.ventilation.hours_per_day",
    "weather.calm",
    "weather.mild",
    "weather.unusable",
    "weather.windy",
    "dwelling.leakage_in_walls",
    "terminal.clearance.walkway",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path, ending));
        } else if path.extension().is_some_and(|e| e == ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Topics whose texts are no sentences of the engine.
const NO_SENTENCES: [&str; 4] = ["language", "words", "drawing", "page"];

/// Keys of the English sentences of the engine.
fn sentence_keys() -> BTreeSet<String> {
    files(&root().join("crates/words/catalogue/en"), "txt")
        .iter()
        .filter(|path| !NO_SENTENCES.iter().any(|topic| path.file_stem().unwrap() == *topic))
        .map(|path| Catalogue::read(&std::fs::read_to_string(path).unwrap()))
        .flat_map(|topic| topic.keys().map(str::to_owned).collect::<Vec<_>>())
        .filter(|key| !key.starts_with("input."))
        .collect()
}

/// Every key that has an English text.
fn known_keys() -> BTreeSet<String> {
    Catalogue::english().keys().map(str::to_owned).collect()
}

/// String literals of a source text outside comments; good enough for this code, which has no raw strings
/// with quotes in them.
fn literals(source: &str) -> Vec<String> {
    let mut found = Vec::new();
    let code = source.split("#[cfg(test)]").next().unwrap();
    for line in code.lines().map(str::trim).filter(|line| !line.starts_with("//")) {
        for (place, part) in line.split('"').enumerate() {
            if place % 2 == 1 {
                found.push(part.to_owned());
            }
        }
    }
    found
}

/// Source files of the crates that say something in a report.
fn sources() -> Vec<PathBuf> {
    let crates = ["case", "judge", "propose", "engine"];
    crates
        .iter()
        .flat_map(|name| files(&root().join("crates").join(name).join("src"), "rs"))
        .collect()
}

fn engine_literals() -> BTreeSet<String> {
    sources().iter().flat_map(|path| literals(&std::fs::read_to_string(path).unwrap())).collect()
}

/// Literals right behind `Message::new(`.
fn message_keys() -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    for path in sources() {
        let source = std::fs::read_to_string(path).unwrap();
        for after in source.split("Message::new(").skip(1) {
            if let Some(key) = after.trim_start().strip_prefix('"') {
                keys.insert(key.split('"').next().unwrap().to_owned());
            }
        }
    }
    keys
}

fn job_files() -> Vec<PathBuf> {
    let jobs = root().join("jobs");
    let library = jobs.join("library");
    files(&jobs, "toml")
        .into_iter()
        .filter(|path| !path.starts_with(&library))
        .filter(|path| std::fs::read_to_string(path).unwrap().contains("format ="))
        .collect()
}

fn report(path: &Path, draws: u32) -> Option<Report> {
    let text = std::fs::read_to_string(path).unwrap();
    let name = path.display().to_string();
    let read = dewpath_job::read_as_built(&name, &text).ok()?;
    let folder = path.parent().unwrap();
    let libraries = read.job.libraries.iter().map(|library| {
        let path = folder.join(library);
        let text = std::fs::read_to_string(&path).unwrap();
        let name = path.display().to_string();
        if path.extension().is_some_and(|e| e == "csv") {
            dewpath_job::library::read_csv(&name, &text).unwrap()
        } else {
            dewpath_job::library::read(&name, &text).unwrap()
        }
    });
    let library = dewpath_job::model::Library::joined(libraries);
    let rule_book = read.job.rule_book.as_ref().map(|id| {
        let mut book = dewpath_rulebook::load(id).unwrap();
        for amendment in &read.job.amendments {
            let text = std::fs::read_to_string(folder.join(amendment)).unwrap();
            let amendment = dewpath_rulebook::Amendment::parse(&text).unwrap();
            book = book.amended_by(&amendment).unwrap();
        }
        book
    });
    let also_show =
        read.job.also_show.iter().map(|id| dewpath_rulebook::load(id).unwrap()).collect();
    let job = read.resolve(&library).ok()?;
    let world = World {
        rule_book,
        also_show,
        products: library,
        weather: None,
        job_text: text,
        products_text: String::new(),
    };
    Some(dewpath_engine::evaluate(&job, &world, draws))
}

fn reports() -> Vec<(String, Report)> {
    let mut all = Vec::new();
    for path in job_files() {
        for draws in [0, 64] {
            if let Some(report) = report(&path, draws) {
                all.push((format!("{} with {draws} draws", path.display()), report));
            }
        }
    }
    all
}

fn messages(report: &Report) -> Vec<&Message> {
    fn of_steps(steps: &[Step]) -> impl Iterator<Item = &Message> {
        steps.iter().flat_map(|step| &step.inputs).map(|input| &input.what)
    }
    let mut all: Vec<&Message> = report.answer.messages.iter().collect();
    for requirement in &report.requirement {
        all.extend(&requirement.missing);
        all.extend(of_steps(&requirement.working));
    }
    for finding in &report.findings {
        all.push(&finding.message);
        all.extend(&finding.todo);
        all.extend(of_steps(&finding.working));
    }
    for candidate in &report.candidates {
        all.extend(candidate.notes.iter().map(|note| &note.message));
    }
    all.extend(report.assumptions.iter().map(|assumption| &assumption.what));
    all.extend(report.look_next.iter().map(|look| &look.what));
    all.extend(report.cautions.iter().map(|caution| &caution.message));
    all.extend(&report.evidence);
    all
}

/// A key that is put together from pieces that all stand in the engine: `{id}.unknown`, `what.room-{key}`.
fn is_put_together(key: &str, literals: &BTreeSet<String>) -> bool {
    literals.iter().any(|literal| {
        let Some((start, rest)) = literal.split_once('{') else { return false };
        let Some((_, end)) = rest.split_once('}') else { return false };
        let middle = key.strip_prefix(start).and_then(|key| key.strip_suffix(end));
        (start.contains('.') || end.contains('.'))
            && middle.is_some_and(|middle| literals.contains(middle))
    })
}

#[test]
fn every_key_of_the_engine_has_a_sentence() {
    let known = sentence_keys();
    let families: BTreeSet<&str> =
        known.iter().filter_map(|k| k.split_once('.')).map(|k| k.0).collect();
    let keys = message_keys();
    assert!(keys.len() > 40, "the keys of the engine were not found");
    let missing: Vec<&String> = keys.difference(&known).collect();
    assert!(missing.is_empty(), "no sentence for {missing:?}");

    // Keys in tables: whatever looks like `family.rest` is a sentence or the beginning of one.
    let missing: Vec<String> = engine_literals()
        .into_iter()
        .filter(|literal| literal.chars().all(|c| c.is_ascii_lowercase() || "._-".contains(c)))
        .filter(|literal| {
            literal.split_once('.').is_some_and(|(family, _)| {
                families.contains(family) && !WORD_FAMILIES.contains(&family)
            })
        })
        .filter(|literal| !NO_SENTENCE.contains(&literal.as_str()))
        .filter(|literal| !known.iter().any(|key| key.starts_with(literal.as_str())))
        .collect();
    assert!(missing.is_empty(), "neither a sentence nor the beginning of one: {missing:?}");
}

#[test]
fn no_sentence_is_left_over() {
    let literals = engine_literals();
    let unused: Vec<String> = sentence_keys()
        .into_iter()
        .filter(|key| !literals.contains(key) && !is_put_together(key, &literals))
        .collect();
    assert!(unused.is_empty(), "no part of the engine says {unused:?}");
}

#[test]
fn every_text_of_every_job_is_whole() {
    let reports = reports();
    assert!(reports.len() > 60, "too few jobs were read: {}", reports.len());
    let known = known_keys();
    let mut wrong = BTreeSet::new();
    for (name, report) in &reports {
        for speaker in [Speaker::us(), Speaker::metric()] {
            for message in messages(report) {
                let text = speaker.message(message);
                if !known.contains(&message.key) {
                    wrong.insert(format!("{}: no sentence ({name})", message.key));
                } else if text.contains(['?', '{', '}'])
                    || text.contains("NaN")
                    || text.contains("inf ")
                {
                    wrong.insert(format!("{}: {text:?} ({name})", message.key));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_word_of_every_message_is_known_or_as_the_user_writes_it() {
    let known = known_keys();
    let mut wrong = BTreeSet::new();
    for (name, report) in reports() {
        for message in messages(&report) {
            for value in message.values.values() {
                if let Value::Word(word) = value
                    && !known.contains(word)
                    && word.contains(['.', '_'])
                {
                    wrong.insert(format!("{}: {word} ({name})", message.key));
                }
            }
        }
        let keys = report.requirement.iter().map(|r| &r.method);
        let losses = report.runs.iter().flat_map(|run| &run.losses).map(|loss| &loss.what);
        for key in keys.chain(losses).filter(|key| !known.contains(*key)) {
            wrong.insert(format!("{key} ({name})"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn chances_are_never_told_as_certain() {
    for (name, report) in reports() {
        for message in messages(&report) {
            if message.values.values().any(|v| matches!(v, Value::Figure(Figure::ChanceRatio(_)))) {
                let text = Speaker::us().message(message);
                assert!(!text.contains(" 100 %") && !text.contains(" 0 %"), "{name}: {text}");
            }
        }
    }
}

/// Sentences with values of every kind, as a report would carry them.
fn sayings() -> Vec<Message> {
    let spread = |low, likely, high| Triple { low, likely, high };
    let exact = Triple::exact;
    vec![
        Message::new("airflow.delivered.unknown")
            .name("room", "hall-bath")
            .figure("flow", Figure::AirflowLS(spread(21.0, 24.4, 29.1)))
            .figure("required", Figure::AirflowLS(exact(23.597_37)))
            .figure("chance", Figure::ChanceRatio(exact(0.58))),
        Message::new("duct.length.table.short")
            .figure("length", Figure::LengthM(spread(4.9, 5.2, 5.5)))
            .word("wall", "flexible")
            .figure("elbows", Figure::Count(spread(1.0, 2.0, 3.0)))
            .figure("size", Figure::DiameterMm(exact(101.6)))
            .figure("rated", Figure::AirflowLS(exact(37.755_8)))
            .word("limit", "not-allowed"),
        Message::new("duct.insulation.thin")
            .figure("has", Figure::InsulationRsi(exact(0.74)))
            .figure("asked", Figure::InsulationRsi(exact(1.409))),
        Message::new("duct.gauge.thin")
            .figure("has", Figure::GapMm(exact(0.33)))
            .figure("limit", Figure::GapMm(exact(0.406))),
        Message::new("duct.velocity.loud")
            .figure("speed", Figure::VelocityMS(spread(3.9, 4.4, 5.1)))
            .figure("limit", Figure::VelocityMS(exact(4.0))),
        Message::new("replacement.air.tight")
            .figure("loss", Figure::PressurePa(spread(6.2, 8.2, 10.4)))
            .figure("gap", Figure::GapMm(exact(28.6)))
            .figure("flow", Figure::AirflowLS(spread(25.0, 28.0, 31.0))),
        Message::new("sound.limit.loud")
            .figure("loudness", Figure::LoudnessSone(exact(3.5)))
            .figure("limit", Figure::LoudnessSone(exact(3.0))),
        Message::new("todo.transfer-rule")
            .figure("area", Figure::AreaM2(exact(0.015)))
            .reference("section", "4.2"),
    ]
}

fn spoken(speaker: Speaker) -> String {
    sayings().iter().map(|saying| speaker.message(saying)).collect::<Vec<_>>().join("\n")
}

#[test]
fn sentences_in_us_units() {
    insta::assert_snapshot!(spoken(Speaker::us()));
}

#[test]
fn sentences_in_metric_units() {
    insta::assert_snapshot!(spoken(Speaker::metric()));
}

/// Keys of words that the page asks for: every quoted `page.…` in its source.
fn keys_of_the_page() -> BTreeSet<String> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("../../page/src")];
    let mut keys = BTreeSet::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("the page is there") {
            let path = entry.expect("a file").path();
            let is_source = path.extension().is_some_and(|end| end == "ts" || end == "svelte");
            if path.is_dir() {
                folders.push(path);
            } else if is_source {
                let text = std::fs::read_to_string(&path).expect("it is text");
                let quoted = text.split(['"', '`']).filter(|part| part.starts_with("page."));
                keys.extend(quoted.map(str::to_owned));
            }
        }
    }
    keys
}

#[test]
fn the_page_has_every_word_it_asks_for_and_asks_for_every_word() {
    let known: BTreeSet<String> =
        known_keys().into_iter().filter(|key| key.starts_with("page.")).collect();
    // Some are put together: `page.part.${id}`.
    let (together, whole): (Vec<_>, Vec<_>) =
        keys_of_the_page().into_iter().partition(|key| key.contains("${"));
    let begins: Vec<&str> = together.iter().filter_map(|key| key.split("${").next()).collect();
    let unknown: Vec<_> = whole.iter().filter(|key| !known.contains(*key)).collect();
    assert!(unknown.is_empty(), "no text for {unknown:?}");
    let is_asked =
        |key: &&String| whole.contains(*key) || begins.iter().any(|begin| key.starts_with(begin));
    let idle: Vec<_> = known.iter().filter(|key| !is_asked(key)).collect();
    assert!(idle.is_empty(), "nothing asks for {idle:?}");
}
