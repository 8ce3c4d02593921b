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
    /// Example layups
    Layups,
    /// Example suits
    Suits,
}
