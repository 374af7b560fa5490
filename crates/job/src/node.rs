//! A document as typed: values with the place they stand at, free of any meaning.
//!
//! TOML and CSV are both turned into this one tree, so that one reader and one kind of diagnostic
//! serve them all.

use std::ops::Range;

use dewpath_message::slot::Reference;
use dewpath_units::sort;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::{Diagnostic, line_of};
use crate::say::{self, Do, Label};

/// Largest document that is read, in bytes. A survey of a whole block of flats is far below it.
pub const LARGEST_DOCUMENT: usize = 32 * 1024 * 1024;

/// How many syntax errors are shown; after the first few they mostly follow from one another.
const SYNTAX_ERRORS_SHOWN: usize = 4;

/// A value and its place.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub(crate) value: Value,
    pub(crate) span: Range<usize>,
}

/// A value as typed.
#[derive(Debug, Clone)]
pub(crate) enum Value {
    /// A string.
    Text(String),
    /// A whole number or a number with a point; `None` where it does not fit.
    Number(Option<f64>),
    /// `true` or `false`.
    Flag(bool),
    /// A date or time, as typed.
    Date(String),
    /// A list.
    List(Vec<Node>),
    /// A table, in the order of the file.
    Table(Vec<Entry>),
}

/// One key of a table with its value.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub(crate) key: String,
    pub(crate) key_span: Range<usize>,
    pub(crate) node: Node,
}

impl Value {
    /// What a person calls this kind of value.
    pub(crate) fn kind(&self) -> say::Shape {
        match self {
            Self::Text(_) => say::Shape::Text,
            Self::Number(_) => say::Shape::BareNumber,
            Self::Flag(_) => say::Shape::Flag,
            Self::Date(_) => say::Shape::Date,
            Self::List(_) => say::Shape::List,
            Self::Table(_) => say::Shape::Table,
        }
    }
}

/// Turns TOML text into a tree.
///
/// # Errors
/// The syntax errors, or one error when the text is too large.
pub(crate) fn parse_toml(text: &str) -> Result<Node, Vec<Diagnostic>> {
    if text.len() > LARGEST_DOCUMENT {
        let message = say::TooLarge {
            size: say::count(text.len() / (1024 * 1024)),
            most: say::count(LARGEST_DOCUMENT / (1024 * 1024)),
        };
        return Err(vec![Diagnostic::error("", 0..0, message).help(Do::KeepOneDwelling)]);
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        let span = table.span();
        return Ok(Node { value: table_value(table.into_inner()), span });
    }
    let mut found: Vec<Diagnostic> = errors.iter().map(|error| syntax_error(text, error)).collect();
    sort::by_key(&mut found, |d| d.span.start);
    found.dedup_by(|b, a| line_of(text, a.span.start) == line_of(text, b.span.start));
    found.truncate(SYNTAX_ERRORS_SHOWN);
    Err(found)
}

fn table_value(table: DeTable<'_>) -> Value {
    let mut entries: Vec<Entry> = table
        .into_iter()
        .map(|(key, value)| {
            let (key_span, span) = (key.span(), value.span());
            let node = Node { value: plain_value(value.into_inner()), span };
            Entry { key: key.into_inner().into_owned(), key_span, node }
        })
        .collect();
    sort::by_key(&mut entries, |entry| entry.key_span.start);
    Value::Table(entries)
}

fn plain_value(value: DeValue<'_>) -> Value {
    match value {
        DeValue::String(text) => Value::Text(text.into_owned()),
        DeValue::Integer(number) => Value::Number(
            i64::from_str_radix(number.as_str(), number.radix()).ok().map(|n| n as f64),
        ),
        DeValue::Float(number) => Value::Number(number.as_str().parse().ok()),
        DeValue::Boolean(flag) => Value::Flag(flag),
        DeValue::Datetime(date) => Value::Date(date.to_string()),
        DeValue::Array(items) => Value::List(
            items
                .into_iter()
                .map(|item| {
                    let span = item.span();
                    Node { value: plain_value(item.into_inner()), span }
                })
                .collect(),
        ),
        DeValue::Table(table) => table_value(table),
    }
}

/// A syntax error, put in the words of somebody who fills in a form.
fn syntax_error(text: &str, error: &toml::de::Error) -> Diagnostic {
    let span = error.span().unwrap_or(0..0);
    let line_span = line_of(text, span.start);
    let line = text.get(line_span.clone()).unwrap_or_default();
    if let Some((value_start, value)) = bare_value(line) {
        let start = line_span.start + value_start;
        return Diagnostic::error(
            "",
            start..start + value.len(),
            say::TypedKey::WithoutQuotes.of(value),
        )
        .label(Label::QuotesMissing)
        .help(say::WriteLike { line: Reference::new(format!("{} = \"{value}\"", key_of(line))) });
    }
    if has_no_value(line) {
        return Diagnostic::error("", line_span, say::File::NothingBehindEquals)
            .label(Label::ValueMissing)
            .help(Do::WriteValueOrUnknown);
    }
    if let Some(line) = inch_mark_in_quotes(line) {
        return Diagnostic::error("", line_span, say::File::InchMark)
            .label(Label::QuotesDoNotMatch)
            .help(say::UnitAsWord { line: Reference::new(line) });
    }
    let plain = error.message();
    if plain.contains("recursion") || plain.contains("recurse") {
        return Diagnostic::error("", span, say::File::NestedTooDeep)
            .label(Label::LevelsMost)
            .help(Do::LookForBrackets);
    }
    if plain.contains("duplicate key") {
        return Diagnostic::error("", span, say::File::Twice)
            .label(Label::WrittenAbove)
            .help(say::InSectionKey::SecondStartsWith.of("[[room]]"));
    }
    if plain.contains("string") && plain.contains("expected") {
        return Diagnostic::error("", span, say::File::TextNotClosed)
            .label(Label::QuoteMissing)
            .help(Do::CloseText);
    }
    Diagnostic::error("", span, say::NotToml { said: Reference::new(plain) })
        .label(Label::Here)
        .help(say::LineIs {
            section: Reference::new("[section]"),
            list: Reference::new("[[section]]"),
        })
}

fn key_of(line: &str) -> &str {
    line.split('=').next().unwrap_or_default().trim()
}

/// Whether a line gives a key and no value, a remark apart.
fn has_no_value(line: &str) -> bool {
    let value = line.split_once('=').map(|(_, after)| after.split('#').next().unwrap_or_default());
    value.is_some_and(|value| value.trim().is_empty())
}

/// A value with a unit or a word that was typed without quotes: its place in the line and its text.
fn bare_value(line: &str) -> Option<(usize, &str)> {
    let equals = line.find('=')?;
    let after = &line[equals + 1..];
    let value = after.split('#').next().unwrap_or_default().trim();
    let start = equals + 1 + (after.len() - after.trim_start().len());
    let first = value.chars().next()?;
    let opens = matches!(first, '"' | '\'' | '[' | '{');
    let is_word = !matches!(value, "true" | "false" | "inf" | "nan");
    let is_number = value.replace('_', "").parse::<f64>().is_ok();
    let looks_dated =
        value.len() >= 8 && value.chars().all(|c| c.is_ascii_digit() || "-:.TZ ".contains(c));
    let simple = !value.contains(['"', '{', '}', '[', ']', '=', ',']);
    (!opens
        && is_word
        && !is_number
        && !looks_dated
        && simple
        && (first.is_alphanumeric() || first == '-' || first == '+'))
        .then_some((start, value))
}

/// `"9' 4""`: the inch mark closes the text; the line as it would be right.
fn inch_mark_in_quotes(line: &str) -> Option<String> {
    let value = line.split_once('=')?.1.trim();
    let body = value.strip_prefix('"')?;
    let close = body.find('"')?;
    let digit_before = body[..close].ends_with(|c: char| c.is_ascii_digit());
    let more_after = body[close + 1..].trim_start().starts_with('"');
    (digit_before && more_after)
        .then(|| format!("{} = \"{} in\"", key_of(line), body[..close].trim().replace('\'', " ft")))
}
