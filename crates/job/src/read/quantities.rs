//! Numbers, counts and quantities, held against their limits.

use dewpath_message::Message;
use dewpath_message::slot::{Name, Reference};
use dewpath_units::{Kind, Length, ParseError, Quantity, Style, System, Uncertain};

use super::context::Context;
use super::reader::Reader;
use super::text::trailing_unit;
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::say::{self, Do, Label};
use crate::spec::{Key, Limits, Shape};
use crate::value::{Given, GivenCount, none_within};

impl Reader<'_> {
    /// A whole number without a unit, between limits that the caller knows.
    pub(crate) fn number(&self, context: &mut Context<'_>, name: &'static str) -> Option<f64> {
        let (key, node, path) = self.find(context, name)?;
        let Shape::Number(low, high) = key.shape else { return None };
        let number = match &node.value {
            Value::Number(Some(number)) => *number,
            Value::Text(text) => {
                if let Ok(ratio) = dewpath_units::Ratio::parse(text) {
                    ratio.si()
                } else {
                    context.bad_shape(&path, key, node, say::Shape::PlainNumber);
                    return None;
                }
            }
            _ => {
                context.bad_shape(&path, key, node, say::Shape::PlainNumber);
                return None;
            }
        };
        if (low..=high).contains(&number) {
            return Some(number);
        }
        context.tell(
            Diagnostic::error(
                &path,
                node.span.clone(),
                say::Between {
                    path: Name::new(&path),
                    low: Reference::new(low.to_string()),
                    high: Reference::new(high.to_string()),
                },
            )
            .label(Label::OutsideOfThat)
            .help(say::example(format!("{name} = {}", key.example))),
        );
        None
    }

    /// A quantity that may be a range, about or unknown.
    pub(crate) fn quantity<Q: Quantity>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Given<Q> {
        self.stated(context, name, |context, key, node, path| {
            read_quantity::<Q>(context, key, node, path)
        })
    }

    /// A distance, or the words that nothing is nearer.
    pub(crate) fn clear(&self, context: &mut Context<'_>, name: &'static str) -> Given<Length> {
        self.stated(context, name, |context, key, node, path| match &node.value {
            Value::Text(text) => match text.trim_start().strip_prefix(NONE_WITHIN) {
                Some(length) => nothing_nearer(context, key, node, path, text, length),
                None => read_quantity(context, key, node, path),
            },
            _ => read_quantity(context, key, node, path),
        })
    }

    /// A count.
    pub(crate) fn count(&self, context: &mut Context<'_>, name: &'static str) -> GivenCount {
        self.stated(context, name, |context, key, node, path| {
            let count = match &node.value {
                Value::Number(Some(number)) => {
                    let whole = *number as u32;
                    if number.fract().abs() > 0.0 || !(0.0..=f64::from(u32::MAX)).contains(number) {
                        context.tell(
                            Diagnostic::error(
                                path,
                                node.span.clone(),
                                say::AtPathKey::NoCount.of(path),
                            )
                            .label(Label::NotACount)
                            .help(say::ExampleOfCount {
                                example: Reference::new(format!("{name} = {}", key.example)),
                                range: Reference::new(format!("{name} = \"1..3\"")),
                                unknown: Reference::new(format!("{name} = \"unknown\"")),
                            }),
                        );
                        return None;
                    }
                    Uncertain::Exact(whole)
                }
                Value::Text(text) => match count_of(text) {
                    Ok(count) => count,
                    Err(error) => {
                        context.bad_text(path, node, text, 0, &error);
                        return None;
                    }
                },
                _ => {
                    context.bad_shape(path, key, node, say::Shape::Count);
                    return None;
                }
            };
            let most = match &count {
                Uncertain::Exact(n) => Some(*n),
                Uncertain::Range { high, .. } => Some(*high),
                Uncertain::About { likely, .. } => Some(*likely),
                Uncertain::Unknown => None,
            };
            if let (Some(most), Shape::Count(possible, usual)) = (most, &key.shape) {
                if most > *possible {
                    context.tell(
                        Diagnostic::error(
                            path,
                            node.span.clone(),
                            say::CountBeyond {
                                path: Name::new(path),
                                count: say::count(most as usize),
                                most: say::count(*possible as usize),
                            },
                        )
                        .label(Label::TooMany)
                        .help(say::example(format!("{name} = {}", key.example))),
                    );
                    return None;
                }
                if most > *usual {
                    context.tell(
                        Diagnostic::warning(
                            path,
                            node.span.clone(),
                            say::CountOdd {
                                path: Name::new(path),
                                count: say::count(most as usize),
                            },
                        )
                        .label(say::RarelyMore { count: say::count(*usual as usize) }),
                    );
                }
            }
            Some(count)
        })
    }
}

/// A count, or the two that it lies between: `3 or 4` is the range from one to the other.
fn count_of(text: &str) -> Result<Uncertain<u32>, ParseError> {
    let read = Uncertain::<u32>::parse(text);
    let either = || {
        let (one, other) = text.split_once(" or ")?;
        Some((one.trim().parse::<u32>().ok()?, other.trim().parse::<u32>().ok()?))
    };
    read.or_else(|error| {
        let (one, other) = either().ok_or(error)?;
        Ok(Uncertain::Range { low: one.min(other), high: one.max(other) })
    })
}

/// How it is written that nothing lies within a length.
pub(crate) const NONE_WITHIN: &str = "none within";

/// `none within 10 ft`: the length alone is held against the limits.
fn nothing_nearer(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
    text: &str,
    length: &str,
) -> Option<Uncertain<Length>> {
    let Shape::Clear(limits) = key.shape else { return None };
    match Length::parse(length) {
        Ok(nearer) => {
            hold_limits(context, key, node, path, &Uncertain::Exact(nearer), limits)?;
            Some(none_within(nearer))
        }
        Err(error) => {
            context.bad_text(path, node, text, text.len() - length.len(), &error);
            None
        }
    }
}

fn read_quantity<Q: Quantity>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Uncertain<Q>> {
    let (limits, signed) = match &key.shape {
        Shape::Quantity(_, limits) | Shape::Clear(limits) => (*limits, false),
        Shape::SignedLength(limits) => (*limits, true),
        _ => return None,
    };
    let value = match &node.value {
        Value::Text(text) => {
            let read = if signed { read_signed::<Q>(text) } else { Uncertain::<Q>::parse(text) };
            match read {
                Ok(Uncertain::Range { low, high }) if low.si() > high.si() => {
                    let span = context.inside(node, text, &(0..text.len()));
                    let message = say::AtPathKey::RangeReversed.of(path);
                    context.tell(Diagnostic::error(path, span, message).help(Do::WriteLowerFirst));
                    return None;
                }
                Ok(value) => value,
                Err(error) => {
                    context.bad_text(path, node, text, 0, &error);
                    return None;
                }
            }
        }
        Value::Number(Some(number)) if Q::KIND == Kind::Ratio && number.is_finite() => {
            Uncertain::Exact(Q::from_si(*number))
        }
        Value::Number(number) => {
            let typed = context.typed(node).to_owned();
            let sense = number.is_some_and(f64::is_finite);
            let message: Message = if sense {
                say::KindWithoutUnit {
                    path: Name::new(path),
                    kind: say::quantity(Q::KIND),
                    typed: Name::new(&typed),
                }
                .into()
            } else {
                say::PathTypedKey::NotMeasured.of(path, &typed).into()
            };
            context.tell(
                Diagnostic::error(path, node.span.clone(), message)
                    .label(if sense { Label::WhichUnit } else { Label::NotFinite })
                    .help(say::example_or_unknown(key.name, key.example)),
            );
            return None;
        }
        Value::List(_) => {
            context.tell(
                Diagnostic::error(path, node.span.clone(), say::AtPathKey::ListForValue.of(path))
                    .label(Label::OneValueBelongs)
                    .help(say::RangeAsText {
                        line: Reference::new(format!("{} = \"8..10 ft\"", key.name)),
                    }),
            );
            return None;
        }
        _ => {
            context.no_quantity(path, key, node, Q::KIND);
            return None;
        }
    };
    hold_limits::<Q>(context, key, node, path, &value, limits)?;
    Some(value)
}

/// A value that may lie below zero, or a range whose ends may: `-4 in`, `-1..2 ft`. Which end is lower is not looked at.
fn read_signed<Q: Quantity>(text: &str) -> Result<Uncertain<Q>, ParseError> {
    const SIGNS: [char; 2] = ['-', '\u{2212}'];
    let negative = |part: &str| part.trim_start().starts_with(SIGNS);
    let gap = ["..", "\u{2026}", " to "]
        .into_iter()
        .find_map(|gap| text.find(gap).map(|at| (at, gap.len())));
    let Some((at, length)) = gap else {
        return if negative(text) {
            signed_end(text, 0, text, "").map(Uncertain::Exact)
        } else {
            Uncertain::<Q>::parse(text)
        };
    };
    let (left, right) = (&text[..at], &text[at + length..]);
    if !negative(left) && !negative(right) {
        return Uncertain::<Q>::parse(text);
    }
    let low: Q = signed_end(text, 0, left, trailing_unit(right))?;
    let high: Q = signed_end(text, at + length, right, "")?;
    Ok(Uncertain::Range { low, high })
}

/// One value with its sign; `at` is where `part` stands in `whole`.
pub(super) fn signed_end<Q: Quantity>(
    whole: &str,
    at: usize,
    part: &str,
    unit: &str,
) -> Result<Q, ParseError> {
    let trimmed = part.trim_start();
    let (sign, body) = match trimmed.strip_prefix(['-', '\u{2212}']) {
        Some(body) => (-1.0, body),
        None => (1.0, trimmed),
    };
    let bare = body.trim_end().ends_with(|c: char| c.is_ascii_digit());
    let text = if bare && !unit.is_empty() {
        format!("{} {unit}", body.trim_end())
    } else {
        body.to_owned()
    };
    let skipped = at + part.len() - body.len();
    match Q::parse(&text) {
        Ok(value) => Ok(Q::from_si(sign * value.si())),
        Err(error) => {
            let inside = |i: usize| (skipped + i).min(skipped + body.len()).min(whole.len());
            Err(ParseError { span: inside(error.span.start)..inside(error.span.end), ..error })
        }
    }
}

pub(super) fn hold_limits<Q: Quantity>(
    context: &mut Context<'_>,
    key: &Key,
    node: &Node,
    path: &str,
    value: &Uncertain<Q>,
    limits: Limits,
) -> Option<()> {
    let Some((low, high)) = ends(value) else { return Some(()) };
    let style = context.style;
    let print = |si: f64| limit::<Q>(si, style);
    let [lowest, highest] = limits.possible;
    if low < lowest || high > highest || !low.is_finite() || !high.is_finite() {
        let size = if high > highest { say::AtPathKey::TooLarge } else { say::AtPathKey::TooSmall };
        context.tell(
            Diagnostic::error(path, node.span.clone(), size.of(path))
                .label(say::Limits {
                    key: say::LimitsKey::Possible,
                    low: Reference::new(print(lowest)),
                    high: Reference::new(print(highest)),
                })
                .help(say::ExampleInUnit {
                    example: Reference::new(format!("{} = {}", key.name, key.example)),
                }),
        );
        return None;
    }
    let [usual_low, usual_high] = limits.usual;
    if low < usual_low || high > usual_high {
        let size =
            if high > usual_high { say::AtPathKey::OddlyLarge } else { say::AtPathKey::OddlySmall };
        context.tell(Diagnostic::warning(path, node.span.clone(), size.of(path)).label(
            say::Limits {
                key: say::LimitsKey::Usual,
                low: Reference::new(print(usual_low)),
                high: Reference::new(print(usual_high)),
            },
        ));
    }
    Some(())
}

/// A limit as text, without the sixteenths of an inch that nobody wants to read there.
fn limit<Q: Quantity>(si: f64, style: Style) -> String {
    let feet = Length::from_m(si).feet();
    match (Q::KIND, style.system) {
        (Kind::Length, System::Us) if feet.abs() >= 3.0 => format!("{} ft", feet.round()),
        (Kind::Length, System::Us) if feet.abs() >= 1.0 / 12.0 => {
            format!("{} in", (feet * 12.0).round())
        }
        _ => Q::from_si(si).print(&style),
    }
}

/// Lowest and highest value that is meant, in the stored unit.
fn ends<Q: Quantity>(value: &Uncertain<Q>) -> Option<(f64, f64)> {
    match value {
        Uncertain::Exact(q) => Some((q.si(), q.si())),
        Uncertain::Range { low, high } => Some((low.si(), high.si())),
        // The spread of "about" is soft, so only what is likely is held against the limits.
        Uncertain::About { likely, .. } => Some((likely.si(), likely.si())),
        Uncertain::Unknown => None,
    }
}

pub(super) fn positive<Q: Quantity>(
    context: &mut Context<'_>,
    path: &str,
    node: &Node,
    value: &Uncertain<Q>,
    none: say::AtPathKey,
) -> Option<()> {
    match ends(value) {
        Some((low, _)) if low <= 0.0 => {
            context.tell(
                Diagnostic::error(path, node.span.clone(), none.of(path))
                    .label(Label::MustBeMore)
                    .help(Do::WriteUnknown),
            );
            None
        }
        _ => Some(()),
    }
}
