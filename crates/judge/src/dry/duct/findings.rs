//! What the water in a run means: findings with figures, workings and what to do.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::category::Category as _;
use dewpath_job::model::{SlopeTo, Surroundings, SymptomKind};
use dewpath_message::slot::{Count, InsulationRsi, MassG, Name, Reference, TemperatureC};
use dewpath_moisture::duct::line::ALONG_A_DUCT;
use dewpath_moisture::heat::LAYERS;
use dewpath_report::say::{
    DuctCondensate, DuctCondensateNet, DuctCondensateNetKey, DuctCondensateShower,
    DuctCondensateShowerKey, DuctDrain, DuctDrainKey, DuctFrost, DuctFrostKey, DuctIdleDrift,
    DuctIdleDriftKey, DuctInsulationNeeded, DuctInsulationNeededKey, EngineResidual, Equation,
    EquationDaysInARow, Judgement, Todo, What,
};
use dewpath_report::{
    Check, Figure, Finding, InsulationNeed, Message, Provenance, Source, Step, Triple, Verdict,
    WorkingInput,
};

use super::super::day::Day;
use super::follow::{MOST_DAYS, RunDay, RunDays, Scene, grams, room_dew_c};
use super::need::DAILY_LIMIT_G;
use super::plan::{PiecePlan, RunPlan, ducts, unheated};
use crate::law;
use crate::verdict::by_chance;

/// Water that may settle in one shower, g. Judgement: a teaspoon; a warm duct takes none, and what a cold one takes must
/// dry again before the next shower or run.
const SHOWER_LIMIT_G: f64 = 5.0;
/// Frost that counts, g. Judgement: a thin rime on the first metre.
const FROST_G: f64 = 1.0;
/// A rise from the fan that is common before a run falls outdoors, m. Common practice, no source.
const SHORT_RISE_M: f64 = 0.9;

/// Heat and mass transfer along a duct.
pub(super) fn by_heat_and_mass() -> Source {
    law::source(&ALONG_A_DUCT)
}

/// Whether a symptom is one of water.
pub(super) fn is_water(kind: SymptomKind) -> bool {
    matches!(kind, SymptomKind::Drip | SymptomKind::Stain | SymptomKind::Frost)
}

/// The run cannot be followed.
pub(super) fn not_followed(scene: &Scene<'_>) -> Option<Finding> {
    let run = &scene.case.job.runs[scene.path.runs.first()?.run].id;
    Some(Finding::new(
        Check::DuctCondensateShower,
        run,
        Verdict::Unknown,
        DuctCondensate::NotFollowed,
        by_heat_and_mass(),
    ))
}

/// Runs of which nobody wrote what surrounds them, where water was seen.
pub(super) fn unknown_places(case: &Case<'_>) -> Vec<Finding> {
    let water = case.job.symptoms.iter().any(|symptom| is_water(symptom.kind));
    let open = |run: &&dewpath_job::model::Run| {
        let pieces = ducts(run);
        !case.fans_of(run).is_empty()
            && pieces.iter().any(|(_, duct)| given::options(&duct.place).is_empty())
            && (water || pieces.iter().any(|(_, duct)| duct.place.is_some()))
    };
    case.job
        .runs
        .iter()
        .filter(open)
        .map(|run| {
            Finding::new(
                Check::DuctCondensateShower,
                &run.id,
                Verdict::Unknown,
                DuctCondensate::NoPlace,
                by_heat_and_mass(),
            )
            .todo(Todo::WritePlace)
        })
        .collect()
}

/// Everything about one run.
pub(super) fn run(
    scene: &Scene<'_>,
    index: usize,
    days: &RunDays<'_>,
    day: &Day,
    need: Option<&InsulationNeed>,
) -> Vec<Finding> {
    let plan = &scene.path.runs[index];
    let id = &scene.case.job.runs[plan.run].id;
    let judge = Judge { scene, plan, id, days, day };
    let mut list = vec![judge.shower(), judge.net()];
    list.extend(judge.frost());
    list.extend(judge.drift());
    list.extend(need.and_then(|need| judge.insulation(need, index)));
    list.extend(judge.drain());
    list.extend(judge.residual());
    list
}

/// What settles at rest, as far as the air of the fan's use does not take it off again.
fn left_at_rest_kg(day: &RunDay) -> f64 {
    day.drift_kg.min(day.net_kg).max(0.0)
}

struct Judge<'a> {
    scene: &'a Scene<'a>,
    plan: &'a RunPlan,
    id: &'a str,
    days: &'a RunDays<'a>,
    day: &'a Day,
}

impl Judge<'_> {
    fn mass(&self, of: fn(&RunDay) -> f64) -> MassG {
        MassG(self.days.sample(|day| grams(of(day))).triple())
    }

    fn in_the_cold(&self) -> bool {
        let own = &self.scene.plan.inputs;
        self.plan.pieces.iter().any(|piece| unheated(piece.place.value(own, Draw::Likely)))
    }

    /// Water of one shower.
    fn shower(&self) -> Finding {
        let source = Source::judgement(Judgement::TeaspoonAShower);
        let chance = self.days.chance(|day| grams(day.shower_kg) <= SHOWER_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => DuctCondensateShowerKey::Holds,
            Verdict::Unknown => DuctCondensateShowerKey::Unknown,
            Verdict::Caution | Verdict::Fails => DuctCondensateShowerKey::Found,
        };
        let figure = self.mass(|day| day.shower_kg);
        let limit = MassG(Triple::exact(SHOWER_LIMIT_G));
        let message = Message::from(DuctCondensateShower {
            key,
            water: figure,
            limit,
            outdoor: TemperatureC(Triple::exact(self.day.outdoor_c)),
        });
        let mut made = Finding::new(Check::DuctCondensateShower, self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        made.working = self.working(figure.into());
        self.with_cure(made)
    }

    /// Water that a day leaves.
    fn net(&self) -> Finding {
        let source = Source::judgement(Judgement::TeaspoonADay);
        let chance = self.days.chance(|day| grams(day.net_kg) <= DAILY_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => DuctCondensateNetKey::Holds,
            Verdict::Unknown => DuctCondensateNetKey::Unknown,
            Verdict::Caution | Verdict::Fails => DuctCondensateNetKey::Found,
        };
        let figure = self.mass(|day| day.net_kg);
        let limit = MassG(Triple::exact(DAILY_LIMIT_G));
        let message = DuctCondensateNet {
            key,
            water: figure,
            limit,
            back: self.mass(|day| day.back_kg),
            out: self.mass(|day| day.out_kg),
            stands: self.mass(|day| day.stands_kg),
        };
        let mut made = Finding::new(Check::DuctCondensateNet, self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        made.working = vec![self.day_step(figure.into())];
        self.with_cure(made)
    }

    fn with_cure(&self, made: Finding) -> Finding {
        if made.verdict != Verdict::Caution {
            return made;
        }
        let made = if self.in_the_cold() { made.todo(Todo::Insulate) } else { made };
        made.todo(Todo::RunOn)
    }

    /// Frost of the first day, where anything around the duct lies below freezing.
    fn frost(&self) -> Option<Finding> {
        let frosty = self.days.likely.pieces.iter().any(|piece| piece.around_c < 0.0);
        if !frosty {
            return None;
        }
        let source = Source::judgement(Judgement::GramOfFrost);
        let chance = self.days.chance(|day| grams(day.frost_kg) <= FROST_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => DuctFrostKey::Holds,
            Verdict::Unknown => DuctFrostKey::Unknown,
            Verdict::Caution | Verdict::Fails => DuctFrostKey::Found,
        };
        let figure = self.mass(|day| day.frost_kg);
        let limit = Figure::MassG(Triple::exact(FROST_G));
        let coldest = TemperatureC(self.days.sample(|day| day.coldest_c).triple());
        let message = Message::from(DuctFrost { key, frost: figure, coldest });
        let mut made = Finding::new(Check::DuctFrost, self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        made.working = vec![self.day_step(figure.into())];
        Some(self.with_cure(made))
    }

    /// Vapour that rises into the duct while the fan rests.
    fn drift(&self) -> Option<Finding> {
        if !self.in_the_cold() {
            return None;
        }
        let source = Source::judgement(Judgement::TeaspoonAtRest);
        let chance = self.days.chance(|day| grams(left_at_rest_kg(day)) <= DAILY_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => DuctIdleDriftKey::Holds,
            Verdict::Unknown => DuctIdleDriftKey::Unknown,
            Verdict::Caution | Verdict::Fails => DuctIdleDriftKey::Found,
        };
        let figure = self.mass(left_at_rest_kg);
        let limit = MassG(Triple::exact(DAILY_LIMIT_G));
        let message = DuctIdleDrift { key, water: figure, limit };
        let mut made = Finding::new(Check::DuctIdleDrift, self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        let inputs = &self.scene.plan.inputs;
        let mut step = self.day_step(figure.into());
        step.inputs.push(inputs.in_working("q_rest", self.scene.plan.dwelling.idle_duct));
        made.working = vec![step];
        Some(if verdict == Verdict::Holds {
            made
        } else {
            made.todo(Todo::TightFlap).todo(Todo::LookFlap)
        })
    }

    /// Whether more insulation would help, and how much.
    fn insulation(&self, need: &InsulationNeed, index: usize) -> Option<Finding> {
        let has = self.plan.pieces.iter().filter(|piece| self.cold(piece));
        let has = has
            .map(|piece| self.scene.plan.inputs.triple(piece.insulation))
            .reduce(|a, b| if a.likely <= b.likely { a } else { b })?;
        let net = super::need::now_g(self.scene, index, self.day)?;
        let enough = net <= DAILY_LIMIT_G;
        let known = self.plan.pieces.iter().all(|piece| piece.insulation_known);
        let (verdict, key) = match (enough, need.needed_rsi, &need.product) {
            (true, ..) if known => (Verdict::Holds, DuctInsulationNeededKey::Holds),
            (true, ..) => (Verdict::Unknown, DuctInsulationNeededKey::Unknown),
            (false, Some(_), Some(_)) => (Verdict::Caution, DuctInsulationNeededKey::Product),
            (false, Some(_), None) => (Verdict::Caution, DuctInsulationNeededKey::Found),
            (false, None, _) => (Verdict::Caution, DuctInsulationNeededKey::NoneSuffices),
        };
        let has = InsulationRsi(has);
        let limit = MassG(Triple::exact(need.limit_g));
        let needed = need.needed_rsi.map(|rsi| InsulationRsi(Triple::exact(rsi)));
        let product = need.product.as_ref().map(Name::new);
        let message = DuctInsulationNeeded { key, has, limit, needed, product };
        let source = Source::judgement(Judgement::WinterDayWater);
        let mut made = Finding::new(Check::DuctInsulationNeeded, self.id, verdict, message, source)
            .figure(has);
        made.limit = needed.map(Figure::from);
        let net = Figure::MassG(Triple::exact(net));
        made.working = vec![Step {
            equation: Equation::LeastInsulation.into(),
            inputs: vec![
                WorkingInput::new("R", What::DuctInsulation, has.into(), Provenance::Written),
                WorkingInput::new("m_net", What::NetWater, net, Provenance::Computed),
                WorkingInput::new("limit", What::WaterLimit, limit.into(), Provenance::Default),
            ],
            result: needed.map(Figure::from),
            source: by_heat_and_mass(),
        }];
        if verdict == Verdict::Caution {
            made.todo.extend(need.instead.iter().cloned());
            if need.needed_rsi.is_some() {
                made.todo.push(Message::from(Todo::Insulate));
            }
        }
        if verdict == Verdict::Unknown {
            made.todo.push(Message::from(Todo::LookInsulation));
        }
        Some(made)
    }

    fn cold(&self, piece: &PiecePlan) -> bool {
        unheated(piece.place.value(&self.scene.plan.inputs, Draw::Likely))
    }

    /// Where water runs to.
    fn drain(&self) -> Option<Finding> {
        let own = &self.scene.plan.inputs;
        let slope = |piece: &PiecePlan| piece.slope.value(own, Draw::Likely);
        let pieces = &self.plan.pieces;
        let wet = grams(self.days.likely.net_kg.max(self.days.likely.shower_kg)) > 1.0;
        let source = Source::practice();
        let filling = |key: DuctDrainKey, verdict: Verdict, days: Option<f64>| {
            let days = days.map(|days| Count(Triple::exact(days)));
            let message = DuctDrain { key, back: self.mass(|day| day.back_kg), days };
            let mut made =
                Finding::new(Check::DuctDrain, self.id, verdict, message, source.clone());
            made.working = vec![self.drain_step()];
            made
        };
        let make = |key: DuctDrainKey, verdict: Verdict| filling(key, verdict, None);
        if self.plan.slope_unknown {
            return wet
                .then(|| make(DuctDrainKey::Unknown, Verdict::Unknown).todo(Todo::LookSlope));
        }
        let out = |piece: &PiecePlan| slope(piece) == SlopeTo::Out;
        let low = pieces.iter().any(|piece| slope(piece) == SlopeTo::Low);
        if low {
            return Some(if self.plan.trap {
                make(DuctDrainKey::Trap, Verdict::Holds)
            } else {
                let key = if self.days.likely.closed {
                    DuctDrainKey::Closed
                } else {
                    DuctDrainKey::LowPoint
                };
                filling(key, Verdict::Caution, self.days_to_full())
                    .todo(Todo::SlopeOut)
                    .todo(Todo::Trap)
            });
        }
        if pieces.iter().all(out) {
            return Some(make(DuctDrainKey::Out, Verdict::Holds));
        }
        let first_out = pieces.iter().position(out).unwrap_or(pieces.len());
        let rise: f64 = pieces[..first_out]
            .iter()
            .map(|piece| self.scene.case.inputs.value(piece.length, Draw::Likely))
            .sum();
        if first_out < pieces.len() && pieces[first_out..].iter().all(out) && rise <= SHORT_RISE_M {
            return Some(make(DuctDrainKey::ShortRise, Verdict::Holds));
        }
        if !wet && !self.in_the_cold() {
            return Some(make(DuctDrainKey::Dry, Verdict::Holds));
        }
        if self.plan.trap {
            return Some(make(DuctDrainKey::Trap, Verdict::Holds));
        }
        let back = pieces.iter().any(|piece| slope(piece) == SlopeTo::Back);
        let key = if back { DuctDrainKey::Back } else { DuctDrainKey::Level };
        Some(make(key, Verdict::Caution).todo(Todo::SlopeOut).todo(Todo::Trap))
    }

    /// Days until the low point is full at the net water of a day; none where it never fills.
    fn days_to_full(&self) -> Option<f64> {
        let day = self.days.likely;
        let holds = day.low_point_kg?;
        (day.net_kg > 1e-5).then(|| (holds / day.net_kg).ceil().max(1.0))
    }

    fn drain_step(&self) -> Step {
        let input = |symbol: &str, what: What, of: fn(&RunDay) -> f64| {
            WorkingInput::new(symbol, what, self.mass(of).into(), Provenance::Computed)
        };
        Step {
            equation: "m_net = m_back + m_out + m_stands + m_frost".into(),
            inputs: vec![
                input("m_back", What::WaterBack, |day| day.back_kg),
                input("m_out", What::WaterOut, |day| day.out_kg),
                input("m_stands", What::WaterStands, |day| day.stands_kg),
            ],
            result: Some(self.mass(|day| day.net_kg).into()),
            source: Source::judgement(Judgement::WallCarries),
        }
    }

    /// Water or heat that went astray.
    fn residual(&self) -> Option<Finding> {
        let worst = self.days.worst(|day| day.residual);
        (worst.is_nan() || worst > 1e-9).then(|| {
            Finding::new(
                Check::EngineResidual,
                self.id,
                Verdict::Unknown,
                EngineResidual {},
                Source::judgement(Judgement::BalancesClose),
            )
            .figure(Figure::ShareRatio(Triple::exact(if worst.is_finite() {
                worst
            } else {
                1.0
            })))
        })
    }

    /// Wall of the wettest piece, then the march along it.
    fn working(&self, result: Figure) -> Vec<Step> {
        let own = &self.scene.plan.inputs;
        let pieces = &self.days.likely.pieces;
        let at = (0..pieces.len())
            .max_by(|&a, &b| pieces[a].condensed_kg.total_cmp(&pieces[b].condensed_kg))
            .unwrap_or(0);
        let (Some(plan), Some(now)) = (self.plan.pieces.get(at), pieces.get(at)) else {
            return vec![self.day_step(result)];
        };
        let around = |place: Surroundings| place.word().to_owned();
        let mut inputs = vec![own.in_working("R_label", plan.insulation)];
        if let Some((_, share)) = plan.shares.first() {
            inputs.push(own.in_working("b", *share));
        }
        inputs.push(WorkingInput::new(
            "T_around",
            What::DuctAround,
            Figure::TemperatureC(Triple::exact(now.around_c)),
            Provenance::Computed,
        ));
        let wall = Step {
            equation: LAYERS.equation.into(),
            inputs,
            result: Some(Figure::InsulationRsi(Triple::exact(now.resistance_rsi))),
            source: Source::confirmed(LAYERS.book, around(plan.place.value(own, Draw::Likely))),
        };
        vec![wall, self.day_step(result)]
    }

    fn day_step(&self, result: Figure) -> Step {
        let exact_c = |t: f64| Figure::TemperatureC(Triple::exact(t));
        let input = WorkingInput::new;
        let coldest = Figure::TemperatureC(self.days.sample(|day| day.coldest_c).triple());
        let flow = Figure::MassKgS(self.days.sample(|day| day.full_kg_s).triple());
        let drift = self.mass(|day| day.drift_kg);
        Step {
            equation: EquationDaysInARow {
                law: Reference::new(ALONG_A_DUCT.equation),
                days: Count(Triple::exact(MOST_DAYS as f64)),
            }
            .into(),
            inputs: vec![
                input("m", What::DuctMassFlow, flow, Provenance::Computed),
                input("T_out", What::Outdoor, exact_c(self.day.outdoor_c), Provenance::Computed),
                input("T_dew", What::RoomDew, exact_c(room_dew_c(self.day)), Provenance::Computed),
                input("T_w", What::ColdestWall, coldest, Provenance::Computed),
                input("m_rest", What::WaterAtRest, drift.into(), Provenance::Computed),
            ],
            result: Some(result),
            source: by_heat_and_mass(),
        }
    }
}
