//! What is not at go, each cause once: of several bores that say the same, and of a bank that is off alike as a whole.

use std::collections::BTreeMap;

use borewright_planner::plan::{Cylinder, Finding, Pattern, Plan, Subject, Verdict};
use borewright_planner::survey::is_suspicion;

use crate::OutputError;
use crate::said::alike::alike_but_figures;
use crate::said::short;
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, numbers};

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
    /// The findings told by it, word for word.
    pub(super) told: Vec<String>,
}

/// Findings that say of a bore that it does not go where it belongs: what a whole bank shares in them is the set-up's.
const OF_PLACE: [&str; 5] =
    ["nothing_fits", "outside_limit", "not_proven", "does_not_clean_up", "no_metal_left"];

/// A finding with what it is of.
struct Group<'a> {
    code: &'a str,
    verdict: Verdict,
    text: String,
    subjects: Vec<Subject>,
}

impl Group<'_> {
    /// Whether it says the same in other figures, of bores too.
    fn is_alike(&self, other: &Self) -> bool {
        let of_bores = |g: &Self| Subject::bores(&g.subjects).is_some();
        (self.code, self.verdict) == (other.code, other.verdict)
            && of_bores(self)
            && of_bores(other)
            && alike_but_figures(&self.text, &other.text)
    }
}

/// What several bores have in common, told by the worst of them.
fn one_cause(alike: Vec<Group<'_>>, worst_first: &[u32]) -> Cause {
    let place = |g: &Group<'_>| {
        let own = |n: &u32| g.subjects.iter().any(|s| s.is_cylinder(*n));
        worst_first.iter().position(own).unwrap_or(usize::MAX)
    };
    let subjects: Vec<Subject> = alike.iter().flat_map(|g| g.subjects.iter().cloned()).collect();
    let several = alike.len() > 1;
    let doubts = alike.iter().any(|g| is_suspicion(g.code));
    let worst = alike.into_iter().min_by_key(place);
    let (verdict, said) = worst.map_or((Verdict::Hold, String::new()), |g| (g.verdict, g.text));
    let subject = match Subject::bores(&subjects) {
        Some(mut bores) if bores.len() > 1 => {
            bores.sort_unstable();
            format!("cylinders {}", numbers(&bores))
        }
        _ => subjects.iter().map(|s| short::subject(s, 80)).collect::<Vec<_>>().join(", "),
    };
    let worst = worst_first.iter().find(|n| several && subjects.iter().any(|s| s.is_cylinder(**n)));
    let text = match worst {
        Some(own) => format!("The worst, cylinder {own}: {said}"),
        None => said.clone(),
    };
    Cause { doubts, verdict, subject: short::one_line(&subject, 160), told: vec![said], text }
}

impl Sheet<'_> {
    /// What doubts the readings first, since the others may follow from it, as on the terminal; then the gravest.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn causes(&self) -> Result<Vec<Cause>, OutputError> {
        let mut graver: Vec<&Finding> =
            self.plan.findings.iter().filter(|f| f.verdict != Verdict::Go).collect();
        graver.sort_by_key(|f| std::cmp::Reverse(f.verdict));
        let mut groups: Vec<Group<'_>> = Vec::new();
        let mut stands: BTreeMap<(Verdict, String), usize> = BTreeMap::new();
        for finding in graver {
            let text = self.units.say(&finding.text);
            let subject = finding.subject.clone();
            let at = *stands.entry((finding.verdict, text.clone())).or_insert(groups.len());
            match groups.get_mut(at) {
                Some(group) if !group.subjects.contains(&subject) => group.subjects.push(subject),
                Some(_) => {}
                None => groups.push(Group {
                    code: finding.code,
                    verdict: finding.verdict,
                    text,
                    subjects: vec![subject],
                }),
            }
        }
        let mut causes = Vec::new();
        for bank in 0..self.planning.job.block.banks.len() {
            causes.extend(self.of_bank(bank, &mut groups)?);
        }
        let worst = self.shortest_first();
        while !groups.is_empty() {
            let kind = groups.remove(0);
            let is_alike = |g: &mut Group<'_>| g.is_alike(&kind);
            let mut alike: Vec<Group<'_>> = groups.extract_if(.., is_alike).collect();
            alike.insert(0, kind);
            causes.push(one_cause(alike, &worst));
        }
        causes.sort_by_key(|c| (!c.doubts, std::cmp::Reverse(c.verdict)));
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
    fn of_bank(&self, bank: usize, groups: &mut Vec<Group<'_>>) -> Result<Option<Cause>, OutputError> {
        let cylinders = self.cylinders(bank);
        if self.plan.as_bored.pattern != Pattern::Together || cylinders.len() < 2 {
            return Ok(None);
        }
        let own = |g: &Group<'_>| {
            Subject::bores(&g.subjects)
                .filter(|of| of.iter().all(|n| cylinders.iter().any(|c| c.cylinder == *n)))
        };
        let is_of_place = |g: &Group<'_>| OF_PLACE.contains(&g.code);
        let here: Vec<u32> = groups.iter().filter(|g| is_of_place(g)).filter_map(own).flatten().collect();
        let verdicts: Vec<Verdict> =
            groups.iter().filter(|g| is_of_place(g) && own(g).is_some()).map(|g| g.verdict).collect();
        let Some(verdict) = verdicts.first().copied().filter(|v| verdicts.iter().all(|w| w == v)) else {
            return Ok(None);
        };
        if cylinders.iter().any(|c| !here.contains(&c.cylinder)) {
            return Ok(None);
        }
        let farthest = cylinders.iter().max_by(|a, b| a.off_true.distance.total_cmp(&b.off_true.distance));
        let worst = farthest.map_or(0, |c| c.cylinder);
        let said = groups.iter().find(|g| is_of_place(g) && own(g).is_some_and(|of| of.contains(&worst)));
        let said = said.map(|g| g.text.clone()).unwrap_or_default();
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
        let told = vec![said.clone()];
        groups.retain(|g| !(is_of_place(g) && own(g).is_some()));
        Ok(Some(Cause {
            doubts: false,
            verdict,
            subject: format!("{}, cylinders {}", short::bank(name), numbers(&all)),
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
