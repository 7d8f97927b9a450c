//! What a release, a strike or a key press may not do by a slip: let a whole job through in place of a line, judge damage to be none,
//! take an open question back for nobody, put a reading off.

use borewright_planner::plan::check::{Of, What};

use crate::bench::Bench;

/// The sample with a note that tells of damage in line 2 and one that nobody judged in line 3.
fn noted() -> Bench {
    let bench = Bench::planned();
    bench.record("note crack line seen near the valley --by KP");
    bench.record("note bottom looks strange in the light --by KP");
    assert_eq!(bench.text().lines().count(), 3);
    bench
}

fn release(bench: &Bench, text: &str) -> (Option<i32>, String) {
    let run = bench.record(&format!("release {text} --by KP"));
    (run.status, run.out + &run.err)
}

#[test]
fn a_release_of_a_line_is_of_no_more_however_it_is_written() {
    let bench = noted();
    let (status, said) = release(&bench, "Line 3: only a shadow of the lamp");
    // The crack still stops or holds.
    assert!(matches!(status, Some(3 | 4)), "{said}");
    assert!(said.contains("the note of line 3 is judged"), "{said}");
    for text in ["lines 2 and 3: only a lamp", "note of line 2: only a lamp"] {
        let (status, said) = release(&bench, text);
        assert_eq!(status, Some(2), "{text}: {said}");
    }
    assert_eq!(bench.text().lines().count(), 4);
}

#[test]
fn a_release_of_nothing_and_one_that_tells_of_damage_say_so() {
    let bench = Bench::planned();
    bench.record("note bottom looks strange in the light --by KP");
    let (status, said) = release(&bench, "line 99: only a lamp");
    assert!(status == Some(3) && said.contains("nothing of line 99 holds or is asked"), "{said}");
    let (status, said) = release(&bench, "line 2: a crack, but the customer takes it");
    assert!(status == Some(3) && said.contains("is it damage"), "{said}");
    let (status, said) = release(&bench, "line 2: only a shadow of the lamp");
    assert!(said.contains("the note of line 2 is judged"), "{status:?} {said}");
}

#[test]
fn an_open_question_is_taken_back_by_name_only() {
    let bench = Bench::planned();
    bench.record("note bottom looks strange in the light --by KP");
    let refused = bench.record("strike 2 --because x");
    assert_eq!(refused.status, Some(2), "{}{}", refused.out, refused.err);
}

#[test]
fn a_blank_line_behind_a_reading_puts_nothing_off() {
    let bench = Bench::planned();
    let first = &bench.checks()[0].cylinders[0];
    let [x, y] = [0, 1].map(|at| first.readings[at].expected.unwrap());
    // A key that bounces sends its line end twice; what came with it is not read, and the second reading is asked again.
    let run = bench.prompt(&format!("{x:.3}\n\n{y:.3}\n"));
    assert_eq!(bench.text().lines().count(), 2, "{}", run.out);
    assert!(!run.out.contains("were put off"), "{}", run.out);
}

#[test]
fn a_page_of_another_bank_typed_in_again_is_no_bore_gauged() {
    let bench = Bench::touched();
    let sizes: Vec<_> = bench
        .checks()
        .into_iter()
        .filter(|c| c.what == What::Size && c.feature == "upper register")
        .collect();
    let [left, right] = sizes.as_slice() else { panic!("{sizes:?}") };
    let read = |check: &borewright_planner::plan::check::Check, more: f64| {
        let at = &check.cylinders[0];
        let waits = at.readings.iter().filter(|r| r.of == Of::Diameter && r.waits);
        let off = [0.001, 0.0, -0.001, 0.002, 0.0, 0.001];
        let said = waits.zip(off).map(|(r, off)| {
            let value = r.expected.unwrap() + off + more;
            let bore = at.cylinder.unwrap();
            bench.record(&format!("{} {bore} {value:.3} mm --reading {} --by KP", check.check, r.reading)).out
        });
        said.collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(!read(left, 0.0).contains("figures are those of"));
    let said = read(right, 0.0);
    let of = format!(
        "figures are those of CHECK {}, cylinder {}",
        left.check,
        left.cylinders[0].cylinder.unwrap()
    );
    assert!(said.contains(&of), "{said}");
}
