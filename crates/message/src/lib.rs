//! Sentences as data: a key and typed values, which a language turns into text.
//!
//! [`messages!`] declares what can be said: a message whose values are not those of its sentence does not compile. What a
//! message reads like in a language is not known here.
//!
//! **Must never know**: a language, a unit system, or any other crate of this project.

mod declare;
mod figure;
mod message;

pub use declare::{Declared, DeclaredSlot, Said, Slot, SlotKind};
pub use figure::{Figure, Triple};
pub use message::{Citation, Keys, Message, Speak, Text, Value};

/// Types of the slots of messages.
pub mod slot {
    pub use crate::declare::texts::{List, Name, Reference, Word};
    pub use crate::figure::kinds::*;
}
