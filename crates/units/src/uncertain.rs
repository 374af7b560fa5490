//! Values that are not known exactly: ranges, estimates and unknowns.

use std::fmt;
use std::ops::Range;
use std::str::FromStr;

use crate::chance::{NORMAL_95, normal_quantile};
use crate::error::{ErrorKind, ParseError};
use crate::exact;
use crate::kind::Kind;
use crate::number::{self, Cursor};
use crate::print;
use crate::quantity::Quantity;
use crate::read::{self, Meaning, Reading};
use crate::style::{Style, System};
use crate::unit::Scale;

/// The spread of an estimate that states none, as a share of the value: `about 9 ft` is read as
/// `about 9 ft +- 15 %`. Common practice, no source: what a careful glance is worth.
pub const DEFAULT_SPREAD: f64 = 0.15;

/// A value as well as it is known.
///
/// Written `9 ft`, `8..10 ft` (also `8 ft..10 ft`, `8 ft to 10 ft`), `about 9 ft`, `about 9 ft +- 1 ft`,
/// `about 9 ft +- 10 %` or `unknown`.
///
/// ```
/// use dewpath_units::{Length, Quantity, Style, Uncertain};
///
/// let length: Uncertain<Length> = "8..10 ft".parse()?;
/// assert_eq!(length.print(&Style::US), "8 ft to 10 ft");
/// assert_eq!(length.likely().unwrap().print(&Style::US), "9 ft");
/// assert!("unknown".parse::<Uncertain<Length>>()?.is_unknown());
/// # Ok::<(), dewpath_units::ParseError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum Uncertain<T> {
    /// Known, as far as it matters.
    Exact(T),
    /// Anything between two values is equally likely.
    Range {
        /// The least it can be.
        low: T,
        /// The most it can be.
        high: T,
    },
    /// An estimate.
    About {
        /// The middle of the estimate.
        likely: T,
        /// Half the width that holds it nine times in ten. For a temperature, an interval in kelvins.
        spread: T,
    },
    /// Nothing is known.
    #[default]
    Unknown,
}

impl<T> Uncertain<T> {
    /// Whether nothing is known.
    pub const fn is_unknown(&self) -> bool {
        matches!(self, Self::Unknown)
    }

    /// Whether there is nothing left to find out.
    pub const fn is_exact(&self) -> bool {
        matches!(self, Self::Exact(_))
    }

    /// The value, when it is exact.
    pub fn exact(self) -> Option<T> {
        match self {
            Self::Exact(value) => Some(value),
            _ => None,
        }
    }

    /// Changes every value that is held. Right for scaling and renaming; a curved function would also
    /// change the shape of the distribution, which this does not.
    pub fn map<U>(self, change: impl Fn(T) -> U) -> Uncertain<U> {
        match self {
            Self::Exact(value) => Uncertain::Exact(change(value)),
            Self::Range { low, high } => Uncertain::Range { low: change(low), high: change(high) },
            Self::About { likely, spread } => {
                Uncertain::About { likely: change(likely), spread: change(spread) }
            }
            Self::Unknown => Uncertain::Unknown,
        }
    }

    /// This, or another statement where this one is unknown.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        if self.is_unknown() { other } else { self }
    }
}

impl<T> From<T> for Uncertain<T> {
    fn from(value: T) -> Self {
        Self::Exact(value)
    }
}

impl<T: Quantity> Uncertain<T> {
    /// Lowest and highest value: the ends of a range, the 5th and 95th percentile of an estimate (not
    /// below what can be); `None` when unknown.
    pub fn bounds(self) -> Option<(T, T)> {
        match self {
            Self::Exact(value) => Some((value, value)),
            Self::Range { low, high } => Some((low, high)),
            Self::About { likely, spread } => {
                let (middle, half) = (likely.si(), spread.si().abs());
                Some((possible(middle - half), possible(middle + half)))
            }
            Self::Unknown => None,
        }
    }

    /// The median; `None` when unknown.
    pub fn likely(self) -> Option<T> {
        match self {
            Self::Exact(value) | Self::About { likely: value, .. } => Some(value),
            Self::Range { low, high } => Some(T::from_si(low.si() + 0.5 * (high.si() - low.si()))),
            Self::Unknown => None,
        }
    }

    /// The value below which a share `u` of all draws lies; `None` when unknown or when `u` is NaN.
    ///
    /// A range is uniform. An estimate is normal with its spread as the half-width of the middle 90 %,
    /// cut at what can be (no length below 0, no humidity above 1). `u` is held within 0 and 1.
    pub fn quantile(self, u: f64) -> Option<T> {
        if u.is_nan() {
            return None;
        }
        let u = u.clamp(0.0, 1.0);
        match self {
            Self::Exact(value) => Some(value),
            Self::Range { low, high } => Some(T::from_si(low.si() + u * (high.si() - low.si()))),
            Self::About { likely, spread } => {
                let deviation = spread.si().abs() / NORMAL_95;
                Some(possible(likely.si() + deviation * normal_quantile(u)))
            }
            Self::Unknown => None,
        }
    }

    /// Reads a value, a range, an estimate or `unknown`.
    ///
    /// # Errors
    /// As [`Quantity::parse`]; also for a range written backwards and for an estimate without spread
    /// where 15 % has no meaning (temperatures, angles, sound levels, conductors).
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let span = read::trimmed(text, T::KIND)?;
        if is_unknown_word(&text[span.clone()]) {
            return Ok(Self::Unknown);
        }
        if let Some(start) = after_about(text, &span) {
            return estimate(text, start..span.end);
        }
        if let Some(gap) = range_gap(text, &span) {
            return range(text, span, gap);
        }
        if let Some(gap) = spread_gap(text, &span) {
            return Err(ParseError::new(
                ErrorKind::Trailing,
                gap,
                "a spread belongs to an estimate",
                format!("write `about {}`", &text[span]),
            ));
        }
        let reading = read::reading(text, span, T::KIND).map_err(or_unknown)?;
        let value = read::stored(&reading, T::KIND, Meaning::Value)?;
        Ok(Self::Exact(T::from_si(value)))
    }

    /// Writes it so that it can be read back: `8 ft to 10 ft`, `about 9 ft +- 1 ft`, `unknown`.
    pub fn print(self, style: &Style) -> String {
        match self {
            Self::Exact(value) => value.print(style),
            Self::Range { low, high } => format!("{} to {}", low.print(style), high.print(style)),
            Self::About { likely, spread } => format!(
                "about {} +- {}",
                likely.print(style),
                print::difference(spread.si(), T::KIND, style)
            ),
            Self::Unknown => "unknown".to_owned(),
        }
    }

    /// Writes it so that reading gives these very values back; see [`Quantity::print_exact`].
    pub fn print_exact(self, system: System) -> String {
        match self {
            Self::Exact(value) => value.print_exact(system),
            Self::Range { low, high } => {
                format!("{} to {}", low.print_exact(system), high.print_exact(system))
            }
            Self::About { likely, spread } => format!(
                "about {} +- {}",
                likely.print_exact(system),
                exact::difference(spread.si(), T::KIND, system)
            ),
            Self::Unknown => "unknown".to_owned(),
        }
    }
}

impl<T: Quantity> FromStr for Uncertain<T> {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}

impl<T: Quantity> fmt::Display for Uncertain<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.print(&Style::default()))
    }
}

/// The nearest value that can be.
fn possible<T: Quantity>(stored: f64) -> T {
    let above = T::KIND.floor().map_or(stored, |floor| stored.max(floor));
    T::from_si(T::KIND.ceiling().map_or(above, |ceiling| above.min(ceiling)))
}

pub(crate) fn is_unknown_word(text: &str) -> bool {
    text.eq_ignore_ascii_case("unknown")
}

/// A word where a number belongs may be somebody saying that they do not know.
fn or_unknown(mut error: ParseError) -> ParseError {
    if error.kind == ErrorKind::NoNumber {
        error.hint.push_str(", or `unknown`");
    }
    error
}

/// The place behind `about` or `~`.
fn after_about(text: &str, span: &Range<usize>) -> Option<usize> {
    let written = &text[span.clone()];
    let skipped = if written.starts_with('~') {
        1
    } else {
        let word_end = written.find(char::is_whitespace)?;
        written[..word_end].eq_ignore_ascii_case("about").then_some(word_end)?
    };
    let start = span.start + skipped;
    Some(start + text[start..span.end].len() - text[start..span.end].trim_start().len())
}

/// The bytes of `..`, `…` or ` to ` between the ends of a range.
fn range_gap(text: &str, span: &Range<usize>) -> Option<Range<usize>> {
    let written = &text[span.clone()];
    let found = written
        .find("..")
        .map(|at| {
            let dots = written[at..].chars().take(3).take_while(|&c| c == '.').count();
            at..at + dots
        })
        .or_else(|| written.find('…').map(|at| at..at + '…'.len_utf8()))
        .or_else(|| to_word(written))?;
    Some(span.start + found.start..span.start + found.end)
}

/// `to` as a word of its own, or between a digit or a quote and a number.
fn to_word(written: &str) -> Option<Range<usize>> {
    written.char_indices().find_map(|(at, _)| {
        let word = written.get(at..at + 2)?;
        let before = written[..at].chars().next_back()?;
        let after = written[at + 2..].chars().next()?;
        let is_word =
            word.eq_ignore_ascii_case("to") && !before.is_alphabetic() && !after.is_alphabetic();
        is_word.then_some(at..at + 2)
    })
}

/// The bytes of `+-`, `+/-` or `±`.
fn spread_gap(text: &str, span: &Range<usize>) -> Option<Range<usize>> {
    let written = &text[span.clone()];
    ["+/-", "+-", "±"].iter().find_map(|sign| {
        let at = span.start + written.find(sign)?;
        Some(at..at + sign.len())
    })
}

/// `text[span]` without blanks around it.
fn tight(text: &str, span: Range<usize>) -> Range<usize> {
    let written = &text[span.clone()];
    let from = span.start + written.len() - written.trim_start().len();
    from..(span.start + written.trim_end().len()).max(from)
}

/// Two readings of which one may borrow the unit of the other: `8..10 ft`, `R-8..10`.
fn readings(
    text: &str,
    left: Range<usize>,
    right: Range<usize>,
    kind: Kind,
) -> Result<(Reading, Reading), ParseError> {
    let left = read::reading(text, left, kind)?;
    let right = read::reading(text, right, kind)?;
    if kind == Kind::Ratio && left.is_bare() && right.is_bare() {
        return Ok((left, right));
    }
    if left.is_bare() && right.is_bare() {
        return Err(unshared(left.span.start..right.span.end, kind));
    }
    if left.is_bare() {
        if let Some(unit) = right.single_unit() {
            return Ok((left.with_unit(unit), right));
        }
        return Err(unshared(left.span, kind));
    }
    if right.is_bare() {
        if let Some(unit) = left.single_unit().filter(|unit| unit.leads) {
            return Ok((left, right.with_unit(unit)));
        }
        return Err(unshared(right.span, kind));
    }
    Ok((left, right))
}

fn unshared(span: Range<usize>, kind: Kind) -> ParseError {
    ParseError::new(
        ErrorKind::MissingUnit,
        span,
        "this number has no unit",
        format!(
            "write the unit behind both ends, or once behind the last number; {} looks like `{}`",
            kind.article_name(),
            kind.example()
        ),
    )
}

fn range<T: Quantity>(
    text: &str,
    span: Range<usize>,
    gap: Range<usize>,
) -> Result<Uncertain<T>, ParseError> {
    let left = tight(text, span.start..gap.start);
    let right = tight(text, gap.end..span.end);
    let (left, right) = readings(text, left, right, T::KIND)?;
    let first = read::stored(&left, T::KIND, Meaning::Value)?;
    let last = read::stored(&right, T::KIND, Meaning::Value)?;
    // A larger gauge is a thinner wire: people count `12..14 AWG` upwards.
    let (low, high) = if is_gauge(&left) && is_gauge(&right) {
        (last.min(first), last.max(first))
    } else {
        (first, last)
    };
    if low > high {
        return Err(ParseError::new(
            ErrorKind::ReversedRange,
            span,
            "this range starts above its end",
            format!("write the smaller value first: `{}`", turned_round(text, &left, &right)),
        ));
    }
    Ok(Uncertain::Range { low: T::from_si(low), high: T::from_si(high) })
}

fn is_gauge(reading: &Reading) -> bool {
    reading.single_unit().is_some_and(|unit| unit.scale == Scale::Gauge)
}

/// The range as it was meant; a shared unit stays at its end (`10..8 ft` becomes `8..10 ft`).
fn turned_round(text: &str, left: &Reading, right: &Reading) -> String {
    let (left_text, right_text) = (&text[left.span.clone()], &text[right.span.clone()]);
    let ends_bare = |reading: &Reading| {
        reading.terms.last().is_some_and(|term| term.number.span.end == reading.span.end)
    };
    match right.terms.as_slice() {
        [only] if ends_bare(left) && !ends_bare(right) => {
            let (number, unit) = right_text.split_at(only.number.span.end - right.span.start);
            format!("{number}..{left_text}{unit}")
        }
        _ => format!("{right_text}..{left_text}"),
    }
}

fn estimate<T: Quantity>(text: &str, span: Range<usize>) -> Result<Uncertain<T>, ParseError> {
    let kind = T::KIND;
    if let Some(gap) = range_gap(text, &span) {
        return Err(ParseError::new(
            ErrorKind::Trailing,
            gap,
            "an estimate has one middle, not two ends",
            format!(
                "write the range alone, as in `{}`, or an estimate with its spread",
                &text[span]
            ),
        ));
    }
    let Some(gap) = spread_gap(text, &span) else {
        let reading = read::reading(text, span.clone(), kind)?;
        let likely = read::stored(&reading, kind, Meaning::Value)?;
        if !kind.scales() {
            return Err(ParseError::new(
                ErrorKind::BadCompound,
                span.clone(),
                format!("an estimate of {} needs its spread", kind.article_name()),
                format!(
                    "write how far it may be off, as in `about {} +- …`, or a range",
                    &text[span]
                ),
            ));
        }
        let spread = likely.abs() * DEFAULT_SPREAD;
        return Ok(Uncertain::About { likely: T::from_si(likely), spread: T::from_si(spread) });
    };
    let left = tight(text, span.start..gap.start);
    let right = tight(text, gap.end..span.end);
    if let Some(share) = share_of_value(text, right.clone(), kind) {
        let likely = read::stored(&read::reading(text, left, kind)?, kind, Meaning::Value)?;
        let spread = share? * likely.abs();
        return Ok(Uncertain::About { likely: T::from_si(likely), spread: T::from_si(spread) });
    }
    let (left, right) = readings(text, left, right, kind)?;
    let likely = read::stored(&left, kind, Meaning::Value)?;
    let spread = read::stored(&right, kind, Meaning::Difference)?;
    if spread < 0.0 {
        return Err(negative_spread(right.span));
    }
    Ok(Uncertain::About { likely: T::from_si(likely), spread: T::from_si(spread) })
}

/// A spread in per cent of the value, where that has a meaning of its own.
fn share_of_value(text: &str, span: Range<usize>, kind: Kind) -> Option<Result<f64, ParseError>> {
    if !kind.scales() || matches!(kind, Kind::Ratio | Kind::Humidity) {
        return None;
    }
    let reading = read::reading(text, span, Kind::Ratio).ok()?;
    reading.single_unit().filter(|unit| unit.symbol == "%")?;
    let share = read::stored(&reading, Kind::Ratio, Meaning::Difference);
    Some(
        share.and_then(
            |share| if share < 0.0 { Err(negative_spread(reading.span)) } else { Ok(share) },
        ),
    )
}

fn negative_spread(span: Range<usize>) -> ParseError {
    ParseError::new(
        ErrorKind::OutOfRange,
        span,
        "a spread cannot be negative",
        "write how far the value may be off to either side, as in `about 9 ft +- 1 ft`",
    )
}

impl Uncertain<u32> {
    /// Lowest and highest count; `None` when unknown.
    pub fn bounds(self) -> Option<(u32, u32)> {
        match self {
            Self::Exact(count) => Some((count, count)),
            Self::Range { low, high } => Some((low, high)),
            Self::About { likely, spread } => {
                Some((likely.saturating_sub(spread), likely.saturating_add(spread)))
            }
            Self::Unknown => None,
        }
    }

    /// The middle count, the lower of two; `None` when unknown.
    pub fn likely(self) -> Option<u32> {
        match self {
            Self::About { likely, .. } => Some(likely),
            _ => self.bounds().map(|(low, high)| low + high.saturating_sub(low) / 2),
        }
    }

    /// The count below which a share `u` of all draws lies, every count of a range being equally
    /// likely; `None` when unknown or when `u` is NaN. `u` is held within 0 and 1.
    pub fn quantile(self, u: f64) -> Option<u32> {
        if u.is_nan() {
            return None;
        }
        let (low, high) = self.bounds()?;
        let count = f64::from(high.saturating_sub(low)) + 1.0;
        let step = (u.clamp(0.0, 1.0) * count).floor() as u32;
        Some(low.saturating_add(step).min(high.max(low)))
    }

    /// Reads `2`, `1..3`, `1 to 3` or `unknown`.
    ///
    /// # Errors
    /// For anything that is not a whole number from 0 up, and for a range written backwards.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let span = read::bounded(text, "a count is missing", || COUNT_HINT.to_owned())?;
        if is_unknown_word(&text[span.clone()]) {
            return Ok(Self::Unknown);
        }
        let Some(gap) = range_gap(text, &span) else {
            return Ok(Self::Exact(count(text, span)?));
        };
        let low = count(text, tight(text, span.start..gap.start))?;
        let high = count(text, tight(text, gap.end..span.end))?;
        if low > high {
            return Err(ParseError::new(
                ErrorKind::ReversedRange,
                span,
                "this range starts above its end",
                format!("write `{high}..{low}`"),
            ));
        }
        Ok(Self::Range { low, high })
    }

    /// Writes it so that it can be read back: `2`, `1 to 3`, `unknown`.
    pub fn print(self) -> String {
        match self {
            Self::Exact(count) => count.to_string(),
            Self::Range { .. } | Self::About { .. } => {
                self.bounds().map_or_else(String::new, |(low, high)| format!("{low} to {high}"))
            }
            Self::Unknown => "unknown".to_owned(),
        }
    }
}

impl FromStr for Uncertain<u32> {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}

impl fmt::Display for Uncertain<u32> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.print())
    }
}

const COUNT_HINT: &str = "write a whole number such as `2`, a range such as `1..3`, or `unknown`";

fn count(text: &str, span: Range<usize>) -> Result<u32, ParseError> {
    let mut cursor = Cursor { text: &text[..span.end], at: span.start };
    let number = number::read(&mut cursor).ok();
    let whole = number.filter(|n| n.is_whole() && cursor.at_end()).map(|n| n.value);
    match whole {
        Some(value) if value <= f64::from(u32::MAX) => Ok(value as u32),
        Some(_) => Err(ParseError::new(
            ErrorKind::TooLarge,
            span,
            "a count this large cannot be meant",
            COUNT_HINT,
        )),
        None => Err(ParseError::new(
            ErrorKind::BadNumber,
            span.clone(),
            format!("`{}` is no count", &text[span]),
            COUNT_HINT,
        )),
    }
}
