//! Closed lists of words: one table gives the enum, its words in the file and its suggestions.

/// A closed list of words that may stand in a job file.
pub trait Category: Copy + PartialEq + 'static {
    /// Every member, in the order of the documentation.
    const ALL: &'static [Self];
    /// The word that is written out.
    fn word(self) -> &'static str;
    /// Every word that is understood, with its member; the first of a member is the one written out.
    const WORDS: &'static [(&'static str, Self)];
    /// The member that a word means; letter case, and `_` or `-` for a space, do not matter.
    fn from_word(text: &str) -> Option<Self> {
        let plain = |s: &str| s.trim().to_ascii_lowercase().replace(['_', '-'], " ");
        let wanted = plain(text);
        Self::WORDS.iter().find(|(word, _)| plain(word) == wanted).map(|&(_, member)| member)
    }
}

/// Makes an enum with the words that mean each member.
macro_rules! category {
    ($(#[$meta:meta])* pub enum $name:ident {
        $($(#[$doc:meta])* $member:ident = $word:literal $(| $also:literal)*),+ $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$doc])* $member),+ }
        impl $crate::category::Category for $name {
            const ALL: &'static [Self] = &[$(Self::$member),+];
            const WORDS: &'static [(&'static str, Self)] =
                &[$(($word, Self::$member), $(($also, Self::$member),)*)+];
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
