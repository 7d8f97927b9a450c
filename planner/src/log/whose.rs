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
    /// What stands for each of those tables, in order: of two jobs that are one, most are alike where one table was put right. Empty
    /// where that is not known.
    tables: Vec<String>,
}

/// Digits that stand for a table.
const TABLE_DIGITS: usize = 8;
/// Most tables that are told apart; a job has some ten.
const MOST_TABLES: usize = 60;

impl Whose {
    /// Of a job by its number, its customer, its block's name and the files that it was read from, each by its name in
    /// the job and its sum.
    #[must_use]
    pub fn of<'a>(names: [&str; 3], inputs: impl Iterator<Item = (&'a str, &'a str)>) -> Self {
        let is_table = |name: &str| name != super::FILE && name.to_lowercase().ends_with(".csv");
        let mut tables: Vec<&str> = inputs.filter(|(name, _)| is_table(name)).map(|(_, sum)| sum).collect();
        tables.sort_unstable();
        let each = tables.iter().take(MOST_TABLES);
        let each = each.map(|sum| sum.chars().take(TABLE_DIGITS).collect()).collect();
        let read = match tables.as_slice() {
            [] => String::new(),
            all => sha256_hex(all.concat().as_bytes()).chars().take(12).collect(),
        };
        // A line of what is kept is divided by tabs.
        let [number, customer, block] =
            names.map(|name| name.split_whitespace().collect::<Vec<_>>().join(" "));
        Self { number, of: Some([customer, block, read]), tables: each }
    }

    /// Of a job of which its number alone is known.
    #[must_use]
    pub fn numbered(number: &str) -> Self {
        Self { of: None, tables: Vec::new(), ..Self::of([number, "", ""], std::iter::empty()) }
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

    /// Whether everything was read alike of both, as far as it is known.
    #[must_use]
    pub fn reads_as(&self, other: &Self) -> bool {
        self.of.as_ref().zip(other.of.as_ref()).is_none_or(|([.., own], [.., its])| own == its)
    }

    /// What was put right where another job is likely this one: its number, or its customer's or its block's name, that alone, with
    /// at least half of the tables that were read of the two alike. Another block's were read otherwise, every one. `None` where it
    /// is another job by all that is known.
    #[must_use]
    pub fn put_right(&self, other: &Self) -> Option<&'static str> {
        let ([customer, block, read], its) = self.of.as_ref().zip(other.of.as_ref())?;
        let names = [
            ("number", &self.number, &other.number),
            ("customer", customer, &its[0]),
            ("block", block, &its[1]),
        ];
        let mut others =
            names.into_iter().filter(|(_, own, other)| !alike(own, other)).map(|(word, ..)| word);
        let word = others.next().filter(|_| others.next().is_none())?;
        let shared = self.tables.iter().filter(|own| other.tables.contains(own)).count();
        let most = 2 * shared >= self.tables.len().max(other.tables.len());
        ((shared > 0 && most) || (!read.is_empty() && *read == its[2])).then_some(word)
    }

    /// Whether tables are known of both, and none was read alike.
    #[must_use]
    pub fn is_read_otherwise(&self, other: &Self) -> bool {
        let known =
            |of: &Self| !of.tables.is_empty() && of.of.as_ref().is_some_and(|[.., read]| !read.is_empty());
        known(self) && known(other) && !self.tables.iter().any(|own| other.tables.contains(own))
    }

    /// As it stands behind a sum.
    #[must_use]
    pub fn written(&self) -> String {
        let names = self.of.iter().flatten().map(|part| format!("\t{part}"));
        let tables = Some(self.tables.join(" ")).filter(|tables| !tables.is_empty());
        let tables = tables.map(|tables| format!("\t{tables}"));
        std::iter::once(self.number.clone()).chain(names).chain(tables).collect()
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
        let tables = parts.next().filter(|_| of.is_some()).unwrap_or_default();
        Self { number, of, tables: tables.split_whitespace().map(str::to_owned).collect() }
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
        let tables = |names: [&str; 3], sums: [&str; 3]| {
            Whose::of(names, ["a.csv", "b.csv", "c.csv"].into_iter().zip(sums))
        };
        let read = tables(["0412", "Saltmarsh", "Petrel 90"], ["a", "b", "c"]);
        assert_eq!(Whose::parsed(&read.written()), read);
        for (other, word) in [
            (tables(["0412", "Saltmarsh Ltd", "Petrel 90"], ["a", "x", "c"]), Some("customer")),
            (tables(["0412", "Saltmarsh", "Petrel"], ["a", "b", "x"]), Some("block")),
            (tables(["0421", "Saltmarsh", "Petrel 90"], ["a", "b", "c"]), Some("number")),
            (tables(["0412", "Saltmarsh Ltd", "Petrel 90"], ["a", "x", "y"]), None),
            (tables(["0421", "Saltmarsh Ltd", "Petrel 90"], ["a", "b", "c"]), None),
            (tables(["0412", "Other", "Petrel 90"], ["x", "y", "z"]), None),
            (Whose::numbered("0421"), None),
        ] {
            assert_eq!((read.put_right(&other), other.put_right(&read)), (word, word), "{other:?}");
        }
        // Both names corrected beside the same tables, or a number alone, are no proof of another block.
        assert!(!read.is_read_otherwise(&tables(["0421", "Other", "Petrel 90"], ["a", "x", "y"])));
        assert!(!read.is_read_otherwise(&Whose::numbered("0421")));
        assert!(read.is_read_otherwise(&tables(["0421", "Other", "Petrel 90"], ["x", "y", "z"])));
        let of = |other: &Whose| [own.told(other), other.told(&own)];
        let other = job(["0412", "", "Petrel 90"], "b");
        assert_eq!(of(&other), ["job 0412 for Saltmarsh Works", "job 0412 for nobody"]);
        assert_eq!(of(&job(["0413", "x", "y"], "b")), ["job 0412", "job 0413"]);
        assert!(Whose::of(["1", "", ""], std::iter::empty()).of.is_some_and(|of| of[2].is_empty()));
    }
}
