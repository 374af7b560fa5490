//! The hole through a wall or a roof: its size, the order of work, course lines of masonry, sleeve, fall, foam and screws.
//!
//! A small pilot hole is drilled from inside, then the large cut made from outside, falling outwards (trade practice, as the
//! weatherization standards of the US Department of Energy ask for a fall to the outlet). Constants name their source or say
//! that there is none.

use dewpath_units::sort;

use crate::bore::ROUND_OFF_M;
use crate::error::{BadGeometry, Of};
use crate::geometry::{TOUCH_M, nm};

const INCH_M: f64 = 0.0254;

/// Diameter of the pilot hole, m: 3/8 in, large enough for a long bit to run true. Common practice, no source.
pub const PILOT_M: f64 = 0.375 * INCH_M;

/// Longest pass with a core bit before the core is broken out and the dust cleared, m: 2 in. Common practice, no source.
pub const CORE_PASS_M: f64 = 2.0 * INCH_M;

/// Minutes until foam may be cut: about an hour, longer where it is dry or cold. Common practice, no source; the can says it.
pub const FOAM_CUT_MIN: f64 = 60.0;

/// Hours until foam is hard: 3 to 24, by humidity. Common practice, no source; the can says it.
pub const FOAM_HARD_H: [f64; 2] = [3.0, 24.0];

/// What a layer is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Material {
    /// Gypsum board or plaster.
    Lining,
    /// Tile on its bed.
    Tile,
    /// Boards, panels, sheathing.
    Timber,
    /// Rim joist or rim board: it carries load.
    Rim,
    /// Batts or loose fill.
    SoftInsulation,
    /// Boards of foam or fibre.
    RigidInsulation,
    /// A sheet against vapour or water.
    Membrane,
    /// Air space.
    Cavity,
    /// Siding of wood, fibre cement or vinyl.
    Siding,
    /// Brick, block, stone or concrete.
    Masonry,
    /// Render or stucco.
    Render,
    /// Metal sheet.
    Metal,
    /// Shingles, tiles, roofing felt.
    RoofCover,
    /// Not known: it has to be looked at first.
    Unknown,
}

impl Material {
    /// Tool for the large cut; none where nothing is cut or it isn't known.
    fn tool(self) -> Option<Tool> {
        match self {
            Self::Lining | Self::RigidInsulation => Some(Tool::Saw),
            Self::Tile => Some(Tool::DiamondSaw),
            Self::Timber | Self::Rim | Self::Siding => Some(Tool::HoleSaw),
            Self::Masonry | Self::Render => Some(Tool::CoreDrill),
            Self::Metal => Some(Tool::Snips),
            Self::SoftInsulation | Self::Membrane | Self::RoofCover => Some(Tool::Knife),
            Self::Cavity | Self::Unknown => None,
        }
    }
}

/// A layer; a wall is written from inside to outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Material.
    pub material: Material,
    /// Thickness, m; none where it is not known. A membrane may be nought.
    pub thickness_m: Option<f64>,
}

/// What the wall or ceiling separates by fire rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Separation {
    /// Nothing.
    None,
    /// Dwelling from garage: only what the book allows there, such as steel of a least thickness.
    Garage,
    /// A rated separation: the number of a tested firestop system is needed.
    Rated,
}

/// A duct or sleeve through a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// Outside diameter of what goes through, m.
    pub outside_m: f64,
    /// Clear on each side of it, m: 1/8 in makes the hole of 4-1/4 in that a 4 in sleeve is given in board (trade practice).
    pub clearance_m: f64,
    /// Fall to outdoors, m per m.
    pub fall_ratio: f64,
    /// How far the sleeve stands out of the inner and of the outer face, m.
    pub past_m: [f64; 2],
    /// Share of the gap along the wall that foam fills.
    pub fill_ratio: f64,
    /// By what the wall is bound under fire rules; none where that is not known.
    pub separation: Option<Separation>,
}

/// Tool of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tool {
    /// Detector for cables, pipes and studs.
    Detector,
    /// Long bit.
    LongBit,
    /// Hole saw.
    HoleSaw,
    /// Jab saw or hole saw for board.
    Saw,
    /// Diamond hole saw.
    DiamondSaw,
    /// Core drill with a diamond bit.
    CoreDrill,
    /// Snips.
    Snips,
    /// Knife.
    Knife,
}

/// What is done in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Nothing may be cut before the firestop system or the book's material is settled.
    StopForFire,
    /// Look at a layer that is not known.
    LookAtLayer,
    /// Look for cables, pipes and framing on both sides.
    FindServices,
    /// Rim: ask whether it may be bored, and by the chart of its maker where it is engineered.
    AskRim,
    /// Mark the centre inside, on the course line where there is masonry.
    MarkCentre,
    /// Drill the pilot from inside right through, falling outwards.
    PilotFromInside,
    /// See outside where the pilot came out before anything large is cut.
    CheckPilot,
    /// Water or a shroud with a vacuum, and a mask: dust of masonry holds silica that harms the lungs.
    ControlDust,
    /// The large cut of a layer from outside.
    CutFromOutside,
    /// Core masonry from outside in short passes.
    CoreFromOutside,
    /// The large cut of a layer from inside.
    CutFromInside,
    /// Open a membrane in a star and keep its flaps for sealing.
    OpenMembrane,
    /// Draw soft insulation aside.
    PartInsulation,
    /// Keep crumbs out of the cavity and carry the sleeve across it.
    BridgeCavity,
    /// Take up roof cover above the hole.
    LiftRoofCover,
    /// Set the sleeve or duct, falling outwards.
    SetSleeve,
    /// Lap flashing and the water-shedding layer so that water runs out over what lies below.
    Flash,
    /// Fasten the terminal.
    FastenTerminal,
    /// Foam or seal the gap all round.
    SealGap,
    /// Seal the inner air barrier to the duct.
    SealInside,
    /// Photograph before it is covered.
    Photograph,
    /// Guard against a fall before going on the roof.
    GuardRoof,
}

/// A step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// What is done.
    pub action: Action,
    /// With what.
    pub tool: Option<Tool>,
    /// Layer, by its index from inside.
    pub layer: Option<usize>,
    /// Diameter of the cut, m.
    pub diameter_m: Option<f64>,
    /// Depth of the cut, m; none where it is not known.
    pub depth_m: Option<f64>,
    /// Passes of a core bit.
    pub passes: Option<u32>,
}

impl Step {
    fn plain(action: Action) -> Self {
        Self { action, tool: None, layer: None, diameter_m: None, depth_m: None, passes: None }
    }
}

/// What must have happened before the hole is covered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoverAfter {
    /// Foam is hard enough to cut: [`FOAM_CUT_MIN`].
    FoamCut,
    /// Fire rules are settled in writing.
    FirePapers,
    /// The inspector has seen it where the work needs a permit.
    Seen,
    /// Photographs are taken.
    Photographed,
    /// Air was seen to leave outside and the flap to close.
    FlowSeen,
}

/// The sheet of a hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Hole drilled along the fall, m.
    pub hole_m: f64,
    /// Least hole drilled level through which the falling duct goes with the same clearance, m; none where a thickness is not
    /// known.
    pub level_hole_m: Option<f64>,
    /// Thickness of all layers, m; none where one is not known.
    pub thickness_m: Option<f64>,
    /// How much lower the outer centre lies, m.
    pub fall_m: Option<f64>,
    /// Length of the sleeve, m.
    pub sleeve_m: Option<f64>,
    /// Foam in the gap, m3, as it fills it.
    pub foam_m3: Option<f64>,
    /// Steps in order.
    pub steps: Vec<Step>,
    /// When it may be covered.
    pub cover_after: Vec<CoverAfter>,
}

/// The sheet of a hole through a wall.
///
/// A cylinder of diameter d that falls by s on each metre takes up d sqrt(1 + s²) + t s of height within a wall of thickness t:
/// the least hole that is drilled level.
///
/// # Errors
/// When a length or ratio can't be worked with, or the wall has no layer.
pub fn wall_sheet(name: &str, layers: &[Layer], crossing: &Crossing) -> Result<Sheet, BadGeometry> {
    let thickness_m = check(name, layers, crossing)?;
    let (outside, fall) = (crossing.outside_m, crossing.fall_ratio);
    let hole_m = outside + 2.0 * crossing.clearance_m;
    let slant = (1.0 + fall * fall).sqrt();
    let gap_m2 = 0.25 * core::f64::consts::PI * (hole_m * hole_m - outside * outside);
    Ok(Sheet {
        hole_m,
        level_hole_m: thickness_m.map(|t| outside * slant + t * fall + 2.0 * crossing.clearance_m),
        thickness_m,
        fall_m: thickness_m.map(|t| t * fall),
        sleeve_m: thickness_m.map(|t| t * slant + crossing.past_m[0] + crossing.past_m[1]),
        foam_m3: thickness_m.map(|t| gap_m2 * t * slant * crossing.fill_ratio),
        steps: wall_steps(layers, crossing.separation, hole_m),
        cover_after: cover_after(crossing.separation, crossing.fill_ratio),
    })
}

/// Thickness of all layers once everything has been checked.
fn check(name: &str, layers: &[Layer], crossing: &Crossing) -> Result<Option<f64>, BadGeometry> {
    let of = Of(name);
    of.length("outside diameter of the duct", crossing.outside_m, 0.01)?;
    of.length("clearance round the duct", crossing.clearance_m, 0.0)?;
    of.length("sleeve past the inner face", crossing.past_m[0], 0.0)?;
    of.length("sleeve past the outer face", crossing.past_m[1], 0.0)?;
    crate::bore::share(of, "filled share of the gap", crossing.fill_ratio)?;
    if !(0.0..=1.0).contains(&crossing.fall_ratio) {
        return Err(of.bad(
            "fall",
            crossing.fall_ratio,
            "m per m",
            "a duct falls to outdoors, by less than its length",
            "write a fall such as 1/4 in per ft",
        ));
    }
    if layers.is_empty() {
        return Err(of.bad(
            "number of layers",
            0.0,
            "layers",
            "a wall has one or more",
            "write its layers from inside to outside",
        ));
    }
    let mut all = Some(0.0);
    for layer in layers {
        let thickness =
            layer.thickness_m.map(|t| of.length("thickness of a layer", t, 0.0)).transpose()?;
        all = all.zip(thickness).map(|(sum, t)| sum + t);
    }
    Ok(all)
}

/// Steps through a wall, in order.
fn wall_steps(layers: &[Layer], separation: Option<Separation>, hole_m: f64) -> Vec<Step> {
    let has = |material| layers.iter().any(|layer| layer.material == material);
    let mut steps = before(layers, separation);
    // The lining is opened last but from inside; everything else from outside, the outermost layer first.
    let linings = layers
        .iter()
        .take_while(|l| matches!(l.material, Material::Lining | Material::Tile))
        .count();
    if has(Material::Masonry) || has(Material::Render) {
        steps.push(Step::plain(Action::ControlDust));
    }
    let from_outside = layers.iter().enumerate().skip(linings).rev();
    steps.extend(from_outside.map(|(k, layer)| cut(k, *layer, Action::CutFromOutside, hole_m)));
    let from_inside = layers.iter().enumerate().take(linings);
    steps.extend(from_inside.map(|(k, layer)| cut(k, *layer, Action::CutFromInside, hole_m)));
    let finish = [
        Action::SetSleeve,
        Action::Flash,
        Action::FastenTerminal,
        Action::SealGap,
        Action::SealInside,
        Action::Photograph,
    ];
    steps.extend(finish.map(Step::plain));
    steps
}

/// Steps up to the pilot hole.
fn before(layers: &[Layer], separation: Option<Separation>) -> Vec<Step> {
    let mut steps = Vec::new();
    if separation != Some(Separation::None) {
        steps.push(Step::plain(Action::StopForFire));
    }
    let of = |material: Material, action: Action| {
        let at = layers.iter().enumerate().filter(move |(_, l)| l.material == material);
        at.map(move |(k, _)| Step { layer: Some(k), ..Step::plain(action) })
    };
    steps.extend(of(Material::Unknown, Action::LookAtLayer));
    steps.push(Step { tool: Some(Tool::Detector), ..Step::plain(Action::FindServices) });
    steps.extend(of(Material::Rim, Action::AskRim));
    steps.push(Step::plain(Action::MarkCentre));
    steps.push(Step {
        tool: Some(Tool::LongBit),
        diameter_m: Some(PILOT_M),
        ..Step::plain(Action::PilotFromInside)
    });
    steps.push(Step::plain(Action::CheckPilot));
    steps
}

/// The cut through one layer.
fn cut(index: usize, layer: Layer, large: Action, hole_m: f64) -> Step {
    let action = match layer.material {
        Material::Masonry | Material::Render => Action::CoreFromOutside,
        Material::Membrane => Action::OpenMembrane,
        Material::SoftInsulation => Action::PartInsulation,
        Material::Cavity => Action::BridgeCavity,
        Material::RoofCover => Action::LiftRoofCover,
        _ => large,
    };
    let is_cut =
        matches!(action, Action::CoreFromOutside | Action::CutFromOutside | Action::CutFromInside);
    let passes = layer.thickness_m.filter(|_| action == Action::CoreFromOutside).map(core_passes);
    Step {
        action,
        tool: layer.material.tool(),
        layer: Some(index),
        diameter_m: is_cut.then_some(hole_m),
        depth_m: layer.thickness_m,
        passes,
    }
}

/// Passes of a core bit through a thickness: none of them longer than [`CORE_PASS_M`].
fn core_passes(thickness_m: f64) -> u32 {
    ((thickness_m - ROUND_OFF_M) / CORE_PASS_M).ceil().max(1.0) as u32
}

/// What must have happened before the hole is covered.
fn cover_after(separation: Option<Separation>, fill_ratio: f64) -> Vec<CoverAfter> {
    let mut after = Vec::new();
    if separation != Some(Separation::None) {
        after.push(CoverAfter::FirePapers);
    }
    if fill_ratio > 0.0 {
        after.push(CoverAfter::FoamCut);
    }
    after.extend([CoverAfter::FlowSeen, CoverAfter::Photographed, CoverAfter::Seen]);
    after
}

/// The smallest of the bits or saws at hand that makes the hole, m; none where all are too small.
pub fn smallest_bit_m(hole_m: f64, at_hand_m: &[f64]) -> Option<f64> {
    let enough = at_hand_m.iter().copied().filter(|bit| *bit >= hole_m - ROUND_OFF_M);
    enough.filter(|bit| bit.is_finite()).min_by(f64::total_cmp)
}

/// Courses of masonry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Courses {
    /// Height of a brick or block, m.
    pub brick_m: f64,
    /// Thickness of a bed joint, m.
    pub joint_m: f64,
}

impl Courses {
    /// From the height of a brick and the rise of several courses, as one measures them on the wall: a joint alone is measured
    /// badly. Modular brick rises 8 in on 3 courses, engineer brick 16 in on 5 (Brick Industry Association, Technical Notes 10, the
    /// number of the note from memory).
    ///
    /// # Errors
    /// When a length can't be worked with or the bricks are higher than their courses.
    pub fn of_rise(
        name: &str,
        brick_m: f64,
        courses: u32,
        rise_m: f64,
    ) -> Result<Self, BadGeometry> {
        let of = Of(name);
        of.length("rise of the courses", rise_m, 0.01)?;
        if courses == 0 {
            return Err(of.bad(
                "number of courses",
                0.0,
                "courses",
                "a rise is measured over one or more",
                "count the courses over which it was measured",
            ));
        }
        let courses = Self { brick_m, joint_m: rise_m / f64::from(courses) - brick_m };
        courses.check(of)?;
        Ok(courses)
    }

    /// Height of a brick with its joint, m.
    pub fn rise_m(&self) -> f64 {
        self.brick_m + self.joint_m
    }

    fn check(&self, of: Of<'_>) -> Result<(), BadGeometry> {
        of.length("height of a brick", self.brick_m, 0.01)?;
        of.length("bed joint", self.joint_m, 0.0)?;
        Ok(())
    }
}

/// What the centre of a hole lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CentreOn {
    /// The middle of a bed joint.
    BedJoint,
    /// The middle of a course.
    MidCourse,
}

/// A centre on the course lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnCourse {
    /// On what.
    pub on: CentreOn,
    /// Full courses between the line that is counted from and the centre; below zero where it lies lower.
    pub full_courses: i32,
    /// Centre above that line, m.
    pub centre_m: f64,
    /// Centre above the wanted height, m; below zero where it lies lower.
    pub offset_m: f64,
    /// Courses that the hole cuts into.
    pub courses_cut: u32,
}

/// Centres on the course lines nearest to a wanted height, one on a bed joint and one in mid course, the nearer first. Heights
/// count from the underside of a brick: the top of a bed joint.
///
/// # Errors
/// When a length can't be worked with.
pub fn on_courses(
    name: &str,
    courses: &Courses,
    wanted_m: f64,
    hole_m: f64,
) -> Result<[OnCourse; 2], BadGeometry> {
    let of = Of(name);
    courses.check(of)?;
    of.position("wanted height", wanted_m)?;
    of.length("hole", hole_m, TOUCH_M)?;
    let rise = courses.rise_m();
    let nearest = |on: CentreOn| {
        let above_line = match on {
            CentreOn::BedJoint => -0.5 * courses.joint_m,
            CentreOn::MidCourse => 0.5 * courses.brick_m,
        };
        let full = ((wanted_m - above_line) / rise).round();
        let centre_m = full * rise + above_line;
        OnCourse {
            on,
            full_courses: full as i32,
            centre_m,
            offset_m: centre_m - wanted_m,
            courses_cut: courses_cut(courses, centre_m, hole_m),
        }
    };
    let mut both = [nearest(CentreOn::BedJoint), nearest(CentreOn::MidCourse)];
    sort::by_key(&mut both, |on| nm(on.offset_m.abs()));
    Ok(both)
}

/// Courses whose bricks a hole cuts into.
fn courses_cut(courses: &Courses, centre_m: f64, hole_m: f64) -> u32 {
    // Brick k reaches from k rises to k rises and a brick: it is cut where it begins below the top of the hole and ends above
    // its bottom.
    let rise = courses.rise_m();
    let begins_below = (centre_m + 0.5 * hole_m - ROUND_OFF_M) / rise;
    let ends_above = (centre_m - 0.5 * hole_m - courses.brick_m + ROUND_OFF_M) / rise;
    (begins_below.ceil() - ends_above.floor() - 1.0).max(0.0) as u32
}

/// A screw of a terminal and the hole for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// Diameter, m.
    pub diameter_m: f64,
    /// Pilot, m.
    pub pilot_m: f64,
    /// Least and greatest depth in the base, m.
    pub embed_m: [f64; 2],
    /// How much deeper the hole is drilled, least and most, m.
    pub hole_past_m: [f64; 2],
    /// Least distance to an edge, m; none where no rule says.
    pub edge_m: Option<f64>,
    /// Least distance to the next screw, m; none where no rule says.
    pub apart_m: Option<f64>,
}

/// Screws for masonry, 3/16 and 1/4 in: the pilot is smaller than the screw (5/32 and 3/16 in), 1 to 1-3/4 in deep in the base,
/// the hole 1/4 to 1/2 in deeper and blown clean, edge 5 and spacing 10 diameters, not in a head joint. The rule is the one that
/// fixings of this kind commonly print; sizes from memory. None for another diameter: the packet says it.
pub fn masonry_screw(diameter_m: f64) -> Option<Screw> {
    let sizes = [(3.0 / 16.0, 5.0 / 32.0), (0.25, 3.0 / 16.0)];
    let is = |size: f64| (size * INCH_M - diameter_m).abs() < ROUND_OFF_M;
    let (_, pilot) = sizes.into_iter().find(|(size, _)| is(*size))?;
    Some(Screw {
        diameter_m,
        pilot_m: pilot * INCH_M,
        embed_m: [INCH_M, 1.75 * INCH_M],
        hole_past_m: [0.25 * INCH_M, 0.5 * INCH_M],
        edge_m: Some(5.0 * diameter_m),
        apart_m: Some(10.0 * diameter_m),
    })
}

/// Screws for timber and sheathing: a pilot of seven tenths of the diameter keeps softwood from splitting, 1 in deep. Common
/// practice, no source. None for a diameter that is no wood screw's: below 2 or above 10 mm.
pub fn timber_screw(diameter_m: f64) -> Option<Screw> {
    (0.002..=0.010).contains(&diameter_m).then_some(Screw {
        diameter_m,
        pilot_m: 0.7 * diameter_m,
        embed_m: [INCH_M, 2.0 * INCH_M],
        hole_past_m: [0.0, 0.25 * INCH_M],
        edge_m: None,
        apart_m: None,
    })
}

/// What is wrong with screws on a ring round the hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ScrewFault {
    /// Too near to the edge of the hole.
    NearHole {
        /// By so much, m.
        by_m: f64,
    },
    /// Too near to each other.
    NearEachOther {
        /// By so much, m.
        by_m: f64,
    },
}

/// Whether screws evenly set on a ring round a hole keep their distances.
///
/// # Errors
/// When a length can't be worked with or there is no screw.
pub fn judge_screws(
    name: &str,
    hole_m: f64,
    ring_m: f64,
    count: u32,
    screw: &Screw,
) -> Result<Vec<ScrewFault>, BadGeometry> {
    let of = Of(name);
    of.length("hole", hole_m, TOUCH_M)?;
    of.length("ring of screws", ring_m, TOUCH_M)?;
    if count == 0 {
        return Err(of.bad(
            "number of screws",
            0.0,
            "screws",
            "a terminal is fastened",
            "count its holes",
        ));
    }
    let edge = 0.5 * (ring_m - hole_m);
    let chord = ring_m * libm::sin(core::f64::consts::PI / f64::from(count));
    let short = |least: Option<f64>, is: f64| least.map(|l| l - is).filter(|by| *by > ROUND_OFF_M);
    let near_hole = short(screw.edge_m, edge).map(|by_m| ScrewFault::NearHole { by_m });
    let near_next = short(screw.apart_m.filter(|_| count > 1), chord)
        .map(|by_m| ScrewFault::NearEachOther { by_m });
    Ok(near_hole.into_iter().chain(near_next).collect())
}

/// A hole through a sloping roof for a duct that stands upright.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofHole {
    /// Across the slope, m: the diameter of the upright hole.
    pub across_m: f64,
    /// Along the slope, m, where the sides of the hole are cut upright.
    pub along_m: f64,
    /// Along the slope, m, where the sides are cut square to the deck: the duct needs more room. None where the thickness of the
    /// deck is not known.
    pub square_cut_m: Option<f64>,
    /// Flashing, across and along the slope, m.
    pub flashing_m: [f64; 2],
    /// Steps in order.
    pub steps: Vec<Step>,
    /// When it may be covered.
    pub cover_after: Vec<CoverAfter>,
}

/// How far flashing reaches past the hole; the shingle and the flashing maker say it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laps {
    /// On each side, m.
    pub side_m: f64,
    /// Up the slope, m.
    pub up_m: f64,
    /// Down the slope, m.
    pub down_m: f64,
}

/// The hole of an upright duct through a roof of the given pitch (rise over run) and deck thickness.
///
/// An upright cylinder of diameter d meets a plane of pitch p in an ellipse d wide and d sqrt(1 + p²) long; where the cut is made
/// square to a deck of thickness t, the ellipses of both faces lie t p apart.
///
/// # Errors
/// When a length can't be worked with or the roof is steeper than 2 in 1.
pub fn roof_hole(
    name: &str,
    layers: &[Layer],
    crossing: &Crossing,
    pitch_ratio: f64,
    laps: &Laps,
) -> Result<RoofHole, BadGeometry> {
    let of = Of(name);
    check(name, layers, crossing)?;
    if !(0.0..=2.0).contains(&pitch_ratio) {
        return Err(of.bad(
            "pitch",
            pitch_ratio,
            "rise over run",
            "a roof rises from nothing to two in one",
            "write it as 4 in 12, or take the duct through the wall",
        ));
    }
    for (what, lap) in [
        ("flashing beside", laps.side_m),
        ("flashing above", laps.up_m),
        ("flashing below", laps.down_m),
    ] {
        of.length(what, lap, 0.0)?;
    }
    // The deck is what is sawn; insulation gives way.
    let deck = layers
        .iter()
        .filter(|l| matches!(l.material, Material::Timber | Material::RigidInsulation))
        .try_fold(0.0, |sum, layer| layer.thickness_m.map(|t| sum + t));
    let across_m = crossing.outside_m + 2.0 * crossing.clearance_m;
    let along_m = across_m * (1.0 + pitch_ratio * pitch_ratio).sqrt();
    let mut steps = before(layers, crossing.separation);
    steps.push(Step::plain(Action::GuardRoof));
    steps.extend(
        layers.iter().enumerate().rev().map(|(k, l)| cut(k, *l, Action::CutFromOutside, across_m)),
    );
    let finish = [
        Action::SetSleeve,
        Action::Flash,
        Action::FastenTerminal,
        Action::SealGap,
        Action::SealInside,
        Action::Photograph,
    ];
    steps.extend(finish.map(Step::plain));
    Ok(RoofHole {
        across_m,
        along_m,
        square_cut_m: deck.map(|t| along_m + t * pitch_ratio),
        flashing_m: [across_m + 2.0 * laps.side_m, along_m + laps.up_m + laps.down_m],
        steps,
        cover_after: cover_after(crossing.separation, crossing.fill_ratio),
    })
}
