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
    assert!(
        text.contains("pocket, lower register: diameter 84.160, was 84.170 (cylinders 1 and 2)"),
        "{text}"
    );
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

/// What is said since the plan before, after an edit.
fn since(job: &Folder, edit: impl Fn(&Folder)) -> String {
    job.plan();
    edit(job);
    let said = job.plan().out;
    said.split("since plan ")
        .nth(1)
        .unwrap_or_else(|| panic!("{said}"))
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn roughing_diameters_and_their_stock_are_told() {
    let job = Folder::base("base");
    let said = since(&job, |job| {
        let old = job.read("job.yaml");
        job.write("job.yaml", format!("{old}allowances: {{ pocket: 0.25 }}\n"));
    });
    // The last roughing cut leaves 0.05 a side more, 0.1 on diameter.
    assert!(said.contains("job.yaml changed"), "{said}");
    assert!(
        said.contains("rough: 8 cuts to ")
            && said.contains(", was 9 to ")
            && said.contains("(cylinders 1 and 2)"),
        "{said}"
    );
    assert!(
        said.contains("pocket, upper register: stock 0.250 to 0.250 a side, was 0.200 to 0.200 a side"),
        "{said}"
    );
}

#[test]
fn a_bore_read_elsewhere_moves_its_stock_and_its_touch_check() {
    let job = Folder::base("base");
    let row = job.read("bores.csv").lines().find(|l| l.starts_with("1,")).unwrap().to_owned();
    let said = since(&job, |job| {
        let bores = job.read("bores.csv");
        let moved = |line: &str| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if cells[0] == "1" {
                cells[2] = format!("{:.3}", cells[2].parse::<f64>().unwrap() + 0.02);
            }
            cells.join(",")
        };
        job.write("bores.csv", bores.lines().map(|l| moved(l) + "\n").collect::<String>());
    });
    assert!(said.contains("bores.csv changed"), "{row}: {said}");
    assert!(said.contains("stock"), "{said}");
    assert!(said.contains("touch check, rough bank: cylinder 1 X +"), "{said}");
}
