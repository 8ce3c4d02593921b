//! Claim: what all paths pass on is what the one disc takes up; results are finite, in order, and
//! the same on any number of threads.
//! Source: conservation of energy; the order of places follows from their resistances.
//! Tolerance: 1e-9 of the heat, the solver's own account.

use proptest::prelude::*;
use stillair::bench::expose::Behind;
use stillair::bench::trace::Trace;
use stillair::bench::vapour::ratios;
use stillair::garment::layup::Pattern;
use stillair::physics::vapour::enthalpy_liquid;
use stillair::solver::problem::Problem;
use stillair::study::quilt::path::{Path, paths};
use stillair::study::quilt::quilt;
use stillair::study::quilt::run::into_one_disc;

use crate::study::rig::{Rig, agree, quilting, rig};

fn with_area(mm: [f64; 4], pattern: Pattern, n: usize) -> Vec<Path> {
    paths(&quilting(pattern, mm), n).into_iter().filter(|path| path.share > 0.0).collect()
}

/// What a path is at one moment.
struct State<'a> {
    temps: &'a [f64],
    contents: &'a [f64],
    converted: &'a [f64],
}

impl<'a> State<'a> {
    fn of(trace: &'a Trace, row: usize) -> State<'a> {
        State {
            temps: trace.row(row),
            contents: trace.contents(row),
            converted: trace.converted(row),
        }
    }

    /// Heat that water in the slabs keeps [J/m²].
    fn of_water(&self, problem: &Problem) -> f64 {
        let ratios = ratios(problem, self.contents);
        let mut sum = 0.0;
        for (slab, (first, _)) in problem.slabs.iter().zip(problem.spans()) {
            let sorbent = slab.sorbent.expect("water moves everywhere");
            for (c, dx) in slab.cells.iter().enumerate() {
                for i in [first + c, first + c + 1] {
                    sum += 0.5 * dx * sorbent.heat(self.temps[i], sorbent.bound_65 * ratios[i]);
                }
            }
        }
        sum
    }

    /// Heat that conversion keeps [J/m²].
    fn of_char(&self, problem: &Problem) -> f64 {
        let begins = problem.reaction_entries().0;
        let mut sum = 0.0;
        for ((slab, (first, _)), begin) in problem.slabs.iter().zip(problem.spans()).zip(begins) {
            let Some(own) = &slab.reacting else { continue };
            let n_nodes = slab.cells.len() + 1;
            let heat = |c: usize| {
                let of = |r: usize| self.converted[begin + r * n_nodes + c];
                let shares: Vec<f64> = (0..own.reactions.len()).map(of).collect();
                own.heat(self.temps[first + c], &slab.medium.rho_cp, &shares)
            };
            let cells = slab.cells.iter().enumerate();
            sum += cells.map(|(c, dx)| 0.5 * dx * (heat(c) + heat(c + 1))).sum::<f64>();
        }
        sum
    }

    /// Heat that the film on the disc keeps [J/m²].
    fn of_film(&self) -> f64 {
        let last = self.temps.len() - 1;
        self.contents[last] * enthalpy_liquid(self.temps[last])
    }
}

/// Heat in the slabs and air of a path, from temperatures and contents alone [J/m²].
fn held(problem: &Problem, start: &State, peaks: &[f64], end: &State) -> f64 {
    use stillair::solver::problem::{Back, Joint};
    let mut sum = end.of_water(problem) - start.of_water(problem);
    sum += end.of_char(problem) - start.of_char(problem);
    let spans = problem.spans();
    for (slab, (first, _)) in problem.slabs.iter().zip(&spans) {
        for (c, dx) in slab.cells.iter().enumerate() {
            for i in [first + c, first + c + 1] {
                let (from, medium) = (start.temps[i], &slab.medium);
                sum += 0.5 * dx * (medium.heat(end.temps[i], peaks[i]) - medium.heat(from, from));
            }
        }
    }
    let back = match problem.back {
        Back::Lump { joint, .. } => joint,
        _ => Joint::Shared,
    };
    for (joint, (_, last)) in problem.joints.iter().chain([&back]).zip(&spans) {
        if let Joint::Air { cap_area, .. } = joint {
            let rise = |i: usize| end.temps[i] - start.temps[i];
            sum += 0.5 * cap_area * (rise(*last) + rise(last + 1));
        }
    }
    sum
}

#[test]
fn the_disc_takes_up_what_the_paths_pass_on() {
    let rig = rig("three-ply-quilted-blank");
    for (pattern, n) in [(Pattern::Channels, 5), (Pattern::Square, 9), (Pattern::Diamond, 23)] {
        let mm = [25.0, 2.0, 3.0, 1.4];
        let quilting = quilting(pattern, mm);
        let question = rig.question(Behind::Disc);
        let case = rig.case(&quilting, &question);
        let all = with_area(mm, pattern, n);
        let shared = into_one_disc(&case, &all, 1).unwrap();
        assert!(shared.ledger.residual() < 1e-9, "{:e}", shared.ledger.residual());
        let cap_area = rig.exposure.disc.cap_area();
        let trace = &shared.disc.trace;
        let last_row = trace.t.len() - 1;
        let (start, end) = (trace.row(0), trace.row(last_row));
        let films: f64 = all
            .iter()
            .zip(shared.traces())
            .map(|(path, trace)| {
                let [start, end] = [0, last_row].map(|row| State::of(trace, row).of_film());
                path.share * (end - start)
            })
            .sum();
        let disc = cap_area * (end[shared.n_nodes - 1] - start[shared.n_nodes - 1]) + films;
        let passed = shared.passed_on(shared.ledger.t).unwrap();
        let sum: f64 = all.iter().zip(&passed).map(|(path, heat)| path.share * heat).sum();
        agree("sum of the accounts", sum, disc, 1e-9);
        // between two steps, at the moment of 24 K: the march goes on to it with its own error
        let t24 = shared.disc.events.rises[1].unwrap();
        let passed = shared.passed_on(t24).unwrap();
        let sum: f64 = all.iter().zip(&passed).map(|(path, heat)| path.share * heat).sum();
        let moments = shared.moments(t24).unwrap();
        let films: f64 = all
            .iter()
            .zip(&moments)
            .map(|(path, now)| {
                path.share
                    * State {
                        temps: &now.temps,
                        contents: &now.contents,
                        converted: &now.converted,
                    }
                    .of_film()
            })
            .sum();
        agree("24 K of the disc", sum, 24.0 * cap_area + films, 1e-3);
        // and without the solver's account of what is stored
        use stillair::bench::assemble::Backing;
        let made = case.assemblies(&all, Backing::Disc, 1);
        let mut sum = 0.0;
        for (((path, one), trace), ledger) in
            all.iter().zip(&made).zip(shared.traces()).zip(&shared.ledgers)
        {
            let peaks: Vec<f64> = (0..shared.n_nodes)
                .map(|i| trace.rows().map(|row| row[i]).fold(0.0, f64::max))
                .collect();
            let [start, end] = [0, last_row].map(|row| State::of(trace, row));
            sum += path.share * (ledger.heat_in - held(&one.problem, &start, &peaks, &end));
        }
        agree("sum of heat in less heat held", sum, disc, 1e-9);
    }
}

#[test]
fn the_bench_lies_between_its_paths_and_skin_keeps_their_order() {
    let rig = rig("three-ply-quilted-blank");
    let quilting = rig.layup.quilting.clone().unwrap();
    let quilted =
        quilt(&rig.layup, &quilting, &rig.exposure, &rig.question(Behind::Both), 6).unwrap();
    let disc = quilted.disc.unwrap();
    let t =
        |answer: &stillair::study::quilt::outcome::DiscAnswer| answer.figures.rise24.t().unwrap();
    assert!(t(&disc.pressed) < t(&disc.shared) && t(&disc.shared) < t(&disc.lofted));
    assert!(disc.stitch_heat_share > quilted.stitch_share, "stitch lines let more through");
    let skin = quilted.skin.unwrap();
    let times: Vec<f64> = skin.places.iter().map(|p| p.degrees[1].t().unwrap()).collect();
    assert!(times.windows(2).all(|pair| pair[0] < pair[1]), "{times:?}");
    let shares: Vec<f64> = times.iter().map(|t| skin.burnt.by(*t)).collect();
    assert!(shares.windows(2).all(|pair| pair[0] <= pair[1]), "{shares:?}");
    agree("the stitch line burns at once", shares[0], quilted.stitch_share, 1e-12);
    agree("all of it in the end", *shares.last().unwrap(), 1.0, 1e-12);
}

#[test]
fn the_points_settle_the_figures() {
    let rig = rig("three-ply-quilted-blank");
    let quilting = rig.layup.quilting.clone().unwrap();
    let at = |n| {
        let question = rig.question(Behind::Both);
        let quilted = quilt(&rig.layup, &quilting, &rig.exposure, &question, n).unwrap();
        let disc = quilted.disc.unwrap();
        (
            disc.shared.figures.rise24.t().unwrap(),
            disc.area_errors[1].unwrap(),
            quilted.skin.unwrap(),
        )
    };
    let (reference, _, skin_reference) = at(30);
    for n in [4, 8, 14] {
        let (t, error, skin) = at(n);
        // two runs settle their own mesh error besides, at a thousandth of the time
        assert!((t - reference).abs() <= error + 1e-3 * t, "{n}: {t} is not {reference} ± {error}");
        let off = skin.burnt.distance(&skin_reference.burnt);
        assert!(off <= skin.area_error, "{n}: area off by {off}, said {}", skin.area_error);
    }
}

#[test]
fn any_number_of_threads_gives_the_same_bits() {
    let rig = rig("three-ply-quilted-blank");
    let quilting = rig.layup.quilting.clone().unwrap();
    let on = |n: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(n).build().unwrap();
        pool.install(|| {
            quilt(&rig.layup, &quilting, &rig.exposure, &rig.question(Behind::Both), 5).unwrap()
        })
    };
    assert_eq!(on(1), on(4));
}

/// Every number of a result, for the search for what is no number.
fn all_numbers(rig: &Rig, quilted: &stillair::study::quilt::Quilted) -> Vec<f64> {
    let disc = quilted.disc.as_ref().unwrap();
    let mut all = vec![disc.stitch_heat_share, disc.t_heat, quilted.stitch_share];
    for answer in [&disc.shared, &disc.pressed, &disc.lofted] {
        all.extend(answer.figures.rise24.t());
        all.extend(answer.rise.iter().flat_map(|(t, rise)| [*t, *rise]));
    }
    let skin = quilted.skin.as_ref().unwrap();
    all.push(skin.area_error);
    all.extend(skin.places.iter().filter_map(|place| place.degrees[1].t()));
    all.extend((0..20).map(|i| skin.burnt.by(rig.exposure.t_end * f64::from(i) / 20.0)));
    all
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    #[test]
    fn quiltings_at_random_give_numbers_or_say_why_not(
        which in 0usize..3,
        pitch in 3.0f64..200.0,
        width in 0.0f64..8.0,
        loft in 0.0f64..30.0,
        pressed in 0.05f64..3.0,
        duration in 1.0f64..40.0,
    ) {
        let mut rig = rig("three-ply-quilted-blank");
        rig.exposure.duration = Some(duration);
        rig.exposure.t_end = 60.0;
        let quilting = quilting(Pattern::ALL[which], [pitch, width, loft, pressed]);
        match quilt(&rig.layup, &quilting, &rig.exposure, &rig.question(Behind::Both), 3) {
            Err(error) => {
                let said = error.to_string();
                prop_assert!(said.contains("expected:") && said.contains("mend:"), "{said}");
                prop_assert!(width >= pitch || !(1.0..=2.3).contains(&pressed), "{said}");
            }
            Ok(quilted) => {
                let all = all_numbers(&rig, &quilted);
                prop_assert!(all.iter().all(|value| value.is_finite() && *value >= 0.0), "{all:?}");
                let shares = [duration, 60.0].map(|t| quilted.skin.as_ref().unwrap().burnt.by(t));
                prop_assert!(shares[0] <= shares[1] && shares[1] <= 1.0 + 1e-12, "{shares:?}");
            }
        }
    }
}
