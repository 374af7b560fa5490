//! The working behind a delivered flow: one step for every thing the air passes, with the inputs it
//! has and where they come from.

use dewpath_case::Case;
use dewpath_case::flow::Flows;
use dewpath_case::inputs::{CategoryInput, InputId};
use dewpath_case::sample::Sample;
use dewpath_case::section;
use dewpath_case::system::spec::{DuctSpec, Item, JointsSpec, Owner, Spec};
use dewpath_report::say::What;
use dewpath_report::{Figure, Message, Provenance, Source, Standing, Step, Triple, WorkingInput};

/// Steps for the way of a room's air: density, each item, the balance.
pub(crate) fn way(case: &Case<'_>, flows: &Flows, edge: usize, flow: &Sample) -> Vec<Step> {
    let mut steps = vec![density(case, flows)];
    let mut lost = Vec::new();
    for (item, loss) in case.system.edges[edge].items.iter().zip(&flows.items[edge]) {
        steps.push(item_step(case, item, loss));
        lost.push(as_term(case, item, loss));
    }
    steps.push(Step {
        equation: "p_fan(q) = sum of dp(q) over the way of the air".to_owned(),
        inputs: lost,
        result: Some(Figure::AirflowLS(flow.map(|q| q * 1000.0).triple())),
        source: Source::confirmed("Newton's method on the balance", "Todini & Pilati 1988"),
    });
    steps
}

/// Air changes, and the time three volumes of the room take to pass: 95 % of what was in the air is
/// then gone where it mixes well (first-order decay).
pub(crate) fn changes(volume: &Sample, flow: &Sample) -> Vec<Step> {
    let inputs = || {
        vec![
            WorkingInput::new(
                "q",
                What::Delivered,
                Figure::AirflowLS(flow.map(|q| q * 1000.0).triple()),
                Provenance::Computed,
            ),
            WorkingInput::new(
                "V",
                What::RoomVolume,
                Figure::VolumeM3(volume.triple()),
                Provenance::Written,
            ),
        ]
    };
    let source = || Source::confirmed("first-order decay of a well-mixed room", "closed form");
    let mut steps = vec![Step {
        equation: "n = 3600 q / V".to_owned(),
        inputs: inputs(),
        result: Some(Figure::AirChangesPerH(flow.with(volume, |q, v| q * 3600.0 / v).triple())),
        source: source(),
    }];
    if flow.triple().low > 0.0 {
        steps.push(Step {
            equation: "t = 3 V / q".to_owned(),
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
    Step {
        equation: "rho = (1 + W) / v(t, RH, p(z))  [kg/m3]".to_owned(),
        inputs: vec![
            case.inputs.in_working("z", air.altitude),
            case.inputs.in_working("t", air.indoor),
            case.inputs.in_working("RH", air.humidity),
        ],
        result: Some(Figure::FactorRatio(rho)),
        source: Source::confirmed(
            "ASHRAE Fundamentals 2017, ch. 1",
            "Hyland-Wexler saturation, standard atmosphere eq. 3",
        ),
    }
}

/// An item as a term of the balance.
fn as_term(case: &Case<'_>, item: &Item, loss: &Sample) -> WorkingInput {
    let (name, what) = dewpath_case::system::loss_name(case.job, &item.owner, &item.spec);
    let is_fan = matches!(item.owner, Owner::Fan { .. });
    let sign = if is_fan { -1.0 } else { 1.0 };
    WorkingInput {
        symbol: if is_fan { format!("p_fan {name}") } else { format!("dp {name}") },
        what: Message::from(what),
        figure: Figure::PressurePa(loss.map(|p| p * sign).triple()),
        from: Provenance::Computed,
    }
}

fn item_step(case: &Case<'_>, item: &Item, loss: &Sample) -> Step {
    let list = |pairs: &[(&str, InputId)]| -> Vec<WorkingInput> {
        pairs.iter().map(|(symbol, id)| case.inputs.in_working(symbol, *id)).collect()
    };
    let diameter = |size: &CategoryInput<dewpath_job::model::Section>| size_in(case, size);
    let (equation, mut inputs, source) = match &item.spec {
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
            (
                "dp = (q / C)^(1/0.65), C = q50 / 50^0.65, q50 = n50 V",
                list(&pairs),
                Source::confirmed("ISO 9972", "power law; exponent 0.65 where it is not measured"),
            )
        }
        Spec::Joints(joints) => {
            let mut inputs = Vec::new();
            for JointsSpec { sealed, pieces } in joints {
                inputs.push(case.inputs.in_working("sealed", sealed.id()));
                let lengths = pieces.iter().map(|(_, length)| *length);
                inputs.extend(lengths.map(|length| case.inputs.in_working("L", length)));
            }
            (
                "q = C_L sum(perimeter L) dp^0.65",
                inputs,
                Source::memory("SMACNA, HVAC Air Duct Leakage Test Manual", "classes 3 and 30"),
            )
        }
        Spec::Door(door) => {
            let mut pairs = vec![
                ("w", door.width),
                ("h", door.gap),
                ("A_j", door.joints),
                ("C_d", door.coefficient),
            ];
            pairs.extend(door.transfer.map(|id| ("A_t", id)));
            (
                "dp = rho/2 (q / (C_d (w h + A_j + A_t)))^2",
                list(&pairs),
                Source::confirmed("sharp-edged opening, ISO 5167 form", ""),
            )
        }
        Spec::Fan(fan) => {
            let mut pairs = Vec::new();
            for (flow, pressure) in &fan.rated {
                pairs.push(("q_rated", *flow));
                pairs.extend(pressure.map(|id| ("p_rated", id)));
            }
            pairs.extend(fan.speed.map(|id| ("s", id)));
            pairs.extend(fan.holds.map(|id| ("q_held", id)));
            let source = if fan.has_curve {
                Source::confirmed(
                    "fan curve of the job or library",
                    "monotone cubic, Fritsch & Carlson 1980; AMCA 211 fan laws",
                )
            } else {
                Source::judgement("band of curves through what the label says; AMCA 211 fan laws")
            };
            ("p_fan = curve(q / s) s^2 rho / 1.2", list(&pairs), source)
        }
        Spec::Piece { duct, length } => piece(case, duct, *length),
        Spec::Elbow { count, angle, radius, size, band, .. } => {
            let mut pairs = vec![("angle", *angle), ("r/D", *radius), ("u", *band)];
            pairs.extend(count.map(|id| ("n", id)));
            let mut inputs = list(&pairs);
            inputs.push(diameter(size));
            (
                "dp = n C(make, D, angle, Re) rho v^2/2",
                inputs,
                Source::confirmed(
                    "ASHRAE Fundamentals 2009 (SI), ch. 21, fitting tables",
                    "Reynolds correction of SMACNA from memory",
                ),
            )
        }
        Spec::Transition { from, to, .. } => (
            "dp = C(A1/A2, angle) rho v^2/2 on the smaller side",
            vec![diameter(from), diameter(to)],
            Source::confirmed("Rennels & Hudson, Pipe Flow (2012); Borda-Carnot", ""),
        ),
        Spec::Backdraft { size, band } => (
            "dp = a q/sqrt(q^2 + q0^2) + C rho v^2/2",
            [list(&[("u", *band)]), vec![diameter(size)]].concat(),
            Source::judgement("light to heavy flaps"),
        ),
        Spec::Balancing { size, angle } => (
            "dp = C(angle) rho v^2/2",
            [list(&[("angle", *angle)]), vec![diameter(size)]].concat(),
            Source::memory("round butterfly blade, handbook table", ""),
        ),
        Spec::Crush { size, open } => (
            "dp = (0.5 (1 - s) + (1 - s)^2) / s^2 rho v^2/2",
            [list(&[("s", *open)]), vec![diameter(size)]].concat(),
            Source::confirmed("contraction and Borda-Carnot expansion", ""),
        ),
        Spec::Point { airflow, pressure } => (
            "dp = p0 (q / q0)^2",
            list(&[("q0", *airflow), ("p0", *pressure)]),
            Source::confirmed("measured or maker's point of the job", ""),
        ),
        Spec::SystemEffect { size, share } => (
            "dp = k rho v^2/2",
            [list(&[("k", *share)]), vec![diameter(size)]].concat(),
            Source::memory("AMCA 201", "outlet system effect, as a band for small fans"),
        ),
        Spec::Grille { free_area, share, size, band } => {
            let area = free_area.map_or(("A/A_c", *share), |id| ("A", id));
            (
                "dp = C rho/2 (q / A)^2, C = 2 to 4",
                [list(&[area, ("u", *band)]), vec![diameter(size)]].concat(),
                Source::judgement("handbook range for small exhaust grilles"),
            )
        }
        Spec::Terminal(terminal) => {
            let mut pairs = vec![("u", terminal.band), ("clogged", terminal.clogged)];
            if let Some((q, p)) = terminal.point {
                pairs = vec![("q0", q), ("p0", p)];
            }
            pairs.extend(terminal.riser.map(|id| ("p_riser", id)));
            (
                "dp = a q/sqrt(q^2 + q0^2) + (C + C_screen) rho v^2/2 + p_outside",
                [list(&pairs), vec![diameter(&terminal.size)]].concat(),
                Source::judgement(
                    "no public table for small caps: a band that holds the fixed part of the published duct-length table",
                ),
            )
        }
        Spec::Meeting { size, common, .. } => (
            "dp = K(q / q_common, A / A_common) rho v_common^2/2",
            vec![diameter(size), diameter(common)],
            Source::confirmed("Crane TP-410 (2009), converging and diverging tees and wyes", ""),
        ),
    };
    inputs.retain(|input| !matches!(input.what.key.as_str(), "constant"));
    let sign = if matches!(item.owner, Owner::Fan { .. }) { -1.0 } else { 1.0 };
    let (name, _) = dewpath_case::system::loss_name(case.job, &item.owner, &item.spec);
    Step {
        equation: format!("{name}: {equation}"),
        inputs,
        result: Some(Figure::PressurePa(loss.map(|p| p * sign).triple())),
        source,
    }
}

fn piece(
    case: &Case<'_>,
    duct: &DuctSpec,
    length: InputId,
) -> (&'static str, Vec<WorkingInput>, Source) {
    let may_flex = duct.kind.options().contains(&dewpath_job::model::DuctKind::Flex);
    let mut inputs = vec![case.inputs.in_working("L", length), size_in(case, &duct.size)];
    inputs.push(match duct.roughness {
        Some(id) => case.inputs.in_working("eps", id),
        None => case.inputs.in_working("eps (place in its range)", duct.roughness_band),
    });
    if may_flex {
        inputs.push(case.inputs.in_working("r", duct.compression));
        inputs.push(case.inputs.in_working("m (place in its range)", duct.flex_band));
    }
    let equation = if may_flex {
        "dp = f(Re, eps/D) L/D rho v^2/2 m (1 + 58 r exp(-0.00496 D_mm))"
    } else {
        "dp = f(Re, eps/D) L/D rho v^2/2, 1/sqrt(f) = -2 log10(eps/3.7D + 2.51/(Re sqrt(f)))"
    };
    let source = if may_flex {
        Source {
            book: "Darcy-Weisbach, Colebrook-White; Abushakra, Walker & Sherman 2004".to_owned(),
            section: "compression factor".to_owned(),
            standing: Standing::FromMemory,
        }
    } else {
        Source::confirmed(
            "Darcy-Weisbach, Colebrook-White",
            "roughness: ASHRAE Fundamentals 2021, ch. 21",
        )
    };
    (equation, inputs, source)
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
