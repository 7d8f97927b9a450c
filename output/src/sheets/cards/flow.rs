//! What the cards say, apart from paper: noted as each card is dealt, so that a screen tells the same lines in the same
//! order and decides nothing anew.

use borewright_planner::explain::Question;
use borewright_planner::plan::Stage;
use kurbo::Rect;

use super::leaf::Deal;
use super::svg;
use crate::OutputError;
use crate::drawings::Figure;
use crate::sheets::sheet::Sheet;

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
        /// Names of the columns.
        heads: Vec<&'static str>,
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

impl Deal<'_> {
    /// Notes what stands on the card being filled.
    pub(super) fn note(&mut self, block: Block) {
        self.told.blocks.push(block);
    }

    /// Where a picture begins.
    pub(super) fn marks(&self) -> usize {
        self.canvas.marks.len()
    }

    /// Notes what was drawn since as a picture of its own.
    ///
    /// # Errors
    /// Where a mark lies far off the card.
    pub(super) fn picture(
        &mut self,
        since: usize,
        area: Rect,
        title: &str,
        about: &str,
    ) -> Result<(), OutputError> {
        let marks = self.canvas.marks.get(since..).unwrap_or_default();
        let figure = svg::figure(marks, self.fonts, area, title, about)?;
        self.note(Block::Picture(figure));
        Ok(())
    }
}

impl Sheet<'_> {
    /// Notes what can be asked of the time of a card: of its lists, else of its stages.
    pub(super) fn note_time(&self, deal: &mut Deal<'_>, bank: Option<&str>, stages: &[Stage]) {
        let lists = self.planning.lists.iter();
        let own = lists.filter(|l| Some(l.bank.as_str()) == bank && stages.contains(&l.stage));
        let mut asked: Vec<Ask> = own
            .map(|l| (format!("time of list {}", l.number), Question::Lists { numbers: vec![l.number] }))
            .collect();
        let times = self.plan.times.iter().filter(|t| bank.is_none() && stages.contains(&t.stage));
        asked.extend(times.map(|t| {
            let stage = t.stage.word();
            (format!("{stage}: time"), Question::Stage { stage: stage.to_owned() })
        }));
        deal.note(Block::Why(asked));
    }
}
