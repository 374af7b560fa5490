//! A library of the user's own, as it is read.

use dewpath_units::Area;

use crate::keys::Keys;
use crate::limits::FLAP_LEAK;
use crate::model::duct::DuctGiven;
use crate::model::fan::FanData;
use crate::model::terminal::{Screen, TerminalKind};
use crate::value::{Given, GivenChoice, GivenYesNo, LossPoint, Section};

/// A library of the user's own: fans, terminals, ducts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Library {
    /// Fans by model id, in file order.
    pub fans: Vec<LibraryFan>,
    /// Terminals by model id, in file order.
    pub terminals: Vec<LibraryTerminal>,
    /// Ducts by model id, in file order.
    pub ducts: Vec<LibraryDuct>,
}

/// A fan in a library. Values count as read from a label or data sheet.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "fan", written = "[[fan]] of a library", ids = Library)]
pub struct LibraryFan {
    /// Model id, by which a job names it.
    #[key(id, required, example = "quiet-80")]
    pub id: String,
    /// What is known of it.
    #[key(flatten, differs("name", example = "Quiet 80"))]
    pub data: FanData,
}

/// A terminal in a library.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "terminal", written = "[[terminal]] of a library", ids = Library)]
pub struct LibraryTerminal {
    /// Model id, by which a job names it.
    #[key(id, required, example = "wall-cap-4")]
    pub id: String,
    /// What it is.
    #[key(required, or = TerminalKind::Nowhere, example = "wall cap")]
    pub kind: TerminalKind,
    /// Size of its collar.
    #[key(example = "4 in")]
    pub size: GivenChoice<Section>,
    /// Whether it has a flap.
    #[key(example = true)]
    pub flap: GivenYesNo,
    /// Screen.
    #[key(example = "none")]
    pub screen: GivenChoice<Screen>,
    /// Flow at pressure loss.
    #[key(example = "80 cfm at 15 Pa")]
    pub point: Option<LossPoint>,
    /// Free area past the closed flap.
    #[key(example = "1 in2", limits = FLAP_LEAK)]
    pub leak: Given<Area>,
}

/// A duct in a library.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "duct", written = "[[duct]] of a library", ids = Library)]
pub struct LibraryDuct {
    /// Model id, by which a job names it.
    #[key(id, required, example = "flex-4-r8")]
    pub id: String,
    /// What is known of it.
    #[key(
        flatten,
        without("duct_model", "slope", "cover", "compressed"),
        differs("duct", name = "kind")
    )]
    pub duct: DuctGiven,
}
