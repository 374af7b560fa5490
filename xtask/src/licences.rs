//! May every dependency be used? Licence expressions (SPDX) against a short list of licences.

use std::collections::BTreeSet;
use std::path::Path;

use crate::metadata::{self, Package};
use crate::workspace::{Result, read};

/// The licences a dependency may have.
pub const LIST: &str = "xtask/licences.txt";

/// Checks every package of the dependency tree against [`LIST`].
///
/// # Errors
/// Lists every package whose licence is missing, unreadable or not allowed, and every unused line of the list.
pub fn check(root: &Path) -> Result<usize> {
    let packages = metadata::packages(root)?;
    let complaints = complaints(&packages, &allowed(&read(&root.join(LIST))?));
    if complaints.is_empty() {
        return Ok(packages.len());
    }
    Err(format!("licences:\n  {}", complaints.join("\n  ")))
}

/// The identifiers in the text of the list.
pub fn allowed(list: &str) -> BTreeSet<String> {
    list.lines()
        .map(|line| line.split('#').next().unwrap_or_default().trim())
        .filter(|line| !line.is_empty())
        .map(String::from)
        .collect()
}

/// One sentence for each package that may not be used and for each allowed licence that nothing needs.
pub fn complaints(packages: &[Package], allowed: &BTreeSet<String>) -> Vec<String> {
    let mut used = BTreeSet::new();
    let mut complaints = Vec::new();
    for package in packages {
        let who = format!("{} {}", package.name, package.version);
        let Some(text) = &package.licence else {
            complaints.push(format!("{who} names no licence"));
            continue;
        };
        match parse(text) {
            Err(why) => complaints.push(format!("{who}: cannot read licence `{text}`: {why}")),
            Ok(expression) => match expression.met_by(allowed) {
                Some(licences) => used.extend(licences),
                None => complaints.push(format!(
                    "{who}: licence `{text}` cannot be met with the list in {LIST}; \
                     use another crate, or add the licence after reading it"
                )),
            },
        }
    }
    let idle = allowed.iter().filter(|licence| !used.contains(*licence));
    complaints
        .extend(idle.map(|licence| format!("no dependency needs `{licence}`; take it off {LIST}")));
    complaints
}

/// A licence expression.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Expression {
    /// One licence, with its exception if it has one (`Apache-2.0 WITH LLVM-exception`).
    Licence(String),
    /// Either may be chosen.
    Either(Box<Expression>, Box<Expression>),
    /// Both hold.
    Both(Box<Expression>, Box<Expression>),
}

impl Expression {
    /// The licences that meet the expression, the left one of a choice first; `None` if it cannot be met.
    fn met_by(&self, allowed: &BTreeSet<String>) -> Option<BTreeSet<String>> {
        match self {
            Self::Licence(name) => allowed.contains(name).then(|| BTreeSet::from([name.clone()])),
            Self::Either(left, right) => left.met_by(allowed).or_else(|| right.met_by(allowed)),
            Self::Both(left, right) => {
                let (mut left, right) = left.met_by(allowed).zip(right.met_by(allowed))?;
                left.extend(right);
                Some(left)
            }
        }
    }
}

/// Reads an SPDX licence expression; `/` between licences is the older way to write `OR`, and operators may be in
/// lower case, which some manifests write.
///
/// # Errors
/// Says which word is out of place.
pub fn parse(text: &str) -> Result<Expression> {
    let spaced = text.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = words.as_slice();
    let expression = either(&mut rest)?;
    match rest.first() {
        None => Ok(expression),
        Some(word) => Err(format!("`{word}` is out of place")),
    }
}

fn either(rest: &mut &[&str]) -> Result<Expression> {
    let mut left = both(rest)?;
    while take(rest, "OR") {
        left = Expression::Either(Box::new(left), Box::new(both(rest)?));
    }
    Ok(left)
}

fn both(rest: &mut &[&str]) -> Result<Expression> {
    let mut left = one(rest)?;
    while take(rest, "AND") {
        left = Expression::Both(Box::new(left), Box::new(one(rest)?));
    }
    Ok(left)
}

fn one(rest: &mut &[&str]) -> Result<Expression> {
    if take(rest, "(") {
        let inner = either(rest)?;
        return if take(rest, ")") { Ok(inner) } else { Err("a `(` is never closed".into()) };
    }
    let name = licence(rest)?;
    if take(rest, "WITH") {
        return Ok(Expression::Licence(format!("{name} WITH {}", licence(rest)?)));
    }
    Ok(Expression::Licence(name))
}

fn licence(rest: &mut &[&str]) -> Result<String> {
    let Some((word, after)) = rest.split_first() else {
        return Err("it ends where a licence is expected".into());
    };
    if ["OR", "AND", "WITH", "(", ")"].iter().any(|operator| is_operator(word, operator)) {
        return Err(format!("`{word}` stands where a licence is expected"));
    }
    *rest = after;
    Ok((*word).to_string())
}

fn take(rest: &mut &[&str], word: &str) -> bool {
    match rest.split_first() {
        Some((first, after)) if is_operator(first, word) => {
            *rest = after;
            true
        }
        _ => false,
    }
}

/// All upper or all lower case; `Or` is no operator.
fn is_operator(word: &str, operator: &str) -> bool {
    word == operator || word == operator.to_ascii_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn package(name: &str, licence: Option<&str>) -> Package {
        Package {
            name: name.into(),
            version: "1.0.0".into(),
            licence: licence.map(String::from),
            is_member: false,
            normal_dependencies: Vec::new(),
            targets: Vec::new(),
        }
    }

    fn passes(licence: &str) -> bool {
        let allowed = allowed("MIT\nApache-2.0 # patents\n\n# remark\nUnicode-3.0");
        let found = complaints(&[package("thing", Some(licence))], &allowed);
        !found.iter().any(|complaint| complaint.starts_with("thing"))
    }

    #[test]
    fn a_choice_needs_one_allowed_side() {
        assert!(passes("MIT OR Apache-2.0"));
        assert!(passes("GPL-3.0-only OR MIT"));
        assert!(passes("Unlicense/MIT"));
        assert!(passes("GPL-3.0-only or MIT"));
        assert!(!passes("MIT Or Apache-2.0"));
        assert!(passes("Apache-2.0 / MIT"));
        assert!(!passes("GPL-3.0-only OR AGPL-3.0-only"));
    }

    #[test]
    fn a_conjunction_needs_both() {
        assert!(passes("(MIT OR GPL-2.0-only) AND Unicode-3.0"));
        assert!(!passes("MIT AND GPL-2.0-only"));
        // AND binds tighter than OR (SPDX specification 2.3, annex D.4).
        assert!(passes("MIT OR Apache-2.0 AND GPL-2.0-only"));
        assert!(!passes("(MIT OR Apache-2.0) AND GPL-2.0-only"));
    }

    #[test]
    fn an_exception_is_part_of_the_licence() {
        assert!(!passes("Apache-2.0 WITH LLVM-exception"));
        assert!(passes("Apache-2.0 WITH LLVM-exception OR MIT"));
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        for licence in ["", "MIT OR", "AND MIT", "(MIT", "MIT)", "MIT Apache-2.0", "MIT WITH"] {
            assert!(!passes(licence), "{licence}");
        }
    }

    #[test]
    fn a_missing_licence_is_refused() {
        let found = complaints(&[package("bare", None)], &BTreeSet::new());
        assert_eq!(found, ["bare 1.0.0 names no licence"]);
    }

    #[test]
    fn an_idle_line_of_the_list_is_named() {
        let found = complaints(&[package("thing", Some("MIT"))], &allowed("MIT\nZlib"));
        assert_eq!(found.len(), 1);
        assert!(found[0].contains("`Zlib`"), "{found:?}");
    }
}
