//! A job through its year, as a page asks for it.

mod english;

use dewpath_wasm::{ask, ask_telling};
use serde_json::{Value, json};

const JOB: &str = include_str!("../../../jobs/hall-bath.toml");
const LIBRARY: &str = include_str!("../../../jobs/library/demo.toml");

fn year(text: &str) -> Value {
    english::speak();
    let files = json!({ "job.toml": text, "library/demo.toml": LIBRARY });
    let question = json!({ "year": { "files": files, "job": "job.toml", "page": "phone" } });
    let answer: Value =
        serde_json::from_str(&ask(&question.to_string())).expect("answers are JSON");
    answer["year"].clone()
}

#[test]
fn tables_and_drawings_of_the_year_are_those_of_its_report() {
    let year = year(JOB);
    let room = &year["rooms"][0];
    let rows = room["table"]["rows"].as_array().expect("months");
    assert_eq!(rows.len(), 13);
    let months = year["report"]["rooms"][0]["year"]["months"].as_array().expect("months");
    let wet = months[0]["hours_above_80_h"].as_f64().expect("hours");
    assert_eq!(rows[0][4], format!("{wet:.0}"));
    assert!(room["cost"].as_str().is_some_and(|cost| cost.ends_with('$')), "{}", room["cost"]);
    assert_eq!(year["ducts"]["rows"].as_array().map(Vec::len), Some(13));
    let names: Vec<&str> = year["sheets"]
        .as_array()
        .expect("sheets")
        .iter()
        .filter_map(|s| s["name"].as_str())
        .collect();
    assert_eq!(names, ["water-attic-run", "year-hall-bath"]);
    let drawn = year["sheets"][1]["svg"].as_str().expect("a drawing");
    for title in ["Hours above 80 %", "Mould index", "Hours the fan runs", "Electricity"] {
        assert!(drawn.contains(title), "{title}");
    }
    let weather = year["report"]["dwelling"]["year"]["weather"]["text"].as_str();
    assert!(weather.is_some_and(|text| text.contains("mixed humid")), "{weather:?}");
}

#[test]
fn without_weather_the_year_says_what_is_missing() {
    let text = JOB.replace("climate = \"mixed humid\"\n", "");
    assert_ne!(text, JOB);
    let year = year(&text);
    assert_eq!(year["rooms"], json!([]));
    let findings = year["report"]["findings"].as_array().expect("findings");
    let mould = findings.iter().find(|f| f["id"] == "room.mould").expect("a point");
    assert_eq!(mould["message"]["key"], "room.year.no-weather");
}

#[test]
fn a_year_tells_how_far_it_has_come() {
    let told = std::cell::RefCell::new(Vec::new());
    let files = json!({ "job.toml": JOB, "library/demo.toml": LIBRARY });
    let question = json!({ "year": { "files": files, "job": "job.toml", "page": "phone" } });
    let answer = ask_telling(&question.to_string(), &|share| told.borrow_mut().push(share));
    assert_eq!(answer, ask(&question.to_string()), "being heard changes nothing");
    let twelfths: Vec<f64> = (1..=12).map(|month| f64::from(month) / 12.0).collect();
    assert_eq!(told.take(), twelfths);
}
