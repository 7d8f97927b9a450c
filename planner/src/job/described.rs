//! The descriptions that a job was read from, kept to say where a figure stands.

use std::sync::{Arc, OnceLock};

use crate::read::source::Source;
use crate::read::whereabouts::Whereabouts;

/// The files of a job that are no tables, by what the job calls each: `job`, `block`, `sleeves[0]`, `machine`, `shop`.
#[derive(Debug, Clone, Default)]
pub struct Described(Vec<Arc<File>>);

#[derive(Debug)]
struct File {
    role: String,
    source: Source,
    /// Filled when a line of the file is first asked for.
    whereabouts: OnceLock<Whereabouts>,
}

impl Described {
    /// Keeps one.
    pub(crate) fn keep(&mut self, role: &str, source: Source) {
        self.0.push(Arc::new(File { role: role.to_owned(), source, whereabouts: OnceLock::new() }));
    }

    /// File and line of a key in the file of this role; `None` where it is not stated there.
    #[must_use]
    pub fn line_of(&self, role: &str, key: &str) -> Option<(&str, usize)> {
        let file = self.0.iter().find(|file| file.role == role)?;
        let whereabouts = file.whereabouts.get_or_init(|| Whereabouts::of(&file.source));
        Some((&file.source.name, whereabouts.line(key)?))
    }

    /// The file of this role.
    #[must_use]
    pub fn file(&self, role: &str) -> Option<&str> {
        self.0.iter().find(|file| file.role == role).map(|file| file.source.name.as_str())
    }
}
