//! The spread of a figure and the odds of a target in text.

use crate::bench::figure::{Figured, Told};
use crate::bench::lies::Stack;
use crate::garment::target::Judged;
use crate::physics::units::PERCENT;
use crate::report::form::rows::table;
use crate::report::number::{Shown, significant};
use crate::report::odds::columns;
use crate::report::odds::words::{OddsOf, figure_words, share_words};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{closed, heading, own_tests, section};
use crate::report::verdict::{answer, rules, threshold};
use crate::report::{exposure, lies};
use crate::study::odds::result::{Contribution, Odds, Shares, View};
use crate::study::odds::surface::LEFT_MOST;

/// Shares of the variance below this are not listed one by one [–].
const SHARE_SHOWN: f64 = 0.005;

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
    section(&mut out, "What the spread comes from", &contributions(of));
    closed(out)
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
    let unit = of.unit();
    let both = [&of.odds.tolerances, &of.odds.with_model];
    let mut table = Table::new(&[Left, Right, Right]);
    table.row([
        format!("{} [{}]", of.figure(), unit.unit).as_str(),
        "tolerances alone",
        "with the model",
    ]);
    let mut row = |name: &str, value: &dyn Fn(&View) -> String| {
        let [alone, with] = both.map(value);
        table.row([name.to_string(), alone, with]);
    };
    let figured = |figured: Figured| figure_words(figured, unit);
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

fn remark(of: &OddsOf<'_>) -> String {
    let unit = of.unit();
    let mut out = format!(
        "Everything at its value: {} {}, {}. In brackets the 95 % interval that counting so many \
         leaves (Wilson); it says nothing of whether the tolerances are right. What a set shares \
         (fabric data, lot, flux, model) is drawn once for its specimens. The model is a factor on the \
         figure, log-normal. {}",
        figure_words(of.odds.nominal.figured(), unit),
        unit.unit,
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
    let percent = |share: f64| PERCENT.significant(share, 1);
    let error = PERCENT.significant(odds.draw_error(), 2);
    let Some(shortcut) = odds.shortcut else {
        return format!(" Numerical error of a draw: {error} %, each settled on finer meshes.");
    };
    format!(
        " Numerical error of a draw: {error} %. Each is computed on the coarsest mesh, which is {} % off at \
         the values, and corrected by that; by {} draws computed both ways 95 in 100 lie within {} % of what \
         finer meshes settle.",
        percent((1.0 / shortcut.ratio - 1.0).abs()),
        shortcut.n_checked,
        percent(shortcut.off),
    )
}

/// What is drawn of a quilting, and what few points over its cell cost.
fn cell_words(of: &OddsOf<'_>) -> String {
    let unit = of.unit();
    let mut out =
        " Loft is drawn like a gap, pitch and width of stitch lines are held, and stitch lines \
         press the plies to the same share of their thickness."
            .to_string();
    if let Some(off) = of.odds.fewer_points {
        let off = significant(unit.apart(off).abs(), 1);
        out.push_str(&format!(
            " Each draw has {} points over the cell, which is {off} {} off at the values.",
            of.odds.n_points, unit.unit
        ));
    }
    out
}

fn contributions(of: &OddsOf<'_>) -> String {
    let all = &of.odds.contributions;
    let shown: Vec<&Contribution> = all.iter().filter(|one| !is_small(one)).collect();
    let rest = all.len() - shown.len();
    let plies = of.layup.plies().enumerate();
    let plies: Vec<String> = plies.map(|(j, p)| format!("{} {}", j + 1, p.fabric.name)).collect();
    let mut out = paragraph(&format!("Plies from the outside: {}.", plies.join(", ")), 2);
    out.push_str(&table(&columns::contributions(of), shown));
    out.push_str(&paragraph(&legend(of, rest), 2));
    out
}

/// Whether so little comes of an input that it is not listed.
fn is_small(contribution: &Contribution) -> bool {
    contribution.index.is_some_and(|index| index.total.value < SHARE_SHOWN)
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
            PERCENT.short(SHARE_SHOWN, 1)
        ));
    }
    out.push(' ');
    out.push_str(&shares_words(of.odds));
    out
}

/// Where the shares of the variance come from, and how close they are.
fn shares_words(odds: &Odds) -> String {
    let percent = |share: f64| PERCENT.significant(share, 1);
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
            PERCENT.short(LEFT_MOST, 0)
        ),
        Shares::Rows => "The shares bear the 95 % interval of their own counting.".to_string(),
        Shares::None if odds.plan.n_rows > 0 => "Too few rows were run to tell shares.".to_string(),
        Shares::None => format!("Too few sets were drawn to tell shares; {own_design}."),
    }
}
