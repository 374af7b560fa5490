//! Changes to a job file that keep its comments and layout: candidates, as-built values, edits.
//!
//! A place is a path by ids: `run.attic.length`, `fan.fan.model`, `run.attic.part.p2.elbow.angle`,
//! `site.altitude`, `show`. An element that left its id out is found under the id it has by default.

use std::fmt;

use dewpath_message::Message;
use dewpath_message::slot::{Name, Reference};
use serde::{Deserialize, Serialize};
use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, TableLike, Value};

use crate::keys::InTable as _;
use crate::model::Job;
use crate::nearest::nearest;
use crate::say::{self, Do};
use crate::spec::{Shape, Table};
use crate::stated::STATED;

/// Several changes, made together or not at all.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Patch {
    /// Values to write, in this order.
    pub set: Vec<Set>,
    /// Places to take away, afterwards.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remove: Vec<String>,
}

/// One value to write.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Set {
    /// Where, as a path by ids.
    pub at: String,
    /// The value as TOML (`"14 ft"`, `2`, `true`); text that is no TOML value is taken as it stands
    /// (`14 ft`). A table (`{ kind = "wall cap" }`) at the place of an element that does not exist yet
    /// adds the element.
    pub value: String,
}

/// Why a patch cannot be applied.
#[derive(Debug, Clone, PartialEq)]
pub struct PatchError {
    /// The path that was meant; empty when the file itself cannot be read.
    pub at: String,
    /// What is wrong.
    pub message: Box<Message>,
    /// How to go on.
    pub hint: Box<Message>,
}

impl PatchError {
    fn new(at: &str, message: impl Into<Message>, hint: impl Into<Message>) -> Self {
        let (message, hint) = (Box::new(message.into()), Box::new(hint.into()));
        Self { at: at.to_owned(), message, hint }
    }
}

/// For developers; people are told message and hint.
impl fmt::Display for PatchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; {}", self.message, self.hint)
    }
}

impl std::error::Error for PatchError {}

/// Applies a patch to the text of a job file. Everything that the patch does not name stays as it is,
/// comments and layout included. The result is not checked: read it.
///
/// # Errors
/// When the text is no TOML, or a path leads nowhere.
///
/// ```
/// use dewpath_job::patch::{Patch, Set, apply};
///
/// let text = "format = 1\n[run] # through the attic\nlength = \"12 ft\" # paced\n";
/// let patch = Patch { set: vec![Set { at: "run.run.length".into(), value: "\"14 ft\"".into() }], remove: vec![] };
/// let after = apply(text, &patch)?;
/// assert_eq!(after, "format = 1\n[run] # through the attic\nlength = \"14 ft\" # paced\n");
/// # Ok::<(), dewpath_job::patch::PatchError>(())
/// ```
pub fn apply(text: &str, patch: &Patch) -> Result<String, PatchError> {
    let mut document = parse(text)?;
    for set in &patch.set {
        set_one(&mut document, set)?;
    }
    for at in &patch.remove {
        let segments: Vec<&str> = at.split('.').collect();
        remove(document.as_table_mut(), Job::TABLE, &segments, at)?;
    }
    Ok(document.to_string())
}

/// Writes values one after the other; what cannot be written is returned with its number.
pub(crate) fn apply_each<'s>(
    text: &str,
    sets: impl Iterator<Item = &'s Set>,
) -> Result<String, Vec<(usize, PatchError)>> {
    let mut document = parse(text).map_err(|error| vec![(0, error)])?;
    let wrong: Vec<(usize, PatchError)> = sets
        .enumerate()
        .filter_map(|(number, set)| set_one(&mut document, set).err().map(|error| (number, error)))
        .collect();
    if wrong.is_empty() { Ok(document.to_string()) } else { Err(wrong) }
}

pub(crate) fn parse(text: &str) -> Result<DocumentMut, PatchError> {
    text.parse().map_err(|error: toml_edit::TomlError| {
        let said = Reference::new(error.message());
        PatchError::new("", say::JobNotToml { said }, Do::CheckFirst)
    })
}

fn set_one(document: &mut DocumentMut, set: &Set) -> Result<(), PatchError> {
    let segments: Vec<&str> = set.at.split('.').collect();
    write(document.as_table_mut(), Job::TABLE, &segments, value_of(&set.value), &set.at)
}

/// A TOML value from its text; text that is none becomes a string.
fn value_of(text: &str) -> Value {
    let mut value = text.trim().parse::<Value>().unwrap_or_else(|_| Value::from(text));
    value.decor_mut().clear();
    value
}

/// Whether a text that goes without quotes is read as itself.
pub(crate) fn is_bare(text: &str) -> bool {
    value_of(text).as_str() == Some(text)
}

fn fail<T>(
    at: &str,
    message: impl Into<Message>,
    hint: impl Into<Message>,
) -> Result<T, PatchError> {
    Err(PatchError::new(at, message, hint))
}

fn unknown_step<T>(table: &'static Table, step: &str, at: &str) -> Result<T, PatchError> {
    let names: Vec<&str> = table.keys.iter().map(|key| key.name).collect();
    let hint: Message = match nearest(step, names.iter().copied()) {
        Some(name) => say::DidYouMean { near: Reference::new(name) }.into(),
        None => say::NamesKey::KeysThere.of(&names.join(", ")).into(),
    };
    fail(
        at,
        say::NoKeyAt { path: Name::new(at), step: Name::new(step), table: table.called() },
        hint,
    )
}

fn write(
    table: &mut dyn TableLike,
    spec: &'static Table,
    segments: &[&str],
    value: Value,
    at: &str,
) -> Result<(), PatchError> {
    let [step, rest @ ..] = segments else {
        return fail(at, say::AtPathKey::NoValue.of(at), Do::EndWithKey);
    };
    let Some(key) = spec.key(step) else { return unknown_step(spec, step, at) };
    match (&key.shape, rest) {
        (Shape::Many(below), [id, rest @ ..]) => {
            write_element(table, step, below, id, rest, value, at)
        }
        (Shape::Many(_), []) => fail(
            at,
            say::AtPathKey::List.of(at),
            say::NameElementAs { path: Reference::new(format!("{at}.{step}")) },
        ),
        (Shape::One(below), [_, ..]) => {
            if !table.contains_key(step) {
                table.insert(step, new_table(table.is_dotted()));
            }
            match table.get_mut(step).and_then(Item::as_table_like_mut) {
                Some(inner) => write(inner, below, rest, value, at),
                None => fail(
                    at,
                    say::AtStep {
                        key: say::AtStepKey::NoTable,
                        path: Name::new(at),
                        step: Reference::new(*step),
                    },
                    Do::MendFirst,
                ),
            }
        }
        (_, []) => {
            put(table, step, as_text_where_needed(value, &key.shape));
            Ok(())
        }
        (_, [_, ..]) => match table.get_mut(step).and_then(Item::as_table_like_mut) {
            Some(inner) => write(inner, &STATED, rest, value, at),
            None => fail(
                at,
                say::AtStep {
                    key: say::AtStepKey::PlainValue,
                    path: Name::new(at),
                    step: Reference::new(*step),
                },
                say::EndPathAt {
                    step: Reference::new(*step),
                    value: Reference::new(format!(
                        "{{ value = {}, origin = \"measured\" }}",
                        key.example
                    )),
                },
            ),
        },
    }
}

fn new_table(inline: bool) -> Item {
    if inline {
        Item::Value(Value::InlineTable(InlineTable::new()))
    } else {
        Item::Table(toml_edit::Table::new())
    }
}

/// Ids and names stay texts even where their text looks like a number.
fn as_text_where_needed(value: Value, shape: &Shape) -> Value {
    let is_text = matches!(shape, Shape::Text | Shape::Id | Shape::Model | Shape::Reference(_));
    if is_text && !value.is_str() && !value.is_inline_table() && !value.is_array() {
        Value::from(value.to_string().trim())
    } else {
        value
    }
}

/// Replaces a value and keeps what stands around it, such as a remark at the end of the line.
fn put(table: &mut dyn TableLike, key: &str, mut value: Value) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(old) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

fn id_in(table: &dyn TableLike, spec: &'static Table, index: usize, count: usize) -> String {
    match table.get("id").and_then(Item::as_str) {
        Some(id) => id.to_owned(),
        None => spec.default_id(index, count),
    }
}

/// Ids of the elements under a key, in the order of the file.
pub(crate) fn ids(item: Option<&Item>, spec: &'static Table) -> Vec<String> {
    match item {
        Some(Item::ArrayOfTables(tables)) => {
            tables.iter().enumerate().map(|(i, t)| id_in(t, spec, i, tables.len())).collect()
        }
        Some(Item::Table(table)) => vec![id_in(table, spec, 0, 1)],
        Some(Item::Value(Value::InlineTable(table))) => vec![id_in(table, spec, 0, 1)],
        Some(Item::Value(Value::Array(list))) => list
            .iter()
            .enumerate()
            .map(|(i, v)| {
                v.as_inline_table().map_or_else(String::new, |t| id_in(t, spec, i, list.len()))
            })
            .collect(),
        _ => Vec::new(),
    }
}

fn element_mut(item: &mut Item, index: usize) -> Option<&mut dyn TableLike> {
    match item {
        Item::ArrayOfTables(tables) => tables.get_mut(index).map(|t| t as &mut dyn TableLike),
        Item::Table(table) => Some(table as &mut dyn TableLike),
        Item::Value(Value::InlineTable(table)) => Some(table as &mut dyn TableLike),
        Item::Value(Value::Array(list)) => list
            .get_mut(index)
            .and_then(Value::as_inline_table_mut)
            .map(|t| t as &mut dyn TableLike),
        _ => None,
    }
}

fn no_element<T>(step: &str, id: &str, known: &[String], at: &str) -> Result<T, PatchError> {
    let known: Vec<&str> = known.iter().map(String::as_str).collect();
    let hint: Message = match (nearest(id, known.iter().copied()), known.is_empty()) {
        (Some(near), _) => say::DidYouMean { near: Reference::new(near) }.into(),
        (None, true) => say::OfKindKey::NoneYet.of(step).into(),
        (None, false) => say::one_of(say::OneOfKey::Known, &known).into(),
    };
    fail(
        at,
        say::NoElement { path: Name::new(at), kind: Reference::new(step), id: Name::new(id) },
        hint,
    )
}

fn write_element(
    table: &mut dyn TableLike,
    step: &str,
    spec: &'static Table,
    id: &str,
    rest: &[&str],
    value: Value,
    at: &str,
) -> Result<(), PatchError> {
    let known = ids(table.get(step), spec);
    let found = known.iter().position(|known| known == id);
    match (found, rest) {
        (Some(index), []) => {
            let Value::InlineTable(new) = value else {
                return fail(
                    at,
                    say::WholeElement { path: Name::new(at), kind: Reference::new(step) },
                    Do::GoOn,
                );
            };
            let Some(element) = table.get_mut(step).and_then(|item| element_mut(item, index))
            else {
                return no_element(step, id, &known, at);
            };
            for (key, value) in new {
                put(element, &key, value);
            }
            Ok(())
        }
        (Some(index), rest) => {
            match table.get_mut(step).and_then(|item| element_mut(item, index)) {
                Some(element) => write(element, spec, rest, value, at),
                None => no_element(step, id, &known, at),
            }
        }
        (None, []) => match value {
            Value::InlineTable(new) => {
                add_element(table, step, spec, id, new);
                Ok(())
            }
            _ => no_element(step, id, &known, at),
        },
        (None, _) => no_element(step, id, &known, at),
    }
}

/// Adds an element; one that was written in the short form gets the id it had by default.
fn add_element(
    table: &mut dyn TableLike,
    step: &str,
    spec: &'static Table,
    id: &str,
    new: InlineTable,
) {
    let mut element = toml_edit::Table::new();
    if spec.key("id").is_some() {
        element.insert("id", Item::Value(Value::from(id)));
    }
    for (key, value) in new {
        if key != "id" {
            element.insert(&key, Item::Value(value));
        }
    }
    let named = |mut table: toml_edit::Table| {
        if spec.key("id").is_some() && !table.contains_key("id") {
            table.insert("id", Item::Value(Value::from(spec.default_id(0, 1))));
        }
        table
    };
    let mut tables = ArrayOfTables::new();
    match table.remove(step) {
        Some(Item::ArrayOfTables(mut old)) => {
            if old.len() == 1
                && let Some(first) = old.get_mut(0)
            {
                *first = named(std::mem::take(first));
            }
            tables = old;
        }
        Some(Item::Table(old)) => tables.push(named(old)),
        Some(Item::Value(Value::InlineTable(old))) => tables.push(named(old.into_table())),
        Some(Item::Value(Value::Array(mut list))) => {
            list.push(Value::InlineTable(element.into_inline_table()));
            table.insert(step, Item::Value(Value::Array(list)));
            return;
        }
        _ => {}
    }
    tables.push(element);
    table.insert(step, Item::ArrayOfTables(tables));
}

fn remove(
    table: &mut dyn TableLike,
    spec: &'static Table,
    segments: &[&str],
    at: &str,
) -> Result<(), PatchError> {
    let [step, rest @ ..] = segments else {
        return fail(at, say::AtPathKey::NoValue.of(at), Do::EndWithKey);
    };
    let Some(key) = spec.key(step) else { return unknown_step(spec, step, at) };
    if rest.is_empty() && !matches!(key.shape, Shape::Many(_)) {
        return match table.remove(step) {
            Some(_) => Ok(()),
            None => fail(at, say::AtPathKey::NotWritten.of(at), Do::TakeNothing),
        };
    }
    match (&key.shape, rest) {
        (Shape::Many(below), [id, rest @ ..]) => {
            let known = ids(table.get(step), below);
            let Some(index) = known.iter().position(|known| known == id) else {
                return no_element(step, id, &known, at);
            };
            if rest.is_empty() {
                return remove_element(table, step, index, at);
            }
            match table.get_mut(step).and_then(|item| element_mut(item, index)) {
                Some(element) => remove(element, below, rest, at),
                None => no_element(step, id, &known, at),
            }
        }
        (Shape::Many(_), []) => fail(at, say::AtPathKey::List.of(at), Do::NameElement),
        (shape, rest) => {
            let below = if let Shape::One(below) = shape { below } else { &STATED };
            match table.get_mut(step).and_then(Item::as_table_like_mut) {
                Some(inner) => remove(inner, below, rest, at),
                None => fail(at, say::AtPathKey::NotWritten.of(at), Do::TakeNothing),
            }
        }
    }
}

fn remove_element(
    table: &mut dyn TableLike,
    step: &str,
    index: usize,
    at: &str,
) -> Result<(), PatchError> {
    match table.get_mut(step) {
        Some(Item::ArrayOfTables(tables)) => {
            tables.remove(index);
        }
        // A list with nothing in it would still say that it is one.
        Some(Item::Value(Value::Array(list))) if list.len() > 1 => {
            list.remove(index);
        }
        Some(_) => {
            table.remove(step);
        }
        None => return fail(at, say::AtPathKey::NotWritten.of(at), Do::TakeNothing),
    }
    Ok(())
}
