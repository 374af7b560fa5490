//! No route that is returned crosses a member illegally, leaves bays and spaces, hits an obstacle or bends tighter than its
//! fitting: 1,000 random ceilings against the verifier.

use std::cell::Cell;

use dewpath_layout::geometry::Block;
use dewpath_layout::place::Obstacle;
use dewpath_layout::route::{
    Bore, Leg, Offer, Offers, Relaxed, Route, front, ranked, search, search_through, why_none,
};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::verifier::faults;
use super::{ceilings, examples};

#[test]
fn every_route_of_a_thousand_ceilings_is_legal() {
    let config = Config { cases: 1000, failure_persistence: None, ..Config::default() };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let [with_routes, routes, bends, bores, slants, passing, in_attic, flat_bores] =
        std::array::from_fn(|_| Cell::new(0_usize));
    runner
        .run(&(ceilings::floor(), ceilings::duct()), |(floor, duct)| {
            let found = search(&floor.ways(), &duct, &ceilings::bore, 5).expect("sound geometry");
            with_routes.set(with_routes.get() + usize::from(!found.is_empty()));
            for route in &found {
                let faults = faults(&floor, &duct, &ceilings::bore, route);
                proptest::prop_assert!(faults.is_empty(), "{:?}\n{route:#?}", &faults[..1]);
                routes.set(routes.get() + 1);
                bends.set(bends.get() + route.bends.len());
                bores.set(bores.get() + route.crossings.len());
                let askew = route.legs.iter().filter(|leg| is_askew(leg));
                let from_one_to_another = |leg: &&Leg| leg.through.len() > 1;
                let wide = |leg: &&Leg| leg.through.iter().all(|at| at == "attic");
                slants.set(slants.get() + askew.clone().count());
                passing.set(passing.get() + askew.clone().filter(from_one_to_another).count());
                in_attic.set(in_attic.get() + askew.filter(wide).count());
                let is_flat = duct.height_m.is_some();
                flat_bores.set(flat_bores.get() + if is_flat { route.crossings.len() } else { 0 });
            }
            check_order(&found)?;
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    let seen = [&with_routes, &routes, &bends, &bores, &slants, &passing, &in_attic, &flat_bores];
    let seen = seen.map(Cell::get);
    let least = [500, 800, 800, 50, 50, 20, 20, 20];
    // The check is worth something only if the ceilings have routes, and those turn, cross members and slant, in the attic and
    // between it and the bays too, and if flat ducts cross members.
    assert!(
        seen.iter().zip(least).all(|(seen, least)| *seen > least),
        "ceilings with routes, routes, fittings, bores, slants, from one space to another, in the attic, bores of flat ducts: {seen:?}"
    );
}

/// Whether a leg lies askew to the axes.
fn is_askew(leg: &Leg) -> bool {
    (0..3).filter(|i| (leg.from[*i] - leg.to[*i]).abs() > 1e-4).count() > 1
}

/// Those that are not dominated come first, each with less work than the one before; the others are dominated indeed.
fn check_order(found: &[Route]) -> Result<(), TestCaseError> {
    let front: Vec<&Route> = found.iter().filter(|r| !r.is_dominated).collect();
    for pair in front.windows(2) {
        proptest::prop_assert!(pair[0].pressure_pa <= pair[1].pressure_pa);
        proptest::prop_assert!(pair[0].labour_h > pair[1].labour_h);
    }
    for route in found.iter().filter(|r| r.is_dominated) {
        proptest::prop_assert!(
            front
                .iter()
                .any(|f| f.pressure_pa <= route.pressure_pa && f.labour_h <= route.labour_h)
        );
    }
    let again = ranked(found.to_vec(), usize::MAX);
    proptest::prop_assert_eq!(&again[..], found);
    Ok(())
}

/// Fittings of 45 degrees only add ways: none without them beats all that are found with them.
#[test]
fn more_fittings_are_no_worse() {
    let config = Config { cases: 160, failure_persistence: None, ..Config::default() };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let (compared, better) = (Cell::new(0_usize), Cell::new(0_usize));
    runner
        .run(&(ceilings::floor(), ceilings::duct()), |(floor, mut duct)| {
            let all = search_through(&floor.ways(), &duct, &ceilings::bore, 9).expect("sound");
            let bends = duct.bends.clone();
            duct.bends.retain(|bend| bend.turn_deg > 60.0);
            let fewer = search_through(&floor.ways(), &duct, &ceilings::bore, 9).expect("sound");
            if !all.is_whole || !fewer.is_whole {
                return Ok(());
            }
            let fewer = front(&floor.ways(), &duct, &ceilings::bore).expect("sound");
            duct.bends.clone_from(&bends);
            let all = front(&floor.ways(), &duct, &ceilings::bore).expect("sound");
            let least = |routes: &[Route]| routes.first().map(|route| route.pressure_pa);
            let gained = least(&all).zip(least(&fewer)).is_some_and(|(a, b)| a < b - 1e-6);
            better.set(better.get() + usize::from(gained));
            for route in &fewer {
                let is_no_worse = |other: &&Route| {
                    other.pressure_pa <= route.pressure_pa + 1e-6
                        && other.labour_h <= route.labour_h + 1e-6
                };
                let found = all.iter().find(is_no_worse);
                proptest::prop_assert!(found.is_some(), "{route:#?}\n{all:#?}");
                compared.set(compared.get() + 1);
            }
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    assert!(compared.get() > 50, "{} ways compared", compared.get());
    assert!(better.get() > 0, "floors with a better way: {}", better.get());
}

/// Which single obstacle opens a way when it is moved, by moving each in turn and searching again.
#[test]
fn obstacles_that_open_a_way_are_those_that_do() {
    let config = Config { cases: 200, failure_persistence: None, ..Config::default() };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let (shut, opened) = (Cell::new(0_usize), Cell::new(0_usize));
    let never = |_: &_, _: f64, _: f64, _: _| Bore::Forbidden("no bore".to_owned());
    let boxes =
        prop::collection::vec((1.5..3.9_f64, 0.5..1.3_f64, 0.05..0.5_f64, 0.1..0.5_f64), 1..5);
    runner
        .run(&(boxes, any::<bool>()), |(boxes, with_halves)| {
            let mut floor = examples::floor();
            let under = floor.bays[0].space.min[2];
            let solid = |(x, y, dx, dy): (f64, f64, f64, f64)| Block {
                min: [x, y, under],
                max: [x + dx, y + dy, under + 0.3],
            };
            floor.obstacles = (boxes.into_iter().enumerate())
                .map(|(k, at)| Obstacle { id: format!("obstacle {k}"), solid: solid(at) })
                .collect();
            let mut duct = examples::duct();
            if with_halves {
                examples::halves(&mut duct);
            }
            let all = 0..floor.obstacles.len();
            let obstacles = all.clone().map(|what| Offer { what, labour_h: None }).collect();
            let offers = Offers { obstacles, ..Offers::default() };
            let told = why_none(&floor.ways(), &duct, &never, &offers).expect("sound");
            let Some(none) = told else { return Ok(()) };
            shut.set(shut.get() + 1);
            for k in all {
                let mut without = floor.clone();
                let moved = without.obstacles.remove(k);
                let found = search(&without.ways(), &duct, &never, 1).expect("sound");
                let is_told = none
                    .openings
                    .iter()
                    .any(|opening| opening.relaxed == Relaxed::Obstacle(moved.id.clone()));
                proptest::prop_assert_eq!(is_told, !found.is_empty(), "{}", moved.id);
                opened.set(opened.get() + usize::from(is_told));
            }
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    assert!(shut.get() > 40 && opened.get() > 10, "{} shut, {} opened", shut.get(), opened.get());
}
