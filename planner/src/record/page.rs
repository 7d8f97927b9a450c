//! A filled card typed in at once: the boxes of one check, in the order in which they stand on the card.

use super::value::{Heard, Hearing, Unheard, unit_said};
use super::{Reading, Standing};
use crate::plan::check::{Asked, Check};
use crate::read::fault::{Faults, Place, plain};
use crate::read::source::Source;

/// A box that was filled.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled<'a> {
    /// The cylinder; `None` of a whole bank.
    pub cylinder: Option<u32>,
    /// What is asked there.
    pub asked: &'a Asked,
    /// What was typed.
    pub typed: String,
    /// What was heard.
    pub heard: Heard,
    /// How it was heard: a page may say its unit.
    pub hearing: Hearing,
}

/// What a box may hold.
const A_BOX: &str = "a value, `nr`, or `-` for a box that is empty";

/// What stands for an empty box, which is asked for later.
const EMPTY: &str = "-";

/// What stands before the boxes of a whole bank.
const WHOLE_BANK: &str = "-";

/// Reads a page: a bore's boxes on a line, apart by `;` or tabs, or a box a line, cylinder after cylinder as on the
/// card. A line may begin with its cylinder's number (`-`: the whole bank) and a colon, which is then held against
/// the order. A line `in` or `mm` alone is the unit of figures without one from there on. Lines that are blank, but within the boxes of one bore, or begin with `#` are passed over. `told` words what cannot be heard.
///
/// # Errors
/// All faults at once: what is no value, a box that was read before, a line of another cylinder, boxes too
/// many or too few.
pub fn page<'a>(
    source: &Source,
    check: &'a Check,
    (standing, hearing): (&Standing, Hearing),
    told: &dyn Fn(&Unheard) -> String,
) -> Result<Vec<Filled<'a>>, Faults> {
    let of = |at: &'a crate::plan::check::AtCylinder| {
        at.readings.iter().filter(|a| a.waits).map(move |asked| (at.cylinder, asked))
    };
    let boxes = check.cylinders.iter().flat_map(of).collect();
    let mut page = Page {
        source,
        check,
        hearing,
        boxes,
        next: 0,
        turned: false,
        blank: false,
        filled: Vec::new(),
        faults: Faults(Vec::new()),
    };
    // An editor may set a mark before the first line.
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    for (text, line) in text.lines().zip(1..) {
        page.line(text, line, standing, told);
    }
    page.end()
}

struct Page<'a, 's> {
    source: &'s Source,
    check: &'a Check,
    hearing: Hearing,
    /// The boxes of the card.
    boxes: Vec<(Option<u32>, &'a Asked)>,
    /// Index of the box to come.
    next: usize,
    /// Whether a line was of another cylinder, after which it is not known which box is whose; told once.
    turned: bool,
    /// Whether a blank line stands before the one that is read.
    blank: bool,
    filled: Vec<Filled<'a>>,
    faults: Faults,
}

impl Page<'_, '_> {
    fn fault(&mut self, place: Option<Place>, found: String, expected: String) {
        self.faults.0.push(self.source.fault(place, "", found, expected));
    }

    fn line(&mut self, text: &str, line: usize, standing: &Standing, told: &dyn Fn(&Unheard) -> String) {
        if text.trim().is_empty() {
            self.blank = true;
            return;
        }
        if text.trim_start().starts_with('#') {
            return;
        }
        if let Some(said) = unit_said(text) {
            self.hearing.said = Some(said);
            return;
        }
        // Between two boxes of a bore it may stand for one that is empty: those behind it would go to other places.
        if std::mem::take(&mut self.blank) && self.is_within_a_bore() {
            let expected =
                format!("{}; `-` for a box that is empty, and no blank line before it", self.to_come());
            self.fault(Some(Place { line, column: 1 }), "a blank line".to_owned(), expected);
        }
        // As `record` has it: `-` is the whole bank.
        let whose = |n: &str| if n == WHOLE_BANK { Some(None) } else { n.parse::<u32>().ok().map(Some) };
        let named = text.split_once(':').and_then(|(n, rest)| Some((whose(n.trim())?, rest)));
        let rest = match named {
            Some((cylinder, rest)) => {
                self.turn_to(cylinder, Place { line, column: 1 });
                rest
            }
            None => text,
        };
        let mut start = text.len() - rest.len();
        for field in rest.split([';', '\t']) {
            let lead = field.len() - field.trim_start().len();
            let before = text.get(..start + lead).map_or(0, |before| before.chars().count());
            self.value(field.trim(), Place { line, column: before + 1 }, standing, told);
            start += field.len() + 1;
        }
    }

    /// A line that says whose boxes it has: they must be the ones to come.
    fn turn_to(&mut self, cylinder: Option<u32>, place: Place) {
        let first = self.boxes.iter().position(|(own, _)| *own == cylinder);
        let named = cylinder.map_or_else(|| "the whole bank".to_owned(), |n| format!("cylinder {n}"));
        match first {
            Some(first) if first == self.next => {}
            Some(first) => {
                if !self.turned {
                    let expected = self.to_come();
                    self.fault(Some(place), named, expected);
                }
                self.turned = true;
                // The rest of the page is held against the boxes that this line names.
                self.next = first;
            }
            None => {
                let expected = format!("a cylinder of CHECK {}", self.check.check);
                self.fault(Some(place), named, expected);
            }
        }
    }

    /// Whether the box to come is of the bore that the last one was of.
    fn is_within_a_bore(&self) -> bool {
        let whose = |at: usize| self.boxes.get(at).map(|(cylinder, _)| *cylinder);
        let before = self.next.checked_sub(1).and_then(whose);
        before.is_some() && before == whose(self.next)
    }

    /// The box to come, in words.
    fn to_come(&self) -> String {
        match self.boxes.get(self.next) {
            Some((cylinder, asked)) => {
                let whose = cylinder.map_or_else(|| "the bank".to_owned(), |c| format!("cylinder {c}"));
                format!("{whose}, reading {}: the next box of CHECK {}", asked.reading, self.check.check)
            }
            None => format!("nothing more: CHECK {} has {} boxes", self.check.check, self.boxes.len()),
        }
    }

    /// Takes in what was typed for the next box of the card: `-` leaves it empty, and what cannot be heard, fills a
    /// box that is filled, or has no box left is told as a fault at its place.
    fn value(&mut self, typed: &str, place: Place, standing: &Standing, told: &dyn Fn(&Unheard) -> String) {
        let Some((cylinder, asked)) = self.boxes.get(self.next).copied() else {
            // Told once.
            if self.next == self.boxes.len() {
                let expected = self.to_come();
                self.fault(Some(place), format!("`{}`", plain(typed, 40)), expected);
            }
            self.next += 1;
            return;
        };
        self.next += 1;
        if typed == EMPTY {
            return;
        }
        let found =
            || if typed.is_empty() { "nothing".to_owned() } else { format!("`{}`", plain(typed, 40)) };
        if typed.is_empty() {
            return self.fault(Some(place), found(), A_BOX.to_owned());
        }
        let before = standing.of_check(self.check.check, cylinder).filter(|r| r.reading == asked.reading);
        if let Some(Reading { line, typed, .. }) = before.last() {
            let expected = format!("`-`: line {line} of the record has `{}` there", plain(typed, 40));
            return self.fault(Some(place), found(), expected);
        }
        let hearing = self.hearing;
        match hearing.hear(typed, asked) {
            Ok(heard) => {
                self.filled.push(Filled { cylinder, asked, typed: typed.to_owned(), heard, hearing })
            }
            Err(unheard) => self.fault(Some(place), found(), told(&unheard)),
        }
    }
}

impl<'a> Page<'a, '_> {
    fn end(mut self) -> Result<Vec<Filled<'a>>, Faults> {
        if self.next < self.boxes.len() && !self.turned {
            let expected = format!("{}; `-` for a box that is empty", self.to_come());
            self.fault(None, format!("{} of {} boxes", self.next, self.boxes.len()), expected);
        }
        if self.faults.0.is_empty() && self.filled.is_empty() {
            self.fault(None, "no value".to_owned(), A_BOX.to_owned());
        }
        if self.faults.0.is_empty() { Ok(self.filled) } else { Err(self.faults) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::given::Units;

    const MM: Hearing = Hearing { units: Units::Mm, shown: Units::Mm, display: Units::Mm, said: None };
    use crate::log::Log;
    use crate::plan::Stage;
    use crate::plan::check::{AtCylinder, Of, What};

    fn check() -> Check {
        let asked = |reading| Asked { reading, ..Asked::within(Of::Diameter, 89.78, 0.006) };
        let set = Asked { reading: 3, ..Asked::within(Of::Set, 89.78, 0.006).optional() };
        let at = |c| AtCylinder { cylinder: Some(c), readings: vec![asked(1), asked(2), set.clone()] };
        Check {
            check: 7,
            what: What::Size,
            stage: Stage::Pocket,
            bank: "left".into(),
            step: Some(40),
            feature: "upper register".into(),
            cylinders: vec![at(1), at(3)],
        }
    }

    fn source(text: &str) -> Source {
        Source { name: "card.txt".into(), path: "card.txt".into(), text: text.into(), sha256: String::new() }
    }

    /// Cylinders, readings and figures; or line, column, found and expected of each fault.
    fn read(text: &str, record: &str) -> Result<Vec<(u32, u32, String)>, Vec<String>> {
        let check = check();
        let log = Log::read(format!("check,cylinder,reading,value\n{record}").as_bytes());
        let standing = Standing::of(&log, std::slice::from_ref(&check), Units::Mm);
        let told = |unheard: &Unheard| unheard.expected.to_string();
        let place = |p: Option<Place>| p.map_or_else(String::new, |p| format!("{}:{} ", p.line, p.column));
        page(&source(text), &check, (&standing, MM), &told)
            .map(|all| all.into_iter().map(|f| (f.cylinder.unwrap(), f.asked.reading, f.typed)).collect())
            .map_err(|f| {
                f.0.iter().map(|f| format!("{}{}; {}", place(f.place), f.found, f.expected)).collect()
            })
    }

    #[test]
    fn boxes_are_read_cylinder_after_cylinder_with_or_without_their_numbers() {
        let all = [(1, 1, "+0.001"), (1, 2, "781"), (3, 1, "nr"), (3, 2, "+1 thou")];
        let all: Vec<(u32, u32, String)> = all.map(|(c, r, t)| (c, r, t.to_owned())).into();
        for text in [
            "1: +0.001; 781\n3: nr; +1 thou\n",
            "# card 4\n+0.001\t781\r\n\nnr\t+1 thou",
            "+0.001\n781\nnr\n+1 thou\n",
        ] {
            assert_eq!(read(text, "").unwrap(), all, "{text}");
        }
        // What was left empty on the card, or read before, is left out.
        assert_eq!(read("1: -; 781\n3: -; -\n", "7,1,1,+0.001\n").unwrap(), all[1..2]);
    }

    #[test]
    fn a_page_says_its_unit_once() {
        let check = check();
        let log = Log::read(b"check,cylinder,reading,value\n");
        let standing = Standing::of(&log, std::slice::from_ref(&check), Units::Mm);
        let told = |unheard: &Unheard| unheard.expected.to_string();
        // A card in inches of a job in mm.
        let hearing = Hearing { shown: Units::In, ..MM };
        let read = |text: &str| page(&source(text), &check, (&standing, hearing), &told);
        assert_eq!(read("1: +.0001; 3.5346\n3: nr; +0.002 mm\n").unwrap_err().0.len(), 2);
        let filled = read("# card 4\nin\n1: +.0001; 3.5346\n3: nr; +0.002 mm\n").unwrap();
        let figures: Vec<String> = filled
            .iter()
            .map(|f| match f.heard {
                Heard::Figure { value, .. } => {
                    format!("{value:.4} {}", f.hearing.written(&f.typed, f.asked, f.heard))
                }
                _ => "nr".to_owned(),
            })
            .collect();
        assert_eq!(figures, ["89.7825 +.0001 in", "89.7788 3.5346 in", "nr", "89.7820 +0.002 mm"]);
    }

    #[test]
    fn the_box_of_a_whole_bank_may_be_named_as_the_record_names_it() {
        let asked = |reading| Asked { reading, ..Asked::within(Of::Z, 0.0, 0.05) };
        let at = |cylinder| AtCylinder { cylinder, readings: vec![asked(1)] };
        let check = Check { cylinders: vec![at(Some(5)), at(None)], ..check() };
        let log = Log::read(b"check,cylinder,reading,value\n");
        let standing = Standing::of(&log, std::slice::from_ref(&check), Units::Mm);
        let told = |unheard: &Unheard| unheard.expected.to_string();
        let read = |text: &str| page(&source(text), &check, (&standing, MM), &told).map(|f| f.len());
        assert_eq!(read("5: 0.01\n-: +0.02\n").unwrap(), 2);
        assert_eq!(read("5: 0.01\n-\n").unwrap(), 1);
        assert_eq!(read("-: 0.02\n5: 0.01\n").unwrap_err().0[0].found, "the whole bank");
    }

    #[test]
    fn every_fault_of_a_page_is_told_at_once_with_its_line_and_column() {
        let faults = read("1: +0.001; abc\n3: ; +0.002; 5\n", "7,1,1,+0.003\n").unwrap_err();
        assert_eq!(faults.len(), 4, "{faults:?}");
        assert_eq!(faults[0], "1:4 `+0.001`; `-`: line 2 of the record has `+0.003` there");
        assert!(faults[1].starts_with("1:12 `abc`; a length such as"), "{faults:?}");
        assert_eq!(faults[2], format!("2:4 nothing; {A_BOX}"));
        assert_eq!(faults[3], "2:14 `5`; nothing more: CHECK 7 has 4 boxes");
        let faults = read("3: +0.001; +0.001\n5: 0; 0\n", "").unwrap_err();
        assert_eq!(faults[0], "1:1 cylinder 3; cylinder 1, reading 1: the next box of CHECK 7");
        assert_eq!(faults[1], "2:1 cylinder 5; a cylinder of CHECK 7");
        // Once told, an order that is not the card's makes no further faults.
        assert_eq!(read("3: 0; 0\n1: 0; 0\n", "").unwrap_err().len(), 1);
        let faults = read("1: +0.001; +0.001\n3: 0\n", "").unwrap_err();
        assert_eq!(faults.len(), 1);
        assert!(faults[0].starts_with("3 of 4 boxes; cylinder 3, reading 2"), "{faults:?}");
        // Within a bore a blank line may be a box, and one too many behind it would make up for it.
        let faults = read("+0.001\n\n781\nnr\n+1 thou\n", "").unwrap_err();
        assert!(
            faults.len() == 1 && faults[0].starts_with("3:1 a blank line; cylinder 1, reading 2"),
            "{faults:?}"
        );
        assert_eq!(read("-\n-\n-\n-\n", "").unwrap_err(), [format!("no value; {A_BOX}")]);
    }
}
