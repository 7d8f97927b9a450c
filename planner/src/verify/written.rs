//! The list of a folder's files that lies beside them.

use std::path::Path;

use crate::read::bounds::MOST_LIST_BYTES;

/// How the list is called, and its first line.
#[derive(Debug, Clone, Copy)]
pub struct Written {
    /// Its file name.
    pub name: &'static str,
    /// Its first line.
    pub head: &'static str,
}

impl Written {
    /// Files and their sums as the list has them; `None` where there is none that can be read.
    pub(super) fn read(&self, folder: &Path) -> Option<Vec<(String, String)>> {
        let path = folder.join(self.name);
        // Reading a pipe in its place could wait for ever.
        std::fs::symlink_metadata(&path).ok().filter(|m| m.is_file() && m.len() <= MOST_LIST_BYTES)?;
        let text = std::fs::read_to_string(path).ok()?;
        let rest = text.strip_prefix(self.head)?.strip_prefix('\n')?;
        rest.lines()
            .map(|line| line.split_once(' ').map(|(sum, file)| (file.to_owned(), sum.to_owned())))
            .collect()
    }

    /// The list of these files.
    pub(super) fn text(&self, files: impl Iterator<Item = (String, String)>) -> String {
        let rows: String = files.map(|(file, sum)| format!("{sum} {file}\n")).collect();
        format!("{}\n{rows}", self.head)
    }
}
