//! Texts of a language by key.

use std::collections::BTreeMap;

/// The texts of one language.
///
/// A catalogue is lines of `key = text`. Lines that are empty or start with `#`, and lines that say no key, are passed
/// over; of a key that stands twice the last text counts. In a text, `{name}` is a value, `{name:likely}` a figure without
/// its range, `{name:range}` its range alone, and `{name|# elbow|# elbows}` one of several forms by number, in which `#`
/// is the number, and `{names| and }` a list with what stands between two of it; `{|30 m|100 ft}` is a figure of the text itself, metric and
/// US; what stands in `[ ]` is said only when its values are there.
///
/// ```
/// use dewpath_words::Catalogue;
///
/// let english = Catalogue::read("# Of terminals.\nwall-cap = wall cap\nroof-cap = roof cap\n");
/// let spanish = Catalogue::read("wall-cap = remate de pared\n").over(&english);
/// assert_eq!(spanish.text("wall-cap"), Some("remate de pared"));
/// assert_eq!(spanish.text("roof-cap"), Some("roof cap"));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Catalogue {
    texts: BTreeMap<String, String>,
}

impl Catalogue {
    /// Reads a catalogue.
    pub fn read(text: &str) -> Self {
        let lines = text.lines().filter(|line| !line.starts_with('#'));
        let texts = lines.filter_map(|line| line.split_once('='));
        // A blank that does not break may be what stands between thousands.
        let trimmed = |part: &str| part.trim_matches([' ', '\t', '\r']).to_owned();
        Self { texts: texts.map(|(key, text)| (trimmed(key), trimmed(text))).collect() }
    }

    /// These texts, and those of `base` for the keys that have none here.
    #[must_use]
    pub fn over(mut self, base: &Self) -> Self {
        for (key, text) in &base.texts {
            self.texts.entry(key.clone()).or_insert_with(|| text.clone());
        }
        self
    }

    /// The text of a key.
    pub fn text(&self, key: &str) -> Option<&str> {
        self.texts.get(key).map(String::as_str)
    }

    /// Every key that has a text, in order.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.texts.keys().map(String::as_str)
    }

    /// The form that a number takes of several; the last one for a number with decimals.
    pub(crate) fn form<'a>(&self, forms: &[&'a str], number: Option<u64>) -> Option<&'a str> {
        let rules = self.text("language.forms").unwrap_or_default();
        let nth = number.and_then(|n| rules.split(';').position(|rule| holds(rule, n)));
        nth.and_then(|nth| forms.get(nth)).or(forms.last()).copied()
    }
}

/// Whether a number meets every condition of a rule: `n % 10 = 2..4 and n % 100 != 12..14`, as the plural rules of Unicode
/// CLDR are written.
fn holds(rule: &str, n: u64) -> bool {
    rule.split(" and ").all(|condition| {
        let (left, right) = condition.split_once('=').unwrap_or((condition, ""));
        let (left, is_wanted) =
            left.trim_end().strip_suffix('!').map_or((left, true), |left| (left, false));
        let remainder =
            left.split_once('%').and_then(|(_, by)| n.checked_rem(by.trim().parse().ok()?));
        let value = remainder.unwrap_or(n);
        let is_within = right.split(',').any(|range| {
            let (from, to) = range.split_once("..").unwrap_or((range, range));
            let bound = |text: &str| text.trim().parse::<u64>().ok();
            bound(from).zip(bound(to)).is_some_and(|(from, to)| (from..=to).contains(&value))
        });
        is_within == is_wanted
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_lines_without_a_key_are_passed_over() {
        let read = Catalogue::read("# a = b\n\nnothing\nc = d = e\r\nspace =\u{202f}\n");
        assert_eq!(read.keys().collect::<Vec<_>>(), ["c", "space"]);
        assert_eq!(read.text("c"), Some("d = e"));
        assert_eq!(read.text("space"), Some("\u{202f}"));
    }

    /// Which form each number takes, by the rule of a language.
    fn forms(rule: &str, names: &[&'static str], numbers: &[u64]) -> Vec<&'static str> {
        let language = Catalogue::read(&format!("language.forms = {rule}"));
        numbers.iter().filter_map(|n| language.form(names, Some(*n))).collect()
    }

    #[test]
    fn forms_are_those_of_the_sample_numbers_of_unicode() {
        // Unicode CLDR 44, plural rules: the samples of Spanish, French and Polish.
        assert_eq!(
            forms("n = 1", &["one", "other"], &[0, 1, 2, 16]),
            ["other", "one", "other", "other"]
        );
        assert_eq!(forms("n = 0..1", &["one", "other"], &[0, 1, 2]), ["one", "one", "other"]);
        let polish = "n = 1; n % 10 = 2..4 and n % 100 != 12..14";
        let names = &["one", "few", "many"];
        assert_eq!(
            forms(polish, names, &[1, 2, 4, 22, 24, 102]),
            ["one", "few", "few", "few", "few", "few"]
        );
        assert_eq!(forms(polish, names, &[0, 5, 12, 14, 19, 112]), ["many"; 6]);
    }

    #[test]
    fn a_number_with_decimals_takes_the_last_form() {
        let language = Catalogue::read("language.forms = n = 1");
        assert_eq!(language.form(&["one", "other"], None), Some("other"));
        assert_eq!(language.form(&["alone"], Some(1)), Some("alone"));
    }
}
