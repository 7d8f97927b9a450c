//! The setting of a boring head for the next bore, from what it cut so far.

use serde::Serialize;

use borewright_geometry::sample::{count, mean};

use super::bench::{BESIDE_MM, Bench};
use super::gauge::fine;
use crate::plan::check::Of;
use crate::plan::judge::FACTOR;
use crate::plan::sentence::{Sentence, signed_before_mm};
use crate::record::Word;
use crate::say;

/// A growth from bore to bore is believed where it is this many standard uncertainties: two-sided 95 %.
const TREND: f64 = 1.96;

/// What the head is off by, and what to set it to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Head {
    /// The next bore.
    pub next: u32,
    /// What to set for it, mm.
    pub set: f64,
    /// What the next bore would come out larger by than the head is set to, mm.
    pub off: f64,
    /// How sure that is: 95 % either side, mm.
    pub within: f64,
    /// Over how many bores.
    pub bores: u32,
    /// How much more it cuts from one bore to the next, mm, where that shows.
    pub grows: Option<f64>,
    /// Whether the head is to be left: what it is off by does not show beside what measuring tells.
    pub leave: bool,
}

/// One bore that was cut and measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cut {
    /// What it came out larger by than the head was set to, mm: the mean of its readings.
    pub(super) off_mm: f64,
    /// Standard uncertainty of that, mm.
    pub(super) u_mm: f64,
}

/// What the bores cut so far say of the next one: how far it will be off, mm, its standard uncertainty, mm, and the
/// growth from bore to bore, mm.
///
/// Mean and straight line by least squares over the bores in the order of cutting, each bore the mean of its
/// readings with u / √n; the line is taken where its slope is more than 1.96 of its own standard uncertainty u /
/// √Σ(i − ī)². The next bore is then expected at the line's end, with u √(1/n + (n + 1 − ī)² / Σ(i − ī)²); without
/// a slope at the mean, with u / √n. Source: JCGM 100, H.3 (straight line by least squares).
pub(super) fn expected(cuts: &[Cut]) -> Option<(f64, f64, Option<f64>)> {
    let offs: Vec<f64> = cuts.iter().map(|c| c.off_mm).collect();
    let off = mean(&offs)?;
    let count = f64::from(u32::try_from(cuts.len()).ok()?);
    let squares: Vec<f64> = cuts.iter().map(|c| c.u_mm * c.u_mm).collect();
    let u = mean(&squares)?.sqrt();
    let middle = f64::midpoint(1.0, count);
    let places = || (1_u32..).map(f64::from).map(|i| i - middle);
    let spread: f64 = places().take(cuts.len()).map(|d| d * d).sum();
    if cuts.len() > 2 && spread > 0.0 {
        let slope = places().zip(&offs).map(|(d, off)| d * off).sum::<f64>() / spread;
        if slope.abs() > TREND * u / spread.sqrt() {
            let ahead = count + 1.0 - middle;
            let at_next = u * (1.0 / count + ahead * ahead / spread).sqrt();
            return Some((off + slope * ahead, at_next, Some(slope)));
        }
    }
    Some((off, u / count.sqrt(), None))
}

/// What to set the head to for the next bore of the check; `None` where there is no next one, or no head is set.
pub(super) fn head(bench: &Bench<'_>) -> Option<Head> {
    let check = bench.check;
    let cuts: Vec<Cut> = cuts(bench, usize::MAX).into_iter().map(|(_, cut)| cut).collect();
    let next = check
        .cylinders
        .iter()
        .find(|at| bench.standing.of_check(check.check, at.cylinder).next().is_none())?;
    let wanted = next.readings.iter().find(|r| r.of == Of::Set)?.expected?;
    let (off, u, grows) = expected(&cuts)?;
    let within = FACTOR * u;
    let leave = off.abs() <= within;
    let set = if leave { wanted } else { crate::plan::rounding::coordinate(wanted - off) };
    // Farther beside its size the head was not set as said, or something was read wrong; and no tool goes wider than it does.
    if (set - wanted).abs() > BESIDE_MM || bench.widest_mm().is_some_and(|most| set > most) {
        return None;
    }
    Some(Head {
        next: next.cylinder?,
        set,
        off,
        within,
        bores: u32::try_from(cuts.len()).ok()?,
        grows,
        leave,
    })
}

/// What is said of the head that cut a bore too large while others of the check are still to be cut: none of them before it is
/// set anew. `None` where no head is set, or none is to come.
pub(super) fn stands_wide(bench: &Bench<'_>) -> Option<Sentence> {
    let mut others = bench.check.cylinders.iter().filter(|at| at.cylinder != bench.cylinder);
    let next = others.find(|at| bench.standing.of_check(bench.check.check, at.cylinder).next().is_none())?;
    let (cylinder, set) = (next.cylinder?, next.readings.iter().find(|r| r.of == Of::Set)?.expected?);
    // What it is set to is told below.
    if head(bench).is_some_and(|head| !head.leave) {
        return Some(say!("no other bore is cut with the head as it stands"));
    }
    let planned = || bench.at()?.readings.iter().find(|r| r.of == Of::Set)?.expected;
    let sizes = bench.values(Of::Diameter);
    let by = mean(&sizes).filter(|_| bench.tells_its_size(&sizes)).zip(bench.set().or_else(planned));
    Some(match by {
        Some((size, stood)) if size - stood > 0.0 => say!(
            "no other bore is cut with the head as it stands: it cut {} large. Gauge it, and set it to {} before cylinder {}",
            fine(size - stood),
            fine(crate::plan::rounding::coordinate(set + stood - size)),
            cylinder
        ),
        _ => say!(
            "no other bore is cut with the head as it stands: what it is set to before cylinder {} is told once every place of this one \
             is read",
            cylinder
        ),
    })
}

/// The bores of a check that were cut and read all over with the edge that was in use at a line, in the order of cutting, which is
/// the order in which they were measured: the first line of each, and what it came out as.
fn cuts(bench: &Bench<'_>, before: usize) -> Vec<(usize, Cut)> {
    let (check, since) = (bench.check, fresh_since(bench, before));
    let cut = |cylinder: Option<u32>| -> Option<(usize, Cut)> {
        let bore = bench.of(check, cylinder);
        let line = bench.standing.of_check(check.check, cylinder).map(|r| r.line).min()?;
        let planned = || bore.at()?.readings.iter().find(|r| r.of == Of::Set)?.expected;
        let set = bore.set().or_else(planned)?;
        let sizes = bore.values(Of::Diameter);
        let size = mean(&sizes).filter(|_| bore.tells_its_size(&sizes) && line > since && line < before)?;
        let u_mm = bench.u(Of::Diameter) / count(sizes.len()).sqrt();
        Some((line, Cut { off_mm: size - set, u_mm }))
    };
    let mut cuts: Vec<(usize, Cut)> = check.cylinders.iter().filter_map(|at| cut(at.cylinder)).collect();
    cuts.sort_by_key(|(line, _)| *line);
    cuts
}

/// What the head may have been told to be set to for this bore before a line: by the first bore that was cut, by the first two, and so
/// on.
pub(super) fn told(bench: &Bench<'_>, line: usize) -> Vec<f64> {
    let set = bench.at().and_then(|at| at.readings.iter().find(|r| r.of == Of::Set)?.expected);
    let Some(wanted) = set else { return Vec::new() };
    let own = bench.standing.of_check(bench.check.check, bench.cylinder).map(|r| r.line).min();
    let cuts: Vec<Cut> =
        cuts(bench, line).into_iter().filter(|(first, _)| Some(*first) != own).map(|(_, cut)| cut).collect();
    let by = (1..=cuts.len()).filter_map(|bores| expected(cuts.get(..bores)?));
    by.map(|(off, ..)| wanted - off).collect()
}

/// The line from which the tool's edge is the one in use at a line: the last event that names it, or names no tool at all.
fn fresh_since(bench: &Bench<'_>, before: usize) -> usize {
    let tool = bench.paper.tool(bench.check.step).unwrap_or_default();
    let others: Vec<&str> = bench.paper.passes.iter().filter_map(|p| p.tool.as_deref()).collect();
    let names_other = |text: &str| others.iter().any(|o| *o != tool && text.contains(o));
    let own = bench.standing.events.iter().filter(|e| e.what == Word::Tool && e.struck.is_none());
    own.filter(|e| e.line < before)
        .filter(|e| {
            let text = e.fields.get("value");
            text.contains(tool) || !names_other(text)
        })
        .map(|e| e.line)
        .max()
        .unwrap_or(0)
}

impl Head {
    /// "the tool cut 0.008 large here: set 89.762 for cylinder 5 (±0.003 at 95 %, over 1 bore)".
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        let over = if self.bores == 1 { "1 bore".to_owned() } else { format!("{} bores", self.bores) };
        if self.leave {
            return say!(
                "leave the head at {} for cylinder {}: {} over {} is within what measuring tells, ±{}",
                fine(self.set),
                self.next,
                signed_before_mm(self.off, 3),
                over,
                fine(self.within)
            );
        }
        let how = if self.off > 0.0 { "large" } else { "small" };
        let grows =
            self.grows.map_or_else(Sentence::new, |g| say!(", {} more a bore", signed_before_mm(g, 3)));
        say!(
            "the tool cuts {} {}{}: set {} for cylinder {} (±{} at 95 %, over {})",
            fine(self.off.abs()),
            how,
            grows,
            fine(self.set),
            self.next,
            fine(self.within),
            over
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cuts(offs: &[f64], u_mm: f64) -> Vec<Cut> {
        offs.iter().map(|off_mm| Cut { off_mm: *off_mm, u_mm }).collect()
    }

    #[test]
    fn a_tool_that_grows_by_three_thousandths_a_bore_is_told_what_the_next_one_will_be() {
        // Six readings a bore of u 0.004: 0.004 / √6 = 0.001633; over bores 1 to 3 Σ(i − 2)² = 2, so that the slope
        // has u 0.001155 and 0.003 is 2.6 of them. Bore 4: 0.006 + 2 x 0.003 = 0.012, u 0.001633 x √(1/3 + 4/2) =
        // 0.002494.
        let (off, u, grows) = expected(&cuts(&[0.003, 0.006, 0.009], 0.004 / 6_f64.sqrt())).unwrap();
        assert!((off - 0.012).abs() < 1e-12, "{off}");
        assert!((u - 0.002_494).abs() < 1e-6, "{u}");
        assert!((grows.unwrap() - 0.003).abs() < 1e-12);
    }

    #[test]
    fn scatter_of_the_gauge_is_no_growth_and_the_mean_of_three_stands() {
        // Slope (0.003 − 0.001) / 2 = 0.001, which is 0.87 of its u.
        let (off, u, grows) = expected(&cuts(&[0.001, 0.005, 0.003], 0.004 / 6_f64.sqrt())).unwrap();
        assert_eq!(grows, None);
        assert!((off - 0.003).abs() < 1e-12);
        assert!((u - 0.000_943).abs() < 1e-6, "{u}");
    }

    #[test]
    fn the_line_and_its_uncertainty_are_those_of_scipy() {
        // scipy 1.14 linregress([1,2,3,4,5], [2.1, 3.9, 6.2, 7.8, 10.1]): slope 1.99, intercept 0.05; at 6: 11.99.
        let (off, u, grows) = expected(&cuts(&[2.1, 3.9, 6.2, 7.8, 10.1], 0.1)).unwrap();
        assert!((grows.unwrap() - 1.99).abs() < 1e-12);
        assert!((off - 11.99).abs() < 1e-12);
        // 0.1 √(1/5 + 9/10).
        assert!((u - 0.104_881).abs() < 1e-6);
    }
}
