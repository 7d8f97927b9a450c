//! Frames as marker types, so that a point of one frame cannot be used in another by accident.
//!
//! ```text
//!            +Z (block: up the middle of the V; bank: along the bores, out through the deck)
//!             |
//!             |        right-handed: X cross Y = Z
//!             |
//!             o-------- +Y (block: the engine's right seen from the flywheel end;
//!            /               bank: across the bank, Y = Z cross X)
//!          +X  (along the journal axis, front to rear)
//! ```
//!
//! The origin of block and bank is where the journal axis meets the along datum. A bank is the block
//! turned about X by its angle `a`, positive to the engine's right: in block coordinates its axes are
//! X = (1, 0, 0), Y = (0, cos a, -sin a), Z = (0, sin a, cos a).

use std::fmt;
use std::marker::PhantomData;

use nalgebra::{Matrix3, Vector3};

/// The block frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Block {}

/// The frame of one bank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bank {}

/// The machine's own axes in one set-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Machine {}

/// A place in frame `F`, mm.
pub struct Point<F> {
    coordinates_mm: Vector3<f64>,
    frame: PhantomData<F>,
}

/// A displacement or direction in frame `F`, mm (or no unit for a direction).
pub struct Displacement<F> {
    components_mm: Vector3<f64>,
    frame: PhantomData<F>,
}

macro_rules! plain_traits {
    ($name:ident, $field:ident) => {
        impl<F> Clone for $name<F> {
            fn clone(&self) -> Self {
                *self
            }
        }
        impl<F> Copy for $name<F> {}
        impl<F> PartialEq for $name<F> {
            fn eq(&self, other: &Self) -> bool {
                self.$field == other.$field
            }
        }
        impl<F> fmt::Debug for $name<F> {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let [x, y, z] = [self.x_mm(), self.y_mm(), self.z_mm()];
                write!(f, "{}({x}, {y}, {z})", stringify!($name))
            }
        }
        impl<F> $name<F> {
            /// From its three components, mm.
            #[must_use]
            pub fn new(x_mm: f64, y_mm: f64, z_mm: f64) -> Self {
                Self::from_vector(Vector3::new(x_mm, y_mm, z_mm))
            }

            /// This from a bare vector whose frame the caller vouches for.
            #[must_use]
            pub fn from_vector($field: Vector3<f64>) -> Self {
                Self { $field, frame: PhantomData }
            }

            /// The component along X, mm.
            #[must_use]
            pub fn x_mm(&self) -> f64 {
                self.$field.x
            }

            /// The component along Y, mm.
            #[must_use]
            pub fn y_mm(&self) -> f64 {
                self.$field.y
            }

            /// The component along Z, mm.
            #[must_use]
            pub fn z_mm(&self) -> f64 {
                self.$field.z
            }

            /// The bare vector, frame forgotten.
            #[must_use]
            pub fn vector(&self) -> Vector3<f64> {
                self.$field
            }
        }
    };
}

plain_traits!(Point, coordinates_mm);
plain_traits!(Displacement, components_mm);

impl<F> std::ops::Add<Displacement<F>> for Point<F> {
    type Output = Self;
    fn add(self, by: Displacement<F>) -> Self {
        Self::from_vector(self.coordinates_mm + by.components_mm)
    }
}

impl<F> std::ops::Sub for Point<F> {
    type Output = Displacement<F>;
    fn sub(self, from: Self) -> Displacement<F> {
        Displacement::from_vector(self.coordinates_mm - from.coordinates_mm)
    }
}

/// A rigid change of frame, `A` to `B`: `b = rotation * a + shift`.
pub struct Placement<A, B> {
    rotation: Matrix3<f64>,
    shift_mm: Vector3<f64>,
    frames: PhantomData<(A, B)>,
}

impl<A, B> Clone for Placement<A, B> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<A, B> Copy for Placement<A, B> {}
impl<A, B> fmt::Debug for Placement<A, B> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Placement")
            .field("rotation", &self.rotation)
            .field("shift_mm", &self.shift_mm)
            .finish()
    }
}

/// Why three axes do not make a frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PlacementError {
    /// A direction has no length, or a number that is not finite.
    #[error("a direction without length cannot carry an axis")]
    NoLength,
    /// The second direction runs along the first.
    #[error("two axes run along each other")]
    Parallel,
}

impl<A, B> Placement<A, B> {
    /// The placement by a rotation matrix (orthonormal, determinant +1; the caller's duty) and a shift, mm.
    #[must_use]
    pub fn new(rotation: Matrix3<f64>, shift_mm: Vector3<f64>) -> Self {
        Self { rotation, shift_mm, frames: PhantomData }
    }

    /// The frame `B` seen from `A`: its origin, its X along `x`, and its Z along `z` made square to X.
    ///
    /// # Errors
    /// Where a direction has no length or both run along one line.
    ///
    /// ```
    /// use borewright_geometry::{Displacement, Machine, Bank, Placement, Point};
    /// let up = Displacement::<Machine>::new(0.0, 0.1, 1.0);
    /// let along = Displacement::new(1.0, 0.0, 0.0);
    /// let to_bank = Placement::<Machine, Bank>::from_axes(Point::new(5.0, 0.0, 0.0), along, up)?;
    /// assert_eq!(to_bank.point(Point::new(7.0, 0.0, 0.0)).x_mm(), 2.0);
    /// # Ok::<(), borewright_geometry::PlacementError>(())
    /// ```
    pub fn from_axes(
        origin: Point<A>,
        x: Displacement<A>,
        z: Displacement<A>,
    ) -> Result<Self, PlacementError> {
        let x = x.components_mm.try_normalize(f64::MIN_POSITIVE).ok_or(PlacementError::NoLength)?;
        let z = z.components_mm.try_normalize(f64::MIN_POSITIVE).ok_or(PlacementError::NoLength)?;
        if !(x.norm().is_finite() && z.norm().is_finite()) {
            return Err(PlacementError::NoLength);
        }
        // 1e-9 rad: far below any set-up, far above rounding.
        let z = (z - x * x.dot(&z)).try_normalize(1e-9).ok_or(PlacementError::Parallel)?;
        let y = z.cross(&x);
        let rotation = Matrix3::from_rows(&[x.transpose(), y.transpose(), z.transpose()]);
        Ok(Self::new(rotation, -(rotation * origin.coordinates_mm)))
    }

    /// Where a point of frame `A` is in frame `B`.
    #[must_use]
    pub fn point(&self, at: Point<A>) -> Point<B> {
        Point::from_vector(self.rotation * at.coordinates_mm + self.shift_mm)
    }

    /// A displacement of frame `A` as frame `B` has it: turned, not shifted.
    #[must_use]
    pub fn displacement(&self, by: Displacement<A>) -> Displacement<B> {
        Displacement::from_vector(self.rotation * by.components_mm)
    }

    /// The way back.
    #[must_use]
    pub fn inverse(&self) -> Placement<B, A> {
        let back = self.rotation.transpose();
        Placement::new(back, -(back * self.shift_mm))
    }
}

/// A bank's placement in the block for its angle from the block's Z, radians, positive to the engine's right.
#[must_use]
pub fn bank_to_block(angle_rad: f64) -> Placement<Bank, Block> {
    let (sin, cos) = angle_rad.sin_cos();
    let columns = [Vector3::new(1.0, 0.0, 0.0), Vector3::new(0.0, cos, -sin), Vector3::new(0.0, sin, cos)];
    Placement::new(Matrix3::from_columns(&columns), Vector3::zeros())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_right_bank_at_45_degrees_has_its_z_up_and_to_the_right() {
        let to_block = bank_to_block(std::f64::consts::FRAC_PI_4);
        let z = to_block.displacement(Displacement::new(0.0, 0.0, 1.0));
        let half = std::f64::consts::FRAC_1_SQRT_2;
        assert!((z.y_mm() - half).abs() < 1e-15 && (z.z_mm() - half).abs() < 1e-15);
        // Y = Z cross X in every frame.
        let x = to_block.displacement(Displacement::new(1.0, 0.0, 0.0)).vector();
        let y = to_block.displacement(Displacement::new(0.0, 1.0, 0.0)).vector();
        assert!((z.vector().cross(&x) - y).norm() < 1e-15);
    }

    #[test]
    fn going_to_a_frame_and_back_changes_nothing() {
        let origin = Point::<Machine>::new(1.0, -2.0, 3.0);
        let to_bank = Placement::<Machine, Bank>::from_axes(
            origin,
            Displacement::new(-1.0, 0.02, 0.01),
            Displacement::new(0.0, 0.03, 1.0),
        )
        .unwrap();
        let at = Point::new(120.0, -40.0, 7.0);
        let back = to_bank.inverse().point(to_bank.point(at));
        assert!((back.vector() - at.vector()).norm() < 1e-12);
        assert_eq!(to_bank.point(origin).vector().norm(), 0.0);
    }

    #[test]
    fn two_axes_along_each_other_are_refused() {
        let along = Displacement::<Machine>::new(0.0, 0.0, 2.0);
        let made = Placement::<Machine, Bank>::from_axes(Point::new(0.0, 0.0, 0.0), along, along);
        assert_eq!(made.unwrap_err(), PlacementError::Parallel);
    }
}
