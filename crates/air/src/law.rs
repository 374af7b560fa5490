//! A law as a working shows it: its equation, and where it stands.
//!
//! Each law that people are shown is a constant beside the function that computes it.

/// What a law rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grounds {
    /// Read in the published text.
    Confirmed,
    /// Recalled, not read.
    Memory,
    /// Judgement, said openly.
    Judgement,
}

/// An equation with its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Law {
    /// The equation, in plain letters; what its letters stand for is said beside each of its inputs.
    pub equation: &'static str,
    /// Book, standard or paper; for a judgement what it is.
    pub book: &'static str,
    /// Section, table or equation of it, or what of it is used.
    pub section: &'static str,
    /// What it rests on.
    pub grounds: Grounds,
}

impl Law {
    /// A law that was read in the published text.
    pub const fn confirmed(
        equation: &'static str,
        book: &'static str,
        section: &'static str,
    ) -> Self {
        Self { equation, book, section, grounds: Grounds::Confirmed }
    }

    /// A law that was recalled.
    pub const fn memory(equation: &'static str, book: &'static str, section: &'static str) -> Self {
        Self { equation, book, section, grounds: Grounds::Memory }
    }

    /// A law that is a judgement.
    pub const fn judgement(equation: &'static str, why: &'static str) -> Self {
        Self { equation, book: why, section: "", grounds: Grounds::Judgement }
    }
}
