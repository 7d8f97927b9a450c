//! A circle that was read twice with different figures.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::closure;
use super::evidence::figures;
use super::readings::Reading;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{mm, signed_before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;

/// Two readings that differ by less than this agree, mm: the last digit of a dial, halved. Common practice, no
/// source.
const LEAST_MM: f64 = 0.005;

/// More readings of one circle are a scan, not a repeat: each is held against the first.
const MOST_COMPARED: usize = 16;

/// Standard uncertainties of a difference; 1 in 16 000 of normal scatter.
const SIGMAS: f64 = 4.0;

/// Asks about every two readings of one circle that differ by more than four standard uncertainties of a
/// difference; pairs that close a round are left to [`closure`].
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let instruments = &asked.job.instruments;
    let allowed = |u: f64| (SIGMAS * std::f64::consts::SQRT_2 * u).max(LEAST_MM);
    let mut found: Vec<Suspicion> = Vec::new();
    for index in 0..asked.job.set_ups.len() {
        // Circles through points are held against typed diameters elsewhere (`diameter.rs`).
        let rows: Vec<&Reading> =
            asked.readings.of_set_up(index).into_iter().filter(|r| !r.from_points).collect();
        let closing: Vec<(&Reading, &Reading)> = closure::pairs(&rows);
        let mut alike: BTreeMap<_, Vec<&Reading>> = BTreeMap::new();
        for row in &rows {
            alike.entry(circle(row)).or_default().push(row);
        }
        for group in alike.values() {
            // The first reading against each of the rest, and all against all where a shop read by hand.
            let many = group.len() > MOST_COMPARED;
            let firsts = if many { 1 } else { group.len() };
            let pairs = group.iter().take(firsts).enumerate();
            for (one, other) in
                pairs.flat_map(|(i, one)| group.iter().skip(i + 1).map(move |other| (one, other)))
            {
                let apart = [0, 1].map(|k| other.at_mm[k] - one.at_mm[k]);
                let wider = other.diameter_mm - one.diameter_mm;
                // The first bore read again at the end has its own question.
                let closes = closing.iter().any(|(a, b)| std::ptr::eq(*a, *one) && std::ptr::eq(*b, *other));
                let centre = !closes && apart.iter().any(|d| d.abs() > allowed(instruments.centre_mm));
                if !centre && wider.abs() <= allowed(instruments.diameter_mm) {
                    continue;
                }
                let cylinder = one.cylinder;
                found.push(Suspicion {
                    code: Code::ReadTwice,
                    verdict: Verdict::Hold,
                    subject: Subject::cylinder(cylinder),
                    found: say!("depth {} on the {} was read twice: x {}, y {}, diameter {} from the first to the second", mm(one.depth_mm, 1), one.surface.word(), signed_before_mm(apart[0], 3), signed_before_mm(apart[1], 3), signed_mm(wider, 3)),
                    likely: "a wrong digit, another bore's figures, or a block that moved between them".into(),
                    ask: say!("which reading of cylinder {cylinder} holds? Read it again, in the place of both rows"),
                    evidence: figures([
                        ("depth", one.depth_mm),
                        ("x_apart", apart[0]),
                        ("y_apart", apart[1]),
                        ("diameter_apart", wider),
                    ]),
                    cylinders: vec![cylinder].into(),
                });
            }
        }
    }
    found
}

/// Which circle a row is of: cylinder, depth, surface, set.
pub(super) fn circle(row: &Reading) -> (u32, u64, Surface, Option<&str>) {
    (row.cylinder, row.depth_mm.to_bits(), row.surface, row.set.as_deref())
}
