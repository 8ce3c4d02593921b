//! From a request to a reply, without a socket.

use crate::bench::Halt;
use crate::desk::anchors::Anchors;
use crate::desk::answer::answer;
use crate::desk::asked::{Closeness, State};
use crate::desk::guard::{Guard, Said};
use crate::desk::lessons;
use crate::desk::page;
use crate::desk::refused::Refused;
use crate::desk::save::{Keeper, Wish, save};
use crate::desk::shelf::laid;
use crate::shelf::materials::Shelf;

const JSON: &str = "application/json";
/// Before the name of a lesson.
const LESSON: &str = "lesson/";

/// Headers of every reply: nothing is loaded from elsewhere, nothing is kept, nobody else sees it.
pub const HEADERS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cache-control", "no-store"),
];

/// What the desk works with.
#[derive(Debug)]
pub struct Desk {
    /// The shelf.
    pub shelf: Shelf,
    /// What the page begins with.
    pub start: State,
    /// By which bands figures are called.
    pub anchors: Anchors,
    /// Where is saved.
    pub keeper: Keeper,
    /// Who may ask.
    pub guard: Guard,
}

/// A request.
#[derive(Debug, Clone, Default)]
pub struct Request<'a> {
    /// The method.
    pub method: &'a str,
    /// The path, without what follows a question mark.
    pub path: &'a str,
    /// The header `Content-Type`.
    pub kind: Option<&'a str>,
    /// What it says of where it comes from.
    pub said: Said<'a>,
    /// The body.
    pub body: &'a [u8],
}

/// A reply.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reply {
    /// Status.
    pub status: u16,
    /// Type of the body.
    pub kind: &'static str,
    /// The body.
    pub body: Vec<u8>,
}

impl Desk {
    /// Whether a request may ask at all, before its body is read.
    ///
    /// Errors: a foreign host, origin or site, or no token.
    pub fn admit(&self, request: &Request<'_>) -> Result<(), Refused> {
        self.guard.admit(&request.said)?;
        self.guard.behind_token(request.path).map(|_| ()).ok_or_else(nothing)
    }

    /// The reply to a request.
    ///
    /// - `halt`: called when nobody waits for it any more: runs then end, while what is saved is saved
    pub fn reply(&self, request: &Request<'_>, halt: &Halt) -> Reply {
        self.answered(request, halt).unwrap_or_else(|refused| refusal(&refused))
    }

    fn answered(&self, request: &Request<'_>, halt: &Halt) -> Result<Reply, Refused> {
        self.admit(request)?;
        let path = self.guard.behind_token(request.path).ok_or_else(nothing)?;
        match (request.method, path) {
            ("GET" | "HEAD", "shelf.json") => {
                let body = laid(&self.shelf, &self.start, &self.anchors)
                    .map_err(|error| Refused::new(500, error.to_string(), "", ""))?;
                Ok(Reply { status: 200, kind: JSON, body })
            }
            ("GET" | "HEAD", "lessons.json") => {
                Ok(Reply { status: 200, kind: JSON, body: lessons::all()? })
            }
            ("GET" | "HEAD", name) if name.starts_with(LESSON) => {
                let body = lessons::told(&name[LESSON.len()..], &self.keeper)?;
                Ok(Reply { status: 200, kind: JSON, body })
            }
            ("GET" | "HEAD", name) => {
                let asset = page::find(name).ok_or_else(nothing)?;
                Ok(Reply { status: 200, kind: asset.kind, body: asset.text.as_bytes().to_vec() })
            }
            ("POST", "answer" | "answer/coarse") => {
                let state: State = read(request)?;
                let closeness = match path {
                    "answer" => Closeness::Close,
                    _ => Closeness::Coarse,
                };
                let body = answer(&state, (&self.shelf, &self.anchors), closeness, halt)?;
                Ok(Reply { status: 200, kind: JSON, body })
            }
            ("POST", "save") => {
                let wish: Wish = read(request)?;
                let body = save(&wish, (&self.shelf, &self.anchors), &self.keeper)?;
                Ok(Reply { status: 200, kind: JSON, body })
            }
            ("POST", _) => Err(nothing()),
            _ => Err(Refused::new(405, "no such method", "GET or POST", "")),
        }
    }
}

/// The reply that says why there is no answer.
pub fn refusal(refused: &Refused) -> Reply {
    let body = serde_json::to_vec(refused).unwrap_or_default();
    Reply { status: refused.status, kind: JSON, body }
}

fn nothing() -> Refused {
    Refused::new(404, "nothing is here", "the address that was printed", "open that one")
}

/// The body as what it should be.
fn read<T: serde::de::DeserializeOwned>(request: &Request<'_>) -> Result<T, Refused> {
    let is_json = request.kind.is_some_and(|kind| kind.split(';').next() == Some(JSON));
    if !is_json {
        return Err(Refused::new(
            415,
            "the request holds no JSON",
            "Content-Type application/json",
            "",
        ));
    }
    serde_json::from_slice(request.body)
        .map_err(|error| Refused::new(400, format!("the request cannot be read: {error}"), "", ""))
}
