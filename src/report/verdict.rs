//! Words for what a target's call says, and for the rule that it rests on.

use crate::bench::figure::{Call, Found, NoCall, Rule, Verdict, shown};
use crate::garment::band::Band;
use crate::garment::target::{Figure, Judged, Target};
use crate::physics::units::PERCENT;
use crate::report::figures::{BEYOND_MARK, in_words};
use crate::report::number::{Shown, fixed, short};
use crate::report::table::{Align, Table, paragraph};
use crate::report::words::list;

/// The answers in text.
pub fn section(verdicts: &[(&Target, Verdict)]) -> String {
    let mut table = Table::new(&[Align::Left, Align::Left, Align::Right, Align::Left]);
    for (target, verdict) in verdicts {
        table.row([target.name.clone(), asks(&verdict.rule), value(verdict), in_short(verdict)]);
    }
    table.render() + &below_table(verdicts)
}

/// The answers of several ways in text, each behind its name; what they rest on once.
pub fn section_of_each(each: &[(&str, Vec<(&Target, Verdict)>)]) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Left, Left, Right, Left]);
    for (name, verdicts) in each {
        for (target, verdict) in verdicts {
            table.row([
                (*name).to_string(),
                target.name.clone(),
                asks(&verdict.rule),
                value(verdict),
                in_short(verdict),
            ]);
        }
    }
    let all: Vec<(&Target, Verdict)> =
        each.iter().flat_map(|(_, verdicts)| verdicts.iter().cloned()).collect();
    table.render() + &below_table(&all)
}

/// What stands below the answers: rules, marks, how a set of specimens is judged.
fn below_table(verdicts: &[(&Target, Verdict)]) -> String {
    let mut out = String::new();
    for sentence in rules(verdicts.iter().map(|(_, verdict)| &verdict.rule)) {
        out.push_str(&paragraph(&sentence, 2));
    }
    if verdicts.iter().any(|(_, verdict)| verdict.found.is_beyond()) {
        out.push_str(&paragraph(
            &format!("{BEYOND_MARK} after a ply passed its limit, see above."),
            2,
        ));
    }
    out.push_str(&judged_on(verdicts));
    out
}

/// How the standards judge a set of specimens, which one run of a model is not.
fn judged_on(verdicts: &[(&Target, Verdict)]) -> String {
    let line = |way: Judged| {
        let named = verdicts.iter().filter(|(target, _)| target.judged_on == Some(way));
        let mut names: Vec<&str> = Vec::new();
        for (target, _) in named {
            if !names.contains(&&*target.name) {
                names.push(&target.name);
            }
        }
        let words =
            format!("Judged on the {} of a set of specimens: {}.", way.word(), list(&names));
        (!names.is_empty()).then(|| paragraph(&words, 2))
    };
    [Judged::Lowest, Judged::Mean].into_iter().filter_map(line).collect()
}

/// "HTI24 ≥ 12 s".
pub fn asks(rule: &Rule) -> String {
    format!("{} ≥ {}", rule.name, threshold_of(rule))
}

/// The threshold with its unit.
pub fn threshold(target: &Target) -> String {
    figure(target.figure, target.at_least)
}

fn threshold_of(rule: &Rule) -> String {
    figure(rule.figure, rule.at_least)
}

/// What is asked of a figure, with its unit.
pub fn figure(of: Figure, value: f64) -> String {
    let unit = shown(of);
    format!("{} {}", unit.short(value, 2), unit.unit)
}

/// "16.0 s": what has to be predicted to be called above, rounded up.
pub fn needs(rule: &Rule) -> String {
    tenths(rule, rule.needs(), |tenths| (tenths - ROUNDING).ceil())
}

/// "10.4 s": what must not be reached to be called below, rounded down.
fn below(rule: &Rule) -> String {
    tenths(rule, rule.below(), |tenths| (tenths + ROUNDING).floor())
}

fn tenths(rule: &Rule, value: f64, rounded: fn(f64) -> f64) -> String {
    let unit = shown(rule.figure);
    format!("{} {}", fixed(rounded(10.0 * unit.outside(value)) / 10.0, 1), unit.unit)
}

/// Keeps 16.0 from becoming 16.1 by the last bit.
const ROUNDING: f64 = 1e-9;

/// What has to be predicted by the rules of several calls, each sentence once, for a chart.
pub fn needed<'a>(all: impl Iterator<Item = &'a Rule>) -> String {
    let mut sentences: Vec<String> = Vec::new();
    for sentence in all.map(needs_sentence) {
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    sentences.join(" ")
}

/// The rules of several calls in sentences, each once: what has to be predicted, then what it rests on.
pub fn rules<'a>(all: impl Iterator<Item = &'a Rule>) -> Vec<String> {
    let (mut sentences, mut bands): (Vec<String>, Vec<&Band>) = (Vec::new(), Vec::new());
    for rule in all {
        let sentence = needs_sentence(rule);
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
        if !bands.contains(&&rule.band) {
            bands.push(&rule.band);
        }
    }
    for sentence in bands.into_iter().map(rests_on) {
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    if !sentences.is_empty() {
        sentences.push("The numerical error counts against either call.".to_string());
    }
    sentences
}

/// "HTI24 of three and more plies needs 16.0 s predicted to be called above 12 s, and less than 10.4 s
/// to be called below."
fn needs_sentence(rule: &Rule) -> String {
    format!(
        "{} of {} needs {} predicted to be called above {}, and less than {} to be called below.",
        rule.name,
        of_what(&rule.band),
        needs(rule),
        threshold_of(rule),
        below(rule)
    )
}

/// What a band holds for: a class, or the layup that own tests were asked of.
fn of_what(band: &Band) -> &str {
    match &band.anchored {
        Some(anchored) if anchored.layup.is_empty() => "this layup",
        Some(anchored) => &anchored.layup,
        None => band.class.in_words(),
    }
}

/// "Three and more plies in the flame: the bench may lie at 0.75 to 1.15 of what is predicted (…)."
fn rests_on(band: &Band) -> String {
    let factors = band.factors;
    if band.anchored.is_some() {
        return "Calls are held by where the bench may read by own tests, in brackets beside each \
                figure; without a near one by the shelf's band."
            .to_owned();
    }
    format!(
        "The bench may lie at {} to {} of what is predicted for {} {} ({}; {}).",
        fixed(factors.lower, 2),
        fixed(factors.upper, 2),
        band.class.in_words(),
        band.reading.in_words(),
        band.basis,
        match band.n_cases {
            0 => "no measured case".to_string(),
            1 => "1 measured case".to_string(),
            n => format!("{n} measured cases"),
        }
    )
}

/// The figure as it stands beside its call: "15.88 s†", or what is known of one that was not reached.
pub fn value(verdict: &Verdict) -> String {
    match verdict.found {
        Found::Value { valued, beyond, .. } => {
            let unit = shown(verdict.rule.figure);
            let mark = if beyond { BEYOND_MARK } else { "" };
            format!("{} {}{mark}", fixed(unit.outside(valued.value), 2), unit.unit)
        }
        other => in_words(&other, verdict.rule.figure),
    }
}

/// The call in words, for where the rule stands beside it: "above (+52 %)".
pub fn in_short(verdict: &Verdict) -> String {
    match (&verdict.call, verdict.margin) {
        (Ok(call), Some(margin)) => {
            format!("{} ({} %{})", call.words(), signed(margin), by_own(&verdict.rule))
        }
        (Ok(call), None) => call.words().to_string(),
        (Err(reason), _) => format!("not judged: {}", because(reason, verdict)),
    }
}

/// The call in words with its threshold and what it asks, or why there is none:
/// "above 12 s (+52 %; needs 16.0 s)".
pub fn answer(verdict: &Verdict) -> String {
    let rule = &verdict.rule;
    let asked = threshold_of(rule);
    let margin =
        verdict.margin.map_or(String::new(), |m| format!("{} %{}; ", signed(m), by_own(rule)));
    match &verdict.call {
        Ok(Call::Above) => format!("above {asked} ({margin}needs {})", needs(rule)),
        Ok(Call::Below) => format!("below {asked} ({margin}less than {})", below(rule)),
        Ok(Call::TooClose) => {
            format!("too close to call against {asked} ({margin}needs {} to be above)", needs(rule))
        }
        Err(reason) => format!("not judged against {asked}: {}", because(reason, verdict)),
    }
}

/// Marks a margin of an anchored figure.
fn by_own(rule: &Rule) -> &'static str {
    if rule.band.anchored.is_some() { " anchored" } else { "" }
}

fn signed(margin: f64) -> String {
    let text = PERCENT.fixed(margin, 0);
    if text.starts_with('-') { text } else { format!("+{text}") }
}

fn because(reason: &NoCall, verdict: &Verdict) -> String {
    match (reason, verdict.found) {
        (NoCall::OtherExposure(name), _) => format!("meant for {name}"),
        (NoCall::FlameTakenAway, _) => "flame taken away before".to_string(),
        (NoCall::NotAsked(behind), _) => format!("needs --behind {behind}"),
        (NoCall::NotReached, Found::AtLeast { t_end, .. }) => {
            format!("not reached within {} s, look longer with --until", short(t_end, 3))
        }
        (NoCall::NotReached, _) => "not reached, look longer with --until".to_string(),
        (NoCall::Unsettled, _) => "the meshes disagree, look longer with --until".to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::{answer, in_short, rules};
    use crate::bench::figure::{Found, Rule, Under, Verdict, hold};
    use crate::bench::outcome::Valued;
    use crate::garment::exposure::Exposure;
    use crate::garment::target::{Figure, Target};
    use crate::report::sample;

    fn verdict(found: Found, target: &Target, exposure: &Exposure) -> Verdict {
        let bands = sample::bands();
        let as_given = &sample::outcome().exposure;
        let under = Under { layup: &sample::three_plies(), exposure, as_given, bands: &bands };
        hold(found, target, &under)
    }

    fn value(t: f64) -> Found {
        Found::Value { valued: Valued { value: t, error: 0.0 }, t, beyond: false }
    }

    /// Every state that a figure may be in, under the target's exposure and with the flame taken away.
    #[test]
    fn every_message_names_its_threshold() {
        let exposure = sample::outcome().exposure;
        let short = Exposure { duration: Some(5.0), ..exposure.clone() };
        let over = Found::AtLeast { least: 13.0, t_end: 13.0 };
        let far = Found::AtLeast { least: 60.0, t_end: 60.0 };
        let unsettled = Found::Unsettled { low: 11.0, high: 13.0 };
        let other = Target { exposure: "another".to_string(), ..sample::target() };
        let states = [value(30.0), value(13.0), value(6.0), over, far, unsettled, Found::NotAsked];
        for target in [sample::target(), other] {
            for exposure in [&exposure, &short] {
                for found in states {
                    let said = answer(&verdict(found, &target, exposure));
                    assert!(said.contains("12 s"), "{said}");
                    assert!(!said.contains("±"), "{said}");
                }
            }
        }
    }

    #[test]
    fn calls_in_words() {
        let exposure = sample::outcome().exposure;
        let check = |found, expected: &str, short: &str| {
            let verdict = verdict(found, &sample::target(), &exposure);
            assert_eq!(answer(&verdict), expected);
            assert_eq!(in_short(&verdict), short);
        };
        check(value(18.0), "above 12 s (+50 %; needs 16.0 s)", "above (+50 %)");
        check(
            value(13.2),
            "too close to call against 12 s (+10 %; needs 16.0 s to be above)",
            "too close to call (+10 %)",
        );
        check(value(9.0), "below 12 s (-25 %; less than 10.4 s)", "below (-25 %)");
        check(
            Found::AtLeast { least: 13.0, t_end: 13.0 },
            "not judged against 12 s: not reached within 13 s, look longer with --until",
            "not judged: not reached within 13 s, look longer with --until",
        );
        let far = Found::AtLeast { least: 60.0, t_end: 60.0 };
        check(far, "above 12 s (needs 16.0 s)", "above");
        check(
            Found::NotAsked,
            "not judged against 12 s: needs --behind disc",
            "not judged: needs --behind disc",
        );
    }

    /// What is printed is never less than what is asked: 35/0.75 = 46.67 and 35/1.15 = 30.43 cal/cm².
    #[test]
    fn the_rule_is_printed_as_it_is_applied() {
        let heat = crate::physics::units::from_cal_cm2(35.0);
        let (figure, at_least) = (Figure::Tpp, heat);
        let target = Target { figure, at_least, ..sample::target() };
        let (exposure, bands) = (sample::outcome().exposure, sample::bands());
        let rule = Rule::new(&target, &sample::three_plies(), &exposure, &bands);
        let said = rules([&rule, &rule].into_iter());
        assert_eq!(
            said[0],
            "TPP of three and more plies needs 46.7 cal/cm² predicted to be called above 35 cal/cm², \
             and less than 30.4 cal/cm² to be called below."
        );
        assert_eq!(said.len(), 3, "{said:?}");
        assert!(said[1].starts_with("The bench may lie at 0.75 to 1.15 of"), "{said:?}");
    }
}
