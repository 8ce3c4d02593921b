//! `stillair pressed`: a layup under pressure.

use std::path::PathBuf;

use super::arguments;
use super::asked::{Named, TermArgs, ViewArgs, Views};
use super::error::CliError;
use crate::chart::pressed_chart;
use crate::report::pressed::{pressed_csv, pressed_json, pressed_text, sentence};
use crate::shelf::materials::Shelf;
use crate::study::answer::Quilts;
use crate::study::pressed::expose_pressed;
use crate::study::run::Terms;

/// Arguments of `pressed`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Pressures on the plies, between commas
    #[arg(long, value_name = "KPA,...", value_delimiter = ',',
          default_value = "0.1,0.5,1,2,5,10,20", value_parser = arguments::pressure)]
    pressures: Vec<f64>,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// Exposes the layup under each pressure, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let named = args.terms.named((&args.layup, &args.exposure), shelf, &mut errors);
    let Some(Named { layup, exposure, skin }) = named else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let (error_goal, quilts) = (args.terms.error.goal, Quilts::Computed);
    let terms = Terms { exposure: &exposure, skin, error_goal, quilts };
    let found = expose_pressed(&layup, &terms, &args.pressures)?;
    args.views.deliver(
        opened,
        &Views {
            text: &|| pressed_text(&found),
            json: &|| pressed_json(&found),
            csv: &|| pressed_csv(&found),
            chart: &|| pressed_chart(&found, &sentence(&found)),
        },
    )
}
