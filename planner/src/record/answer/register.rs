//! A register cut too large: what still fits in it.

use borewright_geometry::sample::ends;

use super::bench::Bench;
use super::gauge::{fine, fine_mm};
use super::round::{ROUND_MM, oval_mm};
use super::said::{Answer, Remedy, Say, Way};
use crate::job::limits::{BRIDGE, COOLANT_HOLE, PARENT_WALL, STUD_WALL};
use crate::job::{Job, MeasuredSleeve, Sleeve, Step};
use crate::passes::window_mm;
use crate::plan::check::{Of, What};
use crate::plan::sentence::{Sentence, before_mm, celsius};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::heat::Pair;

/// Least stock a side that cleans a pocket up, mm. Common practice, no source.
const CLEAN_UP_MM: f64 = 0.05;
/// Wall of a ring that a pocket is bushed with, mm. Common practice, no source.
const RING_MM: f64 = 2.0;
/// Places that differ by no more than this are one size in what is told of them, mm: what a gauge shows of a round bore.
/// Common practice, no source.
const ALIKE_MM: f64 = 0.003;
/// Most sleeves that are named.
const NAMED: usize = 3;

/// How a sleeve sits in a pocket: nothing is held where the pocket is wide, however well its mean would fit.
struct Fit<'a> {
    step: &'a Step,
    /// The pocket at its tightest and at its loosest place, mm.
    ends_mm: [f64; 2],
    /// Interference that is as asked, least and most, mm.
    asked_mm: [f64; 2],
}

impl Fit<'_> {
    /// Interference at the loosest place.
    fn tight_mm(&self, outside_mm: f64) -> f64 {
        outside_mm - self.ends_mm[1]
    }

    fn fits(&self, outside_mm: f64) -> bool {
        let most = outside_mm - self.ends_mm[0];
        self.tight_mm(outside_mm) >= self.asked_mm[0] - 1e-9 && most <= self.asked_mm[1] + 1e-9
    }

    fn off(&self, outside_mm: f64) -> f64 {
        (self.tight_mm(outside_mm) - self.step.interference_mm).abs()
    }
}

/// "0.012 tight" or "0.020 loose".
fn words(tight_mm: f64) -> Sentence {
    if tight_mm >= 0.0 { say!("{} tight", fine(tight_mm)) } else { say!("{} loose", fine(-tight_mm)) }
}

fn range([least, most]: [f64; 2]) -> Sentence {
    say!("{} to {}", words(least), words(most))
}

/// Interference that is as asked: the step's own, by what sleeve and pocket may each differ.
fn asked_mm(job: &Job, sleeve: &Sleeve, step: &Step) -> [f64; 2] {
    let either = step.tolerance_mm + window_mm(job, sleeve, &step.name).unwrap_or_default();
    [step.interference_mm - either, step.interference_mm + either]
}

/// The answer to a register that is larger than asked by `by`, mm.
pub(super) fn large(bench: &Bench<'_>, by: f64) -> Answer {
    let sizes = bench.values(Of::Diameter);
    let oval = oval_mm(&bench.all(Of::Diameter));
    let oval = if oval > ROUND_MM { say!("; out of round by {}", fine_mm(oval)) } else { Sentence::new() };
    let why = say!("{} larger than is asked, and metal cannot be put back{}", fine_mm(by), oval);
    let (Some(job), Some((sleeve, number)), Some((index, step)), Some(ends_mm)) =
        (bench.job, bench.sleeve(), bench.step(), ends(&sizes))
    else {
        return Answer::say(Say::Hold, why);
    };
    // A sleeve is held no better than at the loosest place: one round place does not make good another.
    let size_mm = ends_mm[1];
    let one_size = size_mm - ends_mm[0] <= ALIKE_MM;
    if step.wet {
        let text = "plan again: bridge, walls, studs and holes are then judged with the pocket as it was cut";
        let release = say!("the lead releases {}, {} more than the sleeve asks for", fine(size_mm), fine(by));
        return Answer::say(Say::Hold, why).with(vec![
            Way { way: Remedy::AsItIs, text: text.into(), figures: vec![size_mm] },
            Way { way: Remedy::Release, text: release, figures: vec![size_mm] },
        ]);
    }
    let fit = Fit { step, ends_mm, asked_mm: asked_mm(job, sleeve, step) };
    let own = number.as_deref().and_then(|n| job.measured.iter().find(|m| m.number == n));
    let outside = own.and_then(|m| m.outsides_mm.get(index).copied()).unwrap_or(step.diameter_mm);
    let mut ways = Vec::new();
    if fit.fits(outside) && own.is_some() {
        ways.push(Way {
            way: Remedy::AsItIs,
            text: say!(
                "sleeve {} as measured ({}) still fits: {}, asked {}",
                plain(number.as_deref().unwrap_or_default(), 30),
                fine(outside),
                words(fit.tight_mm(outside)),
                range(fit.asked_mm)
            ),
            figures: vec![fit.tight_mm(outside)],
        });
    }
    ways.extend(others(bench, job, sleeve, &fit, index, number.as_deref()));
    ways.extend(candidates(bench, job, sleeve, size_mm, index));
    ways.extend(ring(bench, size_mm));
    let tight = fit.tight_mm(outside);
    let asked_tight = step.interference_mm > 0.0;
    let lost = asked_tight && tight <= 0.0;
    let pair = Pair { diameter_mm: size_mm, block: &job.block.parent.material, sleeve: &sleeve.material };
    let gone = match pair.gone_at_c(tight) {
        Some(both) => say!(", gone at {} of both together", celsius(both, 0)),
        None if lost => ", open cold already".into(),
        None => Sentence::new(),
    };
    let say = if lost && ways.is_empty() { Say::Stop } else { Say::Hold };
    ways.push(Way {
        way: Remedy::Release,
        text: say!(
            "the lead releases {}{}{}, where {} is asked",
            words(tight),
            if one_size { "" } else { " at the loosest place" },
            gone,
            range(fit.asked_mm)
        ),
        figures: vec![tight],
    });
    Answer::say(say, why).with(ways)
}

/// Other sleeves of the measured set that fit, the best first.
fn others(
    bench: &Bench<'_>,
    job: &Job,
    sleeve: &Sleeve,
    fit: &Fit<'_>,
    index: usize,
    own: Option<&str>,
) -> Vec<Way> {
    let free = |m: &&MeasuredSleeve| {
        job.sleeves.get(m.sleeve).is_some_and(|s| s.name == sleeve.name)
            && Some(m.number.as_str()) != own
            && bench.standing.pinned_to(&m.number).is_none()
    };
    let mut fitting: Vec<(&MeasuredSleeve, f64)> = job
        .measured
        .iter()
        .filter(free)
        .filter_map(|m| Some((m, *m.outsides_mm.get(index)?)))
        .filter(|(m, outside)| fit.fits(*outside) && fits_elsewhere(bench, job, sleeve, m))
        .collect();
    fitting.sort_by(|a, b| fit.off(a.1).total_cmp(&fit.off(b.1)));
    fitting
        .into_iter()
        .take(NAMED)
        .map(|(m, outside)| {
            let planned = planned_for(bench, &m.number);
            let swap = planned
                .map_or_else(String::new, |c| format!("; it was for cylinder {c}, which then takes another"));
            Way {
                way: Remedy::Sleeve,
                text: say!(
                    "sleeve {} ({} there): {}{}",
                    plain(&m.number, 30),
                    fine(outside),
                    words(fit.tight_mm(outside)),
                    swap
                ),
                figures: vec![outside, fit.tight_mm(outside)],
            }
        })
        .collect()
}

/// The cylinder that a measured sleeve is planned for.
fn planned_for(bench: &Bench<'_>, number: &str) -> Option<u32> {
    let all = bench.paper.sleeves.iter().flat_map(|s| &s.assigned);
    all.filter(|a| a.number == number && Some(a.cylinder) != bench.cylinder).map(|a| a.cylinder).next()
}

/// Whether a sleeve fits the other registers of the bore that were measured too.
pub(super) fn fits_elsewhere(
    bench: &Bench<'_>,
    job: &Job,
    sleeve: &Sleeve,
    measured: &MeasuredSleeve,
) -> bool {
    let checks = bench.paper.checks.iter().filter(|c| c.what == What::Size && c.bank == bench.check.bank);
    checks.filter(|c| c.check != bench.check.check && c.stage == bench.check.stage).all(|c| {
        let there = bench.of(c, bench.cylinder);
        let sizes = there.values(Of::Diameter);
        match (ends(&sizes), there.step()) {
            (Some(ends_mm), Some((index, step))) if !step.wet => {
                let fit = Fit { step, ends_mm, asked_mm: asked_mm(job, sleeve, step) };
                measured.outsides_mm.get(index).is_some_and(|o| fit.fits(*o))
            }
            _ => true,
        }
    })
}

/// Candidates whose pocket there is larger by enough to clean up.
fn candidates(bench: &Bench<'_>, job: &Job, own: &Sleeve, size_mm: f64, index: usize) -> Vec<Way> {
    let larger = job.sleeves.iter().filter(|s| s.name != own.name && s.body.len() == own.body.len());
    let mut ways: Vec<Way> = larger
        .filter_map(|s| {
            let step = s.body.get(index)?;
            let pocket = step.pocket_mm();
            let side = (pocket - size_mm) / 2.0;
            (side >= CLEAN_UP_MM).then(|| {
                let verdict = bench.paper.sleeves.iter().find(|c| c.sleeve == s.name);
                let verdict = verdict.map_or_else(String::new, |c| format!("; for the whole block it ends at {}", plain(&c.verdict, 8)));
                Way {
                    way: Remedy::Oversize,
                    text: say!(
                        "candidate {}: pocket {}, {} a side to clean up{}; plan a copy of the job with it for this bore",
                        plain(&s.name, 40),
                        fine(pocket),
                        fine(side),
                        verdict
                    ),
                    figures: vec![pocket, side],
                }
            })
        })
        .collect();
    ways.sort_by(|a, b| a.figures.last().unwrap_or(&0.0).total_cmp(b.figures.last().unwrap_or(&0.0)));
    ways
}

/// A ring pressed in and bored: where there is metal for it.
fn ring(bench: &Bench<'_>, size_mm: f64) -> Option<Way> {
    const METAL: [&str; 4] = [PARENT_WALL, BRIDGE, STUD_WALL, COOLANT_HOLE];
    let own = bench.paper.cylinders.iter().find(|c| Some(c.cylinder) == bench.cylinder)?;
    let here = own.limits.iter().filter(|l| {
        METAL.contains(&l.limit.as_str()) && (l.feature.contains(&bench.check.feature) || l.limit == BRIDGE)
    });
    let room = here.map(|l| l.margin).reduce(f64::min)?;
    (room >= RING_MM).then(|| Way {
        way: Remedy::Ring,
        text: say!(
            "a spigot ring of {} a side: bore to {}, press the ring in, bore it to size; metal allows {} a side more",
            before_mm(RING_MM, 1),
            fine(size_mm + 2.0 * RING_MM),
            before_mm(room, 2)
        ),
        figures: vec![size_mm + 2.0 * RING_MM, room],
    })
}
