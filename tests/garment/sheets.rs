//! Claim: a sheet as a spreadsheet of another country saves it, with semicolons, decimal commas or units in a
//! row of their own, is read like the same sheet with commas and points, or refused.
//! Source: RFC 4180 for commas between cells; semicolons with decimal commas are common practice, no source.

use std::fs;
use std::path::{Path, PathBuf};

use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, Worksheet};
use stillair::shelf::lab::book::read_book;
use stillair::shelf::lab::curve::read_curve;
use stillair::shelf::lab::rolls::read_lots;
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;

/// A file of the test's own.
fn file(name: &str, text: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path
}

/// The same table with semicolons between cells and commas in numbers.
fn german(text: &str) -> String {
    text.replace(',', ";").replace('.', ",")
}

#[test]
fn rolls_are_the_same_in_either_manner() {
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/three-ply-loose.toml"), &shelf).unwrap();
    let plain = "lot,ply,areal_density_g_m2,thickness_mm,note\nA,1,195.5,0.47,ok\nB,2,101,1.352,\n";
    let read = |name: &str, text: &str| read_lots(&file(name, text), &layup).unwrap();
    let expected = read("plain.csv", plain);
    assert!((expected[1].thickness - 1.352e-3).abs() < 1e-12);
    assert_eq!(read("german.csv", &german(plain)), expected);
    // as spreadsheets save it: a mark at the front, other line ends, everything between quotes
    let quoted = german(plain)
        .lines()
        .map(|line| line.split(';').map(|c| format!("\"{c}\"")).collect::<Vec<_>>().join(";"))
        .collect::<Vec<_>>()
        .join("\r\n");
    assert_eq!(read("quoted.csv", &format!("\u{feff}{quoted}\r\n")), expected);
    let units = "lot,ply,areal density,Thickness,note\n,-,g/m²,[mm],\n\
                 A,1,195.5,0.47,ok\nB,2,101,1.352,\n";
    assert_eq!(read("units.csv", units), expected);
    assert_eq!(read("german-units.csv", &german(units)), expected);
    let said = units.replace("areal density", "areal_density_g_m2");
    assert_eq!(read("units-twice.csv", &said), expected);
}

#[test]
fn curves_and_books_too() {
    let curve = "time_s,temperature_rise_C\n0,0\n0.5,0.1\n1,0.4\n1.5,0.9\n2,1.6\n2.5,2.5\n3,3.6\n";
    let read = |name: &str, text: &str| read_curve(&file(name, text)).unwrap().points;
    assert_eq!(read("a.csv", curve), read("b.csv", &german(curve)));
    let units = curve.replace("time_s,temperature_rise_C", "time,temperature rise\ns,°C");
    assert_eq!(read("c.csv", &units), read("a.csv", curve));
    let book = "date,layup,exposure,figure,values_s\n\
                2026-11-26,three-ply-loose,flame-80,HTI24,14.1 13.7\n";
    let values =
        |name: &str, text: &str| read_book(&file(name, text)).unwrap().tests[0].values.clone();
    assert_eq!(values("d.csv", book), values("e.csv", &german(book)));
}

/// A workbook of the test's own.
fn workbook(name: &str, fill: impl Fn(&mut Workbook)) -> PathBuf {
    let mut book = Workbook::new();
    fill(&mut book);
    let path = file(name, "");
    book.save(&path).unwrap();
    path
}

/// Fills a sheet with a table of rolls.
fn rolls(sheet: &mut Worksheet) {
    for (column, word) in (0u16..).zip(["lot", "ply", "areal_density_g_m2", "thickness_mm"]) {
        sheet.write(0, column, word).unwrap();
    }
    sheet.write(1, 0, "A").unwrap();
    for (column, number) in [(1u16, 1.0), (2, 195.5), (3, 0.47)] {
        sheet.write(1, column, number).unwrap();
    }
}

#[test]
fn a_workbook_is_read_like_its_table() {
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/three-ply-loose.toml"), &shelf).unwrap();
    let plain = "lot,ply,areal_density_g_m2,thickness_mm\nA,1,195.5,0.47\n";
    let expected = read_lots(&file("plain-2.csv", plain), &layup).unwrap();
    let book = workbook("rolls.xlsx", |book| rolls(book.add_worksheet()));
    assert_eq!(read_lots(&book, &layup).unwrap(), expected);
    // what the program writes it reads; a name on the disk says nothing
    let written = stillair::shelf::notation::workbook_write::workbook(plain).unwrap();
    let path = file("written.csv", "");
    fs::write(&path, written).unwrap();
    assert_eq!(read_lots(&path, &layup).unwrap(), expected);
    // a hidden sheet is not looked at, and a formula is read by its value
    let book = workbook("hidden.xlsx", |book| {
        rolls(book.add_worksheet());
        let formula = Formula::new("=0.4+0.07").set_result("0.47");
        book.worksheet_from_index(0).unwrap().write_formula(1, 3, formula).unwrap();
        let hidden = book.add_worksheet();
        hidden.write(0, 0, "notes").unwrap();
        hidden.set_hidden(true);
    });
    assert_eq!(read_lots(&book, &layup).unwrap(), expected);
    assert_eq!(shelf.check(&book).unwrap().kind, "list of rolls");
}

#[test]
fn what_a_table_cannot_hold_is_said_with_its_cell() {
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/three-ply-loose.toml"), &shelf).unwrap();
    let said = |name: &str, change: &dyn Fn(&mut Workbook)| {
        let path = workbook(name, |book| {
            rolls(book.add_worksheet());
            change(book);
        });
        let said = read_lots(&path, &layup).unwrap_err().to_string();
        for part in ["error: ", "\n  at ", "\n  expected: ", "\n  mend: "] {
            assert!(said.contains(part), "{said}");
        }
        said
    };
    let sheet = |book: &mut Workbook, change: &dyn Fn(&mut Worksheet)| {
        change(book.worksheet_from_index(0).unwrap());
    };
    let merged = said("merged.xlsx", &|book| {
        sheet(book, &|s| {
            s.merge_range(2, 0, 2, 1, "B", &Format::new()).unwrap();
        });
    });
    assert!(merged.contains("A3 to B3 are merged"), "{merged}");
    let date = said("date.xlsx", &|book| {
        let day = ExcelDateTime::from_ymd(2026, 2, 1).unwrap();
        let format = Format::new().set_num_format("yyyy-mm-dd");
        sheet(book, &|s| {
            s.write_with_format(1, 3, &day, &format).unwrap();
        });
    });
    assert!(date.contains("is a date") && date.contains(":2:"), "{date}");
    let several = said("several.xlsx", &|book| rolls(book.add_worksheet()));
    assert!(several.contains("several sheets: `Sheet1`, `Sheet2`"), "{several}");
    let long = said("long.xlsx", &|book| {
        sheet(book, &|s| {
            s.write(999_999, 0, "Z").unwrap();
        });
    });
    assert!(long.contains("more than 10000 rows") && long.contains("cell A1000000"), "{long}");
    let wide = said("wide.xlsx", &|book| {
        sheet(book, &|s| {
            s.write(0, 5000, "Z").unwrap();
        })
    });
    assert!(wide.contains("more than 1000 columns"), "{wide}");
    let broken = file("broken.xlsx", "");
    fs::write(&broken, b"PK\x03\x04 and no more").unwrap();
    let said = read_lots(&broken, &layup).unwrap_err().to_string();
    assert!(said.contains("no workbook that can be read"), "{said}");
}

#[test]
fn what_may_be_read_in_two_ways_is_refused() {
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/three-ply-loose.toml"), &shelf).unwrap();
    let head = "lot;ply;areal_density_g_m2;thickness_mm\n";
    for (i, (rows, said)) in [
        ("A;1;195,5;0.47\n", "both `195,5` and `0.47`"),
        ("A;1;195;1,352\nB;2;101;1,300\n", "`1,352` may be a decimal number"),
        ("A;1;195;1.352\n", "`1.352` may be a decimal number"),
        ("A;1;1.195,5;0,47\n", "is not a number"),
    ]
    .into_iter()
    .enumerate()
    {
        let path = file(&format!("two-ways-{i}.csv"), &format!("{head}{rows}"));
        let faults = read_lots(&path, &layup).unwrap_err().to_string();
        assert!(faults.contains(said), "{faults}");
    }
}
