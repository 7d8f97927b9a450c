//! The parts that a sentence is put together from: figures, sentences, words.

use std::fmt::{Display, Write as _};

use super::{BLANK, CLOSE, Mark, OPEN, Part, Quantity, Sentence};

/// What may stand in a sentence.
pub trait Tell {
    /// This value as it goes into marked text.
    fn tell(&self) -> impl Display + '_;
}

impl Tell for Quantity {
    fn tell(&self) -> impl Display + '_ {
        Mark(*self)
    }
}

/// What somebody writes in: room on a card, nothing anywhere else.
#[derive(Debug, Clone, Copy)]
pub struct Blank;

impl Tell for Blank {
    fn tell(&self) -> impl Display + '_ {
        format!("{OPEN}{BLANK}{CLOSE}")
    }
}

impl Tell for Sentence {
    fn tell(&self) -> impl Display + '_ {
        let mut text = String::new();
        for part in &self.0 {
            // Writing to a string has no way to fail.
            let _ = match part {
                Part::Words(words) => write!(text, "{words}"),
                Part::Figure(quantity) => write!(text, "{}", Mark(*quantity)),
                Part::Blank => write!(text, "{}", Blank.tell()),
            };
        }
        text
    }
}

impl Tell for str {
    fn tell(&self) -> impl Display + '_ {
        self.chars().filter(|c| *c != OPEN && *c != CLOSE).collect::<String>()
    }
}

impl Tell for String {
    fn tell(&self) -> impl Display + '_ {
        self.as_str().tell()
    }
}

impl<T: Tell + ?Sized> Tell for &T {
    fn tell(&self) -> impl Display + '_ {
        (**self).tell()
    }
}

macro_rules! tell_itself {
    ($($own:ty),*) => {
        $(impl Tell for $own {
            fn tell(&self) -> impl Display + '_ {
                *self
            }
        })*
    };
}

tell_itself!(u8, u32, u64, usize, i32, i64, f64, char, bool);
