//! The ids of elements: written or by number, each unique where it has to be.

use std::collections::BTreeSet;
use std::ops::Range;

use dewpath_message::Message;
use dewpath_message::slot::Reference;

use super::context::Context;
use super::reader::Reader;
use super::text::shorten;
use crate::diagnostic::Diagnostic;
use crate::node::{Entry, Value};
use crate::say::{self, Label};
use crate::spec::{Ids, Table};

/// Words that cannot be an id, since they mean something by themselves.
const RESERVED: [&str; 6] = ["unknown", "outdoors", "house", "all", "none", "part"];

/// Longest id.
const LONGEST_ID: usize = 60;

impl Reader<'_> {
    #[expect(
        clippy::too_many_arguments,
        reason = "one caller; the pieces belong to no type of their own"
    )]
    pub(super) fn id_of(
        &self,
        context: &mut Context<'_>,
        table: &'static Table,
        entries: &[Entry],
        span: &Range<usize>,
        index: usize,
        count: usize,
        own: &mut BTreeSet<String>,
    ) -> String {
        context.note((table.written, "id"));
        let number = index + 1;
        if table.key("id").is_none() {
            return number.to_string();
        }
        let entry = entries.iter().find(|entry| entry.key == "id");
        let Some(entry) = entry else {
            let by_number = format!("{}-{number}", table.name);
            match table.ids {
                Ids::Within => {}
                Ids::Job if count == 1 => {
                    self.register(context, table, table.name.to_owned(), span, own);
                    return table.name.to_owned();
                }
                // A required id is told about when the table is opened.
                Ids::Library => return by_number,
                Ids::Job => context.tell(
                    Diagnostic::error(
                        &self.path_of(table.name),
                        span.clone(),
                        say::NeedsId { kind: Reference::new(table.name), count: say::count(count) },
                    )
                    .label(say::MustBeWritten { key: Reference::new("id") })
                    .help(say::OfIdKey::Keep.of(&by_number)),
                ),
            }
            self.register(context, table, by_number.clone(), span, own);
            return by_number;
        };
        let Value::Text(text) = &entry.node.value else {
            context.tell(
                Diagnostic::error(
                    &self.path_of(table.name),
                    entry.node.span.clone(),
                    say::Element::IdNoText,
                )
                .label(Label::PutQuotes)
                .help(say::example(format!("id = \"{}-{number}\"", table.name))),
            );
            return format!("{}-{number}", table.name);
        };
        let plain = !text.is_empty()
            && text.len() <= LONGEST_ID
            && text.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
        if !plain {
            let tidy: String = text
                .chars()
                .map(|c| if c.is_ascii_alphanumeric() || c == '-' || c == '_' { c } else { '-' })
                .take(LONGEST_ID)
                .collect();
            let tidy =
                tidy.split('-').filter(|piece| !piece.is_empty()).collect::<Vec<_>>().join("-");
            let tidy = tidy.trim_matches('-');
            let tidy = if tidy.is_empty() { table.name } else { tidy };
            context.tell(
                Diagnostic::error(
                    &self.path_of(table.name),
                    entry.node.span.clone(),
                    say::TypedKey::NoId.of(&shorten(text)),
                )
                .label(Label::LettersOfIds)
                .help(say::OfIdKey::NamePeople.of(tidy)),
            );
            // References to it are as typed; they must not be told about a second time.
            self.register(context, table, text.clone(), &entry.node.span, own);
            return text.clone();
        }
        if RESERVED.contains(&text.to_ascii_lowercase().as_str()) {
            context.tell(
                Diagnostic::error(
                    &self.path_of(table.name),
                    entry.node.span.clone(),
                    say::TypedKey::ReservedId.of(text),
                )
                .label(Label::ChooseAnother)
                .help(say::example(format!("id = \"{}-{number}\"", table.name))),
            );
            self.register(context, table, text.clone(), &entry.node.span, own);
            return text.clone();
        }
        self.register(context, table, text.clone(), &entry.node.span, own);
        text.clone()
    }

    fn register(
        &self,
        context: &mut Context<'_>,
        table: &'static Table,
        id: String,
        span: &Range<usize>,
        own: &mut BTreeSet<String>,
    ) {
        let taken = match table.ids {
            Ids::Job => context.ids.get(&id).cloned(),
            Ids::Within | Ids::Library => own.contains(&id).then(|| {
                (table.name, context.place(&format!("{}.{id}", self.path_of(table.name))))
            }),
        };
        if let Some((kind, first)) = taken {
            let use_of: Message = if kind == table.name {
                Label::SecondUse.into()
            } else {
                say::OfKindKey::IdOf.of(kind).into()
            };
            let other = if table.ids == Ids::Job {
                say::OtherIdKey::InJob
            } else {
                say::OtherIdKey::InList
            };
            context.tell(
                Diagnostic::error(
                    &format!("{}.{id}", self.path_of(table.name)),
                    span.clone(),
                    say::TypedKey::IdTwice.of(&id),
                )
                .label(use_of)
                .also(first, Label::FirstUse)
                .help(say::OtherId {
                    key: other,
                    id: Reference::new(id),
                    kind: Reference::new(table.name),
                }),
            );
            return;
        }
        own.insert(id.clone());
        if table.ids == Ids::Job {
            context.ids.insert(id, (table.name, span.clone()));
        }
    }
}
