//! Questions that a page asks, and the answers.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use dewpath_folder::{Memory, Opened, Options, Trouble, open};
use dewpath_job::outline::{Form, Written, forms, is_job, outline};
use dewpath_job::patch::{Patch, PatchError, apply};
use dewpath_job::{Diagnostics, Severity};
use dewpath_message::slot::Reference;
use dewpath_message::{Speak as _, Text};
use dewpath_report::{Figure, Report};
use serde::{Deserialize, Serialize};

use crate::ceiling::{self, Drawing, Grip, Paper, Seat, Spot};
use crate::language::{self, speaker, told};
use crate::say::{Hint, NotRead};
use crate::year::{self, Year};

/// A question.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Question {
    /// Speak a language from now on.
    Speak {
        /// Its texts: catalogues, of which a later one is laid over those before it.
        catalogues: Vec<String>,
    },
    /// Judge a job.
    Judge {
        /// Texts of the job and of everything it names, by name.
        files: BTreeMap<String, String>,
        /// Which of them is the job.
        job: String,
        /// Draws over what is not known; 0 takes the likely values alone.
        draws: u32,
    },
    /// Draw a job.
    Sheets {
        /// Texts of the job and of everything it names, by name.
        files: BTreeMap<String, String>,
        /// Which of them is the job.
        job: String,
        /// Draws over what is not known; 0 takes the likely values alone.
        draws: u32,
        /// How wide the drawings are.
        page: Paper,
    },
    /// Follow a job through its year of weather.
    Year {
        /// Texts of the job and of everything it names, by name.
        files: BTreeMap<String, String>,
        /// Which of them is the job.
        job: String,
        /// How wide the drawings are.
        page: Paper,
    },
    /// The style sheet of all drawings.
    SheetStyle,
    /// The place nearest to a spot at which the housing of a fan hangs, and the way outdoors from there.
    Near {
        /// Texts of the job and of everything it names, by name.
        files: BTreeMap<String, String>,
        /// Which of them is the job.
        job: String,
        /// Fan, by its id.
        fan: String,
        /// The spot in the frame of the dwelling, metres.
        at: [f64; 2],
        /// Way out that the way is held to, by its id; the best when left out.
        #[serde(default)]
        way: Option<String>,
        /// Duct that it is held to, by its id; the best when left out.
        #[serde(default)]
        duct: Option<String>,
    },
    /// The spot nearest to a hand at which the terminal of a way out keeps its distances.
    Outlet {
        /// Texts of the job and of everything it names, by name.
        files: BTreeMap<String, String>,
        /// Which of them is the job.
        job: String,
        /// Way out, by its id.
        way: String,
        /// The hand in the frame of the dwelling, x and y in metres; where the job has it when left out.
        #[serde(default)]
        at: Option<[f64; 2]>,
        /// Height of the middle of the terminal, metres, where it is known.
        #[serde(default)]
        level: Option<f64>,
    },
    /// Change the text of a job, comments and layout kept.
    Change {
        /// Text of the job.
        text: String,
        /// What to change.
        patch: Patch,
    },
    /// What the text of a job says, value by value.
    Outline {
        /// Text of the job.
        text: String,
    },
    /// Whether a text is a job rather than something that jobs name.
    IsJob {
        /// The text.
        text: String,
    },
    /// Figures as a person reads them.
    Figures {
        /// `us` or `metric`, as the report says.
        show: String,
        /// The figures.
        figures: Vec<Figure>,
    },
    /// What may stand in a job, and how a new one begins.
    Forms,
}

/// An answer.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// The language that is spoken, by its own name.
    Speaks(String),
    /// The job was judged.
    Judged {
        /// The report, put into words.
        report: Box<Report>,
        /// What is odd in the job.
        warnings: Vec<Problem>,
    },
    /// The job or a file that it names is not right.
    Problems(Vec<Problem>),
    /// What was drawn.
    Sheets(Vec<Drawing>),
    /// The job through its year.
    Year(Box<Year>),
    /// The style sheet of all drawings.
    SheetStyle(String),
    /// The place; none where the housing hangs nowhere or too little is known.
    Near(Option<Box<Seat>>),
    /// The spot; none where the window of the way out is not known.
    Outlet(Option<Box<Spot>>),
    /// The changed text.
    Changed {
        /// Text of the job.
        text: String,
    },
    /// What the job says.
    Outline(Vec<Written>),
    /// Whether it is a job.
    IsJob(bool),
    /// The figures in words, in the same order.
    Figures(Vec<String>),
    /// Tables of a job with what may stand in them.
    Forms {
        /// The tables.
        tables: Vec<Form>,
        /// A job to start from.
        starter: &'static str,
        /// Rule books by id.
        books: Vec<String>,
    },
}

/// Something that is wrong or odd, and where.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Problem {
    /// File it is in; empty when it is in none.
    pub file: String,
    /// Which value, as a path; empty for a whole file.
    pub path: String,
    /// Line, from 1; 0 when it is in no file.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Whether nothing can be judged until it is put right.
    pub stops: bool,
    /// What is wrong.
    pub message: String,
    /// Ways out.
    pub help: Vec<String>,
}

impl Problem {
    fn of(diagnostics: &Diagnostics) -> Vec<Self> {
        let speaker = told();
        let one = |d: &dewpath_job::Diagnostic| {
            let (line, column) = diagnostics.line_and_column(d.span.start);
            Self {
                file: diagnostics.file.clone(),
                path: d.path.clone(),
                line,
                column,
                stops: d.severity == Severity::Error,
                message: speaker.say(&d.message),
                help: d.help.iter().map(|help| speaker.say(help)).collect(),
            }
        };
        diagnostics.list.iter().map(one).collect()
    }

    fn of_change(error: &PatchError) -> Self {
        let speaker = told();
        Self::plain(&error.at, speaker.say(&error.message), speaker.say(&error.hint))
    }

    fn plain(path: &str, message: impl Into<Text>, hint: impl Into<Text>) -> Self {
        let speaker = told();
        Self {
            file: String::new(),
            path: path.to_owned(),
            line: 0,
            column: 0,
            stops: true,
            message: message.into().told(&speaker),
            help: vec![hint.into().told(&speaker)],
        }
    }
}

/// Answers a question; both are JSON. A question that can't be read is answered with a problem, never with a panic.
pub fn ask(question: &str) -> String {
    ask_telling(question, &|_| {})
}

/// Answers a question as [`ask`] does. `told` hears how much of a year is over while it is followed, a growing share above 0 to 1.
pub fn ask_telling(question: &str, told: &dyn Fn(f64)) -> String {
    let answer = match serde_json::from_str(question) {
        Ok(question) => answer(question, told),
        Err(error) => Answer::Problems(vec![Problem::plain(
            "",
            NotRead { why: Reference::new(error.to_string()) },
            Hint::Reload,
        )]),
    };
    serde_json::to_string(&answer).unwrap_or_else(|error| {
        format!(r#"{{"problems":[{{"file":"","path":"","line":0,"column":0,"stops":true,"message":"{error}","help":[]}}]}}"#)
    })
}

fn answer(question: Question, told: &dyn Fn(f64)) -> Answer {
    match question {
        Question::Speak { catalogues } => Answer::Speaks(language::speak(&catalogues)),
        Question::Judge { files, job, draws } => judge(files, &job, draws),
        Question::Sheets { files, job, draws, page } => {
            opened(files, &job, |opened| Answer::Sheets(ceiling::draw(opened, draws, page)))
        }
        Question::Year { files, job, page } => {
            opened(files, &job, |opened| Answer::Year(Box::new(year::year(opened, page, told))))
        }
        Question::SheetStyle => Answer::SheetStyle(dewpath_drawing::svg::style_sheet()),
        Question::Near { files, job, fan, at, way, duct } => opened(files, &job, |opened| {
            let grip = Grip { fan, way_out: way, duct };
            Answer::Near(ceiling::near(opened, grip, at).map(Box::new))
        }),
        Question::Outlet { files, job, way, at, level } => opened(files, &job, |opened| {
            Answer::Outlet(ceiling::spot(opened, &way, at, level).map(Box::new))
        }),
        Question::Change { text, patch } => match apply(&text, &patch) {
            Ok(text) => Answer::Changed { text },
            Err(error) => Answer::Problems(vec![Problem::of_change(&error)]),
        },
        Question::Outline { text } => match outline(&text) {
            Ok(said) => Answer::Outline(said),
            Err(error) => Answer::Problems(vec![Problem::of_change(&error)]),
        },
        Question::IsJob { text } => Answer::IsJob(is_job(&text)),
        Question::Figures { show, figures } => {
            let speaker = speaker(&show);
            Answer::Figures(figures.into_iter().map(|figure| speaker.figure(figure)).collect())
        }
        Question::Forms => {
            let speaker = language::told();
            let tables = forms().into_iter().map(|form| form.told(|id| speaker.known(id)));
            Answer::Forms {
                tables: tables.collect(),
                starter: dewpath_job::starter(),
                books: dewpath_folder::books(),
            }
        }
    }
}

fn judge(files: BTreeMap<String, String>, job: &str, draws: u32) -> Answer {
    opened(files, job, |opened| {
        let mut report = dewpath_engine::evaluate(&opened.job, &opened.world, draws);
        speaker(&report.show).put_into_words(&mut report);
        let warnings = opened.warnings.as_ref().map(Problem::of).unwrap_or_default();
        Answer::Judged { report: Box::new(report), warnings }
    })
}

/// The job that was opened last, with the texts it was opened from.
struct Kept {
    files: BTreeMap<String, String>,
    job: String,
    opened: Rc<Opened>,
}

thread_local! {
    /// A finger that drags a housing asks for the same job at every step, and reading it takes longer than the place does.
    static LAST: RefCell<Option<Kept>> = const { RefCell::new(None) };
}

/// Opens a job, unless it is the one that was opened last, and answers from it.
fn opened(
    files: BTreeMap<String, String>,
    job: &str,
    answer: impl FnOnce(&Rc<Opened>) -> Answer,
) -> Answer {
    let kept = LAST.with_borrow(|last| {
        let same = last.as_ref().filter(|kept| kept.job == job && kept.files == files);
        same.map(|kept| Rc::clone(&kept.opened))
    });
    if let Some(opened) = kept {
        return answer(&opened);
    }
    // One by one: a map that is collected sorts, and every copy of the general sort is loaded.
    let mut texts = BTreeMap::new();
    texts.extend(files.iter().map(|(name, text)| (name.clone(), text.clone().into_bytes())));
    match open(&Memory(texts), job, &Options::default()) {
        Ok(opened) => {
            let opened = Rc::new(opened);
            let kept = Kept { files, job: job.to_owned(), opened: Rc::clone(&opened) };
            LAST.set(Some(kept));
            answer(&opened)
        }
        Err(Trouble::Input(diagnostics)) => Answer::Problems(Problem::of(&diagnostics)),
        Err(trouble) => {
            let (message, hint) = trouble.told(&told()).unwrap_or_default();
            Answer::Problems(vec![Problem::plain("", message, hint)])
        }
    }
}
