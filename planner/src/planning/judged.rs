//! What is decided of a job, and what speaks against it: every finding is heard here, and holds what it concerns.

use borewright_geometry::clock::distance_mm;

use super::Begun;
use super::begun::left_alone;
use crate::choose::{self, Decision};
use crate::job::Job;
use crate::limits;
use crate::machine;
use crate::passes::{self, Missing, Schedule};
use crate::place::Seated;
use crate::plan::{Finding, Prior, Subject, Verdict};
use crate::survey::{self, PlanError, Survey};

/// What is decided of a job: where its bores go, by which passes, and what speaks against it.
#[derive(Debug)]
pub(super) struct Judged {
    pub(super) decision: Decision,
    pub(super) schedule: Schedule,
    pub(super) findings: Vec<Finding>,
}

impl Judged {
    /// The cylinders that may be cut.
    pub(super) fn cleared(&self, survey: &Survey, released: bool) -> Vec<u32> {
        // A stop of the datum itself stops every cylinder; a hold of it waits for a release.
        let datum = survey.findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Go);
        let lets = |verdict| verdict == Verdict::Go || (verdict == Verdict::Hold && released);
        let bores = self.decision.positions.bores.iter();
        bores.filter(|b| lets(b.verdict) && lets(datum)).map(|b| b.site.cylinder).collect()
    }

    /// Takes the places of all cylinders but these out of their reasons, and out of the findings that say the same.
    pub(super) fn withhold(&mut self, may_cut: &[u32]) {
        for bore in &mut self.decision.positions.bores {
            if may_cut.contains(&bore.site.cylinder) {
                continue;
            }
            let told = bore.why.own().to_string();
            bore.why.withhold();
            let own = |f: &&mut Finding| f.subject.is_cylinder(bore.site.cylinder) && f.text == *told;
            for finding in self.findings.iter_mut().filter(own) {
                finding.text = bore.why.own();
            }
        }
    }
}

/// Decides on a job that was surveyed.
pub(super) fn judge(
    job: &Job,
    survey: &Survey,
    prior: Option<&Prior>,
    begun: Option<Begun<'_>>,
) -> Result<Judged, PlanError> {
    let mut decision = choose::choose(job, survey).ok_or(PlanError::NothingMeasured)?;
    let mut suspicions = survey.suspicions.clone();
    let cut_at = |cylinder, depth| decision.positions.cut_mm(cylinder, depth);
    suspicions.extend(survey::witness_suspicions(&survey::witness(job, survey, &cut_at)));
    decision.doubt(&suspicions);
    let off = |b: &Seated| distance_mm(b.planned_mm, b.true_mm);
    let moved = decision.positions.bores.iter().map(|b| (b.site.cylinder, off(b))).collect();
    let chosen = decision.findings.clone();
    let mut heard = Heard { job, decision, findings: Vec::new() };
    // A hold of the datum holds every bore: `Judged::cleared`.
    heard.take(survey.findings.clone(), |_| Holds::NoBore);
    // `doubt` held their bores.
    heard.take(suspicions.iter().map(survey::Suspicion::finding), |_| Holds::NoBore);
    // What the plate does to a bore is the lead's to decide before it is cut.
    let plates = survey::plate::torque_plate(job, survey);
    heard.take(plates.iter().flat_map(survey::plate::findings), |_| Holds::ItsBores);
    // A block unlike its family may have been misread, and is held until it was read again.
    heard.take(prior.map(Prior::findings).unwrap_or_default(), |_| Holds::ItsBores);
    // A bore that nobody measured has no place that could be held.
    heard.take(unmeasured(job, survey), |_| Holds::NoBore);
    // Notes on what nobody read again, and a hold where other readings deny it.
    let told = |f: &Finding| if f.verdict == Verdict::Go { Holds::NoBore } else { Holds::ItsBores };
    heard.take(survey::few::findings(job, survey, &moved), told);
    heard.take(limits::position_untold(job, &moved), |_| Holds::ItsBores);
    // `choose` held theirs.
    heard.take(chosen, |_| Holds::NoBore);
    let mut schedule = passes::stage(job, survey, &heard.decision.positions, &heard.decision.fit);
    schedule.findings.extend(machine::reach(job, &schedule.passes));
    // A load, a mandrel or a clamp in the way holds every bore of its bank; a stage that cannot be made leaves the
    // stages before it.
    let told = |f: &Finding| f.verdict == Verdict::Go || Missing::is(f);
    heard.take(schedule.findings.clone(), |f| if told(f) { Holds::NoBore } else { Holds::ItsBores });
    if let Some(Begun { whole, done }) = begun {
        // Heard after the work is staged: a bore that its record stops changes no step of the others. Told behind the survey's.
        let rest = heard.findings.split_off(survey.findings.len());
        // A note on the record as a whole concerns no bore; a hold may concern any.
        let noted = |f: &Finding| f.verdict == Verdict::Go && matches!(f.subject, Subject::Whole(_));
        heard.take(done.findings.clone(), |f| if noted(f) { Holds::NoBore } else { Holds::ItsBores });
        heard.findings.extend(rest);
        left_alone(&mut schedule, &whole.staged.passes, job);
    }
    let Heard { decision, findings, .. } = heard;
    Ok(Judged { decision, schedule, findings })
}

/// What a finding does to bores, beside being told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Holds {
    /// Every bore that it concerns comes to its verdict.
    ItsBores,
    /// Nothing here: it is a note, or its bores are held elsewhere.
    NoBore,
}

/// The decision while findings are heard: the only way by which one is told, so that none is told and forgot to hold.
struct Heard<'a> {
    job: &'a Job,
    decision: Decision,
    findings: Vec<Finding>,
}

impl Heard<'_> {
    fn take(&mut self, found: impl IntoIterator<Item = Finding>, holds: impl Fn(&Finding) -> Holds) {
        for finding in found {
            if holds(&finding) == Holds::ItsBores {
                self.decision.hold(self.job, &finding);
            }
            self.findings.push(finding);
        }
    }
}

/// Cylinders that nobody measured are a hold: their neighbours' bridges are not judged.
fn unmeasured(job: &Job, survey: &Survey) -> Vec<Finding> {
    let sites = job.block.banks.iter().flat_map(|b| &b.sites);
    sites
        .filter(|s| !survey.cylinders.contains_key(&s.cylinder))
        .map(|s| Finding {
            code: "not_measured",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(s.cylinder),
            text: "not measured: it is not planned, and no bridge or flange gap towards it is judged".into(),
        })
        .collect()
}
