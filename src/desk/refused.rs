//! Why a request got no answer, in the parts that every message of ours has.

use serde::Serialize;

use crate::shelf::fault::{Fault, Faults};

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Wrong {
    /// What is wrong.
    pub what: String,
    /// The rule; may be empty.
    pub expected: String,
    /// The next thing to do; may be empty.
    pub mend: String,
}

/// A request without an answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Refused {
    /// Status of the reply.
    #[serde(skip)]
    pub status: u16,
    /// All that is wrong.
    pub faults: Vec<Wrong>,
}

impl Refused {
    /// One thing that is wrong.
    pub fn new(status: u16, what: impl Into<String>, expected: &str, mend: &str) -> Refused {
        let (expected, mend) = (expected.to_owned(), mend.to_owned());
        Refused { status, faults: vec![Wrong { what: what.into(), expected, mend }] }
    }

    /// What was asked cannot be, and nothing more is known of it.
    pub fn because(what: impl Into<String>) -> Refused {
        Refused::new(422, what, "", "")
    }
}

impl From<Faults> for Refused {
    fn from(Faults(faults): Faults) -> Refused {
        let wrong = |fault: Fault| {
            let Fault { what, expected, mend, .. } = fault;
            Wrong { what, expected, mend }
        };
        Refused { status: 422, faults: faults.into_iter().map(wrong).collect() }
    }
}
