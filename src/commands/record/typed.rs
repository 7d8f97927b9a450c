//! Lines as they are typed at the prompt, and those that nobody typed there: pasted, or sent by a scanner.

use std::io::BufRead;
use std::time::{Duration, Instant};

use crate::commands::print;
use crate::status::Failure;

/// A line that is there this soon after it was asked for was pasted, sent, or typed ahead: nobody reads a question and answers it
/// so fast. Common practice, no source.
const AT_ONCE: Duration = Duration::from_millis(150);

/// A line.
pub(super) struct Line {
    /// As it was typed, with its end.
    pub(super) text: String,
    /// Whether it was there when it was asked for.
    pub(super) at_once: bool,
    /// When it was read.
    pub(super) at: Instant,
}

/// What stands behind a line that took no place: of lines pasted with it nobody knows for which places they were meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Behind {
    /// Every line is for the place that is asked for.
    Counts,
    /// A place was put off: what is pasted behind that may have been meant for it.
    PutOff,
    /// A line was not taken.
    Refused,
}

/// What is typed.
pub(super) struct Typed<'i, I> {
    input: &'i mut I,
    behind: Behind,
    /// Whether something was passed over, which is told once for each line that took no place.
    told: bool,
    /// How many lines were passed over.
    passed: usize,
}

impl<'i, I: BufRead> Typed<'i, I> {
    pub(super) fn new(input: &'i mut I) -> Self {
        Self { input, behind: Behind::Counts, told: false, passed: 0 }
    }

    /// The line that comes next, whatever stood before it; `None` at the end of input.
    pub(super) fn any(&mut self) -> Result<Option<Line>, Failure> {
        let (asked, mut text) = (Instant::now(), String::new());
        if self.input.read_line(&mut text)? == 0 {
            return Ok(None);
        }
        Ok(Some(Line { text, at_once: asked.elapsed() < AT_ONCE, at: Instant::now() }))
    }

    /// The line for what is asked now: behind one that took no place, what was pasted with it is passed over, and that is said.
    pub(super) fn next(&mut self) -> Result<Option<Line>, Failure> {
        while let Some(line) = self.any()? {
            let is_blank = line.text.trim().is_empty();
            let counts = match self.behind {
                Behind::Counts => true,
                // A key held down puts off one place after the other.
                Behind::PutOff => !line.at_once || is_blank,
                Behind::Refused => !line.at_once,
            };
            if counts {
                if !is_blank {
                    self.behind = Behind::Counts;
                }
                return Ok(Some(line));
            }
            self.passed += 1;
            if !self.told {
                self.told = true;
                print(
                    b"\n  what was pasted behind that is not read: for which places it was meant is not known. Type on here, or give \
                      all boxes of a check at once: `record JOB 7 --page FILE`\n> ",
                )?;
            }
        }
        Ok(None)
    }

    /// A place was put off by a blank line.
    pub(super) fn put_off(&mut self) {
        if self.behind == Behind::Counts {
            (self.behind, self.told) = (Behind::PutOff, false);
        }
    }

    /// A line was not taken, or something is asked that nobody who pasted knew of.
    pub(super) fn refuse(&mut self) {
        (self.behind, self.told) = (Behind::Refused, false);
    }

    /// Whether lines were passed over: they are still to be typed.
    pub(super) fn passed_over(&self) -> bool {
        self.passed > 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(all: &str, act: impl Fn(&mut Typed<'_, &[u8]>, &str)) -> Vec<String> {
        let mut input = all.as_bytes();
        let mut typed = Typed::new(&mut input);
        let mut read = Vec::new();
        while let Some(line) = typed.next().unwrap() {
            let text = line.text.trim().to_owned();
            act(&mut typed, &text);
            read.push(text);
        }
        read
    }

    #[test]
    fn behind_a_line_that_took_no_place_nothing_pasted_is_read() {
        let act = |typed: &mut Typed<'_, &[u8]>, text: &str| match text {
            "" => typed.put_off(),
            "x" => typed.refuse(),
            _ => {}
        };
        for (pasted, read) in [
            ("1\n2\n3\n", vec!["1", "2", "3"]),
            ("1\nx\n3\n\n4\n", vec!["1", "x"]),
            ("1\n\n3\n\n4\n", vec!["1", "", ""]),
        ] {
            assert_eq!(texts(pasted, act), read, "{pasted:?}");
        }
    }
}
