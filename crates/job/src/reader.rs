//! Walks a document table by table. Every mistake is collected with its place; reading goes on, so
//! that one look at the screen shows everything that has to be mended.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use dewpath_units::{
    Airflow, Choice, ErrorKind, Kind, Length, Origin, ParseError, Pressure, Quantity, Stated,
    Style, System, Uncertain, YesNo, sort,
};

use crate::category::Category;
use crate::diagnostic::{Diagnostic, Severity};
use crate::model::{
    ClockTime, Day, Given, GivenChoice, GivenCount, GivenOutline, GivenPlace, GivenYesNo,
    LossPoint, RatedPoint, Section, Wish, WishWord,
};
use crate::nearest::{nearest, one_of};
use crate::node::{Entry, Node, Value};
use crate::spec::{Key, Limits, Shape, Table};
use crate::tables::STATED;

/// Errors beyond this many are counted, not kept: they are all of one kind by then.
const MOST_COLLECTED: usize = 2000;

/// Words that cannot be an id, since they mean something by themselves.
const RESERVED: [&str; 6] = ["unknown", "outdoors", "house", "all", "none", "part"];

/// Farthest that a place may lie from where the frame begins, m; as the longest room side.
const FARTHEST_M: f64 = 100.0;

/// Longest id.
const LONGEST_ID: usize = 60;

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
    pub(crate) fn new(text: &'a str, plain_origin: Origin) -> Self {
        Self {
            text,
            plain_origin,
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
    fn note(&mut self, key: (&'static str, &'static str)) {
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
    fn is_full(&self) -> bool {
        self.errors >= MOST_COLLECTED
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
    fn inside(&self, node: &Node, text: &str, part: &Range<usize>) -> Range<usize> {
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

    fn bad_text(&mut self, path: &str, node: &Node, text: &str, at: usize, error: &ParseError) {
        let part = at + error.span.start..at + error.span.end;
        let span = self.inside(node, text, &part);
        let mut diagnostic = Diagnostic::error(path, span, format!("`{path}`: {}", error.message));
        if !error.hint.is_empty() {
            diagnostic = diagnostic.help(error.hint.clone());
        }
        self.tell(diagnostic);
    }

    fn bad_shape(&mut self, path: &str, key: &Key, node: &Node, wanted: &str) {
        self.tell(
            Diagnostic::error(
                path,
                node.span.clone(),
                format!("`{path}` is {wanted}, not {}", node.value.kind_name()),
            )
            .label(format!("{wanted} belongs here"))
            .help(format!("for example: {} = {}", key.name, key.example)),
        );
    }
}

/// One table that is being read.
pub(crate) struct Reader<'n> {
    table: &'static Table,
    entries: &'n [Entry],
    /// Where the table stands.
    pub(crate) span: Range<usize>,
    /// Path of the table, by ids.
    pub(crate) path: String,
}

/// One of several elements.
pub(crate) struct Element<'n> {
    pub(crate) id: String,
    pub(crate) reader: Reader<'n>,
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
                let message = if path.is_empty() {
                    format!("`{}` is missing", key.name)
                } else {
                    format!("`{path}` lacks `{}`", key.name)
                };
                context.tell(
                    Diagnostic::error(&path, span.clone(), message)
                        .label(format!("`{}` must be written here", key.name))
                        .help(format!(
                            "for example: {} = {}{}",
                            key.name,
                            key.example,
                            words_note(key)
                        )),
                );
            }
        }
        Self { table, entries, span, path }
    }

    fn find(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<(&'static Key, &'n Node, String)> {
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

    /// A value with its origin: plain, or in a table `{ value = …, origin = … }`.
    fn stated<T>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
        read: impl FnOnce(&mut Context<'_>, &'static Key, &'n Node, &str) -> Option<T>,
    ) -> Option<Stated<T>> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Table(entries) = &node.value else {
            let value = read(context, key, node, &path)?;
            return Some(Stated {
                value,
                origin: context.plain_origin,
                date: None,
                photo: None,
                note: None,
            });
        };
        if !entries.iter().any(|entry| entry.key == "value") {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("`{path}` is a table without a `value`"),
                )
                .label("`value` must be written here")
                .help(format!(
                    "for example: {name} = {{ value = {}, origin = \"measured\" }}",
                    key.example
                )),
            );
            return None;
        }
        let about = Reader::open(context, &STATED, entries, node.span.clone(), path.clone());
        let (_, inner, inner_path) = about.find(context, "value")?;
        let origin = about.origin(context);
        let date = about.date(context, "on");
        let photo = about.text(context, "photo");
        let note = about.text(context, "note");
        let value = read(context, key, inner, &inner_path)?;
        Some(Stated { value, origin: origin.unwrap_or(context.plain_origin), date, photo, note })
    }

    fn origin(&self, context: &mut Context<'_>) -> Option<Origin> {
        let text = self.text(context, "origin")?;
        let words = [
            ("measured", Origin::Measured),
            ("label", Origin::Label),
            ("assumed", Origin::Assumed),
        ];
        let plain = text.trim().to_ascii_lowercase();
        let found = words.iter().find(|(word, _)| *word == plain).map(|&(_, origin)| origin);
        if found.is_none() {
            let names: Vec<&str> = words.iter().map(|&(word, _)| word).collect();
            let path = self.path_of("origin");
            context.tell(
                Diagnostic::error(
                    &path,
                    self.span_of("origin"),
                    format!("`{text}` is no origin of a value"),
                )
                .label(suggestion(&plain, &names))
                .help(format!("write {}", one_of(&names))),
            );
        }
        found
    }

    /// A date, as TOML date or as text.
    fn date(&self, context: &mut Context<'_>, name: &'static str) -> Option<String> {
        let (key, node, path) = self.find(context, name)?;
        match &node.value {
            Value::Text(text) | Value::Date(text) => Some(text.clone()),
            _ => {
                context.bad_shape(&path, key, node, "a date");
                None
            }
        }
    }

    /// Free text.
    pub(crate) fn text(&self, context: &mut Context<'_>, name: &'static str) -> Option<String> {
        let (key, node, path) = self.find(context, name)?;
        match &node.value {
            Value::Text(text) => Some(text.clone()),
            Value::Date(text) if matches!(name, "date") => Some(text.clone()),
            _ => {
                context.bad_shape(&path, key, node, "a text in quotes");
                None
            }
        }
    }

    /// Free text with its place, quoted or as it stands: a value of any kind, as TOML text.
    pub(crate) fn raw(&self, context: &mut Context<'_>, name: &'static str) -> Option<String> {
        let (_, node, _) = self.find(context, name)?;
        Some(match &node.value {
            Value::Text(text) => text.clone(),
            _ => context.text.get(node.span.clone()).unwrap_or_default().to_owned(),
        })
    }

    /// Several free texts; a single one may stand without brackets.
    pub(crate) fn texts(&self, context: &mut Context<'_>, name: &'static str) -> Vec<String> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        list_or_one(node)
            .filter_map(|item| {
                if let Value::Text(text) = &item.value {
                    return Some(text.clone());
                }
                context.bad_shape(&path, key, item, "a text in quotes");
                None
            })
            .collect()
    }

    /// A whole number without a unit, between limits that the caller knows.
    pub(crate) fn number(&self, context: &mut Context<'_>, name: &'static str) -> Option<f64> {
        let (key, node, path) = self.find(context, name)?;
        let Shape::Number(low, high) = key.shape else { return None };
        let number = match &node.value {
            Value::Number(Some(number)) => *number,
            Value::Text(text) => {
                if let Ok(ratio) = dewpath_units::Ratio::parse(text) {
                    ratio.si()
                } else {
                    context.bad_shape(&path, key, node, "a plain number");
                    return None;
                }
            }
            _ => {
                context.bad_shape(&path, key, node, "a plain number");
                return None;
            }
        };
        if (low..=high).contains(&number) {
            return Some(number);
        }
        context.tell(
            Diagnostic::error(
                &path,
                node.span.clone(),
                format!("`{path}` lies between {low} and {high}"),
            )
            .label("outside of that")
            .help(format!("for example: {name} = {}", key.example)),
        );
        None
    }

    /// The format number.
    pub(crate) fn format(&self, context: &mut Context<'_>) -> u32 {
        let Some((_, node, path)) = self.find(context, "format") else {
            context.tell(
                Diagnostic::warning("format", 0..0, "`format` is left out; the file is read as format 1")
                    .help("write `format = 1` in the first line, so that later programs know how to read it"),
            );
            return 1;
        };
        match node.value {
            Value::Number(Some(1.0)) => return 1,
            Value::Number(Some(number)) if number > 1.0 => context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("this file is format {number}; this program reads up to 1"),
                )
                .label("newer than this program")
                .help("use a newer dewpath, or ask for the file in format 1"),
            ),
            _ => context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    "`format` is the number of the file format",
                )
                .label("must be 1")
                .help("write `format = 1`"),
            ),
        }
        1
    }

    /// A quantity that may be a range, about or unknown.
    pub(crate) fn quantity<Q: Quantity>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Given<Q> {
        self.stated(context, name, |context, key, node, path| {
            read_quantity::<Q>(context, key, node, path)
        })
    }

    /// A count.
    pub(crate) fn count(&self, context: &mut Context<'_>, name: &'static str) -> GivenCount {
        self.stated(context, name, |context, key, node, path| {
            let count = match &node.value {
                Value::Number(Some(number)) => {
                    let whole = *number as u32;
                    if number.fract().abs() > 0.0 || !(0.0..=f64::from(u32::MAX)).contains(number) {
                        context.tell(
                            Diagnostic::error(path, node.span.clone(), format!("`{path}` is a count: a whole number from 0 on"))
                                .label("not a count")
                                .help(format!("for example: {name} = {}, or {name} = \"1..3\", or {name} = \"unknown\"", key.example)),
                        );
                        return None;
                    }
                    Uncertain::Exact(whole)
                }
                Value::Text(text) => match Uncertain::<u32>::parse(text) {
                    Ok(count) => count,
                    Err(error) => {
                        context.bad_text(path, node, text, 0, &error);
                        return None;
                    }
                },
                _ => {
                    context.bad_shape(path, key, node, "a count");
                    return None;
                }
            };
            let most = match &count {
                Uncertain::Exact(n) => Some(*n),
                Uncertain::Range { high, .. } => Some(*high),
                Uncertain::About { likely, .. } => Some(*likely),
                Uncertain::Unknown => None,
            };
            if let (Some(most), Shape::Count(possible, usual)) = (most, &key.shape) {
                if most > *possible {
                    context.tell(
                        Diagnostic::error(path, node.span.clone(), format!("`{path}` cannot be {most}; the most that is read is {possible}"))
                            .label("too many")
                            .help(format!("for example: {name} = {}", key.example)),
                    );
                    return None;
                }
                if most > *usual {
                    context.tell(
                        Diagnostic::warning(path, node.span.clone(), format!("`{path}` is {most}: is that meant?"))
                            .label(format!("rarely more than {usual}")),
                    );
                }
            }
            Some(count)
        })
    }

    /// Yes, no or unknown.
    pub(crate) fn yes_no(&self, context: &mut Context<'_>, name: &'static str) -> GivenYesNo {
        self.stated(context, name, |context, key, node, path| match &node.value {
            Value::Flag(true) => Some(YesNo::Yes),
            Value::Flag(false) => Some(YesNo::No),
            Value::Text(text) => match text.trim().to_ascii_lowercase().as_str() {
                "yes" | "true" => Some(YesNo::Yes),
                "no" | "false" => Some(YesNo::No),
                "unknown" => Some(YesNo::Unknown),
                _ => {
                    context.tell(
                        Diagnostic::error(
                            path,
                            node.span.clone(),
                            format!("`{path}` is yes, no or unknown, not `{text}`"),
                        )
                        .label("true, false or \"unknown\" belongs here")
                        .help(format!(
                            "for example: {name} = {}, or {name} = \"unknown\"",
                            key.example
                        )),
                    );
                    None
                }
            },
            _ => {
                context.bad_shape(path, key, node, "true, false or \"unknown\"");
                None
            }
        })
    }

    /// One of several words, some of them, or unknown.
    pub(crate) fn choice<C: Category>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> GivenChoice<C> {
        self.stated(context, name, |context, key, node, path| {
            let mut found: Vec<C> = Vec::new();
            for item in list_or_one(node) {
                let Value::Text(text) = &item.value else {
                    context.bad_shape(path, key, item, "a word in quotes");
                    return None;
                };
                if is_unknown(text) {
                    return Some(Choice::Unknown);
                }
                for (at, word) in alternatives(text) {
                    let Some(member) = C::from_word(word) else {
                        let span = context.inside(item, text, &(at..at + word.len()));
                        unknown_word::<C>(context, path, span, word, true);
                        return None;
                    };
                    if !found.contains(&member) {
                        found.push(member);
                    }
                }
            }
            choice_of(found)
        })
    }

    /// Exactly one of several words.
    pub(crate) fn word<C: Category>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<C> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Text(text) = &node.value else {
            context.bad_shape(&path, key, node, "a word in quotes");
            return None;
        };
        let member = C::from_word(text);
        if member.is_none() {
            let span = context.inside(node, text, &(0..text.len()));
            unknown_word::<C>(context, &path, span, text, false);
        }
        member
    }

    /// A section, several or unknown.
    pub(crate) fn size(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> GivenChoice<Section> {
        self.stated(context, name, |context, key, node, path| {
            let mut found: Vec<Section> = Vec::new();
            for item in list_or_one(node) {
                let Value::Text(text) = &item.value else {
                    context.bad_shape(path, key, item, "a size with its unit in quotes");
                    return None;
                };
                if is_unknown(text) {
                    return Some(Choice::Unknown);
                }
                let unit = trailing_unit(text);
                for (at, part) in alternatives(text) {
                    let section = read_section(context, path, item, text, at, part, unit)?;
                    if !found.contains(&section) {
                        found.push(section);
                    }
                }
            }
            choice_of(found)
        })
    }

    /// Exact sides, such as `9 in x 9 in x 7-1/2 in`.
    pub(crate) fn sides<const N: usize>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<[Length; N]> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Text(text) = &node.value else {
            context.bad_shape(&path, key, node, "sides with their unit in quotes");
            return None;
        };
        let sides = read_sides(context, &path, node, text, 0, text, trailing_unit(text))?;
        let count = sides.len();
        let Ok(sides) = <[Length; N]>::try_from(sides) else {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("`{path}` has {N} sides, not {count}"),
                )
                .label(format!("{N} lengths with `x` between them belong here"))
                .help(format!("for example: {name} = {}", key.example)),
            );
            return None;
        };
        if sides.iter().any(|side| side.m() <= 0.0 || side.m() > 10.0) {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("every side of `{path}` is more than 0 and at most 10 m"),
                )
                .label("impossible")
                .help(format!("for example: {name} = {}", key.example)),
            );
            return None;
        }
        Some(sides)
    }

    /// A flow at a pressure.
    pub(crate) fn point(&self, context: &mut Context<'_>, name: &'static str) -> Option<LossPoint> {
        let stated = self.stated(context, name, |context, key, node, path| {
            let Value::Text(text) = &node.value else {
                context.bad_shape(path, key, node, "a flow at a pressure in quotes");
                return None;
            };
            let (airflow, pressure) = read_point(context, path, node, text)?;
            let Some(pressure) = pressure else {
                context.tell(
                    Diagnostic::error(
                        path,
                        node.span.clone(),
                        format!("`{path}` is a flow at a pressure; the pressure is missing"),
                    )
                    .label("a pressure belongs here too")
                    .help(format!("for example: {name} = {}", key.example)),
                );
                return None;
            };
            positive(context, path, node, &airflow, "the flow of a loss")?;
            positive(context, path, node, &pressure, "the pressure of a loss")?;
            Some((airflow, pressure))
        })?;
        let Stated { value: (airflow, pressure), origin, date, photo, note } = stated;
        Some(LossPoint {
            airflow: Stated {
                value: airflow,
                origin,
                date: date.clone(),
                photo: photo.clone(),
                note: note.clone(),
            },
            pressure: Stated { value: pressure, origin, date, photo, note },
        })
    }

    /// Rated flows, with their pressure where it is known.
    pub(crate) fn ratings(&self, context: &mut Context<'_>, name: &'static str) -> Vec<RatedPoint> {
        let stated = self.stated(context, name, |context, key, node, path| {
            let mut points = Vec::new();
            for item in list_or_one(node) {
                let Value::Text(text) = &item.value else {
                    context.bad_shape(path, key, item, "a flow in quotes");
                    return None;
                };
                let (airflow, pressure) = read_point(context, path, item, text)?;
                positive(context, path, item, &airflow, "a rated flow")?;
                points.push((airflow, pressure));
            }
            Some(points)
        });
        let Some(Stated { value, origin, date, photo, note }) = stated else { return Vec::new() };
        let about = |value| Stated {
            value,
            origin,
            date: date.clone(),
            photo: photo.clone(),
            note: note.clone(),
        };
        value
            .into_iter()
            .map(|(airflow, pressure)| RatedPoint {
                airflow: Stated {
                    value: airflow,
                    origin,
                    date: date.clone(),
                    photo: photo.clone(),
                    note: note.clone(),
                },
                pressure: pressure.map(about),
            })
            .collect()
    }

    /// A whole curve: exact flows at exact pressures, in rising flow and falling pressure order or not;
    /// a stall hump is real, so pressures may rise and fall.
    pub(crate) fn curve(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Vec<(Airflow, Pressure)> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        let Value::List(items) = &node.value else {
            context.bad_shape(&path, key, node, "a list of points");
            return Vec::new();
        };
        let errors_before = context.errors;
        let mut points: Vec<(Airflow, Pressure)> = Vec::new();
        for item in items {
            let Value::Text(text) = &item.value else {
                context.bad_shape(&path, key, item, "a point in quotes");
                continue;
            };
            let Some((airflow, pressure)) = read_point(context, &path, item, text) else {
                continue;
            };
            let (Uncertain::Exact(airflow), Some(Uncertain::Exact(pressure))) = (airflow, pressure)
            else {
                context.tell(
                    Diagnostic::error(
                        &path,
                        item.span.clone(),
                        format!("a point of `{path}` is an exact flow at an exact pressure"),
                    )
                    .label("not an exact point")
                    .help("where only a few points are known, write them as `rated` instead"),
                );
                continue;
            };
            points.push((airflow, pressure));
        }
        sort::by(&mut points, |a, b| a.0.si().total_cmp(&b.0.si()));
        let twice = points.windows(2).any(|pair| matches!(pair, [a, b] if a.0 == b.0));
        let impossible = points
            .iter()
            .any(|(q, p)| !(0.0..=5.0).contains(&q.si()) || !(0.0..=5000.0).contains(&p.si()));
        if points.len() < 2 && context.errors == errors_before {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("`{path}` needs at least two points"),
                )
                .label("not a curve yet")
                .help("write a single point as `rated` instead"),
            );
        } else if twice {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("`{path}` names one flow twice"),
                )
                .label("each flow once")
                .help("a fan has one pressure at one flow; leave one of the two points out"),
            );
        } else if impossible {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("a point of `{path}` is impossible"),
                )
                .label("flows lie from 0 to 5 m3/s, pressures from 0 to 5000 Pa")
                .help(format!("for example: {name} = {}", key.example)),
            );
        }
        points
    }

    /// Twelve exact quantities, from January to December.
    pub(crate) fn twelve<Q: Quantity>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<[Q; 12]> {
        let (key, node, path) = self.find(context, name)?;
        let Value::List(items) = &node.value else {
            context.bad_shape(&path, key, node, "a list of twelve values");
            return None;
        };
        let read: Vec<Q> =
            items.iter().map_while(|item| read_month::<Q>(context, key, item, &path)).collect();
        if read.len() < items.len() {
            return None;
        }
        <[Q; 12]>::try_from(read)
            .map_err(|read| {
                context.tell(
                    Diagnostic::error(
                        &path,
                        node.span.clone(),
                        format!("`{path}` holds {} values; a year has 12 months", read.len()),
                    )
                    .label("twelve values belong here, from January to December")
                    .help(format!("for example: {name} = {}", key.example)),
                );
            })
            .ok()
    }

    /// Exact places or extents along the axes.
    pub(crate) fn place<const N: usize>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> GivenPlace<N> {
        self.stated(context, name, |context, key, node, path| {
            if is_unknown_node(node) {
                return Some(Choice::Unknown);
            }
            read_place::<N>(context, key, node, path).map(Choice::Known)
        })
    }

    /// Corners of an outline in plan.
    pub(crate) fn outline(&self, context: &mut Context<'_>, name: &'static str) -> GivenOutline {
        self.stated(context, name, |context, key, node, path| {
            if is_unknown_node(node) {
                return Some(Choice::Unknown);
            }
            let Value::List(items) = &node.value else {
                context.bad_shape(path, key, node, "a list of corners");
                return None;
            };
            let corners: Vec<[Length; 2]> =
                items.iter().map_while(|item| read_place::<2>(context, key, item, path)).collect();
            (corners.len() == items.len()).then_some(Choice::Known(corners))
        })
    }

    /// Where a housing should be.
    pub(crate) fn wish(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<Stated<Wish>> {
        self.stated(context, name, |context, key, node, path| match &node.value {
            Value::Text(text) if !text.contains(|c: char| c.is_ascii_digit()) => {
                let found = WishWord::from_word(text);
                if found.is_none() {
                    let span = context.inside(node, text, &(0..text.len()));
                    unknown_word::<WishWord>(context, path, span, text, false);
                }
                found.map(WishWord::wish)
            }
            _ => read_place::<2>(context, key, node, path).map(Wish::At),
        })
    }

    /// A day of the calendar, as TOML date or as text; none where it is said to be unknown.
    pub(crate) fn day(&self, context: &mut Context<'_>, name: &'static str) -> Option<Day> {
        let (key, node, path) = self.find(context, name)?;
        let (Value::Text(text) | Value::Date(text)) = &node.value else {
            context.bad_shape(&path, key, node, "a day such as 2026-03-14");
            return None;
        };
        let day = calendar_day(text);
        if day.is_none() && text != "unknown" {
            let [first, last] = Day::YEARS;
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    format!("`{path}`: `{}` is no day from {first} to {last}", shorten(text)),
                )
                .label("year, month and day belong here, without a time")
                .help("for example: 2026-03-14; leave it out when it is not known"),
            );
        }
        day
    }

    /// Times of day; a single one may stand without brackets.
    pub(crate) fn times(&self, context: &mut Context<'_>, name: &'static str) -> Vec<ClockTime> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        list_or_one(node)
            .filter_map(|item| {
                let (Value::Text(text) | Value::Date(text)) = &item.value else {
                    context.bad_shape(&path, key, item, "a time of day in quotes");
                    return None;
                };
                let time = clock_time(text);
                if time.is_none() {
                    context.tell(
                        Diagnostic::error(
                            &path,
                            item.span.clone(),
                            format!("`{path}`: `{}` is no time of day", shorten(text)),
                        )
                        .label("hours and minutes belong here")
                        .help("for example: \"06:45\", \"18:30\" or \"6:45 am\""),
                    );
                }
                time
            })
            .collect()
    }

    /// The id of another element, to be found when everything is read.
    pub(crate) fn reference(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<String> {
        let (key, node, path) = self.find(context, name)?;
        let Shape::Reference(kinds) = key.shape else { return None };
        let Value::Text(text) = &node.value else {
            context.bad_shape(&path, key, node, "an id in quotes");
            return None;
        };
        let span = context.inside(node, text, &(0..text.len()));
        context.mentions.push(Mention { path, span, id: text.clone(), kinds });
        Some(text.clone())
    }

    /// Ids of other elements.
    pub(crate) fn references(&self, context: &mut Context<'_>, name: &'static str) -> Vec<String> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        let Shape::References(kinds) = key.shape else { return Vec::new() };
        let mut found = Vec::new();
        for item in list_or_one(node) {
            if let Value::Text(text) = &item.value {
                let span = context.inside(item, text, &(0..text.len()));
                context.mentions.push(Mention {
                    path: path.clone(),
                    span,
                    id: text.clone(),
                    kinds,
                });
                found.push(text.clone());
            } else {
                context.bad_shape(&path, key, item, "an id in quotes");
            }
        }
        found
    }

    /// A table below this one; one that is left out is read as empty.
    pub(crate) fn section(&self, context: &mut Context<'_>, name: &'static str) -> Reader<'n> {
        self.section_if(context, name).unwrap_or_else(|| Reader {
            table: self.below(name),
            entries: &[],
            span: self.span.clone(),
            path: self.path_of(name),
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
            context.bad_shape(&path, key, node, "a table");
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
        scope: &IdScope,
    ) -> Vec<Element<'n>> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        let table = self.below(name);
        let tables: Vec<(&'n [Entry], Range<usize>)> = list_or_one(node)
            .filter_map(|item| {
                if let Value::Table(entries) = &item.value {
                    return Some((entries.as_slice(), item.span.clone()));
                }
                context.bad_shape(&path, key, item, "a table");
                None
            })
            .collect();
        let count = tables.len();
        let mut own: BTreeSet<String> = BTreeSet::new();
        let mut elements = Vec::new();
        for (index, (entries, span)) in tables.into_iter().enumerate() {
            let id = self.id_of(context, table, entries, &span, index, count, scope, &mut own);
            let element_path = format!("{path}.{id}");
            context.places.insert(element_path.clone(), span.clone());
            let reader = Reader::open(context, table, entries, span, element_path);
            elements.push(Element { id, reader });
        }
        elements
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "one caller; the pieces belong to no type of their own"
    )]
    fn id_of(
        &self,
        context: &mut Context<'_>,
        table: &'static Table,
        entries: &[Entry],
        span: &Range<usize>,
        index: usize,
        count: usize,
        scope: &IdScope,
        own: &mut BTreeSet<String>,
    ) -> String {
        context.note((table.written, "id"));
        let number = index + 1;
        if table.key("id").is_none() {
            return number.to_string();
        }
        let entry = entries.iter().find(|entry| entry.key == "id");
        let Some(entry) = entry else {
            let by_number = format!("{}-{number}", table.name);
            match scope {
                IdScope::Within => {}
                IdScope::Job if count == 1 => {
                    self.register(context, table, table.name.to_owned(), span, scope, own);
                    return table.name.to_owned();
                }
                // A required id is told about when the table is opened.
                IdScope::Library => return by_number,
                IdScope::Job => context.tell(
                    Diagnostic::error(
                        &self.path_of(table.name),
                        span.clone(),
                        format!("this {} needs an id, since there are {count} of them", table.name),
                    )
                    .label("`id` must be written here")
                    .help(format!("for example: id = \"{by_number}\"; keep it when you edit the file, results refer to it")),
                ),
            }
            self.register(context, table, by_number.clone(), span, scope, own);
            return by_number;
        };
        let Value::Text(text) = &entry.node.value else {
            context.tell(
                Diagnostic::error(
                    &self.path_of(table.name),
                    entry.node.span.clone(),
                    "an id is a text in quotes",
                )
                .label("put quotes around it")
                .help(format!("for example: id = \"{}-{number}\"", table.name)),
            );
            return format!("{}-{number}", table.name);
        };
        let plain = !text.is_empty()
            && text.len() <= LONGEST_ID
            && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
        if !plain {
            let tidy: String = text
                .chars()
                .map(|c| if c.is_ascii_alphanumeric() || c == '-' || c == '_' { c } else { '-' })
                .take(LONGEST_ID)
                .collect();
            let tidy =
                tidy.split('-').filter(|piece| !piece.is_empty()).collect::<Vec<_>>().join("-");
            let tidy = tidy.trim_matches('-');
            let tidy = if tidy.is_empty() { table.name } else { tidy };
            context.tell(
                Diagnostic::error(
                    &self.path_of(table.name),
                    entry.node.span.clone(),
                    format!("`{}` cannot be an id", shorten(text)),
                )
                .label("only letters a-z, digits, - and _, at most 60")
                .help(format!(
                    "for example: id = \"{tidy}\"; the name for people goes into `name`"
                )),
            );
            // References to it are as typed; they must not be told about a second time.
            self.register(context, table, text.clone(), &entry.node.span, scope, own);
            return text.clone();
        }
        if RESERVED.contains(&text.to_ascii_lowercase().as_str()) {
            context.tell(
                Diagnostic::error(
                    &self.path_of(table.name),
                    entry.node.span.clone(),
                    format!("`{text}` cannot be an id, since the word has a meaning of its own"),
                )
                .label("choose another id")
                .help(format!("for example: id = \"{}-{number}\"", table.name)),
            );
            self.register(context, table, text.clone(), &entry.node.span, scope, own);
            return text.clone();
        }
        self.register(context, table, text.clone(), &entry.node.span, scope, own);
        text.clone()
    }

    fn register(
        &self,
        context: &mut Context<'_>,
        table: &'static Table,
        id: String,
        span: &Range<usize>,
        scope: &IdScope,
        own: &mut BTreeSet<String>,
    ) {
        let taken = match scope {
            IdScope::Job => context.ids.get(&id).cloned(),
            IdScope::Within | IdScope::Library => own.contains(&id).then(|| {
                (table.name, context.place(&format!("{}.{id}", self.path_of(table.name))))
            }),
        };
        if let Some((kind, first)) = taken {
            context.tell(
                Diagnostic::error(
                    &format!("{}.{id}", self.path_of(table.name)),
                    span.clone(),
                    format!("the id `{id}` is used twice"),
                )
                .label(if kind == table.name {
                    "second use".to_owned()
                } else {
                    format!("already the id of a {kind}")
                })
                .also(first, "first use")
                .help(format!(
                    "give one of them another id, such as `{id}-2` or `{id}-{}`{}",
                    table.name,
                    if matches!(scope, IdScope::Job) {
                        "; ids are unique across the job"
                    } else {
                        ""
                    }
                )),
            );
            return;
        }
        own.insert(id.clone());
        if matches!(scope, IdScope::Job) {
            context.ids.insert(id, (table.name, span.clone()));
        }
    }
}

/// Where an id has to be unique.
pub(crate) enum IdScope {
    /// Across the job.
    Job,
    /// Within its list; numbered when left out.
    Within,
    /// Within its list; always written.
    Library,
}

fn shorten(text: &str) -> String {
    if text.chars().count() <= 40 {
        text.to_owned()
    } else {
        format!("{}…", text.chars().take(40).collect::<String>())
    }
}

fn is_unknown(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case("unknown")
}

fn choice_of<C>(mut found: Vec<C>) -> Option<Choice<C>> {
    match found.len() {
        0 => None,
        1 => found.pop().map(Choice::Known),
        _ => Some(Choice::OneOf(found)),
    }
}

/// The items of a list, or the one value that stands there without brackets.
fn list_or_one(node: &Node) -> std::slice::Iter<'_, Node> {
    match &node.value {
        Value::List(items) => items.iter(),
        _ => std::slice::from_ref(node).iter(),
    }
}

/// The alternatives of `3 in or 4 in`, with their places.
fn alternatives(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut at = 0;
    for piece in text.split(" or ") {
        let lead = piece.len() - piece.trim_start().len();
        found.push((at + lead, piece.trim()));
        at += piece.len() + " or ".len();
    }
    found
}

/// The unit at the end of a text such as `3-1/4 x 10 in`.
fn trailing_unit(text: &str) -> &str {
    let text = text.trim_end();
    let start =
        text.rfind(|c: char| c.is_ascii_digit() || c == '/' || c == ' ').map_or(0, |i| i + 1);
    text.get(start..).unwrap_or_default()
}

fn read_length(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    whole: &str,
    at: usize,
    text: &str,
    unit: &str,
) -> Option<Length> {
    let lead = text.len() - text.trim_start().len();
    let trimmed = text.trim();
    let bare = trimmed.ends_with(|c: char| c.is_ascii_digit());
    let with_unit =
        if bare && !unit.is_empty() { format!("{trimmed} {unit}") } else { trimmed.to_owned() };
    match Length::parse(&with_unit) {
        Ok(length) => Some(length),
        Err(error) => {
            let end = trimmed.len();
            let clipped =
                ParseError { span: error.span.start.min(end)..error.span.end.min(end), ..error };
            context.bad_text(path, node, whole, at + lead, &clipped);
            None
        }
    }
}

/// Lengths with `x` between them; the unit may stand once at the end.
fn read_sides(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    whole: &str,
    at: usize,
    text: &str,
    unit: &str,
) -> Option<Vec<Length>> {
    let mut sides = Vec::new();
    let mut start = 0;
    for piece in text.split(['x', 'X', '×', '*']) {
        sides.push(read_length(context, path, node, whole, at + start, piece, unit)?);
        start += piece.len();
        start += text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    }
    Some(sides)
}

fn read_section(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    whole: &str,
    at: usize,
    text: &str,
    unit: &str,
) -> Option<Section> {
    let lower = text.to_ascii_lowercase();
    let (word, body) = ["oval", "round", "rectangular"]
        .into_iter()
        .find(|word| lower.starts_with(word))
        .map_or(("", text), |word| (word, text.get(word.len()..).unwrap_or_default()));
    let sides = read_sides(context, path, node, whole, at + (text.len() - body.len()), body, unit)?;
    let span = context.inside(node, whole, &(at..at + text.len()));
    if sides.iter().any(|side| !(0.01..=3.0).contains(&side.m())) {
        context.tell(
            Diagnostic::error(path, span, format!("`{path}`: no duct has the size `{text}`"))
                .label("sizes from 10 mm to 3 m are read")
                .help("for example: \"4 in\", \"100 mm\" or \"3-1/4 x 10 in\""),
        );
        return None;
    }
    if sides.iter().any(|side| !(0.05..=0.6).contains(&side.m())) {
        context.tell(
            Diagnostic::warning(
                path,
                span.clone(),
                format!("`{path}` is `{text}`: is that meant?"),
            )
            .label("exhaust ducts of a dwelling lie between 2 in and 24 in"),
        );
    }
    match (word, sides.as_slice()) {
        ("" | "round", [diameter]) => Some(Section::Round(*diameter)),
        ("" | "rectangular", [width, height]) => Some(Section::Rectangular(*width, *height)),
        // Whoever measures an oval may write either side first.
        ("oval", [a, b]) => Some(Section::Oval(a.greater(*b), a.lesser(*b))),
        _ => {
            context.tell(
                Diagnostic::error(path, span, format!("`{path}`: `{text}` is no size of a duct"))
                    .label("one diameter, or two sides")
                    .help("for example: \"4 in\", \"3-1/4 x 10 in\" or \"oval 3 x 7 in\""),
            );
            None
        }
    }
}

type FlowAtPressure = (Uncertain<Airflow>, Option<Uncertain<Pressure>>);

/// `80 cfm at 0.1 inWC`, or a flow alone.
fn read_point(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    text: &str,
) -> Option<FlowAtPressure> {
    let (flow, pressure) =
        match text.find(" at ").map(|i| (i, 4)).or_else(|| text.find('@').map(|i| (i, 1))) {
            Some((i, skip)) => (&text[..i], Some((i + skip, &text[i + skip..]))),
            None => (text, None),
        };
    let airflow = match Uncertain::<Airflow>::parse(flow) {
        Ok(airflow) => airflow,
        Err(error) => {
            context.bad_text(path, node, text, 0, &error);
            return None;
        }
    };
    let pressure = match pressure {
        None => None,
        Some((at, pressure)) => match Uncertain::<Pressure>::parse(pressure) {
            Ok(pressure) => Some(pressure),
            Err(error) => {
                context.bad_text(path, node, text, at, &error);
                return None;
            }
        },
    };
    Some((airflow, pressure))
}

fn positive<Q: Quantity>(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    value: &Uncertain<Q>,
    what: &str,
) -> Option<()> {
    match ends(value) {
        Some((low, _)) if low <= 0.0 => {
            context.tell(
                Diagnostic::error(
                    path,
                    node.span.clone(),
                    format!("`{path}`: {what} is more than 0"),
                )
                .label("must be more than 0")
                .help("write \"unknown\" where it is not known"),
            );
            None
        }
        _ => Some(()),
    }
}

/// Lowest and highest value that is meant, in the stored unit.
fn ends<Q: Quantity>(value: &Uncertain<Q>) -> Option<(f64, f64)> {
    match value {
        Uncertain::Exact(q) => Some((q.si(), q.si())),
        Uncertain::Range { low, high } => Some((low.si(), high.si())),
        // The spread of "about" is soft, so only what is likely is held against the limits.
        Uncertain::About { likely, .. } => Some((likely.si(), likely.si())),
        Uncertain::Unknown => None,
    }
}

/// One exact value of a month.
fn read_month<Q: Quantity>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Q> {
    let Shape::Months(_, limits) = &key.shape else { return None };
    let Value::Text(text) = &node.value else {
        context.bad_shape(path, key, node, &format!("{} in quotes", Q::KIND.article_name()));
        return None;
    };
    match Q::parse(text) {
        Ok(value) => {
            hold_limits(context, key, node, path, &Uncertain::Exact(value), *limits)?;
            Some(value)
        }
        Err(error) => {
            context.bad_text(path, node, text, 0, &error);
            None
        }
    }
}

/// The words that a wish may be.
pub(crate) fn wish_words() -> Vec<&'static str> {
    crate::spec::words_of::<WishWord>()
}

fn is_unknown_node(node: &Node) -> bool {
    matches!(&node.value, Value::Text(text) if is_unknown(text))
}

/// Lengths along the axes, as a list or as one text with `x` between them.
fn read_place<const N: usize>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<[Length; N]> {
    let lengths = match &node.value {
        Value::List(items) => {
            let read: Vec<Length> =
                items.iter().map_while(|item| read_along(context, key, item, path)).collect();
            if read.len() < items.len() {
                return None;
            }
            read
        }
        Value::Text(text) => read_sides(context, path, node, text, 0, text, trailing_unit(text))?,
        _ => {
            context.bad_shape(path, key, node, "a list of lengths");
            return None;
        }
    };
    let count = lengths.len();
    let Ok(place) = <[Length; N]>::try_from(lengths) else {
        context.tell(
            Diagnostic::error(
                path,
                node.span.clone(),
                format!("`{path}`: {N} lengths belong here, not {count}"),
            )
            .label(if N == 2 { "one along x and one along y" } else { "along x, y and z" })
            .help(format!("for example: {} = {}", key.name, key.example)),
        );
        return None;
    };
    let least = if matches!(key.shape, Shape::Extent(_)) { 0.0 } else { -FARTHEST_M };
    if place.iter().any(|length| !(least..=FARTHEST_M).contains(&length.m())) {
        let message = if least < 0.0 {
            format!("`{path}` lies farther away than any dwelling reaches")
        } else {
            format!("`{path}` is an extent: from 0 to {FARTHEST_M} m along each axis")
        };
        context.tell(
            Diagnostic::error(path, node.span.clone(), message)
                .label("look at the sign and the unit")
                .help(format!("for example: {} = {}", key.name, key.example)),
        );
        return None;
    }
    Some(place)
}

/// One length along an axis; a bare 0 needs no unit.
fn read_along(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Length> {
    match &node.value {
        Value::Number(Some(number)) if number.abs() == 0.0 => Some(Length::from_m(0.0)),
        Value::Text(text) if text.trim() == "0" => Some(Length::from_m(0.0)),
        Value::Text(text) => match signed_end::<Length>(text, 0, text, "") {
            Ok(length) => Some(length),
            Err(error) => {
                context.bad_text(path, node, text, 0, &error);
                None
            }
        },
        Value::Number(_) => {
            let typed = context.text.get(node.span.clone()).unwrap_or_default().to_owned();
            context.tell(
                Diagnostic::error(
                    path,
                    node.span.clone(),
                    format!("`{path}`: `{}` needs a unit", shorten(&typed)),
                )
                .label("which unit?")
                .help(format!("for example: {} = {}", key.name, key.example)),
            );
            None
        }
        _ => {
            context.bad_shape(path, key, node, "a list of lengths");
            None
        }
    }
}

/// `2026-03-14` as ISO 8601-1:2019 writes a day.
fn calendar_day(text: &str) -> Option<Day> {
    let mut fields = text.trim().split('-');
    let mut number = |digits: usize| {
        let field = fields.next()?;
        let plain = field.len() == digits && field.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| field.parse::<u16>().ok()).flatten()
    };
    let (year, month, day) = (number(4)?, number(2)?, number(2)?);
    if fields.next().is_some() {
        return None;
    }
    Day::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
}

/// `06:45`, `18:30`, `6:45 am`, or `06:45:00` as TOML has it; seconds other than 0 are refused.
fn clock_time(text: &str) -> Option<ClockTime> {
    let lower = text.trim().to_ascii_lowercase();
    let (digits, half) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits.trim_end(), Some(0)),
        (_, Some(digits)) => (digits.trim_end(), Some(12)),
        _ => (lower.as_str(), None),
    };
    let mut fields = digits.split(':').map(|field| {
        let plain = matches!(field.len(), 1 | 2) && field.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| field.parse::<u16>().ok()).flatten()
    });
    let hours = fields.next()??;
    let minutes = fields.next()??;
    let seconds = fields.next().unwrap_or(Some(0))?;
    if seconds != 0 || fields.next().is_some() {
        return None;
    }
    let hours = match half {
        // Twelve stands for nought: 12:30 am is half past midnight.
        Some(shift) if (1..=12).contains(&hours) => hours % 12 + shift,
        Some(_) => return None,
        None => hours,
    };
    ClockTime::new(hours, minutes)
}

fn read_quantity<Q: Quantity>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Uncertain<Q>> {
    let (limits, signed) = match &key.shape {
        Shape::Quantity(_, limits) => (*limits, false),
        Shape::SignedLength(limits) => (*limits, true),
        _ => return None,
    };
    let value = match &node.value {
        Value::Text(text) => {
            let read = if signed { read_signed::<Q>(text) } else { Uncertain::<Q>::parse(text) };
            match read {
                Ok(value) => value,
                Err(error) => {
                    context.bad_text(path, node, text, 0, &error);
                    return None;
                }
            }
        }
        Value::Number(Some(number)) if Q::KIND == Kind::Ratio && number.is_finite() => {
            Uncertain::Exact(Q::from_si(*number))
        }
        Value::Number(number) => {
            let typed = context.text.get(node.span.clone()).unwrap_or_default().to_owned();
            let sense = number.is_some_and(f64::is_finite);
            let message = if sense {
                format!("`{path}` is {}: `{typed}` needs a unit", Q::KIND.article_name())
            } else {
                format!("`{path}`: `{typed}` is not a number that can be measured")
            };
            context.tell(
                Diagnostic::error(path, node.span.clone(), message)
                    .label(if sense { "which unit?" } else { "not a finite number" })
                    .help(format!(
                        "for example: {} = {}, or {} = \"unknown\"",
                        key.name, key.example, key.name
                    )),
            );
            return None;
        }
        Value::List(_) => {
            context.tell(
                Diagnostic::error(path, node.span.clone(), format!("`{path}` is one value, not a list"))
                    .label("one value belongs here")
                    .help(format!("a range is written as one text, from low to high: {} = \"8..10 ft\" (with the unit that fits here)", key.name)),
            );
            return None;
        }
        _ => {
            context.bad_shape(path, key, node, &format!("{} in quotes", Q::KIND.article_name()));
            return None;
        }
    };
    hold_limits::<Q>(context, key, node, path, &value, limits)?;
    Some(value)
}

/// A value that may lie below zero, or a range whose ends may: `-4 in`, `-1..2 ft`.
fn read_signed<Q: Quantity>(text: &str) -> Result<Uncertain<Q>, ParseError> {
    const SIGNS: [char; 2] = ['-', '\u{2212}'];
    let negative = |part: &str| part.trim_start().starts_with(SIGNS);
    let gap = ["..", "\u{2026}", " to "]
        .into_iter()
        .find_map(|gap| text.find(gap).map(|at| (at, gap.len())));
    let Some((at, length)) = gap else {
        return if negative(text) {
            signed_end(text, 0, text, "").map(Uncertain::Exact)
        } else {
            Uncertain::<Q>::parse(text)
        };
    };
    let (left, right) = (&text[..at], &text[at + length..]);
    if !negative(left) && !negative(right) {
        return Uncertain::<Q>::parse(text);
    }
    let low: Q = signed_end(text, 0, left, trailing_unit(right))?;
    let high: Q = signed_end(text, at + length, right, "")?;
    if low.si() > high.si() {
        return Err(ParseError {
            kind: ErrorKind::ReversedRange,
            span: 0..text.len(),
            message: "this range starts above its end".to_owned(),
            hint: "write the lower value first: -2 ft is lower than -1 ft".to_owned(),
        });
    }
    Ok(Uncertain::Range { low, high })
}

/// One value with its sign; `at` is where `part` stands in `whole`.
fn signed_end<Q: Quantity>(
    whole: &str,
    at: usize,
    part: &str,
    unit: &str,
) -> Result<Q, ParseError> {
    let trimmed = part.trim_start();
    let (sign, body) = match trimmed.strip_prefix(['-', '\u{2212}']) {
        Some(body) => (-1.0, body),
        None => (1.0, trimmed),
    };
    let bare = body.trim_end().ends_with(|c: char| c.is_ascii_digit());
    let text = if bare && !unit.is_empty() {
        format!("{} {unit}", body.trim_end())
    } else {
        body.to_owned()
    };
    let skipped = at + part.len() - body.len();
    match Q::parse(&text) {
        Ok(value) => Ok(Q::from_si(sign * value.si())),
        Err(error) => {
            let inside = |i: usize| (skipped + i).min(skipped + body.len()).min(whole.len());
            Err(ParseError { span: inside(error.span.start)..inside(error.span.end), ..error })
        }
    }
}

fn hold_limits<Q: Quantity>(
    context: &mut Context<'_>,
    key: &Key,
    node: &Node,
    path: &str,
    value: &Uncertain<Q>,
    limits: Limits,
) -> Option<()> {
    let Some((low, high)) = ends(value) else { return Some(()) };
    let style = context.style;
    let print = |si: f64| limit::<Q>(si, style);
    let [lowest, highest] = limits.possible;
    if low < lowest || high > highest || !low.is_finite() || !high.is_finite() {
        context.tell(
            Diagnostic::error(
                path,
                node.span.clone(),
                format!(
                    "`{path}` cannot be this {}",
                    if high > highest { "large" } else { "small" }
                ),
            )
            .label(format!("possible: {} to {}", print(lowest), print(highest)))
            .help(format!(
                "for example: {} = {}; look at the unit, or write \"unknown\"",
                key.name, key.example
            )),
        );
        return None;
    }
    let [usual_low, usual_high] = limits.usual;
    if low < usual_low || high > usual_high {
        context.tell(
            Diagnostic::warning(
                path,
                node.span.clone(),
                format!(
                    "`{path}` is unusually {}: is that meant?",
                    if high > usual_high { "large" } else { "small" }
                ),
            )
            .label(format!("usual: {} to {}", print(usual_low), print(usual_high))),
        );
    }
    Some(())
}

/// A limit as text, without the sixteenths of an inch that nobody wants to read there.
fn limit<Q: Quantity>(si: f64, style: Style) -> String {
    let feet = Length::from_m(si).feet();
    match (Q::KIND, style.system) {
        (Kind::Length, System::Us) if feet.abs() >= 3.0 => format!("{} ft", feet.round()),
        (Kind::Length, System::Us) if feet.abs() >= 1.0 / 12.0 => {
            format!("{} in", (feet * 12.0).round())
        }
        _ => Q::from_si(si).print(&style),
    }
}

fn suggestion(typed: &str, words: &[&str]) -> String {
    nearest(typed, words.iter().copied())
        .map_or_else(|| "not known".to_owned(), |word| format!("did you mean `{word}`?"))
}

fn unknown_word<C: Category>(
    context: &mut Context<'_>,
    path: &str,
    span: Range<usize>,
    word: &str,
    may_be_unknown: bool,
) {
    if context.is_full() {
        context.dropped += 1;
        return;
    }
    let all: Vec<&str> = C::WORDS.iter().map(|&(word, _)| word).collect();
    let mut shown: Vec<&str> = C::ALL.iter().map(|member| member.word()).collect();
    if may_be_unknown {
        shown.push("unknown");
    }
    let message = if word.is_empty() {
        format!("`{path}` is empty")
    } else {
        format!("`{path}` cannot be `{}`", shorten(word))
    };
    let mut diagnostic = Diagnostic::error(path, span, message)
        .label(suggestion(word, &all))
        .help(format!("write {}", one_of(&shown)));
    if may_be_unknown {
        diagnostic = diagnostic.help("where two are possible, write both: \"this or that\"");
    }
    context.tell(diagnostic);
}

fn words_note(key: &Key) -> String {
    match &key.shape {
        Shape::Word(words) | Shape::Choice(words) => {
            format!(" (or another of {})", one_of(&words()))
        }
        _ => String::new(),
    }
}

fn unknown_key(context: &mut Context<'_>, table: &'static Table, entry: &Entry, path: &str) {
    if context.is_full() {
        context.dropped += 1;
        return;
    }
    let names: Vec<&str> = table.keys.iter().map(|key| key.name).collect();
    let full =
        if path.is_empty() { entry.key.clone() } else { format!("{path}.{}", shorten(&entry.key)) };
    let shown = shorten(&entry.key);
    let diagnostic = Diagnostic::error(
        &full,
        entry.key_span.clone(),
        format!("`{shown}` is not a key of {}", table.written),
    );
    let elsewhere: Vec<&str> = if table.name == STATED.name {
        Vec::new()
    } else {
        crate::tables::JOB
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
            .label(format!("did you mean `{}`?", key.name))
            .help(format!("for example: {} = {}", key.name, key.example))
    } else if !elsewhere.is_empty() {
        let place = elsewhere.join(" and of ");
        let diagnostic =
            diagnostic.label("does not belong here").help(format!("`{shown}` is a key of {place}"));
        if elsewhere.iter().any(|w| w.starts_with("the top")) {
            diagnostic.help("keys of the whole job stand above the first line with [brackets]")
        } else {
            diagnostic
        }
    } else {
        diagnostic.label("not known here")
    };
    context.tell(if names.is_empty() {
        diagnostic.help(format!("it takes no keys: write {}", table.written))
    } else {
        diagnostic.help(format!("keys of {}: {}", table.written, names.join(", ")))
    });
}
