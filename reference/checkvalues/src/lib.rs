//! The check values of the project, read by id; for tests alone.
//!
//! A test takes inputs, value and tolerance from `reference/checkvalues.json` and writes none of them again:
//!
//! ```
//! use dewpath_checkvalues::check;
//!
//! let laminar = check("FRI-18");
//! laminar.holds(64.0 / laminar.input("Re"));
//! ```
//!
//! What has to come less close than the register asks says why: `check("FIT-26").within(Relative(0.06), "…").holds(k)`.
//! `docs/checks.md` lists each such reason, and which test reads which value.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::missing_panics_doc,
    reason = "it serves tests, which end where a value is missing or does not hold"
)]

use core::fmt;
use std::sync::LazyLock;

use serde_json::{Map, Value};

use Tolerance::{Absolute, Exact, Relative};

/// The register, as it stands in the project.
pub const REGISTER: &str = include_str!("../../checkvalues.json");

static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| read(REGISTER).unwrap());

/// How close a result must come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// Within this share of the value.
    Relative(f64),
    /// Within so much, in the unit of the value.
    Absolute(f64),
    /// The same number.
    Exact,
}

impl Tolerance {
    fn admits(self, got: f64, value: f64) -> bool {
        let allowed = match self {
            Relative(share) => share * value.abs(),
            Absolute(amount) => amount,
            Exact => 0.0,
        };
        (got - value).abs() <= allowed
    }
}

impl fmt::Display for Tolerance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Relative(share) if *share >= 9.99e-5 => {
                write!(f, "{} %", (share * 1e6).round() / 1e4)
            }
            Relative(share) => write!(f, "{share:e} of the value"),
            Absolute(amount) if *amount < 1e-4 => write!(f, "±{amount:e}"),
            Absolute(amount) => write!(f, "±{amount}"),
            Exact => f.write_str("exact"),
        }
    }
}

/// One number, or a row of numbers, from outside the project.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Such as `PSY-01`.
    pub id: String,
    /// What it is.
    pub quantity: String,
    inputs: Map<String, Value>,
    /// The number or numbers.
    pub values: Vec<f64>,
    /// Of the values.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
    /// How close a result must come.
    pub tolerance: Tolerance,
    /// What the source says of other ways to compute it, or empty.
    pub remark: String,
}

/// The check value with this id.
#[track_caller]
pub fn check(id: &str) -> Check {
    match CHECKS.iter().find(|check| check.id == id) {
        Some(check) => check.clone(),
        None => panic!("there is no check value {id}"),
    }
}

/// The check values from the first id to the last, in the order of the register.
#[track_caller]
pub fn checks(first: &str, last: &str) -> Vec<Check> {
    let place = |id: &str| CHECKS.iter().position(|check| check.id == id);
    match (place(first), place(last)) {
        (Some(first), Some(last)) if first <= last => CHECKS[first..=last].to_vec(),
        _ => panic!("there are no check values from {first} to {last}"),
    }
}

impl Check {
    /// The number called `name` among what it was computed from.
    #[track_caller]
    pub fn input(&self, name: &str) -> f64 {
        match self.inputs.get(name).and_then(Value::as_f64) {
            Some(number) => number,
            None => panic!("{} has no number {name} among its inputs", self.id),
        }
    }

    /// The numbers called `name` among what it was computed from.
    #[track_caller]
    pub fn inputs(&self, name: &str) -> Vec<f64> {
        let numbers = self.inputs.get(name).and_then(Value::as_array);
        match numbers.and_then(|all| all.iter().map(Value::as_f64).collect()) {
            Some(numbers) => numbers,
            None => panic!("{} has no list {name} of numbers among its inputs", self.id),
        }
    }

    /// The value, where it is one number.
    #[track_caller]
    pub fn value(&self) -> f64 {
        match self.values[..] {
            [value] => value,
            _ => panic!("{} has {} values", self.id, self.values.len()),
        }
    }

    /// The value at `index` of several, as a check of its own.
    #[track_caller]
    #[must_use]
    pub fn part(&self, index: usize) -> Self {
        Self { values: vec![self.values[index]], ..self.clone() }
    }

    /// Asks for another tolerance than the register does, for the reason given.
    #[must_use]
    pub fn within(self, tolerance: Tolerance, because: &str) -> Self {
        Self { tolerance, remark: because.to_string(), ..self }
    }

    /// Fails unless `got` is the value.
    #[track_caller]
    pub fn holds(&self, got: f64) {
        self.compare(got, self.value());
    }

    /// Fails unless each number of `got` is the value at its place.
    #[track_caller]
    pub fn all_hold(&self, got: &[f64]) {
        assert_eq!(got.len(), self.values.len(), "{}: so many numbers", self.id);
        for (got, value) in got.iter().zip(&self.values) {
            self.compare(*got, *value);
        }
    }

    #[track_caller]
    fn compare(&self, got: f64, value: f64) {
        let Self { id, quantity, unit, source, tolerance, .. } = self;
        assert!(
            tolerance.admits(got, value),
            "{id}, {quantity}: got {got}, expected {value} {unit} ({tolerance}), off by {:e}\n  source: {source}\n  {}",
            got - value,
            self.remark
        );
    }
}

/// The check values in a register.
///
/// # Errors
/// When the text is not JSON of the expected shape, or an id comes twice.
pub fn read(text: &str) -> Result<Vec<Check>, String> {
    let document: Value =
        serde_json::from_str(text).map_err(|error| format!("the register is not JSON: {error}"))?;
    let Some(items) = document["checks"].as_array() else {
        return Err("the register has no list `checks`".into());
    };
    let mut checks: Vec<Check> = Vec::with_capacity(items.len());
    for item in items {
        let check = read_check(item)?;
        if checks.iter().any(|other| other.id == check.id) {
            return Err(format!("{} comes twice", check.id));
        }
        checks.push(check);
    }
    Ok(checks)
}

fn read_check(item: &Value) -> Result<Check, String> {
    let id = item["id"].as_str().unwrap_or("a check");
    let text = |key: &str| {
        let found = item[key].as_str().filter(|text| !text.is_empty());
        found.map(String::from).ok_or_else(|| format!("{id} has no `{key}`"))
    };
    Ok(Check {
        id: text("id")?,
        quantity: text("quantity")?,
        inputs: item["inputs"].as_object().cloned().unwrap_or_default(),
        values: numbers(&item["value"]).ok_or_else(|| format!("{id} has no `value`"))?,
        unit: text("unit")?,
        source: text("source")?,
        tolerance: tolerance(&item["tolerance"])
            .ok_or_else(|| format!("{id} has no `relative`, `absolute` or `exact` tolerance"))?,
        remark: item["tolerance"]["remark"].as_str().unwrap_or_default().to_string(),
    })
}

fn numbers(value: &Value) -> Option<Vec<f64>> {
    match value {
        Value::Number(number) => number.as_f64().map(|number| vec![number]),
        Value::Array(all) => all.iter().map(Value::as_f64).collect(),
        _ => None,
    }
}

fn tolerance(value: &Value) -> Option<Tolerance> {
    let amount = |key: &str| value[key].as_f64().filter(|amount| *amount > 0.0);
    match (amount("relative"), amount("absolute"), value["exact"].as_bool()) {
        (Some(share), None, None) => Some(Relative(share)),
        (None, Some(amount), None) => Some(Absolute(amount)),
        (None, None, Some(true)) => Some(Exact),
        _ => None,
    }
}

/// Fails unless `got` lies within `tolerance` of `want`, in their unit: for numbers that the register does not hold.
#[track_caller]
pub fn absolute(what: &str, got: f64, want: f64, tolerance: f64) {
    assert!(Absolute(tolerance).admits(got, want), "{what}: got {got}, want {want} ± {tolerance}");
}

/// Fails unless `got` lies within the share `tolerance` of `want`: for numbers that the register does not hold.
#[track_caller]
pub fn relative(what: &str, got: f64, want: f64, tolerance: f64) {
    let off = got / want - 1.0;
    assert!(
        Relative(tolerance).admits(got, want),
        "{what}: got {got}, want {want}, off by {off:e}"
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAMINAR: &str = r#"{"id": "A-1", "quantity": "factor", "inputs": {"Re": 1500, "D": [1, 2]}, "value": [1, 2.5],
        "unit": "-", "source": "a book", "tolerance": {"relative": 1e-9, "remark": "same form"}}"#;

    fn one(text: &str) -> Result<Check, String> {
        read(&format!(r#"{{"checks": [{text}]}}"#)).map(|checks| checks[0].clone())
    }

    #[test]
    fn a_check_is_read_whole() {
        let check = one(LAMINAR).unwrap();
        assert_eq!((check.values.as_slice(), check.tolerance), (&[1.0, 2.5][..], Relative(1e-9)));
        assert_eq!((check.input("Re"), check.inputs("D")), (1500.0, vec![1.0, 2.0]));
        assert_eq!((check.part(1).value(), check.remark.as_str()), (2.5, "same form"));
    }

    #[test]
    fn a_broken_register_is_refused() {
        assert!(read("").is_err() && read("{}").is_err());
        assert!(read(r#"{"checks": [{"id": "A-1"}]}"#).unwrap_err().contains("A-1"));
        assert!(
            read(&format!(r#"{{"checks": [{LAMINAR}, {LAMINAR}]}}"#))
                .unwrap_err()
                .contains("twice")
        );
        for tolerance in
            [r#""1 %""#, "{}", r#"{"relative": 0}"#, r#"{"relative": 1, "absolute": 1}"#]
        {
            let text = LAMINAR.replace(r#"{"relative": 1e-9, "remark": "same form"}"#, tolerance);
            assert!(one(&text).unwrap_err().contains("tolerance"), "{tolerance}");
        }
    }

    #[test]
    fn each_tolerance_admits_its_own() {
        let near = [Relative(0.01), Absolute(0.5), Exact];
        assert_eq!(near.map(|tolerance| tolerance.admits(50.4, 50.0)), [true, true, false]);
        assert_eq!(near.map(|tolerance| tolerance.admits(50.6, 50.0)), [false, false, false]);
        assert_eq!(near.map(|tolerance| tolerance.admits(50.0, 50.0)), [true; 3]);
        assert_eq!(near.map(|tolerance| tolerance.admits(f64::NAN, 50.0)), [false; 3]);
        assert_eq!(near.map(|tolerance| tolerance.to_string()), ["1 %", "±0.5", "exact"]);
        assert_eq!(Relative(1e-9).to_string(), "1e-9 of the value");
        assert_eq!(Absolute(1e-8).to_string(), "±1e-8");
    }

    #[test]
    fn every_value_of_the_register_holds_itself() {
        for check in CHECKS.iter() {
            check.all_hold(&check.values);
        }
    }

    #[test]
    #[should_panic(
        expected = "PSY-19, humidity ratio: got 1, expected 0.007261737207 kg/kg da (0.05 %)"
    )]
    fn what_does_not_hold_says_what_and_where_from() {
        check("PSY-19").holds(1.0);
    }

    #[test]
    #[should_panic(expected = "there is no check value PSY-00")]
    fn an_unknown_id_fails() {
        check("PSY-00");
    }
}
