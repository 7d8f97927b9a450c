//! `borewright verify` on folders as they were written, and with one thing done to them.

use std::ffi::OsStr;
use std::fs;

use serde_json::Value;

use crate::common::{Folder, Run, files, run};

fn verify(job: &Folder, more: &[&str]) -> Run {
    let out = job.out();
    let mut arguments = vec![OsStr::new("verify"), out.as_os_str()];
    arguments.extend(more.iter().map(OsStr::new));
    run(&arguments)
}

/// The lines printed, those broken to fit joined again.
fn lines(run: &Run) -> Vec<String> {
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    run.out.replace("\n  ", " ").lines().map(str::to_owned).collect()
}

#[test]
fn a_folder_as_it_was_written_is_unaltered_in_one_sentence() {
    let job = Folder::planned();
    let before = files(job.place());
    let run = verify(&job, &[]);
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{}", run.out);
    let told = lines(&run);
    let written = files(&job.out()).iter().filter(|f| job.out().join(f).is_file()).count();
    assert!(told.len() == 1 && told[0].starts_with("unaltered: "), "{told:?}");
    assert!(told[0].contains(&format!(": {written} files and ")), "{told:?}");
    assert!(told[0].ends_with(" inputs as they were"), "{told:?}");
    assert_eq!(files(job.place()), before);
    let json: Value = serde_json::from_str(&verify(&job, &["--format", "json"]).out).unwrap();
    assert_eq!((&json["format"], &json["unaltered"]), (&"borewright/verify/1".into(), &true.into()));
    let plan: Value = serde_json::from_str(&job.read("out/plan.json")).unwrap();
    assert_eq!(json["fingerprint"], plan["fingerprint"]);
    assert_eq!(json["files"].as_array().unwrap().len(), written);
    assert_eq!(json["inputs"].as_array().unwrap().len(), plan["inputs"].as_array().unwrap().len());
}

#[test]
fn each_file_altered_or_missing_is_told_by_its_name() {
    let job = Folder::planned();
    for file in files(&job.out()).into_iter().filter(|f| job.out().join(f).is_file()) {
        let path = job.out().join(&file);
        let bytes = fs::read(&path).unwrap();
        let other: &[u8] = if bytes[bytes.len() / 2] == b'x' { b"y" } else { b"x" };
        for (spoiled, state) in [
            (Some([&bytes[..bytes.len() / 2], other, &bytes[bytes.len() / 2 + 1..]].concat()), "altered"),
            (Some([&bytes[..], b"\n"].concat()), "altered"),
            (Some(Vec::new()), "altered"),
            (None, "missing"),
        ] {
            match spoiled {
                Some(bytes) => fs::write(&path, bytes).unwrap(),
                None => fs::remove_file(&path).unwrap(),
            }
            let run = verify(&job, &[]);
            assert_eq!((run.status, run.err.as_str()), (Some(4), ""), "{file}: {}", run.out);
            let told = lines(&run);
            assert_eq!(told[0], format!("{file} {state}"), "{told:?}");
            // Nothing else is wrong but, where the plan cannot be read, what hangs on it.
            assert!(told.iter().filter(|l| !l.starts_with("note: ")).count() == 2, "{told:?}");
            assert!(told.last().unwrap().starts_with("ALTERED: "), "{told:?}");
        }
        fs::write(&path, &bytes).unwrap();
    }
    assert_eq!(verify(&job, &[]).status, Some(0));
}

#[test]
fn what_a_desktop_leaves_is_nobodys_for_all_who_look() {
    let job = Folder::planned();
    for left in ["out/.DS_Store", "out/sheets/Thumbs.db", "out/lists/desktop.ini"] {
        job.write(left, "x");
    }
    let told = verify(&job, &[]);
    assert_eq!(told.status, Some(0), "{}", told.out);
    assert!(!told.out.contains("note"), "{}", told.out);
    let again = job.plan();
    assert_eq!(again.status, Some(0), "{}", again.err);
    assert!(
        !files(&job.out())
            .iter()
            .any(|f| f.contains("DS_Store") || f.contains("Thumbs") || f.contains(".ini"))
    );
    job.write("out/.DS_Store", "x");
    let archive = job.place().join("archive");
    let mut file = crate::common::command();
    file.arg("file").arg(job.job()).arg("--archive").arg(&archive).arg("--begin");
    let filed = crate::common::ended(&mut file);
    assert_eq!(filed.status, Some(0), "{}", filed.err);
}

#[test]
fn a_plan_sealed_anew_is_still_not_the_one_that_was_written() {
    let job = Folder::planned();
    let plan = job.read("out/plan.json");
    let other = plan.replacen("\"verdict\": \"go\"", "\"verdict\": \"ho\"", 1);
    let value: Value = serde_json::from_str(&plan).unwrap();
    let seal = borewright_planner::prove::seal(&other).unwrap();
    job.write("out/plan.json", other.replace(value["seal"].as_str().unwrap(), &seal));
    let run = verify(&job, &[]);
    assert_eq!(run.status, Some(4));
    assert_eq!(lines(&run)[0], "plan.json altered");
}

#[test]
fn an_input_changed_since_is_told_and_a_job_that_is_elsewhere_is_a_note() {
    let job = Folder::planned();
    let original = job.read("machine.yaml");
    job.write("machine.yaml", format!("{original}# later\n"));
    let run = verify(&job, &[]);
    assert_eq!(run.status, Some(4));
    let told = lines(&run);
    assert_eq!(told[0], "machine.yaml altered since the plan was made: plan the job again");
    assert!(
        told[1].starts_with("ALTERED: ") && told[1].contains(": 0 of ") && told[1].contains(" files, 1 of "),
        "{told:?}"
    );
    let json: Value = serde_json::from_str(&verify(&job, &["--format", "json"]).out).unwrap();
    let states: Vec<&Value> =
        json["inputs"].as_array().unwrap().iter().filter(|i| i["file"] == "machine.yaml").collect();
    assert_eq!(states[0]["state"], "altered");
    let away = tempfile::tempdir().unwrap();
    crate::common::copy(&job.out(), &away.path().join("stick/plan"));
    let place = away.path().join("stick/plan");
    let moved = run_on(&place);
    assert_eq!(moved.status, Some(0), "{}", moved.out);
    assert!(lines(&moved)[0].starts_with("note: the job does not lie beside this folder"), "{}", moved.out);
}

fn run_on(place: &std::path::Path) -> Run {
    run(&[OsStr::new("verify"), place.as_os_str()])
}

#[test]
fn a_note_is_told_and_what_could_be_taken_for_the_plans_is_a_fault() {
    let job = Folder::planned();
    for file in ["notes.txt", "lists/10-rough-bank.nc.bak", "old/photo.jpg"] {
        fs::create_dir_all(job.out().join(file).parent().unwrap()).unwrap();
        job.write(&format!("out/{file}"), "bore 2 re-read");
        let run = verify(&job, &[]);
        assert_eq!(run.status, Some(0), "{file}: {}", run.out);
        assert_eq!(lines(&run)[0], format!("note: {file} is not of this plan"));
        fs::remove_file(job.out().join(file)).unwrap();
    }
    for file in
        ["lists/70-rough-bank.nc", "lists/70-rough-bank.CSV", "sheets/setup-2.pdf", "mine.nc", "old/11.NC"]
    {
        job.write(&format!("out/{file}"), "G0 Z-10.000");
        let run = verify(&job, &[]);
        assert_eq!(run.status, Some(4), "{file}: {}", run.out);
        let told = lines(&run);
        assert_eq!(told[0], format!("{file} added: it is not of this plan, and could be taken for it"));
        assert!(told[1].ends_with(", 1 added"), "{told:?}");
        fs::remove_file(job.out().join(file)).unwrap();
    }
}

#[test]
fn what_is_no_written_folder_is_rejected() {
    let place = tempfile::tempdir().unwrap();
    let file = place.path().join("file");
    fs::write(&file, "x").unwrap();
    for (at, says) in [
        (place.path().join("none"), "no such folder"),
        (file, "something that is no folder"),
        (place.path().to_owned(), "a folder without plan.json"),
    ] {
        let run = run_on(&at);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{says}");
        assert!(run.err.contains(says), "{}", run.err);
    }
}

#[test]
fn a_survey_of_its_own_is_held_against_its_own_list() {
    let job = Folder::base("base");
    let out = job.job().join("survey");
    let survey = [OsStr::new("survey"), job.job().as_os_str(), OsStr::new("--out"), out.as_os_str()];
    assert_eq!(run(&survey).status, Some(0));
    let told = run_on(&out);
    assert_eq!(told.status, Some(0), "{}{}", told.out, told.err);
    assert!(told.out.starts_with("unaltered: "), "{}", told.out);
    fs::write(out.join("survey.json"), "{}").unwrap();
    let told = run_on(&out);
    assert_eq!((told.status, told.out.starts_with("survey.json altered\n")), (Some(4), true), "{}", told.out);
}

#[cfg(unix)]
#[test]
fn links_pipes_folders_and_names_with_control_characters_are_told_and_never_followed() {
    use std::os::unix::fs::symlink;
    let job = Folder::planned();
    let list = job.out().join("lists/10-rough-bank.nc");
    let aside = job.place().join("aside.nc");
    fs::rename(&list, &aside).unwrap();
    let told = |says: &str| {
        let run = verify(&job, &[]);
        assert_eq!(run.status, Some(4), "{}", run.out);
        assert_eq!(lines(&run)[0], format!("lists/10-rough-bank.nc {says}"), "{}", run.out);
    };
    symlink(&aside, &list).unwrap();
    told("replaced by a link");
    fs::remove_file(&list).unwrap();
    symlink(job.place().join("nowhere"), &list).unwrap();
    told("replaced by a link");
    fs::remove_file(&list).unwrap();
    fs::create_dir(&list).unwrap();
    told("replaced by a folder");
    fs::remove_dir(&list).unwrap();
    let made = std::process::Command::new("mkfifo").arg(&list).status().unwrap();
    assert!(made.success());
    told("replaced by something that is no file");
    fs::remove_file(&list).unwrap();
    fs::rename(&aside, &list).unwrap();
    // The folder of the lists itself a link to the same lists.
    let lists = job.out().join("lists");
    fs::rename(&lists, job.place().join("elsewhere")).unwrap();
    symlink(job.place().join("elsewhere"), &lists).unwrap();
    let run = verify(&job, &[]);
    assert_eq!(run.status, Some(4));
    assert!(lines(&run).iter().filter(|l| l.ends_with(".nc replaced by a link")).count() > 1, "{}", run.out);
    fs::remove_file(&lists).unwrap();
    fs::rename(job.place().join("elsewhere"), &lists).unwrap();
    // Plan and list of files as pipes: nothing waits.
    for file in ["plan.json", ".written"] {
        let (path, aside) = (job.out().join(file), job.place().join("aside"));
        fs::rename(&path, &aside).unwrap();
        assert!(std::process::Command::new("mkfifo").arg(&path).status().unwrap().success());
        let run = verify(&job, &[]);
        assert_eq!(run.status, Some(4), "{}", run.out);
        assert_eq!(lines(&run)[0], format!("{file} replaced by something that is no file"));
        fs::remove_file(&path).unwrap();
        fs::rename(&aside, &path).unwrap();
    }
    // Names that a terminal would act upon, and links that go round.
    job.write("out/\u{1b}[2J\u{202e}.txt", "x");
    job.write("out/lists/\u{1b}]0;x\u{7}.nc", "x");
    symlink(job.out(), job.out().join("round")).unwrap();
    for format in ["text", "json"] {
        let run = verify(&job, &["--format", format]);
        assert_eq!(run.status, Some(4));
        assert!(!run.out.chars().any(|c| (c.is_control() && c != '\n') || c == '\u{202e}'), "{:?}", run.out);
    }
    let told = lines(&verify(&job, &[]));
    assert!(
        told.contains(&"lists/?]0;x?.nc added: it is not of this plan, and could be taken for it".to_owned()),
        "{told:?}"
    );
    assert!(told.contains(&"note: ?[2J?.txt is not of this plan".to_owned()), "{told:?}");
    assert!(told.contains(&"note: round is not of this plan".to_owned()), "{told:?}");
}

#[test]
fn lists_of_a_release_that_was_withdrawn_prove_no_more() {
    let job = Folder::sample();
    let shop = job.place().join("shop.yaml");
    let text = fs::read_to_string(&shop).unwrap();
    assert!(text.contains("position: 0.05"));
    fs::write(shop, text.replace("position: 0.05", "position: 0.03")).unwrap();
    let plan = |release: &[&str]| {
        let words = [OsStr::new("plan"), job.job().as_os_str()];
        run(&[words.as_slice(), &release.iter().map(OsStr::new).collect::<Vec<_>>()].concat()).status
    };
    let prove = |folder: &std::path::Path| {
        let (list, plan) = (folder.join("lists/20-pocket-left.nc"), folder.join("plan.json"));
        let run = run(&["prove".as_ref(), list.as_os_str(), "--plan".as_ref(), plan.as_os_str()]);
        (run.status, run.out.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    assert!(matches!(plan(&["--release", "J. Tern: agreed with the customer"]), Some(0 | 3)));
    let elsewhere = tempfile::tempdir().unwrap();
    let (old, away) = (job.job().join("old"), elsewhere.path().join("stick"));
    for to in [&old, &away] {
        crate::common::copy(&job.out(), to);
        assert_eq!(prove(to).0, Some(0), "{}", prove(to).1);
    }
    assert_eq!(plan(&[]), Some(3));
    let (status, said) = prove(&old);
    assert!(status == Some(4) && said.contains("has another plan of this job"), "{said}");
    // On a stick nothing lies beside it to hold it against.
    assert_eq!(prove(&away).0, Some(0), "{}", prove(&away).1);
    // The same release in other words lets through what it did; another's is another.
    assert!(matches!(plan(&["--release", "j.  tern: the customer agreed to it by phone"]), Some(0 | 3)));
    assert_eq!(prove(&old).0, Some(0), "{}", prove(&old).1);
    assert!(matches!(plan(&["--release", "K. Dun: the customer agreed to it by phone"]), Some(0 | 3)));
    assert_eq!(prove(&old).0, Some(4), "{}", prove(&old).1);
    assert_eq!(plan(&[]), Some(3));
    // One that is no plan as it was written says nothing.
    let own = job.out().join("plan.json");
    fs::write(&own, fs::read_to_string(&own).unwrap().replacen("hold", "go", 1)).unwrap();
    assert_eq!(prove(&old).0, Some(0), "{}", prove(&old).1);
}
