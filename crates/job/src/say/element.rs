//! What is wrong of keys, ids and what they name.

use dewpath_message::slot::{Count, List, Name, Reference};
use dewpath_message::{Value, messages};

messages! {
    struct NeedsId { kind: Reference, count: Count } = "job.element.needs-id"

    enum Element {
        IdNoText = "job.element.id-no-text",
    }

    struct Missing { key: Reference } = "job.element.missing"

    struct NoSuchId { others: Option<Reference>, kind: Reference, id: Name } = "job.element.no-such-id"

    struct OtherKind { id: Name, is: Reference, path: Name, others: Option<Reference>, kind: Reference } = "job.element.other-kind"

    struct PartOfSeveral { path: Name, kinds: List } = "job.element.part-of-several"

    struct NotAKey { key: Name, table: Value } = "job.element.not-a-key"
}
