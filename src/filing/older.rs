//! Whether a job that is to be filed is an older state of one that the archive knows.

use std::collections::BTreeMap;

use borewright_archive::{Archive, Record};
use borewright_planner::read::bounds::MOST_RECORD_BYTES;
use borewright_planner::record::FILE;

use crate::status::Failure;

/// How many lines the record of a filed job has that the job's own, as it is to be filed, has not; what cannot be read
/// says nothing.
///
/// # Errors
/// The archive went away.
pub(crate) fn lines_more(archive: &Archive, filed: &Record, own: &[u8]) -> Result<usize, Failure> {
    let Some(entry) = filed.file(&format!("job/{FILE}")).filter(|e| e.bytes <= MOST_RECORD_BYTES) else {
        return Ok(0);
    };
    let mut bytes = Vec::new();
    if archive.give_back(entry, &mut bytes).is_err() {
        archive.still_there()?;
        return Ok(0);
    }
    Ok(missing(&bytes, own))
}

/// Lines of one text that another has not, each as often as it stands there.
fn missing(filed: &[u8], own: &[u8]) -> usize {
    let lines = |text| -> Vec<&[u8]> {
        let all = <[u8]>::split(text, |byte| *byte == b'\n').map(<[u8]>::trim_ascii);
        all.filter(|line| !line.is_empty()).collect()
    };
    let mut there: BTreeMap<&[u8], usize> = BTreeMap::new();
    for line in lines(own) {
        *there.entry(line).or_default() += 1;
    }
    let mut count = 0;
    for line in lines(filed) {
        match there.get_mut(line) {
            Some(left) if *left > 0 => *left -= 1,
            _ => count += 1,
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::missing;

    #[test]
    fn lines_are_missed_whatever_their_ends_and_as_often_as_they_stand() {
        assert_eq!(missing(b"a\nb\n", b"a\r\nb\r\nc"), 0);
        assert_eq!(missing(b"a\nb\nb\n", b"b\na\n"), 1);
        assert_eq!(missing(b"a\n\n", b""), 1);
        assert_eq!(missing(b"", b"a"), 0);
    }
}
