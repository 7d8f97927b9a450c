//! What a record of a job is found by.

use borewright_archive::Summary;
use borewright_planner::job::Job;

use super::Issued;

/// Words and figures of a job; lengths in mm. The verdict as the work stands, no better than the plan's, and why.
pub(super) fn of(job: &Job, issued: &Issued, (verdict, why): (&str, &str)) -> Summary {
    let mut summary = Summary { title: title(job), ..Summary::default() };
    summary.word("job", &job.number);
    summary.word("customer", job.customer.as_deref().unwrap_or_default().trim());
    summary.word("block", &job.block.name);
    summary.word("family", job.block.family.as_deref().unwrap_or_default());
    summary.word("machine", &job.machine.name);
    summary.word("verdict", verdict);
    summary.word("why", why);
    summary.word("fingerprint", &issued.plan.fingerprint);
    if let Some(release) = &issued.plan.release {
        summary.word("released", &release.who);
    }
    for cylinder in &issued.plan.cylinders {
        summary.word("sleeve", &cylinder.sleeve);
    }
    issued.plan.tools().for_each(|tool| summary.word("tool", tool));
    summary.figure("bore", job.finish.bore_mm);
    summary
}

fn title(job: &Job) -> String {
    match job.customer.as_deref().map(str::trim).filter(|c| !c.is_empty()) {
        Some(customer) => format!("{} {}, {customer}", job.number, job.block.name),
        None => format!("{} {}", job.number, job.block.name),
    }
}
