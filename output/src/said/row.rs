//! Numbers of a list's rows, as its file and the cards have them.

/// The highest line number that common controls take.
pub(crate) const HIGHEST_LINE: usize = 99_999;

/// From a row's number to the next in a list of so many moves: by tens while there are numbers, so that a row can be put in between.
pub(crate) const fn numbered_by(moves: usize) -> usize {
    if (moves + 1) * 10 <= HIGHEST_LINE { 10 } else { 1 }
}

/// The N number of a move, by its place from 0 in a list of so many: the opening row comes before them.
pub(crate) const fn line_number(moves: usize, index: usize) -> usize {
    (index + 2) * numbered_by(moves)
}
