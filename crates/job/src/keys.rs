//! How structs of the model declare their keys, are read and written: the traits behind `derive(Keys)`.

pub(crate) use dewpath_job_derive::Keys;

use crate::read::{Context, Reader};
use crate::spec::{Key, Table};
use crate::write::Writer;

/// A struct whose fields are keys of a file.
pub(crate) trait Keys: Sized {
    /// Its keys, in the order of the documentation.
    const KEYS: &'static [Key];

    /// Reads it from the table that holds its keys. What is wrong is told to `context`; none where
    /// something is missing without which nothing can be made.
    fn read(context: &mut Context<'_>, reader: &Reader<'_>) -> Option<Self>;

    /// Writes what is different from what was `before`; everything, where there was nothing.
    fn write(&self, before: Option<&Self>, writer: &mut Writer);

    /// Its id, where it has one.
    fn id(&self) -> Option<&str> {
        None
    }
}

/// One whose keys stand in a table of their own.
pub(crate) trait InTable: Keys {
    /// That table.
    const TABLE: &'static Table;
}

/// The elements of a list of tables, in the order of the file.
pub(crate) fn elements<T: InTable>(
    context: &mut Context<'_>,
    above: &Reader<'_>,
    name: &'static str,
) -> Vec<T> {
    above.elements(context, name).iter().filter_map(|element| T::read(context, element)).collect()
}

/// Where a key stands in the documentation.
#[derive(Clone, Copy)]
pub(crate) enum Place {
    /// In the order of the fields.
    InOrder,
    /// Before all others.
    First,
    /// Behind this key.
    After(&'static str),
}

/// What a field declares.
#[derive(Clone, Copy)]
pub(crate) enum Declared {
    /// A key of its own.
    Key(Key, Place),
    /// The keys of a struct that is written into the table of the outer one.
    Flat {
        keys: &'static [Key],
        /// Keys that the outer one does not have.
        without: &'static [&'static str],
        /// Keys with another name there: old and new one.
        renamed: &'static [(&'static str, &'static str)],
        /// Keys with another example there: key and example.
        examples: &'static [(&'static str, &'static str)],
    },
}

/// How many keys are declared.
pub(crate) const fn count(declared: &[Declared]) -> usize {
    let mut total = 0;
    let mut i = 0;
    while i < declared.len() {
        total += match declared[i] {
            Declared::Key(..) => 1,
            Declared::Flat { keys, without, .. } => keys.len() - without.len(),
        };
        i += 1;
    }
    total
}

/// The declared keys in the order of the documentation. A name in `after` or `without` that no key has does
/// not compile.
pub(crate) const fn in_order<const N: usize>(declared: &[Declared]) -> [Key; N] {
    let mut list = [NONE; N];
    let mut length = 0;
    let mut waiting = 0;
    let mut i = 0;
    while i < declared.len() {
        match declared[i] {
            Declared::Key(key, Place::InOrder) => {
                list[length] = key;
                length += 1;
            }
            Declared::Key(..) => waiting += 1,
            Declared::Flat { keys, without, renamed, examples } => {
                let mut k = 0;
                while k < keys.len() {
                    if !names(without, keys[k].name) {
                        list[length] = keys[k];
                        list[length].name = other(renamed, keys[k].name, keys[k].name);
                        list[length].example = other(examples, keys[k].name, keys[k].example);
                        length += 1;
                    }
                    k += 1;
                }
            }
        }
        i += 1;
    }
    // One may stand behind another one that waits, so the rest is looked through until all have their place.
    while waiting > 0 {
        let before = waiting;
        i = 0;
        while i < declared.len() {
            if let Declared::Key(key, place) = declared[i]
                && position(&list, length, key.name) == length
            {
                let index = match place {
                    Place::InOrder => length,
                    Place::First => 0,
                    Place::After(before) => position(&list, length, before) + 1,
                };
                if index <= length {
                    let mut k = length;
                    while k > index {
                        list[k] = list[k - 1];
                        k -= 1;
                    }
                    list[index] = key;
                    length += 1;
                    waiting -= 1;
                }
            }
            i += 1;
        }
        assert!(waiting < before, "a key stands after one that is not there");
    }
    assert!(length == N, "a key is left out that is not there");
    list
}

const NONE: Key =
    Key { name: "", shape: crate::spec::Shape::Text, required: false, doc: "", example: "" };

const fn position(list: &[Key], length: usize, name: &str) -> usize {
    let mut i = 0;
    while i < length && !same(list[i].name, name) {
        i += 1;
    }
    i
}

const fn names(list: &[&str], name: &str) -> bool {
    let mut i = 0;
    while i < list.len() {
        if same(list[i], name) {
            return true;
        }
        i += 1;
    }
    false
}

/// What a list says of a key, else what it has.
const fn other(list: &[(&str, &'static str)], key: &str, own: &'static str) -> &'static str {
    let mut i = 0;
    while i < list.len() {
        if same(list[i].0, key) {
            return list[i].1;
        }
        i += 1;
    }
    own
}

const fn same(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    if a.len() != b.len() {
        return false;
    }
    let mut i = 0;
    while i < a.len() {
        if a[i] != b[i] {
            return false;
        }
        i += 1;
    }
    true
}
