//! The shape of the project, as tests: who may depend on whom, and what each crate must never reach.
//!
//! `docs/architecture.md` states the same rules in prose.

use std::path::Path;

use crate::metadata::{self, Package};
use crate::modules::{self, CIRCLES, Circle};
use crate::source::{self, Source, word_places};
use crate::workspace::{Result, read};

/// What one crate of the workspace may use.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Name of the package.
    pub package: &'static str,
    /// Folder below the root.
    pub folder: &'static str,
    /// Crates of this workspace it may depend on.
    pub may_use: &'static [&'static str],
    /// It computes, and nothing else: no input or output, no clock, no chance, no threads, no hash order.
    pub is_pure: bool,
    /// Further packages it must not reach.
    pub never: &'static [&'static str],
}

/// File formats; the physics knows none.
const FORMATS: &[&str] = &["serde", "serde_json", "toml", "schemars", "csv"];

/// Every crate of the workspace.
pub const RULES: &[Rule] = &[
    Rule {
        package: "dewpath-message",
        folder: "crates/message",
        may_use: &[],
        is_pure: true,
        never: &["serde_json", "toml", "csv"],
    },
    Rule {
        package: "dewpath-units",
        folder: "crates/units",
        may_use: &[],
        is_pure: true,
        never: &["serde_json", "toml", "csv"],
    },
    Rule {
        package: "dewpath-air",
        folder: "crates/air",
        may_use: &["dewpath-units"],
        is_pure: true,
        never: FORMATS,
    },
    Rule {
        package: "dewpath-moisture",
        folder: "crates/moisture",
        may_use: &["dewpath-units", "dewpath-air"],
        is_pure: true,
        // It reads hourly weather, which comes as comma separated values, and no other format.
        never: &["serde_json", "toml", "schemars"],
    },
    Rule {
        package: "dewpath-layout",
        folder: "crates/layout",
        may_use: &["dewpath-units"],
        is_pure: true,
        never: FORMATS,
    },
    Rule {
        package: "dewpath-rulebook",
        folder: "crates/rulebook",
        may_use: &["dewpath-message", "dewpath-units"],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-job-derive",
        folder: "crates/job/derive",
        may_use: &[],
        is_pure: true,
        never: FORMATS,
    },
    Rule {
        package: "dewpath-job",
        folder: "crates/job",
        may_use: &["dewpath-message", "dewpath-units", "dewpath-job-derive"],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-report",
        folder: "crates/report",
        may_use: &["dewpath-message"],
        is_pure: true,
        never: &["toml", "csv"],
    },
    Rule {
        package: "dewpath-case",
        folder: "crates/case",
        may_use: &[
            "dewpath-message",
            "dewpath-units",
            "dewpath-air",
            "dewpath-moisture",
            "dewpath-rulebook",
            "dewpath-job",
            "dewpath-report",
        ],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-judge",
        folder: "crates/judge",
        may_use: &[
            "dewpath-message",
            "dewpath-units",
            "dewpath-air",
            "dewpath-moisture",
            "dewpath-rulebook",
            "dewpath-job",
            "dewpath-report",
            "dewpath-case",
        ],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-propose",
        folder: "crates/propose",
        may_use: &[
            "dewpath-message",
            "dewpath-units",
            "dewpath-air",
            "dewpath-moisture",
            "dewpath-layout",
            "dewpath-rulebook",
            "dewpath-job",
            "dewpath-report",
            "dewpath-case",
            "dewpath-judge",
        ],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-engine",
        folder: "crates/engine",
        may_use: &[
            "dewpath-message",
            "dewpath-units",
            "dewpath-air",
            "dewpath-rulebook",
            "dewpath-job",
            "dewpath-report",
            "dewpath-case",
            "dewpath-judge",
            "dewpath-propose",
        ],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-words",
        folder: "crates/words",
        may_use: &["dewpath-message", "dewpath-units", "dewpath-report"],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-drawing",
        folder: "crates/drawing",
        may_use: &["dewpath-units", "dewpath-job", "dewpath-report", "dewpath-words"],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-folder",
        folder: "crates/folder",
        may_use: &[
            "dewpath-message",
            "dewpath-units",
            "dewpath-moisture",
            "dewpath-rulebook",
            "dewpath-job",
            "dewpath-case",
        ],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "dewpath-wasm",
        folder: "crates/wasm",
        may_use: &[
            "dewpath-message",
            "dewpath-job",
            "dewpath-report",
            "dewpath-case",
            "dewpath-propose",
            "dewpath-engine",
            "dewpath-words",
            "dewpath-drawing",
            "dewpath-folder",
        ],
        // The bindings are its purpose; they are reached for the page's target alone.
        is_pure: false,
        never: &["tokio", "axum", "sqlx", "typst", "clap"],
    },
    Rule {
        package: "dewpath-server",
        folder: "crates/server",
        may_use: &["dewpath-job"],
        is_pure: false,
        never: &["typst", "wasm-bindgen", "clap"],
    },
    Rule {
        package: "dewpath-cli",
        folder: "crates/cli",
        may_use: &[
            "dewpath-message",
            "dewpath-units",
            "dewpath-air",
            "dewpath-moisture",
            "dewpath-layout",
            "dewpath-drawing",
            "dewpath-folder",
            "dewpath-rulebook",
            "dewpath-job",
            "dewpath-report",
            "dewpath-case",
            "dewpath-propose",
            "dewpath-engine",
            "dewpath-words",
            // Behind the feature `office` alone; the program as first built does not reach it.
            "dewpath-server",
        ],
        is_pure: false,
        never: &["tokio", "axum", "sqlx", "typst", "wasm-bindgen"],
    },
    Rule {
        package: "xtask-bindgen",
        folder: "xtask/bindgen",
        may_use: &[],
        is_pure: false,
        never: &[],
    },
    Rule {
        package: "dewpath-checkvalues",
        folder: "reference/checkvalues",
        may_use: &[],
        is_pure: true,
        never: &[],
    },
    Rule {
        package: "xtask",
        folder: "xtask",
        may_use: &["dewpath-checkvalues"],
        is_pure: false,
        never: &[],
    },
];

/// Packages that a crate which only computes must not reach; `typst` stands for `typst-pdf` and the like too.
pub const IMPURE: &[&str] = &[
    "tokio",
    "async-std",
    "smol",
    "axum",
    "hyper",
    "tower",
    "reqwest",
    "ureq",
    "sqlx",
    "rusqlite",
    "libsqlite3-sys",
    "typst",
    "wasm-bindgen",
    "js-sys",
    "web-sys",
    "rand",
    "rand_core",
    "getrandom",
    "fastrand",
    "uuid",
    "chrono",
    "jiff",
    "time",
    "clap",
    "rayon",
    "tracing-subscriber",
];

/// Words that must not stand in the shipped code of a crate which only computes, each with the way out.
pub const IMPURE_WORDS: &[(&str, &str)] = &[
    ("std::fs", "take the text as an argument; the program reads files"),
    ("std::net", "take the data as an argument"),
    ("std::process", "leave it to the program"),
    ("std::env", "take it as an argument"),
    ("std::thread", "the caller decides about threads"),
    ("std::time", "take the time as an argument"),
    ("SystemTime", "take the time as an argument"),
    ("Instant", "take the time as an argument"),
    ("stdin", "take the text as an argument"),
    ("stdout", "give the text back"),
    ("stderr", "give the text back"),
    ("HashMap", "use BTreeMap: the same order on every machine"),
    ("HashSet", "use BTreeSet: the same order on every machine"),
    ("println!", "give the text back"),
    ("eprintln!", "give the text back"),
    ("print!", "give the text back"),
    ("eprint!", "give the text back"),
    ("dbg!", "take it out"),
];

/// Checks every rule against the workspace at `root`.
///
/// # Errors
/// Lists every breach with its place and the way out.
pub fn check(root: &Path) -> Result<()> {
    let packages = metadata::packages(root)?;
    let mut breaches = direction_breaches(&packages);
    for rule in RULES {
        let reached = metadata::reached(root, rule.package)?;
        breaches.extend(reach_breaches(rule, &reached));
        breaches
            .extend(manifest_breaches(rule, &read(&root.join(rule.folder).join("Cargo.toml"))?));
        if rule.is_pure {
            breaches.extend(folder_breaches(root, rule)?);
        }
    }
    let folders: Vec<&str> = RULES.iter().map(|rule| rule.folder).collect();
    breaches.extend(modules::breaches(root, &folders)?);
    breaches.extend(crate::sentences::breaches(root)?);
    for Circle { folder, files, why } in CIRCLES {
        println!("a circle is left in {folder} ({}): {why}", files.join(", "));
    }
    if breaches.is_empty() { Ok(()) } else { Err(format!("shape:\n  {}", breaches.join("\n  "))) }
}

/// Edges between crates of the workspace that no rule allows, and crates without a rule.
pub fn direction_breaches(packages: &[Package]) -> Vec<String> {
    let members: Vec<&Package> = packages.iter().filter(|package| package.is_member).collect();
    let mut breaches = Vec::new();
    for member in &members {
        let Some(rule) = RULES.iter().find(|rule| rule.package == member.name) else {
            breaches.push(format!("{} has no rule; add one to architecture.rs", member.name));
            continue;
        };
        for used in &member.normal_dependencies {
            let is_member = members.iter().any(|other| other.name == *used);
            if is_member && !rule.may_use.contains(&used.as_str()) {
                breaches.push(format!("{} must not depend on {used}", member.name));
            }
        }
    }
    breaches
}

/// Packages in `reached` that the rule forbids.
pub fn reach_breaches(rule: &Rule, reached: &[String]) -> Vec<String> {
    let impure = if rule.is_pure { IMPURE } else { &[] };
    let is_banned = |name: &str| {
        let banned = impure.iter().chain(rule.never);
        banned
            .into_iter()
            .any(|ban| name == *ban || (*ban == "typst" && name.starts_with("typst-")))
    };
    let found = reached.iter().filter(|name| is_banned(name));
    found
        .map(|name| {
            let package = rule.package;
            format!(
                "{package} reaches {name}; see `cargo tree -p {package} -e normal,build -i {name}`"
            )
        })
        .collect()
}

/// A manifest that leaves the lints of the workspace, or may be published by accident.
pub fn manifest_breaches(rule: &Rule, manifest: &str) -> Vec<String> {
    let asks = [
        ("[lints]\nworkspace = true", "does not take the lints of the workspace"),
        ("license.workspace = true", "does not take the licence of the workspace"),
    ];
    let missing = asks.iter().filter(|(text, _)| !manifest.contains(text));
    missing.map(|(text, what)| format!("{}: {what}; add `{text}`", rule.package)).collect()
}

/// Words in the shipped code of a Rust file that a crate which only computes must not use.
pub fn word_breaches(path: &str, text: &str) -> Vec<String> {
    let source = Source::new(text);
    let code = source.shipped();
    let mut breaches = Vec::new();
    for (word, way_out) in IMPURE_WORDS {
        for at in word_places(&code, word) {
            breaches.push(format!("{path}:{}: no `{word}` here: {way_out}", source.line(at)));
        }
        let Some(part) = word.strip_prefix("std::") else { continue };
        for (at, list) in grouped_imports(&code) {
            if !word_places(list, part).is_empty() {
                breaches.push(format!("{path}:{}: no `{word}` here: {way_out}", source.line(at)));
            }
        }
    }
    breaches
}

/// `std::{…}` lists: where each begins and what it names.
fn grouped_imports(code: &str) -> impl Iterator<Item = (usize, &str)> {
    code.match_indices("std::{").map(|(at, opening)| {
        let inside = &code[at + opening.len()..];
        (at, &inside[..inside.find(';').unwrap_or(inside.len())])
    })
}

fn folder_breaches(root: &Path, rule: &Rule) -> Result<Vec<String>> {
    let mut breaches = Vec::new();
    for path in source::files(&root.join(rule.folder).join("src"), &[".rs"])? {
        let shown = path.strip_prefix(root).unwrap_or(&path).display().to_string();
        breaches.extend(word_breaches(&shown, &read(&path)?));
    }
    Ok(breaches)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn member(name: &str, uses: &[&str]) -> Package {
        Package {
            name: name.into(),
            version: "0.1.0".into(),
            licence: None,
            is_member: true,
            normal_dependencies: uses.iter().map(ToString::to_string).collect(),
            targets: Vec::new(),
        }
    }

    fn rule(package: &str) -> &'static Rule {
        RULES.iter().find(|rule| rule.package == package).unwrap()
    }

    #[test]
    fn an_edge_against_the_direction_is_found() {
        let packages =
            [member("dewpath-units", &[]), member("dewpath-air", &["dewpath-units", "libm"])];
        assert!(direction_breaches(&packages).is_empty());
        let packages = [member("dewpath-units", &["dewpath-air"]), member("dewpath-air", &[])];
        assert_eq!(direction_breaches(&packages), ["dewpath-units must not depend on dewpath-air"]);
    }

    #[test]
    fn a_crate_without_a_rule_is_found() {
        assert_eq!(direction_breaches(&[member("dewpath-new", &[])]).len(), 1);
    }

    #[test]
    fn a_banned_package_is_found_however_deep() {
        let reached = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
        let engine = rule("dewpath-engine");
        assert!(reach_breaches(engine, &reached(&["serde", "libm"])).is_empty());
        assert_eq!(reach_breaches(engine, &reached(&["getrandom", "typst-pdf"])).len(), 2);
        assert_eq!(reach_breaches(rule("dewpath-air"), &reached(&["serde"])).len(), 1);
        assert!(reach_breaches(rule("dewpath-cli"), &reached(&["clap"])).is_empty());
    }

    #[test]
    fn impure_words_are_found_in_code_alone() {
        let found = |text: &str| word_breaches("a.rs", text).len();
        assert_eq!(found("/// `std::fs` is not used\nfn f() { let s = \"println!\"; }"), 0);
        assert_eq!(found("use std::fs;"), 1);
        assert_eq!(found("use std::{collections::BTreeMap, fs};"), 1);
        assert_eq!(found("use std::collections::{BTreeMap, HashMap};"), 1);
        assert_eq!(found("fn f() { println!(\"x\"); }"), 1);
        assert_eq!(found("fn f() { std::time::Instant::now(); }"), 2);
        assert_eq!(found("#[cfg(test)]\nmod tests {\n    use std::fs;\n}"), 0);
    }

    #[test]
    fn a_breach_names_its_line() {
        let found = word_breaches("crates/air/src/fan.rs", "fn a() {}\nuse std::fs;\n");
        assert!(found[0].starts_with("crates/air/src/fan.rs:2:"), "{found:?}");
    }

    #[test]
    fn a_manifest_outside_the_lints_is_found() {
        assert_eq!(manifest_breaches(rule("xtask"), "[package]\nname = \"xtask\"\n").len(), 2);
    }
}
