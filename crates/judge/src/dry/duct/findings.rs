//! What the water in a run means: findings with figures, workings and what to do.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::category::Category as _;
use dewpath_job::model::{SlopeTo, Surroundings, SymptomKind};
use dewpath_message::slot::{Count, InsulationRsi, MassG, Reference, ShareRatio, TemperatureC};
use dewpath_moisture::duct::line::ALONG_A_DUCT;
use dewpath_moisture::heat::LAYERS;
use dewpath_report::say::{
    DuctCondensate, DuctCondensateNet, DuctCondensateNetKey, DuctDrain, DuctDrainKey, DuctFrost,
    DuctFrostKey, EngineResidual, Equation, EquationDaysInARow, Judgement, Todo, TodoInsulate,
    What,
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

/// Share of the section that frost may close. Judgement: a quarter; the air is hardly less for it.
const FROSTED: f64 = 0.25;
/// A rise from the fan that is common before a run falls outdoors, m. Common practice, no source.
const SHORT_RISE_M: f64 = 0.9;

/// Heat and mass transfer along a duct.
pub(super) fn by_heat_and_mass() -> Source {
    law::source(&ALONG_A_DUCT)
}

/// Water that is worth telling: what is surely less than half a gram is none.
fn told(water: MassG) -> Option<MassG> {
    (water.0.high >= 0.5).then_some(water)
}

/// Whether a symptom is one of water.
pub(super) fn is_water(kind: SymptomKind) -> bool {
    matches!(kind, SymptomKind::Drip | SymptomKind::Stain | SymptomKind::Frost)
}

/// The run cannot be followed.
pub(super) fn not_followed(scene: &Scene<'_>) -> Option<Finding> {
    let run = &scene.case.job.runs[scene.path.runs.first()?.run].id;
    Some(Finding::new(
        Check::DuctCondensateNet,
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
                Check::DuctCondensateNet,
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
    let mut list = vec![judge.net(need)];
    list.extend(judge.frost());
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

    /// Water of a winter day that stands in the run or comes back to the fan, and what would help: one story for what settles
    /// in use and at rest, for its frost, and for the insulation that is missing.
    fn net(&self, need: Option<&InsulationNeed>) -> Finding {
        let source = Source::judgement(Judgement::WaterThatStays);
        let chance = self.days.chance(|day| grams(day.stays_kg()) <= DAILY_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        // Where nobody wrote the fall, its water was taken to stand.
        let verdict = match verdict {
            Verdict::Caution if self.plan.slope_unknown => Verdict::Unknown,
            verdict => verdict,
        };
        let figure = self.mass(RunDay::stays_kg);
        let key = match verdict {
            Verdict::Holds if told(figure).is_none() => DuctCondensateNetKey::Nothing,
            Verdict::Holds => DuctCondensateNetKey::Holds,
            Verdict::Unknown => DuctCondensateNetKey::Unknown,
            Verdict::Caution | Verdict::Fails => DuctCondensateNetKey::Found,
        };
        let limit = MassG(Triple::exact(DAILY_LIMIT_G));
        let message = DuctCondensateNet {
            key,
            water: figure,
            limit,
            outdoor: TemperatureC(Triple::exact(self.day.outdoor_c)),
            back: told(self.mass(|day| day.back_kg)),
            out: told(self.mass(|day| day.out_kg)),
            stands: told(self.mass(|day| day.stands_kg)),
        };
        let mut made = Finding::new(Check::DuctCondensateNet, self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(self.scene.case.inputs.tells_chance().then_some(chance));
        made.working = self.working(figure.into());
        made.working.push(self.shares_step());
        made.working.extend(need.map(|need| self.need_step(need)));
        if verdict != Verdict::Holds {
            made.todo = self.cures(verdict, need);
        }
        made
    }

    /// What to look at first where it is not sure, and what helps: the fall before the wrap, the wrap before the flap unless most
    /// of it rises at rest.
    fn cures(&self, verdict: Verdict, need: Option<&InsulationNeed>) -> Vec<Message> {
        let own = &self.scene.plan.inputs;
        let pieces = &self.plan.pieces;
        let falls_out = |piece: &PiecePlan| piece.slope.value(own, Draw::Likely) == SlopeTo::Out;
        let is_open = verdict == Verdict::Unknown;
        let at_rest = 2.0 * left_at_rest_kg(self.days.likely) > self.days.likely.net_kg;
        let mut list: Vec<Message> = Vec::new();
        if is_open && self.plan.slope_unknown {
            list.push(Todo::LookSlope.into());
        }
        if is_open && pieces.iter().any(|piece| self.cold(piece) && !piece.insulation_known) {
            list.push(Todo::LookInsulation.into());
        }
        if !self.plan.slope_unknown && !pieces.iter().all(falls_out) {
            list.push(Todo::SlopeOut.into());
        }
        if at_rest {
            list.push(Todo::LookFlap.into());
        }
        let more = need.filter(|need| self.lacks(need));
        let wrap = more.map(|need| {
            let needed = need.needed_rsi.map(|rsi| InsulationRsi(Triple::exact(rsi)));
            Message::from(TodoInsulate { needed })
        });
        let flap = at_rest.then(|| Message::from(Todo::TightFlap));
        let (first, then) = if at_rest { (flap, wrap) } else { (wrap, flap) };
        list.extend(first.into_iter().chain(then));
        for other in need.map(|need| need.instead.as_slice()).unwrap_or_default() {
            if !list.contains(other) {
                list.push(other.clone());
            }
        }
        let run_on = Message::from(Todo::RunOn);
        if !list.contains(&run_on) {
            list.push(run_on);
        }
        list
    }

    /// Whether some piece in the cold has less insulation than is needed, or less than the most that is sold.
    fn lacks(&self, need: &InsulationNeed) -> bool {
        let most = need.needed_rsi.unwrap_or(f64::INFINITY);
        let has = |piece: &PiecePlan| self.scene.plan.inputs.triple(piece.insulation).likely;
        need.needed_rsi.is_some()
            && self.plan.pieces.iter().any(|piece| self.cold(piece) && has(piece) < most)
    }

    /// Frost of a cold spell, where it closes the run: small amounts melt and are part of what stays.
    fn frost(&self) -> Option<Finding> {
        let source = Source::judgement(Judgement::QuarterOfSection);
        let chance = self.days.chance(|day| day.frosted <= FROSTED);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => return None,
            Verdict::Unknown => DuctFrostKey::Unknown,
            Verdict::Caution | Verdict::Fails => DuctFrostKey::Found,
        };
        let closed = ShareRatio(self.days.sample(|day| day.frosted).triple());
        let coldest = TemperatureC(self.days.sample(|day| day.coldest_c).triple());
        let days = Count(Triple::exact(MOST_DAYS as f64));
        let message = Message::from(DuctFrost { key, closed, coldest, days });
        let mut made = Finding::new(Check::DuctFrost, self.id, verdict, message, source)
            .figure(closed)
            .limit(Figure::ShareRatio(Triple::exact(FROSTED)))
            .chance(self.scene.case.inputs.tells_chance().then_some(chance))
            .todo(TodoInsulate { needed: None })
            .todo(Todo::RunOn);
        made.working = vec![self.day_step(closed.into())];
        Some(made)
    }

    /// The least insulation that keeps the water under its limit.
    fn need_step(&self, need: &InsulationNeed) -> Step {
        let cold = self.plan.pieces.iter().filter(|piece| self.cold(piece));
        let has = cold
            .map(|piece| (self.scene.plan.inputs.triple(piece.insulation), piece.insulation_known))
            .reduce(|a, b| if a.0.likely <= b.0.likely { a } else { b });
        let has = has.map(|(rsi, known)| {
            let from = if known { Provenance::Written } else { Provenance::Default };
            WorkingInput::new("R", What::DuctInsulation, InsulationRsi(rsi).into(), from)
        });
        let limit = Figure::MassG(Triple::exact(need.limit_g));
        let limit = WorkingInput::new("limit", What::WaterLimit, limit, Provenance::Default);
        let needed = need.needed_rsi.map(|rsi| InsulationRsi(Triple::exact(rsi)));
        Step {
            equation: Equation::LeastInsulation.into(),
            inputs: has.into_iter().chain([limit]).collect(),
            result: needed.map(Figure::from),
            source: by_heat_and_mass(),
        }
    }

    fn cold(&self, piece: &PiecePlan) -> bool {
        unheated(piece.place.value(&self.scene.plan.inputs, Draw::Likely))
    }

    /// Where water runs to.
    fn drain(&self) -> Option<Finding> {
        let own = &self.scene.plan.inputs;
        let slope = |piece: &PiecePlan| piece.slope.value(own, Draw::Likely);
        let pieces = &self.plan.pieces;
        let wet = grams(self.days.likely.stays_kg()) > DAILY_LIMIT_G;
        let source = Source::practice();
        let filling = |key: DuctDrainKey, verdict: Verdict, days: Option<f64>| {
            let days = days.map(|days| Count(Triple::exact(days)));
            let message = DuctDrain { key, back: self.mass(|day| day.back_kg), days };
            let mut made =
                Finding::new(Check::DuctDrain, self.id, verdict, message, source.clone());
            made.working = vec![self.shares_step()];
            made
        };
        let make = |key: DuctDrainKey, verdict: Verdict| filling(key, verdict, None);
        // What is not known or lies level shows in the water that stays.
        if self.plan.slope_unknown {
            return None;
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
        if self.plan.trap {
            return Some(make(DuctDrainKey::Trap, Verdict::Holds));
        }
        let back = pieces.iter().any(|piece| slope(piece) == SlopeTo::Back);
        if back && (wet || self.in_the_cold()) {
            let back = make(DuctDrainKey::Back, Verdict::Caution);
            return Some(back.todo(Todo::SlopeOut).todo(Todo::Trap));
        }
        (!wet).then(|| make(DuctDrainKey::Dry, Verdict::Holds))
    }

    /// Days until the low point is full at the net water of a day; none where it never fills.
    fn days_to_full(&self) -> Option<f64> {
        let day = self.days.likely;
        let holds = day.low_point_kg?;
        (day.net_kg > 1e-5).then(|| (holds / day.net_kg).ceil().max(1.0))
    }

    fn shares_step(&self) -> Step {
        let input = |symbol: &str, what: What, of: fn(&RunDay) -> f64| {
            WorkingInput::new(symbol, what, self.mass(of).into(), Provenance::Computed)
        };
        Step {
            equation: "m_net = m_back + m_out + m_stands".into(),
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
