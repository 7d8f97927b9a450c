//! The cards dealt: each by itself, its pages shared out, then head and foot put on all of them.

use rayon::prelude::*;

use super::deal::Deal;
use super::leaf::{Filled, Leaf, Sooner};
use super::margins::{Head, body_top, draw_foot, draw_head};
use super::order::Kind;
use crate::OutputError;
use crate::paper::text::Fonts;
use crate::sheets::sheet::{Sheet, Surveyed};

/// A last page that is filled less than this is given some of the page before it.
const HALF: f64 = 0.5;
/// Of what a page has room for, what closer lines may still bring onto it.
const LITTLE_OVER: f64 = 1.1;
/// What the last page has at the least where card 1 is signed on its first.
const LEAST_BEHIND: f64 = 0.4;
/// Tries at it.
const TRIES: usize = 3;

/// All cards of a plan in the order of work.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub(super) fn dealt(
    sheet: &Sheet<'_>,
    head: &Head,
    surveyed: Option<Surveyed<'_>>,
    fonts: &Fonts,
) -> Result<Vec<Filled>, OutputError> {
    let kinds = sheet.order_of_cards(fonts);
    // The last card takes as long as all others: begun first, it is not waited for alone.
    let kinds = kinds.into_par_iter().rev();
    let made: Result<Vec<Option<Filled>>, OutputError> =
        kinds.map(|kind| shared_out(sheet, head, surveyed, fonts, kind)).collect();
    let mut cards: Vec<Filled> = made?.into_iter().rev().flatten().collect();
    let count = cards.len();
    for (number, card) in (1_usize..).zip(&mut cards) {
        let pages = card.leaves.len();
        for (page, leaf) in (1_usize..).zip(&mut card.leaves) {
            let mut place = format!("card {number} of {count}");
            if pages > 1 {
                place.push_str(&format!(", page {page} of {pages}"));
            }
            draw_head(&mut leaf.canvas, fonts, head, &card.title.name, &place);
            draw_foot(&mut leaf.canvas, fonts, head, (&place, leaf.checked));
        }
    }
    Ok(cards)
}

/// A card whose last page is not nearly empty where the page before it can spare something.
fn shared_out(
    sheet: &Sheet<'_>,
    head: &Head,
    surveyed: Option<Surveyed<'_>>,
    fonts: &Fonts,
    kind: Kind,
) -> Result<Option<Filled>, OutputError> {
    let deal = |sooner: &[Sooner], spacing: Spacing| {
        dealt_one(sheet, head, surveyed, fonts, (kind, sooner.to_vec()), spacing)
    };
    // A block that went over with the end of the card is dealt anew at the head of its page.
    let settled = |sooner: &[Sooner], spacing: Spacing| -> Result<Option<Filled>, OutputError> {
        let made = deal(sooner, spacing)?;
        let Some(moved) = made.as_ref().and_then(|card| card.moved) else { return Ok(made) };
        let again = deal(&[sooner, &[moved]].concat(), spacing)?;
        let pages = |card: &Option<Filled>| card.as_ref().map(|card| card.leaves.len());
        Ok(if pages(&again) == pages(&made) { again } else { made })
    };
    let mut spacing = Spacing::Usual;
    let Some(mut best) = settled(&[], spacing)? else { return Ok(None) };
    // What is set up and dialled is seen at once where it can be, its picture as low as it then has to be.
    if is_little_over(&best) || (matches!(kind, Kind::SetUp(_) | Kind::Decide) && best.leaves.len() == 2) {
        for closer in [Spacing::Close, Spacing::Closest] {
            let close = settled(&[], closer)?;
            if let Some(close) = close.filter(|close| close.leaves.len() < best.leaves.len()) {
                (best, spacing) = (close, closer);
                break;
            }
        }
    }
    // What is decided and signed stands on one page where all of the card does not.
    if kind == Kind::Decide && best.leaves.len() > 1 && best.names_on != Some(0) {
        for spacing in [Spacing::SignedEarly, Spacing::SignedEarlyClose] {
            let early = deal(&[], spacing)?;
            let is_better = |early: &Filled| {
                let behind = early.leaves.last().map_or(0.0, |last| last.taken);
                early.names_on == Some(0)
                    && early.leaves.len() <= best.leaves.len()
                    && behind >= LEAST_BEHIND * early.full
            };
            if let Some(early) = early.filter(is_better) {
                return Ok(Some(early));
            }
        }
    }
    let [.., before, last] = best.leaves.as_slice() else { return Ok(Some(best)) };
    if last.taken >= HALF * best.full {
        return Ok(Some(best));
    }
    let page = best.leaves.len() - 2;
    for to in endings(before, last.taken).into_iter().take(TRIES) {
        if let Some(tried) = settled(&[Sooner { page, to }], spacing)?
            && tried.leaves.len() == page + 2
            && least(&tried) > least(&best)
        {
            best = tried;
            break;
        }
    }
    Ok(Some(best))
}

/// Whether a card has little more on it than a page less has room for.
fn is_little_over(card: &Filled) -> bool {
    let taken: f64 = card.leaves.iter().map(|leaf| leaf.taken).sum();
    let fewer: f64 = card.leaves.iter().skip(1).map(|_| card.full).sum();
    fewer > 0.0 && taken <= LITTLE_OVER * fewer
}

/// What the emptier of a card's last two pages has on it, pt.
fn least(card: &Filled) -> f64 {
    card.leaves.iter().rev().take(2).map(|leaf| leaf.taken).fold(f64::INFINITY, f64::min)
}

/// Where a page may end sooner, from its top, pt, the evenest first: only where a part asked for more than those before it, and
/// only where the emptier of the two pages would then be fuller than the `last` is now (pt).
fn endings(page: &Leaf, last: f64) -> Vec<f64> {
    let mut found: Vec<(f64, f64)> = Vec::new();
    let mut before = 0.0;
    for [from, down] in &page.parts {
        let emptier = from.min(page.taken - from + last);
        if *down > before && emptier > last {
            found.push((emptier, f64::midpoint(before, *down)));
        }
        before = before.max(*down);
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, to)| to).collect()
}

/// How close the lines of a card stand.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Spacing {
    Usual,
    Close,
    Closest,
    SignedEarly,
    SignedEarlyClose,
}

fn dealt_one(
    sheet: &Sheet<'_>,
    head: &Head,
    surveyed: Option<Surveyed<'_>>,
    fonts: &Fonts,
    (kind, sooner): (Kind, Vec<Sooner>),
    spacing: Spacing,
) -> Result<Option<Filled>, OutputError> {
    let mut deal = Deal::new(fonts, body_top(fonts, head), sooner);
    match spacing {
        Spacing::Usual | Spacing::SignedEarly => {}
        Spacing::Close | Spacing::SignedEarlyClose => deal.close_lines(),
        Spacing::Closest => deal.closest_lines(),
    }
    if matches!(spacing, Spacing::SignedEarly | Spacing::SignedEarlyClose) {
        deal.sign_early();
    }
    match kind {
        Kind::Decide => sheet.decide(&mut deal, surveyed)?,
        Kind::SetUp(bank) => sheet.set_up_card(&mut deal, bank)?,
        Kind::Cut(bank) => sheet.cut_card(&mut deal, bank)?,
        Kind::Pocket => sheet.pocket_card(&mut deal)?,
        Kind::Fit => sheet.fit_card(&mut deal)?,
        Kind::Finish => sheet.finish_card(&mut deal)?,
    }
    Ok(deal.finish())
}
