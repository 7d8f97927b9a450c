//! An axis counted the other way, both, or x and y exchanged.

use super::evidence::{explains, figures, rms};
use super::readings::Stand;
use super::{Asked, Suspicion};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// Another way to take a centre.
struct Taken {
    what: &'static str,
    likely: &'static str,
    /// Which components it changes.
    changes: [bool; 2],
    raw: fn([f64; 2]) -> [f64; 2],
}

const WAYS: [Taken; 4] = [
    Taken {
        what: "x counted the other way",
        likely: "the sign of x dropped, or the scale of X counting backwards",
        changes: [true, false],
        raw: |[x, y]| [-x, y],
    },
    Taken {
        what: "y counted the other way",
        likely: "the sign of y dropped, or the scale of Y counting backwards",
        changes: [false, true],
        raw: |[x, y]| [x, -y],
    },
    Taken {
        what: "x and y both counted the other way",
        likely: "the block stood the other way round on the machine",
        changes: [true, true],
        raw: |[x, y]| [-x, -y],
    },
    Taken {
        what: "x and y exchanged",
        likely: "the columns x and y exchanged",
        changes: [true, true],
        raw: |[x, y]| [y, x],
    },
];

/// Asks about each set-up whose bores stand true once an axis is counted the other way or x and y are exchanged; of
/// several ways the one that leaves least.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let typed = asked.readings.as_typed(index);
        if typed.len() < 2 {
            continue;
        }
        let told = WAYS.iter().filter_map(|way| {
            let other = asked.readings.stands(index, |r| (way.raw)(r.raw_mm));
            let size = |stands: &[Stand], k: usize| rms(stands.iter().map(|s| s.off_mm[k]));
            // Every component it changes must be mended by it.
            let mends =
                (0..2).filter(|k| way.changes[*k]).all(|k| explains(size(&typed, k), size(&other, k)));
            let whole = |stands: &[Stand]| rms(stands.iter().map(|s| s.off_mm[0].hypot(s.off_mm[1])));
            mends.then(|| (way, whole(&typed), whole(&other)))
        });
        // Of several the one that leaves least.
        let told = told.min_by(|a, b| a.2.total_cmp(&b.2));
        let Some((way, typed_mm, other_mm)) = told else { continue };
        let bank = &asked.job.bank(set_up.bank).name;
        found.push(Suspicion {
            code: Code::AxisMirrored,
            verdict: Verdict::Hold,
            subject: Subject::bank(bank),
            found: say!("the bores stand {} off true (rms) as typed and {} with {}", mm(typed_mm, 2), before_mm(other_mm, 3), way.what),
            likely: way.likely.into(),
            ask: say!(
                "which way do X and Y count on the machine with the bank {bank} up? Jog from the first bore to the last and read both"
            ),
            evidence: figures([("rms_as_typed", typed_mm), ("rms_otherwise", other_mm)]),
            cylinders: typed.iter().map(|s| s.cylinder).collect(),
        });
    }
    found
}
