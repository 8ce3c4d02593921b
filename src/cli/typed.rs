//! Words as they are typed into a shell.

/// The words of a command as a shell takes them.
pub(super) fn as_typed(words: &[String]) -> String {
    words.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(" ")
}

/// The word as a shell takes it.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./,:=+@%".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_string();
    }
    format!("'{}'", word.replace('\'', r"'\''"))
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn words_are_quoted_where_a_shell_would_break_them() {
        assert_eq!(quoted("three-ply-loose"), "three-ply-loose");
        assert_eq!(quoted("what is it"), "'what is it'");
        assert_eq!(quoted("it's"), r"'it'\''s'");
        assert_eq!(quoted(""), "''");
    }
}
