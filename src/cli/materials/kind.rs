//! The kinds of things on the shelf.

/// What the shelf holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Kind {
    /// Fabrics
    Fabrics,
    /// Fibres
    Fibres,
    /// Exposures
    Exposures,
    /// Thresholds of standards
    Targets,
    /// Skin models
    Skins,
    /// How far the bench may lie from a prediction
    Bands,
    /// Example layups
    Layups,
    /// Example suits
    Suits,
}
