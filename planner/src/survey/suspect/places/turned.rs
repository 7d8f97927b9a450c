//! A bank whose row of bores runs askew to its journal axis, or is longer or shorter than described: the axis as it
//! was read, the scale, or the block.

use crate::survey::suspect::Code;
use std::collections::{BTreeMap, BTreeSet};

use statrs::distribution::{ContinuousCDF, StudentsT};

use super::apart::{BELIEF, SCATTER_MM};
use super::evidence::figures;
use super::lines::{BankLines, lines};
use super::{Asked, Suspicion};
use crate::job::ReadingFrame;
use crate::plan::sentence::{mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::count;

/// The most that a casting's row of bores runs askew to its crank, mm per mm, and mm over the bores of a bank.
/// Common practice, no source.
const ASKEW: f64 = 0.0018;
const OVER_BORES_MM: f64 = 0.35;

/// Nor does a row run so far across from end to end, mm, of a long one by this much of its length; nor two banks of one crank so
/// unlike each other. Common practice, no source.
const END_TO_END_MM: f64 = 0.45;
const OF_LENGTH: f64 = 0.000_6;

/// How far askew over the bores is asked about where the axis rests on two mains, mm: two always lie on a line, and
/// no third shows a slip. Common practice, no source.
const OVER_TWO_MAINS_MM: f64 = 0.15;

/// So many of their standard uncertainties two slopes that are not one are apart.
const UNLIKE_U: f64 = 4.0;

/// The chance below which a slope of the bores is asked about.
const SIGNIFICANT: f64 = 1e-3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks = lines(asked.job, asked.circles);
    let of = |bank: &BankLines| {
        [
            row(asked, &banks, bank, 1).map(|r| turned(asked, bank, r)),
            row(asked, &banks, bank, 0).map(|r| spaced(asked, bank, r)),
        ]
    };
    let mut found: Vec<Suspicion> = banks.iter().flat_map(of).flatten().collect();
    // Where one row runs far and the other does not, the one is told; else nothing says which is off.
    let is_told = found.iter().any(|s| s.code == Code::BankTurned);
    if let Some((both, _)) = unlike(asked, &banks).filter(|(_, is_open)| *is_open || !is_told) {
        found.retain(|s| s.code != Code::BankTurned);
        found.push(both);
    }
    found
}

/// How a row of bores runs off its description.
struct Row {
    over_mm: f64,
    span_mm: f64,
    slope: f64,
    u: f64,
}

impl Row {
    fn evidence(&self) -> BTreeMap<&'static str, f64> {
        figures([("over", self.over_mm), ("span", self.span_mm), ("slope", self.slope), ("u", self.u)])
    }
}

/// A line through a row's figures, along or across.
struct Fit {
    slope: f64,
    /// Sum of squares of the places along, about their middle, mm2.
    square: f64,
    /// Sum of squares that the line leaves, mm2, and how many values it leaves free.
    left: f64,
    free: f64,
    span_mm: f64,
}

/// `None` of fewer than three bores: two always lie on a line.
fn fit(bank: &BankLines, k: usize) -> Option<Fit> {
    let free = bank.lines.len().checked_sub(2).filter(|left| *left > 0)?;
    let n = count(bank.lines.len());
    let x = bank.lines.iter().map(|l| l.x_mm).sum::<f64>() / n;
    let off = bank.lines.iter().map(|l| l.off_mm[k]).sum::<f64>() / n;
    let square: f64 = bank.lines.iter().map(|l| (l.x_mm - x).powi(2)).sum();
    let slope = bank.lines.iter().map(|l| (l.x_mm - x) * (l.off_mm[k] - off)).sum::<f64>() / square;
    let left = bank.lines.iter().map(|l| (l.off_mm[k] - off - slope * (l.x_mm - x)).powi(2)).sum();
    let places = || bank.lines.iter().map(|l| l.x_mm);
    let span_mm = places().fold(f64::NEG_INFINITY, f64::max) - places().fold(f64::INFINITY, f64::min);
    (square > 0.0).then_some(Fit { slope, square, left, free: count(free), span_mm })
}

/// The row of a bank along or across, where it is off by more than any block's and by more than bores scatter:
/// Student's t of the slope, the scatter that of all banks both ways, moderated by what castings scatter at all.
fn row(asked: &Asked<'_>, banks: &[BankLines], bank: &BankLines, k: usize) -> Option<Row> {
    let own = fit(bank, k)?;
    let (scatter, free) = scatter(banks);
    let (over_mm, u) = (own.slope * own.span_mm, scatter / own.square.sqrt());
    let chance = 2.0 * StudentsT::new(0.0, 1.0, free).ok()?.sf((own.slope / u).abs());
    let two = k == 1 && rests_on_two_mains(asked, bank.bank);
    let (askew, least) = if two { (0.0, OVER_TWO_MAINS_MM) } else { (ASKEW, OVER_BORES_MM) };
    let is_long = k == 1 && over_mm.abs() > most_apart(own.span_mm);
    let is_off = (own.slope.abs() > askew && over_mm.abs() > least) || is_long;
    let row = Row { over_mm, span_mm: own.span_mm, slope: own.slope, u };
    (is_off && chance < SIGNIFICANT).then_some(row)
}

/// How bores scatter about their rows, of all banks both ways, moderated by what castings scatter at all, mm, and how many values
/// leave it free.
fn scatter(banks: &[BankLines]) -> (f64, f64) {
    let all = banks.iter().flat_map(|b| [0, 1].map(|k| fit(b, k))).flatten();
    let (left, free) = all.fold((0.0, 0.0), |(l, f), b| (l + b.left, f + b.free));
    let free = BELIEF + free;
    (((BELIEF * SCATTER_MM.powi(2) + left) / free).sqrt(), free)
}

/// The most that a row runs across from end to end, mm.
fn most_apart(span_mm: f64) -> f64 {
    END_TO_END_MM.max(OF_LENGTH * span_mm)
}

/// Two banks whose rows run across unlike each other, though both are bored to one crank: nothing says which was swept askew.
/// Also whether neither runs twice as far as the other.
fn unlike(asked: &Asked<'_>, banks: &[BankLines]) -> Option<(Suspicion, bool)> {
    let [one, other] = banks else { return None };
    let [own, its] = [fit(one, 1)?, fit(other, 1)?];
    let (scatter, _) = scatter(banks);
    let span = own.span_mm.min(its.span_mm);
    let (apart, u) = (own.slope - its.slope, scatter * (1.0 / own.square + 1.0 / its.square).sqrt());
    if apart.abs() * span <= most_apart(span) || apart.abs() <= UNLIKE_U * u {
        return None;
    }
    let [name, its_name] = [one, other].map(|bank| plain(&asked.job.bank(bank.bank).name, 40));
    let [less, more] = [own.slope.abs().min(its.slope.abs()), own.slope.abs().max(its.slope.abs())];
    let told = Suspicion {
        code: Code::BankTurned,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!(
            "the row of bank {name} runs {} across over {} and that of bank {its_name} {}: two rows of one crank do not part so",
            signed_mm(own.slope * span, 3),
            mm(span, 0),
            signed_mm(its.slope * span, 3)
        ),
        likely: "one of the two journal axes was swept askew, or before the block was clamped anew".into(),
        ask: "sweep the journal axis of both set-ups again, at the front, the middle and the rear: which of them runs so?".into(),
        evidence: figures([("apart", apart * span), ("span", span), ("u", u)]),
        cylinders: [one, other].into_iter().flat_map(|bank| bank.lines.iter().map(|l| l.cylinder)).collect(),
    };
    Some((told, 2.0 * less > more))
}

fn turned(asked: &Asked<'_>, bank: &BankLines, row: Row) -> Suspicion {
    let name = plain(&asked.job.bank(bank.bank).name, 40);
    Suspicion {
        code: Code::BankTurned,
        verdict: Verdict::Hold,
        subject: Subject::bank(&name),
        found: say!(
            "its row of bores runs {} across over {} of the journal axis ({}{:.3} in 100): no block was bored so",
            signed_mm(row.over_mm, 3),
            mm(row.span_mm, 0),
            // A share, the same in every unit.
            if row.slope < 0.0 { "\u{2212}" } else { "+" },
            100.0 * row.slope.abs()
        ),
        likely:
            "a main that was read or typed wrongly, a mandrel that is lifted at one end, or another block"
                .into(),
        ask: say!(
            "sweep the journal axis again with the bank {name} up, at its front, its middle and its rear: does it run so?"
        ),
        evidence: row.evidence(),
        cylinders: bank.lines.iter().map(|l| l.cylinder).collect(),
    }
}

fn spaced(asked: &Asked<'_>, bank: &BankLines, row: Row) -> Suspicion {
    let name = plain(&asked.job.bank(bank.bank).name, 40);
    Suspicion {
        code: Code::BoreSpacing,
        verdict: Verdict::Hold,
        subject: Subject::bank(&name),
        found: say!(
            "its row of bores is {} off the length described over {}: no heat makes that of one bank",
            signed_mm(row.over_mm, 3),
            mm(row.span_mm, 0)
        ),
        likely: "the bore spacing of another block's description, or x off a scale that counts otherwise"
            .into(),
        ask: say!(
            "measure the distance of the first and the last bore of the bank {name} by hand: what is it?"
        ),
        evidence: row.evidence(),
        cylinders: bank.lines.iter().map(|l| l.cylinder).collect(),
    }
}

/// Whether the journal axis of a bank's set-ups was read at two mains and no more.
fn rests_on_two_mains(asked: &Asked<'_>, bank: usize) -> bool {
    let own = asked.job.set_ups.iter().filter(|s| s.bank == bank);
    own.filter_map(|s| match &s.frame {
        ReadingFrame::Machine(readings) => Some(readings),
        _ => None,
    })
    .any(|readings| {
        let mains: BTreeSet<&str> = readings.axis.iter().chain(&readings.mains).map(|p| &*p.main).collect();
        mains.len() == 2
    })
}
