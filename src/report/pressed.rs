//! A layup under pressure as text and CSV.

use crate::bench::figure::figure_name;
use crate::bench::figure::t_valid;
use crate::bench::outcome::{Figures, When};
use crate::garment::target::Figure;
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::exposure;
use crate::report::figures::BEYOND_MARK;
use crate::report::lies;
use crate::report::number::{fixed, short};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice};
use crate::report::words::{count, when_with_error};
use crate::study::pressed::{PressedRow, PressedStudy, Stand};

/// Most plies whose thickness has a column of its own in the terminal.
const PLIES_SHOWN: usize = 4;

/// 24 K, Stoll, second degree.
pub(crate) fn times(row: &PressedRow) -> [Option<When>; 3] {
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
pub(crate) fn rise_name(study: &PressedStudy) -> &'static str {
    figure_name(Figure::Rise24, &study.exposure)
}

/// How a row stands, in words.
pub fn stand_words(stand: Stand) -> String {
    match stand {
        Stand::AsItLies => "as it lies".to_string(),
        Stand::Touching => "touching".to_string(),
        Stand::Under(pressure) => format!("{} kPa", short(1e-3 * pressure, 3)),
    }
}

/// Thickness of each ply [m].
pub(crate) fn thicknesses(row: &PressedRow) -> Vec<f64> {
    row.layup.plies().map(|ply| ply.fabric.thickness.value).collect()
}

/// The study in text.
pub fn pressed_text(study: &PressedStudy) -> String {
    let mut out = heading(&format!("Under pressure: {}", study.layup.name));
    out.push_str(&quilted(study));
    out.push_str(&paragraph(&exposure::sentence(&study.exposure), 2));
    out.push('\n');
    out.push_str(&heading("Times"));
    out.push_str(&times_table(study));
    out.push('\n');
    out.push_str(&heading("Thickness"));
    out.push_str(&thickness_table(study));
    out.push('\n');
    out.push_str(&heading("What it means"));
    out.push_str(&paragraph(&sentence(study), 2));
    out.push_str(&paragraph(&remark(study), 2));
    out.push('\n');
    out.push_str(&notice());
    out
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

fn times_table(study: &PressedStudy) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Right, Left, Right, Right, Right, Right]);
    table.row(["", rise_name(study), "", "less", "Stoll", "2nd degree", "less"]);
    table.row(["", "s", "", "s", "s", "s", "s"]);
    let base = study.rows.first().map(times);
    for row in &study.rows {
        let [rise, stoll, burn] = times(row);
        let lost = |i: usize, when: Option<When>| match row.stand {
            Stand::AsItLies => "–".to_string(),
            _ => lost(base.and_then(|base| base[i]), when),
        };
        table.row([
            stand_words(row.stand),
            time(rise),
            if is_beyond(row) { BEYOND_MARK.to_string() } else { String::new() },
            lost(0, rise),
            time(stoll),
            time(burn),
            lost(2, burn),
        ]);
    }
    table.render()
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

fn time(when: Option<When>) -> String {
    when.map_or("–".to_string(), |when| when_with_error(&when))
}

fn thickness_table(study: &PressedStudy) -> String {
    use Align::{Left, Right};
    let n_plies = study.layup.plies().count();
    let n_shown = n_plies.min(PLIES_SHOWN);
    let mut aligns = vec![Left, Right];
    aligns.extend(vec![Right; n_shown]);
    let mut table = Table::new(&aligns);
    let mut head = vec![String::new(), "together".to_string()];
    head.extend((1..=n_shown).map(|j| format!("ply {j}")));
    table.row(head);
    table.row(["", "mm"].into_iter().chain(vec!["mm"; n_shown]));
    for row in &study.rows {
        let mut cells = vec![stand_words(row.stand), fixed(1e3 * row.layup.thickness(), 2)];
        cells.extend(thicknesses(row).iter().take(n_shown).map(|l| fixed(1e3 * l, 3)));
        table.row(cells);
    }
    let mut out = table.render();
    if n_plies > n_shown {
        let rest = count(n_plies - n_shown, "further ply", "further plies");
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
        fixed(100.0 * (1.0 - end / lies), 0)
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

/// The study as CSV, one row a stand; the pressure is blank where nothing presses.
///
/// Errors: a value that is not a finite number.
pub fn pressed_csv(study: &PressedStudy) -> Result<String, CurvesError> {
    let mut headers = vec!["stand".to_string(), "pressure_kPa".to_string()];
    for time in [rise_name(study), "stoll", "second_degree"] {
        headers.extend([format!("{time}_s"), format!("{time}_error_s")]);
    }
    headers.push("thickness_mm".to_string());
    headers.extend((1..=study.layup.plies().count()).map(|j| format!("thickness_ply_{j}_mm")));
    let mut columns = Columns::new(headers);
    for row in &study.rows {
        let pressure = match row.stand {
            Stand::Under(pressure) => Cell::Number(1e-3 * pressure),
            _ => Cell::Blank,
        };
        let stand = match row.stand {
            Stand::Under(_) => "pressed".to_string(),
            other => stand_words(other),
        };
        let mut cells = vec![Cell::Word(stand), pressure];
        for when in times(row) {
            cells.extend(when.as_ref().map_or([Cell::Blank, Cell::Blank], Cell::when));
        }
        cells.push(Cell::Number(1e3 * row.layup.thickness()));
        cells.extend(thicknesses(row).into_iter().map(|l| Cell::Number(1e3 * l)));
        columns.rows.push(cells);
    }
    columns.csv()
}
