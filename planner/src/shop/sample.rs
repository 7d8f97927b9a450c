//! One bore's figure at one check: what was found less what was asked.

use serde::Serialize;

use crate::as_left::{AsLeft, Place};
use crate::job::Job;
use crate::plan::Stage;
use crate::plan::check::{Of, What};

/// What a figure is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A bored diameter.
    Size,
    /// A diameter left by stones.
    HonedSize,
    /// A place along the machine's X.
    PlaceX,
    /// A place along the machine's Y.
    PlaceY,
    /// Depth of a ledge.
    Depth,
}

impl Kind {
    /// What was measured, as printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::HonedSize => "honed size",
            Self::PlaceX => "place, X",
            Self::PlaceY => "place, Y",
            Self::Depth => "depth",
        }
    }
}

/// What one bore says, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// The machine's name.
    pub machine: String,
    /// The tool, where one of the machine file's was used.
    pub tool: Option<String>,
    /// Who measured it, taken to be who cut it, since the record does not say.
    pub by: String,
    /// What it is of.
    pub kind: Kind,
    /// Mean of what was found less what was asked.
    pub off_mm: f64,
    /// Standard uncertainty of measuring in it.
    pub u_mm: f64,
    /// What the job claims of its machine.
    pub claimed_mm: f64,
    /// How far under and over the asked figure is as asked.
    pub window_mm: Option<[f64; 2]>,
}

/// The figures of a job, a bore and check each.
#[must_use]
pub fn samples(job: &Job, left: &AsLeft) -> Vec<Sample> {
    let mut samples = Vec::new();
    let mut placed: Vec<(Kind, Option<u32>)> = Vec::new();
    for own in left.places.chunk_by(|a, b| a.check == b.check && a.cylinder == b.cylinder) {
        for of in [Of::Diameter, Of::X, Of::Y, Of::Depth] {
            let places: Vec<&Place> =
                own.iter().filter(|p| p.of == of && p.agree && p.off.is_some()).collect();
            let Some(sample) = one(job, left, &places) else { continue };
            // The parts of a pocket are bored from one place on the scales: the first of them that was read speaks
            // for all.
            let place = matches!(sample.kind, Kind::PlaceX | Kind::PlaceY);
            let key = (sample.kind, places.first().and_then(|p| p.cylinder));
            if place && placed.contains(&key) {
                continue;
            }
            placed.push(key);
            samples.push(sample);
        }
    }
    samples
}

fn one(job: &Job, left: &AsLeft, places: &[&Place]) -> Option<Sample> {
    let first = places.first()?;
    let kind = kind(first)?;
    let offs: Vec<f64> = places.iter().filter_map(|p| p.off).collect();
    let count = u32::try_from(offs.len()).ok().filter(|n| *n > 0).map(f64::from)?;
    let window = first.expected.zip(first.least.zip(first.most)).map(|(e, (l, m))| [l - e, m - e]);
    // The window of a place is made from what the job claims of the machine, so no capability is told of it.
    let window = window.filter(|_| !matches!(kind, Kind::PlaceX | Kind::PlaceY));
    let u = match kind {
        // What the machine adds to a place is what is asked for here, and no part of measuring.
        Kind::PlaceX | Kind::PlaceY => job.instruments.centre_mm,
        _ => first.u?,
    };
    Some(Sample {
        machine: job.machine.name.clone(),
        tool: left.tool(first.check).map(str::to_owned),
        by: first.by.clone(),
        kind,
        off_mm: offs.iter().sum::<f64>() / count,
        u_mm: u,
        claimed_mm: job.instruments.machine_mm,
        window_mm: window,
    })
}

fn kind(place: &Place) -> Option<Kind> {
    match (place.of, place.what, place.stage) {
        (Of::Diameter, What::Bore, _) => Some(Kind::HonedSize),
        // What the hone leaves between its stages is no size that was aimed at, and is left out.
        (Of::Diameter, What::Size, Stage::Pocket | Stage::Finish) => Some(Kind::Size),
        // A touch check is of the datum, not of a bore that was cut.
        (Of::X, What::Size, _) => Some(Kind::PlaceX),
        (Of::Y, What::Size, _) => Some(Kind::PlaceY),
        (Of::Depth, What::Ledge, _) => Some(Kind::Depth),
        _ => None,
    }
}
