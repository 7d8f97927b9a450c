//! A description of a sleeve that contradicts itself: a line left out, a length from another datum, a digit slipped. Each is a
//! hold. All bounds here are common practice without a source, set beyond where any sleeve lies.

use super::{Missed, holds};
use crate::job::{Job, Sleeve, SleeveKind};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::mm;
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

/// A sleeve that ends as far above the bore's end as its flange is thick, within this, mm.
const FROM_FLANGE_MM: f64 = 0.1;
/// A shorter difference than this is a sleeve's own, mm.
const NEAR_END_MM: f64 = 3.0;
/// The thickest flange, as a share of the finished bore: usual ones are under 0.10.
const FLANGE_SHARE: f64 = 0.15;
/// Registers of one sleeve are tight alike within this, as a ratio.
const REGISTERS: f64 = 3.0;
/// A register no tighter than this is not asked about, mm on diameter.
const TIGHT_MM: f64 = 0.04;
/// The most that a finish bore takes off a new sleeve, mm a side.
const OWN_BORE_MM: f64 = 1.5;

/// Every contradiction, each a hold.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let all = [
        wet_length(sleeve),
        from_the_flange(job, sleeve),
        flange_thick(job, sleeve),
        registers_apart(sleeve),
        own_bore(job, sleeve),
    ];
    all.into_iter().flatten().collect()
}

/// A wet sleeve of which nothing stands in coolant.
fn wet_length(sleeve: &Sleeve) -> Option<SleeveLimit> {
    (sleeve.kind == SleeveKind::Wet && !sleeve.body.iter().any(|step| step.wet)).then(|| {
        let text = say!(
            "the sleeve is told to be wet, and no part of it stands in coolant: is its wet length left out? What is below it would be \
             cut too narrow for it from there on"
        );
        holds("wet_length_missing", "wet length", Missed::NO_FIGURE, text)
    })
}

/// Lengths told from under the flange.
fn from_the_flange(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let thick = sleeve.flange()?.thickness_mm;
    let left = job.left_below_mm(sleeve);
    (left > NEAR_END_MM && (left - thick).abs() <= FROM_FLANGE_MM + SAME).then(|| {
        let text = say!(
            "the sleeve ends {} above the bore's end, and its flange is {} thick: are its lengths told from under the flange? They \
             count from its top",
            mm(left, 2),
            mm(thick, 2)
        );
        holds("from_the_flange", "lower end", Missed::length(left, NEAR_END_MM), text)
    })
}

/// A flange thicker than any.
fn flange_thick(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let thick = sleeve.flange()?.thickness_mm;
    let most = FLANGE_SHARE * job.finish.bore_mm;
    (thick > most + SAME).then(|| {
        let text = say!(
            "the flange is {} thick, over {} at such a bore: is `flange.thickness` a digit off? Its recess would be bored as deep",
            mm(thick, 2),
            mm(most, 1)
        );
        holds("flange_thick", "flange", Missed::length(thick, most), text)
    })
}

/// A register far tighter than another one of the same sleeve.
fn registers_apart(sleeve: &Sleeve) -> Option<SleeveLimit> {
    let tight = || sleeve.body.iter().filter(|step| !step.wet && step.interference_mm > SAME);
    let most = tight().max_by(|a, b| a.interference_mm.total_cmp(&b.interference_mm))?;
    let least = tight().min_by(|a, b| a.interference_mm.total_cmp(&b.interference_mm))?;
    let (tightest, other) = (most.interference_mm, least.interference_mm);
    (tightest > TIGHT_MM + SAME && tightest > REGISTERS * other + SAME).then(|| {
        let text = say!(
            "{} is {} tight and {} {}: parts of one sleeve are not so unlike. Is a digit of one of them off?",
            plain(&most.name, 40),
            mm(tightest, 3),
            plain(&least.name, 40),
            mm(other, 3)
        );
        holds("registers_apart", &most.name, Missed::length(tightest, REGISTERS * other), text)
    })
}

/// A sleeve's own bore far under the finished one.
fn own_bore(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let stock = (job.finish.bore_mm - job.finish.hone_stock_mm - sleeve.bore_mm) / 2.0;
    (stock > OWN_BORE_MM + SAME).then(|| {
        let text = say!(
            "{} a side are to come out of a new sleeve, over {}: is its own bore told right? How thick its wall is while it goes in \
             hangs on it",
            mm(stock, 2),
            mm(OWN_BORE_MM, 1)
        );
        holds("finish_stock", "sleeve's own bore", Missed::length(stock, OWN_BORE_MM), text)
    })
}
