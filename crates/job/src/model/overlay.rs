//! What is laid over a job: overridden findings, values as built, how verdicts are drawn.

use crate::keys::Keys;

/// A finding that you override. The reason is printed with the finding.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "override", written = "[[override]]")]
pub struct Override {
    /// Id of the finding.
    #[key(required, example = "duct.length.table")]
    pub finding: String,
    /// Id of the subject, when only one of several is meant.
    #[key(example = "attic")]
    pub subject: Option<String>,
    /// Why; printed with the finding.
    #[key(required, example = "the maker's duct sheet allows it; copy on file")]
    pub reason: String,
}

/// A value that was found different when built.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "built", written = "[[built]]")]
pub struct Built {
    /// Where, as a path by ids: `run.attic.length`, `fan.fan.model`, `run.attic.part.p2.elbow.angle`.
    #[key(required, example = "run.attic.length")]
    pub at: String,
    /// The value as it would stand in the file.
    #[key(required, raw, example = "14 ft")]
    pub value: String,
    /// When it was seen.
    #[key(example = "2026-03-02")]
    pub date: Option<String>,
    /// Photo by name.
    #[key(example = "IMG_0040.jpg")]
    pub photo: Option<String>,
}

/// How verdicts are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Keys)]
#[table(name = "settings", written = "[settings]")]
pub struct Settings {
    /// A check holds at this chance or more; 0.90 when left out.
    #[key(or = Settings::USUAL.holds_at, example = 0.90, possible(0.5, 1.0))]
    pub holds_at: f64,
    /// A check fails at this chance or less; 0.10 when left out.
    #[key(or = Settings::USUAL.fails_at, example = 0.10, possible(0.0, 0.5))]
    pub fails_at: f64,
    /// How many draws; 1024 when left out.
    #[key(or = Settings::USUAL.draws, example = 1024, possible(16.0, 65536.0))]
    pub draws: u32,
}

impl Settings {
    /// What counts where nothing is written.
    const USUAL: Self = Self { holds_at: 0.90, fails_at: 0.10, draws: 1024 };
}

impl Default for Settings {
    fn default() -> Self {
        Self::USUAL
    }
}
