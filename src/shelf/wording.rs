//! Plurals, lists and suggestions, so that the wording is the same everywhere.

/// "1 fabric", "3 fabrics".
pub(crate) fn plural(count: usize, noun: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{ending}")
}

/// "`a`, `b` or `c`".
pub(crate) fn or_list<S: AsRef<str>>(words: &[S]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{}`", word.as_ref())).collect();
    match quoted.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., tail] => format!("{} or {tail}", head.join(", ")),
    }
}

/// The next thing to do about a name that is none: the nearest ones, or something else where nothing is near.
pub(crate) fn suggested<S: AsRef<str>>(nearest: &[S], otherwise: &str) -> String {
    match nearest.is_empty() {
        true => otherwise.to_owned(),
        false => format!("did you mean {}?", or_list(nearest)),
    }
}

/// No name is longer [bytes].
const LONGEST_NAME: usize = 200;

/// The names nearest to `name`, best first, at most three; none when nothing is near.
pub(crate) fn near<'a>(name: &str, known: &[&'a str]) -> Vec<&'a str> {
    // what is as long as this is no misspelt name, and slow to compare
    if name.len() > LONGEST_NAME {
        return Vec::new();
    }
    let asked = name.to_lowercase();
    let mut scored: Vec<(f64, &str)> = known
        .iter()
        .map(|candidate| (likeness(&asked, &candidate.to_lowercase()), *candidate))
        .filter(|(score, _)| *score >= 0.6)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    let best = scored.first().map_or(0.0, |(score, _)| *score);
    scored.into_iter().filter(|(score, _)| *score >= best - 0.12).take(3).map(|(_, n)| n).collect()
}

/// Likeness of two names, 0 to 1; a name whose words all occur in the other counts as near.
fn likeness(asked: &str, candidate: &str) -> f64 {
    let words: Vec<&str> = asked.split([' ', '-', '_']).filter(|word| !word.is_empty()).collect();
    let contained = words.len() > 1 && words.iter().all(|word| candidate.contains(word));
    // one much longer than the other is far from it, whatever its letters
    let (short, long) = (asked.len().min(candidate.len()), asked.len().max(candidate.len()));
    let spelled = match 2 * short < long {
        true => 0.0,
        false => strsim::normalized_damerau_levenshtein(asked, candidate),
    };
    if contained { spelled.max(0.8) } else { spelled }
}

/// Units that are not parted from the number before them.
const UNITS: [&str; 14] = [
    "s",
    "mm",
    "g",
    "K",
    "%",
    "°C",
    "g/m²",
    "kW/m²",
    "kJ/m²",
    "cal/cm²",
    "kPa",
    "kg/m³",
    "W/(m·K)",
    "W/(m²·K)",
];

/// Words of a text, a number and its unit taken as one; a no-break space parts none.
pub(crate) fn words_with_units(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        let unit = UNITS.contains(&word.trim_end_matches([',', '.', ';', ':', ')']));
        match words.last_mut() {
            Some(last) if unit && last.ends_with(|c: char| c.is_ascii_digit()) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_string()),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::{near, or_list, plural};

    #[test]
    fn near_offers_the_nearest_and_nothing_far() {
        let known = ["felt-needled-100", "felt-needled-120", "wool-270", "outer-aramid-195"];
        assert_eq!(near("felt-needled-10", &known)[0], "felt-needled-100");
        assert_eq!(near("aramid outer", &known), ["outer-aramid-195"]);
        assert!(near("zzz", &known).is_empty());
    }

    #[test]
    fn lists_and_plurals() {
        assert_eq!(or_list(&["a"]), "`a`");
        assert_eq!(or_list(&["a", "b", "c"]), "`a`, `b` or `c`");
        assert_eq!((plural(1, "ply"), plural(0, "fabric")), ("1 ply".into(), "0 fabrics".into()));
    }
}
