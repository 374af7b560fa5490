//! Checks on a swap: does the fan fit what has to stay?

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::section;
use dewpath_job::model::{Control, Fan, Work};
use dewpath_message::slot::{DiameterMm, GapMm};
use dewpath_report::say::{
    SwapAccessFromBelow, SwapCollar, SwapCollarKey, SwapDepth, SwapDepthKey, SwapNeutral,
    SwapOpening, SwapWireHeater, Todo,
};
use dewpath_report::{Check, Finding, Message, Source, Triple, Verdict};
use dewpath_units::Length;

use crate::verdict::{chance_at_least, settled};

/// Findings on fitting the fan of the job into what stays.
pub fn swap(case: &Case<'_>) -> Vec<Finding> {
    if case.job.work != Work::Swap {
        return Vec::new();
    }
    let mut findings: Vec<Finding> =
        case.job.fans.iter().flat_map(|fan| fit(case, &fan.id, fan)).collect();
    findings.extend(case.job.fans.iter().filter_map(|fan| neutral(case, fan)));
    findings
}

/// Timers and sensors usually need a neutral, which old switch boxes lack.
fn neutral(case: &Case<'_>, fan: &Fan) -> Option<Finding> {
    let control = given::member(&fan.control)?;
    let needs = matches!(
        control,
        Control::Timer | Control::Humidity | Control::Occupancy | Control::Contaminant
    );
    let here = case.job.existing.neutral.as_ref()?.value.known();
    if !needs || here == Some(true) {
        return None;
    }
    let message = if here == Some(false) { SwapNeutral::None } else { SwapNeutral::Unknown };
    let verdict = if here == Some(false) { Verdict::Caution } else { Verdict::Unknown };
    Some(
        Finding::new(Check::SwapNeutral, &fan.id, verdict, message, Source::practice())
            .todo(Todo::Gfci),
    )
}

fn fit(case: &Case<'_>, id: &str, fan: &Fan) -> Vec<Finding> {
    fits(case, &fan.data)
        .into_iter()
        .map(|(check, verdict, message)| {
            Finding::new(check, id, verdict, message, Source::practice())
        })
        .collect()
}

/// How a fan fits the opening, the depth and the collar that stay; also used for candidates.
pub fn fits(case: &Case<'_>, data: &dewpath_job::model::FanData) -> Vec<(Check, Verdict, Message)> {
    let existing = &case.job.existing;
    let mut found = Vec::new();
    if let (Some(opening), Some(housing)) = (existing.opening, data.housing) {
        let mut hole = [opening[0].m(), opening[1].m()];
        let mut body = [housing[0].m(), housing[1].m()];
        hole.sort_by(f64::total_cmp);
        body.sort_by(f64::total_cmp);
        let small = body[0] <= hole[0] + 1e-6 && body[1] <= hole[1] + 1e-6;
        // A ceiling cut is no more than an inch larger than the housing.
        let inch = Length::from_inches(1.0).m();
        let loose = hole[0] - body[0] > inch || hole[1] - body[1] > inch;
        let (key, verdict) = match (small, loose) {
            (false, _) => (SwapOpening::Enlarge, Verdict::Caution),
            (true, true) => (SwapOpening::Patch, Verdict::Caution),
            (true, false) => (SwapOpening::Fits, Verdict::Holds),
        };
        found.push((Check::SwapOpening, verdict, Message::from(key)));
    }
    if let (Some(depth), Some(housing)) = (given::bounds(&existing.depth), data.housing) {
        let chance = chance_at_least((depth.0.m(), depth.1.m()), housing[2].m());
        let (key, verdict) = match settled(chance, &case.job.settings) {
            Some(true) => (SwapDepthKey::Fits, Verdict::Holds),
            Some(false) => (SwapDepthKey::TooDeep, Verdict::Fails),
            None => (SwapDepthKey::Unknown, Verdict::Unknown),
        };
        let likely = 0.5 * (depth.0.mm() + depth.1.mm());
        let space = Triple { low: depth.0.mm(), likely, high: depth.1.mm() };
        let message = Message::from(SwapDepth { key, depth: GapMm(space) });
        found.push((Check::SwapDepth, verdict, message));
    }
    let collar = given::member(&existing.collar);
    let outlet = given::member(&data.outlet);
    if let (Some(collar), Some(outlet)) = (collar, outlet) {
        let (has, wants) = (section::hydraulic_m(collar), section::hydraulic_m(outlet));
        let (key, verdict) = if (has - wants).abs() < 0.002 {
            (SwapCollarKey::Same, Verdict::Holds)
        } else if has < wants {
            (SwapCollarKey::Smaller, Verdict::Caution)
        } else {
            (SwapCollarKey::Larger, Verdict::Caution)
        };
        let message = Message::from(SwapCollar {
            key,
            collar: DiameterMm(Triple::exact(has * 1000.0)),
            outlet: DiameterMm(Triple::exact(wants * 1000.0)),
        });
        found.push((Check::SwapCollar, verdict, message));
    }
    let access = given::yes(&existing.access_above);
    if access == Some(false) {
        found.push((Check::SwapAccess, Verdict::Caution, Message::from(SwapAccessFromBelow {})));
    }
    if data.heater.is_some() && given::likely(&existing.wire).is_some_and(|wire| wire.mm2() < 3.0) {
        found.push((Check::SwapWire, Verdict::Caution, Message::from(SwapWireHeater {})));
    }
    found
}
