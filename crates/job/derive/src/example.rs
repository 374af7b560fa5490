//! An example, written in an attribute nearly as in a job file, as TOML text.

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use syn::{Error, Lit, Result};

/// `"9 ft"`, `3`, `true`, `["4 ft", "3 ft"]` or `{ kind = "wall cap" }` as it would stand in a job file.
pub(crate) fn toml(token: &TokenTree) -> Result<String> {
    match token {
        TokenTree::Group(group) => {
            let inside = inside(group.stream())?;
            match group.delimiter() {
                Delimiter::Bracket => Ok(format!("[{inside}]")),
                Delimiter::Brace if inside.is_empty() => Ok("{}".to_owned()),
                Delimiter::Brace => Ok(format!("{{ {inside} }}")),
                Delimiter::Parenthesis | Delimiter::None => {
                    Err(Error::new(group.span(), "an example is TOML"))
                }
            }
        }
        TokenTree::Literal(literal) => match Lit::new(literal.clone()) {
            Lit::Str(text) => {
                Ok(format!("\"{}\"", text.value().replace('\\', "\\\\").replace('"', "\\\"")))
            }
            _ => Ok(literal.to_string()),
        },
        TokenTree::Ident(word) => Ok(word.to_string()),
        TokenTree::Punct(mark) => Ok(mark.to_string()),
    }
}

fn inside(tokens: TokenStream) -> Result<String> {
    tokens.into_iter().try_fold(String::new(), |text, token| {
        Ok(match &token {
            TokenTree::Punct(mark) if mark.as_char() == ',' => text + ", ",
            TokenTree::Punct(mark) if mark.as_char() == '=' => text + " = ",
            _ => text + &toml(&token)?,
        })
    })
}
