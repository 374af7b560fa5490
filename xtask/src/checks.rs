//! The register of check values: which of the numbers in `reference/checkvalues.json` are tested, and where.
//!
//! A test claims a check by reading it: `check("PSY-01")`, or `checks("PSY-01", "PSY-10")` for all from the first to the
//! last. Value and tolerance then come from the register alone. An id that a test only names is a complaint.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

use dewpath_checkvalues::Check;
use serde_json::Number;

use crate::source::{self, Source, word_places};
use crate::workspace::{Result, read};

/// The check values, with their sources.
pub const VALUES: &str = "reference/checkvalues.json";

/// Topics that are built: each of their checks must be tested.
pub const BUILT: &[&str] = &[
    "PSY", "ATM", "FRI", "FIT", "FAN", "NET", "WND", "INF", "DOOR", "SND", "MEAS", "HEAT", "COND",
    "SURF", "MOU", "BUF", "ROOM", "SRC", "DEC", "WX",
];

/// Topics that are not built yet, and why their checks do not apply.
pub const NOT_YET: &[(&str, &str)] = &[("ELEC", "wiring is not built yet: no voltage drop")];

/// Checks whose test no run of the test command makes, and why: they do not count as tested.
pub const BY_HAND: &[(&str, &str)] = &[("DEC-09", RECORD), ("DEC-10", RECORD), ("DEC-11", RECORD)];
const RECORD: &str = "tested by hand only: the logger record is not carried in the project";

/// A file that may claim checks.
#[derive(Clone, Debug)]
pub struct Claimant {
    /// Path below the root, with `/`.
    pub path: String,
    /// Its text.
    pub text: String,
}

/// The files that may claim checks: Rust sources with their tests, and the Python checks.
///
/// # Errors
/// When a file cannot be read.
pub fn claimants(root: &Path) -> Result<Vec<Claimant>> {
    let mut paths = source::files(&root.join("crates"), &[".rs"])?;
    paths.extend(source::files(&root.join("reference"), &[".py"])?);
    let read_one = |path: &std::path::PathBuf| {
        let shown = path.strip_prefix(root).unwrap_or(path).to_string_lossy().replace('\\', "/");
        Ok(Claimant { path: shown, text: read(path)? })
    };
    paths.iter().map(read_one).collect()
}

/// What the tests say of the register.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Claims {
    /// For each id the places that read it, as `file: test`.
    pub places: BTreeMap<String, BTreeSet<String>>,
    /// Places that hold a result within another tolerance than the register asks, with the tolerance and the reason.
    pub other_tolerances: BTreeSet<(String, String, String)>,
}

/// What `files` claim.
///
/// # Errors
/// Lists ids that the register does not hold, and ids that a test names without reading them.
pub fn claims(checks: &[Check], files: &[Claimant]) -> Result<Claims> {
    let mut found = Claims::default();
    let mut complaints = BTreeSet::new();
    for file in files {
        let tests = Tests::of(file);
        let mut read_here = BTreeSet::new();
        for (at, first, last) in reads(&tests.code, &file.text) {
            let Some(place) = tests.place(at) else { continue };
            match between(checks, &first, &last) {
                Some(ids) => {
                    for id in ids {
                        read_here.insert(id.clone());
                        found.places.entry(id).or_default().insert(place.clone());
                    }
                }
                None => {
                    complaints.insert(format!(
                        "{place} reads {first}..{last}, which {VALUES} does not hold"
                    ));
                }
            }
        }
        for (at, id) in mentions(&file.text, checks) {
            let place = tests.place(at).filter(|_| !read_here.contains(&id));
            complaints
                .extend(place.map(|place| format!("{place} names {id} and does not read it")));
        }
        for (at, tolerance, reason) in other_tolerances(&tests.code, &file.text) {
            let place = tests.place(at);
            found.other_tolerances.extend(place.map(|place| (place, tolerance, reason)));
        }
    }
    let complaints: Vec<String> = complaints.into_iter().collect();
    if complaints.is_empty() { Ok(found) } else { Err(complaints.join("\n")) }
}

/// The tests of a file.
struct Tests<'a> {
    file: &'a Claimant,
    /// The text without comments and the contents of strings, of the same length; Python as it stands.
    code: String,
    rust: Option<Source>,
}

impl<'a> Tests<'a> {
    fn of(file: &'a Claimant) -> Self {
        let rust = source::is_kind(&file.path, "rs").then(|| Source::new(&file.text));
        let code = rust.as_ref().map_or_else(|| file.text.clone(), |source| source.code.clone());
        Self { file, code, rust }
    }

    /// The test that owns byte `at`, or the file where helpers or tables of tests stand; `None` where nothing is ever
    /// run as a test.
    fn place(&self, at: usize) -> Option<String> {
        let Claimant { path, text } = self.file;
        let Some(source) = &self.rust else {
            return Some(match python_test(text, at) {
                Some(name) => format!("{path}: {name}"),
                None => path.clone(),
            });
        };
        if let Some(test) = source.tests.iter().find(|test| test.range.contains(&at)) {
            return Some(format!("{path}: {}", test.name));
        }
        let in_tests = path.contains("/tests/")
            || source.test_modules.iter().any(|module| module.contains(&at));
        (in_tests && !source.tests.is_empty()).then(|| path.clone())
    }
}

/// Every `check("A")` and `checks("A", "B")`: where, the first and the last id.
fn reads(code: &str, text: &str) -> Vec<(usize, String, String)> {
    let one = word_places(code, "check(").into_iter().filter_map(|at| {
        let (id, _) = literal_after(&text[at + "check(".len()..])?;
        Some((at, id.clone(), id))
    });
    let several = word_places(code, "checks(").into_iter().filter_map(|at| {
        let (first, rest) = literal_after(&text[at + "checks(".len()..])?;
        let (last, _) = literal_after(rest.trim_start().strip_prefix(',')?)?;
        Some((at, first, last))
    });
    one.chain(several).collect()
}

/// Every `.within(TOLERANCE, "reason")`: where, the tolerance as written, the reason.
fn other_tolerances(code: &str, text: &str) -> Vec<(usize, String, String)> {
    let found = code.match_indices(".within(").filter_map(|(at, start)| {
        let (tolerance, rest) = text[at + start.len()..].split_once(", ")?;
        let (reason, _) = literal_after(rest)?;
        Some((at, tolerance.trim().to_string(), reason))
    });
    found.collect()
}

/// The string literal at the start of `text`, and what follows it.
fn literal_after(text: &str) -> Option<(String, &str)> {
    let (inside, rest) = text.trim_start().strip_prefix('"')?.split_once('"')?;
    Some((inside.to_string(), rest))
}

/// The ids from `first` to `last` in the order of the register.
fn between(checks: &[Check], first: &str, last: &str) -> Option<Vec<String>> {
    let place = |id: &str| checks.iter().position(|check| check.id == id);
    let (first, last) = (place(first)?, place(last)?);
    let span = checks.get(first..=last).filter(|span| !span.is_empty())?;
    Some(span.iter().map(|check| check.id.clone()).collect())
}

/// Every id of the register in `text`, with its place.
fn mentions(text: &str, checks: &[Check]) -> Vec<(usize, String)> {
    let is_part = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let mut found = Vec::new();
    for check in checks {
        for (at, id) in text.match_indices(check.id.as_str()) {
            let (before, after) = (&text[..at], &text[at + id.len()..]);
            if !before.ends_with(is_part) && !after.starts_with(is_part) {
                found.push((at, check.id.clone()));
            }
        }
    }
    found
}

fn topic_of(id: &str) -> &str {
    id.split('-').next().unwrap_or(id)
}

/// The `test_…` function of a Python file that holds byte `at`, comments and decorators above it included.
fn python_test(text: &str, at: usize) -> Option<String> {
    let line_start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let name_of = |line: &str| {
        let name = line.strip_prefix("def ")?.split('(').next()?;
        name.starts_with("test_").then(|| name.to_string())
    };
    let here = &text[line_start..];
    if here.starts_with(['#', '@']) {
        let mut below = here.lines().skip_while(|line| line.starts_with(['#', '@']));
        return below.next().and_then(name_of);
    }
    if here.starts_with("def ") {
        return here.lines().next().and_then(name_of);
    }
    let above = text[..line_start]
        .lines()
        .rev()
        .find(|line| !line.starts_with([' ', '\t', '\n']) && !line.is_empty());
    above.filter(|_| here.starts_with([' ', '\t'])).and_then(name_of)
}

/// The page `docs/checks.md`, and the ids of built topics that no test claims.
///
/// # Errors
/// When an id has a topic that is neither built nor listed as not built yet.
pub fn page(checks: &[Check], claims: &Claims) -> Result<(String, Vec<String>)> {
    let mut rows = String::new();
    let mut missing = Vec::new();
    let mut tested = 0;
    let mut topic = "";
    for check in checks {
        if topic_of(&check.id) != topic {
            topic = topic_of(&check.id);
            let _ = write!(
                rows,
                "\n## {topic}\n\n| id | quantity | value | tolerance | source | state |\n"
            );
            rows.push_str("| --- | --- | --- | --- | --- | --- |\n");
        }
        let by_hand = BY_HAND.iter().find(|(id, _)| *id == check.id);
        let state = match claims.places.get(&check.id) {
            _ if by_hand.is_some() => {
                by_hand.map_or_else(String::new, |(_, why)| (*why).to_string())
            }
            Some(places) => {
                tested += 1;
                let places: Vec<&str> = places.iter().map(String::as_str).collect();
                format!("tested: {}", places.join("; "))
            }
            None => match NOT_YET.iter().find(|(name, _)| *name == topic) {
                Some((_, why)) => format!("not applicable yet: {why}"),
                None if BUILT.contains(&topic) => {
                    missing.push(check.id.clone());
                    "**missing**".to_string()
                }
                None => {
                    return Err(format!(
                        "{}: topic {topic} is neither in BUILT nor in NOT_YET of checks.rs",
                        check.id
                    ));
                }
            },
        };
        let (value, tolerance) = (value_text(check), tolerance_text(check));
        let cells = [&check.id, &check.quantity, &value, &tolerance, &check.source, &state];
        let cells: Vec<String> = cells.iter().map(|cell| cell_text(cell)).collect();
        let _ = writeln!(rows, "| {} |", cells.join(" | "));
    }
    let total = checks.len();
    let hand = checks.iter().filter(|c| BY_HAND.iter().any(|(id, _)| *id == c.id)).count();
    let later = total - tested - missing.len() - hand;
    let head = format!(
        "# Check values\n\n\
         <!-- Written by `cargo xtask codegen` from {VALUES} and the tests; edit those instead. -->\n\n\
         {total} numbers from outside the project that its results are compared with. Each names its source; \
         inputs and notes are in `{VALUES}`. A test reads value and tolerance from there, by id.\n\n\
         Tested: {tested}. Not applicable yet: {later}. Missing: {}. By hand only: {hand}.\n",
        missing.len()
    );
    Ok((head + &rows + &other_tolerances_text(claims), missing))
}

fn value_text(check: &Check) -> String {
    let number = |value: &f64| Number::from_f64(*value).map_or_else(String::new, |n| n.to_string());
    let values = check.values.iter().map(number).collect::<Vec<_>>().join(", ");
    if check.unit == "-" { values } else { format!("{values} {}", check.unit) }
}

fn tolerance_text(check: &Check) -> String {
    if check.remark.is_empty() {
        check.tolerance.to_string()
    } else {
        format!("{}; {}", check.tolerance, check.remark)
    }
}

fn other_tolerances_text(claims: &Claims) -> String {
    let mut text = "\n## Held within another tolerance\n\n| test | tolerance | reason |\n| --- | --- | --- |\n".to_string();
    for (place, tolerance, reason) in &claims.other_tolerances {
        let cells = [place, tolerance, reason].map(|cell| cell_text(cell));
        let _ = writeln!(text, "| {} |", cells.join(" | "));
    }
    text
}

/// Ids in short: neighbours in the register are written as a range (`PSY-01..PSY-10`).
pub fn in_ranges(checks: &[Check], ids: &[String]) -> String {
    let mut spans: Vec<(&str, &str)> = Vec::new();
    let mut previous = "";
    for check in checks {
        if ids.contains(&check.id) {
            match spans.last_mut() {
                Some(span) if span.1 == previous && topic_of(span.1) == topic_of(&check.id) => {
                    span.1 = &check.id;
                }
                _ => spans.push((&check.id, &check.id)),
            }
        }
        previous = &check.id;
    }
    let words = spans.iter().map(|(first, last)| {
        if first == last { (*first).to_string() } else { format!("{first}..{last}") }
    });
    words.collect::<Vec<_>>().join(" ")
}

fn cell_text(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn checks() -> Vec<Check> {
        let one = |id: &str| {
            format!(
                r#"{{"id": "{id}", "quantity": "pressure | of", "inputs": {{}}, "value": 1.25, "unit": "Pa",
                    "source": "a table", "tolerance": {{"relative": 0.01, "remark": "same form"}}}}"#
            )
        };
        let all = ["PSY-01", "PSY-02", "PSY-03", "FRI-IRC1", "FRI-12", "ELEC-07"].map(one);
        dewpath_checkvalues::read(&format!(r#"{{"checks": [{}]}}"#, all.join(","))).unwrap()
    }

    fn file(path: &str, text: &str) -> Claimant {
        Claimant { path: path.into(), text: text.into() }
    }

    fn claimed(path: &str, text: &str) -> Vec<(String, String)> {
        let found = claims(&checks(), &[file(path, text)]).unwrap().places.into_iter();
        found.map(|(id, places)| (id, places.into_iter().collect::<Vec<_>>().join("; "))).collect()
    }

    const PATH: &str = "crates/air/tests/all/a.rs";

    #[test]
    fn a_rust_test_claims_what_it_reads() {
        let text = "//! Head.\n#[test]\nfn ice() { check(\"FRI-IRC1\").holds(1.0); }\nfn table() { check(\"PSY-03\") }\n";
        let found = claimed(PATH, text);
        assert_eq!(found[0], ("FRI-IRC1".into(), format!("{PATH}: ice")));
        assert_eq!(found[1], ("PSY-03".into(), PATH.into()));
        assert_eq!(found.len(), 2);
    }

    #[test]
    fn a_range_goes_by_the_order_of_the_register() {
        let text = "#[test]\nfn t() { for c in checks(\"PSY-02\", \"FRI-IRC1\") {} }\n";
        let ids: Vec<String> = claimed(PATH, text).into_iter().map(|(id, _)| id).collect();
        assert_eq!(ids, ["FRI-IRC1", "PSY-02", "PSY-03"]);
    }

    #[test]
    fn shipped_code_and_files_without_tests_claim_nothing() {
        let shipped = "/// See PSY-01.\nfn f() { check(\"PSY-01\") }\n#[cfg(test)]\nmod tests {\n    #[test]\n    fn t() { check(\"PSY-02\"); }\n}\n";
        let found = claimed("crates/air/src/fan.rs", shipped);
        assert_eq!(found, [("PSY-02".to_string(), "crates/air/src/fan.rs: t".to_string())]);
        assert!(
            claimed("crates/air/tests/all/common.rs", "fn near() { check(\"PSY-03\") }\n")
                .is_empty()
        );
    }

    #[test]
    fn an_id_that_is_named_and_not_read_is_an_error() {
        for text in [
            "// PSY-01\n#[test]\nfn t() { near(1.25); }\n",
            "#[test]\nfn t() { near(\"PSY-01\", 1.25); check(\"PSY-02\"); }\n",
            "#[test]\nfn t() { 1; // check(\"PSY-01\")\n}\n",
        ] {
            let error = claims(&checks(), &[file(PATH, text)]).unwrap_err();
            assert!(error.contains("t names PSY-01 and does not read it"), "{error}");
        }
        let longer = "#[test]\nfn t() { \"XPSY-01 A-PSY-02 PSY- PSY-011\"; }\n";
        assert!(claimed(PATH, longer).is_empty());
    }

    #[test]
    fn an_id_that_is_not_in_the_register_is_an_error() {
        for text in [
            "check(\"PSY-99\")",
            "checks(\"PSY-01\", \"PSY-99\")",
            "checks(\"PSY-02\", \"PSY-01\")",
        ] {
            let text = format!("#[test]\nfn t() {{ {text}; }}\n");
            let error = claims(&checks(), &[file(PATH, &text)]).unwrap_err();
            assert!(error.contains("does not hold"), "{error}");
        }
    }

    #[test]
    fn another_tolerance_is_listed_with_its_reason() {
        let text = "#[test]\nfn t() {\n    check(\"PSY-01\")\n        .within(Relative(0.25), \"a rougher form\")\n        .holds(1.0);\n}\n";
        let found = claims(&checks(), &[file(PATH, text)]).unwrap();
        let listed =
            (format!("{PATH}: t"), "Relative(0.25)".to_string(), "a rougher form".to_string());
        assert_eq!(found.other_tolerances, BTreeSet::from([listed]));
        let (page, _) = page(&checks(), &found).unwrap();
        assert!(page.contains("| Relative(0.25) | a rougher form |"), "{page}");
    }

    #[test]
    fn a_python_test_claims_what_it_reads() {
        let text = "import x\n\n@mark(check(\"PSY-01\"))\ndef test_ice():\n    assert check(\"PSY-02\")\n\n    check(\"FRI-12\")\n\nTABLE = check('PSY-03'), check(\"PSY-03\")\n";
        let found = claimed("reference/test_m.py", text);
        let places: Vec<&str> = found.iter().map(|(_, place)| place.as_str()).collect();
        let inside = "reference/test_m.py: test_ice";
        assert_eq!(places, [inside, inside, inside, "reference/test_m.py"]);
    }

    #[test]
    fn the_page_lists_every_check_and_names_what_is_missing() {
        let text = "#[test]\nfn t() { check(\"PSY-01\"); check(\"FRI-IRC1\"); }\n";
        let found = claims(&checks(), &[file(PATH, text)]).unwrap();
        let (page, missing) = page(&checks(), &found).unwrap();
        assert_eq!(missing, ["PSY-02", "PSY-03", "FRI-12"]);
        for check in checks() {
            assert!(page.contains(&format!("| {} |", check.id)), "{}", check.id);
        }
        assert!(
            page.contains("| pressure \\| of | 1.25 Pa | 1 %; same form | a table |"),
            "{page}"
        );
        assert!(page.contains("Tested: 2. Not applicable yet: 1. Missing: 3."), "{page}");
    }

    #[test]
    fn neighbours_are_written_as_a_range() {
        let ids = ["PSY-01", "PSY-02", "FRI-IRC1", "ELEC-07"].map(String::from);
        assert_eq!(in_ranges(&checks(), &ids), "PSY-01..PSY-02 FRI-IRC1 ELEC-07");
    }

    #[test]
    fn a_topic_nobody_knows_is_an_error() {
        let mut unknown = checks();
        unknown[0].id = "NEW-01".into();
        assert!(page(&unknown, &Claims::default()).is_err());
    }

    /// The register is complete: 415 values, each topic known, each with a source.
    #[test]
    fn the_register_holds_every_value() {
        let checks =
            dewpath_checkvalues::read(&read(&crate::workspace::root().join(VALUES)).unwrap())
                .unwrap();
        assert_eq!(checks.len(), 415);
        let (_, missing) = page(&checks, &Claims::default()).unwrap();
        let counts = |c: &&Check| {
            BUILT.contains(&topic_of(&c.id)) && !BY_HAND.iter().any(|(id, _)| *id == c.id)
        };
        assert_eq!(missing.len(), checks.iter().filter(counts).count());
    }
}
