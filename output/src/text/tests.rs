//! What every page for a terminal keeps, over the jobs that strain it.

use std::path::PathBuf;

use borewright_planner::job::{Job, Limit, SheetUnits};
use borewright_planner::report::{SurveyReport, report};
use borewright_planner::{Planning, load, plan_job};

use super::terminal::COLUMNS;
use super::{Terminal, change_card, changes, check_page, stale, summary, survey_page, wrapped};
use crate::{Bundle, testing};

fn sample(change: impl Fn(&mut Job)) -> Job {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    let mut job = load(&path).unwrap_or_else(|faults| panic!("{faults}"));
    change(&mut job);
    job
}

/// The sample as it is, at stop by a limit, at hold without walls, and with readings that are hard to believe.
fn jobs() -> Vec<Job> {
    vec![
        sample(|_| {}),
        sample(|job| {
            job.limits.set("parent_wall", Some(Limit { least_mm: 4.5, prefer_mm: None }));
            job.limits.set("sleeve_wall", Some(Limit { least_mm: 2.5, prefer_mm: Some(3.0) }));
        }),
        sample(|job| job.set_ups.iter_mut().for_each(|s| s.walls.clear())),
        sample(|job| {
            // One diameter typed two too small: told, and in doubt.
            for bore in job.set_ups.iter_mut().flat_map(|s| &mut s.bores).filter(|b| b.cylinder == 3) {
                bore.diameter_mm -= 2.0;
            }
        }),
    ]
}

/// A job planned, and a plan of before that is another in all that is compared.
struct Planned {
    report: Option<SurveyReport>,
    planning: Planning,
    bundle: Bundle,
    before: String,
}

impl Planned {
    fn of(job: Job) -> Self {
        let report = report(&job).ok();
        let planning = plan_job(job, None).unwrap();
        let bundle = Bundle { plan: planning.plan.clone(), artifacts: Vec::new() };
        let mut before = bundle.plan.clone();
        before.fingerprint = "0".repeat(64);
        for cylinder in &mut before.cylinders {
            cylinder.planned.x += 0.123;
        }
        for pass in &mut before.passes {
            pass.diameter += 0.234;
            pass.stock.max += 0.05;
        }
        for asked in before.checks.iter_mut().flat_map(|c| &mut c.cylinders).flat_map(|c| &mut c.readings) {
            asked.expected = asked.expected.map(|mm| mm + 0.01);
        }
        let before = String::from_utf8(crate::plan_json(&before).unwrap()).unwrap();
        Self { report, planning, bundle, before }
    }

    /// Every page that `check`, `survey` and `plan` print of it.
    fn pages(&self, t: &Terminal) -> Vec<String> {
        let (planning, plan) = (&self.planning, &self.bundle.plan);
        let mut pages: Vec<String> = self.report.iter().map(|r| survey_page(r, 140.0, t, "JOB")).collect();
        pages.extend([
            check_page(planning, t, "JOB"),
            summary(planning, &self.bundle, t, "JOB/out"),
            changes(&self.before, planning, plan, t),
            change_card(&self.before, planning, plan, t),
            stale(&self.before, plan, t),
        ]);
        pages
    }
}

#[test]
fn no_line_is_wider_than_the_terminal_and_every_figure_stands_apart() {
    for (number, job) in jobs().into_iter().map(Planned::of).enumerate() {
        for (units, columns) in testing::terminals() {
            for page in job.pages(&Terminal::new(units, columns, true)) {
                for line in page.lines() {
                    assert!(line.chars().count() <= columns, "job {number} at {columns}: {line}");
                    // Two figures that touch would show two points in one word.
                    let touch = |word: &str| word.contains("..") || word.matches('.').count() > 1;
                    let path = |word: &str| word.contains('/') || word.ends_with('.') || word.contains("..");
                    let bad = line.split_whitespace().find(|w| touch(w) && !path(w));
                    assert!(bad.is_none(), "job {number} at {columns}: {bad:?} in {line}");
                }
            }
        }
    }
}

/// A word of digits with a point: a figure of so many millimetres that no inch figure of a block looks like it.
fn long_figure(word: &str) -> bool {
    let word = word.trim_matches(|c: char| !c.is_ascii_digit());
    word.contains('.') && word.parse::<f64>().is_ok_and(|v| v >= 30.0)
}

#[test]
fn an_inch_shop_reads_no_millimetre_on_any_page() {
    for (number, mut job) in jobs().into_iter().enumerate() {
        job.sheet_units = SheetUnits::In;
        let job = Planned::of(job);
        for notes in [false, true] {
            for page in job.pages(&Terminal::new(SheetUnits::In, 80, notes)) {
                let mut words = page.split(|c: char| !c.is_alphanumeric());
                assert!(!words.any(|w| w == "mm"), "job {number}: {page}");
                let lines =
                    page.lines().filter(|l| ["degrees", "yield", "GPa", "°F"].iter().all(|w| !l.contains(w)));
                let bare = lines.flat_map(str::split_whitespace).find(|w| long_figure(w));
                assert!(bare.is_none(), "job {number}: {bare:?} in {page}");
            }
        }
    }
}

#[test]
fn the_verdict_stands_first_then_the_tightest_limit_then_what_to_do() {
    let t = Terminal::new(SheetUnits::Mm, 80, false);
    for job in jobs() {
        let Planned { planning, bundle, .. } = Planned::of(job);
        let word = planning.plan.verdict.word().to_uppercase();
        for page in [check_page(&planning, &t, "JOB"), summary(&planning, &bundle, &t, "JOB/out")] {
            let starts: Vec<&str> = page.lines().filter(|l| !l.starts_with(' ')).take(3).collect();
            assert!(starts[0].starts_with(&format!("{word}: job 0412")), "{page}");
            assert!(starts[1].starts_with("tightest: ") && starts[2].starts_with("next: "), "{page}");
        }
    }
}

#[test]
fn notes_stand_behind_their_own_word_and_are_counted_without_it() {
    let planning = plan_job(sample(|_| {}), None).unwrap();
    let without = check_page(&planning, &Terminal::new(SheetUnits::Mm, 80, false), "JOB");
    let with = check_page(&planning, &Terminal::new(SheetUnits::Mm, 80, true), "JOB");
    assert!(
        !without.contains("not verified") && without.contains("notes not shown: --notes shows them"),
        "{without}"
    );
    assert!(with.contains("not verified") && !with.contains("not shown"), "{with}");
    // What a fit does at work is no note of a figure's origin: it is told in any case.
    assert!(without.contains("at work the fit may be open"), "{without}");
}

#[test]
fn long_text_is_wrapped_within_the_terminal() {
    let text = wrapped("  3  ", &"a fairly ordinary word ".repeat(20), 5);
    assert!(text.lines().all(|line| line.chars().count() <= COLUMNS));
    assert!(text.lines().skip(1).all(|line| line.starts_with("     ")));
    // A word longer than a line goes on below.
    let text = wrapped(&"w".repeat(200), "", 2);
    assert!(
        text.lines().all(|line| line.chars().count() <= COLUMNS) && text.matches('w').count() == 200,
        "{text}"
    );
}
