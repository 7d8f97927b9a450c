//! Careful work that looks odd at first sight and is let be; beside each the slip that it could be taken for.

use borewright_planner::Planning;
use borewright_planner::plan::Verdict;

use crate::bench::{Bench, shop, with_sleeves};
use crate::spoil::{Edit, codes, goes, sample, sample_with};

const BORES: &str = "jobs/petrel-0412/readings/bores-left.csv";
const WALLS: &str = "jobs/petrel-0412/readings/walls-left.csv";

/// The left deck of the sample touched at five places by three, and lower in its middle by so much.
fn hollow(by: f64, nick: f64) -> Planning {
    let mut deck = String::from("x,y,z\n");
    for i in 0..5_u32 {
        for j in 0..3_u32 {
            let (x, y) = (-136.0 + 66.0 * f64::from(i), -39.5 + 58.0 * f64::from(j));
            let plane = 25.827 - 4.5e-5 * x - 1.4e-4 * (y - 18.5);
            let bent = by * (1.0 - ((x + 4.0) / 132.0).powi(2));
            let own = if (i, j) == (4, 2) { nick } else { 0.0 };
            deck.push_str(&format!("{x:.3},{y:.3},{:.3}\n", plane - bent + own));
        }
    }
    sample_with(&[("readings/deck-left.csv", &deck)], &[])
}

#[test]
fn a_deck_hollow_by_some_hundredths_is_told_and_a_chip_on_it_holds() {
    let told = hollow(0.06, 0.0);
    goes(&told);
    let found = told.plan.findings.iter().find(|f| f.code == "bad_deck_point").unwrap();
    assert_eq!(found.verdict, Verdict::Go);
    assert!(found.text.to_string().contains("none of them, left out, moves a bore"), "{}", found.text);
    assert!(codes(&hollow(0.0, 0.2)).contains(&"bad_deck_point"));
    assert!(codes(&hollow(0.06, 0.3)).contains(&"bad_deck_point"));
}

#[test]
fn a_bore_read_a_little_higher_than_the_others_is_let_be_and_one_not_read_there_is_not() {
    let row: Edit<'_> = (BORES, "3,125,", "3,117,");
    goes(&sample(&[row]));
    // Where another bore's custom is, nothing was read in the stead of anything.
    assert!(codes(&sample(&[(BORES, "3,125,-4.320,18.599,82.026\n", "")])).contains(&"row_missing"));
    assert!(codes(&sample(&[(BORES, "3,125,", "3,95,")])).contains(&"row_missing"));
}

#[test]
fn one_circle_between_two_depths_stands_for_one_of_them_at_the_most() {
    let read = |own: &[f64]| {
        let mut bench = shop();
        for n in 1..=8_u32 {
            for depth in if n == 1 { own } else { &[20.0, 50.0, 70.0, 125.0] } {
                let off = 0.001 * f64::from((3 * n) % 5) + 1e-5 * depth;
                bench = bench.circle(n, *depth, [off, -off], 96.0 + 0.01 * f64::from(n));
            }
        }
        codes(&bench.plan())
    };
    assert!(!read(&[20.0, 60.0, 75.0, 125.0]).contains(&"row_missing"));
    assert!(read(&[20.0, 60.0, 125.0]).contains(&"row_missing"));
}

#[test]
fn a_wall_read_a_little_beside_is_let_be_and_one_left_out_is_not() {
    goes(&sample(&[(WALLS, "\n3,125,90,", "\n3,119,90,")]));
    assert!(codes(&sample(&[(WALLS, "\n3,125,90,", "\n3,100,90,")])).contains(&"wall_not_read"));
    // What could not be read beside it says nothing of it.
    let not_read = ("\n3,125,90,4.86\n", "\n3,119,90,nr\n");
    assert!(codes(&sample(&[(WALLS, not_read.0, not_read.1)])).contains(&"wall_not_read"));
}

/// Walls of the sample's left bank told as finely as this, and one ring of bore 3 those of bore 1.
fn rings(decimals: usize, copied: bool) -> Vec<&'static str> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(WALLS);
    let text = std::fs::read_to_string(path).unwrap();
    let ring = |bore: &str| -> Vec<String> {
        let own = format!("{bore},80,");
        text.lines().filter(|l| l.starts_with(&own)).map(str::to_owned).collect()
    };
    let from = ring("1");
    let mut nth = 0;
    let told = text.lines().map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        let [bore, depth, clock, wall] = cells.as_slice() else { return line.to_owned() };
        let wall = if copied && *bore == "3" && *depth == "80" {
            nth += 1;
            from[nth - 1].rsplit(',').next().unwrap()
        } else {
            wall
        };
        match wall.parse::<f64>() {
            Ok(wall) => format!("{bore},{depth},{clock},{wall:.decimals$}"),
            Err(_) => format!("{bore},{depth},{clock},{wall}"),
        }
    });
    let table: String = told.map(|line| line + "\n").collect();
    codes(&sample_with(&[("readings/walls-left.csv", &table)], &[]))
}

#[test]
fn walls_told_to_a_tenth_repeat_by_chance_and_told_to_a_hundredth_do_not() {
    assert!(!rings(1, false).contains(&"copied"));
    assert!(!rings(2, false).contains(&"copied"));
    assert!(rings(2, true).contains(&"copied"));
}

/// Eight sleeves measured, all with these figures.
fn alike(flange: f64, barrel: f64) -> Vec<&'static str> {
    let rows: String = (1..=8).map(|i| format!("{i},thickness,{flange}\n{i},barrel,{barrel}\n")).collect();
    codes(&with_sleeves(&rows))
}

#[test]
fn sleeves_of_one_batch_read_to_a_hundredth_may_be_alike_and_the_drawings_figures_are_nobodys_reading() {
    // Drawn 6.0 and 105.03.
    assert!(!alike(6.01, 105.04).contains(&"copied"));
    assert!(alike(6.0, 105.03).contains(&"copied"));
    assert!(alike(6.001, 105.034).contains(&"copied"));
}

/// Bores of the left bank leaning this way across, those of the right bank that way, mm over 100; each a little its own.
fn leaning(left: f64, right: f64) -> Bench {
    let mut bench = shop();
    for n in 1..=8_u32 {
        let lean = if n % 2 == 1 { left } else { right } / 100.0;
        for (i, depth) in [20.0, 70.0, 125.0].into_iter().enumerate() {
            let own = 0.001 * f64::from((7 * n + 3 * u32::try_from(i).unwrap()) % 5) - 0.002;
            // About the journal axis, as an index head turns them: 235 below the deck.
            let across = -lean * (235.0 - depth) + own;
            bench = bench.circle(n, depth, [own / 2.0, across], 96.0 + 0.01 * f64::from(n));
        }
    }
    bench
}

fn of_sign(bench: &Bench) -> Option<Verdict> {
    let planning = bench.plan();
    planning.plan.findings.iter().find(|f| f.code == "y_sign").map(|f| f.verdict)
}

#[test]
fn banks_that_an_included_angle_leans_apart_are_told_and_a_sign_that_moves_a_cut_holds() {
    assert_eq!(of_sign(&leaning(-0.05, 0.05)), Some(Verdict::Go));
    assert_eq!(of_sign(&leaning(-0.12, 0.12)), Some(Verdict::Hold));
    assert_eq!(of_sign(&Bench { aim: "parent", ..leaning(-0.05, 0.05) }), Some(Verdict::Hold));
    // One fixture leans both alike.
    assert_eq!(of_sign(&leaning(0.05, 0.05)), None);
}
