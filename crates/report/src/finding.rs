//! Checked points: what was found, by which limit, how it was worked out, what to do.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use dewpath_message::{Figure, Message, Text};

use crate::say::{SourceJudgement, SourceText};

use crate::check::Check;

/// What a check found.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The rule or physical need is met.
    Holds,
    /// Advice: not broken, but worth knowing.
    Caution,
    /// Not known; the finding names what is missing.
    Unknown,
    /// A rule or a physical need is broken.
    Fails,
}

/// Where a limit or a formula comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Source {
    /// Book, paper or standard.
    pub book: Text,
    /// Section, table or equation.
    #[serde(default, skip_serializing_if = "Text::is_empty")]
    pub section: Text,
    /// How sure the value is.
    pub standing: Standing,
}

impl Source {
    /// A confirmed source.
    pub fn confirmed(book: impl Into<Text>, section: impl Into<Text>) -> Self {
        Self { book: book.into(), section: section.into(), standing: Standing::Confirmed }
    }

    /// A value from memory.
    pub fn memory(book: impl Into<Text>, section: impl Into<Text>) -> Self {
        Self { book: book.into(), section: section.into(), standing: Standing::FromMemory }
    }

    /// Common practice without a source.
    pub fn practice() -> Self {
        Self {
            book: SourceText::Practice.into(),
            section: Text::default(),
            standing: Standing::CommonPractice,
        }
    }

    /// Our own judgement.
    pub fn judgement(why: impl Into<Text>) -> Self {
        Self {
            book: SourceJudgement { why: why.into() }.into(),
            section: Text::default(),
            standing: Standing::Judgement,
        }
    }
}

/// How sure a value is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Read in the published text.
    Confirmed,
    /// Recalled, not read; never yields holds or fails on its own.
    FromMemory,
    /// Common practice, no source.
    CommonPractice,
    /// Our own judgement, said openly.
    Judgement,
}

/// Where a value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Provenance {
    /// Written in the job.
    Written,
    /// Measured.
    Measured,
    /// From a label or data sheet.
    Label,
    /// Assumed by the user.
    Assumed,
    /// From the rule book.
    RuleBook,
    /// A default of the program, listed among the assumptions.
    Default,
    /// Worked out in an earlier step.
    Computed,
}

/// One input of a step of a working.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WorkingInput {
    /// Symbol in the equation.
    pub symbol: Text,
    /// What it is.
    pub what: Message,
    /// Its value.
    pub figure: Figure,
    /// Where it comes from.
    pub from: Provenance,
}

impl WorkingInput {
    /// An input of a working by its symbol.
    pub fn new(
        symbol: impl Into<Text>,
        what: impl Into<Message>,
        figure: Figure,
        from: Provenance,
    ) -> Self {
        Self { symbol: symbol.into(), what: what.into(), figure, from }
    }
}

/// One step of a working: an equation with its inputs and its result.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// The equation, in symbols.
    pub equation: Text,
    /// The inputs, in the order of the equation.
    pub inputs: Vec<WorkingInput>,
    /// What the step gives.
    pub result: Option<Figure>,
    /// Published source of the equation.
    pub source: Source,
}

/// One checked point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// What was checked.
    pub id: Check,
    /// Id of the room, fan, run, part or terminal that is checked.
    pub subject: String,
    /// What was found.
    pub verdict: Verdict,
    /// The finding in a sentence.
    pub message: Message,
    /// The figure that was compared.
    pub figure: Option<Figure>,
    /// The limit it was compared with.
    pub limit: Option<Figure>,
    /// Chance that the check holds, where it was judged from draws.
    pub chance: Option<f64>,
    /// Source of the limit.
    pub source: Source,
    /// How the figure was worked out.
    pub working: Vec<Step>,
    /// What to do, cheapest first.
    pub todo: Vec<Message>,
    /// The user's reason for going on in spite of it.
    pub overridden: Option<String>,
}

impl Finding {
    /// A finding with its sentence; everything else is added by the methods below.
    pub fn new(
        id: Check,
        subject: &str,
        verdict: Verdict,
        message: impl Into<Message>,
        source: Source,
    ) -> Self {
        Self {
            id,
            subject: subject.to_owned(),
            verdict,
            message: message.into(),
            figure: None,
            limit: None,
            chance: None,
            source,
            working: Vec::new(),
            todo: Vec::new(),
            overridden: None,
        }
    }

    /// The same with the figure that was compared.
    #[must_use]
    pub fn figure(mut self, figure: impl Into<Figure>) -> Self {
        self.figure = Some(figure.into());
        self
    }

    /// The same with the limit it was compared with.
    #[must_use]
    pub fn limit(mut self, limit: impl Into<Figure>) -> Self {
        self.limit = Some(limit.into());
        self
    }

    /// The same with the chance that it holds, where one can be told.
    #[must_use]
    pub fn chance(mut self, chance: impl Into<Option<f64>>) -> Self {
        self.chance = chance.into();
        self
    }

    /// The same with a further step of its working.
    #[must_use]
    pub fn step(mut self, step: Step) -> Self {
        self.working.push(step);
        self
    }

    /// The same with a further thing to do.
    #[must_use]
    pub fn todo(mut self, todo: impl Into<Message>) -> Self {
        self.todo.push(todo.into());
        self
    }
}
