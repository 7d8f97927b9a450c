//! Every circle as it was typed, beside where it lies in the bank.

use borewright_geometry::fit_circle;

use crate::job::{Job, SetUp, SetUpPlacement, Surface};
use crate::survey::bores::{ToBank, point_groups};
use borewright_geometry::sample::count;

/// One circle of a table.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reading {
    pub(super) set_up: usize,
    pub(super) bank: usize,
    pub(super) cylinder: u32,
    pub(super) depth_mm: f64,
    pub(super) surface: Surface,
    pub(super) set: Option<String>,
    /// Its centre in the set-up's own frame.
    pub(super) raw_mm: [f64; 2],
    /// Its centre in the bank.
    pub(super) at_mm: [f64; 2],
    pub(super) diameter_mm: f64,
    /// Whether the centre was fitted through raw points.
    pub(super) from_points: bool,
}

/// One bore of one set-up: the mean of its circles.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stand {
    pub(super) cylinder: u32,
    /// Its true place.
    pub(super) true_mm: [f64; 2],
    /// Measured less true.
    pub(super) off_mm: [f64; 2],
    /// How many circles.
    pub(super) circles: usize,
}

/// All circles of the job's tables, in their order.
pub(super) struct Readings<'a> {
    job: &'a Job,
    to_bank: Vec<ToBank<'a>>,
    all: Vec<Reading>,
}

impl<'a> Readings<'a> {
    pub(super) fn of(job: &'a Job, placements: &'a [Option<SetUpPlacement>]) -> Self {
        let to_bank: Vec<ToBank<'a>> =
            job.set_ups.iter().zip(placements).map(|(s, p)| ToBank::new(job, s, p.as_ref())).collect();
        let mut all = Vec::new();
        for (index, (set_up, to_bank)) in job.set_ups.iter().zip(&to_bank).enumerate() {
            all.extend(circles_of(set_up).into_iter().map(|read| Reading {
                set_up: index,
                at_mm: to_bank.place(read.raw_mm, read.depth_mm),
                ..read
            }));
        }
        Self { job, to_bank, all }
    }

    /// All circles of one set-up.
    pub(super) fn of_set_up(&self, set_up: usize) -> Vec<&Reading> {
        self.all.iter().filter(|r| r.set_up == set_up).collect()
    }

    /// A cylinder's true place in its bank.
    pub(super) fn true_mm(&self, cylinder: u32) -> [f64; 2] {
        self.job
            .site(cylinder)
            .map_or([0.0; 2], |(bank, site)| [site.x_mm, self.job.bank(bank).axis_offset_mm])
    }

    /// Measured less true, where the centre had been typed otherwise.
    pub(super) fn off_if_mm(&self, reading: &Reading, typed_mm: [f64; 2]) -> [f64; 2] {
        let at = self.to_bank[reading.set_up].place(typed_mm, reading.depth_mm);
        let true_mm = self.true_mm(reading.cylinder);
        [0, 1].map(|k| at[k] - true_mm[k])
    }

    /// How each bore of a set-up stands, each circle typed as `typed` says, in the order of the bank.
    ///
    /// Bores as they came only: on the liner where it was read.
    pub(super) fn stands(&self, set_up: usize, typed: impl Fn(&Reading) -> [f64; 2]) -> Vec<Stand> {
        let of_set_up = self.of_set_up(set_up);
        let bank = self.job.set_ups[set_up].bank;
        let mut stands = Vec::new();
        for site in &self.job.bank(bank).sites {
            let on = |s: Surface| of_set_up.iter().any(|r| r.cylinder == site.cylinder && r.surface == s);
            let Some(came) = [Surface::Liner, Surface::Parent, Surface::Sleeve].into_iter().find(|s| on(*s))
            else {
                continue;
            };
            let own: Vec<[f64; 2]> = of_set_up
                .iter()
                .filter(|r| r.cylinder == site.cylinder && r.surface == came)
                .map(|r| self.off_if_mm(r, typed(r)))
                .collect();
            let mean = |k: usize| own.iter().map(|o| o[k]).sum::<f64>() / count(own.len());
            stands.push(Stand {
                cylinder: site.cylinder,
                true_mm: self.true_mm(site.cylinder),
                off_mm: [mean(0), mean(1)],
                circles: own.len(),
            });
        }
        stands
    }

    /// Where the bores of a set-up stand by the coordinates as typed.
    pub(super) fn as_typed(&self, set_up: usize) -> Vec<Stand> {
        self.stands(set_up, |r| r.raw_mm)
    }

    /// The mean of a bore's centres in the set-up's own frame, one component.
    pub(super) fn mean_raw(&self, set_up: usize, cylinder: u32, component: usize) -> f64 {
        let own = || self.all.iter().filter(|r| r.set_up == set_up && r.cylinder == cylinder);
        own().map(|r| r.raw_mm[component]).sum::<f64>() / count(own().count())
    }

    /// The cylinders of a set-up, in the order of the bank.
    pub(super) fn cylinders(&self, set_up: usize) -> Vec<u32> {
        self.as_typed(set_up).iter().map(|s| s.cylinder).collect()
    }
}

/// A set-up's circles; those through points where the points make one.
fn circles_of(set_up: &SetUp) -> Vec<Reading> {
    let centres = set_up.bores.iter().map(|b| Reading {
        set_up: 0,
        bank: set_up.bank,
        cylinder: b.cylinder,
        depth_mm: b.depth_mm,
        surface: b.surface,
        set: b.set.clone(),
        raw_mm: b.centre_mm,
        at_mm: b.centre_mm,
        diameter_mm: b.diameter_mm,
        from_points: false,
    });
    let fitted = point_groups(&set_up.points).into_iter().filter_map(|group| {
        let points: Vec<[f64; 2]> = group.iter().map(|p| p.at_mm).collect();
        let (first, circle) = (group.first()?, fit_circle(&points).ok()?);
        Some(Reading {
            set_up: 0,
            bank: set_up.bank,
            cylinder: first.cylinder,
            depth_mm: first.depth_mm,
            surface: first.surface,
            set: first.set.clone(),
            raw_mm: circle.centre_mm,
            at_mm: circle.centre_mm,
            diameter_mm: 2.0 * circle.radius_mm,
            from_points: true,
        })
    });
    centres.chain(fitted).collect()
}
