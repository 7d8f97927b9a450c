//! What `plan` says when it replaces an earlier plan: what moved, and which file brought it.

use crate::common::Folder;

#[test]
fn a_plan_over_itself_says_that_nothing_moved() {
    let job = Folder::base("base");
    assert!(!job.plan().out.contains("since"), "nothing to compare with");
    assert!(job.plan().out.ends_with("nothing moved since the last plan\nGO\n"));
}

#[test]
fn a_moved_bore_is_told_in_words_with_its_reason_and_the_file_that_brought_it() {
    let job = Folder::base("base");
    job.plan();
    // The wall opposite read thin: cylinder 1 has to give way.
    let walls = job.read("walls.csv");
    let row = walls.lines().find(|l| l.starts_with("1,")).unwrap().to_owned();
    let cells: Vec<&str> = row.split(',').collect();
    job.edit("walls.csv", &row, &format!("{},{},{},6.6", cells[0], cells[1], cells[2]));
    let said = job.plan();
    let text = said.out.split("since plan ").nth(1).unwrap_or_else(|| panic!("{}", said.out));
    assert!(text.contains("walls.csv changed"), "{text}");
    job.edit("sleeve.yaml", "interference: 0.03", "interference: 0.04");
    let text = job.plan().out;
    let text = text.split("since plan ").nth(1).unwrap();
    assert!(text.contains("sleeve.yaml changed"), "{text}");
    assert!(text.contains("pocket, lower register: diameter 84.160, was 84.170 (cylinder 1, 2)"), "{text}");
    assert!(text.contains("put them away"), "{text}");
}

#[test]
fn what_is_no_plan_of_this_job_is_passed_over() {
    let job = Folder::base("base");
    job.plan();
    let plan = job.read("out/plan.json");
    // An out folder whose files were changed is refused before anything is compared.
    job.write("out/plan.json", plan.replace("\"job\"", "\"jab\""));
    assert_eq!(job.plan().status, Some(2));
}
