//! The quilting of a layup.

use crate::garment::fault::Fault;
use crate::garment::field::Field;
use crate::garment::kinds;
use crate::garment::layup::{Pattern, Quilting};
use crate::garment::reader::Reader;
use crate::garment::record::{Record, Value};
use crate::garment::suit::stitch_length;

/// The quilting of a layup whose plies are `plies_thickness` [m] thick and weigh `plies_mass` [kg/m²]
/// together.
pub(crate) fn read_quilting(
    root: &Record,
    n_plies: usize,
    (plies_thickness, plies_mass): (f64, f64),
    faults: &mut Vec<Fault>,
) -> Option<Quilting> {
    let cell = root.get("quilting")?;
    let Value::Table(table) = &cell.value else {
        let mend = "write `[quilting]` on a line of its own and its keys below";
        faults.push(Fault::new("quilting is not a table", cell.place(), "a table", mend));
        return None;
    };
    kinds::QUILTING.check(table, faults);
    if n_plies < 2 {
        let what = "the layup is quilted but has fewer than two plies";
        let mend = "add plies, or remove the quilting";
        faults.push(Fault::new(what, cell.key_place(), "two plies or more", mend).absent());
    }
    let mut reader = Reader { record: table, owner: "the quilting".to_owned(), faults };
    let pattern = reader.need_choice("pattern", &Pattern::ALL.map(|p| (p.word(), p)));
    let mut need = |field: &Field| {
        if table.get(field.key).is_none() {
            reader.need_number(field)?;
        }
        reader.own_value(field, 1e-3)
    };
    let (pitch, loft) = (need(&kinds::PITCH), need(&kinds::LOFT));
    let (stitch_width, pressed) = (need(&kinds::STITCH_WIDTH), need(&kinds::PRESSED));
    let thread = reader.own_value(&kinds::THREAD, 1e-3);
    if let (Some(width), Some(pitch)) = (&stitch_width, &pitch)
        && width.value >= pitch.value
    {
        let what = "the stitch lines of the quilting are as wide as their pitch";
        let mend = "check both widths";
        let place = table.place_of(kinds::STITCH_WIDTH.key);
        let fault = Fault::new(what, place, "`stitch_width_mm` less than `pitch_mm`", mend);
        reader.fault(fault.and_at(table.place_of(kinds::PITCH.key)));
    }
    if let Some(pressed) = &pressed
        && n_plies >= 2
        && pressed.value > plies_thickness * (1.0 + 1e-9)
    {
        let what = "the pressed plies of the quilting are thicker than the loose ones";
        let expected = format!("at most {:.3} mm, the plies together", plies_thickness * 1e3);
        let mend = "measure the thickness at a stitch line";
        let place = table.place_of(kinds::PRESSED.key);
        reader.fault(Fault::new(what, place, expected, mend).absent());
    }
    let quilting = Quilting {
        pattern: pattern?,
        pitch: pitch?,
        stitch_width: stitch_width?,
        loft: loft?,
        pressed: pressed?,
        thread,
    };
    if let Some((what, expected)) = too_much_thread(&quilting, plies_mass) {
        let place = table.place_of(kinds::THREAD.key);
        let mend = "check `thread_g_m` and `pitch_mm`";
        let fault = Fault::new(what, place, expected, mend);
        faults.push(fault.and_at(table.place_of(kinds::PITCH.key)));
    }
    Some(quilting)
}

/// What is wrong with a quilting whose thread weighs more than the plies that it holds, and the rule.
pub(crate) fn too_much_thread(quilting: &Quilting, plies_mass: f64) -> Option<(String, String)> {
    let thread = quilting.thread.as_ref()?.value * stitch_length(quilting);
    // without plies there is another fault
    (thread > plies_mass && plies_mass > 0.0).then(|| {
        let what = format!(
            "the thread of the quilting weighs more than its plies: {:.0} g/m²",
            1e3 * thread
        );
        (what, format!("at most {:.0} g/m², the plies together", 1e3 * plies_mass))
    })
}
