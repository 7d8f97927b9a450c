//! What the document may do: its own style and script by their sums, pictures and faces within it, and nothing else.

use base64::prelude::{BASE64_STANDARD, Engine as _};
use borewright_planner::read::source::sha256_hex;

/// The policy, as Content Security Policy Level 3 (W3C) writes it.
pub(super) fn meta(style: &str, script: &str) -> String {
    format!(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-{}'; script-src \
         'sha256-{}'; img-src data:; font-src data:; form-action 'none'; base-uri 'none'\"/>\n",
        sum(style),
        sum(script)
    )
}

/// A text's SHA-256 in base 64.
fn sum(text: &str) -> String {
    let hex = sha256_hex(text.as_bytes());
    let bytes =
        hex.as_bytes().chunks(2).filter_map(|two| u8::from_str_radix(str::from_utf8(two).ok()?, 16).ok());
    BASE64_STANDARD.encode(bytes.collect::<Vec<u8>>())
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
