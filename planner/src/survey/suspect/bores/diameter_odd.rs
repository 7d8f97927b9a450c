//! One diameter that differs from those of its neighbours: a digit typed wrongly, or a radius.

use crate::survey::custom::SAME_DEPTH_MM;
use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::diameter::HALF;
use super::evidence::{figures, spread};
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::given::Units;
use crate::read::inch::MM_PER_INCH;
use crate::say;
use crate::survey::bore::FoundCircle;
use borewright_geometry::sample::{count, mean, median};

/// A bore narrower than its neighbours by more than this is odd, mm: none wears narrower, and good bores scatter by
/// less. Common practice, no source.
const NARROWER_MM: f64 = 0.30;

/// The most that a liner is wider than its neighbours by wear or reboring, mm. Common practice, no source.
const WIDER_MM: f64 = 4.0;

/// A circle wider than its neighbours by more than this is noted, mm: it may be worn, and should be read again.
/// Common practice, no source.
const WORD_MM: f64 = 0.5;

/// A circle wider by more than this is asked about where two exchanged digits would explain it, mm.
const DIGITS_MM: f64 = 0.5;

/// With the digits put back the diameter lies among the others within this, mm.
const AMONG_MM: f64 = 0.03;

/// Fewer neighbours say nothing.
const FEWEST: usize = 2;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for surface in [Surface::Liner, Surface::Parent, Surface::Sleeve] {
        let of: Vec<&FoundCircle> = asked.circles.iter().filter(|c| c.surface == surface).collect();
        let all = (of.len() > MANY).then(|| close_about(of.iter().map(|c| c.diameter_mm).collect()));
        let single: Vec<Suspicion> =
            (0..of.len()).filter_map(|at| judge(&of, at, all, asked.job.units)).collect();
        let mut whole = whole_bores(&of);
        // One gauge set wrong serves for both rounds, and for more than one bore.
        if let [one] = whole.as_mut_slice() {
            unless_gauged_again(&of, one);
        }
        found.extend(
            whole
                .into_iter()
                .filter(|w| !single.iter().any(|s| s.verdict >= w.verdict && s.cylinders == w.cylinders)),
        );
        found.extend(single);
    }
    found
}

/// Two rounds that gauge a bore alike do so within this, mm. Common practice, no source.
const AGAIN_MM: f64 = 0.012;

/// Makes a note of the question about a bore that another round gauged alike at every depth, and not to the last digit at all of
/// them.
pub(super) fn unless_gauged_again(of: &[&FoundCircle], suspicion: &mut Suspicion) {
    let [cylinder] = *suspicion.cylinders.named() else { return };
    let own = || of.iter().filter(|c| c.cylinder == cylinder);
    // By how much the other round differs there, mm.
    let again = |first: &&FoundCircle| {
        let other = own().find(|other| {
            other.round != first.round
                && other.set_up == first.set_up
                && (other.depth_mm - first.depth_mm).abs() <= SAME_DEPTH_MM
        })?;
        Some((other.diameter_mm - first.diameter_mm).abs()).filter(|apart| *apart <= AGAIN_MM)
    };
    let apart: Option<Vec<f64>> = own().filter(|c| c.planned).map(again).collect();
    if apart.is_some_and(|apart| apart.iter().any(|by| *by > 0.0)) {
        suspicion.verdict = Verdict::Go;
        suspicion.likely =
            "a bore that was lined or bored anew, or a gauge set wrong for both of the rounds that agree"
                .into();
        suspicion.ask = "another gauge on that bore, where there is any doubt".into();
    }
}

/// The one bore that is narrower than all others, and was gauged so again.
pub(super) fn of_another_size(of: &[&FoundCircle]) -> Vec<u32> {
    let mut whole = whole_bores(of);
    match whole.as_mut_slice() {
        [one] => unless_gauged_again(of, one),
        _ => return Vec::new(),
    }
    whole.retain(|suspicion| suspicion.verdict == Verdict::Go);
    whole.into_iter().flat_map(|suspicion| suspicion.cylinders.named().to_vec()).collect()
}

/// Suspicions of bores that are narrower at every depth than every other bore, or in the middle than the narrowest circles of half of
/// the others: no wear does that, and a shop rebores all to one size.
fn whole_bores(of: &[&FoundCircle]) -> Vec<Suspicion> {
    let mut bores: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    for circle in of {
        bores.entry(circle.cylinder).or_default().push(circle.diameter_mm);
    }
    // Each bore with the mean of its circles and the narrowest of them, which wear spares.
    let least_of = |own: &[f64]| own.iter().copied().fold(f64::INFINITY, f64::min);
    let means: Vec<(u32, f64, f64)> =
        bores.iter().filter_map(|(cylinder, own)| Some((*cylinder, mean(own)?, least_of(own)))).collect();
    let judge = |(at, (cylinder, own, _)): (usize, &(u32, f64, f64))| {
        let rest = || means.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, bore)| bore);
        let least = rest().map(|bore| bore.1).min_by(f64::total_cmp)?;
        let alone = least - own > NARROWER_MM;
        // Two that were gauged with one wrong setting bear each other out.
        let mut wider: Vec<f64> =
            rest().map(|bore| bore.2).filter(|least| least - own > NARROWER_MM).collect();
        wider.sort_by(f64::total_cmp);
        let half = wider.len() >= FEWEST && 2 * wider.len() >= rest().count();
        let found = if alone {
            say!(
                "the bore reads {} in diameter at all depths, and no other is narrower than {}",
                mm(*own, 3),
                before_mm(least, 3)
            )
        } else {
            say!(
                "the bore reads {} in diameter, and {} others are no narrower than {}",
                mm(*own, 3),
                wider.len(),
                before_mm(wider.first().copied().unwrap_or(least), 3)
            )
        };
        (rest().count() >= FEWEST && (alone || half)).then(|| Suspicion {
            code: Code::DiameterOdd,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(*cylinder),
            found,
            likely: "a gauge set wrong, or a wrong digit: no bore wears narrower".into(),
            ask: say!(
                "gauge cylinder {cylinder} again, in a round of its own (`set`) at all depths: what is it?"
            ),
            evidence: figures([("diameter", *own), ("others_least", least)]),
            cylinders: vec![*cylinder].into(),
        })
    };
    means.iter().enumerate().filter_map(judge).collect()
}

/// With more circles than this, leaving one out changes neither their middle nor how well half of them agree.
const MANY: usize = 64;

/// The middle of some diameters, and how well half of them agree about it, mm.
fn close_about(diameters: Vec<f64>) -> [f64; 2] {
    let middle = median(diameters.clone());
    [middle, median(diameters.into_iter().map(|d| (d - middle).abs()).collect())]
}

/// One circle against the others; `all` is the middle of all where there are many.
fn judge(of: &[&FoundCircle], at: usize, all: Option<[f64; 2]>, units: Units) -> Option<Suspicion> {
    let own = of[at];
    if let Some([middle, close]) = all {
        // Nearer to the others than any of the questions asks about, so its own bore need not be looked at.
        let least = NARROWER_MM.min(WIDER_MM).min(WORD_MM).min(DIGITS_MM).max(10.0 * close);
        if (own.diameter_mm - middle).abs() <= least {
            return None;
        }
    }
    // Its own bore's other circles, and those of all others at whatever depth.
    let rest: Vec<f64> =
        of.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, c)| c.diameter_mm).collect();
    if rest.len() < FEWEST {
        return None;
    }
    // Half of the neighbours agree so well; the others may be worn.
    let [middle, close] = all.unwrap_or_else(|| close_about(rest.clone()));
    // Its own bore may be another size: bored over, or a sleeve's.
    let bore: Vec<f64> = of
        .iter()
        .enumerate()
        .filter(|(i, c)| *i != at && c.cylinder == own.cylinder)
        .map(|(_, c)| c.diameter_mm)
        .collect();
    let from_bore = bore.iter().map(|d| own.diameter_mm - d).min_by(|a, b| a.abs().total_cmp(&b.abs()));
    let off = own.diameter_mm - middle;
    // A size that another depth of the same bore confirms is no slip in one cell; one narrower than the middle of its bore is by one
    // depth not confirmed, which may have slipped likewise.
    let from_middle = Some(own.diameter_mm - median(bore.clone())).filter(|_| !bore.is_empty());
    let from_bore = if off < 0.0 { from_middle } else { from_bore };
    let off = from_bore.map_or(off, |own| if own.abs() < off.abs() { own } else { off });
    let half = (2.0 * own.diameter_mm / middle - 1.0).abs() < HALF;
    let digits = swapped(own.diameter_mm, middle, AMONG_MM.max(2.0 * close), units);
    let held = half
        || off < -NARROWER_MM.max(10.0 * close)
        || off > WIDER_MM.max(10.0 * close)
        || (digits.is_some() && off.abs() > DIGITS_MM.max(10.0 * close));
    if !held && off <= WORD_MM.max(10.0 * close) {
        return None;
    }
    let n = own.cylinder;
    let likely = match digits {
        _ if half => "a radius typed for a diameter".to_owned(),
        Some(meant) => format!("two digits exchanged: {meant} would be among them"),
        None if held => "a wrong digit".to_owned(),
        None => "ring-travel wear, or a wrong digit".to_owned(),
    };
    let most = spread(&rest, middle);
    Some(Suspicion {
        code: Code::DiameterOdd,
        verdict: if held { Verdict::Hold } else { Verdict::Go },
        subject: Subject::cylinder(n),
        found: say!(
            "a diameter of {} at depth {} on the {}, where the others are about {}",
            mm(own.diameter_mm, 3),
            mm(own.depth_mm, 1),
            own.surface.word(),
            before_mm(middle, 3)
        ),
        likely: likely.into(),
        ask: say!("gauge cylinder {n} at depth {} again: what is it?", mm(own.depth_mm, 1)),
        evidence: figures([
            ("diameter", own.diameter_mm),
            ("others", middle),
            ("off", off),
            ("others_farthest", most),
            ("circles", count(of.len())),
        ]),
        cylinders: vec![n].into(),
    })
}

/// Two neighbouring digits exchanged, in the unit that the job is typed in, that bring a diameter among the others.
fn swapped(typed_mm: f64, middle_mm: f64, within_mm: f64, units: Units) -> Option<String> {
    let (unit_mm, decimals, unit) = match units {
        Units::Mm => (1.0, 3, "mm"),
        Units::In => (MM_PER_INCH, 4, "in"),
    };
    let text = format!("{:.decimals$}", typed_mm / unit_mm);
    let digits: Vec<char> = text.chars().collect();
    let places: Vec<usize> = (0..digits.len()).filter(|i| digits[*i].is_ascii_digit()).collect();
    // Neighbours, and those with one digit between, as 4.3094 for 4.0394.
    for (k, first) in places.iter().enumerate() {
        for second in places.iter().skip(k + 1).take(2) {
            let mut other = digits.clone();
            other.swap(*first, *second);
            let other: String = other.into_iter().collect();
            let mm = other.parse::<f64>().ok()? * unit_mm;
            if other != text && (mm - middle_mm).abs() < within_mm {
                return Some(format!("{other} {unit}"));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn circle(cylinder: u32, depth_mm: f64, diameter_mm: f64) -> FoundCircle {
        FoundCircle {
            cylinder,
            bank: 0,
            set_up: 0,
            depth_mm,
            centre_mm: [60.0, 0.0],
            diameter_mm,
            surface: Surface::Liner,
            set: None,
            round: 0,
            planned: true,
            roundness_mm: None,
            metal_mm: [0.0; 2],
            u_mm: 0.003,
            gap_deg: None,
        }
    }

    fn told(odd: f64, units: Units) -> Option<Suspicion> {
        let mut of: Vec<FoundCircle> =
            (1..=4).flat_map(|n| [20.0, 70.0].map(|d| circle(n, d, 102.6 + 0.003 * f64::from(n)))).collect();
        of[3].diameter_mm = odd;
        let of: Vec<&FoundCircle> = of.iter().collect();
        judge(&of, 3, None, units)
    }

    #[test]
    fn digits_exchanged_and_a_radius_are_told_and_wear_is_believed() {
        // 4.3094 in for 4.0394 in.
        let s = told(4.3094 * 25.4, Units::In).unwrap();
        assert!(s.likely.contains("4.0394 in"), "{s:?}");
        // In a job in mm the figure was not typed so.
        let told = |odd| told(odd, Units::Mm);
        assert!(!told(4.3094 * 25.4).unwrap().likely.contains("exchanged"));
        assert!(told(51.3).unwrap().likely.contains("radius"));
        assert!(told(102.1).is_some());
        assert!(told(102.95).is_none());
        // Ring-travel wear of a ruined bore, which no exchange of digits explains.
        assert_eq!(told(105.45).unwrap().verdict, Verdict::Go);
    }

    #[test]
    fn two_depths_of_a_lone_bore_that_read_narrower_do_not_confirm_each_other() {
        let held = |diameters: [f64; 4]| {
            let of: Vec<FoundCircle> =
                (1..=4_u32).zip(diameters).map(|(k, d)| circle(1, 25.0 * f64::from(k), d)).collect();
            let of: Vec<&FoundCircle> = of.iter().collect();
            (0..4).filter_map(|at| judge(&of, at, None, Units::Mm)).any(|s| s.verdict == Verdict::Hold)
        };
        assert!(held([96.005, 96.002, 94.003, 94.001]));
        assert!(!held([96.305, 96.002, 96.003, 96.001]));
        assert!(!held([96.25, 96.20, 96.003, 96.001]));
    }
}
