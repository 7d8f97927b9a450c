//! The cards: one moment of the work each, worked from top to bottom, each ending where the machine stops.
//!
//! A card is a file of this room; [`deal::Deal`] is the paper. Only the cards that a job needs are dealt: a job of which
//! nothing may be cut has the first alone.
//!
//! | [`order::Kind`] | opens in | title |
//! | --- | --- | --- |
//! | `Decide` | `decide.rs` | Decide |
//! | `SetUp` | `set_up.rs` | Set-up: BANK |
//! | `Cut` | `cut.rs` | Cut: BANK |
//! | `Pocket` | `pocket.rs` | Pocket: sizes and depths |
//! | `Fit` | `fit.rs` | Fit the sleeves |
//! | `Finish` | `finish.rs` | Finish bore and hone |
//!
//! Each bank has a set-up and its cuts, bank after bank: a V has two of each before the pocket. Finish bore and hone are one
//! card, bank after bank.

mod area;
mod asked;
mod boxes;
mod causes;
mod checks;
mod cut;
mod deal;
mod decide;
mod deck;
mod end_view;
mod finish;
mod fit;
mod flow;
mod found;
mod going;
mod grid;
mod hand;
mod iron;
mod leaf;
mod ledge;
mod lines;
mod list_files;
mod load;
mod looked;
mod margins;
mod order;
mod plate;
mod pocket;
mod ring;
mod screen;
mod set_up;
mod sleeves;
mod svg;
mod told;
mod tried;

use rayon::prelude::*;

use borewright_planner::Planning;
use borewright_planner::job::SheetUnits;
use borewright_planner::plan::{Plan, Verdict};

use super::sheet::{Sheet, Surveyed};
use crate::OutputError;
use crate::drawings::{self, Figure};
use crate::paper::about::{About, Labels};
use crate::paper::pdf;
use crate::paper::text::Fonts;
use crate::said::fingerprint::{CHECK_GROUPS, grouped};
use crate::said::short::{one_line, shorten};
use margins::Head;

/// The cards as files.
#[derive(Debug)]
pub(crate) struct Cards {
    /// Every card, to print.
    pub(crate) pdf: Vec<u8>,
    /// Each page by itself: its name without an ending, and its SVG.
    pub(crate) pictures: Vec<(String, String)>,
    /// Every card for a screen, an HTML file.
    pub(crate) screen: String,
}

/// Deals the cards of a plan.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub(crate) fn cards(
    planning: &Planning,
    plan: &Plan,
    surveyed: Option<Surveyed<'_>>,
    fonts: &Fonts,
) -> Result<Cards, OutputError> {
    let sheet = Sheet::of(planning, plan);
    let head = sheet.card_head();
    let cards = hand::dealt(&sheet, &head, surveyed, fonts)?;
    let count = cards.len();
    let (mut named, mut worded): (Vec<String>, Vec<[String; 2]>) = Default::default();
    let (mut bookmarks, mut pages, mut told) = (Vec::new(), Vec::new(), Vec::new());
    for (number, card) in (1_usize..).zip(cards) {
        bookmarks.push((fonts.clean(&format!("{number} {}", card.title.name)), pages.len()));
        let words = format!("{}, job {}", card.title.name, shorten(&plan.job));
        let about = format!(
            "Card {number} of {count}, verdict {}, fingerprint {}, program {}",
            plan.verdict.word(),
            plan.fingerprint,
            env!("CARGO_PKG_VERSION")
        );
        for (page, leaf) in (1_usize..).zip(card.leaves) {
            let stem = format!("{number}-{}", card.title.file);
            named.push(if page == 1 { stem } else { format!("{stem}-{page}") });
            worded.push([words.clone(), about.clone()]);
            pages.push(leaf.canvas);
        }
        told.push(card.told);
    }
    let about = About {
        title: format!("Cards, job {}", shorten(&plan.job)),
        identity: grouped(&plan.fingerprint, CHECK_GROUPS),
        bookmarks,
        labels: Labels::Cards,
    };
    let shown = || -> Result<(Vec<(String, String)>, String), OutputError> {
        let pages = pages.par_iter().zip(&worded);
        let figures: Result<Vec<Figure>, OutputError> =
            pages.map(|(page, [words, about])| svg::card(page, fonts, words, about)).collect();
        let figures = figures?;
        let pictures = || {
            let named = named.into_par_iter().zip(&figures);
            named.map(|(name, figure)| Ok((name, drawings::svg(figure, fonts)?))).collect()
        };
        let screen = || {
            let why = screen::Why::of(planning, sheet.units);
            screen::screen(fonts, &head, &plan.fingerprint, (&told, &why), &figures)
        };
        let (pictures, screen): (Result<_, OutputError>, _) = rayon::join(pictures, screen);
        Ok((pictures?, screen?))
    };
    // What is printed knows nothing of what is shown.
    let (pdf, shown) = rayon::join(|| pdf::write(&pages, fonts, &about), shown);
    let (pictures, screen) = shown?;
    Ok(Cards { pdf: pdf?, pictures, screen })
}

/// The pages as they are drawn.
#[cfg(test)]
fn leaves(
    planning: &Planning,
    plan: &Plan,
    fonts: &Fonts,
) -> Result<Vec<crate::paper::canvas::Canvas>, OutputError> {
    let report = planning.surveyed();
    let asked_on = super::figures(planning, plan, report.as_ref(), fonts)?.asked_on();
    let surveyed = report.as_ref().map(|report| Surveyed { report, asked_on });
    let sheet = Sheet::of(planning, plan);
    let cards = hand::dealt(&sheet, &sheet.card_head(), surveyed, fonts)?;
    Ok(cards.into_iter().flat_map(|card| card.leaves).map(|leaf| leaf.canvas).collect())
}

impl Sheet<'_> {
    fn card_head(&self) -> Head {
        let plan = self.plan;
        let customer = self.planning.job.customer.as_deref().unwrap_or_default();
        let block = [self.planning.job.block.name.as_str(), customer].map(|t| one_line(t, 60));
        let release = plan.release.as_ref();
        Head {
            job: self.plan.job.clone(),
            block: block.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(" · "),
            made: format!(
                "fingerprint {} · program {} · plan made on ____________",
                grouped(&plan.fingerprint, CHECK_GROUPS),
                env!("CARGO_PKG_VERSION")
            ),
            release: release
                .map(|r| format!("Released by {}: {}", one_line(&r.who, 60), one_line(&r.why, 240)))
                .unwrap_or_default(),
            state: match plan.verdict {
                Verdict::Go => "GO",
                Verdict::Hold => "HOLD",
                Verdict::Stop => "STOP",
            },
            consequence: self.consequence(),
            unit: match self.units.sheet {
                SheetUnits::Mm => "mm",
                SheetUnits::In => "inch",
                SheetUnits::Both => "mm (inch)",
            },
            lists: if self.machine == self.units || plan.passes.is_empty() {
                String::new()
            } else {
                format!("lists {}", self.lists_in())
            },
            boxes: if self.units.sheet == SheetUnits::Both { "Boxes: write mm, or say in." } else { "" },
        }
    }
}

#[cfg(test)]
mod tests;
