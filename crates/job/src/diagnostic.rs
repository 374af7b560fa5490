//! What is wrong, where, and how to go on; rendered with the line and a caret.

use std::cmp::Ordering;
use std::fmt::{self, Display};
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use dewpath_message::slot::Name;
use dewpath_message::{Keys, Message, Speak};
use dewpath_units::sort;

use crate::say;

/// Most diagnostics that are kept; the rest is counted.
const MOST_KEPT: usize = 100;
/// Longest line that is shown with a caret, in bytes.
const LONGEST_LINE_SHOWN: usize = 4000;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file can be used, but somebody should look.
    Warning,
}

/// One thing that is wrong in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic {
    /// Error or warning.
    pub severity: Severity,
    /// Which value, as a path such as `run.attic.length`; empty for the whole file.
    pub path: String,
    /// Bytes of the text that are meant.
    pub span: Range<usize>,
    /// What is wrong, in one sentence.
    pub message: Message,
    /// Short text at the caret.
    pub label: Option<Message>,
    /// Ways out.
    pub help: Vec<Message>,
    /// A second place that explains the first, with a short text.
    pub also: Option<(Range<usize>, Message)>,
}

impl Diagnostic {
    pub(crate) fn error(path: &str, span: Range<usize>, message: impl Into<Message>) -> Self {
        Self {
            severity: Severity::Error,
            path: path.to_owned(),
            span,
            message: message.into(),
            label: None,
            help: Vec::new(),
            also: None,
        }
    }

    pub(crate) fn warning(path: &str, span: Range<usize>, message: impl Into<Message>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(path, span, message) }
    }

    pub(crate) fn label(mut self, label: impl Into<Message>) -> Self {
        self.label = Some(label.into());
        self
    }

    pub(crate) fn help(mut self, help: impl Into<Message>) -> Self {
        self.help.push(help.into());
        self
    }

    pub(crate) fn also(mut self, span: Range<usize>, label: impl Into<Message>) -> Self {
        self.also = Some((span, label.into()));
        self
    }
}

/// Everything that is wrong in one file, with the text it is wrong in.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostics {
    /// Name of the file, as shown.
    pub file: String,
    /// Text of the file.
    pub text: String,
    /// In the order of the file, errors and warnings together.
    pub list: Vec<Diagnostic>,
    /// How many more there were that are not kept.
    pub more: usize,
}

impl Diagnostics {
    pub(crate) fn new(file: &str, text: &str, mut list: Vec<Diagnostic>) -> Self {
        sort::by(&mut list, |a, b| {
            let places = (a.span.start, &a.path).cmp(&(b.span.start, &b.path));
            places.then_with(|| a.message.partial_cmp(&b.message).unwrap_or(Ordering::Equal))
        });
        // Errors must not be crowded out by warnings that stand further up.
        if list.len() > MOST_KEPT {
            sort::by_key(&mut list, |d| d.severity);
        }
        let more = list.len().saturating_sub(MOST_KEPT);
        list.truncate(MOST_KEPT);
        Self { file: file.to_owned(), text: text.to_owned(), list, more }
    }

    /// Whether one of them is an error.
    pub fn has_errors(&self) -> bool {
        self.list.iter().any(|d| d.severity == Severity::Error)
    }

    /// Whether there is nothing to tell.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The whole as text for a terminal of `width` columns, in the language of `speaker`, with or without colour.
    pub fn render(&self, speaker: &dyn Speak, width: usize, color: bool) -> String {
        let renderer = if color { Renderer::styled() } else { Renderer::plain() };
        let renderer = renderer.term_width(width.max(40)).decor_style(DecorStyle::Ascii);
        let mut out = String::new();
        for diagnostic in &self.list {
            out.push_str(&self.render_one(speaker, &renderer, diagnostic));
            out.push_str("\n\n");
        }
        if self.more > 0 {
            let more = say::More { count: say::count(self.more), file: Name::new(&self.file) };
            out.push_str(&speaker.say(&more.into()));
            out.push('\n');
        }
        out
    }

    fn render_one(
        &self,
        speaker: &dyn Speak,
        renderer: &Renderer,
        diagnostic: &Diagnostic,
    ) -> String {
        let named =
            |level: Level<'static>, head: say::Head| level.with_name(speaker.say(&head.into()));
        let level = match diagnostic.severity {
            Severity::Error => named(Level::ERROR, say::Head::Error),
            Severity::Warning => named(Level::WARNING, say::Head::Warning),
        };
        let title = level.primary_title(speaker.say(&diagnostic.message));
        let mut group: Group<'_> = match self.snippet(speaker, diagnostic) {
            Some(snippet) => title.element(snippet),
            None => title.element(self.origin(diagnostic)),
        };
        if let Some((span, label)) = &diagnostic.also
            && let Some(other) = self.window(span, span)
        {
            let annotation =
                AnnotationKind::Context.span(other.shift(span)).label(speaker.say(label));
            group = group.element(other.snippet.path(self.file.as_str()).annotation(annotation));
        }
        for help in &diagnostic.help {
            group = group.element(named(Level::HELP, say::Head::Help).message(speaker.say(help)));
        }
        renderer.render(&[group])
    }

    fn snippet(
        &self,
        speaker: &dyn Speak,
        diagnostic: &Diagnostic,
    ) -> Option<Snippet<'_, annotate_snippets::Annotation<'_>>> {
        let window = self.window(&diagnostic.span, &diagnostic.span)?;
        let span = window.shift(&diagnostic.span);
        let mut annotation = AnnotationKind::Primary.span(span);
        if let Some(label) = &diagnostic.label {
            annotation = annotation.label(speaker.say(label));
        }
        Some(window.snippet.path(self.file.as_str()).annotation(annotation))
    }

    fn origin(&self, diagnostic: &Diagnostic) -> Origin<'_> {
        let (line, column) = self.line_and_column(diagnostic.span.start);
        Origin::path(self.file.as_str()).line(line).char_column(column)
    }

    /// Line and column of a byte, both from 1.
    pub fn line_and_column(&self, at: usize) -> (usize, usize) {
        let line = line_of(&self.text, at);
        let number = 1 + self.text.get(..line.start).unwrap_or_default().matches('\n').count();
        let column = self.text.get(line.start..at).map_or(1, |s| s.chars().count() + 1);
        (number, column)
    }

    /// The lines around a span. A large file is never handed to the renderer as a whole: it would
    /// walk through all of it for each diagnostic.
    fn window(&self, first: &Range<usize>, last: &Range<usize>) -> Option<Window<'_>> {
        let start = line_of(&self.text, first.start).start;
        let end = line_of(&self.text, last.end.max(first.start)).end;
        // A section that spans many lines is shown by its first line.
        let end = if end - start > LONGEST_LINE_SHOWN {
            line_of(&self.text, first.start).end
        } else {
            end
        };
        if end - start > LONGEST_LINE_SHOWN {
            return None;
        }
        let source = self.text.get(start..end)?;
        let line = self.line_and_column(start).0;
        Some(Window {
            snippet: Snippet::source(source).line_start(line).fold(false),
            source,
            start,
        })
    }
}

struct Window<'a> {
    snippet: Snippet<'a, annotate_snippets::Annotation<'a>>,
    source: &'a str,
    start: usize,
}

impl Window<'_> {
    /// A span of the text as a span of the window, on character boundaries.
    fn shift(&self, span: &Range<usize>) -> Range<usize> {
        let inside = |at: usize| {
            let mut at = at.saturating_sub(self.start).min(self.source.len());
            while !self.source.is_char_boundary(at) {
                at -= 1;
            }
            at
        };
        let (start, end) = (inside(span.start), inside(span.end));
        start..end.max(start)
    }
}

/// For developers: keys with their values at their places; people are told in a language.
impl Display for Diagnostics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(&Keys, 100, false))
    }
}

impl std::error::Error for Diagnostics {}

/// Bytes of the line that `at` stands in, without its end.
pub(crate) fn line_of(text: &str, at: usize) -> Range<usize> {
    let bytes = text.as_bytes();
    let at = at.min(bytes.len());
    let start = bytes[..at].iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    let end = bytes[at..].iter().position(|&b| b == b'\n').map_or(bytes.len(), |i| at + i);
    start..end
}
