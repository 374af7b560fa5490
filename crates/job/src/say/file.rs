//! What is wrong of a file as a whole, of its text or its columns.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name, Reference};

messages! {
    enum Head {
        Error = "job.head.error",
        Warning = "job.head.warning",
        Help = "job.head.help",
    }

    struct TooLarge { size: Count, most: Count } = "job.file.too-large"

    struct Typed { typed: Name } = TypedKey {
        WithoutQuotes = "job.file.without-quotes",
        NoColumn = "job.file.no-column",
        ColumnTwice = "job.file.column-twice",
        NoId = "job.file.no-id",
        ReservedId = "job.file.reserved-id",
        IdTwice = "job.file.id-twice",
        NoOrigin = "job.file.no-origin",
    }

    enum File {
        NothingBehindEquals = "job.file.nothing-behind-equals",
        InchMark = "job.file.inch-mark",
        NestedTooDeep = "job.file.nested-too-deep",
        Twice = "job.file.twice",
        TextNotClosed = "job.file.text-not-closed",
        NoHeader = "job.file.no-header",
        NoIdColumn = "job.file.no-id-column",
        FormatLeftOut = "job.file.format-left-out",
        FormatNoNumber = "job.file.format-no-number",
    }

    struct NotToml { said: Reference } = "job.file.not-toml"

    struct NotUtf8 { at: Count, byte: Reference } = "job.file.not-utf8"

    struct LineUnreadable { said: Reference } = "job.file.line-unreadable"

    struct CellsBeyondHeader { cells: Count, columns: Count } = "job.file.cells-beyond-header"

    struct NoModel { kind: Reference, id: Name } = "job.file.no-model"

    struct NewerFormat { format: Reference } = "job.file.newer-format"

    struct More { count: Count, file: Name } = "job.file.more"

    struct ShowLeftOut { units: Reference } = ShowLeftOutKey {
        OtherBook = "job.file.other-book",
        UsBook = "job.file.us-book",
        NoBook = "job.file.no-book",
    }
}
