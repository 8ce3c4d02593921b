//! The bench book's file: rows are only ever added, the file is always whole.

use std::io;
use std::path::Path;

use crate::report::lock::Lock;
use crate::report::write::{Destination, Why, WriteError};
use crate::shelf::fault::Faults;
use crate::shelf::file::regular::{self, Unread};
use crate::shelf::file::sizes::BOOK;
use crate::shelf::lab::book::read_book_text;
use crate::shelf::lab::book_row::{Cells, empty, with_row};
use crate::shelf::notation::workbook::{is_workbook, table};

/// Why a row could not be added; the book is as it was.
#[derive(Debug)]
pub enum AppendError {
    /// The book, or the row in it, is wrong.
    Faults(Faults),
    /// The system refused.
    Write(WriteError),
}

/// Adds rows to a book, all or none, making the book if there is none; two that add at once wait
/// for each other.
///
/// Errors: a book with faults stays untouched, as does one that a row would make faulty.
pub fn append(path: &Path, rows: &[Cells]) -> Result<(), AppendError> {
    let failed = |error: io::Error| AppendError::Write(WriteError::before(path, Why::Io(error)));
    let lock = Lock::wait(path).map_err(failed)?;
    let old = match regular::read(path, BOOK.bytes_most) {
        Ok(bytes) if is_workbook(&bytes) => {
            table(&path.display().to_string(), bytes, BOOK).map_err(AppendError::Faults)?
        }
        Ok(bytes) => String::from_utf8(bytes)
            .map_err(|e| failed(io::Error::new(io::ErrorKind::InvalidData, e)))?,
        Err(Unread::Missing) => empty(),
        Err(Unread::Io(error)) => return Err(failed(error)),
        Err(unread) => return Err(failed(io::Error::other(unread.to_string()))),
    };
    read_book_text(&old, path).map_err(AppendError::Faults)?;
    let mut text = old;
    for cells in rows {
        text = with_row(&text, cells).map_err(failed)?;
    }
    read_book_text(&text, path).map_err(AppendError::Faults)?;
    let file = Destination::try_out(path).map_err(AppendError::Write)?;
    file.put(text.as_bytes()).map_err(AppendError::Write)?;
    drop(lock);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{AppendError, append};
    use crate::shelf::lab::book::{COLUMNS, read_book};
    use crate::shelf::lab::book_row::Cells;
    use std::fs;
    use std::path::PathBuf;

    fn place(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("stillair-book-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        folder.join("bench-book.csv")
    }

    fn row(values: &str) -> [Cells; 1] {
        let cell = |column: &str| match column {
            "date" => "2026-11-26",
            "layup" => "three-ply-loose",
            "exposure" => "flame-80",
            "figure" => "HTI24",
            "values_s" => values,
            "note" => "washed, \"twice\"",
            _ => "",
        };
        [COLUMNS.map(|column| cell(column).to_owned())]
    }

    #[test]
    fn rows_are_added_and_what_stood_there_stays() {
        let path = place("add");
        append(&path, &row("14.1 13.7")).unwrap();
        let first = fs::read_to_string(&path).unwrap();
        append(&path, &row("15.5")).unwrap();
        let both = fs::read_to_string(&path).unwrap();
        assert!(both.starts_with(&first) && both.len() > first.len());
        let book = read_book(&path).unwrap();
        assert_eq!(book.tests.len(), 2);
        assert_eq!(book.tests[0].values, [14.1, 13.7]);
        assert_eq!(book.tests[1].note, "washed, \"twice\"");
        fs::remove_dir_all(path.parent().unwrap()).unwrap();
    }

    #[test]
    fn a_faulty_row_or_book_changes_nothing() {
        let path = place("faulty");
        append(&path, &row("14.1")).unwrap();
        let before = fs::read(&path).unwrap();
        assert!(matches!(append(&path, &row("-3")), Err(AppendError::Faults(_))));
        assert_eq!(fs::read(&path).unwrap(), before);
        fs::write(&path, "date,layup\n1,2,3\n").unwrap();
        assert!(matches!(append(&path, &row("14.1")), Err(AppendError::Faults(_))));
        assert_eq!(fs::read_to_string(&path).unwrap(), "date,layup\n1,2,3\n");
        fs::remove_dir_all(path.parent().unwrap()).unwrap();
    }

    #[test]
    fn many_that_add_at_once_lose_no_row() {
        let path = place("together");
        std::thread::scope(|scope| {
            for i in 0..8 {
                let path = &path;
                scope.spawn(move || {
                    for j in 0..5 {
                        append(path, &row(&format!("{}.{j}", 10 + i))).unwrap();
                    }
                });
            }
        });
        assert_eq!(read_book(&path).unwrap().tests.len(), 40);
        fs::remove_dir_all(path.parent().unwrap()).unwrap();
    }
}
