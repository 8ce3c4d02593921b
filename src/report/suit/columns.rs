//! The tables of a suit: grams, predictions, stitch lines, savings and the bill of materials, and its CSV.

use crate::bench::figure::{Told, filed};
use crate::bench::outcome::When;
use crate::physics::units::{
    BARE, GRAMS, GRAMS_PER_AREA, KILOJOULES_PER_AREA, KILOPASCALS, PERCENT, SECONDS,
    SECONDS_OR_HEAT, SQUARE_METRES,
};
use crate::report::anchored;
use crate::report::csv::CurvesError;
use crate::report::form::column::{Column, in_order};
use crate::report::form::rows::csv;
use crate::report::form::value::Digits;
use crate::report::number::Shown;
use crate::report::suit::rows::{Row, own_rows, rows};
use crate::report::suit::words;
use crate::report::words::when_short;
use crate::study::bill::{Bill, Cloth};
use crate::study::suit_judged::{Judged, Spot, Stitched};

/// The number of the panel.
fn number<'a>() -> Column<'a, Row<'a>> {
    Column::new("", BARE, |row: &Row| row.number).headed("").on_page("no.").not_in_json()
}

/// What holds for a panel whatever its layup.
pub fn of_panel<'a>() -> Vec<Column<'a, Row<'a>>> {
    vec![
        Column::new("panel", BARE, |row: &Row| row.panel.name.clone()),
        Column::new("place", BARE, |row: &Row| row.panel.place.word()),
        Column::new("side", BARE, |row: &Row| row.panel.side.word()),
        Column::new("count", BARE, |row: &Row| row.panel.count),
        Column::new("area", SQUARE_METRES, |row: &Row| row.studied.area),
        Column::new("pressure", KILOPASCALS, |row: &Row| row.panel.pressure),
        Column::new("target", BARE, |row: &Row| row.panel.target.name.clone()),
        Column::new("exposure", BARE, |row: &Row| row.panel.exposure.name.clone()),
    ]
}

/// What holds for one of its layups.
pub fn of_layup<'a>() -> Vec<Column<'a, Row<'a>>> {
    let figure = |unit| Column::new("figure", unit, move |row: &Row| row.figure_in(unit));
    let computed = |row: &Row| if row.judgement.stitched.is_some() { "quilted" } else { "flat" };
    let spot = |row: &Row| match row.judgement.spot {
        Spot::Whole => "whole",
        Spot::Beside => "beside_embroidery",
        Spot::Under => "under_embroidery",
    };
    let at_stitch_line = |row: &Row| row.burns(|stitched| stitched.at_stitch_line)?.t();
    let at_centre = |row: &Row| row.burns(|stitched| stitched.at_centre)?.t();
    let of = |row: &Row| row.fitted().layup.quilting.is_some();
    vec![
        Column::new("layup", BARE, |row: &Row| row.fitted().layup.name.clone()),
        Column::new("own", BARE, |row: &Row| row.j == 0).not_in_json(),
        Column::new("quilted", BARE, of).not_in_csv(),
        // what the figure is of: the flat stack, or a whole cell with its stitch lines
        Column::new("computed", BARE, computed),
        Column::new("stitch_line_second_degree", SECONDS, at_stitch_line),
        Column::new("cell_centre_second_degree", SECONDS, at_centre),
        Column::new("cloth", GRAMS, |row: &Row| row.fitted().mass.cloth),
        Column::new("thread", GRAMS, |row: &Row| row.fitted().mass.thread),
        Column::new("embroidery", GRAMS, |row: &Row| row.fitted().mass.embroidery),
        Column::new("mass", GRAMS, |row: &Row| row.fitted().mass.total()),
        Column::new("state", BARE, |row: &Row| row.judgement.verdict.found.state()).not_in_csv(),
        // where on the panel there is least to spare
        Column::new("spot", BARE, spot).not_in_csv(),
        figure(SECONDS),
        figure(KILOJOULES_PER_AREA),
        Column::new("margin", PERCENT, |row: &Row| row.judgement.margin).or_null(),
        // the figure, its error taken off, over what its class needs to be called above, less 1
        Column::new("spare", PERCENT, |row: &Row| row.judgement.spare).or_null(),
        Column::new("against", BARE, |row: &Row| words::answer(row.judgement)),
        Column::new("taken_exact", BARE, |row: &Row| row.is_taken).not_in_json(),
    ]
}

/// Order of the columns in CSV.
const IN_CSV: &str = "panel place side count layup own area cloth thread embroidery mass pressure \
                      target exposure figure margin against taken_exact computed \
                      stitch_line_second_degree cell_centre_second_degree spare";

/// A suit as CSV: a row for each panel with its own layup and with each alternative.
///
/// Errors: a value that is not a finite number.
pub fn suit_csv(judged: &Judged<'_>) -> Result<String, CurvesError> {
    let mut all = of_panel();
    all.extend(of_layup());
    let mut all = in_order(all, IN_CSV);
    if !judged.told().is_empty() {
        let told = |row: &Row| Told::of_verdict("", &row.judgement.verdict);
        let unit = |row: &Row| filed(row.panel.target.figure);
        all.extend(anchored::columns_in(SECONDS_OR_HEAT, unit, told));
    }
    csv(&all, &rows(judged))
}

/// A line of the grams, [m²] and [kg].
pub struct Line {
    words: [String; 6],
    area: f64,
    cloth: f64,
    more: f64,
}

/// Each panel, then all together.
pub fn grams(judged: &Judged<'_>) -> Vec<Line> {
    let line = |row: &Row| {
        let (panel, mass) = (row.panel, &row.fitted().mass);
        let pieces = if panel.count > 1 { format!("{} ×", panel.count) } else { String::new() };
        Line {
            words: [
                row.number.to_string(),
                panel.name.clone(),
                words::where_it_is(panel),
                panel.layup.name.clone(),
                words::circumstances(panel),
                pieces,
            ],
            area: row.studied.area,
            cloth: mass.cloth,
            more: mass.thread + mass.embroidery,
        }
    };
    let mut all: Vec<Line> = own_rows(judged).iter().map(line).collect();
    let sum = |of: fn(&Line) -> f64| all.iter().map(of).sum();
    all.push(Line {
        words: ["", "together", "", "", "", ""].map(str::to_string),
        area: sum(|line| line.area),
        cloth: sum(|line| line.cloth),
        more: sum(|line| line.more),
    });
    all
}

/// What is told of them.
pub fn of_grams<'a>() -> Vec<Column<'a, Line>> {
    let word = |i: usize| Column::new("", BARE, move |line: &Line| line.words[i].clone());
    let mass = |line: &Line| line.cloth + line.more;
    let grams = |heading: &str, of: fn(&Line) -> f64, decimals| {
        let column = Column::new("", GRAMS, of).headed(heading).under("");
        column.digits(Digits::Fixed(decimals)).not_on_page()
    };
    vec![
        word(0).right().headed("").on_page("no."),
        word(1).headed("panel"),
        word(2).on_page("where"),
        word(3).headed("layup"),
        word(4).on_page("worn"),
        word(5).right().headed("").not_on_page(),
        Column::new("", SQUARE_METRES, |line: &Line| line.area)
            .headed("m²")
            .under("")
            .on_page("area")
            .digits(Digits::Fixed(3)),
        grams("cloth g", |line| line.cloth, 0),
        grams("extra g*", |line| line.more, 1),
        grams("g", mass, 0),
        Column::new("", GRAMS, mass).on_page("mass").digits(Digits::Fixed(1)),
    ]
}

/// What is predicted of a panel with its own layup.
pub fn predicted<'a>() -> Vec<Column<'a, Row<'a>>> {
    let right = |of: fn(&Row) -> String| Column::new("", BARE, of).right();
    vec![
        number(),
        Column::text("panel", BARE, |row: &Row| row.panel.name.clone()),
        Column::new("", BARE, |row: &Row| row.panel.target.name.clone()).on_page("target"),
        Column::text("asks", BARE, |row: &Row| words::asks(row.panel)),
        right(|row| words::value(row.judgement, row.panel)).headed("predicted"),
        right(|row| words::margin(row.judgement)).on_page("margin"),
        right(|row| words::spare(row.judgement)).headed("to spare"),
        Column::text("against it", BARE, |row: &Row| words::call(row.judgement)),
    ]
}

/// What is told of a panel whose quilting was computed: the figure flat and quilted, and second-degree burns.
pub fn of_sewn<'a>() -> Vec<Column<'a, Row<'a>>> {
    let skin = |heading: &str, page: &str, of: fn(&Stitched) -> Option<When>| {
        let when = move |row: &Row| row.burns(of).as_ref().map_or("–".to_string(), when_short);
        Column::text(heading, SECONDS, when).under("").on_page(page)
    };
    let flat = |row: &Row| {
        let stitched = row.judgement.stitched.as_ref();
        stitched.map(|stitched| words::found(stitched.flat, row.panel))
    };
    let quilted = |row: &Row| words::value(row.judgement, row.panel);
    vec![
        number(),
        Column::text("", BARE, |row: &Row| row.panel.name.clone()).on_page("panel"),
        Column::new("", BARE, flat).right().headed("disc, flat").on_page("disc, flat stack"),
        Column::text("quilted", BARE, quilted).right().on_page("disc, quilted"),
        skin("skin at stitch", "skin at a stitch line", |stitched| stitched.at_stitch_line),
        skin("at centre", "skin at a cell's centre", |stitched| stitched.at_centre),
    ]
}

/// What is told of a panel that takes another layup.
pub fn of_changes<'a>() -> Vec<Column<'a, Row<'a>>> {
    let saved = |row: &Row| row.studied.own().mass.total() - row.fitted().mass.total();
    let word = |of: fn(&Row) -> String| Column::new("", BARE, of).not_in_json();
    vec![
        number().not_on_page(),
        Column::new("panel", BARE, |row: &Row| row.panel.name.clone()).headed("panel"),
        word(|row| row.studied.own().layup.name.clone()).on_page("has"),
        Column::new("layup", BARE, |row: &Row| row.fitted().layup.name.clone()).headed("takes"),
        Column::new("saved", GRAMS, saved)
            .headed("saves g")
            .under("")
            .digits(Digits::Fixed(0))
            .not_on_page(),
        Column::new("", GRAMS, saved).on_page("saves").digits(Digits::Fixed(1)).not_in_json(),
        word(|row| words::spare(row.judgement)).right().headed("to spare then"),
        word(|row| words::call(row.judgement)).on_page("against it"),
    ]
}

/// A line of the bill, [kg/m²], [m²] and [kg].
pub struct Item<'a> {
    name: &'a str,
    areal_density: Option<f64>,
    area: [Option<f64>; 2],
    mass: [f64; 2],
    decimals: usize,
}

impl<'a> Item<'a> {
    /// A cloth.
    pub fn new(cloth: &'a Cloth) -> Item<'a> {
        let area = [cloth.area, cloth.area_ordered];
        Item {
            name: &cloth.fabric,
            areal_density: Some(cloth.areal_density),
            area: area.map(Some),
            mass: area.map(|area| area * cloth.areal_density),
            decimals: 0,
        }
    }
}

/// Cloths, embroidery and thread.
pub fn items(bill: &Bill) -> Vec<Item<'_>> {
    let mass = [bill.thread, bill.thread_ordered];
    let (areal_density, area, decimals) = (None, [None, None], 1);
    let thread = Item { name: "quilting thread", areal_density, area, mass, decimals };
    let thread = (bill.thread > 0.0).then_some(thread);
    bill.cloths.iter().chain(&bill.embroidery).map(Item::new).chain(thread).collect()
}

/// What is told of them: in the panels, then ordered.
pub fn of_items<'a>() -> Vec<Column<'a, Item<'a>>> {
    let area = |name: &str, heading: &str, i: usize| {
        let column = Column::new(name, SQUARE_METRES, move |item: &Item| item.area[i]);
        column.headed(heading).digits(Digits::Fixed(3)).or_blank()
    };
    let mass = |name: &str, page: &str, i: usize| {
        let column = Column::new(name, GRAMS, move |item: &Item| item.mass[i]);
        let written = move |item: &Item| GRAMS.fixed(item.mass[i], item.decimals);
        column.headed("").on_page(page).written(written)
    };
    vec![
        Column::new("fabric", BARE, |item: &Item| item.name.to_string())
            .headed("")
            .on_page("cloth"),
        Column::new("areal_density", GRAMS_PER_AREA, |item: &Item| item.areal_density)
            .headed("")
            .on_page("mass")
            .digits(Digits::Short(1))
            .or_blank(),
        area("area", "in panels", 0),
        mass("mass", "in panels", 0),
        area("ordered", "ordered", 1),
        mass("ordered", "ordered", 1),
    ]
}
