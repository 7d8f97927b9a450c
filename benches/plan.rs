//! How long the way from a job folder to its files takes, step by step, on the shipped V6.
//!
//! `cargo bench --bench plan`; `scripts/bench` times whole commands.

use std::path::PathBuf;

use divan::Bencher;

fn main() {
    divan::main();
}

fn sample() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("blocks/jobs/petrel-0412")
}

fn job() -> borewright_planner::job::Job {
    match borewright_planner::load(&sample()) {
        Ok(job) => job,
        Err(faults) => {
            eprintln!("{faults}");
            std::process::exit(2)
        }
    }
}

#[divan::bench]
fn read_and_check(bencher: Bencher<'_, '_>) {
    bencher.bench(|| borewright_planner::load(&sample()));
}

#[divan::bench]
fn survey(bencher: Bencher<'_, '_>) {
    let job = job();
    bencher.bench(|| borewright_planner::survey::survey(&job));
}

#[divan::bench]
fn plan(bencher: Bencher<'_, '_>) {
    let job = job();
    bencher.with_inputs(|| job.clone()).bench_values(|job| borewright_planner::plan_job(job, None));
}

#[divan::bench]
fn write_every_file(bencher: Bencher<'_, '_>) {
    let Ok(planning) = borewright_planner::plan_job(job(), None) else { return };
    bencher.bench(|| borewright_output::bundle(&planning));
}
