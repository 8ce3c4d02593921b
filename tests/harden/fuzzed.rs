//! Claim: whatever bytes a file holds, each reader comes to an end without a panic, and says what is wrong
//! in words that steer no terminal.
//! Source: common practice, no source. Bytes are changed at random from the shipped files, with one seed, and
//! from what came to a message not seen before; as often as `FUZZ` says (`tests/harden/fuzz.sh`), else a few
//! hundred times.

use std::cell::{Cell, RefCell};
use std::collections::HashSet;
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use stillair::garment::band::Factors;
use stillair::garment::target::Figure;
use stillair::shelf::brief::read::read_brief_text;
use stillair::shelf::fault::Faults;
use stillair::shelf::lab::book::read_book_text;
use stillair::shelf::lab::curve::read_curve;
use stillair::shelf::lab::rolls::read_lots;
use stillair::shelf::layup::read::{read_layup, read_layup_text};
use stillair::shelf::materials::Shelf;
use stillair::shelf::stock::exposure_file::read_exposure;
use stillair::shelf::suit::body_map::read_body_map_text;
use stillair::shelf::suit::read::read_suit_text;
use stillair::study::answer::Quilts;
use stillair::study::digest::digest;
use stillair::study::figure::Ask;
use stillair::study::odds::checkpoint::{resume, to_text};
use stillair::study::odds::defaults;
use stillair::study::odds::inputs::{Further, Inputs};
use stillair::study::odds::work::{N_BLOCKS, Plan, Work};
use stillair::study::seek::checkpoint::read_head;

use crate::harden::commands::{folder, program, words};
use crate::harden::numbers::Numbers;

/// Runs of a reader where neither their number nor a time is given, and the fewest that count.
const N_RUNS: usize = 300;
/// Changed files that are kept to be changed further: the latest that came to something new.
const N_KEPT: usize = 200;
/// Bytes of such a file: what grows for ever is no longer like any file.
const KEPT_MOST: usize = 100_000;
/// Pieces that a mutation may put in.
const PIECES: [&[u8]; 22] = [
    b"\"",
    b"\"\"\"",
    b"=",
    b",",
    b"[[stack]]\n",
    b"[",
    b"]",
    b"{",
    b"}",
    b"\n",
    b"\r\n",
    b"\0",
    b"\x1b[2J",
    b"\xff",
    b"\xe2\x80\xae",
    b"1e309",
    b"-0",
    b"nan",
    b"#",
    b"name = \"a\"\n",
    b";",
    b"\t",
];

/// Bytes of a file with one to eight changes.
fn mutated(bytes: &[u8], numbers: &mut Numbers) -> Vec<u8> {
    let mut new = bytes.to_vec();
    for _ in 0..=numbers.below(8) {
        let at = numbers.below(new.len() + 1);
        let most = [1, 8, 200][numbers.below(3)];
        let end = (at + numbers.below(1 + most)).min(new.len());
        match numbers.below(6) {
            0 => drop(new.drain(at..end)),
            1 => drop(new.splice(at..at, numbers.of(&PIECES).iter().copied())),
            2 => {
                let piece = new[at..end].to_vec();
                let to = numbers.below(new.len() + 1);
                drop(new.splice(to..to, piece));
            }
            3 if at < new.len() => new[at] ^= 1 << numbers.below(8),
            4 => new.truncate(at),
            _ => drop(new.splice(at..end, numbers.below(100_000).to_string().into_bytes())),
        }
    }
    new
}

/// What is said without what varies from file to file: numbers and names. A stand-in for a path taken.
fn shape(said: &str) -> String {
    let kept = said.chars().filter(|c| !c.is_ascii_digit());
    let mut quoted = false;
    kept.filter(|c| {
        quoted ^= *c == '`';
        !quoted
    })
    .collect()
}

/// A reader: the words for what came of the bytes.
type Read<'a> = &'a dyn Fn(&[u8], &Path) -> Result<(), String>;

fn in_words<T>(read: Result<T, Faults>) -> Result<(), String> {
    read.map(|_| ()).map_err(|faults| faults.to_string())
}

/// How long a reader is tried.
#[derive(Clone, Copy)]
enum Until {
    Runs(usize),
    Time(Duration),
}

impl Until {
    /// As `FUZZ` has it, such as `1000000` runs or `5s`.
    fn asked() -> Until {
        let Ok(word) = std::env::var("FUZZ") else { return Until::Runs(N_RUNS) };
        let number = |word: &str| word.parse::<u64>().expect("FUZZ is a number, or one of seconds");
        match word.strip_suffix('s') {
            Some(seconds) => Until::Time(Duration::from_secs(number(seconds))),
            None => Until::Runs(number(&word) as usize),
        }
    }

    fn is_over(self, n_runs: usize, begun: Instant) -> bool {
        match self {
            Until::Runs(most) => n_runs >= most,
            Until::Time(most) => begun.elapsed() >= most,
        }
    }
}

/// A folder in memory, where there is one: what is written a million times wears a disk out.
fn in_memory(name: &str) -> PathBuf {
    let shared = Path::new("/dev/shm");
    if !shared.is_dir() {
        return folder(name);
    }
    let place = shared.join(format!("harden_{name}_{}", std::process::id()));
    if fs::create_dir_all(&place).is_ok() { place } else { folder(name) }
}

fn fuzz(name: &str, corpus: &[&str], read: Read<'_>) {
    let (until, called) = (Until::asked(), name.replace(' ', "_"));
    let place = in_memory(&format!("fuzzed_{called}"));
    let files: Vec<Vec<u8>> = corpus.iter().map(|path| fs::read(path).unwrap()).collect();
    let mut kept: Vec<Vec<u8>> = Vec::new();
    let mut numbers = Numbers(1 + name.len() as u64);
    let (begun, mut n_runs, mut n_taken) = (Instant::now(), 0, 0);
    let mut shapes: HashSet<String> = HashSet::new();
    while !until.is_over(n_runs, begun) {
        // every second one starts from a file as shipped, so that none strays too far
        let of_kept = n_runs % 2 == 1 && !kept.is_empty();
        let from = if of_kept { &kept } else { &files };
        let bytes = mutated(&from[numbers.below(from.len())], &mut numbers);
        let done = catch_unwind(AssertUnwindSafe(|| read(&bytes, &place)));
        n_runs += 1;
        let Ok(done) = done else {
            let kept = folder(&format!("fuzzed_{called}")).join(format!("panic-{n_runs}"));
            fs::write(&kept, &bytes).unwrap();
            panic!("{name}: a panic, its bytes are in {}", kept.display());
        };
        let said = done.err().unwrap_or_default();
        n_taken += usize::from(said.is_empty());
        let steers = |c: char| (c.is_control() && !"\n\t".contains(c)) || c == '\u{202e}';
        assert!(!said.contains(steers), "{name}: {said:?}");
        let mut is_new = false;
        for line in said.lines().filter(|line| line.starts_with("error: ")) {
            is_new |= shapes.insert(shape(line));
        }
        if is_new && bytes.len() <= KEPT_MOST {
            match kept.len() {
                N_KEPT => kept[n_runs % N_KEPT] = bytes,
                _ => kept.push(bytes),
            }
        }
    }
    let _ = fs::remove_dir_all(&place);
    println!(
        "{name}: {n_runs} runs, {} shapes of message, {n_taken} taken, 0 crashes",
        shapes.len()
    );
    assert!(n_runs >= N_RUNS && shapes.len() > 1, "{name}: {n_runs} runs, {shapes:?}");
}

/// A reader of files, given bytes.
fn of_file(
    file: &'static str,
    read: impl Fn(&Path) -> Result<(), String>,
) -> impl Fn(&[u8], &Path) -> Result<(), String> {
    move |bytes, place| {
        let path = place.join(file);
        fs::write(&path, bytes).unwrap();
        read(&path)
    }
}

#[test]
fn every_reader_of_written_files() {
    let shelf = Shelf::built_in().unwrap();
    let (at, text) =
        (Path::new("a.toml"), |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned());
    let layups = [
        "materials/layups/three-ply-quilted-blank.toml",
        "materials/layups/published-assembly-1-gaps.toml",
    ];
    fuzz("layup", &layups, &|bytes, _| in_words(read_layup_text(&text(bytes), at, &shelf)));
    let file = of_file("a.toml", |path| in_words(read_layup(path, &shelf)));
    fuzz("layup file", &layups, &file);
    fuzz("suit", &["materials/suits/refuelling-coverall.toml"], &|bytes, _| {
        in_words(read_suit_text(&text(bytes), at, &shelf))
    });
    fuzz("body", &["materials/body.toml"], &|bytes, _| {
        in_words(read_body_map_text(&text(bytes), at))
    });
    let briefs = [
        "materials/briefs/hill-climb-refuelling-coverall.toml",
        "materials/briefs/quilted-front-panel.toml",
    ];
    fuzz("brief", &briefs, &|bytes, _| in_words(read_brief_text(&text(bytes), at, &shelf)));
    let one = folder("fuzzed_one");
    let exposures = fs::read_to_string("materials/exposures.toml").unwrap();
    let single = one.join("one.toml");
    let mut tables = exposures.split("[[exposure]]");
    fs::write(&single, tables.find(|table| table.contains("\nname = ")).unwrap()).unwrap();
    assert!(read_exposure(&single).is_ok(), "the exposure is one");
    let file = of_file("a.toml", |path| in_words(read_exposure(path)));
    fuzz("exposure", &[single.to_str().unwrap()], &file);
}

#[test]
fn every_reader_of_tables() {
    let shelf = Shelf::built_in().unwrap();
    let file = of_file("a.csv", |path| in_words(read_curve(path)));
    fuzz("curve", &["materials/curves/demo-specimen-1.csv"], &file);
    let layup = read_layup(Path::new("materials/layups/three-ply-loose.toml"), &shelf).unwrap();
    let file = of_file("a.csv", |path| in_words(read_lots(path, &layup)));
    fuzz("rolls", &["examples/rolls.csv"], &file);
    let book = folder("fuzzed_workbook").join("rolls.xlsx");
    let rolls = fs::read_to_string("examples/rolls.csv").unwrap();
    fs::write(&book, stillair::shelf::notation::workbook_write::workbook(&rolls).unwrap()).unwrap();
    assert!(read_lots(&book, &layup).is_ok(), "the workbook is read");
    let file = of_file("a.xlsx", |path| in_words(read_lots(path, &layup)));
    fuzz("workbook", &[book.to_str().unwrap()], &file);
    fuzz("bench book", &["examples/day/bench-book.csv"], &|bytes, _| {
        let text = String::from_utf8_lossy(bytes);
        in_words(read_book_text(&text, Path::new("book.csv")))
    });
    let one = folder("fuzzed_flux");
    fs::write(one.join("flux.csv"), "time_s,flux_kW_m2\n0,40\n10,80\n10.5,0\n60,0\n").unwrap();
    let file = of_file("flux.csv", |path| in_words(shelf.check(path)));
    fuzz("flux series", &[one.join("flux.csv").to_str().unwrap()], &file);
}

/// A test for each file of a shelf, so that several run at once.
macro_rules! files_of_a_shelf {
    ($($name:ident: $file:literal,)*) => {$(
        #[test]
        fn $name() {
            let shelf = Shelf::built_in().unwrap();
            let read = of_file($file, |path| in_words(shelf.check(path)));
            fuzz($file, &[concat!("materials/", $file)], &read);
        }
    )*};
}

files_of_a_shelf! {
    the_reader_of_fabrics: "fabrics.csv",
    the_reader_of_fibres: "fibres.csv",
    the_reader_of_sources: "sources.csv",
    the_reader_of_targets: "targets.csv",
    the_reader_of_bands: "bands.csv",
    the_reader_of_exposures: "exposures.toml",
    the_reader_of_skins: "skins.toml",
}

#[test]
fn every_reader_of_checkpoints() {
    let place = folder("fuzzed_parts");
    let line = "seek tests/harden/brief.toml --error 5 --part 1/1 --checkpoint @/part";
    assert!(program(&words(line, &place)).status().unwrap().success());
    let read = of_file("part", |path| read_head(path).map(|_| ()).map_err(|e| format!("{e}")));
    fuzz("checkpoint of a search", &[place.join("part").to_str().unwrap()], &read);
}

/// The checksum is put right in two of three, as whoever means harm would: what is read then is checked too.
#[test]
fn every_reader_of_unfinished_odds() {
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup(Path::new("materials/layups/single-outer-195.toml"), &shelf).unwrap();
    let nominal = shelf.exposure("flame-80").unwrap();
    let skin = shelf.skins().next().unwrap();
    let further = Further { flux: defaults::FLUX, model: Factors::EXACT };
    let inputs = Inputs::of(&layup, nominal, further);
    let ask = Ask {
        figure: Figure::Rise24,
        nominal,
        skin,
        error_goal: 0.05,
        quilts: Quilts::Computed,
        n_points: 3,
    };
    let plan = Plan { n_sets: 16, n_specimens: 2, n_rows: 16, seed: 1 };
    let mut work = Work::begin(&layup, ask, plan, inputs).unwrap();
    let fresh = work.done.clone();
    work.block().unwrap();
    let place = folder("fuzzed_odds_parts");
    let kept = place.join("one");
    fs::write(&kept, to_text(&work)).unwrap();
    let work = RefCell::new(work);
    let n = Cell::new(0);
    fuzz("checkpoint of odds", &[kept.to_str().unwrap()], &|bytes, _| {
        n.set(n.get() + 1);
        let mut text = String::from_utf8_lossy(bytes).into_owned();
        if let (Some(at), true) = (text.rfind("sum "), n.get() % 3 > 0) {
            text.truncate(at);
            text.push_str(&format!("sum {:016x}\n", digest(text.as_bytes())));
        }
        let mut work = work.borrow_mut();
        work.done = fresh.clone();
        let read = resume(&mut work, &text);
        if read.is_err() {
            assert_eq!(work.done, fresh, "work is as it was");
        }
        let all = || work.done.specimens.iter().chain(&work.done.rows);
        assert!(all().all(|figured| figured.value.is_finite() && figured.value > 0.0));
        assert!(work.done.n_blocks <= N_BLOCKS);
        read.map_err(|error| format!("error: {error}"))
    });
}
