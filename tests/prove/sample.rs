//! The sample job, planned once.

use std::sync::OnceLock;

use borewright_planner::Planning;
use borewright_planner::prove::{Proof, Reference, prove};

use crate::common::root;

/// A plan and its files.
pub struct Sample {
    pub planning: Planning,
    pub plan: String,
    /// Name, words and table of each list.
    pub lists: Vec<(String, String, String)>,
}

/// The sample as it is planned.
pub fn sample() -> &'static Sample {
    static SAMPLE: OnceLock<Sample> = OnceLock::new();
    SAMPLE.get_or_init(|| {
        let job = borewright_planner::load(&root().join("blocks/jobs/petrel-0412")).unwrap();
        of(borewright_planner::plan_job(job, None).unwrap())
    })
}

/// The files of any planning.
pub fn of(planning: Planning) -> Sample {
    let bundle = borewright_output::bundle(&planning).unwrap();
    let text = |path: &str| {
        let artifact = bundle.artifacts.iter().find(|a| a.path == path).unwrap();
        String::from_utf8(artifact.bytes.clone()).unwrap()
    };
    let lists = bundle.plan.lists.iter().map(|l| l.file.clone());
    let lists = lists.map(|file| (file.clone(), text(&file), text(&file.replace(".nc", ".csv"))));
    Sample { plan: text("plan.json"), lists: lists.collect(), planning }
}

impl Sample {
    /// The words of the list whose name holds this.
    pub fn list(&self, name: &str) -> &str {
        &self.lists.iter().find(|l| l.0.contains(name)).unwrap_or_else(|| panic!("{name}")).1
    }

    pub fn reference(&self) -> Reference {
        Reference::parse("plan.json", &self.plan).unwrap()
    }

    /// The plan without the lines and sums of its lists: what is then caught is caught by what a list does.
    pub fn bare(&self) -> Reference {
        Reference::parse("plan.json", &bare(&self.plan).to_string()).unwrap()
    }

    /// Proves words by what they do.
    pub fn prove(&self, words: &str) -> Proof {
        prove(words, None, "edited.nc", &self.bare())
    }
}

/// A plan without the lines and sums of its lists.
pub fn bare(plan: &str) -> serde_json::Value {
    let mut plan: serde_json::Value = serde_json::from_str(plan).unwrap();
    plan.as_object_mut().unwrap().remove("files");
    for list in plan["lists"].as_array_mut().unwrap() {
        list.as_object_mut().unwrap().remove("lines");
    }
    plan
}

/// The flaws, a line each.
pub fn said(proof: &Proof) -> String {
    proof.flaws.iter().map(|f| format!("{f} [{}]\n", f.code)).collect()
}

#[test]
fn every_list_of_the_sample_proves_with_its_table() {
    let sample = sample();
    assert_eq!(sample.lists.len(), 6);
    for (name, words, table) in &sample.lists {
        let proof = prove(words, Some(table), name, &sample.reference());
        assert!(proof.proven && proof.notes.is_empty(), "{name}: {}", said(&proof));
        let passes = sample.planning.plan.passes.iter();
        let own = passes.filter(|p| name.contains(p.stage.word()) && name.contains(&p.bank)).count();
        assert_eq!((proof.features, &proof.list), (own, name));
        assert!(proof.largest_difference > 0.0 && proof.largest_difference <= 0.0005 + 1e-6, "{name}");
    }
}

#[test]
fn a_list_without_spaces_or_with_other_line_ends_is_the_same_list() {
    let sample = sample();
    let words = sample.list("10-rough");
    let close = |line: &str| if line.starts_with('(') { line.to_owned() } else { line.replace(' ', "") };
    let tight: String = words.lines().map(|l| close(l) + "\r\n").collect();
    for text in [tight, format!("\n{words}\n"), words.replace(" G1 ", " G01 ")] {
        let proof = sample.prove(&text);
        assert!(proof.proven, "{}", said(&proof));
        assert_eq!(proof.notes.len(), 1, "the sum is no longer that of the plan");
    }
}
