//! What is said of what may be cut and bored.

use dewpath_message::messages;
use dewpath_message::slot::{Count, DiameterMm, LengthM, Name, Reference, Word};

messages! {
    struct FrameBore {
        zone: Reference,
        kind: Word,
        hole: DiameterMm,
        allowed: Option<DiameterMm>,
    } = FrameBoreKey {
        Allowed = "frame.bore.allowed",
        Memory = "frame.bore.memory",
    }

    struct FrameBoreIf {
        zone: Reference,
        kind: Word,
        hole: DiameterMm,
        allowed: Option<DiameterMm>,
    } = FrameBoreIfKey {
        Allowed = "frame.bore.if.allowed",
        None = "frame.bore.if.none",
        Smaller = "frame.bore.if.smaller",
        Memory = "frame.bore.if.memory",
        Designer = "frame.bore.if.designer",
        NoRule = "frame.bore.if.no-rule",
        Chart = "frame.bore.if.chart",
    }

    struct FrameClearance {
        near: Reference,
        kind: Word,
        way: Reference,
        distance: LengthM,
        least: Option<LengthM>,
    } = FrameClearanceKey {
        Holds = "frame.clearance.holds",
        Short = "frame.clearance.short",
        NoLimit = "frame.clearance.no-limit",
        Proposed = "frame.clearance.proposed",
        Spot = "frame.clearance.spot",
        NoSpot = "frame.clearance.no-spot",
    }

    struct PenetrationSheet {
        way: Reference,
        hole: DiameterMm,
        duct: DiameterMm,
        fall: DiameterMm,
    } = PenetrationSheetKey {
        Plain = "penetration.sheet",
        Roof = "penetration.sheet.roof",
        Thin = "penetration.sheet.thin",
    }

    struct PenetrationLayersUnknown { way: Reference } = "penetration.layers-unknown"

    struct PenetrationBad { told: Name } = "penetration.bad"

    struct HoleStep { diameter: Option<DiameterMm>, passes: Option<Count> } = HoleStepKey {
        StopForFire = "hole.stop-for-fire",
        LookAtLayer = "hole.look-at-layer",
        FindServices = "hole.find-services",
        AskRim = "hole.ask-rim",
        MarkCentre = "hole.mark-centre",
        Pilot = "hole.pilot",
        CheckPilot = "hole.check-pilot",
        Dust = "hole.dust",
        CutOutside = "hole.cut-outside",
        Core = "hole.core",
        CutInside = "hole.cut-inside",
        Membrane = "hole.membrane",
        PartInsulation = "hole.part-insulation",
        Cavity = "hole.cavity",
        LiftCover = "hole.lift-cover",
        Sleeve = "hole.sleeve",
        Flash = "hole.flash",
        Fasten = "hole.fasten",
        SealGap = "hole.seal-gap",
        SealInside = "hole.seal-inside",
        Photograph = "hole.photograph",
        GuardRoof = "hole.guard-roof",
    }

    enum Cover {
        FoamCut = "cover.foam-cut",
        FirePapers = "cover.fire-papers",
        Seen = "cover.seen",
        Photographed = "cover.photographed",
        FlowSeen = "cover.flow-seen",
    }

    struct TodoMoveOutlet { offset: LengthM, least: LengthM } = TodoMoveOutletKey {
        Left = "todo.move-outlet.left",
        Right = "todo.move-outlet.right",
        Away = "todo.move-outlet.away",
    }

    struct TodoWrite { at: Reference } = "todo.write"
}
