//! Why a change to a job cannot be made.

use dewpath_message::slot::{Name, Reference};
use dewpath_message::{Value, messages};

messages! {
    struct JobNotToml { said: Reference } = "job.change.job-not-toml"

    struct AtStep { path: Name, step: Reference } = AtStepKey {
        NoTable = "job.change.no-table",
        PlainValue = "job.change.plain-value",
    }

    struct NoElement { path: Name, kind: Reference, id: Name } = "job.change.no-element"

    struct WholeElement { path: Name, kind: Reference } = "job.change.whole-element"

    struct NoKeyAt { path: Name, step: Name, table: Value } = "job.change.no-key-at"
}
