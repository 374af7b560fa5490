//! The curve of each fan and of what it blows through, for faces that draw them. They stand apart from the report,
//! which gives the point where both meet.

use serde::Serialize;

use dewpath_message::Triple;

/// A fan and what it blows through.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FanCurves {
    /// Fan id.
    pub fan: String,
    /// Pressure over flow, in order of flow.
    pub curve: Vec<FanPoint>,
    /// Flow over pressure of everything else, in order of pressure.
    pub system: Vec<SystemPoint>,
}

/// A point of a fan's curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FanPoint {
    /// Flow.
    pub airflow_l_s: f64,
    /// Static pressure that the fan adds at it.
    pub pressure_pa: Triple,
}

/// A point of the curve of what a fan blows through: ducts, terminal, the way in for the air, other fans.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SystemPoint {
    /// Static pressure in place of the fan.
    pub pressure_pa: f64,
    /// Flow that it drives.
    pub airflow_l_s: Triple,
}
