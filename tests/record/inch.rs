//! A job whose sheets are in inches is answered in inches: no figure of the same job in mm stands in any answer.

use borewright_planner::plan::check::{Of, What};

use crate::answers::with_sleeves;
use crate::bench::Bench;
use crate::common::{command, ended};

/// One job twice, its sheets, its lists and the machine's display in mm and in inches.
fn both() -> [Bench; 2] {
    let inch = with_sleeves();
    inch.folder.edit("job.yaml", "sheet_units: mm", "sheet_units: in");
    let machine = "../../machines/column-mill.yaml";
    inch.folder.edit(machine, "words: { millimetres: G21 }", "words: { inches: G20 }\nlists: in");
    assert!(matches!(inch.folder.plan().status, Some(0 | 3)));
    [with_sleeves(), inch]
}

/// Figures of three decimals, as a length in mm is told.
fn thousandths(text: &str) -> Vec<&str> {
    let figures = text.split(|c: char| !(c.is_ascii_digit() || c == '.')).map(|f| f.trim_matches('.'));
    figures.filter(|f| f.split_once('.').is_some_and(|(_, digits)| digits.len() == 3)).collect()
}

/// Neither the unit nor a figure of the answer in mm.
fn is_told_in_inches(mm: &str, inch: &str) {
    // What may be typed is quoted, `0.05 mm` among it.
    let own: String = inch.split('`').step_by(2).collect();
    assert!(!own.contains(" mm"), "{inch}");
    let told = thousandths(&own);
    for figure in thousandths(mm).iter().filter(|f| **f != "0.000") {
        assert!(!told.contains(figure), "{figure} of\n{mm}\nstands in\n{inch}");
    }
}

#[test]
fn readings_and_events_of_an_inch_job_hold_no_bare_millimetre() {
    let [mm, inch] = both();
    let size = mm.check(What::Size, "upper register");
    let ledge = mm.check(What::Ledge, "flange").check;
    let n = size.check;
    let touch = mm.check(What::Touch, "datum");
    let scales = touch.cylinders[0].readings[0].expected.unwrap() + 0.2;
    let first = size.cylinders[0].cylinder.unwrap();
    let third = size.cylinders[2].cylinder.unwrap();
    let waiting = size.cylinders[0].readings.iter().filter(|r| r.waits).count();
    let lines = [
        // A whole bore 0.005 larger: what to set the head to for the next.
        vec![format!("{n} {first} +0.005mm --again --by KP"); waiting],
        vec![
            format!("{n} {third} +0.02mm --by KP"),
            format!("{n} {third} +0.04mm --reading 1 --by KP"),
            format!("{n} {third} -0.02mm --by KP"),
            format!("{n} {third} +0.007mm --by KP"),
            format!("{ledge} {third} +0.03mm --by KP"),
            format!("{ledge} {third} -0.03mm --by KP"),
            format!("{} {} {scales:.3} --by KP", touch.check, touch.cylinders[0].cylinder.unwrap()),
            format!("void {third} hole --depth 40 --size 4"),
            format!("void {third} hole"),
            format!("crack {third} at the top"),
            "tool edge turned".to_owned(),
            "moved by the crane".to_owned(),
            format!("release {third} seen and let through --by KP"),
        ],
    ]
    .concat();
    let said = |bench: &Bench, lines: &[String]| -> Vec<String> {
        lines.iter().map(|line| bench.record(line).out).collect()
    };
    let (in_mm, in_inch) = (said(&mm, &lines), said(&inch, &lines));
    for (mm, inch) in in_mm.iter().zip(&in_inch) {
        is_told_in_inches(mm, inch);
    }
    let all = in_inch.join("").split_whitespace().collect::<Vec<_>>().join(" ");
    // 0.02 and 0.04 are both read there; +0.005 mm is 0.0002 in. Asked within 0.006 mm, 0.02 mm is 0.014 too much.
    for answer in
        ["head:", "AGAIN", "HOLD", "STOP", "0.0006 in larger than is asked", "from the ledge", "+0.0002"]
    {
        assert!(all.contains(answer), "{answer}: {all}");
    }
    assert!(thousandths(&in_mm.join("")).len() > 20, "{in_mm:?}");
    // What a program reads stays in mm.
    let json = [
        format!("{ledge} {third} +0.06mm --again --format json"),
        format!("void {third} hole --format json"),
    ];
    let sheets = with_sleeves();
    sheets.folder.edit("job.yaml", "sheet_units: mm", "sheet_units: in");
    assert!(matches!(sheets.folder.plan().status, Some(0 | 3)));
    assert_eq!(said(&with_sleeves(), &json), said(&sheets, &json));
}

#[test]
fn the_prompt_of_an_inch_job_asks_in_inches() {
    let [mm, inch] = both();
    let run = |bench: &Bench, typed: &str| bench.prompt(typed).out;
    // X of the first touch, then text and a figure that cannot be heard.
    let x = mm.checks()[0].cylinders[0].readings[0].expected.unwrap() + 0.2;
    // What is pasted behind a line that is not taken is not read: the last figure is typed in a sitting of its own.
    let said = |bench: &Bench| run(bench, &format!("{x:.3}\nabc\n")) + &run(bench, "999\n");
    let (in_mm, in_inch) = (said(&mm), said(&inch));
    is_told_in_inches(&in_mm, &in_inch);
    assert!(in_mm.contains(" mm,") && in_inch.contains(" in,"), "{in_inch}");
    assert!(in_inch.contains("a reading within 0.04 in of what is expected"), "{in_inch}");
}

/// Sheets in inches of a job in mm, its lists in mm or in inches.
fn all_inch(lists_in: bool) -> Bench {
    let bench = with_sleeves();
    bench.folder.edit("job.yaml", "sheet_units: mm", "sheet_units: in");
    if lists_in {
        let machine = "../../machines/column-mill.yaml";
        bench.folder.edit(machine, "words: { millimetres: G21 }", "words: { inches: G20 }\nlists: in");
    }
    assert!(matches!(bench.folder.plan().status, Some(0 | 3)));
    bench
}

/// Value and figure of the readings of a check.
fn written(bench: &Bench, check: u32) -> Vec<(String, f64)> {
    let text = bench.text();
    let Some(head) = text.lines().next() else { return Vec::new() };
    let head: Vec<&str> = head.split(',').collect();
    let column = |name: &str| head.iter().position(|h| *h == name).unwrap();
    let (value, figure) = (column("value"), column("figure"));
    let rows = text.lines().skip(1).map(|l| l.split(',').collect::<Vec<_>>());
    let own = rows.filter(|r| r[0] == check.to_string() && r[2].parse::<u32>().is_ok());
    own.map(|r| (r[value].to_owned(), r[figure].parse().unwrap_or(f64::NAN))).collect()
}

#[test]
fn a_unit_is_said_once_at_the_prompt_and_each_question_shows_it() {
    for lists_in in [false, true] {
        let bench = all_inch(lists_in);
        let ledge = bench.check(What::Ledge, "flange");
        let job = bench.folder.job().as_os_str().to_owned();
        let asked = |typed: &str| {
            let mut command = command();
            command.arg("record").arg(&job).arg(ledge.check.to_string()).args(["--by", "KP"]);
            ended(command.write_stdin(typed.to_owned())).out
        };
        // Nothing said: it is not known in what a small figure is.
        let out = asked("+.0001\n");
        assert!(out.contains("with its unit, `in` or `mm` > ") && out.contains("not written down"), "{out}");
        assert_eq!(written(&bench, ledge.check), []);
        let out = asked("in\n+.0001\n+0.002 mm\n");
        assert!(out.contains("from here on figures without a unit are in inches"), "{out}");
        // Two questions with figures, and the one left open.
        assert_eq!(out.matches("\nin > ").count(), 3, "{out}");
        let is = ledge.cylinders[0].readings[0].expected.unwrap();
        let all = written(&bench, ledge.check);
        assert_eq!(all.len(), 2, "{all:?}");
        assert_eq!((all[0].0.as_str(), all[1].0.as_str()), ("+.0001 in", "+0.002 mm"));
        assert!((all[0].1 - is - 0.002_54).abs() < 1e-6 && (all[1].1 - is - 0.002).abs() < 1e-6, "{all:?}");
        // The other unit is said alike, and figures are then told in it.
        let out = asked("mm\n+0.003\n");
        assert!(out.contains("\nmm > ") && out.contains(&format!("expected {is:.3} mm")), "{out}");
        let all = written(&bench, ledge.check);
        assert_eq!(all[2].0, "+0.003");
        assert!((all[2].1 - is - 0.003).abs() < 1e-6, "{all:?}");
    }
}

#[test]
fn what_a_display_in_mm_shows_is_not_heard_in_the_inches_that_were_said() {
    for (lists_in, mark) in [(false, "with its unit, `in` or `mm` > "), (true, "in > ")] {
        let bench = all_inch(lists_in);
        let touch = bench.checks().into_iter().find(|c| c.what == What::Touch).unwrap();
        let out = bench.prompt("in\n").out;
        let asked = out.split("are in inches\n").nth(1).unwrap();
        assert!(asked.contains(&format!("\n{mark}")), "{asked}");
        let y = touch.cylinders[0].readings.iter().find(|r| r.of == Of::Y).unwrap();
        let line = |value: &str| {
            format!(
                "{} {} {value} --reading {} --by KP --units in",
                touch.check,
                touch.cylinders[0].cylinder.unwrap(),
                y.reading
            )
        };
        let run = bench.record(&line(&format!("{:.4}", y.expected.unwrap() / 25.4)));
        assert_eq!(run.status == Some(2), !lists_in, "{}{}", run.out, run.err);
        assert_eq!(run.err.contains("the machine's display is in millimetres"), !lists_in, "{}", run.err);
    }
}

#[test]
fn a_line_and_a_page_say_their_unit_once() {
    let bench = all_inch(true);
    let ledge = bench.check(What::Ledge, "flange");
    let first = ledge.cylinders[0].cylinder.unwrap();
    let is = ledge.cylinders[0].readings[0].expected.unwrap();
    let run = bench.record(&format!("{} {first} +.0001 --by KP", ledge.check));
    assert_eq!(run.status, Some(2), "{}{}", run.out, run.err);
    let run = bench.record(&format!("{} {first} +.0001 --by KP --units in", ledge.check));
    assert!(run.out.contains("+0.0001") && !run.out.contains(" mm"), "{}{}", run.out, run.err);
    let rows: Vec<String> = ledge
        .cylinders
        .iter()
        .map(|c| {
            format!(
                "{}: {}",
                c.cylinder.unwrap(),
                if c.cylinder == Some(first) { "-; 0; 0; 0" } else { "0; 0; 0; +.0002" }
            )
        })
        .collect();
    let job = bench.folder.job().as_os_str().to_owned();
    let mut command = command();
    command.arg("record").arg(job).args([&ledge.check.to_string(), "--by", "KP", "--page", "-"]);
    let run = ended(command.write_stdin(format!("in\n{}\n", rows.join("\n"))));
    assert!(run.out.contains("written down"), "{}{}", run.out, run.err);
    let all = written(&bench, ledge.check);
    assert!(all[0].0 == "+.0001 in" && (all[0].1 - is - 0.002_54).abs() < 1e-6, "{all:?}");
    assert_eq!(all.last().unwrap().0, "+.0002 in", "{all:?}");
}

#[test]
fn what_is_read_off_the_display_is_asked_in_the_unit_of_the_lists_first() {
    // Sheets in inches, lists in mm, as the shop's readings are.
    let bench = with_sleeves();
    bench.folder.edit("job.yaml", "sheet_units: mm", "sheet_units: in");
    assert!(matches!(bench.folder.plan().status, Some(0 | 3)));
    let x = bench.checks()[0].cylinders[0].readings[0].expected.unwrap();
    let asked = bench.prompt("").out;
    assert!(
        asked.contains(&format!("expected {x:.3} mm (")) && asked.contains("\u{b1} 0.050 (0.0020)"),
        "{asked}"
    );
    let run = bench.record(&format!("1 5 {x:.3} --by KP"));
    assert!(run.out.contains(&format!("{x:.3} mm (")), "{}", run.out);
}

#[test]
fn units_are_told_as_asked_whatever_the_sheets_are_in() {
    let [mm, _] = both();
    let n = mm.check(What::Size, "upper register").check;
    let run = mm.record(&format!("{n} 3 +0.02mm --units inch"));
    assert!(!run.out.contains(" mm") && run.out.contains("0.0006 in larger"), "{}", run.out);
    let run = mm.record(&format!("{n} 5 +0.02mm --units both"));
    assert!(run.out.contains("0.014 mm (0.0006 in) larger"), "{}", run.out);
}
