//! The page's files, part of the program.

/// A file of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asset {
    /// Its name in the address.
    pub name: &'static str,
    /// Its type.
    pub kind: &'static str,
    /// Its text.
    pub text: &'static str,
}

const HTML: &str = "text/html; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";
const JS: &str = "text/javascript; charset=utf-8";

const fn asset(name: &'static str, kind: &'static str, text: &'static str) -> Asset {
    Asset { name, kind, text }
}

/// All of them; the page itself has no name.
pub const ASSETS: &[Asset] = &[
    asset("", HTML, include_str!("page/index.html")),
    asset("desk.css", CSS, include_str!("page/desk.css")),
    asset("desk.js", JS, include_str!("page/desk.js")),
    asset("state.js", JS, include_str!("page/state.js")),
    asset("ask.js", JS, include_str!("page/ask.js")),
    asset("look.js", JS, include_str!("page/look.js")),
    asset("stack.js", JS, include_str!("page/stack.js")),
    asset("charts.js", JS, include_str!("page/charts.js")),
    asset("edit.js", JS, include_str!("page/edit.js")),
    asset("cell.js", JS, include_str!("page/cell.js")),
    asset("terms.js", JS, include_str!("page/terms.js")),
    asset("lessons.js", JS, include_str!("page/lessons.js")),
    asset("save.js", JS, include_str!("page/save.js")),
];

/// The file of that name.
pub fn find(name: &str) -> Option<&'static Asset> {
    ASSETS.iter().find(|asset| asset.name == name)
}
