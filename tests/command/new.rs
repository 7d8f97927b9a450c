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
