//! What a room gives off into its duct through a year, laid together into legs of a few lengths.
//!
//! The room is followed in steps of its own, some of them of a second. A duct needs short ones only while its wall warms up,
//! soon after the flow changed or a shower began or ended; in quiet hours one in two hours will do. A leg has one flow and carries
//! the means of the steps in it, so that no vapour is lost between room and duct, and legs of equal length and flow share
//! their coefficients in [`super::line::DuctLine`].

use crate::room::{Level, Step};

/// Leg where a pace tells none, s.
const LONGEST_S: f64 = 3600.0;

/// How long legs are at most: until when after the flow changed or a shower began or ended, and how long until then, both
/// in s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// While the fan runs.
    pub running: [(f64, f64); 4],
    /// While it rests and air drifts up.
    pub resting: [(f64, f64); 4],
}

impl Pace {
    /// For a year: the water that some weeks leave is within 1 % of that of [`Pace::reference`] (tested in `duct_year.rs`).
    pub fn year() -> Self {
        Self {
            running: [(180.0, 30.0), (1200.0, 120.0), (3600.0, 300.0), (f64::INFINITY, 3600.0)],
            resting: [
                (600.0, 600.0),
                (3600.0, 1500.0),
                (f64::INFINITY, 7200.0),
                (f64::INFINITY, 7200.0),
            ],
        }
    }

    /// Short steps at all times, to compare with: 2 s soon after a change, half a minute at most.
    pub fn reference() -> Self {
        let short = [(900.0, 2.0), (3600.0, 10.0), (7200.0, 30.0), (f64::INFINITY, 30.0)];
        Self { running: short, resting: short }
    }

    fn leg_s(&self, rests: bool, since_s: f64) -> f64 {
        let list = if rests { &self.resting } else { &self.running };
        list.iter().find(|(until, _)| since_s < *until).map_or(LONGEST_S, |(_, leg)| *leg)
    }
}

/// Some seconds of one flow; the rest are means over them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Length, s.
    pub seconds: f64,
    /// Dry air that leaves the room through its ducts, kg/s.
    pub flow_kg_s: f64,
    /// Its temperature, °C.
    pub t_c: f64,
    /// kg vapour per kg of it.
    pub w: f64,
    /// Dwelling, °C.
    pub house_c: f64,
    /// Humidity ratio of the dwelling.
    pub house_w: f64,
    /// Outdoors, °C.
    pub outdoor_c: f64,
}

/// Lays steps together.
#[derive(Debug, Clone)]
pub struct Legs {
    pace: Pace,
    open: Option<Leg>,
    /// Since the flow changed or a shower began or ended until the start of the open leg, s.
    since_s: f64,
    /// Length the open leg is to reach, s.
    target_s: f64,
    shower: bool,
    rests: bool,
    flow_bits: u64,
}

impl Legs {
    /// Nothing laid together yet.
    pub fn new(pace: Pace) -> Self {
        let target_s = pace.leg_s(true, 0.0);
        Self { pace, open: None, since_s: 0.0, target_s, shower: false, rests: true, flow_bits: 0 }
    }

    /// Takes a step of the room, and hands on each leg that it completes.
    pub fn step(&mut self, step: &Step<'_>, mut pass: impl FnMut(&Leg)) {
        let passed = step.exhaust_kg_s * step.length_s;
        let w = if passed > 0.0 { step.exhaust_vapour_kg / passed } else { step.mean_room_w };
        let leg = Leg {
            seconds: step.length_s,
            flow_kg_s: step.exhaust_kg_s,
            t_c: step.mean_room_c,
            w: w.max(0.0),
            house_c: step.boundary.house_c,
            house_w: step.mean_house_w.max(0.0),
            outdoor_c: step.boundary.outdoor_c,
        };
        let shower = step.before.shower();
        let rests = step.before.level() == Level::Off;
        let other = leg.flow_kg_s.to_bits() != self.flow_bits;
        if other || shower != self.shower || rests != self.rests {
            self.close(&mut pass);
            self.since_s = 0.0;
            (self.shower, self.rests, self.flow_bits) = (shower, rests, leg.flow_kg_s.to_bits());
            self.target_s = self.pace.leg_s(rests, 0.0);
        }
        self.add(leg, &mut pass);
    }

    fn add(&mut self, mut leg: Leg, pass: &mut impl FnMut(&Leg)) {
        while leg.seconds > 0.0 {
            let has = self.open.map_or(0.0, |open| open.seconds);
            let part = leg.seconds.min(self.target_s - has);
            self.open = Some(match self.open {
                Some(open) => joined(open, Leg { seconds: part, ..leg }),
                None => Leg { seconds: part, ..leg },
            });
            leg.seconds -= part;
            if has + part >= self.target_s {
                self.close(&mut *pass);
            }
        }
    }

    /// Hands on what is still open, as at the end of a month.
    pub fn close(&mut self, mut pass: impl FnMut(&Leg)) {
        if let Some(open) = self.open.take() {
            self.since_s += open.seconds;
            self.target_s = self.pace.leg_s(self.rests, self.since_s);
            pass(&open);
        }
    }
}

/// Two legs of one flow as one.
fn joined(a: Leg, b: Leg) -> Leg {
    let seconds = a.seconds + b.seconds;
    let share = b.seconds / seconds;
    let mean = |x: f64, y: f64| x + (y - x) * share;
    Leg {
        seconds,
        flow_kg_s: a.flow_kg_s,
        t_c: mean(a.t_c, b.t_c),
        w: mean(a.w, b.w),
        house_c: mean(a.house_c, b.house_c),
        house_w: mean(a.house_w, b.house_w),
        outdoor_c: mean(a.outdoor_c, b.outdoor_c),
    }
}
