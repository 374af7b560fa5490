//! Where things are, along the axes.

use dewpath_message::Message;
use dewpath_message::slot::{Name, Reference};
use dewpath_units::{Choice, Length, Stated};

use super::context::Context;
use super::quantities::signed_end;
use super::reader::Reader;
use super::sizes::read_sides;
use super::text::{is_unknown, shorten, trailing_unit};
use super::words::unknown_word;
use crate::category::Category as _;
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::say::{self, Label};
use crate::spec::{Key, Shape};
use crate::value::{GivenOutline, GivenPlace, Wish, WishWord};

/// Farthest that a place may lie from where the frame begins, m; as the longest room side.
const FARTHEST_M: f64 = 100.0;

impl Reader<'_> {
    /// Exact places or extents along the axes.
    pub(crate) fn place<const N: usize>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> GivenPlace<N> {
        self.stated(context, name, |context, key, node, path| {
            if is_unknown_node(node) {
                return Some(Choice::Unknown);
            }
            read_place::<N>(context, key, node, path).map(Choice::Known)
        })
    }

    /// Corners of an outline in plan.
    pub(crate) fn outline(&self, context: &mut Context<'_>, name: &'static str) -> GivenOutline {
        self.stated(context, name, |context, key, node, path| {
            if is_unknown_node(node) {
                return Some(Choice::Unknown);
            }
            let Value::List(items) = &node.value else {
                context.bad_shape(path, key, node, say::Shape::Corners);
                return None;
            };
            let corners: Vec<[Length; 2]> =
                items.iter().map_while(|item| read_place::<2>(context, key, item, path)).collect();
            (corners.len() == items.len()).then_some(Choice::Known(corners))
        })
    }

    /// Where a housing should be.
    pub(crate) fn wish(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<Stated<Wish>> {
        self.stated(context, name, |context, key, node, path| match &node.value {
            Value::Text(text) if !text.contains(|c: char| c.is_ascii_digit()) => {
                let found = WishWord::from_word(text);
                if found.is_none() {
                    let span = context.inside(node, text, &(0..text.len()));
                    unknown_word::<WishWord>(context, path, span, text, false);
                }
                found.map(WishWord::wish)
            }
            _ => read_place::<2>(context, key, node, path).map(Wish::At),
        })
    }
}

fn is_unknown_node(node: &Node) -> bool {
    matches!(&node.value, Value::Text(text) if is_unknown(text))
}

/// Lengths along the axes, as a list or as one text with `x` between them.
fn read_place<const N: usize>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<[Length; N]> {
    let lengths = match &node.value {
        Value::List(items) => {
            let read: Vec<Length> =
                items.iter().map_while(|item| read_along(context, key, item, path)).collect();
            if read.len() < items.len() {
                return None;
            }
            read
        }
        Value::Text(text) => read_sides(context, path, node, text, 0, text, trailing_unit(text))?,
        _ => {
            context.bad_shape(path, key, node, say::Shape::Lengths);
            return None;
        }
    };
    let count = lengths.len();
    let Ok(place) = <[Length; N]>::try_from(lengths) else {
        context.tell(
            Diagnostic::error(
                path,
                node.span.clone(),
                say::LengthsAlong {
                    path: Name::new(path),
                    wanted: say::count(N),
                    count: say::count(count),
                },
            )
            .label(if N == 2 { Label::AlongTwo } else { Label::AlongThree })
            .help(say::example(format!("{} = {}", key.name, key.example))),
        );
        return None;
    };
    let least = if matches!(key.shape, Shape::Extent(_)) { 0.0 } else { -FARTHEST_M };
    if place.iter().any(|length| !(least..=FARTHEST_M).contains(&length.m())) {
        let message: Message = if least < 0.0 {
            say::AtPathKey::FarAway.of(path).into()
        } else {
            say::ExtentBeyond {
                path: Name::new(path),
                most: Reference::new(FARTHEST_M.to_string()),
            }
            .into()
        };
        context.tell(
            Diagnostic::error(path, node.span.clone(), message)
                .label(Label::LookAtSign)
                .help(say::example(format!("{} = {}", key.name, key.example))),
        );
        return None;
    }
    Some(place)
}

/// One length along an axis; a bare 0 needs no unit.
fn read_along(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Length> {
    match &node.value {
        Value::Number(Some(number)) if number.abs() == 0.0 => Some(Length::from_m(0.0)),
        Value::Text(text) if text.trim() == "0" => Some(Length::from_m(0.0)),
        Value::Text(text) => match signed_end::<Length>(text, 0, text, "") {
            Ok(length) => Some(length),
            Err(error) => {
                context.bad_text(path, node, text, 0, &error);
                None
            }
        },
        Value::Number(_) => {
            let typed = context.typed(node).to_owned();
            context.tell(
                Diagnostic::error(
                    path,
                    node.span.clone(),
                    say::PathTypedKey::NoUnit.of(path, &shorten(&typed)),
                )
                .label(Label::WhichUnit)
                .help(say::example(format!("{} = {}", key.name, key.example))),
            );
            None
        }
        _ => {
            context.bad_shape(path, key, node, say::Shape::Lengths);
            None
        }
    }
}
