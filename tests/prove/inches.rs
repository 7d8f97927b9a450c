//! Lists in inches: every figure is the list's own, none proves in the wrong unit. 1 in = 25.4 mm exactly (NIST SP 811).

use std::sync::OnceLock;

use borewright_planner::plan::{InchesWord, ListUnits};
use borewright_planner::prove::{Proof, prove};
use borewright_planner::{load, plan_job};

use crate::common::root;
use crate::sample::{Sample, of, said, sample};

/// The sample job on a machine whose lists are in inches.
fn inches() -> &'static Sample {
    static SAMPLE: OnceLock<Sample> = OnceLock::new();
    SAMPLE.get_or_init(|| {
        let mut job = load(&root().join("blocks/jobs/petrel-0412")).unwrap();
        job.machine.list_units = ListUnits::In(InchesWord::G20);
        of(plan_job(job, None).unwrap())
    })
}

/// Words and comments of a list, whole lines.
fn rows(text: &str) -> Vec<&str> {
    text.lines().filter(|l| l.starts_with('N')).collect()
}

/// The words of a row: letter and figure.
fn words(row: &str) -> Vec<(char, &str)> {
    row.split(' ').filter_map(|w| Some((w.chars().next()?, w.get(1..)?))).collect()
}

/// A list with every figure of these letters written anew.
fn figures(text: &str, new: impl Fn(char, &str) -> Option<String>) -> String {
    let row = |line: &str| {
        let told =
            words(line).into_iter().map(|(c, f)| new(c, f).map_or(format!("{c}{f}"), |f| format!("{c}{f}")));
        told.collect::<Vec<_>>().join(" ")
    };
    let line = |line: &str| if line.starts_with('N') { row(line) } else { line.to_owned() };
    text.lines().map(|l| line(l) + "\n").collect()
}

#[test]
fn every_list_in_inches_proves_with_its_table() {
    let sample = inches();
    assert_eq!(sample.lists.len(), 6);
    for (name, text, table) in &sample.lists {
        let proof = prove(text, Some(table), name, &sample.reference());
        assert!(proof.proven && proof.notes.is_empty(), "{name}: {}", said(&proof));
        // Half of 0.0001 in is 0.00127 mm; the plan is told to a nanometre.
        assert!(proof.largest_difference > 0.0 && proof.largest_difference <= 0.001_27 + 1e-6, "{name}");
        assert!(text.contains("(UNITS inch, feed inch per min, spindle turns per min)\n"), "{name}");
        assert_eq!(rows(text)[0], "N10 G17 G20 G90 G94");
        assert_eq!(
            table.lines().next().unwrap(),
            "line,cylinder,pass,move,x_in,y_in,z_in,i_in,j_in,feed_in_per_min,rpm,note"
        );
        // No comment and no cell speaks mm.
        let mm = |w: &&str| w.trim_matches(|c: char| !c.is_ascii_alphanumeric()) == "mm";
        assert_eq!(text.split_whitespace().find(mm), None, "{name}");
        assert_eq!(table.split([',', ' ']).find(mm), None, "{name}");
    }
}

#[test]
fn each_figure_is_the_one_in_millimetres_over_25_4_rounded_once() {
    let (mm, inch) = (sample(), inches());
    for ((name, old, _), (other, new, _)) in mm.lists.iter().zip(&inch.lists) {
        assert_eq!(name, other);
        let (old, new) = (rows(old), rows(new));
        assert_eq!(old.len(), new.len(), "{name}");
        for (old, new) in old.iter().zip(new).skip(1) {
            for ((letter, a), (same, b)) in words(old).into_iter().zip(words(new)) {
                assert_eq!(letter, same, "{old} {new}");
                let decimals = b.split_once('.').map_or(0, |(_, part)| part.len());
                let (a, b): (f64, f64) = (a.parse().unwrap(), b.parse().unwrap());
                let up = old.contains(" G0 Z") && a > 20.0;
                // Half a step of either list: 0.0005 mm and 0.00127 mm; a ledge's feed goes down to a whole step.
                let (places, within) = match letter {
                    // Stops are taken at a whole tenth of a mm, or hundredth of an inch, below the end of the travel.
                    'Z' if up => (4, 0.1 + 0.254),
                    'X' | 'Y' | 'Z' | 'I' | 'J' => (4, 0.001_77 + 0.001),
                    'F' => (3, 0.05 + 0.0127 + 0.1),
                    _ => {
                        assert_eq!((decimals, a), (0, b), "{old} {new}");
                        continue;
                    }
                };
                assert_eq!(decimals, places, "{new}");
                assert!((a - b * 25.4).abs() <= within + 1e-9, "{old} {new}");
            }
        }
    }
    // Planned at 46.015612 mm in the list's axes, 1.811638 in; 139 mm 5.472441 in; 5 mm 0.196850 in.
    let rough = rows(inch.list("10-")).join("\n");
    assert!(
        rough.contains("X1.8116 ") && rough.contains("Z-5.4724 ") && rough.contains("Z0.1969"),
        "{rough}"
    );
}

#[test]
fn the_plan_keeps_the_lines_that_were_written() {
    let plan: serde_json::Value = serde_json::from_str(&inches().plan).unwrap();
    for (list, (_, text, _)) in plan["lists"].as_array().unwrap().iter().zip(&inches().lists) {
        let lines: Vec<&str> =
            list["lines"].as_array().unwrap().iter().map(|l| l.as_str().unwrap()).collect();
        assert_eq!(lines, text.lines().collect::<Vec<_>>());
        assert_eq!(list["proof"]["inches"], "G20");
    }
}

/// Holds a spoiled list against the plan by what it does, and against the plan's own lines of it.
fn spoiled(sample: &Sample, name: &str, text: &str) -> [Proof; 2] {
    [sample.bare(), sample.reference()].map(|plan| prove(text, None, name, &plan))
}

#[test]
fn a_unit_exchanged_missing_or_told_twice_never_proves() {
    type Spoil = fn(&str) -> String;
    let to_inches: &[(&str, Spoil)] = &[
        ("the other word", |t| t.replace(" G20 ", " G21 ")),
        ("another machine's word", |t| t.replace(" G20 ", " G70 ")),
        ("no word", |t| t.replace(" G20 ", " ")),
        ("both words", |t| t.replace(" G20 ", " G20 G21 ")),
        ("both words the other way round", |t| t.replace(" G20 ", " G21 G20 ")),
        ("the word twice", |t| t.replace(" G20 ", " G20 G20 ")),
        ("the word again further down", |t| t.replacen("\nN30 ", "\nN30 G20 ", 1)),
        ("the other word further down", |t| t.replacen("\nN30 ", "\nN30 G21 ", 1)),
        ("the other unit in the head", |t| t.replace("(UNITS inch, feed inch", "(UNITS mm, feed mm")),
        ("no unit in the head", |t| {
            t.replace("(UNITS inch, feed inch per min, spindle turns per min)\n", "")
        }),
    ];
    let to_mm: &[(&str, Spoil)] = &[
        ("the other word", |t| t.replace(" G21 ", " G20 ")),
        ("no word", |t| t.replace(" G21 ", " ")),
        ("both words", |t| t.replace(" G21 ", " G21 G20 ")),
        ("the word twice", |t| t.replace(" G21 ", " G21 G21 ")),
        ("the word again further down", |t| t.replacen("\nN30 ", "\nN30 G21 ", 1)),
        ("the other unit in the head", |t| t.replace("(UNITS mm, feed mm", "(UNITS inch, feed inch")),
        ("no unit in the head", |t| t.replace("(UNITS mm, feed mm per min, spindle turns per min)\n", "")),
    ];
    for (sample, kinds) in [(inches(), to_inches), (sample(), to_mm)] {
        for (name, text, _) in &sample.lists {
            for (kind, spoil) in kinds {
                let new = spoil(text);
                assert_ne!(&new, text, "{kind}: nothing was spoiled");
                for proof in spoiled(sample, name, &new) {
                    assert!(!proof.proven, "{name}: {kind}");
                    let codes = ["unknown_word", "modes", "twice", "unit_twice", "units"];
                    assert!(proof.flaws.iter().any(|f| codes.contains(&f.code)), "{kind}: {}", said(&proof));
                }
            }
        }
    }
}

#[test]
fn a_list_of_the_other_unit_never_proves_whatever_it_says_it_is() {
    for (own, other) in [(inches(), sample()), (sample(), inches())] {
        let word = |text: &str, from: &str, to: &str| text.replace(&format!(" {from} "), &format!(" {to} "));
        for ((name, right, _), (_, wrong, _)) in own.lists.iter().zip(&other.lists) {
            let head = |text: &str| -> String {
                text.lines().filter(|l| l.starts_with("(FINGERPRINT") || l.starts_with("(UNITS")).collect()
            };
            let [g_own, g_other] = if right.contains(" G20 ") { ["G20", "G21"] } else { ["G21", "G20"] };
            // The whole list in the other unit; the same with this one's word; with its head and its word.
            let [unit_own, unit_other] = if g_own == "G20" { ["inch", "mm"] } else { ["mm", "inch"] };
            let worded = word(wrong, g_other, g_own);
            let headed = worded.replace(
                &format!("UNITS {unit_other}, feed {unit_other}"),
                &format!("UNITS {unit_own}, feed {unit_own}"),
            );
            assert_ne!(head(&worded), head(&headed));
            // With as many decimals as this list has, the figures of the other.
            let padded = figures(&headed, |letter, figure| {
                let places = match letter {
                    'F' => {
                        if g_own == "G20" {
                            3
                        } else {
                            1
                        }
                    }
                    'X' | 'Y' | 'Z' | 'I' | 'J' => {
                        if g_own == "G20" {
                            4
                        } else {
                            3
                        }
                    }
                    _ => return None,
                };
                Some(format!("{:.places$}", figure.parse::<f64>().unwrap()).replace("-0.000", "0.000"))
            });
            for text in [wrong, &worded, &headed, &padded] {
                for proof in spoiled(own, name, text) {
                    assert!(!proof.proven, "{name}");
                }
            }
        }
    }
}

#[test]
fn one_figure_in_mm_in_a_list_in_inches_never_proves() {
    let sample = inches();
    let bare = sample.bare();
    for (name, text, _) in &sample.lists {
        let lines: Vec<&str> = text.lines().collect();
        let mut tried = 0;
        for (at, line) in lines.iter().enumerate().filter(|(_, l)| l.starts_with('N')) {
            for (letter, figure) in words(line) {
                let value: f64 = match figure.parse() {
                    Ok(value) if "XYZIJF".contains(letter) && value != 0.0 => value,
                    _ => continue,
                };
                // As a list in mm has it, and with as many digits as one in inches.
                let [short, long] = if letter == 'F' { [1, 3] } else { [3, 4] };
                for places in [short, long] {
                    let mm = format!("{letter}{:.places$}", value * 25.4);
                    let new = line.replacen(&format!("{letter}{figure}"), &mm, 1);
                    let mut edited = lines.clone();
                    edited[at] = &new;
                    // By what it does alone: the plan's lines are not asked.
                    let proof = prove(&(edited.join("\n") + "\n"), None, name, &bare);
                    // A rapid straight up may end higher, as far as the travel goes.
                    assert!(!proof.proven, "{name}: {new}");
                    tried += 1;
                }
            }
        }
        assert!(tried > 50, "{name}: {tried}");
    }
}

#[test]
fn what_a_head_is_set_to_and_the_touch_check_are_held_in_inches() {
    let sample = inches();
    let rough = sample.list("10-");
    let set = rough.lines().find(|l| l.contains(" set to ")).unwrap();
    let words: Vec<&str> = set.split(' ').collect();
    let figure = words[words.iter().position(|w| *w == "to").unwrap() + 1];
    let mm = format!("{:.3}", figure.parse::<f64>().unwrap() * 25.4);
    for (old, new, code) in [
        (format!("set to {figure} in"), format!("set to {mm} mm"), "diameter"),
        (format!("set to {figure} in"), format!("set to {mm} in"), "diameter"),
        (format!("set to {figure} in"), format!("set to {figure} mm"), "diameter"),
    ] {
        let edited = rough.replacen(&old, &new, 1);
        assert_ne!(edited, rough);
        let proof = sample.prove(&edited);
        assert!(!proof.proven && proof.flaws.iter().any(|f| f.code == code), "{new}: {}", said(&proof));
    }
    let touch = rough
        .lines()
        .find(|l| l.starts_with("(TOUCH CHECK") && l.contains(" X "))
        .unwrap_or_else(|| rough.lines().find(|l| l.contains(" X +")).unwrap());
    let x = touch.split(" X ").nth(1).unwrap().split([' ', ')']).next().unwrap();
    let mm = format!("{:+.3}", x.parse::<f64>().unwrap() * 25.4);
    let proof = sample.prove(&rough.replacen(&format!("X {x}"), &format!("X {mm}"), 1));
    assert!(
        !proof.proven && proof.flaws.iter().any(|f| f.code == "touch" || f.code == "zero"),
        "{}",
        said(&proof)
    );
}

#[test]
fn a_flaw_of_a_list_in_inches_speaks_inches() {
    let sample = inches();
    let rough = sample.list("10-");
    // 5.4724 in are 138.99896 mm; a tenth of an inch deeper.
    let proof = sample.prove(&rough.replacen("Z-5.4724", "Z-5.5724", 1));
    let told = said(&proof);
    assert!(told.contains("Z-5.5724, below the floor of") && told.contains("expected Z-5.4724"), "{told}");
    let proof = sample.prove(&rough.replacen(" G20 ", " G21 ", 1));
    assert!(
        said(&proof).contains("G21, millimetres; expected G0 G1 G2 G3 G17 G20 G90 G94"),
        "{}",
        said(&proof)
    );
}
