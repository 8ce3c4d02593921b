//! What is said of layups side by side.

use crate::bench::figure::{Told, figure_name};
use crate::bench::lies::Stack;
use crate::bench::outcome::When;
use crate::garment::suit::thread_density;
use crate::garment::target::Figure;
use crate::report::figures::BEYOND_MARK;
use crate::report::lies;
use crate::report::words::when_with_error;
use crate::study::ordering::{By, Placed, Ranking};

/// What the layups are ordered by, and which one differences are counted from.
pub fn order_words(ranking: &Ranking<'_>) -> String {
    let base = ranking.placed.iter().find(|placed| placed.is_base);
    let base = base.map_or(String::new(), |placed| placed.outcome.layup.name.clone());
    let by = match (ranking.by, ranking.placed.first()) {
        (By::Mass, _) => "Lightest first".to_string(),
        (By::Thickness, _) => "Thinnest first".to_string(),
        (By::Figure(figure), Some(first)) => {
            let most = if figure == Figure::Tpp { "Highest" } else { "Longest" };
            format!("{most} {} first", figure_name(figure, &first.outcome.exposure))
        }
        _ => String::new(),
    };
    format!("{by}; differences counted from \"{base}\".")
}

/// What skin suffers at both places of each quilted layup, and why a quilted one lies flat.
pub fn places_of_skin(ranking: &Ranking<'_>) -> Vec<String> {
    let line = |placed: &Placed<'_>| {
        let (name, own) = (&placed.outcome.layup.name, &placed.outcome.lies);
        if let Some(why) = lies::why_flat(own.stack()) {
            return Some(format!("{name}: {why}."));
        }
        let quilted = lies::beside(Stack::Quilted(&own.over_cell()?.quilting));
        let seconds = |when: When| {
            let s = if matches!(when, When::At { .. }) { " s" } else { "" };
            format!("{}{s}", when_with_error(&when))
        };
        let [stitch, centre] = placed.outcome.second_degrees()?.map(seconds);
        Some(format!(
            "{name}: {quilted}, one disc behind a whole cell; second-degree burn of skin at a stitch \
             line {stitch}, at a cell's centre {centre}."
        ))
    };
    ranking.placed.iter().filter_map(line).collect()
}

/// What own tests make of the figures, in the ranking's order; empty where no tests were asked.
pub fn all_told(ranking: &Ranking<'_>) -> Vec<Told> {
    ranking.placed.iter().filter_map(|placed| placed.told.clone()).collect()
}

/// What ± and † mean, and which neighbours are too close to be told apart.
pub fn remark(ranking: &Ranking<'_>) -> String {
    let mut out = "± is the numerical error alone; fabric data and model weigh more.".to_string();
    if ranking.placed.iter().any(|placed| thread_density(&placed.outcome.layup) > 0.0) {
        out.push_str(" Masses are of the plies with their quilting thread.");
    }
    if ranking.placed.iter().any(|placed| placed.found.is_beyond()) {
        out.push_str(&format!(
            " {BEYOND_MARK} comes after a ply has gone past its limit, outside the model's validity."
        ));
    }
    if ranking.placed.iter().any(|placed| placed.told.is_some()) {
        out.push_str(
            " The figure is the model's; order and differences are those of the anchored one.",
        );
    }
    let n = ranking.n_too_close();
    if n > 0 {
        out.push_str(&format!(
            " {n} of {} neighbours lie closer together than the bench may lie from a prediction: their \
             order is too close to call for real fabric.",
            ranking.placed.len() - 1,
        ));
    }
    out
}
