//! What is known of one figure.

use crate::bench::outcome::{Valued, When};

/// What is known of one figure [s or J/m²].
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Found {
    /// Its value.
    Value {
        /// The figure with its numerical error.
        valued: Valued,
        /// The time at which it is settled [s].
        t: f64,
        /// Whether a ply had passed its limit by then; false where limits were not watched.
        beyond: bool,
    },
    /// Not reached within the time looked at.
    AtLeast {
        /// The figure is this or more.
        least: f64,
        /// End of the time looked at [s].
        t_end: f64,
    },
    /// The meshes disagree on whether it is reached.
    Unsettled {
        /// The figure on the mesh that reaches it.
        low: f64,
        /// What it is at least on the mesh that does not.
        high: f64,
    },
    /// The run that would tell was not asked for.
    NotAsked,
}

/// A figure as one number, for counts over many runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figured {
    /// The figure, or what it is at least [s or J/m²].
    pub value: f64,
    /// Whether it was reached; otherwise `value` is a lower bound.
    pub reached: bool,
}

impl Found {
    /// A time, looked for up to `t_end` [s].
    pub fn of_time(when: When, t_end: f64) -> Found {
        match when {
            When::At { t, error } => {
                Found::Value { valued: Valued { value: t, error }, t, beyond: false }
            }
            When::NotWithin { t_end } => Found::AtLeast { least: t_end, t_end },
            When::Unsettled { t } => Found::Unsettled { low: t, high: t_end.max(t) },
        }
    }

    /// The same, marked if it is settled only after a ply has passed its limit at `limit` [s].
    pub fn valid_until(self, limit: Option<f64>) -> Found {
        match (self, limit) {
            (Found::Value { valued, t, .. }, Some(limit)) => {
                Found::Value { valued, t, beyond: t > limit }
            }
            (found, _) => found,
        }
    }

    /// The figure with its error, if it was reached.
    pub fn valued(&self) -> Option<Valued> {
        match self {
            Found::Value { valued, .. } => Some(*valued),
            _ => None,
        }
    }

    /// Whether it is settled only after a ply has passed its limit.
    pub fn is_beyond(&self) -> bool {
        matches!(self, Found::Value { beyond: true, .. })
    }

    /// The figure, or what it is at least; none where the meshes disagree or nothing was asked.
    pub fn value_or_least(&self) -> Option<f64> {
        match self {
            Found::Value { valued, .. } => Some(valued.value),
            Found::AtLeast { least, .. } => Some(*least),
            Found::Unsettled { .. } | Found::NotAsked => None,
        }
    }

    /// The least that it can be with its numerical error; none as [`Found::value_or_least`].
    pub fn lowest(&self) -> Option<f64> {
        match self {
            Found::Value { valued, .. } => Some(valued.value - valued.error.abs()),
            other => other.value_or_least(),
        }
    }

    /// The figure as one number; where the meshes disagree it is at least what the one has.
    pub fn figured(&self) -> Figured {
        let bound = |value| Figured { value, reached: false };
        match *self {
            Found::Value { valued, .. } => Figured { value: valued.value, reached: true },
            Found::AtLeast { least, .. } => bound(least),
            Found::Unsettled { low, .. } => bound(low),
            Found::NotAsked => bound(0.0),
        }
    }

    /// The state's word in files. What is unsettled kept the word of its first version.
    pub fn state(&self) -> &'static str {
        match self {
            Found::Value { .. } => "reached",
            Found::AtLeast { .. } => "not_reached",
            Found::Unsettled { .. } => "too_close_to_call",
            Found::NotAsked => "not_asked",
        }
    }
}
