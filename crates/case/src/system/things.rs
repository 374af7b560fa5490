//! What stands at the ends of runs: the dwelling's leaks, doors, fans, grilles, terminals.

use dewpath_job::model::{Fan, FanKind, Grille, Job, Screen, Section, Terminal, TerminalKind};
use dewpath_report::say::{Judgement, What};
use dewpath_report::{Figure, Source};
use dewpath_units::{Length, Origin, Stated, Uncertain, YesNo};

use super::ask::{ask, minutes, never, point_spec, size_input};
use super::spec::{DoorSpec, FanSpec, Spec, Storey, TerminalSpec};
use crate::defaults;
use crate::given;
use crate::inputs::{CategoryInput, Fallback, Inputs};

/// Leaks of the dwelling.
pub fn leak(job: &Job, inputs: &mut Inputs) -> Spec {
    let dwelling = &job.dwelling;
    let usual = defaults::air_changes_50(given::options(&dwelling.tightness));
    let known = |given: &dewpath_job::model::Given<_>| {
        given
            .as_ref()
            .is_some_and(|s: &Stated<Uncertain<dewpath_units::Leakage50>>| !s.value.is_unknown())
    };
    let flow = known(&dwelling.leakage).then(|| {
        inputs.quantity(
            &ask("dwelling.leakage".to_owned(), What::Leakage, minutes::BLOWER_DOOR),
            &dwelling.leakage,
            |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
            &usual,
        )
    });
    let air_changes = if flow.is_some() {
        inputs.constant(0.0, Figure::AirChangesPerH)
    } else {
        inputs.quantity(
            &ask("dwelling.air_changes".to_owned(), What::AirChanges, minutes::BLOWER_DOOR),
            &dwelling.air_changes,
            Figure::AirChangesPerH,
            &usual,
        )
    };
    let has_volume = given::is_known(&dwelling.volume);
    let has_area = given::is_known(&dwelling.floor_area);
    let area = (flow.is_none() && !has_volume && has_area).then(|| Storey {
        area: inputs.quantity(
            &ask("dwelling.floor_area".to_owned(), What::DwellingArea, minutes::TAPE),
            &dwelling.floor_area,
            Figure::AreaM2,
            &defaults::dwelling_volume_m3(),
        ),
        height: inputs.quantity(
            &ask("dwelling.storey_height".to_owned(), What::Storey, minutes::TAPE),
            &None::<Stated<Uncertain<Length>>>,
            Figure::LengthM,
            &defaults::storey_height_m(),
        ),
    });
    let volume = (flow.is_none() && area.is_none()).then(|| {
        inputs.quantity(
            &ask("dwelling.volume".to_owned(), What::DwellingVolume, minutes::TAPE),
            &dwelling.volume,
            Figure::VolumeM3,
            &defaults::dwelling_volume_m3(),
        )
    });
    Spec::Leak { air_changes, volume, area, flow }
}

pub(super) fn door(room: &dewpath_job::model::Room, inputs: &mut Inputs) -> DoorSpec {
    let at = |key: &str| format!("room.{}.door.{key}", room.id);
    let transfer = inputs.where_written(
        &ask(at("transfer"), What::Transfer, minutes::TAPE),
        &room.door.transfer,
        Figure::AreaM2,
    );
    DoorSpec {
        width: inputs.quantity(
            &ask(at("width"), What::DoorWidth, minutes::DOOR),
            &room.door.width,
            Figure::LengthM,
            &defaults::door_width_m(),
        ),
        gap: inputs.quantity(
            &ask(at("gap"), What::DoorGap, minutes::DOOR),
            &room.door.gap,
            |t| Figure::GapMm(t.map(|m| m * 1000.0)),
            &defaults::door_gap_m(),
        ),
        joints: inputs.quantity(
            &ask(at("joints"), What::DoorJoints, minutes::NOT_ON_SITE),
            &room.door.joints,
            Figure::AreaM2,
            &defaults::door_joints_m2(),
        ),
        transfer,
        coefficient: inputs.quantity(
            &ask(at("coefficient"), What::GapCoefficient, minutes::NOT_ON_SITE),
            &room.door.coefficient,
            Figure::FactorRatio,
            &defaults::gap_coefficient(),
        ),
    }
}

pub(super) fn fan_spec(index: usize, fan: &Fan, job: &Job, inputs: &mut Inputs) -> FanSpec {
    // A flap matters only while the fan stands still and another one blows.
    let may_stand_still = given::yes(&fan.running) != Some(true) && fan.running.is_some()
        || job.scenarios.iter().any(|scenario| scenario.off.contains(&fan.id));
    let at = |key: &str| format!("fan.{}.{key}", fan.id);
    let rated = fan
        .data
        .rated
        .iter()
        .enumerate()
        .map(|(number, point)| {
            let flow = inputs.quantity(
                &ask(format!("{}.{number}", at("rated")), What::RatedFlow, minutes::LABEL),
                &Some(point.airflow.clone()),
                |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
                &never(),
            );
            let pressure = inputs.where_written(
                &ask(format!("{}.{number}.at", at("rated")), What::RatedAt, minutes::LABEL),
                &point.pressure,
                Figure::PressurePa,
            );
            (flow, pressure)
        })
        .collect();
    let fallback_kind: &[FanKind] = if fan.room.is_some() {
        &[FanKind::Centrifugal, FanKind::Axial]
    } else {
        &[FanKind::Inline]
    };
    FanSpec {
        fan: index,
        kind: inputs.category(
            &ask(at("kind"), What::FanKind, minutes::PULL_GRILLE),
            &fan.data.kind,
            fallback_kind,
            &Source::judgement(Judgement::CentrifugalOrAxial),
        ),
        shape: if fan.data.curve.len() >= 2 {
            inputs.constant(0.5, Figure::ShareRatio)
        } else {
            inputs.band(
                &ask(at("curve"), What::FanCurve, minutes::DATA_SHEET),
                &Source::judgement(Judgement::CurvesThroughLabel),
            )
        },
        rated,
        has_curve: fan.data.curve.len() >= 2,
        speed: inputs.where_written(
            &ask(at("speed"), What::FanSpeed, minutes::LABEL),
            &fan.data.speed,
            Figure::ShareRatio,
        ),
        holds: inputs.where_written(
            &ask(at("holds_flow"), What::HoldsFlow, minutes::LABEL),
            &fan.data.holds_flow,
            |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
        ),
        running: inputs.yes_no(
            &ask(at("running"), What::Running, minutes::TAPE),
            &fan.running.clone().or_else(|| Some(Stated::new(YesNo::Yes, Origin::Default))),
            &[true, false],
            &Source::judgement(Judgement::EveryFanRuns),
        ),
        damper: if may_stand_still {
            inputs.yes_no(
                &ask(at("damper"), What::FanDamper, minutes::PULL_GRILLE),
                &fan.data.damper,
                &[true, false],
                &Source::judgement(Judgement::FlapInOutlet),
            )
        } else {
            CategoryInput::settled(inputs, true)
        },
    }
}

pub(super) fn grille_spec(
    grille: &Grille,
    size: &CategoryInput<Section>,
    inputs: &mut Inputs,
) -> Spec {
    let at = |key: &str| format!("grille.{}.{key}", grille.id);
    if let Some(point) = &grille.point {
        return point_spec(&format!("grille.{}", grille.id), point, inputs);
    }
    let collar = grille.collar.as_ref().filter(|s| !s.value.is_unknown());
    let size = match collar {
        Some(collar) => size_input(&at("collar"), &Some(collar.clone()), inputs),
        None => size.clone(),
    };
    Spec::Grille {
        free_area: inputs.where_written(
            &ask(at("free_area"), What::GrilleArea, minutes::TAPE),
            &grille.free_area,
            Figure::AreaM2,
        ),
        share: inputs.quantity(
            &ask(at("free_area"), What::GrilleArea, minutes::TAPE),
            &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
            Figure::ShareRatio,
            &defaults::grille_free_share(),
        ),
        size,
        band: inputs.band(
            &ask(at("band"), What::GrilleBand, minutes::NOT_ON_SITE),
            &Source::judgement(Judgement::GrilleSpread),
        ),
    }
}

pub(super) fn terminal_spec(
    index: usize,
    terminal: &Terminal,
    run_size: &CategoryInput<Section>,
    inputs: &mut Inputs,
) -> TerminalSpec {
    let at = |key: &str| format!("terminal.{}.{key}", terminal.id);
    let kind = inputs.category(
        &ask(at("kind"), What::TerminalKind, minutes::LOOK_OUTSIDE),
        &terminal.kind,
        &[TerminalKind::WallCap, TerminalKind::RoofCap],
        &Source::judgement(Judgement::WallOrRoofCap),
    );
    let shared = kind.options().contains(&TerminalKind::SharedRiser);
    let capped = kind.options().iter().any(|kind| {
        use TerminalKind::{GableCap, RoofCap, SoffitCap, WallCap};
        matches!(kind, WallCap | RoofCap | GableCap | SoffitCap)
    });
    let size = match terminal.size.as_ref().filter(|s| !s.value.is_unknown()) {
        Some(size) => size_input(&at("size"), &Some(size.clone()), inputs),
        None => run_size.clone(),
    };
    let point = terminal.point.as_ref().map(|point| {
        match point_spec(&format!("terminal.{}", terminal.id), point, inputs) {
            Spec::Point { airflow, pressure } => (airflow, pressure),
            // `point_spec` gives nothing else.
            _ => {
                (inputs.constant(0.0, Figure::AirflowLS), inputs.constant(0.0, Figure::PressurePa))
            }
        }
    });
    let likely_flap: &[bool] = if capped { &[true, false] } else { &[false] };
    let likely_screen: &[Screen] =
        if capped { &[Screen::None, Screen::Insect] } else { &[Screen::None] };
    let screen = inputs.category(
        &ask(at("screen"), What::Screen, minutes::LOOK_OUTSIDE),
        &terminal.screen,
        likely_screen,
        &Source::judgement(Judgement::ScreenOrNot),
    );
    let may_clog = screen.options().iter().any(|screen| *screen != Screen::None);
    TerminalSpec {
        terminal: index,
        kind,
        size,
        flap: inputs.yes_no(
            &ask(at("flap"), What::Flap, minutes::LOOK_OUTSIDE),
            &terminal.flap,
            likely_flap,
            &Source::judgement(Judgement::CapsHaveFlaps),
        ),
        screen,
        clogged: if may_clog {
            inputs.quantity(
                &ask(at("clogged"), What::Clogged, minutes::LOOK_OUTSIDE),
                &terminal.clogged,
                Figure::ShareRatio,
                &defaults::clogged(),
            )
        } else {
            inputs.constant(0.0, Figure::ShareRatio)
        },
        band: if point.is_some() {
            inputs.constant(0.5, Figure::ShareRatio)
        } else {
            inputs.band(
                &ask(at("band"), What::TerminalBand, minutes::NOT_ON_SITE),
                &Source::judgement(Judgement::TerminalSpread),
            )
        },
        point,
        stuck: (given::yes(&terminal.flap_opens) == Some(false)).then(|| {
            inputs.quantity(
                &ask(at("flap_opens"), What::Stuck, minutes::LOOK_OUTSIDE),
                &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
                Figure::ShareRatio,
                &Fallback::even(0.1, 0.5, Source::judgement(Judgement::StuckFlap)),
            )
        }),
        riser: shared.then(|| {
            inputs.quantity(
                &ask(at("riser_pressure"), What::Riser, minutes::HIDDEN),
                &None::<Stated<Uncertain<dewpath_units::Pressure>>>,
                Figure::PressurePa,
                &Fallback::even(0.0, 20.0, Source::judgement(Judgement::OthersOnRiser)),
            )
        }),
    }
}
