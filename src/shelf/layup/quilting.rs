//! The quilting of a layup.

use crate::garment::layup::{Layup, Pattern, Quilting};
use crate::garment::stitched::{solid_thickness, takes_air};
use crate::garment::suit::stitch_length;
use crate::shelf::fault::Fault;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::{Record, Value};

/// The quilting of a layup, which is `stack` without it.
pub(crate) fn read_quilting(
    root: &Record,
    stack: &Layup,
    faults: &mut Vec<Fault>,
) -> Option<Quilting> {
    let n_plies = stack.plies().count();
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
        reader.own_value(field)
    };
    let (pitch, loft) = (need(&kinds::PITCH), need(&kinds::LOFT));
    let (stitch_width, pressed) = (need(&kinds::STITCH_WIDTH), need(&kinds::PRESSED));
    let thread = reader.own_value(&kinds::THREAD);
    if let (Some(width), Some(pitch)) = (&stitch_width, &pitch) {
        if width.value >= pitch.value {
            let what = "the stitch lines of the quilting are as wide as their pitch";
            let mend = "check both widths";
            let place = table.place_of(kinds::STITCH_WIDTH.key);
            let fault = Fault::new(what, place, "`stitch_width_mm` less than `pitch_mm`", mend);
            reader.fault(fault.and_at(table.place_of(kinds::PITCH.key)));
        }
    }
    if let (Some(pressed), true) = (&pressed, n_plies >= 2) {
        check_pressed(table, pressed.value, stack, reader.faults);
    }
    if loft.as_ref().is_some_and(|loft| loft.value > 0.0)
        && n_plies >= 2
        && !takes_air(stack).contains(&true)
    {
        let what = "the plies cannot loft: each joint between them has a conductance of its own";
        let expected = "at least one joint without `joint_W_m2K`, or a loft of 0";
        let mend = "remove a joint's conductance, or write `loft_mm = 0`";
        let place = table.place_of(kinds::LOFT.key);
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
    if let Some((what, expected)) = too_much_thread(&quilting, stack.areal_density()) {
        let place = table.place_of(kinds::THREAD.key);
        let mend = "check `thread_g_m` and `pitch_mm`";
        let fault = Fault::new(what, place, expected, mend);
        faults.push(fault.and_at(table.place_of(kinds::PITCH.key)));
    }
    Some(quilting)
}

/// Plies are pressed to no more than they are thick, and to more than their fibre alone.
fn check_pressed(table: &Record, pressed: f64, stack: &Layup, faults: &mut Vec<Fault>) {
    let (loose, solid) = (stack.plies_thickness(), solid_thickness(stack));
    let (what, expected) = match () {
        () if pressed > loose * (1.0 + 1e-9) => (
            "the pressed plies of the quilting are thicker than the loose ones".to_owned(),
            format!("at most {:.3} mm, the plies together", 1e3 * loose),
        ),
        () if pressed <= solid => (
            format!(
                "the plies cannot be pressed to {} mm: nothing but fibre is left",
                1e3 * pressed
            ),
            format!("more than {:.3} mm, where the first ply is solid fibre", 1e3 * solid),
        ),
        () => return,
    };
    let mend = "measure the thickness at a stitch line";
    faults.push(Fault::new(what, table.place_of(kinds::PRESSED.key), expected, mend).absent());
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
