//! Deck points that do not lie round the bores of their deck, or where the machine does not reach; mains read on
//! too little of their circle.

use crate::survey::suspect::Code;
use borewright_geometry::{fit_circle, widest_gap_deg};

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{MachineReadings, ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::count;

/// Points farther beyond the travel than this share of it were not taken on this machine; the share allows for a
/// set-up whose zero lies aside.
const BEYOND: f64 = 0.5;

/// The widest deck, in finished bores. Common practice, no source.
const WIDEST: f64 = 2.5;

/// The least share of the way from the first bore to the last that deck points must cover: a plane cannot be
/// carried farther. Common practice, no source.
const SHORTEST: f64 = 0.25;

/// The middle of a deck's points lies beside its bores by no more than this share of their width across. Common practice, no source.
const BESIDE: f64 = 0.3;

/// Points that leave a wider arc than this of a housing bore unread do not place its middle, degrees. Common
/// practice, no source.
const UNREAD_DEG: f64 = 150.0;

/// The most that a housing bore differs from its description, mm. Common practice, no source.
const HOUSING_MM: f64 = 0.5;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let machine = asked.job.set_ups.iter().filter_map(|set_up| match &set_up.frame {
        ReadingFrame::Machine(readings) => Some((set_up, readings)),
        ReadingFrame::Journal => None,
    });
    machine
        .flat_map(|(set_up, readings)| {
            let mut found = Vec::new();
            found.extend(field(asked, set_up, readings));
            found.extend(mains(asked, set_up, readings));
            found
        })
        .collect()
}

/// The cylinders of a set-up's bank.
fn of_bank(asked: &Asked<'_>, set_up: &SetUp) -> Vec<u32> {
    asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect()
}

/// Where each bore of a set-up was read, in the machine, mm.
fn bores(set_up: &SetUp, cylinder: u32) -> Option<[f64; 2]> {
    let circles = set_up.bores.iter().filter(|b| b.cylinder == cylinder).map(|b| b.centre_mm);
    let points = set_up.points.iter().filter(|p| p.cylinder == cylinder).map(|p| p.at_mm);
    let read: Vec<[f64; 2]> = circles.chain(points).collect();
    let n = count(read.len());
    (!read.is_empty()).then(|| [0, 1].map(|k| read.iter().map(|p| p[k]).sum::<f64>() / n))
}

/// The suspicion of one set-up's deck points: over too little of the bank, beside a bore of it, too wide, or beyond
/// the travel. `None` where the points lie as they should, or none were read.
fn field(asked: &Asked<'_>, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    if readings.deck_mm.is_empty() {
        return None;
    }
    let ends = [0, 1].map(|k| {
        let values = readings.deck_mm.iter().map(|p| p[k]);
        values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
    });
    let cylinders = of_bank(asked, set_up);
    // Across only: along, points between the end bores carry the plane as well.
    let outside: Vec<u32> = cylinders
        .iter()
        .copied()
        .filter(|n| bores(set_up, *n).is_some_and(|at| at[1] < ends[1][0] || at[1] > ends[1][1]))
        .collect();
    let travel = asked.job.machine.travel_mm;
    // A deck is some one and a half bores wide.
    let width = ends[1][1] - ends[1][0];
    let wide = width > WIDEST * asked.job.finish.bore_mm;
    let beyond = wide
        || (0..2).any(|k| {
            let [from, to] = travel[k];
            let room = BEYOND * (to - from);
            ends[k][0] < from - room || ends[k][1] > to + room
        });
    let read: Vec<[f64; 2]> = cylinders.iter().filter_map(|n| bores(set_up, *n)).collect();
    let along = read
        .iter()
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at[0]), high.max(at[0])]);
    let [deck, row] = [ends[0], along].map(|[low, high]| high - low);
    let short = row > 0.0 && deck < SHORTEST * row;
    let found = if short {
        say!(
            "the deck was read over {} along the bank, and its bores over {}",
            before_mm(deck, 1),
            mm(row, 1)
        )
    } else if !outside.is_empty() {
        say!(
            "the deck was read from x {} to {}, y {} to {}, and {} read outside that field",
            before_mm(ends[0][0], 1),
            mm(ends[0][1], 1),
            before_mm(ends[1][0], 1),
            mm(ends[1][1], 1),
            match outside.as_slice() {
                [one] => format!("cylinder {one} was"),
                several => format!("{} were", cylinder_words(several)),
            }
        )
    } else if let Some(by) = beside(&read, ends[1]) {
        say!(
            "the deck was read from y {} to {}, whose middle lies {} beside its bores",
            before_mm(ends[1][0], 1),
            mm(ends[1][1], 1),
            mm(by, 1)
        )
    } else if beyond {
        say!(
            "the deck was read from x {} to {}, y {} to {}, which no deck of such bores is, or the machine does not reach",
            before_mm(ends[0][0], 1),
            mm(ends[0][1], 1),
            before_mm(ends[1][0], 1),
            mm(ends[1][1], 1)
        )
    } else {
        return None;
    };
    Some(Suspicion {
        code: Code::DeckField,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found,
        likely: "the sign of a column, a digit, another unit, or another deck's points: they tilt the bank's whole frame"
            .into(),
        ask: "where were the points of this deck taken? Read it at four corners, round all its bores".into(),
        evidence: figures([
            ("x_from", ends[0][0]),
            ("x_to", ends[0][1]),
            ("y_from", ends[1][0]),
            ("y_to", ends[1][1]),
        ]),
        cylinders: cylinders.into(),
    })
}

/// How far the middle of the deck's points lies beside the bores across, mm, where that is more than a share of their width; `read`
/// where each bore was.
fn beside(read: &[[f64; 2]], [low, high]: [f64; 2]) -> Option<f64> {
    let middle = read.iter().map(|at| at[1]).sum::<f64>() / count(read.len());
    let by = (middle - f64::midpoint(low, high)).abs();
    (!read.is_empty() && by > BESIDE * (high - low)).then_some(by)
}

/// The first main whose points do not place it, or whose housing is another's.
fn mains(asked: &Asked<'_>, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let described = asked.job.block.journal_axis.housing_bore_mm;
    readings.mains.chunk_by(|a, b| a.main == b.main).find_map(|group| {
        let points: Vec<[f64; 2]> = group.iter().map(|p| [p.at_mm[1], p.at_mm[2]]).collect();
        let circle = fit_circle(&points).ok()?;
        let name = plain(&group.first()?.main, 20);
        let unread = widest_gap_deg(&points, circle.centre_mm);
        let diameter = 2.0 * circle.radius_mm;
        let (code, found, likely) = if (diameter - described).abs() > HOUSING_MM + 1e-9 {
            let found = say!(
                "the housing bore of main {name} reads {}, described {}",
                mm(diameter, 3),
                mm(described, 3)
            );
            (
                Code::HousingOdd,
                found,
                "a radius for a diameter, another hole, points of two mains in one, or another block's description",
            )
        } else if unread > UNREAD_DEG + 1e-9 {
            let found = say!("the points on main {name} leave {unread:.0} degrees of its circle unread");
            (Code::MainArc, found, "a stylus that did not get round: so short an arc does not place the middle")
        } else {
            return None;
        };
        Some(Suspicion {
            code,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found,
            likely: likely.into(),
            ask: say!("probe main {name} again, all round it, caps torqued"),
            evidence: figures([("diameter", diameter), ("described", described), ("unread", unread)]),
            cylinders: of_bank(asked, set_up).into(),
        })
    })
}
