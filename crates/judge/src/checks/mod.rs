//! The points that are checked against the rule book and against physical needs, by what they
//! concern. Each module has one public function that gives its findings.

pub mod air;
pub mod duct;
pub mod evidence;
pub mod fan;
pub mod room;
pub mod swap;
pub mod terminal;
