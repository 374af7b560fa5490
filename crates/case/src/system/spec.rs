//! What the items on an edge are, before numbers are put in.

use dewpath_job::model::{
    DuctKind, ElbowMake, Facing, FanKind, JunctionKind, Screen, Section, TerminalKind,
    TransitionShape,
};

use crate::inputs::{CategoryInput, InputId};

/// An edge: a way for air, made of items in the direction it should go.
#[derive(Debug, Clone)]
pub struct Edge {
    /// Node where it starts; 0 is outdoors.
    pub from: usize,
    /// Node where it ends.
    pub to: usize,
    /// What the air passes.
    pub items: Vec<Item>,
}

/// One thing the air passes.
#[derive(Debug, Clone)]
pub struct Item {
    /// Whose it is.
    pub owner: Owner,
    /// What it is.
    pub spec: Spec,
}

/// Whose an item is, by index into the job's lists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Owner {
    /// Joints and cracks of the dwelling.
    Shell,
    /// Door of a room.
    Door {
        /// The room.
        room: usize,
    },
    /// A fan.
    Fan {
        /// The fan.
        fan: usize,
    },
    /// Grille of a fan elsewhere.
    Grille {
        /// The grille.
        grille: usize,
    },
    /// A part of a run.
    Part {
        /// The run.
        run: usize,
        /// The part's id, or a name of ours such as `outlet`.
        part: String,
    },
    /// Joints of a run on the suction side of a fan.
    Joints {
        /// The run.
        run: usize,
    },
    /// Where two streams meet, seen from the run that ends there.
    Meeting {
        /// The run.
        run: usize,
        /// The junction.
        junction: usize,
    },
    /// A terminal.
    Terminal {
        /// The terminal.
        terminal: usize,
    },
}

/// What an item is.
#[derive(Debug, Clone)]
pub enum Spec {
    /// Leaks of the dwelling: `Q = C·Δp^n` with `C` from a flow at 50 Pa.
    Leak {
        /// Air changes at 50 Pa, per hour.
        air_changes: InputId,
        /// Volume of the dwelling, m³, where it is written.
        volume: Option<InputId>,
        /// Floor area and height that give it otherwise.
        area: Option<Storey>,
        /// Flow at 50 Pa, m³/s, where it is written.
        flow: Option<InputId>,
    },
    /// Joints of the ducts that lead to one place before a fan: `Q = sum of C_L A dp^0.65`.
    Joints(Vec<JointsSpec>),
    /// A door: gap, joints and transfer grille as one sharp-edged opening.
    Door(DoorSpec),
    /// A fan.
    Fan(FanSpec),
    /// A straight piece or a length of flexible duct.
    Piece {
        /// What it is made of.
        duct: DuctSpec,
        /// Length, m.
        length: InputId,
    },
    /// So many equal elbows.
    Elbow {
        /// How it is made.
        make: CategoryInput<ElbowMake>,
        /// Angle, rad.
        angle: InputId,
        /// Centreline radius over diameter.
        radius: InputId,
        /// How many; one where it is not counted.
        count: Option<InputId>,
        /// Inside section.
        size: CategoryInput<Section>,
        /// Place in the spread between tables, 0 to 1.
        band: InputId,
    },
    /// A change of section.
    Transition {
        /// Section before it.
        from: CategoryInput<Section>,
        /// Section behind it.
        to: CategoryInput<Section>,
        /// Whether it is a step or a cone.
        shape: CategoryInput<TransitionShape>,
        /// Angle of a cone, rad.
        angle: InputId,
    },
    /// A backdraft damper in the run.
    Backdraft {
        /// Inside section.
        size: CategoryInput<Section>,
        /// Place between a light and a heavy flap, 0 to 1.
        band: InputId,
    },
    /// A hand-set damper.
    Balancing {
        /// Inside section.
        size: CategoryInput<Section>,
        /// Angle of its blade, rad.
        angle: InputId,
    },
    /// A crushed place.
    Crush {
        /// Section beside it.
        size: CategoryInput<Section>,
        /// Share of the area that is left open.
        open: InputId,
    },
    /// So many pascals at so much flow.
    Point {
        /// Flow, m³/s.
        airflow: InputId,
        /// Pressure lost at it, Pa.
        pressure: InputId,
    },
    /// Velocity pressures lost to an elbow close behind a fan.
    SystemEffect {
        /// Inside section.
        size: CategoryInput<Section>,
        /// How many velocity pressures.
        share: InputId,
    },
    /// A grille on its own.
    Grille {
        /// Free area, m², where it is written.
        free_area: Option<InputId>,
        /// Free share of the collar otherwise.
        share: InputId,
        /// Collar.
        size: CategoryInput<Section>,
        /// Place in the range of its coefficient, 0 to 1.
        band: InputId,
    },
    /// A terminal.
    Terminal(TerminalSpec),
    /// Loss of one stream where it meets another.
    Meeting {
        /// Tee or wye.
        kind: CategoryInput<JunctionKind>,
        /// Whether this is the straight way through.
        straight: bool,
        /// Section of this leg.
        size: CategoryInput<Section>,
        /// Section of the branch, for either leg.
        branch: CategoryInput<Section>,
        /// Section of what both go on in.
        common: CategoryInput<Section>,
    },
}

/// Joints of one run.
#[derive(Debug, Clone)]
pub struct JointsSpec {
    /// Whether they are sealed.
    pub sealed: CategoryInput<bool>,
    /// The pieces: section and length.
    pub pieces: Vec<(CategoryInput<Section>, InputId)>,
}

/// Storey height times floor area.
#[derive(Debug, Clone, Copy)]
pub struct Storey {
    /// Floor area, m².
    pub area: InputId,
    /// Storey height, m.
    pub height: InputId,
}

/// A door.
#[derive(Debug, Clone)]
pub struct DoorSpec {
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
pub struct DuctSpec {
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
pub struct FanSpec {
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
pub struct TerminalSpec {
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
pub struct Conditions {
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
