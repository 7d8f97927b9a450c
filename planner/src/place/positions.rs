//! The planned centres of all bores with one sleeve.

use std::collections::BTreeMap;

use borewright_geometry::{Apart, Bound, Constraint, ON_LIMIT_MM, Place, Problem, one_sided};

use crate::job::CutBore;
use crate::job::pocket::Pocket;
use crate::job::{Job, Site};
use crate::limits::judge_bound;
use crate::limits::{self, Asked, Clause, Datum, Lack, PairClause, Standing};
use crate::plan::judge::{FACTOR, judge_margin};
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{LimitResult, Verdict};
use crate::say;
use crate::survey::Survey;
use crate::survey::fixture;

/// All bores with one sleeve.
#[derive(Debug, Clone)]
pub struct Positions {
    /// Index of the sleeve.
    pub sleeve: usize,
    /// Its pocket.
    pub pocket: Pocket,
    /// The bores, bank by bank, front to rear.
    pub bores: Vec<Seated>,
    /// Neighbours by index into `bores`.
    pub pairs: Vec<(usize, usize)>,
    /// The clauses on each pair.
    pub pair_clauses: Vec<PairClause>,
}

/// One bore in its planned place.
#[derive(Debug, Clone)]
pub struct Seated {
    /// Its cylinder and true place.
    pub site: Site,
    /// Index of its bank.
    pub bank: usize,
    /// Its true position, mm.
    pub true_mm: [f64; 2],
    /// Where it should stand, mm.
    pub target_mm: [f64; 2],
    /// Where it is planned, mm.
    pub planned_mm: [f64; 2],
    /// Go, hold or stop of the group it was solved in.
    pub level: Verdict,
    /// Which group it was solved in: the index of that group's first bore.
    pub group: usize,
    /// Its verdict.
    pub verdict: Verdict,
    /// The worst of each limit.
    pub limits: Vec<LimitResult>,
    /// What holds it there, in words.
    pub why: Sentence,
    /// Its clauses.
    pub clauses: Vec<Clause>,
    /// Clauses that no limit asks for and that hold all the same.
    pub unasked: Vec<Clause>,
    /// Limits that no position changes.
    pub standing: Vec<Standing>,
    /// What was not read of it that a limit asks for, in words: it is at hold.
    pub unread: Vec<Lack>,
    /// How the datum of its bank stands in the machine.
    pub datum: Datum,
    /// What of it is cut already: it then stays where it is.
    pub cut: Option<CutBore>,
}

impl Seated {
    /// Where its cut stands at a depth, mm: the spindle cuts along its own axis.
    #[must_use]
    pub fn cut_mm(&self, depth_mm: f64) -> [f64; 2] {
        let [dx, dy] = self.datum.off_mm(depth_mm);
        [self.planned_mm[0] + dx, self.planned_mm[1] + dy]
    }
}

/// What is asked of the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    /// Every limit at go and every preferred figure met.
    Preferred,
    /// Every limit at go.
    Go,
    /// Every margin at least 0.
    Possible,
}

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
            if let Some(cut) = &cut {
                clauses.iter_mut().for_each(|c| as_cut(c, cut));
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
                why: Sentence::new(),
                clauses,
                unasked: limits::unasked(&asked),
                standing: standing.clone(),
                unread: unread(&asked),
                datum,
                cut,
            });
        }
    }
    let pair_clauses = limits::pair_clauses(job, &pocket);
    let mut positions = Positions { sleeve, pocket, bores, pairs, pair_clauses };
    for i in 0..positions.bores.len() {
        settle(&mut positions, i);
    }
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
    }
}

/// What a limit asks for and nobody read: walls behind the cut, points round the bore.
fn unread(asked: &Asked<'_>) -> Vec<Lack> {
    let arcs = asked.survey.circles.iter().filter(|c| c.planned && c.cylinder == asked.site.cylinder);
    let arcs = arcs.filter_map(|c| {
        let gap = c.gap_deg.filter(|gap| *gap > MOST_UNREAD_DEG)?;
        let text = say!(
            "the points at depth {:.1} leave {gap:.0} degrees of the circle unread: its centre is not proven \
             (u {}); probe all round it",
            c.depth_mm,
            mm(c.u_mm, 3)
        );
        Some(Lack { code: "arc_not_read", text })
    });
    limits::lacks(asked).into_iter().chain(arcs).collect()
}

/// Points that leave a wider arc unread do not prove a circle, degrees; three evenly spaced leave 120, and a probe is
/// never set to the degree. Common practice, no source.
const MOST_UNREAD_DEG: f64 = 121.0;

/// Solves one group at the best level it reaches.
fn settle(positions: &mut Positions, first: usize) {
    if positions.bores[first].cut.is_some() {
        // What is cut is judged where it is.
        return;
    }
    let members = positions.group(first);
    let now: Vec<[f64; 2]> = members.iter().map(|&i| positions.bores[i].planned_mm).collect();
    let standing = || members.iter().flat_map(|&i| &positions.bores[i].standing);
    // What no position can better sets the level that is asked for.
    let ceiling = standing()
        .map(|s| match judge_margin(s.margin_mm, s.u_mm) {
            Verdict::Hold if s.margin_mm < -ON_LIMIT_MM => Verdict::Stop,
            verdict => verdict,
        })
        .max()
        .unwrap_or(Verdict::Go);
    let preferred = standing().all(|s| s.prefer_margin_mm.is_none_or(|p| s.margin_mm >= p - ON_LIMIT_MM));
    let problem = |ask: Ask| positions.problem(&members, ask, &|_, _| 1.0);
    let (reached, centres) = match (ceiling, positions.prefers(&members)) {
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
    for (&i, centre) in members.iter().zip(centres) {
        positions.bores[i].planned_mm = centre;
        positions.bores[i].level = reached.max(ceiling);
    }
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
    /// How a pair stands with one clause: margin and its standard uncertainty.
    fn pair_mm(&self, a: usize, b: usize, c: &PairClause) -> (f64, f64) {
        let [first, second] = [&self.bores[a], &self.bores[b]];
        let m = c.apart.margin(first.planned_mm, second.planned_mm);
        (m.value_mm + grown_mm(c, [first, second]), c.apart.spread.along(m.line_mm))
    }

    fn is_short(&self, a: usize, b: usize) -> bool {
        self.pair_clauses.iter().any(|c| {
            let (margin, u) = self.pair_mm(a, b, c);
            verdict_of(margin, u, c.prefer_margin_mm) != Verdict::Go
        })
    }
}

/// What pockets that were cut larger than asked add to a pair's margin, mm: each its half of how it goes with the radius.
fn grown_mm(c: &PairClause, bores: [&Seated; 2]) -> f64 {
    let larger = |bore: &Seated| bore.cut.as_ref().map_or(0.0, |cut| cut.larger_mm(c.depth_mm));
    c.with_radius / 2.0 * bores.into_iter().map(larger).sum::<f64>()
}

/// A neighbour that is cut already does not give way: the other keeps clear of it alone, where it would come short.
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

/// A clause at the planned place.
struct Judged {
    result: LimitResult,
    binding: bool,
    /// Margin in hand beyond what go asks, mm.
    spare_mm: f64,
}

fn verdict_of(margin: f64, u: f64, prefer_margin: Option<f64>) -> Verdict {
    judge_margin(margin, u).max(preferred(margin, prefer_margin))
}

/// Go where a margin meets the preferred figure, else hold.
fn preferred(margin: f64, prefer_margin: Option<f64>) -> Verdict {
    let short = prefer_margin.is_some_and(|p| margin < p - ON_LIMIT_MM);
    if short { Verdict::Hold } else { Verdict::Go }
}

/// Fills in the limits and verdict of every bore.
fn judge(positions: &mut Positions) {
    let mut judged: Vec<Vec<Judged>> = positions.bores.iter().map(judge_bore).collect();
    for &(a, b) in &positions.pairs {
        for c in &positions.pair_clauses {
            let (margin, u) = positions.pair_mm(a, b, c);
            for (own, other) in [(a, b), (b, a)] {
                let neighbour = positions.bores[other].site.cylinder;
                judged[own].push(Judged {
                    result: LimitResult {
                        limit: c.limit,
                        feature: format!("{} to cylinder {neighbour}", c.feature),
                        depth: c.depth_mm,
                        clock: None,
                        margin,
                        u,
                        p: one_sided(margin, u),
                        verdict: verdict_of(margin, u, c.prefer_margin_mm),
                        least: c.least_mm,
                        prefer: c.prefer_mm,
                    },
                    binding: true,
                    spare_mm: margin - FACTOR * u,
                });
            }
        }
    }
    for (bore, judged) in positions.bores.iter_mut().zip(judged) {
        bore.unread.extend(not_reached(bore));
        let worst = judged.iter().filter(|j| j.binding).map(|j| j.result.verdict).max();
        let unread = if bore.unread.is_empty() { Verdict::Go } else { Verdict::Hold };
        bore.verdict = worst.unwrap_or(Verdict::Go).max(bore.level).max(unread);
        bore.limits = worst_of_each(judged);
    }
}

/// Metal that the cut is not sure to reach all round, where no limit asks for it.
fn not_reached(bore: &Seated) -> Option<Lack> {
    let found = bore.unasked.iter().map(|c| (c, c.constraint.judged(bore.planned_mm)));
    let short = found.filter(|(c, found)| judge_bound(&c.constraint, found) != Verdict::Go);
    let (clause, found) = short.min_by(|a, b| a.1.margin.value_mm.total_cmp(&b.1.margin.value_mm))?;
    Some(Lack {
        code: "does_not_clean_up",
        text: say!(
            "no clean up is asked for, and {} is not sure to reach metal all round at {}: {} at the least (u {})",
            crate::read::fault::plain(&clause.feature, 40),
            mm(clause.depth_mm.unwrap_or(0.0), 1),
            mm(found.margin.value_mm, 3),
            mm(found.u_mm, 3)
        ),
    })
}

fn judge_bore(bore: &Seated) -> Vec<Judged> {
    let clauses = bore.clauses.iter().map(|c| {
        let found = c.constraint.judged(bore.planned_mm);
        let margin = found.margin.value_mm;
        Judged {
            result: LimitResult {
                limit: c.limit,
                feature: c.feature.clone(),
                depth: c.depth_mm,
                clock: c.clock_deg,
                margin,
                u: found.u_mm,
                p: found.probability,
                verdict: judge_bound(&c.constraint, &found).max(preferred(margin, c.prefer_margin_mm)),
                least: c.least_mm,
                prefer: c.prefer_mm,
            },
            binding: c.binding,
            spare_mm: margin - c.constraint.reserve_mm(found.margin.line_mm),
        }
    });
    let standing = bore.standing.iter().map(|s| Judged {
        result: LimitResult {
            limit: s.limit,
            feature: s.feature.clone(),
            depth: None,
            clock: None,
            margin: s.margin_mm,
            u: s.u_mm,
            p: one_sided(s.margin_mm, s.u_mm),
            verdict: verdict_of(s.margin_mm, s.u_mm, s.prefer_margin_mm),
            least: s.least_mm,
            prefer: s.prefer_mm,
        },
        binding: true,
        spare_mm: s.margin_mm - FACTOR * s.u_mm,
    });
    clauses.chain(standing).collect()
}

/// A place kept less surely than that of the least margin is told too where the probabilities differ by more.
const WORTH_TELLING: f64 = 1e-3;

/// The least margin of each limit, and beside it the worst verdict where that is another place's.
fn worst_of_each(judged: Vec<Judged>) -> Vec<LimitResult> {
    let mut order: Vec<&'static str> = Vec::new();
    let mut by_limit: BTreeMap<&'static str, Vec<Judged>> = BTreeMap::new();
    for j in judged {
        if !order.contains(&j.result.limit) {
            order.push(j.result.limit);
        }
        by_limit.entry(j.result.limit).or_default().push(j);
    }
    let mut results = Vec::new();
    for limit in order {
        let Some(of_limit) = by_limit.get(limit) else { continue };
        let least = of_limit.iter().min_by(|a, b| a.result.margin.total_cmp(&b.result.margin));
        let worst = of_limit
            .iter()
            .max_by(|a, b| a.result.verdict.cmp(&b.result.verdict).then(b.spare_mm.total_cmp(&a.spare_mm)));
        results.extend(least.map(|j| j.result.clone()));
        let Some(least) = least else { continue };
        if let Some(worst) = worst.filter(|w| w.result.verdict > least.result.verdict) {
            results.push(worst.result.clone());
        } else if let Some(doubtful) = of_limit.iter().min_by(|a, b| a.result.p.total_cmp(&b.result.p))
            && doubtful.result.p < least.result.p - WORTH_TELLING
        {
            results.push(doubtful.result.clone());
        }
    }
    results
}
