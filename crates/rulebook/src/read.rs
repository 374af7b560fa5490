//! From the text of a book or an amendment to its layer of values, with a place for every mistake.

use std::collections::BTreeMap;
use std::ops::Range;

use dewpath_message::slot::{Count, Reference};
use dewpath_message::{Message, Triple};
use dewpath_units::{Kind, sort};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::answer::{Source, Standing};
use crate::error::BookError;
use crate::key::{self, Shape};
use crate::say::{self, Do, OfKey, WriteKey, Wrong};

use crate::table::{Cell, DuctTable, DwellingTable, Limit, RunTimeTable};

/// A value as it stands in a book.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    /// In SI, with the text as published.
    Number {
        si: f64,
        written: String,
    },
    /// Several, in SI.
    Numbers {
        si: Vec<f64>,
        written: Vec<String>,
    },
    Count(u32),
    YesNo(bool),
    Words(Vec<String>),
    /// The book was read and asks for none.
    NoneAsked,
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    pub(crate) value: Value,
    pub(crate) source: Source,
}

/// What a layer does to something of the book below it.
#[derive(Clone, Debug, Default)]
pub(crate) enum Change<T> {
    #[default]
    Keep,
    Set(T),
    Remove,
}

/// One cell of the duct table, replaced alone.
#[derive(Clone, Debug)]
pub(crate) struct CellChange {
    pub(crate) smooth: bool,
    pub(crate) diameter: f64,
    pub(crate) airflow: f64,
    pub(crate) cell: Cell,
    pub(crate) span: Range<usize>,
}

/// Top keys that are not values.
#[derive(Clone, Debug, Default)]
pub(crate) struct Header {
    pub(crate) id: Option<String>,
    pub(crate) title: Option<String>,
    pub(crate) place: Option<String>,
    pub(crate) edition: Option<String>,
    pub(crate) kind: Option<String>,
    pub(crate) based_on: Option<(String, Range<usize>)>,
    pub(crate) inherited: Option<Standing>,
    pub(crate) note: Option<String>,
    pub(crate) amends: Option<(String, Range<usize>)>,
    pub(crate) name: Option<String>,
}

/// Everything one file says.
#[derive(Clone, Debug, Default)]
pub(crate) struct Layer {
    pub(crate) header: Header,
    pub(crate) entries: BTreeMap<String, Option<Entry>>,
    pub(crate) duct_table: Change<DuctTable>,
    pub(crate) cells: Vec<CellChange>,
    pub(crate) dwelling_table: Change<DwellingTable>,
    pub(crate) run_time: Change<RunTimeTable>,
}

const BOOK_KEYS: [&str; 8] =
    ["id", "title", "place", "edition", "kind", "based_on", "inherited", "note"];
const AMENDMENT_KEYS: [&str; 3] = ["amends", "name", "note"];
const TABLES: [&str; 4] = ["duct_table", "duct_table_cell", "dwelling_table", "run_time_table"];
const FORMAT: &str = "1";
/// How a row of the duct table is written.
const A_ROW: &str = "\"4 in\" = [...]";

/// Far beyond any real book; keeps a wrong file from costing time.
const LONGEST_TEXT: usize = 1 << 20;

type Read<T> = Result<T, BookError>;
type Node<'a, 'i> = &'a Spanned<DeValue<'i>>;

/// The text being read, for the place of a mistake.
pub(crate) struct Reader<'t> {
    text: &'t str,
    name: String,
    amendment: Option<String>,
}

/// A number of things.
fn count(number: usize) -> Count {
    Count(Triple::exact(number as f64))
}

/// Reads a book (`amendment` false) or an amendment (true).
pub(crate) fn layer(text: &str, amendment: bool) -> Read<Layer> {
    let what = if amendment { "amendment" } else { "book" };
    let mut reader = Reader { text, name: what.to_owned(), amendment: None };
    if text.len() > LONGEST_TEXT {
        return Err(reader.err(0..0, Wrong::TooLong, Do::Split));
    }
    let document = DeTable::parse(text).map_err(|error| {
        reader.err(
            error.span().unwrap_or(0..0),
            say::NotToml { said: Reference::new(error.message().trim()) },
            Do::MendToml,
        )
    })?;
    let table = document.get_ref();
    let name_key = if amendment { "name" } else { "id" };
    if let Some(named) = table.get(name_key).and_then(|value| value.get_ref().as_str()) {
        named.clone_into(&mut reader.name);
        reader.amendment = amendment.then(|| named.to_owned());
    }
    reader.document(table, amendment)
}

impl Reader<'_> {
    fn err(
        &self,
        span: Range<usize>,
        message: impl Into<Message>,
        hint: impl Into<Message>,
    ) -> BookError {
        BookError::at(&self.name, self.text, span, message, hint)
    }

    fn document(&self, table: &DeTable<'_>, amendment: bool) -> Read<Layer> {
        let mut layer = Layer::default();
        match table.get("format") {
            Some(value) if value.get_ref().as_integer().is_some_and(|n| n.as_str() == FORMAT) => {}
            Some(value) => {
                return Err(self.err(value.span(), Wrong::OtherFormat, Do::WriteFormat));
            }
            None => {
                return Err(self.err(0..0, Wrong::NoFormat, Do::WriteFormatOnTop));
            }
        }
        for (key, value) in table {
            match key.get_ref().as_ref() {
                "format" => {}
                "duct_table" => layer.duct_table = self.change(value, Self::duct_table)?,
                "dwelling_table" => {
                    layer.dwelling_table = self.change(value, Self::dwelling_table)?;
                }
                "run_time_table" => layer.run_time = self.change(value, Self::run_time_table)?,
                "duct_table_cell" => {
                    for cell in self.array(value)? {
                        layer.cells.push(self.cell(cell)?);
                    }
                }
                name if value.get_ref().is_table() => {
                    self.entries(name, key.span(), value, &mut layer.entries)?;
                }
                name => self.header(name, key.span(), value, amendment, &mut layer.header)?,
            }
        }
        let required: &[&str] = if amendment {
            &["amends", "name"]
        } else {
            &["id", "title", "place", "edition", "kind"]
        };
        if let Some(missing) = required.iter().find(|name| !table.contains_key(**name)) {
            return Err(self.err(
                0..0,
                OfKey::Missing.of(missing),
                WriteKey::NearTop.line(format!("{missing} = \"...\"")),
            ));
        }
        Ok(layer)
    }

    fn header(
        &self,
        name: &str,
        key: Range<usize>,
        value: Node<'_, '_>,
        amendment: bool,
        header: &mut Header,
    ) -> Read<()> {
        let known: &[&str] = if amendment { &AMENDMENT_KEYS } else { &BOOK_KEYS };
        if !known.contains(&name) {
            return Err(self.unknown(key, name, known));
        }
        let text = self.text(value)?.to_owned();
        match name {
            "id" => header.id = Some(text),
            "title" => header.title = Some(text),
            "place" => header.place = Some(text),
            "edition" => header.edition = Some(text),
            "based_on" => header.based_on = Some((text, value.span())),
            "amends" => header.amends = Some((text, value.span())),
            "name" => header.name = Some(text),
            "inherited" => header.inherited = Some(self.standing(value)?),
            "kind" => {
                if !["rule", "guidance"].contains(&text.as_str()) {
                    return Err(self.err(value.span(), OfKey::NoKind.of(&text), Do::WriteKind));
                }
                header.kind = Some(text);
            }
            _ => header.note = Some(text),
        }
        Ok(())
    }

    /// Values under one topic, such as `[sound]` or `[airflow.bathroom]`.
    fn entries(
        &self,
        path: &str,
        at: Range<usize>,
        node: Node<'_, '_>,
        into: &mut BTreeMap<String, Option<Entry>>,
    ) -> Read<()> {
        let Some(table) = node.get_ref().as_table() else {
            return Err(self.err(
                node.span(),
                OfKey::WithoutSource.of(path),
                WriteKey::Line.line("{ value = ..., section = \"...\", standing = \"confirmed\" }"),
            ));
        };
        if let Some(shape) = key::shape(path) {
            into.insert(path.to_owned(), self.entry(path, at, table, shape)?);
            return Ok(());
        }
        if !key::is_topic(path) {
            let hint: Message = match key::nearest(path) {
                Some(near) => say::Nearest { near: Reference::new(near) }.into(),
                None => Do::SeeKeys.into(),
            };
            return Err(self.err(at, OfKey::NoSuchValue.of(path), hint));
        }
        for (key, value) in table {
            self.entries(&format!("{path}.{}", key.get_ref()), key.span(), value, into)?;
        }
        Ok(())
    }

    fn entry(
        &self,
        path: &str,
        at: Range<usize>,
        table: &DeTable<'_>,
        shape: Shape,
    ) -> Read<Option<Entry>> {
        self.only(table, &["value", "removed", "section", "standing", "note"])?;
        let removed = self.removed(table)?;
        let value = match (table.get("value"), removed) {
            (Some(value), false) => value,
            (Some(value), true) => {
                return Err(self.err(value.span(), OfKey::RemovedWithValue.of(path), Do::KeepOne));
            }
            (None, true) => {
                self.required(table, "section", &at)?;
                return Ok(None);
            }
            (None, false) => {
                return Err(self.err(at, OfKey::WithoutValue.of(path), shape.example()));
            }
        };
        let source = self.source(table, &at)?;
        Ok(Some(Entry { value: self.value(path, value, shape)?, source }))
    }

    fn value(&self, path: &str, node: Node<'_, '_>, shape: Shape) -> Read<Value> {
        let wrong = || self.err(node.span(), OfKey::Unread.of(path), shape.example());
        match (shape, node.get_ref()) {
            (Shape::YesNo, DeValue::Boolean(yes)) => Ok(Value::YesNo(*yes)),
            (Shape::Count, DeValue::Integer(_)) => self.count(node).map(Value::Count),
            (Shape::Insulation, DeValue::String(text)) if text == "none" => Ok(Value::NoneAsked),
            (Shape::Words(known), DeValue::Array(items)) => {
                let mut words = Vec::with_capacity(items.len());
                for item in items {
                    let word = self.text(item)?;
                    if !known.contains(&word) {
                        return Err(self.unknown(item.span(), word, known));
                    }
                    words.push(word.to_owned());
                }
                Ok(Value::Words(words))
            }
            (Shape::Quantities(_), DeValue::Array(items)) if !items.is_empty() => {
                let mut si = Vec::with_capacity(items.len());
                let mut written = Vec::with_capacity(items.len());
                for item in items {
                    let text = self.text(item)?;
                    si.push(shape.read(text).ok_or_else(wrong)?);
                    written.push(text.to_owned());
                }
                Ok(Value::Numbers { si, written })
            }
            (Shape::Quantities(_), _) => Err(wrong()),
            (_, DeValue::String(text)) => {
                let si = shape.read(text).filter(|si| si.is_finite()).ok_or_else(wrong)?;
                Ok(Value::Number { si, written: text.to_string() })
            }
            _ => Err(wrong()),
        }
    }

    fn source(&self, table: &DeTable<'_>, at: &Range<usize>) -> Read<Source> {
        let section = self.text(self.required(table, "section", at)?)?.to_owned();
        let standing = self.standing(self.required(table, "standing", at)?)?;
        let note = table.get("note").map(|note| self.text(note).map(str::to_owned)).transpose()?;
        Ok(Source { section, standing, note, amendment: self.amendment.clone() })
    }

    fn standing(&self, node: Node<'_, '_>) -> Read<Standing> {
        Standing::from_word(self.text(node)?)
            .ok_or_else(|| self.err(node.span(), Wrong::NoStanding, Do::WriteStanding))
    }

    fn removed(&self, table: &DeTable<'_>) -> Read<bool> {
        match table.get("removed").map(|node| (node, node.get_ref())) {
            None => Ok(false),
            Some((_, DeValue::Boolean(true))) => Ok(true),
            Some((node, _)) => Err(self.err(node.span(), Wrong::RemovedNotTrue, Do::LeaveOut)),
        }
    }

    /// A whole table set or removed.
    fn change<T>(
        &self,
        node: Node<'_, '_>,
        read: fn(&Self, &DeTable<'_>, &Range<usize>) -> Read<T>,
    ) -> Read<Change<T>> {
        let Some(table) = node.get_ref().as_table() else {
            return Err(self.err(node.span(), Wrong::NoTable, Do::SeeFormat));
        };
        if self.removed(table)? {
            self.only(table, &["removed", "section", "note"])?;
            self.required(table, "section", &node.span())?;
            return Ok(Change::Remove);
        }
        read(self, table, &node.span()).map(Change::Set)
    }

    fn duct_table(&self, table: &DeTable<'_>, at: &Range<usize>) -> Read<DuctTable> {
        self.only(
            table,
            &[
                "section",
                "standing",
                "note",
                "rated_at",
                "airflows",
                "elbow_deduction",
                "elbows_free",
                "flex",
                "smooth",
            ],
        )?;
        let airflows = self.quantities(self.required(table, "airflows", at)?, Kind::Airflow)?;
        if airflows.is_empty() || airflows.windows(2).any(|pair| pair[0] >= pair[1]) {
            let span = self.required(table, "airflows", at)?.span();
            return Err(self.err(span, Wrong::AirflowsDoNotRise, Do::WriteRising));
        }
        Ok(DuctTable {
            source: self.source(table, at)?,
            rated_at: self.quantity(self.required(table, "rated_at", at)?, Kind::Pressure)?,
            elbow_deduction: self
                .quantity(self.required(table, "elbow_deduction", at)?, Kind::Length)?,
            elbows_free: self.count(self.required(table, "elbows_free", at)?)?,
            flex: self.rows(self.required(table, "flex", at)?, airflows.len())?,
            smooth: self.rows(self.required(table, "smooth", at)?, airflows.len())?,
            airflows,
        })
    }

    fn rows(&self, node: Node<'_, '_>, columns: usize) -> Read<Vec<(f64, Vec<Cell>)>> {
        let Some(table) = node.get_ref().as_table() else {
            return Err(self.err(node.span(), Wrong::NoRows, WriteKey::Line.line(A_ROW)));
        };
        let mut rows = Vec::with_capacity(table.len());
        for (key, value) in table {
            let diameter = key::quantity(Kind::Length, key.get_ref()).ok_or_else(|| {
                self.err(key.span(), Wrong::RowWithoutDiameter, WriteKey::Line.line(A_ROW))
            })?;
            let cells = self.array(value)?;
            if cells.len() != columns {
                let message =
                    say::CellsOfRow { cells: count(cells.len()), airflows: count(columns) };
                return Err(self.err(value.span(), message, Do::WriteCells));
            }
            let cells =
                cells.iter().map(|cell| Ok(Cell { limit: self.limit(cell)?, source: None }));
            rows.push((diameter, cells.collect::<Read<Vec<_>>>()?));
        }
        sort::by(&mut rows, |a, b| a.0.total_cmp(&b.0));
        Ok(rows)
    }

    fn limit(&self, node: Node<'_, '_>) -> Read<Option<Limit>> {
        match self.text(node)? {
            "no limit" => Ok(Some(Limit::NoLimit)),
            "not allowed" => Ok(Some(Limit::NotAllowed)),
            "not printed" => Ok(None),
            text => match key::quantity(Kind::Length, text) {
                Some(m) => Ok(Some(Limit::Max(dewpath_units::Length::from_m(m)))),
                None => Err(self.err(node.span(), Wrong::CellUnread, Do::WriteLimit)),
            },
        }
    }

    fn cell(&self, node: Node<'_, '_>) -> Read<CellChange> {
        let Some(table) = node.get_ref().as_table() else {
            return Err(self.err(
                node.span(),
                Wrong::NoCell,
                WriteKey::Line.line("[[duct_table_cell]]"),
            ));
        };
        let at = node.span();
        self.only(table, &["duct", "diameter", "airflow", "limit", "section", "standing", "note"])?;
        let duct = self.required(table, "duct", &at)?;
        let smooth = match self.text(duct)? {
            "smooth" => true,
            "flex" => false,
            word => return Err(self.unknown(duct.span(), word, &["smooth", "flex"])),
        };
        Ok(CellChange {
            smooth,
            diameter: self.quantity(self.required(table, "diameter", &at)?, Kind::Length)?,
            airflow: self.quantity(self.required(table, "airflow", &at)?, Kind::Airflow)?,
            cell: Cell {
                limit: self.limit(self.required(table, "limit", &at)?)?,
                source: Some(self.source(table, &at)?),
            },
            span: at,
        })
    }

    fn dwelling_table(&self, table: &DeTable<'_>, at: &Range<usize>) -> Read<DwellingTable> {
        self.only(
            table,
            &["section", "standing", "note", "areas_up_to", "bedrooms_up_to", "rows"],
        )?;
        let areas_up_to = self.quantities(self.required(table, "areas_up_to", at)?, Kind::Area)?;
        let bedrooms = self.array(self.required(table, "bedrooms_up_to", at)?)?;
        let bedrooms_up_to = bedrooms.iter().map(|n| self.count(n)).collect::<Read<Vec<_>>>()?;
        let node = self.required(table, "rows", at)?;
        let rows = self.array(node)?.iter().map(|row| self.quantities(row, Kind::Airflow));
        let rows = rows.collect::<Read<Vec<_>>>()?;
        let fits = rows.len() == areas_up_to.len() + 1
            && rows.iter().all(|row| row.len() == bedrooms_up_to.len() + 1);
        if !fits {
            return Err(self.err(node.span(), Wrong::TableBeyondBounds, Do::WriteBounds));
        }
        Ok(DwellingTable { source: self.source(table, at)?, areas_up_to, bedrooms_up_to, rows })
    }

    fn run_time_table(&self, table: &DeTable<'_>, at: &Range<usize>) -> Read<RunTimeTable> {
        self.only(table, &["section", "standing", "note", "period", "shares", "factors"])?;
        let shares = self.required(table, "shares", at)?;
        let factors = self.quantities(self.required(table, "factors", at)?, Kind::Ratio)?;
        let read = RunTimeTable {
            source: self.source(table, at)?,
            period: self.quantity(self.required(table, "period", at)?, Kind::Duration)?,
            shares: self.quantities(shares, Kind::Ratio)?,
            factors,
        };
        let rises = read.shares.windows(2).all(|pair| pair[0] < pair[1]);
        if read.shares.len() != read.factors.len() || read.shares.len() < 2 || !rises {
            return Err(self.err(shares.span(), Wrong::SharesDoNotRise, Do::WriteTwoLists));
        }
        Ok(read)
    }

    fn quantities(&self, node: Node<'_, '_>, kind: Kind) -> Read<Vec<f64>> {
        self.array(node)?.iter().map(|item| self.quantity(item, kind)).collect()
    }

    fn quantity(&self, node: Node<'_, '_>, kind: Kind) -> Read<f64> {
        key::quantity(kind, self.text(node)?).ok_or_else(|| {
            self.err(
                node.span(),
                say::NoQuantity { kind: key::called(kind) },
                Shape::Quantity(kind).example(),
            )
        })
    }

    fn count(&self, node: Node<'_, '_>) -> Read<u32> {
        let number = node.get_ref().as_integer().and_then(|n| n.as_str().parse().ok());
        number.ok_or_else(|| self.err(node.span(), Wrong::NoWholeNumber, Shape::Count.example()))
    }

    fn array<'a, 'i>(&self, node: Node<'a, 'i>) -> Read<&'a [Spanned<DeValue<'i>>]> {
        match node.get_ref() {
            DeValue::Array(items) => Ok(items),
            _ => Err(self.err(node.span(), Wrong::NoList, WriteKey::Line.line("[ ... ]"))),
        }
    }

    fn text<'a>(&self, node: Node<'a, '_>) -> Read<&'a str> {
        node.get_ref().as_str().ok_or_else(|| self.err(node.span(), Wrong::NoText, Do::PutQuotes))
    }

    fn required<'a, 'i>(
        &self,
        table: &'a DeTable<'i>,
        name: &str,
        at: &Range<usize>,
    ) -> Read<Node<'a, 'i>> {
        table.get(name).ok_or_else(|| {
            let hint: Message = match name {
                "standing" => Do::WriteStandingKey.into(),
                _ => WriteKey::Line.line(format!("{name} = ...")).into(),
            };
            self.err(at.clone(), OfKey::MissingHere.of(name), hint)
        })
    }

    fn only(&self, table: &DeTable<'_>, known: &[&str]) -> Read<()> {
        match table.keys().find(|key| !known.contains(&key.get_ref().as_ref())) {
            Some(key) => Err(self.unknown(key.span(), key.get_ref(), known)),
            None => Ok(()),
        }
    }

    fn unknown(&self, at: Range<usize>, name: &str, known: &[&str]) -> BookError {
        let known =
            || known.iter().chain(if known == BOOK_KEYS { TABLES.iter() } else { [].iter() });
        let near = known().max_by(|a, b| {
            let score = |word: &str| strsim::normalized_damerau_levenshtein(name, word);
            score(a).total_cmp(&score(b))
        });
        let list: Vec<&str> = known().copied().collect();
        let hint: Message = match near {
            Some(near) => say::DidYouMean {
                key: say::DidYouMeanKey::Key,
                near: Reference::new(*near),
                names: Reference::new(list.join(", ")),
            }
            .into(),
            None => say::NamesKey::Known.of(&list).into(),
        };
        self.err(at, OfKey::Unknown.of(name), hint)
    }
}
