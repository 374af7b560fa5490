//! Every message that is declared has a sentence that asks for no other values, no sentence is left over, and every
//! message of every report is one that is declared.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use dewpath_case::World;
use dewpath_message::{Declared, DeclaredSlot, SlotKind};
use dewpath_report::say::DECLARED;
use dewpath_report::{Figure, Message, Report, Source, Step, Triple, Value};
use dewpath_words::{Catalogue, Speaker};

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
const NO_SENTENCES: [&str; 9] =
    ["language", "words", "drawing", "page", "folder", "question", "cli", "sheet", "help"];

/// Every message that is declared, with its topic.
fn declared() -> impl Iterator<Item = (&'static str, &'static Declared)> {
    let of_jobs = dewpath_job::say::DECLARED.iter().map(|types| ("job", *types));
    let of_books = std::iter::once(("rulebook", dewpath_rulebook::say::DECLARED));
    let all = DECLARED.iter().copied().chain(of_jobs).chain(of_books);
    all.flat_map(|(topic, types)| {
        types.iter().copied().flatten().map(move |message| (topic, message))
    })
}

/// Every key that has an English text.
fn known_keys() -> BTreeSet<String> {
    Catalogue::english().keys().map(str::to_owned).collect()
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
    fn of_source(source: &Source) -> impl Iterator<Item = &Message> {
        source.book.said.as_deref().into_iter().chain(source.section.said.as_deref())
    }
    fn of_step(step: &Step) -> impl Iterator<Item = &Message> {
        let inputs = step
            .inputs
            .iter()
            .flat_map(|input| input.symbol.said.as_deref().into_iter().chain([&input.what]));
        step.equation.said.as_deref().into_iter().chain(of_source(&step.source)).chain(inputs)
    }
    fn of_steps(steps: &[Step]) -> impl Iterator<Item = &Message> {
        steps.iter().flat_map(of_step)
    }
    let mut all: Vec<&Message> = report.answer.messages.iter().collect();
    all.extend(&report.brief.symptoms);
    for answer in &report.brief.answers {
        all.push(&answer.word);
        all.extend(&answer.says);
        all.extend(answer.rooms.iter().map(|room| &room.says));
    }
    all.extend(report.brief.tasks.iter().map(|task| &task.what));
    for requirement in &report.requirement {
        all.extend(&requirement.missing);
        all.extend(of_source(&requirement.source));
        all.extend(of_steps(&requirement.working));
    }
    for finding in &report.findings {
        all.push(&finding.message);
        all.extend(of_source(&finding.source));
        all.extend(&finding.todo);
        all.extend(of_steps(&finding.working));
    }
    for candidate in &report.candidates {
        all.extend(candidate.notes.iter().map(|note| &note.message));
    }
    all.extend(report.assumptions.iter().map(|assumption| &assumption.what));
    all.extend(report.assumptions.iter().flat_map(|assumption| of_source(&assumption.source)));
    all.extend(report.look_next.iter().map(|look| &look.what));
    all.extend(report.cautions.iter().map(|caution| &caution.message));
    all.extend(report.cautions.iter().flat_map(|caution| of_source(&caution.source)));
    all.extend(&report.evidence);
    all
}

#[test]
fn every_message_has_a_sentence_that_asks_for_no_other_values() {
    let english = Catalogue::english();
    let mut seen = BTreeSet::new();
    for (_, message) in declared() {
        assert!(seen.insert(message.key), "{} is declared twice", message.key);
    }
    let mut wrong = english.faults(&["folder."], dewpath_folder::say::DECLARED);
    for (_, types) in DECLARED {
        wrong.extend(english.faults(&[], types));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_sentence_is_left_over() {
    let mut left = Vec::new();
    for path in files(&root().join("crates/words/catalogue/en"), "txt") {
        let topic = path.file_stem().unwrap().to_str().unwrap();
        if NO_SENTENCES.contains(&topic) {
            continue;
        }
        let text = Catalogue::read(&std::fs::read_to_string(&path).unwrap());
        let mine: BTreeSet<&str> =
            declared().filter(|(of, _)| *of == topic).map(|(_, message)| message.key).collect();
        let keys = text.keys().filter(|key| !key.starts_with("input.") && !mine.contains(key));
        left.extend(keys.map(|key| format!("{topic}: {key}")));
    }
    assert!(left.is_empty(), "not declared under their topic: {left:#?}");
}

#[test]
fn every_message_that_is_declared_is_said() {
    let crates = ["rulebook", "job", "case", "judge", "propose", "engine"];
    let sources: String = crates
        .iter()
        .flat_map(|name| files(&root().join("crates").join(name).join("src"), "rs"))
        .chain([root().join("crates/report/src/finding.rs")])
        .map(|path| std::fs::read_to_string(path).unwrap())
        .collect();
    let words: BTreeSet<&str> =
        sources.split(|c: char| !c.is_alphanumeric() && c != '_' && c != ':').collect();
    let words: BTreeSet<&str> =
        words.into_iter().map(|word| word.strip_prefix("say::").unwrap_or(word)).collect();
    let unsaid: Vec<&str> =
        declared().map(|(_, message)| message.name).filter(|name| !words.contains(name)).collect();
    assert!(unsaid.is_empty(), "nobody says {unsaid:?}");
    assert!(!sources.contains("Message::new("), "a message that is not declared is said");
}

/// A value of a message that is not as it was declared.
fn strange(message: &Message, declared: &Declared) -> Option<String> {
    let holds = |slot: &&DeclaredSlot| match (message.values.get(slot.name), slot.kind) {
        (None, _) => slot.is_optional,
        (Some(Value::Figure(_)), SlotKind::Figure)
        | (Some(Value::Name(_)), SlotKind::Name)
        | (Some(Value::Word(_)), SlotKind::Word)
        | (Some(Value::Reference(_)), SlotKind::Reference)
        | (Some(Value::List(_)), SlotKind::List)
        | (Some(_), SlotKind::Any) => true,
        _ => false,
    };
    let wrong = declared.slots.iter().find(|slot| !holds(slot)).map(|slot| slot.name);
    let known = |name: &str| declared.slots.iter().any(|slot| slot.name == name);
    let unknown = message.values.keys().map(String::as_str).find(|name| !known(name));
    wrong.or(unknown).map(|name| format!("{}: {name}", message.key))
}

/// Messages that are not as they were declared.
fn undeclared(name: &str, report: &Report, wrong: &mut BTreeSet<String>) {
    let declared: BTreeMap<&str, &Declared> =
        declared().map(|(_, message)| (message.key, message)).collect();
    for message in messages(report) {
        let fault = match declared.get(message.key.as_str()) {
            Some(declared) => strange(message, declared),
            None => Some(format!("{} is not declared ({name})", message.key)),
        };
        wrong.extend(fault);
    }
}

/// Texts with something missing or odd in them.
fn broken(name: &str, report: &Report, wrong: &mut BTreeSet<String>) {
    for speaker in [Speaker::us(), Speaker::metric()] {
        for message in messages(report) {
            let text = speaker.message(message);
            let is_odd = text.contains(['?', '{', '}']) || text.contains("NaN");
            if is_odd || text.contains("inf ") {
                wrong.insert(format!("{}: {text:?} ({name})", message.key));
            }
        }
    }
}

/// Words of ours that have no text, and are none that the user writes.
fn unknown_words(name: &str, report: &Report, wrong: &mut BTreeSet<String>) {
    let known = known_keys();
    for message in messages(report) {
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

/// Chances that are told as certain.
fn certain(name: &str, report: &Report, wrong: &mut BTreeSet<String>) {
    let speaker = Speaker::us();
    for message in messages(report) {
        if message.values.values().any(|v| matches!(v, Value::Figure(Figure::ChanceRatio(_)))) {
            let text = speaker.message(message);
            if text.contains(" 100 %") || text.contains(" 0 %") {
                wrong.insert(format!("{name}: {text}"));
            }
        }
    }
}

/// One test, since judging every job takes most of its time.
#[test]
fn every_message_of_every_job_is_as_declared_and_reads_well() {
    let reports = reports();
    assert!(reports.len() > 60, "too few jobs were read: {}", reports.len());
    let mut wrong = BTreeSet::new();
    for (name, report) in &reports {
        for check in [undeclared, broken, unknown_words, certain] {
            check(name, report, &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
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

fn spoken(speaker: &Speaker) -> String {
    sayings().iter().map(|saying| speaker.message(saying)).collect::<Vec<_>>().join("\n")
}

#[test]
fn sentences_in_us_units() {
    insta::assert_snapshot!(spoken(&Speaker::us()));
}

#[test]
fn sentences_in_metric_units() {
    insta::assert_snapshot!(spoken(&Speaker::metric()));
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
    // Some are put together: `page.part.${id}`; a type names the beginning alone: `After<"page.part.">`.
    let (together, whole): (Vec<_>, Vec<_>) = keys_of_the_page()
        .into_iter()
        .filter(|key| !key.ends_with('.'))
        .partition(|key| key.contains("${"));
    let begins: Vec<&str> = together.iter().filter_map(|key| key.split("${").next()).collect();
    let unknown: Vec<_> = whole.iter().filter(|key| !known.contains(*key)).collect();
    assert!(unknown.is_empty(), "no text for {unknown:?}");
    let is_asked =
        |key: &&String| whole.contains(*key) || begins.iter().any(|begin| key.starts_with(begin));
    let idle: Vec<_> = known.iter().filter(|key| !is_asked(key)).collect();
    assert!(idle.is_empty(), "nothing asks for {idle:?}");
}
