//! The stand of the maker's bores off the crank: bank by bank, over the blocks of a family.

use std::collections::BTreeMap;

use serde::Serialize;

use super::figures::{BankAt, BoreFound, Figures};
use super::intervals::{SURELY, least_for_prediction, mean};
use super::spread::Spread;

/// One bank over all blocks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BankStand {
    /// The bank.
    pub bank: String,
    /// Its angle, degrees.
    pub angle: f64,
    /// Mean of its bores along the bank, mm, a figure a block.
    pub along: Spread,
    /// Mean of its bores across, towards +Y, mm, a figure a block.
    pub across: Spread,
    /// How many blocks stand off the same way as the mean, along and across, by more than measuring explains.
    pub same_way: [u32; 2],
    /// Whether the mean is off zero with 95 % confidence, along and across; `None` where too few to say.
    pub off: [Option<bool>; 2],
    /// What the lean of the bores says of an offset across.
    pub cause: Cause,
    /// Each bore: cylinder, along, across.
    pub bores: Vec<(u32, Spread, Spread)>,
    /// How much of what stands off is what.
    pub shares: Shares,
}

/// What moved a bank across.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// The bores lean as if the block had been turned about the crank.
    Turned,
    /// They stand upright: moved sideways.
    Moved,
    /// Their lean does not tell, or was not read.
    Untold,
}

/// Shares of the sum of squares of what a bank's bores stand off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shares {
    /// What one move and turn in the bank's plane, the same in every block, explains, of 1.
    pub common: f64,
    /// What a move of each block of its own explains beyond it, of 1.
    pub own: f64,
    /// What is left, of 1: each bore its own.
    pub rest: f64,
}

/// Every bank of a family that was measured.
pub(super) fn banks(blocks: &[&Figures]) -> Vec<BankStand> {
    let mut names: Vec<&BankAt> = Vec::new();
    for bank in blocks.iter().flat_map(|b| &b.banks) {
        if !names.iter().any(|n| n.bank == bank.bank) {
            names.push(bank);
        }
    }
    names.iter().filter_map(|bank| stand(bank, blocks)).collect()
}

/// One block's bores of one bank.
struct Row<'a> {
    bores: Vec<&'a BoreFound>,
    mean: [f64; 2],
    u: [f64; 2],
}

fn rows<'a>(bank: &BankAt, blocks: &[&'a Figures]) -> Vec<Row<'a>> {
    let row = |block: &&'a Figures| {
        let bores: Vec<&BoreFound> = block.bores.iter().filter(|b| b.bank == bank.bank).collect();
        let n = count(bores.len()).filter(|n| *n > 0.0)?;
        let mean = [0, 1].map(|k| bores.iter().map(|b| b.off[k]).sum::<f64>() / n);
        let [centre, along, axis] = block.u;
        let u = [along, axis].map(|datum| datum.hypot(centre / n.sqrt()));
        Some(Row { bores, mean, u })
    };
    blocks.iter().filter_map(row).collect()
}

fn count(n: usize) -> Option<f64> {
    u32::try_from(n).ok().map(f64::from)
}

fn stand(bank: &BankAt, blocks: &[&Figures]) -> Option<BankStand> {
    let rows = rows(bank, blocks);
    let means = |k: usize| rows.iter().map(|r| r.mean[k]).collect::<Vec<f64>>();
    let (along, across) = (Spread::of(&means(0))?, Spread::of(&means(1))?);
    let spreads = [&along, &across];
    let same = |k: usize| {
        let way = spreads[k].mean.signum();
        let same = rows.iter().filter(|r| r.mean[k] * way > 2.0 * r.u[k]).count();
        u32::try_from(same).unwrap_or(u32::MAX)
    };
    let (same_way, off) = ([same(0), same(1)], spreads.map(is_off));
    Some(BankStand {
        bank: bank.bank.clone(),
        angle: bank.angle,
        same_way,
        off,
        cause: cause(bank, &rows),
        bores: bores(&rows),
        shares: shares(&rows),
        along,
        across,
    })
}

/// Whether a mean is off zero with 95 % confidence.
fn is_off(spread: &Spread) -> Option<bool> {
    let half = mean(spread.blocks, SURELY)? * spread.sd?;
    (spread.blocks >= least_for_prediction()).then_some(spread.mean.abs() > half)
}

/// Whether the bank was turned about the crank or moved sideways. Turned by φ, a bore moves by φ times its height
/// and leans by −y / deck height; moved sideways it stays upright. The cause is told where the mean lean keeps to
/// one within twice its standard error and not to the other.
fn cause(bank: &BankAt, rows: &[Row<'_>]) -> Cause {
    let leans: Vec<[f64; 2]> = rows
        .iter()
        .filter_map(|row| {
            let leans: Vec<f64> = row.bores.iter().filter_map(|b| b.tilt.map(|t| t[1])).collect();
            let lean = leans.iter().sum::<f64>() / count(leans.len()).filter(|n| *n > 0.0)?;
            Some([lean + row.mean[1] / bank.deck_height, lean])
        })
        .collect();
    let near = |k: usize| -> Option<bool> {
        let spread = Spread::of(&leans.iter().map(|l| l[k]).collect::<Vec<f64>>())?;
        let error = spread.sd? / f64::from(spread.blocks).sqrt();
        (spread.blocks >= least_for_prediction()).then_some(spread.mean.abs() <= 2.0 * error)
    };
    match (near(0), near(1)) {
        (Some(true), Some(false)) => Cause::Turned,
        (Some(false), Some(true)) => Cause::Moved,
        _ => Cause::Untold,
    }
}

fn bores(rows: &[Row<'_>]) -> Vec<(u32, Spread, Spread)> {
    let mut by_cylinder: BTreeMap<u32, Vec<[f64; 2]>> = BTreeMap::new();
    for bore in rows.iter().flat_map(|r| &r.bores) {
        by_cylinder.entry(bore.cylinder).or_default().push(bore.off);
    }
    let spread = |offs: &[[f64; 2]], k: usize| Spread::of(&offs.iter().map(|o| o[k]).collect::<Vec<f64>>());
    by_cylinder
        .iter()
        .filter_map(|(cylinder, offs)| Some((*cylinder, spread(offs, 0)?, spread(offs, 1)?)))
        .collect()
}

/// Least squares of a move and a turn in the bank's plane, once for all blocks together, once for each.
fn shares(rows: &[Row<'_>]) -> Shares {
    let all: Vec<&BoreFound> = rows.iter().flat_map(|r| r.bores.iter().copied()).collect();
    let whole: f64 = all.iter().map(|b| b.off[0].powi(2) + b.off[1].powi(2)).sum();
    let common = left(&all);
    let own: f64 = rows.iter().map(|r| left(&r.bores)).sum();
    if whole <= 0.0 {
        return Shares { common: 0.0, own: 0.0, rest: 0.0 };
    }
    Shares { common: 1.0 - common / whole, own: (common - own) / whole, rest: own / whole }
}

/// Sum of squares that one move (X, Y) and turn θ leave: dx = X, dy = Y + θ·(x − mean x).
fn left(bores: &[&BoreFound]) -> f64 {
    let Some(n) = count(bores.len()).filter(|n| *n > 0.0) else { return 0.0 };
    let mean = |of: &dyn Fn(&BoreFound) -> f64| bores.iter().map(|b| of(b)).sum::<f64>() / n;
    let (x, dx, dy) = (mean(&|b| b.true_x), mean(&|b| b.off[0]), mean(&|b| b.off[1]));
    let square: f64 = bores.iter().map(|b| (b.true_x - x).powi(2)).sum();
    let product: f64 = bores.iter().map(|b| (b.true_x - x) * (b.off[1] - dy)).sum();
    let turn = if square > 0.0 { product / square } else { 0.0 };
    bores.iter().map(|b| (b.off[0] - dx).powi(2) + (b.off[1] - dy - turn * (b.true_x - x)).powi(2)).sum()
}
