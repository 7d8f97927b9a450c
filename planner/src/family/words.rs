//! The words of a trend, in sentences.

use super::intervals::{SURELY, least_for_prediction, mean};
use super::results::{Hours, SizeNext, SleeveNext, Trend};
use super::spread::Spread;
use super::stand::{BankStand, Cause};
use crate::plan::rounding::down_mm;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::say;

/// Sentences; offsets are told to a hundredth, since no bore is read much closer (common practice).
pub(super) fn says(trend: &Trend) -> Vec<Sentence> {
    let mut said = Vec::new();
    let (blocks, [next, most]) = (trend.blocks.len(), trend.least_blocks);
    if u32::try_from(blocks).is_ok_and(|n| n < next) {
        said.push(say!(
            "{} {}: too few to say what the next block will be like; {} say something of it, {} of most blocks to come",
            blocks,
            plural(blocks),
            next,
            most
        ));
    }
    for bank in &trend.banks {
        said.extend(bank_across(bank));
        said.extend(bank_along(bank));
        said.extend(bank_shares(bank));
    }
    said.extend(together(&trend.banks));
    said.extend(trend.walls.first().map(|cell| {
        let expected = match cell.wall.next_least {
            Some(least) => {
                say!("the next block's is no less than {} there, 95 % sure", mm(down_mm(least), 2))
            }
            None => say!("the least found is {}", mm(cell.wall.found[0], 2)),
        };
        say!(
            "thinnest walls: cylinder {}, clock {:.0}, depth {} to {}: {}",
            cell.cylinder,
            cell.clock,
            before_mm(cell.depths[0], 0),
            mm(cell.depths[1], 0),
            expected
        )
    }));
    let sunk =
        trend.heights.iter().filter(|(_, h)| h.mean < 0.0).min_by(|a, b| a.1.mean.total_cmp(&b.1.mean));
    said.extend(sunk.map(|(cylinder, h)| {
        say!("liners sink most on cylinder {}: {} below the deck in the mean", cylinder, mm(-h.mean, 2))
    }));
    said.extend(trend.sleeves.iter().flat_map(sleeve));
    said.extend(trend.sizes.iter().filter_map(size));
    said.extend(trend.hours.as_ref().and_then(hours));
    said
}

fn plural(n: usize) -> &'static str {
    if n == 1 { "block" } else { "blocks" }
}

/// `the right bank comes 0.14 outwards, 9 of 11 blocks: their index`.
fn bank_across(bank: &BankStand) -> Option<Sentence> {
    if bank.off[1]? {
        let cause = match bank.cause {
            Cause::Turned => "their index, as the lean of the bores says",
            Cause::Moved => "their setting across, since the bores stand upright",
            Cause::Untold => "their index or their setting across; the lean of the bores does not tell which",
        };
        return Some(say!(
            "the {} bank comes {} {}, {} of {} blocks: {}",
            bank.bank,
            mm(bank.across.mean.abs(), 2),
            way_across(bank),
            bank.same_way[1],
            bank.across.blocks,
            cause
        ));
    }
    Some(say!(
        "the {} bank stands across the crank's line as often one way as the other: {} in the mean",
        bank.bank,
        mm(bank.across.mean.abs(), 2)
    ))
}

/// The middle of a V is inwards; an inline block has a left and a right, seen from the flywheel end.
fn way_across(bank: &BankStand) -> &'static str {
    let outwards = bank.across.mean * bank.angle;
    if bank.angle == 0.0 {
        if bank.across.mean > 0.0 { "to the right" } else { "to the left" }
    } else if outwards > 0.0 {
        "outwards"
    } else {
        "inwards"
    }
}

fn bank_along(bank: &BankStand) -> Option<Sentence> {
    bank.off[0]?.then(|| {
        say!(
            "the {} bank comes {} to the {}, {} of {} blocks: their stop along the crank",
            bank.bank,
            mm(bank.along.mean.abs(), 2),
            if bank.along.mean > 0.0 { "rear" } else { "front" },
            bank.same_way[0],
            bank.along.blocks,
        )
    })
}

fn bank_shares(bank: &BankStand) -> Option<Sentence> {
    bank.off[0]?;
    let percent = |share: f64| (share * 100.0).round() + 0.0;
    let s = bank.shares;
    Some(say!(
        "of what the {} bank stands off, {} % is one move that all blocks share, {} % a move of each block of its own, \
         {} % each bore's own",
        bank.bank,
        percent(s.common),
        percent(s.own),
        percent(s.rest)
    ))
}

/// Both banks outwards or inwards by as much: tells whether that is their angle or how they were set; `None` where
/// they do not stand so.
fn together(banks: &[BankStand]) -> Option<Sentence> {
    let [a, b] = banks else { return None };
    let side = if b.across.mean > 0.0 { "right" } else { "left" };
    let out = |bank: &BankStand| bank.across.mean * bank.angle.signum();
    let both = a.off[1]? && b.off[1]? && a.angle != 0.0 && b.angle != 0.0;
    let (a, b) = (out(a), out(b));
    let alike = |b: f64| both && a * b > 0.0 && (a - b).abs() < 0.5 * a.abs().max(b.abs());
    if alike(b) {
        let way = if a > 0.0 { "more" } else { "less" };
        return Some(say!(
            "both banks by alike: the angle between their two indexings is {} than it should be",
            way
        ));
    }
    alike(-b).then(|| {
        say!("both banks to the engine's {} by alike: one place or turn of the block for both banks explains it", side)
    })
}

fn sleeve(sleeve: &SleeveNext) -> Vec<Sentence> {
    let parts = [
        ("stock to clean up", &sleeve.stock, sleeve.limits[0]),
        ("wall left", &sleeve.wall, sleeve.limits[1]),
    ];
    parts
        .into_iter()
        .filter_map(|(what, spread, limit)| next(&sleeve.sleeve, what, spread.as_ref()?, limit))
        .collect()
}

/// What a sleeve leaves in the next block and in most to come, beside the `limit` asked for, mm; `None` where no
/// block was found.
fn next(sleeve: &str, what: &str, spread: &Spread, limit: Option<f64>) -> Option<Sentence> {
    let asked = limit.map_or_else(Sentence::new, |limit| say!("; {} is asked for", mm(limit, 2)));
    let Some(least) = spread.next_least else {
        let found = spread.found[0];
        return Some(say!(
            "{}, {}: too few to say ({} so far, the least {}){}",
            sleeve,
            what,
            spread.blocks,
            mm(found, 2),
            asked
        ));
    };
    let most = spread.most_least.map_or_else(
        || Sentence::from("too few to say of most to come"),
        |most| say!("{} or more on 95 of 100 to come", mm(down_mm(most), 2)),
    );
    let risk = match limit {
        Some(limit) if spread.mean < limit => ": expect it short, before any bore is moved",
        Some(limit) if least < limit => ": at risk, before any bore is moved",
        Some(_) => ": enough",
        None => "",
    };
    Some(say!(
        "{}, {}: the next block leaves {} or more, 95 % sure; {}{}{}",
        sleeve,
        what,
        mm(down_mm(least), 2),
        most,
        asked,
        risk
    ))
}

/// `lower register, diameter: read 0.005 over what was asked, in the mean of 11 blocks`.
fn size(size: &SizeNext) -> Option<Sentence> {
    let half = mean(size.over.blocks, SURELY)? * size.over.sd?;
    let off = size.over.blocks >= least_for_prediction() && size.over.mean.abs() > half;
    off.then(|| {
        say!(
            "{}, {}: read {} {} what was asked, in the mean of {} blocks",
            size.feature,
            size.of,
            mm(size.over.mean.abs(), 3),
            if size.over.mean > 0.0 { "over" } else { "under" },
            size.over.blocks
        )
    })
}

fn hours(hours: &Hours) -> Option<Sentence> {
    let over = hours.recorded_over_asked.as_ref()?;
    Some(say!(
        "hours: {:.1} asked in the mean; the records span {:.0} % of what was asked, from the first to the last line of \
         each day ({} {})",
        hours.asked.mean,
        over.mean * 100.0,
        over.blocks,
        plural(usize::try_from(over.blocks).unwrap_or_default())
    ))
}
