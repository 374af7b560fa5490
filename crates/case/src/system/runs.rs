//! Runs: pieces, elbows, changes of size, dampers, what lies between a fan and its first elbow, and
//! where streams meet.

use dewpath_job::category::Category;
use dewpath_job::model::{
    DamperKind, DuctGiven, DuctKind, ElbowMake, GivenChoice, Job, Part, PartKind, Run, RunShape,
    Section, TransitionShape,
};
use dewpath_message::slot::List;
use dewpath_message::{Citation, Text};
use dewpath_report::say::{Judgement, SourceAsPulled, SourceText, What};
use dewpath_report::{Figure, Message, Source, Standing};
use dewpath_units::{Choice, Length, Origin, Stated, Uncertain};

use super::ask::{ask, degrees, element_of, minutes, point_spec, size_input};
use super::spec::{DuctSpec, Item, JointsSpec, Owner, Spec};
use crate::defaults;
use crate::given;
use crate::inputs::{Ask, CategoryInput, Draw, Fallback, InputId, Inputs, Stream};
use crate::section;

/// Section of the first duct of a run.
pub(super) fn run_size(
    job: &Job,
    index: usize,
    run: &Run,
    inputs: &mut Inputs,
) -> CategoryInput<Section> {
    let given = match &run.shape {
        RunShape::Sum(sum) => sum.duct.size.clone(),
        RunShape::Parts(parts) => parts.iter().find_map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => duct.size.clone(),
            PartKind::Elbow { size, .. }
            | PartKind::Damper { size, .. }
            | PartKind::Crush { size, .. } => size.clone(),
            _ => None,
        }),
    };
    let given = given.filter(|s| !s.value.is_unknown()).or_else(|| collar_of(job, run));
    size_input(&format!("run.{}.size", job.runs[index].id), &given, inputs)
}

/// Collar of the fan or terminal that a run without a size is joined to.
pub(super) fn collar_of(job: &Job, run: &Run) -> GivenChoice<Section> {
    let fan = job.fans.iter().find(|fan| fan.id == run.from || fan.id == run.to);
    let fan = fan.and_then(|fan| fan.data.outlet.clone());
    let terminal = job.terminals.iter().find(|terminal| terminal.id == run.to);
    fan.or_else(|| terminal.and_then(|terminal| terminal.size.clone()))
}

pub(super) fn duct_spec(
    at: &str,
    duct: &DuctGiven,
    size: &GivenChoice<Section>,
    inputs: &mut Inputs,
) -> DuctSpec {
    let kind = inputs.category(
        &Ask {
            at: format!("{at}.duct"),
            stream: Some(Stream(&format!("{}.duct", element_of(at)))),
            what: Message::from(What::DuctKind),
            minutes: minutes::PULL_GRILLE,
        },
        &duct.kind,
        &[DuctKind::SmoothMetal, DuctKind::Flex],
        &Source::judgement(Judgement::BathDuctKinds),
    );
    let may_be_flex = kind.options().contains(&DuctKind::Flex);
    let compression = compression(at, duct, may_be_flex, inputs);
    let flex_band = if may_be_flex {
        inputs.band(
            &Ask {
                at: format!("{at}.flex_band"),
                stream: Some(Stream("flex compression factor")),
                what: Message::from(What::FlexBand),
                minutes: minutes::NOT_ON_SITE,
            },
            &Source::judgement(Judgement::FlexCampaigns),
        )
    } else {
        inputs.constant(0.5, Figure::ShareRatio)
    };
    let roughness = inputs.where_written(
        &ask(format!("{at}.roughness"), What::Roughness, minutes::NOT_ON_SITE),
        &duct.roughness,
        |t| Figure::GapMm(t.map(|m| m * 1000.0)),
    );
    let roughness_band = inputs.band(
        &Ask {
            at: format!("{at}.roughness_band"),
            stream: Some(Stream("roughness of ducts")),
            what: Message::from(What::RoughnessBand),
            minutes: minutes::NOT_ON_SITE,
        },
        &Source::confirmed(
            Citation("ASHRAE Fundamentals 2021, duct roughness table"),
            SourceText::MaterialRange,
        ),
    );
    DuctSpec {
        kind,
        size: size_input(&format!("{at}.size"), size, inputs),
        compression,
        flex_band,
        roughness,
        roughness_band,
    }
}

/// Compression of flexible duct: measured, by a word, or from the default band. The same hands
/// pulled all of it, so that all of a job's flexible duct shares the draw.
pub(super) fn compression(
    at: &str,
    duct: &DuctGiven,
    may_be_flex: bool,
    inputs: &mut Inputs,
) -> InputId {
    if !may_be_flex {
        return inputs.constant(0.0, Figure::ShareRatio);
    }
    let ask = Ask {
        at: format!("{at}.compression"),
        stream: Some(Stream("compression of flexible duct")),
        what: Message::from(What::Compression),
        minutes: minutes::HIDDEN,
    };
    let written = given::is_known(&duct.compression);
    let by_word = duct.pulled.as_ref().map(|stated| stated.value.options().to_vec());
    match by_word {
        Some(words) if !written && !words.is_empty() => {
            let ranges: Vec<_> = words.iter().map(|&pull| defaults::compression_of(pull)).collect();
            let low = ranges.iter().map(|r| r.0).fold(f64::INFINITY, f64::min);
            let high = ranges.iter().map(|r| r.1).fold(0.0, f64::max);
            let words: Vec<&str> = words.iter().map(|pull| pull.word()).collect();
            let pulled = List::new(&words);
            let source = Source {
                book: SourceAsPulled { pulled }.into(),
                section: Text::default(),
                standing: Standing::Judgement,
            };
            inputs.quantity(
                &ask,
                &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
                Figure::ShareRatio,
                &Fallback::even(low, high, source),
            )
        }
        _ => inputs.quantity(&ask, &duct.compression, Figure::ShareRatio, &defaults::compression()),
    }
}

/// Joints on the suction side draw air from the attic that the rooms then do not get. Joints on the
/// pressure side lose air that has left the room already; a finding tells of those.
pub(super) fn joints(run: &Run, items: &[Item], inputs: &mut Inputs) -> JointsSpec {
    let sealed = inputs.yes_no(
        &ask(format!("run.{}.sealed", run.id), What::Sealed, minutes::HIDDEN),
        &run.sealed,
        &[true, false],
        &Source::judgement(Judgement::JointsSealedOrNot),
    );
    let pieces = items
        .iter()
        .filter_map(|item| match &item.spec {
            Spec::Piece { duct, length } => Some((duct.size.clone(), *length)),
            _ => None,
        })
        .collect();
    JointsSpec { sealed, pieces }
}

/// What the run says counts for every part that does not say otherwise; the job crate has already
/// carried it into the parts.
pub(super) fn run_items(job: &Job, index: usize, run: &Run, inputs: &mut Inputs) -> Vec<Item> {
    let mut items = outlet(job, index, run, inputs);
    match &run.shape {
        RunShape::Sum(sum) => items.extend(sum_items(job, index, run, sum, inputs)),
        RunShape::Parts(parts) => items.extend(part_items(job, index, run, parts, inputs)),
    }
    items
}

/// The step from a fan's outlet to the first duct, and what an elbow close behind the fan costs.
pub(super) fn outlet(job: &Job, index: usize, run: &Run, inputs: &mut Inputs) -> Vec<Item> {
    let Some(fan) = job.fans.iter().find(|fan| fan.id == run.from) else { return Vec::new() };
    let size = run_size(job, index, run, inputs);
    let owner = |part: &str| Owner::Part { run: index, part: part.to_owned() };
    let mut items = Vec::new();
    if let Some(collar) = fan.data.outlet.as_ref().filter(|s| !s.value.is_unknown()) {
        let from = size_input(&format!("fan.{}.outlet", fan.id), &Some(collar.clone()), inputs);
        let same = from.known().is_some() && from.known() == size.known();
        if !same {
            items.push(Item {
                owner: owner("outlet"),
                spec: Spec::Transition {
                    from,
                    to: size.clone(),
                    shape: CategoryInput::settled(inputs, TransitionShape::Abrupt),
                    angle: inputs.constant(0.0, Figure::Count),
                },
            });
        }
    }
    let diameter_m = section::hydraulic_m(size.value(inputs, Draw::Likely));
    if let Some(fallback) = system_effect(run, diameter_m) {
        let share = inputs.quantity(
            &ask(format!("run.{}.first_straight", run.id), What::FirstStraight, minutes::HIDDEN),
            &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
            Figure::FactorRatio,
            &fallback,
        );
        items.push(Item { owner: owner("fan-outlet"), spec: Spec::SystemEffect { size, share } });
    }
    items
}

/// Velocity pressures lost where an elbow sits within three diameters of the fan.
pub(super) fn system_effect(run: &Run, diameter_m: f64) -> Option<Fallback> {
    let source =
        || Source::memory(Citation("AMCA 201, fans and systems"), SourceText::SystemEffect);
    match &run.shape {
        RunShape::Sum(sum) => {
            // An equivalent length has its elbows counted in.
            let none = sum.equivalent_length.is_some()
                || matches!(sum.elbows.as_ref().map(|s| s.value), Some(Uncertain::Exact(0)));
            (!none).then(|| Fallback::even(0.0, 0.75, source()))
        }
        RunShape::Parts(parts) => {
            let kinds: Vec<&PartKind> = parts
                .iter()
                .map(|part| &part.kind)
                .filter(|kind| !matches!(kind, PartKind::Trap))
                .collect();
            let first_straight = match kinds.as_slice() {
                [PartKind::Elbow { .. }, ..] => 0.0,
                [PartKind::Piece { length, .. }, PartKind::Elbow { .. }, ..] => {
                    given::likely(length).map_or(f64::INFINITY, Length::m)
                }
                _ => f64::INFINITY,
            };
            (first_straight < 3.0 * diameter_m).then(|| Fallback::even(0.5, 1.0, source()))
        }
    }
}

pub(super) fn sum_items(
    job: &Job,
    index: usize,
    run: &Run,
    sum: &dewpath_job::model::RunSum,
    inputs: &mut Inputs,
) -> Vec<Item> {
    let at = format!("run.{}", run.id);
    let known = !given::options(&sum.duct.size).is_empty();
    let size = if known { sum.duct.size.clone() } else { collar_of(job, run) };
    let duct = duct_spec(&at, &sum.duct, &size, inputs);
    let owner = |part: &str| Owner::Part { run: index, part: part.to_owned() };
    if sum.equivalent_length.is_some() {
        let length = inputs.quantity(
            &ask(format!("{at}.equivalent_length"), What::RunLength, minutes::HIDDEN),
            &sum.equivalent_length,
            Figure::LengthM,
            &defaults::run_length_m(),
        );
        return vec![Item { owner: owner("duct"), spec: Spec::Piece { duct, length } }];
    }
    let length = inputs.quantity(
        &ask(format!("{at}.length"), What::RunLength, minutes::HIDDEN),
        &sum.length,
        Figure::LengthM,
        &defaults::run_length_m(),
    );
    let count = inputs.count(
        &ask(format!("{at}.elbows"), What::ElbowCount, minutes::COUNT_HIDDEN),
        &sum.elbows,
        &defaults::elbows(),
    );
    let elbow = elbow_spec(
        &at,
        &sum.elbow_make,
        &None,
        &None,
        duct.size.clone(),
        duct.kind.options(),
        inputs,
    );
    let counted = match elbow {
        Spec::Elbow { make, angle, radius, size, band, .. } => {
            Spec::Elbow { make, angle, radius, size, band, count: Some(count) }
        }
        other => other,
    };
    vec![
        Item { owner: owner("duct"), spec: Spec::Piece { duct, length } },
        Item { owner: owner("elbows"), spec: counted },
    ]
}

pub(super) fn elbow_spec(
    at: &str,
    make: &GivenChoice<ElbowMake>,
    angle: &dewpath_job::model::Given<dewpath_units::Angle>,
    radius: &dewpath_job::model::Given<dewpath_units::Ratio>,
    size: CategoryInput<Section>,
    duct: &[DuctKind],
    inputs: &mut Inputs,
) -> Spec {
    let likely: &[ElbowMake] = match duct {
        [DuctKind::Flex] => &[ElbowMake::FlexBend],
        [DuctKind::Plastic] => &[ElbowMake::Stamped],
        _ => &[ElbowMake::Adjustable, ElbowMake::Stamped],
    };
    let made = inputs.category(
        &ask(format!("{at}.elbow_make"), What::ElbowMake, minutes::HIDDEN),
        make,
        likely,
        &Source::judgement(Judgement::GoesWithDuct),
    );
    Spec::Elbow {
        angle: inputs.quantity(
            &ask(format!("{at}.elbow_angle"), What::ElbowAngle, minutes::HIDDEN),
            angle,
            degrees,
            &defaults::elbow_angle_rad(),
        ),
        radius: if made.options().contains(&ElbowMake::ThreePiece) {
            inputs.quantity(
                &ask(format!("{at}.elbow_radius"), What::ElbowRadius, minutes::HIDDEN),
                radius,
                Figure::FactorRatio,
                &defaults::elbow_radius(),
            )
        } else {
            // The other tables are for one radius, or do not ask for it.
            inputs.constant(1.5, Figure::FactorRatio)
        },
        count: None,
        size,
        make: made,
        band: inputs.band(
            &Ask {
                at: format!("{at}.elbow_band"),
                stream: Some(Stream("elbows as made")),
                what: Message::from(What::ElbowBand),
                minutes: minutes::NOT_ON_SITE,
            },
            &Source::judgement(Judgement::ElbowTables),
        ),
    }
}

pub(super) fn part_items(
    job: &Job,
    index: usize,
    run: &Run,
    parts: &[Part],
    inputs: &mut Inputs,
) -> Vec<Item> {
    // Fittings take the size of the duct before them, the first one that of the first duct.
    let mut size = run_size(job, index, run, inputs);
    let mut kinds: Vec<DuctKind> = parts
        .iter()
        .find_map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => {
                duct.kind.as_ref().map(|stated| stated.value.options().to_vec())
            }
            _ => None,
        })
        .unwrap_or_default();
    let mut items = Vec::with_capacity(parts.len());
    for part in parts {
        let at = format!("run.{}.part.{}", run.id, part.id);
        let owner = Owner::Part { run: index, part: part.id.clone() };
        let own = |given: &GivenChoice<Section>, inputs: &mut Inputs| {
            given
                .as_ref()
                .filter(|s| !s.value.is_unknown())
                .map(|s| size_input(&format!("{at}.size"), &Some(s.clone()), inputs))
        };
        let spec = match &part.kind {
            PartKind::Piece { duct, length } => {
                let given = duct.size.clone().filter(|s| !s.value.is_unknown());
                let given = given.or_else(|| Some(as_stated(&size)));
                let before = size.clone();
                let spec = duct_spec(&at, duct, &given, inputs);
                size = spec.size.clone();
                kinds = spec.kind.options().to_vec();
                if let Some(step) = step_between(&before, &size, inputs) {
                    let owner = Owner::Part { run: index, part: format!("into {}", part.id) };
                    items.push(Item { owner, spec: step });
                }
                let length = inputs.quantity(
                    &ask(format!("{at}.length"), What::PieceLength, minutes::HIDDEN),
                    length,
                    Figure::LengthM,
                    &defaults::run_length_m(),
                );
                Spec::Piece { duct: spec, length }
            }
            PartKind::Elbow { make, angle, radius, size: own_size } => {
                let own_size = own(own_size, inputs).unwrap_or_else(|| size.clone());
                elbow_spec(&at, make, angle, radius, own_size, &kinds, inputs)
            }
            PartKind::Transition { to, angle, shape } => {
                let to = own(to, inputs).unwrap_or_else(|| size.clone());
                let from = std::mem::replace(&mut size, to.clone());
                Spec::Transition {
                    from,
                    to,
                    shape: inputs.category(
                        &ask(format!("{at}.shape"), What::Transition, minutes::HIDDEN),
                        shape,
                        &[TransitionShape::Cone, TransitionShape::Abrupt],
                        &Source::judgement(Judgement::ConesOrSteps),
                    ),
                    angle: inputs.quantity(
                        &ask(format!("{at}.angle"), What::TransitionAngle, minutes::HIDDEN),
                        angle,
                        degrees,
                        &Fallback::even(30f64.to_radians(), 60f64.to_radians(), Source::practice()),
                    ),
                }
            }
            PartKind::Damper { kind, angle, size: own_size } => {
                let size = own(own_size, inputs).unwrap_or_else(|| size.clone());
                damper_spec(&at, kind, angle, size, inputs)
            }
            PartKind::Crush { open, size: own_size } => Spec::Crush {
                size: own(own_size, inputs).unwrap_or_else(|| size.clone()),
                open: inputs.quantity(
                    &ask(format!("{at}.open"), What::Crush, minutes::HIDDEN),
                    open,
                    Figure::ShareRatio,
                    &Fallback::even(0.4, 0.9, Source::judgement(Judgement::KinkUnmeasured)),
                ),
            },
            // A drain hangs below the duct: the air passes it as it passes plain duct.
            PartKind::Trap => continue,
            PartKind::Other { point, .. } => point_spec(&at, point, inputs),
        };
        items.push(Item { owner, spec });
    }
    items
}

/// A step where two pieces of different size follow each other without a reducer.
pub(super) fn step_between(
    before: &CategoryInput<Section>,
    after: &CategoryInput<Section>,
    inputs: &mut Inputs,
) -> Option<Spec> {
    let (from, to) = (before.known()?, after.known()?);
    (from != to).then(|| Spec::Transition {
        from: before.clone(),
        to: after.clone(),
        shape: CategoryInput::settled(inputs, TransitionShape::Abrupt),
        angle: inputs.constant(0.0, Figure::Count),
    })
}

pub(super) fn as_stated(size: &CategoryInput<Section>) -> Stated<Choice<Section>> {
    let value = match size.options() {
        [one] => Choice::Known(*one),
        several => Choice::OneOf(several.to_vec()),
    };
    Stated::new(value, Origin::Assumed)
}

pub(super) fn damper_spec(
    at: &str,
    kind: &GivenChoice<DamperKind>,
    angle: &dewpath_job::model::Given<dewpath_units::Angle>,
    size: CategoryInput<Section>,
    inputs: &mut Inputs,
) -> Spec {
    let kind = inputs.category(
        &ask(format!("{at}.kind"), What::DamperKind, minutes::HIDDEN),
        kind,
        &[DamperKind::Backdraft],
        &Source::practice(),
    );
    if kind.value(inputs, Draw::Likely) == DamperKind::Balancing {
        let angle = inputs.quantity(
            &ask(format!("{at}.angle"), What::DamperAngle, minutes::HIDDEN),
            angle,
            degrees,
            &Fallback::even(0.0, 20f64.to_radians(), Source::judgement(Judgement::BladeNearlyOpen)),
        );
        return Spec::Balancing { size, angle };
    }
    let band = inputs.band(
        &ask(format!("{at}.band"), What::DamperBand, minutes::NOT_ON_SITE),
        &Source::judgement(Judgement::LightToHeavyFlaps),
    );
    Spec::Backdraft { size, band }
}

pub(super) fn meeting(
    job: &Job,
    index: usize,
    run: &Run,
    junction: usize,
    inputs: &mut Inputs,
) -> Item {
    let joint = &job.junctions[junction];
    let straight = job.runs.iter().position(|other| other.to == joint.id) == Some(index);
    let onward = job.runs.iter().enumerate().find(|(_, other)| other.from == joint.id);
    let size = run_size(job, index, run, inputs);
    let common = match onward {
        Some((other_index, other)) => run_size(job, other_index, other, inputs),
        None => size.clone(),
    };
    // The form for the straight way asks for the area of the branch that joins it.
    let branch = job
        .runs
        .iter()
        .enumerate()
        .filter(|(other_index, other)| other.to == joint.id && (*other_index != index) == straight)
        .map(|(other_index, other)| run_size(job, other_index, other, inputs))
        .next()
        .unwrap_or_else(|| size.clone());
    if straight {
        inputs.note(
            &ask(format!("junction.{}.straight", joint.id), What::StraightWay, minutes::HIDDEN),
            vec![run.id.clone()],
            &Source::judgement(Judgement::FirstRunStraight),
        );
    }
    let spec = Spec::Meeting {
        kind: inputs.category(
            &ask(format!("junction.{}.kind", joint.id), What::Junction, minutes::HIDDEN),
            &joint.kind,
            &[dewpath_job::model::JunctionKind::Wye, dewpath_job::model::JunctionKind::Tee],
            &Source::judgement(Judgement::WyeOrTee),
        ),
        straight,
        size,
        branch,
        common,
    };
    Item { owner: Owner::Meeting { run: index, junction }, spec }
}
