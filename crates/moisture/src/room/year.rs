//! A room through a year, hour by hour of weather.

use super::model::{AIR_J_KG_K, Level, Model};
use super::simulate::{Boundary, Simulation, Step, Watch};
use crate::mould::{MouldIndex, RunningMean, Substrate};
use crate::saturation::Saturation;

/// Days in each month.
pub const DAYS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/// Hours of a year.
pub const HOURS: usize = 8760;
/// Days before the year that the room is followed so that walls and dwelling have settled.
pub const SETTLE_DAYS: usize = 21;
/// Relative humidity above which a room counts as wet.
const WET: f64 = 0.8;
/// Relative humidity above which a dwelling counts as damp.
const DAMP: f64 = 0.6;

/// What is watched through the year.
#[derive(Debug, Clone, PartialEq)]
pub struct YearPlan<'a> {
    /// Conditions of each hour, January first.
    pub hours: &'a [Boundary],
    /// Surface that is the mirror.
    pub mirror: Option<usize>,
    /// A mirror with no more than this is clear, kg/m².
    pub clear_kg_m2: f64,
    /// Surfaces on which mould is followed, and what each is made of; a surface may be followed as several.
    pub watched: &'a [(usize, Substrate)],
}

/// One month.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Month {
    /// Mean outdoor temperature, °C.
    pub outdoor_c: f64,
    /// Mean relative humidity of the room.
    pub humidity: f64,
    /// Mean relative humidity of the dwelling.
    pub house_humidity: f64,
    /// Time above 80 % in the room, s.
    pub wet_s: f64,
    /// Time the fan ran, s.
    pub fan_s: f64,
    /// Electricity, J.
    pub electric_j: f64,
    /// Heat in the air drawn off that heating had to make up, J.
    pub heat_j: f64,
    /// Heat and vapour that cooling had to take out again, J.
    pub cold_j: f64,
    /// Vapour the fan carried off, kg.
    pub exhausted_kg: f64,
    /// Showers after which the mirror's time was seen.
    pub showers: u32,
    /// Sum of the times until it was clear, s.
    pub mirror_s: f64,
    /// Showers after which it was clear within half an hour.
    pub clear_soon: u32,
    /// Highest mould index of any of the watched at the end of the month.
    pub mould: f64,
}

/// A year.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    /// Month by month.
    pub months: [Month; 12],
    /// Highest mould index of each of the watched.
    pub mould_peak: Vec<f64>,
    /// Highest 30-day running mean of surface humidity of each of the watched.
    pub running_humidity: Vec<f64>,
    /// Time the dwelling stood above 60 %, s.
    pub damp_s: f64,
    /// Water taken out by air conditioner and dehumidifier, kg.
    pub dried_kg: f64,
    /// Residual of the water balance over what was put through.
    pub water_residual: f64,
    /// Residual of the energy balance over what was put through.
    pub energy_residual: f64,
}

/// Follows a room through the hours of the plan, after some weeks in which it settles. `watch` sees the steps of the year
/// itself.
pub fn follow_year(sim: &mut Simulation<'_>, plan: &YearPlan<'_>, watch: &mut impl Watch) -> Year {
    let settle = plan.hours.len().min(24 * SETTLE_DAYS);
    for hour in &plan.hours[plan.hours.len() - settle..] {
        sim.set_boundary(*hour);
        sim.run(3600, &mut |_: &Step<'_>| {});
    }
    sim.begin_account();
    let mut record = Record::new(sim.model(), plan);
    let mut start = 0;
    for (month, days) in DAYS.iter().enumerate() {
        let end = (start + 24 * *days as usize).min(plan.hours.len());
        let before = *sim.account();
        for hour in &plan.hours[start..end] {
            sim.set_boundary(*hour);
            record.begin_hour(hour);
            sim.run(3600, &mut |step: &Step<'_>| {
                record.step(step);
                watch.step(step);
            });
            record.end_hour();
        }
        let account = sim.account();
        let m = &mut record.month;
        m.fan_s = account.fan_s - before.fan_s;
        m.electric_j = account.electric_j - before.electric_j;
        m.exhausted_kg = account.exhausted_kg - before.exhausted_kg;
        record.end_month(month, (end - start) as f64);
        start = end;
    }
    Year {
        months: record.months,
        mould_peak: record.growth.iter().map(|g| g.peak).collect(),
        running_humidity: record.growth.iter().map(|g| g.running_peak).collect(),
        damp_s: record.damp_s,
        dried_kg: sim.account().dried_kg,
        water_residual: sim.water_residual(),
        energy_residual: sim.energy_residual(),
    }
}

/// Mould on one surface.
struct Growth {
    surface: usize,
    index: MouldIndex,
    running: RunningMean,
    peak: f64,
    running_peak: f64,
    /// Temperature times time in this hour.
    warmth: f64,
}

struct Record<'a> {
    plan: &'a YearPlan<'a>,
    pressure_pa: f64,
    mirror_area: f64,
    month: Month,
    months: [Month; 12],
    growth: Vec<Growth>,
    damp_s: f64,
    /// Humidity ratio and temperature of the room, and humidity ratio of the dwelling, times time in this hour.
    hour: [f64; 3],
    hour_s: f64,
    house_c: f64,
    fogged_since: Option<f64>,
    shower_before: bool,
}

impl<'a> Record<'a> {
    fn new(model: &Model, plan: &'a YearPlan<'a>) -> Self {
        let growth = |&(surface, substrate): &(usize, Substrate)| Growth {
            surface,
            index: MouldIndex::new(substrate),
            running: RunningMean::new(),
            peak: 0.0,
            running_peak: 0.0,
            warmth: 0.0,
        };
        Self {
            plan,
            pressure_pa: model.pressure_pa,
            mirror_area: plan
                .mirror
                .and_then(|m| model.surfaces.get(m))
                .map_or(0.0, |surface| surface.area_m2),
            month: Month::default(),
            months: [Month::default(); 12],
            growth: plan
                .watched
                .iter()
                .filter(|(surface, _)| *surface < model.surfaces.len())
                .map(growth)
                .collect(),
            damp_s: 0.0,
            hour: [0.0; 3],
            hour_s: 0.0,
            house_c: 20.0,
            fogged_since: None,
            shower_before: false,
        }
    }

    fn begin_hour(&mut self, hour: &Boundary) {
        self.month.outdoor_c += hour.outdoor_c;
        self.house_c = hour.house_c;
        self.hour = [0.0; 3];
        self.hour_s = 0.0;
        for growth in &mut self.growth {
            growth.warmth = 0.0;
        }
    }

    fn step(&mut self, step: &Step<'_>) {
        let table = Saturation::shared();
        let (before, after, dt) = (step.before, step.after, step.length_s);
        let wetness = |w: f64, t: f64| table.relative_humidity(w, t, self.pressure_pa) - WET;
        let (a, b) =
            (wetness(before.room_w(), before.room_c()), wetness(after.room_w(), after.room_c()));
        let mean = wetness(step.mean_room_w, step.mean_room_c);
        self.month.wet_s += dt * share_above(a, mean, b);
        self.hour[0] += dt * step.mean_room_w;
        self.hour[1] += dt * step.mean_room_c;
        self.hour[2] += dt * step.mean_house_w;
        self.hour_s += dt;
        for g in &mut self.growth {
            g.warmth += dt * step.mean_surface_c(g.surface);
        }
        self.air_heat(step);
        self.mirror(step);
    }

    /// What heating and cooling have to make up for the air that the fan drew off while it ran.
    fn air_heat(&mut self, step: &Step<'_>) {
        if step.before.level() == Level::Off {
            return;
        }
        let b = step.boundary;
        let air = step.exhaust_kg_s * step.length_s;
        let warmer = b.house_c - b.outdoor_c;
        if warmer > 0.0 {
            self.month.heat_j += air * AIR_J_KG_K * warmer;
        } else if b.cooled_kg_s > 0.0 {
            let vapour = (b.outdoor_w - step.mean_house_w).max(0.0) * super::model::LATENT_J_KG;
            self.month.cold_j += air * (vapour - AIR_J_KG_K * warmer);
        }
    }

    fn mirror(&mut self, step: &Step<'_>) {
        let Some(m) = self.plan.mirror.filter(|_| self.mirror_area > 0.0) else { return };
        let limit = self.plan.clear_kg_m2 * self.mirror_area;
        let film_kg = step.after.water_kg(m);
        let end = step.after.time_s() as f64;
        let begin = end - step.length_s;
        let shower = step.before.shower();
        if self.shower_before && !shower {
            // The shower has just ended.
            self.fogged_since = Some(begin);
        }
        self.shower_before = shower;
        if let Some(since) = self.fogged_since.filter(|_| !shower && film_kg <= limit) {
            let took = begin + step.water_falls_to(m, limit).unwrap_or(0.0) - since;
            self.month.showers += 1;
            self.month.mirror_s += took;
            self.month.clear_soon += u32::from(took <= 1800.0);
            self.fogged_since = None;
        } else if shower && self.fogged_since.is_some() {
            // The next shower came before it was clear.
            self.month.showers += 1;
            self.month.mirror_s += begin - self.fogged_since.unwrap_or(begin);
            self.fogged_since = None;
        }
    }

    fn end_hour(&mut self) {
        if self.hour_s <= 0.0 {
            return;
        }
        let table = Saturation::shared();
        let p = self.pressure_pa;
        let [w, t, house_w] = self.hour.map(|sum| sum / self.hour_s);
        self.month.humidity += table.relative_humidity(w, t, p).min(1.0);
        let house = table.relative_humidity(house_w, self.house_c, p).min(1.0);
        self.month.house_humidity += house;
        if house > DAMP {
            self.damp_s += self.hour_s;
        }
        let hours = self.hour_s / 3600.0;
        for g in &mut self.growth {
            let t_c = g.warmth / self.hour_s;
            let rh = 100.0 * table.relative_humidity(w, t_c, p).clamp(0.0, 1.0);
            g.index.advance(t_c, rh, hours);
            g.peak = g.peak.max(g.index.index());
            g.running.advance(t_c, rh, hours);
            if let Some((_, humidity)) = g.running.mean() {
                g.running_peak = g.running_peak.max(humidity / 100.0);
            }
        }
    }

    fn end_month(&mut self, month: usize, hours: f64) {
        let hours = hours.max(1.0);
        let mut done = std::mem::take(&mut self.month);
        done.outdoor_c /= hours;
        done.humidity /= hours;
        done.house_humidity /= hours;
        done.mould = self.growth.iter().map(|g| g.index.index()).fold(0.0, f64::max);
        self.months[month] = done;
    }
}

/// Share of a step on which a course from `a` to `b` with its mean is above zero, taken as a parabola.
fn share_above(a: f64, mean: f64, b: f64) -> f64 {
    let bulge = 6.0 * (mean - f64::midpoint(a, b));
    // a + (b - a + bulge) s - bulge s²; where it turns round within the step, the parts on both sides of the turn.
    let slope = b - a + bulge;
    let turn = if bulge == 0.0 { 0.0 } else { 0.5 * slope / bulge };
    if turn <= 0.0 || turn >= 1.0 {
        return monotone_above(a, bulge, slope, b);
    }
    let top = a + 0.5 * slope * turn;
    let first = monotone_above(a, bulge * turn * turn, slope * turn, top);
    let rest = 1.0 - turn;
    let last = monotone_above(b, bulge * rest * rest, (2.0 * bulge - slope) * rest, top);
    turn * first + rest * last
}

/// Share of 0 to 1 on which the parabola `a + slope·s - bulge·s²`, which ends at `b` and does not turn, is above zero.
fn monotone_above(a: f64, bulge: f64, slope: f64, b: f64) -> f64 {
    match (a > 0.0, b > 0.0) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (starts_above, _) => {
            // The root in the step, in the form that does not cancel.
            let root = (slope * slope + 4.0 * a * bulge).max(0.0).sqrt();
            let crossing = -2.0 * a / (slope + root.copysign(slope));
            let crossing = if crossing.is_finite() { crossing.clamp(0.0, 1.0) } else { 0.5 };
            if starts_above { crossing } else { 1.0 - crossing }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counted on a million points of the parabola.
    #[test]
    fn share_of_a_parabola_above_zero() {
        for (a, mean, b) in [
            (-0.1, 0.0, 0.1),
            (-0.1, 0.05, 0.1),
            (-0.1, 0.2, -0.2),
            (0.2, -0.1, 0.1),
            (0.3, 0.1, -0.1),
            (-0.2, -0.3, -0.1),
            (0.0, 0.0, 0.0),
            (0.1, 0.2, 0.05),
            (-1.0, 1e-9, 1.0),
        ] {
            let n = 1_000_000;
            let bulge = 6.0 * (mean - 0.5 * (a + b));
            let value = |s: f64| a + (b - a) * s + bulge * s * (1.0 - s);
            let above = (0..n).filter(|i| value((f64::from(*i) + 0.5) / f64::from(n)) > 0.0);
            let counted = above.count() as f64 / f64::from(n);
            let ours = share_above(a, mean, b);
            assert!((ours - counted).abs() < 1e-5, "{a} {mean} {b}: {ours} against {counted}");
        }
    }
}
