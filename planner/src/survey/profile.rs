//! Profiles for drawing a survey: the one round each bore, and the journal axis along its length.

use borewright_geometry::clock::clock_deg;
use borewright_geometry::clock::distance_mm;
use borewright_geometry::{Line, fit_circle, fit_harmonics, minimum_zone_line};

use super::Survey;
use super::bores::{ToBank, point_groups};
use super::plate::studs_round;
use crate::job::{Job, ReadingFrame, Surface};

/// More readings of one circle than this are thinned to the extremes of each degree: finer than any line drawn.
const MOST_READINGS: usize = 720;
/// A profile needs its middle and its place, and something beside.
const FEWEST_READINGS: usize = 4;

/// The radius of one bore at one depth, round the clock.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// The cylinder.
    pub cylinder: u32,
    /// Index of its bank.
    pub bank: usize,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// What was read.
    pub surface: Option<Surface>,
    /// Which round of measuring, where several were made.
    pub set: Option<String>,
    /// The traces: probe points alone, or plate off and plate on.
    pub traces: Vec<Trace>,
    /// The studs that stand round the bore, by clock, degrees.
    pub studs_deg: Vec<f64>,
}

/// One trace of a profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// With the torque plate on or off; `None` for probe points, which do not say.
    pub plate_on: Option<bool>,
    /// Clock, degrees, and radius less that of the least-squares circle, mm; by clock.
    pub readings: Vec<[f64; 2]>,
    /// Highest less lowest, mm.
    pub peak_to_valley_mm: f64,
}

/// The journal axis of one set-up along its length.
#[derive(Debug, Clone, PartialEq)]
pub struct AxisLine {
    /// The set-up's name.
    pub set_up: String,
    /// Index of its bank.
    pub bank: usize,
    /// The mains, front to rear.
    pub mains: Vec<MainAt>,
    /// The thinnest cylinder round the mains: y and z of its middle at the first and the last main, mm.
    pub zone_mm: [[f64; 2]; 2],
    /// Its diameter, mm.
    pub straightness_mm: f64,
}

/// One main on the journal axis.
#[derive(Debug, Clone, PartialEq)]
pub struct MainAt {
    /// Its name.
    pub name: String,
    /// Along the axis as the block describes it, mm.
    pub x_mm: f64,
    /// Off the fitted line, y and z, mm.
    pub off_mm: [f64; 2],
    /// Across to the next main's centre, mm; `None` at the last.
    pub step_mm: Option<f64>,
}

/// The profile of every bore that was read round, bank by bank, front to rear, by depth.
pub(crate) fn profiles(job: &Job, survey: &Survey) -> Vec<Profile> {
    let mut profiles = from_points(job, survey);
    profiles.extend(from_shape(job, survey));
    let place = |cylinder: u32| {
        let sites = job.block.banks.iter().flat_map(|b| &b.sites);
        sites.map(|s| s.cylinder).position(|c| c == cylinder)
    };
    profiles
        .sort_by(|a, b| place(a.cylinder).cmp(&place(b.cylinder)).then(a.depth_mm.total_cmp(&b.depth_mm)));
    profiles
}

fn from_points(job: &Job, survey: &Survey) -> Vec<Profile> {
    let mut profiles = Vec::new();
    for (set_up, placement) in job.set_ups.iter().zip(&survey.placements) {
        let to_bank = ToBank::new(job, set_up, placement.as_ref());
        for group in point_groups(&set_up.points) {
            let first = group[0];
            let points: Vec<[f64; 2]> = group.iter().map(|p| to_bank.place(p.at_mm, p.depth_mm)).collect();
            let Ok(circle) = fit_circle(&points) else { continue };
            let readings = points
                .iter()
                .map(|p| {
                    let (dx, dy) = (p[0] - circle.centre_mm[0], p[1] - circle.centre_mm[1]);
                    [clock_deg([dx, dy]), dx.hypot(dy) - circle.radius_mm]
                })
                .collect();
            let Some(trace) = trace(None, readings) else { continue };
            profiles.push(Profile {
                cylinder: first.cylinder,
                bank: set_up.bank,
                depth_mm: first.depth_mm,
                surface: Some(first.surface),
                set: first.set.clone(),
                traces: vec![trace],
                studs_deg: studs_round(job, survey, first.cylinder),
            });
        }
    }
    profiles
}

/// A profile of each cylinder and depth that the table of shapes has, one trace with the plate off and one with it
/// on; size and the place of the gauge are taken out.
fn from_shape(job: &Job, survey: &Survey) -> Vec<Profile> {
    let mut profiles: Vec<Profile> = Vec::new();
    let read = || job.set_ups.iter().flat_map(|s| s.shape.iter().map(move |r| (s.bank, r)));
    for (bank, of) in read() {
        let known = |p: &Profile| p.cylinder == of.cylinder && p.depth_mm.total_cmp(&of.depth_mm).is_eq();
        if profiles.iter().any(known) {
            continue;
        }
        let traces = [false, true].into_iter().filter_map(|plate_on| {
            let own = read().map(|(_, r)| r).filter(|r| {
                r.cylinder == of.cylinder
                    && r.depth_mm.total_cmp(&of.depth_mm).is_eq()
                    && r.plate_on == plate_on
            });
            let radii: Vec<(f64, f64)> = own.map(|r| (r.clock_deg.rem_euclid(360.0), r.radius_mm)).collect();
            // Size, and the place that the gauge was held at, are no form.
            let fit = fit_harmonics(&radii).ok()?;
            let place = fit.order(1);
            let left = |&(clock, radius): &(f64, f64)| {
                let off = place.map_or(0.0, |h| h.amplitude_mm * (clock - h.phase_deg).to_radians().cos());
                [clock, radius - fit.mean_mm - off]
            };
            trace(Some(plate_on), radii.iter().map(left).collect())
        });
        profiles.push(Profile {
            cylinder: of.cylinder,
            bank,
            depth_mm: of.depth_mm,
            surface: None,
            set: None,
            traces: traces.collect(),
            studs_deg: studs_round(job, survey, of.cylinder),
        });
    }
    profiles.retain(|p| !p.traces.is_empty());
    profiles
}

/// A trace by clock, thinned where there is more than can be drawn; `None` of too few readings.
fn trace(plate_on: Option<bool>, mut readings: Vec<[f64; 2]>) -> Option<Trace> {
    if readings.len() < FEWEST_READINGS {
        return None;
    }
    readings.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let highest = readings.iter().map(|r| r[1]).fold(f64::NEG_INFINITY, f64::max);
    let lowest = readings.iter().map(|r| r[1]).fold(f64::INFINITY, f64::min);
    if readings.len() > MOST_READINGS {
        let thinned =
            readings.chunk_by(|a, b| a[0].floor().total_cmp(&b[0].floor()).is_eq()).flat_map(|degree| {
                let by_radius = |a: &&[f64; 2], b: &&[f64; 2]| a[1].total_cmp(&b[1]);
                let ends = [degree.iter().min_by(by_radius), degree.iter().max_by(by_radius)];
                let mut ends: Vec<[f64; 2]> = ends.into_iter().flatten().copied().collect();
                ends.sort_by(|a, b| a[0].total_cmp(&b[0]));
                ends.dedup();
                ends
            });
        readings = thinned.collect();
    }
    Some(Trace { plate_on, readings, peak_to_valley_mm: highest - lowest })
}

/// The journal axis of every machine set-up, drawn at the mains' described places.
pub(crate) fn axis_lines(job: &Job, survey: &Survey) -> Vec<AxisLine> {
    let mut lines = Vec::new();
    let read = job.set_ups.iter().filter(|s| matches!(s.frame, ReadingFrame::Machine(_)));
    for (set_up, axis) in read.zip(&survey.journal_axis) {
        let place = |name: &str| job.block.journal_axis.mains.iter().find(|m| m.name == name).map(|m| m.x_mm);
        let mut mains: Vec<MainAt> = axis
            .mains
            .iter()
            .filter_map(|m| {
                Some(MainAt {
                    name: m.main.clone(),
                    x_mm: place(&m.main)?,
                    off_mm: [m.y, m.z],
                    step_mm: None,
                })
            })
            .collect();
        for i in 1..mains.len() {
            let [a, b] = [mains[i - 1].off_mm, mains[i].off_mm];
            mains[i - 1].step_mm = Some(distance_mm(b, a));
        }
        let points: Vec<[f64; 3]> = mains.iter().map(|m| [m.x_mm, m.off_mm[0], m.off_mm[1]]).collect();
        let (Ok(zone), Some(first), Some(last)) = (minimum_zone_line(&points), mains.first(), mains.last())
        else {
            continue;
        };
        let zone_mm = [first.x_mm, last.x_mm].map(|x| across_at(&zone.line, x));
        lines.push(AxisLine {
            set_up: set_up.name.clone(),
            bank: set_up.bank,
            zone_mm,
            straightness_mm: axis.straightness,
            mains,
        });
    }
    lines
}

/// y and z of a line at an x.
fn across_at(line: &Line, x_mm: f64) -> [f64; 2] {
    let share = (x_mm - line.point_mm[0]) / line.direction[0];
    [1, 2].map(|k| line.point_mm[k] + share * line.direction[k])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_trace_is_thinned_and_keeps_its_extremes() {
        let readings: Vec<[f64; 2]> =
            (0..36_000_u32).map(|i| [f64::from(i) / 100.0, if i == 12_345 { 0.05 } else { 0.01 }]).collect();
        let trace = trace(None, readings).unwrap();
        assert!(trace.readings.len() <= 720 && (trace.peak_to_valley_mm - 0.04).abs() < 1e-12);
        assert!(trace.readings.iter().any(|r| r[1] > 0.049));
        assert!(trace.readings.is_sorted_by(|a, b| a[0] <= b[0]));
    }

    #[test]
    fn three_readings_are_no_profile() {
        assert_eq!(trace(None, vec![[0.0, 0.0], [120.0, 0.1], [240.0, 0.0]]), None);
    }
}
