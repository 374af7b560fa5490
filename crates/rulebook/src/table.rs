//! The printed tables: duct length, whole-dwelling rate, run-time factors.

use dewpath_units::{Airflow, Area, Length, Pressure};

use crate::answer::Source;

/// What a cell of a duct-length table prints.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// Any length.
    NoLimit,
    /// No length.
    NotAllowed,
    /// So long at most.
    Max(Length),
}

/// Smooth or flexible, as duct-length tables tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DuctKind {
    /// Smooth wall: sheet metal or plastic pipe.
    Smooth,
    /// Flexible duct.
    Flex,
}

/// What a duct-length table says of one run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableLimit {
    /// The limit with the elbows of this run taken off. Never negative: a run whose elbows use up the
    /// printed length is `NotAllowed`.
    pub limit: Limit,
    /// The limit as printed, without elbows.
    pub printed: Limit,
    /// Length taken off for elbows.
    pub deduction: Length,
    /// Diameter of the row that was used: the run's own, or the next smaller one.
    pub row: Length,
    /// Airflow of the column that was used: the fan's own, or the next higher one.
    pub column: Airflow,
    /// Pressure at which the fan's airflow must be rated.
    pub rated_at: Pressure,
}

impl TableLimit {
    /// Whether a run with so much straight length is within the table.
    pub fn allows(&self, straight: Length) -> bool {
        match self.limit {
            Limit::NoLimit => true,
            Limit::NotAllowed => false,
            Limit::Max(most) => straight.m() <= most.m(),
        }
    }
}

/// A cell; `limit` is `None` where nothing is printed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cell {
    pub(crate) limit: Option<Limit>,
    /// Its own place, if it was replaced alone.
    pub(crate) source: Option<Source>,
}

/// Diameters and airflows in SI, ascending.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct DuctTable {
    pub(crate) source: Source,
    pub(crate) rated_at: f64,
    pub(crate) airflows: Vec<f64>,
    pub(crate) elbow_deduction: f64,
    pub(crate) elbows_free: u32,
    pub(crate) flex: Vec<(f64, Vec<Cell>)>,
    pub(crate) smooth: Vec<(f64, Vec<Cell>)>,
}

/// Row (m), column (m³/s) and the cell itself.
type Found<'a> = (f64, f64, &'a Cell);

/// Half a millimetre: a diameter given in rounded millimetres still finds its own row.
const SAME_DIAMETER_M: f64 = 0.0005;
/// What is left of a length by rounding alone.
const ROUNDING_M: f64 = 1e-9;
/// A flow given in rounded litres per second still finds its own column.
const SAME_AIRFLOW: f64 = 0.002;

impl DuctTable {
    pub(crate) fn rows(&self, kind: DuctKind) -> &[(f64, Vec<Cell>)] {
        match kind {
            DuctKind::Smooth => &self.smooth,
            DuctKind::Flex => &self.flex,
        }
    }

    /// The limit of a run and the place of the cell it comes from; `None` where the table is silent.
    ///
    /// No table prints how to read between its lines. Between columns the next higher airflow is used,
    /// between rows the next smaller diameter, and nothing is interpolated. Where that cell is not
    /// printed, the most lenient cell of a smaller duct or a stronger fan stands in; failing that, a
    /// cell that forbids a larger duct or a weaker fan forbids this one as well.
    pub(crate) fn limit(
        &self,
        kind: DuctKind,
        diameter: Length,
        rated: Airflow,
        elbows: u32,
    ) -> Option<(TableLimit, &Source)> {
        let (row, column, cell) = self.find(kind, diameter.m(), rated.m3_s())?;
        let printed = cell.limit?;
        let counted = elbows.saturating_sub(self.elbows_free);
        let deduction = Length::from_m(self.elbow_deduction * f64::from(counted));
        let limit = match printed {
            Limit::Max(most) if most.m() > deduction.m() + ROUNDING_M => {
                Limit::Max(most - deduction)
            }
            Limit::Max(_) => Limit::NotAllowed,
            other => other,
        };
        let found = TableLimit {
            limit,
            printed,
            deduction,
            row: Length::from_m(row),
            column: Airflow::from_m3_s(column),
            rated_at: Pressure::from_pa(self.rated_at),
        };
        Some((found, cell.source.as_ref().unwrap_or(&self.source)))
    }

    fn find(&self, kind: DuctKind, diameter: f64, rated: f64) -> Option<Found<'_>> {
        if !(diameter > 0.0 && rated > 0.0) {
            return None;
        }
        let rows = self.rows(kind);
        let fits = rows.partition_point(|(size, _)| *size <= diameter + SAME_DIAMETER_M);
        let column = self.airflows.partition_point(|flow| *flow < rated * (1.0 - SAME_AIRFLOW));
        let smaller = rows.get(..fits)?;
        self.own(smaller, column)
            .or_else(|| self.stricter(smaller, column))
            .or_else(|| self.forbidden(rows, fits, column))
    }

    /// The cell of the run's own row and column, if something is printed in it.
    fn own<'a>(&self, smaller: &'a [(f64, Vec<Cell>)], column: usize) -> Option<Found<'a>> {
        let (size, cells) = smaller.last()?;
        let cell = cells.get(column).filter(|cell| cell.limit.is_some())?;
        Some((*size, *self.airflows.get(column)?, cell))
    }

    /// The most lenient cell printed for a smaller duct or a stronger fan. "Not allowed" counts for
    /// the run's own airflow only: that a stronger fan is not allowed says nothing of this one.
    fn stricter<'a>(&self, smaller: &'a [(f64, Vec<Cell>)], column: usize) -> Option<Found<'a>> {
        let mut best: Option<(f64, Found<'a>)> = None;
        for (index, flow) in self.airflows.iter().enumerate().skip(column) {
            for (size, cells) in smaller.iter().rev() {
                let cell = &cells[index];
                let leniency = match cell.limit {
                    Some(Limit::NoLimit) => f64::INFINITY,
                    Some(Limit::Max(most)) => most.m(),
                    Some(Limit::NotAllowed) if index == column => -1.0,
                    Some(Limit::NotAllowed) | None => continue,
                };
                if best.is_none_or(|(so_far, _)| leniency > so_far) {
                    best = Some((leniency, (*size, *flow, cell)));
                }
            }
        }
        best.map(|(_, found)| found)
    }

    /// A printed prohibition for a larger duct or a weaker fan, which covers this run.
    fn forbidden<'a>(
        &self,
        rows: &'a [(f64, Vec<Cell>)],
        fits: usize,
        column: usize,
    ) -> Option<Found<'a>> {
        let from = fits.saturating_sub(1);
        for (size, cells) in rows.iter().skip(from) {
            for (index, cell) in cells.iter().enumerate().take(column + 1) {
                if cell.limit == Some(Limit::NotAllowed) {
                    return Some((*size, self.airflows[index], cell));
                }
            }
        }
        None
    }
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) struct DwellingTable {
    pub(crate) source: Source,
    /// Upper bounds of the rows, m²; the last row is open.
    pub(crate) areas_up_to: Vec<f64>,
    /// Upper bounds of the columns; the last column is open.
    pub(crate) bedrooms_up_to: Vec<u32>,
    /// m³/s.
    pub(crate) rows: Vec<Vec<f64>>,
}

impl DwellingTable {
    pub(crate) fn rate(&self, area: Area, bedrooms: u32) -> Option<Airflow> {
        let tolerance = 1.0 + 1e-9;
        let row = self.areas_up_to.iter().filter(|bound| area.m2() > **bound * tolerance).count();
        let column = self.bedrooms_up_to.iter().filter(|bound| bedrooms > **bound).count();
        let rate = self.rows.get(row)?.get(column)?;
        (area.m2() > 0.0).then_some(Airflow::from_m3_s(*rate))
    }
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RunTimeTable {
    pub(crate) source: Source,
    /// s.
    pub(crate) period: f64,
    /// Shares of the period with the fan on, ascending.
    pub(crate) shares: Vec<f64>,
    pub(crate) factors: Vec<f64>,
}

impl RunTimeTable {
    /// Linear between the printed shares, `None` outside them.
    pub(crate) fn factor(&self, share: f64) -> Option<f64> {
        let pairs = self.shares.windows(2).zip(self.factors.windows(2));
        for (shares, factors) in pairs {
            if share >= shares[0] && share <= shares[1] {
                let along = (share - shares[0]) / (shares[1] - shares[0]);
                return Some(factors[0] + along * (factors[1] - factors[0]));
            }
        }
        None
    }
}
