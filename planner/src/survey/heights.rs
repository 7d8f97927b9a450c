//! Liner heights against the deck, and how much of the gasket's combustion seal stands on the liner.

use serde::Serialize;

use super::Survey;
use crate::job::{FireRing, Job};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::say;
use borewright_geometry::sample::count;

/// Sunk by this much is felt with a fingernail, mm. Common practice, no source.
const FELT_MM: f64 = 0.05;

/// Clocks at which the seal's width is worked out, degrees apart: finer than a seal can be seen to tell.
const STEP_DEG: u16 = 5;

/// The heights of all liners that were read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Heights {
    /// By cylinder.
    pub cylinders: Vec<LinerHeight>,
}

/// One liner's height.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LinerHeight {
    /// The cylinder.
    pub cylinder: u32,
    /// Lowest reading above the deck, mm; negative is sunk.
    pub least: f64,
    /// Highest reading above the deck, mm; negative is sunk.
    pub most: f64,
    /// Mean of the readings above the deck, mm.
    pub mean: f64,
    /// Which way it leans: the clock of the lowest reading, degrees.
    pub lowest_at: f64,
    /// How the fire ring stands, where the block describes one and a liner.
    pub fire_ring: Option<RingWidth>,
    /// How the liner stands, in words.
    pub text: Sentence,
}

/// Radial width of the fire ring standing on the liner and on the parent metal, round the circle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RingWidth {
    /// Least width on the liner, mm.
    pub on_liner_least: f64,
    /// Where that is, degrees.
    pub least_at: f64,
    /// Most width on the liner, mm.
    pub on_liner_most: f64,
    /// Most width on the parent metal, mm.
    pub on_parent_most: f64,
    /// Most width standing over nothing, mm (the ring reaches into the bore).
    pub over_bore_most: f64,
}

/// The heights, where any were read.
pub(crate) fn heights(job: &Job, survey: &Survey) -> Option<Heights> {
    let mut cylinders = Vec::new();
    for (bank, layout) in job.block.banks.iter().enumerate() {
        for site in &layout.sites {
            let of_it = job.set_ups.iter().flat_map(|s| &s.heights).filter(|h| h.cylinder == site.cylinder);
            let readings: Vec<_> = of_it.collect();
            let Some(lowest) = readings.iter().min_by(|a, b| a.height_mm.total_cmp(&b.height_mm)) else {
                continue;
            };
            let least = lowest.height_mm;
            let most = readings.iter().map(|h| h.height_mm).fold(f64::NEG_INFINITY, f64::max);
            let mean = readings.iter().map(|h| h.height_mm).sum::<f64>() / count(readings.len());
            let fire_ring = ring_width(job, survey, bank, site.cylinder);
            let mut text = if least < 0.0 {
                let felt = if least <= -FELT_MM { ", felt with a fingernail" } else { "" };
                say!("sunk {} at clock {:.0}{}", mm(-least, 3), lowest.clock_deg, felt)
            } else {
                say!("proud {} to {}", before_mm(least, 3), mm(most, 3))
            };
            if let Some(ring) = &fire_ring {
                text.push(say!(
                    "; {} of the fire ring stands on the liner at clock {:.0}, up to {} on the parent metal",
                    mm(ring.on_liner_least, 2),
                    ring.least_at,
                    mm(ring.on_parent_most, 2)
                ));
            }
            cylinders.push(LinerHeight {
                cylinder: site.cylinder,
                least,
                most,
                mean,
                lowest_at: lowest.clock_deg,
                fire_ring,
                text,
            });
        }
    }
    (!cylinders.is_empty()).then_some(Heights { cylinders })
}

/// Along each ray from the ring's centre: how much of the ring lies inside the old bore, on the liner, beyond it.
///
/// The ring is centred on the true position plus the gasket's shift on its dowels; the bore and the liner's
/// outside are centred where the bore was measured at the deck. The parent hole's own centre is another one,
/// and is not used here unless it was read.
fn ring_width(job: &Job, survey: &Survey, bank: usize, cylinder: u32) -> Option<RingWidth> {
    let (ring, liner): (FireRing, _) = (job.block.fire_ring?, job.block.parent.liner.as_ref()?);
    let found = survey.cylinders.get(&cylinder)?.by_surface.get(&crate::job::Surface::Liner)?;
    let (_, site) = job.site(cylinder)?;
    let shift = job.gasket_shift_mm[bank];
    let centre = [site.x_mm + shift[0], job.bank(bank).axis_offset_mm + shift[1]];
    let off = [0, 1].map(|k| found.axis.at_deck_mm[k] - centre[k]);
    let (bore, outside) = (found.radius_mm(0.0), liner.outside_mm / 2.0);
    let (inner, outer) = (ring.inside_mm / 2.0, ring.outside_mm / 2.0);
    let mut width = RingWidth {
        on_liner_least: f64::INFINITY,
        least_at: 0.0,
        on_liner_most: 0.0,
        on_parent_most: 0.0,
        over_bore_most: 0.0,
    };
    for degrees in (0..360).step_by(usize::from(STEP_DEG)) {
        let clock = f64::from(u16::try_from(degrees).unwrap_or(0));
        let (sin, cos) = clock.to_radians().sin_cos();
        // Where the ray from the ring's centre leaves a circle of radius r about `off`.
        let reach = |r: f64| {
            let along = off[0] * cos + off[1] * sin;
            let across = off[1] * cos - off[0] * sin;
            along + (r * r - across * across).max(0.0).sqrt()
        };
        let [bore_at, outside_at] = [bore, outside].map(|r| reach(r).clamp(inner, outer));
        let on_liner = (outside_at - bore_at).max(0.0);
        if on_liner < width.on_liner_least {
            (width.on_liner_least, width.least_at) = (on_liner, clock);
        }
        width.on_liner_most = width.on_liner_most.max(on_liner);
        width.on_parent_most = width.on_parent_most.max(outer - outside_at);
        width.over_bore_most = width.over_bore_most.max(bore_at - inner);
    }
    Some(width)
}
