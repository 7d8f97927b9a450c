//! The cards for a screen: `job.html`, one file that fetches nothing and reads without its script.
//!
//! In: what the cards noted as they were dealt, and their pages as pictures, which are what it prints. Out: HTML that is
//! well-formed XML too. Only [`Page::text`] writes words, cleaned and escaped.

mod blanks;
mod blocks;
mod faces;
mod parts;
mod policy;
mod table;
mod why;

pub(super) use why::Why;

use rayon::prelude::*;

use super::flow::{Block, Card};
use super::margins::Head;
use crate::OutputError;
use crate::drawings::{self, Figure};
use crate::paper::polished::polished;
use crate::paper::text::Fonts;
use crate::said::short::shorten;

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");
/// What the foot of a card with checks says.
const OUTSIDE: &str = super::margins::OUTSIDE;
/// What the foot of every card says.
const VOID: &str = super::margins::VOID;

/// A document being written.
struct Page<'a> {
    fonts: &'a Fonts,
    why: &'a Why<'a>,
    made: String,
}

/// Writes it.
///
/// # Errors
/// Where a picture holds a place that is none.
pub(super) fn screen(
    fonts: &Fonts,
    head: &Head,
    fingerprint: &str,
    (cards, why): (&[Card], &Why<'_>),
    pages: &[Figure],
) -> Result<String, OutputError> {
    let style = faces::style(STYLE, fonts, (cards, pages))?;
    let card = |index: usize| {
        let mut page = Page { fonts, why, made: String::new() };
        page.card(head, cards, index)?;
        Ok(page.made)
    };
    let (each, printed): (Result<Vec<String>, OutputError>, Result<Vec<String>, OutputError>) = rayon::join(
        || (0..cards.len()).into_par_iter().map(card).collect(),
        || pages.par_iter().map(drawings::within).collect(),
    );
    let (each, printed) = (each?, printed?);
    let mut page = Page { fonts, why, made: String::with_capacity(1 << 20) };
    page.raw("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n");
    page.raw(&policy::meta(&style, SCRIPT));
    page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>");
    page.text(&format!("Cards, job {}, {}", shorten(&head.job), head.state));
    page.raw("</title>\n<style>");
    page.raw(&style);
    page.raw("</style>\n</head>\n<body>\n<form class=\"screen\" data-fingerprint=\"");
    page.text(fingerprint);
    page.raw("\">\n<header class=\"top\">\n<h1>");
    page.text(&format!("Cards, job {}", head.job));
    page.raw("</h1>\n<p>Tap a line's number when it is done: this screen alone remembers it. Tap a figure to see where it comes from. Readings go on the printed cards.</p>\n");
    page.raw("<nav aria-label=\"Cards\">\n<ul>\n");
    for (index, card) in cards.iter().enumerate() {
        page.raw(&format!("<li><a href=\"#card-{0}\">{0}\u{a0} ", index + 1));
        page.text(&card.title);
        page.raw("</a></li>\n");
    }
    page.raw("</ul>\n</nav>\n</header>\n<main>\n");
    each.iter().for_each(|card| page.raw(card));
    page.raw("</main>\n<button type=\"reset\" class=\"clear\">Clear all marks of this job</button>\n</form>\n<div class=\"print\" aria-hidden=\"true\">\n");
    printed.iter().for_each(|picture| page.raw(picture));
    page.raw("</div>\n<script>");
    page.raw(SCRIPT);
    page.raw("</script>\n</body>\n</html>\n");
    Ok(page.made)
}

impl Page<'_> {
    /// Markup of the program's own.
    fn raw(&mut self, markup: &str) {
        self.made.push_str(markup);
    }

    /// Words, from wherever they come, without lines to write on.
    fn text(&mut self, words: &str) {
        let words = blanks::unwritten(words);
        let words = polished(&words);
        self.made.push_str(&drawings::escaped(&self.fonts.cleaned(&words)));
    }

    /// Words between tags of a class.
    fn tagged(&mut self, tag: &str, class: &str, words: &str) {
        if words.is_empty() {
            return;
        }
        self.raw(&format!("<{tag} class=\"{class}\">"));
        self.text(words);
        self.raw(&format!("</{tag}>\n"));
    }

    /// Writes one card with its head and its ways to the cards before and after; nothing where there is none of this
    /// index.
    fn card(&mut self, head: &Head, cards: &[Card], index: usize) -> Result<(), OutputError> {
        let Some(card) = cards.get(index) else { return Ok(()) };
        let number = index + 1;
        self.raw(&format!(
            "<section class=\"card\" id=\"card-{number}\" aria-labelledby=\"title-{number}\">\n<div class=\"bar\">\n<h2 \
             id=\"title-{number}\"><b>"
        ));
        self.text(&card.title);
        self.raw("</b> <span>");
        self.text(&format!("card {number} of {}, job {}", cards.len(), head.job));
        self.raw("</span></h2>\n<p class=\"unit\"><span>lengths in</span>");
        self.text(head.unit);
        if !head.lists.is_empty() {
            self.raw("<span>");
            self.text(&head.lists);
            self.raw("</span>");
        }
        let strong = if head.consequence.is_empty() { "" } else { " strong" };
        self.raw(&format!("</p>\n<p class=\"state{strong}\">"));
        self.text(head.state);
        if !head.consequence.is_empty() {
            self.raw("<span>");
            self.text(head.consequence);
            self.raw("</span>");
        }
        self.raw("</p>\n</div>\n<div class=\"body\">\n");
        self.tagged("p", "release what", &head.release);
        for (at, part) in parts::parts(&card.blocks).iter().enumerate() {
            self.part(number, at, part)?;
        }
        // As at the foot of the printed pages.
        if card
            .blocks
            .iter()
            .any(|block| matches!(block, Block::Line { text, .. } if text.starts_with("CHECK ")))
        {
            self.tagged("p", "stop", OUTSIDE);
        }
        self.tagged("p", "void", VOID);
        // What it was made from: asked for seldom, so it takes no room where the work begins.
        self.raw("<p class=\"made\"><strong>");
        self.text(&format!("Job {}", head.job));
        self.raw("</strong> ");
        self.text(&[&head.block, &head.made].map(String::as_str).join(" \u{b7} "));
        self.raw("</p>\n");
        self.raw("</div>\n<nav class=\"top\" aria-label=\"Card ");
        self.raw(&format!("{number}\">\n<ul>\n"));
        let before = index.checked_sub(1);
        for (at, word) in [(before, "Back"), (Some(index + 1), "Next")] {
            let Some((at, other)) = at.and_then(|at| Some((at, cards.get(at)?))) else { continue };
            self.raw(&format!("<li><a href=\"#card-{}\">", at + 1));
            self.text(&format!("{word}: {} {}", at + 1, other.title));
            self.raw("</a></li>\n");
        }
        self.raw("</ul>\n</nav>\n</section>\n");
        Ok(())
    }
}

#[cfg(test)]
mod tests;
