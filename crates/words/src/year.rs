//! The year as a table: month by month, in the reader's units.

use dewpath_report::{Money, RoomMonth, RoomYear, RunResult};
use dewpath_units::{Mass, System, Temperature};

use crate::Speaker;

/// A table as text: columns with two lines of head, and rows with a cell for each column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What a column shows, and its unit.
    pub head: Vec<[String; 2]>,
    /// Cells, row by row; empty where nothing is known.
    pub rows: Vec<Vec<String>>,
}

impl Speaker {
    /// A room's year, January first, with a last row for the whole year.
    pub fn year_table(&self, year: &RoomYear) -> Table {
        let us = self.system == System::Us;
        let (degree, mass) = if us { ("unit.f", "unit.lb") } else { ("unit.c", "unit.kg") };
        let head = [
            ("head.month", ""),
            ("head.outdoors", degree),
            ("head.room", "unit.humidity"),
            ("head.dwelling", "unit.humidity"),
            ("head.wet", "unit.h"),
            ("head.fan", "unit.h"),
            ("head.fan", "unit.kwh"),
            ("head.air", "unit.kwh"),
            ("head.mirror", "unit.min"),
            ("head.carried", mass),
            ("head.mould", "unit.mould-index"),
        ];
        let mut rows: Vec<Vec<String>> = year.months.iter().map(|m| self.month_row(m)).collect();
        let energy = |kwh: Option<f64>| kwh.map_or_else(String::new, |kwh| self.number(kwh, 0));
        rows.push(vec![
            self.word("head.year"),
            String::new(),
            String::new(),
            String::new(),
            self.number(year.hours_above_80_h, 0),
            self.number(year.fan_h, 0),
            energy(year.energy_kwh),
            self.number(year.air_heat_kwh, 0),
            String::new(),
            self.mass(year.months.iter().map(|m| m.carried_off_kg).sum()),
            self.number(year.mould_peak_ratio.likely, 1),
        ]);
        Table { head: head.map(|(key, unit)| [self.word(key), self.unit(unit)]).to_vec(), rows }
    }

    /// Water left in each run, a column each, January first, with a last row for the whole year; none where no run was
    /// followed through the year.
    pub fn duct_table(&self, runs: &[RunResult]) -> Option<Table> {
        let unit = self.unit(if self.system == System::Us { "unit.oz" } else { "unit.g" });
        let followed: Vec<(&str, &[f64])> = runs
            .iter()
            .filter_map(|run| Some((run.id.as_str(), run.condensate.as_ref()?.months_g.as_slice())))
            .filter(|(_, months)| !months.is_empty())
            .collect();
        let head = [[self.word("head.month"), String::new()]]
            .into_iter()
            .chain(followed.iter().map(|(id, _)| [(*id).to_owned(), unit.clone()]))
            .collect();
        let row = |name: &str, of: &dyn Fn(&[f64]) -> f64| {
            let cells = followed.iter().map(|(_, months)| self.water(of(months)));
            [self.word(name)].into_iter().chain(cells).collect::<Vec<String>>()
        };
        let mut rows: Vec<Vec<String>> = (0..12)
            .map(|month| {
                let of = |months: &[f64]| months.get(month).copied().unwrap_or(0.0);
                row(&format!("month.{}", month + 1), &of)
            })
            .collect();
        rows.push(row("head.year", &|months| months.iter().sum()));
        (!followed.is_empty()).then_some(Table { head, rows })
    }

    fn water(&self, grams: f64) -> String {
        match self.system {
            System::Us => self.number(16.0 * Mass::from_kg(0.001 * grams).lb(), 1),
            System::Metric => self.number(grams, 0),
        }
    }

    fn month_row(&self, m: &RoomMonth) -> Vec<String> {
        let t = Temperature::from_c(m.outdoor_c);
        vec![
            self.word(&format!("month.{}", m.month)),
            self.number(if self.system == System::Us { t.f() } else { t.c() }, 0),
            self.number(100.0 * m.humidity_ratio, 0),
            self.number(100.0 * m.dwelling_humidity_ratio, 0),
            self.number(m.hours_above_80_h, 0),
            self.number(m.fan_h, 0),
            m.energy_kwh.map_or_else(String::new, |kwh| self.number(kwh, 1)),
            self.number(m.air_heat_kwh, 0),
            m.mirror_time_s.map_or_else(String::new, |s| self.number(s / 60.0, 0)),
            self.mass(m.carried_off_kg),
            self.number(m.mould_ratio, 1),
        ]
    }

    fn mass(&self, kg: f64) -> String {
        self.number(if self.system == System::Us { Mass::from_kg(kg).lb() } else { kg }, 0)
    }

    /// An amount of money, to the hundredth, with its currency as the job writes it.
    pub fn money(&self, money: &Money) -> String {
        let amount = self.number(money.amount, 2);
        match &money.currency {
            Some(currency) => format!("{amount} {currency}"),
            None => amount,
        }
    }
}
