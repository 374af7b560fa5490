//! What is said of a room: windows, replacement air, its shower.

use dewpath_message::slot::{
    AirflowLS, AreaM2, Count, EnergyKwh, GapMm, HumidityRatio, PressurePa, Reference, TimeH, Word,
};
use dewpath_message::{Figure, messages};

messages! {
    struct WindowAlternative { glazed: AreaM2, openable: AreaM2 } = WindowAlternativeKey {
        None = "window.alternative.none",
        Holds = "window.alternative.holds",
        Small = "window.alternative.small",
        Unknown = "window.alternative.unknown",
    }

    struct WindowAlternativeNotInBook { book: Reference } = "window.alternative.not-in-book"

    struct TransferArea { area: AreaM2, asked: AreaM2 } = TransferAreaKey {
        Holds = "transfer.area.holds",
        Open = "transfer.area.open",
        Small = "transfer.area.small",
    }

    struct ReplacementAir {
        flow: AirflowLS,
        loss: PressurePa,
        allowed: PressurePa,
        gap: GapMm,
        cut: Option<GapMm>,
        grille: AreaM2,
    } = ReplacementAirKey {
        Holds = "replacement.air.holds",
        Tight = "replacement.air.tight",
        Unknown = "replacement.air.unknown",
    }

    struct ReplacementAirSealed { flow: AirflowLS, gap: GapMm, grille: AreaM2 } = "replacement.air.sealed"

    struct RoomWeatherUnusable { why: Reference } = "room.weather.unusable"

    struct RoomClearingNotFollowed {} = "room.clearing.not-followed"

    struct RoomClearing { time: TimeH, limit: TimeH } = RoomClearingKey {
        Holds = "room.clearing.mirror.holds",
        Unknown = "room.clearing.mirror.unknown",
        Late = "room.clearing.mirror.late",
    }

    struct RoomDryAgain {
        time: TimeH,
        limit: TimeH,
        opened: Option<TimeH>,
        shut: Option<TimeH>,
    } = RoomDryAgainKey {
        Holds = "room.clearing.back-to-normal.holds",
        Unknown = "room.clearing.back-to-normal.unknown",
        Late = "room.clearing.back-to-normal.late",
    }

    struct EngineResidual {} = "engine.residual"

    struct RoomControl { figure: Figure } = RoomControlKey {
        NeverStartsHolds = "room.control.never-starts.holds",
        NeverStartsUnknown = "room.control.never-starts.unknown",
        NeverStartsFound = "room.control.never-starts.found",
        LateHolds = "room.control.late.holds",
        LateUnknown = "room.control.late.unknown",
        LateFound = "room.control.late.found",
        MissedShowerHolds = "room.control.missed-shower.holds",
        MissedShowerUnknown = "room.control.missed-shower.unknown",
        MissedShowerFound = "room.control.missed-shower.found",
        NeverStopsHolds = "room.control.never-stops.holds",
        NeverStopsUnknown = "room.control.never-stops.unknown",
        NeverStopsFound = "room.control.never-stops.found",
    }

    struct RoomControlReachable {
        months: Count,
        first: Option<Word>,
        last: Option<Word>,
        lowest: HumidityRatio,
        set_point: HumidityRatio,
        made_up: EnergyKwh,
        electricity: Option<EnergyKwh>,
    } = RoomControlReachableKey {
        Holds = "room.control.reachable.holds",
        Found = "room.control.reachable.found",
    }

    struct TodoSetPoint {
        set_point: HumidityRatio,
        first: Option<Word>,
        last: Option<Word>,
    } = "todo.set-point"
}
