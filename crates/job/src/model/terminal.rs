//! Where air leaves.

use dewpath_units::{Area, Length, Ratio};

use crate::category::category;
use crate::keys::Keys;
use crate::limits::{DISTANCE, FLAP_LEAK, SHARE};
use crate::value::{Given, GivenChoice, GivenYesNo, LossPoint, Section};

/// Where air leaves. Look at it first: a stuck flap or a clogged screen is the cheapest thing to find.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "terminal", written = "[[terminal]]")]
pub struct Terminal {
    /// Stable id; may be left out when there is only one terminal.
    #[key(id, example = "cap")]
    pub id: String,
    /// What it is.
    #[key(example = "wall cap")]
    pub kind: GivenChoice<TerminalKind>,
    /// Id of a terminal in a library.
    #[key(model, example = "wall-cap-4")]
    pub model: Option<String>,
    /// Size of its collar.
    #[key(example = "4 in")]
    pub size: GivenChoice<Section>,
    /// Whether it has a flap.
    #[key(example = true)]
    pub flap: GivenYesNo,
    /// Whether the flap was seen to open fully.
    #[key(example = true)]
    pub flap_opens: GivenYesNo,
    /// Screen.
    #[key(example = "none")]
    pub screen: GivenChoice<Screen>,
    /// Share of the screen that is clogged.
    #[key(example = 0.3, limits = SHARE)]
    pub clogged: Given<Ratio>,
    /// A measured or maker's point: flow at pressure loss.
    #[key(example = "80 cfm at 15 Pa")]
    pub point: Option<LossPoint>,
    /// Free area past the closed flap.
    #[key(example = "1 in2", limits = FLAP_LEAK)]
    pub leak: Given<Area>,
    /// Distances to what it must keep away from.
    #[key(example = { opening = "5 ft" })]
    pub clear: Clearances,
}

category! {
    /// Where a run ends.
    pub enum TerminalKind {
        /// Wall cap.
        WallCap = "wall cap" | "wall" | "wall vent" | "wall cowl" | "wall hood" | "brick vent" | "airbrick" | "air brick" | "wall louvre"
            | "wall louver",
        /// Roof cap.
        RoofCap = "roof cap" | "roof" | "roof jack" | "roof cowl" | "roof hood" | "gooseneck",
        /// Cap in a gable.
        GableCap = "gable cap" | "gable",
        /// Fitting in a soffit that blows outdoors.
        SoffitCap = "soffit cap",
        /// Bare end outdoors.
        OpenEnd = "open end",
        /// Into the attic.
        Attic = "attic",
        /// Into the space behind a soffit.
        SoffitVoid = "soffit void",
        /// At a ridge vent.
        RidgeVent = "ridge vent",
        /// Into a crawl space.
        CrawlSpace = "crawl space",
        /// Into a room, garage or wall cavity.
        Indoors = "indoors",
        /// Into a plumbing vent stack.
        PlumbingVent = "plumbing vent",
        /// Into a riser shared with other dwellings.
        SharedRiser = "shared riser",
        /// Nobody knows.
        Nowhere = "nowhere",
    }
    unclear {
        "cowl" | "hood" | "vent hood" = WallCap | RoofCap,
        "louvre" | "louver" | "louvred vent" | "louvered vent" = WallCap | GableCap,
        // A vent of an attic or soffit that a duct only points at does not take its air outdoors.
        "roof vent" = RoofCap | Attic,
        "gable vent" | "gable louvre" | "gable louver" = GableCap | Attic,
        "soffit" | "soffit vent" = SoffitCap | SoffitVoid,
    }
}

category! {
    /// Screen at a terminal.
    pub enum Screen {
        /// None.
        None = "none",
        /// Openings of 1/4 to 1/2 in.
        Coarse = "coarse",
        /// Insect screen.
        Insect = "insect",
    }
}

/// Distances of the terminal to what it must keep away from.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "clear", written = "[terminal.clear]")]
pub struct Clearances {
    /// Looked round: nothing to keep clear of is nearer than this, be it a window, door, air intake, vented soffit or the property
    /// line. What is written of one of them counts before it.
    #[key(example = "10 ft", limits = DISTANCE)]
    pub seen: Given<Length>,
    /// To the nearest window or door that opens, or gravity air inlet; `none within 5 ft` where there is none nearer.
    #[key(example = "5 ft", clear, limits = DISTANCE)]
    pub opening: Given<Length>,
    /// How far above that opening the terminal is; below is negative.
    #[key(example = "2 ft", signed, possible(-100.0, 100.0), usual(-30.0, 30.0))]
    pub above_opening: Given<Length>,
    /// To the nearest mechanical air intake.
    #[key(example = "none within 12 ft", clear, limits = DISTANCE)]
    pub intake: Given<Length>,
    /// How far above that intake the terminal is; below is negative.
    #[key(example = "3 ft", signed, possible(-100.0, 100.0), usual(-30.0, 30.0))]
    pub above_intake: Given<Length>,
    /// To the property line.
    #[key(example = "6 ft", clear, limits = DISTANCE)]
    pub property_line: Given<Length>,
    /// Whether it blows onto a walkway.
    #[key(example = false)]
    pub onto_walkway: GivenYesNo,
    /// Above grade.
    #[key(example = "8 ft", limits = DISTANCE)]
    pub above_grade: Given<Length>,
    /// To the nearest vented soffit opening.
    #[key(example = "3 ft", clear, limits = DISTANCE)]
    pub soffit_vent: Given<Length>,
}
