//! What the worker of the page calls.
#![allow(unreachable_pub, reason = "the bindings take public functions only")]

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
extern "C" {
    /// A function of the page's.
    #[wasm_bindgen(typescript_type = "(share: number) => void")]
    pub type Told;

    #[wasm_bindgen(method)]
    fn call(this: &Told, of: &JsValue, share: f64);
}

/// Answers one question; `told` hears how much of a long one is over; see `ask_telling`.
#[wasm_bindgen]
pub fn ask(question: &str, told: &Told) -> String {
    crate::ask_telling(question, &|share| told.call(&JsValue::UNDEFINED, share))
}
