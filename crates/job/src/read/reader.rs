//! Walks a document table by table. Every mistake is collected with its place; reading goes on, so
//! that one look at the screen shows everything that has to be mended.

use std::collections::BTreeSet;
use std::ops::Range;

use dewpath_message::Message;
use dewpath_message::slot::{List, Name, Reference};

use super::context::Context;
use super::text::{list_or_one, shorten};
use crate::diagnostic::Diagnostic;
use crate::nearest::nearest;
use crate::node::{Entry, Node, Value};
use crate::say::{self, Label};
use crate::spec::{Key, Shape, Table};
use crate::stated::STATED;

/// One table that is being read.
#[derive(Clone)]
pub(crate) struct Reader<'n> {
    table: &'static Table,
    entries: &'n [Entry],
    /// Where the table stands.
    pub(crate) span: Range<usize>,
    /// Path of the table, by ids.
    pub(crate) path: String,
    /// Its id, where it is one of several.
    pub(crate) id: String,
    /// Keys that have another name in this table: name of the model, name of the file.
    names: &'static [(&'static str, &'static str)],
}

impl<'n> Reader<'n> {
    /// Opens a table and tells about keys it does not know.
    pub(crate) fn open(
        context: &mut Context<'_>,
        table: &'static Table,
        entries: &'n [Entry],
        span: Range<usize>,
        path: String,
    ) -> Self {
        for entry in entries {
            if table.key(&entry.key).is_none() {
                unknown_key(context, table, entry, &path);
            }
        }
        for key in table.keys.iter().filter(|key| key.required) {
            if !entries.iter().any(|entry| entry.key == key.name) {
                // A section without text of its own is shown by its first key.
                let message: Message = if path.is_empty() {
                    say::Missing { key: Reference::new(key.name) }.into()
                } else {
                    say::Lacks {
                        key: say::LacksKey::Alone,
                        path: Name::new(&path),
                        missing: Reference::new(key.name),
                    }
                    .into()
                };
                context.tell(
                    Diagnostic::error(&path, span.clone(), message)
                        .label(say::MustBeWritten { key: Reference::new(key.name) })
                        .help(example(key)),
                );
            }
        }
        Self { table, entries, span, path, id: String::new(), names: &[] }
    }

    /// The same table, in which some keys have another name than in the model.
    pub(crate) fn renamed(&self, names: &'static [(&'static str, &'static str)]) -> Self {
        Self { names, ..self.clone() }
    }

    /// A key with its value and path, if it is written and is one of this table.
    pub(super) fn find(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<(&'static Key, &'n Node, String)> {
        let name = self.names.iter().find(|(old, _)| *old == name).map_or(name, |&(_, new)| new);
        context.note((self.table.written, name));
        // Most keys are left out, so what is written is looked at first.
        let entry = self.entries.iter().find(|entry| entry.key == name)?;
        let key = self.table.key(name)?;
        let path = self.path_of(name);
        context.places.insert(path.clone(), entry.node.span.clone());
        Some((key, &entry.node, path))
    }

    pub(crate) fn path_of(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }

    /// A text that is written, for a key that waits for another one; nothing is told.
    pub(crate) fn peek(&self, name: &str) -> Option<&'n str> {
        match &self.entries.iter().find(|entry| entry.key == name)?.node.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// The keys of this table that are written, of those that have a table below them.
    pub(crate) fn sections(&self) -> impl Iterator<Item = &'static str> {
        let below = self.table.keys.iter().filter(|key| matches!(key.shape, Shape::One(_)));
        below.map(|key| key.name)
    }

    /// Whether a key is written.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == name)
    }

    /// Place of a key's value, or of the table.
    pub(crate) fn span_of(&self, name: &str) -> Range<usize> {
        self.entries
            .iter()
            .find(|entry| entry.key == name)
            .map_or_else(|| self.span.clone(), |entry| entry.node.span.clone())
    }

    /// A table below this one; one that is left out is read as empty.
    pub(crate) fn section(&self, context: &mut Context<'_>, name: &'static str) -> Reader<'n> {
        self.section_if(context, name).unwrap_or_else(|| Reader {
            table: self.below(name),
            entries: &[],
            span: self.span.clone(),
            path: self.path_of(name),
            id: String::new(),
            names: &[],
        })
    }

    /// A table below this one, if it is written.
    pub(crate) fn section_if(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<Reader<'n>> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Table(entries) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::Table);
            return None;
        };
        let below = self.below(name);
        Some(Reader::open(context, below, entries, node.span.clone(), path))
    }

    fn below(&self, name: &str) -> &'static Table {
        match self.table.key(name).map(|key| &key.shape) {
            Some(Shape::One(table) | Shape::Many(table)) => table,
            _ => &STATED,
        }
    }

    /// Elements of a list of tables, each with its id; a single table counts as a list of one.
    pub(crate) fn elements(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Vec<Reader<'n>> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        let table = self.below(name);
        let tables: Vec<(&'n [Entry], Range<usize>)> = list_or_one(node)
            .filter_map(|item| {
                if let Value::Table(entries) = &item.value {
                    return Some((entries.as_slice(), item.span.clone()));
                }
                context.bad_shape(&path, key, item, say::Shape::Table);
                None
            })
            .collect();
        let count = tables.len();
        let mut own: BTreeSet<String> = BTreeSet::new();
        let mut elements = Vec::new();
        for (index, (entries, span)) in tables.into_iter().enumerate() {
            let id = self.id_of(context, table, entries, &span, index, count, &mut own);
            let element_path = format!("{path}.{id}");
            context.places.insert(element_path.clone(), span.clone());
            let reader = Reader::open(context, table, entries, span, element_path);
            elements.push(Reader { id, ..reader });
        }
        elements
    }
}

/// How a key may be written, with the words that it may be.
fn example(key: &Key) -> Message {
    let written = format!("{} = {}", key.name, key.example);
    match &key.shape {
        Shape::Word(words) | Shape::Choice(words) => {
            let (others, last) = say::either(&crate::spec::written(&words()));
            let example = Reference::new(written);
            say::ExampleOfWords { example, others, last }.into()
        }
        _ => say::example(written).into(),
    }
}

fn unknown_key(context: &mut Context<'_>, table: &'static Table, entry: &Entry, path: &str) {
    if context.is_full() {
        context.drop_one();
        return;
    }
    let names: Vec<&str> = table.keys.iter().map(|key| key.name).collect();
    let full =
        if path.is_empty() { entry.key.clone() } else { format!("{path}.{}", shorten(&entry.key)) };
    let shown = shorten(&entry.key);
    let diagnostic = Diagnostic::error(
        &full,
        entry.key_span.clone(),
        say::NotAKey { key: Name::new(&shown), table: table.called() },
    );
    let elsewhere: Vec<&str> = if table.name == STATED.name {
        Vec::new()
    } else {
        context
            .job()
            .all()
            .into_iter()
            .filter(|other| !std::ptr::eq(*other, table) && other.key(&entry.key).is_some())
            .map(|other| other.written)
            .collect()
    };
    let diagnostic = if let Some(key) =
        nearest(&entry.key, names.iter().copied()).and_then(|name| table.key(name))
    {
        diagnostic
            .label(say::DidYouMean { near: Reference::new(key.name) })
            .help(say::example(format!("{} = {}", key.name, key.example)))
    } else if !elsewhere.is_empty() {
        let diagnostic = diagnostic
            .label(Label::BelongsElsewhere)
            .help(say::KeyElsewhere { key: Name::new(shown), tables: List::new(&elsewhere) });
        if elsewhere.iter().any(|w| w.starts_with("the top")) {
            diagnostic.help(say::InSectionKey::AboveBrackets.of("[brackets]"))
        } else {
            diagnostic
        }
    } else {
        diagnostic.label(Label::NotKnownHere)
    };
    context.tell(if names.is_empty() {
        diagnostic.help(say::NoKeys { table: table.called() })
    } else {
        diagnostic
            .help(say::KeysOf { table: table.called(), names: Reference::new(names.join(", ")) })
    });
}
