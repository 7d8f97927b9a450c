//! What the document may do: its own style and script by their sums, pictures within it, and nothing else.

use borewright_planner::read::source::sha256_hex;

/// The policy, as Content Security Policy Level 3 (W3C) writes it.
pub(super) fn meta(style: &str, script: &str) -> String {
    format!(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-{}'; script-src \
         'sha256-{}'; img-src data:; form-action 'none'; base-uri 'none'\"/>\n",
        sum(style),
        sum(script)
    )
}

/// A text's SHA-256 in base 64.
fn sum(text: &str) -> String {
    let hex = sha256_hex(text.as_bytes());
    let nibbles: Vec<u32> = hex.chars().filter_map(|c| c.to_digit(16)).collect();
    let bits = |at: usize| nibbles.get(at).copied();
    let mut made = String::new();
    // Three nibbles are two letters; 64 nibbles leave one over, and base 64 (RFC 4648, section 4) fills up with "=".
    for at in (0..nibbles.len()).step_by(3) {
        let whole = (0..3).fold(0, |sum, n| sum << 4 | bits(at + n).unwrap_or_default());
        let present = nibbles.len() - at;
        for (shift, there) in [(6, present >= 1), (0, present >= 2)] {
            if there {
                made.push(letter(whole >> shift & 63));
            }
        }
    }
    while !made.len().is_multiple_of(4) {
        made.push('=');
    }
    made
}

fn letter(six: u32) -> char {
    const LETTERS: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    usize::try_from(six).ok().and_then(|at| LETTERS.chars().nth(at)).unwrap_or('A')
}

#[cfg(test)]
mod tests {
    use super::sum;

    #[test]
    fn the_sum_of_nothing_is_the_known_one() {
        // SHA-256 of the empty text, e3b0c442…7852b855 (FIPS 180-4 example values of NIST), in base 64.
        assert_eq!(sum(""), "47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
    }
}
