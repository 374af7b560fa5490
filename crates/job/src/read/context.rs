//! Everything that is collected while a document is read.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use dewpath_message::slot::{Name, Word};
use dewpath_units::{Kind, Origin, ParseError, Style};

use crate::diagnostic::{Diagnostic, Severity};
use crate::node::Node;
use crate::say;
use crate::spec::{Key, Table};

/// Errors beyond this many are counted, not kept: they are all of one kind by then.
const MOST_COLLECTED: usize = 2000;

/// An id that was named somewhere and has to exist.
pub(crate) struct Mention {
    pub(crate) path: String,
    pub(crate) span: Range<usize>,
    pub(crate) id: String,
    /// Kinds of element that may be meant, in words.
    pub(crate) kinds: &'static str,
}

/// Everything that is collected while a document is read.
pub(crate) struct Context<'a> {
    text: &'a str,
    /// Origin of a value that stands there plainly.
    plain_origin: Origin,
    /// The table of job files, for keys that stand in the wrong place.
    job: &'static Table,
    /// Style in which limits are printed.
    pub(crate) style: Style,
    list: Vec<Diagnostic>,
    errors: usize,
    warnings: usize,
    dropped: usize,
    /// Where each value stands.
    pub(crate) places: BTreeMap<String, Range<usize>>,
    /// Every id with its kind and place.
    pub(crate) ids: BTreeMap<String, (&'static str, Range<usize>)>,
    pub(crate) mentions: Vec<Mention>,
    /// Keys that were asked for, as (table, key): a test compares them with the tables.
    pub(crate) asked: BTreeSet<(&'static str, &'static str)>,
}

impl<'a> Context<'a> {
    pub(crate) fn new(text: &'a str, plain_origin: Origin, job: &'static Table) -> Self {
        Self {
            text,
            plain_origin,
            job,
            style: Style::default(),
            list: Vec::new(),
            errors: 0,
            warnings: 0,
            dropped: 0,
            places: BTreeMap::new(),
            ids: BTreeMap::new(),
            mentions: Vec::new(),
            asked: BTreeSet::new(),
        }
    }

    /// Notes a key that is asked for, where a test wants to know.
    pub(super) fn note(&mut self, key: (&'static str, &'static str)) {
        if cfg!(test) {
            self.asked.insert(key);
        }
    }

    pub(crate) fn tell(&mut self, diagnostic: Diagnostic) {
        // Warnings must never crowd out an error, so each sort has a limit of its own.
        let count = match diagnostic.severity {
            Severity::Error => &mut self.errors,
            Severity::Warning => &mut self.warnings,
        };
        *count += 1;
        if *count > MOST_COLLECTED {
            self.dropped += 1;
        } else {
            self.list.push(diagnostic);
        }
    }

    /// Whether more errors are only counted: what a diagnostic would say need not be worked out any more.
    pub(super) fn is_full(&self) -> bool {
        self.errors >= MOST_COLLECTED
    }

    /// Counts a diagnostic that is not kept.
    pub(super) fn drop_one(&mut self) {
        self.dropped += 1;
    }

    /// How many errors there are.
    pub(super) fn errors(&self) -> usize {
        self.errors
    }

    pub(super) fn plain_origin(&self) -> Origin {
        self.plain_origin
    }

    /// The table of job files.
    pub(super) fn job(&self) -> &'static Table {
        self.job
    }

    /// A value as it was typed.
    pub(super) fn typed(&self, node: &Node) -> &'a str {
        self.text.get(node.span.clone()).unwrap_or_default()
    }

    pub(crate) fn has_errors(&self) -> bool {
        self.errors > 0
    }

    pub(crate) fn finish(self) -> (Vec<Diagnostic>, usize, BTreeMap<String, Range<usize>>) {
        (self.list, self.dropped, self.places)
    }

    /// Place of a value by its path; the start of the file for what is not written.
    pub(crate) fn place(&self, path: &str) -> Range<usize> {
        self.places.get(path).cloned().unwrap_or(0..0)
    }

    /// Bytes of the file for bytes inside a text value.
    pub(super) fn inside(&self, node: &Node, text: &str, part: &Range<usize>) -> Range<usize> {
        let raw = self.text.get(node.span.clone()).unwrap_or_default();
        let offset = if raw == text {
            0
        } else if raw.get(1..raw.len().saturating_sub(1)) == Some(text) {
            1
        } else {
            return node.span.clone();
        };
        let start = node.span.start + offset + part.start;
        start..(node.span.start + offset + part.end).max(start)
    }

    pub(super) fn bad_text(
        &mut self,
        path: &str,
        node: &Node,
        text: &str,
        at: usize,
        error: &ParseError,
    ) {
        let part = at + error.span.start..at + error.span.end;
        let span = self.inside(node, text, &part);
        let (message, help) = say::unread(path, error);
        let mut diagnostic = Diagnostic::error(path, span, message);
        diagnostic.help.extend(help);
        self.tell(diagnostic);
    }

    pub(super) fn bad_shape(&mut self, path: &str, key: &Key, node: &Node, wanted: say::Shape) {
        let (wanted, found) = (Word::new(wanted.key()), Word::new(node.value.kind().key()));
        let message = say::OtherShape { path: Name::new(path), wanted: wanted.clone(), found };
        self.tell(
            Diagnostic::error(path, node.span.clone(), message)
                .label(say::Belongs { wanted })
                .help(say::example(format!("{} = {}", key.name, key.example))),
        );
    }

    /// Something else where a quantity in quotes belongs.
    pub(super) fn no_quantity(&mut self, path: &str, key: &Key, node: &Node, wanted: Kind) {
        let (wanted, found) = (say::quantity(wanted), Word::new(node.value.kind().key()));
        let message = say::NoQuantity { path: Name::new(path), wanted: wanted.clone(), found };
        self.tell(
            Diagnostic::error(path, node.span.clone(), message)
                .label(say::QuantityBelongs { wanted })
                .help(say::example(format!("{} = {}", key.name, key.example))),
        );
    }
}
