//! A quilting in text and as CSV: what the bench averages and where skin burns first.

use crate::bench::figure::{Verdict, figure_name, t_valid};
use crate::bench::lies::Stack;
use crate::bench::outcome::{DiscFigures, Figures, When};
use crate::garment::layup::{Layup, Pattern};
use crate::garment::target::{Figure, Target};
use crate::physics::units::{GRAMS_PER_AREA, PERCENT};
use crate::report::figures::BEYOND_MARK;
use crate::report::lies::quilting_words;
use crate::report::number::{Shown, fixed, short, significant, with_error};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{closed, heading, section};
use crate::report::verdict;
use crate::report::words::{when_in_words, when_short};
use crate::report::{exposure, layup, limits, quilt_patch, quilt_sideways};
use crate::study::quilt::outcome::{Quilted, QuiltedDisc, QuiltedSkin, SkinPlace};

/// What the results rest on, in one sentence.
pub const RESTS_ON: &str = "No measured comparison of stitched and unstitched layups was found: \
this rests on geometry and conduction alone.";

/// What places of their own leave out, and what it came to where it was looked at.
const LEFT_OUT: &str = "Heat between neighbouring paths is left out (`--sideways` has it): in a check in two \
dimensions it moved HTI24 by 0.1 % and made the burn behind a 2 mm stitch line 8 % later (17 % with three times the \
conduction along plies and skin), so the stitch line's times err on the early side.";

/// The quilting in text.
pub fn quilt_text(quilted: &Quilted, verdicts: &[(&Target, Verdict)]) -> String {
    let mut out = heading(&format!("Layup: {}", quilted.layup.name));
    let bare = Layup { quilting: None, ..quilted.layup.clone() };
    out.push_str(&layup::section(&bare, Stack::Flat));
    section(&mut out, "Quilting", &quilting_section(quilted));
    let title = format!("Exposure: {}", exposure::title(&quilted.exposure));
    section(&mut out, &title, &exposure::section(&quilted.exposure));
    if let Some(disc) = &quilted.disc {
        let title = match quilted.patch {
            Some(_) => "One copper disc behind all of it, without the patch",
            None => "One copper disc behind all of it",
        };
        section(&mut out, title, &disc_section(quilted, disc));
    }
    if let Some(skin) = &quilted.skin {
        let beside = if quilted.patch.is_some() { ", beside the patch" } else { "" };
        let title = format!("Skin, each place its own{beside}: {}", skin.skin);
        section(&mut out, &title, &skin_section(quilted, skin));
    }
    if let Some(sentence) = averages_away(quilted) {
        section(&mut out, "What the disc averages away", &paragraph(&sentence, 2));
    }
    if let Some(sideways) = &quilted.sideways {
        section(&mut out, "With heat sideways", &quilt_sideways::section(quilted, sideways));
    }
    if let Some(patched) = &quilted.patch {
        section(&mut out, "With the patch", &quilt_patch::section(quilted, patched));
    }
    if !verdicts.is_empty() {
        let answers = verdict::section(verdicts);
        section(&mut out, "Against the targets", &answers);
    }
    let limits = limits::section_of(
        "on its worst path",
        [
            ("disc", quilted.disc.as_ref().map(|disc| disc.shared.plies.as_slice())),
            ("skin", quilted.skin.as_ref().map(|skin| skin.plies.as_slice())),
        ],
    );
    section(&mut out, "Limits of the plies", &limits);
    section(&mut out, "How exact the numbers are", &exactness(quilted));
    closed(out)
}

fn quilting_section(quilted: &Quilted) -> String {
    let quilting = &quilted.quilting;
    let mut words = quilting_words(quilting);
    if quilting.pattern == Pattern::Diamond {
        words.push_str("; the same area at any angle of the lines");
    }
    let area = format!(
        "Stitch lines cover {} % of the area. {}",
        PERCENT.fixed(quilted.stitch_share, 2),
        match quilted.thread {
            Some(thread) => format!(
                "Thread adds {} g/m², {} g/m² together with the plies.",
                GRAMS_PER_AREA.fixed(thread, 1),
                GRAMS_PER_AREA.fixed(quilted.layup.areal_density() + thread, 0)
            ),
            None => "The mass of the thread is not known (`thread_g_m`).".to_string(),
        }
    );
    let profile = "Under a stitch line the plies are pressed together, no air between them but the \
                   voids of their faces. Beyond it they keep their own thickness, and air grows as \
                   1 − (1 − u)² from the stitch line's edge (u = 0) to the centre (u = 1), shared \
                   equally between the joints on top of the faces' voids and the gaps that the layup has there.";
    [words, area, profile.to_string()].iter().map(|text| paragraph(text, 2)).collect()
}

/// A time with its errors of mesh and of area.
fn time_cells(when: &When, area: Option<f64>, t_valid: Option<f64>) -> [String; 4] {
    match when {
        When::At { t, error } => {
            let area_error = area.unwrap_or(0.0);
            let (value, _) = with_error(*t, error.max(area_error));
            let mark = if t_valid.is_some_and(|limit| *t > limit) { BEYOND_MARK } else { "" };
            let area = area.map(|error| with_error(*t, error).1).unwrap_or_default();
            [value, with_error(*t, *error).1, area, mark.to_string()]
        }
        other => [when_short(other), String::new(), String::new(), String::new()],
    }
}

fn disc_section(quilted: &Quilted, disc: &QuiltedDisc) -> String {
    use Align::{Left, Right};
    let name = |figure| figure_name(figure, &quilted.exposure);
    let mut table = Table::new(&[Left, Right, Right, Right, Left]);
    table.row(["", "s", "± mesh", "± area", ""]);
    let figures = &disc.shared.figures;
    let times = [
        (name(Figure::Rise12), &figures.rise12),
        (name(Figure::Rise24), &figures.rise24),
        (name(Figure::Stoll), &figures.stoll),
    ];
    let valid = t_valid(&disc.shared.plies);
    for ((name, when), area) in times.iter().zip(disc.area_errors) {
        let cells = time_cells(when, area, valid);
        table.row(std::iter::once((*name).to_string()).chain(cells));
    }
    let mut out = table.render();
    out.push('\n');
    let mut table = Table::new(&[Left, Right, Right, Right]);
    table.row([
        "the same plies, in s",
        name(Figure::Rise12),
        name(Figure::Rise24),
        name(Figure::Stoll),
    ]);
    let rows: [(&str, Option<&DiscFigures>); 4] = [
        ("quilted", Some(figures)),
        ("flat, plies as listed", flat_disc(quilted)),
        ("the centre's loft everywhere", Some(&disc.lofted.figures)),
        ("pressed everywhere", Some(&disc.pressed.figures)),
    ];
    for (name, figures) in rows.into_iter().filter_map(|(name, f)| Some((name, f?))) {
        let times = [&figures.rise12, &figures.rise24, &figures.stoll].map(when_short);
        table.row(std::iter::once(name.to_string()).chain(times));
    }
    out + &table.render()
}

/// The flat layup's figures before the disc.
pub fn flat_disc(quilted: &Quilted) -> Option<&DiscFigures> {
    match &quilted.flat.disc.as_ref()?.figures {
        Figures::Disc(figures) => Some(figures),
        Figures::Skin(_) => None,
    }
}

/// The flat layup's second-degree burn.
pub fn flat_second_degree(quilted: &Quilted) -> Option<When> {
    quilted.flat.skin.as_ref()?.second_degree()
}

fn skin_section(quilted: &Quilted, skin: &QuiltedSkin) -> String {
    use Align::{Left, Right};
    let (stitch, centre) = (skin.stitch_line(), skin.centre());
    let mut table = Table::new(&[Left, Right, Right, Left, Right, Right, Left]);
    table.row(["", "stitch line", "", "", "cell centre", "", ""]);
    table.row(["", "s", "± mesh", "", "s", "± mesh", ""]);
    let times =
        |place: &SkinPlace| [place.basal_44, place.degrees[0], place.degrees[1], place.degrees[2]];
    let names = ["basal layer at 44 °C", "first degree", "second degree", "third degree"];
    let valid = t_valid(&skin.plies);
    for ((name, one), other) in names.iter().zip(times(stitch)).zip(times(centre)) {
        let cells = [one, other].map(|when| {
            let [value, error, _, mark] = time_cells(&when, None, valid);
            [value, error, mark]
        });
        table.row(std::iter::once((*name).to_string()).chain(cells.concat()));
    }
    let mut out = table.render();
    if let Some(flat) = flat_second_degree(quilted) {
        let text = format!("Flat, plies as listed: second degree {}.", when_in_words(&flat));
        out.push_str(&paragraph(&text, 2));
    }
    out.push('\n');
    out.push_str(&burnt_table(quilted, skin));
    out
}

fn burnt_table(quilted: &Quilted, skin: &QuiltedSkin) -> String {
    use Align::{Left, Right};
    let shares = [0.1, 0.25, 0.5, 0.75, 1.0];
    let mut table = Table::new(&[Left, Right, Right, Right, Right, Right, Right]);
    let head = shares.map(|share| format!("{} %", PERCENT.short(share, 0)));
    let first = "any".to_string();
    table.row(["area burnt to second degree".to_string(), first].into_iter().chain(head));
    let time = |t: Option<f64>| t.map_or("never".to_string(), |t| fixed(t, 2));
    let any = skin.burnt.breakpoints().first().copied();
    let by = shares.map(|share| time(skin.burnt.time_of(share * (1.0 - 1e-9))));
    table.row(["by, s".to_string(), time(any)].into_iter().chain(by));
    let error = PERCENT.fixed(skin.area_error, 1);
    let end = skin.burnt.by(quilted.exposure.t_end);
    table.render()
        + &paragraph(
            &format!(
                "{} % of the area in the end, within {} s. ± {error} % of the area from the {} \
                 points over the cell.",
                PERCENT.fixed(end, 1),
                short(quilted.exposure.t_end, 1),
                quilted.n_points
            ),
            2,
        )
}

/// What the bench's one disc does not show, from the numbers.
pub fn averages_away(quilted: &Quilted) -> Option<String> {
    let (disc, figures) = (quilted.disc.as_ref()?, &quilted.disc.as_ref()?.shared.figures);
    let name = figure_name(Figure::Rise24, &quilted.exposure);
    let mut text = format!(
        "Stitch lines are {} % of the area and let {} % of the disc's heat through (up to {} s).",
        PERCENT.fixed(quilted.stitch_share, 1),
        PERCENT.fixed(disc.stitch_heat_share, 1),
        fixed(disc.t_heat, 1)
    );
    if let (Some(shared), Some(pressed)) = (figures.rise24.t(), disc.pressed.figures.rise24.t()) {
        text += &format!(
            " The disc reads {name} {} s; behind pressed plies alone it would read {} s, {} % less.",
            fixed(shared, 2),
            fixed(pressed, 2),
            PERCENT.fixed(1.0 - pressed / shared, 0)
        );
    }
    let second = |place: &SkinPlace| place.degrees[1].t();
    if let Some(skin) = &quilted.skin {
        if let (Some(stoll), Some(stitch)) = (figures.stoll.t(), second(skin.stitch_line())) {
            text += &format!(
                " By the Stoll curve the disc sees a second-degree burn at {} s; skin behind the stitch \
             line has it at {} s, {}{}",
                fixed(stoll, 2),
                fixed(stitch, 2),
                apart(stoll - stitch),
                match second(skin.centre()) {
                    Some(centre) => format!(", behind the centre at {} s.", fixed(centre, 2)),
                    None => ", behind the centre never.".to_string(),
                }
            );
            text += &format!(
                " When the disc sees it, {} % of the area is burnt.",
                PERCENT.fixed(skin.burnt.by(stoll), 0)
            );
        }
    }
    Some(text)
}

fn apart(earlier_by: f64) -> String {
    let word = if earlier_by >= 0.0 { "earlier" } else { "later" };
    format!("{} s {word}", fixed(earlier_by.abs(), 2))
}

fn exactness(quilted: &Quilted) -> String {
    let mut out = paragraph(RESTS_ON, 2);
    out.push_str(&paragraph(
        &format!(
            "± mesh is the numerical error of a path, ± area the difference between {} and {} points \
             over a cell. What the fabric data and the model leave out weighs more. {}",
            quilted.n_points,
            quilted.n_points / 2,
            match quilted.sideways {
                Some(_) => "Each place alone leaves out heat between neighbouring places.",
                None => LEFT_OUT,
            }
        ),
        2,
    ));
    let disc = quilted.disc.as_ref().map(|disc| ("disc", &disc.shared.numerics));
    let skin = quilted.skin.as_ref().map(|skin| ("skin", &skin.numerics));
    let patched = quilted.patch.as_ref();
    let both =
        patched.and_then(|patched| Some(("disc behind both", &patched.both.as_ref()?.numerics)));
    let under = patched
        .and_then(|patched| Some(("skin under the patch", &patched.under_skin.as_ref()?.numerics)));
    for (behind, n) in disc.into_iter().chain(skin).chain(both).chain(under) {
        let kept = if n.goal_met { "kept to" } else { "NOT kept to" };
        out.push_str(&paragraph(
            &format!(
                "{behind}: error goal {} % of each time {kept}; energy audit {} of the heat in; {} \
                 nodes, {} steps, {} rejected.",
                PERCENT.short(n.error_goal, 3),
                significant(n.audit, 2),
                n.n_nodes,
                n.n_steps,
                n.n_rejected
            ),
            2,
        ));
    }
    out
}
