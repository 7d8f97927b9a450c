//! The account of a limit's margin on a cylinder.

use borewright_geometry::{Bound, Judged};

use super::Account;
use super::Row;
use super::origin::{Sources, is_withheld};
use super::question::Question;
use crate::job::words;
use crate::limits::{Clause, PairClause, Standing};
use crate::place::{Positions, Seated};
use crate::plan::LimitResult;
use crate::plan::judge::FACTOR;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::worked::{Origin, Symbol, Worked};
use crate::planning::Planning;
use crate::read::fault::plain;
use crate::say;

/// A clause is taken for the one that a result came of where both agree within this: results are rounded to a
/// nanometre.
const SAME: f64 = 1e-6;

pub(super) fn accounts(planning: &Planning, limit: &str, cylinder: u32) -> Vec<Account> {
    let Some(seen) = &planning.seen else { return Vec::new() };
    let told = planning.plan.cylinders.iter().find(|c| c.cylinder == cylinder);
    let index = seen.positions.bores.iter().position(|b| b.site.cylinder == cylinder);
    let (Some(told), Some(index)) = (told, index) else { return Vec::new() };
    let asked = Asked { planning, positions: &seen.positions, index, cylinder };
    told.limits.iter().filter(|l| l.limit == limit).filter_map(|l| asked.account(l)).collect()
}

struct Asked<'a> {
    planning: &'a Planning,
    positions: &'a Positions,
    index: usize,
    cylinder: u32,
}

impl Asked<'_> {
    fn bore(&self) -> Option<&Seated> {
        self.positions.bores.get(self.index)
    }

    fn account(&self, result: &LimitResult) -> Option<Account> {
        let rows =
            self.of_clause(result).or_else(|| self.of_pair(result)).or_else(|| self.of_bank(result))?;
        let question = Question::Limit { limit: result.limit.to_owned(), cylinder: self.cylinder };
        let at = result.depth.map_or_else(Sentence::new, |d| say!(", {} deep", mm(d, 1)));
        let clock = result.clock.map_or_else(String::new, |clock| format!(", clock {clock:.0}"));
        let title = say!(
            "{}, cylinder {}: {}{}{}",
            words::limit(result.limit),
            self.cylinder,
            plain(&result.feature, 60),
            at,
            clock
        );
        Some(Account { asked: question.to_string(), title, rows, notes: self.notes(result) })
    }

    fn notes(&self, result: &LimitResult) -> Vec<Sentence> {
        let verdict = result.verdict.word();
        let kept = words::odds(result.p);
        let mut notes = vec![say!("{}: the limit is not kept in {} (u {})", verdict, kept, mm(result.u, 4))];
        if kept == "sure" || kept.starts_with('p') {
            notes = vec![say!("{}: that the limit is kept is {} (u {})", verdict, kept, mm(result.u, 4))];
        }
        let clause = self.bore().and_then(|bore| Some((clause(bore, result)?, bore)));
        let asks = clause.map_or(FACTOR * result.u, |(clause, bore)| {
            let found = clause.constraint.judged(bore.planned_mm);
            clause.constraint.reserve_mm(found.margin.line_mm)
        });
        notes.push(say!(
            "go asks a margin of {} at least: a chance of 1 in 20 that it is not kept",
            mm(asks, 4)
        ));
        if let Some(prefer) = result.prefer {
            notes.push(say!("preferred is {}", mm(prefer, 3)));
        }
        if result.told_only {
            notes.push("told only: it binds nothing where the bores follow what is there".into());
        }
        notes
    }

    /// The planned centre, where it may be told.
    fn place(&self) -> Option<[f64; 2]> {
        self.bore().map(|b| b.planned_mm).filter(|_| !is_withheld(self.planning, self.cylinder))
    }

    fn of_clause(&self, result: &LimitResult) -> Option<Vec<Row>> {
        let bore = self.bore()?;
        let clause = clause(bore, result)?;
        let found = clause.constraint.judged(bore.planned_mm);
        let between = match clause.constraint.bound {
            Bound::ClearOf { radius_mm: least, .. } | Bound::RecessClearOf { least_mm: least, .. } => {
                Some(found.margin.value_mm + least)
            }
            _ => None,
        };
        // A neighbour that this bore was moved clear of is cut already, so that its place may be told.
        Some(self.rows(&clause.worked, result, &found, between, clause.worked.neighbour_mm))
    }

    fn of_pair(&self, result: &LimitResult) -> Option<Vec<Row>> {
        let pairs = self.positions.pairs.iter().filter(|(a, b)| *a == self.index || *b == self.index);
        pairs.flat_map(|pair| self.positions.pair_clauses.iter().map(move |c| (pair, c))).find_map(
            |((a, b), c)| {
                let other = if *a == self.index { *b } else { *a };
                let neighbour = self.positions.bores.get(other)?;
                is_pair(c, result, neighbour.site.cylinder).then_some(())?;
                let worked = self.positions.pair_worked(other, self.index, c);
                let found = Judged {
                    margin: c.apart.margin(self.bore()?.planned_mm, neighbour.planned_mm),
                    u_mm: result.u,
                    probability: result.p,
                };
                let place =
                    (!is_withheld(self.planning, neighbour.site.cylinder)).then_some(neighbour.planned_mm);
                Some(self.rows(&worked, result, &found, None, place))
            },
        )
    }

    fn of_bank(&self, result: &LimitResult) -> Option<Vec<Row>> {
        let standing = self.bore()?.standing.iter().find(|s| is_standing(s, result))?;
        let sources = Sources::new(self.planning, Some(self.cylinder), &result.feature);
        Some(sources.rows(&standing.worked, &|symbol| match symbol.name {
            "u" => Some(result.u),
            _ => Some(result.margin),
        }))
    }

    fn rows(
        &self,
        worked: &Worked,
        result: &LimitResult,
        found: &Judged,
        between: Option<f64>,
        neighbour: Option<[f64; 2]>,
    ) -> Vec<Row> {
        let place = self.place();
        let towards = direction(found, worked);
        let told = |symbol: &Symbol| match (symbol.origin, symbol.name) {
            (Origin::Planned, "x") => place.map(|p| p[0]),
            (Origin::Planned, _) => place.map(|p| p[1]),
            (Origin::Neighbour, "x_2") => neighbour.map(|p| p[0]),
            (Origin::Neighbour, _) => neighbour.map(|p| p[1]),
            (Origin::Direction, "n_x") => place.map(|_| towards[0]),
            (Origin::Direction, _) => place.map(|_| towards[1]),
            (Origin::Between, _) => between.filter(|_| place.is_some()),
            (_, "u") => Some(result.u),
            _ => Some(result.margin),
        };
        Sources::new(self.planning, Some(self.cylinder), &result.feature).rows(worked, &told)
    }
}

/// The direction that a margin is measured along, of length 1; where the centre gives none, the axis of the larger
/// uncertainty, which is the one that counts then.
fn direction(found: &Judged, worked: &Worked) -> [f64; 2] {
    let [dx, dy] = found.margin.line_mm;
    let length = dx.hypot(dy);
    if length >= borewright_geometry::SAME_PLACE_MM {
        return [dx / length, dy / length];
    }
    let u =
        |name: &str| worked.kept().find(|(symbol, _)| symbol.name == name).map_or(0.0, |(_, value)| value);
    if u("u_x") >= u("u_y") { [1.0, 0.0] } else { [0.0, 1.0] }
}

fn near(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= SAME,
        (None, None) => true,
        _ => false,
    }
}

fn clause<'b>(bore: &'b Seated, result: &LimitResult) -> Option<&'b Clause> {
    bore.clauses.iter().find(|c| {
        c.limit == result.limit
            && c.feature == result.feature
            && near(c.depth_mm, result.depth)
            && near(c.clock_deg, result.clock)
            && near(Some(c.constraint.judged(bore.planned_mm).margin.value_mm), Some(result.margin))
    })
}

fn is_pair(c: &PairClause, result: &LimitResult, neighbour: u32) -> bool {
    c.limit == result.limit
        && near(c.depth_mm, result.depth)
        && result.feature == format!("{} to cylinder {neighbour}", c.feature)
}

fn is_standing(s: &Standing, result: &LimitResult) -> bool {
    s.limit == result.limit && s.feature == result.feature && near(Some(s.margin_mm), Some(result.margin))
}
