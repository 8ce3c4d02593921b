//! Who may ask: only this page, on this machine, with the token of its address.
//!
//! A page from elsewhere that is open in the same browser can send requests to a loopback address, and can
//! make a name of its own stand for it (rebinding). Neither reads the token, whose 128 bits stand in no
//! link, and both are told by the headers that a browser sets and no page can.

use crate::desk::refused::Refused;

/// What a request says of itself.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Said<'a> {
    /// The header `Host`.
    pub host: Option<&'a str>,
    /// The header `Origin`.
    pub origin: Option<&'a str>,
    /// The header `Sec-Fetch-Site`.
    pub site: Option<&'a str>,
}

/// Which hosts and which token are ours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Guard {
    hosts: [String; 2],
    token: String,
}

impl Guard {
    /// The guard of a server on that port.
    ///
    /// - `token`: hexadecimal digits that nobody can guess
    pub fn new(port: u16, token: String) -> Guard {
        Guard { hosts: ["127.0.0.1", "localhost"].map(|name| format!("{name}:{port}")), token }
    }

    /// Whether the request comes from here.
    ///
    /// Errors: a foreign host or origin, or a page on another site.
    pub fn admit(&self, said: &Said<'_>) -> Result<(), Refused> {
        let is_own_host = said.host.is_some_and(|host| self.hosts.iter().any(|own| own == host));
        if !is_own_host {
            let what = "the request is for another host";
            return Err(Refused::new(421, what, "the address that was printed", "open that one"));
        }
        let is_own = |origin: &str| {
            let host = origin.strip_prefix("http://");
            host.is_some_and(|host| self.hosts.iter().any(|own| own == host))
        };
        if said.origin.is_some_and(|origin| !is_own(origin)) {
            return Err(Refused::new(403, "the request comes from another page", "", ""));
        }
        match said.site {
            None | Some("same-origin" | "none") => Ok(()),
            Some(_) => Err(Refused::new(403, "the request comes from another site", "", "")),
        }
    }

    /// What follows the token in a path; none where it does not begin with it.
    pub fn behind_token<'p>(&self, path: &'p str) -> Option<&'p str> {
        let rest = path.strip_prefix('/')?;
        let (token, rest) = rest.split_once('/')?;
        same(token.as_bytes(), self.token.as_bytes()).then_some(rest)
    }
}

/// Whether both are the same, in a time that does not tell where they differ.
fn same(one: &[u8], other: &[u8]) -> bool {
    let differing = one.iter().zip(other).fold(0, |sum, (a, b)| sum | (a ^ b));
    one.len() == other.len() && differing == 0
}

#[cfg(test)]
mod tests {
    use super::{Guard, Said};

    fn guard() -> Guard {
        Guard::new(4000, "00ff".to_owned())
    }

    #[track_caller]
    fn check(said: Said, status: Option<u16>) {
        assert_eq!(guard().admit(&said).err().map(|refused| refused.status), status, "{said:?}");
    }

    #[test]
    fn only_this_page_on_this_machine() {
        for host in ["127.0.0.1:4000", "localhost:4000"] {
            let own = Said { host: Some(host), ..Said::default() };
            check(own.clone(), None);
            check(Said { origin: Some("http://127.0.0.1:4000"), ..own.clone() }, None);
            check(Said { site: Some("same-origin"), ..own.clone() }, None);
            for origin in
                ["null", "", "http://127.0.0.1", "https://127.0.0.1:4000", "http://other:4000"]
            {
                check(Said { origin: Some(origin), ..own.clone() }, Some(403));
            }
            check(Said { site: Some("cross-site"), ..own.clone() }, Some(403));
            check(Said { site: Some("same-site"), ..own }, Some(403));
        }
        for host in ["", "127.0.0.1", "127.0.0.1:4001", "other:4000", "127.0.0.1:4000.other"] {
            check(Said { host: Some(host), ..Said::default() }, Some(421));
        }
        check(Said::default(), Some(421));
    }

    #[test]
    fn nothing_without_the_token() {
        let guard = guard();
        assert_eq!(guard.behind_token("/00ff/"), Some(""));
        assert_eq!(guard.behind_token("/00ff/desk.js"), Some("desk.js"));
        for path in ["/", "", "/00ff", "/00fe/", "/00f/", "/00fff/", "//00ff/", "/00FF/"] {
            assert_eq!(guard.behind_token(path), None, "{path}");
        }
    }
}
