//! Members and bays of a zone at exact places.

use dewpath_layout::framing::{Beside, Double, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block};
use proptest::prelude::*;

const INCH: f64 = 0.0254;

fn zone(extent_in: f64, spacing_in: f64, first_in: f64) -> Zone {
    Zone {
        id: "joists".to_owned(),
        kind: MemberKind::Sawn,
        along: Axis::X,
        space: Block {
            min: [1.0, 2.0, 2.4],
            max: [4.6, 2.0 + extent_in * INCH, 2.4 + 9.25 * INCH],
        },
        width_m: 1.5 * INCH,
        spacing_m: spacing_in * INCH,
        first_m: first_in * INCH,
    }
}

fn clear_in(zone: &Zone) -> Vec<f64> {
    zone.bays(0).expect("sound framing").iter().map(|b| b.space.size(Axis::Y) / INCH).collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// Lumber 1-1/2 in thick at 16 in on centre leaves 14-1/2 in clear: thickness of nominal 2 in lumber, PS 20 American
/// Softwood Lumber Standard; 24 in leaves 22-1/2 in.
#[test]
fn bays_of_common_spacings() {
    let bays = clear_in(&zone(96.0, 16.0, 0.75));
    assert_eq!(bays.len(), 6);
    assert!(bays[..5].iter().all(|clear| near(*clear, 14.5)), "{bays:?}");
    // The last one is what is left: 96 - (80.75 + 0.75).
    assert!(near(bays[5], 14.5), "{bays:?}");
    assert!(clear_in(&zone(96.0, 24.0, 0.75))[..3].iter().all(|clear| near(*clear, 22.5)));
}

#[test]
fn last_bay_is_narrow() {
    let bays = clear_in(&zone(90.0, 16.0, 10.0));
    // From the edge to the first: 10 - 0.75. Last: 90 - (10 + 80 is the sixth member, it stands half outside).
    assert!(near(bays[0], 9.25), "{bays:?}");
    assert_eq!(bays.len(), 6);
    let members = zone(90.0, 16.0, 10.0).members().unwrap();
    assert_eq!(members.len(), 6);
    assert!(near(members[5].solid.size(Axis::Y) / INCH, 0.75), "clipped at the edge");
    let bays = clear_in(&zone(88.0, 16.0, 10.0));
    assert!(near(bays[5], 88.0 - 74.75), "{bays:?}");
}

#[test]
fn names_and_spans() {
    let zone = zone(96.0, 16.0, 0.75);
    let (members, bays) = (zone.members().unwrap(), zone.bays(3).unwrap());
    assert_eq!((members[0].id.as_str(), bays[1].id.as_str()), ("joists 1", "joists 2"));
    assert_eq!(bays[1].zone, 3);
    assert!(near(members[0].span[0], 1.0) && near(members[0].span[1], 4.6));
    assert!(near(members[0].depth_m() / INCH, 9.25));
}

#[test]
fn a_double_narrows_one_bay() {
    let zone = zone(96.0, 16.0, 0.75);
    let members = zone.members_with(&[Double { number: 3, side: Beside::After }]).unwrap();
    assert_eq!(members[2].kind, MemberKind::Doubled);
    let bays = zone.bays_between(0, &members);
    assert!(near(bays[2].space.size(Axis::Y) / INCH, 13.0), "{:?}", bays[2]);
    assert!(near(bays[1].space.size(Axis::Y) / INCH, 14.5));
    assert!(zone.members_with(&[Double { number: 9, side: Beside::After }]).is_err());
    assert!(zone.members_with(&[Double { number: 0, side: Beside::After }]).is_err());
    // The first member stands at the edge: nothing fits before it.
    assert!(zone.members_with(&[Double { number: 1, side: Beside::Before }]).is_err());
}

#[test]
fn bad_framing_says_what_is_wrong() {
    let good = zone(96.0, 16.0, 0.75);
    let what = |change: &dyn Fn(&mut Zone)| {
        let mut zone = good.clone();
        change(&mut zone);
        zone.bays(0).unwrap_err()
    };
    let zero = what(&|z| z.spacing_m = 0.0);
    assert_eq!(zero.what, "spacing");
    assert_eq!(
        zero.to_string(),
        "spacing of joists is 0 m: it leaves nothing clear between members; measure from centre to centre"
    );
    assert_eq!(what(&|z| z.spacing_m = -0.4).what, "spacing");
    assert_eq!(what(&|z| z.spacing_m = 1.5 * INCH).what, "spacing");
    assert_eq!(what(&|z| z.first_m = 3.0).what, "first member");
    assert_eq!(what(&|z| z.first_m = -0.1).what, "first member");
    assert_eq!(what(&|z| z.first_m = f64::NAN).what, "first member");
    assert_eq!(what(&|z| z.width_m = 0.0).what, "thickness of a member");
    assert_eq!(what(&|z| z.along = Axis::Z).what, "direction of members");
    assert_eq!(what(&|z| z.space.max[2] = z.space.min[2]).what, "size");
    let nan = what(&|z| z.space.min[0] = f64::NAN);
    assert_eq!(nan.what, "corner");
    assert!(!nan.to_string().contains("NaN"), "{nan}");
    assert_eq!(what(&|z| z.space.max[1] = f64::INFINITY).what, "corner");
    // 0.0011 m members at 0.0013 m over 900 m.
    let many = what(&|z| {
        (z.width_m, z.spacing_m) = (0.0011, 0.0013);
        z.space.max[1] = 900.0;
    });
    assert!(many.reason.contains("more members"), "{many}");
}

proptest! {
    /// Members and bays share the zone out: they touch, nothing is left, nothing is counted twice.
    #[test]
    fn members_and_bays_fill_the_zone(
        extent in 20.0..480.0f64, spacing in 4.0..32.0f64, share in 0.0..1.0f64,
    ) {
        let zone = zone(extent, spacing, share * spacing.min(extent));
        let (members, bays) = (zone.members().unwrap(), zone.bays(0).unwrap());
        let filled: f64 = members.iter().map(|m| m.solid.size(Axis::Y)).sum();
        let clear: f64 = bays.iter().map(|b| b.space.size(Axis::Y)).sum();
        prop_assert!((filled + clear - extent * INCH).abs() < 1e-3);
        for bay in &bays {
            prop_assert!(zone.space.holds(&bay.space));
            prop_assert!(members.iter().all(|m| !m.solid.overlaps(&bay.space)));
        }
        for pair in members.windows(2) {
            let apart = pair[1].solid.min[1] - pair[0].solid.min[1];
            prop_assert!((apart - spacing * INCH).abs() < 2e-2, "{apart}");
        }
    }

    /// Anything typed gives members or says what is wrong.
    #[test]
    fn never_panics(
        spacing in proptest::num::f64::ANY, first in proptest::num::f64::ANY,
        width in proptest::num::f64::ANY, far in proptest::num::f64::ANY,
    ) {
        let mut zone = zone(96.0, 16.0, 0.75);
        (zone.spacing_m, zone.first_m, zone.width_m) = (spacing, first, width);
        zone.space.max[1] = far;
        if let Ok(bays) = zone.bays(0) {
            prop_assert!(bays.iter().all(|b| b.space.is_sound()));
        }
    }
}
