//! Whether the work goes another way round: from bank to bank, from stage to stage, from bore to bore.

use borewright_planner::plan::Plan;
use borewright_planner::read::fault::plain;

use super::before::Before;

/// One pass, as far as its place in the work goes.
struct At<'a> {
    stage: &'a str,
    bank: &'a str,
    cylinder: u32,
}

/// What comes in another order; nothing where only the bores that are cut are others.
pub(super) fn order(before: &Before, plan: &Plan) -> Vec<String> {
    let now: Vec<At<'_>> = plan
        .passes
        .iter()
        .map(|p| At { stage: p.stage.word(), bank: &p.bank, cylinder: p.cylinder })
        .collect();
    let was: Vec<At<'_>> =
        before.passes.iter().map(|p| At { stage: &p.stage, bank: &p.bank, cylinder: p.cylinder }).collect();
    let mut said = Vec::new();
    let rounds = |all: &[At<'_>]| -> Vec<String> {
        let mut rounds = Vec::new();
        for at in all {
            let words = format!("{} {}", plain(at.stage, 10), plain(at.bank, 20));
            if !rounds.contains(&words) {
                rounds.push(words);
            }
        }
        rounds
    };
    let (is, old) = (rounds(&now), rounds(&was));
    if let Some((is, old)) = another(&is, &old) {
        said.push(format!("order of work: {}, was {}", is.join(", "), old.join(", ")));
    }
    for round in &is {
        let bores = |all: &[At<'_>]| -> Vec<u32> {
            let mut bores = Vec::new();
            let own = |at: &&At<'_>| format!("{} {}", plain(at.stage, 10), plain(at.bank, 20)) == *round;
            for at in all.iter().filter(own) {
                if !bores.contains(&at.cylinder) {
                    bores.push(at.cylinder);
                }
            }
            bores
        };
        if let Some((is, old)) = another(&bores(&now), &bores(&was)) {
            let row = |all: &[u32]| all.iter().map(u32::to_string).collect::<Vec<_>>().join(" ");
            said.push(format!("{round}: bores in the order {}, was {}", row(&is), row(&old)));
        }
    }
    said
}

/// What both have, where it stands in another order.
fn another<T: PartialEq + Clone>(is: &[T], was: &[T]) -> Option<(Vec<T>, Vec<T>)> {
    let common = |of: &[T], other: &[T]| of.iter().filter(|x| other.contains(x)).cloned().collect::<Vec<T>>();
    let (is, was) = (common(is, was), common(was, is));
    (is != was).then_some((is, was))
}
