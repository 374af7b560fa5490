//! Stage `route`: which ways lead outdoors without breaking a member, what each costs in air and in work.
//!
//! The search is that of `dewpath-layout`. Each way that it keeps is written into the job as a run of straight pieces and
//! fittings and judged with the whole network; nothing is adopted here.

mod build;
mod ducts;
mod follow;
mod judge;
mod materials;
mod told;

use dewpath_job::model::{
    Above, DuctKind, Job, LayerMaterial, RoofCover, Run, Separation, WayOut, WayOutKind,
};
use dewpath_layout::bore::{
    Hole, HoleAnswer, HoleRule, Joist, Missing, Opening, Rectangular, Ruling, judge_hole,
};
use dewpath_layout::framing::{Member, MemberKind};
use dewpath_layout::geometry::Block;
use dewpath_layout::route::{
    Bore, Exit, ExitKind, Found, Heading, MayBore, Offer, Offers, Opening as Opens, Relaxed, Route,
    Space, SpaceKind, Ways, ranked, search_through, why_none,
};
use dewpath_report::{
    Bore as BoreResult, Elbow, Figure, Finding, Message, RouteResult, Source, Triple, Verdict,
};
use dewpath_units::{Length, sort};

use crate::checks::Look;
use crate::checks::evidence::rooms_of_fan;
use crate::floor::{Floor, Gate};
use crate::given;
use crate::inputs::Draw;
use crate::place::Start;
use ducts::Choice;
pub(crate) use ducts::first_duct;
pub(crate) use follow::{Wanted, to};

/// Ways that are judged for each fan.
const KEPT: usize = 5;
/// Height of a lowered soffit that could be built below the ceiling, m. Judgement.
const SOFFIT_M: f64 = 0.25;
/// Work to build it, h. Judgement.
const SOFFIT_H: f64 = 8.0;

/// What the stage found.
#[derive(Debug, Default)]
pub(crate) struct Stage {
    /// Ways, best first.
    pub routes: Vec<RouteResult>,
    /// Findings.
    pub findings: Vec<Finding>,
}

/// Searches the ways outdoors for every fan of which the place is known.
pub(crate) fn route(look: &Look<'_>, floor: &mut Floor, starts: &[Start]) -> Stage {
    let mut stage = Stage::default();
    if look.job.ways_out.is_empty() {
        return stage;
    }
    let gates = floor.ways_out.clone();
    for start in starts {
        one(look, floor, &gates, start, &mut stage);
    }
    stage
}

/// Everything that one search is about.
struct Task<'a> {
    look: &'a Look<'a>,
    start: &'a Start,
    run: usize,
    flow_m3_s: f64,
    jacket_m: f64,
    /// Share of the thickness of the insulation that is left where it is tight.
    left: f64,
}

/// Shares of the thickness to which insulation is pressed where there is no room for all of it, most first. Judgement; what
/// that costs in heat is said, and the run as built says how much is squeezed (`compressed`).
const LEFT: [f64; 4] = [1.0, 0.5, 0.25, 0.1];

fn one(
    look: &Look<'_>,
    floor: &mut Floor,
    gates: &[(usize, Gate)],
    start: &Start,
    stage: &mut Stage,
) {
    let job = look.job;
    let fan = &job.fans[start.fan];
    let Some(run) = job.runs.iter().position(|run| run.from == fan.id) else { return };
    let Some(flow_m3_s) = required_m3_s(look, start.fan) else {
        stage.findings.push(unknown(&fan.id, Message::new("route.out.no-requirement")));
        return;
    };
    let jacket_m = crate::place::insulation_m(job, fan);
    let mut task = Task { look, start, run, flow_m3_s, jacket_m, left: 1.0 };
    let admitted: Vec<(usize, Gate)> = gates
        .iter()
        .copied()
        .filter(|(way, _)| is_admitted(&job.ways_out[*way], stage, &fan.id))
        .collect();
    if admitted.is_empty() {
        let first = floor.missing.iter().find(|path| path.starts_with("way_out."));
        let message = match first {
            Some(path) => Message::new("route.out.missing").reference("at", path),
            None => Message::new("route.out.none-admitted"),
        };
        stage.findings.push(unknown(&fan.id, message));
        return;
    }
    let mut choices = Vec::new();
    let mut found: Vec<Route> = Vec::new();
    let mut is_whole = true;
    for left in LEFT {
        choices = ducts::choices(look, &job.runs[run], flow_m3_s, left * jacket_m);
        for choice in &choices {
            match routes(&task, floor, &admitted, choice) {
                Ok(more) => {
                    found.extend(more.routes);
                    is_whole &= more.is_whole;
                }
                Err(wrong) => {
                    let message = Message::new("route.out.bad-geometry").name("told", wrong);
                    stage.findings.push(unknown(&fan.id, message));
                    return;
                }
            }
        }
        task.left = left;
        if !found.is_empty() || jacket_m <= 0.0 {
            break;
        }
    }
    let by_name = |name: &str| choices.iter().find(|c| c.duct.id == name);
    let best = ranked(found, KEPT);
    let mut results: Vec<(RouteResult, Job)> = best
        .iter()
        .filter_map(|route| Some((route, by_name(&route.duct)?)))
        .filter_map(|(route, choice)| result(&task, floor, &admitted, route, choice))
        .collect();
    if results.is_empty() {
        stage.findings.push(no_way(&task, floor, &admitted, choices.first(), is_whole));
        return;
    }
    sort::by(&mut results, |(a, _), (b, _)| order(a, b));
    let water = results.first().and_then(|(_, job)| judge::net_winter_g(&task, job));
    let mut results: Vec<RouteResult> = results.into_iter().map(|(result, _)| result).collect();
    if !is_whole {
        let note = Message::new("route.note.not-searched-through");
        for result in &mut results {
            result.notes.push(note.clone());
        }
    }
    for (rank, result) in results.iter_mut().enumerate() {
        result.rank = rank as u32 + 1;
        result.net_winter_g = water.filter(|_| rank == 0);
    }
    stage.findings.push(out(&fan.id, &results));
    stage.findings.extend(build::findings(&results[0]));
    stage.routes.append(&mut results);
}

/// Enough air first, then little work, then little loss.
fn order(a: &RouteResult, b: &RouteResult) -> std::cmp::Ordering {
    (a.verdict.cmp(&b.verdict))
        .then(a.labour_h.total_cmp(&b.labour_h))
        .then(a.loss_pa.total_cmp(&b.loss_pa))
        .then_with(|| a.way_out.cmp(&b.way_out))
}

/// Flow that the rooms of a fan require together, at the likely values.
fn required_m3_s(look: &Look<'_>, fan: usize) -> Option<f64> {
    let rooms = rooms_of_fan(look.job, fan);
    let needs = rooms
        .iter()
        .map(|&room| look.required.rooms[room].flow.as_ref().map(|flow| flow.at(Draw::Likely)));
    needs.sum::<Option<f64>>().filter(|flow| *flow > 0.0)
}

/// Walls that no duct may pass are left out and named.
fn is_admitted(way: &WayOut, stage: &mut Stage, fan: &str) -> bool {
    let stop = match given::member(&way.separation) {
        Some(Separation::Townhouse) => Some(("route.separation.townhouse", true)),
        Some(Separation::Garage) => Some(("route.separation.garage", true)),
        Some(Separation::Dwelling) => Some(("route.separation.dwelling", false)),
        Some(Separation::Rated) => Some(("route.separation.rated", false)),
        Some(Separation::None) | None => None,
    };
    let Some((key, closed)) = stop else { return true };
    let verdict = if closed { Verdict::Caution } else { Verdict::Unknown };
    let message = Message::new(key).reference("way", &way.id);
    let source = Source::confirmed(
        "International Residential Code",
        match given::member(&way.separation) {
            Some(Separation::Townhouse) => "R302.2.2",
            Some(Separation::Garage) => "R302.5.2",
            _ => "R302.4",
        },
    );
    stage.findings.push(
        Finding::new("route.separation", &format!("{fan}/{}", way.id), verdict, message, source)
            .todo(Message::new("todo.firestop-system")),
    );
    !closed
}

/// Rule for holes of the book in force, as the layout takes it.
pub(crate) fn hole_rule(look: &Look<'_>) -> Option<(HoleRule, Source)> {
    let ruled = look.ask(dewpath_rulebook::Book::joist_hole)?;
    let source = crate::source::ruled(&ruled);
    let rule = ruled.value;
    Some((
        HoleRule {
            share_of_depth: rule.share,
            edge_m: rule.to_edge.map_or(0.0, Length::m),
            apart_m: rule.to_next.map(Length::m),
            whole_ends: None,
            whole_middle: None,
            least_depth_m: None,
            rectangular: Rectangular::NotTold,
        },
        source,
    ))
}

/// Longest side of a hole, m.
fn across_m(opening: Opening) -> f64 {
    match opening {
        Opening::Round { diameter_m } => diameter_m,
        Opening::Rectangle { width_m, height_m } => width_m.max(height_m),
    }
}

fn joist(member: &Member) -> Joist {
    Joist {
        id: member.id.clone(),
        kind: member.kind,
        depth_m: Some(member.depth_m()),
        span_m: Some(member.span[1] - member.span[0]),
    }
}

fn hole(opening: Opening, along_m: f64, up_m: f64) -> Hole {
    Hole { id: "bore".to_owned(), opening, along_m: Some(along_m), up_m: Some(up_m) }
}

fn routes(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    choice: &Choice,
) -> Result<Found, String> {
    let exits = exits(task, gates, choice);
    with_ways(task, floor, &exits, |ways, may_bore| {
        search_through(ways, &choice.duct, may_bore, KEPT).map_err(|wrong| wrong.to_string())
    })
}

/// Hands the ways and the rule on bores to a search.
fn with_ways<T>(
    task: &Task<'_>,
    floor: &Floor,
    exits: &[Exit],
    then: impl FnOnce(&Ways<'_>, &MayBore<'_>) -> T,
) -> T {
    let rule = hole_rule(task.look);
    let may_bore = |member: &Member, along: f64, up: f64, opening: Opening| {
        let rule = rule.as_ref().map(|(rule, _)| rule);
        match judge_hole(&joist(member), &hole(opening, along, up), &[], rule) {
            Ok(answer) if answer.ruling == Ruling::Allowed => Bore::Allowed,
            Ok(answer) => Bore::Forbidden(refusal_key(&answer).to_owned()),
            Err(wrong) => Bore::Forbidden(wrong.to_string()),
        }
    };
    let start = task.start;
    let from: [f64; 3] =
        std::array::from_fn(|i| start.outlet[i] + start.collar_m * start.towards[i]);
    let towards = Heading::of(start.towards)
        .unwrap_or(Heading { axis: dewpath_layout::geometry::Axis::X, ahead: true });
    let ways = Ways {
        from,
        towards,
        bays: &floor.bays,
        members: &floor.members,
        spaces: &floor.spaces,
        obstacles: &floor.obstacles,
        exits,
    };
    then(&ways, &may_bore)
}

/// Key of why a bore is refused, for sentences.
fn refusal_key(answer: &HoleAnswer) -> &'static str {
    if answer.missing.contains(&Missing::Rectangular) {
        "bore-not-round"
    } else {
        ruling_key(answer.ruling)
    }
}

/// Key of a ruling on a bore, for sentences.
pub(crate) const fn ruling_key(ruling: Ruling) -> &'static str {
    match ruling {
        Ruling::Allowed => "bore-allowed",
        Ruling::Forbidden => "bore-forbidden",
        Ruling::Unknown => "bore-no-rule",
        Ruling::MakersChart => "bore-makers-chart",
        Ruling::Designer => "bore-designer",
    }
}

fn exits(task: &Task<'_>, gates: &[(usize, Gate)], choice: &Choice) -> Vec<Exit> {
    let exit = |(way, gate): &(usize, Gate)| {
        let way = &task.look.job.ways_out[*way];
        Exit {
            id: way.id.clone(),
            kind: gate.kind,
            window: gate.window,
            outward: gate.outward,
            depth_m: gate.depth_m,
            pressure_pa: ducts::terminal_pa(gate.kind, task.flow_m3_s, choice.inside_m),
            labour_h: way_out_h(way),
        }
    };
    gates.iter().map(exit).collect()
}

/// Work to pass a wall or roof and to set its terminal, h. Judgement within the ranges that published guides and owners' logs
/// tell: brick 1.5 to 3, roof cap in shingles 1 to 2, in metal 2 to 3, through a rim with its hood about 1.5.
fn way_out_h(way: &WayOut) -> f64 {
    let hard = way.layers.iter().any(|layer| {
        matches!(
            given::member(&layer.material),
            Some(
                LayerMaterial::Brick
                    | LayerMaterial::Block
                    | LayerMaterial::Concrete
                    | LayerMaterial::Stone
            )
        )
    });
    let base = match given::member(&way.kind) {
        Some(WayOutKind::Existing) => 0.75,
        Some(WayOutKind::Soffit) => 1.0,
        Some(WayOutKind::Roof) => match given::member(&way.cover) {
            Some(RoofCover::Metal | RoofCover::Tile | RoofCover::Slate) => 2.5,
            _ => 1.5,
        },
        _ => 1.5,
    };
    if hard && given::member(&way.kind) != Some(WayOutKind::Existing) { base + 1.5 } else { base }
}

fn result(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    route: &Route,
    choice: &Choice,
) -> Option<(RouteResult, Job)> {
    let job = task.look.job;
    let (way, gate) = gates.iter().find(|(way, _)| job.ways_out[*way].id == route.exit)?;
    let built = judge::built(task, floor, *way, gate, route, choice);
    let (delivered, verdict) = judge::judged(task, &built.job);
    let rule = hole_rule(task.look);
    let bores: Vec<BoreResult> = route
        .crossings
        .iter()
        .filter_map(|crossing| {
            let member = floor.members.iter().find(|member| member.id == crossing.member)?;
            let hole = hole(crossing.opening, crossing.along_m, crossing.height_m);
            let judged = bore(member, &hole, across_m(crossing.opening), rule.as_ref())?;
            Some(BoreResult { at_m: Some(crossing.at), ..judged })
        })
        .collect();
    let mut line: Vec<[f64; 3]> = route.legs.iter().map(|leg| leg.from).collect();
    line.extend(route.legs.last().map(|leg| leg.to));
    let exits = exits(task, gates, choice);
    let put_up = build::build(task, route, choice, gate.depth_m, |slope| {
        with_ways(task, floor, &exits, |ways, may_bore| {
            build::falls_of(route, ways, choice, may_bore, slope)
        })
    });
    let result = RouteResult {
        fan: job.fans[task.start.fan].id.clone(),
        rank: 0,
        way_out: route.exit.clone(),
        duct: route.duct.clone(),
        through: route.through.clone(),
        line_m: line,
        length_m: route.length_m,
        elbows: route
            .bends
            .iter()
            .map(|bend| Elbow {
                turn_deg: bend.turn_deg,
                radius_m: bend.radius_m,
                at_m: bend.corner,
            })
            .collect(),
        bores,
        loss_pa: route.pressure_pa,
        delivered,
        net_winter_g: None,
        labour_h: route.labour_h,
        notes: notes(route, choice, task, &put_up),
        materials: materials::materials(task, route, choice, &put_up, cap_word(gate.kind)),
        legs: put_up.legs,
        slope_ratio: put_up.slope_ratio,
        slope_source: put_up.slope_source,
        fall_m: put_up.fall_m,
        low_points: put_up.low_points,
        supports: put_up.supports,
        supports_m: put_up.supports_m,
        jointing: put_up.jointing,
        working: exits
            .iter()
            .find(|exit| exit.id == route.exit)
            .map(|exit| told::working(route, choice, exit))
            .unwrap_or_default(),
        verdict,
        patch: built.patch,
    };
    Some((result, built.job))
}

fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    let d: [f64; 3] = std::array::from_fn(|i| b[i] - a[i]);
    (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt()
}

fn notes(route: &Route, choice: &Choice, task: &Task<'_>, put_up: &build::Build) -> Vec<Message> {
    let mut notes = Vec::new();
    if route.is_dominated {
        notes.push(Message::new("route.note.other-is-better"));
    }
    notes.extend(build::notes(put_up));
    if task.left < 1.0 {
        let left = Figure::ShareRatio(Triple::exact(task.left));
        notes.push(Message::new("route.note.pressed").figure("left", left));
    }
    if task.jacket_m > 0.0 {
        let outside = Figure::DiameterMm(Triple::exact(1000.0 * choice.duct.outside_m));
        notes.push(Message::new("route.note.outside").figure("outside", outside));
    }
    notes
}

/// A hole through a member, judged.
pub(crate) fn bore(
    member: &Member,
    hole: &Hole,
    diameter_m: f64,
    rule: Option<&(HoleRule, Source)>,
) -> Option<BoreResult> {
    let answer = judge_hole(&joist(member), hole, &[], rule.map(|(rule, _)| rule)).ok()?;
    let verdict = match answer.ruling {
        Ruling::Allowed => Verdict::Holds,
        Ruling::Forbidden | Ruling::Designer => Verdict::Fails,
        Ruling::Unknown | Ruling::MakersChart => Verdict::Unknown,
    };
    let source = match (answer.ruling, rule) {
        (Ruling::MakersChart, _) => Source::judgement("the maker's chart for this member"),
        (Ruling::Designer, _) => Source::confirmed(
            "International Residential Code",
            "R502.11.3, R802.10.4: trusses are altered by a design professional alone",
        ),
        (_, Some((_, source))) => source.clone(),
        (_, None) => Source::judgement("no rule book says what may be bored"),
    };
    // A figure that rests on memory alone gives no verdict.
    let verdict = match (&source.standing, verdict) {
        (dewpath_report::Standing::FromMemory, Verdict::Holds | Verdict::Fails) => Verdict::Unknown,
        (_, verdict) => verdict,
    };
    Some(BoreResult {
        member: member.id.clone(),
        at_m: None,
        kind: kind_key(member.kind).to_owned(),
        depth_m: Some(member.depth_m()),
        diameter_m,
        allowed_m: answer.allowed_m,
        edge_m: answer.edge_m,
        edge_least_m: answer.edge_least_m,
        verdict,
        source,
    })
}

/// Key of a kind of member.
pub(crate) const fn kind_key(kind: MemberKind) -> &'static str {
    match kind {
        MemberKind::Sawn => "member-sawn",
        MemberKind::Doubled => "member-doubled",
        MemberKind::IJoist => "member-i-joist",
        MemberKind::Truss => "member-truss",
        MemberKind::Engineered => "member-engineered",
        MemberKind::Steel => "member-steel",
    }
}

fn source() -> Source {
    Source::judgement("search over the geometry that is written, members bored only where allowed")
}

fn unknown(fan: &str, message: Message) -> Finding {
    Finding::new("route.out", fan, Verdict::Unknown, message, source())
}

fn length(value: f64) -> Figure {
    Figure::LengthM(Triple::exact(value))
}

fn out(fan: &str, results: &[RouteResult]) -> Finding {
    let first = &results[0];
    let key = match first.verdict {
        Verdict::Holds => "route.out.holds",
        Verdict::Fails => "route.out.short",
        Verdict::Unknown | Verdict::Caution => "route.out.unsure",
    };
    let hours = Figure::TimeH(Triple::exact(first.labour_h));
    let loss = Figure::PressurePa(Triple::exact(first.loss_pa));
    let elbows = Figure::Count(Triple::exact(first.elbows.len() as f64));
    let message = Message::new(key)
        .figure("ways", Figure::Count(Triple::exact(results.len() as f64)))
        .reference("way", &first.way_out)
        .reference("duct", &first.duct)
        .figure("length", length(first.length_m))
        .figure("elbows", elbows)
        .figure("hours", hours)
        .figure("loss", loss);
    // A way that is short of air is no broken rule of the job as written: the run it has is judged elsewhere.
    let verdict = if first.verdict == Verdict::Fails { Verdict::Caution } else { first.verdict };
    let mut made = Finding::new("route.out", fan, verdict, message, source()).figure(loss);
    made.working.clone_from(&first.working);
    made
}

/// Nothing leads outdoors: what would open a way, found by searching again with it.
fn no_way(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    choice: Option<&Choice>,
    is_whole: bool,
) -> Finding {
    let fan = &task.look.job.fans[task.start.fan].id;
    let none = || {
        if is_whole {
            let message = Message::new("route.out.none");
            return Finding::new("route.out", fan, Verdict::Fails, message, source());
        }
        // That no way was found proves nothing where not every place was looked at.
        unknown(fan, Message::new("route.out.not-searched-through"))
            .todo(Message::new("todo.less-floor"))
    };
    let Some(choice) = choice else {
        return unknown(fan, Message::new("route.out.no-duct"));
    };
    let offers = offers(task, floor, choice);
    let exits = exits(task, gates, choice);
    let told = with_ways(task, floor, &exits, |ways, may_bore| {
        why_none(ways, &choice.duct, may_bore, &offers)
    });
    let told = match told {
        Ok(Some(told)) => told,
        Ok(None) => return none(),
        // That there is no way was found before; only what would open one was not.
        Err(wrong) => {
            return none()
                .todo(Message::new("todo.not-searched").name("told", wrong.to_string()))
                .todo(Message::new("todo.other-way-out"));
        }
    };
    let mut made = none();
    for opening in told.openings.iter().take(3) {
        made = made.todo(opens(opening));
    }
    // What merely stands in the way of a leg that does not cross squarely is no refusal of a bore.
    let refused = told.blocked.forbidden.iter().filter(|reason| reason.starts_with("bore-"));
    for reason in refused.take(2) {
        made = made.todo(Message::new("todo.bore-refused").word("why", reason.as_str()));
    }
    if let Some(reached) = told.blocked.reached.last() {
        made = made.todo(Message::new("todo.duct-reaches").reference("reached", reached));
    }
    // What nobody wrote can't be searched: other walls and the roof come last.
    made.todo(Message::new("todo.other-way-out"))
}

fn opens(opening: &Opens) -> Message {
    let by = |key: &str, id: &str| Message::new(key).reference("id", id);
    let message = match &opening.relaxed {
        Relaxed::SmallerDuct(id) => by("route.opens.smaller", id),
        Relaxed::OvalDuct(id) => by("route.opens.oval", id),
        Relaxed::Space(id) => by("route.opens.space", id),
        Relaxed::Exit(id) => by("route.opens.exit", id),
        Relaxed::Obstacle(id) => by("route.opens.obstacle", id),
    };
    let loss = Figure::PressurePa(Triple::exact(opening.route.pressure_pa));
    message.reference("way", &opening.route.exit).figure("loss", loss)
}

/// What could be changed: smaller and oval ducts, a soffit below the ceiling, obstacles out of the way.
fn offers(task: &Task<'_>, floor: &Floor, choice: &Choice) -> Offers {
    let inches = [3.0_f64, 4.0, 5.0, 6.0];
    let smaller = inches
        .iter()
        .map(|inch| inch * 0.0254)
        .filter(|d| *d < choice.inside_m - 1e-3)
        .filter_map(|d| {
            ducts::choice(None, DuctKind::SmoothMetal, d, task.flow_m3_s, task.left * task.jacket_m)
        })
        .map(|c| Offer { what: c.duct, labour_h: Some(0.0) })
        .collect();
    // An oval of the same circumference, three inches high inside.
    let high = 0.0762;
    let wide =
        choice.inside_m * std::f64::consts::FRAC_PI_2 + high * (1.0 - std::f64::consts::FRAC_PI_2);
    let ovals = (wide > high)
        .then(|| {
            let mut duct = choice.duct.clone();
            let around = duct.outside_m - choice.inside_m;
            duct.id = format!("{:.0} x {:.0} mm", 1000.0 * wide, 1000.0 * high);
            duct.height_m = Some(high + around);
            duct.outside_m = wide + around;
            duct.hole_m = duct.hole_m.max(duct.outside_m);
            Offer { what: duct, labour_h: Some(0.5) }
        })
        .into_iter()
        .collect();
    let spaces = lowered_soffit(floor).map(|what| Offer { what, labour_h: Some(SOFFIT_H) });
    Offers {
        smaller,
        ovals,
        spaces: spaces.into_iter().collect(),
        exits: Vec::new(),
        obstacles: (0..floor.obstacles.len()).map(|i| Offer { what: i, labour_h: None }).collect(),
    }
}

/// The whole underside of the ceiling, a soffit's height down.
fn lowered_soffit(floor: &Floor) -> Option<Space> {
    let first = floor.zones.first()?.1.space;
    let all = floor.zones.iter().fold(first, |all, (_, zone)| Block {
        min: std::array::from_fn(|i| all.min[i].min(zone.space.min[i])),
        max: std::array::from_fn(|i| all.max[i].max(zone.space.max[i])),
    });
    let clear = Block {
        min: [all.min[0], all.min[1], all.min[2] - SOFFIT_M],
        max: [all.max[0], all.max[1], all.min[2]],
    };
    Some(Space { id: "lowered soffit".to_owned(), kind: SpaceKind::LoweredSoffit, clear })
}

/// What surrounds a duct in a bay below this.
fn below(job: &Job, floor: &Floor, bay: &str) -> Option<Above> {
    let bay = floor.bays.iter().find(|b| b.id == bay)?;
    let (framing, _) = floor.zones.get(bay.zone)?;
    given::member(&job.framing.get(*framing)?.above)
}

/// The run of a task.
fn run_of<'a>(task: &Task<'a>) -> &'a Run {
    &task.look.job.runs[task.run]
}

/// Kind of cap on a way out.
const fn cap_word(kind: ExitKind) -> &'static str {
    match kind {
        ExitKind::Roof => "roof cap",
        ExitKind::Soffit => "soffit cap",
        ExitKind::Gable => "gable cap",
        ExitKind::Wall | ExitKind::Rim => "wall cap",
    }
}
