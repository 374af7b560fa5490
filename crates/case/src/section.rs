//! Inside sections of ducts: area, hydraulic diameter, how they print.

use dewpath_air::shape::Shape;
use dewpath_job::model::Section;
use dewpath_units::{Length, Quantity, Style};

/// The shape of the `air` crate.
fn shape(section: Section) -> Shape {
    match section {
        Section::Round(diameter) => Shape::Round { diameter },
        Section::Rectangular(width, height) => Shape::Rectangular { width, height },
        Section::Oval(a, b) => Shape::FlatOval { major: a.greater(b), minor: a.lesser(b) },
    }
}

/// Area, m².
pub fn area_m2(section: Section) -> f64 {
    shape(section).area().m2()
}

/// Hydraulic diameter, m.
pub fn hydraulic_m(section: Section) -> f64 {
    shape(section).hydraulic_diameter().m()
}

/// Perimeter, m.
pub fn perimeter_m(section: Section) -> f64 {
    shape(section).perimeter().m()
}

/// As written in US files.
pub(crate) fn print_us(section: &Section) -> String {
    let p = |length: Length| length.print(&Style::US);
    match *section {
        Section::Round(d) => p(d),
        Section::Rectangular(a, b) => format!("{} x {}", p(a), p(b)),
        Section::Oval(a, b) => format!("oval {} x {}", p(a), p(b)),
    }
}
