//! What `plan --prior` says of a job from the archive, and what it may not do.

use serde_json::Value;

use crate::common::{Folder, Run, command, ended};
use crate::learning::Shop;

/// Plans a job beside what a shop filed.
fn plan(job: &Folder, shop: &Shop) -> Run {
    let mut plan = command();
    plan.arg("plan").arg(job.job()).arg("--prior").arg(shop.archive());
    ended(plan.arg("--cache").arg(shop.cache()))
}

fn plan_json(job: &Folder) -> Value {
    serde_json::from_str(&job.read("out/plan.json")).unwrap()
}

#[test]
fn a_block_like_its_family_keeps_its_plan_and_is_told_what_to_expect() {
    let shop = Shop::with(&[0.010, -0.012, 0.008, -0.005, 0.002]);
    let job = Folder::base("base");
    let alone = job.plan();
    let without = plan_json(&job);
    let run = plan(&job, &shop);
    assert_eq!(run.status, alone.status, "{}", run.err);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    let told: String = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("family dunlin, jobs 0000, 0001, 0002, 0003, 0004"), "{told}");
    assert!(told.contains("this block is like its family in all 12 figures"), "{told}");
    assert!(told.contains("walls to read"), "{told}");
    let plan = plan_json(&job);
    // What the archive holds moves no figure and voids no paper.
    assert_eq!(plan["fingerprint"], without["fingerprint"]);
    let changed = |key: &&String| plan[key.as_str()] != without[key.as_str()];
    let keys: Vec<&String> = plan.as_object().unwrap().keys().filter(changed).collect();
    assert_eq!(keys, ["files", "prior", "seal"]);
    assert_eq!(plan["prior"]["held"], 12);
    assert_eq!(plan["prior"]["walls"][0]["wall"]["blocks"], 5);
    assert!(plan["prior"]["walls"][0]["here"].is_f64());
    let proven = ended(command().arg("verify").arg(job.out()));
    assert_eq!(proven.status, Some(0), "{}{}", proven.out, proven.err);
}

#[test]
fn a_block_unlike_its_family_is_held_until_somebody_lets_it_through() {
    let shop = Shop::with(&[0.010, -0.012, 0.008, -0.005, 0.002]);
    let job = Folder::base("base");
    assert_eq!(job.plan().status, Some(0));
    let wall = "1,90,90,6.12";
    // The family's five blocks read alike there: another millimetre is another casting or a slip.
    job.edit("walls.csv", wall, "1,90,90,7.42");
    assert_eq!(job.plan().status, Some(0), "by itself it is a wall like any other");
    let run = plan(&job, &shop);
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    let told: String = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "HOLD cylinder 1: wall at clock 90, 75 to 100 deep is";
    assert!(told.contains(said) && told.contains("unlike them or misread, read it again"), "{told}");
    let mut check = command();
    check.arg("check").arg(job.job()).arg("--prior").arg(shop.archive()).arg("--cache").arg(shop.cache());
    let check = ended(&mut check);
    assert_eq!(check.status, Some(3), "the lead's page says what the plan says: {}", check.out);
    assert!(check.out.contains("unlike them or misread"), "{}", check.out);
    let json = plan_json(&job);
    let of = |n: usize| json["cylinders"][n]["verdict"].as_str().unwrap().to_owned();
    assert_eq!([of(0), of(1)], ["hold", "go"]);
    assert_eq!(json["prior"]["odd"].as_array().unwrap().len(), 1);
    // The paper's own record plans it again as it was, whatever was filed since.
    let filed = ended(command().arg("file").arg(job.job()).arg("--archive").arg(shop.archive()));
    assert_eq!(filed.status, Some(0), "{}", filed.err);
    let mut audit = command();
    audit.arg("audit").arg("--archive").arg(shop.archive()).arg("--cache").arg(shop.cache());
    let audit = ended(audit.args(["--format", "json"]));
    let audit: Value = serde_json::from_str(&audit.out).unwrap();
    assert_eq!((&audit["plans"]["alike"], &audit["plans"]["other"]), (&6.into(), &serde_json::json!([])));
    // Its own record is no prior of itself.
    assert!(plan(&job, &shop).out.contains("5 blocks filed"));
    let mut let_through = command();
    let_through.arg("plan").arg(job.job()).arg("--prior").arg(shop.archive());
    let_through.arg("--cache").arg(shop.cache()).args(["--release", "M. Teal: read twice"]);
    assert_eq!(ended(&mut let_through).status, Some(3));
    assert_eq!(plan_json(&job)["cylinders"][0]["withheld"], false);
}

#[test]
fn a_prior_betters_nothing() {
    // The family stands 0.4 across; a block that does too is like it, and is held for that all the same.
    let shop = Shop::with(&[0.410, 0.388, 0.408, 0.395, 0.402]);
    let job = Folder::base("base");
    let bores = job.read("bores.csv");
    job.write("bores.csv", crate::learning::shifted(&bores, 0.4));
    let alone = job.plan();
    let without = plan_json(&job);
    assert_ne!(alone.status, Some(0), "{}", alone.out);
    assert_eq!(plan(&job, &shop).status, alone.status);
    let plan = plan_json(&job);
    assert_eq!((&plan["verdict"], &plan["findings"]), (&without["verdict"], &without["findings"]));
}

#[test]
fn few_blocks_or_none_say_that_they_say_nothing() {
    let shop = Shop::with(&[0.010, -0.012, 0.008]);
    let job = Folder::base("base");
    job.edit("walls.csv", "1,90,90,6.12", "1,90,90,7.42");
    let run = plan(&job, &shop);
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let told: String = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("3 blocks filed: too few to say what the next one will be like; 4 say"), "{told}");
    assert!(told.contains("too few blocks to say whether this one is like its family"), "{told}");
    job.edit("block.yaml", "family: dunlin", "family: wheatear");
    let run = plan(&job, &shop);
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert!(run.out.contains("no other block of this family was filed"), "{}", run.out);
    job.edit("block.yaml", "family: wheatear\n", "");
    let run = plan(&job, &shop);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(
        run.err.contains("found a block of no family, expected `family` in its block file"),
        "{}",
        run.err
    );
}

#[test]
fn before_anything_is_read_the_walls_to_read_first_are_told_and_no_plan_is_written() {
    let shop = Shop::with(&[0.010, -0.012, 0.008, -0.005, 0.002]);
    let job = Folder::base("base");
    for table in ["bores.csv", "walls.csv"] {
        let head = job.read(table).lines().find(|l| !l.starts_with('#')).unwrap().to_owned();
        job.write(table, head + "\n");
    }
    let run = plan(&job, &shop);
    assert_eq!(run.status, Some(2));
    assert!(
        run.out.starts_with("family dunlin, jobs 0000") && run.out.contains("  1 at 270, 75 to 100"),
        "{}",
        run.out
    );
    assert!(
        run.err.contains("no reading is filled in") && run.err.ends_with("nothing was written\n"),
        "{}",
        run.err
    );
    assert!(!job.out().exists());
}

#[test]
fn another_customers_job_of_the_same_number_is_no_record_of_ones_own() {
    let shop = Shop::with(&[0.010, -0.012, 0.008, -0.005]);
    let job = Folder::base("base");
    job.edit("job.yaml", "\"0731\"", "\"0002\"");
    assert!(plan(&job, &shop).out.contains("3 blocks filed"), "its own is left out");
    job.edit("job.yaml", "Alderbeck Engine Works", "Birch");
    let run = plan(&job, &shop);
    let blocks = plan_json(&job)["prior"]["blocks"].as_array().unwrap().len();
    assert_eq!(blocks, 4, "{}", run.out);
}
