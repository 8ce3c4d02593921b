//! A patch over part of a quilting in text: beside it, under it, and the disc behind both.

use crate::bench::figure::figure_name;
use crate::bench::outcome::DiscFigures;
use crate::garment::target::Figure;
use crate::physics::units::PERCENT;
use crate::report::form::rows::table;
use crate::report::number::{Shown, fixed};
use crate::report::patch::{Row, columns, patch_words};
use crate::report::table::paragraph;
use crate::report::words::apart;
use crate::study::quilt::outcome::{Quilted, QuiltedPatch, QuiltedSkin};

/// All figures, the disc's first.
fn rows(quilted: &Quilted, patched: &QuiltedPatch) -> Vec<Row> {
    let mut rows = Vec::new();
    let disc = quilted.disc.as_ref().zip(patched.under_disc.as_ref()).zip(patched.both.as_ref());
    if let Some(((beside, under), both)) = disc {
        let times = |figures: &DiscFigures| [figures.rise12, figures.rise24, figures.stoll];
        let names = [Figure::Rise12, Figure::Rise24, Figure::Stoll];
        let beside = times(&beside.shared.figures).into_iter().zip(times(&under.figures));
        for ((figure, (beside, under)), both) in
            names.into_iter().zip(beside).zip(times(&both.figures))
        {
            let name = figure_name(figure, &quilted.exposure).to_string();
            rows.push(Row { name, key: "", beside, under, both: Some(both) });
        }
    }
    if let (Some(beside), Some(under)) = (&quilted.skin, &patched.under_skin) {
        let at = |skin: &QuiltedSkin| [skin.stitch_line().degrees, skin.centre().degrees];
        let places = ["stitch line", "cell centre"].into_iter().zip(at(beside)).zip(at(under));
        for ((place, beside), under) in places {
            for (i, degree) in ["first degree", "second degree", "third degree"].iter().enumerate()
            {
                let name = format!("{place}, {degree}");
                rows.push(Row { name, key: "", beside: beside[i], under: under[i], both: None });
            }
        }
    }
    rows
}

/// The section of a patch.
pub(crate) fn section(quilted: &Quilted, patched: &QuiltedPatch) -> String {
    let mut out = paragraph(&patch_words(&patched.patch), 2);
    let lies = "It lies on every cell alike, sewn on after the quilting: stitch lines do not press \
                it, and no loft opens beneath it.";
    out.push_str(&paragraph(lies, 2));
    out.push('\n');
    let table = table(&columns(&patched.patch, "own place"), &rows(quilted, patched));
    out + &table + &paragraph(&sentence(quilted, patched), 2)
}

/// What the disc behind both averages away, from the numbers.
pub fn sentence(quilted: &Quilted, patched: &QuiltedPatch) -> String {
    let mut parts = Vec::new();
    let rows = rows(quilted, patched);
    let name = figure_name(Figure::Rise24, &quilted.exposure);
    if let Some(row) = rows.iter().find(|row| row.name == name) {
        if let (Some(beside), Some(under), Some(Some(both))) =
            (row.beside.t(), row.under.t(), row.both.map(|both| both.t()))
        {
            parts.push(format!(
            "The disc behind both reads {name} {} s: {} than beside the patch, {} than under it",
            fixed(both, 1),
            apart(both - beside),
            apart(both - under)
        ));
        }
    }
    if let Some(row) = rows.iter().find(|row| row.name == "stitch line, second degree") {
        if let (Some(beside), Some(under)) = (row.beside.t(), row.under.t()) {
            parts.push(format!(
            "skin behind a stitch line burns to the second degree at {} s beside the patch, at {} s \
             under it",
            fixed(beside, 1),
            fixed(under, 1)
        ));
        }
    }
    let stoll = patched.both.as_ref().and_then(|both| both.figures.stoll.t());
    if let Some((stoll, burnt)) = stoll.and_then(|t| Some((t, quilted.burnt_by(t)?))) {
        parts.push(format!(
            "when the disc sees a second-degree burn, at {} s, {} % of the whole area is burnt",
            fixed(stoll, 1),
            PERCENT.fixed(burnt, 0)
        ));
    }
    match parts.is_empty() {
        true => "Not every time is reached: give --until.".to_string(),
        false => parts.join("; ") + ".",
    }
}
