//! Inside sections of ducts: area, hydraulic diameter, how they print.

use dewpath_job::model::Section;
use dewpath_units::{Length, Quantity, Style};

/// Area, m².
pub(crate) fn area_m2(section: Section) -> f64 {
    match section {
        Section::Round(d) => std::f64::consts::FRAC_PI_4 * d.m() * d.m(),
        Section::Rectangular(a, b) => a.m() * b.m(),
        Section::Oval(a, b) => {
            let (long, short) = (a.m().max(b.m()), a.m().min(b.m()));
            std::f64::consts::FRAC_PI_4 * short * short + (long - short) * short
        }
    }
}

/// Hydraulic diameter, m: four areas over the perimeter.
pub(crate) fn hydraulic_m(section: Section) -> f64 {
    let perimeter = match section {
        Section::Round(d) => return d.m(),
        Section::Rectangular(a, b) => 2.0 * (a.m() + b.m()),
        Section::Oval(a, b) => {
            let (long, short) = (a.m().max(b.m()), a.m().min(b.m()));
            std::f64::consts::PI * short + 2.0 * (long - short)
        }
    };
    4.0 * area_m2(section) / perimeter
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
