//! Exact steps of a small linear system with constant inputs.
//!
//! The dry part of a room (ventilation, sorption, conduction) is linear while nobody touches fan, door
//! or shower: `dy/dt = A y + B u`, with `u` constant over the step. Its solution over a step is
//! another linear map, which is worked out once for each regime and step and then only multiplied: exact at
//! any length, and stable whatever the rates are. Integrals of linear functions of the state
//! (`dx/dt = C y + D u`) come with it, so that what left a zone is known and not guessed from the ends.

/// States at most.
pub(crate) const STATES: usize = 8;
/// Inputs at most.
pub(crate) const INPUTS: usize = 4;
/// Integrals at most.
pub(crate) const INTEGRALS: usize = 4;
/// Rows of a map: states first, integrals after them.
pub(crate) const ROWS: usize = STATES + INTEGRALS;
const COLUMNS: usize = STATES + INPUTS;
/// Half of the states.
const HALF: usize = STATES / 2;

/// Lengths of steps, s. Each is a sum of shorter ones, so that its map is a product of theirs.
pub(crate) const LENGTHS: [u32; 15] =
    [1, 2, 5, 10, 20, 30, 60, 90, 120, 180, 300, 600, 1200, 1800, 3600];
/// Shorter lengths that make up each length, as places in [`LENGTHS`]; the first is from the series.
const MADE_OF: [&[usize]; LENGTHS.len()] = [
    &[],
    &[0, 0],
    &[1, 1, 0],
    &[2, 2],
    &[3, 3],
    &[4, 3],
    &[5, 5],
    &[6, 5],
    &[6, 6],
    &[8, 6],
    &[9, 8],
    &[10, 10],
    &[11, 11],
    &[12, 11],
    &[13, 13],
];

/// Terms of the exponential series at most: with rates times the step below [`SERIES_REACH`] the first term left
/// out is below 1e-17.
const TERMS: u32 = 12;
/// What the first term left out may be.
const LEFT_OUT: f64 = 1e-17;
/// Largest rate times step that the series is asked for; longer ones are squared up.
const SERIES_REACH: f64 = 0.25;

/// Rates of a linear system, one column for each state and each input: how fast that state or input
/// moves every state (first rows) and every integral (last rows).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Rates {
    columns: [[f64; ROWS]; COLUMNS],
    states: usize,
    inputs: usize,
}

impl Rates {
    /// No movement at all.
    pub(crate) fn new(states: usize, inputs: usize) -> Self {
        debug_assert!(states <= STATES && inputs <= INPUTS, "the system is larger than its arrays");
        Self { columns: [[0.0; ROWS]; COLUMNS], states, inputs }
    }

    /// States of the system.
    pub(crate) fn states(&self) -> usize {
        self.states
    }

    /// Adds to the rate at which state `from` moves state `to`, per second.
    pub(crate) fn state(&mut self, to: usize, from: usize, rate: f64) {
        self.columns[from][to] += rate;
    }

    /// Adds to the rate at which input `from` moves state `to`, per second.
    pub(crate) fn input(&mut self, to: usize, from: usize, rate: f64) {
        self.columns[STATES + from][to] += rate;
    }

    /// Adds to the rate at which state `from` moves integral `to`.
    pub(crate) fn integral_of_state(&mut self, to: usize, from: usize, rate: f64) {
        self.columns[from][STATES + to] += rate;
    }

    /// Adds to the rate at which input `from` moves integral `to`.
    pub(crate) fn integral_of_input(&mut self, to: usize, from: usize, rate: f64) {
        self.columns[STATES + from][STATES + to] += rate;
    }

    /// Largest sum of rates of one state, 1/s.
    fn norm(&self) -> f64 {
        let sum = |column: &[f64; ROWS]| column[..STATES].iter().map(|r| r.abs()).sum::<f64>();
        self.columns[..self.states].iter().map(sum).fold(0.0, f64::max)
    }
}

/// The solution over one step: states and inputs at its start to states at its end and integrals over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Propagator {
    columns: [[f64; ROWS]; COLUMNS],
}

impl Propagator {
    const NOTHING: Self = Self { columns: [[0.0; ROWS]; COLUMNS] };

    /// New states, and after them the integrals over the step.
    #[expect(
        clippy::inline_always,
        reason = "two at each step: calls cost 4 % of a year of one zone"
    )]
    #[inline(always)]
    pub(crate) fn apply(
        &self,
        states: usize,
        y: &[f64; STATES],
        inputs: usize,
        u: &[f64; INPUTS],
    ) -> [f64; ROWS] {
        let mut sum = [0.0; ROWS];
        let of_states = self.columns[..states.min(STATES)].iter().zip(y);
        let of_inputs = self.columns[STATES..STATES + inputs.min(INPUTS)].iter().zip(u);
        if states <= HALF {
            // Few states leave the second half of their rows empty.
            for (column, x) in of_states {
                add_part::<0, HALF>(&mut sum, column, *x);
                add_part::<STATES, ROWS>(&mut sum, column, *x);
            }
            for (column, x) in of_inputs {
                add_part::<0, HALF>(&mut sum, column, *x);
                add_part::<STATES, ROWS>(&mut sum, column, *x);
            }
            return sum;
        }
        for (column, x) in of_states {
            add(&mut sum, column, *x);
        }
        for (column, x) in of_inputs {
            add(&mut sum, column, *x);
        }
        sum
    }

    /// What one unit of a state at the start adds to states and integrals.
    #[inline]
    pub(crate) fn of_state(&self, state: usize) -> &[f64; ROWS] {
        &self.columns[state]
    }

    /// What one unit of an input over the step adds to states and integrals.
    #[inline]
    pub(crate) fn of_input(&self, input: usize) -> &[f64; ROWS] {
        &self.columns[STATES + input]
    }

    /// This step and then `next`.
    fn then(&self, next: &Self, states: usize, inputs: usize) -> Self {
        let mut both = Self::NOTHING;
        for c in (0..states).chain(STATES..STATES + inputs) {
            let mut sum = [0.0; ROWS];
            // What has been summed up so far stays; an input goes on acting.
            sum[STATES..].copy_from_slice(&self.columns[c][STATES..]);
            if c >= STATES {
                add(&mut sum, &next.columns[c], 1.0);
            }
            for (j, column) in next.columns[..states].iter().enumerate() {
                add(&mut sum, column, self.columns[c][j]);
            }
            both.columns[c] = sum;
        }
        both
    }

    /// One step of `seconds` by the series, squared up from a fraction that the series reaches.
    fn of(rates: &Rates, seconds: f64) -> Self {
        let reach = rates.norm() * seconds / SERIES_REACH;
        let halvings = if reach > 1.0 { libm::ceil(libm::log2(reach)) as i32 } else { 0 };
        let mut step = Self::series(rates, libm::ldexp(seconds, -halvings));
        for _ in 0..halvings {
            step = step.then(&step, rates.states, rates.inputs);
        }
        step
    }

    /// `Σ (M h)ᵏ/k!` column by column, where M also carries the constant inputs and the integrals.
    fn series(rates: &Rates, h: f64) -> Self {
        let mut sum = Self::NOTHING;
        let terms = terms(rates.norm() * h);
        for c in (0..rates.states).chain(STATES..STATES + rates.inputs) {
            // First term: where the column starts. An input moves, but is itself no state.
            let mut term = [0.0; ROWS];
            if c < STATES {
                sum.columns[c][c] = 1.0;
            }
            let mut scale = h;
            for (t, m) in term.iter_mut().zip(&rates.columns[c]) {
                *t = scale * m;
            }
            add(&mut sum.columns[c], &term, 1.0);
            for k in 2..=terms {
                scale = h / f64::from(k);
                let mut next = [0.0; ROWS];
                for (j, column) in rates.columns[..rates.states].iter().enumerate() {
                    add(&mut next, column, term[j] * scale);
                }
                term = next;
                add(&mut sum.columns[c], &term, 1.0);
            }
        }
        sum
    }
}

/// Terms of the series that count where rates times the step are `reach`.
fn terms(reach: f64) -> u32 {
    let mut term = reach;
    // Two at least: an input moves a state, and that state an integral.
    let mut k = 2;
    while k < TERMS && term > LEFT_OUT {
        k += 1;
        term *= reach / f64::from(k);
    }
    k
}

/// Adds `times` the column.
#[inline]
pub(crate) fn add(sum: &mut [f64; ROWS], column: &[f64; ROWS], times: f64) {
    for (s, c) in sum.iter_mut().zip(column) {
        *s += c * times;
    }
}

/// Adds `times` the rows from `FROM` to `TO` of the column.
#[inline]
fn add_part<const FROM: usize, const TO: usize>(
    sum: &mut [f64; ROWS],
    column: &[f64; ROWS],
    times: f64,
) {
    for (s, c) in sum[FROM..TO].iter_mut().zip(&column[FROM..TO]) {
        *s += c * times;
    }
}

/// Maps of many systems, side by side; nothing is set aside once it stands.
#[derive(Debug, Clone)]
pub(crate) struct Pool {
    maps: Vec<Propagator>,
}

impl Pool {
    /// Room for `most` maps.
    pub(crate) fn new(most: usize) -> Self {
        Self { maps: Vec::with_capacity(most.max(2 * LENGTHS.len())) }
    }

    /// Whether all lengths of another two systems fit in.
    #[inline]
    pub(crate) fn has_room(&self) -> bool {
        self.maps.capacity() - self.maps.len() >= 2 * LENGTHS.len()
    }

    /// Forgets all maps; whoever had a place in it must ask again.
    pub(crate) fn clear(&mut self) {
        self.maps.clear();
    }

    #[inline]
    pub(crate) fn map(&self, place: usize) -> &Propagator {
        &self.maps[place]
    }
}

const NOT_MADE: u32 = u32::MAX;

/// The steps of one system: where in the pool the map of each length is, once it was asked for.
#[derive(Debug, Clone)]
pub(crate) struct Steps {
    rates: Rates,
    places: [u32; LENGTHS.len()],
}

impl Steps {
    pub(crate) fn new(rates: Rates) -> Self {
        Self { rates, places: [NOT_MADE; LENGTHS.len()] }
    }

    /// Place of the map of length number `length`, which is made if need be.
    #[inline]
    pub(crate) fn place(&mut self, length: usize, pool: &mut Pool) -> usize {
        if self.places[length] == NOT_MADE {
            self.make(length, pool);
        }
        self.places[length] as usize
    }

    #[cold]
    fn make(&mut self, length: usize, pool: &mut Pool) {
        let step = match MADE_OF[length].split_first() {
            None => Propagator::of(&self.rates, f64::from(LENGTHS[length])),
            Some((first, rest)) => {
                let first = self.place(*first, pool);
                let mut whole = *pool.map(first);
                for &part in rest {
                    let part = self.place(part, pool);
                    whole = whole.then(pool.map(part), self.rates.states, self.rates.inputs);
                }
                whole
            }
        };
        self.places[length] = pool.maps.len() as u32;
        pool.maps.push(step);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(s: &Steps, length: usize, y: &[f64; STATES], u: [f64; INPUTS]) -> [f64; ROWS] {
        let mut pool = Pool::new(LENGTHS.len());
        let place = s.clone().place(length, &mut pool);
        pool.map(place).apply(s.rates.states, y, s.rates.inputs, &u)
    }

    /// First-order response to a constant input: y = u + (y0 - u) e^(-t/tau).
    #[test]
    fn a_single_store_follows_the_exponential() {
        let tau = 600.0;
        let mut rates = Rates::new(1, 1);
        rates.state(0, 0, -1.0 / tau);
        rates.input(0, 0, 1.0 / tau);
        rates.integral_of_state(0, 0, 1.0);
        let steps = Steps::new(rates);
        for (length, seconds) in LENGTHS.iter().enumerate() {
            let h = f64::from(*seconds);
            let mut y = [0.0; STATES];
            y[0] = 3.0;
            let end = step(&steps, length, &y, [1.0, 0.0, 0.0, 0.0]);
            let over = &end[STATES..];
            let decay = libm::exp(-h / tau);
            assert!((end[0] - (1.0 + 2.0 * decay)).abs() < 1e-13, "{h} s");
            let integral = h + 2.0 * tau * (1.0 - decay);
            assert!((over[0] - integral).abs() < 1e-12 * integral, "{h} s");
        }
    }

    #[test]
    fn lengths_are_made_of_shorter_ones() {
        for (length, parts) in MADE_OF.iter().enumerate().skip(1) {
            assert!(parts.iter().all(|part| *part < length));
            assert_eq!(LENGTHS[length], parts.iter().map(|part| LENGTHS[*part]).sum::<u32>());
        }
    }

    /// A step as fast as nothing real still comes to rest, without overshoot.
    #[test]
    fn rates_far_beyond_the_step_are_stable() {
        let mut rates = Rates::new(2, 1);
        rates.state(0, 0, -1e4);
        rates.input(0, 0, 1e4);
        rates.state(1, 0, 1e-3);
        rates.state(1, 1, -1e-3);
        let steps = Steps::new(rates);
        let end = step(&steps, LENGTHS.len() - 1, &[0.0; STATES], [2.0, 0.0, 0.0, 0.0]);
        assert!((end[0] - 2.0).abs() < 1e-9);
        assert!(end[1] > 1.9 && end[1] <= 2.0 + 1e-9);
    }

    /// Two stores that exchange and lose nothing keep their sum, at every length.
    #[test]
    fn what_is_exchanged_is_kept() {
        let (a, b, g) = (18.0, 480.0, 0.07);
        let mut rates = Rates::new(2, 0);
        rates.state(0, 0, -g / a);
        rates.state(0, 1, g / a);
        rates.state(1, 0, g / b);
        rates.state(1, 1, -g / b);
        let steps = Steps::new(rates);
        for length in 0..LENGTHS.len() {
            let mut y = [0.0; STATES];
            (y[0], y[1]) = (0.014, 0.006);
            let end = step(&steps, length, &y, [0.0; INPUTS]);
            let before = a * y[0] + b * y[1];
            assert!((a * end[0] + b * end[1] - before).abs() < 1e-12 * before);
        }
    }
}
