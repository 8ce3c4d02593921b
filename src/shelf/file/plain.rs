//! Characters that no text of ours holds: they steer a terminal or turn the direction of writing.

/// Whether a character is refused in every file and option: control characters but line feed and tab,
/// marks of direction, separators of lines and blanks that no editor shows, and a byte order mark inside a text.
///
/// A terminal obeys the first, a reader is deceived by the others, and a chart with either is no XML.
/// Source: Unicode Standard Annex 9 (marks of direction), from memory; XML 1.0, production 2 (Char).
pub fn is_refused(c: char) -> bool {
    match c {
        '\n' | '\t' => false,
        '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{2028}' | '\u{2029}' => true,
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => true,
        '\u{200b}' | '\u{2060}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}' => true,
        _ => c.is_control(),
    }
}

/// The first refused character of a text, with the byte at which it stands.
pub fn refused_in(text: &str) -> Option<(usize, char)> {
    // most texts are plain letters throughout, which is told from their bytes
    let is_plain = |byte: &u8| matches!(*byte, b' '..=b'~' | b'\n' | b'\t');
    let mut at = 0;
    loop {
        at += text[at..].bytes().position(|byte| !is_plain(&byte))?;
        let c = text[at..].chars().next()?;
        if is_refused(c) {
            return Some((at, c));
        }
        at += c.len_utf8();
    }
}

/// The text with a visible sign in place of each refused character, for messages.
pub fn shown(text: &str) -> String {
    text.chars().map(|c| if is_refused(c) { '\u{fffd}' } else { c }).collect()
}

/// What a refused character is, in words, such as "the control character U+001B".
pub fn named(c: char) -> String {
    let what = match c {
        _ if c.is_control() => "the control character",
        '\u{2028}' | '\u{2029}' => "the unseen line break",
        '\u{200b}' | '\u{2060}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}' => "the unseen character",
        _ => "the mark of direction",
    };
    format!("{what} U+{:04X}", u32::from(c))
}

/// The rule.
pub const EXPECTED: &str = "text that a reader sees: no control characters, no marks of direction";
/// The next thing to do.
pub const MEND: &str = "remove it; \u{fffd} shows where it stands";

#[cfg(test)]
mod tests {
    use super::{is_refused, refused_in, shown};

    #[test]
    fn what_a_reader_sees_is_taken_and_what_steers_is_refused() {
        let plain = "outer-aramid 195 g/m², Ω ± 1 %, « quilted » — τ = 0.05\t日本語 é e\u{301}\n";
        assert_eq!(refused_in(plain), None);
        // escape, bell, delete, C1, carriage return, overrides, isolates, separators
        for c in
            "\u{1b}\u{7}\u{7f}\u{9b}\r\0\u{202e}\u{2066}\u{200f}\u{2028}\u{feff}\u{200b}".chars()
        {
            assert!(is_refused(c), "{c:?}");
            assert_eq!(refused_in(&format!("ab{c}d")), Some((2, c)));
            assert_eq!(refused_in(&format!("Ω{c}é{c}")), Some((2, c)));
            assert_eq!(shown(&format!("a{c}")), "a\u{fffd}");
        }
    }
}
