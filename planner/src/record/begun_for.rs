//! The pocket that a bore was begun for: written down with its place, and held against what is planned there now.

use super::finding::{Reason, WorkFinding};
use super::{Paper, Standing, Word};
use crate::job::Job;
use crate::job::pocket::Pocket;
use crate::plan::Subject;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::read::fault::plain;
use crate::say;

/// Two pockets are the same while no diameter and no depth differs by more than this, mm; less comes of a sleeve
/// measured again. Common practice, no source.
const OTHER_MM: f64 = 0.05;

/// Names the cell of a record that holds a pocket.
const WORD: &str = "pocket";

/// The pocket of a bore as a record keeps it, diameter and lower end of each part, mm: `pocket 95.100 7.965 89.780
/// 18.000`.
///
/// `None` where the job knows no such sleeve.
#[must_use]
pub fn pocket_words(job: &Job, sleeve: &str) -> Option<String> {
    let parts = parts(job, sleeve)?;
    let figures: Vec<String> = parts.iter().flatten().map(|mm| format!("{mm:.3}")).collect();
    Some(format!("{WORD} {}", figures.join(" ")))
}

/// Diameter and lower end of each part of a sleeve's pocket, mm.
fn parts(job: &Job, sleeve: &str) -> Option<Vec<[f64; 2]>> {
    let sleeve = job.sleeves.iter().find(|s| s.name == sleeve)?;
    let pocket = Pocket::of(sleeve, job.engine.deck.cut_mm);
    Some(pocket.features().map(|part| [part.diameter_mm(), part.depths.to_mm]).collect())
}

/// Diameter and lower end of each part of a pocket, mm, from the cell of a record; `None` of a cell that holds no
/// pocket.
fn read(cell: &str) -> Option<Vec<[f64; 2]>> {
    let pocket = cell.split(';').next()?;
    let figures: Option<Vec<f64>> =
        pocket.strip_prefix(WORD)?.split_whitespace().map(|text| text.parse().ok()).collect();
    let (pairs, rest) = figures.as_ref()?.as_chunks::<2>();
    (rest.is_empty() && !pairs.is_empty()).then(|| pairs.to_vec())
}

/// One finding for each bore that was begun for another pocket than is planned there.
pub(super) fn findings(job: &Job, paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let begun = standing.events.iter().filter(|e| e.what == Word::Place && e.struck.is_none());
    begun
        .filter_map(|event| {
            let cylinder = event.cylinder?;
            let then = read(event.fields.get("of"))?;
            let (sleeve, _) = paper.sleeve_of(cylinder)?;
            let why = other(&then, &parts(job, sleeve)?)?;
            let text = say!(
                "line {}: the bore was begun for a pocket {}, for {}. The passes that are behind it were cut for that one: measure what \
                 is there, and plan with the sleeve as it was",
                event.line,
                why,
                plain(sleeve, 40)
            );
            let reason = Reason::OtherPocket { line: event.line };
            let found = WorkFinding::hold(reason, Subject::cylinder(cylinder), text);
            Some(found.judged(standing, (Some(cylinder), event.line)))
        })
        .collect()
}

/// How the pocket that a bore was begun for differs from the one that is planned.
fn other(then: &[[f64; 2]], now: &[[f64; 2]]) -> Option<Sentence> {
    if then.len() != now.len() {
        return Some(say!("of {} parts, and is planned with {}", then.len(), now.len()));
    }
    then.iter().zip(now).find_map(|([was, to_was], [is, to_is])| {
        if (was - is).abs() > OTHER_MM {
            let [was, is] = [before_mm(*was, 2), mm(*is, 2)];
            return Some(say!("{} wide where {} are planned now", was, is));
        }
        let [was, is] = [before_mm(*to_was, 2), mm(*to_is, 2)];
        ((to_was - to_is).abs() > OTHER_MM)
            .then(|| say!("with a part that ends {} deep, and now at {}", was, is))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pocket_is_read_as_it_was_written_and_nothing_else_is_one() {
        assert_eq!(read("pocket 95.100 7.965 89.780 18.000"), Some(vec![[95.1, 7.965], [89.78, 18.0]]));
        for none in ["", "pocket", "pocket 95.1", "pocket 95.1 x", "candidate"] {
            assert_eq!(read(none), None, "{none}");
        }
    }

    #[test]
    fn what_differs_by_more_than_a_sleeve_measured_again_is_another_pocket() {
        let then = [[95.1, 7.965], [89.78, 18.0]];
        assert!(other(&then, &[[95.1, 7.985], [89.8, 18.0]]).is_none());
        for now in
            [[[95.1, 7.965], [89.18, 18.0]], [[99.1, 7.965], [89.78, 18.0]], [[95.1, 7.965], [89.78, 28.0]]]
        {
            assert!(other(&then, &now).is_some());
        }
        assert!(other(&then, &then[..1]).is_some());
    }
}
