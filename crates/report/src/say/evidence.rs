//! What is said of what was seen and told.

use dewpath_message::messages;
use dewpath_message::slot::{Count, Name, PressurePa, Reference, Word};

messages! {
    struct EvidenceMethodPaper {} = "evidence.method.paper"

    struct EvidenceRunNotSeen { run: Name } = "evidence.run-not-seen"

    struct EvidencePressure { id: Name, pressure: PressurePa } = "evidence.pressure"

    struct EvidenceSymptom { id: Name, kind: Word, when: Name } = "evidence.symptom"

    enum FlowVerification {
        Done = "flow.verification.done",
        UnlessTable = "flow.verification.unless-table",
        Asked = "flow.verification.asked",
    }

    struct OverrideUnused { finding: Name } = "override.unused"

    enum ScenarioLeftOut {
        Unsolved = "scenario.unsolved",
        NoFacing = "scenario.no-facing",
        NoWind = "scenario.no-wind",
        NoRise = "scenario.no-rise",
    }

    struct EngineUnsolved { why: Reference } = "engine.unsolved"

    struct EngineDrawsUnsolved { count: Count, why: Reference } = "engine.draws-unsolved"
}
