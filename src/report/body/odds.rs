//! The odds of a share burnt: columns, sentences.

use crate::physics::units::{BARE, PERCENT, SECONDS};
use crate::report::body::words::percent;
use crate::report::form::column::Column;
use crate::report::form::rows::{objects, table};
use crate::report::form::value::{Digits, Object};
use crate::report::number::Shown;
use crate::report::table::paragraph;
use crate::study::body::odds::{BodyOdds, FireOdds, UNEVEN};

/// The quantiles that are told.
const QUANTILES: [(f64, &str); 3] = [(0.05, "5 %"), (0.5, "50 %"), (0.95, "95 %")];

/// A fire: what the sets came to, and how many keep to the share asked for.
fn columns(odds: &BodyOdds) -> Vec<Column<'_, FireOdds>> {
    let mut all = vec![
        Column::new("for", SECONDS, |fire: &FireOdds| fire.duration)
            .headed("flame")
            .digits(Digits::Short(2)),
        Column::new("as_it_is", PERCENT, |fire: &FireOdds| fire.nominal)
            .headed("as it is")
            .digits(Digits::Fixed(1)),
    ];
    for (p, heading) in QUANTILES {
        let quantile = move |fire: &FireOdds| fire.quantile(p);
        all.push(
            Column::new(quantile_name(p), PERCENT, quantile)
                .headed(format!("{heading} below"))
                .digits(Digits::Fixed(1)),
        );
    }
    let keeps = |fire: &FireOdds| {
        let ends = [fire.keeps.low, fire.keeps.high].map(|end| PERCENT.fixed(end, 0));
        let value = PERCENT.fixed(fire.keeps.value(), 0);
        format!("{value} ({} to {})", ends[0], ends[1])
    };
    all.extend([
        Column::new("keeps", PERCENT, |fire: &FireOdds| fire.keeps.value()),
        Column::new("keeps_at_least", PERCENT, |fire: &FireOdds| fire.keeps.low),
        Column::new("keeps_at_most", PERCENT, |fire: &FireOdds| fire.keeps.high),
        Column::text(&format!("sets with {} or less", percent(odds.at_most)), PERCENT, keeps),
    ]);
    all
}

/// The same in a table of other rows, some of which are a fire's and tell for how long it burns.
pub fn in_csv<'a, R: 'a>(
    odds: &'a BodyOdds,
    of: impl Fn(&R) -> Option<&FireOdds> + Copy + 'a,
) -> Vec<Column<'a, R>> {
    let mut all = vec![
        Column::new("at_most", PERCENT, move |row: &R| of(row).map(|_| odds.at_most)),
        Column::new("sets", BARE, move |row: &R| of(row).map(|_| odds.n_sets)),
    ];
    all.extend(columns(odds).into_iter().skip(1).map(|column| column.of_maybe(of)));
    all
}

fn quantile_name(p: f64) -> String {
    format!("quantile_{}", PERCENT.fixed(p, 0))
}

/// What was drawn.
fn sentence(odds: &BodyOdds) -> String {
    format!(
        "{} sets of fabrics, flame, flux (from place to place a standard deviation of {} %, the most that \
         ASTM F1930 allows, from memory) and fit; interval 95 %. The model's own error is not drawn: its \
         times are known to be too long more often than too short. Coarsest mesh, five gaps, as it is so too.",
        odds.n_sets,
        PERCENT.fixed(UNEVEN, 0)
    )
}

/// The odds as text.
pub fn body(odds: &BodyOdds) -> String {
    table(&columns(odds), &odds.fires) + &paragraph(&sentence(odds), 2)
}

/// The record of the odds.
pub fn object(odds: &BodyOdds) -> Object {
    Object::new()
        .with_unit("at_most", PERCENT, odds.at_most)
        .with("sets", odds.n_sets)
        .with_key("of", BARE, "second degree, of what is covered")
        .with("fires", objects(&columns(odds), &odds.fires))
}
