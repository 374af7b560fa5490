//! The length of a dryer's duct.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::model::ExhaustKind;
use dewpath_message::slot::LengthM;
use dewpath_report::say::{DryerLength, DryerLengthKey, DryerLengthUnknown, Todo};
use dewpath_report::{Check, Finding, Message, Source, Triple, Verdict};
use dewpath_rulebook::DryerElbow;

use crate::verdict::judged;

/// Findings on every dryer of the job.
pub(crate) fn dryer(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for exhaust in &case.job.dwelling.exhausts {
        if exhaust.kind.as_ref().is_none_or(|s| s.value.options() != [ExhaustKind::Dryer]) {
            continue;
        }
        let (Some(elbows), Some(length)) =
            (given::count_bounds(&exhaust.elbows), given::bounds(&exhaust.length))
        else {
            findings.push(dryer_unknown(case, &exhaust.id));
            continue;
        };
        let elbow =
            DryerElbow { radius: dewpath_rulebook::DryerElbowRadius::Mitred4In, is_45: false };
        let limit_with = |count: u32| {
            let turns = vec![elbow; count as usize];
            case.rule(|book| book.dryer_run_limit(&turns))
        };
        // Many elbows leave less length than few.
        let (Some(rule), Some(fewest)) = (limit_with(elbows.1), limit_with(elbows.0)) else {
            continue;
        };
        let source = source::ruled(&rule);
        let least = rule.value.m();
        let most = fewest.value.m();
        let limit = LengthM(Triple { low: least, likely: 0.5 * (least + most), high: most });
        let holds = length.1.m() <= least + 1e-6;
        let long = length.0.m() > most + 1e-6;
        let figure = LengthM(Triple {
            low: length.0.m(),
            likely: 0.5 * (length.0.m() + length.1.m()),
            high: length.1.m(),
        });
        let (key, verdict) = if holds {
            (DryerLengthKey::Holds, judged(true, Verdict::Fails, &source))
        } else if long {
            (DryerLengthKey::Long, judged(false, Verdict::Fails, &source))
        } else {
            (DryerLengthKey::Open, Verdict::Unknown)
        };
        let message = DryerLength { key, length: figure, limit };
        let finding = Finding::new(Check::DryerLength, &exhaust.id, verdict, message, source)
            .figure(figure)
            .limit(limit);
        let todo = || Message::from(Todo::MeasureDryer);
        findings.push(if holds || long { finding } else { finding.todo(todo()) });
    }
    findings
}

/// A dryer on the job whose run nobody wrote down.
fn dryer_unknown(case: &Case<'_>, id: &str) -> Finding {
    let rule = case.rule(|book| book.dryer_run_limit(&[]));
    let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
    Finding::new(Check::DryerLength, id, Verdict::Caution, DryerLengthUnknown {}, source)
        .todo(Todo::MeasureDryer)
}
