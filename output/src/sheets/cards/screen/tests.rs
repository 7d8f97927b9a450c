//! What `job.html` keeps, read back by a reader of XML.

use std::path::Path;

use borewright_planner::job::SheetUnits;
use borewright_planner::{Planning, load, plan_job};
use roxmltree::{Document, Node, ParsingOptions};

use super::super::cards;
use super::{SCRIPT, STYLE};
use crate::paper::text::Fonts;
use crate::sheets::sheet::Surveyed;
use crate::testing;
use borewright_planner::plan::Subject;

fn made(planning: &Planning) -> String {
    let fonts = Fonts::load().unwrap();
    let report = planning.surveyed();
    let surveyed = report.as_ref().map(|report| Surveyed { report, asked_on: Some(6) });
    cards(planning, &planning.plan, surveyed, fonts).unwrap().screen
}

fn read(text: &str) -> Document<'_> {
    Document::parse_with_options(text, ParsingOptions { allow_dtd: true, ..Default::default() }).unwrap()
}

fn with<'a>(document: &'a Document<'_>, name: &'a str, value: &'a str) -> Vec<Node<'a, 'a>> {
    document.descendants().filter(|n| n.attribute(name) == Some(value)).collect()
}

fn words(node: Node<'_, '_>) -> String {
    let texts = node.descendants().filter(Node::is_text).filter_map(|n| n.text());
    texts.flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ")
}

fn jobs() -> Vec<(&'static str, Planning)> {
    let both = |mut planning: Planning| {
        planning.job.sheet_units = SheetUnits::Both;
        planning
    };
    vec![
        ("v6", testing::dunnock()),
        ("sixteen, both", both(testing::bittern())),
        ("stop", testing::stopped()),
        ("hold", testing::held(false)),
        ("released", testing::held(true)),
        ("hostile", testing::hostile()),
        ("markup", markup()),
    ]
}

/// Names that would be markup, or turn text round.
fn markup() -> Planning {
    let bad = "</script><script>alert(1)</script>\"><img src=x onerror=alert(2)>' \u{202e}abc\u{200f}\u{0}\u{1b}]]>--><!-- &#x3c;";
    let mut planning = testing::dunnock();
    planning.plan.job = bad.to_owned();
    planning.job.customer = Some(bad.to_owned());
    planning.job.block.name = bad.to_owned();
    planning.job.block.journal_axis.along_datum = bad.to_owned();
    for pass in &mut planning.plan.passes {
        pass.feature = bad.to_owned();
        pass.tool = Some(bad.to_owned());
        pass.stop = pass.stop.is_some().then(|| bad.into());
    }
    for finding in &mut planning.plan.findings {
        finding.text = bad.into();
        finding.subject = Subject::whole(bad);
    }
    planning.plan.cylinders.iter_mut().for_each(|c| c.why = bad.into());
    let (who, why) = (bad.to_owned(), bad.to_owned());
    planning.plan.release = Some(borewright_planner::plan::Release { who, why });
    planning
}

#[test]
fn it_fetches_nothing_runs_its_own_script_alone_and_names_each_place_once() {
    for (name, planning) in jobs() {
        let text = made(&planning);
        let document = read(&text);
        let mut ids: Vec<&str> = document.descendants().filter_map(|n| n.attribute("id")).collect();
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "{name}: an id stands twice");
        for node in document.descendants().filter(Node::is_element) {
            let tag = node.tag_name().name();
            assert!(
                !["img", "iframe", "object", "embed", "link", "use", "image", "base"].contains(&tag),
                "{name}: {tag}"
            );
            for attribute in node.attributes() {
                let key = attribute.name();
                assert!(
                    !key.starts_with("on") && !["style", "src", "action"].contains(&key),
                    "{name}: {key}"
                );
                if key == "href" || key == "for" {
                    let to = attribute.value().trim_start_matches('#');
                    assert!(ids.contains(&to), "{name}: {to} is no place of it");
                }
            }
            // Pictures that are read aloud say what they show.
            let hidden = node.ancestors().any(|n| n.attribute("aria-hidden") == Some("true"));
            if tag == "svg" && !hidden {
                assert!(node.attribute("aria-label").is_some_and(|label| label.len() > 8), "{name}");
            }
        }
        let scripts: Vec<_> = document
            .descendants()
            .filter(|n| n.has_tag_name(("http://www.w3.org/1999/xhtml", "script")))
            .collect();
        assert_eq!(
            scripts.iter().map(|s| words(*s)).collect::<Vec<_>>(),
            [SCRIPT.split_whitespace().collect::<Vec<_>>().join(" ")]
        );
        // Read as HTML, a style and a script end at the first of these.
        assert!(![STYLE, SCRIPT].iter().any(|own| own.contains(['<', '&'])));
        assert_eq!(text.matches("<script").count(), 1, "{name}");
        let policy = with(&document, "http-equiv", "Content-Security-Policy");
        assert_eq!(policy.len(), 1);
        assert!(
            policy[0].attribute("content").unwrap().starts_with("default-src 'none'; style-src 'sha256-")
        );
        assert_eq!(document.root_element().attribute("lang"), Some("en"));
        for mark in ['\u{202e}', '\u{200f}', '\u{0}', '\u{1b}', '\u{7}'] {
            assert!(!text.contains(mark), "{name}: {mark:?}");
        }
    }
}

#[test]
fn names_that_look_like_markup_are_read_as_names() {
    let text = made(&markup());
    let document = read(&text);
    let heading = document.descendants().find(|n| n.tag_name().name() == "h1").unwrap();
    assert!(
        words(heading).contains("</script><script>alert(1)</script>\"><img src=x onerror=alert(2)>' abc"),
        "{}",
        words(heading)
    );
}

#[test]
fn every_card_carries_job_state_release_fingerprint_program_and_units() {
    for (name, planning) in jobs().into_iter().filter(|(name, _)| !["hostile", "markup"].contains(name)) {
        let text = made(&planning);
        let document = read(&text);
        let all = with(&document, "class", "card");
        assert!(!all.is_empty());
        for (index, card) in all.iter().enumerate() {
            let told = words(*card);
            let mut wanted = vec![
                "Job 0412".to_owned(),
                planning.plan.verdict.word().to_uppercase(),
                crate::said::fingerprint::grouped(&planning.plan.fingerprint, 3),
                format!("program {}", env!("CARGO_PKG_VERSION")),
                "lengths in mm".to_owned(),
                format!("card {} of {}", index + 1, all.len()),
            ];
            wanted.extend(planning.plan.release.as_ref().map(|r| format!("Released by {}", r.who)));
            for word in wanted {
                assert!(told.contains(&word), "{name}, card {}: no {word:?} in {told}", index + 1);
            }
        }
    }
}

#[test]
fn each_line_of_the_paper_is_a_line_of_the_screen_and_can_be_marked() {
    let planning = testing::dunnock();
    let text = made(&planning);
    let document = read(&text);
    let boxes = with(&document, "class", "done");
    let numbers = with(&document, "class", "number");
    let labels = with(&document, "class", "block");
    assert!(boxes.len() > 20 && boxes.len() == labels.len());
    for (own, label) in boxes.iter().zip(&numbers) {
        assert_eq!(own.attribute("id"), label.attribute("for"));
        // Only the number ticks: no figure stands in it.
        assert!(words(*label).parse::<u32>().is_ok(), "{}", words(*label));
        assert!(own.attribute("aria-labelledby").is_some());
    }
    for pass in planning.plan.passes.iter().filter(|p| p.diameter > 0.0) {
        let diameter = format!("{:.3}", pass.diameter);
        let told = |l: &Node<'_, '_>| {
            let words = words(*l);
            words.contains(&diameter) && words.contains(&pass.cylinder.to_string())
        };
        assert!(labels.iter().any(told), "cylinder {} to {diameter}", pass.cylinder);
    }
    for check in planning
        .plan
        .checks
        .iter()
        .filter(|c| planning.plan.passes.iter().any(|p| p.stop_number == Some(c.check)))
    {
        let title = format!("CHECK {}: ", check.check);
        assert!(labels.iter().any(|l| words(*l).contains(&title)), "{title}");
    }
    // What it prints are the pages of the cards, as they are.
    let pages = with(&document, "class", "print")[0]
        .children()
        .filter(|n| n.has_tag_name(("http://www.w3.org/2000/svg", "svg")));
    let fonts = Fonts::load().unwrap();
    assert_eq!(pages.count(), super::super::leaves(&planning, &planning.plan, fonts).unwrap().len());
}

#[test]
fn equal_jobs_give_equal_bytes_and_an_inch_job_has_no_bare_millimetre() {
    let mut planning = testing::dunnock();
    planning.job.sheet_units = SheetUnits::In;
    planning.job.machine.list_units = super::super::tests::inches();
    let text = made(&planning);
    assert_eq!(text, made(&planning));
    let document = read(&text);
    for card in with(&document, "class", "card") {
        let told = words(card);
        let bare = told.split(|c: char| !c.is_alphanumeric()).any(|word| word == "mm");
        assert!(!bare, "{told}");
    }
}

#[test]
fn a_figure_tells_its_account_behind_a_tap_in_symbols_that_stay_as_they_are() {
    use borewright_planner::plan::worked::{Figure, Origin, Symbol};

    const SIZE: [Symbol; 3] = [
        Symbol::mm("D", "size", Origin::Figure("x - i")),
        Symbol::mm("x", "outside of the sleeve", Origin::Known("its drawing")),
        Symbol::mm("i", "interference", Origin::Known("its drawing")),
    ];
    let mut planning = testing::dunnock();
    for pass in &mut planning.plan.passes {
        pass.worked = vec![Figure::of("size", 88.57, &[&SIZE], vec![88.54, -0.03])];
    }
    let text = made(&planning);
    let document = read(&text);
    let opened: Vec<_> = document.descendants().filter(|n| n.has_tag_name("details")).collect();
    assert!(
        !opened.is_empty() && opened.iter().all(|n| n.attribute("open").is_none()),
        "folded away at first"
    );
    for details in opened {
        let summary = details.children().find(|n| n.has_tag_name("summary")).unwrap();
        // The figure itself is what a tap opens; where it stands in words alone, the one fold of its line.
        let tapped = words(summary);
        assert!(tapped.starts_with("to Ø ") || tapped == "why size", "{tapped}");
        let told = words(details);
        assert!(told.contains("D = x - i = 88.54 - (-0.03) = 88.57 mm"), "{told}");
        assert!(told.contains("x = 88.54 mm outside of the sleeve: its drawing"), "{told}");
    }
}

#[test]
fn a_figure_of_a_table_leads_to_its_account_and_a_line_has_one_fold() {
    let planning = testing::dunnock();
    let text = made(&planning);
    let document = read(&text);
    let leading = with(&document, "class", "to");
    for link in &leading {
        let place = link.attribute("href").unwrap().trim_start_matches('#');
        let account = document.descendants().find(|n| n.attribute("id") == Some(place)).unwrap();
        assert!(account.ancestors().any(|n| n.attribute("class") == Some("whys")), "{place}");
    }
    for block in with(&document, "class", "block") {
        let folds = block.descendants().filter(|n| n.attribute("class") == Some("whys")).count();
        assert!(folds <= 1, "{}", words(block));
    }
}

#[test]
fn nothing_asks_to_be_written_on() {
    for (name, planning) in jobs() {
        let text = made(&planning);
        let document = read(&text);
        for card in with(&document, "class", "card") {
            let told = words(card);
            assert!(!told.contains("____"), "{name}: {told}");
        }
    }
}

#[test]
fn what_is_held_against_a_figure_stands_out_and_a_name_does_not() {
    // No made-up job asks for bare holes.
    let sample = concat!(env!("CARGO_MANIFEST_DIR"), "/../blocks/jobs/petrel-0412");
    let sample = plan_job(load(Path::new(sample)).unwrap(), None).unwrap();
    let mut held = Vec::new();
    for (name, planning) in jobs().into_iter().chain([("sample", sample)]) {
        let text = made(&planning);
        let document = read(&text);
        for cell in document.descendants().filter(|n| n.has_tag_name("td")) {
            let head = cell.attribute("data-head").unwrap_or_default();
            let table = cell.ancestors().find(|n| n.has_tag_name("table")).unwrap();
            let caption = words(table.children().find(|n| n.has_tag_name("caption")).unwrap());
            let stands_out = match (head, caption.as_str()) {
                ("expect" | "within", "Bare hole, for the lead" | "Plate off") => true,
                ("expect" | "within", _) => false,
                _ => continue,
            };
            let is_dialled = cell.attribute("class") == Some("dial");
            assert_eq!(is_dialled, stands_out, "{name}, {caption}: {}", words(cell));
            held.push(caption);
        }
    }
    for caption in ["Bare hole, for the lead", "Plate off"] {
        assert!(held.iter().any(|c| c == caption), "{caption}");
    }
}
