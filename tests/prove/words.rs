//! What a hand may do to a list and what not: every edit but the few that `docs/formats.md` names leaves it unproven.

use borewright_planner::prove::{Proof, prove};

use crate::sample::{of, said, sample};

/// The first list, held against the plan with its lines; no table beside it.
fn held(words: &str) -> Proof {
    prove(words, None, "edited.nc", &sample().reference())
}

fn first() -> &'static str {
    sample().list("10-rough-left")
}

/// Replaces the first place that holds this.
fn one(old: &str, new: &str) -> String {
    assert!(first().contains(old), "the list holds no {old:?}");
    first().replacen(old, new, 1)
}

/// Each line through this.
fn each(change: impl Fn(&str) -> String) -> String {
    first().lines().map(|l| change(l) + "\n").collect()
}

#[test]
fn what_an_editor_may_change_freely_proves() {
    let higher = {
        let mut clear = false;
        each(|l| l.to_owned())
            .lines()
            .map(|l| {
                clear |= l.contains(" G0 Z");
                match l.split_once(" G0 Z") {
                    // Where stops are taken the travel of the sample ends.
                    Some((head, "5.000")) => format!("{head} G0 Z8.500\n"),
                    _ => format!("{l}\n"),
                }
            })
            .collect::<String>()
    };
    let rewrapped = {
        // Every comment a word a line.
        each(|l| match l.strip_prefix('(') {
            Some(text)
                if !text.starts_with("JOB")
                    && !["LIST", "CYLI", "FING", "UNIT", "TOUC", "zero"]
                        .iter()
                        .any(|w| text.starts_with(w))
                    && !text.starts_with("ROWS")
                    && !text.starts_with("SUM")
                    && !text.contains("step ")
                    && !text.starts_with("cylinder") =>
            {
                text.trim_end_matches(')').split(' ').map(|w| format!("({w})")).collect::<Vec<_>>().join("\n")
            }
            _ => l.to_owned(),
        })
    };
    for (what, text) in [
        ("line ends", each(|l| format!("{l}\r"))),
        ("no blanks between words", each(|l| if l.starts_with('(') { l.into() } else { l.replace(' ', "") })),
        ("more blanks", each(|l| format!(" {} ", l.replace(' ', "  ")))),
        ("empty lines", each(|l| format!("\n{l}\n"))),
        (
            "noughts before a number",
            each(|l| {
                l.replace(" G", " G0").replace(" M", " M0").replace(" X4", " X004").replace(" Y0", " Y00")
            }),
        ),
        (
            "a comment behind its row",
            one("(up before anything else)\nN20 G0 Z94.100", "N20 G0 Z94.100 (up before anything else)"),
        ),
        ("higher rapids", higher),
        ("comments broken otherwise", rewrapped),
        ("no line end at the end", first().trim_end().to_owned()),
    ] {
        assert_ne!(text, first(), "{what}");
        let proof = held(&text);
        assert!(proof.proven && proof.notes.len() == 1, "{what}: {}", said(&proof));
    }
}

#[test]
fn every_other_edit_leaves_it_unproven_and_is_named_on_its_line() {
    let line = |start: &str| first().lines().position(|l| l.starts_with(start)).unwrap() + 1;
    for (what, old, new, code, at) in [
        ("the bank in the head", "BANK left)", "BANK right)", "bank", "(LIST"),
        ("the unit in the head", "(UNITS mm", "(UNITS inch", "units", "(UNITS"),
        ("the job in the head", "(JOB 0412)", "(JOB 0413)", "text", "(JOB"),
        ("the block in the head", "(BLOCK Petrel 90)", "(BLOCK Petrel 60)", "text", "(BLOCK"),
        ("the verdict in the head", "(VERDICT go)", "(VERDICT hold)", "text", "(VERDICT"),
        ("the cylinders in the head", "(CYLINDERS 1 3 5)", "(CYLINDERS 1 5 3)", "cylinders", "(CYL"),
        ("another list's head", "(LIST 10 - rough", "(LIST 20 - pocket", "fingerprint_or_row", "(LIST"),
        ("how far a touch may be off", "Y +0.191 within 0.05", "Y +0.191 within 5", "text", "(TOUCH CHECK 1"),
        (
            "a touch check that is gone",
            "(TOUCH CHECK 1 - deck beside the first bore - Z +0.000 within)\n(0.05)\n",
            "",
            "text",
            "(TOUCH CHECK 1 - middle of the old bore of cylinder 1",
        ),
        ("the way X runs", "+X is rearwards", "+X is forwards", "text", "(front of"),
        ("the front of the block", "at the operator's left", "at the operator's right", "text", "(front of"),
        ("the jog test", "reads about +184.0", "reads about -184.0", "text", "(jog"),
        ("a size by hand", "front wall of bore 1 - 5.0", "front wall of bore 1 - 50.0", "text", "(by hand"),
        ("the clearance in words", "(rapids stay 5.0", "(rapids stay 0.5", "text", "(rapids"),
        (
            "a figure beside the one set",
            "set to 83.291 mm",
            "set to 84.291 mm, was 83.291 mm",
            "diameter",
            "(step 10",
        ),
        (
            "a figure behind the one set",
            "set to 83.291 mm, lower register",
            "set to 83.291 mm, 84.000 mm",
            "text",
            "(step 10",
        ),
        ("a size asked at a stop", "(0.111 mm outwards", "(0.011 mm outwards", "text", "(stop 2, cylinder 1"),
        (
            "a comment of an editor's own",
            "(up before anything else)\n",
            "(up before anything else)\n(mind the clamp)\n",
            "text",
            "(up before anything else",
        ),
        ("a comment that is gone", "(first touch, 10 deep)\n", "", "text", "N70 "),
        ("a number of a row", "N40 G0", "N41 G0", "row", "N40 "),
        ("a place in the last digit", "N40 G0 X46.016", "N40 G0 X46.017", "centre", "N40 "),
        ("a depth in the last digit", "N150 G1 Z-139.000", "N110 G1 Z-139.001", "too_deep", "N150 "),
        ("a feed left out", "N150 G1 Z-139.000 F51.6", "N150 G1 Z-139.000", "row", "N150 "),
        ("a feed in the last digit", "N150 G1 Z-139.000 F51.6", "N150 G1 Z-139.000 F51.7", "feed", "N150 "),
        ("a speed in the last digit", "N60 S344 M3", "N60 S345 M3", "speed", "N60 "),
        ("a way up at feed where it was rapid", "N20 G0 Z94.100", "N20 G1 Z94.100", "no_feed", "N20 "),
        ("a rapid lower", "N170 G0 Z5.000", "N170 G0 Z4.900", "rapid_out", "N170 "),
        (
            "a rapid across beside the bore",
            "N180 G0 X138.016 Y0.049",
            "N180 G0 X133.016 Y0.049",
            "centre",
            "N180 ",
        ),
        ("inches", "G17 G21 G90 G94", "G17 G20 G90 G94", "unknown_word", "N10 "),
        ("steps", "G17 G21 G90 G94", "G17 G21 G91 G94", "unknown_word", "N10 "),
        ("another plane", "G17 G21 G90 G94", "G18 G21 G90 G94", "unknown_word", "N10 "),
        ("a plane left out", "G17 G21 G90 G94", "G21 G90 G94", "modes", "N20 "),
        ("a second speed", "N60 S344 M3", "N60 S344 M3 S344", "number", "N60 "),
        ("a speed in a cut", "N70 G1 Z-10.000 F51.6", "N70 G1 Z-10.000 F51.6 S900", "row", "N70 "),
        ("two words of one group", "N70 G1 Z", "N70 G0 G1 Z", "two_motions", "N70 "),
        ("a mode set again", "N70 G1 Z", "N70 G90 G1 Z", "row", "N70 "),
        ("a row to be skipped", "N70 G1 Z", "/N70 G1 Z", "character", "N70 "),
        ("small letters", "N70 G1 Z", "n70 g1 z", "character", "N70 "),
        ("a sign of a tape before it", "(JOB 0412)", "%\n(JOB 0412)", "character", "(JOB"),
        ("a number of a program", "(JOB 0412)", "O0010\n(JOB 0412)", "unknown_word", "(JOB"),
        ("a sign of a tape behind it", "N1750 M30\n", "N1750 M30\n%\n", "character", ""),
        ("a word behind the end", "N1750 M30\n", "N1750 M30\nG0\n", "after_end", ""),
        ("a comment behind the end", "N1750 M30\n", "N1750 M30\n(and again)\n", "text", ""),
        (
            "a comment that is not closed",
            "(first touch, 10 deep)",
            "(first touch, 10 deep",
            "comment",
            "(first touch",
        ),
        ("a number at the wrong end", "N70 G1 Z-10.000", "G1 N70 Z-10.000", "number", "N70 "),
        ("a minus before nothing", "N10 G17 G21 G90 G94", "N10 G17 G21 G90 G94 X-0.000", "number", "N10 "),
        ("a stop more", "N60 S344 M3", "N55 M0\nN60 S344 M3", "rows_changed", "N60 "),
        ("a dwell", "N90 M5", "N85 G4\nN90 M5", "unknown_word", "N90 "),
        ("a spindle left standing", "N60 S344 M3\n", "", "rows_changed", "N60 "),
        ("a mark of the order of bytes", "(JOB 0412)", "\u{feff}(JOB 0412)", "character", "(JOB"),
        ("a blank that is none", "N70 G1 Z", "N70\u{a0}G1 Z", "character", "N70 "),
        ("letters that look alike", "(JOB 0412)", "(J\u{41e}B 0412)", "character", "(JOB"),
    ] {
        let proof = held(&one(old, new));
        let lines: Vec<Option<usize>> = proof
            .flaws
            .iter()
            .filter(|f| f.code == code || code == "fingerprint_or_row")
            .map(|f| f.line)
            .collect();
        assert!(!proof.proven && !lines.is_empty(), "{what}: {code}\n{}", said(&proof));
        if !at.is_empty() {
            assert!(
                lines.iter().any(|l| l.is_none_or(|l| l.abs_diff(line(at)) <= 1)),
                "{what}: {at}\n{}",
                said(&proof)
            );
        }
    }
}

#[test]
fn all_moves_of_a_bore_gone_and_sums_put_right_does_not_prove() {
    for (from, to) in
        [("(cylinder 3, step X +92", "(cylinder 5, step X +92"), ("(up out of the way)\nN1740", "(ROWS")]
    {
        let (start, end) = (first().find(from).unwrap(), first().find(to).unwrap());
        let cut = format!("{}{}", &first()[..start], &first()[end..]);
        let proof = held(&cut);
        assert!(
            !proof.proven && proof.flaws.iter().any(|f| f.code == "rows_changed"),
            "{from}: {}",
            said(&proof)
        );
    }
    for cut in [0, 1, 40, 400, 2000, first().len() - 5] {
        assert!(!held(&first()[..cut]).proven, "{cut}");
    }
}

#[test]
fn a_list_under_the_name_of_another_is_told() {
    let sample = sample();
    for (name, proves) in [
        ("lists/10-rough-left.nc", true),
        ("10-ROUGH-LEFT.NC", true),
        ("copy of 10.nc", true),
        ("10-rough-left-edited.nc", true),
        ("lists/20-pocket-left.nc", false),
        ("30-Rough-Right.nc", false),
        ("10-rough-right.nc", false),
        ("70-finish-rear.nc", false),
        ("11-rough-left.nc", false),
        ("10-rough-leftover.nc", false),
    ] {
        let proof = prove(first(), None, name, &sample.reference());
        assert_eq!(proof.proven, proves, "{name}: {}", said(&proof));
        assert!(proves || proof.flaws.iter().all(|f| f.code == "name"), "{name}: {}", said(&proof));
    }
    // The list of one bank with the head of the other.
    let swapped =
        sample.list("30-rough-right").replace("LIST 30 - rough - BANK right", "LIST 10 - rough - BANK left");
    assert!(!held(&swapped).proven);
}

#[test]
fn a_changed_word_is_shown_with_what_the_plan_has() {
    let told = |old: &str, new: &str| {
        let proof = held(&one(old, new));
        proof.flaws.iter().find(|f| f.code == "text" || f.code == "row").unwrap().to_string()
    };
    insta::assert_snapshot!(told("within 0.05)", "within 5)"), @"line 25: the words `Y +0.191 within 5 TOUCH CHECK 1`; expected `Y +0.191 within 0.05 TOUCH CHECK 1`, as the plan has it");
    insta::assert_snapshot!(told("N150 G1 Z-139.000 F51.6", "N150 G1 Z-139.000"), @"line 55 (N150): N150 G1 Z-139.000; expected N150 G1 Z-139.000 F51.6, as the plan has it");
}

#[test]
fn a_sign_at_the_ends_of_a_file_has_no_other_blank_beside_it() {
    for plain in ["", " ", "\t"] {
        let proof = held(&format!("{plain}%{plain}\n{}{plain}%\r\n", first()));
        assert!(proof.proven, "{plain:?}: {}", said(&proof));
    }
    for odd in ['\u{b}', '\u{c}', '\u{85}', '\u{a0}', '\u{2003}', '\u{2028}', '\u{3000}', '\r'] {
        let proof = held(&format!("{odd}%\n{}%{odd}\n", first()));
        assert!(!proof.proven && said(&proof).contains("[character]"), "{odd:?}: {}", said(&proof));
    }
}

#[test]
fn where_the_machine_does_not_know_the_zero_no_rapid_goes_above_the_lists_own_highest() {
    let job = borewright_planner::load(&crate::common::root().join("blocks/invalid/base")).unwrap();
    let sample = of(borewright_planner::plan_job(job, None).unwrap());
    let words = sample.list("10-rough");
    let heights = words.split_whitespace().filter_map(|word| word.strip_prefix('Z')?.parse::<f64>().ok());
    let highest = heights.fold(0.0, f64::max);
    let raised = |z: f64| {
        let text = words.replace("G0 Z5.000", &format!("G0 Z{z:.3}"));
        assert_ne!(text, words);
        prove(&text, None, "edited.nc", &sample.reference())
    };
    assert!(raised(highest).proven, "{}", said(&raised(highest)));
    for z in [highest + 0.001, 400.0] {
        assert!(!raised(z).proven, "{z}");
    }
}
