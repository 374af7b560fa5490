//! What a fan draws off through a day: flow, warmth and humidity of the air that enters the duct, in legs.
//!
//! The room is followed in steps of its own; here they are laid together into legs of a few lengths, short while a cold
//! duct warms up and long in quiet hours, so that the duct computes its exchange for a handful of them only. A leg has one flow;
//! what passes in it is the sum of its steps, so no vapour is lost between room and duct.

use dewpath_moisture::room::{Level, Step};

/// Legs while a duct warms up, and until when after a change of flow, s: within 0.5 % of its water.
const COLD_LEG_S: f64 = 10.0;
const COLD_S: f64 = 600.0;
/// Legs later while the fan runs, s.
const RUNNING_LEG_S: f64 = 60.0;
/// Legs at rest, soon after a change and later, s.
const RESTING_LEG_S: f64 = 300.0;
const QUIET_LEG_S: f64 = 1800.0;
/// Air that still counts as that of the shower, s after it. Judgement: a usual run-on and then some.
const COUNTS_S: f64 = 3600.0;

/// Some seconds of one flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Leg {
    /// Length, s.
    pub seconds: f64,
    /// Dry air that leaves the room through its ducts, kg/s.
    pub flow_kg_s: f64,
    /// Its temperature, °C.
    pub t_c: f64,
    /// kg vapour per kg of it.
    pub w: f64,
    /// Humidity ratio of the rest of the dwelling.
    pub house_w: f64,
    /// Whether it belongs to a shower: from its start until the fan stops, an hour after the last at most.
    pub counts: bool,
    /// Whether the fan rests, so that what passes drifts up by its warmth.
    pub rests: bool,
}

/// A day from midnight to midnight.
#[derive(Debug, Clone, Default)]
pub(crate) struct Course {
    /// In order of time.
    pub legs: Vec<Leg>,
    /// Showers in it.
    pub showers: usize,
    /// Most humid air drawn off, kg/kg.
    pub peak_w: f64,
}

impl Course {
    /// Whole length, s.
    pub(crate) fn seconds(&self) -> f64 {
        self.legs.iter().map(|leg| leg.seconds).sum()
    }
}

/// Writes a course down step by step.
#[derive(Debug, Clone, Default)]
pub(crate) struct Recorder {
    course: Course,
    open: Option<Leg>,
    /// Since the flow changed, s.
    since_s: f64,
    /// Since the last shower ended; none before the first.
    after_s: Option<f64>,
    in_shower: bool,
}

impl Recorder {
    pub(crate) fn step(&mut self, step: &Step<'_>) {
        let showering = step.before.shower();
        if showering && !self.in_shower {
            self.course.showers += 1;
        }
        self.in_shower = showering;
        let running = step.before.level() == Level::Full;
        let soon = self.after_s.is_some_and(|after| after < COUNTS_S);
        let counts = showering || (running && soon);
        let flow = step.exhaust_kg_s;
        let passed = flow * step.length_s;
        let w = if passed > 0.0 { step.exhaust_vapour_kg / passed } else { step.mean_room_w };
        let leg = Leg {
            seconds: step.length_s,
            flow_kg_s: flow,
            t_c: step.mean_room_c,
            w: w.max(0.0),
            house_w: step.house_w.max(0.0),
            counts,
            rests: step.before.level() == Level::Off,
        };
        self.course.peak_w = self.course.peak_w.max(leg.w);
        self.add(leg, running);
        self.after_s = if showering { Some(0.0) } else { self.after_s.map(|s| s + leg.seconds) };
    }

    fn add(&mut self, mut leg: Leg, running: bool) {
        let other = |open: &Leg| {
            open.flow_kg_s.to_bits() != leg.flow_kg_s.to_bits() || open.counts != leg.counts
        };
        if self.open.as_ref().is_some_and(other) {
            let changed =
                self.open.is_some_and(|open| open.flow_kg_s.to_bits() != leg.flow_kg_s.to_bits());
            self.close();
            if changed {
                self.since_s = 0.0;
            }
        }
        while leg.seconds > 0.0 {
            let target = self.length_s(running);
            let has = self.open.map_or(0.0, |open| open.seconds);
            let part = leg.seconds.min((target - has).max(0.0));
            self.open = Some(match self.open {
                Some(open) => joined(open, Leg { seconds: part, ..leg }),
                None => Leg { seconds: part, ..leg },
            });
            self.since_s += part;
            leg.seconds -= part;
            if has + part >= target {
                self.close();
            }
        }
    }

    fn length_s(&self, running: bool) -> f64 {
        let open = self.open.map_or(0.0, |open| open.seconds);
        let at = self.since_s - open;
        match (running, at < COLD_S) {
            (true, true) => COLD_LEG_S,
            (true, false) => RUNNING_LEG_S,
            (false, true) => RESTING_LEG_S,
            (false, false) => QUIET_LEG_S,
        }
    }

    fn close(&mut self) {
        self.course.legs.extend(self.open.take());
    }

    /// The day as it was.
    pub(crate) fn finish(mut self) -> Course {
        self.close();
        self.course
    }
}

/// Two legs of one flow as one: means over their time.
fn joined(a: Leg, b: Leg) -> Leg {
    let seconds = a.seconds + b.seconds;
    let mean = |x: f64, y: f64| (x * a.seconds + y * b.seconds) / seconds;
    Leg {
        seconds,
        t_c: mean(a.t_c, b.t_c),
        w: mean(a.w, b.w),
        house_w: mean(a.house_w, b.house_w),
        ..a
    }
}
