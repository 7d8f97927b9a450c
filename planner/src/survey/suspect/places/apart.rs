//! One bore that stands, or leans, apart from the pattern of the others, by more than they scatter.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use statrs::distribution::{ContinuousCDF, FisherSnedecor};

use super::evidence::figures;
use super::lines::{BankLines, Line, lines};
use super::{Asked, Suspicion};
use crate::job::{Aim, Surface};
use crate::plan::sentence::{Sentence, mm, signed_before_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::significance::NO_CHANCE;
use borewright_geometry::sample::count;

/// The scatter of single bores about their bank's pattern that is assumed beforehand, mm, and the number of
/// readings that this assumption weighs as much as. Common practice, no source.
pub(super) const SCATTER_MM: f64 = 0.02;
pub(super) const BELIEF: f64 = 6.0;

/// A bore counts as apart where chance would set it so far off in fewer cases than this.
const SIGNIFICANT: f64 = 1e-6;

/// The chance below which a bore is asked about where the cut follows the bore itself.
const SIGNIFICANT_PARENT: f64 = 1e-5;

/// Bores of a bank that differ by less than this are not asked about, mm. Common practice, no source.
const LEAST_MM: f64 = 0.05;

/// A lean is told over this length, mm.
const OVER_MM: f64 = 100.0;

/// No bore of a block that is worth sleeving stands farther off true, mm; under `aim: parent`, where nothing else
/// anchors the cut, half of it. Common practice, no source.
const FAR_MM: f64 = 2.0;

/// A bore this far off true is asked about where fewer than three bores of its bank were read, mm: nothing then
/// tells an odd bore from a wrong datum. Common practice, no source.
const FAR_OF_FEW_MM: f64 = 0.6;
const FEW: usize = 3;

/// Two bores of a bank, of which no third says which is off, stand no farther apart than this, mm, and than that for each bore between
/// them, as a row may run. Common practice, no source.
const PAIR_MM: f64 = 0.35;
const BETWEEN_MM: f64 = 0.05;

/// Asks about bores that stand or lean apart from all others, one for a bank, and about each that is simply far
/// off.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks = lines(asked.job, asked.circles);
    let parent = asked.job.aim == Aim::Parent;
    let significant = if parent { SIGNIFICANT_PARENT } else { SIGNIFICANT };
    let far = if parent { FAR_MM / 2.0 } else { FAR_MM };
    let mut found = Vec::new();
    for (line, few) in banks.iter().flat_map(|b| b.lines.iter().map(|l| (l, b.lines.len() < FEW))) {
        let far = if few { FAR_OF_FEW_MM } else { far };
        let stands = odd(&banks, line, significant, &STANDS);
        let floor_mm = OVER_MM * asked.job.instruments.centre_mm / line.lever_mm.max(1.0);
        let leans = odd(&banks, line, significant, &leans(floor_mm));
        let size = line.off_mm[0].hypot(line.off_mm[1]);
        let told = match (stands, leans) {
            (Some(by), _) => stands_apart(line, by),
            (None, Some(by)) => leans_apart(line, by),
            (None, None) if size > far => far_off(line, size, (far, few)),
            (None, None) => continue,
        };
        // No second reading makes a bore this block's that stands so far off.
        found.push(if told.code == Code::BoreApart && size <= far && read_again(asked, line.cylinder) {
            Suspicion {
                verdict: Verdict::Go,
                likely: "a bore that stands so, or was bored anew: two rounds read it alike".into(),
                ask: "nothing: it was read again".into(),
                ..told
            }
        } else {
            told
        });
    }
    found.extend(banks.iter().filter_map(|bank| pair(asked, bank)));
    for bank in &banks {
        let told =
            |s: &Suspicion| s.cylinders.named().iter().any(|n| bank.lines.iter().any(|l| l.cylinder == *n));
        if !found.iter().any(told) {
            found.extend(scattered(asked, bank));
        }
    }
    // A bore that is off drags what the others are held against, so only the farthest of a bank is told: of those that hold, if any.
    found.sort_by(|a, b| b.verdict.cmp(&a.verdict).then(b.evidence["apart"].total_cmp(&a.evidence["apart"])));
    let mut banks_told = Vec::new();
    found.retain(|s| {
        let bank = s.cylinders.named().first().and_then(|c| asked.job.site(*c)).map(|(bank, _)| bank);
        let fresh = !banks_told.contains(&bank) || s.code == Code::BoreFarOff;
        banks_told.push(bank);
        fresh
    });
    found
}

/// The suspicion of the only two bores that were read of a bank, where they stand apart as no two of a row do.
fn pair(asked: &Asked<'_>, bank: &BankLines) -> Option<Suspicion> {
    let [one, other] = bank.lines.as_slice() else { return None };
    let apart = (one.off_mm[0] - other.off_mm[0]).hypot(one.off_mm[1] - other.off_mm[1]);
    let cylinders = vec![one.cylinder, other.cylinder];
    let sites = &asked.job.bank(bank.bank).sites;
    let at = |n: u32| sites.iter().position(|site| site.cylinder == n).unwrap_or_default();
    let between = at(one.cylinder).abs_diff(at(other.cylinder)).saturating_sub(1);
    if apart <= PAIR_MM + BETWEEN_MM * count(between) || cylinders.iter().all(|n| read_again(asked, *n)) {
        return None;
    }
    Some(Suspicion {
        code: Code::BoreApart,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(cylinders.clone()),
        found: say!(
            "the two bores that were read of the bank stand {} apart from where the other puts them, and no third says which is off",
            mm(apart, 3)
        ),
        likely: "a slipped digit, or a bore that was read against another zero".into(),
        ask: if sites.len() > 2 {
            "read both again, and a third bore of the bank".into()
        } else {
            "read both again".into()
        },
        evidence: figures([("apart", apart)]),
        cylinders: cylinders.into(),
    })
}

/// Two rounds that read a bore alike do so within this, or within so many of its centre's uncertainty, mm. Common practice, no source.
const AGAIN_MM: f64 = 0.012;
const AGAIN_U: f64 = 3.0;

/// Whether a later round of measuring, or another set-up, read a bore where the first did.
fn read_again(asked: &Asked<'_>, cylinder: u32) -> bool {
    type Round<'a> = (usize, Option<&'a str>);
    let mut surfaces: BTreeMap<Surface, BTreeMap<Round<'_>, Vec<[f64; 2]>>> = BTreeMap::new();
    for set_up in 0..asked.job.set_ups.len() {
        for read in asked.readings.of_set_up(set_up).into_iter().filter(|r| r.cylinder == cylinder) {
            let rounds = surfaces.entry(read.surface).or_default();
            rounds.entry((set_up, read.set.as_deref())).or_default().push(read.at_mm);
        }
    }
    let most = AGAIN_MM.max(AGAIN_U * asked.job.instruments.centre_mm);
    let middle =
        |at: &Vec<[f64; 2]>| [0, 1].map(|k| at.iter().map(|at| at[k]).sum::<f64>() / count(at.len()));
    let alike = |two: &[[f64; 2]]| (two[0][0] - two[1][0]).hypot(two[0][1] - two[1][1]) <= most;
    let mut again = surfaces.into_values().filter(|rounds| rounds.len() > 1).peekable();
    again.peek().is_some()
        && again.all(|rounds| rounds.values().map(middle).collect::<Vec<_>>().windows(2).all(alike))
}

/// The figure of a bore that is looked at, and how.
struct Of {
    value: fn(&Line) -> Option<[f64; 2]>,
    /// Whether a turn of the bank's row in its own plane is followed.
    turns: bool,
    /// What the figure's own reading scatters, mm.
    floor_mm: f64,
}

/// Where a bore stands.
const STANDS: Of = Of { value: |line| Some(line.off_mm), turns: true, floor_mm: 0.0 };

/// How a bore leans, mm over [`OVER_MM`]; a lean is read to `floor_mm`.
const fn leans(floor_mm: f64) -> Of {
    Of { value: |line| line.tilt.map(|tilt| tilt.map(|t| t * OVER_MM)), turns: false, floor_mm }
}

/// A bore's place along its bank, and its figure along and across.
type Row = (f64, [f64; 2]);

/// Squares left by a bank's common motion, and how many values it leaves free.
fn left(rows: &[Row], turns: bool) -> (f64, f64) {
    let n = count(rows.len());
    if rows.len() < 2 {
        return (0.0, 0.0);
    }
    let mean = |of: &dyn Fn(&Row) -> f64| rows.iter().map(of).sum::<f64>() / n;
    let (x, dx, dy) = (mean(&|r| r.0), mean(&|r| r.1[0]), mean(&|r| r.1[1]));
    let square: f64 = rows.iter().map(|r| (r.0 - x).powi(2)).sum();
    let turn = if turns && square > 0.0 {
        rows.iter().map(|r| (r.0 - x) * (r.1[1] - dy)).sum::<f64>() / square
    } else {
        0.0
    };
    let sum = rows.iter().map(|r| (r.1[0] - dx).powi(2) + (r.1[1] - dy - turn * (r.0 - x)).powi(2)).sum();
    (sum, 2.0 * n - if turns { 3.0 } else { 2.0 })
}

/// Of four bores and more the one farthest off takes so much of the squares with it at the most, where it is not odd.
const OF_WORST: f64 = 3.0;

/// The same where one bore that is odd does not count for more than the others leave.
fn left_but_for_one(rows: &[Row], turns: bool) -> (f64, f64) {
    let (squares, freedom) = left(rows, turns);
    let without = |index: usize| {
        let rest: Vec<Row> =
            rows.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, row)| *row).collect();
        left(&rest, turns).0
    };
    let least = (0..rows.len()).map(without).fold(f64::INFINITY, f64::min);
    (squares.min(OF_WORST * least.max(SCATTER_MM.powi(2))), freedom)
}

/// Bores of a bank that scatter by more than this about their row, and lean unlike each other by more over [`OVER_MM`], hide the
/// odd ones among them from each other, mm: castings come 0.2 and some hundredths. Common practice, no source.
const SPREAD_MM: f64 = 0.30;
const LEANS_MM: f64 = 0.13;

/// How far the bores of a bank scatter about their row, where two or more of them must be odd; one that is far off is asked about
/// by itself.
fn spread(bank: &BankLines, of: &Of, most_mm: f64) -> Option<f64> {
    let rows = bank.lines.iter().filter_map(|l| Some((l.x_mm, (of.value)(l)?)));
    let rows: Vec<Row> = rows.filter(|row| row.1[0].hypot(row.1[1]) <= FAR_MM).collect();
    let (squares, freedom) = left(&rows, of.turns);
    let scatter = (squares / freedom.max(1.0)).sqrt();
    (rows.len() >= FEW && scatter > most_mm.hypot(NO_CHANCE * of.floor_mm)).then_some(scatter)
}

/// The suspicion of bores that scatter about their row, or lean unlike each other, as no bank was bored.
fn scattered(asked: &Asked<'_>, bank: &BankLines) -> Option<Suspicion> {
    let lever_mm = bank.lines.iter().map(|l| l.lever_mm).fold(f64::INFINITY, f64::min).max(1.0);
    let floor_mm = OVER_MM * asked.job.instruments.centre_mm / lever_mm;
    let (code, by, found) = match (spread(bank, &STANDS, SPREAD_MM), spread(bank, &leans(floor_mm), LEANS_MM))
    {
        (Some(by), _) => (
            Code::BoreApart,
            by,
            say!("its bores scatter {} about their row: no bank was bored so", mm(by, 3)),
        ),
        (None, Some(by)) => {
            let over = mm(OVER_MM, 0);
            (
                Code::BoreLeans,
                by,
                say!("its bores lean {} over {} unlike each other: no bank was bored so", mm(by, 3), over),
            )
        }
        (None, None) => return None,
    };
    let cylinders: Vec<u32> = bank.lines.iter().map(|l| l.cylinder).collect();
    let again = cylinders.iter().all(|n| read_again(asked, *n));
    Some(Suspicion {
        code,
        verdict: if again { Verdict::Go } else { Verdict::Hold },
        subject: Subject::bank(&asked.job.bank(bank.bank).name),
        found,
        likely: "two bores and more with the same slip, or read against each other's zero".into(),
        ask: if again {
            "nothing: they were read again".into()
        } else {
            "read all its bores again: do they stand so?".into()
        },
        evidence: figures([("apart", by)]),
        cylinders: cylinders.into(),
    })
}

/// How far a bore lies from where the others of its bank put it, where chance does not put one there.
///
/// An F test of two values against what all other bores of the block leave of their banks' motions, moderated by what
/// castings scatter at all.
fn odd(banks: &[BankLines], line: &Line, significant: f64, of: &Of) -> Option<[f64; 2]> {
    let own = (of.value)(line)?;
    let (mut sum, mut free, mut with, mut from) = (0.0, 0.0, 0.0, None);
    for bank in banks {
        let rows: Vec<Row> = bank
            .lines
            .iter()
            .filter(|l| l.cylinder != line.cylinder)
            .filter_map(|l| Some((l.x_mm, (of.value)(l)?)))
            .collect();
        // A second odd bore elsewhere is not what this one is held against.
        let elsewhere = bank.bank != line.bank && rows.len() > FEW;
        let (squares, freedom) =
            if elsewhere { left_but_for_one(&rows, of.turns) } else { left(&rows, of.turns) };
        sum += squares;
        free += freedom;
        if bank.bank == line.bank {
            // Two bores cannot say which of them is odd.
            if rows.len() < 2 {
                return None;
            }
            let n = count(rows.len());
            let all: Vec<Row> = rows.iter().copied().chain([(line.x_mm, own)]).collect();
            with = left(&all, of.turns).0 - squares;
            from = Some([0, 1].map(|k| own[k] - rows.iter().map(|r| r.1[k]).sum::<f64>() / n));
        }
    }
    let scatter = (BELIEF * (SCATTER_MM.powi(2) + of.floor_mm.powi(2)) + sum) / (BELIEF + free);
    let p = FisherSnedecor::new(2.0, BELIEF + free).ok()?.sf(with / 2.0 / scatter);
    from.filter(|by| p < significant && by[0].hypot(by[1]) >= LEAST_MM)
}

fn suspicion(code: Code, line: &Line, found: Sentence, ask: Sentence, by: [f64; 2]) -> Suspicion {
    Suspicion {
        code,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(line.cylinder),
        found,
        likely: "a wrong digit, another bore's figures, or a bore that was bored anew".into(),
        ask,
        evidence: figures([("apart", by[0].hypot(by[1])), ("x", by[0]), ("y", by[1])]),
        cylinders: vec![line.cylinder].into(),
    }
}

fn stands_apart(line: &Line, by: [f64; 2]) -> Suspicion {
    let n = line.cylinder;
    let found = say!(
        "bore {} alone stands {} (x {}, y {}) apart from the others of its bank, far beyond what they \
             scatter",
        n,
        mm(by[0].hypot(by[1]), 3),
        signed_before_mm(by[0], 3),
        signed_before_mm(by[1], 3)
    );
    suspicion(Code::BoreApart, line, found, say!("read cylinder {} again: does it stand so?", n), by)
}

fn leans_apart(line: &Line, by: [f64; 2]) -> Suspicion {
    let n = line.cylinder;
    let found = say!(
        "bore {} alone leans {} over {} (x {}, y {}) against the others of its bank, far beyond what \
             they scatter",
        n,
        mm(by[0].hypot(by[1]), 3),
        mm(OVER_MM, 0),
        signed_before_mm(by[0], 3),
        signed_before_mm(by[1], 3)
    );
    suspicion(Code::BoreLeans, line, found, say!("read cylinder {} again at three depths", n), by)
}

fn far_off(line: &Line, size: f64, (far, few): (f64, bool)) -> Suspicion {
    let n = line.cylinder;
    let found = if few {
        say!(
            "bore {} stands {} off its true place, over {}, and too few bores of its bank were read to tell the bore from the \
             datum",
            n,
            mm(size, 3),
            mm(far, 1)
        )
    } else {
        say!(
            "bore {} stands {} off its true place; no bore worth sleeving stands over {}",
            n,
            mm(size, 3),
            mm(far, 1)
        )
    };
    suspicion(
        Code::BoreFarOff,
        line,
        found,
        say!("read cylinder {} again: is it this block's?", n),
        line.off_mm,
    )
}
