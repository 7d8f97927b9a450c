//! Deck: what the job says is still to be cut off it.

use super::{Bench, Cutter, worked};
use crate::plan::sentence::{mm, within_mm};
use crate::plan::{PassKind, SLEEVES_FLUSH, Stage, Stock};
use crate::say;

/// Setting and cutting of one bank's deck, minutes. Common practice, no source.
const MINUTES: f64 = 45.0;
/// Flatness over the deck, mm. Common practice, no source.
pub(crate) const FLAT_MM: f64 = 0.05;
/// Two corners of a deck may differ in height above the journal axis by this, mm. Common practice, no source.
pub(crate) const LEVEL_MM: f64 = 0.02;

/// Appends the cut over the whole bank's deck where no sleeve is in yet.
pub(super) fn before_fit(bench: &mut Bench<'_>) {
    let deck = bench.job.engine.deck;
    if deck.cut_mm > 0.0 && !deck.after_fit {
        whole(bench);
    }
}

/// Appends what is cut once all sleeves are in: deck and sleeves together where the job has the deck wait for them,
/// else the sleeves alone that stand out.
pub(super) fn after_fit(bench: &mut Bench<'_>) {
    let deck = bench.job.engine.deck;
    if deck.cut_mm > 0.0 && deck.after_fit {
        whole(bench);
    } else {
        flush(bench);
    }
}

/// The cut over the whole bank's deck, told at its first cylinder.
fn whole(bench: &mut Bench<'_>) {
    let deck = bench.job.engine.deck;
    let height = bench.job.deck_as_it_is_mm(bench.bank, &bench.survey.journal_axis) - deck.cut_mm;
    let with = match (deck.after_fit, bench.sleeve.flange().is_some()) {
        (true, true) => "flanges and block together, flush",
        (true, false) => "sleeves and block together, flush",
        (false, _) => "no sleeve in",
    };
    let text = say!(
        "cut {} off the whole bank, {}: {} above the journal axis at 4 corners within {}, \
         flat within {}. Lists for what comes after count from the new deck",
        mm(deck.cut_mm, 3),
        with,
        mm(height, 3),
        within_mm(height, LEVEL_MM, 3),
        mm(FLAT_MM, 2).most(0.0)
    );
    let metal = bench.job.block.parent.material.name.clone();
    let step = bench.next();
    // One cut for the whole bank, told at its first cylinder.
    let Some(cut) = bench.cuts.first() else { return };
    let what = Cutter {
        stage: Stage::Deck,
        feature: "deck, whole bank",
        diameter_mm: 0.0,
        depths_mm: [0.0, deck.cut_mm],
        cutting: None,
        material: &metal,
    };
    let mut pass = bench.pass(step, cut, &what);
    pass.stock = Stock { min: deck.cut_mm, max: deck.cut_mm };
    pass.worked.push(worked::off_deck(deck.cut_mm));
    pass.minutes = MINUTES;
    pass.worked.push(worked::by_hand(MINUTES));
    pass.stop = Some(text.into());
    bench.passes.push(pass);
}

/// Plain sleeves left proud, cut flush with a deck that stays as it is: one cut over the bank, every sleeve looked at.
fn flush(bench: &mut Bench<'_>) {
    let Some(proud) = bench.sleeve.foot().map(|f| f.proud_mm).filter(|proud| *proud > 0.0) else { return };
    let Some(minutes) = u32::try_from(bench.cuts.len()).ok().map(|sleeves| MINUTES / f64::from(sleeves))
    else {
        return;
    };
    let cut_off = bench.job.engine.deck.cut_mm;
    let text = say!(
        "sleeves cut flush, {} off each: within {} of the deck at 4 points, none below it, the deck itself not \
         touched; edges broken",
        mm(proud, 2),
        mm(LEVEL_MM, 3).most(0.0)
    );
    let step = bench.next();
    let mut passes = Vec::new();
    for cut in &bench.cuts {
        let what = Cutter {
            stage: Stage::Deck,
            feature: SLEEVES_FLUSH,
            diameter_mm: 0.0,
            depths_mm: [cut_off - proud, cut_off],
            cutting: None,
            material: &bench.sleeve.material.name,
        };
        let mut pass = bench.pass(step, cut, &what);
        pass.kind = PassKind::SleevesFlush;
        pass.stock = Stock { min: proud, max: proud };
        pass.minutes = minutes;
        pass.worked.push(worked::by_hand(minutes));
        pass.stop = Some(text.clone().into());
        passes.push(pass);
    }
    bench.passes.append(&mut passes);
}
