//! The shipped sample, copied and spoiled for one test, and what is told of a plan that must not end at go.

use std::fs;
use std::path::Path;

use borewright_planner::plan::moves::MoveList;
use borewright_planner::plan::{Subject, Verdict};
use borewright_planner::{Planning, load, plan_job};

#[path = "../common/copy.rs"]
mod copy;
use copy::copy;

pub const JOB: &str = "jobs/petrel-0412/job.yaml";
pub const W90: &str = "sleeves/w90.yaml";
pub const BLOCK: &str = "petrel-90.yaml";
pub const SHOP: &str = "shop.yaml";
pub const MACHINE: &str = "machines/column-mill.yaml";

/// Only the flanged wet sleeve, so that no other one takes its place.
pub const ONLY_W90: Edit<'static> = (JOB, "../../sleeves/d86.yaml, ", "");

/// A file, what stands in it, and what stands there instead, everywhere.
pub type Edit<'a> = (&'a str, &'a str, &'a str);

/// The shipped blocks, copied into a folder.
pub fn copied(to: &Path) {
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks"), to);
}

/// The sample, changed in the folder of its blocks.
pub fn changed(change: impl FnOnce(&Path)) -> Planning {
    let dir = tempfile::tempdir().unwrap();
    copied(dir.path());
    change(dir.path());
    plan_job(load(&dir.path().join(JOB)).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
}

/// The sample with files of its own beside the job, every `from` of a file become `to`; each must be there.
pub fn sample_with(files: &[(&str, &str)], edits: &[Edit<'_>]) -> Planning {
    changed(|blocks| {
        for (name, text) in files {
            fs::write(blocks.join(JOB).parent().unwrap().join(name), text).unwrap();
        }
        for (file, from, to) in edits {
            let path = blocks.join(file);
            let text = fs::read_to_string(&path).unwrap();
            assert!(text.contains(from), "{file}: {from}");
            fs::write(&path, text.replace(from, to)).unwrap();
        }
    })
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
    for of in planning.plan.findings.iter().filter(|f| f.code == code && f.verdict != Verdict::Go) {
        // What a stage lacks leaves the stages before it; whose readings a set-up's doubt is of is told with it.
        let left = match &of.subject {
            Subject::SetUp(_) => true,
            Subject::Bank(_) => ["no_tool", "too_many_passes", "allowance"].contains(&code),
            _ => false,
        };
        let concerned = |l: &&MoveList| l.cylinders.iter().any(|n| of.subject.concerns(*n, &l.bank));
        let own = planning.lists.iter().filter(concerned).filter(|_| !left);
        let listed: Vec<String> = own.map(|l| l.number.to_string()).collect();
        assert!(listed.is_empty(), "{code} of {}: lists {listed:?} are written all the same", of.subject);
    }
}

/// The sample with the flanged wet sleeve alone.
fn with_one_sleeve(edits: &[Edit<'_>]) -> Planning {
    let all: Vec<Edit<'_>> = std::iter::once(ONLY_W90).chain(edits.iter().copied()).collect();
    sample(&all)
}

/// With the flanged wet sleeve alone it does not end at go, and this is among the reasons.
#[track_caller]
pub fn held(edits: &[Edit<'_>], code: &str) {
    held_by(&with_one_sleeve(edits), code);
}

/// With the flanged wet sleeve alone it goes, and is cut.
#[track_caller]
pub fn let_be(edits: &[Edit<'_>]) {
    goes(&with_one_sleeve(edits));
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
