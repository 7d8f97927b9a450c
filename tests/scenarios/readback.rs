//! Coordinate lists read back by an outside reader of ISO 6983 words (crate gcode) and by plain sums.

use borewright_planner::Planning;
use borewright_planner::plan::Stage;
use gcode::{Code, Value};

use crate::bench::{Bench, SCATTERED, cylinder, near, plan_with};

/// One block of the list as the outside reader sees it.
#[derive(Debug, Default, Clone)]
struct Words {
    g: Vec<u32>,
    m: Vec<u32>,
    x: Option<f64>,
    y: Option<f64>,
    z: Option<f64>,
    f: Option<f64>,
    s: Option<f64>,
}

/// The figure of a word; the reader's own value is single precision, its text is not.
fn figure(text: &str, span: &gcode::core::Span) -> f64 {
    let word = &text[span.start..span.start + span.length];
    word[1..].trim().parse().unwrap_or_else(|_| panic!("`{word}` is no word"))
}

fn read(text: &str) -> Vec<Words> {
    let program = gcode::parse(text).unwrap_or_else(|diagnostics| panic!("{diagnostics:?}"));
    let mut blocks = Vec::new();
    for block in &program.blocks {
        let mut words = Words::default();
        let mut take = |letter: char, value: f64| match letter {
            'X' => words.x = Some(value),
            'Y' => words.y = Some(value),
            'Z' => words.z = Some(value),
            'F' => words.f = Some(value),
            'S' => words.s = Some(value),
            other => panic!("the word {other} is not one that every control reads alike"),
        };
        let (mut g, mut m) = (Vec::new(), Vec::new());
        for code in &block.codes {
            match code {
                Code::General(general) => {
                    g.push(general.number.major());
                    for arg in &general.args {
                        assert!(matches!(arg.value, Value::Literal(_)), "no control's own macros");
                        take(arg.letter, figure(text, &arg.span));
                    }
                }
                Code::Miscellaneous(misc) => {
                    m.push(misc.number.major());
                    for arg in &misc.args {
                        take(arg.letter, figure(text, &arg.span));
                    }
                }
                other => panic!("{other:?}"),
            }
        }
        for word in &block.word_addresses {
            take(word.letter, figure(text, &word.span));
        }
        (words.g, words.m) = (g, m);
        if !words.g.is_empty() || !words.m.is_empty() {
            blocks.push(words);
        }
    }
    blocks
}

fn lists(planning: &Planning) -> Vec<(Stage, String, String)> {
    let bundle = borewright_output::bundle(planning).unwrap();
    let text = |path: &str| {
        let artifact = bundle.artifacts.iter().find(|a| a.path == path).unwrap();
        String::from_utf8(artifact.bytes.clone()).unwrap()
    };
    let all = bundle.plan.lists.iter();
    all.map(|l| (l.stage, text(&l.file), text(&l.file.replace(".nc", ".csv")))).collect()
}

fn planned() -> Planning {
    Bench::default().block_of(SCATTERED).plan()
}

#[test]
fn an_outside_reader_finds_every_bore_at_its_place_and_depth() {
    let planning = planned();
    let lists = lists(&planning);
    assert_eq!(lists.len(), 6);
    for (stage, words, _) in &lists {
        let blocks = read(words);
        let (mut x, mut y, mut z) = (f64::NAN, f64::NAN, f64::NAN);
        let mut turning = false;
        let mut cut: Vec<(f64, f64, f64)> = Vec::new();
        for block in &blocks {
            if block.m.contains(&3) {
                assert!(block.s.is_some_and(|s| s > 0.0), "a spindle told to turn is told how fast");
                turning = true;
            }
            if block.m.contains(&5) {
                turning = false;
            }
            let down = block.z.unwrap_or(z);
            if block.g.contains(&0) {
                // A rapid never goes across below the deck, and never down into it.
                assert!(block.x.is_none() && block.y.is_none() || z > 0.0, "{block:?}");
                assert!(down >= z || down > 0.0, "{block:?}");
            }
            if block.g.contains(&1) {
                assert!(turning && block.f.is_some_and(|f| f > 0.0), "{block:?}");
                if down < 0.0 && z < 0.0 {
                    // The last stretch onto a ledge, in the same bore and slower.
                    cut.pop();
                }
                if down < 0.0 {
                    cut.push((x, y, down));
                }
            }
            (x, y, z) = (block.x.unwrap_or(x), block.y.unwrap_or(y), down);
        }
        assert!(!turning && z > 0.0, "a list ends with the spindle off, above the deck");
        assert_eq!(blocks[0].g, [17, 21, 90, 94]);
        assert_eq!(blocks.last().unwrap().m, [30]);
        let passes: Vec<_> = planning
            .plan
            .passes
            .iter()
            .filter(|p| p.stage == *stage && words.contains(&format!("BANK {}", p.bank)))
            .collect();
        // The first touch of a bore is no pass of its own: ten into what it cuts, before the metal goes. In the pocket it
        // tries the head's setting, on one bore a bank.
        let touch = |c: &(f64, f64, f64)| {
            let of_pocket = |p: &&borewright_planner::plan::Pass| (c.2 + p.from + 10.0).abs() < 1e-6;
            if *stage == Stage::Pocket { passes.iter().any(of_pocket) } else { c.2 == -10.0 }
        };
        let touches = cut.iter().filter(|c| touch(c)).count();
        assert_eq!(touches, if *stage == Stage::Pocket { 1 } else { 4 });
        cut.retain(|c| !touch(c));
        assert_eq!(passes.len(), cut.len());
        for (pass, (x, y, z)) in passes.iter().zip(cut) {
            near(x, cylinder(&planning, pass.cylinder).planned.x, 0.000_51);
            near(y, cylinder(&planning, pass.cylinder).planned.y, 0.000_51);
            near(z, -pass.to, 0.000_51);
        }
    }
}

#[test]
fn words_and_table_say_the_same_and_end_with_the_sums_that_a_typed_copy_gives() {
    for (_, words, table) in lists(&planned()) {
        let blocks = read(&words);
        let sum = |get: fn(&Words) -> Option<f64>| blocks.iter().filter_map(get).sum::<f64>();
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
        let expected = "line,cylinder,pass,move,x_mm,y_mm,z_mm,i_mm,j_mm,feed_mm_per_min,rpm,note".split(',');
        assert_eq!(head, expected.collect::<Vec<_>>());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let column = |k: usize| -> f64 { rows.iter().filter_map(|r| r[k].parse::<f64>().ok()).sum() };
        near(column(4), sum(|w| w.x), 0.000_5);
        near(column(5), sum(|w| w.y), 0.000_5);
        // The opening row sets modes and moves nothing.
        assert_eq!(rows.len() + 1, blocks.len());
        let footer = |what: &str, value: f64| {
            let shown = format!("{value:+.3}").replace("+-", "-");
            let plain = format!("{value:.3}");
            let line =
                words.lines().find(|l| l.contains(what)).unwrap_or_else(|| panic!("no {what}:\n{words}"));
            assert!(line.contains(&shown) || line.contains(&plain), "{line} {shown}");
        };
        footer("SUM OF X", sum(|w| w.x));
        footer("SUM OF Y", sum(|w| w.y));
    }
}

#[test]
fn a_job_named_like_a_control_word_gives_none() {
    let bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    let hostile = "X)\\nG0 Z-100 (\\u001b[31m%\\u0007";
    let planning = plan_with(&bench, "job.yaml", "job: \"88\"", &format!("job: \"{hostile}\""));
    let plain = Bench::default().block_of([[0.0, 0.0]; 8]).plan();
    for ((_, words, table), (_, expected, _)) in lists(&planning).iter().zip(lists(&plain)) {
        assert!(words.is_ascii() && !words.contains('\u{1b}') && !table.contains('\u{1b}'));
        // The same blocks as the job with a tame name.
        assert_eq!(format!("{:?}", read(words)), format!("{:?}", read(&expected)));
    }
}
