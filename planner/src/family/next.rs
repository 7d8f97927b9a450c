//! A new block of a known family: what to expect before it is measured, and whether it is unlike the others after.

use super::figures::{Figures, WallRead};
use super::intervals::{least_for_prediction, prediction};
use super::results::Trend;
use crate::job::Job;
use crate::limits::{CLEAN_UP, parent_wall};
use crate::plan::prior::{BorePrior, Left, Odd, Prior, Risk, SleevePrior, Spread, WallPrior};
use crate::plan::rounding::plan as round;
use crate::plan::sentence::mm;
use crate::plan::{Finding, Subject, Verdict};
use crate::say;
use crate::survey::PlanError;

use super::{foretold, walls};

/// Of so many blocks that are like their family, one is called odd, all its figures together.
const ONE_OF: f64 = 100.0;

impl Prior {
    /// What a trend says of the next block of the family.
    #[must_use]
    pub fn of(trend: &Trend) -> Self {
        let sleeve = |s: &super::SleeveNext| SleevePrior {
            sleeve: s.sleeve.clone(),
            stock: Left::of(s.stock.as_ref().map(Spread::rounded), s.limits[0]),
            wall: Left::of(s.wall.as_ref().map(Spread::rounded), s.limits[1]),
        };
        let wall = |w: &super::WallCell| WallPrior {
            cylinder: w.cylinder,
            clock: w.clock,
            depths: w.depths,
            wall: w.wall.rounded(),
            here: None,
        };
        let bores = trend.banks.iter().flat_map(|bank| {
            bank.bores.iter().map(|(cylinder, along, across)| BorePrior {
                cylinder: *cylinder,
                bank: bank.bank.clone(),
                along: along.rounded(),
                across: across.rounded(),
            })
        });
        let mut prior = Self {
            family: trend.family.clone(),
            blocks: trend.blocks.clone(),
            least_blocks: trend.least_blocks,
            sleeves: trend.sleeves.iter().map(sleeve).collect(),
            walls: trend.walls.iter().map(wall).collect(),
            bores: bores.collect(),
            held: None,
            odd: Vec::new(),
            says: Vec::new(),
        };
        prior.says = foretold::says(&prior);
        prior
    }

    /// What the family says, held against a job of it that was measured: by the job's own candidates and limits,
    /// with what of its block is odd.
    ///
    /// # Errors
    /// Readings that make no survey.
    pub fn against(mut self, job: &Job) -> Result<Self, PlanError> {
        let figures = super::figures(job)?;
        let asked = |name: &str| job.limits.get(name).map(|limit| limit.least_mm);
        let candidate = |name: &str| {
            let filed = self.sleeves.iter().find(|s| s.sleeve == name);
            SleevePrior {
                sleeve: name.to_owned(),
                stock: Left::of(filed.and_then(|f| f.stock.spread.clone()), asked(CLEAN_UP.name)),
                wall: Left::of(filed.and_then(|f| f.wall.spread.clone()), asked(parent_wall::LIMIT.name)),
            }
        };
        self.sleeves = job.sleeves.iter().map(|s| candidate(&s.name)).collect();
        let (held, odd) = self.against_figures(&figures, job.instruments.wall_mm);
        (self.held, self.odd) = (Some(held), odd);
        self.says = foretold::says(&self);
        Ok(self)
    }

    /// How many figures of a block could be held against the family's, and which are odd; its walls are put in.
    pub(super) fn against_figures(&mut self, figures: &Figures, wall_u: f64) -> (u32, Vec<Odd>) {
        for place in &mut self.walls {
            let there = figures.walls.iter().filter(|w| is_there(place, w));
            place.here = there.map(|w| round(w.wall)).min_by(f64::total_cmp);
        }
        odd(self, figures, wall_u)
    }

    /// The findings for the plan: a block that is unlike its family may have been misread.
    #[must_use]
    pub fn findings(&self) -> Vec<Finding> {
        self.odd
            .iter()
            .map(|odd| Finding {
                code: "unlike_family",
                verdict: Verdict::Hold,
                subject: Subject::cylinder(odd.cylinder),
                text: odd.text.clone(),
            })
            .collect()
    }
}

impl Left {
    /// What a spread comes to against what is asked for.
    fn of(spread: Option<Spread>, asked: Option<f64>) -> Self {
        let risk = match (&spread, asked) {
            (Some(Spread { next_least: None, .. }), _) => Risk::TooFew,
            (Some(spread), Some(asked)) if spread.mean < asked => Risk::Short,
            (Some(Spread { next_least: Some(least), .. }), Some(asked)) if *least < asked => Risk::AtRisk,
            (Some(_), Some(_)) => Risk::Enough,
            _ => Risk::NotKnown,
        };
        Self { spread, asked: asked.map(round), risk }
    }
}

fn is_there(place: &WallPrior, read: &WallRead) -> bool {
    place.cylinder == read.cylinder
        && (place.clock - walls::sector(read.clock)).abs() < 1e-9
        && (place.depths[0]..place.depths[1]).contains(&read.depth)
}

/// How many figures of a block could be held against its family, and which of them are unlike it. None where the family
/// is too few to say.
///
/// Each figure is held against a prediction interval so wide that, of all of them together, one in a hundred blocks of
/// the family itself would be called odd (Bonferroni), and never narrower than the reading's own uncertainty makes it.
fn odd(prior: &Prior, block: &Figures, wall_u: f64) -> (u32, Vec<Odd>) {
    let [centre, along, axis] = block.u;
    let mut held: Vec<(u32, String, f64, &Spread, f64)> = Vec::new();
    for own in &prior.bores {
        let same = block.bores.iter().find(|b| b.cylinder == own.cylinder && b.bank == own.bank);
        if let Some(bore) = same {
            held.push((own.cylinder, "along".to_owned(), bore.off[0], &own.along, centre.hypot(along)));
            held.push((own.cylinder, "across".to_owned(), bore.off[1], &own.across, centre.hypot(axis)));
        }
    }
    for place in &prior.walls {
        if let Some(here) = place.here {
            let [from, to] = place.depths;
            let what = format!("wall at clock {:.0}, {from:.0} to {to:.0} deep", place.clock);
            held.push((place.cylinder, what, here, &place.wall, wall_u));
        }
    }
    held.retain(|(.., spread, _)| spread.blocks >= least_for_prediction());
    let tests = u32::try_from(held.len()).unwrap_or(u32::MAX);
    let surely = 1.0 - 1.0 / (ONE_OF * f64::from(tests.max(1)));
    let one = |(cylinder, what, found, spread, u)| one(cylinder, what, found, (spread, u), surely);
    let mut odd: Vec<(f64, Odd)> = held.into_iter().filter_map(one).collect();
    odd.sort_by(|a, b| b.0.total_cmp(&a.0));
    (tests, odd.into_iter().map(|(_, odd)| odd).collect())
}

fn one(
    cylinder: u32,
    what: String,
    found: f64,
    (spread, u): (&Spread, f64),
    surely: f64,
) -> Option<(f64, Odd)> {
    // An interval is never narrower than the gauge's own uncertainty, however alike the blocks were read.
    let half = prediction(spread.blocks, surely)? * spread.sd?.max(u);
    let away = (found - spread.mean).abs();
    if away <= half {
        return None;
    }
    let expected = [spread.mean - half, spread.mean + half];
    let of = if what.starts_with("wall") { "" } else { "the bore's offset " };
    let text = say!(
        "{}{} is {}; {} blocks of its family would have it between {} and {}: unlike them or misread, read it again",
        of,
        what,
        mm(found, 2),
        spread.blocks,
        mm(expected[0], 2),
        mm(expected[1], 2)
    );
    let far = if half > 0.0 { away / half } else { f64::INFINITY };
    Some((far, Odd { cylinder, what, found: round(found), expected: expected.map(round), text }))
}
