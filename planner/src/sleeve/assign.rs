//! The assignment of measured sleeves to bores, and the pocket that each then asks for.

use crate::job::pocket;
use crate::job::{Job, MeasuredSleeve};
use crate::place::Positions;
use crate::plan::fit::{Assigned, OwnPocket};

/// Sleeves on bores, so that neighbours' flanges are alike: sorted by thickness, the run with the least range where
/// there are more sleeves than bores, laid along the banks front to rear.
///
/// Sorted runs make every step from one bore to the next as small as it can be, and keep each bank's ledges within
/// the least range; each body gets a pocket of its own, so the fits are even whatever the order. Common practice.
/// None where too few were measured.
pub(super) fn assign(job: &Job, positions: &Positions) -> Vec<Assigned> {
    let drawing = &job.sleeves[positions.sleeve];
    let mut own: Vec<&MeasuredSleeve> =
        job.measured.iter().filter(|m| m.sleeve == positions.sleeve).collect();
    let bores = positions.bores.len();
    if bores == 0 || own.len() < bores {
        return Vec::new();
    }
    // Of plain sleeves the outsides stand together: the head is set anew less often.
    let size =
        |m: &MeasuredSleeve| m.flange.map(|f| f.mean_mm).or(m.outsides_mm.first().copied()).unwrap_or(0.0);
    own.sort_by(|a, b| size(a).total_cmp(&size(b)).then_with(|| a.number.cmp(&b.number)));
    let range = |run: &[&MeasuredSleeve]| match run {
        [first, .., last] => size(last) - size(first),
        _ => 0.0,
    };
    let Some(run) = own.windows(bores).min_by(|a, b| range(a).total_cmp(&range(b))) else {
        return Vec::new();
    };
    let run = kept(job, positions, &own, run);
    let cut = job.engine.deck.cut_mm;
    positions
        .bores
        .iter()
        .zip(run)
        .map(|(bore, sleeve)| Assigned {
            cylinder: bore.site.cylinder,
            number: sleeve.number.clone(),
            pockets: drawing
                .body
                .iter()
                .zip(&sleeve.outsides_mm)
                .map(|(step, outside)| OwnPocket {
                    feature: step.name.clone(),
                    outside: *outside,
                    diameter: outside - step.interference_mm,
                })
                .collect(),
            ledge: job.cut.get(&bore.site.cylinder).and_then(|c| c.ledge_mm).or_else(|| {
                drawing.flange().zip(sleeve.flange).map(|(f, own)| pocket::ledge_mm(f, own.mean_mm, cut))
            }),
            thickness: sleeve.flange.map(|f| f.mean_mm),
            thickness_spread: sleeve.flange.map(|f| f.range_mm[1] - f.range_mm[0]),
        })
        .collect()
}

/// What was proposed, with sleeves that stay with their bores put there: a proposed sleeve stays where it is not
/// wanted elsewhere, and a bore that loses its own takes, of what is left, the flange nearest to it.
fn kept<'m>(
    job: &Job,
    positions: &Positions,
    own: &[&'m MeasuredSleeve],
    run: &[&'m MeasuredSleeve],
) -> Vec<&'m MeasuredSleeve> {
    let pin = |i: usize| job.cut.get(&positions.bores.get(i)?.site.cylinder)?.sleeve.as_deref();
    let named = |number: &str| own.iter().copied().find(|m| m.number == number);
    let pinned: Vec<Option<&MeasuredSleeve>> = (0..run.len()).map(|i| pin(i).and_then(named)).collect();
    let taken = |number: &str| pinned.iter().flatten().any(|m| m.number == number);
    let mut left: Vec<&MeasuredSleeve> = own
        .iter()
        .copied()
        .filter(|m| !taken(&m.number))
        .filter(|m| !run.iter().zip(&pinned).any(|(r, p)| p.is_none() && r.number == m.number))
        .collect();
    run.iter()
        .zip(&pinned)
        .map(|(proposed, pinned)| match pinned {
            Some(own) => own,
            None if !taken(&proposed.number) => proposed,
            None => {
                let thick = |m: &MeasuredSleeve| m.flange.map_or(0.0, |f| f.mean_mm);
                let off = |m: &MeasuredSleeve| (thick(m) - thick(proposed)).abs();
                let nearest =
                    left.iter().enumerate().min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map(|(i, _)| i);
                nearest.map_or(*proposed, |i| left.swap_remove(i))
            }
        })
        .collect()
}
