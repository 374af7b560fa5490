//! The folder of the workspace, its files, and what a task gives back.

use std::path::{Path, PathBuf};

/// A sentence for the person at the terminal.
pub type Error = String;

/// What a task gives back.
pub type Result<T> = std::result::Result<T, Error>;

/// The folder of the workspace.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Reads a file of the project as text.
///
/// # Errors
/// Names the path.
pub fn read(path: &Path) -> Result<String> {
    std::fs::read_to_string(path)
        .map_err(|error| format!("cannot read {}: {error}", path.display()))
}
