//! The words of a shop's figures.

use super::estimate::LEAST_CAPABILITY;
use super::{Claim, Group, Shop};
use crate::plan::sentence::{Sentence, before_mm, mm, signed_mm};
use crate::read::fault::plain;
use crate::say;

/// Sentences: the machine's own figure first, then every bias that shows, then what is capable.
pub(super) fn says(shop: &Shop) -> Vec<Sentence> {
    let mut says: Vec<Sentence> = shop.claims.iter().map(|c| claim(shop, c)).collect();
    says.extend(shop.groups.iter().filter_map(bias));
    says.extend(shop.groups.iter().filter(|g| g.by == "machine").flat_map(capable));
    if !shop.groups.is_empty() {
        says.push(
            "X and Y that were read on the machine's own scales do not show what the scales are off by"
                .into(),
        );
    }
    says
}

fn claim(shop: &Shop, c: &Claim) -> Sentence {
    let [low, high] = c.claimed;
    let claimed = if high - low < 1e-9 {
        say!("{}", mm(low, 3))
    } else {
        say!("{} to {}", before_mm(low, 3), mm(high, 3))
    };
    let name = plain(&c.machine, 40);
    let (Some(figure), Some([least, most])) = (c.figure, c.within) else {
        let (n, needed) = (c.n, shop.least_bores[0]);
        return say!(
            "{name}: instruments.machine says {}; X and Y of {n} bores were read, {needed} are needed to say more",
            claimed
        );
    };
    let told = say!("{} ({} to {}, 95 % sure)", mm(figure, 4), before_mm(least, 4), mm(most, 4));
    match c.says {
        "claims_too_little" => {
            say!("{name}: instruments.machine says {}, which is too little: write {}", claimed, told)
        }
        "claims_more_than_needed" => {
            say!("{name}: instruments.machine says {}, more than is needed: {} would do", claimed, told)
        }
        _ => say!("{name}: instruments.machine says {}, and {} bores agree: {}", claimed, c.n, told),
    }
}

/// A bias that shows beside its own uncertainty.
fn bias(g: &Group) -> Option<Sentence> {
    let within = g.spread.mean_within.filter(|w| g.spread.is_enough() && g.spread.mean.abs() > *w)?;
    let words = g.kind.words();
    let name = plain(&g.name, 60);
    Some(say!(
        "{} {name}: {words} comes out {} off what is asked (within {}, {} bores); measuring itself may be off by {}",
        g.by,
        signed_mm(g.spread.mean, 4),
        mm(within, 4),
        g.spread.n,
        mm(2.0 * g.u_measuring, 3)
    ))
}

/// The capability of a group, a sentence for each window with bores enough, else one that they are too few.
fn capable(g: &Group) -> Vec<Sentence> {
    let words = g.kind.words();
    let name = plain(&g.name, 40);
    let told = g.windows.iter().filter_map(|w| {
        let c = w.capability?;
        let [low, high] = w.window;
        Some(say!(
            "{name}, {words} within {} to {}: Cp {:.2} ({:.2} to {:.2}), Cpk {:.2} ({:.2} to {:.2}) from {} bores{}",
            signed_mm(low, 3),
            signed_mm(high, 3),
            c.cp,
            c.cp_within[0],
            c.cp_within[1],
            c.cpk,
            c.cpk_within[0],
            c.cpk_within[1],
            w.spread.n,
            if w.spread.n < 100 { "; a study should rest on 100" } else { "" }
        ))
    });
    let mut all: Vec<Sentence> = told.collect();
    let most = g.windows.iter().map(|w| w.spread.n).max();
    if all.is_empty()
        && let Some(most) = most
    {
        all.push(say!(
            "{name}, {words}: too few for a capability, {most} bores of one window of the {LEAST_CAPABILITY} that it takes"
        ));
    }
    all
}
