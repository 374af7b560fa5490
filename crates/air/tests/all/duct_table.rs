//! The duct-length table of the US residential code against friction and one fitting constant per diameter.
//!
//! IRC 2018/2021/2024 table M1504.2 (2015: M1506.2) gives the greatest length in feet for a fan whose flow is rated at
//! 0.25 in. of water. It has no elbows. What the friction of smooth duct leaves of that pressure is the table's fixed
//! part: cap and casing. If one constant per diameter explains it, the table is friction plus a fixed fitting, and our
//! band for an unknown terminal must contain that constant.
#![allow(
    clippy::print_stdout,
    reason = "the constants and the flexible half are reported, not asserted"
)]

use dewpath_air::flex::{EXTENDED_ROUGHNESS_MM, Pull, compression_factor};
use dewpath_air::friction::Duct;
use dewpath_air::terminal::{TerminalKernel, TerminalKind};
use dewpath_checkvalues::check;
use dewpath_units::{Airflow, Length, Pressure};

/// 20 °C at sea level.
const RHO: f64 = 1.204;
const MU: f64 = 1.82e-5;
/// Galvanised or smooth plastic duct: "average" of ASHRAE Fundamentals 2021, ch. 21.
const ROUGHNESS_MM: f64 = 0.09;

/// A row of the table: diameter (in) and its numeric cells, rated flow (cfm) and length (ft).
type Row = (f64, Vec<(f64, f64)>);

fn row(inches: f64, cfm: &[f64], feet: &[f64]) -> Row {
    (inches, cfm.iter().copied().zip(feet.iter().copied()).collect())
}

/// 7 and 8 in from the same table, identical in 18 adopted state texts.
fn smooth_half() -> [Row; 5] {
    let (four, five_and_six) = (check("FRI-IRC1"), check("FRI-IRC3").values);
    let (five, six) = five_and_six.split_at(5);
    [
        row(4.0, &four.inputs("cfm"), &four.values),
        row(5.0, &[80.0, 100.0, 125.0, 150.0, 200.0], five),
        row(6.0, &[125.0, 150.0, 200.0, 250.0, 300.0], six),
        row(7.0, &[200.0, 250.0, 300.0], &[148.0, 88.0, 54.0]),
        row(8.0, &[250.0, 300.0], &[198.0, 133.0]),
    ]
}

/// 6 in at 250 cfm, 7 and 8 in from the same table.
fn flexible_half() -> [Row; 5] {
    let four_to_six = check("FRI-IRC2").values;
    let (four, five_and_six) = four_to_six.split_at(2);
    let (five, six) = five_and_six.split_at(4);
    [
        row(4.0, &[50.0, 80.0], four),
        row(5.0, &[80.0, 100.0, 125.0, 150.0], five),
        row(6.0, &[100.0, 125.0, 150.0, 200.0, 250.0], &[six, &[1.0]].concat()),
        row(7.0, &[150.0, 200.0, 250.0, 300.0], &[161.0, 78.0, 40.0, 19.0]),
        row(8.0, &[200.0, 250.0, 300.0], &[189.0, 111.0, 69.0]),
    ]
}

/// One cell: velocity pressure, friction at the tabulated length, flow and area.
struct Cell {
    velocity_pa: f64,
    friction_pa: f64,
    q_m3_s: f64,
    area_m2: f64,
}

fn rated_pa() -> f64 {
    Pressure::from_in_wc(0.25).pa()
}

fn cell(inches: f64, cfm: f64, feet: f64, roughness_mm: f64, multiplier: f64) -> Cell {
    let length = Length::from_feet(feet);
    let duct = Duct {
        multiplier,
        ..Duct::round(Length::from_inches(inches), length, Length::from_mm(roughness_mm))
    };
    let (q, area) = (Airflow::from_cfm(cfm).m3_s(), duct.area.m2());
    Cell {
        velocity_pa: 0.5 * RHO * (q / area) * (q / area),
        friction_pa: duct.kernel(RHO, MU).unwrap().loss(q).0,
        q_m3_s: q,
        area_m2: area,
    }
}

/// The constant that leaves the least squared error of the whole loss over the row's cells.
fn constant(cells: &[Cell]) -> f64 {
    let over: f64 =
        cells.iter().map(|cell| cell.velocity_pa * (rated_pa() - cell.friction_pa)).sum();
    let under: f64 = cells.iter().map(|cell| cell.velocity_pa * cell.velocity_pa).sum();
    over / under
}

#[test]
fn one_constant_per_diameter_explains_the_smooth_half() {
    let mut count = 0;
    for (inches, row) in smooth_half() {
        let cells: Vec<Cell> =
            row.iter().map(|&(cfm, feet)| cell(inches, cfm, feet, ROUGHNESS_MM, 1.0)).collect();
        let k = constant(&cells);
        println!("smooth {inches} in: fitting constant {k:.3}");
        for (cell, (cfm, feet)) in cells.iter().zip(row) {
            let loss = cell.friction_pa + k * cell.velocity_pa;
            let off = loss / rated_pa() - 1.0;
            println!("  {cfm} cfm, {feet} ft: {loss:.2} Pa, {:+.1} %", 100.0 * off);
            assert!(off.abs() < 0.05, "{inches} in, {cfm} cfm: {loss} Pa");
            count += 1;
        }
    }
    assert_eq!(count, 18, "numeric smooth cells from 4 to 8 in");
}

/// The band of an unknown terminal with the casing contains the constant of each diameter, at every flow of its row; and
/// what each cell alone leaves after friction.
#[test]
fn terminal_band_contains_the_table_constants() {
    for (inches, row) in smooth_half() {
        let cells: Vec<Cell> =
            row.iter().map(|&(cfm, feet)| cell(inches, cfm, feet, ROUGHNESS_MM, 1.0)).collect();
        let k = constant(&cells);
        let band = TerminalKind::Unknown.band().of_width(Length::from_inches(inches));
        for cell in &cells {
            let loss =
                |set| TerminalKernel::new(set, band.flap, cell.area_m2, RHO).loss(cell.q_m3_s).0;
            let (low, high) = (loss(band.low), loss(band.high));
            for fixed in [k * cell.velocity_pa, rated_pa() - cell.friction_pa] {
                assert!(low <= fixed && fixed <= high, "{inches} in: {low} {fixed} {high}");
            }
        }
    }
}

/// With the likely flap pressure of the terminal beside it, the constant explains the table better than alone, and lies
/// from 0.8 (8 in) to 2.2 velocity pressures (4 in): what the likely terminal set was made from.
#[test]
fn a_flap_pressure_explains_the_table_better() {
    let flap_pa = TerminalKind::Unknown.band().likely.flap_pa;
    for (inches, row) in smooth_half() {
        let alone: Vec<Cell> =
            row.iter().map(|&(cfm, feet)| cell(inches, cfm, feet, ROUGHNESS_MM, 1.0)).collect();
        let with_flap: Vec<Cell> = row
            .iter()
            .map(|&(cfm, feet)| cell(inches, cfm, feet, ROUGHNESS_MM, 1.0))
            .map(|cell| Cell { friction_pa: cell.friction_pa + flap_pa, ..cell })
            .collect();
        let worst = |cells: &[Cell]| {
            let k = constant(cells);
            cells
                .iter()
                .map(|cell| (cell.friction_pa + k * cell.velocity_pa - rated_pa()).abs())
                .fold(0.0, f64::max)
        };
        let (before, after) = (worst(&alone), worst(&with_flap));
        let k = constant(&with_flap);
        println!(
            "smooth {inches} in: {flap_pa} Pa and {k:.2}; worst cell {before:.2} -> {after:.2} Pa"
        );
        assert!(after < before && (0.75..2.25).contains(&k), "{inches} in: {before} {after} {k}");
    }
}

/// The flexible half, for reading only. No one roughness with one constant explains it.
#[test]
fn flexible_half_is_reported() {
    for ((inches, row), (_, smooth)) in flexible_half().into_iter().zip(smooth_half()) {
        let smooth: Vec<Cell> =
            smooth.iter().map(|&(cfm, feet)| cell(inches, cfm, feet, ROUGHNESS_MM, 1.0)).collect();
        let k = constant(&smooth);
        let tight = compression_factor(Pull::Tight.compression(), Length::from_inches(inches))
            .unwrap()
            .likely;
        for (cfm, feet) in row {
            let [extended, pulled] = [1.0, tight].map(|multiplier| {
                let cell = cell(inches, cfm, feet, EXTENDED_ROUGHNESS_MM, multiplier);
                cell.friction_pa + k * cell.velocity_pa
            });
            println!(
                "flexible {inches} in, {cfm} cfm, {feet} ft: {extended:.1} Pa extended, {pulled:.1} Pa pulled tight, \
                 of {:.1} Pa, with the smooth half's constant",
                rated_pa()
            );
            assert!(extended.is_finite() && pulled >= extended);
        }
    }
}
