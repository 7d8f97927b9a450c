//! Whose figures a suspicion puts in doubt.

use serde::{Serialize, Serializer};

/// The cylinders whose figures are in doubt; as JSON their list, empty where they are all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Doubts {
    /// Every cylinder's.
    All,
    /// Those of these, never of none.
    Cylinders(Vec<u32>),
}

impl Doubts {
    /// Whether a cylinder's figures are among them.
    #[must_use]
    pub fn of(&self, cylinder: u32) -> bool {
        match self {
            Self::All => true,
            Self::Cylinders(named) => named.contains(&cylinder),
        }
    }

    /// The cylinders that are named; none where they are all.
    #[must_use]
    pub fn named(&self) -> &[u32] {
        match self {
            Self::All => &[],
            Self::Cylinders(named) => named,
        }
    }
}

/// Where nothing says whose they are, they are all: a suspicion that holds lets no bore go for want of a name.
impl From<Vec<u32>> for Doubts {
    fn from(named: Vec<u32>) -> Self {
        if named.is_empty() { Self::All } else { Self::Cylinders(named) }
    }
}

impl FromIterator<u32> for Doubts {
    fn from_iter<I: IntoIterator<Item = u32>>(named: I) -> Self {
        Vec::from_iter(named).into()
    }
}

impl Serialize for Doubts {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.named().serialize(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_names_nobody_doubts_every_bore() {
        assert_eq!(Doubts::from(Vec::new()), Doubts::All);
        assert!(Doubts::All.of(3));
        let two = Doubts::from(vec![3, 5]);
        assert!(two.of(3) && !two.of(4));
        assert_eq!(two.named(), [3, 5]);
    }
}
