//! What a room gives off into its duct through a year, laid together into legs of a few lengths.
//!
//! The room is followed in steps of its own, some of them of a second. A duct needs short ones only while its wall warms up,
//! soon after the flow changed or a shower began or ended; in quiet hours one an hour will do. A leg has one flow and carries
//! the means of the steps in it, so that no vapour is lost between room and duct, and legs of equal length and flow share
//! their coefficients in [`super::line::DuctLine`].

use crate::room::Step;

/// How long legs are at most, all in s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Until when after a change "soon" is.
    pub soon_s: f64,
    /// A leg soon after a change.
    pub soon_leg_s: f64,
    /// Until when "later" is.
    pub later_s: f64,
    /// A leg later.
    pub later_leg_s: f64,
    /// A leg after that.
    pub quiet_leg_s: f64,
}

impl Pace {
    /// For a year: water that is left by month within 1 % of [`Pace::reference`] (tested in `duct_year.rs`).
    pub fn year() -> Self {
        Self {
            soon_s: 300.0,
            soon_leg_s: 20.0,
            later_s: 3600.0,
            later_leg_s: 120.0,
            quiet_leg_s: 3600.0,
        }
    }

    /// Short steps at all times, to compare with: 2 s soon after a change, half a minute at most.
    pub fn reference() -> Self {
        Self {
            soon_s: 900.0,
            soon_leg_s: 2.0,
            later_s: 3600.0,
            later_leg_s: 10.0,
            quiet_leg_s: 30.0,
        }
    }

    fn leg_s(&self, since_s: f64) -> f64 {
        if since_s < self.soon_s {
            self.soon_leg_s
        } else if since_s < self.later_s {
            self.later_leg_s
        } else {
            self.quiet_leg_s
        }
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
}

impl Legs {
    /// Nothing laid together yet.
    pub fn new(pace: Pace) -> Self {
        Self { pace, open: None, since_s: 0.0, target_s: pace.leg_s(0.0), shower: false }
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
        let other = |open: &Leg| open.flow_kg_s.to_bits() != leg.flow_kg_s.to_bits();
        if shower != self.shower || self.open.as_ref().is_some_and(other) {
            self.close(&mut pass);
            self.since_s = 0.0;
            self.target_s = self.pace.leg_s(0.0);
        }
        self.shower = shower;
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
            self.target_s = self.pace.leg_s(self.since_s);
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
