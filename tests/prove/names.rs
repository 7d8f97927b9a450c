//! A list's file under a wrong name, the table beside it, and what systems set round a list.

use crate::common::{Folder, run};
use crate::sample::{said, sample};
use borewright_planner::prove::prove;

#[test]
fn a_name_of_another_list_holds_however_it_is_written_and_its_own_goes() {
    let reference = sample().reference();
    let words = sample().list("10-rough-left");
    for name in [
        "30_rough_right.nc",
        "30 rough right.nc",
        "ROUGH-RIGHT.NC",
        "roughright.nc",
        "ROUGHR.NC",
        "rough right.nc",
        "30ROUGHR.NC",
        "right-rough.nc",
        "10-rough-left-RIGHT.nc",
        "30.nc",
        "O0030.nc",
        "copy of 30-rough-right.nc",
        "10-rough-left=30-rough-right.nc",
        "20-pocket-left.nc",
        "70-rough-left.nc",
        "cyl-2.nc",
        "FINISH.NC",
    ] {
        let proof = prove(words, None, name, &reference);
        let named = proof.flaws.iter().any(|f| f.code == "name");
        assert!(!proof.proven && named, "{name}: {}", said(&proof));
    }
    for name in [
        "10-rough-left.nc",
        "10_Rough_Left.NC",
        "10 rough left (2).nc",
        "copy of 10-rough-left.nc",
        "10ROUGHL.NC",
        "10.nc",
        "O0010.nc",
        "ROUGHL.NC",
        "cyl-3.nc",
        "edited.nc",
        "a.nc",
        "0412-10-rough-left.nc",
        "10-rough-left 2026-11-30.nc",
    ] {
        let proof = prove(words, None, name, &reference);
        assert!(proof.proven, "{name}: {}", said(&proof));
    }
}

#[test]
fn tabs_between_words_and_a_sign_before_and_behind_are_no_change() {
    let reference = sample().reference();
    let words = sample().list("10-rough-left");
    let tabbed: String = words
        .lines()
        .map(|l| if l.starts_with('N') { l.replace(' ', "\t") + "\n" } else { format!("{l}\n") })
        .collect();
    for text in [tabbed, format!("%\n{words}%\n"), format!("%\r\n{words}\n%")] {
        let proof = prove(&text, None, "edited.nc", &reference);
        assert!(proof.proven, "{}", said(&proof));
    }
    for (text, words_of_it) in [
        (format!("%\n{words}"), "the character `%`"),
        (format!("{words}%\n"), "the character `%`"),
        (words.replacen(" G21", "", 1), "the unit (G21)"),
        (words.replacen("\nN20 ", "\n/N20 ", 1), "a block skip: the control may leave the row out"),
    ] {
        assert_ne!(text, words);
        let proof = prove(&text, None, "edited.nc", &reference);
        assert!(!proof.proven && said(&proof).contains(words_of_it), "{words_of_it}: {}", said(&proof));
    }
}

#[test]
fn the_table_beside_a_list_is_found_in_any_case_and_missed_where_there_is_none() {
    let job = Folder::sample();
    run(&["plan".as_ref(), job.job().as_os_str()]);
    let lists = job.job().join("out/lists");
    let plan = job.job().join("out/plan.json");
    let apart = job.place().join("stick");
    std::fs::create_dir(&apart).unwrap();
    std::fs::copy(lists.join("10-rough-left.nc"), apart.join("10-ROUGH-LEFT.NC")).unwrap();
    let prove = |file: &str| {
        run(&["prove".as_ref(), apart.join(file).as_os_str(), "--plan".as_ref(), plan.as_os_str()])
    };
    let alone = prove("10-ROUGH-LEFT.NC");
    assert!(alone.status == Some(0) && alone.out.contains("no table beside it"), "{}", alone.out);
    let table = std::fs::read_to_string(lists.join("10-rough-left.csv")).unwrap();
    std::fs::write(apart.join("10-rough-left.Csv"), &table).unwrap();
    for file in ["10-ROUGH-LEFT.NC", "10-rough-left.Csv"] {
        let whole = prove(file);
        assert!(
            whole.status == Some(0) && !whole.out.contains("no table"),
            "{file}: {}{}",
            whole.out,
            whole.err
        );
    }
    std::fs::write(apart.join("10-rough-left.Csv"), table.replacen("46.016", "46.061", 1)).unwrap();
    for file in ["10-ROUGH-LEFT.NC", "10-rough-left.Csv"] {
        assert_eq!(prove(file).status, Some(4), "{file}");
    }
}
