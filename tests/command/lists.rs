//! Lists bored and milled, one a bank or one a cylinder, each proven by the reader that wrote none of them.

use std::fs;

use crate::common::{Folder, files, run};

/// The cutter that the small mill lacks, and what it mills.
fn milled(job: &Folder) {
    let cutter = "  - name: end mill\n    kind: milling\n    diameter: 25.0\n    reach: 90.0\n    step_down: 2.5\n    \
                  cuts:\n      aluminium: { speed: 250, feed: 0.3, depth: 2.0 }\nhone:";
    job.edit("machine.yaml", "hone:", cutter);
    job.edit("machine.yaml", "clearance: 5.0", "clearance: 5.0\nmill: [flange, wet]");
}

/// Proves every list of a plan; how many there are.
fn prove_all(job: &Folder) -> usize {
    let out = job.out();
    let lists: Vec<String> = files(&out).into_iter().filter(|n| n.ends_with(".nc")).collect();
    for list in &lists {
        let proof = run(&[
            "prove".as_ref(),
            out.join(list).as_os_str(),
            "--plan".as_ref(),
            out.join("plan.json").as_os_str(),
        ]);
        assert_eq!(proof.status, Some(0), "{list}: {}{}", proof.out, proof.err);
    }
    lists.len()
}

#[test]
fn what_the_machine_file_says_is_milled_is_milled_and_proves() {
    let job = Folder::base("base");
    milled(&job);
    let said = job.plan();
    assert_eq!(said.status, Some(0), "{}{}", said.out, said.err);
    assert_eq!(prove_all(&job), 3);
    let pocket = fs::read_to_string(job.out().join("lists/20-pocket-bank.nc")).unwrap();
    // The recess of 90.1 and the cutter of 25: a path of 32.55, two half circles a turn.
    assert!(pocket.contains(" I-65.100 ") || pocket.contains(" I-32.550 "), "{pocket}");
    assert!(pocket.contains("G3 ") && !pocket.contains("G2 "), "climbs all the way");
}

#[test]
fn a_cutter_too_large_for_the_bore_is_named_and_nothing_is_listed_from_there() {
    let job = Folder::base("base");
    milled(&job);
    job.edit("machine.yaml", "diameter: 25.0", "diameter: 100.0");
    let said = job.plan();
    assert_eq!(said.status, Some(3), "{}", said.out);
    assert!(said.out.contains("no milling cutter with cuts in aluminium"), "{}", said.out);
    assert!(!job.out().join("lists").exists(), "a list that lacks its milled pass is not written");
}

#[test]
fn one_list_a_cylinder_names_it_and_cuts_no_other() {
    let job = Folder::base("base");
    job.edit("job.yaml", "aim: journal", "aim: journal\nlists: cylinder");
    assert_eq!(job.plan().status, Some(0));
    assert_eq!(prove_all(&job), 6);
    let names: Vec<String> = files(&job.out()).into_iter().filter(|n| n.ends_with(".nc")).collect();
    assert!(names.iter().any(|n| n.ends_with("10-rough-bank-1.nc")), "{names:?}");
    for name in names {
        let text = fs::read_to_string(job.out().join(&name)).unwrap();
        let own = name.trim_end_matches(".nc").rsplit('-').next().unwrap();
        let other = if own == "1" { "(cylinder 2" } else { "(cylinder 1" };
        assert!(!text.contains(other), "{name}");
    }
}

#[test]
fn the_step_to_the_next_bore_stands_beside_its_place() {
    let job = Folder::base("base");
    job.plan();
    let list = fs::read_to_string(job.out().join("lists/10-rough-bank.csv")).unwrap();
    let across =
        |l: &&str| l.contains(",10,rapid,") && !l.contains(",10,rapid,,") && !l.contains("back over");
    let places: Vec<&str> = list.lines().filter(across).collect();
    let x = |row: &str| row.split(',').nth(4).unwrap().parse::<f64>().unwrap();
    let step = format!("step X {:+.3}", x(places[1]) - x(places[0]));
    assert!(places[1].contains(&step), "{places:?}");
}
