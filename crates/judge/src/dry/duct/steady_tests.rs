//! A path of runs under steady air, against an integration made elsewhere.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use dewpath_case::World;
use dewpath_case::inputs::Draw;

use super::super::day;
use super::super::plan::Plan;
use super::course::{Course, Leg};
use super::follow::Scene;

/// Dry air of 25 L/s at 24 °C and 80 %, kg/s, and its humidity ratio (psychrolib 2.5).
const FLOW_KG_S: f64 = 0.028_999;
const W: f64 = 0.015_012;

/// Water that settles in an hour in 8 m of 4 in duct under an attic at −10 °C, g.
fn grams_per_hour(insulation: &str) -> f64 {
    let text = format!(
        "format = 1\nname = \"steady\"\nsite = {{ indoor = \"24 C\", outdoor = \"-11.8 C\", altitude = \"0 m\" }}\n\
         [[room]]\nid = \"bath\"\nkind = \"bathroom\"\nlength = \"2.4 m\"\nwidth = \"1.6 m\"\nheight = \"2.4 m\"\n\
         use = {{ showers = 1 }}\n[[fan]]\nid = \"fan\"\nroom = \"bath\"\nrated = \"25 L/s at 60 Pa\"\nholds_flow = \"25 L/s\"\n\
         curve = [\"95 L/s at 0 Pa\", \"70 L/s at 600 Pa\", \"0 L/s at 1000 Pa\"]\n\
         [[run]]\nid = \"run\"\nfrom = \"fan\"\nto = \"cap\"\nduct = \"smooth metal\"\nsize = \"101.6 mm\"\nlength = \"8 m\"\n\
         elbows = 0\nplace = \"attic\"\ninsulation = \"{insulation}\"\nslope = \"to outdoors\"\n\
         [[terminal]]\nid = \"cap\"\nkind = \"wall cap\"\n"
    );
    let job = dewpath_job::read("steady", &text).unwrap().job;
    let world = World::default();
    let basis = dewpath_case::Basis::of(&job, &world, 0);
    let flows = basis.flows(&job).ok();
    let case = basis.case(&job, &world, flows.as_ref());
    let mut plan = Plan::of(&job, None, basis.inputs.beside(0)).unwrap();
    let ducts = super::ducts(&case, &mut plan);
    let scene = Scene { case: &case, plan: &plan, path: &ducts.paths[0] };
    let mut day = day::day(&plan, &plan.rooms[0], &case, Draw::Likely, true).unwrap();
    day.outdoor_c = 24.0 - 34.0 / 0.95;
    let leg = Leg {
        seconds: 60.0,
        flow_kg_s: FLOW_KG_S,
        t_c: 24.0,
        w: W,
        house_w: W,
        counts: true,
        rests: false,
    };
    day.course = Some(Course { legs: vec![leg; 240], showers: 1, peak_w: W });
    let runs = scene.follow(&day).unwrap();
    assert!((runs[0].pieces[0].around_c + 10.0).abs() < 1e-9);
    assert!(runs[0].residual < 1e-9 && runs[0].settled);
    1000.0 * runs[0].shower_kg / 4.0
}

/// 441, 42 and 5.7 g/h bare, in 25 mm and in 50 mm of k 0.036 (0.694 and 1.389 m²K/W flat), by scipy `solve_ivp` of the same
/// film equations with 9 W/(m²K) outside. Here the film outside is worked out (6 to 9 W/(m²K) in still air, less under
/// insulation), so that a little less settles.
#[test]
fn steady_air_leaves_what_scipy_says() {
    let bare = grams_per_hour("0 RSI");
    assert!((0.90..1.03).contains(&(bare / 441.5)), "{bare}");
    let thin = grams_per_hour("0.694 RSI");
    assert!((28.0..44.0).contains(&thin), "{thin}");
    let thick = grams_per_hour("1.389 RSI");
    assert!((2.0..7.0).contains(&thick), "{thick}");
}
