//! Whole numbers in digits, at little cost: sheets and pictures are some hundred thousand of them, and the general way of
//! writing one took most of their time.

/// Room for the digits of any number.
const MOST: usize = 10;

/// The digits of a number.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Digits {
    digits: [u8; MOST],
    first: usize,
}

impl Digits {
    /// Of a number; of 0 one nought.
    pub(crate) fn of(value: u32) -> Self {
        let mut made = Self { digits: [b'0'; MOST], first: MOST };
        let mut left = value;
        while left > 0 || made.first == MOST {
            made.first -= 1;
            made.digits[made.first] = digit(left);
            left /= 10;
        }
        made
    }

    /// As bytes.
    pub(crate) fn bytes(&self) -> &[u8] {
        &self.digits[self.first..]
    }

    /// Behind a text.
    pub(crate) fn onto(&self, made: &mut String) {
        for byte in self.bytes() {
            made.push(char::from(*byte));
        }
    }
}

/// The last digit of a number.
pub(crate) fn digit(value: u32) -> u8 {
    b"0123456789"[usize::try_from(value % 10).unwrap_or_default()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_those_that_the_language_writes() {
        for value in [0, 1, 9, 10, 19, 100, 65_535, 1_000_000, u32::MAX - 1, u32::MAX] {
            let mut made = String::from("x");
            Digits::of(value).onto(&mut made);
            assert_eq!(made, format!("x{value}"));
            assert_eq!(Digits::of(value).bytes(), value.to_string().as_bytes());
        }
    }
}
