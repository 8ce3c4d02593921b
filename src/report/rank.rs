//! Layups side by side: order, table and CSV.

use crate::bench::figure::{Found, Verdict, figure_name, filed, of_outcome, shown};
use crate::bench::lies::Stack;
use crate::bench::outcome::{ColumnKind, Outcome, Valued, When};
use crate::garment::band::{Bands, Factors};
use crate::garment::exposure::Exposure;
use crate::garment::suit::{sewn_density, thread_density};
use crate::garment::target::{Figure, Target};
use crate::report::anchored::{self, Told};
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::exposure;
use crate::report::figures::{BEYOND_MARK, cell};
use crate::report::lies;
use crate::report::number::fixed;
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice, own_tests};
use crate::report::verdict::{self, answer, rules};
use crate::report::words::when_with_error;

/// What a ranking is ordered by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// A figure, longest first; what was not reached comes before.
    Figure(Figure),
    /// Mass of plies and quilting thread, lightest first.
    Mass,
    /// Thickness with the gaps, thinnest first.
    Thickness,
}

impl By {
    /// The figure shown: the one ordered by, or the 24 K time.
    pub fn figure(self) -> Figure {
        match self {
            By::Figure(figure) => figure,
            By::Mass | By::Thickness => Figure::Rise24,
        }
    }
}

/// Which layup the differences are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Versus {
    /// The first one named.
    First,
    /// The one that the order puts first.
    Best,
}

/// One layup in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed<'a> {
    /// Its outcome.
    pub outcome: &'a Outcome,
    /// What is known of the figure.
    pub found: Found,
    /// What own tests make of the figure; none where no tests were asked.
    pub told: Option<Told>,
    /// Figure, anchored where tests were asked, less that of the layup counted from, SI; none where
    /// either is not known.
    pub gain: Option<f64>,
    /// Mass of plies and quilting thread less that of the layup counted from [kg/m²].
    pub added: f64,
    /// Whether it is the one counted from.
    pub is_base: bool,
    /// The exposure before its duration was changed, for the targets.
    pub as_given: &'a Exposure,
    /// How far the bench may lie from a prediction.
    pub bands: &'a Bands,
}

impl Placed<'_> {
    /// The figure with its error, SI.
    pub fn valued(&self) -> Option<Valued> {
        self.found.valued()
    }

    /// The figure, anchored where tests were asked, SI.
    pub fn likeliest(&self) -> Option<f64> {
        self.valued().map(|valued| factor(self.told.as_ref()) * valued.value)
    }

    /// Figure over the mass of plies and quilting thread [SI of the figure per kg/m²].
    pub fn per_mass(&self) -> Option<f64> {
        self.likeliest().map(|value| value / sewn_density(&self.outcome.layup))
    }
}

/// The layups of one exposure in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranking<'a> {
    /// What they are ordered by.
    pub by: By,
    /// The layups, first place first.
    pub placed: Vec<Placed<'a>>,
}

fn factor(told: Option<&Told>) -> f64 {
    told.map_or(1.0, |told| told.band.factor())
}

/// What own tests make of a figure of an outcome; none where no tests were asked.
fn told(outcome: &Outcome, figure: Figure, bands: &Bands) -> Option<Told> {
    if !bands.is_anchored() {
        return None;
    }
    let (layup, exposure) = (outcome.computed(), &outcome.exposure);
    let found = (figure, of_outcome(outcome, figure));
    let band = bands.of(&layup, figure, exposure);
    Told::new(&layup.name, figure_name(figure, exposure), found, &band)
}

/// Orders the outcomes of one exposure, by anchored figures where own tests are asked; equal ones keep
/// the order given.
///
/// - `as_given`: the exposure before its duration was changed for these outcomes
/// - `bands`: how far the bench may lie from a prediction
pub fn ranking<'a>(
    outcomes: &'a [Outcome],
    by: By,
    versus: Versus,
    (as_given, bands): (&'a Exposure, &'a Bands),
) -> Ranking<'a> {
    let figure = by.figure();
    let mut all_told: Vec<Option<Told>> =
        outcomes.iter().map(|outcome| told(outcome, figure, bands)).collect();
    let mut order: Vec<usize> = (0..outcomes.len()).collect();
    let key = |i: &usize| -> f64 {
        let layup = &outcomes[*i].layup;
        match by {
            By::Mass => sewn_density(layup),
            By::Thickness => layup.thickness(),
            By::Figure(of) => match of_outcome(&outcomes[*i], of) {
                Found::Value { valued, .. } => -factor(all_told[*i].as_ref()) * valued.value,
                Found::AtLeast { .. } => f64::NEG_INFINITY,
                Found::Unsettled { .. } | Found::NotAsked => f64::INFINITY,
            },
        }
    };
    order.sort_by(|a, b| key(a).total_cmp(&key(b)));
    let base = match versus {
        Versus::First => 0,
        Versus::Best => order.first().copied().unwrap_or(0),
    };
    let value = |i: usize| {
        let valued = of_outcome(&outcomes[i], figure).valued()?;
        Some(factor(all_told[i].as_ref()) * valued.value)
    };
    let values: Vec<Option<f64>> = (0..outcomes.len()).map(value).collect();
    let mass = |i: usize| sewn_density(&outcomes[i].layup);
    let placed = order.into_iter().map(|i| Placed {
        outcome: &outcomes[i],
        found: of_outcome(&outcomes[i], figure),
        told: all_told[i].take(),
        gain: values[i].zip(values[base]).map(|(one, other)| one - other),
        added: mass(i) - mass(base),
        is_base: i == base,
        as_given,
        bands,
    });
    Ranking { by, placed: placed.collect() }
}

/// The rankings of one or more exposures in text.
pub fn rank_text(rankings: &[Ranking<'_>], targets: &[&Target]) -> String {
    let all = rankings.iter().flat_map(|ranking| &ranking.placed);
    let mut out = lies::first_line(all.map(|placed| placed.outcome.lies.stack()));
    for ranking in rankings {
        let Some(first) = ranking.placed.first() else { continue };
        let exposure = &first.outcome.exposure;
        out.push_str(&heading(&format!("Side by side: {}", exposure.name)));
        out.push_str(&paragraph(&exposure::sentence(exposure), 2));
        out.push_str(&paragraph(&order_words(ranking), 2));
        out.push('\n');
        out.push_str(&table(ranking));
        places_of_skin(ranking).iter().for_each(|line| out.push_str(&paragraph(line, 2)));
        out.push_str(&paragraph(&remark(ranking), 2));
        own_tests(&mut out, &all_told(ranking));
        if !targets.is_empty() {
            out.push('\n');
            out.push_str(&heading("Against the targets"));
            out.push_str(&against(ranking, targets));
        }
        out.push('\n');
    }
    out.push_str(&notice());
    out
}

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

fn table(ranking: &Ranking<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Right, Left, Right, Left, Right, Right, Right, Right, Right]);
    let figure = ranking.by.figure();
    let (unit, scale) = (shown(figure).unit, shown(figure).outside(1.0));
    let name = ranking.placed.first().map_or("", |p| figure_name(figure, &p.outcome.exposure));
    let name = if figure == Figure::SecondDegree { "2nd degree" } else { name };
    let per = format!("{unit} per");
    table.row(["", "", name, "", "mass", "thick", "more", "more", &per]);
    table.row(["", "layup", unit, "", "g/m²", "mm", unit, "g/m²", "100 g/m²"]);
    for (i, placed) in ranking.placed.iter().enumerate() {
        let layup = &placed.outcome.layup;
        let (value, mark) = cell(&placed.found, figure);
        let sign = |text: String| {
            if text.starts_with('-') || text == "0" || text == "0.00" {
                text
            } else {
                format!("+{text}")
            }
        };
        let more = match placed.gain {
            _ if placed.is_base => "base".to_string(),
            Some(gain) => sign(fixed(scale * gain, 2)),
            None => "–".to_string(),
        };
        let grams =
            if placed.is_base { "base".to_string() } else { sign(fixed(1e3 * placed.added, 0)) };
        table.row([
            (i + 1).to_string(),
            format!("{}{}", layup.name, lies::after_name(placed.outcome.lies.stack())),
            value,
            mark.to_string(),
            fixed(1e3 * sewn_density(layup), 0),
            fixed(1e3 * layup.thickness(), 2),
            more,
            grams,
            placed.per_mass().map_or("–".to_string(), |per| fixed(0.1 * scale * per, 2)),
        ]);
    }
    table.render()
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
    let ends = |placed: &Placed<'_>| {
        let valued = placed.valued()?;
        let Outcome { layup, exposure, .. } = placed.outcome;
        let own = placed.told.as_ref().map(|told| told.band.factors);
        let of_class = || placed.bands.of(layup, ranking.by.figure(), exposure).factors;
        let Factors { lower, upper } = own.unwrap_or_else(of_class);
        Some((lower * (valued.value - valued.error), upper * (valued.value + valued.error)))
    };
    let ends: Vec<Option<(f64, f64)>> = ranking.placed.iter().map(ends).collect();
    let close = ends.windows(2).filter(|pair| match pair {
        [Some(one), Some(other)] => one.0 < other.1 && other.0 < one.1,
        _ => false,
    });
    let n = close.count();
    if n > 0 {
        out.push_str(&format!(
            " {n} of {} neighbours lie closer together than the bench may lie from a prediction: their \
             order is too close to call for real fabric.",
            ranking.placed.len() - 1,
        ));
    }
    out
}

/// Verdicts of one layup on every target.
pub(crate) fn verdicts(placed: &Placed<'_>, targets: &[&Target]) -> Vec<Verdict> {
    let call =
        |target: &&Target| verdict::call(placed.outcome, target, placed.as_given, placed.bands);
    targets.iter().map(call).collect()
}

fn against(ranking: &Ranking<'_>, targets: &[&Target]) -> String {
    use Align::Left;
    let mut table = Table::new(&[Left, Left, Left, Left]);
    let mut asked = Vec::new();
    for target in targets {
        for (i, placed) in ranking.placed.iter().enumerate() {
            let call = verdict::call(placed.outcome, target, placed.as_given, placed.bands);
            let head = match i {
                0 => [target.name.clone(), verdict::asks(&call.rule)],
                _ => [String::new(), String::new()],
            };
            let [target, asks] = head;
            let layup = placed.outcome.layup.name.clone();
            table.row([target, asks, layup, verdict::in_short(&call)]);
            asked.push(call.rule);
        }
    }
    let mut out = table.render();
    rules(asked.iter()).iter().for_each(|sentence| out.push_str(&paragraph(sentence, 2)));
    out
}

/// The disc's rise over time of every layup and exposure as CSV, one row a time.
///
/// Errors: a value that is not a finite number.
pub fn rank_curves_csv(rankings: &[Ranking<'_>]) -> Result<String, CurvesError> {
    let mut columns = Columns::new(["exposure", "layup", "time_s", "temperature_rise_C"]);
    for placed in rankings.iter().flat_map(|ranking| &ranking.placed) {
        let outcome = placed.outcome;
        let curves = outcome.disc.iter().map(|run| &run.curves);
        let rises = curves.flat_map(|curves| {
            let rise = curves.columns.iter().find(|column| column.kind == ColumnKind::Rise);
            curves.t.iter().zip(rise.into_iter().flat_map(|column| &column.values))
        });
        for (t, rise) in rises {
            columns.rows.push(vec![
                Cell::word(&outcome.exposure.name),
                Cell::word(&outcome.layup.name),
                Cell::Number(*t),
                Cell::Number(*rise),
            ]);
        }
    }
    columns.csv()
}

/// The rankings as CSV, one row a layup and exposure.
///
/// Errors: a value that is not a finite number.
pub fn rank_csv(rankings: &[Ranking<'_>], targets: &[&Target]) -> Result<String, CurvesError> {
    let figure = rankings.first().map_or(Figure::Rise24, |ranking| ranking.by.figure());
    let (unit, scale) = (filed(figure).suffix, filed(figure).outside(1.0));
    let mut headers: Vec<String> =
        ["exposure", "place", "layup", "computed", "figure"].map(String::from).to_vec();
    headers.extend(["value", "error", "more"].map(|word| format!("{word}_{unit}")));
    headers.extend(
        ["areal_density_g_m2", "more_g_m2", "thickness_mm", "beyond_limit"].map(String::from),
    );
    headers.extend(targets.iter().map(|target| format!("against {}", target.name)));
    let is_anchored = rankings.iter().any(|ranking| !all_told(ranking).is_empty());
    if is_anchored {
        headers.extend(anchored::heads(unit));
    }
    let mut columns = Columns::new(headers);
    for ranking in rankings {
        for (i, placed) in ranking.placed.iter().enumerate() {
            let layup = &placed.outcome.layup;
            let mut row = vec![
                Cell::word(&placed.outcome.exposure.name),
                Cell::Number((i + 1) as f64),
                Cell::word(&layup.name),
                Cell::word(lies::word(placed.outcome.lies.stack())),
                Cell::word(figure_name(figure, &placed.outcome.exposure)),
            ];
            row.extend(
                placed.valued().map_or([Cell::Blank, Cell::Blank], |v| Cell::valued(&v, scale)),
            );
            row.extend([
                Cell::maybe(placed.gain.map(|gain| scale * gain)),
                Cell::Number(1e3 * sewn_density(layup)),
                Cell::Number(1e3 * placed.added),
                Cell::Number(1e3 * layup.thickness()),
                Cell::word(if placed.found.is_beyond() { "yes" } else { "no" }),
            ]);
            row.extend(verdicts(placed, targets).iter().map(|v| Cell::word(&answer(v))));
            if is_anchored {
                row.extend(anchored::cells(placed.told.as_ref(), filed(figure)));
            }
            columns.rows.push(row);
        }
    }
    columns.csv()
}
