//! The result of a search in text.

use crate::bench::figure::Verdict;
use crate::garment::brief::{Brief, Minimise, Stitching};
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::report::anchored::sentences;
use crate::report::form::rows::table;
use crate::report::number::{Shown, fixed, short};
use crate::report::seek::columns;
use crate::report::seek::words as say;
use crate::report::table::{hanging, paragraph};
use crate::report::text::{closed, heading, section};
use crate::report::verdict;
use crate::report::words::{count, list};
use crate::study::seek::finding::{Choice, Finding};
use crate::study::seek::part::Part;
use crate::study::seek::sieve::Sieve;
use crate::study::seek::summary::Counts;

/// Most rows of the frontier that the text shows.
const ROWS_MOST: usize = 40;

/// The result of a search in text.
pub fn seek_text(finding: &Finding<'_>) -> String {
    let brief = finding.brief();
    let least = match brief.minimise {
        Minimise::Mass => "Lightest",
        Minimise::Thickness => "Thinnest",
    };
    let mut out = heading(&format!("{least} layups: {}", brief.name));
    if !brief.note.is_empty() {
        out.push_str(&paragraph(&brief.note, 2));
    }
    for wanted in &brief.wanted {
        out.push_str(&hanging("wanted  ", &say::wanted(wanted), 2));
    }
    out.push_str(&hanging("limits  ", &limits(brief), 2));
    section(&mut out, "How it was searched", &paragraph(&searched(finding), 2));
    section(
        &mut out,
        "Frontier: no layup has less of the one and more of the other",
        &frontier(finding),
    );
    section(&mut out, "Shortlist", &shortlist(finding));
    closed(out)
}

/// What a part of a search says when it is done.
pub fn part_text(brief: &Brief, part: Part, n_done: u64, file: &str) -> String {
    let (k, n) = (part.k, part.n);
    let mut out = heading(&format!("Part {k} of {n}: {}", brief.name));
    out.push_str(&paragraph(
        &format!(
            "{} looked at; the part is in `{file}`. Once all {n} parts are done, `stillair merge` \
             joins their files.",
            count(n_done as usize, "combination", "combinations")
        ),
        2,
    ));
    closed(out)
}

/// The limits and what is looked at, in a line.
pub fn limits(brief: &Brief) -> String {
    let limits = &brief.limits;
    let mut words = Vec::new();
    if let Some(most) = limits.areal_density {
        words.push(format!("at most {} g/m²", GRAMS_PER_AREA.short(most, 1)));
    }
    if let Some(most) = limits.thickness {
        words.push(format!("at most {} mm with the gaps", MILLIMETRES.short(most, 2)));
    }
    let (least, most) = brief.n_felts;
    let plies = (limits.plies_least.max(least + 2), limits.plies_most.min(most + 2));
    words.push(match plies {
        (least, most) if least == most => format!("{least} plies"),
        (least, most) => format!("{least} to {most} plies"),
    });
    for range in &brief.gaps {
        words.push(format!(
            "{} to {} mm {} by {} mm",
            say::millimetres(range.least),
            say::millimetres(range.most),
            range.place.words(),
            say::millimetres(range.step)
        ));
    }
    words.extend(quilting(brief));
    words.join("; ")
}

/// The ways of stitching that are looked at; none without any.
fn quilting(brief: &Brief) -> Option<String> {
    let all: Vec<Stitching> = brief.stitchings.iter().flatten().copied().collect();
    let mut patterns: Vec<String> = Vec::new();
    for own in &all {
        if patterns.iter().all(|known| known != own.pattern.word()) {
            patterns.push(own.pattern.word().to_owned());
        }
    }
    if brief.stitchings.contains(&None) {
        patterns.push("not quilted".to_owned());
    }
    let span = |of: fn(&Stitching) -> f64| {
        let (least, most) = all
            .iter()
            .map(of)
            .fold((f64::INFINITY, 0.0_f64), |(lo, hi), value| (lo.min(value), hi.max(value)));
        match least == most {
            true => say::millimetres(least),
            false => format!("{} to {}", say::millimetres(least), say::millimetres(most)),
        }
    };
    let first = all.first()?;
    Some(format!(
        "{}: pitch {} mm, stitch lines {} mm pressed to {} % of the loose plies, loft {} mm",
        patterns.join(" or "),
        span(|own| own.pitch),
        span(|own| own.stitch_width),
        PERCENT.short(first.pressed_share, 1),
        span(|own| own.loft),
    ))
}

/// How it was searched, in a paragraph.
pub fn searched(finding: &Finding<'_>) -> String {
    let counts = &finding.counts;
    let brief = finding.brief();
    let many = |n: u64| count(n as usize, "combination", "combinations");
    let mut out = format!(
        "{} of {} outer, {} felts, {} inner and their gaps{}. {} beyond a limit on mass or thickness, \
         both known beforehand;{} the other {} exposed one and all, none left out for its mass, at {} % \
         error. {} above every margin by more than the numerical error.",
        many(counts.n_seen),
        brief.outer.len(),
        brief.felts.len(),
        brief.inner.len(),
        if brief.is_quilted() { " and quilting" } else { "" },
        counts.n_beyond,
        unstitchable(counts),
        counts.n_exposed(),
        PERCENT.short(finding.error_goal, 3),
        counts.n_keeping,
    );
    out.push_str(&sieved(finding));
    if brief.is_quilted() {
        out.push_str(
            " A quilted layup is read as the one disc behind the whole cell, its stitch lines and its \
             loft together; single places let more through.",
        );
    }
    if brief.bands.is_anchored() {
        out.push_str(
            " Margins are those of the anchored figures: the model's times the ratio that own tests of \
             layups like them showed.",
        );
    }
    if brief.wants_odds() {
        out.push_str(&format!(
            " Odds were drawn in the order of the shortlist, {} each, until it was full; a layup was \
             given up only when the sets that it may lose were lost, and passed over only for a \
             better one of the same plies: the shortlist is that of odds drawn for all.",
            count(brief.n_sets, "set", "sets")
        ));
    }
    if counts.n_unknown > 0 {
        out.push_str(&format!(
            " {} left a figure unsettled and stand nowhere below.",
            counts.n_unknown
        ));
    }
    if let Some(first) = counts.first_stopped {
        out.push_str(&format!(
            " The solver gave up on {} (the first is number {first}): they stand nowhere below.",
            counts.n_stopped
        ));
    }
    out
}

/// How many were left at the coarsest mesh, and what that may have lost.
fn sieved(finding: &Finding<'_>) -> String {
    let Sieve { n_left, n_checked, off, bound } = finding.sieve;
    if n_left == 0 {
        return String::new();
    }
    let percent = |share: f64| PERCENT.significant(share, 2);
    format!(
        " {} were settled on finer meshes. The other {n_left}, on the coarsest, lie too far from margins, \
         frontier and shortlist to matter unless that mesh is more than {} % off. In those settled it was \
         at most {} % off; {n_checked} of them were chosen without a look at what they read, so that at most \
         {} % of all (95 %) may be farther off, and be missed.",
        finding.counts.n_exposed() - n_left,
        percent(bound),
        percent(off),
        percent(finding.sieve.missed_most()),
    )
}

fn unstitchable(counts: &Counts) -> String {
    match counts.n_unstitchable {
        0 => String::new(),
        n => format!(
            " {n} not to be stitched so, as nothing but fibre would be left or no air taken in;"
        ),
    }
}

fn frontier(finding: &Finding<'_>) -> String {
    if finding.frontier.is_empty() {
        return paragraph("No combination keeps to the limits and has known figures.", 2);
    }
    let shown = columns::frontier(finding);
    let mut out = table(&columns::layups(finding), shown.iter().take(ROWS_MOST));
    let n_more = finding.frontier.len().saturating_sub(ROWS_MOST);
    if n_more > 0 {
        out.push_str(&paragraph(&format!("{n_more} more stand in --csv and --json."), 2));
    }
    out.push_str(&paragraph(
        "spare: the figure above what is wanted. closed: thickness once the gaps are closed until the \
         margin is just kept; the plies stay. ± is the numerical error alone; fabric data and model \
         weigh more. Whether a ply has gone past its limit before the figure is not looked at here: \
         `expose` tells.",
        2,
    ));
    out
}

fn shortlist(finding: &Finding<'_>) -> String {
    if finding.shortlist.is_empty() {
        return paragraph(&nothing(finding.brief()), 2);
    }
    let mut out = String::new();
    for (i, choice) in finding.shortlist.iter().enumerate() {
        out.push_str(&entry(finding, i, choice));
    }
    out.push_str(&paragraph(&shortlist_note(finding.brief()), 2));
    for sentence in shortlist_rules(finding) {
        out.push_str(&paragraph(&sentence, 2));
    }
    out
}

/// What the calls of the shortlist ask and rest on.
pub fn shortlist_rules(finding: &Finding<'_>) -> Vec<String> {
    let verdicts: Vec<Verdict> = finding
        .shortlist
        .iter()
        .map(|choice| &choice.point)
        .flat_map(|point| say::verdicts(finding.space, point.closed_candidate(), point.closed()))
        .collect();
    verdict::rules(verdicts.iter().map(|verdict| &verdict.rule))
}

/// What an empty shortlist says.
pub fn nothing(brief: &Brief) -> String {
    let (odds, less) = match brief.wants_odds() {
        true => (" and reaches the odds", ", or ask for less margin or lower odds"),
        false => ("", ", or ask for less margin"),
    };
    format!(
        "No combination is above every margin by more than its numerical error{odds}. Widen the \
         limits, the gaps or the choice of fabrics{less}."
    )
}

/// What is to be known of the shortlist.
pub fn shortlist_note(brief: &Brief) -> String {
    let kept = match (brief.is_quilted(), brief.wants_odds()) {
        (false, false) => "gaps closed until the margin is just kept",
        (true, false) => "gaps and loft closed until the margin is just kept",
        (false, true) => "gaps closed until margin and odds are just kept",
        (true, true) => "gaps and loft closed until margin and odds are just kept",
    };
    let mut out = format!(
        "One layup a set of plies, {kept}. Against the target itself a figure is called by how far \
         measured layers lay from the prediction."
    );
    if brief.n_sets > 0 {
        out.push_str(&format!(
            " Odds: {} of specimens drawn from the tolerances of fabrics, gaps and bench and from the \
             same factors, as `stillair odds` draws them; in brackets what so many sets leave open, 95 %.",
            count(brief.n_sets, "set", "sets")
        ));
    }
    if brief.n_sets > 0 && brief.is_quilted() {
        out.push_str(
            " The loft is scattered like a gap, pitch and stitch width are held, pressed plies stay \
             the same share of the loose ones.",
        );
    }
    out
}

fn entry(finding: &Finding<'_>, i: usize, choice: &Choice) -> String {
    let brief = finding.brief();
    let point = &choice.point;
    let closed = point.closed();
    let head = format!("{:>2}  ", i + 1);
    let stack = say::stack(finding.space, point.closed_candidate());
    let mut out = hanging(&head, &stack, 2);
    let size = format!(
        "{} g/m², {} mm",
        GRAMS_PER_AREA.fixed(closed.areal_density, 0),
        MILLIMETRES.fixed(closed.thickness, 2)
    );
    out.push_str(&paragraph(&size, 6));
    let verdicts = say::verdicts(finding.space, point.closed_candidate(), closed);
    for (verdict, wanted) in verdicts.iter().zip(&brief.wanted) {
        let reading = &verdict.found;
        let margin = verdict.margin_or_least();
        out.push_str(&paragraph(
            &format!(
                "{} {}, margin {} %: {} {}, needs {}",
                say::name(wanted),
                say::value(reading, wanted),
                margin.map_or("–".to_owned(), say::spare),
                verdict.call.as_ref().map_or("not judged against", |call| call.words()),
                wanted.target.name,
                verdict::needs(&verdict.rule)
            ),
            6,
        ));
    }
    for sentence in sentences(&say::told(&verdicts, "")) {
        out.push_str(&paragraph(&sentence, 6));
    }
    for (chance, wanted) in choice.odds.iter().zip(&brief.wanted) {
        out.push_str(&paragraph(&say::odds(chance, wanted), 6));
    }
    out.push_str(&hanging("binds: ", &list(&binds(choice, brief)), 6));
    out.push_str(&hanging("more:  ", &more(choice, brief), 6));
    out
}

/// What holds a layup of the shortlist where it is.
pub fn binds(choice: &Choice, brief: &Brief) -> Vec<String> {
    let closed = choice.point.closed();
    let binding = &brief.wanted[closed.binding].target.name;
    let first = format!("{binding} ({} % to spare)", say::spare(closed.spare));
    std::iter::once(first).chain(choice.bounds.iter().map(say::bound)).collect()
}

/// What more of the cost buys.
pub fn more(choice: &Choice, brief: &Brief) -> String {
    let Some(next) = &choice.next else {
        return "nothing: the frontier ends here".to_owned();
    };
    let wanted = &brief.wanted[next.target];
    let thing = match brief.minimise {
        Minimise::Mass => "gram",
        Minimise::Thickness => "millimetre",
    };
    let cost = say::cost(brief.minimise);
    format!(
        "the next {thing} buys {} {} of {}, over the next {} {} of the frontier",
        fixed(say::rate(next, brief), 3),
        say::per(wanted, brief.minimise),
        say::name(wanted),
        short(cost.outside(next.more), 2),
        cost.unit,
    )
}
