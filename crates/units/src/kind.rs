//! What sorts of things are measured.

use std::fmt;

/// What sort of thing a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Kind {
    /// How long, wide, high or thick.
    Length,
    /// A surface or an opening.
    Area,
    /// A room or a box.
    Volume,
    /// Volume of air per time, at the density it has where it is measured.
    Airflow,
    /// A pressure or a pressure difference.
    Pressure,
    /// Air or wind speed.
    Velocity,
    /// Temperature on an absolute scale.
    Temperature,
    /// Relative humidity.
    Humidity,
    /// A plain number: a share, a slope, a coefficient.
    Ratio,
    /// The angle of a bend or a roof.
    Angle,
    /// How long something lasts.
    Duration,
    /// Mass of a volume.
    Density,
    /// Electrical power or heat flow.
    Power,
    /// Thermal resistance of an area (the R-value of insulation).
    ThermalResistance,
    /// Air leakage of a dwelling at a pressure of 50 Pa.
    Leakage50,
    /// Air changes per hour of a dwelling at a pressure of 50 Pa.
    AirChange50,
    /// Copper cross-section of a wire.
    Conductor,
    /// Loudness as heard.
    Loudness,
    /// Sound level.
    SoundLevel,
    /// Mass.
    Mass,
    /// Mass per time.
    MassFlow,
    /// Volume of water per time, as from a shower head.
    WaterFlow,
    /// How much warmer one thing is than another.
    TemperatureDifference,
}

impl Kind {
    /// Every kind, in the order in which a stray unit is looked up.
    pub const ALL: [Self; 23] = [
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Airflow,
        Self::Pressure,
        Self::Velocity,
        Self::Temperature,
        Self::Ratio,
        Self::Humidity,
        Self::Angle,
        Self::Duration,
        Self::Density,
        Self::Power,
        Self::ThermalResistance,
        Self::Leakage50,
        Self::AirChange50,
        Self::Conductor,
        Self::Loudness,
        Self::SoundLevel,
        Self::Mass,
        Self::MassFlow,
        Self::WaterFlow,
        // Behind the temperature, whose units it shares: a stray `68 F` is a temperature.
        Self::TemperatureDifference,
    ];

    /// The name people use, such as `airflow`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Airflow => "airflow",
            Self::Pressure => "pressure",
            Self::Velocity => "velocity",
            Self::Temperature => "temperature",
            Self::Humidity => "relative humidity",
            Self::Ratio => "ratio",
            Self::Angle => "angle",
            Self::Duration => "duration",
            Self::Density => "density",
            Self::Power => "power",
            Self::ThermalResistance => "thermal resistance",
            Self::Leakage50 => "leakage at 50 Pa",
            Self::AirChange50 => "air change rate at 50 Pa",
            Self::Conductor => "conductor size",
            Self::Loudness => "loudness",
            Self::SoundLevel => "sound level",
            Self::Mass => "mass",
            Self::MassFlow => "mass flow",
            Self::WaterFlow => "water flow",
            Self::TemperatureDifference => "temperature difference",
        }
    }

    /// The name with its article, such as `an airflow`.
    pub const fn article_name(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Airflow => "an airflow",
            Self::Pressure => "a pressure",
            Self::Velocity => "a velocity",
            Self::Temperature => "a temperature",
            Self::Humidity => "a relative humidity",
            Self::Ratio => "a ratio",
            Self::Angle => "an angle",
            Self::Duration => "a duration",
            Self::Density => "a density",
            Self::Power => "a power",
            Self::ThermalResistance => "a thermal resistance",
            Self::Leakage50 => "a leakage at 50 Pa",
            Self::AirChange50 => "an air change rate at 50 Pa",
            Self::Conductor => "a conductor size",
            Self::Loudness => "a loudness",
            Self::SoundLevel => "a sound level",
            Self::Mass => "a mass",
            Self::MassFlow => "a mass flow",
            Self::WaterFlow => "a water flow",
            Self::TemperatureDifference => "a temperature difference",
        }
    }

    /// A value of this kind as it may be written; it parses.
    pub const fn example(self) -> &'static str {
        match self {
            Self::Length => "9 ft 4-1/2 in",
            Self::Area => "54 ft2",
            Self::Volume => "440 ft3",
            Self::Airflow => "80 cfm",
            Self::Pressure => "0.25 inWC",
            Self::Velocity => "600 fpm",
            Self::Temperature => "68 F",
            Self::Humidity => "45 %",
            Self::Ratio => "0.6",
            Self::Angle => "45 deg",
            Self::Duration => "20 min",
            Self::Density => "1.2 kg/m3",
            Self::Power => "24 W",
            Self::ThermalResistance => "R-8",
            Self::Leakage50 => "1200 cfm50",
            Self::AirChange50 => "5 ACH50",
            Self::Conductor => "14 AWG",
            Self::Loudness => "0.8 sones",
            Self::SoundLevel => "52 dB",
            Self::Mass => "12 lb",
            Self::MassFlow => "0.03 kg/s",
            Self::WaterFlow => "2 gpm",
            Self::TemperatureDifference => "18 F",
        }
    }

    /// The least value that can be, in the stored unit; `None` where negative values have a meaning
    /// (pressures, angles, plain ratios, sound levels, temperature differences).
    pub const fn floor(self) -> Option<f64> {
        match self {
            Self::Pressure
            | Self::Angle
            | Self::Ratio
            | Self::SoundLevel
            | Self::TemperatureDifference => None,
            _ => Some(0.0),
        }
    }

    /// The greatest value that can be, in the stored unit; `None` where there is no such limit.
    pub const fn ceiling(self) -> Option<f64> {
        match self {
            Self::Humidity => Some(1.0),
            _ => None,
        }
    }

    /// Whether 0 means "none of it", so that a percentage of a value makes sense. Temperatures, angles
    /// and sound levels are read on scales whose zero is a convention.
    pub const fn scales(self) -> bool {
        !matches!(self, Self::Temperature | Self::Angle | Self::SoundLevel | Self::Conductor)
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
