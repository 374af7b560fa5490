//! The steps of the simulation against one-second steps of the same equations.

mod common;

use common::{bathroom, humidistat, one_shower, winter};
use dewpath_moisture::room::{Care, Control, Event, Model, Simulation, Step};

struct Course {
    steps: usize,
    peak_w: f64,
    mirror_clear_s: f64,
    back_s: f64,
    fan_s: f64,
    exhausted_kg: f64,
    residual: f64,
    heat_residual: f64,
}

fn follow(model: &Model, control: Control, events: &[Event], care: Care, hours: u32) -> Course {
    let mut sim = Simulation::new(model, control, events, winter(), care).expect("a real room");
    sim.run(6 * 3600, &mut |_: &Step<'_>| {});
    sim.begin_account();
    let start_w = sim.state().room_w();
    let (mut steps, mut peak_w, mut mirror, mut back): (usize, f64, f64, f64) = (0, 0.0, 0.0, 0.0);
    let clear = 0.8 * 0.0002;
    sim.run(hours * 3600, &mut |step: &Step<'_>| {
        steps += 1;
        peak_w = peak_w.max(step.after.room_w());
        let end = step.after.time_s() as f64;
        let (a, b) = (step.before.water_kg(1), step.after.water_kg(1));
        if a > clear && b <= clear {
            mirror = end - step.length_s * (clear - b) / (a - b);
        }
        let band = start_w + 0.1 * (peak_w - start_w);
        let (a, b) = (step.before.room_w(), step.after.room_w());
        if a > band && b <= band && !step.after.shower() {
            back = end - step.length_s * (band - b) / (a - b);
        }
    });
    Course {
        steps,
        peak_w,
        mirror_clear_s: mirror - 7.0 * 3600.0,
        back_s: back - 7.0 * 3600.0,
        fan_s: sim.account().fan_s,
        exhausted_kg: sim.account().exhausted_kg,
        residual: sim.water_residual(),
        heat_residual: sim.energy_residual(),
    }
}

fn compare(control: Control, hours: u32) {
    let model = bathroom();
    let events = one_shower(10);
    let fine = follow(&model, control, &events, Care::reference(), hours);
    // Short steps in quiet too, so that the moment of a crossing is seen.
    let care = Care { longest_s: 120, ..Care::default() };
    let ours = follow(&model, control, &events, care, hours);
    let near = |what: &str, a: f64, b: f64, share: f64| {
        assert!((a - b).abs() <= share * b.abs(), "{what}: {a} against {b}");
    };
    assert!(50 * ours.steps < fine.steps, "{} steps against {}", ours.steps, fine.steps);
    near("peak", ours.peak_w, fine.peak_w, 0.01);
    near("mirror", ours.mirror_clear_s, fine.mirror_clear_s, 0.01);
    near("back", ours.back_s, fine.back_s, 0.01);
    // A control that looks every half minute may look one period later.
    assert!((ours.fan_s - fine.fan_s).abs() <= 30.0, "fan {} against {}", ours.fan_s, fine.fan_s);
    near("exhausted", ours.exhausted_kg, fine.exhausted_kg, 0.01);
    assert!(ours.residual < 1e-9 && ours.heat_residual < 1e-9);
    assert!(fine.residual < 1e-9 && fine.heat_residual < 1e-9);
}

#[test]
fn a_shower_with_a_timer_agrees_with_one_second_steps() {
    compare(Control::Switch { run_on_s: 1200 }, 18);
}

#[test]
fn a_shower_with_a_humidity_control_agrees_with_one_second_steps() {
    compare(humidistat(), 18);
}
