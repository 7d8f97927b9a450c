//! Instruments said to be far better than their own readings show, or than any shop has.

use super::evidence::figures;
use super::lines::came;
use super::{Asked, Suspicion};
use crate::job::{EXACT_MM, Job};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bore::FoundCircle;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, median};

/// Circles may scatter about their bores' lines by so many times the stated `centre`; a bore bent by wear scatters
/// by some times it. Common practice, no source.
const TIMES: f64 = 10.0;

/// Bores that must show it: one slip among them does not.
const BORES: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found: Vec<Suspicion> = contradicted(asked).into_iter().collect();
    let stated = too_good(asked.job);
    // A figure that no shop has is asked about before who chose it.
    found.extend(if stated.is_empty() { bettered(asked.job).into_iter().collect() } else { stated });
    found
}

/// Circles that scatter by far more than a centre is said to be known to.
fn contradicted(asked: &Asked<'_>) -> Option<Suspicion> {
    let u = asked.job.instruments.centre_mm;
    let cylinders: Vec<u32> = asked.job.block.cylinders();
    let own: Vec<f64> = cylinders.iter().filter_map(|n| scatter(&came(asked.circles, *n))).collect();
    if own.len() < BORES {
        return None;
    }
    let scatter = median(own);
    if scatter <= TIMES * u {
        return None;
    }
    Some(Suspicion {
        code: Code::InstrumentsOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("instruments"),
        found: say!(
            "the circles scatter about their bores' lines by {}, {:.0} times the {} that a centre is said to be known to",
            mm(scatter, 4),
            scatter / u,
            mm(u, 5)
        ),
        likely: "`instruments` in another unit, or of another instrument: every margin is then believed too well".into(),
        ask: "how well is one coordinate of a centre known (`instruments.centre`), and in which unit is it written?".into(),
        evidence: figures([("scatter", scatter), ("centre", u)]),
        cylinders: cylinders.into(),
    })
}

/// Instruments that no shop has: their standard uncertainty in another unit, or a digit off. A job that is exact in all is a sum, and
/// is asked only where it is told to be still finer.
fn too_good(job: &Job) -> Vec<Suspicion> {
    let own = &job.instruments;
    let exact = own.are_exact();
    let floors = [
        ("centre", own.centre_mm, 0.000_5),
        ("diameter", own.diameter_mm, 0.000_5),
        ("wall", own.wall_mm, 0.025),
        ("axis", own.axis_mm, 0.001),
        ("along", own.along_mm, 0.002),
        ("machine", own.machine_mm, 0.001),
        ("deck", own.deck_mm, 0.000_5),
    ];
    let of = |(name, u, floor): (&'static str, f64, f64)| {
        let floor = if exact { EXACT_MM } else { floor };
        let asked = u < floor - 1e-9 && !(exact && ["centre", "deck"].contains(&name));
        asked.then(|| Suspicion {
            code: Code::InstrumentsOdd,
            verdict: Verdict::Hold,
            subject: Subject::whole("instruments"),
            found: say!(
                "`instruments.{name}` is {}, and no shop knows that better than {}",
                mm(u, 6),
                mm(floor, 4)
            ),
            likely: "written in another unit, or a digit off: every margin is then believed too well".into(),
            ask: say!("how well is it known (`instruments.{name}`), and in which unit is it written?"),
            evidence: figures([("u", u), ("floor", floor)]),
            cylinders: job.block.cylinders().into(),
        })
    };
    floors.into_iter().filter_map(of).chain(lean(job)).collect()
}

/// The least that a bore is said to lean where nothing says how it does, mm per mm: honest ones lean by three times as much and more.
/// Common practice, no source.
const LEAN: f64 = 3e-5;

/// A lean allowed to bores read at one depth that is next to none.
fn lean(job: &Job) -> Option<Suspicion> {
    let own = job.instruments.lean;
    (own < LEAN - 1e-12 && !job.instruments.are_exact()).then(|| Suspicion {
        code: Code::InstrumentsOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("instruments"),
        found: say!("`instruments.lean` is {own:.6}, and no bores stand straighter than {LEAN:.5}"),
        likely: "a digit off: the foot of a bore read at one depth is then believed too well".into(),
        ask: "by how much may a bore lean that was read at one depth (`instruments.lean`)?".into(),
        evidence: figures([("lean", own), ("floor", LEAN)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// The first instrument that the job states far better than its shop does.
fn bettered(job: &Job) -> Option<Suspicion> {
    let (name, [own, shop]) = job.bettered.first().copied()?;
    Some(Suspicion {
        code: Code::InstrumentsOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("instruments"),
        found: say!("the job states `instruments.{name}` as {}, its shop as {}", mm(own, 5), mm(shop, 4)),
        likely: "another unit than the file's, or a figure chosen so that the job goes".into(),
        ask: say!(
            "what has a check of this instrument shown? Where the job's figure is right, release it by name"
        ),
        evidence: figures([("job", own), ("shop", shop)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// Standard deviation of a coordinate about a straight line through a bore's centres, mm; `None` with nothing to spare.
fn scatter(circles: &[&FoundCircle]) -> Option<f64> {
    let n = count(circles.len());
    let depth = circles.iter().map(|c| c.depth_mm).sum::<f64>() / n;
    let square: f64 = circles.iter().map(|c| (c.depth_mm - depth).powi(2)).sum();
    // Of one depth there is no line, only a mean.
    let leans = square > 1.0;
    let freedom = 2.0 * (n - if leans { 2.0 } else { 1.0 });
    let about = [0, 1].map(|k| {
        let mean = circles.iter().map(|c| c.centre_mm[k]).sum::<f64>() / n;
        let slope = if leans {
            circles.iter().map(|c| (c.depth_mm - depth) * c.centre_mm[k]).sum::<f64>() / square
        } else {
            0.0
        };
        circles.iter().map(|c| (c.centre_mm[k] - mean - slope * (c.depth_mm - depth)).powi(2)).sum::<f64>()
    });
    (freedom > 0.0).then(|| f64::sqrt((about[0] + about[1]) / freedom))
}
