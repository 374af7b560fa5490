//! Prints heat transfer inside and around ducts at a few thousand generated points as CSV, for comparison with
//! general-purpose libraries (`reference/test_heat.py`). Always the same points.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use dewpath_air::domain::OutOfDomain;
use dewpath_moisture::heat::{
    Burial, Direction, Insulation, nusselt_cross_flow, nusselt_dittus_boelter, nusselt_gnielinski,
    nusselt_horizontal_cylinder, nusselt_inside, nusselt_vertical_plate, radiation_w_m2_k,
};
use dewpath_units::{Length, Ratio, Temperature};

const POINTS: u32 = 4000;

/// Fractional parts of multiples of an irrational number fill 0 to 1 evenly (Weyl 1916); independent ones
/// fill the cube.
fn spread(index: u32, irrational: f64) -> f64 {
    let x = f64::from(index) * irrational;
    x - libm::floor(x)
}

/// From `low` to `high`, evenly in the logarithm.
fn between(low: f64, high: f64, share: f64) -> f64 {
    low * libm::pow(high / low, share)
}

fn main() -> Result<(), OutOfDomain> {
    println!(
        "reynolds,prandtl,friction,rayleigh,any_reynolds,air_prandtl,roughness,diameter_over_length,surface_k,around_k,\
         emissivity,diameter_m,thickness_m,conductivity,cover_m,gnielinski,cooled_dittus_boelter,\
         heated_dittus_boelter,cylinder,plate,cross_flow,inside,radiation,layer_m_k_w,buried_thickness_m"
    );
    for index in 1..=POINTS {
        // The irrational numbers are the roots of 2, 3, 5, 7, 11, 13 and 17.
        let [a, b, c, d, e, f, g] = [
            std::f64::consts::SQRT_2,
            1.7320508075688772,
            2.23606797749979,
            2.6457513110645907,
            3.3166247903554,
            3.605551275463989,
            4.123105625617661,
        ]
        .map(|irrational| spread(index, irrational));
        let reynolds = between(1e4, 1e6, a);
        let prandtl = between(0.6, 100.0, b);
        let friction = between(0.01, 0.1, c);
        let rayleigh = between(10.0, 1e11, d);
        let any_reynolds = between(50.0, 2e5, e);
        let air_prandtl = 0.68 + 0.06 * f;
        let roughness = between(1e-5, 0.03, g);
        let diameter_over_length = b;
        let surface = Temperature::from_c(-30.0 + 90.0 * a);
        let around = Temperature::from_c(-30.0 + 90.0 * c);
        let emissivity = 0.05 + 0.9 * d;
        let diameter = between(0.08, 0.6, e);
        let thickness = between(0.003, 0.2, f);
        let conductivity = 0.02 + 0.05 * g;
        let cover = between(0.002, 1.0, a);
        let layer = Insulation::new(Length::from_m(thickness), conductivity)?;
        let burial = Burial { cover: Length::from_m(cover), conductivity_w_m_k: conductivity };
        let row = [
            reynolds,
            prandtl,
            friction,
            rayleigh,
            any_reynolds,
            air_prandtl,
            roughness,
            diameter_over_length,
            surface.k(),
            around.k(),
            emissivity,
            diameter,
            thickness,
            conductivity,
            cover,
            nusselt_gnielinski(reynolds, prandtl, friction)?,
            nusselt_dittus_boelter(reynolds, prandtl, Direction::Cooling)?,
            nusselt_dittus_boelter(reynolds, prandtl, Direction::Heating)?,
            nusselt_horizontal_cylinder(rayleigh, prandtl)?,
            nusselt_vertical_plate(rayleigh, prandtl)?,
            nusselt_cross_flow(reynolds, prandtl)?,
            nusselt_inside(any_reynolds, air_prandtl, roughness, diameter_over_length)?,
            radiation_w_m2_k(Ratio::from_ratio(emissivity), surface, around)?,
            layer.per_metre_m_k_w(Length::from_m(diameter))?,
            burial.round_thickness(Length::from_m(diameter))?.m(),
        ];
        println!("{}", row.map(|x| format!("{x:e}")).join(","));
    }
    Ok(())
}
