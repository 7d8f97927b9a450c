//! The change card: what planning again with a record voids, and what stays good.

use borewright_planner::Planning;
use borewright_planner::plan::{Cylinder, Plan, Verdict};
use borewright_planner::read::fault::plain;
use serde::Deserialize;

use super::Terminal;

/// What is compared of a plan that was written before.
#[derive(Debug, Deserialize)]
struct Before {
    job: String,
    fingerprint: String,
    #[serde(default)]
    cylinders: Vec<Own>,
    #[serde(default)]
    lists: Vec<Listed>,
}

#[derive(Debug, Deserialize)]
struct Own {
    cylinder: u32,
    #[serde(default)]
    fingerprint: String,
}

#[derive(Debug, Deserialize)]
struct Listed {
    file: String,
    #[serde(default)]
    sha256: String,
}

/// The card to staple in, where a plan was made again from a record and something of the one before is void; else
/// nothing.
#[must_use]
pub fn change_card(before: &str, planning: &Planning, plan: &Plan, t: &Terminal) -> String {
    let Ok(before) = serde_json::from_str::<Before>(before) else { return String::new() };
    let last = planning.job.log.entries.last().map_or(0, |e| e.line);
    if before.job != plan.job || before.fingerprint == plan.fingerprint || last == 0 {
        return String::new();
    }
    let was = |n: u32| before.cylinders.iter().find(|c| c.cylinder == n).map(|c| c.fingerprint.as_str());
    let (good, void): (Vec<&Cylinder>, Vec<&Cylinder>) =
        plan.cylinders.iter().partition(|c| was(c.cylinder) == Some(c.fingerprint.as_str()));
    let of = format!("job {}, the record to its line {last}", plain(&plan.job, 30));
    let mut text = format!("\n{}", t.wrapped("CHANGE CARD ", &of, 2));
    for cylinder in &void {
        let was = was(cylinder.cylinder).filter(|w| !w.is_empty()).map_or("none", |w| w);
        let head = format!(
            "  cylinder {}: {} in place of {}:",
            cylinder.cylinder,
            grouped(&cylinder.fingerprint),
            grouped(was)
        );
        text.push_str(&t.wrapped(&head, &now(plan, cylinder, t), 4));
    }
    let sum = |file: &str| plan.lists.iter().find(|l| l.file == file).map(|l| l.sha256.as_str());
    let (stay, gone): (Vec<&Listed>, Vec<&Listed>) =
        before.lists.iter().partition(|l| sum(&l.file) == Some(l.sha256.as_str()));
    let names = |lists: &[&Listed]| lists.iter().map(|l| plain(&l.file, 60)).collect::<Vec<_>>().join(", ");
    let numbers = |cylinders: &[&Cylinder]| {
        let one = |c: &&Cylinder| format!("{} ({})", c.cylinder, grouped(&c.fingerprint));
        cylinders.iter().map(one).collect::<Vec<_>>().join(", ")
    };
    for (what, rest) in [
        ("  VOID, put away: lists", names(&gone)),
        ("  good as they are: cylinders", numbers(&good)),
        ("  good as they are: lists", names(&stay)),
    ] {
        if !rest.is_empty() {
            text.push_str(&t.wrapped(what, &rest, 4));
        }
    }
    text
}

/// "1234-5678-9abc".
fn grouped(digits: &str) -> String {
    let digits: Vec<char> = plain(digits, 12).chars().collect();
    digits.chunks(4).map(|four| four.iter().collect::<String>()).collect::<Vec<_>>().join("-")
}

/// What is left to do on a cylinder, and what holds it.
fn now(plan: &Plan, cylinder: &Cylinder, t: &Terminal) -> String {
    let steps: Vec<u32> =
        plan.passes.iter().filter(|p| p.cylinder == cylinder.cylinder).map(|p| p.step).collect();
    let left = match (steps.first(), steps.last()) {
        (Some(first), Some(last)) if first != last => format!("steps {first} to {last} are left"),
        (Some(only), _) => format!("step {only} is left"),
        _ => "nothing is left to do, or nothing may be done".into(),
    };
    let said =
        plan.findings.iter().filter(|f| f.subject.is_cylinder(cylinder.cylinder) && f.code != "record");
    let said: Vec<String> = said.map(|f| t.say(&f.text)).collect();
    let verdict = if cylinder.verdict == Verdict::Go {
        String::new()
    } else {
        format!("{}; ", cylinder.verdict.word())
    };
    if said.is_empty() { format!("{verdict}{left}") } else { format!("{verdict}{left}. {}", said.join(". ")) }
}
