//! Messages that are declared: which values each has, of which kind.

use crate::{Figure, Text, Value};

/// What a slot of a message holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlotKind {
    /// A figure.
    Figure,
    /// An id or name as the user wrote it.
    Name,
    /// A word of ours.
    Word,
    /// A reference.
    Reference,
    /// Several references.
    List,
    /// Any of these, known only when the message is made.
    Any,
}

/// A value of a declared message.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DeclaredSlot {
    /// Its name in the sentence.
    pub name: &'static str,
    /// What it holds.
    pub kind: SlotKind,
    /// Whether it may be missing.
    pub is_optional: bool,
}

/// A declared message.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Declared {
    /// Name of the type, and of the variant that has the key.
    pub name: &'static str,
    /// Key of the sentence.
    pub key: &'static str,
    /// Its values.
    pub slots: &'static [DeclaredSlot],
}

/// A type whose values are messages that [`messages!`](crate::messages) declared.
pub trait Said {
    /// What is declared: one message, or one for each case.
    const DECLARED: &'static [Declared];
}

/// A type that a slot of a message may have.
pub trait Slot: Sized {
    /// What it holds.
    const KIND: SlotKind;
    /// Whether it may be missing.
    const IS_OPTIONAL: bool = false;

    /// The value; none where it is missing.
    fn value(self) -> Option<Value>;
}

impl<T: Slot> Slot for Option<T> {
    const KIND: SlotKind = T::KIND;
    const IS_OPTIONAL: bool = true;

    fn value(self) -> Option<Value> {
        self.and_then(T::value)
    }
}

/// A figure of a kind that is known only when the message is made.
impl Slot for Figure {
    const KIND: SlotKind = SlotKind::Figure;

    fn value(self) -> Option<Value> {
        Some(Value::Figure(self))
    }
}

/// A value of a kind that is known only when the message is made.
impl Slot for Value {
    const KIND: SlotKind = SlotKind::Any;

    fn value(self) -> Option<Value> {
        Some(self)
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

/// Texts in slots.
pub(crate) mod texts {
    use super::{Slot, SlotKind};
    use crate::Value;

    macro_rules! texts {
        ($($(#[doc = $about:literal])+ $kind:ident)+) => {$(
            $(#[doc = $about])+
            #[derive(Debug, Clone, PartialEq, Eq)]
            pub struct $kind(pub String);

            impl $kind {
                /// One of a text.
                pub fn new(text: impl Into<String>) -> Self {
                    Self(text.into())
                }
            }

            impl Slot for $kind {
                const KIND: SlotKind = SlotKind::$kind;

                fn value(self) -> Option<Value> {
                    Some(Value::$kind(self.0))
                }
            }
        )+};
    }

    /// Several references, put together by what the language has between them.
    #[derive(Debug, Clone, PartialEq, Eq)]
    pub struct List(pub Vec<String>);

    impl List {
        /// A list of texts.
        pub fn new(texts: &[&str]) -> Self {
            Self(texts.iter().map(|text| (*text).to_owned()).collect())
        }
    }

    impl Slot for List {
        const KIND: SlotKind = SlotKind::List;

        fn value(self) -> Option<Value> {
            Some(Value::List(self.0))
        }
    }

    texts! {
        /// An id or name as the user wrote it.
        Name
        /// A word of ours, by key; translated.
        Word
        /// A reference such as a section number; never translated.
        Reference
    }
}

/// Declares messages: for each a type, whose literal must name every value of the sentence.
///
/// Three forms: a `struct` is one sentence with its values; a `struct` with keys is several sentences that have the same
/// values, and its field `key` says which; an `enum` is sentences without values. What may be missing is an `Option`.
/// Every type becomes a [`Message`](crate::Message) or a [`Text`](crate::Text) by `into()`; `DECLARED` lists what was declared.
///
/// ```
/// use dewpath_message::slot::{AirflowLS, ChanceRatio, LengthM, Name};
/// use dewpath_message::{Message, Triple, messages};
///
/// messages! {
///     struct Delivered { room: Name, flow: AirflowLS, chance: Option<ChanceRatio> } = "airflow.delivered"
///
///     struct Opening { distance: LengthM } = OpeningKey {
///         Holds = "opening.holds",
///         Near = "opening.near",
///     }
///
///     enum Do { Look = "do.look", Measure = "do.measure" }
/// }
///
/// let flow = AirflowLS(Triple::exact(30.0));
/// let message: Message = Delivered { room: Name::new("bath"), flow, chance: None }.into();
/// assert_eq!(message.key, "airflow.delivered");
/// assert_eq!(message.values.len(), 2);
/// let distance = LengthM(Triple::exact(3.0));
/// assert_eq!(Message::from(Opening { key: OpeningKey::Near, distance }).key, "opening.near");
/// assert_eq!(Message::from(Do::Look), Message::new("do.look"));
/// assert_eq!(DECLARED.concat().len(), 5);
/// ```
///
/// A value that is missing does not compile:
///
/// ```compile_fail,E0063
/// use dewpath_message::{messages, slot::Name};
/// messages! {
///     struct Between { one: Name, other: Name } = "between"
/// }
/// let message = Between { one: Name::new("bath") };
/// ```
///
/// nor does one that the sentence has no place for:
///
/// ```compile_fail,E0560
/// use dewpath_message::{messages, slot::Name};
/// messages! {
///     struct Room { room: Name } = "room"
/// }
/// let message = Room { room: Name::new("bath"), fan: Name::new("fan") };
/// ```
///
/// nor one of another kind:
///
/// ```compile_fail,E0308
/// use dewpath_message::{Triple, messages, slot::{AirflowLS, PressurePa}};
/// messages! {
///     struct Loss { loss: PressurePa } = "loss"
/// }
/// let message = Loss { loss: AirflowLS(Triple::exact(30.0)) };
/// ```
#[macro_export]
macro_rules! messages {
    ($(
        $(#[$about:meta])*
        $kind:ident $name:ident { $($body:tt)* } $(= $key:tt $({ $($keys:tt)* })?)?
    )+) => {
        $($crate::declare! {
            $(#[$about])* $kind $name { $($body)* } $(= $key $({ $($keys)* })?)?
        })+

        /// Every message that is declared here.
        pub const DECLARED: &[&[$crate::Declared]] = &[$(<$name as $crate::Said>::DECLARED),+];
    };
}

/// One of [`messages!`].
#[doc(hidden)]
#[macro_export]
macro_rules! declare {
    ($(#[$about:meta])* enum $name:ident { $($variant:ident = $key:literal),+ $(,)? }) => {
        $crate::declare! { @keys $(#[$about])* #[doc = "Sentences without values."] $name { $($variant = $key),+ } }

        impl From<$name> for $crate::Message {
            fn from(said: $name) -> Self {
                Self::new(said.key())
            }
        }

        impl From<$name> for $crate::Text {
            fn from(said: $name) -> Self {
                Self::said(said)
            }
        }

        impl $crate::Said for $name {
            const DECLARED: &'static [$crate::Declared] =
                &[$($crate::Declared {
                    name: concat!(stringify!($name), "::", stringify!($variant)),
                    key: $key,
                    slots: &[],
                }),+];
        }
    };
    ($(#[$about:meta])* struct $name:ident { $($slot:ident: $type:ty),* $(,)? } = $key:literal) => {
        $(#[$about])*
        #[doc = concat!("`", $key, "`")]
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $(
                #[doc = concat!("`", stringify!($slot), "` of the sentence.")]
                pub $slot: $type,
            )*
        }

        impl From<$name> for $crate::Message {
            fn from($name { $($slot),* }: $name) -> Self {
                Self::said($key, vec![$((stringify!($slot), $crate::Slot::value($slot))),*])
            }
        }

        impl From<$name> for $crate::Text {
            fn from(said: $name) -> Self {
                Self::said(said)
            }
        }

        impl $crate::Said for $name {
            const DECLARED: &'static [$crate::Declared] =
                &[$crate::Declared {
                    name: stringify!($name),
                    key: $key,
                    slots: $crate::declare! { @slots $($slot: $type),* },
                }];
        }
    };
    (
        $(#[$about:meta])* struct $name:ident { $($slot:ident: $type:ty),+ $(,)? } =
        $keys:ident { $($variant:ident = $key:literal),+ $(,)? }
    ) => {
        $crate::declare! {
            @keys #[doc = concat!("Sentences of [`", stringify!($name), "`].")]
            $keys { $($variant = $key),+ }
        }

        $(#[$about])*
        #[doc = concat!("Sentences with the same values: see [`", stringify!($keys), "`].")]
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            /// Which of the sentences.
            pub key: $keys,
            $(
                #[doc = concat!("`", stringify!($slot), "` of the sentence.")]
                pub $slot: $type,
            )+
        }

        impl From<$name> for $crate::Message {
            fn from(said: $name) -> Self {
                Self::said(
                    said.key.key(),
                    vec![$((stringify!($slot), $crate::Slot::value(said.$slot))),+],
                )
            }
        }

        impl From<$name> for $crate::Text {
            fn from(said: $name) -> Self {
                Self::said(said)
            }
        }

        impl $crate::Said for $name {
            const DECLARED: &'static [$crate::Declared] = {
                const SLOTS: &[$crate::DeclaredSlot] = $crate::declare! { @slots $($slot: $type),+ };
                &[$($crate::Declared {
                    name: concat!(stringify!($keys), "::", stringify!($variant)),
                    key: $key,
                    slots: SLOTS,
                }),+]
            };
        }
    };
    (@keys $(#[$about:meta])* $name:ident { $($variant:ident = $key:literal),+ }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name {
            $(
                #[doc = concat!("`", $key, "`")]
                $variant,
            )+
        }

        impl $name {
            /// Key of the sentence.
            pub const fn key(self) -> &'static str {
                match self {
                    $(Self::$variant => $key,)+
                }
            }
        }
    };
    (@slots $($slot:ident: $type:ty),*) => {
        &[$($crate::DeclaredSlot {
            name: stringify!($slot),
            kind: <$type as $crate::Slot>::KIND,
            is_optional: <$type as $crate::Slot>::IS_OPTIONAL,
        }),*]
    };
}
