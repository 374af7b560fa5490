//! A document as typed: values with the place they stand at, free of any meaning.
//!
//! TOML and CSV are both turned into this one tree, so that one reader and one kind of diagnostic
//! serve them all.

use std::ops::Range;

use dewpath_units::sort;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::{Diagnostic, line_of};

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
    pub(crate) fn kind_name(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text in quotes",
            Self::Number(_) => "a bare number",
            Self::Flag(_) => "true or false",
            Self::Date(_) => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
        }
    }
}

/// Turns TOML text into a tree.
///
/// # Errors
/// The syntax errors, or one error when the text is too large.
pub(crate) fn parse_toml(text: &str) -> Result<Node, Vec<Diagnostic>> {
    if text.len() > LARGEST_DOCUMENT {
        let message = format!(
            "the file is {} MB large; up to {} MB are read",
            text.len() / (1024 * 1024),
            LARGEST_DOCUMENT / (1024 * 1024)
        );
        return Err(vec![Diagnostic::error("", 0..0, message).help(
            "keep one dwelling in a file, and photos and logger records in files of their own",
        )]);
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
            format!("`{value}` must stand in quotes"),
        )
        .label("quotes are missing here")
        .help(format!("write it like this: {} = \"{value}\"", key_of(line)));
    }
    if has_no_value(line) {
        return Diagnostic::error("", line_span, "nothing stands behind the equals sign")
            .label("a value is missing here")
            .help("write a value or \"unknown\" in quotes, or leave the line out");
    }
    if let Some(hint) = inch_mark_in_quotes(line) {
        return Diagnostic::error("", line_span, "the inch mark ends the text too early")
            .label("the quotes do not match")
            .help(hint);
    }
    let plain = error.message();
    if plain.contains("recursion") || plain.contains("recurse") {
        return Diagnostic::error("", span, "tables and lists are nested too deeply")
            .label("80 levels are the most")
            .help("nothing in a job needs more than six levels: look for brackets that are never closed");
    }
    if plain.contains("duplicate key") {
        return Diagnostic::error("", span, "this is written twice")
            .label("already written further up in the same section")
            .help("keep one of the two; a second room, fan or run starts with a line such as [[room]]");
    }
    if plain.contains("string") && plain.contains("expected") {
        return Diagnostic::error("", span, "this text is not closed with a quote")
            .label("a quote is missing here")
            .help("a text starts and ends with the same quote on one line: name = \"Hall bath\"");
    }
    Diagnostic::error("", span, format!("this is not valid TOML: {plain}"))
        .label("here")
        .help("a line is either [section], [[section]], or key = \"value\"; a remark starts with #")
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

/// `"9' 4""`: the inch mark closes the text.
fn inch_mark_in_quotes(line: &str) -> Option<String> {
    let value = line.split_once('=')?.1.trim();
    let body = value.strip_prefix('"')?;
    let close = body.find('"')?;
    let digit_before = body[..close].ends_with(|c: char| c.is_ascii_digit());
    let more_after = body[close + 1..].trim_start().starts_with('"');
    (digit_before && more_after).then(|| {
        format!(
            "write the unit as a word: {} = \"{} in\"",
            key_of(line),
            body[..close].trim().replace('\'', " ft")
        )
    })
}
