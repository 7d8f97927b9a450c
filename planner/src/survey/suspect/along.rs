//! The along datum against where the mains themselves were touched; and the mains' spacing against the block's.

use super::evidence::{FACTORS, figures, median, spread, unit_cause, unit_words};
use super::{Asked, Suspicion};
use crate::job::{AxisReading, Front, Job, MachineReadings, ReadingFrame, SetUp};
use crate::plan::Verdict;
use crate::plan::sentence::{before_mm, signed_mm};
use crate::say;
use crate::survey::set_up::count;

/// A main in the other unit is near its middle within this, mm. Common practice, no source.
const NEAR_MM: f64 = 1.0;

/// The mains contradict the datum where it lies this many times their own scatter from where they put it.
const SCATTERS: f64 = 3.0;

/// And this many times what the datum can be read to: 1 in 1000 of normal scatter.
const SIGMAS: f64 = 3.3;

/// Mains that scatter no more were touched at their middles on purpose, mm. Common practice, no source.
const CAREFUL_MM: f64 = 0.05;

/// The bores confirm a datum that is off where they stand off by as much within this share of it.
const CONFIRMS: f64 = 0.25;

/// A spacing within this share of an inch's is an inch's: far inside what a touch at a main's edge changes.
const LIKE_INCHES: f64 = 0.02;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let ReadingFrame::Machine(readings) = &set_up.frame else { continue };
        let told = spacing(asked, index, set_up, readings).or_else(|| datum(asked, index, set_up, readings));
        found.extend(told);
    }
    found
}

/// Machine x rearwards and the main's place along, of every point.
fn stations(job: &Job, set_up: &SetUp, readings: &MachineReadings) -> Vec<[f64; 2]> {
    let points: &[AxisReading] = if readings.axis.is_empty() { &readings.mains } else { &readings.axis };
    let sign = if set_up.front == Front::Left { 1.0 } else { -1.0 };
    let mains = &job.block.journal_axis.mains;
    points
        .iter()
        .filter_map(|p| Some([sign * p.at_mm[0], mains.iter().find(|m| m.name == p.main)?.x_mm]))
        .collect()
}

fn spacing(asked: &Asked<'_>, index: usize, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let stations = stations(asked.job, set_up, readings);
    let n = count(stations.len());
    let mean = |k: usize| stations.iter().map(|s| s[k]).sum::<f64>() / n;
    let (machine, main) = (mean(0), mean(1));
    let square: f64 = stations.iter().map(|s| (s[1] - main).powi(2)).sum();
    let slope = stations.iter().map(|s| (s[1] - main) * (s[0] - machine)).sum::<f64>() / square;
    let factor = FACTORS.into_iter().find(|f| (slope * f - 1.0).abs() < LIKE_INCHES)?;
    Some(Suspicion {
        code: "wrong_unit",
        verdict: Verdict::Hold,
        subject: format!("set-up {}", set_up.name),
        found: say!(
            "the mains were touched {slope:.4} times as far apart as the block has them; {} they are where they belong",
            unit_words(factor)
        ),
        likely: say!("the table of the journal axis {}", unit_cause(factor)),
        ask: "in which unit was the journal axis read?".into(),
        evidence: figures([("spacing_ratio", slope), ("factor", factor)]),
        cylinders: asked.readings.cylinders(index),
    })
}

fn datum(asked: &Asked<'_>, index: usize, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let sign = if set_up.front == Front::Left { 1.0 } else { -1.0 };
    let along = sign * readings.along_x_mm;
    let apart: Vec<f64> =
        stations(asked.job, set_up, readings).iter().map(|[machine, main]| along + main - machine).collect();
    let middle = median(apart.clone());
    // Mains touched at random places of their width say little.
    let scatter = spread(&apart, middle);
    let instruments = &asked.job.instruments;
    let reading = SIGMAS * instruments.along_mm;
    if apart.len() < 2 || middle.abs() <= reading.max(SCATTERS * scatter) {
        return None;
    }
    let stands = asked.readings.as_typed(index);
    let bores = median(stands.iter().map(|s| s.off_mm[0]).collect());
    // A datum typed too far back makes every bore read too far forward.
    let confirmed = !stands.is_empty() && (bores + middle).abs() <= CONFIRMS * middle.abs();
    let unit =
        FACTORS.into_iter().find(|f| (readings.along_x_mm * f * sign - along + middle).abs() < NEAR_MM);
    Some(Suspicion {
        code: "along_datum",
        verdict: if confirmed || scatter <= CAREFUL_MM { Verdict::Hold } else { Verdict::Go },
        subject: format!("set-up {}", set_up.name),
        found: say!(
            "the along datum lies {} from where the mains put it (scatter {}), and the bores stand {} along",
            signed_mm(middle, 3),
            before_mm(scatter, 3),
            signed_mm(bores, 3)
        ),
        likely: match unit {
            Some(factor) => say!("along.x {}", unit_cause(factor)),
            None if confirmed => "along.x typed wrongly or touched on another face".into(),
            None => "the mains touched off their middles".into(),
        },
        ask: say!("touch {} again: what does X read?", asked.job.block.journal_axis.along_datum),
        evidence: figures([("datum_off", middle), ("scatter", scatter), ("bores_along", bores)]),
        // Only one that holds explains the bores.
        cylinders: if confirmed || scatter <= CAREFUL_MM {
            stands.iter().map(|s| s.cylinder).collect()
        } else {
            Vec::new()
        },
    })
}
