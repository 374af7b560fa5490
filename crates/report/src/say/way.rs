//! What is said of ways outdoors and what to bring for them.

use dewpath_message::messages;
use dewpath_message::slot::{
    AirflowLS, AngleDeg, Count, DiameterMm, LengthM, Name, PressurePa, Reference, ShareRatio,
    TimeH, Word,
};

messages! {
    struct MaterialDuct {
        duct: Reference,
        length: LengthM,
        count: Count,
        sold: LengthM,
    } = "material.duct"

    struct MaterialElbows {
        count: Count,
        turn: AngleDeg,
        make: Name,
        size: DiameterMm,
    } = "material.elbows"

    struct MaterialSupports { count: Count } = "material.supports"

    struct MaterialScrews { count: Count, joints: Count, seals: Name } = "material.screws"

    struct MaterialCement { joints: Count } = "material.cement"

    struct MaterialInsulation { label: Name, length: LengthM } = "material.insulation"

    struct MaterialCap { cap: Name } = "material.cap"

    struct PlaceFastenFace { member: Reference, gap: LengthM } = PlaceFastenFaceKey {
        Face = "place.fasten.face",
        Gap = "place.fasten.gap",
    }

    struct PlaceFastenBlocks { count: Count, size: Name, length: LengthM } = "place.fasten.blocks"

    struct PlaceFastenBars { count: Count, span: LengthM } = PlaceFastenBarsKey {
        BarsAlone = "place.fasten.bars-alone",
        Bars = "place.fasten.bars",
    }

    struct RouteOut {
        ways: Count,
        way: Reference,
        duct: Reference,
        length: LengthM,
        elbows: Count,
        hours: TimeH,
        loss: PressurePa,
        size: Option<Reference>,
        air: Option<AirflowLS>,
        run_length: Option<LengthM>,
        run_size: Option<Reference>,
        run_elbows: Option<Count>,
        run_air: Option<AirflowLS>,
    } = RouteOutKey {
        Holds = "route.out.holds",
        Short = "route.out.short",
        Unsure = "route.out.unsure",
    }

    struct RouteOutNone {} = "route.out.none"

    struct RouteOutNotSearchedThrough {
        why: Option<Word>,
        reached: Option<Reference>,
    } = "route.out.not-searched-through"

    struct RouteOutApart { from: Reference, to: Reference, gap: LengthM } = "route.out.apart"

    struct RouteNoteNotSearchedThrough {} = "route.note.not-searched-through"

    struct RouteOutNoDuct {} = "route.out.no-duct"

    struct RouteOutNoRequirement {} = "route.out.no-requirement"

    struct RouteOutMissing { at: Reference } = "route.out.missing"

    struct RouteOutNoneAdmitted {} = "route.out.none-admitted"

    struct RouteOutBadGeometry { told: Name } = "route.out.bad-geometry"

    struct RouteNoteOtherIsBetter {} = "route.note.other-is-better"

    struct RouteNoteOtherSize { duct: Reference, more: AirflowLS } = "route.note.other-size"

    struct RouteNote { along: LengthM, within: Reference } = RouteNoteKey {
        DrainsBack = "route.note.drains-back",
        LowPoint = "route.note.low-point",
    }

    struct RouteNoteNoRoomToFall { leg: Count, fall: DiameterMm } = "route.note.no-room-to-fall"

    struct RouteSlope {
        way: Reference,
        fall: DiameterMm,
        from: LengthM,
        to: LengthM,
        low: LengthM,
    } = RouteSlopeKey {
        Stands = "route.slope.stands",
        NoRoom = "route.slope.no-room",
        Back = "route.slope.back",
        Holds = "route.slope.holds",
    }

    struct RouteJoints {
        way: Reference,
        joints: Count,
        cemented: Count,
        pieces: Count,
        sold: LengthM,
        screws: Count,
        seals: Name,
    } = RouteJointsKey {
        Plastic = "route.joints.plastic",
        Metal = "route.joints.metal",
    }

    struct RouteNoteOutside { outside: DiameterMm } = "route.note.outside"

    struct RouteNotePressed { left: ShareRatio } = "route.note.pressed"

    struct RouteSeparation { way: Reference } = RouteSeparationKey {
        Townhouse = "route.separation.townhouse",
        Garage = "route.separation.garage",
        Dwelling = "route.separation.dwelling",
        Rated = "route.separation.rated",
    }

    struct RouteOpens { id: Reference, way: Reference, loss: PressurePa } = RouteOpensKey {
        Smaller = "route.opens.smaller",
        Oval = "route.opens.oval",
        Space = "route.opens.space",
        Exit = "route.opens.exit",
        Obstacle = "route.opens.obstacle",
    }

    struct TodoBoreRefused { why: Word } = "todo.bore-refused"

    struct TodoNotSearched { told: Name } = "todo.not-searched"

    struct TodoDuctReaches { reached: Reference } = "todo.duct-reaches"

    struct TodoMeasureBetween { from: Reference, to: Reference } = "todo.measure-between"

    struct WhatSpaceGap { space: Reference, zone: Reference, gap: LengthM } = "what.space-gap"
}
