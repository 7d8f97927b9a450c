//! One reading of the journal axis, or of the deck, written down for all: a bent line of mains, or a deck that leans, would not
//! show.

use crate::job::{ReadingFrame, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::read::given::Units;
use crate::say;
use crate::survey::suspect::Code;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::read_unit_mm;
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Mains, and points of a deck, that cannot all read alike to the last digit.
const MAINS: usize = 3;
const POINTS: usize = 4;

/// A figure on this grid may be what a coarse scale, or a tram to zero, shows alike everywhere: mm, and in, where dials step
/// by half a thou.
const GRID_MM: f64 = 0.01;
const GRID_IN: f64 = 0.000_5;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let grid = match asked.job.units {
        Units::Mm => GRID_MM,
        Units::In => GRID_IN,
    };
    let grid_mm = grid * read_unit_mm(asked.job);
    let fine = |mm: f64| (mm / grid_mm - (mm / grid_mm).round()).abs() > 1e-6;
    let of = |(index, set_up): (usize, &SetUp)| {
        let ReadingFrame::Machine(machine) = &set_up.frame else { return Vec::new() };
        let axis: Vec<[f64; 2]> = machine.axis.iter().map(|a| [a.at_mm[1], a.at_mm[2]]).collect();
        let deck: Vec<[f64; 1]> = machine.deck_mm.iter().map(|p| [p[2]]).collect();
        let cylinders = asked.readings.cylinders(index);
        let told = [
            (alike(&axis, MAINS, fine), "y and z of all mains", "a bent line of mains"),
            (alike(&deck, POINTS, fine), "z of all points of the deck", "a deck that leans"),
        ];
        told.into_iter()
            .filter_map(|(number, what, hidden)| Some(copied(set_up, number?, (what, hidden), &cylinders)))
            .collect()
    };
    asked.job.set_ups.iter().enumerate().flat_map(of).collect()
}

/// How many rows there are, where all are alike to the last digit and that is a fine one.
fn alike<const N: usize>(rows: &[[f64; N]], fewest: usize, fine: impl Fn(f64) -> bool) -> Option<usize> {
    let first = rows.first().filter(|_| rows.len() >= fewest)?;
    let same = rows.iter().all(|row| row.map(f64::to_bits) == first.map(f64::to_bits));
    (same && first.iter().any(|mm| fine(*mm))).then_some(rows.len())
}

fn copied(set_up: &SetUp, number: usize, (what, hidden): (&str, &str), cylinders: &[u32]) -> Suspicion {
    Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "{what} of set-up {} are one figure to the last digit, {number} times",
            plain(&set_up.name, 40)
        ),
        likely: say!("one reading written at all of them: {hidden} would not show"),
        ask: "read them again, each for itself: what do they say?".into(),
        evidence: figures([("rows", count(number))]),
        cylinders: cylinders.to_vec().into(),
    }
}
