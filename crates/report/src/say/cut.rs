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
        None = "frame.bore.none",
        Smaller = "frame.bore.smaller",
        Memory = "frame.bore.memory",
        Designer = "frame.bore.designer",
        NoRule = "frame.bore.no-rule",
        Chart = "frame.bore.chart",
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

    struct TodoWrite { at: Reference } = "todo.write"
}
