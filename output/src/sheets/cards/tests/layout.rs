//! Pages as a reader meets them: none half empty without need, no heading alone at its end.

use borewright_planner::Planning;
use borewright_planner::job::{SheetUnits, WallReading};
use borewright_planner::plan::Verdict;
use kurbo::{Point, Rect, Shape as _};

use super::super::area::{BOTTOM, TOP};
use super::{Fonts, jobs, sample};
use crate::paper::canvas::{Canvas, Mark};
use crate::paper::text::Weight;

/// The foot begins so far above the lower edge, pt.
const FOOT: f64 = 26.0;
/// The head ends so far below the upper edge, pt.
const HEAD: f64 = 76.0;
/// What is taken of a page that is not a card's only one, at the least: what stays together, and the next of it no longer fits.
const LEAST: f64 = 0.35;
/// Headings within a page, pt.
const HEADING: f64 = 13.0;

/// "page 2 of 4" of a card's page; the one page of a card has none.
fn place(canvas: &Canvas) -> (u32, u32) {
    let said = canvas.marks.iter().find_map(|mark| match mark {
        Mark::Text { text, .. } => text.split_once(", page ").map(|(_, rest)| rest.to_owned()),
        _ => None,
    });
    let parsed = said.and_then(|s| {
        let (own, all) = s.split_once(" of ")?;
        own.parse().ok().zip(all.parse().ok())
    });
    parsed.unwrap_or((1, 1))
}

/// Texts between head and foot: height, weight and size.
fn texts(canvas: &Canvas) -> Vec<(f64, Weight, f64, &str)> {
    let own = canvas.marks.iter().filter_map(|mark| match mark {
        Mark::Text { at, size, weight, text } => Some((at.y, *weight, *size, text.as_str())),
        _ => None,
    });
    own.filter(|(y, ..)| *y > TOP + HEAD && *y < BOTTOM - FOOT).collect()
}

#[test]
fn no_page_is_half_empty_without_need_and_none_ends_with_a_heading() {
    let fonts = Fonts::load().unwrap();
    let mut emptier = Vec::new();
    for (name, planning) in jobs().into_iter().filter(|(name, _)| *name != "hostile") {
        let leaves = super::super::leaves(&planning, &planning.plan, fonts).unwrap();
        for (page, canvas) in leaves.iter().enumerate() {
            let (own, all) = place(canvas);
            let texts = texts(canvas);
            let boxes = canvas.marks.iter().filter_map(|mark| match mark {
                Mark::Stroke { path, .. } => {
                    Some(path.bounding_box().y1).filter(|y| *y < BOTTOM - FOOT - 8.0)
                }
                _ => None,
            });
            let lowest = texts.iter().map(|t| t.0).chain(boxes).fold(TOP + HEAD, f64::max);
            let filled = (lowest - TOP - HEAD) / (BOTTOM - FOOT - TOP - HEAD);
            let at = format!("{name}, page {}, {own} of {all}", page + 1);
            if all > 1 && filled <= LEAST {
                emptier.push(format!("{at} is filled to {filled:.2}"));
            }
            for (y, _, _, heading) in texts
                .iter()
                .filter(|(_, weight, size, _)| *weight == Weight::Bold && (*size - HEADING).abs() < 0.01)
            {
                // A step's number has the same size and stands beside its words.
                if heading.parse::<u32>().is_ok() {
                    continue;
                }
                assert!(texts.iter().any(|t| t.0 > y + 1.0), "{at}: {heading:?} stands alone");
            }
        }
    }
    assert!(emptier.is_empty(), "{}", emptier.join("\n"));
}

/// Frames that nothing stands in, but for small squares to tick and what holds a picture.
fn boxes(canvas: &Canvas) -> Vec<Rect> {
    let frames = canvas.marks.iter().filter_map(|mark| match mark {
        Mark::Stroke { path, .. } if path.elements().len() == 5 => Some(path.bounding_box()),
        _ => None,
    });
    let all =
        frames.filter(|r| r.height() > 12.0 && r.height() < 40.0 && r.width() < 200.0 && r.width() > 12.0);
    let texts: Vec<Point> = canvas
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Text { at, .. } => Some(*at),
            _ => None,
        })
        .collect();
    all.filter(|frame| !texts.iter().any(|at| frame.contains(*at))).collect()
}

#[test]
fn boxes_for_figures_have_room_for_a_pencil_in_a_glove() {
    // 8 by 18 mm: six figures; names and a time of day in less.
    let [high, wide] = [8.0, 18.0].map(|mm: f64| mm * 72.0 / 25.4);
    let fonts = Fonts::load().unwrap();
    let mut seen = 0;
    for (name, planning) in
        jobs().into_iter().filter(|(name, _)| name.starts_with("sample") || *name == "inline")
    {
        for (page, canvas) in
            super::super::leaves(&planning, &planning.plan, fonts).unwrap().iter().enumerate()
        {
            for frame in boxes(canvas) {
                let named = [34.0, 48.0].iter().any(|wide| (frame.width() - wide).abs() < 0.5);
                assert!(
                    frame.height() >= high && (frame.width() >= wide || named),
                    "{name}, page {}: {frame:?}",
                    page + 1
                );
                seen += 1;
            }
        }
    }
    assert!(seen > 2000, "{seen}");
}

/// A check is torn where its boxes go on under its title on another page though a page has room for all of it.
#[test]
fn no_check_is_torn_that_a_page_has_room_for() {
    let fonts = Fonts::load().unwrap();
    for (name, planning) in jobs().into_iter().filter(|(name, _)| *name != "hostile") {
        for (page, canvas) in
            super::super::leaves(&planning, &planning.plan, fonts).unwrap().iter().enumerate()
        {
            let torn = texts(canvas).into_iter().filter(|t| t.3.ends_with("(continued)"));
            for (_, _, _, title) in torn {
                // Grids of eight bores are longer than a page, and nothing else of these jobs is.
                let is_long = name.starts_with("sixteen") && title.contains("finished bore");
                assert!(is_long || !title.starts_with("CHECK"), "{name}, page {}: {title}", page + 1);
            }
        }
    }
}

#[test]
fn cards_of_the_sample_in_both_units_are_little_longer_than_in_one() {
    let fonts = Fonts::load().unwrap();
    let pages = |units: SheetUnits| {
        let planning = sample(units, |_| {});
        let leaves = super::super::leaves(&planning, &planning.plan, fonts).unwrap();
        ["Cut: bank left", "Cut: bank right", "Fit the sleeves"].map(|title| {
            let is_title = |mark: &Mark| matches!(mark, Mark::Text { text, .. } if text == title);
            leaves.iter().filter(|canvas| canvas.marks.iter().any(is_title)).count()
        })
    };
    assert_eq!(pages(SheetUnits::Mm), [5, 5, 3]);
    assert_eq!(pages(SheetUnits::Both), [5, 5, 3]);
}

#[test]
fn a_set_up_of_the_sample_is_one_page_in_any_unit() {
    let fonts = Fonts::load().unwrap();
    let mut seen = 0;
    for (name, planning) in jobs().into_iter().filter(|(name, _)| name.starts_with("sample")) {
        for canvas in super::super::leaves(&planning, &planning.plan, fonts).unwrap() {
            let is_title =
                |mark: &Mark| matches!(mark, Mark::Text { text, .. } if text.starts_with("Set-up: "));
            if canvas.marks.iter().any(is_title) {
                assert_eq!(place(&canvas), (1, 1), "{name}");
                seen += 1;
            }
        }
    }
    assert_eq!(seen, 12);
}

/// The sample with a wall of cylinder 1 between what is preferred and what decides.
fn held(units: SheetUnits) -> Planning {
    sample(units, |job| {
        let walls = job.set_ups.iter_mut().flat_map(|set_up| &mut set_up.walls);
        let is_it = |w: &&mut WallReading| w.cylinder == 1 && w.depth_mm == 80.0 && w.clock_deg == 270.0;
        walls.filter(is_it).for_each(|wall| wall.wall_mm = Some(3.5));
    })
}

#[test]
fn what_is_decided_of_a_held_job_is_signed_on_its_first_page() {
    let fonts = Fonts::load().unwrap();
    for units in [SheetUnits::Mm, SheetUnits::In, SheetUnits::Both] {
        let planning = held(units);
        assert_eq!(planning.plan.verdict, Verdict::Hold);
        let leaves = super::super::leaves(&planning, &planning.plan, fonts).unwrap();
        let said = |page: usize| texts(&leaves[page]).into_iter().map(|t| t.3).collect::<Vec<_>>().join(" ");
        let (first, second) = (said(0), said(1));
        for words in ["HOLD: cylinder 1", "Order of work", "Held: cylinder 1.", "released by, shop lead"] {
            assert!(first.contains(words), "{units:?}, {words}: {first}");
        }
        assert_eq!(place(&leaves[1]), (2, 2), "{units:?}");
        for words in ["Where each bore may go", "Tools, by the diameters"] {
            assert!(second.contains(words), "{units:?}, {words}: {second}");
        }
    }
}

#[test]
fn no_page_of_the_figures_ends_with_a_heading() {
    // Headings of the figures, pt.
    const HEADING: f64 = 15.0;
    let fonts = Fonts::load().unwrap();
    for (name, planning) in jobs().into_iter().filter(|(name, _)| *name != "hostile") {
        for (page, canvas) in crate::sheets::figures::leaves(&planning, fonts).iter().enumerate() {
            let texts = texts(canvas);
            let last = texts.iter().max_by(|a, b| a.0.total_cmp(&b.0));
            let alone =
                last.filter(|(_, weight, size, _)| *weight == Weight::Bold && (size - HEADING).abs() < 0.01);
            assert!(alone.is_none(), "{name}, page {}: {alone:?} stands alone", page + 1);
        }
    }
}
