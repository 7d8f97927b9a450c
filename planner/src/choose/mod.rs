//! The decision on the sleeve: every candidate where it would stand and how it would fit there, the one chosen, and
//! why.

mod choice;

use rayon::prelude::*;

use crate::job::Job;
use crate::place::{self, Positions};
use crate::plan::SleeveFit;
use crate::plan::why::{Because, Of};
use crate::plan::{Finding, SleeveChoice, Verdict};
use crate::sleeve;
use crate::survey::{Survey, Suspicion};

use choice::Candidate;

/// What was decided.
#[derive(Debug, Clone)]
pub struct Decision {
    /// The positions with the chosen sleeve.
    pub positions: Positions,
    /// Every candidate, in the order of the job.
    pub choices: Vec<SleeveChoice>,
    /// What a reader must know.
    pub findings: Vec<Finding>,
    /// How the chosen sleeve fits.
    pub fit: SleeveFit,
}

impl Decision {
    /// The worst verdict of any cylinder.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.positions.verdict().max(self.fit.verdict())
    }

    /// Brings every bore that a finding concerns to its verdict.
    pub(crate) fn hold(&mut self, job: &Job, finding: &Finding) {
        for bore in &mut self.positions.bores {
            if finding.subject.concerns(bore.site.cylinder, &job.bank(bore.bank).name) {
                bore.verdict = bore.verdict.max(finding.verdict);
                bore.why.add(Of::Finding, finding.text.clone());
            }
        }
    }

    /// Holds the cylinders whose readings are in doubt, and only those.
    ///
    /// Called once the sleeve is chosen, since no sleeve mends a wrong reading.
    pub(crate) fn doubt(&mut self, suspicions: &[Suspicion]) {
        for bore in &mut self.positions.bores {
            let own = |s: &&Suspicion| s.verdict > Verdict::Go && s.cylinders.of(bore.site.cylinder);
            for suspicion in suspicions.iter().filter(own) {
                bore.verdict = bore.verdict.max(suspicion.verdict);
                let (text, finding) = (suspicion.likely.clone(), Some(suspicion.finding().text));
                bore.why.because.push(Because { of: Of::Doubt, text, finding });
            }
        }
    }
}

/// Chooses the sleeve, and with it the positions.
#[must_use]
pub fn choose(job: &Job, survey: &Survey) -> Option<Decision> {
    let mut candidates: Vec<Candidate> = (0..job.sleeves.len())
        .into_par_iter()
        .map(|sleeve| {
            let positions = place::solve(job, survey, sleeve);
            let fit = sleeve::assess(job, survey, &positions);
            Candidate { positions, fit }
        })
        .collect();
    // A pocket that is cut for one candidate is not cut again for another.
    let chosen = job.kept_sleeve.or_else(|| choice::choose(&candidates))?;
    let choices = choice::describe(job, &candidates, chosen);
    let Candidate { mut positions, fit } = candidates.swap_remove(chosen);
    let mut findings = place::findings(job, &mut positions);
    findings.extend(fit.findings(&job.sleeves[positions.sleeve]));
    let flange = job.sleeves[positions.sleeve].flange();
    let seat = fit.protrusion.iter().zip(flange);
    let leaning: Vec<Finding> = seat.flat_map(|(p, flange)| sleeve::leaning(job, &p.decks, flange)).collect();
    findings.extend(leaning.iter().cloned());
    // No bore is cut for a sleeve that will not stay, seal or live.
    if let Some(limit) = fit.worst() {
        for bore in &mut positions.bores {
            bore.verdict = bore.verdict.max(limit.verdict);
            bore.why.add(Of::Sleeve, limit.sentence());
        }
    }
    let mut decision = Decision { positions, choices, findings, fit };
    for finding in leaning.iter().filter(|f| f.verdict > Verdict::Go) {
        decision.hold(job, finding);
    }
    if let Some(finding) = choice::unmeasured(job, decision.positions.sleeve) {
        decision.hold(job, &finding);
        decision.findings.push(finding);
    }
    Some(decision)
}
