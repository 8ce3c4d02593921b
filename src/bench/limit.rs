//! Up to where the model follows a ply: until it melts or opens.

use crate::garment::fabric::Fabric;

/// What ends a ply, as the run it belongs to sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Limit temperature [K]; none where the model follows what every fibre does.
    pub temp: Option<f64>,
    /// What happens to it ("decomposes", "melts", "chars through").
    pub event: String,
}

impl Limit {
    /// That of a fabric, whose charring is reckoned with or not.
    pub fn of(fabric: &Fabric, chars: bool) -> Limit {
        let (temp, event) = match (chars, &fabric.limit_unfollowed) {
            (false, _) => (Some(fabric.temp_limit.value), fabric.limit_event.clone()),
            (true, Some(own)) => (Some(own.temp.value), own.event.clone()),
            (true, None) => (None, "chars through".to_owned()),
        };
        Limit { temp, event }
    }
}
