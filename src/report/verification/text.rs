//! The built-in checks as text for a terminal, within 80 columns.

use crate::evidence::verification::Verification;
use crate::evidence::verify::{Case, Checked, Group};
use crate::report::number::significant;
use crate::report::table::{Align, Table, hanging, paragraph};
use crate::report::text::{closed, heading};
use crate::report::verification::comparisons;
use crate::report::words::{capital, count};

/// Which cases a table shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Show {
    /// Of each series the case nearest to its bound, and every broken one.
    Nearest,
    /// Every case.
    All,
}

/// Checks and comparisons in text: a table for each group, what is broken, the summary, the notice.
pub fn verification_text(verification: &Verification, show: Show) -> String {
    let mut out = String::new();
    for group in Group::ALL {
        let checked: Vec<&Checked> =
            verification.checked.iter().filter(|checked| checked.group == group).collect();
        if !checked.is_empty() {
            out.push_str(&group_section(group, &checked, show));
            out.push('\n');
        }
    }
    if let Some(measured) = &verification.measured {
        out.push_str(&comparisons::body(measured));
        out.push('\n');
    }
    out.push_str(&heading("Summary"));
    out.push_str(&paragraph(&summary(verification), 2));
    closed(out)
}

/// The bounds in one sentence.
pub fn summary(verification: &Verification) -> String {
    let n = verification.cases().count();
    let broken = verification.n_broken();
    let bounds = match (n, broken) {
        (0, _) => "No bound was looked at".to_string(),
        (n, 0) => format!("{}, all kept", count(n, "bound", "bounds")),
        (n, broken) => format!("{}, {broken} broken", count(n, "bound", "bounds")),
    };
    match &verification.measured {
        Some(measured) => {
            let failed = match measured.n_failed() {
                0 => String::new(),
                n => format!("{} failed. ", count(n, "predicted run", "predicted runs")),
            };
            format!("{bounds}. {failed}{}", comparisons::summary(measured))
        }
        None => format!("{bounds}."),
    }
}

fn group_section(group: Group, checked: &[&Checked], show: Show) -> String {
    use Align::{Left, Right};
    let n: usize = checked.iter().map(|checked| checked.cases.len()).sum();
    let broken: usize = checked.iter().map(|checked| checked.n_broken()).sum();
    let kept = if broken == 0 { "all kept".to_string() } else { format!("{broken} broken") };
    let mut out = heading(&format!("{}: {kept} of {n}", capital(group.word())));
    let shown = match show {
        Show::Nearest => ", of each series the case nearest to its bound",
        Show::All => "",
    };
    out.push_str(&paragraph(&format!("{}{shown}.", capital(group.describe())), 2));
    let mut sources: Vec<&str> = Vec::new();
    let mut table = Table::new(&[Left, Right, Right, Right, Right, Right]);
    table.row(["case", "source", "expected", "computed", "difference", "bound"]);
    for series in checked {
        let n = series.cases.len();
        for case in shown_cases(series, show) {
            let source = sources.iter().position(|known| *known == case.source);
            let source = source.unwrap_or_else(|| {
                sources.push(case.source);
                sources.len() - 1
            });
            let more =
                if show == Show::Nearest && n > 1 { format!(" (of {n})") } else { String::new() };
            let name = format!("{}{more}", case.name);
            let mark = if case.is_kept() { "" } else { " broken" };
            table.row([
                format!("{name}{mark}"),
                format!("{}", source + 1),
                significant(case.expected, 6),
                significant(case.computed, 6),
                significant(case.difference(), 2),
                format!("{} {}", significant(case.bound, 2), case.unit).trim_end().to_string(),
            ]);
        }
    }
    out.push_str(&table.render());
    for (i, source) in sources.iter().enumerate() {
        out.push_str(&hanging(&format!("{:>2}  ", i + 1), source, 2));
    }
    out
}

fn shown_cases(series: &Checked, show: Show) -> Vec<&Case> {
    match show {
        Show::All => series.cases.iter().collect(),
        Show::Nearest if series.n_broken() > 0 => {
            series.cases.iter().filter(|case| !case.is_kept()).collect()
        }
        Show::Nearest => series.nearest().into_iter().collect(),
    }
}
