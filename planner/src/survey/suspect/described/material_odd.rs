//! A metal under a built-in name with figures that are not that metal's.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Job;
use crate::material::{self, LIGHT_PER_K, Material};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;

/// Modulus and expansion of one metal differ by less than this many times from alloy to alloy. Common practice, no
/// source.
const APART: f64 = 1.4;

/// Yields of one metal differ by less than this many times, by temper and grade. Common practice, no source.
const YIELD_APART: f64 = 2.0;

/// Asks about each metal under a built-in name whose figure farthest off is not that metal's, about names of its
/// own with figures no metal has, and about sleeves of light metal.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found: Vec<Suspicion> = light_sleeves(asked.job);
    for metal in metals(asked.job) {
        let Some(usual) = material::built_in(&metal.name) else {
            found.extend(no_metal(asked.job, metal));
            continue;
        };
        let rows = [
            ("modulus", metal.elastic_mpa, usual.elastic_mpa, APART, "MPa", 1.0),
            ("expansion", metal.expansion_per_k, usual.expansion_per_k, APART, "1e-6/K", 1e6),
            ("yield", metal.yield_mpa, usual.yield_mpa, YIELD_APART, "MPa", 1.0),
        ];
        let times = |own: f64, usual: f64| (own / usual).max(usual / own);
        let worst = rows
            .into_iter()
            .filter(|(_, own, usual, apart, ..)| times(*own, *usual) > *apart)
            .max_by(|a, b| times(a.1, a.2).total_cmp(&times(b.1, b.2)));
        let Some((figure, own, usual, _, unit, scale)) = worst else { continue };
        let subject = Subject::whole(format!("metal {}", plain(&metal.name, 40)));
        if found.iter().any(|s| s.subject == subject) {
            continue;
        }
        let (own, usual) = (own * scale, usual * scale);
        found.push(Suspicion {
            code: Code::MaterialOdd,
            verdict: Verdict::Hold,
            subject,
            found: say!("its {figure} is {own:.1} {unit}, where {} usually has {usual:.1}", plain(&metal.name, 40)),
            likely: "a digit slipped, another unit, or another metal's figures under this name".into(),
            ask: say!("what is the {figure} of this metal? Another metal goes by a name of its own, here and in `cuts`"),
            evidence: figures([("figure", own), ("usual", usual)]),
            cylinders: asked.job.block.cylinders().into(),
        });
    }
    found
}

/// Suspicions of sleeves and of an old liner of a light metal: none is made of one (common practice, no source), so
/// the figures are wrong.
fn light_sleeves(job: &Job) -> Vec<Suspicion> {
    let sleeves = job.sleeves.iter().map(|s| (format!("sleeve {}", plain(&s.name, 40)), &s.material));
    let liner = job.block.parent.liner.as_ref().map(|l| ("liner".to_owned(), &l.material));
    let light = sleeves.chain(liner).filter(|(_, material)| material.expansion_per_k > LIGHT_PER_K);
    let told = light.map(|(name, material)| Suspicion {
        code: Code::MaterialOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole(name),
        found: say!(
            "it is told to be of {}, which expands by {:.1} in a million a degree",
            plain(&material.name, 40),
            material.expansion_per_k * 1e6
        ),
        likely: "the metal of the block, or of another line: sleeves and liners are of iron or steel".into(),
        ask: say!("what is it made of? Fit, heat and speeds hang on it"),
        evidence: figures([("expansion", material.expansion_per_k * 1e6)]),
        cylinders: job.block.cylinders().into(),
    });
    told.collect()
}

/// Modulus of metals that engines are made of, MPa: magnesium to steel with some beyond. Common practice, no source.
const MODULUS_MPA: [f64; 2] = [40_000.0, 250_000.0];
/// Expansion of metals that engines are made of, 1/K. Common practice, no source.
const EXPANSION_PER_K: [f64; 2] = [6e-6, 30e-6];
/// Least yield of metals that engines are made of, MPa. Common practice, no source.
const YIELD_MPA: f64 = 40.0;
/// A metal that expands by more than this, 1/K, is light, and one stiffer than this, MPa, is none: the melting point sets both. Common
/// practice, no source.
const EXPANDS_PER_K: f64 = 19e-6;
const STIFF_MPA: f64 = 140_000.0;
/// No metal stretches by more than one part in this before it yields. Common practice, no source.
const STRETCH: f64 = 100.0;

/// A metal under its own name that is like none.
fn no_metal(job: &Job, metal: &Material) -> Option<Suspicion> {
    let outside = |value: f64, [least, most]: [f64; 2]| value < least || value > most;
    let (figure, own, unit) = if outside(metal.elastic_mpa, MODULUS_MPA) {
        ("modulus", metal.elastic_mpa, "MPa")
    } else if outside(metal.expansion_per_k, EXPANSION_PER_K) {
        ("expansion", metal.expansion_per_k * 1e6, "1e-6/K")
    } else if metal.expansion_per_k > EXPANDS_PER_K && metal.elastic_mpa > STIFF_MPA {
        ("modulus", metal.elastic_mpa, "MPa")
    } else if metal.yield_mpa < YIELD_MPA || metal.yield_mpa * STRETCH > metal.elastic_mpa {
        ("yield", metal.yield_mpa, "MPa")
    } else {
        return None;
    };
    Some(Suspicion {
        code: Code::MaterialOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("metal {}", plain(&metal.name, 40))),
        found: say!(
            "its {figure} is {own:.1} {unit}, which no metal of an engine has beside its other figures"
        ),
        likely: "a digit slipped, or another unit".into(),
        ask: say!("what is the {figure} of this metal?"),
        evidence: figures([("figure", own)]),
        cylinders: job.block.cylinders().into(),
    })
}

/// Every metal that fits, seats and temperatures of the job rest on.
fn metals(job: &Job) -> impl Iterator<Item = &Material> {
    let liner = job.block.parent.liner.as_ref().map(|l| &l.material);
    let piston = job.engine.piston.as_ref().map(|p| &p.material);
    let sleeves = job.sleeves.iter().map(|s| &s.material);
    [Some(&job.block.parent.material), liner, piston].into_iter().flatten().chain(sleeves)
}
