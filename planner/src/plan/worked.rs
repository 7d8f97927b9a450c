//! Workings of a figure: formulas over symbols, and where each symbol's figure comes from.
//!
//! A formula is text that any reader of expressions understands: `+ - * / ^`, brackets, `sqrt`, `abs`, `cos`,
//! `sin`, `acos`, `atan`, `floor`, `ceil`, `round`, `pi`, names of letters, digits and underscores. Lengths are mm, angles degrees until a
//! formula makes radians of them.

/// What a figure is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// mm.
    Length,
    /// Degrees.
    Angle,
    /// No unit.
    Share,
    /// Degrees Celsius.
    Celsius,
    /// MPa.
    Stress,
    /// 1/min.
    Turns,
    /// m/min.
    Speed,
    /// mm/min.
    Feed,
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// N.
    Force,
    /// kW.
    Power,
    /// N/mm.
    Stiffness,
    /// Micrometres.
    Micrometres,
    /// 1/mm.
    PerLength,
}

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The figure that is asked for, by a formula over the other symbols.
    Figure(&'static str),
    /// What is worked out on the way to it, by a formula too.
    Formula(&'static str),
    /// A key that the job states, or the shop before it.
    Stated(&'static str),
    /// A key of the block's description.
    Block(&'static str),
    /// A key of the sleeve's description.
    Sleeve(&'static str),
    /// A key of the machine's description.
    Machine(&'static str),
    /// A key of the machine's description, and what holds where it is not stated.
    MachineOr(&'static str, &'static str),
    /// A key of the tool that is used.
    Tool(&'static str),
    /// A key of the tool that is used, and what holds where it is not stated.
    ToolOr(&'static str, &'static str),
    /// What is known of the metal that is cut.
    CutMetal,
    /// One row of a table.
    Row,
    /// The circles read of the old bore: a fit to all of one surface.
    Circles,
    /// The circles that a radius of the old bore was read of, or the liner's outside as described.
    Radius,
    /// Journal axis and deck as they were read in the set-up.
    SetUp,
    /// Where the bore belongs: the described place along the bank, and the bank's own axis.
    Belongs,
    /// The planned centre; nothing tells it of a cylinder that is withheld.
    Planned,
    /// A neighbour's planned centre.
    Neighbour,
    /// Found between planned centre and block by geometry in space.
    Between,
    /// The direction of the line that a margin is measured along.
    Direction,
    /// What is known of the block's metal.
    BlockMetal,
    /// What is known of the sleeve's.
    SleeveMetal,
    /// A standard, a handbook, or common practice.
    Known(&'static str),
    /// An earlier pass.
    Before,
}

impl Origin {
    /// A rule of the trade that nobody has written down.
    pub const PRACTICE: Self = Self::Known("common practice, no source");
}

/// A symbol of a formula.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Symbol {
    /// The symbol as it stands in formulas.
    pub name: &'static str,
    /// What it is, in words.
    pub says: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// Where its figure comes from.
    pub origin: Origin,
}

impl Symbol {
    /// A symbol.
    #[must_use]
    pub const fn new(name: &'static str, says: &'static str, unit: Unit, origin: Origin) -> Self {
        Self { name, says, unit, origin }
    }

    /// A length.
    #[must_use]
    pub const fn mm(name: &'static str, says: &'static str, origin: Origin) -> Self {
        Self::new(name, says, Unit::Length, origin)
    }

    /// Whether the symbol's figure is kept with the working; else it follows from the place that is asked about.
    #[must_use]
    pub const fn is_kept(&self) -> bool {
        !matches!(
            self.origin,
            Origin::Figure(_) | Origin::Planned | Origin::Neighbour | Origin::Between | Origin::Direction
        )
    }
}

/// What a figure was worked from, kept while it is worked out, so that an explanation shows that very calculation.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Worked {
    /// The symbols; the first is the figure itself.
    pub symbols: &'static [&'static [Symbol]],
    /// The figures of those that are kept, in the order of the symbols.
    pub kept: Vec<f64>,
    /// The surface whose circles were used.
    pub surface: Option<&'static str>,
    /// Whether the radius is the described one.
    pub described: bool,
    /// Set-up and line of the row, counted from 0 and 1.
    pub row: Option<[usize; 2]>,
    /// A neighbour's centre that it was worked with, mm.
    pub neighbour_mm: Option<[f64; 2]>,
}

impl Worked {
    /// A working of these symbols, from the figures that are kept, in their order.
    #[must_use]
    pub fn of(symbols: &'static [&'static [Symbol]], kept: Vec<f64>) -> Self {
        debug_assert_eq!(symbols.iter().copied().flatten().filter(|s| s.is_kept()).count(), kept.len());
        Self { symbols, kept, ..Self::default() }
    }

    /// This working with the surface whose circles were used.
    #[must_use]
    pub fn on(self, surface: &'static str, described: bool) -> Self {
        Self { surface: Some(surface), described, ..self }
    }

    /// This working with the row that it rests on.
    #[must_use]
    pub fn read_at(self, set_up: usize, line: usize) -> Self {
        Self { row: Some([set_up, line]), ..self }
    }

    /// Every symbol.
    pub fn symbols(&self) -> impl Iterator<Item = &'static Symbol> + use<> {
        self.symbols.iter().copied().flatten()
    }

    /// The kept figures by their symbols.
    pub fn kept(&self) -> impl Iterator<Item = (&'static Symbol, f64)> + '_ {
        self.symbols().filter(|s| s.is_kept()).zip(self.kept.iter().copied())
    }

    /// Adds to a kept figure, such as a pocket's radius that was cut larger.
    pub fn add(&mut self, name: &str, more: f64) {
        let at = self.symbols().filter(|s| s.is_kept()).position(|s| s.name == name);
        if let Some(kept) = at.and_then(|at| self.kept.get_mut(at)) {
            *kept += more;
        }
    }
}

/// One figure and what it was worked from.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is asked for by: `stock`, `speed`, `interference`.
    pub about: &'static str,
    /// The figure, in the unit of its first symbol.
    pub value: f64,
    /// What it was worked from.
    pub worked: Worked,
}

impl Figure {
    /// A figure worked from those that are kept.
    #[must_use]
    pub fn of(
        about: &'static str,
        value: f64,
        symbols: &'static [&'static [Symbol]],
        kept: Vec<f64>,
    ) -> Self {
        Self { about, value, worked: Worked::of(symbols, kept) }
    }
}
