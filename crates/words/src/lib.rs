//! Every sentence a person reads: a message key and its typed values become text.
//!
//! The engine says *what* it found; this crate says it in a language and a unit system. No other
//! crate holds a sentence or formats a fraction, so that the command line, the page and the papers
//! all speak alike.
//!
//! **Must never know**: files, screens, colours, or how anything was worked out.
//!
//! ```
//! use dewpath_report::{Figure, Message, Triple};
//! use dewpath_words::Speaker;
//!
//! let speaker = Speaker::us();
//! let flow = Figure::AirflowLS(Triple { low: 30.0, likely: 33.0, high: 38.0 });
//! assert_eq!(speaker.figure(flow), "70 cfm (64 to 81)");
//! # let _ = Message::new("airflow.delivered.holds");
//! ```

mod building;
mod drawing;
mod english;
mod figures;
mod page;
mod report;
mod year;

pub use year::Table;

use dewpath_report::{Message, Value};

/// Speaks one language in one unit system.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Speaker {
    system: dewpath_units::System,
}

impl Speaker {
    /// English with feet, inches, cfm and inches of water.
    pub fn us() -> Self {
        Self { system: dewpath_units::System::Us }
    }

    /// English with metres, litres a second and pascals.
    pub fn metric() -> Self {
        Self { system: dewpath_units::System::Metric }
    }

    /// The speaker for `show = "us"` or `"metric"`; US for anything else.
    pub fn for_show(show: &str) -> Self {
        if show == "metric" { Self::metric() } else { Self::us() }
    }

    /// The sentence of a message.
    ///
    /// A key that this language has no sentence for is shown as the key with its values, so that
    /// nothing is lost; a test keeps that from happening for keys that the engine uses.
    pub fn message(&self, message: &Message) -> String {
        match english::sentence(&message.key).or_else(|| drawing::text(&message.key)) {
            Some(template) => capital(self.fill(template, message), template),
            None => self.without_sentence(message),
        }
    }

    /// A word of ours by key; the key itself where there is none.
    pub fn word(&self, key: &str) -> String {
        let known = english::word(key).or_else(|| drawing::text(key)).or_else(|| page::text(key));
        known.unwrap_or(key).to_owned()
    }

    /// Fills a template; a part in `[ ]` is left out when one of its values is missing.
    fn fill(self, template: &str, message: &Message) -> String {
        let mut text = String::with_capacity(template.len() * 2);
        let mut rest = template;
        while let Some((before, after)) = rest.split_once('[') {
            let (part, after) = after.split_once(']').unwrap_or((after, ""));
            text.push_str(&self.filled(before, message).0);
            if let (part, true) = self.filled(part, message) {
                text.push_str(&part);
            }
            rest = after;
        }
        text.push_str(&self.filled(rest, message).0);
        text
    }

    /// A template without optional parts, and whether every value of it was there.
    fn filled(self, template: &str, message: &Message) -> (String, bool) {
        let mut text = String::with_capacity(template.len() * 2);
        let mut whole = true;
        let mut rest = template;
        while let Some((before, after)) = rest.split_once('{') {
            text.push_str(before);
            let (slot, after) = after.split_once('}').unwrap_or((after, ""));
            let (name, how) = slot.split_once(':').unwrap_or((slot, ""));
            let value = message.values.get(name);
            whole &= value.is_some_and(|value| *value != Value::Name(String::new()));
            match value {
                Some(value) => text.push_str(&self.value(value, how)),
                None => text.push('?'),
            }
            rest = after;
        }
        text.push_str(rest);
        (text, whole)
    }

    fn value(self, value: &Value, how: &str) -> String {
        match (value, how) {
            (Value::Figure(figure), "likely") => self.likely(*figure),
            (Value::Figure(figure), "range") => self.range(*figure),
            (Value::Figure(figure), _) => self.figure(*figure),
            (Value::Word(key), _) => self.word(key),
            (Value::Name(text) | Value::Reference(text), _) => text.clone(),
        }
    }

    fn without_sentence(self, message: &Message) -> String {
        let values: Vec<String> = message
            .values
            .iter()
            .map(|(name, value)| format!("{name}: {}", self.value(value, "")))
            .collect();
        if values.is_empty() {
            message.key.clone()
        } else {
            format!("{} ({})", message.key, values.join(", "))
        }
    }
}

/// A sentence that starts with a name starts with a capital, however the name is written.
fn capital(text: String, template: &str) -> String {
    let mut rest = text.chars();
    match rest.next() {
        Some(first) if template.starts_with('{') => first.to_uppercase().chain(rest).collect(),
        _ => text,
    }
}

/// Every key this language has a sentence for, in order.
pub fn sentence_keys() -> impl Iterator<Item = &'static str> {
    english::SENTENCES.iter().chain(building::SENTENCES).map(|(key, _)| *key)
}

/// Every key of a text on drawings, in order.
pub fn drawing_keys() -> impl Iterator<Item = &'static str> {
    drawing::TEXTS.iter().map(|(key, _)| *key)
}

/// Every key of a word on the screens of the page, in order.
pub fn page_keys() -> impl Iterator<Item = &'static str> {
    page::WORDS.iter().map(|(key, _)| *key)
}

/// Every key this language has a word for, in order.
pub fn word_keys() -> impl Iterator<Item = &'static str> {
    english::WORDS.iter().chain(building::WORDS).map(|(key, _)| *key)
}

#[cfg(test)]
mod tests {
    use dewpath_report::{Figure, Triple};

    use super::*;

    #[test]
    fn a_part_without_its_values_is_left_out() {
        let screen = Message::new("terminal.screen.fine");
        let short = "An insect screen at the outlet clogs with lint.";
        assert_eq!(Speaker::metric().message(&screen), short);
        let size = |mm| Figure::GapMm(Triple::exact(mm));
        let screen = screen.figure("least", size(6.0)).figure("most", size(13.0));
        let long = "An insect screen at the outlet clogs with lint; openings of 6 mm to 13 mm are asked for.";
        assert_eq!(Speaker::metric().message(&screen), long);
    }

    #[test]
    fn a_name_at_the_start_gets_a_capital() {
        let message = Message::new("airflow.delivered.no-exhaust").name("room", "hall-bath");
        assert_eq!(Speaker::us().message(&message), "Hall-bath has no exhaust in this job.");
    }

    #[test]
    fn a_key_without_a_sentence_loses_nothing() {
        let message = Message::new("of.nobody").name("room", "attic");
        assert_eq!(Speaker::us().message(&message), "of.nobody (room: attic)");
    }
}
