//! What is not at go, each cause once: of several bores that say the same, and of a bank that is off alike as a whole.

use borewright_planner::plan::{Cylinder, Pattern, Plan, Subject, Verdict, cylinder_words};

use crate::OutputError;
use crate::said::findings::{Alike, Told, alike, doubts_first, not_go, once};
use crate::said::short;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// One cause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cause {
    /// Whether it doubts what was read, which explains the others.
    pub(super) doubts: bool,
    pub(super) verdict: Verdict,
    /// What it is of.
    pub(super) subject: String,
    /// In a sentence or two.
    pub(super) text: String,
    /// The finding told by it, word for word.
    pub(super) told: String,
}

/// Findings that say of a bore that it does not go where it belongs: what a whole bank shares in them is the set-up's.
const OF_PLACE: [&str; 5] =
    ["nothing_fits", "outside_limit", "not_proven", "does_not_clean_up", "no_metal_left"];

/// What several bores have in common, told by the worst of them.
fn one_cause(kind: &Alike<'_>, worst_first: &[u32]) -> Cause {
    let subjects = kind.subjects();
    let place = |told: &&Told<'_>| {
        let own = |n: &u32| told.subjects().iter().any(|s| s.is_cylinder(*n));
        worst_first.iter().position(own).unwrap_or(usize::MAX)
    };
    let Told { verdict, text: said, .. } = kind.all().min_by_key(place).unwrap_or(&kind.first);
    let subject = match Subject::bores(subjects.iter().copied()) {
        Some(mut bores) if bores.len() > 1 => {
            bores.sort_unstable();
            cylinder_words(&bores)
        }
        _ => subjects.iter().map(|s| short::subject(s, 80)).collect::<Vec<_>>().join(", "),
    };
    let worst = worst_first.iter().find(|n| subjects.iter().any(|s| s.is_cylinder(**n)));
    let text = match worst.filter(|_| !kind.others.is_empty()) {
        Some(own) => format!("The worst, cylinder {own}: {said}"),
        None => said.clone(),
    };
    Cause {
        doubts: kind.doubts(),
        verdict: *verdict,
        subject: short::one_line(&subject, 160),
        text,
        told: said.clone(),
    }
}

impl Sheet<'_> {
    /// What doubts the readings first, since the others may follow from it, as on the terminal; then the gravest.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn causes(&self) -> Result<Vec<Cause>, OutputError> {
        let mut told = once(&not_go(self.plan), self.units);
        let mut causes = Vec::new();
        for bank in 0..self.planning.job.block.banks.len() {
            causes.extend(self.of_bank(bank, &mut told)?);
        }
        let worst = self.shortest_first();
        causes.extend(alike(told).iter().map(|kind| one_cause(kind, &worst)));
        causes.sort_by_key(|c| doubts_first(c.doubts, c.verdict));
        Ok(causes)
    }

    /// Every bore, the one that is shortest of metal first.
    fn shortest_first(&self) -> Vec<u32> {
        let least = |c: &Cylinder| {
            c.limits.iter().filter(|l| !l.told_only).map(|l| l.margin).fold(f64::INFINITY, f64::min)
        };
        let mut bores: Vec<&Cylinder> = self.plan.cylinders.iter().collect();
        bores.sort_by(|a, b| least(a).total_cmp(&least(b)));
        bores.into_iter().map(|c| c.cylinder).collect()
    }

    /// The findings of all bores of a bank that is off alike, taken out of the others and told as one.
    fn of_bank(&self, bank: usize, findings: &mut Vec<Told<'_>>) -> Result<Option<Cause>, OutputError> {
        let cylinders = self.cylinders(bank);
        if self.plan.as_bored.pattern != Pattern::Together || cylinders.len() < 2 {
            return Ok(None);
        }
        let own = |t: &Told<'_>| {
            t.bores().filter(|of| of.iter().all(|n| cylinders.iter().any(|c| c.cylinder == *n)))
        };
        let is_of_place = |t: &Told<'_>| OF_PLACE.contains(&t.code);
        let here: Vec<u32> = findings.iter().filter(|t| is_of_place(t)).filter_map(own).flatten().collect();
        let verdicts: Vec<Verdict> =
            findings.iter().filter(|t| is_of_place(t) && own(t).is_some()).map(|t| t.verdict).collect();
        let Some(verdict) = verdicts.first().copied().filter(|v| verdicts.iter().all(|w| w == v)) else {
            return Ok(None);
        };
        if cylinders.iter().any(|c| !here.contains(&c.cylinder)) {
            return Ok(None);
        }
        let farthest = cylinders.iter().max_by(|a, b| a.off_true.distance.total_cmp(&b.off_true.distance));
        let worst = farthest.map_or(0, |c| c.cylinder);
        let said = findings.iter().find(|t| is_of_place(t) && own(t).is_some_and(|of| of.contains(&worst)));
        let said = said.map(|t| t.text.clone()).unwrap_or_default();
        let name = &self.planning.job.bank(bank).name;
        let off = match shift(self.plan, name) {
            Some([x, y]) => {
                let [x, y] =
                    [self.units.length(x, Digits::Middling)?, self.units.length(y, Digits::Middling)?];
                self.sides(bank).displacement(x, y)
            }
            None => String::new(),
        };
        let all: Vec<u32> = cylinders.iter().map(|c| c.cylinder).collect();
        // Only what is printed here is said: the others keep their own lines below.
        let told = said.clone();
        findings.retain(|t| !(is_of_place(t) && own(t).is_some()));
        Ok(Some(Cause {
            doubts: false,
            verdict,
            subject: format!("{}, {}", short::bank(name), cylinder_words(&all)),
            text: format!(
                "The whole bank is off alike ({off}): index, included angle or fixture. Look there before at each bore. \
                 Farthest off, cylinder {worst}: {said}"
            ),
            told,
        }))
    }
}

/// The mean displacement of a bank, mm.
fn shift(plan: &Plan, name: &str) -> Option<[f64; 2]> {
    let banks = &plan.banks;
    banks.iter().find(|b| b.bank == name).map(|b| [b.shift.x, b.shift.y])
}
