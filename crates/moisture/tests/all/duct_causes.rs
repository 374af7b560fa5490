//! Look-alikes of a drip in invented scenes. What counts as the right cause is common practice, no source.

use dewpath_moisture::duct::causes::{
    Cause, Clue, Evidence, FanUse, Question, Season, WetPlace, below_dew_point_k, look_next, rank,
};
use dewpath_units::Temperature;
use proptest::prelude::*;

fn c(t: f64) -> Temperature {
    Temperature::from_c(t)
}

fn first(seen: &Evidence) -> Cause {
    rank(seen)[0].cause
}

const NOTHING: Evidence = Evidence {
    season: None,
    comes_with_thaw: None,
    comes_with_rain: None,
    fan_use: None,
    wet: None,
    flap_leaks: None,
    housing_sealed: None,
    inner_wall: None,
    outer_surface: None,
    room_dew_point: None,
    outdoor_dew_point: None,
    around_dew_point: None,
};

#[test]
fn seven_scenes_have_seven_causes() {
    let scenes = [
        (
            "a stain that grows in each storm, dry in frost",
            Evidence { comes_with_rain: Some(true), wet: Some(WetPlace::RoofDeck), ..NOTHING },
            Cause::RoofLeak,
        ),
        (
            "drips after showers in deep frost though the duct is wrapped",
            Evidence {
                season: Some(Season::Cold),
                comes_with_rain: Some(false),
                comes_with_thaw: Some(false),
                fan_use: Some(FanUse::DuringOrAfter),
                inner_wall: Some(c(4.0)),
                room_dew_point: Some(c(23.0)),
                ..NOTHING
            },
            Cause::ShowerVapour,
        ),
        (
            "the guest bath's fan is never used and drips from its grille",
            Evidence {
                season: Some(Season::Cold),
                comes_with_rain: Some(false),
                comes_with_thaw: Some(false),
                fan_use: Some(FanUse::Idle),
                wet: Some(WetPlace::InsideDuct),
                flap_leaks: Some(true),
                ..NOTHING
            },
            Cause::DriftingVapour,
        ),
        (
            "ice on the outside of duct and housing before the fan ever ran",
            Evidence {
                season: Some(Season::Cold),
                fan_use: Some(FanUse::Idle),
                wet: Some(WetPlace::OutsideDuct),
                housing_sealed: Some(false),
                ..NOTHING
            },
            Cause::HousingLeak,
        ),
        (
            "the air-conditioned bath drips on muggy mornings from a flap that stands open",
            Evidence {
                season: Some(Season::Warm),
                comes_with_rain: Some(false),
                fan_use: Some(FanUse::Idle),
                wet: Some(WetPlace::InsideDuct),
                flap_leaks: Some(true),
                inner_wall: Some(c(19.0)),
                outdoor_dew_point: Some(c(24.5)),
                ..NOTHING
            },
            Cause::HumidBackflow,
        ),
        (
            "the jacket of a bare duct in a humid crawl space is wet to the touch in July",
            Evidence {
                season: Some(Season::Warm),
                wet: Some(WetPlace::OutsideDuct),
                outer_surface: Some(c(21.0)),
                around_dew_point: Some(c(25.0)),
                ..NOTHING
            },
            Cause::OutsideSweating,
        ),
        (
            "it runs on the first mild day after two weeks of deep cold, no rain",
            Evidence {
                season: Some(Season::Cold),
                comes_with_thaw: Some(true),
                comes_with_rain: Some(false),
                ..NOTHING
            },
            Cause::MeltingFrost,
        ),
    ];
    for (scene, seen, cause) in scenes {
        assert_eq!(first(&seen), cause, "{scene}: {:?}", rank(&seen));
    }
}

/// Water cannot settle on a surface above the dew point, whatever else points there.
#[test]
fn a_surface_above_the_dew_point_clears_a_suspect() {
    let seen = Evidence {
        season: Some(Season::Warm),
        wet: Some(WetPlace::OutsideDuct),
        outer_surface: Some(c(28.0)),
        around_dew_point: Some(c(22.0)),
        ..NOTHING
    };
    assert!(rank(&seen).iter().all(|suspect| suspect.cause != Cause::OutsideSweating));
    assert_eq!(below_dew_point_k(Some(c(20.0)), Some(c(24.5))), Some(4.5));
    assert_eq!(below_dew_point_k(Some(c(20.0)), None), None);
    assert_eq!(below_dew_point_k(Some(c(f64::NAN)), Some(c(20.0))), None);
}

#[test]
fn what_is_unknown_counts_for_nothing() {
    assert!(rank(&NOTHING).is_empty());
    assert_eq!(look_next(&NOTHING), None);
    // Half of a pair is no clue.
    assert!(rank(&Evidence { inner_wall: Some(c(-5.0)), ..NOTHING }).is_empty());
    let suspects = rank(&Evidence { season: Some(Season::Cold), ..NOTHING });
    assert!(
        suspects.iter().all(|suspect| suspect
            .speaks_for
            .iter()
            .map(|(clue, _)| *clue)
            .eq([Clue::Cold]))
    );
}

#[test]
fn the_next_look_parts_the_two_likeliest() {
    let seen = Evidence { season: Some(Season::Cold), wet: Some(WetPlace::InsideDuct), ..NOTHING };
    assert_eq!(first(&seen), Cause::ShowerVapour);
    assert_eq!(look_next(&seen), Some(Question::FanUse));
    let answered = Evidence { fan_use: Some(FanUse::Idle), ..seen };
    assert_eq!(first(&answered), Cause::DriftingVapour);
    assert_ne!(look_next(&answered), Some(Question::FanUse));
}

/// What melted and what runs straight out of the air look alike in January: the first mild day parts them.
#[test]
fn a_thaw_speaks_for_frost() {
    let january = Evidence {
        season: Some(Season::Cold),
        inner_wall: Some(c(-8.0)),
        room_dew_point: Some(c(20.0)),
        ..NOTHING
    };
    let thaw = Evidence { comes_with_thaw: Some(true), ..january };
    assert_eq!(first(&thaw), Cause::MeltingFrost);
    // The first mild day often rains.
    assert_eq!(first(&Evidence { comes_with_rain: Some(true), ..thaw }), Cause::MeltingFrost);
    let in_frost = Evidence { comes_with_thaw: Some(false), ..january };
    assert_eq!(first(&in_frost), Cause::ShowerVapour);
    assert!(rank(&in_frost).iter().all(|suspect| suspect.cause != Cause::MeltingFrost));
    // A wall above freezing holds no frost.
    assert_eq!(first(&Evidence { inner_wall: Some(c(4.0)), ..thaw }), Cause::ShowerVapour);
    assert_eq!(
        first(&Evidence { season: january.season, comes_with_rain: Some(true), ..NOTHING }),
        Cause::RoofLeak
    );
}

/// A duct that is wet outside is not wet from the vapour inside, in summer as in winter.
#[test]
fn wet_outside_outranks_vapour_inside() {
    let july = Evidence {
        season: Some(Season::Warm),
        comes_with_rain: Some(false),
        wet: Some(WetPlace::OutsideDuct),
        inner_wall: Some(c(21.0)),
        outdoor_dew_point: Some(c(25.0)),
        ..NOTHING
    };
    assert_eq!(first(&july), Cause::OutsideSweating);
    let january = Evidence {
        season: Some(Season::Cold),
        comes_with_rain: Some(false),
        wet: Some(WetPlace::OutsideDuct),
        inner_wall: Some(c(-8.0)),
        room_dew_point: Some(c(20.0)),
        ..NOTHING
    };
    assert_eq!(first(&january), Cause::HousingLeak);
}

#[test]
fn weights_stand_beside_their_clues() {
    let seen = Evidence { season: Some(Season::Cold), comes_with_rain: Some(true), ..NOTHING };
    for suspect in rank(&seen) {
        let weights = suspect.speaks_for.iter().chain(&suspect.speaks_against);
        assert_eq!(weights.map(|(_, weight)| weight).sum::<i32>(), suspect.points);
        assert!(suspect.speaks_for.iter().all(|(_, weight)| *weight > 0));
        assert!(suspect.speaks_against.iter().all(|(_, weight)| *weight < 0));
    }
}

fn temperatures() -> impl Strategy<Value = Option<Temperature>> {
    proptest::option::of(any::<f64>().prop_map(Temperature::from_c))
}

proptest! {
    #[test]
    fn any_evidence_is_ranked_in_order(
        rain in any::<Option<bool>>(), thaw in any::<Option<bool>>(), flap in any::<Option<bool>>(),
        sealed in any::<Option<bool>>(), t in proptest::array::uniform5(temperatures()),
    ) {
        let seen = Evidence {
            comes_with_rain: rain, comes_with_thaw: thaw, flap_leaks: flap, housing_sealed: sealed,
            inner_wall: t[0], outer_surface: t[1], room_dew_point: t[2], outdoor_dew_point: t[3],
            around_dew_point: t[4], ..NOTHING
        };
        let suspects = rank(&seen);
        prop_assert!(suspects.windows(2).all(|pair| pair[0].points >= pair[1].points));
        prop_assert!(suspects.iter().all(|s| s.points > 0 && !s.speaks_for.is_empty()));
        look_next(&seen);
    }
}
