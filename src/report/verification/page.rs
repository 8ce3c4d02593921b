//! The built-in checks as one page that needs nothing else: no network, no script, no font.

use maud::{Markup, PreEscaped, html};

use crate::NOTICE;
use crate::evidence::measured::{Class, Comparison, Measured};
use crate::evidence::verification::Verification;
use crate::evidence::verify::{Checked, Group};
use crate::report::document::Grid;
use crate::report::document::html::table;
use crate::report::form::rows::grid;
use crate::report::number::significant;
use crate::report::page::page;
use crate::report::verification::columns::{of_summaries, shown};
use crate::report::verification::comparisons::{
    ABLATION_LEAD, ABLATION_TITLE, BANDS_TITLE, DERIVED_LEAD, DERIVED_TITLE, ablation_cells,
    ablation_heads, band_rule, bands, goal, no_fabric, notes, sign_values, sign_word, sources,
};
use crate::report::verification::text;
use crate::report::words::capital;

/// A drawing for the page, by the class that it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The class.
    pub class: Class,
    /// The drawing as SVG, made by the program itself.
    pub svg: String,
}

/// The whole page.
pub fn verification_page(verification: &Verification, drawings: &[Drawing]) -> String {
    let body = html! {
        h1 { "stillair " (env!("CARGO_PKG_VERSION")) ": built-in checks" }
        p.notice { (NOTICE) }
        p { (text::summary(verification)) }
        @for group in Group::ALL { (group_section(group, verification)) }
        @if let Some(measured) = &verification.measured {
            (bands_section(measured))
            (summary_section(measured))
            @for class in Class::ALL {
                (class_section(class, measured, drawings))
                @if class == Class::Interval {
                    (derived_section(measured))
                    (ablation_section(measured))
                }
            }
            (signs_section(measured))
        }
        p.notice { (NOTICE) }
    };
    page("stillair: built-in checks", &body)
}

fn group_section(group: Group, verification: &Verification) -> Markup {
    let checked: Vec<&Checked> =
        verification.checked.iter().filter(|checked| checked.group == group).collect();
    html! {
        @if !checked.is_empty() {
            h2 { "Checks: " (group.describe()) }
            div.wide { table {
                thead { tr {
                    th { "case" } th { "source" } th.n { "expected" } th.n { "computed" }
                    th.n { "difference" } th.n { "bound" } th { "unit" } th { "bound is" }
                } }
                tbody { @for checked in &checked { @for case in &checked.cases {
                    tr {
                        td { (case.name) }
                        td.source { (case.source) }
                        td.n { (significant(case.expected, 6)) }
                        td.n { (significant(case.computed, 6)) }
                        td.n { (significant(case.difference(), 2)) }
                        td.n { (significant(case.bound, 2)) }
                        td { (case.unit) }
                        @if case.is_kept() { td { "kept" } } @else { td.broken { "broken" } }
                    }
                } } }
            } }
        }
    }
}

fn class_section(class: Class, measured: &Measured, drawings: &[Drawing]) -> Markup {
    let found: Vec<_> = measured.comparisons.iter().filter(|c| c.class == class).collect();
    html! {
        h2 { "Measured, " (class.word()) ": " (found.len()) " cases" }
        p { (capital(class.describe())) "." @if class == Class::Complete { " " (no_fabric()) } }
        @for drawing in drawings.iter().filter(|drawing| drawing.class == class) {
            figure { (PreEscaped(&drawing.svg)) }
        }
        (cases(&found, class))
    }
}

fn derived_section(measured: &Measured) -> Markup {
    let found: Vec<_> = measured.derived.iter().collect();
    html! {
        h2 { (DERIVED_TITLE) ": " (found.len()) " figures" }
        p { (DERIVED_LEAD) }
        (cases(&found, Class::Interval))
    }
}

fn ablation_section(measured: &Measured) -> Markup {
    let numbers = ablation_heads().into_iter().map(|head| format!(">{head}"));
    let mut ablations = Grid::new(["case", "figure"].map(str::to_owned).into_iter().chain(numbers));
    for row in &measured.ablations {
        let named = [row.specimen.clone(), row.figure.clone()].into_iter();
        ablations.row(named.chain(ablation_cells(row)));
    }
    html! {
        h2 { (ABLATION_TITLE) }
        p { (ABLATION_LEAD) }
        (table(&ablations))
    }
}

/// Table, notes and sources.
fn cases(found: &[&Comparison], class: Class) -> Markup {
    html! {
        (table(&grid(&shown(class), found)))
        @for note in &notes(found) { p.note { (note) } }
        @for (source, provenance) in sources(found) {
            p.source { "Source: " (source) " (" (provenance) ")" }
        }
    }
}

fn bands_section(measured: &Measured) -> Markup {
    html! {
        h2 { (BANDS_TITLE) }
        (table(&bands(measured)))
        p { (band_rule()) }
    }
}

fn summary_section(measured: &Measured) -> Markup {
    html! {
        h2 { "How far predictions lie from measurements" }
        (table(&grid(&of_summaries(), &measured.summaries())))
        p { (goal(measured)) }
    }
}

fn signs_section(measured: &Measured) -> Markup {
    html! {
        h2 { "Signs: which way published findings say that a change goes" }
        div.wide { table {
            thead { tr { th { "finding" } th { "compared" } th { "values" } th { "sign" } th { "source" } } }
            tbody { @for sign in &measured.signs { tr {
                td { (sign.claim) @if !sign.note.is_empty() { p.note { (sign.note) } } }
                td { (sign.what) }
                td { (sign_values(sign)) }
                td class=(sign_word(sign)) { (sign_word(sign)) }
                td.source { (sign.source) }
            } } }
        } }
    }
}
