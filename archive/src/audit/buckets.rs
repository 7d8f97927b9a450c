//! Sums sorted into 256 files by their first byte, so that no more than one file's worth is in memory at a time.

use std::fs::File;
use std::io::{self, BufReader, BufWriter, Read, Write};
use std::path::{Path, PathBuf};

use crate::record::Entry;
use crate::sum::Sum;

/// A sum and the number of bytes it is of.
const ROW: usize = 40;
/// Held back for each file before it is written, bytes.
const BUFFER: usize = 4096;

/// Sorts what comes into 256 files.
pub(super) struct Writer {
    folder: PathBuf,
    files: Vec<Option<BufWriter<File>>>,
}

/// What was sorted.
pub(super) struct Buckets {
    folder: PathBuf,
}

fn path(folder: &Path, first: usize) -> PathBuf {
    folder.join(format!("asked-{first:02x}"))
}

impl Writer {
    /// Into a folder; what another audit left there goes.
    pub(super) fn new(folder: &Path) -> io::Result<Self> {
        for first in 0..256 {
            match std::fs::remove_file(path(folder, first)) {
                Err(e) if e.kind() != io::ErrorKind::NotFound => return Err(e),
                _ => {}
            }
        }
        Ok(Self { folder: folder.to_owned(), files: (0..256).map(|_| None).collect() })
    }

    pub(super) fn add(&mut self, entry: &Entry) -> io::Result<()> {
        let sum = entry.sha256.bytes();
        let first = usize::from(sum[0]);
        let Some(place) = self.files.get_mut(first) else { return Ok(()) };
        if place.is_none() {
            *place = Some(BufWriter::with_capacity(BUFFER, File::create(path(&self.folder, first))?));
        }
        let Some(file) = place else { return Ok(()) };
        file.write_all(sum)?;
        file.write_all(&entry.bytes.to_le_bytes())
    }

    pub(super) fn done(self) -> io::Result<Buckets> {
        for mut file in self.files.into_iter().flatten() {
            file.flush()?;
        }
        Ok(Buckets { folder: self.folder })
    }
}

impl Buckets {
    /// The sums that begin with a byte, each once, in order, with the bytes they are of.
    pub(super) fn of(&self, first: usize) -> io::Result<Vec<(Sum, u64)>> {
        let file = match File::open(path(&self.folder, first)) {
            Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            other => other?,
        };
        let mut reader = BufReader::new(file);
        let (mut rows, mut row) = (Vec::new(), [0_u8; ROW]);
        loop {
            match reader.read_exact(&mut row) {
                Err(e) if e.kind() == io::ErrorKind::UnexpectedEof => break,
                other => other?,
            }
            if let (Some(sum), Some(bytes)) = (row.first_chunk::<32>(), row.last_chunk::<8>()) {
                rows.push((Sum::from_bytes(*sum), u64::from_le_bytes(*bytes)));
                // Doubles are taken out on the way: one drawing may stand in a hundred thousand records.
                if rows.len() % 65_536 == 0 {
                    rows.sort_unstable();
                    rows.dedup();
                }
            }
        }
        rows.sort_unstable();
        rows.dedup();
        Ok(rows)
    }
}
