//! Saturation of air, tabulated.
