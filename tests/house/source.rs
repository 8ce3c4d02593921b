//! A source file as the rules see it: with and without comments, text and tests.

use std::fs;
use std::path::Path;

/// One file under `src/`.
pub struct Source {
    /// Path from the project's root, such as `src/solver/step.rs`.
    pub path: String,
    /// The whole text.
    pub raw: String,
    /// The code alone: comments, string contents and the test module are blank.
    pub code: String,
    /// The contents of string literals outside the test module.
    pub strings: Vec<String>,
    /// Lines of documentation outside the test module, without their marks.
    pub docs: Vec<String>,
}

impl Source {
    /// A source of that path and text.
    pub fn new(path: &str, raw: &str) -> Source {
        let kept = without_tests(raw);
        let (code, strings) = split(&kept);
        let doc = |line: &str| line.trim().strip_prefix("///").map(str::to_string);
        let docs = kept.lines().filter_map(doc).collect();
        Source { path: path.to_string(), raw: raw.to_string(), code, strings, docs }
    }

    /// The folder below `src/`, or the file's own name for `main.rs` and `lib.rs`.
    pub fn floor(&self) -> &str {
        let rest = self.path.strip_prefix("src/").unwrap_or(&self.path);
        rest.split('/').next().unwrap_or(rest).trim_end_matches(".rs")
    }

    /// The module's path, such as `solver::step`.
    pub fn module(&self) -> String {
        let rest = self.path.strip_prefix("src/").unwrap_or(&self.path).trim_end_matches(".rs");
        rest.trim_end_matches("/mod").replace('/', "::")
    }
}

/// Every source of the project, in order of path.
pub fn all() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    collect(&root.join("src"), root, &mut found);
    assert!(found.len() > 20, "only {} sources found: the rules would check nothing", found.len());
    found
}

/// The rule finds nothing in the project.
#[track_caller]
pub fn holds(rule: impl Fn(&[Source]) -> Vec<String>) {
    let found = rule(&all());
    assert!(found.is_empty(), "{}", found.join("\n"));
}

fn collect(folder: &Path, root: &Path, found: &mut Vec<Source>) {
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            collect(&path, root, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let name = path.strip_prefix(root).unwrap().to_str().unwrap().to_string();
            found.push(Source::new(&name, &fs::read_to_string(&path).unwrap()));
        }
    }
}

/// The text up to its test module, which is the last item of a file.
fn without_tests(raw: &str) -> String {
    let mark = raw.match_indices("#[cfg(").find(|(i, _)| {
        let (condition, rest) = raw[*i..].split_once(']').unwrap_or_default();
        let rest = rest.trim_start();
        ["#[cfg(test)", "#[cfg(all(test"].iter().any(|test| condition.starts_with(test))
            && rest.starts_with("mod tests")
            && rest.contains('{')
    });
    mark.map_or(raw, |(i, _)| &raw[..i]).to_string()
}

/// Code with comments and string contents blanked, and those contents.
fn split(text: &str) -> (String, Vec<String>) {
    let letters: Vec<char> = text.chars().collect();
    let (mut code, mut strings) = (String::new(), Vec::new());
    let mut i = 0;
    while i < letters.len() {
        let rest = &letters[i..];
        match rest {
            ['/', '/', ..] => i += rest.iter().position(|c| *c == '\n').unwrap_or(rest.len()),
            ['/', '*', ..] => i += block_comment(rest),
            ['\'', '\\', _, ..] => i += 2 + rest[2..].iter().position(|c| *c == '\'').unwrap_or(0),
            ['\'', _, '\'', ..] => i += 3,
            ['"', ..] => {
                let end = string_end(rest);
                strings.push(rest[1..end].iter().collect());
                code.push_str("\"\"");
                i += end + 1;
            }
            [letter, ..] => {
                code.push(*letter);
                i += 1;
            }
            [] => break,
        }
    }
    (code, strings)
}

fn block_comment(rest: &[char]) -> usize {
    rest.windows(2).position(|pair| pair == ['*', '/']).map_or(rest.len(), |i| i + 2)
}

/// Index of the quote that ends the string starting at 0.
fn string_end(rest: &[char]) -> usize {
    let mut i = 1;
    while i < rest.len() && rest[i] != '"' {
        i += if rest[i] == '\\' { 2 } else { 1 };
    }
    i.min(rest.len())
}

/// Words of a text: runs of letters, so that `ply_index` holds `ply` and `apply` does not.
pub fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).map(str::to_lowercase)
}

#[test]
fn comments_text_and_tests_are_told_from_code() {
    let text = "/// doc ply\nfn f() { let a = \"in \\\" text\"; } // note\nlet c = '\"'; let l: &'a u8;\n\
                #[cfg(test)]\nmod tests { fn g() { hidden(); } }";
    let source = Source::new("src/solver/step.rs", text);
    assert!(source.code.contains("fn f()") && source.code.contains("let l"));
    for gone in ["doc", "in", "note", "hidden"] {
        assert!(!words(&source.code).any(|word| word == gone), "{gone}: {}", source.code);
    }
    assert_eq!(source.strings, ["in \\\" text"]);
    assert_eq!(source.docs, [" doc ply"]);
    assert_eq!((source.floor(), source.module().as_str()), ("solver", "solver::step"));
    assert_eq!(Source::new("src/chart/mod.rs", "").module(), "chart");
}
