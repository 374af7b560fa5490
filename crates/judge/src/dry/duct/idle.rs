//! The duct at rest and in summer: outdoor air past a flap that does not shut, and a cool duct in humid surroundings.

use dewpath_air::moist_air::{DRY_AIR_GAS_CONSTANT, FREEZING_K};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::weather::{means, month_hours};
use dewpath_job::model::{DamperKind, PartKind, Run, RunShape, Season, Terminal};
use dewpath_message::slot::{AirflowLS, InsulationRsi, TemperatureC};
use dewpath_moisture::duct::line::{Around, DuctLine, Inlet, Piece};
use dewpath_moisture::heat::{
    LABEL_CONDUCTIVITY_W_M_K, SWEATING, film_outside_w_m2_k, thickness_against_sweating,
};
use dewpath_moisture::saturation::Saturation;
use dewpath_moisture::weather::Weather;
use dewpath_report::say::{
    DuctIdleBackflow, DuctIdleBackflowKey, DuctIdleBackflowNoWeather, DuctIdleBackflowTight,
    DuctIdleBackflowUnknown, DuctSweating, DuctSweatingKey, Equation, Judgement, SourceText, Todo,
    TodoWrapVapourTight, What,
};
use dewpath_report::{
    Check, Figure, Finding, Provenance, Source, Step, Triple, Verdict, WorkingInput,
};
use dewpath_units::{Length, Pressure, Temperature};

use super::super::model::humidity_ratio;
use super::super::plan::Plan;
use super::findings::{by_heat_and_mass, is_water};
use super::follow::{Climate, Scene};
use super::plan::{Path, celsius, ends, unheated};
use crate::law;

/// Set-point of a cooling that nobody wrote, °C. Common practice, no source.
const COOLING_C: f64 = 24.5;
/// Free area from which a flap counts as one that does not shut, m². Judgement: a tenth of a square centimetre.
const TIGHT_M2: f64 = 1e-5;
/// Pressure of outdoors over the duct at rest, Pa. Judgement: a wind of 4 m/s that blows onto the outlet, of whose
/// 10 Pa two fifths count.
const IDLE_PA: f64 = 4.0;
/// Flow coefficient of the gap at a flap; sharp-edged (common practice, no source).
const GAP: f64 = 0.6;
/// Outdoor air that is felt as a draught at the grille, m³/s. Judgement, as for the house.
const FELT_M3_S: f64 = 0.002;
/// Resistance of a fan at rest, Pa s²/m6: that of the network of the fans, shut-off pressure over free flow squared of a
/// small centrifugal fan. Judgement, no source.
const FAN_AT_REST: f64 = 6e4;
/// A night at rest, h.
const NIGHT_H: usize = 8;
/// Humidity of a heated dwelling in winter where no shower is followed. Judgement.
const INDOOR_RH: f64 = 0.4;

/// A run in summer, piece by piece.
pub(super) struct Summer {
    pub pieces: Vec<PieceSummer>,
    air_c: f64,
}

/// A piece in summer.
#[derive(Clone, Copy)]
pub(super) struct PieceSummer {
    pub outside_c: f64,
    pub dew_point_c: f64,
    /// Whether humid outdoor air surrounds it.
    exposed: bool,
    around_c: f64,
    needed_rsi: Option<f64>,
}

/// What was found of ducts at rest.
#[derive(Default)]
pub(super) struct Idle {
    pub findings: Vec<Finding>,
    /// Whether outdoor air comes past a flap.
    pub flap_leaks: Option<bool>,
    /// Inner wall of a duct at rest in summer, °C, and the dew point outdoors then.
    pub wall_c: Option<f64>,
    pub outdoor_dew_c: Option<f64>,
    /// Coldest outer surface in summer, °C, and the dew point around it.
    pub outside_c: Option<f64>,
    pub around_dew_c: Option<f64>,
}

/// Warm and humid weather: mean temperature of the most humid month and its humidity ratio; the latter none where only a hot
/// reference case is written.
#[derive(Clone, Copy)]
struct Hot {
    t_c: f64,
    w: Option<f64>,
}

fn likely_c(case: &Case<'_>) -> f64 {
    case.inputs.value(case.system.air.indoor, Draw::Likely) - 273.15
}

fn pressure_pa(case: &Case<'_>) -> Option<f64> {
    let altitude = case.inputs.value(case.system.air.altitude, Draw::Likely);
    Some(dewpath_air::atmosphere::standard_pressure(Length::from_m(altitude)).ok()?.pa())
}

fn hot(case: &Case<'_>, weather: Option<&Weather>) -> Option<Hot> {
    let of_month = |weather: &Weather| {
        (0..12)
            .filter_map(|month| means(month_hours(weather, month)))
            .max_by(|a, b| a.2.total_cmp(&b.2))
            .map(|(t_k, _, w)| Hot { t_c: t_k - 273.15, w: Some(w) })
    };
    if let Some(weather) = weather {
        return of_month(weather);
    }
    let outdoor = celsius(&case.job.site.outdoor)?;
    (outdoor > likely_c(case)).then_some(Hot { t_c: outdoor, w: None })
}

/// Air that a cooled dwelling draws through its ducts, °C; none where nothing says that it is cooler than outdoors.
fn cool_c(case: &Case<'_>) -> Option<f64> {
    let dwelling = &case.job.dwelling;
    if let Some(cooling) = celsius(&dwelling.cooling) {
        return Some(cooling);
    }
    if given::yes(&dwelling.air_conditioning) == Some(true) {
        return Some(COOLING_C);
    }
    let outdoor = celsius(&case.job.site.outdoor)?;
    (outdoor > likely_c(case)).then(|| likely_c(case))
}

/// The runs of a path in the most humid month; none where the duct cannot be colder than what surrounds it, or nothing is
/// known of the summer.
pub(super) fn summer(scene: &Scene<'_>, weather: Option<&Weather>) -> Option<Vec<Summer>> {
    let case = scene.case;
    let (hot, air_c) = (hot(case, weather)?, cool_c(case)?);
    let outdoor_w = hot.w?;
    let pressure_pa = pressure_pa(case)?;
    let table = Saturation::shared();
    // A cooled dwelling is no more humid than outdoors, nor than half of saturation by much.
    let house_w = humidity_ratio(table, air_c, 0.6, pressure_pa).min(outdoor_w);
    let climate = Climate {
        house_c: air_c,
        house_w,
        outdoor_c: hot.t_c,
        outdoor_w,
        pressure_pa,
        vented: true,
    };
    (0..scene.path.runs.len()).map(|run| summer_run(scene, run, &climate, air_c)).collect()
}

fn summer_run(scene: &Scene<'_>, run: usize, climate: &Climate, air_c: f64) -> Option<Summer> {
    let air = Temperature::from_c(air_c);
    let table = Saturation::shared();
    let pieces = scene.pieces(run, Draw::Likely, climate, air_c, None)?;
    let pieces = pieces
        .iter()
        .map(|now| {
            let around = Temperature::from_c(now.around.t_c);
            let dew_point_c = table.dew_point_c(now.around.w, climate.pressure_pa);
            let dew = Temperature::from_c(dew_point_c);
            let outside = now.wall.outer_temperature(air, around, now.film_inside).ok()?;
            let diameter = now.piece.diameter;
            let over = Length::from_m(diameter.m() + 0.04);
            let film = film_outside_w_m2_k(dew, &now.surroundings, over).ok()?;
            let thickness = thickness_against_sweating(
                diameter,
                LABEL_CONDUCTIVITY_W_M_K,
                air,
                around,
                dew,
                now.film_inside,
                film,
            )
            .ok()?;
            Some(PieceSummer {
                outside_c: outside.c(),
                dew_point_c,
                exposed: unheated(now.place),
                around_c: now.around.t_c,
                needed_rsi: thickness.map(|t| t.m() / LABEL_CONDUCTIVITY_W_M_K),
            })
        })
        .collect::<Option<Vec<_>>>()?;
    Some(Summer { pieces, air_c })
}

/// Whether the outside of a run sweats in summer; none where humid outdoor air does not reach it.
pub(super) fn sweating(scene: &Scene<'_>, index: usize, summer: &Summer) -> Option<Finding> {
    let worst =
        summer.pieces.iter().filter(|piece| piece.exposed).min_by(|a, b| {
            (a.outside_c - a.dew_point_c).total_cmp(&(b.outside_c - b.dew_point_c))
        })?;
    let id = &scene.case.job.runs[scene.path.runs[index].run].id;
    let outside = TemperatureC(Triple::exact(worst.outside_c));
    let dew = TemperatureC(Triple::exact(worst.dew_point_c));
    let sweats = worst.outside_c < worst.dew_point_c;
    let needed = worst.needed_rsi.map(|rsi| InsulationRsi(Triple::exact(rsi)));
    let (verdict, key) = match (sweats, needed.is_some()) {
        (false, _) => (Verdict::Holds, DuctSweatingKey::Holds),
        (true, true) => (Verdict::Caution, DuctSweatingKey::Found),
        (true, false) => (Verdict::Caution, DuctSweatingKey::NoneSuffices),
    };
    let message = DuctSweating { key, outside, dew, needed };
    let input = |symbol: &str, what: What, t: f64| {
        WorkingInput::new(
            symbol,
            what,
            Figure::TemperatureC(Triple::exact(t)),
            Provenance::Computed,
        )
    };
    let step = Step {
        equation: "T_outside = T_around + (T_air - T_around) R_film / (1/h + R)".into(),
        inputs: vec![
            input("T_air", What::DuctAir, summer.air_c),
            input("T_around", What::DuctAround, worst.around_c),
            input("T_dew", What::DewAround, worst.dew_point_c),
        ],
        result: Some(outside.into()),
        source: by_heat_and_mass(),
    };
    let source = Source::confirmed(SourceText::Psychrometrics, SourceText::BelowDewPoint);
    let mut made = Finding::new(Check::DuctSweating, id, verdict, message, source)
        .figure(outside)
        .limit(dew)
        .step(step);
    if let (true, Some(needed)) = (sweats, needed) {
        let dew = input("T_dew", What::DewAround, worst.dew_point_c);
        made = made.step(law::step(&SWEATING, vec![dew], Some(needed.into())));
        made = made.todo(TodoWrapVapourTight { needed: Some(needed) });
    }
    Some(made)
}

/// Whether outdoor air can come in past the outlet of a run while its fan rests; none where nobody wrote enough.
fn leaks(case: &Case<'_>, run: &Run, terminal: &Terminal) -> Option<bool> {
    let fans = case.fans_of(run);
    let own: Vec<Option<bool>> =
        fans.iter().map(|&fan| given::yes(&case.job.fans[fan].data.damper)).collect();
    let in_run = matches!(&run.shape, RunShape::Parts(parts) if parts.iter().any(|part| matches!(
        &part.kind,
        PartKind::Damper { kind, .. } if given::options(kind) == [DamperKind::Backdraft]
    )));
    let at_outlet = match (given::likely(&terminal.leak), given::has_flap(terminal)) {
        (Some(area), _) => Some(area.m2() > TIGHT_M2),
        (None, Some(false)) => Some(true),
        (None, _) => None,
    };
    match at_outlet {
        // A flap in the fan or the run may hold what the outlet lets in; how well nobody wrote.
        Some(true) if in_run || own.iter().any(|damper| *damper != Some(false)) => None,
        known => known,
    }
}

/// Air that comes in, m³/s: through the gap that is written, or through a fan at rest where there is no flap.
fn inward_m3_s(terminal: &Terminal, density: f64) -> f64 {
    match given::likely(&terminal.leak) {
        Some(area) => GAP * area.m2() * (2.0 * IDLE_PA / density).sqrt(),
        None => (IDLE_PA / FAN_AT_REST).sqrt(),
    }
}

/// A night of outdoor air that comes in: the coldest wall at its end, °C, and what settled, kg.
fn night(scene: &Scene<'_>, index: usize, kg_s: f64, climate: &Climate) -> Option<(f64, f64)> {
    let now = scene.pieces(index, Draw::Likely, climate, climate.house_c, None)?;
    let pieces: Vec<Piece> = now.iter().map(|p| p.piece).collect();
    let around: Vec<Around> = now.iter().map(|p| p.around).collect();
    let mut line = DuctLine::new(&pieces, &around, Pressure::from_pa(climate.pressure_pa)).ok()?;
    let start = line.snapshot();
    for _ in 0..NIGHT_H * 6 {
        let inlet = Inlet { dry_air_kg_s: -kg_s, t_c: climate.outdoor_c, w: climate.outdoor_w };
        line.step(600.0, inlet).ok()?;
    }
    let coldest = (0..line.cell_count()).filter_map(|cell| line.wall_c(cell)).reduce(f64::min)?;
    Some((coldest, line.story_since(&start).condensed_kg))
}

/// Season that a symptom of water is told of.
fn told_season(case: &Case<'_>) -> Option<Season> {
    case.job
        .symptoms
        .iter()
        .filter(|symptom| is_water(symptom.kind))
        .find_map(|symptom| given::member(&symptom.season))
}

/// Ducts at rest.
pub(super) fn idle(
    case: &Case<'_>,
    plan: Option<(&Plan, &[Path])>,
    weather: Option<&Weather>,
) -> Idle {
    let mut idle = Idle::default();
    for (run, terminal) in ends(case.job) {
        let leaky = leaks(case, run, terminal);
        idle.flap_leaks = match (idle.flap_leaks, leaky) {
            (Some(true), _) => Some(true),
            (known, None) => known,
            (_, told) => told,
        };
        let found = plan.and_then(|(plan, paths)| {
            paths.iter().find_map(|path| {
                let index = path.runs.iter().position(|r| case.job.runs[r.run].id == run.id)?;
                Some((Scene { case, plan, path }, index))
            })
        });
        let water = case.job.symptoms.iter().any(|symptom| is_water(symptom.kind));
        match leaky {
            Some(true) => {
                let Some((scene, index)) = found else { continue };
                idle.findings.push(backflow(&scene, index, terminal, weather));
            }
            Some(false) => idle.findings.push(tight(&run.id)),
            None if water && !case.fans_of(run).is_empty() => {
                idle.findings.push(flap_unknown(&run.id));
            }
            None => {}
        }
    }
    summer_evidence(case, plan, weather, &mut idle);
    idle
}

/// Inner and outer surfaces in summer, for the questions about a drip.
fn summer_evidence(
    case: &Case<'_>,
    plan: Option<(&Plan, &[Path])>,
    weather: Option<&Weather>,
    idle: &mut Idle,
) {
    let Some((plan, paths)) = plan else { return };
    let Some(pressure) = pressure_pa(case) else { return };
    let dew = |w: f64| Saturation::shared().dew_point_c(w, pressure);
    for path in paths {
        let scene = Scene { case, plan, path };
        for summer in summer(&scene, weather).into_iter().flatten() {
            for piece in &summer.pieces {
                let wall = summer.air_c.min(piece.around_c);
                idle.wall_c = Some(idle.wall_c.map_or(wall, |known| known.min(wall)));
                if piece.exposed && idle.outside_c.is_none_or(|known| piece.outside_c < known) {
                    idle.outside_c = Some(piece.outside_c);
                    idle.around_dew_c = Some(piece.dew_point_c);
                }
            }
        }
    }
    idle.outdoor_dew_c = hot(case, weather).and_then(|hot| hot.w).map(dew);
}

fn source() -> Source {
    Source::judgement(Judgement::WindPastFlap)
}

fn tight(run: &str) -> Finding {
    let message = DuctIdleBackflowTight {};
    Finding::new(Check::DuctIdleBackflow, run, Verdict::Holds, message, source())
}

fn flap_unknown(run: &str) -> Finding {
    let message = DuctIdleBackflowUnknown {};
    Finding::new(Check::DuctIdleBackflow, run, Verdict::Unknown, message, source())
        .todo(Todo::LookFlap)
}

/// Outdoor air past the flap: in winter it cools the duct below the dew point of the room, in summer it brings its
/// own vapour into a cooled one. The season that is told counts, else the worse of both.
fn backflow(
    scene: &Scene<'_>,
    index: usize,
    terminal: &Terminal,
    weather: Option<&Weather>,
) -> Finding {
    let told = told_season(scene.case);
    let mut rests: Vec<Rest> = Vec::new();
    if told != Some(Season::Summer) {
        rests.extend(in_winter(scene, index, terminal));
    }
    if told != Some(Season::Winter) || rests.is_empty() {
        rests.extend(in_summer(scene, index, terminal, weather));
    }
    let run = &scene.case.job.runs[scene.path.runs[index].run].id;
    let worst = rests.into_iter().max_by(|a, b| a.margin_k().total_cmp(&b.margin_k()));
    worst.map_or_else(
        || {
            let message = DuctIdleBackflowNoWeather {};
            Finding::new(Check::DuctIdleBackflow, run, Verdict::Unknown, message, source())
                .todo(Todo::WriteMonths)
        },
        |worst| worst.finding(run),
    )
}

/// Outdoor air in a duct at rest, in one season.
struct Rest {
    summer: bool,
    outdoor_c: f64,
    wall_c: f64,
    dew_c: f64,
    night_kg: f64,
    inward_m3_s: f64,
}

fn in_winter(scene: &Scene<'_>, index: usize, terminal: &Terminal) -> Option<Rest> {
    let case = scene.case;
    let inputs = &scene.plan.inputs;
    let dwelling = &scene.plan.dwelling;
    let pressure_pa = pressure_pa(case)?;
    let house_c = likely_c(case);
    let outdoor_c = inputs.value(dwelling.outdoor, Draw::Likely) - 273.15;
    if outdoor_c >= house_c {
        return None;
    }
    let table = Saturation::shared();
    let rh = |id| inputs.value(id, Draw::Likely);
    let house_w = humidity_ratio(table, house_c, rh(dwelling.humidity), pressure_pa);
    let outdoor_w = humidity_ratio(table, outdoor_c, rh(dwelling.outdoor_rh), pressure_pa);
    let climate = Climate { house_c, house_w, outdoor_c, outdoor_w, pressure_pa, vented: false };
    let density = pressure_pa / (DRY_AIR_GAS_CONSTANT * (outdoor_c + FREEZING_K));
    let inward_m3_s = inward_m3_s(terminal, density);
    let (wall_c, night_kg) = night(scene, index, inward_m3_s * density, &climate)?;
    let dew_c = table.dew_point_c(house_w, pressure_pa);
    Some(Rest { summer: false, outdoor_c, wall_c, dew_c, night_kg, inward_m3_s })
}

fn in_summer(
    scene: &Scene<'_>,
    index: usize,
    terminal: &Terminal,
    weather: Option<&Weather>,
) -> Option<Rest> {
    let case = scene.case;
    let (hot, air_c) = (hot(case, weather)?, cool_c(case)?);
    let outdoor_w = hot.w?;
    let pressure_pa = pressure_pa(case)?;
    let table = Saturation::shared();
    let house_w = humidity_ratio(table, air_c, INDOOR_RH, pressure_pa);
    let climate = Climate {
        house_c: air_c,
        house_w,
        outdoor_c: hot.t_c,
        outdoor_w,
        pressure_pa,
        vented: true,
    };
    let density = pressure_pa / (DRY_AIR_GAS_CONSTANT * (hot.t_c + FREEZING_K));
    let inward_m3_s = inward_m3_s(terminal, density);
    let (_, night_kg) = night(scene, index, inward_m3_s * density, &climate)?;
    let around = scene.pieces(index, Draw::Likely, &climate, air_c, None)?;
    let wall_c = around.iter().map(|p| p.around.t_c).fold(air_c, f64::min);
    let dew_c = table.dew_point_c(outdoor_w, pressure_pa);
    Some(Rest { summer: true, outdoor_c: hot.t_c, wall_c, dew_c, night_kg, inward_m3_s })
}

impl Rest {
    fn margin_k(&self) -> f64 {
        self.dew_c - self.wall_c
    }

    fn finding(&self, run: &str) -> Finding {
        let wet = self.margin_k() > 0.0;
        let felt = self.inward_m3_s >= FELT_M3_S;
        let (key, verdict) = match (self.summer, wet) {
            (true, true) => (DuctIdleBackflowKey::Humid, Verdict::Caution),
            (false, true) => (DuctIdleBackflowKey::Cold, Verdict::Caution),
            (_, false) if felt => (DuctIdleBackflowKey::Draught, Verdict::Caution),
            (_, false) => (DuctIdleBackflowKey::Dry, Verdict::Holds),
        };
        let wall = TemperatureC(Triple::exact(self.wall_c));
        let dew = TemperatureC(Triple::exact(self.dew_c));
        let inward = AirflowLS(Triple::exact(1000.0 * self.inward_m3_s));
        let message = DuctIdleBackflow { key, wall, dew, inward };
        let input = |symbol: &str, what: What, figure: Figure| {
            WorkingInput::new(symbol, what, figure, Provenance::Computed)
        };
        let step = Step {
            equation: Equation::IdleInward.into(),
            inputs: vec![
                input("p", What::IdlePressure, Figure::PressurePa(Triple::exact(IDLE_PA))),
                input("q", What::IdleInward, inward.into()),
                input("T_out", What::Outdoor, Figure::TemperatureC(Triple::exact(self.outdoor_c))),
                input(
                    "water",
                    What::IdleWater,
                    Figure::MassG(Triple::exact(1000.0 * self.night_kg)),
                ),
            ],
            result: Some(wall.into()),
            source: by_heat_and_mass(),
        };
        let made = Finding::new(Check::DuctIdleBackflow, run, verdict, message, source())
            .figure(wall)
            .limit(dew)
            .step(step);
        if verdict == Verdict::Caution { made.todo(Todo::TightFlap) } else { made }
    }
}
