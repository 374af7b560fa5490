//! Conversion factors into the stored units, exact wherever the unit is defined exactly.
//!
//! Sources: BIPM, *The International System of Units*, 9th edition (2019), and NIST Special Publication
//! 811 (2008), Appendix B, with the definitions it rests on: inch 25.4 mm and pound 0.45359237 kg
//! (1959 agreement), Btu (International Table) 1055.05585262 J, US gallon 231 cubic inches, standard
//! gravity 9.80665 m/s². "Conventional" water and mercury are columns at standard gravity with the
//! fixed densities 1000 and 13595.1 kg/m³; SP 811 also lists an inch of water at 39.2 °F
//! (249.082 Pa) and at 60 °F (248.84 Pa), which are not used here.

pub(crate) const INCH: f64 = 0.0254;
pub(crate) const FOOT: f64 = 0.3048;
pub(crate) const YARD: f64 = 0.9144;
pub(crate) const CENTIMETRE: f64 = 0.01;
pub(crate) const MILLIMETRE: f64 = 0.001;
pub(crate) const SQUARE_INCH: f64 = 0.00064516;
pub(crate) const SQUARE_FOOT: f64 = 0.09290304;
pub(crate) const CUBIC_INCH: f64 = 0.000016387064;
pub(crate) const CUBIC_FOOT: f64 = 0.028316846592;
pub(crate) const US_GALLON: f64 = 0.003785411784;
pub(crate) const LITRE: f64 = 0.001;
pub(crate) const PER_HOUR: f64 = 1.0 / 3600.0;
pub(crate) const PER_MINUTE: f64 = 1.0 / 60.0;
pub(crate) const CFM: f64 = CUBIC_FOOT / 60.0;
pub(crate) const INCH_OF_WATER: f64 = 249.08891;
pub(crate) const STANDARD_GRAVITY: f64 = 9.80665;
pub(crate) const MILLIMETRE_OF_WATER: f64 = STANDARD_GRAVITY;
pub(crate) const INCH_OF_MERCURY: f64 = 3386.388640341;
pub(crate) const PSI: f64 = POUND * STANDARD_GRAVITY / SQUARE_INCH;
pub(crate) const FPM: f64 = FOOT / 60.0;
pub(crate) const MPH: f64 = 0.44704;
pub(crate) const KM_H: f64 = 1.0 / 3.6;
pub(crate) const KNOT: f64 = 1852.0 / 3600.0;
pub(crate) const CELSIUS_ZERO: f64 = 273.15;
pub(crate) const FAHRENHEIT_DEGREE: f64 = 5.0 / 9.0;
pub(crate) const PERCENT: f64 = 0.01;
pub(crate) const DEGREE: f64 = std::f64::consts::PI / 180.0;
pub(crate) const POUND: f64 = 0.45359237;
pub(crate) const OUNCE: f64 = POUND / 16.0;
pub(crate) const GRAIN: f64 = 0.00006479891;
pub(crate) const LB_FT3: f64 = POUND / CUBIC_FOOT;
pub(crate) const BTU_H: f64 = 1055.05585262 / 3600.0;
pub(crate) const R_IP: f64 = 3600.0 * SQUARE_FOOT * FAHRENHEIT_DEGREE / 1055.05585262;
