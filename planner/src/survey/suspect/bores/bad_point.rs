//! Probe points off their circle: a chip, a slip of the stylus, a wrong digit; and circles that no bore is.

use crate::survey::suspect::Code;
use borewright_geometry::{Circle, fit_circle};

use super::evidence::{FACTORS, figures, unit_cause};
use super::{Asked, Suspicion};
use crate::job::PointReading;
use crate::plan::sentence::{Sentence, before_mm, mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bores::point_groups;
use borewright_geometry::sample::count;

/// Fewer points cannot say which of them is off: an oval bore looks alike. Six leave an oval three times the
/// share of what one bad point leaves.
const TELLING: usize = 6;

/// A point off by less than this is not asked about, mm.
const LEAST_MM: f64 = 0.02;

/// Of four or five points: a residual above this, mm, is more than a worn bore's oval. Common practice, no source.
const OVAL_MM: f64 = 0.03;

/// What is left without the point must be this small a share of how far it is off. A pure oval of six points
/// leaves 0.22 or more, of eight 0.36.
const SHARE: f64 = 0.2;

/// How many points, those farthest off, are left out in turn.
const MOST_TRIED: usize = 16;

/// Two points, both inwards, are told where there are so many: of fewer an oval looks alike, and wear leaves nothing standing inwards.
const TELLING_TWO: usize = 8;

/// Each of two is off by this at least, mm. Common practice, no source.
const TWO_MM: f64 = 0.10;
/// What is left without the two is this small a share of it. Common practice, no source.
const SHARE_OF_TWO: f64 = 0.1;

/// How many points, those farthest off, are left out two by two.
const MOST_PAIRED: usize = 8;

/// A circle farther out of round than this, peak to valley, is no bore, mm: a worn one is by up to 0.15. Common practice, no source.
const OUT_OF_ROUND_MM: f64 = 0.20;

/// Standard uncertainties of a point that it must be off by.
const SIGMAS: f64 = 6.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked
        .job
        .set_ups
        .iter()
        .flat_map(|s| point_groups(&s.points))
        .filter_map(|group| judge(asked.job.instruments.centre_mm, &group))
        .collect()
}

fn judge(centre_u_mm: f64, group: &[&PointReading]) -> Option<Suspicion> {
    let points: Vec<[f64; 2]> = group.iter().map(|p| p.at_mm).collect();
    let all = fit_circle(&points).ok()?;
    // A centre's uncertainty is a point's times the root of 2/n.
    let u = centre_u_mm * (count(points.len()) / 2.0).sqrt();
    let least = LEAST_MM.max(SIGMAS * u);
    match points.len() {
        0..=3 => None,
        4 | 5 => cannot_tell(group, &points, &all, OVAL_MM.max(SIGMAS * u)),
        _ => named(group, &points, &all, least)
            .or_else(|| two(group, &points, &all, TWO_MM.max(SIGMAS * u)))
            .or_else(|| out_of_round(group, &all, OUT_OF_ROUND_MM.max(SIGMAS * u))),
    }
}

/// Two points that both lie inwards of the circle of the rest. `all` is the circle through every point, `least` how far off each must be,
/// mm.
fn two(group: &[&PointReading], points: &[[f64; 2]], all: &Circle, least: f64) -> Option<Suspicion> {
    let mut far: Vec<(usize, f64)> = all.residuals_mm(points).into_iter().map(f64::abs).enumerate().collect();
    far.sort_by(|a, b| b.1.total_cmp(&a.1));
    // Two that drag the circle towards them still leave some point half as far off as they are.
    if points.len() < TELLING_TWO || far.first()?.1 < least / 4.0 {
        return None;
    }
    far.truncate(MOST_PAIRED);
    let pairs = far.iter().enumerate().flat_map(|(k, a)| far[k + 1..].iter().map(move |b| [a.0, b.0]));
    let mut tried: Vec<([usize; 2], [f64; 2], f64)> = pairs
        .filter_map(|pair| {
            let rest: Vec<[f64; 2]> =
                points.iter().enumerate().filter(|(i, _)| !pair.contains(i)).map(|(_, p)| *p).collect();
            let circle = fit_circle(&rest).ok()?;
            let off = circle.residuals_mm(&pair.map(|i| points[i]));
            let left = circle.residuals_mm(&rest).into_iter().map(f64::abs).fold(0.0, f64::max);
            Some((pair, [*off.first()?, *off.get(1)?], left))
        })
        .collect();
    tried.sort_by(|a, b| a.2.total_cmp(&b.2));
    let [(pair, off, left), (.., next), ..] = tried.as_slice() else { return None };
    let nearer = off[0].max(off[1]);
    if -nearer < least || *left > SHARE_OF_TWO * -nearer || 2.0 * left > *next {
        return None;
    }
    let first = group.first()?;
    let mut numbers = pair.map(|i| i + 1);
    numbers.sort_unstable();
    Some(Suspicion {
        code: Code::BadPoint,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(first.cylinder),
        found: say!(
            "at depth {}, points {} and {} of {} (in the table's order) lie {} or more inwards of the circle of the rest, which leaves {}",
            mm(first.depth_mm, 1),
            numbers[0],
            numbers[1],
            points.len(),
            mm(-nearer, 3),
            mm(*left, 3)
        ),
        likely: "chips or dirt under the stylus, or wrong digits".into(),
        ask: probe_again(first),
        evidence: figures([
            ("points", count(points.len())),
            ("off", nearer),
            ("left_without_them", *left),
            ("diameter_with_them", 2.0 * all.radius_mm),
        ]),
        cylinders: vec![first.cylinder].into(),
    })
}

/// What is asked about a circle's points: a second set beside the first would be judged together with it.
fn probe_again(first: &PointReading) -> Sentence {
    say!(
        "clean cylinder {} at depth {} and probe it again, in the place of its old rows",
        first.cylinder,
        mm(first.depth_mm, 1)
    )
}

/// A circle that is farther out of round than bores are.
fn out_of_round(group: &[&PointReading], all: &Circle, most: f64) -> Option<Suspicion> {
    let first = group.first().filter(|_| all.roundness_mm > most)?;
    Some(Suspicion {
        code: Code::BadPoint,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(first.cylinder),
        found: say!(
            "at depth {} its {} points lie {} out of round, and a worn bore is by no more than {}",
            mm(first.depth_mm, 1),
            group.len(),
            mm(all.roundness_mm, 3),
            mm(most, 2)
        ),
        likely: "points of another bore, depth or unit, dirt under the stylus, or a bore that is no circle"
            .into(),
        ask: probe_again(first),
        evidence: figures([
            ("points", count(group.len())),
            ("out_of_round", all.roundness_mm),
            ("diameter", 2.0 * all.radius_mm),
        ]),
        cylinders: vec![first.cylinder].into(),
    })
}

/// The circle without one point, how far that point lies from it, and the largest residual of the rest.
fn without(points: &[[f64; 2]], index: usize) -> Option<(Circle, f64, f64)> {
    let rest: Vec<[f64; 2]> =
        points.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, p)| *p).collect();
    let circle = fit_circle(&rest).ok()?;
    let off = circle.residuals_mm(&points[index..=index]).first().copied()?;
    let left = circle.residuals_mm(&rest).into_iter().map(f64::abs).fold(0.0, f64::max);
    Some((circle, off, left))
}

/// The one point without which the rest of a circle agrees; `None` where none stands out, or leaving out another
/// helps as much. `all` is the circle through every point, `least` how far off a point must be, mm.
fn named(group: &[&PointReading], points: &[[f64; 2]], all: &Circle, least: f64) -> Option<Suspicion> {
    debug_assert!(points.len() >= TELLING);
    // A bad point lies farthest off the circle of all; leaving out any other leaves it in.
    let mut far: Vec<(usize, f64)> = all.residuals_mm(points).into_iter().map(f64::abs).enumerate().collect();
    far.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut tried: Vec<(usize, Circle, f64, f64)> = far
        .into_iter()
        .take(MOST_TRIED)
        .map(|(i, _)| i)
        .filter_map(|i| without(points, i).map(|(circle, off, left)| (i, circle, off, left)))
        .collect();
    tried.sort_by(|a, b| a.3.total_cmp(&b.3));
    let [(index, circle, off, left), (_, _, _, next), ..] = tried.as_slice() else { return None };
    if off.abs() < least || *left > SHARE * off.abs() || 2.0 * left > *next {
        return None;
    }
    let first = group.first()?;
    let at = points[*index];
    let from = [0, 1].map(|k| at[k] - circle.centre_mm[k]);
    let clock = from[1].atan2(from[0]).to_degrees().rem_euclid(360.0);
    let moved = (all.centre_mm[0] - circle.centre_mm[0]).hypot(all.centre_mm[1] - circle.centre_mm[1]);
    // One coordinate in the other unit would lie on the circle.
    let unit = (0..2).flat_map(|k| FACTORS.map(|f| (k, f))).find(|(k, factor)| {
        let mut other = at;
        other[*k] *= factor;
        circle
            .residuals_mm(&[other])
            .first()
            .is_some_and(|r| r.abs() * super::evidence::NEARER < off.abs() && r.abs() < 0.1)
    });
    let likely = match unit {
        Some((k, factor)) => format!("its {} {}", ["x", "y"][k], unit_cause(factor)),
        None if *off < 0.0 => "a chip or dirt under the stylus, or a wrong digit".into(),
        None => "a hollow, a slip of the stylus, or a wrong digit".into(),
    };
    Some(Suspicion {
        code: if unit.is_some() { Code::WrongUnit } else { Code::BadPoint },
        verdict: Verdict::Hold,
        subject: Subject::cylinder(first.cylinder),
        found: say!(
            "at depth {}, point {} of {} (in the table's order, clock {clock:.0} in the set-up) lies {} \
             off the circle of the rest, which leaves {}; with it the centre moves {} and the diameter reads \
             {} for {}",
            mm(first.depth_mm, 1),
            index + 1,
            points.len(),
            signed_mm(*off, 3),
            before_mm(*left, 3),
            before_mm(moved, 3),
            before_mm(2.0 * all.radius_mm, 3),
            before_mm(2.0 * circle.radius_mm, 3)
        ),
        likely: likely.into(),
        ask: probe_again(first),
        evidence: figures([
            ("point", count(index + 1)),
            ("points", count(points.len())),
            ("clock", clock),
            ("off", *off),
            ("left_without_it", *left),
            ("centre_moves", moved),
            ("diameter_with_it", 2.0 * all.radius_mm),
            ("diameter_without_it", 2.0 * circle.radius_mm),
        ]),
        cylinders: vec![first.cylinder].into(),
    })
}

fn cannot_tell(group: &[&PointReading], points: &[[f64; 2]], all: &Circle, least: f64) -> Option<Suspicion> {
    let worst = all.residuals_mm(points).into_iter().map(f64::abs).fold(0.0, f64::max);
    let first = group.first().filter(|_| worst > least)?;
    Some(Suspicion {
        code: Code::BadPoint,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(first.cylinder),
        found: say!(
            "at depth {} the {} points lie up to {} off their circle; so few cannot say which of them is \
             wrong, or whether the bore is oval",
            mm(first.depth_mm, 1),
            points.len(),
            mm(worst, 3)
        ),
        likely: "one bad point (a chip, a slip), or a badly oval bore".into(),
        ask: say!(
            "probe cylinder {} at depth {} again with eight points, in the place of its old rows",
            first.cylinder,
            mm(first.depth_mm, 1)
        ),
        evidence: figures([
            ("points", count(points.len())),
            ("worst_residual", worst),
            ("diameter", 2.0 * all.radius_mm),
        ]),
        cylinders: vec![first.cylinder].into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Surface;

    /// Points round a circle of 50.5 about (170, 0), each `off` it by clock.
    fn judged(n: u32, off: impl Fn(f64) -> f64) -> Option<Suspicion> {
        let points: Vec<PointReading> = (0..n)
            .map(|i| {
                let clock = 360.0 / f64::from(n) * f64::from(i);
                let (sin, cos) = clock.to_radians().sin_cos();
                let r = 50.5 + off(clock);
                PointReading {
                    cylinder: 3,
                    depth_mm: 70.0,
                    at_mm: [170.0 + r * cos, r * sin],
                    surface: Surface::Liner,
                    set: None,
                    line: 0,
                }
            })
            .collect();
        judge(0.003, &points.iter().collect::<Vec<_>>())
    }

    fn chip(clock: f64) -> f64 {
        if (clock - 90.0).abs() < 1.0 { -0.150 } else { 0.0 }
    }

    #[test]
    fn eight_points_name_the_bad_one_and_four_cannot() {
        let told = judged(8, chip).unwrap();
        assert_eq!(told.evidence["point"], 3.0);
        assert!((told.evidence["off"] + 0.150).abs() < 1e-4, "{told:?}");
        assert!(judged(4, chip).unwrap().found.contains("cannot say which"));
        assert!(judged(3, chip).is_none());
    }

    #[test]
    fn scatter_lobes_and_a_small_chip_raise_nothing() {
        for lobes in [2.0, 3.0, 4.0] {
            for phase in 0..24_u32 {
                let wave = |clock: f64| 0.06 * (lobes * clock.to_radians() + 0.26 * f64::from(phase)).cos();
                assert!(judged(8, wave).is_none(), "{lobes} {phase}");
                assert!(lobes > 2.5 || judged(6, wave).is_none(), "{lobes} {phase}");
            }
        }
        assert!(judged(8, |c| chip(c) / 10.0).is_none());
    }

    #[test]
    fn a_coordinate_in_inches_is_named_so() {
        let told = judged(8, |_| 0.0);
        assert!(told.is_none());
        // The rearmost point's x, 220.5, typed as 8.681.
        let mut points: Vec<PointReading> = Vec::new();
        for i in 0..8_u32 {
            let (sin, cos) = (45.0 * f64::from(i)).to_radians().sin_cos();
            let x = 170.0 + 50.5 * cos;
            let typed = if i == 0 { x / 25.4 } else { x };
            let at_mm = [typed, 50.5 * sin];
            points.push(PointReading {
                cylinder: 3,
                depth_mm: 70.0,
                at_mm,
                surface: Surface::Liner,
                set: None,
                line: 0,
            });
        }
        let told = judge(0.003, &points.iter().collect::<Vec<_>>()).unwrap();
        assert_eq!(told.code, Code::WrongUnit);
        assert!(told.likely.contains("x read in inches"), "{told:?}");
    }
}
