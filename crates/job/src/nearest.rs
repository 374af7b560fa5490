//! The word somebody probably meant.

use crate::category::{Category, plain};

/// Bytes of the longest word that is compared.
const LONGEST: usize = 60;

/// The candidate that is nearest to `typed`, if one is near enough to be a slip of the hand.
pub(crate) fn nearest<'a>(
    typed: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    // Comparing very long words costs much and never helps.
    if typed.len() > LONGEST {
        return None;
    }
    let wanted = plain(typed);
    let mut best: Option<(f64, &str)> = None;
    for candidate in candidates {
        let have = plain(candidate);
        let contained = wanted.len() >= 3
            && have.len() >= 3
            && (have.contains(&wanted) || wanted.contains(&have));
        let score = strsim::damerau_levenshtein(&wanted, &have) as f64
            / wanted.len().max(have.len()).max(1) as f64;
        let score = if contained { score.min(0.35) } else { score };
        if score <= 0.42 && best.is_none_or(|(s, _)| score < s) {
            best = Some((score, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The word of a closed list that a slip of the hand made `typed`, or that stands in it as a whole. Words of a trade lie close to one
/// another and mean different things (`soffit vent`, `soffit void`): a letter in four is the most, and what may be two members is none.
pub(crate) fn slip<C: Category>(typed: &str) -> Option<&'static str> {
    if typed.len() > LONGEST {
        return None;
    }
    let wanted = plain(typed);
    let letters = |word: &str| strsim::damerau_levenshtein(&wanted, &plain(word));
    let least = C::WORDS.iter().map(|(word, _)| letters(word)).min()?;
    if least <= (wanted.chars().count() / 4).max(1) {
        return one_member(C::WORDS.iter().filter(|(word, _)| letters(word) == least));
    }
    one_member(C::WORDS.iter().filter(|(word, _)| holds(&wanted, &plain(word))))
}

/// The first of the words, where all of them mean the same.
fn one_member<C: Category>(
    mut words: impl Iterator<Item = &'static (&'static str, C)>,
) -> Option<&'static str> {
    let (first, member) = words.next()?;
    words.all(|(_, other)| other == member).then_some(*first)
}

/// Whether all words of one text stand in the other.
fn holds(one: &str, other: &str) -> bool {
    let all_in = |some: &str, text: &str| {
        some.split(' ').all(|word| text.split(' ').any(|there| there == word))
    };
    !one.is_empty() && (all_in(one, other) || all_in(other, one))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{DuctKind, TerminalKind};

    #[test]
    fn a_slip_of_the_hand_is_told_from_another_word() {
        assert_eq!(slip::<DuctKind>("flexx"), Some("flex"));
        assert_eq!(slip::<DuctKind>("galvanizd"), Some("galvanized"));
        assert_eq!(slip::<TerminalKind>("ridge vnt"), Some("ridge vent"));
        assert_eq!(slip::<TerminalKind>("soffit fent"), None, "a soffit vent and a soffit void");
        assert_eq!(slip::<TerminalKind>("bridge duct"), None);
    }

    #[test]
    fn a_word_that_stands_whole_in_what_was_typed_is_meant() {
        assert_eq!(slip::<DuctKind>("round metal"), Some("metal"));
        assert_eq!(slip::<TerminalKind>("plumbing"), Some("plumbing vent"));
        assert_eq!(slip::<DuctKind>("rigid flex"), None, "two kinds of duct");
        assert_eq!(slip::<TerminalKind>("vent"), None, "of a wall, a ridge or a stack");
    }
}
