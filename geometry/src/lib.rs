//! Frames, fits, distances, closest positions and toolpath curves.
//!
//! No trade and no files: lengths are millimetres, angles radians unless a name ends in `_deg`.

mod arc;
mod circle;
mod cylinder;
mod line;
mod plane;
mod straightness;

mod frame;

pub use arc::{SHORT_ARC_GAP_DEG, arc_centre_u_mm, widest_gap, widest_gap_deg};
pub use circle::{Circle, CircleError, fit_circle};
pub use cylinder::{Cylinder, CylinderError, fit_cylinder, fit_cylinder_along};
pub use line::{Line, LineError, fit_line};
pub use plane::{Plane, PlaneError, fit_plane};
pub use straightness::{ZoneError, ZoneLine, minimum_zone_line};

pub use frame::{Bank, Block, Displacement, Machine, Placement, PlacementError, Point, bank_to_block};

pub mod clock;
mod closest;
mod constraint;
mod distance;
mod inside;
mod place;
mod reserve;
pub mod sample;
mod settle;

pub use closest::{Eased, ON_LIMIT_MM, Problem};
pub use constraint::{Constraint, Judged, Place, one_sided};
pub use distance::{ClosestPoints, closest_points, segment_to_cylinder};
pub use inside::{normal_below, normal_quantile, probability_between, probability_inside, radius_within};
pub use place::{Apart, Bound, Margin, SAME_PLACE_MM, Spread};
pub use reserve::Reserve;

mod axis;
mod eccentric;
mod motion;

pub use axis::{BoreAxis, ONE_DEPTH_MM, fit_bore_axis};
pub use eccentric::{
    ArcLeft, EccentricStock, ShellAt, ShellFit, ShellLeft, eccentric_stock, fit_shell, shell_from_arcs,
    shell_left,
};
pub use motion::{Motion, MotionError, Observed, Part, fit_motion};

mod form;
mod harmonics;
mod helix;
mod locating;
mod zone_circle;
mod zone_cylinder;

pub use form::{BarrelShape, BarrelShapeError, Told, fit_barrel_shape};
pub use harmonics::{Harmonic, Harmonics, HarmonicsError, fit_harmonics};
pub use helix::{ArcTo, Helix};
pub use locating::{FreeMotion, Locating, LocatingError, Locator};
pub use zone_circle::{
    ZoneCircle, ZoneCircleError, maximum_inscribed_circle, minimum_circumscribed_circle, minimum_zone_circle,
};
pub use zone_cylinder::{ZoneCylinder, minimum_zone_cylinder_along, minimum_zone_cylinder_near};
