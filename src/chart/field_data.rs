//! What a chart of a field shows: the places, the values and how they are filled.

use crate::chart::frame::{Axis, Heading};
use crate::chart::line_data::PointMark;

/// A field over a plane of two axes.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldChart {
    /// The words around it.
    pub heading: Heading,
    /// The horizontal axis; its range is that of `xs`.
    pub x_label: String,
    /// The vertical axis; its range is that of `ys`.
    pub y_label: String,
    /// Places along the horizontal axis, increasing, at least two.
    pub xs: Vec<f64>,
    /// Places along the vertical axis, increasing, at least two.
    pub ys: Vec<f64>,
    /// `values[j * xs.len() + i]` at `(xs[i], ys[j])`.
    pub values: Vec<f64>,
    /// Label of the colour bar with the unit; its range bounds the colours.
    pub value: Axis,
    /// Which end of the colours is dark.
    pub dark: Dark,
    /// How the field is shown.
    pub fill: Fill,
    /// Shape of the plane on paper.
    pub shape: Shape,
    /// Lines over the field, such as stitch lines.
    pub lines: Vec<Vec<(f64, f64)>>,
    /// Points with labels over the field.
    pub marks: Vec<PointMark>,
}

/// Which end of a field's colours is dark: in every chart that where skin is worst off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dark {
    /// The least value, as of times that protect.
    Low,
    /// The greatest value, as of temperatures and burns.
    High,
}

/// How a field is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Filled contours between round levels, each line with its value.
    Contours,
    /// One coloured cell around each node.
    Cells,
}

/// Shape of the plane on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Two quantities, each with its own scale.
    Diagram,
    /// A plan view: a millimetre is as long across as up.
    Plan,
}
