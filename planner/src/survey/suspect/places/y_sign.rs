//! The sign of y of one bank: the block's roll makes both banks lean alike, and one typed with the other sign leans
//! against.

use super::evidence::figures;
use super::lines::{lines, mean_tilt};
use super::{Asked, Suspicion};
use crate::job::{Aim, ReadingFrame};
use crate::plan::sentence::{signed_before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// The least lean of a bank that shows a side, mm per mm. Common practice, no source.
const LEAST: f64 = 0.000_15;

/// Each bank's lean must be this many times its own standard uncertainty from the bores' scatter.
const SIGMAS: f64 = 4.5;

/// Banks bored off by an included angle lean just against each other too, each by no more than this, mm per mm:
/// what an index head was set wrong by. Common practice, no source.
const BY_ANGLE: f64 = 0.000_8;

/// A machine's zero farther across from the journal axis tells the sign by itself, mm.
const TELLS_MM: f64 = 1.0;

/// With one sign turned about, the two leans agree within this share of them. Common practice, no source.
const SHARE: f64 = 0.3;

/// Asks about two banks that lean across by as much against each other, which a roll of the block cannot do;
/// nothing where two bores a bank were not read at several depths, or the machine's zero tells the sign.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks = lines(asked.job, asked.circles);
    let [one, other] = banks.as_slice() else { return Vec::new() };
    let Some([a, b]) = mean_tilt(&one.lines).zip(mean_tilt(&other.lines)).map(|(a, b)| [a[1], b[1]]) else {
        return Vec::new();
    };
    let tilts = |lines: &[super::lines::Line]| -> Vec<f64> {
        lines.iter().filter_map(|l| l.tilt.map(|t| t[1])).collect()
    };
    let (of_one, of_other) = (tilts(&one.lines), tilts(&other.lines));
    if of_one.len() < 2 || of_other.len() < 2 {
        return Vec::new();
    }
    let squares = |tilts: &[f64]| {
        let mean = tilts.iter().sum::<f64>() / count(tilts.len());
        tilts.iter().map(|t| (t - mean).powi(2)).sum::<f64>()
    };
    let free = count(of_one.len() + of_other.len() - 2);
    let scatter = ((squares(&of_one) + squares(&of_other)) / free).sqrt();
    let least = |n: usize| LEAST.max(SIGMAS * scatter / count(n).sqrt());
    let lean = a.abs() > least(of_one.len()) && b.abs() > least(of_other.len());
    if !lean || a * b > 0.0 || (a + b).abs() > SHARE * (a.abs() + b.abs()) / 2.0 {
        return Vec::new();
    }
    // Where the machine's zero is well aside of the journal axis, a bank with the wrong sign would lie beside the
    // axis, so the zero tells the sign.
    let told_by_zero = |bank: usize| {
        asked.job.set_ups.iter().filter(|s| s.bank == bank).any(|s| match &s.frame {
            ReadingFrame::Machine(read) => {
                let points = read.axis.iter().chain(&read.mains);
                points.map(|p| p.at_mm[1].abs()).fold(f64::INFINITY, f64::min) > TELLS_MM
                    && !(read.axis.is_empty() && read.mains.is_empty())
            }
            ReadingFrame::Journal => false,
        })
    };
    if told_by_zero(one.bank) && told_by_zero(other.bank) {
        return Vec::new();
    }
    // Where the cut follows the journal axis, a wrong side shows at the first cut, so a note will do.
    let by_angle = a.abs().max(b.abs()) <= BY_ANGLE && asked.job.aim == Aim::Journal;
    let name = |bank: usize| plain(&asked.job.bank(bank).name, 40);
    vec![Suspicion {
        code: Code::YSign,
        verdict: if by_angle { Verdict::Go } else { Verdict::Hold },
        subject: Subject::whole("block"),
        found: say!("the bores lean {} over 100 across in the bank {} and {} in the bank {}: just against each \
             other, where one fixture leans both alike", signed_mm(100.0 * a, 3), name(one.bank), signed_before_mm(100.0 * b, 3), name(other.bank)),
        likely: if by_angle {
            "an included angle that was bored off, or y of one bank counted the other way: the first cut shows which".into()
        } else {
            "y of one bank counted the other way, its sign dropped or added throughout".into()
        },
        ask: "to which side does Y count in each set-up? +Y is the engine's right seen from the flywheel end in both banks; touch a bore's wall on that side and read Y".into(),
        evidence: figures([("lean_over_100", 100.0 * a), ("other_over_100", 100.0 * b)]),
        cylinders: banks.iter().flat_map(|b| &b.lines).map(|l| l.cylinder).collect(),
    }]
}
