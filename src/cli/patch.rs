//! `stillair patch`: a patch or embroidery over a share of the area.

use std::path::PathBuf;

use super::arguments;
use super::asked::{Named, TermArgs, ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::flat::FlatArg;
use crate::chart::patch_chart;
use crate::physics::units::PERCENT;
use crate::report::patch::{patch_csv, patch_json, patch_text, sentence};
use crate::shelf::materials::Shelf;
use crate::study::patch::Patch;
use crate::study::patched::expose_patched;
use crate::study::run::Terms;

/// Arguments of `patch`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Fabric of the patch or embroidery, on the shelf
    #[arg(long, value_name = "FABRIC")]
    ply: String,
    /// Share of the area that it covers
    #[arg(long, value_name = "PERCENT", value_parser = arguments::share)]
    share: f64,
    /// Share of the covered area that is thread piercing the plies, as far as the first air gap
    #[arg(long, value_name = "PERCENT", default_value = "0", value_parser = arguments::share)]
    thread: f64,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// Most of the covered area that thread may take [–].
const THREAD_MOST: f64 = 0.5;

/// Exposes the patched layup, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let named = args.terms.named((&args.layup, &args.exposure), shelf, &mut errors);
    let patch = made_patch((&args.ply, args.share), ("--thread", args.thread), shelf);
    let patch = patch.map_err(|e| errors.push(e)).ok();
    let (Some(Named { layup, exposure, skin }), Some(patch)) = (named, patch) else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let (error_goal, quilts) = (args.terms.error.goal, args.flat.quilts());
    let terms = Terms { exposure: &exposure, skin, error_goal, quilts };
    let found = expose_patched(&layup, &patch, &terms)?;
    args.views.deliver(
        opened,
        &Views {
            text: &|| patch_text(&found),
            json: &|| patch_json(&found),
            csv: &|| patch_csv(&found),
            chart: &|| patch_chart(&found, &sentence(&found)),
        },
    )
}

/// A patch of a fabric on the shelf over a share of the area [–], with the share of thread in it [–].
///
/// - `option`: the option that gives the thread
pub(super) fn made_patch(
    (name, share): (&str, f64),
    (option, thread): (&str, f64),
    shelf: &Shelf,
) -> Result<Patch, CliError> {
    let mut errors = Vec::new();
    let fabric = shelf.fabric(name).map_err(|e| errors.push(CliError::Unknown(e))).ok();
    if thread > THREAD_MOST {
        errors.push(CliError::Option(BadOption {
            what: "more thread than cloth".to_string(),
            given: format!("{option} {}", PERCENT.outside(thread)),
            expected: format!("at most {} percent of the covered area", PERCENT.outside(THREAD_MOST)),
            mend: "count stitches per area and take the thread's cross-section; a few percent is usual \
                   (common practice, no source)"
                .to_string(),
        }));
    }
    match (fabric, errors.is_empty()) {
        (Some(fabric), true) => Ok(Patch { fabric: fabric.clone(), share, thread }),
        _ => Err(CliError::Several(errors)),
    }
}
