//! Spaces, and quantities that live in one of them.

use std::cmp::Ordering;
use std::fmt;
use std::iter::Sum;
use std::marker::PhantomData;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use uom::si::area::{square_foot, square_inch, square_meter};
use uom::si::f64 as si;
use uom::si::length::{foot, inch, meter, mil, millimeter};

/// A world in which lengths are measured.
pub trait Space:
    Copy + fmt::Debug + Default + PartialEq + PartialOrd + Send + Sync + 'static
{
    /// The word for this space in messages and files.
    const NAME: &'static str;
}

/// The spaces in which a building has its full size.
pub trait FullSize: Space {}

macro_rules! spaces {
    ($($(#[$doc:meta])* $name:ident = $word:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name;
        impl Space for $name {
            const NAME: &'static str = $word;
        }
    )*};
}

spaces! {
    /// The full-size building as it stood.
    Prototype = "prototype";
    /// The full-size building after shortening.
    Compressed = "compressed";
    /// The model on the bench.
    Model = "model";
    /// A printed page, before the printer's own stretch is corrected.
    Paper = "paper";
}

impl FullSize for Prototype {}
impl FullSize for Compressed {}

/// A quantity `Q` that belongs to space `S`.
///
/// ```compile_fail
/// use scantling::quantity::{ModelLength, PrototypeLength};
/// let wrong = PrototypeLength::feet(1.0) + ModelLength::inches(1.0);
/// ```
/// ```compile_fail
/// use scantling::quantity::{CompressedLength, PrototypeLength};
/// let wrong: CompressedLength = PrototypeLength::feet(1.0);
/// ```
#[derive(Clone, Copy, PartialEq, PartialOrd)]
pub struct In<S, Q> {
    quantity: Q,
    space: PhantomData<S>,
}

/// A length in space `S`.
pub type Length<S> = In<S, si::Length>;
/// An area in space `S`.
pub type Area<S> = In<S, si::Area>;
/// A length of the building as surveyed.
pub type PrototypeLength = Length<Prototype>;
/// A full-size length after shortening.
pub type CompressedLength = Length<Compressed>;
/// A length on the model.
pub type ModelLength = Length<Model>;
/// A length on a printed page.
pub type PaperLength = Length<Paper>;

impl<S: Space, Q> In<S, Q> {
    fn new(quantity: Q) -> Self {
        Self { quantity, space: PhantomData }
    }
}

macro_rules! length_units {
    ($($(#[$doc:meta])* $make:ident, $read:ident, $unit:ident;)*) => {
        impl<S: Space> Length<S> {$(
            $(#[$doc])*
            #[must_use]
            pub fn $make(value: f64) -> Self {
                Self::new(si::Length::new::<$unit>(value))
            }
            #[doc = concat!("The length in the unit of [`Self::", stringify!($make), "`].")]
            #[must_use]
            pub fn $read(self) -> f64 {
                self.quantity.get::<$unit>()
            }
        )*}
    };
}

length_units! {
    /// A length from metres.
    metres, in_metres, meter;
    /// A length from millimetres.
    millimetres, in_millimetres, millimeter;
    /// A length from international feet of 304.8 mm.
    feet, in_feet, foot;
    /// A length from inches of 25.4 mm.
    inches, in_inches, inch;
    /// A length from thousandths of an inch.
    thou, in_thou, mil;
}

impl<S: Space> Length<S> {
    /// No length at all.
    pub const ZERO: Self = Self {
        quantity: si::Length { dimension: PhantomData, units: PhantomData, value: 0.0 },
        space: PhantomData,
    };

    /// The size without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self::new(self.quantity.abs())
    }

    /// The smaller of two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self::new(self.quantity.min(other.quantity))
    }

    /// The larger of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self::new(self.quantity.max(other.quantity))
    }

    /// Whether the value is an ordinary number.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.quantity.is_finite()
    }

    /// Whether two lengths agree within `slack`; never compare with `==`.
    #[must_use]
    pub fn agrees(self, other: Self, slack: Self) -> bool {
        (self - other).abs() <= slack.abs()
    }

    /// Orders two lengths, numbers before non-numbers.
    #[must_use]
    pub fn total_cmp(&self, other: &Self) -> Ordering {
        self.in_metres().total_cmp(&other.in_metres())
    }
}

impl<S: Space> Area<S> {
    /// The area in square feet.
    #[must_use]
    pub fn in_square_feet(self) -> f64 {
        self.quantity.get::<square_foot>()
    }

    /// The area in square inches.
    #[must_use]
    pub fn in_square_inches(self) -> f64 {
        self.quantity.get::<square_inch>()
    }

    /// The area in square metres.
    #[must_use]
    pub fn in_square_metres(self) -> f64 {
        self.quantity.get::<square_meter>()
    }
}

impl CompressedLength {
    /// A prototype length carried over unshortened: the plainest entry of the
    /// compression record.
    #[must_use]
    pub fn kept(length: PrototypeLength) -> Self {
        Self::new(length.quantity)
    }

    /// A prototype length shortened by a factor of the compression record.
    #[must_use]
    pub fn shortened(length: PrototypeLength, factor: f64) -> Self {
        Self::kept(length) * factor
    }
}

impl<S: Space, Q: Add<Output = Q>> Add for In<S, Q> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.quantity + other.quantity)
    }
}

impl<S: Space, Q: Sub<Output = Q>> Sub for In<S, Q> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.quantity - other.quantity)
    }
}

impl<S: Space, Q: Neg<Output = Q>> Neg for In<S, Q> {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.quantity)
    }
}

impl<S: Space, Q: AddAssign> AddAssign for In<S, Q> {
    fn add_assign(&mut self, other: Self) {
        self.quantity += other.quantity;
    }
}

impl<S: Space, Q: SubAssign> SubAssign for In<S, Q> {
    fn sub_assign(&mut self, other: Self) {
        self.quantity -= other.quantity;
    }
}

impl<S: Space, Q: Mul<f64, Output = Q>> Mul<f64> for In<S, Q> {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.quantity * factor)
    }
}

impl<S: Space, Q: Div<f64, Output = Q>> Div<f64> for In<S, Q> {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self::new(self.quantity / divisor)
    }
}

impl<S: Space> Mul for Length<S> {
    type Output = Area<S>;
    fn mul(self, other: Self) -> Area<S> {
        In::new(self.quantity * other.quantity)
    }
}

impl<S: Space> Div for Length<S> {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.in_metres() / other.in_metres()
    }
}

impl<S: Space> Sum for Length<S> {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl<S: Space> Default for Length<S> {
    fn default() -> Self {
        Self::ZERO
    }
}

impl<S: Space> fmt::Debug for Length<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} in {}", self.in_inches(), S::NAME)
    }
}

impl<S: Space> fmt::Debug for Area<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} sq in {}", self.in_square_inches(), S::NAME)
    }
}

impl<S: Space> serde::Serialize for Length<S> {
    /// Metres, as a number; reports that want another unit convert first.
    fn serialize<Z: serde::Serializer>(&self, to: Z) -> Result<Z::Ok, Z::Error> {
        to.serialize_f64(self.in_metres())
    }
}

/// A plane angle. Angles belong to no space: scaling keeps them.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(si::Angle);

impl Angle {
    /// An angle from degrees.
    #[must_use]
    pub fn degrees(value: f64) -> Self {
        Self(si::Angle::new::<uom::si::angle::degree>(value))
    }

    /// An angle from radians.
    #[must_use]
    pub fn radians(value: f64) -> Self {
        Self(si::Angle::new::<uom::si::angle::radian>(value))
    }

    /// The angle in degrees.
    #[must_use]
    pub fn in_degrees(self) -> f64 {
        self.0.get::<uom::si::angle::degree>()
    }

    /// The angle in radians.
    #[must_use]
    pub fn in_radians(self) -> f64 {
        self.0.get::<uom::si::angle::radian>()
    }
}
