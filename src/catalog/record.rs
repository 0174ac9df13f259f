//! The two macros that make a catalog type from its fields: the type, its reading and its schema are one text.

/// A mapping with fixed fields. Each type keeps `span`, the key it stands under. A field after `+` is not in the file.
macro_rules! record {
    ($(
        $(#[doc = $doc:literal])+
        $name:ident, $what:literal {
            $($(#[doc = $field_doc:literal])+ $field:ident $([$key:ident])?: $kind:ty,)+
            $(+ $(#[doc = $extra_doc:literal])+ $extra:ident: $extra_kind:ty = $start:expr,)*
        }
    )+) => {$(
        $(#[doc = $doc])+
        #[derive(Clone, Debug)]
        pub struct $name {
            /// The key it stands under: its name, for models and stock.
            pub span: $crate::source::Span,
            $($(#[doc = $field_doc])+ pub $field: $kind,)+
            $($(#[doc = $extra_doc])+ pub $extra: $extra_kind,)*
        }

        impl $crate::catalog::reading::Field for $name {
            const REQUIRED: bool = true;

            fn read(
                node: &$crate::catalog::node::Node,
                reading: &mut $crate::catalog::reading::Reading<'_>,
            ) -> Self {
                let Some(mut fields) =
                    $crate::catalog::reading::Fields::of(node, $what, reading)
                else {
                    return <Self as $crate::catalog::reading::Field>::absent(node.span);
                };
                let whole = Self {
                    span: node.span,
                    $($field: fields.take(record!(@key $field $($key)?), reading),)+
                    $($extra: $start,)*
                };
                fields.finish($what, reading);
                whole
            }

            fn absent(at: $crate::source::Span) -> Self {
                Self {
                    span: at,
                    $($field: <$kind as $crate::catalog::reading::Field>::absent(at),)+
                    $($extra: $start,)*
                }
            }
        }

        impl $crate::catalog::shelf::Placed for $name {
            fn span(&self) -> $crate::source::Span {
                self.span
            }
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let mut sheet = $crate::catalog::schema::Sheet::new(concat!($($doc),+));
                $(sheet.field::<$kind>(
                    generator,
                    record!(@key $field $($key)?),
                    concat!($($field_doc),+),
                );)+
                sheet.finish()
            }
        }
    )+};
    (@key $field:ident) => { stringify!($field) };
    (@key $field:ident $key:ident) => { stringify!($key) };
}

/// A choice among fixed words.
macro_rules! words {
    ($(
        $(#[doc = $doc:literal])+
        $name:ident {
            $($(#[doc = $word_doc:literal])+ $variant:ident = $word:literal,)+
        }
    )+) => {$(
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name {
            $($(#[doc = $word_doc])+ $variant,)+
        }

        impl $name {
            /// Every one, in the order of the page.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as catalogs write it.
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)+
                }
            }
        }

        impl $crate::catalog::stated::Readable for $name {
            fn parse(text: &str) -> Result<Self, $crate::catalog::misread::Misread> {
                match text.trim() {
                    $($word => Ok(Self::$variant),)+
                    other => Err($crate::catalog::misread::Misread::word(other, &[$($word),+])),
                }
            }

            fn name() -> String {
                stringify!($name).to_owned()
            }

            fn schema() -> schemars::Schema {
                schemars::json_schema!({ "enum": [$($word),+], "description": concat!($($doc),+) })
            }
        }
    )+};
}

pub(super) use {record, words};
