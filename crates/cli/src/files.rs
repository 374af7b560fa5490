//! Reads the job and everything it names from disk.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use dewpath_engine::World;
use dewpath_job::model::{Job, Library};
use dewpath_job::{Diagnostics, Read};
use dewpath_moisture::weather::{ReadOptions, Weather};
use dewpath_rulebook::{Amendment, Book};
use dewpath_units::Length;

use crate::args::Judge;

/// Why a job could not be judged.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// The job or a library is not right; the diagnostics say where.
    Input(Diagnostics),
    /// A file cannot be read or a book is not right.
    Other {
        /// What is wrong.
        message: String,
        /// How to go on.
        hint: String,
    },
}

impl From<Diagnostics> for Trouble {
    fn from(diagnostics: Diagnostics) -> Self {
        Self::Input(diagnostics)
    }
}

/// A job with everything it is judged against.
pub(crate) struct Loaded {
    pub job: Job,
    pub world: World,
    /// Text of the job file.
    pub text: String,
    /// Warnings about the job, ready to be shown.
    pub warnings: Option<Diagnostics>,
}

/// Reads a job, its libraries, its rule books and amendments.
pub(crate) fn load(path: &Path, judge: &Judge) -> Result<Loaded, Trouble> {
    let name = path.display().to_string();
    let bytes = read_bytes(path)?;
    let text = dewpath_job::decode(&name, &bytes)?.to_owned();
    let read: Read = if judge.as_designed {
        dewpath_job::read(&name, &text)?
    } else {
        dewpath_job::read_as_built(&name, &text)?
    };
    let folder = path.parent().unwrap_or(Path::new("."));
    let named = read.job.libraries.iter().map(|library| folder.join(library));
    let libraries: Vec<PathBuf> = named.chain(judge.library.iter().cloned()).collect();
    let (library, library_text) = read_libraries(&libraries)?;
    let warnings = read.has_warnings().then(|| read.warnings.clone());
    let rule_book = match &read.job.rule_book {
        Some(id) => Some(amended(load_book(id)?, &read.job.amendments, folder)?),
        None => None,
    };
    let also_show =
        read.job.also_show.iter().map(|id| load_book(id)).collect::<Result<Vec<_>, _>>()?;
    let job = read.resolve(&library)?;
    let weather = job.site.weather.as_ref().map(|file| read_weather(&folder.join(file), &job));
    let weather = weather.transpose()?;
    let job_text = text.clone();
    let world = World { rule_book, also_show, library, weather, job_text, library_text };
    Ok(Loaded { job, world, text, warnings })
}

fn read_bytes(path: &Path) -> Result<Vec<u8>, Trouble> {
    std::fs::read(path).map_err(|error| Trouble::Other {
        message: format!("`{}` cannot be read: {}", path.display(), reason(&error)),
        hint: if error.kind() == ErrorKind::IsADirectory {
            "name a file in it".to_owned()
        } else {
            "check the path; `dewpath new FILE` writes a job to start from".to_owned()
        },
    })
}

/// Why a file cannot be used, in words of ours where there are any.
pub(crate) fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::PermissionDenied => "permission is denied".to_owned(),
        ErrorKind::AlreadyExists => "it is there already".to_owned(),
        _ => error.to_string(),
    }
}

/// Reads the hourly weather that a job names.
fn read_weather(path: &Path, job: &Job) -> Result<Weather, Trouble> {
    let altitude = job.site.altitude.as_ref().and_then(|stated| stated.value.likely());
    let options = ReadOptions { altitude_m: altitude.map(Length::m), ..ReadOptions::default() };
    dewpath_moisture::weather::read(&read_bytes(path)?, &options).map_err(|error| Trouble::Other {
        message: format!("{}: {error}", path.display()),
        hint:
            "a typical-year file in the TMY3 layout, or a plain hourly table with units in its head"
                .to_owned(),
    })
}

fn read_libraries(paths: &[PathBuf]) -> Result<(Library, String), Trouble> {
    let mut all = Vec::with_capacity(paths.len());
    let mut texts = String::new();
    for path in paths {
        let name = path.display().to_string();
        let bytes = read_bytes(path)?;
        let text = dewpath_job::decode(&name, &bytes)?;
        let is_csv = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("csv"));
        all.push(if is_csv {
            dewpath_job::library::read_csv(&name, text)?
        } else {
            dewpath_job::library::read(&name, text)?
        });
        texts.push_str(text);
        texts.push('\0');
    }
    Ok((Library::joined(all), texts))
}

fn load_book(id: &str) -> Result<Book, Trouble> {
    dewpath_rulebook::load(id).map_err(|error| Trouble::Other {
        message: error.to_string(),
        hint: format!("books: {}", dewpath_rulebook::builtin_ids().join(", ")),
    })
}

fn amended(mut book: Book, amendments: &[String], folder: &Path) -> Result<Book, Trouble> {
    for amendment in amendments {
        let path = folder.join(amendment);
        let bytes = read_bytes(&path)?;
        let name = path.display().to_string();
        let text = dewpath_job::decode(&name, &bytes)?;
        let wrong = |error: dewpath_rulebook::BookError| Trouble::Other {
            message: format!("{name}: {error}"),
            hint: "see docs/rulebook-format.md for what an amendment looks like".to_owned(),
        };
        let amendment = Amendment::parse(text).map_err(wrong)?;
        book = book.amended_by(&amendment).map_err(wrong)?;
    }
    Ok(book)
}
