//! How close the lines of a card stand.

/// Heights of lines, and the room round them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leading {
    /// Height of a line against its size.
    pub(super) of_size: f64,
    /// Above a heading and below its rule, pt.
    pub(super) heading: [f64; 2],
    /// Below a numbered line, pt.
    pub(super) step: f64,
    /// Below a paragraph, pt.
    pub(super) say: f64,
    /// Above and below the words of a frame together, and below it, pt.
    pub(super) boxed: [f64; 2],
}

/// Where there is room.
pub(super) const USUAL: Leading =
    Leading { of_size: 1.26, heading: [5.0, 4.0], step: 4.0, say: 3.0, boxed: [12.0, 6.0] };
/// Where a card is then one page.
pub(super) const CLOSE: Leading =
    Leading { of_size: 1.16, heading: [2.0, 2.0], step: 2.0, say: 1.5, boxed: [9.0, 3.0] };
/// Where that does not bring it onto a page less, and a little more does.
pub(super) const CLOSEST: Leading =
    Leading { of_size: 1.12, heading: [1.0, 1.0], step: 1.5, say: 1.0, boxed: [7.0, 2.0] };
