//! What the disc reads and what skin suffers, each time beside its numerical error.

use crate::bench::figure::{Found, figure_name, shown, t_valid};
use crate::bench::outcome::{
    Column as Curve, ColumnKind, DiscFigures, Figures, Run, SkinFigures, Spot, Valued, When,
};
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::physics::units::{
    BARE, CALORIES_PER_AREA, CELSIUS, KILOJOULES_PER_AREA, KILOWATTS_PER_AREA, SECONDS,
};
use crate::report::form::column::Column;
use crate::report::form::rows::{lines, object};
use crate::report::form::value::{Digits, Object};
use crate::report::number::{Shown, short, significant, with_error};
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
            let [low, high] = [low, high].map(|x| significant(unit.outside(*x), 3));
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

/// The figures of a run, one row each.
pub fn rows(run: &Run, exposure: &Exposure) -> Vec<Row> {
    rows_of(run, exposure, Length::Full)
}

/// The figures of a run in text.
pub fn section(run: &Run, exposure: &Exposure, length: Length) -> String {
    let aligns = [Align::Left, Align::Left, Align::Right, Align::Left, Align::Left];
    let mut table = Table::new(&aligns);
    rows_of(run, exposure, length).into_iter().for_each(|row| table.row(row));
    table.render()
}

fn rows_of(run: &Run, exposure: &Exposure, length: Length) -> Vec<Row> {
    let t_valid = t_valid(&run.plies);
    match &run.figures {
        Figures::Disc(figures) => {
            lines(&disc(before(exposure), |of| figure_name(of, exposure), t_valid), figures)
        }
        Figures::Skin(figures) => lines(&skin(run, figures, length), figures),
    }
}

/// The figures of a run as a record.
pub fn record(run: &Run, exposure: &Exposure) -> Object {
    match &run.figures {
        Figures::Disc(figures) => disc_record(figures, before(exposure)),
        Figures::Skin(figures) => object(&skin(run, figures, Length::Full), figures),
    }
}

/// What the disc reads as a record.
///
/// - `before`: what stands before the keys of times; "R" under radiant heat
pub fn disc_record(figures: &DiscFigures, before: &str) -> Object {
    object(&disc(before, |_| "", None), figures)
}

/// What stands before the keys of times.
pub(crate) fn before(exposure: &Exposure) -> &'static str {
    if exposure.is_radiant() { "R" } else { "" }
}

/// Keys of the times to 12 K and 24 K and of that between them.
///
/// - `before`: what stands before them
pub(crate) fn time_keys(before: &str) -> [String; 3] {
    let [hti12, hti24] = ["HTI12", "HTI24"].map(|key| format!("{before}{key}"));
    let between = format!("{hti24}_less_{hti12}");
    [hti12, hti24, between]
}

/// Says that a time lies beyond the model's validity.
fn beyond(t: Option<f64>, t_valid: Option<f64>) -> &'static str {
    let is_beyond = t.zip(t_valid).is_some_and(|(t, limit)| t > limit);
    if is_beyond { BEYOND_MARK } else { "" }
}

/// What the disc reads.
///
/// - `before`: what stands before the keys of times; "R" under radiant heat, which has figures of its own
/// - `named`: names of the figures in text
fn disc<'a>(
    before: &str,
    named: impl Fn(Figure) -> &'static str,
    t_valid: Option<f64>,
) -> Vec<Column<'a, DiscFigures>> {
    let time = |key: &str, figure, what: &str, of: fn(&DiscFigures) -> When| {
        let time = Column::new(key, SECONDS, of).headed(named(figure)).under(what);
        time.marked(move |disc| beyond(of(disc).t(), t_valid))
    };
    let [hti12, hti24, between] = time_keys(before);
    let calories = move |disc: &DiscFigures| {
        let mark = beyond(disc.stoll.t(), t_valid);
        let tpp = disc.tpp.map_or(0.0, |tpp| tpp.value);
        format!("{} cal/cm² {mark}", CALORIES_PER_AREA.significant(tpp, 3))
    };
    let mut all = vec![
        time(&hti12, Figure::Rise12, "disc 12 K warmer", |disc| disc.rise12),
        time(&hti24, Figure::Rise24, "disc 24 K warmer", |disc| disc.rise24),
        Column::new(between, SECONDS, |disc: &DiscFigures| disc.rise24_less_12)
            .headed(named(Figure::Rise24Less12))
            .under("time between")
            .marked(move |disc| beyond(disc.rise24.t(), t_valid)),
        time("stoll", Figure::Stoll, "second-degree burn", |disc| disc.stoll),
        Column::new("TPP", KILOJOULES_PER_AREA, |disc: &DiscFigures| disc.tpp)
            .headed(named(Figure::Tpp))
            .under("heat to Stoll")
            .marked(calories),
        Column::new("TPP", CALORIES_PER_AREA, |disc: &DiscFigures| disc.tpp),
    ];
    if !before.is_empty() {
        all.extend([
            Column::new("Qc", KILOWATTS_PER_AREA, |disc: &DiscFigures| disc.flux_mean_12_24)
                .headed("Qc")
                .under("mean flux into the disc")
                .digits(Digits::Fixed(2)),
            Column::new("transmission_factor", BARE, |disc: &DiscFigures| disc.transmission_factor)
                .headed("TF(Q0)")
                .under("transmission factor")
                .digits(Digits::Fixed(3)),
        ]);
    }
    all.into_iter().map(Column::or_null).collect()
}

/// How much is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Length {
    /// What answers the question.
    Brief,
    /// All that is known.
    Full,
}

/// What skin suffers; in brief text without the 44 °C that damage begins at, and without a burn integral that
/// a degree tells already.
fn skin<'a>(run: &Run, figures: &SkinFigures, length: Length) -> Vec<Column<'a, SkinFigures>> {
    let t_valid = t_valid(&run.plies);
    let time = |key: &str, of: fn(&SkinFigures) -> When| {
        Column::new(key, SECONDS, of).marked(move |skin| beyond(of(skin).t(), t_valid))
    };
    let risen = if still_rises(run) { "rising at" } else { "at" };
    let peak = move |skin: &SkinFigures| {
        let mark = beyond(Some(skin.t_basal_peak), t_valid);
        format!("{risen} {} s {mark}", short(skin.t_basal_peak, 1))
    };
    let omega = |key: &str, place: &str, degree: When, of: fn(&SkinFigures) -> Valued| {
        let column = Column::new(key, BARE, of);
        if length == Length::Brief && degree.t().is_some() {
            return column;
        }
        let column = column.headed("Ω at the end").under(place);
        // far beyond 1 the burn integral only says "far beyond"
        match of(figures).value > OMEGA_SHOWN_TO {
            true => column.written(|_| format!("over {OMEGA_SHOWN_TO}")),
            false => column,
        }
    };
    let warm = time("basal_44_C", |skin| skin.basal_44);
    vec![
        Column::new("skin", BARE, |skin: &SkinFigures| skin.skin.clone()),
        if length == Length::Full { warm.headed("44 °C").under("basal layer") } else { warm },
        time("first_degree", |skin| skin.first_degree)
            .headed("first degree")
            .under("Ω 0.53, basal"),
        time("second_degree", |skin| skin.second_degree)
            .headed("second degree")
            .under("Ω 1, basal"),
        time("third_degree", |skin| skin.third_degree)
            .headed("third degree")
            .under("Ω 1, dermis base"),
        Column::new("basal_peak_temperature", CELSIUS, |skin: &SkinFigures| skin.temp_basal_peak)
            .headed("hottest")
            .under("basal layer")
            .marked(peak),
        Column::new("basal_peak_time", SECONDS, |skin: &SkinFigures| skin.t_basal_peak),
        omega("omega_basal", "basal layer", figures.second_degree, |skin| skin.omega_basal),
        omega("omega_dermal", "dermis base", figures.third_degree, |skin| skin.omega_dermal),
    ]
}

/// Whether the basal layer is hottest when the run is left: then its peak is none.
fn still_rises(run: &Run) -> bool {
    let is_basal = |c: &&Curve| c.spot == Spot::BasalLayer && c.kind == ColumnKind::Temperature;
    let column = run.curves.columns.iter().find(is_basal);
    column.is_some_and(|column| match column.values.as_slice() {
        [.., before, last] => last > before,
        _ => false,
    })
}
