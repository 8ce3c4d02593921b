//! Claim: what an office program saves, in a German and in an English locale, is read alike.
//! Source: LibreOffice (Debian's `libreoffice-calc-nogui`), headless; left out with a word where it is not there.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use stillair::shelf::lab::book::read_book;
use stillair::shelf::lab::rolls::read_lots;
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;

const ROLLS: &str = "lot,ply,areal_density_g_m2,thickness_mm,note\n\
                     A,1,195.5,0.47,ok\nB,2,101,1.352,\nC,2,102.25,1.3,\"a, b; c\"\n";
const BOOK: &str = "date,layup,exposure,figure,values_s\n\
                    2026-11-26,three-ply-loose,flame-80,HTI24,14.1 13.7\n\
                    2026-11-27,three-ply-loose,flame-80,HTI24,14.5\n";
const CSV: &str = "csv:Text - txt - csv (StarCalc)";

/// The office program with a profile of its own, in one country's manner.
struct Office {
    folder: PathBuf,
    locale: &'static str,
    /// The character between cells, as its code.
    between: u8,
}

impl Office {
    fn new(locale: &'static str, between: u8) -> Office {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("office").join(locale);
        let _ = fs::remove_dir_all(&folder);
        let user = folder.join("profile/user");
        fs::create_dir_all(&user).unwrap();
        let item = format!(
            r#"<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry"><item oor:path="/org.openoffice.Setup/L10N">
<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop></item></oor:items>"#
        );
        fs::write(user.join("registrymodifications.xcu"), item).unwrap();
        Office { folder, locale, between }
    }

    /// Saves a file in another form.
    fn saved(&self, file: &Path, form: &str) -> PathBuf {
        let profile = format!("-env:UserInstallation=file://{}/profile", self.folder.display());
        let (ending, _) = form.split_once(':').unwrap();
        let to = self.folder.join(ending);
        let mut command = Command::new("soffice");
        command.args([&profile, "--headless", "--convert-to", form]);
        // our own tables have commas and points
        command.arg("--infilter=CSV:44,34,76,1,,1033").arg("--outdir").arg(&to).arg(file);
        let output = command.output().unwrap();
        let path = to.join(file.with_extension(ending).file_name().unwrap());
        assert!(path.exists(), "{}: {output:?}", self.locale);
        path
    }

    /// A table as a workbook and as the text of this country.
    fn both(&self, name: &str, text: &str) -> [PathBuf; 2] {
        let plain = self.folder.join(name);
        fs::write(&plain, text).unwrap();
        let book = self.saved(&plain, "xlsx:Calc MS Excel 2007 XML");
        let csv = self.saved(&book, &format!("{CSV}:{},34,76,1,,0,false,true", self.between));
        [book, csv]
    }
}

#[test]
fn rolls_and_own_tests_of_either_country_are_the_same() {
    if Command::new("soffice").arg("--version").output().is_err() {
        eprintln!("LibreOffice is not there: its files are left out");
        return;
    }
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/three-ply-loose.toml"), &shelf).unwrap();
    let mut rolls = Vec::new();
    for (locale, between) in [("de-DE", b';'), ("en-GB", b',')] {
        let office = Office::new(locale, between);
        let [book, csv] = office.both("rolls.csv", ROLLS);
        let text = fs::read_to_string(&csv).unwrap();
        assert_eq!(text.contains("195,5"), locale == "de-DE", "{text}");
        rolls.push(read_lots(&book, &layup).unwrap());
        rolls.push(read_lots(&csv, &layup).unwrap());
        // a day becomes a cell of its own kind
        let [book, csv] = office.both("book.csv", BOOK);
        let tests = read_book(&book).unwrap().tests;
        assert_eq!((tests.len(), tests[0].values.as_slice()), (2, &[14.1, 13.7][..]));
        assert_eq!(tests[1].date.to_string(), "2026-11-27");
        // two numbers in a cell are text, whose points the office program leaves as they are
        match read_book(&csv) {
            Ok(read) => assert_eq!((locale, &read.tests[1].values), ("en-GB", &tests[1].values)),
            Err(said) => {
                let said = said.to_string();
                assert!(
                    locale == "de-DE" && said.contains("both `14.1 13.7` and `14,5`"),
                    "{said}"
                );
            }
        }
    }
    assert_eq!(rolls[0].len(), 3);
    assert!((rolls[0][2].areal_density - 0.10225).abs() < 1e-12);
    for other in &rolls[1..] {
        assert_eq!(*other, rolls[0]);
    }
}
