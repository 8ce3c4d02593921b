//! Claim: what cannot be drawn truthfully is an error that names the part, never a chart.

use crate::chart::made_up;
use stillair::chart::contour::Fill;
use stillair::chart::lines::Band;
use stillair::chart::{
    Asked, ChartError, Which, bar_chart, exposure_chart, field_chart, line_chart, parity_chart,
    stack_chart,
};

#[track_caller]
fn check(result: Result<String, ChartError>, expected: &str) {
    let text = result.expect_err("an error").to_string();
    assert!(text.starts_with(expected), "{text}\n  is not: {expected}");
}

#[test]
fn lines() {
    for bad in [f64::NAN, f64::INFINITY] {
        let mut chart = made_up::lines();
        chart.panels[0].series[1].points[3].1 = bad;
        check(line_chart(&chart), "value 4 of series \"between ply 1 and 2\" is not a finite");
        let mut chart = made_up::lines();
        chart.panels[1].events[2].x = bad;
        check(line_chart(&chart), "value 3 of events is not a finite number");
        let mut chart = made_up::lines();
        chart.panels[1].ribbons[0].points[0].2 = bad;
        check(line_chart(&chart), "value 1 of ribbon");
        let mut chart = made_up::lines();
        chart.panels[0].levels[0].y = bad;
        check(line_chart(&chart), "value 1 of levels");
        let mut chart = made_up::lines();
        chart.x_axis.range = Some((0.0, bad));
        check(line_chart(&chart), "the range of axis \"time [s]\"");
    }
    let mut chart = made_up::lines();
    chart.panels[0].series[0].points.clear();
    check(line_chart(&chart), "nothing to draw in series \"outer face\"");
    chart.panels[0].series.clear();
    check(line_chart(&chart), "nothing to draw in panel");
    chart.panels.clear();
    check(line_chart(&chart), "nothing to draw in the chart");
    let mut chart = made_up::lines();
    chart.panels[0].y_axis.range = Some((5.0, 5.0));
    check(line_chart(&chart), "the range of axis \"temperature [°C]\" runs from 5 to 5");
    let mut chart = made_up::lines();
    let one = chart.panels[0].series[0].clone();
    chart.panels[0].series = vec![one; 8];
    check(line_chart(&chart), "panel \"temperature [°C]\" has 8 entries; 7 can be told apart");
    let mut chart = made_up::lines();
    chart.panels[0].x_bands = vec![Band { from: 3.0, to: 1.0, label: "flame".to_owned() }];
    check(line_chart(&chart), "the range of band \"flame\" runs from 3 to 1");
}

#[test]
fn bars() {
    let mut chart = made_up::bars();
    chart.groups[0].bars[1].as_mut().expect("a bar").value = f64::NAN;
    check(bar_chart(&chart), "value 1 of group \"twill, felt 100, knit\" is not a finite");
    let mut chart = made_up::bars();
    chart.groups[2].bars.pop();
    check(bar_chart(&chart), "group \"twill, felt 200, knit\" has 1 values where 2 belong");
    let mut chart = made_up::bars();
    chart.axis.range = Some((0.0, 15.0));
    check(bar_chart(&chart), "a value of axis \"HTI24 [s]\", 16.3, lies outside its range 0 to 15");
    chart.groups.clear();
    check(bar_chart(&chart), "nothing to draw in the bars");
}

#[test]
fn stack() {
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let mut stack = made_up::stack();
        stack.layers[1].thickness_mm = bad;
        check(stack_chart(&made_up::heading("cut"), &stack), "thickness of \"air gap\" is");
        stack.layers.clear();
        check(stack_chart(&made_up::heading("cut"), &stack), "nothing to draw in the layup");
    }
}

#[test]
fn parity() {
    let mut chart = made_up::parity();
    chart.groups[0].points[2].predicted = f64::NAN;
    check(parity_chart(&chart), "value 3 of group \"flame 80 kW/m²\" is not a finite");
    let mut chart = made_up::parity();
    chart.groups[1].points[0].measured_error = -0.1;
    check(parity_chart(&chart), "error in group \"radiant 40 kW/m²\" is -0.1");
    let mut chart = made_up::parity();
    chart.groups.iter_mut().for_each(|group| group.points.clear());
    check(parity_chart(&chart), "nothing to draw in the points");
}

#[test]
fn field() {
    for fill in [Fill::Contours, Fill::Cells] {
        let mut chart = made_up::plan(fill);
        chart.values[17] = f64::NAN;
        check(field_chart(&chart), "value 18 of field \"local air gap [mm]\" is not a finite");
        chart.values.pop();
        check(
            field_chart(&chart),
            "field \"local air gap [mm]\" has 6560 values where 6561 belong",
        );
        chart.xs[2] = chart.xs[1];
        check(field_chart(&chart), "value 3 of axis \"across the cell [mm]\" is not above");
        chart.xs.truncate(1);
        check(field_chart(&chart), "nothing to draw in axis \"across the cell [mm]\"");
    }
}

#[test]
fn a_flat_field_is_drawn_in_one_colour() {
    let mut chart = made_up::contour();
    chart.values.fill(7.0);
    assert!(field_chart(&chart).is_ok());
}

#[test]
fn exposure() {
    let mut outcome = made_up::outcome(0.0);
    outcome.skin = None;
    check(
        exposure_chart(&outcome, Which::Both, &Asked::default()),
        "nothing to draw in the run in front of skin",
    );
    let curves = &mut outcome.disc.as_mut().expect("a run").curves;
    curves.columns[1].values[5] = f64::NAN;
    check(
        exposure_chart(&outcome, Which::Disc, &Asked::default()),
        "value 6 of series \"inner face of twill-220\"",
    );
    let curves = &mut outcome.disc.as_mut().expect("a run").curves;
    curves.columns[1].values.pop();
    check(
        exposure_chart(&outcome, Which::Disc, &Asked::default()),
        "curve \"between ply 1 and 2\" has 600 values",
    );
    let curves = &mut outcome.disc.as_mut().expect("a run").curves;
    curves.t.clear();
    curves.columns.iter_mut().for_each(|column| column.values.clear());
    check(
        exposure_chart(&outcome, Which::Disc, &Asked::default()),
        "nothing to draw in the curves",
    );
}
