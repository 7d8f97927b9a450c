//! A property of random jobs: no single cell changed beyond its uncertainty moves a cut by more than 0.05 mm at go
//! without a finding.

use std::collections::BTreeMap;

use borewright_geometry::{Bank, Machine, Placement, Point};
use borewright_planner::Planning;
use borewright_planner::plan::Verdict;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use crate::random_job::{Kind, RandomJob};

/// Where each cylinder is cut, at the deck, in the frame that the machine moves in.
fn cuts(planning: &Planning) -> BTreeMap<u32, ([f64; 2], Verdict)> {
    let mut cuts = BTreeMap::new();
    for (set_up, placement) in planning.job.set_ups.iter().zip(&planning.placements) {
        for site in &planning.job.block.banks[set_up.bank].sites {
            let Some(c) = planning.plan.cylinders.iter().find(|c| c.cylinder == site.cylinder) else {
                continue;
            };
            let planned = [c.planned.x, c.planned.y];
            let at = placement.as_ref().map_or(planned, |placement| {
                let placement: &Placement<Machine, Bank> = placement;
                let m = placement.inverse().point(Point::new(planned[0], planned[1], 235.0));
                [m.x_mm(), m.y_mm()]
            });
            cuts.insert(site.cylinder, (at, c.verdict));
        }
    }
    cuts
}

/// A cell of a reading changed, in words; nothing where it is a name or a cylinder.
fn change(job: &mut RandomJob, rng: &mut ChaCha8Rng) -> String {
    let by: f64 = [0.06, 0.1, 0.2, 0.4, 1.0, 3.0, 10.0][rng.random_range(0..7_usize)]
        * if rng.random_bool(0.5) { 1.0 } else { -1.0 };
    if job.kind.machine && rng.random_bool(0.1) {
        let at = rng.random_range(0..job.along.len());
        // Read to 0.015: 0.06 is four of them, and two at the other end of its scatter.
        let by = if by.abs() < 0.1 { 2.0 * by } else { by };
        job.along[at] += by;
        return format!("along of bank {at} by {by}");
    }
    let names: Vec<String> = job.tables.keys().cloned().collect();
    let table = &names[rng.random_range(0..names.len())];
    let rows = job.tables[table].rows.len();
    let row = rng.random_range(0..rows);
    let columns = job.tables[table].rows[row].len();
    let column = rng.random_range(if table.starts_with("deck") { 0..columns } else { 1..columns });
    job.add(table, row, column, by);
    format!("{table} row {row} column {column} by {by}")
}

/// Whether a finding speaks of the cylinder, its bank or its set-up that is new, or that says what nothing checks.
fn told(planning: &Planning, clean: &Planning, cylinder: u32) -> bool {
    let (bank, _) = planning.job.site(cylinder).unwrap();
    let bank = &planning.job.block.banks[bank].name;
    let subjects =
        [format!("cylinder {cylinder}"), format!("bank {bank}"), format!("set-up {bank} up"), "block".into()];
    let of = |p: &Planning| -> Vec<(&'static str, String)> {
        let own = p.plan.findings.iter().filter(|f| subjects.contains(&f.subject.to_string()));
        own.map(|f| (f.code, f.subject.to_string())).collect()
    };
    let before = of(clean);
    let unchecked = ["one_depth", "two_depths", "deck_unchecked", "axis_unchecked"];
    of(planning).iter().any(|f| unchecked.contains(&f.0) || !before.contains(f))
}

/// How many cells changed were looked at, and those that moved a cut unseen.
fn unseen(seeds: std::ops::Range<u64>) -> (usize, Vec<String>) {
    let (mut looked, mut unseen) = (0, Vec::new());
    for seed in seeds {
        let clean = RandomJob::new(seed, Kind::any(seed));
        let Some(clean_plan) = clean.plan() else { continue };
        let before = cuts(&clean_plan);
        let mut rng = ChaCha8Rng::seed_from_u64(seed ^ 0xCE11);
        for _ in 0..4 {
            let mut job = clean.clone();
            let what = change(&mut job, &mut rng);
            let Some(planning) = job.plan() else { continue };
            looked += 1;
            for (cylinder, (at, verdict)) in cuts(&planning) {
                let Some((was, _)) = before.get(&cylinder) else { continue };
                let moved = (at[0] - was[0]).hypot(at[1] - was[1]);
                if moved > 0.05 && verdict == Verdict::Go && !told(&planning, &clean_plan, cylinder) {
                    unseen.push(format!(
                        "seed {seed} {:?}: {what} moved cylinder {cylinder} by {moved:.3}",
                        clean.kind
                    ));
                }
            }
        }
    }
    (looked, unseen)
}

#[test]
fn no_single_cell_moves_a_cut_at_go_without_a_finding() {
    let (looked, unseen) = unseen(0..60);
    assert!(looked > 100, "{looked}");
    assert!(unseen.is_empty(), "{unseen:#?}");
}

#[test]
#[ignore = "the same over many jobs, some minutes"]
fn no_single_cell_of_many_jobs_moves_a_cut_at_go_without_a_finding() {
    let (looked, unseen) = unseen(1000..2000);
    println!("{looked} cells, {} unseen: {unseen:#?}", unseen.len());
    assert!(unseen.is_empty());
}
