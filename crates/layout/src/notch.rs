//! Notches in joists, studs and plates.
//!
//! The numbers come from a rule book and are handed in. Members for which no book gives a number are left to the maker's chart
//! or a designer, as in [`crate::bore`].

use crate::bore::{
    Duty, Fault, Joist, Missing, Most, ROUND_OFF_M, Reach, Ruling, decided_elsewhere, ruling, share,
};
use crate::error::{BadGeometry, Of};
use crate::geometry::TOUCH_M;

/// From which face a notch is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// From the top.
    Top,
    /// From the underside: the tension side of a joist between two bearings.
    Underside,
}

/// Where along a joist a notch is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Along {
    /// At its end, over the bearing.
    End,
    /// Between the bearings; where it begins, m from one of them.
    Span {
        /// Begin, m.
        from_m: f64,
    },
}

/// A notch in a joist or rafter.
#[derive(Debug, Clone, PartialEq)]
pub struct Notch {
    /// Name.
    pub id: String,
    /// Depth, m.
    pub depth_m: f64,
    /// Length along the member, m.
    pub length_m: f64,
    /// Face; none where it is not known.
    pub cut: Option<Cut>,
    /// Where along it; none where it is not known.
    pub along: Option<Along>,
    /// Actual thickness of the member, m; none where it is not known.
    pub member_thickness_m: Option<f64>,
}

/// Limits of a book for notches in sawn joists and rafters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotchRule {
    /// Deepest between the bearings, as a share of the depth.
    pub depth_share: f64,
    /// Longest, as a share of the depth; none where the book has no such limit.
    pub length_share: Option<f64>,
    /// Deepest at an end, as a share of the depth; none where the limit between the bearings holds there too.
    pub end_depth_share: Option<f64>,
    /// Part of the span that stays whole, as shares of it; none where the book has no such limit.
    pub whole_middle: Option<[f64; 2]>,
    /// Farthest from a bearing at which a notch may end; none where the book has no such limit.
    pub near_bearing: Option<Reach>,
    /// Thickness from which the tension side stays whole but at the ends, m; none where the book has no such limit.
    pub whole_tension_from_m: Option<f64>,
    /// Whether only the top may be notched.
    pub top_only: bool,
}

impl NotchRule {
    fn check(&self, of: Of<'_>) -> Result<(), BadGeometry> {
        for value in [Some(self.depth_share), self.length_share, self.end_depth_share] {
            share(of, "share of the depth", value.unwrap_or(0.0))?;
        }
        for value in self.whole_middle.into_iter().flatten() {
            share(of, "end of the whole middle", value)?;
        }
        let reach = self.near_bearing.map_or(0.0, |reach| reach.of(1.0));
        of.length("reach from a bearing", reach, 0.0)?;
        of.length("thickness", self.whole_tension_from_m.unwrap_or(0.0), 0.0)?;
        Ok(())
    }
}

/// What a notch may be.
#[derive(Debug, Clone, PartialEq)]
pub struct NotchAnswer {
    /// Whether it may be cut.
    pub ruling: Ruling,
    /// Deepest there, m; none where no book gives a number or depth or place are not known.
    pub depth_most_m: Option<f64>,
    /// Longest, m; none where there is no limit or the depth is not known.
    pub length_most_m: Option<f64>,
    /// What is broken.
    pub faults: Vec<Fault>,
    /// What is missing.
    pub missing: Vec<Missing>,
}

/// Whether a notch may be cut into a joist or rafter.
///
/// # Errors
/// When a length or a share can't be worked with.
pub fn judge_notch(
    joist: &Joist,
    notch: &Notch,
    rule: Option<&NotchRule>,
) -> Result<NotchAnswer, BadGeometry> {
    let mut answer = NotchAnswer {
        ruling: Ruling::Unknown,
        depth_most_m: None,
        length_most_m: None,
        faults: Vec::new(),
        missing: Vec::new(),
    };
    if let Some(elsewhere) = decided_elsewhere(joist.kind) {
        answer.ruling = elsewhere;
        return Ok(answer);
    }
    let of = Of(&notch.id);
    of.length("depth of a notch", notch.depth_m, TOUCH_M)?;
    of.length("length of a notch", notch.length_m, TOUCH_M)?;
    let Some(rule) = rule else {
        answer.missing.push(Missing::Rule);
        return Ok(answer);
    };
    rule.check(Of(&joist.id))?;
    let depth = joist.depth_m.map(|d| Of(&joist.id).length("depth", d, 0.001)).transpose()?;
    match depth {
        Some(depth) => in_depth(depth, notch, rule, &mut answer),
        None => answer.missing.push(Missing::Depth),
    }
    on_face(notch, rule, &mut answer);
    along_span(joist, depth, notch, rule, &mut answer)?;
    answer.missing.dedup();
    answer.ruling = ruling(&answer.faults, &answer.missing);
    Ok(answer)
}

/// Depth and length.
fn in_depth(depth: f64, notch: &Notch, rule: &NotchRule, answer: &mut NotchAnswer) {
    let inner = rule.depth_share * depth;
    let end = rule.end_depth_share.map_or(inner, |share| share * depth);
    let (strict, lax) = match notch.along {
        Some(Along::End) => (end, end),
        Some(Along::Span { .. }) => (inner, inner),
        None => (inner.min(end), inner.max(end)),
    };
    answer.depth_most_m = Some(strict);
    if notch.depth_m - lax > ROUND_OFF_M {
        answer.faults.push(Fault::TooDeep { by_m: notch.depth_m - lax });
    } else if notch.depth_m - strict > ROUND_OFF_M {
        answer.missing.push(Missing::Along);
    }
    answer.length_most_m = rule.length_share.map(|share| share * depth);
    // A notch at the end is as long as its bearing asks for.
    let longest = answer.length_most_m.filter(|_| notch.along != Some(Along::End));
    if let Some(by_m) = longest.map(|most| notch.length_m - most).filter(|by| *by > ROUND_OFF_M) {
        answer.faults.push(Fault::TooLong { by_m });
    }
}

/// Which faces stay whole.
fn on_face(notch: &Notch, rule: &NotchRule, answer: &mut NotchAnswer) {
    let whole_tension = match (rule.whole_tension_from_m, notch.member_thickness_m) {
        (None, _) => Some(false),
        (Some(_), _) if notch.along == Some(Along::End) => Some(false),
        (Some(from), Some(thickness)) => Some(thickness >= from - ROUND_OFF_M),
        (Some(_), None) => None,
    };
    match (notch.cut, rule.top_only, whole_tension) {
        (Some(Cut::Top), ..) | (Some(Cut::Underside) | None, false, Some(false)) => {}
        (Some(Cut::Underside), true, _) => answer.faults.push(Fault::WholeFace),
        (Some(Cut::Underside), false, Some(true)) => {
            if notch.along.is_some() {
                answer.faults.push(Fault::WholeFace);
            } else {
                answer.missing.push(Missing::Along);
            }
        }
        (Some(Cut::Underside), false, None) => answer.missing.push(Missing::Thickness),
        (None, ..) => answer.missing.push(Missing::Face),
    }
}

/// Parts of the span that stay whole.
fn along_span(
    joist: &Joist,
    depth: Option<f64>,
    notch: &Notch,
    rule: &NotchRule,
    answer: &mut NotchAnswer,
) -> Result<(), BadGeometry> {
    if rule.whole_middle.is_none() && rule.near_bearing.is_none() {
        return Ok(());
    }
    let from = match notch.along {
        Some(Along::End) => return Ok(()),
        Some(Along::Span { from_m }) => Of(&notch.id).position("begin of a notch", from_m)?,
        None => {
            answer.missing.push(Missing::Along);
            return Ok(());
        }
    };
    let Some(span) = joist.span_m else {
        answer.missing.push(Missing::Span);
        return Ok(());
    };
    let span = Of(&joist.id).length("span", span, 0.01)?;
    let to = from + notch.length_m;
    if let Some([low, high]) = rule.whole_middle.map(|shares| shares.map(|s| s * span))
        && to > low + ROUND_OFF_M
        && from < high - ROUND_OFF_M
    {
        answer.faults.push(Fault::WholePart { from_m: low, to_m: high });
    }
    let reach = match (rule.near_bearing, depth) {
        (Some(Reach::Metres(reach)), _) => Some(reach),
        (Some(reach @ Reach::Depths(_)), Some(depth)) => Some(reach.of(depth)),
        _ => None,
    };
    if let Some(reach) = reach
        && to > reach + ROUND_OFF_M
        && from < span - reach - ROUND_OFF_M
    {
        answer.faults.push(Fault::WholePart { from_m: reach, to_m: span - reach });
    }
    Ok(())
}

/// Limits of a book for notches in studs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StudNotchRule {
    /// Deepest in a bearing stud.
    pub bearing: Most,
    /// Deepest in a stud that bears nothing.
    pub non_bearing: Most,
}

/// Whether a notch may be cut into a stud.
///
/// # Errors
/// When a length can't be worked with.
pub fn judge_stud_notch(
    name: &str,
    stud_depth_m: f64,
    duty: Option<Duty>,
    notch_m: f64,
    rule: &StudNotchRule,
) -> Result<NotchAnswer, BadGeometry> {
    let of = Of(name);
    let depth = of.length("depth", stud_depth_m, 0.001)?;
    let notch = of.length("depth of a notch", notch_m, TOUCH_M)?;
    rule.bearing.check(of)?;
    rule.non_bearing.check(of)?;
    let (bearing, other) = (rule.bearing.of(depth), rule.non_bearing.of(depth));
    let (strict, lax) = match duty {
        Some(Duty::Bearing) => (bearing, bearing),
        Some(Duty::NonBearing) => (other, other),
        None => (bearing.min(other), bearing.max(other)),
    };
    let (mut faults, mut missing) = (Vec::new(), Vec::new());
    if notch - lax > ROUND_OFF_M {
        faults.push(Fault::TooDeep { by_m: notch - lax });
    } else if notch - strict > ROUND_OFF_M {
        missing.push(Missing::Duty);
    }
    Ok(NotchAnswer {
        ruling: ruling(&faults, &missing),
        depth_most_m: Some(strict),
        length_most_m: None,
        faults,
        missing,
    })
}
