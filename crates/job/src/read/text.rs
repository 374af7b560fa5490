//! Small things that several sorts of values share.

use dewpath_message::Message;
use dewpath_units::Choice;

use crate::nearest::nearest;
use crate::node::{Node, Value};
use crate::say::{self, Label};

/// The beginning of a long text.
pub(super) fn shorten(text: &str) -> String {
    if text.chars().count() <= 40 {
        text.to_owned()
    } else {
        format!("{}…", text.chars().take(40).collect::<String>())
    }
}

/// Whether a text is the word `unknown`.
pub(super) fn is_unknown(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case("unknown")
}

/// One member, or several of which one is meant.
pub(super) fn choice_of<C>(mut found: Vec<C>) -> Option<Choice<C>> {
    match found.len() {
        0 => None,
        1 => found.pop().map(Choice::Known),
        _ => Some(Choice::OneOf(found)),
    }
}

/// The items of a list, or the one value that stands there without brackets.
pub(super) fn list_or_one(node: &Node) -> std::slice::Iter<'_, Node> {
    match &node.value {
        Value::List(items) => items.iter(),
        _ => std::slice::from_ref(node).iter(),
    }
}

/// The alternatives of `3 in or 4 in`, with their places.
pub(super) fn alternatives(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut at = 0;
    for piece in text.split(" or ") {
        let lead = piece.len() - piece.trim_start().len();
        found.push((at + lead, piece.trim()));
        at += piece.len() + " or ".len();
    }
    found
}

/// The nearest of the words that are known.
pub(super) fn suggestion(typed: &str, words: &[&str]) -> Message {
    say::did_you_mean(nearest(typed, words.iter().copied()), Label::NotKnown)
}

/// The unit at the end of a text such as `3-1/4 x 10 in`.
pub(super) fn trailing_unit(text: &str) -> &str {
    let text = text.trim_end();
    let start =
        text.rfind(|c: char| c.is_ascii_digit() || c == '/' || c == ' ').map_or(0, |i| i + 1);
    text.get(start..).unwrap_or_default()
}
