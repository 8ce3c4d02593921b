//! A patched layup: its columns, text and files.

use crate::bench::figure::figure_name;
use crate::bench::outcome::{Figures, Outcome, When};
use crate::garment::target::Figure;
use crate::physics::units::{BARE, GRAMS_PER_AREA, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::exposure;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects, table};
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::number::{Shown, fixed, significant};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, section};
use crate::report::words::{apart, when_with_error};
use crate::study::patch::{K_THREAD, Patch};
use crate::study::patched::PatchOutcome;

/// What is said of skin, which is no disc behind both.
const PLACES: &str = "two places";

/// One figure at its places.
pub(crate) struct Row {
    /// Its name in text.
    pub name: String,
    /// Its name in files.
    pub key: &'static str,
    /// Beside the patch.
    pub beside: When,
    /// Under it.
    pub under: When,
    /// The disc behind both; none for skin, which is a place of its own.
    pub both: Option<When>,
}

/// All figures, the disc's first.
fn rows(outcome: &PatchOutcome) -> Vec<Row> {
    let [rise12, rise24] = [Figure::Rise12, Figure::Rise24]
        .map(|figure| figure_name(figure, &outcome.beside.exposure));
    let mut rows = Vec::new();
    if let (Some(Figures::Disc(one)), Some(Figures::Disc(other))) =
        (disc(&outcome.beside), disc(&outcome.under))
    {
        let both = &outcome.disc;
        for ((name, key), beside, under, both) in [
            ((rise12, rise12), one.rise12, other.rise12, both.rise12),
            ((rise24, rise24), one.rise24, other.rise24, both.rise24),
            (("Stoll crossing", "stoll"), one.stoll, other.stoll, both.stoll),
        ] {
            rows.push(Row { name: name.to_string(), key, beside, under, both: Some(both) });
        }
    }
    if let (Some(Figures::Skin(one)), Some(Figures::Skin(other))) =
        (skin(&outcome.beside), skin(&outcome.under))
    {
        let is_quilted = outcome.beside.lies.over_cell().is_some();
        let names = match is_quilted {
            true => [
                "stitch line, first degree",
                "stitch line, second degree",
                "stitch line, third degree",
            ],
            false => ["first degree", "second degree", "third degree"],
        };
        for (name, (key, beside, under)) in names.into_iter().zip([
            ("first_degree", one.first_degree, other.first_degree),
            ("second_degree", one.second_degree, other.second_degree),
            ("third_degree", one.third_degree, other.third_degree),
        ]) {
            rows.push(Row { name: name.to_string(), key, beside, under, both: None });
        }
    }
    if let (Some([_, beside]), Some([_, under])) =
        (outcome.beside.second_degrees(), outcome.under.second_degrees())
    {
        let (name, key) = ("cell centre, second degree", "cell_centre_second_degree");
        rows.push(Row { name: name.to_string(), key, beside, under, both: None });
    }
    rows
}

fn disc(outcome: &Outcome) -> Option<&Figures> {
    outcome.disc.as_ref().map(|run| &run.figures)
}

fn skin(outcome: &Outcome) -> Option<&Figures> {
    outcome.skin.as_ref().map(|run| &run.figures)
}

/// A figure and its places.
///
/// - `places`: what is said of skin
pub(crate) fn columns(patch: &Patch, places: &'static str) -> Vec<Column<'static, Row>> {
    let name = |row: &Row| row.name.clone();
    let both = |row: &Row| row.both.as_ref().map_or(places.to_string(), when_with_error);
    let over = format!("disc, {} %", PERCENT.short(patch.share, 2));
    let behind_both = Column::new("disc_behind_both", SECONDS, |row: &Row| row.both);
    vec![
        Column::new("figure", BARE, |row: &Row| row.key).headed("").written(name),
        Column::new("beside", SECONDS, |row: &Row| row.beside).headed("beside"),
        Column::new("under", SECONDS, |row: &Row| row.under).headed("under"),
        behind_both.headed(over).written(both),
    ]
}

/// The outcome in text.
pub fn patch_text(outcome: &PatchOutcome) -> String {
    let stack = outcome.beside.lies.stack();
    let mut out = lies::first_line([stack]);
    out.push_str(&heading(&format!("Patch on: {}", outcome.beside.layup.name)));
    out.push_str(&lies::paragraph_on(stack));
    out.push_str(&paragraph(&patch_words(&outcome.patch), 2));
    out.push_str(&paragraph(&exposure::sentence(&outcome.beside.exposure), 2));
    section(
        &mut out,
        "Beside the patch, under it, and one disc behind both",
        &table(&columns(&outcome.patch, PLACES), &rows(outcome)),
    );
    out.push_str(&paragraph(&sentence(outcome), 2));
    out.push('\n');
    out.push_str(&heading("How exact the numbers are"));
    let kept =
        if outcome.disc.goal_met { "" } else { " The disc's times do NOT keep to the error goal." };
    out.push_str(&paragraph(
        &format!(
            "± is the numerical error alone. Energy audit of the disc behind both: {} of the heat in.{kept} \
             Heat does not flow sideways between the two places; the edge of the patch is not seen.",
            significant(outcome.disc.audit, 2)
        ),
        2,
    ));
    closed(out)
}

/// The patch, its share of the area, mass and thread, in words.
pub(crate) fn patch_words(patch: &Patch) -> String {
    let thread = if patch.thread > 0.0 {
        format!(
            " Thread pierces {} % of it as far as the first air gap, taken at {K_THREAD} W/(m·K) along its \
             fibres (common practice, no source).",
            PERCENT.short(patch.thread, 2)
        )
    } else {
        String::new()
    };
    format!(
        "{} ({} g/m²) over {} % of the area, touching the outer ply: {} g/m² more on average.{thread}",
        patch.fabric.name,
        GRAMS_PER_AREA.fixed(patch.fabric.areal_density.value, 0),
        PERCENT.short(patch.share, 2),
        GRAMS_PER_AREA.short(patch.added(), 1)
    )
}

/// What the disc averages away, from the numbers.
pub fn sentence(outcome: &PatchOutcome) -> String {
    let rows = rows(outcome);
    let find = |key: &str| rows.iter().find(|row| row.key.ends_with(key));
    let mut parts = Vec::new();
    if let Some(row) = find("HTI24") {
        if let (Some(beside), Some(under), Some(Some(both))) =
            (row.beside.t(), row.under.t(), row.both.map(|both| both.t()))
        {
            parts.push(format!(
                "The disc behind both reads {} {} s: {} than beside the patch, {} than under it",
                row.name,
                fixed(both, 1),
                apart(both - beside),
                apart(both - under)
            ));
        }
    }
    if let Some(row) = find("second_degree") {
        if let (Some(beside), Some(under)) = (row.beside.t(), row.under.t()) {
            let at = outcome.beside.lies.over_cell().map_or("", |_| ", at a stitch line,");
            let (first, earlier) =
                if beside <= under { ("beside", beside) } else { ("under", under) };
            parts.push(format!(
            "skin {first} the patch{at} burns to the second degree at {} s, whatever the rest of the area \
             carries",
            fixed(earlier, 1)
        ));
        }
    }
    if parts.is_empty() {
        "Not every time is reached: give --until.".to_string()
    } else {
        parts.join("; ") + "."
    }
}

/// The outcome as CSV, one row a figure.
///
/// Errors: a value that is not a finite number.
pub fn patch_csv(outcome: &PatchOutcome) -> Result<String, CurvesError> {
    csv(&columns(&outcome.patch, PLACES), &rows(outcome))
}

/// The outcome as JSON.
///
/// Errors: a value that is not a finite number.
pub fn patch_json(outcome: &PatchOutcome) -> Result<String, serde_json::Error> {
    let stack = outcome.beside.lies.stack();
    let body = Object::new()
        .with("layup", outcome.beside.layup.name.as_str())
        .with("computed", lies::word(stack))
        .with("why_flat", lies::why_flat(stack))
        .with("exposure", outcome.beside.exposure.name.as_str())
        .with("patch", outcome.patch.fabric.name.as_str())
        .with_unit("share", PERCENT, outcome.patch.share)
        .with_unit("thread", PERCENT, outcome.patch.thread)
        .with_unit("added", GRAMS_PER_AREA, outcome.patch.added())
        .with("figures", objects(&columns(&outcome.patch, PLACES), &rows(outcome)))
        .with("energy_audit", outcome.disc.audit)
        .with("error_goal_met", outcome.disc.goal_met)
        .with("sentence", sentence(outcome));
    envelope("stillair/patch", &body)
}
