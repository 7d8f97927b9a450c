//! `shop`: bias and spread over jobs, told only as far as the bores go.

use std::fmt::Write as _;

use borewright_planner::plan::check::{Of, What};
use serde_json::Value;

use crate::bench::Bench;
use crate::common::run;

/// A job whose finished bores are read so much off, and whose pockets stand so much off in X, bore by bore.
fn job(number: &str, off: f64, x: f64) -> Bench {
    let bench = Bench::planned_with(|folder| {
        folder.edit("job.yaml", "job: \"0412\"", &format!("job: \"{number}\""));
    });
    let mut text = "check,cylinder,reading,value,by\n".to_owned();
    for check in bench.checks() {
        for at in &check.cylinders {
            let cylinder = at.cylinder.unwrap_or(0);
            // ± 0.001 from bore to bore.
            let scatter = if cylinder % 2 == 0 { 0.001 } else { -0.001 };
            for asked in &at.readings {
                let by = match (check.what, asked.of) {
                    (What::Bore, Of::Diameter) => off + scatter,
                    (What::Size, Of::X | Of::Y) => x + scatter,
                    _ => continue,
                };
                let value = asked.expected.unwrap() + by;
                writeln!(text, "{},{cylinder},{},{value:.4} mm,KP", check.check, asked.reading).unwrap();
            }
        }
    }
    std::fs::write(bench.file(), text).unwrap();
    bench
}

fn shop(benches: &[&Bench]) -> (Option<i32>, Value) {
    let mut arguments = vec!["shop".to_owned()];
    arguments.extend(benches.iter().map(|b| b.folder.job().to_str().unwrap().to_owned()));
    let page = run(&arguments);
    assert!(page.out.lines().all(|l| l.chars().count() <= 80), "{}", page.out);
    arguments.extend(["--format".to_owned(), "json".to_owned()]);
    let run = run(&arguments);
    (run.status, serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err)))
}

fn group<'a>(value: &'a Value, by: &str, kind: &str) -> &'a Value {
    value["groups"].as_array().unwrap().iter().find(|g| g["by"] == by && g["kind"] == kind).unwrap()
}

#[test]
fn one_job_tells_a_bias_and_is_too_few_for_the_rest() {
    let one = job("0501", 0.004, 0.0);
    let (status, value) = shop(&[&one]);
    assert_eq!(status, Some(0));
    let honed = group(&value, "person", "honed_size");
    // Six bores, three 0.003 and three 0.005 off: mean 0.004, s √(6·0.001²/5) = 0.0010954.
    assert_eq!(honed["spread"]["n"], 6);
    assert!((honed["spread"]["mean"].as_f64().unwrap() - 0.004).abs() < 1e-6);
    assert!((honed["spread"]["sd"].as_f64().unwrap() - 0.001_095_4).abs() < 1e-6);
    assert!(honed["windows"][0]["capability"].is_null());
    assert_eq!(honed["windows"][0]["more_needed"], 19);
    // Three parts of each pocket were read: six places all the same.
    assert_eq!(group(&value, "machine", "place_x")["spread"]["n"], 6);
    assert_eq!(value["claims"][0]["says"], "too_few");
}

#[test]
fn five_jobs_tell_capability_and_a_machine_that_claims_too_little_is_a_hold() {
    let jobs: Vec<Bench> = (1..=5).map(|n| job(&format!("050{n}"), 0.004, 0.030)).collect();
    let mut all: Vec<&Bench> = jobs.iter().collect();
    // The same job twice counts once.
    all.push(&jobs[0]);
    let (status, value) = shop(&all);
    assert_eq!(status, Some(3));
    let claim = &value["claims"][0];
    assert_eq!(claim["says"], "claims_too_little");
    // Bias 0.030, s 0.001 less than the probe's 0.003: √(0.03²) alone.
    assert!((claim["figure"].as_f64().unwrap() - 0.030).abs() < 1e-4, "{claim}");
    let window = &group(&value, "machine", "honed_size")["windows"][0];
    // s = √(30·0.001²/29) = 0.0010171: Cp 0.02/(6s) = 3.2773, Cpk (0.010 - 0.004)/(3s) = 1.9664.
    let capability = &window["capability"];
    assert!((capability["cp"].as_f64().unwrap() - 3.277_3).abs() < 1e-3, "{window}");
    assert!((capability["cpk"].as_f64().unwrap() - 1.966_4).abs() < 1e-3, "{window}");
    assert_eq!(value["jobs"].as_array().unwrap().len(), 5);
}

#[test]
fn a_filed_job_counts_by_its_last_record_and_none_at_all_is_asked_for() {
    let one = job("0501", 0.004, 0.0);
    let place = one.folder.place().join("archive");
    let text = one.text();
    std::fs::remove_file(one.file()).unwrap();
    let archive = place.to_str().unwrap();
    let path = one.folder.job().to_str().unwrap();
    let filed = run(&["file", path, "--archive", archive, "--begin", "--at", "2024-03-06"]);
    assert_eq!(filed.status, Some(0), "{}", filed.err);
    std::fs::write(one.file(), text).unwrap();
    assert!(run(&["plan", path]).status.is_some());
    let filed = run(&["file", path, "--archive", archive, "--at", "2024-03-07"]);
    assert_eq!(filed.status, Some(0), "{}", filed.err);
    let said = run(&["shop", "--archive", archive, "--format", "json"]);
    let value: Value = serde_json::from_str(&said.out).unwrap_or_else(|e| panic!("{e} {}", said.err));
    assert_eq!(group(&value, "machine", "honed_size")["spread"]["n"], 6);
    assert_eq!(run(&["shop"]).status, Some(2));
}

#[test]
fn two_jobs_of_one_number_both_count_each_with_its_folder() {
    let one = job("0501", 0.004, 0.0);
    let other = job("0501", 0.006, 0.0);
    // Another block: its bores were read otherwise. Its own plan is that of these readings.
    let bores = other.folder.read("readings/bores-left.csv");
    let row = bores.lines().find(|line| line.starts_with("1,")).unwrap();
    let cells: Vec<&str> = row.split(',').collect();
    let moved = format!("{:.3}", cells[2].parse::<f64>().unwrap() + 0.002);
    other.folder.edit("readings/bores-left.csv", row, &row.replacen(cells[2], &moved, 1));
    assert!(matches!(other.folder.plan().status, Some(0 | 3)));
    let (status, value) = shop(&[&one, &other]);
    assert_eq!(status, Some(0));
    let jobs: Vec<&str> = value["jobs"].as_array().unwrap().iter().map(|job| job.as_str().unwrap()).collect();
    assert!(
        jobs.len() == 2 && jobs.iter().all(|job| job.starts_with("0501 (")) && jobs[0] != jobs[1],
        "{jobs:?}"
    );
    assert_eq!(group(&value, "person", "honed_size")["spread"]["n"], 12);
    // The same readings are the same job, and the folder that is left out is told.
    let twice = run(&["shop".as_ref(), one.folder.job().as_os_str(), one.folder.job().as_os_str()]);
    let said = twice.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(twice.out.contains("1 job:") && said.contains("it counts once, as it is there"), "{said}");
}
