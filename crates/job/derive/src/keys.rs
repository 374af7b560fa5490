//! `Keys`: from the fields of a struct, or the variants of an enum, to declared keys and the functions that read and write them.

use proc_macro2::TokenStream;
use quote::quote;
use syn::spanned::Spanned as _;
use syn::{Attribute, Data, DeriveInput, Error, Fields, Ident, LitStr, Result, Variant};

use crate::attributes::{KeyAttribute, TableAttribute, doc};
use crate::shape::{self, Field, Write};

pub(crate) fn derive(input: &DeriveInput) -> Result<TokenStream> {
    let name = &input.ident;
    let (declared, read, write) = match &input.data {
        Data::Struct(data) => {
            let list = list(&data.fields)?;
            let read = list.read(&quote!(Self));
            let write = list.write_struct();
            (list.declared, read, write)
        }
        Data::Enum(data) => {
            let mut declared = Vec::new();
            let (mut read, mut write, mut keys) = (Vec::new(), Vec::new(), Vec::new());
            for variant in &data.variants {
                let made = self::variant(variant)?;
                declared.push(made.declared);
                read.push(made.read);
                write.push(made.write);
                keys.push(made.key);
            }
            // Of several that are written the last one counts; that there are several is told elsewhere.
            (declared, quote!({ let mut found = None; #(#read)* found }), write_enum(&write, &keys))
        }
        Data::Union(_) => return Err(Error::new_spanned(name, "no union holds keys")),
    };
    let keys = keys(&declared);
    let in_table = match TableAttribute::of(&input.attrs)? {
        Some(table) => {
            let key = LitStr::new("", name.span());
            let table = self::table(
                &table,
                &key,
                &quote!(<#name as crate::keys::Keys>::KEYS),
                &doc(&input.attrs),
            );
            quote! {
                impl crate::keys::InTable for #name {
                    const TABLE: &'static crate::spec::Table = #table;
                }
            }
        }
        None => TokenStream::new(),
    };
    Ok(quote! {
        impl crate::keys::Keys for #name {
            const KEYS: &'static [crate::spec::Key] = #keys;
            fn read(
                context: &mut crate::read::Context<'_>,
                reader: &crate::read::Reader<'_>,
            ) -> Option<Self> {
                #read
            }
            #write
        }
        #in_table
    })
}

/// A variant is written anew whenever something of it is different.
fn write_enum(writes: &[TokenStream], keys: &[TokenStream]) -> TokenStream {
    quote! {
        fn write(&self, before: Option<&Self>, writer: &mut crate::write::Writer) {
            let key = |kind: &Self| match kind { #(#keys),* };
            if before == Some(self) {
                return;
            }
            match self { #(#writes),* }
            if let Some(old) = before.map(key).filter(|old| *old != key(self)) {
                writer.remove(old);
            }
        }
    }
}

/// The fields of a struct or variant.
struct List<'f> {
    /// Their declarations, each a `Declared`.
    declared: Vec<TokenStream>,
    names: Vec<&'f Ident>,
    reads: Vec<TokenStream>,
    writes: Vec<(&'f Ident, LitStr, Write)>,
    /// Those without which the whole cannot be made.
    needed: Vec<&'f Ident>,
}

impl List<'_> {
    /// A block that reads the fields in their order and makes `made` of them.
    fn read(&self, made: &TokenStream) -> TokenStream {
        let Self { names, reads, needed, .. } = self;
        let whole = quote!(Some(#made { #(#names),* }));
        let whole = needed.iter().fold(whole, |inner, name| quote!(#name.and_then(|#name| #inner)));
        quote!({ #(let #names = #reads;)* #whole })
    }

    /// The functions that write the fields of a struct and give its id.
    fn write_struct(&self) -> TokenStream {
        let calls = self.writes.iter().map(|(field, name, write)| {
            write.call(name, &quote!(before.map(|before| &before.#field)), &quote!(&self.#field))
        });
        let id =
            self.writes.iter().find(|(.., write)| matches!(write, Write::Id)).map(|(field, ..)| {
                quote! {
                    fn id(&self) -> Option<&str> {
                        Some(&self.#field)
                    }
                }
            });
        quote! {
            fn write(&self, before: Option<&Self>, writer: &mut crate::write::Writer) {
                #(#calls)*
            }
            #id
        }
    }

    /// Calls that write the fields of a variant, each bound to its name.
    fn write_variant(&self) -> Vec<TokenStream> {
        let call = |(field, name, write): &(&Ident, LitStr, Write)| {
            write.call(name, &quote!(None), &quote!(#field))
        };
        self.writes.iter().map(call).collect()
    }
}

fn list(fields: &Fields) -> Result<List<'_>> {
    let mut list = List {
        declared: Vec::new(),
        names: Vec::new(),
        reads: Vec::new(),
        writes: Vec::new(),
        needed: Vec::new(),
    };
    for field in fields {
        let Some(name) = &field.ident else {
            return Err(Error::new_spanned(field, "a key needs a field with a name"));
        };
        let Some(key) = KeyAttribute::of(&field.attrs)? else {
            return Err(Error::new_spanned(field, "what key is this? write #[key(…)]"));
        };
        list.names.push(name);
        if key.flatten {
            let (declared, read, write) = flat(&field.ty, &key);
            list.declared.push(declared);
            list.reads.push(read);
            list.writes.push((name, key_name(name, &key), write));
            if key.required {
                list.needed.push(name);
            }
            continue;
        }
        let key_name = key_name(name, &key);
        let Field { shape, read, write, needed } = shape::field(&field.ty, &key_name, &key)?;
        list.declared.push(declared(&key_name, &shape, &key, &field.attrs, field.span())?);
        list.reads.push(read);
        // What stands first in the documentation is written first.
        let index = if key.says("first") { 0 } else { list.writes.len() };
        list.writes.insert(index, (name, key_name, write));
        if needed {
            list.needed.push(name);
        }
    }
    Ok(list)
}

fn key_name(name: &Ident, key: &KeyAttribute) -> LitStr {
    let text = key.name.clone().unwrap_or_else(|| name.to_string());
    LitStr::new(&text, name.span())
}

fn declared(
    name: &LitStr,
    shape: &TokenStream,
    key: &KeyAttribute,
    attributes: &[Attribute],
    span: proc_macro2::Span,
) -> Result<TokenStream> {
    let Some(example) = &key.example else {
        return Err(Error::new(span, "a key has an `example = …`"));
    };
    let doc = doc(attributes);
    if doc.is_empty() {
        return Err(Error::new(span, "a key has a doc comment: its help"));
    }
    let required = key.required;
    let place = match &key.after {
        Some(other) => quote!(After(#other)),
        None if key.says("first") => quote!(First),
        None => quote!(InOrder),
    };
    Ok(quote! {
        crate::keys::Declared::Key(
            crate::spec::Key {
                name: #name, shape: #shape, required: #required, doc: #doc, example: #example,
            },
            crate::keys::Place::#place,
        )
    })
}

/// Keys of another struct that stand in this table.
fn flat(of: &syn::Type, key: &KeyAttribute) -> (TokenStream, TokenStream, Write) {
    let without = &key.without;
    let renamed: Vec<TokenStream> = key
        .differs
        .iter()
        .filter_map(|other| other.name.as_ref().map(|new| (&other.key, new)))
        .map(|(old, new)| quote!((#old, #new)))
        .collect();
    let examples: Vec<TokenStream> = key
        .differs
        .iter()
        .filter_map(|other| other.example.as_ref().map(|new| (&other.key, new)))
        .map(|(key, new)| quote!((#key, #new)))
        .collect();
    let declared = quote! {
        crate::keys::Declared::Flat {
            keys: <#of as crate::keys::Keys>::KEYS,
            without: &[#(#without),*],
            renamed: &[#(#renamed),*],
            examples: &[#(#examples),*],
        }
    };
    let reader =
        if renamed.is_empty() { quote!(reader) } else { quote!(&reader.renamed(&[#(#renamed),*])) };
    let read = if let Some(read) = &key.read {
        quote!(#read(context, #reader))
    } else {
        quote!(<#of as crate::keys::Keys>::read(context, #reader))
    };
    // What cannot be made from its keys is not handed out; everything else has a value for when nothing is written.
    let whole = key.required || key.read.is_some();
    let read = if whole { read } else { quote!(#read.unwrap_or_default()) };
    (declared, read, Write::Flat(renamed))
}

/// The declared keys in the order of the documentation.
fn keys(declared: &[TokenStream]) -> TokenStream {
    quote!({
        const DECLARED: &[crate::keys::Declared] = &[#(#declared),*];
        const KEYS: [crate::spec::Key; crate::keys::count(DECLARED)] =
            crate::keys::in_order(DECLARED);
        &KEYS
    })
}

fn table(table: &TableAttribute, key: &LitStr, keys: &TokenStream, comment: &str) -> TokenStream {
    let name = table.name.as_ref().unwrap_or(key);
    let written = &table.written;
    let doc = table.doc.as_ref().map_or_else(|| comment.to_owned(), LitStr::value);
    let ids = table.ids.clone().unwrap_or_else(|| Ident::new("Job", written.span()));
    quote!({
        static TABLE: crate::spec::Table = crate::spec::Table {
            name: #name,
            written: #written,
            doc: #doc,
            ids: crate::spec::Ids::#ids,
            keys: #keys,
        };
        &TABLE
    })
}

/// What a variant gives.
struct Made {
    declared: TokenStream,
    read: TokenStream,
    /// An arm that writes it.
    write: TokenStream,
    /// An arm that gives its key.
    key: TokenStream,
}

/// A variant is a key with a table of its own below it.
fn variant(variant: &Variant) -> Result<Made> {
    let Some(key) = KeyAttribute::of(&variant.attrs)? else {
        return Err(Error::new_spanned(variant, "what key is this? write #[key(…)]"));
    };
    let Some(table) = TableAttribute::of(&variant.attrs)? else {
        return Err(Error::new_spanned(variant, "what table is this? write #[table(…)]"));
    };
    let name = &variant.ident;
    let key_name = LitStr::new(&name.to_string().to_lowercase(), name.span());
    let list = list(&variant.fields)?;
    let keys = keys(&list.declared);
    let table = self::table(&table, &key_name, &keys, &doc(&variant.attrs));
    let shape = quote!(crate::spec::Shape::One(#table));
    let declared = declared(&key_name, &shape, &key, &variant.attrs, variant.span())?;
    let made = list.read(&quote!(Self::#name));
    let below = if list.names.is_empty() { quote!(_) } else { quote!(reader) };
    let read = quote! {
        if let Some(#below) = &reader.section_if(context, #key_name) {
            if let made @ Some(_) = #made {
                found = made;
            }
        }
    };
    let (fields, writes) = (&list.names, list.write_variant());
    let writer = if fields.is_empty() { quote!(_) } else { quote!(writer) };
    Ok(Made {
        declared,
        read,
        write: quote! {
            Self::#name { #(#fields),* } => writer.whole(#key_name, |#writer| { #(#writes)* })
        },
        key: quote!(Self::#name { .. } => #key_name),
    })
}
