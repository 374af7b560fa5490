//! Do the numbers of the report name their units? Field names of the schema against `docs/nomenclature.md`.

use std::collections::BTreeSet;

use serde_json::Value;

/// The page that lists the endings, in a section of their own.
pub const PAGE: &str = "docs/nomenclature.md";

const HEADING: &str = "## Endings of report fields";

/// Numbers without a unit in their name: parts of a triple, a format number, a place in an order, a bare count, chances,
/// an amount of money (its currency stands beside it), the number of a month.
const WITHOUT_UNIT: &[&str] = &[
    "low",
    "likely",
    "high",
    "format",
    "rank",
    "count",
    "chance",
    "chance_enough",
    "amount",
    "month",
];

/// The endings that the page lists, longest first.
pub fn listed(page: &str) -> Vec<String> {
    let section = page.split(HEADING).nth(1).unwrap_or_default();
    let section = section.split("\n## ").next().unwrap_or_default();
    let rows = section.lines().filter(|line| line.starts_with('|'));
    let words = rows.flat_map(|row| row.split('`').skip(1).step_by(2));
    let found: BTreeSet<String> =
        words.filter(|word| word.starts_with('_')).map(String::from).collect();
    let mut found: Vec<String> = found.into_iter().collect();
    found.sort_by_key(|ending| std::cmp::Reverse(ending.len()));
    found
}

/// One sentence for each number in the schema whose name does not end in a listed unit.
pub fn complaints(schema: &Value, endings: &[String]) -> Vec<String> {
    let mut found = BTreeSet::new();
    search(schema, schema, endings, &mut found);
    found.into_iter().collect()
}

fn search(root: &Value, here: &Value, endings: &[String], found: &mut BTreeSet<String>) {
    match here {
        Value::Array(items) => items.iter().for_each(|item| search(root, item, endings, found)),
        Value::Object(fields) => {
            let properties = fields.get("properties").and_then(Value::as_object);
            for (name, property) in properties.into_iter().flatten() {
                found.extend(complaint(root, name, property, endings));
            }
            fields.values().for_each(|value| search(root, value, endings, found));
        }
        _ => {}
    }
}

fn complaint(root: &Value, name: &str, property: &Value, endings: &[String]) -> Option<String> {
    let (is_number, is_triple) = (is_number(property), is_triple(root, property));
    if is_number && is_triple {
        return Some(format!(
            "report field `{name}` is a number or a triple; make it always one of them"
        ));
    }
    if !(is_number || is_triple) || WITHOUT_UNIT.contains(&name) || names_unit(name, endings) {
        return None;
    }
    Some(format!("report field `{name}` does not end in a unit that {PAGE} lists"))
}

/// `velocity_m_s` does not pass as "velocity_m, in seconds": what is left must not end in a unit again.
fn names_unit(name: &str, endings: &[String]) -> bool {
    let Some(rest) = endings.iter().find_map(|ending| name.strip_suffix(ending.as_str())) else {
        return false;
    };
    !rest.is_empty()
        && !rest.ends_with("_per")
        && !endings.iter().any(|ending| rest.ends_with(ending))
}

fn is_number(property: &Value) -> bool {
    let is_numeric = |kind: &Value| kind == "number" || kind == "integer";
    let kind = &property["type"];
    let kinds = kind.as_array().map(Vec::as_slice).unwrap_or_default();
    is_numeric(kind)
        || kinds.iter().any(is_numeric)
        || (!property["items"].is_null() && is_number(&property["items"]))
        || choices(property).any(is_number)
}

fn is_triple(root: &Value, property: &Value) -> bool {
    let pointed = property["$ref"].as_str().and_then(|path| path.strip_prefix('#'));
    let pointed = pointed.and_then(|path| root.pointer(path)).unwrap_or(property);
    !pointed["properties"]["likely"].is_null()
        || (!property["items"].is_null() && is_triple(root, &property["items"]))
        || choices(property).any(|choice| is_triple(root, choice))
}

fn choices(property: &Value) -> impl Iterator<Item = &Value> {
    let lists = ["anyOf", "oneOf", "allOf"].into_iter();
    lists.filter_map(|key| property[key].as_array()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    const SHORT_PAGE: &str = "# N\n\n## Endings of report fields\n\n| ending | unit | | ending | unit |\n\
        | --- | --- | --- | --- | --- |\n| `_s` | second | | `_m` | metre |\n| `_l_s` | litre | | `_per_h` | per hour |\n\n\
        `airflow_x` beside.\n\n## Symbols\n\n| `_q` | no |\n";

    fn found(property: &Value, name: &str) -> usize {
        let schema = json!({
            "properties": {name: property},
            "$defs": {"Triple": {"properties": {"low": {"type": "number"}, "likely": {"type": "number"}}}},
        });
        complaints(&schema, &listed(SHORT_PAGE)).len()
    }

    #[test]
    fn endings_are_read_from_their_table_alone() {
        assert_eq!(listed(SHORT_PAGE), ["_per_h", "_l_s", "_m", "_s"]);
    }

    #[test]
    fn a_number_names_its_unit() {
        let number = json!({"type": ["number", "null"]});
        for good in ["airflow_l_s", "straight_m", "changes_per_h", "wait_s", "rank"] {
            assert_eq!(found(&number, good), 0, "{good}");
        }
        for bad in ["airflow", "airflow_cfm", "velocity_m_s", "_m"] {
            assert_eq!(found(&number, bad), 1, "{bad}");
        }
        assert_eq!(found(&json!({"type": "array", "items": {"type": "number"}}), "airflow"), 1);
        assert_eq!(found(&json!({"type": "string"}), "airflow"), 0);
    }

    #[test]
    fn so_does_a_triple() {
        let triple = json!({"anyOf": [{"$ref": "#/$defs/Triple"}, {"type": "null"}]});
        assert_eq!(found(&triple, "airflow_l_s"), 0);
        assert_eq!(found(&triple, "airflow"), 1);
    }

    #[test]
    fn a_field_is_not_both() {
        let both = json!({"anyOf": [{"$ref": "#/$defs/Triple"}, {"type": "number"}]});
        assert_eq!(found(&both, "airflow_l_s"), 1);
    }

    /// The whole list, so that it is not lengthened in passing.
    #[test]
    fn the_list_is_closed() {
        let page = crate::workspace::read(&crate::workspace::root().join(PAGE)).unwrap();
        let mut found = listed(&page);
        found.sort();
        let closed = [
            "_c", "_count", "_db", "_deg", "_g", "_g_m3", "_h", "_k", "_kg", "_kg_s", "_kwh",
            "_l_s", "_m", "_m2", "_m3", "_m_s", "_mm", "_pa", "_per_h", "_ratio", "_rsi", "_s",
            "_sone", "_w",
        ];
        assert_eq!(found, closed);
    }
}
