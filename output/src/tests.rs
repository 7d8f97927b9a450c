//! What a whole bundle must keep, whatever the job calls itself.

use borewright_planner::plan::Verdict;
use std::collections::BTreeSet;

use borewright_planner::Planning;
use borewright_planner::job::SheetUnits;

use crate::bundle::bundle_unproven as bundle;
use crate::paper::has_glyph;
use crate::said::fingerprint::grouped;
use crate::{Bundle, testing};

fn all() -> Vec<(&'static str, Planning)> {
    let mut inches = testing::dunnock();
    inches.job.sheet_units = SheetUnits::In;
    let mut both = testing::dunnock();
    both.job.sheet_units = SheetUnits::Both;
    vec![
        ("v6", testing::dunnock()),
        ("inline", testing::wren()),
        ("sixteen", testing::bittern()),
        ("stop", testing::stopped()),
        ("hold", testing::held(false)),
        ("released", testing::held(true)),
        ("hostile", testing::hostile()),
        ("inches", inches),
        ("both", both),
        (
            "one",
            testing::make(
                "Siskin 1",
                0.0,
                &[("main", 0.0, vec![1], 50.0, borewright_planner::job::Front::Left)],
            ),
        ),
    ]
}

fn file<'a>(bundle: &'a Bundle, path: &str) -> &'a [u8] {
    &bundle.artifacts.iter().find(|a| a.path == path).unwrap_or_else(|| panic!("{path}")).bytes
}

fn pages(bundle: &Bundle) -> Vec<String> {
    pages_of(bundle, "sheets/figures.pdf")
}

fn pages_of(bundle: &Bundle, path: &str) -> Vec<String> {
    let document = lopdf::Document::load_mem(file(bundle, path)).unwrap();
    let numbers: Vec<u32> = document.get_pages().keys().copied().collect();
    numbers.iter().map(|n| document.extract_text(&[*n]).unwrap()).collect()
}

#[test]
fn every_page_carries_the_job_the_fingerprint_and_its_number() {
    for (name, planning) in all() {
        let bundle = bundle(&planning).unwrap();
        let pages = pages(&bundle);
        let count = pages.len();
        for (page, number) in pages.iter().zip(1..) {
            let job = if name == "hostile" { "X) G0" } else { "0412" };
            assert!(page.contains(job), "{name} page {number}: {page}");
            assert!(page.contains(&grouped(&planning.plan.fingerprint, 3)), "{name} page {number}");
            assert!(page.contains(&format!("page {number} of {count}")), "{name} page {number}");
        }
        assert!(count <= 12, "{name}: {count} pages");
    }
}

#[test]
fn hostile_words_leave_no_control_character_and_no_empty_box_on_a_sheet() {
    for (name, planning) in all() {
        let bundle = bundle(&planning).unwrap();
        for page in pages(&bundle).into_iter().chain(pages_of(&bundle, "sheets/cards.pdf")) {
            for c in page.chars().filter(|c| *c != '\n') {
                assert!(!c.is_control() && c != '\u{202e}' && has_glyph(c), "{name}: {c:?}");
            }
        }
    }
}

#[test]
fn what_is_not_for_cutting_says_so_on_every_page_and_gives_no_coordinates() {
    for planning in [testing::stopped(), testing::held(false)] {
        let bundle = bundle(&planning).unwrap();
        assert!(bundle.plan.lists.is_empty());
        let pages = pages(&bundle);
        assert!(pages.iter().all(|page| page.contains("NOT FOR CUTTING")));
        assert!(pages.iter().any(|page| page.contains("withheld")));
    }
    let text = pages(&bundle(&testing::held(true)).unwrap()).concat();
    assert!(text.contains("M. Teal") && text.contains("RELEASED") && !text.contains("withheld"));
}

#[test]
fn a_plan_held_in_part_and_not_released_says_which_cylinders_are_held_back() {
    let mut planning = testing::held(true);
    planning.plan.release = None;
    let held = planning.plan.cylinders.iter().filter(|c| c.verdict == Verdict::Hold).count();
    assert!(held > 0 && held < planning.plan.cylinders.len());
    let pages = pages(&bundle(&planning).unwrap());
    assert!(pages.iter().all(|page| page.contains("NOT ALL CYLINDERS") && !page.contains("RELEASED")));
    let cards = pages_of(&bundle(&planning).unwrap(), "sheets/cards.pdf");
    assert!(cards[0].contains("HOLD at cylinder") && cards[0].contains("held back"), "{}", cards[0]);
}

#[test]
fn equal_plannings_give_equal_bytes() {
    for (name, planning) in all() {
        let [first, second] = [(); 2].map(|()| bundle(&planning).unwrap().artifacts);
        assert!(first == second, "{name}");
    }
}

#[test]
fn a_v6_has_these_files() {
    let bundle = bundle(&testing::dunnock()).unwrap();
    let paths: Vec<&str> = bundle.artifacts.iter().map(|a| a.path.as_str()).collect();
    insta::assert_snapshot!(paths.join("\n"), @r#"
    plan.json
    lists/10-rough-left.nc
    lists/10-rough-left.csv
    lists/20-rough-right.nc
    lists/20-rough-right.csv
    lists/30-pocket-left.nc
    lists/30-pocket-left.csv
    lists/40-pocket-right.nc
    lists/40-pocket-right.csv
    lists/50-finish-left.nc
    lists/50-finish-left.csv
    lists/60-finish-right.nc
    lists/60-finish-right.csv
    drawings/half-section.svg
    drawings/deck-left.dxf
    drawings/deck-right.dxf
    job.html
    sheets/cards.pdf
    sheets/cards/1-decide.svg
    sheets/cards/2-set-up-left.svg
    sheets/cards/3-cut-left.svg
    sheets/cards/3-cut-left-2.svg
    sheets/cards/4-set-up-right.svg
    sheets/cards/5-cut-right.svg
    sheets/cards/5-cut-right-2.svg
    sheets/cards/6-pocket.svg
    sheets/cards/6-pocket-2.svg
    sheets/cards/7-fit.svg
    sheets/cards/8-finish-and-hone.svg
    sheets/cards/8-finish-and-hone-2.svg
    sheets/figures.pdf
    "#);
    let json: serde_json::Value = serde_json::from_slice(file(&bundle, "plan.json")).unwrap();
    assert_eq!(json["lists"][0]["file"], "lists/10-rough-left.nc");
    assert_eq!(json["lists"][0]["sha256"].as_str().unwrap().len(), 64);
    assert!(file(&bundle, "plan.json").ends_with(b"}\n"));
}

#[test]
fn no_name_of_a_bank_becomes_a_path_and_equal_names_stay_apart() {
    let mut planning = testing::dunnock();
    for (list, name) in planning.lists.iter_mut().zip(["../x", "../../X/", "CON", "con ", "ü", "ö"]) {
        name.clone_into(&mut list.bank);
        list.number = 10;
        list.stage = borewright_planner::plan::Stage::Rough;
    }
    let bundle = bundle(&planning).unwrap();
    let paths: BTreeSet<&str> = bundle.artifacts.iter().map(|a| a.path.as_str()).collect();
    assert_eq!(paths.len(), bundle.artifacts.len());
    for path in paths {
        assert!(
            path.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || "-/.".contains(c)),
            "{path}"
        );
        assert!(!path.contains("..") && !path.starts_with('/'));
    }
}

/// A block of words: address and figure.
fn blocks(text: &str) -> Vec<Vec<(char, f64)>> {
    let mut blocks = Vec::new();
    for line in text.lines() {
        assert!(line.chars().all(|c| (' '..='\u{7e}').contains(&c)), "{line}");
        if let Some(comment) = line.strip_prefix('(') {
            let comment = comment.strip_suffix(')').unwrap();
            assert!(!comment.contains(['(', ')']) && comment.len() <= 100, "{line}");
            continue;
        }
        let word = |word: &str| (word.chars().next().unwrap(), word[1..].parse().unwrap());
        assert!(!line.contains("-0.000") && !line.contains('e'), "{line}");
        blocks.push(line.split(' ').map(word).collect());
    }
    blocks
}

#[test]
fn lists_read_back_as_the_moves_they_were_made_from() {
    for (name, planning) in all() {
        let bundle = bundle(&planning).unwrap();
        for (list, entry) in planning.lists.iter().zip(&bundle.plan.lists) {
            let text = std::str::from_utf8(file(&bundle, &entry.file)).unwrap();
            let blocks = blocks(text);
            assert_eq!(blocks[0], [('N', 10.0), ('G', 17.0), ('G', 21.0), ('G', 90.0), ('G', 94.0)]);
            assert_eq!(blocks.len(), list.moves.len() + 1, "{name}");
            for (index, (block, of)) in blocks[1..].iter().zip(&list.moves).enumerate() {
                let value = |address| block.iter().find(|w| w.0 == address).map(|w| w.1);
                assert_eq!(value('N'), Some(f64::from(u32::try_from(index + 2).unwrap() * 10)));
                assert_eq!((value('X'), value('Y'), value('Z')), (of.x_mm, of.y_mm, of.z_mm));
                assert_eq!((value('F'), value('S')), (of.feed_mm_per_min, of.rpm));
                let allowed = "NGXYZIJFSM";
                assert!(block.iter().all(|w| allowed.contains(w.0)));
            }
            assert_eq!(blocks.last().unwrap().last(), Some(&('M', 30.0)));
        }
    }
}

#[test]
fn a_table_holds_rows_alone_so_that_its_columns_add_up_to_the_sums_at_the_lists_foot() {
    for (name, planning) in all() {
        let bundle = bundle(&planning).unwrap();
        for (list, entry) in planning.lists.iter().zip(&bundle.plan.lists) {
            let bytes = file(&bundle, &entry.file.replace(".nc", ".csv"));
            let text = std::str::from_utf8(bytes).unwrap();
            // Line ends as RFC 4180 has them, and none alone.
            assert_eq!(text.matches('\n').count(), text.matches("\r\n").count(), "{name}");
            let mut reader = csv::Reader::from_reader(bytes);
            let head: Vec<&str> = reader.headers().unwrap().iter().collect();
            let expected =
                "line,cylinder,pass,move,x_mm,y_mm,z_mm,i_mm,j_mm,feed_mm_per_min,rpm,note".split(',');
            assert_eq!(head, expected.collect::<Vec<_>>());
            let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
            assert_eq!(rows.len(), list.moves.len());
            assert!(rows.iter().all(|row| !row[0].is_empty() && !row[3].is_empty()), "{name}");
            let sum =
                |column: usize| -> f64 { rows.iter().filter_map(|r| r[column].parse::<f64>().ok()).sum() };
            assert!((list.sums_mm()[0] - sum(4)).abs() < 1e-6 && (list.sums_mm()[1] - sum(5)).abs() < 1e-6);
            assert!(rows.iter().all(|row| !row[11].starts_with(['=', '+', '-', '@'])));
            let words = std::str::from_utf8(file(&bundle, &entry.file)).unwrap();
            assert!(words.contains(&format!("(SUM OF X {:.3})", sum(4) + 0.0)), "{name}: {}", sum(4));
        }
    }
}

#[test]
fn a_short_list_reads_like_this() {
    let mut planning =
        testing::make("Siskin 1", 0.0, &[("main", 0.0, vec![1], 50.0, borewright_planner::job::Front::Left)]);
    planning.plan.job = "X)\nG0 Z-100".to_owned();
    let bundle = bundle(&planning).unwrap();
    let text = |path| std::str::from_utf8(file(&bundle, path)).unwrap().to_owned();
    insta::assert_snapshot!(text("lists/10-rough-main.nc"), @r#"
    (JOB X] G0 Z-100)
    (LIST 10 - rough - BANK main)
    (CYLINDERS 1)
    (BLOCK Siskin 1)
    (FINGERPRINT 3fa2-91bc-77de-0a14-c5b8-e6f2-0d93-47aa)
    (11c0-6b5e-8f7d-2a93-e4c0-1b6f-5d8a-7e20)
    (VERDICT go)
    (zero - foot of the along datum on the journal axis, deck for)
    (Z)
    (UNITS mm, feed mm per min, spindle turns per min)
    (TOUCH CHECK - each must read right at the machine before the)
    (first chip)
    (TOUCH CHECK 1 - middle of cylinder 1 - X +50.000 Y +0.000)
    (within 0.50)
    (TOUCH CHECK 2 - middle of cylinder 1 - X +50.000 Y +0.000)
    (within 0.50)
    (TOUCH CHECK 3 - deck beside the first bore - Z +0.000 within)
    (0.05)
    N10 G17 G21 G90 G94
    (rough head in the spindle)
    N20 S324 M3
    N30 G0 Z5.000
    (cylinder 1, 0.28 mm towards the valley [um read])
    N40 G0 X50.000 Y0.000
    N50 G1 Z-138.000 F48.6
    N60 G0 Z5.000
    (cylinder 1, 0.28 mm towards the valley [um read])
    N70 G0 X50.000 Y0.000
    N80 G1 Z-138.000 F48.6
    N90 G0 Z5.000
    (measure)
    N100 M0
    N110 M5
    (ROWS 11 - N20 to N120)
    (SUM OF X 100.000)
    (SUM OF Y 0.000)
    N120 M30
    "#);
    insta::assert_snapshot!(text("lists/10-rough-main.csv").replace('\r', ""), @r#"
    line,cylinder,pass,move,x_mm,y_mm,z_mm,i_mm,j_mm,feed_mm_per_min,rpm,note
    20,,,spindle on,,,,,,,324,rough head in the spindle
    30,,,rapid,,,5.000,,,,,
    40,1,10,rapid,50.000,0.000,,,,,,"cylinder 1, 0.28 mm towards the valley (µm read)"
    50,1,10,feed,,,-138.000,,,48.6,,
    60,1,10,rapid,,,5.000,,,,,
    70,1,20,rapid,50.000,0.000,,,,,,"cylinder 1, 0.28 mm towards the valley (µm read)"
    80,1,20,feed,,,-138.000,,,48.6,,
    90,1,20,rapid,,,5.000,,,,,
    100,,,stop,,,,,,,,measure
    110,,,spindle off,,,,,,,,
    120,,,end,,,,,,,,
    "#);
}

/// Writes every sheet to the folder named in `BOREWRIGHT_LOOK`.
#[test]
#[ignore = "writes pictures to look at"]
fn sheets_can_be_looked_at() {
    let folder = std::env::var_os("BOREWRIGHT_LOOK").expect("BOREWRIGHT_LOOK names a folder");
    for (name, planning) in all() {
        let bundle = bundle(&planning).unwrap();
        for artifact in bundle.artifacts {
            let path = std::path::Path::new(&folder).join(name).join(artifact.path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, artifact.bytes).unwrap();
        }
    }
}
