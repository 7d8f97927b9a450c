//! Every file of `blocks/invalid` holds one fault; beside it stands all that the command says to it.

use std::fs;
use std::path::PathBuf;

use crate::common::{Folder, root, run};

/// The folders of faults: each is named for the file of the base job that its files take the place of.
fn folders() -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> =
        fs::read_dir(root().join("blocks/invalid")).unwrap().map(|entry| entry.unwrap().path()).collect();
    folders.retain(|path| path.is_dir() && !path.ends_with("base") && !path.ends_with("base-vee"));
    folders.sort();
    folders
}

#[test]
fn both_base_jobs_are_without_fault() {
    for base in ["base", "base-vee"] {
        let run = Folder::base(base).plan();
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{base}: {}", run.out);
    }
}

/// With `BOREWRIGHT_EXPECT=write` set, what is said is written down instead of compared.
#[test]
fn each_fault_is_told_with_its_place_and_nothing_is_written() {
    let write = std::env::var("BOREWRIGHT_EXPECT").is_ok_and(|word| word == "write");
    let (mut count, mut wrong) = (0, Vec::new());
    for folder in folders() {
        let name = folder.file_name().unwrap().to_string_lossy().into_owned();
        let (stem, base) =
            name.strip_suffix("-vee").map_or((name.as_str(), "base"), |stem| (stem, "base-vee"));
        for entry in fs::read_dir(&folder).unwrap() {
            let faulty = entry.unwrap().path();
            let extension = faulty.extension().unwrap().to_string_lossy().into_owned();
            if extension == "expected" {
                assert!(
                    ["yaml", "csv"].iter().any(|e| faulty.with_extension(e).exists()),
                    "{} stands alone",
                    faulty.display()
                );
                continue;
            }
            count += 1;
            let job = Folder::base(base);
            job.write(&format!("{stem}.{extension}"), fs::read(&faulty).unwrap());
            let said = job.rejected();
            let beside = faulty.with_extension("expected");
            if write {
                fs::write(&beside, said).unwrap();
            } else if fs::read_to_string(&beside).ok().as_deref() != Some(said.as_str()) {
                wrong.push(format!("{}:\n{said}", faulty.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{} said otherwise:\n{}", wrong.len(), wrong.join("\n"));
    assert!(count >= 150, "only {count} faults");
}

#[test]
fn each_fault_but_those_of_a_whole_file_has_a_line_and_a_column() {
    let whole = ["empty", "only-a-comment", "header-only", "one-main", "two-points"];
    for folder in folders() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            if path.extension().unwrap() != "expected" || whole.contains(&name.as_str()) {
                continue;
            }
            let said = fs::read_to_string(&path).unwrap();
            let place: Vec<&str> = said.split(": ").next().unwrap().split(':').collect();
            assert_eq!(place.len(), 3, "{}: {said}", path.display());
            assert!(place[1].parse::<u32>().is_ok() && place[2].parse::<u32>().is_ok(), "{said}");
            assert!(said.contains(": found ") && said.contains(", expected "), "{said}");
            // One fault in, one fault out.
            assert_eq!(said.matches(", expected ").count(), 1, "{}: {said}", path.display());
        }
    }
}

#[test]
fn the_faults_of_all_files_are_told_in_one_run() {
    let job = Folder::base("base");
    job.edit("job.yaml", "tolerance: 0.012", "tolerance: 12");
    job.edit("block.yaml", "housing_bore: 58.0", "housing_bore: 5.8");
    job.edit("block.yaml", "deck_height: 180.0", "deck_height: 18 cm");
    job.edit("sleeve.yaml", "thickness: 6.0", "thickness: 0.06");
    job.edit("machine.yaml", "reach: 170.0", "reach: 0");
    job.edit("shop.yaml", "centre: 0.003", "centre: 0");
    let said = job.rejected();
    for start in [
        "job.yaml:12:52: finish.tolerance: found 12",
        "block.yaml:9:14: deck_height: found `18 cm`",
        "block.yaml:12:17: journal_axis.housing_bore: found 5.8",
        "sleeve.yaml:9:38: flange.thickness: found 0.06",
        "machine.yaml:14:12: tools[0].reach: found 0",
        "shop.yaml:17:11: instruments.centre: found 0",
    ] {
        assert_eq!(said.lines().filter(|line| line.starts_with(start)).count(), 1, "{start}\n{said}");
    }
    // A table can be held against a block only once that can be read.
    job.write("block.yaml", Folder::base("base").read("block.yaml"));
    job.edit("bores.csv", "1,70,", "1,170,");
    job.edit("bores.csv", "76.022", "76,022");
    job.edit("walls.csv", "6.12", "thin");
    let said = job.rejected();
    for start in ["job.yaml:12:52:", "bores.csv:8:24:", "walls.csv:4:9: wall: found `thin`"] {
        assert!(said.lines().any(|line| line.starts_with(start)), "{start}\n{said}");
    }
}

#[test]
fn faults_of_one_table_are_told_up_to_a_bound() {
    let job = Folder::base("base");
    let rows: String = (0..5000).map(|row| format!("1,{row},wide,left,76\n")).collect();
    job.write("bores.csv", format!("cylinder,depth,x,y,diameter\n{rows}"));
    let said = job.rejected();
    assert_eq!(said.matches(": found ").count(), 20);
    assert!(said.contains("\n… and "), "{said}");
}

#[test]
fn a_release_without_its_reason_is_no_release() {
    let job = Folder::base("base");
    for text in
        ["A. Lead", "A. Lead:", ": wall read again", ":", "", "A. Lead: no", "A. Lead: ok .", "7: read again"]
    {
        let run = run(&["plan".as_ref(), job.job().as_os_str(), "--release".as_ref(), text.as_ref()]);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{text:?}");
        assert!(run.err.contains("who releases it, a colon, and why"), "{}", run.err);
        assert!(!job.out().exists());
    }
}

#[test]
fn a_job_that_is_not_there_is_asked_for_by_name() {
    let place = tempfile::tempdir().unwrap();
    let missing = place.path().join("nosuch");
    for (path, named) in [(missing.as_path(), "nosuch: "), (place.path(), "job.yaml: ")] {
        let run = run(&["check".as_ref(), path.as_os_str()]);
        assert_eq!(run.status, Some(2));
        let wanted = "found no such file, expected a job folder with its job.yaml, or that file";
        assert!(run.err.contains(&format!("{named}{wanted}")), "{}", run.err);
    }
}
