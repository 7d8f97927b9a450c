//! The trace from passes to moves: one list per bank and stage, in the machine's own axes.

mod cut;
mod head;
mod kept;
mod ledge;
mod milled;
mod minutes;
mod touch;
mod way;

pub(crate) use kept::{TO_MACHINE, word};
pub(crate) use minutes::minutes;

use borewright_geometry::{Bank, Machine, Placement, Point};
use rayon::prelude::*;

use crate::job::{Front, Job, SetUp, SetUpPlacement};
use crate::passes::{LISTED, Schedule};
use crate::place::Positions;
use crate::plan::moves::MoveList;
use crate::plan::rounding;
use crate::plan::{ListUnits, Pass, Stage};
use crate::read::inch::MM_PER_INCH;
use crate::survey::Survey;

/// The highest that stops are taken above the deck unless the machine says otherwise, mm. Common practice, no
/// source.
const STOP_MM: f64 = 150.0;

/// The lists of all banks and stages; one a cylinder where the job asks for it. What may not be cut has no pass.
#[must_use]
pub(crate) fn trace(job: &Job, survey: &Survey, positions: &Positions, schedule: &Schedule) -> Vec<MoveList> {
    let passes = &schedule.passes;
    let mut asked: Vec<(u32, usize, Stage, Vec<&Pass>)> = Vec::new();
    // The passes stand in the order of work; so do the lists.
    let mut order: Vec<(usize, Stage)> = Vec::new();
    for pass in passes {
        let bank = job.block.banks.iter().position(|b| b.name == pass.bank);
        if let Some(bank) = bank.filter(|_| LISTED.contains(&pass.stage))
            && !order.contains(&(bank, pass.stage))
            && !schedule.incomplete.iter().any(|of| of.bank == pass.bank && pass.stage >= of.from)
        {
            order.push((bank, pass.stage));
        }
    }
    for (bank, stage) in order {
        let of_list: Vec<&Pass> =
            passes.iter().filter(|p| p.stage == stage && p.bank == job.bank(bank).name).collect();
        let mut cylinders: Vec<u32> = Vec::new();
        for pass in &of_list {
            if !cylinders.contains(&pass.cylinder) {
                cylinders.push(pass.cylinder);
            }
        }
        let apart: Vec<Vec<&Pass>> = if job.list_per_cylinder {
            let own = |n: &u32| of_list.iter().copied().filter(|p| p.cylinder == *n).collect();
            cylinders.iter().map(own).collect()
        } else {
            vec![of_list]
        };
        // Tens count the order of work; lists of one stage and bank count on from their ten.
        let ten = asked.last().map_or(10, |(number, ..)| (number / 10 + 1) * 10);
        asked.extend(apart.into_iter().zip(ten..).map(|(passes, number)| (number, bank, stage, passes)));
    }
    let list = |(number, bank, stage, passes): (u32, usize, Stage, Vec<&Pass>)| {
        let mut list = Tracer::new(job, survey, positions, bank).list(number, stage, &passes);
        let own = schedule.touch_numbers.iter().find(|of| of.bank == list.bank && of.stage == stage);
        list.check = own.map(|own| own.number);
        list
    };
    asked.into_par_iter().map(list).collect()
}

/// How the lists tell where a cylinder is bored.
pub(crate) struct Told {
    /// What a length at 20 °C is on the machine's scales while it is cut.
    pub(crate) scale: f64,
    /// X and Y at 20 °C: an offset, mm, and the shares of the bank's x and y.
    pub(crate) columns: [[f64; 3]; 2],
    /// X and Y as worked out, mm.
    pub(crate) exact_mm: [f64; 2],
    /// X and Y as the lists say them, mm.
    pub(crate) word_mm: Option<[f64; 2]>,
}

/// How the lists tell where a cylinder is bored; `None` of one that is not planned.
pub(crate) fn told(job: &Job, survey: &Survey, positions: &Positions, cylinder: u32) -> Option<Told> {
    let bore = positions.bores.iter().find(|b| b.site.cylinder == cylinder)?;
    let tracer = Tracer::new(job, survey, positions, bore.bank);
    let scale = job.at_cutting();
    let columns = tracer.columns();
    let (exact_mm, word_mm) = (tracer.listed(bore.planned_mm), tracer.told(cylinder));
    Some(Told { scale, columns, exact_mm, word_mm })
}

/// One bank's way from bank coordinates to the machine's.
struct Tracer<'a> {
    job: &'a Job,
    survey: &'a Survey,
    positions: &'a Positions,
    bank: usize,
    set_up: Option<&'a SetUp>,
    to_machine: Option<Placement<Bank, Machine>>,
}

impl<'a> Tracer<'a> {
    fn new(job: &'a Job, survey: &'a Survey, positions: &'a Positions, bank: usize) -> Self {
        let index = job.set_ups.iter().position(|s| s.bank == bank);
        let placement: Option<&SetUpPlacement> =
            index.and_then(|i| survey.placements.get(i)).and_then(Option::as_ref);
        Self {
            job,
            survey,
            positions,
            bank,
            set_up: index.map(|i| &job.set_ups[i]),
            to_machine: placement.map(Placement::inverse),
        }
    }

    /// What the machine's lists are in.
    fn units(&self) -> ListUnits {
        self.job.machine.list_units
    }

    /// A coordinate as the list tells it, mm.
    fn coordinate(&self, mm: f64) -> f64 {
        self.units().coordinate(mm)
    }

    /// A feed as the list tells it, mm/min: never rounded up beyond the machine's fastest.
    fn feed(&self, mm_per_min: f64) -> f64 {
        let (units, told) = (self.units(), self.units().feed(mm_per_min));
        if told > self.job.machine.feed_mm_per_min { units.feed(told - units.feed_step_mm()) } else { told }
    }

    /// The deck as it is, mm above the journal axis.
    fn deck_height_mm(&self) -> f64 {
        self.job.deck_as_it_is_mm(self.bank, &self.survey.journal_axis)
    }

    /// A place at the deck, from the datum, along the machine's axes, mm.
    fn listed(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let at_20 = match &self.to_machine {
            Some(to_machine) => {
                let height = self.deck_height_mm();
                let by =
                    to_machine.point(Point::new(x, y, height)) - to_machine.point(Point::new(0.0, 0.0, 0.0));
                [by.x_mm(), by.y_mm()]
            }
            None => match self.set_up.map_or(Front::Left, |s| s.front) {
                Front::Left => [x, y],
                Front::Right => [-x, -y],
            },
        };
        // Planned at 20 °C, told for the temperatures at cutting.
        at_20.map(|v| v * self.job.at_cutting())
    }

    /// X and Y at 20 °C: an offset, mm, and the shares of the bank's x and y.
    fn columns(&self) -> [[f64; 3]; 2] {
        let scale = self.job.at_cutting();
        let at_20 = |at: [f64; 2]| self.listed(at).map(|v| v / scale);
        let (origin, along, across) = (at_20([0.0, 0.0]), at_20([1.0, 0.0]), at_20([0.0, 1.0]));
        [0, 1].map(|k| [origin[k], along[k] - origin[k], across[k] - origin[k]])
    }

    /// The bank place that a listed one comes from, mm.
    fn in_bank(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        // The way there is affine; two of its columns and its offset give the way back.
        let origin = self.listed([0.0, 0.0]);
        let column = |c: [f64; 2]| [c[0] - origin[0], c[1] - origin[1]];
        let (a, b) = (column(self.listed([1.0, 0.0])), column(self.listed([0.0, 1.0])));
        let (dx, dy) = (x - origin[0], y - origin[1]);
        let determinant = a[0] * b[1] - a[1] * b[0];
        [(dx * b[1] - dy * b[0]) / determinant, (a[0] * dy - a[1] * dx) / determinant]
    }

    /// Where a cylinder is bored, as told to the machine: rounded so that no stop limit is crossed.
    fn told(&self, cylinder: u32) -> Option<[f64; 2]> {
        let index = self.positions.bores.iter().position(|b| b.site.cylinder == cylinder)?;
        let bore = &self.positions.bores[index];
        let room = |listed: [f64; 2]| {
            let at = self.in_bank(listed);
            let own =
                bore.clauses.iter().filter(|c| c.binding).map(|c| c.constraint.bound.margin(at).value_mm);
            let pairs = self.positions.pairs.iter().filter_map(|&(a, b)| {
                let other = if a == index {
                    b
                } else if b == index {
                    a
                } else {
                    return None;
                };
                Some(self.positions.bores[other].planned_mm)
            });
            let pairs = pairs.flat_map(|other| {
                self.positions.pair_clauses.iter().map(move |c| c.apart.margin(at, other).value_mm)
            });
            own.chain(pairs).fold(f64::INFINITY, f64::min)
        };
        Some(rounding::on_grid(self.listed(bore.planned_mm), self.units(), room))
    }

    fn list(&self, number: u32, stage: Stage, passes: &[&Pass]) -> MoveList {
        let mut cylinders: Vec<u32> = Vec::new();
        for pass in passes {
            if !cylinders.contains(&pass.cylinder) {
                cylinders.push(pass.cylinder);
            }
        }
        MoveList {
            minutes: Vec::new(),
            number,
            stage,
            bank: self.job.bank(self.bank).name.clone(),
            header: self.header(stage, passes),
            by_hand: self.by_hand(),
            touch: self.touch(stage, &cylinders),
            moves: self.moves(stage, passes),
            check: None,
            issued: None,
            units: self.units(),
            cylinders,
        }
    }

    /// What has come off the deck by a stage, mm: Z counts from what is left.
    fn cut_off_mm(&self, stage: Stage) -> f64 {
        if stage == Stage::Finish { self.job.engine.deck.cut_mm } else { 0.0 }
    }

    /// Above everything that stands on the deck, mm.
    fn clear_mm(&self, stage: Stage) -> f64 {
        let plate = if stage == Stage::Finish { self.job.finish.plate_mm.unwrap_or(0.0) } else { 0.0 };
        self.job.machine.clearance_mm + plate
    }
    /// Where stops are taken, above everything that stands on the deck, mm: as high as a gauge needs.
    fn stop_mm(&self, stage: Stage, passes: &[&Pass]) -> f64 {
        let clear = self.clear_mm(stage);
        let on_deck = clear - self.job.machine.clearance_mm;
        if let Some(told) = self.job.machine.stop_clearance_mm {
            return self.coordinate(clear.max(on_deck + told));
        }
        let [from, to] = self.job.machine.travel_mm[2];
        let room = match &self.to_machine {
            Some(to_machine) => {
                let deck = Point::new(0.0, 0.0, self.deck_height_mm() - self.cut_off_mm(stage));
                to - to_machine.point(deck).z_mm() * self.job.at_cutting()
            }
            // The machine does not know its zero: what the length of its travel leaves above the deepest place.
            None => {
                let deepest = passes.iter().map(|p| p.to - self.cut_off_mm(stage)).fold(0.0, f64::max);
                to - from - deepest
            }
        };
        // A whole tenth, or hundredth of an inch, so that no last digit goes beyond the travel.
        let room = match self.units() {
            ListUnits::Mm => (room.min(STOP_MM) * 10.0).floor() / 10.0,
            ListUnits::In(_) => (room.min(STOP_MM) / MM_PER_INCH * 100.0).floor() / 100.0 * MM_PER_INCH,
        };
        self.coordinate(clear.max(room))
    }
}
