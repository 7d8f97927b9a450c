//! Checks a sleeve: its steps go down and in, its flange stands out, its rings lie in metal.

use super::checker::Checker;
use super::stands;
use crate::files::{KindWord, SLEEVE_FORMAT, SleeveFile, StepFile};
use crate::job::iso286;
use crate::job::pocket;
use crate::job::{Depths, Flange, Foot, ORing, Sleeve, SleeveKind, Stands, Step};
use crate::material::Material;
use crate::read::fault::{Fault, plain};
use crate::read::quantity as q;
use crate::read::source::Source;

/// Either side of a sleeve's outside unless stated, mm. Common practice, no source.
const BODY_TOLERANCE_MM: f64 = 0.004;
/// A flange that lies less deep in the deck than this is taken for a slip, mm. Common practice, no source.
const LEAST_RECESS_MM: f64 = 0.5;
/// A gland shallower than this holds no ring, mm. Common practice, no source.
const LEAST_GLAND_MM: f64 = 0.2;

/// Most steps of a sleeve: each is held against each of a neighbour's, so the number is bounded.
const MOST_STEPS: usize = 40;

/// Equal diameters and depths may differ by rounding of a conversion, mm.
const SAME_MM: f64 = 1e-6;

/// A sleeve in mm, or its faults.
pub(super) fn check(
    source: &Source,
    file: &SleeveFile,
    own: &[Material],
    metals: &[Material],
    jacket: Option<Depths>,
) -> Result<Sleeve, Vec<Fault>> {
    let mut c = Checker::new(source, file.units).with_metals(metals);
    let checked = sleeve(&mut c, file, own);
    if let (Some(sleeve), Some(jacket)) = (&checked, jacket) {
        wet_in_jacket(&mut c, file, sleeve, jacket);
    }
    match checked {
        Some(sleeve) if c.faults.is_empty() => Ok(sleeve),
        _ => Err(c.faults),
    }
}

/// The checked sleeve in mm, its steps top down; `None` where a value is wrong. What does not agree between its
/// steps and what it stands on is told.
fn sleeve(c: &mut Checker<'_>, file: &SleeveFile, own: &[Material]) -> Option<Sleeve> {
    c.format(&file.format, SLEEVE_FORMAT);
    let name = c.name("name", &file.name);
    let material = c.material("material", &file.material, own);
    let bore = c.length("bore", &file.bore, q::BORE);
    let length = c.length("length", &file.length, q::LENGTH);
    let stands = stands::stands(c, file);
    if file.body.value.is_empty() {
        c.fault(file.body.place, "body", "no steps".into(), "at least one step");
    }
    if file.body.value.len() > MOST_STEPS {
        let found = format!("{} steps", file.body.value.len());
        c.fault(file.body.place, "body", found, &format!("at most {MOST_STEPS}"));
        return None;
    }
    let kind = match file.kind.value {
        KindWord::Wet => SleeveKind::Wet,
        KindWord::Dry => SleeveKind::Dry,
    };
    let body: Vec<Option<Step>> =
        file.body.value.iter().enumerate().map(|(i, step)| self::step(c, i, step, kind)).collect();
    let body: Vec<Step> = body.into_iter().collect::<Option<_>>()?;
    let mut sleeve = Sleeve {
        name: name?,
        kind,
        material: material?,
        bore_mm: bore?,
        length_mm: length?,
        stands: stands?,
        body,
    };
    order(c, file, &sleeve);
    match sleeve.stands {
        Stands::Flange(flange) => order_of_flange(c, file, &sleeve, &flange),
        Stands::Foot(foot) => order_of_foot(c, file, &mut sleeve, &foot),
    }
    Some(sleeve)
}

/// One step of a sleeve's body with its O-rings, in mm; `None` where a value is wrong, which is told.
fn step(c: &mut Checker<'_>, index: usize, step: &StepFile, kind: SleeveKind) -> Option<Step> {
    let key = format!("body[{index}]");
    let at = |field: &str| format!("{key}.{field}");
    let name = c.name(&at("name"), &step.name);
    let diameter = c.length(&at("diameter"), &step.diameter, q::BORE);
    let to = c.length(&at("to"), &step.to, q::DEPTH);
    let sits = sits(c, &key, step, diameter);
    let wet = step.wet.as_ref().is_some_and(|w| w.value);
    if let (true, SleeveKind::Dry, Some(given)) = (wet, kind, &step.wet) {
        c.fault(given.place, &at("wet"), "a wet step of a dry sleeve".into(), "kind: wet, or no wet step");
    }
    let rings: Vec<Option<ORing>> = step
        .o_rings
        .iter()
        .enumerate()
        .map(|(k, ring)| {
            let at = |field: &str| format!("{key}.o_rings[{k}].{field}");
            let depth = c.length(&at("depth"), &ring.depth, q::DEPTH);
            let groove = c.length(&at("groove_diameter"), &ring.groove_diameter, q::BORE);
            let width = c.length(&at("groove_width"), &ring.groove_width, q::GROOVE_WIDTH);
            let cord = c.length(&at("cord"), &ring.cord, q::CORD);
            let inside = c.length(&at("inside"), &ring.inside, q::BORE);
            Some(ORing {
                depth_mm: depth?,
                groove_diameter_mm: groove?,
                groove_width_mm: width?,
                cord_mm: cord?,
                inside_mm: inside?,
            })
        })
        .collect();
    Some(Step {
        name: name?,
        diameter_mm: sits?.outside_mm,
        to_mm: to?,
        interference_mm: sits?.interference_mm,
        drawn_tight: step.interference.is_some(),
        tolerance_mm: sits?.tolerance_mm,
        pocket_tolerance_mm: sits?.pocket_tolerance_mm,
        code: step.fit.as_ref().map(|fit| fit.value.trim().to_owned()),
        wet,
        o_rings: rings.into_iter().collect::<Option<_>>()?,
    })
}

/// A wet step stands in the coolant of the block's jacket, not in the metal above or below it.
fn wet_in_jacket(c: &mut Checker<'_>, file: &SleeveFile, sleeve: &Sleeve, jacket: Depths) {
    let mut from = sleeve.flange().map_or(0.0, |f| f.thickness_mm);
    for (i, (step, given)) in sleeve.body.iter().zip(&file.body.value).enumerate() {
        let outside = step.to_mm <= jacket.from_mm || from >= jacket.to_mm;
        if step.wet && outside {
            let side = if from >= jacket.to_mm { "below" } else { "above" };
            let found = format!("a wet step from {from} mm to {} mm, {side} the jacket", step.to_mm);
            let expected =
                format!("wet steps within the block's jacket, {} mm to {} mm", jacket.from_mm, jacket.to_mm);
            c.fault(given.to.place, &format!("body[{i}].to"), found, &expected);
        }
        from = step.to_mm;
    }
}

/// How a step sits in its pocket.
#[derive(Debug, Clone, Copy)]
struct Sits {
    /// Outside of the sleeve, at the middle of its tolerance.
    outside_mm: f64,
    /// At the middle of both tolerances.
    interference_mm: f64,
    /// Either side of the outside.
    tolerance_mm: f64,
    /// Either side of the pocket, where a code sets it.
    pocket_tolerance_mm: Option<f64>,
}

/// How one step sits in its pocket, from its interference, its clearance or its ISO 286 fit, exactly one of them;
/// `None` where that is wrong, which is told at `key`. `diameter` is the step's outside as typed, mm.
fn sits(c: &mut Checker<'_>, key: &str, step: &StepFile, diameter: Option<f64>) -> Option<Sits> {
    let at = |field: &str| format!("{key}.{field}");
    let tolerance = c.length_if_given(&at("tolerance"), step.tolerance.as_ref(), q::TOLERANCE);
    let plain_fit = |interference_mm: f64| {
        Some(Sits {
            outside_mm: diameter?,
            interference_mm,
            tolerance_mm: tolerance?.unwrap_or(BODY_TOLERANCE_MM),
            pocket_tolerance_mm: None,
        })
    };
    match (&step.interference, &step.clearance, &step.fit) {
        (Some(tight), None, None) => {
            c.length(&at("interference"), tight, q::INTERFERENCE).and_then(plain_fit)
        }
        (None, Some(loose), None) => {
            c.length(&at("clearance"), loose, q::CLEARANCE).and_then(|gap| plain_fit(-gap))
        }
        (None, None, Some(code)) => {
            if let Some(tolerance) = &step.tolerance {
                let found = "a tolerance beside a fit code".into();
                c.fault(tolerance.place, &at("tolerance"), found, "the fit alone: it sets both tolerances");
                return None;
            }
            let nominal = diameter?;
            let expected = format!(
                "a fit of ISO 286 such as `H7/p6`: a hole before a shaft of {}, grades 5 to 11, up to 500 mm",
                iso286::LETTERS
            );
            let limits = iso286::Code::parse(&code.value)
                .and_then(|fit| Some((fit.hole.deviations(nominal)?, fit.shaft.deviations(nominal)?)));
            let Some((hole, shaft)) = limits else {
                c.fault(code.place, &at("fit"), format!("`{}`", plain(&code.value, 30)), &expected);
                return None;
            };
            Some(Sits {
                outside_mm: nominal + shaft.middle_mm(),
                interference_mm: shaft.middle_mm() - hole.middle_mm(),
                tolerance_mm: shaft.half_mm(),
                pocket_tolerance_mm: Some(hole.half_mm()),
            })
        }
        (None, None, None) => {
            let found = "neither interference nor clearance".into();
            c.fault(step.name.place, key, found, "how the step sits in its pocket");
            None
        }
        (Some(_), Some(loose), _) => {
            let found = "a clearance beside an interference".into();
            c.fault(loose.place, &at("clearance"), found, "one or the other");
            None
        }
        (_, _, Some(code)) => {
            let found = "a fit beside an interference or clearance".into();
            c.fault(code.place, &at("fit"), found, "one or the other");
            None
        }
    }
}

/// Each pocket no wider and each step deeper than the one above; the wall and the rings inside the metal.
fn order(c: &mut Checker<'_>, file: &SleeveFile, sleeve: &Sleeve) {
    let pocket = Step::pocket_mm;
    let mut above =
        sleeve.flange().map(|flange| (flange.diameter_mm + flange.clearance_mm, "the flange".to_owned()));
    let mut from = sleeve.flange().map_or(0.0, |f| f.thickness_mm);
    for (i, (step, given)) in sleeve.body.iter().zip(&file.body.value).enumerate() {
        let key = format!("body[{i}]");
        let again = sleeve.body.iter().take(i).any(|s| s.name == step.name);
        let taken: &[&str] = if sleeve.foot().is_some() {
            &["flange", "thickness", pocket::FOOT]
        } else {
            &["flange", "thickness"]
        };
        if again || taken.contains(&step.name.as_str()) {
            let found = format!(
                "a step called `{}`{}",
                plain(&step.name, 40),
                if again { " a second time" } else { "" }
            );
            let (most, last) = taken.split_at(taken.len() - 1);
            let others = format!("{} and {}", most.join(", "), last.concat());
            let expected = format!("a name of its own for each step, other than {others}");
            c.fault(given.name.place, &format!("{key}.name"), found, &expected);
        }
        if let Some((wide, what)) = above.filter(|(wide, _)| pocket(step) > wide + SAME_MM) {
            let found = format!("a pocket of {:.3} mm below {what} of {wide:.3} mm", pocket(step));
            c.fault(
                given.diameter.place,
                &format!("{key}.diameter"),
                found,
                "a pocket no wider than the one above it",
            );
        }
        if step.to_mm <= from + SAME_MM {
            let found = format!("{} mm, where the step above ends at {from} mm", step.to_mm);
            c.fault(
                given.to.place,
                &format!("{key}.to"),
                found,
                "steps listed from the flange down, each ending deeper",
            );
        }
        if step.diameter_mm <= sleeve.bore_mm {
            let found = format!("{} mm round a bore of {} mm", step.diameter_mm, sleeve.bore_mm);
            c.fault(
                given.diameter.place,
                &format!("{key}.diameter"),
                found,
                "an outside larger than the bore",
            );
        }
        for (k, (ring, at)) in step.o_rings.iter().zip(&given.o_rings).enumerate() {
            let key = format!("{key}.o_rings[{k}]");
            let half = ring.groove_width_mm / 2.0;
            if ring.depth_mm - half < from || ring.depth_mm + half > step.to_mm {
                let found =
                    format!("a groove at {} mm in a step from {from} mm to {} mm", ring.depth_mm, step.to_mm);
                c.fault(at.depth.place, &format!("{key}.depth"), found, "a groove inside its step");
            }
            if step.diameter_mm > sleeve.bore_mm && ring.groove_diameter_mm >= step.diameter_mm {
                let found = format!("{} mm in a step of {} mm", ring.groove_diameter_mm, step.diameter_mm);
                c.fault(
                    at.groove_diameter.place,
                    &format!("{key}.groove_diameter"),
                    found,
                    "a groove smaller than its step",
                );
            }
            let gland = (pocket(step) - ring.groove_diameter_mm) / 2.0;
            if ring.groove_diameter_mm < step.diameter_mm && gland < LEAST_GLAND_MM {
                let found =
                    format!("{} mm under a pocket of {:.3} mm", ring.groove_diameter_mm, pocket(step));
                let expected = format!("a groove that leaves a gland at least {LEAST_GLAND_MM} mm deep");
                c.fault(at.groove_diameter.place, &format!("{key}.groove_diameter"), found, &expected);
            }
            if ring.groove_diameter_mm <= sleeve.bore_mm {
                let found = format!("{} mm over a bore of {} mm", ring.groove_diameter_mm, sleeve.bore_mm);
                c.fault(
                    at.groove_diameter.place,
                    &format!("{key}.groove_diameter"),
                    found,
                    "a groove that leaves a wall",
                );
            }
        }
        above = Some((pocket(step), format!("the step `{}`", plain(&step.name, 30))));
        from = step.to_mm;
    }
    if let (Some(last), Some(given)) = (sleeve.body.last(), file.body.value.last())
        && last.to_mm > sleeve.length_mm + SAME_MM
    {
        let key = format!("body[{}].to", sleeve.body.len() - 1);
        let found = format!("{} mm on a sleeve {} mm long", last.to_mm, sleeve.length_mm);
        c.fault(given.to.place, &key, found, "steps no deeper than the sleeve is long");
    }
}

/// Tells where a flange has no recess or no ledge, or its flats reach in to the pocket below.
fn order_of_flange(c: &mut Checker<'_>, file: &SleeveFile, sleeve: &Sleeve, flange: &Flange) {
    let Some(given) = &file.flange else { return };
    let (thick, proud) = (flange.thickness_mm, flange.protrusion_max_mm);
    if thick - proud < LEAST_RECESS_MM {
        let found = format!("{thick} mm, of which up to {proud} mm stand proud");
        let expected =
            format!("a flange at least {LEAST_RECESS_MM} mm thicker than it stands proud: it needs a recess");
        c.fault(given.thickness.place, "flange.thickness", found, &expected);
    }
    let Some(first) = sleeve.body.first().map(Step::pocket_mm) else { return };
    if let (Some(flats), Some(at)) = (flange.flats_mm, &given.flats)
        && (flats > flange.diameter_mm + SAME_MM || flats <= first)
    {
        let found = format!("{flats} mm across on a flange of {} mm", flange.diameter_mm);
        let expected =
            format!("flats no wider than the flange and wider than the pocket of {first:.3} mm below it");
        c.fault(at.place, "flange.flats", found, &expected);
    }
    if flange.diameter_mm <= first + SAME_MM {
        let found = format!("{} mm over a pocket of {first:.3} mm", flange.diameter_mm);
        let expected = "a flange that stands on a ledge: without one a sleeve can sink";
        c.fault(given.diameter.place, "flange.diameter", found, expected);
    }
}

/// Tells where a plain sleeve does not end with its pocket, or its step is not between the pocket and the sleeve's
/// bore; sets its length to the pocket's depth, and how far it stands proud.
fn order_of_foot(c: &mut Checker<'_>, file: &SleeveFile, sleeve: &mut Sleeve, foot: &Foot) {
    let (Some(given), Some(last)) = (&file.step, sleeve.body.last()) else { return };
    let (end, pocket) = (last.to_mm, last.pocket_mm());
    if foot.inside_mm >= pocket - SAME_MM {
        let found = format!("{} mm under a pocket of {pocket:.3} mm", foot.inside_mm);
        c.fault(
            given.inside.place,
            "step.inside",
            found,
            "a step narrower than the pocket: else nothing is left to stand on",
        );
    } else if foot.inside_mm <= sleeve.bore_mm {
        let found = format!("{} mm under a bore of {} mm", foot.inside_mm, sleeve.bore_mm);
        c.fault(given.inside.place, "step.inside", found, "a step wider than the sleeve's bore");
    }
    // A file may count what stands proud in the length or leave it out: length beyond the pocket's depth stands
    // proud.
    let over = sleeve.length_mm - end;
    if over > q::STAND.most + SAME_MM {
        let found = format!("{} mm, where the body ends at {end} mm", sleeve.length_mm);
        let expected = "a body that ends with the sleeve: it stands on its lower end";
        c.fault(file.length.place, "length", found, expected);
    }
    sleeve.stands = Stands::Foot(Foot { proud_mm: foot.proud_mm.max(over), ..*foot });
    sleeve.length_mm = end;
}
