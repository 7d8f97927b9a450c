//! Every formula that is printed gives the figure that is printed: read by a general reader of expressions (the crate exmex),
//! which knows nothing of this program.

use std::collections::BTreeMap;
use std::path::Path;

use borewright_planner::explain::{everything, explain};
use borewright_planner::plan::sentence::Units;
use borewright_planner::{Planning, load, plan_job};
use serde::Deserialize;

use crate::bench::{self, Bench, SCATTERED};

#[derive(Debug, Deserialize)]
struct Explained {
    asked: String,
    rows: Vec<Row>,
}

#[derive(Debug, Deserialize)]
struct Row {
    name: String,
    figure: Option<String>,
    unit: String,
    formula: Option<String>,
    with_figures: Option<String>,
}

fn told(planning: &Planning, units: Units) -> Vec<Explained> {
    let json = borewright_output::explained_json(&everything(planning), units).unwrap();
    let all: serde_json::Value = serde_json::from_slice(&json).unwrap();
    serde_json::from_value(all["accounts"].clone()).unwrap()
}

/// Half a step of the last digit that is printed, and what six decimals of the figures put in leave open.
fn slack(row: &Row) -> f64 {
    match row.unit.as_str() {
        "mm" => 0.000_05 + 3e-6,
        "in" => 0.000_005 + 1e-7,
        "MPa" | "mm/min" | "in/min" | "µm" | "deg" => 0.006,
        "N" | "N/mm" => 0.06,
        "°C" => 0.000_06,
        "kW" | "min" | "h" => 0.000_6,
        "m/min" => 0.000_06,
        "1/min" => 1e-9,
        _ => 1e-8,
    }
}

/// How many formulas hold, by kind of question; panics at the first that does not.
fn evaluated(planning: &Planning, units: Units) -> BTreeMap<String, usize> {
    let mut counted = BTreeMap::new();
    for account in told(planning, units) {
        for row in &account.rows {
            let (Some(put_in), Some(figure)) = (&row.with_figures, &row.figure) else { continue };
            let value = exmex::eval_str::<f64>(&put_in.replace("pi", "3.141592653589793"))
                .unwrap_or_else(|e| panic!("{}: {put_in}: {e}", account.asked));
            let figure: f64 = figure.parse().unwrap();
            assert!(
                (value - figure).abs() <= slack(row),
                "{}: {} = {put_in} = {value}, printed {figure} {}",
                account.asked,
                row.name,
                row.unit
            );
            let kind = account.asked.split(' ').take(2).collect::<Vec<_>>().join(" ");
            let kind = if account.asked.starts_with("limit") {
                kind
            } else {
                account.asked.split(' ').next().unwrap().into()
            };
            *counted.entry(kind).or_default() += 1;
        }
    }
    counted
}

fn sample() -> Planning {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks/jobs/petrel-0412");
    plan_job(load(&folder).unwrap(), None).unwrap()
}

#[test]
fn every_formula_of_the_sample_gives_its_figure_in_mm_and_in_inches() {
    let planning = sample();
    for units in [Units::Metric, Units::Inch] {
        let counted = evaluated(&planning, units);
        for kind in ["cylinder", "pass", "check", "list", "stage", "fit"] {
            assert!(counted.get(kind).is_some_and(|n| *n > 3), "{counted:?}");
        }
        for result in planning.plan.cylinders.iter().flat_map(|c| &c.limits) {
            assert!(
                counted.contains_key(&format!("limit {}", result.limit)),
                "{} of {counted:?}",
                result.limit
            );
        }
    }
}

#[test]
fn formulas_of_scattered_bores_and_of_bores_that_follow_the_parent_hold() {
    for aim in ["journal", "parent"] {
        let bench = Bench { aim, ..bench::shop().block_of(SCATTERED) };
        let counted = evaluated(&bench.plan(), Units::Metric);
        assert!(counted.values().sum::<usize>() > 50, "{counted:?}");
    }
}

/// What a cut asks is worked out otherwise for a cutter, a weak spindle, a bar that nobody tells.
#[test]
fn formulas_of_other_machines_hold() {
    let cutter = "  - name: end mill\n    kind: milling\n    diameter: 25.0\n    reach: 90.0\n    step_down: 2.5\n    \
                  teeth: 4\n    cuts:\n      aluminium: { speed: 250, feed: 0.3, depth: 2.0 }\nhone:";
    let machines: [(&str, Vec<(&'static str, &'static str)>); 3] = [
        ("milled", vec![("hone:", cutter), ("clearance: 5.0", "clearance: 5.0\nmill: [flange, wet]")]),
        ("weak", vec![("power: 7.5", "power: 1.1, stiffness: 15000")]),
        ("of untold power", vec![(", power: 7.5", "")]),
    ];
    for (name, machine) in machines {
        let bench = Bench { machine, ..bench::shop().block_of(SCATTERED) };
        let planning = bench.plan();
        let about = |about: &str| {
            let passes = planning.plan.passes.iter();
            passes.flat_map(|p| &p.worked).filter(|f| f.about == about).count()
        };
        if name == "milled" {
            assert!(planning.plan.passes.iter().any(|p| p.mill.is_some()), "no pass is milled");
        }
        assert!(about("force") > 10 && about("deflection") == about("force"), "{name}: {}", about("force"));
        evaluated(&planning, Units::Metric);
        evaluated(&planning, Units::Inch);
    }
}

/// A figure that is kept and stands in no list of what can be asked would never be told.
#[test]
fn whatever_a_pass_keeps_can_be_asked() {
    let cutter = "  - name: end mill\n    kind: milling\n    diameter: 25.0\n    reach: 90.0\n    step_down: 2.5\n    \
                  teeth: 4\n    cuts:\n      aluminium: { speed: 250, feed: 0.3, depth: 2.0 }\nhone:";
    let machine = vec![("hone:", cutter), ("clearance: 5.0", "clearance: 5.0\nmill: [flange, wet]")];
    let milled = Bench { machine, ..bench::shop().block_of(SCATTERED) }.plan();
    for planning in [sample(), milled] {
        let told: Vec<String> = everything(&planning).into_iter().map(|a| a.asked).collect();
        for pass in &planning.plan.passes {
            for figure in &pass.worked {
                let asked = format!("pass {} {} {}", pass.step, pass.cylinder, figure.about);
                assert!(told.contains(&asked), "{asked}");
            }
        }
    }
}

/// Each figure that the plan has of a load is the first of its account.
#[test]
fn every_load_has_its_account() {
    let planning = sample();
    for pass in planning.plan.passes.iter() {
        let Some(load) = pass.load else { continue };
        let mut told = vec![
            ("force", load.force),
            ("power", load.power),
            ("deflection", load.deflection),
            ("copied", load.copied),
            ("tip", load.tip_above_axis),
            ("nose", load.nose_above_deck),
        ];
        told.extend(load.peak_to_valley.map(|um| ("marks", um)));
        for (about, value) in &told {
            let words = format!("pass {} {} {about}", pass.step, pass.cylinder);
            let words: Vec<String> = words.split(' ').map(str::to_owned).collect();
            let accounts = explain(&planning, &words).unwrap();
            let [account] = accounts.as_slice() else { panic!("{words:?}") };
            assert!((account.rows[0].value.unwrap() - value).abs() < 1e-6, "{words:?}");
        }
        let words = ["pass", &pass.step.to_string(), &pass.cylinder.to_string(), "load"].map(str::to_owned);
        assert_eq!(explain(&planning, &words).unwrap().len(), told.len());
    }
    // The bar's own line, the spindle's that nobody states, and what the cut is held against.
    let words = ["pass", "40", "1", "deflection"].map(str::to_owned);
    let rows = &explain(&planning, &words).unwrap()[0].rows;
    let row = |name: &str| rows.iter().find(|row| row.name == name).unwrap();
    let (file, line) = row("d").from[0].split_once(':').unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks/jobs/petrel-0412");
    let text = std::fs::read_to_string(folder.join(file)).unwrap();
    assert_eq!(text.lines().nth(line.parse::<usize>().unwrap() - 1).unwrap().trim(), "bar: 58.0");
    assert!(row("K_s").from[0].contains("not stated"), "{:?}", row("K_s").from);
    assert_eq!(row("y_max").value, Some(0.1));
}

/// What a reading expects and its window are the first, or an end, of an account; what is asked by eye alone has none.
#[test]
fn every_reading_of_every_check_has_its_accounts() {
    let sample = sample();
    let bench = Bench { machine: Vec::new(), ..bench::shop().block_of(SCATTERED) };
    let mut counted = 0;
    for planning in [&sample, &bench.plan()] {
        for check in &planning.plan.checks {
            for at in &check.cylinders {
                let whose = at.cylinder.map_or_else(|| "bank".to_owned(), |n| n.to_string());
                let asked = |about: &str| -> Vec<Vec<f64>> {
                    let words = format!("check {} {whose} {about}", check.check);
                    let words: Vec<String> = words.split(' ').map(str::to_owned).collect();
                    let accounts = explain(planning, &words).unwrap_or_default();
                    accounts.iter().map(|a| a.rows.iter().filter_map(|row| row.value).collect()).collect()
                };
                let (expected, within) = (asked("expected"), asked("within"));
                let near = |a: f64, b: f64| (a - b).abs() < 1.5e-6;
                for reading in &at.readings {
                    use borewright_planner::plan::check::Of;
                    // A bare hole is as wide as the head was set to, which is told and not worked out.
                    if let Some(value) =
                        reading.expected.filter(|_| !matches!(reading.of, Of::Clock | Of::Set | Of::Parent))
                    {
                        let told = expected.iter().any(|rows| near(rows[0], value));
                        assert!(told, "check {} {whose}: {reading:?} in {expected:?}", check.check);
                        counted += 1;
                    }
                    for end in [reading.least, reading.most].into_iter().flatten() {
                        let told = within.iter().any(|rows| rows.iter().any(|row| near(*row, end)));
                        assert!(told, "check {} {whose}: {reading:?} in {within:?}", check.check);
                        counted += 1;
                    }
                }
            }
        }
    }
    assert!(counted > 500, "{counted}");
    // The window of a register is the shop's, or what holds where it says nothing.
    let words = ["check", "5", "1", "within"].map(str::to_owned);
    let accounts = explain(&sample, &words).unwrap();
    let rows = &accounts[0].rows;
    assert_eq!(rows[0].value, Some(0.006));
    assert!(rows[1].from[0].contains("allowances.pocket_size"), "{:?}", rows[1].from);
}

/// What a hone does, and how hot a block is soaked.
#[test]
fn a_hone_and_an_oven_have_their_accounts() {
    let planning = sample();
    let hone = planning.plan.passes.iter().find(|p| p.feature == "hone").unwrap();
    let rows = |about: &str| {
        let words = ["pass", &hone.step.to_string(), &hone.cylinder.to_string(), about].map(str::to_owned);
        let accounts = explain(&planning, &words).unwrap_or_else(|e| panic!("{about}: {e:?}"));
        accounts[0].rows.clone()
    };
    assert_eq!(rows("speed")[0].value, Some(hone.rpm));
    let words = format!("{:?}", hone.stop);
    for about in ["strokes", "stroke", "over", "crosshatch"] {
        let told = rows(about)[0].value.unwrap();
        assert!(told > 0.0, "{about} {told} of {words}");
    }
    let chosen = planning.plan.sleeves.iter().find(|s| s.chosen).unwrap();
    let going = &chosen.fit.going_in;
    let words: Vec<String> = format!("fit {}", going.decides).split(' ').map(str::to_owned).collect();
    let accounts = explain(&planning, &words).unwrap();
    let soak = accounts.iter().filter_map(|a| a.rows[0].value).any(|v| (v - going.soak).abs() < 1e-6);
    assert!(soak, "{} of {:?}", going.soak, accounts.iter().map(|a| a.rows[0].value).collect::<Vec<_>>());
}

/// Minutes of passes add up to those of lists and stages, and these to the hours that the lead signs.
#[test]
fn every_time_has_its_account() {
    let planning = sample();
    let first = |asked: &str| {
        let words: Vec<String> = asked.split(' ').map(str::to_owned).collect();
        explain(&planning, &words).unwrap_or_else(|e| panic!("{asked}: {e:?}"))[0].rows[0].value.unwrap()
    };
    let near = |a: f64, b: f64| (a - b).abs() < 1e-5;
    for pass in &planning.plan.passes {
        assert!(
            near(first(&format!("pass {} {} minutes", pass.step, pass.cylinder)), pass.minutes),
            "{}",
            pass.step
        );
    }
    for list in &planning.lists {
        let own = planning.plan.passes.iter().filter(|p| p.bank == list.bank && p.stage == list.stage);
        let sum: f64 = own.map(|p| p.minutes).sum();
        assert!(sum > 1.0 && near(first(&format!("list {} minutes", list.number)), sum));
        assert!(near(first(&format!("list {} {} minutes", list.bank, list.stage.word())), sum));
    }
    for time in &planning.plan.times {
        assert!(near(first(&format!("stage {} minutes", time.stage.word())), time.work));
    }
    let hours: f64 = planning.plan.times.iter().map(|t| (t.work + t.handling) / 60.0).sum();
    assert!(near(first("job minutes"), hours));
}

#[test]
fn every_limit_of_every_cylinder_has_an_account() {
    let planning = sample();
    for cylinder in &planning.plan.cylinders {
        for result in &cylinder.limits {
            let words = format!("limit {} {}", result.limit, cylinder.cylinder);
            let words: Vec<String> = words.split(' ').map(str::to_owned).collect();
            let accounts = explain(&planning, &words).unwrap();
            let told = accounts.iter().any(|a| {
                a.rows.first().and_then(|row| row.value).is_some_and(|m| (m - result.margin).abs() < 1e-6)
            });
            assert!(told, "{words:?}");
        }
    }
}

#[test]
fn a_wall_is_traced_to_its_row_and_its_limit_to_the_shop() {
    let planning = sample();
    let words = ["limit", "parent_wall", "5"].map(str::to_owned);
    let accounts = explain(&planning, &words).unwrap();
    let row = |name: &str| accounts[0].rows.iter().find(|row| row.name == name).unwrap();
    let wall = row("t");
    let [at] = wall.from.as_slice() else { panic!("{:?}", wall.from) };
    let (file, line) = at.split_once(':').unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks/jobs/petrel-0412");
    let text = std::fs::read_to_string(folder.join(file)).unwrap();
    let typed = text.lines().nth(line.parse::<usize>().unwrap() - 1).unwrap();
    let cells: Vec<&str> = typed.split(',').collect();
    assert_eq!(cells[0], "5");
    assert_eq!(cells[3].parse::<f64>().unwrap(), wall.value.unwrap(), "{typed}");
    let limit = &row("w").from[0];
    let (file, line) = limit.split_once(':').unwrap();
    let text = std::fs::read_to_string(folder.join(file)).unwrap();
    let typed = text.lines().nth(line.parse::<usize>().unwrap() - 1).unwrap();
    assert!(typed.trim_start().starts_with("parent_wall"), "{typed}");
}

#[test]
fn zero_and_deck_of_a_bank_read_on_the_machine_have_accounts_and_others_none() {
    let planning = sample();
    let asked = |words: &str| explain(&planning, &[words.to_owned()]).unwrap();
    // Worked by hand from the tables: the mains' middle on the fitted line at the along datum, and the deck's mean over it.
    for (words, wanted) in [
        ("zero left x", -142.350),
        ("zero LEFT y", 18.420),
        ("zero left z", 25.827),
        ("zero right x", -160.100),
    ] {
        let accounts = asked(words);
        let value = accounts[0].rows[0].value.unwrap();
        assert!(accounts.len() == 1 && (value - wanted).abs() < 0.000_6, "{words}: {value}");
    }
    assert_eq!(asked("zero right").len(), 3);
    for amiss in ["zero", "zero middle x", "zero left q"] {
        assert!(explain(&planning, &[amiss.to_owned()]).is_err(), "{amiss}");
    }
    // A bank that was read from the journal axis has none on the machine's scales.
    let bench = bench::shop().block_of([[0.0, 0.02]; 8]).plan();
    assert!(explain(&bench, &["zero left x".to_owned()]).is_err());
}

#[test]
fn a_withheld_place_is_in_no_account() {
    // Bores far off, with a position limit that nothing meets.
    let mut bench = bench::shop().block_of(SCATTERED);
    bench.limits = "position: 0.05, clean_up: 4.4".into();
    let planning = bench.plan();
    let held: Vec<_> = planning.plan.cylinders.iter().filter(|c| c.withheld).collect();
    assert!(!held.is_empty());
    for account in told(&planning, Units::Metric) {
        let about = |n: u32| {
            account.asked.split(' ').nth(match account.asked.split(' ').next() {
                Some("limit") => 2,
                _ => 1,
            }) == Some(n.to_string().as_str())
        };
        if !held.iter().any(|c| about(c.cylinder)) {
            continue;
        }
        assert!(account.asked.starts_with("limit"), "{}", account.asked);
        for row in &account.rows {
            assert!(
                !["x", "y", "n_x", "n_y"].contains(&row.name.as_str()) || row.figure.is_none(),
                "{account:?}"
            );
            if row.formula.as_deref().is_some_and(|f| f.contains("(x -")) {
                assert!(row.with_figures.is_none(), "{account:?}");
            }
        }
    }
}

#[test]
fn a_question_without_an_answer_is_told_what_can_be_asked() {
    let planning = sample();
    for asked in [
        "",
        "cylinder",
        "cylinder 99 x",
        "limit brdge",
        "limit 5",
        "pass 7 stock",
        "fit nothing",
        "pass 40 colour",
        "check 5 9 within",
        "check 5 1 bank within",
    ] {
        let words: Vec<String> = asked.split(' ').filter(|w| !w.is_empty()).map(str::to_owned).collect();
        let unasked = explain(&planning, &words).unwrap_err();
        // The one thing that is amiss, else all that can be asked.
        let told = unasked
            .near
            .as_deref()
            .is_some_and(|near| near.contains("no cylinder") || near.contains("no step"));
        let told = told || unasked.near.as_deref().is_some_and(|near| near.contains("CHECK"));
        // Of a kind that is named rightly its own line alone.
        let kind = asked.split(' ').next().unwrap_or_default();
        let of_kind = |line: &String| kind.is_empty() || line.starts_with(kind);
        assert!(
            told || (!unasked.expected.is_empty() && unasked.expected.iter().all(of_kind)),
            "{asked}: {unasked:?}"
        );
    }
    for (asked, meant) in [
        ("pass 40 stok", "did you mean `pass 40 stock`?"),
        ("pas 40 stock", "did you mean `pass 40 stock`?"),
        ("limit bridg", "did you mean `limit bridge"),
        ("chek 5", "did you mean `check 5`?"),
    ] {
        let words: Vec<String> = asked.split(' ').map(str::to_owned).collect();
        let near = explain(&planning, &words).unwrap_err().near.unwrap_or_default();
        assert!(near.starts_with(meant), "{asked}: {near}");
    }
    let near = explain(&planning, &["pass".to_owned()]).unwrap_err();
    assert_eq!((near.near, near.expected.len()), (None, 1));
    let near = explain(&planning, &["limit", "brige", "3"].map(str::to_owned)).unwrap_err();
    assert_eq!(near.near.as_deref(), Some("did you mean `limit bridge 3`?"));
    let typed = ["limit", "\u{1b}[31m", "3"].map(str::to_owned);
    assert!(!explain(&planning, &typed).unwrap_err().found.contains('\u{1b}'));
    // The sources of every figure name a file and its line, or say what else they are.
    for row in everything(&planning).iter().flat_map(|a| &a.rows) {
        assert!(
            row.formula.is_some() || !row.from.is_empty() || ["n_x", "n_y", "d"].contains(&&*row.name),
            "{row:?}"
        );
    }
}

#[test]
fn a_question_in_the_words_of_the_cards_is_the_same_question() {
    let planning = sample();
    let told = |asked: &str| -> Vec<String> {
        let words: Vec<String> = asked.split(' ').map(str::to_owned).collect();
        let accounts = explain(&planning, &words).unwrap_or_else(|e| panic!("{asked}: {e:?}"));
        accounts.iter().map(|a| a.asked.clone()).collect()
    };
    for (said, asked) in [
        ("step 40 stock", "pass 40 stock"),
        ("bore 3 x", "cylinder 3 x"),
        ("CHECK5 1 within", "check 5 1 within"),
        ("parent_wall 3", "limit parent_wall 3"),
        ("parent wall 3", "limit parent_wall 3"),
        ("position 1", "limit position 1"),
        ("fit lower", "fit lower register"),
    ] {
        assert_eq!(told(said), told(asked), "{said}");
    }
    // Of no cylinder, it is that where the limit has the least room.
    let limits = planning.plan.cylinders.iter().flat_map(|c| c.limits.iter().map(move |l| (c.cylinder, l)));
    let own = limits.filter(|(_, l)| l.limit == "bridge");
    let (tightest, _) = own.min_by(|a, b| a.1.margin.total_cmp(&b.1.margin)).unwrap();
    assert_eq!(told("bridge"), told(&format!("limit bridge {tightest}")));
}
