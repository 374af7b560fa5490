//! Stage `place`: where the housing of a fan fits, nearest to where it should be.
//!
//! The geometry is worked out by `dewpath-layout`; this stage asks the job what it needs, turns places into candidates (each a
//! patch) and judges the place that is written.

mod fasten;

use std::collections::BTreeMap;

use dewpath_case::given;
use dewpath_job::edit::Edit;
use dewpath_job::model::{
    Fan, FixtureKind, HousingGiven, Job, OutletSide, PartKind, Room, RunShape, Section,
    Wish as Wished, place_known,
};
use dewpath_layout::framing::MemberKind;
use dewpath_layout::geometry::Block;
use dewpath_layout::place::{
    Bound, Housing, NoPlace, Obstacle, Outlet, Place, PlaceError, Side, Site, Stock, Wish, places,
};
use dewpath_layout::room::Plan;
use dewpath_message::slot::{LengthM, Name, Reference, Word};
use dewpath_report::say::{
    BoundBy, BoundByKey, BoundByThing, BoundByThingKey, PlaceEdgeUnknown, PlaceHousing,
    PlaceHousingBadGeometry, PlaceHousingHangs, PlaceHousingKey, PlaceHousingMissing,
    PlaceHousingMoved, PlaceHousingNotThere, PlaceHousingNowhere, Todo, TodoLookAtEdge, TodoWrite,
    What,
};
use dewpath_report::{
    BlockPiece, Check, Finding, Message, PatchText, Placement, Provenance, Source, Step, Triple,
    Verdict, WorkingInput,
};
use dewpath_units::{Angle, Length};

use crate::edit;
use crate::floor::{Floor, quarter_turns};

/// Candidates for each fan.
const KEPT: usize = 3;
/// Play round the body, m: 1/8 in. Common practice, no source.
const PLAY_M: f64 = 0.003175;
/// Gap over which ears and screws of a housing reach, m: 1/2 in. Judgement.
const REACH_M: f64 = 0.0127;
/// Places closer than this are the same, m: half of 1/16 in.
const SAME_M: f64 = 0.0008;
/// Share of the thickness of the insulation that there is room for at the collar at least: it is pressed where it is tight, as the
/// search for ways outdoors presses it, which says so. Judgement.
const PRESSED: f64 = 0.1;
/// Directions in which a collar can look.
const TURNS: usize = 4;
/// A housing that is moved by hand may be so much further off than need be, m, where its duct then finds a way. Judgement.
const ABOUT_M: f64 = 0.05;
/// Straight length after the collar, in diameters: the rule is told by `fan` checks; here it is room for the first piece.
/// Judgement.
const FIRST_STRAIGHT_M: f64 = 0.15;

/// Where the duct of a fan starts: by the place that is written, else by the first candidate.
#[derive(Debug, Clone)]
pub struct Start {
    /// Fan, by index.
    pub fan: usize,
    /// Where the duct leaves, x, y, z.
    pub outlet: [f64; 3],
    /// Direction, of length 1.
    pub towards: [f64; 3],
    /// How far the collar stands out, m.
    pub collar_m: f64,
    /// Level of the finished ceiling there, m.
    pub ceiling_m: f64,
}

/// What the stage found.
#[derive(Debug, Default)]
pub struct Stage {
    /// Candidates.
    pub placements: Vec<Placement>,
    /// Findings.
    pub findings: Vec<Finding>,
    /// Where ducts start.
    pub starts: Vec<Start>,
}

/// Places every fan that hangs in a room of which the geometry is begun.
pub fn place(job: &Job, floor: &mut Floor) -> Stage {
    let mut stage = Stage::default();
    if job.framing.is_empty() {
        return stage;
    }
    for (index, fan) in job.fans.iter().enumerate() {
        if let Some(room) = room_of(job, fan) {
            place_fan(job, floor, index, fan, room, &mut stage);
        }
    }
    stage
}

/// What is asked of the layout for one fan.
#[derive(Debug)]
pub(crate) struct Seat {
    housing: Housing,
    plan: Plan,
    wet: Vec<Obstacle>,
    open: Vec<Block>,
    board_m: f64,
    /// Where the housing should be, with the key of the wish.
    wish: (&'static str, [f64; 2]),
}

impl Seat {
    /// None where something that it needs is not written, or can't be; `floor` then tells what.
    fn of(job: &Job, floor: &mut Floor, fan: &Fan, room: &Room) -> Option<Self> {
        let housing = housing(job, floor, fan);
        let plan = floor.outline(room);
        let wish = plan.as_ref().and_then(|plan| wish(floor, room, plan));
        let (housing, plan, wish) = (housing?, plan?, wish?);
        let open = floor.spaces.iter().map(|space| space.clear).collect();
        let board_m = floor.board_m(room);
        Some(Self { housing, plan, wet: wet_zones(room), open, board_m, wish })
    }

    /// The same for a fan by its index, where the geometry around it is whole.
    pub(crate) fn of_fan(job: &Job, floor: &mut Floor, index: usize) -> Option<Self> {
        let fan = &job.fans[index];
        let seat = Self::of(job, floor, fan, room_of(job, fan)?)?;
        (!floor.bays.is_empty() && floor.wrong.is_empty()).then_some(seat)
    }

    /// The places at which the housing of a fan hangs about a spot, the nearest first, and where its duct starts from each: one for
    /// each direction that its collar can look in. How far they are off is counted from the wish, as for every candidate; their rank
    /// is 1. Empty where it hangs nowhere.
    pub(crate) fn around(
        &self,
        job: &Job,
        floor: &Floor,
        index: usize,
        at: [f64; 2],
    ) -> Vec<(Placement, Start)> {
        if !at.iter().all(|v| v.is_finite()) {
            return Vec::new();
        }
        let (wish_key, wish) = self.wish;
        let found = self.places(floor, at, TURNS, TURNS).unwrap_or_default();
        let Some(nearest) = found.first().map(|place| place.distance_m) else { return Vec::new() };
        let about = found.into_iter().filter(|place| place.distance_m <= nearest + ABOUT_M);
        let teller = Teller::new(job, index, wish_key, floor);
        about
            .map(|place| {
                let start = start(index, &place, &self.housing);
                (teller.placement(1, &from_wish(place, wish)), start)
            })
            .collect()
    }

    /// Places nearest to a spot, best first.
    fn places(
        &self,
        floor: &Floor,
        at: [f64; 2],
        keep: usize,
        per_bay: usize,
    ) -> Result<Vec<Place>, PlaceError> {
        let site = Site {
            bays: &floor.bays,
            members: &floor.members,
            open: &self.open,
            obstacles: &floor.obstacles,
            wet: &self.wet,
            plan: Some(&self.plan),
            board_m: self.board_m,
            play_m: PLAY_M,
            straight_may_leave: true,
            stock: stock(floor),
        };
        places(&self.housing, &site, &Wish { at, cable_from: None, keep, per_bay })
    }
}

/// A place that was asked for elsewhere, its offset counted from the wish.
fn from_wish(mut place: Place, wish: [f64; 2]) -> Place {
    place.offset_m = [0, 1].map(|i| place.middle[i] - wish[i]);
    let [x, y] = place.offset_m;
    place.distance_m = libm::hypot(x, y);
    place
}

fn room_of<'a>(job: &'a Job, fan: &Fan) -> Option<&'a Room> {
    fan.room.as_ref().and_then(|id| job.rooms.iter().find(|room| room.id == *id))
}

fn place_fan(
    job: &Job,
    floor: &mut Floor,
    index: usize,
    fan: &Fan,
    room: &Room,
    stage: &mut Stage,
) {
    let before = floor.missing.len();
    let seat = Seat::of(job, floor, fan, room);
    if let Some(wrong) = floor.wrong.first() {
        stage.findings.push(bad_geometry(fan, &wrong.to_string()));
        return;
    }
    let Some(seat) = seat else {
        stage.findings.push(missing(fan, floor.missing.get(before..).unwrap_or_default(), floor));
        return;
    };
    if floor.bays.is_empty() {
        stage.findings.push(missing(fan, &floor.missing, floor));
        return;
    }
    let (wish_key, at) = seat.wish;
    let found = match seat.places(floor, at, KEPT, 1) {
        Ok(found) => found,
        Err(PlaceError::Bad(wrong)) => {
            stage.findings.push(bad_geometry(fan, &wrong.to_string()));
            return;
        }
        Err(PlaceError::Nowhere(nowhere)) => {
            stage.findings.push(fits_nowhere(fan, &nowhere));
            return;
        }
    };
    let teller = Teller::new(job, index, wish_key, floor);
    let written = place_known(&fan.at).map(|at| at.map(Length::m));
    let mut hung = None;
    let mut shown = &found[0];
    let here;
    let finding = match written {
        None => {
            stage.starts.push(start(index, &found[0], &seat.housing));
            nearest(fan, wish_key, &found[0])
        }
        Some(spot) => {
            let turns = quarter_turns(&fan.rotation);
            here = seat.places(floor, spot, 4, 4).unwrap_or_default();
            let same = |place: &&Place| turns.is_none_or(|turns| place.turns == turns);
            match here.iter().find(same) {
                Some(place) if place.distance_m <= SAME_M => {
                    shown = place;
                    stage.starts.push(start(index, place, &seat.housing));
                    hung = Some(teller.placement(0, &from_wish(place.clone(), at)));
                    hangs(fan, place)
                }
                other => does_not_hang(fan, other),
            }
        }
    };
    let first_of_fan = stage.placements.len();
    stage.placements.extend(hung);
    for (rank, place) in (1..).zip(&found) {
        stage.placements.push(teller.placement(rank, place));
    }
    // What a hand does there stands beside the hold point.
    let told = stage.placements[first_of_fan..].first().map(|place| place.fastening.clone());
    let finding = told.into_iter().flatten().fold(finding, Finding::todo);
    stage.findings.push(finding);
    stage.findings.extend(unknown_edge(floor, shown, &stage.findings));
}

fn start(fan: usize, place: &Place, housing: &Housing) -> Start {
    Start {
        fan,
        outlet: place.outlet,
        towards: place.towards,
        collar_m: housing.outlet.collar_m,
        // The lip of the housing lies in the plane of the ceiling.
        ceiling_m: place.body.min[2],
    }
}

/// The housing of a fan; none where its size or its outlet is not known.
fn housing(job: &Job, floor: &mut Floor, fan: &Fan) -> Option<Housing> {
    let at = format!("fan.{}", fan.id);
    let Some(body) = fan.data.housing else {
        floor.missing.push(format!("{at}.housing"));
        return None;
    };
    let [length, width, height] = body.map(Length::m);
    let Some(Section::Round(outlet)) = given::member(&fan.data.outlet) else {
        floor.missing.push(format!("{at}.outlet"));
        return None;
    };
    let given = &fan.data.body;
    let side = side(floor, &at, given);
    let usual = |floor: &mut Floor, key: &str, what: What, value, usual_m| {
        floor.usual_m(&format!("{at}.body.{key}"), what, value, usual_m, Source::practice())
    };
    let offset_m = usual(floor, "outlet_offset", What::OutletOffset, &given.outlet_offset, 0.0);
    let height_m =
        usual(floor, "outlet_height", What::OutletHeight, &given.outlet_height, 0.5 * height);
    let collar_m = usual(floor, "collar", What::Collar, &given.collar, 0.0381);
    let flange_m = usual(floor, "flange", What::Flange, &given.flange, 0.0127);
    let insulation_m = insulation_m(job, fan);
    Some(Housing {
        id: fan.id.clone(),
        body_m: [length, width, height],
        flange_m,
        flange_between: false,
        reach_m: REACH_M,
        outlet: Outlet {
            side,
            offset_m,
            height_m,
            outside_m: outlet.m() + 2.0 * PRESSED * insulation_m,
            collar_m,
            // Room for the first straight length and for an elbow behind it.
            straight_m: FIRST_STRAIGHT_M + outlet.m(),
        },
        listed_wet: given::yes(&fan.data.listed_wet) == Some(true),
    })
}

fn side(floor: &mut Floor, at: &str, given: &HousingGiven) -> Side {
    match given::member(&given.outlet_side) {
        Some(OutletSide::End) => Side::PlusX,
        Some(OutletSide::Flank) => Side::PlusY,
        Some(OutletSide::Top) => Side::Up,
        None => {
            let path = format!("{at}.body.outlet_side");
            floor.taken(&path, What::OutletSide, "end", Source::practice());
            Side::PlusX
        }
    }
}

/// Thickness of the insulation on the first run of a fan, m; nothing where none is written.
pub(crate) fn insulation_m(job: &Job, fan: &Fan) -> f64 {
    /// Glass fibre as labels count it: an inch, the conductivity `dewpath-moisture` uses for labels.
    const W_M_K: f64 = dewpath_moisture::heat::LABEL_CONDUCTIVITY_W_M_K;
    let run = job.runs.iter().find(|run| run.from == fan.id);
    let written = run.and_then(|run| match &run.shape {
        RunShape::Sum(sum) => given::likely(&sum.duct.insulation),
        RunShape::Parts(parts) => parts.iter().find_map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => given::likely(&duct.insulation),
            _ => None,
        }),
    });
    written.map_or(0.0, |r| r.rsi() * W_M_K)
}

/// Where the housing should be, with the key of the wish.
fn wish(floor: &mut Floor, room: &Room, plan: &Plan) -> Option<(&'static str, [f64; 2])> {
    let at = format!("room.{}", room.id);
    let fixture = |kinds: &[FixtureKind]| {
        room.plan.fixtures.iter().find_map(|fixture| {
            let kind = given::member(&fixture.kind)?;
            let place = place_known(&fixture.at)?;
            kinds.contains(&kind).then(|| place.map(Length::m))
        })
    };
    let shower = || {
        fixture(&[FixtureKind::Shower, FixtureKind::Tub]).or_else(|| {
            let zone = wet_zones(room).into_iter().next()?;
            let [x, y, _] = zone.solid.middle();
            Some([x, y])
        })
    };
    let wanted = room.plan.wish.as_ref().map_or_else(
        || {
            let path = format!("{at}.wish");
            let source = Source::judgement("the centre of the room where nobody says");
            floor.taken(&path, What::Wish, "wish.centre", source);
            Wished::Centre
        },
        |stated| stated.value,
    );
    let found = match wanted {
        Wished::Centre => Some(("wish.centre", plan.centroid())),
        Wished::At(place) => Some(("wish.point", place.map(Length::m))),
        Wished::OverShower => shower().map(|at| ("wish.over-shower", at)),
        Wished::BetweenFixtureAndDoor => {
            let from = shower().or_else(|| fixture(&[FixtureKind::Toilet]));
            from.zip(fixture(&[FixtureKind::Door]))
                .map(|(a, b)| ("wish.between", [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]))
        }
    };
    if found.is_none() {
        floor.missing.push(format!("{at}.fixture"));
    }
    found
}

/// Wet zones as columns, since only their plan counts.
fn wet_zones(room: &Room) -> Vec<Obstacle> {
    let zone = |zone: &dewpath_job::model::WetZone| {
        let [x, y] = place_known(&zone.at)?.map(Length::m);
        let [dx, dy] = place_known(&zone.size)?.map(Length::m);
        let solid = Block { min: [x, y, -500.0], max: [x + dx, y + dy, 500.0] };
        Some(Obstacle { id: zone.id.clone(), solid })
    };
    room.plan.wet.iter().filter_map(zone).collect()
}

/// Blocks are cut from the lumber of the first zone of sawn members, else from a 2x6.
fn stock(floor: &Floor) -> Stock {
    let sawn = floor.zones.iter().find(|(_, zone)| zone.kind == MemberKind::Sawn);
    sawn.map_or(Stock { thickness_m: 0.0381, depth_m: 0.1397 }, |(_, zone)| Stock {
        thickness_m: zone.width_m,
        depth_m: zone.space.max[2] - zone.space.min[2],
    })
}

fn stock_size(floor: &Floor) -> String {
    let depth = Length::from_m(stock(floor).depth_m).inches();
    let nominal = [(3.5, "2x4"), (5.5, "2x6"), (7.25, "2x8"), (9.25, "2x10"), (11.25, "2x12")];
    let found = nominal.iter().find(|(actual, _)| (actual - depth).abs() < 0.05);
    found.map_or_else(|| format!("{:.0} mm", depth * 25.4), |(_, name)| (*name).to_owned())
}

/// Places of the fan with this index, told with the change that hangs it there.
struct Teller<'a> {
    /// The job, with the place of the fan left open: a place is said even where the job has it already.
    open: Job,
    index: usize,
    /// Key of the wish.
    wish: &'a str,
    /// Size of the stock for blocking.
    size: String,
}

impl<'a> Teller<'a> {
    fn new(job: &Job, index: usize, wish: &'a str, floor: &Floor) -> Self {
        let mut open = job.clone();
        (open.fans[index].at, open.fans[index].rotation) = (None, None);
        Self { open, index, wish, size: stock_size(floor) }
    }

    fn placement(&self, rank: u32, place: &Place) -> Placement {
        let edit = Edit::of(&self.open, &BTreeMap::new(), |job| {
            let fan = &mut job.fans[self.index];
            fan.at = Some(edit::known(place.middle.map(edit::mark)));
            fan.rotation = Some(edit::exact(Angle::from_deg(90.0 * f64::from(place.turns))));
        });
        placement(
            &self.open.fans[self.index],
            rank,
            self.wish,
            place,
            &self.size,
            edit::told(edit.patch),
        )
    }
}

fn placement(
    fan: &Fan,
    rank: u32,
    wish: &str,
    place: &Place,
    size: &str,
    patch: PatchText,
) -> Placement {
    let side = |member: &Option<String>| member.clone().unwrap_or_else(|| "edge".to_owned());
    let [x, y] = place.middle;
    Placement {
        fan: fan.id.clone(),
        rank,
        bay: place.bay_id.clone(),
        x_m: x,
        y_m: y,
        body_m: [[place.body.min[0], place.body.min[1]], [place.body.max[0], place.body.max[1]]],
        turned_deg: 90.0 * f64::from(place.turns),
        outlet_m: place.outlet,
        outlet_towards_deg: libm::atan2(place.towards[1], place.towards[0]).to_degrees(),
        wish: wish.to_owned(),
        offset_m: place.distance_m,
        offset_xy_m: place.offset_m,
        why: heaviest(&place.why).map(|bound| bound_message(bound, None)),
        blocks: place
            .mount
            .clear_blocks()
            .map(|block| BlockPiece {
                between: [side(&block.between[0]), side(&block.between[1])],
                length_m: block.length_m,
                size: size.to_owned(),
                at_m: block.at,
            })
            .collect(),
        fastening: fasten::fastening(place, size),
        drilled: place.drilled.clone().unwrap_or_default(),
        patch,
    }
}

fn length(value: f64) -> LengthM {
    LengthM(Triple::exact(value))
}

/// Of everything in the way, what can be moved or must be heeded before what is simply built so.
fn heaviest(bounds: &[Bound]) -> Option<&Bound> {
    bounds.iter().min_by_key(|bound| match bound {
        Bound::WetZone(_) => 0,
        Bound::Obstacle(_) => 1,
        Bound::FirstStraight(Some(_)) => 2,
        Bound::FirstStraight(None) | Bound::Outline => 3,
        Bound::BayHeight | Bound::BayWidth | Bound::BayLength | Bound::NoFraming => 4,
        Bound::Member(_) => 5,
    })
}

/// What a place is bound by, and how much is missing.
fn bound_message(bound: &Bound, short_m: Option<f64>) -> Message {
    let by = short_m.map(length);
    let plain = |key| BoundBy { key, by }.into();
    let named = |key, id: &str| BoundByThing { key, id: Reference::new(id), by }.into();
    match bound {
        Bound::BayWidth => plain(BoundByKey::BayWidth),
        Bound::BayLength => plain(BoundByKey::BayLength),
        Bound::BayHeight => plain(BoundByKey::BayHeight),
        Bound::NoFraming => plain(BoundByKey::NoFraming),
        Bound::Member(id) => named(BoundByThingKey::Member, id),
        Bound::Outline => plain(BoundByKey::Outline),
        Bound::Obstacle(id) => named(BoundByThingKey::Obstacle, id),
        Bound::WetZone(id) => named(BoundByThingKey::WetZone, id),
        Bound::FirstStraight(Some(id)) => named(BoundByThingKey::FirstStraightAt, id),
        Bound::FirstStraight(None) => plain(BoundByKey::FirstStraight),
    }
}

fn source() -> Source {
    Source::judgement("geometry of what is written: members, outline, obstacles, wet zones")
}

fn finding(fan: &Fan, verdict: Verdict, message: Message) -> Finding {
    Finding::new(Check::PlaceHousing, &fan.id, verdict, message, source())
}

fn offset_working(place: &Place) -> Step {
    let [x, y] = place.offset_m;
    Step {
        equation: "sqrt(dx^2 + dy^2)".into(),
        inputs: vec![
            WorkingInput::new("dx", What::OffsetX, length(x).into(), Provenance::Computed),
            WorkingInput::new("dy", What::OffsetY, length(y).into(), Provenance::Computed),
        ],
        result: Some(length(place.distance_m).into()),
        source: source(),
    }
}

fn nearest(fan: &Fan, wish: &str, place: &Place) -> Finding {
    let key =
        if place.distance_m <= SAME_M { PlaceHousingKey::AtWish } else { PlaceHousingKey::Near };
    let message = Message::from(PlaceHousing {
        key,
        bay: Reference::new(&place.bay_id),
        wish: Word::new(wish),
        offset: length(place.distance_m),
        dx: length(place.offset_m[0]),
        dy: length(place.offset_m[1]),
    });
    finding(fan, Verdict::Holds, message)
        .figure(length(place.distance_m))
        .step(offset_working(place))
        .todo(Todo::LevelHoldPoint)
}

fn hangs(fan: &Fan, place: &Place) -> Finding {
    let message = Message::from(PlaceHousingHangs { bay: Reference::new(&place.bay_id) });
    finding(fan, Verdict::Holds, message)
        .figure(length(place.distance_m))
        .step(offset_working(place))
        .todo(Todo::LevelHoldPoint)
}

fn does_not_hang(fan: &Fan, nearest: Option<&Place>) -> Finding {
    let Some(place) = nearest else {
        return finding(fan, Verdict::Fails, Message::from(PlaceHousingNotThere {}));
    };
    let message = Message::from(PlaceHousingMoved {
        bay: Reference::new(&place.bay_id),
        offset: length(place.distance_m),
        dx: length(place.offset_m[0]),
        dy: length(place.offset_m[1]),
    });
    let mut made = finding(fan, Verdict::Fails, message)
        .figure(length(place.distance_m))
        .step(offset_working(place));
    if let Some(bound) = heaviest(&place.why) {
        made = made.todo(bound_message(bound, None));
    }
    made.todo(Todo::TakePlace)
}

fn fits_nowhere(fan: &Fan, nowhere: &NoPlace) -> Finding {
    let mut made = finding(fan, Verdict::Fails, Message::from(PlaceHousingNowhere {}));
    for short in &nowhere.shortfalls {
        made = made.todo(bound_message(&short.bound, short.short_m));
    }
    made
}

/// What stands at the edge of the framing beside a housing nobody wrote; whether anything can be fastened there is not known.
/// Told once for each framing.
fn unknown_edge(floor: &Floor, place: &Place, told: &[Finding]) -> Option<Finding> {
    let face = place.mount.faces.iter().find(|face| face.member.is_none())?;
    let bay = floor.bays.get(place.bay)?;
    let (_, zone) = floor.zones.get(bay.zone)?;
    if told.iter().any(|finding| finding.id == Check::PlaceEdge && finding.subject == zone.id) {
        return None;
    }
    let message = PlaceEdgeUnknown { bay: Reference::new(&place.bay_id), gap: length(face.gap_m) };
    let looked = Message::from(TodoLookAtEdge { zone: Reference::new(&zone.id) });
    Some(Finding::new(Check::PlaceEdge, &zone.id, Verdict::Unknown, message, source()).todo(looked))
}

fn missing(fan: &Fan, paths: &[String], floor: &Floor) -> Finding {
    let first = paths.first().or(floor.missing.first()).cloned().unwrap_or_default();
    let message = Message::from(PlaceHousingMissing { at: Reference::new(first) });
    paths.iter().take(6).fold(finding(fan, Verdict::Unknown, message), |made, path| {
        made.todo(TodoWrite { at: Reference::new(path) })
    })
}

fn bad_geometry(fan: &Fan, told: &str) -> Finding {
    let message = Message::from(PlaceHousingBadGeometry { told: Name::new(told) });
    finding(fan, Verdict::Unknown, message)
}
