//! Sentences outside the catalogues of `words`: counted file by file, and the counts may only shrink.
//!
//! A sentence is text of three words or more in shipped source, outside attributes, tests and `Display`. Values in `{ }`,
//! marks in `< >` and words in quotes are none of its words. What a type of `NAMES` is made of is a name and no sentence: nobody
//! translates the title of a book. What is left of sentences stands in `sentences.txt` beside this crate; a file that is not named
//! there may have none. The page has a like test of its own (`page/tools/sentences.mjs`).

use std::collections::BTreeMap;
use std::ops::Range;
use std::path::Path;

use crate::source::{self, Source};
use crate::workspace::{Result, read};

/// Where sentences are looked for.
const FOLDERS: &[&str] = &[
    "crates/job/src",
    "crates/rulebook/src",
    "crates/report/src",
    "crates/case/src",
    "crates/judge/src",
    "crates/propose/src",
    "crates/engine/src",
    "crates/drawing/src",
    "crates/folder/src",
    "crates/server/src",
    "crates/wasm/src",
    "crates/cli/src",
];

/// The list of what is left.
const LIST: &str = "xtask/sentences.txt";

/// Types of one text that is a name: what is cited, and what draws are seeded from.
const NAMES: &[&str] = &["Citation(", "Stream("];

/// From so many words on, text is a sentence.
const WORDS: usize = 3;

/// Sentences that no list allows, and entries of the list that are too high.
///
/// # Errors
/// When a file cannot be read.
pub fn breaches(root: &Path) -> Result<Vec<String>> {
    let allowed = listed(&read(&root.join(LIST))?);
    let mut found = BTreeMap::new();
    for folder in FOLDERS {
        for path in source::files(&root.join(folder), &[".rs"])? {
            if path.to_string_lossy().ends_with("_tests.rs") {
                continue;
            }
            let shown = path.strip_prefix(root).unwrap_or(&path).display().to_string();
            let sentences = sentences(&read(&path)?);
            if !sentences.is_empty() {
                found.insert(shown, sentences);
            }
        }
    }
    let left: usize = found.values().map(Vec::len).sum();
    println!("{left} sentences are left outside the catalogues of words, in {} files", found.len());
    Ok(compared(&allowed, &found))
}

/// What the list allows: lines of a path and a count.
fn listed(list: &str) -> BTreeMap<String, usize> {
    let lines = list.lines().filter(|line| !line.starts_with('#'));
    let pairs = lines.filter_map(|line| line.rsplit_once(' '));
    pairs.filter_map(|(path, count)| Some((path.to_owned(), count.parse().ok()?))).collect()
}

fn compared(
    allowed: &BTreeMap<String, usize>,
    found: &BTreeMap<String, Vec<String>>,
) -> Vec<String> {
    let too_many = found.iter().filter_map(|(path, sentences)| {
        let most = allowed.get(path).copied().unwrap_or(0);
        let last = sentences.last().map_or("", String::as_str);
        (sentences.len() > most).then(|| {
            format!(
                "{path} has {} sentences, {most} are allowed: say it by a key of words ({last:?})",
                sentences.len()
            )
        })
    });
    let too_high = allowed.iter().filter_map(|(path, most)| {
        let count = found.get(path).map_or(0, Vec::len);
        (count < *most).then(|| format!("{path} has {count} sentences left: write it in {LIST}"))
    });
    too_many.chain(too_high).collect()
}

/// Sentences of shipped Rust.
fn sentences(text: &str) -> Vec<String> {
    let source = Source::new(text);
    let code = source.shipped();
    let mut left_out = enclosed(&code, "#[", '[', ']');
    left_out.extend(enclosed(&code, "#![", '[', ']'));
    left_out.extend(enclosed(&code, "Display for", '{', '}'));
    left_out.extend(NAMES.iter().flat_map(|name| enclosed(&code, name, '(', ')')));
    left_out.extend(source.test_modules);
    let is_said = |literal: &Range<usize>| !left_out.iter().any(|out| out.contains(&literal.start));
    source
        .literals
        .into_iter()
        .filter(is_said)
        .map(|literal| text[literal].to_owned())
        .filter(|literal| is_sentence(literal))
        .collect()
}

/// From each place of `opening` to the bracket that closes the first one after it.
fn enclosed(code: &str, opening: &str, open: char, close: char) -> Vec<Range<usize>> {
    code.match_indices(opening)
        .map(|(at, _)| {
            let mut depth = 0;
            let end = code[at..].char_indices().find(|(_, c)| {
                depth += i32::from(*c == open) - i32::from(*c == close);
                *c == close && depth == 0
            });
            at..end.map_or(code.len(), |(end, _)| at + end)
        })
        .collect()
}

/// Whether a text has words enough, each of two letters or more.
fn is_sentence(text: &str) -> bool {
    let is_word = |part: &&str| {
        let word = part.trim_matches(|c: char| c.is_ascii_punctuation() && !"@'".contains(c));
        word.chars().count() > 1 && word.chars().all(char::is_alphabetic)
    };
    let said = without(&without(text, '{', '}'), '<', '>');
    said.split_whitespace().filter(is_word).count() >= WORDS
}

/// A text with a number for what stands between two marks, which makes no word of what it touches.
fn without(text: &str, open: char, close: char) -> String {
    let mut left = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(open) {
        left.push_str(before);
        left.push('0');
        let Some((_, behind)) = after.split_once(close) else { return left + after };
        rest = behind;
    }
    left + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_are_found_and_what_no_person_reads_is_not() {
        let source = r#"
//! A head of three words.
#[error("an attribute of this kind")]
struct A;
impl fmt::Display for A {
    fn fmt(&self) { write!("shown to a developer") }
}
const KEY: &str = "duct.flex.tight";
const EQUATION: &str = "q = v * A / 2";
const BOOK: Citation = Citation("Title of a book, table of figures");
const LINE: &str = "{required} {of}: {rate}, {method}";
const MARK: &str = "<circle class=\"shut\" cx=\"{x}\"/>";
const STYLE: &str = "@media screen and (prefers-color-scheme:dark)";
const POLICY: &str = "default-src 'self'; script-src 'self'; frame-ancestors 'none'";
fn f() { say("The duct is bare.") }
#[cfg(test)]
mod tests { const T: &str = "a test may say it"; }
"#;
        assert_eq!(sentences(source), ["The duct is bare."]);
    }

    #[test]
    fn counts_may_only_shrink() {
        let found = |count| BTreeMap::from([("a.rs".to_owned(), vec!["x".to_owned(); count])]);
        let allowed = listed("# What is left.\na.rs 2\n");
        assert_eq!(compared(&allowed, &found(2)).len(), 0);
        assert!(compared(&allowed, &found(3))[0].contains("has 3 sentences, 2 are allowed"));
        assert!(compared(&allowed, &found(1))[0].contains("write it in"));
    }
}
