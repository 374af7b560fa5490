//! What changed from one job file to another, value by value.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::diagnostic::Diagnostics;
use crate::keys::InTable as _;
use crate::model::Job;
use crate::node::{Node, Value, parse_toml};
use crate::spec::{Shape, Table};

/// One changed value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Change {
    /// Where, as a path by ids.
    pub at: String,
    /// What was written before; none when it was not written.
    pub old: Option<String>,
    /// What is written now; none when it is no longer written.
    pub new: Option<String>,
}

/// The changed values from file `a` to file `b`, ordered by path. Elements are matched by their ids, so
/// their order does not matter; nor do comments, layout and the short form of a lone element.
///
/// # Errors
/// When one of the two is not valid TOML. Whether they are good jobs is not checked here.
///
/// ```
/// let changes = dewpath_job::diff::changes(
///     ("plan.toml", "[run]\nlength = \"12 ft\""),
///     ("now.toml", "[[run]]\nid = \"run\" # named\nlength = \"14 ft\""),
/// )?;
/// assert_eq!(changes.len(), 1);
/// assert_eq!(changes[0].at, "run.run.length");
/// assert_eq!(changes[0].new.as_deref(), Some("14 ft"));
/// # Ok::<(), dewpath_job::Diagnostics>(())
/// ```
pub fn changes(a: (&str, &str), b: (&str, &str)) -> Result<Vec<Change>, Diagnostics> {
    let (old, new) = (values(a.0, a.1)?, values(b.0, b.1)?);
    let mut paths: Vec<&String> = old.keys().chain(new.keys()).collect();
    paths.sort_unstable();
    paths.dedup();
    Ok(paths
        .into_iter()
        .filter(|path| old.get(*path) != new.get(*path))
        .map(|path| Change {
            at: path.clone(),
            old: old.get(path).cloned(),
            new: new.get(path).cloned(),
        })
        .collect())
}

/// Every written value of a job file by its path: the canonical form of what was typed. Comments,
/// layout and the order of elements leave no trace in it.
///
/// # Errors
/// When the text is not valid TOML.
pub fn values(name: &str, text: &str) -> Result<BTreeMap<String, String>, Diagnostics> {
    let root = parse_toml(text).map_err(|list| Diagnostics::new(name, text, list))?;
    let mut found = BTreeMap::new();
    collect(text, &root, Some(Job::TABLE), "", &mut found);
    Ok(found)
}

fn collect(
    text: &str,
    node: &Node,
    table: Option<&'static Table>,
    path: &str,
    found: &mut BTreeMap<String, String>,
) {
    let Value::Table(entries) = &node.value else {
        found.insert(path.to_owned(), plain(text, node));
        return;
    };
    for entry in entries {
        let at = if path.is_empty() { entry.key.clone() } else { format!("{path}.{}", entry.key) };
        match table.and_then(|table| table.key(&entry.key)).map(|key| &key.shape) {
            Some(Shape::Many(below)) => elements(text, &entry.node, below, &at, found),
            Some(Shape::One(below)) => collect(text, &entry.node, Some(below), &at, found),
            // The id is in the path already.
            Some(Shape::Id) => {}
            _ if is_stated(&entry.node) => stated(text, &entry.node, &at, found),
            _ => collect(text, &entry.node, None, &at, found),
        }
    }
}

fn is_stated(node: &Node) -> bool {
    matches!(&node.value, Value::Table(entries) if entries.iter().any(|entry| entry.key == "value"))
}

/// A value with its origin: the value counts under the path of its key, what is said of it below that.
fn stated(text: &str, node: &Node, path: &str, found: &mut BTreeMap<String, String>) {
    let Value::Table(entries) = &node.value else { return };
    for entry in entries {
        let at =
            if entry.key == "value" { path.to_owned() } else { format!("{path}.{}", entry.key) };
        collect(text, &entry.node, None, &at, found);
    }
}

fn elements(
    text: &str,
    node: &Node,
    table: &'static Table,
    path: &str,
    found: &mut BTreeMap<String, String>,
) {
    let items = match &node.value {
        Value::List(items) => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    for (index, item) in items.iter().enumerate() {
        let id = id_of(item, table, index, items.len());
        let at = format!("{path}.{id}");
        // An element counts even when nothing else is written of it.
        found.insert(at.clone(), "written".to_owned());
        collect(text, item, Some(table), &at, found);
    }
}

fn id_of(node: &Node, table: &'static Table, index: usize, count: usize) -> String {
    let written = match &node.value {
        Value::Table(entries) => entries.iter().find(|entry| entry.key == "id").and_then(|entry| {
            match &entry.node.value {
                Value::Text(id) => Some(id.clone()),
                _ => None,
            }
        }),
        _ => None,
    };
    match written {
        Some(id) if table.key("id").is_some() => id,
        _ => table.default_id(index, count),
    }
}

fn plain(text: &str, node: &Node) -> String {
    match &node.value {
        Value::Text(value) | Value::Date(value) => {
            value.split_whitespace().collect::<Vec<_>>().join(" ")
        }
        Value::List(items) => {
            let items: Vec<String> = items.iter().map(|item| plain(text, item)).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Number(_) | Value::Flag(_) | Value::Table(_) => {
            text.get(node.span.clone()).unwrap_or_default().trim().to_owned()
        }
    }
}
