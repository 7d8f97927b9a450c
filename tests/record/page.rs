//! A filled card typed in at once.

use borewright_planner::plan::check::What;

use crate::bench::Bench;
use crate::common::{Run, command, ended};

fn page(bench: &Bench, check: u32, text: &str) -> Run {
    let job = bench.folder.job().as_os_str().to_owned();
    let mut command = command();
    command.arg("record").arg(job).args([&check.to_string(), "--by", "KP", "--page", "-"]);
    ended(command.write_stdin(text.to_owned()))
}

#[test]
fn a_page_gives_the_same_readings_as_its_boxes_asked_one_by_one() {
    let [at_once, asked] = [Bench::planned(), Bench::planned()];
    let ledge = asked.check(What::Ledge, "flange");
    let boxes: usize = ledge.cylinders.iter().map(|c| c.readings.iter().filter(|r| r.waits).count()).sum();
    let rows: Vec<String> = ledge
        .cylinders
        .iter()
        .map(|c| format!("{}: +0.001; +0.002; 0; +0.001", c.cylinder.unwrap()))
        .collect();
    let run = page(&at_once, ledge.check, &format!("# card 5\n{}\n", rows.join("\n")));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    assert!(
        run.out.contains(&format!("{boxes} readings of CHECK {} written down", ledge.check)),
        "{}",
        run.out
    );
    for c in &ledge.cylinders {
        for (value, n) in ["+0.001", "+0.002", "0", "+0.001"].iter().zip(1..) {
            let line = format!("{} {} {value} --reading {n} --by KP", ledge.check, c.cylinder.unwrap());
            assert_eq!(asked.record(&line).status, Some(0), "{line}");
        }
    }
    let readings = |bench: &Bench| -> Vec<String> {
        let rows = bench.text();
        let rows = rows.lines().map(|l| l.split(',').take(4).collect::<Vec<_>>().join(","));
        rows.filter(|l| l.starts_with(&format!("{},", ledge.check)) && !l.contains("strike")).collect()
    };
    assert_eq!(readings(&at_once).len(), boxes);
    assert_eq!(readings(&at_once), readings(&asked));
    // The chain holds, and the same page again is refused whole.
    let before = at_once.text();
    let again = page(&at_once, ledge.check, &rows.join("\n"));
    assert_eq!(again.status, Some(2), "{}{}", again.out, again.err);
    assert!(!again.err.contains("changed since it was recorded"), "{}", again.err);
    assert!(again.err.contains("of the record has `+0.001` there"), "{}", again.err);
    assert_eq!(at_once.text(), before);
}

#[test]
fn a_page_with_faults_tells_all_of_them_and_writes_nothing() {
    let bench = Bench::planned();
    let ledge = bench.check(What::Ledge, "flange");
    let first = ledge.cylinders[0].cylinder.unwrap();
    let run = page(&bench, ledge.check, &format!("{first}: +0.001; abc; ; 5 m\n99: 0\n"));
    assert_eq!(run.status, Some(2), "{}{}", run.out, run.err);
    for told in ["standard input:1:12", "`abc`", "nothing", "`5 m`", "cylinder 99"] {
        assert!(run.err.contains(told), "{told}: {}", run.err);
    }
    assert!(!bench.file().exists());
    for words in ["--page -", "99 --page -", "5 3 --page -", "5 --page no-such-card.txt"] {
        let run = bench.record(words);
        assert_eq!(run.status, Some(2), "{words}: {}{}", run.out, run.err);
    }
    assert!(!bench.file().exists());
}

#[test]
fn a_bore_that_wants_something_is_answered_once() {
    let bench = Bench::touched();
    let ledge = bench.check(What::Ledge, "flange");
    let rows: Vec<&str> = ledge.cylinders.iter().map(|_| "0; 0; 0; 0").collect();
    let text = rows.join("\n").replacen("0; 0; 0; 0", "+0.05; +0.05; +0.05; +0.05", 1);
    let run = page(&bench, ledge.check, &text);
    assert_eq!(run.status, Some(3), "{}{}", run.out, run.err);
    assert_eq!(run.out.matches("HOLD").count(), 1, "{}", run.out);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
}

#[test]
fn an_instant_is_given_by_day_and_minute_or_refused() {
    let bench = Bench::planned();
    let job = bench.folder.job().as_os_str().to_owned();
    let note = |at: &str| ended(command().arg("record").arg(&job).args(["note", "bar warm", "--at", at]));
    assert_eq!(note("2024-03-01 09:30").status, Some(0));
    assert!(bench.text().contains("2024-03-01T09:30:00Z"), "{}", bench.text());
    for at in ["2026-02-29 09:30", "9:30", "24:00", "yesterday"] {
        let run = note(at);
        assert_eq!(run.status, Some(2), "{at}: {}", run.out);
        assert!(run.err.contains("an instant of UTC such as"), "{}", run.err);
    }
    let run = note("9999-03-01 09:30");
    assert_eq!(run.status, Some(2), "{}", run.out);
    assert!(run.err.contains("--at `9999-03-01 09:30`, expected an instant that has come"), "{}", run.err);
}
