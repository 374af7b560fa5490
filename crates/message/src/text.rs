//! Texts that are a name or a sentence.

use std::fmt;

use crate::{Message, Slot, SlotKind, Value};

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
    pub said: Option<Message>,
}

impl Text {
    /// A sentence.
    pub fn said(sentence: impl Into<Message>) -> Self {
        Self { text: String::new(), said: Some(sentence.into()) }
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

/// A name is told as it stands, a sentence as a word of ours: a sentence inside another has no values.
impl Slot for Text {
    const KIND: SlotKind = SlotKind::Any;

    fn value(self) -> Option<Value> {
        Some(match self.said {
            Some(sentence) => Value::Word(sentence.key),
            None => Value::Reference(self.text),
        })
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
