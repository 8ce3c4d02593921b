//! A sweep of air gaps as text.

use crate::report::form::rows::table;
use crate::report::gap::columns::{points, turn_shown};
use crate::report::gap::words::{exactness, remarks, sentence, swept};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, section};
use crate::report::words::capital;
use crate::report::{exposure, lies};
use crate::study::gap::GapSweep;

/// Rows that the terminal's table is thinned to, the turn's own row aside.
const ROWS: usize = 16;

/// The sweep in text.
pub fn gap_text(sweep: &GapSweep) -> String {
    let mut out = lies::first_line([sweep.stack()]);
    out.push_str(&heading(&format!("Air gaps: {}", sweep.layup.name)));
    out.push_str(&lies::paragraph_on(sweep.stack()));
    out.push_str(&paragraph(&(capital(&swept(sweep)) + "."), 2));
    out.push_str(&paragraph(&exposure::sentence(&sweep.exposure), 2));
    out.push('\n');
    out.push_str(&heading("Times and the heat through the gap"));
    let n = sweep.points.len();
    let shown = thinned(n, turn_shown(sweep).map(|turn| turn.at));
    out.push_str(&table(&points(sweep), shown.into_iter().map(|i| &sweep.points[i])));
    out.push_str(&paragraph(&remarks(sweep, n > ROWS), 2));
    section(&mut out, "Where more air stops helping", &paragraph(&sentence(sweep), 2));
    section(&mut out, "How exact the numbers are", &paragraph(&exactness(sweep), 2));
    closed(out)
}

/// Points shown: about sixteen evenly spread, both ends, and the turn.
pub fn thinned(n: usize, turn: Option<usize>) -> Vec<usize> {
    let mut shown: Vec<usize> = if n <= ROWS {
        (0..n).collect()
    } else {
        (0..ROWS).map(|i| (i * (n - 1) + (ROWS - 1) / 2) / (ROWS - 1)).collect()
    };
    shown.extend(turn);
    shown.sort_unstable();
    shown.dedup();
    shown
}
