//! Accounts of time: how long a list, a stage and the job take, summed pass by pass.

use super::origin::{Sources, bank_name};
use super::question::Question;
use super::{Account, Row};
use crate::plan::worked::Unit;
use crate::plan::{StageTime, Took};
use crate::planning::Planning;
use crate::say;

/// A row that is asked for elsewhere.
fn kept(name: String, says: String, minutes: f64, question: &Question) -> Row {
    let from = vec![format!("ask `{question}`")];
    Row {
        name: name.into(),
        says: says.into(),
        unit: Unit::Minutes,
        value: Some(minutes),
        formula: None,
        from,
    }
}

/// A sum of rows.
fn sum(name: String, says: String, minutes: f64, of: &[Row]) -> Row {
    let names: Vec<&str> = of.iter().map(|row| &*row.name).collect();
    let formula = if names.is_empty() { "0".to_owned() } else { names.join(" + ") };
    Row {
        name: name.into(),
        says: says.into(),
        unit: Unit::Minutes,
        value: Some(minutes),
        formula: Some(formula.into()),
        from: Vec::new(),
    }
}

/// The sum of some passes: in all, step by step, pass by pass.
fn of_passes(minutes: f64, says: &str, passes: &[Took]) -> Vec<Row> {
    let mut steps: Vec<u32> = passes.iter().map(|took| took.step).collect();
    steps.sort_unstable();
    steps.dedup();
    let (mut by_step, mut each) = (Vec::new(), Vec::new());
    for step in steps {
        let own = passes.iter().filter(|took| took.step == step);
        let rows: Vec<Row> = own
            .clone()
            .map(|took| {
                let (cylinder, about) = (Some(took.cylinder), Some("minutes".to_owned()));
                let says = format!("step {step} on cylinder {}", took.cylinder);
                let question = Question::Pass { step, cylinder, about };
                kept(format!("t_{step}_{}", took.cylinder), says, took.minutes, &question)
            })
            .collect();
        let all = own.map(|took| took.minutes).sum();
        by_step.push(sum(format!("s_{step}"), format!("minutes of step {step}"), all, &rows));
        each.extend(rows);
    }
    let first = sum("t".to_owned(), says.to_owned(), minutes, &by_step);
    std::iter::once(first).chain(by_step).chain(each).collect()
}

pub(super) fn of_lists(planning: &Planning, numbers: &[u32]) -> Vec<Account> {
    let lists = planning.lists.iter().filter(|l| numbers.contains(&l.number) && !l.minutes.is_empty());
    let account = |list: &crate::plan::moves::MoveList| {
        let asked = Question::Lists { numbers: vec![list.number] }.to_string();
        let bank = planning.job.block.banks.iter().position(|b| b.name == list.bank);
        let bank = bank.map_or_else(String::new, |bank| format!(", bank {}", bank_name(&planning.job, bank)));
        let title = say!("minutes of list {}: {}{}", list.number, list.stage.word(), bank);
        let minutes = list.minutes.iter().map(|took| took.minutes).sum();
        let rows = of_passes(minutes, "minutes in feed", &list.minutes);
        let rapids = "without rapids and stops, of which nobody knows how long they take";
        Account { asked, title, rows, notes: vec![rapids.into()] }
    };
    lists.map(account).collect()
}

pub(super) fn of_stage(planning: &Planning, stage: &str) -> Vec<Account> {
    let Some(time) = planning.plan.times.iter().find(|t| t.stage.word() == stage) else { return Vec::new() };
    let asked = Question::Stage { stage: stage.to_owned() }.to_string();
    let work = Account {
        asked: asked.clone(),
        title: say!("minutes at the work: {stage}"),
        rows: of_passes(time.work, "minutes in the cut, or by hand", &time.passes),
        notes: Vec::new(),
    };
    let handled = time.handled.iter().map(|figure| Account {
        asked: asked.clone(),
        title: say!("minutes of setting tools and measuring: {stage}"),
        rows: Sources::new(planning, None, "").figure(figure, None),
        notes: Vec::new(),
    });
    std::iter::once(work).chain(handled).collect()
}

/// How the hours of the job add up, stage by stage, in minutes at the work and of handling; `None` of a plan
/// without times.
pub(super) fn of_job(planning: &Planning) -> Option<Account> {
    let times = &planning.plan.times;
    if times.is_empty() {
        return None;
    }
    let part = |letter: &str, says: &str, of: &dyn Fn(&StageTime) -> f64| -> Vec<Row> {
        let row = |time: &StageTime| {
            let stage = time.stage.word();
            let question = Question::Stage { stage: stage.to_owned() };
            kept(format!("{letter}_{stage}"), format!("{says}: {stage}"), of(time), &question)
        };
        times.iter().map(row).collect()
    };
    let (work, handling) =
        (part("w", "at the work", &|t| t.work), part("h", "setting and measuring", &|t| t.handling));
    let all = |rows: &[Row]| rows.iter().filter_map(|row| row.value).sum::<f64>();
    let (w, h) = (all(&work), all(&handling));
    let first = Row {
        name: "T".into(),
        says: "hours of the job".into(),
        unit: Unit::Hours,
        value: Some((w + h) / 60.0),
        formula: Some("(W + H) / 60".into()),
        from: Vec::new(),
    };
    let sums = [
        sum("W".to_owned(), "minutes at the work".to_owned(), w, &work),
        sum("H".to_owned(), "minutes of setting tools and measuring".to_owned(), h, &handling),
    ];
    let rows = std::iter::once(first).chain(sums).chain(work).chain(handling).collect();
    let notes = vec!["without loading and indicating".into()];
    Some(Account { asked: Question::Job.to_string(), title: "how long the job takes".into(), rows, notes })
}
