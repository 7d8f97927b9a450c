//! What was read twice, or in two set-ups, and contradicts itself: each held, and beside it what agrees and is let be.
//! Sums: worked by hand, common practice.

use std::fs;
use std::path::Path;

use borewright_planner::Planning;
use borewright_planner::plan::Verdict;

use crate::bench::{edit, shop};
use crate::spoil::{JOB, changed, codes, goes};
use crate::unlikely::holds;

const READINGS: &str = "jobs/petrel-0412/readings";

fn read(blocks: &Path, table: &str) -> String {
    fs::read_to_string(blocks.join(READINGS).join(table)).unwrap()
}

fn write(blocks: &Path, table: &str, text: &str) {
    fs::write(blocks.join(READINGS).join(table), text).unwrap();
}

/// The rows of a table, its head and remarks left out.
fn rows(blocks: &Path, table: &str) -> Vec<Vec<String>> {
    let text = read(blocks, table);
    let body = text.lines().filter(|l| !l.starts_with('#')).skip(1);
    body.map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

/// Micrometres that no two readings have alike, mm.
fn scatter(n: usize) -> f64 {
    [0.001, -0.002, 0.003, -0.001, 0.002, -0.003, 0.0][n * 5 % 7]
}

/// The left bank's mains probed at eight points beside the mandrel, main by main off by so much.
fn probed(off: impl Fn(&str) -> [f64; 3]) -> Planning {
    changed(|blocks| {
        let mut table = String::from("main,x,y,z\n");
        for (m, row) in rows(blocks, "axis-left.csv").iter().enumerate() {
            let [x, y, z] = [1, 2, 3].map(|k| row[k].parse::<f64>().unwrap() + off(&row[0])[k - 1]);
            for i in 0..8_u8 {
                let at = (45.0 * f64::from(i)).to_radians();
                let radius = 33.5 + scatter(m * 8 + usize::from(i));
                table +=
                    &format!("{},{x:.3},{:.3},{:.3}\n", row[0], y + radius * at.cos(), z + radius * at.sin());
            }
        }
        write(blocks, "mains-left.csv", &table);
        let axis = "axis: readings/axis-left.csv";
        edit(blocks, JOB, axis, &format!("{axis}\n    mains: readings/mains-left.csv"));
    })
}

#[test]
fn a_mandrel_and_the_housings_that_tell_two_axes_hold_the_bank() {
    goes(&probed(|_| [0.0; 3]));
    goes(&probed(|_| [4.0, 0.01, 0.01]));
    holds(&probed(|_| [0.0, 0.3, 0.0]), "axis_twice");
    // A straight mandrel lies over a main that is out of line.
    holds(&probed(|main| if main == "3" { [0.0, 0.0, 0.3] } else { [0.0; 3] }), "axis_twice");
    holds(&probed(|_| [30.0, 0.0, 0.0]), "axis_twice");
}

/// The left bank's bores with a set for each row.
fn in_sets(set: impl Fn(&[String]) -> Option<(&'static str, f64)>) -> Planning {
    changed(|blocks| {
        let mut table = String::from("cylinder,depth,x,y,diameter,set\n");
        for row in rows(blocks, "bores-left.csv") {
            let Some((set, dy)) = set(&row) else { continue };
            let y: f64 = row[3].parse::<f64>().unwrap() + dy;
            table += &format!("{},{},{},{y:.3},{},{set}\n", row[0], row[1], row[2], row[4]);
        }
        write(blocks, "bores-left.csv", &table);
    })
}

#[test]
fn a_bore_read_only_after_the_block_was_loosened_has_no_place() {
    let of = |cylinder: &'static str, set: &'static str| {
        in_sets(move |row| Some((if row[0] == cylinder { set } else { "first" }, 0.0)))
    };
    let planning = of("5", "clamped 2");
    holds(&planning, "sets_disagree");
    let verdicts: Vec<Verdict> = planning.plan.cylinders.iter().take(3).map(|c| c.verdict).collect();
    assert_eq!(verdicts.iter().filter(|v| **v == Verdict::Hold).count(), 1, "{verdicts:?}");
    // As it stood.
    goes(&of("5", "second"));
}

#[test]
fn rounds_at_other_depths_are_compared_down_the_bore() {
    let rounds = |by: f64, deeper: f64| {
        let mut bench = shop();
        for n in 1..=8 {
            for (i, depth) in [20.0, 70.0, 125.0].into_iter().enumerate() {
                let k = usize::try_from(n).unwrap() * 3 + i;
                let off = [0.02 + scatter(k), 0.03 + scatter(k + 4)];
                bench = bench.circle_in("first", n, depth, off);
                let again = [off[0] + scatter(k + 2), off[1] + by + scatter(k + 6)];
                bench = bench.circle_in("again", n, depth + deeper, again);
            }
        }
        codes(&bench.plan())
    };
    for deeper in [0.0, 1.0, 10.0, -15.0] {
        assert!(rounds(0.0, deeper).is_empty(), "{deeper}: {:?}", rounds(0.0, deeper));
        assert_eq!(rounds(0.2, deeper), ["sets_disagree"], "{deeper}");
    }
}

#[test]
fn the_lowest_circles_read_in_a_round_of_their_own_are_compared_as_well() {
    let deep =
        |by: f64| in_sets(move |row| Some(if row[1] == "125" { ("deep", by) } else { ("first", 0.0) }));
    assert!(!codes(&deep(0.0)).contains(&"sets_disagree"));
    assert!(codes(&deep(0.3)).contains(&"sets_disagree"));
}

#[test]
fn one_bank_turned_end_for_end_says_what_is_the_set_ups() {
    let turned = |by: [f64; 2]| {
        let mut bench = shop();
        for n in 1..=8 {
            for (i, depth) in [20.0, 125.0].into_iter().enumerate() {
                let k = usize::try_from(n).unwrap() * 2 + i;
                let off = [0.02 + scatter(k), 0.03 + scatter(k + 4)];
                bench = bench.circle_in("first", n, depth, off);
                if n % 2 == 1 {
                    let again = [off[0] + by[0] + scatter(k + 2), off[1] + by[1] + scatter(k + 6)];
                    bench = bench.circle_in("turned", n, depth, again);
                }
            }
        }
        codes(&bench.plan())
    };
    assert!(turned([0.0, 0.0]).is_empty());
    // Half of it is the set-up's: 0.05, where bores stand 0.03 off.
    assert_eq!(turned([0.0, 0.1]), ["sets_disagree"]);
    assert_eq!(turned([0.1, 0.0]), ["sets_disagree"]);
}

/// Cylinder 5 of the left bank read in a second set-up of the same bank, moved on the table; `deck` says by how much more its
/// deck stands up, or that it was not touched.
fn second_set_up(deck: Option<f64>) -> Planning {
    changed(|blocks| {
        let moved = |row: &[String], first: usize, up: f64, n: usize| -> String {
            let by = [37.2, -11.3, 4.4 + up];
            let own = row.iter().enumerate().map(|(k, text)| match k.checked_sub(first) {
                Some(axis) if axis < 3 && (first < 2 || axis < 2) => {
                    format!("{:.3}", text.parse::<f64>().unwrap() + by[axis] + scatter(n * 3 + axis) / 3.0)
                }
                _ => text.clone(),
            });
            own.collect::<Vec<_>>().join(",")
        };
        let table = |name: &str, head: &str, first: usize, up: f64, keep: &dyn Fn(&[String]) -> bool| {
            let own = rows(blocks, &format!("{name}-left.csv"));
            let kept = own.iter().filter(|r| keep(r)).enumerate().map(|(n, r)| moved(r, first, up, n));
            let body = kept.collect::<Vec<_>>().join("\n");
            write(blocks, &format!("{name}-second.csv"), &format!("{head}\n{body}\n"));
        };
        table("axis", "main,x,y,z", 1, 0.0, &|_| true);
        table("deck", "x,y,z", 0, deck.unwrap_or(0.0), &|_| true);
        table("bores", "cylinder,depth,x,y,diameter", 2, 0.0, &|row| row[0] == "5");
        let kept = rows(blocks, "bores-left.csv").into_iter().filter(|row| row[0] != "5");
        let kept = kept.map(|row| row.join(",")).collect::<Vec<_>>().join("\n");
        write(blocks, "bores-left.csv", &format!("cylinder,depth,x,y,diameter\n{kept}\n"));
        let touched = if deck.is_some() { "    deck: readings/deck-second.csv\n" } else { "" };
        let next = "  - set_up: right bank up\n";
        let own = format!(
            "  - set_up: left bank up again\n    bank: left\n    frame: machine\n    axis: readings/axis-second.csv\n{touched}    \
             along: {{ x: -105.15 }}\n    bores: readings/bores-second.csv\n"
        );
        edit(blocks, JOB, next, &format!("{own}{next}"));
    })
}

#[test]
fn a_second_set_up_has_a_deck_of_its_own_that_stands_as_high() {
    goes(&second_set_up(Some(0.0)));
    let planning = second_set_up(None);
    holds(&planning, "decks_apart");
    let held: Vec<u32> =
        planning.plan.cylinders.iter().filter(|c| c.verdict == Verdict::Hold).map(|c| c.cylinder).collect();
    assert_eq!(held, [5]);
    holds(&second_set_up(Some(0.2)), "decks_apart");
}

#[test]
fn a_deck_of_three_points_and_an_axis_of_two_mains_have_nothing_to_spare() {
    let keep = |table: &'static str, lines: &'static [usize]| {
        changed(|blocks| {
            let text = read(blocks, table);
            let all: Vec<&str> = text.lines().filter(|l| !l.starts_with('#')).collect();
            let kept: Vec<&str> = [0].iter().chain(lines).map(|n| all[*n]).collect();
            write(blocks, table, &(kept.join("\n") + "\n"));
        })
    };
    goes(&keep("deck-left.csv", &[1, 2, 5, 6]));
    holds(&keep("deck-left.csv", &[1, 2, 6]), "deck_unchecked");
    goes(&keep("axis-left.csv", &[1, 2, 3, 4]));
    holds(&keep("axis-left.csv", &[1, 4]), "axis_unchecked");
}

#[test]
fn a_deck_that_grew_and_bores_that_lean_alike_in_both_set_ups_are_asked_about() {
    let higher = |by: f64| {
        changed(|blocks| {
            for table in ["deck-left.csv", "deck-right.csv"] {
                let own = rows(blocks, table);
                let body =
                    own.iter().map(|r| format!("{},{},{:.3}", r[0], r[1], r[2].parse::<f64>().unwrap() + by));
                write(blocks, table, &format!("x,y,z\n{}\n", body.collect::<Vec<_>>().join("\n")));
            }
        })
    };
    goes(&higher(0.2));
    assert!(codes(&higher(0.4)).contains(&"deck_height"));
    let leaning = |over_140: f64| {
        changed(|blocks| {
            for table in ["bores-left.csv", "bores-right.csv"] {
                let body = rows(blocks, table).into_iter().map(|mut row| {
                    let depth: f64 = row[1].parse().unwrap();
                    row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() + over_140 * depth / 140.0);
                    row.join(",")
                });
                let body = body.collect::<Vec<_>>().join("\n");
                write(blocks, table, &format!("cylinder,depth,x,y,diameter\n{body}\n"));
            }
        })
    };
    assert!(!codes(&leaning(0.15)).contains(&"bore_leans"));
    assert!(codes(&leaning(0.30)).contains(&"bore_leans"), "{:?}", codes(&leaning(0.30)));
}

#[test]
fn walls_of_one_place_read_in_two_set_ups_are_held_against_each_other() {
    let twice = |thicker: f64| {
        let mut bench = crate::bench::even();
        bench.instruments = shop().instruments;
        bench.limits = "position: 0.8, clean_up: 0.05, parent_wall: 2.0".into();
        bench.walls_all_round = false;
        let dir = bench.write();
        let job = fs::read_to_string(dir.path().join("job.yaml")).unwrap();
        let own = bench.walls_of("left").into_iter().map(|row| {
            let (place, wall) = row.rsplit_once(',').unwrap();
            format!("{place},{:.3}", wall.parse::<f64>().unwrap() + thicker)
        });
        let table = own.collect::<Vec<_>>().join("\n");
        fs::write(dir.path().join("walls-again.csv"), format!("cylinder,depth,clock,wall\n{table}\n"))
            .unwrap();
        let again = "  - set_up: left again\n    bank: left\n    frame: journal\n    front: left\n    walls: walls-again.csv\n";
        fs::write(dir.path().join("job.yaml"), job + again).unwrap();
        let job = borewright_planner::load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"));
        codes(&borewright_planner::plan_job(job, None).unwrap())
    };
    // Walls are known to 0.05: 4 x sqrt(2) x 0.05 = 0.28.
    assert!(!twice(0.2).contains(&"read_twice"));
    assert!(twice(0.5).contains(&"read_twice"));
}

#[test]
fn clocks_in_gon_are_asked_about() {
    let planning = changed(|blocks| {
        let steps = ["rear", "45", "90", "135", "front", "225", "270", "315"];
        let body = rows(blocks, "walls-left.csv").into_iter().map(|mut row| {
            let step = steps.iter().position(|clock| *clock == row[2]).unwrap();
            row[2] = (50 * step).to_string();
            row.join(",")
        });
        let body = body.collect::<Vec<_>>().join("\n");
        write(blocks, "walls-left.csv", &format!("cylinder,depth,clock,wall\n{body}\n"));
    });
    assert!(codes(&planning).contains(&"wrong_unit"), "{:?}", codes(&planning));
}
