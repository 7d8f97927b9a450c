//! Head bolts and gas pressure of no engine: a digit slipped, or another engine's. Each is a hold. All bounds here are common
//! practice without a source, unless it stands beside them.

use super::{Missed, holds};
use crate::job::Job;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::mm;
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;
use borewright_geometry::sample::count;

/// The most that a head bolt is pulled to, MPa: those of the strongest class (12.9) give way at 1100 to 1200.
const BOLT_MPA: f64 = 1_000.0;
/// A thread's tensile stress area is that of a circle of this share of its diameter: M10 coarse 58.0 mm², M5 14.2
/// (ISO 898-1 table 4, from memory), within 3 % from M5 to M24.
const STRESSED: f64 = 0.86;
/// A hole for a head bolt is as wide as this many of its threads: tapped, or drilled through with room.
const BOLT_IN_HOLE: [f64; 2] = [0.8, 1.35];
/// Holes for one head's bolts are alike within this, mm.
const ALIKE_MM: f64 = 0.5;
/// The least that a head bolt pulls, N.
const PRELOAD_N: f64 = 5_000.0;
/// The least peak of gas in an engine under load, MPa.
const GAS_MPA: f64 = 3.0;

/// Bolts that do not fit, pull too little or would break, and gas that presses too little.
pub(super) fn limits(job: &Job) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let Some(bolts) = &job.engine.head_bolts else { return limits };
    if bolts.each_n < PRELOAD_N - SAME {
        let text = say!(
            "a head bolt is said to pull {:.1} kN, under {:.0}: what it holds down is not judged so",
            bolts.each_n / 1000.0,
            PRELOAD_N / 1000.0
        );
        limits.push(holds("preload_odd", "head bolts, N", Missed::plain(bolts.each_n, PRELOAD_N), text));
    }
    let fewer = job.block.banks.iter().enumerate().find_map(|(bank, described)| {
        let own = || job.block.studs.iter().filter(|s| s.bank == bank);
        // Smaller holes are of covers and brackets.
        let largest = own().map(|s| s.diameter_mm).fold(0.0, f64::max);
        let studs = own().filter(|s| s.diameter_mm > largest - ALIKE_MM).count();
        (count(studs) > bolts.per_bank + SAME).then_some((described, studs))
    });
    if let Some((bank, studs)) = fewer {
        let text = say!(
            "{} bolts are told to hold a head down, and round the bores of bank {} {studs} studs are described: one of the two is \
             another block's",
            bolts.per_bank,
            plain(&bank.name, 40)
        );
        limits.push(holds("bolts_few", "head bolts", Missed::NO_FIGURE, text));
    }
    if let Some(thread) = bolts.thread_mm
        && let Some(stud) = job
            .block
            .studs
            .iter()
            .find(|s| !(BOLT_IN_HOLE[0] * thread..=BOLT_IN_HOLE[1] * thread).contains(&s.diameter_mm))
    {
        let text = say!(
            "head bolts of {} thread, and a stud hole of {} is described for them: one of the two is told wrong",
            mm(thread, 1),
            mm(stud.diameter_mm, 1)
        );
        limits.push(holds("bolt_odd", "head bolts", Missed::length(thread, stud.diameter_mm), text));
    }
    if let Some(thread) = bolts.thread_mm {
        let stress = bolts.each_n / (std::f64::consts::FRAC_PI_4 * (STRESSED * thread).powi(2));
        if stress > BOLT_MPA + SAME {
            let text = say!(
                "a head bolt of {} thread is said to pull {:.1} kN, which is {stress:.0} MPa in it, over {BOLT_MPA:.0}: no bolt bears \
                 that, and what it is to hold down would not be held",
                mm(thread, 1),
                bolts.each_n / 1000.0
            );
            limits.push(holds("bolt_breaks", "head bolts, MPa", Missed::plain(stress, BOLT_MPA), text));
        }
    }
    if let Some(gas) = bolts.gas_mpa.filter(|gas| *gas < GAS_MPA - SAME) {
        let text = say!(
            "peak gas pressure is said to be {gas:.1} MPa, under {GAS_MPA:.0}: no engine under load has less"
        );
        limits.push(holds("gas_odd", "gas, MPa", Missed::plain(gas, GAS_MPA), text));
    }
    limits
}
