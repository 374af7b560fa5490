//! What is said of where a run ends.

use dewpath_message::messages;
use dewpath_message::slot::{Count, GapMm, LengthM, Word};

messages! {
    enum TerminalPlace {
        Holds = "terminal.place.holds",
        Unknown = "terminal.place.unknown",
        NoDuct = "terminal.place.no-duct",
    }

    struct TerminalPlaceIndoors { kind: Word } = "terminal.place.indoors"

    struct TerminalClearances {
        count: Count,
        opening: Option<LengthM>,
        intake: Option<LengthM>,
        line: Option<LengthM>,
    } = "terminal.clearances"

    struct TerminalClearance { distance: LengthM, limit: LengthM } = TerminalClearanceKey {
        OpeningHolds = "terminal.clearance.opening.holds",
        OpeningWaived = "terminal.clearance.opening.waived",
        OpeningNear = "terminal.clearance.opening.near",
        OpeningNearFails = "terminal.clearance.opening.near-fails",
        IntakeHolds = "terminal.clearance.intake.holds",
        IntakeWaived = "terminal.clearance.intake.waived",
        IntakeNear = "terminal.clearance.intake.near",
        IntakeNearFails = "terminal.clearance.intake.near-fails",
        LineHolds = "terminal.clearance.line.holds",
        LineWaived = "terminal.clearance.line.waived",
        LineNear = "terminal.clearance.line.near",
        LineNearFails = "terminal.clearance.line.near-fails",
    }

    struct TerminalClash {
        written: Option<LengthM>,
        none_within: Option<LengthM>,
        drawn: LengthM,
    } = TerminalClashKey {
        Opening = "terminal.clash.opening",
        Intake = "terminal.clash.intake",
        Line = "terminal.clash.line",
        SoffitVent = "terminal.clash.soffit-vent",
        Grade = "terminal.clash.grade",
    }

    enum TodoOutlet {
        MeasureAgain = "todo.outlet.measure-again",
    }

    enum TerminalWalkway {
        Holds = "terminal.walkway.holds",
        Fails = "terminal.walkway.fails",
    }

    struct TerminalWalkwayUnknown {} = "terminal.walkway.unknown"

    struct TerminalClearanceGrade { height: LengthM, limit: LengthM } = TerminalClearanceGradeKey {
        Holds = "terminal.clearance.grade.holds",
        Near = "terminal.clearance.grade.near",
        Low = "terminal.clearance.grade.low",
    }

    struct TerminalSoffit { limit: LengthM } = TerminalSoffitKey {
        Holds = "terminal.soffit.holds",
        Near = "terminal.soffit.near",
        Unknown = "terminal.soffit.unknown",
    }

    enum TerminalDamper {
        Holds = "terminal.damper.holds",
        None = "terminal.damper.none",
        Unknown = "terminal.damper.unknown",
    }

    struct TerminalScreen { least: Option<GapMm>, most: Option<GapMm> } = TerminalScreenKey {
        Holds = "terminal.screen.holds",
        Fine = "terminal.screen.fine",
        FinePractice = "terminal.screen.fine-practice",
        Clogged = "terminal.screen.clogged",
    }

    enum TerminalFlap {
        Opens = "terminal.flap.opens",
        Stuck = "terminal.flap.stuck",
        Unknown = "terminal.flap.unknown",
    }
}
