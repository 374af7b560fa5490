//! Sentences by key with typed values, and texts that are a name or a sentence.

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
    /// Several references, put together by what the language has between them.
    List(Vec<String>),
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

/// A text that is a name as it stands, or a sentence by key: what is cited, an equation, a symbol.
///
/// Other programs are handed the text alone.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(from = "String", into = "String")
)]
pub struct Text {
    /// The text; of a sentence empty until it is put into words.
    pub text: String,
    /// The sentence; none for a name.
    pub said: Option<Box<Message>>,
}

impl Text {
    /// A sentence.
    pub fn said(sentence: impl Into<Message>) -> Self {
        Self { text: String::new(), said: Some(Box::new(sentence.into())) }
    }

    /// The name that it is, or what its sentence says as it stands inside a line.
    pub fn told(&self, speaker: &dyn Speak) -> String {
        self.said.as_ref().map_or_else(|| self.text.clone(), |sentence| speaker.say(sentence))
    }

    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.text.is_empty() && self.said.is_none()
    }
}

impl From<String> for Text {
    fn from(text: String) -> Self {
        Self { text, said: None }
    }
}

impl From<&str> for Text {
    fn from(text: &str) -> Self {
        Self::from(text.to_owned())
    }
}

impl From<&String> for Text {
    fn from(text: &String) -> Self {
        Self::from(text.as_str())
    }
}

impl From<Text> for String {
    fn from(text: Text) -> Self {
        text.text
    }
}

/// What a book, standard, paper or table is called: a name, in every language the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Citation(pub &'static str);

impl From<Citation> for Text {
    fn from(Citation(name): Citation) -> Self {
        Self::from(name)
    }
}

/// The text; the key of a sentence that was not put into words.
impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let key = self.said.as_ref().map_or("", |sentence| &sentence.key);
        f.write_str(if self.text.is_empty() { key } else { &self.text })
    }
}

#[cfg(feature = "serde")]
impl schemars::JsonSchema for Text {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        String::schema_name()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        String::json_schema(generator)
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
                Value::List(texts) => write!(f, " {name}={texts:?}")?,
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
