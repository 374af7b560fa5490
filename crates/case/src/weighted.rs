//! Draws weighted by what was read: those that give the reading count, those that don't drop out.
//!
//! The weights are turned into a new choice among the same draws (systematic resampling, Kitagawa 1996, Journal of
//! Computational and Graphical Statistics 5(1)), so that whatever is worked out of the draws afterwards is weighted without
//! knowing it. Inputs that have nothing to do with the reading keep their spread.

use crate::draws::TELLS_CHANCE;

/// Draws that must count, in effect, for a chance to rest on them: the fewest that tell one without readings.
const FEWEST: f64 = TELLS_CHANCE as f64;

/// Least and most draws that are weighted.
const DRAWN: (u32, u32) = (256, 8192);

/// How many draws are weighted to choose so many of them: many drop out.
pub(crate) fn drawn(draws: u32) -> u32 {
    (draws.saturating_mul(4)).clamp(DRAWN.0, DRAWN.1)
}

/// A choice among draws by their weight.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Weighted {
    /// Draws among which was chosen.
    drawn: u32,
    /// Which of them, in an order of which any beginning is a fair choice.
    chosen: Vec<u32>,
}

impl Weighted {
    /// Chooses among draws by how far each is from what was read: half the sum of squares, in standard deviations. None where
    /// no draw has an answer.
    pub(crate) fn by(misfits: &[f64]) -> Option<Self> {
        let weights = weights(misfits)?;
        let drawn = u32::try_from(misfits.len()).ok()?;
        Some(Self { drawn, chosen: spread(&choose(&weights)) })
    }

    /// Draws among which was chosen.
    pub(crate) fn drawn(&self) -> u32 {
        self.drawn
    }

    /// The chosen ones of a stream of [`Self::drawn`] values.
    pub(crate) fn of<'a>(&'a self, stream: &'a [f64]) -> impl Iterator<Item = f64> + 'a {
        self.chosen.iter().map(|&draw| stream[draw as usize])
    }
}

/// Weights of the draws, their sum 1. Where the reading lies so far off that fewer than [`FEWEST`] draws would count, it is
/// believed less until as many do: those nearest to it.
fn weights(misfits: &[f64]) -> Option<Vec<f64>> {
    let least = misfits.iter().copied().filter(|misfit| misfit.is_finite()).reduce(f64::min)?;
    let at = |belief: f64| {
        // A draw without an answer weighs nothing.
        let weight = |misfit: f64| libm::exp(-belief * (misfit - least));
        let raw = |misfit: &f64| if misfit.is_finite() { weight(*misfit) } else { 0.0 };
        let raw: Vec<f64> = misfits.iter().map(raw).collect();
        let sum: f64 = raw.iter().sum();
        raw.into_iter().map(|weight| weight / sum).collect::<Vec<f64>>()
    };
    let counts = |weights: &[f64]| 1.0 / weights.iter().map(|weight| weight * weight).sum::<f64>();
    let beliefs = std::iter::successors(Some(1.0), |belief| Some(belief * 0.8));
    // At a belief of a millionth nearly all draws weigh alike.
    beliefs.take(64).map(at).find(|weights| counts(weights) >= FEWEST).or_else(|| Some(at(0.0)))
}

/// As many draws as there are weights, each as often as its weight says, in their order.
fn choose(weights: &[f64]) -> Vec<u32> {
    let count = weights.len();
    let mut chosen = Vec::with_capacity(count);
    let mut sum = 0.0;
    for (draw, weight) in (0..).zip(weights) {
        sum += weight * count as f64;
        while (chosen.len() as f64) + 0.5 < sum {
            chosen.push(draw);
        }
    }
    // A hair of rounding may leave the last one out.
    let last = chosen.last().copied().unwrap_or(0);
    chosen.resize(count, last);
    chosen
}

/// The same in an order of which any beginning is spread over all of them: steps of the golden ratio.
fn spread(chosen: &[u32]) -> Vec<u32> {
    let count = chosen.len();
    let about = ((count as f64) * 0.618_033_988_749_894_9) as usize;
    let step = (about.max(1)..=count).find(|step| is_coprime(*step, count)).unwrap_or(1);
    (0..count).map(|place| chosen[(place * step) % count]).collect()
}

fn is_coprime(mut a: usize, mut b: usize) -> bool {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a == 1
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_draw_is_chosen_as_often_as_it_weighs(misfits in prop::collection::vec(0.0..50.0f64, 1..400)) {
            let weights = weights(&misfits).unwrap();
            prop_assert!((weights.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            let chosen = choose(&weights);
            prop_assert_eq!(chosen.len(), misfits.len());
            for (draw, weight) in (0..).zip(&weights) {
                let times = chosen.iter().filter(|known| **known == draw).count() as f64;
                prop_assert!((times - weight * misfits.len() as f64).abs() <= 1.0 + 1e-6);
            }
        }

        #[test]
        fn each_place_is_taken_once(count in 1usize..5000) {
            let all: Vec<u32> = (0..count as u32).collect();
            let mut order = spread(&all);
            order.sort_unstable();
            prop_assert_eq!(order, all);
        }
    }

    /// Normal prior and normal reading, both of one standard deviation: the weighted draws have their mean in the middle and
    /// 1/sqrt(2) of the spread (conjugate normal; Gelman et al., Bayesian Data Analysis, 2.5, from memory).
    #[test]
    fn a_normal_reading_of_a_normal_draw_gives_the_known_middle_and_spread() {
        let units = crate::draws::unit_draws("x", 4096);
        let drawn: Vec<f64> = units.iter().map(|u| normal_quantile(*u)).collect();
        let misfits: Vec<f64> = drawn.iter().map(|x| 0.5 * (x - 2.0) * (x - 2.0)).collect();
        let weighted =
            Weighted { drawn: 4096, chosen: spread(&choose(&weights(&misfits).unwrap())) };
        let after: Vec<f64> = weighted.of(&drawn).collect();
        for part in [&after[..], &after[..1024]] {
            let count = part.len() as f64;
            let mean = part.iter().sum::<f64>() / count;
            let spread = (part.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / count).sqrt();
            assert!((mean - 1.0).abs() < 0.03, "{mean}");
            assert!((spread - 0.5f64.sqrt()).abs() < 0.03, "{spread}");
        }
    }

    /// The nearest draws count where the reading lies out of reach.
    #[test]
    fn a_reading_out_of_reach_is_believed_less() {
        let misfits: Vec<f64> = (0..1024).map(|i| 1e4 + f64::from(i) * f64::from(i)).collect();
        let weights = weights(&misfits).unwrap();
        let counts = 1.0 / weights.iter().map(|w| w * w).sum::<f64>();
        assert!((FEWEST..1.2 * FEWEST).contains(&counts), "{counts}");
        assert!(weights[0] > weights[100] && weights[100] > weights[400]);
        assert_eq!(super::weights(&[f64::NAN; 8]), None);
    }

    /// By bisection of the error function.
    fn normal_quantile(share: f64) -> f64 {
        let below = |z: f64| 0.5 * libm::erfc(-z / std::f64::consts::SQRT_2);
        let (mut low, mut high) = (-8.0, 8.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if below(middle) < share { low = middle } else { high = middle }
        }
        low
    }
}
