//! `LayUnder`: what one value leaves open is taken from another.

use proc_macro2::TokenStream;
use quote::quote;
use syn::{Data, DeriveInput, Error, Result};

pub(crate) fn derive(input: &DeriveInput) -> Result<TokenStream> {
    let Data::Struct(data) = &input.data else {
        return Err(Error::new_spanned(&input.ident, "only a struct can be laid under another"));
    };
    let name = &input.ident;
    let fields = data.fields.iter().filter_map(|field| field.ident.as_ref());
    Ok(quote! {
        impl crate::lay_under::LayUnder for #name {
            fn lay_under(&mut self, under: &Self) {
                #(crate::lay_under::LayUnder::lay_under(&mut self.#fields, &under.#fields);)*
            }
        }
    })
}
