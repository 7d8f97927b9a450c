//! Faults of an input: where, what was found, what is expected.

use std::fmt;

/// A place in a text file, both counted from 1; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The line.
    pub line: usize,
    /// The column.
    pub column: usize,
}

/// One fault of the input.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The file, as the job names it.
    pub file: String,
    /// Where in the file, where that can be said.
    pub place: Option<Place>,
    /// The path of the key (`banks[0].cylinders`), empty for the file as a whole.
    pub key: String,
    /// What was found.
    pub found: String,
    /// What is expected.
    pub expected: String,
    /// What may help.
    pub help: Option<String>,
    /// The line at fault.
    pub line_text: Option<String>,
}

/// All faults found; never empty once returned as an error.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Faults(pub Vec<Fault>);

/// Text of a user made fit for a terminal or a message: control and direction characters become `?`,
/// and what is longer than `most` characters is cut with an ellipsis.
#[must_use]
pub fn plain(text: &str, most: usize) -> String {
    let harmless = |c: char| if is_unprintable(c) { '?' } else { c };
    let mut shown: String = text.chars().take(most).map(harmless).collect();
    if text.chars().nth(most).is_some() {
        shown.push('…');
    }
    shown
}

/// Control characters, and the marks that reorder or hide text.
fn is_unprintable(c: char) -> bool {
    c.is_control()
        || matches!(u32::from(c), 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0xFEFF | 0xFFF9..=0xFFFB)
}

/// The widest line shown, characters: with its margin it fits a terminal of 80.
const WIDEST: usize = 68;

impl Fault {
    fn excerpt(&self) -> Option<String> {
        let (place, text) = (self.place?, self.line_text.as_deref()?);
        // A window of the line with the column in view.
        let column = place.column.saturating_sub(1);
        let skip = (column + 8).saturating_sub(WIDEST);
        let window = text.chars().enumerate().skip(skip);
        let cut = window.map(|(at, c)| if skip > 0 && at == skip { '…' } else { c });
        let shown = plain(&cut.collect::<String>().replace('\t', " "), WIDEST);
        let width = place.line.to_string().len();
        let caret = " ".repeat(column - skip.min(column));
        Some(format!("  {} | {shown}\n  {:width$} | {caret}^", place.line, ""))
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", plain(&self.file, 200))?;
        if let Some(place) = self.place {
            write!(f, ":{}:{}", place.line, place.column)?;
        }
        if !self.key.is_empty() {
            write!(f, ": {}", plain(&self.key, 120))?;
        }
        write!(f, ": found {}, expected {}", self.found, self.expected)?;
        if let Some(excerpt) = self.excerpt() {
            write!(f, "\n{excerpt}")?;
        }
        if let Some(help) = &self.help {
            write!(f, "\n  help: {help}")?;
        }
        Ok(())
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A thousand broken rows say no more than the first twenty.
        const SHOWN: usize = 20;
        let told = self.told();
        for (fault, alike) in told.iter().take(SHOWN) {
            match alike.as_slice() {
                [] => writeln!(f, "{fault}")?,
                alike => writeln!(f, "{}", empty_cells(fault, alike))?,
            }
        }
        if told.len() > SHOWN {
            writeln!(f, "… and {} more", told.len() - SHOWN)?;
        }
        Ok(())
    }
}

/// An empty cell, as found.
pub(super) const EMPTY: &str = "an empty cell";
/// So many empty cells of one file are a table that waits to be filled in.
const UNFILLED: usize = 3;

impl Faults {
    /// The faults as they are shown: the empty cells of a table that waits to be filled in stand behind its first.
    fn told(&self) -> Vec<(&Fault, Vec<&Fault>)> {
        let is_empty = |fault: &&Fault| fault.found == EMPTY;
        let mut told: Vec<(&Fault, Vec<&Fault>)> = Vec::new();
        for fault in &self.0 {
            let of_file = || self.0.iter().filter(is_empty).filter(|other| other.file == fault.file);
            if !is_empty(&fault) || of_file().count() < UNFILLED {
                told.push((fault, Vec::new()));
            } else if !told.iter().any(|(first, alike)| !alike.is_empty() && first.file == fault.file) {
                told.push((fault, of_file().collect()));
            }
        }
        told
    }
}

/// "bores.csv: 24 cells empty, from line 3: x, y, diameter".
fn empty_cells(first: &Fault, alike: &[&Fault]) -> String {
    let mut keys: Vec<&str> = Vec::new();
    for fault in alike {
        if !keys.contains(&fault.key.as_str()) {
            keys.push(&fault.key);
        }
    }
    let line = first.place.map_or(1, |place| place.line);
    format!(
        "{}:{line}: found {} empty cells, from line {line}, expected {} filled in",
        plain(&first.file, 200),
        alike.len(),
        plain(&keys.join(", "), 120)
    )
}

impl std::error::Error for Faults {}

/// The candidate nearest to a mistyped word, if near enough to be meant, as a question.
#[must_use]
pub fn did_you_mean<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    near(typed, known).map(|word| format!("did you mean `{word}`?"))
}

/// The candidate nearest to a mistyped word, if near enough to be meant.
#[must_use]
pub fn near<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    known
        .into_iter()
        .map(|word| (strsim::jaro_winkler(typed, word), word))
        // 0.75: "cylnders" (0.97) and "dia" for "diameter" (0.85) pass, unrelated words stay near 0.5.
        .filter(|(likeness, _)| *likeness >= 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_points_at_its_place() {
        let fault = Fault {
            file: "block.yaml".into(),
            place: Some(Place { line: 7, column: 14 }),
            key: "bore_spacing".into(),
            found: "-92 mm".into(),
            expected: "a bore spacing from 20 mm to 400 mm".into(),
            help: None,
            line_text: Some("bore_spacing: -92.0".into()),
        };
        insta::assert_snapshot!(fault.to_string(), @r"
        block.yaml:7:14: bore_spacing: found -92 mm, expected a bore spacing from 20 mm to 400 mm
          7 | bore_spacing: -92.0
            |              ^
        ");
    }

    #[test]
    fn control_and_direction_characters_never_reach_the_terminal() {
        assert_eq!(plain("a\u{1b}[31mb\u{202e}c\nd", 20), "a?[31mb?c?d");
        assert_eq!(plain("abcdef", 3), "abc…");
    }

    #[test]
    fn a_long_line_is_shown_around_its_fault() {
        let fault = Fault {
            file: "f".into(),
            place: Some(Place { line: 1, column: 501 }),
            key: String::new(),
            found: "x".into(),
            expected: "y".into(),
            help: None,
            line_text: Some(format!("{}X{}", "a".repeat(500), "b".repeat(500))),
        };
        let shown = fault.to_string();
        let lines: Vec<&str> = shown.lines().collect();
        let column = |line: &str, c: char| line.chars().position(|x| x == c);
        assert!(lines[1].contains("| …a"));
        assert_eq!(column(lines[1], 'X'), column(lines[2], '^'));
        assert!(lines.iter().all(|l| l.chars().count() <= 80));
    }
}
