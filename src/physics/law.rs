//! A property that varies with temperature, as a base value and clamped ramps.
//!
//! `p(T) = base + Σ slope·clamp(T, lo, hi)`: a straight line is one ramp without
//! ends, a table is one ramp per interval. The form has no branch, so that the
//! solver can evaluate it for several layups at once, and its integral is closed.

/// One clamped ramp of a [`Law`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ramp {
    /// Slope within the ends [unit of the property per K].
    pub slope: f64,
    /// Lower end [K]; minus infinity is allowed.
    pub lo: f64,
    /// Upper end [K]; infinity is allowed.
    pub hi: f64,
}

impl Ramp {
    fn at(&self, temp: f64) -> f64 {
        self.slope * temp.clamp(self.lo, self.hi)
    }

    fn integral(&self, temp: f64) -> f64 {
        let held = temp.clamp(self.lo, self.hi);
        self.slope * (held * temp - 0.5 * held * held)
    }
}

/// A property as a function of temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct Law {
    /// Value that the ramps are added to [unit of the property].
    pub base: f64,
    /// Ramps in order of temperature.
    pub ramps: Vec<Ramp>,
}

impl Law {
    /// The same value at every temperature.
    ///
    /// Source: definition.
    pub fn constant(value: f64) -> Law {
        Law { base: value, ramps: Vec::new() }
    }

    /// A straight line through `value` at `temp_ref` [K], without ends.
    ///
    /// Source: definition.
    pub fn line(value: f64, temp_ref: f64, slope: f64) -> Law {
        Law::line_held(value, temp_ref, slope, f64::NEG_INFINITY, f64::INFINITY)
    }

    /// A straight line through `value` at `temp_ref` [K], held constant below `lo` and above `hi` [K].
    ///
    /// Source: definition.
    pub fn line_held(value: f64, temp_ref: f64, slope: f64, lo: f64, hi: f64) -> Law {
        if slope == 0.0 {
            return Law::constant(value);
        }
        Law { base: value - slope * temp_ref, ramps: vec![Ramp { slope, lo, hi }] }
    }

    /// Straight lines between points `(temperature [K], value)`, held constant outside them.
    ///
    /// - `points`: at least one, temperatures strictly increasing
    ///
    /// Panics: if `points` is empty.
    /// Source: definition.
    pub fn table(points: &[(f64, f64)]) -> Law {
        let mut law = Law::constant(points[0].1);
        for pair in points.windows(2) {
            let slope = (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0);
            law.base -= slope * pair[0].0;
            law.ramps.push(Ramp { slope, lo: pair[0].0, hi: pair[1].0 });
        }
        law
    }

    /// Value at `temp` [K].
    ///
    /// Source: definition.
    pub fn at(&self, temp: f64) -> f64 {
        self.base + self.ramps.iter().map(|ramp| ramp.at(temp)).sum::<f64>()
    }

    /// An antiderivative at `temp` [K]; only differences of it have a meaning.
    ///
    /// Source: definition.
    pub fn integral(&self, temp: f64) -> f64 {
        self.base * temp + self.ramps.iter().map(|ramp| ramp.integral(temp)).sum::<f64>()
    }

    /// The law with every value multiplied by `factor` [–].
    ///
    /// Source: definition.
    pub fn scaled(&self, factor: f64) -> Law {
        Law {
            base: self.base * factor,
            ramps: self
                .ramps
                .iter()
                .map(|ramp| Ramp { slope: ramp.slope * factor, ..*ramp })
                .collect(),
        }
    }

    /// Smallest value between `lo` and `hi` [K].
    ///
    /// Source: a piecewise straight line has its extremes at its corners.
    pub fn min_over(&self, lo: f64, hi: f64) -> f64 {
        let corners = self.ramps.iter().flat_map(|ramp| [ramp.lo, ramp.hi]);
        corners
            .filter(|t| *t > lo && *t < hi)
            .chain([lo, hi])
            .map(|t| self.at(t))
            .fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::Law;
    use approx::assert_relative_eq;

    #[test]
    fn table_goes_through_its_points_and_is_held_outside() {
        let law = Law::table(&[(300.0, 1.0), (400.0, 3.0), (500.0, 2.0)]);
        for (temp, value) in
            [(200.0, 1.0), (300.0, 1.0), (350.0, 2.0), (400.0, 3.0), (450.0, 2.5), (900.0, 2.0)]
        {
            assert_relative_eq!(law.at(temp), value, max_relative = 1e-12);
        }
        assert_relative_eq!(
            law.integral(600.0) - law.integral(200.0),
            100.0 + 200.0 + 250.0 + 200.0,
            max_relative = 1e-12
        );
        assert_relative_eq!(law.min_over(320.0, 480.0), 1.4, max_relative = 1e-12);
    }

    #[test]
    fn line_and_its_integral() {
        let law = Law::line(0.05, 298.15, 1e-4);
        assert_relative_eq!(law.at(398.15), 0.06, max_relative = 1e-12);
        assert_relative_eq!(law.integral(398.15) - law.integral(298.15), 5.5, max_relative = 1e-12);
        assert_relative_eq!(law.scaled(2.0).at(398.15), 0.12, max_relative = 1e-12);
    }
}
