//! Limits of values that several keys share, in the stored unit.
//!
//! Limits marked "possible" are hard: nothing real lies outside. Limits marked "usual" give a warning.
//! They are common practice without a source, chosen wide enough that a real job never meets the hard
//! ones; where physics sets a limit (a share is at most 1, a clearance is never negative) it is that.

use crate::spec::Limits;

/// Extents of rooms: 4 in to 330 ft possible, 2 ft to 40 ft usual.
pub(crate) const ROOM_SIDE: Limits = Limits::new([0.1, 100.0], [0.6, 12.0]);
/// Runs: nothing to 1000 ft possible; beyond 100 ft somebody should look again.
pub(crate) const RUN_LENGTH: Limits = Limits::new([0.0, 300.0], [0.0, 30.0]);
/// Airflow of a fan or grille: 0.2 to 4000 cfm possible, 4 to 800 cfm usual.
pub(crate) const FAN_FLOW: Limits = Limits::new([0.0001, 2.0], [0.002, 0.4]);
/// A share of something.
pub(crate) const SHARE: Limits = Limits::new([0.0, 1.0], [0.0, 1.0]);
/// Air temperature in rooms: -50 to 60 °C possible, 5 to 40 °C usual.
pub(crate) const INDOORS: Limits = Limits::new([223.15, 333.15], [278.15, 313.15]);
/// Set-points of heating and cooling: 0 to 45 °C possible, 10 to 32 °C usual.
pub(crate) const SET_POINT: Limits = Limits::new([273.15, 318.15], [283.15, 305.15]);
/// Points of humidity, as a difference of two humidities.
pub(crate) const POINTS: Limits = Limits::new([0.001, 1.0], [0.01, 0.4]);
/// Free area past a closed flap: nothing to 1000 cm2 possible, up to 50 cm2 usual.
pub(crate) const FLAP_LEAK: Limits = Limits::new([0.0, 0.1], [0.0, 0.005]);
/// Distances outdoors: nothing to 330 ft.
pub(crate) const DISTANCE: Limits = Limits::new([0.0, 100.0], [0.0, 60.0]);
/// Levels: 330 ft to either side possible; beyond three storeys somebody should look again.
pub(crate) const LEVEL: Limits = Limits::new([-100.0, 100.0], [-6.0, 12.0]);
/// Boards: up to 4 in possible, 1/4 in to 1-1/4 in usual.
pub(crate) const BOARD: Limits = Limits::new([0.0, 0.1], [0.006, 0.032]);
