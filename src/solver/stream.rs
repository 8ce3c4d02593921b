//! A stream of problems of one shape, several at a time.

use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::march::step;
use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::state::State;
use crate::solver::watch::Watch;

/// Where a stream of problems comes from and where their ends go.
pub trait Stream<'a> {
    /// Looks at the steps of one problem.
    type Watch: Watch;

    /// The next problem with its watch; none when the stream has run dry.
    fn next(&mut self) -> Option<(&'a Problem, Self::Watch)>;

    /// Takes back the watch of a problem that has ended; `order` counts the problems as they came, from 0.
    fn ended(&mut self, order: usize, watch: Self::Watch, end: Result<Ledger, SolverError>);
}

/// Advances a stream of problems, `L` at a time; a lane that ends takes the next problem at once.
///
/// Every problem comes out with the same bits as from [`march`](crate::solver::march::march),
/// whatever its neighbours. A problem that is unusable, or whose shape is not the first usable
/// one's ([`Lanes::new`]), ends with that error and disturbs no other.
pub fn march_stream<'a, S: Stream<'a>, const L: usize>(stream: &mut S, options: &Options) {
    let mut seats = Seats { n_come: 0, orders: [0; L], watches: std::array::from_fn(|_| None) };
    let Some(mut state) = seats.first(stream, options) else { return };
    for l in 1..L {
        seats.fill(l, stream, &mut state);
    }
    while state.is_active() {
        step(&mut state, &mut seats.watches);
        for l in 0..L {
            if let Some(end) = state.take_end(l) {
                let watch = seats.watches[l].take().expect("an active lane has a watch");
                stream.ended(seats.orders[l], watch, end);
                seats.fill(l, stream, &mut state);
            }
        }
    }
}

/// Who sits in which lane.
struct Seats<W, const L: usize> {
    n_come: usize,
    orders: [usize; L],
    watches: [Option<W>; L],
}

impl<W: Watch, const L: usize> Seats<W, L> {
    /// Opens a march with the first usable problem in lane 0 and the other lanes idle.
    fn first<'a, S: Stream<'a, Watch = W>>(
        &mut self,
        stream: &mut S,
        options: &Options,
    ) -> Option<State<L>> {
        loop {
            let (problem, watch) = stream.next()?;
            let order = self.n_come;
            self.n_come += 1;
            match Lanes::new(&[problem; L]) {
                Ok(lanes) => {
                    self.orders[0] = order;
                    self.watches[0] = Some(watch);
                    return Some(State::with_first_lane(lanes, options));
                }
                Err(fault) => stream.ended(order, watch, Err(fault.into())),
            }
        }
    }

    /// Puts the next usable problem into a lane; leaves it idle when there is none.
    fn fill<'a, S: Stream<'a, Watch = W>>(
        &mut self,
        l: usize,
        stream: &mut S,
        state: &mut State<L>,
    ) {
        while let Some((problem, watch)) = stream.next() {
            let order = self.n_come;
            self.n_come += 1;
            match state.load(l, problem) {
                Ok(()) => {
                    self.orders[l] = order;
                    self.watches[l] = Some(watch);
                    return;
                }
                Err(fault) => stream.ended(order, watch, Err(fault.into())),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::gap::Convection;
    use crate::physics::law::Law;
    use crate::solver::fault::Fault;
    use crate::solver::march::{march, march_lanes};
    use crate::solver::problem::{Back, Change, Drive, Joint, Medium, Piece, Slab};
    use crate::solver::target::NARROW;
    use crate::solver::watch::{Next, Step};
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    /// Notes the bits of every step and stops once the last node is `rise` warmer.
    #[derive(Debug, Clone, PartialEq, Default)]
    struct Bits {
        rise: f64,
        steps: Vec<[u64; 3]>,
    }

    impl Watch for Bits {
        fn step(&mut self, step: &Step<'_>) -> Next {
            let last = step.n_nodes() - 1;
            let bits = [step.t1, step.temp1(0), step.temp1(last)].map(f64::to_bits);
            self.steps.push(bits);
            if step.temp1(last) > 298.15 + self.rise { Next::Stop } else { Next::Go }
        }
    }

    /// Problem `i` of a family of one shape: two slabs, wet and dry, an air space, a lump.
    fn problem(i: usize) -> Problem {
        let vary = |scale: f64| scale * (1.0 + 0.07 * (i % 7) as f64);
        let change = Change {
            heat: vary(2e7),
            rho_cp_lost: 2e4,
            k_lost: vary(0.03),
            temp_lo: 348.15,
            temp_hi: 398.15,
        };
        let slab = |thickness: f64, changes: Vec<Change>| Slab {
            medium: Medium {
                k: Law::line(vary(0.04), 298.15, 1e-4),
                rho_cp: Law::line(vary(3e5), 298.15, 300.0),
                changes,
                sink: None,
            },
            cells: vec![thickness / 4.0; 4],
            extinction: (i % 2 == 0).then_some(4e3),
            sorbent: None,
            reacting: None,
            temps_start: (298.15, 298.15),
        };
        let h = (vary(20.0), vary(20.0));
        let piece =
            |t_end: f64, q: f64| Piece { t_end, h, temp_gas: 1500.0, p_vapour: 0.0, q_rad: (q, q) };
        Problem {
            slabs: vec![slab(vary(5e-4), vec![change]), slab(1e-3, vec![])],
            joints: vec![Joint::Air {
                thickness: vary(1e-3),
                exchange: 0.8,
                convection: Convection::HeatedFromBelow,
                cap_area: 0.9,
            }],
            back: Back::Lump { joint: Joint::Shared, cap_area: 5.5e3, temp_start: 298.15 },
            drive: Drive {
                pieces: vec![piece(vary(4.0), 3e4), piece(20.0, 1e3)],
                emissivity: 0.9,
                temp_surround: 298.15,
                blown: false,
            },
            source: None,
        }
    }

    struct Family<'a> {
        next: usize,
        problems: &'a [Problem],
        ends: Vec<Option<(Bits, Result<Ledger, SolverError>)>>,
    }

    impl<'a> Stream<'a> for Family<'a> {
        type Watch = Bits;

        fn next(&mut self) -> Option<(&'a Problem, Bits)> {
            let i = self.next;
            self.next += 1;
            let watch = Bits { rise: 3.0 + (i % 4) as f64, steps: Vec::new() };
            Some((self.problems.get(i)?, watch))
        }

        fn ended(&mut self, order: usize, watch: Bits, end: Result<Ledger, SolverError>) {
            assert!(self.ends[order].is_none(), "problem {order} ended twice");
            self.ends[order] = Some((watch, end));
        }
    }

    /// Gives up from a time on.
    struct Leaves(f64);

    impl Watch for Leaves {
        fn step(&mut self, step: &Step<'_>) -> Next {
            if step.t1 >= self.0 { Next::GiveUp } else { Next::Go }
        }
    }

    /// Given up on the last step of its drive, a lane rests while the other goes on.
    #[test]
    fn a_lane_given_up_at_its_end_disturbs_no_other() {
        let (first, mut second) = (problem(0), problem(1));
        let t_end = first.drive.pieces[1].t_end;
        second.drive.pieces[1].t_end = 2.0 * t_end;
        let lanes = Lanes::new(&[&first, &second]).unwrap();
        let mut watches = [Leaves(t_end), Leaves(f64::INFINITY)];
        let ended = march_lanes(&lanes, &Options::default(), &mut watches);
        assert_eq!(ended, Err(SolverError::GivenUp { t: t_end }));
    }

    fn check_stream<const L: usize>(n: usize) {
        let mut problems: Vec<Problem> = (0..n).map(problem).collect();
        for odd in problems.iter_mut().skip(3).step_by(5) {
            odd.slabs[1].cells.pop();
        }
        let mut family = Family { next: 0, problems: &problems, ends: vec![None; n] };
        let options = Options::default();
        march_stream::<_, L>(&mut family, &options);
        for (i, end) in family.ends.iter().enumerate() {
            let (watch, end) = end.as_ref().expect("every problem ends");
            if i % 5 == 3 {
                assert_eq!(*end, Err(Fault::Shape.into()), "{i}");
                continue;
            }
            let mut alone = Bits { rise: watch.rise, steps: Vec::new() };
            let ledger = march(&problem(i), &options, &mut alone).unwrap();
            assert_eq!(*watch, alone, "problem {i} in {L} lanes");
            assert_eq!(*end, Ok(ledger), "problem {i} in {L} lanes");
        }
    }

    /// A problem of any laws and joints, of one of two shapes by `wet`.
    fn any_problem(wet: bool) -> impl Strategy<Value = Problem> {
        let law = |least: f64, most: f64| {
            (least..most, prop::collection::vec(0.5..2.0f64, 0..5)).prop_map(|(value, factors)| {
                let along = |(i, factor)| (320.0 + 150.0 * i as f64, value * factor);
                let points = factors.into_iter().enumerate().map(along);
                Law::table(&[(280.0, value)].into_iter().chain(points).collect::<Vec<_>>())
            })
        };
        let slab = move |n_cells: usize, n_changes: usize| {
            let amounts = (1e6..5e7f64, 0.0..5e4f64, 0.0..0.1f64);
            let change = amounts.prop_map(|(heat, rho_cp_lost, k_lost)| Change {
                heat,
                rho_cp_lost,
                k_lost,
                temp_lo: 348.15,
                temp_hi: 398.15,
            });
            let changes = prop::collection::vec(change, n_changes);
            let size = (2e-4..2e-3f64, proptest::option::of(1e3..1e4f64));
            (law(0.03, 0.2), law(1e5, 6e5), changes, size).prop_map(
                move |(k, rho_cp, changes, size)| Slab {
                    medium: Medium { k, rho_cp, changes, sink: None },
                    cells: vec![size.0 / n_cells as f64; n_cells],
                    extinction: size.1,
                    sorbent: None,
                    reacting: None,
                    temps_start: (298.15, 298.15),
                },
            )
        };
        let air = (1e-4..8e-3f64, 0.3..0.9f64, 0..3usize).prop_map(|(thickness, exchange, how)| {
            let vertical = Convection::Vertical { aspect: (0.1 / thickness).max(1.0) };
            let convection = [Convection::Still, Convection::HeatedFromBelow, vertical][how];
            Joint::Air { thickness, exchange, convection, cap_area: 800.0 * thickness }
        });
        let drive = (1.0..20.0f64, 5.0..60.0f64, 0.0..6e4f64, 0.3..1.0f64);
        let slabs = (slab(4, usize::from(wet)), slab(3, usize::from(wet)));
        (slabs, air, 500.0..50.0e3f64, drive).prop_map(|(slabs, air, h, drive)| {
            let (t_flame, film, q, emissivity) = drive;
            let flame = Piece {
                t_end: t_flame,
                h: (film, film),
                temp_gas: 1800.0,
                p_vapour: 0.0,
                q_rad: (q, q),
            };
            let room = Piece {
                t_end: 25.0,
                h: (10.0, 10.0),
                temp_gas: 298.15,
                p_vapour: 0.0,
                q_rad: (0.0, 0.0),
            };
            let joint = Joint::Conductance(h);
            Problem {
                slabs: vec![slabs.0, slabs.1],
                joints: vec![air],
                back: Back::Lump { joint, cap_area: 5.5e3, temp_start: 298.15 },
                drive: Drive {
                    pieces: vec![flame, room],
                    emissivity,
                    temp_surround: 298.15,
                    blown: false,
                },
                source: None,
            }
        })
    }

    /// Bits and ends of a stream in `L` lanes.
    fn streamed<const L: usize>(
        problems: &[Problem],
        narrow: bool,
    ) -> Vec<(Bits, Result<Ledger, SolverError>)> {
        NARROW.set(narrow);
        let mut family = Family { next: 0, problems, ends: vec![None; problems.len()] };
        march_stream::<_, L>(&mut family, &Options::default());
        NARROW.set(false);
        family.ends.into_iter().map(|end| end.expect("every problem ends")).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 30,
            rng_seed: RngSeed::Fixed(17492),
            max_shrink_iters: 100,
            failure_persistence: None,
            ..ProptestConfig::default()
        })]

        #[test]
        fn any_problem_has_the_same_bits_in_any_lanes_on_any_target(
            problems in any::<bool>().prop_flat_map(|wet| prop::collection::vec(any_problem(wet), 1..20)),
        ) {
            let first = streamed::<1>(&problems, true);
            prop_assert_eq!(&streamed::<1>(&problems, false), &first);
            for narrow in [true, false] {
                prop_assert_eq!(&streamed::<2>(&problems, narrow), &first);
                prop_assert_eq!(&streamed::<4>(&problems, narrow), &first);
                prop_assert_eq!(&streamed::<8>(&problems, narrow), &first);
                prop_assert_eq!(&streamed::<16>(&problems, narrow), &first);
            }
        }
    }

    #[test]
    fn every_target_gives_the_same_bits() {
        let options = Options::default();
        for i in 0..6 {
            let run = |narrow: bool| {
                NARROW.set(narrow);
                let mut bits = Bits { rise: 5.0, steps: Vec::new() };
                let ledger = march(&problem(i), &options, &mut bits).unwrap();
                NARROW.set(false);
                (ledger, bits)
            };
            assert_eq!(run(true), run(false), "problem {i}");
        }
    }

    #[test]
    fn every_problem_has_the_bits_of_a_march_of_its_own() {
        check_stream::<1>(6);
        check_stream::<4>(23);
        check_stream::<8>(3);
        check_stream::<8>(40);
    }
}
