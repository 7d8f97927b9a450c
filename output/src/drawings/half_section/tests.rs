use std::path::PathBuf;

use borewright_planner::job::{Flange, Job, ORing, SheetUnits, Sleeve, Stands, Step};
use borewright_planner::{Planning, load, plan_job};
use kurbo::Rect;
use proptest::prelude::*;

use super::{HEAD_MM, HalfSection, LEFT_MM};
use crate::drawings::figure::{Figure, PT_PER_MM, Shape};
use crate::drawings::svg;
use crate::paper::canvas::Align;
use crate::paper::text::Fonts;
use crate::testing;

/// Room of a page, mm.
const PAGE_HIGH_MM: f64 = 236.0;

static FONTS: std::sync::LazyLock<&Fonts> = std::sync::LazyLock::new(|| Fonts::load().unwrap());

fn job(path: &str) -> Job {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks").join(path);
    load(&path).unwrap_or_else(|faults| panic!("{faults}"))
}

fn planned(job: Job) -> Planning {
    plan_job(job, None).unwrap_or_else(|e| panic!("{e}"))
}

/// A job planned as if no deck had been read: heights are then those of the block's description.
fn as_described(job: Job) -> Planning {
    let mut planning = planned(job);
    for axis in &mut planning.plan.journal_axis {
        axis.deck_height = None;
    }
    planning
}

fn step(name: &str, diameter_mm: f64, to_mm: f64, interference_mm: f64, wet: bool) -> Step {
    Step {
        name: name.to_owned(),
        diameter_mm,
        to_mm,
        interference_mm,
        tolerance_mm: 0.005,
        pocket_tolerance_mm: None,
        drawn_tight: interference_mm > 0.0,
        code: None,
        wet,
        o_rings: vec![],
    }
}

/// The petrel's plan with its sleeve taken for another: where the bores stand does not matter here.
fn with_sleeve(change: fn(&mut Sleeve)) -> Planning {
    let mut planning = planned(job("jobs/petrel-0412"));
    let chosen = planning.plan.sleeves.iter_mut().find(|s| s.chosen).unwrap();
    let sleeve = planning.job.sleeves.iter_mut().find(|s| s.name == chosen.sleeve).unwrap();
    change(sleeve);
    for (register, step) in chosen.fit.registers.iter_mut().zip(sleeve.body.iter().filter(|s| !s.wet)) {
        register.feature.clone_from(&step.name);
    }
    planning
}

/// The dry sleeve of 105 with flats, for a finished bore of 99.
fn dry_105() -> Planning {
    let mut planning = with_sleeve(|sleeve| {
        (sleeve.bore_mm, sleeve.length_mm) = (98.4, 138.0);
        sleeve.stands = Stands::Flange(Flange {
            diameter_mm: 112.0,
            thickness_mm: 6.0,
            clearance_mm: 0.05,
            flats_mm: Some(109.96),
            fillet_mm: Some(0.3),
            tolerance_mm: 0.005,
            protrusion_min_mm: 0.02,
            protrusion_max_mm: 0.05,
        });
        sleeve.body = vec![step("barrel", 105.03, 138.0, 0.03, false)];
    });
    planning.job.finish.bore_mm = 99.0;
    planning
}

/// Six steps and six O-rings: more than any sleeve of the samples.
fn six_steps() -> Planning {
    with_sleeve(|sleeve| {
        let wet = |i: usize| i == 2;
        sleeve.body = (0..6)
            .map(|i| {
                let n = f64::from(u32::try_from(i).unwrap());
                let name = format!("band {} with quite a long name", i + 1);
                let tight = if wet(i) { -0.6 } else { 0.02 };
                let mut step = step(&name, 90.0 - 0.3 * n, 20.0 + 23.8 * n, tight, wet(i));
                if i > 2 {
                    let ring = |deep: f64| ORing {
                        depth_mm: deep,
                        groove_diameter_mm: 85.9,
                        groove_width_mm: 2.4,
                        cord_mm: 1.78,
                        inside_mm: 84.5,
                    };
                    step.o_rings = vec![ring(8.0 + 23.8 * n), ring(14.0 + 23.8 * n)];
                }
                step
            })
            .collect();
    })
}

fn cases() -> Vec<(String, Planning)> {
    let mut made = Vec::new();
    let samples = [
        ("W90", planned(job("jobs/petrel-0412"))),
        ("D105", dry_105()),
        ("W85", planned(job("invalid/base"))),
        ("six steps", six_steps()),
    ];
    for (name, planning) in samples {
        for units in [SheetUnits::Mm, SheetUnits::In, SheetUnits::Both] {
            for cut in [0.0, 0.35] {
                let mut planning = planning.clone();
                planning.job.sheet_units = units;
                planning.job.engine.deck.cut_mm = cut;
                made.push((format!("{name} {units:?} cut {cut}"), planning));
            }
        }
    }
    made.push(("hostile".to_owned(), testing::hostile()));
    made.push(("nothing worked out".to_owned(), testing::bittern()));
    made
}

fn section(planning: &Planning) -> HalfSection<'_> {
    HalfSection::of(&planning.job, &planning.plan, &FONTS).unwrap()
}

/// The texts of a figure with the room that each takes up.
fn texts(figure: &Figure) -> Vec<(String, Rect)> {
    let texts = figure.shapes.iter().filter_map(|shape| match shape {
        Shape::Text { at, align, weight, size_pt, text } => {
            let width_mm = FONTS.width(text, *weight, *size_pt) / PT_PER_MM;
            let left = match align {
                Align::Left => at.x,
                Align::Middle => at.x - width_mm / 2.0,
                Align::Right => at.x - width_mm,
            };
            let size = size_pt / PT_PER_MM;
            Some((text.clone(), Rect::new(left, at.y - 0.76 * size, left + width_mm, at.y + 0.24 * size)))
        }
        _ => None,
    });
    texts.collect()
}

fn all_text(figures: &[Figure]) -> String {
    figures.iter().flat_map(texts).map(|t| t.0).collect::<Vec<_>>().join("\n")
}

#[test]
fn no_word_touches_another_or_leaves_the_figure_and_each_figure_fits_a_page() {
    for (name, planning) in cases() {
        for figure in section(&planning).figures().unwrap() {
            assert!(figure.height_mm <= PAGE_HIGH_MM, "{name}: {}", figure.height_mm);
            let texts = texts(&figure);
            for (i, (text, room)) in texts.iter().enumerate() {
                let inside = room.x0 >= 0.0
                    && room.x1 <= figure.width_mm + 0.01
                    && room.y0 >= 0.0
                    && room.y1 <= figure.height_mm + 0.01;
                assert!(inside, "{name}: {text} at {room:?} of {}", figure.height_mm);
                for (other, beside) in &texts[i + 1..] {
                    let apart = room.intersect(*beside);
                    let touches = apart.width() > 0.01 && apart.height() > 0.01;
                    assert!(!touches, "{name}: {text:?} {room:?} and {other:?} {beside:?}");
                }
            }
        }
    }
}

#[test]
fn every_step_ring_and_depth_is_on_the_drawing_with_its_size() {
    let planning = as_described(job("jobs/petrel-0412"));
    let text = all_text(&section(&planning).figures().unwrap());
    // Pocket = outside less interference; ledge = thickness less the middle of the protrusion; by hand. Wall towards the
    // valley at 80: axis of the bore 0.132, 43 + 4.64 outwards, 44.285 of pocket, and the spindle leans 0.012: 3.235.
    for expected in [
        "upper register Ø 89.780 ±0.006",
        "wet length Ø 89.600",
        "lower register Ø 88.570 ±0.006",
        "recess Ø 95.100",
        "ledge 7.965 ±0.010 deep",
        "O-ring at 68.00",
        "O-ring at 76.00",
        "finished bore Ø 82.000 ±0.010",
        "edge broken 0.50 × 45°",
        "coolant jacket, 9.00 to 62.00",
        "parent wall 3.24 left",
        "213.035",
        "scale 1 : 1",
        "detail A, 5 : 1",
    ] {
        assert!(text.contains(expected), "{expected} is not in\n{text}");
    }
    assert!(!text.contains("final deck"), "{text}");
}

#[test]
fn with_a_deck_to_cut_heights_stay_and_depths_from_the_final_deck_lose_the_cut() {
    let mut job = job("jobs/petrel-0412");
    job.engine.deck.cut_mm = 0.2;
    let planning = as_described(job);
    let section = section(&planning);
    let figures = section.figures().unwrap();
    let rows = texts(&figures[1]);
    let row = |what: &str| -> Vec<String> {
        // The last: a head can say the same words.
        let y = rows.iter().rev().find(|(text, _)| text == what).unwrap().1.y0;
        let mut cells: Vec<_> = rows.iter().filter(|(_, r)| (r.y0 - y).abs() < 0.01).collect();
        cells.sort_by(|a, b| a.1.x0.total_cmp(&b.1.x0));
        cells.iter().map(|c| c.0.clone()).collect()
    };
    assert_eq!(row("ledge"), ["ledge", "8.165", "7.965", "212.835"]);
    assert_eq!(row("final deck"), ["final deck", "0.200", "0.000", "220.800"]);
    assert_eq!(row("lower register ends"), ["lower register ends", "139.20", "139.00", "81.80"]);
    // The jacket does not move with the sleeve.
    assert_eq!(row("coolant jacket, floor"), ["coolant jacket, floor", "62.00", "61.80", "159.00"]);
}

#[test]
fn the_section_is_drawn_to_its_scale() {
    let planning = planned(job("jobs/petrel-0412"));
    let section = section(&planning);
    let view = section.view();
    assert!((view.scale - 1.0).abs() < 1e-12);
    let ledge = view.at(47.55, 7.965);
    assert!((ledge.x - LEFT_MM - 47.55).abs() < 1e-9 && (ledge.y - HEAD_MM - 7.965).abs() < 1e-9);
    // A corner of the pocket's outline stands exactly there.
    let figure = &section.figures().unwrap()[0];
    let there = figure.shapes.iter().any(|shape| match shape {
        Shape::Line { path, .. } => {
            path.elements().iter().any(|e| e.end_point().is_some_and(|p| (p - ledge).hypot() < 1e-6))
        }
        _ => false,
    });
    assert!(there);
}

#[test]
fn banks_with_decks_of_their_own_get_a_column_each() {
    let mut job = job("jobs/petrel-0412");
    job.block.banks[1].deck_height_mm = 221.1;
    let planning = as_described(job.clone());
    let text = all_text(&section(&planning).figures().unwrap());
    assert!(text.contains("left 221.000, right 221.100 above the journal axis"), "{text}");
    assert!(text.contains("213.035") && text.contains("213.135"), "{text}");
    // Where the decks were read, what was read counts.
    let text = all_text(&section(&planned(job)).figures().unwrap());
    assert!(text.contains("left 221.025, right 221.031 above the journal axis"), "{text}");
    assert!(text.contains("213.060") && text.contains("213.066"), "{text}");
}

#[test]
fn equal_plans_give_an_equal_picture_that_an_xml_reader_takes() {
    for (name, planning) in cases() {
        let [first, second] = [(); 2].map(|()| svg(&section(&planning).whole().unwrap(), &FONTS).unwrap());
        assert_eq!(first, second, "{name}");
        let document = roxmltree::Document::parse(&first).unwrap_or_else(|e| panic!("{name}: {e}"));
        for node in document.descendants().filter(roxmltree::Node::is_element) {
            let known = ["svg", "title", "desc", "rect", "path", "defs", "g", "use"];
            assert!(known.contains(&node.tag_name().name()), "{name}");
        }
        assert!(first.len() < 400_000, "{name}: {} bytes", first.len());
    }
}

/// Writes each half section and its sheet of figures to the folder named in `BOREWRIGHT_LOOK`.
#[test]
#[ignore = "writes pictures to look at"]
fn half_sections_can_be_looked_at() {
    let folder = std::env::var_os("BOREWRIGHT_LOOK").expect("BOREWRIGHT_LOOK names a folder");
    std::fs::create_dir_all(&folder).unwrap();
    for (name, planning) in cases() {
        let path = std::path::Path::new(&folder).join(format!("{}.svg", name.replace(' ', "-")));
        std::fs::write(path, svg(&section(&planning).whole().unwrap(), &FONTS).unwrap()).unwrap();
        let bundle = crate::bundle::bundle_unproven(&planning).unwrap();
        let sheet = bundle.artifacts.iter().find(|a| a.path == "sheets/figures.pdf").unwrap();
        let path = std::path::Path::new(&folder).join(format!("{}.pdf", name.replace(' ', "-")));
        std::fs::write(path, &sheet.bytes).unwrap();
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever sizes pass the check of a sleeve, and many that do not: no fault, no coordinate that is none.
    #[test]
    fn any_sizes_give_a_figure(
        flange in 30.0..420.0_f64,
        thick in 1.0..80.0_f64,
        outsides in prop::collection::vec((20.0..400.0_f64, -5.0..0.5_f64, any::<bool>()), 1..30),
        deep in 10.0..800.0_f64,
        cut in 0.0..5.0_f64,
    ) {
        let mut planning = testing::wren();
        let count = f64::from(u32::try_from(outsides.len()).unwrap());
        let sleeve = &mut planning.job.sleeves[0];
        if let Stands::Flange(own) = &mut sleeve.stands {
            (own.diameter_mm, own.thickness_mm) = (flange, thick);
        }
        sleeve.length_mm = deep;
        sleeve.body = outsides
            .iter()
            .zip(1_u32..)
            .map(|((d, fit, wet), n)| step("band", *d, deep * f64::from(n) / count, *fit, *wet))
            .collect();
        planning.job.engine.deck.cut_mm = cut;
        planning.job.block.parent.bore_length_mm = deep;
        let figures = section(&planning).figures().unwrap();
        prop_assert!(figures.iter().all(|f| f.height_mm <= PAGE_HIGH_MM));
        prop_assert!(svg(&section(&planning).whole().unwrap(), &FONTS).is_ok());
    }
}
