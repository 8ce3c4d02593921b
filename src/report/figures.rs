//! What the disc reads and what skin suffers, each time beside its numerical error.

use crate::bench::figure::{Found, figure_name, shown, t_valid};
use crate::bench::outcome::{
    Column, ColumnKind, DiscFigures, Figures, PlyFate, Run, SkinFigures, Spot, Valued, When,
};
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::physics::units::{
    BARE, CALORIES_PER_AREA, CELSIUS, KILOJOULES_PER_AREA, KILOWATTS_PER_AREA, Quantity, SECONDS,
};
use crate::report::number::{self, Shown, fixed, looked_at, short, with_error};
use crate::report::table::{Align, Table};

/// Follows a figure that lies beyond the model's validity; explained by `limits`.
pub const BEYOND_MARK: &str = "†";

/// Larger burn integrals are not spelt out.
const OMEGA_SHOWN_TO: f64 = 100.0;

/// A figure with its error for a cell whose header names the unit, or why there is none; the mark beside
/// it where it lies beyond the model's validity.
pub fn cell(found: &Found, figure: Figure) -> (String, &'static str) {
    let unit = shown(figure);
    match found {
        Found::Value { valued, beyond, .. } => {
            let (value, error) = with_error(unit.outside(valued.value), unit.apart(valued.error));
            (format!("{value} ± {error}"), if *beyond { BEYOND_MARK } else { "" })
        }
        Found::AtLeast { .. } => (over(found, figure), ""),
        Found::Unsettled { .. } => ("unsettled".to_string(), ""),
        Found::NotAsked => ("–".to_string(), ""),
    }
}

/// The same in one cell.
pub fn cell_marked(found: &Found, figure: Figure) -> String {
    let (value, mark) = cell(found, figure);
    value + mark
}

/// A figure in words with its unit, or why there is none.
pub fn in_words(found: &Found, figure: Figure) -> String {
    let unit = shown(figure);
    match found {
        Found::Value { .. } => format!("{} {}", cell(found, figure).0, unit.unit),
        Found::Unsettled { low, high } => {
            let [low, high] = [low, high].map(|x| number::significant(unit.outside(*x), 3));
            format!("unsettled between {low} and {high} {}", unit.unit)
        }
        _ => cell(found, figure).0,
    }
}

/// "over 60 s": what a figure that was not reached is at least.
fn over(found: &Found, figure: Figure) -> String {
    match found.value_or_least() {
        Some(least) if least > 0.0 => {
            let unit = shown(figure);
            format!("over {} {}", short(unit.outside(least), 1), unit.unit)
        }
        _ => "not reached".to_string(),
    }
}

/// One figure: name, what it is, value, ± error with its unit, mark or remark.
pub type Row = [String; 5];

/// Rows of figures.
struct Rows {
    all: Vec<Row>,
    t_valid: Option<f64>,
}

/// The rows as a table.
fn table(rows: Vec<Row>) -> String {
    let aligns = [Align::Left, Align::Left, Align::Right, Align::Left, Align::Left];
    let mut table = Table::new(&aligns);
    rows.into_iter().for_each(|row| table.row(row));
    table.render()
}

/// The figures of a run, one row each.
pub fn rows(run: &Run, exposure: &Exposure) -> Vec<Row> {
    match &run.figures {
        Figures::Disc(disc) => disc_rows(disc, exposure, &run.plies),
        Figures::Skin(skin) => skin_rows(skin, run, Length::Full),
    }
}

impl Rows {
    fn new(plies: &[PlyFate]) -> Rows {
        Rows { all: Vec::new(), t_valid: t_valid(plies) }
    }

    fn row<const N: usize>(&mut self, cells: [&str; N]) {
        self.all.push(std::array::from_fn(|i| cells.get(i).map_or("", |cell| *cell).to_string()));
    }

    fn mark(&self, t: f64) -> &'static str {
        if self.t_valid.is_some_and(|limit| t > limit) { BEYOND_MARK } else { "" }
    }

    fn when(&mut self, [name, what]: [&str; 2], when: &When) {
        match when {
            When::At { t, error } => {
                let mark = self.mark(*t);
                self.value([name, what], Valued { value: *t, error: *error }, SECONDS, mark);
            }
            When::NotWithin { t_end } => {
                let within = format!("within {} s", looked_at(*t_end));
                self.row([name, what, "not reached", &within]);
            }
            When::Unsettled { t } => {
                let text = format!("unsettled near {} s", number::significant(*t, 3));
                self.row([name, what, "?", "", &text]);
            }
        }
    }

    fn value(&mut self, [name, what]: [&str; 2], valued: Valued, unit: Quantity, remark: &str) {
        let (value, error) = with_error(unit.outside(valued.value), unit.apart(valued.error));
        let error = format!("± {error} {}", unit.unit);
        self.row([name, what, &value, &error, remark]);
    }

    /// Far beyond 1 the burn integral only says "far beyond".
    fn omega(&mut self, label: [&str; 2], omega: Valued) {
        if omega.value > OMEGA_SHOWN_TO {
            self.row([label[0], label[1], &format!("over {OMEGA_SHOWN_TO}")]);
        } else {
            self.value(label, omega, BARE, "");
        }
    }
}

/// The copper disc's figures in text.
pub fn disc_section(figures: &DiscFigures, exposure: &Exposure, plies: &[PlyFate]) -> String {
    table(disc_rows(figures, exposure, plies))
}

fn disc_rows(figures: &DiscFigures, exposure: &Exposure, plies: &[PlyFate]) -> Vec<Row> {
    let mut rows = Rows::new(plies);
    let label = |figure, what| [figure_name(figure, exposure), what];
    rows.when(label(Figure::Rise12, "disc 12 K warmer"), &figures.rise12);
    rows.when(label(Figure::Rise24, "disc 24 K warmer"), &figures.rise24);
    if let Some(between) = figures.rise24_less_12 {
        let mark = figures.rise24.t().map_or("", |t| rows.mark(t));
        rows.value(label(Figure::Rise24Less12, "time between"), between, SECONDS, mark);
    }
    rows.when(label(Figure::Stoll, "second-degree burn"), &figures.stoll);
    if let Some(tpp) = figures.tpp {
        let mark = figures.stoll.t().map_or("", |t| rows.mark(t));
        let calories = CALORIES_PER_AREA.significant(tpp.value, 3);
        let remark = format!("{calories} cal/cm² {mark}");
        rows.value(label(Figure::Tpp, "heat to Stoll"), tpp, KILOJOULES_PER_AREA, &remark);
    }
    if exposure.is_radiant() {
        radiant_rows(&mut rows, figures);
    }
    rows.all
}

fn radiant_rows(rows: &mut Rows, figures: &DiscFigures) {
    if let Some(q) = figures.flux_mean_12_24 {
        rows.row(["Qc", "mean flux into the disc", &KILOWATTS_PER_AREA.fixed(q, 2), "kW/m²"]);
    }
    if let Some(share) = figures.transmission_factor {
        rows.row(["TF(Q0)", "transmission factor", &fixed(share, 3)]);
    }
}

/// How much is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Length {
    /// What answers the question.
    Brief,
    /// All that is known.
    Full,
}

/// Skin's figures in text; in brief without the 44 °C that damage begins at, and without a burn integral that
/// a degree tells already.
pub fn skin_section(figures: &SkinFigures, run: &Run, length: Length) -> String {
    table(skin_rows(figures, run, length))
}

fn skin_rows(figures: &SkinFigures, run: &Run, length: Length) -> Vec<Row> {
    let mut rows = Rows::new(&run.plies);
    if length == Length::Full {
        rows.when(["44 °C", "basal layer"], &figures.basal_44);
    }
    rows.when(["first degree", "Ω 0.53, basal"], &figures.first_degree);
    rows.when(["second degree", "Ω 1, basal"], &figures.second_degree);
    rows.when(["third degree", "Ω 1, dermis base"], &figures.third_degree);
    let peak = figures.temp_basal_peak;
    let risen = if still_rises(run) { "rising at" } else { "at" };
    let mark = rows.mark(figures.t_basal_peak);
    let at = format!("{risen} {} s {mark}", short(figures.t_basal_peak, 1));
    rows.value(["hottest", "basal layer"], peak, CELSIUS, &at);
    let omegas = [
        ("basal layer", figures.omega_basal, figures.second_degree),
        ("dermis base", figures.omega_dermal, figures.third_degree),
    ];
    for (place, omega, degree) in omegas {
        if length == Length::Full || degree.t().is_none() {
            rows.omega(["Ω at the end", place], omega);
        }
    }
    rows.all
}

/// Whether the basal layer is hottest when the run is left: then its peak is none.
fn still_rises(run: &Run) -> bool {
    let is_basal = |c: &&Column| c.spot == Spot::BasalLayer && c.kind == ColumnKind::Temperature;
    let column = run.curves.columns.iter().find(is_basal);
    column.is_some_and(|column| match column.values.as_slice() {
        [.., before, last] => last > before,
        _ => false,
    })
}
