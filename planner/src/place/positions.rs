//! The planned centres of all bores with one sleeve.

use borewright_geometry::SHORT_ARC_GAP_DEG;
use borewright_geometry::{Apart, Bound, Constraint, ON_LIMIT_MM, Place, Problem};
use rayon::prelude::*;

use super::judged::{judge, verdict_of};
use super::seated::{Ask, Positions, Seated};
use crate::job::CutBore;
use crate::job::Job;
use crate::job::pocket::Pocket;
use crate::limits::unasked::Bare;
use crate::limits::{self, Asked, Clause, Datum, Lack, PairClause};
use crate::plan::judge::{FACTOR, judge_margin};
use crate::plan::sentence::mm;
use crate::plan::worked::Worked;
use crate::plan::{Verdict, Why};
use crate::say;
use crate::survey::Survey;
use crate::survey::fixture;

impl Positions {
    /// The worst verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.bores.iter().map(|b| b.verdict).max().unwrap_or(Verdict::Stop)
    }

    /// Where a cylinder's cut stands at a depth, mm.
    #[must_use]
    pub fn cut_mm(&self, cylinder: u32, depth_mm: f64) -> Option<[f64; 2]> {
        self.bores.iter().find(|b| b.site.cylinder == cylinder).map(|b| b.cut_mm(depth_mm))
    }

    /// The members of a bore's group, as a problem whose giving clauses are set by `give`.
    pub(super) fn problem(&self, members: &[usize], ask: Ask, give: &Give<'_>) -> Problem {
        let z = if ask == Ask::Possible { 0.0 } else { FACTOR };
        let places = members.iter().map(|&i| {
            let bore = &self.bores[i];
            let binding = bore.clauses.iter().filter(|c| c.binding);
            let constraints = binding.flat_map(|c| {
                let give = give(c.limit, c.with_radius);
                let kept = c.constraint.giving(give).asked(z);
                let preferred = c.prefer_margin_mm.filter(|_| ask == Ask::Preferred).map(|margin| {
                    Constraint::new(c.constraint.bound.tightened(margin), c.constraint.spread, give, 0.0)
                });
                std::iter::once(kept).chain(preferred)
            });
            Place { target_mm: bore.target_mm, constraints: constraints.collect() }
        });
        let position = |i: usize| members.iter().position(|m| *m == i);
        let apart = self.pairs.iter().filter_map(|&(a, b)| Some((position(a)?, position(b)?)));
        let asked = |c: &PairClause, first, second| {
            let kept = Apart { first, second, give: give(c.limit, c.with_radius), z, ..c.apart };
            let preferred = c.prefer_margin_mm.filter(|_| ask == Ask::Preferred);
            let preferred =
                preferred.map(|margin| Apart { least_mm: kept.least_mm + margin, z: 0.0, ..kept });
            std::iter::once(kept).chain(preferred)
        };
        Problem {
            places: places.collect(),
            apart: apart
                .flat_map(|(first, second)| {
                    self.pair_clauses.iter().flat_map(move |c| asked(c, first, second))
                })
                .collect(),
        }
    }

    /// Whether any limit of these bores has a preferred figure.
    fn prefers(&self, members: &[usize]) -> bool {
        let own =
            |i: &usize| self.bores[*i].clauses.iter().any(|c| c.binding && c.prefer_margin_mm.is_some());
        members.iter().any(own) || self.pair_clauses.iter().any(|c| c.prefer_margin_mm.is_some())
    }

    /// The bores solved together with this one.
    pub(super) fn group(&self, bore: usize) -> Vec<usize> {
        let group = self.bores[bore].group;
        (0..self.bores.len()).filter(|i| self.bores[*i].group == group).collect()
    }
}

/// How much a clause gives, from its limit and how its margin grows with the pocket's radius.
pub(super) type Give<'g> = dyn Fn(&str, f64) -> f64 + 'g;

/// Solves the positions with one sleeve.
pub(crate) fn solve(job: &Job, survey: &Survey, sleeve: usize) -> Positions {
    let pocket = Pocket::of(&job.sleeves[sleeve], job.engine.deck.cut_mm);
    let bare = Bare::of(job);
    let mut bores = Vec::new();
    let mut pairs = Vec::new();
    for (bank, layout) in job.block.banks.iter().enumerate() {
        let standing = limits::standing(job, survey, bank);
        let datum = Datum::of(job, survey, bank);
        let mut neighbour: Option<usize> = None;
        for site in &layout.sites {
            let Some(found) = survey.cylinders.get(&site.cylinder) else {
                // Not measured: it has no place yet, and no bridge is judged across it.
                neighbour = None;
                continue;
            };
            let fixture_mm = fixture::spread_mm(job, bank, site).unwrap_or_default();
            let asked = Asked { job, survey, pocket: &pocket, bank, site: *site, found, fixture_mm, datum };
            let index = bores.len();
            pairs.extend(neighbour.map(|before| (before, index)));
            neighbour = Some(index);
            let cut = job.cut.get(&site.cylinder).filter(|c| c.place_mm.is_some()).cloned();
            let target_mm = cut.as_ref().and_then(|c| c.place_mm).unwrap_or_else(|| asked.target_mm());
            let mut clauses = limits::clauses(&asked);
            let mut unasked = bare.clauses(&asked);
            if let Some(cut) = &cut {
                clauses.iter_mut().chain(&mut unasked).for_each(|c| as_cut(c, cut));
            }
            bores.push(Seated {
                site: *site,
                bank,
                true_mm: asked.true_mm(),
                target_mm,
                planned_mm: target_mm,
                level: Verdict::Go,
                group: index,
                verdict: Verdict::Go,
                limits: Vec::new(),
                why: Why::default(),
                clauses,
                unasked,
                standing: standing.clone(),
                unread: unread(&asked),
                datum,
                cut,
            });
        }
    }
    let pair_clauses = limits::pair_clauses(job, &pocket);
    let pair_unasked = bare.pair_clauses(&pocket);
    let mut positions = Positions { sleeve, pocket, bores, pairs, pair_clauses, pair_unasked };
    // Before any are joined each bore is a group of its own.
    let alone: Vec<Option<Settled>> =
        (0..positions.bores.len()).into_par_iter().map(|i| settled(&positions, i)).collect();
    alone.into_iter().flatten().for_each(|group| positions.stand(group));
    keep_clear(&mut positions);
    join(&mut positions);
    judge(&mut positions);
    positions
}

/// A clause of a pocket that is cut: its margin is less by as much as the pocket is larger there.
fn as_cut(clause: &mut Clause, cut: &CutBore) {
    let larger = cut.larger_mm(clause.depth_mm);
    let by = -clause.with_radius * larger;
    if by != 0.0 {
        clause.constraint.bound = clause.constraint.bound.tightened(by);
        clause.worked.add("R", larger);
    }
}

/// The lacks of a bore, for which it is at hold: walls not read behind the cut, points not read round the bore.
fn unread(asked: &Asked<'_>) -> Vec<Lack> {
    let arcs = asked.survey.circles.iter().filter(|c| c.planned && c.cylinder == asked.site.cylinder);
    let arcs = arcs.filter_map(|c| {
        let gap = c.gap_deg.filter(|gap| *gap > SHORT_ARC_GAP_DEG)?;
        let text = say!(
            "the points at depth {:.1} leave {gap:.0} degrees of the circle unread: its centre is not proven \
             (u {}); probe all round it",
            c.depth_mm,
            mm(c.u_mm, 3)
        );
        Some(Lack { code: "arc_not_read", short: "an arc of it was not read", text })
    });
    limits::lacks(asked).into_iter().chain(arcs).collect()
}

/// Where the bores of a group come to stand, and how well.
struct Settled {
    members: Vec<usize>,
    level: Verdict,
    centres_mm: Vec<[f64; 2]>,
}

/// Solves one group, and brings its bores there.
fn settle(positions: &mut Positions, first: usize) {
    if let Some(group) = settled(positions, first) {
        positions.stand(group);
    }
}

/// Solves one group at the best level it reaches; `None` for what is cut, which is judged where it is.
fn settled(positions: &Positions, first: usize) -> Option<Settled> {
    if positions.bores[first].cut.is_some() {
        return None;
    }
    let members = positions.group(first);
    let now: Vec<[f64; 2]> = members.iter().map(|&i| positions.bores[i].planned_mm).collect();
    let standing = || members.iter().flat_map(|&i| &positions.bores[i].standing);
    // A bore is asked for no better level than its limits that no position changes allow.
    let ceiling = standing()
        .map(|s| match judge_margin(s.margin_mm, s.u_mm) {
            Verdict::Hold if s.margin_mm < -ON_LIMIT_MM => Verdict::Stop,
            verdict => verdict,
        })
        .max()
        .unwrap_or(Verdict::Go);
    let preferred = standing().all(|s| s.prefer_margin_mm.is_none_or(|p| s.margin_mm >= p - ON_LIMIT_MM));
    let problem = |ask: Ask| positions.problem(&members, ask, &|_, _| 1.0);
    let (reached, centres_mm) = match (ceiling, positions.prefers(&members)) {
        (Verdict::Go, prefers) => {
            let first = if prefers && preferred {
                problem(Ask::Preferred).nearest(0.0, std::slice::from_ref(&now)).map(|at| (Verdict::Go, at))
            } else {
                None
            };
            first.unwrap_or_else(|| {
                let level = if prefers { Verdict::Hold } else { Verdict::Go };
                reach(&problem(Ask::Go), Some(level), &[now])
            })
        }
        _ => reach(&problem(Ask::Go), None, &[now]),
    };
    Some(Settled { members, level: reached.max(ceiling), centres_mm })
}

/// Nearest with every limit at go, which is then the level given, where one is given; else nearest with every margin
/// >= 0; else least shortfall.
fn reach(problem: &Problem, go: Option<Verdict>, starts: &[Vec<[f64; 2]>]) -> (Verdict, Vec<[f64; 2]>) {
    if let Some(level) = go
        && let Some(centres) = problem.nearest(0.0, starts)
    {
        return (level, centres);
    }
    let possible = problem.asked(0.0);
    if let Some(centres) = possible.nearest(0.0, starts) {
        // A start off the targets gives every reserve its direction.
        let near = std::slice::from_ref(&centres);
        return match go.and_then(|level| Some((level, problem.nearest(0.0, near)?))) {
            Some(found) => found,
            None => (Verdict::Hold, centres),
        };
    }
    let targets = || problem.places.iter().map(|p| p.target_mm).collect();
    (Verdict::Stop, possible.least_easing(starts).map_or_else(targets, |eased| eased.centres_mm))
}

impl Positions {
    fn stand(&mut self, group: Settled) {
        for (i, centre_mm) in group.members.into_iter().zip(group.centres_mm) {
            self.bores[i].planned_mm = centre_mm;
            self.bores[i].level = group.level;
        }
    }

    /// How a pair stands with one clause: margin and its standard uncertainty.
    pub(super) fn pair_mm(&self, a: usize, b: usize, c: &PairClause) -> (f64, f64) {
        let [first, second] = [&self.bores[a], &self.bores[b]];
        let m = c.apart.margin(first.planned_mm, second.planned_mm);
        (m.value_mm + grown_mm(c, [first, second]), c.apart.spread.along(m.line_mm))
    }

    /// What a pair's margin is worked from, as the second of them sees it.
    pub(crate) fn pair_worked(&self, other: usize, own: usize, c: &PairClause) -> Worked {
        let larger = |i: usize| self.bores[i].cut.as_ref().map_or(0.0, |cut| cut.larger_mm(c.depth_mm));
        let mut worked = c.worked.clone();
        // A recess that was cut larger does not widen what the flats take up.
        worked.add("R", larger(own));
        worked.add("R_2", larger(other));
        worked.neighbour_mm = Some(self.bores[other].planned_mm);
        worked
    }

    fn is_short(&self, a: usize, b: usize) -> bool {
        self.pair_clauses.iter().any(|c| {
            let (margin, u) = self.pair_mm(a, b, c);
            verdict_of(margin, u, c.prefer_margin_mm) != Verdict::Go
        })
    }
}

/// What pockets that were cut larger than asked add to a pair's margin, mm: each its half of how it goes with the
/// radius.
fn grown_mm(c: &PairClause, bores: [&Seated; 2]) -> f64 {
    let larger = |bore: &Seated| bore.cut.as_ref().map_or(0.0, |cut| cut.larger_mm(c.depth_mm));
    c.with_radius / 2.0 * bores.into_iter().map(larger).sum::<f64>()
}

/// Moves bores away from neighbours that are cut already, where the two are short of go: only the uncut one can
/// give way.
fn keep_clear(positions: &mut Positions) {
    for (a, b) in positions.pairs.clone() {
        for (cut, free) in [(a, b), (b, a)] {
            if positions.bores[cut].cut.is_none() || positions.bores[free].cut.is_some() {
                continue;
            }
            if !positions.is_short(a, b) {
                continue;
            }
            let centre_mm = positions.bores[cut].planned_mm;
            let neighbour = positions.bores[cut].site.cylinder;
            let clear: Vec<Clause> = positions
                .pair_clauses
                .iter()
                .map(|c| {
                    let least = c.apart.least_mm - grown_mm(c, [&positions.bores[a], &positions.bores[b]]);
                    let bound = Bound::Outside { centre_mm, radius_mm: least };
                    Clause {
                        limit: c.limit,
                        feature: format!("{} to cylinder {neighbour}", c.feature),
                        depth_mm: c.depth_mm,
                        clock_deg: None,
                        constraint: Constraint::new(bound, c.apart.spread, c.apart.give, FACTOR),
                        with_radius: c.with_radius,
                        binding: true,
                        least_mm: c.least_mm,
                        prefer_mm: c.prefer_mm,
                        prefer_margin_mm: c.prefer_margin_mm,
                        worked: positions.pair_worked(cut, free, c),
                    }
                })
                .collect();
            positions.bores[free].clauses.extend(clear);
            settle(positions, positions.bores[free].group);
        }
    }
}

/// Joins groups across pairs that are short of go, and solves them together, until none is left short.
fn join(positions: &mut Positions) {
    loop {
        let short: Vec<(usize, usize)> = positions
            .pairs
            .iter()
            .copied()
            .filter(|&(a, b)| positions.bores[a].group != positions.bores[b].group)
            .filter(|&(a, b)| positions.bores[a].cut.is_none() && positions.bores[b].cut.is_none())
            .filter(|&(a, b)| positions.is_short(a, b))
            .collect();
        if short.is_empty() {
            return;
        }
        let mut changed = Vec::new();
        for (a, b) in short {
            let (keep, lose) = (positions.bores[a].group, positions.bores[b].group);
            let (keep, lose) = (keep.min(lose), keep.max(lose));
            for bore in positions.bores.iter_mut().filter(|bore| bore.group == lose) {
                bore.group = keep;
            }
            changed.retain(|g| *g != lose);
            changed.push(keep);
        }
        changed.sort_unstable();
        changed.dedup();
        for group in changed {
            settle(positions, group);
        }
    }
}
