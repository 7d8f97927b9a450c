//! Names cut short enough to stand in running text.

/// Longest name of a bank, sleeve or tool in running text; more is cut with an ellipsis.
const LONGEST_NAME: usize = 36;

/// A name short enough for running text.
pub(crate) fn shorten(name: &str) -> String {
    one_line(name, LONGEST_NAME)
}

/// At most so many characters, without line breaks.
pub(crate) fn one_line(text: &str, longest: usize) -> String {
    let words: Vec<&str> = text.split_whitespace().take(longest).collect();
    let line = words.join(" ");
    if line.chars().count() <= longest {
        return line;
    }
    let kept: String = line.chars().take(longest.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}
