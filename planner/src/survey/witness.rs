//! The parent hole's centre from the arcs of iron that the cuts have left: crude, and independent of every probe.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use borewright_geometry::{ArcLeft, fit_shell};
use serde::Serialize;

use super::Survey;
use super::suspect::Suspicion;
use crate::job::words;
use crate::job::{Job, WitnessReading};
use crate::plan::rounding;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::sample::count;

/// An arc is read to this, degrees: some 4 mm along the wall. Common practice, no source.
const ARC_WITHIN_DEG: f64 = 5.0;

/// A value of which nothing is known but its bounds +-a has a standard uncertainty of a over this (JCGM 100:2008,
/// 4.3.7).
const BOUNDS_TO_U: f64 = 1.732_050_807_568_877_2;

/// A parent hole found farther from where it was taken to be is explained before the pocket is finished, mm.
/// Common practice, no source.
const EXPLAIN_MM: f64 = 0.10;

/// Arcs of one bore that point farther apart than this cannot be of one shell, degrees: three standard
/// uncertainties of a difference of two middles.
const APART_DEG: f64 = 12.0;

/// One arc tells how far off the shell stands only where it ends well off the middle: cos a of 84 degrees.
const LEAST_COS: f64 = 0.1;

/// An arc longer than this is iron all round, degrees.
const ALL_ROUND_DEG: f64 = 300.0;

/// A cut wider than the liner's outside by this a side cannot have iron all round, mm. Common practice, no source.
const BEYOND_MM: f64 = 0.1;

/// How much larger than described two cuts must show the liner's outside to hold, mm, since iron would be left
/// where the sleeve stands; and how many of its standard uncertainties. Common practice, no source.
const LARGER_MM: f64 = 0.25;
const LARGER_SIGMAS: f64 = 3.0;

/// What one bore's arcs say.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WitnessCentre {
    /// The cylinder.
    pub cylinder: u32,
    /// Where it was looked at, mm below the deck.
    pub depth: f64,
    /// How many cuts.
    pub cuts: usize,
    /// The clock that the iron is centred on, degrees.
    pub clock: f64,
    /// How far the shell's centre stands off the cuts' centre, mm, where that can be told.
    pub apart: Option<f64>,
    /// Standard uncertainty of `apart`, mm.
    pub u: Option<f64>,
    /// Outside diameter of the shell, mm, from two cuts or more.
    pub outside: Option<f64>,
    /// Standard uncertainty of `outside`, mm.
    pub outside_u: Option<f64>,
    /// The parent hole's centre, in the bank, mm.
    pub centre: Option<[f64; 2]>,
    /// How far `centre` is from where the hole was taken to be, mm.
    pub differs: Option<f64>,
    /// Whether it must be explained before the pocket is finished.
    pub explain: bool,
    /// What the arcs say, in words.
    pub text: Sentence,
}

/// Every bore whose arcs were read. `cut_at` is where a cylinder's cut stands at a depth unless a row says
/// otherwise, mm.
pub(crate) fn witness(
    job: &Job,
    survey: &Survey,
    cut_at: &dyn Fn(u32, f64) -> Option<[f64; 2]>,
) -> Vec<WitnessCentre> {
    type Key = (u32, u64, Option<[u64; 2]>);
    let mut groups: BTreeMap<Key, Vec<&WitnessReading>> = BTreeMap::new();
    for reading in job.set_ups.iter().flat_map(|s| &s.witness) {
        let at = reading.centre_mm.map(|c| c.map(f64::to_bits));
        groups.entry((reading.cylinder, reading.depth_mm.abs().to_bits(), at)).or_default().push(reading);
    }
    let found = groups.into_values().filter_map(|rows| {
        let cut_mm = rows[0].centre_mm.or_else(|| cut_at(rows[0].cylinder, rows[0].depth_mm))?;
        bore(job, survey, &rows, cut_mm)
    });
    found.collect()
}

/// Degrees from `from` to `to`, counted towards +Y.
fn arc_deg([from, to]: [f64; 2]) -> f64 {
    (to - from).rem_euclid(360.0)
}

/// The parent hole's centre of one bore at one depth, from the arcs in `rows` (one at least) of cuts about
/// `cut_mm`; `None` where a single arc meets no described liner.
fn bore(job: &Job, survey: &Survey, rows: &[&WitnessReading], cut_mm: [f64; 2]) -> Option<WitnessCentre> {
    let (cylinder, depth) = (rows[0].cylinder, rows[0].depth_mm);
    let middles: Vec<f64> =
        rows.iter().map(|r| (r.arc_deg[0] + arc_deg(r.arc_deg) / 2.0).to_radians()).collect();
    let (sin, cos) = middles.iter().fold((0.0, 0.0), |(s, c), m| (s + m.sin(), c + m.cos()));
    let clock = sin.atan2(cos);
    let off = |m: &f64| (m - clock).sin().atan2((m - clock).cos()).abs().to_degrees();
    let scattered = middles.iter().map(off).fold(0.0, f64::max) > APART_DEG;
    let u_arc = (ARC_WITHIN_DEG / BOUNDS_TO_U).to_radians();
    let cuts: Vec<ArcLeft> = rows
        .iter()
        .map(|r| ArcLeft { cut_mm: r.diameter_mm / 2.0, arc_rad: arc_deg(r.arc_deg).to_radians() })
        .collect();
    let described = job.block.parent.liner.as_ref().map(|l| l.outside_mm / 2.0);
    // Beyond the described outside iron is left on the side that the shell stands off to, and on no more than half
    // of the cut.
    let half = 180.0 + 2.0 * ARC_WITHIN_DEG;
    let all_round = |w: &&&WitnessReading| arc_deg(w.arc_deg) > ALL_ROUND_DEG;
    let over_half = |w: &&&WitnessReading| arc_deg(w.arc_deg) > half && rows.len() == 1;
    let beyond = described.is_some_and(|r| {
        rows.iter().filter(|w| all_round(w) || over_half(w)).any(|w| w.diameter_mm / 2.0 > r + BEYOND_MM)
    });
    // Within the described outside iron is left all round, or where the shell stands off by more than the cut lacks: on no less
    // than half of the cut.
    let least = 180.0 - 2.0 * ARC_WITHIN_DEG;
    let within = described.is_some_and(|r| {
        rows.len() == 1
            && rows.iter().any(|w| w.diameter_mm / 2.0 < r - BEYOND_MM && arc_deg(w.arc_deg) < least)
    });
    let (apart, outside) = match cuts.as_slice() {
        [one] => {
            (one_arc(one.cut_mm, one.arc_rad, described?, u_arc, job.instruments.diameter_mm / 2.0), None)
        }
        _ => {
            let fit = fit_shell(&cuts, u_arc);
            (fit.map(|f| (f.apart_mm, f.u_apart_mm)), fit.map(|f| (2.0 * f.outside_mm, 2.0 * f.u_outside_mm)))
        }
    };
    let larger = outside
        .zip(described)
        .is_some_and(|((outside, u), r)| outside - 2.0 * r > LARGER_MM.max(LARGER_SIGMAS * u));
    let centre = apart.map(|(e, _)| [cut_mm[0] + e * clock.cos(), cut_mm[1] + e * clock.sin()]);
    let taken = survey.cylinders.get(&cylinder).map(|c| (c.bank, c.parent(job, depth).centre_mm));
    let away = centre.zip(taken).map(|(c, (bank, t))| (bank, [c[0] - t[0], c[1] - t[1]]));
    let differs = away.map(|(_, d)| d[0].hypot(d[1]));
    let round = rounding::plan;
    let mut found = WitnessCentre {
        cylinder,
        depth,
        cuts: rows.len(),
        clock: round(clock.to_degrees().rem_euclid(360.0)),
        apart: apart.map(|a| round(a.0)),
        u: apart.map(|a| round(a.1)),
        outside: outside.map(|o| round(o.0)),
        outside_u: outside.map(|o| round(o.1)),
        centre: centre.map(|c| c.map(round)),
        differs: differs.map(round),
        explain: scattered
            || beyond
            || within
            || larger
            || apart.is_none() && cuts.len() > 1
            || differs.is_some_and(|d| d > EXPLAIN_MM),
        text: String::new().into(),
    };
    // Uncertainty of the centre round the cut, from that of the arcs' middle: each end of an arc is read as well as
    // its length.
    let u_round = apart.map(|(e, _)| e * u_arc / 2.0 / count(rows.len()).sqrt());
    found.text = sentence(job, &found, scattered, described, away, u_round);
    if beyond {
        found.text.push(". Iron on over half of a cut wider than the liner's outside: the liner is larger than described, and the walls behind it are thinner");
    } else if within {
        found.text.push(". Iron on less than half of a cut narrower than the liner's outside: the liner is smaller than described, or the cut another");
    } else if larger {
        found.text.push(". The liner is larger than described: a sleeve that was to clean it up may leave iron, and the walls behind it are thinner");
    }
    Some(found)
}

/// How far a shell of a described radius stands off, from one arc: e = (r - R) / cos a.
fn one_arc(r: f64, arc: f64, outside: f64, u_arc: f64, u_outside: f64) -> Option<(f64, f64)> {
    let (sin, cos) = (arc / 2.0).sin_cos();
    let apart = (r - outside) / cos;
    let u = (u_outside / cos).hypot(apart * sin / cos * u_arc / 2.0);
    (cos.abs() >= LEAST_COS && apart > 0.0).then_some((apart, u))
}

/// What the arcs say, in words. `described` is the liner's outside radius, mm; `away` the bank and how far the
/// centre stands from where it was taken to be, mm; `u_round` the centre's u across the arcs' middle, mm.
fn sentence(
    job: &Job,
    w: &WitnessCentre,
    scattered: bool,
    described: Option<f64>,
    away: Option<(usize, [f64; 2])>,
    u_round: Option<f64>,
) -> Sentence {
    let mut text = say!("{} {}", w.cuts, if w.cuts == 1 { "cut" } else { "cuts" });
    if scattered {
        text.push(" whose iron is centred on different clocks: of another bore, or cut about another centre");
        return text;
    }
    let (Some(apart), Some(u)) = (w.apart, w.u) else {
        let rest = if w.cuts == 1 {
            say!(": the iron is centred on clock {:.0}; how far off it stands takes a second cut", w.clock)
        } else {
            ", the larger with more iron: of another bore, or a wrong diameter".into()
        };
        return Sentence::join([text, rest], "");
    };
    // As many digits as the uncertainty carries.
    let digits = |u: f64| if u < 0.01 { 3 } else { 2 };
    let d = digits(u);
    text.push(say!(
        ": the parent hole's centre stands {} towards clock {:.0} from the cut's (u {}, and \
             {} round)",
        mm(apart, d),
        w.clock,
        mm(u, d),
        mm(u_round.unwrap_or(0.0), d)
    ));
    match (w.outside, w.outside_u, described) {
        (Some(outside), Some(u), Some(described)) => {
            let d = digits(u);
            text.push(say!(
                "; the liner's outside {} (u {}), described {}",
                mm(outside, d),
                mm(u, d),
                mm(2.0 * described, 2)
            ));
        }
        (Some(outside), Some(u), None) => {
            text.push(say!("; the liner's outside {} (u {})", mm(outside, 2), mm(u, 2)))
        }
        _ => text.push("; one cut only, the liner's outside taken as described"),
    }
    if let (Some(differs), Some((bank, by))) = (w.differs, away) {
        text.push(say!(
            "; that is {} from where it was taken to be ({})",
            mm(differs, 2),
            words::offset(job, bank, by)
        ));
        text.push(if w.explain {
            ": explain it before the pocket is finished"
        } else {
            ", within what such a reading is good for"
        });
    }
    text
}

/// Arcs that tell of another hole than the one planned with.
pub(crate) fn suspicions(found: &[WitnessCentre]) -> Vec<Suspicion> {
    let told = found.iter().filter(|w| w.explain);
    told.map(|w| Suspicion {
        code: Code::WitnessDiffers,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(w.cylinder),
        found: w.text.clone(),
        likely: "a sign or a bore exchanged, a cut about another centre than planned, or a parent hole that does not share the \
                 liner's centre"
            .into(),
        ask: "explain it before the pocket is finished: map the bare parent hole once the iron is out, as `surface: parent`"
            .into(),
        evidence: [("differs", w.differs), ("apart", w.apart), ("clock", Some(w.clock))]
            .into_iter()
            .filter_map(|(name, value)| value.map(|v| (name, v)))
            .collect(),
        cylinders: vec![w.cylinder].into(),
    })
    .collect()
}
