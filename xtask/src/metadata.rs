//! What cargo says about the workspace: packages, their licences, their targets and who needs whom.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::workspace::Result;

/// One package, of the workspace or a dependency.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Package {
    /// Name in its manifest.
    pub name: String,
    /// Version in its manifest.
    pub version: String,
    /// Licence expression in its manifest.
    pub licence: Option<String>,
    /// Belongs to this workspace.
    pub is_member: bool,
    /// Names of packages it asks for to build its library or program (neither tests nor build scripts).
    pub normal_dependencies: Vec<String>,
    /// What it builds.
    pub targets: Vec<Target>,
}

/// One thing a package builds: a library, a program, an example, a benchmark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target {
    /// Name of the target.
    pub name: String,
    /// `lib`, `bin`, `example`, `test`, `bench` …
    pub kind: String,
    /// Path of its first source file.
    pub path: String,
}

/// Asks `cargo metadata` for every package of the locked dependency tree.
///
/// # Errors
/// When cargo fails (for one, when `Cargo.lock` is not current) or its answer cannot be read.
pub fn packages(root: &Path) -> Result<Vec<Package>> {
    let output = Command::new(cargo())
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(root)
        .output()
        .map_err(|error| format!("cannot start cargo: {error}"))?;
    if !output.status.success() {
        let said = String::from_utf8_lossy(&output.stderr);
        return Err(format!("`cargo metadata --locked` failed:\n{said}"));
    }
    let text = String::from_utf8_lossy(&output.stdout);
    parse(&text)
}

/// Reads the answer of `cargo metadata --format-version 1`.
///
/// # Errors
/// When it is not the JSON that cargo documents.
pub fn parse(text: &str) -> Result<Vec<Package>> {
    let document: Value = serde_json::from_str(text)
        .map_err(|error| format!("the answer of `cargo metadata` is not JSON: {error}"))?;
    let members = strings(&document["workspace_members"]);
    let Some(packages) = document["packages"].as_array() else {
        return Err("the answer of `cargo metadata` lists no packages".into());
    };
    packages.iter().map(|package| read_package(package, &members)).collect()
}

/// The packages that package `name` reaches when its library or program is built, by name.
///
/// Features are those cargo resolves for this package alone, on every platform; tests are left out.
///
/// # Errors
/// When `cargo tree` fails.
pub fn reached(root: &Path, name: &str) -> Result<Vec<String>> {
    let output = Command::new(cargo())
        .args(["tree", "--package", name, "--edges", "normal,build", "--target", "all"])
        .args(["--prefix", "none", "--format", "{p}", "--locked"])
        .current_dir(root)
        .output()
        .map_err(|error| format!("cannot start cargo: {error}"))?;
    if !output.status.success() {
        let said = String::from_utf8_lossy(&output.stderr);
        return Err(format!("`cargo tree --package {name}` failed:\n{said}"));
    }
    let text = String::from_utf8_lossy(&output.stdout);
    let mut names: Vec<String> =
        text.lines().filter_map(|line| line.split_whitespace().next()).map(String::from).collect();
    names.sort();
    names.dedup();
    Ok(names)
}

/// The cargo that runs us, or the one on the path.
pub fn cargo() -> String {
    std::env::var("CARGO").unwrap_or_else(|_| "cargo".into())
}

fn read_package(package: &Value, members: &[String]) -> Result<Package> {
    let text = |key: &str| package[key].as_str().map(String::from);
    let Some((name, version)) = text("name").zip(text("version")) else {
        return Err("`cargo metadata` lists a package without name or version".into());
    };
    let id = text("id").unwrap_or_default();
    let targets = package["targets"].as_array().map(Vec::as_slice).unwrap_or_default();
    let dependencies = package["dependencies"].as_array().map(Vec::as_slice).unwrap_or_default();
    Ok(Package {
        name,
        version,
        licence: text("license"),
        is_member: members.contains(&id),
        normal_dependencies: dependencies
            .iter()
            .filter(|dependency| dependency["kind"].is_null())
            .filter_map(|dependency| dependency["name"].as_str().map(String::from))
            .collect(),
        targets: targets.iter().filter_map(read_target).collect(),
    })
}

fn read_target(target: &Value) -> Option<Target> {
    Some(Target {
        name: target["name"].as_str()?.to_string(),
        kind: strings(&target["kind"]).into_iter().next()?,
        path: target["src_path"].as_str()?.to_string(),
    })
}

fn strings(value: &Value) -> Vec<String> {
    let items = value.as_array().map(Vec::as_slice).unwrap_or_default();
    items.iter().filter_map(|item| item.as_str().map(String::from)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const ANSWER: &str = r#"{
        "workspace_members": ["path+file:///w/air#0.1.0"],
        "packages": [
            {"name": "air", "version": "0.1.0", "id": "path+file:///w/air#0.1.0", "license": "MIT",
             "dependencies": [{"name": "libm", "kind": null}, {"name": "criterion", "kind": "dev"}],
             "targets": [{"name": "kernels", "kind": ["bench"], "src_path": "/w/air/benches/kernels.rs"}]},
            {"name": "libm", "version": "0.2.16", "id": "registry#libm@0.2.16", "license": null,
             "dependencies": [], "targets": []}
        ]
    }"#;

    #[test]
    fn members_dependencies_and_benches_are_read() {
        let packages = parse(ANSWER).unwrap();
        assert_eq!(packages.len(), 2);
        assert!(packages[0].is_member && !packages[1].is_member);
        assert_eq!(packages[0].normal_dependencies, ["libm"]);
        assert_eq!(packages[0].targets[0].name, "kernels");
        assert_eq!(packages[0].targets[0].kind, "bench");
        assert_eq!(packages[1].licence, None);
    }

    #[test]
    fn what_is_not_an_answer_of_cargo_is_refused() {
        assert!(parse("").is_err());
        assert!(parse("{}").is_err());
        assert!(parse(r#"{"packages": [{}]}"#).is_err());
    }
}
