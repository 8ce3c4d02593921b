//! Words for the layups of a search: plies, gaps, figures, bounds.

use crate::bench::figure::{Found, Told, Under, Verdict, figure_name, hold, shown};
use crate::garment::brief::{Brief, GapPlace, Margin, Minimise, Stitching, Wanted};
use crate::garment::target::Judged;
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, PERCENT, Quantity};
use crate::report::figures::in_words;
use crate::report::number::{Shown, short};
use crate::report::verdict;
use crate::study::odds::defaults::N_SPECIMENS;
use crate::study::odds::spread::Share;
use crate::study::seek::chance::Chance;
use crate::study::seek::finding::{Bound, Next};
use crate::study::seek::score::Scored;
use crate::study::seek::space::{Candidate, Plies, Space};

/// "outer + 1 mm + felt + inner", with its quilting behind it.
pub fn stack(space: &Space<'_>, candidate: &Candidate) -> String {
    let mut words = Vec::new();
    for (fabric, gap) in space.fabrics(&candidate.plies).zip(&candidate.gaps) {
        words.push(fabric.name.clone());
        if *gap > 0.0 {
            words.push(format!("{} mm", millimetres(*gap)));
        }
    }
    let quilted = candidate.stitching.map(|own| format!("; {}", stitching(&own)));
    words.join(" + ") + &quilted.unwrap_or_default()
}

/// "diamond, pitch 40 mm, stitch 2 mm, loft 1.5 mm".
pub fn stitching(own: &Stitching) -> String {
    format!(
        "{}, pitch {} mm, stitch {} mm, loft {} mm",
        own.pattern.word(),
        millimetres(own.pitch),
        millimetres(own.stitch_width),
        millimetres(own.loft)
    )
}

/// "at least 90 % of sets of 5 drawn around a layup all reach it".
pub fn odds_wanted(wanted: &Wanted, n_specimens: usize) -> Option<String> {
    let odds = wanted.odds?;
    let judged = match Judged::of(&wanted.target) {
        Judged::Lowest => format!("all {n_specimens} of a set"),
        Judged::Mean => format!("the mean of a set of {n_specimens}"),
    };
    Some(format!("at least {} % odds that {judged} reach it", PERCENT.short(odds, 1)))
}

/// "118 of 128 sets of 5 all reach fia-…: 92 % (86 to 96 %); of single specimens 97 % (…)".
pub fn odds(chance: &Result<Chance, String>, wanted: &Wanted) -> String {
    let name = &wanted.target.name;
    let chance = match chance {
        Ok(chance) => chance,
        Err(why) => return format!("odds of {name} are not known: {why}"),
    };
    let judged = match chance.judged {
        Judged::Lowest => format!("all {} of a set", chance.n_specimens),
        Judged::Mean => format!("the mean of a set of {}", chance.n_specimens),
    };
    format!(
        "odds that {judged} reach {name}: {}, one specimen {}",
        share(&chance.set),
        share(&chance.one)
    )
}

/// "92 % (86 to 96 %)".
pub fn share(share: &Share) -> String {
    let whole = |share: f64| PERCENT.fixed(share, 0);
    format!("{} % ({} to {} %)", whole(share.value()), whole(share.low), whole(share.high))
}

/// Names of the plies, outermost first.
pub fn plies(space: &Space<'_>, plies: &Plies) -> Vec<String> {
    space.fabrics(plies).map(|fabric| fabric.name.clone()).collect()
}

/// A length in mm to the micrometre.
pub fn millimetres(length: f64) -> String {
    MILLIMETRES.short(length, 3)
}

/// Name of a target's figure, such as HTI24.
pub fn name(wanted: &Wanted) -> &'static str {
    figure_name(wanted.target.figure, &wanted.exposure)
}

/// The figure with its error and unit, or the least that it can be.
pub fn value(reading: &Found, wanted: &Wanted) -> String {
    in_words(reading, wanted.target.figure)
}

/// "fia-8856-2018-overall: HTI24 ≥ 12 s and 20 % more, 14.4 s".
pub fn wanted(wanted: &Wanted) -> String {
    let margin = match wanted.margin {
        Margin::Share(share) => format!("{} %", PERCENT.short(share, 2)),
        Margin::Time(t) => format!("{} s", short(t, 2)),
    };
    let odds = odds_wanted(wanted, N_SPECIMENS).map_or(String::new(), |odds| format!("; {odds}"));
    format!(
        "{}: {} ≥ {} and {margin} more, {}, under {}{odds}",
        wanted.target.name,
        name(wanted),
        verdict::threshold(&wanted.target),
        verdict::figure(wanted.target.figure, wanted.at_least()),
        wanted.exposure.name
    )
}

/// The answers on the targets themselves, in the brief's order.
pub fn verdicts(space: &Space<'_>, candidate: &Candidate, scored: &Scored) -> Vec<Verdict> {
    let layup = space.layup(candidate);
    let hold_one = |(found, wanted): (&Found, &Wanted)| {
        let exposure = &wanted.exposure;
        let under =
            Under { layup: &layup, exposure, as_given: exposure, bands: &space.brief.bands };
        hold(*found, &wanted.target, &under)
    };
    scored.readings.iter().zip(&space.brief.wanted).map(hold_one).collect()
}

/// What own tests make of the figures; empty where no tests were asked.
pub fn told(verdicts: &[Verdict], of: &str) -> Vec<Told> {
    verdicts.iter().filter_map(|verdict| Told::of_verdict(of, verdict)).collect()
}

/// A spare share as a percentage with its sign.
pub fn spare(spare: f64) -> String {
    let text = PERCENT.fixed(spare, 1);
    if text.starts_with('-') { text } else { format!("+{text}") }
}

/// What a bound is, in words.
pub fn bound(bound: &Bound) -> String {
    match bound {
        Bound::ArealDensity(left) => {
            format!("the limit on areal density ({} g/m² left)", GRAMS_PER_AREA.short(*left, 1))
        }
        Bound::Thickness(left) => {
            format!("the limit on thickness ({} mm left)", MILLIMETRES.short(*left, 2))
        }
        Bound::GapMost(place) => format!("the gap {} at its most", gap_words(*place)),
        Bound::LoftMost => "the loft at its most".to_owned(),
        Bound::Odds => "the odds: less air, and they are not reached".to_owned(),
        Bound::GapsLeast => "the gaps at their least, with margin left over".to_owned(),
    }
}

fn gap_words(place: GapPlace) -> &'static str {
    match place {
        GapPlace::BehindOuter => "behind the outer",
        GapPlace::BetweenFelts => "between the felts",
        GapPlace::BeforeInner => "before the inner",
        GapPlace::BehindInner => "behind the inner",
    }
}

/// Unit of what a search makes least.
pub fn cost(minimise: Minimise) -> Quantity {
    match minimise {
        Minimise::Mass => GRAMS_PER_AREA,
        Minimise::Thickness => MILLIMETRES,
    }
}

/// Gain per unit of cost, in the unit of [`per`].
pub fn rate(next: &Next, brief: &Brief) -> f64 {
    let figure = shown(brief.wanted[next.target].target.figure);
    figure.outside(next.gain) / cost(brief.minimise).outside(next.more)
}

/// Unit of a gain per unit of cost: seconds or cal/cm² per g/m² or mm.
pub fn per(wanted: &Wanted, minimise: Minimise) -> String {
    format!("{} per {}", shown(wanted.target.figure).unit, cost(minimise).unit)
}
