//! What is said of water in ducts, at rest and in use, and of drips.

use dewpath_message::messages;
use dewpath_message::slot::{
    AirflowLS, AreaM2, Count, InsulationRsi, MassG, ShareRatio, TemperatureC, Word,
};

messages! {
    enum DripClue {
        Cold = "clue.cold",
        Mild = "clue.mild",
        Warm = "clue.warm",
        Thaw = "clue.thaw",
        NoThaw = "clue.no-thaw",
        Rain = "clue.rain",
        NoRain = "clue.no-rain",
        InUse = "clue.in-use",
        Idle = "clue.idle",
        WetInside = "clue.wet-inside",
        WetOutside = "clue.wet-outside",
        WetHousing = "clue.wet-housing",
        WetRoof = "clue.wet-roof",
        FlapLeaks = "clue.flap-leaks",
        FlapTight = "clue.flap-tight",
        HousingOpen = "clue.housing-open",
        HousingSealed = "clue.housing-sealed",
        InnerBelowRoomDew = "clue.inner-below-room-dew",
        InnerAboveRoomDew = "clue.inner-above-room-dew",
        InnerFrosts = "clue.inner-frosts",
        InnerFrostless = "clue.inner-frostless",
        InnerBelowOutdoorDew = "clue.inner-below-outdoor-dew",
        InnerAboveOutdoorDew = "clue.inner-above-outdoor-dew",
        OuterBelowDew = "clue.outer-below-dew",
        OuterAboveDew = "clue.outer-above-dew",
    }

    struct DuctCondensateNet {
        water: MassG,
        limit: MassG,
        outdoor: TemperatureC,
        back: Option<MassG>,
        out: Option<MassG>,
        stands: Option<MassG>,
    } = DuctCondensateNetKey {
        Nothing = "duct.condensate.net.nothing",
        Holds = "duct.condensate.net.holds",
        Unknown = "duct.condensate.net.unknown",
        Found = "duct.condensate.net.found",
    }

    enum DuctCondensate {
        NotFollowed = "duct.condensate.not-followed",
        NoPlace = "duct.condensate.no-place",
    }

    struct DuctFrost { closed: ShareRatio, coldest: TemperatureC, days: Count } = DuctFrostKey {
        Unknown = "duct.frost.unknown",
        Found = "duct.frost.found",
    }

    struct DuctYear {
        water: MassG,
        limit: MassG,
        back: MassG,
        out: MassG,
        month: Word,
    } = DuctYearKey {
        Dry = "duct.year.dry",
        Holds = "duct.year.holds",
        Found = "duct.year.found",
    }

    struct DuctDrain { back: MassG, days: Option<Count> } = DuctDrainKey {
        Out = "duct.drain.out",
        Dry = "duct.drain.dry",
        ShortRise = "duct.drain.short-rise",
        Trap = "duct.drain.trap",
        Back = "duct.drain.back",
        LowPoint = "duct.drain.low-point",
        Closed = "duct.drain.closed",
    }

    struct DuctSweating { outside: TemperatureC, dew: TemperatureC, needed: Option<InsulationRsi> } = DuctSweatingKey {
        Holds = "duct.sweating.holds",
        Found = "duct.sweating.found",
        NoneSuffices = "duct.sweating.none-suffices",
    }

    struct DuctIdleBackflow { wall: TemperatureC, dew: TemperatureC, inward: AirflowLS } = DuctIdleBackflowKey {
        Humid = "duct.idle-backflow.humid",
        Cold = "duct.idle-backflow.cold",
        Draught = "duct.idle-backflow.draught",
        Dry = "duct.idle-backflow.dry",
    }

    struct DuctIdleBackflowTight {} = "duct.idle-backflow.tight"

    struct DuctIdleBackflowUnknown {} = "duct.idle-backflow.unknown"

    struct DuctIdleBackflowNoWeather {} = "duct.idle-backflow.no-weather"

    struct HousingLeak { gap: AreaM2, flow: AirflowLS, test: AirflowLS } = HousingLeakKey {
        Found = "housing.leak.found",
        Holds = "housing.leak.holds",
    }

    struct HousingLeakSuspected {} = "housing.leak.suspected"

    struct DripCause { next: Option<Word> } = DripCauseKey {
        Roof = "drip.cause.roof",
        ShowerInDuct = "drip.cause.shower-in-duct",
        DriftInDuct = "drip.cause.drift-in-duct",
        FrostInDuct = "drip.cause.frost-in-duct",
        Housing = "drip.cause.housing",
        OutdoorAir = "drip.cause.outdoor-air",
        SweatingOutdoorAir = "drip.cause.sweating-outdoor-air",
    }

    struct DripCauseAlike { first: Word, next: Word, parts: Option<Word> } = "drip.cause.alike"

    struct DripCauseUnknown {} = "drip.cause.unknown"

    struct TodoWrapVapourTight { needed: Option<InsulationRsi> } = "todo.wrap-vapour-tight"
}
