//! The result of a search as JSON.

use crate::bench::figure::{Told, Verdict, filed};
use crate::garment::brief::{Brief, Stitching, Wanted};
use crate::garment::target::Judged;
use crate::physics::units::{GRAMS_PER_AREA, GRAMS_PER_LENGTH, MILLIMETRES, PERCENT};
use crate::report::form::value::Object;
use crate::report::json::study::envelope;
use crate::report::json::{anchored, rule};
use crate::report::seek::words as say;
use crate::report::verdict::answer;
use crate::study::odds::spread::Share;
use crate::study::seek::chance::Chance;
use crate::study::seek::finding::{Choice, Finding, Point};
use crate::study::seek::score::Scored;
use crate::study::seek::space::{Candidate, Space};

/// How odds that are asked for were searched.
const ODDS_WAY: &str =
    "drawn in the order of the shortlist until it is full; none that it holds is lost";

/// The result of a search as JSON.
///
/// Errors: a value that is not a finite number.
pub fn seek_json(finding: &Finding<'_>) -> Result<String, serde_json::Error> {
    let brief = finding.brief();
    let frontier = finding.frontier.iter().map(|one| point(finding, one));
    let shortlist = finding.shortlist.iter().map(|one| choice(finding, one));
    let body = Object::new()
        .with("brief", brief.name.as_str())
        .with("note", brief.note.as_str())
        .with("minimise", brief.minimise.word())
        .with_unit("error_goal", PERCENT, finding.error_goal)
        .with("targets", brief.wanted.iter().map(target).collect::<Vec<_>>())
        .with("search", counts(finding, brief))
        .with("frontier", frontier.collect::<Vec<_>>())
        .with("shortlist", shortlist.collect::<Vec<_>>());
    envelope("stillair/seek", &body)
}

fn target(wanted: &Wanted) -> Object {
    let unit = filed(wanted.target.figure);
    Object::new()
        .with("target", wanted.target.name.as_str())
        .with("exposure", wanted.exposure.name.as_str())
        .with("figure", say::name(wanted))
        .with_unit("odds_wanted", PERCENT, wanted.odds)
        .with_unit("at_least", unit, wanted.target.at_least)
        .with_unit("wanted", unit, wanted.at_least())
}

fn counts(finding: &Finding<'_>, brief: &Brief) -> Object {
    let counts = &finding.counts;
    Object::new()
        .with("combinations", counts.n_seen)
        .with("beyond_limits", counts.n_beyond)
        .with("not_to_be_stitched", brief.is_quilted().then_some(counts.n_unstitchable))
        .with("exposed", counts.n_exposed())
        .with("unsettled", counts.n_unknown)
        .with("stopped", counts.n_stopped)
        .with("keeping_margin", counts.n_keeping)
        .with("pruned", "none within the limits")
        .with("left_at_coarsest_mesh", finding.sieve.n_left)
        .with_unit("coarsest_mesh_bound", PERCENT, finding.sieve.bound)
        .with_unit("coarsest_mesh_off", PERCENT, finding.sieve.off)
        .with("settled_blindly", finding.sieve.n_checked)
        .with("odds", brief.wants_odds().then_some(ODDS_WAY))
        .with("sets_drawn", brief.n_sets)
}

fn point(finding: &Finding<'_>, point: &Point) -> Object {
    let closed = point.tightened.as_ref();
    Object::new()
        .with("number", point.candidate.index)
        .with("plies", say::plies(finding.space, &point.candidate.plies))
        .and(Some(stack(finding.space, &point.candidate, &point.scored)))
        .with("closed", closed.map(|t| stack(finding.space, &t.candidate, &t.scored)))
}

fn stack(space: &Space<'_>, candidate: &Candidate, scored: &Scored) -> Object {
    let wanted = &space.brief.wanted;
    let verdicts = say::verdicts(space, candidate, scored);
    let figures = verdicts.iter().zip(wanted).map(|(verdict, wanted)| figure(verdict, wanted));
    Object::new()
        .with_unit("gaps", MILLIMETRES, candidate.gaps.clone())
        .with("quilting", candidate.stitching.as_ref().map(quilting))
        .with_unit("areal_density", GRAMS_PER_AREA, scored.areal_density)
        .with_unit("thickness", MILLIMETRES, scored.thickness)
        .with("figures", figures.collect::<Vec<_>>())
        .with("binding", wanted[scored.binding].target.name.as_str())
        .with_unit("spare", PERCENT, scored.spare)
        .with("keeps_margin", scored.keeps)
}

fn figure(verdict: &Verdict, wanted: &Wanted) -> Object {
    let (unit, reading) = (filed(wanted.target.figure), &verdict.found);
    let least = reading.value_or_least().filter(|_| reading.valued().is_none());
    Object::new()
        .with("target", wanted.target.name.as_str())
        .with("state", reading.state())
        .with_unit("value", unit, reading.valued())
        .with_unit("more_than", unit, least)
        .with("call", verdict.call.as_ref().map_or("not judged", |call| call.words()))
        .with("answer", answer(verdict))
        .with("anchored", Told::of_verdict("", verdict).as_ref().map(anchored::told))
        .with("rule", rule(&verdict.rule))
}

fn quilting(own: &Stitching) -> Object {
    Object::new()
        .with("pattern", own.pattern.word())
        .with_unit("pitch", MILLIMETRES, own.pitch)
        .with_unit("stitch_width", MILLIMETRES, own.stitch_width)
        .with_unit("loft", MILLIMETRES, own.loft)
        .with_unit("pressed", PERCENT, own.pressed_share)
        .with_unit("thread", GRAMS_PER_LENGTH, own.thread)
}

fn odds(chance: &Result<Chance, String>, wanted: &Wanted) -> Object {
    let known = chance.as_ref().ok();
    let judged = known.map(|chance| match chance.judged {
        Judged::Lowest => "lowest",
        Judged::Mean => "mean",
    });
    Object::new()
        .with("target", wanted.target.name.as_str())
        .with("unknown", chance.as_ref().err().map(String::as_str))
        .with("judged", judged)
        .with("specimens", known.map(|chance| chance.n_specimens))
        .with("set", known.map(|chance| share(chance.set)))
        .with("one_specimen", known.map(|chance| share(chance.one)))
}

fn share(share: Share) -> Object {
    Object::new()
        .with("reached", share.k)
        .with("drawn", share.n)
        .with_unit("odds", PERCENT, share.value())
        .with_unit("low", PERCENT, share.low)
        .with_unit("high", PERCENT, share.high)
}

fn choice(finding: &Finding<'_>, choice: &Choice) -> Object {
    let brief = finding.brief();
    let next = choice.next.as_ref().map(|next| {
        Object::new()
            .with("target", brief.wanted[next.target].target.name.as_str())
            .with("gain", say::rate(next, brief))
            .with("unit", say::per(&brief.wanted[next.target], brief.minimise))
    });
    let binding = brief.wanted[choice.point.closed().binding].target.name.clone();
    let binds = std::iter::once(binding).chain(choice.bounds.iter().map(say::bound));
    let chances =
        choice.odds.iter().zip(&brief.wanted).map(|(chance, wanted)| odds(chance, wanted));
    point(finding, &choice.point)
        .with("odds", chances.collect::<Vec<_>>())
        .with("binds", binds.collect::<Vec<_>>())
        .with("next", next)
}
