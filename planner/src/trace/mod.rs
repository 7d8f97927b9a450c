//! From passes to moves: one list per bank and stage, in the machine's own axes.

mod ledge;
mod milled;

use borewright_geometry::{Bank, Machine, Placement, Point};

use crate::job::words;
use crate::job::{Front, Job, SetUp, SetUpPlacement};
use crate::passes::{LISTED, Schedule};
use crate::place::Positions;
use crate::plan::moves::{Move, MoveKind, MoveList, Touch};
use crate::plan::rounding;
use crate::plan::{Pass, Stage, Verdict};
use crate::survey::Survey;

/// How far a touch may be off before the first chip, mm: far above any instrument, below any mistake of
/// sign, bank or bore that matters. Common practice, no source.
const TOUCH_MM: f64 = 0.05;

/// Depth of the first touch that proves position, mm: enough to see and feel. Common practice, no source.
const TOUCH_DEPTH_MM: f64 = 10.0;

/// The lists of all banks and stages; one a cylinder where the job asks for it. What may not be cut has no pass.
#[must_use]
pub(crate) fn trace(job: &Job, survey: &Survey, positions: &Positions, schedule: &Schedule) -> Vec<MoveList> {
    let passes = &schedule.passes;
    let mut lists = Vec::new();
    // The passes stand in the order of work; so do the lists.
    let mut order: Vec<(usize, Stage)> = Vec::new();
    for pass in passes {
        let bank = job.block.banks.iter().position(|b| b.name == pass.bank);
        if let Some(bank) = bank.filter(|_| LISTED.contains(&pass.stage))
            && !order.contains(&(bank, pass.stage))
            && !schedule.incomplete.iter().any(|(of, from)| *of == pass.bank && pass.stage >= *from)
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
        let ten = lists.last().map_or(10, |l: &MoveList| (l.number / 10 + 1) * 10);
        for (passes, number) in apart.into_iter().zip(ten..) {
            let mut list = Tracer::new(job, survey, positions, bank).list(number, stage, &passes);
            let of = |(b, s, _): &&(String, Stage, u32)| *b == list.bank && *s == stage;
            list.check = schedule.touch_numbers.iter().find(of).map(|(.., number)| *number);
            lists.push(list);
        }
    }
    lists
}

/// "stop 7, ", as the sheet and the record number it.
fn numbered(pass: &Pass) -> String {
    pass.stop_number.map_or_else(String::new, |number| format!("stop {number}, "))
}

/// A scale nearer to 1 changes no thousandth over a metre.
const SAME_LENGTH: f64 = 1e-7;

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
        Some(rounding::on_grid(self.listed(bore.planned_mm), room))
    }

    fn list(&self, number: u32, stage: Stage, passes: &[&Pass]) -> MoveList {
        let mut cylinders: Vec<u32> = Vec::new();
        for pass in passes {
            if !cylinders.contains(&pass.cylinder) {
                cylinders.push(pass.cylinder);
            }
        }
        MoveList {
            number,
            stage,
            bank: self.job.bank(self.bank).name.clone(),
            header: self.header(stage, passes),
            touch: self.touch(stage, &cylinders),
            moves: self.moves(stage, passes),
            check: None,
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

    fn moves(&self, stage: Stage, passes: &[&Pass]) -> Vec<Move> {
        let clear = rounding::coordinate(self.clear_mm(stage));
        let blank = |kind| Move {
            cylinder: None,
            pass: None,
            kind,
            x_mm: None,
            y_mm: None,
            z_mm: None,
            i_mm: None,
            j_mm: None,
            feed_mm_per_min: None,
            rpm: None,
            note: String::new(),
        };
        let mut moves = Vec::new();
        if stage == Stage::Finish {
            moves.push(Move {
                z_mm: Some(clear),
                note: "clear of deck and plate".into(),
                ..blank(MoveKind::Rapid)
            });
            let note =
                "torque plate on, main caps torqued; zero re-indicated from the mains, never from a sleeve"
                    .into();
            moves.push(Move { note, ..blank(MoveKind::Stop) });
        }
        for of_step in passes.chunk_by(|a, b| a.step == b.step) {
            let first = of_step[0];
            moves.push(Move {
                z_mm: Some(clear),
                note: "clear of the deck".into(),
                ..blank(MoveKind::Rapid)
            });
            let tool = first.tool.as_deref().unwrap_or("tool");
            let note = match &first.mill {
                Some(mill) => format!(
                    "step {}: {tool}, a cutter of {:.3} mm, mills {} to {:.3} mm",
                    first.step, mill.cutter, first.feature, first.diameter
                ),
                None => {
                    format!("step {}: {tool} set to {:.3} mm, {}", first.step, first.diameter, first.feature)
                }
            };
            moves.push(Move { pass: Some(first.step), note, ..blank(MoveKind::Stop) });
            let (mut set_mm, mut set_anew) = (first.diameter, true);
            let mut before: Option<[f64; 2]> = None;
            for pass in of_step {
                let Some([x, y]) = self.told(pass.cylinder) else { continue };
                if pass.mill.is_none() && pass.diameter != set_mm {
                    // A sleeve measured for its bore asks for a pocket of its own.
                    set_mm = pass.diameter;
                    set_anew = true;
                    let note = format!(
                        "step {}: {tool} set to {set_mm:.3} mm, cylinder {}",
                        pass.step, pass.cylinder
                    );
                    moves.push(Move { pass: Some(pass.step), note, ..blank(MoveKind::Stop) });
                }
                let own = |kind| Move { cylinder: Some(pass.cylinder), pass: Some(pass.step), ..blank(kind) };
                let step = before.map_or_else(String::new, |[from_x, from_y]| {
                    format!(", step X {:+.3} Y {:+.3}", x - from_x, y - from_y)
                });
                before = Some([x, y]);
                let note = format!("cylinder {}{step}", pass.cylinder);
                let [to_x, to_y] =
                    pass.mill.as_ref().map_or([x, y], |mill| milled::start(pass, mill, [x, y]));
                moves.push(Move { x_mm: Some(to_x), y_mm: Some(to_y), note, ..own(MoveKind::Rapid) });
                moves.push(Move { rpm: Some(pass.rpm), ..own(MoveKind::SpindleOn) });
                if let Some(mill) = &pass.mill {
                    let heights = (clear, self.cut_off_mm(stage));
                    moves.extend(
                        milled::moves(pass, mill, [x, y], heights, &own)
                            .unwrap_or_else(|| vec![own(MoveKind::SpindleOff)]),
                    );
                    if let Some(stop) = &pass.stop {
                        let note = format!("{}cylinder {}: {stop}", numbered(pass), pass.cylinder);
                        moves.push(Move { note, ..own(MoveKind::Stop) });
                    }
                    continue;
                }
                let feed = rounding::decimals(pass.feed, 1);
                let to = pass.to - self.cut_off_mm(stage);
                let down = Some(rounding::coordinate(-to));
                // In the pocket the head's setting is tried, in rough and finish the place.
                let touch = if stage == Stage::Pocket { pass.from + TOUCH_DEPTH_MM } else { TOUCH_DEPTH_MM };
                let proves = match stage {
                    Stage::Pocket => set_anew && pass.to - pass.from > 2.0 * TOUCH_DEPTH_MM,
                    _ => first.step == passes[0].step && to > 2.0 * TOUCH_DEPTH_MM,
                };
                set_anew = false;
                if proves {
                    // Metal is still there to save a bore that bites on the wrong side.
                    let note = match stage {
                        Stage::Pocket => format!("trial cut of {TOUCH_DEPTH_MM:.0}"),
                        _ => format!("first touch, {TOUCH_DEPTH_MM:.0} deep"),
                    };
                    let z_mm = Some(rounding::coordinate(-touch));
                    moves.push(Move { z_mm, feed_mm_per_min: Some(feed), note, ..own(MoveKind::Feed) });
                    moves.push(Move {
                        z_mm: Some(clear),
                        feed_mm_per_min: Some(feed),
                        ..own(MoveKind::Feed)
                    });
                    moves.push(own(MoveKind::SpindleOff));
                    let look = pass.stop.as_deref().unwrap_or("look which side is cut");
                    let tried = if stage == Stage::Pocket { "trial cut: " } else { "" };
                    let note = format!("{}cylinder {}: {tried}{look}", numbered(pass), pass.cylinder);
                    moves.push(Move { note, ..own(MoveKind::Stop) });
                    moves.push(Move { rpm: Some(pass.rpm), ..own(MoveKind::SpindleOn) });
                }
                let note = format!("to depth {:.3}", rounding::coordinate(to));
                moves.push(Move { z_mm: down, feed_mm_per_min: Some(feed), note, ..own(MoveKind::Feed) });
                let up = Some(clear);
                if let Some(floor) = self.ledge(pass) {
                    moves.pop();
                    moves.extend(ledge::moves(floor, pass.rpm, feed, &own));
                }
                if stage == Stage::Rough {
                    // The tip may drag a line on a rough bore; it must not turn while it comes up fast.
                    moves.push(own(MoveKind::SpindleOff));
                    moves.push(Move { z_mm: up, ..own(MoveKind::Rapid) });
                } else {
                    moves.push(Move { z_mm: up, feed_mm_per_min: Some(feed), ..own(MoveKind::Feed) });
                    moves.push(own(MoveKind::SpindleOff));
                }
                if let Some(stop) = pass.stop.as_ref().filter(|_| !(proves && stage == Stage::Rough)) {
                    // Before the next bore is cut the same way, not after all of them.
                    let note = format!("{}cylinder {}: {stop}", numbered(pass), pass.cylinder);
                    moves.push(Move { note, ..own(MoveKind::Stop) });
                }
            }
        }
        moves.push(Move { z_mm: Some(clear), note: "clear of the deck".into(), ..blank(MoveKind::Rapid) });
        moves.push(blank(MoveKind::End));
        moves
    }

    /// The depth of the ledge a finishing pass ends on, mm; `None` where it runs out below or is no ledge.
    fn ledge(&self, pass: &Pass) -> Option<f64> {
        let below = self.positions.pocket.depth_mm();
        (pass.stage == Stage::Pocket && pass.to < below - ledge::STRETCH_MM && pass.to > ledge::STRETCH_MM)
            .then_some(pass.to)
    }

    fn header(&self, stage: Stage, passes: &[&Pass]) -> Vec<String> {
        let layout = self.job.bank(self.bank);
        let cut_off = self.cut_off_mm(stage);
        let deck = if cut_off > 0.0 {
            format!("deck as cut, {cut_off:.3} below the one that was read")
        } else {
            "deck as it is".to_owned()
        };
        let mut lines = vec![format!(
            "zero X Y: {} on the journal axis, bank {} up; zero Z: {deck}, Z up",
            self.job.block.journal_axis.along_datum, layout.name
        )];
        match (&self.to_machine, self.set_up) {
            (Some(to_machine), Some(set_up)) => {
                let zero = to_machine.point(Point::new(0.0, 0.0, 0.0));
                let height = self.deck_height_mm() - cut_off;
                let deck = to_machine.point(Point::new(0.0, 0.0, height));
                lines.push(format!(
                    "zero stands in the machine at X {:+.3} Y {:+.3} Z {:+.3} in set-up {}",
                    zero.x_mm() * self.job.at_cutting(),
                    zero.y_mm() * self.job.at_cutting(),
                    deck.z_mm() * self.job.at_cutting(),
                    set_up.name
                ));
            }
            _ => lines.push("zero is picked up from the journal axis in this set-up".into()),
        }
        if let Some(t) = self.job.temperature.filter(|_| (self.job.at_cutting() - 1.0).abs() > SAME_LENGTH) {
            lines.push(format!(
                "lengths for a block at {:.1} C and the machine at {:.1} C: {:+.0} ppm on the plan's 20 C",
                t.cutting.block_c,
                t.cutting.machine_c,
                (self.job.at_cutting() - 1.0) * 1e6
            ));
        }
        let across = self.listed([0.0, 1.0])[1] > self.listed([0.0, 0.0])[1];
        let along = self.listed([1.0, 0.0])[0] > self.listed([0.0, 0.0])[0];
        let front = if along { "left" } else { "right" };
        lines.push(format!(
            "front of the block at the operator's {front}: +X is {}, +Y is {}",
            words::along_word(along),
            words::across_word(&self.job.block, self.bank, across)
        ));
        let sites = &layout.sites;
        if let [first, .., last] = sites.as_slice() {
            let step = self.listed([last.x_mm, 0.0])[0] - self.listed([first.x_mm, 0.0])[0];
            lines.push(format!(
                "jog test: from cylinder {} to cylinder {} X reads about {step:+.1}",
                first.cylinder, last.cylinder
            ));
        }
        lines.extend(self.by_hand());
        let mut tools: Vec<&str> = Vec::new();
        for tool in passes.iter().filter_map(|p| p.tool.as_deref()) {
            if !tools.contains(&tool) {
                tools.push(tool);
            }
        }
        let withheld: Vec<String> = self
            .positions
            .bores
            .iter()
            .filter(|b| b.bank == self.bank && !passes.iter().any(|p| p.cylinder == b.site.cylinder))
            // A neighbour with a list of its own is no alarm.
            .filter(|b| !self.job.list_per_cylinder || b.verdict != Verdict::Go)
            .map(|b| format!("{} ({})", b.site.cylinder, b.verdict.word()))
            .collect();
        if !withheld.is_empty() {
            lines.push(format!("NOT IN THIS LIST: cylinder {}", withheld.join(", ")));
        }
        lines.push(format!("tools in order: {}", tools.join(", ")));
        lines.push(format!("rapids stay {:.1} above the deck", self.clear_mm(stage)));
        if stage == Stage::Finish {
            lines.push(match self.job.finish.plate_mm {
                Some(plate) => format!("torque plate of {plate:.1} on the deck is cleared"),
                None => "NO PLATE THICKNESS IN THE JOB: for a bare deck only; with a plate on, rapids would hit it".into(),
            });
        }
        lines
    }

    /// What a rule and a gauge must find on the block itself: neither hangs on the frame just read, so a datum picked up on
    /// another face, or a spacing in another unit, shows.
    fn by_hand(&self) -> Vec<String> {
        let found = |site: &crate::job::Site| {
            let bore = &self.survey.cylinders.get(&site.cylinder)?.now;
            Some((site.cylinder, bore.axis.at_deck_mm, bore.radius_mm(0.0)))
        };
        let bores: Vec<_> = self.job.bank(self.bank).sites.iter().filter_map(found).collect();
        let mut lines = Vec::new();
        if let [(n, at, radius), ..] = bores.as_slice() {
            lines.push(format!(
                "by hand - from the along datum to the front wall of bore {n} {:.1}",
                at[0] - radius
            ));
        }
        if let [(n, at, radius), (other, to, wide), ..] = bores.as_slice() {
            let between = (to[0] - at[0]).hypot(to[1] - at[1]) - radius - wide;
            lines.push(format!(
                "by hand - between the walls of bores {n} and {other} a gauge finds {between:.2}"
            ));
        }
        lines
    }

    /// The bore that stands farthest off true, which shows a wrong sign best, and the one farthest from it.
    fn touched(&self, cylinders: &[u32]) -> Vec<u32> {
        let place = |n: &u32| self.positions.bores.iter().find(|b| b.site.cylinder == *n);
        let off = |n: &u32| {
            let at = self.survey.cylinders.get(n).map(|f| f.now.axis.at_deck_mm);
            at.zip(place(n)).map_or(0.0, |(at, b)| (at[0] - b.true_mm[0]).hypot(at[1] - b.true_mm[1]))
        };
        let x = |n: &u32| place(n).map_or(0.0, |b| b.site.x_mm);
        let Some(first) = cylinders.iter().max_by(|a, b| off(a).total_cmp(&off(b))) else {
            return Vec::new();
        };
        let far = |n: &u32| (x(n) - x(first)).abs();
        let other = cylinders.iter().filter(|n| *n != first).max_by(|a, b| far(a).total_cmp(&far(b)));
        std::iter::once(*first).chain(other.copied()).collect()
    }

    /// Three places that must read right: two bores, so that bank, order and both signs show, and the deck.
    fn touch(&self, stage: Stage, cylinders: &[u32]) -> Vec<Touch> {
        let mut touches = Vec::new();
        for cylinder in self.touched(cylinders) {
            let touch = match stage {
                Stage::Rough => self.survey.cylinders.get(&cylinder).map(|found| {
                    let at = self.listed(found.now.axis.at_deck_mm).map(rounding::coordinate);
                    (format!("middle of the old bore of cylinder {cylinder} at the deck"), at)
                }),
                Stage::Finish => {
                    self.told(cylinder).map(|at| (format!("middle of the sleeve in cylinder {cylinder}"), at))
                }
                _ => self
                    .told(cylinder)
                    .map(|at| (format!("middle of the bore cut in cylinder {cylinder}"), at)),
            };
            if let Some((what, [x, y])) = touch {
                touches.push(Touch {
                    what,
                    cylinder: Some(cylinder),
                    x_mm: Some(x),
                    y_mm: Some(y),
                    z_mm: None,
                    within_mm: TOUCH_MM,
                });
            }
        }
        let plate = self.job.finish.plate_mm.filter(|_| stage == Stage::Finish);
        let what = match plate {
            Some(plate) => format!("top of the torque plate of {plate:.1}"),
            None => "deck beside the first bore".into(),
        };
        let z_mm = Some(rounding::coordinate(plate.unwrap_or(0.0)));
        touches.push(Touch { what, cylinder: None, x_mm: None, y_mm: None, z_mm, within_mm: TOUCH_MM });
        touches
    }
}
