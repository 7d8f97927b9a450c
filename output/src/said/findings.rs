//! Findings as they are told: the same text once with all that it is said of, and what says the same in other figures as
//! one, whether a terminal or a card tells it.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use borewright_planner::plan::{Finding, Plan, Subject, Verdict};
use borewright_planner::survey::is_suspicion;

use super::alike::alike_but_figures;
use super::units::Units;

/// One text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Told<'a> {
    /// The code of the first finding that says it.
    pub(crate) code: &'a str,
    /// Its verdict.
    pub(crate) verdict: Verdict,
    /// In words.
    pub(crate) text: String,
    /// What it is said of, each at its finding's place among the others.
    said_of: BTreeMap<usize, &'a Subject>,
}

/// Texts that are alike but for their figures; one that is like no other stands alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Alike<'a> {
    /// The first of them.
    pub(crate) first: Told<'a>,
    /// The others, in the order that they came in.
    pub(crate) others: Vec<Told<'a>>,
}

/// The findings of a plan that are not at go: what doubts the readings first, since the others may follow from it, then the
/// gravest.
pub(crate) fn not_go(plan: &Plan) -> Vec<&Finding> {
    let mut found: Vec<&Finding> = plan.findings.iter().filter(|f| f.verdict != Verdict::Go).collect();
    found.sort_by_key(|f| doubts_first(is_suspicion(f.code), f.verdict));
    found
}

/// What that order sorts by.
pub(crate) fn doubts_first(doubts: bool, verdict: Verdict) -> impl Ord {
    (!doubts, Reverse(verdict))
}

/// Each text and verdict once, in the order of the first finding of each.
pub(crate) fn once<'a>(findings: &[&'a Finding], units: Units) -> Vec<Told<'a>> {
    let mut told: Vec<Told<'a>> = Vec::new();
    let mut stands: BTreeMap<(Verdict, String), usize> = BTreeMap::new();
    for (place, finding) in findings.iter().enumerate() {
        let text = units.say(&finding.text);
        let at = *stands.entry((finding.verdict, text.clone())).or_insert(told.len());
        let said_of = (place, &finding.subject);
        match told.get_mut(at) {
            Some(same) => {
                same.said_of.extend([said_of]);
            }
            None => told.push(Told {
                code: finding.code,
                verdict: finding.verdict,
                text,
                said_of: BTreeMap::from([said_of]),
            }),
        }
    }
    told
}

/// Bores that say the same in other figures together, in the order of the first of each.
pub(crate) fn alike(mut told: Vec<Told<'_>>) -> Vec<Alike<'_>> {
    let mut all = Vec::new();
    while !told.is_empty() {
        let first = told.remove(0);
        let others = told.extract_if(.., |other| first.is_alike(other)).collect();
        all.push(Alike { first, others });
    }
    all
}

impl<'a> Told<'a> {
    /// What it is said of, each once, in the order of the findings.
    pub(crate) fn subjects(&self) -> Vec<&'a Subject> {
        each_once(&self.said_of)
    }

    /// The cylinders that it is said of; none where it is said of anything but bores.
    pub(crate) fn bores(&self) -> Option<Vec<u32>> {
        Subject::bores(self.subjects())
    }

    /// Whether another says the same of bores in other figures.
    fn is_alike(&self, other: &Self) -> bool {
        (self.code, self.verdict) == (other.code, other.verdict)
            && alike_but_figures(&self.text, &other.text)
            && self.bores().is_some()
            && other.bores().is_some()
    }
}

impl<'a> Alike<'a> {
    /// All of them.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Told<'a>> {
        std::iter::once(&self.first).chain(&self.others)
    }

    /// What they are said of, each once, in the order of the findings.
    pub(crate) fn subjects(&self) -> Vec<&'a Subject> {
        each_once(&self.all().flat_map(|told| told.said_of.clone()).collect())
    }

    /// Whether it doubts what was read.
    pub(crate) fn doubts(&self) -> bool {
        self.all().any(|told| is_suspicion(told.code))
    }
}

fn each_once<'a>(said_of: &BTreeMap<usize, &'a Subject>) -> Vec<&'a Subject> {
    let mut once = Vec::new();
    for subject in said_of.values() {
        if !once.contains(subject) {
            once.push(*subject);
        }
    }
    once
}

#[cfg(test)]
mod tests {
    use borewright_planner::job::SheetUnits;

    use super::*;

    fn finding(code: &'static str, verdict: Verdict, subject: Subject, text: &str) -> Finding {
        Finding { code, verdict, subject, text: text.into() }
    }

    fn told(findings: &[Finding]) -> Vec<Told<'_>> {
        once(&findings.iter().collect::<Vec<_>>(), Units::of(SheetUnits::Mm))
    }

    #[test]
    fn the_same_text_is_told_once_of_all_that_it_is_said_of() {
        let of = |subject, text| finding("record", Verdict::Hold, subject, text);
        let said = [
            of(Subject::cylinder(3), "its wall is thin"),
            of(Subject::bank("left"), "nothing was read"),
            of(Subject::cylinder(1), "its wall is thin"),
            of(Subject::cylinder(3), "its wall is thin"),
        ];
        let told = told(&said);
        let texts: Vec<&str> = told.iter().map(|t| t.text.as_str()).collect();
        assert_eq!(texts, ["its wall is thin", "nothing was read"]);
        let bores: Vec<Option<Vec<u32>>> = told.iter().map(Told::bores).collect();
        assert_eq!(bores, [Some(vec![3, 1]), None]);
    }

    #[test]
    fn bores_that_say_the_same_in_other_figures_are_alike_and_banks_never_are() {
        let of = |subject, text| finding("outside_limit", Verdict::Hold, subject, text);
        let said = [
            of(Subject::cylinder(5), "short by 0.1 mm"),
            of(Subject::bank("left"), "short by 0.2 mm"),
            of(Subject::cylinder(1), "short by 0.3 mm"),
            of(Subject::cylinder(5), "short by 0.4 mm"),
            finding("outside_limit", Verdict::Stop, Subject::cylinder(7), "short by 9 mm"),
            of(Subject::cylinder(2), "short by 0.1 mm"),
        ];
        let alike = alike(told(&said));
        let texts: Vec<Vec<&str>> =
            alike.iter().map(|a| a.all().map(|told| told.text.as_str()).collect()).collect();
        assert_eq!(
            texts,
            [
                vec!["short by 0.1 mm", "short by 0.3 mm", "short by 0.4 mm"],
                vec!["short by 0.2 mm"],
                vec!["short by 9 mm"]
            ]
        );
        // A bore that says it twice is one of them once.
        assert_eq!(alike.first().and_then(|a| Subject::bores(a.subjects())), Some(vec![5, 1, 2]));
    }

    #[test]
    fn doubts_come_before_what_follows_from_them() {
        let mut plan = crate::testing::dunnock().plan;
        let of = |code, verdict| finding(code, verdict, Subject::cylinder(1), code);
        let doubt = "along_both";
        plan.findings = vec![
            of("record", Verdict::Go),
            of("as_cut", Verdict::Hold),
            of("crack", Verdict::Stop),
            of(doubt, Verdict::Hold),
        ];
        let order: Vec<&str> = not_go(&plan).iter().map(|f| f.code).collect();
        assert_eq!(order, [doubt, "crack", "as_cut"]);
    }
}
