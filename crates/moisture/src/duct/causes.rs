//! Where a drip at a fan comes from: look-alikes told apart by when it comes, what is wet, and whether a surface lies
//! below a dew point.
//!
//! A drip from the grille looks the same whether a roof leaks, shower vapour condenses in a cold duct, frost of past weeks melts
//! there, room air creeps round the housing into the attic, or humid outdoor air comes back into a cooled duct. Each piece of
//! evidence speaks for some of them and against others by a weight (common practice, no source; the weights are judgement). What
//! is unknown counts for nothing. Two things count most: a temperature above the dew point, where water cannot settle, and a duct
//! that was seen to be wet outside, which no vapour inside it explains.
//!
//! ```
//! use dewpath_moisture::duct::causes::{Cause, Evidence, FanUse, Question, Season, WetPlace, look_next, rank};
//!
//! // January, and the duct is wet inside. What to ask next: does it go with the use of the fan?
//! let seen = Evidence {
//!     season: Some(Season::Cold),
//!     wet: Some(WetPlace::InsideDuct),
//!     ..Evidence::default()
//! };
//! assert_eq!(look_next(&seen), Some(Question::FanUse));
//! let answered = Evidence { fan_use: Some(FanUse::DuringOrAfter), ..seen };
//! assert_eq!(rank(&answered)[0].cause, Cause::ShowerVapour);
//! assert!(rank(&Evidence::default()).is_empty()); // nothing known, nothing told
//! ```

use dewpath_units::{Temperature, sort};

/// What a drip can come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// Rain or melting snow through the roof or its flashing.
    RoofLeak,
    /// Vapour of a shower condensing inside a cold duct while the fan runs.
    ShowerVapour,
    /// Room vapour rising into the idle duct and condensing there.
    DriftingVapour,
    /// Room air leaking round the housing or through joints onto cold metal outside the duct.
    HousingLeak,
    /// Humid outdoor air coming back past the flap into a cooled duct.
    HumidBackflow,
    /// Humid air around a cold duct settling on its outside.
    OutsideSweating,
    /// Frost of past cold days melting.
    MeltingFrost,
}

impl Cause {
    /// All causes, in the order that breaks ties.
    pub const ALL: [Self; 7] = [
        Self::RoofLeak,
        Self::ShowerVapour,
        Self::DriftingVapour,
        Self::HousingLeak,
        Self::HumidBackflow,
        Self::OutsideSweating,
        Self::MeltingFrost,
    ];
}

/// Weather while it drips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Season {
    /// Around or below freezing outdoors.
    Cold,
    /// Neither cold nor hot.
    Mild,
    /// Warm and humid outdoors.
    Warm,
}

/// How the drip goes with the use of the fan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FanUse {
    /// During a shower or within an hour of it.
    DuringOrAfter,
    /// After the fan was idle for hours, or it never ran.
    Idle,
}

/// What is wet, as found by looking.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WetPlace {
    /// The inside of the duct.
    InsideDuct,
    /// The outside of the duct or its jacket.
    OutsideDuct,
    /// The housing and the ceiling board round it.
    AroundHousing,
    /// The roof's underside or the place where the duct passes it.
    RoofDeck,
}

/// What is known about a drip; everything may be unknown.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Evidence {
    /// Weather while it drips.
    pub season: Option<Season>,
    /// Whether it comes on the first mild days after frost.
    pub comes_with_thaw: Option<bool>,
    /// Whether it comes only with rain or in the hours after it.
    pub comes_with_rain: Option<bool>,
    /// How it goes with the use of the fan.
    pub fan_use: Option<FanUse>,
    /// What is wet.
    pub wet: Option<WetPlace>,
    /// Whether the flap lets air pass when it should be shut.
    pub flap_leaks: Option<bool>,
    /// Whether the housing is sealed to the ceiling.
    pub housing_sealed: Option<bool>,
    /// Coldest inner wall of the duct, measured or computed.
    pub inner_wall: Option<Temperature>,
    /// Coldest outer surface of the duct, measured or computed.
    pub outer_surface: Option<Temperature>,
    /// Dew point of the room's air while the shower runs.
    pub room_dew_point: Option<Temperature>,
    /// Dew point outdoors.
    pub outdoor_dew_point: Option<Temperature>,
    /// Dew point of the air around the duct.
    pub around_dew_point: Option<Temperature>,
}

/// One thing that was seen or follows from what was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clue {
    /// Cold weather.
    Cold,
    /// Mild weather.
    Mild,
    /// Warm and humid weather.
    Warm,
    /// It comes with a thaw.
    Thaw,
    /// It does not wait for a thaw.
    NoThaw,
    /// It comes with rain.
    Rain,
    /// It comes without rain.
    NoRain,
    /// It comes while the fan is used.
    InUse,
    /// It comes while the fan is idle.
    Idle,
    /// The duct is wet inside.
    WetInside,
    /// The duct is wet outside.
    WetOutside,
    /// The housing is wet around.
    WetHousing,
    /// The roof is wet underneath.
    WetRoof,
    /// The flap leaks.
    FlapLeaks,
    /// The flap is tight.
    FlapTight,
    /// The housing is open to the attic.
    HousingOpen,
    /// The housing is sealed.
    HousingSealed,
    /// The inner wall lies below the room's dew point.
    InnerBelowRoomDew,
    /// The inner wall lies at the room's dew point or above.
    InnerAboveRoomDew,
    /// Frost settles on the inner wall: it lies at freezing or below, and below the room's dew point.
    InnerFrosts,
    /// No frost settles on the inner wall.
    InnerFrostless,
    /// The inner wall lies below the outdoor dew point.
    InnerBelowOutdoorDew,
    /// The inner wall lies at the outdoor dew point or above.
    InnerAboveOutdoorDew,
    /// The outer surface lies below the dew point around.
    OuterBelowDew,
    /// The outer surface lies at the dew point around or above.
    OuterAboveDew,
}

/// A question that a look on site answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// What the weather was like.
    Season,
    /// Whether it came with a thaw.
    Thaw,
    /// Whether it came with rain.
    Rain,
    /// How it goes with the use of the fan.
    FanUse,
    /// What is wet.
    WetPlace,
    /// Whether the flap shuts.
    Flap,
    /// Whether the housing is sealed.
    Housing,
    /// The inner wall's temperature and the room's dew point.
    InnerWallAndRoom,
    /// The inner wall's temperature and the outdoor dew point.
    InnerWallAndOutdoors,
    /// The outer surface's temperature and the dew point around it.
    OuterSurface,
}

/// The questions with the clues that answer them, the cheapest look first.
const QUESTIONS: [(Question, &[Clue]); 10] = [
    (Question::Season, &[Clue::Cold, Clue::Mild, Clue::Warm]),
    (Question::Rain, &[Clue::Rain, Clue::NoRain]),
    (Question::Thaw, &[Clue::Thaw, Clue::NoThaw]),
    (Question::FanUse, &[Clue::InUse, Clue::Idle]),
    (Question::WetPlace, &[Clue::WetInside, Clue::WetOutside, Clue::WetHousing, Clue::WetRoof]),
    (Question::Flap, &[Clue::FlapLeaks, Clue::FlapTight]),
    (Question::Housing, &[Clue::HousingOpen, Clue::HousingSealed]),
    (
        Question::InnerWallAndRoom,
        &[
            Clue::InnerBelowRoomDew,
            Clue::InnerAboveRoomDew,
            Clue::InnerFrosts,
            Clue::InnerFrostless,
        ],
    ),
    (Question::InnerWallAndOutdoors, &[Clue::InnerBelowOutdoorDew, Clue::InnerAboveOutdoorDew]),
    (Question::OuterSurface, &[Clue::OuterBelowDew, Clue::OuterAboveDew]),
];

/// How a clue speaks for a cause, or against it below zero. Common practice, no source; judgement.
fn weight(cause: Cause, clue: Clue) -> i32 {
    let weights: &[(Clue, i32)] = match cause {
        Cause::RoofLeak => &[
            (Clue::Rain, 4),
            (Clue::NoRain, -4),
            (Clue::WetRoof, 2),
            (Clue::WetInside, -1),
            (Clue::WetOutside, 1),
            (Clue::Thaw, 1),
            (Clue::InUse, -2),
        ],
        Cause::ShowerVapour => &[
            (Clue::Cold, 2),
            (Clue::Warm, -2),
            (Clue::Thaw, -2),
            (Clue::Rain, -2),
            (Clue::NoRain, 1),
            (Clue::InUse, 3),
            (Clue::Idle, -2),
            (Clue::WetInside, 3),
            (Clue::WetOutside, -6),
            (Clue::WetRoof, -2),
            (Clue::InnerBelowRoomDew, 3),
            (Clue::InnerAboveRoomDew, -6),
        ],
        Cause::DriftingVapour => &[
            (Clue::Cold, 2),
            (Clue::Warm, -2),
            (Clue::Thaw, -2),
            (Clue::Rain, -2),
            (Clue::NoRain, 1),
            (Clue::InUse, -3),
            (Clue::Idle, 3),
            (Clue::WetInside, 3),
            (Clue::WetOutside, -6),
            (Clue::WetRoof, -2),
            (Clue::FlapLeaks, 1),
            (Clue::FlapTight, -1),
            (Clue::InnerBelowRoomDew, 2),
            (Clue::InnerAboveRoomDew, -6),
        ],
        Cause::HousingLeak => &[
            (Clue::Cold, 2),
            (Clue::Warm, -4),
            (Clue::Thaw, 1),
            (Clue::Rain, -2),
            (Clue::NoRain, 1),
            (Clue::Idle, 1),
            (Clue::WetInside, -2),
            (Clue::WetOutside, 3),
            (Clue::WetHousing, 3),
            (Clue::WetRoof, 1),
            (Clue::HousingOpen, 2),
            (Clue::HousingSealed, -4),
        ],
        Cause::HumidBackflow => &[
            (Clue::Cold, -3),
            (Clue::Warm, 2),
            (Clue::NoRain, 1),
            (Clue::InUse, -1),
            (Clue::Idle, 2),
            (Clue::WetInside, 3),
            (Clue::WetOutside, -6),
            (Clue::FlapLeaks, 2),
            (Clue::FlapTight, -3),
            (Clue::InnerBelowOutdoorDew, 3),
            (Clue::InnerAboveOutdoorDew, -6),
        ],
        Cause::OutsideSweating => &[
            (Clue::Cold, -2),
            (Clue::Warm, 2),
            (Clue::NoRain, 1),
            (Clue::WetInside, -3),
            (Clue::WetOutside, 3),
            (Clue::OuterBelowDew, 3),
            (Clue::OuterAboveDew, -6),
        ],
        Cause::MeltingFrost => &[
            (Clue::Cold, 1),
            (Clue::Warm, -4),
            (Clue::Thaw, 5),
            (Clue::NoThaw, -4),
            (Clue::Rain, -1),
            (Clue::NoRain, 1),
            (Clue::Idle, 1),
            (Clue::WetInside, 1),
            (Clue::WetOutside, -3),
            (Clue::WetRoof, 1),
            (Clue::InnerFrosts, 2),
            (Clue::InnerFrostless, -4),
        ],
    };
    weights.iter().find(|(of, _)| *of == clue).map_or(0, |(_, weight)| *weight)
}

/// A cause with what speaks for it and against it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suspect {
    /// The cause.
    pub cause: Cause,
    /// Sum of the weights; above zero.
    pub points: i32,
    /// Clues that speak for it, each with its weight, above zero.
    pub speaks_for: Vec<(Clue, i32)>,
    /// Clues that speak against it, each with its weight, below zero.
    pub speaks_against: Vec<(Clue, i32)>,
}

/// Whether a surface lies below a dew point, and by how much, K: positive where water settles. `None` when either
/// is unknown or not a number.
pub fn below_dew_point_k(
    surface: Option<Temperature>,
    dew_point: Option<Temperature>,
) -> Option<f64> {
    let margin = dew_point?.k() - surface?.k();
    margin.is_finite().then_some(margin)
}

/// What the evidence tells, in the order of [`Question`].
pub fn clues(seen: &Evidence) -> Vec<Clue> {
    let either = |answer: Option<bool>, yes, no| answer.map(|is| if is { yes } else { no });
    let wets =
        |surface, dew_point| below_dew_point_k(surface, dew_point).map(|margin| margin > 0.0);
    let below = |surface, dew_point, yes, no| either(wets(surface, dew_point), yes, no);
    let frosts = |surface: Option<Temperature>, dew_point| {
        let is_freezing = surface.is_some_and(|t| t.c() <= 0.0);
        wets(surface, dew_point).map(|settles| settles && is_freezing)
    };
    [
        seen.season.map(|season| match season {
            Season::Cold => Clue::Cold,
            Season::Mild => Clue::Mild,
            Season::Warm => Clue::Warm,
        }),
        either(seen.comes_with_rain, Clue::Rain, Clue::NoRain),
        either(seen.comes_with_thaw, Clue::Thaw, Clue::NoThaw),
        seen.fan_use.map(|usage| match usage {
            FanUse::DuringOrAfter => Clue::InUse,
            FanUse::Idle => Clue::Idle,
        }),
        seen.wet.map(|place| match place {
            WetPlace::InsideDuct => Clue::WetInside,
            WetPlace::OutsideDuct => Clue::WetOutside,
            WetPlace::AroundHousing => Clue::WetHousing,
            WetPlace::RoofDeck => Clue::WetRoof,
        }),
        either(seen.flap_leaks, Clue::FlapLeaks, Clue::FlapTight),
        either(seen.housing_sealed, Clue::HousingSealed, Clue::HousingOpen),
        below(
            seen.inner_wall,
            seen.room_dew_point,
            Clue::InnerBelowRoomDew,
            Clue::InnerAboveRoomDew,
        ),
        either(
            frosts(seen.inner_wall, seen.room_dew_point),
            Clue::InnerFrosts,
            Clue::InnerFrostless,
        ),
        below(
            seen.inner_wall,
            seen.outdoor_dew_point,
            Clue::InnerBelowOutdoorDew,
            Clue::InnerAboveOutdoorDew,
        ),
        below(seen.outer_surface, seen.around_dew_point, Clue::OuterBelowDew, Clue::OuterAboveDew),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Causes that the evidence speaks for, the likeliest first; ties in the order of [`Cause::ALL`]. Empty when nothing speaks
/// for any. Several may be true at once.
pub fn rank(seen: &Evidence) -> Vec<Suspect> {
    let clues = clues(seen);
    let mut suspects: Vec<_> = Cause::ALL
        .into_iter()
        .map(|cause| {
            let weighed = clues.iter().map(|&clue| (clue, weight(cause, clue)));
            let (speaks_for, others): (Vec<_>, Vec<_>) =
                weighed.partition(|(_, weight)| *weight > 0);
            let speaks_against: Vec<_> =
                others.into_iter().filter(|(_, weight)| *weight < 0).collect();
            let points = speaks_for.iter().chain(&speaks_against).map(|(_, weight)| weight).sum();
            Suspect { cause, points, speaks_for, speaks_against }
        })
        .filter(|suspect| suspect.points > 0)
        .collect();
    // Stable: ties keep the order of the causes.
    sort::by_key(&mut suspects, |suspect| -suspect.points);
    suspects
}

/// The open question whose answer can part the two likeliest causes most; the cheapest look of equals. `None` when
/// fewer than two causes are left or no open question parts them. A surface that was seen wet needs no thermometer.
pub fn look_next(seen: &Evidence) -> Option<Question> {
    let suspects = rank(seen);
    let [first, second, ..] = suspects.as_slice() else { return None };
    let known = clues(seen);
    let mut best: Option<(Question, i32)> = None;
    let is_seen =
        |question| question == Question::OuterSurface && seen.wet == Some(WetPlace::OutsideDuct);
    for (question, answers) in QUESTIONS {
        if is_seen(question) || answers.iter().any(|clue| known.contains(clue)) {
            continue;
        }
        let parts = answers
            .iter()
            .map(|&clue| (weight(first.cause, clue) - weight(second.cause, clue)).abs())
            .max()
            .unwrap_or(0);
        if parts > best.map_or(0, |(_, most)| most) {
            best = Some((question, parts));
        }
    }
    best.map(|(question, _)| question)
}
