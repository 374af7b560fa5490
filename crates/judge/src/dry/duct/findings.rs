//! What the water in a run means: findings with figures, workings and what to do.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::category::Category as _;
use dewpath_job::model::{SlopeTo, Surroundings, SymptomKind};
use dewpath_moisture::duct::line::ALONG_A_DUCT;
use dewpath_moisture::heat::LAYERS;
use dewpath_report::{
    Figure, Finding, InsulationNeed, Message, Provenance, Source, Step, Verdict, WorkingInput,
};

use super::super::day::Day;
use super::follow::{MOST_DAYS, RunDay, RunDays, Scene, grams, room_dew_c};
use super::need::DAILY_LIMIT_G;
use super::plan::{PiecePlan, RunPlan, ducts, exact, unheated};
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
        "duct.condensate.shower",
        run,
        Verdict::Unknown,
        Message::new("duct.condensate.not-followed"),
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
                "duct.condensate.shower",
                &run.id,
                Verdict::Unknown,
                Message::new("duct.condensate.no-place"),
                by_heat_and_mass(),
            )
            .todo(Message::new("todo.write-place"))
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
    fn mass(&self, of: fn(&RunDay) -> f64) -> Figure {
        Figure::MassG(self.days.sample(|day| grams(of(day))).triple())
    }

    fn in_the_cold(&self) -> bool {
        let own = &self.scene.plan.inputs;
        self.plan.pieces.iter().any(|piece| unheated(piece.place.value(own, Draw::Likely)))
    }

    /// Water of one shower.
    fn shower(&self) -> Finding {
        let source = Source::judgement("a teaspoon in one shower; no printed limit");
        let chance = self.days.chance(|day| grams(day.shower_kg) <= SHOWER_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => "duct.condensate.shower.holds",
            Verdict::Unknown => "duct.condensate.shower.unknown",
            Verdict::Caution | Verdict::Fails => "duct.condensate.shower.found",
        };
        let figure = self.mass(|day| day.shower_kg);
        let limit = Figure::MassG(exact(SHOWER_LIMIT_G));
        let message = Message::new(key)
            .figure("water", figure)
            .figure("limit", limit)
            .figure("outdoor", Figure::TemperatureC(exact(self.day.outdoor_c)));
        let mut made = Finding::new("duct.condensate.shower", self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        made.working = self.working(figure);
        self.with_cure(made)
    }

    /// Water that a day leaves.
    fn net(&self) -> Finding {
        let source = Source::judgement("a teaspoon a day; no printed limit");
        let chance = self.days.chance(|day| grams(day.net_kg) <= DAILY_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => "duct.condensate.net.holds",
            Verdict::Unknown => "duct.condensate.net.unknown",
            Verdict::Caution | Verdict::Fails => "duct.condensate.net.found",
        };
        let figure = self.mass(|day| day.net_kg);
        let limit = Figure::MassG(exact(DAILY_LIMIT_G));
        let message = Message::new(key)
            .figure("water", figure)
            .figure("limit", limit)
            .figure("back", self.mass(|day| day.back_kg))
            .figure("out", self.mass(|day| day.out_kg))
            .figure("stands", self.mass(|day| day.stands_kg));
        let mut made = Finding::new("duct.condensate.net", self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        made.working = vec![self.day_step(figure)];
        self.with_cure(made)
    }

    fn with_cure(&self, made: Finding) -> Finding {
        if made.verdict != Verdict::Caution {
            return made;
        }
        let made = if self.in_the_cold() { made.todo(Message::new("todo.insulate")) } else { made };
        made.todo(Message::new("todo.run-on"))
    }

    /// Frost of the first day, where anything around the duct lies below freezing.
    fn frost(&self) -> Option<Finding> {
        let frosty = self.days.likely.pieces.iter().any(|piece| piece.around_c < 0.0);
        if !frosty {
            return None;
        }
        let source = Source::judgement("a gram of frost a day; it melts all at once in a thaw");
        let chance = self.days.chance(|day| grams(day.frost_kg) <= FROST_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => "duct.frost.holds",
            Verdict::Unknown => "duct.frost.unknown",
            Verdict::Caution | Verdict::Fails => "duct.frost.found",
        };
        let figure = self.mass(|day| day.frost_kg);
        let limit = Figure::MassG(exact(FROST_G));
        let coldest = Figure::TemperatureC(self.days.sample(|day| day.coldest_c).triple());
        let message = Message::new(key).figure("frost", figure).figure("coldest", coldest);
        let mut made = Finding::new("duct.frost", self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        made.working = vec![self.day_step(figure)];
        Some(self.with_cure(made))
    }

    /// Vapour that rises into the duct while the fan rests.
    fn drift(&self) -> Option<Finding> {
        if !self.in_the_cold() {
            return None;
        }
        let source = Source::judgement("a teaspoon a day from air that rises at rest");
        let chance = self.days.chance(|day| grams(left_at_rest_kg(day)) <= DAILY_LIMIT_G);
        let verdict = by_chance(chance, Verdict::Caution, &source, &self.scene.case.job.settings);
        let key = match verdict {
            Verdict::Holds => "duct.idle-drift.holds",
            Verdict::Unknown => "duct.idle-drift.unknown",
            Verdict::Caution | Verdict::Fails => "duct.idle-drift.found",
        };
        let figure = self.mass(left_at_rest_kg);
        let limit = Figure::MassG(exact(DAILY_LIMIT_G));
        let message = Message::new(key).figure("water", figure).figure("limit", limit);
        let mut made = Finding::new("duct.idle-drift", self.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance);
        let inputs = &self.scene.plan.inputs;
        let mut step = self.day_step(figure);
        step.inputs.push(inputs.in_working("q_rest", self.scene.plan.dwelling.idle_duct));
        made.working = vec![step];
        Some(if verdict == Verdict::Holds {
            made
        } else {
            made.todo(Message::new("todo.tight-flap")).todo(Message::new("todo.look-flap"))
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
            (true, ..) if known => (Verdict::Holds, "duct.insulation.needed.holds"),
            (true, ..) => (Verdict::Unknown, "duct.insulation.needed.unknown"),
            (false, Some(_), Some(_)) => (Verdict::Caution, "duct.insulation.needed.product"),
            (false, Some(_), None) => (Verdict::Caution, "duct.insulation.needed.found"),
            (false, None, _) => (Verdict::Caution, "duct.insulation.needed.none-suffices"),
        };
        let has = Figure::InsulationRsi(has);
        let limit = Figure::MassG(exact(need.limit_g));
        let mut message = Message::new(key).figure("has", has).figure("limit", limit);
        let needed = need.needed_rsi.map(|rsi| Figure::InsulationRsi(exact(rsi)));
        if let Some(needed) = needed {
            message = message.figure("needed", needed);
        }
        if let Some(product) = &need.product {
            message = message.name("product", product);
        }
        let source = Source::judgement("net water of a winter day; no printed limit");
        let mut made =
            Finding::new("duct.insulation.needed", self.id, verdict, message, source).figure(has);
        made.limit = needed;
        let net = Figure::MassG(exact(net));
        made.working = vec![Step {
            equation: "least R with net water of a winter day in use <= limit".to_owned(),
            inputs: vec![
                WorkingInput::new("R", "what.duct-insulation", has, Provenance::Written),
                WorkingInput::new("m_net", "what.net-water", net, Provenance::Computed),
                WorkingInput::new("limit", "what.water-limit", limit, Provenance::Default),
            ],
            result: needed,
            source: by_heat_and_mass(),
        }];
        if verdict == Verdict::Caution {
            made.todo.extend(need.instead.iter().cloned());
            if need.needed_rsi.is_some() {
                made.todo.push(Message::new("todo.insulate"));
            }
        }
        if verdict == Verdict::Unknown {
            made.todo.push(Message::new("todo.look-insulation"));
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
        let make = |key: &str, verdict: Verdict| {
            let mut made = Finding::new(
                "duct.drain",
                self.id,
                verdict,
                Message::new(key).figure("back", self.mass(|day| day.back_kg)),
                source.clone(),
            );
            made.working = vec![self.drain_step()];
            made
        };
        if self.plan.slope_unknown {
            return wet.then(|| {
                make("duct.drain.unknown", Verdict::Unknown).todo(Message::new("todo.look-slope"))
            });
        }
        let out = |piece: &PiecePlan| slope(piece) == SlopeTo::Out;
        let low = pieces.iter().any(|piece| slope(piece) == SlopeTo::Low);
        if low {
            return Some(if self.plan.trap {
                make("duct.drain.trap", Verdict::Holds)
            } else {
                let key = if self.days.likely.closed {
                    "duct.drain.closed"
                } else {
                    "duct.drain.low-point"
                };
                let mut made = make(key, Verdict::Caution);
                if let Some(days) = self.days_to_full() {
                    made.message = made.message.figure("days", Figure::Count(exact(days)));
                }
                made.todo(Message::new("todo.slope-out")).todo(Message::new("todo.trap"))
            });
        }
        if pieces.iter().all(out) {
            return Some(make("duct.drain.out", Verdict::Holds));
        }
        let first_out = pieces.iter().position(out).unwrap_or(pieces.len());
        let rise: f64 = pieces[..first_out]
            .iter()
            .map(|piece| self.scene.case.inputs.value(piece.length, Draw::Likely))
            .sum();
        if first_out < pieces.len() && pieces[first_out..].iter().all(out) && rise <= SHORT_RISE_M {
            return Some(make("duct.drain.short-rise", Verdict::Holds));
        }
        if !wet && !self.in_the_cold() {
            return Some(make("duct.drain.dry", Verdict::Holds));
        }
        if self.plan.trap {
            return Some(make("duct.drain.trap", Verdict::Holds));
        }
        let back = pieces.iter().any(|piece| slope(piece) == SlopeTo::Back);
        let key = if back { "duct.drain.back" } else { "duct.drain.level" };
        Some(
            make(key, Verdict::Caution)
                .todo(Message::new("todo.slope-out"))
                .todo(Message::new("todo.trap")),
        )
    }

    /// Days until the low point is full at the net water of a day; none where it never fills.
    fn days_to_full(&self) -> Option<f64> {
        let day = self.days.likely;
        let holds = day.low_point_kg?;
        (day.net_kg > 1e-5).then(|| (holds / day.net_kg).ceil().max(1.0))
    }

    fn drain_step(&self) -> Step {
        let input = |symbol: &str, what: &str, of: fn(&RunDay) -> f64| {
            WorkingInput::new(symbol, what, self.mass(of), Provenance::Computed)
        };
        Step {
            equation: "m_net = m_back + m_out + m_stands + m_frost".to_owned(),
            inputs: vec![
                input("m_back", "what.water-back", |day| day.back_kg),
                input("m_out", "what.water-out", |day| day.out_kg),
                input("m_stands", "what.water-stands", |day| day.stands_kg),
            ],
            result: Some(self.mass(|day| day.net_kg)),
            source: Source::judgement("a wall carries 0.07 kg/m2 before water runs"),
        }
    }

    /// Water or heat that went astray.
    fn residual(&self) -> Option<Finding> {
        let worst = self.days.worst(|day| day.residual);
        (worst.is_nan() || worst > 1e-9).then(|| {
            Finding::new(
                "engine.residual",
                self.id,
                Verdict::Unknown,
                Message::new("engine.residual"),
                Source::judgement("balances must close"),
            )
            .figure(Figure::ShareRatio(exact(if worst.is_finite() {
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
            "what.duct-around",
            Figure::TemperatureC(exact(now.around_c)),
            Provenance::Computed,
        ));
        let wall = Step {
            equation: LAYERS.equation.to_owned(),
            inputs,
            result: Some(Figure::InsulationRsi(exact(now.resistance_rsi))),
            source: Source::confirmed(LAYERS.book, &around(plan.place.value(own, Draw::Likely))),
        };
        vec![wall, self.day_step(result)]
    }

    fn day_step(&self, result: Figure) -> Step {
        let exact_c = |t: f64| Figure::TemperatureC(exact(t));
        let input = WorkingInput::new;
        let coldest = Figure::TemperatureC(self.days.sample(|day| day.coldest_c).triple());
        let flow = Figure::MassKgS(self.days.sample(|day| day.full_kg_s).triple());
        let drift = self.mass(|day| day.drift_kg);
        Step {
            equation: format!(
                "{}; at most {MOST_DAYS} such days in a row (judgement)",
                ALONG_A_DUCT.equation
            ),
            inputs: vec![
                input("m", "what.duct-mass-flow", flow, Provenance::Computed),
                input("T_out", "what.outdoor", exact_c(self.day.outdoor_c), Provenance::Computed),
                input(
                    "T_dew",
                    "what.room-dew",
                    exact_c(room_dew_c(self.day)),
                    Provenance::Computed,
                ),
                input("T_w", "what.coldest-wall", coldest, Provenance::Computed),
                input("m_rest", "what.water-at-rest", drift, Provenance::Computed),
            ],
            result: Some(result),
            source: by_heat_and_mass(),
        }
    }
}
