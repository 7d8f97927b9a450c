//! The pictures of sample jobs and of jobs made poorer and stranger, read back by an XML and a PDF reader.

use std::path::PathBuf;

use borewright_planner::job::{Front, Job, SheetUnits, Site};
use borewright_planner::report::{SurveyReport, report};
use borewright_planner::survey::{BoreForm, MainAt, OwnShift, Profile, Trace};
use kurbo::{BezPath, Rect, Shape};

use crate::paper::text::{Fonts, Weight};
use crate::{Artifact, survey_bundle};

static FONTS: std::sync::LazyLock<&Fonts> = std::sync::LazyLock::new(|| Fonts::load().unwrap());

fn petrel() -> Job {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    borewright_planner::load(&path).unwrap_or_else(|faults| panic!("{faults}"))
}

fn files(job: &Job, report: &SurveyReport) -> Vec<Artifact> {
    survey_bundle(job, report).unwrap()
}

fn text_of(artifacts: &[Artifact], path: &str) -> String {
    let found = artifacts.iter().find(|a| a.path == path).unwrap_or_else(|| panic!("{path}"));
    String::from_utf8(found.bytes.clone()).unwrap()
}

fn pages(artifacts: &[Artifact]) -> Vec<String> {
    let sheet = artifacts.iter().find(|a| a.path == "survey.pdf").unwrap();
    let document = lopdf::Document::load_mem(&sheet.bytes).unwrap();
    let numbers: Vec<u32> = document.get_pages().keys().copied().collect();
    numbers.iter().map(|n| document.extract_text(&[*n]).unwrap()).collect()
}

/// The words of a picture with the room each takes up, mm.
fn words(document: &roxmltree::Document<'_>) -> Vec<(String, Rect)> {
    let texts = document.descendants().filter(|n| n.tag_name().name() == "g");
    texts
        .map(|n| {
            let told = n.attribute("transform").unwrap().split(['(', ' ', ')']);
            let numbers: Vec<f64> = told.filter_map(|part| part.parse().ok()).collect();
            let [x, y, scale, _] = numbers.try_into().unwrap();
            let size = scale * FONTS.face(Weight::Plain).units_per_em();
            let bold = n
                .descendants()
                .any(|g| g.attribute("href").is_some_and(|to| to[1..].starts_with(char::is_uppercase)));
            let weight = if bold { Weight::Bold } else { Weight::Plain };
            let text = n.attribute("aria-label").unwrap();
            let width = FONTS.width(text, weight, size);
            // From the foot of a descender to the top of a capital.
            (text.to_owned(), Rect::new(x, y - 0.73 * size, x + width, y + 0.2 * size))
        })
        .collect()
}

/// The shapes of a picture, without the outlines of its glyphs: lines that are drawn alike are one path, and shapes of their own.
fn shapes(document: &roxmltree::Document<'_>) -> impl Iterator<Item = BezPath> {
    let paths = document.descendants().filter(|n| !n.has_attribute("id")).filter_map(|n| n.attribute("d"));
    let parts = paths.flat_map(|data| data.split('M').skip(1));
    parts.map(|part| BezPath::from_svg(&format!("M{part}")).unwrap())
}

/// Every picture is whole: it parses, its scale is stated, nothing runs off it, and no word stands on another.
fn assert_readable(artifacts: &[Artifact]) {
    for artifact in artifacts.iter().filter(|a| a.path.ends_with(".svg")) {
        let name = &artifact.path;
        let text = std::str::from_utf8(&artifact.bytes).unwrap();
        let document = roxmltree::Document::parse(text).unwrap_or_else(|e| panic!("{name}: {e}"));
        let root = document.root_element();
        let edge = |name: &str| root.attribute(name).unwrap().trim_end_matches("mm").parse::<f64>().unwrap();
        let page = Rect::new(-0.01, -0.01, edge("width") + 0.01, edge("height") + 0.01);
        assert!(page.width() < 182.0 && page.height() < 240.0, "{name}: {page:?}");
        let words = words(&document);
        assert!(words.iter().any(|(w, _)| w.contains(" : ")), "{name} states no scale");
        for (i, (word, room)) in words.iter().enumerate() {
            assert!(page.contains_rect(*room), "{name}: {word:?} at {room:?} runs off {page:?}");
            for (other, taken) in &words[..i] {
                let both = room.intersect(*taken);
                assert!(both.width() <= 0.0 || both.height() <= 0.0, "{name}: {word:?} stands on {other:?}");
            }
        }
        for path in shapes(&document) {
            let drawn = path.bounding_box();
            assert!(page.contains_rect(drawn), "{name}: {}", path.to_svg());
        }
    }
}

#[test]
fn the_sample_has_a_picture_of_every_deck_axis_and_zone() {
    let job = petrel();
    let artifacts = files(&job, &report(&job).unwrap());
    assert_readable(&artifacts);
    let paths: Vec<&str> = artifacts.iter().map(|a| a.path.as_str()).collect();
    insta::assert_snapshot!(paths.join("\n"), @r"
    survey.json
    survey.pdf
    figures/deck-left.svg
    figures/journal-axis-left-bank-up.svg
    figures/deck-right.svg
    figures/journal-axis-right-bank-up.svg
    figures/free-zone-1.svg
    figures/free-zone-3.svg
    figures/free-zone-5.svg
    figures/free-zone-2.svg
    figures/free-zone-4.svg
    figures/free-zone-6.svg
    ");
}

#[test]
fn every_page_of_a_survey_carries_the_job_its_fingerprint_and_its_number() {
    let job = petrel();
    let artifacts = files(&job, &report(&job).unwrap());
    let sum = borewright_planner::read::source::sha256_hex(text_of(&artifacts, "survey.json").as_bytes());
    let pages = pages(&artifacts);
    for (page, number) in pages.iter().zip(1..) {
        assert!(
            page.contains("0412") && page.contains(&crate::said::fingerprint::grouped(&sum, 3)),
            "{page}"
        );
        assert!(page.contains(&format!("page {number} of {}", pages.len())) && page.contains("survey, job"));
    }
    let all = pages.concat();
    for said in [
        "FRONT",
        "Seen from outside the deck",
        "arrows 50 : 1",
        "across 500 : 1",
        "all at 500 : 1",
        "planned",
    ] {
        assert!(all.contains(said), "{said}");
    }
}

#[test]
fn a_scale_bar_is_as_long_as_its_words_and_the_stated_scale_make_it() {
    let job = petrel();
    let text = text_of(&files(&job, &report(&job).unwrap()), "figures/free-zone-1.svg");
    let document = roxmltree::Document::parse(&text).unwrap();
    let words = words(&document);
    let scale: f64 = words.iter().find_map(|(w, _)| w.strip_suffix(" : 1")).unwrap().parse().unwrap();
    let (length, room) =
        words.iter().find_map(|(w, r)| Some((w.strip_suffix(" mm")?.parse::<f64>().ok()?, *r))).unwrap();
    let bar = shapes(&document)
        .map(|path| path.bounding_box())
        .find(|b| b.height() < 1e-9 && (room.x0 - b.x1 - 1.8).abs() < 0.01)
        .unwrap();
    assert!((bar.width() - length * scale).abs() < 0.002, "{} {length} {scale}", bar.width());
}

#[test]
fn the_old_centre_stands_as_far_from_the_true_position_as_its_words_say() {
    let job = petrel();
    let report = report(&job).unwrap();
    let zone = report.free_zone.iter().find(|z| z.cylinder == 1).unwrap();
    let text = text_of(&files(&job, &report), "figures/free-zone-1.svg");
    let document = roxmltree::Document::parse(&text).unwrap();
    let boxes: Vec<Rect> =
        shapes(&document).map(|path| path.bounding_box()).filter(|b| b.x1 < 100.0).collect();
    // A circle of 2.2 is the old centre's; two strokes of 6.4 cross at the true position.
    let old =
        boxes.iter().find(|b| (b.width() - 4.4).abs() < 0.02 && (b.height() - 4.4).abs() < 0.02).unwrap();
    let true_at = boxes.iter().find(|b| (b.width() - 6.4).abs() < 0.001 && b.height() < 1e-9).unwrap();
    let away = old.center() - true_at.center();
    let [dx, dy] = [zone.old.x - zone.true_position.x, zone.old.y - zone.true_position.y];
    // 500 : 1, and up the page is +Y.
    assert!((away.x - 500.0 * dx).abs() < 0.01 && (away.y + 500.0 * dy).abs() < 0.01, "{away:?} {dx} {dy}");
}

#[test]
fn equal_surveys_give_equal_bytes() {
    let job = petrel();
    let [first, second] = [(); 2].map(|()| files(&job, &report(&job).unwrap()));
    assert!(first == second);
}

/// Profiles of every kind that the readings of the sample do not bring.
fn round_bores(job: &Job) -> Vec<Profile> {
    let wave = |lobes: f64, size: f64, clocks: u16| -> Vec<[f64; 2]> {
        let step = 360.0 / f64::from(clocks);
        (0..clocks)
            .map(|i| step * f64::from(i))
            .map(|clock| [clock, size * (lobes * clock.to_radians()).cos()])
            .collect()
    };
    let trace = |plate_on: Option<bool>, readings: Vec<[f64; 2]>| Trace {
        plate_on,
        readings,
        peak_to_valley_mm: 0.02,
    };
    let profile = |cylinder: u32, depth_mm: f64, traces: Vec<Trace>| Profile {
        cylinder,
        bank: job.site(cylinder).unwrap().0,
        depth_mm,
        surface: None,
        set: None,
        traces,
        studs_deg: vec![45.0, 135.0, 225.0, 315.0],
    };
    let mut profiles: Vec<Profile> = (0..13_u8)
        .map(|i| {
            let both = vec![trace(Some(false), wave(2.0, 0.01, 16)), trace(Some(true), wave(4.0, 0.02, 16))];
            profile(1, 10.0 * f64::from(i), both)
        })
        .collect();
    profiles.push(profile(3, 20.0, vec![trace(None, wave(3.0, 0.004, 720))]));
    // Perfectly round, read on one side only, and out by a centimetre.
    profiles.push(profile(5, 20.0, vec![trace(None, wave(2.0, 0.0, 8))]));
    profiles.push(profile(5, 30.0, vec![trace(None, wave(2.0, 0.01, 36).into_iter().take(14).collect())]));
    profiles.push(profile(2, 30.0, vec![trace(Some(true), wave(2.0, 10.0, 8))]));
    profiles
}

#[test]
fn many_depths_make_several_pictures_and_every_trace_fits_its_own() {
    let job = petrel();
    let mut report = report(&job).unwrap();
    report.profiles = round_bores(&job);
    let artifacts = files(&job, &report);
    assert_readable(&artifacts);
    let named = |path: &str| artifacts.iter().any(|a| a.path == path);
    for name in ["roundness-1", "roundness-1-2", "roundness-1-3", "roundness-3", "roundness-5", "roundness-2"]
    {
        assert!(named(&format!("figures/{name}.svg")), "{name}");
    }
    assert!(!named("figures/roundness-1-4.svg"));
}

#[test]
fn what_was_not_read_has_no_picture() {
    let job = petrel();
    let mut report = report(&job).unwrap();
    report.profiles.clear();
    report.axis_lines.clear();
    report.free_zone.clear();
    report.as_bored.robust.clear();
    report.fixture = None;
    let artifacts = files(&job, &report);
    assert!(artifacts.iter().all(|a| !a.path.ends_with(".svg")));
    // Three pages with them: words, decks and axes, free zones.
    assert_eq!(self::pages(&files(&job, &borewright_planner::report::report(&job).unwrap())).len(), 3);
    // The bores in a table, then what the survey says in words.
    let pages = pages(&artifacts);
    let words: String = pages.concat().split_whitespace().collect::<Vec<_>>().join(" ");
    for sentence in report.sets.text.iter().chain(report.corrections.iter().map(|c| &c.text)) {
        let start: String = sentence.to_string().split_whitespace().take(6).collect::<Vec<_>>().join(" ");
        assert!(words.contains(&start), "{start} is not in {words}");
    }
}

#[test]
fn an_axis_of_many_mains_keeps_its_figures_apart_and_marks_a_step_beyond_the_limit() {
    let mut job = petrel();
    let mut report = report(&job).unwrap();
    let line = &mut report.axis_lines[0];
    line.mains = (0..17_u8)
        .map(|i| MainAt {
            name: format!("main {}", i + 1),
            x_mm: 95.0 * f64::from(i),
            off_mm: [0.004 * f64::from(i % 3), -0.003 * f64::from(i % 2)],
            step_mm: (i < 16).then_some(if i == 4 { 0.031 } else { 0.005 }),
        })
        .collect();
    let artifacts = files(&job, &report);
    assert_readable(&artifacts);
    let text = text_of(&artifacts, "figures/journal-axis-left-bank-up.svg");
    assert!(text.contains("0.031 !") && text.contains("beyond"), "{text}");
    // The same in inches.
    job.sheet_units = SheetUnits::In;
    let inches = files(&job, &report);
    assert_readable(&inches);
    assert!(text_of(&inches, "figures/journal-axis-left-bank-up.svg").contains("0.0012 !"));
}

#[test]
fn readings_that_are_wrong_by_a_whole_bore_still_make_a_picture() {
    let job = petrel();
    let mut report = report(&job).unwrap();
    let bank = &mut report.as_bored.robust[0];
    for (bore, shift) in bank.bores.iter_mut().zip([[330.0, 0.0], [-110.0, 4.0], [0.0, 0.0]]) {
        bore.shift = shift;
    }
    for zone in &mut report.free_zone {
        zone.old.x += 24.0;
    }
    let artifacts = files(&job, &report);
    assert_readable(&artifacts);
    assert!(text_of(&artifacts, "figures/free-zone-3.svg").contains("old centre, 24."));
}

#[test]
fn a_bank_of_sixteen_bores_keeps_its_figures_apart() {
    let mut job = petrel();
    let mut report = report(&job).unwrap();
    let (site, form) = (job.block.banks[0].sites[0], report.bores[0].clone());
    let own = report.as_bored.robust[0].bores[0].clone();
    job.block.banks[0].sites.clear();
    report.as_bored.robust[0].bores.clear();
    for (i, place) in (0..16_u8).zip(100_u32..) {
        job.block.banks[0].sites.push(Site { cylinder: place, x_mm: site.x_mm + 110.0 * f64::from(i) });
        report.bores.push(BoreForm { cylinder: place, ..form.clone() });
        let shift = [0.01 * f64::from(i), if i == 7 { 40.0 } else { -0.02 * f64::from(i) }];
        report.as_bored.robust[0].bores.push(OwnShift {
            cylinder: place,
            shift,
            odd: i % 5 == 2,
            ..own.clone()
        });
    }
    for units in [SheetUnits::Mm, SheetUnits::In] {
        job.sheet_units = units;
        let artifacts = files(&job, &report);
        assert_readable(&artifacts);
        assert!(text_of(&artifacts, "figures/deck-left.svg").contains("apart, cut"));
    }
}

#[test]
fn a_zone_without_room_says_so_and_one_with_many_edges_names_them() {
    let job = petrel();
    let mut report = report(&job).unwrap();
    let zone = &mut report.free_zone[0];
    zone.go.clear();
    zone.possible.clear();
    zone.everywhere = vec!["squareness (set-up left bank up), margin -0.020 mm".into()];
    // A ring of eighteen short edges, each of another limit's place.
    let other = &mut report.free_zone[1];
    let edge = other.possible[0].edges[0].clone();
    other.possible[0].edges = edge
        .points
        .chunks(edge.points.len().div_ceil(18).max(2))
        .enumerate()
        .map(|(i, points)| {
            let mut one = edge.clone();
            one.made_by.feature = format!("barrel of a very long name to the stud at {i}.0, -52.0");
            one.points = points.to_vec();
            one
        })
        .collect();
    let artifacts = files(&job, &report);
    assert_readable(&artifacts);
    let text = text_of(&artifacts, "figures/free-zone-1.svg");
    assert!(
        text.contains("nowhere is every limit at go") && text.contains("everywhere: squareness"),
        "{text}"
    );
}

#[test]
fn words_of_a_shop_are_drawn_as_words() {
    for (name, planning) in [
        ("hostile", crate::testing::hostile()),
        ("one", crate::testing::make("Siskin 1", 0.0, &[("main", 0.0, vec![1], 50.0, Front::Left)])),
    ] {
        // Names from one job on the readings of another: only the words are looked at.
        let mut job = petrel();
        let mut report = report(&job).unwrap();
        let words = planning.job.block.banks[0].name.clone();
        report.job.clone_from(&planning.plan.job);
        report.as_bored.robust[0].bank.clone_from(&words);
        job.number.clone_from(&planning.plan.job);
        job.block.banks[0].name.clone_from(&words);
        for zone in &mut report.free_zone {
            zone.bank.clone_from(&words);
            zone.sleeve.clone_from(&words);
            for edge in zone.possible.iter_mut().chain(&mut zone.go).flat_map(|o| &mut o.edges) {
                edge.made_by.feature.clone_from(&words);
            }
        }
        for line in &mut report.axis_lines {
            line.set_up.clone_from(&words);
            line.mains.iter_mut().for_each(|m| m.name.clone_from(&words));
        }
        let artifacts = files(&job, &report);
        assert_readable(&artifacts);
        for page in pages(&artifacts) {
            for c in page.chars().filter(|c| *c != '\n') {
                assert!(!c.is_control() && crate::paper::has_glyph(c), "{name}: {c:?}");
            }
        }
    }
}
