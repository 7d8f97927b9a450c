//! The answer to a reading: go on, again, hold or stop; what to set the head to; what can still be done.

mod against;
mod bench;
mod bore;
mod defect;
mod gauge;
mod head;
mod ledge;
mod register;
mod round;
mod said;
mod set;
mod settled;
mod together;
mod touch;

use borewright_geometry::sample::mean;

use crate::job::Job;
use crate::plan::Measure;
use crate::plan::check::{Asked, Check, Of, What};
use crate::plan::sentence::Sentence;
use crate::say;

use super::behind::{is_answered, is_read};
use super::judge::{Lies, lies_at};
use super::{Heard, Paper, Reading, Standing};
use bench::Bench;
use gauge::fine;
pub(super) use gauge::fine_mm;
use said::afresh;

pub(super) use defect::defect;
pub use defect::{Touched, clock_typed};
pub use head::Head;
pub use said::{Answer, Remedy, Say, Way};
pub use together::together;

/// Answers the last reading of a place. Without a job the windows answer, and no way is worked out.
#[must_use]
pub fn answer(
    job: Option<&Job>,
    paper: &Paper,
    standing: &Standing,
    (check, cylinder, asked): (&Check, Option<u32>, &Asked),
) -> Answer {
    let bench = Bench { job, paper, standing, check, cylinder };
    // An `nr` after a reading does not undo it.
    let heard = standing.last(check.check, cylinder, asked.reading).map_or(Heard::None, |r| r.heard);
    match heard {
        Heard::None => return struck_outside(&bench, asked).unwrap_or_else(|| not_read(&bench)),
        Heard::Look(true) => return Answer::say(Say::GoOn, ""),
        Heard::Look(false) => return Answer::say(Say::Hold, "not as asked: to the shop lead"),
        Heard::Figure { .. } => {}
    }
    let mut said = figure(&bench, asked);
    if said.say == Say::Stop {
        // Nobody lets a stop through.
        said.ways.retain(|way| way.way != Remedy::Release);
    }
    match bench.far(asked) {
        Some(why) if said.say <= Say::Again => Answer::say(Say::Again, why),
        _ => said,
    }
}

/// The answer to `nr` at a place whose reading outside its window was struck: that does not say that it lies inside.
fn struck_outside(bench: &Bench<'_>, asked: &Asked) -> Option<Answer> {
    let here = (bench.check.check, bench.cylinder, asked.reading);
    let mut own = bench
        .standing
        .readings
        .iter()
        .filter(|r| (r.check, r.cylinder, r.reading) == here && r.struck.is_some());
    let outside = |value: f64| !matches!(lies_at(asked, value), Lies::Within | Lies::Open);
    // What is struck has a figure and no value.
    let struck = own.rfind(|r| matches!(r.heard, Heard::Figure { value, .. } if outside(value)))?;
    Some(Answer::say(
        Say::Hold,
        say!(
            "line {} was outside its window and is struck, and nothing was read there since: `nr` does not make it right. Read it",
            struck.line
        ),
    ))
}

/// The answer to a place written down as not read: go on, unless too little else of its check was read.
fn not_read(bench: &Bench<'_>) -> Answer {
    let (standing, check, cylinder) = (bench.standing, bench.check, bench.cylinder);
    if is_answered(standing, check, cylinder) && !is_read(standing, check, cylinder) {
        return Answer::say(
            Say::Hold,
            "not measured: too few of its places were read, nothing of one direction, of one depth or across a ledge, and `nr` is no \
             reading. What is there is not known: read them, or the lead lets it through by name",
        );
    }
    Answer::say(Say::GoOn, "written down as not read")
}

/// Whether a reading that stopped the work is asked about, where later ones outvote it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Earlier {
    Counts,
    LeftOut,
}

/// What the figures read at a place are answered with.
fn figure(bench: &Bench<'_>, asked: &Asked) -> Answer {
    judged(bench, asked, Earlier::Counts)
}

fn judged(bench: &Bench<'_>, asked: &Asked, earlier: Earlier) -> Answer {
    let check = bench.check;
    if asked.of == Of::Set {
        return set::set(bench, asked);
    }
    let value = match bench.settled(asked) {
        Ok(value) => value,
        Err(apart) => {
            // A direction is no length.
            let (by, most) = match asked.unit {
                Measure::Length => (say!("{}", fine_mm(apart.by_mm)), say!("{}", fine(apart.most_mm))),
                unit => (say!("{:.3} {}", apart.by_mm, unit.unit()), say!("{:.3}", apart.most_mm)),
            };
            let else_then = match check.what {
                What::Touch => say!("where the datum was picked up anew since, {} first", afresh(check)),
                _ => "where the bore was cut again since, read its other places too".into(),
            };
            let why = say!(
                "the readings of this one place are {} apart, and two of one size should be within {}: read it once more. A \
                 slip is struck; {}",
                by,
                most,
                else_then
            );
            return Answer::say(Say::Again, why);
        }
    };
    let found = lies_at(asked, value);
    let contradicted = match (check.what, asked.of) {
        (_, Of::Parent) => against::bare(bench, asked, value),
        (_, Of::Off) => against::plate_off(bench, value),
        (_, Of::Roughness) => against::roughness(asked, value),
        (What::Size | What::Bore, Of::Diameter) => {
            let outvoted = || against::outvoted(bench, asked);
            let stopped = || (earlier == Earlier::Counts).then(|| stopped(bench, asked, found)).flatten();
            against::grown_back(bench, value).or_else(outvoted).or_else(stopped)
        }
        (_, Of::Depth) => against::outvoted(bench, asked),
        (What::Size, Of::X | Of::Y) => against::out_of_line(bench),
        _ => None,
    };
    if let Some(answer) = contradicted {
        return answer;
    }
    match (check.what, asked.of) {
        (What::Size, Of::Diameter) => bore::size(bench, asked, value, found),
        (What::Bore, Of::Diameter) => bore::finished(bench, asked, value, found),
        (_, Of::Tight) => tight(found),
        (What::Ledge, _) | (What::Size, Of::Depth) => ledge::depth(bench, asked, found),
        (What::Protrusion, _) => ledge::height(bench, asked, found),
        _ => plain(bench, asked, found),
    }
}

/// The answer to a place one of whose readings stopped the work when it was taken, though those after it outvote it: metal does not
/// come back, and nobody has said that the line was wrong.
fn stopped(bench: &Bench<'_>, asked: &Asked, found: Lies) -> Option<Answer> {
    let here =
        |r: &&Reading| (r.check, r.cylinder, r.reading) == (bench.check.check, bench.cylinder, asked.reading);
    let own: Vec<&Reading> =
        bench.standing.readings.iter().filter(here).filter(|r| r.value().is_some()).collect();
    let last = own.iter().map(|r| r.line).max()?;
    if matches!(found, Lies::Over(_)) {
        return None;
    }
    let stops = |read: &&&Reading| {
        let is_over = read.value().is_some_and(|value| matches!(lies_at(asked, value), Lies::Over(_)));
        let then = || {
            let later = own.iter().filter(|r| r.line > read.line);
            later.fold(bench.standing.clone(), |standing, other| standing.without(other.line))
        };
        is_over && judged(&Bench { standing: &then(), ..*bench }, asked, Earlier::LeftOut).say == Say::Stop
    };
    // Only of those that another follows.
    let read = own.iter().filter(|r| r.line < last).find(stops)?;
    Some(Answer::say(
        Say::Hold,
        say!(
            "line {} reads {} here, which stops the bore, and later readings do not take that back: metal does not come back. Strike that \
             line by name and with the reason, if it was wrong",
            read.line,
            fine_mm(read.value().unwrap_or_default())
        ),
    ))
}

/// What the readings of one place come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// The mean of those that agree; of all where they do not. A diameter read at a temperature is at 20 °C.
    pub figure: f64,
    /// Standard uncertainty of one reading, in its unit: what a gauge is off by in all of them no mean takes away.
    pub u: f64,
    /// How many were read.
    pub readings: u32,
    /// Whether they agree.
    pub agree: bool,
}

/// What the readings of a place come to; `None` where no figure was read.
#[must_use]
pub fn found(
    job: Option<&Job>,
    paper: &Paper,
    standing: &Standing,
    (check, cylinder, asked): (&Check, Option<u32>, &Asked),
) -> Option<Found> {
    let bench = Bench { job, paper, standing, check, cylinder };
    let figures = bench.standing_figures(asked);
    let readings = u32::try_from(figures.len()).ok().filter(|n| *n > 0)?;
    let settled = bench.settled(asked).ok();
    let figure = settled.or_else(|| mean(&figures))?;
    Some(Found { figure, u: bench.u(asked.of), readings, agree: settled.is_some() })
}

/// What to set the head to for the next bore of a check.
#[must_use]
pub fn next_head(job: Option<&Job>, paper: &Paper, standing: &Standing, check: &Check) -> Option<Head> {
    head::head(&Bench { job, paper, standing, check, cylinder: None })
}

/// What a window alone says.
fn plain(bench: &Bench<'_>, asked: &Asked, found: Lies) -> Answer {
    let by = match found {
        Lies::Within if bench.check.what == What::Touch => return touch::alike(bench, asked.of),
        Lies::Within | Lies::None => return Answer::say(Say::GoOn, ""),
        Lies::Open => return Answer::say(Say::GoOn, "written down; nobody said what it should be"),
        Lies::Wrong => return Answer::say(Say::Hold, "not as asked: to the shop lead"),
        Lies::Under(by) | Lies::Over(by) => by,
    };
    let said: Sentence = match bench.check.what {
        What::Touch => say!(
            "the scales and the block do not agree: nothing of this list is cut. Pick the datum up anew; bank, bore, sign and \
             front first. Then {}, and read this check again whole",
            afresh(bench.check)
        ),
        What::Position => return position(bench, asked),
        What::Witness => {
            "the old liner is not where the plan takes it to be: bore no further, read the parent hole or the walls, plan again".into()
        }
        What::Deck => "the deck is not as asked: depths of ledges count from it".into(),
        _ if asked.of == Of::X || asked.of == Of::Y => {
            "the bore stands off its place by more than the machine and the probe explain: plan again with it as it stands".into()
        }
        _ => "to the shop lead".into(),
    };
    let say = if bench.check.what == What::Touch { Say::Stop } else { Say::Hold };
    let by = if asked.unit.is_length() { say!("{}", fine(by)) } else { say!("{:.3}", by) };
    Answer::say(say, say!("off by {} beyond what is asked: {}", by, said))
}

/// Whether the jacket holds its pressure at a bore.
fn tight(found: Lies) -> Answer {
    match found {
        Lies::Wrong => Answer::say(
            Say::Hold,
            "it leaks: nothing more is cut in this bore until the lead has seen where it comes from",
        ),
        _ => Answer::say(Say::GoOn, ""),
    }
}

/// The answer to a first touch: a bite on the wrong side is an error of place, not of size.
fn position(bench: &Bench<'_>, asked: &Asked) -> Answer {
    let readings = bench.at().map(|a| a.readings.as_slice()).unwrap_or_default();
    let other = readings.iter().find(|r| r.of == Of::Cut && r.reading != asked.reading);
    let swapped = other.and_then(|other| {
        let (own, its) = (bench.settled(asked).ok()?, bench.settled(other).ok());
        let (here, there) = (asked.expected?, other.expected?);
        let nearer = (own - there).abs() < (own - here).abs();
        // Where the other side was read, it must show the same.
        Some(nearer && its.is_none_or(|its| (its - here).abs() < (its - there).abs()))
    });
    match swapped {
        Some(true) => Answer::say(
            Say::Stop,
            "it bites deepest on the other side: zero, sign, bank or bore is wrong. Cut nothing; touch check again",
        ),
        _ => Answer::say(
            Say::Hold,
            "the first cut is not as deep as planned there: the old bore or the datum is not where the plan has it; touch check \
             and bore again before the next cut",
        ),
    }
}
