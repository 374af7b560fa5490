//! What the worker of the page calls.
#![allow(unreachable_pub, reason = "the bindings take public functions only")]

use wasm_bindgen::prelude::wasm_bindgen;

/// Answers one question; see `ask`.
#[wasm_bindgen]
pub fn ask(question: &str) -> String {
    crate::ask(question)
}
