//! The rows of one list with their line numbers and printed figures, checked once for both ways of writing.

use borewright_planner::plan::ListUnits;
use borewright_planner::plan::moves::{Move, MoveKind, MoveList};

use crate::OutputError;
use crate::said::number::{Fixed, NotPrintable};
use crate::said::row::{HIGHEST_LINE, line_number, numbered_by};

/// One row ready to be written.
#[derive(Debug, Clone)]
pub(crate) struct Row<'a> {
    /// Its N number.
    pub(crate) line: usize,
    /// The move behind it.
    pub(crate) of: &'a Move,
    /// X, Y, Z, I, J where given, in the list's unit.
    pub(crate) lengths: [Option<Fixed>; 5],
    /// mm/min or in/min.
    pub(crate) feed: Option<Fixed>,
    /// 1/min.
    pub(crate) rpm: Option<Fixed>,
}

/// A list's rows and the figures that end it.
#[derive(Debug, Clone)]
pub(crate) struct Rows<'a> {
    /// The rows, in order.
    pub(crate) rows: Vec<Row<'a>>,
    /// Sum of every printed X.
    pub(crate) sum_x: Fixed,
    /// Sum of every printed Y.
    pub(crate) sum_y: Fixed,
    /// What the list is in.
    pub(crate) units: ListUnits,
    /// N number of the opening row that sets plane, units and modes.
    pub(crate) opening_line: usize,
}

impl<'a> Rows<'a> {
    /// Numbers the rows and turns every figure into its printed form.
    ///
    /// # Errors
    /// Where a row could be read in two ways or holds a figure that cannot be printed.
    pub(crate) fn of(list: &'a MoveList, file: &str) -> Result<Self, OutputError> {
        let fault = |row: usize, why| OutputError::Row { list: file.to_owned(), row: row + 1, why };
        let step = numbered_by(list.moves.len());
        if (list.moves.len() + 1) * step > HIGHEST_LINE {
            return Err(fault(list.moves.len(), "more rows than a control can number"));
        }
        let last = list.moves.len().checked_sub(1).ok_or_else(|| fault(0, "the list has no rows"))?;
        let (units, decimals) = (list.units, list.units.decimals());
        let (mut sum_x, mut sum_y) = (Fixed::zero(decimals), Fixed::zero(decimals));
        let mut rows = Vec::with_capacity(list.moves.len());
        let (mut fed, mut turning) = (false, false);
        for (index, of) in list.moves.iter().enumerate() {
            fed |= of.feed_mm_per_min.is_some();
            turning = match of.kind {
                MoveKind::SpindleOn => true,
                MoveKind::SpindleOff => false,
                _ => turning,
            };
            if let Some(why) = ambiguity(of, State { last: index == last, fed, turning }) {
                return Err(fault(index, why));
            }
            let length = |value: Option<f64>| {
                value.map(|v| Fixed::new(told(units, v, decimals), decimals)).transpose()
            };
            let lengths =
                [length(of.x_mm)?, length(of.y_mm)?, length(of.z_mm)?, length(of.i_mm)?, length(of.j_mm)?];
            sum_x = sum_x.plus(lengths[0].unwrap_or(Fixed::zero(decimals)));
            sum_y = sum_y.plus(lengths[1].unwrap_or(Fixed::zero(decimals)));
            rows.push(Row {
                line: line_number(list.moves.len(), index),
                of,
                lengths,
                feed: positive(
                    of.feed_mm_per_min.map(|feed| told(units, feed, units.feed_decimals())),
                    units.feed_decimals(),
                )?,
                rpm: positive(of.rpm, 0)?,
            });
        }
        Ok(Self { rows, sum_x, sum_y, units, opening_line: step })
    }
}

/// A figure as the list has it: rounded already, and in mm, as it is; inches are that figure again.
fn told(units: ListUnits, mm: f64, decimals: usize) -> f64 {
    match units {
        ListUnits::Mm => mm,
        ListUnits::In(_) => units.told(mm, decimals),
    }
}

/// A feed or speed: nought and below would stand for different things on different controls.
fn positive(value: Option<f64>, decimals: usize) -> Result<Option<Fixed>, NotPrintable> {
    let Some(value) = value else { return Ok(None) };
    let fixed = Fixed::new(value, decimals)?;
    if fixed.is_negative() || fixed.is_zero() { Err(NotPrintable(value)) } else { Ok(Some(fixed)) }
}

/// What a row is read with.
#[derive(Clone, Copy)]
struct State {
    /// Whether it is the last.
    last: bool,
    /// Whether a feed is set, by it or before it.
    fed: bool,
    /// Whether the spindle turns behind it.
    turning: bool,
}

/// What controls would not all read alike about a row; `None` where they would.
fn ambiguity(of: &Move, State { last, fed, turning }: State) -> Option<&'static str> {
    let goes = of.x_mm.is_some() || of.y_mm.is_some() || of.z_mm.is_some();
    let centred = of.i_mm.is_some() && of.j_mm.is_some();
    let half_centred = of.i_mm.is_some() || of.j_mm.is_some();
    match of.kind {
        MoveKind::Rapid | MoveKind::Feed if half_centred => Some("a straight move with a circle centre"),
        MoveKind::Rapid if !goes => Some("a rapid without a target"),
        MoveKind::Feed if !goes => Some("a feed move without a target"),
        MoveKind::Clockwise | MoveKind::Anticlockwise
            if !(centred && of.x_mm.is_some() && of.y_mm.is_some()) =>
        {
            Some("a circle without X, Y, I and J all written")
        }
        MoveKind::Feed | MoveKind::Clockwise | MoveKind::Anticlockwise if !fed => {
            Some("a cut before any feed was set")
        }
        MoveKind::Feed | MoveKind::Clockwise | MoveKind::Anticlockwise if !turning => {
            Some("a cut with the spindle standing")
        }
        MoveKind::SpindleOn if of.rpm.is_none() => Some("spindle on without a speed"),
        MoveKind::SpindleOn | MoveKind::SpindleOff | MoveKind::Stop | MoveKind::End
            if goes || half_centred =>
        {
            Some("a stop or a spindle word on a row that moves")
        }
        MoveKind::End if !last => Some("rows after the end"),
        MoveKind::End => None,
        _ if last => Some("the last row must be the end"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing;

    #[test]
    fn a_row_that_two_controls_would_read_differently_is_refused() {
        let planning = testing::dunnock();
        let good = &planning.lists[0];
        assert!(Rows::of(good, "a").is_ok());
        let spoil = |change: &dyn Fn(&mut MoveList)| {
            let mut list = good.clone();
            change(&mut list);
            Rows::of(&list, "a").unwrap_err().to_string()
        };
        let first_cut = good.moves.iter().position(|m| m.kind == MoveKind::Feed).unwrap();
        insta::assert_snapshot!(spoil(&|l| l.moves[first_cut].feed_mm_per_min = None), @"list a, row 4: a cut before any feed was set");
        insta::assert_snapshot!(spoil(&|l| l.moves[first_cut].i_mm = Some(1.0)), @"list a, row 4: a straight move with a circle centre");
        insta::assert_snapshot!(spoil(&|l| { l.moves.pop(); }), @"list a, row 24: the last row must be the end");
        insta::assert_snapshot!(spoil(&|l| l.moves[first_cut].z_mm = Some(f64::NAN)), @"NaN cannot be printed as a plain decimal number");
        insta::assert_snapshot!(spoil(&|l| l.moves[0].rpm = Some(0.0)), @"0 cannot be printed as a plain decimal number");
    }
}
