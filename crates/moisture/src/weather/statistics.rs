//! A year in a few figures.

use super::hours::Hour;

/// Figures by which a record is recognised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Statistics {
    /// Hours.
    pub hours: usize,
    /// Mean temperature, °C.
    pub t_mean_c: f64,
    /// Lowest temperature, °C.
    pub t_min_c: f64,
    /// Highest temperature, °C.
    pub t_max_c: f64,
    /// Hours below 0 °C.
    pub below_0_h: usize,
    /// Heating degree days: Σ max(0, 18 − t)/24, K·d.
    pub degree_days_18_k_d: f64,
    /// Mean relative humidity, 0 to 1.
    pub rh_mean: f64,
    /// Mean pressure, Pa.
    pub p_mean_pa: f64,
    /// Mean humidity ratio, kg/kg.
    pub w_mean: f64,
    /// Mean wind speed, m/s; `None` if an hour has none.
    pub wind_mean_m_s: Option<f64>,
}

/// The figures of these hours; `None` of no hours.
pub fn statistics(hours: &[Hour]) -> Option<Statistics> {
    if hours.is_empty() {
        return None;
    }
    let count = hours.len() as f64;
    let mean = |value: fn(&Hour) -> f64| hours.iter().map(value).sum::<f64>() / count;
    let wind: Option<f64> = hours.iter().map(|hour| hour.wind_m_s).sum();
    Some(Statistics {
        hours: hours.len(),
        t_mean_c: mean(|hour| hour.t_c),
        t_min_c: hours.iter().map(|hour| hour.t_c).fold(f64::INFINITY, f64::min),
        t_max_c: hours.iter().map(|hour| hour.t_c).fold(f64::NEG_INFINITY, f64::max),
        below_0_h: hours.iter().filter(|hour| hour.t_c < 0.0).count(),
        degree_days_18_k_d: hours.iter().map(|hour| (18.0 - hour.t_c).max(0.0)).sum::<f64>() / 24.0,
        rh_mean: mean(|hour| hour.rh),
        p_mean_pa: mean(|hour| hour.p_pa),
        w_mean: mean(|hour| hour.w),
        wind_mean_m_s: wind.map(|sum| sum / count),
    })
}

/// Temperature that this share (0 to 1) of the hours is below, °C; `None` of no hours or a share that is none.
///
/// Between neighbours in proportion (Hyndman & Fan 1996, American Statistician 50(4), definition 7). A share of 0.01 gives the
/// cold that 99 % of the hours exceed.
pub fn temperature_quantile(hours: &[Hour], share: f64) -> Option<f64> {
    if hours.is_empty() || !(0.0..=1.0).contains(&share) {
        return None;
    }
    let mut sorted: Vec<f64> = hours.iter().map(|hour| hour.t_c).collect();
    sorted.sort_by(f64::total_cmp);
    let place = share * (sorted.len() - 1) as f64;
    let below = place as usize;
    let above = (below + 1).min(sorted.len() - 1);
    Some(sorted[below] + (place - below as f64) * (sorted[above] - sorted[below]))
}
