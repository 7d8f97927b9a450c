//! A table: rows that say the same stand once, and a figure that has an account leads to it.

use super::Page;
use super::why::Answered;
use crate::sheets::cards::flow::ColumnHead;

/// The reading of a whole bank, where figures are asked for.
const BANK: &str = "bank";

impl Page<'_> {
    /// Writes a table with its caption; columns that say nothing are left out. `why` are the figures that `fold` has accounts of.
    pub(super) fn table(
        &mut self,
        (caption, heads, rows): (&str, &[ColumnHead], &[Vec<String>]),
        (fold, why): (&str, &[Answered<'_>]),
    ) {
        let words: Vec<&str> = why.iter().map(|figure| figure.word).collect();
        let says = |at: usize| rows.iter().any(|row| row.get(at).is_some_and(|cell| !cell.is_empty()));
        let shown: Vec<usize> = (0..heads.len()).filter(|at| *at == 0 || says(*at)).collect();
        self.raw("<div class=\"wide\">\n<table class=\"rows\">\n<caption>");
        self.text(caption);
        self.raw("</caption>\n<thead>\n<tr>");
        for head in shown.iter().filter_map(|at| heads.get(*at)) {
            self.raw("<th scope=\"col\">");
            self.text(head.name);
            self.raw("</th>");
        }
        self.raw("</tr>\n</thead>\n<tbody>\n");
        for (names, row) in merged(rows) {
            self.raw("<tr>");
            for at in &shown {
                let (at, Some(cell), Some(ColumnHead { name: head, dialled })) =
                    (*at, row.get(*at), heads.get(*at))
                else {
                    continue;
                };
                let dial = if *dialled { " class=\"dial\"" } else { "" };
                if at == 0 {
                    self.raw(&format!("<th scope=\"row\" data-head=\"{head}\">"));
                    self.text(&names.join(" "));
                    self.raw("</th>");
                    continue;
                }
                self.raw(&format!("<td{dial} data-head=\"{head}\">"));
                let account = account_of(&words, &names, head, cell);
                if let Some(account) = account {
                    self.raw(&format!("<a class=\"to\" href=\"#{fold}-{account}\">"));
                }
                // A second unit stands below where it is the only one.
                if *dialled && cell.matches(" (").count() == 1 {
                    self.stacked(&cell.replace(" (", "\n("));
                } else {
                    self.stacked(cell);
                }
                self.raw(if account.is_some() { "</a></td>" } else { "</td>" });
            }
            self.raw("</tr>\n");
        }
        self.raw("</tbody>\n</table>\n</div>\n");
    }
}

/// Rows beside each other that say the same of several bores, once: their names, and the row.
fn merged(rows: &[Vec<String>]) -> Vec<(Vec<&str>, &Vec<String>)> {
    let mut made: Vec<(Vec<&str>, &Vec<String>)> = Vec::new();
    for row in rows {
        let name = row.first().map_or("", String::as_str);
        let rest = |row: &'_ Vec<String>| row.get(1..).unwrap_or_default().to_vec();
        match made.last_mut() {
            Some((names, before))
                if !name.is_empty() && names.first() != Some(&"") && rest(before) == rest(row) =>
            {
                names.push(name);
            }
            _ => made.push((vec![name], row)),
        }
    }
    made
}

/// Which of the accounts a cell's figure has.
fn account_of(words: &[&str], names: &[&str], head: &str, cell: &str) -> Option<usize> {
    if !cell.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    // What is expected stands with the place where each place has its own.
    let about = if head == "at" && cell.contains('\u{b1}') { "expected" } else { head };
    let of = |name: &&str| if name.is_empty() { BANK.to_owned() } else { (*name).to_owned() };
    let own: Vec<String> = names
        .iter()
        .flat_map(|name| [format!("{} {about}", of(name)), format!("{}: {about}", of(name))])
        .collect();
    words.iter().position(|word| *word == about || own.iter().any(|own| own == word))
}

#[cfg(test)]
mod tests {
    use super::{account_of, merged};

    #[test]
    fn rows_that_say_the_same_stand_once_and_a_banks_own_stands_alone() {
        let row = |cells: [&str; 2]| cells.map(str::to_owned).to_vec();
        let rows = [row(["1", "82"]), row(["3", "82"]), row(["5", "83"]), row(["", "0"]), row(["", "0"])];
        let told: Vec<String> = merged(&rows).iter().map(|(names, _)| names.join(" ")).collect();
        assert_eq!(told, ["1 3", "5", "", ""]);
    }

    #[test]
    fn a_cell_leads_to_its_own_account() {
        let asked = ["5: expected", "1: expected", "bank: expected", "window", "3 Y"];
        assert_eq!(account_of(&asked, &["1"], "at", "X 46.016 \u{b1} 0.050"), Some(1));
        assert_eq!(account_of(&asked, &[""], "at", "Z 0.000 \u{b1} 0.050"), Some(2));
        assert_eq!(account_of(&asked, &["1", "3"], "window", "\u{b1} 0.010"), Some(3));
        assert_eq!(account_of(&asked, &["3"], "Y", "+0.049"), Some(4));
        assert_eq!(account_of(&asked, &["3"], "at", "5.0 deep"), None);
    }
}
