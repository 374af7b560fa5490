//! The register of check values: which of the numbers in `reference/checkvalues.json` are tested, and where.
//!
//! A test claims a check by writing its id (`PSY-01`, or a range `PSY-01..PSY-10`) in itself, in a comment above
//! itself, or in a table of its file; a data file below `tests` counts when a test file names it. The head comment of
//! a file claims nothing. A claim needs its number: the value must stand in the file too, so that an id in a remark alone
//! does not count.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

use serde_json::Value;

use crate::source::{self, Source};
use crate::{Result, read};

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

/// One number from outside the project.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Such as `PSY-01`.
    pub id: String,
    /// What is computed.
    pub quantity: String,
    /// The number or numbers, as text.
    pub value: String,
    /// The same, to compare.
    pub numbers: Vec<f64>,
    /// Its unit.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
    /// How close a result must come.
    pub tolerance: String,
}

impl Check {
    /// The letters before the dash.
    fn topic(&self) -> &str {
        topic_of(&self.id)
    }
}

/// A file that may claim checks.
#[derive(Clone, Debug)]
pub struct Claimant {
    /// Path below the root, with `/`.
    pub path: String,
    /// Its text.
    pub text: String,
}

/// Reads the check values.
///
/// # Errors
/// When the text is not JSON of the expected shape, or an id comes twice.
pub fn parse(text: &str) -> Result<Vec<Check>> {
    let document: Value =
        serde_json::from_str(text).map_err(|error| format!("{VALUES} is not JSON: {error}"))?;
    let Some(items) = document["checks"].as_array() else {
        return Err(format!("{VALUES} has no list `checks`"));
    };
    let checks = items.iter().map(read_check).collect::<Result<Vec<_>>>()?;
    let mut seen = BTreeSet::new();
    match checks.iter().find(|check| !seen.insert(check.id.clone())) {
        Some(twice) => Err(format!("{VALUES}: id {} comes twice", twice.id)),
        None => Ok(checks),
    }
}

fn read_check(item: &Value) -> Result<Check> {
    let text = |key: &str| {
        let id = item["id"].as_str().unwrap_or("a check");
        let found = item[key].as_str().filter(|text| !text.is_empty());
        found.map(String::from).ok_or_else(|| format!("{VALUES}: {id} has no `{key}`"))
    };
    Ok(Check {
        id: text("id")?,
        quantity: text("quantity")?,
        value: shown(&item["value"]),
        numbers: numbers_in(&item["value"]),
        unit: text("unit")?,
        source: text("source")?,
        tolerance: text("tolerance")?,
    })
}

fn shown(value: &Value) -> String {
    match value {
        Value::Array(items) => items.iter().map(shown).collect::<Vec<_>>().join(", "),
        Value::Object(fields) => {
            let parts = fields.iter().map(|(key, value)| format!("{key} {}", shown(value)));
            parts.collect::<Vec<_>>().join(", ")
        }
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

fn numbers_in(value: &Value) -> Vec<f64> {
    match value {
        Value::Array(items) => items.iter().flat_map(numbers_in).collect(),
        Value::Object(fields) => fields.values().flat_map(numbers_in).collect(),
        other => other.as_f64().into_iter().collect(),
    }
}

/// The files that may claim checks: Rust tests with their data, and the Python checks.
///
/// # Errors
/// When a file cannot be read.
pub fn claimants(root: &Path) -> Result<Vec<Claimant>> {
    let mut paths = source::files(&root.join("crates"), &[".rs"])?;
    for path in source::files(&root.join("crates"), &[".json", ".csv", ".toml", ".txt"])? {
        if path.components().any(|part| part.as_os_str() == "tests") {
            paths.push(path);
        }
    }
    paths.extend(source::files(&root.join("reference"), &[".py"])?);
    let read_one = |path: &std::path::PathBuf| {
        let shown = path.strip_prefix(root).unwrap_or(path).to_string_lossy().replace('\\', "/");
        Ok(Claimant { path: shown, text: read(path)? })
    };
    paths.iter().map(read_one).collect()
}

/// Where checks are claimed: for each id the places, as `file: test`.
pub type Claims = BTreeMap<String, BTreeSet<String>>;

/// For each id that `files` claim, the places.
///
/// # Errors
/// Lists ids of built topics that the check values do not hold, and claims whose file does not hold the value.
pub fn claims(checks: &[Check], files: &[Claimant]) -> Result<Claims> {
    let known: BTreeMap<&str, &Check> =
        checks.iter().map(|check| (check.id.as_str(), check)).collect();
    let topics: BTreeSet<&str> = checks.iter().map(Check::topic).collect();
    let mut found = Claims::new();
    let mut complaints = BTreeSet::new();
    for file in files {
        let mut numbers = None;
        let reads_values = file.text.contains("checkvalues.json");
        for (at, id) in mentions(&file.text, &topics, checks) {
            let Some(place) = place(file, at, files) else { continue };
            if let Some(check) = known.get(id.as_str()) {
                let numbers = numbers.get_or_insert_with(|| numbers_written(&file.text));
                let is_lacking = |number: &&f64| !(reads_values || holds(numbers, **number));
                if let Some(number) = check.numbers.iter().find(is_lacking) {
                    complaints
                        .insert(format!("{place} names {id} but {number} stands nowhere in it"));
                }
                found.entry(id).or_default().insert(place);
            } else if BUILT.contains(&topic_of(&id)) {
                complaints.insert(format!("{place} names {id}, which {VALUES} does not hold"));
            }
        }
    }
    let complaints: Vec<String> = complaints.into_iter().collect();
    if complaints.is_empty() { Ok(found) } else { Err(complaints.join("\n")) }
}

/// Is the number among those written, but for its sign and its tenth digit?
fn holds(written: &[f64], number: f64) -> bool {
    written.iter().any(|other| (other.abs() - number.abs()).abs() <= 1e-9 * number.abs())
}

/// The numbers in a Rust, Python or data file (`1_000`, `2.5e-3`, `4.0_f64`), without their signs.
fn numbers_written(text: &str) -> Vec<f64> {
    let mut found = Vec::new();
    let mut rest = text;
    let mut before = ' ';
    while let Some(first) = rest.chars().next() {
        let is_part_of_word = before.is_ascii_alphanumeric() || before == '_';
        let length =
            if first.is_ascii_digit() && !is_part_of_word { number_length(rest) } else { 0 };
        if length > 0 {
            found.extend(rest[..length].replace('_', "").parse::<f64>());
        }
        let step = length.max(first.len_utf8());
        before = rest[..step].chars().next_back().unwrap_or(' ');
        rest = &rest[step..];
    }
    found
}

/// The length of the number at the start of `text`; `1..2` is two numbers.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        let tail = bytes.get(from..).unwrap_or_default();
        from + tail.iter().take_while(|byte| byte.is_ascii_digit() || **byte == b'_').count()
    };
    let mut end = digits(0);
    if bytes.get(end) == Some(&b'.') && bytes.get(end + 1) != Some(&b'.') {
        end = digits(end + 1);
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let exponent_end = digits(end + 1 + sign);
        if exponent_end > end + 1 + sign {
            end = exponent_end;
        }
    }
    end
}

/// Ids in `text`, ranges written out, each with its place.
fn mentions(text: &str, topics: &BTreeSet<&str>, checks: &[Check]) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for topic in topics {
        let start = format!("{topic}-");
        for (at, _) in text.match_indices(&start) {
            let before = text[..at].chars().next_back();
            if before.is_some_and(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_') {
                continue;
            }
            let Some(id) = id_at(&text[at..], topic) else { continue };
            let after = &text[at + id.len()..];
            match range_end(after, topic).and_then(|last| between(&id, &last, topic, checks)) {
                Some(ids) => found.extend(ids.into_iter().map(|id| (at, id))),
                None => found.push((at, id)),
            }
        }
    }
    found
}

/// `PSY-01` or `FRI-IRC1` at the start of `text`: letters, then at least one digit.
fn id_at(text: &str, topic: &str) -> Option<String> {
    let tail = text.strip_prefix(topic)?.strip_prefix('-')?;
    let length = tail.find(|c: char| !c.is_ascii_alphanumeric()).unwrap_or(tail.len());
    let number = &tail[..length];
    number.ends_with(|c: char| c.is_ascii_digit()).then(|| format!("{topic}-{number}"))
}

/// After an id: `..PSY-10`, `..=PSY-10` or `..10`.
fn range_end(after: &str, topic: &str) -> Option<String> {
    let tail = after.strip_prefix("..")?;
    let tail = tail.strip_prefix('=').unwrap_or(tail);
    let tail = tail.strip_prefix('`').unwrap_or(tail);
    if let Some(id) = id_at(tail, topic) {
        return Some(id);
    }
    let length = tail.find(|c: char| !c.is_ascii_digit()).unwrap_or(tail.len());
    (length > 0).then(|| format!("{topic}-{}", &tail[..length]))
}

/// The known ids from `first` to `last`, which must both be numbered.
fn between(first: &str, last: &str, topic: &str, checks: &[Check]) -> Option<Vec<String>> {
    let number = |id: &str| id.strip_prefix(topic)?.strip_prefix('-')?.parse::<u32>().ok();
    let (low, high) = number(first).zip(number(last))?;
    let ids = checks.iter().map(|check| &check.id);
    Some(ids.filter(|id| number(id).is_some_and(|n| (low..=high).contains(&n))).cloned().collect())
}

fn topic_of(id: &str) -> &str {
    id.split('-').next().unwrap_or(id)
}

/// The test that owns byte `at` of `file`, or `None` if nothing there is ever run as a test.
fn place(file: &Claimant, at: usize, files: &[Claimant]) -> Option<String> {
    let path = &file.path;
    if source::is_kind(path, "py") {
        return Some(match python_test(&file.text, at) {
            Some(name) => format!("{path}: {name}"),
            None => path.clone(),
        });
    }
    if source::is_kind(path, "rs") {
        let source = Source::new(&file.text);
        let in_tests = path.contains("/tests/")
            || source.test_modules.iter().any(|module| module.contains(&at));
        if let Some(test) = source.tests.iter().find(|test| test.range.contains(&at)) {
            return Some(format!("{path}: {}", test.name));
        }
        let line_start = file.text[..at].rfind('\n').map_or(0, |end| end + 1);
        if file.text[line_start..].trim_start().starts_with("//!") {
            return None;
        }
        return (in_tests && !source.tests.is_empty()).then(|| path.clone());
    }
    let name = path.rsplit('/').next().unwrap_or(path);
    let reader = files.iter().find(|other| {
        source::is_kind(&other.path, "rs")
            && other.text.contains("#[test]")
            && other.text.contains(name)
    });
    reader.map(|reader| format!("{path}, read by {}", reader.path))
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
        if check.topic() != topic {
            topic = check.topic();
            let _ = write!(
                rows,
                "\n## {topic}\n\n| id | quantity | value | tolerance | source | state |\n"
            );
            rows.push_str("| --- | --- | --- | --- | --- | --- |\n");
        }
        let by_hand = BY_HAND.iter().find(|(id, _)| *id == check.id);
        let state = match claims.get(&check.id) {
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
        let value = if check.unit == "-" {
            check.value.clone()
        } else {
            format!("{} {}", check.value, check.unit)
        };
        let cells = [&check.id, &check.quantity, &value, &check.tolerance, &check.source, &state];
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
         inputs and notes are in `{VALUES}`. A test claims a check by naming its id and holding its value.\n\n\
         Tested: {tested}. Not applicable yet: {later}. Missing: {}. By hand only: {hand}.\n",
        missing.len()
    );
    Ok((head + &rows, missing))
}

/// Ids in short: neighbours in the register are written as a range (`PSY-01..PSY-10`).
pub fn in_ranges(checks: &[Check], ids: &[String]) -> String {
    let mut spans: Vec<(&str, &str)> = Vec::new();
    let mut previous = "";
    for check in checks {
        if ids.contains(&check.id) {
            match spans.last_mut() {
                Some(span) if span.1 == previous && topic_of(span.1) == check.topic() => {
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

    fn check(id: &str) -> Check {
        Check {
            id: id.into(),
            quantity: "pressure | of".into(),
            value: "1.25".into(),
            numbers: vec![1.25],
            unit: "Pa".into(),
            source: "a table".into(),
            tolerance: "1 %".into(),
        }
    }

    fn checks() -> Vec<Check> {
        ["PSY-01", "PSY-02", "PSY-03", "FRI-IRC1", "FRI-12", "ELEC-07"].map(check).to_vec()
    }

    fn file(path: &str, text: &str) -> Claimant {
        Claimant { path: path.into(), text: format!("{text}\n// {VALUE}\n") }
    }

    /// The value of every check here.
    const VALUE: &str = "1.25";

    fn claimed(files: &[Claimant]) -> Vec<(String, String)> {
        let found = claims(&checks(), files).unwrap();
        let pairs = found.into_iter();
        pairs.map(|(id, places)| (id, places.into_iter().collect::<Vec<_>>().join("; "))).collect()
    }

    #[test]
    fn a_rust_test_claims_what_it_names() {
        let text = "//! About PSY-02.\n/// PSY-01 of the table.\n#[test]\nfn ice() { near(\"FRI-IRC1\"); }\nconst A: &str = \"PSY-03\";\n";
        let found = claimed(&[file("crates/air/tests/moist_air.rs", text)]);
        assert_eq!(found.len(), 3);
        assert_eq!(found[0], ("FRI-IRC1".into(), "crates/air/tests/moist_air.rs: ice".into()));
        assert_eq!(found[1], ("PSY-01".into(), "crates/air/tests/moist_air.rs: ice".into()));
        assert_eq!(found[2], ("PSY-03".into(), "crates/air/tests/moist_air.rs".into()));
    }

    #[test]
    fn shipped_code_and_files_without_tests_claim_nothing() {
        let files = [
            file(
                "crates/air/src/fan.rs",
                "/// See PSY-01.\nfn f() {}\n#[cfg(test)]\nmod tests {\n    // PSY-02\n    #[test]\n    fn t() {}\n}\n",
            ),
            file("crates/air/tests/common.rs", "// PSY-03\nfn near() {}\n"),
        ];
        let found = claimed(&files);
        assert_eq!(found, [("PSY-02".to_string(), "crates/air/src/fan.rs: t".to_string())]);
    }

    #[test]
    fn ranges_are_written_out() {
        for range in ["PSY-01..PSY-03", "PSY-01..=PSY-03", "PSY-01..03", "`PSY-01`, PSY-02..PSY-03"]
        {
            let text = format!("/// {range}\n#[test]\nfn t() {{}}\n");
            assert_eq!(claimed(&[file("crates/air/tests/a.rs", &text)]).len(), 3, "{range}");
        }
    }

    #[test]
    fn longer_words_are_no_ids() {
        let text = "#[test]\nfn t() { \"XPSY-01 A-PSY-02 PSY-\"; }\n";
        assert!(claimed(&[file("crates/air/tests/a.rs", text)]).is_empty());
    }

    #[test]
    fn an_unknown_id_is_an_error() {
        let text = "#[test]\nfn t() { \"PSY-99\"; }\n";
        let error = claims(&checks(), &[file("crates/air/tests/a.rs", text)]).unwrap_err();
        assert!(error.contains("PSY-99"), "{error}");
    }

    #[test]
    fn a_claim_without_its_number_is_an_error() {
        let bare = |body: &str| Claimant {
            path: "crates/air/tests/a.rs".into(),
            text: format!("// PSY-01\n#[test]\nfn t() {{ {body} }}\n"),
        };
        let error = claims(&checks(), &[bare("near(1.5)")]).unwrap_err();
        assert!(error.contains("PSY-01") && error.contains(VALUE), "{error}");
        assert!(claims(&checks(), &[bare("near(-1.25_f64)")]).is_ok());
        assert!(claims(&checks(), &[bare("read(\"checkvalues.json\")")]).is_ok());
    }

    #[test]
    fn numbers_are_read_as_they_are_written() {
        let text = "1_000 2.5e-3 4.0_f64 x7 1..3 [5.] 6e 0.1.2 -8 PSY-09";
        let wanted = [1000.0, 0.0025, 4.0, 1.0, 3.0, 5.0, 6.0, 0.1, 2.0, 8.0, 9.0];
        assert_eq!(numbers_written(text), wanted);
        assert!(numbers_written("é ½ _1 a2b").is_empty());
    }

    #[test]
    fn a_data_file_counts_when_a_test_reads_it() {
        let data = file("crates/air/tests/data/moist_air.csv", "PSY-01,1.0\n");
        assert!(claimed(std::slice::from_ref(&data)).is_empty());
        let reader = file(
            "crates/air/tests/m.rs",
            "#[test]\nfn t() { include_str!(\"data/moist_air.csv\"); }\n",
        );
        assert_eq!(claimed(&[data, reader]).len(), 1);
    }

    #[test]
    fn a_python_test_claims_what_it_names() {
        let text = "import x\n\n# PSY-01\n@mark\ndef test_ice():\n    assert 1  # PSY-02\n\n    # FRI-12\n\nTABLE = 'PSY-03'\n";
        let found = claimed(&[file("reference/test_m.py", text)]);
        let places: Vec<&str> = found.iter().map(|(_, place)| place.as_str()).collect();
        let inside = "reference/test_m.py: test_ice";
        assert_eq!(places, [inside, inside, inside, "reference/test_m.py"]);
    }

    #[test]
    fn the_page_lists_every_check_and_names_what_is_missing() {
        let text = "#[test]\nfn t() { \"PSY-01 FRI-IRC1\"; }\n";
        let found = claims(&checks(), &[file("crates/air/tests/a.rs", text)]).unwrap();
        let (page, missing) = page(&checks(), &found).unwrap();
        assert_eq!(missing, ["PSY-02", "PSY-03", "FRI-12"]);
        for check in checks() {
            assert!(page.contains(&format!("| {} |", check.id)), "{}", check.id);
        }
        assert!(page.contains("pressure \\| of"));
        assert!(page.contains("Tested: 2. Not applicable yet: 1. Missing: 3."), "{page}");
    }

    #[test]
    fn neighbours_are_written_as_a_range() {
        let ids = ["PSY-01", "PSY-02", "FRI-IRC1", "ELEC-07"].map(String::from);
        assert_eq!(in_ranges(&checks(), &ids), "PSY-01..PSY-02 FRI-IRC1 ELEC-07");
    }

    #[test]
    fn a_topic_nobody_knows_is_an_error() {
        assert!(page(&[check("NEW-01")], &BTreeMap::new()).is_err());
    }

    #[test]
    fn broken_values_are_refused() {
        assert!(parse("").is_err());
        assert!(parse("{}").is_err());
        assert!(parse(r#"{"checks": [{"id": "PSY-01"}]}"#).is_err());
        let one = r#"{"id": "A-1", "quantity": "q", "value": [1, 2.5], "unit": "Pa", "source": "s", "tolerance": "1 %"}"#;
        assert_eq!(parse(&format!("{{\"checks\": [{one}]}}")).unwrap()[0].value, "1, 2.5");
        assert!(parse(&format!("{{\"checks\": [{one}, {one}]}}")).unwrap_err().contains("twice"));
    }

    /// The register is complete: 415 values, each topic known, each with a source.
    #[test]
    fn the_register_holds_every_value() {
        let checks = parse(&read(&crate::root().join(VALUES)).unwrap()).unwrap();
        assert_eq!(checks.len(), 415);
        let (_, missing) = page(&checks, &BTreeMap::new()).unwrap();
        let counts =
            |c: &&Check| BUILT.contains(&c.topic()) && !BY_HAND.iter().any(|(id, _)| *id == c.id);
        assert_eq!(missing.len(), checks.iter().filter(counts).count());
    }
}
