//! Everything that is told of a book or an amendment that is not right; the texts stand in `rulebook.txt` of a catalogue of
//! `words`.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name, Reference, Word};

messages! {
    enum Wrong {
        TooLong = "rulebook.too-long",
        OtherFormat = "rulebook.other-format",
        NoFormat = "rulebook.no-format",
        NoStanding = "rulebook.no-standing",
        RemovedNotTrue = "rulebook.removed-not-true",
        NoTable = "rulebook.no-table",
        AirflowsDoNotRise = "rulebook.airflows-do-not-rise",
        NoRows = "rulebook.no-rows",
        RowWithoutDiameter = "rulebook.row-without-diameter",
        CellUnread = "rulebook.cell-unread",
        NoCell = "rulebook.no-cell",
        TableBeyondBounds = "rulebook.table-beyond-bounds",
        SharesDoNotRise = "rulebook.shares-do-not-rise",
        NoWholeNumber = "rulebook.no-whole-number",
        NoList = "rulebook.no-list",
        NoText = "rulebook.no-text",
        NoBook = "rulebook.no-book",
        NoSuchCell = "rulebook.no-such-cell",
    }

    struct NotToml { said: Reference } = "rulebook.not-toml"

    struct Of { name: Name } = OfKey {
        Missing = "rulebook.missing",
        MissingHere = "rulebook.missing-here",
        NoKind = "rulebook.no-kind",
        WithoutSource = "rulebook.without-source",
        NoSuchValue = "rulebook.no-such-value",
        RemovedWithValue = "rulebook.removed-with-value",
        WithoutValue = "rulebook.without-value",
        Unread = "rulebook.unread",
        Unknown = "rulebook.unknown",
        NoBase = "rulebook.no-base",
        NoDuctTable = "rulebook.no-duct-table",
    }

    struct CellsOfRow { cells: Count, airflows: Count } = "rulebook.cells-of-row"

    struct NoQuantity { kind: Word } = "rulebook.no-quantity"

    struct BasedOnItself { id: Name, base: Name } = "rulebook.based-on-itself"

    struct OtherBook { amends: Name, id: Name } = "rulebook.other-book"

    enum Do {
        Split = "rulebook.do.split",
        MendToml = "rulebook.do.mend-toml",
        WriteFormat = "rulebook.do.write-format",
        WriteFormatOnTop = "rulebook.do.write-format-on-top",
        WriteKind = "rulebook.do.write-kind",
        KeepOne = "rulebook.do.keep-one",
        SeeKeys = "rulebook.do.see-keys",
        SeeFormat = "rulebook.do.see-format",
        WriteStanding = "rulebook.do.write-standing",
        WriteStandingKey = "rulebook.do.write-standing-key",
        LeaveOut = "rulebook.do.leave-out",
        WriteRising = "rulebook.do.write-rising",
        WriteCells = "rulebook.do.write-cells",
        WriteLimit = "rulebook.do.write-limit",
        WriteBounds = "rulebook.do.write-bounds",
        WriteTwoLists = "rulebook.do.write-two-lists",
        PutQuotes = "rulebook.do.put-quotes",
        WriteCount = "rulebook.do.write-count",
        WriteYesNo = "rulebook.do.write-yes-no",
        WriteInsulation = "rulebook.do.write-insulation",
    }

    struct Write { line: Reference } = WriteKey {
        Line = "rulebook.do.write",
        NearTop = "rulebook.do.write-near-top",
        SuchAs = "rulebook.do.write-such-as",
        ListSuchAs = "rulebook.do.write-list-such-as",
        CellOrTable = "rulebook.do.write-cell-or-table",
        OverItsOwn = "rulebook.do.put-over-its-own",
    }

    struct WriteQuantity { kind: Word, example: Reference } = "rulebook.do.write-quantity"

    struct Names { names: Reference } = NamesKey {
        Words = "rulebook.do.write-words",
        Known = "rulebook.do.known",
        BuiltIn = "rulebook.do.built-in",
    }

    struct Nearest { near: Reference } = "rulebook.do.nearest"

    struct DidYouMean { near: Reference, names: Reference } = DidYouMeanKey {
        Key = "rulebook.do.did-you-mean",
        Book = "rulebook.do.did-you-mean-book",
    }

    struct InBook {
        book: Name,
        line: Option<Count>,
        column: Option<Count>,
        message: Reference,
        hint: Reference,
    } = "rulebook.in-book"
}

impl OfKey {
    /// The sentence of this name.
    pub(crate) fn of(self, name: &str) -> Of {
        Of { key: self, name: Name::new(name) }
    }
}

impl WriteKey {
    /// With this to write.
    pub(crate) fn line(self, line: impl Into<String>) -> Write {
        Write { key: self, line: Reference::new(line) }
    }
}

impl NamesKey {
    /// With these names.
    pub(crate) fn of(self, names: &[&str]) -> Names {
        Names { key: self, names: Reference::new(names.join(", ")) }
    }
}
