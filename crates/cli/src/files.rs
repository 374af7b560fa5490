//! Reads the job and everything it names from disk.

use std::io::ErrorKind;
use std::path::Path;

use dewpath_folder::{Folder, Options};
pub(crate) use dewpath_folder::{Opened as Loaded, Trouble};

use crate::args::Judge;

/// Files of this machine; a name is a path.
struct Disk;

impl Folder for Disk {
    fn bytes(&self, name: &str) -> Result<Vec<u8>, Trouble> {
        std::fs::read(name).map_err(|error| Trouble::Other {
            message: format!("`{name}` cannot be read: {}", reason(&error)),
            hint: if error.kind() == ErrorKind::IsADirectory {
                "name a file in it".to_owned()
            } else {
                "check the path; `dewpath new FILE` writes a job to start from".to_owned()
            },
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
pub(crate) fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::PermissionDenied => "permission is denied".to_owned(),
        ErrorKind::AlreadyExists => "it is there already".to_owned(),
        _ => error.to_string(),
    }
}
