//! Holes through members: what the book in force allows, and how one is judged.

use dewpath_case::Case;
use dewpath_case::source;
use dewpath_layout::bore::{
    Hole, HoleAnswer, HoleRule, Joist, Missing, Opening, Rectangular, Ruling, judge_hole,
};
use dewpath_layout::framing::{Member, MemberKind};
use dewpath_report::{Bore, Source, Standing, Verdict};
use dewpath_units::Length;

/// Rule for holes of the book in force, as the layout takes it.
pub(crate) fn hole_rule(case: &Case<'_>) -> Option<(HoleRule, Source)> {
    let ruled = case.ask(dewpath_rulebook::Book::joist_hole)?;
    let source = source::ruled(&ruled);
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
pub(super) fn across_m(opening: Opening) -> f64 {
    match opening {
        Opening::Round { diameter_m } => diameter_m,
        Opening::Rectangle { width_m, height_m } => width_m.max(height_m),
    }
}

pub(super) fn joist(member: &Member) -> Joist {
    Joist {
        id: member.id.clone(),
        kind: member.kind,
        depth_m: Some(member.depth_m()),
        span_m: Some(member.span[1] - member.span[0]),
    }
}

pub(super) fn hole(opening: Opening, along_m: f64, up_m: f64) -> Hole {
    Hole { id: "bore".to_owned(), opening, along_m: Some(along_m), up_m: Some(up_m) }
}

/// Key of why a bore is refused, for sentences.
pub(super) fn refusal_key(answer: &HoleAnswer) -> &'static str {
    if answer.missing.contains(&Missing::Rectangular) {
        "bore-not-round"
    } else {
        ruling_key(answer.ruling)
    }
}

/// Key of a ruling on a bore, for sentences.
const fn ruling_key(ruling: Ruling) -> &'static str {
    match ruling {
        Ruling::Allowed => "bore-allowed",
        Ruling::Forbidden => "bore-forbidden",
        Ruling::Unknown => "bore-no-rule",
        Ruling::MakersChart => "bore-makers-chart",
        Ruling::Designer => "bore-designer",
    }
}

/// A hole through a member, judged.
pub(crate) fn bore(
    member: &Member,
    hole: &Hole,
    diameter_m: f64,
    rule: Option<&(HoleRule, Source)>,
) -> Option<Bore> {
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
        (Standing::FromMemory, Verdict::Holds | Verdict::Fails) => Verdict::Unknown,
        (_, verdict) => verdict,
    };
    Some(Bore {
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
const fn kind_key(kind: MemberKind) -> &'static str {
    match kind {
        MemberKind::Sawn => "member-sawn",
        MemberKind::Doubled => "member-doubled",
        MemberKind::IJoist => "member-i-joist",
        MemberKind::Truss => "member-truss",
        MemberKind::Engineered => "member-engineered",
        MemberKind::Steel => "member-steel",
    }
}
