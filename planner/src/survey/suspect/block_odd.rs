//! What the job says of the block that no block has: a stud far from every bore, a deck cut by more than a deck is.

use super::evidence::{figures, listed};
use super::{Asked, Suspicion};
use crate::job::Stud;
use crate::plan::Verdict;
use crate::plan::sentence::mm;
use crate::say;
use crate::survey::set_up::count;

/// More is off no deck in one go: what is asked is a digit slipped, or another unit, mm. Common practice, no source.
const DECK_CUT_MM: f64 = 0.5;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found: Vec<Suspicion> =
        (0..asked.job.block.banks.len()).filter_map(|bank| far_studs(asked, bank)).collect();
    found.extend(deck_cut(asked));
    found
}

/// Studs of a bank farther than one bore spacing from each of its bores: none of them clamps a head there.
fn far_studs(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let bank = asked.job.bank(index);
    let mut xs: Vec<f64> = bank.sites.iter().map(|s| s.x_mm).collect();
    xs.sort_by(f64::total_cmp);
    let spacing = xs.windows(2).map(|pair| pair[1] - pair[0]).max_by(f64::total_cmp)?;
    let to_bore = |stud: &Stud| {
        let [x, y] = stud.centre_mm;
        xs.iter().map(|bore| (x - bore).hypot(y - bank.axis_offset_mm)).fold(f64::INFINITY, f64::min)
    };
    let own = asked.job.block.studs.iter().filter(|s| s.bank == index);
    let far: Vec<(&Stud, f64)> =
        own.map(|s| (s, to_bore(s))).filter(|(_, to)| *to > spacing + 1e-6).collect();
    let (worst, to) = far.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let [x, y] = worst.centre_mm;
    let cylinders: Vec<u32> = bank.sites.iter().map(|s| s.cylinder).collect();
    Some(Suspicion {
        code: "stud_far",
        verdict: Verdict::Hold,
        subject: format!("bank {}", bank.name),
        found: say!(
            "the stud at x {x:.1}, y {y:.1} lies {} from the nearest bore, which are {} apart ({} studs so)",
            mm(*to, 1),
            mm(spacing, 1),
            far.len()
        ),
        likely: "a digit or a sign slipped, the other bank's studs, or another unit: a stud in the wrong place guards nothing".into(),
        ask: say!("where do the studs round cylinders {} stand?", listed(&cylinders)),
        evidence: figures([("to_bore", *to), ("spacing", spacing), ("studs", count(far.len()))]),
        cylinders,
    })
}

fn deck_cut(asked: &Asked<'_>) -> Option<Suspicion> {
    let cut = asked.job.engine.deck.cut_mm;
    (cut > DECK_CUT_MM + 1e-9).then(|| Suspicion {
        code: "deck_cut",
        verdict: Verdict::Hold,
        subject: "deck".into(),
        found: say!("{} are to come off the deck, and ledges are cut deeper by as much", mm(cut, 3)),
        likely: "a digit slipped, or another unit: a deck is skimmed by tenths".into(),
        ask: "how much is to come off the deck (`deck.cut`)?".into(),
        evidence: figures([("cut", cut), ("most", DECK_CUT_MM)]),
        cylinders: asked.job.block.banks.iter().flat_map(|b| &b.sites).map(|s| s.cylinder).collect(),
    })
}
