//! Text on a sheet: cleaned, measured, wrapped, shortened.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::LazyLock;

use crate::OutputError;
use crate::paper::face::Face;

/// Longest text drawn; far beyond any sentence of a plan.
const LONGEST: usize = 1200;

/// Plain or bold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Weight {
    /// For reading.
    Plain,
    /// For finding.
    Bold,
}

/// The two faces of a sheet.
#[derive(Debug)]
pub(crate) struct Fonts {
    plain: Face,
    bold: Face,
    /// Whether both have all that ASCII prints.
    has_ascii: bool,
}

impl Fonts {
    /// Both faces, read once.
    ///
    /// # Errors
    /// Where a face that ships with the program does not read.
    pub(crate) fn load() -> Result<&'static Self, OutputError> {
        static FONTS: LazyLock<Result<Fonts, String>> = LazyLock::new(|| {
            Fonts::read().map_err(|fault| match fault {
                OutputError::Font(why) => why,
                other => other.to_string(),
            })
        });
        FONTS.as_ref().map_err(|fault| OutputError::Font(fault.clone()))
    }

    fn read() -> Result<Self, OutputError> {
        let plain = Face::read(dejavu::sans_condensed::regular())?;
        let bold = Face::read(dejavu::sans_condensed::bold())?;
        let has_ascii = (' '..='~').all(|c| plain.has(c) && bold.has(c));
        Ok(Self { plain, bold, has_ascii })
    }

    /// The face of a weight.
    pub(crate) fn face(&self, weight: Weight) -> &Face {
        match weight {
            Weight::Plain => &self.plain,
            Weight::Bold => &self.bold,
        }
    }

    /// Width of a text, pt.
    pub(crate) fn width(&self, text: &str, weight: Weight, size: f64) -> f64 {
        self.face(weight).width(text, size)
    }

    /// A text as it can be drawn: one line, single spaces, no control or direction marks, `?` for what
    /// neither face has (an unknown character would otherwise print as an empty box without a warning).
    pub(crate) fn clean(&self, text: &str) -> String {
        self.cleaned(text).into_owned()
    }

    /// The same, of a text that is mostly clean already.
    pub(crate) fn cleaned<'t>(&self, text: &'t str) -> Cow<'t, str> {
        if self.is_clean(text) {
            return text.into();
        }
        let mut made = String::with_capacity(text.len().min(LONGEST));
        let mut count = 0;
        for c in text.chars() {
            if is_mark(c) {
                continue;
            }
            let c = if c.is_whitespace() || c.is_control() { ' ' } else { c };
            if c == ' ' && (made.is_empty() || made.ends_with(' ')) {
                continue;
            }
            if count == LONGEST {
                made.push('…');
                break;
            }
            count += 1;
            made.push(if self.plain.has(c) && self.bold.has(c) { c } else { '?' });
        }
        made.truncate(made.trim_end().len());
        made.into()
    }

    /// Whether a text is clean for certain, told in one walk: printable ASCII, single spaces within.
    fn is_clean(&self, text: &str) -> bool {
        if !self.has_ascii || text.len() > LONGEST {
            return false;
        }
        let mut before = b' ';
        for byte in text.bytes() {
            if !(b' '..=b'~').contains(&byte) || (byte == b' ' && before == b' ') {
                return false;
            }
            before = byte;
        }
        before != b' ' || text.is_empty()
    }

    /// The text if it fits the width, else its beginning and an ellipsis.
    pub(crate) fn fit(&self, text: &str, weight: Weight, size: f64, width: f64) -> String {
        let text = self.clean(text);
        if self.width(&text, weight, size) <= width {
            return text;
        }
        let room = width - self.width("…", weight, size);
        let (kept, _) = self.split(&text, weight, size, room.max(0.0));
        format!("{}…", kept.trim_end())
    }

    /// The longest beginning within the width, and the rest.
    fn split<'a>(&self, text: &'a str, weight: Weight, size: f64, width: f64) -> (&'a str, &'a str) {
        let mut used = 0.0;
        let mut buffer = [0; 4];
        for (at, c) in text.char_indices() {
            used += self.width(c.encode_utf8(&mut buffer), weight, size);
            if used > width {
                return text.split_at(at);
            }
        }
        (text, "")
    }

    /// Lines no wider than the width, broken at spaces, inside a word only where it is wider than a line;
    /// a text of more lines than allowed ends in an ellipsis.
    pub(crate) fn wrap(&self, text: &str, weight: Weight, size: f64, width: f64, most: usize) -> Vec<String> {
        let text = self.cleaned(text);
        let face = self.face(weight);
        let mut lines = Vec::new();
        // A line with its width in font units.
        let (mut line, mut units) = (String::with_capacity(text.len()), 0.0);
        for word in text.split(' ') {
            if lines.len() > most {
                break;
            }
            let space = if line.is_empty() { 0.0 } else { face.units(" ") };
            let joined = units + space + face.units(word);
            if face.wide(joined, size) <= width {
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
                units = joined;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            let mut rest = word;
            while lines.len() <= most && self.width(rest, weight, size) > width {
                let (head, tail) = self.split(rest, weight, size, width);
                // At least one character goes on a line, however narrow.
                let cut = head.len().max(rest.chars().next().map_or(0, char::len_utf8));
                lines.push(rest[..cut].to_owned());
                rest = if head.is_empty() { &rest[cut..] } else { tail };
            }
            line = rest.to_owned();
            units = face.units(rest);
        }
        lines.push(line);
        if lines.len() > most {
            lines.truncate(most);
            if let Some(last) = lines.last_mut() {
                *last = self.fit(&format!("{last}…"), weight, size, width);
            }
        }
        lines
    }
}

/// Every character of some texts, once.
pub(crate) fn characters<'t>(texts: impl Iterator<Item = &'t str>) -> BTreeSet<char> {
    let (mut ascii, mut used) = ([false; 0x80], BTreeSet::new());
    for c in texts.flat_map(str::chars) {
        match usize::try_from(u32::from(c)).ok().and_then(|at| ascii.get_mut(at)) {
            Some(seen) => *seen = true,
            None => {
                used.insert(c);
            }
        }
    }
    used.extend((0_u8..).zip(ascii).filter(|(_, seen)| *seen).map(|(code, _)| char::from(code)));
    used
}

/// Characters that draw nothing themselves but change what stands beside them.
fn is_mark(c: char) -> bool {
    matches!(c,
        '\u{ad}' | '\u{61c}' | '\u{34f}' | '\u{feff}'
        | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{fff9}'..='\u{fffc}'
        | '\u{e0000}'..='\u{e0fff}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    static FONTS: LazyLock<&Fonts> = LazyLock::new(|| Fonts::load().unwrap());

    #[test]
    fn unknown_characters_and_marks_never_reach_the_page() {
        let fonts = Fonts::load().unwrap();
        assert_eq!(fonts.clean("a\u{202e}b\u{1b}[2J\n\t c\u{4e2d}"), "ab [2J c?");
        assert_eq!(fonts.clean("Ø 90 ± 0.01 µm ≤ ≥ ° ×"), "Ø 90 ± 0.01 µm ≤ ≥ ° ×");
        assert!(fonts.clean(&"x".repeat(10_000)).chars().count() <= LONGEST + 1);
    }

    #[test]
    fn a_sentence_breaks_at_its_spaces() {
        let fonts = Fonts::load().unwrap();
        let lines = fonts.wrap("bring each bore back to true", Weight::Plain, 10.0, 70.0, 9);
        assert!(lines.len() > 1 && lines.join(" ") == "bring each bore back to true");
    }

    proptest! {
        #[test]
        fn no_line_is_wider_than_its_column(text in any::<String>(), width in 12.0..300.0_f64, most in 1_usize..6) {
            let fonts = &*FONTS;
            let lines = fonts.wrap(&text, Weight::Bold, 10.0, width, most);
            prop_assert!(lines.len() <= most && !lines.is_empty());
            for line in &lines {
                let wide = fonts.width(line, Weight::Bold, 10.0) > width + 1e-6;
                prop_assert!(!wide || line.chars().count() <= 2);
                prop_assert!(line.chars().all(|c| fonts.face(Weight::Plain).has(c) && fonts.face(Weight::Bold).has(c)));
            }
        }
    }
}
