//! Patterns of studs that hold no head down: two in one place, all on one side, those of the other bank, holes that
//! begin below the deck; and coolant holes without length, far from every bore, or beside the block.

use super::evidence::figures;
use super::studs::{asks, of};
use super::{Asked, Suspicion, studs_beside, studs_of_banks};
use crate::plan::sentence::{before_mm, mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::median;

/// A bank's head is held on both sides: of so many studs none on one side is a list cut short.
const ONE_SIDED: usize = 4;

/// The middle of a bank's studs lies no farther across from its bores than this, mm. Common practice, no source.
const ROW_OFF_MM: f64 = 6.0;

/// Two patterns are one within this, mm.
const SAME_MM: f64 = 1.0;

/// A stud's hole begins at the deck, or this far below it at the most, mm. Common practice, no source.
const BEGINS_MM: f64 = 30.0;

/// The shortest drilled hole, mm.
const SHORT_MM: f64 = 1.0;

/// Holes end no farther aside of the row of bores, in finished bores. Common practice, no source.
const ASIDE: f64 = 2.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks = 0..asked.job.block.banks.len();
    let mut found: Vec<Suspicion> = banks.filter_map(|bank| studs(asked, bank)).collect();
    if found.is_empty() {
        found.extend(exchanged(asked));
    }
    if found.is_empty() {
        found.extend(
            studs_of_banks::suspicions(asked)
                .or_else(|| studs_beside::bare(asked))
                .or_else(|| studs_beside::off_middle(asked))
                .or_else(|| studs_beside::moved(asked)),
        );
    }
    found.extend(hole(asked));
    found
}

fn studs(asked: &Asked<'_>, bank: usize) -> Option<Suspicion> {
    let own = of(asked, bank);
    let pairs = own.iter().enumerate().flat_map(|(i, a)| own[i + 1..].iter().map(move |b| (a, b)));
    let twice = pairs.into_iter().find(|(a, b)| {
        let [dx, dy] = [0, 1].map(|k| a.centre_mm[k] - b.centre_mm[k]);
        dx.hypot(dy) < a.diameter_mm.max(b.diameter_mm) / 2.0
    });
    if let Some((stud, _)) = twice {
        let [x, y] = stud.centre_mm;
        let found = say!("two studs are told at x {}, y {}", before_mm(x, 1), mm(y, 1));
        return Some(asks(asked, &[bank], found, "a row copied, or a sign slipped", own.len()));
    }
    if let Some(stud) = own.iter().find(|s| s.depths.from_mm > BEGINS_MM + 1e-9) {
        let found = say!("a stud's hole is told to begin {} below the deck", mm(stud.depths.from_mm, 1));
        return Some(asks(
            asked,
            &[bank],
            found,
            "a digit slipped: a hole that a stud goes into is open at the deck",
            own.len(),
        ));
    }
    let axis = asked.job.bank(bank).axis_offset_mm;
    // A few bolts elsewhere move no row.
    let row = |side: f64| {
        let ys: Vec<f64> = own.iter().map(|s| s.centre_mm[1] - axis).filter(|y| y * side > 0.0).collect();
        if ys.is_empty() { 0.0 } else { median(ys) }
    };
    let ends = [row(-1.0), row(1.0)];
    let middle = f64::midpoint(ends[0], ends[1]);
    if own.len() >= ONE_SIDED && middle.abs() > ROW_OFF_MM && ends[0] < 0.0 && ends[1] > 0.0 {
        let found =
            say!("the middle of its studs stands {} across from the row of bores", signed_mm(middle, 1));
        return Some(asks(
            asked,
            &[bank],
            found,
            "y told from another line than the journal axis, or a side cut short",
            own.len(),
        ));
    }
    let sides = [own.iter().any(|s| s.centre_mm[1] > axis), own.iter().any(|s| s.centre_mm[1] < axis)];
    (own.len() >= ONE_SIDED && sides != [true, true]).then(|| {
        let found = say!("all {} studs stand on one side of the bores", own.len());
        asks(asked, &[bank], found, "the other side left out, or a sign slipped", own.len())
    })
}

/// Two banks whose studs fit each other's bores and not their own.
fn exchanged(asked: &Asked<'_>) -> Option<Suspicion> {
    let banks = &asked.job.block.banks;
    let [first, second] = banks.as_slice() else { return None };
    let start = [first, second].map(|b| b.sites.first().map(|s| s.x_mm));
    let ([Some(x_0), Some(x_1)], studs) = (start, [of(asked, 0), of(asked, 1)]) else { return None };
    let pattern = |bank: usize, from: f64| {
        let mut places: Vec<[f64; 2]> =
            studs[bank].iter().map(|s| [s.centre_mm[0] - from, s.centre_mm[1]]).collect();
        places.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        places
    };
    let alike = |a: Vec<[f64; 2]>, b: Vec<[f64; 2]>| {
        !a.is_empty()
            && a.len() == b.len()
            && a.iter().zip(&b).all(|(a, b)| (a[0] - b[0]).abs() <= SAME_MM && (a[1] - b[1]).abs() <= SAME_MM)
    };
    let own = alike(pattern(0, x_0), pattern(1, x_1));
    let other = alike(pattern(0, x_1), pattern(1, x_0));
    (!own && other).then(|| {
        let found =
            "the studs of either bank stand round the other bank's bores as they should round their own"
                .into();
        asks(asked, &[0, 1], found, "the two banks were exchanged", studs[0].len() + studs[1].len())
    })
}

/// The suspicion of the first coolant hole that is too short, too far from every bore, or outside the block; `None`
/// where none is.
fn hole(asked: &Asked<'_>) -> Option<Suspicion> {
    let bore_mm = asked.job.block.parent.bore_length_mm;
    asked.job.block.coolant_holes.iter().find_map(|hole| {
        let bank = asked.job.bank(hole.bank);
        let [a, b] = [hole.start_mm, hole.end_mm];
        let length = (a[0] - b[0]).hypot(a[1] - b[1]).hypot(a[2] - b[2]);
        let xs: Vec<f64> = bank.sites.iter().map(|s| s.x_mm).collect();
        let spacing = xs.windows(2).map(|pair| (pair[1] - pair[0]).abs()).max_by(f64::total_cmp);
        let to_bore = |end: [f64; 3]| {
            let away = |x: &f64| (end[0] - x).hypot(end[1] - bank.axis_offset_mm);
            xs.iter().map(away).fold(f64::INFINITY, f64::min)
        };
        let nearest = to_bore(a).min(to_bore(b));
        // Beside the block, below the journal axis, or above the deck.
        let outside = |[_, y, depth]: [f64; 3]| {
            (y - bank.axis_offset_mm).abs() > ASIDE * asked.job.finish.bore_mm
                || !(-hole.diameter_mm..=bank.deck_height_mm).contains(&depth)
        };
        let found = if length < SHORT_MM {
            say!("the coolant hole {} is {} long", plain(&hole.name, 40), mm(length, 2))
        } else if let Some(spacing) = spacing.filter(|spacing| nearest > *spacing + 1e-6) {
            say!(
                "the coolant hole {} ends {} from the nearest bore, which are {} apart",
                plain(&hole.name, 40),
                mm(nearest, 1),
                mm(spacing, 1)
            )
        } else if let Some(run) = Some(open_mm(a, b, hole.diameter_mm / 2.0)).filter(|run| *run > hole.diameter_mm) {
            say!(
                "the coolant hole {} lies under half its width below the deck over {}: it would be open to the deck",
                plain(&hole.name, 40),
                mm(run, 1)
            )
        } else if let Some(depth) = Some(a[2].min(b[2])).filter(|depth| *depth > bore_mm) {
            say!(
                "the coolant hole {} begins {} below the deck, and the bores end at {}: there is no coolant",
                plain(&hole.name, 40),
                mm(depth, 1),
                mm(bore_mm, 1)
            )
        } else if let Some([x, y, depth]) = [a, b].into_iter().find(|end| outside(*end)) {
            say!(
                "the coolant hole {} ends at x {}, y {}, depth {}: no hole of this block lies there",
                plain(&hole.name, 40),
                before_mm(x, 1),
                before_mm(y, 1),
                mm(depth, 1)
            )
        } else {
            return None;
        };
        Some(Suspicion {
            code: Code::HoleOdd,
            verdict: Verdict::Hold,
            subject: Subject::bank(&bank.name),
            found,
            likely: "a digit or a sign slipped: a hole told in the wrong place guards nothing".into(),
            ask: "where does this hole run?".into(),
            evidence: figures([("length", length), ("to_bore", nearest)]),
            cylinders: bank.sites.iter().map(|s| s.cylinder).collect(),
        })
    })
}

/// How far along the deck a hole's axis runs less than its radius below it, mm; ends are x, y, depth.
fn open_mm(a: [f64; 3], b: [f64; 3], radius_mm: f64) -> f64 {
    let run = (a[0] - b[0]).hypot(a[1] - b[1]);
    let [upper, lower] = [a[2].min(b[2]), a[2].max(b[2])];
    let share = if lower <= radius_mm { 1.0 } else { ((radius_mm - upper) / (lower - upper)).max(0.0) };
    share * run
}
