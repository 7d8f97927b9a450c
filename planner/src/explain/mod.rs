//! Accounts of a plan's figures: each formula with its figures put in, down to the readings and keys it rests on.
//!
//! Nothing is worked out again here: what a figure was worked from was kept when the plan worked it out.

mod amiss;
mod axis;
mod check;
mod fit;
mod limit;
mod origin;
mod pass;
mod place;
mod question;
mod time;
mod zero;

use std::borrow::Cow;

use crate::plan::sentence::Sentence;
use crate::plan::worked::Unit;
use crate::planning::Planning;

pub use axis::Axis;
pub use question::{Question, Unasked, Whose};

/// How one figure came about.
#[derive(Debug, Clone, PartialEq)]
pub struct Account {
    /// What it is asked for by, as on the command line.
    pub asked: String,
    /// What it is.
    pub title: Sentence,
    /// The figure first, then what stands in its formula.
    pub rows: Vec<Row>,
    /// What else decides.
    pub notes: Vec<Sentence>,
}

/// One symbol of an account.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The symbol as it stands in formulas.
    pub name: Cow<'static, str>,
    /// What it is, in words.
    pub says: Cow<'static, str>,
    /// Its unit.
    pub unit: Unit,
    /// Its figure in its unit; `None` where it would tell a place that is withheld.
    pub value: Option<f64>,
    /// The formula that gives it, where it is no reading.
    pub formula: Option<Cow<'static, str>>,
    /// Where it comes from: files with lines, keys, sources.
    pub from: Vec<String>,
}

impl Account {
    /// A formula of its rows with their figures put in, each as it is spelled by `figure`; `None` where one is
    /// withheld.
    pub fn put_in(&self, formula: &str, figure: &dyn Fn(&Row) -> String) -> Option<String> {
        let mut text = String::new();
        let mut rest = formula;
        while let Some(start) = rest.find(|c: char| c.is_ascii_alphabetic()) {
            let (before, from) = rest.split_at(start);
            let end = from.find(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).unwrap_or(from.len());
            let (word, after) = from.split_at(end);
            text.push_str(before);
            match self.rows.iter().find(|row| row.name == word) {
                Some(row) => {
                    row.value?;
                    text.push_str(&figure(row));
                }
                None => text.push_str(word),
            }
            rest = after;
        }
        text.push_str(rest);
        Some(text)
    }
}

/// What is asked for every account at once.
const EVERYTHING: &str = "everything";

/// How a figure of a plan came about; of all that can be asked, by the word `everything`.
///
/// # Errors
/// A question that the plan has no answer to, with those it has.
pub fn explain(planning: &Planning, words: &[String]) -> Result<Vec<Account>, Unasked> {
    if let [all] = words
        && all == EVERYTHING
    {
        return Ok(everything(planning));
    }
    let question = Question::of(planning, words)?;
    let accounts = answer(planning, &question);
    if accounts.is_empty() { Err(amiss::unanswered(planning, &question)) } else { Ok(accounts) }
}

/// Every account of a plan, in the order of its sheets.
#[must_use]
pub fn everything(planning: &Planning) -> Vec<Account> {
    Question::all(planning).iter().flat_map(|question| answer(planning, question)).collect()
}

/// The accounts of a question; none where the plan has no answer.
#[must_use]
pub fn answer(planning: &Planning, question: &Question) -> Vec<Account> {
    match question {
        Question::Cylinder { cylinder, axis } => place::accounts(planning, *cylinder, *axis),
        Question::Limit { limit, cylinder } => limit::accounts(planning, limit, *cylinder),
        Question::Pass { step, cylinder, about } => {
            pass::accounts(planning, *step, *cylinder, about.as_deref())
        }
        Question::Check { check, whose, about } => {
            check::accounts(planning, *check, *whose, about.as_deref())
        }
        Question::Lists { numbers } => time::of_lists(planning, numbers),
        Question::Stage { stage } => time::of_stage(planning, stage),
        Question::Job => time::of_job(planning).into_iter().collect(),
        Question::Fit { register } => fit::accounts(planning, register),
        Question::Zero { bank, axis } => {
            let index = planning.job.block.banks.iter().position(|b| b.name == *bank);
            index.map_or_else(Vec::new, |index| zero::accounts(planning, index, *axis))
        }
    }
}
