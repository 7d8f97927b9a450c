//! Where the figures of a card come from: each account folded away behind a tap.

use borewright_planner::Planning;
use borewright_planner::explain;

use super::Page;
use crate::drawings;
use crate::said::explained::{Explained, Told, explained};
use crate::said::units::Units;

/// What answers for the figures of a plan, in the sheets' units.
pub(in crate::sheets::cards) struct Why<'p> {
    planning: &'p Planning,
    units: Units,
}

impl<'p> Why<'p> {
    /// Of a plan.
    pub(in crate::sheets::cards) const fn of(planning: &'p Planning, units: Units) -> Self {
        Self { planning, units }
    }

    /// The accounts of a figure by what it is asked for by: made for the figures that are shown, and no others.
    fn asked(&self, question: &str) -> Vec<Explained> {
        let units = self.units.of_sentences();
        explain::asked(self.planning, question).iter().map(|account| explained(account, units)).collect()
    }
}

impl Page<'_> {
    /// A row of buttons, each opening the account of one figure; what has none is left out.
    pub(super) fn accounts(&mut self, card: usize, figures: &[(String, String)]) {
        let why = self.why;
        let answered = figures.iter().map(|(word, question)| (word, why.asked(question)));
        let known: Vec<(&String, Vec<Explained>)> =
            answered.filter(|(_, accounts)| !accounts.is_empty()).collect();
        if known.is_empty() {
            return;
        }
        self.raw("<div class=\"why\">\n");
        for (word, accounts) in known {
            // One open at a time, so that the line stays in sight.
            self.raw(&format!("<details name=\"why-{card}\">\n<summary>why "));
            self.text(word);
            self.raw("</summary>\n");
            for account in &accounts {
                self.account(account);
            }
            self.raw("</details>\n");
        }
        self.raw("</div>\n");
    }

    /// Writes a figure's account: its formulas with the figures put in, then where those come from.
    fn account(&mut self, account: &Explained) {
        self.raw("<div class=\"account\">\n");
        self.tagged("p", "what", &account.title);
        for row in &account.rows {
            let Some(formula) = &row.formula else { continue };
            self.tagged("p", "said", &row.says);
            self.formula(&format!("{} = {formula}", row.name));
            if let Some(put_in) = row.with_figures.as_ref().filter(|put_in| *put_in != formula) {
                self.formula(&format!("= {put_in}"));
            }
            self.formula(&format!("= {}", figure(row)));
        }
        self.raw("<ul>\n");
        for row in account.rows.iter().filter(|row| row.formula.is_none()) {
            self.raw("<li><b>");
            self.exact(&format!("{} = {}", row.name, figure(row)));
            self.raw("</b> ");
            self.text(&row.says);
            if !row.from.is_empty() {
                self.raw(": <span class=\"small\">");
                self.text(&row.from.join("; "));
                self.raw("</span>");
            }
            self.raw("</li>\n");
        }
        self.raw("</ul>\n");
        for note in &account.notes {
            self.tagged("p", "said", note);
        }
        self.raw("</div>\n");
    }
}

impl Page<'_> {
    /// A line of a formula.
    fn formula(&mut self, words: &str) {
        self.raw("<p class=\"formula\">");
        self.exact(words);
        self.raw("</p>\n");
    }

    /// Symbols and figures as any reader of expressions takes them: an x between figures is no times, a minus no dash.
    fn exact(&mut self, words: &str) {
        let clean = self.fonts.clean(words);
        self.made.push_str(&drawings::escaped(&clean));
    }
}

fn figure(row: &Told) -> String {
    row.figure.as_ref().map_or_else(
        || "withheld".to_owned(),
        |figure| format!("{figure} {}", row.unit).trim_end().to_owned(),
    )
}
