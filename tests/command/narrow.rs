//! Pages on a narrow terminal: no line is wider than its 60 columns.

use std::ffi::OsStr;

use crate::common::{Folder, command, ended, files};

/// Runs the command as on a terminal of 60 columns.
fn narrow<S: AsRef<OsStr>>(arguments: &[S]) -> String {
    let run = ended(command().env("COLUMNS", "60").args(arguments));
    assert!(!run.out.is_empty(), "{}", run.err);
    run.out
}

#[track_caller]
fn fits(page: &str) {
    let wide: Vec<&str> = page.lines().filter(|l| l.chars().count() > 60).collect();
    assert!(wide.is_empty(), "{wide:#?}");
}

#[test]
fn prove_verify_and_report_keep_to_sixty_columns() {
    let job = Folder::planned();
    let (out, plan) = (job.out(), job.out().join("plan.json"));
    fits(&narrow(&["verify".as_ref(), out.as_os_str()]));
    fits(&narrow(&["report".as_ref(), job.job().as_os_str()]));
    let lists = files(&out);
    let list = lists.iter().find(|f| f.ends_with(".nc")).unwrap();
    let list = out.join(list);
    let prove = ["prove".as_ref(), list.as_os_str(), "--plan".as_ref(), plan.as_os_str()];
    fits(&narrow(&prove));
    let text = std::fs::read_to_string(&list).unwrap();
    std::fs::write(&list, text.replacen("SUM OF X ", "SUM OF X 9", 1)).unwrap();
    let page = narrow(&prove);
    assert!(page.contains("NOT PROVEN"), "{page}");
    fits(&page);
    fits(&narrow(&["verify".as_ref(), out.as_os_str()]));
}
