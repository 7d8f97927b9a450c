//! Comments that no control can mistake for anything else.
//!
//! A comment stands on a line of its own, in one pair of parentheses. Whatever a job calls itself, its
//! words reach a list only through here.

/// Longest comment, without its parentheses: what small screens of controls show of a block.
const LONGEST: usize = 60;
/// Most lines that one text may take.
const MOST_LINES: usize = 8;
/// What a line may lose to the word that goes on in the next; a longer one is cut sooner.
const RAGGED: usize = 12;

/// One comment line; a text too long for it ends in three dots.
pub(crate) fn comment(text: &str) -> String {
    format!("({})", cut(&harmless(text), LONGEST))
}

/// As many comment lines as a longer text needs, up to a few.
pub(crate) fn comments(text: &str) -> Vec<String> {
    let text = cut(&harmless(text), (LONGEST - RAGGED) * MOST_LINES);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(' ') {
        let word = cut(word, LONGEST);
        if !line.is_empty() && line.len() + 1 + word.len() > LONGEST {
            lines.push(std::mem::take(&mut line));
        }
        match (line.is_empty(), word.strip_suffix(',')) {
            // At the head of a comment a word with a comma is an order to some controls.
            (true, Some(word)) if !lines.is_empty() => line.push_str(&format!("{word} -")),
            (true, _) => line.push_str(&word),
            (false, _) => line.push_str(&format!(" {word}")),
        }
    }
    lines.push(line);
    // Each line passes the gate again: a word that is harmless inside a text may not be so at its head.
    lines.iter().map(|line| comment(line)).collect()
}

/// The first so many characters; only called on ASCII.
fn cut(text: &str, longest: usize) -> String {
    if text.len() <= longest {
        return text.to_owned();
    }
    let kept: String = text.chars().take(longest.saturating_sub(3)).collect();
    format!("{}...", kept.trim_end())
}

/// Printable ASCII without any character that some control acts upon.
///
/// Parentheses would end a comment, `;` starts one elsewhere, `%` ends a tape, `:` and `/` and `\` open
/// a program number or skip a block, `!` and `~` are acted upon as they arrive by some controls, and a
/// first word with a comma right behind it is an order to a few others.
fn harmless(text: &str) -> String {
    let mut made = String::with_capacity(text.len().min(1024));
    // A degree of temperature has its letter, and needs no word besides.
    let text = text.replace("°C", "C").replace("°F", "F");
    // Far more than any comment shows; bounds the work on a text without end.
    for c in text.chars().take(2000) {
        match c {
            '(' | '{' => made.push('['),
            ')' | '}' => made.push(']'),
            ';' => made.push(','),
            '%' => made.push_str(" pct"),
            ':' => made.push_str(" -"),
            '/' | '\\' | '~' | '|' => made.push('-'),
            '!' => made.push('.'),
            '"' | '`' => made.push('\''),
            '#' | '$' | '@' | '&' | '*' | '^' => made.push('_'),
            ' '..='\u{7e}' => made.push(c),
            '\t' | '\n' | '\r' => made.push(' '),
            _ => made.push_str(plain(c)),
        }
    }
    let mut words = made.split_ascii_whitespace();
    let first = words.next().unwrap_or("-").trim_end_matches(',');
    let mut out = if first.is_empty() { "-".to_owned() } else { first.replace(',', "-") };
    for word in words {
        out.push(' ');
        out.push_str(word);
    }
    out
}

/// What stands in ASCII for a character of workshops and names; `?` where nothing does.
fn plain(c: char) -> &'static str {
    match c {
        '\u{a0}' | '\u{2009}' | '\u{202f}' => " ",
        '\u{b5}' | '\u{3bc}' => "u",
        '\u{2300}' => "dia ",
        '°' => " deg",
        '±' => "+-",
        '×' => "x",
        '–' | '—' | '−' | '‐' | '‑' => "-",
        '‘' | '’' | '“' | '”' | '´' => "'",
        '…' => "...",
        '≤' => "<=",
        '≥' => ">=",
        '½' => "0.5",
        '¼' => "0.25",
        '¾' => "0.75",
        '²' => "2",
        '³' => "3",
        '·' | '•' => "-",
        'À'..='Å' | 'Ā' | 'Ă' | 'Ą' => "A",
        'à'..='å' | 'ā' | 'ă' | 'ą' => "a",
        'Æ' => "AE",
        'æ' => "ae",
        'Ç' | 'Ć' | 'Č' => "C",
        'ç' | 'ć' | 'č' => "c",
        'Ď' | 'Đ' | 'Ð' => "D",
        'ď' | 'đ' | 'ð' => "d",
        'È'..='Ë' | 'Ē' | 'Ė' | 'Ę' | 'Ě' => "E",
        'è'..='ë' | 'ē' | 'ė' | 'ę' | 'ě' => "e",
        'Ğ' | 'Ģ' => "G",
        'ğ' | 'ģ' => "g",
        'Ì'..='Ï' | 'Ī' | 'Į' | 'İ' => "I",
        'ì'..='ï' | 'ī' | 'į' | 'ı' => "i",
        'Ķ' => "K",
        'ķ' => "k",
        'Ĺ' | 'Ľ' | 'Ł' | 'Ļ' => "L",
        'ĺ' | 'ľ' | 'ł' | 'ļ' => "l",
        'Ñ' | 'Ń' | 'Ň' | 'Ņ' => "N",
        'ñ' | 'ń' | 'ň' | 'ņ' => "n",
        'Ò'..='Ö' | 'Ø' | 'Ō' | 'Ő' => "O",
        'ò'..='ö' | 'ø' | 'ō' | 'ő' => "o",
        'Œ' => "OE",
        'œ' => "oe",
        'Ŕ' | 'Ř' => "R",
        'ŕ' | 'ř' => "r",
        'Ś' | 'Š' | 'Ş' | 'Ș' => "S",
        'ś' | 'š' | 'ş' | 'ș' => "s",
        'ß' => "ss",
        'Ť' | 'Ţ' | 'Ț' => "T",
        'ť' | 'ţ' | 'ț' => "t",
        'Ù'..='Ü' | 'Ū' | 'Ů' | 'Ű' | 'Ų' => "U",
        'ù'..='ü' | 'ū' | 'ů' | 'ű' | 'ų' => "u",
        'Ý' | 'Ÿ' => "Y",
        'ý' | 'ÿ' => "y",
        'Ź' | 'Ż' | 'Ž' => "Z",
        'ź' | 'ż' | 'ž' => "z",
        _ => "?",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_text_cannot_leave_its_parentheses() {
        assert_eq!(comment("X)\nG0 Z-100"), "(X] G0 Z-100)");
        assert_eq!(comment("%;:/\\"), "(pct ---)");
        assert_eq!(comment("MSG, hello"), "(MSG hello)");
        assert_eq!(comment("\u{1b}[2J\u{202e}"), "(?[2J?)");
        assert_eq!(comment("Ørn 5 µm, 90°"), "(Orn 5 um, 90 deg)");
        assert_eq!(comment("at 20 °C"), "(at 20 C)");
        assert_eq!(comment(""), "(-)");
    }

    proptest! {
        #[test]
        fn any_text_gives_short_plain_lines(text in any::<String>()) {
            for line in comments(&text).into_iter().chain([comment(&text)]) {
                prop_assert!(line.len() <= LONGEST + 2);
                prop_assert!(line.chars().all(|c| c == ' ' || c.is_ascii_graphic()));
                prop_assert!(line.starts_with('(') && line.ends_with(')'));
                let inside = &line[1..line.len() - 1];
                prop_assert!(!inside.contains(['(', ')', ';', '%', ':', '/', '\\']));
            }
        }
    }
}
