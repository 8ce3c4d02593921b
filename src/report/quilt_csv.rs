//! A quilting's places and a sweep's points as CSV, the notice in the last header.

use crate::NOTICE;
use crate::bench::outcome::When;
use crate::report::csv::{CurvesError, cell};
use crate::study::quilt::outcome::Quilted;
use crate::study::quilt::sweep::Sweep;

/// Header of the last, empty column: notice and version travel with the file.
fn last_header() -> String {
    format!("stillair {}: {NOTICE}", env!("CARGO_PKG_VERSION"))
}

/// One row a place, from the stitch line to the cell's centre; empty cells for what does not happen.
///
/// Places under a patch follow those beside it; the share of the area is that of the whole.
///
/// Errors: a value that is not a finite number.
pub fn places_csv(quilted: &Quilted) -> Result<String, CurvesError> {
    let mut table = Rows::new(&[
        "place",
        "patch",
        "distance_to_stitch_line_mm",
        "area_share_pct",
        "air_mm",
        "basal_44_C_s",
        "first_degree_s",
        "second_degree_s",
        "third_degree_s",
        "area_burnt_by_second_degree_pct",
    ])?;
    let patched = quilted.patch.as_ref();
    let share = patched.map_or(0.0, |patched| patched.patch.share);
    let word = |of: &'static str| if patched.is_some() { of } else { "none" };
    let beside = quilted.skin.iter().map(|skin| (word("beside"), 1.0 - share, skin));
    let under = patched.and_then(|patched| patched.under_skin.as_ref());
    let skins = beside.chain(under.map(|skin| ("under", share, skin)));
    let places =
        skins.flat_map(|(word, part, skin)| skin.places.iter().map(move |p| (word, part, p)));
    for (word, part, place) in places {
        let path = &place.path;
        let mut row = vec![
            Some(1e3 * path.distance),
            Some(100.0 * part * path.share),
            Some(1e3 * path.air),
            place.basal_44.t(),
        ];
        row.extend(place.degrees.iter().map(When::t));
        let burnt = place.degrees[1].t().and_then(|t| quilted.burnt_by(t));
        row.push(burnt.map(|share| 100.0 * share));
        table.row(&[path.place.words(), word], &row)?;
    }
    table.finish()
}

/// One row a point of a sweep, pitch running fastest.
///
/// - `figure`: name of the figure, such as HTI24
///
/// Errors: a value that is not a finite number.
pub fn sweep_csv(sweep: &Sweep, figure: &str) -> Result<String, CurvesError> {
    let (time, error) = (format!("{figure}_s"), format!("{figure}_error_s"));
    let mut table = Rows::new(&[
        "pattern",
        "pitch_mm",
        "loft_mm",
        &time,
        &error,
        "stitch_line_area_pct",
        "thread_g_m2",
        "plies_g_m2",
    ])?;
    for point in &sweep.points {
        let row = [
            Some(1e3 * point.pitch),
            Some(1e3 * point.loft),
            Some(point.rise24.value),
            Some(point.rise24.error),
            Some(100.0 * point.stitch_share),
            point.thread.map(|thread| 1e3 * thread),
            Some(1e3 * sweep.layup.areal_density()),
        ];
        table.row(&[sweep.quilting.pattern.word()], &row)?;
    }
    table.finish()
}

/// Rows of words, then numbers, under their headers.
struct Rows {
    writer: ::csv::Writer<Vec<u8>>,
    headers: Vec<String>,
    n_rows: usize,
}

impl Rows {
    fn new(headers: &[&str]) -> Result<Rows, CurvesError> {
        let mut writer = ::csv::Writer::from_writer(Vec::new());
        let last = last_header();
        let head = headers.iter().copied().chain([last.as_str()]);
        writer.write_record(head).map_err(CurvesError::Csv)?;
        let headers = headers.iter().map(|header| (*header).to_string()).collect();
        Ok(Rows { writer, headers, n_rows: 0 })
    }

    fn row(&mut self, words: &[&str], values: &[Option<f64>]) -> Result<(), CurvesError> {
        let mut cells: Vec<String> = words.iter().map(|word| (*word).to_string()).collect();
        for (value, header) in values.iter().zip(&self.headers[words.len()..]) {
            cells.push(match value {
                Some(value) => cell(*value, self.n_rows, header)?,
                None => String::new(),
            });
        }
        cells.push(String::new());
        self.n_rows += 1;
        self.writer.write_record(&cells).map_err(CurvesError::Csv)
    }

    fn finish(self) -> Result<String, CurvesError> {
        let bytes = self.writer.into_inner().map_err(|_| CurvesError::Text)?;
        String::from_utf8(bytes).map_err(|_| CurvesError::Text)
    }
}
