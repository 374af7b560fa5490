//! Rows put in their hours, gaps filled, humidity converted.

use dewpath_air::atmosphere::standard_pressure;
use dewpath_air::moist_air::{saturation_pressure, saturation_pressure_over_water};
use dewpath_units::{Length, Temperature};

use super::calendar::{Place, Stamp};
use super::cell::{Cell, Column, believed};
use super::error::WeatherError;
use super::hours::{
    Below0, COLDEST_LIQUID_C, HOURS, Hour, Layout, Measure, Origin, Quirk, ReadOptions, Site,
    Weather,
};

/// By convention, wind stations measure 10 m above open ground.
const STATION_HEIGHT_M: f64 = 10.0;

/// Rows above the hours of a leap year that are taken for repeats.
const REPEATS: usize = 24;

/// A year with fewer rows is another kind of file.
const LEAST_ROWS: usize = HOURS / 2;

/// Values of one kind, hour by hour.
#[derive(Debug, Clone)]
struct Series {
    measure: Measure,
    values: Vec<Option<f64>>,
    /// How many were rejected, with line and value of the first.
    rejected: Option<(usize, u64, f64)>,
}

impl Series {
    fn new(measure: Measure) -> Self {
        Self { measure, values: vec![None; HOURS], rejected: None }
    }

    fn put(&mut self, hour: usize, cell: Cell, line: u64) {
        match cell {
            Cell::Value(value) => self.values[hour] = Some(value),
            Cell::Missing => {}
            Cell::Rejected(value) => {
                let (count, line, value) = self.rejected.unwrap_or((0, line, value));
                self.rejected = Some((count + 1, line, value));
            }
        }
    }

    fn is_empty(&self) -> bool {
        self.values.iter().all(Option::is_none)
    }
}

/// A year that is being put together.
pub(super) struct Assembly<'a> {
    columns: &'a [Column],
    options: &'a ReadOptions,
    series: Vec<Series>,
    /// Line of each hour's row; 0 where there is none.
    lines: Vec<u64>,
    rows: usize,
    last_line: u64,
    last_stamp: Option<Stamp>,
    jumps: usize,
    years: Option<(i32, i32)>,
    leap_day: bool,
    repeats: Option<(usize, u64)>,
    minute: Option<u32>,
}

impl<'a> Assembly<'a> {
    pub(super) fn new(columns: &'a [Column], options: &'a ReadOptions) -> Self {
        let measures = [
            Measure::Temperature,
            Measure::Humidity,
            Measure::DewPoint,
            Measure::Pressure,
            Measure::WindSpeed,
            Measure::WindDirection,
        ];
        Self {
            columns,
            options,
            series: measures.into_iter().map(Series::new).collect(),
            lines: vec![0; HOURS],
            rows: 0,
            last_line: 0,
            last_stamp: None,
            jumps: 0,
            years: None,
            leap_day: false,
            repeats: None,
            minute: None,
        }
    }

    /// Takes a row of a dated file.
    pub(super) fn dated_row(
        &mut self,
        stamp: Stamp,
        ends: bool,
        row: &csv::StringRecord,
        line: u64,
    ) -> Result<(), WeatherError> {
        let first_minute = *self.minute.get_or_insert(stamp.minute);
        if stamp.minute != first_minute {
            return Err(WeatherError::NotHourly { line, minute: stamp.minute, first_minute });
        }
        if self.last_stamp.is_some_and(|last| !last.runs_on_to(stamp)) {
            self.jumps += 1;
        }
        self.last_stamp = Some(stamp);
        let (low, high) = self.years.unwrap_or((stamp.year, stamp.year));
        self.years = Some((low.min(stamp.year), high.max(stamp.year)));
        self.row(stamp.place(ends), row, line)
    }

    /// Takes a row at a place in the year.
    pub(super) fn row(
        &mut self,
        place: Place,
        row: &csv::StringRecord,
        line: u64,
    ) -> Result<(), WeatherError> {
        self.rows += 1;
        self.last_line = line;
        if self.rows > HOURS + 24 + REPEATS {
            return Err(WeatherError::TooManyRows { line });
        }
        let Place::Hour(hour) = place else {
            self.leap_day = true;
            return Ok(());
        };
        if self.lines[hour] != 0 {
            let (count, first) = self.repeats.unwrap_or((0, line));
            self.repeats = Some((count + 1, first));
            return Ok(());
        }
        self.lines[hour] = line;
        for column in self.columns {
            let Some(text) = row.get(column.index) else {
                return Err(WeatherError::ShortRow {
                    line,
                    fields: row.len(),
                    needed: column.index + 1,
                });
            };
            let cell = column.read(text, line)?;
            self.series[column.measure as usize].put(hour, cell, line);
        }
        Ok(())
    }

    /// The year, once all rows are taken.
    pub(super) fn finish(
        mut self,
        site: Site,
        layout: Layout,
        ends: bool,
        mut notes: Vec<Quirk>,
    ) -> Result<Weather, WeatherError> {
        if self.rows == 0 {
            return Err(WeatherError::Empty);
        }
        if self.rows < LEAST_ROWS {
            return Err(WeatherError::TooFewRows { rows: self.rows, last_line: self.last_line });
        }
        self.note_time(ends, &mut notes);
        self.note_rejected(&mut notes);
        let temperature = self.filled(Measure::Temperature, &mut notes)?;
        self.humidity_from_dew_point(&temperature, &mut notes)?;
        let mut humidity = self.filled(Measure::Humidity, &mut notes)?;
        let above = humidity.iter().filter(|rh| **rh > 1.0).count();
        if above > 0 {
            notes.push(Quirk::AboveSaturation { hours: above });
            for rh in &mut humidity {
                *rh = rh.min(1.0);
            }
        }
        let pressure = self.pressure(&site, &mut notes)?;
        let wind = self.wind(&mut notes)?;
        let direction = &self.series[Measure::WindDirection as usize].values;
        let mut hours = Vec::with_capacity(HOURS);
        for hour in 0..HOURS {
            hours.push(Hour::new(
                temperature[hour],
                humidity[hour],
                self.options.below_0,
                pressure[hour],
                wind.as_ref().map(|speeds| speeds[hour]),
                direction[hour],
            )?);
        }
        note_ice(&hours, &humidity, self.options.below_0, &mut notes)?;
        Ok(Weather { hours, site, origin: Origin::File(layout), notes })
    }

    fn note_time(&self, ends: bool, notes: &mut Vec<Quirk>) {
        if ends {
            notes.push(Quirk::HourEnding);
        }
        if let Some(minute) = self.minute.filter(|minute| *minute > 0) {
            notes.push(Quirk::WithinHour { minute });
        }
        if let Some((first_year, last_year)) = self.years.filter(|_| self.jumps > 0) {
            notes.push(Quirk::MonthSplices { jumps: self.jumps, first_year, last_year });
        }
        if self.leap_day {
            notes.push(Quirk::LeapDayDropped);
        }
        if let Some((hours, first_line)) = self.repeats {
            notes.push(Quirk::RepeatedHours { hours, first_line });
        }
        let hours = self.lines.iter().filter(|line| **line == 0).count();
        if hours > 0 {
            notes.push(Quirk::MissingHours { hours });
        }
    }

    fn note_rejected(&self, notes: &mut Vec<Quirk>) {
        for series in &self.series {
            if let Some((hours, first_line, first_value)) = series.rejected {
                let measure = series.measure;
                let (low, high) = believed(measure);
                notes.push(Quirk::Rejected { measure, hours, first_line, first_value, low, high });
            }
        }
    }

    /// Where a dew point is given but no relative humidity, the latter follows from it.
    fn humidity_from_dew_point(
        &mut self,
        temperature: &[f64],
        notes: &mut Vec<Quirk>,
    ) -> Result<(), WeatherError> {
        let mut hours = 0;
        for (hour, t_c) in temperature.iter().enumerate() {
            let dew = self.series[Measure::DewPoint as usize].values[hour];
            let rh = &mut self.series[Measure::Humidity as usize].values[hour];
            if let (Some(dew), None) = (dew, *rh) {
                let below_0 = self.options.below_0;
                // A dew point above the temperature is a rounding, or fog.
                *rh = Some((reference_pa(dew, below_0)? / reference_pa(*t_c, below_0)?).min(1.0));
                hours += 1;
            }
        }
        if hours > 0 {
            notes.push(Quirk::FromDewPoint { hours });
        }
        Ok(())
    }

    fn pressure(&self, site: &Site, notes: &mut Vec<Quirk>) -> Result<Vec<f64>, WeatherError> {
        if self.series[Measure::Pressure as usize].is_empty() {
            let altitude_m = site.altitude_m.or(self.options.altitude_m);
            let altitude_m = altitude_m.ok_or(WeatherError::NoPressure)?;
            let p_pa = standard_pressure(Length::from_m(altitude_m))?.pa();
            notes.push(Quirk::PressureFromAltitude { altitude_m, p_pa });
            return Ok(vec![p_pa; HOURS]);
        }
        let pressure = self.filled(Measure::Pressure, notes)?;
        let p_pa = pressure[0];
        if pressure.iter().all(|other| (other - p_pa).abs() < 1e-6) {
            notes.push(Quirk::ConstantPressure { p_pa });
        }
        Ok(pressure)
    }

    fn wind(&self, notes: &mut Vec<Quirk>) -> Result<Option<Vec<f64>>, WeatherError> {
        if self.series[Measure::WindSpeed as usize].is_empty() {
            notes.push(Quirk::NoWind);
            return Ok(None);
        }
        let wind = self.filled(Measure::WindSpeed, notes)?;
        notes.push(Quirk::StationWind { height_m: STATION_HEIGHT_M });
        Ok(Some(wind))
    }

    /// The values with their gaps filled by straight lines; the year is a ring.
    fn filled(&self, measure: Measure, notes: &mut Vec<Quirk>) -> Result<Vec<f64>, WeatherError> {
        let values = &self.series[measure as usize].values;
        let limit_h = self.options.longest_gap_h;
        let Some(start) = values.iter().position(Option::is_some) else {
            let (after_line, before_line) = (0, 0);
            return Err(WeatherError::Gap {
                measure,
                hours: HOURS,
                limit_h,
                after_line,
                before_line,
            });
        };
        let mut filled = vec![0.0; HOURS];
        let (mut hours, mut longest_h) = (0, 0);
        let mut last = (0, values[start].unwrap_or_default());
        for step in 0..=HOURS {
            let hour = (start + step) % HOURS;
            let Some(value) = values[hour] else { continue };
            let gap = (step - last.0).saturating_sub(1);
            if gap > limit_h {
                let line = |step: usize| self.lines[(start + step) % HOURS];
                let (after_line, before_line) = (line(last.0), line(step));
                return Err(WeatherError::Gap {
                    measure,
                    hours: gap,
                    limit_h,
                    after_line,
                    before_line,
                });
            }
            for part in 1..=gap {
                let share = part as f64 / (gap + 1) as f64;
                filled[(start + last.0 + part) % HOURS] = last.1 + share * (value - last.1);
            }
            filled[hour] = value;
            hours += gap;
            longest_h = longest_h.max(gap);
            last = (step, value);
        }
        if hours > 0 {
            notes.push(Quirk::Filled { measure, hours, longest_h });
        }
        Ok(filled)
    }
}

/// Saturation pressure that a humidity of the source refers to, Pa.
pub(super) fn reference_pa(t_c: f64, below_0: Below0) -> Result<f64, WeatherError> {
    let t = Temperature::from_c(t_c);
    let pressure = if below_0 == Below0::OverWater && t_c >= COLDEST_LIQUID_C {
        saturation_pressure_over_water(t)
    } else {
        saturation_pressure(t)
    };
    Ok(pressure?.pa())
}

/// Tells how many hours were converted from water to ice, and how many would be more than saturated.
fn note_ice(
    hours: &[Hour],
    humidity: &[f64],
    below_0: Below0,
    notes: &mut Vec<Quirk>,
) -> Result<(), WeatherError> {
    if below_0 == Below0::OverIce {
        return Ok(());
    }
    let (mut frozen, mut clipped) = (0, 0);
    for (hour, rh) in hours.iter().zip(humidity).filter(|(hour, _)| hour.t_c < 0.0) {
        frozen += 1;
        let over_ice = reference_pa(hour.t_c, Below0::OverIce)?;
        if rh * reference_pa(hour.t_c, below_0)? > over_ice {
            clipped += 1;
        }
    }
    if frozen > 0 {
        notes.push(Quirk::OverWater { hours: frozen, clipped });
    }
    Ok(())
}
