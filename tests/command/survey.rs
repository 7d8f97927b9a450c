//! What `survey --out` writes, and that it writes nothing otherwise.

use std::fs;
use std::path::Path;

use crate::common::{Folder, Run, command, contents, ended, files, pdf_text};

fn survey(job: &Path, more: &[&str]) -> Run {
    ended(command().arg("survey").arg(job).args(more))
}

#[test]
fn a_survey_writes_nothing_unless_told_where() {
    let job = Folder::sample();
    let before = files(job.place());
    assert_eq!(survey(job.job(), &[]).status, Some(0));
    assert_eq!(files(job.place()), before);
}

#[test]
fn a_survey_told_where_writes_its_figures_its_sheet_and_its_pictures() {
    let job = Folder::sample();
    let out = job.place().join("survey");
    let place = out.to_str().unwrap();
    let run = survey(job.job(), &["--out", place]);
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
    assert!(
        run.out.contains("written to") && run.out.starts_with(&survey(job.job(), &[]).out),
        "{}",
        run.out
    );
    let json = survey(job.job(), &["--format", "json"]).out;
    assert_eq!(fs::read_to_string(out.join("survey.json")).unwrap(), json);
    assert!(pdf_text(&out.join("survey.pdf")).contains("page 1 of"));
    let pictures = files(&out.join("figures"));
    assert_eq!(pictures.len(), 10, "{pictures:?}");
    for name in &pictures {
        let text = fs::read_to_string(out.join("figures").join(name)).unwrap();
        let document = roxmltree::Document::parse(&text).unwrap();
        assert_eq!(document.root_element().tag_name().name(), "svg");
    }
    // Again, in place of itself, and to the same bytes.
    let first = contents(&out);
    assert_eq!(survey(job.job(), &["--out", place, "--format", "json"]).out, json);
    assert_eq!(contents(&out), first);
}

#[test]
fn a_survey_takes_the_place_of_nothing_but_a_survey() {
    let job = Folder::sample();
    assert_eq!(job.plan().status, Some(0));
    let planned = contents(&job.out());
    let run = survey(job.job(), &["--out", job.out().to_str().unwrap()]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(run.err.contains("found a plan") && run.err.contains("nothing was written"), "{}", run.err);
    assert_eq!(contents(&job.out()), planned);
    let notes = job.place().join("notes");
    fs::create_dir(&notes).unwrap();
    fs::write(notes.join("mine.txt"), "mine").unwrap();
    let run = survey(job.job(), &["--out", notes.to_str().unwrap()]);
    assert_eq!(run.status, Some(2));
    assert_eq!(files(&notes), ["mine.txt"]);
}
