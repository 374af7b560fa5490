//! What is wrong of a quantity or a word as it is written.
//!
//! A reading error of `units` has an id and the words of a developer, who may use that crate without this program. A sentence
//! here is found by that id; one that a language does not have is told in the developer's words.

use dewpath_message::slot::{Name, Reference, Word};
use dewpath_message::{Message, messages};
use dewpath_units::{ErrorKind, Kind, ParseError};

messages! {
    enum Shape {
        Text = "job.shape.text",
        BareNumber = "job.shape.bare-number",
        Flag = "job.shape.flag",
        Date = "job.shape.date",
        List = "job.shape.list",
        Table = "job.shape.table",
        Corners = "job.shape.corners",
        Lengths = "job.shape.lengths",
        FlowAtPressure = "job.shape.flow-at-pressure",
        Flow = "job.shape.flow",
        Points = "job.shape.points",
        Point = "job.shape.point",
        PlainNumber = "job.shape.plain-number",
        Count = "job.shape.count",
        Size = "job.shape.size",
        Sides = "job.shape.sides",
        TwelveValues = "job.shape.twelve-values",
        Day = "job.shape.day",
        Time = "job.shape.time",
        YesNo = "job.shape.yes-no",
        Word = "job.shape.word",
        Id = "job.shape.id",
    }

    struct OtherShape { path: Name, wanted: Word, found: Word } = "job.shape.other"

    struct Belongs { wanted: Word } = "job.shape.belongs"

    struct NoQuantity { path: Name, wanted: Word, found: Word } = "job.quantity.none"

    struct QuantityBelongs { wanted: Word } = "job.quantity.belongs"

    struct Unread { path: Name, said: Reference } = UnreadKey {
        Empty = "job.quantity.empty",
        TooLong = "job.quantity.too-long",
        NoNumber = "job.quantity.no-number",
        BadNumber = "job.quantity.bad-number",
        DecimalComma = "job.quantity.decimal-comma",
        MissingUnit = "job.quantity.missing-unit",
        UnknownUnit = "job.quantity.unknown-unit",
        WrongKind = "job.quantity.wrong-kind",
        BadCompound = "job.quantity.bad-compound",
        Trailing = "job.quantity.trailing",
        OutOfRange = "job.quantity.out-of-range",
        TooLarge = "job.quantity.too-large",
        ReversedRange = "job.quantity.reversed-range",
        NotExact = "job.quantity.not-exact",
        UnknownWord = "job.quantity.unknown-word",
        Other = "job.quantity.other",
    }

    struct Reread { said: Reference } = RereadKey {
        Empty = "job.quantity.empty.do",
        TooLong = "job.quantity.too-long.do",
        NoNumber = "job.quantity.no-number.do",
        BadNumber = "job.quantity.bad-number.do",
        DecimalComma = "job.quantity.decimal-comma.do",
        MissingUnit = "job.quantity.missing-unit.do",
        UnknownUnit = "job.quantity.unknown-unit.do",
        WrongKind = "job.quantity.wrong-kind.do",
        BadCompound = "job.quantity.bad-compound.do",
        Trailing = "job.quantity.trailing.do",
        OutOfRange = "job.quantity.out-of-range.do",
        TooLarge = "job.quantity.too-large.do",
        ReversedRange = "job.quantity.reversed-range.do",
        NotExact = "job.quantity.not-exact.do",
        UnknownWord = "job.quantity.unknown-word.do",
        Other = "job.quantity.other.do",
    }
}

/// What is told of a reading error, and what to write instead.
pub(crate) fn unread(path: &str, error: &ParseError) -> (Unread, Option<Message>) {
    let (key, help) = keys(error.kind);
    let unread = Unread { key, path: Name::new(path), said: Reference::new(&error.message) };
    let reread = Reread { key: help, said: Reference::new(&error.hint) };
    (unread, (!error.hint.is_empty()).then(|| reread.into()))
}

fn keys(kind: ErrorKind) -> (UnreadKey, RereadKey) {
    match kind {
        ErrorKind::Empty => (UnreadKey::Empty, RereadKey::Empty),
        ErrorKind::TooLong => (UnreadKey::TooLong, RereadKey::TooLong),
        ErrorKind::NoNumber => (UnreadKey::NoNumber, RereadKey::NoNumber),
        ErrorKind::BadNumber => (UnreadKey::BadNumber, RereadKey::BadNumber),
        ErrorKind::DecimalComma => (UnreadKey::DecimalComma, RereadKey::DecimalComma),
        ErrorKind::MissingUnit => (UnreadKey::MissingUnit, RereadKey::MissingUnit),
        ErrorKind::UnknownUnit => (UnreadKey::UnknownUnit, RereadKey::UnknownUnit),
        ErrorKind::WrongKind => (UnreadKey::WrongKind, RereadKey::WrongKind),
        ErrorKind::BadCompound => (UnreadKey::BadCompound, RereadKey::BadCompound),
        ErrorKind::Trailing => (UnreadKey::Trailing, RereadKey::Trailing),
        ErrorKind::OutOfRange => (UnreadKey::OutOfRange, RereadKey::OutOfRange),
        ErrorKind::TooLarge => (UnreadKey::TooLarge, RereadKey::TooLarge),
        ErrorKind::ReversedRange => (UnreadKey::ReversedRange, RereadKey::ReversedRange),
        ErrorKind::NotExact => (UnreadKey::NotExact, RereadKey::NotExact),
        ErrorKind::UnknownWord => (UnreadKey::UnknownWord, RereadKey::UnknownWord),
        _ => (UnreadKey::Other, RereadKey::Other),
    }
}

/// A kind of quantity with its article, such as `an airflow`.
pub(crate) fn quantity(kind: Kind) -> Word {
    Word::new(format!("kind.{}", kind.name().replace(' ', "-")))
}
