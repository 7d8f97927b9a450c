//! The identity of a list: whether it is the one of the plan that it says it is.

use super::flaw::{At, Flaws};
use super::head::{Head, figure_behind};
use super::reference::{List, Reference};

/// Holds the head against the plan.
pub(super) fn identity(head: &Head, list: &List, plan: &Reference, flaws: &mut Flaws) {
    let own = list.issued.as_ref().unwrap_or(&plan.fingerprint);
    match &head.fingerprint {
        None => flaws.add(1, "fingerprint", "no fingerprint in the head", "the plan's"),
        Some((said, at)) if said != own => {
            let found = format!("the fingerprint {}, of another plan or revision", short(said));
            flaws.add(*at, "fingerprint", found, format!("{}, the plan's", short(own)));
        }
        Some(_) => {}
    }
    // A name with other characters is written otherwise in a list; its words are held against the plan's lines.
    let plain_name =
        list.bank.chars().all(|c| c.is_ascii_alphanumeric() || c == '-') && list.bank.len() <= 40;
    if let Some((bank, at)) = head.bank.as_ref().filter(|(bank, _)| plain_name && *bank != list.bank) {
        flaws.add(*at, "bank", format!("BANK {}", crate::read::fault::plain(bank, 40)), list.bank.clone());
    }
    let (unit, word) = (list.proof.unit(), list.proof.unit().word());
    let expected = format!("{word}: every figure of a list is in {}", unit.short());
    match &head.units {
        Some((units, at)) if !units.starts_with(&format!("{word},")) => {
            let found = format!("UNITS {}", crate::read::fault::plain(units, 60));
            flaws.add(*at, "units", found, expected);
        }
        Some(_) => {}
        None => flaws.add(1, "units", "no unit in the head", expected),
    }
    let named = |numbers: &[u32]| numbers.iter().map(u32::to_string).collect::<Vec<_>>().join(" ");
    match &head.cylinders {
        Some((said, at)) if *said != list.cylinders => {
            let found = format!("CYLINDERS {}", named(said));
            flaws.add(*at, "cylinders", found, format!("{}, as in the plan", named(&list.cylinders)));
        }
        Some(_) => {}
        None => flaws.add(1, "cylinders", "no cylinders in the head", named(&list.cylinders)),
    }
    let place = |p: [f64; 3]| {
        let [x, y, z] = p.map(|v| unit.signed(v));
        format!("X {x} Y {y} Z {z}")
    };
    let zero = head.zero.map(|(said, at)| (said.map(|v| unit.told(v)), at));
    match (zero, list.proof.zero) {
        (Some((said, at)), Some(zero)) => {
            if (0..3).any(|k| (said[k] - zero[k]).abs() > unit.written()) {
                flaws.add(at, "zero", format!("zero in the machine at {}", place(said)), place(zero));
            }
        }
        (Some((said, at)), None) => {
            let expected = "no place: the machine's scales were not read in this set-up";
            flaws.add(at, "zero", format!("zero in the machine at {}", place(said)), expected);
        }
        (None, Some(zero)) => {
            flaws.add(1, "zero", "no word of where zero stands in the machine", place(zero));
        }
        (None, None) => {}
    }
    touches(head, list, plan, flaws);
}

/// The touch check: the old bore where roughing starts, else the planned centre; the deck, or the plate on it.
fn touches(head: &Head, list: &List, plan: &Reference, flaws: &mut Flaws) {
    let unit = list.proof.unit();
    for touch in &head.touches {
        let read = ["X", "Y", "Z"].map(|axis| figure_behind(&touch.text, axis).map(|v| unit.told(v)));
        let deck = list.proof.plate.unwrap_or(0.0);
        if let Some(z) = read[2].filter(|z| (z - deck).abs() > unit.written()) {
            flaws.add(
                touch.at,
                "touch",
                format!("a touch check at Z {}", unit.signed(z)),
                format!("Z {}", unit.signed(deck)),
            );
        }
        let Some(cylinder) = figure_behind(&touch.text, "cylinder") else { continue };
        let is_it = |n: u32| (f64::from(n) - cylinder).abs() < 0.5;
        let (place, within) = if list.stage == "rough" {
            let found = plan.cylinders.iter().find(|c| is_it(c.cylinder));
            (found.map(|c| [c.measured.x, c.measured.y]), unit.written())
        } else {
            let found = plan.passes.iter().find(|p| is_it(p.cylinder) && p.stage == list.stage);
            // A planned centre may have moved two steps to keep a limit.
            (found.map(|p| [p.x, p.y]), 2.1 * unit.step())
        };
        let (Some(place), [Some(x), Some(y), _]) = (place, read) else { continue };
        let [expected_x, expected_y] = list.proof.listed(place);
        if (x - expected_x).abs() > within || (y - expected_y).abs() > within {
            let place = |x: f64, y: f64| format!("X {} Y {}", unit.signed(x), unit.signed(y));
            let found = format!("a touch check of cylinder {cylinder:.0} at {}", place(x, y));
            flaws.add(touch.at, "touch", found, place(expected_x, expected_y));
        }
    }
}

/// The first twelve digits of a fingerprint, in fours.
fn short(fingerprint: &str) -> String {
    let digits: Vec<char> = fingerprint.chars().filter(char::is_ascii_alphanumeric).take(12).collect();
    digits.chunks(4).map(|four| four.iter().collect::<String>()).collect::<Vec<_>>().join("-")
}

/// Adds the flaw that it cannot be told which list of the plan this is.
pub(super) fn unknown(head: &Head, name: &str, flaws: &mut Flaws) {
    let found = match &head.list {
        Some((number, stage)) => {
            format!("LIST {number} - {}, which the plan does not have", crate::read::fault::plain(stage, 20))
        }
        None => format!(
            "neither a comment `LIST number - stage` nor a list named `{}` in the plan",
            crate::read::fault::plain(name, 60)
        ),
    };
    flaws.add(At::default(), "unknown_list", found, "a list of this plan");
}
