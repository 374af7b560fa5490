//! What the items on an edge are, before numbers are put in.

use dewpath_job::model::{
    DuctKind, ElbowMake, Facing, FanKind, JunctionKind, Screen, Section, TerminalKind,
    TransitionShape,
};

use crate::inputs::{CategoryInput, InputId};

/// An edge: a way for air, made of items in the direction it should go.
#[derive(Debug, Clone)]
pub(crate) struct Edge {
    /// Node where it starts; 0 is outdoors.
    pub from: usize,
    /// Node where it ends.
    pub to: usize,
    /// What the air passes.
    pub items: Vec<Item>,
}

/// One thing the air passes.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    /// Whose it is.
    pub owner: Owner,
    /// What it is.
    pub spec: Spec,
}

/// Whose an item is, by index into the job's lists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Owner {
    /// Joints and cracks of the dwelling.
    Shell,
    /// Door of a room.
    Door { room: usize },
    /// A fan.
    Fan { fan: usize },
    /// Grille of a fan elsewhere.
    Grille { grille: usize },
    /// A part of a run: the part's id, or a name of ours such as `outlet`.
    Part { run: usize, part: String },
    /// Joints of a run on the suction side of a fan.
    Joints { run: usize },
    /// Where two streams meet, seen from the run that ends there.
    Meeting { run: usize, junction: usize },
    /// A terminal.
    Terminal { terminal: usize },
}

/// What an item is.
#[derive(Debug, Clone)]
pub(crate) enum Spec {
    /// Leaks of the dwelling: `Q = C·Δp^n` with `C` from a flow at 50 Pa.
    Leak {
        air_changes: InputId,
        volume: Option<InputId>,
        area: Option<Storey>,
        flow: Option<InputId>,
    },
    /// Joints of the ducts that lead to one place before a fan: `Q = sum of C_L A dp^0.65`.
    Joints(Vec<JointsSpec>),
    /// A door: gap, joints and transfer grille as one sharp-edged opening.
    Door(DoorSpec),
    /// A fan.
    Fan(FanSpec),
    /// A straight piece or a length of flexible duct.
    Piece { duct: DuctSpec, length: InputId },
    /// So many equal elbows.
    Elbow {
        make: CategoryInput<ElbowMake>,
        angle: InputId,
        radius: InputId,
        count: Option<InputId>,
        size: CategoryInput<Section>,
        /// Place in the spread between tables, 0 to 1.
        band: InputId,
    },
    /// A change of section.
    Transition {
        from: CategoryInput<Section>,
        to: CategoryInput<Section>,
        shape: CategoryInput<TransitionShape>,
        angle: InputId,
    },
    /// A backdraft damper in the run.
    Backdraft { size: CategoryInput<Section>, band: InputId },
    /// A hand-set damper.
    Balancing { size: CategoryInput<Section>, angle: InputId },
    /// A crushed place.
    Crush { size: CategoryInput<Section>, open: InputId },
    /// So many pascals at so much flow.
    Point { airflow: InputId, pressure: InputId },
    /// Velocity pressures lost to an elbow close behind a fan.
    SystemEffect { size: CategoryInput<Section>, share: InputId },
    /// A grille on its own.
    Grille {
        free_area: Option<InputId>,
        share: InputId,
        size: CategoryInput<Section>,
        band: InputId,
    },
    /// A terminal.
    Terminal(TerminalSpec),
    /// Loss of one stream where it meets another.
    Meeting {
        kind: CategoryInput<JunctionKind>,
        /// Whether this is the straight way through.
        straight: bool,
        size: CategoryInput<Section>,
        /// Section of the branch, for either leg.
        branch: CategoryInput<Section>,
        common: CategoryInput<Section>,
    },
}

/// Joints of one run.
#[derive(Debug, Clone)]
pub(crate) struct JointsSpec {
    /// Whether they are sealed.
    pub sealed: CategoryInput<bool>,
    /// The pieces: section and length.
    pub pieces: Vec<(CategoryInput<Section>, InputId)>,
}

/// Storey height times floor area.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Storey {
    /// Floor area, m².
    pub area: InputId,
    /// Storey height, m.
    pub height: InputId,
}

/// A door.
#[derive(Debug, Clone)]
pub(crate) struct DoorSpec {
    /// Width of the leaf, m.
    pub width: InputId,
    /// Gap below it, m.
    pub gap: InputId,
    /// Open area of the other joints, m².
    pub joints: InputId,
    /// Free area of a transfer grille, m².
    pub transfer: Option<InputId>,
    /// Flow coefficient.
    pub coefficient: InputId,
}

/// What is known of a duct.
#[derive(Debug, Clone)]
pub(crate) struct DuctSpec {
    /// Kind.
    pub kind: CategoryInput<DuctKind>,
    /// Inside section.
    pub size: CategoryInput<Section>,
    /// Longitudinal compression of flexible duct, share.
    pub compression: InputId,
    /// Place in the published spread of the compression factor, 0 to 1.
    pub flex_band: InputId,
    /// Roughness, m, where it is written.
    pub roughness: Option<InputId>,
    /// Place in the roughness range of the material, 0 to 1.
    pub roughness_band: InputId,
}

/// A fan.
#[derive(Debug, Clone)]
pub(crate) struct FanSpec {
    /// Index in the job.
    pub fan: usize,
    /// Kind, for the shape of a curve that is not known.
    pub kind: CategoryInput<FanKind>,
    /// Place in the band of possible curves, 0 to 1.
    pub shape: InputId,
    /// Rated flow and pressure inputs, in the order they are written.
    pub rated: Vec<(InputId, Option<InputId>)>,
    /// Whether a curve is written.
    pub has_curve: bool,
    /// Share of full speed.
    pub speed: Option<InputId>,
    /// Flow a constant-flow motor holds.
    pub holds: Option<InputId>,
    /// Whether it runs.
    pub running: CategoryInput<bool>,
    /// Whether its own damper stops backflow while idle.
    pub damper: CategoryInput<bool>,
}

/// A terminal.
#[derive(Debug, Clone)]
pub(crate) struct TerminalSpec {
    /// Index in the job.
    pub terminal: usize,
    /// Kind.
    pub kind: CategoryInput<TerminalKind>,
    /// Collar.
    pub size: CategoryInput<Section>,
    /// Flap.
    pub flap: CategoryInput<bool>,
    /// Screen.
    pub screen: CategoryInput<Screen>,
    /// Share of the screen that is clogged.
    pub clogged: InputId,
    /// Place in the band of terminals of this kind, 0 to 1.
    pub band: InputId,
    /// A measured or maker's point: flow and pressure.
    pub point: Option<(InputId, InputId)>,
    /// Share of the area that a stuck flap leaves open.
    pub stuck: Option<InputId>,
    /// Pressure other fans keep in a shared riser, Pa.
    pub riser: Option<InputId>,
}

/// Weather and use of a scenario; the reference case has none.
#[derive(Debug, Clone, Default)]
pub(crate) struct Conditions {
    /// Wind speed at the terminal, m/s.
    pub wind_m_s: f64,
    /// How the terminals face it.
    pub facing: Option<Facing>,
    /// Outdoor temperature, K, where it differs from indoors.
    pub outdoor_k: Option<f64>,
    /// Doors of the served rooms open.
    pub doors_open: bool,
    /// Fans that are off, by index.
    pub off: Vec<usize>,
}
