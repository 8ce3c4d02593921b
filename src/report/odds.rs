//! The spread of a figure and the odds of a target, in text and CSV.

use crate::bench::figure::{Figured, Told, Verdict, figure_name, filed, shown};
use crate::bench::lies::Stack;
use crate::garment::band::Factors;
use crate::garment::exposure::Exposure;
use crate::garment::known::Provenance;
use crate::garment::layup::Layup;
use crate::garment::target::Judged;
use crate::garment::target::Target;
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::number::{fixed, short, significant};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice, own_tests};
use crate::report::verdict::{answer, rules, threshold};
use crate::report::{exposure, lies, sensitivity};
use crate::study::odds::indices::{Estimate, Index};
use crate::study::odds::inputs::{Input, Origin, Which};
use crate::study::odds::result::{Contribution, Odds, Shares, View};
use crate::study::odds::spread::Share;
use crate::study::odds::surface::LEFT_MOST;
use crate::study::property::Property;

/// Shares of the variance below this are not listed one by one [–].
const SHARE_SHOWN: f64 = 0.005;

/// What the odds are of.
#[derive(Debug, Clone)]
pub struct OddsOf<'a> {
    /// The layup.
    pub layup: &'a Layup,
    /// How it lay.
    pub stack: Stack<'a>,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// The target.
    pub target: &'a Target,
    /// The figure with everything at its value held against the target.
    pub verdict: Verdict,
    /// The result.
    pub odds: &'a Odds,
}

impl OddsOf<'_> {
    /// Name of the figure.
    pub fn figure(&self) -> &'static str {
        figure_name(self.target.figure, self.exposure)
    }

    /// Unit of the figure, and what turns SI into it.
    pub fn unit(&self) -> (&'static str, f64) {
        let unit = shown(self.target.figure);
        (unit.unit, unit.outside(1.0))
    }

    /// What the model itself adds, in a sentence.
    pub fn model_words(&self) -> String {
        let factors = self.odds.inputs.model;
        if factors == Factors::EXACT {
            return "The model is taken as exact.".to_string();
        }
        format!(
            "The bench at {} to {} of the prediction, 5 % beyond either.",
            fixed(factors.lower, 2),
            short(factors.upper, 2)
        )
    }

    /// The set in words: "all 3 of a set", "the mean of 3".
    pub fn set_words(&self) -> String {
        let n = self.odds.plan.n_specimens;
        match self.odds.judged {
            _ if n == 1 => "the one of a set".to_string(),
            Judged::Lowest => format!("all {n} of a set"),
            Judged::Mean => format!("the mean of {n}"),
        }
    }

    /// The odds in a sentence.
    pub fn sentence(&self) -> String {
        let View { one, set, .. } = &self.odds.with_model;
        format!(
            "With the model in it, one specimen reaches {} with {}, {} with {}.",
            threshold(self.target),
            share_words(one),
            self.set_words(),
            share_words(set)
        )
    }
}

/// "62.1 % (59.1 to 65.0 %)".
pub fn share_words(share: &Share) -> String {
    let percent = |part: f64| fixed(100.0 * part, 1);
    format!("{} % ({} to {} %)", percent(share.value()), percent(share.low), percent(share.high))
}

/// Name of an input: "mass, ply 2".
pub fn input_name(input: &Input) -> String {
    match input.which {
        Which::Mass(j) => format!("mass, ply {}", j + 1),
        Which::Thickness(j) => format!("thickness, ply {}", j + 1),
        Which::Model => "the model itself".to_string(),
        Which::Of(property) => sensitivity::name(property),
    }
}

/// Name of an input with the ply's fabric, for where no list of plies stands beside it.
pub fn input_in_full(input: &Input, layup: &Layup) -> String {
    let fabric = |j: usize| layup.plies().nth(j).map_or("", |ply| ply.fabric.name.as_str());
    match input.which {
        Which::Mass(j) | Which::Thickness(j) | Which::Of(Property::Ply(j, _)) => {
            format!("{} {}", input_name(input), fabric(j))
        }
        Which::Model | Which::Of(_) => input_name(input),
    }
}

/// Where a tolerance comes from, in words.
pub fn origin_word(input: &Input) -> &'static str {
    match input.origin {
        Origin::Own => "own",
        Origin::Provenance(Provenance::Invented) => "invented",
        Origin::Provenance(provenance) => provenance.word(),
        Origin::Method => "method",
        Origin::Model => "cases",
    }
}

/// Everything in text, within 80 columns.
pub fn odds_text(of: &OddsOf<'_>) -> String {
    let mut out = lies::first_line([of.stack]);
    out.push_str(&heading(&format!("Odds: {} against {}", of.layup.name, of.target.name)));
    out.push_str(&lies::paragraph_on(of.stack));
    out.push_str(&paragraph(&exposure::sentence(of.exposure), 2));
    out.push_str(&paragraph(&asked(of), 2));
    out.push_str(&paragraph(&drawn(of), 2));
    out.push('\n');
    out.push_str(&views(of));
    out.push_str(&paragraph(&remark(of), 2));
    for sentence in rules([&of.verdict.rule].into_iter()) {
        out.push_str(&paragraph(&sentence, 2));
    }
    let told = Told::of_verdict("", &of.verdict);
    own_tests(&mut out, told.as_slice());
    out.push('\n');
    out.push_str(&heading("What the spread comes from"));
    out.push_str(&contributions(of));
    out.push('\n');
    out.push_str(&notice());
    out
}

fn asked(of: &OddsOf<'_>) -> String {
    let target = of.target;
    let stated = if target.judged_on.is_none() {
        "; the standard does not state how a set is judged, so the lowest is taken"
    } else {
        ""
    };
    format!(
        "{} asks for {} of at least {}, judged on {}{stated}.",
        target.standard,
        of.figure(),
        threshold(target),
        match of.odds.judged {
            Judged::Lowest => format!("the lowest of {} specimens", of.odds.plan.n_specimens),
            Judged::Mean => format!("the mean of {} specimens", of.odds.plan.n_specimens),
        }
    )
}

fn drawn(of: &OddsOf<'_>) -> String {
    let Odds { n_sets, n_rows, plan, .. } = of.odds;
    let apart =
        if plan.n_rows > 0 { format!("; contributions from {n_rows} rows") } else { String::new() };
    let amount = format!("{n_sets} sets at scrambled Sobol points, seed {}{apart}", plan.seed);
    if of.odds.whole {
        return format!("{amount}.");
    }
    let rows = if plan.n_rows > 0 { format!(" and {} rows", plan.n_rows) } else { String::new() };
    format!(
        "PARTIAL RESULT, stopped before the end: {amount}, of {} sets{rows} planned.",
        plan.n_sets
    )
}

fn views(of: &OddsOf<'_>) -> String {
    use Align::{Left, Right};
    let (unit, scale) = of.unit();
    let both = [&of.odds.tolerances, &of.odds.with_model];
    let mut table = Table::new(&[Left, Right, Right]);
    table.row([format!("{} [{unit}]", of.figure()).as_str(), "tolerances alone", "with the model"]);
    let mut row = |name: &str, value: &dyn Fn(&View) -> String| {
        let [alone, with] = both.map(value);
        table.row([name.to_string(), alone, with]);
    };
    let figured = |figured: Figured| words(figured, scale);
    row("5 % lie below", &|view| figured(view.low));
    row("median", &|view| figured(view.median));
    row("95 % lie below", &|view| figured(view.high));
    row("one specimen reaches", &|view| share_words(&view.one));
    let set = if of.odds.plan.n_specimens == 1 { None } else { Some(of.set_words()) };
    if let Some(set) = set {
        row(&format!("{set} reach{}", plural(of)), &|view| share_words(&view.set));
    }
    table.render()
}

fn plural(of: &OddsOf<'_>) -> &'static str {
    if of.odds.judged == Judged::Mean { "es" } else { "" }
}

fn words(figured: Figured, scale: f64) -> String {
    let value = fixed(scale * figured.value, 2);
    if figured.reached { value } else { format!("over {value}") }
}

fn remark(of: &OddsOf<'_>) -> String {
    let (unit, scale) = of.unit();
    let mut out = format!(
        "Everything at its value: {} {unit}, {}. In brackets the 95 % interval that counting so many \
         leaves (Wilson); it says nothing of whether the tolerances are right. What a set shares \
         (fabric data, lot, flux, model) is drawn once for its specimens. The model is a factor on the \
         figure, log-normal. {}",
        words(of.odds.nominal.figured(), scale),
        answer(&of.verdict),
        of.model_words()
    );
    out.push_str(&numerics_words(of.odds));
    let n_over = of.odds.drawn.iter().filter(|figured| !figured.reached).count();
    if n_over > 0 {
        out.push_str(&format!(
            " {n_over} of {} first specimens did not get there in the time looked at; the time \
             counts as their figure.",
            of.odds.n_sets
        ));
    }
    if of.odds.n_open > 0 {
        out.push_str(&format!(
            " {} sets are left open by that and count as not reaching; look longer with --until.",
            of.odds.n_open
        ));
    }
    if let Stack::Quilted(_) = of.stack {
        out.push_str(&cell_words(of));
    }
    out
}

/// How draws were computed, and how close to their figures.
fn numerics_words(odds: &Odds) -> String {
    let percent = |share: f64| significant(100.0 * share, 1);
    let error = significant(100.0 * odds.draw_error(), 2);
    let Some(shortcut) = odds.shortcut else {
        return format!(" Numerical error of a draw: {error} %, each settled on finer meshes.");
    };
    format!(
        " Numerical error of a draw: {error} %. Each is computed on the coarsest mesh, which is {} % off at \
         the values, and corrected by that; {} draws computed both ways lie within {} % of what finer \
         meshes settle.",
        percent((1.0 / shortcut.ratio - 1.0).abs()),
        shortcut.n_checked,
        percent(shortcut.off),
    )
}

/// What is drawn of a quilting, and what few points over its cell cost.
fn cell_words(of: &OddsOf<'_>) -> String {
    let (unit, scale) = of.unit();
    let mut out =
        " Loft is drawn like a gap, pitch and width of stitch lines are held, and stitch lines \
         press the plies to the same share of their thickness."
            .to_string();
    if let Some(off) = of.odds.fewer_points {
        let off = significant((scale * off).abs(), 1);
        out.push_str(&format!(
            " Each draw has {} points over the cell, which is {off} {unit} off at the values.",
            of.odds.n_points
        ));
    }
    out
}

fn contributions(of: &OddsOf<'_>) -> String {
    use Align::{Left, Right};
    let (unit, scale) = of.unit();
    let name = of.figure();
    let mut table = Table::new(&[Left, Right, Left, Right, Right, Right]);
    table.row(["", "±", "", "alone", "in all", &format!("{name} at 5")]);
    table.row(["input", "%", "from", "%", "%", &format!("and 95 %, {unit}")]);
    let of_rows = of.odds.shares == Shares::Rows;
    let mut rest = 0;
    for contribution in &of.odds.contributions {
        let index = contribution.index;
        if index.is_some_and(|index| index.total.value < SHARE_SHOWN) {
            rest += 1;
            continue;
        }
        let input = &of.odds.inputs.all[contribution.input];
        let share = |of: fn(&Index) -> Estimate| {
            let words = |index| estimate_words(of(index), of_rows);
            index.as_ref().map_or("–".to_string(), words)
        };
        table.row([
            input_name(input),
            short(100.0 * input.of_set.hypot(input.of_specimen), 1),
            origin_word(input).to_string(),
            share(|index| index.first_order),
            share(|index| index.total),
            swing_words(contribution, scale),
        ]);
    }
    let plies = of.layup.plies().enumerate();
    let plies: Vec<String> = plies.map(|(j, p)| format!("{} {}", j + 1, p.fabric.name)).collect();
    let mut out = paragraph(&format!("Plies from the outside: {}.", plies.join(", ")), 2);
    out.push_str(&table.render());
    out.push_str(&paragraph(&legend(of, rest), 2));
    out
}

/// "3.3 ± 0.8"; without ± where one for all is told below.
fn estimate_words(estimate: Estimate, with_error: bool) -> String {
    let (value, error) = (100.0 * estimate.value, 100.0 * estimate.half_width);
    let decimals = usize::from(error < 1.0);
    if !with_error {
        return fixed(value, decimals);
    }
    format!("{} ± {}", fixed(value, decimals), fixed(error.max(0.1), decimals))
}

fn swing_words(contribution: &Contribution, scale: f64) -> String {
    let [low, high] = contribution.swing.map(|figured| words(figured, scale));
    format!("{low} {high}")
}

fn legend(of: &OddsOf<'_>, rest: usize) -> String {
    let mut out = "± is half the central 95 % of the input: lot, specimen and what is not known of it \
         together; an even limit for the flux. Mass moves the thickness that goes with it; thickness \
         is what is left at given mass; conductivity and face void follow both. Alone: share of the variance that goes once this input \
         is known (Sobol, first order). In all: share that stays while only it is unknown (total). \
         Right: the input alone at its 5 % and 95 % quantiles, all else at its value."
        .to_string();
    if rest > 0 {
        out.push_str(&format!(
            " {rest} of {} inputs stay below {} % in all and are left out here.",
            of.odds.inputs.all.len(),
            short(100.0 * SHARE_SHOWN, 1)
        ));
    }
    out.push(' ');
    out.push_str(&shares_words(of.odds));
    out
}

/// Where the shares of the variance come from, and how close they are.
fn shares_words(odds: &Odds) -> String {
    let percent = |share: f64| significant(100.0 * share, 1);
    let own_design = "a design of its own tells shares: --rows 256";
    match odds.shares {
        Shares::Surface { n_terms, left } => format!(
            "The shares are those of a surface of degree 2 through the draws ({n_terms} terms), the model's \
             factor multiplied in. Draws held out of it differ from it by {} % of the variance. With \
             that, and the scatter of the shares with an eighth of the sets held out (jackknife), each \
             share is known within ± {} %.",
            percent(left),
            percent(odds.half_width_most())
        ),
        Shares::Rough { left } => format!(
            "A surface of degree 2 through the draws leaves {} % of the variance, more than the {} % \
             with which shares are told; {own_design}.",
            percent(left),
            short(100.0 * LEFT_MOST, 0)
        ),
        Shares::Rows => "The shares bear the 95 % interval of their own counting.".to_string(),
        Shares::None if odds.plan.n_rows > 0 => "Too few rows were run to tell shares.".to_string(),
        Shares::None => format!("Too few sets were drawn to tell shares; {own_design}."),
    }
}

/// Odds, quantiles and contributions as CSV: one row for each.
///
/// Errors: a value that is not a finite number.
pub fn odds_csv(of: &OddsOf<'_>) -> Result<String, CurvesError> {
    let (unit, scale) = (filed(of.target.figure).suffix, filed(of.target.figure).outside(1.0));
    let mut headers: Vec<String> =
        ["layup", "target", "row", "name", "known_by"].map(String::from).into();
    headers.extend(
        ["of_set_pct", "of_specimen_pct", "value_pct", "low_pct", "high_pct"].map(String::from),
    );
    headers.extend(["total_pct", "total_half_width_pct"].map(String::from));
    headers.extend([format!("value_{unit}"), format!("low_{unit}"), format!("high_{unit}")]);
    headers.extend(["n", "whole"].map(String::from));
    let mut columns = Columns::new(headers);
    let whole = if of.odds.whole { "yes" } else { "no" };
    let mut push = |row: &str, name: &str, known: &str, cells: [Option<f64>; 11]| {
        let mut all = vec![
            Cell::word(&of.layup.name),
            Cell::word(&of.target.name),
            Cell::word(row),
            Cell::word(name),
            Cell::word(known),
        ];
        all.extend(cells.map(Cell::maybe));
        all.push(Cell::word(whole));
        columns.rows.push(all);
    };
    let pct = |share: f64| Some(100.0 * share);
    for (name, view) in [("tolerances", &of.odds.tolerances), ("with_model", &of.odds.with_model)] {
        let n = Some(of.odds.n_sets as f64);
        for (row, share) in [("odds_one", &view.one), ("odds_set", &view.set)] {
            let shares = [pct(share.value()), pct(share.low), pct(share.high)];
            let [value, low, high] = shares;
            let none = None;
            push(row, name, "", [none, none, value, low, high, none, none, none, none, none, n]);
        }
        let at = |figured: Figured| Some(scale * figured.value);
        let [middle, low, high] = [at(view.median), at(view.low), at(view.high)];
        let none = None;
        push("figure", name, "", [none, none, none, none, none, none, none, middle, low, high, n]);
    }
    if let Some(told) = Told::of_verdict("", &of.verdict) {
        let [middle, low, high] =
            told.anchored().map_or([None; 3], |all| all.map(|x| Some(scale * x)));
        let tests = told.anchoring().map_or(String::new(), |a| a.tests.join("; "));
        let none = None;
        let n = told.anchoring().map(|a| a.tests.len() as f64);
        let cells = [none, none, none, none, none, none, none, middle, low, high, n];
        push("anchored", &tests, "own tests", cells);
    }
    for (i, figured) in of.odds.drawn.iter().enumerate() {
        let (name, value) = (format!("set {}", i + 1), Some(scale * figured.value));
        let known = if figured.reached { "" } else { "not reached, a bound" };
        let mut cells = [None; 11];
        cells[7] = value;
        push("drawn", &name, known, cells);
    }
    let n = match of.odds.shares {
        Shares::Surface { .. } => of.odds.n_sets,
        Shares::Rows | Shares::Rough { .. } | Shares::None => of.odds.n_rows,
    };
    for contribution in &of.odds.contributions {
        let input = &of.odds.inputs.all[contribution.input];
        let index = contribution.index;
        let first = index.map(|index| index.first_order);
        let total = index.map(|index| index.total);
        let [low, high] = contribution.swing.map(|figured| Some(scale * figured.value));
        push(
            "input",
            &input_in_full(input, of.layup),
            origin_word(input),
            [
                pct(input.of_set),
                pct(input.of_specimen),
                first.map(|e| 100.0 * e.value),
                first.map(|e| 100.0 * (e.value - e.half_width)),
                first.map(|e| 100.0 * (e.value + e.half_width)),
                total.map(|e| 100.0 * e.value),
                total.map(|e| 100.0 * e.half_width),
                Some(scale * of.odds.nominal.figured().value),
                low,
                high,
                index.map(|_| n as f64),
            ],
        );
    }
    columns.csv()
}
