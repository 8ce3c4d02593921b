//! A record as JSON: keys with their units, in the order in which they were put.

use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::bench::outcome::{Valued, When};
use crate::physics::units::Quantity;
use crate::report::form::value::{Object, Value};
use crate::report::json::finite::rounded;

impl Serialize for Object {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.entries.len()))?;
        for (key, quantity, value) in &self.entries {
            map.serialize_entry(key, &InUnit(quantity, value))?;
        }
        map.end()
    }
}

/// A value in the unit of its key.
struct InUnit<'a>(&'a Quantity, &'a Value);

impl Serialize for InUnit<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let InUnit(quantity, value) = self;
        match value {
            Value::Nothing => serializer.serialize_none(),
            Value::Number(si) => rounded(quantity.outside(*si)).serialize(serializer),
            Value::Valued(Valued { value, error }) => {
                let mut map = serializer.serialize_map(Some(2))?;
                map.serialize_entry("value", &rounded(quantity.outside(*value)))?;
                map.serialize_entry("error", &rounded(quantity.apart(*error)))?;
                map.end()
            }
            Value::Known(known) => {
                let mut map = serializer.serialize_map(Some(3))?;
                map.serialize_entry("value", &rounded(quantity.outside(known.value)))?;
                map.serialize_entry("provenance", known.provenance.word())?;
                map.serialize_entry("source", &*known.source)?;
                map.end()
            }
            Value::When(when) => time(*when, serializer),
            Value::Count(n) => serializer.serialize_u64(*n as u64),
            Value::Word(word) => serializer.serialize_str(word),
            Value::Flag(is) => serializer.serialize_bool(*is),
            Value::Record(object) => object.serialize(serializer),
            Value::List(all) => serializer.collect_seq(all.iter().map(|one| InUnit(quantity, one))),
        }
    }
}

/// A time with its error, or why there is none.
fn time<S: Serializer>(when: When, serializer: S) -> Result<S::Ok, S::Error> {
    let (state, numbers) = match when {
        When::At { t, error } => ("reached", vec![("value", t), ("error", error)]),
        When::NotWithin { t_end } => ("not_reached", vec![("within", t_end)]),
        When::Unsettled { t } => ("too_close_to_call", vec![("near", t)]),
    };
    let mut map = serializer.serialize_map(None)?;
    map.serialize_entry("state", state)?;
    for (key, t) in numbers {
        map.serialize_entry(key, &rounded(t))?;
    }
    map.end()
}
