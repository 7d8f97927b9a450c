//! The prompt: digits and Enter alone.

use borewright_planner::plan::check::What;

use crate::bench::Bench;
use crate::common::{command, ended};

#[test]
fn it_asks_in_the_order_of_work_with_window_and_what_is_to_come() {
    let bench = Bench::planned();
    let run = bench.prompt("");
    assert_eq!(run.status, Some(0));
    assert!(run.out.contains("CHECK 1, cylinder"), "{}", run.out);
    assert!(run.out.contains("to come: 2 here"), "{}", run.out);
    assert!(!bench.file().exists(), "asked is not written");
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
}

#[test]
fn values_are_written_one_by_one_and_a_mistake_is_taken_back_by_number() {
    let bench = Bench::planned();
    let x = bench.checks()[0].cylinders[0].readings[0].expected.unwrap();
    // X of the first touch, wrong by 0.2, struck as typed wrong (1), then right; Y put off; X of the next bore.
    let run = bench.prompt(&format!("{:.3}\n/\n1\n{x:.3}\n\n", x + 0.2));
    assert!(run.out.contains("off by 0.150"), "{}", run.out);
    assert!(run.out.contains("line 2 is struck"), "{}", run.out);
    let text = bench.text();
    assert_eq!(text.lines().count(), 4, "{text}");
    assert!(text.contains("typed wrong"), "{text}");
}

#[test]
fn what_was_not_ended_with_enter_is_not_believed() {
    let bench = Bench::planned();
    let x = bench.checks()[0].cylinders[0].readings[0].expected.unwrap();
    let run = bench.prompt(&format!("{x:.3}\n12"));
    assert!(run.out.contains("`12` was not ended with Enter"), "{}", run.out);
    assert_eq!(bench.text().lines().count(), 2);
}

#[test]
fn what_cannot_be_heard_is_asked_again() {
    let bench = Bench::planned();
    let run = bench.prompt("abc\n");
    assert!(run.out.contains("found `abc`"), "{}", run.out);
    assert!(!bench.file().exists());
    assert!(run.out.matches("CHECK 1, cylinder").count() == 2, "{}", run.out);
}

#[test]
fn behind_a_line_that_is_not_taken_nothing_pasted_goes_into_another_place() {
    let bench = Bench::planned();
    let ledge = bench.checks().into_iter().find(|c| c.what == What::Ledge).unwrap();
    let job = bench.folder.job().as_os_str().to_owned();
    let pasted = |text: &str| {
        let _ = std::fs::remove_file(bench.file());
        for kept in borewright_planner::record::kept_in(bench.folder.job()) {
            let _ = std::fs::remove_file(kept);
        }
        let mut command = command();
        command.arg("record").arg(&job).arg(ledge.check.to_string()).args(["--by", "KP"]);
        let run = ended(command.write_stdin(text.to_owned()));
        let text = bench.text();
        let rows = text.lines().map(|l| l.split(',').collect::<Vec<_>>());
        let own = rows.filter(|r| r[0] == ledge.check.to_string() && r[2].parse::<u32>().is_ok());
        let rows: Vec<String> = own.map(|r| format!("{} {}", r[2], r[3])).collect();
        (run.status, run.out, rows)
    };
    // One that is no figure, one that is blank, one that was sent twice.
    for spoiled in ["+0.0 02", "", "+0.001"] {
        let (status, out, rows) = pasted(&format!("+0.001\n{spoiled}\n+0.003\n+0.004\n"));
        assert_eq!(rows, ["1 +0.001"], "{spoiled}: {out}");
        assert!(
            status == Some(3) && out.contains("what was pasted behind that is not read"),
            "{spoiled}: {out}"
        );
    }
    let (_, out, rows) = pasted("+0.001\n+0.001\n");
    assert!(rows == ["1 +0.001"] && out.contains("was it sent twice?"), "{out}");
}

#[test]
fn a_filled_card_is_typed_in_check_by_check_row_by_row() {
    let bench = Bench::planned();
    let ledge = bench.checks().into_iter().find(|c| c.what == What::Ledge).unwrap();
    let job = bench.folder.job().as_os_str().to_owned();
    let typed = "+0.001\n+0.002\n".repeat(6);
    let mut command = command();
    command.arg("record").arg(&job).arg(ledge.check.to_string()).args([
        "--by",
        "KP",
        "--instrument",
        "depth gauge",
    ]);
    let run = ended(command.write_stdin(typed));
    assert!(run.out.contains("nothing is to come of this check"), "{}", run.out);
    let text = bench.text();
    let rows: Vec<Vec<&str>> = text.lines().map(|l| l.split(',').collect()).collect();
    let readings: Vec<(&str, &str)> = rows
        .iter()
        .filter(|r| r[0] == ledge.check.to_string() && r[2].parse::<u32>().is_ok())
        .map(|r| (r[1], r[2]))
        .collect();
    // A row a bore in the check's order, four boxes each.
    let cylinders: Vec<String> = ledge.cylinders.iter().map(|c| c.cylinder.unwrap().to_string()).collect();
    let expected: Vec<(&str, &str)> =
        cylinders.iter().flat_map(|c| ["1", "2", "3", "4"].map(|n| (c.as_str(), n))).collect();
    assert_eq!(readings, expected);
    assert!(rows.iter().skip(1).all(|r| r[2].parse::<u32>().is_err() || r[6] == "depth gauge"), "{text}");
    assert_eq!(bench.record("99").status, Some(2));
}
