//! What the sheets of a plan are made from, and what all of them ask of it.

use borewright_planner::Planning;
use borewright_planner::job::{Front, SheetUnits, Sleeve};
use borewright_planner::plan::{Cylinder, ListUnits, Plan, Subject, Verdict, cylinder_words};
use borewright_planner::report::SurveyReport;

use crate::OutputError;
use crate::said::number::Fixed;
use crate::said::sides::Sides;
use crate::said::units::{Digits, Printed, Units};

/// Over what the survey asks of the set-up: the readings, and all that was planned on them, are of how it stood.
pub(super) const ASKED_OF_SET_UP: &str = "Asked of the set-up before planning; tick when done";

/// What follows once any of it was done.
pub(super) const BEFORE_PLANNING: &str =
    "After any of these read bores, deck and axis again and plan again: cards made before are void then.";

/// What the readings said, and where the figures have it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Surveyed<'a> {
    /// The survey.
    pub(crate) report: &'a SurveyReport,
    /// The page of the figures that has what is asked of the set-up.
    pub(crate) asked_on: Option<usize>,
}

/// What a sheet is made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheet<'a> {
    /// The job, the moves, the placements.
    pub(super) planning: &'a Planning,
    /// The plan with its lists.
    pub(super) plan: &'a Plan,
    /// Units to print in.
    pub(super) units: Units,
    /// Units of what is keyed at the machine or held against its display.
    pub(super) machine: Units,
}

impl<'a> Sheet<'a> {
    /// In the job's own units.
    pub(super) fn of(planning: &'a Planning, plan: &'a Plan) -> Self {
        let units = Units::of(planning.job.sheet_units);
        Self { planning, plan, units, machine: units.dialled(planning.job.machine.list_units) }
    }

    /// What follows from the verdict, for a head; empty at go.
    pub(super) fn consequence(&self) -> &'static str {
        match (self.plan.verdict, self.not_for_cutting()) {
            (Verdict::Go, _) => "",
            (Verdict::Hold, false) if self.plan.release.is_some() => "RELEASED",
            (_, false) => "NOT ALL CYLINDERS",
            (_, true) => "NOT FOR CUTTING",
        }
    }

    /// Whether no coordinate list was written at all, for a reason a machinist must see.
    pub(super) fn not_for_cutting(&self) -> bool {
        self.plan.verdict != Verdict::Go && self.plan.lists.is_empty()
    }

    /// Which bank has a name; the first where none has.
    pub(super) fn bank_of(&self, name: &str) -> usize {
        self.planning.job.block.banks.iter().position(|bank| bank.name == name).unwrap_or_default()
    }

    /// A bank's words.
    pub(super) fn sides(&self, bank: usize) -> Sides {
        Sides::of(&self.planning.job.block, bank)
    }

    /// Which way round the block stands for a bank; the front is at the left where no set-up says.
    pub(super) fn front(&self, bank: usize) -> Front {
        self.planning.job.set_up_of(bank).map_or(Front::Left, |set_up| set_up.front)
    }

    /// A bank's cylinders, front to rear.
    pub(super) fn cylinders(&self, bank: usize) -> Vec<&'a Cylinder> {
        let sites = &self.planning.job.bank(bank).sites;
        sites.iter().filter_map(|s| self.plan.cylinders.iter().find(|c| c.cylinder == s.cylinder)).collect()
    }

    /// All cylinders with their banks, bank by bank.
    pub(super) fn by_bank(&self) -> Vec<(usize, &'a Cylinder)> {
        let banks = 0..self.planning.job.block.banks.len();
        banks.flat_map(|bank| self.cylinders(bank).into_iter().map(move |c| (bank, c))).collect()
    }

    /// The sleeve of a cylinder.
    pub(super) fn sleeve(&self, cylinder: &Cylinder) -> Option<&'a Sleeve> {
        self.planning.job.sleeves.iter().find(|sleeve| sleeve.name == cylinder.sleeve)
    }

    /// Whether nothing of it may be told where or how wide.
    pub(super) fn is_withheld(&self, cylinder: u32) -> bool {
        self.plan.cylinders.iter().any(|c| c.cylinder == cylinder && c.withheld)
    }

    /// X and Y as the lists say them; `None` where no list has the cylinder.
    pub(super) fn on_list(&self, cylinder: &Cylinder) -> Result<Option<[Printed; 2]>, OutputError> {
        let Some([x, y]) = self.list_position(cylinder) else { return Ok(None) };
        Ok(Some([self.machine.length(x, Digits::Fine)?, self.machine.length(y, Digits::Fine)?]))
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

    /// The first and the last cylinder of a bank on its lists, and how far X goes from one to the other, mm.
    pub(super) fn jog_mm(&self, bank: usize) -> Option<(u32, u32, f64)> {
        let told = self.cylinders(bank).into_iter().filter(|c| !c.withheld);
        let places: Vec<(u32, f64)> =
            told.filter_map(|c| Some((c.cylinder, self.list_position(c)?[0]))).collect();
        match places.as_slice() {
            [(first, from), .., (last, to)] => Some((*first, *last, to - from)),
            _ => None,
        }
    }

    /// One line where the machine shows another unit than hands measure in; `None` where all is in one.
    pub(super) fn lists_in_other_units(&self) -> Option<String> {
        let name = |units: SheetUnits| match units {
            SheetUnits::Mm => "mm",
            SheetUnits::In => "inch",
            SheetUnits::Both => "mm (inch)",
        };
        let [lists, hand] = [self.lists_in(), name(self.units.sheet)];
        (self.machine != self.units)
            .then(|| format!("Lists and the machine's display: {lists}. Measured by hand: {hand}."))
    }

    /// The unit of the lists.
    pub(super) fn lists_in(&self) -> &'static str {
        if self.planning.job.machine.list_units == ListUnits::Mm { "mm" } else { "inch" }
    }

    /// What waits for bores that are held: a block is heated and carried with all of its pockets cut.
    pub(super) fn before_sleeves(&self) -> Option<String> {
        let held = self.held();
        (!held.is_empty()).then(|| {
            format!(
                "Held: {}. Fit no sleeve in any bore before they are decided, planned and cut.",
                cylinder_words(&held)
            )
        })
    }

    /// The cylinders whose coordinates are withheld, and those that have none.
    pub(super) fn held(&self) -> Vec<u32> {
        let withheld = self.plan.cylinders.iter().filter(|c| c.withheld).map(|c| c.cylinder);
        withheld.chain(self.unread()).collect()
    }

    /// The cylinders that nobody read: they are held, and the plan has nothing of them but that.
    pub(super) fn unread(&self) -> Vec<u32> {
        let told = self.plan.findings.iter().filter(|f| f.code == "not_measured");
        told.filter_map(|f| Subject::bores([&f.subject])).flatten().collect()
    }

    /// How far and which way the new bore goes from the old one, and below it what it is left off true by, in words.
    pub(super) fn moves_words(&self, bank: usize, cylinder: &Cylinder) -> Result<String, OutputError> {
        let words = |x: f64, y: f64| -> Result<(String, bool), OutputError> {
            let [x, y] = [self.units.length(x, Digits::Middling)?, self.units.length(y, Digits::Middling)?];
            Ok((self.sides(bank).displacement(x, y), x.is_zero() && y.is_zero()))
        };
        let (moves, _) = words(cylinder.shift.x, cylinder.shift.y)?;
        let [planned, belongs] = [cylinder.planned, cylinder.true_position];
        let (left, is_true) = words(planned.x - belongs.x, planned.y - belongs.y)?;
        Ok(if is_true { moves } else { format!("{moves}\nstays off true: {left}") })
    }

    /// A temperature; an oven of an inch shop counts in Fahrenheit.
    pub(super) fn celsius(&self, celsius: f64) -> Result<String, OutputError> {
        let c = Fixed::new(celsius, 0)?;
        match self.units.sheet {
            SheetUnits::Mm => Ok(format!("{c} °C")),
            SheetUnits::In | SheetUnits::Both => {
                Ok(format!("{c} °C ({} °F)", Fixed::new(celsius * 1.8 + 32.0, 0)?))
            }
        }
    }

    /// What a box for a temperature is filled in: an inch shop's thermometer may show either.
    pub(super) fn degrees(&self) -> &'static str {
        if self.units.sheet == SheetUnits::Mm { "°C" } else { "°C or °F" }
    }

    /// Behind what a box asks for, the unit that it is filled in; nothing where the head's one unit says it.
    pub(super) fn boxed_in(&self, units: Units) -> &'static str {
        match (self.machine == self.units && self.units.sheet != SheetUnits::Both, units.is_inch_first()) {
            (true, _) => "",
            (false, true) => ", in",
            (false, false) => ", mm",
        }
    }

    /// A difference of temperatures, as a thermometer shows it.
    pub(super) fn celsius_apart(&self, kelvin: f64) -> Result<String, OutputError> {
        let c = Fixed::new(kelvin, 0)?;
        Ok(match self.units.sheet {
            SheetUnits::Mm => format!("{c} °C"),
            SheetUnits::In | SheetUnits::Both => format!("{c} °C ({} °F)", Fixed::new(kelvin * 1.8, 0)?),
        })
    }
}

/// Cylinder numbers in a row.
pub(super) fn numbers(cylinders: &[u32]) -> String {
    let words: Vec<String> = cylinders.iter().map(u32::to_string).collect();
    words.join(" ")
}
