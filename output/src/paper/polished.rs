//! Signs as they are set on paper.

use std::borrow::Cow;

/// Signs as they are set: a true minus before a figure, × between figures, ° and °C.
pub(crate) fn polished(text: &str) -> Cow<'_, str> {
    if !may_change(text) {
        return text.into();
    }
    let mut made = String::with_capacity(text.len() + 8);
    let mut left = text.chars();
    let (mut earlier, mut before) = (' ', ' ');
    while let Some(c) = left.next() {
        let rest = left.as_str();
        let after = rest.chars().next().unwrap_or(' ');
        let figure = |c: char| c.is_ascii_digit();
        let behind_degrees =
            || rest.strip_prefix("deg").filter(|rest| !rest.starts_with(char::is_alphanumeric));
        match c {
            ' ' if figure(before)
                && let Some(behind) = behind_degrees() =>
            {
                made.push('°');
                left = behind.chars();
                (earlier, before) = ('e', 'g');
                continue;
            }
            '-' if figure(after) && (before.is_whitespace() || "(,".contains(before)) => made.push('−'),
            // "3 depths x 2 ways", "0.5 x 45 deg"; a coordinate of that name stands before its figure alone.
            'x' if before == ' '
                && (figure(earlier) || is_measured(&made))
                && rest.strip_prefix(' ').is_some_and(|rest| rest.starts_with(figure)) =>
            {
                made.push('×');
            }
            'C' if before == ' ' && figure(earlier) && !after.is_alphanumeric() => made.push_str("°C"),
            other => made.push(other),
        }
        (earlier, before) = (before, c);
    }
    made.into()
}

/// Whether anything in a text might be set otherwise, told at little cost: of most there is nothing.
fn may_change(text: &str) -> bool {
    let bytes = text.as_bytes();
    bytes.iter().enumerate().any(|(at, byte)| {
        let after = || bytes.get(at + 1);
        let behind_a_blank = || at > 0 && bytes[at - 1] == b' ';
        match byte {
            b'-' => after().is_some_and(u8::is_ascii_digit),
            b'x' => behind_a_blank() && after() == Some(&b' '),
            b'C' => behind_a_blank(),
            b'd' => behind_a_blank() && bytes[at..].starts_with(b"deg"),
            _ => false,
        }
    })
}

/// Whether what was said last is a count of depths, or a length with its unit, with or without brackets.
fn is_measured(said: &str) -> bool {
    let length =
        |unit| said.strip_suffix(unit).is_some_and(|rest| rest.ends_with(|c: char| c.is_ascii_digit()));
    said.ends_with("depths ") || [" mm ", " inch ", " in ", " in) "].into_iter().any(length)
}

#[cfg(test)]
mod tests {
    use super::polished;

    #[test]
    fn signs_are_set_as_such_and_names_are_left_alone() {
        assert_eq!(
            polished("-0.10 at 20 C, 3 depths x 2 ways; 897c-b5fe"),
            "−0.10 at 20 °C, 3 depths × 2 ways; 897c-b5fe"
        );
        assert_eq!(polished("(-1.5) 2-3 Cx"), "(−1.5) 2-3 Cx");
        assert_eq!(
            polished("x 44.0, x and y, x +0.02; off true x 3"),
            "x 44.0, x and y, x +0.02; off true x 3"
        );
        assert_eq!(polished("0.5 mm x 45 deg, 0.020 in x 45 deg"), "0.5 mm × 45°, 0.020 in × 45°");
        assert_eq!(polished("0.5 mm (0.020 in) x 45 deg"), "0.5 mm (0.020 in) × 45°");
        assert_eq!(polished("off in x 0.3"), "off in x 0.3");
        assert_eq!(polished("0.5 x 45 deg, 90 degrees, 3 degx"), "0.5 × 45°, 90 degrees, 3 degx");
        // Each sign by itself: what is told at little cost must not let one by.
        assert_eq!(polished("-1"), "−1");
        assert_eq!(polished("\u{a0}-1"), "\u{a0}−1");
        assert_eq!(polished("2 x 3"), "2 × 3");
        assert_eq!(polished("20 C"), "20 °C");
        assert_eq!(polished("90 deg"), "90°");
    }
}
