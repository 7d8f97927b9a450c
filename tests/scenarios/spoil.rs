//! The shipped sample, copied and spoiled for one test, and what is told of a plan that must not end at go.

use std::fs;
use std::path::Path;

use borewright_planner::plan::Verdict;
use borewright_planner::{Planning, load, plan_job};

pub const JOB: &str = "jobs/petrel-0412/job.yaml";
pub const W90: &str = "sleeves/w90.yaml";
pub const BLOCK: &str = "petrel-90.yaml";
pub const SHOP: &str = "shop.yaml";
pub const MACHINE: &str = "machines/column-mill.yaml";

/// Only the flanged wet sleeve, so that no other one takes its place.
pub const ONLY_W90: Edit<'static> = (JOB, "../../sleeves/d86.yaml, ", "");

/// A file, what stands in it, and what stands there instead, everywhere.
pub type Edit<'a> = (&'a str, &'a str, &'a str);

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_name() == "out" {
            continue;
        }
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// The sample with files of its own beside the job, every `from` of a file become `to`; each must be there.
pub fn sample_with(files: &[(&str, &str)], edits: &[Edit<'_>]) -> Planning {
    let dir = tempfile::tempdir().unwrap();
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks"), dir.path());
    for (name, text) in files {
        fs::write(dir.path().join(JOB).parent().unwrap().join(name), text).unwrap();
    }
    for (file, from, to) in edits {
        let path = dir.path().join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{file}: {from}");
        fs::write(&path, text.replace(from, to)).unwrap();
    }
    plan_job(load(&dir.path().join(JOB)).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
}

/// The same with no file of its own.
pub fn sample(edits: &[Edit<'_>]) -> Planning {
    sample_with(&[], edits)
}

/// What holds or stops it: codes of findings, and limits of the sleeve.
pub fn against(planning: &Planning) -> Vec<String> {
    let findings = planning.plan.findings.iter().filter(|f| f.verdict != Verdict::Go).map(|f| f.code);
    let sleeves = planning.plan.sleeves.iter().filter(|s| s.chosen);
    let limits = sleeves.flat_map(|s| &s.fit.sleeve_limits).filter(|l| l.verdict != Verdict::Go);
    findings.chain(limits.map(|l| l.limit)).map(str::to_owned).collect()
}

/// It does not end at go, and this is among the reasons.
#[track_caller]
pub fn held_by(planning: &Planning, code: &str) {
    let codes = against(planning);
    assert!(planning.plan.verdict != Verdict::Go, "ends at go; {codes:?}");
    assert!(codes.iter().any(|c| c == code), "not by {code}: {codes:?}");
    // A hold that lets its bores be cut is none.
    let lists = || planning.lists.iter();
    for of in planning.plan.findings.iter().filter(|f| f.code == code && f.verdict != Verdict::Go) {
        let listed: Vec<String> = match of.subject.split_once(' ') {
            Some(("cylinder", n)) => {
                let n: u32 = n.parse().unwrap();
                lists().filter(|l| l.cylinders.contains(&n)).map(|l| l.number.to_string()).collect()
            }
            Some(("cylinders", all)) => {
                let all: Vec<u32> = all.split(", ").filter_map(|n| n.parse().ok()).collect();
                let own = lists().filter(|l| l.cylinders.iter().any(|n| all.contains(n)));
                own.map(|l| l.number.to_string()).collect()
            }
            Some(("bank", bank)) => {
                let missing = ["no_tool", "too_many_passes", "allowance"].contains(&code);
                lists().filter(|l| l.bank == bank && !missing).map(|l| l.number.to_string()).collect()
            }
            Some(("set-up", _)) => Vec::new(),
            _ => lists().map(|l| l.number.to_string()).collect(),
        };
        assert!(listed.is_empty(), "{code} of {}: lists {listed:?} are written all the same", of.subject);
    }
}

/// The codes that hold a job, no more than once each.
pub fn codes(planning: &Planning) -> Vec<&'static str> {
    let findings = planning.plan.findings.iter();
    let mut codes: Vec<&'static str> =
        findings.filter(|f| f.verdict != Verdict::Go).map(|f| f.code).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

/// It goes, and is cut.
#[track_caller]
pub fn goes(planning: &Planning) {
    assert_eq!(planning.plan.verdict, Verdict::Go, "{:?}", planning.plan.findings);
    assert!(!planning.lists.is_empty());
}
