//! What may stand instead of a plain value, to say where it comes from.

use crate::spec::{Ids, Key, Shape, Table};

/// The table of such a value.
pub(crate) static STATED: Table = Table {
    name: "value",
    written: "{ value = … }",
    doc: "Any value may be a table that says where it comes from.",
    ids: Ids::Within,
    keys: &[
        Key {
            name: "value",
            shape: Shape::Text,
            required: true,
            example: r#""8 ft""#,
            doc: "The value.",
        },
        Key {
            name: "origin",
            shape: Shape::Text,
            required: false,
            example: r#""measured""#,
            doc: "`measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.",
        },
        Key {
            name: "on",
            shape: Shape::Text,
            required: false,
            example: r#""2026-03-02""#,
            doc: "The day it was found.",
        },
        Key {
            name: "photo",
            shape: Shape::Text,
            required: false,
            example: r#""IMG_0012.jpg""#,
            doc: "Photo by name.",
        },
        Key {
            name: "note",
            shape: Shape::Text,
            required: false,
            example: r#""at the low end of the slope""#,
            doc: "Free note.",
        },
    ],
};
