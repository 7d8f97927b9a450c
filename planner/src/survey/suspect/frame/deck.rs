//! The deck of a machine set-up: one bad point, a lean no set-up has, a height no deck has.

use crate::survey::suspect::Code;
use borewright_geometry::{Displacement, fit_plane};

use super::evidence::{FACTORS, NEARER, figures, unit_cause, unit_words};
use super::{Asked, Suspicion, deck_tilt};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm, signed_before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::sample::count;

/// A deck leans less than this from the spindle in any careful set-up, degrees. Common practice, no source.
const LEAN_DEG: f64 = 0.5;

/// A deck that stands farther than this from its described height is told, mm. Common practice, no source.
const HEIGHT_MM: f64 = 0.5;

/// A deck that stands farther than this from its described height is held, mm: no deck was skimmed so far, so it is
/// another block's, or another tool touched it. Common practice, no source.
const HEIGHT_HELD_MM: f64 = 0.9;

/// A deck that stands higher than described by more than this is held, mm: it may have been skimmed, and metal does not grow.
/// Common practice, no source.
const HIGHER_HELD_MM: f64 = 0.3;

/// Less than this is not told from how decks come, mm; and what was cut is met within this. Common practice, no source.
const CUT_MM: f64 = 0.1;
const CUT_ALREADY_MM: f64 = 0.04;

/// Points of a deck that can say which of them is off.
const TELLING: usize = 6;

/// Points that a deck of a careful set-up is touched at. Common practice, no source.
const EIGHT: usize = 8;

/// A point off by less than this may be the casting itself, mm. Common practice, no source.
const POINT_MM: f64 = 0.05;

/// Residual of four points from which on one is asked about, mm: four points leave a quarter of what one is off, so
/// one off by 0.04, which moves a bore by as much.
const FOUR_MM: f64 = 0.010;

/// What the points have to spare must be this many times what touching scatters.
const SIGMAS: f64 = 6.0;

/// The same where leaving one point out moves a bore by more than is harmless, and the residual that it takes, mm. Common practice,
/// no source.
const SIGMAS_OF_TWO: f64 = 4.0;
const TWO_MM: f64 = 0.015;

/// A deck so much of whose squares a twist takes is twisted, and no two points of it are off. Common practice, no source.
const TWISTED: f64 = 0.8;

/// A point whose leaving out moves a bore by no more than this need not be named, mm. Common practice, no source.
const HARMLESS_MM: f64 = 0.03;

/// The best that a touch on a deck is believed to repeat, mm.
const LEAST_U_MM: f64 = 0.002;

/// The most that all bores of a bank lean against their deck, mm per mm. Common practice, no source.
const BORES_LEAN: f64 = 0.003_5;

/// A deck is parallel to the journal axis within this, mm per mm. Common practice, no source.
const RISES: f64 = 0.000_6;

/// The most points of a deck that are left out in turn, for each of the two reasons.
const MOST_TRIED: usize = 32;

/// What is left without the point must be this small a share of how far it is off.
const SHARE: f64 = 0.2;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let ReadingFrame::Machine(readings) = &set_up.frame else { continue };
        let cylinders = asked.readings.cylinders(index);
        let deck_u = asked.job.instruments.centre_mm;
        let bad = bad_point(set_up, &readings.deck_mm, &cylinders).or_else(|| {
            spare(deck_u, asked.job.bank(set_up.bank).deck_height_mm, set_up, &readings.deck_mm, &cylinders)
        });
        match bad {
            Some(bad) => found.push(bad),
            // The deck's tilt is asked about only where no single bad point and no impossible lean explains it.
            None => found.extend(
                lean(asked, index, set_up, &cylinders)
                    .or_else(|| against_axis(asked, index, set_up, &cylinders))
                    .or_else(|| bores_lean(asked, index, set_up, &cylinders))
                    .or_else(|| deck_tilt::tilt(asked, index, set_up)),
            ),
        }
        found.extend(height(asked, set_up, &readings.deck_mm, &cylinders));
    }
    found
}

/// The one deck point without which the rest lies in a plane; `None` where none stands out, or leaving out another
/// helps as much. `deck` is in the machine's axes, mm.
fn bad_point(set_up: &SetUp, deck: &[[f64; 3]], cylinders: &[u32]) -> Option<Suspicion> {
    if deck.len() < TELLING {
        return None;
    }
    let mut tried: Vec<(usize, f64, f64)> = candidates(deck)
        .into_iter()
        .filter_map(|index| {
            let rest: Vec<[f64; 3]> =
                deck.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, p)| *p).collect();
            let plane = fit_plane(&rest).ok()?;
            let up = plane.normal[2].signum();
            let off =
                |p: &[f64; 3]| up * (0..3).map(|k| plane.normal[k] * (p[k] - plane.point_mm[k])).sum::<f64>();
            Some((index, off(&deck[index]), rest.iter().map(|p| off(p).abs()).fold(0.0, f64::max)))
        })
        .collect();
    tried.sort_by(|a, b| a.2.total_cmp(&b.2));
    let [(index, off, left), (_, _, next), ..] = tried.as_slice() else { return None };
    if off.abs() < POINT_MM || *left > SHARE * off.abs() || 2.0 * left > *next {
        return None;
    }
    Some(Suspicion {
        code: Code::BadDeckPoint,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "deck point {} of {} lies {} off the plane of the rest, which leaves {}; it tilts the bank's \
             whole frame",
            index + 1,
            deck.len(),
            signed_mm(*off, 3),
            before_mm(*left, 3)
        ),
        likely: if *off > 0.0 {
            "a chip or burr under the stylus, or a wrong digit".into()
        } else {
            "a hole or nick touched, or a wrong digit".into()
        },
        ask: "clean the deck there and touch it again, in the place of its old row".into(),
        evidence: figures([
            ("point", count(index + 1)),
            ("points", count(deck.len())),
            ("off", *off),
            ("left_without_it", *left),
        ]),
        cylinders: cylinders.to_vec().into(),
    })
}

/// Points that may be the one that is off: all of a deck touched by hand; of a scanned one those farthest off its
/// plane, and those farthest out, which draw the plane to themselves.
fn candidates(deck: &[[f64; 3]]) -> Vec<usize> {
    if deck.len() <= 2 * MOST_TRIED {
        return (0..deck.len()).collect();
    }
    let Ok(plane) = fit_plane(deck) else { return Vec::new() };
    let away = |p: &[f64; 3]| [0, 1, 2].map(|k| p[k] - plane.point_mm[k]);
    let off = |p: &[f64; 3]| away(p).iter().zip(plane.normal).map(|(a, n)| a * n).sum::<f64>().abs();
    let out = |p: &[f64; 3]| away(p).iter().map(|a| a * a).sum::<f64>();
    let farthest = |of: &dyn Fn(&[f64; 3]) -> f64| {
        let mut by: Vec<(f64, usize)> = deck.iter().map(of).zip(0..).collect();
        by.sort_by(|a, b| b.0.total_cmp(&a.0));
        by.into_iter().take(MOST_TRIED).map(|(_, index)| index).collect::<Vec<_>>()
    };
    let mut found = [farthest(&off), farthest(&out)].concat();
    found.sort_unstable();
    found.dedup();
    found
}

/// What four points or more have to spare against their own covariance: with four one residual says that a point is
/// off, and not which; the same of more where none can be named.
fn spare(
    u_mm: f64,
    height_mm: f64,
    set_up: &SetUp,
    deck: &[[f64; 3]],
    cylinders: &[u32],
) -> Option<Suspicion> {
    let n = count(deck.len());
    if deck.len() < 4 {
        return None;
    }
    let plane = fit_plane(deck).ok()?;
    let off = |p: &[f64; 3]| (0..3).map(|k| plane.normal[k] * (p[k] - plane.point_mm[k])).sum::<f64>();
    let worst = deck.iter().map(|p| off(p).abs()).fold(0.0, f64::max);
    let left: f64 = deck.iter().map(|p| off(p).powi(2)).sum();
    // The root of chi-squared over its freedom, of one residual or of several.
    let over_u = (left / (n - 3.0)).sqrt() / u_mm.max(LEAST_U_MM);
    let least = if deck.len() == 4 { FOUR_MM } else { POINT_MM / 2.0 };
    let moves = moved_mm(height_mm, deck);
    // Two that are off alike draw the plane to themselves and leave less of it, and move the bores by more.
    let of_two = over_u >= SIGMAS_OF_TWO
        && worst >= TWO_MM
        && moves.is_some_and(|by| by > HARMLESS_MM)
        && twist(deck).is_none_or(|share| share < TWISTED);
    if !of_two && (over_u < SIGMAS || worst < least) {
        return None;
    }
    // A deck may be slightly hollow: where leaving any one point out moves no bore, it is a note.
    let harmless = deck.len() >= TELLING && moves.is_some_and(|by| by <= HARMLESS_MM);
    Some(Suspicion {
        code: Code::BadDeckPoint,
        verdict: if harmless { Verdict::Go } else { Verdict::Hold },
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the {} deck points lie up to {} off their plane, {over_u:.0} times what touching scatters; they \
             cannot say which is off, {}",
            deck.len(),
            mm(worst, 3),
            if harmless {
                say!("and none of them, left out, moves a bore by more than {}", mm(HARMLESS_MM, 2))
            } else {
                "and it tilts the bank's whole frame".into()
            }
        ),
        likely: "a chip or burr under the stylus, a wrong digit, or a deck that is not flat".into(),
        ask: if deck.len() < EIGHT {
            "clean the deck and touch it again at eight points, in the place of the old rows".into()
        } else {
            "clean the deck and touch it again, in the place of the old rows; one that is hollow or twisted as a whole is the lead's to let through"
                .into()
        },
        evidence: figures([("points", n), ("worst_residual", worst), ("over_u", over_u)]),
        cylinders: cylinders.to_vec().into(),
    })
}

/// What share of the squares that a plane leaves of a deck's points a twist takes; `None` of points that have none to spare.
fn twist(deck: &[[f64; 3]]) -> Option<f64> {
    let [x, y] = [0, 1].map(|k| deck.iter().map(|p| p[k]).sum::<f64>() / count(deck.len()));
    // What of a twist no plane has.
    let twisted: Vec<[f64; 3]> = deck.iter().map(|p| [p[0], p[1], (p[0] - x) * (p[1] - y) * 1e-3]).collect();
    let left = |points: &[[f64; 3]]| -> Option<Vec<f64>> {
        let plane = fit_plane(points).ok()?;
        let up = plane.normal[2].signum();
        let off =
            |p: &[f64; 3]| up * (0..3).map(|k| plane.normal[k] * (p[k] - plane.point_mm[k])).sum::<f64>();
        Some(points.iter().map(off).collect())
    };
    let (own, of_twist) = (left(deck)?, left(&twisted)?);
    let times = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let squares = times(&own, &own) * times(&of_twist, &of_twist);
    (squares > 0.0).then(|| times(&own, &of_twist).powi(2) / squares)
}

/// The most by which a bore moves at the journal axis, or the deck's height with it, when one of the points is left
/// out, mm.
fn moved_mm(height_mm: f64, deck: &[[f64; 3]]) -> Option<f64> {
    let slopes = |points: &[[f64; 3]]| {
        let plane = fit_plane(points).ok()?;
        let [x, y, z] = plane.normal;
        Some([-x / z, -y / z])
    };
    let whole = slopes(deck)?;
    candidates(deck).into_iter().try_fold(0.0, |most: f64, index| {
        let rest: Vec<[f64; 3]> =
            deck.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, p)| *p).collect();
        let own = slopes(&rest)?;
        Some(most.max(height_mm * (own[0] - whole[0]).hypot(own[1] - whole[1])))
    })
}

/// The suspicion of a deck that rises along the journal axis, as no skimmed deck does; heights over the axis rest
/// on it.
fn against_axis(asked: &Asked<'_>, index: usize, set_up: &SetUp, cylinders: &[u32]) -> Option<Suspicion> {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
    let placement = asked.placements.get(index)?.as_ref()?;
    let plane = fit_plane(&readings.deck_mm).ok()?;
    let [x, y, z] = plane.normal;
    let normal = placement.displacement(Displacement::new(x, y, z));
    let rise = -normal.x_mm() / normal.z_mm();
    if rise.abs() <= RISES {
        return None;
    }
    Some(Suspicion {
        code: Code::DeckLeans,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the deck rises {} over 100 along the journal axis: more than any deck was skimmed",
            signed_mm(100.0 * rise, 3)
        ),
        likely: "a deck point typed wrongly, a chip under the stylus, or a wrong height of one main".into(),
        ask: "touch the deck again at eight points or more, and read the first and the last main again, in the place of the old rows".into(),
        evidence: figures([("rise_over_100", 100.0 * rise)]),
        cylinders: cylinders.to_vec().into(),
    })
}

/// The suspicion of a deck that all bores lean against by more than a fixture leaves: its points, where they have
/// nothing to spare.
fn bores_lean(asked: &Asked<'_>, index: usize, set_up: &SetUp, cylinders: &[u32]) -> Option<Suspicion> {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
    if readings.deck_mm.is_empty() || !asked.circles.iter().any(|c| c.set_up == index && c.planned) {
        return None;
    }
    let banks = super::lines::lines(asked.job, asked.circles);
    let of = banks.iter().find(|b| b.bank == set_up.bank)?;
    let tilt = super::lines::mean_tilt(&of.lines).filter(|_| of.lines.len() > 1)?;
    let lean = tilt[0].hypot(tilt[1]);
    if lean <= BORES_LEAN {
        return None;
    }
    Some(Suspicion {
        code: Code::DeckLeans,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "all its bores lean {} over 100 against the deck as it was touched: more than any fixture left",
            mm(100.0 * lean, 3)
        ),
        likely: "a deck point typed wrongly, or a chip under the stylus: it tilts the bank's whole frame"
            .into(),
        ask: if readings.deck_mm.len() < EIGHT {
            "touch the deck again at eight points, in the place of the old rows".into()
        } else {
            "touch the deck again, in the place of the old rows; one that truly leans so is the lead's to let through".into()
        },
        evidence: figures([("lean_over_100", 100.0 * lean)]),
        cylinders: cylinders.to_vec().into(),
    })
}

fn lean(asked: &Asked<'_>, index: usize, set_up: &SetUp, cylinders: &[u32]) -> Option<Suspicion> {
    let placement = asked.placements.get(index)?.as_ref()?;
    let spindle = placement.displacement(Displacement::new(0.0, 0.0, 1.0));
    let lean_deg = spindle.x_mm().hypot(spindle.y_mm()).atan2(spindle.z_mm()).to_degrees();
    if lean_deg <= LEAN_DEG {
        return None;
    }
    let over = lean_deg.to_radians().tan() * asked.job.block.parent.bore_length_mm;
    Some(Suspicion {
        code: Code::DeckLeans,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the bank leans {lean_deg:.2} degrees from the spindle, {} over the bore's length: more than a \
             set-up does",
            mm(over, 2)
        ),
        likely: "a deck point typed wrongly, a deck that is not square to the bores, or the block not seated"
            .into(),
        ask: "touch the deck again at its four corners; does the block sit on its seats?".into(),
        evidence: figures([("lean_degrees", lean_deg), ("over_the_bore", over)]),
        cylinders: cylinders.to_vec().into(),
    })
}

/// The suspicion of a deck that stands off its described height: another unit, a hold where no deck was skimmed so
/// far, else a note. `deck` is in the machine's axes, mm.
fn height(asked: &Asked<'_>, set_up: &SetUp, deck: &[[f64; 3]], cylinders: &[u32]) -> Option<Suspicion> {
    let read = asked.journal_axis.iter().find(|a| a.set_up == set_up.name)?.deck_height?;
    let described = asked.job.bank(set_up.bank).deck_height_mm;
    let off = read - described;
    if let Some(cut) = cut_already(asked, set_up, read, cylinders) {
        return Some(cut);
    }
    if off.abs() <= HEIGHT_MM && off <= HIGHER_HELD_MM {
        return None;
    }
    // The deck's z in the other unit, the axis as typed.
    let z = deck.iter().map(|p| p[2]).sum::<f64>() / count(deck.len());
    let unit = FACTORS.into_iter().find(|f| {
        let other = (off + z * (f - 1.0)).abs();
        other < 2.0 * HEIGHT_MM && off.abs() > NEARER * other && off.abs() > NEARER
    });
    let (code, verdict, likely) = match unit {
        Some(factor) => (
            Code::WrongUnit,
            Verdict::Hold,
            format!("the deck's z {} ({} it fits)", unit_cause(factor), unit_words(factor)),
        ),
        None => (
            Code::DeckHeight,
            if off.abs() > HEIGHT_HELD_MM || off > HIGHER_HELD_MM { Verdict::Hold } else { Verdict::Go },
            "another stylus or tool length for the deck than for the axis, a deck skimmed far, or another block".into(),
        ),
    };
    Some(Suspicion {
        code,
        verdict,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the deck stands {} above the journal axis, described are {} ({})",
            mm(read, 3),
            before_mm(described, 3),
            signed_before_mm(off, 3)
        ),
        likely: likely.into(),
        ask: "measure the deck's height over the axis by hand: what is it?".into(),
        evidence: figures([("deck_height", read), ("described", described), ("off", off)]),
        cylinders: cylinders.to_vec().into(),
    })
}

/// A deck that stands lower than described by what is still to come off it.
fn cut_already(asked: &Asked<'_>, set_up: &SetUp, read_mm: f64, cylinders: &[u32]) -> Option<Suspicion> {
    let cut = asked.job.engine.deck.cut_mm;
    let described = asked.job.bank(set_up.bank).deck_height_mm;
    (cut >= CUT_MM && (described - read_mm - cut).abs() <= CUT_ALREADY_MM).then(|| Suspicion {
        code: Code::DeckCut,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the deck was read {} lower than described, and `deck.cut` says that {} are still to come off it",
            mm(described - read_mm, 3),
            mm(cut, 3)
        ),
        likely: "the deck was cut before it was read: ledges would be cut deeper by as much, and sleeves sink".into(),
        ask: "has the deck been cut? Then take `deck.cut` out of the job; where it has been before this job, release it by name".into(),
        evidence: figures([("read", read_mm), ("described", described), ("cut", cut)]),
        cylinders: cylinders.to_vec().into(),
    })
}
