//! The parts of a run.

use dewpath_message::Message;
use dewpath_message::slot::{List, Name, Reference};
use dewpath_units::{Angle, Length, Ratio};

use crate::category::category;
use crate::diagnostic::Diagnostic;
use crate::keys::Keys;
use crate::lay_under::LayUnder as _;
use crate::limits::RUN_LENGTH;
use crate::model::duct::DuctGiven;
use crate::read::{Context, Reader};
use crate::say::{self, Label};
use crate::value::{Given, GivenChoice, LossPoint, Section};

/// One part of a run, in the direction of the air. Exactly one of the keys beside `id` says what it is.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "part", written = "[[run.part]]", ids = Within)]
pub struct Part {
    /// Stable id within the run; part-1, part-2, … when left out.
    #[key(id, example = "p1")]
    pub id: String,
    /// What it is.
    #[key(flatten, required, read = read_part)]
    pub kind: PartKind,
}

/// What a part of a run is.
#[expect(
    clippy::large_enum_variant,
    reason = "a job has a handful of these; a box would only be in the way"
)]
#[derive(Debug, Clone, PartialEq, Keys)]
pub enum PartKind {
    /// A straight piece, or a length of flexible duct.
    #[key(example = { length = "6 ft", duct = "flex" })]
    #[table(
        written = "piece = { … }",
        doc = "A straight piece or a length of flexible duct; what is not written is taken from the run."
    )]
    Piece {
        /// The duct; what is not written here is taken from the run.
        #[key(flatten)]
        duct: DuctGiven,
        /// Length along the duct.
        #[key(first, example = "6 ft", limits = RUN_LENGTH)]
        length: Given<Length>,
    },
    /// An elbow.
    #[key(example = { make = "adjustable", angle = "90 deg" })]
    #[table(written = "elbow = { … }")]
    Elbow {
        /// How it is made.
        #[key(example = "adjustable")]
        make: GivenChoice<ElbowMake>,
        /// Angle.
        #[key(example = "90 deg", possible(0.0, 3.2), usual(0.17, 1.75))]
        angle: Given<Angle>,
        /// Centre-line radius over diameter.
        #[key(example = 1.0, possible(0.3, 20.0), usual(0.5, 5.0))]
        radius: Given<Ratio>,
        /// Inside size.
        #[key(example = "4 in")]
        size: GivenChoice<Section>,
    },
    /// A change of section.
    #[key(example = { to = "6 in", shape = "cone" })]
    #[table(written = "transition = { … }")]
    Transition {
        /// Section it goes to.
        #[key(example = "6 in")]
        to: GivenChoice<Section>,
        /// Included angle of a cone.
        #[key(example = "30 deg", possible(0.0, 3.2), usual(0.05, 3.2))]
        angle: Given<Angle>,
        /// Abrupt step or cone.
        #[key(example = "cone")]
        shape: GivenChoice<TransitionShape>,
    },
    /// A damper in the run.
    #[key(example = { kind = "backdraft" })]
    #[table(written = "damper = { … }")]
    Damper {
        /// What kind.
        #[key(example = "backdraft")]
        kind: GivenChoice<DamperKind>,
        /// Blade angle of a balancing damper; 0 is open.
        #[key(example = "20 deg", possible(0.0, 1.6), usual(0.0, 1.3))]
        angle: Given<Angle>,
        /// Inside size.
        #[key(example = "4 in")]
        size: GivenChoice<Section>,
    },
    /// A crushed or kinked place.
    #[key(example = { open = 0.6 })]
    #[table(written = "crush = { … }")]
    Crush {
        /// Share of the area that is left.
        #[key(example = 0.6, possible(0.01, 1.0), usual(0.05, 1.0))]
        open: Given<Ratio>,
        /// Inside size.
        #[key(example = "4 in")]
        size: GivenChoice<Section>,
    },
    /// A trap or drain for the water that settles in the duct; there is nothing more to say of it.
    #[key(example = {})]
    #[table(
        written = "trap = {}",
        doc = "A trap or drain for the water that settles in the duct, at its low point. It takes no keys."
    )]
    Trap,
    /// Anything else with a known loss.
    #[key(example = { name = "silencer", point = "80 cfm at 12 Pa" })]
    #[table(written = "other = { … }")]
    Other {
        /// What it is, for people.
        #[key(required, example = "silencer")]
        name: String,
        /// Flow at pressure loss.
        #[key(required, example = "80 cfm at 12 Pa")]
        point: LossPoint,
    },
}

category! {
    /// How an elbow is made.
    pub enum ElbowMake {
        /// Pressed smooth.
        Stamped = "stamped" | "smooth",
        /// Adjustable (swivel gores) or pleated.
        Adjustable = "adjustable" | "pleated",
        /// Three-piece.
        ThreePiece = "3-piece",
        /// Five-piece.
        FivePiece = "5-piece",
        /// Mitred, sharp.
        Mitred = "mitred",
        /// Bend of the flexible duct itself.
        FlexBend = "flex bend",
    }
}

category! {
    /// Shape of a change of section.
    pub enum TransitionShape {
        /// A step.
        Abrupt = "abrupt",
        /// A cone.
        Cone = "cone",
    }
}

category! {
    /// Kind of damper.
    pub enum DamperKind {
        /// Closes by gravity or spring against backflow.
        Backdraft = "backdraft",
        /// Hand-set blade.
        Balancing = "balancing",
    }
}

/// What a part is: exactly one of its keys.
fn read_part(context: &mut Context<'_>, part: &Reader<'_>) -> Option<PartKind> {
    let written: Vec<&str> = part.sections().filter(|kind| part.has(kind)).collect();
    if written.len() != 1 {
        let message: Message = match written.as_slice() {
            [] => say::AtPathKey::PartOfNothing.of(&part.path).into(),
            several => {
                say::PartOfSeveral { path: Name::new(&part.path), kinds: List::new(several) }.into()
            }
        };
        let kinds: Vec<&str> = part.sections().collect();
        let kinds = kinds.join(", ");
        let (others, last) = kinds.rsplit_once(", ").unwrap_or(("", &kinds));
        let (others, last) = (Some(Reference::new(others)), Reference::new(last));
        context.tell(
            Diagnostic::error(&part.path, part.span.clone(), message)
                .label(Label::OneThing)
                .help(say::OneOf { key: say::OneOfKey::WritePart, others, last })
                .help(say::example("elbow = { make = \"adjustable\", angle = \"90 deg\" }")),
        );
    }
    PartKind::read(context, part)
}

/// What counts for a part that does not say it itself.
pub(crate) struct Before {
    /// What the run says of its duct.
    of_run: DuctGiven,
    /// Size of fittings that come before any piece; later ones have the size of what they follow.
    fitting_size: GivenChoice<Section>,
}

impl Before {
    /// At the beginning of a run with this duct.
    pub(crate) fn at_start(of_run: DuctGiven) -> Self {
        Self { fitting_size: of_run.size.clone(), of_run }
    }

    /// Lays under a part what it does not say, and lets the air come past it: a transition ends the run's size, a
    /// piece that of fittings.
    pub(crate) fn complete(&mut self, kind: &mut PartKind) {
        match kind {
            PartKind::Piece { duct, .. } => {
                duct.complete_from(&self.of_run);
                self.fitting_size = None;
            }
            PartKind::Elbow { size, .. }
            | PartKind::Damper { size, .. }
            | PartKind::Crush { size, .. } => size.lay_under(&self.fitting_size),
            PartKind::Transition { to, .. } if to.is_some() => {
                self.of_run.size = None;
                self.fitting_size = None;
            }
            PartKind::Transition { .. } | PartKind::Trap | PartKind::Other { .. } => {}
        }
    }
}
