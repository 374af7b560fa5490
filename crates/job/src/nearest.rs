//! The word somebody probably meant.

/// The candidate that is nearest to `typed`, if one is near enough to be a slip of the hand.
pub(crate) fn nearest<'a>(
    typed: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    // Comparing very long words costs much and never helps.
    if typed.len() > 60 {
        return None;
    }
    let plain = |s: &str| s.to_ascii_lowercase().replace(['_', '-'], " ");
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
