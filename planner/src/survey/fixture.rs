//! The budget of a fixture: six locators, their errors, and where those send each bore.

use borewright_geometry::{Bank, Locating, Point, bank_to_block};
use serde::Serialize;

use crate::job::locating::locating;
use crate::job::{Fixture, Job, Site};

/// A fixture's budget.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FixtureBudget {
    /// How the block is held, in words.
    pub held_by: String,
    /// Whether the combined figure enters the limits.
    pub feeds_limits: bool,
    /// By bore.
    pub bores: Vec<BoreBudget>,
}

/// One bore's error from the fixture, standard uncertainties in its bank, mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoreBudget {
    /// The cylinder.
    pub cylinder: u32,
    /// Standard uncertainty along and across the bank, at the deck, mm.
    pub at_deck: [f64; 2],
    /// Standard uncertainty along and across the bank, at the bore's lower end, mm.
    pub at_end: [f64; 2],
    /// Each locator's share at the deck, largest first.
    pub shares: Vec<Share>,
}

/// What one locator contributes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Share {
    /// The locator's name.
    pub locator: String,
    /// Along the bank, mm.
    pub along: f64,
    /// Across the bank, mm.
    pub across: f64,
}

/// The budget of every bore, where the job names a fixture.
#[must_use]
pub fn budget(job: &Job) -> Option<FixtureBudget> {
    let fixture = job.fixture.as_ref()?;
    // The check has refused a set that does not hold the block.
    let locating = locating(fixture).ok()?;
    let mut bores = Vec::new();
    for (bank, layout) in job.block.banks.iter().enumerate() {
        for site in &layout.sites {
            let [deck, end] = [0.0, job.block.parent.bore_length_mm]
                .map(|depth| per_locator(job, fixture, &locating, bank, site, depth));
            let combined =
                |shares: &[[f64; 2]]| [0, 1].map(|k| shares.iter().map(|s| s[k].powi(2)).sum::<f64>().sqrt());
            let mut shares: Vec<Share> = fixture
                .locators
                .iter()
                .zip(&deck)
                .map(|(l, s)| Share { locator: l.name.clone(), along: s[0], across: s[1] })
                .collect();
            shares.sort_by(|a, b| b.along.hypot(b.across).total_cmp(&a.along.hypot(a.across)));
            bores.push(BoreBudget {
                cylinder: site.cylinder,
                at_deck: combined(&deck),
                at_end: combined(&end),
                shares,
            });
        }
    }
    Some(FixtureBudget { held_by: fixture.held_by.clone(), feeds_limits: fixture.feeds_limits, bores })
}

/// Standard uncertainty along and across that the fixture adds to places measured from the journal axis, mm: the
/// larger of deck and lower end; `None` where the job does not ask for it.
#[must_use]
pub fn spread_mm(job: &Job, bank: usize, site: &Site) -> Option<[f64; 2]> {
    let fixture = job.fixture.as_ref().filter(|f| f.feeds_limits)?;
    let locating = locating(fixture).ok()?;
    let of_depth = |depth: f64| {
        let shares = per_locator(job, fixture, &locating, bank, site, depth);
        [0, 1].map(|k| shares.iter().map(|s| s[k].powi(2)).sum::<f64>().sqrt())
    };
    let (deck, end) = (of_depth(0.0), of_depth(job.block.parent.bore_length_mm));
    Some([deck[0].max(end[0]), deck[1].max(end[1])])
}

/// Standard uncertainty along and across the bank of a bore at a depth, by locator.
fn per_locator(
    job: &Job,
    fixture: &Fixture,
    locating: &Locating,
    bank: usize,
    site: &Site,
    depth_mm: f64,
) -> Vec<[f64; 2]> {
    let layout = job.bank(bank);
    let to_block = bank_to_block(layout.angle_deg.to_radians());
    let place = Point::<Bank>::new(site.x_mm, layout.axis_offset_mm, layout.deck_height_mm - depth_mm);
    let rows = locating.sensitivity(to_block.point(place).vector().into());
    let back = to_block.inverse();
    fixture
        .locators
        .iter()
        .enumerate()
        .map(|(i, locator)| {
            let by =
                back.displacement(borewright_geometry::Displacement::new(rows[0][i], rows[1][i], rows[2][i]));
            [by.x_mm() * locator.u_mm, by.y_mm() * locator.u_mm]
        })
        .collect()
}
