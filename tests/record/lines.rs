//! One line on the command line.

use borewright_planner::plan::check::What;

use crate::bench::Bench;

#[test]
fn a_reading_is_on_the_disk_with_who_when_and_what_was_asked() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    // 0.8 thou are 0.02032 mm: 89.80032, over the window's 89.786 by 0.01432.
    let run = bench.record(&format!("{check} 3 +0.8 thou --by KP --at 2024-03-01T09:30:00Z"));
    // The sleeve of 89.800 would drop in: nothing holds it, and no other is at hand.
    assert_eq!(run.status, Some(4), "{}{}", run.out, run.err);
    assert!(run.out.contains("89.800 mm, +0.020"), "{}", run.out);
    assert!(run.out.contains("0.014 mm larger"), "{}", run.out);
    assert!(run.out.contains("5 here"), "{}", run.out);
    let text = bench.text();
    let row = text.lines().nth(1).unwrap();
    assert!(
        row.starts_with(&format!(
            "{check},3,1,+0.8 thou,10.5,0,,,KP,2024-03-01T09:30:00Z,,89.80032,89.78,89.774,89.786,"
        )),
        "{row}"
    );
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
}

#[test]
fn what_is_below_is_a_minus_and_needs_no_quotation_marks() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    let run = bench.record(&format!("{check} 3 -.004 --by KP"));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    assert!(run.out.contains("89.776 mm, -0.004"), "{}", run.out);
    let run = bench.record(&format!("{check} 3 -0.8 thou --by KP"));
    assert!(run.out.contains("0.014 mm smaller"), "{}{}", run.out, run.err);
}

#[test]
fn an_equal_reading_goes_to_the_next_open_place_and_is_asked_about_where_none_is_open() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    let line = format!("{check} 3 89.781 --by KP");
    // A round bore reads the same all round: six places, and each says which it was.
    let places: Vec<String> = (0..6)
        .map(|_| {
            let run = bench.record(&line);
            assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
            run.out.lines().next().unwrap_or_default().rsplit_once("diameter at ").unwrap().1.to_owned()
        })
        .collect();
    assert_eq!(places[..3], ["10.5 deep, along", "10.5 deep, across", "13.0 deep, along"]);
    let readings =
        |n: u32| bench.text().lines().filter(|l| l.starts_with(&format!("{check},3,{n},89.781"))).count();
    assert!((1..=6).all(|n| readings(n) == 1), "{}", bench.text());
    let before = bench.text();
    assert_eq!(bench.record(&line).status, Some(2));
    assert_eq!(bench.text(), before);
    // All alike to the last digit is asked about, and holds nothing; a note answers it.
    for (more, asks) in [("", true), (" --note dial-of-0.01", false)] {
        let cylinder = if asks { 1 } else { 5 };
        let said: Vec<_> =
            (0..6).map(|_| bench.record(&format!("{check} {cylinder} 89.781 --by KP{more}"))).collect();
        let last = said.last().unwrap();
        assert_eq!(last.out.contains("were they all taken?"), asks, "{}", last.out);
        assert_ne!(last.status, Some(2), "{}", last.err);
    }
    // What has one place alone is filled by the first.
    let set = format!("{check} 3 set 89.781 --by KP");
    assert_eq!(bench.record(&set).status, Some(0));
    let run = bench.record(&set);
    assert_eq!(run.status, Some(2));
    assert!(run.err.contains("says the same"), "{}", run.err);
    assert_eq!(bench.record(&format!("{set} --again")).status, Some(0));
}

#[test]
fn a_check_is_named_as_the_card_names_it_and_a_crack_is_of_its_bore() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    let run = bench.record(&format!("CHECK {check} 3 89.781 --by KP"));
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    let run = bench.record("crack 3 --by KP");
    assert_eq!(run.status, Some(4), "{}{}", run.out, run.err);
    assert!(bench.text().contains(",3,crack,crack,"), "{}", bench.text());
    assert_eq!(bench.record("crack 9 --by KP").status, Some(2), "no such cylinder");
}

#[test]
fn what_is_looked_at_is_answered_with_its_question() {
    let bench = Bench::planned();
    let look = bench.check(What::Look, "lower register").check;
    let run = bench.record(&format!("{look} 3 no --by KP"));
    assert!(run.out.contains("lower register: looked at"), "{}", run.out);
    assert!(run.out.contains("all iron gone, down to the lower end? NO, not as asked"), "{}", run.out);
    let run = bench.record(&format!("{look} 5 ok --by KP"));
    assert!(run.out.contains("all iron gone, down to the lower end? yes, as asked"), "{}", run.out);
}

#[test]
fn a_second_sleeve_for_a_bore_says_which_it_takes_the_place_of() {
    let bench = Bench::planned();
    assert!(!bench.record("sleeve S3 for 3 --by KP").out.contains("in place of"));
    let run = bench.record("sleeve S4 for 3 --by KP");
    assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    assert!(run.out.contains("in place of sleeve S3 of line 2"), "{}", run.out);
    let run = bench.record("sleeve S4 for 5 --by KP");
    assert!(run.out.contains("cylinder 3, which had it by line 3, has none now"), "{}", run.out);
}

#[test]
fn a_wrong_line_is_struck_with_a_reason_and_stays() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    bench.record(&format!("{check} 3 89.881 --by KP"));
    assert_eq!(bench.record("strike 2").status, Some(2), "no reason given");
    assert_eq!(bench.record("strike 2 --because gauge --by KP").status, Some(2), "it lay outside");
    let run = bench.strike("2", "gauge not set");
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert_eq!(bench.record("strike 2 --because again").status, Some(2), "struck before");
    assert_eq!(bench.record("strike 9 --because none").status, Some(2));
    let text = bench.text();
    assert!(text.contains("89.881") && text.contains("strike,line 2"), "{text}");
    // The reading is to be taken anew, as the first of six.
    let run = bench.record(&format!("{check} 3 89.781 --by KP"));
    assert!(run.out.contains("10.5 deep, along") && run.out.contains("5 here"), "{}", run.out);
}

#[test]
fn what_happened_is_written_beside_the_readings() {
    let bench = Bench::planned();
    for (words, status) in [
        ("void 3 at depth 40 clock 90, 4 mm wide", 3),
        ("tool finish head, edge broke", 3),
        ("moved bumped while clamping", 3),
        ("sleeve S3 for 3", 3),
        ("note rain", 3),
    ] {
        let run = bench.record(&format!("{words} --by KP"));
        assert_eq!(run.status, Some(status), "{words}: {}{}", run.out, run.err);
    }
    let text = bench.text();
    assert!(text.contains(",3,sleeve,S3,"), "{text}");
    assert!(text.contains("\"at depth 40 clock 90, 4 mm wide\""), "{text}");
    assert_eq!(bench.record("void 9 hole").status, Some(2), "no such cylinder");
}

#[test]
fn what_cannot_be_meant_writes_nothing() {
    let bench = Bench::planned();
    let check = bench.check(What::Size, "upper register").check;
    for words in [
        "99 3 1".to_owned(),
        format!("{check} 2 89.78"),
        format!("{check} 3 3.5346"),
        format!("{check} 3 1.2 tenths"),
        format!("{check} 3"),
        "release 3: wall read again".to_owned(),
        "crack 3, at the ledge".to_owned(),
        "strike x".to_owned(),
        "sleeve S3".to_owned(),
        format!("{check} 3 89.78 --at noon"),
    ] {
        let run = bench.record(&words);
        assert_eq!(run.status, Some(2), "{words}: {}{}", run.out, run.err);
        assert!(run.err.contains("expected"), "{words}: {}", run.err);
    }
    assert!(!bench.file().exists());
}

#[test]
fn a_plan_whose_job_has_changed_says_so_and_takes_the_reading() {
    let bench = Bench::planned();
    bench.folder.edit("job.yaml", "tolerance: 0.010", "tolerance: 0.012");
    let check = bench.check(What::Size, "upper register").check;
    let run = bench.record(&format!("{check} 3 89.781"));
    assert_eq!(run.status, Some(3), "nobody goes on by it: {}", run.out);
    assert!(run.err.contains("job.yaml") && run.err.contains("plan again"), "{}", run.err);
    assert!(run.out.contains("line 2:") && run.out.contains("plan again"), "{}", run.out);
}
