//! Claim: wherever a table is written as CSV it can be written as a workbook with the same cells, and a bench
//! book that is a workbook is kept and read like one of text.
//! Source: the cells as a general-purpose reader of workbooks finds them.

use calamine::{Data, Reader, Xlsx, open_workbook};

use crate::command::program::{done, folder};

/// The cells of a workbook's one sheet, empty ones at the end of a row left out.
fn of_workbook(path: &str) -> Vec<Vec<String>> {
    let mut book: Xlsx<_> = open_workbook(path).unwrap();
    let sheets = book.worksheets();
    let [(_, sheet)] = sheets.as_slice() else { panic!("one sheet: {path}") };
    let shown = |cell: &Data| match cell {
        Data::Empty => String::new(),
        Data::Float(number) => number.to_string(),
        Data::String(text) => text.clone(),
        other => panic!("{path}: {other:?}"),
    };
    sheet.rows().map(|row| trimmed(row.iter().map(shown).collect())).collect()
}

/// The same of a CSV file; numbers are spelt as floating point.
fn of_csv(path: &str) -> Vec<Vec<String>> {
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).from_path(path).unwrap();
    let number = |cell: &str| match cell.parse::<f64>() {
        Ok(number) if cell.starts_with(|c: char| c.is_ascii_digit() || c == '-') => {
            number.to_string()
        }
        _ => cell.to_owned(),
    };
    reader.records().map(|row| trimmed(row.unwrap().iter().map(number).collect())).collect()
}

fn trimmed(mut row: Vec<String>) -> Vec<String> {
    while row.last().is_some_and(String::is_empty) {
        row.pop();
    }
    row
}

#[test]
fn a_workbook_holds_the_cells_of_the_text() {
    let place = folder("workbooks");
    let commands: [&[&str]; 4] = [
        &["suit", "refuelling-coverall", "--error", "5"],
        &["lots", "three-ply-loose", "examples/rolls.csv", "--error", "5"],
        &["rank", "three-ply-loose", "single-outer-195", "--error", "5"],
        &["gap", "three-ply-loose", "--error", "5"],
    ];
    for command in commands {
        let [text, book] = ["csv", "xlsx"].map(|ending| {
            let path = place.join(format!("{}.{ending}", command[0])).display().to_string();
            done(&[command, &["--csv", &path]].concat());
            path
        });
        let (text, book) = (of_csv(&text), of_workbook(&book));
        assert!(text.len() > 2 && text[0].len() > 4, "{command:?}: {text:?}");
        assert_eq!(book, text, "{command:?}");
    }
}

#[test]
fn a_bench_book_may_be_a_workbook() {
    let place = folder("workbook_of_tests");
    let [text, book] = ["book.csv", "book.xlsx"].map(|file| {
        let path = place.join(file).display().to_string();
        for (figure, values) in [("HTI24", "14.1,13.7"), ("HTI12", "10.1")] {
            let test = ["--figure", figure, "--values", values, "--date", "2026-11-26"];
            let to = ["book", "add", "single-outer-195", "--book", &path];
            done(&[&to[..], &test[..]].concat());
        }
        path
    });
    let (rows, [comments, tests]) = (
        of_workbook(&book),
        [true, false].map(|wanted| {
            let mut rows = of_csv(&text);
            rows.retain(|row| row[0].starts_with('#') == wanted);
            rows
        }),
    );
    // a comment is one cell, commas and all
    for (row, comment) in rows.iter().zip(&comments) {
        assert_eq!(*row, [comment.join(",")]);
    }
    assert_eq!(rows[comments.len()..], tests);
    let how_far = |path: &str| done(&["book", "how-far", "--book", path]);
    assert_eq!(how_far(&book), how_far(&text));
}
