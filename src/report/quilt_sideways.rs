//! A cell with heat sideways beside its places each alone.

use crate::bench::figure::figure_name;
use crate::bench::outcome::When;
use crate::garment::layup::Pattern;
use crate::garment::target::Figure;
use crate::physics::units::{PERCENT, SECONDS};
use crate::report::form::value::Object;
use crate::report::number::{Shown, fixed, short};
use crate::report::table::{Align, Table, paragraph};
use crate::report::words::{when_in_words, when_with_error};
use crate::study::quilt::beside::Way;
use crate::study::quilt::outcome::{Quilted, Sideways};

/// One time both ways.
struct Both {
    name: String,
    key: &'static str,
    /// Each place alone.
    apart: When,
    /// With heat sideways.
    together: When,
}

fn both(quilted: &Quilted, sideways: &Sideways) -> Vec<Both> {
    let mut all = Vec::new();
    let name = |figure| figure_name(figure, &quilted.exposure).to_string();
    if let (Some(disc), Some([rise12, rise24, stoll])) = (&quilted.disc, sideways.disc) {
        let apart = &disc.shared.figures;
        let rise = |name, key, apart, together| Both { name, key, apart, together };
        all.push(rise(name(Figure::Rise12), "rise_12_K", apart.rise12, rise12));
        all.push(rise(name(Figure::Rise24), "rise_24_K", apart.rise24, rise24));
        all.push(rise(name(Figure::Stoll), "stoll", apart.stoll, stoll));
    }
    if let (Some(skin), Some([stitch, centre])) = (&quilted.skin, sideways.skin) {
        all.push(Both {
            name: "second degree, stitch line".to_string(),
            key: "stitch_line_second_degree",
            apart: skin.stitch_line().degrees[1],
            together: stitch,
        });
        all.push(Both {
            name: "second degree, cell centre".to_string(),
            key: "cell_centre_second_degree",
            apart: skin.centre().degrees[1],
            together: centre,
        });
    }
    all
}

/// Both times of each figure, and what was solved, in text.
pub fn section(quilted: &Quilted, sideways: &Sideways) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Right, Right, Right]);
    table.row(["in s", "each place alone", "heat sideways", "more"]);
    for both in both(quilted, sideways) {
        let more = match (both.apart.t(), both.together.t()) {
            (Some(apart), Some(together)) => {
                let more = PERCENT.fixed(together / apart - 1.0, 1);
                let sign = if more.starts_with('-') { "" } else { "+" };
                format!("{sign}{more} %")
            }
            _ => "–".to_string(),
        };
        let times = [both.apart, both.together].map(|when| when_with_error(&when));
        table.row([both.name, times[0].clone(), times[1].clone(), more]);
    }
    table.render() + &paragraph(&words(quilted, sideways), 2)
}

/// What was solved, and what not.
fn words(quilted: &Quilted, sideways: &Sideways) -> String {
    let columns = match quilted.quilting.pattern {
        Pattern::Channels => "columns across the stitch line, from its middle to half the pitch",
        Pattern::Square | Pattern::Diamond => {
            "rings at one distance from the nearest stitch line, from its middle to the cell's centre"
        }
    };
    format!(
        "Heat sideways: the cell in two dimensions, {} {columns}; heat goes along plies, air and skin from one to \
         the next, {}. Water stays in its column. ± is the \
         difference from a coarser solve, and no less than that of the place alone. One disc has one temperature either way.",
        sideways.n_columns,
        how_well(sideways)
    )
}

/// Both times of skin in a sentence that goes on, beside what the disc then notices; none where heat sideways was not
/// asked for.
pub fn sideways_sentence(way: &Way) -> Option<String> {
    let sideways = way.sideways()?;
    let told = |when: When| match when {
        When::At { t, .. } => format!("at {} s", fixed(t, 2)),
        other => when_in_words(&other),
    };
    let [stitch, centre] = sideways.skin?;
    let noticed = sideways.disc.and_then(|[.., stoll]| Some(stoll.t()? - stitch.t()?));
    let noticed = noticed.filter(|dt| *dt > 0.0);
    let noticed =
        noticed.map_or(String::new(), |dt| format!(", {} s before the disc notices", fixed(dt, 1)));
    Some(format!(
        " With heat sideways it burns {} (alone {}){noticed}; the centre {} (alone {}).",
        told(stitch),
        told(way.at_stitch_line()?),
        told(centre),
        told(way.at_centre()?)
    ))
}

/// What was solved of several ways, once; none where heat sideways was not asked for.
pub fn sideways_words(ways: &[Way]) -> Option<String> {
    let sideways = ways.iter().find_map(Way::sideways)?;
    Some(format!(
        "Heat sideways: each cell in two dimensions, heat going along plies, air and skin from place to place, {}. \
         Water stays in its place. Areas burnt count each place alone.",
        how_well(sideways)
    ))
}

/// How well plies conduct along.
fn how_well(sideways: &Sideways) -> String {
    let times = match sideways.along {
        1.0 => "just".to_string(),
        times => format!("{} times", short(times, 2)),
    };
    format!("{times} as well along the plies as through them (--along)")
}

/// The same for a file.
pub fn object(quilted: &Quilted, sideways: &Sideways) -> Object {
    let told = Object::new().with("along", sideways.along).with("columns", sideways.n_columns);
    both(quilted, sideways).into_iter().fold(told, |told, both| {
        let of = Object::new().with_unit("each_place_alone", SECONDS, both.apart).with_unit(
            "heat_sideways",
            SECONDS,
            both.together,
        );
        told.with(both.key, of)
    })
}
