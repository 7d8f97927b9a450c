//! Circles and bore axes in the bank frame.

use std::collections::BTreeMap;

use borewright_geometry::clock::distance_mm;
use borewright_geometry::sample::count;
use borewright_geometry::{Point, arc_centre_u_mm, fit_bore_axis, fit_circle, widest_gap_deg};

use super::bore::{Bore, CylinderSurvey, FoundCircle, Ring, Scatter};
use super::error::SurveyError;
use super::set_up::place_of;
use crate::job::rounds::Round;
use crate::job::{Job, PointReading, ReadingFrame, SetUp, SetUpPlacement, Surface, TableKind};

/// Every circle of every set-up, in bank coordinates.
pub(super) fn circles(
    job: &Job,
    placements: &[Option<SetUpPlacement>],
    rounds: &[Round],
) -> Result<Vec<FoundCircle>, Vec<SurveyError>> {
    let (mut found, mut errors) = (Vec::new(), Vec::new());
    for (index, (set_up, placement)) in job.set_ups.iter().zip(placements).enumerate() {
        let to_bank = ToBank::new(job, set_up, placement.as_ref());
        let mut by_set: BTreeMap<Option<&str>, usize> = BTreeMap::new();
        for (at, round) in rounds.iter().enumerate().filter(|(_, r)| r.set_up == index) {
            by_set.entry(round.set.as_deref()).or_insert(at);
        }
        let round = |set: &Option<String>| by_set.get(&set.as_deref()).copied().unwrap_or_default();
        for reading in &set_up.bores {
            found.push(FoundCircle {
                cylinder: reading.cylinder,
                bank: set_up.bank,
                set_up: index,
                depth_mm: reading.depth_mm,
                centre_mm: to_bank.place(reading.centre_mm, reading.depth_mm),
                diameter_mm: reading.diameter_mm,
                surface: reading.surface,
                set: reading.set.clone(),
                round: round(&reading.set),
                planned: true,
                roundness_mm: None,
                metal_mm: [reading.diameter_mm / 2.0; 2],
                u_mm: job.instruments.centre_mm,
                gap_deg: None,
            });
        }
        for group in point_groups(&set_up.points) {
            let first = group[0];
            let points: Vec<[f64; 2]> = group.iter().map(|p| to_bank.place(p.at_mm, p.depth_mm)).collect();
            match fit_circle(&points) {
                Ok(circle) => found.push(FoundCircle {
                    cylinder: first.cylinder,
                    bank: set_up.bank,
                    set_up: index,
                    depth_mm: first.depth_mm,
                    centre_mm: circle.centre_mm,
                    diameter_mm: 2.0 * circle.radius_mm,
                    surface: first.surface,
                    set: first.set.clone(),
                    round: round(&first.set),
                    planned: true,
                    roundness_mm: Some(circle.roundness_mm),
                    metal_mm: metal(&points, circle.centre_mm),
                    u_mm: arc_centre_u_mm(&points, circle.centre_mm, job.instruments.centre_mm),
                    gap_deg: Some(widest_gap_deg(&points, circle.centre_mm)),
                }),
                Err(error) => errors.push(SurveyError::Circle {
                    at: place_of(set_up, TableKind::Points, first.line),
                    cylinder: first.cylinder,
                    depth_mm: first.depth_mm,
                    found: error.to_string(),
                }),
            }
        }
    }
    choose_rounds(&mut found);
    for set_up in &job.set_ups {
        for wall in &set_up.walls {
            let read = found.iter().any(|c| c.cylinder == wall.cylinder && c.surface == wall.surface);
            let told = |e: &SurveyError| {
                matches!(e, SurveyError::Wall { cylinder, surface, .. }
                    if *cylinder == wall.cylinder && *surface == wall.surface.word())
            };
            if wall.surface != Surface::Parent && !read && !errors.iter().any(told) {
                errors.push(SurveyError::Wall {
                    at: place_of(set_up, TableKind::Walls, wall.line),
                    cylinder: wall.cylinder,
                    surface: wall.surface.word(),
                });
            }
        }
    }
    if errors.is_empty() { Ok(found) } else { Err(errors) }
}

/// Nearest and farthest of some points from a centre, mm.
fn metal(points: &[[f64; 2]], centre: [f64; 2]) -> [f64; 2] {
    points
        .iter()
        .map(|p| distance_mm(*p, centre))
        .fold([f64::INFINITY, 0.0], |[near, far], r| [near.min(r), far.max(r)])
}

/// The plan rests on the first round of a bore on a surface: a later one says how far the first is to be believed,
/// and must not move what was planned.
fn choose_rounds(circles: &mut [FoundCircle]) {
    let mut first: BTreeMap<(u32, Surface), usize> = BTreeMap::new();
    for circle in circles.iter() {
        let of = first.entry((circle.cylinder, circle.surface)).or_insert(circle.round);
        *of = (*of).min(circle.round);
    }
    for circle in circles {
        circle.planned = first.get(&(circle.cylinder, circle.surface)) == Some(&circle.round);
    }
}

/// Points of one cylinder, depth, surface and set; the order of the file is kept within a group.
pub(super) fn point_groups(points: &[PointReading]) -> Vec<Vec<&PointReading>> {
    type Key<'p> = (u32, u64, Surface, Option<&'p str>);
    let mut groups: BTreeMap<Key<'_>, Vec<&PointReading>> = BTreeMap::new();
    for point in points {
        // Depths are not negative, so their bits sort as they do.
        let key = (point.cylinder, point.depth_mm.abs().to_bits(), point.surface, point.set.as_deref());
        groups.entry(key).or_default().push(point);
    }
    groups.into_values().collect()
}

/// What takes a set-up's x and y at a depth to the bank's.
pub(super) struct ToBank<'a> {
    placement: Option<&'a SetUpPlacement>,
    /// The deck in machine coordinates as z = a + b x + c y.
    deck: [f64; 3],
}

impl<'a> ToBank<'a> {
    pub(super) fn new(job: &Job, set_up: &SetUp, placement: Option<&'a SetUpPlacement>) -> Self {
        let mut deck = [0.0; 3];
        if let (ReadingFrame::Machine(readings), Some(placement)) = (&set_up.frame, placement) {
            deck = borewright_geometry::fit_plane(&readings.deck_mm).map_or_else(
                |_| nominal_deck(job, set_up, placement),
                |plane| {
                    let [nx, ny, nz] = plane.normal;
                    let [px, py, pz] = plane.point_mm;
                    [pz + (nx * px + ny * py) / nz, -nx / nz, -ny / nz]
                },
            );
        }
        Self { placement, deck }
    }

    pub(super) fn place(&self, [x, y]: [f64; 2], depth_mm: f64) -> [f64; 2] {
        let Some(placement) = self.placement else { return [x, y] };
        let z = self.deck[0] + self.deck[1] * x + self.deck[2] * y - depth_mm;
        let at = placement.point(Point::new(x, y, z));
        [at.x_mm(), at.y_mm()]
    }
}

/// Where no deck was read: the plane at the block's deck height, square to the bank's Z.
fn nominal_deck(job: &Job, set_up: &SetUp, placement: &SetUpPlacement) -> [f64; 3] {
    let height = job.bank(set_up.bank).deck_height_mm;
    let back = placement.inverse();
    let at = back.point(Point::new(0.0, 0.0, height));
    let up = back.displacement(borewright_geometry::Displacement::new(0.0, 0.0, 1.0));
    let (b, c) = (-up.x_mm() / up.z_mm(), -up.y_mm() / up.z_mm());
    [at.z_mm() - b * at.x_mm() - c * at.y_mm(), b, c]
}

/// The bores of each cylinder that was measured.
pub(super) fn by_cylinder(job: &Job, circles: &[FoundCircle]) -> BTreeMap<u32, CylinderSurvey> {
    let mut cylinders = BTreeMap::new();
    for (bank, layout) in job.block.banks.iter().enumerate() {
        for site in &layout.sites {
            let mut by_surface = BTreeMap::new();
            for surface in [Surface::Liner, Surface::Parent, Surface::Sleeve] {
                let of_surface: Vec<&FoundCircle> = circles
                    .iter()
                    .filter(|c| c.planned && c.cylinder == site.cylinder && c.surface == surface)
                    .collect();
                if let Some(bore) = bore(surface, &of_surface) {
                    by_surface.insert(surface, bore);
                }
            }
            let now = [Surface::Parent, Surface::Liner, Surface::Sleeve]
                .iter()
                .find_map(|surface| by_surface.get(surface).cloned());
            if let Some(now) = now {
                cylinders.insert(site.cylinder, CylinderSurvey { bank, now, by_surface });
            }
        }
    }
    cylinders
}

/// The bore that these circles of one surface make: axis, diameters by depth, roundness; `None` of no circle.
fn bore(surface: Surface, circles: &[&FoundCircle]) -> Option<Bore> {
    let centres: Vec<(f64, [f64; 2])> = circles.iter().map(|c| (c.depth_mm, c.centre_mm)).collect();
    let axis = fit_bore_axis(&centres)?;
    let mut rows: Vec<[f64; 2]> = circles.iter().map(|c| [c.depth_mm, c.diameter_mm]).collect();
    rows.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let depths_mm = [rows.first()?[0], rows.last()?[0]];
    let diameters_mm = rows
        .chunk_by(|a, b| a[0].total_cmp(&b[0]).is_eq())
        .map(|same| [same[0][0], same.iter().map(|r| r[1]).sum::<f64>() / count(same.len())])
        .collect();
    let mut rings: Vec<Ring> = circles
        .iter()
        .map(|c| Ring { depth_mm: c.depth_mm, centre_mm: c.centre_mm, metal_mm: c.metal_mm, u_mm: c.u_mm })
        .collect();
    rings.sort_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
    let farthest_rows_mm = rings
        .chunk_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm).is_eq())
        .map(|same| [same[0].depth_mm, same.iter().map(|r| r.metal_mm[1]).fold(f64::NEG_INFINITY, f64::max)])
        .collect();
    Some(Bore {
        farthest_rows_mm,
        scatter: Scatter::of(&rings),
        rings,
        surface,
        axis,
        diameters_mm,
        diameter_mm: circles.iter().map(|c| c.diameter_mm).sum::<f64>() / count(circles.len()),
        roundness_mm: circles.iter().filter_map(|c| c.roundness_mm).reduce(f64::max),
        depths_mm,
    })
}
