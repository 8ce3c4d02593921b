//! Records of all shelves laid over one another, before they become fabrics and the like.

use std::collections::{HashMap, HashSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::shelf::clash::{Clash, twice};
use crate::shelf::fault::{Fault, Place, enough};
use crate::shelf::file::sizes::{self, Format};
use crate::shelf::file::text::{Form, Text};
use crate::shelf::key::field::Keys;
use crate::shelf::key::kinds;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::{sheet, tree};
use crate::shelf::stock::band;
use crate::shelf::stock::exposure::check_columns;

/// A workshop's own tests, which lie on a shelf beside its materials.
pub const BOOK: &str = "bench-book.csv";

/// The kinds of record that lie on a shelf, in the order in which they are resolved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Source,
    Fibre,
    Fabric,
    Exposure,
    Target,
    Skin,
    Band,
}

impl Kind {
    pub const ALL: [Kind; 7] = [
        Kind::Source,
        Kind::Fibre,
        Kind::Fabric,
        Kind::Exposure,
        Kind::Target,
        Kind::Skin,
        Kind::Band,
    ];

    /// The file that holds records of this kind.
    pub fn file(self) -> &'static str {
        match self {
            Kind::Source => "sources.csv",
            Kind::Fibre => "fibres.csv",
            Kind::Fabric => "fabrics.csv",
            Kind::Exposure => "exposures.toml",
            Kind::Target => "targets.csv",
            Kind::Skin => "skins.toml",
            Kind::Band => "bands.csv",
        }
    }

    /// The same as a workbook, where it is a table.
    pub fn workbook(self) -> String {
        self.file().replace(".csv", ".xlsx")
    }

    /// Where records of this kind lie in a folder; none where they do not.
    fn file_in(self, dir: &Path, faults: &mut Vec<Fault>) -> Option<PathBuf> {
        let (plain, book) = (dir.join(self.file()), dir.join(self.workbook()));
        if plain != book && plain.exists() && book.exists() {
            let (plain, book) = (plain.display().to_string(), book.display().to_string());
            let what = format!("`{plain}` and `{book}` are both there");
            let fault = Fault::new(what, Place::file(plain), "one of the two", "remove the older");
            faults.push(fault.and_at(Place::file(book)));
            return None;
        }
        [plain, book].into_iter().find(|path| path.exists())
    }

    /// The keys of such a record.
    pub fn keys(self) -> Keys<'static> {
        match self {
            Kind::Source => kinds::SOURCE,
            Kind::Fibre => kinds::FIBRE,
            Kind::Fabric => kinds::FABRIC,
            Kind::Exposure => kinds::EXPOSURE,
            Kind::Target => kinds::TARGET,
            Kind::Skin => kinds::SKIN,
            Kind::Band => kinds::BAND,
        }
    }

    /// Columns without which no row can be read.
    fn needed(self) -> &'static [&'static str] {
        match self {
            Kind::Source => &["key", "citation"],
            Kind::Fibre => &["name", "density_kg_m3", "conductivity_W_mK", "specific_heat_J_kgK"],
            Kind::Fabric => &["name", "role", "fibre", "areal_density_g_m2", "thickness_mm"],
            Kind::Target => &["name", "standard", "figure", "exposure"],
            Kind::Band => &["class", "figure", "lower", "upper", "cases", "basis"],
            Kind::Exposure | Kind::Skin => &[],
        }
    }

    /// The key that holds a record's name, or the first part of it.
    pub fn name_key(self) -> &'static str {
        match self {
            Kind::Source => "key",
            Kind::Band => "class",
            _ => "name",
        }
    }

    /// What tells a record from the others of its kind; empty where it does not say.
    fn name(self, record: &Record) -> String {
        match self {
            Kind::Band => band::name(record),
            _ => record.word(self.name_key()).to_owned(),
        }
    }

    fn form(self) -> Form {
        self.format().form
    }

    fn format(self) -> Format {
        match self {
            Kind::Fabric => sizes::SHELF_FABRICS,
            _ if self.file().ends_with(".csv") => sizes::SHELF_ROWS,
            _ => sizes::SHELF_TABLES,
        }
    }
}

/// A layup's or a suit's file that lies on the shelf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct LayupFile {
    /// The file's name without its ending.
    pub name: String,
    /// Where it lies.
    pub path: PathBuf,
    /// Its text.
    pub text: String,
}

/// Where whole files lie on a shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Drawer {
    Layups,
    Suits,
}

impl Drawer {
    fn folder(self) -> &'static str {
        match self {
            Drawer::Layups => "layups",
            Drawer::Suits => "suits",
        }
    }
}

/// Records by kind, layups, suits and clashes.
#[derive(Debug, Clone, Default)]
pub(crate) struct Raw {
    records: [Vec<Record>; 7],
    pub layups: Vec<LayupFile>,
    pub suits: Vec<LayupFile>,
    pub clashes: Vec<Clash>,
}

macro_rules! built_in_layups {
    ($($name:literal),* $(,)?) => {
        [$((
            $name,
            concat!("materials/layups/", $name, ".toml"),
            include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/materials/layups/", $name, ".toml")),
        )),*]
    };
}

macro_rules! built_in_file {
    ($name:literal) => {
        (
            concat!("materials/", $name),
            include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/materials/", $name)),
        )
    };
}

impl Raw {
    /// What comes with the program.
    pub fn built_in(faults: &mut Vec<Fault>) -> Raw {
        let files = [
            built_in_file!("sources.csv"),
            built_in_file!("fibres.csv"),
            built_in_file!("fabrics.csv"),
            built_in_file!("exposures.toml"),
            built_in_file!("targets.csv"),
            built_in_file!("skins.toml"),
            built_in_file!("bands.csv"),
        ];
        let layups = built_in_layups![
            "three-ply-quilted-blank",
            "three-ply-loose",
            "three-ply-light",
            "single-outer-195",
            "two-ply-outer-knit",
            "published-assembly-1",
            "published-assembly-2",
            "published-assembly-3",
            "published-assembly-4",
            "published-assembly-5",
            "published-assembly-1-gaps",
        ];
        let mut raw = Raw::default();
        for (kind, (path, body)) in Kind::ALL.into_iter().zip(files) {
            raw.add_text(kind, &Text::new(path, body, kind.form()), faults);
        }
        for (name, path, text) in layups {
            let (name, path, text) = (name.to_owned(), PathBuf::from(path), text.to_owned());
            raw.add_file(Drawer::Layups, LayupFile { name, path, text });
        }
        let (path, text) = built_in_file!("suits/refuelling-coverall.toml");
        let (name, path) = ("refuelling-coverall".to_owned(), PathBuf::from(path));
        raw.add_file(Drawer::Suits, LayupFile { name, path, text: text.to_owned() });
        raw
    }

    /// Lays the files of a directory on top.
    pub fn add_dir(&mut self, dir: &Path, faults: &mut Vec<Fault>) {
        let shown = dir.display().to_string();
        let known: Vec<&str> = Kind::ALL.iter().map(|kind| kind.file()).collect();
        let expected = format!("a directory with {}, {BOOK}, layups/ or suits/", known.join(", "));
        if !dir.is_dir() {
            let what = format!("`{shown}` is not a directory");
            let mend = "name the directory that holds your shelf";
            faults.push(Fault::new(what, Place::file(shown), expected, mend));
            return;
        }
        let n_before = faults.len();
        let files = |kind: Kind| Some((kind, kind.file_in(dir, faults)?));
        let present: Vec<(Kind, PathBuf)> = Kind::ALL.into_iter().filter_map(files).collect();
        if faults.len() > n_before {
            return;
        }
        let has_book = dir.join(BOOK).exists();
        let drawers = [Drawer::Layups, Drawer::Suits].map(|d| (d, dir.join(d.folder())));
        let has_drawers = drawers.iter().any(|(_, folder)| folder.is_dir());
        if present.is_empty() && !has_drawers && !has_book {
            let what = format!("`{shown}` holds no file of a shelf");
            let mend = "name your files as the built-in shelf does";
            faults.push(Fault::new(what, Place::file(shown), expected, mend));
            return;
        }
        for (kind, file) in present {
            match Text::load(&file, kind.format()) {
                Ok(text) => self.add_text(kind, &text, faults),
                Err(found) => faults.extend(found.0),
            }
        }
        for (drawer, folder) in drawers.into_iter().filter(|(_, folder)| folder.is_dir()) {
            self.add_drawer(drawer, &folder, faults);
        }
    }

    fn add_drawer(&mut self, drawer: Drawer, dir: &Path, faults: &mut Vec<Fault>) {
        let mut paths: Vec<PathBuf> = match std::fs::read_dir(dir) {
            Ok(entries) => entries.filter_map(|entry| Some(entry.ok()?.path())).collect(),
            Err(err) => {
                let shown = dir.display().to_string();
                let what = format!("cannot read `{shown}`: {}", err.to_string().to_lowercase());
                let place = Place::file(shown);
                let expected = format!("a directory of {}", drawer.folder());
                faults.push(Fault::new(what, place, expected, "make it readable"));
                return;
            }
        };
        paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
        paths.sort();
        for path in paths {
            let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            match Text::load(&path, sizes::WRITTEN) {
                Ok(text) => {
                    let text = text.body.clone();
                    self.add_file(drawer, LayupFile { name, path, text });
                }
                Err(found) => faults.extend(found.0),
            }
        }
    }

    fn add_file(&mut self, drawer: Drawer, layup: LayupFile) {
        let (kind, files) = match drawer {
            Drawer::Layups => ("layup", &mut self.layups),
            Drawer::Suits => ("suit", &mut self.suits),
        };
        let Some(known) = files.iter_mut().find(|known| known.name == layup.name) else {
            files.push(layup);
            return;
        };
        self.clashes.push(Clash {
            kind,
            name: layup.name.clone(),
            kept: Place::file(layup.path.display().to_string()),
            dropped: Place::file(known.path.display().to_string()),
        });
        *known = layup;
    }

    /// The texts that records were read from, in shelf order, each once.
    pub fn texts(&self) -> Vec<Arc<Text>> {
        let mut texts: Vec<Arc<Text>> = Vec::new();
        for record in self.records.iter().flatten() {
            if !texts.iter().any(|known| known.path == record.text.path) {
                texts.push(record.text.clone());
            }
        }
        texts
    }

    /// Lays the records of a file on top.
    pub fn add_text(&mut self, kind: Kind, text: &Arc<Text>, faults: &mut Vec<Fault>) {
        let records = match text.form {
            Form::Csv => {
                let Some(sheet) = sheet::parse(text, faults) else { return };
                check_columns(&kind.keys(), kind.needed(), &sheet.header, faults);
                sheet.records
            }
            // no line is laid on a shelf
            Form::Toml | Form::Line => {
                let root = tree::parse(text, faults);
                tables_of(kind, &root, faults)
            }
        };
        self.add_records(kind, records, faults);
    }

    /// Lays records of one file on top; a name known already is a clash, a name twice a fault.
    pub fn add_records(&mut self, kind: Kind, records: Vec<Record>, faults: &mut Vec<Fault>) {
        let key = kind.name_key();
        let noun = kind.keys().kind;
        let list = &mut self.records[kind as usize];
        let n_before = list.len();
        // the first of each name; those without one are none
        let mut known: HashMap<String, usize> = HashMap::new();
        for (at, record) in list.iter().enumerate() {
            known.entry(kind.name(record)).or_insert(at);
        }
        let mut replaced: HashSet<usize> = HashSet::new();
        for record in records {
            if enough(faults) {
                return;
            }
            let name = kind.name(&record);
            match known.get(&name).copied().filter(|_| !name.is_empty()) {
                Some(at) if at >= n_before || replaced.contains(&at) => {
                    let first = list[at].place_of(key);
                    faults.push(twice(noun, &name, first, record.place_of(key)));
                }
                Some(at) => {
                    let (kept, dropped) = (record.place_of(key), list[at].place_of(key));
                    self.clashes.push(Clash { kind: noun, name, kept, dropped });
                    list[at] = record;
                    replaced.insert(at);
                }
                None => {
                    known.insert(name, list.len());
                    list.push(record);
                }
            }
        }
    }

    /// Names of the records of a kind that come from `text`.
    pub fn names_in(&self, kind: Kind, text: &Arc<Text>) -> Vec<String> {
        let own = self.records[kind as usize].iter().filter(|r| Arc::ptr_eq(&r.text, text));
        own.map(|record| kind.name(record)).collect()
    }

    /// The records of a kind, in shelf order.
    pub fn of(&self, kind: Kind) -> &[Record] {
        &self.records[kind as usize]
    }
}

/// The tables of a TOML file of several entries, `[[exposure]]` or `[[skin]]`.
fn tables_of(kind: Kind, root: &Record, faults: &mut Vec<Fault>) -> Vec<Record> {
    let keys = kind.keys();
    let words = [keys.kind];
    let file_keys = Keys { kind: "file", fields: &[], words: &words, ..keys };
    file_keys.check(root, faults);
    let tables = root.tables(keys.kind);
    if tables.is_empty() && faults.is_empty() {
        let place = root.text.place(0..0, "");
        let empty = root.text.body.trim().is_empty();
        let what = if empty {
            "the file is empty".into()
        } else {
            format!("the file has no {}", keys.kind)
        };
        let expected = format!("at least one `[[{}]]`", keys.kind);
        faults.push(Fault::new(what, place, expected, "add one").absent());
    }
    if kind == Kind::Exposure {
        tables.iter().for_each(|table| keys.check(table, faults));
    }
    tables.to_vec()
}
