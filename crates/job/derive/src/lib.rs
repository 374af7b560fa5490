//! Two derives for the model of the job file, in which every key is declared once, as a field.
//!
//! `Keys` makes from the fields of a struct the list of its keys (name, shape, limits, example, help) and
//! the functions that read and write them; with `#[table(…)]` also the table they stand in. `LayUnder` fills what one
//! value leaves open from another one. The code they write names items of `dewpath-job`, its only user.
//!
//! The doc comment of a field is the help of its key, up to the first blank line; what stands below is for
//! developers. The type of the field gives the shape (`shape.rs`), `#[key(…)]` the rest (`attributes.rs`).

mod attributes;
mod example;
mod keys;
mod lay_under;
mod shape;

use proc_macro::TokenStream;
use syn::{DeriveInput, parse_macro_input};

/// Declares keys: see the head of this crate, and `docs/adding.md`.
#[proc_macro_derive(Keys, attributes(key, table))]
pub fn keys(input: TokenStream) -> TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    keys::derive(&input).unwrap_or_else(|error| error.to_compile_error()).into()
}

/// Fills every field that is left open from the same field of another value.
#[proc_macro_derive(LayUnder)]
pub fn lay_under(input: TokenStream) -> TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    lay_under::derive(&input).unwrap_or_else(|error| error.to_compile_error()).into()
}
