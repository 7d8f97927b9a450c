//! What a bore was begun on: the job, the machine, the block's place on it and the bore as it was read, written down with its
//! place and held against what is planned with now.

use borewright_geometry::clock::distance_mm;
use borewright_geometry::sample::mean;

use super::cut::is_cutting;
use super::finding::{Reason, SUBJECT, WorkFinding};
use super::{Event, Heard, Paper, Reading, Standing, Word};
use crate::job::{Job, ReadingFrame, SetUp};
use crate::plan::Subject;
use crate::plan::check::{AtCylinder, What};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::read::fault::plain;
use crate::read::name::alike;
use crate::say;

/// A zero picked up again on the same block clamped as it was lies within this, mm. Common practice, no source.
const ZERO_MM: f64 = 0.05;

/// A deck over the journal axis read again lies within this, mm. Common practice, no source.
const DECK_MM: f64 = 0.015;

/// A bore's middle read again lies within this, mm. Common practice, no source.
const BORE_MM: f64 = 0.015;

/// Bores that must differ before the readings are another block's: one may have been read wrong and corrected.
const BORES: usize = 2;

/// What a bore was begun on.
#[derive(Debug, Clone, PartialEq)]
struct Basis {
    job: String,
    machine: String,
    /// Whose engine it is; `None` where the job says nobody, or in a cell from before cells had it.
    customer: Option<String>,
    /// The block's name; `None` in a cell from before cells had it.
    block: Option<String>,
    /// Machine x of the along datum, then y and z of the journal axis, mm; `None` where readings came in the bank's frame.
    zero_mm: Option<[f64; 3]>,
    /// The deck over the journal axis, mm.
    deck_mm: Option<f64>,
    /// The mean of the bore's circles and points, as they were read, mm.
    bore_mm: Option<[f64; 2]>,
}

impl Basis {
    /// Of a bore of a job as it is.
    fn of(job: &Job, cylinder: u32) -> Self {
        let own = |s: &&SetUp| {
            s.bores.iter().any(|b| b.cylinder == cylinder) || s.points.iter().any(|p| p.cylinder == cylinder)
        };
        let set_up = job.set_ups.iter().rev().find(own);
        let machine = set_up.and_then(|s| match &s.frame {
            ReadingFrame::Machine(readings) => Some(readings),
            ReadingFrame::Journal => None,
        });
        let axis = machine.and_then(|m| {
            let read = || m.axis.iter().chain(&m.mains);
            let of = |k: usize| mean(&read().map(|a| a.at_mm[k]).collect::<Vec<f64>>());
            Some([of(1)?, of(2)?])
        });
        let deck = machine.and_then(|m| mean(&m.deck_mm.iter().map(|p| p[2]).collect::<Vec<f64>>()));
        let bore = set_up.and_then(|s| {
            let circles = s.bores.iter().filter(|b| b.cylinder == cylinder).map(|b| b.centre_mm);
            let points = s.points.iter().filter(|p| p.cylinder == cylinder).map(|p| p.at_mm);
            let read: Vec<[f64; 2]> = circles.chain(points).collect();
            let of = |k: usize| mean(&read.iter().map(|at| at[k]).collect::<Vec<f64>>());
            Some([of(0)?, of(1)?])
        });
        Self {
            job: name(&job.number),
            machine: name(&job.machine.name),
            customer: job.customer.as_deref().map(short_name).filter(|name| !name.is_empty()),
            block: Some(short_name(&job.block.name)).filter(|name| !name.is_empty()),
            zero_mm: machine.zip(axis).map(|(m, [y, z])| [m.along_x_mm, y, z]),
            deck_mm: deck.zip(axis).map(|(deck, [_, z])| deck - z),
            bore_mm: bore,
        }
    }

    fn words(&self) -> String {
        let figures = |word: &str, mm: Option<&[f64]>| {
            let figures: Vec<String> = mm?.iter().map(|mm| format!("{mm:.3}")).collect();
            Some(format!("; {word} {}", figures.join(" ")))
        };
        let parts = [
            Some(format!("job {}; machine {}", self.job, self.machine)),
            self.customer.as_ref().map(|name| format!("; customer {name}")),
            self.block.as_ref().map(|name| format!("; block {name}")),
            figures("zero", self.zero_mm.as_ref().map(<[f64; 3]>::as_slice)),
            figures("deck", self.deck_mm.as_ref().map(std::slice::from_ref)),
            figures("bore", self.bore_mm.as_ref().map(<[f64; 2]>::as_slice)),
        ];
        parts.into_iter().flatten().collect()
    }

    /// From the cell of a record; `None` of one that was written before cells had it.
    fn read(cell: &str) -> Option<Self> {
        let parts = || cell.split(';').map(str::trim);
        let text = |word: &str| parts().find_map(|part| part.strip_prefix(word)?.strip_prefix(' '));
        let figures = |word: &str| -> Option<Vec<f64>> {
            text(word)?.split_whitespace().map(|text| text.parse().ok()).collect()
        };
        Some(Self {
            job: text("job")?.to_owned(),
            machine: text("machine")?.to_owned(),
            customer: text("customer").map(str::to_owned),
            block: text("block").map(str::to_owned),
            zero_mm: figures("zero").and_then(|f| f.try_into().ok()),
            deck_mm: figures("deck").and_then(|f| f.first().copied()),
            bore_mm: figures("bore").and_then(|f| f.try_into().ok()),
        })
    }
}

/// What is written down of a bore that is begun, behind its pocket.
#[must_use]
pub fn basis_words(job: &Job, cylinder: u32) -> String {
    Basis::of(job, cylinder).words()
}

/// A name as a cell keeps it: parts of a cell are divided by semicolons.
fn name(text: &str) -> String {
    plain(text, 60).replace(';', ",")
}

/// A name of which the beginning tells enough: a cell has room for so much.
fn short_name(text: &str) -> String {
    name(&text.trim().chars().take(40).collect::<String>()).trim().to_owned()
}

/// Whose engine, or which block, a bore was begun on where it is another now; each in words behind "begun for".
fn whose(then: &Basis, now: &Basis) -> Option<[String; 2]> {
    let nobody = || "nobody".to_owned();
    let is_other = |was: &str, is: &Option<String>| is.as_ref().is_none_or(|is| !alike(was, is));
    match (&then.customer, &now.customer, &then.block, &now.block) {
        (Some(was), is, _, _) if is_other(was, is) => Some([was.clone(), is.clone().unwrap_or_else(nobody)]),
        (_, _, Some(was), is) if is_other(was, is) => {
            Some([format!("block {was}"), format!("block {}", is.clone().unwrap_or_else(nobody))])
        }
        _ => None,
    }
}

/// Bores that are begun by the record and of which no line says where: their `place` was struck, or they were recorded by another
/// plan than any that a place was written by. Those that a hand typed name no plan, and have no place.
fn placeless(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let places = || standing.events.iter().filter(|e| e.what == Word::Place);
    let own_plan = paper.short();
    let is_known = |plan: &str| {
        let by_place = || places().filter(|e| e.struck.is_none()).any(|e| e.fields.get("plan") == plan);
        plan.is_empty() || plan == own_plan || by_place()
    };
    let hold = |cylinder: u32| -> Option<WorkFinding> {
        let own = || places().filter(|e| e.cylinder == Some(cylinder));
        if own().any(|e| e.struck.is_none()) {
            return None;
        }
        let cut = paper.checks.iter().filter(|c| is_cutting(c));
        let read: Vec<&Reading> = cut.flat_map(|c| standing.of_check(c.check, Some(cylinder))).collect();
        let of_another = read.iter().any(|r| !is_known(r.fields.get("plan")));
        let first = read.iter().map(|r| r.line).min().filter(|_| of_another || own().next().is_some())?;
        let struck =
            standing.strikes.iter().filter(|s| own().any(|e| e.line == s.root)).map(|s| s.line).max();
        let last = read.iter().map(|r| r.line).max().unwrap_or(first);
        let text = say!(
            "line {}: the bore was begun, and no `place` line that counts says where: what is cut of it stands where it was cut, and not \
             where it is planned now. Record any reading of its pocket by the plan that it was cut by, which writes its place down",
            first
        );
        let found = of_line(first, Subject::cylinder(cylinder), text);
        Some(found.judged(standing, (Some(cylinder), struck.map_or(last, |struck| struck.max(last)))))
    };
    paper.cylinders.iter().filter_map(|c| hold(c.cylinder)).collect()
}

/// A hold of all bores where the record is of another job, and of each bank that was begun on another machine or a block that
/// stood or was read otherwise, until its touch check is read anew.
pub(super) fn findings(job: &Job, paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let begun = standing.events.iter().filter(|e| e.what == Word::Place && e.struck.is_none());
    let begun: Vec<(&Event, u32, Basis)> =
        begun.filter_map(|e| Some((e, e.cylinder?, Basis::read(e.fields.get("of"))?))).collect();
    if let Some((event, _, then)) = begun.iter().find(|(_, _, then)| !alike(&then.job, &name(&job.number))) {
        let text = if stand_alike(job, &begun) {
            say!(
                "line {}: the record was begun as job {}, and this is job {}, with its bores where they were read then: was the number \
                 put right, and was it cut into this block? Then the lead says so (`release WHY`, with `--by`). Take the record of \
                 another job out of this folder",
                event.line,
                plain(&then.job, 60),
                plain(&job.number, 60)
            )
        } else {
            say!(
                "line {}: the record is of job {}, and this is job {}: nothing in it was cut into this block. Take the record of the other \
             job out of this folder",
                event.line,
                plain(&then.job, 60),
                plain(&job.number, 60)
            )
        };
        return vec![of_line(event.line, Subject::whole(SUBJECT), text).judged(standing, (None, event.line))];
    }
    let mut found = placeless(paper, standing);
    let renamed =
        begun.iter().filter_map(|(event, n, then)| Some((*event, whose(then, &Basis::of(job, *n))?)));
    if let Some((event, [was, is])) = renamed.clone().next() {
        let last = renamed.map(|(event, _)| event.line).max().unwrap_or(event.line);
        let text = say!(
            "line {}: the record was begun for {}, and this job is of {}: was it cut into this block? Take the record of another engine \
             out of this folder, or have the lead say that it is the same (`release WHY`, with `--by`)",
            event.line,
            plain(&was, 60),
            plain(&is, 60)
        );
        found.push(of_line(event.line, Subject::whole(SUBJECT), text).judged(standing, (None, last)));
    }
    for (index, bank) in job.block.banks.iter().enumerate() {
        let of_bank =
            |(_, n, _): &&(&Event, u32, Basis)| job.bank(index).sites.iter().any(|s| s.cylinder == *n);
        let own: Vec<&(&Event, u32, Basis)> = begun.iter().filter(of_bank).collect();
        let open = |(event, _, _): &&&(&Event, u32, Basis)| !touched_anew(paper, standing, &bank.name, event);
        let Some((event, why)) = own
            .iter()
            .filter(open)
            .find_map(|(event, n, then)| Some((*event, otherwise(then, &Basis::of(job, *n))?)))
            .or_else(|| {
                others(job, &own).filter(|(event, _)| !touched_anew(paper, standing, &bank.name, event))
            })
        else {
            continue;
        };
        let text = say!(
            "line {}: the bank was begun {}. What is behind it was cut for that: read its touch check anew before the next cut, and what \
             was measured from the deck with it",
            event.line,
            why
        );
        let own = of_line(event.line, Subject::bank(&bank.name), text);
        found.push(own.judged(standing, (None, event.line)));
    }
    found
}

fn of_line(line: usize, subject: Subject, text: Sentence) -> WorkFinding {
    WorkFinding::hold(Reason::BegunOn { line }, subject, text)
}

/// How a set-up differs from the one that a bore was begun on, in words behind "begun".
fn otherwise(then: &Basis, now: &Basis) -> Option<Sentence> {
    if then.machine != now.machine {
        return Some(say!("on {}, and is planned on {}", plain(&then.machine, 60), plain(&now.machine, 60)));
    }
    let zeros = then.zero_mm.as_ref().zip(now.zero_mm.as_ref());
    let moved = zeros.map(|(a, b)| a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max));
    if let Some(moved) = moved.filter(|moved| *moved > ZERO_MM) {
        return Some(say!("with its zero {} elsewhere on the machine", mm(moved, 2)));
    }
    let (was, is) = then.deck_mm.zip(now.deck_mm)?;
    ((was - is).abs() > DECK_MM).then(|| {
        say!("with the deck {} over the journal axis, and is planned with {}", before_mm(was, 3), mm(is, 3))
    })
}

/// Whether the bores that were begun stand where they were read then: fewer than `BORES` of them elsewhere, and fewer than half.
fn stand_alike(job: &Job, begun: &[(&Event, u32, Basis)]) -> bool {
    let apart = |(_, n, then): &(&Event, u32, Basis)| {
        then.bore_mm.zip(Basis::of(job, *n).bore_mm).map(|(was, is)| distance_mm(was, is) > BORE_MM)
    };
    let known: Vec<bool> = begun.iter().filter_map(apart).collect();
    let elsewhere = known.iter().filter(|is_elsewhere| **is_elsewhere).count();
    !known.is_empty() && elsewhere < BORES && 2 * elsewhere < known.len()
}

/// The first of several bores of a bank that were read elsewhere when they were begun.
fn others<'e>(job: &Job, own: &[&(&'e Event, u32, Basis)]) -> Option<(&'e Event, Sentence)> {
    let elsewhere = |(_, n, then): &&&(&Event, u32, Basis)| {
        let both = then.bore_mm.zip(Basis::of(job, *n).bore_mm);
        both.is_some_and(|(was, is)| distance_mm(was, is) > BORE_MM)
    };
    let found: Vec<_> = own.iter().filter(elsewhere).collect();
    let (event, ..) = found.first()?;
    (found.len() >= BORES && 2 * found.len() > own.len()).then(|| {
        (*event, say!("with {} of its bores read elsewhere than they are planned from now", found.len()))
    })
}

/// Whether a touch check of the bank was read after a line by another plan than that line's: every place of it that the
/// work waits for, and none by a word alone.
fn touched_anew(paper: &Paper, standing: &Standing, bank: &str, event: &Event) -> bool {
    let mut touches = paper.checks.iter().filter(|c| c.bank == bank && c.what == What::Touch);
    let anew = |r: &Reading| {
        r.line > event.line && r.heard != Heard::None && r.fields.get("plan") != event.fields.get("plan")
    };
    touches.any(|check| {
        let waiting = |at: &AtCylinder| -> Vec<(Option<u32>, u32)> {
            at.readings.iter().filter(|a| a.waits).map(|a| (at.cylinder, a.reading)).collect()
        };
        let mut waiting = check.cylinders.iter().flat_map(waiting).peekable();
        waiting.peek().is_some()
            && waiting.all(|(cylinder, reading)| {
                standing.of_check(check.check, cylinder).any(|r| r.reading == reading && anew(r))
            })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_bore_was_begun_on_is_read_as_it_was_written() {
        let basis = Basis {
            job: "0412".into(),
            machine: "column mill, the old one".into(),
            customer: Some("Saltmarsh Engine Works".into()),
            block: Some("Petrel 90".into()),
            zero_mm: Some([-160.0, 0.123, -0.456]),
            deck_mm: Some(235.012),
            bore_mm: Some([-92.021, 0.131]),
        };
        let cell = format!("pocket 95.100 7.965; {}", basis.words());
        assert_eq!(Basis::read(&cell), Some(basis.clone()));
        assert!(otherwise(&basis, &basis).is_none());
        for other in [
            Basis { machine: "another".into(), ..basis.clone() },
            Basis { zero_mm: Some([-159.9, 0.123, -0.456]), ..basis.clone() },
            Basis { deck_mm: Some(235.032), ..basis.clone() },
        ] {
            assert!(otherwise(&basis, &other).is_some(), "{other:?}");
        }
        // Of the bank's frame, and of a record from before.
        let (customer, block) = (None, None);
        let bare = Basis { zero_mm: None, deck_mm: None, bore_mm: None, customer, block, ..basis.clone() };
        assert!(whose(&bare, &basis).is_none() && whose(&basis, &basis).is_none());
        for other in [
            Basis { customer: Some("Another".into()), ..basis.clone() },
            Basis { customer: None, ..basis.clone() },
            Basis { block: Some("Kittiwake".into()), ..basis.clone() },
        ] {
            assert!(whose(&basis, &other).is_some(), "{other:?}");
        }
        assert_eq!(Basis::read(&bare.words()), Some(bare));
        assert_eq!(Basis::read("pocket 95.100 7.965"), None);
    }
}
