//! Symbols that the accounts of several limits share.

use crate::plan::worked::{Origin, Symbol, Unit};

/// The planned centre.
pub(super) const PLACE: [Symbol; 2] = [
    Symbol::mm("x", "planned centre at the deck, along", Origin::Planned),
    Symbol::mm("y", "planned centre at the deck, across", Origin::Planned),
];

/// What a margin's uncertainty is made of where the datum carries a place to the cut.
pub(super) const DATUM: [Symbol; 13] = [
    Symbol::mm(
        "u",
        "standard uncertainty of the margin",
        Origin::Figure("sqrt((u_x * n_x)^2 + (u_y * n_y)^2 + u_m^2)"),
    ),
    Symbol::mm(
        "u_x",
        "what carries a place along",
        Origin::Formula("sqrt(u_along^2 + u_held_x^2 + u_warm_x^2)"),
    ),
    Symbol::mm(
        "u_y",
        "what carries it across",
        Origin::Formula("sqrt(u_axis^2 + u_held_y^2 + u_warm_y^2 + u_roll^2)"),
    ),
    Symbol::new("n_x", "direction of the margin, along", Unit::Share, Origin::Direction),
    Symbol::new("n_y", "direction of the margin, across", Unit::Share, Origin::Direction),
    Symbol::mm("u_along", "the along datum", Origin::Stated("instruments.along")),
    Symbol::mm("u_held_x", "how the block is held, along", Origin::Stated("fixture")),
    Symbol::mm(
        "u_warm_x",
        "difference of temperatures over the length along",
        Origin::Stated("temperature.u"),
    ),
    Symbol::mm("u_axis", "the journal axis, across", Origin::Stated("instruments.axis")),
    Symbol::mm("u_held_y", "how the block is held, across", Origin::Stated("fixture")),
    Symbol::mm("u_warm_y", "difference of temperatures over the offset", Origin::Stated("temperature.u")),
    Symbol::mm("u_roll", "the roll of the deck as read, over the deck's height", Origin::SetUp),
    Symbol::mm(
        "u_m",
        "where the machine bores against where it was told to",
        Origin::Stated("instruments.machine"),
    ),
];

/// What the uncertainty of a margin is worked from where the cut meets a measured surface.
pub(super) const SURFACE: [Symbol; 5] = [
    Symbol::mm(
        "u",
        "standard uncertainty of the margin",
        Origin::Figure("sqrt(u_f^2 + u_d^2 + u_r^2 + u_m^2)"),
    ),
    Symbol::mm("u_f", "the old bore's axis there", Origin::Circles),
    Symbol::mm("u_d", "half a diameter, where it was measured", Origin::Stated("instruments.diameter")),
    Symbol::mm("u_r", "the reading from that surface", Origin::Stated("instruments.wall")),
    Symbol::mm(
        "u_m",
        "where the machine bores against where it was told to",
        Origin::Stated("instruments.machine"),
    ),
];

/// What the uncertainty of a margin is worked from between two pockets, each bored by the machine.
pub(super) const BOTH: [Symbol; 2] = [
    Symbol::mm("u", "standard uncertainty of the margin", Origin::Figure("sqrt(u_m^2 + u_m^2)")),
    Symbol::mm(
        "u_m",
        "where the machine bores against where it was told to",
        Origin::Stated("instruments.machine"),
    ),
];

/// How the spindle leans from the bank's Z.
pub(super) const LEAN: [Symbol; 3] = [
    Symbol::new("l_x", "lean of the spindle along, mm a mm", Unit::Share, Origin::SetUp),
    Symbol::new("l_y", "lean of the spindle across, mm a mm", Unit::Share, Origin::SetUp),
    Symbol::mm("d", "depth", Origin::Row),
];
