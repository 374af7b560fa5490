//! The working behind a delivered flow: one step for every thing the air passes, with the inputs it
//! has and where they come from.

use dewpath_air::law::Law;
use dewpath_air::{
    duct_leakage, element, fan, fittings, flex, friction, leakage, moist_air, terminal,
};
use dewpath_case::Case;
use dewpath_case::flow::Flows;
use dewpath_case::inputs::{CategoryInput, InputId};
use dewpath_case::sample::Sample;
use dewpath_case::section;
use dewpath_case::system::spec::{DuctSpec, Item, JointsSpec, Owner, Spec};
use dewpath_message::Citation;
use dewpath_report::say::{Equation, SourceText, Symbol, What};
use dewpath_report::{Figure, Message, Provenance, Source, Step, Triple, WorkingInput};

use crate::law;

/// Steps for the way of a room's air: density, each item, the balance.
pub(crate) fn way(case: &Case<'_>, flows: &Flows, edge: usize, flow: &Sample) -> Vec<Step> {
    let mut steps = vec![density(case, flows)];
    let mut lost = Vec::new();
    for (item, loss) in case.system.edges[edge].items.iter().zip(&flows.items[edge]) {
        steps.push(item_step(case, item, loss));
        lost.push(as_term(case, item, loss));
    }
    steps.push(Step {
        equation: Equation::FanBalance.into(),
        inputs: lost,
        result: Some(Figure::AirflowLS(flow.litres())),
        source: Source::confirmed(SourceText::NewtonBalance, Citation("Todini & Pilati 1988")),
    });
    steps
}

/// Air changes, and the time three volumes of the room take to pass: 95 % of what was in the air is
/// then gone where it mixes well (first-order decay).
pub(crate) fn changes(volume: &Sample, from: Provenance, flow: &Sample) -> Vec<Step> {
    let inputs = || {
        vec![
            WorkingInput::new(
                "q",
                What::Delivered,
                Figure::AirflowLS(flow.litres()),
                Provenance::Computed,
            ),
            WorkingInput::new("V", What::RoomVolume, Figure::VolumeM3(volume.triple()), from),
        ]
    };
    let source = || Source::confirmed(SourceText::FirstOrderDecay, SourceText::ClosedForm);
    let mut steps = vec![Step {
        equation: "n = 3600 q / V".into(),
        inputs: inputs(),
        result: Some(Figure::AirChangesPerH(flow.with(volume, |q, v| q * 3600.0 / v).triple())),
        source: source(),
    }];
    if flow.triple().low > 0.0 {
        steps.push(Step {
            equation: "t = 3 V / q".into(),
            inputs: inputs(),
            result: Some(Figure::TimeH(flow.with(volume, |q, v| 3.0 * v / q / 3600.0).triple())),
            source: source(),
        });
    }
    steps
}

fn density(case: &Case<'_>, flows: &Flows) -> Step {
    let air = &case.system.air;
    let rho = flows.density.triple();
    law::step(
        &moist_air::DENSITY,
        vec![
            case.inputs.in_working("z", air.altitude),
            case.inputs.in_working("t", air.indoor),
            case.inputs.in_working("RH", air.humidity),
        ],
        Some(Figure::FactorRatio(rho)),
    )
}

/// An item as a term of the balance.
fn as_term(case: &Case<'_>, item: &Item, loss: &Sample) -> WorkingInput {
    let (name, what) = dewpath_case::system::loss_name(case.job, &item.owner, &item.spec);
    let is_fan = matches!(item.owner, Owner::Fan { .. });
    let sign = if is_fan { -1.0 } else { 1.0 };
    WorkingInput {
        symbol: if is_fan { format!("p_fan {name}") } else { format!("dp {name}") }.into(),
        what: Message::from(what),
        figure: Figure::PressurePa(loss.map(|p| p * sign).triple()),
        from: Provenance::Computed,
    }
}

fn item_step(case: &Case<'_>, item: &Item, loss: &Sample) -> Step {
    let list = |pairs: &[(&str, InputId)]| -> Vec<WorkingInput> {
        pairs.iter().map(|(symbol, id)| case.inputs.in_working(*symbol, *id)).collect()
    };
    let diameter = |size: &CategoryInput<dewpath_job::model::Section>| size_in(case, size);
    let (law, mut inputs) = match &item.spec {
        Spec::Leak { air_changes, volume, area, flow } => {
            let mut pairs = Vec::new();
            match flow {
                Some(flow) => pairs.push(("q50", *flow)),
                None => pairs.push(("n50", *air_changes)),
            }
            pairs.extend(volume.map(|id| ("V", id)));
            if let Some(storey) = area {
                pairs.extend([("A", storey.area), ("h", storey.height)]);
            }
            (leakage::POWER_LAW, list(&pairs))
        }
        Spec::Joints(joints) => {
            let mut inputs = Vec::new();
            for JointsSpec { sealed, pieces } in joints {
                inputs.push(case.inputs.in_working("sealed", sealed.id()));
                let lengths = pieces.iter().map(|(_, length)| *length);
                inputs.extend(lengths.map(|length| case.inputs.in_working("L", length)));
            }
            (duct_leakage::JOINTS, inputs)
        }
        Spec::Door(door) => {
            let mut pairs = vec![
                ("w", door.width),
                ("h", door.gap),
                ("A_j", door.joints),
                ("C_d", door.coefficient),
            ];
            pairs.extend(door.transfer.map(|id| ("A_t", id)));
            (leakage::DOOR, list(&pairs))
        }
        Spec::Fan(spec) => {
            let mut pairs = Vec::new();
            for (flow, pressure) in &spec.rated {
                pairs.push(("q_rated", *flow));
                pairs.extend(pressure.map(|id| ("p_rated", id)));
            }
            pairs.extend(spec.speed.map(|id| ("s", id)));
            pairs.extend(spec.holds.map(|id| ("q_held", id)));
            (if spec.has_curve { fan::CURVE } else { fan::BAND }, list(&pairs))
        }
        Spec::Piece { duct, length } => piece(case, duct, *length),
        Spec::Elbow { count, angle, radius, size, band, .. } => {
            let mut pairs = vec![("angle", *angle), ("r/D", *radius), ("u", *band)];
            pairs.extend(count.map(|id| ("n", id)));
            let mut inputs = list(&pairs);
            inputs.push(diameter(size));
            (fittings::ELBOW, inputs)
        }
        Spec::Transition { from, to, .. } => {
            (fittings::TRANSITION, vec![diameter(from), diameter(to)])
        }
        Spec::Backdraft { size, band } => {
            (fittings::BACKDRAFT, [list(&[("u", *band)]), vec![diameter(size)]].concat())
        }
        Spec::Balancing { size, angle } => {
            (fittings::BALANCING, [list(&[("angle", *angle)]), vec![diameter(size)]].concat())
        }
        Spec::Crush { size, open } => {
            (flex::CRUSHED, [list(&[("s", *open)]), vec![diameter(size)]].concat())
        }
        Spec::Point { airflow, pressure } => {
            (element::POINT, list(&[("q0", *airflow), ("p0", *pressure)]))
        }
        Spec::SystemEffect { size, share } => {
            (fittings::SYSTEM_EFFECT, [list(&[("k", *share)]), vec![diameter(size)]].concat())
        }
        Spec::Grille { free_area, share, size, band } => {
            let area = free_area.map_or(("A/A_c", *share), |id| ("A", id));
            (fittings::GRILLE, [list(&[area, ("u", *band)]), vec![diameter(size)]].concat())
        }
        Spec::Terminal(spec) => {
            let mut pairs = vec![("u", spec.band), ("clogged", spec.clogged)];
            if let Some((q, p)) = spec.point {
                pairs = vec![("q0", q), ("p0", p)];
            }
            pairs.extend(spec.riser.map(|id| ("p_riser", id)));
            (terminal::TERMINAL, [list(&pairs), vec![diameter(&spec.size)]].concat())
        }
        Spec::Meeting { size, common, .. } => {
            (fittings::JUNCTION, vec![diameter(size), diameter(common)])
        }
    };
    inputs.retain(|input| !matches!(input.what.key.as_str(), "constant"));
    let sign = if matches!(item.owner, Owner::Fan { .. }) { -1.0 } else { 1.0 };
    let (name, _) = dewpath_case::system::loss_name(case.job, &item.owner, &item.spec);
    Step {
        equation: format!("{name}: {}", law.equation).into(),
        inputs,
        result: Some(Figure::PressurePa(loss.map(|p| p * sign).triple())),
        source: law::source(&law),
    }
}

fn piece(case: &Case<'_>, duct: &DuctSpec, length: InputId) -> (Law, Vec<WorkingInput>) {
    let may_flex = duct.kind.options().contains(&dewpath_job::model::DuctKind::Flex);
    let mut inputs = vec![case.inputs.in_working("L", length), size_in(case, &duct.size)];
    inputs.push(match duct.roughness {
        Some(id) => case.inputs.in_working("eps", id),
        None => case.inputs.in_working(Symbol::RoughnessPlace, duct.roughness_band),
    });
    if may_flex {
        inputs.push(case.inputs.in_working("r", duct.compression));
        inputs.push(case.inputs.in_working(Symbol::FlexPlace, duct.flex_band));
    }
    (if may_flex { flex::FLEXIBLE_DUCT } else { friction::STRAIGHT_DUCT }, inputs)
}

/// Hydraulic diameter as an input of a working.
fn size_in(case: &Case<'_>, size: &CategoryInput<dewpath_job::model::Section>) -> WorkingInput {
    let mut input = case.inputs.in_working("D", size.id());
    let mm: Vec<f64> = size.options().iter().map(|s| section::hydraulic_m(*s) * 1000.0).collect();
    let low = mm.iter().copied().fold(f64::INFINITY, f64::min);
    let high = mm.iter().copied().fold(0.0, f64::max);
    input.figure = Figure::DiameterMm(Triple { low, likely: mm[0], high });
    if input.what.key == "constant" {
        input.what = Message::from(What::DuctSize);
    }
    input
}
