//! Skin and numerical error, as every command takes them.

use super::arguments;
use super::error::CliError;
use crate::garment::skin::Skin;
use crate::shelf::materials::Shelf;

/// The skin model.
#[derive(Debug, clap::Args)]
pub struct SkinArg {
    /// Skin model on the shelf [default: the first on the shelf]
    #[arg(id = "skin", long = "skin", value_name = "NAME")]
    pub name: Option<String>,
}

impl SkinArg {
    /// The model of that name; the shelf's first where none is given.
    ///
    /// Errors: a name that the shelf does not have.
    pub fn on<'a>(&self, shelf: &'a Shelf) -> Result<&'a Skin, CliError> {
        shelf.skin_or_first(self.name.as_deref()).map_err(CliError::Unknown)
    }
}

/// The numerical error allowed.
#[derive(Debug, clap::Args)]
pub struct ErrorArg {
    /// Numerical error allowed to each time
    #[arg(id = "error_goal", long = "error", value_name = "PERCENT", default_value = "0.5",
          value_parser = arguments::error_goal)]
    pub goal: f64,
}
