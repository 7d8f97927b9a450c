//! A card once it is filled: its pages, its title, and what they say.

use super::flow::Card;
use crate::paper::canvas::Canvas;

/// One page of a card.
#[derive(Debug)]
pub(super) struct Leaf {
    /// What is drawn on it.
    pub(super) canvas: Canvas,
    /// Whether it has a check.
    pub(super) checked: bool,
    /// How much of its height is taken, pt.
    pub(super) taken: f64,
    /// Its parts in their order: where each begins and how far down it asked for room, from the page's top, pt.
    pub(super) parts: Vec<[f64; 2]>,
}

/// A card's title.
#[derive(Debug, Clone)]
pub(super) struct Title {
    /// In a word or two.
    pub(super) name: String,
    /// The name as a part of a file name.
    pub(super) file: String,
}

/// A page that is to end sooner than it must.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sooner {
    /// Which, from 0.
    pub(super) page: usize,
    /// So far down from its top, pt.
    pub(super) to: f64,
}

/// A card as it was filled.
#[derive(Debug)]
pub(super) struct Filled {
    /// Its title.
    pub(super) title: Title,
    /// Its pages, without head and foot.
    pub(super) leaves: Vec<Leaf>,
    /// What its pages say, in words, for a screen.
    pub(super) told: Card,
    /// What an empty page of it has room for, pt.
    pub(super) full: f64,
    /// Where a page was cut off below its last block, which went over with what ends the card.
    pub(super) moved: Option<Sooner>,
    /// The page that has the names, from 0, where one has.
    pub(super) names_on: Option<usize>,
}
