//! A whole bank that stands off: the journal axis or the along datum of its set-up, or the block.

use super::evidence::figures;
use super::lines::{BankLines, Line, lines, mean_tilt};
use super::{Asked, Suspicion};
use crate::plan::sentence::signed_mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, median};

/// A bank stands this far off, and from the other, before its datum is asked about, mm. Both as its bores' own axes
/// pass the journal axis, where the fixture's roll, pitch and yaw are nothing. Common practice, no source.
const APART_MM: f64 = 0.45;

/// How far a bank stands off before its datum is asked about where nothing says how the bores lean, or no other
/// bank stands by, mm. Common practice, no source.
const ALONE_MM: f64 = 0.60;

/// A bank's figure must be this many times its own standard uncertainty from the bores' scatter.
const SIGMAS: f64 = 6.0;

/// Where a bank's bores pass the journal axis.
struct Stands<'l> {
    bank: &'l BankLines,
    off_mm: [f64; 2],
    /// Standard uncertainty of each from the scatter of all bores.
    u_mm: f64,
    leans: bool,
}

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks = lines(asked.job, asked.circles);
    let u = scatter(&banks);
    let stands: Vec<Stands<'_>> =
        banks.iter().filter(|b| !b.lines.is_empty()).map(|b| stand(asked, b, u)).collect();
    let mut found = Vec::new();
    for k in [0, 1] {
        match stands.as_slice() {
            [one, other] => {
                let apart = (one.off_mm[k] - other.off_mm[k]).abs();
                let worse = if one.off_mm[k].abs() > other.off_mm[k].abs() { one } else { other };
                let least = if one.leans && other.leans { APART_MM } else { ALONE_MM };
                let told = |mm: f64| mm > least.max(SIGMAS * worse.u_mm);
                let both = one.off_mm[k].abs().min(other.off_mm[k].abs());
                if told(apart) && told(worse.off_mm[k].abs()) {
                    let other = if std::ptr::eq(worse, one) { other } else { one };
                    found.push(tell(asked, worse, Some(other), k));
                } else if both > least.max(SIGMAS * worse.u_mm) {
                    found.push(tell(asked, worse, None, k));
                }
            }
            all => {
                let far = |s: &&Stands<'_>| s.off_mm[k].abs() > ALONE_MM.max(SIGMAS * s.u_mm);
                found.extend(all.iter().filter(far).map(|s| tell(asked, s, None, k)));
            }
        }
    }
    found
}

/// What bores scatter about their bank's middle, and what they lean otherwise, mm and mm per mm, over all banks.
fn scatter(banks: &[BankLines]) -> [f64; 2] {
    let over = |value: fn(&Line) -> Option<[f64; 2]>| {
        let (mut sum, mut free) = (0.0, 0.0);
        for bank in banks {
            let values: Vec<[f64; 2]> = bank.lines.iter().filter_map(value).collect();
            let n = count(values.len());
            for k in [0, 1] {
                let mean = values.iter().map(|v| v[k]).sum::<f64>() / n.max(1.0);
                sum += values.iter().map(|v| (v[k] - mean).powi(2)).sum::<f64>();
                free += (n - 1.0).max(0.0);
            }
        }
        (sum / free.max(1.0)).sqrt()
    };
    [over(|l| Some(l.off_mm)), over(|l| l.tilt)]
}

fn stand<'l>(asked: &Asked<'_>, bank: &'l BankLines, [place, lean]: [f64; 2]) -> Stands<'l> {
    let tilt = mean_tilt(&bank.lines);
    let below = asked.job.bank(bank.bank).deck_height_mm - bank.at_depth_mm;
    let at = |k: usize| median(bank.lines.iter().map(|l| l.off_mm[k]).collect());
    let reach = tilt.map_or(-bank.at_depth_mm, |_| below);
    let off_mm = [0, 1].map(|k| at(k) + tilt.unwrap_or_default()[k] * reach);
    let u_mm = place.hypot(lean * below) / count(bank.lines.len()).sqrt();
    Stands { bank, off_mm, u_mm, leans: tilt.is_some() }
}

/// The suspicion of a bank that stands off the journal axis as a whole, along (`k` 0) or across (1); `other` is the
/// bank that it is held against.
fn tell(asked: &Asked<'_>, stands: &Stands<'_>, other: Option<&Stands<'_>>, k: usize) -> Suspicion {
    let bank = plain(&asked.job.bank(stands.bank.bank).name, 40);
    let (off, way) = (stands.off_mm[k], ["along", "across"][k]);
    let apart = other.map_or(0.0, |o| off - o.off_mm[k]);
    let against = match other {
        Some(o) => format!(", the bank {} {:+.3}", plain(&asked.job.bank(o.bank.bank).name, 40), o.off_mm[k]),
        None => String::new(),
    };
    Suspicion {
        code: Code::BankOff,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank),
        found: say!(
            "{} {} {way} where they pass the journal axis{against}: no block was \
             bored so",
            if stands.bank.lines.len() == 1 { "its bore stands" } else { "all its bores together stand" },
            signed_mm(off, 3)
        ),
        likely: if k == 0 {
            "an along datum typed wrongly or touched on another face".into()
        } else {
            "a pick-up of the journal axis that is off, a wrong digit in it, or another block".into()
        },
        ask: if k == 0 {
            say!(
                "measure from {} to the first bore of the bank {bank} with a height gauge: what is it?",
                plain(&asked.job.block.journal_axis.along_datum, 60)
            )
        } else {
            say!(
                "sweep the journal axis again with the bank {bank} up, and measure from a dowel hole of its deck to the first bore: does it stand so?"
            )
        },
        evidence: figures([("off", off), ("apart", apart), ("u", stands.u_mm)]),
        cylinders: stands.bank.lines.iter().map(|l| l.cylinder).collect(),
    }
}
