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
/// Errors: a value that is not a finite number.
pub fn places_csv(quilted: &Quilted) -> Result<String, CurvesError> {
    let mut table = Rows::new(&[
        "place",
        "distance_to_stitch_line_mm",
        "area_share_pct",
        "air_mm",
        "basal_44_C_s",
        "first_degree_s",
        "second_degree_s",
        "third_degree_s",
        "area_burnt_by_second_degree_pct",
    ])?;
    for place in quilted.skin.iter().flat_map(|skin| &skin.places) {
        let path = &place.path;
        let burnt = |t: f64| quilted.skin.as_ref().map_or(0.0, |skin| skin.burnt.by(t));
        let mut row = vec![
            Some(1e3 * path.distance),
            Some(100.0 * path.share),
            Some(1e3 * path.air),
            place.basal_44.t(),
        ];
        row.extend(place.degrees.iter().map(When::t));
        row.push(place.degrees[1].t().map(|t| 100.0 * burnt(t)));
        table.row(path.place.words(), &row)?;
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
        table.row(sweep.quilting.pattern.word(), &row)?;
    }
    table.finish()
}

/// Rows of one word and numbers under their headers.
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

    fn row(&mut self, word: &str, values: &[Option<f64>]) -> Result<(), CurvesError> {
        let mut cells = vec![word.to_string()];
        for (value, header) in values.iter().zip(&self.headers[1..]) {
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
