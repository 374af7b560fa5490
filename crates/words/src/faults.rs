//! What is wrong with texts for the messages that are declared.

use std::collections::BTreeSet;

use dewpath_message::{Declared, SlotKind};

use crate::catalogue::Catalogue;

impl Catalogue {
    /// A message without a text, a text that asks for other values than its message has, and a text whose key begins so and that
    /// nothing declares. A value that is missing where it is always said only shows when it is put into words.
    pub fn faults(&self, begins: &[&str], declared: &[&[Declared]]) -> Vec<String> {
        let messages = || declared.iter().copied().flatten();
        let known: BTreeSet<&str> = messages().map(|message| message.key).collect();
        let mut wrong: Vec<String> = Vec::new();
        for message in messages() {
            match self.text(message.key) {
                Some(text) => wrong.extend(unfit(message, text)),
                None => wrong.push(format!("{}: no text", message.key)),
            }
        }
        let is_theirs = |key: &&str| begins.iter().any(|begin| key.starts_with(begin));
        let left = self.keys().filter(is_theirs).filter(|key| !known.contains(key));
        wrong.extend(left.map(|key| format!("{key}: nothing declares it")));
        wrong
    }
}

/// Values that a sentence asks for, and the mark behind which stands how they are told.
fn asked(text: &str) -> impl Iterator<Item = (&str, Option<char>)> {
    let slots = text.split('{').skip(1).filter_map(|rest| rest.split('}').next());
    // `{|30 m|100 ft}` asks for none.
    let slots = slots.filter(|slot| !slot.starts_with('|'));
    slots.filter_map(|slot| {
        let mark = slot.chars().find(|c| [':', '|'].contains(c));
        Some((slot.split([':', '|']).next()?, mark))
    })
}

/// What is wrong with a sentence for the values that its message has.
fn unfit(message: &Declared, text: &str) -> Vec<String> {
    let fault = |(name, mark): (&str, Option<char>)| {
        let Some(slot) = message.slots.iter().find(|slot| slot.name == name) else {
            return Some(format!("{}: `{name}` is no value of it", message.key));
        };
        let fits = match slot.kind {
            SlotKind::Figure | SlotKind::Any => true,
            SlotKind::List => mark != Some(':'),
            SlotKind::Name | SlotKind::Word | SlotKind::Reference => mark.is_none(),
        };
        (!fits).then(|| format!("{}: `{name}` is no figure", message.key))
    };
    asked(text).filter_map(fault).collect()
}

#[cfg(test)]
mod tests {
    use dewpath_message::messages;
    use dewpath_message::slot::{AirflowLS, Name};

    use super::*;

    messages! {
        struct Delivered { room: Name, flow: AirflowLS } = "air.delivered"

        enum Do { Look = "air.look" }
    }

    #[test]
    fn texts_that_do_not_fit_their_messages_are_found() {
        let found = |text: &str| Catalogue::read(text).faults(&["air."], DECLARED);
        let delivered = "air.delivered = {room} gets {flow:likely}\n";
        let look = "air.look = look\n";
        assert!(found(&(delivered.to_owned() + look)).is_empty());
        assert_eq!(found(delivered), ["air.look: no text"]);
        assert_eq!(
            found(&format!("{look}air.delivered = {{room:range}} {{fan}}")),
            ["air.delivered: `room` is no figure", "air.delivered: `fan` is no value of it"]
        );
        assert_eq!(
            found(&format!("{delivered}{look}air.idle = x\nduct.x = x")),
            ["air.idle: nothing declares it"]
        );
    }
}
