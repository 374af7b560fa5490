//! Draws over what is not known.
//!
//! Every uncertain input has its own stream, keyed by the input's name. The stream is stratified
//! (one draw in each of `n` equal slices of the unit interval, in shuffled order: Latin hypercube
//! sampling, McKay, Beckman & Conover 1979, Technometrics 21(2)), so that a chance is steadier
//! than with plain draws and an edit elsewhere in the job does not shake it. The mixing function
//! is SplitMix64 (Steele, Lea & Flood 2014, OOPSLA, doi 10.1145/2660193.2660195).

/// Fewest draws that tell a chance. Judgement: with 64 of them one of 90 % is good to 4 %.
pub const TELLS_CHANCE: u32 = 64;

/// One step of SplitMix64: a well-mixed 64-bit number from a counter.
fn mix(counter: u64) -> u64 {
    let mut z = counter.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// Seed of an input's stream, from its name.
fn seed(key: &str) -> u64 {
    let hash = blake3::hash(key.as_bytes());
    let mut first = [0u8; 8];
    first.copy_from_slice(&hash.as_bytes()[..8]);
    u64::from_le_bytes(first)
}

/// `count` numbers in the open interval 0..1, stratified, in shuffled order, the same for the same
/// key and count on every machine.
pub fn unit_draws(key: &str, count: u32) -> Vec<f64> {
    let seed = seed(key);
    let n = u64::from(count);
    let mut order: Vec<u32> = (0..count).collect();
    for i in (1..order.len()).rev() {
        let pick = mix(seed ^ (i as u64)) % (i as u64 + 1);
        order.swap(i, pick as usize);
    }
    order
        .iter()
        .enumerate()
        .map(|(i, &slice)| {
            let within = (mix(seed.wrapping_add(n + i as u64)) >> 11) as f64 / (1u64 << 53) as f64;
            // The half keeps the draw off both ends, where a quantile may be infinite.
            (f64::from(slice) + within.clamp(1e-9, 1.0 - 1e-9)) / f64::from(count)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_slice_is_drawn_once() {
        let draws = unit_draws("run.attic.length", 1024);
        let mut slices: Vec<u32> = draws.iter().map(|u| (u * 1024.0) as u32).collect();
        slices.sort_unstable();
        assert_eq!(slices, (0..1024).collect::<Vec<_>>());
    }

    #[test]
    fn streams_of_different_inputs_are_not_related() {
        let a = unit_draws("run.attic.length", 1024);
        let b = unit_draws("run.attic.compression", 1024);
        let correlation: f64 =
            a.iter().zip(&b).map(|(x, y)| (x - 0.5) * (y - 0.5)).sum::<f64>() / 1024.0 * 12.0;
        assert!(correlation.abs() < 0.1, "{correlation}");
    }

    #[test]
    fn the_same_key_gives_the_same_draws() {
        assert_eq!(unit_draws("x", 256), unit_draws("x", 256));
        assert_ne!(unit_draws("x", 256), unit_draws("y", 256));
    }
}
