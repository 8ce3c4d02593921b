//! Charts of every kind over made-up numbers of realistic size, for the tests to examine.
//! The numbers are invented for the demo; no check rests on their values.

use stillair::bench::outcome::*;
use stillair::chart::bars::{Bar, BarChart, BarGroup, TargetLine};
use stillair::chart::contour::{Dark, FieldChart, Fill, Shape};
use stillair::chart::lines::*;
use stillair::chart::parity::{ParityChart, ParityGroup, ParityPoint};
use stillair::chart::stack::{Layer, LayerKind, Stack};
use stillair::chart::{Axis, Heading};
use stillair::garment::exposure::{Boundary, Disc, Exposure, Flux, Orientation};
use stillair::garment::fabric::{Fabric, Role};
use stillair::garment::known::{Known, Provenance};
use stillair::garment::layup::{Entry, Gap, Layup, Ply, PlyJoint};
use stillair::physics::law::Law;

pub fn heading(title: &str) -> Heading {
    Heading {
        title: title.to_owned(),
        subtitle: "quilted three-ply coverall, flame 80 kW/m², invented for the demo".to_owned(),
        source: "layups/coverall.toml, exposure flame-80, invented for the demo".to_owned(),
        summary: String::new(),
    }
}

pub fn lines() -> LineChart {
    let curve = |scale: f64, lag: f64| -> Vec<(f64, f64)> {
        (0..=300)
            .map(|i| f64::from(i) * 0.1)
            .map(|t| (t, 20.0 + scale * (1.0 - (-(t / lag)).exp())))
            .collect()
    };
    let series =
        |label: &str, points| Series { label: label.to_owned(), points, trace: Trace::Line };
    let mut upper = LinePanel::new(Axis::new("temperature [°C]").over(0.0, 500.0));
    upper.title = "Temperatures between the plies".to_owned();
    upper.series = vec![
        series("outer face", curve(620.0, 4.0)),
        series("between ply 1 and 2", curve(430.0, 7.0)),
        series("between ply 2 and 3", curve(290.0, 11.0)),
        series("inner face", curve(170.0, 15.0)),
    ];
    upper.levels = vec![
        Level { y: 370.0, label: "outer ply decomposes, 370 °C".to_owned() },
        Level { y: 360.0, label: "felt chars, 360 °C".to_owned() },
        Level { y: 60.0, label: "60 °C".to_owned() },
    ];
    upper.x_bands = vec![Band { from: 0.0, to: 10.0, label: "flame on, 10 s".to_owned() }];
    upper.marks = vec![
        PointMark { x: 5.5, y: 370.0, label: "outer ply passes its limit".to_owned() },
        PointMark { x: 12.0, y: 371.0, label: "felt passes its limit".to_owned() },
    ];
    let mut lower = LinePanel::new(Axis::new("rise of the disc [K]"));
    lower.height = 150.0;
    let rise: Vec<(f64, f64)> =
        (0..=60).map(|i| f64::from(i) * 0.5).map(|t| (t, 0.03 * t.powf(2.1))).collect();
    lower.ribbons = vec![Ribbon {
        label: "tolerances of thickness and mass".to_owned(),
        points: rise.iter().map(|(t, y)| (*t, 0.85 * y, 1.2 * y)).collect(),
        of_series: 0,
    }];
    let measured = rise.iter().step_by(6).map(|(t, y)| (*t, y * 1.06 + 0.2)).collect();
    lower.series = vec![
        series("predicted", rise),
        Series { label: "measured".to_owned(), points: measured, trace: Trace::Points },
    ];
    lower.levels = [12.0, 24.0].map(|y| Level { y, label: format!("{y} K") }).to_vec();
    lower.y_bands = vec![Band { from: 22.5, to: 25.5, label: "target ± tolerance".to_owned() }];
    lower.events = [
        (17.2, "HTI12 17.2 s"),
        (24.0, "HTI24 24.0 s"),
        (24.3, "Stoll crossing 24.3 s"),
        (18.0, "second degree 18.0 s"),
        (29.4, "third degree 29.4 s"),
    ]
    .map(|(x, label)| EventMark { x, label: label.to_owned() })
    .to_vec();
    LineChart {
        heading: heading("Coverall with quilted lining: temperatures in front of the copper disc"),
        x_axis: Axis::new("time [s]").over(0.0, 30.0),
        panels: vec![upper, lower],
        beside: Some(stack()),
    }
}

pub fn stack() -> Stack {
    let layer =
        |label: &str, thickness_mm, kind| Layer { label: label.to_owned(), thickness_mm, kind };
    Stack {
        title: String::new(),
        above: "flame".to_owned(),
        layers: vec![
            layer("outer twill", 0.45, LayerKind::Ply),
            layer("air gap", 1.0, LayerKind::Gap),
            layer("needle-punched felt", 1.9, LayerKind::Ply),
            layer("membrane on nonwoven", 0.12, LayerKind::Ply),
            layer("inner knit", 0.7, LayerKind::Ply),
            layer("air gap", 6.4, LayerKind::Gap),
        ],
        below: "copper disc".to_owned(),
    }
}

pub fn bars() -> BarChart {
    let bar = |value: f64, error: f64| {
        Some(Bar {
            value,
            whisker: Some((value - error, value + error)),
            note: format!("{value:.1} ± {error:.1} s"),
        })
    };
    let group = |label: &str, bars| BarGroup { label: label.to_owned(), bars };
    BarChart {
        heading: heading("HTI24 of six layups with the spread of their tolerances"),
        axis: Axis::new("HTI24 [s]"),
        names: vec!["plies in contact".to_owned(), "lofted 3 mm".to_owned()],
        groups: vec![
            group("twill, felt 100, knit", vec![bar(11.4, 0.9), bar(14.9, 1.4)]),
            group("twill, felt 150, knit", vec![bar(13.2, 1.1), bar(17.0, 1.2)]),
            group("twill, felt 200, knit", vec![bar(15.7, 1.3), bar(19.4, 1.9)]),
            group(
                "twill with embroidered logo over the left breast, felt 150, knit",
                vec![bar(14.0, 1.2), None],
            ),
            group(
                "light twill, two felts 80, ripstop lining",
                vec![bar(12.9, 0.8), bar(16.1, 1.7)],
            ),
            group("twill, knit", vec![bar(7.1, 0.5), bar(9.8, 0.7)]),
        ],
        targets: vec![
            TargetLine { value: 13.0, label: "target 13 s".to_owned() },
            TargetLine { value: 17.0, label: "target of the next level 17 s".to_owned() },
        ],
    }
}

pub fn tornado() -> BarChart {
    let shares = [
        ("thickness of the felt", 1.9),
        ("conductivity of the felt", -1.5),
        ("air gap", 0.8),
        ("regain", 0.3),
        ("emissivity of the outer face", -0.15),
    ];
    BarChart {
        heading: heading("What moves HTI24 most: change for one tolerance upwards"),
        axis: Axis::new("change of HTI24 [s]"),
        names: vec!["change".to_owned()],
        groups: shares
            .iter()
            .map(|(label, value)| BarGroup {
                label: (*label).to_owned(),
                bars: vec![Some(Bar { value: *value, whisker: None, note: String::new() })],
            })
            .collect(),
        targets: Vec::new(),
    }
}

pub fn parity() -> ParityChart {
    let point = |measured: f64, predicted: f64, label: &str| ParityPoint {
        measured,
        measured_error: 0.05 * measured,
        predicted,
        predicted_error: 0.04 * predicted,
        label: label.to_owned(),
    };
    ParityChart {
        heading: heading("Measured against predicted HTI24"),
        measured_label: "measured HTI24 [s]".to_owned(),
        predicted_label: "predicted HTI24 [s]".to_owned(),
        range: None,
        bands: vec![0.1, 0.2],
        groups: vec![
            ParityGroup {
                label: "flame 80 kW/m²".to_owned(),
                points: vec![
                    point(7.0, 7.4, "single twill"),
                    point(11.2, 10.6, "A"),
                    point(11.6, 11.0, "A, pressed"),
                    point(13.9, 14.8, "B"),
                    point(14.2, 14.6, "B, moist"),
                    point(17.7, 16.9, "C"),
                ],
            },
            ParityGroup {
                label: "radiant 40 kW/m²".to_owned(),
                points: vec![
                    point(16.0, 17.9, "A"),
                    point(19.8, 18.3, "B"),
                    point(22.6, 23.0, "C"),
                    point(9.2, 11.3, ""),
                ],
            },
        ],
    }
}

fn sampled(xs: &[f64], ys: &[f64], f: impl Fn(f64, f64) -> f64) -> Vec<f64> {
    ys.iter().flat_map(|y| xs.iter().map(|x| f(*x, *y)).collect::<Vec<_>>()).collect()
}

pub fn contour() -> FieldChart {
    let xs: Vec<f64> = (0..=60).map(|i| f64::from(i) * 0.1).collect();
    let ys: Vec<f64> = (0..=50).map(|j| 100.0 + f64::from(j) * 4.0).collect();
    let values = sampled(&xs, &ys, |gap, mass| {
        4.0 + 0.05 * mass + 5.0 * gap / (1.0 + 0.25 * gap * gap) + 0.3 * gap
    });
    FieldChart {
        heading: heading("HTI24 by felt mass and air gap: more air soon stops helping"),
        x_label: "air gap [mm]".to_owned(),
        y_label: "areal density of the felt [g/m²]".to_owned(),
        xs,
        ys,
        values,
        value: Axis::new("HTI24 [s]"),
        dark: Dark::High,
        fill: Fill::Contours,
        shape: Shape::Diagram,
        lines: vec![vec![(0.0, 210.0), (6.0, 150.0)]],
        marks: vec![PointMark { x: 1.5, y: 150.0, label: "coverall as drawn".to_owned() }],
    }
}

pub fn plan(fill: Fill) -> FieldChart {
    let places: Vec<f64> = (0..=80).map(|i| f64::from(i) * 0.5).collect();
    let values = sampled(&places, &places, |x, y| {
        let lane = |v: f64| (std::f64::consts::PI * v / 40.0).sin().abs();
        0.4 + 5.2 * (lane(x) * lane(y)).powf(0.6)
    });
    FieldChart {
        heading: heading("Air under the outer ply over one quilted cell"),
        x_label: "across the cell [mm]".to_owned(),
        y_label: "along the cell [mm]".to_owned(),
        xs: places.clone(),
        ys: places,
        values,
        value: Axis::new("local air gap [mm]"),
        dark: Dark::High,
        fill,
        shape: Shape::Plan,
        lines: vec![vec![(1.0, 1.0), (39.0, 1.0), (39.0, 39.0), (1.0, 39.0), (1.0, 1.0)]],
        marks: vec![
            PointMark { x: 20.0, y: 20.0, label: "cell centre".to_owned() },
            PointMark { x: 1.0, y: 20.0, label: "stitch line".to_owned() },
        ],
    }
}

fn known(value: f64) -> Known {
    Known::new(value, Provenance::Invented, "invented for the demo")
}

fn ply(name: &str, thickness_mm: f64, mass_g: f64) -> Entry {
    let law = |v: f64| Known::new(Law::constant(v), Provenance::Invented, "");
    Entry::Ply(Box::new(Ply {
        fabric: Fabric {
            name: name.to_owned(),
            description: String::new(),
            role: Role::Outer,
            fibre: "fr-viscose".to_owned(),
            areal_density: known(mass_g / 1000.0),
            thickness: known(thickness_mm / 1000.0),
            thickness_pressure: None,
            compression: Vec::new(),
            conductivity: law(0.05),
            specific_heat: law(1300.0),
            face_void: known(36e-6),
            emissivity: known(0.9),
            transmissivity: known(0.0),
            regain: known(0.05),
            regain_conditioned: 0.05,
            fibre_regain: 0.05,
            vapour_resistance: known(0.0),
            fibre_density: known(1400.0),
            fibre_conductivity: known(0.25),
            decomposition: None,
            charring: Vec::new(),
            temp_limit: known(643.15),
            limit_unfollowed: None,
            limit_event: "decomposes".to_owned(),
        },
        joint: PlyJoint::Faces,
    }))
}

fn at(t: f64) -> When {
    When::At { t, error: 0.02 }
}

fn curves(behind: &[(&str, ColumnKind, f64, f64)]) -> Curves {
    let t: Vec<f64> = (0..=600).map(|i| f64::from(i) * 0.1).collect();
    let heated = |scale: f64, lag: f64, t: f64| {
        let warm = |t: f64| if t > 0.0 { 1.0 - (-(t / lag)).exp() } else { 0.0 };
        scale * (warm(t) - 0.9 * warm(t - 12.0))
    };
    let temp = |label: &str, spot, scale: f64, lag: f64| Column {
        label: label.to_owned(),
        header: "x_C".to_owned(),
        spot,
        kind: ColumnKind::Temperature,
        values: t.iter().map(|t| 293.15 + heated(scale, lag, *t)).collect(),
    };
    let mut columns = vec![
        temp("outer face", Spot::OuterFace, 620.0, 3.0),
        temp("between ply 1 and 2", Spot::InnerFace(0), 480.0, 5.0),
        temp("between ply 2 and 3", Spot::InnerFace(1), 330.0, 9.0),
        temp("inner face", Spot::InnerFace(2), 210.0, 14.0),
    ];
    for (label, kind, scale, lag) in behind {
        let base = if *kind == ColumnKind::Temperature { 306.0 } else { 0.0 };
        let values = t.iter().map(|t| base + heated(*scale, *lag, *t)).collect();
        columns.push(Column {
            label: (*label).to_owned(),
            header: "y".to_owned(),
            spot: if *kind == ColumnKind::Rise { Spot::Disc } else { Spot::BasalLayer },
            kind: *kind,
            values,
        });
    }
    Curves { t, columns }
}

fn run(figures: Figures, curves: Curves) -> Run {
    let fate = |name: &str, t: Option<f64>, limit: f64| PlyFate {
        name: name.to_owned(),
        temp_limit: Some(limit + 273.15),
        limit_event: "decomposes".to_owned(),
        limit_passed: t.map_or(When::NotWithin { t_end: 60.0 }, at),
        temp_peak: 700.0,
    };
    Run {
        figures,
        water: None,
        heat: HeatAccount {
            t: 20.0,
            moment: "at HTI24".to_owned(),
            offered: 1e6,
            entered: 8e5,
            parts: Vec::new(),
            passed_on: 1.3e5,
        },
        plies: vec![
            fate("twill", Some(2.5), 370.0),
            fate("felt", Some(6.6), 370.0),
            fate("knit", None, 300.0),
        ],
        curves,
        numerics: Numerics {
            audit: 1e-9,
            water_lost: None,
            n_nodes: 100,
            n_steps: 600,
            n_rejected: 3,
            n_newton: 1500,
            error_goal: 1e-3,
            goal_met: true,
        },
    }
}

/// When a made-up curve first reaches a value.
fn reached(curves: &Curves, column: usize, value: f64) -> When {
    let values = &curves.columns[column].values;
    let i = values.iter().position(|v| *v >= value).expect("the made-up curve reaches the value");
    at(curves.t[i])
}

pub fn outcome(radiant_share: f64) -> Outcome {
    let disc_curves = curves(&[("disc", ColumnKind::Rise, 75.0, 22.0)]);
    let skin_curves = curves(&[("basal layer", ColumnKind::Temperature, 40.0, 14.0)]);
    let disc = DiscFigures {
        rise12: reached(&disc_curves, 4, 12.0),
        rise24: reached(&disc_curves, 4, 24.0),
        rise24_less_12: Some(Valued { value: 5.5, error: 0.03 }),
        stoll: at(9.1),
        tpp: None,
        flux_mean_12_24: None,
        transmission_factor: None,
    };
    let skin = SkinFigures {
        basal_44: reached(&skin_curves, 4, 317.15),
        first_degree: at(11.8),
        second_degree: at(12.6),
        third_degree: When::NotWithin { t_end: 60.0 },
        temp_basal_peak: Valued { value: 337.0, error: 0.1 },
        t_basal_peak: 14.0,
        omega_basal: Valued { value: 12.0, error: 0.1 },
        omega_dermal: Valued { value: 0.02, error: 0.001 },
        skin: "three layers".to_owned(),
    };
    let gap = || Entry::Gap(Gap { thickness: known(1.0e-3) });
    Outcome {
        lies: Lies::Flat,
        layup: Layup {
            name: "refuelling coverall".to_owned(),
            note: String::new(),
            stack: vec![
                ply("twill-220", 0.45, 220.0),
                gap(),
                ply("felt-150", 1.9, 150.0),
                ply("knit-180", 0.7, 180.0),
            ],
            pressure: None,
            quilting: None,
        },
        exposure: Exposure {
            name: "flame-80".to_owned(),
            description: String::new(),
            method: "ISO 9151".to_owned(),
            flux: Flux::Steady(80_000.0),
            radiant_share,
            temp_flame: 1600.0,
            temp_room: 293.15,
            duration: Some(12.0),
            t_end: 60.0,
            h_cooling: 20.0,
            p_vapour_gas: 1200.0,
            orientation: Orientation::HeatedFromBelow,
            boundary: Boundary::default(),
            spacer: 0.0,
            disc: Disc { mass: 0.018, cp: 385.0, area: 1.2566e-3, emissivity: 0.95 },
            source: String::new(),
        },
        disc: Some(run(Figures::Disc(disc), disc_curves)),
        skin: Some(run(Figures::Skin(skin), skin_curves)),
    }
}
