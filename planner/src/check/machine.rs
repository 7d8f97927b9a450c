//! Checks a machine description.

use super::checker::Checker;
use crate::files::{
    BarWord, ListUnitsWord, MACHINE_FORMAT, MachineFile, MillWord, ToolDiameter, ToolFile, ToolWord,
};
use crate::job::{Cut, Hone, Machine, Milled, MillimetresWord, Tool, ToolKind};
use crate::material::{self, Material};
use crate::plan::{InchesWord, ListUnits};
use crate::read::fault::{Fault, plain};
use crate::read::given::{At, Length, Number};
use crate::read::quantity as q;
use crate::read::source::Source;

/// Stiffness of a spindle unless stated, N/mm. Common practice of a stiff machine, no source.
const STIFFNESS_N_PER_MM: f64 = 20_000.0;
/// Modulus of elasticity of a steel bar, MPa (from memory).
const STEEL_MPA: f64 = 206_000.0;
/// Modulus of elasticity of a tungsten heavy-metal bar, MPa (from memory).
const HEAVY_METAL_MPA: f64 = 340_000.0;
/// Step down of a cutter a turn unless stated, of its diameter. Common practice, no source.
const STEP_DOWN: f64 = 0.1;

/// The checked machine in mm, or its faults. `own` are metals described in the job's other files.
pub(super) fn check(source: &Source, file: &MachineFile, own: &[Material]) -> Result<Machine, Vec<Fault>> {
    let mut c = Checker::new(source, file.units);
    match machine(&mut c, file, own) {
        Some(machine) if c.faults.is_empty() => Ok(machine),
        _ => Err(c.faults),
    }
}

/// The checked machine in mm; `None` where a value is wrong, which is told. `own` are metals that tools may name
/// beside the built-in ones.
fn machine(c: &mut Checker<'_>, file: &MachineFile, own: &[Material]) -> Option<Machine> {
    c.format(&file.format, MACHINE_FORMAT);
    let name = c.name("name", &file.name);
    let coordinate = |c: &mut Checker<'_>, key: &str, v: &At<Length>| c.length(key, v, q::COORDINATE);
    let x = c.range("travel.x", &file.travel.x, coordinate);
    let y = c.range("travel.y", &file.travel.y, coordinate);
    let z = c.range("travel.z", &file.travel.z, coordinate);
    let rpm = c.range("spindle.rpm", &file.spindle.rpm, |c, key, v: &At<Number>| c.number(key, v, q::RPM));
    let power = file.spindle.power.as_ref().map(|p| c.number("spindle.power", p, q::POWER));
    let stiffness = file.spindle.stiffness.as_ref().map(|k| c.number("spindle.stiffness", k, q::STIFFNESS));
    let nose = c.length_if_given("spindle.nose", file.spindle.nose.as_ref(), q::TOOL_DIAMETER);
    let feed = c.length("feed", &file.feed, q::FEED);
    let clearance = c.length("clearance", &file.clearance, q::RAPID_CLEARANCE);
    let stop_clearance = c.length_if_given("stop_clearance", file.stop_clearance.as_ref(), q::STOP_CLEARANCE);
    let words = unit_words(c, file);
    if file.tools.value.is_empty() {
        c.fault(file.tools.place, "tools", "no tools".into(), "at least one tool");
    }
    let mut names: Vec<String> = Vec::new();
    let tools: Vec<Option<Tool>> =
        file.tools.value.iter().enumerate().map(|(i, t)| tool(c, i, t, own, &mut names)).collect();
    let hone = match &file.hone {
        None => Some(None),
        Some(hone) => {
            let rpm = c.range("hone.rpm", &hone.rpm, |c, key, v: &At<Number>| c.number(key, v, q::RPM));
            let strokes =
                c.range("hone.strokes", &hone.strokes, |c, key, v: &At<Number>| c.number(key, v, q::STROKES));
            rpm.zip(strokes).map(|(rpm, strokes)| Some(Hone { rpm, strokes }))
        }
    };
    Some(Machine {
        name: name?,
        travel_mm: [x?, y?, z?],
        rpm: rpm?,
        power_kw: match power {
            None => None,
            Some(power) => Some(power?),
        },
        stiffness_n_per_mm: stiffness.unwrap_or(Some(STIFFNESS_N_PER_MM))?,
        nose_mm: nose?,
        mill: file
            .mill
            .iter()
            .map(|part| match part.value {
                MillWord::Flange => Milled::Flange,
                MillWord::Wet => Milled::Wet,
                MillWord::Register => Milled::Register,
            })
            .collect(),
        feed_mm_per_min: feed?,
        millimetres_word: words?.0,
        list_units: words?.1,
        clearance_mm: clearance?,
        stop_clearance_mm: stop_clearance?,
        tools: tools.into_iter().collect::<Option<_>>()?,
        hone: hone?,
    })
}

/// The word for millimetres and what lists are in. Controls know G20 with G21 or G70 with G71, never one of each.
fn unit_words(c: &mut Checker<'_>, file: &MachineFile) -> Option<(MillimetresWord, ListUnits)> {
    let (words, known) = (&file.words, c.faults.len());
    let unknown = |c: &mut Checker<'_>, key: &str, word: &At<String>, expected: &str| {
        c.fault(word.place, key, format!("`{}`", plain(word.value.trim(), 30)), expected);
    };
    let inches = words.inches.as_ref().and_then(|word| match word.value.trim() {
        "G20" => Some(InchesWord::G20),
        "G70" => Some(InchesWord::G70),
        _ => {
            unknown(c, "words.inches", word, "`G20` or `G70`");
            None
        }
    });
    let own = match inches {
        Some(InchesWord::G70) => MillimetresWord::G71,
        Some(InchesWord::G20) | None => MillimetresWord::G21,
    };
    let millimetres = match &words.millimetres {
        None => own,
        Some(word) => match word.value.trim() {
            "G21" | "G71" if inches.is_some() && word.value.trim() != own.word() => {
                unknown(c, "words.millimetres", word, "the pair `G20` and `G21`, or `G70` and `G71`");
                own
            }
            "G21" => MillimetresWord::G21,
            "G71" => MillimetresWord::G71,
            _ => {
                unknown(c, "words.millimetres", word, "`G21` or `G71`");
                own
            }
        },
    };
    let units = match &file.lists {
        Some(lists) if lists.value == ListUnitsWord::In => {
            if words.inches.is_none() {
                let expected = "the machine's word for inches, `G20` or `G70`, since `lists` is `in`";
                c.fault(lists.place, "words.inches", "nothing".into(), expected);
            }
            ListUnits::In(inches.unwrap_or(InchesWord::G20))
        }
        _ => ListUnits::Mm,
    };
    (c.faults.len() == known).then_some((millimetres, units))
}

/// One tool of the machine in mm, its name added to `names`; `None` where a value is wrong, which is told. `own`
/// are metals that may stand in its `cuts` beside the built-in ones.
fn tool(
    c: &mut Checker<'_>,
    index: usize,
    file: &ToolFile,
    own: &[Material],
    names: &mut Vec<String>,
) -> Option<Tool> {
    let key = format!("tools[{index}]");
    let at = |field: &str| format!("{key}.{field}");
    let name = c.name(&at("name"), &file.name);
    if let Some(name) = &name {
        if names.contains(name) {
            c.fault(
                file.name.place,
                &at("name"),
                format!("the tool `{}` a second time", plain(name, 40)),
                "a name for each tool",
            );
        }
        names.push(name.clone());
    }
    let diameter = match &file.diameter.value {
        ToolDiameter::Range(ends) => {
            c.range(&at("diameter"), ends, |c, key, v: &At<Length>| c.length(key, v, q::TOOL_DIAMETER))
        }
        ToolDiameter::One(one) => {
            let one = At { value: one.clone(), place: file.diameter.place };
            c.length(&at("diameter"), &one, q::TOOL_DIAMETER).map(|one| [one, one])
        }
    };
    if let (Some([least, most]), ToolWord::Milling) = (diameter, file.kind.value)
        && least < most
    {
        let found = format!("a range from {least} mm to {most} mm");
        c.fault(file.diameter.place, &at("diameter"), found, "one diameter: a cutter cannot be set");
    }
    let reach = c.length(&at("reach"), &file.reach, q::REACH);
    let bar = c.length_if_given(&at("bar"), file.bar.as_ref(), q::TOOL_DIAMETER);
    let nose = c.length_if_given(&at("nose_radius"), file.nose_radius.as_ref(), q::NOSE_RADIUS);
    let step_down = c.length_if_given(&at("step_down"), file.step_down.as_ref(), q::CUT_DEPTH);
    let teeth = match &file.teeth {
        None => Some(1.0),
        Some(given) => match c.number(&at("teeth"), given, q::TEETH) {
            Some(teeth) if teeth.fract() != 0.0 => {
                c.fault(given.place, &at("teeth"), teeth.to_string(), "a whole number of teeth");
                None
            }
            teeth => teeth,
        },
    };
    let mut cuts = Vec::new();
    for (metal, cut) in &file.cuts {
        let key = format!("{}.{}", at("cuts"), plain(metal, 40));
        if material::built_in(metal).is_none() && !own.iter().any(|m| m.name == *metal) {
            c.unknown_material(c.key_place(cut.place, metal), &key, metal, own);
        }
        let speed = c.speed(&format!("{key}.speed"), &cut.value.speed);
        let feed = c.length(&format!("{key}.feed"), &cut.value.feed, q::FEED_PER_REV);
        let depth = c.length(&format!("{key}.depth"), &cut.value.depth, q::CUT_DEPTH);
        if let (Some(speed), Some(feed), Some(depth)) = (speed, feed, depth) {
            cuts.push(Cut {
                material: metal.clone(),
                speed_m_per_min: speed,
                feed_mm: feed,
                depth_mm: depth,
            });
        }
    }
    Some(Tool {
        name: name?,
        kind: match file.kind.value {
            ToolWord::Boring => ToolKind::Boring,
            ToolWord::Milling => ToolKind::Milling,
        },
        diameter_mm: diameter?,
        reach_mm: reach?,
        bar_mm: bar?,
        bar_elastic_mpa: match file.bar_material {
            BarWord::Steel => STEEL_MPA,
            BarWord::HeavyMetal => HEAVY_METAL_MPA,
        },
        step_down_mm: step_down?.unwrap_or(diameter?[0] * STEP_DOWN),
        teeth: teeth?,
        nose_radius_mm: nose?,
        cuts,
    })
}
