//! Objects of the JSON documents: what they need beside `json!`, which writes them in order.

use serde_json::Value;

/// An object with the keys of another after its own.
#[must_use]
pub(crate) fn joined(mut object: Value, more: Value) -> Value {
    if let (Value::Object(all), Value::Object(more)) = (&mut object, more) {
        all.extend(more);
    }
    object
}

/// An object with those of `more` that there are.
#[must_use]
pub(crate) fn with<const N: usize>(mut object: Value, more: [(&str, Option<Value>); N]) -> Value {
    let there = more
        .into_iter()
        .filter_map(|(key, value)| Some((key, value?)));
    there.for_each(|(key, value)| object[key] = value);
    object
}
