//! The whole result as text for a terminal, within 80 columns.

use anstyle::{Effects, Style};

use crate::NOTICE;
use crate::bench::figure::{Told, Verdict, figure_name};
use crate::bench::outcome::{Figures, Outcome, RunOf};
use crate::garment::target::{Figure, Target};
use crate::physics::units::PERCENT;
use crate::report::anchored;
use crate::report::figures::Length;
use crate::report::number::{Shown, significant};
use crate::report::studies::Studies;
use crate::report::table::paragraph;
use crate::report::{
    exposure, figures, heat, layup, lies, limits, sensitivity, verdict, water, worth,
};
use crate::study::worth::Times;

/// A heading on a line of its own; bold, which the terminal's settings may take away.
pub fn heading(text: &str) -> String {
    let bold = Style::new().effects(Effects::BOLD);
    format!("{bold}{text}{bold:#}\n")
}

/// The notice, wrapped.
pub fn notice() -> String {
    paragraph(NOTICE, 0)
}

/// The outcome in text: layup, exposure, figures, heat, limits, numbers, verdicts, notice.
pub fn exposure_text(
    outcome: &Outcome,
    verdicts: &[(&Target, Verdict)],
    studies: &Studies,
) -> String {
    let stack = outcome.lies.stack();
    let mut out = lies::first_line([stack]);
    out.push_str(&heading(&format!("Layup: {}", outcome.layup.name)));
    out.push_str(&layup::section(&outcome.layup, stack));
    let title = format!("Exposure: {}", exposure::title(&outcome.exposure));
    section(&mut out, &title, &exposure::section(&outcome.exposure));
    let runs = outcome.runs();
    runs_sections(&mut out, outcome, Length::Full);
    own_tests(&mut out, studies.anchored);
    if !verdicts.is_empty() {
        section(&mut out, "Against the targets", &verdict::section(verdicts));
    }
    studies_sections(&mut out, outcome, studies);
    section(&mut out, "Limits of the plies", &limits::section(outcome));
    for one in &runs {
        let title = format!("Where the heat went, {}", one.words());
        section(&mut out, &title, &heat::section(&one.run.heat, one.behind));
        if let Some(water) = &one.run.water {
            let title = format!("Where the water went, {}", one.words());
            section(&mut out, &title, &water::section(water, &one.run.heat, one.behind));
        }
    }
    section(&mut out, "How exact the numbers are", &numerics(&runs));
    closed(out)
}

/// The text with the notice below it.
pub(crate) fn closed(out: String) -> String {
    out + "\n" + &notice()
}

/// A heading below a blank line, and what stands under it.
pub(crate) fn section(out: &mut String, title: &str, body: &str) {
    out.push('\n');
    out.push_str(&heading(title));
    out.push_str(body);
}

/// What own tests make of the figures; nothing where no tests were asked.
pub(crate) fn own_tests(out: &mut String, all: &[Told]) {
    if !all.is_empty() {
        section(out, anchored::TITLE, &anchored::body(all));
    }
}

/// What was asked beside the figures.
pub(crate) fn studies_sections(out: &mut String, outcome: &Outcome, studies: &Studies) {
    let rise24 = figure_name(Figure::Rise24, &outcome.exposure);
    let names = [rise24, "second degree"];
    if !studies.worths.is_empty() {
        let body = worth::section(Times::of(outcome), studies.worths, names);
        section(out, "What each effect is worth", &body);
    }
    if let Some(rows) = studies.sensitivity {
        section(out, "What moves the times", &sensitivity::section(rows, names));
    }
}

/// The figures of disc and skin.
pub(crate) fn runs_sections(out: &mut String, outcome: &Outcome, length: Length) {
    // how far a flame that is taken away went is told by the burn integral alone
    let length = if outcome.exposure.duration.is_some() { Length::Full } else { length };
    for one in &outcome.runs() {
        figures_section(out, outcome, one, length);
    }
}

fn figures_section(out: &mut String, outcome: &Outcome, one: &RunOf, length: Length) {
    let mut body = figures::section(one.run, &outcome.exposure, length);
    match &one.run.figures {
        Figures::Disc(_) => {
            if let Some(cell) = outcome.lies.over_cell() {
                if length == Length::Full {
                    body.push_str(&paragraph(&lies::behind_the_cell(cell), 2));
                }
            }
            section(out, "Copper disc", &body);
        }
        Figures::Skin(skin) => {
            let at = one.place.map_or(String::new(), |place| format!(" at {place}"));
            section(out, &format!("Skin{at}: {}", skin.skin), &body);
        }
    }
}

/// What the ± is, whether it was kept to, and the energy audit.
fn numerics(runs: &[RunOf]) -> String {
    let mut out = paragraph(
        "± is the numerical error alone. What the fabric data and the model leave out weighs more.",
        2,
    );
    for one in runs {
        let n = &one.run.numerics;
        let kept = if n.goal_met { "kept to" } else { "NOT kept to" };
        out.push_str(&paragraph(
            &format!(
                "{}: error goal {} % of each time {kept}; energy audit {} of the heat in{}; {} \
                 nodes, {} steps, {} rejected, {} Newton iterations.",
                one.label(),
                PERCENT.short(n.error_goal, 3),
                significant(n.audit, 2),
                n.water_lost.map_or(String::new(), |lost| format!(
                    ", water audit {} kg/m²",
                    significant(lost, 2)
                )),
                n.n_nodes,
                n.n_steps,
                n.n_rejected,
                n.n_newton
            ),
            2,
        ));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::exposure_text;
    use crate::bench::figure::hold_outcome;
    use crate::report::sample;
    use crate::report::studies::Studies;
    use crate::report::table::{WIDTH, width};

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    #[test]
    fn every_line_keeps_within_the_width_and_ends_without_blanks() {
        let (outcome, target) = (sample::outcome(), sample::target());
        let bands = sample::bands();
        let call = hold_outcome(&outcome, &target, &outcome.exposure, &bands);
        let text = plain(&exposure_text(&outcome, &[(&target, call)], &Studies::default()));
        for line in text.lines() {
            assert!(width(line) <= WIDTH, "{} columns: {line}", width(line));
            assert_eq!(line, line.trim_end());
        }
        assert!(text.replace('\n', " ").contains(crate::NOTICE), "the notice stands on it");
    }
}
