//! Tables on a terminal: no cell is cut, none touches the next, none is wider than the terminal.

use borewright_planner::read::fault::plain;

use super::Terminal;

/// At which side of its column a cell stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// Words, which may go on below.
    Left,
    /// Figures.
    Right,
}

/// A column: its head, lines parted by `\n`, and the side of its cells.
pub(super) type Column<'a> = (&'a str, Side);

/// Between columns.
const GAP: usize = 2;
/// No column of words is narrower.
const NARROWEST: usize = 8;

/// A table and its head. Where a terminal is too narrow, a second unit goes below the first, then words go on below; where
/// even that is too wide, each row is told as a sentence.
pub(super) fn table(t: &Terminal, indent: usize, columns: &[Column<'_>], rows: &[Vec<String>]) -> String {
    let mut cells: Vec<Vec<String>> = vec![columns.iter().map(|c| c.0.to_owned()).collect()];
    cells.extend(rows.iter().map(|row| row.iter().map(|c| plain_cell(c)).collect()));
    if indent + wide(&cells) > t.columns {
        for (cell, column) in cells.iter_mut().skip(1).flat_map(|row| row.iter_mut().zip(columns)) {
            if column.1 == Side::Right {
                *cell = cell.replacen(" (", "\n(", 1);
            }
        }
    }
    let mut over = (indent + wide(&cells)).saturating_sub(t.columns);
    while over > 0 {
        let words = columns.iter().enumerate().filter(|(_, c)| c.1 == Side::Left).map(|(at, _)| at);
        let Some(widest) = words.max_by_key(|at| width(&cells, *at)) else { break };
        let now = width(&cells, widest);
        if now <= NARROWEST {
            break;
        }
        let to = now.saturating_sub(over).max(NARROWEST);
        for row in &mut cells {
            if let Some(cell) = row.get_mut(widest) {
                *cell = folded(cell, to);
            }
        }
        over = (indent + wide(&cells)).saturating_sub(t.columns);
    }
    if over > 0 {
        return told(t, indent, columns, rows);
    }
    let widths: Vec<usize> = (0..columns.len()).map(|at| width(&cells, at)).collect();
    let mut text = String::new();
    for row in &cells {
        let height = row.iter().map(|c| c.split('\n').count()).max().unwrap_or(1);
        for line in 0..height {
            let mut written = " ".repeat(indent);
            for (at, (cell, (column, wide))) in row.iter().zip(columns.iter().zip(&widths)).enumerate() {
                let part = cell.split('\n').nth(line).unwrap_or("");
                if at > 0 {
                    written.push_str(&" ".repeat(GAP));
                }
                let pad = " ".repeat(wide.saturating_sub(part.chars().count()));
                match column.1 {
                    Side::Left => written.extend([part, &pad]),
                    Side::Right => written.extend([&pad, part]),
                }
            }
            text.push_str(written.trim_end());
            text.push('\n');
        }
    }
    text
}

/// How many columns of figures of this width stand beside each other, `before` being taken; at least one.
pub(super) fn across(t: &Terminal, before: usize, each: usize) -> usize {
    (t.columns.saturating_sub(before) / (each + GAP)).max(1)
}

/// Every row as a sentence: its first cell, then each head with its cell.
fn told(t: &Terminal, indent: usize, columns: &[Column<'_>], rows: &[Vec<String>]) -> String {
    let mut text = String::new();
    for row in rows {
        let parts = columns.iter().zip(row).skip(1).filter(|(_, cell)| !cell.trim().is_empty());
        let parts: Vec<String> = parts
            .map(|((head, _), cell)| format!("{} {}", in_one(head), cell.trim()).trim().to_owned())
            .collect();
        // A bare number says nothing of what it counts.
        let named = columns.first().map_or("", |c| c.0);
        let name = row.first().map_or("", |c| c.trim());
        let bare = !name.is_empty() && name.bytes().all(|b| b.is_ascii_digit());
        let name = if bare { format!("{} {name}", in_one(named)).trim().to_owned() } else { name.to_owned() };
        let first = format!("{:indent$}{name}", "");
        text.push_str(&t.wrapped(&first, &parts.join("; "), indent + 4));
    }
    text
}

/// A head in one line.
fn in_one(head: &str) -> String {
    head.replace("/\n", "/").replace('\n', " ")
}

/// Text of users within a cell has no line of its own.
fn plain_cell(cell: &str) -> String {
    cell.split('\n').map(|part| plain(part, 400)).collect::<Vec<_>>().join("\n")
}

fn width(cells: &[Vec<String>], at: usize) -> usize {
    let lines = cells.iter().filter_map(|row| row.get(at)).flat_map(|c| c.split('\n'));
    lines.map(|line| line.chars().count()).max().unwrap_or(0)
}

fn wide(cells: &[Vec<String>]) -> usize {
    let columns = cells.first().map_or(0, Vec::len);
    (0..columns).map(|at| width(cells, at)).sum::<usize>() + GAP * columns.saturating_sub(1)
}

/// Text in lines of at most so many characters; a longer word goes on below.
fn folded(text: &str, most: usize) -> String {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let letters: Vec<char> = word.chars().collect();
        for (at, part) in letters.chunks(most.max(1)).enumerate() {
            let part: String = part.iter().collect();
            match lines.last_mut() {
                Some(line) if line.is_empty() => line.push_str(&part),
                Some(line) if at == 0 && line.chars().count() + 1 + part.chars().count() <= most => {
                    line.push(' ');
                    line.push_str(&part);
                }
                _ => lines.push(part),
            }
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use borewright_planner::job::SheetUnits;

    fn some(columns: usize) -> String {
        let t = Terminal::new(SheetUnits::Both, columns, false);
        let columns = [("name", Side::Left), ("was off", Side::Right), ("moves", Side::Right)];
        let row = |name: &str| {
            vec![name.to_owned(), "0.112 (0.0044)".to_owned(), "12345.678 (486.0503)".to_owned()]
        };
        table(&t, 1, &columns, &[row("a sleeve with a name that is rather long for a table"), row("W90")])
    }

    #[test]
    fn what_is_too_wide_goes_on_below_and_nothing_is_cut() {
        insta::assert_snapshot!(some(60), @r"
         name                                  was off       moves
         a sleeve with a name that is rather     0.112   12345.678
         long for a table                     (0.0044)  (486.0503)
         W90                                     0.112   12345.678
                                              (0.0044)  (486.0503)
        ");
        assert!(some(120).lines().count() == 3, "{}", some(120));
    }

    #[test]
    fn a_table_of_figures_too_wide_for_any_terminal_is_told_row_by_row() {
        let t = Terminal::new(SheetUnits::Mm, 60, false);
        let columns: Vec<Column<'_>> = (0..12).map(|_| ("head", Side::Right)).collect();
        let text = table(&t, 0, &columns, &[vec!["1234.567".to_owned(); 12]]);
        assert!(text.lines().all(|line| line.chars().count() <= 60), "{text}");
        assert_eq!(text.matches("1234.567").count(), 12);
        let columns: Vec<Column<'_>> =
            [("cyl", Side::Right), ("seat/\nyield", Side::Right)].into_iter().chain(columns).collect();
        let row = ["1", "-"].into_iter().chain(std::iter::repeat_n("1234.567", 12)).map(str::to_owned);
        assert!(table(&t, 0, &columns, &[row.collect()]).starts_with("cyl 1 seat/yield -"));
    }
}
