//! Layups side by side in text.

use crate::garment::target::Target;
use crate::report::form::rows::table;
use crate::report::rank::columns::{places, rows};
use crate::report::rank::words::{all_told, order_words, places_of_skin, remark};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice, own_tests, section};
use crate::report::verdict::{self, rules};
use crate::report::{exposure, lies};
use crate::study::ordering::Ranking;

/// The rankings of one or more exposures in text.
pub fn rank_text(rankings: &[Ranking<'_>], targets: &[&Target]) -> String {
    let all = rankings.iter().flat_map(|ranking| &ranking.placed);
    let mut out = lies::first_line(all.map(|placed| placed.outcome.lies.stack()));
    for ranking in rankings {
        let Some(first) = ranking.placed.first() else { continue };
        let exposure = &first.outcome.exposure;
        out.push_str(&heading(&format!("Side by side: {}", exposure.name)));
        out.push_str(&paragraph(&exposure::sentence(exposure), 2));
        out.push_str(&paragraph(&order_words(ranking), 2));
        out.push('\n');
        out.push_str(&table(&places(ranking), &rows([ranking])));
        places_of_skin(ranking).iter().for_each(|line| out.push_str(&paragraph(line, 2)));
        out.push_str(&paragraph(&remark(ranking), 2));
        own_tests(&mut out, &all_told(ranking));
        if !targets.is_empty() {
            section(&mut out, "Against the targets", &against(ranking, targets));
        }
        out.push('\n');
    }
    out.push_str(&notice());
    out
}

fn against(ranking: &Ranking<'_>, targets: &[&Target]) -> String {
    use Align::Left;
    let mut table = Table::new(&[Left, Left, Left, Left]);
    let mut asked = Vec::new();
    for target in targets {
        for (i, placed) in ranking.placed.iter().enumerate() {
            let call = placed.held(target);
            let head = match i {
                0 => [target.name.clone(), verdict::asks(&call.rule)],
                _ => [String::new(), String::new()],
            };
            let [target, asks] = head;
            let layup = placed.outcome.layup.name.clone();
            table.row([target, asks, layup, verdict::in_short(&call)]);
            asked.push(call.rule);
        }
    }
    let mut out = table.render();
    rules(asked.iter()).iter().for_each(|sentence| out.push_str(&paragraph(sentence, 2)));
    out
}
