//! Which file of a crate uses which: tiers that no arrow may go up, and circles.
//!
//! Read from the shipped source: `use` lists and the paths written in code that begin with `crate`, `self`, `super` or a
//! module below. What a macro makes is not seen.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use crate::source::{self, Source};
use crate::workspace::{Result, read};

/// Modules of a crate in tiers, the lowest first: each may use those of the tiers below its own, and no other.
#[derive(Clone, Copy, Debug)]
pub struct Tiers {
    /// Folder of the crate below the root.
    pub folder: &'static str,
    /// Modules right below the root of the crate.
    pub tiers: &'static [&'static [&'static str]],
}

/// The tiers of every crate that holds stages.
pub const TIERS: &[Tiers] = &[
    Tiers {
        folder: "crates/report",
        tiers: &[
            &[
                "courses",
                "patch",
                "question",
                "say::air",
                "say::brief",
                "say::caution",
                "say::cut",
                "say::dry",
                "say::duct",
                "say::evidence",
                "say::fan",
                "say::house",
                "say::place",
                "say::room",
                "say::terminal",
                "say::todo",
                "say::way",
                "say::working",
                "say::year",
            ],
            &["check"],
            &["say"],
            &["curves", "finding"],
            &["brief", "dwelling", "fan", "room", "run"],
            &["building"],
            &["outlet"],
        ],
    },
    Tiers {
        folder: "crates/case",
        tiers: &[
            &["draws", "given", "section", "source", "world"],
            &["weather", "weighted"],
            &["inputs"],
            &["defaults", "sample"],
            &["require", "system"],
            &["flow"],
            &["reading"],
            &["basis"],
        ],
    },
    Tiers {
        folder: "crates/judge",
        tiers: &[&["law", "verdict"], &["look_next"], &["working"], &["checks"], &["dry", "house"]],
    },
    Tiers {
        folder: "crates/propose",
        tiers: &[
            &["edit"],
            &["floor", "mirror", "select"],
            &["clearance", "place"],
            // `take_off`, `wire` and the like will read what stands here from a crate of their own.
            &["route"],
            &["cuts", "drag", "outlet"],
        ],
    },
    Tiers {
        folder: "crates/engine",
        tiers: &[
            &["brief::point", "caution", "curves"],
            &["brief::answers", "brief::complaint", "brief::tasks"],
            &["assemble", "brief"],
        ],
    },
];

/// A circle of files that is left, with its reason.
#[derive(Clone, Copy, Debug)]
pub struct Circle {
    /// Folder of the crate below the root.
    pub folder: &'static str,
    /// Its files, as modules.
    pub files: &'static [&'static str],
    /// Why it is left.
    pub why: &'static str,
}

/// Circles of more than two files that are left. The list may only shrink.
pub const CIRCLES: &[Circle] = &[Circle {
    folder: "crates/message",
    files: &["crate", "declare", "figure", "message"],
    why: "what is declared gives messages of figures, and figures are declared as slots of messages",
}];

/// Each module of a crate with the modules it uses; the root is `crate`.
pub type Arrows = BTreeMap<String, BTreeSet<String>>;

/// Arrows against the tiers, and circles of more than two files that no exception names.
///
/// # Errors
/// When a file can't be read.
pub fn breaches(root: &Path, folders: &[&str]) -> Result<Vec<String>> {
    let mut found = Vec::new();
    for folder in folders {
        let arrows = arrows(&files_of(&root.join(folder).join("src"))?);
        if let Some(tiers) = TIERS.iter().find(|tiers| tiers.folder == *folder) {
            found.extend(tier_breaches(tiers, &arrows));
        }
        found.extend(circle_breaches(folder, &arrows, CIRCLES));
    }
    Ok(found)
}

/// Files below `folder` by module, with their text.
fn files_of(folder: &Path) -> Result<Vec<(String, String)>> {
    let mut files = Vec::new();
    for path in source::files(folder, &[".rs"])? {
        let below = path.strip_prefix(folder).unwrap_or(&path).with_extension("");
        let names: Vec<_> = below.iter().map(|name| name.to_string_lossy().into_owned()).collect();
        files.push((module_of(&names), read(&path)?));
    }
    Ok(files)
}

/// Module of a file, from the names of its path: `system/mod` is `system`, `lib` the root.
fn module_of(names: &[String]) -> String {
    match names {
        [root] if root == "lib" || root == "main" => "crate".to_owned(),
        [folders @ .., last] if last == "mod" => folders.join("::"),
        _ => names.join("::"),
    }
}

/// Reads the arrows between modules, each given with its text; test code is left out.
pub fn arrows(files: &[(String, String)]) -> Arrows {
    let known: BTreeSet<&str> = files.iter().map(|(module, _)| module.as_str()).collect();
    let mut arrows = Arrows::new();
    let mut of_tests = BTreeSet::new();
    for (module, text) in files {
        let source = Source::new(text);
        for range in &source.test_modules {
            let name =
                source.code[range.clone()].split("mod ").nth(1).and_then(|m| m.split(';').next());
            of_tests.extend(name.map(|name| below(module, name.trim())));
        }
        let paths = paths(&own(&source.shipped()));
        let uses = paths
            .iter()
            .filter_map(|path| target(module, path, &known))
            .filter(|used| used != module);
        arrows.entry(module.clone()).or_default().extend(uses);
    }
    arrows.retain(|module, _| !of_tests.contains(module));
    for uses in arrows.values_mut() {
        uses.retain(|used| !of_tests.contains(used));
    }
    arrows
}

fn below(module: &str, name: &str) -> String {
    if module == "crate" { name.to_owned() } else { format!("{module}::{name}") }
}

/// The module that a path written in another leads to; none where it leads out of the crate.
fn target(module: &str, path: &[String], known: &BTreeSet<&str>) -> Option<String> {
    let mut at = module.to_owned();
    let mut rest = path;
    match path.first()?.as_str() {
        "crate" => {
            "crate".clone_into(&mut at);
            rest = &path[1..];
        }
        "self" => rest = &path[1..],
        "super" => {}
        name if known.contains(below(module, name).as_str()) => {}
        _ => return None,
    }
    while let Some((first, more)) = rest.split_first() {
        if first == "super" {
            at = at.rsplit_once("::").map_or_else(|| "crate".to_owned(), |(up, _)| up.to_owned());
        } else if known.contains(below(&at, first).as_str()) {
            at = below(&at, first);
        } else {
            break;
        }
        rest = more;
    }
    Some(at)
}

/// Every path in shipped code, name by name; `use` lists taken apart.
fn paths(code: &str) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    let mut rest = code;
    while let Some(at) = source::word_places(rest, "use").first().copied() {
        written(&rest[..at], &mut found);
        let list = &rest[at + 3..];
        let end = list.find(';').unwrap_or(list.len());
        imported(&list[..end], &[], &mut found);
        rest = &list[end..];
    }
    written(rest, &mut found);
    found
}

/// Paths of a `use` list.
fn imported(list: &str, before: &[String], found: &mut Vec<Vec<String>>) {
    for part in split_at_commas(list) {
        let (path, inside) = match part.split_once('{') {
            Some((path, inside)) => (path, inside.rsplit_once('}').map(|(inside, _)| inside)),
            None => (part, None),
        };
        let mut names = before.to_vec();
        let path = path.split(" as ").next().unwrap_or(path);
        names.extend(
            path.split("::").map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned),
        );
        match inside {
            Some(inside) => imported(inside, &names, found),
            None => found.push(names),
        }
    }
}

fn split_at_commas(list: &str) -> Vec<&str> {
    let (mut depth, mut start, mut parts) = (0, 0, Vec::new());
    for (at, byte) in list.bytes().enumerate() {
        match byte {
            b'{' => depth += 1,
            b'}' => depth -= 1,
            b',' if depth == 0 => {
                parts.push(&list[start..at]);
                start = at + 1;
            }
            _ => {}
        }
    }
    parts.push(&list[start..]);
    parts.retain(|part| !part.trim().is_empty());
    parts
}

/// Code without what it writes for another crate: the inside of `quote!(…)`.
fn own(code: &str) -> String {
    let mut own = String::with_capacity(code.len());
    let mut rest = code;
    while let Some((before, quoted)) = rest.split_once("quote!") {
        own.push_str(before);
        let mut depth = 0;
        let end = quoted.find(|c| {
            depth += i32::from("([{".contains(c)) - i32::from(")]}".contains(c));
            depth == 0 && ")]}".contains(c)
        });
        rest = &quoted[end.map_or(quoted.len(), |end| end + 1)..];
    }
    own + rest
}

/// Paths of two names and more in code outside `use`; how far something is seen (`pub(in crate::x)`) uses nothing.
fn written(code: &str, found: &mut Vec<Vec<String>>) {
    // What a macro writes stands where it is called.
    let code = &code.replace("$crate", "$");
    let is_path = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == ':';
    let mut before = ["", ""];
    for word in code.split(|c: char| !is_path(c)).filter(|word| !word.is_empty()) {
        if before != ["pub", "in"] && word.contains("::") && !word.starts_with(':') {
            found.push(
                word.split("::").filter(|name| !name.is_empty()).map(str::to_owned).collect(),
            );
        }
        before = [before[1], word];
    }
}

/// Arrows that lead to no lower tier, modules in no tier, and names in a tier that are no module.
pub fn tier_breaches(tiers: &Tiers, arrows: &Arrows) -> Vec<String> {
    let folder = tiers.folder;
    let tier_of = |module: &str| {
        let top = module.split("::").next().unwrap_or(module);
        tiers.tiers.iter().position(|tier| tier.contains(&top)).map(|tier| (tier, top.to_owned()))
    };
    let mut found = Vec::new();
    for (module, uses) in arrows.iter().filter(|(module, _)| *module != "crate") {
        let Some((own, top)) = tier_of(module) else {
            found.push(format!(
                "{folder}: {module} stands in no tier; put it into one in modules.rs"
            ));
            continue;
        };
        for used in uses {
            match tier_of(used) {
                Some((tier, other)) if other == top || tier < own => {}
                _ => found
                    .push(format!("{folder}: {module} uses {used}, which does not stand below it")),
            }
        }
    }
    for name in tiers.tiers.iter().copied().flatten() {
        if !arrows.contains_key(*name) {
            found.push(format!("{folder}: the tiers name {name}, which is no module; take it out"));
        }
    }
    found
}

/// Groups of modules of which each reaches each other, those of two files and more, in order of name.
pub fn circles(arrows: &Arrows) -> Vec<Vec<String>> {
    let reached: BTreeMap<&str, BTreeSet<&str>> =
        arrows.keys().map(|module| (module.as_str(), reach(arrows, module))).collect();
    let mut found: Vec<Vec<String>> = Vec::new();
    for (module, reaches) in &reached {
        let is_known = found.iter().flatten().any(|known| known == module);
        if is_known || !reaches.contains(module) {
            continue;
        }
        let back =
            reaches.iter().filter(|other| reached.get(*other).is_some_and(|r| r.contains(module)));
        found.push(back.map(ToString::to_string).collect());
    }
    found
}

fn reach<'a>(arrows: &'a Arrows, from: &str) -> BTreeSet<&'a str> {
    let mut reached = BTreeSet::new();
    let mut open = vec![from];
    while let Some(module) = open.pop() {
        for used in arrows.get(module).into_iter().flatten() {
            if reached.insert(used.as_str()) {
                open.push(used);
            }
        }
    }
    reached
}

/// Circles of more than two files that no exception names, and exceptions for files that stand in no circle any more.
pub fn circle_breaches(folder: &str, arrows: &Arrows, exceptions: &[Circle]) -> Vec<String> {
    let circles: Vec<_> = circles(arrows).into_iter().filter(|circle| circle.len() > 2).collect();
    let exceptions: Vec<&Circle> =
        exceptions.iter().filter(|known| known.folder == folder).collect();
    let mut found = Vec::new();
    for circle in &circles {
        let is_named =
            |known: &&&Circle| circle.iter().all(|file| known.files.contains(&file.as_str()));
        if !exceptions.iter().any(|known| is_named(&known)) {
            found.push(format!("{folder}: a circle of {}: {}", circle.len(), circle.join(", ")));
        }
    }
    for file in exceptions.iter().flat_map(|known| known.files) {
        if !circles.iter().flatten().any(|named| named == file) {
            found.push(format!(
                "{folder}: {file} stands in no circle any more; take it off the list in modules.rs"
            ));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(files: &[(&str, &str)]) -> Arrows {
        let own = |(module, text): &(&str, &str)| ((*module).to_owned(), (*text).to_owned());
        arrows(&files.iter().map(own).collect::<Vec<_>>())
    }

    fn uses<'a>(arrows: &'a Arrows, module: &str) -> Vec<&'a str> {
        arrows[module].iter().map(String::as_str).collect()
    }

    #[test]
    fn arrows_are_read_from_lists_and_from_code() {
        let arrows = of(&[
            ("crate", "mod a;\nmod b;\npub use a::Thing;\nfn f() { b::run(); }"),
            ("a", "use std::fs;\nuse super::b::{self, c::{Deep, Other as Name}};"),
            (
                "b",
                "mod c;\n// crate::a::hidden\nfn g() { let s = \"crate::a\"; crate::a::call(); self::c::x(); }",
            ),
            ("b::c", "pub(in crate::a) fn h() {}\n#[cfg(test)]\nmod tests { use crate::a; }"),
        ]);
        assert_eq!(uses(&arrows, "crate"), ["a", "b"]);
        assert_eq!(uses(&arrows, "a"), ["b", "b::c"]);
        assert_eq!(uses(&arrows, "b"), ["a", "b::c"]);
        assert!(arrows["b::c"].is_empty());
    }

    #[test]
    fn what_is_written_for_another_crate_is_no_arrow() {
        let arrows = of(&[
            ("a", "fn f() { g(quote!(crate::b::x(#[y] {}))); crate::c::h(); }"),
            ("b", ""),
            ("c", ""),
        ]);
        assert_eq!(uses(&arrows, "a"), ["c"]);
    }

    #[test]
    fn a_file_of_tests_is_left_out() {
        let arrows = of(&[
            ("crate", "#[cfg(test)]\nmod tried;\nmod a;"),
            ("tried", "use crate::a;"),
            ("a", ""),
        ]);
        assert!(!arrows.contains_key("tried"));
        assert!(arrows.contains_key("a"));
    }

    const TWO: Tiers = Tiers { folder: "x", tiers: &[&["low"], &["high", "beside"]] };

    #[test]
    fn an_arrow_upwards_is_found() {
        let ok = of(&[
            ("low", ""),
            ("high", "use crate::low::f;"),
            ("beside", ""),
            ("crate", "use high::g;"),
        ]);
        assert!(tier_breaches(&TWO, &ok).is_empty());
        let up = of(&[("low", "use crate::high::g;"), ("high", ""), ("beside", "")]);
        assert_eq!(tier_breaches(&TWO, &up), ["x: low uses high, which does not stand below it"]);
        let across = of(&[("low", ""), ("high", "fn f() { super::beside::g(); }"), ("beside", "")]);
        assert_eq!(tier_breaches(&TWO, &across).len(), 1);
        // Through the root, where it hands out what stands higher, an arrow goes up as well.
        let root = of(&[
            ("low", "use crate::G;"),
            ("high", ""),
            ("beside", ""),
            ("crate", "pub use high::G;"),
        ]);
        assert_eq!(tier_breaches(&TWO, &root).len(), 1);
    }

    #[test]
    fn the_tiers_name_every_module_and_no_other() {
        let more = of(&[("low", ""), ("high", ""), ("beside", ""), ("new", "")]);
        assert_eq!(tier_breaches(&TWO, &more).len(), 1);
        let less = of(&[("low", ""), ("high", "")]);
        assert_eq!(tier_breaches(&TWO, &less).len(), 1);
    }

    #[test]
    fn a_circle_is_found_and_counted() {
        let three =
            of(&[("a", "use crate::b::f;"), ("b", "use crate::c::f;"), ("c", "use crate::a::f;")]);
        assert_eq!(circles(&three), [["a", "b", "c"]]);
        assert_eq!(circle_breaches("x", &three, &[]).len(), 1);
        let two =
            of(&[("a", "use crate::b::f;"), ("b", "use crate::a::f;"), ("c", "use crate::a::f;")]);
        assert!(circle_breaches("x", &two, &[]).is_empty());
    }

    #[test]
    fn an_exception_covers_its_circle_and_may_only_shrink() {
        let known = [Circle { folder: "x", files: &["a", "b", "c"], why: "" }];
        let three =
            of(&[("a", "use crate::b::f;"), ("b", "use crate::c::f;"), ("c", "use crate::a::f;")]);
        assert!(circle_breaches("x", &three, &known).is_empty());
        let none = of(&[("a", "use crate::b::f;"), ("b", "use crate::c::f;"), ("c", "")]);
        assert_eq!(circle_breaches("x", &none, &known).len(), 3);
    }
}
