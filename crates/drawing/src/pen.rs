//! Layers and how each is drawn: width, dashes, colours on white, on dark and in print.
//!
//! No two layers that meet in one drawing differ by colour alone: they differ by dashes, by width, or by a hatch.

/// What a shape stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// Paper and border.
    Sheet,
    /// Fine lines behind a chart.
    Grid,
    /// Axes of a chart, scale bars.
    Axis,
    /// Walls of a room.
    Room,
    /// Joists, trusses and other members.
    Member,
    /// Blocking.
    Block,
    /// What a housing must keep clear of.
    Obstacle,
    /// Body of a fan.
    Housing,
    /// Duct, its outside.
    Duct,
    /// Centre lines.
    Centre,
    /// Insulation round a duct.
    Insulation,
    /// Hangers and straps.
    Support,
    /// Holes.
    Bore,
    /// Walls and roofs in section.
    Wall,
    /// Windows, doors and intakes.
    Opening,
    /// Ground, walkways, lines of a property.
    Ground,
    /// Dimension lines.
    Dimension,
    /// Lines from a label to what it names.
    Leader,
    /// Hatches.
    Hatch,
    /// The curve a chart is about.
    Curve,
    /// The curve it is held against.
    Against,
    /// Bars.
    Bar,
    /// Spread between low and high.
    Spread,
    /// Area between low and high of the curve.
    Band,
    /// What is asked for.
    Limit,
    /// What must not be.
    Alarm,
    /// Text.
    Text,
}

/// A colour, red, green, blue.
pub type Colour = [u8; 3];

/// How a layer is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Class in the style sheet and name of the layer in a CAD program.
    pub name: &'static str,
    /// Width of the line, mm.
    pub width: f64,
    /// Dashes and gaps in turn, mm; none for an unbroken line.
    pub dashes: &'static [f64],
    /// Colour on white paper.
    pub light: Colour,
    /// Colour on a dark screen.
    pub dark: Colour,
    /// Colours that closed shapes are filled with, on white and on dark.
    pub fill: Option<(Colour, Colour)>,
    /// Whether it carries meaning, and must be told from the paper: all but grids and hatches.
    pub carries: bool,
}

/// The paper of a light sheet.
pub const PAPER: Colour = [255, 255, 255];
/// The paper on a dark screen.
pub const DARK_PAPER: Colour = [16, 24, 29];

const INK: (Colour, Colour) = ([22, 36, 44], [232, 238, 241]);
const GREY: (Colour, Colour) = ([82, 98, 107], [168, 182, 190]);
const FAINT: (Colour, Colour) = ([196, 206, 212], [51, 66, 75]);
const WOOD: (Colour, Colour) = ([122, 88, 44], [212, 172, 118]);
const AIR: (Colour, Colour) = ([11, 92, 134], [124, 198, 238]);
const RUST: (Colour, Colour) = ([156, 58, 20], [244, 158, 112]);
const STRAW: (Colour, Colour) = ([142, 98, 0], [228, 188, 84]);
const PLUM: (Colour, Colour) = ([104, 68, 138], [198, 168, 232]);
const LEAF: (Colour, Colour) = ([36, 104, 66], [132, 212, 168]);
const RED: (Colour, Colour) = ([160, 24, 28], [255, 142, 132]);
const SHEET: Option<(Colour, Colour)> = Some((PAPER, DARK_PAPER));
const TINT: Option<(Colour, Colour)> = Some(([216, 231, 240], [28, 52, 66]));
const WOOD_TINT: Option<(Colour, Colour)> = Some(([245, 236, 221], [52, 43, 30]));

/// Lines of that width and more are heavy, mm.
const HEAVY: f64 = 0.35;

const DASH: &[f64] = &[2.4, 1.2];
const SHORT: &[f64] = &[1.0, 0.8];
const CHAIN: &[f64] = &[5.0, 1.0, 0.8, 1.0];
const DOTS: &[f64] = &[0.3, 0.9];

impl Layer {
    /// Every layer, in the order of their names in a CAD program.
    pub const ALL: [Self; 27] = [
        Self::Sheet,
        Self::Grid,
        Self::Axis,
        Self::Room,
        Self::Member,
        Self::Block,
        Self::Obstacle,
        Self::Housing,
        Self::Duct,
        Self::Centre,
        Self::Insulation,
        Self::Support,
        Self::Bore,
        Self::Wall,
        Self::Opening,
        Self::Ground,
        Self::Dimension,
        Self::Leader,
        Self::Hatch,
        Self::Curve,
        Self::Against,
        Self::Bar,
        Self::Spread,
        Self::Band,
        Self::Limit,
        Self::Alarm,
        Self::Text,
    ];

    /// Whether its lines are so heavy that a text on them could not be read.
    pub fn is_heavy(self) -> bool {
        self.pen().width >= HEAVY
    }

    /// How it is drawn.
    pub const fn pen(self) -> Pen {
        match self {
            Self::Sheet => pen("sheet", 0.13, &[], GREY, SHEET).quiet(),
            Self::Grid => pen("grid", 0.1, &[], FAINT, None).quiet(),
            Self::Axis => pen("axis", 0.3, &[], INK, None),
            Self::Room => pen("room", 0.7, &[], INK, None),
            Self::Member => pen("member", 0.25, &[], WOOD, WOOD_TINT),
            Self::Block => pen("block", 0.5, &[], WOOD, WOOD_TINT),
            Self::Obstacle => pen("obstacle", 0.35, SHORT, PLUM, None),
            Self::Housing => pen("housing", 0.5, &[], INK, SHEET),
            Self::Duct => pen("duct", 0.5, &[], AIR, SHEET),
            Self::Centre => pen("centre", 0.2, CHAIN, AIR, None),
            Self::Insulation => pen("insulation", 0.25, DASH, STRAW, None),
            Self::Support => pen("support", 0.4, &[], LEAF, None),
            Self::Bore => pen("bore", 0.5, &[], RUST, SHEET),
            Self::Wall => pen("wall", 0.5, &[], INK, SHEET),
            Self::Opening => pen("opening", 0.35, &[], LEAF, SHEET),
            Self::Ground => pen("ground", 0.5, CHAIN, WOOD, None),
            Self::Dimension => pen("dimension", 0.18, &[], GREY, None),
            Self::Leader => pen("leader", 0.15, DOTS, GREY, None),
            Self::Hatch => pen("hatch", 0.12, &[], GREY, None).quiet(),
            Self::Curve => pen("curve", 0.7, &[], AIR, None),
            Self::Against => pen("against", 0.6, DASH, RUST, None),
            Self::Bar => pen("bar", 0.3, &[], AIR, TINT),
            Self::Spread => pen("spread", 0.3, &[], INK, None),
            Self::Band => pen("band", 0.15, SHORT, AIR, TINT),
            Self::Limit => pen("limit", 0.4, CHAIN, LEAF, None),
            Self::Alarm => pen("alarm", 0.6, SHORT, RED, None),
            Self::Text => pen("text", 0.0, &[], INK, None),
        }
    }
}

const fn pen(
    name: &'static str,
    width: f64,
    dashes: &'static [f64],
    colours: (Colour, Colour),
    fill: Option<(Colour, Colour)>,
) -> Pen {
    Pen { name, width, dashes, light: colours.0, dark: colours.1, fill, carries: true }
}

impl Pen {
    const fn quiet(mut self) -> Self {
        self.carries = false;
        self
    }
}
