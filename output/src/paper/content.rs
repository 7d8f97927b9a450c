//! The marks of a page as operators of its content (ISO 32000-1, 8.5 and 9.4).

use std::collections::BTreeMap;

use kurbo::{BezPath, PathEl, Point};

use super::canvas::{Canvas, Dash, Ink, Mark};
use super::text::Weight;
use crate::OutputError;

/// Height of A4, pt.
const HEIGHT: f64 = 841.890;

/// A face as a file holds it.
#[derive(Debug)]
pub(super) struct Coded {
    /// Which it is.
    pub(super) weight: Weight,
    /// What pages call it.
    pub(super) name: &'static str,
    /// Each character's code in it.
    pub(super) codes: Codes,
}

/// Codes of characters: of nearly all that a sheet draws, by place, and of the rest in a map.
#[derive(Debug, Default)]
pub(super) struct Codes {
    common: Vec<Option<u16>>,
    rest: BTreeMap<char, u16>,
}

/// Characters that are looked up by place: ASCII and Latin-1.
const COMMON: u32 = 0x100;

impl Codes {
    fn of(&self, character: char) -> Option<u16> {
        let place = usize::try_from(u32::from(character)).ok()?;
        match self.common.get(place) {
            Some(code) => *code,
            None => self.rest.get(&character).copied(),
        }
    }
}

impl FromIterator<(char, u16)> for Codes {
    fn from_iter<T: IntoIterator<Item = (char, u16)>>(codes: T) -> Self {
        let rest: BTreeMap<char, u16> = codes.into_iter().collect();
        let common = (0..COMMON).map(|code| rest.get(&char::from_u32(code)?).copied());
        Self { common: common.collect(), rest }
    }
}

/// The content of one page.
///
/// # Errors
/// Where a coordinate is not finite or off every page, or a face lacks a character.
pub(super) fn content(page: &Canvas, faces: &[Coded]) -> Result<Vec<u8>, OutputError> {
    let mut pen = Pen { faces, out: Vec::with_capacity(80 * page.marks.len()), width: None, dash: None };
    for mark in &page.marks {
        match mark {
            Mark::Text { at, size, weight, text } => pen.text(*at, *size, *weight, text)?,
            Mark::Stroke { path, width, dash } => pen.stroke(path, *width, *dash)?,
            Mark::Fill { path, ink } => pen.fill(path, *ink)?,
        }
    }
    Ok(pen.out)
}

/// What is already set is not set again: a page of tables is mostly lines of one weight.
struct Pen<'a> {
    faces: &'a [Coded],
    out: Vec<u8>,
    width: Option<f64>,
    dash: Option<Dash>,
}

impl Pen<'_> {
    fn text(&mut self, at: Point, size: f64, weight: Weight, text: &str) -> Result<(), OutputError> {
        let face = self.faces.iter().find(|face| face.weight == weight).ok_or(OutputError::Drawing)?;
        self.out.extend_from_slice(b"BT\n/");
        self.out.extend_from_slice(face.name.as_bytes());
        self.out.push(b' ');
        self.number(size)?;
        self.out.extend_from_slice(b"Tf\n");
        self.point(at)?;
        self.out.extend_from_slice(b"Td\n<");
        for character in text.chars() {
            let code = face.codes.of(character).ok_or(OutputError::Drawing)?;
            for shift in [12, 8, 4, 0] {
                self.out.push(b"0123456789ABCDEF"[usize::from(code >> shift & 0xf)]);
            }
        }
        self.out.extend_from_slice(b"> Tj\nET\n");
        Ok(())
    }

    fn stroke(&mut self, path: &BezPath, width: f64, dash: Dash) -> Result<(), OutputError> {
        if self.width != Some(width) {
            self.width = Some(width);
            self.number(width)?;
            self.out.extend_from_slice(b"w\n");
        }
        if self.dash != Some(dash) {
            self.dash = Some(dash);
            self.out.push(b'[');
            for length in dash.pattern() {
                self.number(f64::from(*length))?;
            }
            // Round ends join the lines of a frame; those of a dash would close its gaps.
            let cap: &[u8] = if dash == Dash::Solid { b"] 0 d\n1 J\n" } else { b"] 0 d\n0 J\n" };
            self.out.extend_from_slice(cap);
        }
        self.path(path)?;
        self.out.extend_from_slice(b"S\n");
        Ok(())
    }

    fn fill(&mut self, path: &BezPath, ink: Ink) -> Result<(), OutputError> {
        if ink == Ink::White {
            self.out.extend_from_slice(b"1 g\n");
        }
        self.path(path)?;
        self.out.extend_from_slice(b"f\n");
        // Text takes the fill colour as well.
        if ink == Ink::White {
            self.out.extend_from_slice(b"0 g\n");
        }
        Ok(())
    }

    fn path(&mut self, path: &BezPath) -> Result<(), OutputError> {
        let mut here = Point::ZERO;
        for element in path.elements() {
            match element {
                PathEl::MoveTo(to) => self.run(&[*to], b"m\n")?,
                PathEl::LineTo(to) => self.run(&[*to], b"l\n")?,
                PathEl::QuadTo(c, to) => {
                    // The format has cubics alone.
                    let (first, second) = (here + (*c - here) * (2.0 / 3.0), *to + (*c - *to) * (2.0 / 3.0));
                    self.run(&[first, second, *to], b"c\n")?;
                }
                PathEl::CurveTo(first, second, to) => self.run(&[*first, *second, *to], b"c\n")?,
                PathEl::ClosePath => self.out.extend_from_slice(b"h\n"),
            }
            here = element.end_point().unwrap_or(here);
        }
        Ok(())
    }

    fn run(&mut self, points: &[Point], operator: &[u8]) -> Result<(), OutputError> {
        for at in points {
            self.point(*at)?;
        }
        self.out.extend_from_slice(operator);
        Ok(())
    }

    fn point(&mut self, at: Point) -> Result<(), OutputError> {
        self.number(at.x)?;
        self.number(HEIGHT - at.y)
    }

    /// A number and a space, in hundredths of a point: below any printer's dot, and short in the file. One off every page is a
    /// fault of the layout.
    fn number(&mut self, value: f64) -> Result<(), OutputError> {
        if !value.is_finite() || value.abs() >= 2000.0 {
            return Err(OutputError::Drawing);
        }
        #[expect(clippy::cast_possible_truncation, reason = "below 2000, so below 200000 hundredths")]
        let hundredths = (value * 100.0).round() as i32;
        if hundredths < 0 {
            self.out.push(b'-');
        }
        let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
        self.out.extend_from_slice(itoa::Buffer::new().format(whole).as_bytes());
        if part > 0 {
            self.out.extend_from_slice(&[b'.', digit(part / 10)]);
            if part % 10 > 0 {
                self.out.push(digit(part % 10));
            }
        }
        self.out.push(b' ');
        Ok(())
    }
}

/// A figure below ten.
fn digit(value: u32) -> u8 {
    b"0123456789"[usize::try_from(value % 10).unwrap_or_default()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(value: f64) -> Option<String> {
        let mut pen = Pen { faces: &[], out: Vec::new(), width: None, dash: None };
        pen.number(value).ok().and_then(|()| String::from_utf8(pen.out).ok())
    }

    #[test]
    fn numbers_are_short_and_rounded_and_none_leaves_the_page() {
        for value in [0.0, -0.004, 0.005, 0.1, 0.25, 7.0, 10.05, 841.89, 1999.99, -12.5, -0.07] {
            let said = number(value).unwrap();
            let read: f64 = said.trim_end().parse().unwrap();
            assert!((read - value).abs() <= 0.005 + 1e-9, "{value} is {said}");
            assert!(said.len() <= 8 && !said.contains("-0 "), "{value} is {said}");
        }
        assert_eq!(number(12.30).as_deref(), Some("12.3 "));
        assert_eq!(number(-0.05).as_deref(), Some("-0.05 "));
        assert!([f64::NAN, f64::INFINITY, 2000.0, -2000.0].into_iter().all(|v| number(v).is_none()));
    }

    #[test]
    fn a_quadratic_is_drawn_as_the_cubic_through_the_same_points() {
        let mut path = BezPath::new();
        path.move_to((0.0, HEIGHT));
        path.quad_to((30.0, HEIGHT), (30.0, HEIGHT - 30.0));
        path.close_path();
        let page = Canvas { marks: vec![Mark::Fill { path, ink: Ink::White }] };
        let said = String::from_utf8(content(&page, &[]).unwrap()).unwrap();
        assert_eq!(said, "1 g\n0 0 m\n20 0 30 10 30 30 c\nh\nf\n0 g\n");
    }

    #[test]
    fn a_character_that_no_face_has_is_a_fault() {
        let at = Point::new(10.0, 10.0);
        let mark = Mark::Text { at, size: 9.0, weight: Weight::Plain, text: "ab".to_owned() };
        let page = Canvas { marks: vec![mark] };
        let face = |codes: &[(char, u16)]| {
            vec![Coded { weight: Weight::Plain, name: "F", codes: codes.iter().copied().collect() }]
        };
        assert!(content(&page, &face(&[('a', 1)])).is_err());
        let said = content(&page, &face(&[('a', 1), ('b', 0x1f)])).unwrap();
        assert_eq!(said, b"BT\n/F 9 Tf\n10 831.89 Td\n<0001001F> Tj\nET\n");
    }
}
