//! Checks a block description.

use std::collections::BTreeSet;

use super::checker::Checker;
use crate::files::{BankFile, BlockFile, RotationWord};
use crate::job::{
    Bank, Block, CoolantHole, Depths, FireRing, JournalAxis, Liner, Main, Parent, Rotation, Site, Stud,
};
use crate::material::Material;
use crate::read::fault::plain;
use crate::read::fault::{Fault, Place};
use crate::read::given::{At, Length};
use crate::read::quantity as q;
use crate::read::source::Source;

/// Most cylinders of a block.
const MOST_CYLINDERS: usize = 16;

/// Two banks closer together than this share one deck that is not square to the bores, degrees: V blocks
/// with a deck to each bank start at about 45, narrow-angle blocks end at about 20. Common practice, no source.
const NARROW_DEG: f64 = 30.0;

/// Banks that do not add up to the stated angle by more than this are a typing error, degrees.
const ANGLE_SLACK_DEG: f64 = 0.01;

/// A block in mm, or its faults.
pub(super) fn check(source: &Source, file: &BlockFile, metals: &[Material]) -> Result<Block, Vec<Fault>> {
    let mut c = Checker::new(source, file.units).with_metals(metals);
    let block = block(&mut c, file);
    match block {
        Some(block) if c.faults.is_empty() => Ok(block),
        _ => Err(c.faults),
    }
}

fn block(c: &mut Checker<'_>, file: &BlockFile) -> Option<Block> {
    c.format(&file.format, "borewright/block/1");
    let name = c.name("name", &file.name);
    let bank_angle = c.angle("bank_angle", &file.bank_angle, q::BANK_ANGLE);
    let shared = Shared {
        bank_angle,
        deck_height: c.length("deck_height", &file.deck_height, q::DECK_HEIGHT),
        spacing: c.length_if_given("bore_spacing", file.bore_spacing.as_ref(), q::BORE_SPACING),
    };
    let journal_axis = journal_axis(c, file);
    let banks = banks(c, file, &shared);
    let parent = parent(c, file);
    let names: Vec<String> = file.banks.value.iter().map(|b| b.name.value.trim().to_owned()).collect();
    let studs = studs(c, file, &names);
    let coolant_holes = coolant_holes(c, file, &names);
    let fire_ring = fire_ring(c, file);
    Some(Block {
        name: name?,
        family: file.family.as_ref().map(|f| f.value.trim().to_owned()).filter(|f| !f.is_empty()),
        bank_angle_deg: bank_angle?,
        rotation: file.rotation.as_ref().map(|word| match word.value {
            RotationWord::Clockwise => Rotation::Clockwise,
            RotationWord::Anticlockwise => Rotation::Anticlockwise,
        }),
        journal_axis: journal_axis?,
        banks: banks?,
        parent: parent?,
        studs: studs?,
        studs_told: file.studs.is_some(),
        coolant_holes: coolant_holes?,
        coolant_holes_told: file.coolant_holes.is_some(),
        fire_ring: fire_ring?,
    })
}

/// What holds for every bank that does not say otherwise; `None` where it is faulty.
struct Shared {
    bank_angle: Option<f64>,
    deck_height: Option<f64>,
    /// `Some(None)` where the block states none.
    spacing: Option<Option<f64>>,
}

fn journal_axis(c: &mut Checker<'_>, file: &BlockFile) -> Option<JournalAxis> {
    let axis = &file.journal_axis;
    let housing_bore = c.length("journal_axis.housing_bore", &axis.housing_bore, q::HOUSING_BORE);
    let straightness = c.length("journal_axis.straightness", &axis.straightness, q::ALIGNMENT);
    let neighbour = c.length("journal_axis.neighbour", &axis.neighbour, q::ALIGNMENT);
    let along_datum = c.name("journal_axis.along_datum", &axis.along_datum);
    let mut mains = Vec::new();
    for (i, main) in axis.mains.value.iter().enumerate() {
        let key = format!("journal_axis.mains[{i}]");
        let name = c.name(&format!("{key}.name"), &main.name);
        if name.as_ref().is_some_and(|name| name.starts_with('#')) {
            let found = format!("`{}`", plain(main.name.value.trim(), 60));
            let expected = "a name that does not start with `#`: its rows in a table would be comments";
            c.fault(main.name.place, &format!("{key}.name"), found, expected);
        }
        let x = c.length(&format!("{key}.x"), &main.x, q::ALONG);
        if let (Some(name), Some(x_mm)) = (name, x) {
            if mains.iter().any(|m: &Main| m.name == name) {
                c.fault(
                    main.name.place,
                    &format!("{key}.name"),
                    format!("the main `{}` a second time", plain(&name, 60)),
                    "each main once",
                );
            }
            if mains.last().is_some_and(|m: &Main| m.x_mm >= x_mm) {
                c.fault(
                    main.x.place,
                    &format!("{key}.x"),
                    format!("{x_mm} mm"),
                    "mains listed front to rear, x growing",
                );
            }
            mains.push(Main { name, x_mm });
        }
    }
    if axis.mains.value.len() < 2 {
        let found = if axis.mains.value.is_empty() { "no mains".into() } else { "a single main".into() };
        c.fault(axis.mains.place, "journal_axis.mains", found, "at least two, which make the axis");
    }
    Some(JournalAxis {
        along_datum: along_datum?,
        housing_bore_mm: housing_bore?,
        straightness_mm: straightness?,
        neighbour_mm: neighbour?,
        mains,
    })
}

fn banks(c: &mut Checker<'_>, file: &BlockFile, shared: &Shared) -> Option<Vec<Bank>> {
    let bank_angle = shared.bank_angle;
    let given = &file.banks.value;
    if !(1..=2).contains(&given.len()) {
        let found = format!("{} banks", given.len());
        c.fault(file.banks.place, "banks", found, "one bank (inline) or two");
        return None;
    }
    narrow(c, file, bank_angle);
    let mut seen = BTreeSet::new();
    let banks: Vec<Option<Bank>> =
        given.iter().enumerate().map(|(i, bank)| self::bank(c, file, i, bank, shared, &mut seen)).collect();
    let banks: Vec<Bank> = banks.into_iter().collect::<Option<_>>()?;
    let cylinders: usize = banks.iter().map(|b| b.sites.len()).sum();
    if cylinders > MOST_CYLINDERS {
        c.fault(file.banks.place, "banks", format!("{cylinders} cylinders"), "1 to 16 cylinders");
    }
    if let ([one, other], Some(stated)) = (banks.as_slice(), bank_angle) {
        if one.name == other.name {
            c.fault(
                given[1].name.place,
                "banks[1].name",
                format!("the bank `{}` a second time", one.name),
                "a name for each bank",
            );
        }
        let between = (one.angle_deg - other.angle_deg).abs();
        if (between - stated).abs() > ANGLE_SLACK_DEG {
            let found = format!("banks {between} degrees apart");
            c.fault(
                file.bank_angle.place,
                "bank_angle",
                found,
                &format!("the bank_angle of {stated} degrees between them"),
            );
        }
    }
    if let ([only], Some(stated)) = (banks.as_slice(), bank_angle)
        && stated.abs() > ANGLE_SLACK_DEG
    {
        let found = format!("{stated} degrees with the one bank `{}`", only.name);
        c.fault(
            file.bank_angle.place,
            "bank_angle",
            found,
            "0 with one bank; a slanted bank says so in its own `angle`",
        );
    }
    Some(banks)
}

fn narrow(c: &mut Checker<'_>, file: &BlockFile, bank_angle: Option<f64>) {
    let Some(angle) = bank_angle else { return };
    if file.banks.value.len() == 2 && angle < NARROW_DEG {
        let help = "in a narrow-angle block one deck serves both banks and is not square to the bores; depths, \
                    ledges and limits here all rest on a deck square to its bores, so such a block is not planned";
        c.fault_with_help(
            file.bank_angle.place,
            "bank_angle",
            format!("{angle} degrees between two banks"),
            &format!("at least {NARROW_DEG} degrees, each bank with a deck of its own, square to its bores"),
            Some(help.into()),
        );
    }
}

/// Half the included angle to the engine's left for the bank called left (or the first), to the right for the other.
fn default_angle(file: &BlockFile, index: usize, included: f64) -> f64 {
    if file.banks.value.len() < 2 {
        return 0.0;
    }
    let word = |i: usize| file.banks.value.get(i).map(|b| b.name.value.trim().to_lowercase());
    let swapped = word(0).as_deref() == Some("right") || word(1).as_deref() == Some("left");
    if (index == 0) == swapped { included / 2.0 } else { -included / 2.0 }
}

fn bank(
    c: &mut Checker<'_>,
    file: &BlockFile,
    index: usize,
    bank: &BankFile,
    shared: &Shared,
    seen: &mut BTreeSet<u32>,
) -> Option<Bank> {
    let key = format!("banks[{index}]");
    let at = |field: &str| format!("{key}.{field}");
    let name = c.name(&at("name"), &bank.name);
    let angle = match &bank.angle {
        Some(angle) => c.angle(&at("angle"), angle, q::LEAN),
        None => shared.bank_angle.map(|included| default_angle(file, index, included)),
    };
    let deck_height = match &bank.deck_height {
        Some(own) => c.length(&at("deck_height"), own, q::DECK_HEIGHT),
        None => shared.deck_height,
    };
    let axis_offset = c.length_if_given(&at("axis_offset"), bank.axis_offset.as_ref(), q::AXIS_OFFSET);
    for (i, cylinder) in bank.cylinders.value.iter().enumerate() {
        let key = format!("{}[{i}]", at("cylinders"));
        if !(1..=99).contains(&cylinder.value) {
            c.fault(cylinder.place, &key, cylinder.value.to_string(), "a cylinder number from 1 to 99");
        }
        if !seen.insert(cylinder.value) {
            c.fault(
                cylinder.place,
                &key,
                format!("cylinder {} a second time", cylinder.value),
                "each cylinder once",
            );
        }
    }
    if bank.cylinders.value.is_empty() {
        c.fault(bank.cylinders.place, &at("cylinders"), "none".into(), "at least one cylinder");
    }
    let xs = bore_places(c, &key, bank, shared);
    let (xs, deck_height_mm, name) = (xs?, deck_height?, name?);
    Some(Bank {
        name,
        angle_deg: angle?,
        deck_height_mm,
        axis_offset_mm: axis_offset?.unwrap_or(0.0),
        sites: bank
            .cylinders
            .value
            .iter()
            .zip(xs)
            .map(|(n, x_mm)| Site { cylinder: n.value, x_mm })
            .collect(),
    })
}

fn bore_places(c: &mut Checker<'_>, key: &str, bank: &BankFile, shared: &Shared) -> Option<Vec<f64>> {
    let count = bank.cylinders.value.len();
    let at = |field: &str| format!("{key}.{field}");
    if let Some(bores) = &bank.bores {
        if bores.value.len() != count {
            let found = match bores.value.len() {
                1 => "one place".to_owned(),
                places => format!("{places} places"),
            };
            c.fault(bores.place, &at("bores"), found, &format!("{count} places, one for each cylinder"));
            return None;
        }
        if let Some(first) = &bank.first_bore {
            c.fault(first.place, &at("first_bore"), "first_bore beside bores".into(), "one or the other");
        }
        let xs: Vec<Option<f64>> = bores
            .value
            .iter()
            .enumerate()
            .map(|(i, x)| c.length(&format!("{}[{i}]", at("bores")), x, q::ALONG))
            .collect();
        let xs: Vec<f64> = xs.into_iter().collect::<Option<_>>()?;
        for (i, pair) in xs.windows(2).enumerate() {
            if pair[1] - pair[0] < q::BORE_SPACING.least {
                let found = format!("{} mm after {} mm", pair[1], pair[0]);
                let expected =
                    format!("bores listed front to rear, at least {} mm apart", q::BORE_SPACING.least);
                c.fault(bores.value[i + 1].place, &format!("{}[{}]", at("bores"), i + 1), found, &expected);
            }
        }
        return Some(xs);
    }
    let Some(first) = &bank.first_bore else {
        c.fault(
            bank.name.place,
            key,
            "neither first_bore nor bores".into(),
            "first_bore, or bores with every x",
        );
        return None;
    };
    let first_mm = c.length(&at("first_bore"), first, q::ALONG);
    let spacing = match (&bank.bore_spacing, shared.spacing) {
        (Some(own), _) => c.length(&at("bore_spacing"), own, q::BORE_SPACING),
        (None, None) => None,
        (None, Some(Some(spacing))) => Some(spacing),
        (None, Some(None)) if count < 2 => Some(0.0),
        (None, Some(None)) => {
            let expected = "a bore spacing, for this bank or for the block";
            c.fault(first.place, &at("bore_spacing"), "nothing".into(), expected);
            None
        }
    };
    let (first_mm, spacing) = (first_mm?, spacing?);
    let mut x = first_mm;
    Some(
        (0..count)
            .map(|_| {
                let here = x;
                x += spacing;
                here
            })
            .collect(),
    )
}

fn parent(c: &mut Checker<'_>, file: &BlockFile) -> Option<Parent> {
    let parent = &file.parent;
    let material = c.material("parent.material", &parent.material, &[]);
    let bore_length = c.length("parent.bore_length", &parent.bore_length, q::LENGTH);
    let room_below = c.length("parent.room_below", &parent.room_below, q::ROOM);
    let own: Vec<Material> = material.clone().into_iter().collect();
    let liner = match &parent.liner {
        None => Some(None),
        Some(liner) => {
            let bore = c.length("parent.liner.bore", &liner.bore, q::BORE);
            let outside = c.length("parent.liner.outside", &liner.outside, q::BORE);
            let length = c.length("parent.liner.length", &liner.length, q::LENGTH);
            let metal = c.material("parent.liner.material", &liner.material, &own);
            if let (Some(bore), Some(outside)) = (bore, outside)
                && outside <= bore
            {
                let found = format!("{outside} mm round a bore of {bore} mm");
                c.fault(
                    liner.outside.place,
                    "parent.liner.outside",
                    found,
                    "an outside larger than the bore",
                );
            }
            if let (Some(length), Some(bore_length)) = (length, bore_length)
                && length > bore_length
            {
                let found = format!("{length} mm in a bore {bore_length} mm long");
                c.fault(liner.length.place, "parent.liner.length", found, "a liner no longer than the bore");
            }
            (|| {
                Some(Some(Liner {
                    bore_mm: bore?,
                    outside_mm: outside?,
                    length_mm: length?,
                    material: metal?,
                }))
            })()
        }
    };
    let jacket = match &parent.jacket {
        None => Some(None),
        Some(jacket) => depths(c, "parent.jacket", &jacket.from, &jacket.to, q::DEPTH).map(Some),
    };
    Some(Parent {
        material: material?,
        bore_length_mm: bore_length?,
        room_below_mm: room_below?,
        liner: liner?,
        jacket: jacket?,
    })
}

fn depths(
    c: &mut Checker<'_>,
    key: &str,
    from: &At<Length>,
    to: &At<Length>,
    quantity: q::Quantity,
) -> Option<Depths> {
    let from_mm = c.length(&format!("{key}.from"), from, quantity);
    let to_mm = c.length(&format!("{key}.to"), to, quantity);
    let (from_mm, to_mm) = (from_mm?, to_mm?);
    if from_mm >= to_mm {
        let found = format!("from {from_mm} mm to {to_mm} mm");
        c.fault(to.place, &format!("{key}.to"), found, "`to` deeper than `from`");
        return None;
    }
    Some(Depths { from_mm, to_mm })
}

fn studs(c: &mut Checker<'_>, file: &BlockFile, banks: &[String]) -> Option<Vec<Stud>> {
    let studs: Vec<Option<Stud>> = file
        .studs
        .iter()
        .flatten()
        .enumerate()
        .map(|(i, stud)| {
            let key = format!("studs[{i}]");
            let bank = c.one_of(&format!("{key}.bank"), &stud.bank, banks, "one of the banks");
            let x = c.length(&format!("{key}.x"), &stud.x, q::ALONG);
            let y = c.length(&format!("{key}.y"), &stud.y, q::ACROSS);
            let diameter = c.length(&format!("{key}.diameter"), &stud.diameter, q::HOLE);
            let depths = depths(c, &key, &stud.from, &stud.to, q::HOLE_DEPTH);
            Some(Stud { bank: bank?, centre_mm: [x?, y?], diameter_mm: diameter?, depths: depths? })
        })
        .collect();
    studs.into_iter().collect()
}

fn coolant_holes(c: &mut Checker<'_>, file: &BlockFile, banks: &[String]) -> Option<Vec<CoolantHole>> {
    let holes: Vec<Option<CoolantHole>> = file
        .coolant_holes
        .iter()
        .flatten()
        .enumerate()
        .map(|(i, hole)| {
            let key = format!("coolant_holes[{i}]");
            let bank = c.one_of(&format!("{key}.bank"), &hole.bank, banks, "one of the banks");
            let name = c.name(&format!("{key}.name"), &hole.name);
            let mut end = |field: &str, given: &[At<Length>; 3]| {
                let [x, y, depth] = [q::ALONG, q::ACROSS, q::HOLE_DEPTH];
                let values: Vec<Option<f64>> = given
                    .iter()
                    .zip([x, y, depth])
                    .enumerate()
                    .map(|(k, (v, quantity))| c.length(&format!("{key}.{field}[{k}]"), v, quantity))
                    .collect();
                Some([values[0]?, values[1]?, values[2]?])
            };
            let start = end("start", &hole.start);
            let stop = end("end", &hole.end);
            let diameter = c.length(&format!("{key}.diameter"), &hole.diameter, q::HOLE);
            let (start_mm, end_mm) = (start?, stop?);
            if start_mm == end_mm {
                c.fault(
                    hole.end[0].place,
                    &format!("{key}.end"),
                    "the start again".into(),
                    "the other end of the hole",
                );
            }
            Some(CoolantHole { bank: bank?, name: name?, start_mm, end_mm, diameter_mm: diameter? })
        })
        .collect();
    holes.into_iter().collect()
}

#[allow(clippy::option_option)] // none stated and faulty are two things
fn fire_ring(c: &mut Checker<'_>, file: &BlockFile) -> Option<Option<FireRing>> {
    let Some(ring) = &file.fire_ring else { return Some(None) };
    let inside = c.length("fire_ring.inside", &ring.inside, q::BORE);
    let outside = c.length("fire_ring.outside", &ring.outside, q::BORE);
    let (inside_mm, outside_mm) = (inside?, outside?);
    if inside_mm >= outside_mm {
        let place: Place = ring.outside.place;
        c.fault(place, "fire_ring.outside", format!("{outside_mm} mm"), "an outside larger than the inside");
        return None;
    }
    Some(Some(FireRing { inside_mm, outside_mm }))
}
