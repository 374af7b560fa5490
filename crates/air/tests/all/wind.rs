//! Wind and stack against published values and closed forms.

use dewpath_air::wind::{
    Exposure, Terrain, roof_pressure_coefficient, site_wind_speed, stack_pressure,
    terminal_wind_pressure, velocity_pressure, wall_pressure_coefficient,
};
use dewpath_checkvalues::{absolute, check, relative};
use dewpath_units::{Angle, Density, Length, Velocity};

fn wall(degrees: f64, side_ratio: f64) -> f64 {
    wall_pressure_coefficient(Angle::from_deg(degrees), side_ratio).unwrap()
}

/// Swami & Chandra 1987, as tabulated in a public-domain wind-profile data file; square plan.
#[test]
fn square_house_has_the_tabulated_coefficients() {
    let angles = check("WND-01").inputs("alpha_deg");
    check("WND-01").all_hold(&angles.into_iter().map(|angle| wall(angle, 1.0)).collect::<Vec<_>>());
}

/// The equation evaluated outside the project, with the + sign of its 0.131 term.
#[test]
fn oblong_house_follows_the_equation() {
    check("WND-02").holds(wall(45.0, 1.0));
    check("WND-03").holds(wall(90.0, 2.0));
    check("WND-04").holds(wall(45.0, 2.0));
    check("WND-05").holds(wall(135.0, 0.5));
}

/// A long wall along the wind sees less suction than a short one (reattachment).
#[test]
fn long_side_walls_see_less_suction() {
    assert!(wall(90.0, 2.0) > wall(90.0, 1.0));
}

#[test]
fn wind_from_left_and_right_press_alike_and_every_ratio_has_an_answer() {
    for degrees in 0..=360 {
        for ratio in [0.25, 0.5, 0.8, 1.0, 1.3, 2.0, 4.0] {
            let cp = wall(f64::from(degrees), ratio);
            assert!((-1.5..=0.7).contains(&cp), "{degrees} {ratio} {cp}");
            absolute("mirrored", wall(f64::from(-degrees), ratio), cp, 1e-12);
        }
    }
    assert!(wall_pressure_coefficient(Angle::from_deg(f64::NAN), 1.0).is_err());
    assert!(wall_pressure_coefficient(Angle::from_deg(0.0), 0.0).is_err());
}

/// Published table of the Air Infiltration and Ventilation Centre type, public-domain data file.
#[test]
fn roofs_have_the_tabulated_coefficients() {
    let roof = |pitch: f64, wind: f64, exposure| {
        roof_pressure_coefficient(Angle::from_deg(pitch), Angle::from_deg(wind), exposure).unwrap()
    };
    let flat = [Exposure::Exposed, Exposure::Sheltered];
    check("WND-06").all_hold(&flat.map(|exposure| roof(5.0, 0.0, exposure).likely));
    let winds = [0.0, 45.0, 90.0];
    check("WND-07").all_hold(&winds.map(|wind| roof(20.0, wind, Exposure::Exposed).likely));
    for pitch in 0..=60 {
        for exposure in [Exposure::Exposed, Exposure::Sheltered] {
            let band = roof(f64::from(pitch), 30.0, exposure);
            assert!(band.low <= band.likely && band.likely <= band.high, "{pitch} {band:?}");
        }
    }
    let steep = Angle::from_deg(75.0);
    assert!(roof_pressure_coefficient(steep, steep, Exposure::Exposed).is_err());
}

#[test]
fn wind_speed_and_pressure() {
    let rho = Density::from_kg_m3(1.2);
    check("WND-08").holds(velocity_pressure(rho, Velocity::from_m_s(5.0)).pa());
    let site = site_wind_speed(
        Velocity::from_m_s(4.0),
        Terrain::Open,
        Length::from_m(10.0),
        Terrain::Suburban,
        Length::from_m(5.0),
    );
    check("WND-09").holds(site.unwrap().m_s());
    let on_the_ground = site_wind_speed(
        Velocity::from_m_s(4.0),
        Terrain::Open,
        Length::from_m(10.0),
        Terrain::Urban,
        Length::from_m(0.0),
    );
    assert_eq!(on_the_ground.unwrap_err().quantity, "height above ground");
    // 10 m/s, coefficient +0.6 against a house at 0: 36 Pa by hand.
    let push = terminal_wind_pressure(0.6, 0.0, rho, Velocity::from_m_s(10.0));
    relative("by hand", push.pa(), 36.0, 1e-12);
}

/// Dry-air hydrostatics; the check's own gas constant 287.055 J/(kg K) gives the densities.
#[test]
fn stack_in_house_and_duct() {
    let dry = |celsius: f64| Density::from_kg_m3(101_325.0 / (287.055 * (celsius + 273.15)));
    let house = stack_pressure(dry(21.0), dry(-10.0), Length::from_m(3.0));
    check("WND-10").holds(house.pa());
    let duct = stack_pressure(dry(24.0), dry(0.0), Length::from_m(5.0));
    check("WND-11").holds(duct.pa());
}
