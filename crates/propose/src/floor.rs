//! The geometry of a job as `dewpath-layout` takes it: members, bays, spaces, obstacles, ways out.
//!
//! What is not written is left out and named; nothing is drawn in that nobody measured. Where a level is needed and none is
//! written, the finished floor is level 0, and that is listed.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use dewpath_case::given;
use dewpath_job::model::{
    Along, DoubleSide, Framing, FramingKind, Given, Job, MeasuredTo, Outward, Room,
    SpaceKind as JobSpace, WayOut, WayOutKind, place_known,
};
use dewpath_layout::error::BadGeometry;
use dewpath_layout::framing::{Bay, Beside, Double, Member, MemberKind, Zone};
use dewpath_layout::geometry::{Axis, Block, Point, TOUCH_M, nm};
use dewpath_layout::place::Obstacle;
use dewpath_layout::room::Plan;
use dewpath_layout::route::{ExitKind, Heading, Space, SpaceKind};
use dewpath_message::slot::{LengthM, Reference};
use dewpath_report::say::{Judgement, What, WhatSpaceGap};
use dewpath_report::{Assumption, Figure, Message, Source, Triple};
use dewpath_units::{Angle, Length};

/// Thickness of a ceiling board where nobody says, m: 1/2 in.
const BOARD_M: f64 = 0.0127;

/// Thickness of a wall or roof of which the layers are not known, m. Judgement.
const WALL_M: f64 = 0.15;
/// How far the end of a bay and the inner face of its wall may lie apart and still be the same, m. Judgement.
const MEETS_M: f64 = 0.10;
/// The widest gap between a space and the members under or over it that is taken as none, m: 2 in. Judgement.
const BRIDGED_M: f64 = 0.0508;

/// Everything of the job that has a place.
#[derive(Debug, Default)]
pub struct Floor {
    /// Zones with their index in the job.
    pub(crate) zones: Vec<(usize, Zone)>,
    /// Members of all zones.
    pub(crate) members: Vec<Member>,
    /// Bays of all zones; their zone is an index into `zones`.
    pub(crate) bays: Vec<Bay>,
    /// Spaces beside the bays.
    pub(crate) spaces: Vec<Space>,
    /// What is in the way.
    pub(crate) obstacles: Vec<Obstacle>,
    /// Ways out, by their index in the job.
    pub(crate) ways_out: Vec<(usize, Gate)>,
    /// Paths of what would have to be written first.
    pub(crate) missing: Vec<String>,
    /// What can't be.
    pub(crate) wrong: Vec<BadGeometry>,
    /// Defaults that were used.
    pub assumptions: Vec<Assumption>,
    /// What the text of the job writes, path by path: read once, when the first way is written into it.
    pub(crate) written: OnceLock<BTreeMap<String, String>>,
}

/// The geometry of a way out.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gate {
    /// What it leads through.
    pub kind: ExitKind,
    /// Where the centre of the duct may pass its inner face.
    pub window: Block,
    /// Direction out.
    pub outward: Heading,
    /// From the inner face to the outdoors, m.
    pub depth_m: f64,
}

/// Two places that nothing written joins.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Apart<'a> {
    /// The bay or space that a duct gets to, by id.
    pub from: &'a str,
    /// The bay, space or way out beyond it, by id.
    pub to: &'a str,
    /// From one to the other, m.
    pub gap_m: f64,
}

impl Floor {
    /// Everything of a job that has a place.
    pub fn of(job: &Job) -> Self {
        let mut floor = Self::default();
        for (index, framing) in job.framing.iter().enumerate() {
            floor.framing(job, index, framing);
        }
        for space in &job.spaces {
            let at = format!("space.{}", space.id);
            let kind = match floor.word(&at, "kind", given::member(&space.kind)) {
                Some(JobSpace::Attic) => SpaceKind::Attic,
                Some(JobSpace::Soffit) => SpaceKind::LoweredSoffit,
                Some(JobSpace::Chase) => SpaceKind::Chase,
                Some(JobSpace::Crawl) => SpaceKind::Crawl,
                None => continue,
            };
            let corner = floor.place(&at, "at", place_known(&space.at));
            let size = floor.place(&at, "size", place_known(&space.size));
            if let (Some(corner), Some(size)) = (corner, size) {
                let clear = block(corner, size);
                let clear = floor.on_members(&space.id, clear);
                floor.spaces.push(Space { id: space.id.clone(), kind, clear });
            }
        }
        for obstacle in &job.obstacles {
            let at = format!("obstacle.{}", obstacle.id);
            let corner = floor.place(&at, "at", place_known(&obstacle.at));
            let size = floor.place(&at, "size", place_known(&obstacle.size));
            if let (Some(corner), Some(size)) = (corner, size) {
                let solid = block(corner, size);
                floor.obstacles.push(Obstacle { id: obstacle.id.clone(), solid });
            }
        }
        for (index, way) in job.ways_out.iter().enumerate() {
            if let Some(gate) = floor.way_out(way) {
                floor.ways_out.push((index, gate));
            }
        }
        floor
    }

    /// A value that must be known; its path is named where it is not.
    fn known<T>(&mut self, at: &str, key: &str, value: Option<T>) -> Option<T> {
        if value.is_none() {
            let path = format!("{at}.{key}");
            if !self.missing.contains(&path) {
                self.missing.push(path);
            }
        }
        value
    }

    fn word<T>(&mut self, at: &str, key: &str, value: Option<T>) -> Option<T> {
        self.known(at, key, value)
    }

    fn place<const N: usize>(
        &mut self,
        at: &str,
        key: &str,
        value: Option<[Length; N]>,
    ) -> Option<[f64; N]> {
        self.known(at, key, value).map(|lengths| lengths.map(Length::m))
    }

    fn length(&mut self, at: &str, key: &str, value: &Given<Length>) -> Option<f64> {
        self.known(at, key, given::likely(value)).map(Length::m)
    }

    /// A length that may be taken as usual where it is not written; that it was is listed.
    pub(crate) fn usual_m(
        &mut self,
        path: &str,
        what: What,
        value: &Given<Length>,
        usual_m: f64,
        source: Source,
    ) -> f64 {
        if let Some(length) = given::likely(value) {
            return length.m();
        }
        if !self.assumptions.iter().any(|known| known.at == path) {
            self.assumptions.push(Assumption {
                at: path.to_owned(),
                what: Message::from(what),
                figure: Some(Figure::LengthM(Triple::exact(usual_m))),
                words: Vec::new(),
                said_unknown: value.is_some(),
                source,
            });
        }
        usual_m
    }

    /// A word that may be taken as usual where it is not written; that it was is listed.
    pub(crate) fn taken(&mut self, path: &str, what: What, word: &str, source: Source) {
        if !self.assumptions.iter().any(|known| known.at == path) {
            self.assumptions.push(Assumption {
                at: path.to_owned(),
                what: Message::from(what),
                figure: None,
                words: vec![word.to_owned()],
                said_unknown: false,
                source,
            });
        }
    }

    /// Level of the finished floor of a room.
    pub(crate) fn floor_level_m(&mut self, room: &Room) -> f64 {
        let path = format!("room.{}.floor_level", room.id);
        let source = Source::judgement("levels are counted from this floor");
        self.usual_m(&path, What::FloorLevel, &room.plan.floor_level, 0.0, source)
    }

    /// Level of the finished ceiling of a room; none where its height is not known.
    pub(crate) fn ceiling_level_m(&mut self, room: &Room) -> Option<f64> {
        let height = self.length(&format!("room.{}", room.id), "height", &room.height)?;
        let board = self.board_m(room);
        let bare = given::member(&room.plan.measured) == Some(MeasuredTo::Framing);
        Some(self.floor_level_m(room) + height - if bare { board } else { 0.0 })
    }

    /// Thickness of the board under the ceiling of a room.
    pub(crate) fn board_m(&mut self, room: &Room) -> f64 {
        let written = if room.plan.ceiling_drywall.is_some() {
            &room.plan.ceiling_drywall
        } else {
            &room.plan.drywall
        };
        let path = format!("room.{}.ceiling_drywall", room.id);
        self.usual_m(&path, What::CeilingBoard, written, BOARD_M, Source::practice())
    }

    /// The finished outline of a room; none where it is not known, or can't be.
    pub(crate) fn outline(&mut self, room: &Room) -> Option<Plan> {
        let at = format!("room.{}", room.id);
        let plan = if let Some(corners) = dewpath_job::model::outline_known(&room.plan.outline) {
            let corners: Vec<[f64; 2]> = corners.iter().map(|c| c.map(Length::m)).collect();
            Plan::new(&at, &corners)
        } else {
            let corner = self.place(&at, "at", place_known(&room.plan.at))?;
            let length = self.length(&at, "length", &room.length)?;
            let width = self.length(&at, "width", &room.width)?;
            let along_y = given::member(&room.plan.length_along) == Some(Along::Y);
            Plan::rectangle(&at, corner, if along_y { [width, length] } else { [length, width] })
        };
        let plan = self.sound(plan)?;
        if given::member(&room.plan.measured) != Some(MeasuredTo::Framing) {
            return Some(plan);
        }
        let path = format!("{at}.drywall");
        let board =
            self.usual_m(&path, What::WallBoard, &room.plan.drywall, BOARD_M, Source::practice());
        let inwards = vec![-board; plan.corners().len()];
        self.sound(plan.moved(&inwards))
    }

    /// What the layout refuses is kept to be told.
    pub(crate) fn sound<T>(&mut self, made: Result<T, BadGeometry>) -> Option<T> {
        match made {
            Ok(made) => Some(made),
            Err(wrong) => {
                if !self.wrong.contains(&wrong) {
                    self.wrong.push(wrong);
                }
                None
            }
        }
    }

    fn framing(&mut self, job: &Job, index: usize, framing: &Framing) {
        let at = format!("framing.{}", framing.id);
        let kind = self.word(&at, "kind", given::member(&framing.kind));
        let direction = self.word(&at, "direction", given::member(&framing.direction));
        let corner = self.place(&at, "at", place_known(&framing.at));
        let extent = self.place(&at, "extent", place_known(&framing.extent));
        let size = self.place(&at, "size", framing.actual_size());
        let spacing = self.length(&at, "spacing", &framing.spacing);
        let first = self.length(&at, "first", &framing.first);
        let bottom = self.underside_m(job, framing, corner.zip(extent));
        let bottom = self.known(&at, "bottom", bottom);
        let (Some(kind), Some(direction), Some(corner), Some(extent)) =
            (kind, direction, corner, extent)
        else {
            return;
        };
        let (Some([width, depth]), Some(spacing), Some(first), Some(bottom)) =
            (size, spacing, first, bottom)
        else {
            return;
        };
        let doubled = kind == FramingKind::Doubled;
        let zone = Zone {
            id: framing.id.clone(),
            kind: member_kind(kind),
            along: if direction == Along::X { Axis::X } else { Axis::Y },
            space: block([corner[0], corner[1], bottom], [extent[0], extent[1], depth]),
            width_m: if doubled { 2.0 * width } else { width },
            spacing_m: spacing,
            first_m: first,
        };
        let doubles: Vec<Double> = framing
            .doubles
            .iter()
            .filter_map(|double| {
                let (number, _) = given::count_bounds(&double.member)?;
                let before = given::member(&double.side) == Some(DoubleSide::Before);
                let side = if before { Beside::Before } else { Beside::After };
                Some(Double { number: number as usize, side })
            })
            .collect();
        let Some(mut members) = self.sound(zone.members_with(&doubles)) else { return };
        if let Some([from, to]) = place_known(&framing.bearings) {
            for member in &mut members {
                member.span = [from.m(), to.m()];
            }
        }
        let zone_index = self.zones.len();
        self.bays.extend(zone.bays_between(zone_index, &members));
        self.members.extend(members);
        self.zones.push((index, zone));
    }

    /// Underside of members: as written, else above the board of the ceiling of a room that lies below them.
    fn underside_m(
        &mut self,
        job: &Job,
        framing: &Framing,
        area: Option<([f64; 2], [f64; 2])>,
    ) -> Option<f64> {
        if let Some(bottom) = given::likely(&framing.bottom) {
            return Some(bottom.m());
        }
        let (corner, extent) = area?;
        let below = job.rooms.iter().find(|room| {
            let inside = |v: f64, i: usize| v >= corner[i] - 1e-3 && v <= corner[i] + extent[i];
            let outline = dewpath_job::model::outline_known(&room.plan.outline).unwrap_or_default();
            let at = place_known(&room.plan.at);
            // A room at an angle to its framing may reach beyond it with one corner.
            outline.iter().copied().chain(at).any(|[x, y]| inside(x.m(), 0) && inside(y.m(), 1))
        })?;
        let board = self.board_m(below);
        let level = self.ceiling_level_m(below)? + board;
        let path = format!("framing.{}.bottom", framing.id);
        let source = Source::judgement("members lie on the ceiling board of the room below");
        Some(self.usual_m(&path, What::FramingBottom, &framing.bottom, level, source))
    }

    /// A space drawn to the members that it lies a little above or below: boards lie between, or the tape did not meet. The widest
    /// gap that was taken as none is listed.
    fn on_members(&mut self, id: &str, written: Block) -> Block {
        let mut clear = written;
        let mut widest: Option<(f64, &str)> = None;
        for (_, zone) in &self.zones {
            let Block { min, max } = zone.space;
            let is_over =
                |i: usize| written.min[i] < max[i] - TOUCH_M && min[i] < written.max[i] - TOUCH_M;
            let (above, below) = (written.min[2] - max[2], min[2] - written.max[2]);
            let gap = above.max(below);
            if !(is_over(0) && is_over(1) && gap > TOUCH_M && gap <= BRIDGED_M + TOUCH_M) {
                continue;
            }
            if above > below {
                clear.min[2] = clear.min[2].min(max[2]);
            } else {
                clear.max[2] = clear.max[2].max(min[2]);
            }
            if widest.is_none_or(|(known, _)| known < gap) {
                widest = Some((gap, &zone.id));
            }
        }
        let listed = widest.map(|(gap, zone)| Assumption {
            at: format!("space.{id}.at"),
            what: Message::from(WhatSpaceGap {
                space: Reference::new(id),
                zone: Reference::new(zone),
                gap: LengthM(Triple::exact(gap)),
            }),
            figure: Some(Figure::LengthM(Triple::exact(0.0))),
            words: Vec::new(),
            said_unknown: false,
            source: Source::judgement(Judgement::GapAsNone),
        });
        self.assumptions.extend(listed);
        clear
    }

    /// Where what is written ends between a point and all of these windows, each with the id of its way out: however a duct turned,
    /// whatever member it were bored through, and were there a space more, it would get no further. None where it may get to a
    /// window, and where the point lies in no bay or space.
    pub(crate) fn apart<'a>(
        &'a self,
        from: Point,
        windows: &[(&'a str, Block)],
        more: Option<Block>,
    ) -> Option<Apart<'a>> {
        let bays = self.bays.iter().map(|bay| (bay.id.as_str(), bay.space));
        let spaces = self.spaces.iter().map(|space| (space.id.as_str(), space.clear));
        let regions: Vec<(&str, Block)> = bays.chain(spaces).collect();
        let mut all: Vec<Block> = regions.iter().map(|(_, clear)| *clear).chain(more).collect();
        let open = all.len();
        all.extend(self.members.iter().map(|member| member.solid));
        let here = reached(&all, |k| k < open && all[k].has(from));
        let is_at_window = |clear: &Block| windows.iter().any(|(_, window)| touch(window, clear));
        let there = reached(&all, |k| k < open && is_at_window(&all[k]));
        if here.iter().zip(&there).any(|(here, there)| *here && *there) {
            return None;
        }
        let of = |reached: &[bool]| -> Vec<(&'a str, Block)> {
            regions.iter().zip(reached).filter(|(_, is)| **is).map(|(region, _)| *region).collect()
        };
        let (near, mut far) = (of(&here), of(&there));
        if far.is_empty() {
            far = windows.to_vec();
        }
        let pairs = near.iter().flat_map(|near| far.iter().map(move |far| (near, far)));
        // Of bays that lie as near the one that the duct begins in is named.
        pairs
            .map(|((from_id, near), (to, far))| {
                (Apart { from: from_id, to, gap_m: gap_m(near, far) }, !near.has(from))
            })
            .min_by_key(|(apart, is_further_on)| (nm(apart.gap_m), *is_further_on))
            .map(|(apart, _)| apart)
    }

    fn way_out(&mut self, way: &WayOut) -> Option<Gate> {
        let at = format!("way_out.{}", way.id);
        let kind = self.word(&at, "kind", given::member(&way.kind));
        let facing = self.word(&at, "facing", given::member(&way.facing));
        let corner = self.place(&at, "at", place_known(&way.at));
        let size = self.place(&at, "size", place_known(&way.size));
        let (kind, facing) = (kind?, facing?);
        let outward = heading(facing);
        let mut window = window(way, block(corner?, size?));
        let layers = way.layers.iter().map(|layer| given::likely(&layer.thickness).map(Length::m));
        let layers = layers.sum::<Option<f64>>().filter(|depth| *depth > 0.0);
        let layers = layers.unwrap_or_else(|| {
            let none: Given<Length> = None;
            let path = format!("{at}.layers");
            self.usual_m(
                &path,
                What::WallThickness,
                &none,
                WALL_M,
                Source::judgement("a usual wall"),
            )
        });
        // The window is written flat in the outside plane; a duct meets it from the inner face.
        let axis = outward.axis.index();
        let out = if outward.ahead { window.max[axis] } else { window.min[axis] };
        let inner = out - if outward.ahead { layers } else { -layers };
        let face = self.end_near(inner, axis, outward.ahead).unwrap_or(inner);
        (window.min[axis], window.max[axis]) = (face, face);
        let depth_m = (out - face).abs().max(layers);
        Some(Gate { kind: exit_kind(kind), window, outward, depth_m })
    }

    /// The end of a bay or space that lies next to an inner face, where lengths that were measured apart do not meet to the
    /// last half inch.
    fn end_near(&self, inner: f64, axis: usize, ahead: bool) -> Option<f64> {
        let boxes = self.bays.iter().map(|bay| &bay.space);
        let boxes = boxes.chain(self.spaces.iter().map(|space| &space.clear));
        let ends = boxes.map(|b| if ahead { b.max[axis] } else { b.min[axis] });
        ends.filter(|end| (end - inner).abs() <= MEETS_M)
            .min_by_key(|end| (nm((end - inner).abs()), nm(*end)))
    }
}

/// Which of these blocks are reached from those that it `begins` in, each from one that it touches.
fn reached(blocks: &[Block], begins: impl Fn(usize) -> bool) -> Vec<bool> {
    let mut reached: Vec<bool> = (0..blocks.len()).map(begins).collect();
    let mut open: Vec<usize> = (0..blocks.len()).filter(|k| reached[*k]).collect();
    while let Some(k) = open.pop() {
        for (next, block) in blocks.iter().enumerate() {
            if !reached[next] && touch(&blocks[k], block) {
                reached[next] = true;
                open.push(next);
            }
        }
    }
    reached
}

/// Whether two blocks meet, if only face to face.
fn touch(a: &Block, b: &Block) -> bool {
    a.grown(2.0 * TOUCH_M).overlaps(b)
}

/// Distance between two blocks, m.
fn gap_m(a: &Block, b: &Block) -> f64 {
    let [dx, dy, dz]: [f64; 3] =
        std::array::from_fn(|i| (b.min[i] - a.max[i]).max(a.min[i] - b.max[i]).max(0.0));
    libm::hypot(libm::hypot(dx, dy), dz)
}

/// The window of a way out, drawn together in plan to the spot of its terminal where that is settled.
pub(crate) fn window(way: &WayOut, mut window: Block) -> Block {
    if let Some(spot) = place_known(&way.terminal_at) {
        for (i, at) in spot.iter().enumerate() {
            let at = at.m().clamp(window.min[i], window.max[i].max(window.min[i]));
            (window.min[i], window.max[i]) = (at, at);
        }
    }
    window
}

/// A box from its least corner and its extent.
pub(crate) fn block(corner: [f64; 3], size: [f64; 3]) -> Block {
    Block { min: corner, max: std::array::from_fn(|i| corner[i] + size[i]) }
}

const fn member_kind(kind: FramingKind) -> MemberKind {
    match kind {
        FramingKind::Sawn => MemberKind::Sawn,
        FramingKind::Doubled => MemberKind::Doubled,
        FramingKind::IJoist => MemberKind::IJoist,
        FramingKind::Truss => MemberKind::Truss,
        FramingKind::Engineered => MemberKind::Engineered,
        FramingKind::Steel => MemberKind::Steel,
    }
}

const fn exit_kind(kind: WayOutKind) -> ExitKind {
    match kind {
        WayOutKind::Rim => ExitKind::Rim,
        WayOutKind::Wall | WayOutKind::Existing => ExitKind::Wall,
        WayOutKind::Soffit => ExitKind::Soffit,
        WayOutKind::Gable => ExitKind::Gable,
        WayOutKind::Roof => ExitKind::Roof,
    }
}

const fn heading(facing: Outward) -> Heading {
    match facing {
        Outward::PlusX => Heading { axis: Axis::X, ahead: true },
        Outward::MinusX => Heading { axis: Axis::X, ahead: false },
        Outward::PlusY => Heading { axis: Axis::Y, ahead: true },
        Outward::MinusY => Heading { axis: Axis::Y, ahead: false },
        Outward::Up => Heading { axis: Axis::Z, ahead: true },
        Outward::Down => Heading { axis: Axis::Z, ahead: false },
    }
}

/// Quarter turns of an angle that is a multiple of a right angle; none for any other.
pub(crate) fn quarter_turns(rotation: &Given<Angle>) -> Option<u8> {
    let quarters = given::likely(rotation)?.deg() / 90.0;
    let whole = quarters.round();
    ((quarters - whole).abs() < 1e-6).then(|| whole.rem_euclid(4.0) as u8)
}
