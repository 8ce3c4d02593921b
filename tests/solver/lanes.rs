//! Claim: the tridiagonal kernel solves what LAPACK solves, and problems side by side give the
//! same bits as each alone.
//! Source: LAPACK's `dgttrf` and `dgttrs` by ndarray-linalg and OpenBLAS; the march itself.
//! Tolerance: the backward error of elimination without pivoting on a dominant matrix,
//! 8 n ε times the condition's bound (Higham, Accuracy and Stability of Numerical Algorithms,
//! 2nd edition, section 9.6); none for the bits.

use crate::solver::rig::medium;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use stillair::physics::gap::Convection;
use stillair::physics::law::Law;
use stillair::solver::fault::Fault;
use stillair::solver::lanes::Lanes;
use stillair::solver::ledger::Ledger;
use stillair::solver::march::{Options, march, march_lanes};
use stillair::solver::problem::{Back, Change, Drive, Joint, Medium, Piece, Problem, Sink, Slab};
use stillair::solver::tridiagonal::Tridiagonal;
use stillair::solver::watch::{Next, Step, Watch};

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(6942),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

type Row = (f64, f64, f64, f64);

fn solved<const L: usize>(systems: &[Vec<Row>; L]) -> Vec<[f64; L]> {
    let n = systems[0].len();
    let mut matrix = Tridiagonal::<L>::zeros(n);
    let mut rhs = vec![[0.0; L]; n];
    for i in 0..n {
        for l in 0..L {
            let (lower, excess, upper, b) = systems[l][i];
            matrix.lower[i][l] = lower;
            matrix.diag[i][l] = lower.abs() + upper.abs() + excess;
            matrix.upper[i][l] = upper;
            rhs[i][l] = b;
        }
    }
    matrix.factor(None);
    matrix.solve(&mut rhs, None);
    rhs
}

fn any_system(n: usize) -> impl Strategy<Value = Vec<Row>> {
    let row = (-1e3..1e3f64, 1e-3..1e3f64, -1e3..1e3f64, -1e4..1e4f64);
    prop::collection::vec(row, n..=n)
}

#[cfg(feature = "lapack")]
proptest! {
    #![proptest_config(settings(300))]

    #[test]
    fn kernel_agrees_with_lapack(system in (2..200usize).prop_flat_map(any_system)) {
        let n = system.len();
        let lower: Vec<f64> = system[1..].iter().map(|row| row.0).collect();
        let upper: Vec<f64> = system[..n - 1].iter().map(|row| row.2).collect();
        let diag: Vec<f64> = system.iter().map(|r| r.0.abs() + r.2.abs() + r.1).collect();
        let rhs: Vec<f64> = system.iter().map(|row| row.3).collect();
        let other = stillair::study::lapack::solve_tridiagonal(&lower, &diag, &upper, &rhs)
            .expect("a dominant matrix is regular");
        // infinity norms: the inverse is at most one over the least excess (Varah 1975)
        let excess = system.iter().map(|row| row.1).fold(f64::INFINITY, f64::min);
        let norm = diag.iter().fold(0.0, |most: f64, d| most.max(2.0 * d));
        let size = other.iter().fold(0.0, |most: f64, x| most.max(x.abs()));
        let bound = 8.0 * n as f64 * f64::EPSILON * norm / excess * size;
        for (own, other) in solved(&[system]).iter().zip(&other) {
            prop_assert!((own[0] - other).abs() <= bound, "{} and {other}, bound {bound:e}", own[0]);
        }
    }
}

/// Everything that a step shows, as bits.
#[derive(Default)]
struct Bits(Vec<u64>);

impl Watch for Bits {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.0.extend([step.t0, step.t1, step.heat_in].map(f64::to_bits));
        for i in 0..step.n_nodes() {
            self.0.extend([step.temp1(i), step.slope1(i)].map(f64::to_bits));
        }
        Next::Go
    }
}

prop_compose! {
    fn any_medium()(
        k in 0.03..0.3f64,
        slope in 0.0..2e-4f64,
        rho_cp in 5e4..2e6f64,
        water in 0.0..40.0f64,
        window in 5.0..60.0f64,
        kinks in 0..3usize,
    ) -> Medium {
        let kinked = [(280.0, k), (400.0, k + 100.0 * slope), (600.0, k + 150.0 * slope)];
        let change = Change {
            heat: water * 2.2564e6,
            rho_cp_lost: water * 4191.2,
            k_lost: (600.0 * slope - 0.02).max(0.0),
            temp_lo: 348.15,
            temp_hi: 348.15 + window,
        };
        Medium {
            k: Law::table(&kinked[..=kinks]),
            rho_cp: Law::constant(rho_cp + water * 4191.2),
            changes: vec![change],
            sink: Some(Sink { rate: 1e3 * slope * 1e4, temp: 300.0 }),
        }
    }
}

prop_compose! {
    /// Two slabs, an air space, a lump; flame, then room.
    fn any_problem()(
        media in (any_medium(), any_medium()),
        (outer, inner) in (3e-4..2e-3f64, 3e-4..2e-3f64),
        extinction in prop_oneof![Just(None), (500.0..5000.0f64).prop_map(Some)],
        thickness in 1e-4..1.2e-2f64,
        still in any::<bool>(),
        (q, h) in (0.0..5e4f64, 0.0..40.0f64),
        t_flame in 0.3..3.0f64,
        emissivity in 0.0..1.0f64,
    ) -> Problem {
        let slab = |medium: Medium, thickness: f64, n: usize, extinction| Slab {
            medium,
            cells: vec![thickness / n as f64; n],
            extinction,
            sorbent: None, reacting: None, temps_start: (298.15, 298.15),
        };
        let convection = if still { Convection::Still } else { Convection::HeatedFromBelow };
        let air = Joint::Air { thickness, exchange: 0.85, convection, cap_area: 1.0 };
        let pieces = vec![
            Piece { t_end: t_flame, h: (h, h), temp_gas: 2000.0, p_vapour: 0.0, q_rad: (q, 0.5 * q) },
            Piece { t_end: t_flame + 4.0, h: (10.0, 10.0), temp_gas: 298.15, p_vapour: 0.0, q_rad: (0.0, 0.0) },
        ];
        Problem {
            slabs: vec![slab(media.0, outer, 5, extinction), slab(media.1, inner, 4, None)],
            joints: vec![air],
            back: Back::Lump { joint: Joint::Conductance(500.0), cap_area: 5514.7, temp_start: 298.15 },
            drive: Drive { pieces, emissivity, temp_surround: 298.15, blown: false },
            source: None,
        }
    }
}

fn alone(problem: &Problem) -> (Ledger, Vec<u64>) {
    let mut bits = Bits::default();
    let ledger = march(problem, &Options::default(), &mut bits).expect("a march");
    (ledger, bits.0)
}

fn together<const L: usize>(problems: &[Problem]) -> Vec<(Ledger, Vec<u64>)> {
    let problems: [&Problem; L] = std::array::from_fn(|l| &problems[l]);
    let lanes = Lanes::new(&problems).expect("one shape");
    let mut watches: [Bits; L] = std::array::from_fn(|_| Bits::default());
    let ledgers = march_lanes(&lanes, &Options::default(), &mut watches).expect("a march");
    ledgers.into_iter().zip(watches.map(|watch| watch.0)).collect()
}

proptest! {
    #![proptest_config(settings(100))]

    #[test]
    fn lanes_of_the_kernel_give_the_same_bits(
        systems in (1..60usize).prop_flat_map(|n| prop::collection::vec(any_system(n), 8))
    ) {
        let side_by_side = solved::<8>(&std::array::from_fn(|l| systems[l].clone()));
        for l in 0..8 {
            for (single, all) in solved(&[systems[l].clone()]).iter().zip(&side_by_side) {
                prop_assert_eq!(single[0].to_bits(), all[l].to_bits());
            }
        }
    }

    #[test]
    fn lanes_of_the_march_give_the_same_bits(problems in prop::collection::vec(any_problem(), 8)) {
        let eight = together::<8>(&problems);
        let four = together::<4>(&problems[2..6]);
        for (l, problem) in problems.iter().enumerate() {
            let (ledger, bits) = alone(problem);
            prop_assert_eq!(&eight[l].0, &ledger, "lane {} of 8", l);
            prop_assert!(eight[l].1 == bits, "lane {l} of 8");
            if (2..6).contains(&l) {
                prop_assert_eq!(&four[l - 2].0, &ledger, "lane {} of 4", l - 2);
                prop_assert!(four[l - 2].1 == bits, "lane {} of 4", l - 2);
            }
        }
    }
}

#[test]
fn lanes_of_different_shape_are_refused() {
    let cells = |n: usize| {
        let slab = crate::solver::rig::slab(medium(0.1, 1e6), vec![1e-4; n], 300.0);
        crate::solver::rig::single(slab, Back::Insulated, crate::solver::rig::flux_drive(1e3, 1.0))
    };
    let error = Lanes::new(&[&cells(3), &cells(4)]).expect_err("different shape");
    assert_eq!(error, Fault::Shape);
    // nor may one lane take another's source
    let with_source = Problem { source: Some(|x, t| x + t), ..cells(3) };
    assert!(Lanes::new(&[&cells(3), &with_source]).is_err());
    assert!(Lanes::new(&[&with_source, &with_source]).is_ok());
}
