//! The frame of every page: needs nothing else, no network, no script, no font.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Light and dark by the reader's setting; paper is always light; A4 upright. Charts stand on white.
const STYLE: &str = "
:root { color-scheme: light dark; --ink: #22262b; --grey: #5a6169; --line: #c9ced4; --paper: #fff; --mark: #8a2b00 }
@media (prefers-color-scheme: dark) { :root { --ink: #e6e8ea; --grey: #a9b0b7; --line: #444b52; --paper: #16191c; --mark: #ffb088 } }
body { font: 15px/1.5 system-ui, sans-serif; color: var(--ink); background: var(--paper); max-width: 62rem; margin: 2rem auto; padding: 0 1rem; overflow-wrap: break-word }
h1 { font-size: 1.5rem } h2 { font-size: 1.15rem; margin-top: 2.2rem } h3 { font-size: 1rem; margin: 1.6rem 0 .4rem }
table { border-collapse: collapse; width: 100%; font-size: .85rem; margin: .8rem 0; overflow-wrap: normal }
th, td { border-bottom: 1px solid var(--line); padding: .2rem .5rem; text-align: left; vertical-align: top }
td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap }
th.n { white-space: normal } td.name { white-space: nowrap }
.source, .note { color: var(--grey); font-size: .85rem }
.broken, .opposite { color: var(--mark); font-weight: 600 }
.notice { border: 1px solid var(--line); padding: .6rem .9rem }
figure { margin: 1rem 0; background: #fff; padding: .5rem; break-inside: avoid; overflow-x: auto } figure svg { max-width: 100%; height: auto; display: block; margin: 0 auto }
@media screen and (max-width: 40rem) { figure::before { content: \"wider than the screen: move it sideways →\"; position: sticky; left: 0; font-size: .8rem; color: #5a6169 } figure svg { max-width: none; width: 38rem } table { width: max-content; min-width: 100% } td, th { max-width: 15rem } }
pre { font-size: .85rem; white-space: pre-wrap; overflow-wrap: anywhere; border: 1px solid var(--line); padding: .5rem .7rem }
.answer { font-size: 1.15rem } nav ol { columns: 2 18rem; font-size: .9rem } nav a { color: inherit }
.wide { overflow-x: auto; background: linear-gradient(to right, var(--paper) 40%, transparent) left / 2.5rem 100% no-repeat local, linear-gradient(to left, var(--paper) 40%, transparent) right / 2.5rem 100% no-repeat local, linear-gradient(to right, var(--line), transparent) left / .8rem 100% no-repeat scroll, linear-gradient(to left, var(--line), transparent) right / .8rem 100% no-repeat scroll }
figure { scrollbar-width: thin; scrollbar-color: #5a6169 #e1e4e8 } .wide { scrollbar-width: thin; scrollbar-color: var(--grey) var(--line) }
.hash td:last-child { font-family: ui-monospace, monospace; font-size: .9em; overflow-wrap: anywhere }
@page { size: A4; margin: 15mm; @bottom-right { content: counter(page) \" / \" counter(pages); font: 8pt sans-serif; color: #444 } }
@media print {
  :root { color-scheme: light; --ink: #000; --grey: #444; --line: #bbb; --paper: #fff; --mark: #8a2b00 }
  body { font-size: 9.5pt; max-width: none; margin: 0; padding: 0 }
  table { font-size: 8pt } tr, figure { break-inside: avoid } thead { display: table-header-group } h2, h3 { break-after: avoid }
  .note:has(+ .wide), p:has(+ .wide) { break-after: avoid }
  tbody tr:first-child, tbody tr:nth-child(2), tbody tr:nth-last-child(2), thead { break-after: avoid }
  .front { break-after: page; height: 26.4cm; display: flex; flex-direction: column } .wide { background: none }
  figure { padding: 0 } figure svg { max-height: 11.5cm } figure.tall svg { max-height: 24.5cm } .wide, figure { overflow: visible }
  .front p, .front h1 { margin: 0 0 .35rem } .front figure { flex: 1; min-height: 9cm; margin: .4rem 0 0 } .front figure svg, .front figure.tall svg { width: 100%; height: 100%; max-height: none }
}
";

/// A whole page around `body`.
pub fn page(title: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { (body) }
        }
    };
    page.into_string() + "\n"
}
