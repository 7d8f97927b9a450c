//! Plannings made by hand for the tests: invented blocks, figures that look like a real job's.

mod block;
mod moves;
mod results;

use block::{job, placement};
use moves::lists;
use results::plan_of;

use borewright_planner::Planning;
use borewright_planner::job::{Front, SheetUnits};
use borewright_planner::plan::{self, Subject, Verdict};

/// One bank of a block to make: name, angle, cylinders, first bore, front.
pub(crate) type BankSpec = (&'static str, f64, Vec<u32>, f64, Front);

/// Every width and unit that a page for a terminal is told in.
pub(crate) fn terminals() -> Vec<(SheetUnits, usize)> {
    let units = [SheetUnits::Mm, SheetUnits::In, SheetUnits::Both];
    units.into_iter().flat_map(|units| [60, 80, 120].map(|columns| (units, columns))).collect()
}

/// A V6: left bank read from the journal axis, right bank read in the machine with its front at the right.
pub(crate) fn dunnock() -> Planning {
    make(
        "Dunnock 90",
        90.0,
        &[
            ("left", -45.0, vec![1, 3, 5], 46.0, Front::Left),
            ("right", 45.0, vec![2, 4, 6], 64.0, Front::Right),
        ],
    )
}

/// Eight in line.
pub(crate) fn wren() -> Planning {
    make("Wren 8", 0.0, &[("main", 0.0, (1..=8).collect(), 50.0, Front::Left)])
}

/// So many in line.
pub(crate) fn inline(count: u32) -> Planning {
    make("Wren", 0.0, &[("main", 0.0, (1..=count).collect(), 50.0, Front::Left)])
}

/// Sixteen in a V.
pub(crate) fn bittern() -> Planning {
    let odd = (0..8).map(|n| 2 * n + 1).collect();
    let even = (1..=8).map(|n| 2 * n).collect();
    make(
        "Bittern 60",
        60.0,
        &[("left", -30.0, odd, 46.0, Front::Left), ("right", 30.0, even, 64.0, Front::Right)],
    )
}

/// The V6 at stop: no list at all.
pub(crate) fn stopped() -> Planning {
    let mut planning = dunnock();
    planning.lists.clear();
    planning.plan.passes.clear();
    planning.plan.verdict = Verdict::Stop;
    for cylinder in &mut planning.plan.cylinders {
        cylinder.verdict = Verdict::Stop;
        cylinder.withheld = true;
        cylinder.limits[0].verdict = Verdict::Stop;
        cylinder.limits[0].margin = -0.214;
    }
    planning.plan.findings.insert(
        1,
        plan::Finding {
            code: "limits_fight",
            verdict: Verdict::Stop,
            subject: Subject::whole("cylinder 3"),
            text: "clean-up of the lower register and the bridge to cylinder 5 cannot both be had: short by 0.214 mm \
                   at the best place. A sleeve with 89.20 mm outside, or a bridge limit of 1.28 mm, would free it."
                .into(),
        },
    );
    planning
}

/// The V6 at hold; released where asked.
pub(crate) fn held(released: bool) -> Planning {
    let mut planning = dunnock();
    planning.plan.verdict = Verdict::Hold;
    planning.plan.cylinders[1].verdict = Verdict::Hold;
    planning.plan.cylinders[1].limits[1].verdict = Verdict::Hold;
    planning.plan.cylinders[1].limits[1].margin = 0.012;
    planning.plan.release = released.then(|| plan::Release {
        who: "M. Teal".to_owned(),
        why: "wall read twice with a fresh gauge block, customer told".to_owned(),
    });
    if !released {
        planning.lists.clear();
        planning.plan.passes.clear();
        planning.plan.cylinders.iter_mut().for_each(|cylinder| cylinder.withheld = true);
    }
    planning
}

/// Every free text as bad as it gets.
pub(crate) fn hostile() -> Planning {
    let bad = "X)\nG0 Z-100 (\u{1b}[31m\u{202e}%;:/\\\u{7}\u{4e2d}\u{1f600} ".repeat(230);
    let mut planning = dunnock();
    planning.plan.job.clone_from(&bad);
    planning.job.number.clone_from(&bad);
    planning.job.customer = Some(bad.clone());
    planning.job.block.name = "Unbreakable".repeat(900);
    planning.job.machine.name.clone_from(&bad);
    planning.job.block.journal_axis.along_datum.clone_from(&bad);
    planning.job.sleeves[0].name.clone_from(&bad);
    let long_bank = "W".repeat(10_000);
    for bank in [0, 1] {
        let name = if bank == 0 { bad.clone() } else { long_bank.clone() };
        let old = std::mem::replace(&mut planning.job.block.banks[bank].name, name.clone());
        planning.plan.banks[bank].bank.clone_from(&name);
        planning.plan.cylinders.iter_mut().filter(|c| c.bank == old).for_each(|c| c.bank.clone_from(&name));
        planning.plan.passes.iter_mut().filter(|p| p.bank == old).for_each(|p| p.bank.clone_from(&name));
        planning.lists.iter_mut().filter(|l| l.bank == old).for_each(|l| l.bank.clone_from(&name));
    }
    for cylinder in &mut planning.plan.cylinders {
        cylinder.sleeve.clone_from(&bad);
        cylinder.limits[0].feature.clone_from(&bad);
        cylinder.why = bad.as_str().into();
    }
    for pass in &mut planning.plan.passes {
        pass.feature.clone_from(&bad);
        pass.tool = Some(bad.clone());
        pass.stop = pass.stop.is_some().then(|| bad.clone().into());
    }
    for finding in &mut planning.plan.findings {
        finding.text = bad.as_str().into();
        finding.subject = Subject::whole(&bad);
    }
    planning.plan.sleeves[0].why = bad.as_str().into();
    planning.plan.sleeves[0].sleeve.clone_from(&bad);
    planning.plan.release = Some(plan::Release { who: bad.clone(), why: bad.clone() });
    for list in &mut planning.lists {
        list.header.push(bad.as_str().into());
        list.moves[0].note = bad.as_str().into();
        list.touch[0].what = bad.as_str().into();
    }
    planning.job.set_ups.iter_mut().for_each(|s| s.name.clone_from(&bad));
    planning
}

/// A planning of any block.
pub(crate) fn make(block: &str, bank_angle_deg: f64, banks: &[BankSpec]) -> Planning {
    let job = job(block, bank_angle_deg, banks);
    let plan = plan_of(&job, banks);
    let lists = lists(&job, &plan, banks);
    let placements = banks.iter().map(|spec| (spec.4 == Front::Right).then(placement)).collect();
    Planning { job, plan, lists, placements, near: vec![], staged: Default::default(), seen: None }
}
