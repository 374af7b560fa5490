//! What is said of the pressure of the house and its ventilation.

use dewpath_message::messages;
use dewpath_message::slot::{
    AirflowLS, ChanceRatio, LengthM, Name, PressurePa, Reference, ShareRatio, TimeH, Word,
};

messages! {
    struct HousePressure {
        appliance: Name,
        down: PressurePa,
        limit: PressurePa,
        taken: AirflowLS,
        pressure: PressurePa,
        weather: Word,
        chance: Option<ChanceRatio>,
        asked: Option<PressurePa>,
        book: Option<PressurePa>,
    } = HousePressureKey {
        Holds = "house.pressure.holds",
        Fails = "house.pressure.fails",
        Beyond = "house.pressure.beyond",
        Unknown = "house.pressure.unknown",
    }

    struct HouseSpillage { appliance: Name, date: Option<Name> } = HouseSpillageKey {
        None = "house.spillage.none",
        Spills = "house.spillage.spills",
    }

    struct HousePressureCandidate {
        appliance: Name,
        down: PressurePa,
        limit: PressurePa,
        chance: Option<ChanceRatio>,
    } = HousePressureCandidateKey {
        Holds = "house.pressure.candidate.holds",
        Unknown = "house.pressure.candidate.unknown",
        Fails = "house.pressure.candidate.fails",
        Beyond = "house.pressure.candidate.beyond",
    }

    struct HouseInlet { fan: Name, flow: AirflowLS, pressure: PressurePa } = HouseInletKey {
        Fan = "house.inlet.fan",
        None = "house.inlet.none",
    }

    struct HouseInletHood { hood: Name, flow: AirflowLS, pressure: PressurePa } = "house.inlet.hood"

    struct HousePressureLargerFan {} = "house.pressure.larger-fan"

    struct DwellingMakeupAir { exhaust: Name, flow: AirflowLS, limit: AirflowLS } = DwellingMakeupAirKey {
        Asked = "dwelling.makeup_air.asked",
        Perhaps = "dwelling.makeup_air.perhaps",
        NotAsked = "dwelling.makeup_air.not-asked",
        Unknown = "dwelling.makeup_air.unknown",
    }

    struct DwellingMakeupAirUnrated { exhaust: Name, limit: AirflowLS } = "dwelling.makeup_air.unrated"

    struct DwellingMakeupAirInterference { appliance: Name } = "dwelling.makeup_air.interference"

    struct DwellingMakeupAirSpillage { appliance: Name } = "dwelling.makeup_air.spillage"

    struct DwellingVentilation {
        worth: AirflowLS,
        flow: AirflowLS,
        share: ShareRatio,
        required: AirflowLS,
        needed: Option<AirflowLS>,
        credit: Option<AirflowLS>,
        table: Option<Reference>,
        least: Option<ShareRatio>,
        book: Option<Reference>,
    } = DwellingVentilationKey {
        Holds = "dwelling.ventilation.holds",
        HoursUnknown = "dwelling.ventilation.hours-unknown",
        Unknown = "dwelling.ventilation.unknown",
        Short = "dwelling.ventilation.short",
    }

    struct DwellingVentilationOption {
        required: AirflowLS,
        hours: Option<TimeH>,
    } = DwellingVentilationOptionKey {
        Option = "dwelling.ventilation.option",
        NotWritten = "dwelling.ventilation.not-written",
    }

    struct DwellingAirflowRequiredWaiting { known: Word } = "dwelling.airflow.required.waiting"

    struct DryerLength { length: LengthM, limit: LengthM } = DryerLengthKey {
        Holds = "dryer.length.holds",
        Long = "dryer.length.long",
        Open = "dryer.length.open",
    }

    struct DryerLengthUnknown {} = "dryer.length.unknown"
}
