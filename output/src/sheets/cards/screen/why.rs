//! Where the figures of a card come from: each account folded away behind a tap on it, or on the one fold of its line.

use borewright_planner::Planning;
use borewright_planner::explain::{self, Question};

use super::Page;
use crate::drawings;
use crate::said::explained::{Explained, Told, explained};
use crate::said::units::Units;
use crate::sheets::cards::flow::Ask;

/// What answers for the figures of a plan, in the sheets' units.
pub(in crate::sheets::cards) struct Why<'p> {
    planning: &'p Planning,
    units: Units,
}

/// A figure and where it comes from.
pub(super) struct Answered<'b> {
    /// Its word.
    pub(super) word: &'b str,
    /// What it is asked for by.
    pub(super) question: &'b Question,
    accounts: Vec<Explained>,
}

impl<'p> Why<'p> {
    /// Of a plan.
    pub(in crate::sheets::cards) const fn of(planning: &'p Planning, units: Units) -> Self {
        Self { planning, units }
    }

    /// A figure with its accounts; `None` where it has none.
    pub(super) fn answered<'b>(&self, (word, question): &'b Ask) -> Option<Answered<'b>> {
        let accounts = self.asked(question);
        (!accounts.is_empty()).then_some(Answered { word, question, accounts })
    }

    /// The accounts of a figure: made for the figures that are shown, and no others.
    fn asked(&self, question: &Question) -> Vec<Explained> {
        let units = self.units.of_sentences();
        explain::answer(self.planning, question).iter().map(|account| explained(account, units)).collect()
    }
}

impl Page<'_> {
    /// The one fold of a line's whys, each account a place that a figure can lead to; nothing where none is left. Beside figures it
    /// is `short`.
    pub(super) fn fold(&mut self, (card, fold): (usize, &str), short: bool, figures: &[Answered<'_>]) {
        if figures.is_empty() {
            return;
        }
        // One open at a time, so that the line stays in sight.
        self.raw(&format!("<details class=\"whys\" name=\"why-{card}\">\n<summary>why"));
        if !short {
            let words: Vec<&str> = figures.iter().map(|figure| figure.word).collect();
            self.raw(" ");
            self.text(&words.join(", "));
        }
        self.raw("</summary>\n");
        for (at, figure) in figures.iter().enumerate() {
            self.accounts(figure, Some(&format!("{fold}-{at}")));
        }
        self.raw("</details>\n");
    }

    /// The accounts of one figure, at a place of their own where they have one.
    pub(super) fn accounts(&mut self, figure: &Answered<'_>, place: Option<&str>) {
        let id = place.map(|place| format!(" id=\"{place}\"")).unwrap_or_default();
        self.raw(&format!("<div class=\"asked\"{id}>\n"));
        figure.accounts.iter().for_each(|account| self.account(account));
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
        self.made.push_str(&drawings::escaped(&self.fonts.cleaned(words)));
    }
}

fn figure(row: &Told) -> String {
    row.figure.as_ref().map_or_else(
        || "withheld".to_owned(),
        |figure| format!("{figure} {}", row.unit).trim_end().to_owned(),
    )
}
