//! Surfaces as the air sees them: what they exchange, and saturation at their temperature.

use super::model::{LATENT_J_KG, Model, SURFACES, Thermal};
use crate::saturation::{Saturation, TRIPLE_POINT_C};

/// Saturation at the temperature at which it was last looked up. The ratio of saturated air curves upwards, so its tangent
/// is a bound from below: air under it needs no look.
#[derive(Debug, Clone, Copy)]
pub(super) struct Face {
    at_c: f64,
    pub(super) w: f64,
    pub(super) slope: f64,
}

impl Face {
    pub(super) const UNKNOWN: Self = Self { at_c: f64::NAN, w: 0.0, slope: 0.0 };

    /// Looks it up at a temperature.
    #[inline]
    pub(super) fn look(&mut self, table: &Saturation, t_c: f64, p_pa: f64) {
        if self.at_c.to_bits() != t_c.to_bits() {
            let (w, slope) = table.humidity_ratio_and_slope(t_c, p_pa);
            *self = Self { at_c: t_c, w, slope };
        }
    }

    /// Saturation near the temperature at which it was last looked up, along its tangent.
    #[inline]
    pub(super) fn near(&self, t_c: f64) -> f64 {
        self.w + self.slope * (t_c - self.at_c)
    }

    /// Whether air of humidity ratio `w` is above saturation at `t_c`; if so it is looked up.
    #[inline]
    pub(super) fn is_exceeded(&mut self, table: &Saturation, w: f64, t_c: f64, p_pa: f64) -> bool {
        // The curve bends the other way at the triple point, where ice becomes water.
        let same_side = (self.at_c < TRIPLE_POINT_C) == (t_c < TRIPLE_POINT_C);
        if same_side && w <= self.near(t_c) {
            return false;
        }
        self.look(table, t_c, p_pa);
        w > self.w
    }
}

/// What of the surfaces does not change while a room is followed.
#[derive(Debug, Clone)]
pub(super) struct Faces {
    pub(super) count: usize,
    /// Transfer, kg/s for each kg/kg.
    pub(super) transfer_kg_s: [f64; SURFACES],
    /// Rise of temperature for each kg that condenses, K/kg; none where temperatures are held.
    pub(super) warms_k_kg: [f64; SURFACES],
    /// Water it can hold, kg.
    pub(super) most_kg: [f64; SURFACES],
    /// Place of the surface in the sets of wet surfaces that are taken along in the maps of humidity, as a bit; 0 for a
    /// surface that moves too little to be taken along.
    pub(super) bit: [usize; SURFACES],
    /// How many sets there are.
    pub(super) sets: usize,
}

/// A surface whose transfer over the air of the room is above this is taken along in the maps, 1/s. Over a step of a
/// minute it moves less than a thirtieth of the difference.
const TAKEN_ALONG_PER_S: f64 = 5e-4;

impl Faces {
    pub(super) fn new(model: &Model) -> Self {
        let held = matches!(model.thermal, Thermal::Held(_));
        let mut faces = Self {
            count: model.surfaces.len().min(SURFACES),
            transfer_kg_s: [0.0; SURFACES],
            warms_k_kg: [0.0; SURFACES],
            most_kg: [0.0; SURFACES],
            bit: [0; SURFACES],
            sets: 1,
        };
        for (j, s) in model.surfaces.iter().enumerate().take(SURFACES) {
            faces.transfer_kg_s[j] = s.vapour_kg_s;
            faces.warms_k_kg[j] = if held { 0.0 } else { LATENT_J_KG / s.heat_j_k };
            faces.most_kg[j] = (s.holds_kg_m2 * s.area_m2).max(s.wetted_kg);
            if s.vapour_kg_s > TAKEN_ALONG_PER_S * model.dry_air_kg {
                faces.bit[j] = faces.sets;
                faces.sets *= 2;
            }
        }
        faces
    }

    /// Transfer of the surfaces of a set together, kg/s.
    pub(super) fn transfer_of(&self, set: usize) -> f64 {
        let taken = self.bit.iter().zip(&self.transfer_kg_s).filter(|(bit, _)| set & **bit != 0);
        taken.map(|(_, transfer)| transfer).sum()
    }
}
