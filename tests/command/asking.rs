//! `explain`: how its questions are put, and what a program gets.

use serde_json::Value;

use crate::common::{Folder, Run, command, ended};

fn explain(job: &Folder, more: &[&str]) -> Run {
    ended(command().arg("explain").arg(job.job()).args(more))
}

#[test]
fn a_question_in_quotes_is_the_same_question() {
    let job = Folder::base("base");
    let plain = explain(&job, &["limit", "parent_wall", "1"]);
    assert_eq!(plain.status, Some(0), "{}", plain.err);
    for words in [vec!["limit parent_wall 1"], vec!["limit parent wall 1"], vec!["limit", "parent wall", "1"]]
    {
        assert_eq!(explain(&job, &words).out, plain.out, "{words:?}");
    }
    assert_eq!(explain(&job, &["fit upper register"]).status, Some(0));
}

#[test]
fn json_has_its_format_with_and_without_a_question() {
    let job = Folder::base("base");
    let json = |more: &[&str]| -> Value {
        let run = explain(&job, &[more, &["--format", "json"]].concat());
        assert_eq!(run.status, Some(0), "{}", run.err);
        serde_json::from_str(&run.out).unwrap()
    };
    let asked = json(&["limit", "parent_wall", "1"]);
    assert_eq!(asked["format"], "borewright/explained/1");
    assert_eq!(asked["accounts"][0]["asked"], "limit parent_wall 1");
    let all = json(&[]);
    assert_eq!(all["format"], "borewright/explained/1");
    assert_eq!(all["accounts"].as_array().map(Vec::len), Some(0));
    let can = all["can_be_asked"].as_array().unwrap();
    assert!(can.iter().any(|line| line.as_str().unwrap().starts_with("limit NAME N: ")), "{can:?}");
}
