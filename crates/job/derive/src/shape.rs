//! The shape of a key and the calls that read and write it, from the type of its field.
//!
//! Types are known by the names that `dewpath_job::value` gives them.

use proc_macro2::TokenStream;
use quote::{ToTokens, quote};
use syn::{Error, Expr, GenericArgument, LitStr, PathArguments, Result, Type};

use crate::attributes::KeyAttribute;

/// How a field is declared, read and written.
pub(crate) struct Field {
    /// A `Shape`.
    pub(crate) shape: TokenStream,
    /// An expression that reads the field from `reader` and tells `context` what is wrong.
    pub(crate) read: TokenStream,
    /// How it is written.
    pub(crate) write: Write,
    /// Whether the expression is `Some` only where the whole can be read.
    pub(crate) needed: bool,
}

/// How a field is written.
pub(crate) enum Write {
    /// Not at all: the id of an element is in its path.
    Id,
    /// By this function.
    Key(TokenStream),
    /// By this function, as a text for its own sake.
    Text(TokenStream),
    /// As a table.
    Table,
    /// As a table, where there is one.
    TableIf,
    /// As tables with ids.
    Elements,
    /// Into the table of the outer one, keys of old names under new ones.
    Flat(Vec<TokenStream>),
}

impl Write {
    /// The call that writes the field `after` with what it was `before`, none where there was nothing.
    pub(crate) fn call(
        &self,
        name: &LitStr,
        before: &TokenStream,
        after: &TokenStream,
    ) -> TokenStream {
        match self {
            Self::Id => TokenStream::new(),
            Self::Key(write) => quote!(writer.key(#name, #before, #after, #write);),
            Self::Text(write) => quote!(writer.text(#name, #before, #after, #write);),
            Self::Table => quote!(writer.table(#name, #before, #after);),
            Self::TableIf => {
                quote!(writer.table_if(#name, #before.and_then(Option::as_ref), (#after).as_ref());)
            }
            Self::Elements => quote!(writer.elements(#name, #before.map(Vec::as_slice), #after);),
            Self::Flat(renamed) if renamed.is_empty() => {
                quote!(crate::keys::Keys::write(#after, #before, writer);)
            }
            Self::Flat(renamed) => quote! {
                writer.renamed(&[#(#renamed),*], |writer| {
                    crate::keys::Keys::write(#after, #before, writer);
                });
            },
        }
    }

    /// The same for a field that may be left out.
    fn optional(self) -> Self {
        let each =
            |write| quote!(|given, system| given.as_ref().and_then(|given| #write(given, system)));
        match self {
            Self::Key(write) => Self::Key(each(write)),
            Self::Text(write) => Self::Text(each(write)),
            other => other,
        }
    }
}

/// A field that a method of the reader reads, and the function of the same name writes.
fn shape(shape: impl ToTokens, method: &str, name: &LitStr) -> Field {
    let method = syn::Ident::new(method, name.span());
    Field {
        shape: quote!(crate::spec::Shape::#shape),
        read: quote!(reader.#method(context, #name)),
        write: Write::Key(quote!(crate::write::#method)),
        needed: false,
    }
}

/// Shape and reading of a field of type `of` under the key `name`.
pub(crate) fn field(of: &Type, name: &LitStr, key: &KeyAttribute) -> Result<Field> {
    let mut field = match of {
        Type::Array(months) => {
            let limits = limits(of, key)?;
            let element = &months.elem;
            Field {
                needed: true,
                ..shape(
                    quote!(Months(<#element as dewpath_units::Quantity>::KIND, #limits)),
                    "twelve",
                    name,
                )
            }
        }
        _ => named(of, name, key)?,
    };
    if let Some(read) = &key.read {
        field.read = quote!(#read(context, reader, #name));
        field.needed = false;
    }
    Ok(field)
}

fn named(of: &Type, name: &LitStr, key: &KeyAttribute) -> Result<Field> {
    let (word, arguments) = parts(of)?;
    match (word.as_str(), arguments.as_slice()) {
        ("Given", [GenericArgument::Type(quantity)]) => {
            let limits = limits(of, key)?;
            Ok(if key.says("signed") {
                shape(quote!(SignedLength(#limits)), "quantity", name)
            } else if key.says("clear") {
                shape(quote!(Clear(#limits)), "clear", name)
            } else {
                shape(
                    quote!(Quantity(<#quantity as dewpath_units::Quantity>::KIND, #limits)),
                    "quantity",
                    name,
                )
            })
        }
        ("GivenCount", []) => {
            let (Some(possible), Some(usual)) = (&key.possible, &key.usual) else {
                return Err(Error::new_spanned(of, "a count has `possible(…), usual(…)`"));
            };
            Ok(shape(quote!(Count(#possible, #usual)), "count", name))
        }
        ("GivenYesNo", []) => Ok(shape(quote!(YesNo), "yes_no", name)),
        ("GivenChoice", [GenericArgument::Type(words)]) => Ok(if is(words, "Section") {
            shape(quote!(Size), "size", name)
        } else {
            shape(quote!(Choice(crate::spec::words_of::<#words>)), "choice", name)
        }),
        ("GivenPlace", [GenericArgument::Const(count)]) => Ok(place(count, name, key)),
        ("GivenOutline", []) => Ok(shape(quote!(Outline), "outline", name)),
        ("Option", [GenericArgument::Type(inner)]) => optional(of, inner, name, key),
        ("Vec", [GenericArgument::Type(inner)]) => Ok(several(inner, name, key)),
        ("LossPoint", []) => Ok(Field { needed: true, ..shape(quote!(Point), "point", name) }),
        ("String", []) => Ok(text(name, key)),
        ("f64", []) => {
            let mut field = number(of, name, key)?;
            or(&mut field, of, key)?;
            Ok(field)
        }
        ("u32", []) if key.says("format") => {
            Ok(Field { write: whole_number(), ..shape(quote!(Format), "format", name) })
        }
        ("u32", []) => {
            let mut field = number(of, name, key)?;
            field.write = whole_number();
            let read = &field.read;
            field.read = quote!(#read.map(|number| number as u32));
            or(&mut field, of, key)?;
            Ok(field)
        }
        _ if key.or.is_some() || key.read.is_some() => {
            let mut field = shape(quote!(Word(crate::spec::words_of::<#of>)), "word", name);
            if key.or.is_some() {
                or(&mut field, of, key)?;
            }
            Ok(field)
        }
        _ => Ok(Field {
            shape: quote!(crate::spec::Shape::One(<#of as crate::keys::InTable>::TABLE)),
            read: quote!({
                let below = reader.section(context, #name);
                <#of as crate::keys::Keys>::read(context, &below).unwrap_or_default()
            }),
            write: Write::Table,
            needed: false,
        }),
    }
}

fn whole_number() -> Write {
    Write::Key(quote!(crate::write::whole_number))
}

fn text(name: &LitStr, key: &KeyAttribute) -> Field {
    if key.says("id") {
        return Field {
            shape: quote!(crate::spec::Shape::Id),
            read: quote!(reader.id.clone()),
            write: Write::Id,
            needed: false,
        };
    }
    let mut field = any_text(name, key);
    let read = &field.read;
    field.read = quote!(#read.unwrap_or_default());
    field
}

fn any_text(name: &LitStr, key: &KeyAttribute) -> Field {
    let field = if let Some(kinds) = &key.refers {
        shape(quote!(Reference(#kinds)), "reference", name)
    } else if key.says("model") {
        shape(quote!(Model), "text", name)
    } else {
        shape(quote!(Text), if key.says("raw") { "raw" } else { "text" }, name)
    };
    Field { write: Write::Text(quote!(crate::write::text)), ..field }
}

/// A field that may be left out.
fn optional(of: &Type, inner: &Type, name: &LitStr, key: &KeyAttribute) -> Result<Field> {
    let field = inner_of_optional(of, inner, name, key)?;
    Ok(Field { write: field.write.optional(), ..field })
}

fn inner_of_optional(of: &Type, inner: &Type, name: &LitStr, key: &KeyAttribute) -> Result<Field> {
    if let Type::Array(array) = inner {
        let (element, count) = (&array.elem, &array.len);
        return Ok(if key.limits.is_some() || key.possible.is_some() {
            let limits = limits(of, key)?;
            shape(
                quote!(Months(<#element as dewpath_units::Quantity>::KIND, #limits)),
                "twelve",
                name,
            )
        } else {
            shape(quote!(Sides(#count)), "sides", name)
        });
    }
    let (word, arguments) = parts(inner)?;
    Ok(match (word.as_str(), arguments.as_slice()) {
        ("String", []) => any_text(name, key),
        ("Day", []) => shape(quote!(Day), "day", name),
        ("LossPoint", []) => shape(quote!(Point), "point", name),
        ("f64", []) => number(of, name, key)?,
        ("Stated", [GenericArgument::Type(wish)]) if is(wish, "Wish") => {
            shape(quote!(Wish), "wish", name)
        }
        _ => Field {
            shape: quote!(crate::spec::Shape::One(<#inner as crate::keys::InTable>::TABLE)),
            read: quote!({
                let below = reader.section_if(context, #name);
                below.and_then(|below| <#inner as crate::keys::Keys>::read(context, &below))
            }),
            write: Write::TableIf,
            needed: false,
        },
    })
}

fn several(inner: &Type, name: &LitStr, key: &KeyAttribute) -> Field {
    if matches!(inner, Type::Tuple(_)) {
        return shape(quote!(Curve), "curve", name);
    }
    if is(inner, "String") {
        let field = match &key.refers {
            Some(kinds) => shape(quote!(References(#kinds)), "references", name),
            None => shape(quote!(Texts), "texts", name),
        };
        return Field { write: Write::Key(quote!(crate::write::texts)), ..field };
    }
    if is(inner, "ClockTime") {
        return shape(quote!(Times), "times", name);
    }
    if is(inner, "RatedPoint") {
        return shape(quote!(Ratings), "ratings", name);
    }
    Field {
        shape: quote!(crate::spec::Shape::Many(<#inner as crate::keys::InTable>::TABLE)),
        read: quote!(crate::keys::elements::<#inner>(context, reader, #name)),
        write: Write::Elements,
        needed: false,
    }
}

fn place(count: &Expr, name: &LitStr, key: &KeyAttribute) -> Field {
    if key.says("extent") {
        shape(quote!(Extent(#count)), "place", name)
    } else {
        shape(quote!(Place(#count)), "place", name)
    }
}

fn number(of: &Type, name: &LitStr, key: &KeyAttribute) -> Result<Field> {
    let Some(possible) = &key.possible else {
        return Err(Error::new_spanned(of, "a number has `possible(…)`"));
    };
    Ok(shape(quote!(Number(#possible)), "number", name))
}

/// Gives an optional reading its value for when there is none.
fn or(field: &mut Field, of: &Type, key: &KeyAttribute) -> Result<()> {
    let Some(or) = &key.or else {
        return Err(Error::new_spanned(of, "what counts when it is left out stands in `or = …`"));
    };
    let read = &field.read;
    field.read = quote!(#read.unwrap_or(#or));
    Ok(())
}

fn limits(of: &Type, key: &KeyAttribute) -> Result<TokenStream> {
    if let Some(limits) = &key.limits {
        return Ok(limits.clone());
    }
    match (&key.possible, &key.usual) {
        (Some(possible), Some(usual)) => {
            Ok(quote!(crate::spec::Limits { possible: [#possible], usual: [#usual] }))
        }
        _ => Err(Error::new_spanned(
            of,
            "a quantity has `limits = …`, or `possible(…)` and `usual(…)` in the stored unit",
        )),
    }
}

fn is(of: &Type, word: &str) -> bool {
    parts(of).is_ok_and(|(name, _)| name == word)
}

/// Last name of a type's path, with what stands in its angle brackets.
fn parts(of: &Type) -> Result<(String, Vec<GenericArgument>)> {
    let Type::Path(path) = of else {
        return Err(Error::new_spanned(of, "no key can have this type"));
    };
    let Some(last) = path.path.segments.last() else {
        return Err(Error::new_spanned(of, "no key can have this type"));
    };
    let arguments = match &last.arguments {
        PathArguments::AngleBracketed(list) => list.args.iter().cloned().collect(),
        _ => Vec::new(),
    };
    Ok((last.ident.to_string(), arguments))
}
