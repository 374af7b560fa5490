//! Whatever numbers a view holds: a sheet or none, no panic, nothing that is no number, no label on another.
#![allow(clippy::unwrap_used, reason = "tests")]

use dewpath_drawing::{
    Fall, FanView, Jacket, Near, OutsideView, Page, PlanHousing, PlanView, RoomTrace, SectionView,
    Sheet, Stretch, Voice,
};
use dewpath_report::{Bore, Source, Triple, Verdict};
use dewpath_words::Speaker;
use proptest::prelude::*;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -20.0..40.0_f64,
        2 => Just(0.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => Just(-1e12),
        1 => Just(1e-12),
    ]
}

fn triple() -> impl Strategy<Value = Triple> {
    (number(), number(), number()).prop_map(|(low, likely, high)| Triple { low, likely, high })
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z-]{0,12}", "\\PC{0,40}", Just("<&\"'> \u{1} 日本".to_owned())]
}

fn voice() -> impl Strategy<Value = (Voice, Page)> {
    (any::<bool>(), any::<bool>()).prop_map(|(us, phone)| {
        (
            Voice::new(&if us { Speaker::us() } else { Speaker::metric() }),
            if phone { Page::Phone } else { Page::Paper },
        )
    })
}

fn sound(sheet: Option<Sheet>) {
    let Some(sheet) = sheet else { return };
    let svg = sheet.svg_for_page();
    resvg::usvg::roxmltree::Document::parse(&svg).unwrap();
    assert!(!sheet.dxf().contains("NaN") && !sheet.dxf().contains("inf\r\n"));
    assert!(
        sheet.scene.height.is_finite() && sheet.scene.height < 5000.0,
        "{}",
        sheet.scene.height
    );
    let texts: Vec<_> = sheet.scene.texts().collect();
    for (place, (text, rect)) in texts.iter().enumerate() {
        assert!(!text.text.contains("NaN"), "{}", text.text);
        for (other, other_rect) in &texts[place + 1..] {
            assert!(!rect.overlaps(other_rect), "{:?} on {:?}", text.text, other.text);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases / 4, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_section_of_anything(
        (voice, page) in voice(), run in name(),
        parts in prop::collection::vec((name(), any::<bool>(), prop::option::of(triple()), 0..5_u8, number(), number()), 0..14),
        rise_m in prop::option::of(number()), diameter_m in prop::option::of(number()),
    ) {
        let stretches = parts.into_iter().map(|(part, is_duct, length_m, fall, rsi, supports)| Stretch {
            part,
            what: "duct".to_owned(),
            is_duct,
            length_m,
            cut_m: rise_m,
            rise_m,
            diameter_m,
            fall: [Fall::Out, Fall::Back, Fall::Level, Fall::Low, Fall::Unknown][usize::from(fall)],
            jacket: if rsi > 0.0 { Jacket::Rsi(rsi) } else { Jacket::Bare },
            surroundings: (fall % 2 == 0).then(|| "attic".to_owned()),
            supports_m: Some(supports),
        });
        let view = SectionView {
            run, from: "fan".to_owned(), to: "cap".to_owned(), to_outdoors: true,
            stretches: stretches.collect(), bores: vec![(1.0, "J 1".to_owned())],
            ..SectionView::default()
        };
        sound(dewpath_drawing::section(&voice, page, &view));
    }

    #[test]
    fn a_plan_of_anything(
        (voice, page) in voice(), room in name(),
        corners in prop::collection::vec((number(), number()), 0..8),
        boxes in prop::collection::vec((name(), number(), number(), number(), number()), 0..12),
    ) {
        let mut view = PlanView { id: "p".to_owned(), room, ..PlanView::default() };
        view.polygon = corners.into_iter().map(|(x, y)| [x, y]).collect();
        for (place, (id, x, y, w, h)) in boxes.into_iter().enumerate() {
            let body = [[x, y], [x + w, y + h]];
            match place % 3 {
                0 => view.members.push((id, body)),
                1 => view.obstacles.push((id, body)),
                _ => view.housings.push(PlanHousing { fan: id, body, outlet: Some([x, y]) }),
            }
        }
        sound(dewpath_drawing::plan(&voice, page, &view));
    }

    #[test]
    fn a_fan_of_anything(
        (voice, page) in voice(), fan in name(),
        curve in prop::collection::vec((number(), triple()), 0..12),
        run in prop::collection::vec((number(), triple()), 0..12),
        required_l_s in prop::option::of(number()),
    ) {
        let view = FanView { fan, curve, run, point: None, others: Vec::new(), required_l_s };
        sound(dewpath_drawing::fan(&voice, page, &view));
    }

    #[test]
    fn a_room_of_anything(
        (voice, page) in voice(), room in name(),
        humidity in prop::collection::vec((number(), number()), 0..30),
        mirror_clear in prop::option::of(number()), shower in (number(), number()),
    ) {
        let view = RoomTrace { id: "r".to_owned(), room, humidity, mirror_clear, showers: vec![shower], spread: Vec::new() };
        sound(dewpath_drawing::trace(&voice, page, &view));
    }

    #[test]
    fn an_outlet_of_anything(
        (voice, page) in voice(), outlet in name(),
        things in prop::collection::vec((name(), number(), prop::option::of(number()), prop::option::of([[number(), number()], [number(), number()]])), 0..10),
        above_ground_m in prop::option::of(number()), above_snow_m in prop::option::of(number()), size_m in prop::option::of(number()),
    ) {
        let near = things.into_iter().map(|(what, distance_m, least_m, on_wall_m)| Near {
            what, distance_m, least_m, verdict: Verdict::Fails, on_wall_m, is_level: false,
        });
        let view = OutsideView { outlet, size_m, near: near.collect(), above_ground_m, above_snow_m, is_anywhere: true };
        sound(dewpath_drawing::outside(&voice, page, &view));
    }

    #[test]
    fn a_hole_of_anything(
        (voice, page) in voice(), member in name(), depth_m in prop::option::of(number()),
        diameter_m in number(), edge_m in prop::option::of(number()), edge_least_m in prop::option::of(number()),
    ) {
        let hole = Bore {
            member, at_m: None, kind: "sawn".to_owned(), depth_m, diameter_m, allowed_m: edge_m, edge_m, edge_least_m,
            verdict: Verdict::Holds, source: Source::practice(),
        };
        sound(dewpath_drawing::bore(&voice, page, &hole));
    }
}
