//! Two files, or two figures of one, that contradict each other, and words of which nobody says what they mean. Each beside the honest
//! work that it could be taken for.

use borewright_planner::plan::Verdict;

use crate::spoil::{BLOCK, Edit, JOB, ONLY_W90, SHOP, against, codes, goes, held_by, sample, sample_with};
use crate::table::{Table, plan_with};

/// The sample's walls told by the side they are on, with the banks under other names and in another order.
fn by_side(names: [&str; 2], swapped: bool) -> Result<(), String> {
    let dir = tempfile::tempdir().unwrap();
    crate::spoil::copied(dir.path());
    let write = |path: &str, change: &dyn Fn(String) -> String| {
        let path = dir.path().join(path);
        let text = std::fs::read_to_string(&path).unwrap();
        std::fs::write(path, change(text)).unwrap();
    };
    let [left, right] = names;
    write(BLOCK, &|text| {
        let named = text
            .replace("bank: left", &format!("bank: {left}"))
            .replace("bank: right", &format!("bank: {right}"));
        let banks = [
            format!("  - {{ name: {left}, cylinders: [1, 3, 5], first_bore: 46.0 }}\n"),
            format!("  - {{ name: {right}, cylinders: [2, 4, 6], first_bore: 64.0 }}\n"),
        ];
        let was = "  - { name: left, cylinders: [1, 3, 5], first_bore: 46.0 }\n  - { name: right, cylinders: [2, 4, 6], first_bore: 64.0 }\n";
        assert!(named.contains(was));
        named.replace(was, &if swapped { banks[1].clone() + &banks[0] } else { banks.concat() })
    });
    write(JOB, &|text| {
        text.replace("bank: left\n", &format!("bank: {left}\n"))
            .replace("bank: right\n", &format!("bank: {right}\n"))
    });
    for (table, valley) in [("left", 90), ("right", 270)] {
        write(&format!("jobs/petrel-0412/readings/walls-{table}.csv"), &|text| {
            text.replace(&format!(",{valley},"), ",valley,")
                .replace(&format!(",{},", 360 - valley), ",outer,")
        });
    }
    borewright_planner::load(&dir.path().join(JOB)).map(drop).map_err(|faults| faults.to_string())
}

#[test]
fn valley_and_outer_mean_nothing_where_nobody_says_which_bank_is_which() {
    for names in [["left", "right"], ["L", "R"], ["lh", "rh"], ["left bank", "right bank"]] {
        for swapped in [false, true] {
            assert_eq!(by_side(names, swapped), Ok(()), "{names:?}");
        }
    }
    for names in [["A", "B"], ["one", "two"]] {
        for swapped in [false, true] {
            let told = by_side(names, swapped).unwrap_err();
            assert!(told.contains("an `angle` for each bank"), "{told}");
        }
    }
}

#[test]
fn a_deck_that_was_cut_before_it_was_read_is_not_cut_again() {
    let lower = |by: f64| {
        ["deck-left", "deck-right"].map(|table| {
            Table::read(table).each(|row| row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() - by))
        })
    };
    let cut: Edit<'_> = (JOB, "aim: journal\n", "aim: journal\ndeck: { cut: 0.3 }\n");
    held_by(&plan_with(&lower(0.3), &[cut, ONLY_W90]), "deck_cut");
    // Still to come off, or come off in another life.
    goes(&plan_with(&[], &[cut, ONLY_W90]));
    goes(&plan_with(&lower(0.3), &[ONLY_W90]));
}

#[test]
fn a_sleeve_that_ends_with_the_bore_still_does_when_the_deck_is_skimmed() {
    let past = |cut: &str| {
        let cut = format!("aim: journal\ndeck: {{ cut: {cut} }}\n");
        let edits = [
            (JOB, "aim: journal\n", cut.as_str()),
            (BLOCK, "bore_length: 140.0", "bore_length: 139.0"),
            ONLY_W90,
        ];
        against(&sample(&edits)).iter().any(|code| code == "past_the_bore")
    };
    assert!(!past("0.1") && !past("0.5"));
    assert!(past("0.7"));
}

/// Six sleeves as they were measured, and rows more.
fn measured(more: &str) -> borewright_planner::Planning {
    let mut rows = String::from("number,feature,size\n");
    for n in 1..=6_u32 {
        let by = 0.001 * f64::from((5 * n) % 7) - 0.003;
        for (feature, size) in
            [("thickness", 8.0), ("upper register", 89.8), ("wet length", 89.0), ("lower register", 88.6)]
        {
            rows.push_str(&format!(
                "{n},{feature},{:.3}\n",
                size + by * if feature == "thickness" { 0.7 } else { 1.0 }
            ));
        }
    }
    let stated = (JOB, "aim: journal\n", "aim: journal\nsleeves_measured: readings/sleeves.csv\n");
    sample_with(&[("readings/sleeves.csv", &(rows + more))], &[stated, ONLY_W90])
}

#[test]
fn a_flange_that_reads_two_ways_holds() {
    held_by(&measured("1,thickness,8.080\n"), "read_twice");
    assert!(!codes(&measured("1,thickness,8.008\n")).contains(&"read_twice"));
}

#[test]
fn a_bore_off_the_middle_of_its_studs_holds() {
    held_by(&sample(&[(BLOCK, "first_bore: 46.0", "first_bore: 46.3"), ONLY_W90]), "stud_odd");
    let listed = "cylinders: [1, 3, 5], bores: [46.0, 138.1, 230.0]";
    held_by(&sample(&[(BLOCK, "cylinders: [1, 3, 5], first_bore: 46.0", listed), ONLY_W90]), "stud_odd");
    // Columns that stand nearer at both ends of both heads are a head's.
    let ends: Vec<(&str, &str)> = vec![
        ("left, x: 0.0", "left, x: 3.0"),
        ("left, x: 276.0", "left, x: 273.0"),
        ("right, x: 18.0", "right, x: 21.0"),
        ("right, x: 294.0", "right, x: 291.0"),
    ];
    let mut edits: Vec<Edit<'_>> = ends.iter().map(|(from, to)| (BLOCK, *from, *to)).collect();
    edits.push(ONLY_W90);
    assert!(!codes(&sample(&edits)).contains(&"stud_odd"));
}

#[test]
fn studs_that_are_told_round_some_bores_alone_hold() {
    let without = |xs: [&str; 2]| {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(BLOCK);
        let text = std::fs::read_to_string(path).unwrap();
        let gone: Vec<String> = text
            .lines()
            .filter(|line| xs.iter().any(|x| line.contains(&format!("x: {x}, y:"))))
            .map(|line| format!("{line}\n"))
            .collect();
        let edits: Vec<Edit<'_>> =
            gone.iter().map(|line| (BLOCK, line.as_str(), "")).chain([ONLY_W90]).collect();
        sample(&edits)
    };
    held_by(&without(["276.0", "294.0"]), "stud_odd");
    held_by(&without(["92.0", "110.0"]), "stud_odd");
}

#[test]
fn play_of_the_fixture_is_asked_about_where_nobody_says_whether_it_counts() {
    let bench = |feeds: &str| {
        let dir = crate::bench::shop().block_of([[0.01, -0.02]; 8]).write();
        let locator = |name: &str, at: [f64; 3], normal: [u8; 3]| {
            format!("    - {{ name: {name}, at: {at:?}, normal: {normal:?}, clearance: 0.3 }}\n")
        };
        let locators: String = [
            locator("a", [0.0, 0.0, -50.0], [0, 0, 1]),
            locator("b", [280.0, 60.0, -50.0], [0, 0, 1]),
            locator("c", [280.0, -60.0, -50.0], [0, 0, 1]),
            locator("d", [0.0, 60.0, -50.0], [0, 1, 0]),
            locator("e", [280.0, 60.0, -50.0], [0, 1, 0]),
            locator("f", [0.0, 0.0, -50.0], [1, 0, 0]),
        ]
        .concat();
        let path = dir.path().join("job.yaml");
        let text = std::fs::read_to_string(&path).unwrap();
        std::fs::write(&path, format!("{text}fixture:\n  held_by: cradle\n{feeds}  locators:\n{locators}"))
            .unwrap();
        let job = borewright_planner::load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"));
        codes(&borewright_planner::plan_job(job, None).unwrap())
    };
    assert!(bench("").contains(&"limits_untold"));
    assert!(!bench("  feeds_limits: false\n").contains(&"limits_untold"));
    assert!(!bench("  feeds_limits: true\n").contains(&"limits_untold"));
}

#[test]
fn temperatures_of_no_shop_and_a_block_cut_far_from_how_it_was_measured_hold() {
    let typed = |block: f64, more: &str| {
        let told = format!("temperature: {{ block: {block:.1}, machine: 20.0{more} }}");
        sample(&[(JOB, "temperature: { block: 20.0, machine: 20.0 }", &told), ONLY_W90])
    };
    for cutting in ["block: 0.0, machine: 0.0", "block: 40.0, machine: 20.0"] {
        held_by(&typed(20.0, &format!(", cutting: {{ {cutting} }}")), "block_temperature");
    }
    goes(&typed(20.0, ", cutting: { block: 24.0, machine: 22.0 }"));
    goes(&typed(21.0, ""));
}

#[test]
fn sleeves_whose_names_read_alike_are_refused() {
    let dir = tempfile::tempdir().unwrap();
    crate::spoil::copied(dir.path());
    let other = dir.path().join("sleeves/d86.yaml");
    let text = std::fs::read_to_string(&other).unwrap();
    for (name, refused) in [("W9O", true), ("w 90", true), ("W91", false), ("W9.0", false)] {
        let line = text.lines().find(|line| line.starts_with("name:")).unwrap();
        std::fs::write(&other, text.replace(line, &format!("name: {name}"))).unwrap();
        let loaded = borewright_planner::load(&dir.path().join(JOB));
        assert_eq!(loaded.err().is_some_and(|f| f.to_string().contains("reads alike")), refused, "{name}");
    }
}

#[test]
fn a_fire_ring_of_another_bore_and_a_hole_open_to_the_deck_hold() {
    held_by(
        &sample(&[(BLOCK, "{ inside: 84.5, outside: 88.5 }", "{ inside: 90.0, outside: 92.0 }"), ONLY_W90]),
        "ring_odd",
    );
    let open = (
        "start: [92.0, -46.0, 68.0], end: [92.0, -22.0, 76.0]",
        "start: [92.0, -46.0, 0.0], end: [92.0, -22.0, 2.0]",
    );
    held_by(&sample(&[(BLOCK, open.0, open.1), ONLY_W90]), "hole_odd");
    // Limits of a shop are what they are.
    assert_eq!(sample(&[(SHOP, "flange_gap: 0.0", "flange_gap: 0.01"), ONLY_W90]).plan.verdict, Verdict::Go);
}
