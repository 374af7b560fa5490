//! Catalogues are whole: each line has a key of its own and a text that can be filled, each language has an English text
//! beside every text of its own, and asks for no value that the English text does not name.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use dewpath_report::{Figure, Message, Triple};
use dewpath_words::{Catalogue, LANGUAGES, Speaker};

fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue")
}

/// What is written in the files of a language: place, key and text of each line.
fn written(code: &str) -> Vec<(String, String, String)> {
    let mut lines = Vec::new();
    for path in entries(&folder().join(code)) {
        let text = std::fs::read_to_string(&path).unwrap();
        let topic = path.file_stem().unwrap().to_string_lossy().into_owned();
        for (nth, line) in text.lines().enumerate() {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let place = format!("{code}/{topic}.txt line {}", nth + 1);
            let (key, text) = line.split_once(" =").unwrap_or_else(|| panic!("{place}: no key"));
            lines.push((place, key.to_owned(), text.to_owned()));
        }
    }
    lines
}

/// Texts that stand in no message: of figures and units.
fn is_of_figures(key: &str) -> bool {
    ["language.", "number.", "figure.", "unit."].iter().any(|begin| key.starts_with(begin))
}

/// Names of the values that a text asks for.
fn slots(text: &str) -> BTreeSet<&str> {
    let inside = text.split('{').skip(1).map(|part| part.split('}').next().unwrap());
    inside.map(|slot| slot.split([':', '|']).next().unwrap()).collect()
}

#[test]
fn every_language_of_the_folder_is_built_in_with_all_its_topics() {
    let folders = entries(&folder());
    let codes: Vec<_> =
        folders.iter().map(|path| path.file_name().unwrap().to_str().unwrap()).collect();
    assert_eq!(codes, LANGUAGES);
    for code in codes {
        let built_in = Catalogue::built_in(code).unwrap();
        for (place, key, text) in written(code) {
            assert_eq!(built_in.text(&key).map(str::trim), Some(text.trim()), "{place}");
        }
    }
}

#[test]
fn no_key_stands_twice_and_every_text_can_be_filled() {
    for code in LANGUAGES {
        let mut seen = BTreeSet::new();
        for (place, key, text) in written(code) {
            assert!(seen.insert(key.clone()), "{place}: `{key}` stands above already");
            assert_eq!(key, key.trim(), "{place}");
            // Help has no values: it is shown as it stands, and its brackets are those of the job file.
            if key.starts_with("help.") {
                continue;
            }
            let mut open = Vec::new();
            for c in text.chars() {
                match c {
                    '[' | '{' => open.push(c),
                    ']' => assert_eq!(open.pop(), Some('['), "{place}"),
                    '}' => assert_eq!(open.pop(), Some('{'), "{place}"),
                    _ => {}
                }
                assert!(
                    !matches!(open[..], ['{', _, ..] | [_, '[', ..]),
                    "{place}: one in another"
                );
            }
            assert!(open.is_empty(), "{place}: `{open:?}` stays open");
            let hows = text.split('{').skip(1).filter_map(|slot| {
                slot.split(['}', '|']).next().unwrap().split_once(':').map(|(_, how)| how)
            });
            for how in hows {
                assert!(["likely", "range"].contains(&how), "{place}: {how}");
            }
        }
    }
}

#[test]
fn every_language_says_what_english_says_of_the_same_values() {
    let english: BTreeMap<String, String> =
        written("en").into_iter().map(|(_, key, text)| (key, text)).collect();
    for code in LANGUAGES {
        for (place, key, text) in written(code) {
            let Some(same) = english.get(&key) else {
                panic!("{place}: no English text of `{key}`")
            };
            let (asked, there) = (slots(&text), slots(same));
            assert!(asked.is_subset(&there), "{place}: {asked:?}, but English has {there:?}");
            assert!(is_of_figures(&key) || !text.trim().is_empty(), "{place}: no text");
        }
    }
}

#[test]
fn spanish_proves_the_door_open() {
    let count = written("es").len();
    assert!(count >= 100, "{count} texts");
    let missing = written("en").len() - count;
    println!("es: {count} texts, {missing} in English");
}

fn spanish(show: &str) -> Speaker {
    Speaker::new(Arc::new(Catalogue::built_in("es").unwrap()), show)
}

#[test]
fn numbers_units_and_forms_are_those_of_the_language() {
    let spread = Triple { low: 20.0, likely: 25.0, high: 30.0 };
    assert_eq!(spanish("metric").figure(Figure::AirflowLS(spread)), "25,0 L/s (20,0 a 30,0)");
    let length = Figure::LengthM(Triple { low: 4.907, likely: 5.18, high: 5.456 });
    assert_eq!(spanish("us").figure(length), "17 pies (16 pies 1 pulg. a 17 pies 11 pulg.)");
    let chance = Figure::ChanceRatio(Triple::exact(1.0));
    assert_eq!(spanish("us").figure(chance), "más del 99 %");
    let years = |h| Figure::TimeH(Triple::exact(h));
    assert_eq!(spanish("us").figure(years(8760.0)), "8760 h");
    assert_eq!(spanish("us").figure(years(12345.0)), "12\u{202f}345 h");
    assert_eq!(spanish("us").figure(years(-123_456.0)), "-123\u{202f}456 h");
    let elbows = |count| {
        let message = Message::new("duct.length.table.closed")
            .figure("length", Figure::LengthM(Triple::exact(3.0)))
            .word("wall", "smooth")
            .figure("elbows", Figure::Count(count))
            .figure("size", Figure::DiameterMm(Triple::exact(100.0)));
        spanish("metric").message(&message)
    };
    assert!(
        elbows(Triple::exact(1.0)).starts_with("3,00 m de conducto liso con 1 codo de 100 mm:")
    );
    assert!(elbows(Triple::exact(2.0)).contains("con 2 codos de"));
    assert!(elbows(Triple { low: 1.0, likely: 1.0, high: 2.0 }).contains("con 1 (1 a 2) codos de"));
}

#[test]
fn what_a_language_does_not_say_is_said_in_english() {
    let message = Message::new("caution.authority");
    assert_eq!(spanish("us").message(&message), Speaker::us().message(&message));
    assert_eq!(spanish("us").word("heading.findings"), "Puntos comprobados");
}
