//! A ledge's answers: its depth, its flange's height, and what makes good a ledge cut too deep.

use borewright_geometry::sample::{ends, mean};

use super::against;
use super::bench::Bench;
use super::gauge::{fine, fine_mm};
use super::register::fits_elsewhere;
use super::said::{Answer, Remedy, Say, Way};
use crate::job::{Flange, Job, Sleeve};
use crate::limits::of_sleeve;
use crate::passes::FEELER_MM;
use crate::plan::check::{Asked, Of};
use crate::plan::judge::FACTOR;
use crate::plan::sentence::{Sentence, before_mm, signed_before_mm};
use crate::read::fault::plain;
use crate::record::Lies;
use crate::record::judge::NOTHING;
use crate::say;
use crate::sleeve::deck_tilts;

/// Most sleeves that are named.
const NAMED: usize = 3;
/// Neighbours whose heights differ by more than this leave the gasket between them unloaded, mm. Common practice,
/// no source.
pub(super) const NEIGHBOURS_MM: f64 = 0.025;

/// The most that points round one flange or ledge may differ, mm.
pub(super) fn spread_mm(job: Option<&Job>) -> f64 {
    job.and_then(|j| j.limits.get(of_sleeve::PROTRUSION_SPREAD.name))
        .map_or(of_sleeve::SPREAD_MM, |limit| limit.least_mm)
}

/// What a flange must be to stand as asked on a ledge, mm: least and most thickness.
///
/// Height = thickness − depth + what is still cut off the deck, at every point between least and most.
fn thickness_mm(flange: &Flange, deck_cut_mm: f64, depths_mm: [f64; 2]) -> [f64; 2] {
    let [shallow, deep] = depths_mm.map(|d| d - deck_cut_mm);
    [deep + flange.protrusion_min_mm, shallow + flange.protrusion_max_mm]
}

/// A ledge's depth.
pub(super) fn depth(bench: &Bench<'_>, asked: &Asked, found: Lies) -> Answer {
    let depths = bench.values(Of::Depth);
    let by = match found {
        Lies::Over(by) | Lies::Under(by) => by,
        _ => return spread(bench, &depths),
    };
    if let Some(answer) = again(bench, asked, by) {
        return answer;
    }
    let (Some(average), Some([shallow, deep])) = (mean(&depths), ends(&depths)) else {
        return Answer::say(Say::Hold, "to the shop lead");
    };
    if let Lies::Under(by) = found {
        let more = asked.expected.unwrap_or(average) - average;
        let text = say!("cut it {} deeper, then the four points again", fine(more));
        return Answer::say(Say::Hold, say!("{} too shallow: metal is still there", fine_mm(by)))
            .with(vec![Way { way: Remedy::CutAgain, text, figures: vec![more] }]);
    }
    let why = say!("{} too deep, and metal cannot be put back", fine_mm(by));
    let (Some(job), Some((sleeve, number))) = (bench.job, bench.sleeve()) else {
        return Answer::say(Say::Hold, why);
    };
    let Some(flange) = sleeve.flange() else {
        return step_too_deep(by, [shallow, deep].map(|d| d - job.engine.deck.cut_mm), sleeve);
    };
    let own = number.as_deref().and_then(|n| job.measured.iter().find(|m| m.number == n));
    let thick = own.and_then(|m| m.flange).map_or(flange.thickness_mm, |f| f.mean_mm);
    let [least, most] = thickness_mm(flange, job.engine.deck.cut_mm, [shallow, deep]);
    if least > most {
        let text = say!(
            "the points differ by {}, more than the height of a flange may ({} to {}): cut the ledge level first",
            fine(deep - shallow),
            fine(flange.protrusion_min_mm),
            fine(flange.protrusion_max_mm)
        );
        return Answer::say(Say::Hold, why).with(vec![Way {
            way: Remedy::CutAgain,
            text,
            figures: vec![deep - shallow],
        }]);
    }
    let mut ways = thicker(bench, job, sleeve, number.as_deref(), [least, most]);
    ways.push(shim([least - thick, most - thick]));
    ways.push(Way {
        way: Remedy::ThickerFlange,
        text: say!("a flange from {} to {} thick in place of {}", fine(least), fine(most), fine(thick)),
        figures: vec![least, most],
    });
    let stands = [deep, shallow].map(|d| thick - d + job.engine.deck.cut_mm);
    ways.push(release(stands, flange));
    Answer::say(Say::Hold, why).with(ways)
}

/// A step cut too deep for a plain sleeve: it stands lower, and may still end above the deck.
fn step_too_deep(by: f64, [shallow_mm, deep_mm]: [f64; 2], sleeve: &Sleeve) -> Answer {
    let proud = sleeve.foot().map_or(0.0, |f| f.proud_mm);
    let why = say!("the step is {} too deep, and metal cannot be put back", fine_mm(by));
    let left = [deep_mm, shallow_mm].map(|depth| proud - (depth - sleeve.length_mm));
    Answer::say(Say::Hold, why).with(vec![Way {
        way: Remedy::Release,
        text: say!(
            "the lead releases a sleeve {} once it is down, before it is cut flush",
            stands(left, Side::Low)
        ),
        figures: vec![left[0]],
    }])
}

/// A flange's height, or a plain sleeve's.
pub(super) fn height(bench: &Bench<'_>, asked: &Asked, found: Lies) -> Answer {
    let heights = bench.values(Of::Height);
    let by = match found {
        Lies::Over(by) | Lies::Under(by) => by,
        _ => {
            let other = against::seated(bench).or_else(|| beside(bench, &heights));
            return other.unwrap_or_else(|| spread(bench, &heights));
        }
    };
    if let Some(answer) = again(bench, asked, by) {
        return answer;
    }
    let (Some([low, high]), Some([least, most])) =
        (ends(&heights), asked.least.zip(asked.most).map(<[f64; 2]>::from))
    else {
        return Answer::say(Say::Hold, "to the shop lead");
    };
    let flanged = bench.sleeve().is_none_or(|(sleeve, _)| sleeve.flange().is_some());
    let (what, seat) = if flanged { ("flange", "ledge") } else { ("sleeve", "step") };
    let (side, worst) = if least - low > high - most { (Side::Low, low) } else { (Side::High, high) };
    let release = Way {
        way: Remedy::Release,
        text: say!(
            "the lead releases a {} {} where {} to {} is asked",
            what,
            stands([low, high], side),
            signed_before_mm(least, 3),
            signed_before_mm(most, 3)
        ),
        figures: vec![worst],
    };
    if matches!(found, Lies::Under(_)) {
        let why = say!(
            "{} lower than is asked: seated on the {}, or on dirt and not driven home?",
            fine_mm(by),
            seat
        );
        let mut ways = Vec::new();
        if flanged && least - low <= most - high {
            ways.push(shim([least - low, most - high]));
        }
        ways.push(release);
        return Answer::say(Say::Hold, why).with(ways);
    }
    let why = say!(
        "{} higher than is asked: not driven home, dirt under it, or the {} too shallow?",
        fine_mm(by),
        seat
    );
    let mut ways = vec![Way {
        way: Remedy::CutAgain,
        text: say!("drive it home hot and held down; a {} feeler must not enter", before_mm(FEELER_MM, 2)),
        figures: Vec::new(),
    }];
    if high - most <= low - least {
        ways.push(Way {
            way: Remedy::CutAgain,
            text: say!(
                "the sleeve out and its {} {} to {} deeper",
                seat,
                fine(high - most),
                fine(low - least)
            ),
            figures: vec![high - most, low - least],
        });
    }
    ways.push(release);
    Answer::say(Say::Hold, why).with(ways)
}

/// The side of a flange that decides.
#[derive(Clone, Copy)]
enum Side {
    Low,
    High,
}

/// Points round a flange that differ by no more than this stand alike, mm: what a gauge shows of one that is level. Common
/// practice, no source.
const LEVEL_MM: f64 = 0.003;

/// "0.015 sunk", or "0.060 proud at its highest and 0.020 proud at its lowest": a mean says nothing of the side that leaks.
fn stands([low, high]: [f64; 2], side: Side) -> Sentence {
    let one = |mm: f64| if mm < 0.0 { say!("{} sunk", fine(-mm)) } else { say!("{} proud", fine(mm)) };
    match side {
        Side::Low if high - low <= LEVEL_MM => one(low),
        Side::High if high - low <= LEVEL_MM => one(high),
        Side::Low => say!("{} at its lowest and {} at its highest", one(low), one(high)),
        Side::High => say!("{} at its highest and {} at its lowest", one(high), one(low)),
    }
}

fn shim([from, to]: [f64; 2]) -> Way {
    Way {
        way: Remedy::Shim,
        text: say!("a shim from {} to {} under the flange, ground, one piece", fine(from), fine(to)),
        figures: vec![from, to],
    }
}

fn release(heights_mm: [f64; 2], flange: &Flange) -> Way {
    Way {
        way: Remedy::Release,
        text: say!(
            "the lead releases a flange {} where {} to {} proud is asked",
            stands(heights_mm, Side::Low),
            fine(flange.protrusion_min_mm),
            fine(flange.protrusion_max_mm)
        ),
        figures: vec![heights_mm[0]],
    }
}

/// Sleeves of the measured set whose flange makes a deep ledge good, the one nearest the middle of the range first.
fn thicker(
    bench: &Bench<'_>,
    job: &Job,
    sleeve: &Sleeve,
    own: Option<&str>,
    [least, most]: [f64; 2],
) -> Vec<Way> {
    let middle = f64::midpoint(least, most);
    let mut fitting: Vec<_> = job
        .measured
        .iter()
        .filter(|m| job.sleeves.get(m.sleeve).is_some_and(|s| s.name == sleeve.name))
        .filter(|m| Some(m.number.as_str()) != own && bench.standing.pinned_to(&m.number).is_none())
        .filter(|m| fits_elsewhere(bench, job, sleeve, m))
        .filter_map(|m| Some((m, m.flange?)))
        .filter(|(_, own)| own.range_mm[0] >= least && own.range_mm[1] <= most)
        .collect();
    fitting.sort_by(|a, b| (a.1.mean_mm - middle).abs().total_cmp(&(b.1.mean_mm - middle).abs()));
    fitting
        .into_iter()
        .take(NAMED)
        .map(|(m, own)| Way {
            way: Remedy::Sleeve,
            text: say!("sleeve {}, its flange {} thick", plain(&m.number, 30), fine(own.mean_mm)),
            figures: vec![own.mean_mm],
        })
        .collect()
}

/// In the window at each point, and from point to point.
fn spread(bench: &Bench<'_>, values: &[f64]) -> Answer {
    let limit = spread_mm(bench.job);
    match ends(values) {
        Some([low, high]) if bench.complete() && high - low > limit + NOTHING => Answer::say(
            Say::Hold,
            say!(
                "the points differ by {}, more than {}: {}",
                fine(high - low),
                fine(limit),
                match leans(bench, high - low) {
                    Some(by) => say!("as the deck was read, it leans {} over the flange", fine(by)),
                    None => "not square to the bore, or dirt".into(),
                }
            ),
        ),
        _ => Answer::say(Say::GoOn, ""),
    }
}

/// By how much the deck of this bank was read to lean over the flange, where that is most of what the points differ by.
fn leans(bench: &Bench<'_>, by_mm: f64) -> Option<f64> {
    let (job, cylinder) = (bench.job?, bench.cylinder?);
    let bank = &job.bank(job.site(cylinder)?.0).name;
    let flange = bench.sleeve()?.0.flange()?;
    let own = deck_tilts(job, flange.diameter_mm).into_iter().filter(|deck| deck.bank == *bank);
    own.map(|deck| deck.spread).max_by(f64::total_cmp).filter(|spread| *spread > by_mm / 2.0)
}

/// Heights of neighbours of its bank that are whole.
fn beside(bench: &Bench<'_>, values: &[f64]) -> Option<Answer> {
    let own = mean(values).filter(|_| bench.complete())?;
    let (job, cylinder) = (bench.job?, bench.cylinder?);
    let sites = &job.bank(job.site(cylinder)?.0).sites;
    let at = sites.iter().position(|s| s.cylinder == cylinder)?;
    let next = [at.checked_sub(1), Some(at + 1)].into_iter().flatten();
    let neighbours = next.filter_map(|i| Some(sites.get(i)?.cylinder));
    let apart = neighbours.filter_map(|neighbour| {
        let bench = bench.of(bench.check, Some(neighbour));
        let heights = bench.values(Of::Height);
        Some((neighbour, own - mean(&heights).filter(|_| bench.complete())?))
    });
    let (neighbour, by) = apart.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    (by.abs() > NEIGHBOURS_MM + NOTHING).then(|| {
        Answer::say(
            Say::Hold,
            say!(
                "it stands {} {} than its neighbour {neighbour}, and the gasket between them bears {}: seat both again, or sort \
                 the flanges",
                fine_mm(by.abs()),
                if by > 0.0 { "higher" } else { "lower" },
                before_mm(NEIGHBOURS_MM, 3)
            ),
        )
    })
}

/// The answer to a depth or height outside its window by less than its readings can tell: read it again.
fn again(bench: &Bench<'_>, asked: &Asked, by: f64) -> Option<Answer> {
    const ENOUGH: u32 = 4;
    let count = u32::try_from(bench.figures(asked).len()).unwrap_or(1).max(1);
    let tells = FACTOR * bench.u(asked.of) / f64::from(count).sqrt();
    (count < ENOUGH && by <= tells).then(|| {
        Answer::say(
            Say::Again,
            say!(
                "outside by {}, and what was read tells it to {}: read this place again, the mean counts",
                fine(by),
                fine(tells)
            ),
        )
    })
}
