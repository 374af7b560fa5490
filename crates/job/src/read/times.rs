//! Days, times of day, and the months of a year.

use dewpath_message::slot::{Name, Reference};
use dewpath_units::{Quantity, Uncertain};

use super::context::Context;
use super::quantities::hold_limits;
use super::reader::Reader;
use super::text::{list_or_one, shorten};
use crate::diagnostic::Diagnostic;
use crate::node::{Node, Value};
use crate::say::{self, Do, Label};
use crate::spec::{Key, Shape};
use crate::value::{ClockTime, Day};

impl Reader<'_> {
    /// Twelve exact quantities, from January to December.
    pub(crate) fn twelve<Q: Quantity>(
        &self,
        context: &mut Context<'_>,
        name: &'static str,
    ) -> Option<[Q; 12]> {
        let (key, node, path) = self.find(context, name)?;
        let Value::List(items) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::TwelveValues);
            return None;
        };
        let read: Vec<Q> =
            items.iter().map_while(|item| read_month::<Q>(context, key, item, &path)).collect();
        if read.len() < items.len() {
            return None;
        }
        <[Q; 12]>::try_from(read)
            .map_err(|read| {
                context.tell(
                    Diagnostic::error(
                        &path,
                        node.span.clone(),
                        say::MonthsOf { path: Name::new(&path), count: say::count(read.len()) },
                    )
                    .label(Label::TwelveBelong)
                    .help(say::example(format!("{name} = {}", key.example))),
                );
            })
            .ok()
    }

    /// A day of the calendar, as TOML date or as text; none where it is said to be unknown.
    pub(crate) fn day(&self, context: &mut Context<'_>, name: &'static str) -> Option<Day> {
        let (key, node, path) = self.find(context, name)?;
        let (Value::Text(text) | Value::Date(text)) = &node.value else {
            context.bad_shape(&path, key, node, say::Shape::Day);
            return None;
        };
        let day = calendar_day(text);
        if day.is_none() && text != "unknown" {
            let [first, last] = Day::YEARS;
            context.tell(
                Diagnostic::error(
                    &path,
                    node.span.clone(),
                    say::NoDay {
                        path: Name::new(&path),
                        typed: Name::new(shorten(text)),
                        first: Reference::new(first.to_string()),
                        last: Reference::new(last.to_string()),
                    },
                )
                .label(Label::DayBelongs)
                .help(Do::WriteDay),
            );
        }
        day
    }

    /// Times of day; a single one may stand without brackets.
    pub(crate) fn times(&self, context: &mut Context<'_>, name: &'static str) -> Vec<ClockTime> {
        let Some((key, node, path)) = self.find(context, name) else { return Vec::new() };
        list_or_one(node)
            .filter_map(|item| {
                let (Value::Text(text) | Value::Date(text)) = &item.value else {
                    context.bad_shape(&path, key, item, say::Shape::Time);
                    return None;
                };
                let time = clock_time(text);
                if time.is_none() {
                    context.tell(
                        Diagnostic::error(
                            &path,
                            item.span.clone(),
                            say::PathTypedKey::NoTime.of(&path, &shorten(text)),
                        )
                        .label(Label::TimeBelongs)
                        .help(Do::WriteTime),
                    );
                }
                time
            })
            .collect()
    }
}

/// One exact value of a month.
fn read_month<Q: Quantity>(
    context: &mut Context<'_>,
    key: &'static Key,
    node: &Node,
    path: &str,
) -> Option<Q> {
    let Shape::Months(_, limits) = &key.shape else { return None };
    let Value::Text(text) = &node.value else {
        context.no_quantity(path, key, node, Q::KIND);
        return None;
    };
    match Q::parse(text) {
        Ok(value) => {
            hold_limits(context, key, node, path, &Uncertain::Exact(value), *limits)?;
            Some(value)
        }
        Err(error) => {
            context.bad_text(path, node, text, 0, &error);
            None
        }
    }
}

/// `2026-03-14` as ISO 8601-1:2019 writes a day.
fn calendar_day(text: &str) -> Option<Day> {
    let mut fields = text.trim().split('-');
    let mut number = |digits: usize| {
        let field = fields.next()?;
        let plain = field.len() == digits && field.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| field.parse::<u16>().ok()).flatten()
    };
    let (year, month, day) = (number(4)?, number(2)?, number(2)?);
    if fields.next().is_some() {
        return None;
    }
    Day::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
}

/// `06:45`, `18:30`, `6:45 am`, or `06:45:00` as TOML has it; seconds other than 0 are refused.
fn clock_time(text: &str) -> Option<ClockTime> {
    let lower = text.trim().to_ascii_lowercase();
    let (digits, half) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits.trim_end(), Some(0)),
        (_, Some(digits)) => (digits.trim_end(), Some(12)),
        _ => (lower.as_str(), None),
    };
    let mut fields = digits.split(':').map(|field| {
        let plain = matches!(field.len(), 1 | 2) && field.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| field.parse::<u16>().ok()).flatten()
    });
    let hours = fields.next()??;
    let minutes = fields.next()??;
    let seconds = fields.next().unwrap_or(Some(0))?;
    if seconds != 0 || fields.next().is_some() {
        return None;
    }
    let hours = match half {
        // Twelve stands for nought: 12:30 am is half past midnight.
        Some(shift) if (1..=12).contains(&hours) => hours % 12 + shift,
        Some(_) => return None,
        None => hours,
    };
    ClockTime::new(hours, minutes)
}
