//! The grammar of a job as one table.
//!
//! `keys!` makes a struct, its reader and its rows of the table from
//! one text; `choice!` does the same for a choice of words. From the
//! table come the reader's places and hints, the names that must stand for
//! something, the limits, the reference of keys and the descriptions that
//! forms are made from. Tables in a line, lists and choices that hold more
//! than a word nest as they do in the file.

mod fields;
mod names;
mod node;
mod rule;
mod shape;
mod value;

pub use fields::{Fields, Reader, Taken, Wrong};
pub use names::Named;
pub(super) use names::resolve;
pub use node::Node;
pub use rule::{Bound, FOOT, INCH, Rule, Text, Unless, eg, must};
pub use shape::{Head, Key, Kind, Listed, Shape, Shaped, Word, table, tables};
pub use value::{Value, inches as show_inches};

/// Structs of the job: each field with its sentence, its key in the file, its
/// type and its rule. A field behind `also` is no key and is filled in later.
macro_rules! keys {
    ($(
        $(#[doc = $says:literal])+
        #[derive($($derive:ident),*)]
        $seen:vis struct $name:ident [$head:expr] {
            $(
                $(#[doc = $doc:literal])+
                $key:literal: $vis:vis $field:ident: $ty:ty = $rule:expr
            ),* $(,)?
            $(; $(#[doc = $also_doc:literal])+ also $also_vis:vis $also:ident: $also_ty:ty)?
        }
    )+) => {$(
        $(#[doc = $says])+
        #[derive($($derive),*)]
        $seen struct $name {
            $($(#[doc = $doc])+ $vis $field: $ty,)*
            $($(#[doc = $also_doc])+ $also_vis $also: $also_ty,)?
        }

        impl $crate::job::grammar::Shaped for $name {
            const SHAPE: &'static $crate::job::grammar::Shape = &$crate::job::grammar::Shape {
                head: $head,
                says: concat!($($says),+),
                keys: &[$($crate::job::grammar::Key {
                    name: $key,
                    says: concat!($($doc),+),
                    kind: <$ty as $crate::job::grammar::Value>::kind,
                    takes: |node, reader, rule| {
                        <$ty as $crate::job::grammar::Value>::read(node, reader, rule).map(drop)
                    },
                    rule: $rule,
                }),*],
            };
        }

        impl $crate::job::grammar::Value for $name {
            fn kind() -> $crate::job::grammar::Kind {
                $crate::job::grammar::Kind::Table(<Self as $crate::job::grammar::Shaped>::shape)
            }

            fn read(
                node: $crate::job::grammar::Node<'_>,
                reader: &$crate::job::grammar::Reader<'_>,
                _: &$crate::job::grammar::Rule,
            ) -> Result<Self, $crate::job::grammar::Wrong> {
                let shape = <Self as $crate::job::grammar::Shaped>::SHAPE;
                let fields = $crate::job::grammar::Fields::of(node, reader, shape)?;
                Ok(Self { $($field: fields.take($key)?,)* $($also: Default::default())? })
            }

            fn absent(reader: &$crate::job::grammar::Reader<'_>) -> Option<Self> {
                let shape = <Self as $crate::job::grammar::Shaped>::SHAPE;
                if shape.keys.iter().any(|key| key.rule.required) {
                    return None;
                }
                let nothing = $crate::job::grammar::Node::Nothing;
                Self::read(nothing, reader, &$crate::job::grammar::Rule::NONE).ok()
            }
        }
    )+};
}
pub(crate) use keys;

/// A choice of words, each with its sentence; `= Word` names the one that is
/// meant where none is written.
macro_rules! choice {
    ($(
        $(#[doc = $says:literal])+
        #[derive($($derive:ident),*)]
        pub enum $name:ident $(= $else:ident)? {
            $($(#[doc = $doc:literal])+ $variant:ident = $word:literal),* $(,)?
        }
    )+) => {$(
        $(#[doc = $says])+
        #[derive($($derive),*)]
        pub enum $name {
            $($(#[doc = $doc])+ $variant),*
        }

        impl $name {
            /// Every one, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];

            /// The word for it in a job file.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),* }
            }

            /// From its word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                match word.trim() { $($word => Some(Self::$variant),)* _ => None }
            }
        }

        $(impl Default for $name {
            fn default() -> Self {
                Self::$else
            }
        })?

        impl serde::Serialize for $name {
            fn serialize<Z: serde::Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
                to.serialize_str(self.word())
            }
        }

        impl $crate::job::grammar::Value for $name {
            fn kind() -> $crate::job::grammar::Kind {
                $crate::job::grammar::Kind::Choice(&[$($crate::job::grammar::Word {
                    word: $word,
                    says: concat!($($doc),+),
                }),*])
            }

            fn read(
                node: $crate::job::grammar::Node<'_>,
                _: &$crate::job::grammar::Reader<'_>,
                _: &$crate::job::grammar::Rule,
            ) -> Result<Self, $crate::job::grammar::Wrong> {
                let text = node.text("a word")?;
                let words = || Self::ALL.iter().map(|it| it.word());
                Self::from_word(text).ok_or_else(|| node.no_word(text, words()))
            }

            fn absent(_: &$crate::job::grammar::Reader<'_>) -> Option<Self> {
                let unsaid: &[Self] = &[$(Self::$else)?];
                unsaid.first().copied()
            }
        }
    )+};
}
pub(crate) use choice;

#[cfg(test)]
mod tests;
