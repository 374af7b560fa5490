//! What is said when a job cannot be opened.

use dewpath_message::messages;
use dewpath_message::slot::{Name, Reference};

messages! {
    struct NotHere { file: Name } = "folder.not-here"

    struct NotRight { file: Name, why: Reference } = "folder.not-right"

    struct Books { books: Reference } = "folder.books"

    enum Hint {
        AddFile = "folder.hint.add-file",
        WeatherLayouts = "folder.hint.weather-layouts",
        Amendments = "folder.hint.amendments",
    }
}
