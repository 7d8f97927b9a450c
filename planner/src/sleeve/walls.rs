//! The least wall of parent metal left around a part of the pocket.

use crate::job::Job;
use crate::job::pocket::Feature;
use crate::limits::parent_wall;
use crate::place::Positions;
use crate::plan::fit::{WallFrom, WallLeft};
use crate::plan::sentence::Sentence;
use crate::say;
use crate::survey::Survey;

impl WallLeft {
    /// What a reader must know of a wall that was not read where it counts.
    #[must_use]
    pub fn note(&self, feature: &str) -> Option<Sentence> {
        let feature = crate::read::fault::plain(feature, 40);
        match self.from {
            WallFrom::Read => None,
            WallFrom::OtherDepths => {
                Some(say!("{}: no wall was read at its depth; the least read elsewhere stands in", feature))
            }
            WallFrom::Limit => Some(say!("{}: no wall was read; the least allowed stands in", feature)),
        }
    }
}

/// The least wall left around one cylinder of the pocket, over all bores planned with it.
///
/// |p - c(d)| - R over every wall reading, p the far side of the wall as the limit on it has it.
pub(super) fn least(
    job: &Job,
    survey: &Survey,
    positions: &Positions,
    feature: &Feature,
) -> Option<WallLeft> {
    let mut own: Option<WallLeft> = None;
    let mut other: Option<WallLeft> = None;
    for bore in &positions.bores {
        let Some(found) = survey.cylinders.get(&bore.site.cylinder) else { continue };
        let readings = job.set_ups.iter().flat_map(|s| &s.walls).filter(|w| w.cylinder == bore.site.cylinder);
        for reading in readings {
            let Some(wall) = reading.wall_mm else { continue };
            let Some(at) = found.surface(job, reading.surface, reading.depth_mm) else { continue };
            let (sin, cos) = reading.clock_deg.to_radians().sin_cos();
            let far = at.radius_mm + wall;
            let cut = bore.cut_mm(reading.depth_mm);
            let [x, y] = [at.centre_mm[0] + far * cos - cut[0], at.centre_mm[1] + far * sin - cut[1]];
            let left = x.hypot(y) - feature.radius_mm;
            let here = positions.pocket.at(reading.depth_mm).is_some_and(|f| f.part == feature.part);
            let (kept, from) =
                if here { (&mut own, WallFrom::Read) } else { (&mut other, WallFrom::OtherDepths) };
            if kept.is_none_or(|k| left < k.wall) {
                *kept = Some(WallLeft { wall: left, from, cylinder: Some(bore.site.cylinder) });
            }
        }
    }
    let limit =
        || job.limits.get(parent_wall::LIMIT.name).or_else(|| job.limits.get(parent_wall::THRUST.name));
    own.or(other)
        .or_else(|| limit().map(|l| WallLeft { wall: l.least_mm, from: WallFrom::Limit, cylinder: None }))
}
