//! Error of HTI24 against time: meshes and step tolerances of this solver, and its rivals.

use std::path::Path;

use stillair::bench::assemble::Backing;
use stillair::bench::expose::options;
use stillair::chart::lines::{Level, LineChart, LinePanel, PointMark, Series, Trace};
use stillair::chart::{Axis, Heading, chart_bytes, line_chart};
use stillair::report::write::Destination;
use stillair::solver::march::march;
use stillair::solver::options::Options;
use stillair::solver::problem::Problem;

use crate::{Rise, best, problems};

/// Runs of each point, of which the quickest counts.
const REPEATS: usize = 300;
/// Step tolerances, the default of each level among them.
const TOLERANCES: [f64; 9] = [1.0, 0.48, 0.24, 0.1, 0.03, 0.01, 3.75e-3, 1e-3, 2e-4];
const LEVELS: usize = 4;
/// Contestants that are drawn, by their names in the table, one look each.
const DRAWN: [&str; 7] = [
    "stillair single",
    "stillair batch",
    "diffsol BDF",
    "diffsol TR-BDF2",
    "CVODE, exact tridiagonal Jacobian",
    "SciPy LSODA",
    "SciPy Radau",
];

/// Draws the chart and prints its points.
pub fn draw(file: &str, csv: Option<&str>) {
    let mut panels = vec![own()];
    panels.extend(csv.map(rivals));
    let subtitle = "touching three plies, copper disc to a rise of 24 K; each point the quickest of \
                    many runs on one core";
    let chart = LineChart {
        heading: Heading {
            title: "Error of HTI24 against time".to_owned(),
            subtitle: subtitle.to_owned(),
            source: "cargo bench --bench against -- chart".to_owned(),
            summary: String::new(),
        },
        x_axis: Axis::new("time of one solve [µs]").in_decades(),
        panels,
        beside: None,
    };
    let svg = line_chart(&chart).expect("the points can be drawn");
    let (path, bytes) = (Path::new(file), chart_bytes(svg, Path::new(file)).expect("a picture"));
    Destination::try_out(path).and_then(|place| place.put(&bytes)).expect("the chart is written");
}

fn timed_rise(problem: &Problem, tol: f64, repeats: usize) -> (f64, f64) {
    let options = Options { tol, ..options(0, &Backing::Disc) };
    best(repeats, || {
        let mut watch = Rise::default();
        march(problem, &options, &mut watch).expect("the problem runs");
        watch.0.expect("the rise is reached")
    })
}

/// The time to the rise without error of mesh or step, extrapolated from two fine meshes [s].
fn exact() -> f64 {
    let [coarse, fine] = [5, 6].map(|level| timed_rise(&problems(level, 1)[0], 1e-8, 1).1);
    fine + (fine - coarse) / 3.0
}

/// Meshes and tolerances; a run of level 0 and one of level 1 together are the default.
fn own() -> LinePanel {
    let exact = exact();
    let error = |t: f64| 1e2 * (t / exact - 1.0).abs();
    let mut panel = LinePanel::new(Axis::new("error of mesh and step [%]").in_decades());
    panel.title = "Meshes and step tolerances of this solver".to_owned();
    panel.height = 300.0;
    let mut defaults = Vec::new();
    for level in 0..LEVELS {
        let problem = problems(level, 1).swap_remove(0);
        let default = options(level, &Backing::Disc).tol;
        let mut points = Vec::new();
        for tol in TOLERANCES {
            let (us, t) = timed_rise(&problem, tol, REPEATS);
            println!("level {level}, tolerance {tol:e}: {us:.1} µs, error {:.5} %", error(t));
            points.push((us, error(t)));
        }
        let (us, t) = timed_rise(&problem, default, REPEATS);
        println!(
            "level {level}, its own tolerance {default:e}: {us:.1} µs, error {:.5} %",
            error(t)
        );
        defaults.push((us, t));
        let label = format!("level {level}: {} nodes", problem.n_nodes());
        panel.marks.push(PointMark {
            x: us,
            y: error(t),
            label: format!("default of level {level}"),
        });
        panel.series.push(Series { label, points, trace: Trace::LineAndPoints });
    }
    for (n, pair) in defaults.windows(2).take(2).enumerate() {
        let us: f64 = defaults[..n + 2].iter().map(|run| run.0).sum();
        let t = pair[1].1 + (pair[1].1 - pair[0].1) / 3.0;
        println!("levels 0 to {} together: {us:.1} µs, error {:.5} %", n + 1, error(t));
        let label = format!("levels 0 to {} extrapolated", n + 1);
        panel.marks.push(PointMark { x: us, y: error(t), label });
    }
    panel.levels.push(Level { y: 0.25, label: "least error printed 0.25 %".to_owned() });
    panel
}

/// The contestants of a table of `contestant,tolerance,steps,error,microseconds`.
fn rivals(csv: &str) -> LinePanel {
    let text = std::fs::read_to_string(csv).expect("the table is there");
    let mut rows = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<(String, f64, u64, f64, f64)> =
        rows.deserialize().map(|row| row.expect("a row of the table")).collect();
    let mut panel = LinePanel::new(Axis::new("error of the step alone [%]").in_decades());
    panel.title = "The mesh of level 1 for general-purpose integrators".to_owned();
    panel.height = 300.0;
    for name in DRAWN {
        let of_name = rows.iter().filter(|row| row.0 == name && row.3 > 1e-7);
        let points: Vec<(f64, f64)> = of_name.map(|row| (row.4, 1e2 * row.3)).collect();
        if !points.is_empty() {
            panel.series.push(Series {
                label: name.to_owned(),
                points,
                trace: Trace::LineAndPoints,
            });
        }
    }
    panel.levels.push(Level { y: 0.1, label: "0.1 %".to_owned() });
    panel
}
