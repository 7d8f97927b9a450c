//! Going in: how hot the block, how cold the sleeve, and how long the gap lasts.

use super::heat::Pair;
use super::register::half_mm;
use super::worked::{self, Metals};
use crate::job::{Job, Sleeve};
use crate::material::REFERENCE_C;
use crate::plan::fit::{Gap, GoingIn, Register};

/// Steps of the table of gaps against the block's temperature, kelvin.
const STEP_K: f64 = 10.0;

/// Rows of that table at most.
const MOST_ROWS: usize = 10;

/// How far a block cools from the oven to the last sleeve, K. Common practice, no source.
const COOLS_K: f64 = 20.0;

/// Free expansion of both parts: gap = d (a_block (T_b - 20) + a_sleeve (20 - T_s)) - interference, a the means.
pub(super) fn going_in(job: &Job, sleeve: &Sleeve, registers: &[Register]) -> GoingIn {
    let wanted = &job.engine.going_in;
    let pair =
        |diameter_mm: f64| Pair { diameter_mm, block: &job.block.parent.material, sleeve: &sleeve.material };
    // A loose wet length goes in with any register above or below it.
    let dry = sleeve.body.iter().filter(|s| !s.wet);
    let sizes = dry.map(|s| (s.name.clone(), s.pocket_mm(), s.interference_mm + half_mm(job, s)));
    let needed = |pocket: f64, most: f64| pair(pocket).block_c(most + wanted.clearance_mm, wanted.sleeve_c);
    let decides = sizes.max_by(|a, b| needed(a.1, a.2).total_cmp(&needed(b.1, b.2)));
    let Some((name, pocket, most)) = decides.filter(|_| !registers.is_empty()) else {
        return GoingIn {
            block: REFERENCE_C,
            soak: REFERENCE_C,
            sleeve: wanted.sleeve_c,
            hottest: wanted.hottest_c,
            ..GoingIn::default()
        };
    };
    let (needed, pair) = (needed(pocket, most), pair(pocket));
    let gap = |block_c: f64, sleeve_c: f64| pair.opened_mm(block_c, sleeve_c) - most;
    // A sleeve that is loose enough with the block cold needs no oven.
    let loose = gap(REFERENCE_C, wanted.sleeve_c) >= 0.0 && most <= 0.0;
    // The block cools on its way from the hottest that it may be; a colder sleeve makes up for that.
    let on_its_way_c = (wanted.hottest_c - COOLS_K).max(REFERENCE_C);
    let (block_c, chilled) = match (loose, needed > on_its_way_c) {
        (true, _) => (REFERENCE_C, None),
        (false, false) => (needed, None),
        (false, true) => (on_its_way_c, Some(pair.sleeve_c(most + wanted.clearance_mm, on_its_way_c))),
    };
    let sleeve_c = chilled.unwrap_or(wanted.sleeve_c);
    let metals = Metals { diameter_mm: pocket, block: pair.block, sleeve: pair.sleeve };
    let mut gaps = Vec::new();
    if !loose {
        // From the hottest that the block may be: an oven overshoots, and a block cools on its way.
        let mut at = wanted.hottest_c;
        while gaps.len() < MOST_ROWS && at > REFERENCE_C {
            gaps.push(Gap { block: at, gap: gap(at, sleeve_c) });
            at = ((at - 0.5 * STEP_K) / STEP_K).floor() * STEP_K;
        }
    }
    let soak = if loose { REFERENCE_C } else { (block_c + COOLS_K).min(wanted.hottest_c) };
    let soaked = (!loose).then(|| worked::soak(soak, block_c, COOLS_K));
    GoingIn {
        block: block_c,
        soak,
        sleeve: sleeve_c,
        clearance: gap(block_c, sleeve_c),
        decides: name,
        hottest: wanted.hottest_c,
        chilled,
        gaps,
        reheat_below: (!loose).then_some(block_c),
        worked: std::iter::once(worked::gap(
            gap(block_c, sleeve_c),
            most,
            metals,
            [block_c, sleeve_c],
            chilled.is_some(),
        ))
        .chain(soaked)
        .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::worked::Origin;

    #[test]
    fn what_a_block_cools_by_is_told_as_it_is_reckoned() {
        let told = worked::GAP_CHILLED.map(|symbol| symbol.origin);
        let cools = format!("less {COOLS_K} K that it cools by");
        assert!(
            told.iter().any(|from| matches!(from, Origin::Known(words) if words.contains(&cools))),
            "{cools}"
        );
    }
}
