//! Rule books as data, and the questions they answer.
//!
//! A [`Book`] is one jurisdiction and edition. Every value in it carries its section and how sure it is
//! ([`Standing`]); what a book does not hold is [`Answer::NotInBook`], never a value of another
//! country. A local [`Amendment`] is laid over a book and shows in the answers it changes. Books hold
//! numbers and section references only; the adopted edition and the authority having jurisdiction
//! govern.
//!
//! This crate knows no job, no fan and no file system; it never judges. Start at [`load`] and
//! [`Book::required_airflow`].
//!
//! ```
//! use dewpath_rulebook::{DuctKind, Limit, load};
//! use dewpath_units::{Airflow, Length};
//!
//! let book = load("us-irc-2021")?;
//! let (duct, fan) = (Length::from_inches(4.0), Airflow::from_cfm(80.0));
//! let answer = book.duct_length(DuctKind::Smooth, duct, fan, 2);
//! let ruled = answer.known().expect("the book has the table");
//! assert_eq!(ruled.section, "Table M1504.2");
//! // 31 ft in the table, less 15 ft for each elbow.
//! assert!(matches!(ruled.value.limit, Limit::Max(most) if (most.feet() - 1.0).abs() < 1e-9));
//! # Ok::<(), dewpath_rulebook::BookError>(())
//! ```

mod airflow;
mod answer;
mod book;
mod builtin;
mod duct;
mod error;
mod framing;
mod house;
mod key;
mod outlet;
mod read;
pub mod say;

mod table;
mod words;

pub use airflow::{
    AirflowMethod, Applies, Cooker, DwellingAirflow, DwellingMethod, DwellingTrigger, DwellingUse,
    ExistingPath, Fixtures, KitchenExhaust, Operation, RequiredAirflow, RoomFact, RoomKind,
    RoomUse, WindowAlternative,
};
pub use answer::{Answer, Ruled, Standing};
pub use book::{Amendment, Book, BookKind, load};
pub use builtin::builtin_ids;
pub use duct::{
    DryerElbow, DryerElbowRadius, DryerRules, InsulationAsked, Metal, MetalUse, ScreenMesh,
    Supports, hydraulic_diameter,
};
pub use error::BookError;
pub use framing::{
    ChartMember, DwellingSeparation, JoistHole, JoistNotch, PlateRule, Shield, StudCut, StudKind,
};
pub use house::{
    Efficacy, HoodExemption, MakeUpRule, MeasureRule, PermitNote, TransferRule, Venting,
    WholeHouseFan,
};
pub use outlet::{ClearOf, Clearance, ControlRule};
pub use table::{DuctKind, Limit, TableLimit};
pub use words::{ControlKind, End, FireBlock, FlowMethod, Joined, Material, Seal, WayOut};
