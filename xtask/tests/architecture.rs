//! The dependency direction and the invariants of absence in `docs/architecture.md`, held against this workspace.

/// Dependency direction, what each crate must never reach, and what its code must never say.
#[test]
fn the_workspace_keeps_its_shape() {
    xtask::architecture::check(&xtask::workspace::root())
        .unwrap_or_else(|breaches| panic!("{breaches}"));
}

/// Every dependency's licence can be met with the list in `xtask/licences.txt`.
#[test]
fn every_licence_is_allowed() {
    xtask::licences::check(&xtask::workspace::root())
        .unwrap_or_else(|complaints| panic!("{complaints}"));
}

/// No leftovers, no paths of one machine, a head comment on every module.
#[test]
fn the_tree_is_tidy() {
    xtask::tidy::check(&xtask::workspace::root())
        .unwrap_or_else(|complaints| panic!("{complaints}"));
}

/// The page names every invariant that is tested here, so that prose and test cannot part.
#[test]
fn the_page_names_every_crate_and_every_banned_package() {
    let page =
        std::fs::read_to_string(xtask::workspace::root().join("docs/architecture.md")).unwrap();
    for rule in xtask::architecture::RULES {
        assert!(page.contains(rule.package), "docs/architecture.md does not name {}", rule.package);
    }
    for circle in xtask::modules::CIRCLES {
        assert!(page.contains(circle.why), "docs/architecture.md does not name {circle:?}");
    }
    for package in xtask::architecture::IMPURE {
        assert!(
            page.contains(&format!("`{package}`")),
            "docs/architecture.md does not name {package}"
        );
    }
}
