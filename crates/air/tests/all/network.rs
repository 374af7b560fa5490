//! Duct networks against closed forms and a general-purpose solver.

#![allow(clippy::float_cmp, reason = "knots and zeros are exact")]

use dewpath_air::element::{BackdraftDamper, Element, JunctionLoss, PowerLaw, SplitLaw};
use dewpath_air::fan::FanCurve;
use dewpath_air::fittings::{JunctionLaw, Leg, LossKernel, Split};
use dewpath_air::friction::DuctKernel;
use dewpath_air::network::{
    EdgeId, Network, NetworkBuilder, NetworkError, NodeId, Solution, SolveError, Solver, Tolerance,
};
use dewpath_air::terminal::{TerminalKernel, TerminalKind};
use dewpath_checkvalues::Tolerance::Relative;
use dewpath_checkvalues::check;
use dewpath_units::{Airflow, Angle, Area};
use proptest::prelude::*;

use crate::fan::fan;

#[track_caller]
fn close(value: f64, expected: f64, relative: f64) {
    assert!(
        (value - expected).abs() <= relative * expected.abs(),
        "{value} against {expected}, off by {:e}",
        value / expected - 1.0
    );
}

fn k(k: f64) -> Element {
    Element::Quadratic { k }
}

/// The parabolic fan P0 (1 - (Q/Qmax)^2) of the checks, exactly: a source of P0 and a square loss.
fn parabolic_fan(p0: f64, q_max: f64) -> [Element; 2] {
    [Element::Source { pa: p0 }, k(p0 / (q_max * q_max))]
}

struct TwoBranches {
    network: Network,
    first: EdgeId,
    second: EdgeId,
    trunk: EdgeId,
    junction: NodeId,
}

fn two_branches(k1: f64, k2: f64, trunk: impl IntoIterator<Item = Element>) -> TwoBranches {
    let mut builder = NetworkBuilder::new();
    let room_1 = builder.fixed_node(0.0);
    let room_2 = builder.fixed_node(0.0);
    let outdoors = builder.fixed_node(0.0);
    let junction = builder.free_node();
    let first = builder.edge(room_1, junction, [k(k1)]);
    let second = builder.edge(room_2, junction, [k(k2)]);
    let trunk = builder.edge(junction, outdoors, trunk);
    TwoBranches { network: builder.build().unwrap(), first, second, trunk, junction }
}

#[test]
fn one_run_agrees_with_algebra() {
    let mut builder = NetworkBuilder::new();
    let room = builder.fixed_node(0.0);
    let outdoors = builder.fixed_node(0.0);
    let mut elements = parabolic_fan(150.0, 0.06).to_vec();
    elements.push(k(62.3 / (0.0378 * 0.0378)));
    let run = builder.edge(room, outdoors, elements);
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    // Algebra: sqrt(P0/(a + k)).
    check("FAN-01").holds(solution.flow_m3_s(run));
    assert!(solution.stable);
}

#[test]
fn parallel_branches_share_by_their_resistance() {
    let mut trunk = parabolic_fan(200.0, 0.09).to_vec();
    trunk.push(k(15000.0));
    let tee = two_branches(40000.0, 90000.0, trunk);
    let mut solver = Solver::new();
    let solution = solver.solve(&tee.network, None).unwrap();
    let (q1, q2) = (solution.flow_m3_s(tee.first), solution.flow_m3_s(tee.second));
    let total = solution.flow_m3_s(tee.trunk);
    let at_junction = solution.pressure_pa(tee.junction);
    check("NET-01").holds(q1 / q2);
    check("NET-02").holds(-at_junction / (total * total));
    check("NET-03").holds(total);
    check("NET-04").all_hold(&[q1, q2, at_junction]);
}

#[test]
fn three_branches_with_wind() {
    let mut builder = NetworkBuilder::new();
    let rooms = [-1.0, -3.0, 0.5].map(|pressure| builder.fixed_node(pressure));
    let outdoors = builder.fixed_node(6.0);
    let junction = builder.free_node();
    let third = PowerLaw::from_resistance(25000.0, 1.85).unwrap();
    let branches = [
        builder.edge(rooms[0], junction, [k(40000.0)]),
        builder.edge(rooms[1], junction, [k(90000.0)]),
        builder.edge(rooms[2], junction, [Element::PowerLaw(third)]),
    ];
    let mut trunk = parabolic_fan(200.0, 0.12).to_vec();
    trunk.push(k(15000.0));
    builder.edge(junction, outdoors, trunk);
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    let [q1, q2, q3] = branches.map(|branch| solution.flow_m3_s(branch));
    check("NET-05").all_hold(&[q1, q2, q3, solution.pressure_pa(junction)]);
}

#[test]
fn air_crosses_between_rooms_when_the_fan_is_off() {
    let tee = two_branches(40000.0, 90000.0, [k(15000.0)]);
    let mut network = tee.network;
    network.set_pressure(NodeId::from_index(0), 2.0).unwrap();
    network.set_pressure(NodeId::from_index(1), -2.0).unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    // The second flow is negative: air blows into room 2.
    let crossing = check("NET-06");
    crossing
        .part(0)
        .within(Relative(1e-7), "a small difference of pressures of 2 Pa")
        .holds(solution.pressure_pa(tee.junction));
    crossing.part(1).holds(solution.flow_m3_s(tee.first));
    crossing.part(2).holds(solution.flow_m3_s(tee.second));
}

#[test]
fn a_room_breathes_through_its_door_and_its_leaks() {
    let mut builder = NetworkBuilder::new();
    let house = builder.fixed_node(0.0);
    let room = builder.free_node();
    let door = Element::orifice(0.004, 0.6, 1.2);
    let leak = Element::PowerLaw(PowerLaw::new(0.002, 0.65).unwrap());
    builder.edge(house, room, [door]);
    builder.edge(house, room, [leak]);
    let mut network = builder.build().unwrap();
    network.set_extraction(room, 0.0378).unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    check("DOOR-06").holds(-solution.pressure_pa(room));
}

fn ceiling_fan() -> FanCurve {
    FanCurve::from_si_points(
        &[(0.0, 120.0), (0.01, 112.0), (0.02, 98.0), (0.03, 78.0), (0.0378, 62.3), (0.05, 0.0)],
        1.2,
    )
    .unwrap()
}

#[test]
fn a_single_run_agrees_with_the_crossing_of_the_curve() {
    // Outdoor pressures from wind that helps much to wind that blows the air back into the room.
    for wind in [-200.0, 4.0, 90.0, 300.0] {
        for resistance in [2e3, 4e4, 3e5, 2e7] {
            let mut builder = NetworkBuilder::new();
            let room = builder.fixed_node(-2.0);
            let outdoors = builder.fixed_node(wind);
            let run = builder.edge(room, outdoors, [Element::Fan(ceiling_fan()), k(resistance)]);
            let network = builder.build().unwrap();
            let mut solver = Solver::new();
            let solution = solver.solve(&network, None).unwrap();
            let lift = wind + 2.0;
            let system = |q: f64| (lift + resistance * q * q.abs(), 2.0 * resistance * q.abs());
            let point = ceiling_fan().operating_point(system).unwrap();
            close(solution.flow_m3_s(run), point.q_m3_s, 1e-11);
            assert_eq!(solution.flow_m3_s(run) < 0.0, wind > 120.0);
            assert_eq!(solution.flow(run), Some(Airflow::from_m3_s(solution.flow_m3_s(run))));
        }
    }
}

#[test]
fn a_run_with_exact_friction_agrees_with_the_reference() {
    let area = std::f64::consts::PI * 0.1016 * 0.1016 / 4.0;
    for check in [check("FAN-10"), check("FAN-11")] {
        let duct = DuctKernel::new(0.1016, area, 8.0, check.input("eps"), 1.0, 1.2, 1.82e-5);
        let fittings = LossKernel::new(3.54, area, 1.2);
        let mut builder = NetworkBuilder::new();
        let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
        let elements = [Element::Fan(fan()), Element::Duct(duct), Element::Loss(fittings)];
        let run = builder.edge(room, outdoors, elements);
        let network = builder.build().unwrap();
        let mut solver = Solver::new();
        let solution = solver.solve(&network, None).unwrap();
        let rise = -network.element_losses_pa(run, &solution.flows_m3_s)[0];
        check.all_hold(&[solution.flow_m3_s(run), rise]);
    }
}

#[test]
fn a_riser_of_twelve_floors_balances() {
    // Every third fan runs; the others stand still behind their dampers.
    let mut builder = NetworkBuilder::new();
    let (flats, outdoors, roof) =
        (builder.fixed_node(0.0), builder.fixed_node(2.0), builder.fixed_node(-3.0));
    let floors: Vec<NodeId> = (0..12).map(|_| builder.free_node()).collect();
    let damper = Element::Damper(BackdraftDamper::new(5.0, 2e4, 5e-4, 25.0).unwrap());
    let mut idle_runs = Vec::new();
    for (floor, node) in floors.iter().enumerate() {
        let runs = floor % 3 == 0;
        let fan = if runs {
            Element::Fan(ceiling_fan())
        } else {
            Element::idle_fan(ceiling_fan().idle_resistance())
        };
        let edge = builder.edge(flats, *node, [fan, damper.clone(), k(1e4)]);
        if !runs {
            idle_runs.push(edge);
        }
    }
    for pair in floors.windows(2) {
        builder.edge(pair[0], pair[1], [k(400.0)]);
    }
    builder.edge(floors[11], roof, [k(600.0)]);
    builder.edge(floors[0], outdoors, [k(5e6)]);
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    let (pressure, mass) = residuals(&network, solution);
    assert!(pressure < 1e-6 && mass < 1e-9, "{pressure} Pa, {mass} m3/s");
    assert!(solution.iterations <= 30, "{} steps", solution.iterations);
    assert!(idle_runs.iter().all(|&edge| solution.flow_m3_s(edge) > -1e-3));
}

#[test]
fn a_free_node_in_a_run_changes_nothing() {
    let mut builder = NetworkBuilder::new();
    let room = builder.fixed_node(0.0);
    let outdoors = builder.fixed_node(5.0);
    let whole = builder.edge(room, outdoors, [k(3e4), Element::Fan(ceiling_fan()), k(2e4)]);
    let whole_network = builder.build().unwrap();
    let mut builder = NetworkBuilder::new();
    let room = builder.fixed_node(0.0);
    let outdoors = builder.fixed_node(5.0);
    let (before, after) = (builder.free_node(), builder.free_node());
    builder.edge(room, before, [k(3e4)]);
    builder.edge(before, after, [Element::Fan(ceiling_fan())]);
    let end = builder.edge(after, outdoors, [k(2e4)]);
    let split_network = builder.build().unwrap();
    let mut solver = Solver::new();
    let q = solver.solve(&whole_network, None).unwrap().flow_m3_s(whole);
    let solution = solver.solve(&split_network, None).unwrap();
    close(solution.flow_m3_s(end), q, 1e-12);
    close(solution.pressure_pa(before), -3e4 * q * q, 1e-10);
}

#[test]
fn two_fans_on_one_duct() {
    // In series pressures add, in parallel flows add (common practice, no source).
    let fans = [Element::Fan(ceiling_fan()), Element::Fan(ceiling_fan()), k(1e5)];
    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    let series = builder.edge(room, outdoors, fans);
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let q = solver.solve(&network, None).unwrap().flow_m3_s(series);
    close(2.0 * ceiling_fan().rise(q).0, 1e5 * q * q, 1e-9);

    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    let junction = builder.free_node();
    let one = builder.edge(room, junction, [Element::Fan(ceiling_fan()), k(1e3)]);
    let other = builder.edge(room, junction, [Element::Fan(ceiling_fan()), k(1e3)]);
    builder.edge(junction, outdoors, [k(2e4)]);
    let network = builder.build().unwrap();
    let solution = solver.solve(&network, None).unwrap();
    let q = solution.flow_m3_s(one);
    close(solution.flow_m3_s(other), q, 1e-12);
    close(ceiling_fan().rise(q).0, 1e3 * q * q + 2e4 * 4.0 * q * q, 1e-9);
}

#[test]
fn a_damper_keeps_an_idle_fan_from_being_blown_through() {
    let shared_riser = |damper: Option<BackdraftDamper>| {
        let mut builder = NetworkBuilder::new();
        let (flat_1, flat_2, outdoors) =
            (builder.fixed_node(0.0), builder.fixed_node(0.0), builder.fixed_node(0.0));
        let riser = builder.free_node();
        builder.edge(flat_1, riser, [Element::Fan(ceiling_fan()), k(1e4)]);
        let idle = Element::idle_fan(ceiling_fan().idle_resistance());
        let elements = [idle].into_iter().chain(damper.map(Element::Damper));
        let idle_run = builder.edge(flat_2, riser, elements);
        builder.edge(riser, outdoors, [k(3e4)]);
        let network = builder.build().unwrap();
        let mut solver = Solver::new();
        let solution = solver.solve(&network, None).unwrap();
        (solution.flow_m3_s(idle_run), solution.pressure_pa(riser))
    };
    let (open, _) = shared_riser(None);
    let damper = BackdraftDamper::new(5.0, 2e4, 5e-4, 25.0).unwrap();
    let (shut, pressure) = shared_riser(Some(damper));
    assert!(open < -5e-3, "without a damper the other flat gets {open}");
    assert!(shut < 0.0 && shut > -1.5e-3, "with one {shut}");
    // What leaks is what the damper leaks at the riser's pressure: 0.5 L/s at 25 Pa, by the square law.
    close(shut, -5e-4 * (pressure / 25.0).sqrt(), 2e-2);
}

#[test]
fn a_dead_end_has_no_flow_and_the_fan_its_shut_off_pressure() {
    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    let (junction, capped) = (builder.free_node(), builder.free_node());
    builder.edge(room, junction, [k(4e4)]);
    builder.edge(junction, outdoors, [k(3e4)]);
    let blind = builder.edge(junction, capped, [k(1e4), Element::Fan(ceiling_fan())]);
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    assert!(solution.flow_m3_s(blind).abs() < 1e-9);
    assert!((solution.pressure_pa(capped) - 120.0).abs() < 1e-6);
    assert!(solution.pressure_pa(junction).abs() < 1e-6);
}

fn tee_element(common: EdgeId, k_common: f64, forward: SplitLaw, backward: SplitLaw) -> Element {
    Element::Junction(JunctionLoss { common, runs_along: true, k_common, forward, backward })
}

/// Straight-through and branch loss of a converging 90-degree tee of equal legs, Idelchik diagram 7-4 form, from memory:
/// branch 1 + x^2 - 2 (1 - x)^2, straight 1.55 x - x^2 with x = branch/common.
const BRANCH: SplitLaw = SplitLaw::Polynomial([-1.0, 4.0, -1.0, 0.0]);
/// The same straight-through law over its own share y = 1 - x: 1.55 (1 - y) - (1 - y)^2.
const STRAIGHT: SplitLaw = SplitLaw::Polynomial([0.55, 0.45, -1.0, 0.0]);

#[test]
fn a_tee_loss_follows_the_split() {
    let k_common = 0.5 * 1.2 / (0.0081 * 0.0081);
    for (k1, k2) in [(4e4, 9e4), (2e4, 4e5), (5e3, 5e3)] {
        let mut builder = NetworkBuilder::new();
        let (room_1, room_2, outdoors) =
            (builder.fixed_node(0.0), builder.fixed_node(-1.0), builder.fixed_node(3.0));
        let junction = builder.free_node();
        let common = EdgeId::from_index(2);
        let tee = |law| tee_element(common, k_common, law, law);
        let straight = builder.edge(room_1, junction, [k(k1), tee(STRAIGHT)]);
        let branch = builder.edge(room_2, junction, [k(k2), tee(BRANCH)]);
        let trunk = builder.edge(junction, outdoors, [Element::Fan(ceiling_fan()), k(2e4)]);
        assert_eq!(trunk, common);
        let network = builder.build().unwrap();
        let mut solver = Solver::new();
        let solution = solver.solve(&network, None).unwrap();
        let (a, b, c) =
            (solution.flow_m3_s(straight), solution.flow_m3_s(branch), solution.flow_m3_s(trunk));
        // Each law again, by hand.
        let x = b / c;
        let dynamic = k_common * c * c;
        let at_tee = solution.pressure_pa(junction);
        let straight_loss = k1 * a * a.abs() + (1.55 * x - x * x) * dynamic;
        let branch_loss = k2 * b * b.abs() + (1.0 + x * x - 2.0 * (1.0 - x) * (1.0 - x)) * dynamic;
        assert!(x > 0.0 && x < 1.0, "{x}");
        assert!((a + b - c).abs() < 1e-12);
        assert!((0.0 - at_tee - straight_loss).abs() < 1e-6);
        assert!((-1.0 - at_tee - branch_loss).abs() < 1e-6);
        assert!((at_tee - 3.0 - (2e4 * c * c - ceiling_fan().rise(c).0)).abs() < 1e-6);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, ..ProptestConfig::default() })]

    /// Published tee laws with both rooms drawn from, or both blown into: each law holds, computed here again.
    #[test]
    fn published_tees_balance(
        ks in [1e3..5e5f64, 1e3..5e5f64, 1e3..1e5f64],
        rooms in [-1.0..1.0f64, -1.0..1.0f64],
        outdoors in prop_oneof![-30.0..-5.0f64, 5.0..30.0f64],
        area_ratio in 0.2..1.0f64,
        angle in 30.0..90.0f64,
        running in any::<bool>(),
    ) {
        let network = tee_network(ks, [rooms[0], rooms[1], outdoors], area_ratio, angle, running);
        let mut solver = Solver::new();
        let solution = solver.solve(&network, None);
        // Rooms a pascal apart may blow into one another through the tee, where there need be no balance.
        prop_assume!(solution.is_ok() || !blows_into_the_other(ks, rooms, outdoors, running));
        prop_assert!(solution.is_ok(), "{}", solution.unwrap_err());
        let (pressure, mass) = residuals(&network, solution.unwrap());
        prop_assert!(pressure < 1e-6 && mass < 1e-9, "{} Pa, {} m3/s", pressure, mass);
    }

    /// With one room blowing into the other through the tee there may be no balance; then that is what is said.
    #[test]
    fn a_tee_out_of_its_range_gives_no_wrong_answer(
        ks in [1e3..5e5f64, 1e3..5e5f64, 1e3..1e5f64],
        pressures in [-30.0..30.0f64, -30.0..30.0f64, -30.0..30.0f64],
        area_ratio in 0.2..1.0f64,
        angle in 30.0..90.0f64,
        running in any::<bool>(),
    ) {
        let network = tee_network(ks, pressures, area_ratio, angle, running);
        let mut solver = Solver::new();
        match solver.solve(&network, None) {
            Ok(solution) => {
                let (pressure, mass) = residuals(&network, solution);
                prop_assert!(pressure < 1e-6 && mass < 1e-9, "{} Pa, {} m3/s", pressure, mass);
            }
            Err(SolveError::NotConverged { .. }) => {}
            Err(other) => prop_assert!(false, "{}", other),
        }
    }
}

/// Two rooms joined by a published tee to one way outdoors.
fn tee_network(
    ks: [f64; 3],
    pressures: [f64; 3],
    area_ratio: f64,
    angle: f64,
    running: bool,
) -> Network {
    let run = Area::from_m2(0.0081);
    let k_common = 0.5 * 1.2 / (0.0081 * 0.0081);
    let law = |leg, split| {
        let angle = Angle::from_deg(angle);
        SplitLaw::Published(JunctionLaw::new(leg, split, run * area_ratio, run, angle).unwrap())
    };
    let common = EdgeId::from_index(2);
    let leg = |leg| {
        tee_element(common, k_common, law(leg, Split::Converging), law(leg, Split::Diverging))
    };
    let mut builder = NetworkBuilder::new();
    let rooms = pressures.map(|pressure| builder.fixed_node(pressure));
    let junction = builder.free_node();
    builder.edge(rooms[0], junction, [k(ks[0]), leg(Leg::Run)]);
    builder.edge(rooms[1], junction, [k(ks[1]), leg(Leg::Branch)]);
    let fan = running.then(|| Element::Fan(ceiling_fan()));
    builder.edge(junction, rooms[2], fan.into_iter().chain([k(ks[2])]));
    builder.build().unwrap()
}

/// Whether one room blows into the other where the branches meet without a tee.
fn blows_into_the_other(ks: [f64; 3], rooms: [f64; 2], outdoors: f64, running: bool) -> bool {
    let mut builder = NetworkBuilder::new();
    let ends = [rooms[0], rooms[1], outdoors].map(|pressure| builder.fixed_node(pressure));
    let junction = builder.free_node();
    let legs = [0, 1].map(|leg| builder.edge(ends[leg], junction, [k(ks[leg])]));
    let fan = running.then(|| Element::Fan(ceiling_fan()));
    builder.edge(junction, ends[2], fan.into_iter().chain([k(ks[2])]));
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let solution = solver.solve(&network, None).unwrap();
    let [run, branch] = legs.map(|leg| solution.flow_m3_s(leg));
    run * branch <= 0.0
}

/// The input that random search once found: 20 Pa outdoors against a long common duct, one room 0.8 Pa below the other.
#[test]
fn rooms_that_blow_into_one_another_are_told_apart() {
    let ks = [8211.5, 1000.0, 64520.0];
    assert!(blows_into_the_other(ks, [0.0, -0.7714], 20.153, false));
    assert!(!blows_into_the_other(ks, [0.0, -0.1], 20.153, false));
}

/// Largest pressure residual of an edge (Pa) and imbalance of a free node (m3/s), from the laws and flows alone.
fn residuals(network: &Network, solution: &Solution) -> (f64, f64) {
    let mut pressure = 0.0_f64;
    let mut net = vec![0.0_f64; network.node_count()];
    for index in 0..network.edge_count() {
        let edge = EdgeId::from_index(index);
        let (from, to) = network.ends(edge).unwrap();
        let q = solution.flow_m3_s(edge);
        net[from.index()] -= q;
        net[to.index()] += q;
        let lost: f64 = network.element_losses_pa(edge, &solution.flows_m3_s).iter().sum();
        let drive = solution.pressure_pa(from) - solution.pressure_pa(to);
        pressure = pressure.max((lost - drive).abs());
    }
    // The three fixed nodes come first in every network that is checked so.
    (pressure, net[3..].iter().fold(0.0, |largest, net| net.abs().max(largest)))
}

#[test]
fn a_hump_in_a_single_run_takes_the_highest_stable_flow() {
    let stalling = FanCurve::from_si_points(
        &[(0.0, 80.0), (0.01, 55.0), (0.02, 62.0), (0.03, 40.0), (0.04, 0.0)],
        1.2,
    )
    .unwrap();
    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(58.5));
    let run = builder.edge(room, outdoors, [Element::Fan(stalling.clone()), k(1e3)]);
    let network = builder.build().unwrap();
    let system = |q: f64| (58.5 + 1e3 * q * q.abs(), 2e3 * q.abs());
    assert_eq!(stalling.crossings(system).len(), 3);
    let mut solver = Solver::new();
    let solution = solver.solve(&network, Some(&[0.001])).unwrap();
    assert!(solution.stable);
    close(solution.flow_m3_s(run), stalling.operating_point(system).unwrap().q_m3_s, 1e-9);
}

#[test]
fn a_hump_in_a_branched_network_ends_at_a_stable_point() {
    let stalling = FanCurve::from_si_points(
        &[(0.0, 80.0), (0.01, 55.0), (0.02, 62.0), (0.03, 40.0), (0.04, 0.0)],
        1.2,
    )
    .unwrap();
    for wind in [0.0, 20.0, 40.0, 55.0, 58.0, 60.0, 70.0] {
        let mut builder = NetworkBuilder::new();
        let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(wind));
        let junction = builder.free_node();
        builder.edge(room, junction, [k(2e3)]);
        builder.edge(room, junction, [k(5e3)]);
        builder.edge(junction, outdoors, [Element::Fan(stalling.clone()), k(2e3)]);
        let network = builder.build().unwrap();
        let mut solver = Solver::new();
        let solution = solver.solve(&network, None).unwrap();
        assert!(solution.stable, "wind {wind}");
    }
}

/// A realistic 4 in. run: five pieces, four fittings, a flap outdoors.
fn long_run() -> Vec<Element> {
    let area = std::f64::consts::PI * 0.1016 * 0.1016 / 4.0;
    let piece =
        |length| Element::Duct(DuctKernel::new(0.1016, area, length, 9e-5, 1.0, 1.2, 1.82e-5));
    let elbow = || Element::Loss(LossKernel::new(0.57, area, 1.2));
    let cap = TerminalKind::WallCap.band().likely;
    vec![
        piece(1.2),
        elbow(),
        piece(2.4),
        elbow(),
        piece(0.6),
        elbow(),
        piece(3.0),
        elbow(),
        piece(0.8),
        Element::Terminal(TerminalKernel::new(cap, true, area, 1.2)),
    ]
}

#[test]
fn a_run_takes_few_steps() {
    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(2.0));
    let elements = [Element::Fan(ceiling_fan())].into_iter().chain(long_run());
    let run = builder.edge(room, outdoors, elements);
    let network = builder.build().unwrap();
    let mut solver = Solver::new();
    let cold = solver.solve(&network, None).unwrap().clone();
    // The five pieces are one duct of 8 m, the four elbows one coefficient (closed form).
    let area = std::f64::consts::PI * 0.1016 * 0.1016 / 4.0;
    let duct = DuctKernel::new(0.1016, area, 8.0, 9e-5, 1.0, 1.2, 1.82e-5);
    let fittings = LossKernel::new(4.0 * 0.57, area, 1.2);
    let cap = TerminalKernel::new(TerminalKind::WallCap.band().likely, true, area, 1.2);
    let point = ceiling_fan()
        .operating_point(|q| {
            let parts = [duct.loss(q), fittings.loss(q), cap.loss(q)];
            (
                2.0 + parts.iter().map(|part| part.0).sum::<f64>(),
                parts.iter().map(|part| part.1).sum(),
            )
        })
        .unwrap();
    close(cold.flow_m3_s(run), point.q_m3_s, 1e-11);
    assert!(cold.iterations <= 4, "{} steps", cold.iterations);
    let near: Vec<f64> = cold.flows_m3_s.iter().map(|q| 1.02 * q).collect();
    let warm = solver.solve(&network, Some(&near)).unwrap();
    assert!(warm.iterations <= 3, "{} steps", warm.iterations);
    // Piece by piece, the losses add up to what the fan adds less the wind.
    let losses = network.element_losses_pa(run, &cold.flows_m3_s);
    assert_eq!(losses.len(), 11);
    assert!((losses.iter().sum::<f64>() + 2.0).abs() < 1e-6);
}

#[test]
fn bad_networks_are_named() {
    let mut builder = NetworkBuilder::new();
    let room = builder.fixed_node(0.0);
    builder.edge(room, NodeId::from_index(7), [k(1.0)]);
    assert!(matches!(builder.build(), Err(NetworkError::UnknownNode { .. })));

    let mut builder = NetworkBuilder::new();
    let room = builder.fixed_node(0.0);
    builder.edge(room, room, [k(1.0)]);
    assert!(matches!(builder.build(), Err(NetworkError::Loop { .. })));

    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    builder.edge(room, outdoors, [Element::Source { pa: 3.0 }]);
    assert!(matches!(builder.build(), Err(NetworkError::NoResistance { .. })));

    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    builder.edge(room, outdoors, [k(1.0)]);
    let (lost, also_lost) = (builder.free_node(), builder.free_node());
    builder.edge(lost, also_lost, [k(1.0)]);
    assert_eq!(
        builder.build().unwrap_err(),
        NetworkError::Disconnected { nodes: vec![lost, also_lost] }
    );

    let mut builder = NetworkBuilder::new();
    let (room, outdoors) = (builder.fixed_node(0.0), builder.fixed_node(0.0));
    let law = SplitLaw::Polynomial([1.0, 0.0, 0.0, 0.0]);
    let common = EdgeId::from_index(0);
    builder.edge(room, outdoors, [k(1.0), tee_element(common, 1.0, law, law)]);
    assert!(matches!(builder.build(), Err(NetworkError::UnknownCommonEdge { .. })));
}

#[test]
fn failures_are_errors_not_answers() {
    let tee = two_branches(4e4, 9e4, [Element::Fan(ceiling_fan()), k(1.5e4)]);
    let mut network = tee.network;
    let mut strict = Solver::with_tolerance(Tolerance { iterations: 1, ..Tolerance::default() });
    assert!(matches!(strict.solve(&network, None), Err(SolveError::NotConverged { .. })));
    let mut solver = Solver::new();
    assert!(matches!(
        solver.solve(&network, Some(&[0.0])),
        Err(SolveError::StartLength { given: 1, edges: 3 })
    ));
    network.elements_mut(tee.first)[0] = k(f64::NAN);
    assert!(matches!(
        solver.solve(&network, None),
        Err(SolveError::NotFinite { edge, .. }) if edge == tee.first
    ));
    let law = SplitLaw::Polynomial([1.0, 0.0, 0.0, 0.0]);
    let stray = EdgeId::from_index(12);
    network.elements_mut(tee.first)[0] = tee_element(stray, 1.0, law, law);
    assert!(matches!(
        solver.solve(&network, None),
        Err(SolveError::StrayTee { common }) if common == stray
    ));
    assert!(network.element_losses_pa(tee.first, &[0.01, 0.01, 0.02])[0].is_nan());
    assert!(network.set_pressure(tee.junction, 1.0).is_err());
    assert!(network.set_extraction(NodeId::from_index(0), 1.0).is_err());
    assert!(network.elements_mut(EdgeId::from_index(9)).is_empty());
}

/// One random element, by a selector and two numbers.
fn element(kind: u8, a: f64, b: f64) -> Element {
    match kind % 6 {
        0 => Element::PowerLaw(PowerLaw::new(1e-4 + 5e-3 * a, 0.5 + 0.5 * b).unwrap()),
        1 => Element::Fan(ceiling_fan().at_speed(0.3 + a).unwrap()),
        2 => Element::FanReversed(
            ceiling_fan().with_set_flow(Airflow::from_m3_s(0.01 + 0.03 * a)).unwrap(),
        ),
        3 => {
            Element::Damper(BackdraftDamper::new(8.0 * a, 1e5 * b, 1e-4 + 1e-3 * a, 10.0).unwrap())
        }
        4 => Element::idle_fan(1e3 + 1e6 * a * a),
        _ => Element::orifice(1e-3 + 0.05 * a, 0.6, 1.2),
    }
}

/// Free nodes in a chain from outdoors, further edges at random: always connected.
fn random_network() -> impl Strategy<Value = Network> {
    let links = proptest::collection::vec(
        (any::<u8>(), 0.0..1.0f64, 0.0..1.0f64, any::<u16>(), any::<u16>(), -30.0..30.0f64),
        3..16,
    );
    (1..7usize, links).prop_map(|(free, links)| {
        let mut builder = NetworkBuilder::new();
        let fixed = [0.0, -4.0, 12.0].map(|pressure| builder.fixed_node(pressure));
        let nodes: Vec<NodeId> =
            fixed.into_iter().chain((0..free).map(|_| builder.free_node())).collect();
        for node in &nodes[3..] {
            builder.edge(NodeId::from_index(node.index() - 1), *node, [k(2e4)]);
        }
        for (kind, a, b, from, to, wind) in links {
            let from = nodes[usize::from(from) % nodes.len()];
            let to = nodes[usize::from(to) % nodes.len()];
            if from != to {
                builder.edge(
                    from,
                    to,
                    [element(kind, a, b), k(1e2 + 1e5 * a), Element::Source { pa: wind }],
                );
            }
        }
        builder.build().unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    /// In any network mass balances to 1e-9 m3/s and every edge's law holds to 1e-6 Pa, recomputed here.
    #[test]
    fn any_network_balances(network in random_network()) {
        let mut solver = Solver::new();
        let solution = solver.solve(&network, None);
        prop_assert!(solution.is_ok(), "{}", solution.unwrap_err());
        let solution = solution.unwrap();
        prop_assert!(solution.stable);
        let (pressure, mass) = residuals(&network, solution);
        prop_assert!(pressure < 1e-6 && mass < 1e-9, "{} Pa, {} m3/s", pressure, mass);
    }

    /// A start near or far leads to the same answer as none: with rising losses there is only one.
    #[test]
    fn the_start_does_not_matter(network in random_network(), flow in -0.05..0.05f64) {
        let mut solver = Solver::new();
        let cold = solver.solve(&network, None).unwrap().clone();
        let start = vec![flow; network.edge_count()];
        let warm = solver.solve(&network, Some(&start)).unwrap();
        for (a, b) in cold.pressures_pa.iter().zip(&warm.pressures_pa) {
            prop_assert!((a - b).abs() < 1e-5, "{} against {}", a, b);
        }
    }
}
