//! Numbers as people write them: `9`, `9.5`, `1,250`, `4-1/2`, `4 1/2`, `3/8`, `4½`, `1e3`.

use std::ops::Range;

use crate::error::{ErrorKind, ParseError};
use crate::unit::fold;

/// A number, both as the nearest `f64` and, when it is small enough, exactly.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Number {
    pub(crate) value: f64,
    /// Numerator and denominator; `None` when they do not fit.
    pub(crate) exact: Option<(i128, i128)>,
    /// The numerator of `n/0`, which only the wire gauge gives a meaning.
    pub(crate) aught: Option<u32>,
    pub(crate) span: Range<usize>,
}

impl Number {
    pub(crate) fn is_whole(&self) -> bool {
        self.exact.is_some_and(|(numerator, denominator)| numerator % denominator == 0)
    }
}

/// A place in a text. Moves by whole characters only.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cursor<'a> {
    pub(crate) text: &'a str,
    pub(crate) at: usize,
}

impl<'a> Cursor<'a> {
    pub(crate) fn rest(self) -> &'a str {
        &self.text[self.at..]
    }

    pub(crate) fn peek(self) -> Option<char> {
        self.rest().chars().next()
    }

    fn peek_second(self) -> Option<char> {
        self.rest().chars().nth(1)
    }

    pub(crate) fn step(&mut self) {
        self.at += self.peek().map_or(0, char::len_utf8);
    }

    pub(crate) fn skip_blanks(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.step();
        }
    }

    pub(crate) fn at_end(self) -> bool {
        self.at >= self.text.len()
    }

    /// Whether a number starts here; a dot counts only before a digit.
    pub(crate) fn is_at_number(self) -> bool {
        match self.peek() {
            Some('.') => self.peek_second().is_some_and(|c| c.is_ascii_digit()),
            Some(c) => c.is_ascii_digit() || vulgar(c).is_some(),
            None => false,
        }
    }

    fn digits(&mut self) -> &'a str {
        let from = self.at;
        while self.peek().is_some_and(|c| c.is_ascii_digit()) {
            self.step();
        }
        &self.text[from..self.at]
    }
}

/// Reads a number without sign and leaves the cursor behind it.
pub(crate) fn read(cursor: &mut Cursor<'_>) -> Result<Number, ParseError> {
    let from = cursor.at;
    if let Some((numerator, denominator)) = cursor.peek().and_then(vulgar) {
        cursor.step();
        return Ok(from_fraction(0, numerator, denominator, from..cursor.at));
    }
    let whole = grouped_digits(cursor)?;
    let decimals = decimals(cursor);
    if whole.is_empty() && decimals.is_none() {
        return Err(ParseError::new(
            ErrorKind::NoNumber,
            word(*cursor),
            "a number is missing here",
            "begin with a number",
        ));
    }
    if let Some(decimals) = decimals {
        let exponent = exponent(cursor);
        return from_decimal(&whole, decimals, exponent, from..cursor.at);
    }
    if let Some(exponent) = exponent(cursor) {
        return from_decimal(&whole, "", Some(exponent), from..cursor.at);
    }
    if let Some(denominator) = denominator(cursor) {
        return simple_fraction(&whole, denominator, from..cursor.at);
    }
    match following_fraction(cursor) {
        Some((numerator, denominator)) => mixed(&whole, &numerator, &denominator, from..cursor.at),
        None => from_decimal(&whole, "", None, from..cursor.at),
    }
}

/// Digits, with the commas of US thousands taken out.
fn grouped_digits(cursor: &mut Cursor<'_>) -> Result<String, ParseError> {
    let from = cursor.at;
    let mut digits = String::from(cursor.digits());
    let mut groups_are_good = (1..=3).contains(&digits.len()) && !digits.starts_with('0');
    let mut comma_count = 0;
    while !digits.is_empty()
        && cursor.peek() == Some(',')
        && cursor.peek_second().is_some_and(|c| c.is_ascii_digit())
    {
        cursor.step();
        let group = cursor.digits();
        groups_are_good &= group.len() == 3;
        comma_count += 1;
        digits.push_str(group);
    }
    if comma_count == 0 || groups_are_good {
        return Ok(digits);
    }
    let span = from..cursor.at;
    let written = &cursor.text[span.clone()];
    Err(if comma_count == 1 {
        ParseError::new(
            ErrorKind::DecimalComma,
            span,
            format!("the comma in `{written}` can be read in two ways"),
            format!(
                "write decimals with a point, as in `{}`; commas are read as thousands, as in `1,250`",
                written.replace(',', ".")
            ),
        )
    } else {
        ParseError::new(
            ErrorKind::BadNumber,
            span,
            format!("the commas in `{written}` do not part thousands"),
            "write three digits after each comma, as in `1,250,000`, or leave the commas out",
        )
    })
}

/// A point and at least one digit; a lone point (or the two of a range) is left alone.
fn decimals<'a>(cursor: &mut Cursor<'a>) -> Option<&'a str> {
    if cursor.peek() == Some('.') && cursor.peek_second().is_some_and(|c| c.is_ascii_digit()) {
        cursor.step();
        return Some(cursor.digits());
    }
    None
}

/// `e3`, `E-3`: only with digits, so that no unit that starts with e is eaten.
fn exponent<'a>(cursor: &mut Cursor<'a>) -> Option<&'a str> {
    let mut ahead = *cursor;
    if !matches!(ahead.peek(), Some('e' | 'E')) {
        return None;
    }
    ahead.step();
    let from = ahead.at;
    if matches!(ahead.peek(), Some('+' | '-')) {
        ahead.step();
    }
    if ahead.digits().is_empty() {
        return None;
    }
    *cursor = ahead;
    Some(&ahead.text[from..ahead.at])
}

/// A slash and digits.
fn denominator<'a>(cursor: &mut Cursor<'a>) -> Option<&'a str> {
    let mut ahead = *cursor;
    if ahead.peek().map(fold) != Some('/') {
        return None;
    }
    ahead.step();
    let digits = ahead.digits();
    if digits.is_empty() {
        return None;
    }
    *cursor = ahead;
    Some(digits)
}

/// The fraction of a mixed number: `-1/2`, ` 1/2`, `½`, ` ½`.
fn following_fraction(cursor: &mut Cursor<'_>) -> Option<(String, String)> {
    let mut ahead = *cursor;
    if is_hyphen(ahead.peek()) {
        ahead.step();
    } else {
        ahead.skip_blanks();
    }
    if let Some((numerator, denominator)) = ahead.peek().and_then(vulgar) {
        ahead.step();
        *cursor = ahead;
        return Some((numerator.to_string(), denominator.to_string()));
    }
    let numerator = ahead.digits();
    let denominator = denominator(&mut ahead)?;
    if numerator.is_empty() {
        return None;
    }
    *cursor = ahead;
    Some((numerator.to_owned(), denominator.to_owned()))
}

/// Hyphen-minus, hyphen, non-breaking hyphen, en dash, minus sign: phones put any of them.
pub(crate) fn is_hyphen(c: Option<char>) -> bool {
    matches!(c, Some('-' | '‐' | '‑' | '–' | '−'))
}

fn simple_fraction(
    numerator: &str,
    denominator: &str,
    span: Range<usize>,
) -> Result<Number, ParseError> {
    let (Ok(numerator), Ok(denominator)) = (numerator.parse::<u32>(), denominator.parse::<u32>())
    else {
        return Err(too_large(span));
    };
    if denominator == 0 {
        return Ok(Number { value: f64::NAN, exact: None, aught: Some(numerator), span });
    }
    Ok(from_fraction(0, numerator, denominator, span))
}

fn mixed(
    whole: &str,
    numerator: &str,
    denominator: &str,
    span: Range<usize>,
) -> Result<Number, ParseError> {
    let (Ok(whole), Ok(numerator), Ok(denominator)) =
        (whole.parse::<u64>(), numerator.parse::<u32>(), denominator.parse::<u32>())
    else {
        return Err(too_large(span));
    };
    if numerator >= denominator {
        return Err(ParseError::new(
            ErrorKind::BadNumber,
            span,
            format!("`{numerator}/{denominator}` after a whole number is not a part of one"),
            "write a fraction below one, as in `4-1/2`",
        ));
    }
    Ok(from_fraction(whole, numerator, denominator, span))
}

fn from_fraction(whole: u64, numerator: u32, denominator: u32, span: Range<usize>) -> Number {
    let over = i128::from(denominator);
    let exact = (i128::from(whole) * over + i128::from(numerator), over);
    let value = whole as f64 + f64::from(numerator) / f64::from(denominator);
    Number { value, exact: Some(exact), aught: None, span }
}

fn from_decimal(
    whole: &str,
    decimals: &str,
    exponent: Option<&str>,
    span: Range<usize>,
) -> Result<Number, ParseError> {
    let text = format!("{whole}.{decimals}0e{}", exponent.unwrap_or("0"));
    let value = format!("0{text}").parse::<f64>().unwrap_or(f64::INFINITY);
    if !value.is_finite() {
        return Err(too_large(span));
    }
    let exact = exact_decimal(whole, decimals, exponent);
    Ok(Number { value, exact, aught: None, span })
}

fn exact_decimal(whole: &str, decimals: &str, exponent: Option<&str>) -> Option<(i128, i128)> {
    let exponent: i32 = exponent.map_or(Some(0), |digits| digits.parse().ok())?;
    let digits: i128 = format!("0{whole}{decimals}").parse().ok()?;
    let shift = exponent.checked_sub(i32::try_from(decimals.len()).ok()?)?;
    let power = 10_i128.checked_pow(shift.unsigned_abs())?;
    if shift >= 0 { Some((digits.checked_mul(power)?, 1)) } else { Some((digits, power)) }
}

fn too_large(span: Range<usize>) -> ParseError {
    ParseError::new(
        ErrorKind::TooLarge,
        span,
        "this number is too large to be meant",
        "check its digits and its exponent",
    )
}

/// From the cursor to the next blank, for pointing; empty at the end.
pub(crate) fn word(cursor: Cursor<'_>) -> Range<usize> {
    let length = cursor.rest().find(char::is_whitespace).unwrap_or(cursor.rest().len());
    cursor.at..cursor.at + length
}

/// Fractions that are one character.
fn vulgar(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}
