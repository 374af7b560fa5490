//! Exact lengths for cutting and framing, and inches with fractions.

use std::fmt;
use std::str::FromStr;

use crate::error::{ErrorKind, ParseError};
use crate::fraction::{NM_PER_INCH, NM_PER_M, fraction_inches, rounded_div};
use crate::kind::Kind;
use crate::number::Number;
use crate::quantity::Length;
use crate::read;
use crate::style::{Style, System};
use crate::unit::Unit;

/// A length in whole nanometres.
///
/// 1/64 in (396 875 nm) and 0.1 mm (100 000 nm) are both whole, so that the pieces cut from a stick and
/// the kerfs between them add up exactly. Holds up to 9.2 million kilometres in either direction;
/// arithmetic is checked and never wraps.
///
/// ```
/// use dewpath_units::{ShopLength, Style};
///
/// let stud = ShopLength::parse("92-5/8 in")?;
/// let plates = ShopLength::parse("1 1/2\"")?.times(3).unwrap();
/// let wall = stud.plus(plates).unwrap();
/// assert_eq!(wall.print(&Style::US), "8 ft 1-1/8 in");
/// # Ok::<(), dewpath_units::ParseError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct ShopLength(i64);

impl ShopLength {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// An inch.
    pub const INCH: Self = Self(NM_PER_INCH);
    /// A foot.
    pub const FOOT: Self = Self(12 * NM_PER_INCH);
    /// A millimetre.
    pub const MILLIMETRE: Self = Self(1_000_000);

    /// From whole nanometres.
    pub const fn from_nm(nanometres: i64) -> Self {
        Self(nanometres)
    }

    /// Whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// From a number of 1/64 in; `None` when it does not fit.
    pub const fn from_sixty_fourths(count: i64) -> Option<Self> {
        match count.checked_mul(NM_PER_INCH / 64) {
            Some(nanometres) => Some(Self(nanometres)),
            None => None,
        }
    }

    /// The sum; `None` when it does not fit.
    pub const fn plus(self, other: Self) -> Option<Self> {
        match self.0.checked_add(other.0) {
            Some(nanometres) => Some(Self(nanometres)),
            None => None,
        }
    }

    /// The difference, which may be negative; `None` when it does not fit.
    pub const fn minus(self, other: Self) -> Option<Self> {
        match self.0.checked_sub(other.0) {
            Some(nanometres) => Some(Self(nanometres)),
            None => None,
        }
    }

    /// This many of it; `None` when they do not fit.
    pub const fn times(self, count: i64) -> Option<Self> {
        match self.0.checked_mul(count) {
            Some(nanometres) => Some(Self(nanometres)),
            None => None,
        }
    }

    /// The sum of many; `None` when it does not fit.
    pub fn total(lengths: impl IntoIterator<Item = Self>) -> Option<Self> {
        lengths.into_iter().try_fold(Self::ZERO, Self::plus)
    }

    /// How many whole pieces of this length another length is cut into; `None` unless both are positive.
    pub const fn pieces_from(self, stock: Self) -> Option<i64> {
        if self.0 > 0 && stock.0 >= 0 { Some(stock.0 / self.0) } else { None }
    }

    /// As a physical length; the nearest `f64`.
    pub fn to_length(self) -> Length {
        Length::from_m(self.0 as f64 / NM_PER_M)
    }

    /// The nearest whole nanometre; `None` for NaN and for lengths that do not fit.
    pub fn nearest(length: Length) -> Option<Self> {
        let nanometres = (length.m() * NM_PER_M).round();
        // 2^63 is exact in f64; its neighbour below is the largest that fits.
        let fits =
            (-9_223_372_036_854_775_808.0..9_223_372_036_854_775_808.0).contains(&nanometres);
        fits.then_some(Self(nanometres as i64))
    }

    /// Reads a length exactly.
    ///
    /// # Errors
    /// As [`crate::Quantity::parse`] of a length; also when it does not fall on a whole nanometre
    /// (`1/3 in`) or does not fit.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let span = read::trimmed(text, Kind::Length)?;
        let reading = read::reading(text, span.clone(), Kind::Length)?;
        // The plain reading refuses missing units, negative and endless lengths.
        read::stored(&reading, Kind::Length, read::Meaning::Value)?;
        let mut total = Some(0_i64);
        for term in &reading.terms {
            let Some(unit) = term.unit else { continue };
            let nanometres = whole_nm(&term.number, unit).ok_or_else(|| {
                ParseError::new(
                    ErrorKind::NotExact,
                    span.clone(),
                    "this length does not fall on a whole nanometre",
                    "write a fraction of a tape measure such as `9 ft 4-5/16 in`, or decimals such as `102.5 mm`",
                )
            })?;
            total = total.and_then(|sum| sum.checked_add(nanometres));
        }
        total.map(Self).ok_or_else(|| too_large(span))
    }

    /// Writes it, rounded to the style's fraction of an inch or to 0.1 mm.
    pub fn print(self, style: &Style) -> String {
        match style.system {
            System::Us => fraction_inches(self.0.into(), style),
            System::Metric => metric(self.0),
        }
    }
}

fn too_large(span: std::ops::Range<usize>) -> ParseError {
    ParseError::new(
        ErrorKind::TooLarge,
        span,
        "a length this large cannot be meant",
        "check its digits and its unit",
    )
}

/// Nanometres of a number in a unit, when they are whole and fit.
fn whole_nm(number: &Number, unit: &Unit) -> Option<i64> {
    let unit_nm: i128 = match unit.symbol {
        "in" => 25_400_000,
        "ft" => 304_800_000,
        "yd" => 914_400_000,
        "mm" => 1_000_000,
        "cm" => 10_000_000,
        "m" => 1_000_000_000,
        _ => return None,
    };
    let (numerator, denominator) = number.exact?;
    let scaled = numerator.checked_mul(unit_nm)?;
    let is_whole = scaled.checked_rem(denominator)? == 0;
    if is_whole { i64::try_from(scaled / denominator).ok() } else { None }
}

/// Tenths of a millimetre below a metre; whole tenths of a millimetre in metres above.
fn metric(nanometres: i64) -> String {
    let tenths = rounded_div(nanometres.into(), 100_000);
    let sign = if tenths < 0 { "-" } else { "" };
    let size = tenths.abs();
    if size < 10_000 {
        let tail = if size % 10 == 0 { String::new() } else { format!(".{}", size % 10) };
        return format!("{sign}{}{tail} mm", size / 10);
    }
    let decimals = format!("{:04}", size % 10_000);
    let decimals = decimals.trim_end_matches('0');
    let point = if decimals.is_empty() { "" } else { "." };
    format!("{sign}{}{point}{decimals} m", size / 10_000)
}

impl fmt::Display for ShopLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.print(&Style::default()))
    }
}

impl FromStr for ShopLength {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}

impl From<ShopLength> for Length {
    fn from(length: ShopLength) -> Self {
        length.to_length()
    }
}
