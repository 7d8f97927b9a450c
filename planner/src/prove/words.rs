//! Address words read from text: a grammar of its own, from ISO 6983-1 and `docs/formats.md` alone.
//!
//! It shares nothing with what writes lists, so that one mistake cannot be made twice. Figures are kept as
//! whole counts of their last digit, so that nothing is rounded by reading.

use super::flaw::{At, Flaws};
use super::unit::Unit;
use crate::read::fault::plain;

/// Longest line worth reading, bytes: controls show 128 at most.
const LONGEST: usize = 256;
/// The highest number that N takes.
const HIGHEST_BLOCK: i64 = 99_999;

/// A comment and its line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Comment {
    /// The line, from 1.
    pub(super) line: usize,
    /// Its text, without the parentheses.
    pub(super) text: String,
}

/// One block: the words of one line.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Block {
    /// Its place.
    pub(super) at: At,
    /// Preparatory words, by number.
    pub(super) g: Vec<u32>,
    /// Miscellaneous words, by number.
    pub(super) m: Vec<u32>,
    /// X, Y, Z, I, J, counts of the last digit: thousandths of a mm, ten-thousandths of an inch.
    pub(super) lengths: [Option<i64>; 5],
    /// F, counts of the last digit: tenths of a mm a minute, thousandths of an inch a minute.
    pub(super) feed: Option<i64>,
    /// S, turns a minute.
    pub(super) speed: Option<i64>,
    /// The comments between the block before and this one, or on its line.
    pub(super) notes: Vec<Comment>,
}

impl Block {
    /// Whether the block has no word at all.
    fn is_empty(&self) -> bool {
        self.at.block.is_none() && self.is_bare()
    }

    /// Whether the block has no word but its number.
    fn is_bare(&self) -> bool {
        self.g.is_empty()
            && self.m.is_empty()
            && self.lengths == [None; 5]
            && self.feed.is_none()
            && self.speed.is_none()
    }
}

/// A list as words.
#[derive(Debug, Default)]
pub(super) struct Words {
    /// The blocks, in order.
    pub(super) blocks: Vec<Block>,
    /// Comments behind the last block.
    pub(super) tail: Vec<Comment>,
}

/// Reads a list in a unit; what is no word is told in `flaws` and left out.
pub(super) fn read(text: &str, unit: Unit, flaws: &mut Flaws) -> Words {
    let mut words = Words::default();
    if text.trim().is_empty() {
        flaws.add(At::default(), "empty", "an empty file", "a coordinate list");
        return words;
    }
    let ends = ends(text);
    for (index, line) in text.split('\n').enumerate() {
        let number = index + 1;
        if ends.is_some_and(|ends| ends.contains(&index)) {
            continue;
        }
        // Files that went through some systems end their lines in two characters.
        let line = line.strip_suffix('\r').unwrap_or(line);
        if line.len() > LONGEST {
            flaws.add(
                number,
                "long_line",
                format!("a line of {} characters", line.len()),
                format!("at most {LONGEST}"),
            );
            continue;
        }
        let mut reader = Reader { line, at: 0, number, unit, flaws };
        let mut block = Block { at: number.into(), ..Block::default() };
        let notes = reader.block(&mut block);
        words.tail.extend(notes);
        if !block.is_empty() {
            block.notes = std::mem::take(&mut words.tail);
            words.blocks.push(block);
        }
    }
    words
}

/// What some systems set before a file and behind it.
const END: &str = "%";

/// The lines that are such an end, from 0: the first and the last that are not empty, both or none.
fn ends(text: &str) -> Option<[usize; 2]> {
    let mut lines = text.split('\n').map(bare).enumerate().filter(|(_, line)| !line.is_empty());
    let (first, last) = (lines.next()?, lines.last()?);
    (first.1 == END && last.1 == END).then_some([first.0, last.0])
}

/// A line without what an editor may set at its ends: blanks, tabs and one carriage return.
fn bare(line: &str) -> &str {
    line.strip_suffix('\r').unwrap_or(line).trim_matches([' ', '\t'])
}

/// One line on its way through.
struct Reader<'a> {
    line: &'a str,
    at: usize,
    number: usize,
    unit: Unit,
    flaws: &'a mut Flaws,
}

impl Reader<'_> {
    fn flaw(&mut self, block: &Block, code: &'static str, found: String, expected: &str) {
        self.flaws.add(block.at, code, found, expected);
    }

    fn peek(&self) -> Option<char> {
        self.line.get(self.at..)?.chars().next()
    }

    fn take(&mut self, c: char) {
        self.at += c.len_utf8();
    }

    /// Reads the words into `block`, hands back the comments.
    fn block(&mut self, block: &mut Block) -> Vec<Comment> {
        let mut notes = Vec::new();
        // Whether a comment stands behind a word of the row.
        let mut inside = false;
        while let Some(c) = self.peek() {
            match c {
                ' ' | '\t' => self.take(c),
                '(' => {
                    inside |= !block.is_empty();
                    notes.extend(self.comment(block));
                }
                'A'..='Z' => {
                    if std::mem::take(&mut inside) {
                        let found = "a comment between the words of a row".into();
                        self.flaw(block, "comment", found, "a comment before its row or behind it");
                    }
                    self.word(block, c);
                }
                _ => {
                    let shown = if c == '/' {
                        "the character `/`, a block skip: the control may leave the row out".to_owned()
                    } else if c == '\u{feff}' {
                        "a byte order mark, which an editor set before the text".to_owned()
                    } else if c == '\u{1a}' {
                        "a Ctrl-Z (1A), which some systems set behind a file".to_owned()
                    } else if (' '..='\u{7e}').contains(&c) {
                        format!("the character `{c}`")
                    } else {
                        format!("the character U+{:04X}", u32::from(c))
                    };
                    let expected = match c {
                        '\u{feff}' => "the list saved as plain text, without one",
                        '\u{1a}' => "the list without it, as it was written",
                        _ => "words such as X12.345, or a comment in parentheses, printable ASCII",
                    };
                    self.flaw(block, "character", shown, expected);
                    self.take(c);
                }
            }
        }
        notes
    }

    fn comment(&mut self, block: &Block) -> Option<Comment> {
        let rest = self.line.get(self.at + 1..).unwrap_or_default();
        let Some(end) = rest.find(')') else {
            self.at = self.line.len();
            self.flaw(block, "comment", "a comment that is not closed".into(), "a `)` on the same line");
            return None;
        };
        let text = rest.get(..end).unwrap_or_default();
        self.at += end + 2;
        if text.contains('(') {
            self.flaw(block, "comment", "a parenthesis within a comment".into(), "one pair of parentheses");
        }
        if text.chars().any(|c| !(' '..='\u{7e}').contains(&c)) {
            let shown = format!("the comment `{}`", plain(text, 60));
            self.flaw(block, "character", shown, "printable ASCII only");
        }
        // How many blanks stand between its words says nothing.
        let words: Vec<&str> = text.split_ascii_whitespace().collect();
        Some(Comment { line: self.number, text: words.join(" ") })
    }

    /// Reads one word, its letter at hand, into `block`; one that is not in the grammar, or stands a second time,
    /// becomes a flaw of the block.
    fn word(&mut self, block: &mut Block, letter: char) {
        self.take(letter);
        let start = self.at;
        while let Some(c) = self.peek().filter(|c| matches!(c, '0'..='9' | '.' | ',' | '-' | '+')) {
            self.take(c);
        }
        let figure = self.line.get(start..self.at).unwrap_or_default().to_owned();
        let shown = plain(&format!("{letter}{figure}"), 40);
        if figure.contains(',') {
            self.flaw(block, "decimal_comma", format!("{shown} with a comma"), "a decimal point");
            return;
        }
        match letter {
            'N' => match count(&figure, HIGHEST_BLOCK).and_then(|n| u32::try_from(n).ok()) {
                Some(n) if block.is_empty() => block.at.block = Some(n),
                _ => self.flaw(block, "number", shown, "one N with a whole number up to 99999 at the head"),
            },
            'G' | 'M' => {
                let expected = "G0 G1 G2 G3 G17 G90 G94 M0 M3 M5 M30, the word for the unit and nothing else";
                match count(&figure, 99).and_then(|n| u32::try_from(n).ok()) {
                    Some(n) if letter == 'G' => block.g.push(n),
                    Some(n) => block.m.push(n),
                    None => self.flaw(block, "unknown_word", format!("the word {shown}"), expected),
                }
            }
            'X' | 'Y' | 'Z' | 'I' | 'J' => {
                let Some(slot) = "XYZIJ".find(letter).and_then(|i| block.lengths.get_mut(i)) else { return };
                let twice = slot.is_some();
                match decimal(&figure, self.unit.places()) {
                    Some(value) if !twice => *slot = Some(value),
                    Some(_) => self.flaw(block, "twice", format!("{letter} twice"), "each letter once"),
                    None => {
                        let decimals = match self.unit {
                            Unit::Mm => "three decimals",
                            Unit::Inch => "four decimals, inches",
                        };
                        let expected = format!("{letter} with up to six digits, a point and {decimals}");
                        self.flaw(block, "number", shown, &expected);
                    }
                }
            }
            'F' => match decimal(&figure, self.unit.feed_places()) {
                Some(value) if block.feed.is_none() => block.feed = Some(value),
                _ => {
                    let expected = match self.unit {
                        Unit::Mm => "one F with a point and one decimal",
                        Unit::Inch => "one F with a point and three decimals, inches a minute",
                    };
                    self.flaw(block, "number", shown, expected);
                }
            },
            'S' => match count(&figure, 999_999) {
                Some(value) if block.speed.is_none() => block.speed = Some(value),
                _ => self.flaw(block, "number", shown, "one S with a whole number"),
            },
            _ => {
                let expected = "N G X Y Z I J F S M and nothing else";
                self.flaw(block, "unknown_word", format!("the word {shown}"), expected);
            }
        }
    }
}

/// A whole number without sign.
fn count(figure: &str, most: i64) -> Option<i64> {
    let plain = !figure.is_empty() && figure.len() <= 6 && figure.bytes().all(|b| b.is_ascii_digit());
    figure.parse().ok().filter(|n| plain && *n <= most)
}

/// A number with exactly so many decimals, as a count of its last digit.
fn decimal(figure: &str, decimals: usize) -> Option<i64> {
    let (negative, digits) = match figure.strip_prefix('-') {
        Some(digits) => (true, digits),
        None => (false, figure),
    };
    let (whole, part) = digits.split_once('.')?;
    let all_digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty()
        || whole.len() > 6
        || part.len() != decimals
        || !all_digits(whole)
        || !all_digits(part)
    {
        return None;
    }
    let value: i64 = format!("{whole}{part}").parse().ok()?;
    // Nothing with a minus is a slip, or a figure that lost its digits.
    match (negative, value) {
        (true, 0) => None,
        (true, _) => Some(-value),
        _ => Some(value),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> (Words, String) {
        let mut flaws = Flaws::default();
        let words = read(text, Unit::Mm, &mut flaws);
        let said: Vec<String> = flaws.sorted().iter().map(ToString::to_string).collect();
        (words, said.join("\n"))
    }

    #[test]
    fn words_are_read_with_or_without_spaces_and_comments_go_to_the_next_block() {
        let (words, said) =
            told("%\n(step 10)\n(more)\nN10\tG1 X-1.250Y0.000 F48.6 (here)\nN20 S344 M3\r\n%\n");
        assert_eq!(said, "");
        let [first, second] = words.blocks.as_slice() else { panic!("{words:?}") };
        assert_eq!(first.lengths, [Some(-1250), Some(0), None, None, None]);
        assert_eq!((first.feed, first.at.line, first.at.block), (Some(486), Some(4), Some(10)));
        let notes: Vec<&str> = first.notes.iter().map(|n| n.text.as_str()).collect();
        assert_eq!(notes, ["step 10", "more", "here"]);
        assert_eq!((second.speed, second.m.as_slice()), (Some(344), [3].as_slice()));
    }

    #[test]
    fn what_two_controls_would_read_differently_is_no_word() {
        for (line, code) in [
            ("N10 G1 X46", "number"),
            ("N10 G1 X46.02", "number"),
            ("N10 G1 X46.0200", "number"),
            ("N10 G1 X+46.020", "number"),
            ("N10 G1 X--6.020", "number"),
            ("N10 G1 X1234567.000", "number"),
            ("N10 G1 X.500", "number"),
            ("N10 G1 X", "number"),
            ("N10 G1 X1.000 X2.000", "twice"),
            ("N10 G1 X46,016", "decimal_comma"),
            ("N10 G1.1 X46.016", "unknown_word"),
            ("N10 G1 R46.016", "unknown_word"),
            ("N10 g1", "character"),
            ("/N10 G1", "character"),
            ("N10 G1 ; x", "character"),
            ("N10 G1 \u{2212}1", "character"),
            ("N10 G1\u{b}", "character"),
            ("(a", "comment"),
            ("N10 (here) G1 X1.000", "comment"),
            ("N10 G1 X1.000 (here) Y2.000 (and here)", "comment"),
            ("\u{feff}N10 G1", "character"),
            ("N10 M30\u{1a}", "character"),
            ("(a (b))", "comment"),
            ("(a) )", "character"),
            ("(\u{e9})", "character"),
            ("N100000 G1", "number"),
            ("N10 S344.5", "number"),
            ("N10 F48", "number"),
            ("N10 G0 X-0.000", "number"),
            ("G0 N10 X1.000", "number"),
            ("%", "character"),
            ("%\nN10 G1 X1.000\n", "character"),
            ("%\n%\nN10 G1 X1.000\n%\n", "character"),
            ("O1234", "unknown_word"),
            ("  \n\n", "empty"),
        ] {
            let mut flaws = Flaws::default();
            read(line, Unit::Mm, &mut flaws);
            let codes: Vec<&str> = flaws.sorted().iter().map(|f| f.code).collect();
            assert!(codes.contains(&code), "{line:?}: {codes:?}");
        }
    }

    #[test]
    fn a_figure_of_the_other_unit_is_no_word() {
        // An inch has four decimals and its feed three; a millimetre three and one: neither is read as the other.
        for (unit, line) in [
            (Unit::Inch, "N10 G1 X46.020"),
            (Unit::Inch, "N10 F48.6"),
            (Unit::Mm, "N10 G1 X1.8110"),
            (Unit::Mm, "N10 F1.913"),
        ] {
            let mut flaws = Flaws::default();
            read(line, unit, &mut flaws);
            assert_eq!(flaws.sorted().first().map(|f| f.code), Some("number"), "{line}");
        }
        let words = read("N10 G1 X1.8110 F1.913", Unit::Inch, &mut Flaws::default());
        assert_eq!((words.blocks[0].lengths[0], words.blocks[0].feed), (Some(18_110), Some(1_913)));
        // 1.8110 in are 45.9994 mm, 1.913 in/min 48.5902 mm/min: 1 in = 25.4 mm (NIST SP 811).
        assert!((Unit::Inch.length(18_110) - 45.999_4).abs() < 1e-9);
        assert!((Unit::Inch.feed(1_913) - 48.590_2).abs() < 1e-9);
    }

    proptest::proptest! {
        #[test]
        fn no_text_makes_it_panic(text in proptest::prelude::any::<String>()) {
            let _ = told(&text);
        }
    }
}
