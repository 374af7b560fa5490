//! Reads the job and everything it names from disk.

use std::io::ErrorKind;
use std::path::Path;

use dewpath_folder::{Folder, Options};
pub(crate) use dewpath_folder::{Opened as Loaded, Trouble};
use dewpath_message::Text;
use dewpath_message::slot::Name;

use crate::args::Judge;
use crate::say::{Cannot, CannotKey, Hint, Reason};

/// Files of this machine; a name is a path.
struct Disk;

impl Folder for Disk {
    fn bytes(&self, name: &str) -> Result<Vec<u8>, Trouble> {
        std::fs::read(name).map_err(|error| {
            let is_folder = error.kind() == ErrorKind::IsADirectory;
            let hint = if is_folder { Hint::NameFile } else { Hint::CheckPath };
            cannot(CannotKey::Read, Path::new(name), &error, hint)
        })
    }

    fn beside(&self, file: &str, named: &str) -> String {
        let folder = Path::new(file).parent().unwrap_or(Path::new("."));
        folder.join(named).display().to_string()
    }
}

/// Reads a job, its libraries, its rule books and amendments.
pub(crate) fn load(path: &Path, judge: &Judge) -> Result<Loaded, Trouble> {
    let libraries = judge.libraries.iter().map(|path| path.display().to_string()).collect();
    let options = Options { as_designed: judge.as_designed, libraries };
    dewpath_folder::open(&Disk, &path.display().to_string(), &options)
}

/// Why a file cannot be used, in words of ours where there are any.
pub(crate) fn reason(error: &std::io::Error) -> Text {
    match error.kind() {
        ErrorKind::NotFound => Reason::NotThere.into(),
        ErrorKind::IsADirectory => Reason::IsFolder.into(),
        ErrorKind::PermissionDenied => Reason::Denied.into(),
        ErrorKind::AlreadyExists => Reason::ThereAlready.into(),
        _ => error.to_string().into(),
    }
}

/// What cannot be done with a file or folder, why, and how to go on.
pub(crate) fn cannot(key: CannotKey, path: &Path, error: &std::io::Error, hint: Hint) -> Trouble {
    let message = Cannot { key, path: name(path), why: reason(error) };
    Trouble::Other { message: message.into(), hint: hint.into() }
}

/// A path as it is shown.
pub(crate) fn name(path: &Path) -> Name {
    Name::new(path.display().to_string())
}
