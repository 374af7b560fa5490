//! Months of a year, and how some of them are named.

use dewpath_message::slot::Word;
use dewpath_moisture::room::DAYS;

const MONTHS: [&str; 12] = [
    "month.1", "month.2", "month.3", "month.4", "month.5", "month.6", "month.7", "month.8",
    "month.9", "month.10", "month.11", "month.12",
];

/// The word of a month, January 0.
pub(crate) fn word(month: usize) -> Word {
    Word::new(MONTHS[month % MONTHS.len()])
}

/// Hours of a month, January 0.
pub(crate) fn hours_of(month: usize) -> f64 {
    f64::from(DAYS[month % DAYS.len()] * 24)
}

/// First and last of the shortest stretch that holds some months, over New Year where that is shorter; the first alone where it is one
/// month, and neither where it is none of them or the whole year.
pub(crate) fn stretch(months: &[bool]) -> (Option<Word>, Option<Word>) {
    let count = months.len();
    if !months.contains(&true) || !months.contains(&false) {
        return (None, None);
    }
    let reach = |from: usize| (0..count).rev().find(|after| months[(from + after) % count]);
    let shortest = (0..count).filter(|&from| months[from]).map(|from| (reach(from), from)).min();
    let Some((Some(after), from)) = shortest else { return (None, None) };
    (Some(word(from)), (after > 0).then(|| word(from + after)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(months: &[usize]) -> (Option<Word>, Option<Word>) {
        let mut all = [false; 12];
        for month in months {
            all[month - 1] = true;
        }
        stretch(&all)
    }

    fn named(first: usize, last: Option<usize>) -> (Option<Word>, Option<Word>) {
        (Some(word(first - 1)), last.map(|last| word(last - 1)))
    }

    #[test]
    fn months_are_named_by_the_shortest_stretch() {
        assert_eq!(of(&[6, 7, 8]), named(6, Some(8)));
        assert_eq!(of(&[1, 2, 12]), named(12, Some(2)));
        assert_eq!(of(&[1, 3, 12]), named(12, Some(3)));
        assert_eq!(of(&[4]), named(4, None));
        assert_eq!(of(&[]), (None, None));
        assert_eq!(of(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]), (None, None));
    }
}
