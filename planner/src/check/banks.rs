//! Checks the banks of a block: angles, decks, bores.

use std::collections::BTreeSet;

use super::checker::Checker;
use crate::files::{BankFile, BlockFile};
use crate::job::{Bank, Site};
use crate::read::quantity as q;

/// Most cylinders of a block.
pub(super) const MOST_CYLINDERS: usize = 16;

/// Two banks closer together than this share one deck that is not square to the bores, degrees: V blocks
/// with a deck to each bank start at about 45, narrow-angle blocks end at about 20. Common practice, no source.
pub(super) const NARROW_DEG: f64 = 30.0;

/// The banks' angles may differ from the stated angle between them by this, degrees; more is a typing error.
pub(super) const ANGLE_SLACK_DEG: f64 = 0.01;

/// What holds for every bank that does not say otherwise; `None` where it is faulty.
pub(super) struct Shared {
    pub(super) bank_angle: Option<f64>,
    pub(super) deck_height: Option<f64>,
    /// `Some(None)` where the block states none.
    pub(super) spacing: Option<Option<f64>>,
}

/// The banks of a block, one or two; `None` where any of them is wrong. What does not agree between them (names,
/// cylinders, the angle between) is told.
pub(super) fn banks(c: &mut Checker<'_>, file: &BlockFile, shared: &Shared) -> Option<Vec<Bank>> {
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

pub(super) fn narrow(c: &mut Checker<'_>, file: &BlockFile, bank_angle: Option<f64>) {
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

/// The side that a bank's name says it is on: -1 left, +1 right; `None` of a name that says neither.
fn named_side(name: &str) -> Option<f64> {
    let name = name.to_lowercase();
    name.split(|c: char| !c.is_alphanumeric()).find_map(|word| match word {
        "left" | "l" | "lh" => Some(-1.0),
        "right" | "r" | "rh" => Some(1.0),
        _ => None,
    })
}

/// The sides that the names of two banks say they are on; `None` where neither says so, or both say the same.
fn named_sides(file: &BlockFile) -> Option<[f64; 2]> {
    let [one, other] = file.banks.value.as_slice() else { return None };
    match [one, other].map(|bank| named_side(&bank.name.value)) {
        [Some(one), Some(other)] if one == other => None,
        [Some(one), _] => Some([one, -one]),
        [None, Some(other)] => Some([-other, other]),
        [None, None] => None,
    }
}

/// Half the included angle to the engine's left for the bank whose name says left (or the first), to the right for the other.
pub(super) fn default_angle(file: &BlockFile, index: usize, included: f64) -> f64 {
    if file.banks.value.len() < 2 {
        return 0.0;
    }
    let swapped = named_sides(file) == Some([1.0, -1.0]);
    if (index == 0) == swapped { included / 2.0 } else { -included / 2.0 }
}

/// One bank with the places of its bores; `None` where a value is wrong, which is told. `seen` gathers the cylinder
/// numbers of all banks, so that none comes twice.
pub(super) fn bank(
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
    let side_told = bank.angle.is_some() || named_sides(file).is_some();
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
        side_told,
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

/// Each bore's place along the bank, mm, front to rear: as listed in `bores`, or from `first_bore` and the spacing.
/// `None` where neither is right, which is told at `key`.
pub(super) fn bore_places(
    c: &mut Checker<'_>,
    key: &str,
    bank: &BankFile,
    shared: &Shared,
) -> Option<Vec<f64>> {
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
