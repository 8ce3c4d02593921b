//! The sentences about a suit that text and pages share.

use crate::bench::figure::{Call, Found, figure_name, shown};
use crate::garment::known::{Known, Provenance};
use crate::garment::suit::{Extent, Panel, Suit};
use crate::physics::units::{CENTIMETRES, GRAMS, KILOPASCALS, PERCENT};
use crate::report::figures::{BEYOND_MARK, cell_marked};
use crate::report::number::{Shown, fixed, short, signed};
use crate::report::suit::rows::{Row, changes};
use crate::report::verdict;
use crate::report::words::{count, list};
use crate::study::answer::Quilts;
use crate::study::saving::Picks;
use crate::study::suit_judged::{Judged, Judgement, Saving, Spot};

/// The body, its surface by the rule, and the size.
pub fn body(judged: &Judged<'_>) -> String {
    let suit = &judged.study.suit;
    let body = &suit.body;
    let mut out = format!(
        "Drawn for a body of {} kg and {} cm ({}): {} m² of skin by the formula of Du Bois and Du \
         Bois (1916), 0.007184 W^0.425 H^0.725.",
        short(body.mass.value, 1),
        CENTIMETRES.short(body.height.value, 1),
        body.mass.provenance,
        fixed(body.surface(), 3),
    );
    if suit.panels.iter().any(|panel| matches!(panel.extent, Extent::Share(_))) {
        out.push_str(&format!(
            " Panels given as a share of the body are {} % larger than the skin under them ({}).",
            PERCENT.short(suit.ease.value, 1),
            origin(&suit.ease)
        ));
    }
    if judged.study.size != 1.0 {
        out.push_str(&format!(
            " Size {}: every panel is that many times as large, the ratio of the bodies' surfaces.",
            fixed(judged.study.size, 3)
        ));
    }
    out
}

/// How a value is known, and its source.
pub fn origin(known: &Known) -> String {
    match &*known.source {
        "" => known.provenance.word().to_string(),
        _ if known.provenance == Provenance::Invented => known.provenance.word().to_string(),
        source => format!("{}: {source}", known.provenance),
    }
}

/// "front", "back", or nothing to add for both.
pub fn where_it_is(panel: &Panel) -> String {
    let pieces = if panel.count == 1 { String::new() } else { format!(", {} pieces", panel.count) };
    format!("{}, {}{pieces}", panel.place.word(), panel.side.word())
}

/// What presses or covers the panel, such as "2 kPa, 12 % embroidery, quilted".
pub fn circumstances(panel: &Panel) -> String {
    let mut parts = Vec::new();
    if panel.layup.quilting.is_some() {
        parts.push("quilted".to_string());
    }
    if let Some(pressure) = panel.pressure {
        parts.push(format!("{} kPa", KILOPASCALS.short(pressure, 2)));
    }
    if let Some(e) = &panel.embroidery {
        parts.push(format!("{} % {}", PERCENT.short(e.share, 1), e.fabric.name));
    }
    if parts.is_empty() { "–".to_string() } else { parts.join(", ") }
}

/// "HTI24 ≥ 12 s".
pub fn asks(panel: &Panel) -> String {
    let name = figure_name(panel.target.figure, &panel.exposure);
    format!("{name} ≥ {}", verdict::threshold(&panel.target))
}

/// The figure with its error and the mark of what lies beyond the model's validity.
pub fn value(judgement: &Judgement, panel: &Panel) -> String {
    found(judgement.verdict.found, panel)
}

/// The same of what is known of a figure.
pub fn found(found: Found, panel: &Panel) -> String {
    cell_marked(&found, panel.target.figure)
}

/// The margin in percent with its sign.
pub fn margin(judgement: &Judgement) -> String {
    let over = if judgement.verdict.margin.is_none() { "over " } else { "" };
    judgement.margin.map_or("–".to_string(), |m| format!("{over}{} %", signed(m)))
}

/// What is to spare in percent with its sign.
pub fn spare(judgement: &Judgement) -> String {
    let over = if judgement.verdict.margin.is_none() { "over " } else { "" };
    judgement.spare.map_or("–".to_string(), |s| format!("{over}{} %", signed(s)))
}

/// What "to spare" says, beneath a table.
pub const SPARE: &str = "To spare: the figure, its numerical error taken off, over what its class of layup \
                         needs predicted to be called above, less 1. The weakest panel has least.";

/// The call in words, or why there is none, where the margin stands beside it.
pub fn call(judgement: &Judgement) -> String {
    match &judgement.verdict.call {
        Ok(call) => call.words().to_string(),
        Err(_) => verdict::in_short(&judgement.verdict),
    }
}

/// The call with its threshold and what it asks.
pub fn answer(judgement: &Judgement) -> String {
    verdict::answer(&judgement.verdict)
}

/// The weakest panel in a sentence.
pub fn weakest(judged: &Judged<'_>) -> String {
    let Some(i) = judged.weakest else {
        return "No panel has a figure that could be held against its target.".to_string();
    };
    let panel = &judged.study.suit.panels[i];
    let own = &judged.panels[i][0];
    let spot = match own.spot {
        Spot::Whole => "",
        Spot::Beside => ", beside its embroidery",
        Spot::Under => ", under its embroidery",
    };
    let pressed = match panel.pressure {
        Some(pressure) => format!(", pressed at {} kPa", KILOPASCALS.short(pressure, 2)),
        None => String::new(),
    };
    let unit = shown(panel.target.figure).unit;
    let asked = verdict::threshold(&panel.target);
    format!(
        "Weakest panel: {}{spot}{pressed}, {} {} {unit} where {} asks for {asked}: margin {}, {}. For {} {} has to be \
         predicted: {} to spare.",
        panel.name,
        figure_name(panel.target.figure, &panel.exposure),
        value(own, panel),
        panel.target.name,
        margin(own),
        call(own),
        own.verdict.rule.band.class.in_words(),
        verdict::needs(&own.verdict.rule),
        spare(own)
    )
}

/// What is left out of the prediction, whatever the panels are.
pub fn remarks(judged: &Judged<'_>) -> Vec<String> {
    let panels = &judged.study.suit.panels;
    let mut out = verdict::rules(judged.panels.iter().map(|panel| &panel[0].verdict.rule));
    out.push(SPARE.to_string());
    out.push("± is the numerical error alone.".to_string());
    let beyond = |j: &Judgement| j.verdict.found.is_beyond();
    if judged.panels.iter().flatten().any(beyond) {
        out.push(format!(
            "{BEYOND_MARK} comes after a ply has gone past its limit, outside the model's validity."
        ));
    }
    if panels.iter().any(|panel| panel.embroidery.is_some()) {
        out.push(
            "An embroidered panel is judged at the weaker of two places, beside and under the \
             embroidery; a bench's disc would average them."
                .to_string(),
        );
    }
    out.extend(quilting(judged).map(str::to_string));
    out.push(
        "Masses are those of the panels' areas: seams, hems, zips, cuffs and labels come on top."
            .to_string(),
    );
    out
}

/// What was computed of quilting.
fn quilting(judged: &Judged<'_>) -> impl Iterator<Item = &'static str> {
    let of_suit = judged.study.suit.panels.iter();
    let quilted: Vec<&Panel> = of_suit.filter(|panel| panel.layup.quilting.is_some()).collect();
    let computed = judged.panels.iter().flatten().any(|one| one.stitched.is_some());
    let pressed = quilted.iter().any(|p| p.pressure.is_some() || p.layup.pressure.is_some());
    let left_out = !quilted.is_empty() && judged.study.quilts == Quilts::LeftOut;
    [
        computed.then_some(
            "A quilted panel's figure is that of one disc behind a whole cell, stitch lines and loft \
             together. Skin has no such average: at a stitch line it burns earlier, and its own time \
             stands beside. Under embroidery a stitch line presses in the same proportion.",
        ),
        (computed && pressed).then_some(
            "Quilted panels under pressure are exposed flat: pressure leaves no loft, and their \
             stitch lines count by their thread alone.",
        ),
        left_out.then_some(
            "Quilting counts by its thread alone, as asked: the flat stack is exposed, without loft \
             and stitch lines.",
        ),
    ]
    .into_iter()
    .flatten()
}

/// How the bill adds for seams and cutting.
pub fn allowance(suit: &Suit) -> String {
    format!(
        "Ordered: the panels' area, {} % more for seams and hems ({}), and {} % more on both for \
         cutting ({}).",
        PERCENT.short(suit.seam.value, 1),
        origin(&suit.seam),
        PERCENT.short(suit.cutting.value, 1),
        origin(&suit.cutting)
    )
}

/// What can be saved, by which way.
pub fn saving(judged: &Judged<'_>, saving: &Saving) -> String {
    let mass = judged.study.mass();
    let n_listed: usize = judged.panels.iter().map(|panel| panel.len() - 1).sum();
    if n_listed == 0 {
        return "No panel lists alternatives.".to_string();
    }
    let bound = match saving.task.kinds_at_most {
        Some(most) => format!(" and {} at most", count(most, "layup", "different layups")),
        None => String::new(),
    };
    let way = |picks: &Picks| format!("{} g", GRAMS.fixed(mass - picks.mass, 0));
    let same = saving.greedy == saving.exact;
    let ways = if same {
        format!("saves {}, and the exact search finds nothing lighter", way(&saving.greedy))
    } else {
        format!(
            "saves {}, the exact search (branch and bound over the layups in use) {}",
            way(&saving.greedy),
            way(&saving.exact)
        )
    };
    let changes = changes(judged, &saving.exact);
    let names: Vec<&str> = changes.iter().map(Row::name).collect();
    let changed = match names.len() {
        0 => "no panel changes".to_string(),
        1 => format!("{} changes", names[0]),
        _ => format!("{} change", list(&names)),
    };
    let weakest = judged.weakest_of(&saving.exact).map_or("–".to_string(), signed);
    format!(
        "With no less to spare than the weakest panel ({} %){bound}: greedy, one largest saving \
         after another, {ways}; {changed}. The suit then weighs {} g, its weakest panel has \
         {weakest} % to spare. {}",
        signed(saving.task.floor),
        GRAMS.fixed(saving.exact.mass, 0),
        too_close(judged, &saving.exact)
    )
}

fn too_close(judged: &Judged<'_>, picks: &Picks) -> &'static str {
    let picked = picks.picks.iter().zip(&judged.panels).map(|(j, panel)| &panel[*j].verdict.call);
    if picked.into_iter().any(|call| *call != Ok(Call::Above)) {
        "Not every panel is called above its target then: keep that as the question for the \
         laboratory."
    } else {
        "A saving eats margin on the panels that change: see theirs in the table."
    }
}
