//! What a single value of a job can be: given, unknown, a range; a day, a time, a size, a place.
//!
//! `derive(Keys)` knows these types by their names: the type of a field gives the shape of its key.

use dewpath_units::{
    Airflow, Choice, Duration, Length, Pressure, Quantity, Stated, Uncertain, YesNo,
};

use crate::category::category;

/// A quantity that may be left out, unknown, exact, a range or "about", with its origin.
pub type Given<Q> = Option<Stated<Uncertain<Q>>>;

/// A category that may be left out, unknown, one of several, or known.
pub type GivenChoice<C> = Option<Stated<Choice<C>>>;

/// A yes/no that may be left out or unknown.
pub type GivenYesNo = Option<Stated<YesNo>>;

/// A count that may be left out, unknown or a range.
pub type GivenCount = Option<Stated<Uncertain<u32>>>;

/// Lengths along the axes, in their order, that may be left out or unknown.
pub type GivenPlace<const N: usize> = Option<Stated<Choice<[Length; N]>>>;

/// Corners of an outline in order, that may be left out or unknown.
pub type GivenOutline = Option<Stated<Choice<Vec<[Length; 2]>>>>;

/// From this on a distance is one to nothing: `none within 10 ft` is anything from there to here.
const NOTHING: Length = Length::from_m(1e6);

/// What is known of a distance of which somebody says that nothing is nearer.
pub(crate) fn none_within(nearer: Length) -> Uncertain<Length> {
    Uncertain::Range { low: nearer, high: NOTHING }
}

/// The length within which nothing is, where that is what is said of a distance.
pub fn is_none_within(distance: &Uncertain<Length>) -> Option<Length> {
    match distance {
        Uncertain::Range { low, high } if *high == NOTHING => Some(*low),
        _ => None,
    }
}

/// The lengths of a place that is known.
pub fn place_known<const N: usize>(given: &GivenPlace<N>) -> Option<[Length; N]> {
    match given.as_ref().map(|stated| &stated.value) {
        Some(Choice::Known(place)) => Some(*place),
        _ => None,
    }
}

/// The corners of an outline that is known.
pub fn outline_known(given: &GivenOutline) -> Option<&[[Length; 2]]> {
    match given.as_ref().map(|stated| &stated.value) {
        Some(Choice::Known(corners)) => Some(corners),
        _ => None,
    }
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u16,
    month: u8,
    of_month: u8,
}

impl Day {
    /// First and last year that a job can be of. No source: nothing that is worked on today lies outside.
    pub const YEARS: [u16; 2] = [1950, 2199];

    /// Year 1950 to 2199, month 1 to 12 and a day that the month has (Gregorian calendar, ISO 8601-1:2019);
    /// `None` outside of these.
    ///
    /// ```
    /// use dewpath_job::model::Day;
    /// assert_eq!(Day::new(2028, 2, 29).map(|day| day.to_string()).as_deref(), Some("2028-02-29"));
    /// assert_eq!(Day::new(2026, 2, 29), None);
    /// ```
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let [first, last] = Self::YEARS;
        let leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            2 if leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => return None,
        };
        let exists = (first..=last).contains(&year) && (1..=days).contains(&day);
        exists.then_some(Self { year, month, of_month: day })
    }
}

/// Year, month and day, as ISO 8601 writes them.
impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.of_month)
    }
}

/// A time of day, to the minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClockTime {
    minutes: u16,
}

impl ClockTime {
    /// Hours 0 to 23 and minutes 0 to 59; `None` outside of these.
    pub const fn new(hours: u16, minutes: u16) -> Option<Self> {
        if hours < 24 && minutes < 60 { Some(Self { minutes: hours * 60 + minutes }) } else { None }
    }

    /// Minutes after midnight, 0 to 1439.
    pub const fn minutes(self) -> u16 {
        self.minutes
    }

    /// Time after midnight.
    pub fn after_midnight(self) -> Duration {
        Duration::from_min(f64::from(self.minutes))
    }
}

impl std::fmt::Display for ClockTime {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:02}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

/// Inside section of a duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// Round, by diameter.
    Round(Length),
    /// Rectangular, width and height.
    Rectangular(Length, Length),
    /// Flat oval, long and short side.
    Oval(Length, Length),
}

/// A point of a loss: so many pascals at so much flow.
#[derive(Debug, Clone, PartialEq)]
pub struct LossPoint {
    /// Flow.
    pub airflow: Stated<Uncertain<Airflow>>,
    /// Pressure at that flow.
    pub pressure: Stated<Uncertain<Pressure>>,
}

/// A rated point of a fan.
#[derive(Debug, Clone, PartialEq)]
pub struct RatedPoint {
    /// Rated flow.
    pub airflow: Stated<Uncertain<Airflow>>,
    /// Static pressure of the rating; none when the box does not say.
    pub pressure: Given<Pressure>,
}

/// Where a housing should be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wish {
    /// Centre of the room.
    Centre,
    /// Over the middle of the shower or tub.
    OverShower,
    /// Halfway from the shower, tub or toilet to the door.
    BetweenFixtureAndDoor,
    /// At a point.
    At([Length; 2]),
}

category! {
    /// The words for a wish that is no point.
    pub enum WishWord {
        /// Centre of the room.
        Centre = "centre" | "center",
        /// Over the middle of the shower or tub.
        OverShower = "over the shower" | "over the tub",
        /// Halfway from the shower, tub or toilet to the door.
        Between = "between fixture and door",
    }
}

impl WishWord {
    /// The wish that the word means.
    pub const fn wish(self) -> Wish {
        match self {
            Self::Centre => Wish::Centre,
            Self::OverShower => Wish::OverShower,
            Self::Between => Wish::BetweenFixtureAndDoor,
        }
    }
}

/// Lowest and highest value in the stored unit, where there are any.
pub(crate) fn span_si<Q: Quantity>(given: Option<&Stated<Uncertain<Q>>>) -> Option<(f64, f64)> {
    given.and_then(|stated| stated.value.bounds()).map(|(low, high)| (low.si(), high.si()))
}
