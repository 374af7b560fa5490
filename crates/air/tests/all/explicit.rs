//! Explicit stand-ins for Colebrook's equation, to show how far they are from it; nothing but tests uses them.
#![allow(
    clippy::disallowed_methods,
    reason = "expected values need not be the same to the last bit"
)]

fn lg(x: f64) -> f64 {
    x.log10()
}

/// Haaland, J. Fluids Eng. 105 (1983) 89.
pub(crate) fn haaland(re: f64, r: f64) -> f64 {
    (1.8 * lg(6.9 / re + (r / 3.7).powf(1.11))).powi(-2)
}

/// Swamee & Jain, J. Hydraulics Div. ASCE 102 (1976) 657 (general form).
pub(crate) fn swamee_jain(re: f64, r: f64) -> f64 {
    (-2.0 * lg((6.97 / re).powf(0.9) + r / 3.7)).powi(-2)
}

/// Serghides, Chem. Eng. 91 (1984) 63, three iterates with Steffensen.
pub(crate) fn serghides(re: f64, r: f64) -> f64 {
    let next = |x: f64| -2.0 * lg(r / 3.7 + 2.51 * x / re);
    let a = -2.0 * lg(r / 3.7 + 12.0 / re);
    let b = next(a);
    let c = next(b);
    (a - (b - a) * (b - a) / (c - 2.0 * b + a)).powi(-2)
}

/// Churchill, Chem. Eng. 84 (1977) 91: all regimes.
pub(crate) fn churchill(re: f64, r: f64) -> f64 {
    let a = (2.457 * (1.0 / ((7.0 / re).powf(0.9) + 0.27 * r)).ln()).powi(16);
    let b = (37530.0 / re).powi(16);
    8.0 * ((8.0 / re).powi(12) + (a + b).powf(-1.5)).powf(1.0 / 12.0)
}

/// Zigrang & Sylvester, AIChE J. 28 (1982) 514, second form.
pub(crate) fn zigrang_sylvester(re: f64, r: f64) -> f64 {
    let inner = lg(r / 3.7 + 13.0 / re);
    let middle = lg(r / 3.7 - 5.02 / re * inner);
    (-2.0 * lg(r / 3.7 - 5.02 / re * middle)).powi(-2)
}

/// Sonnad & Goudar, J. Hydraulic Eng. 132 (2006) 863.
pub(crate) fn sonnad_goudar(re: f64, r: f64) -> f64 {
    let s = 0.124 * r * re + (0.4587 * re).ln();
    (0.8686 * (0.4587 * re / s.powf(s / (s + 1.0))).ln()).powi(-2)
}

/// Altshul in Tsal's form (Heating/Piping/Air Cond. 1989), long used for ducts.
pub(crate) fn altshul_tsal(re: f64, r: f64) -> f64 {
    let f = 0.11 * (68.0 / re + r).powf(0.25);
    if f < 0.018 { 0.85 * f + 0.0028 } else { f }
}
