//! What is refused says the one thing that is amiss, on one screen.

use crate::common::{Folder, command, ended, run};

#[test]
fn a_plan_or_a_folder_of_jobs_is_told_as_what_it_is() {
    let job = Folder::planned();
    let plan = job.out().join("plan.json");
    let said = run(&["plan".as_ref(), plan.as_os_str()]);
    assert_eq!(said.status, Some(2));
    let wanted = format!("found a file that is no job, expected the job's folder: {}", job.job().display());
    assert!(said.err.contains(&wanted), "{}", said.err);
    let said = run(&["plan".as_ref(), job.place().as_os_str()]);
    assert_eq!(said.status, Some(2));
    let wanted = format!("found a folder of jobs, expected one of them: {}", job.job().display());
    assert!(said.err.contains(&wanted), "{}", said.err);
}

#[test]
fn a_question_with_one_thing_amiss_is_told_that_and_no_menu() {
    let sample = Folder::sample();
    let ask = |words: &str| {
        let job = sample.job().to_str().unwrap().to_owned();
        let words = words.split(' ').map(str::to_owned);
        run(&["explain".to_owned(), job].into_iter().chain(words).collect::<Vec<_>>())
    };
    for (words, wanted) in [
        ("limit parent wall 9", "no cylinder 9; cylinders 1 to 6"),
        ("check 99", "no CHECK 99; checks 1 to "),
        ("check 2 2", "CHECK 2 asks nothing of cylinder 2; it is of 1, 3, 5"),
        ("pass 9999", "no step 9999; steps "),
    ] {
        let said = ask(words);
        assert_eq!(said.status, Some(2), "{words}");
        assert!(said.err.contains(wanted), "{words}: {}", said.err);
        assert_eq!(said.err.lines().count(), 2, "{words}: {}", said.err);
    }
}

#[test]
fn tables_that_wait_to_be_filled_in_are_told_a_line_each_and_faults_keep_to_a_narrow_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job");
    let new = ["new", job.to_str().unwrap(), "--banks", "2", "--cylinders", "8"];
    assert_eq!(run(&new).status, Some(0));
    let plan = ended(command().env("COLUMNS", "60").args(["plan", job.to_str().unwrap()]));
    assert_eq!(plan.status, Some(2));
    assert!(plan.err.lines().count() < 24, "{}", plan.err);
    assert!(plan.err.contains("bores-left.csv:3: found 36 empty cells"), "{}", plan.err);
    let long = |line: &&str| line.chars().count() > 60 && !line.contains(" | ");
    assert_eq!(plan.err.lines().filter(long).collect::<Vec<_>>(), Vec::<&str>::new(), "{}", plan.err);
}

#[test]
fn a_shop_without_a_record_says_so_within_sixty_columns() {
    let job = Folder::planned();
    let page = ended(command().env("COLUMNS", "60").arg("shop").arg(job.job()));
    assert_eq!(page.status, Some(0), "{}", page.err);
    assert!(page.out.contains("nothing recorded yet"), "{}", page.out);
    assert!(page.out.lines().all(|line| line.chars().count() <= 60), "{}", page.out);
}

#[test]
fn a_plan_told_in_other_units_says_in_which_its_cards_stay() {
    let job = Folder::sample();
    let plan = |units: &str| ended(command().arg("plan").arg(job.job()).args(["--units", units])).out;
    for units in ["both", "in"] {
        let said = plan(units);
        assert!(said.ends_with("cards stay in mm: `sheet_units` of the job\nGO\n"), "{said}");
    }
    assert!(!plan("mm").contains("cards stay"));
}
