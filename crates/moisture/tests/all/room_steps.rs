//! The steps of the simulation against one-second steps of the same equations.

use crate::common::{bathroom, humidistat, one_shower, winter};
use dewpath_moisture::room::{
    Care, Control, Event, Judge, Model, Shower, Simulation, Step, follow_shower,
};

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
    let clear_kg = 0.8 * 0.0002;
    sim.run(hours * 3600, &mut |step: &Step<'_>| {
        steps += 1;
        peak_w = peak_w.max(step.after.room_w());
        let began = step.after.time_s() as f64 - step.length_s;
        if let Some(after_s) = step.water_falls_to(1, clear_kg) {
            mirror = began + after_s;
        }
        let band = start_w + 0.1 * (peak_w - start_w);
        if let Some(after_s) = step.room_w_falls_to(band).filter(|_| !step.after.shower()) {
            back = began + after_s;
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
    let ours = follow(&model, control, &events, Care::default(), hours);
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

/// The design shower at seven, judged with a film that counts as clear.
fn judged(care: Care, clear_kg_m2: f64) -> Shower {
    let (model, events) = (bathroom(), one_shower(10));
    let control = Control::Switch { run_on_s: 1200 };
    let mut sim = Simulation::new(&model, control, &events, winter(), care).expect("a real room");
    sim.run(7 * 3600 - 300, &mut |_: &Step<'_>| {});
    let judge = Judge { mirror: Some(1), clear_kg_m2, ..Judge::default() };
    follow_shower(&mut sim, &judge, 300, 900, &mut |_: &Step<'_>| {}).expect("it can be followed")
}

/// A mirror whose film only just passes what counts as clear, and one that only just does not.
#[test]
fn a_mirror_near_its_limit_agrees_with_one_second_steps() {
    let most = judged(Care::reference(), 1.0).mirror_most_kg_m2;
    assert!(most > 0.002, "the mirror fogs: {most} kg/m²");
    for share in [0.02, 0.3, 0.6, 0.9, 0.97, 0.99] {
        let (fine, ours) =
            (judged(Care::reference(), share * most), judged(Care::default(), share * most));
        let (fine, ours) = (fine.mirror_time_s, ours.mirror_time_s);
        let (fine, ours) = (fine.expect("it clears"), ours.expect("it clears"));
        // A percent, or what the film itself is off by near its top, where it hardly changes.
        assert!((ours - fine).abs() < (0.01 * fine).max(12.0), "{share}: {ours} against {fine}");
    }
    for care in [Care::reference(), Care::default()] {
        assert_eq!(judged(care, 1.01 * most).mirror_time_s, Some(0.0), "never fogged");
    }
}

#[test]
fn a_design_shower_agrees_with_one_second_steps() {
    let (fine, ours) = (judged(Care::reference(), 0.002), judged(Care::default(), 0.002));
    let near = |what: &str, a: f64, b: f64| {
        assert!((a - b).abs() <= 0.01 * b.abs(), "{what}: {a} against {b}");
    };
    near("peak", ours.peak_w, fine.peak_w);
    near("peak humidity", ours.peak_humidity, fine.peak_humidity);
    near("film", ours.mirror_most_kg_m2, fine.mirror_most_kg_m2);
    let times = |s: &Shower| [s.mirror_time_s, s.back_time_s].map(|t| t.expect("it is seen"));
    for (what, a, b) in [("mirror", 0, 0), ("back", 1, 1)] {
        near(what, times(&ours)[a], times(&fine)[b]);
    }
    near("exhausted", ours.exhausted_kg, fine.exhausted_kg);
}
