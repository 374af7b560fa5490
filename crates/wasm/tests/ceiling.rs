//! Drawings and the housing under a finger, as a page asks for them.

mod english;

use dewpath_wasm::ask;
use serde_json::{Value, json};

const JOB: &str = include_str!("../../../jobs/hall-bath.toml");
const LIBRARY: &str = include_str!("../../../jobs/library/demo.toml");

fn files() -> Value {
    json!({ "hall-bath.toml": JOB, "library/demo.toml": LIBRARY })
}

fn asked(question: &Value) -> Value {
    english::speak();
    serde_json::from_str(&ask(&question.to_string())).expect("answers are JSON")
}

fn judged(text: &str) -> Value {
    let files = json!({ "hall-bath.toml": text, "library/demo.toml": LIBRARY });
    let question = json!({ "judge": { "files": files, "job": "hall-bath.toml", "draws": 0 } });
    asked(&question)["judged"]["report"].clone()
}

fn near(at: [f64; 2]) -> Value {
    let question = json!({ "near": { "files": files(), "job": "hall-bath.toml", "fan": "ceiling-fan", "at": at } });
    asked(&question)["near"].clone()
}

#[test]
fn at_its_wish_the_finger_finds_the_first_candidate() {
    let report = judged(JOB);
    let first = &report["placements"][0];
    let (x, y) = (&first["x_m"], &first["y_m"]);
    let seat = near([x.as_f64().unwrap(), y.as_f64().unwrap()]);
    for key in ["bay", "body_m", "offset_m", "offset_xy_m", "patch", "wish"] {
        assert_eq!(seat["placement"][key], first[key], "{key}");
    }
}

#[test]
fn off_its_wish_is_told_on_the_tape() {
    let seat = near([1.0, 0.9]);
    let off = seat["off"].as_array().expect("three lengths");
    assert_eq!(off.len(), 3);
    assert!(off.iter().all(|length| length.as_str().unwrap().contains("in")), "{off:?}");
}

#[test]
fn a_place_that_is_taken_is_the_one_that_hangs() {
    let seat = near([1.2, 0.9]);
    let change = json!({ "change": { "text": JOB, "patch": seat["placement"]["patch"] } });
    let text = asked(&change)["changed"]["text"].as_str().expect("a changed job").to_owned();
    let report = judged(&text);
    let written = &report["placements"][0];
    assert_eq!(written["rank"], 0);
    assert_eq!(written["bay"], seat["placement"]["bay"]);
    for key in ["x_m", "y_m", "offset_m"] {
        // Patches are written to a tenth of a millimetre.
        let [a, b] = [written, &seat["placement"]].map(|place| place[key].as_f64().unwrap());
        assert!((a - b).abs() < 1e-4, "{key}: {a} and {b}");
    }
}

#[test]
fn what_hangs_nowhere_is_no_place() {
    let question = json!({ "near": { "files": files(), "job": "hall-bath.toml", "fan": "no-such-fan", "at": [0, 0] } });
    assert!(asked(&question)["near"].is_null());
}

#[test]
fn the_plan_says_where_the_dwelling_lies_on_it() {
    let question = json!({
        "sheets": { "files": files(), "job": "hall-bath.toml", "draws": 0, "page": "phone" }
    });
    let sheets = asked(&question)["sheets"].as_array().expect("sheets").clone();
    let plan = sheets.iter().find(|sheet| sheet["name"] == "plan-hall-bath").expect("a plan");
    let number = |value: &Value| value.as_f64().expect("a number");
    assert!((number(&plan["size_mm"][0]) - 96.0).abs() < 1e-9);
    // The room, 9 ft 4-1/2 in by 5 ft from the origin, lies on the paper.
    let far = number(&plan["origin_mm"][0]) + 2.8575 * number(&plan["mm_per_m"]);
    let top = number(&plan["origin_mm"][1]) - 1.524 * number(&plan["mm_per_m"]);
    assert!(far < 96.0 && top > 0.0, "{far} {top}");
    assert!(plan["svg"].as_str().unwrap().starts_with("<svg"));
    assert!(sheets.iter().all(|sheet| !sheet["describes"].as_str().unwrap().is_empty()));
}

fn spot(text: &str, more: &Value) -> Value {
    let files = json!({ "hall-bath.toml": text, "library/demo.toml": LIBRARY });
    let mut question = json!({ "files": files, "job": "hall-bath.toml", "way": "east-gable" });
    let more = more.as_object().expect("an object").clone();
    question.as_object_mut().expect("an object").extend(more);
    asked(&json!({ "outlet": question }))["outlet"].clone()
}

#[test]
fn a_terminal_stays_in_its_window_and_is_told_on_the_tape() {
    // The gable's window reaches from -3 ft to 3 ft along y in the plane 18 ft to the east.
    let beyond = spot(JOB, &json!({ "at": [3.0, -9.0], "level": 2.9 }));
    let at: Vec<f64> = serde_json::from_value(beyond["outlet"]["at_m"].clone()).expect("a spot");
    assert!((at[0] - 5.4864).abs() < 1e-9 && (at[1] + 0.9144).abs() < 1e-9, "{at:?}");
    assert_eq!(beyond["along"], json!(["0 in", "0 in"]));
    assert_eq!(beyond["outlet"]["is_clear"], true);
    assert!(spot(JOB, &json!({ "way": "nowhere" })).is_null());
}

#[test]
fn a_terminal_too_near_to_a_window_goes_to_where_the_report_lets_it() {
    // The bedroom window, 4 ft to the north, as high as the gable.
    let text = JOB.replace(
        "at = [\"18 ft\", \"4 ft\", \"2 ft 8 in\"]",
        "at = [\"18 ft\", \"4 ft\", \"5 ft\"]",
    );
    assert_ne!(text, JOB);
    let found = spot(&text, &json!({ "at": [5.4864, 0.9], "level": 2.9 }));
    let short = found["outlet"]["short"][0]["message"]["text"].as_str().expect("why not");
    assert!(short.contains("3 ft is asked for"), "{short}");
    let change = json!({ "change": { "text": text, "patch": found["outlet"]["patch"] } });
    let taken = asked(&change)["changed"]["text"].as_str().expect("a changed job").to_owned();
    let report = judged(&taken);
    let list = report["clearances"].as_array().expect("distances");
    let pane = list.iter().find(|c| c["near"] == "bedroom-window").expect("the window");
    assert_eq!(pane["verdict"], "holds");
    // It lies as near as it may: what the way takes in height leaves a little.
    let distance = pane["distance_m"].as_f64().expect("a length");
    assert!((0.9144 - 1e-4..0.96).contains(&distance), "{distance}");
    // Where it is written, it is found again, without a hand.
    let again = spot(&taken, &json!({ "level": 2.9 }));
    let y = |spot: &Value| spot["outlet"]["at_m"][1].as_f64().expect("a place");
    assert!((y(&again) - y(&found)).abs() < 1e-4);
}
