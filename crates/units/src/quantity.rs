//! The quantities themselves: one thin type a kind, and what may be multiplied with what.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};
use std::str::FromStr;

use crate::error::ParseError;
use crate::exact;
use crate::factor;
use crate::gauge;
use crate::kind::Kind;
use crate::print;
use crate::read;
use crate::style::{Style, System};

/// A typed quantity: a number in one fixed unit, which the type knows.
pub trait Quantity: Copy + PartialEq + PartialOrd + fmt::Debug {
    /// What it measures.
    const KIND: Kind;

    /// From a number in the stored unit (SI, with the exceptions listed at each type).
    fn from_si(value: f64) -> Self;

    /// The number in the stored unit.
    fn si(self) -> f64;

    /// Reads the way people write it.
    ///
    /// # Errors
    /// A [`ParseError`] that says what is wrong, where, and what to write instead.
    fn parse(text: &str) -> Result<Self, ParseError> {
        read::value(text, Self::KIND).map(Self::from_si)
    }

    /// Writes the way people read it, rounded to what the trade uses.
    fn print(self, style: &Style) -> String {
        print::value(self.si(), Self::KIND, style)
    }

    /// Writes it so that reading gives this very value back, whatever digits that takes, in units of the system where those do. What
    /// was read once always comes back; of what was worked out a few numbers are no number of any unit, and the one beside it comes
    /// back.
    ///
    /// ```
    /// use dewpath_units::{Length, Quantity, System, ThermalResistance};
    /// assert_eq!(Length::from_inches(4.0).print_exact(System::Us), "4 in");
    /// assert_eq!(Length::from_inches(4.0).print_exact(System::Metric), "101.6 mm");
    /// assert_eq!(Length::from_mm(125.0).print_exact(System::Us), "125 mm");
    /// assert_eq!(ThermalResistance::parse("R-8")?.print_exact(System::Metric), "R-8");
    /// # Ok::<(), dewpath_units::ParseError>(())
    /// ```
    fn print_exact(self, system: System) -> String {
        exact::value(self.si(), Self::KIND, system)
    }
}

macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident {
            $( $from:ident, $get:ident = $factor:expr, $words:literal; )*
        }
    ) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            $(
                #[doc = concat!("From a number of ", $words, ".")]
                pub const fn $from(value: f64) -> Self {
                    Self(value * $factor)
                }
                #[doc = concat!("The number of ", $words, ".")]
                pub const fn $get(self) -> f64 {
                    self.0 / $factor
                }
            )*
        }

        quantity_traits!($name);
    };
}

macro_rules! quantity_traits {
    ($name:ident) => {
        impl Quantity for $name {
            const KIND: Kind = Kind::$name;
            fn from_si(value: f64) -> Self {
                Self(value)
            }
            fn si(self) -> f64 {
                self.0
            }
        }
        impl $name {
            /// The smaller of two.
            #[must_use]
            pub fn lesser(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
            /// The larger of two.
            #[must_use]
            pub fn greater(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
        }
        /// Prints in the default style (US, sixteenths).
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.print(&Style::default()))
            }
        }
        impl FromStr for $name {
            type Err = ParseError;
            fn from_str(text: &str) -> Result<Self, ParseError> {
                <Self as Quantity>::parse(text)
            }
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }
        impl Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, by: $name) -> $name {
                $name(self * by.0)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }
        /// How many times the one is in the other.
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold(Self(0.0), |total, item| total + item)
            }
        }
    };
}

quantity! {
    /// A length, stored in metres. For cut lists and framing use the exact [`crate::ShopLength`].
    Length {
        from_m, m = 1.0, "metres";
        from_cm, cm = factor::CENTIMETRE, "centimetres";
        from_mm, mm = factor::MILLIMETRE, "millimetres";
        from_inches, inches = factor::INCH, "inches";
        from_feet, feet = factor::FOOT, "feet";
    }
}

quantity! {
    /// An area, stored in square metres.
    Area {
        from_m2, m2 = 1.0, "square metres";
        from_cm2, cm2 = 1e-4, "square centimetres";
        from_mm2, mm2 = 1e-6, "square millimetres";
        from_ft2, ft2 = factor::SQUARE_FOOT, "square feet";
        from_in2, in2 = factor::SQUARE_INCH, "square inches";
    }
}

quantity! {
    /// A volume, stored in cubic metres.
    Volume {
        from_m3, m3 = 1.0, "cubic metres";
        from_l, l = factor::LITRE, "litres";
        from_ft3, ft3 = factor::CUBIC_FOOT, "cubic feet";
        from_in3, in3 = factor::CUBIC_INCH, "cubic inches";
    }
}

quantity! {
    /// A volume flow of air at the density it has where it is measured, stored in cubic metres per second.
    Airflow {
        from_m3_s, m3_s = 1.0, "cubic metres per second";
        from_l_s, l_s = factor::LITRE, "litres per second";
        from_cfm, cfm = factor::CFM, "cubic feet per minute";
        from_m3_h, m3_h = factor::PER_HOUR, "cubic metres per hour";
    }
}

quantity! {
    /// A pressure or a pressure difference, stored in pascals. Negative under suction.
    Pressure {
        from_pa, pa = 1.0, "pascals";
        from_in_wc, in_wc = factor::INCH_OF_WATER, "conventional inches of water column (249.08891 Pa)";
    }
}

quantity! {
    /// A speed, stored in metres per second.
    Velocity {
        from_m_s, m_s = 1.0, "metres per second";
        from_fpm, fpm = factor::FPM, "feet per minute";
        from_mph, mph = factor::MPH, "miles per hour";
        from_km_h, km_h = factor::KM_H, "kilometres per hour";
    }
}

/// A temperature, stored in kelvins.
///
/// Sums and differences are of kelvins: the difference of two temperatures is a temperature *interval*,
/// whose `.k()` is meant, never its `.c()` or `.f()`.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Temperature(f64);

impl Temperature {
    /// From kelvins.
    pub const fn from_k(value: f64) -> Self {
        Self(value)
    }
    /// Kelvins.
    pub const fn k(self) -> f64 {
        self.0
    }
    /// From degrees Celsius.
    pub const fn from_c(value: f64) -> Self {
        Self(value + factor::CELSIUS_ZERO)
    }
    /// Degrees Celsius.
    pub const fn c(self) -> f64 {
        self.0 - factor::CELSIUS_ZERO
    }
    /// From degrees Fahrenheit.
    pub const fn from_f(value: f64) -> Self {
        Self((value - 32.0) * factor::FAHRENHEIT_DEGREE + factor::CELSIUS_ZERO)
    }
    /// Degrees Fahrenheit.
    pub const fn f(self) -> f64 {
        (self.0 - factor::CELSIUS_ZERO) / factor::FAHRENHEIT_DEGREE + 32.0
    }
}

quantity_traits!(Temperature);

quantity! {
    /// A relative humidity, stored as a ratio from 0 to 1.
    Humidity {
        from_ratio, ratio = 1.0, "parts of one";
        from_percent, percent = factor::PERCENT, "per cent";
    }
}

quantity! {
    /// A plain number such as a share, a slope or a coefficient.
    Ratio {
        from_ratio, ratio = 1.0, "parts of one";
        from_percent, percent = factor::PERCENT, "per cent";
    }
}

quantity! {
    /// An angle, stored in radians.
    Angle {
        from_rad, rad = 1.0, "radians";
        from_deg, deg = factor::DEGREE, "degrees";
    }
}

quantity! {
    /// A length of time, stored in seconds.
    Duration {
        from_s, s = 1.0, "seconds";
        from_min, min = 60.0, "minutes";
        from_h, h = 3600.0, "hours";
    }
}

quantity! {
    /// A density, stored in kilograms per cubic metre.
    Density {
        from_kg_m3, kg_m3 = 1.0, "kilograms per cubic metre";
        from_lb_ft3, lb_ft3 = factor::LB_FT3, "pounds per cubic foot";
    }
}

quantity! {
    /// A power, stored in watts.
    Power {
        from_w, w = 1.0, "watts";
        from_btu_h, btu_h = factor::BTU_H, "British thermal units (International Table) per hour";
    }
}

quantity! {
    /// The thermal resistance of an area, stored in m²·K/W (RSI).
    ThermalResistance {
        from_rsi, rsi = 1.0, "m²·K/W";
        from_r_ip, r_ip = factor::R_IP, "h·ft²·°F/Btu (the R-value on a North American label)";
    }
}

quantity! {
    /// The airflow that leaks through an envelope at 50 Pa, stored in cubic metres per second.
    Leakage50 {
        from_m3_s, m3_s = 1.0, "cubic metres per second at 50 Pa";
        from_cfm50, cfm50 = factor::CFM, "cubic feet per minute at 50 Pa";
        from_l_s, l_s = factor::LITRE, "litres per second at 50 Pa";
        from_m3_h, m3_h = factor::PER_HOUR, "cubic metres per hour at 50 Pa";
    }
}

quantity! {
    /// The air changes per hour of a dwelling at 50 Pa; stored per hour, not per second.
    AirChange50 {
        from_per_h, per_h = 1.0, "air changes per hour at 50 Pa";
    }
}

quantity! {
    /// The copper cross-section of a wire; stored in mm², as every wiring table has it.
    Conductor {
        from_mm2, mm2 = 1.0, "square millimetres";
    }
}

impl Conductor {
    /// The solid round wire of an American wire gauge from 4/0 (written -3) to 40; `None` outside.
    ///
    /// d = 0.127 mm · 92^((36 − n)/39), area = π d²/4.
    ///
    /// Source: ASTM B258, the definition of the gauge. Its table rounds the diameter to 0.0001 in, which
    /// moves the area of 14 AWG from 2.0809 to 2.0820 mm².
    pub fn from_awg(gauge: i32) -> Option<Self> {
        gauge::section_mm2(gauge).map(Self)
    }

    /// The gauge whose cross-section is within 0.2 % of this one, which bridges the rounding of the
    /// gauge tables; `None` for a metric size.
    pub fn awg(self) -> Option<i32> {
        gauge::nearest(self.0)
    }
}

quantity! {
    /// A loudness, stored in sones.
    Loudness {
        from_sone, sone = 1.0, "sones";
    }
}

quantity! {
    /// A sound level, stored in decibels. The weighting and the reference are the caller's matter;
    /// `dB(A)` is read as decibels.
    SoundLevel {
        from_db, db = 1.0, "decibels";
    }
}

quantity! {
    /// A mass, stored in kilograms.
    Mass {
        from_kg, kg = 1.0, "kilograms";
        from_lb, lb = factor::POUND, "pounds";
    }
}

quantity! {
    /// A mass flow, stored in kilograms per second.
    MassFlow {
        from_kg_s, kg_s = 1.0, "kilograms per second";
        from_g_s, g_s = 1e-3, "grams per second";
        from_kg_h, kg_h = factor::PER_HOUR, "kilograms per hour";
    }
}

quantity! {
    /// A flow of water by volume, stored in cubic metres per second. Gallons are US gallons.
    WaterFlow {
        from_m3_s, m3_s = 1.0, "cubic metres per second";
        from_l_min, l_min = factor::LITRE / 60.0, "litres per minute";
        from_gpm, gpm = factor::US_GALLON / 60.0, "US gallons per minute";
    }
}

quantity! {
    /// A difference of two temperatures, stored in kelvins: `18 F` is 10 K, and no thermometer reading.
    TemperatureDifference {
        from_k, k = 1.0, "kelvins (degrees Celsius)";
        from_f, f = factor::FAHRENHEIT_DEGREE, "degrees Fahrenheit";
    }
}

/// `A * B = C` with everything that follows: `B * A = C`, `C / A = B`, `C / B = A`.
macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                $c(self.0 * other.0)
            }
        }
        impl Mul<$a> for $b {
            type Output = $c;
            fn mul(self, other: $a) -> $c {
                $c(self.0 * other.0)
            }
        }
        impl Div<$a> for $c {
            type Output = $b;
            fn div(self, by: $a) -> $b {
                $b(self.0 / by.0)
            }
        }
        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, by: $b) -> $a {
                $a(self.0 / by.0)
            }
        }
    };
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

impl Div<Length> for Area {
    type Output = Length;
    fn div(self, by: Length) -> Length {
        Length(self.0 / by.0)
    }
}

product!(Area * Length = Volume);
product!(Velocity * Area = Airflow);
product!(Airflow * Duration = Volume);
product!(Velocity * Duration = Length);
product!(Density * Volume = Mass);
product!(Density * Airflow = MassFlow);
product!(MassFlow * Duration = Mass);

// No division back: a volume over a duration is an airflow already.
impl Mul<Duration> for WaterFlow {
    type Output = Volume;
    fn mul(self, other: Duration) -> Volume {
        Volume(self.0 * other.0)
    }
}

impl Mul<WaterFlow> for Duration {
    type Output = Volume;
    fn mul(self, other: WaterFlow) -> Volume {
        other * self
    }
}

impl Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, other: TemperatureDifference) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, other: TemperatureDifference) -> Self {
        Self(self.0 - other.0)
    }
}

impl AirChange50 {
    /// The leakage of a dwelling of this volume.
    pub fn leakage(self, volume: Volume) -> Leakage50 {
        Leakage50(self.0 * volume.0 / 3600.0)
    }
}

impl Leakage50 {
    /// The air changes per hour in a dwelling of this volume; infinite or NaN when the volume is 0.
    pub fn air_change(self, volume: Volume) -> AirChange50 {
        AirChange50(self.0 * 3600.0 / volume.0)
    }
}
