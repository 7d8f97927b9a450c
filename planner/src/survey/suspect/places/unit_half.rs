//! Several bores of a bank whose y is in another unit than that of the others: neither part is the odd one out.

use super::evidence::{figures, unit_cause, unit_words};
use super::unit_bore::scaled;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::inch::MM_PER_INCH;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::ends;

/// Fewer bores on either side are asked about as one that differs.
const FEWEST: usize = 2;

/// Bores that differ by less than this do so as bores do, mm. Common practice, no source.
const APART_MM: f64 = 0.15;

/// In one unit they must lie so many times nearer together, and no farther apart than this, mm.
const NEARER: f64 = 6.0;
const TOGETHER_MM: f64 = 0.06;

/// Read in inches and typed among millimetres; the other way about stands far off by itself.
const FACTOR: f64 = MM_PER_INCH;

/// y along the bank's width.
const Y: usize = 1;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    (0..asked.job.set_ups.len()).filter_map(|set_up| of_set_up(asked, set_up)).collect()
}

fn of_set_up(asked: &Asked<'_>, set_up: usize) -> Option<Suspicion> {
    let typed = asked.readings.as_typed(set_up);
    let other = asked.readings.stands(set_up, |r| scaled(r.raw_mm, Y, FACTOR));
    let mut bores: Vec<(u32, f64, f64)> = typed
        .iter()
        .filter_map(|own| {
            let other = other.iter().find(|other| other.cylinder == own.cylinder)?;
            Some((own.cylinder, own.off_mm[Y], other.off_mm[Y]))
        })
        .collect();
    // Those in another unit are nearest to zero.
    bores.sort_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let spread = |offs: Vec<f64>| ends(&offs).map_or(0.0, |[least, most]| most - least);
    let as_typed = spread(bores.iter().map(|b| b.1).collect());
    if as_typed < APART_MM {
        return None;
    }
    let known = 3.0 * asked.job.instruments.centre_mm;
    let (part, together) = (FEWEST..=bores.len().checked_sub(FEWEST)?).find_map(|cut| {
        let (part, rest) = bores.split_at(cut);
        let together = spread(part.iter().map(|b| b.2).chain(rest.iter().map(|b| b.1)).collect());
        let carried = part.iter().all(|b| b.1.abs() > known);
        (carried && together < TOGETHER_MM && NEARER * together < as_typed).then_some((part, together))
    })?;
    let mut cylinders: Vec<u32> = part.iter().map(|b| b.0).collect();
    cylinders.sort_unstable();
    Some(Suspicion {
        code: Code::WrongUnit,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(cylinders.clone()),
        found: say!(
            "the bores of their bank lie {} apart in y as typed, and {} with y of {} {}",
            mm(as_typed, 3),
            mm(together, 3),
            cylinder_words(&cylinders),
            unit_words(FACTOR)
        ),
        likely: say!("y of these {}", unit_cause(FACTOR)),
        ask: "in which unit was y of these bores read? Type it with its unit, such as `0.011 in`, or read it again".into(),
        evidence: figures([("apart_as_typed", as_typed), ("apart", together), ("factor", FACTOR)]),
        cylinders: asked.readings.cylinders(set_up).into(),
    })
}
