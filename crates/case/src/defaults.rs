//! Every default the engine may fall back on, with its source, in one place.
//!
//! A default is never silent: whoever uses one puts it on the assumptions list. Ranges are meant
//! as "most cases lie in here"; minutes are what it takes to find out on site.

use dewpath_job::model::Tightness;
use dewpath_report::Source;
use dewpath_report::say::{Judgement, SourceText};

use crate::inputs::Fallback;

/// A default range.
fn range(low: f64, high: f64, source: Source) -> Fallback {
    Fallback::even(low, high, source)
}

/// Height above sea level, m.
pub fn altitude_m() -> Fallback {
    range(0.0, 300.0, Source::judgement(Judgement::LowDwelling))
}

/// Indoor temperature while bathing, K.
pub fn indoor_k() -> Fallback {
    range(294.15, 297.15, Source::judgement(Judgement::WarmBathroom))
}

/// Relative humidity while the fan is judged, share.
pub fn humidity() -> Fallback {
    range(0.4, 0.8, Source::judgement(Judgement::DryToShower))
}

/// Width of a door leaf, m.
pub(crate) fn door_width_m() -> Fallback {
    range(0.61, 0.81, Source::practice())
}

/// Gap under a shut door, m: from tight on carpet to a 3/4 in. undercut.
pub(crate) fn door_gap_m() -> Fallback {
    range(0.006, 0.019, Source::practice())
}

/// Open area of the rest of the door's joints, m²: from a leaf that was sealed for a test to one that rattles. A half-inch
/// undercut was seen to hold 3 Pa up to 80 cfm, which is some 185 cm² beside it; new doors hang closer.
pub(crate) fn door_joints_m2() -> Fallback {
    Fallback::about(0.002, 0.008, 0.020, Source::judgement(Judgement::DoorJoints))
}

/// Flow coefficient of a gap.
pub(crate) fn gap_coefficient() -> Fallback {
    range(0.60, 0.65, Source::confirmed(SourceText::SharpOrifice, ""))
}

/// Air leakage of a dwelling at 50 Pa, 1/h, by how tight it is said to be.
pub(crate) fn air_changes_50(said: &[Tightness]) -> Fallback {
    match said {
        [Tightness::Tight] => range(1.0, 4.0, Source::judgement(Judgement::TightHouse)),
        [Tightness::Leaky] => range(8.0, 20.0, Source::judgement(Judgement::LeakyHouse)),
        _ => range(3.0, 12.0, Source::judgement(Judgement::OldToRecentHouse)),
    }
}

/// Volume of a dwelling whose size nobody wrote, m³.
pub fn dwelling_volume_m3() -> Fallback {
    range(150.0, 450.0, Source::judgement(Judgement::FlatToHouse))
}

/// Storey height used to turn floor area into volume, m.
pub fn storey_height_m() -> Fallback {
    range(2.4, 2.6, Source::practice())
}

/// Straight length of a run nobody measured, m.
pub(crate) fn run_length_m() -> Fallback {
    range(1.5, 9.0, Source::judgement(Judgement::RunsInPractice))
}

/// Elbows of a run nobody counted.
pub fn elbows() -> Fallback {
    range(1.0, 3.0, Source::judgement(Judgement::ElbowsInPractice))
}

/// Longitudinal compression of flexible duct nobody looked at, share.
pub fn compression() -> Fallback {
    range(0.04, 0.30, Source::judgement(Judgement::FlexRelaxes))
}

/// Longitudinal compression for a word, share.
pub(crate) fn compression_of(pull: dewpath_job::model::Pull) -> (f64, f64) {
    use dewpath_job::model::Pull;
    match pull {
        Pull::Tight => (0.02, 0.06),
        Pull::Normal => (0.10, 0.20),
        Pull::Slack => (0.25, 0.35),
    }
}

/// Angle of an elbow, rad.
pub(crate) fn elbow_angle_rad() -> Fallback {
    let right = std::f64::consts::FRAC_PI_2;
    range(right, right, Source::practice())
}

/// Centre-line radius of an elbow over its diameter.
pub(crate) fn elbow_radius() -> Fallback {
    range(1.0, 1.5, Source::practice())
}

/// Share of a screen that is clogged.
pub fn clogged() -> Fallback {
    range(0.0, 0.2, Source::judgement(Judgement::CleanedScreen))
}

/// Free area of a ceiling grille over the area of its collar.
pub(crate) fn grille_free_share() -> Fallback {
    range(0.8, 1.6, Source::judgement(Judgement::SmallGrilles))
}
