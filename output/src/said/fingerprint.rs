//! Fingerprints in groups of four, the way they are read out across a workshop.

/// Groups of the fingerprint shown on paper, as many as the commands print: enough that two sheets of a
/// shop never share them.
pub(crate) const CHECK_GROUPS: usize = 3;

/// The first so many groups of four characters, as `check` and `plan` print them; anything but letters and
/// digits is left out.
pub(crate) fn grouped(fingerprint: &str, groups: usize) -> String {
    let characters: Vec<char> = fingerprint.chars().filter(char::is_ascii_alphanumeric).take(256).collect();
    let groups: Vec<String> = characters.chunks(4).take(groups).map(|g| g.iter().collect()).collect();
    groups.join("-")
}

#[cfg(test)]
mod tests {
    use super::grouped;

    #[test]
    fn a_fingerprint_is_read_in_fours() {
        assert_eq!(grouped("0123456789abcdef", 3), "0123-4567-89ab");
        assert_eq!(grouped("01)\n2", 9), "012");
    }
}
