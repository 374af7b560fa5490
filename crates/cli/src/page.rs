//! A page of text: lines that are wrapped, indented and painted.
//!
//! A number is never parted from its unit, nor a name at its hyphens.

use std::fmt::Write as _;

use anstyle::Style;

const HEADING: Style = Style::new().bold();
const QUIET: Style = Style::new().dimmed();

/// Narrowest and widest that text is set; longer lines are hard to read.
const NARROWEST: usize = 40;
const WIDEST: usize = 100;

/// Keeps words together while lines are broken; never printed.
const GLUE: char = '\u{a0}';

/// Text that grows downwards.
#[derive(Debug)]
pub(crate) struct Page {
    text: String,
    width: usize,
}

impl Page {
    pub(crate) fn new(width: usize) -> Self {
        Self { text: String::new(), width: width.clamp(NARROWEST, WIDEST) }
    }

    pub(crate) fn into_text(self) -> String {
        self.text
    }

    pub(crate) fn width(&self) -> usize {
        self.width
    }

    pub(crate) fn blank(&mut self) {
        self.line("");
    }

    pub(crate) fn line(&mut self, text: &str) {
        // Writing into a String cannot fail.
        let _ = writeln!(self.text, "{}", text.trim_end());
    }

    pub(crate) fn heading(&mut self, text: &str) {
        self.blank();
        self.strong(text, 0, 2);
    }

    /// Wrapped text; the first line and the rest have their own indents.
    pub(crate) fn wrapped(&mut self, text: &str, first: usize, rest: usize) {
        self.painted(text, first, rest, Style::new());
    }

    /// The same, in bold.
    pub(crate) fn strong(&mut self, text: &str, first: usize, rest: usize) {
        self.painted(text, first, rest, HEADING);
    }

    /// The same, dimmed.
    pub(crate) fn quiet(&mut self, text: &str, first: usize, rest: usize) {
        self.painted(text, first, rest, QUIET);
    }

    /// Wrapped text of at most so many lines; what is too much is cut with a mark.
    pub(crate) fn at_most(&mut self, lines: usize, text: &str, first: usize, rest: usize) {
        let mut whole = Self { text: String::new(), width: self.width };
        whole.wrapped(text, first, rest);
        for (place, line) in whole.text.lines().take(lines).enumerate() {
            let is_cut = place + 1 == lines && whole.text.lines().count() > lines;
            self.line(&if is_cut {
                format!("{} …", line.trim_end_matches([',', ';']))
            } else {
                line.to_owned()
            });
        }
    }

    /// Text beside a lead that stands once, in at most so many lines; the text wraps under itself.
    pub(crate) fn hanging(&mut self, lines: usize, lead: &str, text: &str) {
        let indent = columns(lead);
        let mut beside = Self { text: String::new(), width: self.width };
        beside.at_most(lines, text, indent, indent);
        let spaces = " ".repeat(indent);
        match beside.text.strip_prefix(&spaces) {
            Some(rest) => {
                self.text.push_str(lead);
                self.text.push_str(rest);
            }
            None => self.line(lead),
        }
    }

    /// Puts another page below.
    pub(crate) fn add(&mut self, below: &Self) {
        self.text.push_str(&below.text);
    }

    /// Lines so far.
    pub(crate) fn lines(&self) -> usize {
        self.text.lines().count()
    }

    /// Painted line by line, so that no colour runs into an indent.
    fn painted(&mut self, text: &str, first: usize, rest: usize, style: Style) {
        let glued = glued(text);
        let (first, rest) = (" ".repeat(first), " ".repeat(rest));
        let options = textwrap::Options::new(self.width)
            .initial_indent(&first)
            .subsequent_indent(&rest)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .break_words(false);
        for (place, line) in textwrap::wrap(&glued, options).into_iter().enumerate() {
            let indent = if place == 0 { &first } else { &rest };
            let words = line.strip_prefix(indent.as_str()).unwrap_or(&line).replace(GLUE, " ");
            self.line(&format!("{indent}{}", paint(style, words.trim_end())));
        }
    }
}

/// Columns that a text takes.
pub(crate) fn columns(text: &str) -> usize {
    textwrap::core::display_width(text)
}

pub(crate) fn bold(text: &str) -> String {
    paint(HEADING, text)
}

pub(crate) fn dim(text: &str) -> String {
    paint(QUIET, text)
}

pub(crate) fn paint(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

/// What stays with the number before it.
const UNITS: &[&str] = &[
    "%", "cfm", "L/s", "in", "ft", "Pa", "sone", "W", "min", "h", "mm", "m", "m/s", "ft/min",
    "in²", "ft²", "cm²", "m²", "ft³", "m³", "°F", "°C", "in.",
];

/// Ties every unit to its number: `4 in`, and `9 ft` to its `4 in`.
fn glued(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = "";
    for word in text.split(' ') {
        if !out.is_empty() {
            let unit = word.trim_end_matches(['.', ',', ';', ':', ')', '(']);
            let is_unit = UNITS.contains(&unit) || UNITS.contains(&word);
            let after_number = before
                .trim_start_matches('(')
                .starts_with(|c: char| c.is_ascii_digit() || c == '-')
                && before.ends_with(|c: char| c.is_ascii_digit());
            let of_water = before == "in." && word.starts_with("w.c.");
            out.push(if (is_unit && after_number) || of_water { GLUE } else { ' ' });
        }
        out.push_str(word);
        before = word;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wrapped(text: &str, width: usize) -> String {
        let mut page = Page::new(width);
        page.wrapped(text, 2, 4);
        anstream::adapter::strip_str(&page.into_text()).to_string()
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        let text =
            "The chance that it is enough is 33 %, and 41 cfm at 0.250 in. w.c. leave the room.";
        for width in 40..70 {
            for line in wrapped(text, width).lines() {
                assert!(!line.ends_with(|c: char| c.is_ascii_digit()), "{width}: {line}");
                assert!(!line.trim_start().starts_with("w.c."), "{width}: {line}");
            }
        }
    }

    #[test]
    fn names_are_not_parted_at_hyphens() {
        let text =
            "duct.length.equivalent/attic-run duct.size.outlet/attic-run, duct.velocity/attic-run";
        assert!(wrapped(text, 60).lines().all(|line| !line.ends_with('-')));
    }

    #[test]
    fn nothing_is_lost_or_added() {
        let text = "9 ft 4-1/2 in of duct";
        assert_eq!(wrapped(text, 60), "  9 ft 4-1/2 in of duct\n");
    }
}
