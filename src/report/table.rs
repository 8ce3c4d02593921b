//! Plain-text layout within the width of a terminal: wrapped text and aligned columns.

use crate::shelf::wording::words_with_units;

/// Columns that every line of output keeps within.
pub const WIDTH: usize = 80;

/// Which side a column's cells keep to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Left; the first such column that holds long words is wrapped when the table is too wide.
    Left,
    /// Right, for numbers.
    Right,
}

/// Number of columns that a text takes: one per character, which holds for Latin, Greek and signs.
pub fn width(text: &str) -> usize {
    text.chars().count()
}

/// Text broken at spaces to lines of at most `most` columns; a longer word is cut, at a hyphen if it has one.
pub fn wrap(text: &str, most: usize) -> Vec<String> {
    let most = most.max(1);
    let mut lines = vec![String::new()];
    for word in words_with_units(text) {
        let line = lines.last_mut().expect("starts with one line and only grows");
        if !line.is_empty() && width(line) + 1 + width(&word) <= most {
            line.push(' ');
            line.push_str(&word);
            continue;
        }
        if line.is_empty() {
            lines.pop();
        }
        lines.extend(cut(&word, most));
    }
    lines
}

/// A cell's lines; blanks before its text are kept.
fn wrap_cell(cell: &str, most: usize) -> Vec<String> {
    let indent = cell.chars().take_while(|c| *c == ' ').count().min(most.saturating_sub(1));
    let lines = wrap(cell, most - indent);
    lines.into_iter().map(|line| format!("{:indent$}{line}", "")).collect()
}

/// A word in pieces of at most `most` columns.
fn cut(word: &str, most: usize) -> Vec<String> {
    let mut rest: Vec<char> = word.chars().collect();
    let mut pieces = Vec::new();
    while rest.len() > most {
        let hyphen = rest[..most].iter().rposition(|c| *c == '-' || *c == '/');
        let end = hyphen.map_or(most, |i| i + 1);
        pieces.push(rest.drain(..end).collect());
    }
    pieces.push(rest.into_iter().collect());
    pieces
}

/// Text wrapped within [`WIDTH`], every line indented and ended.
pub fn paragraph(text: &str, indent: usize) -> String {
    hanging("", text, indent)
}

/// Text wrapped beside a label; further lines stand under the text.
pub fn hanging(label: &str, text: &str, indent: usize) -> String {
    let left = indent + width(label);
    let lines = wrap(text, WIDTH.saturating_sub(left));
    let mut out = String::new();
    for (i, line) in lines.iter().enumerate() {
        let head = if i == 0 { label } else { "" };
        let row = format!("{:indent$}{head:<pad$}{line}", "", pad = width(label));
        out.push_str(row.trim_end());
        out.push('\n');
    }
    out
}

/// Rows of aligned cells.
#[derive(Debug, Clone)]
pub struct Table {
    aligns: Vec<Align>,
    rows: Vec<Vec<String>>,
    indent: usize,
}

impl Table {
    /// An empty table with one alignment per column.
    pub fn new(aligns: &[Align]) -> Table {
        Table { aligns: aligns.to_vec(), rows: Vec::new(), indent: 2 }
    }

    /// Adds a row; missing cells at its end are blank.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        let mut row: Vec<String> = cells.into_iter().map(Into::into).collect();
        row.resize(self.aligns.len(), String::new());
        self.rows.push(row);
    }

    /// The rows, two spaces between columns, within [`WIDTH`]: left columns wrap, the widest first. Where
    /// that is not enough there is one space, and at last numbers wrap, too.
    pub fn render(&self) -> String {
        let (widths, gap) = self.fitted();
        let mut out = String::new();
        for row in &self.rows {
            let cells: Vec<Vec<String>> =
                row.iter().zip(&widths).map(|(cell, w)| wrap_cell(cell, *w)).collect();
            let height = cells.iter().map(Vec::len).max().unwrap_or(0);
            for i in 0..height {
                out.push_str(&self.line(&cells, &widths, (i, gap)));
                out.push('\n');
            }
        }
        out
    }

    fn line(&self, cells: &[Vec<String>], widths: &[usize], (i, gap): (usize, usize)) -> String {
        let gap = " ".repeat(gap);
        let mut line = " ".repeat(self.indent);
        for (j, (cell, w)) in cells.iter().zip(widths).enumerate() {
            let text = cell.get(i).map_or("", String::as_str);
            let pad = " ".repeat(w.saturating_sub(width(text)));
            match self.aligns[j] {
                Align::Left => line.push_str(&format!("{text}{pad}{gap}")),
                Align::Right => line.push_str(&format!("{pad}{text}{gap}")),
            }
        }
        line.trim_end().to_string()
    }

    /// Whether nothing has to be narrowed.
    pub fn fits(&self) -> bool {
        !self.is_over(&self.natural_widths(), 2)
    }

    fn natural_widths(&self) -> Vec<usize> {
        let widest = |j: usize| self.rows.iter().map(|row| width(&row[j])).max().unwrap_or(0);
        (0..self.aligns.len()).map(widest).collect()
    }

    fn is_over(&self, widths: &[usize], gap: usize) -> bool {
        let between = gap * widths.len().saturating_sub(1);
        self.indent + widths.iter().sum::<usize>() + between > WIDTH
    }

    /// Natural widths, with columns narrowed one by one until the table fits, and the space between them.
    fn fitted(&self) -> (Vec<usize>, usize) {
        let natural = self.natural_widths();
        for gap in [2, 1] {
            let mut widths = natural.clone();
            while self.is_over(&widths, gap) {
                let Some(j) = self.widest_left(&widths) else { break };
                widths[j] -= 1;
            }
            while gap == 1 && self.is_over(&widths, gap) {
                let Some(j) = self.widest_right(&widths) else { break };
                widths[j] -= 1;
            }
            if gap == 1 || !self.is_over(&widths, gap) {
                return (widths, gap);
            }
        }
        unreachable!("the last gap returns")
    }

    /// The left column to narrow; names stand in the first, which is the last to be narrowed.
    fn widest_left(&self, widths: &[usize]) -> Option<usize> {
        let left = || (0..widths.len()).filter(|j| self.aligns[*j] == Align::Left);
        let further = left().skip(1).filter(|j| widths[*j] > 14);
        let widest = further.max_by_key(|j| widths[*j]);
        widest.or_else(|| left().filter(|j| widths[*j] > 8).max_by_key(|j| widths[*j]))
    }

    /// The right column to narrow, down to its longest word.
    fn widest_right(&self, widths: &[usize]) -> Option<usize> {
        let word = |j: usize| {
            let words = self.rows.iter().flat_map(move |row| words_with_units(&row[j]));
            words.map(|word| width(&word)).max().unwrap_or(0)
        };
        let right = (0..widths.len()).filter(|j| self.aligns[*j] == Align::Right);
        right.filter(|j| widths[*j] > word(*j)).max_by_key(|j| widths[*j])
    }
}

#[cfg(test)]
mod tests {
    use super::{Align, Table, WIDTH, hanging, width, wrap};

    #[test]
    fn wraps_at_spaces_and_cuts_what_is_too_long() {
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(wrap("abcdefgh xy", 3), ["abc", "def", "gh", "xy"]);
        assert_eq!(wrap("", 10), [""]);
        assert_eq!(wrap("a bcdefgh", 4), ["a", "bcde", "fgh"]);
        assert_eq!(wrap("twill-weave-210", 8), ["twill-", "weave-", "210"]);
        assert_eq!(wrap("held at 25 °C, still", 10), ["held at", "25 °C,", "still"]);
    }

    #[test]
    fn hangs_beside_its_label() {
        let text = hanging("label  ", &"word ".repeat(30), 2);
        assert!(text.lines().all(|line| width(line) <= WIDTH));
        assert!(text.lines().nth(1).unwrap().starts_with("         word"));
    }

    #[test]
    fn a_wide_table_wraps_its_left_column() {
        let mut table = Table::new(&[Align::Left, Align::Right]);
        table.row(["many words ".repeat(12), "1.25".to_string()]);
        table.row(["short", "10.00"]);
        let text = table.render();
        assert!(text.lines().all(|line| width(line) <= WIDTH), "{text}");
        assert!(text.lines().next().unwrap().ends_with(" 1.25"), "{text}");
        assert_eq!(text.matches("many").count(), 12, "nothing is lost");
    }
}
