//! Sizes at a stop where the block is cut warm, and one figure for one size.

use borewright_planner::plan::Stage;

use crate::bench::{Bench, SCATTERED};

/// The words of every list and the text of the sheet of a job that is at go.
fn papers(bench: &Bench) -> Vec<(String, String)> {
    let planning = bench.plan();
    let bundle = borewright_output::bundle(&planning).unwrap();
    assert!(!bundle.plan.lists.is_empty(), "{:?}", planning.plan.findings);
    let text = |path: &str, bytes: &[u8]| match path.ends_with(".pdf") {
        true => {
            let document = lopdf::Document::load_mem(bytes).unwrap();
            let page = |n: &u32| document.extract_text(&[*n]).unwrap();
            document
                .get_pages()
                .keys()
                .map(page)
                .collect::<String>()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        }
        // A comment goes on in the next line.
        false => String::from_utf8(bytes.to_vec()).unwrap().replace(")\n(", " "),
    };
    bundle.artifacts.iter().map(|a| (a.path.clone(), text(&a.path, &a.bytes))).collect()
}

#[test]
fn a_size_at_a_stop_is_told_at_20_and_at_the_blocks_temperature() {
    // Aluminium, 21.4e-6/K, 16 K above 20: 105.000 x 342.4e-6 is 0.03595. The sleeve's ductile iron, 11.5e-6/K: the finish
    // bore of 99.000 less 0.060 for the hone, 98.940 x 184e-6, is 0.01820; 99.000 grows by 0.01822.
    let warm = "temperature: { block: 20.0, machine: 20.0, cutting: { block: 36.0, machine: 20.0 } }\n";
    let bench = Bench { job_more: warm.into(), ..Bench::default() }.block_of(SCATTERED);
    let planning = bench.plan();
    let stop = |stage: Stage, feature: &str| {
        let of = |p: &&borewright_planner::plan::Pass| {
            p.stage == stage && p.feature == feature && p.stop.is_some()
        };
        planning.plan.passes.iter().rev().find(of).and_then(|p| p.stop.as_ref()).unwrap().whole()
    };
    let pocket = stop(Stage::Pocket, "barrel");
    assert!(pocket.contains("size 105.000 mm within"), "{pocket}");
    assert!(pocket.contains("at 20 °C; 105.036 mm on the block at 36.0 °C"), "{pocket}");
    let finish = stop(Stage::Finish, "finish bore");
    assert!(
        finish.contains("size 98.940 mm") && finish.contains("98.958 mm on the block at 36.0 °C"),
        "{finish}"
    );
    let hone = stop(Stage::Hone, "hone");
    assert!(hone.contains("size 99.000 mm") && hone.contains("99.018 mm on the block at 36.0 °C"), "{hone}");
    let papers = papers(&bench);
    let list = &papers.iter().find(|p| p.0.contains("pocket-left.nc")).unwrap().1;
    assert!(list.contains("set to 105.000 mm at 20 C, 105.036 mm on the block at 36.0 C"), "{list}");
    let sheet = &papers.iter().find(|p| p.0.ends_with("cards.pdf")).unwrap().1;
    assert!(sheet.contains("105.036 mm on the block") && sheet.contains("cut at 36.0 °C"), "{sheet}");
}

#[test]
fn at_20_a_size_stands_alone() {
    for more in ["", "temperature: { block: 20.0, machine: 20.0 }\n"] {
        let bench = Bench { job_more: more.into(), ..Bench::default() }.block_of(SCATTERED);
        assert!(papers(&bench).iter().all(|(_, text)| !text.contains("on the block at")));
    }
}

/// Whether a text tells a figure with these digits and no more; a picture's path has others.
fn tells(text: &str, figure: &str) -> bool {
    let ends = |at: usize| !text[at + figure.len()..].starts_with(|c: char| c.is_ascii_digit() || c == ',');
    let begins = |at: usize| !text[..at].ends_with(|c: char| c.is_ascii_alphanumeric() || c == ',');
    text.match_indices(figure).any(|(at, _)| begins(at) && ends(at))
}

#[test]
fn one_size_is_one_figure_on_every_paper() {
    // 105.0315 - 0.03 = 105.0015, half way between two thousandths.
    let bench = Bench { barrels: vec![105.0315], ..Bench::default() }.block_of(SCATTERED);
    let mut told = Vec::new();
    for (name, text) in papers(&bench).iter().filter(|p| p.0 != "plan.json") {
        for figure in ["105.001", "105.002"] {
            // A list has the letter before its figure.
            if tells(text, figure) || (name.ends_with(".nc") && text.contains(figure)) {
                told.push((name.clone(), figure));
            }
        }
    }
    assert!(
        told.iter().any(|(name, _)| name.ends_with(".nc"))
            && told.iter().any(|(name, _)| name.ends_with(".pdf"))
    );
    assert!(told.iter().all(|(_, figure)| *figure == told[0].1), "{told:?}");
}
