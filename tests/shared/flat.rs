//! Text without its line breaks: where the program wraps depends on how long names and paths are.

/// All words on one line, a blank between them.
pub fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
