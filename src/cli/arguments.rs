//! Values of options: each is checked alone, before anything is read.

use std::path::{Path, PathBuf};

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use crate::bench::effects::Effect;
use crate::garment::band::Factors;
use crate::garment::press::PRESSURES;
use crate::physics::units::{CENTIMETRES, GRAMS_PER_LENGTH, KILOPASCALS, MILLIMETRES, PERCENT};
use crate::shelf::file::plain;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::key::kinds_suit::{HEIGHT, MASS};
use crate::study::seek::part::{PARTS_MOST, Part};

/// Longest time that may be asked for [s].
const LONGEST: f64 = 3600.0;
/// Rows of the split of a spread: each is a run for every input, and twice as many rows tell a share of
/// the variance only a third more closely.
const ROWS_MOST: usize = 4096;
/// Numerical errors that may be asked for [%].
const ERRORS: (f64, f64) = (0.01, 10.0);

/// A number within the bounds that files have for it, in the same unit.
fn within(field: &Field, text: &str) -> Result<f64, String> {
    let value = number(text, &format!("for example {}", field.example))?;
    match field.range.slip(value) {
        None => Ok(value),
        Some(_) => Err(format!("expected {}", field.rule())),
    }
}

/// How long the flame lasts [s].
pub fn duration(text: &str) -> Result<f64, String> {
    within(&kinds::DURATION, text)
}

/// Until when is looked [s].
pub fn until(text: &str) -> Result<f64, String> {
    within(&kinds::UNTIL, text)
}

/// A time above 0 and at most an hour [s].
pub fn seconds(text: &str) -> Result<f64, String> {
    let value = number(text, "for example 12")?;
    if value > 0.0 && value <= LONGEST {
        Ok(value)
    } else {
        Err(format!("expected more than 0 and at most {LONGEST} seconds"))
    }
}

/// The words of the effects, each with what it is.
pub fn effect_words() -> impl TypedValueParser<Value = Effect> {
    let word = |effect: &Effect| PossibleValue::new(effect.word()).help(effect.meaning());
    PossibleValuesParser::new(Effect::ALL.iter().map(word)).map(|word| {
        let of_word = |effect: &Effect| effect.word() == word;
        Effect::ALL.into_iter().find(of_word).expect("only the words above are let through")
    })
}

/// A pressure on the plies in kPa, in Pa.
pub fn pressure(text: &str) -> Result<f64, String> {
    let value = KILOPASCALS.inside(number(text, "for example 2")?);
    let (none, most) = PRESSURES;
    if value > none && value <= most {
        Ok(value)
    } else {
        Err(format!(
            "expected more than {} and at most {} kPa",
            KILOPASCALS.outside(none),
            KILOPASCALS.outside(most)
        ))
    }
}

/// A numerical error in percent, as a share [–].
pub fn error_goal(text: &str) -> Result<f64, String> {
    let value = number(text, "for example 0.5")?;
    let (least, most) = ERRORS;
    if value >= least && value <= most {
        Ok(PERCENT.inside(value))
    } else {
        Err(format!("expected {least} to {most} percent"))
    }
}

/// A mass in kilograms and a height in centimetres between a comma, in kg and m.
pub fn measures(text: &str) -> Result<(f64, f64), String> {
    let rule = "expected kilograms and centimetres between a comma, for example 85,182";
    let (mass, height) = text.split_once(',').ok_or(rule)?;
    Ok((within(&MASS, mass)?, CENTIMETRES.inside(within(&HEIGHT, height)?)))
}

/// A size factor from 0.5 to 2.
pub fn size(text: &str) -> Result<f64, String> {
    let value = number(text, "for example 1.08")?;
    if (0.5..=2.0).contains(&value) { Ok(value) } else { Err("expected 0.5 to 2".to_string()) }
}

/// A gap, given in millimetres, or 0 for faces that touch [m].
pub fn gap(text: &str) -> Result<f64, String> {
    match number(text, "for example 0.5")? {
        0.0 => Ok(0.0),
        _ => within(&kinds::GAP, text)
            .map(|mm| MILLIMETRES.inside(mm))
            .map_err(|rule| format!("{rule}, or 0 where the faces touch")),
    }
}

/// How many times as well something conducts along as through it, 0 to 20.
pub fn along(text: &str) -> Result<f64, String> {
    let value = number(text, "for example 3")?;
    if (0.0..=20.0).contains(&value) { Ok(value) } else { Err("expected 0 to 20".to_string()) }
}

/// A number of points from 1 to 1000.
pub fn n_points(text: &str) -> Result<usize, String> {
    match text.trim().parse::<usize>() {
        Ok(n) if (1..=1000).contains(&n) => Ok(n),
        _ => Err("expected a whole number from 1 to 1000, for example 60".to_string()),
    }
}

/// A number of sets from 16, one a block, to all points that there are.
pub fn n_sets(text: &str) -> Result<usize, String> {
    whole(text, (16, 65536), "1024")
}

/// A number of specimens from 1 to 20.
pub fn n_specimens(text: &str) -> Result<usize, String> {
    whole(text, (1, 20), "3")
}

/// A number of rows from 0 to as many as are run in minutes.
pub fn n_rows(text: &str) -> Result<usize, String> {
    whole(text, (0, ROWS_MOST), "256")
}

fn whole(text: &str, (least, most): (usize, usize), example: &str) -> Result<usize, String> {
    match text.trim().parse::<usize>() {
        Ok(n) if (least..=most).contains(&n) => Ok(n),
        _ => Err(format!("expected a whole number from {least} to {most}, for example {example}")),
    }
}

/// A half width in percent from 0 to 50, as a share [–].
pub fn band(text: &str) -> Result<f64, String> {
    let value = number(text, "for example 5")?;
    if (0.0..=50.0).contains(&value) {
        Ok(PERCENT.inside(value))
    } else {
        Err("expected 0 to 50 percent".to_string())
    }
}

/// A tolerance in percent, none or from 0.01 to 50, as a share [–].
pub fn tolerance(text: &str) -> Result<f64, String> {
    match band(text)? {
        share if share > 0.0 && share < PERCENT.inside(0.01) => {
            Err("expected 0, or 0.01 to 50 percent: nothing is held more closely".to_string())
        }
        share => Ok(share),
    }
}

/// A part such as 2/8.
pub fn part(text: &str) -> Result<Part, String> {
    let whole = |text: &str| text.trim().parse::<u32>().ok();
    let parts = text.split_once('/').and_then(|(k, n)| Part::new(whole(k)?, whole(n)?));
    parts.ok_or_else(|| format!("expected K/N with 1 ≤ K ≤ N ≤ {PARTS_MOST}, for example 2/8"))
}

/// A share in percent from 0 to 100, as a share [–].
pub fn share(text: &str) -> Result<f64, String> {
    let value = number(text, "for example 30")?;
    if (0.0..=PERCENT.outside(1.0)).contains(&value) {
        Ok(PERCENT.inside(value))
    } else {
        Err("expected 0 to 100 percent".to_string())
    }
}

/// Distance of stitch lines, given in millimetres [m].
pub fn pitch(text: &str) -> Result<f64, String> {
    Ok(MILLIMETRES.inside(within(&kinds::PITCH, text)?))
}

/// Width of a stitch line, given in millimetres [m].
pub fn stitch_width(text: &str) -> Result<f64, String> {
    Ok(MILLIMETRES.inside(within(&kinds::STITCH_WIDTH, text)?))
}

/// Air between stitch lines, given in millimetres [m].
pub fn loft(text: &str) -> Result<f64, String> {
    Ok(MILLIMETRES.inside(within(&kinds::LOFT, text)?))
}

/// Thickness of pressed plies, given in millimetres [m].
pub fn pressed(text: &str) -> Result<f64, String> {
    Ok(MILLIMETRES.inside(within(&kinds::PRESSED, text)?))
}

/// Mass of thread per length, given in g/m [kg/m].
pub fn thread(text: &str) -> Result<f64, String> {
    Ok(GRAMS_PER_LENGTH.inside(within(&kinds::THREAD, text)?))
}

/// Two pitches in millimetres with a colon between, the second larger [m].
pub fn pitches(text: &str) -> Result<(f64, f64), String> {
    between(text, pitch)
}

/// Two lofts in millimetres with a colon between, the second larger [m].
pub fn lofts(text: &str) -> Result<(f64, f64), String> {
    between(text, loft)
}

fn between(text: &str, one: fn(&str) -> Result<f64, String>) -> Result<(f64, f64), String> {
    let (from, to) = text.split_once(':').ok_or("expected two lengths, for example 20:80")?;
    let (from, to) = (one(from)?, one(to)?);
    if from < to { Ok((from, to)) } else { Err("expected the smaller length first".to_string()) }
}

/// Factors on a prediction, lower and upper.
pub fn factors(text: &str) -> Result<Factors, String> {
    let (lower, upper) =
        text.split_once(':').ok_or("expected two factors, for example 0.75:1.15")?;
    let one = |text: &str| match number(text, "for example 0.75")? {
        factor if factor > 0.0 && factor <= 10.0 => Ok(factor),
        _ => Err("expected factors above 0 and at most 10".to_string()),
    };
    let (lower, upper) = (one(lower)?, one(upper)?);
    if lower <= upper {
        Ok(Factors { lower, upper })
    } else {
        Err("expected the lower factor first".to_string())
    }
}

fn number(text: &str, example: &str) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        Ok(_) => Err(format!("expected a finite number, {example}")),
        Err(_) if text.contains(',') => Err(format!("expected a decimal point, {example}")),
        Err(_) => Err(format!("expected a number without its unit, {example}")),
    }
}

/// A file for a chart, its kind told by the ending.
pub fn chart_file(text: &str) -> Result<PathBuf, String> {
    let ending = ending(Path::new(text));
    match ending.as_str() {
        "svg" => Ok(PathBuf::from(text)),
        "png" if cfg!(feature = "png") => Ok(PathBuf::from(text)),
        "png" => {
            Err("this program was built without PNG; name a file that ends in .svg".to_string())
        }
        _ => Err("expected a file name that ends in .svg or .png".to_string()),
    }
}

/// A file for a layup or an exposure.
pub fn layup_file(text: &str) -> Result<PathBuf, String> {
    match ending(Path::new(text)).as_str() {
        "toml" | "" => Ok(PathBuf::from(text)),
        _ => Err("expected a file name that ends in .toml".to_string()),
    }
}

/// A file for a layup, or for fabrics.
pub fn layup_or_fabrics_file(text: &str) -> Result<PathBuf, String> {
    match ending(Path::new(text)).as_str() {
        "toml" | "csv" | "xlsx" => Ok(PathBuf::from(text)),
        _ => Err("expected a file name that ends in .toml, .csv or .xlsx".to_string()),
    }
}

/// A file for curves.
pub fn curves_file(text: &str) -> Result<PathBuf, String> {
    // A device such as /dev/stdout has no ending and is fine.
    match ending(Path::new(text)).as_str() {
        "csv" | "xlsx" | "" => Ok(PathBuf::from(text)),
        _ => Err("expected a file name that ends in .csv or .xlsx".to_string()),
    }
}

/// Words of the user's that a report repeats.
pub fn plain_text(text: &str) -> Result<String, String> {
    match plain::refused_in(text) {
        Some((_, c)) => Err(format!("it holds {}; {}", plain::named(c), plain::EXPECTED)),
        None => Ok(text.to_string()),
    }
}

/// A file for a page.
pub fn page_file(text: &str) -> Result<PathBuf, String> {
    match ending(Path::new(text)).as_str() {
        "html" | "htm" | "" => Ok(PathBuf::from(text)),
        _ => Err("expected a file name that ends in .html".to_string()),
    }
}

/// A file for Markdown.
pub fn markdown_file(text: &str) -> Result<PathBuf, String> {
    match ending(Path::new(text)).as_str() {
        "md" => Ok(PathBuf::from(text)),
        _ => Err("expected a file name that ends in .md".to_string()),
    }
}

fn ending(path: &Path) -> String {
    path.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{
        chart_file, curves_file, duration, error_goal, gap, loft, lofts, page_file, pitch, pitches,
        pressure, seconds, stitch_width, until,
    };

    #[test]
    fn times_are_finite_and_above_zero() {
        assert_eq!(seconds("12.5"), Ok(12.5));
        for bad in ["0", "-1", "nan", "inf", "1e9", "12 s", "1,5", ""] {
            assert!(seconds(bad).is_err(), "{bad}");
        }
        assert!(seconds("1,5").unwrap_err().contains("decimal point"));
    }

    #[test]
    fn pressures_are_kilopascals_above_zero() {
        assert_eq!(pressure("2"), Ok(2000.0));
        for bad in ["0", "-1", "100.1", "nan", "inf", "2 kPa", "1,5", ""] {
            assert!(pressure(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn lengths_are_millimetres() {
        assert_eq!(pitch("40"), Ok(0.04));
        assert_eq!(loft("0"), Ok(0.0));
        assert_eq!(pitches("20:80"), Ok((0.02, 0.08)));
        for bad in ["0", "-1", "nan", "inf", "1001", "2 mm", "1,5", ""] {
            assert!(pitch(bad).is_err() && stitch_width(bad).is_err(), "{bad}");
        }
        for bad in ["20", "80:20", "20:20", ":", "20:", "-5:5", "a:b", "0:80"] {
            assert!(pitches(bad).is_err(), "{bad}");
        }
    }

    /// An option takes what a file takes, and no more.
    #[test]
    fn options_are_bound_as_files_are() {
        assert!(stitch_width("0").unwrap_err().contains("sewing thread"));
        assert!(loft("101").is_err() && loft("100").is_ok() && lofts("0:101").is_err());
        assert!(gap("0.009").is_err() && gap("0.01").is_ok() && gap("101").is_err());
        assert!(duration("1e-300").is_err() && until("1e-300").is_err());
        assert!(duration("3601").is_err() && until("0.1").is_ok());
    }

    #[test]
    fn errors_are_percent() {
        assert_eq!(error_goal("0.5"), Ok(0.005));
        for bad in ["0", "-0.5", "NaN", "50", "0.5%"] {
            assert!(error_goal(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn endings_tell_the_kind_of_file() {
        assert!(chart_file("a.SVG").is_ok());
        assert!(chart_file("a.jpg").is_err());
        assert!(chart_file("svg").is_err());
        assert!(curves_file("a.csv").is_ok());
        assert!(curves_file("/dev/stdout").is_ok());
        assert!(curves_file("a.xlsx").is_ok() && curves_file("a.ods").is_err());
        assert!(page_file("a.html").is_ok() && page_file("/dev/stdout").is_ok());
        assert!(page_file("a.pdf").is_err());
    }
}
