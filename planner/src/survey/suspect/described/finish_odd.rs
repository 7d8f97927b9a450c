//! A finished bore whose tolerance cannot be measured or is too wide for a fit, or that the old pistons do not run
//! in.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::judge::FACTOR;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::{Code, Doubts};

/// The widest tolerance of a finished bore, mm either side: more would use up the piston's clearance. Common
/// practice, no source.
const MOST_MM: f64 = 0.045;

/// A finished bore smaller than the old liner's by more than this seizes the old pistons, mm. Common practice, no
/// source.
const SMALLER_MM: f64 = 0.02;

/// The roughest that a honed bore is left, Ra in µm. Common practice, no source.
const ROUGHEST_UM: f64 = 1.6;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = tolerance(asked);
    found.extend(smaller(asked));
    found.extend(under_liner(asked));
    found.extend(no_oversize(asked));
    found.extend(roughness(asked));
    found
}

/// A roughness that no finished bore is given.
fn roughness(asked: &Asked<'_>) -> Option<Suspicion> {
    let [_, most] = asked.job.finish.roughness_um?;
    (most > ROUGHEST_UM + 1e-9).then(|| Suspicion {
        code: Code::FinishRough,
        verdict: Verdict::Hold,
        subject: Subject::whole("finish"),
        found: say!(
            "the finished bore may have up to Ra {most:.2} µm, over {ROUGHEST_UM:.1}: any stone leaves it so"
        ),
        likely: "a digit slipped".into(),
        ask: "which Ra is asked of the bore (`finish.roughness`)?".into(),
        evidence: figures([("most", most), ("bound", ROUGHEST_UM)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// A finished bore under what the liner's was as new, where nothing says by which piston.
fn smaller(asked: &Asked<'_>) -> Option<Suspicion> {
    let (bore, was) = (asked.job.finish.bore_mm, asked.job.block.parent.liner.as_ref()?.bore_mm);
    if asked.job.finish.clearance_mm.is_some() || bore >= was - SMALLER_MM - 1e-9 {
        return None;
    }
    Some(Suspicion {
        code: Code::FinishSmall,
        verdict: Verdict::Hold,
        subject: Subject::whole("finish"),
        found: say!(
            "the finished bore is {}, {} under the liner's as described, and no piston is told",
            mm(bore, 3),
            mm(was - bore, 3)
        ),
        likely: "digits of `finish.bore` exchanged, or another engine's bore".into(),
        ask: "measure the pistons: `finish.piston` and `finish.clearance` tell the bore instead".into(),
        evidence: figures([("bore", bore), ("liner_bore", was)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// Under the liner's bore by this, mm, a bore that a piston tells is of no size group, nor an oversize taken back. Common practice, no
/// source.
const UNDER_MM: [f64; 2] = [0.07, 0.20];

/// A finished bore a little under what the liner's was, by a piston that is told: a digit of it may be off.
fn under_liner(asked: &Asked<'_>) -> Option<Suspicion> {
    let finish = &asked.job.finish;
    let (bore, was) = (finish.bore_mm, asked.job.block.parent.liner.as_ref()?.bore_mm);
    finish.clearance_mm?;
    let [least, most] = UNDER_MM;
    (least - 1e-9..=most + 1e-9).contains(&(was - bore)).then(|| Suspicion {
        code: Code::FinishSmall,
        verdict: Verdict::Hold,
        subject: Subject::whole("finish"),
        found: say!(
            "by piston and clearance the finished bore is {}, {} under the liner's as described: a piston of the old size seizes in it",
            mm(bore, 3),
            mm(was - bore, 3)
        ),
        likely: "a digit of `finish.piston`, or a worn liner's bore described in place of the maker's".into(),
        ask: "measure the pistons again across the skirt; where they are right, describe `liner.bore` as it was made, or release this by name"
            .into(),
        evidence: figures([("bore", bore), ("liner_bore", was)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// Over the liner's bore by this, mm, a finished bore is neither the old size nor the first oversize. Common practice, no source.
const BETWEEN_MM: [f64; 2] = [0.03, 0.20];

/// A finished bore between the old size and the first oversize.
fn no_oversize(asked: &Asked<'_>) -> Option<Suspicion> {
    let (bore, was) = (asked.job.finish.bore_mm, asked.job.block.parent.liner.as_ref()?.bore_mm);
    let [least, most] = BETWEEN_MM;
    (least + 1e-9..most - 1e-9).contains(&(bore - was)).then(|| Suspicion {
        code: Code::FinishBetween,
        verdict: Verdict::Go,
        subject: Subject::whole("finish"),
        found: say!(
            "the finished bore is {}, {} over the liner's as described: neither the old size nor an oversize",
            mm(bore, 3),
            mm(bore - was, 3)
        ),
        likely: if asked.job.finish.clearance_mm.is_some() {
            "a digit of `finish.piston` or `finish.clearance` slipped, or a piston chosen for it".into()
        } else {
            "a digit of `finish.bore` slipped, or a piston chosen for it".into()
        },
        ask: "which piston runs in this bore, and with how much clearance?".into(),
        evidence: figures([("bore", bore), ("liner_bore", was)]),
        cylinders: Doubts::All,
    })
}

/// Asks about a tolerance of the finished bore that is finer than its gauge can prove, or too wide for a running
/// fit.
fn tolerance(asked: &Asked<'_>) -> Vec<Suspicion> {
    let (tolerance, u) = (asked.job.finish.tolerance_mm, asked.job.instruments.diameter_mm);
    // A tolerance under so many u leaves no room in which a size is proven.
    let least = FACTOR * u;
    let (found, likely) = if tolerance < least - 1e-9 {
        let found = say!(
            "the finished bore is asked within {} either side, and {} is the least that these instruments can prove",
            mm(tolerance, 4),
            mm(least, 4)
        );
        (found, "a digit slipped, or a finer gauge than `instruments.diameter` says")
    } else if tolerance > MOST_MM + 1e-9 {
        let found = say!(
            "the finished bore is asked within {} either side, which is no tolerance of a running fit",
            mm(tolerance, 3)
        );
        (found, "a digit slipped, or another unit")
    } else {
        return Vec::new();
    };
    vec![Suspicion {
        code: Code::FinishTolerance,
        verdict: Verdict::Hold,
        subject: Subject::whole("finish"),
        found,
        likely: likely.into(),
        ask: "what is `finish.tolerance` to be, and with which gauge is it measured?".into(),
        evidence: figures([("tolerance", tolerance), ("least", least)]),
        cylinders: asked.job.block.cylinders().into(),
    }]
}
