//! SHA-256 sums.

use std::fmt;
use std::io::{self, Read};

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use sha2::{Digest, Sha256};

/// A SHA-256 sum (FIPS 180-4); written as 64 lower-case hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sum([u8; 32]);

/// Read at once while summing, bytes.
const PIECE: usize = 128 * 1024;

impl Sum {
    /// Of bytes in memory.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// The sum of what is read to its end, with the number of bytes; memory stays flat.
    ///
    /// # Errors
    /// What the reader refuses.
    pub fn of_reader(reader: &mut dyn Read) -> io::Result<(Self, u64)> {
        Self::through(reader, |_| Ok(()))
    }

    /// The sum and the bytes of what a reader gives, each piece handed on as it is read.
    ///
    /// # Errors
    /// What the reader refuses, or whoever the pieces are handed to.
    pub(crate) fn through(
        reader: &mut dyn Read,
        mut piece: impl FnMut(&[u8]) -> io::Result<()>,
    ) -> io::Result<(Self, u64)> {
        let (mut hasher, mut bytes, mut buffer) = (Sha256::new(), 0_u64, vec![0_u8; PIECE]);
        loop {
            let read = match reader.read(&mut buffer) {
                Ok(0) => return Ok((Self(hasher.finalize().into()), bytes)),
                Ok(read) => read,
                Err(e) if e.kind() == io::ErrorKind::Interrupted => continue,
                Err(e) => return Err(e),
            };
            let part = buffer.get(..read).unwrap_or_default();
            hasher.update(part);
            piece(part)?;
            bytes = bytes.saturating_add(u64::try_from(read).unwrap_or(u64::MAX));
        }
    }

    /// A sum from exactly 64 lower-case hexadecimal digits; `None` of any other text.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return None;
        }
        let value = |digit: u8| match digit {
            b'0'..=b'9' => Some(digit - b'0'),
            b'a'..=b'f' => Some(digit - b'a' + 10),
            _ => None,
        };
        let mut sum = [0; 32];
        for (byte, pair) in sum.iter_mut().zip(digits.chunks(2)) {
            if let [high, low] = pair {
                *byte = value(*high)? * 16 + value(*low)?;
            }
        }
        Some(Self(sum))
    }

    /// From its 32 bytes.
    pub(crate) fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// The 32 bytes.
    #[must_use]
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// The short form for a paper log: twelve digits in groups, `a1b2-c3d4-e5f6`.
    #[must_use]
    pub fn short(&self) -> String {
        let hex = self.to_string();
        let group = |from: usize| hex.get(from..from + 4).unwrap_or_default();
        format!("{}-{}-{}", group(0), group(4), group(8))
    }

    /// Whether what somebody read off paper begins this sum: eight digits or more, hyphens and capitals let pass.
    #[must_use]
    pub fn begins_with(&self, typed: &str) -> bool {
        let digits = digits_of(typed);
        digits.len() >= 8 && self.to_string().starts_with(&digits)
    }
}

/// A reader that fails at its end where what was read has not the sum that it should have.
pub(crate) struct Checked<R> {
    inner: R,
    hasher: Sha256,
    expected: Sum,
    other: bool,
}

impl<R: Read> Checked<R> {
    pub(crate) fn new(inner: R, expected: Sum) -> Self {
        Self { inner, hasher: Sha256::new(), expected, other: false }
    }

    /// Whether what was read was something else.
    pub(crate) fn is_other(&self) -> bool {
        self.other
    }
}

impl<R: Read> Read for Checked<R> {
    fn read(&mut self, to: &mut [u8]) -> io::Result<usize> {
        let read = self.inner.read(to)?;
        self.hasher.update(to.get(..read).unwrap_or_default());
        if read == 0 && !to.is_empty() && Sum(self.hasher.clone().finalize().into()) != self.expected {
            self.other = true;
            return Err(io::Error::other("changed while it was read"));
        }
        Ok(read)
    }
}

/// What was typed of a sum, without hyphens and blanks, in small letters.
fn digits_of(typed: &str) -> String {
    typed.chars().filter(|c| !matches!(c, '-' | ' ')).flat_map(char::to_lowercase).collect()
}

/// Whether a text can be the beginning of a sum.
#[must_use]
pub(crate) fn is_prefix(typed: &str) -> bool {
    let digits = digits_of(typed);
    (8..=64).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_hexdigit())
}

/// The digits of a sum in groups, as paper has it: `a1b2-c3d4-e5f6` or a longer piece; `None` of any other word.
pub(crate) fn printed(word: &str) -> Option<String> {
    let groups: Vec<&str> = word.split('-').collect();
    let is_group = |(place, group): (usize, &&str)| {
        (group.len() == 4 || (place + 1 == groups.len() && (1..4).contains(&group.len())))
            && group.bytes().all(|b| b.is_ascii_hexdigit())
    };
    (groups.len() > 1 && groups.iter().enumerate().all(is_group)).then(|| groups.concat().to_lowercase())
}

impl fmt::Display for Sum {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Sum {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl Serialize for Sum {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Sum {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text).ok_or_else(|| de::Error::custom("expected 64 lower-case hexadecimal digits"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_of_abc_is_the_standards_example() {
        // Source: FIPS 180-4's example, "abc".
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Sum::of(b"abc").to_string(), expected);
        assert_eq!(Sum::parse(expected), Some(Sum::of(b"abc")));
        assert_eq!(Sum::of_reader(&mut b"abc".as_slice()).unwrap(), (Sum::of(b"abc"), 3));
        assert_eq!(Sum::of(b"abc").short(), "ba78-16bf-8f01");
    }

    #[test]
    fn only_lower_case_digits_of_the_right_number_are_a_sum() {
        let good = Sum::of(b"abc").to_string();
        assert_eq!(Sum::parse(&good.to_uppercase()), None);
        assert_eq!(Sum::parse(&good[1..]), None);
        assert_eq!(Sum::parse(&format!("g{}", &good[1..])), None);
    }

    #[test]
    fn what_was_read_off_paper_is_held_against_the_beginning() {
        let sum = Sum::of(b"abc");
        assert!(sum.begins_with("BA78-16BF-8F01") && sum.begins_with("ba78 16bf"));
        assert!(!sum.begins_with("ba78-16be-8f01"));
        // Too little to tell one of a hundred thousand.
        assert!(!sum.begins_with("ba78-16b"));
    }

    #[test]
    fn a_sum_in_groups_is_told_from_other_words_with_hyphens() {
        assert_eq!(printed("BA78-16bf-8f01").as_deref(), Some("ba7816bf8f01"));
        assert_eq!(printed("ba78-16").as_deref(), Some("ba7816"));
        for word in ["ba7816bf", "0412", "ba78-", "ba78-16bfa", "petrel-0412", "-ba78", ""] {
            assert_eq!(printed(word), None, "{word}");
        }
    }

    #[test]
    fn what_changes_while_it_is_read_is_an_error_at_its_end() {
        let mut same = Checked::new(b"abc".as_slice(), Sum::of(b"abc"));
        assert_eq!(Sum::of_reader(&mut same).unwrap().1, 3);
        let mut other = Checked::new(b"abd".as_slice(), Sum::of(b"abc"));
        assert!(Sum::of_reader(&mut other).is_err() && other.is_other());
    }

    #[test]
    fn a_large_reader_sums_as_its_bytes_do() {
        let bytes: Vec<u8> = (0..400_000_u32).flat_map(u32::to_le_bytes).collect();
        assert_eq!(Sum::of_reader(&mut bytes.as_slice()).unwrap(), (Sum::of(&bytes), 1_600_000));
    }
}
