//! Whether a file looks like one of ours, told by the words of its keys.
//!
//! A file that a layup or a command names by mistake, or by malice, may hold what nobody is to read on a
//! screen or in a log: of a file that does not look like one of ours no line is shown.

use crate::shelf::file::sizes::Form;

/// Words of which each of our TOML files has one in a key.
const TOML_WORDS: [&str; 23] = [
    "stack",
    "ply",
    "plies",
    "panel",
    "body",
    "quilting",
    "pattern",
    "outer",
    "inner",
    "felts",
    "flux",
    "exposure",
    "skin",
    "fabric",
    "layup",
    "thickness",
    "areal",
    "gap",
    "emissivity",
    "regain",
    "conductivity",
    "radiant",
    "pressed",
];
/// Words of which each of our tables has one in its header.
const CSV_WORDS: [&str; 21] = [
    "time",
    "temperature",
    "temp",
    "rise",
    "flux",
    "lot",
    "thickness",
    "areal",
    "fabric",
    "figure",
    "layup",
    "fibre",
    "standard",
    "citation",
    "provenance",
    "density",
    "conductivity",
    "exposure",
    "target",
    "emissivity",
    "band",
];

/// Whether a text has such a word where its keys stand, or nothing at all.
pub(crate) fn is_ours(body: &str, form: Form) -> bool {
    let mut lines = body.lines().filter(|line| {
        let line = line.trim_start();
        !line.is_empty() && !line.starts_with('#')
    });
    match form {
        Form::Line => true,
        Form::Csv => lines.next().is_none_or(|header| has_one(header, &CSV_WORDS)),
        Form::Toml => {
            let mut lines = lines.peekable();
            lines.peek().is_none()
                || lines.any(|line| has_one(line.split('=').next().unwrap_or(line), &TOML_WORDS))
        }
    }
}

fn has_one(keys: &str, words: &[&str]) -> bool {
    let mut found = keys.split(|c: char| !c.is_ascii_alphanumeric());
    found.any(|word| words.iter().any(|known| known.eq_ignore_ascii_case(word)))
}

#[cfg(test)]
mod tests {
    use super::is_ours;
    use crate::shelf::file::sizes::Form;

    #[test]
    fn what_others_keep_is_none_of_ours() {
        let passwords = "root:x:0:0:root:/root:/bin/bash\ndaemon:x:1:1:daemon:/usr/sbin:/bin/sh\n";
        let settings = "[credentials]\nuser = \"a\"\ntoken = \"stack of fabric\"\n# a ply\n";
        let environment = "PATH=/usr/bin\nTOKEN=skin\n";
        for text in [passwords, settings, environment] {
            assert!(!is_ours(text, Form::Toml) && !is_ours(text, Form::Csv), "{text}");
        }
        assert!(!is_ours("user,password\nlot,thickness\n", Form::Csv));
    }

    #[test]
    fn what_is_misspelt_is_still_ours() {
        assert!(is_ours("# mine\nname = \"a\"\nstak = [\n  { ply = \"b\" } ]", Form::Toml));
        assert!(is_ours("[[Stack]]", Form::Toml) && is_ours("  \n# nothing\n", Form::Toml));
        assert!(is_ours("# rolls\nLOT;Thickness\n", Form::Csv) && is_ours("Temp (F)\n", Form::Csv));
    }
}
