//! The shop lead's page: what is not go first, then where the bores go, then the sleeve.

pub(super) mod findings;
mod sleeves;
pub(super) mod tightest;

use borewright_planner::Planning;
use borewright_planner::job::Aim;
use borewright_planner::job::words;
use borewright_planner::plan::{Cylinder, LimitResult, Plan, Verdict};
use borewright_planner::read::fault::plain;

use super::table::{Column, Side, across, table};
use super::{Terminal, mark, short};
use crate::said::units::Digits;

/// Cylinders side by side in the table of limits, at most.
const ACROSS: usize = 8;

/// The verdict, the tightest limit and what to do next, then what is not go, where the bores go, every limit with its
/// margin, the candidate sleeves, and notes where those are asked for. `place` is the job as the command was given it.
#[must_use]
pub fn check_page(planning: &Planning, t: &Terminal, place: &str) -> String {
    let plan = &planning.plan;
    let mut page = head(planning, t);
    page.push_str(&tightest::tightest(plan, t));
    page.push_str(&tightest::next(plan, t, place));
    page.push_str(&aim(planning, t));
    findings::all_not_go(plan, t, &mut page);
    positions(planning, t, &mut page);
    limits(plan, t, &mut page);
    sleeves::sleeves(planning, t, &mut page);
    findings::to_know(plan, t, &mut page);
    page.push_str(&t.untold(findings::notes(plan).len()));
    page
}

fn head(planning: &Planning, t: &Terminal) -> String {
    let (job, plan) = (&planning.job, &planning.plan);
    let title = format!(
        "job {}, {}, plan {}, {}",
        plain(&job.number, 40),
        plain(&job.block.name, 40),
        short(&plan.fingerprint),
        t.figures()
    );
    t.wrapped(&format!("{}:", mark(plan.verdict).to_uppercase()), &title, 2)
}

fn aim(planning: &Planning, t: &Terminal) -> String {
    let aim = match planning.job.aim {
        Aim::Journal => "true to the journal axis",
        Aim::Parent => "on the bores that are there",
    };
    t.wrapped("aim:", &format!("{aim}; {}", pattern(&planning.plan, t)), 2)
}

/// What the displacements look like, in a sentence.
fn pattern(plan: &Plan, t: &Terminal) -> String {
    use borewright_planner::plan::Pattern;

    let shifts = plan.banks.iter().map(|b| {
        let [x, y] = [b.shift.x, b.shift.y].map(|mm| t.signed(mm, Digits::Fine));
        format!("{} x {x} y {y}", plain(&b.bank, 30))
    });
    let shifts: Vec<String> = shifts.collect();
    let words = match plan.as_bored.pattern {
        Pattern::WithinMeasuring => "the old bores stand true within measuring",
        Pattern::Together => "the old bores stand off together, the way a fixture error looks",
        Pattern::EachItsOwn => "the old bores stand off each its own way",
    };
    format!("{words} (mean of all circles read: {})", shifts.join("; "))
}

fn positions(planning: &Planning, t: &Terminal, page: &mut String) {
    let columns: [Column<'_>; 6] = [
        ("cyl", Side::Right),
        ("bank", Side::Left),
        ("was off\ntrue", Side::Right),
        ("moves", Side::Right),
        ("planned\noff", Side::Right),
        ("verdict", Side::Left),
    ];
    let row = |c: &Cylinder| {
        let off = (c.planned.x - c.true_position.x).hypot(c.planned.y - c.true_position.y);
        let [was, moves, off] =
            [c.off_true.distance, c.shift.distance, off].map(|mm| t.cell(mm, Digits::Fine));
        vec![c.cylinder.to_string(), plain(&c.bank, 60), was, moves, off, mark(c.verdict).to_owned()]
    };
    let rows: Vec<Vec<String>> = planning.plan.cylinders.iter().map(row).collect();
    page.push('\n');
    page.push_str(&table(t, 1, &columns, &rows));
    page.push('\n');
    page.push_str(&findings::reasons(&planning.plan, t));
}

/// Margins by limit and cylinder; a star where held, two where stopped.
fn limits(plan: &Plan, t: &Terminal, page: &mut String) {
    let text = format!("margin beyond each limit, {} (* hold, ** stop), and its u", t.units.name());
    page.push('\n');
    page.push_str(&t.wrapped("", &text, 2));
    let (own, name) = (cells(plan, t), plan.cylinders.iter().flat_map(names).map(spoken));
    let each = own
        .iter()
        .flatten()
        .flat_map(|cell| cell.split('\n'))
        .map(|part| part.chars().count())
        .max()
        .unwrap_or(0);
    let before = name.map(|n| n.chars().count()).max().unwrap_or(0) + 4 + each;
    let most = across(t, before, each).min(ACROSS);
    // Even shares: nine cylinders are five and four, never eight and one.
    let parts = plan.cylinders.len().div_ceil(most).max(1);
    for cylinders in plan.cylinders.chunks(plan.cylinders.len().div_ceil(parts).max(1)) {
        let numbers: Vec<String> = cylinders.iter().map(|c| format!("{}  ", c.cylinder)).collect();
        let mut columns: Vec<Column<'_>> = vec![("cylinder", Side::Left)];
        columns.extend(numbers.iter().map(|n| (n.as_str(), Side::Right)));
        columns.push(("", Side::Right));
        let rows = names_of(cylinders).into_iter().map(|limit| {
            let mut row = vec![spoken(limit)];
            row.extend(cylinders.iter().map(|c| margin(c, limit.0, t)));
            let u = cylinders.iter().filter_map(|c| worst(c, limit.0)).map(|w| w.1).fold(0.0, f64::max);
            row.push(format!("u {}", t.cell(u, Digits::Fine).replace(" (", "\n(")));
            row
        });
        page.push_str(&table(t, 0, &columns, &rows.collect::<Vec<_>>()));
    }
    if let Some((cylinder, limit)) = least_sure(plan) {
        let text = format!(
            "{} of cylinder {cylinder}, not kept {} by the measuring alone; a bank's bores share the errors of its set-up, so \
             such figures are not to be multiplied",
            words::limit(limit.limit),
            words::odds(limit.p)
        );
        page.push_str(&t.wrapped("least sure:", &text, 2));
    }
}

/// Every cell of the table, for their widths.
fn cells(plan: &Plan, t: &Terminal) -> Vec<Vec<String>> {
    plan.cylinders.iter().map(|c| names(c).into_iter().map(|l| margin(c, l.0, t)).collect()).collect()
}

/// The least margin of a limit with its star.
fn margin(c: &Cylinder, limit: &str, t: &Terminal) -> String {
    worst(c, limit).map_or_else(
        || "-  ".to_owned(),
        |(margin, _, verdict)| {
            let (cell, star) = (t.cell(margin, Digits::Fine), star(verdict));
            // A second unit stands below the first, so that more bores stand beside each other.
            match cell.split_once(" (") {
                Some((first, second)) => format!("{first}{star:<2}\n({second}  "),
                None => format!("{cell}{star:<2}"),
            }
        },
    )
}

/// A limit's name, and whether it is told only.
fn spoken((limit, told): (&str, bool)) -> String {
    let name = words::limit(limit);
    if told { format!("{name} (told)") } else { name }
}

/// The limit that is kept least surely, where it is worth a word: more than one in ten thousand.
fn least_sure(plan: &Plan) -> Option<(u32, &LimitResult)> {
    const WORTH_A_WORD: f64 = 1e-4;
    let all = plan.cylinders.iter().flat_map(|c| c.limits.iter().map(move |l| (c.cylinder, l)));
    all.filter(|(_, l)| !l.told_only && 1.0 - l.p > WORTH_A_WORD).min_by(|a, b| a.1.p.total_cmp(&b.1.p))
}

/// A cylinder's limits, each once, and whether it is told only.
fn names(c: &Cylinder) -> Vec<(&'static str, bool)> {
    names_of(std::slice::from_ref(c))
}

fn names_of(cylinders: &[Cylinder]) -> Vec<(&'static str, bool)> {
    let mut names: Vec<(&'static str, bool)> = Vec::new();
    for limit in cylinders.iter().flat_map(|c| &c.limits) {
        match names.iter_mut().find(|(name, _)| *name == limit.limit) {
            Some((_, told)) => *told |= limit.told_only,
            None => names.push((limit.limit, limit.told_only)),
        }
    }
    names
}

/// Least margin, its u, and the worst verdict of one limit.
fn worst(c: &Cylinder, limit: &str) -> Option<(f64, f64, Verdict)> {
    let of_limit = || c.limits.iter().filter(|l| l.limit == limit);
    let least = of_limit().min_by(|a, b| a.margin.total_cmp(&b.margin))?;
    // What is told only holds nothing.
    let verdict = of_limit().filter(|l| !l.told_only).map(|l| l.verdict).max().unwrap_or(Verdict::Go);
    Some((least.margin, least.u, verdict))
}

/// A margin's mark.
fn star(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Go => "",
        Verdict::Hold => "*",
        Verdict::Stop => "**",
    }
}

#[cfg(test)]
mod tests;
