//! Outdoor air of a dwelling: through its leaks by weather, and by its ventilation.

use dewpath_air::leakage::{Envelope, Shelter, Storeys, basic_infiltration};
use dewpath_case::given;
use dewpath_job::model::{Job, VentilationKind};
use dewpath_units::{Density, Temperature, Velocity};

/// Wind of the design day, m/s. Judgement.
pub(super) const DESIGN_WIND_M_S: f64 = 3.0;

/// Storeys as the basic model of infiltration takes them.
pub(crate) fn storeys(job: &Job) -> Storeys {
    match given::count_bounds(&job.dwelling.storeys) {
        Some((low, _)) if low >= 2 => Storeys::Two,
        _ => Storeys::One,
    }
}

/// Natural infiltration, m³/s.
pub(crate) fn infiltration_m3_s(
    envelope: Option<&Envelope>,
    storeys: Storeys,
    difference_k: f64,
    wind_m_s: f64,
) -> f64 {
    let area = envelope.and_then(|e| e.effective_leakage_area(Density::from_kg_m3(1.2)).ok());
    let Some(area) = area else { return 0.0 };
    basic_infiltration(
        area,
        storeys,
        Shelter::Moderate,
        Temperature::from_k(difference_k.max(0.0)),
        Velocity::from_m_s(wind_m_s.max(0.0)),
    )
    .map_or(0.0, dewpath_units::Airflow::m3_s)
}

/// Ventilation of the dwelling beside the fans: air in and out, and how much vapour comes back, m³/s.
#[derive(Clone, Copy, Default)]
pub(crate) struct WholeHouse {
    pub(super) fresh_m3_s: f64,
    pub(super) exhaust_only_m3_s: f64,
}

pub(super) fn ventilation(job: &Job) -> WholeHouse {
    let v = &job.dwelling.ventilation;
    let Some(flow) = given::likely(&v.airflow) else { return WholeHouse::default() };
    let share = given::likely(&v.hours_per_day).map_or(1.0, |h| (h.h() / 24.0).clamp(0.0, 1.0));
    let back = given::likely(&v.moisture_recovery).map_or(0.0, |r| r.ratio().clamp(0.0, 1.0));
    let flow = flow.m3_s() * share;
    match given::member(&v.kind) {
        Some(VentilationKind::Balanced) | None => {
            WholeHouse { fresh_m3_s: flow * (1.0 - back), exhaust_only_m3_s: 0.0 }
        }
        Some(VentilationKind::Exhaust | VentilationKind::Supply) => {
            WholeHouse { fresh_m3_s: 0.0, exhaust_only_m3_s: flow }
        }
        Some(VentilationKind::None) => WholeHouse::default(),
    }
}

impl WholeHouse {
    /// Outdoor air that a dwelling takes in with so much through its leaks: what fans draw adds in quadrature, what is balanced
    /// comes on top, m³/s.
    pub(super) fn with_leaks_m3_s(self, leaks_m3_s: f64) -> f64 {
        let drawn = self.exhaust_only_m3_s;
        libm::sqrt(leaks_m3_s * leaks_m3_s + drawn * drawn) + self.fresh_m3_s
    }
}
