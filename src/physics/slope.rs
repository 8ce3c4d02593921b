//! A value together with its derivative, for the solver's Newton iteration.

/// A value and its exact derivative to the variable that the function names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sloped {
    /// The value [its own unit].
    pub value: f64,
    /// Derivative of the value [its unit per unit of the variable].
    pub slope: f64,
}

/// A quantity between two surfaces and its exact derivatives to their temperatures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// The value [its own unit].
    pub value: f64,
    /// Derivative to the outer surface's temperature [its unit per K].
    pub slope_outer: f64,
    /// Derivative to the inner surface's temperature [its unit per K].
    pub slope_inner: f64,
}

/// A polynomial, coefficients lowest first, and its derivative.
#[inline(always)]
pub(crate) fn polynomial<const N: usize>(coefficients: &[f64; N], x: f64) -> Sloped {
    let mut value = 0.0;
    let mut slope = 0.0;
    for c in coefficients.iter().rev() {
        slope = slope * x + value;
        value = value * x + c;
    }
    Sloped { value, slope }
}
