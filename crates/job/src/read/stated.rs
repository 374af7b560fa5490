//! A value with where it comes from.

use dewpath_message::slot::Reference;
use dewpath_units::{Origin, Stated};

use super::context::Context;
use super::reader::Reader;
use super::text::suggestion;
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::say;
use crate::spec::Key;
use crate::stated::STATED;

impl<'n> Reader<'n> {
    /// A value with its origin: plain, or in a table `{ value = …, origin = … }`.
    pub(super) fn stated<T>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
        read: impl FnOnce(&mut Context<'_>, &'static Key, &'n Node, &str) -> Option<T>,
    ) -> Option<Stated<T>> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Table(entries) = &node.value else {
            let value = read(context, key, node, &path)?;
            return Some(Stated {
                value,
                origin: context.plain_origin(),
                date: None,
                photo: None,
                note: None,
            });
        };
        if !entries.iter().any(|entry| entry.key == "value") {
            context.tell(
                Diagnostic::error(&path, node.span.clone(), say::AtPathKey::WithoutValue.of(&path))
                    .label(say::MustBeWritten { key: Reference::new("value") })
                    .help(say::example(format!(
                        "{name} = {{ value = {}, origin = \"measured\" }}",
                        key.example
                    ))),
            );
            return None;
        }
        let about = Reader::open(context, &STATED, entries, node.span.clone(), path.clone());
        let (_, inner, inner_path) = about.find(context, "value")?;
        let origin = about.origin(context);
        let date = about.date(context, "on");
        let photo = about.text(context, "photo");
        let note = about.text(context, "note");
        let value = read(context, key, inner, &inner_path)?;
        Some(Stated { value, origin: origin.unwrap_or(context.plain_origin()), date, photo, note })
    }

    fn origin(&self, context: &mut Context<'_>) -> Option<Origin> {
        let text = self.text(context, "origin")?;
        let words = [
            ("measured", Origin::Measured),
            ("label", Origin::Label),
            ("assumed", Origin::Assumed),
        ];
        let plain = text.trim().to_ascii_lowercase();
        let found = words.iter().find(|(word, _)| *word == plain).map(|&(_, origin)| origin);
        if found.is_none() {
            let names: Vec<&str> = words.iter().map(|&(word, _)| word).collect();
            let path = self.path_of("origin");
            context.tell(
                Diagnostic::error(&path, self.span_of("origin"), say::TypedKey::NoOrigin.of(&text))
                    .label(suggestion(&plain, &names))
                    .help(say::one_of(say::OneOfKey::Write, &names)),
            );
        }
        found
    }

    /// A date, as TOML date or as text.
    fn date(&self, context: &mut Context<'_>, name: &'static str) -> Option<String> {
        let (key, node, path) = self.find(context, name)?;
        match &node.value {
            Value::Text(text) | Value::Date(text) => Some(text.clone()),
            _ => {
                context.bad_shape(&path, key, node, say::Shape::Date);
                None
            }
        }
    }
}
