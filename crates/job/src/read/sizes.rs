//! Sizes of ducts and sides of housings.

use dewpath_message::slot::Name;
use dewpath_units::{Choice, Length, ParseError, Quantity as _};

use super::context::Context;
use super::reader::Reader;
use super::text::{alternatives, choice_of, is_unknown, list_or_one, trailing_unit};
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::say::{self, Do, Label};
use crate::value::{GivenChoice, Section};

impl Reader<'_> {
    /// A section, several or unknown.
    pub(crate) fn size(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> GivenChoice<Section> {
        self.stated(context, name, |context, key, node, path| {
            let mut found: Vec<Section> = Vec::new();
            for item in list_or_one(node) {
                let Value::Text(text) = &item.value else {
                    context.bad_shape(path, key, item, say::Shape::Size);
                    return None;
                };
                if is_unknown(text) {
                    return Some(Choice::Unknown);
                }
                let unit = trailing_unit(text);
                for (at, part) in alternatives(text) {
                    let section = read_section(context, path, item, text, at, part, unit)?;
                    if !found.contains(&section) {
                        found.push(section);
                    }
                }
            }
            choice_of(found)
        })
    }

    /// Exact sides, such as `9 in x 9 in x 7-1/2 in`.
    pub(crate) fn sides<const N: usize>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<[Length; N]> {
        let (key, node, path) = self.find(context, name)?;
        let Value::Text(text) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::Sides);
            return None;
        };
        let sides = read_sides(context, &path, node, text, 0, text, trailing_unit(text))?;
        let count = sides.len();
        let Ok(sides) = <[Length; N]>::try_from(sides) else {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    say::SidesOf {
                        path: Name::new(&path),
                        wanted: say::count(N),
                        count: say::count(count),
                    },
                )
                .label(say::LengthsByX { count: say::count(N) })
                .help(say::example(format!("{name} = {}", key.example))),
            );
            return None;
        };
        if sides.iter().any(|side| side.m() <= 0.0 || side.m() > 10.0) {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    say::AtPathKey::SideImpossible.of(&path),
                )
                .label(Label::Impossible)
                .help(say::example(format!("{name} = {}", key.example))),
            );
            return None;
        }
        Some(sides)
    }
}

fn read_length(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    whole: &str,
    at: usize,
    text: &str,
    unit: &str,
) -> Option<Length> {
    let lead = text.len() - text.trim_start().len();
    let trimmed = text.trim();
    let bare = trimmed.ends_with(|c: char| c.is_ascii_digit());
    let with_unit =
        if bare && !unit.is_empty() { format!("{trimmed} {unit}") } else { trimmed.to_owned() };
    match Length::parse(&with_unit) {
        Ok(length) => Some(length),
        Err(error) => {
            let end = trimmed.len();
            let clipped =
                ParseError { span: error.span.start.min(end)..error.span.end.min(end), ..error };
            context.bad_text(path, node, whole, at + lead, &clipped);
            None
        }
    }
}

/// Lengths with `x` between them; the unit may stand once at the end.
pub(super) fn read_sides(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    whole: &str,
    at: usize,
    text: &str,
    unit: &str,
) -> Option<Vec<Length>> {
    let mut sides = Vec::new();
    let mut start = 0;
    for piece in text.split(['x', 'X', '×', '*']) {
        sides.push(read_length(context, path, node, whole, at + start, piece, unit)?);
        start += piece.len();
        start += text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    }
    Some(sides)
}

fn read_section(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    whole: &str,
    at: usize,
    text: &str,
    unit: &str,
) -> Option<Section> {
    let lower = text.to_ascii_lowercase();
    let (word, body) = ["oval", "round", "rectangular"]
        .into_iter()
        .find(|word| lower.starts_with(word))
        .map_or(("", text), |word| (word, text.get(word.len()..).unwrap_or_default()));
    let sides = read_sides(context, path, node, whole, at + (text.len() - body.len()), body, unit)?;
    let span = context.inside(node, whole, &(at..at + text.len()));
    if sides.iter().any(|side| !(0.01..=3.0).contains(&side.m())) {
        context.tell(
            Diagnostic::error(path, span, say::PathTypedKey::NoDuct.of(path, text))
                .label(Label::SizesRead)
                .help(Do::WriteSize),
        );
        return None;
    }
    if sides.iter().any(|side| !(0.05..=0.6).contains(&side.m())) {
        context.tell(
            Diagnostic::warning(path, span.clone(), say::PathTypedKey::OddDuct.of(path, text))
                .label(Label::UsualDucts),
        );
    }
    match (word, sides.as_slice()) {
        ("" | "round", [diameter]) => Some(Section::Round(*diameter)),
        ("" | "rectangular", [width, height]) => Some(Section::Rectangular(*width, *height)),
        // Whoever measures an oval may write either side first.
        ("oval", [a, b]) => Some(Section::Oval(a.greater(*b), a.lesser(*b))),
        _ => {
            context.tell(
                Diagnostic::error(path, span, say::PathTypedKey::NoSize.of(path, text))
                    .label(Label::DiameterOrSides)
                    .help(Do::WriteSizeOrOval),
            );
            None
        }
    }
}
