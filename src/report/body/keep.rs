//! The lightest layups that keep a share: columns, sentences, record.

use crate::bench::outcome::Valued;
use crate::physics::units::{BARE, GRAMS, PERCENT, SECONDS};
use crate::report::body::words::{percent, percent_with_error};
use crate::report::form::column::Column;
use crate::report::form::rows::{objects, table};
use crate::report::form::value::{Digits, Object};
use crate::report::number::{Shown, short};
use crate::report::table::paragraph;
use crate::report::words::{count, list};
use crate::study::body::keep::Kept;
use crate::study::saving::Picks;

/// A panel that takes another layup.
struct Change<'a> {
    kept: &'a Kept,
    panel: usize,
    pick: usize,
}

/// A panel that takes another layup: what it has, takes and saves, and what of it burns then.
fn changes(kept: &Kept) -> Vec<Column<'_, Change<'_>>> {
    let layup = |row: &Change, pick: usize| row.kept.candidates[row.panel][pick].layup.clone();
    let saved = |row: &Change| {
        let choices = &row.kept.task.panels[row.panel];
        choices[0].mass - choices[row.pick].mass
    };
    let mut all = vec![
        Column::new("panel", BARE, |row: &Change| row.kept.panels[row.panel].clone())
            .headed("")
            .under("panel"),
        Column::new("has", BARE, move |row: &Change| layup(row, 0)).headed("has"),
        Column::new("takes", BARE, move |row: &Change| layup(row, row.pick)).headed("takes"),
        Column::new("saves", GRAMS, saved).headed("saves").digits(Digits::Fixed(0)),
    ];
    for (k, duration) in kept.durations.iter().enumerate() {
        let then = move |row: &Change| {
            let candidate = &row.kept.candidates[row.panel][row.pick];
            percent(candidate.burnt[k])
        };
        all.push(Column::text(&format!("{} s", short(*duration, 2)), PERCENT, then).right());
    }
    all
}

fn rows<'a>(kept: &'a Kept, picks: &Picks) -> Vec<Change<'a>> {
    let all = picks.picks.iter().enumerate().filter(|(_, pick)| **pick != 0);
    all.map(|(panel, pick)| Change { kept, panel, pick: *pick }).collect()
}

/// The heading over the search.
pub fn title(kept: &Kept) -> String {
    let at_most = percent(kept.at_most);
    format!("At least grams with at most {at_most} % second degree, of what is covered")
}

/// What the search found, in words.
pub fn sentence(kept: &Kept) -> String {
    let n_other: usize = kept.candidates.iter().map(|panel| panel.len() - 1).sum();
    let bound = match kept.task.kinds_at_most {
        Some(most) => format!(" and {} at most", count(most, "layup", "different layups")),
        None => String::new(),
    };
    let own = kept.task.as_it_is();
    let after = |k: usize| format!("after {} s", short(kept.durations[k], 2));
    let shares = |picks: &Picks| {
        let share = |k: usize| {
            let error = kept.error(picks, k);
            format!("{} % {}", percent_with_error(kept.share(picks, k), error), after(k))
        };
        list(&(0..kept.durations.len()).map(share).collect::<Vec<String>>())
    };
    let search = format!(
        "Each panel with its own layup or one of its alternatives ({n_other} of them){bound}; the exact search \
         (branch and bound over the layups in use)"
    );
    let grams = |mass: f64| format!("{} g", GRAMS.fixed(mass, 0));
    let Some(found) = &kept.found else {
        let least = (0..kept.durations.len())
            .map(|k| format!("{} % {}", percent(kept.least(k)), after(k)))
            .collect::<Vec<String>>();
        return format!(
            "{search} finds none that keeps to it: each panel at its least would leave {}.",
            list(&least)
        );
    };
    let open = (0..kept.durations.len()).any(|k| {
        let (share, error) = (kept.share(found, k), kept.error(found, k));
        share + error > kept.at_most
    });
    let close = match open {
        true => " Too close to call: what gaps, places and meshes leave open reaches beyond it.",
        false => "",
    };
    format!(
        "{search} finds {} in place of {}, with {}; as it is: {}.{close}",
        grams(found.mass),
        grams(own.mass),
        shares(found),
        shares(&own)
    )
}

/// The search as text.
pub fn body(kept: &Kept) -> String {
    let changed = kept.found.as_ref().map_or(Vec::new(), |found| rows(kept, found));
    let mut out = paragraph(&sentence(kept), 2);
    if !changed.is_empty() {
        out.push_str(&table(&changes(kept), &changed));
    }
    out
}

/// The record of the search.
pub fn object(kept: &Kept) -> Object {
    let of = |picks: &Picks| {
        let fires = (0..kept.durations.len()).map(|k| {
            let share = Valued { value: kept.share(picks, k), error: kept.error(picks, k) };
            Object::new().with_unit("for", SECONDS, kept.durations[k]).with_unit(
                "second_degree_of_covered",
                PERCENT,
                share,
            )
        });
        let layups = kept.panels.iter().zip(&picks.picks).enumerate().map(|(i, (name, j))| {
            Object::new()
                .with("panel", name.as_str())
                .with("layup", kept.candidates[i][*j].layup.as_str())
                .with_unit("mass", GRAMS, kept.task.panels[i][*j].mass)
        });
        Object::new()
            .with_unit("mass", GRAMS, picks.mass)
            .with("layups", layups.collect::<Vec<_>>())
            .with("fires", fires.collect::<Vec<_>>())
            .with("changes", objects(&changes(kept), &rows(kept, picks)))
    };
    Object::new()
        .with_unit("at_most", PERCENT, kept.at_most)
        .with("layups_at_most", kept.task.kinds_at_most)
        .with("as_it_is", of(&kept.task.as_it_is()))
        .or_null("lightest", BARE, kept.found.as_ref().map(of))
        .with("runs", kept.work.n_runs)
}
