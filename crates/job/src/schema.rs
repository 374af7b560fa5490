//! The job file as JSON Schema and as a page to read, both from the tables that the reader uses.

use serde_json::{Map, Value, json};

use crate::keys::InTable as _;
use crate::library::LibraryFile;
use crate::model::Job;
use crate::spec::{Key, Shape, Table, Words, words_of, written};
use crate::stated::STATED;
use crate::value::{Day, WishWord};

/// JSON Schema (draft 2020-12) of the job file.
///
/// Every key carries its description and an example; quantities carry `x-quantity` with the kind of
/// quantity, and closed lists `x-words`. Texts that hold quantities are checked by the reader, not by
/// the schema, since a schema cannot know that `8..10 ft` is a length.
pub fn schema() -> Value {
    document(
        Job::TABLE,
        "Dewpath job file",
        "What the contractor writes down about a dwelling, its rooms, fans and ducts.",
    )
}

/// JSON Schema (draft 2020-12) of a library file.
pub fn library_schema() -> Value {
    document(LibraryFile::TABLE, "Dewpath library file", LibraryFile::TABLE.doc)
}

fn document(top: &'static Table, title: &str, description: &str) -> Value {
    let mut root = Map::new();
    root.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".to_owned(), json!(title));
    root.extend(object(top));
    root.insert("description".to_owned(), json!(description));
    let below: Map<String, Value> = top
        .all()
        .into_iter()
        .skip(1)
        .map(|table| (table.name.to_owned(), Value::Object(object(table))))
        .collect();
    root.insert("$defs".to_owned(), Value::Object(below));
    Value::Object(root)
}

fn object(table: &'static Table) -> Map<String, Value> {
    let properties: Map<String, Value> =
        table.keys.iter().map(|key| (key.name.to_owned(), property(key))).collect();
    let required: Vec<&str> =
        table.keys.iter().filter(|key| key.required).map(|key| key.name).collect();
    let mut object = Map::new();
    object.insert("type".to_owned(), json!("object"));
    object.insert("description".to_owned(), json!(table.doc));
    object.insert("properties".to_owned(), Value::Object(properties));
    if !required.is_empty() {
        object.insert("required".to_owned(), json!(required));
    }
    object.insert("additionalProperties".to_owned(), json!(false));
    object
}

fn property(key: &'static Key) -> Value {
    let mut property = match &key.shape {
        Shape::Text | Shape::Model | Shape::Reference(_) => plain(json!({ "type": "string" })),
        Shape::Id => plain(json!({ "type": "string", "pattern": "^[A-Za-z0-9_-]{1,60}$" })),
        Shape::Format => plain(json!({ "const": 1 })),
        Shape::Texts | Shape::References(_) => plain(json!({
            "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }]
        })),
        Shape::Quantity(kind, limits) => {
            let text = if *kind == dewpath_units::Kind::Ratio {
                json!({ "anyOf": [
                    { "type": "string" },
                    { "type": "number", "minimum": limits.possible[0], "maximum": limits.possible[1] }
                ] })
            } else {
                json!({ "type": "string" })
            };
            with(stated(&text), "x-quantity", json!(kind.name()))
        }
        Shape::SignedLength(_) | Shape::Clear(_) => {
            with(stated(&json!({ "type": "string" })), "x-quantity", json!("length"))
        }
        Shape::Count(most, _) => with(
            stated(
                &json!({ "anyOf": [{ "type": "integer", "minimum": 0, "maximum": most }, { "type": "string" }] }),
            ),
            "x-quantity",
            json!("count"),
        ),
        Shape::YesNo => stated(&json!({
            "anyOf": [{ "type": "boolean" }, { "type": "string", "pattern": "^(?i:yes|no|true|false|unknown)$" }]
        })),
        Shape::Choice(words) => with(
            stated(&json!({
                "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }]
            })),
            "x-words",
            json!(written(&words())),
        ),
        Shape::Word(words) => {
            with(plain(json!({ "type": "string" })), "x-words", json!(written(&words())))
        }
        Shape::Size => with(
            stated(&json!({
                "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }]
            })),
            "x-quantity",
            json!("duct size"),
        ),
        Shape::Point => {
            with(stated(&json!({ "type": "string" })), "x-quantity", json!("airflow at pressure"))
        }
        Shape::Ratings => with(
            stated(&json!({
                "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }]
            })),
            "x-quantity",
            json!("airflow, or airflow at pressure"),
        ),
        Shape::Curve => with(
            plain(json!({ "type": "array", "items": { "type": "string" }, "minItems": 2 })),
            "x-quantity",
            json!("airflow at pressure"),
        ),
        Shape::Sides(count) => with(
            plain(json!({ "type": "string" })),
            "x-quantity",
            json!(format!("{count} lengths")),
        ),
        Shape::Number(low, high) => {
            plain(json!({ "type": "number", "minimum": low, "maximum": high }))
        }
        Shape::Months(kind, _) => with(
            plain(json!({
                "type": "array", "items": { "type": "string" }, "minItems": 12, "maxItems": 12
            })),
            "x-quantity",
            json!(kind.name()),
        ),
        Shape::Day => with(
            plain(json!({ "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" })),
            "x-quantity",
            json!("day"),
        ),
        Shape::Times => with(
            plain(json!({
                "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }]
            })),
            "x-quantity",
            json!("time of day"),
        ),
        Shape::Place(count) | Shape::Extent(count) => {
            with(stated(&lengths(*count)), "x-quantity", json!(format!("{count} lengths")))
        }
        Shape::Outline => with(
            stated(&json!({ "anyOf": [
                { "type": "string" },
                { "type": "array", "items": lengths(2), "minItems": 3 }
            ] })),
            "x-quantity",
            json!("corners in plan"),
        ),
        Shape::Wish => {
            with(stated(&lengths(2)), "x-words", json!(written(&words_of::<WishWord>())))
        }
        Shape::One(table) => plain(json!({ "$ref": format!("#/$defs/{}", table.name) })),
        Shape::Many(table) => {
            let one = json!({ "$ref": format!("#/$defs/{}", table.name) });
            plain(json!({ "anyOf": [one, { "type": "array", "items": one }] }))
        }
    };
    property.insert("description".to_owned(), json!(key.doc));
    if let Some(example) = example(key) {
        property.insert("examples".to_owned(), json!([example]));
    }
    Value::Object(property)
}

/// Lengths along the axes: a list, or one text.
fn lengths(count: usize) -> Value {
    json!({ "anyOf": [
        { "type": "string" },
        {
            "type": "array",
            "items": { "anyOf": [{ "type": "string" }, { "const": 0 }] },
            "minItems": count,
            "maxItems": count
        }
    ] })
}

fn plain(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

fn with(mut map: Map<String, Value>, key: &str, value: Value) -> Map<String, Value> {
    map.insert(key.to_owned(), value);
    map
}

/// A value, or a table that says where it comes from.
fn stated(value: &Value) -> Map<String, Value> {
    let mut about = Map::new();
    about.insert("value".to_owned(), value.clone());
    for key in STATED.keys.iter().filter(|key| key.name != "value") {
        let shape = if key.name == "origin" {
            json!({ "enum": ["measured", "label", "assumed"], "description": key.doc })
        } else {
            json!({ "type": "string", "description": key.doc })
        };
        about.insert(key.name.to_owned(), shape);
    }
    plain(json!({
        "anyOf": [
            value,
            { "type": "object", "properties": about, "required": ["value"], "additionalProperties": false }
        ]
    }))
}

/// The example of a key as JSON.
fn example(key: &Key) -> Option<Value> {
    let table: toml::Table = toml::from_str(&format!("example = {}", key.example)).ok()?;
    serde_json::to_value(table.get("example")?).ok()
}

/// The reference page of the job file and the library file, as Markdown.
pub fn reference_page() -> String {
    let mut page = String::from(
        "# The job file\n\n\
         <!-- Generated from the tables that the reader uses; do not edit by hand. -->\n\n\
         A job file is TOML text. Nothing is compulsory beyond what a verdict needs: leave out what you \
         do not know, or write `\"unknown\"`. Lengths and flows are written as people write them, with \
         their unit, US and metric mixed as it comes.\n\n\
         ## How values are written\n\n\
         | what | written | note |\n|---|---|---|\n\
         | exact | `\"9 ft 4-1/2 in\"`, `\"9 ft 4\"`, `\"80 cfm\"`, `\"62 Pa\"` | in quotes, with the unit; inches last behind feet need none |\n\
         | a range | `\"8..10 ft\"`, `\"8 ft to 10 ft\"` | anything between is equally likely |\n\
         | about | `\"about 9 ft\"`, `\"about 9 ft +- 1 ft\"` | without a spread, 15 % to either side |\n\
         | unknown | `\"unknown\"` | never replaced in silence |\n\
         | a count | `2`, `\"1..3\"`, `\"unknown\"` | |\n\
         | yes or no | `true`, `false`, `\"unknown\"` | |\n\
         | one of several words | `\"flex\"`, `\"flex or smooth metal\"`, `\"unknown\"` | upper and lower case do not matter |\n\
         | a size | `\"4 in\"`, `\"3-1/4 x 10 in\"`, `\"oval 3 x 7 in\"`, `\"3 in or 4 in\"` | inside |\n\
         | a loss | `\"80 cfm at 12 Pa\"` | flow at pressure |\n\
         | times of day | `[\"06:45\", \"6:30 pm\"]` | |\n\
         | a place | `[\"4 ft\", \"-2 in\"]`, `[0, \"3 ft\", \"8 ft\"]` | along x, y and, where there are three, z; exact |\n\
         | an extent | `[\"4 ft\", \"2 in\"]`, `\"4 ft x 2 in\"` | along the same axes |\n\
         | a year | `[\"25 F\", \"28 F\", … ]` | twelve exact values, from January to December |\n\n\
         Any value may be a table that says where it comes from:\n\n\
         ```toml\nlength = { value = \"12 ft\", origin = \"measured\", on = 2026-03-02, photo = \"IMG_0012.jpg\", note = \"by tape\" }\n```\n\n",
    );
    page.push_str(&key_table(&STATED));
    page.push_str(
        "\nWhere there is only one room, fan, run or terminal, its `id` may be left out (it is then `room`, \
         `fan`, `run`, `terminal`), and `[room]` may stand for `[[room]]`. Ids are made of letters, digits, \
         `-` and `_`, are unique across the job and stay the same when the file is edited.\n",
    );
    for table in Job::TABLE.all() {
        page.push_str(&chapter(table, 2));
    }
    page.push_str(
        "\n# Library files\n\nA library is TOML with the tables below. Fans may also come as CSV: a header \
         with the keys of a library fan as columns, one line a fan, several values of one cell parted by \
         semicolons.\n",
    );
    for table in LibraryFile::TABLE.all() {
        page.push_str(&chapter(table, 2));
    }
    page
}

fn chapter(table: &'static Table, level: usize) -> String {
    let title = if table.written.starts_with("the top") {
        let mut title = table.written.to_owned();
        title.replace_range(..1, "T");
        title
    } else {
        format!("`{}`", table.written)
    };
    let head = format!("\n{} {title}\n\n{}\n", "#".repeat(level), table.doc);
    if table.keys.is_empty() { head } else { format!("{head}\n{}", key_table(table)) }
}

fn key_table(table: &'static Table) -> String {
    let mut rows = String::from("| key | what | example |\n|---|---|---|\n");
    for key in table.keys {
        let name = if key.required {
            format!("`{}` (needed)", key.name)
        } else {
            format!("`{}`", key.name)
        };
        let row = format!(
            "| {name} | {} | `{}` |\n",
            describe(key).replace('|', "\\|"),
            key.example.replace('|', "\\|")
        );
        rows.push_str(&row);
    }
    rows
}

/// The words of a closed list, each with those that are understood as well.
fn listed(words: &[Words]) -> String {
    let one = |words: &Words| match words.also.as_slice() {
        [] => words.word.to_owned(),
        also => format!("{} (also {})", words.word, also.join(", ")),
    };
    words.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn describe(key: &Key) -> String {
    let more = match &key.shape {
        Shape::Choice(words) => format!(" One or several of: {}.", listed(&words())),
        Shape::Word(words) => format!(" One of: {}.", listed(&words())),
        Shape::Quantity(kind, _) => format!(" ({kind})"),
        Shape::SignedLength(_) => " (length, may be negative)".to_owned(),
        Shape::Clear(_) => " (length)".to_owned(),
        Shape::Count(..) => " (count)".to_owned(),
        Shape::YesNo => " (yes or no)".to_owned(),
        Shape::Number(low, high) => format!(" (number from {low} to {high})"),
        Shape::Months(kind, _) => format!(" (twelve times {kind})"),
        Shape::Times => " (times of day)".to_owned(),
        Shape::Day => {
            let [first, last] = Day::YEARS;
            format!(" (a day from {first} to {last})")
        }
        Shape::Place(count) => format!(" ({count} places along the axes, each may be negative)"),
        Shape::Extent(count) => format!(" ({count} lengths)"),
        Shape::Outline => " (corners in plan)".to_owned(),
        _ => String::new(),
    };
    format!("{}{more}", key.doc)
}

#[cfg(test)]
mod tests {
    use dewpath_message::Speak as _;
    use std::collections::BTreeSet;

    use std::fmt::Write as _;

    use super::*;
    use crate::diagnostic::Severity;
    use crate::file::read_tree;

    /// A job that writes every key of every table with its example.
    fn everything() -> String {
        let mut text = String::new();
        let skipped = |key: &Key| matches!(key.shape, Shape::One(_) | Shape::Many(_));
        let keys = |table: &Table, without: &[&str]| {
            table
                .keys
                .iter()
                .filter(|key| !skipped(key) && !without.contains(&key.name))
                .map(|key| format!("{} = {}\n", key.name, key.example))
                .collect::<Vec<_>>()
                .concat()
        };
        let inline = |table: &Table| {
            let keys: Vec<String> =
                table.keys.iter().map(|key| format!("{} = {}", key.name, key.example)).collect();
            format!("{{ {} }}", keys.join(", "))
        };
        text.push_str(&keys(Job::TABLE, &[]));
        for key in Job::TABLE.keys {
            let (Shape::One(table) | Shape::Many(table)) = key.shape else { continue };
            let many = matches!(key.shape, Shape::Many(_));
            let (open, close) = if many { ("[[", "]]") } else { ("[", "]") };
            writeln!(text, "{open}{}{close}", key.name).unwrap();
            text.push_str(&keys(table, &[]));
            for below in table.keys {
                if let Shape::One(inner) = below.shape {
                    writeln!(text, "{} = {}", below.name, inline(inner)).unwrap();
                }
                if let Shape::Many(inner) = below.shape
                    && inner.name != "part"
                {
                    writeln!(text, "{} = {}", below.name, inline(inner)).unwrap();
                }
            }
        }
        // Parts stand in a run of their own, one of each sort.
        text.push_str("[[run]]\nid = \"in-parts\"\nfrom = \"fan\"\nto = \"cap\"\n");
        let part = Job::TABLE.all().into_iter().find(|table| table.name == "part").unwrap();
        for (index, key) in part.keys.iter().filter(|key| skipped(key)).enumerate() {
            let Shape::One(inner) = key.shape else { panic!("a part is a table") };
            write!(text, "[[run.part]]\nid = \"p{index}\"\n{} = {}\n", key.name, inline(inner))
                .unwrap();
        }
        // One value with everything that can be said of it.
        write!(
            text,
            "[[scenario]]\nid = \"told\"\nwind = {}\n",
            inline(&STATED)
                .replace(STATED.keys[0].example, "\"5 m/s\"")
                .replace("\"`measured`", "\"measured\"")
        )
        .unwrap();
        text
    }

    #[test]
    fn every_example_of_the_reference_is_read_without_complaint() {
        let text = everything();
        let told = match read_tree("everything.toml", &text) {
            Ok((read, _)) => read.warnings,
            Err(told) => told,
        };
        // The examples come from different houses, so references between them may lead nowhere.
        let speaker = dewpath_words::Speaker::us();
        let wrong: Vec<String> = told
            .list
            .iter()
            .map(|d| speaker.say(&d.message))
            .filter(|m| {
                !m.contains("has the id")
                    && !m.contains("run")
                    && !m.contains("twice")
                    && !m.contains("times")
                    && !m.contains("everything is new")
                    && !m.contains("beside a weather file")
                    && !m.contains("is no window")
                    && !m.contains("the control of `fan`")
                    && !m.contains("is not buried")
                    && !m.contains("beside its plan")
                    && !m.contains("slope of `way_out` is written")
                    && !m.contains("is no roof")
                    && !m.contains("beside its bearings")
                    && !m.contains("beside a bag")
            })
            .collect();
        assert!(wrong.is_empty(), "{wrong:#?}\n{text}");
        let errors = told.list.iter().filter(|d| d.severity == Severity::Error).count();
        assert!(errors < 12, "{told}");
    }

    #[test]
    fn the_reader_asks_for_exactly_the_keys_of_the_tables() {
        let asked = crate::file::asked(&everything());
        let mut known = BTreeSet::new();
        for table in Job::TABLE.all() {
            known.extend(table.keys.iter().map(|key| (table.written, key.name)));
        }
        known.extend(STATED.keys.iter().map(|key| (STATED.written, key.name)));
        let unread: Vec<_> = known.difference(&asked).collect();
        let unlisted: Vec<_> = asked.difference(&known).filter(|(_, key)| *key != "id").collect();
        assert!(unread.is_empty(), "in the tables, but never read: {unread:?}");
        assert!(unlisted.is_empty(), "read, but not in the tables: {unlisted:?}");
    }

    #[test]
    fn the_library_reader_asks_for_exactly_the_keys_of_its_tables() {
        let text = "format = 1\n[[fan]]\nid = \"a\"\n[[terminal]]\nid = \"b\"\nkind = \"wall cap\"\n[[duct]]\nid = \"c\"\n";
        let (_, asked) = crate::library::read_tree("library.toml", text).unwrap();
        for table in LibraryFile::TABLE.all() {
            for key in table.keys {
                assert!(
                    asked.contains(&(table.written, key.name)),
                    "{} {}",
                    table.written,
                    key.name
                );
            }
        }
    }

    #[test]
    fn every_key_of_the_schema_is_a_key_of_the_tables_and_is_described() {
        let schema = schema();
        for table in Job::TABLE.all() {
            let object = if table.name.is_empty() { &schema } else { &schema["$defs"][table.name] };
            let properties = object["properties"].as_object().unwrap();
            let names: Vec<&str> = properties.keys().map(String::as_str).collect();
            let keys: Vec<&str> = table.keys.iter().map(|key| key.name).collect();
            assert_eq!(names, keys, "{}", table.written);
            for (name, property) in properties {
                assert!(property["description"].as_str().is_some_and(|d| d.len() > 4), "{name}");
                assert!(property.get("examples").is_some(), "{name}");
            }
        }
        let quantity = &schema["$defs"]["run"]["properties"]["length"]["x-quantity"];
        assert_eq!(quantity, "length");
    }
}
