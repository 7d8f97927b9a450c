//! The choice among candidate sleeves, and each candidate's result.

use crate::job::Job;
use crate::job::words;
use crate::limits;
use crate::place::Positions;
use crate::plan::SleeveFit;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Finding, SleeveChoice, Subject, Verdict, WorstMargin};
use crate::read::fault::plain;
use crate::say;

/// A sleeve, where the bores would stand with it, and how it would fit there.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub(super) positions: Positions,
    pub(super) fit: SleeveFit,
}

impl Candidate {
    fn verdict(&self) -> Verdict {
        self.positions.verdict().max(self.fit.verdict())
    }
}

/// The smallest pocket (largest diameter below the flange) that ends at go, then at hold, then the largest.
pub(super) fn choose(candidates: &[Candidate]) -> Option<usize> {
    let largest = |i: &usize| candidates[*i].positions.pocket.largest_mm();
    let smallest_at = |verdict: Verdict| {
        (0..candidates.len())
            .filter(|i| candidates[*i].verdict() == verdict)
            .min_by(|a, b| largest(a).total_cmp(&largest(b)))
    };
    smallest_at(Verdict::Go)
        .or_else(|| smallest_at(Verdict::Hold))
        .or_else(|| (0..candidates.len()).max_by(|a, b| largest(a).total_cmp(&largest(b))))
}

/// The hold of a chosen candidate of which no sleeve was measured, while sleeves of others were: the shop may not
/// have the one planned.
pub(super) fn unmeasured(job: &Job, chosen: usize) -> Option<Finding> {
    let first = job.measured.first()?;
    if job.measured.iter().any(|m| m.sleeve == chosen) {
        return None;
    }
    Some(Finding {
        code: "sleeve_unmeasured",
        verdict: Verdict::Hold,
        subject: Subject::whole("sleeves"),
        text: say!(
            "{} is planned, and no sleeve of it was measured: {} were, all of others, such as {} of {}. Measure the sleeves that go in, \
             or leave the candidate out",
            plain(&job.sleeves[chosen].name, 40),
            job.measured.len(),
            plain(&first.number, 30),
            job.sleeves.get(first.sleeve).map_or_else(String::new, |s| plain(&s.name, 40))
        ),
    })
}

/// Each candidate's result, and why it was chosen or not.
pub(super) fn describe(job: &Job, candidates: &[Candidate], chosen: usize) -> Vec<SleeveChoice> {
    let alone = candidates.len() == 1;
    candidates
        .iter()
        .enumerate()
        .map(|(i, candidate)| {
            let verdict = candidate.verdict();
            let worst = worst(candidate);
            let why = if i == chosen {
                match (alone, verdict) {
                    (true, Verdict::Go) => "the only candidate; it ends at go".into(),
                    (true, _) => say!("the only candidate; it ends at {}: {}", verdict.word(), worst),
                    (false, Verdict::Go) => "the smallest pocket that ends at go".into(),
                    (false, Verdict::Hold) => {
                        say!("no candidate ends at go; the smallest pocket at hold: {}", worst)
                    }
                    (false, Verdict::Stop) => {
                        say!("every candidate ends at stop; the largest pocket: {}", worst)
                    }
                }
            } else if verdict > candidates[chosen].verdict() {
                say!("ends at {}: {}", verdict.word(), worst)
            } else if verdict == Verdict::Stop {
                say!("ends at stop too, with a smaller pocket: {}", worst)
            } else {
                say!("ends at {} too, with a larger pocket to cut", verdict.word())
            };
            SleeveChoice {
                sleeve: job.sleeves[candidate.positions.sleeve].name.clone(),
                chosen: i == chosen,
                verdict,
                largest_pocket: candidate.positions.pocket.largest_mm(),
                why,
                worst: worst_margin(candidate),
                fit: candidate.fit.clone(),
            }
        })
        .collect()
}

/// The worst limit of any cylinder, for a table of candidates. Position and squareness are the same with every
/// sleeve, so they are told only where no limit on metal stands as badly.
fn worst_margin(candidate: &Candidate) -> Option<WorstMargin> {
    let bores = candidate.positions.bores.iter();
    let all =
        bores.flat_map(|b| b.limits.iter().map(move |l| (b.site.cylinder, l))).filter(|(_, l)| !l.told_only);
    let metal = |limit: &str| limits::stated(limit).is_some_and(|stated| stated.of_metal);
    let worst = all.min_by(|(_, a), (_, b)| {
        let alike = b.verdict.cmp(&a.verdict).then(metal(b.limit).cmp(&metal(a.limit)));
        alike.then(a.margin.total_cmp(&b.margin))
    });
    worst.map(|(cylinder, l)| WorstMargin {
        cylinder,
        limit: l.limit,
        margin: l.margin,
        u: l.u,
        verdict: l.verdict,
    })
}

/// What holds the worst cylinder: its worst limit, or what was not read of it where no limit stands as badly.
fn worst(candidate: &Candidate) -> Sentence {
    if let Some(limit) = candidate.fit.worst().filter(|l| l.verdict > candidate.positions.verdict()) {
        return limit.sentence();
    }
    let positions = &candidate.positions;
    let bores = || positions.bores.iter().filter(|b| b.verdict == positions.verdict());
    let worst = bores()
        .flat_map(|b| b.limits.iter().map(move |l| (b, l)))
        .filter(|(_, l)| !l.told_only)
        .max_by(|a, b| a.1.verdict.cmp(&b.1.verdict).then(b.1.margin.total_cmp(&a.1.margin)));
    let unread = bores().find_map(|b| Some((b.site.cylinder, b.unread.first()?)));
    match (worst, unread) {
        (Some((bore, limit)), unread) if limit.verdict == bore.verdict || unread.is_none() => say!(
            "cylinder {}, {} ({}), margin {}",
            bore.site.cylinder,
            words::limit(limit.limit),
            plain(&limit.feature, 50),
            mm(limit.margin, 3)
        ),
        (_, Some((cylinder, lack))) => say!("cylinder {}, {}", cylinder, lack.short),
        (_, None) => Sentence::new(),
    }
}
