//! Hone: the last stock off in stages, with the crosshatch's speeds, strokes and gauge points.

use crate::plan::sentence::{Sentence, before_mm, celsius, half_away, mm, within_mm};
use crate::say;

use super::finish::on_the_deck;
use super::kinematics::speed_m_per_min;
use super::stones::{Honing, SHARE, next_takes_mm, of_stock};
use super::strokes::{Strokes, strokes};
use super::{Bench, Cutter, worked};
use crate::plan::{PassKind, Stage, Stock, Stones, Stop, Verdict};

/// Included angles that rings run on, degrees. Common practice, no source.
const USUAL_DEG: [f64; 2] = [40.0, 60.0];
/// Included angles beyond which a bore does not hold its oil, or scores its rings, degrees. Common practice, no source.
const FAR_DEG: [f64; 2] = [20.0, 90.0];
/// Stones only rub below, and burn beyond, m/min. Common practice, no source.
const SURFACE_M_PER_MIN: [f64; 2] = [5.0, 150.0];
/// Honing and gauging of one bore, minutes. Common practice, no source.
const MINUTES: f64 = 10.0;

/// A finished bore is gauged at these clocks, degrees.
pub(crate) const GAUGED_DEG: [f64; 4] = [0.0, 45.0, 90.0, 135.0];
/// What a plateau takes at the most, mm on diameter. Common practice, no source.
const PLATEAU_MM: f64 = 0.002;

/// Appends the hone's stages that still have stock to take, and finds fault with a crosshatch that the machine's
/// ranges put outside the usual.
pub(super) fn stage(bench: &mut Bench<'_>) {
    let job = bench.job;
    let stock = job.finish.hone_stock_mm;
    let bore = job.finish.bore_mm;
    let length = bench.sleeve.length_mm;
    if stock <= 0.0 {
        return;
    }
    let room = job.room_below_mm(bench.sleeve);
    let strokes = job.machine.hone.map(|hone| strokes(&hone, bore, [length, room]));
    match &strokes {
        None => {
            let text = "the machine file has no hone: speeds of the hone stage are left open".into();
            bench.note("no_hone", text);
        }
        Some(s) => {
            let included = s.included_deg;
            if !(USUAL_DEG[0]..=USUAL_DEG[1]).contains(&included) {
                let text = say!(
                    "crosshatch {included:.0} degrees included is what the hone's ranges give, usual {:.0} to {:.0}",
                    USUAL_DEG[0],
                    USUAL_DEG[1]
                );
                let far = !(FAR_DEG[0]..=FAR_DEG[1]).contains(&included)
                    || !(SURFACE_M_PER_MIN[0]..=SURFACE_M_PER_MIN[1]).contains(&speed_m_per_min(bore, s.rpm));
                let verdict = if far { Verdict::Hold } else { Verdict::Go };
                bench.find("crosshatch", verdict, text);
            }
        }
    }
    let metal = bench.sleeve.material.name.clone();
    for (honing, before) in of_stock(stock) {
        let left = honing.left_mm;
        let stop = stop(bench, honing, strokes.as_ref(), bore - left);
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in &bench.cuts {
            let what = Cutter {
                stage: Stage::Hone,
                feature: honing.stones.feature(),
                diameter_mm: bore - left,
                depths_mm: [job.engine.deck.cut_mm, job.engine.deck.cut_mm + length],
                cutting: None,
                material: &metal,
            };
            let mut pass = bench.pass(step, cut, &what);
            pass.kind = PassKind::Honing(honing.stones);
            let taken = (before - left) / 2.0;
            pass.stock = Stock { min: taken, max: taken };
            pass.worked.push(worked::honed(before, left));
            pass.worked.push(worked::bore_size(pass.diameter, bore));
            pass.rpm = strokes.as_ref().map_or(0.0, |s| s.rpm);
            pass.worked.extend(strokes.iter().flat_map(|s| s.worked.clone()));
            pass.minutes = MINUTES * honing.minutes;
            pass.worked.push(worked::honing(pass.minutes, [MINUTES, honing.minutes]));
            pass.stop = Some(stop.clone());
            passes.push(pass);
        }
        bench.passes.append(&mut passes);
    }
}

/// Depths at which a finished bore is gauged, mm; what a short sleeve has no room for is left out.
pub(crate) fn gauge_depths_mm(length_mm: f64) -> Vec<f64> {
    let mut depths = vec![10.0, 30.0, length_mm / 2.0, length_mm - 25.0, length_mm - 8.0];
    depths.sort_by(f64::total_cmp);
    depths.retain(|d| *d >= 5.0 && *d <= length_mm - 5.0);
    depths
}

/// How the stones are run, and what to gauge behind them.
fn stop(bench: &Bench<'_>, honing: &Honing, strokes: Option<&Strokes>, size: f64) -> Stop {
    let job = bench.job;
    let length = bench.sleeve.length_mm;
    let warm = job.at_cutting_words(size, bench.sleeve.material.expansion_per_k);
    let mut how = say!("{}, stones {}", on_the_deck(job), honing.grit);
    if let Some(s) = strokes {
        let included = s.included_deg;
        how.push(say!(", {} long, {:.0} rpm, {:.0} double strokes/min of {}, {} over either end: crosshatch {included:.0} deg included, {:.0} deg from level", mm(s.stone_mm, 0), s.rpm, s.per_min, mm(s.stroke_mm, 0), mm(s.over_mm, 0), included / 2.0));
    }
    let asks = match honing.stones {
        // What is signed is gauged behind the last stone that touches it.
        Stones::Plateau => {
            how.push(say!("; 3 to 10 double strokes, no more than {}", mm(PLATEAU_MM, 3)));
            let depths = gauge_depths_mm(length);
            let last = depths.len().saturating_sub(1);
            let told = |(i, d): (usize, &f64)| {
                // Written as the boxes of the sheet have it: a middle depth may end in half a millimetre.
                let places = usize::from(d.fract().abs() > 1e-9);
                let d = half_away(*d, 1);
                say!("{}", if i == last { mm(d, places) } else { before_mm(d, places) })
            };
            let inside = depths.iter().enumerate().map(told);
            let clocks = GAUGED_DEG.map(|clock| format!("{clock:.0}")).join(", ");
            say!(
                "size {} within {}, block, ring and gauge at {} for 2 hours, at depths {} and clocks {}; yes: an even crosshatch all over, nothing torn or glazed",
                mm(size, 3),
                within_mm(size, job.finish.tolerance_mm, 3),
                celsius(20.0, 0),
                Sentence::join(inside, ", "),
                clocks
            )
        }
        Stones::Last => say!(
            "size {} within {}{}, gauged cool; the plateau takes up to {} more",
            mm(size, 3),
            within_mm(size, job.finish.tolerance_mm, 3),
            warm,
            mm(PLATEAU_MM, 3)
        ),
        rougher @ (Stones::Rough | Stones::Middle) => {
            let within = next_takes_mm(job.finish.hone_stock_mm, rougher) * SHARE;
            say!(
                "size {} within {}{}, gauged cool: smaller, on with these stones; larger, too little is left for the next",
                mm(size, 3),
                within_mm(size, within, 3),
                warm
            )
        }
    };
    Stop { how, asks, ..Stop::default() }
}
