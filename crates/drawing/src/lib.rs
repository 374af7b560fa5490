//! Drawings and charts of a job, to scale, as SVG and DXF.
