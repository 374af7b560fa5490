//! Answers in English.

use dewpath_wasm::ask;
use serde_json::json;

/// Lets the engine speak English.
pub(crate) fn speak() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../words/catalogue/en");
    let topics = std::fs::read_dir(folder).expect("the catalogue is there");
    let texts = topics.map(|topic| std::fs::read_to_string(topic.expect("a topic").path()));
    let catalogues: Vec<String> = texts.collect::<Result<_, _>>().expect("it is text");
    let answer = ask(&json!({ "speak": { "catalogues": catalogues } }).to_string());
    assert_eq!(answer, r#"{"speaks":"English"}"#);
}
