//! Elbow losses grow at low Reynolds number; most published coefficients are for fast air in large ducts.

/// How an elbow's coefficient depends on the Reynolds number: a mix of the two published columns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReynoldsCurve {
    /// Share of the column for radius over diameter of 0.5; the rest is the one for 0.75 and more.
    tight: f64,
}

/// Reynolds number below which the factor is held at its last value, without a source.
pub const HELD_BELOW_REYNOLDS: f64 = 1e4;

impl ReynoldsCurve {
    /// For a centre-line radius over diameter (or width); mixed in a straight line between 0.5 and 0.75.
    pub fn for_radius(r_over_d: f64) -> Self {
        Self { tight: ((0.75 - r_over_d) / 0.25).clamp(0.0, 1.0) }
    }
}

const COUNT: usize = 9;
const REYNOLDS: [f64; COUNT] = [1e4, 2e4, 3e4, 4e4, 6e4, 8e4, 10e4, 14e4, 20e4];
const EASY: [f64; COUNT] = [2.0, 1.77, 1.64, 1.56, 1.46, 1.38, 1.30, 1.15, 1.0];
const TIGHT: [f64; COUNT] = [1.40, 1.26, 1.19, 1.14, 1.09, 1.06, 1.04, 1.0, 1.0];
const EASY_SLOPES: [f64; COUNT] = slopes(&EASY);
const TIGHT_SLOPES: [f64; COUNT] = slopes(&TIGHT);

/// Monotone slopes at the nodes (Fritsch & Butland's weighted harmonic mean), flat at both ends where the factor
/// is held.
const fn slopes(values: &[f64; COUNT]) -> [f64; COUNT] {
    let mut out = [0.0; COUNT];
    let mut i = 1;
    while i < COUNT - 1 {
        let h0 = REYNOLDS[i] - REYNOLDS[i - 1];
        let h1 = REYNOLDS[i + 1] - REYNOLDS[i];
        let d0 = (values[i] - values[i - 1]) / h0;
        let d1 = (values[i + 1] - values[i]) / h1;
        if d0 * d1 > 0.0 {
            let w0 = 2.0 * h1 + h0;
            let w1 = h1 + 2.0 * h0;
            out[i] = (w0 + w1) / (w0 / d0 + w1 / d1);
        }
        i += 1;
    }
    out
}

fn hermite(values: &[f64; COUNT], slopes: &[f64; COUNT], i: usize, re: f64) -> (f64, f64) {
    let h = REYNOLDS[i + 1] - REYNOLDS[i];
    let s = (re - REYNOLDS[i]) / h;
    let rise = values[i + 1] - values[i];
    let (m0, m1) = (slopes[i] * h, slopes[i + 1] * h);
    let c2 = 3.0 * rise - 2.0 * m0 - m1;
    let c3 = m0 + m1 - 2.0 * rise;
    (values[i] + s * (m0 + s * (c2 + s * c3)), (m0 + s * (2.0 * c2 + 3.0 * s * c3)) / h)
}

/// Factor on a smooth elbow's coefficient, and its derivative by Reynolds number.
///
/// | Re/10⁴ | 1 | 2 | 3 | 4 | 6 | 8 | 10 | 14 | 20 |
/// | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
/// | r/D ≥ 0.75 | 2.0 | 1.77 | 1.64 | 1.56 | 1.46 | 1.38 | 1.30 | 1.15 | 1.0 |
/// | r/D 0.5 | 1.40 | 1.26 | 1.19 | 1.14 | 1.09 | 1.06 | 1.04 | 1.0 | 1.0 |
///
/// Monotone cubic between the nodes. Source: note to the elbow tables of SMACNA, HVAC Systems Duct Design, from
/// memory. Below Re 10⁴ the last value is held (no source; see [`HELD_BELOW_REYNOLDS`]).
pub fn reynolds_factor(curve: ReynoldsCurve, re: f64) -> (f64, f64) {
    let mix = |easy: (f64, f64), tight: (f64, f64)| {
        let t = curve.tight;
        (easy.0 + t * (tight.0 - easy.0), easy.1 + t * (tight.1 - easy.1))
    };
    if re <= REYNOLDS[0] {
        return mix((EASY[0], 0.0), (TIGHT[0], 0.0));
    }
    let Some(above) = REYNOLDS.iter().position(|&node| re < node) else {
        return mix((1.0, 0.0), (1.0, 0.0));
    };
    let i = above - 1;
    let easy = hermite(&EASY, &EASY_SLOPES, i, re);
    if curve.tight == 0.0 {
        return easy;
    }
    mix(easy, hermite(&TIGHT, &TIGHT_SLOPES, i, re))
}
