//! Things below each other, each as near its own height as the others let it.

/// One of them, mm: where its middle would be, and how high it is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted {
    pub(super) middle: f64,
    pub(super) high: f64,
}

/// Their upper edges between two heights, mm: pushed down from above, then up from below. Where there is too little room they
/// go over the top, never into each other.
pub(super) fn spread(wanted: &[Wanted], [top, bottom]: [f64; 2]) -> Vec<f64> {
    let mut tops: Vec<f64> = Vec::new();
    let mut edge = top;
    for one in wanted {
        let at = (one.middle - one.high / 2.0).max(edge);
        edge = at + one.high;
        tops.push(at);
    }
    let mut edge = bottom;
    for (at, one) in tops.iter_mut().zip(wanted).rev() {
        *at = at.min(edge - one.high);
        edge = *at;
    }
    tops
}
