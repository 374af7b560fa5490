//! Dates of weather records, and the hours of a year of 365 days that they stand for.

use super::hours::HOURS;

/// Days of the months of a common year.
pub(super) const MONTH_DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Month (0 to 11) of an hour of the year.
pub(super) fn month_of_hour(hour: usize) -> usize {
    let mut left = hour / 24;
    for (month, days) in MONTH_DAYS.iter().enumerate() {
        if left < *days {
            return month;
        }
        left -= days;
    }
    11
}

/// A full hour of the calendar; `hour` is 0 to 24, 24 being midnight at the end of the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stamp {
    pub(super) year: i32,
    pub(super) month: u32,
    pub(super) day: u32,
    pub(super) hour: u32,
    pub(super) minute: u32,
}

/// An hour in a common year, or one of 29 February.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    Hour(usize),
    LeapDay,
}

fn is_leap(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

impl Stamp {
    /// The stamp itself if such a moment exists.
    pub(super) fn checked(self) -> Option<Self> {
        let month = usize::try_from(self.month).ok()?.checked_sub(1)?;
        let mut days = *MONTH_DAYS.get(month)?;
        if self.month == 2 && is_leap(self.year) {
            days += 1;
        }
        let is_day = self.day >= 1 && self.day as usize <= days;
        let is_hour = self.hour < 24 || (self.hour == 24 && self.minute == 0);
        (is_day && is_hour && self.minute < 60).then_some(self)
    }

    /// The hour that begins at or just before the stamp, or that ends with it.
    pub(super) fn place(self, ends: bool) -> Place {
        let leap = is_leap(self.year);
        let month = self.month as usize - 1;
        // Hours since the first of January; 29 February counts where it exists.
        let mut days: usize = MONTH_DAYS[..month].iter().sum::<usize>() + self.day as usize - 1;
        if leap && self.month > 2 {
            days += 1;
        }
        let of_year = HOURS + if leap { 24 } else { 0 };
        let mut hour = days * 24 + self.hour as usize;
        // An hour-ending stamp within the hour (12:30 for 12:00 to 13:00) is in its hour already.
        if ends && self.minute == 0 {
            hour = (hour + of_year - 1) % of_year;
        } else {
            hour %= of_year;
        }
        let (leap_start, leap_end) = (59 * 24, 60 * 24);
        if leap && (leap_start..leap_end).contains(&hour) {
            Place::LeapDay
        } else {
            Place::Hour(if leap && hour >= leap_end { hour - 24 } else { hour })
        }
    }

    /// Whether `next` is in the same month, or the one that follows in the calendar.
    pub(super) fn runs_on_to(self, next: Self) -> bool {
        let months = |stamp: Self| stamp.year * 12 + stamp.month.cast_signed() - 1;
        (0..=1).contains(&(months(next) - months(self)))
    }
}

/// A whole number of one to `most` digits.
pub(super) fn whole(text: &str, most: usize) -> Option<u32> {
    let digits = !text.is_empty() && text.len() <= most && text.bytes().all(|b| b.is_ascii_digit());
    if digits { text.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(year: i32, month: u32, day: u32, hour: u32) -> Stamp {
        Stamp { year, month, day, hour, minute: 0 }.checked().unwrap()
    }

    #[test]
    fn hours_are_found_in_both_kinds_of_year() {
        assert_eq!(at(2023, 1, 1, 0).place(false), Place::Hour(0));
        assert_eq!(at(2023, 12, 31, 24).place(true), Place::Hour(8759));
        assert_eq!(at(2023, 1, 1, 0).place(true), Place::Hour(8759));
        assert_eq!(at(2023, 3, 1, 0).place(false), Place::Hour(1416));
        assert_eq!(at(2023, 3, 1, 0).place(true), Place::Hour(1415));
        assert_eq!(at(2024, 2, 28, 24).place(true), Place::Hour(1415));
        assert_eq!(at(2024, 2, 29, 0).place(false), Place::LeapDay);
        assert_eq!(at(2024, 3, 1, 0).place(true), Place::LeapDay);
        assert_eq!(at(2024, 3, 1, 0).place(false), Place::Hour(1416));
        assert_eq!(at(2024, 12, 31, 23).place(false), Place::Hour(8759));
        assert_eq!(at(2024, 12, 31, 24).place(true), Place::Hour(8759));
    }

    #[test]
    fn moments_that_do_not_exist_are_refused() {
        for (year, month, day, hour) in [
            (2023, 2, 29, 0),
            (2023, 4, 31, 0),
            (2023, 13, 1, 0),
            (2023, 0, 1, 0),
            (2023, 1, 0, 0),
            (2023, 1, 1, 25),
        ] {
            assert_eq!(Stamp { year, month, day, hour, minute: 0 }.checked(), None);
        }
        assert_eq!(Stamp { year: 2023, month: 1, day: 1, hour: 24, minute: 1 }.checked(), None);
    }

    #[test]
    fn months_follow_each_other() {
        assert!(at(1997, 12, 31, 0).runs_on_to(at(1998, 1, 1, 0)));
        assert!(!at(1997, 1, 31, 0).runs_on_to(at(1995, 2, 1, 0)));
        assert_eq!((month_of_hour(0), month_of_hour(743), month_of_hour(744)), (0, 0, 1));
        assert_eq!(month_of_hour(8759), 11);
    }
}
