//! Limits on how a sleeve fits; `sleeve/limit.rs` judges them where it would stand.

use super::stated::{Better, Judges, Kind, Stated};

/// Wall of the finished sleeve.
pub const WALL: Stated =
    Stated::metal("sleeve_wall", "sleeve wall", "Least wall of the sleeve once finished.", Judges::Sleeve);

/// The fire ring on the flange.
pub const RING_ON_FLANGE: Stated = Stated::metal(
    "ring_on_flange",
    "ring on flange",
    "Least width of the fire ring on the flange, all round.",
    Judges::Sleeve,
);

/// Heights round one flange, or depths round one ledge, may differ by this where the job sets no limit, mm: more shows dirt or a
/// ledge that is not square. Common practice, no source.
pub const SPREAD_MM: f64 = 0.013;

/// Protrusion round one bore.
pub const PROTRUSION_SPREAD: Stated = Stated {
    better: Better::Smaller,
    ..Stated::metal(
        "protrusion_spread",
        "protrusion spread",
        "Largest difference of a flange's protrusion round the bore.",
        Judges::Sleeve,
    )
};

/// Sleeve below the oil ring.
pub const RING_HOLD: Stated = Stated::metal(
    "ring_hold",
    "ring hold",
    "Least length of sleeve below the oil ring at bottom dead centre.",
    Judges::Sleeve,
);

/// Skirt below the sleeve.
pub const SKIRT_OUT: Stated = Stated {
    better: Better::Smaller,
    ..Stated::metal(
        "skirt_out",
        "skirt out",
        "Most of the skirt below the sleeve at bottom dead centre.",
        Judges::Sleeve,
    )
};

/// Seat pressure over yield.
pub const SEAT_RATIO: Stated = Stated {
    better: Better::Smaller,
    kind: Kind::Share,
    ..Stated::metal(
        "seat_ratio",
        "seat ratio",
        "Largest bearing pressure of the seat over the yield of its metal at work.",
        Judges::Sleeve,
    )
};

/// Hoop stress over yield.
pub const HOOP_RATIO: Stated = Stated {
    better: Better::Smaller,
    kind: Kind::Share,
    ..Stated::metal(
        "hoop_ratio",
        "hoop ratio",
        "Largest hoop stress of a fit over yield, in either part.",
        Judges::Sleeve,
    )
};
