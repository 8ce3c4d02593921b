//! A number that JSON can hold.

use serde::ser::{Error, Serialize, Serializer};

/// A number that is refused unless it is finite; JSON has no word for the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finite(pub f64);

impl Serialize for Finite {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0.is_finite() {
            serializer.serialize_f64(self.0)
        } else {
            Err(S::Error::custom(format_args!("a result is no finite number ({})", self.0)))
        }
    }
}

/// A number to nine digits: a unit's conversion leaves no trail such as 0.45000000000000001.
pub fn rounded(value: f64) -> Finite {
    Finite(format!("{value:.8e}").parse().unwrap_or(value))
}

#[cfg(test)]
mod tests {
    use super::{Finite, rounded};

    #[test]
    fn only_finite_numbers_are_written() {
        assert_eq!(serde_json::to_string(&Finite(1.5)).unwrap(), "1.5");
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(serde_json::to_string(&Finite(bad)).is_err());
            assert!(serde_json::to_string(&rounded(bad)).is_err());
        }
        assert_eq!(rounded(0.1 + 0.2), Finite(0.3));
    }
}
