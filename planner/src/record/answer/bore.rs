//! Sizes of pockets, and of finished bores.

use borewright_geometry::sample::{ends, mean};

use super::bench::{BESIDE_MM, Bench};
use super::gauge::{fine, fine_mm};
use super::round::{ROUND_MM, oval_mm};
use super::said::{Answer, Remedy, Say, Way};
use super::{against, head, register};
use crate::plan::check::{Asked, Of, WAYS_DEG};
use crate::plan::judge::FACTOR;
use crate::plan::sentence::{Sentence, before_mm};
use crate::plan::touch::TOUCH_DEPTH_MM;
use crate::plan::{Stage, rounding};
use crate::record::Lies;
use crate::record::judge::NOTHING;
use crate::say;
use crate::sleeve::LEAST_CUT_MM;

/// Taper from the top to the bottom, mm. Common practice, no source.
pub(super) const TAPER_MM: f64 = 0.010;

/// A bore larger at its top than at its bottom by more than this takes load off its rings where they need it, mm.
/// Common practice, no source.
pub(super) const TOP_MM: f64 = 0.005;

/// So many places of a bore, all alike to the last digit, are asked about: a gauge that reads to a hundredth shows a good bore
/// so, and so does a pencil. Common practice, no source.
const ALIKE: usize = 3;

/// A size of a pocket, or on the way to the finished bore.
pub(super) fn size(bench: &Bench<'_>, asked: &Asked, value: f64, found: Lies) -> Answer {
    match found {
        Lies::Over(by) | Lies::Under(by) if doubtful(bench, asked, by) => again(bench, asked, by),
        Lies::Over(by) if bench.check.stage == Stage::Pocket => head_first(bench, register::large(bench, by)),
        Lies::Over(by) => {
            let why = say!(
                "{} larger than is asked on the way: what is left for the stones is less by as much",
                fine_mm(by)
            );
            head_first(bench, Answer::say(Say::Hold, why).with(vec![last_release(value, asked)]))
        }
        Lies::Under(by) if is_alone(bench, asked, value, by) => alone(by),
        Lies::Under(by) if bench.check.stage == Stage::Hone => {
            let text = say!("hone on with these stones: {} more there, on diameter", fine(by));
            Answer::say(
                Say::Hold,
                say!("{} smaller than is asked: too much is left for the next stones", fine_mm(by)),
            )
            .with(vec![Way { way: Remedy::CutAgain, text, figures: vec![by] }])
        }
        Lies::Under(by) => small(bench, by),
        _ => within(bench),
    }
}

/// An answer to a bore that came out too large, with what is to be done to the head that cut it.
fn head_first(bench: &Bench<'_>, answer: Answer) -> Answer {
    let head = head::head(bench);
    match head::stands_wide(bench) {
        // A head that is not to be cut with is not left as it is.
        Some(wide) => {
            Answer { why: say!("{}; {}", answer.why, wide), head: head.filter(|h| !h.leave), ..answer }
        }
        None => Answer { head, ..answer },
    }
}

/// The answer to a size outside its window by less than its readings can tell: read it again.
fn doubtful(bench: &Bench<'_>, asked: &Asked, by: f64) -> bool {
    let count = u32::try_from(bench.figures(asked).len()).unwrap_or(1).max(1);
    // Readings of one place after which it is not read again.
    const ENOUGH: u32 = 4;
    count < ENOUGH && by <= FACTOR * bench.u(asked.of) / f64::from(count).sqrt()
}

fn again(bench: &Bench<'_>, asked: &Asked, by: f64) -> Answer {
    let count = u32::try_from(bench.figures(asked).len()).unwrap_or(1).max(1);
    let tells = FACTOR * bench.u(asked.of) / f64::from(count).sqrt();
    let readings = if count == 1 { "one reading tells".to_owned() } else { format!("{count} readings tell") };
    Answer::say(
        Say::Again,
        say!(
            "outside by {}, and {} it to {}: read this place again, the mean counts",
            fine(by),
            readings,
            fine(tells)
        ),
    )
}

/// Whether a place reads far too small by one reading, and no other place of the bore reads so.
fn is_alone(bench: &Bench<'_>, asked: &Asked, value: f64, by: f64) -> bool {
    if by <= BESIDE_MM || bench.figures(asked).len() != 1 {
        return false;
    }
    let all = bench.all(Of::Diameter);
    let mut others = all.iter().filter(|(a, _)| a.reading != asked.reading);
    !others.any(|(_, v)| (v - value).abs() <= BESIDE_MM)
}

/// The answer to such a place: a slip more often than a cut.
fn alone(by: f64) -> Answer {
    Answer::say(
        Say::Again,
        say!(
            "{} smaller than is asked, by this one reading alone: read this place again before anything is cut. A slip is struck",
            fine_mm(by)
        ),
    )
}

/// Metal is still there: cut again.
fn small(bench: &Bench<'_>, by: f64) -> Answer {
    let way = |text: Sentence, figures: Vec<f64>| Way { way: Remedy::CutAgain, text, figures };
    let sizes = bench.values(Of::Diameter);
    let asked = |of: Of| bench.at().and_then(|a| a.readings.iter().find(|r| r.of == of)?.expected);
    let set = asked(Of::Set).map(|planned| bench.set().unwrap_or(planned));
    let way = match (mean(&sizes), asked(Of::Diameter), set) {
        (Some(_), Some(_), Some(_)) if !bench.complete() => way(
            "cut it again: what to set the head to is told once every place of it is read".into(),
            Vec::new(),
        ),
        (Some(_), Some(_), Some(_)) if !bench.tells_its_size(&sizes) => {
            let text = say!(
                "read its places again: they are over {} from one another, and no head is set by that",
                fine(BESIDE_MM)
            );
            way(text, Vec::new())
        }
        (Some(size), Some(wanted), Some(set)) => again_by(bench, [size, wanted, set]),
        _ => way("cut it again".into(), Vec::new()),
    };
    Answer::say(Say::Hold, say!("{} smaller than is asked: metal is still there", fine_mm(by)))
        .with(vec![way])
}

/// What to set the head to for cutting a bore again: its size now, the size that is planned, and what the head was set to.
fn again_by(bench: &Bench<'_>, [size, wanted, set]: [f64; 3]) -> Way {
    let more = wanted - size;
    let next = rounding::coordinate(set + more);
    let widest = bench.widest_mm().filter(|most| next > *most);
    let (text, figures) = if let Some(most) = widest {
        let text = say!(
            "cut it again: it came out {} from a head at {}, {} short on diameter, and this tool goes to {} and no wider: gauge what it is              set to",
            fine(size),
            fine(set),
            fine(more),
            fine(most)
        );
        (text, Vec::new())
    } else if next > wanted + BESIDE_MM {
        let text = say!(
            "cut it again at {}, as planned: it came out {}, and no bar gives way by {} to a head at {}. Gauge what the head is set to              first",
            fine(wanted),
            fine(size),
            fine(set - size),
            fine(set)
        );
        (text, vec![wanted])
    } else {
        let text = say!(
            "cut it again: it came out {} from a head at {}, {} short on diameter; set {}. Less than {} a side rubs: go in {} deep to              hear it bite first",
            fine(size),
            fine(set),
            fine(more),
            fine(next),
            before_mm(LEAST_CUT_MM, 2),
            fine(TOUCH_DEPTH_MM)
        );
        (text, vec![next])
    };
    Way { way: Remedy::CutAgain, text, figures }
}

/// What is asked of a bore whose places all read alike to the last digit, and of which no note says how.
fn all_alike(bench: &Bench<'_>, sizes: &[(&Asked, f64)]) -> Option<Sentence> {
    let mut own = bench.standing.of_check(bench.check.check, bench.cylinder);
    if own.any(|read| !read.fields.get("note").is_empty()) {
        return None;
    }
    let [low, high] = ends(&sizes.iter().map(|(_, value)| *value).collect::<Vec<_>>())?;
    (sizes.len() >= ALIKE && high - low < 1e-9).then(|| {
        "all readings alike to the last digit: were they all taken? A `note` says by which gauge, or read one again".into()
    })
}

/// The answer to a bore whose sizes all lie in their windows: go on, or a hold where it is out of round, tapered,
/// or contradicts other figures; nothing is said before every place is read.
fn within(bench: &Bench<'_>) -> Answer {
    if !bench.complete() {
        return Answer::say(Say::GoOn, "");
    }
    if let Some(answer) = against::set(bench).or_else(|| against::copied(bench)) {
        return answer;
    }
    let sizes = bench.all(Of::Diameter);
    let at = |depth: f64, way: f64| {
        sizes.iter().find(|(a, _)| a.depth == Some(depth) && a.clock == Some(way)).map(|(_, v)| *v)
    };
    let mut depths: Vec<f64> = sizes.iter().filter_map(|(a, _)| a.depth).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    let oval = oval_mm(&sizes);
    let level = |depth: Option<&f64>| {
        let depth = *depth?;
        let here: Vec<f64> = WAYS_DEG.iter().filter_map(|way| at(depth, *way)).collect();
        mean(&here)
    };
    let taper = level(depths.first()).zip(level(depths.last())).map_or(0.0, |(top, bottom)| top - bottom);
    let mut answer = Answer::say(Say::GoOn, "");
    // A length in coolant is gauged at one depth: it locates nothing, and the jacket breaks into its wall.
    if depths.len() > 1 && oval > ROUND_MM {
        answer = Answer::say(
            Say::Hold,
            say!(
                "two ways at one depth differ by {}, more than {}: clamping or edge",
                fine(oval),
                fine(ROUND_MM)
            ),
        );
    } else if taper.abs() > TAPER_MM {
        let which = if taper > 0.0 { "larger at the top" } else { "larger at the bottom" };
        answer = Answer::say(
            Say::Hold,
            say!("{} {}, more than {}: bar, heat or edge", fine(taper.abs()), which, fine(TAPER_MM)),
        );
    } else if let Some(asks) = all_alike(bench, &sizes) {
        answer.why = asks;
    }
    answer.head = head::head(bench);
    answer
}

/// A finished bore: what is too large cannot be put back.
pub(super) fn finished(bench: &Bench<'_>, asked: &Asked, value: f64, found: Lies) -> Answer {
    match found {
        Lies::Over(by) | Lies::Under(by) if doubtful(bench, asked, by) => again(bench, asked, by),
        Lies::Under(by) => {
            let text = say!("hone on: {} more there, on diameter", fine(by));
            Answer::say(Say::Hold, say!("{} smaller than is asked: metal is still there", fine_mm(by)))
                .with(vec![Way { way: Remedy::CutAgain, text, figures: vec![by] }])
        }
        Lies::Over(by) => {
            let mut ways = Vec::new();
            let clearance = bench.job.and_then(|j| j.engine.piston.as_ref()).and_then(|p| p.clearance_mm);
            if let (Some(clearance), Some(expected)) = (clearance, asked.expected) {
                let now = clearance + value - expected;
                ways.push(Way {
                    way: Remedy::Piston,
                    text: say!(
                        "a piston larger by {}: with this one the skirt has {} in place of {}",
                        fine(value - expected),
                        fine(now),
                        fine(clearance)
                    ),
                    figures: vec![value - expected, now],
                });
            }
            ways.push(last_release(value, asked));
            Answer::say(Say::Hold, say!("{} larger than is asked, and metal cannot be put back", fine_mm(by)))
                .with(ways)
        }
        // A look behind it says nothing of its shape.
        _ if bench.complete_of(Of::Diameter) => shape(bench),
        _ => Answer::say(Say::GoOn, ""),
    }
}

/// Roundness and taper of a finished bore, as far as diameters show them.
fn shape(bench: &Bench<'_>) -> Answer {
    if let Some(answer) = against::copied(bench) {
        return answer;
    }
    let sizes = bench.all(Of::Diameter);
    let mut depths: Vec<f64> = sizes.iter().filter_map(|(a, _)| a.depth).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    let at = |depth: f64| -> Vec<f64> {
        sizes.iter().filter(|(a, _)| a.depth == Some(depth)).map(|(_, v)| *v).collect()
    };
    let oval = depths.iter().filter_map(|d| ends(&at(*d))).map(|[low, high]| high - low).fold(0.0, f64::max);
    let means: Vec<f64> = depths.iter().filter_map(|d| mean(&at(*d))).collect();
    let taper = ends(&means).map_or(0.0, |[low, high]| high - low);
    let top = means.first().zip(means.last()).map_or(0.0, |(top, bottom)| top - bottom);
    let hold = if oval > ROUND_MM + NOTHING {
        Some(say!(
            "out of round by {} on diameter at one depth, more than {}: hone with a plate on, and gauge it again \
             cold",
            fine(oval),
            fine(ROUND_MM)
        ))
    } else if taper > TAPER_MM + NOTHING {
        Some(say!(
            "{} wider at one depth than at another, more than {}: stroke and dwell of the stones",
            fine(taper),
            fine(TAPER_MM)
        ))
    } else if top > TOP_MM + NOTHING {
        Some(say!(
            "{} larger at the top than at the bottom, more than {}: stroke and dwell of the stones",
            fine(top),
            fine(TOP_MM)
        ))
    } else {
        None
    };
    if let Some(why) = hold {
        return Answer::say(Say::Hold, why);
    }
    if let Some(asks) = all_alike(bench, &sizes) {
        return Answer::say(Say::GoOn, asks);
    }
    Answer::say(
        Say::GoOn,
        say!(
            "out of round by {} on diameter at the worst depth, {} from depth to depth",
            fine(oval),
            fine(taper)
        ),
    )
}

fn last_release(value: f64, asked: &Asked) -> Way {
    let most = asked.most.unwrap_or(value);
    Way {
        way: Remedy::Release,
        text: say!("the lead releases {} where at most {} is asked", fine(value), fine(most)),
        figures: vec![value],
    }
}
