//! Sentences by key with typed values.

use std::collections::BTreeMap;
use std::fmt;

use crate::Figure;

/// A value inside a message.
#[derive(Debug, Clone, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize, schemars::JsonSchema))]
#[cfg_attr(feature = "serde", serde(rename_all = "snake_case"))]
pub enum Value {
    /// A figure, printed in the unit system of the reader.
    Figure(Figure),
    /// An id or name as the user wrote it.
    Name(String),
    /// A word of ours, by key; translated.
    Word(String),
    /// A reference such as a section number; never translated.
    Reference(String),
}

/// A sentence by key, with its values.
#[derive(Debug, Clone, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize, schemars::JsonSchema))]
pub struct Message {
    /// Key of the sentence.
    pub key: String,
    /// Values by the name they have in the sentence.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "BTreeMap::is_empty"))]
    pub values: BTreeMap<String, Value>,
    /// The sentence in the language and units asked for; empty until it is put into words.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "String::is_empty"))]
    pub text: String,
}

impl Message {
    /// A message without values.
    pub fn new(key: &str) -> Self {
        Self { key: key.to_owned(), values: BTreeMap::new(), text: String::new() }
    }

    /// A declared message with the values that it has.
    pub fn said(key: &str, values: Vec<(&str, Option<Value>)>) -> Self {
        let values = values.into_iter().filter_map(|(name, value)| Some((name.to_owned(), value?)));
        Self { key: key.to_owned(), values: values.collect(), text: String::new() }
    }

    /// The same with a figure.
    #[must_use]
    pub fn figure(mut self, name: &str, figure: Figure) -> Self {
        self.values.insert(name.to_owned(), Value::Figure(figure));
        self
    }

    /// The same with a name as the user wrote it.
    #[must_use]
    pub fn name(mut self, name: &str, value: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Name(value.into()));
        self
    }

    /// The same with a word of ours.
    #[must_use]
    pub fn word(mut self, name: &str, key: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Word(key.into()));
        self
    }

    /// The same with a reference.
    #[must_use]
    pub fn reference(mut self, name: &str, value: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Reference(value.into()));
        self
    }
}

/// For developers: the key with its values. People are told by a [`Speak`].
impl fmt::Display for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.key)?;
        for (name, value) in &self.values {
            match value {
                Value::Figure(figure) => write!(f, " {name}={:?}", figure.triple().likely)?,
                Value::Name(text) | Value::Word(text) | Value::Reference(text) => {
                    write!(f, " {name}={text:?}")?;
                }
            }
        }
        Ok(())
    }
}

/// Says messages in a language.
pub trait Speak {
    /// What a message says, as it stands inside a line: its first letter is as the text has it.
    fn say(&self, message: &Message) -> String;
}

/// Says keys with their values: for developers, and where no language is at hand.
#[derive(Debug, Clone, Copy)]
pub struct Keys;

impl Speak for Keys {
    fn say(&self, message: &Message) -> String {
        message.to_string()
    }
}
