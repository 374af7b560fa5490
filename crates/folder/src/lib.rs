//! A job with everything it names, gathered from any folder: on a disk, in the memory of a page, on a server.
//!
//! A job file names libraries, rule books, local amendments and weather. Every face needs them all before it can
//! judge; [`open`] brings them together. Where the bytes come from is the face's business: it hands over a [`Folder`].
//!
//! ```
//! use std::collections::BTreeMap;
//! use dewpath_folder::{Memory, Options, open};
//!
//! let job = "format = 1\nname = \"One room\"\n[[room]]\nid = \"bath\"\nkind = \"bathroom\"\n";
//! let folder = Memory(BTreeMap::from([("bath.toml".to_owned(), job.into())]));
//! let opened = open(&folder, "bath.toml", &Options::default()).map_err(|trouble| trouble.to_string())?;
//! assert_eq!(opened.job.name, "One room");
//! # Ok::<(), String>(())
//! ```

pub mod say;
mod weather;

use std::collections::BTreeMap;
use std::fmt;

use dewpath_case::World;
use dewpath_job::model::{Job, Library};
use dewpath_job::{Diagnostics, Read};
use dewpath_message::slot::{Name, Reference};
use dewpath_message::{Speak, Text};
use dewpath_moisture::weather::{ReadOptions, Weather, WeatherError};
use dewpath_rulebook::{Amendment, Book, BookError};
use dewpath_units::Length;

use crate::say::{Books, Hint, NotHere, NotRight};

/// Where the files are.
pub trait Folder {
    /// Bytes of a file; the name is as the job or the caller writes it.
    ///
    /// # Errors
    /// What is wrong and how to go on, when the file can't be had.
    fn bytes(&self, name: &str) -> Result<Vec<u8>, Trouble>;

    /// Name of a file that another file names, as seen from where that one lies.
    fn beside(&self, file: &str, named: &str) -> String;
}

/// Files in memory, by name: those of a page.
#[derive(Debug, Clone, Default)]
pub struct Memory(pub BTreeMap<String, Vec<u8>>);

impl Folder for Memory {
    fn bytes(&self, name: &str) -> Result<Vec<u8>, Trouble> {
        self.0.get(name).cloned().ok_or_else(|| Trouble::Other {
            message: NotHere { file: Name::new(name) }.into(),
            hint: Hint::AddFile.into(),
        })
    }

    fn beside(&self, _file: &str, named: &str) -> String {
        named.to_owned()
    }
}

/// How a job is opened.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// The design as first written, without the values found when it was built.
    pub as_designed: bool,
    /// Libraries besides those the job names, named from where the caller stands.
    pub libraries: Vec<String>,
}

/// Why a job could not be opened.
#[derive(Debug)]
pub enum Trouble {
    /// The job or a library is not right; the diagnostics say where.
    Input(Diagnostics),
    /// A rule book or an amendment is not right.
    Book {
        /// File of the amendment; none for a book that comes with the program.
        file: Option<String>,
        /// What is wrong.
        error: Box<BookError>,
        /// How to go on.
        hint: Text,
    },
    /// A weather file cannot be used.
    Weather {
        /// The file.
        file: String,
        /// What is wrong.
        error: Box<WeatherError>,
        /// How to go on.
        hint: Text,
    },
    /// A file cannot be read.
    Other {
        /// What is wrong.
        message: Text,
        /// How to go on.
        hint: Text,
    },
}

/// For developers; people are shown what the diagnostics render, or message and hint.
impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(diagnostics) => write!(f, "{diagnostics}"),
            Self::Book { error, hint, .. } => write!(f, "{error}; {hint}"),
            Self::Weather { file, error, hint } => write!(f, "{file}: {error}; {hint}"),
            Self::Other { message, hint } => write!(f, "{message}; {hint}"),
        }
    }
}

impl Trouble {
    /// What is wrong and how to go on, in the language of a speaker; none where there are diagnostics, which are shown with
    /// their places.
    pub fn told(&self, speaker: &dyn Speak) -> Option<(String, String)> {
        match self {
            Self::Input(_) => None,
            Self::Book { file, error, hint } => {
                let file = file.as_ref().map_or_else(String::new, |file| format!("{file}: "));
                Some((format!("{file}{}", error.told(speaker)), hint.told(speaker)))
            }
            Self::Weather { file, error, hint } => {
                let why = Reference::new(speaker.say(&weather::said(error)));
                let message = NotRight { file: Name::new(file), why };
                Some((speaker.say(&message.into()), hint.told(speaker)))
            }
            Self::Other { message, hint } => Some((message.told(speaker), hint.told(speaker))),
        }
    }
}

impl From<Diagnostics> for Trouble {
    fn from(diagnostics: Diagnostics) -> Self {
        Self::Input(diagnostics)
    }
}

/// A job with everything it is judged against.
#[derive(Debug)]
pub struct Opened {
    /// The job.
    pub job: Job,
    /// What it is judged against.
    pub world: World,
    /// Text of the job file.
    pub text: String,
    /// Warnings about the job, ready to be shown.
    pub warnings: Option<Diagnostics>,
}

/// Reads a job, its libraries, its rule books, amendments and weather.
///
/// # Errors
/// What is wrong in the job or in a file that it names, where, and how to go on.
pub fn open(folder: &dyn Folder, name: &str, options: &Options) -> Result<Opened, Trouble> {
    let bytes = folder.bytes(name)?;
    let text = dewpath_job::decode(name, &bytes)?.to_owned();
    let read: Read = if options.as_designed {
        dewpath_job::read(name, &text)?
    } else {
        dewpath_job::read_as_built(name, &text)?
    };
    let named = read.job.libraries.iter().map(|library| folder.beside(name, library));
    let libraries: Vec<String> = named.chain(options.libraries.iter().cloned()).collect();
    let (products, products_text) = read_libraries(folder, &libraries)?;
    let warnings = read.has_warnings().then(|| read.warnings.clone());
    let amendments = read.job.amendments.iter().map(|file| folder.beside(name, file));
    let rule_book = match &read.job.rule_book {
        Some(id) => Some(amended(load_book(id)?, amendments, folder)?),
        None => None,
    };
    let also_show =
        read.job.also_show.iter().map(|id| load_book(id)).collect::<Result<Vec<_>, _>>()?;
    let job = read.resolve(&products)?;
    let weather = job.site.weather.as_ref().map(|file| folder.beside(name, file));
    let weather = weather.map(|file| read_weather(folder, &file, &job)).transpose()?;
    let job_text = text.clone();
    let world = World { rule_book, also_show, products, weather, job_text, products_text };
    Ok(Opened { job, world, text, warnings })
}

fn read_weather(folder: &dyn Folder, name: &str, job: &Job) -> Result<Weather, Trouble> {
    let altitude = job.site.altitude.as_ref().and_then(|stated| stated.value.likely());
    let options = ReadOptions { altitude_m: altitude.map(Length::m), ..ReadOptions::default() };
    dewpath_moisture::weather::read(&folder.bytes(name)?, &options).map_err(|error| {
        Trouble::Weather {
            file: name.to_owned(),
            error: Box::new(error),
            hint: Hint::WeatherLayouts.into(),
        }
    })
}

fn read_libraries(folder: &dyn Folder, names: &[String]) -> Result<(Library, String), Trouble> {
    let mut all = Vec::with_capacity(names.len());
    let mut texts = String::new();
    for name in names {
        let bytes = folder.bytes(name)?;
        let text = dewpath_job::decode(name, &bytes)?;
        all.push(if is_csv(name) {
            dewpath_job::library::read_csv(name, text)?
        } else {
            dewpath_job::library::read(name, text)?
        });
        texts.push_str(text);
        texts.push('\0');
    }
    Ok((Library::joined(all), texts))
}

fn is_csv(name: &str) -> bool {
    name.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("csv"))
}

fn load_book(id: &str) -> Result<Book, Trouble> {
    dewpath_rulebook::load(id).map_err(|error| Trouble::Book {
        file: None,
        error: Box::new(error),
        hint: Books { books: Reference::new(dewpath_rulebook::builtin_ids().join(", ")) }.into(),
    })
}

/// Ids of the rule books that come with the program.
pub fn books() -> Vec<String> {
    dewpath_rulebook::builtin_ids().iter().map(ToString::to_string).collect()
}

fn amended(
    mut book: Book,
    amendments: impl Iterator<Item = String>,
    folder: &dyn Folder,
) -> Result<Book, Trouble> {
    for name in amendments {
        let bytes = folder.bytes(&name)?;
        let text = dewpath_job::decode(&name, &bytes)?;
        let wrong = |error: BookError| Trouble::Book {
            file: Some(name.clone()),
            error: Box::new(error),
            hint: Hint::Amendments.into(),
        };
        let amendment = Amendment::parse(text).map_err(wrong)?;
        book = book.amended_by(&amendment).map_err(wrong)?;
    }
    Ok(book)
}
