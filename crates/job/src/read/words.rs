//! Texts, words of closed lists, yes and no, and ids of other elements.

use std::ops::Range;

use dewpath_message::Message;
use dewpath_message::slot::Reference;
use dewpath_units::{Choice, YesNo};

use super::context::{Context, Mention};
use super::reader::Reader;
use super::text::{alternatives, choice_of, is_unknown, list_or_one, shorten};
use crate::category::Category;
use crate::diagnostic::Diagnostic;
use crate::nearest::slip;
use crate::node::Value;
use crate::say::{self, Do, Label};
use crate::spec::Shape;
use crate::value::{GivenChoice, GivenYesNo};

impl Reader<'_> {
    /// Free text.
    pub(crate) fn text(&self, context: &mut Context<'_>, name: &'static str) -> Option<String> {
        let (key, node, path) = self.find(context, name)?;
        match &node.value {
            Value::Text(text) => Some(text.clone()),
            Value::Date(text) if matches!(name, "date") => Some(text.clone()),
            _ => {
                context.bad_shape(&path, key, node, say::Shape::Text);
                None
            }
        }
    }

    /// Free text with its place, quoted or as it stands: a value of any kind, as TOML text.
    pub(crate) fn raw(&self, context: &mut Context<'_>, name: &'static str) -> Option<String> {
        let (_, node, _) = self.find(context, name)?;
        Some(match &node.value {
            Value::Text(text) => text.clone(),
            _ => context.typed(node).to_owned(),
        })
    }

    /// Several free texts; a single one may stand without brackets.
    pub(crate) fn texts(&self, context: &mut Context<'_>, name: &'static str) -> Vec<String> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        list_or_one(node)
            .filter_map(|item| {
                if let Value::Text(text) = &item.value {
                    return Some(text.clone());
                }
                context.bad_shape(&path, key, item, say::Shape::Text);
                None
            })
            .collect()
    }

    /// The format number.
    pub(crate) fn format(&self, context: &mut Context<'_>, name: &'static str) -> u32 {
        let Some((_, node, path)) = self.find(context, name) else {
            context.tell(
                Diagnostic::warning("format", 0..0, say::File::FormatLeftOut)
                    .help(Do::WriteFormatFirst),
            );
            return 1;
        };
        match node.value {
            Value::Number(Some(1.0)) => return 1,
            Value::Number(Some(number)) if number > 1.0 => context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    say::NewerFormat { format: Reference::new(number.to_string()) },
                )
                .label(Label::Newer)
                .help(Do::UseNewer),
            ),
            _ => context.tell(
                Diagnostic::error(&path, node.span.clone(), say::File::FormatNoNumber)
                    .label(Label::MustBeOne)
                    .help(Do::WriteFormat),
            ),
        }
        1
    }

    /// Yes, no or unknown.
    pub(crate) fn yes_no(&self, context: &mut Context<'_>, name: &'static str) -> GivenYesNo {
        self.stated(context, name, |context, key, node, path| match &node.value {
            Value::Flag(true) => Some(YesNo::Yes),
            Value::Flag(false) => Some(YesNo::No),
            Value::Text(text) => match text.trim().to_ascii_lowercase().as_str() {
                "yes" | "true" => Some(YesNo::Yes),
                "no" | "false" => Some(YesNo::No),
                "unknown" => Some(YesNo::Unknown),
                _ => {
                    context.tell(
                        Diagnostic::error(
                            path,
                            node.span.clone(),
                            say::PathTypedKey::NoYesNo.of(path, text),
                        )
                        .label(Label::YesNoBelongs)
                        .help(say::example_or_unknown(name, key.example)),
                    );
                    None
                }
            },
            _ => {
                context.bad_shape(path, key, node, say::Shape::YesNo);
                None
            }
        })
    }

    /// One of several words, some of them, or unknown.
    pub(crate) fn choice<C: Category>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> GivenChoice<C> {
        self.stated(context, name, |context, key, node, path| {
            let mut found: Vec<C> = Vec::new();
            for item in list_or_one(node) {
                let Value::Text(text) = &item.value else {
                    context.bad_shape(path, key, item, say::Shape::Word);
                    return None;
                };
                if is_unknown(text) {
                    return Some(Choice::Unknown);
                }
                for (at, word) in alternatives(text) {
                    let Some(member) = C::from_word(word) else {
                        let span = context.inside(item, text, &(at..at + word.len()));
                        unknown_word::<C>(context, path, span, word, true);
                        return None;
                    };
                    if !found.contains(&member) {
                        found.push(member);
                    }
                }
            }
            choice_of(found)
        })
    }

    /// Exactly one of several words.
    pub(crate) fn word<C: Category>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<C> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Text(text) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::Word);
            return None;
        };
        let member = C::from_word(text);
        if member.is_none() {
            let span = context.inside(node, text, &(0..text.len()));
            unknown_word::<C>(context, &path, span, text, false);
        }
        member
    }

    /// The id of another element, to be found when everything is read.
    pub(crate) fn reference(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<String> {
        let (key, node, path) = self.find(context, name)?;
        let Shape::Reference(kinds) = key.shape else { return None };
        let Value::Text(text) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::Id);
            return None;
        };
        let span = context.inside(node, text, &(0..text.len()));
        context.mentions.push(Mention { path, span, id: text.clone(), kinds });
        Some(text.clone())
    }

    /// Ids of other elements.
    pub(crate) fn references(&self, context: &mut Context<'_>, name: &'static str) -> Vec<String> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        let Shape::References(kinds) = key.shape else { return Vec::new() };
        let mut found = Vec::new();
        for item in list_or_one(node) {
            if let Value::Text(text) = &item.value {
                let span = context.inside(item, text, &(0..text.len()));
                context.mentions.push(Mention {
                    path: path.clone(),
                    span,
                    id: text.clone(),
                    kinds,
                });
                found.push(text.clone());
            } else {
                context.bad_shape(&path, key, item, say::Shape::Id);
            }
        }
        found
    }
}

/// What a word that is not known may mean: what the trade calls so, else the word that a slip of the hand made it.
fn meant<C: Category>(word: &str) -> Message {
    match C::may_mean(word) {
        [] => say::did_you_mean(slip::<C>(word), Label::NotKnown),
        members => {
            let words: Vec<&str> = members.iter().map(|member| member.word()).collect();
            say::may_mean(&words)
        }
    }
}

pub(super) fn unknown_word<C: Category>(
    context: &mut Context<'_>,
    path: &str,
    span: Range<usize>,
    word: &str,
    may_be_unknown: bool,
) {
    if context.is_full() {
        context.drop_one();
        return;
    }
    let mut shown: Vec<&str> = C::ALL.iter().map(|member| member.word()).collect();
    if may_be_unknown {
        shown.push("unknown");
    }
    let message: Message = if word.is_empty() {
        say::AtPathKey::Empty.of(path).into()
    } else {
        say::PathTypedKey::NoSuchWord.of(path, &shorten(word)).into()
    };
    let mut diagnostic = Diagnostic::error(path, span, message)
        .label(meant::<C>(word))
        .help(say::one_of(say::OneOfKey::Write, &shown));
    if may_be_unknown {
        diagnostic = diagnostic.help(Do::WriteBoth);
    }
    context.tell(diagnostic);
}
