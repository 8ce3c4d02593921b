//! Claim: the odds of a share burnt are counts over sets that are drawn alike whatever is asked of them.
//! Source: orders and counts, which need none; Wilson's interval is held against tables in `study/odds/spread.rs`.

use serde_json::Value;

use crate::flat::flat;
use crate::run::{done, stillair};

fn odds(against: &str, threads: &str) -> Value {
    let words = ["body", "refuelling-coverall", "--for", "4,8", "--json", "--sets", "16"];
    let (out, said, code) = stillair(&[&words[..], &["--against", against]].concat(), threads);
    assert_eq!(code, 0, "{said}");
    let json: Value = serde_json::from_str(&out).unwrap();
    json["odds"].clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

#[test]
fn more_allowed_keeps_no_fewer_sets_and_all_keep_to_all() {
    let asked = ["0", "20", "100"].map(|against| odds(against, "2"));
    for k in 0..2 {
        let of = |key: &str| asked.each_ref().map(|odds| number(&odds["fires"][k][key]));
        let keeps = of("keeps_pct");
        assert!(keeps[0] <= keeps[1] && keeps[1] <= keeps[2] && keeps[2] == 100.0, "{keeps:?}");
        // the sets are the same whatever is asked of them
        for key in ["as_it_is_pct", "quantile_5_pct", "quantile_50_pct", "quantile_95_pct"] {
            let [one, two, three] = of(key);
            assert!(one == two && two == three && (0.0..=100.0).contains(&one), "{key}");
        }
        let fire = &asked[1]["fires"][k];
        let quantiles = ["5", "50", "95"].map(|p| number(&fire[format!("quantile_{p}_pct")]));
        assert!(quantiles.windows(2).all(|pair| pair[0] <= pair[1]), "{quantiles:?}");
        // of sixteen sets a whole number keeps
        let kept = 0.16 * keeps[1];
        assert!((kept - kept.round()).abs() < 1e-6, "{kept}");
        let (low, high) = (number(&fire["keeps_at_least_pct"]), number(&fire["keeps_at_most_pct"]));
        assert!(low <= keeps[1] && keeps[1] <= high && high > low);
    }
    // the longer fire burns more in the middle of the sets, and keeps to the share less often
    let of_fire = |key: &str| [0, 1].map(|k: usize| number(&asked[1]["fires"][k][key]));
    let (middle, keeps) = (of_fire("quantile_50_pct"), of_fire("keeps_pct"));
    assert!(middle[1] > middle[0] && keeps[1] <= keeps[0], "{middle:?} {keeps:?}");
}

#[test]
fn threads_do_not_matter_to_the_sets() {
    assert_eq!(odds("20", "1"), odds("20", "3"));
}

#[test]
fn text_says_what_was_drawn() {
    let words = ["body", "refuelling-coverall", "--for", "8", "--against", "30", "--sets", "16"];
    let out = done(&words);
    let all = flat(&out);
    assert!(all.contains("Odds of at most 30.0 % with a second degree"), "{out}");
    assert!(all.contains("16 sets of fabrics, flame, flux"), "{out}");
    assert!(all.contains("The model's own error is not drawn"), "{out}");
    assert!(out.lines().all(|line| line.chars().count() <= 80), "{out}");
    let (_, said, code) = stillair(&["body", "refuelling-coverall", "--against", "130"], "2");
    assert!(code == 2 && said.contains("expected 0 to 100 percent"), "{said}");
}
