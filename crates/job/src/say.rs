//! Everything that is told of a file that is not right, by topic; the texts stand in `job.txt` of a catalogue of `words`.
//!
//! What the user wrote is a name; what a file may hold (keys, words, examples) is a reference, since it reads alike in every
//! language.

mod at;
mod change;
mod element;
mod file;
mod help;
mod house;
mod label;
mod place;
mod quantity;
mod run;

use dewpath_message::slot::{Count, Name, Reference};
use dewpath_message::{Declared, Message, Triple};

pub use at::*;
pub use change::*;
pub use element::*;
pub use file::*;
pub use help::*;
pub use house::*;
pub use label::*;
pub use place::*;
pub use quantity::*;
pub use run::*;

/// Every message.
pub const DECLARED: &[&[&[Declared]]] = &[
    at::DECLARED,
    change::DECLARED,
    element::DECLARED,
    file::DECLARED,
    help::DECLARED,
    house::DECLARED,
    label::DECLARED,
    place::DECLARED,
    quantity::DECLARED,
    run::DECLARED,
];

/// Sentences of one thing alone, and what that is in them.
macro_rules! of_one {
    ($($message:ident, $key:ident: $slot:ident $kind:ident;)+) => {$(
        impl $key {
            /// The sentence of this one.
            pub(crate) fn of(self, one: &str) -> $message {
                $message { key: self, $slot: $kind::new(one) }
            }
        }
    )+};
}

of_one! {
    AtPath, AtPathKey: path Name;
    InSection, InSectionKey: section Reference;
    Names, NamesKey: names Reference;
    OfFan, OfFanKey: fan Name;
    OfFraming, OfFramingKey: framing Name;
    OfId, OfIdKey: id Reference;
    OfJunction, OfJunctionKey: junction Name;
    OfKind, OfKindKey: kind Reference;
    OfRoom, OfRoomKey: room Name;
    OfTerminal, OfTerminalKey: terminal Name;
    OfThing, OfThingKey: thing Name;
    OfWay, OfWayKey: way Name;
    ShowLeftOut, ShowLeftOutKey: units Reference;
    Typed, TypedKey: typed Name;
}

impl PathTypedKey {
    /// The sentence of a value, and of what was typed there.
    pub(crate) fn of(self, path: &str, typed: &str) -> PathTyped {
        PathTyped { key: self, path: Name::new(path), typed: Name::new(typed) }
    }
}

/// A number of things.
pub(crate) fn count(number: usize) -> Count {
    Count(Triple::exact(number as f64))
}

/// The word somebody probably meant, or what to say where none is near.
pub(crate) fn did_you_mean(near: Option<&str>, otherwise: Label) -> Message {
    match near {
        Some(near) => DidYouMean { near: Reference::new(near) }.into(),
        None => otherwise.into(),
    }
}

/// An example of a key, or that it is unknown.
pub(crate) fn example_or_unknown(key: &str, value: &str) -> ExampleOr {
    let written = |value: &str| Reference::new(format!("{key} = {value}"));
    ExampleOr { example: written(value), other: written("\"unknown\"") }
}

/// An example, as it is written.
pub(crate) fn example(written: impl Into<String>) -> Example {
    Example { example: Reference::new(written) }
}

/// `a`, `b` or `c`: those before the last, and the last.
pub(crate) fn either(words: &[&str]) -> (Option<Reference>, Reference) {
    let quoted = |words: &[&str]| {
        let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
        Reference::new(quoted.join(", "))
    };
    match words {
        [] => (None, Reference::new("…")),
        [alone] => (None, quoted(&[alone])),
        [others @ .., last] => (Some(quoted(others)), quoted(&[last])),
    }
}

/// Kinds of elements that an id may name, such as `fan, grille or junction`: those before the last, and the last.
pub(crate) fn kinds(written: &str) -> (Option<Reference>, Reference) {
    match written.rsplit_once(" or ") {
        Some((others, last)) => (Some(Reference::new(others)), Reference::new(last)),
        None => (None, Reference::new(written)),
    }
}

/// What a word of the trade may mean.
pub(crate) fn may_mean(words: &[&str]) -> Message {
    let (others, last) = either(words);
    MayMean { others, last }.into()
}

/// One of several words.
pub(crate) fn one_of(key: OneOfKey, words: &[&str]) -> OneOf {
    let (others, last) = either(words);
    OneOf { key, others, last }
}
