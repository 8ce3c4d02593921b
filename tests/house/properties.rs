//! Claim: a fabric's properties are listed in their table, `garment/property.rs`; its physics and its readers name them
//! one by one, and nobody else lists them; on the floors above, whoever names a single one says why.

use crate::source::{Source, all};

/// So many that whoever names them keeps a list of his own.
const A_LIST: usize = 4;

/// Files that name as many, each with its reason.
const ALLOWED: [&str; 11] = [
    // the table, and what it is a table of
    "src/garment/property.rs",
    "src/garment/fabric.rs",
    // its physics: what pressure does to a fabric, what a ply conducts and stores, water that is added
    "src/garment/press.rs",
    "src/bench/assemble.rs",
    "src/evidence/measured/ask.rs",
    // its readers: what a blank is filled with, rules between several values, other words for a key, words
    // by which a file is taken for one of ours
    "src/shelf/stock/fabric.rs",
    "src/shelf/key/possible.rs",
    "src/shelf/key/other_words.rs",
    "src/shelf/file/ours.rs",
    // what a checkpoint hangs on: a field that is left out there does not compile
    "src/study/bits.rs",
    // a made-up fabric, for tests alone
    "src/report/sample.rs",
];

/// Floors that have no business with a single property: those above its physics and its readers.
const ABOVE: [&str; 6] = ["study", "evidence", "report", "chart", "desk", "cli"];
/// Properties that whole layups, rolls and stacks have, too: such a name need not be a fabric's.
const OF_LAYUPS_TOO: [&str; 2] = ["areal_density", "thickness"];
/// Files on those floors that name another one and are not among [`ALLOWED`], each with its reason.
const NAMED: [&str; 12] = [
    // water that plies hold: in the order of plies, in how layups are alike, and whether ratios drift with it
    "src/study/ordering.rs",
    "src/study/book/likeness.rs",
    "src/study/book/drift.rs",
    // thread through a ply; delivered rolls, whose fibre stays what it is
    "src/study/patch.rs",
    "src/study/odds/inputs.rs",
    // what was measured is held against a fabric's law; one is drawn constant
    "src/evidence/measured/record.rs",
    "src/evidence/measured/suit.rs",
    "src/evidence/verify/library.rs",
    // what the page shows of a ply that is chosen
    "src/desk/answer.rs",
    "src/desk/shelf.rs",
    // a barrier is listed as one; how fibres char has a table of its own
    "src/cli/materials/list.rs",
    "src/cli/materials/show.rs",
];
/// A file whose words of the same name are the disc's.
const OF_THE_DISC: &str = "src/report/json/exposure.rs";

/// The fields in the table.
fn fields(sources: &[Source]) -> Vec<String> {
    let table = sources.iter().find(|source| source.path == ALLOWED[0]);
    let code = table.map_or("", |source| source.code.as_str());
    let mut found: Vec<String> = code.split("$fabric.").skip(1).map(identifier).collect();
    found.sort();
    found.dedup();
    found
}

fn identifier(code: &str) -> String {
    code.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect()
}

/// What stands before the brace that closes one opened before.
fn up_to_its_end(code: &str) -> &str {
    let mut depth = 0;
    let end = code.find(|c| {
        depth += i32::from(c == '{') - i32::from(c == '}');
        depth < 0
    });
    &code[..end.unwrap_or(code.len())]
}

/// Whether a source names a property: as a field of a fabric, or by its key in a text.
fn names(source: &Source, field: &str) -> bool {
    let is_key = |text: &String| text.replace([' ', '-'], "_") == field;
    let whole =
        |behind: &str| identifier(behind) == field && !behind[field.len()..].starts_with('(');
    let code: String = source.code.split_whitespace().collect::<Vec<_>>().join(" ");
    let of_fabric = |code: &str| code.replace(" .", ".").split("fabric.").skip(1).any(whole);
    // the literal that makes one, or takes one apart
    let in_literal = |code: &str| {
        let mut literals = code.split("Fabric {").skip(1).map(up_to_its_end);
        literals.any(|inside| inside.split([' ', ',', ':']).any(|word| word == field))
    };
    source.strings.iter().any(is_key) || of_fabric(&code) || in_literal(&code)
}

/// Files with a list of their own.
fn lists(sources: &[Source], fields: &[String]) -> Vec<String> {
    let named = |source: &Source| fields.iter().filter(|field| names(source, field)).count();
    let found = sources.iter().filter(|source| named(source) >= A_LIST);
    found.map(|source| source.path.clone()).collect()
}

#[test]
fn a_fabrics_properties_are_listed_in_their_table_alone() {
    let sources = all();
    let fields = fields(&sources);
    assert!(fields.len() > 10, "the table is not where it was: {fields:?}");
    let found = lists(&sources, &fields);
    let others: Vec<&String> =
        found.iter().filter(|path| !ALLOWED.contains(&path.as_str())).collect();
    assert!(others.is_empty(), "ask OfPly of garment::property\n{others:?}");
    let gone = ALLOWED.iter().filter(|path| !found.iter().any(|known| known == *path));
    assert_eq!(gone.count(), 0, "allowed for nothing; found are {found:?}");
}

/// Files above that name a single property.
fn singles(sources: &[Source], fields: &[String]) -> Vec<String> {
    let own = fields.iter().filter(|field| !OF_LAYUPS_TOO.contains(&field.as_str()));
    let own: Vec<&String> = own.collect();
    let above = sources.iter().filter(|source| ABOVE.contains(&source.floor()));
    let found = above.filter(|source| own.iter().any(|field| names(source, field)));
    let known = |path: &String| path == OF_THE_DISC || ALLOWED.contains(&path.as_str());
    found.map(|source| source.path.clone()).filter(|path| !known(path)).collect()
}

#[test]
fn above_its_physics_whoever_names_a_property_says_why() {
    let sources = all();
    let found = singles(&sources, &fields(&sources));
    let others: Vec<&String> =
        found.iter().filter(|path| !NAMED.contains(&path.as_str())).collect();
    assert!(others.is_empty(), "ask OfPly of garment::property\n{others:?}");
    let gone = NAMED.iter().filter(|path| !found.iter().any(|known| known == *path));
    assert_eq!(gone.collect::<Vec<_>>(), [&""; 0], "allowed for nothing");
}

#[test]
fn the_rule_complains() {
    let table = "held! { A => ($fabric.regain), ($fabric.thickness), ($fabric.face_void), ($fabric.emissivity) }";
    let table = Source::new(ALLOWED[0], table);
    let fields = fields(&[table]);
    assert_eq!(fields, ["emissivity", "face_void", "regain", "thickness"]);
    let n = |text: &str| lists(&[Source::new("src/report/a.rs", text)], &fields).len();
    let one_by_one = "let a = ply.fabric.regain.value + fabric\n.face_void.value; b(\"thickness\"); c(\"emissivity\");";
    assert_eq!(n(one_by_one), 1);
    assert_eq!(n("Fabric { regain, face_void: { a }, thickness, emissivity: known(0.9) }"), 1);
    assert_eq!(
        n("fabric.thickness(); fabric.regain_conditioned; disc.emissivity; gap.thickness;"),
        0
    );
    assert_eq!(n("fabric.regain; fabric.thickness; fabric.face_void; OfPly::Emissivity"), 0);
    let n = |path: &str, text: &str| singles(&[Source::new(path, text)], &fields).len();
    assert_eq!(n("src/report/a.rs", "let a = ply.fabric.regain.value;"), 1);
    assert_eq!(n("src/cli/a.rs", "b(\"emissivity\")"), 1);
    assert_eq!(n("src/garment/a.rs", "fabric.regain.value"), 0);
    assert_eq!(n("src/report/a.rs", "fabric.thickness.value; OfPly::Regain"), 0);
}
