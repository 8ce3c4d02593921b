//! A layup under pressure: its columns, text and files.

use crate::bench::figure::figure_name;
use crate::bench::figure::t_valid;
use crate::bench::outcome::{Figures, When};
use crate::garment::target::Figure;
use crate::physics::units::{BARE, KILOPASCALS, MILLIMETRES, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::exposure;
use crate::report::figures::BEYOND_MARK;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects, table};
use crate::report::form::value::{Digits, Object};
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::number::{Shown, fixed};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, section};
use crate::report::words::count;
use crate::study::pressed::{PressedRow, PressedStudy, Stand};

/// Most plies whose thickness has a column of its own in the terminal.
const PLIES_SHOWN: usize = 4;

/// 24 K, Stoll, second degree.
fn times(row: &PressedRow) -> [Option<When>; 3] {
    let disc = row.outcome.disc.as_ref().and_then(|run| match &run.figures {
        Figures::Disc(disc) => Some([disc.rise24, disc.stoll]),
        Figures::Skin(_) => None,
    });
    let skin = row.outcome.skin.as_ref().and_then(|run| match &run.figures {
        Figures::Skin(skin) => Some(skin.second_degree),
        Figures::Disc(_) => None,
    });
    [disc.map(|times| times[0]), disc.map(|times| times[1]), skin]
}

/// Name of the disc's 24 K time under the exposure.
fn rise_name(study: &PressedStudy) -> &'static str {
    figure_name(Figure::Rise24, &study.exposure)
}

/// How a row stands, in words.
pub fn stand_words(stand: Stand) -> String {
    match stand {
        Stand::AsItLies => "as it lies".to_string(),
        Stand::Touching => "touching".to_string(),
        Stand::Under(pressure) => format!("{} kPa", KILOPASCALS.short(pressure, 3)),
    }
}

/// Thickness of each ply [m].
fn thicknesses(row: &PressedRow) -> Vec<f64> {
    row.layup.plies().map(|ply| ply.fabric.thickness.value).collect()
}

/// The study in text.
pub fn pressed_text(study: &PressedStudy) -> String {
    let mut out = heading(&format!("Under pressure: {}", study.layup.name));
    out.push_str(&quilted(study));
    out.push_str(&paragraph(&exposure::sentence(&study.exposure), 2));
    out.push('\n');
    out.push_str(&heading("Times"));
    let columns: Vec<_> = stand().into_iter().chain(times_of(study)).collect();
    out.push_str(&table(&columns, &study.rows));
    section(&mut out, "Thickness", &thickness_table(study));
    section(&mut out, "What it means", &paragraph(&sentence(study), 2));
    out.push_str(&paragraph(&remark(study), 2));
    closed(out)
}

/// That pressure leaves no loft, for a layup that is quilted.
fn quilted(study: &PressedStudy) -> String {
    let Some(quilting) = &study.layup.quilting else { return String::new() };
    let text = format!(
        "Quilted: {}. As it lies it is computed so, the disc behind a whole cell and skin at a stitch \
         line; pressure leaves no loft, so that the other rows are flat by nature.",
        lies::quilting_words(quilting)
    );
    paragraph(&text, 2)
}

/// How a row stands.
fn stand() -> Vec<Column<'static, PressedRow>> {
    let in_csv = |row: &PressedRow| match row.stand {
        Stand::Under(_) => "pressed".to_string(),
        other => stand_words(other),
    };
    let in_json = |row: &PressedRow| match row.stand {
        Stand::AsItLies => "as_it_lies",
        Stand::Touching => "touching",
        Stand::Under(_) => "pressed",
    };
    let pressure = |row: &PressedRow| match row.stand {
        Stand::Under(pressure) => Some(pressure),
        _ => None,
    };
    let words = |row: &PressedRow| stand_words(row.stand);
    let computed = |row: &PressedRow| lies::word(row.outcome.lies.stack());
    vec![
        Column::new("stand", BARE, in_csv).not_in_json().headed("").written(words),
        Column::new("stand", BARE, in_json).not_in_csv(),
        Column::new("computed", BARE, computed).not_in_csv(),
        Column::new("pressure", KILOPASCALS, pressure),
    ]
}

/// Its times, and what they have lost against the layup as it lies.
fn times_of(study: &PressedStudy) -> Vec<Column<'_, PressedRow>> {
    let base = study.rows.first().map(times);
    let less = move |i: usize| {
        Column::text("less", SECONDS, move |row: &PressedRow| match row.stand {
            Stand::AsItLies => "–".to_string(),
            _ => lost(base.and_then(|base| base[i]), times(row)[i]),
        })
    };
    let name = rise_name(study);
    let mark = |row: &PressedRow| if is_beyond(row) { BEYOND_MARK } else { "" }.to_string();
    let rise = Column::new(name, SECONDS, |row: &PressedRow| times(row)[0]);
    let burn = Column::new("second_degree", SECONDS, |row: &PressedRow| times(row)[2]);
    vec![
        rise.named_in_json("rise_24_K").headed(name),
        Column::text("", BARE, mark),
        less(0),
        Column::new("stoll", SECONDS, |row: &PressedRow| times(row)[1]).headed("Stoll"),
        burn.headed("2nd degree"),
        less(2),
    ]
}

/// Thickness of all plies together and of each.
fn thickness(study: &PressedStudy) -> Vec<Column<'_, PressedRow>> {
    let together = Column::new("thickness", MILLIMETRES, |row: &PressedRow| row.layup.thickness());
    let mut all = vec![together.headed("together").digits(Digits::Fixed(2))];
    for j in 0..study.layup.plies().count() {
        let name = format!("thickness_ply_{}", j + 1);
        let ply = Column::new(name, MILLIMETRES, move |row: &PressedRow| thicknesses(row)[j]);
        let ply = ply.not_in_json().digits(Digits::Fixed(3));
        let is_shown = j < PLIES_SHOWN;
        all.push(if is_shown { ply.headed(format!("ply {}", j + 1)) } else { ply });
    }
    all.push(Column::new("ply_thickness", MILLIMETRES, thicknesses).not_in_csv());
    all
}

fn is_beyond(row: &PressedRow) -> bool {
    let t = times(row)[0].and_then(|when| when.t()).unwrap_or(f64::INFINITY);
    let limit = row.outcome.disc.as_ref().and_then(|run| t_valid(&run.plies));
    limit.is_some_and(|limit| limit < t)
}

/// Seconds lost against the layup as it lies; a minus sign for seconds gained.
fn lost(base: Option<When>, when: Option<When>) -> String {
    match (base.and_then(|w| w.t()), when.and_then(|w| w.t())) {
        (Some(base), Some(t)) => fixed(base - t, 2),
        _ => "–".to_string(),
    }
}

fn thickness_table(study: &PressedStudy) -> String {
    let columns: Vec<_> = stand().into_iter().chain(thickness(study)).collect();
    let mut out = table(&columns, &study.rows);
    let n_plies = study.layup.plies().count();
    if n_plies > PLIES_SHOWN {
        let rest = count(n_plies - PLIES_SHOWN, "further ply", "further plies");
        out.push_str(&paragraph(&format!("{rest} in --csv and --json."), 2));
    }
    out
}

/// What pressure takes, from the numbers.
pub fn sentence(study: &PressedStudy) -> String {
    let t = |row: &PressedRow| times(row)[0].and_then(|when| when.t());
    let name = rise_name(study);
    let (Some(first), Some(last)) = (study.rows.first(), study.rows.last()) else {
        return String::new();
    };
    let (Some(lies), Some(end)) = (t(first), t(last)) else {
        return "Not every time is reached: give --until.".to_string();
    };
    let mut out = format!(
        "At {} {name} is {} s against {} s as the layup lies, {} % less",
        stand_words(last.stand),
        fixed(end, 1),
        fixed(lies, 1),
        PERCENT.fixed(1.0 - end / lies, 0)
    );
    let touching = study.rows.iter().find(|row| row.stand == Stand::Touching).and_then(t);
    if let Some(touching) = touching {
        out.push_str(&format!(
            ": {} s of it go with the air between the plies, {} s with the plies' own thickness",
            fixed(lies - touching, 1),
            fixed(touching - end, 1)
        ));
    }
    out.push('.');
    out
}

fn remark(study: &PressedStudy) -> String {
    let beyond = study.rows.iter().any(is_beyond);
    let mark = if beyond {
        format!(
            " {BEYOND_MARK} comes after a ply has gone past its limit, outside the model's validity."
        )
    } else {
        String::new()
    };
    format!(
        "Under pressure the gaps are closed, behind the last ply too; plies follow their measured points \
         or van Wyk's law, which holds them below the pressure they were measured at, and their conductivity the new share of fibre: an estimate. ± is the numerical \
         error alone.{mark}"
    )
}

fn columns(study: &PressedStudy) -> Vec<Column<'_, PressedRow>> {
    stand().into_iter().chain(times_of(study)).chain(thickness(study)).collect()
}

/// The study as CSV, one row a stand; the pressure is blank where nothing presses.
///
/// Errors: a value that is not a finite number.
pub fn pressed_csv(study: &PressedStudy) -> Result<String, CurvesError> {
    csv(&columns(study), &study.rows)
}

/// The study as JSON.
///
/// Errors: a value that is not a finite number.
pub fn pressed_json(study: &PressedStudy) -> Result<String, serde_json::Error> {
    let body = Object::new()
        .with("layup", study.layup.name.as_str())
        .with("exposure", study.exposure.name.as_str())
        .with("figure", rise_name(study))
        .with("rows", objects(&columns(study), &study.rows))
        .with("sentence", sentence(study));
    envelope("stillair/pressed", &body)
}
