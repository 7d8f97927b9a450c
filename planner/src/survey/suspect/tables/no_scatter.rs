//! Readings that scatter less than any instrument does: worked out from fewer, not read.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use borewright_geometry::sample::count;
use borewright_geometry::{fit_bore_axis, fit_circle, fit_plane};

use super::evidence::figures;
use super::grid::{NEVER, chance, grid_mm, read_unit_mm};
use super::{Asked, Suspicion};
use crate::job::{EXACT_MM, Job, MachineReadings, ReadingFrame, SetUp};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::bores::point_groups;

/// The largest residual is over so many times smaller than a reading is known to: an uncertainty that is stated too large by less is
/// honest. Common practice, no source.
const BETTER: f64 = 5.0;

/// Of so many fits and more the worst, along and across, are left out: one slip among readings does not make the rest honest.
const FITS: usize = 8;
const WORST: usize = 2;

/// How far some readings lie from what was fitted through them.
#[derive(Default)]
struct Left {
    /// The most of each fit, mm, and how many residuals it left free.
    fits: Vec<(f64, usize)>,
    /// The grid that the readings stand on, mm.
    told_mm: f64,
}

impl Left {
    fn add(&mut self, residuals_mm: impl IntoIterator<Item = f64>, free: usize) {
        self.fits.push((residuals_mm.into_iter().map(f64::abs).fold(0.0, f64::max), free));
    }

    /// The most that readings lie off, mm, and how many are free, all but so many of the worst fits taken.
    fn most(&self, left_out: usize) -> (f64, usize) {
        let mut fits = self.fits.clone();
        fits.sort_by(|a, b| a.0.total_cmp(&b.0));
        fits.truncate(fits.len() - left_out.min(fits.len()));
        (fits.last().map_or(0.0, |fit| fit.0), fits.iter().map(|fit| fit.1).sum())
    }

    /// Adds a column along a straight line, each (place along it, figure). One figure throughout is asked about as such.
    fn add_line(&mut self, column: &[(f64, f64)]) {
        let all_one = column.windows(2).all(|pair| pair[0].1.to_bits() == pair[1].1.to_bits());
        let points: Vec<(f64, [f64; 2])> = column.iter().map(|(along, at)| (*along, [*at, 0.0])).collect();
        let Some(line) = fit_bore_axis(&points).filter(|_| column.len() > 2 && !all_one) else { return };
        self.add(column.iter().map(|(along, at)| at - line.at(*along)[0]), column.len() - 2);
    }

    /// Adds how finely some figures are told.
    fn told(&mut self, values_mm: &[f64], job: &Job) {
        self.told_mm = grid_mm(values_mm, read_unit_mm(job)).unwrap_or_default().max(self.told_mm);
    }

    /// What they lie off by and how many are free, where readings that are known to `u_mm` each never agree so well, as finely as
    /// they are told: all of them, or all but the worst of many.
    fn too_good(&self, u_mm: f64) -> Option<(f64, usize)> {
        let worst = if self.fits.len() < FITS { 0 } else { WORST };
        [0, worst].map(|left_out| self.most(left_out)).into_iter().find(|(most_mm, free)| {
            let width_mm = (2.0 * most_mm).max(self.told_mm).max(EXACT_MM);
            BETTER * most_mm < u_mm && chance(width_mm, u_mm, *free) < NEVER
        })
    }
}

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let of_set_ups = asked.job.set_ups.iter().enumerate().flat_map(|(index, set_up)| {
        [points(asked, index, set_up), axis(asked, index, set_up), deck(asked, index, set_up)]
    });
    bores(asked).into_iter().chain(of_set_ups.flatten()).collect()
}

/// Circles that all lie on straight lines through their bores.
fn bores(asked: &Asked<'_>) -> Option<Suspicion> {
    type Key<'a> = (usize, u32, &'static str, Option<&'a str>);
    let mut left = Left::default();
    for k in [0, 1] {
        let mut own: BTreeMap<Key<'_>, Vec<(f64, f64)>> = BTreeMap::new();
        for (index, set_up) in asked.job.set_ups.iter().enumerate() {
            let column: Vec<f64> = set_up.bores.iter().map(|bore| bore.centre_mm[k]).collect();
            left.told(&column, asked.job);
            for bore in &set_up.bores {
                let key = (index, bore.cylinder, bore.surface.word(), bore.set.as_deref());
                own.entry(key).or_default().push((bore.depth_mm, bore.centre_mm[k]));
            }
        }
        own.values().for_each(|column| left.add_line(column));
    }
    let u_mm = asked.job.instruments.centre_mm;
    let of = left.too_good(u_mm)?;
    let found = say!(
        "the centres of circles lie within {} of straight lines down their bores, all or all but the worst two",
        mm(of.0, 4)
    );
    Some(asks(found, (Subject::whole("readings"), asked.job.block.cylinders()), of, u_mm))
}

/// Raw points that all lie on circles.
fn points(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> Option<Suspicion> {
    let mut left = Left::default();
    for k in [0, 1] {
        left.told(&set_up.points.iter().map(|p| p.at_mm[k]).collect::<Vec<_>>(), asked.job);
    }
    for group in point_groups(&set_up.points).iter().filter(|group| group.len() > 3) {
        let at: Vec<[f64; 2]> = group.iter().map(|p| p.at_mm).collect();
        let Ok(circle) = fit_circle(&at) else { continue };
        left.add(circle.residuals_mm(&at), at.len() - 3);
    }
    let u_mm = asked.job.instruments.centre_mm;
    let of = left.too_good(u_mm)?;
    let found = say!(
        "the points of set-up {} lie within {} of perfect circles, all or all but the worst two",
        plain(&set_up.name, 40),
        mm(of.0, 4)
    );
    Some(asks(found, of_set_up(asked, index, set_up), of, u_mm))
}

fn axis(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> Option<Suspicion> {
    let machine = machine(set_up)?;
    let mut left = Left::default();
    for k in [1, 2] {
        left.told(&machine.axis.iter().map(|main| main.at_mm[k]).collect::<Vec<_>>(), asked.job);
        left.add_line(&machine.axis.iter().map(|main| (main.at_mm[0], main.at_mm[k])).collect::<Vec<_>>());
    }
    let u_mm = asked.job.instruments.axis_mm;
    let of = left.too_good(u_mm)?;
    let found = say!(
        "the mains of set-up {} lie within {} of one straight line",
        plain(&set_up.name, 40),
        mm(of.0, 4)
    );
    Some(asks(found, of_set_up(asked, index, set_up), of, u_mm))
}

fn deck(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> Option<Suspicion> {
    let machine = machine(set_up)?;
    let mut left = Left::default();
    let heights: Vec<f64> = machine.deck_mm.iter().map(|at| at[2]).collect();
    // One height throughout is asked about as such.
    if heights.windows(2).all(|pair| pair[0].to_bits() == pair[1].to_bits()) {
        return None;
    }
    left.told(&heights, asked.job);
    let plane = fit_plane(&machine.deck_mm).ok()?;
    let free = machine.deck_mm.len().saturating_sub(3);
    left.add(machine.deck_mm.iter().map(|at| plane.distance_mm(*at)), free);
    let u_mm = asked.job.instruments.deck_mm;
    let of = left.too_good(u_mm)?;
    let found = say!(
        "the deck of set-up {} was read within {} of a perfect plane",
        plain(&set_up.name, 40),
        mm(of.0, 4)
    );
    Some(asks(found, of_set_up(asked, index, set_up), of, u_mm))
}

fn machine(set_up: &SetUp) -> Option<&MachineReadings> {
    match &set_up.frame {
        ReadingFrame::Machine(machine) => Some(machine),
        ReadingFrame::Journal => None,
    }
}

fn of_set_up(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> (Subject, Vec<u32>) {
    (Subject::set_up(&set_up.name), asked.readings.cylinders(index))
}

fn asks(
    found: Sentence,
    (subject, cylinders): (Subject, Vec<u32>),
    (most_mm, free): (f64, usize),
    u_mm: f64,
) -> Suspicion {
    Suspicion {
        code: Code::NoScatter,
        verdict: Verdict::Hold,
        subject,
        found: say!("{found}, and each is known to {}", before_mm(u_mm, 4)),
        likely: "worked out from fewer readings, or from the drawing: no instrument scatters so little".into(),
        ask: "which of them were read? Write those alone, or read again; where the instrument is so good, say so in `instruments`".into(),
        evidence: figures([("most", most_mm), ("u", u_mm), ("free", count(free))]),
        cylinders: cylinders.into(),
    }
}
