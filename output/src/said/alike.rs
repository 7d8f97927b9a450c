//! Sentences that say the same in other figures.

/// Whether two sentences say the same in other figures.
pub(crate) fn alike_but_figures(one: &str, other: &str) -> bool {
    apart_from_figures(one).eq(apart_from_figures(other))
}

/// A sentence without its figures, whatever their sign and length.
fn apart_from_figures(text: &str) -> impl Iterator<Item = char> {
    text.chars().filter(|c| !(c.is_ascii_digit() || ".-−+".contains(*c)))
}
