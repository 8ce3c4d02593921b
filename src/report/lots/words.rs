//! Delivered rolls with their figures: the sentences about them.

use crate::bench::figure::{Found, NoCall, figure_name, shown};
use crate::bench::lies::Stack;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::target::{Figure, Target};
use crate::physics::units::PERCENT;
use crate::report::figures::in_words;
use crate::report::number::{Shown, fixed, looked_at};
use crate::report::verdict::{needs, threshold};
use crate::report::words::{count, list};
use crate::study::lots::{Group, Hold, LIMIT_FACTOR, Lots, N_SETTLED, Rated};

/// What the rolls are of.
#[derive(Debug, Clone, Copy)]
pub struct LotsOf<'a> {
    /// The layup.
    pub layup: &'a Layup,
    /// How it lay.
    pub stack: Stack<'a>,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// The figure.
    pub figure: Figure,
    /// The target, if there is one.
    pub target: Option<&'a Target>,
    /// The result.
    pub lots: &'a Lots,
}

impl LotsOf<'_> {
    /// Name of the figure.
    pub fn name(&self) -> &'static str {
        figure_name(self.figure, self.exposure)
    }

    /// The rule by which rolls are held.
    pub fn rule(&self) -> String {
        let target = self.target.zip(self.lots.against.as_ref());
        let of_target = target.map_or(String::new(), |(target, verdict)| {
            let (asked, needed) = (threshold(target), needs(&verdict.rule));
            format!("not called above the target's {asked}, which needs {needed}, or ")
        });
        format!(
            "A roll is held for testing when its {} is {of_target}more than {} % below that of its \
             reference roll, or outside the limits of its chart.",
            self.name(),
            PERCENT.short(self.lots.drop_most, 2)
        )
    }

    /// How many are held, in a sentence.
    pub fn sentence(&self) -> String {
        let rolls = || self.lots.groups.iter().flat_map(|group| &group.rolls);
        let held: Vec<&str> =
            rolls().filter(|r| !r.holds.is_empty()).map(|r| r.roll.lot.as_str()).collect();
        let n_all = rolls().count();
        let n_open = rolls().filter(|rated| rated.is_open()).count();
        let n = count(n_all, "roll", "rolls");
        if n_all > 1 && self.none_is_above() {
            return self.all_held(&n);
        }
        let held = match held.len() {
            0 if n_open == 0 => {
                return format!("None of {n} is to be held for testing by this rule.");
            }
            0 => String::new(),
            1 => format!("Of {n} one is to be held for testing: {}. ", held[0]),
            more => format!("Of {n} {more} are to be held for testing: {}. ", list(&held)),
        };
        let open = match n_open {
            0 => return held.trim_end().to_string(),
            open if open == n_all => format!("None of {n} is judged"),
            open => format!("Of {n} {open} {} not judged", if open == 1 { "is" } else { "are" }),
        };
        format!("{held}{open}: {}.", self.open_because())
    }

    fn rolls(&self) -> impl Iterator<Item = &Rated> {
        self.lots.groups.iter().flat_map(|group| &group.rolls)
    }

    /// Whether every roll is held for the target's sake: then that tells no roll from another.
    pub fn none_is_above(&self) -> bool {
        self.rolls().all(|rated| rated.holds.iter().any(|hold| hold.is_of_target()))
    }

    /// The lots that are held for what they are beside the others, not for the target's sake.
    pub fn held_beside_target(&self) -> Vec<&str> {
        let own = |rated: &&Rated| rated.holds.iter().any(|hold| !hold.is_of_target());
        self.rolls().filter(own).map(|rated| rated.roll.lot.as_str()).collect()
    }

    fn all_held(&self, n: &str) -> String {
        let beside = match self.held_beside_target() {
            none if none.is_empty() => "Among themselves none stands out.".to_string(),
            own => format!("Beside that {} stands out among the rolls.", list(&own)),
        };
        let target = self.target.map_or("", |target| target.name.as_str());
        let asked = self.target.map_or(String::new(), threshold);
        format!(
            "All {n} are to be held for testing: none is called above {target}'s {asked}. {beside}"
        )
    }

    /// Why rolls are not judged.
    fn open_because(&self) -> String {
        let all = || self.rolls();
        let taken = |rated: &Rated| {
            rated.verdict.as_ref().is_some_and(|v| v.call == Err(NoCall::FlameTakenAway))
        };
        if all().any(taken) {
            return format!(
                "the flame is taken away before {} is settled; leave --for out",
                self.name()
            );
        }
        let missing: Vec<&Rated> = all().filter(|rated| rated.found.valued().is_none()).collect();
        let n = missing.len();
        let ends = missing.iter().filter_map(|rated| match rated.found {
            Found::AtLeast { t_end, .. } => Some(t_end),
            _ => None,
        });
        match ends.reduce(f64::max) {
            Some(t_end) => format!(
                "with {} {} was not reached within {} s, and what was not reached leaves no \
                 difference and no limits; ask for longer with --until",
                count(n, "roll", "rolls"),
                self.name(),
                looked_at(t_end)
            ),
            None => format!(
                "with {} the meshes disagree on {}; look longer with --until",
                count(n, "roll", "rolls"),
                self.name()
            ),
        }
    }

    /// Whether nothing can be said of some roll.
    pub fn is_open(&self) -> bool {
        self.lots.groups.iter().flat_map(|group| &group.rolls).any(Rated::is_open)
    }
}

/// The plies of a group in words: "ply 2 felt-needled-100".
pub fn plies_words(group: &Group) -> String {
    let numbers: Vec<String> = group.plies.iter().map(|j| (j + 1).to_string()).collect();
    let ply = if numbers.len() == 1 { "ply" } else { "plies" };
    let fabric = group.rolls.first().map_or("", |rated| rated.roll.fabric.as_str());
    format!("{ply} {} {fabric}", list(&numbers))
}

/// Why a roll is held, or that it is not judged, in words; "–" for one that is neither.
pub fn hold_words(rated: &Rated) -> String {
    if rated.holds.is_empty() {
        return if rated.judged { "–" } else { "not judged" }.to_string();
    }
    let words = rated.holds.iter().map(|hold| match hold {
        Hold::BelowTarget => "below target",
        Hold::NotAboveTarget => "not above target",
        Hold::BelowReference => "below reference",
        Hold::OutsideLimits => "outside limits",
    });
    words.collect::<Vec<_>>().join(", ")
}

/// What a figure that was reached has to spare over what it needs to be called above [–].
pub(crate) fn spare(rated: &Rated) -> Option<f64> {
    rated.found.valued().and(rated.verdict.as_ref()?.spare)
}

/// A figure without its error: rolls differ by less than fabric data are known to.
pub(crate) fn figure_words(found: Found, figure: Figure) -> String {
    match found.valued() {
        Some(valued) => fixed(shown(figure).outside(valued.value), 2),
        None => in_words(&found, figure),
    }
}

pub(crate) fn chart_words(of: &LotsOf<'_>, group: &Group) -> String {
    let unit = shown(of.figure);
    let Some(limits) = group.limits else {
        return match group.rolls.len() {
            1 => "One roll alone has no control limits.".to_string(),
            _ => format!("No control limits: {} of a roll was not reached.", of.name()),
        };
    };
    let mut out = format!(
        "Individuals chart: centre {}, limits {} and {} {} (centre ∓ {LIMIT_FACTOR} mean moving \
         ranges).",
        fixed(unit.outside(limits.centre), 2),
        fixed(unit.outside(limits.low), 2),
        fixed(unit.outside(limits.high), 2),
        unit.unit
    );
    let n = group.rolls.len();
    if n < N_SETTLED {
        out.push_str(&format!(" From {n} rolls; provisional below {N_SETTLED}."));
    }
    out
}

pub(crate) fn remark(of: &LotsOf<'_>) -> String {
    let mut out = "Each roll takes the place of its plies with its measured mass and thickness, \
                   conductivity and face void following them; all else is as the layup has it. \
                   Differences between rolls are better known than the figure itself: what the \
                   model leaves out is mostly common to them. A roll that is not held is not \
                   thereby shown to be good."
        .to_string();
    if of.target.is_some() {
        out.push_str(
            " To spare: the figure, its numerical error taken off, over what it needs to be called above.",
        );
    }
    if let Stack::Quilted(_) = of.stack {
        out.push_str(
            " Stitch lines press a thicker roll's plies to the same share of their thickness.",
        );
    }
    out
}
