//! Every sentence a person reads: a message key and its typed values become text.
//!
//! The engine says *what* it found; this crate says it in a language and a unit system. No other
//! crate holds a sentence or formats a fraction, so that the command line, the page and the papers
//! all speak alike. Texts are data: a language is a [`Catalogue`], read from the files of a folder of
//! `catalogue/`, or from text that somebody fetched.
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

#[cfg(feature = "built-in")]
mod built_in;
mod catalogue;
mod faults;
mod figures;
mod report;
mod year;

use std::sync::Arc;

#[cfg(feature = "built-in")]
pub use built_in::LANGUAGES;
pub use catalogue::Catalogue;
pub use year::Table;

use dewpath_message::Speak;
use dewpath_report::{Figure, Message, Value};
use dewpath_units::System;

/// Speaks one language in one unit system. Cheap to copy by `clone`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Speaker {
    language: Arc<Catalogue>,
    system: System,
}

#[cfg(feature = "built-in")]
impl Speaker {
    /// English with feet, inches, cfm and inches of water.
    pub fn us() -> Self {
        Self::for_show("us")
    }

    /// English with metres, litres a second and pascals.
    pub fn metric() -> Self {
        Self::for_show("metric")
    }

    /// English for `show = "us"` or `"metric"`; US for anything else.
    pub fn for_show(show: &str) -> Self {
        Self::new(Arc::new(Catalogue::english()), show)
    }
}

impl Speaker {
    /// Speaks a language, in the units of `show = "us"` or `"metric"`; US for anything else.
    pub fn new(language: Arc<Catalogue>, show: &str) -> Self {
        Self { language, system: if show == "metric" { System::Metric } else { System::Us } }
    }

    /// Units.
    pub fn system(&self) -> System {
        self.system
    }

    /// The sentence of a message.
    ///
    /// A key that this language has no sentence for is shown as the key with its values, so that
    /// nothing is lost; a test keeps that from happening for keys that the engine uses.
    pub fn message(&self, message: &Message) -> String {
        match self.language.text(&message.key) {
            Some(template) => capital(self.fill(template, message), template),
            None => self.without_sentence(message),
        }
    }

    /// What an input of a working is: losses of one kind stand there together, and may have another name for that.
    fn input(&self, what: &Message) -> String {
        match self.language.text(&format!("input.{}", what.key)) {
            Some(template) => self.fill(template, what),
            None => self.message(what),
        }
    }

    /// A word of ours by key; the key itself where there is none.
    pub fn word(&self, key: &str) -> String {
        self.settled(self.text(key))
    }

    /// A word of ours by key; none where there is none.
    pub fn known(&self, key: &str) -> Option<String> {
        self.language.text(key).map(|text| self.settled(text))
    }

    /// A text without values, its own figures in the units that are spoken.
    fn settled(&self, text: &str) -> String {
        let mut parts = text.split("{|");
        let first = parts.next().unwrap_or_default().to_owned();
        parts.fold(first, |told, part| {
            let (both, after) = part.split_once('}').unwrap_or((part, ""));
            told + self.in_units(both) + after
        })
    }

    /// The text of a key; the key itself where there is none.
    fn text<'a>(&'a self, key: &'a str) -> &'a str {
        self.language.text(key).unwrap_or(key)
    }

    /// Fills a template; a part in `[ ]` is left out when one of its values is missing.
    fn fill(&self, template: &str, message: &Message) -> String {
        let mut text = String::with_capacity(template.len() * 2);
        let mut rest = template;
        while let Some((before, after)) = rest.split_once('[') {
            let (part, after) = after.split_once(']').unwrap_or((after, ""));
            add(&mut text, &self.filled(before, message).0);
            if let (part, true) = self.filled(part, message) {
                add(&mut text, &part);
            }
            rest = after;
        }
        add(&mut text, &self.filled(rest, message).0);
        text
    }

    /// A template without optional parts, and whether every value of it was there.
    fn filled(&self, template: &str, message: &Message) -> (String, bool) {
        let mut text = String::with_capacity(template.len() * 2);
        let mut whole = true;
        let mut rest = template;
        while let Some((before, after)) = rest.split_once('{') {
            add(&mut text, before);
            let (slot, after) = after.split_once('}').unwrap_or((after, ""));
            let (slot, forms) = slot.split_once('|').unwrap_or((slot, ""));
            if slot.is_empty() {
                text.push_str(self.in_units(forms));
                rest = after;
                continue;
            }
            let (name, how) = slot.split_once(':').unwrap_or((slot, ""));
            let value = message.values.get(name);
            whole &= value.is_some_and(|value| *value != Value::Name(String::new()));
            match value {
                Some(value) => text.push_str(&self.in_form(forms, value, self.value(value, how))),
                None => text.push('?'),
            }
            rest = after;
        }
        add(&mut text, rest);
        (text, whole)
    }

    /// Of `30 m|100 ft` what stands in the units that are spoken.
    fn in_units<'a>(&self, both: &'a str) -> &'a str {
        let (metric, us) = both.split_once('|').unwrap_or((both, both));
        match self.system {
            System::Metric => metric,
            System::Us => us,
        }
    }

    fn value(&self, value: &Value, how: &str) -> String {
        match (value, how) {
            (Value::Figure(figure), "likely") => self.likely(*figure),
            (Value::Figure(figure), "range") => self.range(*figure),
            (Value::Figure(figure), _) => self.figure(*figure),
            (Value::Word(key), _) => self.word(key),
            (Value::Name(text) | Value::Reference(text), _) => text.clone(),
            (Value::List(texts), _) => texts.join(", "),
        }
    }

    /// `2 elbows`: a value that was told, in the form of `# elbow|# elbows` that its number takes. What is not one
    /// whole number takes the last form. Of a list, what stands between two of it.
    fn in_form(&self, forms: &str, value: &Value, told: String) -> String {
        if forms.is_empty() {
            return told;
        }
        if let Value::List(texts) = value {
            return texts.join(forms);
        }
        let number = match value {
            Value::Figure(Figure::Count(count)) if count.is_exact() => {
                Some(count.likely.round() as u64)
            }
            _ => None,
        };
        let forms: Vec<&str> = forms.split('|').collect();
        self.language
            .form(&forms, number)
            .map_or_else(|| told.clone(), |form| form.replace('#', &told))
    }

    fn without_sentence(&self, message: &Message) -> String {
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

/// What is told of a file stands behind `error:` or at a caret, so that it begins small.
impl Speak for Speaker {
    fn say(&self, message: &Message) -> String {
        match self.language.text(&message.key) {
            Some(template) => self.fill(template, message),
            None => self.without_sentence(message),
        }
    }
}

/// Sets a piece behind a text. Behind what ends with a full stop, as `0.1 in. w.c.` does, the sentence needs none of its own.
fn add(text: &mut String, piece: &str) {
    let is_stopped = text.ends_with('.') && !piece.starts_with("..");
    text.push_str(if is_stopped { piece.strip_prefix('.').unwrap_or(piece) } else { piece });
}

/// A sentence that starts with a name starts with a capital, however the name is written.
fn capital(text: String, template: &str) -> String {
    let mut rest = text.chars();
    match rest.next() {
        Some(first) if template.starts_with('{') => first.to_uppercase().chain(rest).collect(),
        _ => text,
    }
}

#[cfg(all(test, feature = "built-in"))]
mod tests {
    use dewpath_message::Text;
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
    fn a_text_is_the_name_that_it_is_or_the_sentence_that_it_says() {
        let speaker = Speaker::us();
        assert_eq!(Text::from("ASTM E1998").told(&speaker), "ASTM E1998");
        let why = Text::said(Message::new("judgement.bare-to-jacket"));
        let source = dewpath_report::Source::judgement(why);
        assert_eq!(source.book.to_string(), "source.judgement", "not put into words yet");
        assert_eq!(source.book.told(&speaker), "judgement: from bare duct to a jacket of R-8");
        let own = dewpath_report::Source::judgement("measured on a mock-up");
        assert_eq!(own.book.told(&speaker), "judgement: measured on a mock-up");
        let moved =
            Text::said(Message::new("folder.not-right").name("file", "a.toml").name("why", "x"));
        assert_eq!(moved.told(&speaker), "a.toml: x", "a part of a line begins as it is written");
    }

    #[test]
    fn a_sentence_that_ends_with_a_unit_has_one_full_stop() {
        let loss = Figure::PressurePa(Triple::exact(62.27));
        let way = Message::new("route.opens.space").name("id", "duct").name("way", "the attic");
        let told = Speaker::us().message(&way.figure("loss", loss));
        assert_eq!(told, "A duct would open a way to the attic, at 0.250 in. w.c.");
        let table = Message::new("duct.length.table.no-rating").figure("pressure", loss);
        let told = Speaker::us().message(&table);
        assert!(told.ends_with("at 0.250 in. w.c., which is not known."), "{told}");
    }

    #[test]
    fn a_list_of_which_the_first_is_missing_has_no_stray_comma() {
        let metres = |m| Figure::LengthM(Triple::exact(m));
        let count = Figure::Count(Triple::exact(1.0));
        let around = Message::new("terminal.clearances").figure("count", count);
        let told = Speaker::metric().message(&around.figure("intake", metres(3.0)));
        let wanted = "Around the outlet 1 distance that the book asks for is not measured. To a mechanical air intake: 3.00 m.";
        assert_eq!(told, wanted);
    }

    #[test]
    fn a_figure_that_stands_in_a_text_is_told_in_the_units_of_the_reader() {
        let warm = Message::new("judgement.shower-warmth");
        assert_eq!(Speaker::metric().message(&warm), "showers of 38 to 42 °C");
        assert_eq!(Speaker::us().message(&warm), "showers of 100 to 108 °F");
        assert_eq!(Speaker::us().word("judgement.shower-warmth"), "showers of 100 to 108 °F");
    }

    #[test]
    fn a_key_without_a_sentence_loses_nothing() {
        let message = Message::new("of.nobody").name("room", "attic");
        assert_eq!(Speaker::us().message(&message), "of.nobody (room: attic)");
    }
}
