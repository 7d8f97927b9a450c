//! What stands on a card, parted into what is read together: a line with its boxes and the accounts of its figures.

use crate::sheets::cards::flow::{Ask, Block};

/// What is read together.
#[derive(Default)]
pub(super) struct Part<'b> {
    /// Its first block: a numbered line, or anything else.
    pub(super) head: Option<&'b Block>,
    /// Tables that belong to it.
    pub(super) tables: Vec<&'b Block>,
    /// What can be asked of its figures.
    pub(super) why: Vec<&'b Ask>,
}

/// A card's parts in their order; how long it takes comes last, since nobody does anything by it.
pub(super) fn parts(blocks: &[Block]) -> Vec<Part<'_>> {
    let mut made: Vec<Part<'_>> = Vec::new();
    let mut times: Vec<&Ask> = Vec::new();
    for block in blocks {
        let last = made.last_mut();
        match (block, last) {
            (Block::Why(figures), last) => {
                let (of_time, own): (Vec<&Ask>, Vec<&Ask>) =
                    figures.iter().partition(|(_, question)| question.is_time());
                times.extend(of_time);
                match last {
                    Some(part) => part.why.extend(own),
                    None if own.is_empty() => {}
                    None => made.push(Part { why: own, ..Part::default() }),
                }
            }
            // Two tables below one line are one thing still; below a picture or words a table stands alone.
            (Block::Table { .. }, Some(part)) if part.why.is_empty() && part.is_line() => {
                part.tables.push(block)
            }
            (Block::Table { .. }, _) => made.push(Part { tables: vec![block], ..Part::default() }),
            _ => made.push(Part { head: Some(block), ..Part::default() }),
        }
    }
    if !times.is_empty() {
        made.push(Part { why: times, ..Part::default() });
    }
    made
}

impl Part<'_> {
    /// Whether it is a numbered line.
    fn is_line(&self) -> bool {
        matches!(self.head, Some(Block::Line { .. }))
    }
}

#[cfg(test)]
mod tests {
    use super::parts;
    use borewright_planner::explain::{Question, Whose};

    use crate::sheets::cards::flow::{Block, ColumnHead};

    fn why(word: &str, question: Question) -> Block {
        Block::Why(vec![(word.to_owned(), question)])
    }

    #[test]
    fn a_line_keeps_its_table_and_its_whys_and_times_come_last() {
        let line =
            Block::Line { number: 1, text: "CHECK 1".into(), small: String::new(), figures: Vec::new() };
        let table = Block::Table {
            caption: "CHECK 1".into(),
            heads: vec![ColumnHead::plain("cyl")],
            rows: Vec::new(),
        };
        let blocks = [
            why("time", Question::Lists { numbers: vec![10] }),
            line,
            table,
            why(
                "expected",
                Question::Check { check: 1, whose: Whose::Cylinder(1), about: Some("expected".into()) },
            ),
            Block::Stop("halt".into()),
        ];
        let made = parts(&blocks);
        let told: Vec<_> = made.iter().map(|p| (p.is_line(), p.tables.len(), p.why.len())).collect();
        assert_eq!(told, [(true, 1, 1), (false, 0, 0), (false, 0, 1)]);
    }
}
