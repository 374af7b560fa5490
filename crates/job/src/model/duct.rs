//! What is known of a duct: of a run, a piece of it, or in a library.

use dewpath_units::{Length, Ratio, ThermalResistance};

use crate::category::category;
use crate::keys::Keys;
use crate::lay_under::LayUnder;
use crate::limits::SHARE;
use crate::value::{Given, GivenChoice, Section};

/// What is known of a duct.
#[derive(Debug, Clone, PartialEq, Default, Keys, LayUnder)]
pub struct DuctGiven {
    /// Kind of duct.
    #[key(name = "duct", example = "flex")]
    pub kind: GivenChoice<DuctKind>,
    /// Id of a duct in a library.
    #[key(name = "duct_model", model, example = "flex-4-r8")]
    pub model: Option<String>,
    /// Inside size: round by its diameter, rectangular `3-1/4 x 10 in`, flat oval `oval 3 x 7 in`, several `3 in
    /// or 4 in`, or unknown.
    #[key(example = "4 in")]
    pub size: GivenChoice<Section>,
    /// How flexible duct was pulled.
    #[key(example = "normal")]
    pub pulled: GivenChoice<Pull>,
    /// Share of its length that flexible duct is pushed together, where measured.
    #[key(example = 0.15, possible(0.0, 0.9), usual(0.0, 0.5))]
    pub compression: Given<Ratio>,
    /// Wall roughness, where measured or stated.
    #[key(example = "0.09 mm", possible(0.0, 0.02), usual(0.0, 0.01))]
    pub roughness: Given<Length>,
    /// What surrounds it.
    #[key(example = "attic")]
    pub place: GivenChoice<Surroundings>,
    /// Insulation around it.
    #[key(example = "R-8", possible(0.0, 20.0), usual(0.0, 10.0))]
    pub insulation: Given<ThermalResistance>,
    /// Distance between supports.
    #[key(example = "4 ft", possible(0.05, 20.0), usual(0.2, 4.0))]
    pub support_spacing: Given<Length>,
    /// Wall thickness of metal duct.
    #[key(example = "0.4 mm", possible(0.00005, 0.5), usual(0.0001, 0.02))]
    pub wall: Given<Length>,
    /// Which way it falls: where water that settles in it runs to.
    #[key(example = "to outdoors", after = "jacket")]
    pub slope: GivenChoice<SlopeTo>,
    /// Loose fill above the top of a buried duct.
    #[key(example = "8 in", possible(0.0, 5.0), usual(0.0, 0.8), after = "slope")]
    pub cover: Given<Length>,
    /// Outside of its insulation.
    #[key(example = "foil")]
    pub jacket: GivenChoice<Jacket>,
    /// Share of its length where the insulation is squeezed flat between joists, straps or boards.
    #[key(example = 0.2, limits = SHARE)]
    pub compressed: Given<Ratio>,
}

impl DuctGiven {
    /// Fills what this duct does not say from another one that stands for more than it: the run of a piece,
    /// a library entry, or the duct whose place it takes.
    pub fn complete_from(&mut self, under: &Self) {
        // What belongs to one product is not carried over to another: a smooth piece in a run of flex has
        // neither the run's pull nor its roughness.
        let unsaid = |duct: &Self| duct.kind.is_none() && duct.model.is_none();
        let same_product = unsaid(self)
            || unsaid(under)
            || (self.kind.as_ref().map(|s| &s.value) == under.kind.as_ref().map(|s| &s.value)
                && self.model == under.model);
        if same_product {
            self.lay_under(under);
        } else {
            self.lay_under(&Self {
                kind: None,
                model: None,
                pulled: None,
                compression: None,
                roughness: None,
                wall: None,
                ..under.clone()
            });
        }
    }
}

category! {
    /// Kind of duct.
    pub enum DuctKind {
        /// Smooth sheet metal, longitudinal seam.
        SmoothMetal = "smooth metal" | "rigid metal" | "metal" | "galvanised" | "galvanized" | "galvanised steel" | "galvanized steel"
            | "sheet metal" | "rigid" | "rigid duct" | "rigid pipe" | "hard pipe" | "snap-lock pipe",
        /// Spiral-seam metal.
        SpiralMetal = "spiral metal" | "spiral" | "spiral duct" | "spiral pipe",
        /// Plastic pipe.
        Plastic = "plastic pipe" | "pvc",
        /// Wire-helix flexible duct.
        Flex = "flex" | "flexible" | "flex duct" | "insulated flex" | "foil flex",
        /// Corrugated aluminium that keeps its shape.
        SemiRigid = "semi-rigid" | "semi-rigid aluminium" | "semi-rigid aluminum",
        /// Board of pressed glass fibre, cut and folded to a duct: rough inside, its insulation in the wall.
        DuctBoard = "duct board" | "ductboard" | "fibreglass board" | "fiberglass board",
        /// Masonry or concrete shaft.
        Masonry = "masonry shaft" | "concrete shaft",
    }
    unclear {
        // Thin foil on a helix of wire to some, corrugated metal that keeps its shape to others.
        "aluminium flex" | "aluminum flex" | "aluminium duct" | "aluminum duct" | "foil duct" = Flex | SemiRigid,
    }
}

category! {
    /// How a flexible duct was pulled.
    pub enum Pull {
        /// Stretched to its full length.
        Tight = "tight",
        /// As usually found.
        Normal = "normal",
        /// Slack.
        Slack = "slack",
    }
}

category! {
    /// What surrounds a duct.
    pub enum Surroundings {
        /// Heated space.
        Heated = "heated",
        /// Attic outside the insulation.
        Attic = "attic",
        /// Crawl space or unheated basement.
        CrawlSpace = "crawl space",
        /// Joist bay between heated floors.
        JoistBay = "joist bay",
        /// Buried in loose fill.
        Buried = "buried in insulation",
        /// Outdoors.
        Outdoors = "outdoors",
        /// Garage.
        Garage = "garage",
    }
}

category! {
    /// Which way a duct falls.
    pub enum SlopeTo {
        /// To the terminal: water runs outdoors.
        Out = "to outdoors",
        /// To the fan: water runs back.
        Back = "to the fan",
        /// Level: water stands.
        Level = "level",
        /// Sags, or falls to a low point between its ends: water collects there.
        Low = "low point between",
    }
}

category! {
    /// Outside of a duct's insulation.
    pub enum Jacket {
        /// Foil: keeps vapour out and shines heat back.
        Foil = "foil",
        /// Plain plastic: keeps vapour out.
        Plain = "plain",
    }
}
