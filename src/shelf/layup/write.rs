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
    use crate::garment::layup::Layup;
    use crate::shelf::layup::read::read_layup_text;
    use crate::shelf::materials::Shelf;

    fn read(text: &str, shelf: &Shelf) -> Layup {
        read_layup_text(text, Path::new("a.toml"), shelf).unwrap_or_else(|e| panic!("{e}\n{text}"))
    }

    /// The layup with its numbers to six digits, as its file has seven, and its fabrics by their names on the shelf.
    fn plain(layup: &Layup) -> String {
        let text = format!("{layup:?}");
        let is_number = |c: char| c.is_ascii_alphanumeric() || "-.".contains(c);
        let mut out = String::new();
        for word in text.split_inclusive(|c| !is_number(c)) {
            let (number, end) = word.split_at(word.trim_end_matches(|c| !is_number(c)).len());
            match number.parse::<f64>() {
                Ok(number) => out += &format!("{number:.5e}{end}"),
                Err(_) => out += &(number.split("-own-").next().unwrap_or(number).to_owned() + end),
            }
        }
        out
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
        let mut all = vec![line, pressed];
        all.extend(shelf.layup_names().map(|name| shelf.layup_text(name).unwrap()));
        for text in all {
            let layup = read(text, &shelf);
            let is_own = |fabric: &Fabric| shelf.fabrics().all(|known| known != fabric);
            let text =
                layup_toml(&layup, |f, ply| is_own(f).then(|| format!("{}-own-{ply}", f.name)));
            assert_eq!(plain(&read(&text, &shelf)), plain(&layup), "{text}");
        }
    }
}
