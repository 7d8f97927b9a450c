//! The forecast of a family for its next block, in sentences.

use crate::plan::prior::{Left, Prior, Risk, SleevePrior, Spread};
use crate::plan::rounding::down_mm;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::say;

/// Sentences, the sleeves first; figures are rounded to the unfavourable side.
pub(super) fn says(prior: &Prior) -> Vec<Sentence> {
    let mut said = vec![blocks(prior)];
    said.extend(prior.sleeves.iter().flat_map(sleeve));
    said.extend(unread(prior));
    said.extend(held(prior));
    said
}

fn blocks(prior: &Prior) -> Sentence {
    let (blocks, [next, most]) = (prior.blocks.len(), prior.least_blocks);
    let of = if blocks == 1 { "block" } else { "blocks" };
    if blocks == 0 {
        return "no other block of this family was filed: nothing is said of this one".into();
    }
    if u32::try_from(blocks).is_ok_and(|n| n < next) {
        return say!(
            "{} {} filed: too few to say what the next one will be like; {} say something of it, {} of most blocks to come",
            blocks,
            of,
            next,
            most
        );
    }
    say!("{} {} filed", blocks, of)
}

fn sleeve(sleeve: &SleevePrior) -> Vec<Sentence> {
    if sleeve.stock.spread.is_none() && sleeve.wall.spread.is_none() {
        return vec![say!(
            "{}: no block of the family was filed with it, nothing can be said",
            sleeve.sleeve
        )];
    }
    let parts = [("stock to clean up", &sleeve.stock), ("wall left", &sleeve.wall)];
    parts.into_iter().filter_map(|(what, left)| self::left(&sleeve.sleeve, what, left)).collect()
}

/// What a sleeve would leave in the family's next block, in words: `what` is stock or wall; `None` where no block
/// said any of it.
fn left(sleeve: &str, what: &str, left: &Left) -> Option<Sentence> {
    let spread = left.spread.as_ref()?;
    let mut said = match (spread.next_least, spread.most_least) {
        (None, _) => say!(
            "{}, {}: too few to say ({} so far, the least {})",
            sleeve,
            what,
            spread.blocks,
            mm(down_mm(spread.found[0]), 2)
        ),
        (Some(least), None) => {
            say!(
                "{}, {}: {} or more, 95 % sure ({} blocks)",
                sleeve,
                what,
                mm(down_mm(least), 2),
                spread.blocks
            )
        }
        (Some(least), Some(most)) => say!(
            "{}, {}: {} or more, 95 % sure; {} or more on 95 of 100 to come ({} blocks)",
            sleeve,
            what,
            mm(down_mm(least), 2),
            mm(down_mm(most), 2),
            spread.blocks
        ),
    };
    match left.asked {
        None => said.push("; the job asks for none"),
        Some(asked) => said.push(say!("; {} is asked for", mm(asked, 2))),
    }
    said.push(match left.risk {
        Risk::Short => ": EXPECT IT SHORT, before any bore is moved",
        Risk::AtRisk => ": AT RISK, before any bore is moved",
        Risk::Enough => ": enough",
        Risk::TooFew | Risk::NotKnown => "",
    });
    Some(said)
}

/// Places where the family is thin and this block was not read.
fn unread(prior: &Prior) -> Option<Sentence> {
    prior.held?;
    let first: Vec<&_> = prior.walls_first().iter().filter(|w| w.here.is_none()).collect();
    let name = |w: &&crate::plan::prior::WallPrior| {
        let [from, to] = w.depths;
        say!("cylinder {} at clock {:.0}, {} to {} deep", w.cylinder, w.clock, before_mm(from, 0), mm(to, 0))
    };
    let names: Vec<Sentence> = first.iter().map(name).collect();
    (!names.is_empty())
        .then(|| say!("not read here, where the family is thinnest: {}", Sentence::join(names, "; ")))
}

fn held(prior: &Prior) -> Option<Sentence> {
    let held = prior.held?;
    Some(match (held, prior.odd.len()) {
        (0, _) => "too few blocks to say whether this one is like its family".into(),
        (_, 0) => say!("this block is like its family in all {} figures that were held against it", held),
        (_, odd) => say!("this block is unlike its family in {} of {} figures", odd, held),
    })
}

impl Prior {
    /// The walls to read first.
    #[must_use]
    pub fn walls_first(&self) -> &[crate::plan::prior::WallPrior] {
        const FIRST: usize = 8;
        self.walls.get(..FIRST).unwrap_or(&self.walls)
    }
}

impl Spread {
    /// The least to expect of the next block, mm, or the least found where the blocks are too few to say.
    #[must_use]
    pub fn feared(&self) -> f64 {
        self.next_least.unwrap_or(self.found[0])
    }
}
