//! Flows at pressures: losses, ratings, whole curves.

use dewpath_units::{Airflow, Pressure, Quantity as _, Stated, Uncertain, sort};

use super::context::Context;
use super::quantities::positive;
use super::reader::Reader;
use super::text::list_or_one;
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::say::{self, Do, Label};
use crate::value::{LossPoint, RatedPoint};

impl Reader<'_> {
    /// A flow at a pressure.
    pub(crate) fn point(&self, context: &mut Context<'_>, name: &'static str) -> Option<LossPoint> {
        let stated = self.stated(context, name, |context, key, node, path| {
            let Value::Text(text) = &node.value else {
                context.bad_shape(path, key, node, say::Shape::FlowAtPressure);
                return None;
            };
            let (airflow, pressure) = read_point(context, path, node, text)?;
            let Some(pressure) = pressure else {
                context.tell(
                    Diagnostic::error(path, node.span.clone(), say::AtPathKey::NoPressure.of(path))
                        .label(Label::PressureBelongs)
                        .help(say::example(format!("{name} = {}", key.example))),
                );
                return None;
            };
            positive(context, path, node, &airflow, say::AtPathKey::LossFlowNone)?;
            positive(context, path, node, &pressure, say::AtPathKey::LossPressureNone)?;
            Some((airflow, pressure))
        })?;
        let Stated { value: (airflow, pressure), origin, date, photo, note } = stated;
        Some(LossPoint {
            airflow: Stated {
                value: airflow,
                origin,
                date: date.clone(),
                photo: photo.clone(),
                note: note.clone(),
            },
            pressure: Stated { value: pressure, origin, date, photo, note },
        })
    }

    /// Rated flows, with their pressure where it is known.
    pub(crate) fn ratings(&self, context: &mut Context<'_>, name: &'static str) -> Vec<RatedPoint> {
        let stated = self.stated(context, name, |context, key, node, path| {
            let mut points = Vec::new();
            for item in list_or_one(node) {
                let Value::Text(text) = &item.value else {
                    context.bad_shape(path, key, item, say::Shape::Flow);
                    return None;
                };
                let (airflow, pressure) = read_point(context, path, item, text)?;
                positive(context, path, item, &airflow, say::AtPathKey::RatedFlowNone)?;
                points.push((airflow, pressure));
            }
            Some(points)
        });
        let Some(Stated { value, origin, date, photo, note }) = stated else { return Vec::new() };
        let about = |value| Stated {
            value,
            origin,
            date: date.clone(),
            photo: photo.clone(),
            note: note.clone(),
        };
        value
            .into_iter()
            .map(|(airflow, pressure)| RatedPoint {
                airflow: Stated {
                    value: airflow,
                    origin,
                    date: date.clone(),
                    photo: photo.clone(),
                    note: note.clone(),
                },
                pressure: pressure.map(about),
            })
            .collect()
    }

    /// A whole curve: exact flows at exact pressures, in rising flow and falling pressure order or not;
    /// a stall hump is real, so pressures may rise and fall.
    pub(crate) fn curve(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Vec<(Airflow, Pressure)> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        let Value::List(items) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::Points);
            return Vec::new();
        };
        let errors_before = context.errors();
        let mut points: Vec<(Airflow, Pressure)> = Vec::new();
        for item in items {
            let Value::Text(text) = &item.value else {
                context.bad_shape(&path, key, item, say::Shape::Point);
                continue;
            };
            let Some((airflow, pressure)) = read_point(context, &path, item, text) else {
                continue;
            };
            let (Uncertain::Exact(airflow), Some(Uncertain::Exact(pressure))) = (airflow, pressure)
            else {
                context.tell(
                    Diagnostic::error(
                        &path,
                        item.span.clone(),
                        say::AtPathKey::PointInexact.of(&path),
                    )
                    .label(Label::NotExact)
                    .help(Do::WriteRatings),
                );
                continue;
            };
            points.push((airflow, pressure));
        }
        sort::by(&mut points, |a, b| a.0.si().total_cmp(&b.0.si()));
        let twice = points.windows(2).any(|pair| matches!(pair, [a, b] if a.0 == b.0));
        let impossible = points
            .iter()
            .any(|(q, p)| !(0.0..=5.0).contains(&q.si()) || !(0.0..=5000.0).contains(&p.si()));
        if points.len() < 2 && context.errors() == errors_before {
            context.tell(
                Diagnostic::error(&path, node.span.clone(), say::AtPathKey::OnePoint.of(&path))
                    .label(Label::NoCurveYet)
                    .help(Do::WriteRating),
            );
        } else if twice {
            context.tell(
                Diagnostic::error(&path, node.span.clone(), say::AtPathKey::FlowTwice.of(&path))
                    .label(Label::EachFlowOnce)
                    .help(Do::LeavePointOut),
            );
        } else if impossible {
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    say::AtPathKey::PointImpossible.of(&path),
                )
                .label(Label::FlowsAndPressures)
                .help(say::example(format!("{name} = {}", key.example))),
            );
        }
        points
    }
}

type FlowAtPressure = (Uncertain<Airflow>, Option<Uncertain<Pressure>>);

/// `80 cfm at 0.1 inWC`, or a flow alone.
fn read_point(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    text: &str,
) -> Option<FlowAtPressure> {
    let (flow, pressure) =
        match text.find(" at ").map(|i| (i, 4)).or_else(|| text.find('@').map(|i| (i, 1))) {
            Some((i, skip)) => (&text[..i], Some((i + skip, &text[i + skip..]))),
            None => (text, None),
        };
    let airflow = match Uncertain::<Airflow>::parse(flow) {
        Ok(airflow) => airflow,
        Err(error) => {
            context.bad_text(path, node, text, 0, &error);
            return None;
        }
    };
    let pressure = match pressure {
        None => None,
        Some((at, pressure)) => match Uncertain::<Pressure>::parse(pressure) {
            Ok(pressure) => Some(pressure),
            Err(error) => {
                context.bad_text(path, node, text, at, &error);
                return None;
            }
        },
    };
    Some((airflow, pressure))
}
