//! What every card keeps, over the jobs that strain a layout.

mod asked;
mod layout;
mod mended;
mod said;
mod steps;
mod units;

use std::path::PathBuf;

use borewright_planner::job::{Job, Limit, MeasuredSleeve, SheetUnits, Thickness};
use borewright_planner::plan::{InchesWord, ListUnits, Pass};
use borewright_planner::{Planning, load, plan_job};
use kurbo::{Rect, Shape as _};

use super::area::{BOTTOM, LEFT, RIGHT, TOP};
use crate::paper::canvas::{Canvas, Mark};
use crate::paper::text::Fonts;
use crate::sheets::sheet::Surveyed;
use crate::testing;

/// Plans of every kind of block, unit and name that cards are made for.
fn jobs() -> Vec<(&'static str, Planning)> {
    let in_units = |units| {
        let mut planning = testing::dunnock();
        planning.job.sheet_units = units;
        planning
    };
    let mut sixteen_both = testing::bittern();
    sixteen_both.job.sheet_units = SheetUnits::Both;
    let mut long = testing::dunnock();
    long.plan.job = "Saltmarsh Engine Works, rebuild after the flood, second visit, order 0412-B".to_owned();
    vec![
        ("v6", testing::dunnock()),
        ("inline", testing::wren()),
        ("sixteen", testing::bittern()),
        ("sixteen, both", sixteen_both),
        ("stop", testing::stopped()),
        ("hold", testing::held(false)),
        ("released", testing::held(true)),
        ("inch", in_units(SheetUnits::In)),
        ("both", in_units(SheetUnits::Both)),
        ("long number", long),
        ("hostile", testing::hostile()),
        ("forty passes", many_passes()),
        ("sample", sample(SheetUnits::Mm, |_| {})),
        ("sample, inch", sample(SheetUnits::In, |_| {})),
        ("sample, both", sample(SheetUnits::Both, |_| {})),
        (
            "sample, mm beside lists in inches",
            sample(SheetUnits::Mm, |job| job.machine.list_units = inches()),
        ),
        (
            "sample, inch beside lists in inches",
            sample(SheetUnits::In, |job| job.machine.list_units = inches()),
        ),
        (
            "sample, both beside lists in inches",
            sample(SheetUnits::Both, |job| job.machine.list_units = inches()),
        ),
        ("no walls", sample(SheetUnits::Mm, |job| job.set_ups.iter_mut().for_each(|s| s.walls.clear()))),
        (
            "stopped by its own readings",
            sample(SheetUnits::In, |job| {
                let asked = Limit { least_mm: 4.5, prefer_mm: None };
                job.limits.set("parent_wall", Some(asked));
            }),
        ),
        ("measured sleeves", sample(SheetUnits::Both, six_measured)),
    ]
}

/// The leaves of a job.
fn pages(planning: &Planning) -> (Vec<String>, lopdf::Document) {
    let fonts = Fonts::load().unwrap();
    let report = planning.surveyed();
    let surveyed = report.as_ref().map(|report| Surveyed { report, asked_on: Some(6) });
    let made = super::cards(planning, &planning.plan, surveyed, fonts).unwrap();
    let document = lopdf::Document::load_mem(&made.pdf).unwrap();
    let numbers: Vec<u32> = document.get_pages().keys().copied().collect();
    (numbers.iter().map(|n| document.extract_text(&[*n]).unwrap()).collect(), document)
}

/// The pages of the cards, then those of the figures.
fn leaves(planning: &Planning, fonts: &Fonts) -> Vec<Canvas> {
    let mut all = super::leaves(planning, &planning.plan, fonts).unwrap();
    all.extend(crate::sheets::figures::leaves(planning, fonts));
    all
}

/// The sample with its readings, in a unit, changed before it is planned.
fn sample(units: SheetUnits, change: fn(&mut Job)) -> Planning {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    let mut job = load(&path).unwrap_or_else(|faults| panic!("{faults}"));
    job.sheet_units = units;
    change(&mut job);
    plan_job(job, None).unwrap()
}

/// A sleeve for each bore, measured one by one.
fn six_measured(job: &mut Job) {
    let own = |n: u32| MeasuredSleeve {
        sleeve: 1,
        number: format!("S-{n}"),
        flange: Some(Thickness { mean_mm: 8.001, range_mm: [8.0, 8.002] }),
        outsides_mm: vec![89.8 + 0.001 * f64::from(n), 89.0, 88.6 - 0.001 * f64::from(n)],
        apart_mm: 0.0,
    };
    job.measured = (1..=6).map(own).collect();
}

/// Lists in inches.
pub(super) fn inches() -> ListUnits {
    ListUnits::In(InchesWord::G20)
}

/// Forty passes a bore and more: small steps down of every feature.
fn many_passes() -> Planning {
    let mut planning = testing::dunnock();
    let more: Vec<Pass> = (0..40_u32)
        .flat_map(|n| {
            planning.plan.passes.iter().take(3).map(move |pass| {
                let diameter = pass.diameter + 0.1 * f64::from(n);
                Pass { step: 1000 + n, diameter, stop: None, stop_number: None, ..pass.clone() }
            })
        })
        .collect();
    planning.plan.passes.extend(more);
    planning
}

#[test]
fn nothing_leaves_the_area_that_prints_on_a4_and_letter_and_no_text_lies_over_another() {
    let fonts = Fonts::load().unwrap();
    for (name, planning) in jobs() {
        for (page, canvas) in leaves(&planning, fonts).iter().enumerate() {
            inside(canvas, fonts, &format!("{name}, page {}", page + 1));
            if name != "hostile" {
                apart(canvas, fonts, &format!("{name}, page {}", page + 1));
            }
        }
    }
}

#[test]
fn no_figure_is_cut_short_and_the_unit_stays_in_its_frame() {
    let fonts = Fonts::load().unwrap();
    for (name, planning) in jobs().into_iter().filter(|(name, _)| *name != "hostile") {
        for (page, canvas) in leaves(&planning, fonts).iter().enumerate() {
            for mark in &canvas.marks {
                let Mark::Text { size, weight, text, .. } = mark else { continue };
                // A name may be cut; what is cut within a figure has no letter since its last space.
                let last = text.rsplit(' ').next().unwrap_or_default();
                let cut = text.ends_with('…') && !last.chars().any(char::is_alphabetic);
                assert!(!cut, "{name}, page {}: {text:?}", page + 1);
                if ["mm", "inch", "mm (inch)"].contains(&text.as_str()) {
                    assert!(fonts.width(text, *weight, *size) <= 54.0, "{name}: {text:?} at {size}");
                }
            }
        }
    }
}

fn inside(canvas: &Canvas, fonts: &Fonts, name: &str) {
    for mark in &canvas.marks {
        let (bounds, what) = match mark {
            Mark::Text { at, size, weight, text } => {
                let width = fonts.width(text, *weight, *size);
                (Rect::new(at.x, at.y - 0.75 * size, at.x + width, at.y + 0.24 * size), text.clone())
            }
            Mark::Stroke { path, .. } | Mark::Fill { path, .. } => (path.bounding_box(), "a line".to_owned()),
        };
        let inside = bounds.x0 >= LEFT - 1.0
            && bounds.x1 <= RIGHT + 1.0
            && bounds.y0 >= TOP - 1.0
            && bounds.y1 <= BOTTOM + 1.0;
        assert!(inside, "{name}: {what:?} at {bounds:?}");
    }
}

fn apart(canvas: &Canvas, fonts: &Fonts, name: &str) {
    let texts: Vec<(Rect, &str)> = canvas
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Text { at, size, weight, text } => {
                let width = fonts.width(text, *weight, *size);
                // Capitals and figures: what runs below a line may touch the next one's accents.
                Some((Rect::new(at.x, at.y - 0.70 * size, at.x + width, at.y), text.as_str()))
            }
            _ => None,
        })
        .collect();
    for (i, (a, first)) in texts.iter().enumerate() {
        for (b, second) in texts.iter().skip(i + 1) {
            let over = a.intersect(*b);
            let meet = over.width() > 0.5 && over.height() > 0.5;
            assert!(!meet, "{name}: {first:?} and {second:?}");
        }
    }
}

#[test]
fn an_inch_job_has_no_bare_millimetre_on_any_card() {
    let mut planning = testing::dunnock();
    planning.job.sheet_units = SheetUnits::In;
    planning.job.machine.list_units = inches();
    for (number, page) in pages(&planning).0.iter().enumerate() {
        let bare = page.split(|c: char| !c.is_alphanumeric()).any(|word| word == "mm");
        assert!(!bare, "page {}: {page}", number + 1);
    }
}

#[test]
fn every_card_carries_job_state_fingerprint_units_and_its_number() {
    for (name, planning) in jobs().into_iter().filter(|(name, _)| !["hostile", "long number"].contains(name))
    {
        let (pages, _) = pages(&planning);
        let state = planning.plan.verdict.word().to_uppercase();
        for (number, page) in pages.iter().enumerate() {
            let grouped = crate::said::fingerprint::grouped(&planning.plan.fingerprint, 3);
            for word in ["0412", state.as_str(), grouped.as_str(), "card ", "program ", "lengths in"] {
                assert!(page.contains(word), "{name} page {}: no {word:?} in {page}", number + 1);
            }
        }
    }
}

#[test]
fn the_file_names_each_card_labels_its_pages_and_prints_at_its_true_size() {
    let (pages, document) = pages(&testing::dunnock());
    let catalog = document.catalog().unwrap();
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
    let labels =
        catalog.get(b"PageLabels").unwrap().as_dict().unwrap().get(b"Nums").unwrap().as_array().unwrap();
    let outline = document.get_dictionary(catalog.get(b"Outlines").unwrap().as_reference().unwrap()).unwrap();
    let count = outline.get(b"Count").unwrap().as_i64().unwrap();
    assert_eq!(labels.len(), usize::try_from(count).unwrap() * 2);
    assert!(pages[0].contains(&format!("card 1 of {count}")), "{}", pages[0]);
    let view = catalog.get(b"ViewerPreferences").unwrap().as_dict().unwrap();
    assert_eq!(view.get(b"PrintScaling").unwrap().as_name().unwrap(), b"None");
}

#[test]
fn a_job_at_stop_or_held_as_a_whole_prints_the_first_card_alone() {
    for planning in [testing::stopped(), testing::held(false)] {
        let (pages, _) = pages(&planning);
        assert!(pages.iter().all(|p| p.contains("card 1 of 1") && p.contains("NOT FOR CUTTING")));
    }
    let (pages, _) = pages(&testing::held(true));
    assert!(pages.iter().all(|p| p.contains("M. Teal")));
    // Two banks: decide, set-up and cut of each, pocket, fit or finish as the passes have them.
    assert!(
        pages.iter().any(|p| p.contains("Set-up: bank right"))
            && pages.iter().any(|p| p.contains("Cut: bank left"))
    );
}
