//! The shop lead's page: what is not go first, then where the bores go, then the sleeve.

mod findings;
mod sleeves;

use std::fmt::Write;

use borewright_planner::Planning;
use borewright_planner::job::Aim;
use borewright_planner::job::words;
use borewright_planner::plan::{Cylinder, LimitResult, Plan, Verdict};
use borewright_planner::read::fault::plain;

use super::{COLUMNS, mark, short, wrapped};

/// Cylinders side by side in the table of limits.
const ACROSS: usize = 6;

/// What is not go, every limit with its margin, each bore's binding limit in words, the candidate sleeves, and the
/// verdict.
#[must_use]
pub fn check_page(planning: &Planning) -> String {
    let plan = &planning.plan;
    let mut page = head(planning);
    findings::not_go(plan, &mut page);
    positions(planning, &mut page);
    limits(plan, &mut page);
    sleeves::sleeves(planning, &mut page);
    findings::to_know(plan, &mut page);
    page
}

fn head(planning: &Planning) -> String {
    let (job, plan) = (&planning.job, &planning.plan);
    let title = format!("JOB {}  {}", plain(&job.number, 24), plain(&job.block.name, 30));
    let verdict = mark(plan.verdict).to_uppercase();
    let gap = COLUMNS.saturating_sub(title.chars().count() + verdict.len()).max(2);
    let mut page = format!("{title}{:gap$}{verdict}\n", "");
    let aim = match job.aim {
        Aim::Journal => "true to the journal axis",
        Aim::Parent => "on the bores that are there",
    };
    page.push_str(&wrapped("aim:", &format!("{aim}; {}", pattern(plan)), 5));
    let _ = writeln!(page, "fingerprint {}   all figures mm", short(&plan.fingerprint));
    page
}

/// What the displacements look like, in a sentence.
fn pattern(plan: &Plan) -> String {
    use borewright_planner::plan::Pattern;

    let shifts: Vec<String> = plan
        .banks
        .iter()
        .map(|b| format!("{} x {:+.3} y {:+.3}", plain(&b.bank, 16), b.shift.x, b.shift.y))
        .collect();
    let words = match plan.as_bored.pattern {
        Pattern::WithinMeasuring => "the old bores stand true within measuring",
        Pattern::Together => "the old bores stand off together, the way a fixture error looks",
        Pattern::EachItsOwn => "the old bores stand off each its own way",
    };
    format!("{words} ({})", shifts.join("; "))
}

fn positions(planning: &Planning, page: &mut String) {
    page.push_str("\n cyl bank        was off true   moves   planned off   verdict\n");
    for c in &planning.plan.cylinders {
        let off = (c.planned.x - c.true_position.x).hypot(c.planned.y - c.true_position.y);
        let _ = writeln!(
            page,
            "{:>4} {:<10} {:>13.3} {:>7.3} {:>13.3}   {}",
            c.cylinder,
            shown(&c.bank, 10),
            c.off_true.distance,
            c.shift.distance,
            off,
            mark(c.verdict)
        );
    }
    page.push('\n');
    for c in &planning.plan.cylinders {
        let first = format!("{:>4}", c.cylinder);
        match findings::beyond(&planning.plan, c).as_deref() {
            None => page.push_str(&wrapped(&first, &c.why.to_string(), 5)),
            Some("") => page.push_str(&wrapped(&first, "as said above", 5)),
            Some(rest) => page.push_str(&wrapped(&first, &format!("as said above{rest}"), 5)),
        }
    }
}

/// Margins by limit and cylinder; a star where held, two where stopped.
fn limits(plan: &Plan, page: &mut String) {
    page.push_str("\nmargin beyond each limit (* hold, ** stop), and its standard uncertainty u\n");
    for cylinders in plan.cylinders.chunks(ACROSS) {
        let _ = write!(page, "{:<17}", "cylinder");
        for c in cylinders {
            let _ = write!(page, "{:>7}  ", c.cylinder);
        }
        page.push('\n');
        for limit in names(cylinders) {
            let told = cylinders.iter().flat_map(|c| &c.limits).any(|l| l.limit == limit && l.told_only);
            let name = words::limit(limit);
            let name = if told { format!("{name} (told)") } else { name.to_owned() };
            let _ = write!(page, "{name:<17}");
            for c in cylinders {
                match worst(c, limit) {
                    Some((margin, _, verdict)) => {
                        let _ = write!(page, "{margin:>7.3}{:<2}", star(verdict));
                    }
                    None => page.push_str("      -  "),
                }
            }
            let u = cylinders.iter().filter_map(|c| worst(c, limit)).map(|w| w.1).fold(0.0, f64::max);
            let _ = writeln!(page, "u {u:.3}");
        }
    }
    if let Some((cylinder, limit)) = least_sure(plan) {
        let text = format!(
            "{} of cylinder {cylinder}, not kept {} by the measuring alone; a bank's bores share the errors of its set-up, so \
             such figures are not to be multiplied",
            words::limit(limit.limit),
            words::odds(limit.p)
        );
        page.push_str(&wrapped("least sure:", &text, 5));
    }
}

/// The limit that is kept least surely, where it is worth a word: more than one in ten thousand.
fn least_sure(plan: &Plan) -> Option<(u32, &LimitResult)> {
    const WORTH_A_WORD: f64 = 1e-4;
    let all = plan.cylinders.iter().flat_map(|c| c.limits.iter().map(move |l| (c.cylinder, l)));
    all.filter(|(_, l)| !l.told_only && 1.0 - l.p > WORTH_A_WORD).min_by(|a, b| a.1.p.total_cmp(&b.1.p))
}

fn names(cylinders: &[Cylinder]) -> Vec<&'static str> {
    let mut names = Vec::new();
    for limit in cylinders.iter().flat_map(|c| &c.limits) {
        if !names.contains(&limit.limit) {
            names.push(limit.limit);
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

/// At most `most` characters, with an ellipsis where cut.
fn shown(text: &str, most: usize) -> String {
    if text.chars().count() <= most { plain(text, most) } else { plain(text, most.saturating_sub(1)) }
}

#[cfg(test)]
mod tests;
