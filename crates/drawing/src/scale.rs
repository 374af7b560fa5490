//! Scales that people measure with.

use dewpath_units::System;

/// A scale: so many times larger than on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// How many times.
    pub denominator: f64,
    /// As it is written.
    pub text: &'static str,
}

const fn scale(denominator: f64, text: &'static str) -> Scale {
    Scale { denominator, text }
}

/// Scales of an architect's rule, largest first. Common practice, no source.
const US: &[Scale] = &[
    scale(1.0, "full size"),
    scale(2.0, "6 in = 1 ft"),
    scale(4.0, "3 in = 1 ft"),
    scale(8.0, "1-1/2 in = 1 ft"),
    scale(12.0, "1 in = 1 ft"),
    scale(16.0, "3/4 in = 1 ft"),
    scale(24.0, "1/2 in = 1 ft"),
    scale(32.0, "3/8 in = 1 ft"),
    scale(48.0, "1/4 in = 1 ft"),
    scale(64.0, "3/16 in = 1 ft"),
    scale(96.0, "1/8 in = 1 ft"),
    scale(192.0, "1/16 in = 1 ft"),
    scale(384.0, "1/32 in = 1 ft"),
    scale(768.0, "1/64 in = 1 ft"),
];

/// Scales recommended for technical drawings (ISO 5455:1979), with those between that building drawings use.
const METRIC: &[Scale] = &[
    scale(1.0, "1:1"),
    scale(2.0, "1:2"),
    scale(5.0, "1:5"),
    scale(10.0, "1:10"),
    scale(20.0, "1:20"),
    scale(25.0, "1:25"),
    scale(50.0, "1:50"),
    scale(100.0, "1:100"),
    scale(200.0, "1:200"),
    scale(500.0, "1:500"),
    scale(1000.0, "1:1000"),
];

/// The largest scale at which a thing of this width and height in metres fits into that much paper in
/// millimetres. None where none does.
pub fn fitting(system: System, size_m: [f64; 2], paper_mm: [f64; 2]) -> Option<Scale> {
    largest(system, |denominator| (0..2).all(|i| size_m[i] * 1000.0 / denominator <= paper_mm[i]))
}

/// The largest scale that does, asked by its denominator.
pub fn largest(system: System, does: impl Fn(f64) -> bool) -> Option<Scale> {
    let list = match system {
        System::Us => US,
        System::Metric => METRIC,
    };
    list.iter().find(|scale| does(scale.denominator)).copied()
}

/// Length of one part of a scale bar in metres: a round one, 10 to 30 mm long on paper where there is such a one.
pub fn bar_part_m(system: System, denominator: f64) -> f64 {
    let parts: &[f64] = match system {
        System::Us => &[0.0254, 0.0762, 0.1524, 0.3048, 0.6096, 1.2192, 3.048, 6.096],
        System::Metric => &[0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0],
    };
    let on_paper = |part: &&f64| **part * 1000.0 / denominator >= 10.0;
    parts.iter().find(on_paper).or(parts.last()).copied().unwrap_or(1.0)
}
