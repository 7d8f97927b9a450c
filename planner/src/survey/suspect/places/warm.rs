//! A pattern stretched along the bank, as a warm block's is: nothing but size does that to all banks alike.

use crate::survey::suspect::Code;
use statrs::distribution::{ContinuousCDF, FisherSnedecor};

use super::apart::{BELIEF, SCATTER_MM};
use super::evidence::figures;
use super::readings::Stand;
use super::{Asked, Suspicion};
use crate::job::ReadingFrame;
use crate::plan::sentence::{before_mm, mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::temperature::HELD_K;
use borewright_geometry::sample::count;

/// Chance would stretch a pattern so in fewer cases than this.
const SIGNIFICANT: f64 = 0.001;

/// A stretch below this over the bores is not worth a word, mm. Common practice, no source.
const LEAST_MM: f64 = 0.03;

/// Beyond this a block is not merely warm or cold, K.
const MOST_K: f64 = 80.0;

/// A block that its mains show to be this far from the machine is held where the bores agree or do not contradict,
/// K: the far bore of a usual block then stands 0.04 and more off once it is cold. Common practice, no source.
const MAINS_K: f64 = 6.0;

/// By less of a long one, where its ends are moved by more than this, mm. Common practice, no source.
const MAINS_MM: f64 = 0.06;

/// Temperatures typed this far apart that bores and mains deny alike are held, K: nearer ones move no bore by half of a usual
/// zone. Common practice, no source.
const DENIED_K: f64 = 14.5;
/// The mains confirm the bores within this share.
const CONFIRMS: f64 = 0.3;

/// They deny the mains beyond that where they are so many of their own standard uncertainties apart: of blocks that are
/// warm chance makes so fewer than one in five hundred.
const DENIED_U: f64 = 4.0;

/// The least scatter that is believed of any reading, mm.
const LEAST_SCATTER_MM: f64 = 0.000_5;

struct Stretch {
    ppm: f64,
    span_mm: f64,
    residual_mm: f64,
    cylinders: Vec<u32>,
}

/// Asks about a pattern that one scale along all banks explains, in kelvin of the block's metal: a note, or a hold
/// where the mains confirm it or no heat makes so much.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks: Vec<Vec<Stand>> =
        (0..asked.job.set_ups.len()).map(|s| asked.readings.as_typed(s)).filter(|s| s.len() > 1).collect();
    let mains = super::along::mains_stretch(asked.job);
    let Some(stretch) = stretch(asked.job.instruments.centre_mm, &banks) else {
        return mains.and_then(|mains| by_mains(asked, &banks, mains)).into_iter().collect();
    };
    let material = &asked.job.block.parent.material;
    let kelvin = stretch.ppm * 1e-6 / material.expansion_per_k;
    let over_span = stretch.ppm * 1e-6 * stretch.span_mm;
    if kelvin.abs() > MOST_K {
        return vec![not_by_heat(asked, stretch, over_span)];
    }
    let (warm, soak) = if kelvin > 0.0 { ("warmer", "soak") } else { ("colder", "warm up") };
    let typed = match asked.job.temperature {
        Some(t) => format!(
            "the job says block {:.1} and machine {:.1} degrees; is that so? ",
            t.measuring.block_c, t.measuring.machine_c
        ),
        None => "what were the temperatures of block and machine? ".into(),
    };
    // What was typed is in the readings already: where it makes them fit worse, they deny it.
    let typed_k = asked.job.temperature.map_or(0.0, |t| t.measuring.block_c - t.measuring.machine_c);
    let denied = (kelvin + typed_k).abs() < kelvin.abs();
    let least_k = if denied { DENIED_K } else { MAINS_K };
    let confirmed = (if denied { typed_k } else { kelvin }).abs() > least_k
        && mains.is_some_and(|(ppm, _)| (ppm - stretch.ppm).abs() <= CONFIRMS * stretch.ppm.abs());
    let holds = kelvin.abs() > HELD_K || confirmed;
    // Bores and mains that say the same each hold by what they move.
    if let Some(told) = mains.filter(|_| !holds && !denied).and_then(|mains| by_mains(asked, &banks, mains)) {
        return vec![told];
    }
    let likely = if denied {
        "temperatures that block and machine did not have: without them the bores are spaced as described"
            .into()
    } else {
        say!("a block {:.0} degrees {warm} than the machine ({})", kelvin.abs(), material.name)
    };
    vec![Suspicion {
        code: Code::Stretched,
        verdict: if holds { Verdict::Hold } else { Verdict::Go },
        subject: Subject::whole("block"),
        found: say!(
            "the bores stand {:+.0} ppm apart along the bank, {} over {}, and {} is left without it",
            stretch.ppm,
            signed_mm(over_span, 3),
            mm(stretch.span_mm, 0),
            before_mm(stretch.residual_mm, 3)
        ),
        likely,
        ask: say!(
            "{typed}Let the block {soak} to the machine's temperature and measure again; if it stays, the bore spacing of the description is off"
        ),
        evidence: figures([
            ("ppm", stretch.ppm),
            ("degrees", kelvin),
            ("over_span", over_span),
            ("span", stretch.span_mm),
            ("residual", stretch.residual_mm),
        ]),
        cylinders: stretch.cylinders.into(),
    }]
}

/// The suspicion of mains that are stretched, where the bores scatter too much to show it: only size does that in
/// every set-up.
fn by_mains(asked: &Asked<'_>, banks: &[Vec<Stand>], (ppm, span_mm): (f64, f64)) -> Option<Suspicion> {
    // Of two banks one set-up alone may have been touched by eye.
    let set_ups = asked.job.set_ups.iter().filter(|s| matches!(s.frame, ReadingFrame::Machine(_))).count();
    if set_ups < 2 && (asked.job.block.banks.len() > 1 || denies(&Slope::of(banks), ppm)) {
        return None;
    }
    let kelvin = ppm * 1e-6 / asked.job.block.parent.material.expansion_per_k;
    let typed = asked.job.temperature.map_or(0.0, |t| t.measuring.block_c - t.measuring.machine_c);
    // The typed temperatures may or may not have been applied to these readings; the stretch must remain either
    // way.
    let least = kelvin.abs().min((kelvin - typed).abs()).min((kelvin + typed).abs());
    let over_span = ppm * 1e-6 * span_mm;
    let moved = least * asked.job.block.parent.material.expansion_per_k * span_mm;
    if (least <= MAINS_K && moved <= MAINS_MM) || least > MOST_K || over_span.abs() < LEAST_MM {
        return None;
    }
    let (warm, soak) = if kelvin > 0.0 { ("warmer", "soak") } else { ("colder", "warm up") };
    Some(Suspicion {
        code: Code::Stretched,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!(
            "the mains stand {ppm:+.0} ppm apart along the axis, {} over {}{}",
            signed_mm(over_span, 3),
            mm(span_mm, 0),
            if set_ups > 1 { ", alike in every set-up" } else { "" }
        ),
        likely: say!(
            "a block {:.0} degrees {warm} than the machine ({})",
            kelvin.abs(),
            asked.job.block.parent.material.name
        ),
        ask: say!(
            "what were the temperatures of block and machine? Let the block {soak} to the machine's and measure again; if it stays, \
             the mains of the description are off{}",
            if set_ups > 1 {
                ""
            } else {
                "; mains that were touched by eye along the block are touched again with a probe"
            }
        ),
        evidence: figures([("ppm", ppm), ("degrees", kelvin), ("over_span", over_span), ("span", span_mm)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// Whether bores deny what the mains of a single set-up say: they are stretched less by more than they scatter.
fn denies(bores: &Option<Slope>, ppm: f64) -> bool {
    bores.as_ref().is_some_and(|bores| {
        let apart = (ppm - bores.slope * 1e6) * ppm.signum();
        apart > CONFIRMS * ppm.abs() && apart > DENIED_U * bores.u() * 1e6
    })
}

/// A stretch that no heat makes: the bores are not spaced as described.
fn not_by_heat(asked: &Asked<'_>, stretch: Stretch, over_span_mm: f64) -> Suspicion {
    let described = asked.job.block.banks.iter().find_map(|bank| {
        let [first, second] = bank.sites.get(..2)? else { return None };
        Some(second.x_mm - first.x_mm)
    });
    let spacing = described.unwrap_or(0.0);
    Suspicion {
        code: Code::BoreSpacing,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!(
            "the bores stand {} apart along the bank over {}: spaced {} where {} is described",
            signed_mm(over_span_mm, 3),
            mm(stretch.span_mm, 0),
            mm(spacing * (1.0 + stretch.ppm * 1e-6), 3),
            mm(spacing, 3)
        ),
        likely: "the bore spacing of another block's description, or x off a scale that counts otherwise"
            .into(),
        ask: "measure the distance of two bores by hand: what is it?".into(),
        evidence: figures([
            ("ppm", stretch.ppm),
            ("over_span", over_span_mm),
            ("span", stretch.span_mm),
            ("residual", stretch.residual_mm),
        ]),
        cylinders: stretch.cylinders.into(),
    }
}

/// One scale for all banks, each with its own shift: d_x = a + k x, by least squares.
struct Slope {
    slope: f64,
    /// Squares of the places along, mm².
    square: f64,
    /// Mean square of what is left, mm², and how many values leave it free.
    left: f64,
    freedom: usize,
    span_mm: f64,
}

impl Slope {
    /// `None` of bores too few to leave any scatter.
    fn of(banks: &[Vec<Stand>]) -> Option<Self> {
        let mut centred: Vec<[f64; 2]> = Vec::new();
        let mut span_mm: f64 = 0.0;
        for stands in banks {
            let n = count(stands.len());
            let (x, d) = (
                stands.iter().map(|s| s.true_mm[0]).sum::<f64>() / n,
                stands.iter().map(|s| s.off_mm[0]).sum::<f64>() / n,
            );
            centred.extend(stands.iter().map(|s| [s.true_mm[0] - x, s.off_mm[0] - d]));
            let xs = || stands.iter().map(|s| s.true_mm[0]);
            span_mm =
                span_mm.max(xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min));
        }
        let freedom = centred.len().checked_sub(banks.len() + 1).filter(|left| *left >= 2)?;
        let square: f64 = centred.iter().map(|[x, _]| x * x).sum();
        let slope = centred.iter().map(|[x, d]| x * d).sum::<f64>() / square;
        let left: f64 = centred.iter().map(|[x, d]| (d - slope * x).powi(2)).sum::<f64>() / count(freedom);
        Some(Self { slope, square, left, freedom, span_mm })
    }

    /// Its standard uncertainty by what is left, moderated by what castings scatter at all: few leave little by chance.
    fn u(&self) -> f64 {
        let free = count(self.freedom);
        let scatter2 = (BELIEF * SCATTER_MM.powi(2) + free * self.left) / (BELIEF + free);
        (scatter2 / self.square).sqrt()
    }
}

/// A stretch that chance does not make.
fn stretch(centre_u_mm: f64, banks: &[Vec<Stand>]) -> Option<Stretch> {
    let Slope { slope, square, left, freedom, span_mm } = Slope::of(banks)?;
    // Four bores may by chance lie nearer a line than the probe can tell.
    let stands = || banks.iter().flatten();
    let probe2 = stands().map(|s| centre_u_mm.powi(2) / count(s.circles.max(1))).sum::<f64>()
        / count(stands().count());
    let scatter2 = left.max(LEAST_SCATTER_MM.powi(2)).max(probe2);
    let f = slope * slope * square / scatter2;
    let p = FisherSnedecor::new(1.0, count(freedom)).ok()?.sf(f);
    let over_span = (slope * span_mm).abs();
    let shown = over_span >= LEAST_MM && over_span >= 4.0 * centre_u_mm;
    // What is left must be a small share of the stretch: a slope that explains only some of a scatter names
    // nothing.
    let clean = left.sqrt() < 0.1 * over_span;
    (p < SIGNIFICANT && shown && clean).then(|| Stretch {
        ppm: slope * 1e6,
        span_mm,
        residual_mm: left.sqrt(),
        cylinders: banks.iter().flatten().map(|s| s.cylinder).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bank(along: [f64; 4]) -> Vec<Stand> {
        let places = [84.0, 194.0, 304.0, 414.0].into_iter().zip(along).zip(1..);
        places
            .map(|((x, d), cylinder)| Stand { cylinder, true_mm: [x, 0.0], off_mm: [d, 0.0], circles: 3 })
            .collect()
    }

    #[test]
    fn a_stretch_is_told_from_a_shift_an_odd_bore_and_scatter() {
        let told = stretch(0.003, &[bank([0.0, 0.039, 0.077, 0.116])]).unwrap();
        assert!((told.ppm - 351.0).abs() < 1.0, "{}", told.ppm);
        for along in [[0.2; 4], [0.0, 0.0, 0.0, 0.116], [0.01, -0.03, 0.05, 0.02], [0.0, 0.003, 0.007, 0.010]]
        {
            assert!(stretch(0.003, &[bank(along)]).is_none(), "{along:?}");
        }
        // One bank stretched and the other not is no temperature.
        assert!(stretch(0.003, &[bank([0.0, 0.039, 0.077, 0.116]), bank([0.0; 4])]).is_none());
        // Two bores lie on a line whatever they do.
        assert!(stretch(0.003, &[bank([0.0, 0.039, 0.077, 0.116])[..2].to_vec()]).is_none());
        assert!(stretch(0.003, &[]).is_none());
    }
}
