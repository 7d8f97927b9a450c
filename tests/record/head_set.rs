//! What a head is said to be set to before its cut, and what it is told to be set to for another.

use borewright_planner::plan::check::{Of, What};

use crate::bench::Bench;
use crate::common::run;
use crate::held::{findings, plan, verdict};

const LIST: &str = "20-pocket-left.nc";

fn proves(bench: &Bench) -> bool {
    let out = bench.folder.job().join("out");
    let (list, json) = (out.join("lists").join(LIST), out.join("plan.json"));
    run(&["prove".as_ref(), list.as_os_str(), "--plan".as_ref(), json.as_os_str()]).status == Some(0)
}

#[test]
fn a_head_set_over_its_size_stops_and_under_it_holds_until_it_is_struck_or_the_bore_was_read() {
    for (set, status, verdict_of, words) in [
        ("89.570", 4, "stop", "1.000 mm over 88.570"),
        ("88.590", 4, "stop", "0.020 mm over 88.570"),
        ("88.470", 3, "hold", "0.100 mm under 88.570"),
        ("88.576", 0, "go", "written down"),
    ] {
        let bench = Bench::planned();
        bench.touch_first(2);
        let lower = bench.check(What::Size, "lower register");
        let run = bench.record(&format!("{} 1 set {set} mm --by KP", lower.check));
        let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(run.status == Some(status) && flat.contains(words), "{set}: {flat}");
        assert_eq!((verdict(&plan(&bench), 1), proves(&bench)), (verdict_of, status == 0), "{set}");
        if status == 0 {
            continue;
        }
        let line = 1 + bench.text().lines().position(|l| l.contains(&format!(",{set} mm,"))).unwrap();
        assert_eq!(bench.strike(&line.to_string(), "the head stood at its size").status, Some(0), "{set}");
        assert_eq!(verdict(&plan(&bench), 1), "go", "{set} struck");
    }
    // Set again as planned, what was said first still stands until it is struck by name.
    let bench = Bench::planned();
    bench.touch_first(2);
    let lower = bench.check(What::Size, "lower register");
    assert_eq!(bench.record(&format!("{} 1 set 88.690 mm --by KP", lower.check)).status, Some(4));
    let run = bench.record(&format!("{} 1 set 88.570 mm --by KP", lower.check));
    assert_eq!(run.status, Some(4), "{}", run.out);
    assert_eq!((verdict(&plan(&bench), 1), proves(&bench)), ("stop", false));
    let line = 1 + bench.text().lines().position(|l| l.contains(",88.690 mm,")).unwrap();
    assert!(
        run.out.split_whitespace().collect::<Vec<_>>().join(" ").contains(&format!("strike line {line}"))
    );
    assert_eq!(bench.strike(&line.to_string(), "the head stood at its size").status, Some(0));
    assert_eq!(verdict(&plan(&bench), 1), "go");
    // Read at every place it is its sizes that tell.
    let bench = Bench::touched();
    let lower = bench.check(What::Size, "lower register");
    bench.record(&format!("{} 1 set 88.590 mm --by KP", lower.check));
    let diameters = lower.at(Some(1)).unwrap().readings.iter().filter(|r| r.of == Of::Diameter && r.waits);
    for (r, off) in diameters.zip([0.001, 0.0, -0.001, 0.002, 0.0, 0.001]) {
        assert_eq!(verdict(&plan(&bench), 1), "stop", "reading {} is still to come", r.reading);
        let said = r.expected.unwrap() + off;
        bench.record(&format!("{} 1 {said:.3} mm --reading {} --by KP", lower.check, r.reading));
    }
    assert_eq!(verdict(&plan(&bench), 1), "go");
}

#[test]
fn one_slip_of_the_gauge_sets_no_head() {
    let bench = Bench::touched();
    let lower = bench.check(What::Size, "lower register");
    let run = bench.record(&format!("{} 1 88.070 mm --by KP", lower.check));
    assert!(run.status == Some(3) && run.out.contains("AGAIN"), "{}", run.out);
    assert!(!run.out.contains("set "), "{}", run.out);
    // The same at every place: the head was not where it was said to be, and is told its own size.
    let bench = Bench::touched();
    let mut last = String::new();
    for r in lower.at(Some(1)).unwrap().readings.iter().filter(|r| r.of == Of::Diameter && r.waits) {
        last = bench.record(&format!("{} 1 88.070 mm --reading {} --by KP", lower.check, r.reading)).out;
        assert!(!last.contains("set 8") && !last.contains("89.07"), "{last}");
    }
    let flat = last.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("cut it again at 88.570, as planned"), "{flat}");
    // Places that are far from one another set none either.
    let bench = Bench::touched();
    for (r, said) in lower.at(Some(1)).unwrap().readings.iter().zip([88.5, 88.5, 88.43, 88.5, 88.5, 88.5]) {
        last = bench.record(&format!("{} 1 {said:.3} mm --reading {} --by KP", lower.check, r.reading)).out;
    }
    let flat = last.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("no head is set by that") && !flat.contains("; set "), "{flat}");
    assert!(findings(&plan(&bench), "as_cut").iter().any(|(of, _)| of == "cylinder 1"));
}
