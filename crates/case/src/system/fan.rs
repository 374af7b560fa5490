//! Fans: from what is known of one to a curve, and to its rated flow at a pressure.

use dewpath_air::curve::CurveError;
use dewpath_air::fan::{
    CurveBand, FanCurve, FanType, LoudnessBound, RATING_DENSITY_KG_M3, SoundRating,
};
use dewpath_job::model::{FanData, FanKind, RatedPoint};
use dewpath_report::say::{Judgement, SourceText};
use dewpath_report::{CurveOrigin, Source, Triple};
use dewpath_units::{Airflow, Loudness, Pressure, sort};

use crate::given;
use crate::inputs::{Draw, Inputs};
use crate::system::spec::FanSpec;

/// Pressures closer than this are the same rating, Pa.
const SAME_PRESSURE_PA: f64 = 1.0;

/// Width of the one-sided band of loudness away from its rating. Judgement, no source.
const LOUDER: f64 = 1.5;

/// How much is known of a curve.
pub fn origin(data: &FanData) -> CurveOrigin {
    let with_pressure =
        data.rated.iter().filter(|point| known(point).is_some_and(|(_, p)| p.is_some())).count();
    let ratings = data.rated.iter().filter(|point| known(point).is_some()).count();
    match (data.curve.len(), with_pressure, ratings) {
        (2.., ..) => CurveOrigin::Points,
        (_, 2.., _) => CurveOrigin::TwoRatings,
        (_, 1, _) => CurveOrigin::OneRating,
        (_, 0, 1..) => CurveOrigin::BoxNumber,
        _ => CurveOrigin::None,
    }
}

fn known(point: &RatedPoint) -> Option<(Airflow, Option<Pressure>)> {
    let flow = point.airflow.value.likely()?;
    Some((flow, given::likely(&point.pressure)))
}

fn kind(kind: FanKind) -> FanType {
    match kind {
        FanKind::Axial => FanType::Axial,
        FanKind::Centrifugal | FanKind::Combination => FanType::Centrifugal,
        FanKind::Inline => FanType::Inline,
    }
}

/// Curve of a fan of the job in a draw, at rating density. `None` when nothing is known of it.
pub fn curve_of_draw(
    data: &FanData,
    spec: &FanSpec,
    inputs: &Inputs,
    draw: Draw,
) -> Option<Result<FanCurve, CurveError>> {
    let mut rated_hold = None;
    let base = if spec.has_curve {
        points(data)
    } else {
        let rated: Vec<(f64, Option<f64>)> = spec
            .rated
            .iter()
            .map(|&(flow, pressure)| {
                (inputs.value(flow, draw), pressure.map(|id| inputs.value(id, draw)))
            })
            .collect();
        let of_kind = kind(spec.kind.value(inputs, draw));
        let Rated { band, holds } = band(&rated, of_kind)?;
        rated_hold = holds;
        band.and_then(|band| band.member(inputs.value(spec.shape, draw)))
    };
    let speed = spec.speed.map(|id| inputs.value(id, draw));
    let holds = spec.holds.map(|id| inputs.value(id, draw)).or(rated_hold);
    Some(with_motor(base, speed, holds))
}

fn with_motor(
    base: Result<FanCurve, CurveError>,
    speed: Option<f64>,
    holds: Option<f64>,
) -> Result<FanCurve, CurveError> {
    let at_speed = match speed {
        Some(speed) => base?.at_speed(speed)?,
        None => base?,
    };
    match holds {
        Some(flow) => at_speed.with_set_flow(Airflow::from_m3_s(flow)),
        None => Ok(at_speed),
    }
}

fn points(data: &FanData) -> Result<FanCurve, CurveError> {
    let points: Vec<(f64, f64)> = data.curve.iter().map(|(q, p)| (q.m3_s(), p.pa())).collect();
    FanCurve::from_si_points(&points, RATING_DENSITY_KG_M3)
}

/// Band of curves through the ratings, and the flow a motor holds where the ratings say that it does.
struct Rated {
    band: Result<CurveBand, CurveError>,
    holds: Option<f64>,
}

/// Ratings of the same flow at different pressures within this share are a motor that holds its flow.
const SAME_FLOW: f64 = 0.01;

/// From the two ratings at the lowest and highest pressure, one, or the box number.
fn band(rated: &[(f64, Option<f64>)], of_kind: FanType) -> Option<Rated> {
    let mut with: Vec<(f64, f64)> = rated.iter().filter_map(|&(q, p)| Some((q, p?))).collect();
    sort::by(&mut with, |a, b| a.1.total_cmp(&b.1));
    let plain = |band| Some(Rated { band, holds: None });
    let through = |point: (f64, f64)| {
        let (flow, pressure) = typed(point);
        CurveBand::from_point(flow, pressure, of_kind)
    };
    match (with.as_slice(), rated) {
        ([], []) => None,
        ([], [(q, _), ..]) => plain(CurveBand::from_box_number(Airflow::from_m3_s(*q), of_kind)),
        ([one], _) => plain(through(*one)),
        ([first, .., last], _) if (first.0 / last.0 - 1.0).abs() < SAME_FLOW => {
            Some(Rated { band: through(*last), holds: Some(last.0) })
        }
        ([first, .., last], _) => {
            plain(CurveBand::from_points(typed(*first), typed(*last), of_kind))
        }
    }
}

fn typed((q, p): (f64, f64)) -> (Airflow, Pressure) {
    (Airflow::from_m3_s(q), Pressure::from_pa(p))
}

/// Curves of a library fan: one where its points are known, else members across its band.
pub fn members(data: &FanData, count: usize) -> Vec<FanCurve> {
    let speed = given::likely(&data.speed).map(dewpath_units::Ratio::ratio);
    let holds = given::likely(&data.holds_flow).map(Airflow::m3_s);
    if data.curve.len() >= 2 {
        return with_motor(points(data), speed, holds).into_iter().collect();
    }
    let rated: Vec<(f64, Option<f64>)> =
        data.rated.iter().filter_map(known).map(|(q, p)| (q.m3_s(), p.map(Pressure::pa))).collect();
    let of_kind = given::member(&data.kind).map_or(FanType::Unknown, kind);
    let Some(Rated { band: Ok(band), holds: rated_hold }) = band(&rated, of_kind) else {
        return Vec::new();
    };
    let holds = holds.or(rated_hold);
    (0..count)
        .filter_map(|i| {
            let shape = (i as f64 + 0.5) / count as f64;
            with_motor(band.member(shape), speed, holds).ok()
        })
        .collect()
}

/// Rated flow at a pressure, m³/s: a rating at that pressure or more, or the point of the curve.
pub fn rated_flow_m3_s(data: &FanData, pressure_pa: f64) -> Option<f64> {
    let by_label = data
        .rated
        .iter()
        .filter_map(known)
        .filter_map(|(q, p)| Some((q.m3_s(), p?.pa())))
        .filter(|(_, p)| *p >= pressure_pa - SAME_PRESSURE_PA)
        .map(|(q, _)| q)
        .fold(None, |best: Option<f64>, q| Some(best.map_or(q, |b| b.max(q))));
    if by_label.is_some() {
        return by_label;
    }
    if data.curve.len() < 2 {
        return None;
    }
    let curve = with_motor(
        points(data),
        given::likely(&data.speed).map(dewpath_units::Ratio::ratio),
        given::likely(&data.holds_flow).map(Airflow::m3_s),
    )
    .ok()?;
    curve.operating_point(|_| (pressure_pa, 0.0)).map(|point| point.q_m3_s).filter(|q| *q > 0.0)
}

/// Bounds of the rated flow at a pressure, m³/s; from the curve they are one value.
pub fn rated_bounds_m3_s(data: &FanData, pressure_pa: f64) -> Option<(f64, f64)> {
    let at_pressure = |point: &&RatedPoint| {
        known(point).and_then(|(_, p)| p).is_some_and(|p| p.pa() >= pressure_pa - SAME_PRESSURE_PA)
    };
    let labels =
        data.rated.iter().filter(at_pressure).filter_map(|point| point.airflow.value.bounds());
    let best =
        labels.map(|(low, high)| (low.m3_s(), high.m3_s())).max_by(|a, b| a.1.total_cmp(&b.1));
    best.or_else(|| rated_flow_m3_s(data, pressure_pa).map(|flow| (flow, flow)))
}

/// Why a fan of the job cannot be given a curve; none when it can.
pub fn unusable(data: &FanData, spec: &FanSpec, inputs: &Inputs) -> Option<String> {
    match curve_of_draw(data, spec, inputs, Draw::Likely) {
        None => Some(String::new()),
        Some(Err(error)) => Some(error.to_string()),
        Some(Ok(_)) => None,
    }
}

/// The largest flow the label names, at whatever pressure, m³/s.
pub fn box_flow_m3_s(data: &FanData) -> Option<f64> {
    data.rated
        .iter()
        .filter_map(known)
        .map(|(q, _)| q.m3_s())
        .fold(None, |best: Option<f64>, q| Some(best.map_or(q, |b| b.max(q))))
}

/// Source of a loudness: exact ones stand on the label.
pub fn loudness_source(loudness: Triple) -> Source {
    if loudness.is_exact() {
        Source::confirmed(SourceText::FanLabel, "")
    } else {
        Source::judgement(Judgement::OffRating)
    }
}

/// Loudness at a pressure: the rating, or a one-sided band away from it (no source).
pub fn loudness(data: &FanData, pressure_pa: f64) -> Option<Triple> {
    let rated = data.loudness.as_ref()?.value.likely()?.sone();
    let Some(at) = given::likely(&data.loudness_at) else {
        // The label does not say at what pressure: on a duct it may be louder.
        return Some(Triple { low: rated, likely: rated, high: rated * LOUDER });
    };
    let rating = SoundRating { loudness: Loudness::from_sone(rated), pressure: at };
    Some(match rating.at_pressure(Pressure::from_pa(pressure_pa))? {
        LoudnessBound::AsRated(sone) => Triple::exact(sone.sone()),
        // One-sided; the width of 1.5 is judgement, no source.
        LoudnessBound::AtLeast(bound) => {
            let sone = bound.sone();
            Triple { low: sone, likely: sone, high: sone * LOUDER }
        }
        LoudnessBound::AtMost(bound) => {
            let sone = bound.sone();
            Triple { low: sone / LOUDER, likely: sone, high: sone }
        }
    })
}
