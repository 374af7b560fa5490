//! Which single measurement on site would settle a verdict most, for the minutes it takes.
//!
//! For every uncertain input the draws are put in order of that input. If its true value were
//! known, only the draws near it would remain; the chance among those neighbours says whether the
//! verdict would then be settled. The share of draws in which it would, per minute of effort,
//! ranks the inputs. No further simulation is needed.

use dewpath_case::inputs::Inputs;
use dewpath_job::model::Settings;
use dewpath_message::Said as _;
use dewpath_report::say::{TerminalPlace, TodoConfirmInBook, What};
use dewpath_report::{Check, Finding, LookNext, Message, Verdict};
use dewpath_units::sort;

use crate::verdict::settled;

/// Verdict that is still open: which draws pass.
pub struct Open<'a> {
    /// Finding id.
    pub finding: Check,
    /// Its subject.
    pub subject: &'a str,
    /// Whether the check passes, draw by draw.
    pub passes: &'a [bool],
}

/// Least share of draws that a look must settle to be worth naming.
const WORTH_NAMING: f64 = 0.02;

/// Ranks the inputs for one open verdict.
pub fn rank(open: &Open<'_>, inputs: &Inputs, settings: &Settings) -> Vec<LookNext> {
    let overall = share(open.passes);
    let doubt = overall * (1.0 - overall);
    let mut ranked: Vec<(f64, LookNext)> = inputs
        .uncertain()
        .filter_map(|(at, what, minutes, samples)| {
            // A stage that looks at fewer draws looks at the first of them.
            let samples = samples.get(..open.passes.len())?;
            if doubt <= 0.0 {
                return None;
            }
            let known = if_known(samples, open.passes, settings);
            // What it takes away from the doubt breaks ties where nothing settles alone.
            let cleared = (1.0 - known.doubt_left / doubt).clamp(0.0, 1.0);
            if known.settled < WORTH_NAMING && cleared < 5.0 * WORTH_NAMING {
                return None;
            }
            let score = (known.settled + 0.25 * cleared) / minutes.max(1.0);
            Some((
                score,
                LookNext {
                    at: at.to_owned(),
                    what: what.clone(),
                    settles_ratio: known.settled,
                    effort_h: minutes / 60.0,
                    finding: open.finding,
                    subject: open.subject.to_owned(),
                },
            ))
        })
        .collect();
    sort::by(&mut ranked, |a, b| b.0.total_cmp(&a.0).then_with(|| a.1.at.cmp(&b.1.at)));
    ranked.into_iter().map(|(_, look)| look).collect()
}

struct IfKnown {
    settled: f64,
    doubt_left: f64,
}

fn if_known(samples: &[f64], passes: &[bool], settings: &Settings) -> IfKnown {
    let order = sort::order(samples.len(), &|a, b| samples[a].total_cmp(&samples[b]));
    let count = order.len();
    let half = (count / 24).max(8).min(count / 2);
    let running: Vec<u32> = std::iter::once(0)
        .chain(order.iter().scan(0u32, |sum, &i| {
            *sum += u32::from(passes[i]);
            Some(*sum)
        }))
        .collect();
    let (mut sure, mut doubt_left) = (0usize, 0.0);
    for index in 0..count {
        let (from, to) = neighbours(&order, samples, index, half);
        let chance = f64::from(running[to] - running[from]) / (to - from) as f64;
        sure += usize::from(settled(chance, settings).is_some());
        doubt_left += chance * (1.0 - chance);
    }
    IfKnown { settled: sure as f64 / count as f64, doubt_left: doubt_left / count as f64 }
}

/// Neighbours of a draw in the order of the input; all draws of the same value for categories.
fn neighbours(order: &[usize], samples: &[f64], index: usize, half: usize) -> (usize, usize) {
    let value = samples[order[index]];
    let first = order.partition_point(|&i| samples[i] < value);
    let after = order.partition_point(|&i| samples[i] <= value);
    if after - first > 2 * half {
        return (first, after);
    }
    (index.saturating_sub(half), (index + half + 1).min(order.len()))
}

/// Spread of a powered flow hood, one standard deviation. Source: Stratton, Walker & Wray 2012.
const HOOD_SPREAD: f64 = 0.06;
/// Minutes to set up a hood and read it. Judgement.
const HOOD_MINUTES: f64 = 20.0;

/// Measuring the flow itself: how often a hood reading would be clear of the requirement by more
/// than its own spread.
pub(crate) fn measure_flow(
    open: &Open<'_>,
    room: &str,
    over: &[f64],
    settings: &Settings,
) -> LookNext {
    // A normal spread leaves the chance of the verdict beyond `z` standard deviations.
    let z = if settings.holds_at >= 0.95 { 1.645 } else { 1.282 };
    let clear =
        over.iter().filter(|ratio| (*ratio - 1.0).abs() > z * HOOD_SPREAD * **ratio).count();
    LookNext {
        at: format!("reading (at = \"{room}\")"),
        what: Message::from(What::FlowAtGrille),
        settles_ratio: clear as f64 / over.len().max(1) as f64,
        effort_h: HOOD_MINUTES / 60.0,
        finding: open.finding,
        subject: open.subject.to_owned(),
    }
}

/// Open points that one look settles, since a single thing is missing.
///
/// Minutes are judgement; a walk round the house counts once for all that is seen there.
pub fn single_looks(findings: &[Finding]) -> Vec<LookNext> {
    let look = |finding: &Finding| {
        let (at, what, minutes) = match finding.id {
            Check::TerminalFlap => ("flap_opens", What::FlapOpens, 10.0),
            Check::TerminalPlace if finding.message.key != TerminalPlace::NoDuct.key() => {
                ("kind", What::TerminalKind, 10.0)
            }
            Check::TerminalDamper => ("flap", What::Flap, 10.0),
            Check::TerminalClearance => ("clear.seen", What::ClearSeen, 10.0),
            Check::TerminalClearanceWalkway => ("clear.onto_walkway", What::ClearWalkway, 10.0),
            Check::DuctInsulation => ("insulation", What::Insulation, 20.0),
            Check::DuctMaterial => ("duct", What::DuctKind, 5.0),
            Check::PlaceEdge => ("extent", What::Edge, 10.0),
            Check::FanListing => ("listed_wet", What::Listing, 5.0),
            Check::SoundLimit => ("loudness", What::Loudness, 5.0),
            Check::ControlRequired => ("control", What::Control, 2.0),
            Check::AirflowRating => ("rated", What::RatedFlow, 10.0),
            _ => return None,
        };
        let element = finding.id.as_str().split_once('.').map_or("", |(first, _)| match first {
            "terminal" => "terminal",
            "duct" => "run",
            "place" => "framing",
            _ => "fan",
        });
        (finding.verdict == Verdict::Unknown && finding.figure.is_none()).then(|| LookNext {
            at: format!("{element}.{}.{at}", finding.subject),
            what: Message::from(what),
            settles_ratio: 1.0,
            effort_h: minutes / 60.0,
            finding: finding.id,
            subject: finding.subject.clone(),
        })
    };
    // What is written and waits for a value of the book is settled by the book, not on site.
    let waits_for_book = |finding: &&Finding| {
        finding.todo.iter().any(|todo| todo.key == TodoConfirmInBook::DECLARED[0].key)
    };
    let on_site = findings.iter().filter(|finding| !waits_for_book(finding));
    let mut looks: Vec<LookNext> = on_site.filter_map(look).collect();
    sort::by(&mut looks, |a, b| a.effort_h.total_cmp(&b.effort_h).then_with(|| a.at.cmp(&b.at)));
    looks
}

/// Share of `true`.
pub fn share(passes: &[bool]) -> f64 {
    if passes.is_empty() {
        return 0.0;
    }
    passes.iter().filter(|pass| **pass).count() as f64 / passes.len() as f64
}
