//! Enums for the closed lists of words in a book.

macro_rules! words {
    ($(#[$meta:meta])* $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$doc])* $member),+ }

        impl $name {
            /// Every member.
            pub const ALL: &'static [Self] = &[$(Self::$member),+];
            pub(crate) const WORDS: &'static [&'static str] = &[$($word),+];

            /// The word that stands in a book.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$member => $word),+ }
            }

            pub(crate) fn from_word(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|member| member.word() == word)
            }
        }
    };
}

words! {
    /// Where a duct may not end.
    End {
        /// Attic or any roof space, ventilated or not.
        Attic = "attic",
        /// In a soffit.
        Soffit = "soffit",
        /// Under a ridge vent.
        RidgeVent = "ridge vent",
        /// Crawl space.
        CrawlSpace = "crawl space",
        /// Any other place inside the building.
        Indoors = "indoors",
        /// Another dwelling.
        OtherDwelling = "other dwelling",
    }
}

words! {
    /// What may run a fan.
    ControlKind {
        /// Timer with an off-delay.
        Timer = "timer",
        /// Occupant sensor with an off-delay.
        OccupantSensor = "occupant sensor",
        /// Humidity control.
        Humidity = "humidity control",
        /// Contaminant control.
        Contaminant = "contaminant control",
        /// Interlock with the light of the room.
        LightSwitch = "light switch",
        /// Runs all the time.
        Continuous = "continuous",
    }
}

words! {
    /// How a duct joint is sealed.
    Seal {
        /// Weld.
        Weld = "weld",
        /// Gasket.
        Gasket = "gasket",
        /// Mastic.
        Mastic = "mastic",
        /// Mastic with embedded fabric.
        MasticWithFabric = "mastic with fabric",
        /// Liquid sealant.
        LiquidSealant = "liquid sealant",
        /// Tape listed for the duct.
        ListedTape = "listed tape",
        /// Band drawn tight, on flexible duct.
        TieBand = "tie band",
    }
}

words! {
    /// What a duct is made of.
    Material {
        /// Galvanized steel.
        GalvanizedSteel = "galvanized steel",
        /// Stainless steel.
        StainlessSteel = "stainless steel",
        /// Copper.
        Copper = "copper",
        /// Aluminum.
        Aluminum = "aluminum",
        /// Any smooth metal.
        SmoothMetal = "smooth metal",
        /// PVC pipe.
        Pvc = "PVC",
        /// Flexible duct.
        Flexible = "flexible duct",
    }
}

words! {
    /// An exhaust that a bath exhaust might be joined to.
    Joined {
        /// Clothes dryer.
        Dryer = "dryer",
        /// Kitchen hood.
        KitchenHood = "kitchen hood",
        /// Garage.
        Garage = "garage",
        /// Another dwelling.
        OtherDwelling = "other dwelling",
        /// Any other exhaust.
        OtherExhaust = "other exhaust",
    }
}

words! {
    /// How a miss of the duct table may be answered.
    WayOut {
        /// The run meets the fan maker's own duct criteria.
        MakersCriteria = "maker's criteria",
        /// The installed airflow is measured.
        MeasuredAirflow = "measured airflow",
    }
}

words! {
    /// How airflow is measured.
    FlowMethod {
        /// By the maker's instructions.
        MakersInstructions = "maker's instructions",
        /// Powered or passive flow hood.
        FlowHood = "flow hood",
        /// Flow grid.
        FlowGrid = "flow grid",
        /// Box with a known opening.
        ResistanceBox = "resistance box",
        /// Timed inflation of a bag.
        BagInflation = "bag inflation",
        /// Any other device that measures airflow.
        OtherDevice = "other airflow device",
        /// Anemometer.
        Anemometer = "anemometer",
    }
}

words! {
    /// What closes a concealed space against fire.
    FireBlock {
        /// Lumber of 2 in. nominal thickness.
        TwoInchLumber = "2 in lumber",
        /// Two thicknesses of 1 in. nominal lumber with broken joints.
        TwoOneInchLumber = "two 1 in lumber",
        /// Structural panel of 23/32 in. with its joints backed.
        StructuralPanel = "23/32 in panel",
        /// Gypsum board of 1/2 in.
        GypsumBoard = "1/2 in gypsum board",
        /// Cement board of 1/4 in.
        CementBoard = "1/4 in cement board",
        /// Batts of mineral wool or glass fibre, held in place.
        HeldBatts = "held batts",
    }
}
