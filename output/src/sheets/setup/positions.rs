//! One bank: its deck drawn to scale, its positions, and what must read right before the first chip.

use borewright_planner::plan::Cylinder;
use borewright_planner::plan::moves::MoveList;

use super::{Sheet, numbers};
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::one_line;
use crate::said::sides::front_words;
use crate::said::units::{Digits, Printed};

/// Room for a found value written by hand: 9.5 mm.
const BY_HAND: f64 = 27.0;

impl Sheet<'_> {
    /// Draws it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn positions(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let front = self.front(bank);
        pages.heading(&format!("{}: {}", self.bank_title(bank), front_words(front)), 260.0);
        self.deck_view(pages, bank)?;
        self.position_table(pages, bank)?;
        self.old_bores(pages, bank)?;
        self.touch_check(pages, bank)
    }

    fn position_table(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let name = self.units.name();
        let title =
            if self.bank_lists(bank).next().is_some() { "as in the coordinate lists" } else { "withheld" };
        pages.heading(&format!("Positions, {name}, {title}"), 70.0);
        let signs = self.sides(bank).machine_signs(self.front(bank));
        pages.paragraph(&format!("{signs}. Zero is the datum of the lists."), Weight::Plain, BODY);
        let columns = [
            Column::words("cyl", 34.0).size(14.0).bold(),
            Column::figures("X", 80.0).size(14.0).bold(),
            Column::figures("Y", 68.0).size(14.0).bold(),
            Column::figures("to next\ndX", 68.0).size(13.0),
            Column::figures("to next\ndY", 62.0).size(13.0),
            Column::words("old bore stood off true by", 162.0).size(10.5),
            Column::words("verdict", 46.0).size(11.0).bold(),
        ];
        let cylinders = self.cylinders(bank);
        let mut placed = Vec::new();
        for cylinder in &cylinders {
            placed.push(self.on_list(cylinder)?);
        }
        let mut rows = Vec::new();
        for (index, (cylinder, at)) in cylinders.iter().zip(&placed).enumerate() {
            let next = placed.get(index + 1).copied().flatten();
            let mut cells = vec![cylinder.cylinder.to_string()];
            cells.extend(match at {
                Some([x, y]) => [x.stacked_signed(), y.stacked_signed()],
                None => ["withheld", "withheld"].map(str::to_owned),
            });
            cells.extend(match (at, next) {
                (Some([x, y]), Some([nx, ny])) => [nx.minus(*x), ny.minus(*y)].map(Printed::stacked_signed),
                _ => ["–", "–"].map(str::to_owned),
            });
            cells.push(self.off_true_words(bank, cylinder)?);
            cells.push(cylinder.verdict.word().to_uppercase());
            rows.push(Row::Cells(cells));
        }
        rows.push(Row::Total(sums(&placed)));
        draw(pages, &columns, &rows);
        Ok(())
    }

    /// X and Y as the lists say them; `None` where no list has the cylinder.
    pub(in crate::sheets) fn on_list(
        &self,
        cylinder: &Cylinder,
    ) -> Result<Option<[Printed; 2]>, OutputError> {
        let Some([x, y]) = self.list_position(cylinder) else { return Ok(None) };
        Ok(Some([self.units.length(x, Digits::Fine)?, self.units.length(y, Digits::Fine)?]))
    }

    /// Where the lists bring the spindle over a cylinder: the first place they go to for it, which is its
    /// middle (a milled circle starts from there).
    fn list_position(&self, cylinder: &Cylinder) -> Option<[f64; 2]> {
        let moves = self.planning.lists.iter().flat_map(|list| &list.moves);
        moves
            .filter(|m| m.cylinder == Some(cylinder.cylinder))
            .find_map(|m| m.x_mm.zip(m.y_mm))
            .map(|(x, y)| [x, y])
    }

    pub(in crate::sheets) fn off_true_words(
        &self,
        bank: usize,
        cylinder: &Cylinder,
    ) -> Result<String, OutputError> {
        let off = cylinder.off_true;
        let [x, y] =
            [self.units.length(off.x, Digits::Middling)?, self.units.length(off.y, Digits::Middling)?];
        Ok(self.sides(bank).displacement(x, y))
    }

    /// The bank as a whole, in one sentence.
    fn old_bores(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let name = &self.planning.job.bank(bank).name;
        let Some(pattern) = self.plan.banks.iter().find(|b| b.bank == *name) else { return Ok(()) };
        let [x, y] = [
            self.units.length(pattern.shift.x, Digits::Middling)?,
            self.units.length(pattern.shift.y, Digits::Middling)?,
        ];
        let text = format!(
            "The bank's old bores taken together stood off true by {}, turned {} degrees; what is left is {} rms.",
            self.sides(bank).displacement(x, y),
            Fixed::new(pattern.rotation, 3)?,
            self.units.length(pattern.residual_rms, Digits::Fine)?.spoken(),
        );
        pages.paragraph(&text, Weight::Plain, BODY);
        Ok(())
    }

    fn bank_lists(&self, bank: usize) -> impl Iterator<Item = &MoveList> {
        let name = &self.planning.job.bank(bank).name;
        self.planning.lists.iter().filter(move |list| list.bank == *name)
    }

    fn touch_check(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let Some(list) = self.bank_lists(bank).find(|list| !list.touch.is_empty()) else {
            return Ok(());
        };
        pages.heading("Touch check: each must read right before the first chip", 90.0);
        let columns = [
            Column::words("", 20.0).bold(),
            Column::words("touch or pick up", 150.0).size(10.5),
            Column::figures("X", 68.0).size(11.0).bold(),
            Column::figures("Y", 60.0).size(11.0).bold(),
            Column::figures("Z", 60.0).size(11.0).bold(),
            Column::figures("within", 50.0).size(10.5),
            Column::words("found", 90.0),
        ];
        let mut rows = Vec::new();
        for (touch, number) in list.touch.iter().zip(1_u32..) {
            let mut cells = vec![number.to_string(), one_line(&touch.what, 120)];
            for value in [touch.x_mm, touch.y_mm, touch.z_mm] {
                cells.push(match value {
                    Some(value) => self.units.length(value, Digits::Fine)?.stacked_signed(),
                    None => "–".to_owned(),
                });
            }
            cells.push(self.units.length(touch.within_mm, Digits::Depth)?.stacked());
            cells.push(String::new());
            rows.push(Row::Tall(cells, BY_HAND));
        }
        draw(pages, &columns, &rows);
        Ok(())
    }

    /// The lists of all banks, with the sums that end them.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn list_table(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let mut rows = Vec::new();
        for (list, entry) in self.planning.lists.iter().zip(&self.plan.lists) {
            let file = entry.file.trim_start_matches("lists/").to_owned();
            let [x, y] = list_sums(list)?;
            let cells = [file, numbers(&list.cylinders), list.moves.len().to_string(), x, y];
            rows.push(Row::Cells(cells.to_vec()));
        }
        if rows.is_empty() {
            return Ok(());
        }
        pages.heading("Coordinate lists, always millimetres", 60.0);
        let columns = [
            Column::words("file in lists/, .csv beside it", 200.0).size(10.5).bold(),
            Column::words("cylinders", 110.0).size(10.5),
            Column::figures("rows", 44.0).size(10.5),
            Column::figures("sum of X", 90.0).size(10.5),
            Column::figures("sum of Y", 90.0).size(10.5),
        ];
        draw(pages, &columns, &rows);
        Ok(())
    }
}

/// Sums of every X and Y of a list, from the figures as printed in it.
fn list_sums(list: &MoveList) -> Result<[String; 2], OutputError> {
    let mut sums = [Fixed::zero(3); 2];
    for row in &list.moves {
        for (sum, value) in sums.iter_mut().zip([row.x_mm, row.y_mm]) {
            *sum = sum.plus(Fixed::new(value.unwrap_or(0.0), 3)?);
        }
    }
    Ok(sums.map(|sum| sum.to_string()))
}

/// Below the positions: sums for checking typed values by adding, only where every row has its figures.
fn sums(placed: &[Option<[Printed; 2]>]) -> Vec<String> {
    let all: Option<Vec<[Printed; 2]>> = placed.iter().copied().collect();
    let sum = all.unwrap_or_default().into_iter().reduce(|a, b| [a[0].plus(b[0]), a[1].plus(b[1])]);
    let mut cells = vec!["sum".to_owned()];
    cells.extend(match sum {
        Some(sum) => sum.map(Printed::stacked_signed),
        None => ["–", "–"].map(str::to_owned),
    });
    cells.extend([
        String::new(),
        String::new(),
        if placed.len() == 1 { "1 row".to_owned() } else { format!("{} rows", placed.len()) },
        String::new(),
    ]);
    cells
}
