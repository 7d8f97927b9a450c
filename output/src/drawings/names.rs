//! File names of pictures.

use crate::said::slug::{distinct, slug};

/// Names that no two pictures of a survey share.
#[derive(Debug, Default)]
pub(super) struct Names {
    taken: Vec<String>,
}

impl Names {
    /// `KIND`, or `KIND-WORD` with the word cut down to letters, digits and hyphens.
    pub(super) fn of(&mut self, kind: &str, word: Option<&str>) -> String {
        let name = word.map_or_else(|| kind.to_owned(), |word| format!("{kind}-{}", slug(word)));
        distinct(name, &mut self.taken)
    }
}
