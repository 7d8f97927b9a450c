//! The account of a register of the planned sleeve: how it grips, and how it goes in.

use super::Account;
use super::origin::{Sources, register};
use super::question::{Question, planned_fit};
use crate::plan::worked::Figure;
use crate::planning::Planning;
use crate::read::fault::plain;
use crate::say;

pub(super) fn accounts(planning: &Planning, name: &str) -> Vec<Account> {
    let Some(register) = register(planning, name) else { return Vec::new() };
    let going_in = planned_fit(planning).map(|fit| &fit.going_in).filter(|g| g.decides == name);
    let gap = going_in.iter().flat_map(|g| &g.worked);
    let cylinder = register.wall.and_then(|wall| wall.cylinder);
    register.worked.iter().chain(gap).map(|figure| account(planning, name, cylinder, figure)).collect()
}

fn account(planning: &Planning, name: &str, cylinder: Option<u32>, figure: &Figure) -> Account {
    let sources = Sources::new(planning, cylinder, name);
    let question = Question::Fit { register: name.to_owned() };
    let title = say!("{} of {}", figure.about, plain(name, 60));
    Account { asked: question.to_string(), title, rows: sources.figure(figure, None), notes: Vec::new() }
}
