//! What a disk, a kill and two people at once can do to a record.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use borewright_planner::plan::check::What;
use borewright_planner::record::{Kept, Log};

use crate::bench::Bench;

/// The record's readings, without what the program wrote beside them.
fn log(bench: &Bench) -> Log {
    let mut log = Log::read(&std::fs::read(bench.file()).unwrap_or_default());
    log.entries.retain(|e| !e.fields.get("check").is_empty());
    log
}

#[test]
fn two_at_once_both_are_written_and_none_twice() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    let people: Vec<_> = (0..8)
        .map(|n| {
            Command::new(env!("CARGO_BIN_EXE_borewright"))
                .arg("record")
                .arg(bench.folder.job())
                .args([
                    &check.to_string(),
                    "3",
                    &format!("89.78{n}"),
                    "--by",
                    &format!("P{n}"),
                    "--reading",
                    "1",
                ])
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap()
        })
        .collect();
    for mut person in people {
        person.wait().unwrap();
    }
    let log = log(&bench);
    assert_eq!(log.told, []);
    let mut said: Vec<&str> = log.entries.iter().map(|e| e.fields.get("by")).collect();
    said.sort_unstable();
    assert_eq!(said, ["P0", "P1", "P2", "P3", "P4", "P5", "P6", "P7"]);
    assert!(log.entries.iter().all(|e| e.kept == Kept::AsRecorded));
}

#[test]
fn killed_at_any_instant_what_was_answered_is_there_once() {
    // By hand a thousand times: BOREWRIGHT_KILLS=1000.
    let kills: u64 = std::env::var("BOREWRIGHT_KILLS").ok().and_then(|k| k.parse().ok()).unwrap_or(12);
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    let mut answered = Vec::new();
    for kill in 0..kills {
        let by = format!("P{kill}");
        let mut person = Command::new(env!("CARGO_BIN_EXE_borewright"))
            .arg("record")
            .arg(bench.folder.job())
            .args([&check.to_string(), "3", "89.781", "--by", &by, "--reading", "1"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Spread over the run's whole time, which is some ten milliseconds.
        let until = Instant::now() + Duration::from_micros(kill * 7919 % 30_000);
        while Instant::now() < until {
            std::hint::spin_loop();
        }
        let _ = person.kill();
        let output = person.wait_with_output().unwrap();
        if String::from_utf8_lossy(&output.stdout).contains("line ") {
            answered.push(by);
        }
    }
    let log = log(&bench);
    for by in &answered {
        let times = log.entries.iter().filter(|e| e.fields.get("by") == by).count();
        assert_eq!(times, 1, "{by} was answered");
    }
    let mut all: Vec<&str> = log.entries.iter().map(|e| e.fields.get("by")).collect();
    let before = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), before, "none is there twice");
}

#[test]
fn a_half_written_last_line_is_told_ended_and_does_not_count() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    bench.record(&format!("{check} 3 89.781 --by KP"));
    let whole = bench.text();
    let torn = format!("{whole}{check},3,2,89.7");
    std::fs::write(bench.file(), &torn).unwrap();
    let run = bench.record(&format!("{check} 3 89.782 --by KP"));
    assert!(run.err.contains("cut.csv:5") && run.err.contains("cut off"), "{}", run.err);
    assert!(bench.text().starts_with(&torn), "only ever added to");
    assert_eq!(log(&bench).entries.len(), 2);
}

#[test]
fn a_clock_set_back_is_told_and_the_order_of_the_file_stands() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    bench.record(&format!("{check} 3 89.781 --at 2024-03-01T09:30:00Z"));
    // Asked about, and taken once somebody says why: a card typed in afterwards is an honest one.
    let late = format!("{check} 3 89.782 --at 2024-03-01T08:30:00Z");
    let run = bench.record(&late);
    assert_eq!(run.status, Some(2), "{}{}", run.out, run.err);
    assert!(run.err.contains("before the last line of the record (2024-03-01T09:30:00Z)"), "{}", run.err);
    assert_eq!(log(&bench).entries.len(), 1);
    let run = bench.record(&format!("{late} --note card-typed-in-afterwards"));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    assert!(run.err.contains("clock was set back"), "{}", run.err);
    assert_eq!(log(&bench).entries.len(), 2);
    // As old as the line above it, it is in order.
    assert_eq!(bench.record(&late).status, Some(0));
}

#[test]
fn a_hundred_thousand_lines_are_read_in_the_time_of_a_few() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    let mut text = "check,cylinder,reading,value\n".to_owned();
    for n in 0..100_000 {
        text.push_str(&format!("{check},3,1,89.{:03}\n", 774 + n % 13));
    }
    std::fs::write(bench.file(), &text).unwrap();
    // The guard of the command ends a run that grows with the square of the lines.
    let run = bench.record(&format!("{check} 3 89.781 --by KP"));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    assert!(run.out.contains("line 100003"), "{}", run.out);
    assert!(bench.text().starts_with(&text));
}

#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_is_full_takes_nothing_and_says_so() {
    use std::os::unix::fs::symlink;
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    // A device that is always full is no file, and is not taken for one.
    symlink("/dev/full", bench.file()).unwrap();
    let run = bench.record(&format!("{check} 3 89.781"));
    assert_eq!(run.status, Some(2), "{}{}", run.out, run.err);
    std::fs::remove_file(bench.file()).unwrap();
    // A file that may not grow is a disk that is full.
    bench.record(&format!("{check} 3 89.781"));
    let before = bench.text();
    let blocks = before.len().div_ceil(1024).to_string();
    let script = format!("ulimit -f {blocks}; trap '' XFSZ; exec \"$0\" \"$@\"");
    let long = "x".repeat(390);
    let output = Command::new("bash")
        .args(["-c", &script, env!("CARGO_BIN_EXE_borewright"), "record"])
        .arg(bench.folder.job())
        .args([&check.to_string(), "3", "89.782", "--note", &long, "--instrument", &long, "--by", &long])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(String::from_utf8_lossy(&output.stderr).contains("NOT recorded"));
    assert_eq!(bench.text(), before);
}
