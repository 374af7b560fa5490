//! From a written quantity to a number in the stored unit.
//!
//! The scanner is hand-written rather than built from parser combinators: what matters here is which
//! bytes an error points at and what it proposes, and every branch of the grammar has its own hint.

use std::ops::Range;

use crate::error::{ErrorKind, ParseError};
use crate::gauge;
use crate::kind::Kind;
use crate::number::{self, Cursor, Number};
use crate::unit::{self, Scale, Unit};

/// Longer texts are refused before they are looked at.
pub(crate) const MAX_LENGTH: usize = 200;

/// Beyond this, in any stored unit, a value is a slip of the finger.
const LARGEST: f64 = 1e15;

/// A number with its unit; the unit may be missing.
#[derive(Clone, Debug)]
pub(crate) struct Term {
    pub(crate) number: Number,
    pub(crate) unit: Option<&'static Unit>,
}

/// A quantity as written, before its numbers are put together.
#[derive(Clone, Debug)]
pub(crate) struct Reading {
    pub(crate) is_negative: bool,
    pub(crate) terms: Vec<Term>,
    pub(crate) span: Range<usize>,
}

impl Reading {
    /// The unit of a reading of one number, which a neighbour without unit may share.
    pub(crate) fn single_unit(&self) -> Option<&'static Unit> {
        match self.terms.as_slice() {
            [only] => only.unit,
            _ => None,
        }
    }

    pub(crate) fn is_bare(&self) -> bool {
        matches!(self.terms.as_slice(), [Term { unit: None, .. }])
    }

    pub(crate) fn with_unit(mut self, unit: &'static Unit) -> Self {
        if let [only] = self.terms.as_mut_slice() {
            only.unit = Some(unit);
        }
        self
    }
}

/// Whether a thermometer reading or a number of degrees is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Meaning {
    Value,
    Difference,
}

/// Reads one whole text as a value of `kind`.
pub(crate) fn value(text: &str, kind: Kind) -> Result<f64, ParseError> {
    let span = trimmed(text, kind)?;
    let reading = reading(text, span, kind)?;
    stored(&reading, kind, Meaning::Value)
}

/// The part of the text without blanks around it; refuses what is empty or endless.
pub(crate) fn trimmed(text: &str, kind: Kind) -> Result<Range<usize>, ParseError> {
    let hint = || format!("write {} such as `{}`", kind.article_name(), kind.example());
    bounded(text, &format!("{} is missing", kind.article_name()), hint)
}

pub(crate) fn bounded(
    text: &str,
    missing: &str,
    hint: impl Fn() -> String,
) -> Result<Range<usize>, ParseError> {
    if text.len() > MAX_LENGTH {
        return Err(ParseError::new(
            ErrorKind::TooLong,
            0..text.chars().next().map_or(0, char::len_utf8),
            format!("this text is {} bytes long, more than any quantity needs", text.len()),
            hint(),
        ));
    }
    let from = text.len() - text.trim_start().len();
    let to = text.trim_end().len();
    if from >= to {
        return Err(ParseError::new(ErrorKind::Empty, 0..text.len(), missing, hint()));
    }
    Ok(from..to)
}

/// Reads the bytes `span` of `text`; on a stray unit, says which kind it belongs to.
pub(crate) fn reading(text: &str, span: Range<usize>, kind: Kind) -> Result<Reading, ParseError> {
    scan(text, span.clone(), kind).map_err(|error| {
        let may_be_other = matches!(
            error.kind,
            ErrorKind::UnknownUnit
                | ErrorKind::Trailing
                | ErrorKind::MissingUnit
                | ErrorKind::NoNumber
        );
        match other_kind(text, span.clone(), kind).filter(|_| may_be_other) {
            Some(found) => wrong_kind(text, span, found, kind),
            None => error,
        }
    })
}

/// The other kind as which the whole text reads well, with a unit on every number.
fn other_kind(text: &str, span: Range<usize>, expected: Kind) -> Option<Kind> {
    Kind::ALL.into_iter().filter(|&kind| kind != expected).find(|&kind| {
        scan(text, span.clone(), kind)
            .is_ok_and(|reading| reading.terms.iter().all(|term| term.unit.is_some()))
    })
}

fn wrong_kind(text: &str, span: Range<usize>, found: Kind, expected: Kind) -> ParseError {
    let written = &text[span.clone()];
    ParseError::new(
        ErrorKind::WrongKind,
        span,
        format!(
            "`{written}` is {}, but {} is expected here",
            found.article_name(),
            expected.article_name()
        ),
        format!("write {} such as `{}`", expected.article_name(), expected.example()),
    )
}

fn scan(text: &str, span: Range<usize>, kind: Kind) -> Result<Reading, ParseError> {
    let mut cursor = Cursor { text: &text[..span.end], at: span.start };
    let is_negative = sign(&mut cursor);
    let first = match leading_unit(&mut cursor, kind) {
        Some(unit) => Term { number: number::read(&mut cursor)?, unit: Some(unit) },
        None => term(&mut cursor, kind)?,
    };
    let mut terms = vec![first];
    while let Some(then) = terms.last().and_then(|term| term.unit?.then) {
        let Some(next) = following_term(&mut cursor, kind, then.0)? else { break };
        let previous = &terms[terms.len() - 1];
        fits_together(previous, &next, then, kind, cursor.at)?;
        terms.push(next);
    }
    cursor.skip_blanks();
    if cursor.at_end() {
        return Ok(Reading { is_negative, terms, span });
    }
    Err(trailing(cursor, kind))
}

fn sign(cursor: &mut Cursor<'_>) -> bool {
    let is_negative = number::is_hyphen(cursor.peek());
    if is_negative || cursor.peek() == Some('+') {
        cursor.step();
        cursor.skip_blanks();
    }
    is_negative
}

/// `R-8`, `RSI 1.4`, `AWG 14`: the unit before the number, with a hyphen or a blank or nothing between.
fn leading_unit(cursor: &mut Cursor<'_>, kind: Kind) -> Option<&'static Unit> {
    let (unit, end) = unit::starting_at(cursor.text, cursor.at, kind).filter(|(u, _)| u.leads)?;
    let mut ahead = Cursor { at: end, ..*cursor };
    ahead.skip_blanks();
    if number::is_hyphen(ahead.peek()) {
        ahead.step();
        ahead.skip_blanks();
    }
    if !ahead.is_at_number() {
        return None;
    }
    *cursor = ahead;
    Some(unit)
}

fn term(cursor: &mut Cursor<'_>, kind: Kind) -> Result<Term, ParseError> {
    let number = number::read(cursor).map_err(|error| with_example(error, kind))?;
    let mut ahead = *cursor;
    ahead.skip_blanks();
    if ahead.at_end() {
        return Ok(Term { number, unit: None });
    }
    match unit::starting_at(ahead.text, ahead.at, kind) {
        Some((unit, end)) => {
            cursor.at = end;
            Ok(Term { number, unit: Some(unit) })
        }
        None => Err(unknown_unit(ahead, kind)),
    }
}

/// The inches after the feet, if any: `9 ft 4 in`, `9'-4"`, `9 ft, 4 in`. Last of all they may go without their unit, as one says
/// them (`9 ft 4`, `9'4`), but not behind a hyphen or a comma, where another number could be meant, nor in `54 ft2`.
fn following_term(
    cursor: &mut Cursor<'_>,
    kind: Kind,
    symbol: &str,
) -> Result<Option<Term>, ParseError> {
    let mut ahead = *cursor;
    ahead.skip_blanks();
    let is_parted = number::is_hyphen(ahead.peek()) || ahead.peek() == Some(',');
    if is_parted {
        ahead.step();
        ahead.skip_blanks();
    }
    if !ahead.is_at_number() {
        return Ok(None);
    }
    let is_power = ahead.text[..ahead.at].ends_with(char::is_alphabetic);
    let mut next = term(&mut ahead, kind)?;
    if !(is_parted || is_power) {
        next.unit = next.unit.or_else(|| unit::symbol(kind, symbol));
    }
    *cursor = ahead;
    Ok(Some(next))
}

fn fits_together(
    large: &Term,
    small: &Term,
    (symbol, count): (&str, f64),
    kind: Kind,
    end: usize,
) -> Result<(), ParseError> {
    let span = small.number.span.start..end;
    let Some(unit) = small.unit else {
        return Err(ParseError::new(
            ErrorKind::MissingUnit,
            small.number.span.clone(),
            "this number has no unit",
            format!("write its unit behind it, as in `{}`", kind.example()),
        ));
    };
    if unit.symbol != symbol {
        return Err(ParseError::new(
            ErrorKind::BadCompound,
            span,
            format!("only `{symbol}` can follow here, not `{}`", unit.symbol),
            format!(
                "write one unit, or the two as in `{}`; for a range write two dots between its ends",
                kind.example()
            ),
        ));
    }
    if !large.number.is_whole() {
        return Err(ParseError::new(
            ErrorKind::BadCompound,
            large.number.span.clone(),
            "the first of two numbers must be whole",
            format!("write `9 {0} 6 {symbol}` or `9.5 {0}`", large.unit.map_or("", |u| u.symbol)),
        ));
    }
    if small.number.value >= count {
        return Err(ParseError::new(
            ErrorKind::BadCompound,
            span,
            format!("{count} {symbol} or more after {}", large.unit.map_or("", |u| u.symbol)),
            format!("write fewer than {count} {symbol} here, or everything in {symbol}"),
        ));
    }
    Ok(())
}

fn with_example(mut error: ParseError, kind: Kind) -> ParseError {
    if error.kind == ErrorKind::NoNumber {
        error.hint = format!("write {} such as `{}`", kind.article_name(), kind.example());
    }
    error
}

fn range_hint(cursor: Cursor<'_>) -> Option<String> {
    let mut ahead = cursor;
    if !number::is_hyphen(ahead.peek()) {
        return None;
    }
    ahead.step();
    ahead.skip_blanks();
    ahead.is_at_number().then(|| "for a range write two dots, as in `8..10 ft`".to_owned())
}

fn unknown_unit(cursor: Cursor<'_>, kind: Kind) -> ParseError {
    let span = number::word(cursor);
    let written = &cursor.text[span.clone()];
    let hint = range_hint(cursor).unwrap_or_else(|| {
        format!("write one of {}, as in `{}`", unit::symbols(kind), kind.example())
    });
    ParseError::new(
        ErrorKind::UnknownUnit,
        span,
        format!("`{written}` is no unit of {}", kind.article_name()),
        hint,
    )
}

fn trailing(cursor: Cursor<'_>, kind: Kind) -> ParseError {
    let span = cursor.at..cursor.text.len();
    let written = cursor.rest();
    let hint = range_hint(cursor)
        .unwrap_or_else(|| format!("write {} such as `{}`", kind.article_name(), kind.example()));
    ParseError::new(
        ErrorKind::Trailing,
        span,
        format!("`{written}` is left over behind {}", kind.article_name()),
        hint,
    )
}

/// Puts the numbers of a reading together in the stored unit.
pub(crate) fn stored(reading: &Reading, kind: Kind, meaning: Meaning) -> Result<f64, ParseError> {
    let mut total = 0.0;
    for term in &reading.terms {
        total += match term.unit {
            Some(unit) => scaled(reading, &term.number, unit, meaning)?,
            None if kind == Kind::Ratio => plain(&term.number)?,
            None => return Err(missing_unit(reading, kind)),
        };
    }
    let is_scale = matches!(
        reading.single_unit().map(|unit| unit.scale),
        Some(Scale::Shifted { .. } | Scale::Gauge)
    );
    if reading.is_negative && !is_scale {
        total = -total;
    }
    in_bounds(total, reading, kind)
}

fn missing_unit(reading: &Reading, kind: Kind) -> ParseError {
    ParseError::new(
        ErrorKind::MissingUnit,
        reading.span.clone(),
        "this number has no unit",
        format!("write {} with its unit, such as `{}`", kind.article_name(), kind.example()),
    )
}

fn plain(number: &Number) -> Result<f64, ParseError> {
    if number.aught.is_none() {
        return Ok(number.value);
    }
    Err(ParseError::new(
        ErrorKind::BadNumber,
        number.span.clone(),
        "a fraction over 0 is no number",
        "write a denominator such as 2, 4, 8 or 16",
    ))
}

fn scaled(
    reading: &Reading,
    number: &Number,
    unit: &Unit,
    meaning: Meaning,
) -> Result<f64, ParseError> {
    match unit.scale {
        Scale::By(factor) => Ok(plain(number)? * factor),
        Scale::Shifted { by, plus } => {
            let degrees = plain(number)?;
            let degrees = if reading.is_negative { -degrees } else { degrees };
            Ok(if meaning == Meaning::Value { degrees * by + plus } else { degrees * by })
        }
        Scale::Gauge => wire_gauge(reading, number),
    }
}

fn wire_gauge(reading: &Reading, number: &Number) -> Result<f64, ParseError> {
    let written = match number.aught {
        Some(count @ 1..=4) => Some(1.0 - f64::from(count)),
        Some(_) => None,
        None => {
            Some(number.value).filter(|n| n.fract() == 0.0 && !reading.is_negative && *n <= 40.0)
        }
    };
    written.and_then(|n| gauge::section_mm2(n as i32)).ok_or_else(|| {
        ParseError::new(
            ErrorKind::OutOfRange,
            reading.span.clone(),
            "there is no such wire gauge",
            "write a whole gauge from `4/0 AWG` to `40 AWG`, or the section as in `2.5 mm2`",
        )
    })
}

fn in_bounds(value: f64, reading: &Reading, kind: Kind) -> Result<f64, ParseError> {
    if !value.is_finite() || value.abs() > LARGEST {
        return Err(ParseError::new(
            ErrorKind::TooLarge,
            reading.span.clone(),
            format!("{} this large cannot be meant", kind.article_name()),
            "check its digits and its unit",
        ));
    }
    if kind.floor().is_some_and(|floor| value < floor) {
        let limit = if kind == Kind::Temperature { "below absolute zero" } else { "negative" };
        return Err(ParseError::new(
            ErrorKind::OutOfRange,
            reading.span.clone(),
            format!("{} cannot be {limit}", kind.article_name()),
            format!("write a value such as `{}`", kind.example()),
        ));
    }
    if kind.ceiling().is_some_and(|ceiling| value > ceiling) {
        return Err(ParseError::new(
            ErrorKind::OutOfRange,
            reading.span.clone(),
            format!("{} cannot be above 100 %", kind.article_name()),
            format!("write a value such as `{}`", kind.example()),
        ));
    }
    Ok(value)
}
