//! Where a plan is written, and that it is there whole or not at all.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;

use borewright_planner::read::source::sha256_hex;

use crate::common::{Folder, command, contents, ended, files, run};

const BINARY: &str = env!("CARGO_BIN_EXE_borewright");

/// Every file listed as written is there with its sum, and no other.
fn assert_whole(out: &Path) {
    let written = fs::read_to_string(out.join(".written")).unwrap();
    let mut named: Vec<String> = vec![".written".into()];
    for line in written.lines().skip(1) {
        let (sum, name) = line.split_once(' ').unwrap();
        assert_eq!(sha256_hex(&fs::read(out.join(name)).unwrap()), sum, "{name}");
        named.push(name.to_owned());
    }
    assert!(named.len() > 2, "{written}");
    let mut found = files(out);
    found.retain(|name| out.join(name).is_file());
    named.sort();
    assert_eq!(found, named);
}

#[test]
fn a_job_planned_twice_gives_the_same_bytes() {
    for base in ["base", "base-vee"] {
        let (one, two) = (Folder::base(base), Folder::base(base));
        one.plan();
        two.plan();
        let first = contents(&one.out());
        assert_eq!(first, contents(&two.out()), "in another place");
        one.plan();
        assert_eq!(first, contents(&one.out()), "over itself");
        assert_whole(&one.out());
    }
}

#[test]
fn the_sample_planned_twice_gives_the_same_bytes() {
    let job = Folder::sample();
    assert_eq!(job.plan().status, Some(0));
    let first = contents(&job.out());
    assert_eq!(job.plan().status, Some(0));
    assert_eq!(first, contents(&job.out()));
    assert_whole(&job.out());
}

#[test]
fn a_job_is_named_by_its_folder_or_its_file_from_anywhere() {
    let plans: Vec<_> =
        [("job", "."), ("job/job.yaml", "."), (".", "job"), ("job.yaml", "job"), ("../job/", "job")]
            .iter()
            .map(|(named, from)| {
                let job = Folder::base("base");
                let run = ended(command().args(["plan", named]).current_dir(job.place().join(from)));
                assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{named} from {from}");
                assert_whole(&job.out());
                contents(&job.out())
            })
            .collect();
    assert!(plans.windows(2).all(|pair| pair[0] == pair[1]));
}

#[test]
fn another_place_is_written_to_when_asked() {
    let job = Folder::base("base");
    let out = job.place().join("made/on/the/way");
    let arguments = ["plan".as_ref(), job.job().as_os_str(), "--out".as_ref(), out.as_os_str()];
    assert_eq!(run(&arguments).status, Some(0));
    assert_whole(&out);
    assert!(!job.out().exists());
}

#[test]
fn a_place_with_somebody_elses_files_is_refused_and_left_alone() {
    let job = Folder::base("base");
    let out = job.place().join("desk");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("notes.txt"), "mine").unwrap();
    let before = files(job.place());
    let arguments = ["plan".as_ref(), job.job().as_os_str(), "--out".as_ref(), out.as_os_str()];
    let run = run(&arguments);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(run.err.contains("notes.txt: found a file that borewright did not write"), "{}", run.err);
    assert_eq!(files(job.place()), before);
    // The job's own folder is such a place too.
    let arguments = ["plan".as_ref(), job.job().as_os_str(), "--out".as_ref(), job.job().as_os_str()];
    assert_eq!(crate::common::run(&arguments).status, Some(2));
    assert_eq!(files(job.place()), before);
    // A list changed by hand is somebody's work.
    assert_eq!(job.plan().status, Some(0));
    let list = files(&job.out()).into_iter().find(|name| name.ends_with(".nc")).unwrap();
    job.write(&format!("out/{list}"), "G0 Z5\n");
    let run = job.plan();
    assert_eq!(run.status, Some(2));
    assert!(run.err.contains("found a file changed since borewright wrote it"), "{}", run.err);
}

/// Where the plan stands: without an exchange of folders, as outside Linux, one killed in between stands aside, whole.
fn standing(out: &Path) -> PathBuf {
    if cfg!(target_os = "linux") || out.exists() {
        return out.to_owned();
    }
    let beside = fs::read_dir(out.parent().unwrap()).unwrap().map(|entry| entry.unwrap().path());
    let aside = |path: &PathBuf| path.to_string_lossy().ends_with("-was-out");
    beside
        .filter(aside)
        .max_by_key(|path| path.metadata().unwrap().modified().unwrap())
        .expect("no plan is left")
}

#[test]
fn killed_at_any_moment_it_leaves_a_whole_plan_behind() {
    let job = Folder::base("base");
    assert_eq!(job.plan().status, Some(0));
    let start = std::time::Instant::now();
    assert_eq!(job.plan().status, Some(0));
    let usual = start.elapsed();
    // Delays from a fixed sequence, spread over a little more than a usual run.
    let mut state: u32 = 0x2545_F491;
    for round in 0..30 {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        let share = f64::from(state % 1000) / 1000.0;
        // The tolerance changes from round to round, so that the plans differ.
        let tolerance = format!("tolerance: 0.0{}", 12 + round);
        let text = job.read("job.yaml");
        let at = text.find("tolerance: 0.0").unwrap();
        job.write(
            "job.yaml",
            format!("{}{tolerance} }}{}", &text[..at], &text[at + text[at..].find(" }").unwrap() + 2..]),
        );
        let mut child = Command::new(BINARY)
            .arg("plan")
            .arg(job.job())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        sleep(usual.mul_f64(share * 1.2));
        child.kill().unwrap();
        child.wait().unwrap();
        assert_whole(&standing(&job.out()));
    }
    // What was under way is left beside it at worst, and is in nobody's way.
    assert_eq!(job.plan().status, Some(0));
    assert_whole(&job.out());
}

#[test]
fn two_at_once_leave_one_whole_plan() {
    let job = Folder::base("base");
    let mut children: Vec<_> = (0..4)
        .map(|_| {
            Command::new(BINARY)
                .arg("plan")
                .arg(job.job())
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap()
        })
        .collect();
    for child in &mut children {
        child.wait().unwrap();
    }
    assert_whole(&job.out());
}

#[cfg(unix)]
#[test]
fn a_reader_that_leaves_early_is_no_panic() {
    let job = Folder::base("base");
    for words in ["check", "plan", "schema block", "completions bash", "--help"] {
        let mut command = Command::new(BINARY);
        command.args(words.split(' '));
        if matches!(words, "check" | "plan") {
            command.arg(job.job());
        }
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(!said.contains("panicked"), "{words}: {said}");
        assert!(matches!(output.status.code(), Some(0 | 1)), "{words}: {:?}", output.status);
    }
    assert_whole(&job.out());
}

#[cfg(unix)]
#[test]
fn a_place_that_cannot_be_written_is_a_failure_and_not_a_rejection() {
    use std::os::unix::fs::PermissionsExt;

    let job = Folder::base("base");
    let closed = job.place().join("closed");
    fs::create_dir(&closed).unwrap();
    fs::set_permissions(&closed, fs::Permissions::from_mode(0o555)).unwrap();
    if fs::write(closed.join("probe"), "").is_ok() {
        // Whoever may write anywhere learns nothing here.
        return;
    }
    let out = closed.join("out");
    let run = run(&["plan".as_ref(), job.job().as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!((run.status, run.out.as_str()), (Some(1), ""));
    assert!(!run.err.is_empty());
}

#[test]
fn another_jobs_plan_is_not_replaced_where_a_place_was_named() {
    let job = Folder::planned();
    let out = job.place().join("sheets");
    let plan = |out: Option<&std::path::Path>| {
        let mut plan = command();
        plan.arg("plan").arg(job.job());
        out.map(|out| plan.arg("--out").arg(out));
        ended(&mut plan)
    };
    assert_eq!(plan(Some(&out)).status, Some(0));
    let before = fs::read(out.join("plan.json")).unwrap();
    let number = job.read("job.yaml").lines().find(|l| l.starts_with("job:")).unwrap().to_owned();
    job.edit("job.yaml", &number, "job: \"another\"");
    let refused = plan(Some(&out));
    assert_eq!(refused.status, Some(2), "{}", refused.out);
    assert!(refused.err.contains("the plan of job"), "{}", refused.err);
    assert_eq!(fs::read(out.join("plan.json")).unwrap(), before);
    // Beside the job it came with a copied folder, or with the number that was mistyped.
    let own = plan(None);
    assert_eq!(own.status, Some(0), "{}", own.err);
    assert!(own.err.contains("it is replaced by this job's"), "{}", own.err);
}
