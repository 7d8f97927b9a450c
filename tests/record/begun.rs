//! Work that was begun for one sleeve, deck or bore, and goes on for another.

use borewright_planner::plan::check::{Of, What};

use crate::answers::with_sleeves;
use crate::bench::Bench;
use crate::common::run;
use crate::held::{findings, plan, planned, verdict};

/// Reads one diameter of a check at a bore, as asked: its cut is begun.
fn begin(bench: &Bench, what: What, feature: &str, n: u32) {
    let check = bench.check(what, feature);
    let own = check.at(Some(n)).unwrap().readings.iter().find(|r| r.of == Of::Diameter).unwrap();
    let figure = own.expected.unwrap();
    let run = bench.record(&format!("{} {n} {figure:.3} mm --reading {} --by KP", check.check, own.reading));
    assert!(matches!(run.status, Some(0 | 3)), "{}{}", run.out, run.err);
}

#[test]
fn a_sleeve_whose_drawing_changed_since_the_cut_holds() {
    for (from, to, held) in [
        ("diameter: 95.0", "diameter: 99.0", true),
        ("diameter: 95.0", "diameter: 93.0", true),
        ("diameter: 89.8, to: 18.0", "diameter: 89.8, to: 28.0", true),
        ("diameter: 89.0, to: 52.0", "diameter: 89.0, to: 58.0", true),
        ("diameter: 88.6", "diameter: 88.4", true),
        ("cord: 1.78", "cord: 1.77", false),
    ] {
        let bench = Bench::touched();
        begin(&bench, What::Size, "lower register", 1);
        let file = bench.folder.place().join("sleeves/w90.yaml");
        let text = std::fs::read_to_string(&file).unwrap();
        assert!(text.contains(from));
        std::fs::write(&file, text.replace(from, to)).unwrap();
        let after = plan(&bench);
        let told = findings(&after, "sleeve_changed");
        assert_eq!(told.iter().any(|(subject, _)| subject == "cylinder 1"), held, "{to}: {told:?}");
        assert_eq!(verdict(&after, 1) != "go", held, "{to}");
    }
}

#[test]
fn a_deck_cut_before_the_ledges_that_count_from_it_holds() {
    let bench = Bench::planned_with(|folder| {
        folder.edit("job.yaml", "readings:\n", "deck: { cut: 0.15, when: before_fit }\nreadings:\n");
    });
    let deck = bench.checks().into_iter().find(|c| c.what == What::Deck && c.bank == "left").unwrap();
    for r in &deck.at(None).unwrap().readings {
        let figure = r.expected.or(r.least).unwrap_or(0.0);
        bench.record(&format!("{} - {figure:.3} mm --reading {} --by KP", deck.check, r.reading));
    }
    let after = plan(&bench);
    assert!([1, 3, 5].iter().all(|n| verdict(&after, *n) == "hold"));
    assert_eq!(verdict(&after, 2), "go");
    assert!(findings(&after, "deck_early")[0].1.contains("the deck as it was"));
}

#[test]
fn a_sleeve_that_is_in_goes_nowhere_else_and_nothing_else_into_its_bore() {
    let bench = with_sleeves();
    run(&["plan".as_ref(), bench.folder.job().as_os_str()]);
    bench.record("sleeve S1 for 5 --by KP");
    bench.record("sleeve S2 for 3 --by KP");
    // Not in yet: it may still be exchanged.
    assert_eq!(bench.record("sleeve S3 for 5 --by KP").status, Some(0));
    assert_eq!(bench.record("sleeve S1 for 5 --by KP").status, Some(0));
    let fit = bench.check(What::Protrusion, "sleeve");
    bench.record(&format!("{} 5 0.035 mm --reading 1 --by KP", fit.check));
    let run = bench.record("sleeve S1 for 1 --by KP");
    assert_eq!(run.status, Some(3), "{}", run.out);
    let run = bench.record("sleeve S4 for 5 --by KP");
    assert_eq!(run.status, Some(3), "{}", run.out);
    let after = plan(&bench);
    assert_eq!((verdict(&after, 1), verdict(&after, 5)), ("hold", "hold"));
    assert_eq!(findings(&after, "sleeve_twice").len(), 2);
}

#[test]
fn a_deck_to_be_cut_with_the_sleeves_in_holds_while_one_is_not() {
    let bench = Bench::planned_with(|folder| {
        folder.edit("job.yaml", "readings:\n", "deck: { cut: 0.15, when: after_fit }\nreadings:\n");
        let file = folder.place().join("sleeves/w90.yaml");
        let text = std::fs::read_to_string(&file).unwrap();
        let flush = text.replace("min: 0.02, max: 0.05", "min: -0.01, max: 0.01");
        std::fs::write(file, flush).unwrap();
    });
    let deck = bench.checks().into_iter().find(|c| c.what == What::Deck && c.bank == "left").unwrap();
    let before = |c: &&borewright_planner::plan::check::Check| {
        c.bank == "left" && c.stage.word() == "pocket" && c.what != What::Touch
    };
    for check in bench.checks().iter().filter(before).chain([&deck]) {
        for at in &check.cylinders {
            let of = at.cylinder.map_or_else(|| "-".to_owned(), |n| n.to_string());
            for (i, r) in (0..).zip(at.readings.iter().filter(|r| r.waits)) {
                let value = r.expected.or(r.least).map(|v| v + f64::from(i % 3) * 0.001);
                let said = value.map_or_else(|| "ok".to_owned(), |v| format!("{v:.3} mm"));
                bench.record(&format!("{} {of} {said} --reading {} --by KP", check.check, r.reading));
            }
        }
    }
    assert_eq!(findings(&plan(&bench), "deck_early").len(), 1);
}

#[test]
fn a_sleeve_that_was_cut_for_stays_in_the_table() {
    let bench = with_sleeves();
    begin(&bench, What::Size, "lower register", 1);
    assert!(findings(&plan(&bench), "sleeve_missing").is_empty());
    let pinned = bench.text().lines().rev().find(|l| l.contains(",sleeve,S")).unwrap().to_owned();
    let number = pinned.split(',').find(|cell| cell.starts_with('S')).unwrap().to_owned();
    let table = bench.folder.read("readings/sleeves.csv");
    // Others gone, so that there is not one for each bore, leave it without figures too: eight for six bores.
    let few = table.lines().filter(|l| {
        let other = l.split(',').next().unwrap_or_default();
        !other.starts_with('S') || other == number || ["S2", "S3", "S4"].contains(&other)
    });
    bench.folder.write("readings/sleeves.csv", few.collect::<Vec<_>>().join("\n") + "\n");
    assert_ne!(verdict(&plan(&bench), 1), "go");
    assert_eq!(findings(&plan(&bench), "sleeve_missing").len(), 2);
    let rest: Vec<&str> = table.lines().filter(|l| !l.starts_with(&format!("{number},"))).collect();
    bench.folder.write("readings/sleeves.csv", rest.join("\n") + "\n");
    let after = plan(&bench);
    assert_eq!(findings(&after, "sleeve_missing").len(), 2, "of each bank");
    assert_ne!(verdict(&after, 1), "go");
}

#[test]
fn the_record_of_another_job_holds_every_bore() {
    let bench = Bench::touched();
    begin(&bench, What::Size, "upper register", 1);
    assert!(findings(&plan(&bench), "begun_on").is_empty());
    // The folder of a job that was cut, taken for the next.
    bench.folder.edit("job.yaml", "job: \"0412\"", "job: \"0431\"");
    let after = plan(&bench);
    let told = findings(&after, "begun_on");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].1.contains("was begun as job 0412, and this is job 0431"), "{told:?}");
    assert!((1..=6).all(|n| verdict(&after, n) == "hold"));
}

#[test]
fn a_bank_begun_on_another_machine_or_zero_is_touched_anew() {
    let begun = || {
        let bench = Bench::planned();
        begin(&bench, What::Size, "upper register", 1);
        bench
    };
    // A tool's speed is nobody's zero.
    let bench = begun();
    let machine = "../../machines/column-mill.yaml";
    bench.folder.edit(machine, "grey iron: { speed: 90,", "grey iron: { speed: 85,");
    assert!(findings(&plan(&bench), "begun_on").is_empty());
    // Clamped and read anew, 12.35 farther along.
    let bench = begun();
    for file in ["axis-left", "deck-left", "bores-left"] {
        let file = format!("readings/{file}.csv");
        let moved: String = bench.folder.read(&file).lines().map(|line| moved(line, 12.35)).collect();
        bench.folder.write(&file, moved);
    }
    bench.folder.edit("job.yaml", "along: { x: -142.35 }", "along: { x: -130.00 }");
    let told = findings(&plan(&bench), "begun_on");
    assert!(
        matches!(told.as_slice(), [(bank, text)] if bank == "bank left" && text.contains("12.35")),
        "{told:?}"
    );
    // Another machine, until the touch check is read by the plan for it.
    let bench = begun();
    let name = bench.folder.read(machine).lines().find(|l| l.starts_with("name:")).unwrap().to_owned();
    bench.folder.edit(machine, &name, "name: the other mill");
    let after = planned(&bench);
    assert_eq!(findings(&after, "begun_on").len(), 1);
    assert_eq!((verdict(&after, 1), verdict(&after, 2)), ("hold", "go"));
    let touch = bench.check(What::Touch, "datum");
    for at in &touch.cylinders {
        let of = at.cylinder.map_or_else(|| "-".to_owned(), |n| n.to_string());
        for (n, asked) in at.readings.iter().filter(|r| r.waits).enumerate() {
            let value = asked.expected.unwrap_or_default() + 0.001 * f64::from(u32::try_from(n).unwrap());
            bench.record(&format!(
                "{} {of} {value:.3} mm --reading {} --again --by KP",
                touch.check, asked.reading
            ));
        }
    }
    assert!(findings(&plan(&bench), "begun_on").is_empty());
}

/// A row of a table with its x farther along, mm.
fn moved(line: &str, by: f64) -> String {
    let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
    // The third from the end in tables of axis, bores and deck alike.
    let at = cells.len().saturating_sub(3);
    if let Some(x) = cells.get(at).and_then(|x| x.parse::<f64>().ok()) {
        cells[at] = format!("{:.3}", x + by);
    }
    format!("{}\n", cells.join(","))
}

#[test]
fn a_shop_that_measures_no_sleeves_may_note_which_went_where() {
    let bench = Bench::planned();
    assert_eq!(bench.record("sleeve 12 for 1 --by KP").status, Some(0));
    assert!(findings(&plan(&bench), "sleeve_missing").is_empty());
    assert_eq!(verdict(&plan(&bench), 1), "go");
}

#[test]
fn readings_of_a_bore_that_came_to_hold_are_no_fault_of_the_record() {
    let bench = Bench::touched();
    for feature in ["upper register", "lower register"] {
        begin(&bench, What::Size, feature, 1);
    }
    let walls = bench.folder.read("readings/walls-left.csv");
    let row = walls.lines().find(|l| l.starts_with("1,80,90,")).unwrap().to_owned();
    bench.folder.edit("readings/walls-left.csv", &row, "1,80,90,0.9");
    let after = plan(&bench);
    assert_ne!(verdict(&after, 1), "go");
    let told = findings(&after, "record");
    assert!(
        matches!(told.as_slice(), [(bore, text)] if bore == "cylinder 1" && text.contains("judged once")),
        "{told:?}"
    );
    assert_eq!((verdict(&after, 3), verdict(&after, 2)), ("go", "go"));
}
