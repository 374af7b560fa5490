//! What a job file says, value by value, for a face that shows it in fields; and what such fields may hold.

use std::borrow::Cow;

use serde::Serialize;
use toml_edit::{Item, TableLike, Value};

use crate::keys::InTable as _;
use crate::library::LibraryFile;
use crate::model::Job;
use crate::patch::{self, PatchError};
use crate::spec::{Shape, Table, words_of, written};
use crate::stated::STATED;
use crate::value::WishWord;

/// Something that a job file says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Written {
    /// Path by ids, as a patch takes it: `room.bath.length`. That of an element of a list has no value.
    pub at: String,
    /// Name of the table it stands in, or of the element it is.
    pub table: &'static str,
    /// As it is written: a text without its quotes, anything else as TOML. None for an element.
    pub value: Option<String>,
}

/// A table with what may stand in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Form {
    /// Name, such as `room`.
    pub table: &'static str,
    /// What it is for.
    pub doc: Cow<'static, str>,
    /// Its keys, in the order of the documentation.
    pub fields: Vec<Field>,
}

/// A key that may be written.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Field {
    /// Name.
    pub key: &'static str,
    /// What it means.
    pub doc: Cow<'static, str>,
    /// A value, as TOML.
    pub example: &'static str,
    /// What a value looks like: `text`, `quantity`, `count`, `yes-no`, `choice`, `word`, `size`, `table`, `list` or `other`.
    pub shape: &'static str,
    /// What is measured, where it is a quantity.
    pub quantity: Option<&'static str>,
    /// The words it may be, where it is one of several.
    pub words: Vec<&'static str>,
    /// Name of the table below it, where it is one or a list of them.
    pub below: Option<&'static str>,
}

/// Everything that a job file says, in the order of the file.
///
/// # Errors
/// When the text is no TOML.
///
/// ```
/// let said = dewpath_job::outline::outline("format = 1\n[[room]]\nid = \"bath\"\nlength = \"9 ft\"\n")?;
/// let pairs: Vec<_> = said.iter().map(|w| (w.at.as_str(), w.value.as_deref())).collect();
/// assert_eq!(
///     pairs,
///     [("format", Some("1")), ("room.bath", None), ("room.bath.id", Some("bath")), ("room.bath.length", Some("9 ft"))]
/// );
/// # Ok::<(), dewpath_job::patch::PatchError>(())
/// ```
pub fn outline(text: &str) -> Result<Vec<Written>, PatchError> {
    let document = patch::parse(text)?;
    let mut said = Vec::new();
    walk(document.as_table(), Job::TABLE, "", &mut said);
    Ok(said)
}

fn walk(table: &dyn TableLike, spec: &'static Table, above: &str, said: &mut Vec<Written>) {
    for (key, item) in table.iter() {
        let at = if above.is_empty() { key.to_owned() } else { format!("{above}.{key}") };
        match spec.key(key).map(|key| &key.shape) {
            Some(Shape::Many(below)) => {
                for (id, element) in patch::ids(Some(item), below).iter().zip(elements(item)) {
                    let at = format!("{at}.{id}");
                    said.push(Written { at: at.clone(), table: below.name, value: None });
                    walk(element, below, &at, said);
                }
            }
            Some(Shape::One(below)) => match item.as_table_like() {
                Some(inner) => walk(inner, below, &at, said),
                None => leaf(item, spec, at, said),
            },
            _ => leaf(item, spec, at, said),
        }
    }
}

/// A value alone, or one with where it comes from.
fn leaf(item: &Item, spec: &'static Table, at: String, said: &mut Vec<Written>) {
    let inner = item.as_table_like().filter(|inner| inner.contains_key("value"));
    let Some(inner) = inner else {
        said.push(Written { at, table: spec.name, value: Some(shown(item)) });
        return;
    };
    for (key, item) in inner.iter() {
        let at = if key == "value" { at.clone() } else { format!("{at}.{key}") };
        said.push(Written { at, table: STATED.name, value: Some(shown(item)) });
    }
}

fn shown(item: &Item) -> String {
    match item {
        Item::Value(Value::String(text)) => text.value().clone(),
        Item::Value(value) => {
            let mut value = value.clone();
            value.decor_mut().clear();
            value.to_string()
        }
        other => other.to_string().trim().to_owned(),
    }
}

fn elements(item: &Item) -> Vec<&dyn TableLike> {
    match item {
        Item::ArrayOfTables(tables) => tables.iter().map(|t| t as &dyn TableLike).collect(),
        Item::Table(table) => vec![table as &dyn TableLike],
        Item::Value(Value::InlineTable(table)) => vec![table as &dyn TableLike],
        Item::Value(Value::Array(list)) => list
            .iter()
            .filter_map(|value| value.as_inline_table().map(|t| t as &dyn TableLike))
            .collect(),
        _ => Vec::new(),
    }
}

/// Whether a text is a job rather than a library or something else: it holds a key that only jobs have. A text that is no TOML is
/// taken for a job that went wrong, so that it can be opened and put right.
///
/// ```
/// use dewpath_job::outline::is_job;
/// assert!(is_job("format = 1\n[[room]]\nid = \"bath\"\n"));
/// assert!(is_job("format = 1\n[[room]\n"));
/// assert!(!is_job("format = 1\nname = \"Fans\"\n[[fan]]\nid = \"a\"\n"));
/// ```
pub fn is_job(text: &str) -> bool {
    let Ok(document) = patch::parse(text) else { return true };
    let mut keys = document.iter().map(|(key, _)| key);
    keys.any(|key| Job::TABLE.key(key).is_some() && LibraryFile::TABLE.key(key).is_none())
}

/// Every table of a job file with what may stand in it.
pub fn forms() -> Vec<Form> {
    Job::TABLE.all().into_iter().map(form).collect()
}

fn form(table: &'static Table) -> Form {
    let fields = table.keys.iter().map(|key| {
        let (shape, quantity, words, below) = told(&key.shape);
        let (key, doc, example) = (key.name, key.doc.into(), key.example);
        Field { key, doc, example, shape, quantity, words, below }
    });
    Form { table: table.name, doc: table.doc.into(), fields: fields.collect() }
}

impl Form {
    /// The same with the help of a language, which gives a text by its id; what it does not say stays as it was declared.
    #[must_use]
    pub fn told(mut self, text: impl Fn(&str) -> Option<String>) -> Self {
        for (id, doc) in self.help_mut() {
            if let Some(text) = text(&id) {
                *doc = text.into();
            }
        }
        self
    }

    /// Each text of help with its id: `help.room`, and `help.room-length` of a key of it; what stands at the top is of `job`.
    pub fn help_mut(&mut self) -> Vec<(String, &mut Cow<'static, str>)> {
        let table = if self.table.is_empty() { "job" } else { self.table };
        let fields = self.fields.iter_mut();
        let fields = fields.map(|field| (format!("help.{table}-{}", field.key), &mut field.doc));
        std::iter::once((format!("help.{table}"), &mut self.doc)).chain(fields).collect()
    }
}

type Told = (&'static str, Option<&'static str>, Vec<&'static str>, Option<&'static str>);

fn told(shape: &Shape) -> Told {
    let plain = |shape| (shape, None, Vec::new(), None);
    match shape {
        Shape::Text | Shape::Id | Shape::Reference(_) | Shape::Model | Shape::Day => plain("text"),
        Shape::Quantity(kind, _) => ("quantity", Some(kind.name()), Vec::new(), None),
        Shape::SignedLength(_) | Shape::Clear(_) => ("quantity", Some("length"), Vec::new(), None),
        Shape::Count(..) => plain("count"),
        Shape::YesNo => plain("yes-no"),
        Shape::Choice(words) => ("choice", None, written(&words()), None),
        Shape::Word(words) => ("word", None, written(&words()), None),
        Shape::Size => plain("size"),
        Shape::Wish => ("other", None, written(&words_of::<WishWord>()), None),
        Shape::One(below) => ("table", None, Vec::new(), Some(below.name)),
        Shape::Many(below) => ("list", None, Vec::new(), Some(below.name)),
        _ => plain("other"),
    }
}
