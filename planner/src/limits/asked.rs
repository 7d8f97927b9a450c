//! The bore that a limit is asked about, and what of the job the limit may look up.

use borewright_geometry::Spread;

use super::{Datum, Lack};
use crate::job::pocket::Pocket;
use crate::job::{Job, Site};
use crate::plan::sentence::mm;
use crate::say;
use crate::survey::{CylinderSurvey, RadiusSource, Survey};

/// What a limit is asked about: one cylinder, with one sleeve's pocket.
pub struct Asked<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its survey.
    pub survey: &'a Survey,
    /// The pocket planned with.
    pub pocket: &'a Pocket,
    /// Index of the bank.
    pub bank: usize,
    /// The cylinder's true place along the bank.
    pub site: Site,
    /// What was found of it.
    pub found: &'a CylinderSurvey,
    /// What holding the block adds along and across, mm; nothing where the job does not ask for it.
    pub fixture_mm: [f64; 2],
    /// How the datum of its bank stands in the machine.
    pub datum: Datum,
}

impl Asked<'_> {
    /// The true position, mm.
    #[must_use]
    pub fn true_mm(&self) -> [f64; 2] {
        [self.site.x_mm, self.job.bank(self.bank).axis_offset_mm]
    }

    /// Where the planned centre should stand: the true position, or the bore that is there, at half the
    /// pocket's depth.
    #[must_use]
    pub fn target_mm(&self) -> [f64; 2] {
        match self.job.aim {
            crate::job::Aim::Journal => self.true_mm(),
            crate::job::Aim::Parent => {
                let half = self.pocket.depth_mm() / 2.0;
                self.seen_from_deck(self.found.now.axis.at(half), half)
            }
        }
    }

    /// The lack of a limit on the fire ring where the block's description has none.
    pub(super) fn no_ring(&self, name: &str) -> Option<Lack> {
        let (Some(limit), None) = (self.job.limits.get(name), self.job.block.fire_ring) else { return None };
        Some(Lack {
            code: "ring_not_described",
            short: "the block does not describe all of it",
            text: say!(
                "{} {} is asked for, and the block's description has no `fire_ring`: give the inside and outside \
             of the gasket's ring, or take the limit away",
                crate::job::words::limit(name),
                mm(limit.least_mm, 3)
            ),
        })
    }

    /// Where the dowels put the middle of the gasket's ring, mm.
    pub(super) fn gasket_mm(&self) -> [f64; 2] {
        let [x, y] = self.true_mm();
        let [dx, dy] = self.job.gasket_shift_mm[self.bank];
        [x + dx, y + dy]
    }

    /// What carries a place from the journal axis to the cut: axis across with the roll of the deck, along datum,
    /// machine, the difference of temperatures over the length it acts on, and the fixture where the job asks for
    /// it.
    #[must_use]
    pub fn datum_spread(&self) -> Spread {
        let [along, held_along, warm_along, axis, held_across, warm_across, roll, all_mm] =
            self.datum_parts();
        let root = |parts: [f64; 4]| parts.iter().map(|u| u * u).sum::<f64>().sqrt();
        Spread {
            x_mm: root([along, held_along, warm_along, 0.0]),
            y_mm: root([axis, held_across, warm_across, roll]),
            all_mm,
        }
    }

    /// What carries a measured surface to the cut: its axis, half a diameter where it was measured, machine, and
    /// what is read from that surface.
    #[must_use]
    pub(super) fn surface_spread(&self, axis_u_mm: f64, radius: RadiusSource, read_mm: f64) -> Spread {
        Spread::all(&self.surface_parts(axis_u_mm, radius, read_mm))
    }

    /// The parts of [`Self::datum_spread`] and what they come to, in the order of [`DATUM`].
    pub(super) fn datum_worked(&self) -> impl Iterator<Item = f64> + use<> {
        let spread = self.datum_spread();
        [spread.x_mm, spread.y_mm].into_iter().chain(self.datum_parts())
    }

    /// Standard uncertainties that [`Self::datum_spread`] is put together from, mm, in the order of the last eight of
    /// [`DATUM`].
    pub(super) fn datum_parts(&self) -> [f64; 8] {
        let i = &self.job.instruments;
        let [along, across] = self.fixture_mm;
        let [warm_along, warm_across] = self.true_mm().map(|length| length * self.job.unlike_per_mm());
        [i.along_mm, along, warm_along, i.axis_mm, across, warm_across, self.datum.roll_mm, i.machine_mm]
    }

    /// What [`Self::surface_spread`] is put together from, in the order of [`SURFACE`].
    pub(super) fn surface_parts(&self, axis_u_mm: f64, radius: RadiusSource, read_mm: f64) -> [f64; 4] {
        let i = &self.job.instruments;
        let half = if radius == RadiusSource::Measured { i.diameter_mm / 2.0 } else { 0.0 };
        [axis_u_mm, half, read_mm, i.machine_mm]
    }

    /// How the cut leans at a depth, in the order of [`LEAN`].
    pub(super) fn lean(&self, depth_mm: f64) -> [f64; 3] {
        [self.datum.lean[0], self.datum.lean[1], depth_mm]
    }

    /// Something that the cut meets at a depth, as seen from the cut's centre at the deck, mm.
    pub(super) fn seen_from_deck(&self, [x, y]: [f64; 2], depth_mm: f64) -> [f64; 2] {
        let [dx, dy] = self.datum.off_mm(depth_mm);
        [x - dx, y - dy]
    }
}
