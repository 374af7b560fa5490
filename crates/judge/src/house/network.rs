//! The house as one network: leaks by height and facing, doors, fans on their ducts, other exhausts.
//!
//! It is the network of the duct system with the one opening of its shell
//! ([decision 0018](../../../../docs/decisions/0018-leaks-as-one-opening.md)) taken apart. Pressures
//! are those at the lowest floor, indoors minus outdoors at the same height. In that frame warm air
//! that stands `z` above the floor presses outward with `(rho_o - rho_i) g z`, and wind presses inward
//! with `C_p rho_o U²/2`. Flows balance; pressures are never added.

use dewpath_air::element::{Element, PowerLaw};
use dewpath_air::network::{EdgeId, Network, NetworkBuilder, NodeId, SolveError, Solver};
use dewpath_air::wind::GRAVITY_M_S2;
use dewpath_case::given;
use dewpath_case::inputs::{Draw, Inputs};
use dewpath_case::system::System;
use dewpath_case::system::fan;
use dewpath_case::system::instance::{Instance, LEAK_EXPONENT, Trouble, leak_flow_50};
use dewpath_case::system::parts;
use dewpath_case::system::spec::{Conditions, Edge, FanSpec, Owner, Spec};
use dewpath_job::model::{Job, TerminalKind};
use dewpath_units::Density;

use super::ask::Asked;

/// Wind pressure coefficients: middles of published ranges for low buildings.
///
/// Source: ASHRAE Fundamentals ch. 24 (windward 0.4 to 0.8, leeward -0.2 to -0.4, side -0.4 to -0.9,
/// low roof -0.5 to -0.8); the floor lies in the lee of everything (judgement).
const WINDWARD: f64 = 0.6;
const LEEWARD: f64 = -0.3;
const SIDE: f64 = -0.65;
const ROOF: f64 = -0.65;
const FLOOR: f64 = 0.0;

/// Resistance that nothing gets through, Pa s²/m6.
const CLOSED: f64 = 1e12;

/// One leak of the shell: share of its part of the shell, height over the whole height, facing.
struct Opening {
    in_walls: bool,
    share: f64,
    height: f64,
    cp: f64,
}

/// Half of the wall leaks in the middle of the lower half and half in that of the upper, on four
/// faces of a house as long as wide; the rest in floor and ceiling.
const OPENINGS: [Opening; 8] = [
    Opening { in_walls: true, share: 0.125, height: 0.25, cp: WINDWARD },
    Opening { in_walls: true, share: 0.125, height: 0.25, cp: LEEWARD },
    Opening { in_walls: true, share: 0.250, height: 0.25, cp: SIDE },
    Opening { in_walls: true, share: 0.125, height: 0.75, cp: WINDWARD },
    Opening { in_walls: true, share: 0.125, height: 0.75, cp: LEEWARD },
    Opening { in_walls: true, share: 0.250, height: 0.75, cp: SIDE },
    Opening { in_walls: false, share: 0.5, height: 0.0, cp: FLOOR },
    Opening { in_walls: false, share: 0.5, height: 1.0, cp: ROOF },
];

/// Weather that the house is looked at in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weather {
    /// No wind, as warm outdoors as indoors: exhausts alone.
    Mild,
    /// No wind, outdoors as cold as written or assumed.
    Calm,
    /// The same with wind.
    Windy,
}

/// All of them.
pub(crate) const WEATHERS: [Weather; 3] = [Weather::Mild, Weather::Calm, Weather::Windy];

impl Weather {
    /// Key of its word.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Mild => "weather.mild",
            Self::Calm => "weather.calm",
            Self::Windy => "weather.windy",
        }
    }
}

/// Which exhausts run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Running {
    /// All of them.
    All,
    /// None.
    Nothing,
    /// All but one fan of the job, by index.
    AllBut(usize),
    /// The fans of the job alone.
    FansAlone,
    /// One fan is shut off and so much air taken in its place, m³/s.
    Instead(usize, f64),
}

/// Where a fan stands in the network.
struct FanPlace {
    fan: usize,
    edge: usize,
    element: usize,
    on: Option<Element>,
    idle: [Element; 2],
}

/// A way out with the pressure of warm air and wind at its end.
struct Outlet {
    edge: EdgeId,
    slot: usize,
    /// Height over that of the house.
    height: f64,
    cp: f64,
}

/// What a draw sets.
#[derive(Debug, Clone, Copy, Default)]
struct Numbers {
    height_m: f64,
    /// Pressure of the stack for a metre, Pa/m.
    stack_pa_m: f64,
    wind_pa: f64,
    exhaust_m3_s: f64,
    density: f64,
}

/// The house, solved case by case.
pub(crate) struct House<'a> {
    job: &'a Job,
    system: &'a System,
    inputs: &'a Inputs,
    asked: &'a Asked,
    instance: Instance<'a>,
    network: Network,
    solver: Solver,
    /// Elements of each edge that are left out at its start: those of the shell.
    skip: Vec<usize>,
    /// The edge that was the shell alone.
    shell: Option<usize>,
    leaks: Vec<EdgeId>,
    outlets: Vec<Outlet>,
    fans: Vec<FanPlace>,
    closed: Vec<usize>,
    indoors: NodeId,
    draw: Draw,
    now: Numbers,
    /// Flows of the last answer with exhausts on and off, to start from.
    starts: [Option<Vec<f64>>; 2],
    flows: Vec<f64>,
    indoors_pa: f64,
}

impl<'a> House<'a> {
    /// Puts the network together. `conditions` say whether the doors of the served rooms are open.
    pub(crate) fn new(
        job: &'a Job,
        system: &'a System,
        inputs: &'a Inputs,
        asked: &'a Asked,
        conditions: &'a Conditions,
    ) -> Result<Self, Trouble> {
        let instance = Instance::new(job, system, inputs, conditions)?;
        let mut builder = NetworkBuilder::new();
        let outdoors_in = builder.fixed_node(0.0);
        let outdoors_out = builder.fixed_node(0.0);
        let free: Vec<NodeId> = (1..system.nodes).map(|_| builder.free_node()).collect();
        let shell_at = system.find(|o| *o == Owner::Shell).map(|(edge, _)| edge);
        let alone = shell_at.filter(|&edge| system.edges[edge].items.len() == 1);
        let house = match alone {
            Some(edge) => free[system.edges[edge].to - 1],
            None => builder.free_node(),
        };
        let placeholder = || [Element::Quadratic { k: CLOSED }, Element::Source { pa: 0.0 }];
        let mut skip = Vec::with_capacity(system.edges.len());
        let mut leaks = Vec::with_capacity(OPENINGS.len());
        let mut outlets = Vec::new();
        let mut closed = Vec::new();
        for (e, edge) in system.edges.iter().enumerate() {
            let from = match edge.from {
                _ if shell_at == Some(e) && alone.is_none() => house,
                0 => outdoors_in,
                node => free[node - 1],
            };
            let to = if edge.to == 0 { outdoors_out } else { free[edge.to - 1] };
            if alone == Some(e) {
                leaks.push(builder.edge(from, to, placeholder()));
                skip.push(1);
                continue;
            }
            let left_out = usize::from(shell_at == Some(e));
            let mut elements = instance.elements(e)[left_out..].to_vec();
            if edge.to == 0 {
                let (height, cp) = outlet(job, edge);
                let slot = elements.len();
                elements.push(Element::Source { pa: 0.0 });
                outlets.push(Outlet { edge: EdgeId::from_index(e), slot, height, cp });
            }
            if stays_indoors(job, edge) {
                closed.push(e);
            }
            builder.edge(from, to, elements);
            skip.push(left_out);
        }
        while leaks.len() < OPENINGS.len() {
            leaks.push(builder.edge(outdoors_in, house, placeholder()));
        }
        let fans = fan_places(system, &instance, &skip);
        let network = builder.build().map_err(|error| Trouble::of(&error))?;
        Ok(Self {
            job,
            system,
            inputs,
            asked,
            instance,
            network,
            solver: Solver::new(),
            skip,
            shell: alone,
            leaks,
            outlets,
            fans,
            closed,
            indoors: house,
            draw: Draw::Likely,
            now: Numbers::default(),
            starts: [None, None],
            flows: Vec::new(),
            indoors_pa: f64::NAN,
        })
    }

    /// Fans of which nothing usable is known: what they take out is not in the balance.
    pub(crate) fn unknown_fans(&self) -> bool {
        self.fans.iter().any(|fan| fan.on.is_none())
    }

    /// The same, of all fans but one.
    pub(crate) fn unknown_fans_but(&self, one: usize) -> bool {
        self.fans.iter().any(|fan| fan.fan != one && fan.on.is_none())
    }

    /// Puts the numbers of a draw in.
    pub(crate) fn load(&mut self, draw: Draw) -> Result<(), Trouble> {
        self.draw = draw;
        self.instance.load(draw)?;
        self.set_numbers(draw);
        for e in 0..self.system.edges.len() {
            if self.shell == Some(e) {
                continue;
            }
            let source = &self.instance.elements(e)[self.skip[e]..];
            let place = self.network.elements_mut(EdgeId::from_index(e));
            place[..source.len()].clone_from_slice(source);
        }
        for &e in &self.closed {
            self.network.elements_mut(EdgeId::from_index(e))[0] = Element::Quadratic { k: CLOSED };
        }
        self.load_leaks(draw)?;
        self.load_fans(draw)
    }

    fn set_numbers(&mut self, draw: Draw) {
        let inside = self.instance.density_kg_m3();
        let indoor_k = self.inputs.value(self.system.air.indoor, draw);
        let outside = inside * indoor_k / self.asked.outdoor_k(draw);
        let wind = self.asked.wind_m_s(draw);
        self.now = Numbers {
            height_m: self.asked.height_m(draw),
            stack_pa_m: (outside - inside) * GRAVITY_M_S2,
            wind_pa: 0.5 * outside * wind * wind,
            exhaust_m3_s: self.asked.exhaust_m3_s(draw),
            density: inside,
        };
    }

    fn load_leaks(&mut self, draw: Draw) -> Result<(), Trouble> {
        let walls = self.asked.wall_share(draw);
        let whole = self.leak_coefficient(draw);
        for (edge, opening) in self.leaks.iter().zip(&OPENINGS) {
            let part = if opening.in_walls { walls } else { 1.0 - walls };
            let law = PowerLaw::new(whole * part * opening.share, LEAK_EXPONENT)
                .map_err(|error| Trouble::of(&error))?;
            self.network.elements_mut(*edge)[0] = Element::PowerLaw(law);
        }
        Ok(())
    }

    /// Coefficient of the whole shell, m³/(s Pa^n).
    pub(crate) fn leak_coefficient(&self, draw: Draw) -> f64 {
        let flow = leak_flow_50(&self.asked.leak, &self.asked.inputs, draw).unwrap_or(0.0);
        flow.max(1e-4) / libm::pow(50.0, LEAK_EXPONENT)
    }

    fn load_fans(&mut self, draw: Draw) -> Result<(), Trouble> {
        let density = Density::from_kg_m3(self.now.density);
        for place in &mut self.fans {
            let Some(spec) = fan_spec(self.system, place.fan) else { continue };
            let data = &self.job.fans[place.fan].data;
            place.on = match fan::curve_of_draw(data, spec, self.inputs, draw) {
                Some(Ok(curve)) => {
                    let curve = curve.at_density(density).map_err(|error| Trouble::of(&error))?;
                    place.idle[0] = Element::idle_fan(curve.idle_resistance());
                    Some(Element::Fan(curve))
                }
                // What the instance puts in for a fan of which nothing is known: it stands still.
                _ => None,
            };
            let flap = (given::yes(&data.damper) != Some(false)).then(parts::idle_flap).flatten();
            place.idle[1] = flap.unwrap_or(Element::Quadratic { k: 0.0 });
        }
        Ok(())
    }

    /// Balances the house and gives its pressure at the lowest floor, Pa.
    pub(crate) fn balance(&mut self, running: Running, weather: Weather) -> Result<f64, Trouble> {
        self.set_weather(weather);
        self.set_running(running)?;
        let memory = usize::from(running == Running::Nothing);
        let start = self.starts[memory].as_deref();
        let solved = match self.solver.solve(&self.network, start) {
            // A start from another case may mislead; the solver's own start does not.
            Err(SolveError::NotConverged { .. }) if start.is_some() => {
                self.solver.solve(&self.network, None)
            }
            other => other,
        };
        let solution = solved.map_err(|error| Trouble::of(&error))?;
        self.flows.clone_from(&solution.flows_m3_s);
        self.indoors_pa = solution.pressure_pa(self.indoors);
        self.starts[memory] = Some(self.flows.clone());
        Ok(self.indoors_pa)
    }

    fn set_weather(&mut self, weather: Weather) {
        let stack = if weather == Weather::Mild { 0.0 } else { self.now.stack_pa_m };
        let wind = if weather == Weather::Windy { self.now.wind_pa } else { 0.0 };
        for (edge, opening) in self.leaks.iter().zip(&OPENINGS) {
            let inward = inward_pa(opening.cp * wind, stack, self.now.height_m * opening.height);
            self.network.elements_mut(*edge)[1] = Element::Source { pa: inward };
        }
        for outlet in &self.outlets {
            let inward = inward_pa(outlet.cp * wind, stack, self.now.height_m * outlet.height);
            self.network.elements_mut(outlet.edge)[outlet.slot] = Element::Source { pa: -inward };
        }
    }

    fn set_running(&mut self, running: Running) -> Result<(), Trouble> {
        for place in &self.fans {
            let runs = match running {
                Running::All | Running::FansAlone => true,
                Running::Nothing => false,
                Running::AllBut(fan) | Running::Instead(fan, _) => fan != place.fan,
            };
            let elements = self.network.elements_mut(EdgeId::from_index(place.edge));
            let shut = matches!(running, Running::Instead(fan, _) if fan == place.fan);
            let [first, second] = match &place.on {
                _ if shut => [Element::Quadratic { k: CLOSED }, Element::Quadratic { k: 0.0 }],
                Some(on) if runs => [on.clone(), Element::Quadratic { k: 0.0 }],
                _ => place.idle.clone(),
            };
            elements[place.element] = first;
            elements[place.element + 1] = second;
        }
        let others = match running {
            Running::All | Running::AllBut(_) => self.now.exhaust_m3_s,
            Running::Instead(_, flow) => self.now.exhaust_m3_s + flow,
            Running::Nothing | Running::FansAlone => 0.0,
        };
        self.network.set_extraction(self.indoors, others).map_err(|error| Trouble::of(&error))
    }

    /// Air that goes out through a fan in the last balance, m³/s; negative where it comes in.
    pub(crate) fn fan_flow_m3_s(&self, fan: usize) -> f64 {
        let place = self.fans.iter().find(|place| place.fan == fan);
        place.map_or(0.0, |place| self.flows[place.edge])
    }

    /// Air that all exhausts take out in the last balance with them on, m³/s.
    pub(crate) fn taken_m3_s(&self) -> f64 {
        let fans = self.fans.iter().filter(|place| !self.closed.contains(&place.edge));
        self.now.exhaust_m3_s + fans.map(|place| self.flows[place.edge]).sum::<f64>()
    }

    /// Pressure of a served room in the last balance; that of the house where it has no way out.
    pub(crate) fn room_pa(&self, room: usize) -> f64 {
        let Some((e, item)) = self.system.find(|o| *o == Owner::Door { room }) else {
            return self.indoors_pa;
        };
        let lost = self.network.element_losses_pa(EdgeId::from_index(e), &self.flows);
        let end = self.instance.first_element(e, item) + 1 - self.skip[e];
        self.indoors_pa - lost[..end.min(lost.len())].iter().sum::<f64>()
    }

    /// Resistance of a room's door in the last draw, Pa s²/m6.
    pub(crate) fn door_k(&self, room: usize) -> f64 {
        let Some((e, item)) = self.system.find(|o| *o == Owner::Door { room }) else { return 0.0 };
        match self.instance.elements(e).get(self.instance.first_element(e, item)) {
            Some(Element::Quadratic { k }) => *k,
            _ => 0.0,
        }
    }

    /// Density of the indoor air of the last draw, kg/m³.
    pub(crate) fn density_kg_m3(&self) -> f64 {
        self.now.density
    }

    /// What leaks in less what goes out in the last balance, m³/s: nought in a balance.
    #[cfg(test)]
    pub(crate) fn residual_m3_s(&self) -> f64 {
        let leaks: f64 = self.leaks.iter().map(|edge| self.flows[edge.index()]).sum();
        leaks - self.taken_m3_s()
    }
}

/// What wind and stack press inward at an opening `height` above the lowest floor, Pa.
fn inward_pa(wind_pa: f64, stack_pa_m: f64, height_m: f64) -> f64 {
    wind_pa - stack_pa_m * height_m
}

fn fan_spec(system: &System, fan: usize) -> Option<&FanSpec> {
    system.items().find_map(|(_, item)| match &item.spec {
        Spec::Fan(spec) if spec.fan == fan => Some(spec),
        _ => None,
    })
}

fn fan_places(system: &System, instance: &Instance<'_>, skip: &[usize]) -> Vec<FanPlace> {
    let rest = Element::Quadratic { k: 0.0 };
    let of_edge = |(e, edge): (usize, &Edge)| {
        let places = edge.items.iter().enumerate();
        places
            .filter_map(|(index, item)| match item.owner {
                Owner::Fan { fan } => Some(FanPlace {
                    fan,
                    edge: e,
                    element: instance.first_element(e, index) - skip[e],
                    on: None,
                    idle: [rest.clone(), rest.clone()],
                }),
                _ => None,
            })
            .collect::<Vec<_>>()
    };
    system.edges.iter().enumerate().flat_map(of_edge).collect()
}

fn terminal_kinds<'a>(job: &'a Job, edge: &Edge) -> &'a [TerminalKind] {
    let terminal = edge.items.iter().find_map(|item| match item.owner {
        Owner::Terminal { terminal } => Some(terminal),
        _ => None,
    });
    terminal.map_or(&[], |terminal| given::options(&job.terminals[terminal].kind))
}

/// Height of an outlet over that of the house, and its wind pressure coefficient; on a wall in the
/// lee, where wind draws on the fan. Where it ends is not known: on the wall.
fn outlet(job: &Job, edge: &Edge) -> (f64, f64) {
    let on_roof = |kind: &TerminalKind| {
        use TerminalKind::{
            Attic, GableCap, RidgeVent, RoofCap, SharedRiser, SoffitCap, SoffitVoid,
        };
        matches!(
            kind,
            RoofCap | GableCap | SoffitCap | SoffitVoid | RidgeVent | Attic | SharedRiser
        )
    };
    let kinds = terminal_kinds(job, edge);
    if !kinds.is_empty() && kinds.iter().all(on_roof) { (1.0, ROOF) } else { (0.5, LEEWARD) }
}

/// A run that ends in the dwelling takes no air out of it.
fn stays_indoors(job: &Job, edge: &Edge) -> bool {
    terminal_kinds(job, edge) == [TerminalKind::Indoors]
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test")]

    use dewpath_checkvalues::Tolerance::Relative;
    use dewpath_checkvalues::check;
    use dewpath_job::model::Library;

    use super::*;
    use crate::house::pressure;

    fn job(text: &str) -> Job {
        dewpath_job::read("job", text).unwrap().resolve(&Library::default()).unwrap()
    }

    /// A bath fan on a short duct, a dryer, a two-storey house of 16,000 ft3.
    fn text(air_changes: f64, dryer_cfm: f64) -> String {
        format!(
            "format = 1\nshow = \"us\"\n[site]\noutdoor = \"20 F\"\nindoor = \"70 F\"\n[dwelling]\nstoreys = 2\n\
             volume = \"16000 ft3\"\nair_changes = \"{air_changes} ACH50\"\n\
             appliance = {{ id = \"heater\", kind = \"water heater\", draft = \"natural\" }}\n\
             exhaust = {{ id = \"dryer\", kind = \"dryer\", airflow = \"{dryer_cfm} cfm\" }}\n\
             [room]\nkind = \"bathroom\"\ndoor = {{ gap = \"3/4 in\", width = \"30 in\", joints = \"30 cm2\" }}\n\
             [fan]\nrated = \"80 cfm at 0.25 inWC\"\n\
             [run]\nduct = \"smooth metal\"\nsize = \"4 in\"\nlength = \"10 ft\"\nelbows = 1\n\
             [terminal]\nkind = \"wall cap\"\n"
        )
    }

    fn with_house<T>(text: &str, case: impl FnOnce(&mut House<'_>) -> T) -> T {
        let job = job(text);
        let mut inputs = Inputs::new(64);
        let system = System::of(&job, &mut inputs);
        let asked = Asked::of(&job, Inputs::new(64));
        let conditions = Conditions::default();
        let mut house = House::new(&job, &system, &inputs, &asked, &conditions).unwrap();
        house.load(Draw::Likely).unwrap();
        case(&mut house)
    }

    /// Half of the leaks at 0.3 m, half at 5 m, 21 and -5 °C: the pressure at the floor without an exhaust and with 50 L/s
    /// (scipy 1.17.1, brentq on the same balance).
    #[test]
    fn two_leaks_in_the_stack_balance_as_published() {
        let mut builder = NetworkBuilder::new();
        let (outdoors, indoors) = (builder.fixed_node(0.0), builder.free_node());
        let both = check("INF-18");
        let law = PowerLaw::new(0.5 * both.input("C"), LEAK_EXPONENT).unwrap();
        for height in [0.3, 5.0] {
            let pa = inward_pa(0.0, both.input("drho") * GRAVITY_M_S2, height);
            builder.edge(outdoors, indoors, [Element::PowerLaw(law), Element::Source { pa }]);
        }
        let mut network = builder.build().unwrap();
        let mut solver = Solver::new();
        let floor_pa = [0.0, 0.05].map(|exhaust| {
            network.set_extraction(indoors, exhaust).unwrap();
            solver.solve(&network, None).unwrap().pressure_pa(indoors)
        });
        both.within(Relative(1e-7), "as close as the solver balances a house").all_hold(&floor_pa);
    }

    #[test]
    fn what_leaks_in_goes_out() {
        with_house(&text(5.0, 150.0), |house| {
            for draw in std::iter::once(Draw::Likely).chain((0..64).map(Draw::At)) {
                house.load(draw).unwrap();
                for weather in WEATHERS {
                    for running in [Running::All, Running::Instead(0, 0.06)] {
                        house.balance(running, weather).unwrap();
                        let taken_instead =
                            if let Running::Instead(_, flow) = running { flow } else { 0.0 };
                        let residual = house.residual_m3_s() - taken_instead;
                        assert!(residual.abs() < 1e-8, "{weather:?}: {residual}");
                    }
                }
            }
        });
    }

    /// Stack alone, fans alone and both: with stack the fans draw the house down further than alone.
    #[test]
    fn pressures_do_not_add_up() {
        with_house(&text(5.0, 150.0), |house| {
            let both = house.balance(Running::All, Weather::Calm).unwrap();
            let stack = house.balance(Running::Nothing, Weather::Calm).unwrap();
            let fans = house.balance(Running::All, Weather::Mild).unwrap();
            assert!(stack < -1.0 && fans < -1.0, "{stack} {fans}");
            assert!((both - (stack + fans)).abs() > 0.3, "{both} against {stack} + {fans}");
        });
    }

    /// Between its balances the curve for candidates stays within 2 % or 0.05 Pa of a balance of its own.
    #[test]
    fn a_candidate_is_read_off_a_curve_that_is_close() {
        for air_changes in [1.0, 3.0, 7.0] {
            with_house(&text(air_changes, 150.0), |house| {
                for weather in WEATHERS {
                    let highest = 0.15;
                    let curve = pressure::one_curve(house, 0, weather, highest).unwrap();
                    let off = house.balance(Running::Nothing, weather).unwrap();
                    for step in 0..=60 {
                        let flow = highest * f64::from(step) / 60.0;
                        let on = house.balance(Running::Instead(0, flow), weather).unwrap();
                        let (read, solved) = (pressure::read_off(&curve, flow), off - on);
                        let bound = (0.02 * solved.abs()).max(0.05);
                        assert!(
                            (read - solved).abs() <= bound,
                            "{air_changes} {weather:?} {flow}: {read} against {solved}"
                        );
                    }
                }
            });
        }
    }
}
