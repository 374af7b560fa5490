//! Numbers, counts and quantities, held against their limits.

use dewpath_units::{ErrorKind, Kind, Length, ParseError, Quantity, Style, System, Uncertain};

use super::context::Context;
use super::reader::Reader;
use super::text::trailing_unit;
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::spec::{Key, Limits, Shape};
use crate::value::{Given, GivenCount};

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
                    context.bad_shape(&path, key, node, "a plain number");
                    return None;
                }
            }
            _ => {
                context.bad_shape(&path, key, node, "a plain number");
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
                format!("`{path}` lies between {low} and {high}"),
            )
            .label("outside of that")
            .help(format!("for example: {name} = {}", key.example)),
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

    /// A count.
    pub(crate) fn count(&self, context: &mut Context<'_>, name: &'static str) -> GivenCount {
        self.stated(context, name, |context, key, node, path| {
            let count = match &node.value {
                Value::Number(Some(number)) => {
                    let whole = *number as u32;
                    if number.fract().abs() > 0.0 || !(0.0..=f64::from(u32::MAX)).contains(number) {
                        context.tell(
                            Diagnostic::error(path, node.span.clone(), format!("`{path}` is a count: a whole number from 0 on"))
                                .label("not a count")
                                .help(format!("for example: {name} = {}, or {name} = \"1..3\", or {name} = \"unknown\"", key.example)),
                        );
                        return None;
                    }
                    Uncertain::Exact(whole)
                }
                Value::Text(text) => match Uncertain::<u32>::parse(text) {
                    Ok(count) => count,
                    Err(error) => {
                        context.bad_text(path, node, text, 0, &error);
                        return None;
                    }
                },
                _ => {
                    context.bad_shape(path, key, node, "a count");
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
                        Diagnostic::error(path, node.span.clone(), format!("`{path}` cannot be {most}; the most that is read is {possible}"))
                            .label("too many")
                            .help(format!("for example: {name} = {}", key.example)),
                    );
                    return None;
                }
                if most > *usual {
                    context.tell(
                        Diagnostic::warning(path, node.span.clone(), format!("`{path}` is {most}: is that meant?"))
                            .label(format!("rarely more than {usual}")),
                    );
                }
            }
            Some(count)
        })
    }
}

fn read_quantity<Q: Quantity>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Uncertain<Q>> {
    let (limits, signed) = match &key.shape {
        Shape::Quantity(_, limits) => (*limits, false),
        Shape::SignedLength(limits) => (*limits, true),
        _ => return None,
    };
    let value = match &node.value {
        Value::Text(text) => {
            let read = if signed { read_signed::<Q>(text) } else { Uncertain::<Q>::parse(text) };
            match read {
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
            let message = if sense {
                format!("`{path}` is {}: `{typed}` needs a unit", Q::KIND.article_name())
            } else {
                format!("`{path}`: `{typed}` is not a number that can be measured")
            };
            context.tell(
                Diagnostic::error(path, node.span.clone(), message)
                    .label(if sense { "which unit?" } else { "not a finite number" })
                    .help(format!(
                        "for example: {} = {}, or {} = \"unknown\"",
                        key.name, key.example, key.name
                    )),
            );
            return None;
        }
        Value::List(_) => {
            context.tell(
                Diagnostic::error(path, node.span.clone(), format!("`{path}` is one value, not a list"))
                    .label("one value belongs here")
                    .help(format!("a range is written as one text, from low to high: {} = \"8..10 ft\" (with the unit that fits here)", key.name)),
            );
            return None;
        }
        _ => {
            context.bad_shape(path, key, node, &format!("{} in quotes", Q::KIND.article_name()));
            return None;
        }
    };
    hold_limits::<Q>(context, key, node, path, &value, limits)?;
    Some(value)
}

/// A value that may lie below zero, or a range whose ends may: `-4 in`, `-1..2 ft`.
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
    if low.si() > high.si() {
        return Err(ParseError {
            kind: ErrorKind::ReversedRange,
            span: 0..text.len(),
            message: "this range starts above its end".to_owned(),
            hint: "write the lower value first: -2 ft is lower than -1 ft".to_owned(),
        });
    }
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
        context.tell(
            Diagnostic::error(
                path,
                node.span.clone(),
                format!(
                    "`{path}` cannot be this {}",
                    if high > highest { "large" } else { "small" }
                ),
            )
            .label(format!("possible: {} to {}", print(lowest), print(highest)))
            .help(format!(
                "for example: {} = {}; look at the unit, or write \"unknown\"",
                key.name, key.example
            )),
        );
        return None;
    }
    let [usual_low, usual_high] = limits.usual;
    if low < usual_low || high > usual_high {
        context.tell(
            Diagnostic::warning(
                path,
                node.span.clone(),
                format!(
                    "`{path}` is unusually {}: is that meant?",
                    if high > usual_high { "large" } else { "small" }
                ),
            )
            .label(format!("usual: {} to {}", print(usual_low), print(usual_high))),
        );
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
    what: &str,
) -> Option<()> {
    match ends(value) {
        Some((low, _)) if low <= 0.0 => {
            context.tell(
                Diagnostic::error(
                    path,
                    node.span.clone(),
                    format!("`{path}`: {what} is more than 0"),
                )
                .label("must be more than 0")
                .help("write \"unknown\" where it is not known"),
            );
            None
        }
        _ => Some(()),
    }
}
