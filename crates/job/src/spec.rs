//! What may stand in a file: every table and key with its meaning, its shape, its limits and an example.
//!
//! The tables are declared by the structs of the model (`derive(Keys)`). The reader, the schema, the
//! reference page, the forms and the hints of diagnostics are all made from them.

use dewpath_message::Value;
use dewpath_units::Kind;

use crate::category::Category;

/// A table of a file.
#[derive(Debug)]
pub(crate) struct Table {
    /// Key of the table, such as `room`.
    pub(crate) name: &'static str,
    /// How it is written in a file, such as `[[room]]`.
    pub(crate) written: &'static str,
    /// What it is for.
    pub(crate) doc: &'static str,
    /// Where the ids of its elements are unique.
    pub(crate) ids: Ids,
    /// Its keys, in the order of the documentation.
    pub(crate) keys: &'static [Key],
}

/// Where an id has to be unique.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ids {
    /// Across the job.
    Job,
    /// Within its list; numbered when left out.
    Within,
    /// Within its list; always written.
    Library,
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Key {
    pub(crate) name: &'static str,
    pub(crate) shape: Shape,
    pub(crate) required: bool,
    /// What it means.
    pub(crate) doc: &'static str,
    /// A value, as TOML.
    pub(crate) example: &'static str,
}

/// Limits of a number, in the stored unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Limits {
    /// Outside of these nothing real can be meant.
    pub(crate) possible: [f64; 2],
    /// Outside of these somebody should look again.
    pub(crate) usual: [f64; 2],
}

impl Limits {
    pub(crate) const fn new(possible: [f64; 2], usual: [f64; 2]) -> Self {
        Self { possible, usual }
    }
}

/// What a value looks like.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Shape {
    /// Free text.
    Text,
    /// A stable id.
    Id,
    /// The id of another element; the text says which kinds.
    Reference(&'static str),
    /// The id of an entry in a library.
    Model,
    /// The version of the file format.
    Format,
    /// Several free texts.
    Texts,
    /// Ids of other elements.
    References(&'static str),
    /// A quantity that may be a range, about or unknown.
    Quantity(Kind, Limits),
    /// A length that may be negative.
    SignedLength(Limits),
    /// A distance to keep, or that nothing is nearer: `none within 10 ft`.
    Clear(Limits),
    /// A count: most that is possible, most that is usual.
    Count(u32, u32),
    /// Yes, no or unknown.
    YesNo,
    /// One of several words, several of them, or unknown.
    Choice(fn() -> Vec<Words>),
    /// Exactly one of several words.
    Word(fn() -> Vec<Words>),
    /// A section: round, rectangular or oval; several or unknown.
    Size,
    /// A flow at a pressure.
    Point,
    /// One or several rated flows, with the pressure where it is known.
    Ratings,
    /// Exact flows at exact pressures.
    Curve,
    /// A number of side lengths, such as `9 in x 9 in`.
    Sides(usize),
    /// A plain number.
    Number(f64, f64),
    /// Twelve exact quantities, from January to December.
    Months(Kind, Limits),
    /// A day of the calendar: year, month, day.
    Day,
    /// Times of day, such as `06:45`.
    Times,
    /// So many exact places along the axes, each of which may lie below zero: `["4 ft", "-2 in"]`.
    Place(usize),
    /// So many exact extents along the axes: `["4 ft", "2 in"]` or `4 ft x 2 in`.
    Extent(usize),
    /// Corners of an outline, each a place in plan.
    Outline,
    /// Where a housing should be: a word, or a place in plan.
    Wish,
    /// A table.
    One(&'static Table),
    /// Several tables, each with an id; a single one may be written as one table.
    Many(&'static Table),
}

/// The words of a member of a closed list.
#[derive(Debug)]
pub(crate) struct Words {
    /// The one that is written out.
    pub(crate) word: &'static str,
    /// Those that are understood as well.
    pub(crate) also: Vec<&'static str>,
}

/// The words of a closed list, member by member.
pub(crate) fn words_of<C: Category>() -> Vec<Words> {
    let understood = |member: C| C::WORDS.iter().filter(move |(_, of)| *of == member);
    let words = |&member: &C| Words {
        word: member.word(),
        also: understood(member)
            .map(|&(word, _)| word)
            .filter(|word| *word != member.word())
            .collect(),
    };
    C::ALL.iter().map(words).collect()
}

/// The word of each member that is written out.
pub(crate) fn written(words: &[Words]) -> Vec<&'static str> {
    words.iter().map(|words| words.word).collect()
}

impl Table {
    /// The id of an element that writes none, by its place in a list of `count`. Elements that stand
    /// within another one are numbered even when they are alone.
    pub(crate) fn default_id(&self, index: usize, count: usize) -> String {
        let number = index + 1;
        if self.key("id").is_none() {
            return number.to_string();
        }
        if count == 1 && self.ids != Ids::Within {
            return self.name.to_owned();
        }
        format!("{}-{number}", self.name)
    }

    /// What it is called where something is said of it: as it is written, or by a word where it has no head of its own.
    pub(crate) fn called(&self) -> Value {
        match (self.name, self.ids) {
            ("", Ids::Library) => Value::Word("job.table.top-of-library".to_owned()),
            ("", _) => Value::Word("job.table.top".to_owned()),
            _ => Value::Reference(self.written.to_owned()),
        }
    }

    pub(crate) fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// This table and every table below it, each once.
    pub(crate) fn all(&'static self) -> Vec<&'static Table> {
        let mut found: Vec<&'static Table> = vec![self];
        let mut next = 0;
        while let Some(table) = found.get(next).copied() {
            next += 1;
            for key in table.keys {
                if let Shape::One(below) | Shape::Many(below) = key.shape
                    && !found.iter().any(|t| std::ptr::eq(*t, below))
                {
                    found.push(below);
                }
            }
        }
        found
    }
}
