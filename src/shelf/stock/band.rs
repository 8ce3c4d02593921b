//! Bands of the model from their records, and their table as a file.

use crate::garment::band::{Band, Bands, Class, Factors, Reading};
use crate::shelf::fault::Fault;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::table::csv_text;

/// A band from its record; none when anything is wrong with it.
pub(crate) fn read_band(record: &Record, faults: &mut Vec<Fault>) -> Option<Band> {
    let before = faults.len();
    let classes = Class::ALL.map(|class| (class.word(), class));
    let readings = Reading::ALL.map(|reading| (reading.word(), reading));
    let owner = format!("band `{}`", name(record));
    let mut reader = Reader { record, owner, faults };
    let class = reader.need_choice("class", &classes);
    let reading = reader.need_choice("figure", &readings);
    let lower = reader.need_number(&kinds::LOWER_FACTOR);
    let upper = reader.need_number(&kinds::UPPER_FACTOR);
    let n_cases = reader.whole(&kinds::CASES);
    let basis = reader.need_word("basis");
    let source = reader.word("source").unwrap_or_default();
    if let (Some(lower), Some(upper)) = (lower, upper) {
        if lower > upper {
            let what =
                format!("lower factor of {}, {lower}, is above the upper, {upper}", reader.owner);
            let place = record.place_of(kinds::LOWER_FACTOR.key);
            let expected = "a lower factor at most as large as the upper";
            let mend = "swap the two, or correct the one that is wrong";
            let fault = Fault::new(what, place, expected, mend);
            reader.fault(fault.and_at(record.place_of(kinds::UPPER_FACTOR.key)));
        }
    }
    if reader.record.get(kinds::CASES.key).is_none() {
        reader.need_number(&kinds::CASES);
    }
    if class == Some(Class::BareSkin) && reading.is_some_and(|reading| reading != Reading::Skin) {
        let what = format!("{} is of a disc that nothing covers", reader.owner);
        let expected = "`skin` as the figure of bare skin";
        let mend = "name the class of the cloth, or take the figure `skin`";
        reader.fault(Fault::new(what, record.place_of("figure"), expected, mend));
    }
    if faults.len() > before {
        return None;
    }
    Some(Band {
        class: class?,
        reading: reading?,
        factors: Factors { lower: lower?, upper: upper? },
        n_cases: n_cases?,
        basis: basis?,
        source,
        anchored: None,
    })
}

/// What tells one band from another: "two plies, flame".
pub(crate) fn name(record: &Record) -> String {
    match (record.word("class"), record.word("figure")) {
        ("", "") => String::new(),
        (class, figure) => format!("{class}, {figure}"),
    }
}

/// The table as a file: the comments of the one that stands, its header, and the rows.
///
/// - `standing`: text of the file that it takes the place of
pub fn bands_csv(standing: &str, table: &Bands) -> String {
    let comments = standing.lines().filter(|line| line.starts_with('#'));
    let comments: String = comments.map(|line| format!("{line}\n")).collect();
    let row = |band: &Band| {
        let Factors { lower, upper } = band.factors;
        vec![
            band.class.word().to_owned(),
            band.reading.word().to_owned(),
            format!("{lower:.2}"),
            format!("{upper:.2}"),
            band.n_cases.to_string(),
            band.basis.clone(),
            band.source.clone(),
        ]
    };
    let rows: Vec<Vec<String>> = table.iter().map(row).collect();
    let header = ["class", "figure", "lower", "upper", "cases", "basis", "source"];
    comments + &csv_text(&header, &rows)
}
