//! How far the model itself may lie from the bench.

/// Half width of the model's own band around a figure, as a share of it [–].
///
/// This is the accuracy that the project aims at against bench results of real
/// fabrics, not one that has been shown for every layup: thickness under the
/// bench's pressure, conductivity and fit all vary by as much.
pub const MODEL_BAND: f64 = 0.15;
