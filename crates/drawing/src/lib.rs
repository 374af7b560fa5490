//! Drawings and charts of a job, to scale, as SVG and DXF.
//!
//! Each kind of drawing is a function that takes a plain
//! description and gives a [`Sheet`]. [`scene`] holds what a sheet shows, in millimetres of
//! paper; [`svg`] and [`dxf`] write it down.
//!
//! Labels never lie on each other: where there is no room beside a thing, a line leads to its label, and where
//! there is no room at all the label becomes a note below.
//!
//! **Must never know**: files, screens, how anything was worked out.

mod board;
mod chart;
pub mod dxf;
pub mod font;
mod hatch;
pub mod pen;
mod place;
mod rows;
pub mod scale;
pub mod scene;
mod sheet;
pub mod svg;
mod voice;

pub use sheet::fan::{FanView, fan};
pub use sheet::pressure::pressure;
pub use sheet::room::{RoomTrace, trace, year};
pub use sheet::water::water;
pub use voice::Voice;

/// How wide sheets are. They are as high as they need to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// 180 mm: fits on letter and on A4 paper, upright, with its margins.
    #[default]
    Paper,
    /// 96 mm: on a phone held upright letters are about as large as those of a page.
    Phone,
}

impl Page {
    /// Width, mm.
    pub const fn width_mm(self) -> f64 {
        match self {
            Self::Paper => 180.0,
            Self::Phone => 96.0,
        }
    }
}

/// A drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Name, good for a file: small letters, figures and hyphens.
    pub name: String,
    /// Title.
    pub title: String,
    /// What it shows, for who can't see it.
    pub describes: String,
    /// What is on it.
    pub scene: scene::Scene,
}

impl Sheet {
    /// As SVG that stands alone: style sheet and font are in it.
    pub fn svg(&self) -> String {
        svg::write(&self.scene, self.about(), svg::Carries::All)
    }

    /// As SVG for a page that has [`svg::style_sheet`] once for all drawings.
    pub fn svg_for_page(&self) -> String {
        svg::write(&self.scene, self.about(), svg::Carries::Nothing)
    }

    /// As DXF, in true millimetres.
    pub fn dxf(&self) -> String {
        dxf::write(&self.scene)
    }

    fn about(&self) -> svg::About<'_> {
        svg::About { name: &self.name, title: &self.title, describes: &self.describes }
    }
}
