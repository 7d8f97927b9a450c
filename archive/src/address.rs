//! Addresses of archives that lie in a bucket: `s3://BUCKET/PREFIX`.

use std::fmt;

/// What an address of a bucket begins with.
const SCHEME: &str = "s3://";
/// Longest prefix, characters: with the longest key behind it far below the 1024 bytes of a key.
const MOST_PREFIX: usize = 200;

/// A bucket and a prefix in it, both looked at: neither can lead anywhere else, and neither is ever a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    bucket: String,
    prefix: String,
}

/// Why a text that begins as an address is not one.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("found {found}, expected {expected}")]
pub struct AddressFault {
    /// What was found.
    pub found: String,
    /// What is expected.
    pub expected: &'static str,
}

impl Address {
    /// Whether a text is meant as an address and not as a folder.
    #[must_use]
    pub fn is_meant(text: &str) -> bool {
        text.get(..SCHEME.len()).is_some_and(|start| start.eq_ignore_ascii_case(SCHEME))
    }

    /// Reads an address; one stroke at its end is let pass.
    ///
    /// # Errors
    /// A bucket or prefix that cannot be one, or could be read as something else.
    pub fn parse(text: &str) -> Result<Self, AddressFault> {
        let rest = Self::is_meant(text).then(|| text.get(SCHEME.len()..)).flatten().unwrap_or_default();
        let (bucket, prefix) = rest.split_once('/').unwrap_or((rest, ""));
        let prefix = prefix.strip_suffix('/').unwrap_or(prefix);
        if !is_bucket(bucket) {
            return Err(AddressFault {
                found: format!("the bucket `{}`", shown(bucket)),
                expected: "3 to 63 small letters, digits, hyphens and points: s3://BUCKET/PREFIX",
            });
        }
        let good = prefix.is_empty() || (prefix.len() <= MOST_PREFIX && prefix.split('/').all(is_part));
        if !good {
            return Err(AddressFault {
                found: format!("the prefix `{}`", shown(prefix)),
                expected: "letters, digits, points, hyphens and low lines, in parts divided by one /",
            });
        }
        Ok(Self { bucket: bucket.to_owned(), prefix: prefix.to_owned() })
    }

    /// The bucket.
    #[must_use]
    pub fn bucket(&self) -> &str {
        &self.bucket
    }

    /// The prefix, without strokes at its ends; empty where the bucket is the archive.
    #[must_use]
    pub fn prefix(&self) -> &str {
        &self.prefix
    }
}

impl fmt::Display for Address {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{SCHEME}{}", self.bucket)?;
        if self.prefix.is_empty() { Ok(()) } else { write!(f, "/{}", self.prefix) }
    }
}

/// Whether a name can be a bucket's. Source: the storage service's user guide, naming rules of general purpose buckets;
/// what looks like four numbers is refused there too.
fn is_bucket(name: &str) -> bool {
    let own = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit();
    let ends = name.bytes().next().is_some_and(own) && name.bytes().last().is_some_and(own);
    let numbers =
        name.split('.').count() == 4 && name.split('.').all(|n| n.bytes().all(|b| b.is_ascii_digit()));
    (3..=63).contains(&name.len())
        && ends
        && name.bytes().all(|b| own(b) || matches!(b, b'-' | b'.'))
        && !name.contains("..")
        && !numbers
}

fn is_part(part: &str) -> bool {
    let plain = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_' | b'.');
    !matches!(part, "" | "." | "..") && part.bytes().all(plain)
}

fn shown(text: &str) -> String {
    text.chars().take(80).map(|c| if c.is_control() { '?' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_a_bucket_and_a_prefix() {
        for (text, bucket, prefix, told) in [
            ("s3://engine-works", "engine-works", "", "s3://engine-works"),
            ("S3://engine.works/", "engine.works", "", "s3://engine.works"),
            ("s3://b-1/Jobs_2026/x.y/", "b-1", "Jobs_2026/x.y", "s3://b-1/Jobs_2026/x.y"),
        ] {
            let address = Address::parse(text).unwrap();
            assert_eq!((address.bucket(), address.prefix()), (bucket, prefix));
            assert_eq!(address.to_string(), told);
        }
        assert!(!Address::is_meant("s3:/x") && !Address::is_meant("./s3://x") && !Address::is_meant("ü"));
    }

    #[test]
    fn what_could_lead_elsewhere_is_none() {
        let long = format!("s3://bucket/{}", "x".repeat(201));
        for text in [
            "s3://",
            "s3:///x",
            "s3://ab",
            "s3://Works",
            "s3://a..b",
            "s3://-ab",
            "s3://10.0.0.1",
            "s3://a b c",
            "s3://bucket//x",
            "s3://bucket/x//y",
            "s3://bucket/../x",
            "s3://bucket/./x",
            "s3://bucket/a b",
            "s3://bucket/a?b",
            "s3://bucket/a%2e",
            "s3://bucket/a\\b",
            "s3://bucket/\u{1b}[2J",
            "s3://user@host/x",
            "s3://bucket:80/x",
            "s3://bückett/x",
            &long,
        ] {
            let fault = Address::parse(text).unwrap_err();
            assert!(!fault.to_string().chars().any(char::is_control), "{text}");
        }
    }
}
