//! Signs as they are set on paper.

/// Signs as they are set: a true minus before a figure, × between figures, ° and °C.
pub(super) fn polished(text: &str) -> String {
    let characters: Vec<char> = text.chars().collect();
    let mut made = String::with_capacity(text.len());
    let mut skip = 0_usize;
    for (i, c) in characters.iter().enumerate() {
        if skip > 0 {
            skip -= 1;
            continue;
        }
        let before = i.checked_sub(1).and_then(|at| characters.get(at)).copied().unwrap_or(' ');
        let earlier = i.checked_sub(2).and_then(|at| characters.get(at)).copied().unwrap_or(' ');
        let after = characters.get(i + 1).copied().unwrap_or(' ');
        let figure = |c: char| c.is_ascii_digit();
        let degrees = |from: usize| {
            let word: String = characters.iter().skip(from).take(3).collect();
            word == "deg" && !characters.get(from + 3).is_some_and(|c| c.is_alphanumeric())
        };
        match *c {
            ' ' if figure(before) && degrees(i + 1) => {
                made.push('°');
                skip = 3;
            }
            '-' if figure(after) && (before.is_whitespace() || "(,".contains(before)) => made.push('−'),
            'x' if before == ' ' && after == ' ' => made.push('×'),
            'C' if before == ' ' && figure(earlier) && !after.is_alphanumeric() => made.push_str("°C"),
            other => made.push(other),
        }
    }
    made
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
        assert_eq!(polished("0.5 x 45 deg, 90 degrees, 3 degx"), "0.5 × 45°, 90 degrees, 3 degx");
    }
}
