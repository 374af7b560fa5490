//! How the graph asks for what it needs: paths, minutes, sizes and points.

use dewpath_job::model::{GivenChoice, LossPoint, Section};
use dewpath_report::say::{Judgement, What};
use dewpath_report::{Figure, Message, Source};
use dewpath_units::Length;

use super::spec::Spec;
use crate::inputs::{Ask, CategoryInput, Fallback, Inputs, Stream};
use crate::section;

/// Minutes to look at or measure a thing, about. Judgement; a ladder or an attic is included.
pub(super) mod minutes {
    pub(in crate::system) const LABEL: f64 = 2.0;
    pub(in crate::system) const TAPE: f64 = 1.0;
    pub(in crate::system) const DOOR: f64 = 1.0;
    pub(in crate::system) const COUNT_HIDDEN: f64 = 15.0;
    pub(in crate::system) const LOOK_OUTSIDE: f64 = 10.0;
    pub(in crate::system) const HIDDEN: f64 = 20.0;
    pub(in crate::system) const PULL_GRILLE: f64 = 5.0;
    pub(in crate::system) const NOT_ON_SITE: f64 = 60.0;
    pub(in crate::system) const DATA_SHEET: f64 = 10.0;
    pub(in crate::system) const BLOWER_DOOR: f64 = 90.0;
}

pub(super) fn ask(at: String, what: What, minutes: f64) -> Ask<'static> {
    Ask { at, stream: None, what: Message::from(what), minutes }
}

/// An angle in radians as a figure.
pub(super) fn degrees(t: dewpath_report::Triple) -> Figure {
    Figure::AngleDeg(t.map(f64::to_degrees))
}

/// A default that is never reached because the caller has checked that the value is written.
pub(super) fn never() -> Fallback {
    Fallback::even(0.0, 0.0, Source::practice())
}

/// The element a path starts with: `run.attic` of `run.attic.part.p2.size`. The same hands built the
/// whole of it, so that what may be one thing or the other is the same along it.
pub(super) fn element_of(at: &str) -> String {
    at.split('.').take(2).collect::<Vec<_>>().join(".")
}

pub(super) fn size_input(
    at: &str,
    given: &GivenChoice<Section>,
    inputs: &mut Inputs,
) -> CategoryInput<Section> {
    let inches = |d: f64| Section::Round(Length::from_inches(d));
    inputs.options(
        &Ask {
            at: at.to_owned(),
            stream: Some(Stream(&format!("{}.size", element_of(at)))),
            what: Message::from(What::DuctSize),
            minutes: minutes::PULL_GRILLE,
        },
        given,
        &[inches(4.0), inches(3.0)],
        &Source::judgement(Judgement::BathDuctSizes),
        |options| options.iter().map(section::print_us).collect(),
    )
}

pub(super) fn point_spec(at: &str, point: &LossPoint, inputs: &mut Inputs) -> Spec {
    Spec::Point {
        airflow: inputs.quantity(
            &ask(format!("{at}.point.airflow"), What::PointFlow, minutes::DATA_SHEET),
            &Some(point.airflow.clone()),
            |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
            &never(),
        ),
        pressure: inputs.quantity(
            &ask(format!("{at}.point.pressure"), What::PointPressure, minutes::DATA_SHEET),
            &Some(point.pressure.clone()),
            Figure::PressurePa,
            &never(),
        ),
    }
}
