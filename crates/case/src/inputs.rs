//! Everything the calculation needs to know, with what is written, what is assumed and the draws.
//!
//! A stage asks for a value once, by its path in the job. What is written is taken as it stands; what
//! is not written or unknown is taken from a stated default, and the default goes onto the
//! assumptions list with its source. Values that stem from the same hands share their draw by
//! sharing a stream.

use dewpath_message::Text;
use dewpath_report::say::What;
use std::collections::BTreeMap;
use std::sync::Arc;

use dewpath_job::category::Category;
use dewpath_job::model::{Given, GivenChoice, GivenCount, GivenYesNo};
use dewpath_report::{Assumption, Figure, Message, Provenance, Source, Triple, WorkingInput};
use dewpath_units::{Choice, Origin, Quantity, Uncertain, YesNo};

use crate::draws::{TELLS_CHANCE, unit_draws};
use crate::weighted::Weighted;

/// Which set of values is meant: the likely ones, or one draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Draw {
    /// The likely values.
    Likely,
    /// Draw number.
    At(usize),
}

/// Handle of a numeric input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InputId(usize);

/// A category with its options and its draws.
#[derive(Debug, Clone)]
pub struct CategoryInput<C> {
    id: InputId,
    options: Vec<C>,
}

/// Name that draws are seeded from; nobody reads it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stream<'a>(pub &'a str);

/// Where a value may be written and how long it takes to find out.
#[derive(Debug, Clone)]
pub struct Ask<'a> {
    /// Path in the job.
    pub at: String,
    /// Stream of the draws; the path unless the same hands did several things.
    pub stream: Option<Stream<'a>>,
    /// Key of what it is, for people.
    pub what: Message,
    /// Minutes to measure or look at it, about. Judgement.
    pub minutes: f64,
}

/// A default for a quantity.
#[derive(Debug, Clone)]
pub struct Fallback {
    /// Lowest value that is likely.
    pub low: f64,
    /// Highest value that is likely.
    pub high: f64,
    /// The median, where it is not the middle of both.
    pub likely: Option<f64>,
    /// Where it comes from.
    pub source: Source,
}

impl Fallback {
    /// Any value between two is as likely.
    pub fn even(low: f64, high: f64, source: Source) -> Self {
        Self { low, high, likely: None, source }
    }

    /// Half of all cases lie below `likely`.
    pub fn about(low: f64, likely: f64, high: f64, source: Source) -> Self {
        Self { low, high, likely: Some(likely), source }
    }

    /// 5th percentile, median and 95th percentile.
    fn triple(&self) -> Triple {
        Triple { low: self.at(0.05), likely: self.at(0.5), high: self.at(0.95) }
    }

    /// The value below which a share of all cases lies.
    fn at(&self, share: f64) -> f64 {
        let Self { low, high, .. } = self;
        match self.likely {
            None => low + share * (high - low),
            Some(likely) if share < 0.5 => low + 2.0 * share * (likely - low),
            Some(likely) => likely + (2.0 * share - 1.0) * (high - likely),
        }
    }
}

/// The stream of an input.
struct Drawn {
    /// A place between 0 and 1 for each draw.
    units: Vec<f64>,
    /// Where a reading puts the middle of them; none where nothing was read.
    middle: Option<f64>,
    /// All that a reading leaves.
    all: Vec<f64>,
}

/// Share by which an option must lead the first one to be likelier than it, in effect three standard errors of a choice among
/// the fewest draws that a reading leaves.
const LEADS: f64 = 0.35;

impl Drawn {
    /// Samples of an input; none without draws.
    fn each(&self, value: impl Fn(f64) -> f64) -> Option<Vec<f64>> {
        (!self.units.is_empty()).then(|| self.units.iter().map(|&u| value(u)).collect())
    }

    /// The likely one of `count` options that a draw has: the first, unless a reading leaves another by far more often.
    fn mostly(&self, option: impl Fn(f64) -> f64, count: usize) -> f64 {
        let share = |index: usize| {
            let same = self.all.iter().filter(|u| option(**u) as usize == index).count();
            same as f64 / self.all.len().max(1) as f64
        };
        let first = share(0);
        let most = (1..count).map(|index| (index, share(index))).max_by(|a, b| a.1.total_cmp(&b.1));
        most.filter(|(_, share)| *share > first + LEADS).map_or(0.0, |(index, _)| index as f64)
    }
}

#[derive(Debug, Clone)]
struct Input {
    at: String,
    what: Message,
    minutes: f64,
    likely: f64,
    samples: Option<Vec<f64>>,
    figure: fn(Triple) -> Figure,
    provenance: Provenance,
}

/// All inputs of one evaluation.
#[derive(Debug, Clone)]
pub struct Inputs {
    draws: u32,
    /// Which draws are left, and how often each, once something was read.
    weighted: Option<Arc<Weighted>>,
    list: Vec<Input>,
    by_path: BTreeMap<String, InputId>,
    /// Defaults that were used.
    pub assumptions: Vec<Assumption>,
}

impl Inputs {
    /// No input yet.
    pub fn new(draws: u32) -> Self {
        Self::chosen(draws, None)
    }

    /// No input yet, of the draws that a reading leaves.
    pub(crate) fn chosen(draws: u32, weighted: Option<Arc<Weighted>>) -> Self {
        let (list, by_path, assumptions) = (Vec::new(), BTreeMap::new(), Vec::new());
        Self { draws, weighted, list, by_path, assumptions }
    }

    /// No input yet; what is asked here is drawn as in `self`, so that both are told together draw by draw.
    #[must_use]
    pub fn beside(&self, draws: u32) -> Self {
        Self::chosen(draws, self.weighted.clone())
    }

    /// Number of draws; 0 for the likely values alone.
    pub fn draws(&self) -> u32 {
        self.draws
    }

    /// Whether there are draws enough to tell a chance. Fewer judge, but a share of them is no chance to rest on.
    pub fn tells_chance(&self) -> bool {
        self.draws >= TELLS_CHANCE
    }

    /// A number that nobody asks the user for: a constant of the model.
    pub fn constant(&mut self, value: f64, figure: fn(Triple) -> Figure) -> InputId {
        self.push(Input {
            at: String::new(),
            what: What::Constant.into(),
            minutes: 0.0,
            likely: value,
            samples: None,
            figure,
            provenance: Provenance::Computed,
        })
    }

    /// Something the model settles by a rule of its own; it is listed with the assumptions.
    pub fn note(&mut self, ask: &Ask<'_>, words: Vec<String>, source: &Source) {
        self.assumptions.push(Assumption {
            at: ask.at.clone(),
            what: ask.what.clone(),
            figure: None,
            words,
            said_unknown: false,
            source: source.clone(),
        });
    }

    /// Place in a published or judged spread, 0 to 1: nobody can write it, but it is drawn and listed.
    pub fn band(&mut self, ask: &Ask<'_>, source: &Source) -> InputId {
        if let Some(&known) = self.by_path.get(&ask.at) {
            return known;
        }
        self.assumptions.push(Assumption {
            at: ask.at.clone(),
            what: ask.what.clone(),
            figure: None,
            words: vec!["over-its-spread".to_owned()],
            said_unknown: false,
            source: source.clone(),
        });
        let stream = self.stream(ask);
        let likely = stream.middle.unwrap_or(0.5);
        let id =
            self.spread(ask, likely, stream.each(|u| u), Figure::ShareRatio, Provenance::Default);
        self.by_path.insert(ask.at.clone(), id);
        id
    }

    /// A quantity that counts only where it is written; there is no default.
    pub fn where_written<Q: Quantity>(
        &mut self,
        ask: &Ask<'_>,
        given: &Given<Q>,
        figure: fn(Triple) -> Figure,
    ) -> Option<InputId> {
        if let Some(&known) = self.by_path.get(&ask.at) {
            return Some(known);
        }
        let stated = given.as_ref().filter(|stated| !stated.value.is_unknown())?;
        let id = self.written(ask, &stated.value, stated.origin, figure);
        self.by_path.insert(ask.at.clone(), id);
        Some(id)
    }

    /// A quantity that is written, or taken from a default.
    pub fn quantity<Q: Quantity>(
        &mut self,
        ask: &Ask<'_>,
        given: &Given<Q>,
        figure: fn(Triple) -> Figure,
        fallback: &Fallback,
    ) -> InputId {
        if let Some(&known) = self.by_path.get(&ask.at) {
            return known;
        }
        let written = given.as_ref().filter(|stated| !stated.value.is_unknown());
        let id = match written {
            Some(stated) => self.written(ask, &stated.value, stated.origin, figure),
            None => self.assumed(ask, given.is_some(), figure, fallback),
        };
        self.by_path.insert(ask.at.clone(), id);
        id
    }

    /// A count that is written, or taken from a default.
    pub fn count(&mut self, ask: &Ask<'_>, given: &GivenCount, fallback: &Fallback) -> InputId {
        if let Some(&known) = self.by_path.get(&ask.at) {
            return known;
        }
        let id = match given.as_ref().map(|stated| (&stated.value, stated.origin)) {
            Some((Uncertain::Exact(n), origin)) => {
                self.spread(ask, f64::from(*n), None, Figure::Count, provenance(origin))
            }
            Some((Uncertain::Range { low, high }, origin)) => {
                self.whole_numbers(ask, f64::from(*low), f64::from(*high), provenance(origin))
            }
            Some((Uncertain::About { likely, spread }, origin)) => self.whole_numbers(
                ask,
                f64::from(likely.saturating_sub(*spread)),
                f64::from(likely.saturating_add(*spread)),
                provenance(origin),
            ),
            Some((Uncertain::Unknown, _)) | None => {
                self.assumptions.push(Assumption {
                    at: ask.at.clone(),
                    what: ask.what.clone(),
                    figure: Some(Figure::Count(fallback.triple())),
                    words: Vec::new(),
                    said_unknown: given.is_some(),
                    source: fallback.source.clone(),
                });
                self.whole_numbers(ask, fallback.low, fallback.high, Provenance::Default)
            }
        };
        self.by_path.insert(ask.at.clone(), id);
        id
    }

    /// A category that is written, or one of the options of a default: alike in the draws, the first at the likely values.
    pub fn category<C: Category>(
        &mut self,
        ask: &Ask<'_>,
        given: &GivenChoice<C>,
        fallback: &[C],
        source: &Source,
    ) -> CategoryInput<C> {
        let words = |options: &[C]| options.iter().map(|c| c.word().to_owned()).collect::<Vec<_>>();
        self.options(ask, given, fallback, source, words)
    }

    /// As [`Inputs::category`], for things that are not closed lists (sections).
    pub fn options<C: Copy>(
        &mut self,
        ask: &Ask<'_>,
        given: &GivenChoice<C>,
        fallback: &[C],
        source: &Source,
        words: impl Fn(&[C]) -> Vec<String>,
    ) -> CategoryInput<C> {
        let (options, provenance) = match given.as_ref().map(|s| (&s.value, provenance(s.origin))) {
            Some((Choice::Known(one), from)) => (vec![*one], from),
            Some((Choice::OneOf(several), from)) if !several.is_empty() => (several.clone(), from),
            _ => {
                if !self.by_path.contains_key(&ask.at) {
                    self.assumptions.push(Assumption {
                        at: ask.at.clone(),
                        what: ask.what.clone(),
                        figure: None,
                        words: words(fallback),
                        said_unknown: given.is_some(),
                        source: source.clone(),
                    });
                }
                (fallback.to_vec(), Provenance::Default)
            }
        };
        let id = if let Some(&known) = self.by_path.get(&ask.at) {
            known
        } else {
            let last = (options.len().max(1) - 1) as f64;
            let (likely, samples) = if options.len() > 1 {
                let scale = options.len() as f64;
                let stream = self.stream(ask);
                let option = |u: f64| (u * scale).floor().min(last);
                (stream.mostly(option, options.len()), stream.each(option))
            } else {
                (0.0, None)
            };
            let id = self.spread(ask, likely, samples, Figure::Count, provenance);
            self.by_path.insert(ask.at.clone(), id);
            id
        };
        CategoryInput { id, options }
    }

    /// A yes/no; the default is the list of answers that are possible, the likely one first.
    pub(crate) fn yes_no(
        &mut self,
        ask: &Ask<'_>,
        given: &GivenYesNo,
        fallback: &[bool],
        source: &Source,
    ) -> CategoryInput<bool> {
        let choice = given.as_ref().map(|stated| {
            let value = match stated.value {
                YesNo::Yes => Choice::Known(true),
                YesNo::No => Choice::Known(false),
                YesNo::Unknown => Choice::Unknown,
            };
            dewpath_units::Stated {
                value,
                origin: stated.origin,
                date: stated.date.clone(),
                photo: stated.photo.clone(),
                note: stated.note.clone(),
            }
        });
        self.options(ask, &choice, fallback, source, |options| {
            options.iter().map(|yes| if *yes { "yes" } else { "no" }.to_owned()).collect()
        })
    }

    fn written<Q: Quantity>(
        &mut self,
        ask: &Ask<'_>,
        value: &Uncertain<Q>,
        origin: Origin,
        figure: fn(Triple) -> Figure,
    ) -> InputId {
        let at = |share| value.quantile(share).map_or(f64::NAN, Quantity::si);
        let (likely, samples) = match value {
            Uncertain::Exact(_) | Uncertain::Unknown => (at(0.5), None),
            Uncertain::Range { .. } | Uncertain::About { .. } => {
                let stream = self.stream(ask);
                (at(stream.middle.unwrap_or(0.5)), stream.each(at))
            }
        };
        self.spread(ask, likely, samples, figure, provenance(origin))
    }

    fn assumed(
        &mut self,
        ask: &Ask<'_>,
        said_unknown: bool,
        figure: fn(Triple) -> Figure,
        fallback: &Fallback,
    ) -> InputId {
        let Fallback { low, high, likely, source } = fallback;
        let middle = likely.unwrap_or(0.5 * (low + high));
        self.assumptions.push(Assumption {
            at: ask.at.clone(),
            what: ask.what.clone(),
            figure: Some(figure(fallback.triple())),
            words: Vec::new(),
            said_unknown,
            source: source.clone(),
        });
        let (likely, samples) = if high > low {
            let stream = self.stream(ask);
            let likely = stream.middle.map_or(middle, |share| fallback.at(share));
            (likely, stream.each(|u| fallback.at(u)))
        } else {
            (middle, None)
        };
        self.spread(ask, likely, samples, figure, Provenance::Default)
    }

    fn whole_numbers(&mut self, ask: &Ask<'_>, low: f64, high: f64, from: Provenance) -> InputId {
        let span = high - low + 1.0;
        let at = |u: f64| (low + (u * span).floor()).min(high);
        let middle = (0.5 * (low + high)).floor();
        let (likely, samples) = if high > low {
            let stream = self.stream(ask);
            (stream.middle.map_or(middle, at), stream.each(at))
        } else {
            (middle, None)
        };
        self.spread(ask, likely, samples, Figure::Count, from)
    }

    fn spread(
        &mut self,
        ask: &Ask<'_>,
        likely: f64,
        samples: Option<Vec<f64>>,
        figure: fn(Triple) -> Figure,
        provenance: Provenance,
    ) -> InputId {
        self.push(Input {
            at: ask.at.clone(),
            what: ask.what.clone(),
            minutes: ask.minutes,
            likely,
            samples,
            figure,
            provenance,
        })
    }

    fn stream(&self, ask: &Ask<'_>) -> Drawn {
        let Stream(name) = ask.stream.unwrap_or(Stream(&ask.at));
        let Some(weighted) = &self.weighted else {
            // Without draws no name is hashed: a hand that drags waits for this.
            let units = if self.draws > 0 { unit_draws(name, self.draws) } else { Vec::new() };
            return Drawn { units, middle: None, all: Vec::new() };
        };
        let all: Vec<f64> = weighted.of(&unit_draws(name, weighted.drawn())).collect();
        let middle = all.iter().sum::<f64>() / all.len().max(1) as f64;
        let units = all.iter().copied().cycle().take(self.draws as usize).collect();
        Drawn { units, middle: Some(middle), all }
    }

    fn push(&mut self, input: Input) -> InputId {
        self.list.push(input);
        InputId(self.list.len() - 1)
    }

    /// Value of an input in a draw.
    #[inline]
    pub fn value(&self, id: InputId, draw: Draw) -> f64 {
        let input = &self.list[id.0];
        match (draw, &input.samples) {
            (Draw::At(i), Some(samples)) => samples[i],
            _ => input.likely,
        }
    }

    /// Low, likely and high of an input.
    pub fn triple(&self, id: InputId) -> Triple {
        let input = &self.list[id.0];
        let drawn = input.samples.as_deref().and_then(Triple::of_draws);
        drawn.unwrap_or_else(|| Triple::exact(input.likely))
    }

    /// The input as it stands in a working.
    pub fn in_working(&self, symbol: impl Into<Text>, id: InputId) -> WorkingInput {
        let input = &self.list[id.0];
        WorkingInput {
            symbol: symbol.into(),
            what: input.what.clone(),
            figure: (input.figure)(self.triple(id)),
            from: input.provenance,
        }
    }

    /// Inputs that have a spread: path, what, minutes and draws.
    pub fn uncertain(&self) -> impl Iterator<Item = (&str, &Message, f64, &[f64])> {
        self.list.iter().filter_map(|input| {
            let samples = input.samples.as_deref()?;
            Some((input.at.as_str(), &input.what, input.minutes, samples))
        })
    }
}

impl<C: Copy> CategoryInput<C> {
    /// The member in a draw.
    #[inline]
    pub fn value(&self, inputs: &Inputs, draw: Draw) -> C {
        self.options[inputs.value(self.id, draw) as usize]
    }

    /// Where the category comes from, and how it is known.
    pub fn id(&self) -> InputId {
        self.id
    }

    /// Every member that is possible.
    pub fn options(&self) -> &[C] {
        &self.options
    }

    /// The member, when only one is possible.
    pub fn known(&self) -> Option<C> {
        match self.options.as_slice() {
            [one] => Some(*one),
            _ => None,
        }
    }
}

fn provenance(origin: Origin) -> Provenance {
    match origin {
        Origin::Measured => Provenance::Measured,
        Origin::Label => Provenance::Label,
        Origin::Assumed => Provenance::Assumed,
        Origin::RuleBook => Provenance::RuleBook,
        Origin::Default => Provenance::Default,
        Origin::Written => Provenance::Written,
    }
}

impl<C: Copy> CategoryInput<C> {
    /// A category that is beyond doubt.
    pub fn settled(inputs: &mut Inputs, member: C) -> Self {
        Self { id: inputs.constant(0.0, Figure::Count), options: vec![member] }
    }
}
