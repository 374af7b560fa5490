//! What `#[key(…)]`, `#[table(…)]` and the doc comment say.

use proc_macro2::{TokenStream, TokenTree};
use syn::parse::ParseStream;
use syn::punctuated::Punctuated;
use syn::{
    Attribute, Error, Expr, ExprLit, Ident, Lit, LitStr, Meta, Path, Result, Token, parenthesized,
};

use crate::example;

/// What `#[key(…)]` says of a field or variant.
#[derive(Default)]
pub(crate) struct KeyAttribute {
    /// `name = "use"`: the key, where it is not the name of the field.
    pub(crate) name: Option<String>,
    /// `example = "9 ft"`, `example = { kind = "wall cap" }`: a value as TOML.
    pub(crate) example: Option<String>,
    /// `required`: it must be written.
    pub(crate) required: bool,
    /// `or = RoomKind::Other`: what counts when nothing can be read. That of a required key is never handed out.
    pub(crate) or: Option<TokenStream>,
    /// `limits = ROOM_SIDE`, or `possible(0.1, 100.0), usual(0.6, 12.0)`; of a count `possible(50), usual(4)`.
    pub(crate) limits: Option<TokenStream>,
    pub(crate) possible: Option<TokenStream>,
    pub(crate) usual: Option<TokenStream>,
    /// `refers = "fan, grille or junction"`: it holds ids of such elements.
    pub(crate) refers: Option<LitStr>,
    /// `after = "notes"`: where it stands in the documentation, when not in the order of the fields.
    pub(crate) after: Option<LitStr>,
    /// Words that choose between shapes of one type: `id`, `format`, `model`, `raw`, `signed`, `extent`, `clear`; and `first`
    /// for a key that stands before all others in the documentation.
    pub(crate) words: Vec<Ident>,
    /// `flatten`: the keys of this struct stand in the table of the outer one, `without("slope")`, and some of them
    /// otherwise: `differs("duct", name = "kind")`.
    pub(crate) flatten: bool,
    pub(crate) without: Vec<LitStr>,
    pub(crate) differs: Vec<Difference>,
    /// `read = function`: reads by hand what its shape alone does not say.
    pub(crate) read: Option<Path>,
}

/// What is different of one key of a flattened struct.
pub(crate) struct Difference {
    pub(crate) key: LitStr,
    pub(crate) name: Option<LitStr>,
    pub(crate) example: Option<String>,
}

/// What `#[table(…)]` says.
pub(crate) struct TableAttribute {
    /// `name = "room"`.
    pub(crate) name: Option<LitStr>,
    /// `written = "[[room]]"`.
    pub(crate) written: LitStr,
    /// `doc = "…"`, where the doc comment is for developers.
    pub(crate) doc: Option<LitStr>,
    /// `ids = Within`: where ids are unique; across the job when left out.
    pub(crate) ids: Option<Ident>,
}

impl KeyAttribute {
    pub(crate) fn of(attributes: &[Attribute]) -> Result<Option<Self>> {
        let Some(attribute) = attributes.iter().find(|a| a.path().is_ident("key")) else {
            return Ok(None);
        };
        let mut found = Self::default();
        attribute.parse_args_with(|input: ParseStream<'_>| {
            each(input, |word, input| found.take(word, input))
        })?;
        Ok(Some(found))
    }

    fn take(&mut self, word: Ident, input: ParseStream<'_>) -> Result<()> {
        match word.to_string().as_str() {
            "required" => self.required = true,
            "flatten" => self.flatten = true,
            "id" | "format" | "model" | "raw" | "first" | "signed" | "extent" | "clear" => {
                self.words.push(word);
            }
            "possible" => self.possible = Some(in_parentheses(input)?),
            "usual" => self.usual = Some(in_parentheses(input)?),
            "without" => {
                let names;
                parenthesized!(names in input);
                self.without = Punctuated::<LitStr, Token![,]>::parse_terminated(&names)?
                    .into_iter()
                    .collect();
            }
            "differs" => {
                let inside;
                parenthesized!(inside in input);
                self.differs.push(Difference::parse(&inside)?);
            }
            _ => {
                input.parse::<Token![=]>()?;
                match word.to_string().as_str() {
                    "name" => self.name = Some(input.parse::<LitStr>()?.value()),
                    "example" => self.example = Some(example::toml(&input.parse::<TokenTree>()?)?),
                    "or" => self.or = Some(until_comma(input)?),
                    "limits" => self.limits = Some(until_comma(input)?),
                    "refers" => self.refers = Some(input.parse()?),
                    "after" => self.after = Some(input.parse()?),
                    "read" => self.read = Some(input.parse()?),
                    _ => return Err(Error::new(word.span(), "not a word of #[key(…)]")),
                }
            }
        }
        Ok(())
    }

    /// Whether one of the words that choose a shape is written.
    pub(crate) fn says(&self, word: &str) -> bool {
        self.words.iter().any(|said| said == word)
    }
}

impl Difference {
    fn parse(input: ParseStream<'_>) -> Result<Self> {
        let mut found = Self { key: input.parse()?, name: None, example: None };
        input.parse::<Token![,]>()?;
        each(input, |word, input| {
            input.parse::<Token![=]>()?;
            match word.to_string().as_str() {
                "name" => found.name = Some(input.parse()?),
                "example" => found.example = Some(example::toml(&input.parse::<TokenTree>()?)?),
                _ => return Err(Error::new(word.span(), "not a word of differs(…)")),
            }
            Ok(())
        })?;
        Ok(found)
    }
}

impl TableAttribute {
    pub(crate) fn of(attributes: &[Attribute]) -> Result<Option<Self>> {
        let Some(attribute) = attributes.iter().find(|a| a.path().is_ident("table")) else {
            return Ok(None);
        };
        let (mut name, mut written, mut doc, mut ids) = (None, None, None, None);
        attribute.parse_args_with(|input: ParseStream<'_>| {
            each(input, |word, input| {
                input.parse::<Token![=]>()?;
                match word.to_string().as_str() {
                    "name" => name = Some(input.parse()?),
                    "written" => written = Some(input.parse()?),
                    "doc" => doc = Some(input.parse()?),
                    "ids" => ids = Some(input.parse()?),
                    _ => return Err(Error::new(word.span(), "not a word of #[table(…)]")),
                }
                Ok(())
            })
        })?;
        let written = written
            .ok_or_else(|| Error::new_spanned(attribute, "a table says how it is `written`"))?;
        Ok(Some(Self { name, written, doc, ids }))
    }
}

/// Help for the user: the doc comment up to its first blank line, with `\[` for a bracket that is no link.
pub(crate) fn doc(attributes: &[Attribute]) -> String {
    let lines = attributes.iter().filter_map(|attribute| match &attribute.meta {
        Meta::NameValue(pair) if pair.path.is_ident("doc") => match &pair.value {
            Expr::Lit(ExprLit { lit: Lit::Str(text), .. }) => Some(text.value()),
            _ => None,
        },
        _ => None,
    });
    let lines: Vec<String> =
        lines.map(|line| line.trim().to_owned()).take_while(|line| !line.is_empty()).collect();
    lines.join(" ").replace("\\[", "[").replace("\\]", "]")
}

/// Words with commas between them.
fn each(
    input: ParseStream<'_>,
    mut take: impl FnMut(Ident, ParseStream<'_>) -> Result<()>,
) -> Result<()> {
    while !input.is_empty() {
        take(input.parse()?, input)?;
        if !input.is_empty() {
            input.parse::<Token![,]>()?;
        }
    }
    Ok(())
}

fn in_parentheses(input: ParseStream<'_>) -> Result<TokenStream> {
    let inside;
    parenthesized!(inside in input);
    inside.parse()
}

fn until_comma(input: ParseStream<'_>) -> Result<TokenStream> {
    let mut found = TokenStream::new();
    while !input.is_empty() && !input.peek(Token![,]) {
        found.extend([input.parse::<TokenTree>()?]);
    }
    Ok(found)
}
