//! Holes through joists, studs and plates.
//!
//! The numbers come from a rule book and are handed in; this module knows what they mean. Trusses, I-joists, engineered and
//! steel members get no number from any book: their maker's chart or a designer says what may be cut (IRC 2018 to 2024 R502.8.2
//! and R802.7.2: no cuts, notches or holes unless the maker's recommendations permit them or a registered design professional
//! considered them; R802.10.4: trusses are not altered without one).

use crate::error::{BadGeometry, Of};
use crate::framing::MemberKind;
use crate::geometry::TOUCH_M;

/// Round-off that does not make a hole illegal, m: a hundredth of a millimetre, less than any drill can tell.
pub const ROUND_OFF_M: f64 = 1e-5;

/// What may be said of a cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ruling {
    /// Within the limits that were handed in.
    Allowed,
    /// Beyond one of them.
    Forbidden,
    /// Not enough is known, or no limits were handed in.
    Unknown,
    /// Only the chart of the member's maker says.
    MakersChart,
    /// Not without a design professional.
    Designer,
}

/// What is broken, and by how much.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Larger than allowed.
    TooLarge {
        /// By so much, m.
        by_m: f64,
    },
    /// Deeper than allowed.
    TooDeep {
        /// By so much, m.
        by_m: f64,
    },
    /// Longer along the member than allowed.
    TooLong {
        /// By so much, m.
        by_m: f64,
    },
    /// Nearer to the edge of the member than allowed.
    NearEdge {
        /// By so much, m.
        by_m: f64,
    },
    /// Nearer to another cut than allowed.
    NearCut {
        /// The other cut.
        id: String,
        /// By so much, m.
        by_m: f64,
    },
    /// In a part of the span that stays whole: near a bearing, or in the middle.
    WholePart {
        /// That part, m from the bearing that positions are counted from.
        from_m: f64,
        /// Its end, m.
        to_m: f64,
    },
    /// On a face that stays whole.
    WholeFace,
    /// The member is too shallow for any.
    Shallow,
    /// More neighbours in a row are cut than allowed.
    InARow {
        /// Most in a row.
        most: u32,
    },
}

/// What is missing for an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// Limits of a book.
    Rule,
    /// Depth of the member.
    Depth,
    /// Height of the centre over the underside, or edge left.
    Height,
    /// Where along the span.
    Along,
    /// Length of the span.
    Span,
    /// Whether the stud or plate bears load.
    Duty,
    /// How many neighbours in a row are bored.
    Row,
    /// Whether a notch is cut at the same height.
    Notch,
    /// Whether a structural panel covers the wall.
    Panel,
    /// What the book does with a hole that isn't round.
    Rectangular,
    /// Thickness of the member.
    Thickness,
    /// From which face the notch is cut.
    Face,
}

/// Shape of a hole, seen from the side of the member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Opening {
    /// Round.
    Round {
        /// Diameter, m.
        diameter_m: f64,
    },
    /// Rectangular.
    Rectangle {
        /// Along the member, m.
        width_m: f64,
        /// Up, m.
        height_m: f64,
    },
}

impl Opening {
    /// Half sizes along the member and up, m.
    fn half(self) -> [f64; 2] {
        match self {
            Self::Round { diameter_m } => [0.5 * diameter_m; 2],
            Self::Rectangle { width_m, height_m } => [0.5 * width_m, 0.5 * height_m],
        }
    }

    fn check(self, of: Of<'_>) -> Result<(), BadGeometry> {
        match self {
            Self::Round { diameter_m } => of.length("diameter of a hole", diameter_m, TOUCH_M)?,
            Self::Rectangle { width_m, height_m } => {
                of.length("width of a hole", width_m, TOUCH_M)?;
                of.length("height of a hole", height_m, TOUCH_M)?
            }
        };
        Ok(())
    }
}

/// How a book or a chart treats a hole that isn't round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rectangular {
    /// As the round hole about it: its diagonal counts. On the safe side; common practice, no source.
    Diagonal,
    /// Its longer side may be so large a share of the round hole that is allowed there.
    Side {
        /// Share.
        share: f64,
    },
    /// It says nothing.
    NotTold,
}

/// A length by itself or in depths of the member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reach {
    /// So many metres.
    Metres(f64),
    /// So many times the depth of the member.
    Depths(f64),
}

impl Reach {
    /// For a member of a given depth, m.
    pub fn of(self, depth_m: f64) -> f64 {
        match self {
            Self::Metres(metres) => metres,
            Self::Depths(depths) => depths * depth_m,
        }
    }
}

/// The most that may be taken from a depth or a width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Most {
    /// A share of it.
    Share(f64),
    /// All but so much, m.
    Keep(f64),
}

impl Most {
    pub(crate) fn check(self, of: Of<'_>) -> Result<(), BadGeometry> {
        match self {
            Self::Share(part) => share(of, "share that may be cut", part),
            Self::Keep(rest) => of.length("rest that stays", rest, 0.0).map(drop),
        }
    }

    /// For a given depth or width, m; nothing where less than the rest stands there.
    pub fn of(self, depth_m: f64) -> f64 {
        match self {
            Self::Share(share) => share * depth_m,
            Self::Keep(rest) => (depth_m - rest).max(0.0),
        }
    }
}

/// Limits of a book for holes in sawn joists and rafters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleRule {
    /// Largest diameter as a share of the depth.
    pub share_of_depth: f64,
    /// Least distance from the hole to top and bottom, m.
    pub edge_m: f64,
    /// Least distance to other holes and notches, m; none where the book has no such limit.
    pub apart_m: Option<f64>,
    /// Length from each bearing that stays whole; none where the book has no such limit.
    pub whole_ends: Option<Reach>,
    /// Part of the span that stays whole, as shares of it; none where the book has no such limit.
    pub whole_middle: Option<[f64; 2]>,
    /// Depth below which no hole is allowed, m; none where the book has no such limit.
    pub least_depth_m: Option<f64>,
    /// Holes that aren't round.
    pub rectangular: Rectangular,
}

impl HoleRule {
    /// Largest round hole in a member of this depth, m: the least of the share of the depth and of what both edges leave.
    /// Nought where none is allowed.
    pub fn largest_m(&self, depth_m: f64) -> f64 {
        if self.least_depth_m.is_some_and(|least| depth_m < least - ROUND_OFF_M) {
            return 0.0;
        }
        (self.share_of_depth * depth_m).min(depth_m - 2.0 * self.edge_m).max(0.0)
    }

    /// Heights over the underside between which the centre of a hole of this height may lie, m; none where it fits nowhere.
    pub fn centre_between(&self, depth_m: f64, hole_m: f64) -> Option<[f64; 2]> {
        let low = self.edge_m + 0.5 * hole_m;
        let high = depth_m - low;
        (hole_m <= self.largest_m(depth_m) + ROUND_OFF_M).then_some(if low <= high {
            [low, high]
        } else {
            [0.5 * depth_m; 2]
        })
    }

    fn check(&self, of: Of<'_>) -> Result<(), BadGeometry> {
        share(of, "share of the depth", self.share_of_depth)?;
        of.length("edge distance", self.edge_m, 0.0)?;
        of.length("distance between holes", self.apart_m.unwrap_or(0.0), 0.0)?;
        of.length("least depth", self.least_depth_m.unwrap_or(0.0), 0.0)?;
        if let Some(reach) = self.whole_ends {
            of.length("whole length at a bearing", reach.of(1.0), 0.0)?;
        }
        if let Some([from, to]) = self.whole_middle {
            share(of, "begin of the whole middle", from)?;
            share(of, "end of the whole middle", to)?;
        }
        if let Rectangular::Side { share: s } = self.rectangular {
            share(of, "share of a side", s)?;
            of.length("share of a side", s, 0.01)?;
        }
        Ok(())
    }
}

/// A share from 0 to 1.
pub(crate) fn share(of: Of<'_>, what: &'static str, value: f64) -> Result<(), BadGeometry> {
    if (0.0..=1.0).contains(&value) {
        Ok(())
    } else {
        Err(of.bad(what, value, "of the whole", "a share lies from 0 to 1", "check the rule"))
    }
}

/// A joist or rafter that is to be bored.
#[derive(Debug, Clone, PartialEq)]
pub struct Joist {
    /// Name.
    pub id: String,
    /// Kind.
    pub kind: MemberKind,
    /// Actual depth, m; none where it is not known.
    pub depth_m: Option<f64>,
    /// Clear distance between its bearings, m; none where it is not known.
    pub span_m: Option<f64>,
}

/// A hole, or another cut in the same member.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Name.
    pub id: String,
    /// Shape.
    pub opening: Opening,
    /// Centre along the span from one bearing, m; none where it is not known.
    pub along_m: Option<f64>,
    /// Centre over the underside, m; none where it is not known.
    pub up_m: Option<f64>,
}

/// What a hole may be.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleAnswer {
    /// Whether it may be cut.
    pub ruling: Ruling,
    /// Diameter of the round hole that it counts as, m; none where the book doesn't say how it counts.
    pub counts_as_m: Option<f64>,
    /// Largest round hole, m, nought where none is allowed; none where no book gives a number.
    pub allowed_m: Option<f64>,
    /// From the hole to the nearer edge, m; none where height or depth is not known.
    pub edge_m: Option<f64>,
    /// Least edge, m.
    pub edge_least_m: Option<f64>,
    /// What is broken.
    pub faults: Vec<Fault>,
    /// What is missing.
    pub missing: Vec<Missing>,
}

impl HoleAnswer {
    fn refused(ruling: Ruling, missing: Vec<Missing>) -> Self {
        Self {
            ruling,
            counts_as_m: None,
            allowed_m: None,
            edge_m: None,
            edge_least_m: None,
            faults: Vec::new(),
            missing,
        }
    }
}

/// Ruling of faults and of what is missing: a fault can't be mended by knowing more.
pub(crate) fn ruling(faults: &[Fault], missing: &[Missing]) -> Ruling {
    match (faults, missing) {
        ([], []) => Ruling::Allowed,
        ([], _) => Ruling::Unknown,
        _ => Ruling::Forbidden,
    }
}

/// Who decides on a member for which no book gives a number; none for sawn ones.
pub fn decided_elsewhere(kind: MemberKind) -> Option<Ruling> {
    match kind {
        MemberKind::Sawn | MemberKind::Doubled => None,
        MemberKind::IJoist | MemberKind::Engineered | MemberKind::Steel => {
            Some(Ruling::MakersChart)
        }
        MemberKind::Truss => Some(Ruling::Designer),
    }
}

/// Whether a hole may be bored through a joist or rafter. Each member of a doubled one is judged as one.
///
/// # Errors
/// When a length or a share can't be worked with, or a hole lies outside of the member.
pub fn judge_hole(
    joist: &Joist,
    hole: &Hole,
    others: &[Hole],
    rule: Option<&HoleRule>,
) -> Result<HoleAnswer, BadGeometry> {
    if let Some(elsewhere) = decided_elsewhere(joist.kind) {
        return Ok(HoleAnswer::refused(elsewhere, Vec::new()));
    }
    let of = Of(&joist.id);
    hole.opening.check(Of(&hole.id))?;
    let Some(rule) = rule else {
        return Ok(HoleAnswer::refused(Ruling::Unknown, vec![Missing::Rule]));
    };
    rule.check(of)?;
    let mut answer = HoleAnswer::refused(Ruling::Unknown, Vec::new());
    answer.edge_least_m = Some(rule.edge_m);
    answer.counts_as_m = match (hole.opening, rule.rectangular) {
        (Opening::Round { diameter_m }, _) => Some(diameter_m),
        (Opening::Rectangle { width_m, height_m }, Rectangular::Diagonal) => {
            Some(libm::hypot(width_m, height_m))
        }
        (Opening::Rectangle { width_m, height_m }, Rectangular::Side { share }) => {
            Some(width_m.max(height_m) / share)
        }
        (Opening::Rectangle { .. }, Rectangular::NotTold) => None,
    };
    if answer.counts_as_m.is_none() {
        answer.missing.push(Missing::Rectangular);
    }
    match joist.depth_m {
        Some(depth) => in_depth(of.length("depth", depth, 0.001)?, hole, rule, &mut answer)?,
        None => answer.missing.push(Missing::Depth),
    }
    along_span(joist, hole, rule, &mut answer)?;
    near_others(hole, others, rule, &mut answer)?;
    answer.ruling = ruling(&answer.faults, &answer.missing);
    Ok(answer)
}

/// Size and edges.
fn in_depth(
    depth: f64,
    hole: &Hole,
    rule: &HoleRule,
    answer: &mut HoleAnswer,
) -> Result<(), BadGeometry> {
    let largest = rule.largest_m(depth);
    answer.allowed_m = Some(largest);
    if largest <= ROUND_OFF_M {
        answer.faults.push(Fault::Shallow);
    } else if let Some(by_m) =
        answer.counts_as_m.map(|d| d - largest).filter(|by| *by > ROUND_OFF_M)
    {
        answer.faults.push(Fault::TooLarge { by_m });
    }
    let half = hole.opening.half()[1];
    let Some(up) = hole.up_m else {
        answer.missing.push(Missing::Height);
        return Ok(());
    };
    if !(up > 0.0 && up < depth) {
        return Err(Of(&hole.id).bad(
            "centre of the hole",
            up,
            "m",
            "it lies outside of the member",
            "measure it from the underside",
        ));
    }
    let edge = (up - half).min(depth - up - half);
    answer.edge_m = Some(edge.max(0.0));
    if rule.edge_m - edge > ROUND_OFF_M {
        answer.faults.push(Fault::NearEdge { by_m: rule.edge_m - edge });
    }
    Ok(())
}

/// Parts of the span that stay whole.
fn along_span(
    joist: &Joist,
    hole: &Hole,
    rule: &HoleRule,
    answer: &mut HoleAnswer,
) -> Result<(), BadGeometry> {
    if rule.whole_ends.is_none() && rule.whole_middle.is_none() {
        return Ok(());
    }
    let span = joist.span_m.map(|s| Of(&joist.id).length("span", s, 0.01)).transpose()?;
    let along =
        hole.along_m.map(|a| Of(&hole.id).position("centre along the span", a)).transpose()?;
    let (Some(span), Some(along)) = (span, along) else {
        answer.missing.extend(span.is_none().then_some(Missing::Span));
        answer.missing.extend(along.is_none().then_some(Missing::Along));
        return Ok(());
    };
    let ends = match (rule.whole_ends, joist.depth_m) {
        (Some(Reach::Metres(reach)), _) => Some(reach),
        (Some(reach @ Reach::Depths(_)), Some(depth)) => Some(reach.of(depth)),
        // The missing depth has been named.
        (Some(Reach::Depths(_)), None) | (None, _) => None,
    };
    let parts = ends
        .map(|reach| [[f64::NEG_INFINITY, reach], [span - reach, f64::INFINITY]])
        .into_iter()
        .flatten()
        .chain(rule.whole_middle.map(|shares| shares.map(|s| s * span)));
    let half = hole.opening.half()[0];
    for [from, to] in parts {
        if along + half > from + ROUND_OFF_M && along - half < to - ROUND_OFF_M {
            answer.faults.push(Fault::WholePart { from_m: from.max(0.0), to_m: to.min(span) });
        }
    }
    Ok(())
}

/// Distance to other cuts.
fn near_others(
    hole: &Hole,
    others: &[Hole],
    rule: &HoleRule,
    answer: &mut HoleAnswer,
) -> Result<(), BadGeometry> {
    let Some(least) = rule.apart_m else { return Ok(()) };
    for other in others {
        other.opening.check(Of(&other.id))?;
        match apart_m(hole, other) {
            Some(apart) if least - apart > ROUND_OFF_M => {
                answer.faults.push(Fault::NearCut { id: other.id.clone(), by_m: least - apart });
            }
            Some(_) => {}
            None if answer.missing.contains(&Missing::Along) => {}
            None => answer.missing.push(Missing::Along),
        }
    }
    Ok(())
}

/// Distance between the edges of two cuts, m, nought where they meet; by the distance along the member alone where a height is
/// not known, which is never more. None where a place along the member is not known.
pub fn apart_m(a: &Hole, b: &Hole) -> Option<f64> {
    let along = (a.along_m? - b.along_m?).abs();
    let up = match (a.up_m, b.up_m) {
        (Some(p), Some(q)) => (p - q).abs(),
        _ => 0.0,
    };
    let (p, q) = (a.opening, b.opening);
    let corner = |opening: Opening| match opening {
        Opening::Round { .. } => [0.0; 2],
        Opening::Rectangle { .. } => opening.half(),
    };
    let radius = |opening: Opening| match opening {
        Opening::Round { diameter_m } => 0.5 * diameter_m,
        Opening::Rectangle { .. } => 0.0,
    };
    let (c, d) = (corner(p), corner(q));
    let gap = libm::hypot((along - c[0] - d[0]).max(0.0), (up - c[1] - d[1]).max(0.0));
    let apart = (gap - radius(p) - radius(q)).max(0.0);
    apart.is_finite().then_some(apart)
}

/// What a stud or a plate carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duty {
    /// It bears load or stands in an outside wall.
    Bearing,
    /// It does neither.
    NonBearing,
}

/// Limits of a book for holes in studs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StudRule {
    /// Largest hole in a bearing stud.
    pub bearing: Most,
    /// Largest hole in a doubled bearing stud; none where the book has no such ease.
    pub doubled: Option<Most>,
    /// Most doubled studs in a row that are so bored; none where the book has no such limit.
    pub doubled_in_a_row: Option<u32>,
    /// Largest hole in a stud that bears nothing.
    pub non_bearing: Most,
    /// Least edge, m; none where the book has no such limit.
    pub edge_m: Option<f64>,
    /// Whether a hole may lie in the same section as a notch.
    pub beside_notch: bool,
}

/// A stud that is to be bored.
#[derive(Debug, Clone, PartialEq)]
pub struct Stud {
    /// Name.
    pub id: String,
    /// Actual depth across the wall, m.
    pub depth_m: f64,
    /// What it carries; none where that is not known.
    pub duty: Option<Duty>,
    /// Whether it is doubled.
    pub doubled: bool,
    /// How many studs in a row are bored beyond the limit of a single one, with this one; none where that is not known.
    pub in_a_row: Option<u32>,
    /// Whether a notch is cut at the same height; none where that is not known.
    pub notched: Option<bool>,
}

/// Whether a round hole may be bored through a stud; `edge_m` is what is left to the nearer edge.
///
/// # Errors
/// When a length can't be worked with.
pub fn judge_stud(
    stud: &Stud,
    diameter_m: f64,
    edge_m: Option<f64>,
    rule: &StudRule,
) -> Result<HoleAnswer, BadGeometry> {
    let of = Of(&stud.id);
    let depth = of.length("depth", stud.depth_m, 0.001)?;
    let diameter = of.length("diameter of a hole", diameter_m, TOUCH_M)?;
    let edge = edge_m.map(|e| of.length("edge left", e, 0.0)).transpose()?;
    let least = rule.edge_m.map(|e| of.length("edge distance", e, 0.0)).transpose()?;
    for most in [Some(rule.bearing), rule.doubled, Some(rule.non_bearing)].into_iter().flatten() {
        most.check(of)?;
    }
    let largest = |most: Most| most.of(depth).min(depth - 2.0 * least.unwrap_or(0.0)).max(0.0);
    let eased = stud.doubled && rule.doubled.is_some();
    let bearing = largest(rule.doubled.filter(|_| stud.doubled).unwrap_or(rule.bearing));
    let non_bearing = largest(rule.non_bearing);
    let mut answer = HoleAnswer::refused(Ruling::Unknown, Vec::new());
    (answer.counts_as_m, answer.edge_m, answer.edge_least_m) = (Some(diameter), edge, least);
    let (strict, lax) = match stud.duty {
        Some(Duty::Bearing) => (bearing, bearing),
        Some(Duty::NonBearing) => (non_bearing, non_bearing),
        None => (bearing.min(non_bearing), bearing.max(non_bearing)),
    };
    answer.allowed_m = Some(strict);
    if diameter - lax > ROUND_OFF_M {
        answer.faults.push(Fault::TooLarge { by_m: diameter - lax });
    } else if diameter - strict > ROUND_OFF_M {
        answer.missing.push(Missing::Duty);
    }
    match (edge, least) {
        (Some(edge), Some(least)) if least - edge > ROUND_OFF_M => {
            answer.faults.push(Fault::NearEdge { by_m: least - edge });
        }
        (None, Some(_)) => answer.missing.push(Missing::Height),
        _ => {}
    }
    let needs_ease = eased
        && stud.duty != Some(Duty::NonBearing)
        && diameter - largest(rule.bearing) > ROUND_OFF_M;
    if let Some(most) = rule.doubled_in_a_row.filter(|_| needs_ease) {
        match stud.in_a_row {
            Some(row) if row > most => answer.faults.push(Fault::InARow { most }),
            Some(_) => {}
            None => answer.missing.push(Missing::Row),
        }
    }
    if !rule.beside_notch {
        match stud.notched {
            Some(true) => answer.faults.push(Fault::WholeFace),
            Some(false) => {}
            None => answer.missing.push(Missing::Notch),
        }
    }
    answer.ruling = ruling(&answer.faults, &answer.missing);
    Ok(answer)
}

/// A metal tie over a cut plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tie {
    /// Least thickness, m.
    pub thickness_m: f64,
    /// Least width, m.
    pub width_m: f64,
    /// How far it reaches past the opening on each side, m.
    pub past_m: f64,
    /// Least nails on each side.
    pub nails_each_side: u32,
}

/// Limits of a book for cuts in top plates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateRule {
    /// The most that is cut without a tie.
    pub free: Most,
    /// The tie; none where the book asks for a reinforcement without saying which.
    pub tie: Option<Tie>,
    /// Whether a structural panel over the whole side of the wall stands for the tie.
    pub panel_instead: bool,
}

/// A top plate that is to be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Name.
    pub id: String,
    /// Actual width across the wall, m.
    pub width_m: f64,
    /// What its wall carries; none where that is not known.
    pub duty: Option<Duty>,
    /// Whether a structural panel covers the whole side of the wall; none where that is not known.
    pub panel: Option<bool>,
}

/// What a cut plate needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TieNeed {
    /// Nothing.
    No,
    /// A tie of this length, m.
    Yes {
        /// The tie.
        tie: Tie,
        /// Length: the opening and what reaches past it on both sides, m.
        length_m: f64,
    },
    /// A reinforcement that the book doesn't describe.
    Reinforce,
    /// The structural panel does.
    PanelDoes,
    /// That can't be said yet.
    Unknown(Missing),
}

/// A cut through a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateAnswer {
    /// Share of the width that is cut.
    pub cut_share: f64,
    /// Width that is left, m; nought where the plate is cut through.
    pub left_m: f64,
    /// What it needs.
    pub tie: TieNeed,
}

/// What a plate needs through which a hole of this size across the wall is cut.
///
/// # Errors
/// When a length can't be worked with.
pub fn judge_plate(
    plate: &Plate,
    cut_m: f64,
    rule: &PlateRule,
) -> Result<PlateAnswer, BadGeometry> {
    let of = Of(&plate.id);
    let width = of.length("width", plate.width_m, 0.001)?;
    let cut = of.length("cut", cut_m, TOUCH_M)?;
    rule.free.check(of)?;
    of.length("tie past the opening", rule.tie.map_or(0.0, |tie| tie.past_m), 0.0)?;
    let beyond = cut - rule.free.of(width) > ROUND_OFF_M;
    let need = match rule.tie {
        Some(tie) => TieNeed::Yes { tie, length_m: cut + 2.0 * tie.past_m },
        None => TieNeed::Reinforce,
    };
    let tie = match (beyond, plate.duty, plate.panel) {
        (false, ..) | (true, Some(Duty::NonBearing), _) => TieNeed::No,
        (true, _, Some(true)) if rule.panel_instead => TieNeed::PanelDoes,
        (true, None, _) => TieNeed::Unknown(Missing::Duty),
        (true, _, None) if rule.panel_instead => TieNeed::Unknown(Missing::Panel),
        (true, ..) => need,
    };
    Ok(PlateAnswer { cut_share: (cut / width).min(1.0), left_m: (width - cut).max(0.0), tie })
}

/// Whether a steel shield plate is needed over a hole: where less than `within_m` of wood is left to the face. None where what is
/// left is not known.
pub fn shield_needed(edge_left_m: Option<f64>, within_m: f64) -> Option<bool> {
    edge_left_m.filter(|e| e.is_finite()).map(|edge| within_m - edge > ROUND_OFF_M)
}

/// By how much a round duct of this outside diameter is too thick for the cavity of a wall, m; none where it goes in.
pub fn cavity_short_m(stud_depth_m: f64, outside_m: f64) -> Option<f64> {
    let short = outside_m - stud_depth_m;
    (short > ROUND_OFF_M).then_some(short)
}
