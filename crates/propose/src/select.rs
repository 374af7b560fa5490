//! Stage `select`: every fan of the library on this run.
//!
//! The system does not care which fan pushes: once a draw, its flow is worked out at a row of
//! pressures; every fan is then intersected with that curve. Each candidate is a patch to the job;
//! nothing is adopted here.

use dewpath_message::slot::{ChanceRatio, DiameterMm, Name, PressurePa};
use dewpath_report::say::{
    DuctSizeOutlet, DuctSizeOutletKey, FanListing, HousePressureCandidate,
    HousePressureCandidateKey, HousePressureLargerFan,
};
use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_4;

use dewpath_air::curve::MonotoneCubic;
use dewpath_air::fan::FanCurve;
use dewpath_air::fittings::Transition;
use dewpath_case::Case;
use dewpath_case::draws::unit_draws;
use dewpath_case::flow::ways_out;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::Sample;
use dewpath_case::section;
use dewpath_case::system::System;
use dewpath_case::system::fan;
use dewpath_case::system::instance::{Instance, Replacement};
use dewpath_case::system::rooms_of_fan;
use dewpath_case::system::spec::{Conditions, Owner, Spec};
use dewpath_job::diff;
use dewpath_job::edit::Edit;
use dewpath_job::model::{Fan, FanData, Job, LibraryFan};
use dewpath_judge::checks::swap;
use dewpath_judge::house::{Stage, judge_candidate};
use dewpath_report::{Candidate, CandidateNote, CandidateRoom, Check, Message, Triple, Verdict};
use dewpath_units::{Area, sort};

use crate::edit;

/// Draws used to judge each fan of the library.
pub const SELECT_DRAWS: u32 = 256;

/// Pressures at which the system is worked out: squares of equal steps up to the highest, Pa.
const STEPS: usize = 14;
const HIGHEST_PA: f64 = 500.0;
/// How close the square root of pressure is worked out, as a share of the highest: the last Newton
/// step squares it.
const CLOSE: f64 = 1e-6;
/// Places at which a curve with a stall hump is looked at.
const SCAN: usize = 64;
/// Members taken across the band of a fan whose curve is not known.
const MEMBERS: usize = 16;

/// Ranks the fans of the library for each running fan of the job.
pub fn select(case: &Case<'_>, house: &Stage) -> Vec<Candidate> {
    if case.world.products.fans.is_empty() {
        return Vec::new();
    }
    (0..case.job.fans.len()).flat_map(|fan| for_fan(case, house, fan)).collect()
}

fn for_fan(case: &Case<'_>, house: &Stage, fan: usize) -> Vec<Candidate> {
    let rooms = rooms_of_fan(case.job, fan);
    let Some(curves) = SystemCurves::of(case, fan, &rooms) else { return Vec::new() };
    let needs: Vec<Option<&Sample>> =
        rooms.iter().map(|&room| case.required.rooms[room].flow.as_ref()).collect();
    let first_size = first_size_m2(case, fan);
    let written = diff::values("", &case.world.job_text).unwrap_or_default();
    let mut open = case.job.clone();
    open.fans[fan].model = None;
    let spot = Spot {
        fan,
        rooms: &rooms,
        curves: &curves,
        needs: &needs,
        first_size,
        open: &open,
        written: &written,
    };
    let mut judged: Vec<(f64, Candidate)> = case
        .world
        .products
        .fans
        .iter()
        .filter(|candidate| same_mount(case.job, fan, &candidate.data))
        .filter_map(|candidate| judge(case, house, &spot, candidate))
        .collect();
    sort::by(&mut judged, order);
    let ranked = judged.into_iter().zip(1..);
    ranked.map(|((_, candidate), rank)| Candidate { rank, ..candidate }).collect()
}

/// Id of the note on the house.
const HOUSE_PRESSURE: Check = Check::HousePressure;

/// Best first, each with the share of the draws in which it gives enough: what fits, what draws no appliance down too far, enough air, no
/// caution, then quiet, then little power, then the name.
fn order((share_a, a): &(f64, Candidate), (share_b, b): &(f64, Candidate)) -> std::cmp::Ordering {
    let enough = |share: f64| if share >= 0.90 { 1.0 } else { share };
    let worst = |c: &Candidate| {
        // Where no appliance is named the note only says so; one that was judged comes first of all.
        let counts = |note: &&CandidateNote| note.id != HOUSE_PRESSURE;
        c.notes.iter().filter(counts).map(|note| note.verdict).max().unwrap_or(Verdict::Holds)
    };
    let loud = |c: &Candidate| c.loudness_sone.map_or(f64::INFINITY, |t| t.likely);
    let power = |c: &Candidate| c.power_w.unwrap_or(f64::INFINITY);
    let misfit = |c: &Candidate| worst(c) == Verdict::Fails;
    let spills = |c: &Candidate| {
        c.notes.iter().any(|note| note.id == HOUSE_PRESSURE && note.verdict == Verdict::Fails)
    };
    misfit(a)
        .cmp(&misfit(b))
        .then_with(|| spills(a).cmp(&spills(b)))
        .then_with(|| enough(*share_b).total_cmp(&enough(*share_a)))
        .then_with(|| worst(a).cmp(&worst(b)))
        .then_with(|| loud(a).total_cmp(&loud(b)))
        .then_with(|| power(a).total_cmp(&power(b)))
        .then_with(|| a.model.cmp(&b.model))
}

/// An inline fan replaces an inline fan, a ceiling fan a ceiling fan.
fn same_mount(job: &Job, fan: usize, data: &FanData) -> bool {
    use dewpath_job::model::FanKind;
    let inline = given::options(&data.kind) == [FanKind::Inline];
    let fed_by_run = job.runs.iter().any(|run| run.to == job.fans[fan].id);
    inline == fed_by_run
}

/// Flow of the system and of each served room over pressure, draw by draw.
struct SystemCurves {
    draws: Vec<OneCurve>,
    density: Vec<f64>,
    shapes: Vec<f64>,
    /// Which outlet, where a candidate may have several; the stream of the job's own outlet, so that
    /// taking the patch shakes nothing.
    outlets: Vec<f64>,
}

/// One draw: flow over the square root of pressure, which is nearly a straight line.
struct OneCurve {
    total: MonotoneCubic,
    rooms: Vec<MonotoneCubic>,
}

impl SystemCurves {
    fn of(case: &Case<'_>, fan: usize, rooms: &[usize]) -> Option<Self> {
        let count = case.inputs.draws().min(SELECT_DRAWS) as usize;
        let list: Vec<Draw> =
            if count == 0 { vec![Draw::Likely] } else { (0..count).map(Draw::At).collect() };
        let conditions = Conditions::default();
        let mut bare = case.system.clone();
        leave_out_steps(&mut bare, case.job, fan);
        let mut instance = Instance::new(case.job, &bare, case.inputs, &conditions).ok()?;
        instance.replace(fan, Replacement::Pressure(1.0));
        let (edge, _) = bare.find(|o| *o == Owner::Fan { fan })?;
        let ways: Vec<Vec<usize>> =
            rooms.iter().map(|&room| ways_out(case.job, &bare, room)).collect();
        let mut draws = Vec::with_capacity(list.len());
        let mut density = Vec::with_capacity(list.len());
        for draw in list {
            instance.load(draw).ok()?;
            draws.push(one_curve(&mut instance, edge, &ways)?);
            density.push(instance.density_kg_m3());
        }
        let shapes = unit_draws("curve of a candidate", draws.len() as u32);
        let outlet = format!("fan.{}.outlet", case.job.fans[fan].id);
        let outlets = unit_draws(&outlet, draws.len() as u32);
        Some(Self { draws, density, shapes, outlets })
    }
}

fn one_curve(instance: &mut Instance<'_>, fan: usize, ways: &[Vec<usize>]) -> Option<OneCurve> {
    let mut total = Vec::with_capacity(STEPS + 1);
    let mut by_room = vec![Vec::with_capacity(STEPS + 1); ways.len()];
    for step in 0..=STEPS {
        let root = HIGHEST_PA.sqrt() * step as f64 / STEPS as f64;
        instance.balance_at(root * root).ok()?;
        total.push((root, instance.flow_m3_s(fan)));
        for (points, ways) in by_room.iter_mut().zip(ways) {
            let flow: f64 = ways.iter().map(|&edge| instance.flow_m3_s(edge)).sum();
            points.push((root, flow));
        }
    }
    Some(OneCurve {
        total: MonotoneCubic::new(&total).ok()?,
        rooms: by_room
            .iter()
            .map(|points| MonotoneCubic::new(points).ok())
            .collect::<Option<_>>()?,
    })
}

/// The step at the old fan's outlet goes with the old fan; each candidate brings its own.
fn leave_out_steps(system: &mut System, job: &Job, fan: usize) {
    for edge in &mut system.edges {
        edge.items.retain(|item| {
            !matches!((&item.owner, &item.spec),
                (Owner::Part { run, part }, Spec::Transition { .. })
                    if part == "outlet" && job.runs[*run].from == job.fans[fan].id)
        });
    }
}

/// Area of the first duct behind a fan at the likely values, m².
fn first_size_m2(case: &Case<'_>, fan: usize) -> Option<f64> {
    let run = case.job.runs.iter().position(|run| run.from == case.job.fans[fan].id)?;
    case.system.items().find_map(|(_, item)| match (&item.owner, &item.spec) {
        (Owner::Part { run: r, .. }, Spec::Piece { duct, .. }) if *r == run => {
            Some(section::area_m2(duct.size.value(case.inputs, Draw::Likely)))
        }
        _ => None,
    })
}

/// Where the candidates would hang.
#[derive(Clone, Copy)]
struct Spot<'a> {
    fan: usize,
    rooms: &'a [usize],
    curves: &'a SystemCurves,
    needs: &'a [Option<&'a Sample>],
    first_size: Option<f64>,
    /// The job without the model that it names: one is said even where it is the same.
    open: &'a Job,
    /// What the text of the job writes, by path.
    written: &'a BTreeMap<String, String>,
}

fn judge(
    case: &Case<'_>,
    house: &Stage,
    spot: &Spot<'_>,
    candidate: &LibraryFan,
) -> Option<(f64, Candidate)> {
    let Spot { fan, rooms, curves, needs, first_size, open, written } = *spot;
    let members = fan::members(&candidate.data, MEMBERS);
    let outlets = given::options(&candidate.data.outlet);
    // Where several outlets may be meant, each comes up in its share of the draws.
    let steps: Vec<f64> = first_size.map_or(Vec::new(), |duct| {
        outlets.iter().map(|&outlet| step_resistance(section::area_m2(outlet), duct)).collect()
    });
    let mut by_room = vec![Vec::with_capacity(curves.draws.len()); rooms.len()];
    let mut pressures = Vec::with_capacity(curves.draws.len());
    let mut totals = Vec::with_capacity(curves.draws.len());
    let mut passes = 0usize;
    let mut root = 0.0;
    for (i, curve) in curves.draws.iter().enumerate() {
        let member = if members.len() > 1 {
            let index = (curves.shapes[i] * members.len() as f64) as usize;
            members.get(index.min(members.len() - 1))?
        } else {
            members.first()?
        };
        let index = (curves.outlets[i] * steps.len() as f64) as usize;
        let step = steps.get(index).copied().unwrap_or(0.0);
        root = intersect(curve, member, curves.density[i], step, root);
        pressures.push(root * root);
        totals.push(curve.total.value_slope(root).0);
        let mut enough = true;
        let draw = if case.inputs.draws() == 0 { Draw::Likely } else { Draw::At(i) };
        for (index, room) in curve.rooms.iter().enumerate() {
            let flow = room.value_slope(root).0;
            by_room[index].push(flow);
            enough &= needs[index].is_none_or(|need| flow >= need.at(draw) - 1e-9);
        }
        passes += usize::from(enough);
    }
    let asked = needs.iter().any(Option::is_some);
    let delivered: Vec<CandidateRoom> = rooms
        .iter()
        .zip(&by_room)
        .filter_map(|(&room, flows)| {
            Some(CandidateRoom {
                room: case.job.rooms[room].id.clone(),
                airflow_l_s: Triple::of_draws(flows)?.map(|q| q * 1000.0),
            })
        })
        .collect();
    let moved = delivered.iter().map(|room| room.airflow_l_s.likely / 1000.0).sum();
    let pressure = Triple::of_draws(&pressures)?.likely;
    let edit = Edit::of(open, written, |job| model_instead(&mut job.fans[fan], &candidate.id));
    let mut notes = notes(case, spot, candidate);
    notes.extend(house_pressure(case, house, spot, &totals, moved));
    let share = if asked { passes as f64 / curves.draws.len() as f64 } else { 0.0 };
    let judged = Candidate {
        rank: 0,
        fan: case.job.fans[fan].id.clone(),
        model: candidate.id.clone(),
        name: candidate.data.name.clone().unwrap_or_else(|| candidate.id.clone()),
        delivered,
        chance_enough: (asked && case.inputs.tells_chance()).then_some(share),
        loudness_sone: fan::loudness(&candidate.data, pressure),
        power_w: given::likely(&candidate.data.power).map(dewpath_units::Power::w),
        notes,
        patch: edit::told(edit.patch),
    };
    Some((share, judged))
}

/// A fan with a model of a library in its place. What the job writes of the old one goes with it, since it would win over the
/// model; what people call it and note of it stays.
pub(crate) fn model_instead(fan: &mut Fan, model: &str) {
    let FanData { name, notes, .. } = std::mem::take(&mut fan.data);
    fan.data = FanData { name, notes, ..FanData::default() };
    fan.model = Some(model.to_owned());
}

/// Resistance of the step from an outlet to the duct, Pa s²/m6 at 1 kg/m³.
fn step_resistance(outlet_m2: f64, duct_m2: f64) -> f64 {
    let (outlet, duct) = (Area::from_m2(outlet_m2), Area::from_m2(duct_m2));
    match Transition::abrupt(outlet, duct) {
        Ok(step) => {
            let small = step.area().m2();
            0.5 * step.coefficient().likely / (small * small)
        }
        // Sizes are above zero once a job or a library has been read.
        Err(_) => 0.0,
    }
}

/// Square root of the pressure at which fan and system have the same flow, sought from a place near
/// it such as the last draw's.
///
/// The system's flow rises with pressure and the fan's pressure falls with flow, so that the excess
/// of the fan falls all the way (a stall hump aside: the crossing with the highest flow is taken).
fn intersect(curve: &OneCurve, fan: &FanCurve, density: f64, step: f64, start: f64) -> f64 {
    let scale = density / dewpath_air::fan::RATING_DENSITY_KG_M3;
    let excess = |root: f64| {
        let (q, by_root) = curve.total.value_slope(root);
        let (p, by_q) = fan.rise(q);
        let lost = step * density * q * q.abs();
        let value = p * scale - lost - root * root;
        (value, (by_q * scale - 2.0 * step * density * q.abs()) * by_root - 2.0 * root)
    };
    let (mut low, mut high) = (0.0, HIGHEST_PA.sqrt());
    if fan.has_hump() {
        // From the highest flow downwards: the first place where the fan has more than is needed.
        let at = |i: usize| high * i as f64 / SCAN as f64;
        let found = (0..SCAN).rev().find(|&i| excess(at(i)).0 > 0.0).unwrap_or(0);
        (low, high) = (at(found), at(found + 1));
    }
    let mut root = if start > low && start < high { start } else { 0.5 * (low + high) };
    for _ in 0..60 {
        let (value, slope) = excess(root);
        if value > 0.0 {
            low = root;
        } else {
            high = root;
        }
        let newton = root - value / slope;
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - root).abs() < CLOSE * HIGHEST_PA.sqrt() {
            return next;
        }
        root = next;
    }
    root
}

/// What goes with a candidate: size of the outlet, fit, listing, sound, house pressure.
fn notes(case: &Case<'_>, spot: &Spot<'_>, candidate: &LibraryFan) -> Vec<CandidateNote> {
    let Spot { fan, first_size, .. } = *spot;
    let mut notes = Vec::new();
    let mut add = |id: Check, verdict: Verdict, message: Message| {
        notes.push(CandidateNote { id, verdict, message });
    };
    let outlet = given::member(&candidate.data.outlet);
    if let (Some(outlet), Some(duct)) = (outlet, first_size)
        && section::area_m2(outlet) > duct * 1.01
    {
        let size = |area: f64| DiameterMm(Triple::exact((area / FRAC_PI_4).sqrt() * 1000.0));
        add(
            Check::DuctSizeOutlet,
            Verdict::Caution,
            Message::from(DuctSizeOutlet {
                key: DuctSizeOutletKey::Small,
                size: size(duct),
                outlet: size(section::area_m2(outlet)),
            }),
        );
    }
    if case.job.work == dewpath_job::model::Work::Swap {
        for (id, verdict, message) in swap::fits(case, &candidate.data) {
            if verdict != Verdict::Holds {
                add(id, verdict, message);
            }
        }
    }
    let over = given::yes(&case.job.fans[fan].over_tub_or_shower);
    let listed = given::yes(&candidate.data.listed_wet);
    let may_be_over = case.job.fans[fan].over_tub_or_shower.is_some() && over != Some(false);
    if may_be_over && listed != Some(true) {
        let verdict = if listed == Some(false) && over == Some(true) {
            Verdict::Fails
        } else {
            Verdict::Unknown
        };
        let key = if verdict == Verdict::Fails { FanListing::Not } else { FanListing::Unknown };
        add(Check::FanListing, verdict, Message::from(key));
    }
    notes
}

/// What a candidate does to the house: judged at every appliance that burns something; where none is
/// named, a larger fan says that nobody looked.
fn house_pressure(
    case: &Case<'_>,
    house: &Stage,
    spot: &Spot<'_>,
    totals_m3_s: &[f64],
    moved_m3_s: f64,
) -> Option<CandidateNote> {
    let note = |verdict: Verdict, message: Message| {
        Some(CandidateNote { id: HOUSE_PRESSURE, verdict, message })
    };
    let judged = house
        .curves(spot.fan)
        .and_then(|curves| judge_candidate(case.job, &house.limits, curves, totals_m3_s));
    if let Some(found) = judged {
        let key = match found.verdict {
            Verdict::Holds => HousePressureCandidateKey::Holds,
            Verdict::Unknown => HousePressureCandidateKey::Unknown,
            Verdict::Fails => HousePressureCandidateKey::Fails,
            Verdict::Caution => HousePressureCandidateKey::Beyond,
        };
        let message = HousePressureCandidate {
            key,
            appliance: Name::new(&found.limit.appliance),
            down: PressurePa(found.down),
            limit: PressurePa(Triple::exact(found.limit.strictest())),
            chance: case.inputs.tells_chance().then(|| ChanceRatio(Triple::exact(found.chance))),
        };
        return note(found.verdict, message.into());
    }
    // Nothing that burns anything is in the house, by what is written.
    let dwelling = &case.job.dwelling;
    let burns_nothing = house.limits.is_empty()
        && (!dwelling.appliances.is_empty() || given::yes(&dwelling.burns_fuel) == Some(false));
    if burns_nothing || !moves_more(case, spot.rooms, moved_m3_s) {
        return None;
    }
    note(Verdict::Unknown, Message::from(HousePressureLargerFan {}))
}

/// Whether a candidate takes more air out of the house than the fan of the job does, or that is not
/// known.
fn moves_more(case: &Case<'_>, rooms: &[usize], moved_m3_s: f64) -> bool {
    let now = case.flows.and_then(|flows| {
        rooms
            .iter()
            .map(|&room| Some(flows.rooms[room].as_ref()?.triple().likely))
            .sum::<Option<f64>>()
    });
    now.is_none_or(|now| moved_m3_s > 1.02 * now)
}
