//! The curves of fan and system meet where the report says that they do.
#![allow(clippy::unwrap_used, reason = "tests")]

use dewpath_case::World;

const JOB: &str = "format = 1\nname = \"One fan\"\n[[room]]\nid = \"bath\"\nkind = \"bathroom\"\nlength = \"8 ft\"\nwidth = \"6 ft\"\nheight = \"8 ft\"\n[[fan]]\nid = \"fan\"\nroom = \"bath\"\ncurve = [\"90 cfm at 0 inWC\", \"60 cfm at 0.3 inWC\", \"0 cfm at 0.5 inWC\"]\n[[run]]\nid = \"run\"\nfrom = \"fan\"\nto = \"cap\"\nsize = \"4 in\"\nduct = \"flex\"\nlength = \"8..20 ft\"\nelbows = 2\n[[terminal]]\nid = \"cap\"\nkind = \"wall cap\"\n";

/// Value at a place on straight lines between points.
fn between(points: &[(f64, f64)], x: f64) -> f64 {
    let k = points.partition_point(|p| p.0 < x).clamp(1, points.len() - 1);
    let ((x0, y0), (x1, y1)) = (points[k - 1], points[k]);
    y0 + (y1 - y0) * (x - x0) / (x1 - x0)
}

#[test]
fn both_pass_through_the_operating_point() {
    let job = dewpath_job::read("job.toml", JOB).unwrap().job;
    for draws in [0, 128] {
        let report = dewpath_engine::evaluate(&job, &World::default(), draws);
        let point = report.fans[0].operating_point.unwrap();
        let curves = dewpath_engine::fan_curves(&job, &World::default(), draws);
        let [one] = curves.as_slice() else { panic!("one fan") };
        let (q, p) = (point.airflow_l_s.likely, point.pressure_pa.likely);
        let fan: Vec<_> = one.curve.iter().map(|c| (c.airflow_l_s, c.pressure_pa.likely)).collect();
        let run: Vec<_> =
            one.system.iter().map(|s| (s.pressure_pa, s.airflow_l_s.likely)).collect();
        // With draws the medians of flow and pressure need not be of one draw.
        let share = if draws == 0 { 0.01 } else { 0.03 };
        assert!((between(&fan, q) / p - 1.0).abs() < share, "{} Pa against {p}", between(&fan, q));
        assert!((between(&run, p) / q - 1.0).abs() < share, "{} L/s against {q}", between(&run, p));
        assert!(fan.windows(2).all(|w| w[1].0 > w[0].0) && run.windows(2).all(|w| w[1].0 > w[0].0));
        let spreads = one.system.iter().any(|s| !s.airflow_l_s.is_exact());
        assert_eq!(spreads, draws > 0, "a run of 8 to 20 ft has a band");
    }
}

#[test]
fn a_fan_of_which_nothing_is_known_has_no_curve() {
    let bare = "format = 1\nname = \"Bare\"\n[[room]]\nid = \"bath\"\nkind = \"bathroom\"\n[[fan]]\nid = \"fan\"\nroom = \"bath\"\n";
    let job = dewpath_job::read("job.toml", bare).unwrap().job;
    assert!(dewpath_engine::fan_curves(&job, &World::default(), 16).is_empty());
}
