//! Prints friction factors, pressure losses and fitting coefficients at a few thousand generated points as CSV, for
//! comparison with a general-purpose library (`reference/test_friction.py`). Always the same points.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use dewpath_air::domain::OutOfDomain;
use dewpath_air::fittings::{ElbowMake, JunctionLaw, Leg, Split, Transition, reynolds_factor};
use dewpath_air::friction::{Duct, friction_factor};
use dewpath_units::{Angle, Area, Length};

const POINTS: u32 = 4000;
const ANGLES: [f64; 4] = [30.0, 45.0, 60.0, 90.0];

/// Fractional parts of multiples of an irrational number fill 0 to 1 evenly (Weyl 1916).
fn spread(index: u32, irrational: f64) -> f64 {
    let x = f64::from(index) * irrational;
    x - libm::floor(x)
}

fn circle(d_m: f64) -> Area {
    Area::from_m2(std::f64::consts::PI / 4.0 * d_m * d_m)
}

fn junction(
    leg: Leg,
    split: Split,
    branch: Area,
    run: Area,
    angle: f64,
    share: f64,
) -> Result<f64, OutOfDomain> {
    let law = JunctionLaw::new(leg, split, branch, run, Angle::from_deg(angle))?;
    Ok(law.coefficient(if leg == Leg::Branch { share } else { 1.0 - share }).0)
}

fn main() -> Result<(), OutOfDomain> {
    println!(
        "diameter_m,roughness_m,length_m,density,viscosity,flow_m3_s,reynolds,friction,loss_pa,\
         small_m,large_m,cone_deg,widening,widening_abrupt,narrowing,narrowing_abrupt,\
         mitre_deg,mitre,branch_m,run_m,junction_deg,share,\
         branch_converging,run_converging,branch_diverging,run_diverging,stamped,smooth"
    );
    for index in 1..=POINTS {
        // Roots of 2, 3, 5, 7, 11, 13: independent over the rational numbers.
        let u = [
            std::f64::consts::SQRT_2,
            1.7320508075688772,
            2.23606797749979,
            2.6457513110645907,
            3.3166247903554,
            3.605551275463989,
        ]
        .map(|root| spread(index, root));

        let d = 0.07 + 0.25 * u[0];
        let roughness = d * 0.05 * u[1] * u[1];
        let (rho, mu) = (0.9 + 0.5 * u[2], 1.6e-5 + 0.4e-5 * u[3]);
        let length = 0.5 + 20.0 * u[4];
        // Laminar to Re 3e5, every one but the transition, where there is no reference.
        let reynolds = {
            let re = libm::exp(5.0 + 7.6 * u[5]);
            if re > 2300.0 && re < 4000.0 { 4000.0 + re } else { re }
        };
        let area = circle(d);
        let flow = reynolds * mu * area.m2() / (rho * d);
        let duct =
            Duct::round(Length::from_m(d), Length::from_m(length), Length::from_m(roughness));
        let loss = duct.kernel(rho, mu)?.loss(flow).0;

        let large = d * (1.05 + 2.0 * u[3]);
        let cone = 3.0 + 170.0 * u[4];
        let (small_area, large_area) = (circle(d), circle(large));
        let friction = 0.02;
        let angle = Angle::from_deg(cone);
        let widening = Transition::new(small_area, large_area, angle, friction)?;
        let narrowing = Transition::new(large_area, small_area, angle, friction)?;
        let widening_abrupt = Transition::abrupt(small_area, large_area)?;
        let narrowing_abrupt = Transition::abrupt(large_area, small_area)?;

        let mitre = 1.0 + 119.0 * u[1];
        let branch = d * (0.4 + 0.6 * u[4]);
        let junction_deg = ANGLES[(index % 4) as usize];
        let (share, branch_area) = (u[5], circle(branch));
        let legs = [
            (Leg::Branch, Split::Converging),
            (Leg::Run, Split::Converging),
            (Leg::Branch, Split::Diverging),
            (Leg::Run, Split::Diverging),
        ];
        let mut split = [0.0; 4];
        for (k, (leg, way)) in split.iter_mut().zip(legs) {
            *k = junction(leg, way, branch_area, small_area, junction_deg, share)?;
        }

        let right = Angle::from_deg(90.0);
        let corrected = |make: ElbowMake| -> Result<f64, OutOfDomain> {
            let found = make.coefficient(Length::from_m(d), right)?;
            let factor = found.reynolds.map_or(1.0, |curve| reynolds_factor(curve, reynolds).0);
            Ok(found.likely * factor)
        };
        let mitred = ElbowMake::Mitred.coefficient(Length::from_m(d), Angle::from_deg(mitre))?;
        let row = [
            d,
            roughness,
            length,
            rho,
            mu,
            flow,
            reynolds,
            friction_factor(reynolds, roughness / d).factor,
            loss,
            d,
            large,
            cone,
            widening.coefficient().likely,
            widening_abrupt.coefficient().likely,
            narrowing.coefficient().likely,
            narrowing_abrupt.coefficient().likely,
            mitre,
            mitred.likely,
            branch,
            d,
            junction_deg,
            share,
            split[0],
            split[1],
            split[2],
            split[3],
            corrected(ElbowMake::Stamped)?,
            corrected(ElbowMake::Smooth { r_over_d: 1.0 })?,
        ];
        println!("{}", row.map(|x| format!("{x:e}")).join(","));
    }
    Ok(())
}
