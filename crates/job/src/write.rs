//! From values to what is written of them: the way back from `read`. What is written reads as the very same value.
//!
//! `derive(Keys)` makes the walk over the keys, as it does for reading; each kind of value has its function here, of the same name
//! as the one that reads it.
#![expect(
    clippy::ptr_arg,
    clippy::trivially_copy_pass_by_ref,
    clippy::unnecessary_wraps,
    reason = "each takes the field of the model as it is, and some find nothing to write"
)]

use dewpath_units::{
    Airflow, Choice, Kind, Length, Origin, Pressure, Quantity, Stated, System, Uncertain, YesNo,
};
use toml_edit::{Array, InlineTable, Value};

use crate::category::Category;
use crate::keys::Keys;
use crate::read::NONE_WITHIN;
use crate::value::{
    ClockTime, Day, Given, GivenChoice, GivenCount, GivenOutline, GivenPlace, GivenYesNo,
    LossPoint, RatedPoint, Section, Wish, WishWord, is_none_within,
};

/// What is written: of a whole element, or of what is different from the one `before`.
pub(crate) struct Writer {
    /// Units in which values are written that read the same in them.
    system: System,
    /// Path of the element that is being written, with a dot behind it; empty for a whole one.
    at: String,
    pub(crate) set: Vec<Entry>,
    pub(crate) remove: Vec<String>,
}

/// A value with its path.
pub(crate) struct Entry {
    pub(crate) at: String,
    pub(crate) value: Value,
    /// Whether it is a text for its own sake, such as an id, and no measured value or word.
    pub(crate) is_text: bool,
}

impl Writer {
    /// One that has written nothing yet.
    pub(crate) const fn new(system: System) -> Self {
        Self { system, at: String::new(), set: Vec::new(), remove: Vec::new() }
    }

    /// A value: what `write` makes of it, taken away where that is nothing.
    pub(crate) fn key<T: PartialEq>(
        &mut self,
        name: &str,
        before: Option<&T>,
        after: &T,
        write: impl Fn(&T, System) -> Option<Value>,
    ) {
        self.leaf(name, before, after, write, false);
    }

    /// A text, which keeps its quotes wherever it is shown.
    pub(crate) fn text<T: PartialEq>(
        &mut self,
        name: &str,
        before: Option<&T>,
        after: &T,
        write: impl Fn(&T, System) -> Option<Value>,
    ) {
        self.leaf(name, before, after, write, true);
    }

    fn leaf<T: PartialEq>(
        &mut self,
        name: &str,
        before: Option<&T>,
        after: &T,
        write: impl Fn(&T, System) -> Option<Value>,
        is_text: bool,
    ) {
        if before == Some(after) {
            return;
        }
        match write(after, self.system) {
            Some(value) => self.set(name, value, is_text),
            None if before.is_some() => self.remove(name),
            None => {}
        }
    }

    /// A table that is written where it says something.
    pub(crate) fn table<T: Keys + PartialEq>(&mut self, name: &str, before: Option<&T>, after: &T) {
        if before.is_some() {
            return self.table_if(name, before, Some(after));
        }
        let table = whole(self.system, |writer| after.write(None, writer));
        if !table.is_empty() {
            self.set(name, table.into(), false);
        }
    }

    /// A table that may be there or not.
    pub(crate) fn table_if<T: Keys + PartialEq>(
        &mut self,
        name: &str,
        before: Option<&T>,
        after: Option<&T>,
    ) {
        match (before, after) {
            (before, after) if before == after => {}
            (Some(_), Some(after)) => self.within(name, |writer| after.write(before, writer)),
            (None, Some(after)) => self.whole(name, |writer| after.write(None, writer)),
            (_, None) => self.remove(name),
        }
    }

    /// A table anew, whatever stood there.
    pub(crate) fn whole(&mut self, name: &str, write: impl FnOnce(&mut Self)) {
        self.set(name, whole(self.system, write).into(), false);
    }

    /// A list of tables. Those that stay keep their order, and new ones come behind them.
    pub(crate) fn elements<T: Keys + PartialEq>(
        &mut self,
        name: &str,
        before: Option<&[T]>,
        after: &[T],
    ) {
        let Some(before) = before else {
            let list: Array = after.iter().map(|one| element(one, self.system)).collect();
            if !list.is_empty() {
                self.set(name, list.into(), false);
            }
            return;
        };
        let ids = |list: &[T]| -> Vec<String> { list.iter().enumerate().map(id_of).collect() };
        let (old_ids, new_ids) = (ids(before), ids(after));
        for (id, element) in new_ids.iter().zip(after) {
            let old = old_ids.iter().position(|old| old == id).and_then(|index| before.get(index));
            self.within(name, |list| list.table_if(id, old, Some(element)));
        }
        let mut gone: Vec<&String> = old_ids.iter().filter(|id| !new_ids.contains(id)).collect();
        if before.iter().any(|element| element.id().is_none()) {
            // Those without an id are numbered, so the last goes first.
            gone.reverse();
        }
        self.within(name, |list| gone.into_iter().for_each(|id| list.remove(id)));
    }

    /// Writes keys that have another name there: old and new one.
    pub(crate) fn renamed(&mut self, names: &[(&str, &str)], write: impl FnOnce(&mut Self)) {
        let (set, removed) = (self.set.len(), self.remove.len());
        write(self);
        let new = |at: &str| {
            let name = at.strip_prefix(self.at.as_str())?;
            let (_, new) = names.iter().find(|(old, _)| *old == name)?;
            Some(format!("{}{new}", self.at))
        };
        let paths = self.set[set..].iter_mut().map(|entry| &mut entry.at);
        for path in paths.chain(&mut self.remove[removed..]) {
            if let Some(new) = new(path) {
                *path = new;
            }
        }
    }

    pub(crate) fn remove(&mut self, name: &str) {
        self.remove.push(format!("{}{name}", self.at));
    }

    fn set(&mut self, name: &str, value: Value, is_text: bool) {
        self.set.push(Entry { at: format!("{}{name}", self.at), value, is_text });
    }

    fn within(&mut self, name: &str, write: impl FnOnce(&mut Self)) {
        let above = self.at.len();
        self.at.push_str(name);
        self.at.push('.');
        write(self);
        self.at.truncate(above);
    }
}

fn whole(system: System, write: impl FnOnce(&mut Writer)) -> InlineTable {
    let mut writer = Writer::new(system);
    write(&mut writer);
    writer.set.into_iter().map(|entry| (entry.at, entry.value)).collect()
}

/// An element of a list, with its id.
fn element<T: Keys>(element: &T, system: System) -> Value {
    let mut table = InlineTable::new();
    if let Some(id) = element.id() {
        table.insert("id", id.into());
    }
    table.extend(whole(system, |writer| element.write(None, writer)));
    table.into()
}

/// The id under which a patch finds an element.
fn id_of<T: Keys>((index, element): (usize, &T)) -> String {
    element.id().map_or_else(|| (index + 1).to_string(), str::to_owned)
}

/// A value with where it comes from, as a table where that was said.
fn stated<T>(given: Option<&Stated<T>>, write: impl FnOnce(&T) -> Option<Value>) -> Option<Value> {
    let Stated { value, origin, date, photo, note } = given?;
    let value = write(value)?;
    let about = [
        ("origin", (*origin != Origin::Written).then(|| dewpath_units::Category::word(*origin))),
        ("on", date.as_deref()),
        ("photo", photo.as_deref()),
        ("note", note.as_deref()),
    ];
    let about = about.into_iter().filter_map(|(key, text)| Some((key, Value::from(text?))));
    let mut about: Vec<(&str, Value)> = about.collect();
    if about.is_empty() {
        return Some(value);
    }
    about.insert(0, ("value", value));
    Some(about.into_iter().collect::<InlineTable>().into())
}

/// One of several words or values, several of them, or unknown.
fn alternatives<C>(choice: &Choice<C>, write: impl Fn(&C) -> String) -> Option<Value> {
    Some(Value::from(match choice {
        Choice::Known(member) => write(member),
        Choice::OneOf(members) => members.iter().map(write).collect::<Vec<_>>().join(" or "),
        Choice::Unknown => return unknown(),
    }))
}

fn unknown() -> Option<Value> {
    Some(Value::from("unknown"))
}

pub(crate) fn quantity<Q: Quantity>(given: &Given<Q>, system: System) -> Option<Value> {
    stated(given.as_ref(), |value| {
        Some(match value {
            Uncertain::Exact(ratio) if Q::KIND == Kind::Ratio => ratio.si().into(),
            _ => value.print_exact(system).into(),
        })
    })
}

pub(crate) fn clear(given: &Given<Length>, system: System) -> Option<Value> {
    stated(given.as_ref(), |value| {
        Some(match is_none_within(value) {
            Some(nearer) => format!("{NONE_WITHIN} {}", nearer.print_exact(system)).into(),
            None => value.print_exact(system).into(),
        })
    })
}

pub(crate) fn count(given: &GivenCount, _: System) -> Option<Value> {
    stated(given.as_ref(), |value| {
        Some(match value {
            Uncertain::Exact(count) => i64::from(*count).into(),
            _ => value.print().into(),
        })
    })
}

pub(crate) fn yes_no(given: &GivenYesNo, _: System) -> Option<Value> {
    stated(given.as_ref(), |value| match value {
        YesNo::Yes => Some(true.into()),
        YesNo::No => Some(false.into()),
        YesNo::Unknown => unknown(),
    })
}

pub(crate) fn choice<C: Category>(given: &GivenChoice<C>, _: System) -> Option<Value> {
    stated(given.as_ref(), |value| alternatives(value, |member| member.word().to_owned()))
}

pub(crate) fn size(given: &GivenChoice<Section>, system: System) -> Option<Value> {
    stated(given.as_ref(), |value| alternatives(value, |member| section(member, system)))
}

fn section(section: &Section, system: System) -> String {
    match section {
        Section::Round(diameter) => diameter.print_exact(system),
        Section::Rectangular(width, height) => product(&[*width, *height], system),
        Section::Oval(long, short) => format!("oval {}", product(&[*long, *short], system)),
    }
}

/// Lengths with `x` between them.
fn product(sides: &[Length], system: System) -> String {
    sides.iter().map(|side| side.print_exact(system)).collect::<Vec<_>>().join(" x ")
}

pub(crate) fn place<const N: usize>(given: &GivenPlace<N>, system: System) -> Option<Value> {
    stated(given.as_ref(), |value| match value {
        Choice::Known(place) => Some(along(place, system)),
        Choice::OneOf(_) | Choice::Unknown => unknown(),
    })
}

fn along<const N: usize>(place: &[Length; N], system: System) -> Value {
    place.iter().map(|length| Value::from(length.print_exact(system))).collect::<Array>().into()
}

pub(crate) fn outline(given: &GivenOutline, system: System) -> Option<Value> {
    stated(given.as_ref(), |value| match value {
        Choice::Known(corners) => {
            Some(corners.iter().map(|corner| along(corner, system)).collect::<Array>().into())
        }
        Choice::OneOf(_) | Choice::Unknown => unknown(),
    })
}

pub(crate) fn wish(given: &Stated<Wish>, system: System) -> Option<Value> {
    stated(Some(given), |wish| {
        let word = WishWord::ALL.iter().find(|word| word.wish() == *wish);
        match wish {
            Wish::At(place) => Some(along(place, system)),
            _ => word.map(|word| word.word().into()),
        }
    })
}

pub(crate) fn text(text: &String, _: System) -> Option<Value> {
    (!text.is_empty()).then(|| text.as_str().into())
}

pub(crate) fn texts(texts: &Vec<String>, _: System) -> Option<Value> {
    list(texts.iter().map(|text| Value::from(text.as_str())))
}

/// A list, where there is something in it.
fn list(items: impl Iterator<Item = Value>) -> Option<Value> {
    let list: Array = items.collect();
    (!list.is_empty()).then(|| list.into())
}

pub(crate) fn number(number: &f64, _: System) -> Option<Value> {
    Some((*number).into())
}

pub(crate) fn whole_number(number: &u32, _: System) -> Option<Value> {
    Some(i64::from(*number).into())
}

pub(crate) fn word<C: Category>(member: &C, _: System) -> Option<Value> {
    Some(member.word().into())
}

pub(crate) fn point(point: &LossPoint, system: System) -> Option<Value> {
    stated(Some(&point.airflow), |airflow| {
        Some(flow_at(&airflow.print_exact(system), Some(&point.pressure), system).into())
    })
}

pub(crate) fn ratings(points: &Vec<RatedPoint>, system: System) -> Option<Value> {
    let one = |point: &RatedPoint| {
        let airflow = point.airflow.value.print_exact(system);
        Value::from(flow_at(&airflow, point.pressure.as_ref(), system))
    };
    // All of them come from one place.
    stated(points.first().map(|point| &point.airflow), |_| list(points.iter().map(one)))
}

fn flow_at(
    airflow: &str,
    pressure: Option<&Stated<Uncertain<Pressure>>>,
    system: System,
) -> String {
    match pressure {
        Some(pressure) => format!("{airflow} at {}", pressure.value.print_exact(system)),
        None => airflow.to_owned(),
    }
}

pub(crate) fn curve(points: &Vec<(Airflow, Pressure)>, system: System) -> Option<Value> {
    list(points.iter().map(|(airflow, pressure)| {
        format!("{} at {}", airflow.print_exact(system), pressure.print_exact(system)).into()
    }))
}

pub(crate) fn sides<const N: usize>(sides: &[Length; N], system: System) -> Option<Value> {
    Some(product(sides, system).into())
}

pub(crate) fn twelve<Q: Quantity>(months: &[Q; 12], system: System) -> Option<Value> {
    list(months.iter().map(|month| month.print_exact(system).into()))
}

pub(crate) fn day(day: &Day, _: System) -> Option<Value> {
    // A date of the file needs no quotes.
    day.to_string().parse().ok()
}

pub(crate) fn times(times: &Vec<ClockTime>, _: System) -> Option<Value> {
    list(times.iter().map(|time| time.to_string().into()))
}
