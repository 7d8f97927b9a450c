//! Whose block a record is of, as it is kept beside the sum of its last line.

use crate::read::fault::plain;
use crate::read::name::alike;
use crate::read::source::sha256_hex;

/// A job as a record of it is known again.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Whose {
    /// The job's number; empty where nothing says of which job a record is.
    pub number: String,
    /// Its customer, its block's name, and what stands for the tables that were read of it; `None` where they are not
    /// known.
    pub of: Option<[String; 3]>,
}

impl Whose {
    /// Of a job by its number, its customer, its block's name and the files that it was read from, each by its name in
    /// the job and its sum.
    #[must_use]
    pub fn of<'a>(names: [&str; 3], inputs: impl Iterator<Item = (&'a str, &'a str)>) -> Self {
        let is_table = |name: &str| name != super::FILE && name.to_lowercase().ends_with(".csv");
        let mut tables: Vec<&str> = inputs.filter(|(name, _)| is_table(name)).map(|(_, sum)| sum).collect();
        tables.sort_unstable();
        let read = match tables.as_slice() {
            [] => String::new(),
            all => sha256_hex(all.concat().as_bytes()).chars().take(12).collect(),
        };
        // A line of what is kept is divided by tabs.
        let [number, customer, block] =
            names.map(|name| name.split_whitespace().collect::<Vec<_>>().join(" "));
        Self { number, of: Some([customer, block, read]) }
    }

    /// Of a job of which its number alone is known.
    #[must_use]
    pub fn numbered(number: &str) -> Self {
        Self { of: None, ..Self::of([number, "", ""], std::iter::empty()) }
    }

    /// Whether both are one job: of one number, and of one customer and block or with everything read alike, where a name
    /// was put right.
    #[must_use]
    pub fn is(&self, other: &Self) -> bool {
        let same = |[customer, block, read]: &[String; 3], other: &[String; 3]| {
            (alike(customer, &other[0]) && alike(block, &other[1])) || (!read.is_empty() && *read == other[2])
        };
        alike(&self.number, &other.number)
            && self.of.as_ref().zip(other.of.as_ref()).is_none_or(|(own, other)| same(own, other))
    }

    /// As it stands behind a sum.
    #[must_use]
    pub fn written(&self) -> String {
        let names = self.of.iter().flatten().map(|part| format!("\t{part}"));
        std::iter::once(self.number.clone()).chain(names).collect()
    }

    /// From what stands behind a sum; by the number alone where no names are there.
    pub(super) fn parsed(text: &str) -> Self {
        let mut parts = text.split('\t').map(str::to_owned);
        let number = parts.next().unwrap_or_default();
        let names = [parts.next(), parts.next(), parts.next()];
        let of = match names {
            [Some(customer), Some(block), Some(read)] => Some([customer, block, read]),
            _ => None,
        };
        Self { number, of }
    }

    /// In words, beside another job: by its number, and by the names where the number is one.
    pub(super) fn told(&self, other: &Self) -> String {
        let number = format!("job {}", plain(&self.number, 60));
        let (Some([customer, block, _]), Some(others)) = (&self.of, &other.of) else { return number };
        if !alike(&self.number, &other.number) {
            return number;
        }
        let named = |word: &str, name: &str, other: &str| {
            let name = plain(if name.is_empty() { "nobody" } else { name }, 60);
            if alike(&name, other) { String::new() } else { format!(" {word} {name}") }
        };
        number + &named("for", customer, &others[0]) + &named("of block", block, &others[1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job(names: [&str; 3], sum: &str) -> Whose {
        Whose::of(names, [("bores.csv", sum), ("job.yaml", "x"), (crate::log::FILE, sum)].into_iter())
    }

    #[test]
    fn a_job_is_known_again_by_its_number_and_its_names_or_what_was_read() {
        let own = job(["0412", "Saltmarsh  Works", "Petrel 90"], "a");
        assert_eq!(Whose::parsed(&own.written()), own);
        for same in [
            job(["0412", "saltmarsh works", "Petrel 90"], "b"),
            job(["0412", "Saltmarsh Works Ltd", "Petrel"], "a"),
            Whose::numbered("0412"),
            Whose::parsed("0412"),
        ] {
            assert!(own.is(&same) && same.is(&own), "{same:?}");
        }
        for other in [
            job(["0413", "Saltmarsh Works", "Petrel 90"], "a"),
            job(["0412", "Other Shop", "Petrel 90"], "b"),
            job(["0412", "Saltmarsh Works", "Kittiwake"], "b"),
            Whose::default(),
        ] {
            assert!(!own.is(&other) && !other.is(&own), "{other:?}");
        }
        let of = |other: &Whose| [own.told(other), other.told(&own)];
        let other = job(["0412", "", "Petrel 90"], "b");
        assert_eq!(of(&other), ["job 0412 for Saltmarsh Works", "job 0412 for nobody"]);
        assert_eq!(of(&job(["0413", "x", "y"], "b")), ["job 0412", "job 0413"]);
        assert!(Whose::of(["1", "", ""], std::iter::empty()).of.is_some_and(|of| of[2].is_empty()));
    }
}
