//! Checks a block description.

use super::banks::{Shared, banks};
use super::checker::Checker;
use crate::files::{BLOCK_FORMAT, BlockFile, RotationWord};
use crate::job::{Block, CoolantHole, Depths, FireRing, JournalAxis, Liner, Main, Parent, Rotation, Stud};
use crate::material::Material;
use crate::read::fault::plain;
use crate::read::fault::{Fault, Place};
use crate::read::given::{At, Length};
use crate::read::quantity as q;
use crate::read::source::Source;

/// The checked block in mm and degrees, or its faults.
pub(super) fn check(source: &Source, file: &BlockFile, metals: &[Material]) -> Result<Block, Vec<Fault>> {
    let mut c = Checker::new(source, file.units).with_metals(metals);
    let block = block(&mut c, file);
    match block {
        Some(block) if c.faults.is_empty() => Ok(block),
        _ => Err(c.faults),
    }
}

/// The checked block in mm and degrees; `None` where a value is wrong, which is told.
fn block(c: &mut Checker<'_>, file: &BlockFile) -> Option<Block> {
    c.format(&file.format, BLOCK_FORMAT);
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

/// The journal axis with its mains front to rear, in mm; `None` where a value is wrong. Fewer than two mains, or
/// two of a name, are told.
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

/// The parent casting with its liner and jacket, in mm; `None` where a value is wrong, which is told.
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

/// The block's coolant holes in mm, ends in the bank's frame with a depth for z; `None` where a value is wrong. Two
/// ends in one place are told.
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

#[expect(clippy::option_option, reason = "none stated and faulty are two things")]
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
