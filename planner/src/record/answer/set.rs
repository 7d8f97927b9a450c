//! What a head is said to be set to, before its cut: beside what it should be, nothing is cut with it.

use borewright_geometry::sample::mean;

use super::bench::{BESIDE_MM, Bench};
use super::gauge::{fine, fine_mm};
use super::head;
use super::said::{Answer, Say};
use crate::plan::check::{Asked, Of};
use crate::record::behind::{is_answered, is_read};
use crate::record::judge::{NOTHING, lies_at};
use crate::record::{Heard, Lies, Reading};
use crate::say;

/// The answer to what a head is said to be set to. Over what it should be by more than the size's window it stops, under it
/// holds, until that line is struck, or the bore it was to cut was read: another setting behind it does not say that nothing was
/// cut with the first.
pub(super) fn set(bench: &Bench<'_>, asked: &Asked) -> Answer {
    let all = bench.standing.of_check(bench.check.check, bench.cylinder);
    let own = all.filter(|r| r.reading == asked.reading && r.heard != Heard::None);
    let worst = own.map(|last| of_line(bench, asked, last)).max_by_key(|answer| answer.say);
    worst.unwrap_or_else(|| Answer::say(Say::GoOn, "written down"))
}

/// The answer to one line.
fn of_line(bench: &Bench<'_>, asked: &Asked, last: &Reading) -> Answer {
    let written = || Answer::say(Say::GoOn, "written down");
    let Some(planned) = asked.expected else { return written() };
    let Some(value) = last.value() else { return written() };
    if was_cut(bench, last.line) {
        return written();
    }
    let mut should = head::told(bench, last.line);
    should.extend(again(bench, last.line, planned));
    // What is farther off is told to nobody, and what is planned always may be set.
    should.retain(|told| (told - planned).abs() <= BESIDE_MM + NOTHING);
    should.push(planned);
    let [under, over] = window_mm(bench);
    let most = should.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = should.iter().copied().fold(f64::INFINITY, f64::min);
    if value > most + over + NOTHING {
        return Answer::say(
            Say::Stop,
            say!(
                "the head is said to be set {} over {}, which it should be here, and the size allows {}: cut nothing with it. Set it \
                 anew, and strike line {} by name; where the bore was cut with it, read its size at every place",
                fine_mm(value - most),
                fine(most),
                fine(over),
                last.line
            ),
        );
    }
    if value < least - under - NOTHING {
        return Answer::say(
            Say::Hold,
            say!(
                "the head is said to be set {} under {}, which it should be here: it would leave metal. Set it anew, and strike line {} by \
                 name; where the bore was cut with it, read its size at every place",
                fine_mm(least - value),
                fine(least),
                last.line
            ),
        );
    }
    written()
}

/// Whether the bore was read since, or stands inside all its windows: its own sizes then say what was cut.
fn was_cut(bench: &Bench<'_>, line: usize) -> bool {
    let (standing, check, cylinder) = (bench.standing, bench.check, bench.cylinder);
    let readings = bench.at().map(|a| a.readings.as_slice()).unwrap_or_default();
    let sizes: Vec<(&Asked, &Reading)> = readings
        .iter()
        .filter(|a| a.of == Of::Diameter && a.waits)
        .filter_map(|a| Some((a, standing.last(check.check, cylinder, a.reading)?)))
        .collect();
    let inside = |a: &Asked, r: &Reading| r.value().is_some_and(|v| lies_at(a, v) == Lies::Within);
    !sizes.is_empty()
        && is_answered(standing, check, cylinder)
        && is_read(standing, check, cylinder)
        && (sizes.iter().all(|(_, r)| r.line > line) || sizes.iter().all(|(a, r)| inside(a, r)))
}

/// What the head was to be set to for cutting this bore again, by what was read of it before a line.
fn again(bench: &Bench<'_>, line: usize, planned: f64) -> Option<f64> {
    let own = || bench.standing.of_check(bench.check.check, bench.cylinder).filter(|r| r.line < line);
    let readings = bench.at()?.readings.as_slice();
    let last = |a: &Asked| own().filter(|r| r.reading == a.reading).filter_map(Reading::value).last();
    let of = |kind: Of| -> Vec<f64> { readings.iter().filter(|a| a.of == kind).filter_map(last).collect() };
    let size = mean(&of(Of::Diameter))?;
    let set = of(Of::Set).first().copied().unwrap_or(planned);
    Some(set + planned - size)
}

/// How far under and over what is planned the size may be, mm.
fn window_mm(bench: &Bench<'_>) -> [f64; 2] {
    let readings = bench.at().map(|a| a.readings.as_slice()).unwrap_or_default();
    let size = readings.iter().find(|a| a.of == Of::Diameter);
    let off = |edge: Option<f64>| size.and_then(|a| Some((edge? - a.expected?).abs())).unwrap_or(BESIDE_MM);
    [off(size.and_then(|a| a.least)), off(size.and_then(|a| a.most))]
}
