//! A bank read off the machine with one thing typed otherwise, and what is then asked.

use borewright_planner::load;
use borewright_planner::plan::Verdict;
use borewright_planner::report::{SurveyReport, report};

use crate::bench::{LEFT, near, shop};
use crate::suspicions::only;

/// A centre typed otherwise.
type Retyped = fn([f64; 2]) -> [f64; 2];

/// The left bank as read off a machine: axis, deck and bores, each with what is typed otherwise.
struct Machined {
    along: f64,
    deck: Vec<[f64; 3]>,
    mains: fn(f64) -> f64,
    bore: Retyped,
}

impl Default for Machined {
    fn default() -> Self {
        let deck = [20.0, 160.0, 300.0, 440.0].into_iter().flat_map(|x| [-70.0, 70.0].map(|y| [x, y, 235.0]));
        Self { along: -210.0, deck: deck.collect(), mains: |x| x, bore: |p| p }
    }
}

impl Machined {
    fn survey(&self) -> SurveyReport {
        let [ox, oy, oz] = [-210.0, 18.0, -195.0];
        let mut axis = String::from("main,x,y,z\n");
        for (main, x) in [(1, 17.0), (2, 127.0), (3, 237.0), (4, 347.0), (5, 457.0)] {
            axis.push_str(&format!("{main},{:.5},{oy},{oz}\n", (self.mains)(ox + x)));
        }
        let mut deck = String::from("x,y,z\n");
        for [x, y, z] in &self.deck {
            deck.push_str(&format!("{:.4},{:.4},{:.4}\n", ox + x, oy + y, oz + z));
        }
        let mut bores = String::from("cylinder,depth,x,y,diameter\n");
        for (n, x) in [1, 3, 5, 7].into_iter().zip(LEFT) {
            for depth in [20.0, 125.0] {
                // No two depths read alike.
                let lean = if depth > 100.0 { 0.001_1 } else { 0.0 };
                let [x, y] = (self.bore)([ox + x + 0.02 + lean, oy - 0.13 + lean]);
                bores.push_str(&format!("{n},{depth},{x:.5},{y:.5},96.0\n"));
            }
        }
        let dir = shop().bore(1, [0.0, 0.0]).write();
        let put = |name: &str, text: &str| std::fs::write(dir.path().join(name), text).unwrap();
        put("axis.csv", &axis);
        put("deck.csv", &deck);
        put("machined.csv", &bores);
        let job = std::fs::read_to_string(dir.path().join("job.yaml")).unwrap();
        let head = job.split("readings:").next().unwrap();
        let along = self.along;
        put(
            "job.yaml",
            &format!(
                "{head}readings:\n  - set_up: left up\n    bank: left\n    frame: machine\n    axis: axis.csv\n    \
                 deck: deck.csv\n    along: {{ x: {along} }}\n    bores: machined.csv\n"
            ),
        );
        report(&load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
    }
}

#[test]
fn a_good_machine_set_up_raises_nothing() {
    assert!(Machined::default().survey().suspicions.is_empty());
}

#[test]
fn an_along_datum_that_contradicts_the_mains_and_the_bores_is_held() {
    let report = Machined { along: -200.0, ..Machined::default() }.survey();
    let s = only(&report);
    assert_eq!(
        (s.code.word(), s.verdict, s.subject.to_string().as_str()),
        ("along_datum", Verdict::Hold, "set-up left up")
    );
    near(s.evidence["datum_off"], 10.0, 1e-6);
    let report = Machined { along: -210.0 / 25.4, ..Machined::default() }.survey();
    assert!(only(&report).likely.contains("along.x read in inches"), "{report:?}");
}

#[test]
fn a_table_off_the_machine_in_inches_is_named_as_a_whole() {
    let report = Machined { bore: |[x, y]| [x / 25.4, y / 25.4], ..Machined::default() }.survey();
    let s = only(&report);
    assert_eq!(
        (s.code.word(), s.verdict, s.subject.to_string().as_str()),
        ("wrong_unit", Verdict::Hold, "bank left")
    );
    assert!(s.likely.contains("the whole table read in inches"), "{s:?}");
    let report = Machined { mains: |x| x / 25.4, ..Machined::default() }.survey();
    assert!(
        report.suspicions.iter().any(|s| s.likely.contains("the table of the journal axis read in inches")),
        "{report:?}"
    );
}

#[test]
fn a_mirrored_axis_and_exchanged_columns_are_named() {
    let cases: [(Retyped, &str); 4] = [
        (|[x, y]| [-x, y], "the sign of x"),
        (|[x, y]| [x, -y], "the sign of y"),
        (|[x, y]| [-x, -y], "the other way round"),
        (|[x, y]| [y, x], "columns x and y exchanged"),
    ];
    for (bore, likely) in cases {
        let report = Machined { bore, ..Machined::default() }.survey();
        let s = only(&report);
        assert_eq!((s.code.word(), s.verdict), ("axis_mirrored", Verdict::Hold));
        assert!(s.likely.contains(likely), "{s:?}");
    }
}

#[test]
fn a_bad_deck_point_a_lean_and_a_height_are_named() {
    let mut bad = Machined::default();
    bad.deck[3][2] += 0.2;
    let report = bad.survey();
    let s = only(&report);
    assert_eq!((s.code.word(), s.verdict), ("bad_deck_point", Verdict::Hold));
    near(s.evidence["point"], 4.0, 0.0);
    near(s.evidence["off"], 0.2, 0.001);
    let mut lean = Machined::default();
    for p in &mut lean.deck {
        p[2] += 0.015 * p[1];
    }
    let report = lean.survey();
    assert!(
        report.suspicions.iter().any(|s| s.code.word() == "deck_leans" && s.verdict == Verdict::Hold),
        "{report:?}"
    );
    let mut high = Machined::default();
    for p in &mut high.deck {
        p[2] += 1.6;
    }
    let report = high.survey();
    assert_eq!((only(&report).code.word(), only(&report).verdict), ("deck_height", Verdict::Hold));
}
