//! The program, run on an example.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::path::{Path, PathBuf};

use assert_cmd::Command;

pub(crate) fn dewpath() -> Command {
    let mut command = Command::cargo_bin("dewpath").unwrap();
    for name in ["COLUMNS", "NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command
}

pub(crate) fn jobs() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../jobs")
}

pub(crate) fn example(name: &str) -> PathBuf {
    jobs().join(format!("{name}.toml"))
}

pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

pub(crate) fn run(command: &mut Command) -> Ran {
    let output = command.output().unwrap();
    Ran {
        code: output.status.code().expect("ended by itself"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}
