//! Closed lists of words: one table gives the enum, its words in the file and its suggestions.

/// A closed list of words that may stand in a job file.
pub trait Category: Copy + PartialEq + 'static {
    /// Every member, in the order of the documentation.
    const ALL: &'static [Self];
    /// The word that is written out.
    fn word(self) -> &'static str;
    /// Every word that is understood, with its member; the first of a member is the one written out.
    const WORDS: &'static [(&'static str, Self)];
    /// Words that mean one member to some and another to others, so that they are read as none.
    const UNCLEAR: &'static [(&'static [&'static str], &'static [Self])] = &[];
    /// The member that a word means; letter case, and `_` or `-` for a space, do not matter.
    fn from_word(text: &str) -> Option<Self> {
        let wanted = plain(text);
        Self::WORDS.iter().find(|(word, _)| plain(word) == wanted).map(|&(_, member)| member)
    }
    /// The members that a word of [`Self::UNCLEAR`] may mean; none for any other.
    fn may_mean(text: &str) -> &'static [Self] {
        let wanted = plain(text);
        let stands_in = |words: &[&str]| words.iter().any(|word| plain(word) == wanted);
        let found = Self::UNCLEAR.iter().find(|(words, _)| stands_in(words));
        found.map_or(&[], |(_, members)| members)
    }
}

/// A word without what does not matter: letter case, and `_` or `-` for a space.
pub(crate) fn plain(word: &str) -> String {
    word.trim().to_ascii_lowercase().replace(['_', '-'], " ")
}

/// Makes an enum with the words that mean each member: the one that is written out, and behind `|` those that are understood as well.
/// In `unclear` stand words of the trade that the reader asks about, with the members that they may mean.
macro_rules! category {
    ($(#[$meta:meta])* pub enum $name:ident {
        $($(#[$doc:meta])* $member:ident = $word:literal $(| $also:literal)*),+ $(,)?
    } $(unclear {
        $($($unclear:literal)|+ = $($may:ident)|+),+ $(,)?
    })?) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$doc])* $member),+ }
        impl $crate::category::Category for $name {
            const ALL: &'static [Self] = &[$(Self::$member),+];
            const WORDS: &'static [(&'static str, Self)] =
                &[$(($word, Self::$member), $(($also, Self::$member),)*)+];
            $(const UNCLEAR: &'static [(&'static [&'static str], &'static [Self])] =
                &[$((&[$($unclear),+], &[$(Self::$may),+])),+];)?
            fn word(self) -> &'static str { match self { $(Self::$member => $word),+ } }
        }
        impl dewpath_units::Category for $name {
            const NAME: &'static str = "choice";
            const ALL: &'static [Self] = <Self as $crate::category::Category>::ALL;
            fn word(self) -> &'static str { $crate::category::Category::word(self) }
            fn also(self) -> &'static [&'static str] {
                match self { $(Self::$member => &[$($also),*]),+ }
            }
        }
    };
}
pub(crate) use category;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{DuctKind, Finish, TerminalKind};

    /// What is written twice, or reads as two words, would be read as something else.
    fn told_apart<C: Category>() {
        let read = || C::WORDS.iter().map(|(word, _)| plain(word));
        for word in read() {
            assert!(!word.contains(" or "), "`{word}` reads as two");
            assert_eq!(read().filter(|other| *other == word).count(), 1, "`{word}` stands twice");
        }
        for (words, members) in C::UNCLEAR {
            assert!(members.len() > 1, "{words:?} has one meaning");
            for word in *words {
                assert!(C::from_word(word).is_none(), "`{word}` has one meaning already");
            }
        }
    }

    #[test]
    fn words_of_the_trade_are_told_apart() {
        told_apart::<DuctKind>();
        told_apart::<TerminalKind>();
        told_apart::<Finish>();
    }
}
