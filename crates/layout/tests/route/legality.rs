//! No route that is returned crosses a member illegally, leaves bays and spaces, hits an obstacle or bends tighter than its
//! fitting: 1,000 random ceilings against the verifier.

use std::cell::Cell;

use dewpath_layout::route::{Route, ranked, search};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use crate::ceilings;
use crate::verifier::faults;

#[test]
fn every_route_of_a_thousand_ceilings_is_legal() {
    let config = Config { cases: 1000, failure_persistence: None, ..Config::default() };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let (with_routes, routes, bends, bores, slants) =
        (Cell::new(0), Cell::new(0), Cell::new(0), Cell::new(0), Cell::new(0));
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
                let is_half = |b: &&_| matches!(b, dewpath_layout::route::BendAt { turn_deg, .. } if *turn_deg < 60.0);
                slants.set(slants.get() + route.bends.iter().filter(is_half).count());
            }
            check_order(&found)?;
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    let seen = [with_routes.get(), routes.get(), bends.get(), bores.get(), slants.get()];
    // The check is worth something only if the ceilings have routes, and those turn, cross members and slant.
    assert!(
        seen[0] > 500 && seen[1] > 800 && seen[2] > 800 && seen[3] > 50 && seen[4] > 50,
        "ceilings with routes, routes, fittings, bores, slants: {seen:?}"
    );
}

/// Those that are not dominated come first, each with less work than the one before; the others are dominated indeed.
fn check_order(found: &[Route]) -> Result<(), proptest::test_runner::TestCaseError> {
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
