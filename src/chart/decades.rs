//! Axes in decades: values become their logarithms before anything is laid out.

use std::borrow::Cow;

use crate::chart::error::ChartError;
use crate::chart::frame::Axis;
use crate::chart::line_data::{LineChart, LinePanel};
use crate::chart::scale::{Spacing, Ticks, decade_ticks, range_of, ticks, widened_decades};

/// The chart with logarithms in place of the values along axes in decades.
///
/// Errors: a value along such an axis that is not above 0.
pub(crate) fn in_logarithms(chart: &LineChart) -> Result<Cow<'_, LineChart>, ChartError> {
    let in_decades = |axis: &Axis| axis.spacing == Spacing::Decades;
    if !in_decades(&chart.x_axis) && !chart.panels.iter().any(|panel| in_decades(&panel.y_axis)) {
        return Ok(Cow::Borrowed(chart));
    }
    let mut chart = chart.clone();
    if in_decades(&chart.x_axis) {
        let mut taken = Taken::along(&chart.x_axis);
        taken.ends(&mut chart.x_axis.range);
        chart.panels.iter_mut().for_each(|panel| taken.x_of(panel));
        taken.end()?;
    }
    for panel in chart.panels.iter_mut().filter(|panel| in_decades(&panel.y_axis)) {
        let mut taken = Taken::along(&panel.y_axis);
        taken.ends(&mut panel.y_axis.range);
        taken.y_of(panel);
        taken.end()?;
    }
    Ok(Cow::Owned(chart))
}

/// The range of an axis: its own, or that of `values` up to round ends; logarithms in decades.
///
/// Errors: no value, a range that does not increase.
pub(crate) fn axis_range(
    axis: &Axis,
    values: impl Iterator<Item = f64>,
    most: usize,
) -> Result<(f64, f64), ChartError> {
    let part = format!("axis \"{}\"", axis.label);
    if axis.spacing == Spacing::Even || axis.range.is_some() {
        return range_of(&part, axis.range, values, most);
    }
    let ends = values.fold(None, |ends: Option<(f64, f64)>, v| {
        Some(ends.map_or((v, v), |(low, high)| (low.min(v), high.max(v))))
    });
    let (low, high) = ends.ok_or(ChartError::Empty { part })?;
    Ok(widened_decades(low, high))
}

/// Ticks of an axis over a range, at most `most` intervals.
pub(crate) fn ticks_of(axis: &Axis, (from, to): (f64, f64), most: usize) -> Ticks {
    match axis.spacing {
        Spacing::Even => ticks(from, to, most),
        Spacing::Decades => decade_ticks(from, to, most),
    }
}

/// Takes logarithms along one axis and remembers a value that has none.
struct Taken {
    part: String,
    without: Option<f64>,
}

impl Taken {
    fn along(axis: &Axis) -> Taken {
        Taken { part: format!("a value along axis \"{}\"", axis.label), without: None }
    }

    fn take(&mut self, value: &mut f64) {
        if !(*value > 0.0 && value.is_finite()) {
            self.without = self.without.or(Some(*value));
        }
        *value = value.log10();
    }

    fn ends(&mut self, range: &mut Option<(f64, f64)>) {
        if let Some((from, to)) = range {
            self.take(from);
            self.take(to);
        }
    }

    fn x_of(&mut self, panel: &mut LinePanel) {
        panel.series.iter_mut().flat_map(|s| &mut s.points).for_each(|p| self.take(&mut p.0));
        panel.ribbons.iter_mut().flat_map(|r| &mut r.points).for_each(|p| self.take(&mut p.0));
        panel.events.iter_mut().for_each(|event| self.take(&mut event.x));
        panel.marks.iter_mut().chain(&mut panel.names).for_each(|mark| self.take(&mut mark.x));
        for band in &mut panel.x_bands {
            self.take(&mut band.from);
            self.take(&mut band.to);
        }
    }

    fn y_of(&mut self, panel: &mut LinePanel) {
        panel.series.iter_mut().flat_map(|s| &mut s.points).for_each(|p| self.take(&mut p.1));
        for point in panel.ribbons.iter_mut().flat_map(|r| &mut r.points) {
            self.take(&mut point.1);
            self.take(&mut point.2);
        }
        panel.levels.iter_mut().for_each(|level| self.take(&mut level.y));
        panel.marks.iter_mut().chain(&mut panel.names).for_each(|mark| self.take(&mut mark.y));
        for band in &mut panel.y_bands {
            self.take(&mut band.from);
            self.take(&mut band.to);
        }
    }

    fn end(self) -> Result<(), ChartError> {
        let part = self.part;
        self.without.map_or(Ok(()), |value| Err(ChartError::NotPositive { part, value }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chart::frame::Heading;
    use crate::chart::line_data::{Series, Trace};
    use crate::chart::lines::line_chart;

    fn chart(points: Vec<(f64, f64)>) -> LineChart {
        let mut panel = LinePanel::new(Axis::new("error [%]").in_decades());
        panel.series.push(Series { label: "one".into(), points, trace: Trace::LineAndPoints });
        let x_axis = Axis::new("time [µs]").in_decades();
        LineChart { heading: Heading::default(), x_axis, panels: vec![panel], beside: None }
    }

    #[test]
    fn values_become_logarithms_and_even_axes_stay() {
        let both = chart(vec![(1.0, 10.0), (1000.0, 0.1)]);
        let drawn = in_logarithms(&both).unwrap();
        assert_eq!(drawn.panels[0].series[0].points, [(0.0, 1.0), (3.0, -1.0)]);
        let mut even = both.clone();
        even.x_axis.spacing = Spacing::Even;
        let drawn = in_logarithms(&even).unwrap();
        assert_eq!(drawn.panels[0].series[0].points, [(1.0, 1.0), (1000.0, -1.0)]);
        assert!(line_chart(&both).unwrap().lines().any(|line| line == "1000"));
    }

    #[test]
    fn what_has_no_logarithm_is_refused() {
        for value in [0.0, -1.0] {
            let error = line_chart(&chart(vec![(1.0, 1.0), (2.0, value)])).unwrap_err();
            assert!(matches!(error, ChartError::NotPositive { .. }), "{error:?}");
        }
    }
}
