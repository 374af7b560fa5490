//! Water in the ducts: the air of each draw's design day is led through the runs behind its room.
//!
//! `course` writes down what the room gives off, `plan` asks what a run is made of and what surrounds it, `follow` leads
//! the one through the other, `need` looks for the least insulation, `idle` looks at the duct at rest and in summer,
//! `drip` at what was seen, and `findings` judges.

pub(crate) mod course;
mod drip;
mod findings;
pub(crate) mod follow;
mod idle;
mod need;
pub(crate) mod plan;
#[cfg(test)]
mod steady_tests;

use dewpath_case::Case;
use dewpath_case::inputs::Draw;
use dewpath_job::category::Category as _;
use dewpath_moisture::weather::Weather;
use dewpath_report::{Condensate, Finding, InsulationNeed, LookNext, PieceWater, Report, Triple};

use super::day::Day;
use super::days::Days;
use super::plan::Plan;
use drip::Seen;
use follow::{RunDay, RunDays, Scene, grams, room_dew_c};
use plan::Path;

/// Draws that are led through the ducts at most: the percentiles of the water move by less than what is known of
/// its surroundings.
pub(crate) const DRAWS: usize = 64;

/// What a room's ducts are, with the room's place in the plan.
pub(crate) struct Ducts {
    paths: Vec<Path>,
}

impl Ducts {
    /// The path that the air of a room takes, by the room's place in the plan.
    pub(crate) fn path_of(&self, room: usize) -> Option<&Path> {
        self.paths.iter().find(|path| path.room == room)
    }
}

/// What was found of the runs.
#[derive(Default)]
pub(crate) struct Water {
    runs: Vec<(usize, Condensate, Option<InsulationNeed>)>,
    /// Findings.
    pub findings: Vec<Finding>,
    /// What parts the causes of a drip.
    pub look_next: Vec<LookNext>,
}

impl Water {
    /// Water of a winter day that does not get out of a run; none where it is not known.
    pub(crate) fn stays_g(&self, run: usize) -> Option<Triple> {
        let found = self.runs.iter().find(|(index, ..)| *index == run);
        found.map(|(_, condensate, _)| condensate.stays_g)
    }

    /// Puts its results into the report.
    pub(crate) fn put_into(self, report: &mut Report) {
        for (run, condensate, need) in self.runs {
            if let Some(result) = report.runs.get_mut(run) {
                result.condensate = Some(condensate);
                result.insulation = need;
            }
        }
    }
}

/// Asks what the runs are made of.
pub(crate) fn ducts(case: &Case<'_>, plan: &mut Plan) -> Ducts {
    Ducts { paths: plan::paths(case, plan) }
}

impl Ducts {
    /// Whether a draw of a room has to be followed to midnight.
    pub(crate) fn wants(&self, room: usize, draw: Draw) -> bool {
        let counts = match draw {
            Draw::Likely => true,
            Draw::At(i) => i < DRAWS,
        };
        counts && self.paths.iter().any(|path| path.room == room)
    }
}

/// Follows the water of every run behind a room that was followed (`rooms` holds them by their place in the plan), and
/// judges what stands still or was only seen.
pub(crate) fn water(
    case: &Case<'_>,
    plan: Option<(&Plan, &Ducts)>,
    rooms: &[Option<Days>],
    weather: Option<&Weather>,
) -> Water {
    let mut water = Water::default();
    let mut seen = Vec::new();
    if let Some((plan, ducts)) = plan {
        for path in &ducts.paths {
            if let Some(Some(days)) = rooms.get(path.room) {
                let scene = Scene { case, plan, path };
                one_path(&scene, days, weather, &mut water, &mut seen);
            }
        }
    }
    water.findings.extend(findings::unknown_places(case));
    let idle = idle::idle(case, plan.map(|(plan, ducts)| (plan, ducts.paths.as_slice())), weather);
    let housing = drip::housing(case);
    let (drips, look_next) = drip::drips(case, &seen, &idle, &housing);
    water.findings.extend(idle.findings);
    water.findings.extend(housing.findings);
    water.findings.extend(drips);
    water.look_next = look_next;
    water
}

/// What the likely day of a room leaves in the ducts behind it and at the housings, without what would keep them dry: that asks
/// for one more day with each insulation.
pub(crate) fn likely_water(
    case: &Case<'_>,
    plan: &Plan,
    path: Option<&Path>,
    days: &Days,
    weather: Option<&Weather>,
) -> Vec<Finding> {
    let mut found = drip::housing(case).findings;
    found.extend(findings::unknown_places(case));
    let Some(path) = path else { return found };
    let scene = Scene { case, plan, path };
    let Some(likely) = scene.follow(&days.likely) else {
        found.extend(findings::not_followed(&scene));
        return found;
    };
    let summer = idle::summer(&scene, weather).unwrap_or_default();
    for (index, run_likely) in likely.iter().enumerate() {
        let run = RunDays { likely: run_likely, draws: Vec::new() };
        found.extend(findings::run(&scene, index, &run, &days.likely, None));
        found.extend(summer.get(index).and_then(|s| idle::sweating(&scene, index, s)));
    }
    found
}

fn one_path(
    scene: &Scene<'_>,
    days: &Days,
    weather: Option<&Weather>,
    water: &mut Water,
    seen: &mut Vec<Seen>,
) {
    let Some(likely) = scene.follow(&days.likely) else {
        water.findings.extend(findings::not_followed(scene));
        return;
    };
    let draws: Vec<Vec<RunDay>> = days
        .draws
        .iter()
        .filter(|day| day.course.is_some())
        .filter_map(|day| scene.follow(day))
        .collect();
    let summer = idle::summer(scene, weather);
    for (index, run_likely) in likely.iter().enumerate() {
        let run = RunDays {
            likely: run_likely,
            draws: draws.iter().filter_map(|runs| runs.get(index)).collect(),
        };
        let need = need::need(scene, index, &days.likely);
        let summer = summer.as_ref().and_then(|runs| runs.get(index));
        let told = condensate(scene, index, &run, &days.likely, summer);
        water.findings.extend(findings::run(scene, index, &run, &days.likely, need.as_ref()));
        water.findings.extend(summer.and_then(|s| idle::sweating(scene, index, s)));
        seen.push(Seen { coldest_c: run_likely.coldest_c, room_dew_c: room_dew_c(&days.likely) });
        water.runs.push((scene.path.runs[index].run, told, need));
    }
}

fn condensate(
    scene: &Scene<'_>,
    index: usize,
    run: &RunDays<'_>,
    day: &Day,
    summer: Option<&idle::Summer>,
) -> Condensate {
    let plan = &scene.path.runs[index];
    let own = &scene.plan.inputs;
    let triple = |of: fn(&RunDay) -> f64| run.sample(of).triple();
    let pieces = plan
        .pieces
        .iter()
        .zip(&run.likely.pieces)
        .enumerate()
        .map(|(at, (piece, now))| PieceWater {
            part: piece.part.clone(),
            surroundings: piece.place.value(own, Draw::Likely).word().to_owned(),
            surroundings_c: now.around_c,
            resistance_rsi: now.resistance_rsi,
            coldest_inside_c: now.coldest_c,
            condensed_g: grams(now.condensed_kg),
            outside_summer_c: summer.and_then(|s| s.pieces.get(at)).map(|p| p.outside_c),
            dew_point_summer_c: summer.and_then(|s| s.pieces.get(at)).map(|p| p.dew_point_c),
        })
        .collect();
    Condensate {
        per_shower_g: triple(|d| grams(d.shower_kg)),
        net_winter_g: triple(|d| grams(d.net_kg)),
        frost_g: triple(|d| grams(d.frost_kg)),
        stays_g: triple(|d| grams(d.stays_kg())),
        back_to_fan_g: triple(|d| grams(d.back_kg)),
        out_at_terminal_g: triple(|d| grams(d.out_kg)),
        coldest_inside_c: triple(|d| d.coldest_c),
        water_residual_ratio: run.worst(|d| d.residual),
        outdoor_c: day.outdoor_c,
        pieces,
        months_g: Vec::new(),
    }
}
