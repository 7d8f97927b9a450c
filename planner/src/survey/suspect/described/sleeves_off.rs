//! Measured sleeves against their drawing, and against the bores that want one.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{MeasuredSleeve, Sleeve, Step};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::read::inch::MM_PER_INCH;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, ends, median};

/// A size beyond the drawing's tolerance by more than this is another sleeve's, or a slip, mm; of a register also by this share of
/// its fit, of which a slip would take as much, if that is less, and by no less than a micrometer tells. Common practice, no source.
const BEYOND_MM: f64 = 0.02;
const OF_FIT: f64 = 0.5;
const TOLD_MM: f64 = 0.008;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let sets: Vec<Option<Suspicion>> =
        (0..asked.job.sleeves.len()).map(|sleeve| outsides_off(asked, sleeve)).collect();
    // What is off of a whole set is asked of the set alone.
    let alone = |own: &&MeasuredSleeve| sets.get(own.sleeve).is_none_or(Option::is_none);
    let mut found: Vec<Suspicion> =
        asked.job.measured.iter().filter(alone).filter_map(|own| off(asked, own)).collect();
    found.extend(asked.job.measured.iter().filter_map(|own| flange_off(asked, own)));
    found.extend(asked.job.measured.iter().filter_map(|own| twice(asked, own)));
    found.extend((0..asked.job.sleeves.len()).filter_map(|sleeve| all_one(asked, sleeve)));
    found.extend((0..asked.job.sleeves.len()).filter_map(|sleeve| few(asked, sleeve)));
    found.extend((0..asked.job.sleeves.len()).filter_map(|sleeve| set_off(asked, sleeve)));
    found.extend((0..asked.job.sleeves.len()).filter_map(|sleeve| flanges_apart(asked, sleeve)));
    found.extend(sets.into_iter().flatten());
    found
}

/// The outside farthest beyond its tolerance of one sleeve: what it is, as measured, as drawn, how far beyond, mm.
///
/// A flange's thickness is not judged here: its ledge is cut for it, and a few thicker ones may be kept for deeper ledges.
fn worst<'s>(drawing: &'s Sleeve, own: &MeasuredSleeve) -> Option<(&'s str, f64, f64, f64)> {
    let steps = drawing.body.iter().zip(&own.outsides_mm);
    steps.map(|(step, outside)| beyond(step, *outside)).max_by(|a, b| a.3.total_cmp(&b.3))
}

/// One outside: what it is, as measured, as drawn, how far beyond its tolerance, mm.
fn beyond(step: &Step, outside_mm: f64) -> (&str, f64, f64, f64) {
    let off = (outside_mm - step.diameter_mm).abs() - step.tolerance_mm;
    (step.name.as_str(), outside_mm, step.diameter_mm, off)
}

/// How far beyond its tolerance an outside may measure, mm: less where it is the only one of its set that passes it, than where
/// several are kept oversize.
fn allowed_mm(step: &Step, others_mm: &[f64]) -> f64 {
    let alone = others_mm.len() >= SET && others_mm.iter().all(|outside| beyond(step, *outside).3 <= 1e-9);
    if !alone || step.wet || step.interference_mm <= 0.0 {
        return BEYOND_MM;
    }
    (OF_FIT * step.interference_mm).clamp(TOLD_MM, BEYOND_MM)
}

/// Sleeves that cannot all measure alike to the last digit in every figure, from so many on.
const ALIKE: usize = 4;

/// Figures told no finer than this may be alike and measured: mm, and in inches. Common practice, no source.
const COARSE_MM: [f64; 2] = [0.005, 0.0002 * MM_PER_INCH];

/// Whether a figure stands on a grid that sleeves of one batch do not differ by.
fn is_coarse(mm: f64) -> bool {
    COARSE_MM.iter().any(|step| (mm / step - (mm / step).round()).abs() < 1e-6)
}

/// Sleeves that were written down and not measured.
fn all_one(asked: &Asked<'_>, sleeve: usize) -> Option<Suspicion> {
    let own: Vec<&MeasuredSleeve> = asked.job.measured.iter().filter(|m| m.sleeve == sleeve).collect();
    let first = own.first().filter(|_| own.len() >= ALIKE)?;
    let alike = own.iter().all(|m| m.outsides_mm == first.outsides_mm && m.flange == first.flange);
    // Sleeves with the drawing's very figures were not measured. Other equal figures may be one batch, read no
    // finer than it scatters.
    let drawing = &asked.job.sleeves[sleeve];
    let drawn =
        drawing.body.iter().zip(&first.outsides_mm).all(|(step, own)| (own - step.diameter_mm).abs() < 1e-6);
    let coarse =
        first.outsides_mm.iter().chain(first.flange.as_ref().map(|f| &f.mean_mm)).all(|mm| is_coarse(*mm));
    // A batch's flanges differ as its outsides do: told coarser than those, and all the drawing's, they are the drawing's figure.
    let as_drawn = |m: &&MeasuredSleeve| {
        let pair = m.flange.zip(drawing.flange());
        pair.is_some_and(|(own, drawn)| {
            own.range_mm.iter().all(|mm| (mm - drawn.thickness_mm).abs() < 1e-6) && is_coarse(own.mean_mm)
        })
    };
    let finer = |m: &MeasuredSleeve| m.outsides_mm.iter().any(|mm| !is_coarse(*mm));
    let flanges = !alike && own.iter().all(as_drawn) && own.iter().any(|m| finer(m));
    (alike || flanges).then(|| Suspicion {
        code: Code::Copied,
        verdict: if coarse && !drawn && !flanges { Verdict::Go } else { Verdict::Hold },
        subject: Subject::whole(format!("sleeve {}", plain(&asked.job.sleeves[sleeve].name, 40))),
        found: if flanges {
            say!(
                "all {} flanges that were measured of it have the drawing's thickness to the last digit",
                own.len()
            )
        } else {
            say!("all {} that were measured of it have the same figures to the last digit", own.len())
        },
        likely: "the drawing's figures, or one sleeve's, written down for all".into(),
        ask: "was each of these sleeves measured?".into(),
        evidence: figures([("sleeves", count(own.len()))]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// The most that readings of one outside differ, mm: a thin sleeve stands oval by that in the hand, and its pocket makes it round.
/// Common practice, no source.
const TWICE_MM: f64 = 0.03;

/// Readings round one flange differ by no more, mm: its ledge is cut for their mean, and it stands proud by as much elsewhere, which
/// is what one sleeve's protrusion may differ by. Common practice, no source.
const FLANGE_TWICE_MM: f64 = 0.013;

/// The suspicion of a sleeve whose readings of one outside, or of its flange, differ: its pocket would be cut for their mean,
/// which is no real size.
fn twice(asked: &Asked<'_>, own: &MeasuredSleeve) -> Option<Suspicion> {
    let flange = own.flange.map_or(0.0, |f| f.range_mm[1] - f.range_mm[0]);
    let is_flange = flange > FLANGE_TWICE_MM + 1e-9;
    let (of, apart, most) = if is_flange {
        ("of its flange", flange, FLANGE_TWICE_MM)
    } else {
        ("of one of its outsides", own.apart_mm, TWICE_MM)
    };
    let number = plain(&own.number, 30);
    (apart > most + 1e-9).then(|| Suspicion {
        code: Code::ReadTwice,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("sleeve {number}")),
        found: say!("readings {of} differ by {}", mm(apart, 3)),
        likely: if is_flange {
            "a wrong digit, two sleeves under one number, or a flange that is not parallel".into()
        } else {
            "a wrong digit, two sleeves under one number, or one that is out of round".into()
        },
        ask: say!("measure sleeve {number} again, in the place of its old rows"),
        evidence: figures([("apart", apart), ("most", most)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// A flange this far from all others of its set, which agree within half of it, is one kept for a deeper ledge or a
/// slip, mm: as wide as what a flange may stand proud by is. Common practice, no source.
const FLANGE_MM: f64 = 0.03;

/// Flanges of a whole set are a micrometer off its zero, or another drawing's, where they are beyond the drawing's tolerance by over this
/// share of what a flange may stand proud by: a zero off by as much sinks or lifts every one out of its window. Common practice, no
/// source.
const OF_WINDOW: f64 = 0.5;

/// No less than this is asked about of a set's flanges, mm. Common practice, no source.
const SET_OFF_MM: f64 = 0.01;

/// The outsides of a whole set beyond a tight register's tolerance by over this, mm, and all to one side. Common practice, no source.
const SET_OUTSIDE_MM: f64 = 0.01;

/// Sleeves that must agree to count as a set.
const SET: usize = 3;

/// A flange of a set that is unlike most others: its ledge is cut for it, and a slip sinks or lifts the sleeve.
fn flange_off(asked: &Asked<'_>, own: &MeasuredSleeve) -> Option<Suspicion> {
    let thickness = own.flange?.mean_mm;
    let set = asked.job.measured.iter().filter(|m| m.sleeve == own.sleeve && m.number != own.number);
    let others: Vec<f64> = set.filter_map(|m| m.flange.map(|f| f.mean_mm)).collect();
    let [least, most] = ends(&others)?;
    let beyond = (thickness - most).max(least - thickness);
    let alone = most - least <= FLANGE_MM / 2.0 && beyond > FLANGE_MM + 1e-9;
    // Two that slipped alike: most of the others agree, and no two flanges within the drawing's tolerance differ so.
    let middle = median(others.clone());
    let agree = others.iter().filter(|other| (*other - middle).abs() <= FLANGE_MM / 2.0).count();
    let unlike = (thickness - middle).abs() > apart_mm(asked, own.sleeve)? + 1e-9;
    if others.len() < SET || !(alone || (unlike && 2 * agree > others.len())) {
        return None;
    }
    let number = plain(&own.number, 30);
    Some(Suspicion {
        code: Code::SleeveOff,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("sleeve {number}")),
        found: if alone {
            say!(
                "its flange measures {}, all others of its set {} to {}",
                before_mm(thickness, 3),
                before_mm(least, 3),
                mm(most, 3)
            )
        } else {
            say!(
                "its flange measures {}, and most others of its set about {}",
                before_mm(thickness, 3),
                mm(middle, 3)
            )
        },
        likely: "a wrong digit, or a sleeve kept for a deeper ledge".into(),
        ask: say!("measure the flange of sleeve {number} again"),
        evidence: figures([("size", thickness), ("least", least), ("most", most)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// The most that two flanges of one drawing are apart before one of them is asked about, mm: what its tolerance lets them, and no less
/// than `FLANGE_MM`. `None` of a sleeve without a flange.
fn apart_mm(asked: &Asked<'_>, sleeve: usize) -> Option<f64> {
    let drawn = asked.job.sleeves.get(sleeve)?.flange()?;
    Some(FLANGE_MM.max(2.0 * drawn.tolerance_mm))
}

/// Flanges of a set that lie farther apart than the drawing lets them, and of which none can be named: two halves of a set measured with
/// two zeros.
fn flanges_apart(asked: &Asked<'_>, sleeve: usize) -> Option<Suspicion> {
    let drawing = asked.job.sleeves.get(sleeve)?;
    let tolerance = drawing.flange()?.tolerance_mm;
    let own: Vec<&MeasuredSleeve> = asked.job.measured.iter().filter(|m| m.sleeve == sleeve).collect();
    let sizes: Vec<f64> = own.iter().filter_map(|m| m.flange.map(|f| f.mean_mm)).collect();
    let [least, most] = ends(&sizes)?;
    let allowed = FLANGE_MM + 2.0 * tolerance;
    let named = || own.iter().any(|m| flange_off(asked, m).is_some());
    (sizes.len() > SET && most - least > allowed + 1e-9 && !named()).then(|| Suspicion {
        code: Code::SleeveOff,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("sleeve {}", plain(&drawing.name, 40))),
        found: say!(
            "its flanges measure {} to {}, and the drawing lets them differ by {}",
            before_mm(least, 3),
            before_mm(most, 3),
            mm(2.0 * tolerance, 3)
        ),
        likely: "a micrometer whose zero moved between two sleeves, or sleeves of two drawings".into(),
        ask: "set the micrometer by its standard and measure the flanges again".into(),
        evidence: figures([("least", least), ("most", most), ("allowed", allowed)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// The flanges of a set that together measure another thickness than the drawing's: every ledge is cut for them.
fn set_off(asked: &Asked<'_>, sleeve: usize) -> Option<Suspicion> {
    let drawing = &asked.job.sleeves[sleeve];
    let drawn = drawing.flange()?;
    let own = asked.job.measured.iter().filter(|m| m.sleeve == sleeve);
    let measured: Vec<f64> = own.filter_map(|m| m.flange.map(|f| f.mean_mm)).collect();
    let middle = Some(median(measured.clone())).filter(|_| measured.len() >= SET)?;
    let beyond = (middle - drawn.thickness_mm).abs() - drawn.tolerance_mm;
    let window = drawn.protrusion_max_mm - drawn.protrusion_min_mm;
    (beyond > (OF_WINDOW * window).max(SET_OFF_MM) + 1e-9).then(|| {
        let found = say!(
            "the middle one of its {} flanges measures {}, the drawing has {}, and the tolerance is passed by {}",
            measured.len(),
            before_mm(middle, 3),
            before_mm(drawn.thickness_mm, 3),
            mm(beyond, 3)
        );
        of_set(asked, drawing, "flange", found, [middle, drawn.thickness_mm, beyond])
    })
}

/// The tight register of a set that measures another size than the drawing's: every pocket is finished to what was measured, and a
/// micrometer off its zero takes that off the fit of each.
fn outsides_off(asked: &Asked<'_>, sleeve: usize) -> Option<Suspicion> {
    let drawing = &asked.job.sleeves[sleeve];
    let own: Vec<&MeasuredSleeve> = asked.job.measured.iter().filter(|m| m.sleeve == sleeve).collect();
    let tight = drawing.body.iter().enumerate().filter(|(_, step)| !step.wet && step.interference_mm > 0.0);
    let (step, middle, beyond) = tight
        .filter_map(|(at, step)| {
            let sizes: Vec<f64> = own.iter().filter_map(|m| m.outsides_mm.get(at).copied()).collect();
            let middle = Some(median(sizes.clone())).filter(|_| sizes.len() >= SET)?;
            let by = middle - step.diameter_mm;
            let all = sizes.iter().all(|size| (size - step.diameter_mm) * by > 0.0);
            all.then_some((step, middle, by.abs() - step.tolerance_mm))
        })
        .max_by(|a, b| a.2.total_cmp(&b.2))?;
    (beyond > SET_OUTSIDE_MM + 1e-9).then(|| {
        let found = say!(
            "the middle one of its {} measures {} over its {}, the drawing has {}, and the tolerance is passed by {}",
            own.len(),
            before_mm(middle, 3),
            plain(&step.name, 30),
            before_mm(step.diameter_mm, 3),
            mm(beyond, 3)
        );
        of_set(asked, drawing, "sleeve", found, [middle, step.diameter_mm, beyond])
    })
}

/// The question about a whole set: what of it is to be measured again, and its middle figure, the drawing's and how far beyond the
/// tolerance that is, mm.
fn of_set(
    asked: &Asked<'_>,
    drawing: &Sleeve,
    again: &str,
    found: Sentence,
    [middle, drawn, beyond]: [f64; 3],
) -> Suspicion {
    Suspicion {
        code: Code::SleeveOff,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("sleeve {}", plain(&drawing.name, 40))),
        found,
        likely: "a micrometer off its zero, or another sleeve's drawing".into(),
        ask: say!(
            "set the micrometer by its standard and measure one {again} again; where all are so, write what they measure into the \
             sleeve's file"
        ),
        evidence: figures([("middle", middle), ("drawn", drawn), ("beyond", beyond)]),
        cylinders: asked.job.block.cylinders().into(),
    }
}

fn off(asked: &Asked<'_>, own: &MeasuredSleeve) -> Option<Suspicion> {
    let drawing = asked.job.sleeves.get(own.sleeve)?;
    let of_set: Vec<&MeasuredSleeve> =
        asked.job.measured.iter().filter(|m| m.sleeve == own.sleeve && m.number != own.number).collect();
    let steps = drawing.body.iter().zip(&own.outsides_mm).enumerate();
    let (feature, size, drawn, beyond) = steps
        .map(|(at, (step, outside))| {
            let others: Vec<f64> = of_set.iter().filter_map(|m| m.outsides_mm.get(at).copied()).collect();
            (allowed_mm(step, &others), beyond(step, *outside))
        })
        .filter(|(allowed, (.., by))| *by > allowed + 1e-9)
        .map(|(_, off)| off)
        .max_by(|a, b| a.3.total_cmp(&b.3))?;
    let number = plain(&own.number, 30);
    Some(Suspicion {
        code: Code::SleeveOff,
        verdict: Verdict::Hold,
        subject: Subject::whole(format!("sleeve {number}")),
        found: say!(
            "its {} measures {}, the drawing has {}, and the tolerance is passed by {}",
            plain(feature, 30),
            before_mm(size, 3),
            before_mm(drawn, 3),
            mm(beyond, 3)
        ),
        likely: "a wrong digit, another feature's figure, or another sleeve".into(),
        ask: say!("measure sleeve {number} again: what is its {}?", plain(feature, 30)),
        evidence: figures([("size", size), ("drawn", drawn), ("beyond", beyond)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// That fewer sleeves were measured than there are bores, so that none gets a pocket of its own: a note, and a hold where one of
/// those measured is not within its drawing, to which all are cut.
fn few(asked: &Asked<'_>, sleeve: usize) -> Option<Suspicion> {
    let drawing = &asked.job.sleeves[sleeve];
    let own: Vec<&MeasuredSleeve> = asked.job.measured.iter().filter(|m| m.sleeve == sleeve).collect();
    let bores = asked.job.block.banks.iter().map(|b| b.sites.len()).sum::<usize>();
    if own.is_empty() || own.len() >= bores {
        return None;
    }
    let off = |m: &&MeasuredSleeve| {
        let flange = m.flange.zip(drawing.flange());
        worst(drawing, m).is_some_and(|(.., by)| by > 1e-9)
            || flange.is_some_and(|(own, drawn)| {
                (own.mean_mm - drawn.thickness_mm).abs() > drawn.tolerance_mm + 1e-9
            })
    };
    let off: Vec<String> = own.iter().copied().filter(|m| off(m)).map(|m| plain(&m.number, 30)).collect();
    let measured = say!(
        "{} sleeves {} were measured for {bores} bores, so no bore gets a pocket of its own: all are cut to the drawing",
        own.len(),
        plain(&drawing.name, 40)
    );
    let held = !off.is_empty();
    Some(Suspicion {
        code: Code::SleevesFew,
        verdict: if held { Verdict::Hold } else { Verdict::Go },
        subject: Subject::whole("sleeves"),
        found: if held {
            say!("{measured}, and of these {} is not within it", off.join(", "))
        } else {
            measured
        },
        likely: "one left out of the table".into(),
        ask: if held {
            "measure the rest, and every bore is cut for its own sleeve".into()
        } else {
            "measure the rest, or cut to the drawing on purpose".into()
        },
        evidence: figures([("measured", count(own.len())), ("bores", count(bores))]),
        cylinders: if held { asked.job.block.cylinders() } else { Vec::new() }.into(),
    })
}
