//! A file as text, read within bounds.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use super::fault::{Fault, Place};

/// A line longer than this is not shown with its fault, bytes: a table of one endless line would be held in
/// memory once for each of its faults.
const LONGEST_SHOWN: usize = 16 * 1024;

/// A file read whole.
#[derive(Debug, Clone)]
pub struct Source {
    /// Its name as the job has it.
    pub name: String,
    /// Where it lies.
    pub path: PathBuf,
    /// Its text, a byte-order mark taken off.
    pub text: String,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
}

/// SHA-256 as lower-case hexadecimal.
#[must_use]
pub fn sha256_hex(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Whether a text names one of this program's formats. A key can name any file of the system, and no line of a
/// foreign one is shown.
pub(super) fn is_description(text: &str) -> bool {
    text.lines().any(|line| line.trim_start().trim_start_matches(['{', '"', '\'', ' ']).starts_with("format"))
}

impl Source {
    /// Reads a regular file of at most `most_bytes` as UTF-8.
    ///
    /// # Errors
    /// A fault of the file as a whole: missing, not a file, too large, not UTF-8.
    pub fn read(name: &str, path: &Path, most_bytes: u64) -> Result<Self, Box<Fault>> {
        let whole = |found: String, expected: &str| {
            Box::new(Fault {
                file: name.to_owned(),
                place: None,
                key: String::new(),
                found,
                expected: expected.to_owned(),
                help: None,
                line_text: None,
            })
        };
        let io = |e: &std::io::Error| match e.kind() {
            std::io::ErrorKind::NotFound => whole("no such file".into(), "a file that can be read"),
            _ => whole(format!("a file that cannot be read ({e})"), "a file that can be read"),
        };
        // Opening a pipe or device could wait for ever: look first.
        let about = std::fs::metadata(path).map_err(|e| io(&e))?;
        if about.is_dir() {
            return Err(whole("a folder".into(), "a file"));
        }
        if !about.is_file() {
            return Err(whole("something that is not a regular file".into(), "a file"));
        }
        let file = File::open(path).map_err(|e| io(&e))?;
        let mut bytes = Vec::new();
        file.take(most_bytes + 1).read_to_end(&mut bytes).map_err(|e| io(&e))?;
        if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > most_bytes {
            let expected = format!("at most {} KiB", most_bytes / 1024);
            return Err(whole("a file larger than that".into(), &expected));
        }
        let sha256 = sha256_hex(&bytes);
        let text = String::from_utf8(bytes).map_err(|e| {
            let valid = e.utf8_error().valid_up_to();
            let before = String::from_utf8_lossy(&e.as_bytes()[..valid]);
            let (line, start) = before.split('\n').enumerate().last().unwrap_or_default();
            let mut fault = whole("bytes that are not UTF-8".into(), "text saved as UTF-8");
            fault.place = Some(Place { line: line + 1, column: start.chars().count() + 1 });
            let lossy = String::from_utf8_lossy(e.as_bytes());
            if is_description(&before) {
                fault.line_text =
                    lossy.lines().nth(line).filter(|text| text.len() <= LONGEST_SHOWN).map(str::to_owned);
            }
            fault.help = Some("save the file again with the encoding UTF-8".into());
            fault
        })?;
        let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
        Ok(Self { name: name.to_owned(), path: path.to_owned(), text, sha256 })
    }

    /// The text of a line counted from 1; `None` where it is too long to be shown.
    #[must_use]
    pub fn line(&self, line: usize) -> Option<String> {
        let text = self.text.lines().nth(line.checked_sub(1)?)?;
        (text.len() <= LONGEST_SHOWN).then(|| text.to_owned())
    }

    /// The place of a key, given that of its value: before it on its line, or on a line shortly above.
    #[must_use]
    pub fn key_place(&self, value: Place, key: &str) -> Place {
        const ABOVE: usize = 3;
        let lines: Vec<&str> = self.text.lines().take(value.line).collect();
        for (index, text) in lines.iter().enumerate().rev().take(1 + ABOVE) {
            let before = if index + 1 == value.line { value.column.saturating_sub(1) } else { usize::MAX };
            let upto = text.char_indices().nth(before).map_or(text.len(), |(at, _)| at);
            if let Some(at) = text.get(..upto).and_then(|text| text.rfind(key)) {
                return Place {
                    line: index + 1,
                    column: text.get(..at).map_or(0, |t| t.chars().count()) + 1,
                };
            }
        }
        value
    }

    /// A fault at a place of this file.
    #[must_use]
    pub fn fault(&self, place: Option<Place>, key: &str, found: String, expected: String) -> Fault {
        Fault {
            file: self.name.clone(),
            place,
            key: key.to_owned(),
            found,
            expected,
            help: None,
            line_text: place.and_then(|p| self.line(p.line)),
        }
    }
}
