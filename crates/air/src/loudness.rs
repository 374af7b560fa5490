//! Sound of fans: loudness in sones, level in decibels, and how they add.
//!
//! Loudness is not level: two equal fans are 3 dB and a quarter louder, not twice as loud.
//!
//! ```
//! use dewpath_air::loudness::combine;
//! use dewpath_units::Loudness;
//! let both = combine(&[Loudness::from_sone(1.0), Loudness::from_sone(1.0)])?;
//! assert!((both.same_spectrum.sone() - 1.232).abs() < 0.001);
//! assert_eq!(both.apart.sone(), 2.0);
//! # Ok::<(), dewpath_air::domain::OutOfDomain>(())
//! ```

use dewpath_units::{Area, Loudness, SoundLevel, Velocity};

use crate::domain::{Domain, OutOfDomain, not_negative, positive};

const LOUDNESS: Domain = not_negative("loudness", "sone", "silence is 0 sone");

const LEVEL: Domain = Domain {
    quantity: "sound level",
    unit: "dB",
    low: -100.0,
    high: 200.0,
    reason: "levels in and around a dwelling lie far inside these limits",
};

/// Loudness level in phon of a loudness: 40 + 10·log2 N for N ≥ 1 sone, 40·N^0.35 below.
///
/// Source: ISO 532-1:2017. Departs from the source: below 1 sone DIN 45631 writes (N + 0.0005)^0.35.
/// Valid: 0.02 sone upward; close to the threshold of hearing ISO 532-2 gives larger loudness.
///
/// # Errors
/// [`OutOfDomain`] for a loudness below zero or not finite.
pub fn loudness_level(loudness: Loudness) -> Result<SoundLevel, OutOfDomain> {
    LOUDNESS.check(loudness.sone()).map(|n| SoundLevel::from_db(phon(n)))
}

/// Loudness of a loudness level in phon: 2^((L − 40)/10) for L ≥ 40, (L/40)^(1/0.35) below.
///
/// Source: ISO 532-1:2017, the inverse of [`loudness_level`].
///
/// # Errors
/// [`OutOfDomain`] outside 0 to 200 phon.
pub fn loudness_of_level(level: SoundLevel) -> Result<Loudness, OutOfDomain> {
    let range = Domain { quantity: "loudness level", unit: "phon", low: 0.0, ..LEVEL };
    range.check(level.db()).map(|l| Loudness::from_sone(sone(l)))
}

fn phon(sone: f64) -> f64 {
    if sone >= 1.0 { 40.0 + 10.0 * libm::log2(sone) } else { 40.0 * libm::pow(sone, 0.35) }
}

fn sone(phon: f64) -> f64 {
    if phon >= 40.0 {
        libm::exp2((phon - 40.0) / 10.0)
    } else {
        libm::pow(phon.max(0.0) / 40.0, 1.0 / 0.35)
    }
}

/// Level of several sources that have nothing to do with each other: 10·lg Σ 10^(L/10).
///
/// Source: sum of incoherent sound energy. Bands of a spectrum are added band by band the same way.
///
/// # Errors
/// [`OutOfDomain`] for no source at all or a level outside −100 to 200 dB.
pub fn add_levels(levels: &[SoundLevel]) -> Result<SoundLevel, OutOfDomain> {
    SOURCES.check(levels.len() as f64)?;
    let mut energy = 0.0;
    for level in levels {
        energy += libm::pow(10.0, LEVEL.check(level.db())? / 10.0);
    }
    Ok(SoundLevel::from_db(10.0 * libm::log10(energy)))
}

const SOURCES: Domain = Domain {
    quantity: "number of sources",
    unit: "sources",
    low: 1.0,
    high: f64::MAX,
    reason: "there is nothing to add",
};

/// Loudness of several fans together, as far as it is known without their spectra.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CombinedLoudness {
    /// If all have the same spectrum: their energies add.
    pub same_spectrum: Loudness,
    /// If their spectra lie far apart: their sones add. The upper bound.
    pub apart: Loudness,
}

/// Loudness of several fans heard at the same place.
///
/// Same spectrum: levels of [`loudness_level`] added as energy (two equal fans of 1 sone or more: × 2^0.301).
/// Spectra apart: plain sum.
///
/// Source: ISO 532-1:2017 for the relation; loudness summation over critical bands (Stevens 1961).
/// Valid: the truth lies between the two; fans of the same make lie near the first.
///
/// # Errors
/// [`OutOfDomain`] for no fan at all or a loudness below zero.
pub fn combine(fans: &[Loudness]) -> Result<CombinedLoudness, OutOfDomain> {
    SOURCES.check(fans.len() as f64)?;
    let mut energy = 0.0;
    let mut sum = 0.0;
    for fan in fans {
        let n = LOUDNESS.check(fan.sone())?;
        sum += n;
        if n > 0.0 {
            energy += libm::pow(10.0, phon(n) / 10.0);
        }
    }
    let together = if energy > 0.0 { sone(10.0 * libm::log10(energy)) } else { 0.0 };
    Ok(CombinedLoudness {
        // Very quiet fans could pass their plain sum in the relation below 1 sone.
        same_spectrum: Loudness::from_sone(together.min(sum)),
        apart: Loudness::from_sone(sum),
    })
}

/// Change of sound power level with fan speed: 50·lg(speed ratio).
///
/// Source: fan sound law (from memory; exponents of 4.5 to 5.5 are met). Valid: same fan, same point of the
/// system curve, speed ratio 0.2 to 5.
///
/// # Errors
/// [`OutOfDomain`] outside that range.
pub fn level_change_by_speed(speed_ratio: f64) -> Result<SoundLevel, OutOfDomain> {
    let ratio = SPEED_RATIO.check(speed_ratio)?;
    Ok(SoundLevel::from_db(50.0 * libm::log10(ratio)))
}

const SPEED_RATIO: Domain = Domain {
    quantity: "speed ratio",
    unit: "(of 1)",
    low: 0.2,
    high: 5.0,
    reason: "the speed law does not carry over wider ranges",
};

/// Loudness of a fan at another speed: its loudness level moved by [`level_change_by_speed`].
///
/// Departs from the source: the change of power level is taken for a change of loudness level, which assumes a
/// spectrum that keeps its shape. Below 40 phon loudness falls faster than level.
///
/// # Errors
/// [`OutOfDomain`] as the two functions it stands on.
pub fn loudness_at_speed(rated: Loudness, speed_ratio: f64) -> Result<Loudness, OutOfDomain> {
    let change = level_change_by_speed(speed_ratio)?.db();
    let level = loudness_level(rated)?.db() + change;
    Ok(Loudness::from_sone(if rated.sone() > 0.0 { sone(level) } else { 0.0 }))
}

/// Width of the bands of a loudness calculation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BandWidth {
    /// One octave.
    Octave,
    /// Half an octave.
    HalfOctave,
    /// A third of an octave.
    ThirdOctave,
}

impl BandWidth {
    /// Share F of the bands beside the loudest one.
    ///
    /// Source: Stevens 1961 (Mark VI); ANSI S3.4-1980.
    pub fn share(self) -> f64 {
        match self {
            Self::Octave => 0.3,
            Self::HalfOctave => 0.2,
            Self::ThirdOctave => 0.15,
        }
    }
}

/// Total loudness from the loudness index of each band: S_max + F·(ΣS − S_max).
///
/// Source: Stevens 1961 (Mark VI); ANSI S3.4-1980, the method behind the sone ratings of room fans. The indices
/// come from the tables of that standard, which are not carried here.
///
/// # Errors
/// [`OutOfDomain`] for no band at all or an index below zero.
///
/// # Examples
/// ```
/// use dewpath_air::loudness::{total_loudness, BandWidth};
/// let bands = [3.0, 6.2, 10.5, 15.3, 18.7, 26.5, 23.0, 17.5, 13.5];
/// let total = total_loudness(&bands, BandWidth::Octave)?;
/// assert!((total.sone() - 58.8).abs() < 0.1);
/// # Ok::<(), dewpath_air::domain::OutOfDomain>(())
/// ```
pub fn total_loudness(indices: &[f64], width: BandWidth) -> Result<Loudness, OutOfDomain> {
    Domain { quantity: "number of bands", unit: "bands", ..SOURCES }.check(indices.len() as f64)?;
    let index = not_negative("loudness index", "sone", "an inaudible band has the index 0");
    let (mut sum, mut most) = (0.0, 0.0);
    for &value in indices {
        let value = index.check(value)?;
        sum += value;
        most = value.max(most);
    }
    Ok(Loudness::from_sone(most + width.share() * (sum - most)))
}

/// A-weighted level in the room that goes with a fan's sones, as a band: 28 + 33.2·lg N ± 3 dB.
///
/// Source: old rule of the trade (from memory). Valid: 0.3 to 10 sone, at the rating distance of 1.5 m.
///
/// # Errors
/// [`OutOfDomain`] outside 0.3 to 10 sone.
pub fn a_weighted_level(loudness: Loudness) -> Result<[SoundLevel; 3], OutOfDomain> {
    let range = Domain {
        quantity: "loudness",
        unit: "sone",
        low: 0.3,
        high: 10.0,
        reason: "the rule that turns sones into decibels was made for room fans",
    };
    let likely = 28.0 + 33.2 * libm::log10(range.check(loudness.sone())?);
    Ok([likely - 3.0, likely, likely + 3.0].map(SoundLevel::from_db))
}

/// Sound power level of air flowing through a straight duct: 10 + 50·lg v + 10·lg A, v in m/s, A in m².
///
/// Source: handbook form (VDI 2081 prints 7 for the constant). Valid: 2 to 20 m/s, smooth straight duct;
/// elbows, dampers and grilles make more noise.
///
/// # Errors
/// [`OutOfDomain`] for a speed or an area not above zero.
pub fn duct_flow_noise(speed: Velocity, area: Area) -> Result<SoundLevel, OutOfDomain> {
    let v = positive("air speed", "m/s", "still air makes no noise").check(speed.m_s())?;
    let a = positive("duct area", "m²", "a duct has a size").check(area.m2())?;
    Ok(SoundLevel::from_db(10.0 + 50.0 * libm::log10(v) + 10.0 * libm::log10(a)))
}
