//! A patched layup as JSON.

use serde::Serialize;

use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{Time, envelope};
use crate::report::lies;
use crate::report::patch::{rows, sentence};
use crate::study::patched::PatchOutcome;

#[derive(Serialize)]
struct Body<'a> {
    layup: &'a str,
    /// "quilted", skin then at a stitch line, or "flat".
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    exposure: &'a str,
    patch: &'a str,
    share_pct: Finite,
    thread_pct: Finite,
    added_g_m2: Finite,
    figures: Vec<JsonRow>,
    energy_audit: Finite,
    error_goal_met: bool,
    sentence: String,
}

#[derive(Serialize)]
struct JsonRow {
    figure: &'static str,
    beside_s: Time,
    under_s: Time,
    #[serde(skip_serializing_if = "Option::is_none")]
    disc_behind_both_s: Option<Time>,
}

/// The outcome as JSON.
///
/// Errors: a value that is not a finite number.
pub fn patch_json(outcome: &PatchOutcome) -> Result<String, serde_json::Error> {
    let figures = rows(outcome).into_iter().map(|row| JsonRow {
        figure: row.key,
        beside_s: Time::new(row.beside),
        under_s: Time::new(row.under),
        disc_behind_both_s: row.both.map(Time::new),
    });
    let stack = outcome.beside.lies.stack();
    let body = Body {
        layup: &outcome.beside.layup.name,
        computed: lies::word(stack),
        why_flat: lies::why_flat(stack),
        exposure: &outcome.beside.exposure.name,
        patch: &outcome.patch.fabric.name,
        share_pct: rounded(100.0 * outcome.patch.share),
        thread_pct: rounded(100.0 * outcome.patch.thread),
        added_g_m2: rounded(1e3 * outcome.patch.added()),
        figures: figures.collect(),
        energy_audit: Finite(outcome.disc.audit),
        error_goal_met: outcome.disc.goal_met,
        sentence: sentence(outcome),
    };
    envelope("stillair/patch", &body)
}
