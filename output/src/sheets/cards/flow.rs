//! What the cards say, apart from paper: noted as each card is dealt, so that a screen tells the same lines in the same
//! order and decides nothing anew.

use borewright_planner::explain::Question;

use crate::drawings::Figure;

/// A card as it is read.
#[derive(Debug, Default)]
pub(super) struct Card {
    /// Its title.
    pub(super) title: String,
    /// What stands on it, from top to bottom.
    pub(super) blocks: Vec<Block>,
}

/// Something on a card. Its texts are as they were made: whoever shows them cleans and escapes them.
#[derive(Debug)]
pub(super) enum Block {
    /// Opens a part.
    Heading(String),
    /// A caution or the state, in a frame.
    Boxed {
        /// In a few words.
        title: String,
        /// More of it.
        text: String,
        /// Whether its frame is heavy.
        strong: bool,
    },
    /// A paragraph.
    Say {
        /// Its words.
        text: String,
        /// Whether they are bold.
        bold: bool,
    },
    /// A numbered line.
    Line {
        /// Its number on the card.
        number: u32,
        /// Its words.
        text: String,
        /// A second, smaller text.
        small: String,
        /// Its figures, in the order of their columns.
        figures: Vec<Told>,
    },
    /// Rows with a head.
    Table {
        /// What it shows.
        caption: String,
        /// The columns.
        heads: Vec<ColumnHead>,
        /// Its rows.
        rows: Vec<Vec<String>>,
    },
    /// A picture.
    Picture(Figure),
    /// Figures that a reader may want the account of.
    Why(Vec<Ask>),
    /// The end of a card.
    Stop(String),
}

/// What stands over a column of a table.
#[derive(Debug, Clone, Copy)]
pub(super) struct ColumnHead {
    /// Its name.
    pub(super) name: &'static str,
    /// Whether its figures are dialled, or held against what is measured: they are read from afar, their second unit below.
    pub(super) dialled: bool,
}

impl ColumnHead {
    /// Over words, or figures that nobody holds anything against.
    pub(super) const fn plain(name: &'static str) -> Self {
        Self { name, dialled: false }
    }

    /// Over figures that are dialled or held against what is measured.
    pub(super) const fn dialled(name: &'static str) -> Self {
        Self { name, dialled: true }
    }
}

/// A figure of a line.
#[derive(Debug)]
pub(super) struct Told {
    /// What stands above its column.
    pub(super) head: String,
    /// Which figure of a pass it is, as it is asked for.
    pub(super) about: &'static str,
    /// It; a second unit stands behind a line break.
    pub(super) figure: String,
}

/// A figure's word, and the question that its account answers.
pub(super) type Ask = (String, Question);
