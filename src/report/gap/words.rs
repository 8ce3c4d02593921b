//! The sentences about a sweep of air gaps that its views share.

use crate::bench::figure::figure_name;
use crate::bench::lies::Stack;
use crate::garment::exposure::Orientation;
use crate::garment::target::Figure;
use crate::physics::gap::RAYLEIGH_ONSET;
use crate::physics::units::{MILLIMETRES, PERCENT, PERCENT_PER_MM};
use crate::report::number::{Shown, fixed, significant};
use crate::report::words::list;
use crate::study::gap::{GapSweep, Swept};
use crate::study::gap_point::{GapHeat, GapPoint};
use crate::study::gap_turn::{CONVECTION_FELT, Course, GAIN_LEAST, Turn};
use crate::study::quilt::screen::N_POINTS;

/// Which gaps were swept, in words.
pub fn swept(sweep: &GapSweep) -> String {
    let range = match (sweep.points.first(), sweep.points.last()) {
        (Some(first), Some(last)) if sweep.points.len() > 1 => {
            format!("from {} to {} mm", mm(first.gap), mm(last.gap))
        }
        (Some(only), _) => format!("at {} mm", mm(only.gap)),
        _ => String::new(),
    };
    let plies: Vec<String> = sweep.plies.iter().map(usize::to_string).collect();
    let spacer = sweep.exposure.spacer;
    let last = sweep.layup.plies().count();
    let more = if sweep.plies.contains(&last) && spacer > 0.0 {
        format!("; the bench's spacer of {} mm is added to it in front of the disc", mm(spacer))
    } else {
        String::new()
    };
    match sweep.swept {
        Swept::All if sweep.plies.len() == 1 && sweep.layup.gaps().next().is_some() => {
            format!("the gap behind ply {}, {range}", list(&plies))
        }
        Swept::BehindPly(ply) if ply < last => format!("the gap behind ply {ply}, {range}"),
        Swept::BehindPly(_) | Swept::Behind => {
            format!("the gap between the last ply and what is behind, {range}{more}")
        }
        Swept::Place(place) => format!("the gap {}, {range}{more}", place.words()),
        Swept::All if sweep.layup.quilting.is_some() && sweep.layup.gaps().next().is_none() => {
            format!(
                "the joints that the quilting's loft opens, together, each {range}{}: those behind plies {}",
                match sweep.stack() {
                    Stack::Quilted(_) => " on top of the loft, closed under stitch lines",
                    _ => " and flat",
                },
                list(&plies)
            )
        }
        Swept::All => {
            format!("all gaps together, each {range}: those behind plies {}", list(&plies))
        }
    }
}

/// A gap in millimetres, without the unit.
pub fn mm(gap: f64) -> String {
    MILLIMETRES.short(gap, 2)
}

/// Name of the disc's 24 K time under the exposure.
pub fn rise_name(sweep: &GapSweep) -> &'static str {
    figure_name(Figure::Rise24, &sweep.exposure)
}

/// What the columns are, how many points there are, and where the model ends.
pub fn remarks(sweep: &GapSweep, is_thinned: bool) -> String {
    let n = sweep.points.len();
    let shown = if is_thinned {
        format!("Of {n} points some are shown; --csv has all. ")
    } else {
        String::new()
    };
    let several =
        if sweep.plies.len() > 1 { "the gaps' heat taken together" } else { "the gap's heat" };
    let upto = rise_name(sweep);
    let beyond = sweep.points.iter().filter(|point| is_beyond(point)).count();
    let limits = match beyond {
        0 => String::new(),
        _ if beyond == n => format!(
            " At every gap a ply gets past its limit before {upto}: the figures lie outside the \
             model's validity, and only their course with the gap says something."
        ),
        _ => format!(
            " At {beyond} of {n} gaps a ply gets past its limit before {upto}: those figures lie outside \
             the model's validity."
        ),
    };
    format!(
        "{shown}Shares are of {several} up to {upto}: conduction of air at rest, what its motion adds, \
         radiation, vapour that carries its latent heat.{limits}"
    )
}

fn is_beyond(point: &GapPoint) -> bool {
    let t = point.disc.rise24.t().unwrap_or(f64::INFINITY);
    point.t_valid.is_some_and(|limit| limit < t)
}

/// Where more air stops helping and why, from the numbers.
pub fn sentence(sweep: &GapSweep) -> String {
    let Some(turn) = &sweep.turn else {
        return "Too few points reach the end to tell; give a wider range or --until.".to_string();
    };
    let name = rise_name(sweep);
    let first = &sweep.points[0];
    let (at, last) = (&sweep.points[turn.at], &sweep.points[turn.last]);
    let what = match turn.course {
        Course::Optimum if turn.at == 0 => format!(
            "{name} is longest at the narrowest gap, {} mm ({} s)",
            mm(at.gap),
            fixed(turn.t, 1)
        ),
        Course::Optimum => format!(
            "{name} is longest at {} mm ({} s, against {} s at {} mm)",
            mm(at.gap),
            fixed(turn.t, 1),
            fixed(turn.t_last, 1),
            mm(last.gap)
        ),
        Course::Flattens => format!(
            "From {} mm on no wider gap gains as much as {} % of {name} for each further millimetre \
             ({} s there, {} s at {} mm)",
            mm(at.gap),
            PERCENT_PER_MM.short(GAIN_LEAST, 1),
            fixed(turn.t, 1),
            fixed(turn.t_last, 1),
            mm(last.gap)
        ),
        Course::StillGains => format!(
            "More air still helps at the widest gap looked at, {} mm: {} % of {name} for a \
             further millimetre",
            mm(last.gap),
            PERCENT_PER_MM.fixed(turn.gain_last, 1)
        ),
    };
    format!("{what}, because {}.", reason(sweep, turn, (first, at, last)))
}

/// The reason in the numbers of the run.
fn reason(
    sweep: &GapSweep,
    turn: &Turn,
    (first, at, last): (&GapPoint, &GapPoint, &GapPoint),
) -> String {
    let percent = |share: f64| PERCENT.fixed(share, 0);
    let radiation = format!(
        "radiation, which no thickness of air holds back, carries {} % of the heat at {} mm against \
         {} % at {} mm",
        percent(turn.shares.radiation),
        mm(at.gap),
        percent(turn.shares_first.radiation),
        mm(first.gap)
    );
    if turn.course == Course::StillGains {
        let rest = percent(turn.shares_last.conduction);
        return format!(
            "conduction, which falls as the gap grows, still carries {rest} % of the heat there \
             (radiation {} %, moving air {} %, vapour {} %)",
            percent(turn.shares_last.radiation),
            percent(turn.shares_last.convection),
            percent(turn.shares_last.vapour)
        );
    }
    let Some(moves) = turn.moves_from else {
        let still = match sweep.exposure.orientation {
            Orientation::Still => "the air is held still",
            _ => "the air does not move in gaps this narrow",
        };
        return format!("{radiation}; {still}");
    };
    // the onset between plates is one only where the air lies on the heat
    let overturns =
        turn.onset_from.filter(|_| sweep.exposure.orientation == Orientation::HeatedFromBelow);
    let onset = match overturns {
        Some(onset) => format!(
            "from {} mm on the air begins to turn over during the run (Rayleigh number above {} from \
             there, up to {} at {} mm) and carries {} % of the heat at {} mm",
            mm(onset),
            fixed(RAYLEIGH_ONSET, 0),
            significant(last.rayleigh_most(), 2),
            mm(last.gap),
            percent(turn.shares_last.convection),
            mm(last.gap)
        ),
        None => format!(
            "air that rises and falls along the walls carries more than {} % of the heat from {} mm \
             on, {} % at {} mm",
            PERCENT.short(CONVECTION_FELT, 1),
            mm(moves),
            percent(turn.shares_last.convection),
            mm(last.gap)
        ),
    };
    // what is there already at the turn is said first
    if overturns.unwrap_or(moves) <= at.gap {
        format!("{onset}; {radiation}")
    } else {
        format!("{radiation}; {onset}")
    }
}

/// Error goal, Richardson's error of the heat and quadrature.
pub fn exactness(sweep: &GapSweep) -> String {
    let heats = || sweep.points.iter().flat_map(|point| &point.heat);
    let of_heat = |heat: &GapHeat| {
        let errors: f64 = heat.ways().iter().map(|way| way.error).sum();
        errors / heat.whole().abs()
    };
    let worst = heats().map(of_heat).fold(0.0, f64::max);
    let quadrature = sweep.points.iter().map(GapPoint::quadrature).fold(0.0, f64::max);
    let cell = match sweep.stack() {
        Stack::Quilted(_) => {
            format!(
                " Heat is a mean over the cell, from {N_POINTS} points whose own error is not in ±."
            )
        }
        _ => String::new(),
    };
    format!(
        "± is the numerical error of each time alone, from runs on finer meshes.{cell} The heat by its ways is \
         known to {} % of the gap's heat at worst; the quadrature alone is off by {} of it at most.",
        PERCENT.significant(worst, 2),
        significant(quadrature, 1)
    )
}
