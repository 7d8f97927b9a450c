//! What a trend says, in sentences.

use super::foretold::down;
use super::intervals::{SURELY, least_for_prediction, mean};
use super::spread::Spread;
use super::stand::{BankStand, Cause};
use super::trend::{Hours, SizeNext, SleeveNext, Trend};

/// Sentences; offsets are told to a hundredth, since no bore is read much closer (common practice).
pub(super) fn says(trend: &Trend) -> Vec<String> {
    let mut said = Vec::new();
    let (blocks, [next, most]) = (trend.blocks.len(), trend.least_blocks);
    if u32::try_from(blocks).is_ok_and(|n| n < next) {
        said.push(format!(
            "{blocks} {}: too few to say what the next block will be like; {next} say something of it, {most} of most \
             blocks to come",
            plural(blocks)
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
            Some(least) => format!("the next block's is no less than {:.2} there, 95 % sure", down(least)),
            None => format!("the least found is {:.2}", cell.wall.found[0]),
        };
        format!(
            "thinnest walls: cylinder {}, clock {:.0}, depth {:.0} to {:.0}: {expected}",
            cell.cylinder, cell.clock, cell.depths[0], cell.depths[1]
        )
    }));
    let sunk =
        trend.heights.iter().filter(|(_, h)| h.mean < 0.0).min_by(|a, b| a.1.mean.total_cmp(&b.1.mean));
    said.extend(sunk.map(|(cylinder, h)| {
        format!("liners sink most on cylinder {cylinder}: {:.2} below the deck in the mean", -h.mean)
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
fn bank_across(bank: &BankStand) -> Option<String> {
    if bank.off[1]? {
        let cause = match bank.cause {
            Cause::Turned => "their index, as the lean of the bores says",
            Cause::Moved => "their setting across, since the bores stand upright",
            Cause::Untold => "their index or their setting across; the lean of the bores does not tell which",
        };
        return Some(format!(
            "the {} bank comes {:.2} {}, {} of {} blocks: {cause}",
            bank.bank,
            bank.across.mean.abs(),
            way_across(bank),
            bank.same_way[1],
            bank.across.blocks,
        ));
    }
    Some(format!(
        "the {} bank stands across the crank's line as often one way as the other: {:.2} in the mean",
        bank.bank,
        bank.across.mean.abs()
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

fn bank_along(bank: &BankStand) -> Option<String> {
    bank.off[0]?.then(|| {
        format!(
            "the {} bank comes {:.2} to the {}, {} of {} blocks: their stop along the crank",
            bank.bank,
            bank.along.mean.abs(),
            if bank.along.mean > 0.0 { "rear" } else { "front" },
            bank.same_way[0],
            bank.along.blocks,
        )
    })
}

fn bank_shares(bank: &BankStand) -> Option<String> {
    bank.off[0]?;
    let percent = |share: f64| (share * 100.0).round() + 0.0;
    let s = bank.shares;
    Some(format!(
        "of what the {} bank stands off, {} % is one move that all blocks share, {} % a move of each block of its own, \
         {} % each bore's own",
        bank.bank,
        percent(s.common),
        percent(s.own),
        percent(s.rest)
    ))
}

/// Both banks out or in by alike and turned: not the block's place, but the angle between its two.
fn together(banks: &[BankStand]) -> Option<String> {
    let [a, b] = banks else { return None };
    let side = if b.across.mean > 0.0 { "right" } else { "left" };
    let out = |bank: &BankStand| bank.across.mean * bank.angle.signum();
    let both = a.off[1]? && b.off[1]? && a.angle != 0.0 && b.angle != 0.0;
    let (a, b) = (out(a), out(b));
    let alike = |b: f64| both && a * b > 0.0 && (a - b).abs() < 0.5 * a.abs().max(b.abs());
    if alike(b) {
        let way = if a > 0.0 { "more" } else { "less" };
        return Some(format!(
            "both banks by alike: the angle between their two indexings is {way} than it should be"
        ));
    }
    alike(-b).then(|| {
        format!("both banks to the engine's {side} by alike: one place or turn of the block for both banks explains it")
    })
}

fn sleeve(sleeve: &SleeveNext) -> Vec<String> {
    let parts = [
        ("stock to clean up", &sleeve.stock, sleeve.limits[0]),
        ("wall left", &sleeve.wall, sleeve.limits[1]),
    ];
    parts
        .into_iter()
        .filter_map(|(what, spread, limit)| next(&sleeve.sleeve, what, spread.as_ref()?, limit))
        .collect()
}

fn next(sleeve: &str, what: &str, spread: &Spread, limit: Option<f64>) -> Option<String> {
    let asked = limit.map_or_else(String::new, |limit| format!("; {limit:.2} is asked for"));
    let Some(least) = spread.next_least else {
        let found = spread.found[0];
        return Some(format!(
            "{sleeve}, {what}: too few to say ({} so far, the least {found:.2}){asked}",
            spread.blocks
        ));
    };
    let most = spread.most_least.map_or_else(
        || "too few to say of most to come".to_owned(),
        |most| format!("{:.2} or more on 95 of 100 to come", down(most)),
    );
    let risk = match limit {
        Some(limit) if spread.mean < limit => ": expect it short, before any bore is moved",
        Some(limit) if least < limit => ": at risk, before any bore is moved",
        Some(_) => ": enough",
        None => "",
    };
    Some(format!(
        "{sleeve}, {what}: the next block leaves {:.2} or more, 95 % sure; {most}{asked}{risk}",
        down(least)
    ))
}

/// `lower register, diameter: read 0.005 over what was asked, in the mean of 11 blocks`.
fn size(size: &SizeNext) -> Option<String> {
    let half = mean(size.over.blocks, SURELY)? * size.over.sd?;
    let off = size.over.blocks >= least_for_prediction() && size.over.mean.abs() > half;
    off.then(|| {
        format!(
            "{}, {}: read {:.3} {} what was asked, in the mean of {} blocks",
            size.feature,
            size.of,
            size.over.mean.abs(),
            if size.over.mean > 0.0 { "over" } else { "under" },
            size.over.blocks
        )
    })
}

fn hours(hours: &Hours) -> Option<String> {
    let over = hours.recorded_over_asked.as_ref()?;
    Some(format!(
        "hours: {:.1} asked in the mean; the records span {:.0} % of what was asked, from the first to the last line of \
         each day ({} {})",
        hours.asked.mean,
        over.mean * 100.0,
        over.blocks,
        plural(usize::try_from(over.blocks).unwrap_or_default())
    ))
}
