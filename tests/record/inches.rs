//! A job whose lists are in inches: planned, proven, verified, recorded. 1 in = 25.4 mm exactly (NIST SP 811).

use borewright_planner::plan::check::{Of, What};

use crate::bench::Bench;
use crate::common::{Folder, files, run};

/// The machine's lists in inches.
fn inches(folder: &Folder) {
    let machine = "../../machines/column-mill.yaml";
    folder.edit(machine, "words: { millimetres: G21 }", "words: { inches: G20 }\nlists: in");
}

#[test]
fn a_job_with_lists_in_inches_is_planned_proven_verified_and_recorded() {
    let bench = Bench::planned_with(inches);
    let out = bench.folder.out();
    let plan = out.join("plan.json");
    let lists: Vec<String> = files(&out).into_iter().filter(|f| f.ends_with(".nc")).collect();
    assert_eq!(lists.len(), 6);
    for list in &lists {
        let list = out.join(list);
        let proven = run(&["prove".as_ref(), list.as_os_str(), "--plan".as_ref(), plan.as_os_str()]);
        assert_eq!(proven.status, Some(0), "{}{}", proven.out, proven.err);
        let text = std::fs::read_to_string(&list).unwrap();
        let edited = out.with_extension("nc");
        std::fs::write(&edited, text.replace(" G20 ", " G21 ")).unwrap();
        let refused = run(&["prove".as_ref(), edited.as_os_str(), "--plan".as_ref(), plan.as_os_str()]);
        assert_eq!(refused.status, Some(4), "{}{}", refused.out, refused.err);
        std::fs::remove_file(edited).unwrap();
    }
    assert_eq!(run(&["verify".as_ref(), out.as_os_str()]).status, Some(0));
    // What the touch check asks is the list's figure, in mm.
    let rough = std::fs::read_to_string(out.join("lists/10-rough-left.nc")).unwrap().replace(")\n(", " ");
    let check = bench.check(What::Touch, "datum");
    for bore in &check.cylinders {
        let Some(cylinder) = bore.cylinder else { continue };
        let of = format!("cylinder {cylinder} at the deck - X ");
        let said = rough.split(&of).nth(1).unwrap_or_else(|| panic!("{of}: {rough}"));
        let words: Vec<&str> = said.split(' ').collect();
        for (told, axis) in [(words[0], Of::X), (words[2], Of::Y)] {
            let asked = bore.readings.iter().find(|r| r.of == axis).unwrap();
            let inch: f64 = told.parse().unwrap();
            assert!((asked.expected.unwrap() - inch * 25.4).abs() < 1e-6, "{told} {asked:?}");
            // Read as the list has it, in inches, it is right.
            let line = format!("{} {cylinder} {told}in --reading {} --by KP", check.check, asked.reading);
            let run = bench.record(&line);
            assert_eq!(run.status, Some(0), "{line}: {}{}", run.out, run.err);
        }
    }
    // The same figure as mm is another place, and nothing goes on.
    let bore = check.cylinders.iter().find(|c| c.cylinder.is_some()).unwrap();
    let x = bore.readings.iter().find(|r| r.of == Of::X).unwrap();
    let inch = x.expected.unwrap() / 25.4;
    let line = format!(
        "{} {} {inch:.4}mm --reading {} --by KP --again",
        check.check,
        bore.cylinder.unwrap(),
        x.reading
    );
    let run = bench.record(&line);
    assert!(run.out.contains("STOP") || run.status != Some(0), "{}{}", run.out, run.err);
}
