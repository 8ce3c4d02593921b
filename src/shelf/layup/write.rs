//! A layup as its file has it.

use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, PlyJoint, Quilting};
use crate::physics::units::{CONDUCTANCE, GRAMS_PER_LENGTH, KILOPASCALS, MILLIMETRES};
use crate::shelf::notation::table::{self, Table, from, rounded};
use crate::shelf::stock::fabric_write::fabric_table;

/// The layup as the text of a TOML file.
///
/// - `own`: the name under which the fabric of a ply, counted from 1, stands in the file itself; none where
///   it lies on the shelf
pub fn layup_toml(layup: &Layup, own: impl Fn(&Fabric, usize) -> Option<String>) -> String {
    let mut root = Table::default();
    root.word("name", layup.name.as_str());
    if !layup.note.is_empty() {
        root.word("note", layup.note.as_str());
    }
    if let Some(pressure) = &layup.pressure {
        root.known("pressure", KILOPASCALS, pressure);
    }
    let (mut stack, mut fabrics) = (Vec::new(), Vec::new());
    let mut n_plies = 0;
    for entry in &layup.stack {
        let mut one = Table::default();
        match entry {
            Entry::Gap(gap) => {
                one.number("gap", MILLIMETRES, gap.thickness.value);
                one.word("from", from(&gap.thickness));
                one.tolerance("gap", gap.thickness.tolerance);
            }
            Entry::Ply(ply) => {
                n_plies += 1;
                let own = own(&ply.fabric, n_plies);
                one.word("ply", own.as_ref().unwrap_or(&ply.fabric.name).as_str());
                match &ply.joint {
                    PlyJoint::Faces => {}
                    PlyJoint::Shared => one.word("joint", "shared"),
                    PlyJoint::Conductance(h) => one.known("joint", CONDUCTANCE, h),
                }
                fabrics.extend(own.map(|name| fabric_table(&ply.fabric, &name)));
            }
        }
        stack.push(one);
    }
    root.put("stack", table::Entry::Tables(stack));
    if !fabrics.is_empty() {
        root.put("fabric", table::Entry::Tables(fabrics));
    }
    if let Some(quilting) = &layup.quilting {
        root.put("quilting", table::Entry::Table(quilting_table(quilting, layup)));
    }
    root.toml()
}

fn quilting_table(quilting: &Quilting, layup: &Layup) -> Table {
    // stitch lines that do not press stay so, whichever way each ply is rounded
    let rounded = |length| MILLIMETRES.inside(rounded(MILLIMETRES.outside(length)));
    let loose: f64 = layup.plies().map(|ply| rounded(ply.fabric.thickness.value)).sum();
    let mut table = Table::default();
    table.word("pattern", quilting.pattern.word());
    table.number("pitch", MILLIMETRES, quilting.pitch.value);
    table.number("stitch_width", MILLIMETRES, quilting.stitch_width.value);
    table.number("loft", MILLIMETRES, quilting.loft.value);
    table.number("pressed", MILLIMETRES, quilting.pressed.value.min(loose));
    if let Some(thread) = &quilting.thread {
        table.number("thread", GRAMS_PER_LENGTH, thread.value);
    }
    table.word("from", from(&quilting.pitch));
    table
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::layup_toml;
    use crate::garment::fabric::Fabric;
    use crate::garment::known::{Known, Provenance};
    use crate::garment::layup::{Entry, Layup};
    use crate::physics::units::kelvin;
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;

    fn read(text: &str, shelf: &Shelf) -> Layup {
        read_layup_text(text, Path::new("a.toml"), shelf).unwrap_or_else(|e| panic!("{e}\n{text}"))
    }

    /// What a layup is, word by word, fabrics under their names on the shelf.
    fn words(layup: &Layup) -> Vec<String> {
        let text = format!("{layup:?}");
        let words = text.split(|c: char| !c.is_ascii_alphanumeric() && !"-.".contains(c));
        words.map(|word| word.split("-own-").next().unwrap_or(word).to_owned()).collect()
    }

    /// The same word, or a number to the seven digits that a file has.
    fn is_alike((one, other): (&String, &String)) -> bool {
        match (one.parse::<f64>(), other.parse::<f64>()) {
            (Ok(one), Ok(other)) => one == other || (one - other).abs() < 1e-6 * one.abs(),
            _ => one == other,
        }
    }

    /// Written and read, every layup of the shelf is the same layup: its fabrics by their names where they are the
    /// shelf's, in full where the layup has values of its own.
    #[test]
    fn every_layup_comes_back_as_it_was() {
        let shelf = Shelf::built_in().unwrap();
        let line = "outer-aramid-200 + 1 mm + felt-needled-100; diamond, pitch 40 mm, stitch 2 mm, \
                    loft 1.5 mm, pressed 1.1 mm, thread 0.05 g/m";
        let pressed = "name = \"a\"\npressure_kPa = 5\n[[stack]]\nply = \"outer-aramid-200\"\njoint = \"shared\"\n\
                       [[stack]]\nply = \"felt-needled-100\"\njoint_W_m2K = 400\n";
        let tolerances = "name = \"a\"\n[[stack]]\nply = \"felt-needled-100\"\nthickness_mm = 1.5\n\
                          thickness_tolerance_pct = 12\n[[stack]]\ngap_mm = 1\ngap_tolerance_pct = 30\n";
        let mut all = [line, pressed, tolerances].map(str::to_owned).to_vec();
        all.extend(shelf.layup_names().map(|name| shelf.layup_text(name).unwrap().to_owned()));
        let alone =
            |fabric: &Fabric| format!("name = \"a\"\n[[stack]]\nply = \"{}\"\n", fabric.name);
        all.extend(shelf.fabrics().map(alone));
        for (text, in_full) in all.iter().flat_map(|text| [(text, false), (text, true)]) {
            let layup = read(text, &shelf);
            let is_own = |fabric: &Fabric| in_full || shelf.fabrics().all(|known| known != fabric);
            let text =
                layup_toml(&layup, |f, ply| is_own(f).then(|| format!("{}-own-{ply}", f.name)));
            let (was, is) = (words(&layup), words(&read(&text, &shelf)));
            assert!(
                was.len() == is.len() && was.iter().zip(&is).all(is_alike),
                "{text}\n{was:?}\n{is:?}"
            );
        }
    }
    /// A conductivity that was estimated from the thickness stands as it was when that is fitted alone.
    #[test]
    fn a_thickness_that_was_fitted_moves_nothing_else() {
        let shelf = Shelf::built_in().unwrap();
        let mut layup = read(shelf.layup_text("single-outer-195").unwrap(), &shelf);
        let Some(Entry::Ply(ply)) = layup.stack.first_mut() else { panic!("a ply stands first") };
        let thickness = &mut ply.fabric.thickness;
        *thickness = Known::new(1.2 * thickness.value, Provenance::Fitted, "a curve");
        let back = read(&layup_toml(&layup, |_, _| Some("own".to_owned())), &shelf);
        let of = |layup: &Layup| {
            layup.plies().next().map(|ply| ply.fabric.conductivity.value.at(kelvin(25.0)))
        };
        let (was, is) = (of(&layup).unwrap(), of(&back).unwrap());
        assert!((was - is).abs() < 1e-6 * was, "{is} W/(m·K), was {was}");
    }
}
