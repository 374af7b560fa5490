//! From the words of a job to the fittings of the `air` crate.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use dewpath_air::duct_leakage::Tightness;
use dewpath_air::element::{BackdraftDamper, Element, SplitLaw};
use dewpath_air::fittings::{self, Coefficient};
use dewpath_air::friction::{Roughness, roughness_of};
use dewpath_air::terminal;
use dewpath_air::{domain::OutOfDomain, flex};
use dewpath_job::model::{
    DuctKind, ElbowMake, Facing, JunctionKind, TerminalKind, TransitionShape,
};
use dewpath_message::Citation;
use dewpath_units::{Angle, Area, Length, Ratio};

/// Loss coefficient of an elbow.
pub(super) fn elbow(
    make: ElbowMake,
    diameter_m: f64,
    radius: f64,
    angle_rad: f64,
) -> Result<Coefficient, OutOfDomain> {
    use fittings::ElbowMake as Made;
    let angle = Angle::from_rad(angle_rad);
    let made = match make {
        ElbowMake::Stamped => Made::Stamped,
        ElbowMake::Adjustable => Made::Adjustable,
        ElbowMake::ThreePiece => Made::ThreeGores { r_over_d: radius.max(0.1) },
        ElbowMake::FivePiece => Made::FiveGores,
        ElbowMake::Mitred => Made::Mitred,
        ElbowMake::FlexBend => {
            let bend = flex::bend(angle)?;
            return Ok(Coefficient {
                low: bend.low,
                likely: bend.likely,
                high: bend.high,
                reynolds: None,
                extrapolated: bend.extrapolated,
                source: Citation(
                    "judgement: pleated elbows, ASHRAE Fundamentals 2009 (SI), ch. 21",
                )
                .0,
            });
        }
    };
    made.coefficient(Length::from_m(diameter_m), angle)
}

/// A change of section.
pub(super) fn transition(
    from_m2: f64,
    to_m2: f64,
    shape: TransitionShape,
    angle_rad: f64,
    rho: f64,
) -> Result<Element, OutOfDomain> {
    let (from, to) = (Area::from_m2(from_m2), Area::from_m2(to_m2));
    if (from_m2 / to_m2 - 1.0).abs() < 1e-6 {
        return Ok(Element::Quadratic { k: 0.0 });
    }
    let made = match shape {
        TransitionShape::Abrupt => fittings::Transition::abrupt(from, to)?,
        // The walls of a short cone add next to nothing: a friction factor of smooth metal.
        TransitionShape::Cone => {
            fittings::Transition::new(from, to, Angle::from_rad(angle_rad), 0.02)?
        }
    };
    Ok(Element::Loss(made.kernel(rho)))
}

/// A flap in the run, by its place in the band.
pub(super) fn backdraft(area_m2: f64, band: f64, rho: f64) -> Element {
    let set = fittings::backdraft_damper().at(band);
    Element::Terminal(terminal::TerminalKernel::new(set, true, area_m2, rho))
}

/// The flap in the outlet of an idle fan: leaks 2 L/s at 10 Pa. Judgement, no source.
pub fn idle_flap() -> Option<Element> {
    BackdraftDamper::new(3.0, 0.0, 0.002, 10.0).ok().map(Element::Damper)
}

/// Loss coefficient of a hand-set blade.
///
/// The table ends at 60 degrees; beyond, its last slope is carried on (judgement), so that a blade
/// that is all but shut is no error.
pub(super) fn balancing(angle_rad: f64) -> Result<f64, OutOfDomain> {
    let last = 60f64.to_radians();
    let at = |angle: f64| fittings::butterfly(Angle::from_rad(angle)).map(|c| c.likely);
    if angle_rad <= last {
        return at(angle_rad);
    }
    let (c, before) = (at(last)?, at(50f64.to_radians())?);
    let steps = (angle_rad - last).to_degrees() / 10.0;
    Ok(c * libm::pow(c / before, steps))
}

/// Loss coefficient of a screen with so much free area, so much of it clogged.
pub(super) fn screen(free: f64, clogged: f64) -> Result<f64, OutOfDomain> {
    let clogged = Ratio::from_ratio(clogged.clamp(0.0, 0.98));
    Ok(fittings::screen(Ratio::from_ratio(free), clogged)?.likely)
}

/// Loss coefficient of a place of which so much area is left.
pub(super) fn crush(open: f64) -> f64 {
    let lost = 1.0 - open;
    // Contraction and expansion on the narrow place, written on the duct.
    (0.5 * lost + lost * lost) / (open * open)
}

/// Roughness of duct board, m. Source: ASHRAE Fundamentals, duct roughness table, rigid fibrous glass duct, medium rough (from memory).
const DUCT_BOARD_ROUGHNESS_M: f64 = 0.9e-3;

/// Roughness of a material, m, by its place in the published range; the middle is the likely value.
pub fn roughness_m(kind: DuctKind, place: f64) -> f64 {
    // Rows of the table as it names them.
    let material = match kind {
        DuctKind::SmoothMetal => Citation("galvanised steel, round, longitudinal seam"),
        DuctKind::SpiralMetal => Citation("galvanised steel, round, spiral seam"),
        DuctKind::Plastic => Citation("PVC pipe"),
        // The compression factor is laid over the extended duct, whose value is the upper one.
        DuctKind::Flex => return flex::EXTENDED_ROUGHNESS_MM / 1000.0,
        DuctKind::SemiRigid => Citation("fibrous liner"),
        DuctKind::DuctBoard => return DUCT_BOARD_ROUGHNESS_M,
        DuctKind::Masonry => Citation("concrete"),
    };
    let Some(&Roughness { low_mm, likely_mm, high_mm, .. }) = roughness_of(material.0) else {
        return 1e-4;
    };
    let mm = if place < 0.5 {
        low_mm + (likely_mm - low_mm) * 2.0 * place
    } else {
        likely_mm + (high_mm - likely_mm) * (2.0 * place - 1.0)
    };
    mm / 1000.0
}

/// What a terminal is for its loss.
pub(super) fn terminal_kind(kind: TerminalKind) -> terminal::TerminalKind {
    match kind {
        TerminalKind::WallCap | TerminalKind::GableCap => terminal::TerminalKind::WallCap,
        TerminalKind::RoofCap => terminal::TerminalKind::RoofCap,
        TerminalKind::SoffitCap => terminal::TerminalKind::Soffit,
        TerminalKind::OpenEnd
        | TerminalKind::Attic
        | TerminalKind::SoffitVoid
        | TerminalKind::RidgeVent
        | TerminalKind::CrawlSpace
        | TerminalKind::Indoors
        | TerminalKind::PlumbingVent
        | TerminalKind::SharedRiser
        | TerminalKind::Nowhere => terminal::TerminalKind::Open,
    }
}

/// Wind pressure at a terminal against that at the leaks of the dwelling, as a coefficient: the middle
/// of the published range of the face, less that of the leaks all round (about -0.2).
///
/// Source: ASHRAE Fundamentals ch. 24, low buildings (windward 0.4 to 0.8, leeward -0.2 to -0.4, side
/// -0.4 to -0.9, low roof -0.5 to -0.8; the inside value from memory).
pub(super) fn wind_coefficient(facing: Facing) -> f64 {
    let face = match facing {
        Facing::Windward => 0.6,
        Facing::Leeward => -0.3,
        Facing::Side | Facing::Roof => -0.65,
    };
    face + 0.2
}

/// Loss of a stream where it meets another, over its share of the common flow: as it should go, and
/// while the flow goes back and the junction divides it.
pub(super) fn meeting(
    kind: JunctionKind,
    straight: bool,
    branch_m2: f64,
    common_m2: f64,
) -> [SplitLaw; 2] {
    let angle = if kind == JunctionKind::Tee { FRAC_PI_2 } else { FRAC_PI_4 };
    let leg = if straight { fittings::Leg::Run } else { fittings::Leg::Branch };
    [fittings::Split::Converging, fittings::Split::Diverging].map(|split| {
        fittings::JunctionLaw::new(
            leg,
            split,
            Area::from_m2(branch_m2),
            Area::from_m2(common_m2),
            Angle::from_rad(angle),
        )
        // Impossible sizes are refused when the job is read; a box is the plainest stand-in.
        .map_or(SplitLaw::Polynomial([0.0, 0.0, 1.0, 0.0]), SplitLaw::Published)
    })
}

/// Leakage class of round duct: 3 where the joints are sealed, 30 where not.
///
/// Source: SMACNA, HVAC Air Duct Leakage Test Manual, from memory.
pub fn tightness(sealed: bool) -> Tightness {
    Tightness::UsClass(if sealed { 3.0 } else { 30.0 })
}
