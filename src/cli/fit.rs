//! `stillair fit`: properties from what the bench measured.

use std::path::{Path, PathBuf};

use super::asked::{ViewArgs, Views};
use super::book_add::{Figures, Round, day, from_curves, put, read_from};
use super::error::{BadOption, CliError};
use super::expose::{exposure, layup};
use super::fit_names::{Named, named, resolve};
use super::flat::FlatArg;
use super::{arguments, output};
use crate::bench::BenchError;
use crate::chart::fit_chart;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::layup::Layup;
use crate::garment::target::Figure;
use crate::report::fit::{Written, digits, fit_csv, fit_text};
use crate::report::fit_file::{exposure_toml, fabrics_csv, layup_toml};
use crate::report::fit_words::{name, outside};
use crate::report::json::fit::fit_json;
use crate::report::number::significant;
use crate::report::words::count;
use crate::report::write::{Destination, Stands, WriteError};
use crate::shelf::lab::book::{read_book, word_of};
use crate::shelf::lab::curve::read_curve;
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;
use crate::study::fit::fitting::{Fit, FitError, LEVEL, Task, fit, read_back};
use crate::study::fit::free::{Free, What};
use crate::study::fit::readings::{Readings, Timed};
use crate::study::property::Property;

/// Arguments of `fit`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Curves of the bench, one file a specimen: columns time_s and temperature_rise_C
    #[arg(value_name = "CURVE.csv", required_unless_present_any = ["hti12", "hti24"],
          conflicts_with_all = ["hti12", "hti24"])]
    curves: Vec<PathBuf>,
    /// Property to fit, its range in the unit of files; may be given several times. Names:
    /// conductivity, specific-heat, thickness, emissivity, face-void, gap and joint with the
    /// number of a ply (gap and joint lie behind it), flux, radiant-share
    #[arg(long, value_name = "NAME:PLY[=LOW..HIGH]", required = true, value_parser = named)]
    free: Vec<Named>,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    /// Time to a rise of 12 K, where no curve is at hand; once for each specimen
    #[arg(long, value_name = "SECONDS", value_parser = arguments::seconds)]
    hti12: Vec<f64>,
    /// Time to a rise of 24 K, where no curve is at hand; once for each specimen
    #[arg(long, value_name = "SECONDS", value_parser = arguments::seconds)]
    hti24: Vec<f64>,
    /// Standard deviation of those times between specimens
    #[arg(long, value_name = "SECONDS", default_value = "0.1", value_parser = arguments::seconds,
          conflicts_with = "curves")]
    time_error: f64,
    /// Write the fitted layup (.toml) or its fitted fabrics for a shelf (.csv)
    #[arg(long, value_name = "FILE", value_parser = arguments::layup_or_fabrics_file)]
    out: Option<PathBuf>,
    /// Write the fitted exposure (.toml)
    #[arg(long, value_name = "FILE", value_parser = arguments::layup_file)]
    exposure_out: Option<PathBuf>,
    /// Add the times of the curves, or those given, to this bench book, as tests of the layup
    #[arg(long, value_name = "BOOK.csv", requires = "date")]
    book: Option<PathBuf>,
    /// Day of the tests that are added to the book, year-month-day
    #[arg(long, value_name = "DATE", requires = "book")]
    date: Option<String>,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    views: ViewArgs,
}

/// Everything that the arguments stand for.
struct Resolved {
    layup: Layup,
    exposure: Exposure,
    readings: Readings,
    free: Vec<Free>,
}

/// Fits, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    if !cfg!(feature = "lapack") {
        return Err(CliError::Option(BadOption {
            what: "this program was built without the feature `lapack`, which a fit needs".into(),
            given: "fit".into(),
            expected: "a program built with its default features".into(),
            mend: "build it again without --no-default-features, or with --features lapack".into(),
        }));
    }
    let resolved = resolve_all(args, shelf)?;
    check_outputs(args, &resolved)?;
    let figures = book_figures(args, &resolved)?;
    let opened = args.views.try_out()?;
    let try_out = |path: &Option<PathBuf>| {
        path.as_deref().map(Destination::try_out).transpose().map_err(CliError::Write)
    };
    let (out_file, exposure_file) = (try_out(&args.out)?, try_out(&args.exposure_out)?);
    let Resolved { layup, exposure, readings, free } = &resolved;
    let quilts = args.flat.quilts();
    let task = Task { layup, exposure, free, readings, level: LEVEL, quilts };
    let found = fit(&task).map_err(|error| refused(error, layup))?;

    let mut written = Vec::new();
    let mut files = Vec::new();
    if let (Some(path), Some(file)) = (&args.out, out_file) {
        let (text, apart) = fitted_file(&found, path, shelf)?;
        written.push(Written { path: path.display().to_string(), apart });
        files.push((file, text));
    }
    if let (Some(path), Some(file)) = (&args.exposure_out, exposure_file) {
        let text = exposure_toml(&found).unwrap_or_default();
        written.push(Written { path: path.display().to_string(), apart: None });
        files.push((file, text));
    }
    let sentence = sentence(&found);
    args.views.deliver_with(
        opened,
        files,
        &Views {
            text: &|| fit_text(&found, &written),
            json: &|| fit_json(&found, &written),
            csv: &|| fit_csv(&found),
            chart: &|| fit_chart(&found, &sentence),
        },
    )?;
    into_book(args, figures, shelf)
}

/// Resolves every name and file, telling all that is wrong with them in one go.
fn resolve_all(args: &Args, shelf: &Shelf) -> Result<Resolved, CliError> {
    let mut errors = Vec::new();
    let layup = layup(&args.layup, shelf).map_err(|e| errors.push(e)).ok();
    let exposure = exposure(&args.exposure, shelf).map_err(|e| errors.push(e)).ok();
    let readings = readings(args, &mut errors);
    let mut free: Vec<Free> = Vec::new();
    if let (Some(layup), Some(exposure)) = (&layup, &exposure) {
        for named in &args.free {
            match resolve(named, layup, exposure) {
                Ok(found) if free.iter().any(|known| known.what == found.what) => {
                    errors.push(CliError::Option(twice(named)));
                }
                Ok(found) => free.push(found),
                Err(bad) => errors.push(CliError::Option(bad)),
            }
        }
    }
    match (layup, exposure, errors.is_empty()) {
        (Some(layup), Some(exposure), true) => Ok(Resolved { layup, exposure, readings, free }),
        _ => Err(CliError::Several(errors)),
    }
}

fn twice(named: &Named) -> BadOption {
    BadOption {
        what: "a property is freed twice".into(),
        given: format!("--free {}", named.given),
        expected: "each property once".into(),
        mend: "remove one of the two".into(),
    }
}

fn readings(args: &Args, errors: &mut Vec<CliError>) -> Readings {
    if args.curves.is_empty() {
        let timed = |rise: f64, t: &f64| Timed { rise, t: *t };
        let early = args.hti12.iter().map(|t| timed(12.0, t));
        let times = early.chain(args.hti24.iter().map(|t| timed(24.0, t))).collect();
        return Readings::Times { times, deviation: args.time_error };
    }
    let mut curves = Vec::new();
    for path in &args.curves {
        match read_curve(path) {
            Ok(curve) => curves.push(curve),
            Err(faults) => errors.push(CliError::Faults(faults)),
        }
    }
    Readings::Curves(curves)
}

/// Whether what is to be written can be.
fn check_outputs(args: &Args, resolved: &Resolved) -> Result<(), CliError> {
    let of_ply = |free: &Free| matches!(free.what, What::Property(Property::Ply(..)));
    if let Some(path) = args.out.as_ref().filter(|path| is_csv(path)) {
        if !resolved.free.iter().any(of_ply) {
            return Err(CliError::Option(BadOption {
                what: "no property of a fabric is fitted, so that there is no fabric to write"
                    .into(),
                given: format!("--out {}", path.display()),
                expected: "a free property of a ply, or a file that ends in .toml".into(),
                mend: "name a file that ends in .toml: it holds the whole layup".into(),
            }));
        }
    }
    if let (Some(path), Flux::Series(_)) = (&args.exposure_out, &resolved.exposure.flux) {
        return Err(CliError::Option(BadOption {
            what: "the flux of the exposure comes from a file of its own".into(),
            given: format!("--exposure-out {}", path.display()),
            expected: "an exposure of steady flux".into(),
            mend: "scale the flux in its file by the fitted value over the one before".into(),
        }));
    }
    Ok(())
}

/// The figures that go into the book, with the note that tells what they were read from.
fn book_figures(args: &Args, resolved: &Resolved) -> Result<Option<(Figures, String)>, CliError> {
    let Some(book) = &args.book else { return Ok(None) };
    day(args.date.as_deref().unwrap_or_default())?;
    if book.exists() {
        read_book(book).map_err(CliError::Faults)?;
    }
    let (figures, note) = match &resolved.readings {
        Readings::Curves(curves) => (from_curves(curves, &resolved.exposure)?, read_from(curves)),
        Readings::Times { .. } => {
            let radiant = resolved.exposure.is_radiant();
            let given = [(Figure::Rise12, &args.hti12), (Figure::Rise24, &args.hti24)];
            let given = given.into_iter().filter(|(_, values)| !values.is_empty());
            let figures =
                given.map(|(of, values)| (word_of(of, radiant).to_owned(), values.clone()));
            (figures.collect(), String::new())
        }
    };
    Ok(Some((figures, note)))
}

/// Adds the figures to the book, which is told on standard error: the result is the fit.
fn into_book(
    args: &Args,
    figures: Option<(Figures, String)>,
    shelf: &Shelf,
) -> Result<(), CliError> {
    let (Some(book), Some((figures, note))) = (&args.book, figures) else { return Ok(()) };
    let round = Round {
        layup: &args.layup,
        exposure: &args.exposure,
        date: args.date.as_deref().unwrap_or_default(),
        report: "",
        conditioning: "",
        washed: 0,
        note: &note,
    };
    let outputs = [args.views.csv(), args.views.chart.as_deref(), args.out.as_deref()];
    let outputs = outputs.into_iter().chain([args.exposure_out.as_deref()]).flatten();
    let written: Vec<PathBuf> = outputs.map(Path::to_path_buf).collect();
    let added = put(&round, &figures, book, shelf).map_err(|error| match error {
        CliError::Write(error) if !written.is_empty() => {
            CliError::Write(WriteError { stands: Stands::These(written), ..error })
        }
        error => error,
    })?;
    output::say(&format!("note: {}", added.trim_end()));
    Ok(())
}

fn is_csv(path: &Path) -> bool {
    let is =
        |known: &str| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(known));
    is("csv") || is("xlsx")
}

/// The file's text, and how far its readings are from the fitted ones when it is read back.
fn fitted_file(found: &Fit, path: &Path, shelf: &Shelf) -> Result<(String, Option<f64>), CliError> {
    if is_csv(path) {
        return Ok((fabrics_csv(found, shelf).unwrap_or_default(), None));
    }
    let text = layup_toml(found, shelf);
    let layup = read_layup_text(&text, path, shelf).map_err(CliError::Faults)?;
    let apart = read_back(found, &layup).map_err(|error| refused(error, &layup))?;
    Ok((text, Some(apart)))
}

/// What was fitted, in a sentence.
fn sentence(found: &Fit) -> String {
    let each = |(i, free): (usize, &Free)| {
        let (value, unit) = outside(free.what, found.values[i]);
        let (value, half) = match found.half_widths[i] {
            Some(half) => digits(value, outside(free.what, half).0),
            None => (significant(value, 3), "?".to_string()),
        };
        let text = format!("{} {value} ± {half} {unit}", name(free.what, &found.layup));
        text.trim_end().to_string()
    };
    let all: Vec<String> = found.free.iter().enumerate().map(each).collect();
    let warned = if found.twins.is_empty() { "" } else { " Not all of it can be told apart." };
    format!("{}.{warned}", all.join("; "))
}

fn refused(error: FitError, layup: &Layup) -> CliError {
    let bad = |what: String, expected: &str, mend: &str| {
        CliError::Option(BadOption {
            what,
            given: format!("fit {}", layup.name),
            expected: expected.to_string(),
            mend: mend.to_string(),
        })
    };
    match error {
        FitError::Solver(source) => CliError::Bench(BenchError::Solver { behind: "disc", source }),
        FitError::Quilt(error) => CliError::Quilt(error),
        FitError::PressedAcrossGap => CliError::Bench(BenchError::PressedAcrossGap),
        FitError::ColdFlame(cold) => CliError::Bench(BenchError::ColdFlame(cold)),
        FitError::TooFew { n_readings, n_free } => bad(
            format!(
                "{} free, but there {} only {}",
                if n_free == 1 {
                    "1 property is".into()
                } else {
                    format!("{n_free} properties are")
                },
                if n_readings == 1 { "is" } else { "are" },
                count(n_readings, "reading", "readings")
            ),
            "at least as many readings as free properties, better ten times as many",
            "free fewer properties, or give curves",
        ),
        FitError::NotReached => bad(
            "with the values before the fit the disc does not get as far as the readings do".into(),
            "a layup and exposure near what was measured",
            "check the exposure, the layup and the unit of the readings; give better first values",
        ),
        FitError::NoSingularValues => bad(
            "the singular values of the derivatives could not be computed".into(),
            "finite derivatives",
            "this is a fault of the program; please report it with the input",
        ),
    }
}
