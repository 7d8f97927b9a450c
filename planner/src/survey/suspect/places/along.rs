//! The along datum against where the mains themselves were touched; the mains against each other and the block.

use super::evidence::{FACTORS, figures, robust, unit_cause, unit_words};
use super::{Asked, Suspicion};
use crate::job::{AxisReading, Front, Job, MachineReadings, ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::{Code, Doubts};
use borewright_geometry::sample::{count, median};

/// A main touched farther than this from where the others put it is a slip, mm: the foot and the turn of the axis
/// rest on it, and a main is some 20 wide. Common practice, no source.
const MAIN_OFF_MM: f64 = 3.0;

/// A main in the other unit is near its middle within this, mm. Common practice, no source.
const NEAR_MM: f64 = 1.0;

/// The mains contradict the datum where it lies this many times their own scatter from where they put it.
const SCATTERS: f64 = 3.0;

/// The mains contradict the datum only where it lies this many times its `along` from where they put it: 1 in 1000
/// of normal scatter.
const SIGMAS: f64 = 3.3;

/// Mains that scatter by no more than this were touched at their middles on purpose, mm. Common practice, no
/// source.
const CAREFUL_MM: f64 = 0.05;

/// Mains that put the datum within this of each other are one set, mm. Common practice, no source.
const TOGETHER_MM: f64 = 0.03;

/// The bores confirm a datum that is off where they stand off by as much within this share of it.
const CONFIRMS: f64 = 0.25;

/// A spacing counts as typed in inches within this share of what inches would give: far inside what a touch at a
/// main's edge changes.
const LIKE_INCHES: f64 = 0.02;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let ReadingFrame::Machine(readings) = &set_up.frame else { continue };
        match spacing(asked, index, set_up, readings) {
            Some(told) => found.push(told),
            None => {
                found.extend(mains(asked, index, set_up, readings));
                found.extend(datum(asked, index, set_up, readings));
            }
        }
    }
    found
}

/// How far the mains of all set-ups stand apart against the description, ppm, and over what length, mm: where each
/// set-up has three and more, they lie on one line by a tenth of what it stretches, and all say the same within a
/// quarter (these bounds: common practice, no source).
pub(super) fn mains_stretch(job: &Job) -> Option<(f64, f64)> {
    const FEWEST: f64 = 3.0;
    const CLEAN: f64 = 0.1;
    const ALIKE: f64 = 0.25;
    let mut all: Vec<f64> = Vec::new();
    let mut longest: f64 = 0.0;
    for set_up in &job.set_ups {
        let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
        let stations = stations(job, set_up, readings);
        let n = count(stations.len());
        let middle = stations.iter().map(|s| s.main_mm).sum::<f64>() / n;
        let centre = [0, 1, 2].map(|k| stations.iter().map(|s| s.at_mm[k]).sum::<f64>() / n);
        let square: f64 = stations.iter().map(|s| (s.main_mm - middle).powi(2)).sum();
        let along =
            |k: usize| stations.iter().map(|s| (s.main_mm - middle) * (s.at_mm[k] - centre[k])).sum::<f64>();
        // The direction of the axis on the table, so that it does not matter how the block lies.
        let way = [0, 1, 2].map(|k| along(k) / square);
        let length = way.iter().map(|k| k * k).sum::<f64>().sqrt();
        let slope = length - 1.0;
        let left = |s: &Station<'_>| {
            let told: f64 = (0..3).map(|k| (s.at_mm[k] - centre[k]) * way[k] / length).sum();
            (told - length * (s.main_mm - middle)).abs()
        };
        let ends = stations.first().zip(stations.last()).map_or(0.0, |(a, b)| (b.main_mm - a.main_mm).abs());
        if n < FEWEST || stations.iter().map(left).fold(0.0, f64::max) > CLEAN * (slope * ends).abs() {
            return None;
        }
        all.push(slope * 1e6);
        longest = longest.max(ends);
    }
    let mean = all.iter().sum::<f64>() / count(all.len());
    let alike = !all.is_empty() && all.iter().all(|own| (own - mean).abs() <= ALIKE * mean.abs());
    alike.then_some((mean, longest))
}

/// A main as it was touched.
struct Station<'j> {
    main: &'j str,
    /// The mean of its points on the machine, mm.
    at_mm: [f64; 3],
    /// Its x rearwards, mm.
    machine_mm: f64,
    /// Its place along as described, mm.
    main_mm: f64,
}

/// Every main that was read, in the order of the description.
fn stations<'j>(job: &'j Job, set_up: &SetUp, readings: &MachineReadings) -> Vec<Station<'j>> {
    let points: &[AxisReading] = if readings.axis.is_empty() { &readings.mains } else { &readings.axis };
    let sign = if set_up.front == Front::Left { 1.0 } else { -1.0 };
    let mains = job.block.journal_axis.mains.iter();
    mains
        .filter_map(|main| {
            let own: Vec<[f64; 3]> =
                points.iter().filter(|p| *p.main == *main.name).map(|p| p.at_mm).collect();
            let n = count(own.len());
            let at_mm = [0, 1, 2].map(|k| own.iter().map(|at| at[k]).sum::<f64>() / n);
            (n > 0.0).then(|| Station {
                main: &main.name,
                at_mm,
                machine_mm: sign * at_mm[0],
                main_mm: main.x_mm,
            })
        })
        .collect()
}

/// Mains that stand elsewhere along than the others put them.
fn mains(asked: &Asked<'_>, index: usize, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let stations = stations(asked.job, set_up, readings);
    let off = |s: &Station<'_>| s.machine_mm - s.main_mm;
    let middle = median(stations.iter().map(off).collect());
    let odd: Vec<&Station<'_>> = stations.iter().filter(|s| (off(s) - middle).abs() > MAIN_OFF_MM).collect();
    let worst = odd.iter().max_by(|a, b| (off(a) - middle).abs().total_cmp(&(off(b) - middle).abs()))?;
    let named = odd.iter().map(|s| plain(s.main, 20)).collect::<Vec<_>>().join(", ");
    Some(Suspicion {
        code: Code::MainOff,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "main {} was touched {} along from where the block has it and the other mains put it",
            plain(worst.main, 20),
            signed_mm(off(worst) - middle, 3)
        ),
        likely: "a digit of x slipped, the point noted under another main, or not touched at its middle"
            .into(),
        ask: say!("read the journal axis again at main {named}: what does X say?"),
        evidence: figures([("main_off", off(worst) - middle), ("mains", count(odd.len()))]),
        cylinders: asked.readings.cylinders(index).into(),
    })
}

fn spacing(asked: &Asked<'_>, index: usize, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let stations = stations(asked.job, set_up, readings);
    let n = count(stations.len());
    let machine = stations.iter().map(|s| s.machine_mm).sum::<f64>() / n;
    let main = stations.iter().map(|s| s.main_mm).sum::<f64>() / n;
    let square: f64 = stations.iter().map(|s| (s.main_mm - main).powi(2)).sum();
    let slope = stations.iter().map(|s| (s.main_mm - main) * (s.machine_mm - machine)).sum::<f64>() / square;
    let factor = FACTORS.into_iter().find(|f| (slope * f - 1.0).abs() < LIKE_INCHES)?;
    Some(Suspicion {
        code: Code::WrongUnit,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the mains were touched {slope:.4} times as far apart as the block has them; {} they are where they belong",
            unit_words(factor)
        ),
        likely: say!("the table of the journal axis {}", unit_cause(factor)),
        ask: "in which unit was the journal axis read?".into(),
        evidence: figures([("spacing_ratio", slope), ("factor", factor)]),
        cylinders: asked.readings.cylinders(index).into(),
    })
}

/// How far rearwards the along datum lies from where each main puts it, mm.
fn datum_apart(job: &Job, set_up: &SetUp, readings: &MachineReadings) -> Vec<f64> {
    let sign = if set_up.front == Front::Left { 1.0 } else { -1.0 };
    let along = sign * readings.along_x_mm;
    stations(job, set_up, readings).iter().map(|s| along + s.main_mm - s.machine_mm).collect()
}

/// The suspicion that a set-up's along datum lies off where its mains put it by more than reading and their
/// scatter; a hold where the bores confirm it or the mains agree well.
fn datum(asked: &Asked<'_>, index: usize, set_up: &SetUp, readings: &MachineReadings) -> Option<Suspicion> {
    let sign = if set_up.front == Front::Left { 1.0 } else { -1.0 };
    let along = sign * readings.along_x_mm;
    let apart = datum_apart(asked.job, set_up, readings);
    let all = median(apart.clone());
    let instruments = &asked.job.instruments;
    let reading = SIGMAS * instruments.along_mm;
    let stands = asked.readings.as_typed(index);
    let bores = median(stands.iter().map(|s| s.off_mm[0]).collect());
    // A datum typed too far back makes every bore read too far forward.
    let confirms = |off: f64| !stands.is_empty() && (bores + off).abs() <= CONFIRMS * off.abs();
    // A zero that was knocked between two mains leaves two sets of them: one contradicts the datum, as the bores do.
    let set = agreeing(&apart).filter(|set| set.abs() > reading && confirms(*set));
    let middle = set.unwrap_or(all);
    // Mains touched at random over their width say little. The scatter is a robust one, so that a single slip does
    // not silence the others.
    let scatter = if set.is_some() { TOGETHER_MM } else { robust(&apart, all) };
    if apart.len() < 2 || middle.abs() <= reading.max(SCATTERS * scatter) {
        return None;
    }
    let confirmed = confirms(middle);
    // Bores that stand where they should bear the datum out: one that is off moves them all.
    let denied = !stands.is_empty() && bores.abs() <= CONFIRMS * middle.abs();
    // Where the other bank's mains bear its datum out, the block has them where they are: this one's datum is off whatever its bores
    // say.
    let borne_out =
        asked.job.set_ups.iter().any(|other| other.bank != set_up.bank && is_borne_out(asked.job, other));
    let holds = confirmed || (scatter <= CAREFUL_MM && (!denied || borne_out));
    let unit =
        FACTORS.into_iter().find(|f| (readings.along_x_mm * f * sign - along + middle).abs() < NEAR_MM);
    Some(Suspicion {
        code: Code::AlongDatum,
        verdict: if holds { Verdict::Hold } else { Verdict::Go },
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "the along datum lies {} from where the mains put it (scatter {}), and the bores stand {} along",
            signed_mm(middle, 3),
            before_mm(scatter, 3),
            signed_mm(bores, 3)
        ),
        likely: match unit {
            Some(factor) => say!("along.x {}", unit_cause(factor)),
            None if confirmed => "along.x typed wrongly or touched on another face".into(),
            None if denied && borne_out => "along.x typed wrongly or touched on another face: the other bank's mains bear its datum out, and \
                these bores stand off by as much"
                .into(),
            None => "the mains touched off their middles".into(),
        },
        ask: say!("touch {} again: what does X read?", asked.job.block.journal_axis.along_datum),
        evidence: figures([("datum_off", middle), ("scatter", scatter), ("bores_along", bores)]),
        // Only a suspicion that holds counts as explaining the bores, so that they are not asked about again.
        cylinders: if holds { stands.iter().map(|s| s.cylinder).collect() } else { Doubts::All },
    })
}

/// Whether a set-up's mains, touched with care, put its along datum where it was read.
fn is_borne_out(job: &Job, set_up: &SetUp) -> bool {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return false };
    let apart = datum_apart(job, set_up, readings);
    if apart.len() < 2 {
        return false;
    }
    let middle = median(apart.clone());
    middle.abs() <= SIGMAS * job.instruments.along_mm && robust(&apart, middle) <= CAREFUL_MM
}

/// Where half of the mains and more, two at the least, agree on the datum within [`TOGETHER_MM`], farthest from where it was typed,
/// mm; `None` where they agree as one, or none do.
fn agreeing(apart_mm: &[f64]) -> Option<f64> {
    let mut sorted = apart_mm.to_vec();
    sorted.sort_by(f64::total_cmp);
    let least = sorted.len().div_ceil(2).max(2);
    let all = sorted.last()? - sorted.first()?;
    let sets = sorted.windows(least).filter(|set| set[least - 1] - set[0] <= TOGETHER_MM);
    let middles = sets.map(|set| median(set.to_vec()));
    middles.max_by(|a, b| a.abs().total_cmp(&b.abs())).filter(|_| all > TOGETHER_MM)
}
