//! The words in which the document is described: fields, kinds of values, rules between keys.

use crate::measure::Length;

/// One table of the document.
#[derive(Debug)]
pub(crate) struct Shape {
    /// What a person calls it: `tier`, `course`, `backing`.
    pub name: &'static str,
    /// One line of meaning.
    pub meaning: &'static str,
    /// Its keys, in the order in which they are written.
    pub fields: &'static [Field],
    /// What its key `kind` may say, with the further keys of each; empty for a table without kinds.
    pub kinds: &'static [&'static Variant],
    /// What must hold between its keys.
    pub rules: &'static [Rule],
}

/// One kind of a table that has kinds.
#[derive(Debug)]
pub(crate) struct Variant {
    /// The word of its key `kind`.
    pub word: &'static str,
    /// One line of meaning.
    pub meaning: &'static str,
    /// Its further keys.
    pub fields: &'static [Field],
    /// What must hold between its keys.
    pub rules: &'static [Rule],
}

/// One key of a table.
#[derive(Debug)]
pub(crate) struct Field {
    /// As written in the file.
    pub key: &'static str,
    /// What its value may be.
    pub kind: Kind,
    /// Whether it must be there.
    pub need: Need,
    /// One line of meaning.
    pub meaning: &'static str,
}

/// Whether a key must be there.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Need {
    /// It must.
    Required,
    /// It may be left out, which means something of its own.
    Optional,
    /// It may be left out, which means this.
    Default(Fallback),
}

/// What an absent key stands for.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Fallback {
    /// A length.
    Length(Length),
    /// The same length twice.
    Lengths(Length),
    /// A number or an angle in degrees.
    Number(f64),
    /// Two numbers.
    Numbers(f64, f64),
    /// A whole number.
    Count(u64),
    /// No.
    No,
    /// Yes.
    Yes,
    /// A text or word.
    Text(&'static str),
    /// An empty list.
    Nothing,
    /// A table with all its defaults, or without any names.
    Table,
}

/// How far a length may reach; all stay within 3 m.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Bound {
    /// Above zero.
    Above,
    /// Zero or above.
    From,
    /// Also below zero.
    Any,
}

/// What a design refers to by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Names {
    /// A finish, its own or a known one.
    Finish,
    /// A paste, its own or that of a known finish.
    Paste,
    /// A printing sheet, its own or a known one.
    Sheet,
    /// A tier.
    Tier,
    /// A tier, a piece or the board.
    Seat,
}

/// A text that follows a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    /// A name: one line, not blank, up to 100 characters.
    Name,
    /// One line, up to 2,000 characters.
    Line,
    /// Several lines, up to 2,000 characters.
    Lines,
    /// A path inside the design's folder.
    Path,
    /// `#rrggbb`.
    Colour,
    /// `2026-12-12T10:00`, local time.
    Moment,
    /// `2026-12-01`.
    Date,
    /// `09:00`.
    Clock,
    /// Three capitals (ISO 4217).
    Currency,
}

/// What a value may be.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Kind {
    /// A length.
    Length(Bound),
    /// Two lengths.
    Lengths(Bound),
    /// One length across, or two: width and depth.
    Size,
    /// Two lengths, from and to.
    Stretch,
    /// One of these words, or the other kind.
    Either(&'static [&'static str], &'static Kind),
    /// One of these words.
    Word(&'static [&'static str]),
    /// A text that follows a form.
    Text(Form),
    /// A name of something else.
    Name(Names),
    /// A whole number, from and to.
    Count(u64, u64),
    /// A number, from and to.
    Number(f64, f64),
    /// Degrees, up to ten turns either way.
    Angle,
    /// `true` or `false`.
    Truth,
    /// Hours, as `"48 h"`.
    Hours,
    /// Two values, each of its own kind.
    Pair(&'static Kind, &'static Kind),
    /// Values of one kind: at least, at most so many.
    List(&'static Kind, usize, usize),
    /// A table.
    Table(&'static Shape),
    /// Tables one after the other: at least, at most so many.
    Tables(&'static Shape, usize, usize),
    /// Tables by names of the person's own.
    ByName(&'static Shape),
}

/// What must hold between the keys of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Rule {
    /// Exactly one of these keys.
    OneOf(&'static [&'static str]),
    /// One of these keys, or none.
    AtMostOne(&'static [&'static str]),
    /// At least one of these keys.
    SomeOf(&'static [&'static str]),
    /// The first key needs the second.
    Needs(&'static str, &'static str),
    /// The first key means nothing while the second is `true`.
    Without {
        /// The key.
        key: &'static str,
        /// The key that decides.
        truth: &'static str,
    },
    /// While this key says this word, that key must be there; otherwise it must not.
    Where {
        /// The key that decides.
        key: &'static str,
        /// Its word.
        word: &'static str,
        /// The key that must be there.
        needs: &'static str,
    },
    /// These keys only mean something while this key says this word.
    Only {
        /// The keys.
        keys: &'static [&'static str],
        /// The key that decides.
        key: &'static str,
        /// Its word.
        word: &'static str,
    },
    /// A size is width and depth for these words of `shape`, and one length for all others.
    PairFor(&'static [&'static str]),
    /// These keys hold along and up on a side, x and z elsewhere.
    BySurface(&'static [&'static str]),
}

impl Field {
    /// A key that must be there.
    pub(crate) const fn must(key: &'static str, kind: Kind, meaning: &'static str) -> Self {
        Self { key, kind, need: Need::Required, meaning }
    }

    /// A key that may be left out.
    pub(crate) const fn may(key: &'static str, kind: Kind, meaning: &'static str) -> Self {
        Self { key, kind, need: Need::Optional, meaning }
    }

    /// A key that may be left out and then stands for something.
    pub(crate) const fn or(key: &'static str, kind: Kind, fallback: Fallback, meaning: &'static str) -> Self {
        Self { key, kind, need: Need::Default(fallback), meaning }
    }

    /// A length that may be left out.
    pub(crate) const fn length(key: &'static str, bound: Bound, fallback: Length, meaning: &'static str) -> Self {
        Self::or(key, Kind::Length(bound), Fallback::Length(fallback), meaning)
    }

    /// Whether the editor keeps it as it is; no when left out.
    pub(crate) const fn locked() -> Self {
        Self::or(
            "locked",
            Kind::Truth,
            Fallback::No,
            "Kept from being changed in the editor; means nothing for the cake.",
        )
    }

    /// The name of a finish; white when left out.
    pub(crate) const fn finish(key: &'static str, meaning: &'static str) -> Self {
        Self::or(key, Kind::Name(Names::Finish), Fallback::Text("white"), meaning)
    }
}

impl Shape {
    /// The kind of that word.
    pub(crate) fn variant(&self, word: &str) -> Option<&'static Variant> {
        self.kinds.iter().copied().find(|variant| variant.word == word)
    }

    /// Its fields, with those of one of its kinds.
    pub(crate) fn fields_with(
        &self,
        variant: Option<&'static Variant>,
    ) -> impl Iterator<Item = &'static Field> + use<> {
        self.fields.iter().chain(variant.map_or(&[][..], |variant| variant.fields))
    }

    /// Its rules, with those of one of its kinds.
    pub(crate) fn rules_with(&self, variant: Option<&'static Variant>) -> impl Iterator<Item = &'static Rule> + use<> {
        self.rules.iter().chain(variant.map_or(&[][..], |variant| variant.rules))
    }
}
