//! Prints the JSON Schema of a question or of an answer: what the types of the page are made from. What stands in a report is left to
//! the schema of the report.

use std::io::{Error, Write};

use dewpath_wasm::{Answer, Question};
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value};

const REPORT: &str = "report.schema.json";

fn main() -> std::io::Result<()> {
    let settings = SchemaSettings::draft2020_12();
    let schema = match std::env::args().nth(1).as_deref() {
        Some("question") => {
            settings.for_deserialize().into_generator().into_root_schema_for::<Question>()
        }
        Some("answer") => {
            settings.for_serialize().into_generator().into_root_schema_for::<Answer>()
        }
        _ => return Err(Error::other("schema question|answer")),
    };
    let mut schema = schema.to_value();
    let report = dewpath_report::schema().to_value();
    let of_report = |name: &str| name == "Report" || report["$defs"].get(name).is_some();
    if let Some(defs) = schema.get_mut("$defs").and_then(Value::as_object_mut) {
        defs.retain(|name, _| !of_report(name));
    }
    refer(&mut schema, &of_report);
    writeln!(std::io::stdout(), "{schema:#}")
}

/// Leads references to what stands in a report to its own schema.
fn refer(node: &mut Value, of_report: &impl Fn(&str) -> bool) {
    match node {
        Value::Object(map) => {
            let name = named(map).filter(|name| of_report(name)).map(str::to_owned);
            if let Some(name) = name {
                let within =
                    if name == "Report" { String::new() } else { format!("/$defs/{name}") };
                map.insert("$ref".to_owned(), format!("{REPORT}#{within}").into());
            }
            map.values_mut().for_each(|value| refer(value, of_report));
        }
        Value::Array(list) => list.iter_mut().for_each(|value| refer(value, of_report)),
        _ => {}
    }
}

fn named(map: &Map<String, Value>) -> Option<&str> {
    map.get("$ref")?.as_str()?.strip_prefix("#/$defs/")
}
