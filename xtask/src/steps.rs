//! `cargo xtask test`: every test there is, in order, stopping at the first step that fails.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use crate::metadata::{self, Target};
use crate::programs::{self, TESTED, cargo_command};
use crate::source::{self, Source, TestFunction};
use crate::workspace::{Result, read, root};
use crate::{architecture, codegen, counts, licences, page, tidy, tools, wasm};

/// One step of the tests.
pub struct Step {
    /// What a developer types to run it alone.
    pub name: &'static str,
    /// One line about it.
    pub about: &'static str,
    /// Runs it in the folder of the workspace.
    run: fn(&Path) -> Result<()>,
}

/// Every step, quick ones first.
pub const ALL: &[Step] = &[
    Step { name: "fmt", about: "the source is formatted", run: fmt },
    Step { name: "tidy", about: "no leftovers, no paths of one machine", run: tidy::check },
    Step { name: "licences", about: "every dependency may be used", run: licence_step },
    Step {
        name: "architecture",
        about: "who depends on whom, what is never reached",
        run: architecture::check,
    },
    Step { name: "clippy", about: "no lint speaks", run: clippy },
    Step { name: "docs", about: "the documentation builds without a warning", run: docs },
    Step { name: "build", about: "the programs, as they are shipped", run: build },
    Step { name: "tests", about: "unit, property and integration tests", run: tests },
    Step { name: "doctests", about: "examples in the documentation", run: doctests },
    Step { name: "codegen", about: "generated files are current", run: codegen::check },
    Step { name: "fuzz", about: "parsers under random input", run: fuzz },
    Step { name: "reference", about: "against general-purpose libraries, live", run: reference },
    Step {
        name: "wasm",
        about: "the engine of the page, the same bytes as the native one",
        run: wasm::same,
    },
    Step { name: "page", about: "the page, used in a browser", run: page::tests },
    Step { name: "instructions", about: "instruction counts of the kernels", run: instructions },
    Step { name: "benches", about: "the benchmarks, each run once", run: benches },
];

/// What all steps together may take from a fresh clone on two cores.
const AIM: Duration = Duration::from_secs(25 * 60);

/// Seconds for each fuzz target unless `DEWPATH_FUZZ_SECONDS` says otherwise.
const FUZZ_SECONDS: u64 = 2;

/// Runs the named steps in their usual order, or all of them when none is named.
///
/// # Errors
/// At the first step that fails, or when a name is not known.
pub fn test(names: &[&str]) -> Result<()> {
    let steps = chosen(names)?;
    let mut took: Vec<(&str, Duration)> = Vec::new();
    for (number, step) in (1..).zip(&steps) {
        println!("\n== {number}/{} {}: {}", steps.len(), step.name, step.about);
        let start = Instant::now();
        let outcome = (step.run)(&root());
        took.push((step.name, start.elapsed()));
        println!("== {} took {:.1} s", step.name, start.elapsed().as_secs_f64());
        if let Err(why) = outcome {
            println!("\n{}", summary(&took, Some(step.name)));
            let name = step.name;
            return Err(format!(
                "step `{name}` failed: {why}\nRun it alone: cargo xtask test {name}"
            ));
        }
    }
    println!("\n{}", summary(&took, None));
    Ok(())
}

fn chosen(names: &[&str]) -> Result<Vec<&'static Step>> {
    if let Some(stranger) = names.iter().find(|name| !ALL.iter().any(|step| step.name == **name)) {
        let known: Vec<&str> = ALL.iter().map(|step| step.name).collect();
        return Err(format!("no step `{stranger}`; there are: {}", known.join(", ")));
    }
    Ok(ALL.iter().filter(|step| names.is_empty() || names.contains(&step.name)).collect())
}

fn summary(took: &[(&str, Duration)], failed: Option<&str>) -> String {
    let mut lines = vec![String::from("step           seconds")];
    for (name, duration) in took {
        let outcome = if failed == Some(name) { "FAILED" } else { "ok" };
        lines.push(format!("{name:<13} {:>8.1}  {outcome}", duration.as_secs_f64()));
    }
    let total: Duration = took.iter().map(|(_, duration)| *duration).sum();
    let aim = AIM.as_secs();
    lines.push(format!("{:<13} {:>8.1}  of {aim} for all steps", "total", total.as_secs_f64()));
    if failed.is_none() {
        lines.push(format!("all {} steps passed", took.len()));
    }
    lines.join("\n")
}

fn is_set(name: &str) -> bool {
    std::env::var_os(name).is_some_and(|value| !value.is_empty())
}

fn fmt(root: &Path) -> Result<()> {
    tools::run(&mut cargo_command(root, &["fmt", "--all", "--check"]))
}

fn licence_step(root: &Path) -> Result<()> {
    let count = licences::check(root)?;
    println!("{count} packages, every licence allowed");
    Ok(())
}

fn clippy(root: &Path) -> Result<()> {
    let arguments = ["clippy", "--locked", "--workspace", "--all-targets", "--", "-D", "warnings"];
    tools::run(&mut cargo_command(root, &arguments))
}

fn docs(root: &Path) -> Result<()> {
    let mut command = cargo_command(root, &["doc", "--locked", "--workspace", "--no-deps"]);
    tools::run(command.env("RUSTDOCFLAGS", "-D warnings"))
}

fn build(root: &Path) -> Result<()> {
    programs::shipped(root).map(|_| ())
}

fn tests(root: &Path) -> Result<()> {
    tools::run(&mut nextest_command(root)?)
}

fn nextest_command(root: &Path) -> Result<Command> {
    let mut command = Command::new(tools::nextest(root)?);
    command.args(["nextest", "run", "--locked", "--no-tests", "fail"]).args(TESTED);
    command.current_dir(root).env("INSTA_UPDATE", "no");
    let profiles = [("DEWPATH_FULL", "full"), ("CI", "ci")];
    if let Some((_, profile)) = profiles.into_iter().find(|(name, _)| is_set(name)) {
        command.args(["--profile", profile]);
    }
    Ok(command)
}

fn doctests(root: &Path) -> Result<()> {
    tools::run(cargo_command(root, &["test", "--locked", "--doc"]).args(TESTED))
}

fn fuzz(root: &Path) -> Result<()> {
    let seconds = fuzz_seconds(std::env::var("DEWPATH_FUZZ_SECONDS").ok().as_deref())?;
    let targets = fuzz_targets(root)?;
    if targets.is_empty() {
        return Err("no test feeds random input to a parser (none uses `bolero`)".into());
    }
    let filters = targets
        .iter()
        .map(|(package, name)| format!("(package(={package}) & test(/(^|::){name}$/))"));
    let filter = filters.collect::<Vec<_>>().join(" | ");
    let mut command = nextest_command(root)?;
    command.args(["--filterset", &filter]);
    command.env("BOLERO_RANDOM_TEST_TIME_MS", (seconds * 1000).to_string());
    tools::run(&mut command)
}

/// The tests that call `check!` of bolero: package and name.
fn fuzz_targets(root: &Path) -> Result<Vec<(&'static str, String)>> {
    let mut found = Vec::new();
    for rule in architecture::RULES.iter().filter(|rule| rule.package != "xtask") {
        for path in source::files(&root.join(rule.folder), &[".rs"])? {
            let names = fuzz_targets_in(&read(&path)?);
            found.extend(names.into_iter().map(|name| (rule.package, name)));
        }
    }
    Ok(found)
}

fn fuzz_targets_in(text: &str) -> Vec<String> {
    if !text.contains("bolero") {
        return Vec::new();
    }
    let file = Source::new(text);
    let is_target = |test: &&TestFunction| file.code[test.range.clone()].contains("check!(");
    file.tests.iter().filter(is_target).map(|test| test.name.clone()).collect()
}

fn fuzz_seconds(asked: Option<&str>) -> Result<u64> {
    let Some(text) = asked else { return Ok(FUZZ_SECONDS) };
    match text.parse() {
        Ok(seconds @ 1..=86_400) => Ok(seconds),
        _ => Err(format!("DEWPATH_FUZZ_SECONDS is `{text}`; write whole seconds, 1 to 86400")),
    }
}

fn reference(root: &Path) -> Result<()> {
    let examples = programs::examples(root)?;
    let shipped = programs::shipped(root)?;
    let python = tools::reference_python(root)?;
    tools::run(
        Command::new(python)
            .args(["-m", "pytest", "-p", "no:cacheprovider", "reference"])
            .current_dir(root)
            .env("PYTHONDONTWRITEBYTECODE", "1")
            .env("DEWPATH_EXAMPLES", examples)
            .env("DEWPATH_PROGRAM", shipped.dewpath),
    )
}

fn instructions(root: &Path) -> Result<()> {
    let benches = targets(root, "bench", counts_instructions)?;
    let packages = metadata::packages(root)?;
    let library = packages.iter().find(|package| package.name == "gungraun");
    let Some(library) = library.filter(|_| !benches.is_empty()) else {
        return Err("no benchmark counts instructions (none uses `gungraun`)".into());
    };
    tools::valgrind()?;
    let runner = tools::gungraun_runner(root, &library.version)?;
    let mut command = cargo_command(root, &["bench", "--locked"]);
    command.args(bench_arguments(&benches)).env("GUNGRAUN_RUNNER", runner);
    let printed = tools::run_and_read(&mut command)?;
    let listed = counts::listed(&read(&root.join(counts::LIST))?)?;
    let complaints = counts::complaints(&counts::printed(&printed), &listed);
    if complaints.is_empty() { Ok(()) } else { Err(complaints.join("\n  ")) }
}

/// Each once, compiled as the tests are: that it works at all. How fast it is, nobody asks here.
fn benches(root: &Path) -> Result<()> {
    let benches = targets(root, "bench", |target| !counts_instructions(target))?;
    if benches.is_empty() {
        return Err("there is no benchmark to run".into());
    }
    let names = benches.iter().flat_map(|(_, bench)| ["--bench", bench.name.as_str()]);
    tools::run(cargo_command(root, &["test", "--locked"]).args(TESTED).args(names))
}

/// Arguments that name benchmarks and their packages, each once.
fn bench_arguments(benches: &[(String, Target)]) -> Vec<String> {
    let packages = benches.iter().map(|(package, _)| ["--package", package]);
    let names: BTreeSet<&str> = benches.iter().map(|(_, bench)| bench.name.as_str()).collect();
    let names = names.into_iter().map(|name| ["--bench", name]);
    packages.chain(names).flatten().map(String::from).collect()
}

fn counts_instructions(target: &Target) -> bool {
    std::fs::read_to_string(&target.path).is_ok_and(|text| text.contains("gungraun"))
}

/// Targets of the workspace of one kind, with the package each belongs to.
fn targets(
    root: &Path,
    kind: &str,
    wanted: impl Fn(&Target) -> bool,
) -> Result<Vec<(String, Target)>> {
    let mut found = Vec::new();
    for package in metadata::packages(root)?.into_iter().filter(|package| package.is_member) {
        let of_kind =
            package.targets.into_iter().filter(|target| target.kind == kind && wanted(target));
        found.extend(of_kind.map(|target| (package.name.clone(), target)));
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_run_in_their_order_whatever_the_order_typed() {
        let names: Vec<&str> =
            chosen(&["clippy", "fmt"]).unwrap().iter().map(|step| step.name).collect();
        assert_eq!(names, ["fmt", "clippy"]);
        assert_eq!(chosen(&[]).unwrap().len(), ALL.len());
    }

    #[test]
    fn an_unknown_step_is_refused_with_the_known_ones() {
        let error = chosen(&["fmt", "lint"]).map(|steps| steps.len()).unwrap_err();
        assert!(error.contains("`lint`") && error.contains("clippy"), "{error}");
    }

    #[test]
    fn step_names_are_unique() {
        let mut names: Vec<&str> = ALL.iter().map(|step| step.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), ALL.len());
    }

    #[test]
    fn the_summary_shows_what_failed() {
        let took = [("fmt", Duration::from_millis(1500)), ("clippy", Duration::from_secs(2))];
        let text = summary(&took, Some("clippy"));
        assert!(text.contains("fmt                1.5  ok"), "{text}");
        assert!(text.contains("clippy             2.0  FAILED"), "{text}");
        assert!(text.contains("total              3.5  of 1500"), "{text}");
        assert!(!text.contains("passed"));
        assert!(summary(&took, None).ends_with("all 2 steps passed"));
    }

    #[test]
    fn fuzz_targets_are_the_tests_that_call_bolero() {
        let text = "use bolero::check;\n#[test]\nfn any_text() { check!().for_each(|_| {}); }\n\
                    #[test]\nfn one_text() { /* check!() */ }\n";
        assert_eq!(fuzz_targets_in(text), ["any_text"]);
        assert!(fuzz_targets_in("#[test]\nfn f() { check!(); }\n").is_empty());
    }

    #[test]
    fn fuzz_seconds_are_whole_and_bounded() {
        assert_eq!(fuzz_seconds(None), Ok(FUZZ_SECONDS));
        assert_eq!(fuzz_seconds(Some("60")), Ok(60));
        for text in ["", "0", "-1", "1.5", "many", "99999999999999999999"] {
            assert!(fuzz_seconds(Some(text)).is_err(), "{text}");
        }
    }
}
