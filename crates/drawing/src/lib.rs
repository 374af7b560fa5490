//! Drawings and charts of a job, to scale, as SVG and DXF.
//!
//! [`scene`] holds what a sheet shows, in millimetres of paper; [`svg`] and [`dxf`] write it down.
//!
//! **Must never know**: files, screens, how anything was worked out.

pub mod dxf;
pub mod font;
mod hatch;
pub mod pen;
pub mod scene;
pub mod svg;
