//! A sheet: a scene with its name, on paper of a width.

use crate::scene::Scene;
use crate::{dxf, svg};

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
    pub scene: Scene,
    /// Where the dwelling lies on it, for a sheet that is a plan.
    pub ground: Option<Ground>,
}

/// The frame of the dwelling on the paper of a plan: x to the right and y upwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    /// Where the origin lies: mm from the left and from the top.
    pub origin_mm: [f64; 2],
    /// Paper for a metre, mm.
    pub mm_per_m: f64,
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
