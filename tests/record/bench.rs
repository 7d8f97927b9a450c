//! A planned job and a way to record on it.

use std::path::PathBuf;

use borewright_planner::plan::check::{Check, What};
use borewright_planner::record::{Log, Whose, kept_in, kept_lines};

use crate::common::{Folder, Run, command, ended, run};

pub struct Bench {
    pub folder: Folder,
}

impl Bench {
    /// The sample job, planned.
    pub fn planned() -> Self {
        Self::planned_with(|_| {})
    }

    /// The same with something changed first.
    pub fn planned_with(change: impl Fn(&Folder)) -> Self {
        let folder = Folder::sample();
        change(&folder);
        let made = run(&["plan".as_ref(), folder.job().as_os_str()]);
        assert!(matches!(made.status, Some(0 | 3)), "{}{}", made.out, made.err);
        Self { folder }
    }

    pub fn file(&self) -> PathBuf {
        self.folder.job().join("readings/cut.csv")
    }

    pub fn text(&self) -> String {
        std::fs::read_to_string(self.file()).unwrap_or_default()
    }

    /// `record JOB WORDS…`, the words parted at blanks.
    pub fn record(&self, words: &str) -> Run {
        let job = self.folder.job().as_os_str().to_owned();
        ended(command().arg("record").arg(job).args(words.split_whitespace()))
    }

    /// The sample job, planned, and each touch check read as asked: no list is cut before.
    pub fn touched() -> Self {
        let bench = Self::planned();
        bench.touch();
        bench
    }

    /// Reads each touch check as asked.
    pub fn touch(&self) {
        self.touch_first(usize::MAX);
    }

    /// The same of so many touch checks in the order of work: lists before a later one are past.
    pub fn touch_first(&self, number: usize) {
        for check in self.checks().iter().filter(|c| c.what == What::Touch).take(number) {
            if self.text().lines().any(|l| l.starts_with(&format!("{},", check.check))) {
                continue;
            }
            let rows = check.cylinders.iter().map(|at| {
                let of = at.cylinder.map_or_else(|| "-".to_owned(), |n| n.to_string());
                let asked = at.readings.iter().filter(|a| a.waits);
                let said: Vec<String> = asked.map(|a| format!("{:.3} mm", a.expected.unwrap())).collect();
                format!("{of}: {}\n", said.join("; "))
            });
            let page = rows.collect::<String>();
            let job = self.folder.job().as_os_str().to_owned();
            let check = check.check.to_string();
            let words = ["--page", "-", "--by", "KP"];
            let run =
                ended(command().arg("record").arg(job).arg(check).args(words).write_stdin(page.clone()));
            assert_eq!(run.status, Some(0), "{page}: {}{}", run.out, run.err);
        }
    }

    /// Keeps beside the record what it ends in now, as of one that was written so.
    pub fn keep(&self) {
        let last = Log::read(self.text().as_bytes()).last_sum;
        for path in kept_in(self.folder.job()) {
            std::fs::write(path, kept_lines(&[(last.clone(), Whose::numbered("0412"))])).unwrap();
        }
    }

    /// Takes a line back by name and with a reason.
    pub fn strike(&self, line: &str, why: &str) -> Run {
        let job = self.folder.job().as_os_str().to_owned();
        ended(command().arg("record").arg(job).args(["strike", line, "--because", why, "--by", "KP"]))
    }

    /// `record JOB` with these lines typed.
    pub fn prompt(&self, typed: &str) -> Run {
        let job = self.folder.job().as_os_str().to_owned();
        ended(command().arg("record").arg(job).args(["--by", "KP"]).write_stdin(typed.to_owned()))
    }

    pub fn checks(&self) -> Vec<Check> {
        let text = std::fs::read_to_string(self.folder.job().join("out/plan.json")).unwrap();
        let plan: serde_json::Value = serde_json::from_str(&text).unwrap();
        serde_json::from_value(plan["checks"].clone()).unwrap()
    }

    /// The check of a part of the pocket, on the left bank.
    pub fn check(&self, what: What, feature: &str) -> Check {
        let of = |c: &Check| c.what == what && c.feature == feature && c.bank == "left";
        self.checks().into_iter().find(of).unwrap()
    }
}
