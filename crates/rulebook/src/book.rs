//! A resolved book: its own values, those of the book it is based on, and amendments laid over it.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use dewpath_message::Message;
use dewpath_message::slot::{Name, Reference};
use dewpath_units::Quantity;

use crate::answer::{Answer, Ruled, Source, Standing};
use crate::builtin;
use crate::error::BookError;
use crate::key::{self, Shape};
use crate::read::{self, CellChange, Change, Entry, Header, Layer, Value};
use crate::say::{self, OfKey, WriteKey};
use crate::table::{DuctTable, DwellingTable, RunTimeTable};

/// Rule, or advice of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BookKind {
    /// A code or standard: a miss can be a failing finding.
    Rule,
    /// Guidance: a miss is a caution at most.
    Guidance,
}

/// A rule book, complete in itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    id: String,
    title: String,
    place: String,
    edition: String,
    kind: BookKind,
    note: Option<String>,
    amendments: Vec<String>,
    pub(crate) entries: BTreeMap<String, Entry>,
    pub(crate) duct_table: Option<DuctTable>,
    pub(crate) dwelling_table: Option<DwellingTable>,
    pub(crate) run_time: Option<RunTimeTable>,
}

/// A local amendment: single values laid over one book.
#[derive(Clone, Debug)]
pub struct Amendment {
    text: String,
    name: String,
    amends: String,
    layer: Layer,
}

impl Amendment {
    /// Reads an amendment file.
    ///
    /// # Errors
    /// A [`BookError`] with line and column: bad TOML, an unknown key, a value that cannot be read,
    /// a missing section or standing.
    pub fn parse(text: &str) -> Result<Self, BookError> {
        let layer = read::layer(text, true)?;
        let name = layer.header.name.clone().unwrap_or_default();
        let amends = layer.header.amends.clone().unwrap_or_default().0;
        Ok(Self { text: text.to_owned(), name, amends, layer })
    }

    /// Its name, as it is shown beside each value it put there.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Id of the book it amends.
    pub fn amends(&self) -> &str {
        &self.amends
    }
}

/// Loads a built-in book, with everything it is based on.
///
/// # Errors
/// A [`BookError`] if there is no such book; its hint names the nearest one.
pub fn load(id: &str) -> Result<Book, BookError> {
    let Some(text) = builtin::text(id) else {
        let ids = builtin::builtin_ids();
        let near = ids.iter().max_by(|a, b| {
            let score = |known: &str| strsim::jaro_winkler(id, known);
            score(a).total_cmp(&score(b))
        });
        let near = Reference::new(near.copied().unwrap_or_default());
        let names = Reference::new(ids.join(", "));
        let hint = say::DidYouMean { key: say::DidYouMeanKey::Book, near, names };
        return Err(BookError::nowhere(id, say::Wrong::NoBook, hint));
    };
    Book::parse(text)
}

/// Books resting on books resting on books: more than this is a circle.
const DEEPEST: usize = 8;

impl Book {
    /// Reads a book; what it is based on is looked up among the built-in books.
    ///
    /// # Errors
    /// A [`BookError`] with line and column: bad TOML, an unknown key, a value that cannot be read,
    /// a missing section or standing, an unknown base.
    pub fn parse(text: &str) -> Result<Self, BookError> {
        Self::resolve(text, 0)
    }

    fn resolve(text: &str, depth: usize) -> Result<Self, BookError> {
        let layer = read::layer(text, false)?;
        let header = &layer.header;
        let id = header.id.clone().unwrap_or_default();
        let mut book = match &header.based_on {
            None => Self::empty(),
            Some((base, span)) => {
                let hint = || say::NamesKey::BuiltIn.of(builtin::builtin_ids());
                let wrong =
                    |message: Message| BookError::at(&id, text, span.clone(), message, hint());
                let base_text =
                    builtin::text(base).ok_or_else(|| wrong(OfKey::NoBase.of(base).into()))?;
                if depth >= DEEPEST {
                    let (id, base) = (Name::new(&id), Name::new(base));
                    return Err(wrong(say::BasedOnItself { id, base }.into()));
                }
                Self::resolve(base_text, depth + 1)?.inherited(header.inherited)
            }
        };
        book.name(header);
        book.lay_over(layer, text)?;
        Ok(book)
    }

    fn empty() -> Self {
        Self {
            id: String::new(),
            title: String::new(),
            place: String::new(),
            edition: String::new(),
            kind: BookKind::Rule,
            note: None,
            amendments: Vec::new(),
            entries: BTreeMap::new(),
            duct_table: None,
            dwelling_table: None,
            run_time: None,
        }
    }

    fn name(&mut self, header: &Header) {
        let text = |field: &Option<String>| field.clone().unwrap_or_default();
        self.id = text(&header.id);
        self.title = text(&header.title);
        self.place = text(&header.place);
        self.edition = text(&header.edition);
        self.note.clone_from(&header.note);
        self.kind = match header.kind.as_deref() {
            Some("guidance") => BookKind::Guidance,
            _ => BookKind::Rule,
        };
    }

    /// Values taken over from a base, whose standing here is no better than `most`.
    fn inherited(mut self, most: Option<Standing>) -> Self {
        let Some(most) = most else { return self };
        let lower = |source: &mut Source| source.standing = source.standing.and(most);
        self.entries.values_mut().for_each(|entry| lower(&mut entry.source));
        if let Some(table) = &mut self.duct_table {
            lower(&mut table.source);
        }
        if let Some(table) = &mut self.dwelling_table {
            lower(&mut table.source);
        }
        if let Some(table) = &mut self.run_time {
            lower(&mut table.source);
        }
        self
    }

    fn lay_over(&mut self, layer: Layer, text: &str) -> Result<(), BookError> {
        for (key, entry) in layer.entries {
            match entry {
                Some(entry) => self.entries.insert(key, entry),
                None => self.entries.remove(&key),
            };
        }
        put(&mut self.duct_table, layer.duct_table);
        put(&mut self.dwelling_table, layer.dwelling_table);
        put(&mut self.run_time, layer.run_time);
        let name = layer.header.name.as_deref().unwrap_or(&self.id).to_owned();
        for change in layer.cells {
            self.replace_cell(change, &name, text)?;
        }
        Ok(())
    }

    fn replace_cell(
        &mut self,
        change: CellChange,
        name: &str,
        text: &str,
    ) -> Result<(), BookError> {
        let wrong = |message: Message| {
            let hint = WriteKey::CellOrTable.line("[duct_table]");
            BookError::at(name, text, change.span.clone(), message, hint)
        };
        let Some(table) = &mut self.duct_table else {
            return Err(wrong(OfKey::NoDuctTable.of(&self.id).into()));
        };
        let same = |a: f64, b: f64| (a - b).abs() <= 1e-6 * b.abs();
        let column = table.airflows.iter().position(|flow| same(*flow, change.airflow));
        let rows = if change.smooth { &mut table.smooth } else { &mut table.flex };
        let row = rows.iter_mut().find(|(size, _)| same(*size, change.diameter));
        match (row, column) {
            (Some((_, cells)), Some(column)) => {
                cells[column] = change.cell;
                Ok(())
            }
            _ => Err(wrong(say::Wrong::NoSuchCell.into())),
        }
    }

    /// The book with an amendment laid over it. Amendments stack in the order they are given.
    ///
    /// # Errors
    /// A [`BookError`] if the amendment is meant for another book, or replaces a cell that the duct
    /// table does not have.
    pub fn amended_by(&self, amendment: &Amendment) -> Result<Self, BookError> {
        if amendment.amends != self.id {
            let span = amendment.layer.header.amends.clone().unwrap_or_default().1;
            let (amends, id) = (Name::new(&amendment.amends), Name::new(&self.id));
            let message = say::OtherBook { amends, id };
            let hint = WriteKey::OverItsOwn.line(format!("amends = \"{}\"", self.id));
            return Err(BookError::at(&amendment.name, &amendment.text, span, message, hint));
        }
        let mut book = self.clone();
        book.lay_over(amendment.layer.clone(), &amendment.text)?;
        book.amendments.push(amendment.name.clone());
        Ok(book)
    }

    /// The id it is loaded by, such as `us-irc-2021`.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Its title.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// The jurisdiction it is written for.
    pub fn place(&self) -> &str {
        &self.place
    }

    /// Its edition.
    pub fn edition(&self) -> &str {
        &self.edition
    }

    /// Rule or guidance.
    pub fn kind(&self) -> BookKind {
        self.kind
    }

    /// What a reader should know of the whole book.
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    /// Names of the amendments laid over it, in order.
    pub fn amendments(&self) -> &[String] {
        &self.amendments
    }

    /// Every value in a fixed order and spelling, for hashing: equal texts are equal books.
    pub fn hash_text(&self) -> String {
        let mut text = format!(
            "book {}\ntitle {}\nplace {}\nedition {}\nkind {:?}\n",
            self.id, self.title, self.place, self.edition, self.kind
        );
        // Writing to a string cannot fail.
        for name in &self.amendments {
            let _ = writeln!(text, "amended by {name}");
        }
        for (key, entry) in &self.entries {
            let _ = writeln!(text, "{key} = {:?} {:?}", entry.value, entry.source);
        }
        let _ =
            writeln!(text, "{:?}\n{:?}\n{:?}", self.duct_table, self.dwelling_table, self.run_time);
        text
    }

    /// Key and value as published of every single value, in order, for listings; tables are left out.
    pub fn contents(&self) -> Vec<(String, Ruled<String>)> {
        let listed = self.entries.iter().map(|(key, entry)| {
            let value = match &entry.value {
                Value::Number { written, .. } => written.clone(),
                Value::Numbers { written, .. } => written.join(", "),
                Value::Count(count) => count.to_string(),
                Value::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
                Value::Words(words) => words.join(", "),
                Value::NoneAsked => "none".to_owned(),
            };
            (key.clone(), self.ruled(&entry.source, value))
        });
        listed.collect()
    }

    /// A value with its place.
    pub(crate) fn ruled<T>(&self, source: &Source, value: T) -> Ruled<T> {
        let book = match &source.amendment {
            Some(name) => format!("{}, amended by {name}", self.title),
            None => self.title.clone(),
        };
        Ruled {
            value,
            section: source.section.clone(),
            standing: source.standing,
            book,
            note: source.note.clone(),
        }
    }

    fn answer<T>(&self, question: &str, read: impl FnOnce(&Value) -> Option<T>) -> Answer<T> {
        debug_assert!(key::shape(question).is_some(), "no such question: {question}");
        let found = self
            .entries
            .get(question)
            .and_then(|entry| read(&entry.value).map(|value| self.ruled(&entry.source, value)));
        found.map_or_else(|| Answer::missing(question), Answer::Known)
    }

    pub(crate) fn quantity<Q: Quantity>(&self, question: &str) -> Answer<Q> {
        debug_assert!(matches!(
            key::shape(question),
            Some(Shape::Quantity(kind)) if kind == Q::KIND
        ));
        self.number(question).map(Q::from_si)
    }

    /// A number in SI, for the shapes that are no quantity of their own.
    pub(crate) fn number(&self, question: &str) -> Answer<f64> {
        self.answer(question, |value| match value {
            Value::Number { si, .. } => Some(*si),
            _ => None,
        })
    }

    pub(crate) fn numbers(&self, question: &str) -> Answer<Vec<f64>> {
        self.answer(question, |value| match value {
            Value::Numbers { si, .. } => Some(si.clone()),
            _ => None,
        })
    }

    pub(crate) fn count(&self, question: &str) -> Answer<u32> {
        self.answer(question, |value| match value {
            Value::Count(count) => Some(*count),
            _ => None,
        })
    }

    pub(crate) fn yes_no(&self, question: &str) -> Answer<bool> {
        self.answer(question, |value| match value {
            Value::YesNo(yes) => Some(*yes),
            _ => None,
        })
    }

    pub(crate) fn words(&self, question: &str) -> Answer<Vec<String>> {
        self.answer(question, |value| match value {
            Value::Words(words) => Some(words.clone()),
            _ => None,
        })
    }

    /// A list of words as members of an enum; the closed list of words and `member` go together.
    pub(crate) fn members<T>(
        &self,
        question: &str,
        member: impl Fn(&str) -> Option<T>,
    ) -> Answer<Vec<T>> {
        self.words(question).map(|words| words.iter().filter_map(|word| member(word)).collect())
    }

    pub(crate) fn is_none_asked(&self, question: &str) -> Answer<()> {
        self.answer(question, |value| matches!(value, Value::NoneAsked).then_some(()))
    }
}

fn put<T>(into: &mut Option<T>, change: Change<T>) {
    match change {
        Change::Keep => {}
        Change::Set(value) => *into = Some(value),
        Change::Remove => *into = None,
    }
}
