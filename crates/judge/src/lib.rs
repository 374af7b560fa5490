//! Judges of a case: what is written, against rules and against physical needs.
//!
//! [`checks`] go point by point, [`house`] looks at the dwelling and its pressures, [`dry`] follows rooms and ducts through
//! time, `working` tells how a delivered flow was worked out, [`look_next`] which look on site would settle most. Each gives
//! findings and figures; none changes the case, and none calls a proposal.
//!
//! **Must never know**: a proposal, the order of the stages; files, clocks, threads, screens, languages.
//!
//! Begin at the public function of each module: [`house::house`], [`dry::dry`], [`dry::year::year`], and one for each kind of
//! check.

pub mod checks;
pub mod dry;
pub mod house;
mod law;
pub mod look_next;
pub mod verdict;
mod working;
