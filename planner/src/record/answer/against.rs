//! Figures against others of the record that contradict them: what was set, cut before, read on another bore, or
//! stands over a ledge that was measured.

use std::f64::consts::SQRT_2;

use borewright_geometry::sample::{ends, mean};

use super::bench::{BESIDE_MM, Bench};
use super::gauge::{fine, fine_mm};
use super::said::{Answer, Say};
use crate::job::Job;
use crate::job::limits::CLEAN_UP;
use crate::passes::HOLE_MM;
use crate::plan::Stage;
use crate::plan::check::{Asked, Check, Of, What};
use crate::plan::judge::FACTOR;
use crate::read::fault::plain;
use crate::record::Lies;
use crate::record::judge::lies_at;
use crate::say;
use crate::survey::PLATE_ORDINARY_MM;

/// Figures of a bore that must all be another's before that is no chance.
const ALIKE: usize = 5;
/// Figures among them that must differ where they are those of another check's bore.
const STEPS: usize = 4;
/// Parts of one bore that were cut on one axis stand no farther apart: a register's usual interference, mm. Common
/// practice, no source.
const IN_LINE_MM: f64 = 0.02;
/// Two places read alike are farther apart than so many of their standard uncertainty once in some 450 (Rayleigh,
/// exp(-k² / 2)).
const IN_LINE_U: f64 = 3.5;
/// Least and most Ra of a honed bore, µm. Common practice, no source.
const HONED_UM: [f64; 2] = [0.05, 2.0];

/// A size that does not go with the figure its head was set to.
pub(super) fn set(bench: &Bench<'_>) -> Option<Answer> {
    let set = bench.set()?;
    let sizes = bench.values(Of::Diameter);
    let size = mean(&sizes)?;
    ((size - set).abs() > BESIDE_MM).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "the bore reads {} and the head was set to {}: no tool cuts {} beside its setting. Read both again, and strike the \
                 line that is wrong",
                fine(size),
                fine(set),
                fine_mm((size - set).abs())
            ),
        )
    })
}

/// A bore that reads smaller than after an earlier cut.
pub(super) fn grown_back(bench: &Bench<'_>, value: f64) -> Option<Answer> {
    if !matches!(bench.check.stage, Stage::Finish | Stage::Hone) {
        return None;
    }
    let sizes = |of: &Bench<'_>| -> Vec<f64> { of.values(Of::Diameter) };
    let step = bench.check.step?;
    let before = bench.paper.checks.iter().filter(|c| {
        c.step.is_some_and(|s| s < step)
            && matches!(c.stage, Stage::Finish | Stage::Hone)
            && c.bank == bench.check.bank
    });
    let (number, least) = before
        .filter_map(|c| Some((c.check, ends(&sizes(&bench.of(c, bench.cylinder)))?[0])))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let tells = FACTOR * SQRT_2 * bench.u(Of::Diameter);
    (value < least - tells).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "{} smaller than at CHECK {}, and metal does not grow back: read it again, and strike the line that is wrong",
                fine_mm(least - value),
                number
            ),
        )
    })
}

/// Places of one bore, of so many at least, that read as cut too far and were then read back: half of them are no slips.
const READ_BACK: usize = 3;

/// Figures past their window at half of a bore's places, outvoted by later ones: metal does not come back, and which
/// setting of the gauge was wrong nobody has said.
pub(super) fn outvoted(bench: &Bench<'_>, asked: &Asked) -> Option<Answer> {
    let tells = FACTOR * SQRT_2 * bench.u(asked.of);
    let readings = bench.at()?.readings.iter().filter(|r| r.of == asked.of);
    let read: Vec<&Asked> = readings.filter(|r| !bench.figures(r).is_empty()).collect();
    let past = |r: &&&Asked| {
        let most = ends(&bench.figures(r)).map(|[_, most]| most);
        most.zip(bench.settled(r).ok())
            .is_some_and(|(most, now)| matches!(lies_at(r, most), Lies::Over(_)) && now < most - tells)
    };
    let back = read.iter().filter(past).count();
    (back >= READ_BACK && 2 * back >= read.len()).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "{back} of {} places were read as cut too far before, and metal does not come back: set the gauge, read them once more, \
                 and strike the lines that were wrong, by name and with the reason",
                read.len()
            ),
        )
    })
}

/// Another bore of the check, or of that of another bank's same part, with the very same figures: a page may be typed in twice.
pub(super) fn copied(bench: &Bench<'_>) -> Option<Answer> {
    let own = bench.all(Of::Diameter);
    let [low, high] = ends(&own.iter().map(|(_, v)| *v).collect::<Vec<_>>())?;
    if own.len() < ALIKE || high - low < 1e-9 {
        return None;
    }
    let line = |check, cylinder| bench.standing.of_check(check, cylinder).map(|r| r.line).min();
    // A coarse gauge reads bores alike by chance, of two banks sooner than of one.
    let mut steps: Vec<u64> = own.iter().map(|(_, v)| v.to_bits()).collect();
    steps.sort_unstable();
    steps.dedup();
    let alike = |c: &&Check| {
        let same = c.what == bench.check.what && c.feature == bench.check.feature;
        c.check == bench.check.check || (same && steps.len() >= STEPS)
    };
    let bores = bench.paper.checks.iter().filter(alike);
    let bores = bores.flat_map(|c| c.cylinders.iter().filter_map(move |at| Some((c, at.cylinder?))));
    let mut earlier = bores.filter(|(c, other)| {
        Some(*other) != bench.cylinder
            && line(c.check, Some(*other)) < line(bench.check.check, bench.cylinder)
    });
    let (check, like) = earlier.find(|(c, other)| {
        let others = bench.of(c, Some(*other)).all(Of::Diameter);
        own.len() == others.len()
            && own
                .iter()
                .zip(&others)
                .all(|((a, v), (b, w))| a.reading == b.reading && v.to_bits() == w.to_bits())
    })?;
    let of = if check.check == bench.check.check {
        say!("cylinder {}", like)
    } else {
        say!("CHECK {}, cylinder {}", check.check, like)
    };
    Some(Answer::say(
        Say::Hold,
        say!(
            "all {} figures are those of {} to the last digit: was this bore gauged? Read it again, or strike them",
            own.len(),
            of
        ),
    ))
}

/// How far a flange may stand from what its thickness, known within a tolerance, and its ledge's depth give, mm.
pub(super) fn seated_mm(job: &Job, tolerance_mm: f64) -> f64 {
    tolerance_mm + FACTOR * SQRT_2 * job.instruments.deck_mm
}

/// A flange that does not stand as its thickness over its ledge has it.
pub(super) fn seated(bench: &Bench<'_>) -> Option<Answer> {
    let job = bench.job?;
    let (sleeve, number) = bench.sleeve()?;
    let flange = sleeve.flange()?;
    if !bench.complete() || (job.engine.deck.after_fit && job.engine.deck.cut_mm > 0.0) {
        return None;
    }
    let ledge =
        bench.paper.checks.iter().find(|c| c.what == What::Ledge && c.at(bench.cylinder).is_some())?;
    let ledge = bench.of(ledge, bench.cylinder);
    let figures = |of: &Bench<'_>, kind| -> Option<f64> { mean(&of.values(kind)) };
    let depth = figures(&ledge, Of::Depth).filter(|_| ledge.complete())?;
    let height = figures(bench, Of::Height)?;
    let measured = number.as_deref().and_then(|n| job.measured.iter().find(|m| m.number == n)?.flange);
    let (thick, tolerance) =
        measured.map_or((flange.thickness_mm, flange.tolerance_mm), |f| (f.mean_mm, 0.0));
    let should = thick - depth + job.engine.deck.cut_mm;
    let by = height - should;
    let allowed = seated_mm(job, tolerance);
    (by.abs() > allowed).then(|| {
        let (more, why) = if by > 0.0 {
            ("higher", "a chip under it, or not driven home?")
        } else {
            ("lower", "the ledge or the flange is not what was read")
        };
        Answer::say(
            Say::Hold,
            say!(
                "it stands {} {} than a flange of {} on a ledge {} deep ({}; {} is explained): {}",
                fine_mm(by.abs()),
                more,
                fine(thick),
                fine(depth),
                fine(should),
                fine(allowed),
                why
            ),
        )
    })
}

/// The bare hole behind an old liner: between the liner that came out and the pocket that is to be cut.
pub(super) fn bare(bench: &Bench<'_>, asked: &Asked, value: f64) -> Option<Answer> {
    let pockets = bench.paper.checks.iter().filter(|c| c.stage == Stage::Pocket && c.what == What::Size);
    let readings = pockets.filter_map(|c| c.at(bench.cylinder)).flat_map(|at| &at.readings);
    let sizes = readings.filter(|r| r.of == Of::Diameter).filter_map(|r| Some((r.depth?, r.expected?)));
    let beside = |depth: f64| asked.depth.map_or(0.0, |own| (own - depth).abs());
    let nearest = sizes.min_by(|a, b| beside(a.0).total_cmp(&beside(b.0)).then(a.1.total_cmp(&b.1)));
    if let Some((_, cut)) = nearest.filter(|(_, cut)| value >= *cut) {
        let why = say!(
            "the bare hole reads {}, and the pocket to be cut there is {}: nothing of it would clean up, and no sleeve is tight. Read \
             it again; if it is so, plan again with a larger sleeve",
            fine(value),
            fine(cut)
        );
        return Some(Answer::say(Say::Stop, why));
    }
    let least = bench.job.and_then(|j| j.limits.get(CLEAN_UP)).map_or(0.0, |limit| limit.least_mm);
    if let Some((_, cut)) = nearest.filter(|(_, cut)| (cut - value) / 2.0 < least) {
        let why = say!(
            "the bare hole reads {}, which leaves {} a side to the pocket of {} where it stands in its middle, and {} are asked all \
             round: read it again; if it is so, plan again with a larger sleeve",
            fine(value),
            fine((cut - value) / 2.0),
            fine(cut),
            fine(least)
        );
        return Some(Answer::say(Say::Hold, why));
    }
    let liner =
        bench.job?.block.parent.liner.as_ref().filter(|l| asked.depth.is_none_or(|d| d < l.length_mm))?;
    let [smaller, larger] = HOLE_MM;
    if value > liner.outside_mm + larger {
        let why = say!(
            "the bare hole reads {}, and the liner that stood in it was {} outside: is one of them told or read wrong? Walls and \
             clean up were judged by the liner",
            fine(value),
            fine(liner.outside_mm)
        );
        return Some(Answer::say(Say::Hold, why));
    }
    (value < liner.outside_mm - smaller).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "the bare hole reads {}, and the liner that stood in it was {} outside: is it out, all of it?",
                fine(value),
                fine(liner.outside_mm)
            ),
        )
    })
}

/// A finished bore with its plate off, beside what it was with it on.
pub(super) fn plate_off(bench: &Bench<'_>, value: f64) -> Option<Answer> {
    let on = mean(&bench.values(Of::Diameter))?;
    ((value - on).abs() > PLATE_ORDINARY_MM).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "{} from what it was with the plate on, more than {}: fastener, plate, thread or seat, or a reading of another bore",
                fine_mm((value - on).abs()),
                fine(PLATE_ORDINARY_MM)
            ),
        )
    })
}

/// A roughness that no honed bore has.
pub(super) fn roughness(asked: &Asked, value: f64) -> Option<Answer> {
    let told = asked.least.is_some() || asked.most.is_some();
    let [least, most] = HONED_UM;
    (!told && !(least..=most).contains(&value)).then(|| {
        Answer::say(
            Say::Hold,
            say!("Ra {value:.2} um; a honed bore has {least:.2} to {most:.1}: in which unit was it read?"),
        )
    })
}

/// Registers of one bore that stand beside each other: a sleeve that grips in both is bent, or shaved, as it goes in.
pub(super) fn out_of_line(bench: &Bench<'_>) -> Option<Answer> {
    let off = |bench: &Bench<'_>| -> Option<[f64; 2]> {
        let off = |of: Of| {
            let (asked, value) = bench.all(of).into_iter().next()?;
            Some(value - asked.expected?)
        };
        Some([off(Of::X)?, off(Of::Y)?])
    };
    let own = off(bench)?;
    let others = bench.paper.checks.iter().filter(|c| {
        c.what == What::Size
            && c.stage == Stage::Pocket
            && c.check != bench.check.check
            && c.at(bench.cylinder).is_some()
    });
    let apart = others.filter_map(|check| {
        let [x, y] = off(&bench.of(check, bench.cylinder))?;
        Some((check, (own[0] - x).hypot(own[1] - y)))
    });
    let (check, apart) = apart.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let most = IN_LINE_MM.max(IN_LINE_U * SQRT_2 * bench.u(Of::X));
    (apart > most).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "this part stands {} beside {} (CHECK {}) of the same bore, more than {}: the sleeve would be bent or shaved on its way in. \
                 Read both again; what has moved between the two cuts?",
                fine_mm(apart),
                plain(&check.feature, 40),
                check.check,
                fine_mm(most)
            ),
        )
    })
}
