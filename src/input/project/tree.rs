//! The TOML text as a tree of our own: in file order, every key and value with its place.

use std::ops::Range;
use toml::Spanned;
use toml::de::{DeInteger, DeTable, DeValue};

/// Bytes of the file.
pub(super) type Span = Range<usize>;

/// A value and where it stands.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub(super) span: Span,
    pub(super) value: Value,
}

/// What can stand behind `=`, or below a header.
#[derive(Debug, Clone)]
pub(super) enum Value {
    Text(String),
    Number(f64),
    Truth,
    Date,
    List(Vec<Node>),
    Table(Table),
}

impl Value {
    /// What it is, in words that follow "this is".
    pub(super) const fn words(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text",
            Self::Number(_) => "a plain number",
            Self::Truth => "true or false",
            Self::Date => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a section",
        }
    }
}

/// Keys with their values, in the order of the file.
#[derive(Debug, Clone, Default)]
pub(super) struct Table {
    pub(super) entries: Vec<Entry>,
}

/// One key with its value.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) key_span: Span,
    pub(super) node: Node,
}

impl Table {
    /// Copies a table of the TOML reader.
    pub(super) fn new(table: &DeTable<'_>) -> Self {
        let mut entries: Vec<Entry> = table
            .iter()
            .map(|(key, value)| Entry {
                key: key.get_ref().to_string(),
                key_span: key.span(),
                node: Node::new(value),
            })
            .collect();
        // The reader sorts keys by name; a builder reads the file from the top.
        entries.sort_by_key(|entry| entry.key_span.start);
        Self { entries }
    }

    /// The entry with this key.
    pub(super) fn get(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.key == key)
    }
}

impl Node {
    fn new(value: &Spanned<DeValue<'_>>) -> Self {
        let copied = match value.get_ref() {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(whole) => Value::Number(whole_number(whole)),
            DeValue::Float(float) => Value::Number(float.as_str().parse().unwrap_or(f64::NAN)),
            DeValue::Boolean(_) => Value::Truth,
            DeValue::Datetime(_) => Value::Date,
            DeValue::Array(items) => Value::List(items.iter().map(Self::new).collect()),
            DeValue::Table(table) => Value::Table(Table::new(table)),
        };
        Self { span: value.span(), value: copied }
    }
}

/// A whole number of any base. One that is too large for a machine integer keeps its size.
#[expect(
    clippy::cast_precision_loss,
    reason = "counts and factors are far below 2^53; larger ones are refused"
)]
fn whole_number(whole: &DeInteger<'_>) -> f64 {
    let digits = whole.as_str();
    match i64::from_str_radix(digits, whole.radix()) {
        Ok(value) => value as f64,
        Err(_) => digits.parse().unwrap_or(f64::INFINITY),
    }
}
