//! `new`, and what comes after it.

use std::fs::{self, OpenOptions};
use std::io::Write;

use crate::common::{command, ended, files, run};

#[test]
fn a_new_job_says_what_is_to_be_filled_in_and_plans_once_it_is() {
    let place = tempfile::tempdir().unwrap();
    let job = place.path().join("next");
    let made = ended(command().args(["new", "next"]).current_dir(place.path()));
    assert_eq!((made.status, made.err.as_str()), (Some(0), ""));
    assert!(made.out.contains("borewright plan next"), "{}", made.out);
    assert!(made.out.lines().all(|line| line.chars().count() <= 80));
    let laid = files(&job);
    for name in laid.iter().filter(|name| name.contains('.')) {
        assert!(made.out.contains(&format!("\n  {name}\n")), "{name}");
        if name == "measuring.pdf" {
            continue;
        }
        let text = fs::read_to_string(job.join(name)).unwrap();
        assert!(text.contains("invented"), "{name} says that its figures are examples");
    }

    let empty = ended(command().args(["plan", "next"]).current_dir(place.path()));
    assert_eq!((empty.status, empty.out.as_str()), (Some(2), ""));
    for table in ["bores", "walls"] {
        let said = format!(
            "readings/{table}.csv: found a header and no rows below it: no reading is filled in, \
             expected at least one row\n"
        );
        assert!(empty.err.contains(&said), "{}", empty.err);
    }
    assert_eq!(files(&job), laid, "nothing was written");

    let add = |table: &str, rows: String| {
        let path = job.join("readings").join(table);
        OpenOptions::new().append(true).open(path).unwrap().write_all(rows.as_bytes()).unwrap();
    };
    let places = [(1, 60.0), (2, 156.0), (3, 252.0), (4, 348.0)];
    add(
        "bores.csv",
        places
            .iter()
            .map(|(cylinder, x)| {
                let x = x + 0.021;
                format!("{cylinder},20,{x:.3},0.031,86.020\n{cylinder},120,{x:.3},0.029,86.018\n")
            })
            .collect(),
    );
    add(
        "walls.csv",
        places
            .iter()
            .map(|(c, _)| format!("{c},90,0,6.6\n{c},90,90,6.2\n{c},90,180,6.5\n{c},90,270,6.1\n"))
            .collect(),
    );
    let planned = ended(command().args(["plan", "next"]).current_dir(place.path()));
    assert_eq!((planned.status, planned.err.as_str()), (Some(0), ""), "{}", planned.out);
    assert!(job.join("out/plan.json").is_file());
}

#[test]
fn new_overwrites_nothing() {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("job.yaml"), "mine").unwrap();
    for path in [place.path().to_owned(), place.path().join("job.yaml")] {
        let run = run(&["new".as_ref(), path.as_os_str()]);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
        assert!(run.err.contains("expected a new or empty folder"), "{}", run.err);
    }
    assert_eq!(fs::read_to_string(place.path().join("job.yaml")).unwrap(), "mine");
    assert_eq!(files(place.path()).len(), 1);
    // An empty folder is as good as none.
    let empty = place.path().join("empty");
    fs::create_dir(&empty).unwrap();
    assert_eq!(run(&["new".as_ref(), empty.as_os_str()]).status, Some(0));
}

/// A new job of some shape, every place of its tables filled in with a block as its maker meant it, planned.
fn filled_in(arguments: &[&str], mm: f64) -> crate::common::Run {
    let place = tempfile::tempdir().unwrap();
    let job = place.path().join("job");
    let made = ended(command().arg("new").arg(&job).args(arguments));
    assert_eq!((made.status, made.err.as_str()), (Some(0), ""));
    assert!(made.out.lines().all(|line| line.chars().count() <= 80), "{}", made.out);
    assert!(made.out.contains("still to fill in:\n  readings/bores"), "{}", made.out);
    for entry in fs::read_dir(job.join("readings")).unwrap() {
        let path = entry.unwrap().path();
        let of_right = path.to_string_lossy().ends_with("-right.csv");
        let text = fs::read_to_string(&path).unwrap();
        let mut read = if of_right { 40.0 } else { 0.0_f64 };
        let mut row = |line: &str| {
            read += 1.0;
            let cells: Vec<&str> = line.split(',').collect();
            let Some(n) = cells[0].parse::<u32>().ok().map(f64::from) else { return line.to_owned() };
            if cells.len() == 4 {
                return format!("{line}{:.4}", (6.2 + (0.37 * read).sin() / 5.0) / mm);
            }
            let two = arguments.contains(&"2");
            let place = if two { ((n + 1.0) / 2.0).floor() - 1.0 } else { n - 1.0 };
            let x = 60.0 + 96.0 * place + if of_right { 18.0 } else { 0.0 };
            // No two readings of a bore are alike to the last digit.
            let [x, y, d] =
                [(x, 2.3), (0.02, 1.7), (86.02, 0.9)].map(|(at, k)| at + 0.003 * (k * read).sin());
            format!("{},{},{:.4},{:.4},{:.4}", cells[0], cells[1], x / mm, y / mm, d / mm)
        };
        fs::write(&path, text.lines().map(&mut row).collect::<Vec<_>>().join("\n") + "\n").unwrap();
    }
    ended(command().arg("plan").arg(&job))
}

#[test]
fn a_new_block_of_any_shape_and_unit_plans_once_its_tables_are_filled_in() {
    for (arguments, mm) in [
        (&["--banks", "1", "--cylinders", "3"][..], 1.0),
        (&["--banks", "2", "--cylinders", "6", "--angle", "90"], 1.0),
        (&["--banks", "2", "--cylinders", "8", "--angle", "60", "--units", "in"], 25.4),
        (&["--cylinders", "6", "--units", "in"], 25.4),
    ] {
        let planned = filled_in(arguments, mm);
        assert_eq!((planned.status, planned.err.as_str()), (Some(0), ""), "{arguments:?}: {}", planned.out);
    }
}

#[test]
fn a_shape_that_cannot_be_is_refused() {
    let place = tempfile::tempdir().unwrap();
    let job = place.path().join("job");
    for (arguments, said) in [
        (&["--angle", "90"][..], "an angle of 90 with one bank"),
        (&["--banks", "2", "--angle", "12"], "30 to 180 degrees"),
        (&["--banks", "2", "--angle", "NaN"], "30 to 180 degrees"),
        (&["--banks", "2", "--cylinders", "1"], "one a bank or more"),
        (&["--banks", "3"], "--banks"),
        (&["--cylinders", "17"], "--cylinders"),
        (&["--family", "x", "--banks", "2"], "--banks"),
        (&["--family", "x"], "no archive named"),
    ] {
        let run = ended(command().arg("new").arg(&job).args(arguments).env_remove("BOREWRIGHT_ARCHIVE"));
        assert_eq!(run.status, Some(2), "{arguments:?}");
        assert!(run.err.contains(said), "{arguments:?}: {}", run.err);
        assert!(!job.exists(), "{arguments:?}");
    }
}
